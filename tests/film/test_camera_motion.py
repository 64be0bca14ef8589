"""The camera's movement between two pictures, against OpenCV's own warping of one into the other."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from workstation.film.camera_motion import UNKNOWN, Prepared, follow, moved

TALL, WIDE = 90, 160


@pytest.fixture(scope="module")
def picture() -> np.ndarray:
    noise = np.random.default_rng(4).normal(0, 1, (TALL, WIDE)).astype(np.float32)
    smooth = cv2.GaussianBlur(noise, (0, 0), 4)
    return 120 + 40 * smooth / smooth.std()


@pytest.mark.parametrize(("zoom", "right", "down"), [(0, 0, 0), (0.04, 0, 0), (-0.05, 0, 0), (0, 5, -3), (0.03, -4, 2)])
def test_zoom_and_shift_are_told(picture, zoom, right, down):
    scale, middle = np.exp(zoom), ((WIDE - 1) / 2, (TALL - 1) / 2)
    warp = np.array([[scale, 0, middle[0] * (1 - scale) + right], [0, scale, middle[1] * (1 - scale) + down]])
    after = cv2.warpAffine(picture, warp, (WIDE, TALL), borderMode=cv2.BORDER_REFLECT)
    motion = follow(Prepared(picture), Prepared(after))
    assert motion.zoom == pytest.approx(zoom, abs=0.005)
    assert motion.right * WIDE == pytest.approx(right, abs=0.3) and motion.down * WIDE == pytest.approx(down, abs=0.3)
    left = np.abs(moved(picture, motion) - after)[10:-10, 10:-10]
    assert np.nanmedian(left) < 2


def test_what_moves_by_itself_moves_no_camera(picture):
    after = picture.copy()
    after[40:46, 60:66] += 60
    motion = follow(Prepared(picture), Prepared(after))
    assert abs(motion.zoom) < 0.01 and abs(motion.right) < 0.01


def test_where_nothing_is_to_be_seen_nothing_is_told():
    flat = np.full((TALL, WIDE), 90, np.float32)
    assert follow(Prepared(flat), Prepared(flat)) is UNKNOWN

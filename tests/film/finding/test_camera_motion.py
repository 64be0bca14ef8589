"""The camera's movement between two pictures, against OpenCV's own warping of one into the other."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from workstation.film.finding.camera_motion import FrameMotion, estimate_motion

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
    told = estimate_motion(picture, after)
    assert told.zoom == pytest.approx(zoom, abs=0.005)
    assert told.right * WIDE == pytest.approx(right, abs=0.3) and told.down * WIDE == pytest.approx(down, abs=0.3)


def test_what_moves_by_itself_is_told_where_the_camera_rests(picture):
    after = picture.copy()
    after[40:46, 60:66] += 60
    told = estimate_motion(picture, after)
    assert abs(told.zoom) < 0.01 and abs(told.right) < 0.01
    assert told.most > 10 and told.own < 1


@pytest.mark.parametrize("shape", [(1, 40), (2, 40), (40, 3)])
def test_pictures_too_flat_to_tell_are_at_rest(shape):
    assert estimate_motion(np.zeros(shape, np.float32), np.ones(shape, np.float32)) == FrameMotion(0, 0, 0, 0, 0)

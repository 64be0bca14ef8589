"""The camera's movement between two pictures, against OpenCV's own warping of one into the other."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from workstation.film.finding.camera_motion import fit_camera

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
    larger, _turn, to_right, to_down = fit_camera(picture, after)
    assert np.log(1 + larger) == pytest.approx(zoom, abs=0.005)
    assert to_right * WIDE == pytest.approx(right, abs=0.3) and to_down * WIDE == pytest.approx(down, abs=0.3)


def test_what_moves_by_itself_moves_no_camera(picture):
    after = picture.copy()
    after[40:46, 60:66] += 60
    larger, _turn, to_right, _to_down = fit_camera(picture, after)
    assert abs(np.log(1 + larger)) < 0.01 and abs(to_right) < 0.01

"""Measured against applied, on real moving pictures: a part of what ``python -m tests.bench camera_work`` measures. The
clip was not used to set any threshold."""

from __future__ import annotations

import av
import numpy as np
import pytest

from tests.film.camera_work import faulty, smeared, truth
from workstation.film.camera_motion import Prepared, follow
from workstation.film.camera_work.focus import blur_between, spectrum
from workstation.film.finding.luma_grid import luma_grid

CLIP = "bigbuckbunny"


def prepared(luma: np.ndarray) -> Prepared:
    return Prepared(luma_grid(av.VideoFrame.from_ndarray(luma.round().clip(0, 255).astype(np.uint8), format="gray")))


@pytest.mark.parametrize("clip", faulty.CLIPS)
def test_a_known_movement_is_measured(clip):
    """Within a tenth and a tenth of a thousandth of the width; turns and zooms likewise."""
    for number in (3, 20, 40):
        luma = faulty.pictures(clip)[number]
        before = prepared(faulty.framed(luma))
        for amount in (1.0, 4.0, 16.0):
            moved = follow(before, prepared(faulty.framed(luma, right=amount / 1000, down=-amount / 2000)))
            assert moved.right * 1000 == pytest.approx(amount, rel=0.1, abs=0.1)
            assert moved.down * 1000 == pytest.approx(-amount / 2, rel=0.1, abs=0.15)
        turned = follow(before, prepared(faulty.framed(luma, degrees=1.0)))
        assert np.degrees(turned.turn) == pytest.approx(1.0, rel=0.1)
        closer = follow(before, prepared(faulty.framed(luma, closer=1.02)))
        assert closer.zoom == pytest.approx(np.log(1.02), rel=0.1, abs=5e-4)


@pytest.mark.parametrize("clip", faulty.CLIPS)
@pytest.mark.parametrize("pixels", [1.5, 2.0, 3.0, 4.0])
def test_a_known_blur_is_measured_in_the_picture_itself(clip, pixels):
    """Without a codec between. carphone is enlarged from 176 pixels, and so has nothing fine to lose."""
    from scipy import ndimage
    luma = faulty.framed(faulty.pictures(clip)[20])
    sharp, soft = (spectrum(one.round().clip(0, 255).astype(np.uint8))
                   for one in (luma, ndimage.gaussian_filter(luma, pixels)))
    assert np.sqrt(max(blur_between(sharp, soft), 0)) == pytest.approx(pixels, rel=0.15)
    assert blur_between(soft, sharp) < 0


def test_what_matters_lies_within_fifteen_per_cent():
    points = [point for point in truth.curves((CLIP,), brief=True) if point.matters]
    assert len(points) >= 8
    off = [(point.fault, point.applied, point.expected, point.measured) for point in points if abs(point.error) > 0.15]
    assert not off


def test_spans_are_found_at_the_thresholds_of_the_profile():
    poor = [one for one in truth.spans((CLIP,)) if one.precision < 0.95 or one.recall < 0.95]
    assert not poor


def test_an_untouched_clip_is_within_all_bounds():
    own, exposed = truth.untouched(CLIP), truth.rule("well exposed")
    assert own["steady"] < truth.rule("steady").shake
    assert own["level"] < truth.rule("level").degrees
    assert own["in focus"] < truth.rule("in focus").softness
    assert all(own[name] < getattr(exposed, name) for name in ("jump", "flicker", "burnt", "black"))


def test_drops_are_found_and_none_are_invented():
    found = {dark: (right, false) for _, _, dark, _, right, false in truth.drops((CLIP,), (0.05,), (0.0, 80.0))}
    assert found[0.0] == (0, 0)
    assert found[80.0][0] >= 2 and found[80.0][1] == 0


def test_a_shot_tilted_all_along_is_measured_where_things_stand_upright():
    off = [(point.applied, point.measured) for point in truth.leans(("bikes, a corner",), (-3.0, 2.0))
           if not abs(point.error) <= 0.15]
    assert not off
    assert np.isnan(truth.untouched(CLIP)["lean"])         # nothing in it stands upright


def test_a_hunting_pan_is_measured():
    path = faulty.hunting(0.2, 1.0, 3)
    moved = truth._passage(CLIP, faulty.panned(path)).movement
    assert len(moved.turns) == 3
    assert moved.back.known.max() == pytest.approx(faulty.gone_back(path, truth.SECONDS), rel=0.15)


def test_a_smear_that_only_softens_is_found_where_it_is_and_none_is_invented():
    clean, smear = truth.smears(faulty.JUDGING, (smeared.NONE, "breath, 25 %, blur 3 and haze 0.4"))
    assert (clean.right, clean.false) == (0, 0)
    assert (smear.right, smear.false) == (1, 0)
    assert smear.precision >= 0.95 and smear.recall >= 0.95
    assert smear.measured == pytest.approx(smear.lost, rel=0.15)

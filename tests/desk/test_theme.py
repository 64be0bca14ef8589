"""Contrast of both palettes, as WCAG 2.2 measures it (https://www.w3.org/TR/WCAG22/#contrast-minimum)."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest

from workstation.desk.theme import DARK, GRAPHIC_PAIRS, LIGHT, TEXT_PAIRS, contrast


def test_contrast_agrees_with_published_values():
    # Black on white is 21:1 by definition; #767676 on white is the well-known lightest AA grey, 4.54:1
    # (WebAIM, https://webaim.org/articles/contrast/).
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)
    assert contrast("#ffffff", "#767676") == contrast("#767676", "#ffffff")


@pytest.mark.parametrize("colours", [DARK, LIGHT], ids=["dark", "light"])
def test_palette_reaches_aa(colours):
    weak = {(ink, ground): round(contrast(getattr(colours, ink), getattr(colours, ground)), 2)
            for pairs, least in ((TEXT_PAIRS, 4.5), (GRAPHIC_PAIRS, 3.0)) for ink, ground in pairs
            if contrast(getattr(colours, ink), getattr(colours, ground)) < least}
    assert not weak


@pytest.mark.parametrize("colours", [DARK, LIGHT], ids=["dark", "light"])
def test_the_arrow_of_choices_is_seen(colours):
    (ink,) = re.findall(r'fill="(#\w{6})"', files("workstation.resources").joinpath("look", "down.svg").read_text())
    assert contrast(ink, colours.well) >= 3 and contrast(ink, colours.raised) >= 3

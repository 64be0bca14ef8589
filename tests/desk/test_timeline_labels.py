"""Words on the timeline: none lies on another, and what is said of a place does not seem to begin before it."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtCore import Qt

from tests.desk.test_review_in_the_window import press, review  # noqa: F401 - a fixture
from workstation.coverage.finding import Direction
from workstation.desk.timeline.lanes.findings import beside
from workstation.desk.timeline.painter import period_names, time_labels
from workstation.desk.timeline.scale import Scale, tick_step

PERIODS = [(0.0, "1st quarter"), (700.0, "2nd quarter"), (1400.0, "3rd quarter"), (2100.0, "4th quarter")]


@settings(suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(st.integers(200, 3000), st.floats(0.001, 20), st.floats(4, 20), st.floats(0, 2000))
def test_no_label_of_the_ruler_lies_on_another(width, per_pixel, letter, start):
    scale = Scale(duration=2800.0, width=width, start=start, per_pixel=per_pixel)

    def measure(words):
        return letter * len(words)
    periods = period_names(PERIODS, scale, measure)
    taken = [(x, x + wide) for x, _, wide in periods]
    step = tick_step(per_pixel)
    ticks = [n * step for n in range(int(2800 / step) + 1)][:3000]
    labels = time_labels(ticks, False, scale, measure, taken)
    boxes = sorted([*taken, *((x, x + measure(words)) for x, words in labels)])
    assert all(one[1] <= other[0] + 1e-6 for one, other in pairwise(boxes))


@given(st.floats(-50, 1300), st.floats(10, 320), st.floats(330, 1300))
def test_words_stand_beside_their_place(x, wide, room):
    left = beside(x, wide, room)
    assert left > x or left + wide < x


@pytest.mark.parametrize("zoom", [0, 6])
def test_what_is_expected_is_said_and_what_is_too_much_is_not_expected(qtbot, review, zoom):  # noqa: F811
    lane = next(lane for lane in review.room.timeline.lanes if lane.key == "findings")
    findings = {finding.key: finding for finding in review.session.coverage.findings}
    for _ in range(zoom):
        press(qtbot, Qt.Key.Key_Equal, Qt.KeyboardModifier.ControlModifier)
    for index, key in enumerate(lane.items.ids):
        words = lane.words_over(index)
        assert words.startswith("expected here") is (findings[key].direction is Direction.MISSED)
        assert findings[key].expected in words

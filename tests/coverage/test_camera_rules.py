"""The rules about camera work: a fault is told where it is, by its rule alone; a game filmed well gets nothing; what
was not measured is not judged. How much is too much is common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.coverage.camera_filming import FAULTS, Camera, checked
from tests.coverage.filming import PROFILE, Filming
from workstation.coverage.camera_rule import CameraRule
from workstation.coverage.finding import Severity
from workstation.coverage.summary import summarise
from workstation.coverage.trend import camera_work_trend
from workstation.tagging.model import Framing, MomentKind, ShotKind

RULES = {rule.name for rule in PROFILE.rules if isinstance(rule, CameraRule)}


def a_game() -> tuple[Filming, Camera]:
    """Three plays and a marker: from 4 to 15, 15 to 26, 26 to 29 (the marker) and 29 to 40 seconds, snaps 4 s into each
    and dead 4 s later."""
    film = Filming()
    film.at(1, 10, 30)
    film.run(3)
    film.run(2)
    film.marker()
    film.run(4)
    return film, Camera(film.now + 60)


def told(coverage) -> list[tuple[str, int]]:
    return [(finding.rule, finding.shot) for finding in coverage.findings if finding.rule in RULES]


def test_there_are_ten_rules_and_each_can_be_off_a_note_or_a_warning():
    assert len(RULES) == 10
    assert all(rule.severity in (Severity.NOTE, Severity.WARNING) for rule in PROFILE.rules if rule.name in RULES)
    film, camera = a_game()
    FAULTS["shakes"].spoil(camera, 17, 24)
    for severity in (Severity.NOTE, Severity.WARNING):
        profile = replace(PROFILE, rules=tuple(replace(rule, severity=severity) if rule.name == "steady" else rule
                                               for rule in PROFILE.rules))
        found = [finding for finding in checked(film, camera, profile).findings if finding.rule == "steady"]
        assert [finding.severity for finding in found] == [severity]
    off = replace(PROFILE, rules=tuple(replace(rule, enabled=rule.name not in RULES) for rule in PROFILE.rules))
    assert told(checked(film, camera, off)) == []


def test_a_game_filmed_well_gets_none():
    film, camera = a_game()
    coverage = checked(film, camera, PROFILE)
    assert told(coverage) == []
    assert {each.rule for each in coverage.delivered} >= RULES - {"even pull-out"}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_told_where_it_is_and_by_its_rule_alone(name):
    film, camera = a_game()
    FAULTS[name].spoil(camera, 20, 23)
    coverage = checked(film, camera, PROFILE)
    found = told(coverage)
    assert (FAULTS[name].rule, 3) in found
    assert {rule for rule, _ in found} == {FAULTS[name].rule}
    finding = next(each for each in coverage.findings if (each.rule, each.shot) == (FAULTS[name].rule, 3))
    assert 15 <= finding.time <= 23.5
    if not name.endswith("on_the_lens"):        # it is seen for as long as the pictures that were compared
        assert found == [(FAULTS[name].rule, 3)]
        assert name == "is_tilted" or 18.5 <= finding.time <= 20.6
    assert finding.why and finding.habit and finding.evidence
    assert any(character.isdigit() for character in finding.evidence[0])


def test_what_was_not_measured_is_not_judged_and_the_summary_says_so():
    film, _ = a_game()
    coverage = checked(film, None, PROFILE)
    assert told(coverage) == []
    assert not {each.rule for each in (*coverage.delivered, *coverage.not_judged)} & RULES
    assert summarise(coverage).unmeasured == "The camera work was not measured, and nothing is said about it."


def test_a_marker_is_not_judged_for_action_or_zoom():
    film, camera = a_game()
    FAULTS["loses_the_action"].spoil(camera, 26, 29)
    FAULTS["hunts"].spoil(camera, 26, 29)
    assert told(checked(film, camera, PROFILE)) == []


def test_an_injury_is_never_judged():
    film = Filming()
    film.at(1, 10, 30)
    film.run(3, more=((MomentKind.CARE, 1.0),))
    start = film.now
    film.shot(ShotKind.INJURY, 8)
    camera = Camera(film.now + 60)
    for name in ("shakes", "burns_out", "goes_soft", "somebody_talks"):
        FAULTS[name].spoil(camera, start + 2, start + 6)
    assert told(checked(film, camera, PROFILE)) == []


def test_action_needs_the_snap():
    film = Filming()
    film.at(1, 10, 30)
    film.run(3, snap=None, lasts=None, wide=None, hold=10)
    coverage = checked(film, Camera(film.now + 60), PROFILE)
    waiting = {each.rule for each in coverage.not_judged if each.missing == "snap"}
    assert waiting >= {"action in the frame", "zoom hunting"}


@pytest.mark.parametrize(("seconds", "share_first", "right"), [
    (4.0, 0.5, True),           # evenly to three times the width
    (0.6, 0.5, False),          # rushed: more than two and a half doublings a second
    (4.0, 0.95, False),         # nearly all of it in the first tenth of a second of its way, then a crawl
])
def test_a_pull_out_is_slow_and_even(seconds, share_first, right):
    film = Filming()
    film.at(3, 6, 60)
    film.run(2)
    start = film.now
    film.run(5, wide=4.5, snap=8.5, opens_on=ShotKind.DOWN_MARKER, framing=Framing.CLOSE_TO_WIDE)
    camera = Camera(film.now + 60)
    span = camera.within(start + 1, start + 1 + seconds)
    count = span.stop - span.start
    first = count // 2 if share_first == 0.5 else max(count // 10, 1)
    steps = np.empty(count)
    steps[:first], steps[first:] = share_first / first, (1 - share_first) / (count - first)
    camera.motion[span, 0] = -np.log(3) * steps
    found = told(checked(film, camera, PROFILE))
    assert found == ([] if right else [("even pull-out", 3)])


def test_too_tight_and_too_loose_at_the_snap():
    for low, high, title in ((0.01, 0.99, "Too tight"), (0.47, 0.53, "Too loose")):
        film, camera = a_game()
        camera.figures[slice(*np.searchsorted(camera.acts, (17.5, 21))), 0] = low
        camera.figures[slice(*np.searchsorted(camera.acts, (17.5, 21))), 2] = high
        found = [finding for finding in checked(film, camera, PROFILE).findings if finding.rule in RULES]
        assert [finding.title.split(" at ")[0] for finding in found] == [title]


def test_summary_and_trend_show_each_measure():
    film, camera = a_game()
    FAULTS["shakes"].spoil(camera, 16, 25)
    summary = summarise(checked(film, camera, PROFILE))
    shake = next(row for row in summary.measured if row.measure.name == "shake")
    assert shake.worst_shot == 3
    assert shake.worst == pytest.approx(8 / np.sqrt(2), rel=0.1)
    assert summary.unmeasured == ""
    table = camera_work_trend([(film.game.heading, summary)])
    assert set(table["measure"]) >= {"shake", "roll", "softness", "room around the action", "wind"}

"""Two accounts of one game: the script's, kept by hand, and what the packages make of its tags."""

from __future__ import annotations

from workstation.demo.script import FINAL_SCORE, MISTAKES, SCENES, plays

from workstation.coverage.checker import check
from workstation.coverage.profile import load_profile
from workstation.football.field import Team
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next
from workstation.football.step import Certainty
from workstation.football.tracker import track

_KEPT = ("next", "offense", "down", "period", "score_home", "score_visitors")


def test_tracker_says_what_the_script_says():
    steps = track(load_rulebook("nfhs"), [play for play, *_ in plays()])
    for (_, one, truth), step in zip(plays(), steps, strict=True):
        assert step.certainty is Certainty.CERTAIN and not step.problems, step
        if truth is None:
            continue
        for name in _KEPT:
            assert getattr(step.before, name) == getattr(truth, name), (one.name, name)
        for name in ("ball_on", "yards_to_gain"):
            said = getattr(truth, name)
            if said is not None:
                assert abs(getattr(step.before, name) - said) < 1e-9, (one.name, name)
    after = steps[-1].after
    assert after.next is Next.OVER
    assert {team: after.score(team) for team in Team} == FINAL_SCORE


def test_every_known_mistake_is_found_and_nothing_else(demo):
    rulebook = load_rulebook("nfhs")
    steps = track(rulebook, [tag.play for tag in demo.plays])
    coverage = check(demo, steps, load_profile("default"), rulebook)
    assert sorted(finding.rule for finding in coverage.findings) == sorted(mistake.rule for mistake in MISTAKES)
    names = [one.name for one in SCENES]
    for mistake in MISTAKES:
        finding, = (one for one in coverage.findings if one.rule == mistake.rule)
        shot = demo.shots[names.index(mistake.scene)]
        at = demo.film.time_of(finding.at)
        assert demo.film.time_of(shot.start) <= at <= demo.film.time_of(shot.end), mistake
    assert not coverage.waiting

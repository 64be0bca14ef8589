"""What a mentor says of single cases, and what is said of a whole game: one finding for one fault, nothing for what
nobody could know, each practice by itself. Common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.coverage.filming import PROFILE, RULEBOOK, Filming, rules
from tests.coverage.test_sequences import HOLDING, PULLED_OUT, whole_game
from workstation.coverage.checker import check
from workstation.coverage.coverage import Coverage
from workstation.coverage.summary import summarise
from workstation.coverage.trend import by_crew, remark_trend, trend
from workstation.football.plays import Foul, FoulDecision, Outcome, PlayKind, Side
from workstation.tagging.model import Framing, Game, Heading, MomentKind, Remark, ShotKind


def test_a_fake_punt_is_no_pull_out_missed():
    film = Filming()
    film.at(3, 6, 40)
    film.run(2)
    film.run(5, manner="fake")
    assert rules(film.check()) == []


def test_one_snap_on_the_last_down_is_told_once():
    film = Filming()
    film.at(3, 8, 40)
    film.run(3, fouls=HOLDING, hold=3.0)        # declined or not, the marker was due
    film.at(4, 8, 40)
    film.run(9)
    found = [finding for finding in film.check().findings if finding.play == 2]
    assert len([finding for finding in found if finding.rule in ("marker shot expected", "pull-out opportunity")]) == 1


@pytest.mark.parametrize(("gain", "down", "to_gain", "ball_on"),
                         [(2.6, 1, 10, 43), (3.0, 3, 0.5, 42.5), (3.4, 3, 0.5, 42.6)])
def test_a_spot_that_was_rounded_is_no_missing_play(gain, down, to_gain, ball_on):
    film = Filming()
    film.at(2, 3, 40)
    film.run(gain)
    film.at(down, to_gain, ball_on)
    film.run(2)
    assert "missing play" not in rules(film.check())


def test_a_jump_of_more_than_a_rounding_is_one():
    film = Filming()
    film.at(2, 6, 40)
    film.run(3)
    film.at(1, 10, 43)
    film.run(2)
    assert "missing play" in rules(film.check())


def test_an_altercation_before_the_game_displaces_no_toss():
    film = Filming(whole=True)
    film.shot(ShotKind.ALTERCATION, 10, [(MomentKind.CONFRONTATION, 1.0), (MomentKind.CONFRONTATION_OVER, 8.0)])
    film.shot(ShotKind.COIN_TOSS, 10)
    film.play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70)
    film.unshot(60)
    assert "coin toss expected" not in rules(film.check())


def test_which_of_two_flags_was_signalled():
    film = Filming()
    film.at(2, 8, 40)
    film.run(2, fouls=(Foul("facemask", Side.DEFENSE, decision=FoulDecision.ACCEPTED),))
    film.foul_before_snap()
    film.signal()
    film.marker()
    film.run(3)
    (finding,) = [finding for finding in film.check().findings if finding.rule == "penalty signal expected"]
    assert finding.play == 1, "the second flag's signal is on film, the first one's is not"


@pytest.mark.parametrize(("wide", "told"), [(1.5, []), (3.0, ["ready before the snap"])])
def test_an_opening_on_an_ordinary_down_is_wide_in_time_after_two_seconds(wide, told):
    film = Filming()
    film.at(2, 8, 40)
    film.run(7)                                 # a yard short: the marker is due
    film.run(3, snap=4.0, **PULLED_OUT | {"wide": wide})
    assert rules(film.check()) == told


def test_late_and_close_without_a_clock_is_named_as_not_judged():
    film = Filming()
    film.at(2, 6, 60, period=4, score=(14, 17))
    film.run(2)
    film.run(5)
    missing = {(each.rule, each.missing) for each in film.check().not_judged}
    assert {("pull-out opportunity", "clock"), ("scoreboard expected", "clock")} <= missing


@pytest.mark.parametrize(("clock", "told"), [(None, []), (100, []), (700, ["marker shot not needed"])])
def test_opening_on_a_third_down_that_may_be_late_is_not_overuse(clock, told):
    film = Filming()
    film.at(2, 9, 40, period=4, score=(14, 17))
    film.incomplete(clock=clock)
    film.run(5, clock=clock, wide=4.0, snap=8.5, **PULLED_OUT)
    assert rules(film.check()) == told


def test_what_was_never_looked_at_is_held_back():
    film = Filming()
    film.at()
    film.run(3, wide=2.3)                       # 1.7 s before the snap
    film.run(3)
    game = film.game
    assert rules(film.check()) == ["ready before the snap"]
    unsure = replace(game, moments=tuple(replace(moment, uncertainty=0.5) if moment.kind is MomentKind.SNAP else moment
                                         for moment in game.moments))
    coverage = _checked(film, unsure)
    assert coverage.findings == ()
    assert [finding.rule for finding in coverage.look_again] == ["ready before the snap"]
    assert any(line.startswith("Look again at") for line in coverage.waiting)
    assert summarise(coverage).habits == ()


def test_a_film_of_which_no_snap_is_marked_is_not_praised():
    film = Filming()
    film.at()
    for _ in range(4):
        film.run(2, wide=None, snap=None)
    summary = summarise(film.check())
    assert (summary.tally("ready before the snap").delivered,
            summary.tally("ready before the snap").not_judged) == (0, 4)


@pytest.mark.parametrize(("snap", "lasts", "hold", "rule"), [(4.0, None, 1.0, "longer hold expected"),
                                                            (None, 1.5, 4.0, "ready before the snap")])
def test_what_the_films_own_length_makes_impossible(snap, lasts, hold, rule):
    film = Filming()
    film.at()
    film.run(3, wide=None if snap is None else 0.5, snap=snap, lasts=lasts, hold=hold)
    film.run(3)
    assert rules(film.check()) == [rule]


def test_a_signal_shot_that_runs_on_is_dead_footage():
    for seconds, told in ((10.0, []), (40.0, ["dead footage"])):
        film = Filming()
        film.at(2, 8, 40)
        film.run(2, fouls=HOLDING)
        film.shot(ShotKind.PENALTY_SIGNAL, seconds, [(MomentKind.SIGNAL, 1.0)])
        film.marker()
        film.run(3)
        assert rules(film.check()) == told


def test_an_altercation_that_has_long_been_over_is_dead_footage():
    for seconds, told in ((20.0, []), (80.0, ["dead footage"])):
        film = Filming()
        film.at()
        film.run(3)
        film.shot(ShotKind.ALTERCATION, seconds,
                  [(MomentKind.CONFRONTATION, 1.0), (MomentKind.CONFRONTATION_OVER, 10.0)], Framing.WIDE)
        film.marker()
        film.run(3)
        assert rules(film.check()) == told


def test_extras_are_short_together_or_dead_footage():
    for count, told in ((1, []), (3, ["dead footage"])):
        film = Filming()
        film.at(4, 8, 30)
        film.punt()
        for _ in range(count):
            film.shot(ShotKind.EXTRA, 12)
        film.run(3)
        assert rules(film.check()) == told


def test_film_in_which_nothing_is_marked_is_dead_once_every_shot_is_tagged():
    film = whole_game()
    assert rules(film.check()) == []
    film = Filming()
    film.at()
    film.run(3)
    film.unshot(90)
    film.run(3)
    assert rules(film.check()) == [], "the first shot is not tagged yet"
    film.shots[0] = replace(film.shots[0], kind=ShotKind.COIN_TOSS)
    assert "dead footage" in rules(film.check())


def test_remarks_are_counted_and_praise_is_praise():
    film = Filming()
    film.at()
    for _ in range(3):
        film.run(3)
    at = [shot.start for shot in film.game.shots if shot.kind is ShotKind.PLAY]
    remarks = (Remark(1, "shaky", at[0]), Remark(2, "Shaky", at[1]), Remark(3, "well done", at[2], praise=True),
               Remark(4, "our own word", at[2]))
    summary = summarise(_checked(film, replace(film.game, remarks=remarks)))
    assert [(each.word, each.praise, each.count) for each in summary.remarks] == [
        ("shaky", False, 2), ("our own word", False, 1), ("well done", True, 1)]
    assert summary.remarks[0].advice.startswith("Let the head of the tripod")
    assert [habit.advice for habit in summary.habits] == [summary.remarks[0].advice,
                                                          "Mend what the mentor remarked: our own word."]
    table = remark_trend([(Heading(title="A", date="2026-09-04"), summary)])
    assert dict(zip(table["word"], table["count"], strict=True)) == {"our own word": 1, "shaky": 2, "well done": 1}


def test_undated_games_come_last_and_crews_stay_apart():
    summary = summarise(whole_game().check())
    headings = [Heading(title="C"), Heading(title="A", date="2026-10-02", crew="Kim"),
                Heading(title="B", date="2026-09-04", crew="Noor")]
    games = [(heading, summary) for heading in headings]
    assert list(trend(games)["game"].unique()) == ["B", "A", "C"]
    assert {crew: [heading.title for heading, _ in of] for crew, of in by_crew(games).items()} == {
        "Noor": ["B"], "Kim": ["A"], "": ["C"]}


def _checked(film: Filming, game: Game) -> Coverage:
    return check(game, film.steps(), PROFILE, RULEBOOK)

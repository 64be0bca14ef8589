"""What the checker does with a game that is half tagged, with decisions, and with bad pointers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.coverage.filming import PROFILE, RULEBOOK, Filming, places, rules
from tests.coverage.test_sequences import whole_game
from workstation.coverage.checker import check
from workstation.football.field import Team
from workstation.football.plays import Foul, FoulDecision, Outcome, PlayKind, Side
from workstation.tagging.model import Decision, Framing, Game, MomentKind, Shot, ShotKind, Verdict

HOLDING = (Foul("holding", Side.OFFENSE, decision=FoulDecision.ACCEPTED),)


def trainee() -> Filming:
    """A few plays with a handful of mistakes."""
    film = Filming()
    film.at(1, 10, 30)
    film.run(3)
    film.run(6)
    film.run(3, hold=0.5)
    film.run(4, fouls=HOLDING)
    film.run(5, wide=3.5)
    return film


# -- half tagged -----------------------------------------------------------------------------------------------------


def test_an_empty_game_says_nothing():
    coverage = check(Game(), [], PROFILE, RULEBOOK)
    assert (coverage.findings, coverage.beliefs, coverage.delivered, coverage.waiting) == ((), (), (), ())


def test_shots_without_plays_say_nothing():
    film = Filming(whole=True)
    for _ in range(30):
        film.untagged()
    coverage = film.check()
    assert coverage.findings == ()
    assert any("30 shots are not tagged" in line for line in coverage.waiting)


def test_plays_without_moments_are_not_judged_by_guess():
    film = Filming()
    film.at()
    for _ in range(3):
        film.run(2, wide=None, snap=None, lasts=None, hold=5.0)
    coverage = film.check()
    assert coverage.findings == ()
    assert {met.rule for met in coverage.delivered} == set()
    assert any("no snap marked" in line for line in coverage.waiting)
    assert any("no dead ball marked" in line for line in coverage.waiting)


def test_the_rest_of_the_film_waits_until_it_is_tagged():
    """In the middle of tagging nothing is said about closing shots, nor about shots not looked at."""
    film = Filming(whole=True)
    film.event(PlayKind.COIN_TOSS, team=Team.VISITORS, choice="receive", shot=film.shot(ShotKind.COIN_TOSS, 8))
    film.play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70)
    film.run(3)
    for _ in range(100):
        film.untagged()
    coverage = film.check()
    assert coverage.findings == ()
    assert not coverage.complete
    assert any("not tagged to its end" in line for line in coverage.waiting)


def test_closing_shots_wait_though_the_tracker_says_the_game_is_over():
    film = whole_game(board=False, handshake=False)
    film.untagged()
    assert film.steps()[-1].after.next == "over"
    assert places(film.check()) == []


@pytest.mark.parametrize("between",
                         ["a shot nobody has tagged", "a play's shot without its play", "film without a shot",
                                     "what only the shot finder says"])
def test_what_nobody_has_looked_at_is_not_called_missing(between):
    film = Filming()
    film.at(2, 8, 40)
    film.run(2, fouls=HOLDING)
    if between.startswith("a shot"):
        film.untagged()
    elif between.startswith("a play"):
        film.shot(ShotKind.PLAY, 9)
    elif between.startswith("what"):
        film.shot(ShotKind.EXTRA, 9)
        film.shots[-1] = replace(film.shots[-1], confirmed=False)
    else:
        film.unshot(9)
    film.run(3)
    coverage = film.check()
    assert coverage.findings == ()
    assert [belief.known for belief in coverage.beliefs][-1] is False
    assert coverage.waiting


def test_the_last_tagged_play_is_not_yet_told_what_lacks_after_it():
    film = Filming()
    film.at(2, 8, 40)
    film.run(2, fouls=HOLDING)
    film.untagged()
    assert film.check().findings == ()


def test_every_prefix_of_the_tagging_says_only_what_the_whole_says():
    """As a coordinator tags from first to last, a finding may come, but none comes only to go again."""
    film = trainee()
    for _ in range(3):
        film.run(1)
    whole = {finding.key for finding in film.check().findings}
    assert len(whole) >= 4
    kinds = {shot.id: shot.kind for shot in film.shots}
    for tagged in range(len(film.plays)):
        part = Filming()
        part.plays = film.plays[:tagged]
        done = {tag.shot for tag in part.plays}
        part.shots = [shot if shot.id in done else replace(shot, kind=None) for shot in film.shots]
        part.moments, part.now = film.moments, film.now
        assert {finding.key for finding in part.check().findings} <= whole, f"after {tagged} plays"
    assert kinds[2] is ShotKind.PLAY


# -- several plays in one shot -----------------------------------------------------------------------------------------


def one_long_shot(marks=True) -> Filming:
    """A hurry-up series in one shot: three snaps, no cut."""
    film = Filming()
    film.at()
    moments = []
    for start in (4, 20, 36):
        moments += [(MomentKind.FULL_WIDE, start - 3), (MomentKind.SNAP, start), (MomentKind.DEAD_BALL, start + 5)]
    shot = film.shot(ShotKind.PLAY, 45, moments if marks else moments[:3])
    for _ in range(3):
        film.event(PlayKind.RUN, gain=2, shot=shot)
    return film


def test_plays_that_share_a_shot_get_their_own_moments():
    coverage = one_long_shot().check()
    assert [belief.time for belief in coverage.beliefs] == [8.0, 24.0, 40.0]
    assert coverage.findings == ()
    assert sum(met.rule == "ready before the snap" for met in coverage.delivered) == 3


def test_plays_that_share_a_shot_are_not_guessed_at_while_snaps_lack():
    coverage = one_long_shot(marks=False).check()
    assert coverage.findings == ()
    assert not any(met.rule == "ready before the snap" for met in coverage.delivered)


# -- decisions -------------------------------------------------------------------------------------


def test_a_decision_stays_with_what_it_is_about():
    film = trainee()
    keys = [finding.key for finding in film.check().findings]
    film.decisions = tuple(Decision(key, Verdict.WAIVED, "the coach asked for it") for key in keys)
    changed = Filming()
    changed.decisions = film.decisions
    changed.shots, changed.moments, changed.now = list(film.shots), list(film.moments), film.now
    # other plays are corrected, one is inserted before, and more are tagged after
    changed.plays = [replace(film.plays[0], play=replace(film.plays[0].play, gain=3.2)), *film.plays[1:]]
    earlier = Shot(999, changed.shots[0].start, changed.shots[0].end, ShotKind.EXTRA)
    changed.shots[0] = earlier
    changed.run(2)
    found = changed.check().findings
    assert {finding.key for finding in found} >= set(keys)
    assert all(finding.waived and finding.decision.reason for finding in found if finding.key in keys)


def test_agreeing_and_commenting():
    film = trainee()
    first, second, *_ = (finding.key for finding in film.check().findings)
    film.decisions = (Decision(first, Verdict.AGREED), Decision(second, comment="watch this together"))
    found = {finding.key: finding for finding in film.check().findings}
    assert found[first].decision.verdict is Verdict.AGREED and not found[first].waived
    assert found[second].decision.comment == "watch this together"


def test_a_decision_about_something_no_longer_found_does_no_harm():
    film = trainee()
    film.decisions = (Decision("longer hold expected/play 4711", Verdict.WAIVED, "gone"),)
    assert rules(film.check()) == rules(trainee().check())


# -- bad pointers ----------------------------------------------------------------------------------


def test_a_play_whose_shot_does_not_exist_is_named():
    film = trainee()
    film.plays[1] = replace(film.plays[1], shot=77)
    with pytest.raises(ValueError, match=r"play 2 is said to be filmed by shot 77"):
        film.check()


def test_a_shot_whose_source_does_not_exist_is_named():
    film = trainee()
    shot = film.shots[1]
    film.shots[1] = replace(shot, start=shot.start._replace(source="lost"), end=shot.end._replace(source="lost"))
    with pytest.raises(ValueError, match=r"no source 'lost'"):
        film.check()


def test_steps_of_another_game_are_refused():
    film = trainee()
    with pytest.raises(ValueError, match=r"5 plays but 4 steps"):
        check(film.game, film.steps()[:-1], PROFILE, RULEBOOK)


# -- explanations ----------------------------------------------------------------------------------


def test_findings_explain_themselves():
    film = trainee()
    for finding in film.check().findings:
        assert len(finding.why) > 60 and finding.why.endswith(".")
        assert finding.evidence
        assert len(finding.expected.split()) <= 4
        assert finding.period == 1


def test_cautions_stand_where_people_are_hurt_or_fight():
    film = Filming()
    film.at()
    film.run(3, hold=30, more=((MomentKind.CARE, 2.0),))
    film.shot(ShotKind.ALTERCATION, 10, [(MomentKind.CONFRONTATION, 1), (MomentKind.CONFRONTATION_OVER, 8)],
              Framing.CLOSE)
    film.marker()
    film.run(2)
    words = {finding.rule: finding.why for finding in film.check().findings}
    assert "minor" in words["injury"] and "school" in words["injury"]
    assert "minor" in words["altercation"] and "league" in words["altercation"]
    assert any("height" in line for line in PROFILE.cautions) and any("weather" in line for line in PROFILE.cautions)


# -- what is no gap in the film --------------------------------------------------------------------


def test_a_spot_corrected_by_hand_is_no_missing_play():
    film = Filming()
    film.at(1, 10, 30)
    film.run(3)
    film.at(2, 6, 34)           # the tracker has 2nd & 7 at own 33
    film.run(2)
    assert film.steps()[1].certainty == "contradicted"
    assert film.check().findings == ()
    film.at(3, 4, 60)
    film.run(2)
    assert "missing play" in rules(film.check())


def test_a_toss_that_was_not_tagged_is_no_missing_play():
    """A tied game goes on; nobody tagged the toss before the extra period."""
    film = Filming()
    film.at(4, 8, 40, period=4)
    film.punt()
    film.event(PlayKind.END_OF_PERIOD)
    film.scoreboard()
    film.run(3)
    assert film.steps()[1].after.next == "coin toss"
    assert "missing play" not in rules(film.check())


def test_where_the_tracker_finds_nothing_wrong_there_is_no_gap():
    """Canadian rules, say, let the team scored upon snap instead of receiving a kickoff: the tracker knows, not we."""
    film = Filming()
    film.at(4, 8, 80)
    film.play(PlayKind.FIELD_GOAL, Outcome.GOOD)
    film.scoreboard()
    film.run(3)
    scored, ran = film.steps()
    assert "missing play" in rules(check(film.game, [scored, ran], PROFILE, RULEBOOK))
    chosen = replace(ran, problems=())
    assert "missing play" not in rules(check(film.game, [scored, chosen], PROFILE, RULEBOOK))


# -- one shot, two jobs ----------------------------------------------------------------------------


def test_a_play_that_opens_on_the_board_shows_the_board():
    film = Filming()
    film.at(1, 10, 90)
    film.run(10)
    film.play(PlayKind.TRY_KICK, Outcome.GOOD)
    film.play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70)
    film.run(3, wide=3.0, snap=6.0, opens_on=ShotKind.SCOREBOARD)
    film.event(PlayKind.END_OF_PERIOD)
    film.run(3, wide=3.0, snap=6.0, opens_on=ShotKind.SCOREBOARD)
    assert "scoreboard expected" not in rules(film.check())


def test_a_marker_after_a_stoppage_is_never_one_too_many():
    film = Filming()
    film.at(4, 8, 40)
    film.punt()
    film.shot(ShotKind.INJURY, 6)
    film.marker()
    film.run(3)
    assert film.check().findings == ()

"""What holds of penalties and scores in every book, whatever the play."""

from __future__ import annotations

import re
from dataclasses import replace

from hypothesis import assume, given
from hypothesis import strategies as st

from workstation.football.field import Team, parse_spot
from workstation.football.fouls import Act
from workstation.football.overrides import FITS
from workstation.football.plays import Foul, FoulDecision, Outcome, Play, PlayKind, Score, Side
from workstation.football.situation import Next, Situation
from workstation.football.tracker import fold

from .test_properties import books, events, fouls, hundredths, maybe, spots, steady

LIVE = [kind for kind in FITS if kind is not PlayKind.COIN_TOSS]


@st.composite
def situated(draw, kinds=tuple(LIVE)):
    """A book, a situation and a play that can come there, without fouls."""
    book = draw(books)
    kind = draw(st.sampled_from(kinds))
    length = book.field_length
    due = FITS[kind]
    on = draw(hundredths(1, length - 1))
    base = Situation(due, draw(st.sampled_from(Team)), period=draw(st.integers(1, 5)), series=1, drive=1,
                     second_half_kicker=Team.HOME, extra_first=Team.HOME, extra_turn=draw(st.integers(1, 2)))
    if due is Next.SCRIMMAGE:
        to_goal = length - on
        before = replace(base, ball_on=on, down=draw(st.integers(1, book.downs)),
                         goal_to_go=to_goal <= book.yards_to_gain, yards_to_gain=min(book.yards_to_gain, to_goal))
    else:
        spot = {Next.TRY: length - book.try_spot_kick, Next.KICKOFF: book.kickoff_spot,
                Next.SAFETY_FREE_KICK: book.safety_free_kick_spot}[due]
        before = replace(base, ball_on=spot)
    play = Play(kind, outcome=draw(maybe(st.sampled_from(Outcome))), gain=draw(maybe(hundredths(-20, 60))),
                kick_to=draw(maybe(spots(book))), spot=draw(maybe(spots(book))),
                possession=draw(maybe(st.sampled_from(Side))), events=tuple(draw(st.lists(events(book), max_size=2))),
                score=draw(maybe(st.sampled_from(Score))))
    return book, before, play


@steady
@given(situated(), st.data())
def test_declining_every_foul_equals_the_play_without_fouls(drawn, data):
    book, before, play = drawn
    some = [replace(foul, decision=FoulDecision.DECLINED, runoff=False)
            for foul in data.draw(st.lists(fouls(book), min_size=1, max_size=3))]
    # a pass that may not be thrown and falls incomplete lies where it was thrown (NCAA 7-3-7)
    assume(not any(book.foul(foul.name).act is Act.PASS for foul in some))
    clean, declined = fold(book, before, play), fold(book, before, replace(play, fouls=tuple(some)))
    assert declined.after == clean.after, declined.explanation
    assert (declined.points_home, declined.points_visitors) == (clean.points_home, clean.points_visitors)
    assert declined.down_repeated == clean.down_repeated and declined.first_down == clean.first_down


@steady
@given(situated(), st.data())
def test_accepted_by_hand_is_enforced(drawn, data):
    book, before, play = drawn
    foul = replace(data.draw(fouls(book)), decision=FoulDecision.ACCEPTED)
    step = fold(book, before, replace(play, fouls=(foul,)))
    name = book.foul(foul.name).name
    assert not re.search(rf"{re.escape(name)} declined(?! by)", step.explanation), step.explanation
    if foul.at is not None or foul.enforced_from is not None:
        said = fold(book, before, replace(play, fouls=(replace(foul, decision=None),)))
        assert said.after == step.after, (said.explanation, step.explanation)


MARKED = re.compile(r"(?P<name>[^;]+), (?P<yards>[\d.]+) from the (?P<at>[a-z -]+) at (?P<spot>[^;,]+)")


@steady
@given(situated(), st.data())
def test_no_penalty_goes_beyond_half_the_distance(drawn, data):
    """Where the hand says no yards, and the book does not measure to the spot of the foul."""
    book, before, play = drawn
    foul = replace(data.draw(fouls(book)), decision=FoulDecision.ACCEPTED, yards=None)
    rule = book.foul(foul.name)
    assume(rule.yards and not rule.or_spot_of_foul)
    step = fold(book, before, replace(play, fouls=(foul,)))
    match = MARKED.search(step.explanation)
    if match is None:
        return
    spot = parse_spot(match["spot"], book.field_length)
    to_goal = spot if foul.by is Side.OFFENSE else book.field_length - spot
    assert float(match["yards"]) <= max(to_goal, 0) / 2 + 0.01, step.explanation
    assert float(match["yards"]) <= 25, step.explanation


@steady
@given(situated())
def test_a_touchdown_said_is_scored_or_doubted(drawn):
    book, before, play = drawn
    step = fold(book, before, replace(play, score=Score.TOUCHDOWN))
    scored = step.points_home + step.points_visitors
    worth = {book.touchdown_points} if before.next is not Next.TRY else {
        book.try_run_points, book.try_return_points, book.try_kick_points}
    assert (scored and scored in worth) or step.problems, step.explanation


@steady
@given(situated((PlayKind.RUN, PlayKind.PASS)), st.sampled_from([Foul("holding", Side.OFFENSE)]))
def test_a_foul_of_the_offense_never_takes_the_ball_forward(drawn, foul):
    book, before, play = drawn
    assume(play.outcome in (None, Outcome.COMPLETE, Outcome.INCOMPLETE) and not play.events and play.possession is None
           and play.score is None)
    clean = fold(book, before, play)
    accepted = fold(book, before, replace(play, fouls=(replace(foul, decision=FoulDecision.ACCEPTED),)))
    if clean.after.next is accepted.after.next is Next.SCRIMMAGE and clean.after.offense is accepted.after.offense \
            and clean.after.ball_on >= before.ball_on:
        assert accepted.after.ball_on <= clean.after.ball_on + 1e-6, accepted.explanation

"""What holds of rulings in every book: kicks, scores that were said, and penalties taken or refused."""

from __future__ import annotations

import re
from dataclasses import replace

from hypothesis import assume, given
from hypothesis import strategies as st

from tests.football.test_properties import BOOKS, books, fouls, hundredths, maybe, plays, spots, steady
from workstation.football.field import Team, parse_spot
from workstation.football.plays import BallEvent, EventKind, Foul, FoulDecision, Outcome, Play, PlayKind, Score, Side
from workstation.football.situation import Next, Situation
from workstation.football.tracker import fold

eleven_player_books = st.sampled_from([book for book in BOOKS if not book.onside_players])


def down(book, spot: float, number: int) -> Situation:
    to_goal = book.field_length - spot
    return Situation(next=Next.SCRIMMAGE, offense=Team.HOME, down=number, ball_on=spot, series=1, drive=1,
                     yards_to_gain=min(book.yards_to_gain, to_goal), goal_to_go=to_goal <= book.yards_to_gain)


def kickoff(book) -> Situation:
    return Situation(next=Next.KICKOFF, offense=Team.HOME, ball_on=book.kickoff_spot)


@steady
@given(eleven_player_books, st.data())
def test_a_scrimmage_kick_that_the_receivers_never_touched_is_not_the_kickers_beyond_the_line(book, data):
    """NCAA 6-3-3 and 6-3-6, NFHS 6-2-4 to 6, NFL 9-2-1."""
    spot = data.draw(hundredths(5, book.field_length - 15))
    beyond = hundredths(spot + 0.1, book.field_length - 0.1)
    untouched = st.sampled_from([EventKind.LANDING, EventKind.BLOCK, EventKind.MUFF, EventKind.FORCED_TOUCHING])
    first = data.draw(st.lists(st.builds(BallEvent, untouched, beyond, st.just(Side.OFFENSE)), max_size=2))
    last = BallEvent(data.draw(st.sampled_from([EventKind.RECOVERY, EventKind.CATCH])), data.draw(beyond), Side.OFFENSE)
    play = Play(data.draw(st.sampled_from([PlayKind.PUNT, PlayKind.FIELD_GOAL])),
                outcome=data.draw(st.sampled_from([None, Outcome.BLOCKED, Outcome.DOWNED])), events=(*first, last))
    if play.kind is PlayKind.FIELD_GOAL:
        play = replace(play, outcome=Outcome.NO_GOOD)
    step = fold(book, down(book, spot, data.draw(st.integers(1, book.downs))), play)
    assert step.after.offense is Team.VISITORS, step.explanation
    assert (step.points_home, step.points_visitors) == (0, 0), step.explanation


@steady
@given(eleven_player_books, st.data())
def test_an_untouched_free_kick_is_not_the_kickers_before_it_went_far_enough(book, data):
    """NCAA 6-1-3, NFHS 6-1-6, NFL 6-2-4."""
    before = kickoff(book)
    taken = data.draw(hundredths(before.ball_on, before.ball_on + book.kickoff_travel - 0.01))
    step = fold(book, before, Play(PlayKind.KICKOFF, events=(BallEvent(EventKind.RECOVERY, taken, Side.OFFENSE),)))
    assert step.after.offense is Team.VISITORS and step.after.ball_on == book.field_length - taken, step.explanation


@steady
@given(books, st.data())
def test_a_touchdown_that_was_said_is_scored_or_doubted(book, data):
    play = data.draw(plays(book).filter(lambda play: play.kind in LIVE))
    before = kickoff(book) if play.kind is PlayKind.KICKOFF else down(book, data.draw(hundredths(1, 99)), 2)
    assume(before.ball_on < book.field_length - 1)
    step = fold(book, before, replace(play, score=Score.TOUCHDOWN, fouls=(), clock=None, team=None))
    # the receivers take the kick where the kickers touched it (6-3-2)
    chosen = "the play as it ended" in step.choices
    scored = book.touchdown_points in (step.points_home, step.points_visitors)
    assert scored or chosen or step.problems, step.explanation


LIVE = (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, PlayKind.KNEEL, PlayKind.PUNT, PlayKind.FIELD_GOAL,
        PlayKind.KICKOFF)


def plain_plays() -> st.SearchStrategy[Play]:
    """Plays that keep the ball and score nothing."""
    return st.one_of(
        st.builds(Play, kind=st.just(PlayKind.RUN), gain=hundredths(-3, 9)),
        st.builds(Play, kind=st.just(PlayKind.PASS), outcome=st.just(Outcome.COMPLETE), gain=hundredths(-3, 9)),
        st.just(Play(PlayKind.PASS, outcome=Outcome.INCOMPLETE)),
        st.builds(Play, kind=st.just(PlayKind.PUNT), outcome=st.sampled_from([Outcome.DOWNED, Outcome.FAIR_CATCH]),
                  kick_to=hundredths(60, 75)),
        st.builds(Play, kind=st.just(PlayKind.PUNT), outcome=st.just(Outcome.RETURNED), kick_to=hundredths(66, 75),
                  spot=hundredths(50, 65)))


@steady
@given(books, st.data())
def test_a_penalty_accepted_by_hand_is_enforced(book, data):
    foul = data.draw(fouls(book))
    foul = Foul(foul.name, foul.by, foul.spot, decision=FoulDecision.ACCEPTED)
    step = fold(book, down(book, 40.0, 2), replace(data.draw(plain_plays()), fouls=(foul,)))
    assert "declined" not in step.explanation, step.explanation


@steady
@given(books, st.data())
def test_declining_every_foul_is_the_play_without_fouls(book, data):
    """But for an illegal pass that falls incomplete, whose spot counts in college (7-3-7)."""
    refused = data.draw(st.lists(fouls(book), min_size=1, max_size=3).map(tuple))
    refused = tuple(Foul(foul.name, foul.by, foul.spot, foul.when, FoulDecision.DECLINED) for foul in refused)
    play = data.draw(plain_plays())
    assume(play.outcome is not Outcome.INCOMPLETE or not any(
        "pass" in foul.name or "grounding" in foul.name for foul in refused))
    before = down(book, 40.0, 2)
    with_fouls, without = fold(book, before, replace(play, fouls=refused)), fold(book, before, play)
    assert with_fouls.after == without.after, with_fouls.explanation


MARKED_OFF = re.compile(r"(?P<yards>[\d.]+) from the [\w -]+ at (?P<spot>(?:own |opp )?(?:end zone )?[\d.]+)")


@steady
@given(books, st.data())
def test_no_penalty_takes_more_than_half_the_distance(book, data):
    """Unless the book has the ball at the spot of the foul: interference, and what is measured from there if worse."""
    rule = data.draw(st.sampled_from([rule for rule in book.fouls.values() if rule.yards and not rule.or_spot_of_foul]))
    by = rule.by if rule.by is not None else data.draw(st.sampled_from(Side))
    spot = data.draw(maybe(spots(book)).filter(lambda spot: spot is None or 0 < spot < book.field_length))
    foul = Foul(rule.name, by, spot, decision=FoulDecision.ACCEPTED)
    step = fold(book, down(book, data.draw(hundredths(5, 40)), 2), replace(data.draw(plain_plays()), fouls=(foul,)))
    for match in MARKED_OFF.finditer(step.explanation):
        yards, start = float(match["yards"]), parse_spot(match["spot"], book.field_length)
        farther = max(start, book.field_length - start)
        assert yards <= farther / 2 + 0.01, step.explanation

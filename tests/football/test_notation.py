"""The entry line: what is typed is what is understood, and every play can be written back."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from workstation.football.field import Team
from workstation.football.notation import read, shortest, write
from workstation.football.plays import (
    BallEvent,
    EnforcedAt,
    EventKind,
    Foul,
    FoulDecision,
    FoulTime,
    Outcome,
    Play,
    PlayKind,
    SituationOverride,
    Score,
    Side,
)
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next, Situation

BOOK = load_rulebook("professional")
SECOND_AND_7 = Situation(next=Next.SCRIMMAGE, offense=Team.HOME, down=2, yards_to_gain=7, ball_on=36)
KICKOFF = Situation(next=Next.KICKOFF, offense=Team.HOME, ball_on=35)
TRY = Situation(next=Next.TRY, offense=Team.VISITORS, ball_on=98)
TOSS = Situation()

SPOKEN = [
    (SECOND_AND_7, "run 6", Play(PlayKind.RUN, gain=6)),
    (SECOND_AND_7, "r6", Play(PlayKind.RUN, gain=6)),
    (SECOND_AND_7, "r-2", Play(PlayKind.RUN, gain=-2)),
    (SECOND_AND_7, "run to own 44", Play(PlayKind.RUN, spot=44)),
    (SECOND_AND_7, "run own 44", Play(PlayKind.RUN, gain=8)),
    (SECOND_AND_7, "rv40", Play(PlayKind.RUN, gain=24)),
    (SECOND_AND_7, "p12", Play(PlayKind.PASS, Outcome.COMPLETE, gain=12)),
    (SECOND_AND_7, "pass 12 touchdown", Play(PlayKind.PASS, Outcome.COMPLETE, gain=12, score=Score.TOUCHDOWN)),
    (SECOND_AND_7, "rt", Play(PlayKind.RUN, score=Score.TOUCHDOWN)),
    (SECOND_AND_7, "i", Play(PlayKind.PASS, Outcome.INCOMPLETE)),
    (SECOND_AND_7, "p i", Play(PlayKind.PASS, Outcome.INCOMPLETE)),
    (SECOND_AND_7, "s9", Play(PlayKind.SACK, gain=-9)),
    (SECOND_AND_7, "pu22 28", Play(PlayKind.PUNT, Outcome.RETURNED, kick_to=78, spot=72)),
    (SECOND_AND_7, "punt 12 fair catch", Play(PlayKind.PUNT, Outcome.FAIR_CATCH, kick_to=88)),
    (SECOND_AND_7, "put", Play(PlayKind.PUNT, Outcome.TOUCHBACK)),
    (SECOND_AND_7, "fg", Play(PlayKind.FIELD_GOAL, Outcome.GOOD)),
    (SECOND_AND_7, "fn", Play(PlayKind.FIELD_GOAL, Outcome.NO_GOOD)),
    (SECOND_AND_7, "field goal good", Play(PlayKind.FIELD_GOAL, Outcome.GOOD)),
    (SECOND_AND_7, "int v30", Play(PlayKind.PASS, Outcome.INTERCEPTED, spot=70)),
    (SECOND_AND_7, "int v30 h45", Play(PlayKind.PASS, Outcome.INTERCEPTED, spot=45,
                                      events=(BallEvent(EventKind.INTERCEPTION, 70, Side.DEFENSE),))),
    (SECOND_AND_7, "r6 fumble lost own 40", Play(PlayKind.RUN, gain=6, events=(
        BallEvent(EventKind.FUMBLE, None, Side.OFFENSE), BallEvent(EventKind.RECOVERY, 40, Side.DEFENSE)))),
    (SECOND_AND_7, "r6 holding declined", Play(PlayKind.RUN, gain=6, fouls=(
        Foul("holding", Side.OFFENSE, decision=FoulDecision.DECLINED),))),
    (SECOND_AND_7, "fs", Play(PlayKind.NO_PLAY, fouls=(Foul("false start", Side.OFFENSE),))),
    (SECOND_AND_7, "r6 dpi", Play(PlayKind.RUN, gain=6, fouls=(Foul("defensive pass interference", Side.DEFENSE),))),
    (SECOND_AND_7, "r6 face mask defense 15 yards", Play(PlayKind.RUN, gain=6, fouls=(
        Foul("face mask", Side.DEFENSE, yards=15),))),
    (SECOND_AND_7, "th", Play(PlayKind.TIMEOUT, team=Team.HOME)),
    (SECOND_AND_7, "e", Play(PlayKind.END_OF_PERIOD)),
    (SECOND_AND_7, "m s", Play(PlayKind.MEASUREMENT, Outcome.SHORT)),
    (SECOND_AND_7, "r6 7:32", Play(PlayKind.RUN, gain=6, clock=452)),
    (SECOND_AND_7, 'r6 "shoe lost"', Play(PlayKind.RUN, gain=6, comment="shoe lost")),
    (SECOND_AND_7, "r6 set down 3 to go 5 on opp 30",
     Play(PlayKind.RUN, gain=6, said=SituationOverride(down=3, yards_to_gain=5, ball_on=70))),
    (KICKOFF, "t", Play(PlayKind.KICKOFF, Outcome.TOUCHBACK)),
    (KICKOFF, "5 25", Play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=95, spot=75)),
    (KICKOFF, "k5 25", Play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=95, spot=75)),
    (KICKOFF, "kt", Play(PlayKind.KICKOFF, Outcome.TOUCHBACK)),
    (KICKOFF, "e5 21", Play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=105, spot=79)),
    (KICKOFF, "5t", Play(PlayKind.KICKOFF, kick_to=95, score=Score.TOUCHDOWN)),
    (KICKOFF, "o45 kept", Play(PlayKind.KICKOFF, kick_to=45, events=(BallEvent(EventKind.RECOVERY, None, Side.OFFENSE),))),
    (TRY, "g", Play(PlayKind.TRY_KICK, Outcome.GOOD)),
    (TRY, "n", Play(PlayKind.TRY_KICK, Outcome.NO_GOOD)),
    (TRY, "rg", Play(PlayKind.TRY_RUN, Outcome.GOOD)),
    (TRY, "pn", Play(PlayKind.TRY_PASS, Outcome.NO_GOOD)),
    (TOSS, "hd", Play(PlayKind.COIN_TOSS, team=Team.HOME, choice="defer")),
    (SECOND_AND_7, "", None),
]


@pytest.mark.parametrize("before, text, play", SPOKEN, ids=[text or "nothing" for _, text, _ in SPOKEN])
def test_reads_what_is_spoken(before, text, play):
    entry = read(text, before, BOOK)
    assert entry.problem is None
    assert entry.play == play


WRONG = [
    (SECOND_AND_7, "r6 zz", 3, 5, "not understood"),
    (SECOND_AND_7, "pu 60", 3, 5, "yard lines run from 0 to 50"),
    (SECOND_AND_7, "int 30", 4, 6, "own 30"),
    (SECOND_AND_7, "r6 face mask", 12, 12, "who fouled"),
    (SECOND_AND_7, "r6 12", 3, 5, "nothing to say"),
    (SECOND_AND_7, "r6 7:75", 3, 7, "no time"),
    (SECOND_AND_7, "r6 #", 3, 4, "means nothing"),
    (SECOND_AND_7, "6", 0, 1, "nothing to say"),
    (SECOND_AND_7, "r6 to own 60", 6, 12, "no 60-yard line"),
]


@pytest.mark.parametrize("before, text, start, end, words", WRONG, ids=[text for _, text, *_ in WRONG])
def test_tells_what_is_wrong_and_where(before, text, start, end, words):
    entry = read(text, before, BOOK)
    assert entry.play is None
    assert (entry.problem.start, entry.problem.end) == (start, end)
    assert words in entry.problem.text


def test_says_what_is_known_and_what_may_follow():
    assert read("", KICKOFF, BOOK).known == "kickoff"
    assert read("", TRY, BOOK).known == "try kick"
    assert read("", SECOND_AND_7, BOOK).known == ""
    options = {option.word: option.typed for option in read("", SECOND_AND_7, BOOK).options}
    assert options["run"] == "r" and options["pass"] == "p" and options["punt"] == "pu"
    assert read("pass", SECOND_AND_7, BOOK).wants == "yards gained"


@pytest.mark.parametrize("before", [SECOND_AND_7, KICKOFF, TRY, TOSS], ids=lambda s: s.next.value)
def test_every_option_is_understood_by_the_beginning_it_shows(before):
    for option in read("", before, BOOK).options:
        said = [chip.text for chip in read(option.typed, before, BOOK).chips]
        assert said in ([option.word], []), option        # words that only announce a number show nothing yet


spots = st.one_of(st.integers(-9, 109), st.integers(0, 400).map(lambda quarter: quarter / 4))
sides = st.sampled_from(Side)
events = st.builds(BallEvent, st.sampled_from(EventKind), st.none() | spots, st.none() | sides)


@st.composite
def fouls(draw):
    rule = draw(st.sampled_from(list(BOOK.fouls.values())))
    return Foul(rule.name, rule.by or draw(sides), draw(st.none() | spots), draw(st.none() | st.sampled_from(FoulTime)),
                draw(st.none() | st.sampled_from(FoulDecision)), draw(st.none() | st.integers(0, 25)),
                draw(st.none() | spots), draw(st.none() | st.sampled_from(EnforcedAt)),
                draw(st.none() | st.booleans()), draw(st.none() | st.booleans()))


optional_teams = st.none() | st.sampled_from(Team)
said = st.builds(SituationOverride, optional_teams, st.none() | st.integers(1, 4), st.none() | st.integers(1, 30), st.none() | spots,
                 st.none() | st.integers(1, 6), st.none() | st.integers(0, 70), st.none() | st.integers(0, 70),
                 st.none() | st.sampled_from(Next), st.none() | st.integers(0, 3), st.none() | st.integers(0, 3),
                 optional_teams, st.none() | st.booleans())
plays = st.builds(
    Play, st.sampled_from(PlayKind), outcome=st.none() | st.sampled_from(Outcome),
    gain=st.none() | st.integers(-40, 99) | st.floats(-10, 60).map(lambda yards: round(yards, 2)),
    kick_to=st.none() | spots, spot=st.none() | spots, possession=st.none() | sides,
    events=st.lists(events, max_size=3).map(tuple), score=st.none() | st.sampled_from(Score),
    fouls=st.lists(fouls(), max_size=2).map(tuple), clock=st.none() | st.integers(0, 900), said=st.none() | said,
    team=optional_teams, choice=st.none() | st.sampled_from(["receive", "kick", "defer", "defend", "replay",
                                                            "take the spot"]),
    comment=st.text(st.characters(codec="ascii", categories=["L", "N", "P", "Zs"]), max_size=12),
    kick_from=st.none() | spots, stands_as=st.none() | st.sampled_from(
        [kind for kind in PlayKind if kind.value in (
            "run", "pass", "sack", "punt", "field goal", "kickoff", "try run", "try pass", "try kick", "kneel",
            "spike", "safety free kick", "no play")]))


@given(play=plays, before=st.sampled_from([SECOND_AND_7, KICKOFF, TRY, TOSS]))
@example(play=Play(PlayKind.RUN, said=SituationOverride()), before=SECOND_AND_7)
@settings(max_examples=150, deadline=None)
def test_every_play_is_written_as_a_line_that_reads_as_it(play, before):
    assert read(write(play, before, BOOK), before, BOOK).play == play


short_plays = st.builds(Play, st.sampled_from(PlayKind), outcome=st.none() | st.sampled_from(Outcome),
                        gain=st.none() | st.integers(-9, 60), kick_to=st.none() | spots, spot=st.none() | spots,
                        score=st.none() | st.just(Score.TOUCHDOWN))


@given(play=short_plays, before=st.sampled_from([SECOND_AND_7, KICKOFF, TRY]))
@settings(max_examples=40, deadline=None)
def test_the_shortest_line_means_the_same_and_is_no_longer(play, before):
    text = shortest(play, before, BOOK)
    assert read(text, before, BOOK).play == play
    assert len(text) <= len(write(play, before, BOOK))


@pytest.mark.parametrize("text", ["set", "r6 set", "set down"])
def test_set_and_nothing_behind_it_asks_what(text):
    entry = read(text, SECOND_AND_7, BOOK)
    assert entry.play is None and entry.problem.text.startswith("set what?")


@given(text=st.text(st.sampled_from("rpistfhovumdlnek0123456789 -.:\"?,"), max_size=20))
@settings(max_examples=150, deadline=None)
def test_no_text_is_too_wrong_to_be_answered(text):
    entry = read(text, SECOND_AND_7, BOOK)
    assert entry.play is not None or entry.problem is not None or not entry.chips
    if entry.problem:
        assert 0 <= entry.problem.start <= entry.problem.end <= len(text)

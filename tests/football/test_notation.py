"""The entry line: what is typed is what is understood, and every play can be written back."""

from __future__ import annotations

import random
from importlib.resources import files

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from workstation.football.field import Team
from workstation.football.notation import Answer, Custom, Habit, read, shortest, write
from workstation.football.notation.foul_names import foul_words
from workstation.football.notation.guide import guide
from workstation.football.notation.lexicon import lexicon, parts_of
from workstation.football.notation.word import IN_SET, Role
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
    Score,
    Side,
    SituationOverride,
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
    (SECOND_AND_7, "run to own 44", Play(PlayKind.RUN, gain=8)),
    (SECOND_AND_7, "run dead at own 44", Play(PlayKind.RUN, spot=44)),
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
    (SECOND_AND_7, "inv30h45", Play(PlayKind.PASS, Outcome.INTERCEPTED, spot=45,
                                   events=(BallEvent(EventKind.INTERCEPTION, 70, Side.DEFENSE),))),
    (SECOND_AND_7, "r6 fumble lost own 40", Play(PlayKind.RUN, gain=6, events=(
        BallEvent(EventKind.FUMBLE, None, Side.OFFENSE), BallEvent(EventKind.RECOVERY, 40, Side.DEFENSE)))),
    (SECOND_AND_7, "r6 holding declined", Play(PlayKind.RUN, gain=6, fouls=(
        Foul("holding", Side.OFFENSE, decision=FoulDecision.DECLINED),))),
    (SECOND_AND_7, "r6isha", Play(PlayKind.RUN, gain=6, fouls=(
        Foul("illegal shift", Side.OFFENSE, decision=FoulDecision.ACCEPTED),))),
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
     Play(PlayKind.RUN, gain=6, override=SituationOverride(down=3, yards_to_gain=5, ball_on=70))),
    (KICKOFF, "t", Play(PlayKind.KICKOFF, Outcome.TOUCHBACK)),
    (KICKOFF, "5 25", Play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=95, spot=75)),
    (KICKOFF, "k5 25", Play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=95, spot=75)),
    (KICKOFF, "kt", Play(PlayKind.KICKOFF, Outcome.TOUCHBACK)),
    (KICKOFF, "e5 21", Play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=105, spot=79)),
    (KICKOFF, "5t", Play(PlayKind.KICKOFF, kick_to=95, score=Score.TOUCHDOWN)),
    (KICKOFF, "o45 kept",
     Play(PlayKind.KICKOFF, kick_to=45, events=(BallEvent(EventKind.RECOVERY, None, Side.OFFENSE),))),
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
    (SECOND_AND_7, "punt to 60", 8, 10, "yard lines run from 0 to 50"),
    (SECOND_AND_7, "int 60", 4, 6, "yard lines run from 0 to 50"),
    (SECOND_AND_7, "r6 12", 3, 5, "nothing to say"),
    (SECOND_AND_7, "r6 7:75", 3, 7, "no time"),
    (SECOND_AND_7, "r6 #", 3, 4, "means nothing"),
    (TOSS, "6", 0, 1, "nothing to say"),
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
said = st.builds(SituationOverride, optional_teams, st.none() | st.integers(1, 4), st.none() | st.integers(1, 30),
                 st.none() | spots,
                 st.none() | st.integers(1, 6), st.none() | st.integers(0, 70), st.none() | st.integers(0, 70),
                 st.none() | st.sampled_from(Next), st.none() | st.integers(0, 3), st.none() | st.integers(0, 3),
                 optional_teams, st.none() | st.booleans())
plays = st.builds(
    Play, st.sampled_from(PlayKind), outcome=st.none() | st.sampled_from(Outcome),
    gain=st.none() | st.integers(-40, 99) | st.floats(-10, 60).map(lambda yards: round(yards, 2)),
    kick_to=st.none() | spots, spot=st.none() | spots, possession=st.none() | sides,
    events=st.lists(events, max_size=3).map(tuple), score=st.none() | st.sampled_from(Score),
    fouls=st.lists(fouls(), max_size=2).map(tuple), clock=st.none() | st.integers(0, 900), override=st.none() | said,
    team=optional_teams, choice=st.none() | st.sampled_from(["receive", "kick", "defer", "defend", "replay",
                                                            "take the spot"]),
    comment=st.text(st.characters(codec="ascii", categories=["L", "N", "P", "Zs"]), max_size=12),
    kick_from=st.none() | spots, stands_as=st.none() | st.sampled_from(
        [kind for kind in PlayKind if kind.value in (
            "run", "pass", "sack", "punt", "field goal", "kickoff", "try run", "try pass", "try kick", "kneel",
            "spike", "safety free kick", "no play")]))


@given(play=plays, before=st.sampled_from([SECOND_AND_7, KICKOFF, TRY, TOSS]))
@example(play=Play(PlayKind.RUN, override=SituationOverride()), before=SECOND_AND_7)
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


# -- three answers ---------------------------------------------------------------------------------------
def test_the_page_about_the_notation_is_made_from_its_table():
    assert (files("workstation.resources") / "notation.md").read_text(encoding="utf-8") == guide(), \
        "python -m workstation.football.notation.guide > resources/notation.md"


@pytest.mark.parametrize("text, texts", [
    ("r6 face mask",
     ["run for 6 yards to own 42, face mask by the defense", "run for 6 yards to own 42, face mask by the offense"]),
    ("int 30", ["pass intercepted, dead at own 30", "pass intercepted, dead at opp 30"]),
    ("6", ["run for 6 yards to own 42", "pass complete for 6 yards to own 42"]),
    ("pi", ["incomplete pass, defensive pass interference by the defense"]),
    ("punt 40 returned 20", ["punt of 40 yards to opp 24, returned 20 yards to opp 44"]),
    ("punt 22 28", ["punt of 42 yards to opp 22, returned 6 yards to opp 28"]),
])
def test_two_meanings_are_shown_in_full_words(text, texts):
    entry = read(text, SECOND_AND_7, BOOK)
    assert entry.answer is Answer.READ_AS
    assert [reading.text for reading in entry.readings][:len(texts)] == texts


def test_the_habit_says_how_a_bare_number_after_a_kick_is_meant_and_the_other_reading_is_the_next():
    lines = read("punt 22", SECOND_AND_7, BOOK, Custom(Habit.YARD_LINES))
    yards = read("punt 22", SECOND_AND_7, BOOK, Custom(Habit.DISTANCES))
    assert (lines.play.kick_to, yards.play.kick_to) == (78, 58)
    assert lines.reading(1).play == yards.play and yards.reading(1).play == lines.play
    assert lines.reading(2).play == lines.play
    assert read("punt 60", SECOND_AND_7, BOOK).play.kick_to == 96          # no yard line 60


@pytest.mark.parametrize("text, doubt", [
    ("incomplete touchdown", "cannot be a touchdown"),
    ("run 6 to own 50", "not to 50"),
    ("run 20 touchdown", "takes 64 yards"),
    ("sack for a gain of 5", "gains nothing"),
    ("run 6 false start", "keeps the ball dead"),
    ("field goal 30 good", "about 81 yards"),
    ("run 3 first down", "no first down"),
    ("run 6 safety", "does not end at own 42"),
    ("run 4 touchback", "needs a kick"),
    ("run 99", "64 yards to the goal line"),
    ("punt 40 yards to opp 40", "lead to opp 24"),
])
def test_a_line_that_contradicts_itself_says_so(text, doubt):
    entry = read(text, SECOND_AND_7, BOOK)
    assert entry.answer is Answer.READ_AS and any(doubt in said for said in entry.doubts), entry.doubts


@pytest.mark.parametrize("text, word", [("run 6 zebra", "zebra"), ("banana 4", "banana"), ("pass 5 to gronk", "gronk")])
def test_an_unknown_word_is_named_and_never_taken_apart(text, word):
    entry = read(text, SECOND_AND_7, BOOK)
    assert entry.answer is Answer.NOT_UNDERSTOOD and entry.problem.word == word


def test_the_nearest_words_are_offered():
    assert "touchdown" in read("run 6 tuchdown", SECOND_AND_7, BOOK).problem.near


# -- metamorphic: what must make no difference, and what must never be certain ----------------------------
SAME = [
    (SECOND_AND_7, ["run 6", "rush 6", "Run 6", "RUN 6", "run for 6", "run of 6 yards", "a run for a gain of 6",
                    "run for six yards", "run, 6 yds",
                    "run to own 42", "runs 6 yards", "run 6 yards to own 42", "6 yard run"]),
    (SECOND_AND_7, ["run loss of 3", "run -3", "run for a loss of 3", "run minus 3", "3 yard loss on a run",
                    "run to own 33", "run for -3 yards"]),
    (SECOND_AND_7,
     ["pass 64 touchdown", "touchdown pass 64", "pass 64 td", "pass 64 for a touchdown", "64 yard touchdown pass",
                    "pass complete for 64 yards, touchdown", "Pass 64 TOUCHDOWN"]),
    (SECOND_AND_7,
     ["incomplete", "pass incomplete", "incomplete pass", "dropped", "batted down", "pass thrown away", "Incomplete."]),
    (SECOND_AND_7, ["run 6 holding on the offense declined", "run 6, offensive holding, declined",
                    "run 6 holding by the offense declined",
                    "holding on the offense declined run 6", "run 6 penalty holding on the offense declined"]),
    (SECOND_AND_7, ["punt to opp 25 returned to opp 37", "punt 39 yards returned 12 yards",
                    "punt of 39 yards to opp 25, returned 12 yards to opp 37",
                    "punt to the opp 25 returned to the opp 37"]),
    (SECOND_AND_7, ["run 6 fumble recovered by the defense at own 40",
                    "run 6 fumble recovered by defense at the own 40",
                    "run 6 fumbled, recovered by the visitors at own 40", "run 6 fumble lost at own 40"]),
    (SECOND_AND_7, ["run 6 face mask on the defense", "run 6 personal foul, face mask on the defense",
                    "run 6 personal foul on the defense, face mask",
                    "run 6 facemask defense", "run 6, defense face mask"]),
    (KICKOFF, ["touchback", "kickoff touchback", "kick touchback", "Kickoff, touchback"]),
    (TRY, ["try kick good", "pat good", "extra point good", "xp is good", "kick good"]),
    (TOSS, ["home wins the toss and defers", "home defer", "coin toss home defers"]),
]


@pytest.mark.parametrize("before, lines", SAME, ids=[lines[0] for _, lines in SAME])
def test_synonyms_fillers_order_capitals_and_plurals_leave_the_play_the_same(before, lines):
    wanted = read(lines[0], before, BOOK).play
    assert wanted is not None
    assert {line: read(line, before, BOOK).play for line in lines} == dict.fromkeys(lines, wanted)


UNKNOWN = ("zebra", "banana", "umbrella", "quark", "wobble", "gronkowski", "xylophone", "whatnot", "bzzt", "nevermind")


@pytest.mark.parametrize("before, lines", SAME, ids=[lines[0] for _, lines in SAME])
def test_an_unknown_word_anywhere_is_never_certain(before, lines):
    for line in lines:
        words = line.split()
        for place in range(len(words) + 1):
            for unknown in UNKNOWN:
                text = " ".join([*words[:place], unknown, *words[place:]])
                assert read(text, before, BOOK).answer is Answer.NOT_UNDERSTOOD, text


WORDS = ["run", "pass", "incomplete", "sack", "punt", "kickoff", "field", "goal", "good", "no", "touchdown", "safety",
         "fumble", "recovered", "by", "the", "offense", "defense", "to", "at", "own", "opp", "5", "12", "25", "40",
         "returned", "blocked", "intercepted", "for", "yards", "loss", "of", "gain", "holding", "declined", "false",
         "start", "penalty", "on", "end", "zone", "touchback", "out", "bounds", "kneel", "spike", "screen", "draw",
         "td", "pat", "two", "point", "home", "visitors", "first", "down", "short", "wide", "left", "and", "in", "from",
         "9:41", "-3", "set", "downed", "muffed", "fair", "catch", "lost", "kept"]


def test_random_lines_of_football_words_never_fail_and_each_reading_stands_for_itself():
    chance = random.Random(2026)
    for turn in range(1000):
        text = " ".join(chance.choices(WORDS, k=chance.randint(1, 9)))
        before = chance.choice([SECOND_AND_7, KICKOFF, TRY, TOSS])
        entry = read(text, before, BOOK)
        assert (entry.answer is Answer.NOT_UNDERSTOOD) == (entry.problem is not None)
        assert entry.answer is not Answer.CERTAIN or len({reading.play for reading in entry.readings
                                                          if not reading.filled and not reading.doubts}) == 1, text
        for reading in entry.readings:
            assert reading.text
        for reading in entry.readings[:2] if turn % 3 == 0 else ():
            assert read(write(reading.play, before, BOOK), before, BOOK).play == reading.play, text


# -- nothing is lost: a word that is taken in shows, in the play or in the answer --------------------------
ADDING = (Role.FOUL, Role.EVENT, Role.SCORE, Role.PICK_SIX, Role.TWO_POINT, Role.NULLIFIED, Role.MANNER)
FOURTH_AND_8 = Situation(next=Next.SCRIMMAGE, offense=Team.HOME, down=4, yards_to_gain=8, ball_on=65)
SPOKEN_SO = 30      # so many phrases of each word are drawn: some words can be said in hundreds of ways
COMPLETE_LINES = [
    (SECOND_AND_7, "run 6"), (SECOND_AND_7, "incomplete"), (FOURTH_AND_8, "punt to opp 5 returned to opp 12"),
    (FOURTH_AND_8, "field goal 52 good"), (KICKOFF, "kickoff to opp 5 returned to opp 25"),
]


@pytest.mark.parametrize("before, line", COMPLETE_LINES, ids=[line for _, line in COMPLETE_LINES])
def test_each_word_of_the_table_said_before_or_after_a_line_shows_in_the_play_or_in_the_answer(before, line):
    alone = read(line, before, BOOK)
    assert alone.answer is Answer.CERTAIN
    lost, chance = [], random.Random(line)
    for word in lexicon(BOOK).words:
        other_kind = word.role is Role.KIND and word.value[0] is not alone.play.kind
        if not (word.role in ADDING or other_kind) or word.where == IN_SET:
            continue
        for phrase in (word.text, *chance.sample(word.also, min(SPOKEN_SO, len(word.also)))):
            if any(other.role is Role.KIND and other.value[0] is alone.play.kind for other in lexicon(BOOK).phrases[parts_of(phrase)]):
                continue    # it also says again what the play is
            if any((line.split()[-1], *parts_of(phrase)[:count]) in lexicon(BOOK).phrases for count in (1, 2)):
                continue    # with the last word of the line it is another phrase
            for text in (f"{line} {phrase}", f"{phrase} {line}"):
                entry = read(text, before, BOOK)
                if entry.answer is Answer.CERTAIN and entry.play == alone.play:
                    lost.append(text)
    assert not lost


@pytest.mark.parametrize("written", ["{}", "({})", "+ {}."])
def test_every_foul_by_every_name_and_however_it_is_set_off_is_in_the_play_or_asked_about(written):
    for word in foul_words(BOOK):
        for name in (word.text, *word.also, *word.codes, *(".".join(code) + "." for code in word.codes)):
            entry = read(f"incomplete {written.format(name)}", SECOND_AND_7, BOOK)
            assert entry.answer is not Answer.CERTAIN or entry.play.fouls or entry.play.events, name


@pytest.mark.parametrize("dotted, plain", [
    ("p.i.", "pi"), ("t.d.", "td"), ("f.g. 52 good", "fg 52 good"), ("run 6 o.b.", "run 6 ob"), ("run 6 d. holding", "run 6 defense holding"),
])
def test_abbreviations_may_have_dots(dotted, plain):
    assert read(dotted, FOURTH_AND_8, BOOK).play == read(plain, FOURTH_AND_8, BOOK).play is not None


@pytest.mark.parametrize("before, line, forms", [
    (SECOND_AND_7, "{} for 6", "run runs ran running"), (SECOND_AND_7, "{} 12", "throw throws threw thrown throwing"),
    (FOURTH_AND_8, "punt {} to opp 12", "return returns returned returning"),
    (FOURTH_AND_8, "punt {} at opp 12, recovered by the kickers", "muffs muffed muffing"),
    (SECOND_AND_7, "run 6 {} lost", "fumble fumbles fumbled fumbling"), (TRY, "two-point run {}", "fail fails failed failing"),
    (SECOND_AND_7, "run 12 {} by holding", "nullify nullified nullifies nullifying"),
])
def test_a_verb_may_be_said_in_any_form(before, line, forms):
    plays = {read(line.format(form), before, BOOK).play for form in forms.split()}
    assert len(plays) == 1 and None not in plays


@pytest.mark.parametrize("line", ["sack touchdown", "field goal 52 touchdown", "sack 3 safety", "visitors run 6", "home intercept at opp 30"])
def test_what_the_rules_or_the_line_have_against_the_play_is_never_certain(line):
    entry = read(line, SECOND_AND_7, BOOK)
    assert entry.answer is not Answer.CERTAIN and (entry.problem is not None or entry.doubts)

"""Lines of a play and own words, against what was written down before (``lines.toml``); and plays alone, as ever."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from workstation.football.notation import Answer, read
from workstation.football.plays import Outcome, Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.tagging.own_words.files import load_vocabulary, read_vocabulary
from workstation.tagging.own_words.following import applies
from workstation.tagging.own_words.line import completed, completions, known_to, read_line
from workstation.tagging.own_words.spoken import Spoken

HERE = Path(__file__).parent
LINES = [case for name in ("lines.toml", "kept_aside.toml")
         for case in tomllib.loads((HERE / name).read_text(encoding="utf-8"))["line"]]
BOOK = load_rulebook("nfhs")
KNOWN = known_to(BOOK)
KICKOFF = Play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70)
BEFORE = {"": track(BOOK, [KICKOFF])[-1].after, "kickoff": track(BOOK, [KICKOFF])[0].before,
          "try": track(BOOK, [KICKOFF, Play(PlayKind.RUN, gain=70)])[-1].after}
ANSWERS = {"c": Answer.CERTAIN, "r": Answer.READ_AS, "n": Answer.NOT_UNDERSTOOD, "0": Answer.NOTHING}


@pytest.fixture(scope="module")
def spoken(tmp_path_factory):
    return Spoken(load_vocabulary(folder=tmp_path_factory.mktemp("none")))


def understood(text, spoken, at=""):
    before = BEFORE[at]
    return read_line(text, spoken, lambda part: read(part, before, BOOK),
                     lambda word, reading: applies(word, reading.play.kind, before), KNOWN)


def plain(reading):
    return {said.word: said.text for said in reading.said}


@pytest.mark.parametrize("case", LINES, ids=lambda case: case["text"] or "nothing")
def test_lines_as_expected(case, spoken):
    before = BEFORE[case.get("at", "")]
    line = understood(case["text"], spoken, case.get("at", ""))
    play = read(case["play"], before, BOOK) if "play" in case else None
    if case["answer"] == "same":
        assert line.answer is play.answer
    elif case["answer"] != "any":
        assert line.answer is ANSWERS[case["answer"]], line
    if line.answer is Answer.NOT_UNDERSTOOD:
        assert line.problem.word == case["word"] == case["text"][line.problem.start:line.problem.end]
        assert case.get("says", "") in line.problem.text
        assert case.get("near", "") in line.problem.text
        return
    if line.answer is Answer.NOTHING:
        assert not line.readings
        return
    first = line.readings[0]
    assert plain(first) == case["words"]
    assert (first.play.play if first.play else None) == play.play
    others = line.readings[1:]
    if "also" in case:
        assert case["also"] in [plain(reading) for reading in others]
    assert case.get("asks", "") in "; ".join(first.asked)
    if "also_play" in case:
        assert read(case["also_play"], before, BOOK).play in [reading.play.play for reading in others if reading.play]


def _spoken_lines():
    for path in sorted((HERE.parents[1] / "outside" / "spoken_lines").glob("*.toml")):
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        for entries in table.values():
            for entry in entries if isinstance(entries, list) else ():
                if isinstance(entry, dict):
                    yield from (entry[key] for key in ("line", "text", "said") if isinstance(entry.get(key), str))


def _where(problem):
    return None if problem is None else (problem.start, problem.end)


def test_a_play_line_reads_exactly_as_before(spoken):
    """Every spoken line of the outside tables, at a scrimmage down. The few lines in which a whole part between commas
    is a value of a list ("play action", "10") are asked for, unless it tells nothing of the play ("quick game")."""
    lines = sorted(set(_spoken_lines()))
    assert len(lines) > 1000
    before, asked = BEFORE[""], []
    for text in lines:
        entry, line = read(text, before, BOOK), understood(text, spoken)
        same = (line.answer, _where(line.problem), [(reading.play, reading.pieces) for reading in line.readings]) == (
            entry.answer, _where(entry.problem), [(reading, ()) for reading in entry.readings])
        if not same and any(reading.pieces for reading in line.readings):
            adds = [entry.play] == [reading.play and reading.play.play for reading in line.readings]
            assert line.answer is Answer.READ_AS or adds, text
            asked += [] if adds else [text]
        else:
            assert same, text
    assert len(asked) <= 0.004 * len(lines), asked


def test_what_completes_a_word(spoken):
    def typed(text):
        return [option.word for option in completions(text, spoken)]

    assert typed("r4") == [] and typed("") == []
    assert typed("r4,")[:3] == ["doubles", "trips", "empty"]           # the first word, in its order
    assert typed("r4, tr")[0] == "trips" and "trap" in typed("r4, tr")
    assert typed("r4, trips,")[:2] == ["10", "11"]                     # then the next of which nothing is said
    assert typed("r4, trips ri")[0] == "right"
    assert "right" not in typed("r4, trips, right, ri")                # said already
    assert typed("r4, strength ")[:3] == ["right", "left", "balanced"]
    assert "box count" in typed("r4, bo")
    option = completions("r4, wish", spoken)[0]
    assert completed("r4, wish", option) == "r4, wishbone"
    assert completed("r4,wish", option) == "r4, wishbone"
    assert completed("r4, trips ri", completions("r4, trips ri", spoken)[0]) == "r4, trips right"


def test_a_value_of_two_lists_said_many_times_is_no_puzzle():
    """Two to the power of 40 ways, none of which can be: it must end at once."""
    both = read_vocabulary('[words.a]\nvalues = { x = [], y = [] }\n[words.b]\nvalues = { x = [], z = [] }')
    line = read_line(", ".join(["x"] * 40) + ", " + " ".join(["x"] * 40), Spoken(both),
                     lambda part: read(part, BEFORE[""], BOOK))
    assert line.answer is Answer.NOT_UNDERSTOOD
    once = read_line("r4, x", Spoken(both), lambda part: read(part, BEFORE[""], BOOK))
    assert once.answer is Answer.READ_AS and [plain(reading) for reading in once.readings] == [{"a": "x"}, {"b": "x"}]
    assert "'x' is a x or b x" in once.readings[0].asked
    assert understood("r4, x", Spoken(both)).answer is Answer.READ_AS

"""Whatever lies in a file that people may write themselves ends in a value or in a clear error of our own.

Play sheets and game JSON have their own tests of this kind in tests/tagging, file names and cells in tests/delivery.
"""

from __future__ import annotations

from fractions import Fraction
from importlib.resources import files
from pathlib import Path

import pytest
import srt
import webvtt as webvtt_reader
from hypothesis import example, given, settings
from hypothesis import strategies as st

from workstation.coverage.profile import ProfileError, load_profile
from workstation.delivery.captions import subrip, webvtt
from workstation.delivery.segment import Part, Segment, cues_of
from workstation.film.film import Source
from workstation.football.field import Team
from workstation.football.notation import read
from workstation.football.rulebook import RulebookError, load_rulebook, read_rulebook
from workstation.football.situation import Next, Situation
from workstation.football.tracker import fold
from workstation.tagging.own_words.cells import CellError, read_cell
from workstation.tagging.own_words.files import VocabularyError, load_vocabulary, read_vocabulary, vocabulary_text
from workstation.tagging.own_words.line import completions, known_to, read_line
from workstation.tagging.own_words.spoken import Spoken

RESOURCES = files("workstation.resources")
RULEBOOK = (RESOURCES / "rulebooks" / "nfhs.toml").read_bytes()
PROFILE = (RESOURCES / "profiles" / "default.toml").read_bytes()
WORDS = (RESOURCES / "profiles" / "words" / "default.toml").read_bytes()
BOOK = load_rulebook("nfhs")
BEFORE_RUN = Situation(Next.SCRIMMAGE, Team.HOME, 1, 10, 30)
SPOKEN = Spoken(read_vocabulary(WORDS.decode()))
few = settings(max_examples=40, deadline=None)

flips = st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.integers(0, 255)), min_size=1, max_size=6)
toml_values = st.recursive(
    st.sampled_from(["1", "-0", "9" * 40, "1e400", "nan", "inf", "true", '""', '"\\u0000"', "1979-05-27", "[]", "{}"]),
    lambda inner: st.lists(inner, max_size=3).map(lambda values: f"[{', '.join(values)}]"), max_leaves=5)


def altered(raw: bytes, changes) -> bytes:
    out = bytearray(raw)
    for share, byte in changes:
        out[int(share * len(out))] = byte
    return bytes(out)


def with_a_value(raw: bytes):
    """The file with another value in one of its lines, still TOML."""
    lines = raw.decode().splitlines()
    places = [place for place, line in enumerate(lines) if " = " in line and not line.startswith(("#", " "))]

    def changed(chosen):
        place, value = chosen
        text = "\n".join([*lines[:place], f"{lines[place].partition(' = ')[0]} = {value}", *lines[place + 1:]])
        return text.encode()

    return st.tuples(st.sampled_from(places), toml_values).map(changed)


@few
@given(flips.map(lambda changes: altered(RULEBOOK, changes)) | with_a_value(RULEBOOK) | st.binary(max_size=100))
@example(b"\xff\xfe")
def test_any_rulebook_file(tmp_path_factory, raw):
    path = tmp_path_factory.mktemp("book") / "mine.toml"
    path.write_bytes(raw)
    try:
        book = read_rulebook(path)
    except RulebookError as error:
        assert str(error).startswith("mine.toml: ")
    else:
        assert book.fouls and book.rules


def test_a_rulebook_of_nothing_but_brackets(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_bytes(b"a = " + b"[" * 20_000)
    with pytest.raises(RulebookError):
        read_rulebook(path)


@few
@given(flips.map(lambda changes: altered(PROFILE, changes)) | with_a_value(PROFILE) | st.binary(max_size=100))
@example(b"a = " + b"[" * 20_000)
@example(b"\xff\xfe")
def test_any_profile_file(tmp_path_factory, raw):
    path = tmp_path_factory.mktemp("profile") / "mine.toml"
    path.write_bytes(raw)
    try:
        profile = load_profile(path)
    except ProfileError as error:
        assert "mine" in str(error)
    else:
        assert profile.name == "mine"


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=60) | st.lists(st.sampled_from(
    ["run", "pass", "4", "-3", "99999999999999999999", ".", "own", "opp", "50", "½", "²", "٣", '"', "holding", "fumble",
     "by", "defense", "1e9", "nan", "-0", ":", "12:00", "set", "1st", "&", "goal", "\0", "\u202e",
     "🏈"])).map(" ".join))
@pytest.mark.parametrize("due", [Next.SCRIMMAGE, Next.KICKOFF, Next.TRY, Next.COIN_TOSS, Next.OVER])
def test_any_line_typed_in_the_tag_room(due, text):
    book = load_rulebook("nfhs")
    before = Situation(due, Team.HOME, ball_on=40.0) if due is not Next.SCRIMMAGE else Situation(
        due, Team.HOME, 2, 7.0, 40.0, series=1, drive=1)
    entry = read(text, before, book)
    # A play, what is wrong, or what can follow: never an answer of nothing.
    assert entry.play is not None or entry.problem is not None or entry.options or not entry.chips
    if entry.play is not None:
        assert fold(book, before, entry.play).explanation


SOURCE = Source("s", Path("a.mp4"), 0, "", Fraction(1, 25), 0, 50, Fraction(25), 320, 180)


@few
@given(st.lists(st.tuples(st.text(max_size=40), st.text(max_size=40)), min_size=1, max_size=4))
@example([("one\r\n\r\n2\n00:00:00.000 --> 00:00:01.000\nforged", "")])
@example([("one\r\r2", "a\rb")])
@example([("--> <b>&amp;", "")])
def test_any_caption_stays_one_cue(tmp_path_factory, texts):
    """Line ends that would begin another cue: WebVTT (W3C) 4.1, a cue ends at an empty line, CR alone is a line end."""
    segments = cues_of([Segment((Part(SOURCE, 0, 50),), {"label": label}, caption) for caption, label in texts])
    path = tmp_path_factory.mktemp("captions") / "a.vtt"
    text = webvtt(segments)
    path.write_text(text, encoding="utf-8", errors="replace", newline="")
    cues = list(webvtt_reader.read(str(path)))
    assert "\r" not in text and "\0" not in text
    assert text.count("-->") == len(segments)
    assert len(cues) <= len(segments)
    text = subrip(segments)
    assert text.count(",000 --> ") >= len(segments) and "\r" not in text
    assert len(list(srt.parse(text))) == len(segments)


@few
@given(flips.map(lambda changes: altered(WORDS, changes)) | with_a_value(WORDS) | st.binary(max_size=100))
def test_any_definition_of_own_words(tmp_path_factory, raw):
    path = tmp_path_factory.mktemp("words") / "ours.toml"
    path.write_bytes(raw)
    try:
        vocabulary = load_vocabulary(path)
    except VocabularyError as error:
        assert str(path) in str(error) and len(str(error)) < 5000
    else:
        assert read_vocabulary(vocabulary_text(vocabulary)) == vocabulary


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=60) | st.lists(st.sampled_from(
    ["r4", ",", " ", "trips", "right", "11", "lt", "tr11lt", "no", "box", "x7", "bc22", "power", '"', "i", "p12",
     "hash", "formation", "goal line front", "-", "ÄÖ", "\t"]), max_size=12).map("".join))
@example("," * 60)
@example("tr11lt" * 10)
@example("d" * 60)
@example("lt" * 20)
@example("egtwit" * 6)
@example(", ".join(["i d t 11"] * 12))
@example("no no no")
def test_any_line_with_own_words(text):
    line = read_line(text, SPOKEN, lambda part: read(part, BEFORE_RUN, BOOK), may_be_play=known_to(BOOK))
    for reading in line.readings:
        for piece in reading.pieces:
            assert 0 <= piece.start < piece.end <= len(text)
        assert len({said.word for said in reading.said}) == len(reading.said) and reading.text
    if line.problem is not None:
        assert 0 <= line.problem.start <= line.problem.end <= len(text) and line.problem.text
    completions(text, SPOKEN)


@few
@given(st.text(max_size=80))
def test_any_text_in_a_cell_of_own_words(text):
    for word in SPOKEN.vocabulary.words:
        try:
            said = read_cell(word, text)
        except CellError as error:
            assert str(error).startswith(word.name)
        else:
            assert said is None or said.word == word.name

"""Everyday words, down calls, officials' yard lines, abbreviations and amounts in a spoken line."""

from __future__ import annotations

import pytest

from workstation.football.field import Team
from workstation.football.notation import Answer, read
from workstation.football.plays import PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next, Situation

BOOK = load_rulebook("ncaa")
SECOND_AND_7 = Situation(next=Next.SCRIMMAGE, offense=Team.HOME, down=2, yards_to_gain=7, ball_on=36)


def said(text: str):
    return read(text, SECOND_AND_7, BOOK)


@pytest.mark.parametrize(
    ("text", "passed"),
    [
        ("he scrambled through bodies and picked up eleven", "bodies"),
        ("fellow run for 6", "fellow"),
        ("run for 6 in the trenches", "trenches"),
    ],
)
def test_everyday_words_are_passed_over_and_named_and_the_answer_is_never_certain(text, passed):
    entry = said(text)
    assert entry.answer is Answer.READ_AS
    assert passed in " ".join(entry.readings[0].filled)
    assert any(chip.state == "passed over" and passed in text[chip.start : chip.end] for chip in entry.chips)


@pytest.mark.parametrize("word", ["harmonica", "wicket", "flagpole"])
@pytest.mark.parametrize("text", ["he ran for {} six right there", "booming {} run for 6", "{} he ran for six"])
def test_an_unknown_word_among_everyday_words_is_named(text, word):
    entry = said(text.format(word))
    assert entry.answer is Answer.NOT_UNDERSTOOD
    assert entry.problem.word == word


@pytest.mark.parametrize("text", ["fumble, they recovered it right there", "he fumbles and they recovered it at the 30"])
def test_who_recovered_is_never_passed_over(text):
    play = said(text).play
    assert play.events[-1].by is not None
    assert not any("they" in said for said in said(text).readings[0].filled if said.startswith("passed over"))


def test_a_phrase_does_not_reach_across_words_passed_over():
    entry = said("the end came around and sacked him for a loss of 8")
    assert entry.play.kind is PlayKind.SACK
    assert entry.play.manner == ""


@pytest.mark.parametrize(
    ("text", "doubt"),
    [
        ("run 4, third and three", ""),
        ("run 4, fourth and three", "'fourth and three' was said, but 3rd & 3 follows"),
        ("run 7, first and ten", ""),
        ("run 4, third down", ""),
        ("run 4 on second down", ""),
        ("run 4 on third down", "'on third down' was said, but it is 2nd & 7"),
        ("second and seven, run 4", ""),
        ("incomplete, third and seven", ""),
        ("intercepted at the 20, first and ten B", ""),
        ("run 7, first and ten B", "the offense has the ball"),
    ],
)
def test_a_down_said_along_is_a_check(text, doubt):
    doubts = " ".join(said(text).doubts)
    assert doubt in doubts if doubt else not doubts


@pytest.mark.parametrize(
    ("text", "spot"),
    [("run to the A-41", 41), ("run, dead at the B-48", 52), ("run to the A41", 41), ("pass complete to the B 30", 70)],
)
def test_yard_lines_as_officials_write_them(text, spot):
    play = said(text).play
    assert (play.spot if play.spot is not None else 36 + play.gain) == spot


def test_a_letter_and_a_minus_elsewhere_is_a_loss():
    assert said("R-1").play.gain == -1


@pytest.mark.parametrize(
    ("text", "gain"),
    [
        ("run for a yard and a half", 1.5),
        ("run half a yard", 0.5),
        ("run for two and a half yards", 2.5),
        ("run for forty-one yards", 41),
        ("run for a couple of yards", 2),
        ("run one yard short of the first down", 6),
        ("run swallowed up five yards behind the line", -5),
        ("run L 7", 7),
        ("sweep rt -2", -2),
    ],
)
def test_amounts_in_words_and_directions(text, gain):
    assert said(text).play.gain == gain


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("ctr 6", PlayKind.RUN),
        ("qb snk 3", PlayKind.RUN),
        ("sk -6", PlayKind.SACK),
        ("spk", PlayKind.SPIKE),
        ("scrmbl 6", PlayKind.RUN),
        ("cmp 12", PlayKind.PASS),
    ],
)
def test_abbreviations_without_vowels(text, kind):
    assert said(text).play.kind is kind


@pytest.mark.parametrize("text", ["hands it off for 4", "keeper, dives forward, 4 yards", "run 4, clock running", "run 4, side"])
def test_a_plain_word_is_no_foul(text):
    entry = said(text)
    assert entry.play is None or not entry.play.fouls

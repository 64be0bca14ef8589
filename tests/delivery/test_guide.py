"""The guide says what the program knows, and leaves as one HTML page and one PDF."""

from __future__ import annotations

import re

import pytest
from bs4 import BeautifulSoup

from workstation.commands import run
from workstation.coverage.profile import load_profile
from workstation.delivery.guide import PICTURES, chapters
from workstation.delivery.guide_search import passages, ranked
from workstation.delivery.guide_writing import NAMES
from workstation.desk.actions import ACTIONS
from workstation.tagging.meanings import MOMENTS, SHOTS
from workstation.tagging.model import MomentKind, ShotKind

KEYS = {action.id: (action.keys or ("",))[0] for action in ACTIONS}


@pytest.fixture(scope="module")
def guide():
    return chapters(KEYS.__getitem__)


def test_every_kind_of_shot_and_every_mark_has_its_meaning_in_the_guide(guide):
    assert set(SHOTS) == set(ShotKind) and set(MOMENTS) == set(MomentKind)
    (chapter,) = [each for each in guide if each.name == "shots_and_marks"]
    assert all(meaning in chapter.text for meaning in (*SHOTS.values(), *MOMENTS.values()))


def test_every_practice_says_why_in_the_rules_own_words(guide):
    (chapter,) = [each for each in guide if each.name == "practices"]
    for rule in load_profile("default").rules:
        assert f"## {rule.title}\n" in chapter.text and rule.reason in chapter.text


def test_the_guide_has_the_cautions_and_who_stands_above_them(guide):
    (chapter,) = [each for each in guide if each.name == "with_care"]
    assert all(line in chapter.text for line in load_profile("default").cautions)
    assert all(word in chapter.text for word in ("venue", "league", "school", "law"))


def test_every_example_is_read_and_a_question_is_shown_as_one(guide):
    (chapter,) = [each for each in guide if each.name == "notation"]
    assert "| `run 6` | ✓ | run for 6 yards to own 36 |" in chapter.text
    assert re.search(r"\| `pass 12 touchdown` \| \? \|", chapter.text)


# Written before the search was tried, by somebody new to the program; each with words of the passage that answers it.
QUESTIONS = {
    "how do I mark the snap": "snap",
    "holding penalty": "holding",
    "undo a mistake": "I made a mistake",
    "when to film the scoreboard": "board",
    "I moved the video files": "The film was moved",
    "send clips to the coach": "Hand on",
    "second camera": "Somebody filmed the same game",
    "copy from memory card": "Put the camera's card in",
    "third down statistics": "takes a folder of games as a season",
    "where is my work saved": "There is nothing to save",
    "the picture stutters": "It stutters",
    "how to type a field goal": "field goal",
    "what happens after a punt is returned": "punt of 45 yards",
    "what is a finding": "A finding says",
    "print a report": "The summary",
    "change the order of files": "The files are in the wrong order",
    "vlc missing": "VLC player was not found",
    "what does the question mark mean": "question mark",
    "draw on the picture": "draws on the picture",
}


@pytest.mark.parametrize("question", QUESTIONS)
def test_a_question_in_anybodys_words_finds_the_passage_that_answers_it(guide, question):
    answers = ranked(passages(guide), question)[:3]
    assert any(QUESTIONS[question] in answer.text for answer in answers), [answer.text for answer in answers]


def test_a_question_with_no_known_word_has_no_answer(guide):
    assert ranked(passages(guide), "zeppelin") == [] == ranked(passages(guide), "how do I")


def test_the_pictures_are_small_and_each_is_shown_with_words_for_it(guide):
    shown = {name: alt for chapter in guide for alt, name in re.findall(r"!\[([^]]+)\]\((\S+)\)", chapter.text)}
    kept = {path.name: path.stat().st_size for path in PICTURES.iterdir()}
    assert set(shown) <= set(kept) and all(len(alt) > 20 for alt in shown.values())
    assert max(kept.values()) <= 125_000 and sum(kept.values()) < 1_500_000


def test_the_command_writes_a_page_that_needs_nothing_else_and_a_tagged_pdf(tmp_path, capsys):
    assert run(["guide", "--to", str(tmp_path / "guide")]) == 0
    page, paper = (tmp_path / "guide" / name for name in NAMES)
    soup = BeautifulSoup(page.read_text("utf-8"), "lxml")
    assert len(soup.select("nav a")) == len(soup.select("section")) == 9
    assert all(soup.select(link["href"]) for link in soup.select("nav a"))
    pictures = soup.select("img")
    assert len(pictures) >= 6 and all(each["src"].startswith("data:image/") and each["alt"] for each in pictures)
    assert not re.search(r"(src|href)=\"(?!data:|#)", str(soup))
    data = paper.read_bytes()
    assert data.startswith(b"%PDF") and b"/StructTreeRoot" in data and b"/Figure" in data and b"/Table" in data
    assert run(["guide", "--to", str(tmp_path / "guide")]) == 2
    assert "exists already" in capsys.readouterr().err
    assert run(["guide", "--to", str(tmp_path / "guide"), "--overwrite"]) == 0

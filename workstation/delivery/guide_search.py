"""Finds the passages of the guide that answer a question in anybody's words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import log

from .guide import Chapter

_LIST_ITEM = re.compile(r"^(?:[*-]|\d+\.)\s+")
_MARKUP = re.compile(r"!\[[^]]*\]\([^)]*\)|[*`_]")
_WORD = re.compile(r"[a-z0-9]+(?='s)|[a-z0-9]{2,}")
# Words of a question that say nothing of what it is about.
_EMPTY = frozenset(re.findall(r"\w+", """
    a about an and any are at be but by can could did do does for from get go has have how i if in into is it its just
    like make me must my need of on one or out should so some than that the their them then there these they this to too
    up use want was we what when where which who why will with you your"""))
# What people call it elsewhere -> the guide's words.
_MEANS = {
    "clip": "passage film", "clips": "passage film", "video": "film", "videos": "film", "footage": "film",
    "send": "hand", "share": "hand", "email": "hand", "upload": "hand", "export": "hand", "cut": "exactly",
    "delete": "remove", "erase": "remove", "mistake": "wrong undo", "error": "wrong", "mark": "marks",
    "stats": "count share", "statistics": "count share", "percentage": "share", "memory": "card", "sd": "card",
    "import": "open", "load": "open", "shortcut": "keys", "hotkey": "keys", "keyboard": "keys", "save": "disk",
    "lost": "missing", "print": "report", "excel": "spreadsheet", "csv": "spreadsheet", "flag": "foul",
    "penalty": "foul", "penalties": "foul", "frame": "picture", "policy": "demands", "slow": "stutters",
    "choppy": "stutters", "sound": "mute", "rename": "renamed",
}
# What a word counts there, or when it stands for another; set by judgement.
_HEADING, _TITLE, _MEANT = 1.1, 0.6, 0.7


@dataclass(frozen=True)
class GuidePassage:
    """A paragraph, an item of a list or a row of a table, found by its own words and those above it. ``chapter`` is its
    place in the list of chapters, ``text`` is itself or its longest cell as a page shows it."""

    chapter: int
    text: str
    weights: dict[str, float]


def passages(chapters: Sequence[Chapter]) -> list[GuidePassage]:
    """All that can be found, in the guide's order."""
    made = []
    for number, chapter in enumerate(chapters):
        heading, inside_table = "", False
        for block in _blocks(chapter.text):
            if block.startswith("#"):
                heading, inside_table = block.lstrip("# ") if block.startswith("##") else "", False
                continue
            if block.startswith("|") and not inside_table:
                inside_table = True
                continue
            inside_table = block.startswith("|")
            cells = [cell.strip() for cell in block.strip("|").split(" | ")] if block.startswith("|") else [block]
            plain = [" ".join(_MARKUP.sub("", _LIST_ITEM.sub("", cell)).lstrip("# ").split()) for cell in cells]
            text = max(plain, key=len)
            if not text.strip("- |"):
                continue
            weights = dict.fromkeys(_words(chapter.title), _TITLE)
            weights |= dict.fromkeys(_words(" ".join(plain)), 1.0)
            weights |= dict.fromkeys(_words(heading), _HEADING)
            made.append(GuidePassage(number, text, weights))
    return made


def ranked(among: Sequence[GuidePassage], question: str) -> list[GuidePassage]:
    """The passages that say most of what *question* is about, the best first; none where no word is known."""
    scores = dict.fromkeys(range(len(among)), 0.0)
    for word in dict.fromkeys(each for each in _words(question) if each not in _EMPTY):
        others = _MEANS.get(word, "").split()
        told = [max([_told(passage, word), *(_MEANT * _told(passage, other) for other in others)]) for passage in among]
        rare = log((1 + len(among)) / (1 + sum(each > 0 for each in told)))
        for number, each in enumerate(told):
            scores[number] += each * rare
    best = max(scores.values(), default=0.0)
    order = sorted(scores, key=lambda number: -scores[number])
    return [among[number] for number in order if scores[number] > best / 2]


def _told(passage: GuidePassage, word: str) -> float:
    """What *word* counts in a passage, in one of its forms: mark, marks, marked, marking."""
    stem = _stem(word)
    return max((weight for said, weight in passage.weights.items() if _stem(said) == stem), default=0.0)


def _stem(word: str) -> str:
    for ending in ("ing", "ed", "es", "s", "e"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            return word[:-len(ending)]
    return word


def _words(text: str) -> list[str]:
    return _WORD.findall(text.casefold())


def _blocks(text: str) -> Iterable[str]:
    """Paragraphs, list items, table rows and headings of Markdown, each as one line."""
    lines: list[str] = []
    for line in [*text.splitlines(), ""]:
        if not line.strip() or _LIST_ITEM.match(line) or line.startswith(("|", "#")):
            if lines:
                yield " ".join(lines)
            lines = []
        if line.strip():
            lines.append(line.strip())

"""The guide: its chapters as Markdown, with what the program itself knows filled in.

``resources/guide/*.md`` are Jinja templates. Keys, meanings, practices, cautions, words and the readings of lines come
from where the program has them, so that the guide cannot say anything else.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from pathlib import Path

from jinja2 import Environment, StrictUndefined

from ..coverage.profile import load_profile
from ..football.field import Team
from ..football.notation import Answer, read
from ..football.notation.guide import usual_words
from ..football.rulebook import load_rulebook
from ..football.situation import Next, Situation
from ..football.speaking import spoken_situation
from ..tagging.meanings import MOMENTS, SHOTS

FOLDER = Path(str(files("workstation.resources") / "guide"))
PICTURES = FOLDER / "pictures"


@dataclass(frozen=True)
class Chapter:
    """``name`` tells chapters apart; ``text`` is Markdown, its first line the title."""

    name: str
    title: str
    text: str


def chapters(key: Callable[[str], str]) -> list[Chapter]:
    """All chapters in their order. *key* names the key of an action as the person has it, or is empty."""
    environment = Environment(undefined=StrictUndefined, autoescape=False, keep_trailing_newline=True)
    filled = {"key": lambda id: f"`{key(id) or 'no key'}`", "picture": _picture, "lines": _lines, "words": _words,
              "practices": _practices, "cautions": _cautions,
              "shots": lambda: _meanings(("shot", "key", "what it is"), SHOTS, "tag.shot", key),
              "moments": lambda: _meanings(("mark", "key", "what it means"), MOMENTS, "tag.mark", key)}
    made = []
    for path in sorted(FOLDER.glob("*.md")):
        text = environment.from_string(path.read_text("utf-8")).render(filled)
        made.append(Chapter(path.stem.partition("_")[2], text.partition("\n")[0].lstrip("# "), text))
    return made


def _picture(name: str, alt: str) -> str:
    path = next(iter(sorted(PICTURES.glob(f"{name}.*"))), None)
    if path is None:
        raise FileNotFoundError(f"{PICTURES}: no picture {name!r}; make it with python -m tests.pictures")
    return f"![{alt}]({path.name})"


def _table(head: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> str:
    def row(cells: tuple[str, ...]) -> str:
        return "| " + " | ".join(cell.replace("|", r"\|") for cell in cells) + " |"

    return "\n".join([row(head), "|" + " --- |" * len(head), *map(row, rows)])


def _meanings(head: tuple[str, ...], meanings: dict, group: str, key: Callable[[str], str]) -> str:  # type: ignore[type-arg]
    return _table(head, [(str(kind), f"`{key(f'{group}.{str(kind).replace(chr(32), chr(95))}') or 'no key'}`", meaning)
                         for kind, meaning in meanings.items()])


def _lines(down: int, yards_to_gain: float, ball_on: float, *lines: str) -> str:
    """What the reader makes of these lines at that down. Raises ValueError for one that it does not understand."""
    rulebook = load_rulebook("nfhs")
    before = Situation(Next.SCRIMMAGE, Team.HOME, down, yards_to_gain, ball_on)
    situation = spoken_situation(before, rulebook.field_length)
    rows = []
    for line in lines:
        entry = read(line, before, rulebook)
        if not entry.readings:
            raise ValueError(f"the guide's example {line!r} is not understood at {situation}")
        sure = "✓" if entry.answer is Answer.CERTAIN else "?"
        rows.append((f"`{line}`", sure, entry.readings[0].text))
    return f"At {situation}:\n\n" + _table(("typed", "", "read as"), rows)


def _words(title: str) -> str:
    return _table(("word", "short", "also said"), [(word, f"`{codes}`" if codes else "", also)
                                                   for word, codes, also in usual_words(title)])


@cache
def _practices() -> str:
    parts = []
    for rule in load_profile("default").rules:
        about = "" if rule.enabled else "\n\n*Only where a receiver or a league asks for it.*"
        parts.append(f"## {rule.title}\n\n{re.sub(chr(92) + 's+', ' ', rule.reason)}{about}")
    return "\n\n".join(parts)


@cache
def _cautions() -> str:
    return "\n".join(f"* {line}" for line in load_profile("default").cautions)

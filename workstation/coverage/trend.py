"""Several games of one trainee side by side: what gets better, rule by rule."""

from __future__ import annotations

from collections.abc import Iterable

import pandas as pd

from ..tagging.model import Heading
from .summary import Summary


def trend(games: Iterable[tuple[Heading, Summary]]) -> pd.DataFrame:
    """Return one row per game and rule, games by date: ``date``, ``game``, ``crew``, ``rule``,
    ``expected``, ``delivered``, ``missed``, ``overdone``, ``waived``, ``share_delivered`` (0 to 1;
    not a number where nothing was expected). Rule ``all`` is all of them together.

    Every game has a row for every rule that any of them has something to say about, so that a
    rule nobody broke shows as such.
    """
    games = _by_date(games)
    rules = list(dict.fromkeys(rule for _, summary in games for rule in summary.by_rule))
    rows = []
    for heading, summary in games:
        for rule in (*rules, "all"):
            tally = summary.tally(None if rule == "all" else rule)
            rows.append((heading.date, heading.title, heading.crew, rule, tally.expected, tally.delivered, tally.missed,
                         tally.overdone, tally.waived, tally.share))
    table = pd.DataFrame(rows, columns=["date", "game", "crew", "rule", "expected", "delivered", "missed", "overdone",
                                        "waived", "share_delivered"])
    table["share_delivered"] = table["share_delivered"].astype(float)
    return table


def viewing_trend(games: Iterable[tuple[Heading, Summary]]) -> pd.DataFrame:
    """Return one row per game, by date: ``date``, ``game``, ``crew``, ``snaps``, ``share_down_known``
    (0 to 1), ``surplus_seconds``, ``film_minutes``."""
    rows = [(heading.date, heading.title, heading.crew, summary.snaps, summary.share_known, summary.surplus_seconds,
             summary.film_seconds / 60) for heading, summary in _by_date(games)]
    table = pd.DataFrame(rows, columns=["date", "game", "crew", "snaps", "share_down_known", "surplus_seconds",
                                        "film_minutes"])
    table["share_down_known"] = table["share_down_known"].astype(float)
    return table


def _by_date(games: Iterable[tuple[Heading, Summary]]) -> list[tuple[Heading, Summary]]:
    return sorted(games, key=lambda game: (game[0].date, game[0].title))

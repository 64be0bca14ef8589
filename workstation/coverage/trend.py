"""Several games side by side: what gets better, practice by practice, crew by crew."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import pandas as pd

from ..tagging.model import Heading
from .practice import PracticeSession, Result
from .summary import Summary

Games = Iterable[tuple[Heading, Summary]]


def trend(games: Games) -> pd.DataFrame:
    """Return one row per game and rule, games by date, undated ones last: ``date``, ``game``, ``crew``, ``rule``,
    ``expected``, ``delivered``, ``missed``, ``overdone``, ``waived``, ``not_judged``, ``share_delivered`` (0 to 1;
    not a number where nothing was expected).

    Every game has a row for every rule that any of them has something to say about, so that a
    rule nobody broke shows as such. There is no row over all rules: routine would hide what is not done at all.
    """
    games = by_date(games)
    rules = list(dict.fromkeys(rule for _, summary in games for rule in summary.by_rule))
    rows = [(heading.date, heading.title, heading.crew, rule, tally.expected, tally.delivered, tally.missed,
             tally.overdone, tally.waived, tally.not_judged, tally.share)
            for heading, summary in games for rule in rules for tally in (summary.tally(rule),)]
    return _table(rows, "date game crew rule expected delivered missed overdone waived not_judged share_delivered",
                  "share_delivered")


def viewing_trend(games: Games) -> pd.DataFrame:
    """Return one row per game, by date: ``date``, ``game``, ``crew``, ``snaps``, ``share_down_known``
    (0 to 1), ``surplus_seconds``, ``film_minutes``."""
    rows = [(heading.date, heading.title, heading.crew, summary.snaps, summary.share_known, summary.surplus_seconds,
             summary.film_seconds / 60) for heading, summary in by_date(games)]
    return _table(rows, "date game crew snaps share_down_known surplus_seconds film_minutes", "share_down_known")


def camera_work_trend(games: Games) -> pd.DataFrame:
    """Return one row per game and measure of camera work, by date: ``date``, ``game``, ``crew``, ``measure``, ``unit``,
    ``typical`` and ``worst`` (in that unit; not a number where it was not measured)."""
    games = by_date(games)
    names = list(dict.fromkeys(row.measure.name for _, summary in games for row in summary.measured))
    rows = []
    for heading, summary in games:
        known = {row.measure.name: row for row in summary.measured}
        for name in names:
            row = known.get(name)
            values = (None if row is None or value is None else value * row.measure.scale
                      for value in ((row.typical, row.worst) if row else (None, None)))
            rows.append((heading.date, heading.title, heading.crew, name, row.measure.unit.strip() if row else "",
                         *values))
    return _table(rows, "date game crew measure unit typical worst", "typical worst")


def remark_trend(games: Games) -> pd.DataFrame:
    """One row per game and word that a mentor used: ``date``, ``game``, ``crew``, ``word``, ``praise``, ``count``."""
    games = by_date(games)
    words = list(dict.fromkeys((each.praise, each.word.casefold()) for _, summary in games for each in summary.remarks))
    rows = []
    for heading, summary in games:
        counts = {(each.praise, each.word.casefold()): each.count for each in summary.remarks}
        rows += [(heading.date, heading.title, heading.crew, word, praise, counts.get((praise, word), 0))
                 for praise, word in sorted(words)]
    return _table(rows, "date game crew word praise count")


def practice_trend(results: Iterable[tuple[Heading, PracticeSession, Result]]) -> pd.DataFrame:
    """Return one row per practice session and answer, by date of the session: ``date``, ``trainee``, ``game``,
    ``answer``, ``needed``, ``given``, ``missed``, ``too_many``, ``share_right`` (given of needed; not a number where
    nothing was)."""
    rows = [(session.date, session.trainee, heading.title, str(answer), tally.expected, tally.delivered, tally.missed,
             tally.overdone, tally.share)
            for heading, session, result in sorted(results, key=lambda each: (not each[1].date, each[1].date))
            for answer, tally in sorted(result.tallies.items())]
    return _table(rows, "date trainee game answer needed given missed too_many share_right", "share_right")


def _table(rows: Sequence[tuple[object, ...]], columns: str, may_lack: str = "") -> pd.DataFrame:
    """A table with numbers that may be missing in some of its columns."""
    return pd.DataFrame(rows, columns=columns.split()).astype(dict.fromkeys(may_lack.split(), float))


def by_date(games: Games) -> list[tuple[Heading, Summary]]:
    """The games by date; those without one come last."""
    return sorted(games, key=lambda game: (not game[0].date, game[0].date, game[0].title))


def by_crew(games: Games) -> dict[str, list[tuple[Heading, Summary]]]:
    """The games of each crew by itself, crews in the order of their first game; "" gathers those that name none.

    What one crew learns says nothing about another, so films of different crews are never counted together.
    """
    groups: dict[str, list[tuple[Heading, Summary]]] = {}
    for game in by_date(games):
        groups.setdefault(game[0].crew, []).append(game)
    return groups

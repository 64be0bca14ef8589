"""Sheets: every play with its situation, result, times and findings; tendencies with their counts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

import pandas as pd

from ..coverage.finding import Finding
from ..film.writing import written_whole
from ..football.field import spoken_spot
from ..football.rulebook import load_rulebook
from ..football.sheet import COLUMNS, write_rows
from ..football.speaking import spoken_situation
from ..football.step import Step
from ..season.definitions import derive
from ..tagging.layout import layout_of
from ..tagging.model import Game
from ..tagging.own_words.cells import write_cell
from ..tagging.own_words.following import known_words, names_known
from ..tagging.sheets import FORMULA_STARTS
from .segment import field_length

_ALWAYS = ("kind", "outcome", "gain", "fouls", "clock", "comment")      # columns that a reader looks for


def findings_by_play(findings: Iterable[Finding]) -> dict[int, list[str]]:
    """What was found about each play and not waived, by the play's id."""
    by_play: dict[int, list[str]] = {}
    for finding in findings:
        if finding.play is not None and not finding.waived:
            by_play.setdefault(finding.play, []).append(finding.title)
    return by_play


def plays_sheet(game: Game, steps: Sequence[Step], findings: Mapping[int, Iterable[str]] | None = None) -> pd.DataFrame:
    """One row per play: the situation it met, what was tagged, and what followed.

    What was tagged stands in the columns of the play sheet (resources/play_sheet.md), so that the sheet is
    read back as one; columns of it that no play needs are left out. The staff's own words have a column each, by their
    name, with what is known: said, carried on or following. Times are seconds of film time; ``findings`` are texts by
    play id.
    """
    film, rulebook = game.film, load_rulebook(game.heading.rulebook, game.heading.season)
    length = rulebook.field_length
    tagged = write_rows([tag.play for tag in game.plays], rulebook)
    needed = [name for name in COLUMNS if name in _ALWAYS or any(row[name] for row in tagged)]
    layout = layout_of(game)
    words = known_words(game, steps)
    named = names_known(game, words)
    rows = []
    for number, (tag, step, row, known) in enumerate(zip(game.plays, steps, tagged, words, strict=True), 1):
        before, play = step.before, tag.play
        filmed = layout.plays.get(tag.id)
        shot = layout.shots[filmed.shot.id] if filmed else None
        rows.append({
            "number": number,
            "period": before.period,
            "offense": game.heading.name_of(before.offense),
            "down": before.down,
            "yards_to_gain": None if before.yards_to_gain is None else round(before.yards_to_gain, 2),
            "ball_on": "" if before.ball_on is None else spoken_spot(before.ball_on, length),
            "situation": spoken_situation(before, length),
            **{name: str(row[name]) for name in needed},
            "gain": play.gain,                  # a number, for a spreadsheet
            **{name: write_cell(known.get(name)) for name in named},
            "result": step.result,
            "explanation": step.explanation,
            "choices": "; ".join(step.choices),
            "certainty": str(step.certainty),
            "score_home": step.after.score_home,
            "score_visitors": step.after.score_visitors,
            "series": before.series,
            "drive": before.drive,
            "filmed": filmed is not None,
            "source": film.source(filmed.shot.start.source).path.name if filmed else "",
            "shot_start": shot.start if shot else None,
            "shot_end": shot.end if shot else None,
            "snap": filmed.snap.time if filmed and filmed.snap else None,
            "dead_ball": filmed.dead_ball.time if filmed and filmed.dead_ball else None,
            "findings": "; ".join((findings or {}).get(tag.id, ())),
        })
    frame = pd.DataFrame(rows)
    if len(frame):
        frame["down"] = frame["down"].astype("Int64")
    return frame


def tendencies(game: Game, steps: Sequence[Step]) -> pd.DataFrame:
    """How often each kind of play was called, by offense, down, distance group and field zone, as these are defined
    where a staff says nothing else (:mod:`..season.definitions`).

    ``plays`` is the count behind each ``share`` (0 to 1) of the ``of`` plays in that situation.
    """
    length = field_length(game)
    rows = [{"offense": game.heading.name_of(step.before.offense), "down": step.before.down, "next": step.before.next,
             "yards_to_gain": step.before.yards_to_gain, "goal_to_go": step.before.goal_to_go,
             "ball_on": step.before.ball_on, "field_length": length, "kind": str(tag.play.kind),
             "first_down": step.first_down} for tag, step in zip(game.plays, steps, strict=True)
        if step.before.down is not None and step.before.yards_to_gain is not None and step.before.ball_on is not None
        and (tag.play.gain is not None or tag.play.outcome is not None)]
    columns = ["offense", "down", "distance", "zone", "kind", "plays", "of", "share", "first_downs"]
    if not rows:
        return pd.DataFrame(columns=columns)
    situation = ["offense", "down", "distance", "zone"]
    frame = derive(pd.DataFrame(rows), needed=frozenset({"distance", "zone"})).astype({"distance": str, "zone": str})
    table = frame.groupby([*situation, "kind"], as_index=False).agg(
        plays=("kind", "size"), first_downs=("first_down", "sum"))
    table["of"] = table.groupby(situation)["plays"].transform("sum")
    table["share"] = table["plays"] / table["of"]
    return table[columns]


def write_sheet(frame: pd.DataFrame, to: Path, title: str = "plays") -> Path:
    """Write CSV, XLSX or Parquet by the suffix of ``to``, beside it and renamed when complete; ``title`` names the
    sheet in XLSX.

    In CSV and XLSX a text cell that would start a formula gets a leading apostrophe.
    Raises ValueError for another suffix.
    """
    kind = to.suffix.lower()
    with written_whole(to) as temporary:
        if kind == ".parquet":
            frame.to_parquet(temporary, index=False)
        elif kind in (".csv", ".xlsx"):
            tame = frame.map(lambda cell: f"'{cell}" if isinstance(cell, str) and cell.startswith(FORMULA_STARTS)
                             else cell)
            if kind == ".csv":
                tame.to_csv(temporary, index=False, lineterminator="\n")
            else:
                tame.to_excel(temporary, index=False, sheet_name=title)
        else:
            raise ValueError(f"{to.name}: sheets are written as .csv, .xlsx or .parquet")
    return to

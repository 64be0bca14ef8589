"""The play sheet: one row of text cells per play.

``resources/play_sheet.md`` describes the columns for the people who write them. This module
turns rows into plays and back; it reads and writes no files. A row is a mapping from column
to cell, as :class:`csv.DictReader` yields and :class:`csv.DictWriter` takes.

>>> from .rulebook import load_rulebook
>>> book = load_rulebook("nfhs")
>>> row = {"kind": "run", "gain": "4", "fouls": "holding by offense at own 31", "shot": "12"}
>>> entry, = read_rows([row], book)
>>> entry.play.gain, entry.play.fouls[0].spot, entry.others
(4.0, 31.0, {'shot': '12'})
>>> write_rows([entry], book)[0]["fouls"]
'holding by offense at own 31'
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, fields, replace
from difflib import get_close_matches
from enum import StrEnum
from typing import Any, TypeVar

from .field import Team, parse_spot, spoken_spot, spoken_yards
from .notation import Custom, read
from .notation.custom import USUAL
from .overrides import apply_override
from .periods import opening
from .plays import (
    BallEvent,
    EnforcedAt,
    EventKind,
    Foul,
    FoulDecision,
    FoulTime,
    Outcome,
    Play,
    PlayKind,
    Score,
    Side,
    SituationOverride,
)
from .ranges import out_of_range
from .rulebook import Rulebook
from .situation import Next, Situation
from .speaking import spoken_clock
from .step import Step
from .tracker import track

SAID = {f"set_{entry.name}": entry.name for entry in fields(SituationOverride)}

Word = TypeVar("Word", bound=StrEnum)

COLUMNS = (
    "kind", "outcome", "gain", "kick_from", "kick_to", "spot", "possession", "events", "score", "fouls",
    "clock", "team", "choice", "stands_as", "manner", *SAID, "comment",
)
"""The columns that are read, in the order they are written. Any other column is kept as it is."""
LINE = "line"
"""The column that may hold the play as spoken, in place of all but ``clock``, ``comment`` and the ``set_`` columns."""
_BESIDE_LINE = ("clock", "comment", *SAID)
_OTHER_HEADINGS = {
    "kind": ("type", "play", "play type", "kind of play", "play kind", "category"),
    "outcome": ("result", "play result", "what happened"),
    "gain": ("yards", "yards gained", "gained", "gain loss", "yardage", "distance gained", "net"),
    "kick_to": ("kicked to", "kick spot", "landed"), "spot": ("end spot", "dead ball", "ended", "ball spot"),
    "score": ("scored", "points"), "fouls": ("foul", "penalty", "penalties", "flag", "flags"),
    "clock": ("time", "game clock", "time left"), "comment": ("comments", "note", "notes", "remark", "remarks"),
    "line": ("spoken", "call", "description", "text", "spoken line"), "events": ("event",), "possession": ("ball",),
}
_OTHER_WORDS = {
    "rush": "run", "running play": "run", "passing play": "pass", "throw": "pass", "fg": "field goal",
    "pat": "try kick", "extra point": "try kick", "xp": "try kick", "kick off": "kickoff", "ko": "kickoff",
    "kneel down": "kneel", "penalty": "no play", "two point run": "try run", "two point pass": "try pass",
    "quarter end": "end of period", "td": "touchdown", "caught": "complete", "completed": "complete",
    "dropped": "incomplete", "picked off": "intercepted", "int": "intercepted", "missed": "no good", "made it": "good",
    "oob": "out of bounds", "visitor": "visitors", "away": "visitors", "guest": "visitors",
}
"""Other names of the columns and words, for proposals (common practice, no source)."""


def near_heading(heading: str) -> str | None:
    """The column that a heading probably means, or None: ``type`` is ``kind``."""
    plain = " ".join(re.sub(r"[^a-z ]+", " ", heading.lower().replace("_", " ")).split())
    for column, others in _OTHER_HEADINGS.items():
        if plain in others:
            return column
    found = get_close_matches(plain.replace(" ", "_"), [*COLUMNS, LINE], 1, 0.8)
    return found[0] if found else None


@dataclass(frozen=True, slots=True)
class BadCell:
    """A cell that could not be understood. ``row`` counts as a spreadsheet does: 1 is the heading. ``proposal`` is what
    it probably means; empty if nothing is near."""

    row: int
    column: str
    cell: str
    problem: str
    proposal: str = ""

    def __str__(self) -> str:
        proposed = f"; is it {self.proposal!r}?" if self.proposal else ""
        return f"row {self.row}, column {self.column}: {self.problem}{proposed}"


class SheetError(ValueError):
    """One or more cells could not be understood; ``cells`` has all of them, the text says each in a line."""

    def __init__(self, cells: Iterable[BadCell]) -> None:
        self.cells = tuple(cells)
        super().__init__("\n".join(map(str, self.cells)))


@dataclass(frozen=True, slots=True)
class SheetRow:
    """A play and its cells of other columns. ``notes`` tell how a spoken line was read where that is not certain."""

    play: Play
    others: dict[str, str] = field(default_factory=dict)
    notes: tuple[str, ...] = ()


def read_rows(rows: Iterable[Mapping[str, str | None]], rulebook: Rulebook, first_row: int = 2, custom: Custom = USUAL
              ) -> list[SheetRow]:
    """Read the rows of a sheet; rows without any cell filled in are passed over.

    Headings may be written with capitals and spaces. Spots and fouls are those of *rulebook*. A row may say its play in
    the column ``line``, as it is spoken; *custom* is how the staff speaks.
    Raises SheetError with every bad cell of every row.
    """
    entries: list[SheetRow] = []
    bad: list[BadCell] = []
    so_far = _SoFar(rulebook)
    for number, row in enumerate(rows, first_row):
        cells, others = _sorted_cells(number, row, bad)
        if not any(cells.values()) and not any(others.values()):
            continue
        entry: SheetRow | None
        if cells[LINE]:
            entry = _spoken_row(number, cells, others, rulebook, so_far, custom, bad)
        else:
            play = _play(number, cells, rulebook, bad)
            entry = SheetRow(play, others) if play else None
        if entry is not None:
            entries.append(entry)
            so_far.plays.append(entry.play)
    if bad:
        raise SheetError(bad)
    return entries


class _SoFar:
    """The plays read so far and the situation after them, worked out when a spoken line asks for it."""

    def __init__(self, rulebook: Rulebook) -> None:
        self.rulebook = rulebook
        self.plays: list[Play] = []
        self._folded = 0
        self._last: Step | None = None

    def situation(self) -> Situation:
        steps = track(self.rulebook, self.plays[self._folded:], self._last)
        self._folded = len(self.plays)
        self._last = steps[-1] if steps else self._last
        return self._last.after if self._last is not None else opening(self.rulebook)


def _spoken_row(number: int, cells: dict[str, str], others: dict[str, str], rulebook: Rulebook, so_far: _SoFar,
                custom: Custom, bad: list[BadCell]) -> SheetRow | None:
    """A row whose ``line`` says the play, with what the ``set_`` columns, clock and comment say beside it."""
    line = cells[LINE]
    doubled = [name for name in COLUMNS if cells[name] and name not in _BESIDE_LINE]
    if doubled:
        bad.append(BadCell(number, LINE, line, f"says the play; leave {', '.join(doubled)} empty, or the line"))
        return None
    beside = _play(number, {**cells, "kind": PlayKind.RUN.value}, rulebook, bad)
    if beside is None:
        return None
    before = so_far.situation()
    if beside.override is not None:
        before, _ = apply_override(rulebook, before, beside.override)
    entry = read(line, before, rulebook, custom)
    if entry.problem is not None or entry.play is None:
        problem = entry.problem
        bad.append(BadCell(number, LINE, line, problem.text if problem is not None else "says nothing",
                           problem.near[0] if problem is not None and problem.near else ""))
        return None
    play, reading = entry.play, entry.readings[0]
    play = replace(play, clock=play.clock if play.clock is not None else beside.clock,
                   comment=play.comment or beside.comment, override=play.override or beside.override)
    if found := list(out_of_range(play)):
        bad += [BadCell(number, LINE, line, problem) for problem in found]
        return None
    notes = () if entry.is_certain else (f"read as {reading.text}", *reading.filled, *reading.doubts)
    return SheetRow(play, others, notes)


def write_rows(entries: Iterable[SheetRow | Play], rulebook: Rulebook) -> list[dict[str, str]]:
    """Write plays as rows that :func:`read_rows` reads back the same, spots to a hundredth of a yard.

    Every row has every column of :data:`COLUMNS`, then its other columns.
    """
    rows = []
    for entry in entries:
        play, others = (entry, {}) if isinstance(entry, Play) else (entry.play, entry.others)
        rows.append(_cells(play, rulebook) | others)
    return rows


def _sorted_cells(number: int, row: Mapping[str, str | None],
                  bad: list[BadCell]) -> tuple[dict[str, str], dict[str, str]]:
    """The cells of the sheet's own columns, stripped, and those of other columns, untouched."""
    cells: dict[str, str] = dict.fromkeys((*COLUMNS, LINE), "")
    others: dict[str, str] = {}
    for heading, cell in row.items():
        if not isinstance(heading, str):
            # csv.DictReader gathers cells beyond the last heading under None
            extra = ", ".join(map(str, cell or ()))
            bad.append(BadCell(number, "after the last", extra, f"{extra!r} is in no column; give it a heading"))
            continue
        name = re.sub(r"[\s_]+", "_", heading.strip().lower())
        if name in cells:
            cell = (cell or "").strip()
            if cell and cells[name]:
                bad.append(BadCell(number, name, cell, f"{cell!r} stands in a second column of this name; keep one"))
            cells[name] = cells[name] or cell
        else:
            others[heading] = cell or ""
    return cells, others


def _play(number: int, cells: dict[str, str], rulebook: Rulebook, bad: list[BadCell]) -> Play | None:
    before = len(bad)

    def read(column: str, reader: Callable[[str, Rulebook], Any]) -> Any:
        cell = cells[column]
        if not cell:
            return None
        try:
            return reader(cell, rulebook)
        except ValueError as error:
            bad.append(BadCell(number, column, cell, str(error), _near_cell(cell, reader, rulebook)))
            return None

    if not cells["kind"]:
        bad.append(BadCell(number, "kind", "", f"is empty; expected one of {', '.join(PlayKind)}"))
    said = {name: read(column, _SAID_READERS[name]) for column, name in SAID.items()}
    values = {column: value for column, reader in _READERS.items() if (value := read(column, reader)) is not None}
    if len(bad) > before:
        return None
    play = Play(**values, choice=cells["choice"] or None, comment=cells["comment"],
                manner=" ".join(cells["manner"].lower().split()), override=SituationOverride(**said))
    for problem in out_of_range(play):
        name = problem.partition(":")[0]
        column = name if name in cells else f"set_{name}" if f"set_{name}" in cells else "fouls"
        bad.append(BadCell(number, column, cells[column], problem))
    return play if len(bad) == before else None


def _near_cell(cell: str, reader: Callable[[str, Rulebook], Any], rulebook: Rulebook) -> str:
    """What a cell probably means: another word for a known one, or a number with a decimal comma."""
    plain = " ".join(cell.lower().replace("_", " ").replace("-", " ").split())
    for proposal in (_OTHER_WORDS.get(plain, ""), cell.replace(",", "."), cell.rstrip("."),
                     re.sub(r"\s*(yards?|yds?)$", "", cell)):
        if proposal and proposal != cell:
            try:
                reader(proposal, rulebook)
            except ValueError:
                continue
            return proposal
    return ""


def _cells(play: Play, rulebook: Rulebook) -> dict[str, str]:
    def spot(value: float) -> str:
        return spoken_spot(value, rulebook.field_length)

    def event(item: BallEvent) -> str:
        return item.kind + (f" at {spot(item.spot)}" if item.spot is not None else "") + (
            f" by {item.by}" if item.by else "")

    def foul(item: Foul) -> str:
        text = f"{item.name} by {item.by}" + (f" at {spot(item.spot)}" if item.spot is not None else "")
        parts = [text, *filter(None, (item.when, item.decision))]
        if item.yards is not None:
            parts.append(f"{spoken_yards(item.yards)} yards")
        if item.enforced_from is not None:
            parts.append(f"from {spot(item.enforced_from)}")
        if item.at is not None:
            parts.append(f"enforced at {item.at}")
        parts += [words for words, (name, value) in _FOUL_BY_HAND.items() if getattr(item, name) is value]
        return ", ".join(parts)

    def cell(column: str) -> str:
        value = getattr(play.override or SituationOverride(), SAID[column]) if column in SAID else getattr(play, column)
        if value is None:
            return ""
        if column in ("kick_from", "kick_to", "spot", "set_ball_on"):
            return spot(value)
        if column in ("events", "fouls"):
            return "; ".join(map(event if column == "events" else foul, value))
        if column == "clock":
            return spoken_clock(value)
        if isinstance(value, bool):
            return "yes" if value else "no"
        return spoken_yards(value) if column in ("gain", "set_yards_to_gain") else str(value)

    return {column: cell(column) for column in COLUMNS}


# Readers of one cell: ValueError says what would have been understood.

def _word(words: type[Word]) -> Callable[[str, Rulebook], Word]:
    def read(cell: str, rulebook: Rulebook) -> Word:
        word = " ".join(cell.lower().replace("_", " ").split())
        if word not in list(words):
            raise ValueError(f"{cell!r} is not known here; expected one of {', '.join(words)}")
        return words(word)

    return read


def _gain(cell: str, rulebook: Rulebook) -> float:
    yards = _number(cell, "a number of yards, such as 7, -3 or 0.5")
    longest = rulebook.field_length + 2 * rulebook.end_zone_depth
    if abs(yards) > longest:
        raise ValueError(f"{cell!r} is longer than the field ({spoken_yards(longest)} yards with both end zones)")
    return yards


def _number(cell: str, expected: str) -> float:
    try:
        value = float(cell)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise ValueError(f"{cell!r} is not {expected}")
    return round(value, 2)


def _whole(least: int, what: str) -> Callable[[str, Rulebook], int]:
    def read(cell: str, rulebook: Rulebook) -> int:
        if not cell.isascii() or not cell.isdigit() or len(cell) > 18 or int(cell) < least:
            raise ValueError(f"{cell!r} is not {what}")
        return int(cell)

    return read


def _down(cell: str, rulebook: Rulebook) -> int:
    what = f"a down; expected 1 to {rulebook.downs}"
    down = _whole(1, what)(cell, rulebook)
    if down > rulebook.downs:
        raise ValueError(f"{cell!r} is not {what}")
    return down


def _to_gain(cell: str, rulebook: Rulebook) -> float:
    yards = _number(cell, "a number of yards to gain, such as 10 or 0.5")
    if not 0 < yards <= rulebook.field_length:
        raise ValueError(f"{cell!r} is not a distance; expected more than 0, at most "
                         f"{spoken_yards(rulebook.field_length)}")
    return yards


def _spot(cell: str, rulebook: Rulebook) -> float:
    spot = round(parse_spot(cell, rulebook.field_length), 2)
    if not -rulebook.end_zone_depth <= spot <= rulebook.field_length + rulebook.end_zone_depth:
        raise ValueError(f"{cell!r} is behind the end line; the end zone is "
                         f"{spoken_yards(rulebook.end_zone_depth)} yards deep")
    return spot


def _clock(cell: str, rulebook: Rulebook) -> int:
    match = re.fullmatch(r"(\d{1,2}):([0-5]\d)", cell)
    if not match:
        raise ValueError(f"{cell!r} is not a time left in the period; expected minutes and seconds, such as 9:41")
    return int(match[1]) * 60 + int(match[2])


def _yes(cell: str, rulebook: Rulebook) -> bool:
    if cell.lower() not in ("yes", "no"):
        raise ValueError(f"{cell!r} is not known here; expected yes or no")
    return cell.lower() == "yes"


def _list(reader: Callable[[str, Rulebook], Any]) -> Callable[[str, Rulebook], tuple[Any, ...]]:
    def read(cell: str, rulebook: Rulebook) -> tuple[Any, ...]:
        return tuple(reader(part.strip(), rulebook) for part in cell.split(";") if part.strip())

    return read


_EVENT = re.compile(r"(?P<kind>.+?)(?: at (?P<spot>.+?))?(?: by (?P<by>\w+))?", re.IGNORECASE)


def _event(text: str, rulebook: Rulebook) -> BallEvent:
    match = _EVENT.fullmatch(text)
    if match is None:
        raise ValueError(f"{text!r} is not an event; say it like 'fumble at own 33'")
    return BallEvent(_word(EventKind)(match["kind"], rulebook),
                     _spot(match["spot"], rulebook) if match["spot"] else None,
                     _word(Side)(match["by"], rulebook) if match["by"] else None)


_FOUL_BY_HAND = {
    "automatic first down": ("automatic_first_down", True),
    "no automatic first down": ("automatic_first_down", False),
    "loss of down": ("loss_of_down", True),
    "no loss of down": ("loss_of_down", False),
    "ten-second runoff": ("runoff", True),
}
_FOUL = re.compile(r"(?P<name>.+) by (?P<by>\w+)(?: at (?P<spot>.+))?", re.IGNORECASE)


def _foul(text: str, rulebook: Rulebook) -> Foul:
    first, *details = (part.strip() for part in text.split(","))
    match = _FOUL.fullmatch(first)
    if not match:
        raise ValueError(f"{text!r} is not a foul; say it like 'holding by offense at own 31, declined'")
    by = _word(Side)(match["by"], rulebook)
    name = match["name"].strip().lower()
    _known(name, by, rulebook)
    values: dict[str, Any] = {}
    for detail in details:
        words = " ".join(detail.lower().split())
        if words in list(FoulTime):
            values["when"] = FoulTime(words)
        elif words in list(FoulDecision):
            values["decision"] = FoulDecision(words)
        elif words in _FOUL_BY_HAND:
            name_by_hand, value = _FOUL_BY_HAND[words]
            values[name_by_hand] = value
        elif words.startswith("enforced at "):
            values["at"] = _word(EnforcedAt)(words.removeprefix("enforced at "), rulebook)
        elif words.startswith("from "):
            values["enforced_from"] = _spot(words[5:], rulebook)
        elif yards := re.fullmatch(r"(\S+) yards?", words):
            values["yards"] = _number(yards[1], "a number of yards")
        else:
            raise ValueError(f"{detail!r} says nothing about a foul; expected when it happened "
                             f"({', '.join(FoulTime)}), what was decided ({', '.join(FoulDecision)}), "
                             f"'5 yards', 'from own 31', 'enforced at end of run', "
                             f"{', '.join(map(repr, _FOUL_BY_HAND))}")
    spot = _spot(match["spot"], rulebook) if match["spot"] else None
    return Foul(name=name, by=by, spot=spot, **values)


def _known(name: str, by: Side, rulebook: Rulebook) -> None:
    """Raises ValueError unless *by* can commit the foul. After a change of possession that includes the other side's
    fouls, except those before the snap."""
    try:
        rulebook.foul(name, by)
    except KeyError as error:
        try:
            if not rulebook.foul(name).kills_the_play:
                return
        except KeyError:
            pass
        raise ValueError(error.args[0]) from None


_READERS: dict[str, Callable[[str, Rulebook], Any]] = {
    "kind": _word(PlayKind), "outcome": _word(Outcome), "gain": _gain, "kick_from": _spot, "kick_to": _spot,
    "spot": _spot, "possession": _word(Side), "events": _list(_event), "score": _word(Score), "fouls": _list(_foul),
    "clock": _clock, "team": _word(Team), "stands_as": _word(PlayKind)}
_SAID_READERS: dict[str, Callable[[str, Rulebook], Any]] = {
    "offense": _word(Team),
    "down": _down,
    "yards_to_gain": _to_gain,
    "ball_on": _spot,
    "period": _whole(1, "a period; expected 1 or more, extra periods counted on"),
    "score_home": _whole(0, "a score; expected a whole number"),
    "score_visitors": _whole(0, "a score; expected a whole number"),
    "next": _word(Next),
    "timeouts_home": _whole(0, "a number of timeouts left; expected a whole number"),
    "timeouts_visitors": _whole(0, "a number of timeouts left; expected a whole number"),
    "second_half_kicker": _word(Team),
    "home_faces_right": _yes,
}

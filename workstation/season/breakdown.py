"""The breakdown: plays counted by whatever was tagged or follows from the rules, in rows and columns.

Pandas counts; what is counted are the facts (:mod:`.facts`) and what a staff derives from them (:mod:`.definitions`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from typing import Any

import numpy as np
import pandas as pd

from .definitions import DEFAULT, DERIVED, Definitions, derive
from .facts import COLUMNS, PASS, RUN
from .faults import DefinitionError
from .interval import wilson

NOT_SAID = "not said"       # how an empty value is spoken
Key = tuple[str, ...]
ALL: Key = ()               # the key of a total


class Plays(StrEnum):
    """Which plays a breakdown is about; plays that a penalty took away are left out."""

    CALLED = "runs and passes, without kneels and spikes"
    SCRIMMAGE = "runs and passes"
    KICKS = "kicks"
    ALL = "all plays"


@dataclass(frozen=True)
class Recipe:
    """What a breakdown shows. ``where`` keeps the plays whose value of a column is one of those named, as spoken;
    ``words`` must all occur in what was said about a play."""

    name: str = ""
    rows: tuple[str, ...] = ("down", "distance")
    columns: tuple[str, ...] = ()
    where: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    words: str = ""
    plays: Plays = Plays.CALLED
    definitions: Definitions = DEFAULT

    def as_json(self) -> dict[str, Any]:
        """The recipe as plain values."""
        return {"name": self.name, "rows": list(self.rows), "columns": list(self.columns),
                "where": {name: list(values) for name, values in self.where.items()}, "words": self.words,
                "plays": str(self.plays), "definitions": self.definitions.as_json()}

    @classmethod
    def of_json(cls, told: Mapping[str, Any]) -> Recipe:
        """Read what :meth:`as_json` wrote. Raises DefinitionError for anything else."""
        try:
            return cls(str(told["name"]), tuple(map(str, told["rows"])), tuple(map(str, told["columns"])),
                       {str(name): tuple(map(str, values)) for name, values in told["where"].items()},
                       str(told["words"]), Plays(told["plays"]), Definitions.of_json(told["definitions"]))
        except (KeyError, TypeError, ValueError, AttributeError) as error:
            raise DefinitionError(f"this is no breakdown: {error}") from None

    def spoken(self) -> str:
        """What is counted, in a sentence: ``runs and passes where down is 3``."""
        said = [str(self.plays)]
        said += [f"where {spoken_column(name)} is {' or '.join(values)}" for name, values in self.where.items()]
        if self.words.strip():
            said.append(f"saying “{self.words.strip()}”")
        return " ".join(said)


@dataclass(frozen=True)
class Share:
    """A share, ``hits`` of ``of``. ``few``: the least ``of`` from which it tells anything."""

    hits: int
    of: int
    few: int

    @property
    def value(self) -> float | None:
        """The share, 0 to 1; None if ``of`` is 0."""
        return self.hits / self.of if self.of else None

    @property
    def tells(self) -> bool:
        """Whether there are enough plays behind it."""
        return self.of >= self.few

    @property
    def interval(self) -> tuple[float, float]:
        """The range in which the share of many such plays would lie, 95 % of the time."""
        return wilson(self.hits, self.of)

    def spoken(self) -> str:
        """``45 %, 24 to 68``: the share with its range, in whole percent; a dash if ``of`` is 0."""
        if self.value is None:
            return "–"
        low, high = self.interval
        return f"{self.value:.0%}, {low * 100:.0f} to {high * 100:.0f}"


@dataclass(frozen=True)
class Cell:
    """The plays of a row and a column, or of a total. Gains are yards, None where no play had one."""

    count: int
    runs: int
    passes: int
    mean_gain: float | None
    median_gain: float | None
    successes: int
    explosives: int
    converted: int
    few: int

    @property
    def tells(self) -> bool:
        """Whether there are enough plays to say anything."""
        return self.count >= self.few

    @property
    def run(self) -> Share:
        """Runs among runs and passes."""
        return Share(self.runs, self.runs + self.passes, self.few)

    @property
    def passing(self) -> Share:
        """Passes among runs and passes."""
        return Share(self.passes, self.runs + self.passes, self.few)

    @property
    def success(self) -> Share:
        """Successes among runs and passes."""
        return Share(self.successes, self.runs + self.passes, self.few)

    @property
    def explosive(self) -> Share:
        """Explosive gains among runs and passes."""
        return Share(self.explosives, self.runs + self.passes, self.few)

    def spoken(self) -> str:
        """The cell in a sentence, for people who cannot see it."""
        if not self.count:
            return "no plays"
        said = [f"{self.count} play{'' if self.count == 1 else 's'}"]
        if self.runs + self.passes:
            said += [f"run {self.run.spoken()}", f"success {self.success.spoken()}",
                     f"explosive {self.explosive.spoken()}"]
        if self.mean_gain is not None:
            said.append(f"gain {self.mean_gain:.1f} on average, median {self.median_gain:g}")
        return "; ".join(said) + ("" if self.tells else "; too few to tell")


class Breakdown:
    """Plays counted. ``row_keys`` and ``column_keys`` are those that any play has, each the values of the columns of
    that side as spoken, in the columns' own order; ``()`` stands for all of a side."""

    def __init__(self, frame: pd.DataFrame, recipe: Recipe):
        """Count the plays of *frame*, facts of any games. Raises DefinitionError for a column that it does not have."""
        self.recipe = recipe
        self.frame = chosen(frame, recipe)
        self._rows, self._row_keys = self._coded(recipe.rows)
        self._columns, self._column_keys = self._coded(recipe.columns)
        self.row_keys = [self._row_keys[code] for code in np.unique(self._rows)] if recipe.rows else []
        self.column_keys = [self._column_keys[code] for code in np.unique(self._columns)] if recipe.columns else []

    def _coded(self, names: Sequence[str]) -> tuple[np.ndarray, list[Key]]:
        """A number for each play's values of these columns, and the values by number."""
        codes = np.zeros(len(self.frame), dtype=np.int64)
        keys: list[Key] = [ALL]
        for name in names:
            column, labels = coded(self.frame[name])
            codes = codes * len(labels) + column
            if len(keys) * len(labels) > 100_000:       # only values that occur: quicker where few of many do
                seen, codes = np.unique(codes, return_inverse=True)
                keys = [(*keys[code // len(labels)], labels[code % len(labels)]) for code in seen]
            else:
                keys = [(*key, label) for key in keys for label in labels]
        return codes, keys

    @cached_property
    def cells(self) -> dict[tuple[Key, Key], Cell]:
        """Every cell that has a play, and the totals of rows, columns and all."""
        counted = pd.DataFrame({
            "row": self._rows, "column": self._columns, "gain": self.frame["gain"].to_numpy("float64"),
            "run": (self.frame["run_pass_kick"] == RUN).to_numpy(bool),
            "pass": (self.frame["run_pass_kick"] == PASS).to_numpy(bool),
            **{name: self.frame[name].to_numpy(bool) for name in _COUNTED}})
        sides = [["row", "column"], ["row"], ["column"], []] if self.recipe.rows and self.recipe.columns else \
            [["row"], []] if self.recipe.rows else [["column"], []] if self.recipe.columns else [[]]
        found: dict[tuple[Key, Key], Cell] = {}
        for by in sides:
            grouped = counted.assign(all=0).groupby(by or ["all"], sort=False)
            summed = grouped.agg(count=("gain", "size"), runs=("run", "sum"), passes=("pass", "sum"),
                                 mean=("gain", "mean"), median=("gain", "median"), successes=("success", "sum"),
                                 explosives=("explosive", "sum"), converted=("converted", "sum")).reset_index()
            for one in summed.itertuples():
                row = self._row_keys[one.row] if "row" in by else ALL
                column = self._column_keys[one.column] if "column" in by else ALL
                found[row, column] = Cell(
                    int(one.count), int(one.runs), int(one.passes), _known(one.mean), _known(one.median),
                    int(one.successes), int(one.explosives), int(one.converted), self.recipe.definitions.few)
        return found

    def cell(self, row: Key = ALL, column: Key = ALL) -> Cell:
        """The cell of a row and a column, ``()`` for all; an empty one if no play is in it."""
        return self.cells.get((row, column)) or Cell(0, 0, 0, None, None, 0, 0, 0, self.recipe.definitions.few)

    def plays(self, row: Key = ALL, column: Key = ALL) -> pd.DataFrame:
        """The facts of the plays in a cell, in the order of the games and of their plays."""
        inside = np.ones(len(self.frame), dtype=bool)
        for key, codes, keys in ((row, self._rows, self._row_keys), (column, self._columns, self._column_keys)):
            if key != ALL:
                inside &= codes == (keys.index(key) if key in keys else -1)
        return self.frame[inside]


def chosen(frame: pd.DataFrame, recipe: Recipe) -> pd.DataFrame:
    """The plays of *frame* that a recipe is about, with the derived columns that it names or that are counted."""
    unknown = [name for name in (*recipe.rows, *recipe.columns, *recipe.where)
               if name not in frame.columns and name not in _DERIVED]
    if unknown:
        raise DefinitionError(f"there is no column {', '.join(unknown)}; there are "
                              f"{', '.join(sorted({*frame.columns, *_DERIVED} - _NOT_GROUPED))}")
    kept = _of_plays(frame, recipe.plays)
    derived = {name for name in recipe.where if name in _DERIVED}
    if derived:
        frame = derive(frame, recipe.definitions, frozenset(derived))
    for name, values in recipe.where.items():
        codes, labels = coded(frame[name])
        kept &= np.isin(codes, [place for place, label in enumerate(labels) if label in values])
    frame = frame[kept]
    for word in recipe.words.casefold().split():        # each word is sought only where the earlier ones were found
        frame = frame[frame["said"].str.contains(word, regex=False).to_numpy(bool)]
    return derive(frame, recipe.definitions, frozenset((*recipe.rows, *recipe.columns, *_COUNTED)))


_COUNTED = ("success", "explosive", "converted")
_DERIVED = frozenset(each.name for each in DERIVED)
_NOT_GROUPED = {each.name for each in COLUMNS if not each.groups}


def _of_plays(frame: pd.DataFrame, plays: Plays) -> np.ndarray:
    if plays is Plays.ALL:
        return np.ones(len(frame), dtype=bool)
    sort = frame["run_pass_kick"]
    if plays is Plays.KICKS:
        return np.asarray(sort == "kick", dtype=bool)
    kept = np.asarray(sort.isin((RUN, PASS)), dtype=bool)
    return kept & ~np.asarray(frame["clock_play"], dtype=bool) if plays is Plays.CALLED else kept


def coded(values: pd.Series) -> tuple[np.ndarray, list[str]]:
    """A number for each value, in the values' own order, what is missing last; and the values as spoken by number."""
    if values.dtype == bool:
        return values.to_numpy().astype(np.int64), ["no", "yes"]
    if not isinstance(values.dtype, pd.CategoricalDtype):
        values = values.astype("category")
    labels = [spoken_value(each) for each in values.cat.categories]
    codes = values.cat.codes.to_numpy().astype(np.int64)
    if "" in labels:        # an empty text means the same as a missing value
        codes = np.where(codes == labels.index(""), -1, codes)
    return np.where(codes < 0, len(labels), codes), [*labels, NOT_SAID]


def spoken_value(value: object) -> str:
    """A value as it stands in a table: ``3``, ``2.5``, ``yes``, ``trips right``."""
    if isinstance(value, bool | np.bool_):
        return "yes" if value else "no"
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value)


def spoken_column(name: str) -> str:
    """A column's name for people: ``run_pass_kick`` as ``run pass kick``, own words as the staff says them."""
    return name.removeprefix("word ").replace("_", " ")


def _known(value: float) -> float | None:
    return None if value != value else float(value)

"""What each staff may define for itself, and the columns that follow from it: distance groups, field zones, success.

All defaults are common practice, no source, unless a comment says otherwise.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import pandas as pd

from .facts import COLUMNS as FACTS
from .facts import OWN_WORD, PASS, RUN, Sort
from .faults import DefinitionError

Bools = np.ndarray[tuple[int], np.dtype[np.bool_]]
OURS, THEIRS = "ours", "theirs"


@dataclass(frozen=True)
class Definitions:
    """How plays are grouped and judged.

    ``distances``: the most yards to gain of each group, ascending; greater distances make the last group. ``zones``:
    yards from the own goal line at which a zone ends, on a field of 100 yards, ascending. ``success``: the share of the
    yards to gain that a play must gain, by down; later downs take the last. ``explosive_run``, ``explosive_pass``:
    yards from which on a gain is explosive. ``leads``: the most points of lead of each group, ascending. ``few``: the
    number of plays below which a share tells little. For 5 of 10 the Wilson interval is 24 to 76 %. ``us``: our own
    team's name, empty if nobody said.
    """

    distances: tuple[float, ...] = (3, 6, 10)
    zones: tuple[float, ...] = (10, 20, 50, 80, 90)
    success: tuple[float, ...] = (0.4, 0.6, 1.0)
    explosive_run: float = 12
    explosive_pass: float = 16
    leads: tuple[int, ...] = (-9, -1, 0, 8)
    few: int = 10
    us: str = ""

    def __post_init__(self) -> None:
        for name in ("distances", "zones", "leads"):
            limits = getattr(self, name)
            if not limits or list(limits) != sorted(set(limits)):
                raise DefinitionError(f"{name} must rise from one to the next; got {', '.join(map(str, limits))}")
        if not self.success or not all(0 < share <= 2 for share in self.success):
            raise DefinitionError("success must be shares of the distance by down, above 0 and at most 2")
        if self.few < 1 or self.explosive_run <= 0 or self.explosive_pass <= 0:
            raise DefinitionError("few and explosive gains must be above 0")

    def as_json(self) -> dict[str, Any]:
        """The definitions as plain values."""
        return {name: list(value) if isinstance(value, tuple) else value for name, value in vars(self).items()}

    @classmethod
    def of_json(cls, told: Mapping[str, Any]) -> Definitions:
        """Read what :meth:`as_json` wrote; raises DefinitionError for anything else."""
        known: dict[str, Any] = {name: told[name] for name in told if name in cls.__dataclass_fields__}
        if len(known) != len(told):
            raise DefinitionError(f"there is no definition of {', '.join(sorted(set(told) - set(known)))}")
        try:
            values: dict[str, Any] = {name: tuple(value) if isinstance(value, list) else value
                                      for name, value in known.items()}
            return cls(**values)
        except TypeError as error:
            raise DefinitionError(f"the definitions cannot be used: {error}") from None


DEFAULT = Definitions()


@dataclass(frozen=True)
class Derived:
    """A column that follows from facts and definitions. ``values`` gives a whole column; fields as in ``Column``."""

    name: str
    sort: Sort
    meaning: str
    follows: str
    values: Callable[[pd.DataFrame, Definitions], Any]
    unit: str = ""
    groups: bool = True


def distance_names(given: Definitions) -> list[str]:
    """The distance groups in order, the goal line last."""
    limits = given.distances
    return [f"up to {limits[0]:g}", *(f"over {least:g} to {most:g}" for least, most in pairwise(limits)),
            f"over {limits[-1]:g}", "goal"]


def zone_names(given: Definitions) -> list[str]:
    """The field zones from the own goal line on."""
    return [f"{_from_goal(start)} to {_from_goal(end)}" for start, end in pairwise([0.0, *given.zones, 100.0])]


def _from_goal(yards: float) -> str:
    if yards in (0, 100):
        return "own goal" if yards == 0 else "opp goal"
    return "50" if yards == 50 else f"own {yards:g}" if yards < 50 else f"opp {100 - yards:g}"


def lead_names(given: Definitions) -> list[str]:
    """The groups of score differences, from far behind to far ahead."""
    leasts = (None, *(limit + 1 for limit in given.leads))
    return [_lead(least, most) for least, most in zip(leasts, (*given.leads, None), strict=True)]


def _lead(least: int | None, most: int | None) -> str:
    if least == most:
        return "tied" if least == 0 else f"{'ahead' if (least or 0) > 0 else 'behind'} by {abs(least or 0)}"
    if least is None:
        assert most is not None
        return f"behind by {-most} or more" if most < 0 else f"ahead by {most} or less"
    if most is None:
        return f"ahead by {least} or more" if least > 0 else f"behind by {-least} or less"
    if most < 0:
        return f"behind by {-most} to {-least}"
    return f"ahead by {least} to {most}" if least > 0 else f"{least:+} to {most:+}"


def _grouped(values: pd.Series, limits: tuple[float, ...], names: list[str], right: bool = True) -> pd.Categorical:
    numbers = values.astype("float64").to_numpy()
    codes = np.searchsorted(np.array(limits), numbers, side="left" if right else "right").astype("int16")
    codes[np.isnan(numbers)] = -1
    return pd.Categorical.from_codes(codes, names)


def _distance(frame: pd.DataFrame, given: Definitions) -> pd.Categorical:
    names = distance_names(given)
    grouped = _grouped(frame["yards_to_gain"], given.distances, names)
    codes = grouped.codes.copy()
    codes[(frame["goal_to_go"] & (codes >= 0)).to_numpy(bool)] = len(names) - 1
    return pd.Categorical.from_codes(codes, names)


def _zone(frame: pd.DataFrame, given: Definitions) -> pd.Categorical:
    hundredths = frame["ball_on"] * 100 / frame["field_length"]
    return _grouped(hundredths.where(frame["next"] == "scrimmage"), given.zones, zone_names(given), right=False)


def _lead_of(frame: pd.DataFrame, given: Definitions) -> pd.Categorical:
    return _grouped(frame["score_difference"], given.leads, lead_names(given))


def _is_scrimmage(frame: pd.DataFrame) -> Bools:
    return _bools(frame["run_pass_kick"].isin((RUN, PASS)))


def _bools(values: Any) -> Bools:
    return np.asarray(values, dtype=np.bool_)


def _success(frame: pd.DataFrame, given: Definitions) -> Bools:
    """Whether a play gains its share of the distance, makes a first down without a penalty, or scores."""
    down = frame["down"].astype("float64").fillna(1).to_numpy()
    share = np.array(given.success)[np.clip(down - 1, 0, len(given.success) - 1).astype(int)]
    gained = frame["gain"].to_numpy("float64") >= share * frame["yards_to_gain"].to_numpy("float64") - 1e-9
    return _bools((gained | _bools(frame["touchdown"])) & _is_scrimmage(frame) & ~_bools(frame["turnover"]))


def _explosive(frame: pd.DataFrame, given: Definitions) -> Bools:
    gain, is_run = frame["gain"].to_numpy("float64"), (frame["run_pass_kick"] == RUN).to_numpy(bool)
    return _bools((gain >= np.where(is_run, given.explosive_run, given.explosive_pass)) & _is_scrimmage(frame))


def _converted(frame: pd.DataFrame, given: Definitions) -> Bools:
    by_play = (frame["gain"].to_numpy("float64") >= frame["yards_to_gain"].to_numpy("float64") - 1e-6) \
        | ~frame["penalty_on"].isin(("defense", "both")).to_numpy(bool)
    made = (frame["first_down"].to_numpy(bool) & by_play) | frame["touchdown"].to_numpy(bool)
    return _bools(made & _is_scrimmage(frame))


def _ball(frame: pd.DataFrame, given: Definitions) -> pd.Categorical:
    codes = np.where(frame["offense"] == given.us, 0, np.where(frame["defense"] == given.us, 1, -1))
    return pd.Categorical.from_codes(codes if given.us else np.full(len(frame), -1), [OURS, THEIRS])


def _opponent(frame: pd.DataFrame, given: Definitions) -> pd.Series:
    """Our team's opponent; empty where no team is named as ours or it does not play."""
    home, visitors = frame["home"].astype("str"), frame["visitors"].astype("str")
    if not given.us:
        return pd.Series("", index=frame.index, dtype="str")
    return visitors.where(home == given.us, home.where(visitors == given.us, ""))


DERIVED: tuple[Derived, ...] = (
    Derived("distance", Sort.WORDS, "yards to gain in groups, goal to go by itself", "yards_to_gain, distances",
            _distance),
    Derived("zone", Sort.WORDS, "where the ball is snapped, in zones of the field", "ball_on, zones", _zone),
    Derived("lead", Sort.WORDS, "the score from the offense's side, in groups", "score_difference, leads", _lead_of),
    Derived("success", Sort.YES_NO, "it gained its share of the distance by down, or scored, and kept the ball",
            "gain, down, yards_to_gain, success", _success),
    Derived("explosive", Sort.YES_NO, "it gained so much that one such play changes a drive",
            "gain, explosive_run, explosive_pass", _explosive),
    Derived("converted", Sort.YES_NO, "a run or pass that made a first down or a touchdown by itself, not by a penalty",
            "first_down, touchdown, gain, penalty_on",
            _converted),
    Derived("ball", Sort.WORDS, "whose ball: ours or theirs", "offense, us", _ball),
    Derived("opponent", Sort.WORDS, "the team we met", "home, visitors, us", _opponent),
)


def derive(frame: pd.DataFrame, given: Definitions = DEFAULT, needed: frozenset[str] | None = None) -> pd.DataFrame:
    """*frame* of facts with the derived columns (or only those *needed*) beside them; the facts are not copied."""
    made = {each.name: each.values(frame, given) for each in DERIVED if needed is None or each.name in needed}
    return frame.assign(**made)


_ASKED_FIRST = ("down", "distance", "zone", "ball", "opponent", "quarter", "last_two_minutes", "lead", "run_pass_kick",
                "kind", "manner", "result", "success")


def meanings(own_words: Mapping[str, str] | None = None) -> dict[str, str]:
    """What every column that plays can be grouped by means, by its name: what coaches ask first, then own words (name
    to meaning), then the rest."""
    known = {each.name: each.meaning for each in FACTS if each.groups}
    known |= {each.name: each.meaning for each in DERIVED if each.groups}
    own = {OWN_WORD + name: meaning for name, meaning in (own_words or {}).items()}
    return {**{name: known[name] for name in _ASKED_FIRST}, **own, **known}

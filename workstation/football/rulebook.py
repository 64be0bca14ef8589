"""Rulebooks as data: what differs between codes and seasons, each value with its rule and article.

The files in ``resources/rulebooks`` hold the values; the tracker holds the mechanisms that
they select. A value is written with the article it comes from::

    downs = { value = 4, rule = "5-1-1" }

Later seasons are ``[[edition]]`` tables that hold only what changed. A rulebook that ``extends`` another holds only how
it differs.
"""

from __future__ import annotations

import tomllib
from dataclasses import MISSING, dataclass, field, fields
from enum import StrEnum
from functools import lru_cache
from importlib import resources
from importlib.resources.abc import Traversable
from operator import itemgetter
from types import NoneType
from typing import Any, get_args, get_type_hints

from ..ranges import Range, shown
from . import ranges
from .fouls import FoulRule
from .plays import Side


class RulebookError(ValueError):
    """A rulebook is missing or its data cannot be used; the text names file, key and what is expected."""


class MissedFieldGoal(StrEnum):
    """Where the other team puts the ball in play after an untouched missed field goal."""

    AS_A_PUNT = "as a punt"            # where it is downed; a touchback once it crosses the goal line
    PREVIOUS_SPOT = "previous spot"    # but no nearer the goal line than ``missed_field_goal_least``
    SPOT_OF_KICK = "spot of kick"      # but no nearer the goal line than ``missed_field_goal_least``
    RETURNED = "returned"              # live until returned, downed or dead in goal for a single point


class Overtime(StrEnum):
    """How a tied game goes on."""

    NONE = "none"
    SERIES = "series"                  # each team a series from ``overtime_spot``; compare; again
    SUDDEN_DEATH = "sudden death"      # a kickoff; the first score wins
    BOTH_POSSESS = "both possess"      # a kickoff; each team may have the ball once, then sudden death


class LineSpot(StrEnum):
    """The basic spot for a foul by the offense behind the line of scrimmage, or for a run that ends there."""

    PREVIOUS_SPOT = "previous spot"
    SPOT_OF_FOUL = "spot of foul"
    END_OF_RUN = "end of run"
    END_OF_RUN_IF_PERSONAL = "end of run if personal"  # previous spot for all but personal and conduct fouls


class AddedToRun(StrEnum):
    """On which plays a personal foul of the defense is measured from the end of the last run, if the ball was kept."""

    NO = "no"                          # from the run that it was committed in
    ON_PASSES = "on passes"            # completed ones
    ALWAYS = "always"


class ForwardFumble(StrEnum):
    """Where a fumble is next put in play that goes forward and out of bounds between the goal lines."""

    SPOT_OF_FUMBLE = "spot of fumble"
    OUT_OF_BOUNDS_SPOT = "out of bounds spot"


@dataclass(frozen=True, slots=True)
class Rulebook:
    """One code of rules for one season.

    Distances in yards, spots in yards from the goal line of the team named, lengths of time in
    minutes. An optional value is None where the code has no such thing.
    ``rules`` gives the article for every value by its field name.
    """

    name: str
    title: str
    season: int                              # asked for; may be later than the newest edition known
    newest_season: int                       # the last season whose changes the data has
    source: str                              # the books the articles are of

    # The game
    players: int                             # on a side
    periods: int
    period_minutes: int
    downs: int
    yards_to_gain: float
    field_length: float                      # goal line to goal line
    end_zone_depth: float
    snap_least_from_goal: float              # a ball dead nearer to either goal line is brought out so far
    timeouts: int                            # each team, each half
    toss_may_defer: bool

    # Free kicks
    kickoff_spot: float                      # from the kicking team's goal line
    kickoff_touchback_spot: float            # from the receiving team's goal line
    kickoff_touchback_after_landing_spot: float | None  # if it first touched the field of play; None: the same
    kickoff_fair_catch_spot: float | None    # a fair catch behind this line comes out to it; None: at the catch
    kickoff_fair_catch: bool
    kickoff_out_of_bounds_beyond: float      # receivers may take it so far beyond the kicking spot
    safety_free_kick_out_of_bounds_beyond: float  # the same for the free kick after a safety
    kickoff_out_of_bounds_foul_yards: float | None  # or a rekick / from where it went out; None: not a choice
    kickoff_landing_zone: float | None       # it must come down so near the receivers' goal line; None: anywhere
    kickoff_travel: float                    # yards before the kickers may recover
    safety_free_kick_spot: float             # from the goal line of the team that was scored upon
    safety_free_kick_touchback_spot: float
    kickoff_by_scoring_team: bool            # False: the team scored upon chooses (it usually receives)
    field_goal_scrimmage_spot: float | None  # where it may snap after a field goal instead; None: no such choice

    # Scrimmage kicks
    touchback_spot: float                    # from the goal line: punts, fumbles, interceptions
    kick_dead_at_goal_line: bool             # a kick across the receivers' goal line is dead at once
    missed_field_goal: MissedFieldGoal
    missed_field_goal_least: float           # from the goal line
    onside_players: bool                     # onside players may recover any untouched kick and advance it
    fair_catch: bool                         # the code has the fair catch at all
    fair_catch_kick: bool                    # and the free kick for goal after one
    single_point: int                        # for a kick dead in the opponents' end zone; 0: none
    single_point_next_spot: float | None     # where the team scored upon then snaps, from its goal line

    # Scores and tries
    touchdown_points: int
    field_goal_points: int
    safety_points: int
    try_spot_kick: float                     # from the opponents' goal line
    try_spot_run: float
    try_kick_points: int
    try_run_points: int
    try_return_points: int                   # by the defense; 0: the ball is dead when it gets it
    try_safety_points: int

    # Overtime
    overtime: Overtime
    overtime_spot: float | None              # series start so far from the opponents' goal line
    overtime_minutes: int | None             # None: untimed
    overtime_periods: int | None             # None: until someone wins
    overtime_timeouts: int                   # each team: each series pair, or in the extra period
    overtime_timeouts_last_from: int | None  # from this extra period on none are added; None: always
    overtime_first_touchdown_wins: bool      # both possess: a touchdown on the first possession ends it
    overtime_defense_scores: bool            # series: the defense may run a turnover back for a score
    overtime_two_point_from: int | None      # the extra period from which tries must be run or passed
    overtime_only_tries_from: int | None     # the extra period from which two-point tries alone are played

    # Fumbles
    forward_fumble_out_of_bounds: ForwardFumble
    fourth_down_fumbler_only: bool           # on last down only the fumbler may gain by his team's fumble
    fumble_limits_in_last_minutes: float | None  # the same on every down so late in each half

    # Enforcement
    offense_foul_behind_line: LineSpot
    run_ending_behind_line: LineSpot         # basic spot of a run that ends there: previous spot or end of run
    post_scrimmage_kick_beyond: float | None  # only fouls so far beyond the line are; None: anywhere
    carry_over_personal_only: bool           # only personal and conduct fouls carry over
    interference_in_end_zone_spot: float     # from the goal line, first down; 0: no such spot
    personal_foul_added_to_run: AddedToRun   # the defense's personal fouls: from where the last run ended
    field_goal_foul_carries: bool            # the defense's foul on a good field goal may be marked off on the kickoff
    run_within_end_zone_is_touchback: bool   # fouled and fumbled in the end zone where he gained it: touchback spot
    five_against_fifteen: bool               # a plain foul of five yards does not offset one of fifteen
    offset_after_change_keeps: bool          # fouls of both after a change of possession: the ball stays where it is
    declined_after_change: bool              # on tries and in extra periods penalties for fouls after a change are
    personal_carries_in_series: bool         # but those for personal fouls in an extra period are marked off later
    runoff_seconds: int | None               # taken off the clock with a foul late in a half; None: not in this code
    illegal_pass_falls_at_its_spot: bool     # an incomplete illegal pass, declined: next down from where it was thrown

    fouls: dict[str, FoulRule] = field(repr=False, compare=False)
    rules: dict[str, str] = field(repr=False, compare=False)

    def foul(self, name: str, by: Side | None = None) -> FoulRule:
        """The rule of a foul by its key or another name of it, however capitalised.

        A name that two fouls share ("illegal use of hands") is the one that *by* can commit.
        KeyError if the code has no such foul.
        """
        wanted = name.strip().lower()
        found = [rule for rule in self.fouls.values() if rule.name == wanted or wanted in rule.also]
        for rule in found:
            if by is None or rule.by is None or rule.by is by:
                return rule
        raise KeyError(f"{self.title} has no foul called {name!r}" + (f" by the {by}" if found else ""))


FOLDER = resources.files("workstation.resources") / "rulebooks"


def rulebook_names() -> tuple[str, ...]:
    """The names of the rulebooks there are, in alphabetical order."""
    return tuple(sorted(file.name[:-5] for file in FOLDER.iterdir() if file.name.endswith(".toml")))


@lru_cache(maxsize=64)
def load_rulebook(name: str, season: int | None = None) -> Rulebook:
    """Return the rulebook of that name as it stood in *season* (None: the newest).

    Raises RulebookError if there is none of that name, if it has no edition for so early a
    season, or if its data is damaged.
    """
    if name not in rulebook_names():
        raise RulebookError(f"there is no rulebook {name!r}; there are {', '.join(rulebook_names())}")
    return read_rulebook(FOLDER / f"{name}.toml", season)


def read_rulebook(file: Traversable, season: int | None = None) -> Rulebook:
    """Read one rulebook file, also one of your own that extends another. Errors as :func:`load_rulebook`."""
    layers = _layers(file)
    first = max(layer["first_season"] for _, layer in layers)
    newest = layers[-1][1]["newest_season"]
    if season is not None and season < first:
        raise RulebookError(f"{file.name}: the data begins with season {first}; {season} is not in it")
    season = newest if season is None else season

    values: dict[str, tuple[str, Any]] = {}
    fouls: dict[str, tuple[str, dict[str, Any]]] = {}
    spot_rules: dict[str, str] = {}
    for name, layer in layers:
        spot_rules |= layer.get("spot_rules", {})
        editions = sorted(layer.get("edition", ()), key=itemgetter("from"))
        for table in (layer, *(edition for edition in editions if edition["from"] <= season)):
            for key, value in table.get("values", {}).items():
                values[key] = (name, value)
            for key, value in table.get("fouls", {}).items():
                where = f"{name}: fouls.{key}"
                if not isinstance(value, dict):
                    raise RulebookError(f"{where} is {value!r}; expected a table of the foul's rule")
                fouls[key] = (where, {**fouls.get(key, ("", {}))[1], **value})
            for key in table.get("no_fouls", ()):
                fouls.pop(key, None)

    head = layers[-1][1]
    known, rules = _values(file.name, values)
    return Rulebook(name=file.name.removesuffix(".toml"), title=head["title"], season=season, newest_season=newest,
                    source=head["source"], **known,
                    fouls={key: _foul(where, key, table, spot_rules) for key, (where, table) in fouls.items()},
                    rules=rules)


_HEAD = {"title": str, "source": str, "first_season": int, "newest_season": int}


def _layers(file: Traversable) -> list[tuple[str, dict[str, Any]]]:
    """The file's tables, those of the rulebooks it extends first."""
    try:
        data = tomllib.loads(file.read_text(encoding="utf-8"))
    except FileNotFoundError:
        raise RulebookError(f"{file.name}: there is no such rulebook file") from None
    except OSError as error:
        raise RulebookError(f"{file.name}: the rulebook cannot be read: {error.strerror or error}") from None
    except (ValueError, RecursionError) as error:       # not TOML, not text, a number of thousands of digits
        raise RulebookError(f"{file.name}: not a readable TOML file: {error}") from error
    for key, kind in _HEAD.items():
        _check(f"{file.name}: {key}", data.get(key), kind, _KINDS[kind])
    _check_tables(file.name, "", data, {*_HEAD, "extends", "spot_rules", "edition"})
    _check(f"{file.name}: edition", data.get("edition", []), list, "one or more [[edition]] tables")
    for number, edition in enumerate(data.get("edition", ()), 1):
        where = f"edition {number}."
        _check(f"{file.name}: edition {number}", edition, dict, "a table")
        _check(f"{file.name}: {where}from", edition.get("from"), int, "a season, such as 2015")
        _check_tables(file.name, where, edition, {"from"})
    layers = [(file.name, data)]
    if "extends" in data:
        parent = _check(f"{file.name}: extends", data["extends"], str, "the name of a rulebook")
        if f"{parent}.toml" == file.name:
            raise RulebookError(f"{file.name}: extends is {parent!r}; expected another rulebook than itself")
        layers = _layers(FOLDER / f"{parent}.toml") + layers
    return layers


def _check_tables(file: str, where: str, table: dict[str, Any], others: set[str]) -> None:
    """The tables that a rulebook and each of its editions may have, and no other keys than *others*."""
    for key, kind in {"values": dict, "fouls": dict, "spot_rules": dict, "no_fouls": list}.items():
        if key in table:
            _check(f"{file}: {where}{key}", table[key], kind, "a table" if kind is dict else "a list of fouls")
    allowed = others | {"values", "fouls", "no_fouls"}
    if unknown := sorted(table.keys() - allowed):
        raise RulebookError(f"{file}: {where}{unknown[0]}: no such key; expected one of {', '.join(sorted(allowed))}")


def _check(where: str, value: Any, kind: type, expected: str) -> Any:
    if type(value) is not kind:
        raise RulebookError(f"{where} is {_told(value)}; expected {expected}")
    if kind is int:
        _within(where, value, ranges.SEASON)
    return value


_KINDS = {int: "a whole number", float: "a number", bool: "true or false", str: "text"}


def _typed(where: str, value: Any, wanted: Any) -> Any:
    """Return *value* as the type a field wants; "none" stands for None where the field allows it."""
    options = get_args(wanted) or (wanted,)
    kind = next(option for option in options if option is not NoneType)
    expected = _KINDS.get(kind) or "one of " + ", ".join(kind)
    if NoneType in options:
        expected += ' or "none"'
        if value == "none":
            return None
    if isinstance(kind, type) and issubclass(kind, StrEnum):
        if value in list(kind):
            return kind(value)
    elif kind is float and type(value) in (int, float):
        return float(value) if abs(value) < ranges.LARGEST else value
    elif type(value) is kind:
        return value
    raise RulebookError(f"{where} is {_told(value)}; expected {expected}")


def _told(value: Any) -> str:
    return shown(value) if type(value) is int else f"{value!r:.200}"


def _within(where: str, value: Any, allowed: Range) -> None:
    if isinstance(value, (int, float)) and not isinstance(value, bool) and value not in allowed:
        raise RulebookError(f"{where} is {shown(value)}; expected {allowed}")


def _values(file: str, values: dict[str, tuple[str, Any]]) -> tuple[dict[str, Any], dict[str, str]]:
    hints = get_type_hints(Rulebook)
    wanted = [entry.name for entry in fields(Rulebook) if entry.name not in _NOT_VALUES]
    if unknown := [key for key in values if key not in wanted]:
        raise RulebookError(f"{values[unknown[0]][0]}: values.{unknown[0]}: no such value; "
                            f"expected one of {', '.join(wanted)}")
    known, rules = {}, {}
    for key in wanted:
        if key not in values:
            raise RulebookError(f"{file}: values.{key} is missing; expected {{ value = ..., rule = \"...\" }}")
        name, entry = values[key]
        where = f"{name}: values.{key}"
        if not isinstance(entry, dict) or entry.keys() != {"value", "rule"}:
            raise RulebookError(f"{where} is {entry!r}; expected {{ value = ..., rule = \"...\" }}")
        known[key] = _typed(f"{where}.value", entry["value"], hints[key])
        _within(f"{where}.value", known[key], ranges.RULEBOOK.get(key, ranges.YARDS))
        rules[key] = _typed(f"{where}.rule", entry["rule"], str)
    for key, value in known.items():
        if "spot" in key and isinstance(value, float) and value >= known["field_length"]:
            raise RulebookError(f"{file}: values.{key}.value is {shown(value)}; expected less than the field's length")
    if known["overtime"] is Overtime.SERIES and known["overtime_spot"] is None:
        raise RulebookError(f"{file}: values.overtime_spot.value is \"none\"; expected a spot, for overtime is series")
    return known, rules


_NOT_VALUES = {"name", "title", "season", "newest_season", "source", "fouls", "rules"}


_FOUL_HINTS = get_type_hints(FoulRule)


def _foul(where: str, name: str, table: dict[str, Any], spot_rules: dict[str, str]) -> FoulRule:
    wanted = {entry.name: entry for entry in fields(FoulRule) if entry.name != "name"}
    if unknown := [key for key in table if key not in wanted]:
        raise RulebookError(f"{where}.{unknown[0]}: no such key; expected one of {', '.join(wanted)}")
    if table.get("enforcement") in spot_rules:
        table = {"spot_rule": spot_rules[table["enforcement"]], **table}
    known: dict[str, Any] = {}
    for key, entry in wanted.items():
        if key in table:
            if key == "also":
                known[key] = _names(f"{where}.also", table[key])
            else:
                known[key] = _typed(f"{where}.{key}", table[key], _FOUL_HINTS[key])
                _within(f"{where}.{key}", known[key], ranges.YARDS)
        elif entry.default is MISSING:
            raise RulebookError(f"{where}.{key} is missing; expected it beside the foul's other values")
    return FoulRule(name=name, **known)


def _names(where: str, value: Any) -> tuple[str, ...]:
    if not isinstance(value, list) or not all(type(item) is str and item == item.lower() for item in value):
        raise RulebookError(f"{where} is {value!r}; expected a list of names in lower case")
    return tuple(value)

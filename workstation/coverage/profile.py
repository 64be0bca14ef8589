"""Crew profiles: what a crew, or the coach it films for, expects of the footage.

A profile is a TOML file. ``based_on`` names the profile it changes, so a coach's wishes lie on the crew's and the
crew's on the default: only what differs is written down. ``[viewer]`` holds the viewer's assumptions, ``[decisive]``
which downs are decisive, ``[rules.<name>]`` the settings of one rule, ``[weights]`` what a finding of each severity
weighs when habits are ranked, ``cautions`` what to mind while filming, ``[remarks]`` the crew's own words for what no
rule sees, each with the advice that goes with it, ``praise`` its words for what was done well; ``dropped`` names
remarks of the profile below that the crew does without.
"""

from __future__ import annotations

import tomllib
import types
import typing
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import MISSING, dataclass, field, fields
from enum import StrEnum
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from platformdirs import user_config_path

from ..definition_files import UnreadableDefinition, definition_names, definition_text, delivered
from ..ranges import shown
from .decisive import Decisive
from .finding import Severity
from .ranges import DEEPEST, range_of
from .rule import Rule
from .rules import rule_class, rule_names
from .viewer import Assumptions

_DELIVERED = "profiles",
_TOP = {"title", "based_on", "viewer", "decisive", "rules", "weights", "cautions", "remarks", "praise", "dropped",
        "suggestions"}


class ProfileError(ValueError):
    """A profile that cannot be used; one line says which, what and what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggesting:
    """What the program may suggest: moments with a confidence of ``least_confidence`` or more. A confidence is the
    share of such suggestions that are right."""

    least_confidence: float = 0.4


_PARTS: dict[str, Any] = {"viewer": Assumptions, "decisive": Decisive, "suggestions": Suggesting}


@dataclass(frozen=True)
class Profile:
    """Everything a crew expects. ``rules`` holds the rules in the order of the profile, also those
    that are not ``enabled``; ``cautions`` are lines for people, about keeping everyone safe;
    ``remarks`` gives each of the crew's words its advice (a word with an empty advice has none)."""

    name: str
    title: str
    viewer: Assumptions
    decisive: Decisive
    rules: tuple[Rule, ...]
    weights: Mapping[Severity, float]
    cautions: tuple[str, ...] = ()
    remarks: Mapping[str, str] = field(default_factory=dict)
    praise: tuple[str, ...] = ()
    suggestions: Suggesting = Suggesting()

    def rule(self, name: str) -> Rule:
        """The rule of that name (``marker shot expected``); KeyError if the profile has none."""
        for rule in self.rules:
            if rule.name == name:
                return rule
        raise KeyError(name)


def user_profile_folder() -> Path:
    """Where a person's own profiles lie; it need not exist."""
    return user_config_path("film-workstation") / "profiles"


def profile_names(folders: Sequence[Path] | None = None) -> list[str]:
    """Names of the profiles that can be loaded: those in *folders* and those that come with the program."""
    return definition_names(_folders(folders), delivered(*_DELIVERED))


def load_profile(profile: str | Path = "default", folders: Sequence[Path] | None = None) -> Profile:
    """Load a profile by name, or a TOML file by its path.

    Names are looked for in *folders* (the user's own unless given), then among those that come with the program; a
    file's ``based_on`` is looked for beside the file first. Raises :class:`ProfileError`.
    """
    table, name = _layered(profile, _folders(folders), ())
    return _build(name, table)


def _folders(folders: Sequence[Path] | None) -> tuple[Path, ...]:
    return (user_profile_folder(),) if folders is None else tuple(folders)


# -- reading ---------------------------------------------------------------------------------------------------------


def _layered(profile: str | Path, folders: tuple[Path, ...], above: tuple[str, ...]) -> tuple[dict[str, Any], str]:
    """Read a profile and lay it on the one it is based on."""
    name, where, text, beside = _find(profile, folders)
    if len(above) > DEEPEST:
        raise ProfileError(f"profile {name!r}: more than {DEEPEST} profiles are based on one another; base it on a "
                           "nearer one")
    if where in above:
        raise ProfileError(f"profile {name!r}: 'based_on' leads in a circle: {' -> '.join([*above, where])}")
    table = dict(parsed(text, where, "profile"))
    base, dropped = table.pop("based_on", None), _texts(table.pop("dropped", []), f"{where}: 'dropped'")
    table = _checked(table, where)
    if base is None:
        return table, name
    if not isinstance(base, str):
        raise ProfileError(f"{where}: 'based_on' must name a profile, not {base!r}")
    below, _ = _layered(base, ((beside,) if beside else ()) + folders, (*above, where))
    below["remarks"] = {word: advice for word, advice in below.get("remarks", {}).items() if word not in dropped}
    return _laid_on(below, table), name


@lru_cache(maxsize=16)
def parsed(text: str, where: str, what: str) -> dict[str, Any]:
    """The tables of a profile's or policy's text, cached for the next check: not to be changed. Raises ProfileError."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise ProfileError(f"{where}: this is not valid TOML: {error}") from None
    except ValueError as error:         # a number with thousands of digits raises a plain ValueError
        raise ProfileError(f"{where}: this is not a {what}: {error}") from None
    except RecursionError:
        raise ProfileError(f"{where}: this is not a {what}: its lists or tables lie too deep in each other") from None


def _find(profile: str | Path, folders: tuple[Path, ...]) -> tuple[str, str, str, Path | None]:
    """Name, place, text and folder of a profile."""
    path = Path(profile)
    if isinstance(profile, Path) or path.suffix == ".toml":
        return path.stem, str(path), _text(path), path.parent
    for folder in folders:
        path = folder / f"{profile}.toml"
        if path.is_file():
            return profile, str(path), _text(path), folder
    shipped = delivered(*_DELIVERED) / f"{profile}.toml"
    if shipped.is_file():
        return profile, f"{profile}.toml", shipped.read_text(encoding="utf-8"), None
    raise ProfileError(f"there is no profile {profile!r}; known: {_listed(profile_names(folders))}. "
                       f"Your own belong in {folders[0] if folders else user_profile_folder()}")


def _text(path: Path) -> str:
    try:
        return definition_text(path)
    except UnreadableDefinition as error:
        raise ProfileError(f"{path}: the profile cannot be read: {error}") from None


def _checked(table: dict[str, Any], where: str) -> dict[str, Any]:
    """The table with each setting in its own type. Raises ProfileError for an unknown key or a bad value."""
    if unknown := table.keys() - _TOP:
        raise ProfileError(f"{where}: unknown entry {_listed(unknown)}; a profile has {_listed(_TOP)}")
    for part in (*_PARTS, "rules", "weights", "remarks"):
        if not isinstance(table.get(part, {}), dict):
            raise ProfileError(f"{where}: '{part}' must be a table, like [{part}]")
    fitted_parts: dict[str, Any] = {
        part: fitted(table[part], setting_types(kind), f"{where}: [{part}]")
        for part, kind in _PARTS.items() if part in table}
    if "rules" in table:
        fitted_parts["rules"] = {rule: fitted_rule(rule, settings, where) for rule, settings in table["rules"].items()}
    if "weights" in table:
        fitted_parts["weights"] = fitted(table["weights"], dict.fromkeys(map(str, Severity), float),
                                         f"{where}: [weights]")
    if not all(isinstance(advice, str) and word.strip() for word, advice in table.get("remarks", {}).items()):
        raise ProfileError(f"{where}: each entry of [remarks] is a word and its advice, as texts")
    for part in table.keys() & {"cautions", "praise"}:
        fitted_parts[part] = _texts(table[part], f"{where}: '{part}'", blank=part == "cautions")
    return {**table, **fitted_parts}


def _texts(told: object, where: str, blank: bool = True) -> tuple[str, ...]:
    if not isinstance(told, list) or not all(isinstance(text, str) and (blank or text.strip()) for text in told):
        raise ProfileError(f"{where} must be a list of texts")
    return tuple(told)


def known_rule(name: str, where: str) -> type[Rule]:
    """The rule of that name in files. Raises ProfileError if there is none."""
    if name not in rule_names():
        raise ProfileError(f"{where}: there is no rule {name!r}; known: {_listed(rule_names())}")
    return rule_class(name)


def fitted_rule(name: str, settings: object, where: str) -> dict[str, Any]:
    """The settings of a rule, in their own types. Raises ProfileError for what is not known and for a bad value."""
    kind: Any = known_rule(name, where)
    if not isinstance(settings, dict):
        raise ProfileError(f"{where}: 'rules.{name}' must be a table, like [rules.{name}]")
    return fitted(settings, setting_types(kind), f"{where}: [rules.{name}]")


def fitted(settings: Mapping[str, object], types_: Mapping[str, Any], where: str) -> dict[str, Any]:
    """Settings in the types that they have. Raises ProfileError for an unknown one and for a bad value."""
    if unknown := settings.keys() - types_.keys():
        raise ProfileError(f"{where}: unknown setting {_listed(unknown)}; there is {_listed(types_)}")
    return {key: fit(value, types_[key], f"{where} {key}") for key, value in settings.items()}


def _laid_on(below: dict[str, Any], above: dict[str, Any]) -> dict[str, Any]:
    """*above* wins, tables are joined; rules keep the order of *below*."""
    joined = dict(below)
    for key, value in above.items():
        joined[key] = _laid_on(below[key], value) if isinstance(value, dict) and key in below else value
    return joined


# -- building --------------------------------------------------------------------------------------------------------


def _build(name: str, table: dict[str, Any]) -> Profile:
    where = f"profile {name!r}:"
    if missing := {str(each) for each in Severity} - table.get("weights", {}).keys():
        raise ProfileError(f"{where} [weights] lacks {_listed(missing)}; base the profile on another with "
                           "based_on = \"default\"")
    return Profile(
        name, str(table.get("title", name)),
        rules=tuple(_filled(rule_class(rule), settings, f"{where} [rules.{rule}]")
                    for rule, settings in table.get("rules", {}).items()),
        weights={Severity(key): value for key, value in table["weights"].items()},
        cautions=table.get("cautions", ()), remarks=table.get("remarks", {}), praise=table.get("praise", ()),
        **{part: _filled(kind, table.get(part, {}), f"{where} [{part}]") for part, kind in _PARTS.items()})


def _filled(kind: Any, settings: Mapping[str, object], where: str) -> Any:
    for each in fields(kind):
        if each.name not in settings and each.default is MISSING:
            raise ProfileError(f"{where} lacks {each.name!r}; give it, or base the profile on another "
                               "with based_on = \"default\"")
    return kind(**settings)


@cache
def setting_types(kind: Any) -> dict[str, Any]:
    """The types of the settings of a rule, or of another part of a profile, by their names."""
    types_ = typing.get_type_hints(kind)
    return {each.name: types_[each.name] for each in fields(kind)}


def fit(value: Any, hint: Any, where: str) -> Any:
    """Return *value* as the type a setting has, or say what it should be."""
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        if value in list(hint):
            return hint(value)
        raise ProfileError(f"{where} must be one of {_listed(hint)}, not {value!r}")
    allowed = range_of(where)
    number = isinstance(value, (int, float)) and not isinstance(value, bool) and value in allowed
    if hint in (bool, str) and isinstance(value, hint):
        return value
    if hint is float and number:
        return float(value)
    if hint is int and number and isinstance(value, int):
        return value
    if isinstance(hint, types.GenericAlias) and isinstance(value, list):
        wanted = hint.__args__
        if wanted[-1] is Ellipsis:
            return tuple(fit(each, wanted[0], where) for each in value)
        if len(wanted) == len(value):
            return tuple(fit(each, one, where) for each, one in zip(value, wanted, strict=True))
    if (hint in (int, float) and isinstance(value, (int, float)) and not isinstance(value, bool)
            and value > allowed.most):
        raise ProfileError(f"{where} must be from {allowed}, not {shown(value)}")
    if allowed.least and hint is float:
        raise ProfileError(f"{where} must be a number from {allowed}, not {value!r:.60}")
    raise ProfileError(f"{where} must be {_wanted(hint)}, not {value!r:.60}")


def _wanted(hint: Any) -> str:
    if isinstance(hint, types.GenericAlias):
        inner = hint.__args__
        return "a list of texts" if inner[0] is str else f"a list of {len(inner)} numbers from 0"
    return {bool: "true or false", float: "a number from 0", int: "a whole number from 0", str: "a text"}[hint]


def _listed(names: Iterable[object]) -> str:
    return ", ".join(sorted(repr(str(name)) for name in names))

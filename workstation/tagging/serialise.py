"""Values to plain data and back, read off the dataclasses themselves.

Plain data is what JSON can hold: a field that has its default is left out, so older data can still be read when a field
with a default is added. An unknown field is an error, because leaving it out would lose data. A field whose metadata
has ``stored`` is written under that name.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Callable
from dataclasses import MISSING, Field, fields, is_dataclass
from enum import Enum
from fractions import Fraction
from functools import cache
from pathlib import Path
from types import NoneType, UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from .ranges import out_of_range

T = TypeVar("T")
FRACTION = r"-?[0-9]{1,40}(/0{0,9}[1-9][0-9]{0,39})?"
"""How a fraction is written: ``30``, ``30000/1001``."""

LARGEST_WHOLE = 2**63
LARGEST_NUMBER = 1e300
MOST_PROBLEMS = 1000

Writer = Callable[[Any], Any]
Reader = Callable[[Any, str, list[str]], Any]


class Unreadable(ValueError):
    """Plain data has not the expected form. ``problems`` holds every reason, each with its path."""

    def __init__(self, problems: list[str]):
        self.problems = tuple(problems)
        super().__init__("; ".join(problems))


def strict_json(text: str | bytes) -> Any:
    """What a JSON text holds. Raises ValueError, for doubled fields and NaN too, and RecursionError."""
    return json.loads(text, parse_constant=_refuse, object_pairs_hook=_without_doubles)


def _refuse(word: str) -> None:
    raise ValueError(f"{word} is not a number that JSON knows")


def _without_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        doubled = Counter(name for name, _ in pairs).most_common(1)[0][0]
        raise ValueError(f"the field {doubled!r} comes twice in one object")
    return found


def to_plain(value: Any, kind: Any = None) -> Any:
    """Return *value* as dicts, lists, strings and numbers. *kind* is its declared type, if not its class."""
    declared: Any = kind or type(value)
    return _writer(declared)(value)


def from_plain(kind: type[T], plain: Any, where: str = "") -> T:
    """Build a *kind* from plain data; *where* is the path that errors begin with.

    Raises :class:`Unreadable` with all that is wrong, not only the first of it.
    """
    problems: list[str] = []
    declared: Any = kind
    value: T = _reader(declared)(plain, where, problems)
    if problems:
        raise Unreadable(problems)
    return value


def unreadable(kind: Any, value: Any) -> tuple[str, ...]:
    """Why *value* could not be read back from plain data as a *kind*; empty if it could."""
    try:
        came_back = from_plain(kind, to_plain(value, kind))
    except Unreadable as error:
        return error.problems
    except (AttributeError, TypeError, ValueError) as error:
        return (f"not what it should be: {error}",)
    return () if came_back == value else ("it would not be read back the same",)


def members(kind: Any) -> dict[str, Any]:
    """Declared type of each field of a dataclass or named tuple, in order, by the name under which it is stored."""
    hints = get_type_hints(kind)
    return {stored: hints[name] for stored, name in _attributes(kind).items()}


def _attributes(kind: Any) -> dict[str, str]:
    """The name of each field by the name under which it is stored."""
    if is_named_tuple(kind):
        return {name: name for name in kind._fields}
    return {_stored(each): each.name for each in fields(kind)}


def _stored(each: Field[Any]) -> str:
    name: str = each.metadata.get("stored", each.name)
    return name


def defaults(kind: Any) -> dict[str, Any]:
    """The default of each field that has one, by the name under which it is stored."""
    if is_named_tuple(kind):
        return dict(kind._field_defaults)
    return {_stored(each): _default(each) for each in fields(kind) if _default(each) is not MISSING}


def is_named_tuple(kind: Any) -> bool:
    """Whether this type is a named tuple."""
    return isinstance(kind, type) and issubclass(kind, tuple) and hasattr(kind, "_fields")


def optional(kind: Any) -> Any | None:
    """The X of ``X | None``, or None if *kind* is not such a union."""
    if get_origin(kind) in (Union, UnionType):
        rest = [each for each in get_args(kind) if each is not NoneType]
        if len(rest) == 1:
            return rest[0]
        raise TypeError(f"{kind} has no plain form; only 'X | None' unions have one")
    return None


def _default(each: Field[Any]) -> Any:
    return each.default_factory() if each.default_factory is not MISSING else each.default


@cache
def _writer(kind: Any) -> Writer:
    if inner := optional(kind):
        write = _writer(inner)
        return lambda value: None if value is None else write(value)
    origin, arguments = get_origin(kind), get_args(kind)
    if origin is tuple:
        if arguments[-1] is Ellipsis:
            write = _writer(arguments[0])
            return lambda value: [write(each) for each in value]
        writers = [_writer(each) for each in arguments]
        return lambda value: [write(each) for write, each in zip(writers, value, strict=True)]
    if origin is frozenset:
        write = _writer(arguments[0])
        return lambda value: sorted(write(each) for each in value)
    if is_dataclass(kind) or is_named_tuple(kind):
        return _record_writer(kind)
    if issubclass(kind, Enum):
        return lambda value: value.value
    if kind is Fraction:
        return str
    if issubclass(kind, Path):
        return lambda value: value.as_posix()
    if kind in (str, int, float, bool):
        return lambda value: value
    raise TypeError(f"{kind} has no plain form")


def _record_writer(kind: type) -> Writer:
    usual = defaults(kind)
    attributes = _attributes(kind)
    writers = [(stored, attributes[stored], _writer(each), usual.get(stored, MISSING))
               for stored, each in members(kind).items()]

    def write(value: Any) -> dict[str, Any]:
        plain = {}
        for stored, name, write_field, default in writers:
            said = getattr(value, name)
            if default is MISSING or said != default:
                plain[stored] = write_field(said)
        return plain

    return write


@cache
def _reader(kind: Any) -> Reader:
    if inner := optional(kind):
        read = _reader(inner)
        return lambda plain, where, problems: None if plain is None else read(plain, where, problems)
    origin, arguments = get_origin(kind), get_args(kind)
    if origin is tuple and arguments[-1] is Ellipsis:
        return _list_reader(_reader(arguments[0]), tuple)
    if origin is tuple:
        return _fixed_reader([_reader(each) for each in arguments])
    if origin is frozenset:
        return _list_reader(_reader(arguments[0]), frozenset)
    if is_dataclass(kind) or is_named_tuple(kind):
        return _record_reader(kind)
    if issubclass(kind, Enum):
        return _word_reader(kind)
    if kind is Fraction:
        return _read_fraction
    if issubclass(kind, Path):
        return _read_path
    return {str: _read_text, int: _read_whole, float: _read_number, bool: _read_truth}[kind]


def _record_reader(kind: type) -> Reader:
    attributes = _attributes(kind)
    readers = {name: _reader(each) for name, each in members(kind).items()}
    needed = readers.keys() - defaults(kind).keys()

    def read(plain: Any, where: str, problems: list[str]) -> Any:
        if not isinstance(plain, dict):
            return _wrong(problems, where, "an object", plain)
        before = len(problems)
        prefix = f"{where}." if where else ""
        problems += [f"{prefix}{name}: unknown field" for name in plain if name not in readers]
        problems += [f"{prefix}{name}: missing" for name in readers if name in needed and name not in plain]
        values = {attributes[name]: readers[name](said, prefix + name, problems)
                  for name, said in plain.items() if name in readers}
        if len(problems) > before:
            return None
        value = kind(**values)
        problems += [prefix + problem for problem in out_of_range(kind, value)]
        return value if len(problems) == before else None

    return read


def _list_reader(read: Reader, gather: Callable[[list[Any]], Any]) -> Reader:
    def read_list(plain: Any, where: str, problems: list[str]) -> Any:
        if not isinstance(plain, list | tuple):
            return _wrong(problems, where, "a list", plain)
        before = len(problems)
        values = []
        for position, each in enumerate(plain):
            values.append(read(each, f"{where}[{position}]", problems))
            if len(problems) > MOST_PROBLEMS:       # there may be millions, and nobody reads them all
                break
        return gather(values) if len(problems) == before else None

    return read_list


def _fixed_reader(readers: list[Reader]) -> Reader:
    def read_fixed(plain: Any, where: str, problems: list[str]) -> Any:
        if not isinstance(plain, list | tuple) or len(plain) != len(readers):
            return _wrong(problems, where, f"a list of {len(readers)}", plain)
        return tuple(read(each, f"{where}[{position}]", problems)
                     for position, (read, each) in enumerate(zip(readers, plain, strict=True)))

    return read_fixed


def _word_reader(kind: type[Enum]) -> Reader:
    words = {word.value: word for word in kind}

    def read(plain: Any, where: str, problems: list[str]) -> Any:
        if isinstance(plain, str) and plain in words:
            return words[plain]
        return _wrong(problems, where, "one of " + ", ".join(map(repr, words)), plain)

    return read


def _read_fraction(plain: Any, where: str, problems: list[str]) -> Any:
    if isinstance(plain, str) and re.fullmatch(FRACTION, plain, re.ASCII):
        return Fraction(plain)
    return _wrong(problems, where, "a fraction such as '1/90000'", plain)


def _read_path(plain: Any, where: str, problems: list[str]) -> Any:
    # file names may hold invalid text, which Python keeps as lone surrogates
    return Path(plain) if isinstance(plain, str) and "\0" not in plain else _wrong(problems, where, "a path", plain)


def _read_text(plain: Any, where: str, problems: list[str]) -> Any:
    if not isinstance(plain, str):
        return _wrong(problems, where, "text", plain)
    if not plain.isascii() and any("\ud800" <= letter <= "\udfff" for letter in plain):
        return _wrong(problems, where, "text without half a character (a lone surrogate)", plain)
    return plain


def _read_whole(plain: Any, where: str, problems: list[str]) -> Any:
    if isinstance(plain, float) and plain.is_integer():
        plain = int(plain)
    if isinstance(plain, int) and not isinstance(plain, bool) and abs(plain) < LARGEST_WHOLE:
        return plain
    return _wrong(problems, where, "a whole number", plain)


def _read_number(plain: Any, where: str, problems: list[str]) -> Any:
    if isinstance(plain, int | float) and not isinstance(plain, bool) and abs(plain) < LARGEST_NUMBER:
        return plain
    return _wrong(problems, where, "a number", plain)


def _read_truth(plain: Any, where: str, problems: list[str]) -> Any:
    return plain if isinstance(plain, bool) else _wrong(problems, where, "true or false", plain)


def _wrong(problems: list[str], where: str, expected: str, plain: Any) -> None:
    try:
        shown = repr(plain)
    except ValueError:          # a whole number of thousands of digits
        shown = "a number of thousands of digits"
    shown = shown if len(shown) <= 60 else shown[:57] + "..."
    problems.append(f"{where or 'the whole'}: expected {expected}, found {shown}")

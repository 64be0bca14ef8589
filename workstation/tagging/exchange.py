"""A whole game as documented JSON for the next tool, and back in without loss.

The form is the values of :mod:`.model` as objects, field by field; a field that is left out has
its default. :func:`schema` describes it as JSON Schema (2020-12); ``resources/schemas/game.schema.json``
is its printed form. Source paths are relative to the folder of the JSON file.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable
from dataclasses import is_dataclass, replace
from enum import Enum
from fractions import Fraction
from pathlib import Path
from typing import Any, get_args, get_origin

from ..film.film import Film
from ..film.writing import written_whole
from . import rules
from .gamefile import GameFile
from .model import Game
from .operations import TakeGame
from .ranges import RANGES
from .records import GameDraft, InvalidOperation, Records
from .serialise import (
    FRACTION,
    Unreadable,
    defaults,
    from_plain,
    is_named_tuple,
    members,
    optional,
    strict_json,
    to_plain,
)
from .store import relative_path

FORMAT = "football game film"
VERSION = 1
LARGEST_FILE = 64 * 1024 * 1024
"""Bytes of the largest JSON file that is read."""
MOST_PARTS = 5_000_000
"""Most braces, brackets and commas in a file, those within texts included."""


class ExchangeError(ValueError):
    """A JSON file is not a game. ``problems`` holds every reason, each with the path to its place."""

    def __init__(self, path: Path, problems: tuple[str, ...]):
        self.path = path
        self.problems = problems
        more = f"\n  and {len(problems) - 20} more" if len(problems) > 20 else ""
        super().__init__(f"{path} is not a game that can be read:\n  " + "\n  ".join(problems[:20]) + more)


def write_json(game: Game, path: str | os.PathLike[str]) -> None:
    """Write *game* to a temporary file beside *path*, then move it to *path*. Raises OSError."""
    path = Path(path).absolute()
    text = json.dumps(to_document(game, path.parent), indent=1, allow_nan=False)
    with written_whole(path) as temporary:
        temporary.write_text(text + "\n", encoding="utf-8")


def read_json(path: str | os.PathLike[str]) -> Game:
    """Read a game from JSON and check it as if it had been tagged here.

    Raises OSError, or :class:`ExchangeError` with all that is wrong.
    """
    path = Path(path).absolute()
    with path.open("rb") as stream:
        raw = stream.read(LARGEST_FILE + 1)
    if len(raw) > LARGEST_FILE:
        raise ExchangeError(path, (f"the file is larger than {LARGEST_FILE // 2**20} MiB",))
    if sum(raw.count(sign) for sign in (b"{", b"[", b",")) > MOST_PARTS:
        raise ExchangeError(path, (f"it has more than {MOST_PARTS:,} parts; a game has some ten thousand",))
    try:
        document = strict_json(raw.decode("utf-8-sig"))
    except RecursionError:
        raise ExchangeError(path, ("it is nested too deeply",)) from None
    except ValueError as error:
        raise ExchangeError(path, (f"it is not JSON: {error}",)) from error
    try:
        return from_document(document, path.parent)
    except Unreadable as error:
        raise ExchangeError(path, error.problems) from error


def import_game(json_path: str | os.PathLike[str], game_path: str | os.PathLike[str]) -> GameFile:
    """Make a new game file at *game_path* from JSON, and open it. Nothing is left behind if that fails."""
    return GameFile.create(game_path, game=read_json(json_path))


def to_document(game: Game, folder: Path) -> dict[str, Any]:
    """*game* as plain data, source paths relative to *folder* where they can be."""
    return {"format": FORMAT, "version": VERSION,
            **to_plain(_with_paths(game, lambda path: relative_path(path, folder)))}


def from_document(document: Any, folder: Path) -> Game:
    """The game that plain data describes; raises :class:`Unreadable` with all that is wrong."""
    if not isinstance(document, dict) or document.get("format") != FORMAT:
        raise Unreadable([f"format: expected an object whose 'format' is {FORMAT!r}"])
    if document.get("version") != VERSION or document.get("version") is True:      # which counts as 1
        raise Unreadable([f"version: expected {VERSION}, found {document.get('version')!r}"])
    game = from_plain(Game, {name: said for name, said in document.items() if name not in ("format", "version")})
    game = _with_paths(game, lambda path: Path(os.path.normpath(folder / path)))
    draft = GameDraft(Records(), Game())
    try:
        TakeGame(game).apply(draft)
    except InvalidOperation as error:
        raise Unreadable(list(error.problems)) from error
    if found := rules.problems(draft.game, draft.edits()):
        raise Unreadable(found)
    return draft.game


def _with_paths(game: Game, path: Callable[[Path], Path]) -> Game:
    return game.with_films(lambda film: Film(tuple(replace(source, path=path(source.path)) for source in film.sources)))


def schema() -> dict[str, Any]:
    """JSON Schema of the form, read off the values of the model."""
    shapes: dict[str, Any] = {}
    _shape(Game, shapes)
    body = shapes.pop("Game")
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "A football game as tagged on its film",
            "description": "A field that is left out has its default. Source paths are relative to this file's folder.",
            "type": "object",
            "properties": {"format": {"const": FORMAT}, "version": {"const": VERSION}, **body["properties"]},
            "required": ["format", "version"], "additionalProperties": False, "$defs": dict(sorted(shapes.items()))}


def _shape(kind: Any, shapes: dict[str, Any]) -> dict[str, Any]:
    """Schema of one declared type; *shapes* gathers those that have a name."""
    if inner := optional(kind):
        return {"anyOf": [_shape(inner, shapes), {"type": "null"}]}
    origin, arguments = get_origin(kind), get_args(kind)
    if origin is tuple and arguments[-1] is not Ellipsis:
        return {"type": "array", "prefixItems": [_shape(each, shapes) for each in arguments], "items": False,
                "minItems": len(arguments)}
    if origin in (tuple, frozenset):
        return {"type": "array", "items": _shape(arguments[0], shapes)}
    if kind is Fraction:
        return {"type": "string", "pattern": f"^{FRACTION}$", "description": "A fraction, e.g. 30000/1001"}
    simple = {str: "string", Path: "string", int: "integer", float: "number", bool: "boolean"}
    if kind in simple:
        return {"type": simple[kind]}
    if kind.__name__ not in shapes:
        shapes[kind.__name__] = {}
        shapes[kind.__name__] = _named_shape(kind, shapes)
    return {"$ref": f"#/$defs/{kind.__name__}"}


def _named_shape(kind: type, shapes: dict[str, Any]) -> dict[str, Any]:
    about = {"description": _prose(kind)} if _documented(kind) else {}
    if issubclass(kind, Enum):
        return {**about, "enum": [word.value for word in kind]}
    assert is_dataclass(kind) or is_named_tuple(kind), kind
    usual = defaults(kind)
    properties = {}
    for name, declared in members(kind).items():
        properties[name] = _shape(declared, shapes)
        if name in usual:
            properties[name] |= {"default": to_plain(usual[name], declared)}
        if (allowed := RANGES.get(kind, {}).get(name)) and "pattern" not in properties[name]:
            properties[name] |= {"maxItems": allowed.most} if allowed.items else {"minimum": allowed.least,
                                                                                  "maximum": allowed.most}
    return {**about, "type": "object", "properties": properties,
            "required": [name for name in properties if name not in usual], "additionalProperties": False}


def _documented(kind: type) -> bool:
    """Whether the class has a docstring of its own; Python gives a dataclass without one its signature."""
    return not (kind.__doc__ or f"{kind.__name__}(").startswith(f"{kind.__name__}(")


def _prose(kind: type) -> str:
    return " ".join((kind.__doc__ or "").replace("``", "'").split())


if __name__ == "__main__":
    print(json.dumps(schema(), indent=1))

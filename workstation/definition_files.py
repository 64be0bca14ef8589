"""Files in which people define something (crew profiles, policies, own words): which there are, and their text."""

from __future__ import annotations

import json
from collections.abc import Iterable
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

LARGEST_FILE = 1 << 20
"""Bytes of the largest definition that is read."""


class UnreadableDefinition(ValueError):
    """A definition's file has no text that can be read; the message says why and what to do."""


def delivered(*folder: str) -> Traversable:
    """The folder of the definitions that come with the program, in the resources."""
    return files("workstation.resources").joinpath(*folder)


def definition_names(folders: Iterable[Path], shipped: Traversable) -> list[str]:
    """Names of the definitions in a person's own *folders* and of those that come with the program."""
    own = {path.stem for folder in folders if folder.is_dir() for path in folder.glob("*.toml")}
    return sorted(own | {entry.name[:-5] for entry in shipped.iterdir() if entry.name.endswith(".toml")})


def definition_text(path: Path) -> str:
    """The text of a definition's file. Raises UnreadableDefinition."""
    try:
        if path.exists() and not path.is_file():
            raise UnreadableDefinition("it is not a file; name a TOML file")
        with path.open("rb") as stream:
            raw = stream.read(LARGEST_FILE + 1)
        if len(raw) > LARGEST_FILE:
            raise UnreadableDefinition(f"it is larger than {LARGEST_FILE >> 20} MiB; take out what is no definition")
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        raise UnreadableDefinition(f"it is not UTF-8 text ({error.reason}); save it as UTF-8") from None
    except OSError as error:
        raise UnreadableDefinition(error.strerror or str(error)) from None


def quoted(text: object) -> str:
    """A text as a TOML basic string: a JSON string in which U+007F is escaped, too."""
    return json.dumps(str(text), ensure_ascii=False).replace("\x7f", "\\u007f")

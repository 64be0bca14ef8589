"""File names from a pattern with readable fields: ``{number} {situation} {kind}``."""

from __future__ import annotations

import re
import unicodedata
from string import Formatter

PATTERN = "{number} {situation} {kind}"     # of a play
SHOT_PATTERN = "{number} {kind}"

_UNSAFE = re.compile(r'[\x00-\x1f\x7f<>:"/\\|?*]+')
# Names that one of the common systems keeps for devices (Windows, naming a file).
_RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))}
LONGEST = 120  # characters; leaves room for a folder and a suffix in the 255 bytes that file systems allow


class PatternError(ValueError):
    """The pattern names a field that does not exist."""


def safe_name(text: str) -> str:
    """Turn any text into one file name that every common file system takes and that stays in its folder."""
    text = unicodedata.normalize("NFC", text).replace("&", "and")
    text = _UNSAFE.sub("-", text)
    text = re.sub(r"\s+", " ", text).strip(" .-")
    text = "".join(c for c in text if unicodedata.category(c) not in {"Cf", "Cs", "Co", "Cn"})
    while len(text.encode()) > LONGEST:
        text = text[:-1]
    text = text.rstrip(" .-")
    if not text or text.split(".")[0].lower() in _RESERVED:
        text = f"segment {text}".strip()
    return text


def file_name(pattern: str, fields: dict[str, str], suffix: str, taken: set[str]) -> str:
    """Fill ``pattern`` and make it safe and unique among ``taken`` (compared without case), which grows by it.

    Raises PatternError with the fields there are when the pattern names another.
    """
    try:
        named = {name for _, name, _, _ in Formatter().parse(pattern) if name is not None}
        if unknown := named - set(fields):
            raise ValueError(f"there is no {', '.join('{' + name + '}' for name in sorted(unknown))}")
        text = pattern.format_map(fields)
    except ValueError as error:
        raise PatternError(f"The name pattern {pattern!r} does not work ({error}); "
                           f"the fields are {', '.join('{' + name + '}' for name in sorted(fields))}.") from None
    stem = safe_name(text)
    name, again = f"{stem}{suffix}", 2
    while name.casefold() in taken:
        name, again = f"{stem} ({again}){suffix}", again + 1
    taken.add(name.casefold())
    return name

"""Text of others shown on a terminal or in an error: what would move or hide what stands around it is written out."""

from __future__ import annotations

import unicodedata


def visible(text: str) -> str:
    """*text* with every control, format and separator character but the space written out, as ``\\x1b``."""
    return "".join(letter if letter == " " or unicodedata.category(letter)[0] not in "CZ"
                   else letter.encode("unicode_escape").decode() for letter in text)


def visible_lines(text: str) -> str:
    """The same for a text of several lines, which stay lines."""
    return "\n".join(map(visible, text.split("\n")))

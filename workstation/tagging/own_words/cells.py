"""Own words in the cells of a sheet: what a cell says, and what is written into it."""

from __future__ import annotations

import re

from .definition import LONGEST_TEXT, OwnWord, WordKind, WordSaid
from .following import How, Known

NONE = "none"
"""The text of a cell for "said to have no value", which ends what is carried on."""


class CellError(ValueError):
    """A cell that cannot be read: what is wrong with it, and what to write."""


def read_cell(word: OwnWord, text: str) -> WordSaid | None:
    """What a cell says in *word*; None for an empty one, which says nothing. Raises :class:`CellError`.

    Values of a list may be said by their short forms, or by a beginning that no other value has.
    """
    text = " ".join(text.split())
    if not text:
        return None
    if text.casefold() == NONE and word.value(NONE) is None:
        return WordSaid(word.name, ())
    if len(text) > LONGEST_TEXT:
        raise CellError(f"{word.name}: {len(text)} characters are too many; at most {LONGEST_TEXT}")
    match word.kind:
        case WordKind.TEXT:
            return WordSaid(word.name, (text,))
        case WordKind.ONE:
            return WordSaid(word.name, (_listed(word, text),))
        case WordKind.SEVERAL:
            parts = filter(None, map(str.strip, re.split("[,;/+&]", text)))
            return WordSaid(word.name, tuple(dict.fromkeys(_listed(word, part) for part in parts)))
        case WordKind.PLAYER:
            numbers = tuple(dict.fromkeys(each.removeprefix("#") for each in re.split(r"[\s,;/&+]+", text) if each))
            if bad := next((each for each in numbers if not re.fullmatch("[0-9]{1,3}", each)), None):
                raise CellError(f"{word.name}: {bad!r} is not a jersey number; write numbers, like 22")
            return WordSaid(word.name, numbers)
    # a spreadsheet writes 7 as 7.0
    if not re.fullmatch(r"-?[0-9]{1,6}(\.[0-9]{1,3})?", text):
        raise CellError(f"{word.name}: {text!r} is not a number; write one, like 7")
    return WordSaid(word.name, (re.sub(r"\.0+$", "", text),))


def write_cell(known: Known | None) -> str:
    """The cell of what is known of a play; empty where nothing is."""
    if known is None:
        return ""
    return known.text if known.values else NONE


def is_said(known: Known | None) -> bool:
    """Whether a person said it of this play, so that it is not carried on and does not follow."""
    return known is not None and known.how is How.SAID


def _listed(word: OwnWord, text: str) -> str:
    """The value of the list that *text* says."""
    said = re.sub(r"\.0+$", "", text.casefold()) if re.fullmatch(r"[0-9]+\.0+", text) else text.casefold()
    for value in word.values:
        if said in (value.name.casefold(), *(form.casefold() for form in value.spoken)):
            return value.name
    begun = [value.name for value in word.values if value.name.casefold().startswith(said)]
    if len(begun) == 1:
        return begun[0]
    if begun:
        raise CellError(f"{word.name}: {text!r} may be {' or '.join(begun[:4])}; write one of them")
    values = ", ".join(value.name for value in word.values[:6])
    more = f" and {len(word.values) - 6} more" if len(word.values) > 6 else ""
    raise CellError(f"{word.name}: {text!r} is not in its list ({values}{more}); write one of them, "
                    "or add it to the list")

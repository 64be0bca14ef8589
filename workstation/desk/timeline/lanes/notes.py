"""The lane of notes and drawings."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtGui import QColor

from ....film.time import spoken_time
from ..blocks import Block, Blocks, blocks
from ..canvas import Inks
from .lane import Basis
from .marks import MarksLane

_NOTE, _DRAWING = range(2)


class NotesLane(MarksLane):
    """An item's id is ("note" or "drawing", its id); ``look`` tells a drawing from a note."""

    key = name = "notes"
    item = "notes"

    def blocks_of(self, basis: Basis) -> Blocks:
        """Return a block for each note and drawing."""
        made = [("note", _NOTE, note.id, note.at, note.until, note.text) for note in basis.game.notes]
        made += [("drawing", _DRAWING, each.id, each.at, each.until, each.text or each.kind.value)
                 for each in basis.game.drawings]
        return blocks([Block(*span, (what, id), look, False, text, text,
                             f"{what.capitalize()} at {spoken_time(span[0])}\n{text}")
                       for what, look, id, at, until, text in made
                       if (span := self.span(basis, at, until)) is not None])

    def glyph(self, looks: Sequence[int], look: Inks) -> tuple[str, QColor]:
        """The first of them counts."""
        return "drawing" if looks[0] == _DRAWING else "text", look.text

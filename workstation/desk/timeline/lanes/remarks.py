"""The lane of remarks: a mentor's own words on the filming, and their praise."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtGui import QColor

from ....film.time import spoken_time
from ..blocks import Block, Blocks, blocks
from ..canvas import Inks
from .lane import Basis
from .marks import MarksLane

_PLAIN, _PRAISE = range(2)


class RemarksLane(MarksLane):
    """An item's id is the remark's; ``look`` is 1 for praise, which has a shape of its own and is called praise."""

    key = name = "remarks"
    item = "remarks"

    def blocks_of(self, basis: Basis) -> Blocks:
        """Return a block for each remark."""
        rows = []
        for remark in basis.game.remarks:
            span = self.span(basis, remark.at, remark.until)
            if span is None:
                continue
            start, end = span
            where = f"at {spoken_time(start)}" if end <= start else f"from {spoken_time(start)} to {spoken_time(end)}"
            told = "\n".join(part for part in (f"{'Praise' if remark.praise else 'Remark'} {where}", remark.word,
                                               remark.comment) if part)
            words = f"praise: {remark.word}" if remark.praise else remark.word
            rows.append(Block(start, end, remark.id, _PRAISE if remark.praise else _PLAIN, False, remark.word, words,
                              told))
        return blocks(rows)

    def glyph(self, looks: Sequence[int], look: Inks) -> tuple[str, QColor]:
        """What is to be mended never lies under a star."""
        return ("praise", look.good) if all(each == _PRAISE for each in looks) else ("remark", look.text)

"""Name the kind of a shot where its frames give evidence of it; else it has no name. How long a shot is, or that the
camera rests, is no evidence."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from .settings import KINDS

if TYPE_CHECKING:
    from .shot_evidence import FrameEvidence


class KindFound(NamedTuple):
    """A kind of shot in the words in which it is tagged, or None, and why, for a person."""

    kind: str | None
    why: str


def is_wide(evidence: Sequence[FrameEvidence]) -> bool:
    """Do most of the frames show a field with its lines, and nothing large before it? False if none was judged."""
    return _agree(evidence, lambda one: one.field >= KINDS.play_field and one.lines >= KINDS.play_lines
                  and one.largest <= KINDS.play_largest)


def kind_of(evidence: Sequence[FrameEvidence], *, snap: bool, dead_ball: bool) -> KindFound:
    """Name a shot from its frames and from whether a snap and then a dead ball were noticed in it."""
    if snap and dead_ball and is_wide(evidence):
        return KindFound("play", "yard lines, a snap, then a whistle")
    if snap and dead_ball:
        return KindFound(None, "")
    if _agree(evidence, lambda one: one.field <= KINDS.board_field and one.lines <= KINDS.close_lines
              and one.largest < KINDS.marker_largest and one.figures >= KINDS.board_figures):
        return KindFound("scoreboard", "several figures on a dark board, no field")
    if _agree(evidence, lambda one: one.field <= KINDS.close_field and one.lines <= KINDS.close_lines
              and one.largest >= KINDS.marker_largest and one.figures >= 1):
        return KindFound("down marker", "a figure on a dark box, people near by, no yard lines")
    return KindFound(None, "")


def _agree(evidence: Sequence[FrameEvidence], shows: Callable[[FrameEvidence], bool]) -> bool:
    return bool(evidence) and sum(map(shows, evidence)) >= KINDS.agreeing * len(evidence)

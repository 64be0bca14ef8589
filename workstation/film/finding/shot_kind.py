"""Name the kind of a shot where its frames give evidence of it; else it has no name. How long a shot is, or that the
camera rests, is no evidence."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from .settings import KINDS, SNAPS

if TYPE_CHECKING:
    from .moments import ShotMotion
    from .shot_evidence import FrameEvidence


class KindFound(NamedTuple):
    """A kind of shot in the words in which it is tagged, or None, and why, for a person."""

    kind: str | None
    why: str


def is_wide(evidence: Sequence[FrameEvidence]) -> bool:
    """Do most of the frames show a field with its lines, and nothing large before it? False if none was judged."""
    return _agree(evidence, lambda one: one.is_wide)


def kind_of(evidence: Sequence[FrameEvidence], motion: ShotMotion, *, snap: bool, dead_ball: bool) -> KindFound:
    """Name a shot from its frames, from what moves in it, and from whether a snap and then a dead ball were noticed."""
    if snap and dead_ball and is_wide(evidence):
        return KindFound("play", "yard lines, a snap, then a whistle")
    if snap:
        return KindFound(None, "")
    if _agree(evidence, lambda one: one.field <= KINDS.board_field and one.lines <= KINDS.close_lines
              and one.largest < KINDS.marker_largest and one.figures >= KINDS.board_figures):
        return KindFound("scoreboard", "several figures on a dark board, no field")
    if _agree(evidence, lambda one: one.field <= KINDS.close_field and one.lines <= KINDS.close_lines
              and one.largest >= KINDS.marker_largest and one.figures >= 1):
        return KindFound("down marker", "a figure on a dark box, people near by, no yard lines")
    return _of_officials(evidence) or (
        KindFound("handshake", "two rows of people walk past each other all along") if passes_in_rows(motion)
        else KindFound(None, ""))


def _of_officials(evidence: Sequence[FrameEvidence]) -> KindFound | None:
    """The kind of a shot that officials in their striped shirts are seen close in."""
    close = [one for one in evidence if not one.is_wide]
    if not close or len(close) < KINDS.close * len(evidence):
        return None
    rod = _share(close, lambda one: one.close.rod > 0)
    if (rod >= KINDS.rod_seen
            and _share(close, lambda one: bool(one.close.officials)) >= KINDS.official_seen):
        return KindFound("measurement", "a rod of the chain on the field, officials beside it")
    if rod > KINDS.others_seen:
        return None
    together = _share(close, _stand_together)
    if together >= KINDS.agreeing:
        return KindFound("coin toss", "several officials stand together, near by")
    if together <= KINDS.others_seen and _share(close, _signals) >= KINDS.signal_seen:
        return KindFound("penalty signal", "one official, near by, in the middle of the field shown")
    return None


def _stand_together(one: FrameEvidence) -> bool:
    places = [official.right for official in one.close.officials]
    return len(places) > 1 and max(places) - min(places) <= KINDS.toss_apart


def _signals(one: FrameEvidence) -> bool:
    return one.field >= KINDS.signal_field and any(
        official.tall >= KINDS.signal_tall and abs(official.right - 0.5) <= KINDS.signal_middle
        for official in one.close.officials)


def passes_in_rows(motion: ShotMotion) -> bool:
    """Does a row of people across the frame move from the first to the last, nothing else, and the camera rests?"""
    moving = motion.groups.astype(np.float32) / 255
    if len(moving) < 12 or min(moving.shape[1:]) < 4:
        return False
    zoom, right, down = np.abs(motion.per_second).T
    if np.quantile(np.hypot(right, down), 0.8) > SNAPS.panning or np.quantile(zoom, 0.8) > SNAPS.zooming:
        return False
    rows = moving.mean((0, 2))
    row = int(rows.argmax())
    away = rows[np.abs(np.arange(len(rows)) - row) > 0.35 * len(rows)]
    return bool((not len(away) or away.max() <= KINDS.row_away) and all(
        (third.mean(0) >= KINDS.row_moves).mean() >= KINDS.row_across
        for third in np.array_split(moving[:, row], 3)))


def _share(evidence: Sequence[FrameEvidence], shows: Callable[[FrameEvidence], bool]) -> float:
    return sum(map(shows, evidence)) / len(evidence)


def _agree(evidence: Sequence[FrameEvidence], shows: Callable[[FrameEvidence], bool]) -> bool:
    return bool(evidence) and _share(evidence, shows) >= KINDS.agreeing

"""The kind of play: what is due once it is said, and whether a side can have done it."""

from __future__ import annotations

from ..plays import Outcome, PlayKind, Side
from ..situation import Next
from .draft import GAINING, KICKS, Draft
from .yards import gained, kicked_yards


def set_kind(draft: Draft, kind: PlayKind, outcome: Outcome | None, plain: bool = False) -> None:
    """The kind is said for the first time: what a number would mean next follows from it."""
    draft.kind = kind
    if outcome is not None:
        draft.fields["outcome"] = outcome
    if draft.prep in ("by", "in"):
        draft.prep = ""
    if outcome is Outcome.INTERCEPTED:
        draft.slot = "caught"
        if draft.pending is not None:
            draft.return_yards, draft.pending = draft.pending, None
    elif outcome is Outcome.INCOMPLETE or kind is PlayKind.SPIKE:
        draft.slot = ""
    elif kind in GAINING:
        draft.slot = "gain" if not draft.gain_said and draft.spot_said is None else ""
        if draft.pending is not None:
            gained(draft, draft.pending)
            draft.pending = None
        elif draft.gain_said and kind in (PlayKind.SACK, PlayKind.KNEEL) and draft.fields["gain"] > 0:
            draft.fields["gain"] = 0 - draft.fields["gain"]
    elif kind in (PlayKind.FIELD_GOAL, PlayKind.TRY_KICK):
        draft.slot = "length"
        if draft.pending is not None:
            draft.length, draft.pending = draft.pending, None
    elif kind in KICKS:
        draft.slot = "kick_to"
        if draft.pending is not None:
            kicked_yards(draft, draft.pending)
            draft.pending = None
    else:
        draft.slot = "spot" if kind in (PlayKind.MEASUREMENT, PlayKind.INADVERTENT_WHISTLE) else ""


def acted(draft: Draft, *actors: Side) -> None:
    """A side was named before what it did: whether it can have done that."""
    if draft.side is None or draft.side_where is None or draft.flagged:
        return
    which, draft.side = draft.side, None
    draft.actor = which
    if which not in actors and draft.before.next is not Next.TRY:
        draft.doubt(f"{draft.side_where[0]!r} is the {which.value}, and the {actors[0].value} does that")

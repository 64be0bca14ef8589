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
    elif kind is PlayKind.RUN and draft.out:
        draft.fields.setdefault("outcome", Outcome.OUT_OF_BOUNDS)  # "the runner stepped out at the 40"
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


def may_be_intercepted(draft: Draft) -> bool:
    """Nothing was said yet but a pass from scrimmage, or where it was caught."""
    return (draft.before.next is Next.SCRIMMAGE and not draft.two_point and not draft.events and not draft.fouls
        and not draft.flagged and not draft.gain_said and draft.kind in (None, PlayKind.PASS)
        and draft.outcome in (None, Outcome.COMPLETE, Outcome.INCOMPLETE)
        and (draft.kind is None or draft.spot_said is None
        or draft.complete) and not (draft.kind is None and draft.anything_said()))


def intercepted_by_side(draft: Draft) -> None:
    """The defense caught the pass."""
    if draft.outcome is Outcome.INCOMPLETE:  # "it bounced off his helmet and a defender caught it"
        draft.fill("intercepted before it was incomplete")
    if draft.kind is None:
        set_kind(draft, PlayKind.PASS, Outcome.INTERCEPTED)
        draft.kind_from_manner = True  # "they caught our punt"
    draft.fields["outcome"], draft.complete = Outcome.INTERCEPTED, False
    draft.slot, draft.prep = "caught", "at"
    if draft.spot_said is not None:  # "caught at the 36 by a defender"
        draft.caught, draft.caught_at, draft.spot_said = draft.spot_said, True, None

"""Who caught it: a pass caught by the offense is complete, by the defense intercepted; a kick is the receivers'."""

from __future__ import annotations

from ..plays import EventKind, Outcome, PlayKind, Side
from ..situation import Next
from .custom import Ahead
from .draft import KICKS, Draft, Refused
from .kinds import acted, intercepted_by_side, may_be_intercepted, set_kind
from .loose_balls import recovered
from .word import Word


def caught_word(draft: Draft, word: Word, ahead: Ahead) -> None:
    """Something was caught: a kick, an interception, or else a pass."""
    draft.settle_if_kick()
    draft.in_foul = False
    if draft.kind is None and draft.events and draft.events[-1].kind is EventKind.MUFF:
        draft.fill("who caught it is taken to have recovered it")
        recovered(draft, word, ahead)
        return
    if draft.play_kind in KICKS:
        acted(draft, Side.DEFENSE)
        draft.fielded = True
        if draft.kick_to is None:
            draft.slot, draft.prep = "kick_to", "at"
        return
    if draft.outcome is Outcome.INTERCEPTED:
        draft.slot, draft.prep = "caught", "at"
        return
    if draft.side is Side.DEFENSE and may_be_intercepted(draft):
        intercepted_by_side(draft)  # "a defender caught it"
        draft.side = None
        return
    if draft.kind is None and draft.before.down == draft.rulebook.downs and draft.phrase.startswith(("field", "taken")):
        set_kind(draft, PlayKind.PUNT, None)
        draft.prep, draft.inferred = "at", "a punt, for it was fielded on the last down"
    elif draft.kind is None and draft.due is None and draft.before.next is not Next.TRY:
        set_kind(draft, PlayKind.PASS, Outcome.COMPLETE)
        draft.complete = draft.kind_from_manner = True  # "they caught our punt"
        if draft.phrase.endswith(" by"):
            draft.prep = "by"
    elif draft.kind in (PlayKind.PASS, PlayKind.TRY_PASS) and draft.outcome in (None, Outcome.COMPLETE):
        draft.complete = True
        if draft.phrase.endswith(" by"):
            draft.prep = "by"
    elif draft.kind is None and draft.before.next is Next.TRY:
        set_kind(draft, PlayKind.TRY_PASS, None)
    else:
        raise Refused("what was caught?")

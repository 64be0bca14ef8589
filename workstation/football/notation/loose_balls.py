"""Words for loose balls: what happened to the ball and who recovered it."""

from __future__ import annotations

import re

from ..plays import BallEvent, EventKind, Outcome, PlayKind, Side
from .custom import Ahead
from .draft import BETWEEN, GAINING, KICKS, TRIES, Draft, Refused
from .verbs import FORMS
from .word import Role, Word


def event(draft: Draft, word: Word, ahead: Ahead) -> None:
    """The ball came loose, was passed back, or went out of bounds."""
    event, by = word.value
    draft.settle_if_kick()
    if event is EventKind.MUFF and draft.phrase.startswith("touch") and not draft.is_kick() and not draft.events:
        draft.fill(f"{draft.phrase} was passed over")
        return
    draft.in_foul = False
    if draft.kind is None and re.search(r"\b(snap|exchange)", draft.phrase):
        draft.snap_lost = True
    if (draft.outcome in (Outcome.GOOD, Outcome.TOUCHBACK, Outcome.FAIR_CATCH) or draft.kind in BETWEEN
            or draft.kind is PlayKind.SPIKE):
        raise Refused(f"{word.text} cannot follow {(draft.outcome or draft.kind or '')}")
    if word.text == "bad snap" and draft.events and draft.events[-1].kind is EventKind.FUMBLE and draft.slot == "event":
        return
    if event is EventKind.FUMBLE and draft.outcome is Outcome.INCOMPLETE:
        draft.doubt("an incomplete pass is dead and cannot be fumbled")
    if event is EventKind.FUMBLE:
        by = draft.holder()
        if draft.side is not None and not draft.flagged:
            by, draft.side = draft.side, None  # "their guy fumbled the punt"
        spot = None
        if (draft.outcome is Outcome.INTERCEPTED or draft.play_kind in KICKS or draft.events
                or draft.outcome in (Outcome.NO_GOOD, Outcome.BLOCKED)):
            spot = draft.fields.pop("spot", None)
            draft.end_said = False
        if draft.outcome is Outcome.INTERCEPTED and draft.caught is not None:
            draft.caught_at = True
        if draft.events and draft.events[-1].kind is EventKind.FUMBLE and draft.events[-1].spot is None:
            return
        draft.events.append(BallEvent(event, spot, by))
        draft.returned, draft.came_from = False, None
        draft.return_yards = None
        draft.slot = "event"
        return
    if event is EventKind.OUT_OF_BOUNDS:
        told_loose = "fumble" in draft.phrase or "loose" in draft.phrase or draft.exact
        if (not told_loose and not draft.events and not draft.returned and draft.play_kind in KICKS
                and draft.outcome in (None, Outcome.OUT_OF_BOUNDS)):
            draft.fields["outcome"] = Outcome.OUT_OF_BOUNDS  # "a punt of 40 and the ball goes out of bounds"
            draft.slot = "kick_to" if draft.kick_to is None else ""
            return
        if word.text == "ball out of bounds" and not (draft.events and draft.events[-1].kind in (EventKind.FUMBLE,
                EventKind.MUFF)):
            if not told_loose:
                draft.fill("that the ball was fumbled was not said")
            draft.events.append(BallEvent(EventKind.FUMBLE, draft.fields.pop("spot", None) if draft.play_kind in KICKS
                else None, draft.holder()))
        draft.events.append(BallEvent(event, None, None))
    elif event is EventKind.MUFF:
        if draft.phrase == "touched" and draft.side is Side.OFFENSE and _lies_there(draft):
            draft.fields["outcome"], draft.side = Outcome.DOWNED, None  # "it stopped at the 11, one of ours touched it"
            draft.fill("touched by the kicking team where it lay is taken for downed")
            return
        if word.text == "bad snap":
            by = Side.OFFENSE
            if draft.is_kick() and draft.kick_to is not None:
                raise Refused("a bad snap comes before the kick")
        else:
            by = Side.DEFENSE if draft.play_kind in KICKS else draft.holder()
        draft.events.append(BallEvent(event, draft.kick_to if draft.play_kind in KICKS
            and word.text != "bad snap" else None, by))
    elif event is EventKind.OWN_RECOVERY:
        if not draft.events:
            if draft.kind is None and "fumble" not in draft.phrase:
                raise Refused("nothing was loose; say fumble or muffed first")
            draft.events.append(BallEvent(EventKind.FUMBLE, None, draft.holder()))
        draft.events.append(BallEvent(event, None, draft.holder()))
    elif event is EventKind.LATERAL and draft.events and draft.events[-1] == BallEvent(event, None, draft.holder()):
        pass  # "hook and lateral, pass to own 44 then lateral"
    else:
        draft.events.append(BallEvent(event, None, draft.holder()))
    if event is EventKind.LATERAL and draft.kind in GAINING and draft.spot_said is not None:
        draft.change_event(spot=draft.spot_said)  # "complete to own 45, lateral, tackled at opp 48"
    if draft.phrase.endswith(" by"):
        draft.prep = "by"
    draft.slot = "event"
    if event is EventKind.LATERAL:
        draft.slot = "gain" if draft.kind in (None, *GAINING) and not draft.gain_said else "event"


def _lies_there(draft: Draft) -> bool:
    """A punt came down, and nothing else was said of it."""
    return (draft.kind is PlayKind.PUNT and draft.kick_to is not None and draft.outcome is None and not draft.returned
        and not draft.events and draft.spot is None)


def recovered(draft: Draft, word: Word, ahead: Ahead) -> None:
    """A loose ball was recovered."""
    if draft.play_kind is PlayKind.COIN_TOSS and draft.phrase == "rec":
        if draft.fields.get("choice") != "defer":
            draft.put("choice", "receive")
        draft.side = None
        return
    draft.settle_if_kick()
    kick = draft.play_kind in (*KICKS, PlayKind.FIELD_GOAL) or draft.outcome is Outcome.BLOCKED
    if draft.outcome is Outcome.BLOCKED and not draft.events and draft.spot is not None:
        draft.events.append(BallEvent(EventKind.BLOCK, draft.fields.pop("spot"), None))     # "blocked at the 22, ..."
    loose = draft.events and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF, EventKind.BLOCK,
        EventKind.LATERAL, EventKind.OUT_OF_BOUNDS)
    if draft.two_point and not draft.events and "get" in FORMS.get(draft.phrase.split()[0], ()):
        if draft.outcome not in (None, Outcome.GOOD):
            raise Refused("what was made?")
        draft.fields["outcome"] = Outcome.GOOD  # "they go for two and get it"
        return
    if (draft.events and draft.events[-1].kind is EventKind.RECOVERY and word.value is None
            and draft.events[-1].by is None):
        return
    if draft.phrase == "covered" and draft.outcome is Outcome.INCOMPLETE and not draft.events and not kick:
        return  # "incomplete, he was covered"
    if draft.in_foul and draft.fouls and not (loose or kick) and "get" in FORMS.get(draft.phrase.split()[0], ()):
        draft.last, draft.side = "ball", None  # "pass interference, we get it at their 41"
        return
    by: Side | None
    if word.value == "fumble" and not loose and not kick:
        draft.events.append(BallEvent(EventKind.FUMBLE, None, draft.holder()))
        loose = True
    lost = word.value == "other" and draft.phrase in ("loses it", "lost it", "lose it")
    if lost and not draft.events and not kick and draft.kind in (None, PlayKind.RUN, PlayKind.PASS, PlayKind.SACK):
        draft.fill(f"{draft.phrase} is taken for a fumble")
        event(draft, Word("fumble", Role.EVENT, (EventKind.FUMBLE, None)), ahead)  # "gains 8, then loses it"
        return
    if word.value in ("other", "same"):
        if not draft.events and not kick:
            raise Refused(f"what was {word.text}?")
        if draft.events and not loose:
            raise Refused(f"{word.text}: nothing was loose")
        holder = draft.events[-1].by if draft.events and draft.events[-1].by is not None else draft.holder()
        if not draft.events:
            holder = Side.OFFENSE
        by = holder if word.value == "same" else holder.other
        if not draft.events and word.value == "other":
            raise Refused("who lost it?")
    else:
        if not loose and not kick and draft.kind not in (None, PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, *TRIES):
            raise Refused("what was recovered?")
        if draft.events and not loose:
            raise Refused("nothing was loose")
        if (not loose and not draft.events and not kick and draft.kind in (None, PlayKind.PASS, PlayKind.SACK,
                PlayKind.RUN)):
            raise Refused("nothing was loose; say fumble first")
        by = None if ahead.role in (Role.SIDE, Role.TEAM) and "by" in draft.phrase else draft.side
        draft.side = None
        if (by is None and draft.actor is not None and "by" not in draft.phrase
                and ahead.role not in (Role.SIDE, Role.TEAM)):
            by = draft.actor
            if not (draft.events and draft.phrase.endswith("back") and by is draft.events[-1].by):
                draft.fill("who recovered was not said")  # but "they muffed it and got it back"
    draft.in_foul = False
    draft.events.append(BallEvent(EventKind.RECOVERY, None, by))
    if draft.pending_by is not None and by is None:
        draft.change_event(by=draft.pending_by)
    draft.returned, draft.came_from = False, None
    draft.slot = "event"

"""Words for kinds of play, and how one was made: what they do to the play in the making."""

from __future__ import annotations

from ..plays import BallEvent, EventKind, Outcome, PlayKind, Score, Side
from ..situation import Next
from .custom import Ahead
from .draft import BETWEEN, FREE_KICKS, GAINING, KICKS, TRIES, Draft, Refused
from .happenings import returned
from .kinds import acted, set_kind
from .word import Word
from .words_of_plays import FROM_WHOM_TO_WHOM


# -- kinds ------------------------------------------------------------------------------------------
def as_on_try(kind: PlayKind, outcome: Outcome | None) -> tuple[PlayKind, Outcome | None]:
    """What a scrimmage play is on a try."""
    if kind is PlayKind.RUN:
        return PlayKind.TRY_RUN, None
    if kind is PlayKind.KNEEL:
        return PlayKind.TRY_RUN, Outcome.NO_GOOD
    if kind is PlayKind.SACK:
        return PlayKind.TRY_PASS, Outcome.NO_GOOD
    if kind is PlayKind.PASS:
        missed = outcome in (Outcome.INCOMPLETE, Outcome.INTERCEPTED)
        return PlayKind.TRY_PASS, Outcome.NO_GOOD if missed else None
    if kind is PlayKind.FIELD_GOAL:
        return PlayKind.TRY_KICK, outcome
    return kind, outcome


_PASSIVE = ("gets ", "got ", "get ", "is ", "was ")


def _actors(kind: PlayKind, outcome: Outcome | None, phrase: str) -> tuple[Side, ...]:
    """Who may be named as the one who did it; the likelier first."""
    if outcome is Outcome.INTERCEPTED:
        return (Side.OFFENSE,) if phrase.startswith(_PASSIVE) else (Side.DEFENSE,)
    if kind is PlayKind.SACK or outcome is Outcome.INCOMPLETE:
        return tuple(Side)
    return () if kind in (*BETWEEN, PlayKind.NO_PLAY, PlayKind.REPLAY_REVERSAL) else (Side.OFFENSE,)


_PLAIN_RUN = ("run", "rush", "r", "carry", "keeps it", "takes off", "on the ground")
_CAUGHT = ("screen", "slant", "hitch", "swing pass", "shovel pass", "quick out", "pop pass")
"""How a pass was thrown behind which what the runner does is told of who caught it."""


def kind_said(draft: Draft, word: Word, ahead: Ahead) -> None:
    """A kind of play was said."""
    kind, outcome = word.value
    if draft.phrase in FROM_WHOM_TO_WHOM and draft.kind is not None:
        if draft.kind not in (PlayKind.PASS, PlayKind.TRY_PASS):
            raise Refused(f"{draft.kind.value} was said already")
        return
    if draft.inferred.endswith("for it was wide") and kind is not PlayKind.FIELD_GOAL:
        draft.kind, draft.inferred, draft.slot = None, "", ""  # "wide right, pass incomplete"
        draft.fields.pop("outcome", None)
    draft.letter_alone = draft.letter_alone or (draft.phrase == "p" and draft.before.down == draft.rulebook.downs)
    draft.punt_told = draft.punt_told or "punt" in draft.phrase.split()
    draft.uncharged = draft.uncharged or word.text == "officials' timeout"
    actors = _actors(kind, outcome, draft.phrase)
    if actors and draft.kind is None and not draft.events:
        acted(draft, *actors)
    on_try = draft.before.next is Next.TRY or draft.two_point
    if kind in (PlayKind.PUNT, PlayKind.KICKOFF) and draft.due is PlayKind.SAFETY_FREE_KICK:
        kind = PlayKind.SAFETY_FREE_KICK
    if kind is PlayKind.PUNT and draft.due is PlayKind.KICKOFF and draft.phrase.startswith("kick"):
        kind = PlayKind.KICKOFF  # "kicks it away"
    complete = (kind is PlayKind.PASS and outcome is Outcome.COMPLETE
        and any(part in draft.phrase for part in ("complet", "caught", "reception", "connects", "hits")))
    if on_try and not word.text.startswith("scrimmage") and not draft.exact:
        if kind in (PlayKind.PASS,) and outcome is Outcome.INTERCEPTED:
            draft.holder_on_try = Side.DEFENSE
        kind, outcome = as_on_try(kind, outcome)
        if complete and draft.outcome is None:
            outcome = Outcome.GOOD
            draft.fill("complete in the end zone: good")
    draft.in_foul = kind is PlayKind.NO_PLAY and bool(draft.fouls)
    if kind is PlayKind.RUN and draft.kind is None and draft.due in FREE_KICKS and draft.side is Side.DEFENSE:
        returned(draft, word, ahead)  # "their kid ran our kickoff back"
        return
    if kind is PlayKind.KNEEL and draft.outcome is Outcome.INTERCEPTED and not draft.returned:
        draft.touchback = draft.touchback or (draft.caught is not None and draft.caught >= draft.in_field)
        draft.fill("knelt down where it was intercepted")
        return
    if kind is PlayKind.KNEEL and draft.play_kind in KICKS:  # who catches the kick kneels in the end zone
        draft.settle_kind()
        if not draft.zone and not draft.touchback:
            draft.fill("knelt down with the kick")
        draft.zone = "kick in"
        return
    if kind is PlayKind.KNEEL and draft.outcome is Outcome.INTERCEPTED:  # who caught it kneels where he is
        draft.touchback = draft.touchback or (draft.caught is not None and draft.caught > draft.in_field)
        draft.fill("knelt down with the ball")
        return
    if outcome is Outcome.INCOMPLETE and draft.events and draft.events[-1].kind is EventKind.LATERAL:
        return  # a backward pass that hits the ground is loose
    if kind is PlayKind.PASS and draft.kind in KICKS and draft.phrase.startswith("hit") and draft.kick_to is None:
        draft.slot, draft.prep = "kick_to", "at"
        return
    if (outcome is Outcome.INCOMPLETE and draft.kind in KICKS and draft.phrase.startswith(("nobody", "no one", "not"))
            and not (draft.returned or draft.spot is not None or draft.events)):
        draft.unreturned = True  # "nobody caught it"
        return
    if outcome is Outcome.INCOMPLETE and draft.kind in KICKS and draft.phrase.startswith("drop"):
        draft.events.append(BallEvent(EventKind.MUFF, draft.kick_to, Side.DEFENSE))
        draft.fields["outcome"], draft.slot = Outcome.MUFFED, "event"
        draft.fill("a kick dropped is taken for muffed")
        return
    if outcome is Outcome.INCOMPLETE and draft.kind is PlayKind.RUN and draft.phrase.startswith("drop"):
        if draft.phrase.endswith("by") or ahead.role in ("loss", "filler"):
            return  # "counter, dropped by 97 for a loss of 4"
        draft.events.append(BallEvent(EventKind.FUMBLE, None, draft.holder()))
        draft.slot = "event"
        draft.fill("a pitch dropped is taken for a fumble")
        return
    if (draft.kind in (PlayKind.TRY_KICK, PlayKind.FIELD_GOAL) and draft.outcome is None and draft.length is None
            and kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.TRY_RUN, PlayKind.TRY_PASS)
            and not (draft.fouls or draft.returned or (draft.events and kind in (PlayKind.RUN, PlayKind.TRY_RUN)))
            and all(event.kind is EventKind.MUFF and event.by is not Side.DEFENSE for event in draft.events)):
        tried = draft.kind.value
        draft.kind = None
        set_kind(draft, kind, outcome)
        draft.fill(f"the {tried} was not made")  # "snap high, pass incomplete"
        return
    draft.complete = draft.complete or complete
    now = draft.kind
    if (kind is PlayKind.RUN and now is PlayKind.PUNT and draft.kick_to is None and draft.events
            and draft.phrase != "run"
            and draft.events[0] == BallEvent(EventKind.MUFF, draft.events[0].spot, Side.OFFENSE)):
        draft.kind = now = None  # "bad snap on the punt, he picked it up and ran for three"
        draft.fill("the punt was not made")
    if kind is PlayKind.REPLAY_REVERSAL and now in (PlayKind.RUN, PlayKind.PASS) and ahead.role and (
            draft.gain_said or draft.spot_said is not None or draft.score is not None):
        draft.fields = {name: value for name, value in draft.fields.items() if name in ("clock", "comment", "manner")}
        draft.fields["outcome"] = Outcome.COMPLETE if now is PlayKind.PASS else None
        draft.events, draft.gain_said, draft.spot_said, draft.complete, draft.zone = [], False, None, False, ""
        draft.slot = "gain"
        draft.fill("told as it was reversed")  # "caught for 15, overturned, incomplete"
        return
    if now is None:
        held = draft.outcome
        if held is not None and outcome is not None and held is not outcome and outcome is not Outcome.COMPLETE:
            raise Refused(f"{held.value} was said already")
        if held in (Outcome.GOOD, Outcome.NO_GOOD) and kind not in (PlayKind.FIELD_GOAL, *TRIES):
            raise Refused(f"a {kind.value} cannot be {held.value}")
        if draft.events and kind in (*BETWEEN, PlayKind.KICKOFF, PlayKind.NO_PLAY, PlayKind.SPIKE):
            raise Refused(f"{kind.value} cannot follow what happened to the ball")
        if kind is PlayKind.PUNT and set(draft.phrase.split()) & {"off", "away"}:
            draft.events.clear()  # "high snap, punter gets it off": the snap changed nothing
        keep = (draft.slot if draft.events and not (draft.events[-1].kind is EventKind.MUFF and kind in GAINING)
            else None)
        set_kind(draft, kind, held if held is not None and outcome in (None, Outcome.COMPLETE) else outcome)
        if keep is not None:
            draft.slot = keep
        return
    caught = draft.complete or (draft.phrase not in _PLAIN_RUN and draft.fields.get("manner") in _CAUGHT)
    if kind is PlayKind.RUN and now is PlayKind.PASS and caught and draft.kind_from_manner and not draft.events:
        draft.slot = "gain" if not draft.gain_said else ""  # "catch and run for 18"
        return
    if kind is PlayKind.NO_PLAY:
        draft.nullified = True
        return
    if kind is PlayKind.TRY_KICK and now in (PlayKind.RUN, PlayKind.PASS) and draft.phrase == "conversion":
        draft.claims.append("first down")  # "for 5, that's a conversion"
        return
    if kind is PlayKind.MEASUREMENT and now in GAINING and draft.prep and draft.phrase in ("sticks", "chains"):
        return  # "caught at the sticks"
    if kind is PlayKind.MEASUREMENT and now in GAINING and (draft.gain_said or draft.spot_said is not None):
        draft.measured = True
        return  # "run 9, they measure, first down"
    if now is PlayKind.SACK and kind is PlayKind.PASS and draft.prep == "to" and outcome is Outcome.COMPLETE:
        return  # "went down trying to throw"
    if kind is PlayKind.END_OF_PERIOD and now is not None and now not in BETWEEN:
        draft.fill(f"{draft.phrase} is a line of its own")
        return
    if now is PlayKind.SPIKE and outcome is Outcome.INCOMPLETE:
        return
    if now is PlayKind.NO_PLAY and kind not in BETWEEN:
        raise Refused("no play was said already")
    carried_back = kind is PlayKind.RUN and now in KICKS and draft.kick_to is not None
    if (draft.kind_from_manner and now is not kind and not draft.events and not carried_back
            and not (draft.outcome is Outcome.INTERCEPTED and kind is PlayKind.RUN)):
        if kind in FREE_KICKS or now in FREE_KICKS:
            raise Refused(f"{now.value} was said already")
        gain, slot = draft.gain, draft.slot
        draft.fields.pop("outcome", None)
        set_kind(draft, kind, outcome)
        draft.complete = draft.complete and kind is PlayKind.PASS
        draft.slot = slot if gain is not None else draft.slot
        draft.kind_from_manner = False
        return
    if now is kind:
        draft.inferred = ""
        old = draft.outcome
        if outcome is None or outcome is old:
            return
        if outcome is Outcome.COMPLETE:
            if word.text == "pass" and old is not None and not complete:
                return
            raise Refused(f"{old.value if old else 'something else'} was said already")
        if (old is Outcome.COMPLETE and draft.gain is None and draft.spot_said is None
                and not draft.complete) or old is None:
            draft.fields["outcome"] = outcome
            draft.slot = "caught" if outcome is Outcome.INTERCEPTED else ""
            return
        if old is Outcome.INCOMPLETE and outcome is Outcome.INTERCEPTED:
            draft.fields["outcome"], draft.slot = outcome, "caught"
            draft.fill("intercepted before it was incomplete", 2)
            return
        if old is Outcome.COMPLETE and outcome is Outcome.INCOMPLETE and draft.out and not draft.gain_said:
            draft.fields["outcome"] = outcome
            draft.fill("caught out of bounds: incomplete")
            return
        raise Refused(f"{old.value if old else 'something else'} was said already")
    if kind is PlayKind.RUN and now is PlayKind.PASS and not draft.events and outcome_is_catch(draft):
        return  # "caught at the 38 and runs to the 45"
    if (kind is PlayKind.RUN and now is PlayKind.PASS and draft.outcome is Outcome.COMPLETE and not draft.events
            and draft.phrase in ("run it", "ran it", "runs it", "took it", "takes it")):
        draft.fill("who ran is taken to have caught it")  # "threw a short one and he ran it down to the 8"
        return
    if (
        kind is PlayKind.RUN
        and now is not PlayKind.RUN
        and (
            draft.outcome is Outcome.INTERCEPTED
            or (draft.events and draft.events[-1].kind is EventKind.RECOVERY)
            or (carried_back or (now in (PlayKind.FIELD_GOAL, PlayKind.TRY_KICK)
            and draft.outcome in (Outcome.NO_GOOD, Outcome.BLOCKED)))
        )
    ):  # "intercepted at own 40 and run to own 45"
        again = draft.returned
        returned(draft, word, ahead)
        if again or not carried_back:
            draft.fill("the run was taken for the return")
        return
    if (kind is PlayKind.PASS and now is PlayKind.RUN and draft.gain is None and draft.spot_said is None
            and not draft.passed
            and not (draft.events or draft.fouls or draft.zone or draft.score or draft.out or draft.loss)
            and draft.fields.get("manner") in (None, "", "scramble", "bootleg", "reverse", "sweep", "option")):
        set_kind(draft, kind, outcome)
        draft.complete = complete
        draft.fill("who ran is taken to have thrown then")  # "he ran out of the pocket and threw it"
        return
    if kind is PlayKind.REPLAY_REVERSAL or now is PlayKind.REPLAY_REVERSAL:
        if now is PlayKind.REPLAY_REVERSAL and kind is PlayKind.PASS and outcome is not None:
            if draft.outcome is Outcome.COMPLETE and not draft.complete:
                draft.fields["outcome"] = None
            draft.put("outcome", outcome)
            draft.slot = "gain" if outcome is Outcome.COMPLETE else draft.slot
            return
        raise Refused(f"{now.value} was said already")
    if (word.text in ("kickoff", "safety free kick", "try kick") and now in (*KICKS, PlayKind.FIELD_GOAL,
            PlayKind.TRY_KICK) and ((now in FREE_KICKS and word.text != "try kick"
            and _same_free_kick(now, word, draft.phrase)) or ahead.role == "kick")):
        return
    if draft.two_point and now in (PlayKind.TRY_RUN, PlayKind.TRY_PASS) and kind is PlayKind.TRY_KICK:
        raise Refused("a kick is no two-point try")
    raise Refused(f"{now.value} was said already")


def outcome_is_catch(draft: Draft) -> bool:
    """A pass was caught, and where or how far was said."""
    return draft.outcome is Outcome.COMPLETE and (draft.complete or draft.spot_said is not None or draft.gain_said)


def _same_free_kick(now: PlayKind, word: Word, phrase: str) -> bool:
    """A free kick was said again: in the same words, or simply as a free kick."""
    return word.value[0] is now or phrase == "free kick"


_LAYERS = {name: layer for layer, names in enumerate((("play action", "rpo", "wildcat", "fake"), ("bootleg",),
    ("smash", "flood", "mesh", "verticals"), ("hitch", "deep pass", "quick out", "slant", "fade", "swing pass",
    "screen", "checkdown", "hail mary", "shovel pass", "keeper", "sweep", "power", "counter", "zone", "dive", "draw",
    "option", "read option", "toss", "scramble", "sneak", "reverse", "end around", "trap", "belly", "midline", "rocket",
    "duo", "pin and pull", "jet sweep", "pop pass"), ("off tackle",))) for name in names}
"""How a play is begun, how the passer moves, the concept, the route or the run itself, and where it goes: one of each
can be said of one play."""


def _layered(told: str | None, manner: str) -> bool:
    return told in _LAYERS and manner in _LAYERS and _LAYERS[told] != _LAYERS[manner]


def manner_said(draft: Draft, word: Word, ahead: Ahead) -> None:
    """How a run, a pass or a kick was made was said."""
    kind, manner = word.value
    draft.in_foul = False
    if draft.kind is None and not draft.events:
        acted(draft, Side.OFFENSE)
    if draft.exact:
        draft.fields["manner"] = manner
        return
    if draft.fields.get("manner") and manner == "keeper" and draft.kind in (None, PlayKind.RUN):
        pass  # "zone read, the quarterback keeps it"
    elif draft.fields.get("manner") in ("option", "read option") and manner == "toss":
        pass  # "option right, pitches it"
    elif draft.fields.get("manner") in ("keeper", "sneak", "scramble") and manner == "dive":
        pass  # "keeps it and dives ahead"
    elif _layered(draft.fields.get("manner"), manner):
        pass  # "play action, deep post"
    elif draft.fields.get("manner") and draft.fields["manner"] != manner:
        draft.fill(f"{draft.fields['manner']} was said too")
    else:
        draft.fields["manner"] = manner
    if kind is None:
        if not draft.slot and draft.kind is None:
            draft.slot = "gain"
        return
    if draft.kind is None:
        outcome = Outcome.COMPLETE if kind is PlayKind.PASS else None
        if draft.before.next is Next.TRY:
            kind, outcome = as_on_try(kind, outcome)
        held = draft.outcome
        if held is not None and outcome in (None, Outcome.COMPLETE):
            outcome = held
        set_kind(draft, kind, outcome)
        draft.kind_from_manner = True
        return
    if (draft.kind is not kind and not (draft.kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.TRY_RUN,
            PlayKind.TRY_PASS, PlayKind.SACK) and kind in (PlayKind.RUN, PlayKind.PASS))
            and not (draft.kind in KICKS and kind in KICKS)):
        raise Refused(f"{draft.kind.value} was said already")


_FOR_TWO = ("for two", "for 2", "for two points", "two points", "2 pts")


def two_point_said(draft: Draft, word: Word, ahead: Ahead) -> None:
    """A try for two points was said."""
    if draft.score is Score.SAFETY and draft.phrase in _FOR_TWO:
        return
    if draft.kind in (PlayKind.TRY_RUN, PlayKind.TRY_PASS) and draft.phrase in _FOR_TWO and draft.zone:
        draft.points_said = True
    if draft.returned and draft.before.next is Next.TRY:  # "returned for two points"
        draft.two_point = True
        return
    if draft.phrase in _FOR_TWO and draft.before.next is not Next.TRY and draft.kind not in TRIES:
        raise Refused("two points are scored on a try")
    carried_in = draft.prep == "in" and draft.kind in (PlayKind.RUN, PlayKind.TRY_RUN) and draft.outcome is None
    if draft.phrase.split()[1:3] == ["in", "the"] or carried_in:
        draft.fields["outcome"] = Outcome.GOOD  # "runs in the two point try"
    if draft.kind is None:
        draft.two_point = True
        draft.slot = "gain"
    elif draft.kind in (PlayKind.RUN, PlayKind.PASS):
        draft.kind, outcome = as_on_try(draft.kind, draft.outcome)
        draft.fields["outcome"] = outcome
        draft.two_point = True
    elif draft.kind is PlayKind.TRY_KICK and draft.rulebook.try_kick_points == 2:
        return
    elif draft.kind in (PlayKind.TRY_RUN, PlayKind.TRY_PASS):
        draft.two_point = True
        draft.for_two = draft.for_two or draft.phrase.startswith(("for two", "for 2"))
        if draft.phrase.startswith("for two") and draft.complete and draft.outcome is None:
            draft.fields["outcome"] = Outcome.GOOD
            draft.fill("caught for two points: good")
    else:
        raise Refused(f"{draft.kind.value} was said already")

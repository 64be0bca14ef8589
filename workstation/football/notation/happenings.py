"""What became of the play: outcomes, kicks that missed, returns, catches, loose balls, scores."""

from __future__ import annotations

import re

from ..plays import BallEvent, EventKind, Outcome, PlayKind, Score, Side
from ..situation import Next
from .custom import Ahead
from .draft import BETWEEN, FREE_KICKS, GAINING, KICKS, SNAP_TO_KICK, TRIES, Draft, Refused
from .kinds import acted, intercepted_by_side, may_be_intercepted, set_kind
from .loose_balls import recovered
from .verbs import FORMS
from .word import Role, Word
from .yards import return_base, returned_yards

_DONE_BY = {Outcome.BLOCKED: (Side.DEFENSE,), Outcome.FAIR_CATCH: (Side.DEFENSE,), Outcome.MUFFED: (Side.DEFENSE,),
    Outcome.DOWNED: (Side.OFFENSE,), Outcome.GOOD: (Side.OFFENSE,), Outcome.NO_GOOD: tuple(Side)}


def outcome(draft: Draft, word: Word, ahead: Ahead) -> None:
    """What became of the play was said: out of bounds, a touchback, a fair catch, good, no good ..."""
    outcome: Outcome = word.value
    if outcome in _DONE_BY and not (outcome is Outcome.MUFFED and draft.events):
        acted(draft, *_DONE_BY[outcome])
    was_in_foul = draft.in_foul
    draft.settle_if_kick()
    kind = draft.kind
    draft.in_foul = False
    if (kind is None and draft.phrase in ("stopped", "stuffed", "turned away") and draft.before.next is Next.SCRIMMAGE
            and not draft.two_point):
        return  # "the defense stuffs the run"
    if outcome is Outcome.MUFFED and draft.outcome is Outcome.INCOMPLETE and not draft.events:
        return  # "incomplete, he bobbled it"
    if outcome is Outcome.OUT_OF_BOUNDS:
        if was_in_foul and draft.fouls and "late" in draft.fouls[-1]["phrase"]:
            draft.in_foul = True  # a late hit out of bounds
            return
        if " him " in draft.phrase:
            acted(draft, draft.holder().other)  # "a defender pushes him out of bounds"
        of_the_runner = draft.phrase.startswith(("runner", "ball carrier")) or (kind is None and draft.due is None
            and (draft.runner or draft.phrase.startswith(("push", "forc", "knock", "step", "runs him")))
            and not draft.anything_said())
        if of_the_runner and kind in KICKS and not draft.returned and not draft.events:
            returned(draft, word, ahead)
            draft.out = True
            return
        if draft.events and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF):
            draft.events.append(BallEvent(EventKind.OUT_OF_BOUNDS, None, None))
            draft.slot = "event"
            return
        draft.out = True
        if (re.match(r"r[ua]ns? (?:it )?out", draft.phrase) and kind is None and draft.due is None and draft.side is not
                Side.DEFENSE and draft.before.next is Next.SCRIMMAGE and not draft.anything_said()):
            set_kind(draft, PlayKind.RUN, None)  # "ran out of bounds for 3"
            draft.kind_from_manner = True
            return
        if draft.phrase == "out at" and kind in GAINING:
            draft.prep = "at"
        scrimmage = draft.due is None and draft.before.next is Next.SCRIMMAGE and not draft.events
        scrimmage = scrimmage and not draft.phrase.startswith("run")
        if kind is None and (of_the_runner or (draft.fields.get("manner") and draft.due is None)
                or (scrimmage and draft.before.down != draft.rulebook.downs)):
            return  # nobody but who has the ball can go out before the last down
        if kind in GAINING or (kind is None and (draft.gain_said or draft.spot_said is not None
                or draft.pending is not None)):
            if kind is PlayKind.RUN:
                draft.fields.setdefault("outcome", outcome)
            return
        if draft.returned or draft.events:
            return
        if draft.outcome is Outcome.GOOD:
            if draft.phrase == "out":  # "good from 39 yards out"
                return
            raise Refused("good was said already")
        if kind is PlayKind.FIELD_GOAL or draft.outcome is Outcome.BLOCKED:
            draft.slot = "spot"
            return
        if _on_the_last_down(draft) and draft.side is None:
            set_kind(draft, PlayKind.PUNT, None)
            draft.inferred, kind = "a punt, for it went out of bounds on the last down", draft.kind
        if kind not in KICKS:
            raise Refused("what went out of bounds?")
        draft.put("outcome", outcome)
        draft.slot = "kick_to" if draft.kick_to is None else ""
        return
    if outcome is Outcome.TOUCHBACK:
        if kind is None and draft.before.next is Next.SCRIMMAGE and draft.before.down == draft.rulebook.downs:
            set_kind(draft, PlayKind.PUNT, None)
            draft.inferred, kind = "a punt, for a touchback was said on the last down", draft.kind
        if kind is None and not draft.events:
            raise Refused("a touchback of what?")
        if draft.phrase == "tb" and kind in GAINING and draft.outcome is not Outcome.INTERCEPTED and not draft.events:
            raise Refused("a touchback of what?")
        if draft.outcome is Outcome.INTERCEPTED or draft.events or kind is PlayKind.FIELD_GOAL or kind in TRIES:
            draft.touchback = True
            return
        if kind in KICKS and draft.outcome in (None, Outcome.RETURNED, Outcome.DOWNED):
            draft.fields["outcome"] = outcome
            draft.slot = "kick_to" if draft.kick_to is None else ""
            return
        draft.put("outcome", outcome)
        return
    if outcome is Outcome.DOWNED and kind is None and draft.due is None and draft.before.down != draft.rulebook.downs:
        draft.prep = "to"
        return
    if outcome in (Outcome.FAIR_CATCH, Outcome.DOWNED, Outcome.MUFFED):
        if kind is None and draft.due is None:
            if outcome is Outcome.MUFFED and not draft.before.down == draft.rulebook.downs:
                raise Refused("what was muffed?")
            draft.kind = PlayKind.PUNT
            draft.slot = "kick_to"
            draft.inferred = "" if "punt" in draft.phrase else f"a punt, for {outcome.value} was said"
        elif kind is PlayKind.FIELD_GOAL and outcome is not Outcome.MUFFED:
            draft.penalty += 3 * ("punt or field goal was not said" in draft.filled)
            if draft.outcome is Outcome.GOOD:
                raise Refused("good was said already")
            if draft.outcome is None:
                draft.fields["outcome"] = Outcome.NO_GOOD
            draft.slot = "kick_to"
            return
        elif kind not in KICKS:
            if outcome is Outcome.MUFFED and kind in (PlayKind.RUN, PlayKind.FIELD_GOAL, PlayKind.TRY_KICK):
                raise Refused("say fumble, or bad snap")
            if kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK) and outcome is Outcome.DOWNED:
                draft.prep = "to"
                return
            raise Refused(f"a {kind.value if kind else 'play'} is not told by {outcome.value}")
        if outcome is Outcome.MUFFED:
            if draft.outcome in (None, Outcome.RETURNED, Outcome.FAIR_CATCH):
                draft.fields["outcome"] = outcome
            elif draft.outcome is not outcome:
                raise Refused(f"{draft.outcome.value if draft.outcome else ''} was said already")
            draft.events.append(BallEvent(EventKind.MUFF, draft.kick_to, Side.DEFENSE))
            draft.slot = "event"
            return
        if outcome is Outcome.DOWNED and draft.outcome in (Outcome.TOUCHBACK, Outcome.BLOCKED, Outcome.OUT_OF_BOUNDS):
            return
        draft.put("outcome", outcome)
        draft.slot = "kick_to" if draft.kick_to is None else ""
        return
    if outcome is Outcome.BLOCKED:
        if kind is None and draft.before.next is Next.TRY:
            draft.kind = PlayKind.TRY_KICK
        elif kind not in (None, PlayKind.PUNT, PlayKind.FIELD_GOAL, PlayKind.TRY_KICK) or draft.due in FREE_KICKS:
            raise Refused(f"a {(kind or PlayKind.KICKOFF).value} is not blocked")
        if draft.outcome is Outcome.NO_GOOD:
            draft.fields["outcome"] = outcome
        else:
            draft.put("outcome", outcome)
        draft.slot = "spot" if draft.length is not None or kind is PlayKind.PUNT else draft.slot or "spot"
        return
    if outcome in (Outcome.GOOD, Outcome.NO_GOOD) and kind is PlayKind.MEASUREMENT:
        draft.put("outcome", Outcome.MADE if outcome is Outcome.GOOD else Outcome.SHORT)
        return
    if outcome is Outcome.GOOD and draft.outcome is Outcome.FAIR_CATCH and draft.phrase.startswith("ma"):
        return  # "a fair catch is signaled and made"
    if outcome in (Outcome.GOOD, Outcome.NO_GOOD):
        if kind is None:
            if ("convert" in draft.phrase and draft.before.next is Next.SCRIMMAGE and not draft.anything_said()
                    and not _length_said(draft)):
                draft.claims.append("first down" if outcome is Outcome.GOOD else "short")
                return  # "converts with a 12 yard scramble"
            if (ahead.role in (Role.KIND, Role.KICK) or (ahead.number and draft.phrase.startswith("miss"))
                    or (ahead.role == Role.TWO_POINT and "kick" not in draft.phrase)):
                pass
            elif draft.before.next is Next.TRY and not draft.two_point:
                draft.kind = PlayKind.TRY_KICK
                draft.slot = ""
                if "kick" not in draft.phrase:
                    draft.fill("a kick, for run or pass was not said")
            elif _length_said(draft):
                set_kind(draft, PlayKind.FIELD_GOAL, None)
            elif not draft.two_point:
                if draft.phrase in ("stopped", "stuffed", "turned away"):
                    return
                if not _near_the_posts(draft) or draft.phrase == "no":
                    raise Refused(f"what is {outcome.value}?")
                set_kind(draft, PlayKind.FIELD_GOAL, None)
                draft.inferred = f"a field goal, for it was {outcome.value}"
        elif (kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK) and outcome is Outcome.NO_GOOD
                and (draft.phrase in ("stopped", "stuffed", "turned away")
                or ("convert" in draft.phrase and draft.before.next is Next.SCRIMMAGE))):
            return
        elif kind in (PlayKind.RUN, PlayKind.PASS) and draft.phrase.startswith("convert"):
            draft.claims.append("first down")
            return
        elif kind is PlayKind.KICKOFF and draft.fields.get("manner") == "onside" and outcome is Outcome.NO_GOOD:
            draft.fill(f"{draft.phrase} tells nothing of who has the ball")
            return
        elif kind is PlayKind.PASS and outcome is Outcome.GOOD and draft.outcome is Outcome.COMPLETE:
            draft.complete = True  # "pass to the end is good"
            return
        elif kind is PlayKind.PASS and outcome is Outcome.NO_GOOD and draft.outcome in (Outcome.COMPLETE,
                Outcome.INCOMPLETE) and not (draft.complete or draft.gain_said or draft.events):
            draft.fields["outcome"], draft.slot = Outcome.INCOMPLETE, ""  # "deep pass no good, incomplete"
            return
        elif kind not in (PlayKind.FIELD_GOAL, *TRIES):
            raise Refused(f"a {kind.value} is not {outcome.value}")
        if draft.outcome is Outcome.BLOCKED and outcome is Outcome.NO_GOOD:
            return
        if draft.off_upright:
            draft.fields["outcome"], draft.off_upright = None, False
        draft.put("outcome", outcome)
        return
    if outcome is Outcome.MADE:
        if draft.two_point and draft.outcome in (None, Outcome.GOOD):
            draft.fields["outcome"] = Outcome.GOOD  # "they go for two and get it"
            return
        if kind in (PlayKind.RUN, PlayKind.PASS) and draft.before.next is Next.SCRIMMAGE and not draft.events:
            draft.claims.append("first down")  # "sneak, got it"
            return
        if kind is None and draft.before.next is Next.SCRIMMAGE and draft.before.down == draft.rulebook.downs:
            draft.claims.append("first down")  # "went for it and got it"
            return
        if kind is not PlayKind.MEASUREMENT:
            raise Refused("what was made?")
        draft.put("outcome", outcome)
        return
    draft.put("outcome", outcome)


def _near_the_posts(draft: Draft) -> bool:
    """Nothing was said yet, and a field goal may be tried on the last down from where the ball is."""
    return (draft.kind is None and not draft.anything_said() and draft.before.next is Next.SCRIMMAGE
        and draft.before.down == draft.rulebook.downs and (draft.start or 0) > 0.62 * draft.in_field)


def _on_the_last_down(draft: Draft) -> bool:
    """Nothing was said yet of what may be a punt."""
    return (draft.kind is None and not draft.anything_said() and draft.before.next is Next.SCRIMMAGE
        and draft.before.down == draft.rulebook.downs)


def _length_said(draft: Draft) -> bool:
    """The yards of a kick were said before it was called one: "a 37 yarder is good"."""
    return (draft.kind is None and draft.pending is not None and draft.start is not None and not draft.events
        and abs(draft.posts - (draft.start - SNAP_TO_KICK) - draft.pending) <= 3)


_OF_THE_LINE_TO_GAIN = ("stopped short", "first", "marker", "sticks", "chains", "line to gain")


def missed(draft: Draft, word: Word, ahead: Ahead) -> None:
    """A kick was said to be short or wide."""
    kind = draft.play_kind if draft.kind is not None or draft.before.next is Next.TRY else None
    if draft.kind is PlayKind.MEASUREMENT and word.value == "short":
        draft.put("outcome", Outcome.SHORT)
        return
    if kind is None and _length_said(draft):
        set_kind(draft, PlayKind.FIELD_GOAL, None)
        kind = draft.kind
    if kind in (PlayKind.FIELD_GOAL, *TRIES) or draft.two_point:
        if not draft.two_point:
            draft.settle_kind()
        if draft.outcome is Outcome.GOOD:
            raise Refused("good was said already")
        if draft.outcome is None:
            draft.fields["outcome"] = Outcome.NO_GOOD
            draft.off_upright = any(part in draft.phrase for part in ("upright", "crossbar", "post")) and (
                ahead.role not in ("", Role.OUTCOME))
        draft.in_foul = False
        return
    if (word.value == "short" and (draft.kind is None or draft.phrase == "short")
            and ahead.role in (Role.KIND, Role.KICK)):
        return  # a short pass
    if word.value == "wide" and not draft.phrase.startswith("wide") and _near_the_posts(draft):
        set_kind(draft, PlayKind.FIELD_GOAL, Outcome.NO_GOOD)
        draft.inferred = "a field goal, for it was wide"
        return
    if word.value == "wide" and draft.phrase.startswith(("shank", "hook")) and (_on_the_last_down(draft)
            or draft.due in FREE_KICKS):
        if draft.phrase.startswith("shank") and not _near_the_posts(draft) and draft.due is None:
            set_kind(draft, PlayKind.PUNT, None)
            draft.inferred = "a punt, for it was shanked on the last down"
        return  # "shanked out of bounds"
    if (draft.kind is None and word.value == "wide" and draft.phrase.startswith("wide") and not draft.anything_said()
            and draft.before.next is Next.SCRIMMAGE and draft.before.down == draft.rulebook.downs):
        set_kind(draft, PlayKind.FIELD_GOAL, Outcome.NO_GOOD)
        draft.inferred = "a field goal, for it was wide"
        return
    if word.value == "wide" and draft.kind is PlayKind.RUN and draft.phrase == "wide":
        return  # "pitched it wide"
    if draft.phrase == "pulled" and draft.fields.get("manner") in ("rpo", "read option", "zone", "power", "counter"):
        return  # "rpo pulled": the quarterback kept it
    if draft.kind in KICKS or (draft.kind is None and ahead.role in (Role.KIND, Role.KICK)):
        if not draft.phrase.startswith("shank") and not draft.phrase.endswith("short"):
            draft.fill(f"{draft.phrase} says nothing that is kept")
        return
    told = draft.complete or draft.gain_said or draft.spot_said is not None or draft.events
    if (draft.kind is PlayKind.PASS and draft.outcome is Outcome.COMPLETE and not told
            and draft.phrase in ("falls short", "fell short")):
        draft.fields["outcome"], draft.slot = Outcome.INCOMPLETE, ""
        draft.fill("a pass that falls short is taken for incomplete")
        return
    if word.value == "short" and (draft.kind in GAINING or (draft.kind is None
            and draft.phrase.endswith("dead short of the line to gain"))):
        draft.claims.append("short")
        return
    if (word.value == "short" and draft.kind is None and draft.before.next is Next.SCRIMMAGE
            and (any(part in draft.phrase for part in _OF_THE_LINE_TO_GAIN)
            or (draft.before.down == draft.rulebook.downs and "make it" in draft.phrase)
            or (not _near_the_posts(draft) and (ahead.number or ahead.role in (Role.KIND, Role.MANNER))))):
        draft.claims.append("short")  # "stopped short, gain of 1"
        return
    raise Refused(f"{word.text} of what?")


def returned(draft: Draft, word: Word, ahead: Ahead) -> None:
    """A kick, an interception or a recovered ball was returned."""
    if draft.in_foul and draft.fouls and draft.phrase.startswith("move"):
        draft.prep = "to"  # "delay of game moves it back to the 26"
        return
    draft.settle_if_kick()
    draft.in_foul = False
    kind = draft.kind
    if (draft.events and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF) and draft.side is not None
            and "take" in FORMS.get(draft.phrase.split()[0], ())):
        recovered(draft, word, ahead)  # "the other team took it"
        return
    if draft.events and draft.events[-1].kind is EventKind.FUMBLE and draft.events[-1].by is not None:
        draft.events.append(BallEvent(EventKind.RECOVERY, None, draft.events[-1].by.other))  # "fumble returned"
        draft.fill("who recovered was not said")
    if kind is PlayKind.PASS and draft.side is Side.DEFENSE and may_be_intercepted(draft):
        intercepted_by_side(draft)  # "hitch, their corner takes it back"
        draft.side = None
        draft.fill("who took it back is taken to have intercepted it")
    acted(draft, draft.holder())
    if kind in TRIES or (kind is None and (draft.two_point or draft.before.next is Next.TRY)):
        draft.returned = True
        draft.slot = "return"
        return
    if kind in GAINING and not draft.events and draft.outcome is not Outcome.INTERCEPTED and word.value == "to":
        draft.prep = "to"  # "takes it to the 46"
        return
    if kind in GAINING and not draft.events and draft.outcome is not Outcome.INTERCEPTED:
        raise Refused("nothing was kicked, intercepted or recovered that could be returned")
    if kind is None and not draft.events and "punt" in draft.phrase:
        set_kind(draft, PlayKind.PUNT, None)
        kind = draft.kind
    if (kind is None and not draft.events and draft.before.next is Next.SCRIMMAGE
            and draft.before.down == draft.rulebook.downs and not draft.fouls):
        yards, draft.pending = draft.pending, None
        ended, draft.spot_said = draft.spot_said, None
        set_kind(draft, PlayKind.PUNT, None)  # "a return of 6 after a punt of 40"
        if ended is not None:
            draft.fields["kick_to"] = ended  # "Nash to the 9, 14 return"
        draft.pending, draft.returned, draft.fields["outcome"] = None, True, Outcome.RETURNED
        if yards is not None:
            returned_yards(draft, yards)
        draft.slot, draft.prep = ("kick_to" if yards is not None and ended is None else "return"), ""
        draft.inferred = "a punt, for it was returned on the last down"
        return
    if kind is None and not draft.events:
        raise Refused("what was returned?")
    if kind is PlayKind.SPIKE or draft.outcome in (Outcome.TOUCHBACK, Outcome.FAIR_CATCH, Outcome.DOWNED,
            Outcome.INCOMPLETE, Outcome.GOOD):
        raise Refused(f"{draft.outcome.value if draft.outcome else 'a spike'} was said; nothing can be returned")
    if (kind in KICKS and draft.outcome is None and (not draft.events
            or (draft.events[-1].kind is EventKind.RECOVERY and draft.events[-1].by is Side.DEFENSE
            and len(draft.events) == 1))):
        draft.fields["outcome"] = Outcome.RETURNED
    if kind in KICKS and draft.outcome is Outcome.OUT_OF_BOUNDS and not draft.events:
        draft.doubt("a kick out of bounds cannot be returned")
    if kind is PlayKind.FIELD_GOAL and draft.outcome is None:
        draft.fields["outcome"] = Outcome.NO_GOOD
    if draft.outcome is Outcome.BLOCKED and not draft.events:
        draft.fields["possession"] = Side.DEFENSE
    if draft.zone == "kick in":
        draft.fields["kick_to"] = draft.in_field + draft.rulebook.end_zone_depth / 2
        draft.fill("how deep in the end zone was not said")
        draft.zone = ""
    if not draft.returned or draft.events:
        draft.came_from = return_base(draft)
        draft.returned = True
        draft.end_said = False
    if draft.pending is not None:
        yards, draft.pending = draft.pending, None
        returned_yards(draft, yards)
    elif draft.return_yards is None:
        draft.slot = "return"
    draft.prep = "to" if word.value == "to" else ""


_CARRIED_IN = re.compile(
    r"(?:.* )?(?:r[ua]n|runs|running|(?:punche|pound|bull|ram|plow|plunge|hammer|carrie|plough)e?[sd]|"
    r"carry|punch|plunge|pound) ?(?:it |the ball )?.*in\b|(?:.* )?r[ua]ns?\b")
"""He ran who scored so."""


def score(draft: Draft, word: Word, ahead: Ahead) -> None:
    """Points were scored."""
    if word.value is Score.SAFETY and draft.prep == "by":  # the player of that name
        if draft.complete and may_be_intercepted(draft):
            intercepted_by_side(draft)
            draft.fill("the safety is taken for who caught it")
        return
    if draft.before.next is Next.TRY and draft.phrase.endswith("all the way back"):
        returned(draft, word, ahead)  # "blocked, and they run it all the way back for two"
        return
    draft.settle_if_kick()
    draft.in_foul = False
    if draft.kind in BETWEEN or draft.kind is PlayKind.SPIKE:
        raise Refused(f"a {draft.kind.value} scores nothing")
    if draft.outcome in (Outcome.TOUCHBACK, Outcome.FAIR_CATCH, Outcome.DOWNED) and word.value is Score.TOUCHDOWN:
        draft.doubt(f"a touchdown after a {draft.outcome.value if draft.outcome else ''}")
    if word.value is Score.TOUCHDOWN and draft.side is not None and (draft.kind is not None or draft.events):
        if draft.side is Side.DEFENSE and draft.events and draft.events[-1].kind is EventKind.FUMBLE:
            draft.fields["possession"], draft.side = Side.DEFENSE, None
        else:
            acted(draft, draft.holder())
    if (word.value is Score.SAFETY and draft.kind is PlayKind.FIELD_GOAL and draft.outcome is not Outcome.BLOCKED
            and not draft.returned):
        raise Refused("a field goal is no safety")
    if word.value is Score.SINGLE and draft.before.next is Next.TRY:
        draft.claims.append("points 1")
        return
    if word.value is Score.TOUCHDOWN and draft.complete and draft.kind is PlayKind.PASS and not draft.gain_said:
        draft.spot_said = None  # "caught at the 10 and he walks in, touchdown"
    if word.value is Score.TOUCHDOWN and draft.kind is None and _CARRIED_IN.match(draft.phrase):
        acted(draft, Side.OFFENSE)  # "ran it in"
        set_kind(draft, PlayKind.TRY_RUN if draft.before.next is Next.TRY else PlayKind.RUN, None)
    draft.put("score", word.value)


def pick_six(draft: Draft, word: Word, ahead: Ahead) -> None:
    """An interception or a fumble was returned for a touchdown."""
    if word.value == "scoop":
        if not draft.events:
            draft.events.append(BallEvent(EventKind.FUMBLE, None, Side.OFFENSE))
        draft.events.append(BallEvent(EventKind.RECOVERY, None, Side.DEFENSE))
        draft.put("score", Score.TOUCHDOWN)
        draft.fields["possession"] = Side.DEFENSE
        draft.in_foul = False
        return
    if draft.kind not in (None, PlayKind.PASS):
        raise Refused(f"{draft.kind.value} was said already")
    set_kind(draft, PlayKind.PASS, Outcome.INTERCEPTED)
    draft.put("score", Score.TOUCHDOWN)
    draft.fields["possession"] = Side.DEFENSE

"""The end of a line: what is left open is filled in or refused, what contradicts itself becomes a doubt."""

from __future__ import annotations

from typing import Any

from ..field import spoken_yards
from ..fouls import Enforcement
from ..plays import (
    BallEvent,
    EnforcedAt,
    EventKind,
    Foul,
    FoulDecision,
    FoulTime,
    Outcome,
    Play,
    PlayKind,
    Score,
    Side,
    SituationOverride,
)
from ..situation import Next
from .contradictions import claims, impossible_score, too_far, touchdown
from .downs import Again
from .draft import FREE_KICKS, GAINING, KICKS, PENALTY_YARDS, SNAP_TO_KICK, TRIES, Draft, Finished, Refused
from .foul_rules import may_cost
from .open_ends import kills, kinds, sides


def finish(draft: Draft) -> list[Finished]:
    """Every way to end the line. Raises Refused with what is missing; an empty list if nothing was said."""
    if draft.said is not None and not draft.said:
        raise Refused("set what? Say down 2, to go 7, on own 36, home ball ...")
    ways = []
    for way in kinds(draft):
        for sided in sides(way):
            ways.append(_finished(sided))
    return ways


def _finished(draft: Draft) -> Finished:
    draft = draft.copy()
    fields = draft.fields
    if draft.exactly:
        draft.fill("exactly which foul was not said")
    if draft.dangling:
        draft.fill(f"{draft.dangling} what was not said")
    if not draft.exact:
        _loose_ends(draft)
        _place_zone(draft)
        if draft.kind in GAINING:
            _tackled_by_a_foul(draft)
            _run_end(draft)
            if draft.touchback and draft.events and draft.events[-1].spot is None:
                own = draft.holder() is Side.OFFENSE
                deep = draft.rulebook.end_zone_depth / 2
                draft.change_event(spot=-deep if own else draft.in_field + deep)
        if draft.outcome is Outcome.INTERCEPTED:
            _interception(draft)
        if draft.kind is PlayKind.FIELD_GOAL:
            _field_goal(draft)
        if draft.kind in TRIES:
            _try(draft)
        if draft.kind in KICKS:
            _kick(draft)
        deep = draft.rulebook.end_zone_depth
        if draft.spot is not None and not 0 - deep <= draft.spot <= draft.in_field + deep:
            draft.penalty += 3  # off the field: another side of the yard line comes before it
        touchdown(draft)
        too_far(draft)
        impossible_score(draft)
        claims(draft)
    if draft.kind is PlayKind.MEASUREMENT and draft.before.next is not Next.SCRIMMAGE and not draft.exact:
        draft.doubt("there is nothing to measure")
    fouls = _fouls(draft)
    decided = {foul.by for foul in fouls if foul.decision in (FoulDecision.ACCEPTED, FoulDecision.DECLINED)
        and foul.when in (None, FoulTime.DURING_DOWN)}
    if (len(decided) == 2 and not draft.exact and draft.holder() is Side.OFFENSE and not draft.events
            and draft.kind is not PlayKind.NO_PLAY and not draft.rulebook.five_against_fifteen):
        draft.doubt("fouls of both teams in one down offset")
    said = SituationOverride(**draft.said) if draft.said is not None else None
    assert draft.kind is not None
    play = Play(draft.kind, events=tuple(draft.events), fouls=fouls, override=said, **fields)
    return Finished(play, draft.penalty, tuple(dict.fromkeys(draft.filled)), tuple(draft.doubts), draft)


def _loose_ends(draft: Draft) -> None:
    if draft.off_upright:
        draft.fill("a kick off the upright is taken for no good")
    if draft.inferred:
        draft.fill(draft.inferred)
    if draft.letter_alone and draft.out:
        draft.fill("on the last down p may be a pass or a punt")
    if (draft.outcome is Outcome.BLOCKED and draft.kind in (PlayKind.PUNT, PlayKind.FIELD_GOAL) and not draft.events
            and not draft.returned and draft.possession is None and draft.score is None
            and draft.spot is None and not draft.zone):
        draft.fill("who recovered was not said")
    if (draft.kind is PlayKind.PUNT and draft.events and draft.events[0].kind is EventKind.MUFF
            and draft.events[0].by is Side.OFFENSE and draft.kick_to is None):
        draft.fill("whether it was kicked was not said")
        if draft.score is Score.SAFETY and draft.events[-1].spot is None and not draft.zone:
            draft.change_event(spot=-draft.rulebook.end_zone_depth / 2)  # who snaps it keeps it in his own end zone
    if (draft.score is Score.SAFETY and draft.kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK) and not draft.events
            and not draft.fouls and draft.start is not None and draft.start > 0.4 * draft.in_field):
        draft.doubt(f"a safety from {draft.spoken(draft.start)} takes a loss of {spoken_yards(draft.start)} yards")
    if draft.pending is not None:
        raise Refused(f"{spoken_yards(draft.pending)} yards of what?")
    if draft.two_point and draft.kind not in TRIES:
        draft.doubt(f"a {draft.kind.value if draft.kind else 'play'} is no two-point try")
    if draft.touchback and draft.kind in TRIES and not draft.returned and not draft.events:
        draft.doubt("a try is no touchback")
    if (draft.early.keys() - {"when"} or draft.plus) and not draft.fouls and draft.both is None:
        raise Refused("which foul was it?")
    if draft.flagged and not draft.fouls:
        out = draft.kind in FREE_KICKS and draft.outcome is Outcome.OUT_OF_BOUNDS
        if draft.both is None and not out:
            raise Refused("which foul was it?")
        draft.fill("the flag is for the kick out of bounds" if out else "which fouls was not said")
    if draft.nullified and not draft.fouls:
        raise Refused("which foul called it back?")
    if draft.both is not None and not draft.fouls:
        draft.fill("which fouls was not said")
    if draft.both is FoulDecision.OFFSET and len({foul["by"] for foul in draft.fouls}) == 1:
        draft.fill("the other team's foul was not said")
    subject = draft.side is Side.OFFENSE and not draft.events and not draft.fouls and draft.kind is not PlayKind.TIMEOUT
    if draft.side is Side.DEFENSE and draft.play_kind in KICKS and draft.kick_to is not None and draft.returned:
        subject = True  # "kicked it to their 8 and they got to their 29"
    if draft.side is Side.DEFENSE and draft.outcome is Outcome.INCOMPLETE and not (
            draft.fouls or draft.events or draft.gain_said):
        subject = True  # "incomplete, the corner broke it up"
    if draft.side is not None and draft.side_where is not None and not subject:
        draft.fill(f"{draft.side_where[0]!r} says nothing more", 2)
    if draft.thrown_from is not None:
        draft.fill(f"{draft.spoken(draft.thrown_from)}, where it was thrown, is passed over")
    if draft.loss:
        draft.fill("how far was not said")
    if (draft.kind in (PlayKind.RUN, PlayKind.PASS) and draft.events and draft.outcome is not Outcome.INTERCEPTED
            and draft.gain is None and draft.spot_said is None and draft.spot is None and draft.score is None
            and not draft.zone and not draft.touchback and all(event.spot is None for event in draft.events)):
        draft.fill("where the ball came loose was not said")
    if (draft.kind is PlayKind.SACK and draft.gain is None and draft.spot_said is None and not draft.events
            and draft.score is None and not draft.zone and not draft.fouls and not draft.loss):
        draft.fill("how far was not said")
    if (draft.kind in (PlayKind.RUN, PlayKind.PASS) and draft.outcome in (None, Outcome.COMPLETE,
            Outcome.OUT_OF_BOUNDS) and draft.gain is None and draft.spot_said is None and not draft.events
            and not draft.loss and draft.score is None and not draft.zone and draft.spot is None):
        draft.fill("how far was not said")
    if (draft.kind in KICKS and draft.kick_to is not None and draft.outcome is None and not draft.events
            and not draft.zone and not (draft.returned or draft.unreturned or draft.fouls or draft.score
            or draft.spot is not None or draft.touchback)):
        draft.fill("what became of the kick was not said")
    if ((draft.kind is PlayKind.MEASUREMENT and draft.outcome is None and draft.spot is None)
            or (draft.measured and not {"first down", "short"} & set(draft.claims))):
        draft.fill("what it showed was not said")
    if draft.kind is PlayKind.INADVERTENT_WHISTLE and draft.fields.get("choice") is None:
        draft.fill("what was done then was not said")
    if draft.kind is PlayKind.COIN_TOSS and (draft.fields.get("team") is None or draft.fields.get("choice") is None):
        draft.fill("who won, or what they chose, was not said")
    if draft.kind is PlayKind.REPLAY_REVERSAL and not (draft.fields.keys() - {"clock", "comment"} or draft.events):
        draft.fill("what it became was not said")
    if draft.kind is PlayKind.NO_PLAY and not draft.fouls and draft.both is None:
        draft.fill("which foul was not said")
    if (draft.outcome is Outcome.INTERCEPTED and draft.caught is None and draft.spot is None
            and draft.score is None and not draft.touchback and not draft.events):
        draft.fill("where it was intercepted was not said")
    if (draft.kind in KICKS and draft.kick_to is None and draft.spot is None and not draft.events
            and draft.outcome not in (Outcome.TOUCHBACK, Outcome.BLOCKED) and draft.score is None and not draft.zone
            and not (draft.kind in FREE_KICKS and draft.outcome is Outcome.OUT_OF_BOUNDS)):
        draft.fill("where it came down was not said")
    if (draft.kind in KICKS and draft.events and draft.events[-1].kind is EventKind.RECOVERY and draft.kick_to is None
            and draft.events[-1].by is Side.OFFENSE and draft.outcome is not Outcome.BLOCKED and draft.spot is None
            and draft.score is None and not draft.zone and all(event.spot is None for event in draft.events)):
        draft.fill("where it was recovered was not said")
    long_return = draft.return_yards or 0.0
    if (draft.kind in KICKS and draft.score is Score.TOUCHDOWN and draft.kick_to is None and not draft.events
            and (draft.start or 0.0) < long_return <= draft.in_field + draft.rulebook.end_zone_depth):
        draft.fields["kick_to"] = long_return  # "punt returned for a touchdown, 72 yards"
    elif draft.returned and draft.return_yards is not None and draft.spot is None and draft.kind not in TRIES:
        draft.fill(f"where the return of {spoken_yards(draft.return_yards)} yards began was not said")
    if (draft.returned and draft.return_yards is None and draft.spot is None
            and draft.score is None and not draft.zone and draft.kind not in TRIES and not draft.events):
        draft.fill("how far it was returned was not said")


def _place_zone(draft: Draft) -> None:
    """What "in the end zone" tells, now that the whole line is known."""
    zone, draft.zone = draft.zone, ""
    fields, length, deep = draft.fields, draft.in_field, draft.rulebook.end_zone_depth / 2
    if not zone:
        return
    score = draft.score
    if zone in ("event", "event out"):
        event = draft.events[-1]
        by = event.by or draft.holder()
        own = draft.zone_side is Side.OFFENSE
        if draft.zone_side is None and event.kind is EventKind.OUT_OF_BOUNDS:
            own = draft.holder() is Side.DEFENSE if score is not Score.SAFETY and not draft.snap_lost else True
        elif draft.zone_side is None:
            where = draft.where()
            if score is Score.TOUCHDOWN and zone == "event":
                own = by is Side.DEFENSE
            elif score is Score.SAFETY:
                own = True
            elif draft.touchback:
                own = by is not Side.DEFENSE
            else:
                own = where is not None and where < length / 2
        draft.change_event(spot=0 - deep if own else length + deep)
        if score is None and zone == "event" and own == (by is Side.DEFENSE):
            fields["score"] = Score.TOUCHDOWN
            draft.fill("recovered in the end zone: a touchdown")
        return
    if zone == "score":
        if score is None and draft.kind not in TRIES:
            fields["score"] = Score.TOUCHDOWN
            draft.fill("into the end zone: a touchdown")
        return
    if zone == "started":
        if draft.kick_to is None and draft.kind in KICKS:
            fields["kick_to"] = length + deep
            draft.fill("how deep in the end zone was not said")
        return
    if zone.startswith("kick") and score is Score.SAFETY and not draft.events and draft.kick_to is None:
        out = EventKind.OUT_OF_BOUNDS if zone == "kick through" else EventKind.RECOVERY
        draft.events = [BallEvent(EventKind.MUFF, None, Side.OFFENSE),
            BallEvent(out, 0 - deep, Side.OFFENSE if out is EventKind.RECOVERY else None)]
        draft.fill("the snap is taken to have gone there")
        return
    if zone.startswith("kick"):
        if score is Score.SINGLE or draft.events:
            return
        if score is Score.TOUCHDOWN:
            fields["kick_to"] = length + deep
            draft.fill("how deep in the end zone was not said")
            return
        if draft.outcome is None:
            fields["outcome"] = Outcome.TOUCHBACK
            dead = zone == "kick through" or draft.rulebook.kick_dead_at_goal_line
            if not dead or draft.rulebook.single_point or draft.zone_side is Side.OFFENSE:
                draft.fill("a touchback, for it was in the end zone")
        elif draft.outcome is Outcome.OUT_OF_BOUNDS:
            fields["outcome"] = Outcome.TOUCHBACK
            draft.fill("out of the end zone: a touchback")
        elif draft.outcome in (Outcome.DOWNED, Outcome.FAIR_CATCH, Outcome.MUFFED):
            if draft.outcome is not Outcome.MUFFED:
                fields["kick_to"] = length + deep
            draft.fill("a touchback, for it was in the end zone")
        return
    if score is not None or draft.outcome in (Outcome.INCOMPLETE,):
        return
    ended = draft.spot_said if draft.spot_said is not None else (draft.where() if draft.gain_said else None)
    if draft.kind in (PlayKind.RUN, PlayKind.PASS) and draft.out and ended is not None and 0 < ended < length - 0.5:
        return  # "to the pylon, out at the 2"
    if draft.kind in TRIES:
        if draft.outcome is Outcome.GOOD and (zone == "through" or draft.zone_side is Side.OFFENSE):
            draft.doubt("a good try does not end there")
        if draft.outcome is None and draft.kind is not PlayKind.TRY_KICK:
            fields["outcome"] = Outcome.GOOD
            if not (draft.complete or draft.points_said):
                draft.fill("in the end zone: good")
        return
    if draft.kind in (PlayKind.SACK, PlayKind.KNEEL) or draft.zone_side is Side.OFFENSE:
        fields["score"] = Score.SAFETY
        draft.fill("in the own end zone: a safety")
    elif draft.kind in (PlayKind.RUN, PlayKind.PASS):
        near = draft.start is not None and draft.start < 10 and draft.kind is PlayKind.RUN
        fields["score"] = Score.SAFETY if near else Score.TOUCHDOWN
        far = draft.start is None or draft.start < 0.35 * length  # a pass may be caught in either end zone
        if near or not (draft.crossed_goal or (draft.complete and not far)):
            draft.fill(f"in the end zone: a {fields['score'].value}")
    elif draft.outcome is Outcome.BLOCKED and zone == "through":
        fields["score"] = Score.SAFETY
        draft.fill("out of the own end zone: a safety")
    else:
        draft.fill("which end zone was not said")


def _tackled_by_a_foul(draft: Draft) -> None:
    """A run or catch of which no end was said ended where its tackler fouled."""
    if (len(draft.fouls) != 1 or draft.gain_said or draft.spot_said is not None or draft.events or draft.loss
            or draft.score is not None or draft.outcome not in (None, Outcome.COMPLETE)
            or draft.kind not in (PlayKind.RUN, PlayKind.PASS)):
        return
    foul = draft.fouls[0]
    if foul["name"] in ("horse collar tackle", "face mask") and foul["by"] is Side.DEFENSE and foul.get("spot"):
        draft.spot_said = foul["spot"]
        draft.fill("the run is taken to have ended where the foul was", int(not draft.penalty))


def _run_end(draft: Draft) -> None:
    """Where a run or catch ended, told as a yard line: as yards gained."""
    if draft.spot_said is None:
        return
    if draft.start is None:
        draft.fields["spot"] = draft.spot_said
        return
    gain = draft.spot_said - draft.start
    last = draft.events[-1] if draft.events else None
    if last is not None and last.kind is EventKind.LATERAL and last.spot not in (None, draft.spot_said):
        draft.fields["spot"] = draft.spot_said
        return
    if draft.gain_said:
        if abs(draft.fields["gain"] - gain) > 1:
            draft.doubt(
                f"{spoken_yards(abs(draft.fields['gain']))} yards "
                f"{'lost' if draft.fields['gain'] < 0 else 'gained'} lead to "
                f"{draft.spoken(draft.start + draft.fields['gain'])}, not to {draft.spoken(draft.spot_said)}"
            )
        elif draft.side_guessed:  # the yards gained tell the side
            draft.penalty -= draft.side_guessed
            draft.filled = [said for said in draft.filled if not said.startswith("the side of the")]
        return
    if draft.kind in (PlayKind.SACK, PlayKind.KNEEL) and gain > 0:
        draft.doubt(f"a {draft.kind.value} at {draft.spoken(draft.spot_said)} is ahead of {draft.spoken(draft.start)}")
    draft.fields["gain"] = gain


def _interception(draft: Draft) -> None:
    fields = draft.fields
    if draft.gain is not None:
        raise Refused("an interception gains nothing; say where it was caught")
    if draft.caught is None:
        if draft.touchback:
            if draft.events and draft.events[-1].kind is EventKind.OUT_OF_BOUNDS:
                pass
            elif draft.events or draft.spot is not None:
                fields["spot"], fields["score"] = draft.in_field + draft.rulebook.end_zone_depth / 2, Score.NONE
            else:
                draft.caught, draft.caught_at = draft.in_field + draft.rulebook.end_zone_depth / 2, True
        else:
            return
    if (draft.touchback and draft.caught is not None and draft.caught < draft.in_field
            and not draft.events) or (draft.touchback and draft.events):
        fields["spot"], fields["score"] = draft.in_field + draft.rulebook.end_zone_depth / 2, Score.NONE
    if draft.caught is None:
        return
    if not draft.caught_at and draft.spot is None and not draft.events and draft.score is None:
        fields["spot"] = draft.caught
        return
    draft.events.insert(0, BallEvent(EventKind.INTERCEPTION, draft.caught, Side.DEFENSE))


def _field_goal(draft: Draft) -> None:
    fields, start = draft.fields, draft.start
    if draft.length is not None:
        if draft.kick_from is None:
            fields["kick_from"] = draft.posts - draft.length
        else:
            said = draft.posts - fields["kick_from"]
            if abs(said - draft.length) > 1:
                draft.doubt(
                    f"a kick of {spoken_yards(draft.length)} yards is not one from {draft.spoken(fields['kick_from'])}"
                )
    kicked_from = draft.kick_from
    if (kicked_from is not None and start is not None and draft.before.next is Next.SCRIMMAGE
            and fields.get("choice") != "fair catch kick"):
        usual = draft.posts - (start - SNAP_TO_KICK)
        if abs(kicked_from - (start - SNAP_TO_KICK)) > 2:
            draft.doubt(
                f"from {draft.spoken(start)} a field goal is one of about {spoken_yards(usual)} yards, "
                f"not {spoken_yards(draft.posts - kicked_from)}"
            )
    if draft.outcome is None and draft.score is None and not draft.events and not draft.returned:
        if not draft.fouls or draft.length is not None or draft.kick_from is not None:
            fields["outcome"] = Outcome.GOOD
        draft.fill("whether it was good was not said")
    elif draft.outcome is None and draft.score is Score.SINGLE:
        fields["outcome"] = Outcome.NO_GOOD
    if draft.touchback and draft.outcome is Outcome.GOOD:
        draft.doubt("a good field goal is no touchback")
    if draft.touchback and draft.outcome is None:
        fields["outcome"] = Outcome.NO_GOOD
    if draft.outcome is Outcome.BLOCKED and draft.returned and not draft.events and draft.possession is None:
        fields["possession"] = Side.DEFENSE


def _try(draft: Draft) -> None:
    fields = draft.fields
    if draft.returned or (draft.holder_on_try is Side.DEFENSE and draft.score is Score.TOUCHDOWN):
        if draft.score is not Score.TOUCHDOWN and not draft.two_point and draft.zone != "score":
            draft.fill("returned to the other goal line")
        fields["outcome"] = Outcome.RETURNED
        for name in ("score", "spot", "possession"):
            fields.pop(name, None)
        draft.events.clear()
        if not draft.rulebook.try_return_points:
            draft.doubt("under these rules the defense cannot score on a try")
        return
    if draft.score is Score.TOUCHDOWN and draft.outcome is None:
        fields.pop("score")
        fields["outcome"] = Outcome.GOOD
        draft.fill("good, for it reached the end zone")
    if draft.outcome is None and draft.kind is PlayKind.TRY_KICK and not draft.events and not draft.fouls:
        fields["outcome"] = Outcome.GOOD
        draft.fill("whether it was good was not said")
    elif draft.outcome is None and not draft.events and draft.score is None:
        short = draft.gain is not None and draft.start is not None and draft.start + draft.gain < draft.in_field
        if draft.kind is not PlayKind.TRY_KICK and short:
            fields["outcome"] = Outcome.NO_GOOD  # dead short of the goal line
            return
        if draft.spot_said is not None and draft.spot_said < draft.in_field:
            fields["outcome"] = Outcome.NO_GOOD
            draft.fill("stopped before the goal line: no good")
            return
        if draft.prep == "in":
            fields["outcome"] = Outcome.GOOD  # "two point try, run is in"
            return
        if draft.for_two and not draft.gain_said:
            fields["outcome"] = Outcome.GOOD
            draft.fill("good, for two points were said")
            return
        draft.fill("whether it was good was not said")
        if draft.gain_said:
            return
    fields.pop("length", None)


def _kick(draft: Draft) -> None:
    fields, start = draft.fields, draft.start
    kick_to = draft.kick_to
    if draft.touchback and draft.outcome is not Outcome.TOUCHBACK:
        if draft.events and draft.events[-1].kind is EventKind.MUFF and draft.events[-1].spot is None:
            fields["outcome"] = Outcome.TOUCHBACK
            draft.events.clear()
        elif draft.events:
            fields["spot"], fields["score"] = draft.in_field + draft.rulebook.end_zone_depth / 2, Score.NONE
        else:
            fields["outcome"] = Outcome.TOUCHBACK
    if (draft.kind is PlayKind.PUNT and kick_to is not None and start is not None and kick_to < start
            and draft.outcome is not Outcome.BLOCKED and not draft.events):
        draft.doubt(f"a punt from {draft.spoken(start)} comes down behind it, at {draft.spoken(kick_to)}")
    muffed = (len(draft.events) > 1 and draft.events[0].kind is EventKind.MUFF
        and draft.events[-1].kind is EventKind.RECOVERY)
    if (draft.kind in FREE_KICKS and muffed and draft.events[-1].by is Side.OFFENSE and draft.score is Score.TOUCHDOWN
            and draft.events[-1].spot is not None and draft.events[-1].spot < draft.in_field):
        draft.doubt("the kicking team may not advance its kick")
    if draft.kind in FREE_KICKS and kick_to is not None and start is not None and kick_to < start:
        draft.doubt(f"a kick from {draft.spoken(start)} cannot come down behind it, at {draft.spoken(kick_to)}")
    if draft.kind in FREE_KICKS and kick_to is None and draft.events and draft.events[0].kind is EventKind.RECOVERY:
        fields["kick_to"] = draft.events[0].spot
    if draft.outcome is Outcome.TOUCHBACK and kick_to is not None and kick_to < draft.in_field:
        draft.doubt(f"a kick to {draft.spoken(kick_to)} is no touchback")
    if (draft.outcome is Outcome.MUFFED and draft.events and draft.events[-1].kind is EventKind.MUFF
            and draft.score is None and draft.possession is None and draft.spot is None):
        draft.fill("who recovered was not said")
    if (draft.kind in FREE_KICKS and draft.events and draft.events[0].kind is EventKind.RECOVERY
            and draft.events[0].by is Side.OFFENSE and start is not None):
        where = draft.events[0].spot if draft.events[0].spot is not None else draft.kick_to
        if where is not None and where < start + draft.rulebook.kickoff_travel:
            draft.doubt(f"the kickers may not recover before {draft.rulebook.kickoff_travel:g} yards")
        advanced = draft.spot is not None or (draft.score is Score.TOUCHDOWN
            and (where is not None and where < draft.in_field))
        if advanced and len(draft.events) == 1:
            draft.doubt("the kicking team may not advance its kick")
    if (draft.kind is PlayKind.PUNT and draft.outcome in (Outcome.MUFFED, None) and draft.events
            and draft.events[-1].kind is EventKind.RECOVERY and draft.events[-1].by is Side.OFFENSE
            and not any(event.kind is EventKind.FUMBLE for event in draft.events)):
        beyond = draft.events[-1].spot
        if (draft.score is Score.TOUCHDOWN or draft.spot is not None) and (start is None
                or beyond is None or beyond > start):
            draft.doubt("the kicking team may not advance its kick beyond the line")
    if draft.outcome is Outcome.FAIR_CATCH and (draft.returned or (draft.spot is not None
            and kick_to is not None and fields["spot"] != kick_to)):
        draft.doubt("a fair catch cannot be returned")


def _place_by_yards(draft: Draft, name: str, values: dict[str, Any]) -> None:
    """Where a foul was that costs as many yards as it was beyond the line: its yards tell it, or it is asked."""
    said, start = values.get("yards"), draft.start
    if said and "pass interference" in name and not {"at", "enforced_from"} & values.keys() and start is not None:
        if start + said < draft.in_field:
            values["spot"] = start + values.pop("yards")
        return
    at_spot = draft.rulebook.fouls[name].enforcement is Enforcement.SPOT_OF_FOUL
    if said is None and at_spot and draft.both is None and not {"decision", "at"} & values.keys():
        draft.fill(f"where the {name} was is not said", int(not draft.penalty))


_KEPT = ("name", "by", "spot", "when", "decision", "yards", "enforced_from", "at", "automatic_first_down",
    "loss_of_down", "runoff")


def _fouls(draft: Draft) -> tuple[Foul, ...]:
    fouls = []
    live = draft.kind is not PlayKind.NO_PLAY and draft.kind is not None
    for foul in draft.fouls:
        values = {name: foul[name] for name in _KEPT if foul.get(name) is not None}
        if draft.early and foul is draft.fouls[0]:
            values = {**draft.early, **values}
        if draft.both is not None and values.get("decision") is None:
            values["decision"] = draft.both
        if ("late" in foul["phrase"].split() and values.get("when") is None and not foul.get("exactly")
                and not draft.exact):
            values["when"] = FoulTime.AFTER_DOWN
            draft.fill("a late hit is one after the down")
        if (foul["name"] == "illegal participation" and "illegal substitution" in draft.rulebook.fouls
                and ("many" in foul["phrase"] or "12" in foul["phrase"] or "twelve" in foul["phrase"])
                and (values.get("yards") == PENALTY_YARDS[0] or values.get("when") is FoulTime.BEFORE_SNAP)):
            foul = {**foul, "name": "illegal substitution"}
            values["name"] = foul["name"]  # too many who do not take part
        costs, said = draft.rulebook.fouls[foul["name"]].yards, values.get("yards")
        if costs and said is not None and said != costs and not draft.exact and not may_cost(draft, foul, said):
            draft.doubt(f"{foul['name']} costs {spoken_yards(costs)} yards, not {spoken_yards(said)}")
        if not costs and values.get("spot") is None and not draft.exact:
            _place_by_yards(draft, foul["name"], values)
        if (values["by"] is Side.OFFENSE and draft.kind in KICKS and not {"at", "when", "decision"} & values.keys()
                and any(isinstance(call, Again) for call in draft.calls)):
            values["at"] = EnforcedAt.PREVIOUS_SPOT  # they kick again
        if draft.nullified and values.get("decision") is None and not draft.exact:
            values["decision"] = FoulDecision.ACCEPTED
        if not draft.exact and values.get("at") is EnforcedAt.SPOT_OF_FOUL and values.get("spot") is None \
                and draft.kick_to is not None and "kick catch" in foul["name"]:
            values["spot"] = draft.kick_to
            draft.fill("the spot of the foul is taken for where the kick came down")
        dead = kills(draft, foul) and values.get("when") is None
        if (live and dead and not draft.exact and draft.kind not in (PlayKind.REPLAY_REVERSAL,
                PlayKind.INADVERTENT_WHISTLE)):
            draft.doubt(
                f"{foul['name']} keeps the ball dead; there can be no {draft.kind.value if draft.kind else 'play'}"
            )
        fouls.append(Foul(**values))
    return tuple(fouls)

"""The end of a line: what is left open is filled in or refused, what contradicts itself becomes a doubt."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from ..field import Team, spoken_yards
from ..plays import (
    BallEvent,
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
from .draft import FREE_KICKS, GAINING, KICKS, SNAP_TO_KICK, TRIES, Draft, Finished, Refused
from .grammar import set_kind

_PASS_FOULS = ("defensive pass interference", "offensive pass interference", "intentional grounding",
    "illegal forward pass", "illegal touching of a forward pass", "roughing the passer", "illegal second forward pass",
    "ineligible receiver downfield", "second forward pass")
_AT_THE_SNAP = ("offside", "offensive offside", "illegal substitution", "substitution infraction",
    "too many players on the field", "illegal participation")
_BY_DEFENSE_FIRST = ("face mask", "unnecessary roughness", "personal foul", "horse collar tackle", "targeting",
    "encroachment", "incidental face mask", "illegal helmet contact", "spearing", "hurdling", "rough play",
    "unsportsmanlike conduct", "taunting", "offside on free kick", "too many players on the field",
    "illegal participation")
"""Fouls that leave their side open, but that the defense commits more often (common practice, no source)."""


def finish(draft: Draft) -> list[Finished]:
    """Every way to end the line. Raises Refused with what is missing; an empty list if nothing was said."""
    if draft.said is not None and not draft.said:
        raise Refused("set what? Say down 2, to go 7, on own 36, home ball ...")
    ways = []
    for way in _kinds(draft):
        for sided in _sides(way):
            ways.append(_finished(sided))
    return ways


def _nothing_said(draft: Draft) -> bool:
    fields = {name: value for name, value in draft.fields.items() if value not in (None, "")}
    return not (fields.keys() - {"clock", "comment"} or draft.events or draft.fouls or draft.zone or draft.claims
        or draft.two_point or draft.pending is not None or draft.spot_said is not None or draft.loss or draft.returned
        or draft.flagged or draft.both is not None or draft.side is not None or draft.caught is not None
        or draft.nullified)


def _kinds(draft: Draft) -> Iterator[Draft]:
    """The draft with its kind; one for each kind that is left open."""
    if draft.kind is not None:
        if _only_a_foul_before(draft):
            no_play = draft.copy()
            no_play.kind = PlayKind.NO_PLAY
            no_play.fields = {name: value for name, value in draft.fields.items() if name in ("clock", "comment")}
            no_play.fill(f"no play, for the foul goes before the {draft.kind.value}")
            yield no_play
            return
        yield draft
        return
    if _nothing_said(draft):
        if not (draft.said or "clock" in draft.fields or "comment" in draft.fields):
            return
        draft = draft.copy()
        draft.settle_kind()
        if draft.kind is None:
            raise Refused("what kind of play? Say run, pass, punt, field goal ...")
        yield draft
        return

    def of(kind: PlayKind, outcome: Outcome | None, penalty: int, why: str) -> Draft:
        way = draft.copy()
        slot, pending = way.slot, way.pending
        gain = way.fields.get("gain")
        set_kind(way, kind, way.outcome or outcome)
        if gain is not None:
            way.fields["gain"] = -abs(gain) if kind in (PlayKind.SACK, PlayKind.KNEEL) else gain
        if pending is None:
            way.slot = slot
        way.fill(why, penalty)
        return way

    on_try = draft.before.next is Next.TRY or draft.two_point
    only_fouls = bool(draft.fouls or draft.both is not None) and not (draft.events
        or draft.fields.keys() - {"clock", "comment"} or draft.zone or draft.pending is not None
        or draft.spot_said is not None or draft.two_point or draft.loss or draft.caught is not None)
    if only_fouls:
        dead = bool(draft.fouls) and all(_kills(draft, foul) or (foul.get("when") is not None
            and foul["when"].value in ("before the snap",)) for foul in draft.fouls)
        after = draft.fouls and all(draft.rulebook.fouls[foul["name"]].enforcement.value == "succeeding spot"
            or (foul.get("when") is not None and foul["when"].value == "after the down") for foul in draft.fouls)
        why = "the foul alone was said"
        if dead and draft.fouls:
            may_be_live = any(foul["name"] in _AT_THE_SNAP and foul.get("when") is None for foul in draft.fouls)
            yield of(PlayKind.NO_PLAY, None, int(may_be_live), why if may_be_live else "")
            return
        if any(foul["name"] in _PASS_FOULS for foul in draft.fouls) and draft.before.next is Next.SCRIMMAGE:
            yield of(PlayKind.PASS, Outcome.INCOMPLETE, 1, "an incomplete pass, for the foul alone was said")
            yield of(PlayKind.NO_PLAY, None, 3, why)
            yield of(PlayKind.RUN, None, 4, why)
            return
        if draft.due is not None or draft.before.next is not Next.SCRIMMAGE or after or not draft.fouls:
            yield of(PlayKind.NO_PLAY, None, 1, why)
            if draft.due is not None:
                yield of(draft.due, None, 2, why)
            return
        if any("kicker" in foul["name"] or "catch" in foul["name"] or "snapper" in foul["name"]
                for foul in draft.fouls):
            near = draft.start is not None and draft.start > 0.62 * draft.in_field
            yield of(PlayKind.FIELD_GOAL if near else PlayKind.PUNT, None, 1, why)
            yield of(PlayKind.PUNT if near else PlayKind.FIELD_GOAL, None, 2, why)
        elif all(foul["name"] in _AT_THE_SNAP for foul in draft.fouls):
            yield of(PlayKind.NO_PLAY, None, 1, why)
            yield of(PlayKind.RUN, None, 2, why)
            yield of(PlayKind.PASS, None, 3, why)
            return
        else:
            yield of(PlayKind.RUN, None, 1, why)
            yield of(PlayKind.PASS, None, 2, why)
        yield of(PlayKind.NO_PLAY, None, 3, why)
        return
    if on_try:
        why = "run or pass was not said"
        if (draft.two_point or draft.claims or draft.zone or draft.fields.get("score") is Score.TOUCHDOWN
                or draft.returned):
            yield of(PlayKind.TRY_RUN, None, 1, why)
            yield of(PlayKind.TRY_PASS, None, 2, why)
            return
        draft = draft.copy()
        draft.settle_kind()
        yield draft
        return
    if draft.due is not None:
        draft = draft.copy()
        draft.settle_kind()
        yield draft
        return
    if draft.outcome is Outcome.BLOCKED:
        first = PlayKind.FIELD_GOAL if (draft.start or 0) > draft.in_field * 0.65 else PlayKind.PUNT
        other = PlayKind.PUNT if first is PlayKind.FIELD_GOAL else PlayKind.FIELD_GOAL
        yield of(first, None, 1, "punt or field goal was not said")
        yield of(other, None, 2, "punt or field goal was not said")
        return
    if draft.fields.get("score") is Score.SINGLE:
        yield of(PlayKind.PUNT, None, 1, "punt or field goal was not said")
        yield of(PlayKind.FIELD_GOAL, Outcome.NO_GOOD, 2, "punt or field goal was not said")
        return
    if draft.before.next in (Next.COIN_TOSS, Next.OVER) and not draft.events:
        raise Refused("what kind of play? Say run, pass, punt, field goal ...")
    if draft.fields.get("score") is Score.SAFETY:
        why = "run or sack was not said"
        yield of(PlayKind.RUN, None, 1, why)
        yield of(PlayKind.SACK, None, 2, why)
        return
    if (draft.fields.keys() - {"clock", "comment", "manner"} or draft.events or draft.pending is not None
            or draft.spot_said is not None or draft.zone or draft.fields.get("manner")):
        why = "run or pass was not said"
        yield of(PlayKind.RUN, None, 1, why)
        yield of(PlayKind.PASS, Outcome.COMPLETE, 2, why)
        return
    raise Refused("what kind of play? Say run, pass, punt, field goal ...")


def _only_a_foul_before(draft: Draft) -> bool:
    """A foul that keeps the ball dead was said, and what kind of play it was to be: "false start on the punt"."""
    return (draft.kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.PUNT, PlayKind.FIELD_GOAL, *FREE_KICKS, *TRIES)
        and bool(draft.fouls) and not draft.exact and all(_kills(draft, foul) and foul.get("when") is None
        for foul in draft.fouls) and not (draft.events or draft.gain_said or draft.spot_said is not None or draft.zone
        or draft.returned) and not draft.fields.keys() - {"clock", "comment", "outcome", "manner"}
        and draft.outcome in (None, Outcome.COMPLETE) and draft.length is None)


def _kills(draft: Draft, foul: dict[str, Any]) -> bool:
    return draft.rulebook.fouls[foul["name"]].kills_the_play


def _sides(draft: Draft) -> Iterator[Draft]:
    """The draft with somebody who committed each foul; the usual side first where the name leaves it open."""
    for foul in draft.fouls:
        if (foul["by"] is Side.OFFENSE and not foul.get("sided") and not draft.exact
                and not foul["phrase"].startswith("offensive")
                and foul.get("when") is FoulTime.AFTER_POSSESSION_CHANGE):
            draft.fill(f"who fouled was not said: {foul['name']}")
    for place, foul in enumerate(draft.fouls):
        if foul["by"] is not None:
            continue
        usual = _usual_side(draft, foul)
        for which, penalty in ((usual, 1), (usual.other, 2)):
            way = draft.copy()
            way.fouls[place]["by"] = which
            way.fill(f"who fouled was not said: {foul['name']}", penalty)
            yield from _sides(way)
        return
    for place, event in enumerate(draft.events):
        if event.kind is EventKind.RECOVERY and event.by is None and not draft.exact:
            before = draft.events[place - 1].by if place else Side.DEFENSE
            likely = before or Side.OFFENSE
            for which, penalty in ((likely, 1), (likely.other, 2)):
                way = draft.copy()
                way.events[place] = replace(event, by=which)
                way.fill("who recovered was not said", penalty)
                yield from _sides(way)
            return
    if draft.kind is PlayKind.TIMEOUT and draft.fields.get("team") is None and not draft.exact:
        for team, penalty in ((Team.HOME, 1), (Team.VISITORS, 2)):
            way = draft.copy()
            way.fields["team"] = team
            way.fill("whose timeout was not said", penalty)
            yield way
        return
    if (draft.events and draft.events[-1].kind is EventKind.FUMBLE and not draft.exact
            and draft.fields.get("possession") is None and draft.fields.get("spot") is None and not draft.zone):
        fumbled = draft.events[-1].by or Side.OFFENSE
        for which, penalty in ((fumbled, 1), (fumbled.other, 2)):
            way = draft.copy()
            way.events.append(BallEvent(EventKind.RECOVERY, None, which))
            way.fill("who recovered was not said", penalty)
            yield way
        return
    yield draft


def _usual_side(draft: Draft, foul: dict[str, Any]) -> Side:
    if foul["name"] in _BY_DEFENSE_FIRST:
        return Side.DEFENSE
    after = foul.get("when") is not None and foul["when"].value == "after change of possession"
    if after or draft.play_kind in KICKS or draft.outcome is Outcome.INTERCEPTED:
        return Side.DEFENSE
    return Side.OFFENSE


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
        _touchdown(draft)
        _too_far(draft)
        _impossible_score(draft)
        _claims(draft)
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
    play = Play(draft.kind, events=tuple(draft.events), fouls=fouls, said=said, **fields)
    return Finished(play, draft.penalty, tuple(dict.fromkeys(draft.filled)), tuple(draft.doubts), draft)


def _loose_ends(draft: Draft) -> None:
    if draft.off_upright:
        draft.fill("a kick off the upright is taken for no good")
    if draft.inferred:
        draft.fill(draft.inferred)
    if (draft.outcome is Outcome.BLOCKED and draft.kind in (PlayKind.PUNT, PlayKind.FIELD_GOAL) and not draft.events
            and not draft.returned and draft.fields.get("possession") is None and draft.fields.get("score") is None
            and draft.fields.get("spot") is None and not draft.zone):
        draft.fill("who recovered was not said")
    if (draft.kind is PlayKind.PUNT and draft.events and draft.events[0].kind is EventKind.MUFF
            and draft.events[0].by is Side.OFFENSE and draft.fields.get("kick_to") is None):
        draft.fill("whether it was kicked was not said")
    if (draft.fields.get("score") is Score.SAFETY and draft.kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK)
            and not draft.events and not draft.fouls and draft.start is not None
            and draft.start > 0.4 * draft.in_field):
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
        if draft.both is None:
            raise Refused("which foul was it?")
        draft.fill("which fouls was not said")
    if draft.nullified and not draft.fouls:
        raise Refused("which foul called it back?")
    if draft.both is not None and not draft.fouls:
        draft.fill("which fouls was not said")
    if draft.side is not None and draft.side_where is not None:
        draft.fill(f"{draft.side_where[0]!r} says nothing more", 2)
    if draft.loss:
        draft.fill("how far was not said")
    if (draft.kind is PlayKind.SACK and draft.fields.get("gain") is None and draft.spot_said is None
            and not draft.events and draft.fields.get("score") is None and not draft.zone and not draft.fouls
            and not draft.loss):
        draft.fill("how far was not said")
    if (draft.kind in (PlayKind.RUN, PlayKind.PASS) and draft.outcome in (None, Outcome.COMPLETE,
            Outcome.OUT_OF_BOUNDS) and draft.fields.get("gain") is None and draft.spot_said is None
            and not draft.events and not draft.loss and draft.fields.get("score") is None and not draft.zone
            and draft.fields.get("spot") is None):
        draft.fill("how far was not said")
    if draft.kind is PlayKind.MEASUREMENT and draft.outcome is None and draft.fields.get("spot") is None:
        draft.fill("what it showed was not said")
    if draft.kind is PlayKind.INADVERTENT_WHISTLE and draft.fields.get("choice") is None:
        draft.fill("what was done then was not said")
    if draft.kind is PlayKind.COIN_TOSS and (draft.fields.get("team") is None or draft.fields.get("choice") is None):
        draft.fill("who won, or what they chose, was not said")
    if draft.kind is PlayKind.REPLAY_REVERSAL and not (draft.fields.keys() - {"clock", "comment"} or draft.events):
        draft.fill("what it became was not said")
    if draft.kind is PlayKind.NO_PLAY and not draft.fouls and draft.both is None:
        draft.fill("which foul was not said")
    if (draft.outcome is Outcome.INTERCEPTED and draft.caught is None and draft.fields.get("spot") is None
            and draft.fields.get("score") is None and not draft.touchback and not draft.events):
        draft.fill("where it was intercepted was not said")
    if (draft.kind in KICKS and draft.fields.get("kick_to") is None and draft.fields.get("spot") is None
            and not draft.events and draft.outcome not in (Outcome.TOUCHBACK, Outcome.BLOCKED)
            and draft.fields.get("score") is None and not draft.zone and not (draft.kind in FREE_KICKS
            and draft.outcome is Outcome.OUT_OF_BOUNDS)):
        draft.fill("where it came down was not said")
    if (draft.returned and draft.return_yards is not None and draft.fields.get("spot") is None
            and draft.kind not in TRIES):
        draft.fill(f"where the return of {spoken_yards(draft.return_yards)} yards began was not said")
    if (draft.returned and draft.return_yards is None and draft.fields.get("spot") is None
            and draft.fields.get("score") is None and not draft.zone and draft.kind not in TRIES and not draft.events):
        draft.fill("how far it was returned was not said")


def _place_zone(draft: Draft) -> None:
    """What "in the end zone" tells, now that the whole line is known."""
    zone, draft.zone = draft.zone, ""
    fields, length, deep = draft.fields, draft.in_field, draft.rulebook.end_zone_depth / 2
    if not zone:
        return
    score = fields.get("score")
    if zone in ("event", "event out"):
        event = draft.events[-1]
        by = event.by or draft.holder()
        own = draft.zone_side is Side.OFFENSE
        if draft.zone_side is None and event.kind is EventKind.OUT_OF_BOUNDS:
            own = draft.holder() is Side.DEFENSE if score is not Score.SAFETY else True
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
        if fields.get("kick_to") is None and draft.kind in KICKS:
            fields["kick_to"] = length + deep
            draft.fill("how deep in the end zone was not said")
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
    if draft.kind in TRIES:
        if draft.outcome is Outcome.GOOD and (zone == "through" or draft.zone_side is Side.OFFENSE):
            draft.doubt("a good try does not end there")
        if draft.outcome is None and draft.kind is not PlayKind.TRY_KICK:
            fields["outcome"] = Outcome.GOOD
            draft.fill("in the end zone: good")
        return
    if draft.kind in (PlayKind.SACK, PlayKind.KNEEL) or draft.zone_side is Side.OFFENSE:
        fields["score"] = Score.SAFETY
        draft.fill("in the own end zone: a safety")
    elif draft.kind in (PlayKind.RUN, PlayKind.PASS):
        near = draft.start is not None and draft.start < 10 and draft.kind is PlayKind.RUN
        fields["score"] = Score.SAFETY if near else Score.TOUCHDOWN
        draft.fill(f"in the end zone: a {fields['score'].value}")
    elif draft.outcome is Outcome.BLOCKED and zone == "through":
        fields["score"] = Score.SAFETY
        draft.fill("out of the own end zone: a safety")
    else:
        draft.fill("which end zone was not said")


def _run_end(draft: Draft) -> None:
    """Where a run or catch ended, told as a yard line: as yards gained."""
    if draft.spot_said is None:
        return
    if draft.start is None:
        draft.fields["spot"] = draft.spot_said
        return
    gain = draft.spot_said - draft.start
    if draft.gain_said:
        if abs(draft.fields["gain"] - gain) > 1:
            draft.doubt(
                f"{spoken_yards(abs(draft.fields['gain']))} yards "
                f"{'lost' if draft.fields['gain'] < 0 else 'gained'} lead to "
                f"{draft.spoken(draft.start + draft.fields['gain'])}, not to {draft.spoken(draft.spot_said)}"
            )
        return
    if draft.kind in (PlayKind.SACK, PlayKind.KNEEL) and gain > 0:
        draft.doubt(f"a {draft.kind.value} at {draft.spoken(draft.spot_said)} is ahead of {draft.spoken(draft.start)}")
    draft.fields["gain"] = gain


def _interception(draft: Draft) -> None:
    fields = draft.fields
    if draft.fields.get("gain") is not None:
        raise Refused("an interception gains nothing; say where it was caught")
    if draft.caught is None:
        if draft.touchback:
            if draft.events and draft.events[-1].kind is EventKind.OUT_OF_BOUNDS:
                pass
            elif draft.events or fields.get("spot") is not None:
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
    if not draft.caught_at and fields.get("spot") is None and not draft.events and fields.get("score") is None:
        fields["spot"] = draft.caught
        return
    draft.events.insert(0, BallEvent(EventKind.INTERCEPTION, draft.caught, Side.DEFENSE))


def _field_goal(draft: Draft) -> None:
    fields, start = draft.fields, draft.start
    if draft.length is not None:
        if fields.get("kick_from") is None:
            fields["kick_from"] = draft.posts - draft.length
        else:
            said = draft.posts - fields["kick_from"]
            if abs(said - draft.length) > 1:
                draft.doubt(
                    f"a kick of {spoken_yards(draft.length)} yards is not one from {draft.spoken(fields['kick_from'])}"
                )
    kicked_from = fields.get("kick_from")
    if (kicked_from is not None and start is not None and draft.before.next is Next.SCRIMMAGE
            and fields.get("choice") != "fair catch kick"):
        usual = draft.posts - (start - SNAP_TO_KICK)
        if abs(kicked_from - (start - SNAP_TO_KICK)) > 2:
            draft.doubt(
                f"from {draft.spoken(start)} a field goal is one of about {spoken_yards(usual)} yards, "
                f"not {spoken_yards(draft.posts - kicked_from)}"
            )
    if draft.outcome is None and fields.get("score") is None and not draft.events and not draft.returned:
        if not draft.fouls or draft.length is not None or fields.get("kick_from") is not None:
            fields["outcome"] = Outcome.GOOD
        draft.fill("whether it was good was not said")
    elif draft.outcome is None and fields.get("score") is Score.SINGLE:
        fields["outcome"] = Outcome.NO_GOOD
    if draft.touchback and draft.outcome is Outcome.GOOD:
        draft.doubt("a good field goal is no touchback")
    if draft.touchback and draft.outcome is None:
        fields["outcome"] = Outcome.NO_GOOD
    if draft.outcome is Outcome.BLOCKED and draft.returned and not draft.events and fields.get("possession") is None:
        fields["possession"] = Side.DEFENSE


def _try(draft: Draft) -> None:
    fields = draft.fields
    if draft.returned or (draft.holder_on_try is Side.DEFENSE and fields.get("score") is Score.TOUCHDOWN):
        if fields.get("score") is not Score.TOUCHDOWN and not draft.two_point and draft.zone != "score":
            draft.fill("returned to the other goal line")
        fields["outcome"] = Outcome.RETURNED
        for name in ("score", "spot", "possession"):
            fields.pop(name, None)
        draft.events.clear()
        if not draft.rulebook.try_return_points:
            draft.doubt("under these rules the defense cannot score on a try")
        return
    if fields.get("score") is Score.TOUCHDOWN and draft.outcome is None:
        fields.pop("score")
        fields["outcome"] = Outcome.GOOD
        draft.fill("good, for it reached the end zone")
    if draft.outcome is None and draft.kind is PlayKind.TRY_KICK and not draft.events and not draft.fouls:
        fields["outcome"] = Outcome.GOOD
        draft.fill("whether it was good was not said")
    elif draft.outcome is None and not draft.events and fields.get("score") is None:
        draft.fill("whether it was good was not said")
        if draft.spot_said is not None or draft.gain_said:
            return
    fields.pop("length", None)


def _kick(draft: Draft) -> None:
    fields, start = draft.fields, draft.start
    kick_to = fields.get("kick_to")
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
    if (draft.kind in FREE_KICKS and muffed and draft.events[-1].by is Side.OFFENSE
            and fields.get("score") is Score.TOUCHDOWN and draft.events[-1].spot is not None
            and draft.events[-1].spot < draft.in_field):
        draft.doubt("the kicking team may not advance its kick")
    if draft.kind in FREE_KICKS and kick_to is not None and start is not None and kick_to < start:
        draft.doubt(f"a kick from {draft.spoken(start)} cannot come down behind it, at {draft.spoken(kick_to)}")
    if draft.kind in FREE_KICKS and kick_to is None and draft.events and draft.events[0].kind is EventKind.RECOVERY:
        fields["kick_to"] = draft.events[0].spot
    if draft.outcome is Outcome.TOUCHBACK and kick_to is not None and kick_to < draft.in_field:
        draft.doubt(f"a kick to {draft.spoken(kick_to)} is no touchback")
    if (draft.outcome is Outcome.MUFFED and draft.events and draft.events[-1].kind is EventKind.MUFF
            and fields.get("score") is None and fields.get("possession") is None and fields.get("spot") is None):
        draft.fill("who recovered was not said")
    if (draft.kind in FREE_KICKS and draft.events and draft.events[0].kind is EventKind.RECOVERY
            and draft.events[0].by is Side.OFFENSE and start is not None):
        where = draft.events[0].spot if draft.events[0].spot is not None else fields.get("kick_to")
        if where is not None and where < start + draft.rulebook.kickoff_travel:
            draft.doubt(f"the kickers may not recover before {draft.rulebook.kickoff_travel:g} yards")
        advanced = fields.get("spot") is not None or (fields.get("score") is Score.TOUCHDOWN
            and (where is not None and where < draft.in_field))
        if advanced and len(draft.events) == 1:
            draft.doubt("the kicking team may not advance its kick")
    if (draft.kind is PlayKind.PUNT and draft.outcome in (Outcome.MUFFED, None) and draft.events
            and draft.events[-1].kind is EventKind.RECOVERY and draft.events[-1].by is Side.OFFENSE
            and not any(event.kind is EventKind.FUMBLE for event in draft.events)):
        beyond = draft.events[-1].spot
        if (fields.get("score") is Score.TOUCHDOWN or fields.get("spot") is not None) and (start is None
                or beyond is None or beyond > start):
            draft.doubt("the kicking team may not advance its kick beyond the line")
    if draft.outcome is Outcome.FAIR_CATCH and (draft.returned or (fields.get("spot") is not None
            and kick_to is not None and fields["spot"] != kick_to)):
        draft.doubt("a fair catch cannot be returned")


def _impossible_score(draft: Draft) -> None:
    """A safety that ends ahead of the goal line, a touchback or a single point where nothing was kicked or lost."""
    score, start, gain = draft.fields.get("score"), draft.start, draft.fields.get("gain")
    if draft.kind not in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, PlayKind.KNEEL) or draft.events:
        return
    if score is Score.SAFETY and gain is not None and start is not None and start + gain > 0.5 and not draft.fouls:
        draft.doubt(f"a safety does not end at {draft.spoken(start + gain)}")
    if (draft.touchback or draft.outcome is Outcome.TOUCHBACK) and draft.outcome is not Outcome.INTERCEPTED:
        draft.doubt("a touchback needs a kick, an interception or a fumble")
    if score is Score.SINGLE:
        draft.doubt("a single point is scored by a kick")


def _too_far(draft: Draft) -> None:
    """A gain that leads beyond the goal line without a touchdown."""
    gain, start = draft.fields.get("gain"), draft.start
    if draft.kind not in (PlayKind.RUN, PlayKind.PASS) or gain is None or start is None or draft.events:
        return
    if gain > draft.in_field - start + 0.5 and draft.fields.get("score") is None:
        draft.doubt(f"it is {spoken_yards(draft.in_field - start)} yards to the goal line, not {spoken_yards(gain)}")


def _touchdown(draft: Draft) -> None:
    fields, start = draft.fields, draft.start
    if fields.get("score") is not Score.TOUCHDOWN:
        return
    if draft.outcome is Outcome.INCOMPLETE:
        draft.doubt("an incomplete pass cannot be a touchdown")
    if (not draft.events and not draft.returned and fields.get("possession") is not Side.DEFENSE
            and (draft.kind in (PlayKind.SACK, PlayKind.KNEEL) or (draft.kind is PlayKind.FIELD_GOAL
            and draft.outcome is not Outcome.BLOCKED))):
        draft.doubt(f"a {draft.kind.value if draft.kind else 'play'} scores no touchdown")
    holder = draft.holder()
    if draft.outcome is Outcome.INTERCEPTED or draft.events:
        if (fields.get("possession") is not None and fields["possession"] is not holder and draft.events
                and not draft.exact):
            draft.doubt(f"the {holder.value} had the ball last")
        if holder is Side.DEFENSE:
            fields.setdefault("possession", None)
        if draft.events and draft.events[-1].kind is EventKind.FUMBLE:
            draft.doubt("who recovered was not said")
        spot = fields.get("spot")
        if spot is not None and 0 < spot < draft.in_field:
            draft.doubt(f"a touchdown does not end at {draft.spoken(spot)}")
        return
    if draft.kind in (PlayKind.RUN, PlayKind.PASS) and fields.get("gain") is not None and start is not None:
        wanted = draft.in_field - start
        if abs(fields["gain"] - wanted) > 1:
            draft.doubt(
                f"a touchdown from {draft.spoken(start)} takes {spoken_yards(wanted)} yards, not {spoken_yards(fields['gain'])}"
            )
    if draft.kind in KICKS and fields.get("spot") is not None and fields["spot"] > 0:
        draft.doubt(f"a touchdown does not end at {draft.spoken(fields['spot'])}")


def _claims(draft: Draft) -> None:
    """What was said along with the play must follow from it."""
    for claim in draft.claims:
        before, gain = draft.before, draft.fields.get("gain")
        if draft.kind not in GAINING or draft.events or gain is None or before.yards_to_gain is None:
            if (claim in ("first down", "short") and not draft.fouls and draft.fields.get("score") is None
                    and not draft.events):
                draft.fill(f"{claim} does not follow from what was said")
            elif claim == "turnover" and draft.events and draft.holder() is Side.OFFENSE:
                draft.doubt("the offense has the ball")
            elif claim == "turnover" and not (draft.events or draft.outcome is Outcome.INTERCEPTED):
                draft.fill("how it was lost was not said")
            elif claim == "down":
                draft.fill("which down it was is passed over")
            elif claim == "turnover on downs" and draft.outcome is not Outcome.INCOMPLETE:
                draft.fill(f"{claim} does not follow from what was said")
            if claim == "turnover on downs" and before.down is not None and before.down < draft.rulebook.downs:
                draft.doubt("there are downs left")
            continue
        if claim == "down":
            draft.fill("which down it was is passed over")
            continue
        reached = gain >= before.yards_to_gain - 0.5
        if claim == "first down" and not reached and not draft.fouls:
            draft.doubt(
                f"{spoken_yards(gain)} yards are no first down; {spoken_yards(before.yards_to_gain)} were to go"
            )
        elif claim in ("short", "turnover on downs") and gain >= before.yards_to_gain:
            draft.doubt(f"{spoken_yards(gain)} yards are a first down; {spoken_yards(before.yards_to_gain)} were to go")
        elif claim == "turnover on downs" and before.down is not None and before.down < draft.rulebook.downs:
            draft.doubt("there are downs left")
        elif claim == "turnover" and not (before.down == draft.rulebook.downs and not reached):
            draft.fill("how it was lost was not said")


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
        if draft.nullified and values.get("decision") is None and not draft.exact:
            values["decision"] = FoulDecision.ACCEPTED
        kills = _kills(draft, foul) and values.get("when") is None
        if (live and kills and not draft.exact and draft.kind not in (PlayKind.REPLAY_REVERSAL,
                PlayKind.INADVERTENT_WHISTLE)):
            draft.doubt(
                f"{foul['name']} keeps the ball dead; there can be no {draft.kind.value if draft.kind else 'play'}"
            )
        fouls.append(Foul(**values))
    return tuple(fouls)

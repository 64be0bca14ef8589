"""What a line leaves open: the kind of play, who fouled, who recovered, whose timeout; each way it can be meant."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any, TypeVar

from ..field import Team
from ..fouls import Enforcement
from ..plays import BallEvent, EnforcedAt, EventKind, FoulTime, Outcome, PlayKind, Score, Side
from ..situation import Next
from .draft import FREE_KICKS, KICKS, SNAP_TO_KICK, TRIES, Draft, Refused
from .kinds import set_kind
from .numbered_fouls import OF_ANYBODY

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


def _nothing_said(draft: Draft) -> bool:
    fields = {name: value for name, value in draft.fields.items() if value not in (None, "")}
    return not (fields.keys() - _BESIDE or draft.events or draft.fouls or draft.zone or draft.claims or draft.two_point
        or draft.pending is not None or draft.spot_said is not None or draft.loss or draft.returned or draft.flagged
        or draft.both is not None or draft.side is not None or draft.caught is not None or draft.nullified)


def kinds(draft: Draft) -> Iterator[Draft]:
    """The draft with its kind; one for each kind that is left open, the likeliest first."""
    if draft.kind is not None:
        yield _as_no_play(draft) if _only_a_foul_before(draft) else draft
        return
    nothing = _nothing_said(draft)
    if nothing and not (draft.said or draft.fields.keys() & _BESIDE):
        return
    likely, why = ((), "") if nothing else _likely(draft)
    for penalty, (kind, outcome) in enumerate(likely, 1):
        way = draft.copy()
        slot, gain = way.slot, way.gain
        set_kind(way, kind, way.outcome or outcome)
        if gain is not None:
            way.fields["gain"] = -abs(gain) if kind in (PlayKind.SACK, PlayKind.KNEEL) else gain
        if draft.pending is None:
            way.slot = slot
        way.fill(why, penalty if why else 0)
        yield way
    if not likely:
        draft = draft.copy()
        draft.settle_kind()
        if draft.kind is None:
            raise Refused("what kind of play? Say run, pass, punt, field goal ...")
        yield draft


_Likely = Sequence[tuple[PlayKind, Outcome | None]]
_RUN, _PASS, _NO_PLAY = (PlayKind.RUN, None), (PlayKind.PASS, None), (PlayKind.NO_PLAY, None)
_PUNT, _FIELD_GOAL = (PlayKind.PUNT, None), (PlayKind.FIELD_GOAL, None)
_BESIDE = {"clock", "comment"}


def _likely(draft: Draft) -> tuple[_Likely, str]:
    """The kinds that it may be, the likeliest first, and why; none where the situation leaves only one."""
    only_fouls = bool(draft.fouls or draft.both is not None) and not (draft.events or draft.fields.keys() - _BESIDE
        or draft.zone or draft.pending is not None or draft.spot_said is not None or draft.two_point or draft.loss
        or draft.caught is not None)
    if only_fouls:
        return _likely_of_fouls(draft)
    if draft.before.next is Next.TRY or draft.two_point:
        if draft.runner and not draft.complete:
            return ((PlayKind.TRY_RUN, None),), ""
        if draft.two_point or draft.claims or draft.zone or draft.score is Score.TOUCHDOWN or draft.returned:
            return ((PlayKind.TRY_RUN, None), (PlayKind.TRY_PASS, None)), "run or pass was not said"
        return (), ""
    if draft.due is not None:
        return (), ""
    if (draft.pending is not None and draft.start is not None and not draft.events and not draft.fouls
            and abs(draft.posts - (draft.start - SNAP_TO_KICK) - draft.pending) <= 3):
        return (_FIELD_GOAL,), "a field goal, for so long is one from here"
    if draft.outcome is Outcome.BLOCKED:
        near = (draft.start or 0) > draft.in_field * 0.65
        return (_FIELD_GOAL, _PUNT) if near else (_PUNT, _FIELD_GOAL), "punt or field goal was not said"
    if draft.score is Score.SINGLE:
        return (_PUNT, (PlayKind.FIELD_GOAL, Outcome.NO_GOOD)), "punt or field goal was not said"
    if draft.before.next in (Next.COIN_TOSS, Next.OVER) and not draft.events:
        return (), ""
    if draft.score is Score.SAFETY and not draft.events:
        return (_RUN, (PlayKind.SACK, None)), "run or sack was not said"
    if draft.runner and not (draft.events and draft.events[0].kind is not EventKind.FUMBLE):
        return (_RUN,), ""
    if draft.score is Score.SAFETY:
        return (_RUN, (PlayKind.SACK, None)), "run or sack was not said"
    back = draft.loss or (draft.gain or 0.0) < 0 or (draft.spot_said is not None and draft.start is not None
        and draft.spot_said < draft.start)
    if draft.dropped_back and back and not draft.events:
        return ((PlayKind.SACK, None),), ""  # "back to pass, dropped at our 21"
    if draft.snap_lost and draft.before.down != draft.rulebook.downs:
        return (_RUN,), ""  # a snap that got away is a run; on the last down it may have been for a kick
    if (draft.fields.keys() - _BESIDE or draft.events or draft.pending is not None or draft.spot_said is not None
            or draft.zone or (draft.claims and draft.before.down == draft.rulebook.downs)):
        return (_RUN, (PlayKind.PASS, Outcome.COMPLETE)), "run or pass was not said"
    return (), ""


def _likely_of_fouls(draft: Draft) -> tuple[_Likely, str]:
    """The kinds that a play may have been of which only fouls were said."""
    why, names = "the foul alone was said", [foul["name"] for foul in draft.fouls]
    whens = [foul.get("when") for foul in draft.fouls]
    if names and all(kills(draft, foul) or foul.get("when") is FoulTime.BEFORE_SNAP for foul in draft.fouls):
        live = any(name in _AT_THE_SNAP and when is None for name, when in zip(names, whens, strict=True))
        return (_NO_PLAY,), why if live else ""
    if any(name in _PASS_FOULS for name in names) and draft.before.next is Next.SCRIMMAGE:
        return ((PlayKind.PASS, Outcome.INCOMPLETE), _NO_PLAY, _RUN), "an incomplete pass, for the foul alone was said"
    after = all(draft.rulebook.fouls[name].enforcement is Enforcement.SUCCEEDING_SPOT or when is FoulTime.AFTER_DOWN
        for name, when in zip(names, whens, strict=True))
    if draft.due is not None:
        return (_NO_PLAY, (draft.due, None)), why
    if draft.before.next is not Next.SCRIMMAGE or after:
        return (_NO_PLAY,), why
    if any(part in name for name in names for part in ("kicker", "catch", "snapper")):
        near = draft.start is not None and draft.start > 0.62 * draft.in_field
        return ((_FIELD_GOAL, _PUNT) if near else (_PUNT, _FIELD_GOAL)) + (_NO_PLAY,), why
    if all(name in _AT_THE_SNAP for name in names):
        return (_NO_PLAY, _RUN, _PASS), why
    return (_RUN, _PASS, _NO_PLAY), why


def _as_no_play(draft: Draft) -> Draft:
    way = draft.copy()
    way.kind = PlayKind.NO_PLAY
    way.fields = {name: value for name, value in draft.fields.items() if name in _BESIDE}
    way.fill(f"no play, for the foul goes before the {draft.kind}")
    return way


def _only_a_foul_before(draft: Draft) -> bool:
    """A foul that keeps the ball dead was said, and what kind of play it was to be: "false start on the punt"."""
    return (draft.kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.PUNT, PlayKind.FIELD_GOAL, *FREE_KICKS, *TRIES)
        and bool(draft.fouls) and not draft.exact and all(kills(draft, foul) and foul.get("when") is None
        for foul in draft.fouls) and not (draft.events or draft.gain_said or draft.spot_said is not None or draft.zone
        or draft.returned) and not draft.fields.keys() - {"clock", "comment", "outcome", "manner"}
        and draft.outcome in (None, Outcome.COMPLETE) and draft.length is None)


def kills(draft: Draft, foul: dict[str, Any]) -> bool:
    """Whether a foul keeps the ball dead."""
    return draft.rulebook.fouls[foul["name"]].kills_the_play


def sides(draft: Draft) -> Iterator[Draft]:
    """The draft with somebody who committed each foul, recovered the ball or took the timeout, where that is left open;
    the usual side first."""
    for foul in draft.fouls:
        if (foul["by"] is Side.OFFENSE and not foul.get("sided") and not draft.exact
                and not foul["phrase"].startswith("offensive")
                and foul.get("when") is FoulTime.AFTER_POSSESSION_CHANGE):
            draft.fill(f"who fouled was not said: {foul['name']}")
    for place, foul in enumerate(draft.fouls):
        told = None if draft.exact or foul.get("sided") else _who_it_tells(draft, foul)
        if foul["by"] is None:
            foul["by"] = told
        elif told is foul["by"].other:
            draft.fill(f"who fouled was not said: {foul['name']}", 2)  # "holding" of a run that was called back
        if foul["by"] is None:
            usual = _usual_side(draft, foul)
            for way, which in _each_way(draft, usual, usual.other, f"who fouled was not said: {foul['name']}"):
                way.fouls[place]["by"] = which
                yield from sides(way)
            return
    if draft.exact:
        yield draft
        return
    for place, event in enumerate(draft.events):
        if event.kind is EventKind.RECOVERY and event.by is None:
            likely = (draft.events[place - 1].by if place else Side.DEFENSE) or Side.OFFENSE
            for way, which in _each_way(draft, likely, likely.other, "who recovered was not said"):
                way.events[place] = replace(event, by=which)
                yield from sides(way)
            return
    if draft.kind is PlayKind.TIMEOUT and draft.fields.get("team") is None and not draft.uncharged:
        for way, team in _each_way(draft, Team.HOME, Team.VISITORS, "whose timeout was not said"):
            way.fields["team"] = team
            yield way
    elif draft.kind is PlayKind.TIMEOUT and draft.uncharged and draft.fields.get("team") is not None:
        for way, team in _each_way(draft, None, draft.fields["team"], "whether it was charged was not said"):
            way.fields["team"] = team
            yield way
    elif (draft.events and draft.events[-1].kind is EventKind.FUMBLE and draft.possession is None
            and draft.spot is None and not draft.zone):
        fumbled = draft.events[-1].by or Side.OFFENSE
        for way, which in _each_way(draft, fumbled, fumbled.other, "who recovered was not said"):
            way.events.append(BallEvent(EventKind.RECOVERY, None, which))
            yield way
    else:
        yield draft


def _who_it_tells(draft: Draft, foul: dict[str, Any]) -> Side | None:
    """Who fouled, where what was done about it tells: a play called back or a lost down is the offense's foul, an
    automatic first down or yards tacked on to its run the defense's."""
    if (draft.is_kick() or draft.events or draft.returned or draft.outcome is Outcome.INTERCEPTED
            or len(draft.fouls) > 1):
        return None
    if foul.get("automatic_first_down") or (foul.get("at") is EnforcedAt.END_OF_RUN and draft.gain_said):
        return Side.DEFENSE
    return Side.OFFENSE if draft.nullified or foul.get("loss_of_down") else None


_Whose = TypeVar("_Whose", Side, Team, Team | None)


def _each_way(draft: Draft, likely: _Whose, other: _Whose, why: str) -> Iterator[tuple[Draft, _Whose]]:
    """A copy of the draft for each of two who may be meant."""
    for penalty, which in ((1, likely), (2, other)):
        way = draft.copy()
        way.fill(why, penalty)
        yield way, which


def _usual_side(draft: Draft, foul: dict[str, Any]) -> Side:
    if draft.fouled_by is not None and foul["name"] in OF_ANYBODY:
        return draft.fouled_by
    if foul["name"] in _BY_DEFENSE_FIRST:
        return Side.DEFENSE
    after = foul.get("when") is not None and foul["when"].value == "after change of possession"
    if after or draft.play_kind in KICKS or draft.outcome is Outcome.INTERCEPTED:
        return Side.DEFENSE
    return Side.OFFENSE

"""Places: what a yard line with its side says where it stands."""

from __future__ import annotations

from ..plays import EventKind, Outcome, PlayKind
from .downs import BallPut, PutInPlay
from .draft import FREE_KICKS, GAINING, KICKS, Draft, Refused
from .word import Role
from .yards import DRIVEN_BACK, placed, return_base, returned_to, returned_yards


def _passed_on_the_way(draft: Draft) -> None:
    assert draft.spot_said is not None
    if not draft.complete:  # a ball is caught at one place and carried on to another
        draft.fill(f"{draft.spoken(draft.spot_said)} was passed on the way")
    draft.spot_said = None


def _run_to(draft: Draft, spot: float) -> None:
    draft.spot_said = spot
    draft.slot, draft.loss = "", False


def _began(draft: Draft, spot: float) -> None:
    """Where the return at hand began."""
    draft.came_from = spot
    if draft.play_kind in KICKS:
        draft.fields["kick_to"] = spot
    elif draft.outcome is Outcome.INTERCEPTED:
        draft.caught = spot
    if draft.return_yards is not None and draft.spot is None:
        returned_yards(draft, draft.return_yards)
    elif draft.spot is not None:
        returned_to(draft, float(draft.fields["spot"]))


def dead_at(draft: Draft, spot: float) -> None:
    """Take a spot as where the ball became dead."""
    draft.put("spot", spot)
    draft.slot, draft.end_said = "", True


def _caught(draft: Draft, spot: float) -> None:
    if draft.caught is not None:
        draft.returned = True
        returned_to(draft, spot)
        return
    draft.caught = spot
    draft.slot = "caught"
    if draft.return_yards is not None:
        yards, draft.return_yards = draft.return_yards, None
        returned_yards(draft, yards)
        draft.returned, draft.slot = True, "return" if draft.spot is None else ""


def _event_place(draft: Draft, spot: float) -> None:
    draft.change_event(spot=spot)
    draft.slot = "spot"
    if (draft.play_kind in FREE_KICKS and draft.kick_to is None
            and len(draft.events) == 1) or (draft.play_kind is PlayKind.PUNT
            and draft.events[-1].kind is EventKind.MUFF and draft.kick_to is None and draft.outcome is Outcome.MUFFED):
        draft.fields["kick_to"] = spot


def began_there(draft: Draft, spots: list[float]) -> bool:
    """ "from the 31": where a run or pass began, which is known; another place is a doubt."""
    first = (draft.kind is None and draft.due is None and draft.start is not None and not draft.anything_said()
        and any(abs(spot - draft.start) <= 1 for spot in spots))
    if (draft.kind not in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, None)
            or (draft.kind is None and draft.score is None and not draft.fields.get("manner") and not first)
            or draft.in_foul or draft.events or draft.returned):
        return False
    if draft.outcome is Outcome.INTERCEPTED or draft.start is None or not spots:
        return False
    behind = [spot for spot in spots if 0 <= draft.start - spot < 30]
    if (behind and draft.fouls and draft.fouls[-1]["name"] == "intentional grounding" and not draft.gain_said
            and draft.fouls[-1].get("spot") is None and draft.outcome in (Outcome.COMPLETE, Outcome.INCOMPLETE)):
        draft.fouls[-1]["spot"], draft.fields["outcome"], draft.slot = behind[0], Outcome.INCOMPLETE, ""
        draft.fill(f"{draft.spoken(behind[0])}, where it was thrown from, is where the grounding was")
        return True
    if all(abs(spot - draft.start) > 1 for spot in spots):
        draft.doubt(f"the ball was on {draft.spoken(draft.start)}, not {draft.spoken(spots[0])}")
    return True


def put_in_play(draft: Draft, lines: tuple[float, ...], text: str) -> Draft:
    """Where the receivers take a kick out of bounds or a touchback, in their terms: a check of what the rules tell."""
    draft.slot = ""
    draft.calls.append(PutInPlay(text, lines))
    return draft


def is_kick_put(draft: Draft, taken: bool) -> bool:
    """Whether a place tells where a free kick is put in play: "out of bounds, ball at their 35", "fair catch at the 12,
    out to the 25". ``taken`` tells whether the ball or the receivers were named before it."""
    return (draft.kind in FREE_KICKS and not draft.returned and not draft.in_foul and draft.said is None
        and not draft.exact and ((draft.outcome is Outcome.OUT_OF_BOUNDS and taken)
        or (draft.outcome is Outcome.FAIR_CATCH and draft.kick_to is not None)))


def is_put(draft: Draft, slot: str, prep: str) -> bool:
    """Whether a place tells where the ball is put after the foul at hand: "back to the 26", "ball at opp 25"."""
    if not draft.in_foul or not draft.fouls or slot in ("foul spot", "enforced from"):
        return False
    of_return = draft.last is Role.FOUL_DETAIL and draft.fouls[-1].get("when") is not None
    return (not of_return and (prep == "to" or (prep == "at" and draft.last in (Role.CLAIM, "ball"))
        or (prep == "from" and draft.last == "call")))


def put_after_foul(draft: Draft, lines: tuple[float, ...], text: str) -> Draft:
    """Take a place as where the ball is put after the foul at hand."""
    draft.calls.append(BallPut(text, lines, draft.in_field))
    foul = draft.fouls[-1]
    costs = draft.rulebook.fouls[foul["name"]].yards
    by_the_spot = "pass interference" in foul["name"] and not costs and len(lines) == 1
    thrown = [line for line in lines if foul["name"] == "intentional grounding" and draft.start is not None
        and 0 <= draft.start - line < DRIVEN_BACK * 3]
    if (by_the_spot and foul.get("yards") and draft.start is not None
            and abs(draft.start + foul["yards"] - lines[0]) <= 1):
        foul["yards"] = None  # they lead there
    if foul.get("spot") is None and (by_the_spot or thrown):
        foul["spot"] = lines[0] if by_the_spot else thrown[0]  # it is put where the foul was
    return draft


def spot_item(draft: Draft, spot: float, text: str) -> list[Draft]:
    """Take a yard line with its side, in the terms of the offense."""
    draft.settle_if_kick()
    draft.dangling = ""
    slot, prep = draft.slot, draft.prep
    draft.prep, draft.the = "", False
    if slot.startswith("said ") or draft.said is not None:
        if slot != "said ball_on" or draft.said is None:
            raise Refused(f"{text} has nothing to say here")
        draft.said["ball_on"] = spot
        draft.slot = ""
        return [draft]
    if slot.startswith("exact "):
        name = slot[6:]
        if name == "event":
            draft.change_event(spot=spot)
        elif name == "gain":
            raise Refused("say the yards gained as a number")
        else:
            draft.fields[name] = spot
        draft.slot = ""
        return [draft]
    if slot == "put in play" or is_kick_put(draft, draft.last == "ball"):
        return [put_in_play(draft, (draft.in_field - spot,), text)]
    stays = draft.outcome is Outcome.INCOMPLETE or draft.kind is PlayKind.SPIKE
    if stays and not draft.in_foul and draft.start is not None and abs(spot - draft.start) < 1:
        return [draft]  # the ball is back where it was
    if is_put(draft, slot, prep):
        return [put_after_foul(draft, (spot,), text)]
    if (draft.in_foul and draft.fouls) or slot in ("foul spot", "enforced from"):
        return [_foul_place(draft, spot, "from" if slot == "enforced from" else prep)]
    if slot == "gain" and prep == "from" and began_there(draft, [spot]):
        return [draft]
    if slot == "gain":
        if draft.kind is None and draft.due is None and prep not in ("to", "at") and not draft.fields.get("manner"):
            raise Refused("what kind of play?")
        if draft.start is None:
            raise Refused("where the ball was is not known; say the yards gained")
        draft.spot_said, draft.slot, draft.loss = spot, "", False
        return [draft]
    if slot == "kick_to":
        if (prep == "from" and draft.kind in (PlayKind.PUNT, *FREE_KICKS)
                and (spot < draft.in_field / 2 or draft.kind is PlayKind.PUNT)):
            if draft.start is not None and draft.kind in FREE_KICKS and abs(spot - draft.start) > 0.5:
                draft.doubt(f"the kick is from {draft.spoken(draft.start)}, not {draft.spoken(spot)}")
            if draft.start is None or abs(draft.start - spot) > 0.01:
                draft.fill(f"from {draft.spoken(spot)} is where it was kicked")
            return [draft]
        placed(draft, spot)
        if draft.returned:
            draft.slot = "return"
        return [draft]
    if slot == "length":
        if draft.kind is PlayKind.TRY_KICK:
            raise Refused(f"{text} has nothing to say here")
        if draft.outcome in (Outcome.NO_GOOD, Outcome.BLOCKED) and prep != "from":
            placed(draft, spot)
        else:
            draft.put("kick_from", spot)
        draft.slot = ""
        return [draft]
    if (slot == "return" and not draft.returned and draft.kick_yards is not None and not draft.events
            and prep in ("to", "at")):
        placed(draft, spot)
        return [draft]
    if slot == "return":
        if prep == "from":
            if draft.came_from is None and draft.kick_to is None and draft.caught is None:
                _began(draft, spot)
                return [draft]
            if return_base(draft) != spot:
                raise Refused("where the return began was said already")
            return [draft]
        draft.returned = True
        returned_to(draft, spot)
        return [draft]
    if slot == "caught":
        if prep in ("at", "in"):
            draft.caught_at = True
        _caught(draft, spot)
        return [draft]
    if slot == "event":
        if draft.events[-1].kind in (EventKind.RECOVERY, EventKind.OWN_RECOVERY) and prep == "to":
            dead_at(draft, spot)
            return [draft]
        _event_place(draft, spot)
        return [draft]
    if slot == "spot":
        dead_at(draft, spot)
        return [draft]
    if prep == "from" and began_there(draft, [spot]):
        return [draft]
    if draft.kind in (None, *GAINING) and draft.spot_said is not None and not (draft.events or draft.gain_said):
        _passed_on_the_way(draft)
        _run_to(draft, spot)
        return [draft]
    kick = draft.play_kind in KICKS
    if prep == "from" and draft.outcome is Outcome.INTERCEPTED and draft.caught is None:
        _caught(draft, spot)
        draft.caught_at = True
        return [draft]
    if prep == "from" and draft.returned and kick and draft.kick_to is None:
        _began(draft, spot)
        return [draft]
    if draft.kind in GAINING and draft.gain_said and not draft.events and draft.start is not None:
        draft.spot_said = spot
        return [draft]
    if kick and draft.kick_to is not None and draft.spot is None and not draft.events and not draft.returned:
        placed(draft, spot)
        return [draft]
    if draft.returned and (draft.spot is not None or draft.return_yards is not None):
        returned_to(draft, spot)
        return [draft]
    if draft.kind is PlayKind.FIELD_GOAL and draft.spot is None:
        if draft.outcome is Outcome.NO_GOOD and draft.kick_to is None and not draft.returned:
            placed(draft, spot)
        elif prep == "from" and draft.kick_from is None:
            draft.fields["kick_from"] = spot
        else:
            dead_at(draft, spot)
        return [draft]
    if (draft.kind is None and prep in ("to", "at") and draft.start is not None and draft.due is None
            and not draft.events and draft.spot_said is None):
        draft.spot_said = spot
        return [draft]
    if draft.fouls and not draft.fouls[-1].get("spot") and prep == "at":
        return [_foul_place(draft, spot, prep)]
    if (draft.play_kind in (*GAINING, PlayKind.PUNT, PlayKind.FIELD_GOAL, *FREE_KICKS) and draft.spot is None
            and draft.outcome is not Outcome.INCOMPLETE and (draft.events or draft.returned)):
        dead_at(draft, spot)
        return [draft]
    if (draft.outcome is Outcome.INCOMPLETE and prep in ("at", "from") and not draft.events and draft.start is not None
            and 0 <= draft.start - spot < DRIVEN_BACK * 3 and draft.thrown_from is None):
        draft.thrown_from = spot  # "threw it away at our 14": tells something where it was grounded
        return [draft]
    raise Refused(f"{text} has nothing to say here")


def _foul_place(draft: Draft, spot: float, prep: str) -> Draft:
    if not draft.fouls:
        raise Refused("there is no foul yet")
    grounded = (draft.fouls[-1]["name"] == "intentional grounding" and not draft.exact
        and not draft.fouls[-1].get("exactly"))  # it is enforced where he threw it from
    name = "enforced_from" if prep == "from" and not grounded else "spot"
    if draft.fouls[-1].get(name) is not None:
        raise Refused(f"{draft.spoken(draft.fouls[-1][name])} was said already")
    draft.fouls[-1][name] = spot
    draft.slot = ""
    return draft

"""Fouls on a play: which are accepted, which ruling stands, what it does to the down and the score."""

from __future__ import annotations

from copy import copy
from dataclasses import replace

from .action import DEFENSE, OFFENSE, BallMovement
from .field import spoken_spot, spoken_yards
from .fouls import Act, Enforcement, FoulRule, PersonalFoul
from .penalty import (
    Phase,
    is_dead_ball,
    is_spot_foul,
    measure_in_down,
    phase_of,
    rule_of,
    spot_after_change,
    spot_in_down,
    yards_of,
)
from .plays import EnforcedAt, Foul, FoulDecision, FoulTime, Play, Score, Side
from .rulebook import Overtime, Rulebook
from .ruling import Ruling, again, count_down, free_kick_spot, out_of_bounds_spots, privileged, reaches, safety
from .situation import Next, Situation


class Enforced:
    """A ruling with its penalties. ``repeated``: the down is played again. ``stands``: the play counts, up to
    ``stands_to`` if given. ``parts``: what was done, in a few words each. ``choices``: what the rules also allow."""

    ruling: Ruling

    def __init__(self, repeated: bool) -> None:
        self.repeated = repeated
        self.stands = True
        self.stands_to: float | None = None
        self.parts: list[str] = []
        self.choices: list[str] = []
        self.assumed: list[str] = []
        self.problems: list[str] = []


class _Penalty:
    """What accepting one foul comes to. ``stands`` and ``stands_to`` as in :class:`Enforced`."""

    def __init__(self, ruling: Ruling, line: str, repeated: bool = False, choices: tuple[str, ...] = ()) -> None:
        self.ruling, self.line, self.repeated, self.choices = ruling, line, repeated, choices
        self.stands = True
        self.stands_to: float | None = None


def enforce(rulebook: Rulebook, before: Situation, play: Play, action: BallMovement, clean: Ruling, repeated: bool
            ) -> Enforced:
    """Apply the fouls of *play* to the *clean* ruling, by which the down is played again if *repeated*."""
    done = Enforced(repeated)
    live: list[tuple[Foul, FoulRule]] = []
    dead: list[tuple[Foul, FoulRule]] = []
    every = [(foul, rule_of(rulebook, play, foul, action, done.problems)) for foul in map(_by_hand, play.fouls)]
    clean = done.ruling = _fallen(rulebook, before, action, every, clean)
    for foul, rule in every:
        if foul.decision is FoulDecision.DECLINED:
            done.parts.append(f"{rule.name} declined")
        elif rule.act is Act.WEDGE and (action.touchback or action.out_of_bounds_kick or action.fair_catch):
            done.parts.append(f"{rule.name}: no foul, as the kick was not returned")
        elif is_dead_ball(foul, rule):
            dead.append((foul, rule))
        else:
            live.append((foul, rule))
    _live_fouls(rulebook, before, play, action, done, live)
    if done.ruling is clean and before.next is not Next.TRY:
        done.ruling = privileged(rulebook, action, clean)
    offset = any(foul.decision is FoulDecision.OFFSET for foul, _ in dead)
    if not offset and _like_for_like(dead):
        offset = True
        done.assumed.append("like fouls of both teams after the down; offset")
    if offset:
        done.parts.append(" and ".join(rule.name for _, rule in dead) + " offset")
    else:
        for foul, rule in dead:
            _mark_off_dead(rulebook, before, done, foul, rule)
    return done


def _fallen(rulebook: Rulebook, before: Situation, action: BallMovement, live: list[tuple[Foul, FoulRule]],
            clean: Ruling
            ) -> Ruling:
    """*clean*; after an illegal pass that fell, the ball where it was thrown but in the end zone (NCAA 7-3-7)."""
    if rulebook.illegal_pass_falls_at_its_spot and action.incomplete and before.next is Next.SCRIMMAGE:
        for foul, rule in live:
            if foul.by is OFFENSE and rule.act is Act.PASS and foul.spot is not None and foul.spot > 0:
                return count_down(rulebook, before, foul.spot)
    return clean


def _by_hand(foul: Foul) -> Foul:
    """*foul* as accepted if it was set by hand where its penalty is enforced and nothing was decided."""
    if foul.decision is None and (foul.at is not None or foul.enforced_from is not None):
        return replace(foul, decision=FoulDecision.ACCEPTED)
    return foul


def _like_for_like(dead: list[tuple[Foul, FoulRule]]) -> bool:
    """As many dead-ball fouls by one team as by the other, of the same yards, of which nothing was decided, cancel each
    other (NFHS 10-2-5b, NCAA 10-1-5, NFL 14-5, all from memory)."""
    sides = [foul.by for foul, _ in dead]
    return sides.count(OFFENSE) == sides.count(DEFENSE) and len({rule.yards for _, rule in dead}) == 1 and all(
        foul.decision is None and foul.yards is None for foul, _ in dead)


def _live_fouls(rulebook: Rulebook, before: Situation, play: Play, action: BallMovement, done: Enforced,
                live: list[tuple[Foul, FoulRule]]) -> None:
    undecided = all(foul.decision is None for foul, _ in live)
    offset = [pair for pair in live if pair[0].decision is FoulDecision.OFFSET]
    if undecided and len({foul.by for foul, _ in live}) == 2:
        if _clean_hands(rulebook, play, action, live):
            done.parts += [f"{rule.name} declined" for foul, rule in live if foul.by is OFFENSE]
            done.choices.append("the fouls offset: the down again")
            done.assumed.append("both teams fouled; who gained the ball fouled only afterwards and keeps it")
            live = [(foul, rule) for foul, rule in live if foul.by is DEFENSE]
        elif (major := _major_alone(rulebook, action, live)) is not None:
            done.parts += [f"{rule.name} disregarded" for foul, rule in live if rule is not major[1]]
            done.assumed.append("both teams fouled; five yards do not offset fifteen")
            live = [(replace(major[0], at=EnforcedAt.PREVIOUS_SPOT, decision=FoulDecision.ACCEPTED), major[1])]
        else:
            offset = live
            done.assumed.append("both teams fouled; offset")
    if offset:
        done.parts.append(" and ".join(rule.name for _, rule in offset) + " offset")
        if action.changed and rulebook.offset_after_change_keeps and all(
                foul.when is FoulTime.AFTER_POSSESSION_CHANGE for foul, _ in offset):
            done.ruling = _kept_where_fouled(action, done.ruling, [foul for foul, _ in offset])
        elif _not_repeated(rulebook, before, action, offset):
            done.ruling = _over(before, action)
        else:
            done.ruling, done.repeated, done.stands = again(rulebook, before, before.snap_on), True, False
        live = [pair for pair in live if pair not in offset]
    taken = {foul.by for foul, _ in live if foul.decision is FoulDecision.ACCEPTED}
    for foul, rule in [pair for pair in live if pair[0].decision is None and pair[0].by in taken]:
        done.parts.append(f"{rule.name} declined")      # only one of several fouls by one team is accepted
        live = [pair for pair in live if pair[0] is not foul]
    if undecided and len(live) > 1:
        live = [_worst(rulebook, before, play, action, done, live)]
    enforced = False
    for foul, rule in live:
        if enforced:  # a second foul that was marked off too: from where the first left the ball
            _mark_off_dead(rulebook, before, done, foul, rule)
            continue
        penalty = _penalty(rulebook, before, play, action, done.ruling, foul, rule, done.assumed)
        if foul.decision is None and not _better(rulebook, before, foul.by, penalty.ruling, done.ruling):
            done.parts.append(f"{rule.name} declined")
            done.choices.append(f"accepted: {penalty.line}")
            done.assumed.append(f"{rule.name}: declined, as the play gave more")
            continue
        if foul.decision is None:
            done.choices.append(f"{rule.name} declined: {done.ruling.result or 'the play stands'}")
        done.ruling, done.repeated = penalty.ruling, penalty.repeated
        done.stands, done.stands_to = done.stands and penalty.stands, penalty.stands_to
        done.parts.append(penalty.line)
        done.choices.extend(penalty.choices)
        enforced = True


def _clean_hands(rulebook: Rulebook, play: Play, action: BallMovement, live: list[tuple[Foul, FoulRule]]) -> bool:
    """Whether the defense keeps the ball that it gained although both teams fouled, because it fouled only
    afterwards: NFHS 10-2-2, NCAA 10-1-4, NFL 14-5-2 (from memory)."""
    return action.holder is DEFENSE and action.changed and all(
        phase_of(rulebook, play, action, foul, rule) is not Phase.DOWN for foul, rule in live if foul.by is DEFENSE)


def _worst(rulebook: Rulebook, before: Situation, play: Play, action: BallMovement, done: Enforced,
           live: list[tuple[Foul, FoulRule]]) -> tuple[Foul, FoulRule]:
    """Of several fouls by one team the one that costs it most; only one is accepted."""
    def cost(pair: tuple[Foul, FoulRule]) -> float:
        ruling = _penalty(rulebook, before, play, action, done.ruling, *pair, []).ruling
        value = worth(rulebook, ruling)
        return value if pair[0].by is DEFENSE else -value

    worst = max(live, key=cost)
    done.parts += [f"{pair[1].name} declined" for pair in live if pair is not worst]
    done.assumed.append(f"of several fouls by one team, {worst[1].name} taken")
    return worst


def _major_alone(rulebook: Rulebook, action: BallMovement, live: list[tuple[Foul, FoulRule]]
                 ) -> tuple[Foul, FoulRule] | None:
    """The foul of fifteen yards that a plain foul of five by the other team does not offset; None if there is none."""
    if not rulebook.five_against_fifteen or action.changed or len(live) != 2:
        return None
    minor, major = sorted(live, key=lambda pair: pair[1].yards)
    plain = minor[1].yards == 5 and not minor[1].loss_of_down and not (
        minor[1].automatic_first_down and minor[0].by is DEFENSE)
    return major if plain and major[1].yards == 15 else None


def _not_repeated(rulebook: Rulebook, before: Situation, action: BallMovement,
                  offset: list[tuple[Foul, FoulRule]]) -> bool:
    """Fouls offset on a try or in an extra period after the ball changed hands: the down is not played again unless
    the team that gained it had fouled before (NCAA 3-1-3-g, 8-3-4)."""
    return _declined_after_change(rulebook, before, action) and all(
        foul.when is FoulTime.AFTER_POSSESSION_CHANGE for foul, _ in offset if foul.by is DEFENSE)


def _declined_after_change(rulebook: Rulebook, before: Situation, action: BallMovement) -> bool:
    return rulebook.declined_after_change and action.changed and (
        before.next is Next.TRY or before.period > rulebook.periods)


def _over(before: Situation, action: BallMovement) -> Ruling:
    """The ruling that a try or a series of an extra period is over without a score."""
    if before.next is not Next.TRY:
        return Ruling(DEFENSE, action.gained).begin_series("series over")
    ruling = Ruling(OFFENSE)
    ruling.next, ruling.kickoff_moved, ruling.result = Next.KICKOFF, before.kickoff_moved, "try no good"
    return ruling


def _kept_where_fouled(action: BallMovement, ruling: Ruling, fouls: list[Foul]) -> Ruling:
    """Fouls that offset after a change of possession: the ball stays with who gained it, no farther
    than where a foul was, and a score is called back."""
    spots = [foul.spot for foul in fouls if foul.spot is not None]
    if not spots:
        return ruling
    if ruling.next is Next.SCRIMMAGE:
        spots.append(ruling.spot)
    kept = Ruling(action.holder, max(spots) if action.holder is DEFENSE else min(spots))
    return kept.begin_series(ruling.result if ruling.next is Next.SCRIMMAGE else "score called back")


def _penalty(rulebook: Rulebook, before: Situation, play: Play, action: BallMovement, clean: Ruling, foul: Foul,
             rule: FoulRule, assumed: list[str]) -> _Penalty:
    """The ruling with this foul accepted."""
    later = foul.at is EnforcedAt.SUCCEEDING_SPOT and (
        clean.next is not Next.SCRIMMAGE or series_over(rulebook, before, clean))
    if later or foul.at is EnforcedAt.KICKOFF or foul.at is EnforcedAt.TRY:
        return _mark_off_later(rulebook, clean, foul, rule)
    phase = phase_of(rulebook, play, action, foul, rule)
    if phase is Phase.RETURN and _declined_after_change(rulebook, before, action):
        return _declined_by_rule(rulebook, before, action, clean, foul, rule)
    good = before.next is Next.TRY or (action.score is Score.FIELD_GOAL and rulebook.field_goal_foul_carries)
    if good and foul.by is DEFENSE and clean.offense_points and foul.at is None and _carries_over(rulebook, rule):
        penalty = _mark_off_later(rulebook, clean, foul, rule)
        what = "try" if before.next is Next.TRY else "down"
        penalty.choices = (f"{rule.name} from the previous spot, and the {what} again",)
        return penalty
    if action.out_of_bounds_kick and foul.by is OFFENSE and foul.at is not EnforcedAt.PREVIOUS_SPOT:
        return _on_kick_out_of_bounds(rulebook, before, action, foul, rule)
    touchdown = action.score is Score.TOUCHDOWN and before.next is not Next.TRY
    if touchdown and action.scorer is not foul.by and foul.at is None and (
            action.scorer is OFFENSE or phase is Phase.RETURN):
        return _carried(rulebook, clean, foul, rule)
    if phase is Phase.DOWN:
        return _in_down(rulebook, before, play, action, foul, rule, assumed)
    return _after_change(rulebook, before, action, clean, phase, foul, rule)


def _on_kick_out_of_bounds(rulebook: Rulebook, before: Situation, action: BallMovement, foul: Foul, rule: FoulRule
                           ) -> _Penalty:
    """A foul of the kickers on a free kick that goes out of bounds: so many yards beyond the kick for that foul itself,
    or what the foul costs from where it went out (NCAA 6-2-2; NFHS 6-1-9)."""
    again_too = (f"{rule.name} from the previous spot, and kick again",)
    if foul.at is EnforcedAt.FIXED_SPOT or (foul.at is None and rule.name == "kickoff out of bounds"):
        fixed, beyond_out = out_of_bounds_spots(rulebook, before, action)
        spot = fixed if foul.at is not None else min(fixed, beyond_out)
        line = f"{rule.name}, the ball at {spoken_spot(spot, rulebook.field_length)}"
        return _Penalty(Ruling(DEFENSE, spot).begin_series("kick out of bounds"), line, choices=again_too)
    out = action.dead if foul.enforced_from is None else foul.enforced_from
    yards = yards_of(foul, rule, out)
    ruling = Ruling(DEFENSE, out - yards).begin_series("kick out of bounds")
    line = _line(rule, yards, "spot where it went out", out, rulebook.field_length)
    return _Penalty(ruling, line, choices=again_too)


def _in_down(rulebook: Rulebook, before: Situation, play: Play, action: BallMovement, foul: Foul, rule: FoulRule,
             assumed: list[str]) -> _Penalty:
    """A foul in the offense's down. One enforced from the previous spot or behind it, or interference that gives its
    own spot, takes the play away, unless the down is lost with it; one of the offense beyond the line shortens the gain
    to its spot (statisticians' manuals on penalties, from memory)."""
    penalty, at, spot = _enforced_in_down(rulebook, before, play, action, foul, rule, assumed)
    lost = foul.by is OFFENSE and (rule.loss_of_down if foul.loss_of_down is None else foul.loss_of_down)
    if at == "spot of foul":
        away = is_spot_foul(rule) if foul.by is DEFENSE else spot < action.start
        penalty.stands_to = spot if foul.by is OFFENSE and not away else None
    else:
        away = at == "previous spot"
    penalty.stands = lost or not away
    return penalty


def _enforced_in_down(rulebook: Rulebook, before: Situation, play: Play, action: BallMovement, foul: Foul,
                      rule: FoulRule, assumed: list[str]) -> tuple[_Penalty, str, float]:
    """The penalty, and the name and place of its enforcement spot."""
    length = rulebook.field_length
    at, spot = spot_in_down(rulebook, play, action, foul, rule, assumed)
    if before.next is Next.TRY and before.ball_on is not None and (
            at == "previous spot" or (foul.by is DEFENSE and is_spot_foul(rule))):
        # A try by run may have its own spot; a penalty moves both spots alike. Interference: half the distance.
        at, spot = "previous spot", before.ball_on
    if foul.by is OFFENSE and spot <= 0 and before.next is Next.SCRIMMAGE and at != "previous spot":
        return _Penalty(safety(rulebook, DEFENSE), f"{rule.name} in the end zone, a safety"), at, spot
    new, yards = measure_in_down(rulebook, before, action.start, foul, rule, at, spot)
    line = _line(rule, yards, at, spot, length)
    if at != "previous spot":
        new += before.snap_on - action.start
    ruling = again(rulebook, before, new)
    if before.next is Next.TRY:
        if foul.by is OFFENSE and (rule.loss_of_down if foul.loss_of_down is None else foul.loss_of_down):
            ruling.next, ruling.result = Next.KICKOFF, "try no good"
            return _Penalty(ruling, f"{rule.name}, loss of down: the try is over"), at, spot
        return _Penalty(ruling, line, True), at, spot
    if before.next is not Next.SCRIMMAGE:
        ruling.kickoff_moved = new - free_kick_spot(rulebook, before.next)
        return _Penalty(ruling, line, True), at, spot
    automatic = foul.automatic_first_down
    if automatic is None:
        automatic = rule.automatic_first_down and foul.by is DEFENSE
    lost = rule.loss_of_down if foul.loss_of_down is None else foul.loss_of_down
    if automatic or reaches(new, ruling.line):
        ruling.begin_series("first down by penalty" if foul.by is DEFENSE else "first down", first_down=True)
        return _Penalty(ruling, f"{line}, automatic first down" if automatic else line), at, spot
    if lost and foul.by is OFFENSE:
        down = before.down_number
        if down >= rulebook.downs:
            ruling.turn_over_on_downs()
        else:
            ruling.next_down, ruling.result = down + 1, "loss of down"
        return _Penalty(ruling, f"{line}, loss of down"), at, spot
    return _Penalty(ruling, line, True), at, spot


def _after_change(rulebook: Rulebook, before: Situation, action: BallMovement, clean: Ruling, phase: Phase, foul: Foul,
                  rule: FoulRule) -> _Penalty:
    """The ball stays with the team that gained it; the basic spot is where its run, or the kick, ended."""
    length = rulebook.field_length
    interfered = action.kick and rule.enforcement is Enforcement.SPOT_OF_FOUL
    theirs = foul.by is OFFENSE or (rule.act is not Act.TACKLE and (
        rule.act is Act.BLOCK or foul.at is EnforcedAt.SPOT_OF_FOUL))     # while the defense had or lost the ball
    lost = action.return_end is not None and theirs
    owner = DEFENSE if lost or (foul.by is OFFENSE and interfered) else action.holder
    if before.next is Next.TRY:
        if foul.by is not DEFENSE:
            return _Penalty(clean, f"{rule.name} declined by rule")
        return _Penalty(_over(before, action), f"{rule.name} by the defense; the try is over")
    at, spot = spot_after_change(rulebook, action, clean, phase, owner, foul, rule)
    if foul.by is owner and at == "spot of foul" and spot >= length:
        return _Penalty(safety(rulebook, OFFENSE), f"{rule.name} in the end zone, a safety")
    yards = yards_of(foul, rule, length - spot if foul.by is DEFENSE else spot)
    ruling = Ruling(owner, spot + yards if foul.by is DEFENSE else spot - yards)
    ruling.begin_series(clean.result if clean.next is Next.SCRIMMAGE else "score called back")
    choices: tuple[str, ...] = ()
    if foul.by is OFFENSE and action.kick:
        choices = (f"{rule.name} from the previous spot, and kick again",)
    elif action.free and foul.when is None and foul.at is None:
        choices = (f"{rule.name} during the kick: from the previous spot, and kick again",)
    return _Penalty(ruling, _line(rule, yards, at, spot, length), choices=choices)


# Fouls that wait: dead-ball fouls, and those that are carried over a score


def _carried(rulebook: Rulebook, clean: Ruling, foul: Foul, rule: FoulRule) -> _Penalty:
    """A foul by the team scored upon: the score stands and the penalty waits for the try or the kickoff."""
    if not _carries_over(rulebook, rule):
        return _Penalty(clean, f"{rule.name} declined by the score")
    return _mark_off_later(rulebook, clean, foul, rule)


def _carries_over(rulebook: Rulebook, rule: FoulRule) -> bool:
    return rule.personal is not PersonalFoul.NO or not rulebook.carry_over_personal_only


def _declined_by_rule(rulebook: Rulebook, before: Situation, action: BallMovement, clean: Ruling, foul: Foul,
                      rule: FoulRule) -> _Penalty:
    """A foul after the ball changed hands on a try or in an extra period: it takes its team's score away, and is
    marked off only if it is one of conduct or a flagrant one (NCAA 3-1-3-g, 8-3-4), in some codes any personal one in
    an extra period (IFAF A.R. 3-1-3:XIII)."""
    scored = clean.defense_points if foul.by is DEFENSE else clean.offense_points
    ruling = _over(before, action) if scored and action.scorer is foul.by else clean
    personal = rule.personal is PersonalFoul.PERSONAL and before.next is not Next.TRY
    if rule.personal is PersonalFoul.CONDUCT or rule.disqualifies or (personal and rulebook.personal_carries_in_series):
        return _mark_off_later(rulebook, ruling, foul, rule)
    return _Penalty(ruling, f"{rule.name} declined by rule" if ruling is clean else
                    f"{rule.name}: no score, the penalty declined by rule")


def series_over(rulebook: Rulebook, before: Situation, ruling: Ruling) -> bool:
    """Does *ruling* end a series of an extra period, so that the next play is the other team's first?"""
    over = ruling.next is not Next.SCRIMMAGE or ruling.side is DEFENSE or (ruling.fresh and not ruling.first_down)
    return (over and ruling.next is not Next.TRY and before.period > rulebook.periods
            and rulebook.overtime is Overtime.SERIES)


def _mark_off_dead(rulebook: Rulebook, before: Situation, done: Enforced, foul: Foul, rule: FoulRule) -> None:
    """Mark *foul* off from where the ball would next be put in play."""
    ruling, length = done.ruling, rulebook.field_length
    if done.repeated and before.next is Next.TRY and foul.at is None:
        foul = replace(foul, at=EnforcedAt.TRY)
    if ruling.next is not Next.SCRIMMAGE or series_over(rulebook, before, ruling):
        penalty = _mark_off_later(rulebook, ruling, foul, rule)
        done.ruling = penalty.ruling
        done.parts.append(penalty.line)
        done.choices.extend(penalty.choices)
        return
    spot = ruling.spot if foul.enforced_from is None else foul.enforced_from
    yards = yards_of(foul, rule, spot if foul.by is OFFENSE else length - spot)
    ruling.spot = spot - yards if foul.by is OFFENSE else spot + yards
    done.parts.append(_line(rule, yards, "succeeding spot", spot, length))
    if ruling.fresh:
        return
    automatic = rule.automatic_first_down if foul.automatic_first_down is None else foul.automatic_first_down
    if foul.by is not ruling.side and (automatic or reaches(ruling.spot, ruling.line)):
        ruling.begin_series("first down by penalty", first_down=True)
        done.repeated = False


def _mark_off_later(rulebook: Rulebook, ruling: Ruling, foul: Foul, rule: FoulRule) -> _Penalty:
    """Carry a penalty to the try, the kickoff (the usual) or the next series of an extra period: *ruling* with it."""
    ruling = copy(ruling)
    yards = rule.yards if foul.yards is None else foul.yards
    against_kickers = foul.by is ruling.side
    if ruling.next is Next.TRY and foul.at is EnforcedAt.TRY:
        length = rulebook.field_length
        to_goal = length - ruling.spot if ruling.side is OFFENSE else ruling.spot
        step = -yards if against_kickers else min(yards, to_goal / 2)
        ruling.spot += step if ruling.side is OFFENSE else -step
        return _Penalty(ruling, f"{rule.name}, {spoken_yards(abs(step))} on the try")
    if ruling.next is Next.SCRIMMAGE:
        ruling.kickoff_moved += -yards if against_kickers else yards
        return _Penalty(ruling, f"{rule.name}, {spoken_yards(yards)} at the start of the next series")
    if ruling.next not in (Next.KICKOFF, Next.TRY, Next.SAFETY_FREE_KICK):
        return _Penalty(ruling, f"{rule.name}, nowhere to mark it off")
    spot = free_kick_spot(rulebook, ruling.next) + ruling.kickoff_moved
    if foul.yards is None:
        yards = min(yards, (spot if against_kickers else rulebook.field_length - spot) / 2)
    ruling.kickoff_moved += -yards if against_kickers else yards
    choices: tuple[str, ...] = ()
    if ruling.next is Next.TRY:
        choices = (f"{rule.name} on the try instead of the kickoff",)
    what = "free kick" if ruling.next is Next.SAFETY_FREE_KICK else "kickoff"
    return _Penalty(ruling, f"{rule.name}, {spoken_yards(yards)} on the {what}", choices=choices)


def _line(rule: FoulRule, yards: float, at: str, spot: float, length: float) -> str:
    return f"{rule.name}, {spoken_yards(abs(yards))} from the {at} at {spoken_spot(spot, length)}"


# Which ruling the offended team would take


def _better(rulebook: Rulebook, before: Situation, offender: Side, penalty: Ruling, play: Ruling) -> bool:
    """Would the offended team rather have the *penalty* than the *play*?"""
    for_offense = worth(rulebook, penalty) - worth(rulebook, play)
    if offender is OFFENSE:
        return for_offense <= 0
    off_the_board = play.next is Next.KICKOFF and play.offense_points and not penalty.offense_points    # rare
    return not off_the_board and for_offense >= 0


_FREE_KICK_AFTER_A_SAFETY = 1.5   # what receiving it is worth in points; common practice, no source


def worth(rulebook: Rulebook, ruling: Ruling) -> float:
    """A rough worth of *ruling* in points for the offense; it serves only to rank a captain's choices.

    Common practice, no source: six points from goal line to goal line, a down about a third of a
    point, a yard to gain a sixteenth.
    """
    length = rulebook.field_length
    points = float(ruling.offense_points - ruling.defense_points)
    if ruling.next is Next.TRY:
        return points + ruling.spot / length  # a try again: worth less than a point, and more the nearer it is
    if ruling.next is not Next.SCRIMMAGE:
        received = ruling.kickoff_moved / 25
        if ruling.next is Next.SAFETY_FREE_KICK:    # the team that was scored upon also gives up the ball
            received -= _FREE_KICK_AFTER_A_SAFETY
        return points + (received if ruling.side is OFFENSE else -received)
    ahead = ruling.spot if ruling.side is OFFENSE else length - ruling.spot
    value = ahead * 6 / length - 1
    if not ruling.fresh:
        value += 0.35 * (rulebook.downs - ruling.next_down) - 0.9 - (ruling.line - ruling.spot) / 16
    return points + (value if ruling.side is OFFENSE else -value)

"""Fouls and their enforcement: which ruling stands, from where the penalty is measured, what it does to the down.

Mechanisms only; the rulebook's data selects them. All spots are told for the team that snapped or
kicked, as in :mod:`.action`.
"""

from __future__ import annotations

from .action import DEFENSE, FREE_KICKS, OFFENSE, SCRIMMAGE_KICKS, TRIES, Action
from .field import spoken_spot, spoken_yards
from .fouls import Enforcement, FoulRule, PersonalFoul
from .plays import EnforcedAt, Foul, FoulDecision, FoulTime, Outcome, Play, PlayKind, Score, Side
from .rulebook import CarryOver, LineSpot, MissedFieldGoal, Rulebook
from .ruling import Ruling, line_to_gain
from .situation import Next, Situation

PREVIOUS, OF_FOUL, BASIC = Enforcement.PREVIOUS_SPOT, Enforcement.SPOT_OF_FOUL, Enforcement.BASIC_SPOT
PERSONAL = PersonalFoul.PERSONAL
RUNS = (PlayKind.RUN, PlayKind.SACK, PlayKind.KNEEL, PlayKind.TRY_RUN)


class Enforced:
    """A ruling with its penalties. ``repeated``: the down is played again. ``parts``: what was done,
    each in a few words. ``choices``: what the rules would also have allowed."""

    __slots__ = ("ruling", "repeated", "replaced", "parts", "choices", "assumed", "problems")

    def __init__(self, ruling: Ruling) -> None:
        self.ruling = ruling
        self.repeated = self.replaced = False
        self.parts: list[str] = []
        self.choices: list[str] = []
        self.assumed: list[str] = []
        self.problems: list[str] = []


def enforce(rulebook: Rulebook, before: Situation, play: Play, action: Action, clean: Ruling) -> Enforced:
    """Apply the fouls of *play* to the *clean* ruling."""
    done = Enforced(clean)
    live: list[tuple[Foul, FoulRule]] = []
    dead: list[tuple[Foul, FoulRule]] = []
    for foul in play.fouls:
        rule = _rule_of(rulebook, foul, action, done)
        if foul.decision is FoulDecision.DECLINED:
            done.parts.append(f"{rule.name} declined")
        elif _is_dead_ball(play, foul, rule):
            dead.append((foul, rule))
        else:
            live.append((foul, rule))
    if live:
        _live_fouls(rulebook, before, play, action, done, live)
    if dead:
        _dead_fouls(rulebook, before, done, dead)
    return done


def _rule_of(rulebook: Rulebook, foul: Foul, action: Action, done: Enforced) -> FoulRule:
    """The foul's rule by the role of the team that committed it: after a change of possession the
    teams' roles are the other way round. An unknown foul is taken as the hand says."""
    roles = [foul.by]
    if action.changed and foul.at is not EnforcedAt.PREVIOUS_SPOT:
        role = OFFENSE if foul.by is action.holder else DEFENSE
        roles = [role, role.other]
    for role in roles:
        try:
            return rulebook.foul(foul.name, role)
        except KeyError:
            continue
    if foul.yards is None:
        done.problems.append(f"{rulebook.title} has no foul called {foul.name!r} by the {foul.by.value}; "
                             "say its yards by hand")
    return FoulRule(foul.name, foul.by, foul.yards or 0.0, PREVIOUS, "", "", "")


def _is_dead_ball(play: Play, foul: Foul, rule: FoulRule) -> bool:
    when = foul.when or rule.when
    if foul.at is EnforcedAt.PREVIOUS_SPOT:
        return False
    if when is FoulTime.AFTER_DOWN:
        return True
    return when is FoulTime.DURING_DOWN and rule.enforcement is Enforcement.SUCCEEDING_SPOT


# Live-ball fouls


def _live_fouls(rulebook: Rulebook, before: Situation, play: Play, action: Action, done: Enforced,
                live: list[tuple[Foul, FoulRule]]) -> None:
    offset = [pair for pair in live if pair[0].decision is FoulDecision.OFFSET]
    if not offset and len(live) > 1 and all(foul.decision is None for foul, _ in live):
        if len({foul.by for foul, _ in live}) == 2:
            offset = live
            done.assumed.append("both teams fouled; offset")
    if offset:
        done.parts.append(" and ".join(rule.name for _, rule in offset) + " offset")
        if not action.changed or not all(f.when is FoulTime.AFTER_POSSESSION_CHANGE for f, _ in offset):
            done.ruling = _again(rulebook, before, before.ball_on, done)
        else:  # the ball stays with who gained it, no farther than where his side fouled
            done.ruling = _offset_after_change(action, done.ruling, [foul for foul, _ in offset])
        live = [pair for pair in live if pair not in offset]
    enforced = False
    for foul, rule in live:
        if enforced:  # a second foul that was marked off too: from where the first left the ball
            _mark_off_dead(rulebook, before, done, foul, rule)
            continue
        usual, line, others = _penalty(rulebook, before, play, action, done, foul, rule)
        if foul.decision is None and not _better(rulebook, before, foul.by, usual, done.ruling):
            done.parts.append(f"{rule.name} declined")
            done.choices.append(f"accepted: {line}")
            done.assumed.append(f"{rule.name}: declined, as the play gave more")
            continue
        if foul.decision is None:
            done.choices.append(f"{rule.name} declined: {done.ruling.result or 'the play stands'}")
        done.ruling = usual
        done.parts.append(line)
        done.choices.extend(others)
        enforced = True


def _offset_after_change(action: Action, ruling: Ruling, fouls: list[Foul]) -> Ruling:
    spots = [foul.spot for foul in fouls if foul.spot is not None]
    if not spots or ruling.next is not Next.SCRIMMAGE:
        return ruling
    ruling.spot = max([ruling.spot, *spots]) if action.holder is DEFENSE else min([ruling.spot, *spots])
    return ruling


def _again(rulebook: Rulebook, before: Situation, spot: float, done: Enforced) -> Ruling:
    """The same down (or kick, or try) once more from *spot*."""
    ruling = Ruling(OFFENSE, spot)
    ruling.next, ruling.next_down = before.next, before.down
    ruling.kickoff_moved = before.kickoff_moved
    ruling.line = line_to_gain(before, rulebook.field_length)
    ruling.result = "down repeated" if before.next is Next.SCRIMMAGE else "again"
    done.repeated = done.replaced = True
    return ruling


def _penalty(rulebook: Rulebook, before: Situation, play: Play, action: Action, done: Enforced,
             foul: Foul, rule: FoulRule) -> tuple[Ruling, str, list[str]]:
    """The ruling with this foul accepted, a line that says it, and the other choices offered."""
    if foul.at is EnforcedAt.KICKOFF or foul.at is EnforcedAt.TRY:
        done.replaced = False
        return _mark_off_later(rulebook, done.ruling, foul, rule)
    if (action.score is Score.TOUCHDOWN and action.scorer is not foul.by and before.next is not Next.TRY
            and foul.at is None):
        return _carried(rulebook, done.ruling, foul, rule)
    if _after_change(rulebook, play, action, foul, rule):
        return _penalty_after_change(rulebook, before, action, done, foul, rule)
    return _penalty_before_change(rulebook, before, play, action, done, foul, rule)


def _after_change(rulebook: Rulebook, play: Play, action: Action, foul: Foul, rule: FoulRule) -> bool:
    """Does the penalty leave the ball with the team that gained it (and is measured for it)?"""
    if not action.changed or foul.at is EnforcedAt.PREVIOUS_SPOT:
        return False
    when = foul.when or rule.when
    if when is FoulTime.AFTER_POSSESSION_CHANGE or foul.at in (EnforcedAt.END_OF_KICK, EnforcedAt.SUCCEEDING_SPOT):
        return True
    kicked = action.kick
    if foul.by is OFFENSE:
        if kicked:
            return (rule.personal is not PersonalFoul.NO or rule.enforcement is not PREVIOUS
                    or rulebook.kickers_fouls_at_succeeding_spot)
        return rule.personal is not PersonalFoul.NO and foul.at is None
    if kicked:
        if play.kind in FREE_KICKS:
            return rule.enforcement is not PREVIOUS
        return rule.enforcement is not PREVIOUS and rulebook.post_scrimmage_kick
    if rule.by is DEFENSE:  # only possible while they were the defense
        return False
    return rule.enforcement is BASIC and rule.personal is not PersonalFoul.NO or (
        foul.spot is not None and rule.enforcement in (BASIC, OF_FOUL))


def _penalty_before_change(rulebook: Rulebook, before: Situation, play: Play, action: Action, done: Enforced,
                           foul: Foul, rule: FoulRule) -> tuple[Ruling, str, list[str]]:
    length = rulebook.field_length
    at, spot = _spot_before_change(rulebook, before, play, action, done, foul, rule)
    others: list[str] = []
    if foul.by is OFFENSE and spot <= 0 and before.next is Next.SCRIMMAGE and at != "previous spot":
        ruling = Ruling(OFFENSE, 0.0)
        ruling.next, ruling.result, ruling.defense_points = Next.SAFETY_FREE_KICK, "safety", rulebook.safety_points
        done.replaced = True
        return ruling, f"{rule.name} in the end zone, a safety", others
    new, yards = _measure(rulebook, before, foul, rule, at, spot)
    line = _line(rulebook, rule, yards, at, spot, length)
    ruling = _again(rulebook, before, new, done)
    if before.next is Next.TRY:
        return ruling, line, others
    if before.next is not Next.SCRIMMAGE:
        ruling.kickoff_moved = new - _free_kick_spot(rulebook, before)
        return ruling, line, others
    to_gain = line_to_gain(before, length)
    automatic = foul.automatic_first_down
    if automatic is None:
        automatic = rule.automatic_first_down and foul.by is DEFENSE
    lost = rule.loss_of_down if foul.loss_of_down is None else foul.loss_of_down
    if automatic or new >= to_gain - 1e-6:
        ruling.fresh, ruling.first_down, ruling.line, ruling.next_down = True, True, None, 1
        ruling.result = "first down by penalty" if foul.by is DEFENSE else "first down"
        done.repeated = False
        if automatic:
            line += ", automatic first down"
    elif lost and foul.by is OFFENSE:
        done.repeated = False
        line += ", loss of down"
        if before.down >= rulebook.downs:
            ruling.side, ruling.fresh, ruling.lost_on_downs, ruling.changed = DEFENSE, True, True, True
            ruling.new_drive, ruling.line, ruling.next_down = True, None, 1
            ruling.result = "turnover on downs"
        else:
            ruling.next_down = before.down + 1
            ruling.result = "loss of down"
    return ruling, line, others


def _spot_before_change(rulebook: Rulebook, before: Situation, play: Play, action: Action, done: Enforced,
                        foul: Foul, rule: FoulRule) -> tuple[str, float]:
    """Name and place of the enforcement spot while the offense's down is what counts."""
    start = action.start
    at = foul.at
    if foul.enforced_from is not None:
        return "spot", foul.enforced_from
    if at is EnforcedAt.SPOT_OF_FOUL and foul.spot is not None:
        return "spot of foul", foul.spot
    if at is EnforcedAt.PREVIOUS_SPOT and not (rule.enforcement is OF_FOUL and foul.spot is not None):
        return "previous spot", start
    if play.kind is PlayKind.NO_PLAY and foul.spot is None:
        return "previous spot", start
    end = action.first_end if action.first_end is not None else start
    if at in (EnforcedAt.END_OF_RUN, EnforcedAt.DEAD_BALL_SPOT):
        return "end of the run", end
    enforcement = rule.enforcement
    if rule.or_spot_of_foul and foul.spot is not None and foul.spot <= 0:
        return "spot of foul", foul.spot
    if enforcement is PREVIOUS:
        return "previous spot", start
    if enforcement is OF_FOUL:
        if foul.spot is None:
            done.assumed.append(f"where the {rule.name} happened was not said; previous spot taken")
            return "previous spot", start
        return "spot of foul", foul.spot
    if action.kick and not action.behind_line and foul.by is OFFENSE:
        return "previous spot", start
    ran = play.kind in RUNS or play.outcome is Outcome.COMPLETE or (play.kind is PlayKind.PASS and play.gain is not None)
    kept = ran and not action.incomplete and not action.changed
    if foul.by is DEFENSE:
        personal = rule.personal is not PersonalFoul.NO
        if not kept or (enforcement is Enforcement.END_OF_LAST_RUN and end <= start and not (
                personal and rulebook.run_ending_behind_line is LineSpot.END_OF_RUN_IF_PERSONAL)):
            return "previous spot", start
        if play.kind not in RUNS and not personal and foul.when is None and foul.spot is None:
            return "previous spot", start  # while the pass was loose
        behind = rulebook.run_ending_behind_line
        if end < start and (behind is LineSpot.PREVIOUS_SPOT or (
                behind is LineSpot.END_OF_RUN_IF_PERSONAL and not personal)):
            return "previous spot", start
        if personal and rulebook.personal_foul_added_to_run:
            end = action.dead
        return "end of the run", end
    if foul.spot is None:
        return ("end of the run", end) if play.kind in RUNS and end < start \
            and rulebook.offense_foul_behind_line is LineSpot.SPOT_OF_FOUL else ("previous spot", start)
    if foul.spot < start:
        if rulebook.offense_foul_behind_line is LineSpot.PREVIOUS_SPOT and foul.spot > 0:
            return "previous spot", start
        return "spot of foul", foul.spot
    if not ran or action.incomplete:
        return "previous spot", start
    if foul.spot < end:
        return "spot of foul", foul.spot
    return "end of the run", end


def _measure(rulebook: Rulebook, before: Situation, foul: Foul, rule: FoulRule, at: str, spot: float
             ) -> tuple[float, float]:
    """Where the ball goes from *spot*, and by how many yards: no more than half the distance to the goal."""
    length = rulebook.field_length
    yards = rule.yards if foul.yards is None else foul.yards
    if foul.by is DEFENSE:
        if rule.enforcement is OF_FOUL and foul.yards is None and at == "spot of foul":
            if rulebook.interference_in_end_zone_spot is not None and spot >= length:
                new = length - rulebook.interference_in_end_zone_spot
                return new, new - before.ball_on
            if rule.most_yards is not None:
                new = min(spot, before.ball_on + rule.most_yards)
                return new, new - before.ball_on
            if not yards:
                return spot, spot - before.ball_on
        yards = min(yards, (length - spot) / 2) if foul.yards is None else yards
        return spot + yards, yards
    if rule.or_spot_of_foul and foul.spot is not None and foul.yards is None and foul.spot < spot - yards:
        return foul.spot, spot - foul.spot
    yards = min(yards, spot / 2) if foul.yards is None else yards
    return spot - yards, yards


def _penalty_after_change(rulebook: Rulebook, before: Situation, action: Action, done: Enforced,
                          foul: Foul, rule: FoulRule) -> tuple[Ruling, str, list[str]]:
    """The ball stays with whoever has it at the end; the basic spot is where its run ended."""
    length, clean = rulebook.field_length, done.ruling
    scored = clean.offense_points or clean.defense_points
    holder = action.holder
    if scored and (foul.by is not action.scorer):
        return _carried(rulebook, clean, foul, rule)
    spot, at = clean.spot if not scored else action.dead, "end of the run"
    if action.touchback:
        at = "touchback spot"
    elif action.loose or action.fair_catch:
        at = "succeeding spot"
    if foul.enforced_from is not None:
        spot, at = foul.enforced_from, "spot"
    elif foul.by is holder and foul.spot is not None:
        basic = action.kick_end if foul.at is EnforcedAt.END_OF_KICK or foul.when is FoulTime.DURING_KICK else spot
        behind = foul.spot > basic if holder is DEFENSE else foul.spot < basic
        if behind or (scored and rule.enforcement is not PREVIOUS) or foul.at is EnforcedAt.SPOT_OF_FOUL:
            spot, at = foul.spot, "spot of foul"
        elif basic != spot:
            spot, at = basic, "end of the kick"
    elif foul.by is not holder and rule.enforcement is OF_FOUL and foul.spot is not None:
        spot, at = foul.spot, "spot of foul"
    yards = rule.yards if foul.yards is None else foul.yards
    if foul.yards is None:
        yards = min(yards, (length - spot if foul.by is DEFENSE else spot) / 2)
    new = spot + yards if foul.by is DEFENSE else spot - yards
    ruling = Ruling(holder, new)
    ruling.fresh, ruling.next_down, ruling.changed, ruling.new_drive = True, 1, holder is DEFENSE, True
    ruling.result = clean.result if not scored else "score called back"
    done.replaced = bool(scored)
    return ruling, _line(rulebook, rule, yards, at, spot, length), []


def _carried(rulebook: Rulebook, clean: Ruling, foul: Foul, rule: FoulRule) -> tuple[Ruling, str, list[str]]:
    """A foul by the team scored upon: the score stands and the penalty waits for the try or the kickoff."""
    if rulebook.carry_over is CarryOver.NONE or (
        rulebook.carry_over_personal_only and rule.personal is PersonalFoul.NO
    ):
        return clean, f"{rule.name} declined by the score", []
    return _mark_off_later(rulebook, clean, foul, rule)


# Dead-ball fouls and the ones that are carried over


def _dead_fouls(rulebook: Rulebook, before: Situation, done: Enforced, dead: list[tuple[Foul, FoulRule]]) -> None:
    if any(foul.decision is FoulDecision.OFFSET for foul, _ in dead):
        done.parts.append(" and ".join(rule.name for _, rule in dead) + " offset")
        return
    for foul, rule in dead:
        _mark_off_dead(rulebook, before, done, foul, rule)


def _mark_off_dead(rulebook: Rulebook, before: Situation, done: Enforced, foul: Foul, rule: FoulRule) -> None:
    """Mark *foul* off from where the ball would next be put in play."""
    ruling, length = done.ruling, rulebook.field_length
    if ruling.next is not Next.SCRIMMAGE:
        done.ruling, line, others = _mark_off_later(rulebook, ruling, foul, rule)
        done.parts.append(line)
        done.choices.extend(others)
        return
    spot = ruling.spot if foul.enforced_from is None else foul.enforced_from
    yards = rule.yards if foul.yards is None else foul.yards
    if foul.yards is None:
        yards = min(yards, (spot if foul.by is OFFENSE else length - spot) / 2)
    ruling.spot = spot - yards if foul.by is OFFENSE else spot + yards
    done.parts.append(_line(rulebook, rule, yards, "succeeding spot", spot, length))
    if ruling.fresh:
        return
    automatic = rule.automatic_first_down if foul.automatic_first_down is None else foul.automatic_first_down
    line = ruling.line if ruling.line is not None else line_to_gain(before, length)
    if foul.by is not ruling.side and (automatic or ruling.spot >= line - 1e-6):
        ruling.fresh, ruling.first_down, ruling.line, ruling.next_down = True, True, None, 1
        ruling.result = "first down by penalty"


def _mark_off_later(rulebook: Rulebook, ruling: Ruling, foul: Foul, rule: FoulRule) -> tuple[Ruling, str, list[str]]:
    """Carry a penalty to the try or the kickoff that comes next: the kickoff is usual."""
    yards = rule.yards if foul.yards is None else foul.yards
    against_kickers = foul.by is ruling.side
    others: list[str] = []
    if ruling.next is Next.TRY and (
        foul.at is EnforcedAt.TRY or (foul.at is None and rulebook.carry_over is CarryOver.NONE)
    ):
        length = rulebook.field_length
        to_goal = length - ruling.spot if ruling.side is OFFENSE else ruling.spot
        step = -yards if against_kickers else min(yards, to_goal / 2)
        ruling.spot += step if ruling.side is OFFENSE else -step
        return ruling, f"{rule.name}, {spoken_yards(abs(step))} on the try", others
    base = rulebook.safety_free_kick_spot if ruling.next is Next.SAFETY_FREE_KICK else rulebook.kickoff_spot
    spot = base + ruling.kickoff_moved
    if foul.yards is None:
        yards = min(yards, (spot if against_kickers else rulebook.field_length - spot) / 2)
    ruling.kickoff_moved += -yards if against_kickers else yards
    if ruling.next is Next.TRY and rulebook.carry_over is CarryOver.TRY_OR_KICKOFF:
        others.append(f"{rule.name} on the try instead of the kickoff")
    what = "the free kick" if ruling.next is Next.SAFETY_FREE_KICK else "the kickoff"
    return ruling, f"{rule.name}, {spoken_yards(yards)} on {what}", others


def _free_kick_spot(rulebook: Rulebook, before: Situation) -> float:
    return rulebook.kickoff_spot if before.next is Next.KICKOFF else rulebook.safety_free_kick_spot


def _line(rulebook: Rulebook, rule: FoulRule, yards: float, at: str, spot: float, length: float) -> str:
    return f"{rule.name}, {spoken_yards(abs(yards))} from the {at} at {spoken_spot(spot, length)}"


# Which ruling the offended team would take


def _better(rulebook: Rulebook, before: Situation, offender: Side, penalty: Ruling, play: Ruling) -> bool:
    """Would the offended team rather have the *penalty* than the *play*?"""
    for_offense = worth(rulebook, before, penalty) - worth(rulebook, before, play)
    return for_offense >= 0 if offender is DEFENSE else for_offense <= 0


def worth(rulebook: Rulebook, before: Situation, ruling: Ruling) -> float:
    """A rough worth of *ruling* in points for the offense; it only has to order what a captain would take.

    Common practice, no source: about 5 points from goal line to goal line, a first down worth its
    chance, a down worth about half a point.
    """
    length = rulebook.field_length
    points = float(ruling.offense_points - ruling.defense_points)
    if ruling.next is not Next.SCRIMMAGE:
        if ruling.next is Next.TRY and before.next is not Next.TRY:
            points += 0.95 if ruling.side is OFFENSE else -0.95
        elif before.next is Next.TRY and ruling.next is Next.TRY:
            points += 0.95 + (ruling.spot - (length - rulebook.try_spot_kick)) / 10
        return points + ruling.kickoff_moved / 25
    ahead = ruling.spot if ruling.side is OFFENSE else length - ruling.spot
    value = ahead * 6 / length - 1
    if not ruling.fresh:
        left = rulebook.downs - (ruling.next_down or 1)
        line = ruling.line if ruling.line is not None else line_to_gain(before, length)
        value -= (1.0, 0.9, 0.5, 0.1)[max(3 - left, 0) if left <= 3 else 0] if False else 0.0
        value += 0.35 * left - 0.9 - (line - ruling.spot) * 0.06
    return points + (value if ruling.side is OFFENSE else -value)

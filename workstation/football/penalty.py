"""One foul: the rule it breaks, when in the down it came, from where its penalty is measured, how far.

Mechanisms only; the rulebook's data selects them. All spots are those of the team that snapped or kicked, as in
:mod:`.action`.
"""

from __future__ import annotations

from dataclasses import replace
from enum import Enum

from .action import DEFENSE, FREE_KICKS, OFFENSE, TRIES, BallMovement
from .fouls import Act, Enforcement, FoulRule, PersonalFoul
from .plays import EnforcedAt, Foul, FoulTime, Play, PlayKind, Score, Side
from .rulebook import AddedToRun, LineSpot, Rulebook
from .ruling import Ruling
from .situation import Next, Situation

RUNS = (PlayKind.RUN, PlayKind.SACK, PlayKind.KNEEL, PlayKind.TRY_RUN)
PASSES = (PlayKind.PASS, PlayKind.SPIKE, PlayKind.TRY_PASS)
_AFTERWARDS = (EnforcedAt.SUCCEEDING_SPOT, EnforcedAt.DEAD_BALL_SPOT, EnforcedAt.END_OF_RUN)


class Phase(Enum):
    """The part of a play in which a foul counts, as enforcement distinguishes it."""

    DOWN = "down"               # the offense's down, or the free kick, counts: from its spots
    KICK = "end of the kick"    # a scrimmage kick that the receivers keep: from there
    RETURN = "end of the run"   # after the defense gained the ball: from there


def rule_of(rulebook: Rulebook, play: Play, foul: Foul, action: BallMovement, problems: list[str]) -> FoulRule:
    """The foul's rule by the role of the team that committed it: after a change of possession, and mostly on a free
    kick, the teams' roles are the other way round. An unknown foul has the enforcement that was set by hand."""
    roles = [foul.by]
    if action.changed:
        roles = [foul.by, foul.by.other]
        turned = foul.by is DEFENSE or play.kind in FREE_KICKS
        if foul.when in (FoulTime.AFTER_POSSESSION_CHANGE, FoulTime.AFTER_DOWN) or (
                foul.when is None and turned and foul.at is not EnforcedAt.PREVIOUS_SPOT):
            roles.reverse()
    for role in roles:
        try:
            return _as_committed(rulebook, play, action, foul, rulebook.foul(foul.name, role))
        except KeyError:
            continue
    if foul.yards is None:
        problems.append(f"{rulebook.title} has no foul called {foul.name!r} by the {foul.by.value}; "
                        "say its yards by hand")
    return FoulRule(foul.name, foul.by, foul.yards or 0.0, Enforcement.PREVIOUS_SPOT, "", "", "")


def _as_committed(rulebook: Rulebook, play: Play, action: BallMovement, foul: Foul, rule: FoulRule) -> FoulRule:
    """*rule* adapted to when this foul was committed: a usual dead-ball foul may have come while the ball was live,
    and one that usually keeps the ball dead may have come at the snap (NCAA 3-5-2, NFHS 3-7)."""
    if rule.kills_the_play and foul.when is FoulTime.DURING_DOWN:
        return replace(rule, enforcement=Enforcement.PREVIOUS_SPOT, when=FoulTime.DURING_DOWN)
    if rule.act is Act.LOOSE_BALL and rule.loss_of_down and _kick_beyond_line(play, foul, action):
        rule = replace(rule, loss_of_down=False)
    if rule.on_free_kick is not None and play.kind in FREE_KICKS:
        return replace(rule, enforcement=rule.on_free_kick)
    if rule.on_pass is not None and play.kind in PASSES and foul.when in (None, FoulTime.DURING_DOWN):
        return replace(rule, enforcement=rule.on_pass, automatic_first_down=True)
    if rule.while_live is None or foul.when is FoulTime.AFTER_DOWN or foul.when is FoulTime.BEFORE_SNAP:
        return rule
    where = foul.spot
    scored = action.score is Score.TOUCHDOWN and action.scorer is foul.by  # no spot: it counts (9-2-1-IV)
    if foul.at is EnforcedAt.SPOT_OF_FOUL or (where is None and not scored and foul.when is FoulTime.DURING_DOWN) or (
            where is not None and 0 < where < rulebook.field_length and foul.at is not EnforcedAt.SUCCEEDING_SPOT):
        return replace(rule, enforcement=rule.while_live, when=FoulTime.DURING_DOWN)
    return rule


def _kick_beyond_line(play: Play, foul: Foul, action: BallMovement) -> bool:
    """Did the foul happen while a legal kick was beyond the line? (NCAA 9-4-1 and 9-4-4: no loss of down then.)"""
    if not action.kick:
        return False
    return play.kind in FREE_KICKS or (not action.never_crossed and (foul.spot is None or foul.spot > action.start))


def is_dead_ball(foul: Foul, rule: FoulRule) -> bool:
    """Was the ball dead, so that the penalty waits for the succeeding spot?"""
    when = foul.when or rule.when
    return foul.at is not EnforcedAt.PREVIOUS_SPOT and (when is FoulTime.AFTER_DOWN or (
        when is FoulTime.DURING_DOWN and rule.enforcement is Enforcement.SUCCEEDING_SPOT))


def phase_of(rulebook: Rulebook, play: Play, action: BallMovement, foul: Foul, rule: FoulRule) -> Phase:
    """When in the play the foul counts as having been committed."""
    at, when = foul.at, foul.when
    if rule.act is Act.WEDGE and action.holder is OFFENSE:
        return Phase.DOWN
    if not action.changed or at is EnforcedAt.PREVIOUS_SPOT:
        return Phase.DOWN
    kicked = action.kick and not action.never_crossed
    if foul.by is OFFENSE:
        if kicked and rule.enforcement is Enforcement.SPOT_OF_FOUL and at is None and foul.spot is not None:
            return Phase.RETURN  # they interfered with the catch
        if when is FoulTime.DURING_DOWN and at is None and foul.spot is not None and foul.spot <= 0:
            return Phase.DOWN  # behind their goal line before they kicked
        if action.holder is OFFENSE and (
                action.return_end is None or (kicked and at is None and _before_the_catch(foul, rule))):
            return Phase.DOWN  # the receivers never had it, or lost it: it is added only to a ball of theirs
        if at is EnforcedAt.SPOT_OF_FOUL and foul.spot is not None and foul.spot <= 0:
            return Phase.DOWN
        if when is FoulTime.AFTER_POSSESSION_CHANGE or at in _AFTERWARDS:
            return Phase.RETURN
        if kicked and not rule.loss_of_down:
            return Phase.RETURN  # the receivers prefer the end of the play to another kick
        return Phase.RETURN if rule.personal is not PersonalFoul.NO and when is None else Phase.DOWN
    if when is FoulTime.AFTER_POSSESSION_CHANGE or at in _AFTERWARDS:
        return Phase.RETURN
    if at is EnforcedAt.END_OF_KICK:
        return Phase.KICK
    if kicked:
        if rule.enforcement is Enforcement.PREVIOUS_SPOT or when is FoulTime.DURING_DOWN:
            return Phase.DOWN   # before the ball was kicked
        if play.kind in FREE_KICKS:
            during = when is FoulTime.DURING_KICK or (when is None and rule.when is FoulTime.DURING_KICK)
            return Phase.DOWN if during and rule.enforcement is Enforcement.BASIC_SPOT else Phase.RETURN
        returned = action.kick_end is not None and action.dead != action.kick_end and not action.loose
        if returned and when is None:
            return Phase.RETURN
        if action.holder is OFFENSE or action.in_extra_period:
            return Phase.DOWN
        beyond = rulebook.post_scrimmage_kick_beyond
        if beyond is not None and foul.spot is not None and foul.spot < action.start + beyond:
            return Phase.DOWN
        return Phase.KICK
    if when is not None or rule.by is DEFENSE:  # only possible while they were the defense
        return Phase.DOWN
    if rule.act is Act.LOOSE_BALL and action.return_end is None:
        return Phase.DOWN   # the offense had lost the ball, the defense did not have it yet
    told = foul.spot is not None or not action.intercepted
    if told and rule.act is not Act.BLOCK and (rule.act is Act.TACKLE or rule.personal is PersonalFoul.PERSONAL):
        return Phase.DOWN   # on a player of the offense, most often its runner
    if rule.enforcement is Enforcement.BASIC_SPOT and (rule.personal is not PersonalFoul.NO or foul.spot is not None):
        return Phase.RETURN
    return Phase.RETURN if rule.enforcement is Enforcement.SPOT_OF_FOUL and foul.spot is not None else Phase.DOWN


def _before_the_catch(foul: Foul, rule: FoulRule) -> bool:
    """Did the kickers foul while the kick was not yet the receivers'?"""
    if foul.when is None:
        return rule.enforcement is Enforcement.PREVIOUS_SPOT or rule.when is FoulTime.DURING_KICK
    return foul.when in (FoulTime.DURING_KICK, FoulTime.DURING_DOWN)


def spot_in_down(rulebook: Rulebook, play: Play, action: BallMovement, foul: Foul, rule: FoulRule,
                 assumed: list[str]) -> tuple[str, float]:
    """Name and place of the enforcement spot while the offense's down is what counts."""
    start, at, where = action.start, foul.at, foul.spot
    if foul.enforced_from is not None:
        return "spot", foul.enforced_from
    if at is EnforcedAt.SPOT_OF_FOUL and where is not None:
        return "spot of foul", where
    if at is EnforcedAt.PREVIOUS_SPOT or (play.kind is PlayKind.NO_PLAY and where is None):
        return "previous spot", start
    end = action.first_end if action.first_end is not None else start
    if at in _AFTERWARDS:
        return "end of the run", end
    enforcement = rule.enforcement
    if rule.or_spot_of_foul and where is not None and where <= 0:
        return "spot of foul", where
    if enforcement is Enforcement.PREVIOUS_SPOT:
        return "previous spot", start
    if enforcement is Enforcement.SPOT_OF_FOUL:
        if where is None and play.kind in TRIES and not rule.yards:
            return "spot of foul", action.length    # half the distance wherever it was
        if where is None:
            assumed.append(f"where the {rule.name} happened was not said; previous spot taken")
            return "previous spot", start
        return "spot of foul", where
    running = play.kind in RUNS
    had_run = running or (play.kind is PlayKind.PASS and not action.incomplete and not action.intercepted)
    if foul.by is DEFENSE:
        return _defense_foul_in_run(rulebook, action, foul, rule, running, had_run, end)
    if where is None:
        behind = running and end < start and rulebook.offense_foul_behind_line is LineSpot.SPOT_OF_FOUL
        return ("end of the run", end) if behind else ("previous spot", start)
    if where < start:
        if rulebook.offense_foul_behind_line is LineSpot.PREVIOUS_SPOT and where > 0:
            return "previous spot", start
        return "spot of foul", where
    if not had_run or (play.kind is PlayKind.PASS and rule.act is Act.LOOSE_BALL):
        return "previous spot", start  # while the pass was loose
    return ("spot of foul", where) if where < end else ("end of the run", end)


def _defense_foul_in_run(rulebook: Rulebook, action: BallMovement, foul: Foul, rule: FoulRule, running: bool,
                         had_run: bool, end: float) -> tuple[str, float]:
    start = action.start
    personal = rule.personal is not PersonalFoul.NO
    behind = rulebook.run_ending_behind_line
    last_run = rule.enforcement is Enforcement.END_OF_LAST_RUN
    added_behind = (behind is LineSpot.END_OF_RUN and not last_run) or (
        behind is LineSpot.END_OF_RUN_IF_PERSONAL and personal)
    if not had_run or (end < start and not added_behind):
        return "previous spot", start
    if not running and not personal and foul.when is None and foul.spot is None:
        return "previous spot", start  # while the pass was loose
    if not running and action.changed and rule.act is not Act.TACKLE:
        return "previous spot", start  # the run that it would be added to was lost
    added = rulebook.personal_foul_added_to_run
    on_this_play = added is AddedToRun.ALWAYS or (added is AddedToRun.ON_PASSES and not running)
    before_the_catch = foul.when is FoulTime.DURING_DOWN and foul.spot is not None and foul.spot < start
    if not running and before_the_catch and not last_run and not (personal and on_this_play):
        return "previous spot", start
    if (last_run or (personal and on_this_play)) and not action.changed:
        end = action.dead
    return "end of the run", max(end, 0.0)


def is_spot_foul(rule: FoulRule) -> bool:
    """Does the foul give the ball at its spot, with no yards of its own?"""
    return rule.enforcement is Enforcement.SPOT_OF_FOUL and not rule.yards


def yards_of(foul: Foul, rule: FoulRule, to_goal: float) -> float:
    """The yards that the foul costs: no more than half of those to its offender's goal line, *to_goal*."""
    return min(rule.yards, max(to_goal, 0.0) / 2) if foul.yards is None else foul.yards


def measure_in_down(rulebook: Rulebook, before: Situation, start: float, foul: Foul, rule: FoulRule, at: str,
                    spot: float) -> tuple[float, float]:
    """Where the ball goes from *spot*, and by how many yards: no more than half the distance to the goal."""
    length = rulebook.field_length
    yards = foul.yards
    if foul.by is DEFENSE:
        if is_spot_foul(rule) and yards is None and (at == "spot of foul" or before.next is Next.TRY):
            new = _interference(rulebook, before, start, rule, spot)
            return new, new - (spot if before.next is Next.TRY else start)
        yards = yards_of(foul, rule, length - spot)
        return spot + yards, yards
    yards = yards_of(foul, rule, spot)
    if foul.yards is None and rule.or_spot_of_foul and foul.spot is not None:
        yards = max(yards, spot - foul.spot)
    return spot - yards, yards


def _interference(rulebook: Rulebook, before: Situation, start: float, rule: FoulRule, spot: float) -> float:
    """Where the ball goes for interference on *spot*: there, but no farther than the rule allows; for
    interference in the end zone, from inside the two or on a try, half the distance to the goal line."""
    length = rulebook.field_length
    new = spot if rule.most_yards is None else min(spot, start + rule.most_yards)
    nearest = length - rulebook.interference_in_end_zone_spot
    if before.next is Next.TRY:
        return (spot + length) / 2
    if start >= length - 2:
        nearest = (start + length) / 2
    return min(new, nearest)


def spot_after_change(rulebook: Rulebook, action: BallMovement, clean: Ruling, phase: Phase, owner: Side, foul: Foul,
                      rule: FoulRule) -> tuple[str, float]:
    """Name and place of the enforcement spot when the ball stays with the team that gained it."""
    if foul.enforced_from is not None:
        return "spot", foul.enforced_from
    scored = clean.next is not Next.SCRIMMAGE
    at, basic = phase.value, action.dead if scored else clean.spot
    if owner is not action.holder or (action.return_end is not None and foul.by is OFFENSE and rule.act is Act.BLOCK):
        basic = action.return_end if action.return_end is not None else action.dead   # it was loose while they blocked
    elif action.touchback:
        at = "touchback spot"
    elif foul.by is OFFENSE and foul.spot is not None and action.return_end is not None \
            and min(foul.spot, action.return_end) >= action.length:     # fouled and fumbled in its end zone
        basic = action.length    # NFHS 10-4-6, NCAA 10-2-2-d
        if rulebook.run_within_end_zone_is_touchback and action.gained >= action.length:
            at, basic = "touchback spot", action.length - rulebook.touchback_spot
    elif phase is Phase.KICK:
        if any(spot >= action.length for spot in action.touches):
            at, basic = "touchback spot", action.length - rulebook.touchback_spot
        elif action.kick_end is not None and not scored:
            basic = action.kick_end
    elif not scored and (action.loose or action.fair_catch):
        at = "succeeding spot"
    where = foul.spot
    if where is not None and where >= action.length and foul.by is OFFENSE and action.kick \
            and rule.enforcement is Enforcement.SPOT_OF_FOUL:
        return "touchback spot", action.length - rulebook.touchback_spot
    if where is not None:
        behind = foul.by is owner and (scored or where > basic)     # the owner is the defense then
        if behind or foul.at is EnforcedAt.SPOT_OF_FOUL or rule.enforcement is Enforcement.SPOT_OF_FOUL:
            return "spot of foul", where
    return at, min(max(basic, 0.0), rulebook.field_length)

"""The tracker: plays folded into the situation before every snap.

    steps = track(load_rulebook("nfhs"), plays)
    steps[-1].after          # what is true before the next snap
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from .action import OFFENSE, Action, read_action
from .enforcement import enforce
from .field import Team, spoken_spot, spoken_yards
from .periods import end_of_period, extra_period_play, opening, timeout, toss
from .plays import Outcome, Play, PlayKind, Said
from .rulebook import Overtime, Rulebook
from .ruling import Ruling, line_to_gain, rule, situation_after
from .situation import Certainty, Next, Situation, Step
from .speaking import spoken_situation

_FITS = {
    PlayKind.KICKOFF: Next.KICKOFF,
    PlayKind.SAFETY_FREE_KICK: Next.SAFETY_FREE_KICK,
    PlayKind.TRY_KICK: Next.TRY,
    PlayKind.TRY_RUN: Next.TRY,
    PlayKind.TRY_PASS: Next.TRY,
    PlayKind.COIN_TOSS: Next.COIN_TOSS,
    PlayKind.RUN: Next.SCRIMMAGE,
    PlayKind.PASS: Next.SCRIMMAGE,
    PlayKind.SACK: Next.SCRIMMAGE,
    PlayKind.KNEEL: Next.SCRIMMAGE,
    PlayKind.SPIKE: Next.SCRIMMAGE,
    PlayKind.PUNT: Next.SCRIMMAGE,
    PlayKind.FIELD_GOAL: Next.SCRIMMAGE,
}


def track(rulebook: Rulebook, plays: Iterable[Play], last: Step | None = None) -> list[Step]:
    """Fold *plays*, from the opening or on from the *last* step, into one step each."""
    situation = opening(rulebook) if last is None else last.after
    steps = []
    for play in plays:
        last = fold(rulebook, situation, play, last)
        situation = last.after
        steps.append(last)
    return steps


def fold(rulebook: Rulebook, situation: Situation, play: Play, last: Step | None = None) -> Step:
    """Fold one *play* into *situation*. Never raises on a tag: the step's ``problems`` say what
    cannot be right, and the game goes on as well as it can. ``last`` is the step before, which
    measurements and replay reversals are about."""
    kind = play.kind
    contradictions: list[str] = []
    if play.said is not None:
        situation, contradictions = _hear(rulebook, situation, play.said)
    if play.clock is not None and play.clock != situation.clock:
        situation = situation.at(play.clock)
    if kind in _BETWEEN:
        return _BETWEEN[kind](rulebook, situation, play, last, contradictions)
    problems: list[str] = []
    wanted = _FITS.get(kind)
    if wanted is None and (situation.ball_on is None or situation.next is Next.OVER):
        problem = f"{_a(kind.value)} cannot come here; {_due(situation.next)}"
        return _between(situation, play, situation, kind.value, contradictions, [], [problem], rulebook)
    if wanted is not situation.next and (wanted is not None or situation.offense is None):
        situation, problems = _fit(rulebook, situation, play, wanted)
    return _fold_live(rulebook, situation, play, contradictions, problems)


def _fold_live(rulebook: Rulebook, before: Situation, play: Play, contradictions: list[str],
               problems: list[str]) -> Step:
    """A play with the ball in play, or a foul that kept it from being so."""
    if play.kind is PlayKind.NO_PLAY or play.kind is PlayKind.INADVERTENT_WHISTLE:
        action = Action(before.ball_on, rulebook.field_length)
        ruling = Ruling(OFFENSE, before.ball_on)
        ruling.next, ruling.next_down, ruling.line = before.next, before.down, None
        if before.next is Next.SCRIMMAGE:
            ruling.line = line_to_gain(before, rulebook.field_length)
        ruling.kickoff_moved = before.kickoff_moved
        repeated = before.next is Next.SCRIMMAGE
        ruling.result = "no play"
        if play.kind is PlayKind.INADVERTENT_WHISTLE:
            ruling.result = "inadvertent whistle, down repeated"
            if (play.choice or "").lower().startswith("take"):
                action = read_action(rulebook, before, play)
                ruling = rule(rulebook, before, play, action)
                repeated = False
    else:
        action = read_action(rulebook, before, play)
        ruling = rule(rulebook, before, play, action)
        repeated = False
    assumed, choices, parts = action.assumed, (), []
    if action.problems:
        problems = problems + action.problems
    dead = action.dead
    if play.fouls:
        enforced = enforce(rulebook, before, play, action, ruling)
        ruling, parts, choices = enforced.ruling, enforced.parts, tuple(enforced.choices)
        repeated = enforced.repeated or (repeated and not ruling.fresh)
        assumed = assumed + enforced.assumed
        problems = problems + enforced.problems
    elif play.kind is PlayKind.NO_PLAY:
        problems = [*problems, "no play without a foul says nothing"]
    after = situation_after(rulebook, before, ruling)
    tail = ""
    if after.second_half_kicker is None and before.next is Next.KICKOFF:
        after = replace(after, second_half_kicker=before.offense.opponents)
    if before.period > rulebook.periods:
        after, tail = extra_period_play(rulebook, before, after)
    result = ruling.result or _plain_result(before, ruling, action)
    explanation = _explain(rulebook, play, before, after, result, parts, repeated, tail)
    certainty = Certainty.CERTAIN
    if contradictions:
        certainty = Certainty.CONTRADICTED
        explanation += "; " + "; ".join(contradictions)
    elif assumed or problems:
        certainty = Certainty.ASSUMED
    if assumed:
        explanation += " (" + "; ".join(assumed) + ")"
    home_offense = before.offense is Team.HOME
    return Step(
        before, play, after, result, explanation, certainty,
        dead if play.kind is not PlayKind.NO_PLAY else None,
        ruling.offense_points if home_offense else ruling.defense_points,
        ruling.defense_points if home_offense else ruling.offense_points,
        ruling.first_down, ruling.changed, repeated, choices, tuple(problems) if problems else (),
    )


def _plain_result(before: Situation, ruling: Ruling, action: Action) -> str:
    if action.incomplete:
        return "incomplete"
    yards = action.dead - before.ball_on
    if yards == 0:
        return "no gain"
    said = f"{'gain' if yards > 0 else 'loss'} of {spoken_yards(abs(yards))}"
    if before.down is not None and ruling.next_down and before.down >= 3:
        return f"stopped short, {said}"
    return said


def _explain(rulebook: Rulebook, play: Play, before: Situation, after: Situation, result: str, parts: list[str],
             repeated: bool, tail: str) -> str:
    said = "; ".join(parts) if parts else ""
    if said:
        said = f"{result}; {said}" if not repeated else said
    else:
        said = result
    if tail:
        said += f"; {tail}"
    now = spoken_situation(after, rulebook.field_length)
    return f"{said}; {'again ' if repeated and after.next is before.next else ''}{now}"


# A person's word


def _hear(rulebook: Rulebook, situation: Situation, said: Said) -> tuple[Situation, list[str]]:
    """Put what a person set by hand over what followed, and say where they differ."""
    contradictions = []
    changes = {}
    if said.period is not None and said.period != situation.period:
        while situation.period < said.period and situation.next is not Next.OVER:
            situation = end_of_period(rulebook, situation)[0]
        if situation.period != said.period:
            contradictions.append(f"period {said.period} was set by hand, {situation.period} follows")
            changes["period"] = said.period
    for name in ("next", "offense", "down", "yards_to_gain", "ball_on", "score_home", "score_visitors",
                 "timeouts_home", "timeouts_visitors", "second_half_kicker", "home_faces_right"):
        value = getattr(said, name)
        if value is None:
            continue
        was = getattr(situation, name)
        if was == value or (isinstance(value, float) and was is not None and abs(value - was) < 1e-6):
            continue
        changes[name] = value
        if was is not None and not (name == "home_faces_right" and was is None):
            what = name.replace("_", " ")
            if name == "ball_on":
                contradictions.append(
                    f"ball on {spoken_spot(value, rulebook.field_length)} was set by hand, "
                    f"{spoken_spot(was, rulebook.field_length)} follows")
            else:
                contradictions.append(f"{what} {value} was set by hand, {was} follows")
    if not changes:
        return situation, contradictions
    if "offense" in changes and "ball_on" not in changes and situation.ball_on is not None \
            and situation.next is Next.SCRIMMAGE:
        changes["ball_on"] = rulebook.field_length - situation.ball_on
    return _made_whole(rulebook, replace(situation, **changes), changes), contradictions


def _made_whole(rulebook: Rulebook, situation: Situation, changes: dict) -> Situation:
    """Let the rest of the situation agree with what was set by hand."""
    length, spot = rulebook.field_length, situation.ball_on
    if situation.next is Next.SCRIMMAGE:
        if spot is None:
            spot = rulebook.touchback_spot
        to_goal, to_gain = length - spot, situation.yards_to_gain
        if "ball_on" in changes and "yards_to_gain" not in changes and situation.goal_to_go:
            to_gain = to_goal
        to_gain = min(rulebook.yards_to_gain if to_gain is None else to_gain, to_goal)
        return replace(situation, ball_on=spot, yards_to_gain=to_gain, goal_to_go=to_gain >= to_goal - 1e-6,
                       down=situation.down or 1, offense=situation.offense or Team.HOME)
    if situation.next in (Next.OVER, Next.COIN_TOSS):
        return replace(situation, down=None, yards_to_gain=None, goal_to_go=False)
    if "next" in changes and "ball_on" not in changes:
        spot = {Next.TRY: length - rulebook.try_spot_kick, Next.KICKOFF: rulebook.kickoff_spot}.get(
            situation.next, rulebook.safety_free_kick_spot)
    return replace(situation, ball_on=spot, down=None, yards_to_gain=None, goal_to_go=False,
                   offense=situation.offense or Team.HOME)


# A play where another was due


def _fit(rulebook: Rulebook, situation: Situation, play: Play, wanted: Next | None) -> tuple[Situation, list[str]]:
    """Make the situation one that *play* can be played in, and say what must have been left out."""
    due = situation.next
    problems = []
    if situation.offense is None:
        situation, problems = _begin(rulebook, situation, play, wanted)
        due = situation.next
        if wanted is None or wanted is due:
            return situation, problems
    if due is Next.FAIR_CATCH_KICK and wanted is Next.SCRIMMAGE:
        return situation, problems
    if wanted is Next.SCRIMMAGE and due is Next.TRY and play.kind is PlayKind.FIELD_GOAL:
        return situation, ["a try is due; tag it as a try by kick"]
    if wanted is None:
        return situation, problems
    problems.append(f"{_a(play.kind.value)} cannot come here; {_due(due)}")
    length = rulebook.field_length
    offense = situation.offense
    if wanted is Next.SCRIMMAGE and due is Next.KICKOFF and rulebook.field_goal_scrimmage_spot is not None:
        return replace(
            situation, next=Next.SCRIMMAGE, offense=situation.offense.opponents, down=1,
            yards_to_gain=rulebook.yards_to_gain, ball_on=rulebook.field_goal_scrimmage_spot,
            goal_to_go=False, series=situation.series + 1, drive=situation.drive + 1), problems[:-1]
    if wanted is Next.SCRIMMAGE:
        if due in (Next.KICKOFF, Next.SAFETY_FREE_KICK):
            offense = offense.opponents
        spot = rulebook.kickoff_touchback_spot
        return replace(
            situation, next=Next.SCRIMMAGE, offense=offense, down=1, yards_to_gain=rulebook.yards_to_gain, ball_on=spot,
            goal_to_go=False, series=situation.series + 1, drive=situation.drive + 1), problems
    if wanted is Next.KICKOFF:
        if due is Next.SCRIMMAGE and situation.period * 2 == rulebook.periods:
            return end_of_period(rulebook, situation)[0], problems
        return replace(situation, next=wanted, ball_on=rulebook.kickoff_spot, down=None, yards_to_gain=None,
                       goal_to_go=False), problems
    spot = length - rulebook.try_spot_kick if wanted is Next.TRY else rulebook.safety_free_kick_spot
    return replace(situation, next=wanted, ball_on=spot, down=None, yards_to_gain=None, goal_to_go=False), problems


def _begin(rulebook: Rulebook, situation: Situation, play: Play, wanted: Next | None) -> tuple[Situation, list[str]]:
    """The first play after an untagged toss."""
    team, problems = play.team, []
    extra = situation.period > rulebook.periods
    if team is None:
        team = Team.HOME
        problems.append("the toss was not tagged, so who has the ball is not known; home taken")
    if extra and rulebook.overtime is Overtime.SERIES or wanted is Next.SCRIMMAGE:
        from .periods import series_start
        if extra and rulebook.overtime is Overtime.SERIES:
            return series_start(rulebook, situation, team, 1), problems
        return replace(situation, next=Next.SCRIMMAGE, offense=team, down=1, yards_to_gain=rulebook.yards_to_gain,
                       ball_on=rulebook.touchback_spot if situation.ball_on is None else situation.ball_on,
                       series=situation.series + 1, drive=situation.drive + 1), problems
    return replace(situation, next=Next.KICKOFF, offense=team, ball_on=rulebook.kickoff_spot,
                   extra_first=team.opponents if extra else None), problems


def _due(due: Next) -> str:
    if due is Next.OVER:
        return "the game is over"
    return "a down from scrimmage is due" if due is Next.SCRIMMAGE else f"{_a(due.value)} is due"


def _a(word: str) -> str:
    return f"an {word}" if word[0] in "aeio" else f"a {word}"


# Between the plays


def _between(situation: Situation, play: Play, after: Situation, result: str, contradictions: list[str],
             assumed: list[str], problems: list[str], rulebook: Rulebook) -> Step:
    explanation = result
    if after.next is not Next.OVER and after.next is not Next.COIN_TOSS:
        explanation += f"; {spoken_situation(after, rulebook.field_length)}"
    certainty = Certainty.CERTAIN
    if contradictions:
        certainty = Certainty.CONTRADICTED
        explanation += "; " + "; ".join(contradictions)
    elif assumed or problems:
        certainty = Certainty.ASSUMED
    if assumed:
        explanation += " (" + "; ".join(assumed) + ")"
    return Step(situation, play, after, result, explanation, certainty, problems=tuple(problems))


def _fold_toss(rulebook, situation, play, last, contradictions) -> Step:
    after, result, assumed, problems = toss(rulebook, situation, play)
    if situation.next is not Next.COIN_TOSS:
        problems.append("a coin toss cannot come here")
        after = situation
    return _between(situation, play, after, result, contradictions, assumed, problems, rulebook)


def _fold_timeout(rulebook, situation, play, last, contradictions) -> Step:
    after, result, problems = timeout(situation, play)
    return _between(situation, play, after, result, contradictions, [], problems, rulebook)


def _fold_end_of_period(rulebook, situation, play, last, contradictions) -> Step:
    after, result, assumed = end_of_period(rulebook, situation)
    return _between(situation, play, after, result, contradictions, assumed, [], rulebook)


def _fold_measurement(rulebook, situation, play, last, contradictions) -> Step:
    if last is None or last.dead_ball_on is None:
        problems = ["a measurement needs a play before it"]
        return _between(situation, play, situation, "measurement", contradictions, [], problems, rulebook)
    line = line_to_gain(last.before, rulebook.field_length)
    assumed = []
    short = play.outcome is Outcome.SHORT
    if play.outcome is None and play.spot is None:
        return _between(situation, play, situation, "measurement", contradictions,
                        ["what it showed was not said"], [], rulebook)
    spot = play.spot
    if spot is None:
        spot = min(last.dead_ball_on, line - 1 / 6) if short else max(last.dead_ball_on, line)
        if short and spot != last.dead_ball_on:
            assumed.append("short by 6 inches")
    again = fold(rulebook, last.before, replace(last.play, spot=spot, gain=None, said=None))
    result = f"measured: {'short' if short else 'first down'}"
    step = _between(situation, play, replace(again.after, clock=situation.clock), result, contradictions, assumed,
                    [], rulebook)
    return replace(step, first_down=again.first_down, possession_changed=again.possession_changed, dead_ball_on=spot)


def _fold_reversal(rulebook, situation, play, last, contradictions) -> Step:
    if last is None:
        problems = ["a replay reversal needs a play before it"]
        return _between(situation, play, situation, "replay reversal", contradictions, [], problems, rulebook)
    stands = play.stands_as or last.play.kind
    revised = replace(play, kind=stands, stands_as=None, said=None)
    if play.stands_as is None:
        kept = {name: getattr(last.play, name) for name in _REVISED
                if getattr(play, name) is None or getattr(play, name) == ()}
        revised = replace(revised, **kept)
    again = fold(rulebook, last.before, revised)
    explanation = f"reversed: {again.explanation}"
    if contradictions:
        explanation += "; " + "; ".join(contradictions)
    return replace(
        again, before=situation, play=play, explanation=explanation,
        points_home=again.after.score_home - situation.score_home,
        points_visitors=again.after.score_visitors - situation.score_visitors,
        certainty=Certainty.CONTRADICTED if contradictions else again.certainty,
    )


_REVISED = ("outcome", "gain", "kick_to", "spot", "possession", "events", "score", "fouls", "kick_from", "clock")

_BETWEEN = {
    PlayKind.COIN_TOSS: _fold_toss,
    PlayKind.TIMEOUT: _fold_timeout,
    PlayKind.END_OF_PERIOD: _fold_end_of_period,
    PlayKind.MEASUREMENT: _fold_measurement,
    PlayKind.REPLAY_REVERSAL: _fold_reversal,
}

"""The tracker: plays folded into the situation before every snap.

    steps = track(load_rulebook("nfhs"), plays)
    steps[-1].after          # what is true before the next snap
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from .action import OFFENSE, Action, read_action
from .byhand import FITS, due_now, fit, hear, with_article
from .doubts import doubts
from .enforcement import enforce
from .field import Team, spoken_yards
from .periods import end_of_period, extra_period_play, opening, timeout, toss
from .plays import Outcome, Play, PlayKind
from .rulebook import Rulebook
from .ruling import Ruling, choices_of, defense_in_extra_period, line_to_gain, rule, situation_after
from .situation import Certainty, Next, Situation, Step
from .speaking import spoken_situation


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
    cannot be right, and the game goes on as well as it can. ``last`` is the step before;
    measurements and replay reversals are about the last play up to it."""
    kind = play.kind
    contradictions: list[str] = []
    clock = situation.clock
    if play.said is not None:
        situation, contradictions = hear(rulebook, situation, play.said)
    if play.clock is not None and play.clock != situation.clock:
        situation = situation.at(play.clock)
    if kind in _BETWEEN:
        about = last if last is None or last.about is None else last.about
        step = _BETWEEN[kind](rulebook, situation, play, about, contradictions)
        return step if step.about is not None or about is None else replace(step, about=about)
    problems = doubts(rulebook, situation, play, clock)
    wanted = FITS.get(kind)
    if wanted is None and (situation.ball_on is None or situation.next is Next.OVER):
        problem = f"{with_article(kind.value)} cannot come here; {due_now(situation.next)}"
        return _between(situation, play, situation, kind.value, contradictions, [], [problem], rulebook)
    if wanted is not situation.next and (wanted is not None or situation.offense is None):
        situation, unfit = fit(rulebook, situation, play, wanted)
        problems = problems + unfit
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
        if ruling.defense_points and before.period > rulebook.periods:
            ruling = defense_in_extra_period(rulebook, action, ruling)
    choices = choices_of(rulebook, action, ruling)
    assumed, parts = action.assumed, []
    if action.problems:
        problems = problems + action.problems
    dead = action.dead
    if play.fouls:
        enforced = enforce(rulebook, before, play, action, ruling)
        ruling, parts, choices = enforced.ruling, enforced.parts, tuple(enforced.choices) or choices
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
    after = _timeouts_kept(again.after, situation)
    result = f"measured: {'short' if short else 'first down'}"
    step = _between(situation, play, after, result, contradictions, assumed, [], rulebook)
    return replace(step, first_down=again.first_down, possession_changed=again.possession_changed, dead_ball_on=spot,
                   about=again)


def _timeouts_kept(corrected: Situation, now: Situation) -> Situation:
    """A corrected play does not undo the timeouts taken since."""
    if (corrected.timeouts_home, corrected.timeouts_visitors) == (now.timeouts_home, now.timeouts_visitors):
        return corrected
    return replace(corrected, timeouts_home=now.timeouts_home, timeouts_visitors=now.timeouts_visitors)


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
        again, before=situation, play=play, explanation=explanation, about=again,
        after=_timeouts_kept(again.after, situation),
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

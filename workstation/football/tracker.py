"""The tracker: plays folded into the situation before every snap.

    steps = track(load_rulebook("nfhs"), plays)
    steps[-1].after          # what is true before the next snap
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import partial

from .action import FREE_KICKS, BallMovement
from .counting import GAINING, counted_gain
from .doubts import doubts
from .enforcement import enforce
from .field import Team, spoken_yards
from .overrides import FITS, apply_override, due_now, fit, may_kick_instead, with_article
from .periods import end_of_period, extra_period_play, kicked_by, opening, run_off, timeout, toss
from .plays import FoulDecision, Outcome, Play, PlayKind, Score, Side, SituationOverride
from .reading import read_action
from .rulebook import Rulebook
from .ruling import Ruling, again, choices_of, defense_in_extra_period, line_to_gain, rule, situation_after
from .situation import Next, Situation
from .speaking import spoken_situation
from .step import Certainty, Step


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
    """Fold one *play* into *situation*, and go on as well as can be: what cannot be right is in ``problems``. ``last``
    is the step before; measurements and replay reversals are about the last play up to it."""
    kind = play.kind
    contradictions: list[str] = []
    clock = situation.clock
    if play.override is not None:
        situation, contradictions = apply_override(rulebook, situation, play.override)
    if play.team is not None and kind in FREE_KICKS and situation.offense is play.team.opponents \
            and situation.next is FITS[kind]:  # who kicks was said, and it is not who was due
        if last is not None and may_kick_instead(rulebook, last):
            situation = kicked_by(rulebook, situation, play.team)
        else:
            situation, others = apply_override(rulebook, situation, SituationOverride(offense=play.team))
            contradictions = contradictions + others
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
        return _between(rulebook, situation, play, situation, kind.value, contradictions, [], [problem])
    situation, unfit = fit(rulebook, situation, play, wanted)
    return _fold_live(rulebook, situation, play, contradictions, problems + unfit)


def _judge(rulebook: Rulebook, before: Situation, play: Play) -> tuple[BallMovement, Ruling, bool]:
    """What became of the ball, the ruling before any foul, and whether the down is played again."""
    whistle = play.kind is PlayKind.INADVERTENT_WHISTLE
    if play.kind is PlayKind.NO_PLAY or (whistle and not (play.choice or "").lower().startswith("take")):
        ruling = again(rulebook, before, before.snap_on)
        ruling.result = "inadvertent whistle, down repeated" if whistle else "no play"
        return BallMovement(before.snap_on, rulebook.field_length), ruling, before.next is not Next.TRY
    action = read_action(rulebook, before, play)
    ruling = rule(rulebook, before, play, action)
    if ruling.defense_points and before.period > rulebook.periods:
        ruling = defense_in_extra_period(rulebook, action, ruling)
    return action, ruling, False


def _fold_live(rulebook: Rulebook, before: Situation, play: Play, contradictions: list[str],
               problems: list[str]) -> Step:
    """A play with the ball in play, or a foul that kept it from being so."""
    action, ruling, repeated = _judge(rulebook, before, play)
    choices = choices_of(rulebook, before, action, ruling)
    assumed, parts = action.assumed, []
    stands, stands_to = play.kind is not PlayKind.NO_PLAY and not repeated, None
    problems = problems + action.problems + _dropped(play, action, ruling)
    if play.fouls:
        enforced = enforce(rulebook, before, play, action, ruling, repeated)
        kept_choices = choices if enforced.ruling.same_as(ruling) else ()
        ruling, parts, choices = enforced.ruling, enforced.parts, (*enforced.choices, *kept_choices)
        repeated = enforced.repeated
        stands, stands_to = stands and enforced.stands, enforced.stands_to
        assumed = assumed + enforced.assumed
        problems = problems + enforced.problems
    elif play.kind is PlayKind.NO_PLAY:
        problems = [*problems, "no play without a foul says nothing"]
    after = situation_after(rulebook, before, ruling)
    if after.second_half_kicker is None and before.next is Next.KICKOFF:
        after = replace(after, second_half_kicker=before.snaps.opponents)
    if before.period > rulebook.periods:
        after, order = extra_period_play(rulebook, before, after)
        if order:
            parts = [*parts, order]
    if any(foul.runoff and foul.decision is not FoulDecision.DECLINED for foul in play.fouls):
        after, ran_off = run_off(rulebook, after)
        if after.next is Next.OVER:     # the series that the penalty gave does not begin
            after = replace(after, series=before.series, drive=before.drive)
        parts = [*parts, ran_off]
        repeated = repeated and after.next is not Next.OVER and after.period == before.period
    result = ruling.result or _plain_result(before, ruling, action)
    told = [*parts] if parts and (repeated or result == "loss of down") else [result, *parts]
    if after.next is not Next.OVER:
        now = spoken_situation(after, rulebook.field_length)
        same = repeated and after.next is before.next
        told.append(now if not same else f"again {now}" if after.next is Next.SCRIMMAGE else f"{now} again")
    explanation, certainty = _how_sure("; ".join(told), contradictions, assumed, problems)
    home_offense = before.offense is Team.HOME
    return Step(before, play, after, result, explanation, certainty,
                action.dead if play.kind is not PlayKind.NO_PLAY else None,
                ruling.offense_points if home_offense else ruling.defense_points,
                ruling.defense_points if home_offense else ruling.offense_points,
                ruling.first_down and after.next is not Next.OVER, ruling.side is Side.DEFENSE, repeated, choices,
                tuple(problems), reasons=(*contradictions, *assumed, *problems), stands=stands,
                gain=counted_gain(rulebook, before, play, action, stands_to) if stands else None)


def _dropped(play: Play, action: BallMovement, ruling: Ruling) -> list[str]:
    """The problem with a touchdown that was said but is not one by the rules; empty if there is none."""
    given = action.score is Score.TOUCHDOWN and (ruling.offense_points or ruling.defense_points)
    if play.score is not Score.TOUCHDOWN or given:
        return []
    return [f"a touchdown was said, and the rules give none here ({ruling.result})"]


def _how_sure(explanation: str, contradictions: list[str], assumed: list[str], problems: list[str]
              ) -> tuple[str, Certainty]:
    """The explanation with the reasons for doubt added, and the step's certainty."""
    certainty = Certainty.CERTAIN
    if contradictions:
        certainty = Certainty.CONTRADICTED
        explanation += "; " + "; ".join(contradictions)
    elif assumed or problems:
        certainty = Certainty.ASSUMED
    if assumed:
        explanation += " (" + "; ".join(assumed) + ")"
    return explanation, certainty


def _plain_result(before: Situation, ruling: Ruling, action: BallMovement) -> str:
    if action.incomplete:
        return "incomplete"
    yards = action.dead - before.snap_on
    if yards > 0:
        said = f"gain of {spoken_yards(yards)}"
    elif yards < 0:
        said = f"loss of {spoken_yards(-yards)}"
    else:
        return "no gain"
    if before.down is not None and ruling.next_down and before.down >= 3:
        return f"stopped short, {said}"
    return said


# Between the plays


def _between(rulebook: Rulebook, situation: Situation, play: Play, after: Situation, result: str,
             contradictions: list[str], assumed: list[str], problems: list[str]) -> Step:
    explanation = result
    if after.next is not Next.OVER and after.next is not Next.COIN_TOSS:
        explanation += f"; {spoken_situation(after, rulebook.field_length)}"
    explanation, certainty = _how_sure(explanation, contradictions, assumed, problems)
    return Step(situation, play, after, result, explanation, certainty, problems=tuple(problems),
                reasons=(*contradictions, *assumed, *problems))


def _fold_event(rulebook: Rulebook, situation: Situation, play: Play, about: Step | None, contradictions: list[str]
                ) -> Step:
    """A toss, a timeout or the end of a period."""
    assumed: list[str] = []
    problems: list[str] = []
    if play.kind is PlayKind.TIMEOUT:
        after, result, problems = timeout(situation, play)
    elif play.kind is PlayKind.END_OF_PERIOD:
        after, result, assumed = end_of_period(rulebook, situation)
    else:
        after, result, assumed, problems = toss(rulebook, situation, play)
        if situation.next is not Next.COIN_TOSS:
            problems.append(f"a coin toss cannot come here; {due_now(situation.next)}")
            after = situation
    return _between(rulebook, situation, play, after, result, contradictions, assumed, problems)


def _fold_measurement(rulebook: Rulebook, situation: Situation, play: Play, about: Step | None,
                      contradictions: list[str]) -> Step:
    """The play before it, with the ball where the chain showed it to lie."""
    unmeasured = partial(_between, rulebook, situation, play, situation, "measurement", contradictions)
    if about is None or about.dead_ball_on is None:
        return unmeasured([], ["a measurement needs a play before it"])
    if play.outcome is None and play.spot is None:
        return unmeasured(["what it showed was not said"], [])
    if about.play.kind not in GAINING or (about.possession_changed and about.result != "turnover on downs") \
            or about.after.next is not Next.SCRIMMAGE:
        return unmeasured([], ["only where the offense's own run or catch ended is there something to measure"])
    line, spot, assumed = line_to_gain(about.before, rulebook.field_length), play.spot, []
    short = play.outcome is Outcome.SHORT or (play.outcome is None and spot is not None and spot < line)
    if spot is None:
        spot = min(about.dead_ball_on, line - 1 / 6) if short else max(about.dead_ball_on, line)
        if short and spot != about.dead_ball_on:
            assumed.append("short by 6 inches")
    measured = fold(rulebook, about.before, replace(about.play, spot=spot, gain=None, override=None))
    after = replace(_timeouts_kept(measured.after, situation), clock=situation.clock)
    step = _between(rulebook, situation, play, after,
                    f"measured: {'short' if short else 'first down'}", contradictions, assumed, [])
    return replace(step, first_down=measured.first_down, possession_changed=measured.possession_changed,
                   dead_ball_on=spot, about=measured)


def _fold_reversal(rulebook: Rulebook, situation: Situation, play: Play, about: Step | None,
                   contradictions: list[str]) -> Step:
    """The play before it, revised by this one; what this one does not say is unchanged."""
    if about is None:
        return _between(rulebook, situation, play, situation, "replay reversal", contradictions, [],
                        ["a replay reversal needs a play before it"])
    revised = replace(play, kind=play.stands_as or about.play.kind, stands_as=None, override=None)
    if play.stands_as is None:
        revised = replace(revised, **{name: getattr(about.play, name) for name in _REVISED
                                      if getattr(play, name) is None or getattr(play, name) == ()})
        if play.spot is not None and play.gain is None:
            revised = replace(revised, gain=None)
    corrected = fold(rulebook, about.before, revised)
    return replace(corrected, before=situation, play=play, after=_timeouts_kept(corrected.after, situation),
                   about=corrected, explanation="; ".join([f"reversed: {corrected.explanation}", *contradictions]),
                   certainty=Certainty.CONTRADICTED if contradictions else corrected.certainty,
                   reasons=(*corrected.reasons, *contradictions),
                   points_home=corrected.after.score_home - situation.score_home,
                   points_visitors=corrected.after.score_visitors - situation.score_visitors)


def _timeouts_kept(corrected: Situation, now: Situation) -> Situation:
    """*corrected* with the timeouts that are left *now*, since a correction does not undo those taken."""
    return replace(corrected, timeouts_home=now.timeouts_home, timeouts_visitors=now.timeouts_visitors)


_REVISED = ("outcome", "gain", "kick_to", "spot", "possession", "events", "score", "fouls", "kick_from", "clock")


_BETWEEN = {
    **dict.fromkeys((PlayKind.COIN_TOSS, PlayKind.TIMEOUT, PlayKind.END_OF_PERIOD), _fold_event),
    PlayKind.MEASUREMENT: _fold_measurement,
    PlayKind.REPLAY_REVERSAL: _fold_reversal,
}

"""The checker: watch the film as a viewer would, and say where it left the viewer behind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..film.time import spoken_time
from ..football.rulebook import Rulebook, load_rulebook
from ..football.step import Step
from ..football.tracker import track
from ..tagging.model import Game
from .camera_work import CameraWork, camera_work_of
from .coverage import Coverage
from .finding import Delivered, Finding, LookAgain, NotJudged, Severity
from .footage import Footage
from .policy import Policy, cited, hold_to, load_policy, yielded
from .profile import Profile, ProfileError, load_profile
from .remarks import placed_remarks
from .screening import Screening
from .watching import watch


@dataclass(frozen=True)
class CheckedGame:
    """A game with everything that follows from its tags."""

    game: Game
    rulebook: Rulebook
    steps: Sequence[Step]
    coverage: Coverage


def check_game(game: Game, profile: str | None = None) -> CheckedGame:
    """Track a game by its rulebook and check it by its crew's profile (or *profile*, a name or file); what was measured
    of its camera work counts.

    Raises RulebookError, ProfileError and what :func:`check` raises.
    """
    rulebook = load_rulebook(game.heading.rulebook, game.heading.season)
    steps = track(rulebook, [tag.play for tag in game.plays])
    return CheckedGame(game, rulebook, steps,
                       check(game, steps, load_profile(profile or game.heading.profile), rulebook,
                             camera_work_of(game)))


def check(game: Game, steps: Sequence[Step], profile: Profile, rulebook: Rulebook,
          camera_work: CameraWork | None = None) -> Coverage:
    """Compare what was filmed with what a viewer needed.

    *steps* are the tracker's for ``game.plays``, one each; without *camera_work* the rules about it report nothing.
    Raises ValueError if the game points at a shot or source that it does not have.
    """
    policies, unknown = _policies(game)
    profile = hold_to(profile, policies)
    footage = Footage(game, steps)
    screening = Screening(footage, watch(footage, profile.viewer, rulebook.downs), profile.viewer,
                          profile.decisive, game.decision_by_finding, rulebook, camera_work)
    findings: list[Finding] = []
    delivered: list[Delivered] = []
    not_judged: list[NotJudged] = []
    look_again: list[Finding] = []
    for rule in profile.rules:
        if rule.enabled:
            for judged in rule.judge(screening):
                match judged:
                    case Finding():
                        findings.append(judged)
                    case Delivered():
                        delivered.append(judged)
                    case NotJudged():
                        not_judged.append(judged)
                    case LookAgain(finding):
                        look_again.append(replace(finding, severity=Severity.NOTE))
    if policies:
        findings, look_again = cited(findings, policies, game), cited(look_again, policies, game)
    findings.sort(key=lambda finding: (finding.time, finding.rule, finding.key))
    return Coverage(profile, tuple(findings), tuple(screening.beliefs), tuple(delivered),
                    (*unknown, *_waiting(footage), *_unjudged(not_judged, look_again)),
                    tuple(not_judged), tuple(look_again), footage.layout.duration, footage.complete,
                    placed_remarks(game, steps, footage.layout), tuple(yielded(policies)), camera_work,
                    len(game.shots))


def _policies(game: Game) -> tuple[list[Policy], list[str]]:
    """The policies that the heading names; a line for each that cannot be loaded."""
    policies, unknown = [], []
    for name in game.heading.policies:
        try:
            policies.append(load_policy(name))
        except ProfileError as error:
            unknown.append(f"The film is held to a policy that cannot be used: {error}")
    return policies, unknown


def _unjudged(not_judged: Sequence[NotJudged], look_again: Sequence[Finding]) -> list[str]:
    """Single cases that wait for one more mark, by rule and by what is missing."""
    counts = Counter((each.rule, each.missing) for each in not_judged if each.missing not in ("snap", "dead ball"))
    lines = [f"{rule.capitalize()}: {count} {'case is' if count == 1 else 'cases are'} not judged; "
             f"{missing} is not marked there." for (rule, missing), count in counts.items()]
    if look_again:
        at = ", ".join(spoken_time(finding.time) for finding in look_again[:5])
        lines.append(f"Look again at {at}{' and more' if len(look_again) > 5 else ''}: a suggested moment there was "
                     "never looked at, and what would be found hangs on less than it may be off.")
    return lines


def _waiting(footage: Footage) -> list[str]:
    """What cannot be judged yet, and what would settle it."""
    lines = []
    untagged = sum(not take.tagged for take in footage.takes)
    if untagged:
        lines.append(f"{untagged} shot{'s are' if untagged > 1 else ' is'} not tagged; what lies beside "
                     f"{'them' if untagged > 1 else 'it'} is not judged yet.")
    unshot = sum(not snap.between.known and not snap.between.untagged for snap in footage.filmed)
    if unshot:
        lines.append(f"{unshot} stretch{'es' if unshot > 1 else ''} of film between plays "
                     f"{'have' if unshot > 1 else 'has'} no shot marked; what they show is not known.")
    unmarked = sum(snap.snap is None for snap in footage.filmed)
    if unmarked:
        lines.append(f"{unmarked} play{'s have' if unmarked > 1 else ' has'} no snap marked; "
                     "readiness and surplus before the snap are not known there.")
    unended = sum(snap.dead_ball is None for snap in footage.filmed)
    if unended:
        lines.append(f"{unended} play{'s have' if unended > 1 else ' has'} no dead ball marked; "
                     "the hold is not known there.")
    if footage.filmed and not footage.complete:
        lines.append("The film is not tagged to its end; closing shots are judged once it is.")
    return lines

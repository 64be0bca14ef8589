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
from .policy import cited, hold_to, policies_of, yielded
from .profile import Profile, load_profile
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
    policies, errors = policies_of(game)
    profile = hold_to(profile, policies)
    footage = Footage(game, steps)
    screening = Screening(footage, watch(footage, profile.viewer, rulebook.downs), profile.viewer,
                          profile.decisive, game.decision_by_finding, rulebook, camera_work)
    judged = [each for rule in profile.rules if rule.enabled for each in rule.judge(screening)]
    findings = cited((each for each in judged if isinstance(each, Finding)), policies, game)
    look_again = cited((replace(each.finding, severity=Severity.NOTE) for each in judged
                        if isinstance(each, LookAgain)), policies, game)
    not_judged = tuple(each for each in judged if isinstance(each, NotJudged))
    waiting = [f"The film is held to a policy that cannot be used: {error}" for error in errors]
    return Coverage(
        profile, tuple(sorted(findings, key=lambda finding: (finding.time, finding.rule, finding.key))),
        tuple(screening.beliefs), tuple(each for each in judged if isinstance(each, Delivered)),
        (*waiting, *_waiting(footage), *_unjudged(not_judged, look_again)), not_judged, tuple(look_again),
        footage.layout.duration, footage.complete, placed_remarks(game, steps, footage.layout),
        tuple(yielded(policies)), camera_work, len(game.shots))


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
    filmed = footage.filmed
    counts = (
        (sum(not take.tagged for take in footage.takes),
         "{} shot is not tagged; what lies beside it is not judged yet.",
         "{} shots are not tagged; what lies beside them is not judged yet."),
        (sum(not snap.between.known and not snap.between.untagged for snap in filmed),
         "{} stretch of film between plays has no shot marked; what they show is not known.",
         "{} stretches of film between plays have no shot marked; what they show is not known."),
        (sum(snap.snap is None for snap in filmed),
         "{} play has no snap marked; readiness and surplus before the snap are not known there.",
         "{} plays have no snap marked; readiness and surplus before the snap are not known there."),
        (sum(snap.dead_ball is None for snap in filmed),
         "{} play has no dead ball marked; the hold is not known there.",
         "{} plays have no dead ball marked; the hold is not known there."))
    lines = [(one if count == 1 else several).format(count) for count, one, several in counts if count]
    if filmed and not footage.complete:
        lines.append("The film is not tagged to its end; closing shots are judged once it is.")
    return lines

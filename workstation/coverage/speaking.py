"""Plays and times in the words that findings use; situations come from :mod:`workstation.football.speaking`."""

from __future__ import annotations

from ..football.plays import Outcome, Play, PlayKind
from ..football.rulebook import Rulebook
from ..football.situation import Next, Situation
from ..football.speaking import spoken_situation
from ..football.step import Step
from ..tagging.model import Heading


def spoken_play(play: Play) -> str:
    """Return ``incomplete pass``, ``run``, ``punt``: the play in two words."""
    if play.outcome in (Outcome.INCOMPLETE, Outcome.INTERCEPTED, Outcome.BLOCKED):
        return f"{play.outcome} {play.kind}"
    if play.kind is PlayKind.NO_PLAY:
        return "foul before the snap"
    return str(play.kind)


def spoken_play_and_situation(step: Step, rulebook: Rulebook) -> str:
    """Return ``run on 2nd & 7 at own 36``; for a free kick or a try the play alone."""
    situation = spoken_situation(step.before, rulebook.field_length)
    return f"{spoken_play(step.play)} on {situation}" if step.before.next is Next.SCRIMMAGE else situation


def spoken_score(situation: Situation, heading: Heading) -> str:
    """Return ``Ostley Bend 3, Quillhaven 7``."""
    return f"{heading.home} {situation.score_home}, {heading.visitors} {situation.score_visitors}"


def spoken_seconds(seconds: float) -> str:
    """Return ``0.4 s``, ``2 s`` or ``12 s``."""
    return f"{round(seconds, 1):g} s" if seconds < 10 else f"{seconds:.0f} s"

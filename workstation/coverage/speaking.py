"""Plays and times in the words that findings use; situations come from :mod:`workstation.football.speaking`."""

from __future__ import annotations

from ..football.plays import Outcome, Play, PlayKind
from ..football.situation import Next, Step
from ..football.speaking import spoken_situation


def spoken_play(play: Play) -> str:
    """Return ``incomplete pass``, ``run``, ``punt``: the play in two words."""
    if play.outcome in (Outcome.INCOMPLETE, Outcome.INTERCEPTED, Outcome.BLOCKED):
        return f"{play.outcome} {play.kind}"
    if play.kind is PlayKind.NO_PLAY:
        return "foul before the snap"
    return str(play.kind)


def spoken_play_and_situation(step: Step) -> str:
    """Return ``run on 2nd & 7 at own 36``; a free kick or a try says it all by itself."""
    situation = spoken_situation(step.before)
    return f"{spoken_play(step.play)} on {situation}" if step.before.next is Next.SCRIMMAGE else situation


def spoken_seconds(seconds: float) -> str:
    """Return ``0.4 s`` or ``12 s``."""
    return f"{seconds:.1f} s" if seconds < 10 else f"{seconds:.0f} s"

"""Plays and times in the words that findings use; situations come from :mod:`workstation.football.speaking`."""

from __future__ import annotations

from ..football.plays import Outcome, Play, PlayKind
from ..football.speaking import ordinal, spoken_period, spoken_situation

__all__ = ["ordinal", "spoken_period", "spoken_play", "spoken_seconds", "spoken_situation", "spoken_time"]


def spoken_play(play: Play) -> str:
    """Return ``incomplete pass``, ``run``, ``punt``: the play in two words."""
    if play.outcome in (Outcome.INCOMPLETE, Outcome.INTERCEPTED, Outcome.BLOCKED):
        return f"{play.outcome} {play.kind}"
    if play.kind is PlayKind.NO_PLAY:
        return "foul before the snap"
    return str(play.kind)


def spoken_time(seconds: float) -> str:
    """Return film time as ``4:05`` or ``1:02:03``.

    >>> spoken_time(245), spoken_time(3723.9)
    ('4:05', '1:02:03')
    """
    whole = int(seconds + 1e-6)
    hours, minutes, left = whole // 3600, whole // 60 % 60, whole % 60
    return f"{hours}:{minutes:02d}:{left:02d}" if hours else f"{minutes}:{left:02d}"


def spoken_seconds(seconds: float) -> str:
    """Return ``0.4 s`` or ``12 s``."""
    return f"{seconds:.1f} s" if seconds < 10 else f"{seconds:.0f} s"

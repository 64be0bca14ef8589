"""A long invented game as values, for the timeline's tests and benchmark. No camera file stands behind it."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

import numpy as np

from workstation.coverage.finding import Direction, Finding, Severity
from workstation.film.film import Film, Source
from workstation.film.time import Instant
from workstation.football.field import Team
from workstation.football.plays import Play, PlayKind
from workstation.football.situation import Next, Situation
from workstation.football.step import Step
from workstation.tagging.model import Game, Moment, MomentKind, Note, PlayTag, Shot, ShotKind

TICK = Fraction(1, 30000)
FRAME = 1001            # ticks of a picture at 30000/1001 a second


@dataclass
class Sure:
    at: Instant
    sure: float


@dataclass
class Told:
    """Coverage as the timeline needs it."""

    findings: list = field(default_factory=list)
    beliefs: list = field(default_factory=list)
    camera_work: object = None


def big_game(shots: int = 500, plays: int = 250, findings: int = 150, seconds: int = 3 * 3600):
    """Return (game, steps, coverage) with *shots* shots over *seconds* of film, every second one a play."""
    frames = seconds * 30000 // 1001
    source = Source("a", Path("long.mp4"), 1, "x", TICK, 0, frames * FRAME, Fraction(30000, 1001), 1280, 720)
    film = Film((source,))
    each = frames // shots
    rng = np.random.default_rng(7)
    made, moments, tags, steps, told = [], [], [], [], Told()
    kinds = [kind for kind in ShotKind if kind is not ShotKind.PLAY]
    for n in range(shots):
        start = n * each * FRAME
        end = (n * each + int(each * 0.9)) * FRAME
        is_play = n % 2 == 0 and len(tags) < plays
        kind = ShotKind.PLAY if is_play else kinds[n // 2 % len(kinds)]
        made.append(Shot(n + 1, Instant("a", start), Instant("a", end), kind, confirmed=n % 9 != 0))
        if not is_play:
            continue
        at = (start + (end - start) // 4, start + (end - start) * 3 // 4)
        for which, pts in zip((MomentKind.SNAP, MomentKind.DEAD_BALL), at, strict=True):
            moments.append(Moment(len(moments) + 1, which, Instant("a", pts)))
        number = len(tags)
        play = Play(PlayKind.RUN if number % 2 else PlayKind.PASS, gain=float(rng.integers(-3, 12)))
        tags.append(PlayTag(number + 1, float(number), play, n + 1))
        before = Situation(Next.SCRIMMAGE, Team.HOME if number // 6 % 2 else Team.VISITORS, number % 4 + 1,
                           float(rng.integers(1, 11)), float(rng.integers(1, 99)), period=number * 4 // plays + 1)
        steps.append(Step(before, play, before, "first down" if number % 4 == 3 else "", "The ball moved."))
        told.beliefs.append(Sure(Instant("a", at[0]), float(rng.uniform(0.3, 1))))
    for n in range(findings):
        pts = int(rng.integers(0, frames)) * FRAME
        told.findings.append(Finding(
            f"finding {n}", "marker shot expected", list(Severity)[n % 3], Direction.MISSED, Instant("a", pts),
            float(pts * TICK), "A marker shot was expected", "A viewer is no longer sure of the down.",
            "marker shot", "Show the marker.", until=Instant("a", pts + 90 * FRAME) if n % 4 == 0 else None))
    notes = tuple(Note(n + 1, Instant("a", n * frames // 40 * FRAME), f"note number {n}") for n in range(40))
    return Game(film=film, shots=tuple(made), moments=tuple(moments), plays=tuple(tags), notes=notes), steps, told



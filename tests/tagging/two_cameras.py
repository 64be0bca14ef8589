"""An evening that two cameras filmed, made up: when each recorded, what each heard, and which shot films which play.

Nothing in here comes from the program's own idea of matching: the truth is how the evening was made.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import numpy as np

from workstation.film.film import Film, Source
from workstation.film.mono_sound import RATE
from workstation.film.sound_alignment import trace_of
from workstation.film.time import Instant
from workstation.football.plays import Play, PlayKind
from workstation.tagging.model import Angle, AngleFilm, Game, Moment, MomentKind, PlayTag, Shot, ShotKind

BEGAN = datetime(2026, 9, 4, 19, 0, tzinfo=UTC)
ANGLE = 1


@dataclass
class Evening:
    """How the evening is made. ``offset`` and ``drift``: the further clock against the first; ``missed``: plays that
    the further camera did not film; ``joined``: plays whose shot runs on through the next one; ``wind``: its loudness
    on the further microphone, times the crowd's."""

    plays: int = 14
    seed: int = 1
    offset: float = 3.4
    drift: float = 40e-6
    missed: tuple[int, ...] = ()
    joined: tuple[int, ...] = ()
    wind: float = 0.0
    heard: tuple[bool, bool] = (True, True)
    clocks: bool = True
    snaps: bool = False
    between: tuple[float, float] = (25.0, 60.0)
    game: Game = field(init=False)
    traces: dict[str, np.ndarray] = field(init=False)
    truth: dict[int, int] = field(init=False)          # play -> shot
    same: dict[int, float] = field(init=False)         # play -> further film seconds minus first film seconds

    def __post_init__(self) -> None:
        chance = np.random.default_rng(self.seed)
        snaps = np.cumsum(chance.uniform(*self.between, self.plays)) + 20
        dead = snaps + chance.uniform(3, 9, self.plays)
        sound = evening_sound(chance, float(dead[-1]) + 30)
        first = [(snap - chance.uniform(3, 8), over + chance.uniform(2, 6))
                 for snap, over in zip(snaps, dead, strict=True)]
        second: list[tuple[float, float, list[int]]] = []
        for number, (snap, over) in enumerate(zip(snaps, dead, strict=True), 1):
            if number in self.missed:
                continue
            span = snap - chance.uniform(2, 10), over + chance.uniform(1, 7)
            if number - 1 in self.joined and second:
                second[-1] = second[-1][0], span[1], [*second[-1][2], number]
            else:
                second.append((*span, [number]))
        self.traces, self.truth, self.same = {}, {}, {}
        here = [self._source(f"s{place}", begin, end, 0.0, 0.0) for place, (begin, end) in enumerate(first, 1)]
        there = [self._source(f"e{place}", begin, end, self.offset, self.drift) for place, (begin, end, _) in
                 enumerate(second, 1)]
        if self.heard[0]:
            for source, (begin, end) in zip(here, first, strict=True):
                self.traces[source.id] = trace_of(_cut(sound, begin, end) * 0.8)
        for source, (begin, end, _) in zip(there, second, strict=True):
            if self.heard[1]:
                part = _cut(sound, begin, end)
                self.traces[source.id] = trace_of(part * 0.5 + _wind(chance, len(part)) * self.wind * 0.1
                                                  + chance.standard_normal(len(part)).astype(np.float32) * 0.003)
        film, further = Film(tuple(here)), Film(tuple(there))
        for place, (source, (begin, _, plays)) in enumerate(zip(there, second, strict=True), 1):
            for play in plays:
                self.truth[play] = place
                starts = float(further.starts_at(source.id) - film.starts_at(f"s{play}"))
                self.same[play] = starts + first[play - 1][0] - begin
        marked = [Moment(number, MomentKind.SNAP, _at(here[number - 1], snap - first[number - 1][0]))
                  for number, snap in enumerate(snaps, 1)]
        marked += [Moment(100 + number, MomentKind.DEAD_BALL, _at(here[number - 1], over - first[number - 1][0]))
                   for number, over in enumerate(dead, 1)]
        theirs = [Moment(200 + play, MomentKind.SNAP, _at(source, snaps[play - 1] - begin))
                  for source, (begin, _, plays) in zip(there, second, strict=True) for play in plays if self.snaps]
        self.game = Game(
            film=film, shots=tuple(Shot(n, s.first, s.end, ShotKind.PLAY) for n, s in enumerate(here, 1)),
            moments=tuple(sorted(marked, key=lambda each: (int(each.at.source[1:]), each.at.pts))),
            plays=tuple(PlayTag(n, n, Play(PlayKind.RUN, gain=3), n) for n in range(1, self.plays + 1)),
            angles=(AngleFilm(Angle(ANGLE, "End zone"), further, moments=tuple(theirs),
                              shots=tuple(Shot(n, s.first, s.end, ShotKind.PLAY) for n, s in enumerate(there, 1))),))

    def _source(self, id: str, begin: float, end: float, offset: float, drift: float) -> Source:
        recorded = BEGAN + timedelta(seconds=int(begin * (1 + drift) + offset))
        return Source(id, Path(f"/{id}.mp4"), 1, id, Fraction(1, 90000), 0, round((end - begin) * 90000),
                      Fraction(30000, 1001), 1280, 720, audio_codec="aac",
                      created=recorded.strftime("%Y-%m-%dT%H:%M:%SZ") if self.clocks else None)


def _at(source: Source, seconds: float) -> Instant:
    return Instant(source.id, round(seconds * 90000))


def _cut(sound: np.ndarray, begin: float, end: float) -> np.ndarray:
    return sound[round(begin * RATE):round(end * RATE)]


def evening_sound(chance: np.random.Generator, seconds: float) -> np.ndarray:
    """A crowd that swells and falls, with claps, shouts and whistles at random."""
    length = int(seconds * RATE)
    steps = np.arange(0, seconds + 2, 0.7)
    swell = np.interp(np.arange(length) / RATE, steps, chance.uniform(0.3, 1.0, len(steps))).astype(np.float32)
    sound = chance.standard_normal(length).astype(np.float32) * 0.04 * swell
    for at in chance.uniform(0, seconds - 1, int(seconds * 1.2)):
        tone, lasts = chance.uniform(400, 4000), chance.uniform(0.02, 0.5)
        t = np.arange(int(lasts * RATE)) / RATE
        begin = int(at * RATE)
        sound[begin:begin + len(t)] += (np.sin(2 * np.pi * tone * t) * np.exp(-t / lasts * 3)
                                        * chance.uniform(0.01, 0.15)).astype(np.float32)
    return sound


def _wind(chance: np.random.Generator, length: int) -> np.ndarray:
    """Rumble, mostly below 300 Hz, in gusts."""
    spectrum = np.fft.rfft(chance.standard_normal(length))
    hertz = np.fft.rfftfreq(length, 1 / RATE) + 1
    rumble = np.fft.irfft(spectrum / (1 + (hertz / 90) ** 1.5), length)
    gusts = np.interp(np.arange(length), np.linspace(0, length, 12), chance.uniform(0.1, 1, 12))
    return (rumble / rumble.std() * gusts).astype(np.float32)

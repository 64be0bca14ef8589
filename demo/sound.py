"""What the camera hears: a crowd that swells, a whistle at every dead ball, kicks, and drums far off."""

from __future__ import annotations

import numpy as np

from ..football.plays import PlayKind
from ..tagging.model import MomentKind, ShotKind
from .crowd import at_most, excitement
from .script import Scene
from .tracks import FPS

RATE = 48000
WHISTLE_HZ = 3500.0             # a pea whistle: 3 to 4.5 kHz with the trill of the pea (common practice, no source)
WHISTLE_SECONDS = 0.55
_TRILL_HZ = 38.0


def whistle() -> np.ndarray:
    """One blast."""
    t = np.arange(int(WHISTLE_SECONDS * RATE)) / RATE
    trill = np.sin(2 * np.pi * _TRILL_HZ * t)
    phase = 2 * np.pi * np.cumsum(WHISTLE_HZ * (1 + 0.028 * trill)) / RATE
    tone = np.sin(phase) + 0.32 * np.sin(phase * 1.19) + 0.12 * np.sin(2 * phase)
    shape = np.minimum(t / 0.02, 1) * np.minimum((WHISTLE_SECONDS - t) / 0.07, 1)
    return (tone * shape * (0.72 + 0.28 * trill)).astype(np.float32)


def _crowd(random: np.random.Generator, samples: int) -> np.ndarray:
    """Many voices: noise shaped like speech, restless."""
    length = 1 << (samples - 1).bit_length()        # powers of two transform many times faster
    spectrum = np.fft.rfft(random.standard_normal(length, np.float32))
    hertz = np.fft.rfftfreq(length, 1 / RATE) + 1
    shape = (hertz / 500) ** 0.6 / (1 + (hertz / 620) ** 2.1) * (1 + 0.7 * np.exp(-((hertz - 1150) / 420) ** 2))
    shape /= 1 + (hertz / 5000) ** 5
    noise = np.fft.irfft(spectrum * shape, length)[:samples]
    noise /= noise.std() + 1e-9
    knots = max(int(samples / RATE * 3.2), 3)
    restless = np.interp(np.linspace(0, knots - 1, samples), np.arange(knots), random.uniform(0.72, 1.28, knots))
    return (noise * restless).astype(np.float32)


def sound(scene: Scene, seed: int) -> np.ndarray:
    """The sound of a scene: samples x 2, float32 in -1 to 1, as long as its pictures."""
    pictures = round(scene.seconds * FPS)
    samples = round(pictures * RATE / FPS)
    random = np.random.default_rng(1000 + seed)
    t = np.arange(samples) / RATE
    snap, dead = scene.at(MomentKind.SNAP), scene.at(MomentKind.DEAD_BALL)
    level = 0.03 + 0.17 * excitement(scene, t)
    both = np.stack([_crowd(random, samples), _crowd(random, samples)], 1)
    both = both * 0.8 + both[:, ::-1] * 0.2
    both *= level[:, None]

    def add(at: float, what: np.ndarray, loud: float, side: float = 0.0) -> None:
        begin = round(at * RATE)
        part = what[: max(samples - begin, 0)]
        both[begin:begin + len(part), 0] += part * loud * (1 - max(side, 0))
        both[begin:begin + len(part), 1] += part * loud * (1 + min(side, 0))

    for at, loud in _claps(scene, random):
        length = int(0.012 * RATE)
        add(at, (random.standard_normal(length) * np.exp(-np.arange(length) / (0.0025 * RATE))).astype(np.float32),
            loud, random.uniform(-0.7, 0.7))
    if dead is not None:
        add(dead, whistle(), 0.30, random.uniform(-0.3, 0.3))
    thump_at = None
    if scene.play and scene.play.kind is PlayKind.KICKOFF:
        thump_at = snap
    elif scene.play and scene.play.kind is PlayKind.PUNT:
        thump_at = snap + 2.0
    elif scene.play and scene.play.kind in (PlayKind.FIELD_GOAL, PlayKind.TRY_KICK):
        thump_at = snap + 1.35
    if thump_at is not None:
        k = np.arange(int(0.12 * RATE)) / RATE
        add(thump_at, (np.sin(2 * np.pi * (170 - 500 * k) * k) * np.exp(-k / 0.025)).astype(np.float32), 0.35)
    if scene.kind in (ShotKind.SCOREBOARD, ShotKind.DOWN_MARKER, ShotKind.COIN_TOSS, ShotKind.HANDSHAKE):
        _drums(add, scene.seconds, random)
    return np.tanh(both).astype(np.float32)       # a limiter, as a camera has one


def _claps(scene: Scene, random: np.random.Generator) -> list[tuple[float, float]]:
    """(seconds, loudness) of single hands heard above the crowd."""
    dead = scene.at(MomentKind.DEAD_BALL)
    if scene.kind is ShotKind.INJURY:
        return [(at, random.uniform(0.02, 0.09)) for at in random.uniform(0.6, scene.seconds, 240)]
    if dead is None:
        return []
    count = int(140 * at_most(scene))
    return [(at, random.uniform(0.01, 0.06))
            for at in np.clip(dead + 0.4 + random.gamma(2.0, 0.7, count), 0, scene.seconds)]


def _drums(add, seconds: float, random: np.random.Generator) -> None:
    """A drum line somewhere in the stand."""
    beat = 60 / 132
    k = np.arange(int(0.2 * RATE)) / RATE
    bass = (np.sin(2 * np.pi * 68 * k) * np.exp(-k / 0.06)).astype(np.float32)
    k = np.arange(int(0.09 * RATE)) / RATE
    for step in range(int(seconds / (beat / 2))):
        at = step * beat / 2
        if step % 4 == 0:
            add(at, bass, 0.10)
        if step % 2 == 1 or step % 8 in (6,):
            rattle = (random.standard_normal(len(k)) * np.exp(-k / 0.02)).astype(np.float32)
            add(at, rattle, 0.025 if step % 4 == 1 else 0.04)

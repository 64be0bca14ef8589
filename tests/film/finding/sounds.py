"""Synthesised sounds of a game, to mix at stated levels: mono at 16 kHz, levels in decibels relative to full scale.

What is known of each is common knowledge of acoustics; nothing is recorded, nothing is taken from what the finder does.
"""

from __future__ import annotations

import numpy as np

RATE = 16000


def at_level(sound: np.ndarray, level: float) -> np.ndarray:
    """Scale a sound so that its root mean square, where it sounds, has a level."""
    sounding = sound[np.abs(sound) > 1e-4 * np.abs(sound).max()]
    return sound * 10 ** (level / 20) / np.sqrt((sounding ** 2).mean())


def _times(seconds: float) -> np.ndarray:
    return np.arange(round(seconds * RATE)) / RATE


def _wandering(chance: np.random.Generator, t: np.ndarray, every: float, low: float, high: float) -> np.ndarray:
    """A value that goes straight from one chosen by chance to the next."""
    corners = np.arange(0, t[-1] + 2 * every, every)
    return np.interp(t, corners, chance.uniform(low, high, len(corners)))


def _swell(t: np.ndarray, rises: float, falls: float) -> np.ndarray:
    return np.minimum(t / rises, 1) * np.clip((t[-1] - t) / falls, 0, 1)


def _sine(hertz: np.ndarray) -> np.ndarray:
    return np.sin(2 * np.pi * np.cumsum(hertz) / RATE)


def pea_whistle(chance: np.random.Generator, seconds: float) -> np.ndarray:
    """A pea runs round and turns one tone up and down some thirty to fifty times a second, in loudness too."""
    t = _times(seconds)
    turn = np.sin(2 * np.pi * chance.uniform(30, 50) * t + chance.uniform(0, 6))
    hertz = chance.uniform(2950, 4000) * (1 + chance.uniform(0.015, 0.04) * turn) * (1 - 0.02 * np.exp(-t / 0.04))
    return _sine(hertz) * (0.7 + 0.3 * turn) * _swell(t, 0.02, 0.06)


def chamber_whistle(chance: np.random.Generator, seconds: float) -> np.ndarray:
    """Two or three chambers sound together, a tenth apart, and beat; breath lets all of them drift by a little."""
    t = _times(seconds)
    lowest = chance.uniform(2950, 3500)
    breath = 1 + 0.004 * np.sin(2 * np.pi * chance.uniform(2, 5) * t + chance.uniform(0, 6)) - 0.05 * np.exp(-t / 0.03)
    tones = [_sine(lowest * ratio * breath) * chance.uniform(0.5, 1)
             for ratio in (1, chance.uniform(1.07, 1.13), chance.uniform(1.15, 1.25))[:chance.integers(2, 4)]]
    return np.sum(tones, axis=0) * _swell(t, 0.02, 0.05)


def echoing(sound: np.ndarray, chance: np.random.Generator) -> np.ndarray:
    """The sound and what comes back from stands and houses."""
    room = chance.standard_normal(round(0.5 * RATE)) * np.exp(-np.arange(round(0.5 * RATE)) / RATE / 0.12) * 0.006
    room[0] = 1
    return np.convolve(sound, room)


def crowd(chance: np.random.Generator, seconds: float) -> np.ndarray:
    """Many voices, strongest below 1 kHz, swelling and falling."""
    noise = chance.standard_normal(round(seconds * RATE))
    hertz = np.fft.rfftfreq(len(noise), 1 / RATE) + 1
    noise = np.fft.irfft(np.fft.rfft(noise) / (1 + (hertz / 700) ** 1.6), len(noise))
    return noise * _wandering(chance, _times(seconds), 3, 0.5, 1.5)


def screams(chance: np.random.Generator, seconds: float) -> np.ndarray:
    """Single high voices: harmonics of 700 to 1,300 Hz that slide by a third within a second."""
    sound = np.zeros(round(seconds * RATE))
    for begin in np.arange(1, seconds - 2, 2.3):
        t = _times(chance.uniform(0.4, 1.1))
        base = chance.uniform(700, 1300) * (1 + chance.uniform(-0.3, 0.3) * t / t[-1]) * (
            1 + 0.02 * np.sin(2 * np.pi * 6 * t))
        voice = sum(_sine(base * k) / k ** 0.9 for k in range(1, 6)) * _swell(t, 0.05, 0.1)
        at = round((begin + chance.uniform(0, 0.8)) * RATE)
        sound[at:at + len(voice)] += voice
    return sound


def squeals(chance: np.random.Generator, seconds: float) -> np.ndarray:
    """Tones alone in a whistle's band that sweep: birds, brakes, wolf whistles."""
    sound = np.zeros(round(seconds * RATE))
    for begin in np.arange(1, seconds - 2, 2.7):
        t = _times(chance.uniform(0.2, 0.8))
        low, high = chance.uniform(2000, 3000), chance.uniform(3500, 4800)
        course = t / t[-1] if chance.random() < 0.5 else np.sin(np.pi * t / t[-1])
        hertz = low + (high - low) * (course if chance.random() < 0.5 else 1 - course)
        at = round((begin + chance.uniform(0, 0.8)) * RATE)
        sound[at:at + len(t)] += _sine(hertz) * _swell(t, 0.03, 0.05)
    return sound


def cowbells(chance: np.random.Generator, seconds: float) -> np.ndarray:
    """Struck plates: partials at odd ratios that die away within two tenths of a second, struck four times a second."""
    sound = np.zeros(round(seconds * RATE))
    partials = np.array([1, 1.44, 2.63, 3.9, 5.4, 6.9]) * chance.uniform(540, 620)
    t = _times(0.35)
    for begin in np.arange(0.2, seconds - 0.5, 0.25):
        bell = sum(np.sin(2 * np.pi * hertz * t) * np.exp(-t * (9 + number * 4)) * chance.uniform(0.4, 1)
                   / (1 + number / 3) for number, hertz in enumerate(partials) if hertz < RATE / 2)
        at = round((begin + chance.uniform(-0.03, 0.03)) * RATE)
        sound[at:at + len(bell)] += bell
    return sound


def horns(chance: np.random.Generator, seconds: float) -> np.ndarray:
    """Air horns: two reeds near 400 Hz with harmonics to the top, blown for a second now and then."""
    sound = np.zeros(round(seconds * RATE))
    for begin in np.arange(2, seconds - 2, 7):
        t = _times(chance.uniform(0.6, 1.4))
        blast = sum(_sine(np.full(len(t), base * k)) / k ** 0.7 for base in (chance.uniform(360, 420), 505.0)
                    for k in range(1, int(7500 / base)))
        at = round((begin + chance.uniform(0, 2)) * RATE)
        sound[at:at + len(t)] += blast * _swell(t, 0.03, 0.08)
    return sound


def band(chance: np.random.Generator, seconds: float) -> np.ndarray:
    """Brass with overtones, a piccolo above it in a whistle's band, and a snare drum."""
    t = _times(seconds)
    scale = np.array([294, 330, 392, 440, 523, 587, 659])
    beats = int(seconds * 2.2) + 1
    brass = scale[chance.integers(0, 7, beats)][(t * 2.2).astype(int)]
    piccolo = 4 * scale[chance.integers(0, 7, 2 * beats + 1)][(t * 4.4).astype(int)]
    pluck = 0.4 + 0.6 * np.exp(-(t * 2.2 % 1) * 3)
    snare = chance.standard_normal(len(t)) * np.exp(-(t * 4.4 % 1) * 12)
    sound = sum(_sine(brass * k) / k ** 0.8 for k in range(1, 13)) * pluck + 0.5 * _sine(piccolo) * pluck
    return np.asarray(sound + 0.8 * snare)


def wind(chance: np.random.Generator, seconds: float) -> np.ndarray:
    """Rumble below 200 Hz in gusts that overload the microphone, so that it clips."""
    noise = chance.standard_normal(round(seconds * RATE))
    hertz = np.fft.rfftfreq(len(noise), 1 / RATE) + 1
    rumble = np.fft.irfft(np.fft.rfft(noise) / (1 + (hertz / 90) ** 2), len(noise))
    rumble *= _wandering(chance, _times(seconds), 0.7, 0.1, 2)
    return np.clip(rumble / rumble.std(), -1.6, 1.6)


def announcer(chance: np.random.Generator, seconds: float) -> np.ndarray:
    """A voice over a loudspeaker: a buzz at 110 to 180 Hz through moving formants, with hisses at 4 to 6 kHz."""
    t = _times(seconds)
    pitch = _wandering(chance, t, 0.3, 110, 180)
    syllables = np.sin(2 * np.pi * 3 * t) > -0.3
    formants = [_wandering(chance, t, 0.2, *span) for span in ((300, 800), (900, 2200), (2300, 3400))]
    voice = np.zeros(len(t))
    for k in range(1, 30):
        near = sum(loud * np.exp(-((k * pitch - formant) / 180) ** 2)
                   for loud, formant in zip((1, 0.5, 0.2), formants, strict=True))
        voice += _sine(pitch * k) * near / k ** 0.3
    hiss = np.diff(chance.standard_normal(len(t) + 1)) * (np.sin(2 * np.pi * 3 * t + 2) > 0.85)
    return np.asarray(voice * syllables + 0.3 * hiss)


def game(seed: int, seconds: float, whistle_level: float, beside: dict[str, float]) -> tuple[np.ndarray, list[float]]:
    """Whistles, echoing, some eight seconds apart, of both sorts and 0.25 to 1.2 s long, at one level, and other sounds
    by name at theirs. Returns the sound and when the whistles begin."""
    chance = np.random.default_rng(seed)
    makers = {make.__name__: make for make in (crowd, screams, squeals, cowbells, horns, band, wind, announcer)}
    sound = np.zeros(round(seconds * RATE))
    for name, level in beside.items():
        part = at_level(makers[name](chance, seconds), level)[:len(sound)]
        sound[:len(part)] += part
    true = []
    for begin in np.arange(4, seconds - 4, 8):
        make = pea_whistle if chance.random() < 0.5 else chamber_whistle
        blast = echoing(at_level(make(chance, chance.uniform(0.25, 1.2)), whistle_level), chance)
        at = round((begin + chance.uniform(0, 3)) * RATE)
        sound[at:at + len(blast)] += blast[:len(sound) - at]
        true.append(at / RATE)
    return np.clip(sound, -1, 1), true

"""Sound mixed for tests: a crowd, and known amounts of what spoils it. Samples at 16 kHz, -1 to 1; none is recorded."""

from __future__ import annotations

import numpy as np
from scipy import signal

RATE = 16000


def level(samples: np.ndarray, low: float = 0.0, high: float = RATE / 2) -> float:
    """Decibels below full scale of what lies between two frequencies."""
    power = np.abs(np.fft.rfft(samples)) ** 2
    hertz = np.fft.rfftfreq(len(samples), 1 / RATE)
    return float(10 * np.log10(2 * power[(hertz >= low) & (hertz < high)].sum() / len(samples) ** 2 + 1e-12))


def at(samples: np.ndarray, decibels: float, low: float = 0.0, high: float = RATE / 2) -> np.ndarray:
    """The same at a level between two frequencies."""
    return samples * 10 ** ((decibels - level(samples, low, high)) / 20)


def crowd(seconds: float, decibels: float = -32.0, seed: int = 1) -> np.ndarray:
    """A stand full of people: noise that falls with frequency from 300 Hz on, swelling slowly."""
    chance = np.random.default_rng(seed)
    noise = signal.sosfilt(signal.butter(1, (200, 1500), "bandpass", fs=RATE, output="sos"),
                           chance.normal(size=round(seconds * RATE)))
    swell = 1 + 0.3 * np.sin(2 * np.pi * np.arange(len(noise)) / RATE / 5)
    return at(noise * swell, decibels)


def gusts(seconds: float, seed: int = 2) -> np.ndarray:
    """Wind in a microphone: noise below 100 Hz."""
    chance = np.random.default_rng(seed)
    return signal.sosfilt(signal.butter(3, (15, 100), "bandpass", fs=RATE, output="sos"),
                          chance.normal(size=round(seconds * RATE)))


def talk(seconds: float, seed: int = 3) -> np.ndarray:
    """A voice: pulses at a pitch that wanders about 120 Hz, through three formants, four syllables a second."""
    chance = np.random.default_rng(seed)
    count = round(seconds * RATE)
    time = np.arange(count) / RATE
    pitch = 120 + 15 * np.sin(2 * np.pi * 0.7 * time) + 5 * np.sin(2 * np.pi * 2.3 * time)
    phase = np.cumsum(pitch) / RATE
    pulses = np.diff(np.floor(phase), prepend=0.0) + 0.02 * chance.normal(size=count)
    voice = np.zeros(count)
    for formant, wide in ((600, 80), (1200, 100), (2500, 150)):
        voice += signal.lfilter(*signal.iirpeak(formant, formant / wide, fs=RATE), pulses)
    return voice * (0.15 + np.clip(np.sin(2 * np.pi * 4 * time), 0, 1))


def band(seconds: float) -> np.ndarray:
    """A marching band: a drum twice a second, and brass on steady chords."""
    time = np.arange(round(seconds * RATE)) / RATE
    drum = np.sin(2 * np.pi * 70 * time) * np.exp(-(time % 0.5) * 18)
    brass = sum(np.sin(2 * np.pi * tone * part * time) / part for tone in (233, 294, 349) for part in range(1, 8))
    return drum * 0.6 + brass * 0.05

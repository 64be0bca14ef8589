"""Whistles in mixes that are harder than the demo's. All sound is synthetic: what real sound was tried is in
``tests/outside/real_film``."""

from __future__ import annotations

import numpy as np
import pytest

from tests.film.finding.sounds import at_level, chamber_whistle, echoing, game
from tests.film.finding.sounds import crowd as crowd_of
from workstation.film.finding.sound_analysis import find_whistles

RATE = 16000
SECONDS = 60
TRUE = [6.0, 15.0, 24.5, 33.0, 41.5, 52.0]


def whistle(hertz: float, lasts: float = 0.5, trill: float = 40, depth: float = 0.03) -> np.ndarray:
    t = np.arange(int(lasts * RATE)) / RATE
    tremble = np.sin(2 * np.pi * trill * t)
    tone = np.sin(2 * np.pi * np.cumsum(hertz * (1 + depth * tremble)) / RATE) * (0.75 + 0.25 * tremble)
    return tone * np.minimum(t / 0.02, 1) * np.minimum((lasts - t) / 0.06, 1)


def crowd(loud: float, seed: int = 0) -> np.ndarray:
    chance = np.random.default_rng(seed)
    spectrum = np.fft.rfft(chance.standard_normal(SECONDS * RATE))
    hertz = np.fft.rfftfreq(SECONDS * RATE, 1 / RATE) + 1
    noise = np.fft.irfft(spectrum / (1 + (hertz / 700) ** 1.6), SECONDS * RATE)
    return loud * noise / noise.std()


def band() -> np.ndarray:
    """Brass-like notes with many overtones, some of them in the whistle's band."""
    t = np.arange(SECONDS * RATE) / RATE
    note = np.array([294, 330, 392, 440, 523, 587])[(t * 2.2).astype(int) % 6]
    phase = 2 * np.pi * np.cumsum(note) / RATE
    return 0.12 * sum(np.sin(k * phase) / k ** 0.8 for k in range(1, 13))


def voice() -> np.ndarray:
    """A loudspeaker's voice: a buzz at 120 to 180 Hz through moving formants, cut off at 3.4 kHz."""
    chance = np.random.default_rng(3)
    t = np.arange(SECONDS * RATE) / RATE
    pitch = np.interp(t, np.arange(0, SECONDS, 0.3), chance.uniform(120, 180, SECONDS * 10 // 3))
    phase = 2 * np.pi * np.cumsum(pitch) / RATE
    return 0.1 * sum(np.sin(k * phase) / k for k in range(1, 22)) * (np.sin(2 * np.pi * 3 * t) > -0.3)


def mixed(*, noise: float = 0.1, loud: float = 0.3, hertz: float = 3600) -> np.ndarray:
    sound = crowd(noise)
    for number, at in enumerate(TRUE):
        blast = loud * whistle(hertz + 120 * (number % 3), 0.25 + 0.15 * (number % 4))
        sound[int(at * RATE):int(at * RATE) + len(blast)] += blast
    return sound


def scored(found, true=TRUE) -> tuple[float, float]:
    """Precision and recall of whistles to a tenth of a second."""
    right = sum(any(abs(whistle.at - at) < 0.1 for whistle in found) for at in true)
    return right / max(len(found), 1), right / len(true)


@pytest.mark.parametrize("mix", [
    pytest.param(mixed, id="a crowd"),
    pytest.param(lambda: mixed(noise=0.2, loud=0.15), id="a crowd louder than the whistle"),
    pytest.param(lambda: mixed(hertz=3100), id="a low whistle"),
    pytest.param(lambda: mixed(hertz=4200), id="a high whistle"),
    pytest.param(lambda: mixed() + band(), id="a band playing"),
    pytest.param(lambda: mixed() + voice(), id="a loudspeaker"),
])
def test_whistles_are_heard_through(mix):
    precision, recall = scored(find_whistles(mix().clip(-1, 1)))
    assert precision >= 0.85 and recall >= 0.8


@pytest.mark.parametrize("sound", [
    pytest.param(lambda: crowd(0.3), id="a crowd"),
    pytest.param(lambda: crowd(0.05) + band(), id="a band"),
    pytest.param(lambda: crowd(0.05) + voice(), id="a loudspeaker"),
    pytest.param(lambda: crowd(0.02) + 0.3 * np.sin(2 * np.pi * 3500 * np.arange(SECONDS * RATE) / RATE),
                 id="a steady beep"),
])
def test_no_whistle_is_heard_in(sound):
    assert len(find_whistles(sound().clip(-1, 1))) == 0


def test_another_fields_whistle_is_heard_too_and_is_less_sure():
    """Sound alone cannot tell whose whistle it was; a faint one only counts for less."""
    sound = mixed()
    blast = 0.04 * whistle(3900)
    sound[int(46 * RATE):int(46 * RATE) + len(blast)] += blast
    found = find_whistles(sound)
    far = [one for one in found if abs(one.at - 46) < 0.1]
    assert len(found) == len(TRUE) + len(far)
    assert all(one.confidence < min(near.confidence for near in found if near not in far) for one in far)


# Levels in decibels relative to full scale. The seed on which thresholds were tuned is 1.
MIXES = {
    "crowd": {"crowd": -26}, "loud crowd": {"crowd": -18}, "screams": {"crowd": -28, "screams": -24},
    "squeals": {"crowd": -28, "squeals": -26}, "cowbells": {"crowd": -28, "cowbells": -22},
    "horns": {"crowd": -28, "horns": -20}, "band": {"crowd": -30, "band": -20}, "wind": {"crowd": -30, "wind": -12},
    "announcer": {"crowd": -28, "announcer": -20},
    "everything": {"crowd": -28, "screams": -30, "cowbells": -30, "horns": -26, "band": -30, "wind": -20,
                   "announcer": -26},
}


@pytest.mark.parametrize("level", [-20, -24])
@pytest.mark.parametrize("seed", [2, 3])
def test_whistles_of_both_sorts_are_told_from_what_else_sounds_at_a_game(seed, level):
    right = found = wanted = 0
    for beside in MIXES.values():
        sound, true = game(seed, 60, level, beside)
        whistles = find_whistles(sound)
        right += sum(any(abs(one.at - at) < 0.1 for one in whistles) for at in true)
        found, wanted = found + len(whistles), wanted + len(true)
    assert right >= 0.9 * found and right >= 0.9 * wanted, f"{right} right of {found}, {wanted} true"


def test_one_whistle_in_pieces_with_its_echo_is_one():
    chance = np.random.default_rng(7)
    sound = at_level(crowd_of(chance, 10), -40)
    blast = echoing(at_level(chamber_whistle(chance, 1.0), -20), chance)
    blast[int(0.4 * RATE):int(0.55 * RATE)] *= 0.02         # somebody in front of the microphone
    sound[3 * RATE:3 * RATE + len(blast)] += blast
    found = find_whistles(sound)
    assert len(found) == 1 and found[0].at == pytest.approx(3.0, abs=0.1)
    assert found[0].lasts == pytest.approx(1.1, abs=0.5)

"""What is measured of sound against what was mixed. The expectations follow from the mixing alone."""

from __future__ import annotations

import subprocess
import wave

import numpy as np
import pytest

from tests.film.camera_work import mixed
from tests.film.camera_work.truth import SECONDS, SPANS, overlap, rule
from workstation.film.camera_work import sound
from workstation.film.probe import probe

CLEAN = rule("clean sound")
TIMES = (np.arange(round(SECONDS * 10)) + 0.5) / 10


def rows(samples: np.ndarray) -> np.ndarray:
    """As a pass over a file would leave them."""
    tenths = np.abs(samples[:len(TIMES) * 1600].reshape(-1, 1600))
    return sound.figures(samples.astype(np.float32), (tenths >= 0.985).mean(1).astype(np.float32)).astype(float)


def within(samples: np.ndarray, more: np.ndarray, spans=SPANS) -> np.ndarray:
    result = samples.copy()
    for start, end in spans:
        span = slice(round(start * mixed.RATE), round(end * mixed.RATE))
        result[span] += more[span]
    return result


@pytest.mark.parametrize("gain", [1.0, 4.0, 8.0, 12.0, 20.0])
def test_the_share_that_is_cut_off_is_the_share_beyond_full_scale(gain):
    loud = mixed.crowd(SECONDS, -20) * gain
    expected = float((np.abs(loud) >= 0.985).mean())
    measured = float(rows(loud.clip(-1, 1))[:, sound.CLIPPED].mean())
    assert measured == pytest.approx(expected, rel=0.15, abs=1e-4)


def in_a_file(samples: np.ndarray, codec: str, folder) -> np.ndarray:
    with wave.open(str(folder / "loud.wav"), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(mixed.RATE)
        out.writeframes((samples * 32767).astype("<i2").tobytes())
    picture = f"testsrc2=size=64x48:rate=25:duration={SECONDS}"
    subprocess.run(["ffmpeg", "-y", "-v", "error", "-f", "lavfi", "-i", picture, "-i", str(folder / "loud.wav"),
                    "-c:v", "libx264", "-c:a", codec, "-b:a", "128k", str(folder / "loud.mov")], check=True)
    return sound.analyse(probe(folder / "loud.mov", "loud"))


def test_clipping_is_measured_in_a_file(tmp_path):
    loud = (mixed.crowd(SECONDS, -20) * 8).clip(-1, 1)
    measured = in_a_file(loud, "pcm_s16le", tmp_path)
    assert abs(len(measured) - len(TIMES)) <= 1
    expected = float((np.abs(loud) >= 0.985).mean())
    assert float(measured[:, sound.CLIPPED].mean()) == pytest.approx(expected, rel=0.15)


def test_clipping_is_still_told_after_a_lossy_codec(tmp_path):
    """It rounds the corners, so that much less of it reaches full scale; half as loud, nothing is told."""
    loud = mixed.crowd(SECONDS, -20) * 8
    assert float(in_a_file(loud.clip(-1, 1), "aac", tmp_path)[:, sound.CLIPPED].mean()) > CLEAN.clipped
    assert float(in_a_file(loud.clip(-1, 1) / 2, "aac", tmp_path)[:, sound.CLIPPED].mean()) < CLEAN.clipped / 10


@pytest.mark.parametrize("over", [5.0, 10.0, 15.0, 20.0, 30.0])
def test_wind_is_measured_in_decibels_over_all_else(over):
    crowd = mixed.crowd(SECONDS)
    windy = crowd + mixed.at(mixed.gusts(SECONDS), mixed.level(crowd, 150, 4000) + over, 20, 150)
    expected = mixed.level(windy, 20, 150) - mixed.level(windy, 150, 4000)
    assert float(np.median(sound.wind(TIMES, rows(windy)).values)) == pytest.approx(expected, abs=2.0)


def test_spans_of_each_fault_are_found():
    crowd = mixed.crowd(SECONDS)
    usual = float(np.median(rows(crowd)[:, sound.VOICE]))
    loud = within(crowd, (mixed.crowd(SECONDS, -20, 5) * 14)).clip(-1, 1)
    speech = mixed.at(mixed.talk(SECONDS), usual + 28, 300, 3400)
    gusts = mixed.at(mixed.gusts(SECONDS), mixed.level(crowd, 150, 4000) + 26, 20, 150)
    long = ((2.0, 7.0),)
    cases = {
        "cut off": (sound.clipping(TIMES, rows(loud)), CLEAN.clipped, CLEAN.least, SPANS, 0.3),
        "wind": (sound.wind(TIMES, rows(within(crowd, gusts, long))), CLEAN.wind, CLEAN.longer, long, 0.6),
        "talk": (sound.near_voices(TIMES, rows(within(crowd, speech)), usual), CLEAN.voice, CLEAN.least, SPANS, 0.6),
        "silence": (sound.quiet(TIMES, rows(within(crowd, -crowd, long))), CLEAN.silence, CLEAN.longer, long, 0.15),
    }
    for name, (series, limit, least, true, slack) in cases.items():
        found = [(each.start, each.end) for each in series.above(limit, least, gap=1.0)]
        precision, recall = overlap(found, true, slack)
        assert precision >= 0.95 and recall >= 0.95, (name, precision, recall, found)


@pytest.mark.parametrize("what", ["a crowd", "a band", "a whistle", "an announcer far away"])
def test_what_belongs_to_a_game_is_no_fault(what):
    crowd = mixed.crowd(SECONDS)
    usual = float(np.median(rows(crowd)[:, sound.VOICE]))
    time = np.arange(len(crowd)) / mixed.RATE
    heard = {"a crowd": crowd, "a band": crowd + mixed.at(mixed.band(SECONDS), -26),
             "a whistle": crowd + 0.2 * np.sin(2 * np.pi * 3600 * time) * ((time > 4) & (time < 4.6)),
             "an announcer far away": crowd + mixed.at(mixed.talk(SECONDS), usual + 8, 300, 3400)}[what]
    made = rows(heard)
    for series, limit, least in ((sound.clipping(TIMES, made), CLEAN.clipped, CLEAN.least),
                                 (sound.wind(TIMES, made), CLEAN.wind, CLEAN.longer),
                                 (sound.quiet(TIMES, made), CLEAN.silence, CLEAN.longer),
                                 (sound.near_voices(TIMES, made, usual), CLEAN.voice, CLEAN.least)):
        assert not list(series.above(limit, least, gap=1.0))

"""The sound of a part: what another decoder hears there, silence where there is none, and never much of it at once."""

from __future__ import annotations

import tracemalloc
from fractions import Fraction
from pathlib import Path

import av
import numpy as np
import pytest

from tests.delivery.conftest import ramp, written
from tests.footage import run
from workstation.delivery import decoding
from workstation.delivery.decoding import CHANNELS, SAMPLE_RATE, sound
from workstation.delivery.rendering import Settings, render
from workstation.delivery.segment import Part, Segment
from workstation.film.index import index_of
from workstation.film.probe import probe

#: kind of sound -> (suffix, samples a second, ffmpeg arguments, samples by which the container's clock may be wrong)
SOUNDS = {
    "pcm in mov": (".mov", 48000, ["-c:a", "pcm_s16le"], 0),
    "aac in mp4": (".mp4", 48000, ["-c:a", "aac", "-aac_pns", "0"], 0),     # else every decoder makes noise of its own
    "mp2 in a stream": (".ts", 48000, ["-c:a", "mp2", "-output_ts_offset", "1234.5"], 0),
    "mp2 in avi": (".avi", 48000, ["-c:a", "mp2"], 0),
    "pcm in matroska": (".mkv", 48000, ["-c:a", "pcm_s16le"], 48),          # it counts milliseconds
    "aac in matroska": (".mkv", 48000, ["-c:a", "aac", "-aac_pns", "0"], 48),
    "aac at 44.1 kHz": (".mp4", 44100, ["-c:a", "aac", "-aac_pns", "0"], 0),
    "mp2 at 32 kHz": (".avi", 32000, ["-c:a", "mp2"], 0),
}
PICTURE = ["-f", "lavfi", "-i", "testsrc2=size=64x36:rate=30000/1001:duration=6"]


def noisy(kind: str, folder: Path) -> Path:
    suffix, rate, arguments, _ = SOUNDS[kind]
    path = folder / f"noise{suffix}"
    run("ffmpeg", "-y", "-loglevel", "error", *PICTURE, "-f", "lavfi", "-i",
        f"anoisesrc=r={rate}:a=0.4:d=6:c=pink:seed=5", "-c:v", "mpeg2video", "-g", "15", *arguments, str(path))
    return path


def heard(part: Part) -> np.ndarray:
    return np.concatenate(list(sound(part))).astype(int)


def heard_by_ffmpeg(path: Path) -> tuple[Fraction, np.ndarray]:
    """When the sound begins, and all of it."""
    raw = path.with_suffix(".raw")
    run("ffmpeg", "-y", "-loglevel", "error", "-i", str(path), "-vn", "-ac", "2", "-ar", "48000", "-f", "s16le",
        str(raw))
    first = run("ffprobe", "-v", "error", "-select_streams", "a", "-read_intervals", "%+#2", "-show_entries",
                "frame=pts_time", "-of", "csv=p=0", str(path)).split()[0].strip(",")
    return Fraction(first), np.fromfile(raw, "<i2").reshape(-1, CHANNELS).astype(int)


@pytest.mark.parametrize("kind", SOUNDS)
def test_the_sound_of_a_part_is_what_ffmpeg_hears_there(kind, tmp_path):
    path = noisy(kind, tmp_path)
    source = probe(path, "noise")
    begins, theirs = heard_by_ffmpeg(path)
    pts = index_of(source).pts
    resampled, jitter = SOUNDS[kind][1] != SAMPLE_RATE, SOUNDS[kind][3]
    first = 3 if resampled else 100         # resampled from elsewhere, it would lie between their samples
    part = Part(source, int(pts[first]), int(pts[150]))
    mine = heard(part)
    assert len(mine) == round(part.duration * SAMPLE_RATE)
    at = round((part.start * source.time_base - begins) * SAMPLE_RATE)
    away = [np.abs(mine[lead:] - theirs[at + lead + shift:at + shift + len(mine)]).max()
            for lead in [max(0, jitter - at)] for shift in range(-jitter, jitter + 1)]
    assert min(away) <= 2                   # both round for themselves
    assert np.abs(theirs).max() > 3000


def test_sound_that_begins_late_stops_and_ends_early_stands_where_it_belongs(tmp_path):
    source = probe(written(tmp_path / "holes.mkv", [(1000, 1600), (2600, 3000)], range(0, 4000, 40)), "holes")
    silent = np.zeros((SAMPLE_RATE, CHANNELS), np.int16)
    expected = np.concatenate([silent, ramp(0, 600), silent, ramp(0, 400), silent])
    assert np.array_equal(heard(Part(source, 0, 4000)), expected)
    assert np.array_equal(heard(Part(source, 1200, 2800)), expected[1200 * 48:2800 * 48])


def test_without_sound_or_file_it_is_silent(tmp_path):
    path = written(tmp_path / "silent.mkv", [], range(0, 2000, 40))
    part = Part(probe(path, "silent"), 0, 1999)
    assert [len(piece) for piece in sound(part)] == [SAMPLE_RATE, SAMPLE_RATE - 48] and not heard(part).any()
    path.unlink()
    assert len(heard(part)) == 1999 * 48 and not heard(part).any()


def test_a_wrong_time_misplaces_its_own_piece_only(tmp_path, monkeypatch):
    source = probe(written(tmp_path / "film.mkv", [], range(0, 6000, 40)), "film")
    true = [(at * 48, ramp(at, 20)) for at in range(0, 6000, 20)]
    damaged = list(true)
    damaged[50] = (5000 * 48, true[50][1])          # far ahead
    damaged[90] = (9000 * 48, true[90][1])          # beyond the end
    damaged[120], damaged[121] = true[121], true[120]
    monkeypatch.setattr(decoding, "_decoded", lambda *_: iter(damaged))
    expected = np.concatenate([piece for _, piece in true])
    for missing in (50, 90):
        expected[missing * 960:(missing + 1) * 960] = 0
    assert np.array_equal(heard(Part(source, 0, 5000)), expected[:5000 * 48])


def test_a_long_part_takes_little_memory_and_its_sound_never_runs_ahead_of_its_pictures(tmp_path):
    source = probe(written(tmp_path / "long.mkv", [(0, 120_000)], range(0, 120_000, 250)), "long")
    index_of(source)
    part = Part(source, 0, 120_000)
    tracemalloc.start()
    try:
        render([Segment((part,), {})], tmp_path / "out.mp4", Settings(preset="ultrafast"))
        most = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert most < 10 * SAMPLE_RATE * CHANNELS * 2       # bytes of ten seconds
    reached = dict.fromkeys(("video", "audio"), 0.0)
    with av.open(str(tmp_path / "out.mp4")) as container:
        for packet in container.demux():
            if packet.size:
                reached[packet.stream.type] = float(packet.dts * packet.time_base)
                assert reached["audio"] - reached["video"] < 5
    assert reached["audio"] > 119

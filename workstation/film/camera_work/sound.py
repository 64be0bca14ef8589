"""The sound of a shot: clipping, wind, silence, and voices near the microphone."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import av
import numpy as np
from av.audio.stream import AudioStream
from scipy import ndimage

from ...cancelling import Cancelled
from ..faults import NoPicture, reason_for
from ..film import Source
from ..probe import open_container
from .series import EVERY, Series

FIGURES = 5                     # for every tenth of a second: see the columns
LEVEL, CLIPPED, LOW, VOICE, VOICED = range(FIGURES)
FLOOR = -90.0                   # decibels below full scale, where there is nothing
_RATE = 16000                   # Hz; holds speech and wind
_FULL = 0.985                   # of full scale: what a converter or a limiter cuts off lies there
_FULL_CODED = 0.9               # the same once a lossy codec has rounded the corners; much of it lies lower still
_LOW, _MIDDLE, _SPEECH = (20.0, 150.0), (150.0, 4000.0), (300.0, 3400.0)        # Hz
_PITCH = 80.0, 350.0            # Hz: voices of grown people and children
_PERIODIC = 0.5                 # of the whole: the share of a window that repeats itself at the pitch
_TALK = 1.5                     # seconds over which talking is judged
_SHARE = 0.3                    # of that is voiced where somebody talks: half of speech has a pitch, less the pauses


def analyse(source: Source, *, progress: Callable[[float], None] = lambda share: None,
            cancelled: Callable[[], bool] = lambda: False) -> np.ndarray:
    """Return a row for every tenth of a second from the first picture: level and the level below 150 Hz over that above
    (decibels), the share of samples at full scale, the level of speech, and how periodic it is (0 to 1).

    No rows if the source has no sound. Raises NoPicture if it cannot be read, Cancelled.
    """
    if source.audio_codec is None:
        return np.zeros((0, FIGURES), np.float32)
    length = max(float(source.duration), EVERY)
    rows: list[np.ndarray] = []
    try:
        for number, (clipped, mono) in enumerate(_blocks(source)):
            if cancelled():
                raise Cancelled("Listening was stopped.")
            rows.append(figures(mono, clipped))
            progress(min(number / length, 1.0))
    except (av.FFmpegError, OSError, ValueError) as error:
        raise NoPicture(source.id, reason_for(error, source.path)) from error
    most = int(np.ceil(length / EVERY))
    return np.concatenate(rows)[:most] if rows else np.zeros((0, FIGURES), np.float32)


def figures(mono: np.ndarray, clipped: np.ndarray) -> np.ndarray:
    """The rows of mono samples at 16 kHz (-1 to 1); ``clipped`` holds the shares at full scale, one for each row."""
    step = int(_RATE * EVERY)
    count = len(clipped)
    mono = np.pad(mono[:count * step], (0, max(count * step - len(mono), 0))).reshape(count, step)
    power = np.abs(np.fft.rfft(mono * np.hanning(step).astype(np.float32), axis=1)) ** 2
    hertz = np.fft.rfftfreq(step, 1 / _RATE)
    scale = 2 / (step * step * 0.375)

    def within(band: tuple[float, float]) -> np.ndarray:
        return np.asarray(power[:, (hertz >= band[0]) & (hertz < band[1])].sum(1) * scale)

    result = np.zeros((count, FIGURES), np.float32)
    result[:, LEVEL] = _decibels((mono ** 2).mean(1))
    result[:, CLIPPED] = clipped
    result[:, LOW] = _decibels(within(_LOW)) - _decibels(within(_MIDDLE))
    result[:, VOICE] = _decibels(within(_SPEECH))
    limited = np.where((hertz >= 70) & (hertz < 1500), power, 0)
    repeats = np.fft.irfft(limited, axis=1)
    first, last = int(_RATE / _PITCH[1]), int(_RATE / _PITCH[0])
    # a window that tapers repeats itself less the longer the way
    taper = np.fft.irfft(np.abs(np.fft.rfft(np.hanning(step), 2 * step)) ** 2)[:last]
    taper = taper / taper[0]
    own = repeats[:, :last] / np.maximum(repeats[:, :1], 1e-12) / np.maximum(taper, 0.2)
    result[:, VOICED] = own[:, first:last].max(1).clip(0, 1)
    return result


def _decibels(power: np.ndarray) -> np.ndarray:
    return np.asarray(np.maximum(10 * np.log10(power + 1e-12), FLOOR))


def _blocks(source: Source) -> Iterator[tuple[np.ndarray, np.ndarray]]:
    """A second at a time from the first picture: the share of clipped samples in each tenth, and mono samples at
    16 kHz. Damage and gaps become silence."""
    begin = float(source.start_pts * source.time_base)
    with open_container(source.path) as container:
        stream: AudioStream = container.streams.audio[0]
        codec = source.audio_codec or ""
        full = _FULL if codec.startswith(("pcm", "flac", "alac")) else _FULL_CODED
        resampler = av.AudioResampler("fltp", None, None)
        rest: np.ndarray | None = None
        rate, given = 0, 0
        for packet in container.demux(stream):
            try:
                frames = packet.decode()
            except av.error.InvalidDataError:
                continue
            for frame in frames:
                start = None if frame.pts is None or frame.time_base is None else float(frame.pts * frame.time_base)
                frame.pts = None
                try:
                    parts = resampler.resample(frame)
                except ValueError:          # the sound's form changes, as it does where a file is damaged
                    resampler, rest = av.AudioResampler("fltp", None, None), None
                    parts = resampler.resample(frame)
                for part in parts:
                    samples = part.to_ndarray().astype(np.float32, copy=False)
                    if rest is None or rate != part.sample_rate or rest.shape[0] != samples.shape[0]:
                        rest, rate = np.zeros((samples.shape[0], 0), np.float32), part.sample_rate
                    if start is not None:
                        due = round((start - begin) * rate)
                        have = given + rest.shape[1]
                        if due + samples.shape[1] <= 0:
                            continue
                        if due < 0:
                            samples = samples[:, -due:]
                        elif due > have + rate // 20:
                            most = round(float(source.duration) * rate) - have
                            gap = max(min(due - have, most, rate * 60), 0)
                            rest = np.concatenate([rest, np.zeros((rest.shape[0], gap), np.float32)], axis=1)
                        start = None
                    rest = np.concatenate([rest, samples], axis=1)
                    while rest.shape[1] >= rate:
                        yield _second(rest[:, :rate], rate, full)
                        rest, given = rest[:, rate:], given + rate
        if rest is not None and rest.shape[1] >= rate * EVERY:
            yield _second(rest, rate, full)


def _second(samples: np.ndarray, rate: int, full_scale: float) -> tuple[np.ndarray, np.ndarray]:
    step = rate * EVERY
    edges = np.rint(np.arange(int(samples.shape[1] / step) + 1) * step).astype(int)
    full = (np.abs(samples) >= full_scale).max(0)
    clipped = np.add.reduceat(full, edges[:-1]) / np.maximum(np.diff(edges), 1)
    mono = samples.mean(0)
    wanted = len(clipped) * int(_RATE * EVERY)
    if rate != _RATE:
        width = max(round(rate / _RATE), 1)
        mono = ndimage.uniform_filter1d(mono, width) if width > 1 else mono     # keeps what lies above out of the bands
        mono = np.interp(np.arange(wanted) * (rate / _RATE), np.arange(len(mono)), mono)
    return np.asarray(clipped, np.float32), np.asarray(mono[:wanted], np.float32)


def clipping(times: np.ndarray, rows: np.ndarray) -> Series:
    """The share of samples that are cut off, over half a second."""
    return Series(times, ndimage.uniform_filter1d(rows[:, CLIPPED].astype(float), 5, mode="nearest"))


def wind(times: np.ndarray, rows: np.ndarray) -> Series:
    """How far the lowest sounds stand above all others, over a second, in decibels; none where it is quiet."""
    low = ndimage.uniform_filter1d(rows[:, LOW].astype(float), 10, mode="nearest")
    return Series(times, np.where(rows[:, LEVEL] > -50, low, -60.0))


def quiet(times: np.ndarray, rows: np.ndarray) -> Series:
    """How far below full scale the sound is, in decibels."""
    return Series(times, -rows[:, LEVEL].astype(float))


def near_voices(times: np.ndarray, rows: np.ndarray, usual: float) -> Series:
    """How far speech stands above the usual level of its band (decibels), where somebody talks; else 0."""
    width = round(_TALK / EVERY)
    talking = ndimage.uniform_filter1d((rows[:, VOICED] > _PERIODIC).astype(float), width, mode="nearest") >= _SHARE
    # the loud half of the last second and a half: pauses between words do not count
    level = ndimage.percentile_filter(rows[:, VOICE].astype(float), 70, width, mode="nearest") - usual
    return Series(times, np.where(talking, level, 0.0))

"""Time-stretch a source's sound, pitch kept, into a WAV stream read in pieces."""

from __future__ import annotations

import math
import struct
from collections.abc import Iterator
from fractions import Fraction
from typing import cast

import av
import av.filter
import numpy as np
from av.audio.stream import AudioStream

from ..film import Source
from ..probe import open_container

RATE = 48000            # samples a second, two channels of 16 bits
_TICK = Fraction(1, RATE)


class StretchedSound:
    """Sound from ``seconds`` after the source's first picture, at ``speed`` times life speed.

    Raises ValueError if the source has no sound, OSError or av.FFmpegError if it cannot be read.
    """

    def __init__(self, source: Source, seconds: float, speed: float) -> None:
        self._begin = float(source.start_pts * source.time_base) + seconds
        self._speed = speed
        self._container = open_container(source.path)
        if not self._container.streams.audio:
            self._container.close()
            raise ValueError(f"{source.path.name} has no sound.")
        self._stream: AudioStream = self._container.streams.audio[0]
        self._chunks = self._made()
        self._held = _header()

    def read(self, size: int) -> bytes:
        """Return up to ``size`` bytes, none at the end."""
        while len(self._held) < size:
            chunk = next(self._chunks, b"")
            if not chunk:
                break
            self._held += chunk
        data, self._held = self._held[:size], self._held[size:]
        return data

    def close(self) -> None:
        """Close the file; no sound follows."""
        self._chunks = iter(())
        self._container.close()

    def _made(self) -> Iterator[bytes]:
        graph = self._graph()
        try:
            for frame in self._from_begin():
                graph.push(frame)
                yield from _pulled(graph)
            graph.push(None)
            yield from _pulled(graph)
        except (av.FFmpegError, OSError):
            return              # the pictures say what is wrong with the file

    def _from_begin(self) -> Iterator[av.AudioFrame]:
        """The sound as decoded, cut (or led in by silence) to begin at the sample wanted."""
        resampler = av.AudioResampler("s16", "stereo", RATE)
        stream = self._stream
        back = max(self._begin - 0.5, 0.0)
        self._container.seek(int(back / (stream.time_base or 1)), stream=stream, backward=True)
        number: int | None = None
        for decoded in self._container.decode(stream):
            if decoded.pts is None:
                continue
            for frame in resampler.resample(decoded):
                if number is None:
                    at = float((frame.pts or 0) * (frame.time_base or 0))   # the resampler may hold sound back
                    skip = round((self._begin - at) * RATE)
                    if skip >= frame.samples:
                        continue
                    frame = _cut(frame, skip) if skip >= 0 else _led_in(frame, min(-skip, 10 * RATE))
                    number = 0
                frame.pts, frame.time_base, frame.sample_rate = number, _TICK, RATE
                number += frame.samples
                yield frame

    def _graph(self) -> av.filter.Graph:
        graph = av.filter.Graph()
        source = graph.add_abuffer(sample_rate=RATE, format="s16", layout="stereo", time_base=_TICK)
        parts = math.ceil(abs(math.log2(self._speed)))      # one atempo slows to a half at most
        steps = [graph.add("atempo", f"{self._speed ** (1 / parts):.9f}") for _ in range(parts)]
        form = graph.add("aformat", f"sample_fmts=s16:sample_rates={RATE}:channel_layouts=stereo")
        graph.link_nodes(source, *steps, form, graph.add("abuffersink")).configure()
        return graph


def _pulled(graph: av.filter.Graph) -> Iterator[bytes]:
    while True:
        try:
            frame = cast(av.AudioFrame, graph.pull())
        except (av.error.BlockingIOError, av.error.EOFError):
            return
        yield bytes(frame.planes[0])[:frame.samples * 4]


def _cut(frame: av.AudioFrame, skip: int) -> av.AudioFrame:
    return av.AudioFrame.from_ndarray(frame.to_ndarray()[:, skip * 2:].copy(), "s16", "stereo")


def _led_in(frame: av.AudioFrame, silent: int) -> av.AudioFrame:
    samples = frame.to_ndarray()
    return av.AudioFrame.from_ndarray(np.concatenate([np.zeros((1, silent * 2), samples.dtype), samples], axis=1),
                                      "s16", "stereo")


def _header() -> bytes:
    """Of a WAV file (RIFF) whose length is not known yet."""
    return struct.pack("<4sI4s4sIHHIIHH4sI", b"RIFF", 0xFFFFFFFF, b"WAVE", b"fmt ", 16, 1, 2, RATE, RATE * 4, 4, 16,
                       b"data", 0xFFFFFFFF)

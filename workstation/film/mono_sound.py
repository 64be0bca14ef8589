"""The sound of a source as one channel of samples, aligned to its first picture."""

from __future__ import annotations

from collections.abc import Iterator

import av
import numpy as np
from av.audio.stream import AudioStream

from .film import Source
from .probe import open_container

RATE = 16000                    # Hz; holds all of a whistle's band


def mono_samples(source: Source) -> Iterator[np.ndarray]:
    """Mono samples from the source's first picture on; damage and gaps become silence."""
    begin = float(source.start_pts * source.time_base)
    length = round(float(source.duration) * RATE)
    given = 0
    with open_container(source.path) as container:
        stream: AudioStream = container.streams.audio[0]
        resampler = av.AudioResampler("flt", "mono", RATE)
        packets = container.demux(stream)
        while (packet := next(packets, None)) is not None:
            try:
                frames = packet.decode()
            except av.error.InvalidDataError:
                continue
            for frame in frames:
                if frame.pts is not None and frame.time_base is not None:
                    due = round((float(frame.pts * frame.time_base) - begin) * RATE)
                    if due > given + RATE // 20:
                        while given < min(due, length):     # a damaged time may lie hours ahead: a piece at a time
                            missing = min(due - given, length - given, RATE * 10)
                            yield np.zeros(missing, np.float32)
                            given += missing
                    late = due + round(frame.samples / frame.sample_rate * RATE) <= 0
                    if late:
                        continue
                frame.pts = None
                try:
                    parts = resampler.resample(frame)
                except ValueError:          # the sound's form changes, as it does where a file is damaged
                    resampler = av.AudioResampler("flt", "mono", RATE)
                    parts = resampler.resample(frame)
                for part in parts:
                    samples = part.to_ndarray().ravel()
                    given += len(samples)
                    yield samples

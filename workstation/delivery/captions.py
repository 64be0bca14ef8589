"""Captions and chapters for a sequence: WebVTT (W3C), SubRip, and chapters inside an MP4 file."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from html import escape
from pathlib import Path
from typing import Any

import av

from ..film.writing import written_whole
from .segment import Cue


def _clock(seconds: Fraction, mark: str) -> str:
    milliseconds = round(seconds * 1000)
    seconds_, milliseconds = divmod(milliseconds, 1000)
    minutes, seconds_ = divmod(seconds_, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02}:{minutes:02}:{seconds_:02}{mark}{milliseconds:03}"


def _one_line(text: str) -> str:
    """Any line end, a lone carriage return too, could end a cue or begin another; NUL ends text in some readers."""
    return " ".join(text.replace("\0", " ").split())


def webvtt(cues: Iterable[Cue]) -> str:
    """Captions of the joined segments as WebVTT."""
    blocks = ["WEBVTT"]
    for number, cue in enumerate(cues, 1):
        segment = cue.segment
        text = escape(_one_line(segment.caption or segment.label), quote=False)
        blocks.append(f"{number}\n{_clock(cue.start, '.')} --> {_clock(cue.end, '.')}\n{text}")
    return "\n\n".join(blocks) + "\n"


def subrip(cues: Iterable[Cue]) -> str:
    """Captions of the joined segments as SubRip."""
    return "\n".join(
        f"{number}\n{_clock(cue.start, ',')} --> {_clock(cue.end, ',')}\n"
        f"{_one_line(cue.segment.caption or cue.segment.label)}\n" for number, cue in enumerate(cues, 1))


def add_chapters(path: Path, cues: Iterable[Cue]) -> None:
    """Put a chapter per segment into the rendered MP4 file ``path``; streams are copied, the file replaced whole."""
    chapters: list[Any] = [       # PyAV's own type of a chapter exists in its stubs only
        {"id": number, "start": round(cue.start * 1000), "end": round(cue.end * 1000), "time_base": Fraction(1, 1000),
         "metadata": {"title": _one_line(cue.segment.caption or cue.segment.label)}}
        for number, cue in enumerate(cues, 1)]
    with written_whole(path) as temporary, av.open(str(path)) as source, av.open(
            str(temporary), "w", format="mp4", options={"movflags": "+faststart"}) as out:
        out.set_chapters(chapters)
        streams = {stream.index: out.add_stream_from_template(stream)
                   for stream in (*source.streams.video, *source.streams.audio)}
        for packet in source.demux():
            if packet.dts is not None and packet.stream.index in streams:
                packet.stream = streams[packet.stream.index]
                out.mux(packet)

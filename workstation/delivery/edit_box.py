"""Limit what an MP4 file shows, in its edit list.

The muxer writes an edit list that hides the pictures before time zero, but none that ends early.
A copied segment needs both: pictures after its end may be there because earlier ones
are decoded from them. Boxes and fields: ISO/IEC 14496-12, ``elst`` (8.6.6), ``tkhd`` (8.3.2), ``mvhd`` (8.2.2).
"""

from __future__ import annotations

import struct
from collections.abc import Collection, Iterator
from fractions import Fraction
from pathlib import Path
from typing import BinaryIO, NamedTuple


class _Box(NamedTuple):
    kind: bytes
    body: int       # file position of its content
    end: int


def _boxes(file: BinaryIO, start: int, end: int) -> Iterator[_Box]:
    while start + 8 <= end:
        file.seek(start)
        size, kind = struct.unpack(">I4s", file.read(8))
        body = start + 8
        if size == 1:
            size = struct.unpack(">Q", file.read(8))[0]
            body += 8
        elif size == 0:
            size = end - start
        if size < body - start or start + size > end:
            raise ValueError(f"box {kind!r} at byte {start} runs past its container")
        yield _Box(kind, body, start + size)
        start += size


def _find(file: BinaryIO, box: _Box, *path: bytes) -> _Box | None:
    for kind in path:
        found = next((inner for inner in _boxes(file, box.body, box.end) if inner.kind == kind), None)
        if found is None:
            return None
        box = found
    return box


def _write_duration(file: BinaryIO, box: _Box, after_flags: tuple[int, int], duration: int) -> None:
    """Overwrite a duration that follows ``after_flags`` bytes (version 0, version 1) of a full box."""
    file.seek(box.body)
    version = file.read(1)[0]
    file.seek(box.body + 4 + after_flags[version])
    file.write(struct.pack(">Q" if version else ">I", duration))


def limit_shown(path: Path, seconds: dict[int, Fraction], loose: Collection[int] = ()) -> None:
    """Rewrite the shown duration of tracks in place; ``seconds`` by track position in the file.

    Raises ValueError if the file has no such track or its track has no edit list; a ``loose`` track is left as it is
    then.
    """
    with open(path, "r+b") as file:
        size = file.seek(0, 2)
        movie = _find(file, _Box(b"", 0, size), b"moov")
        header = movie and _find(file, movie, b"mvhd")
        if movie is None or header is None:
            raise ValueError(f"{path.name} has no movie header")
        file.seek(header.body)
        version = file.read(1)[0]
        file.seek(header.body + 4 + (16 if version else 8))
        timescale = struct.unpack(">I", file.read(4))[0]
        tracks = [box for box in _boxes(file, movie.body, movie.end) if box.kind == b"trak"]
        for position, shown in seconds.items():
            edits = _find(file, tracks[position], b"edts", b"elst") if position < len(tracks) else None
            if edits is None and position in loose:
                continue
            if edits is None:
                raise ValueError(f"{path.name} has no edit list in track {position + 1}")
            file.seek(edits.body)
            version = file.read(1)[0]
            file.seek(edits.body + 4)
            count = struct.unpack(">I", file.read(4))[0]
            entry = 20 if version else 12
            ticks = round(shown * timescale)
            # Leading empty edits (media time -1) delay the track; the last entry is the one that shows media.
            for earlier in range(count - 1):
                file.seek(edits.body + 8 + earlier * entry)
                ticks -= struct.unpack(">Q" if version else ">I", file.read(8 if version else 4))[0]
            file.seek(edits.body + 8 + (count - 1) * entry)
            file.write(struct.pack(">Q" if version else ">I", max(ticks, 0)))
            track_header = _find(file, tracks[position], b"tkhd")
            if track_header is not None:
                _write_duration(file, track_header, (16, 24), round(shown * timescale))
        _write_duration(file, header, (12, 20), round(max(seconds.values()) * timescale))

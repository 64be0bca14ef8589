"""Which colours a picture's numbers stand for: one answer for the screen, stills, renderings and what is painted in.

Code points are those of ITU-T H.273. Footage that does not say its matrix is taken as BT.709 from 720 lines up and as
BT.601 below, in the studio range (16 to 235), as players do.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import av
from av.video.reformatter import ColorRange, Interpolation

from .film import Source
from .probe import open_container, picture_stream

BT709, BT601_625, BT601_525, BT2020, UNSPECIFIED = 1, 5, 6, 9, 2
PQ, HLG = 16, 18                # transfer characteristics of SMPTE ST 2084 and of ITU-R BT.2100's other one
HIGH_RANGE = {PQ: "PQ", HLG: "HLG"}
HD_LINES = 720
EXACT = (Interpolation.BILINEAR | Interpolation.ACCURATE_RND | Interpolation.FULL_CHR_H_INT
         # the scaler's way that agrees with another library's (zimg) within 1 of 255
         | Interpolation.FULL_CHR_H_INP)
_MATRICES = {1: 1, 4: 4, 5: 5, 6: 5, 7: 7, 9: 9, 10: 9}     # that swscale converts, those of equal numbers as one


@dataclass(frozen=True, slots=True)
class ColourSpace:
    """Matrix, primaries and transfer by their code points; ``full`` if black is 0, not 16 of 255; ``bits`` a sample."""

    matrix: int
    full: bool
    primaries: int
    transfer: int
    bits: int = 8

    @property
    def high_range(self) -> bool:
        """Whether the transfer is one for high dynamic range."""
        return self.transfer in HIGH_RANGE


def matrix_for(height: int) -> int:
    """The matrix that players take where none is said."""
    return BT709 if height >= HD_LINES else BT601_625


def colours_of(frame: av.VideoFrame) -> ColourSpace:
    """What a decoded picture says of its colours, or what is taken for it."""
    return _colours(frame, frame.format, frame.height)


def colours_in(source: Source) -> ColourSpace:
    """The same for a whole source, by its headers. Raises av.FFmpegError or OSError if it cannot be opened."""
    with open_container(source.path) as container:
        context = picture_stream(container).codec_context
        return _colours(context, context.format, context.height)


def _colours(said: Any, form: Any, height: int) -> ColourSpace:
    """Of a frame or a codec's context; a decoder that gives RGB says it by the format."""
    matrix = _MATRICES.get(int(said.colorspace), matrix_for(height))
    name = form.name if form else ""
    full = int(said.color_range) == int(ColorRange.JPEG) or name.startswith("yuvj")
    return ColourSpace(matrix, full, int(said.color_primaries), int(said.color_trc),
                   max((component.bits for component in form.components), default=8) if form else 8)

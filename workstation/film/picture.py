"""A decoded frame and its conversion to pixels for the screen."""

from __future__ import annotations

import threading
from dataclasses import dataclass, replace
from fractions import Fraction

import av
import numpy as np
from av.video.reformatter import ColorRange, Interpolation, VideoReformatter

from .colour import EXACT, colours_of
from .time import Instant

_local = threading.local()
COMB = 10               # of 255; how far a line has to stand out from both its neighbours


@dataclass(slots=True, eq=False)
class Picture:
    """The picture shown at ``instant``, its own timestamp. ``frame`` is exactly what the decoder gave.

    An ``interlaced`` one holds two moments, a field apart, in alternate lines. Its pixels show the first
    wherever the two differ, as a deinterlacing player does. A ``small`` one has a fraction of the width and height, for
    stepping through film of which few whole pictures fit into memory.
    """

    instant: Instant
    frame: av.VideoFrame
    rotation: int = 0
    pixel_aspect: Fraction = Fraction(1)
    interlaced: bool = False
    bottom_first: bool = False
    mirrored: bool = False
    small: bool = False

    def rgb(self) -> np.ndarray:
        """Height x width x 3 bytes (red, green, blue), upright, with square pixels."""
        return self._converted("rgb24", 3)

    def bgra(self) -> np.ndarray:
        """Height x width x 4 bytes, upright, with square pixels: Qt's RGB32 where little-endian, quickest to draw."""
        return self._converted("bgra", 4)

    def made_small(self, factor: int) -> Picture:
        """The same at a half (``factor`` 2), a third or a quarter of its width and height."""
        frame = _reformatter("small").reformat(self.frame, self.frame.width // factor, self.frame.height // factor,
                                               interpolation=Interpolation.AREA)
        return replace(self, frame=frame, small=True)

    def _converted(self, pixels: str, channels: int) -> np.ndarray:
        width = round(self.frame.width * self.pixel_aspect)
        result = converted(self.frame, pixels, channels, width)
        if self.interlaced:
            result = deinterlaced(result, self.bottom_first)
        return upright(result, self.rotation, self.mirrored)


def converted(frame: av.VideoFrame, pixels: str, channels: int, width: int | None = None,
              exact: bool = False) -> np.ndarray:
    """Convert a decoded frame to packed pixels with the colours it was filmed in.

    ``exact`` is for what is kept; without, it is quicker, but each two pixels share one sample of the colour
    differences.
    """
    colours = colours_of(frame)
    result = _reformatter("pixels").reformat(
        frame, width=width, format=pixels, src_colorspace=colours.matrix, dst_colorspace=colours.matrix,
        src_color_range=ColorRange.JPEG if colours.full else ColorRange.MPEG, dst_color_range=ColorRange.JPEG,
        interpolation=EXACT if exact else Interpolation.BILINEAR)
    plane = result.planes[0]
    lines = np.frombuffer(memoryview(plane), np.uint8).reshape(result.height, plane.line_size)
    return lines[:, :result.width * channels].reshape(result.height, result.width, channels)


def _reformatter(use: str) -> VideoReformatter:
    """This thread's own for one use: it keeps its tables as long as nothing changes."""
    kept: dict[str, VideoReformatter] = _local.__dict__
    if use not in kept:
        kept[use] = VideoReformatter()
    return kept[use]


def upright(pixels: np.ndarray, rotation: int, mirrored: bool = False) -> np.ndarray:
    """Mirror if ``mirrored``, then turn clockwise by a multiple of 90 degrees. The result is contiguous."""
    return np.ascontiguousarray(np.rot90(pixels[:, ::-1] if mirrored else pixels, -rotation // 90 % 4))


def deinterlaced(pixels: np.ndarray, bottom_first: bool = False) -> np.ndarray:
    """Replace odd lines (even ones, if the field of the odd ones is the first) by the mean of their neighbours where
    they stand out from both: there the second field shows something that has moved on."""
    result = pixels.copy()
    if bottom_first:
        result[1:] = deinterlaced(pixels[1:])
        return result
    here = result[1:-1:2]
    above, below = pixels[0:-2:2][:len(here)], pixels[2::2][:len(here)]
    green = pixels[:, :, 1].astype(np.int16)
    up = green[0:-2:2][:len(here)] - green[1:-1:2]
    down = green[2::2][:len(here)] - green[1:-1:2]
    combed = (np.minimum(up, down) > COMB) | (np.maximum(up, down) < -COMB)
    mean = (above & below) + ((above ^ below) >> 1)
    if pixels.shape[2] == 4:            # whole pixels at a time
        np.copyto(here.view(np.uint32)[:, :, 0], mean.view(np.uint32)[:, :, 0], where=combed)
    else:
        np.copyto(here, mean, where=combed[:, :, None])
    return result

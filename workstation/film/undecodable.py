"""Recognise pictures that cannot be decoded whole, at the beginning of a clip that was cut without encoding.

Such a clip begins inside a group of pictures, and its first pictures lean on some that it does not have. Decoders put
grey in their place (128 of each component), on which only what moves is painted, until the next keyframe.
"""

from __future__ import annotations

from collections.abc import Callable, Set
from itertools import islice

import av

from .probe import Container

_BLOCK = 8                  # samples of chroma across and down
_GREY = 128
_BEGINS = 0.3               # share of grey in the first picture from which it is taken for undecodable
_ENDS = 0.05                # share of grey in a keyframe that can be decoded, at most
_LOOKED_AT = 900            # pictures; encoders write a keyframe at least every ten seconds or so


def grey_share(frame: av.VideoFrame) -> float:
    """Return the share of a frame, 0 to 1, that is the grey of a picture that is missing."""
    planes = frame.reformat(format="yuv444p").to_ndarray()
    tall, wide = planes.shape[1] // (2 * _BLOCK) * 2 * _BLOCK, planes.shape[2] // (2 * _BLOCK) * 2 * _BLOCK
    if not tall or not wide:
        return 0.0
    blocks = planes[:, :tall, :wide].reshape(3, tall // (2 * _BLOCK), 2 * _BLOCK, wide // (2 * _BLOCK), 2 * _BLOCK)
    least, most = blocks.min((2, 4)).astype(int), blocks.max((2, 4)).astype(int)
    near = (least >= _GREY - 6) & (most <= _GREY + 6) & (most - least <= 6)
    return float(near.all(0).mean())


def first_whole(container: Container, stream: av.VideoStream, keys: Set[int],
                number_of: Callable[[int], int] | None) -> int:
    """Return the number of the first picture that can be decoded whole, 0 where the first can (or none of many).

    *container* is read from its beginning. *keys* are the timestamps of keyframes; *number_of* gives the number of the
    picture at a timestamp, None where pictures are counted as they come.
    """
    for count, frame in enumerate(islice(container.decode(stream), _LOOKED_AT)):
        if count == 0:
            if grey_share(frame) < _BEGINS:
                return 0
        elif (frame.key_frame or frame.pts in keys) and grey_share(frame) <= _ENDS:
            return count if number_of is None or frame.pts is None else number_of(frame.pts)
    return 0

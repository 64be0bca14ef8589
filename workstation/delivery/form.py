"""What rendered pictures are written as: one size and one kind of colours for every source that goes into a film.

It is 8 bit in the studio range, in the matrix that players take for its size, and says so in its tags, so that players
that read them and players that do not show the same. Film that is all of one kind of high dynamic range stays so, in 10
bit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import av

from ..film.colour import (
    BT601_525,
    BT601_625,
    BT709,
    BT2020,
    HIGH_RANGE,
    UNSPECIFIED,
    ColourSpace,
    colours_in,
    matrix_for,
)
from .segment import Part


@dataclass(frozen=True, slots=True)
class VideoFormat:
    """What the pictures are written as: size without the caption strip, colours, and the words about the colours."""

    width: int
    height: int
    colours: ColourSpace
    pixels: str
    notes: tuple[str, ...] = ()


def form_of(parts: Sequence[Part], width: int, height: int, strip: int) -> VideoFormat:
    """The colours that all parts are brought to."""
    found: dict[str, ColourSpace] = {}
    for part in parts:
        if part.source.id not in found:
            try:
                found[part.source.id] = colours_in(part.source)
            except (av.FFmpegError, OSError):       # said when its pictures are read
                continue
    names = {part.source.id: part.source.path.name for part in parts}
    every = set(found.values())
    lines = height + strip
    if (every and all(each.high_range and each.bits > 8 for each in every)
            and len({each.transfer for each in every}) == 1):
        transfer = next(iter(every)).transfer
        return VideoFormat(width, height, ColourSpace(BT2020, False, BT2020, transfer, 10), "yuv420p10le",
                     (f"The film is in high dynamic range ({HIGH_RANGE[transfer]}) like its footage, 10 bit in HEVC; a "
                      "player that does not know it shows it pale.",))
    notes = [f"{names[id]} was filmed in high dynamic range ({HIGH_RANGE[each.transfer]}); beside other footage it is "
             "shown in the ordinary range, paler than it was filmed." for id, each in found.items() if each.high_range]
    notes += [f"{names[id]} was filmed with {each.bits} bits a sample; it is written with 8."
              for id, each in found.items() if each.bits > 8 and not each.high_range]
    matrix = matrix_for(lines)
    told = BT709 if matrix == BT709 else BT601_625 if height in (576, 288) else BT601_525
    primaries, transfers = ({code for each in every if (code := getattr(each, name)) not in (0, UNSPECIFIED)}
                            for name in ("primaries", "transfer"))
    return VideoFormat(width, height, ColourSpace(matrix, False, primaries.pop() if len(primaries) == 1 else told,
                                        transfers.pop() if len(transfers) == 1 and not transfers & set(HIGH_RANGE)
                                        else BT709 if told == BT709 else BT601_525), "yuv420p", tuple(notes))


def tag(colours: ColourSpace) -> int:
    """The code point of the matrix; the two of equal numbers are told apart by the primaries."""
    return BT601_525 if colours.matrix == BT601_625 and colours.primaries == BT601_525 else colours.matrix

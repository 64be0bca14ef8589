"""SMPTE ST 12-1 time code: frame counts to ``HH:MM:SS:FF`` and back.

Drop-frame counting (``HH:MM:SS;FF``) exists for the 1000/1001 rates of 30 and 60 only: it skips
the first two (four at 60) frame *numbers* of every minute except each tenth, so that the
label stays within 2 frames of the clock over an hour (ST 12-1, drop frame compensated mode).
No pictures are dropped.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import ceil

from ..film.film import Source

_TIMECODE = re.compile(r"^(\d{2}):([0-5]\d):([0-5]\d)([:;.])(\d{2,3})$")


def drops(rate: Fraction) -> bool:
    """Whether drop-frame counting is defined for this rate (29.97 and 59.94)."""
    return rate in (Fraction(30000, 1001), Fraction(60000, 1001))


def timecode(frames: int, rate: Fraction, drop: bool | None = None) -> str:
    """Label a frame count; it wraps after 24 hours, as time code does.

    ``drop`` defaults to drop-frame where the rate has it; ValueError if asked for where it has not.

    >>> timecode(1800, Fraction(30000, 1001)), timecode(17982, Fraction(30000, 1001))
    ('00:01:00;02', '00:10:00;00')
    """
    base = ceil(rate)       # frame numbers per second
    drop = drops(rate) if drop is None else drop
    if drop and not drops(rate):
        raise ValueError(f"Drop-frame time code exists for 29.97 and 59.94 frames a second only, not {float(rate):g}")
    if drop:
        skipped = base // 15                      # 2 numbers at 30, 4 at 60
        minute = base * 60 - skipped
        ten_minutes = minute * 10 + skipped
        frames %= ten_minutes * 6 * 24
        tens, rest = divmod(frames, ten_minutes)
        dropped_minutes = max(0, rest - skipped) // minute
        frames += skipped * (tens * 9 + dropped_minutes)
    seconds, frame = divmod(frames, base)
    minutes, second = divmod(seconds, 60)
    hours, minute_ = divmod(minutes, 60)
    digits = len(str(base - 1)) if base > 100 else 2
    return f"{hours % 24:02}:{minute_:02}:{second:02}{';' if drop else ':'}{frame:0{digits}}"


def frame_count(label: str, rate: Fraction) -> int:
    """Count the frames that a label stands for; ``;`` or ``.`` before the frames means drop-frame.

    Raises ValueError for a malformed label, a frame number beyond the rate, or a label that
    drop-frame counting skips.
    """
    match = _TIMECODE.match(label)
    if not match:
        raise ValueError(f"{label!r} is not time code; it looks like 01:00:00:00, or 01:00:00;00 for drop-frame")
    hours, minutes, seconds, frame = (int(match[i]) for i in (1, 2, 3, 5))
    base = ceil(rate)
    drop = match[4] != ":"
    if frame >= base:
        raise ValueError(f"{label!r} has frame {frame}, but there are only {base} in a second")
    if drop and not drops(rate):
        raise ValueError(f"{label!r} is drop-frame, which {float(rate):g} frames a second does not have")
    total = ((hours * 60 + minutes) * 60 + seconds) * base + frame
    if drop:
        skipped = base // 15
        if minutes % 10 and not seconds and frame < skipped:
            raise ValueError(f"{label!r} does not exist: drop-frame counting skips it")
        all_minutes = hours * 60 + minutes
        total -= skipped * (all_minutes - all_minutes // 10)
    return total


def first_frame(source: Source) -> int:
    """The time code frame count of a source's first picture; 0 where the camera recorded none that can be read."""
    try:
        return frame_count(source.timecode, source.frame_rate) if source.timecode else 0
    except ValueError:
        return 0


def frame_at(source: Source, pts: int) -> int:
    """The time code frame count at a timestamp of a source, at its nominal rate."""
    return first_frame(source) + round((pts - source.start_pts) * source.time_base * source.frame_rate)


def source_drops(source: Source) -> bool:
    """Whether a source's time code leaves frame numbers out: as the camera counts, else where its rate has that."""
    said = _TIMECODE.match(source.timecode or "")
    return drops(source.frame_rate) and (said is None or said[4] != ":")


def timecode_at(source: Source, pts: int) -> str | None:
    """The camera's own time code at a timestamp; None where it recorded none that can be read."""
    try:
        frame_count(source.timecode or "", source.frame_rate)
    except ValueError:
        return None
    return timecode(frame_at(source, pts), source.frame_rate, source_drops(source))

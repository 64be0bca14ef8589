"""The ranges of a source's numbers: wider than any camera's, narrow enough for everything that computes with them."""

from __future__ import annotations

from fractions import Fraction

from ..ranges import Range, Ranges

LONGEST = 30 * 24 * 3600
"""Seconds of the longest source."""

SOURCE: Ranges = {
    "size": Range(0, 2**60),
    "time_base": Range(Fraction(1, 10**10), 1000),
    "start_pts": Range(-2**60, 2**60),
    "duration_pts": Range(0, 2**60),
    "frame_rate": Range(Fraction(1, 3600), 10**6),
    "width": Range(0, 2**16),               # H.264 and HEVC go to some 16,000
    "height": Range(0, 2**16),
    "rotation": Range(-360, 360),
    "pixel_aspect": Range(Fraction(1, 100), 100),
    "duration": Range(0, LONGEST),          # seconds
}

"""The ranges of a profile's numbers: values outside would make the check meaningless. Common practice, no source."""

from __future__ import annotations

from ..ranges import Range

MOST = Range(0, 1_000_000)
"""Any setting: seconds, yards, weights, shares."""

SPREAD = Range(0.01, 100)
"""A standard deviation in yards; not 0, because distances are divided by it."""

SHARE = Range(0, 1)
VIEWER = {
    "line_error": SPREAD, "gain_error": Range(0, 100), "gain_error_per_yard": Range(0, 10),
    "gain_error_most": Range(0, 100),
    "gain_error_close": Range(0, 100), "short_yards": Range(0, 100), "spot_tolerance": Range(0, 100),
    "short_break": MOST, "long_break": MOST, "marker_least": MOST, "board_least": MOST,
}
"""The viewer's settings in yards and seconds; the others are shares."""


def range_of(where: str) -> Range:
    """The range of the setting that stands at *where*: ``file: [part] name``."""
    part, _, name = where.rpartition(" ")
    if part.endswith("[suggestions]"):
        return SHARE
    return VIEWER.get(name, SHARE) if part.endswith("[viewer]") else MOST


DEEPEST = 20
"""The longest chain of profiles that are based on one another."""

"""The viewer's certainty over the game, as shapes that a page of any form can draw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..coverage.finding import Belief, Finding, Severity


@dataclass(frozen=True)
class CertaintyPlot:
    """Coordinates run from (0, 0) at the lower left to ``width`` and ``height``. ``steps`` is the curve's corners,
    ``marks`` a place and severity per finding, ``periods`` where each begins, ``unsure`` the height of the line below
    which a viewer counts as unsure."""

    width: float
    height: float
    steps: list[tuple[float, float]]
    marks: list[tuple[float, Severity]]
    periods: list[tuple[float, int]]
    unsure: float


def certainty_plot(beliefs: Sequence[Belief], findings: Sequence[Finding], film_seconds: float, unsure_below: float,
                   width: float, height: float) -> CertaintyPlot:
    """Lay out the curve of the viewer's belief in the true down. It steps at each snap: nothing is known in between."""
    length = max(film_seconds, 1.0)

    def x(seconds: float) -> float:
        return width * min(seconds / length, 1.0)

    steps: list[tuple[float, float]] = []
    periods: list[tuple[float, int]] = []
    for belief in beliefs:
        at, level = x(belief.time), height * belief.sure
        if steps:
            steps.append((at, steps[-1][1]))
        steps.append((at, level))
        if not periods or periods[-1][1] != belief.period:
            periods.append((at, belief.period))
    if steps:
        steps.append((width, steps[-1][1]))
    return CertaintyPlot(width, height, steps, [(x(finding.time), finding.severity) for finding in findings],
                         periods, height * unsure_below)

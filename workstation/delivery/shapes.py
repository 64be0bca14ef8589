"""Plots as shapes, laid out once for every form: a page of HTML, paper, the desk's screen.

Coordinates run from the upper left, in whatever unit the width was given in. An ``ink`` is a role, not a colour:
``line`` for what only guides the eye, ``quiet``, ``text``, ``bad`` and ``curve``.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from ..coverage.camera_table import CameraRow
from ..coverage.finding import Belief, Finding, Severity
from ..football.speaking import spoken_period
from ..season.games_trend import VIEWER_KNEW, Trend, spoken_share

CAMERA_LEGEND = ("A stroke is a shot: as high as its worst is to the game's worst, so look where strokes stand out. A "
                 "triangle: the practice about it found fault there.")
Fit = Callable[[str, float, bool], str]      # words, the room for them, bold: as much of them as fits


class StraightLine(NamedTuple):
    """A straight line between two points."""

    x: float
    y: float
    to_x: float
    to_y: float
    ink: str = "line"
    is_broken: bool = False


class Curve(NamedTuple):
    """A smooth line through points."""

    points: Sequence[tuple[float, float]]


class Mark(NamedTuple):
    """The place of a finding; its tip points up at ``x``, ``y``."""

    x: float
    y: float
    severity: Severity


class Words(NamedTuple):
    """``y`` is the baseline."""

    x: float
    y: float
    text: str
    ink: str = "quiet"
    is_bold: bool = False
    ends_here: bool = False     # at ``x``, instead of beginning there


class Bar(NamedTuple):
    """A frame, filled from the left up to ``share`` (0 to 1)."""

    x: float
    y: float
    width: float
    height: float
    share: float


class Dot(NamedTuple):
    """A place; ``is_filled`` tells two sorts apart without colour."""

    x: float
    y: float
    radius: float
    is_filled: bool = True
    ink: str = "text"


Shape = StraightLine | Curve | Mark | Words | Bar | Dot


@dataclass(frozen=True)
class Plot:
    """``alt`` says in words what is to be seen."""

    width: float
    height: float
    shapes: list[Shape] = field(default_factory=list)
    alt: str = ""


def certainty_plot(beliefs: Sequence[Belief], findings: Sequence[Finding], film_seconds: float, unsure_below: float,
                   width: float, height: float, letter: float) -> Plot:
    """The viewer's belief in the true down over the film; ``letter`` is the height of the type. It steps at each snap:
    nothing is known in between. Marks below it are findings."""
    length, left, top = max(film_seconds, 1.0), 4 * letter, letter
    wide, tall = width - left - letter, height - 4.2 * letter
    base = top + tall

    def x(seconds: float) -> float:
        return left + wide * min(seconds / length, 1.0)

    shapes: list[Shape] = []
    for share in (0.0, 0.5, 1.0):
        y = base - tall * share
        shapes += [StraightLine(left, y, left + wide, y),
                   Words(left - letter / 2, y + letter / 3, f"{share:.0%}", ends_here=True)]
    unsure = base - tall * unsure_below
    shapes.append(StraightLine(left, unsure, left + wide, unsure, "bad", is_broken=True))
    points: list[tuple[float, float]] = []
    period = None
    for belief in beliefs:
        at, level = x(belief.time), base - tall * belief.sure
        if points:
            points.append((at, points[-1][1]))
        points.append((at, level))
        if period != belief.period:
            period = belief.period
            shapes += [StraightLine(at, top, at, base),
                       Words(at + letter / 4, base + 3 * letter, spoken_period(period))]
    if points:
        points.append((left + wide, points[-1][1]))
        shapes.append(Curve(points))
    shapes += [Mark(x(finding.time), base + letter / 2, finding.severity) for finding in findings]
    judged = [belief for belief in beliefs if belief.down is not None]
    sure = sum(belief.sure >= unsure_below for belief in judged)
    return Plot(width, height, shapes, f"How sure a viewer was of the down, over the film: at {sure} of {len(judged)} "
                                       f"snaps sure enough; {len(findings)} findings marked.")


def camera_plot(rows: Sequence[CameraRow], film_seconds: float, width: float, row: float, letter: float,
                fit: Fit) -> Plot:
    """One strip for each row of camera work, over the film: a stroke for each shot, as high as its worst is to the
    game's worst, and a triangle below where the practice found fault. ``row`` is the height of a strip."""
    length, left = max(film_seconds, 1.0), 13 * letter
    wide = width - left
    shapes: list[Shape] = []
    for number, each in enumerate(rows):
        base = (number + 1) * row - letter
        tall = row - 2 * letter
        shapes += [Words(0, base, fit(each.title, left - letter, True), "text", is_bold=True),
                   StraightLine(left, base, width, base)]
        values = [shot.worst for shot in each.shots]
        low, high = min(0.0, *values) if values else 0.0, max(values, default=0.0)
        if any(value < 0 for value in values):          # room around the action: less is worse
            low = min(values)
        for shot in each.shots:
            share = (shot.worst - low) / (high - low) if high > low else 0.0
            x = left + wide * min((shot.start + shot.end) / 2 / length, 1.0)
            shapes.append(StraightLine(x, base, x, base - tall * share, "bad" if shot.is_faulty else "text"))
            if shot.is_faulty:
                shapes.append(Mark(x, base + letter * 0.1, Severity.WARNING))
    faulty = "; ".join(f"{each.title}: worst {each.worst}, {each.faulty or 'no'} shot{'' if each.faulty == 1 else 's'} "
                       f"with a finding" for each in rows)
    return Plot(width, row * len(rows), shapes, f"The work of the camera, shot by shot. {faulty}.")


def trend_plot(trend: Trend, width: float, row: float, letter: float, fit: Fit, names: float | None = None) -> Plot:
    """One line for each practice, one column for each game: a bar as long as the share delivered, and its words.
    ``row`` is the height of a line, ``names`` the width of the first column."""
    first = min(0.35 * width, names or 17 * letter)
    wide = (width - first) / max(len(trend.games), 1)
    shapes: list[Shape] = [Words(first + column * wide, row * 0.65, fit(game, wide - letter, False))
                           for column, game in enumerate(trend.games)]
    for number, (name, cells) in enumerate(trend.rows, 1):
        top, is_first = number * row, name == VIEWER_KNEW
        shapes += [StraightLine(0, top, width, top),
                   Words(0, top + row * 0.6, fit(name, first - letter * 0.8, is_first), "text", is_bold=is_first)]
        for column, cell in enumerate(cells):
            x = first + column * wide
            words = f"{spoken_share(cell)}  {cell.words}"
            shapes.append(Words(x, top + row * 0.5, fit(words, wide - letter, False),
                                "quiet" if cell.share is None else "text"))
            if cell.share is not None:
                shapes.append(Bar(x, top + row * 0.7, wide - 1.3 * letter, row * 0.15, cell.share))
    return Plot(width, row * (len(trend.rows) + 1), shapes, trend.spoken())

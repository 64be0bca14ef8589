"""Pictures of a breakdown: bars of its rows, the field with the spots of its plays, a small multiple for each value."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

import numpy as np
import pandas as pd

from ..season.breakdown import Breakdown, Key, Share
from ..season.facts import RUN
from .shapes import Bar, Dot, Fit, Plot, Shape, StraightLine, Words

_LEAST_STEP = 3.0       # from dot to dot; where more plays were on one yard line, a dot stands for several
_RANGE = 0.28           # of a bar's height, the ends of its range above and below


def spoken_key(key: Key) -> str:
    """The values of a row or column in one line."""
    return ", ".join(key) if key else "all"


def bars_plot(made: Breakdown, width: float, row: float, letter: float, fit: Fit, most: int = 12) -> Plot:
    """For each row of the breakdown the shares of runs and of successes as bars, each with its range as a line through
    it; the first *most* rows. Rows with too few plays are quiet, and their bars are left out."""
    keys = made.row_keys[:most]
    names = 0.3 * width
    wide = (width - names) / 2
    shapes: list[Shape] = [Words(names, 0.65 * row, "run share"), Words(names + wide, 0.65 * row, "success")]
    for number, key in enumerate(keys, 1):
        cell, top = made.cell(key), number * row
        ink = "text" if cell.tells else "quiet"
        shapes += [StraightLine(0, top, width, top),
                   Words(0, top + 0.62 * row, fit(f"{spoken_key(key)}  ({cell.count})", names - letter, False), ink)]
        for place, share in enumerate((cell.run, cell.success)):
            shapes += _bar(names + place * wide, top + 0.3 * row, wide - 4.5 * letter, 0.4 * row, share, letter)
    return Plot(width, row * (len(keys) + 1), shapes, "; ".join(
        f"{spoken_key(key)}: {made.cell(key).spoken()}" for key in keys) or "no plays")


def _bar(x: float, y: float, width: float, height: float, share: Share, letter: float) -> list[Shape]:
    if share.value is None:
        return [Words(x, y + height, "–")]
    said = Words(x + width + letter / 2, y + height * 0.9, f"{share.value:.0%}", "text" if share.tells else "quiet")
    if not share.tells:
        return [Words(x, y + height * 0.9, "too few"), said]
    low, high = share.interval
    middle, ends = y + height * 1.35, height * _RANGE
    return [Bar(x, y, width, height, share.value),
            StraightLine(x + low * width, middle, x + high * width, middle, "quiet"),
            StraightLine(x + low * width, middle - ends, x + low * width, middle + ends, "quiet"),
            StraightLine(x + high * width, middle - ends, x + high * width, middle + ends, "quiet"), said]


def field_plot(plays: pd.DataFrame, width: float, height: float, letter: float) -> Plot:
    """The field from the offense's goal line (left) to the goal it attacks, a dot where each play was snapped, those on
    one yard line above each other: filled for a run, hollow for anything else. A dot stands for several plays where
    there are too many; the words say for how many."""
    ground = height - 1.6 * letter
    shapes: list[Shape] = []
    for yards in range(0, 101, 10):
        x = width * yards / 100
        shapes.append(StraightLine(x, 0, x, ground, is_broken=yards == 50))
        if 0 < yards < 100:
            shapes.append(Words(x - letter * 0.55, height - letter * 0.3, str(min(yards, 100 - yards))))
    shapes += [StraightLine(0, 0, width, 0), StraightLine(0, ground, width, ground)]
    spots = plays[["ball_on", "field_length", "run_pass_kick"]].dropna(subset=["ball_on"])
    yards_of = np.clip(np.rint(spots["ball_on"] * 100 / spots["field_length"]), 0, 100).astype(int)
    is_run = np.asarray(spots["run_pass_kick"] == RUN, dtype=bool)
    runs, others = (np.bincount(yards_of[chosen], minlength=101) for chosen in (is_run, ~is_run))
    highest = max(int((runs + others).max()), 1)
    each = max(ceil(highest * _LEAST_STEP / ground), 1)
    highest = ceil(highest / each) + (each > 1)
    radius = min(width / 230, ground / (2.2 * highest))
    step = min(2.2 * radius, ground / highest)
    for yards in range(101):
        filled = ceil(runs[yards] / each)
        dots = filled + ceil(others[yards] / each)
        shapes += [Dot(width * yards / 100, ground - radius - step * place, max(radius, 0.5), place < filled)
                   for place in range(dots)]
    return Plot(width, height, shapes, f"The field with {len(spots)} snaps: {runs.sum()} runs filled, "
                                       f"{others.sum()} others hollow; "
                                       + (f"a dot is up to {each} plays; " if each > 1 else "") + _where(runs + others))


def _where(snaps: np.ndarray) -> str:
    counts = [snaps[low:high].sum() for low, high in ((0, 20), (20, 50), (50, 80), (80, 101))]
    return ", ".join(f"{count} {where}" for count, where in zip(
        counts, ("inside the own 20", "in the own half", "in the other half", "inside the opponents' 20"),
        strict=True))


def multiples_plot(made: Breakdown, keys: Sequence[Key], width: float, letter: float, fit: Fit,
                   across: int = 3) -> Plot:
    """For each key (of a row, say) a small field with its snaps and its shares of runs and successes, to one scale."""
    gap = letter
    wide = (width - gap * (across - 1)) / across
    tall = 9.5 * letter
    shapes: list[Shape] = []
    for number, key in enumerate(keys):
        x, y = (number % across) * (wide + gap), (number // across) * (tall + gap)
        cell = made.cell(key)
        shapes.append(Words(x, y + letter, fit(f"{spoken_key(key)}  ({cell.count})", wide, True),
                            "text" if cell.tells else "quiet", is_bold=True))
        field = field_plot(made.plays(key), wide, 4.6 * letter, letter * 0.01)
        shapes += [_moved(shape, x, y + 1.6 * letter) for shape in field.shapes if not isinstance(shape, Words)]
        for place, (name, share) in enumerate((("run", cell.run), ("success", cell.success))):
            level = y + (6.6 + 1.4 * place) * letter
            shapes.append(Words(x, level + 0.8 * letter, name))
            shapes += _bar(x + 4.5 * letter, level, wide - 9.5 * letter, 0.75 * letter, share, letter)
    rows = ceil(len(keys) / across)
    return Plot(width, max(rows * (tall + gap) - gap, 0), shapes,
                "; ".join(f"{spoken_key(key)}: {made.cell(key).spoken()}" for key in keys) or "no plays")


def _moved(shape: Shape, x: float, y: float) -> Shape:
    if isinstance(shape, StraightLine):
        return shape._replace(x=shape.x + x, y=shape.y + y, to_x=shape.to_x + x, to_y=shape.to_y + y)
    assert isinstance(shape, Dot)
    return shape._replace(x=shape.x + x, y=shape.y + y)


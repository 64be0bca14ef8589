"""All measures that are a value over time, by name: for lanes, tables and files. A new one is a row here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from .series import Series

if TYPE_CHECKING:
    from .passage import Passage


@dataclass(frozen=True, slots=True)
class Measure:
    """``unit`` is said behind a value; ``scale`` is what the series is multiplied by to be said in it. ``low_is_bad``
    where trouble lies below, not above."""

    name: str
    unit: str
    series: Callable[[Passage], Series]
    scale: float = 1.0
    low_is_bad: bool = False

    def said(self, value: float | None) -> str:
        """A value with its unit; a dash where nothing was measured."""
        if value is None:
            return "–"
        shown = value * self.scale
        return f"{shown:.0f}{self.unit}" if abs(shown) >= 20 else f"{shown:.1f}{self.unit}"

    def typical(self, passage: Passage) -> float | None:
        """The median over a shot."""
        return self.series(passage).typical()

    def worst(self, passage: Passage) -> float | None:
        """What a twentieth of a shot is worse than."""
        return (_lowest if self.low_is_bad else Series.worst)(self.series(passage))


def _lowest(series: Series) -> float | None:
    turned = Series(series.times, -series.values).worst()
    return None if turned is None else -turned


def _sized(series: Series) -> Series:
    return Series(series.times, abs(series.values))


MEASURES: tuple[Measure, ...] = (
    Measure("shake", "‰ of the width", lambda passage: passage.shake),
    Measure("pan", " widths/s", lambda passage: passage.movement.pan),
    Measure("pan jerk", " widths/s³", lambda passage: passage.movement.jerk),
    Measure("pan to and fro", "% of the width", lambda passage: passage.movement.back, 100),
    Measure("zoom", "%/s", lambda passage: _sized(passage.movement.zoom), 100),
    Measure("roll", "°", lambda passage: _sized(passage.roll)),
    Measure("lean of the shot", "°", lambda passage: _sized(passage.lean)),
    Measure("softness", "‰ of the width", lambda passage: passage.softness),
    Measure("burnt out", "%", lambda passage: passage.burnt, 100),
    Measure("black", "%", lambda passage: passage.black, 100),
    Measure("light jumps", "%", lambda passage: passage.jumps, 100),
    Measure("flicker", "%", lambda passage: passage.flicker, 100),
    Measure("room around the action", "%", lambda passage: passage.room, 100, low_is_bad=True),
    Measure("spread of the action", "%", lambda passage: passage.spread, 100),
    Measure("sound cut off", "%", lambda passage: passage.clipping, 100),
    Measure("wind", " dB", lambda passage: passage.wind),
    Measure("voices near", " dB", lambda passage: passage.near_voices),
)

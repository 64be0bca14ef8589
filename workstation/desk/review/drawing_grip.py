"""A drawing that was taken in hand again: which of its points moves, and where it lies meanwhile."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import hypot

from ...tagging.model import Drawing, DrawingKind

_REACH = 0.05       # fractions of the picture within which the pointer takes a point


@dataclass(frozen=True, slots=True)
class Held:
    """``drawing`` as it lies now; ``point`` is the index of the point that moves, None while all of it does."""

    drawing: Drawing
    point: int | None = None

    @classmethod
    def of(cls, drawing: Drawing) -> Held:
        """As the keyboard takes it: an arrow by its tip, a circle by its rim, a line by hand as a whole."""
        return cls(drawing, len(drawing.points) - 1 if _grips(drawing) else None)

    @property
    def grips(self) -> tuple[tuple[float, float], ...]:
        """Where it can be taken by a point."""
        return tuple(self.drawing.points[point] for point in _grips(self.drawing))

    @property
    def at(self) -> tuple[float, float]:
        """Where the hand is."""
        return self.drawing.points[self.point if self.point is not None else 0]

    def taken_at(self, x: float, y: float) -> Held:
        """Taken by the point that lies at *x*, *y*, or else as a whole."""
        near = [(hypot(px - x, py - y), point) for point in _grips(self.drawing)
                for px, py in (self.drawing.points[point],)]
        distance, point = min(near, default=(1.0, None))
        return Held(self.drawing, point if distance <= _REACH else None)

    def moved(self, x: float, y: float) -> Held:
        """Moved by fractions of the picture, and never out of it."""
        points = list(self.drawing.points)
        moving = range(len(points)) if self.point is None else (self.point,)
        x = min(max(x, -min(points[n][0] for n in moving)), 1 - max(points[n][0] for n in moving))
        y = min(max(y, -min(points[n][1] for n in moving)), 1 - max(points[n][1] for n in moving))
        for n in moving:
            points[n] = (points[n][0] + x, points[n][1] + y)
        return Held(replace(self.drawing, points=tuple(points)), self.point)


def _grips(drawing: Drawing) -> tuple[int, ...]:
    """The points by which a drawing is changed; a circle's first is its centre, and to move that moves all."""
    last = len(drawing.points) - 1
    return {DrawingKind.ARROW: (0, last), DrawingKind.CIRCLE: (last,)}.get(drawing.kind, ()) if last > 0 else ()

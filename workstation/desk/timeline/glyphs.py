"""Small marks told apart by shape, so that no meaning rests on colour alone.

Every mark is a path in a unit square, drawn with the even-odd rule; :func:`glyph` scales it.
"""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainterPath, QPolygonF, QTransform

from ...tagging.model import MomentKind, ShotKind


def _polygon(*points: tuple[float, float]) -> QPainterPath:
    path = QPainterPath()
    path.addPolygon(QPolygonF([QPointF(*point) for point in points]))
    path.closeSubpath()
    return path


def _boxes(*boxes: tuple[float, float, float, float]) -> QPainterPath:
    path = QPainterPath()
    for box in boxes:
        path.addRect(QRectF(*box))
    return path


def _rings(*rings: tuple[float, float, float]) -> QPainterPath:
    path = QPainterPath()
    for x, y, radius in rings:
        path.addEllipse(QPointF(x, y), radius, radius)
    return path


def _shapes() -> dict[object, QPainterPath]:
    shapes: dict[object, QPainterPath] = {
        ShotKind.PLAY: _polygon((0.15, 0.05), (0.95, 0.5), (0.15, 0.95)),
        ShotKind.DOWN_MARKER: _boxes((0.25, 0.0, 0.5, 0.45), (0.45, 0.45, 0.12, 0.55)),     # the box on its stick
        ShotKind.SCOREBOARD: _boxes((0.0, 0.1, 1.0, 0.8), (0.12, 0.3, 0.3, 0.4), (0.58, 0.3, 0.3, 0.4)),
        ShotKind.MEASUREMENT: _boxes((0.05, 0.0, 0.14, 1.0), (0.81, 0.0, 0.14, 1.0), (0.19, 0.62, 0.62, 0.14)),
        ShotKind.PENALTY_SIGNAL: _polygon((0.1, 0.0), (0.95, 0.25), (0.25, 0.5), (0.25, 1.0), (0.1, 1.0)),  # a flag
        ShotKind.COIN_TOSS: _rings((0.5, 0.5, 0.48), (0.5, 0.5, 0.26)),
        ShotKind.HANDSHAKE: _rings((0.28, 0.5, 0.26), (0.72, 0.5, 0.26)),
        ShotKind.ALTERCATION: _polygon((0.0, 0.2), (0.35, 0.35), (0.5, 0.0), (0.65, 0.35), (1.0, 0.2), (0.8, 0.55),
                                       (1.0, 0.9), (0.6, 0.75), (0.5, 1.0), (0.4, 0.75), (0.0, 0.9), (0.2, 0.55)),
        ShotKind.INJURY: _polygon((0.34, 0.0), (0.66, 0.0), (0.66, 0.34), (1.0, 0.34), (1.0, 0.66), (0.66, 0.66),
                                  (0.66, 1.0), (0.34, 1.0), (0.34, 0.66), (0.0, 0.66), (0.0, 0.34), (0.34, 0.34)),
        ShotKind.EXTRA: _rings((0.5, 0.5, 0.2)),
        None: _boxes((0.1, 0.42, 0.8, 0.16)),
        "error": _polygon((0.5, 0.0), (1.0, 0.5), (0.5, 1.0), (0.0, 0.5)),
        "warning": _polygon((0.5, 0.04), (1.0, 0.96), (0.0, 0.96)),
        "note": _rings((0.5, 0.5, 0.42)),
        "text": _polygon((0.0, 0.1), (1.0, 0.1), (1.0, 0.75), (0.45, 0.75), (0.2, 1.0), (0.2, 0.75), (0.0, 0.75)),
        "drawing": _polygon((0.0, 1.0), (0.1, 0.65), (0.7, 0.0), (1.0, 0.3), (0.35, 0.9)),
        "remark": _polygon((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.5, 0.6), (0.0, 1.0)),            # a tag with a notch
        "praise": _polygon((0.5, 0.0), (0.63, 0.36), (1.0, 0.38), (0.71, 0.61), (0.81, 0.98), (0.5, 0.77), (0.19, 0.98),
                           (0.29, 0.61), (0.0, 0.38), (0.37, 0.36)),                             # a star
        "whistle": _polygon((0.0, 0.2), (1.0, 0.2), (0.5, 0.95)),
        MomentKind.FULL_WIDE: _boxes((0.0, 0.3, 0.14, 0.7), (0.86, 0.3, 0.14, 0.7), (0.14, 0.58, 0.72, 0.14)),
        MomentKind.SNAP: _polygon((0.0, 0.0), (1.0, 0.0), (0.5, 1.0)),
        MomentKind.DEAD_BALL: _boxes((0.1, 0.1, 0.8, 0.8)),
        MomentKind.SIGNAL: _polygon((0.1, 0.0), (0.95, 0.25), (0.25, 0.5), (0.25, 1.0), (0.1, 1.0)),
        MomentKind.CHAINS_SET: _boxes((0.42, 0.0, 0.16, 1.0)),
        MomentKind.RESULT_SHOWN: _boxes((0.05, 0.0, 0.14, 1.0), (0.81, 0.0, 0.14, 1.0), (0.19, 0.62, 0.62, 0.14)),
        MomentKind.CARE: _boxes((0.36, 0.0, 0.28, 1.0), (0.0, 0.36, 0.36, 0.28), (0.64, 0.36, 0.36, 0.28)),
        MomentKind.ANNOUNCEMENT: _polygon((0.0, 0.35), (0.4, 0.35), (1.0, 0.0), (1.0, 1.0), (0.4, 0.65), (0.0, 0.65)),
    }
    shapes[MomentKind.SNAP_NOT_ON_FILM] = _polygon((0.0, 0.5), (0.6, 0.0), (0.6, 0.35), (1.0, 0.35), (1.0, 0.65),
                                                   (0.6, 0.65), (0.6, 1.0))            # it lies before the shot
    shapes[MomentKind.CUT_WHILE_LIVE] = _polygon((1.0, 0.5), (0.4, 0.0), (0.4, 0.35), (0.0, 0.35), (0.0, 0.65),
                                                 (0.4, 0.65), (0.4, 1.0))              # it goes on after the shot
    shapes[MomentKind.BALL_LOST] = _rings((0.5, 0.5, 0.48), (0.5, 0.5, 0.26))
    shapes[MomentKind.NOT_ALL_IN_FRAME] = _boxes((0.0, 0.0, 0.4, 0.2), (0.0, 0.2, 0.2, 0.6), (0.0, 0.8, 0.4, 0.2))
    shapes[MomentKind.ZOOM_NOT_SETTLED] = _polygon((0.0, 0.5), (0.25, 0.2), (0.25, 0.8), (0.75, 0.8), (0.75, 0.2),
                                                   (1.0, 0.5))
    shapes[MomentKind.CONFRONTATION] = shapes[MomentKind.CONFRONTATION_OVER] = shapes[ShotKind.ALTERCATION]
    return shapes


@lru_cache(maxsize=256)
def glyph(name: object, size: int) -> QPainterPath:
    """The mark for a shot kind, moment kind, severity or other word, ``size`` pixels square."""
    return QTransform.fromScale(size, size).map(_shape(name))


@lru_cache(maxsize=64)
def _shape(name: object) -> QPainterPath:
    return _shapes()[name]

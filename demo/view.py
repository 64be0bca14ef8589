"""Where the press box stands, and how the ground falls onto the picture.

The world is in yards: x from the left goal line (0) to the right one (100), y from the near
sideline (0) to the far one (53.3), z up. Everything is projected onto one fixed picture plane
parallel to the sidelines; panning shifts the window on that plane and zooming scales it. So a
steady picture of the field can be painted once and cut out frame by frame.
"""

from __future__ import annotations

from dataclasses import dataclass

WIDTH, HEIGHT = 1280, 720       # the picture that plane units are made for
FIELD_WIDTH = 160 / 3           # yards between the sidelines
BACK = 40.0                     # yards from the near sideline back to the lens
UP = 18.0                       # yards from the ground up to the lens
FOCAL = 1868.0                  # plane units per yard at a depth of one yard; 28 a yard at midfield


def scale_at(y: float) -> float:
    """Plane units a yard at that distance from the near sideline."""
    return FOCAL / (y + BACK)


def plane(x: float, y: float, z: float = 0.0) -> tuple[float, float]:
    """Project a point of the world onto the picture plane (right, down)."""
    scale = FOCAL / (y + BACK)
    return (x - 50) * scale, (UP - z) * scale


@dataclass(frozen=True, slots=True)
class Aim:
    """Where the camera looks: centre of the window on the plane, and zoom (1 is a scrimmage full wide)."""

    right: float
    down: float
    zoom: float

    def pixel(self, x: float, y: float, z: float, quality: float) -> tuple[float, float]:
        """Picture coordinates of a point of the world; ``quality`` is picture width / :data:`WIDTH`."""
        right, down = plane(x, y, z)
        scale = self.zoom * quality
        return (right - self.right) * scale + WIDTH * quality / 2, (down - self.down) * scale + HEIGHT * quality / 2

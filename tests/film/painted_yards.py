"""Painted plays whose yards are known: the painted film as other cameras would have filmed it.

A camera may stand higher or lower, be turned and tilted as it pans (the painter only shifts its window), hang a little
to one side, have a lens that bends lines, blur, noise, and hard compression. What it does to a picture it does to the
two spots as well, so that the truth is known: how far the ball went along the field.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace

import av
import cv2
import numpy as np
from workstation.demo import painter as painting
from workstation.demo import view
from workstation.demo.film_it import picture_at
from workstation.demo.invented import script_of
from workstation.demo.painter import Painter
from workstation.demo.script import Scene
from workstation.demo.tracks import FPS

from workstation.film.finding.luma_grid import luma_grid
from workstation.film.finding.shot_evidence import field_mask
from workstation.tagging.model import MomentKind, ShotKind

ACROSS = 640
EVERY = 3               # pictures from one that is looked at to the next


@dataclass(frozen=True)
class Camera:
    """``up`` and ``back`` in yards (None: as painted); ``turns`` in degrees to a hundred yards; ``tilt``, ``roll`` in
    degrees; ``bends``: the first radial coefficient, of half the width; ``zooms``: how much closer at the end;
    ``blur`` in pixels of a picture 640 wide; ``noise`` in levels; ``quality`` of JPEG."""

    up: float | None = None
    back: float | None = None
    turns: float = 0.0
    tilt: float = 0.0
    roll: float = 0.0
    bends: float = 0.0
    zooms: float = 1.0
    blur: float = 0.0
    noise: float = 0.0
    quality: int = 95
    click: float = 0.7      # pixels by which a person misses the ball, root mean square in each direction

    @property
    def is_painted(self) -> bool:
        """Whether it does no more to a picture than the painter does."""
        return self == replace(Camera(), up=self.up, back=self.back, click=self.click)


def chance_camera(chance: np.random.Generator) -> Camera:
    """A camera as any crew may have it."""
    up = float(chance.choice([view.UP, 12.0, 15.0, 22.0, 28.0]))
    return Camera(up, view.BACK * float(chance.uniform(0.8, 1.3)), float(chance.uniform(0, 35)),
                  float(chance.uniform(-4, 4)), float(chance.normal(0, 1.0)), float(chance.normal(0, 0.025)),
                  float(np.exp(chance.uniform(-0.25, 0.35))), float(chance.choice([0, 0, 0.6, 1.0, 1.5])),
                  float(chance.choice([0, 2, 4, 8])), int(chance.choice([95, 70, 40, 25])))


@dataclass
class PaintedPlay:
    """``spots`` are pixels in a picture 640 wide as a person points at them, ``exact`` where they are, ``yards`` what
    lies between them, to the right; ``pictures`` are (seconds, luma 0 to 255, field)."""

    name: str
    spots: tuple[tuple[float, float], tuple[float, float]]
    exact: tuple[tuple[float, float], tuple[float, float]]
    yards: float
    pictures: list[tuple[float, np.ndarray, np.ndarray]]


@contextmanager
def _standing(camera: Camera) -> Iterator[None]:
    up, back = view.UP, view.BACK
    view.UP, view.BACK = camera.up or up, camera.back or back
    painting._WINDOWS.clear()
    try:
        yield
    finally:
        view.UP, view.BACK = up, back
        painting._WINDOWS.clear()


def _turned(camera: Camera, along: float, share: float) -> np.ndarray:
    """The homography over a picture 640 wide of the camera when it looks that many yards right of the middle."""
    if camera.is_painted:
        return np.eye(3)
    focal = 900.0
    turn, tilt, roll = np.radians([camera.turns * along / 100, camera.tilt, camera.roll])
    pan = np.array([[np.cos(turn), 0, np.sin(turn)], [0, 1, 0], [-np.sin(turn), 0, np.cos(turn)]])
    nod = np.array([[1, 0, 0], [0, np.cos(tilt), -np.sin(tilt)], [0, np.sin(tilt), np.cos(tilt)]])
    lean = np.array([[np.cos(roll), -np.sin(roll), 0], [np.sin(roll), np.cos(roll), 0], [0, 0, 1]])
    inner = np.array([[focal, 0, ACROSS / 2], [0, focal, ACROSS * 9 / 32], [0, 0, 1]])
    whole = inner @ lean @ nod @ pan @ np.linalg.inv(inner)
    middle = whole @ np.array([ACROSS / 2, ACROSS * 9 / 32, 1.0])
    grow = 1.12 * camera.zooms ** share
    back = np.array([[grow, 0, ACROSS / 2 * 1.0 - grow * middle[0] / middle[2]],
                     [0, grow, ACROSS * 9 / 32 - grow * middle[1] / middle[2]], [0, 0, 1]])
    return back @ whole


def _bent(camera: Camera, right: np.ndarray, down: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    x, y = (right - ACROSS / 2) / (ACROSS / 2), (down - ACROSS * 9 / 32) / (ACROSS / 2)
    more = 1 + camera.bends * (x * x + y * y)
    return ACROSS / 2 + x * more * ACROSS / 2, ACROSS * 9 / 32 + y * more * ACROSS / 2


def _unbent(camera: Camera, right: float, down: float) -> tuple[float, float]:
    """Where in the bent picture a spot of the straight one lies: the other way round, by trying closer and closer."""
    at = np.array([right, down], float)
    for _ in range(20):
        there = _bent(camera, at[:1], at[1:])
        at += np.array([right - there[0][0], down - there[1][0]])
    return float(at[0]), float(at[1])


def plays_of(seed: int) -> list[tuple[int, Scene]]:
    """The scenes of a game in which a ball is snapped and becomes dead, by number."""
    return [(number, scene) for number, scene in enumerate(script_of(seed).scenes) if scene.kind is ShotKind.PLAY
            and scene.at(MomentKind.SNAP) is not None and scene.at(MomentKind.DEAD_BALL) is not None]


def filmed(seed: int, number: int, camera: Camera, chance: np.random.Generator) -> PaintedPlay | None:
    """The play of a scene as a camera films it; None where one of the spots would not be in the picture."""
    scene = script_of(seed).scenes[number]
    with _standing(camera):
        painter = Painter(scene, number, 640, script_of(seed).heading)
        moments = [picture_at(scene.at(kind)) for kind in (MomentKind.SNAP, MomentKind.DEAD_BALL)]
        ball = painter.stage.ball
        spots, exact, along = [], [], []
        begin, end = moments

        def share(at: int) -> float:
            return (at - begin) / max(end - begin, 1)

        def matrix(at: int) -> np.ndarray:
            return _turned(camera, painter.aims[at].right / view.scale_at(26.7), share(at))

        for at in moments:
            x, y, _ = next((ball[before] for before in range(at, -1, -1) if not np.isnan(ball[before]).any()),
                           (np.nan,) * 3)
            spot = matrix(at) @ np.array([*painter.aim_of(at).pixel(x, y, 0, painter.quality), 1.0])
            right, down = _unbent(camera, spot[0] / spot[2], spot[1] / spot[2])
            if not (8 < right < ACROSS - 8 and 8 < down < ACROSS * 9 / 16 - 8):
                return None
            exact.append((right, down))
            spots.append((right + float(chance.normal(0, camera.click)), down + float(chance.normal(0, camera.click))))
            along.append(float(x))
        down, right = np.mgrid[0:360, 0:ACROSS].astype(np.float32) + np.float32(0.5)      # the middles of pixels
        bent = _bent(camera, right, down)
        pictures = []
        for at in sorted({*range(begin, end, EVERY), end}):
            image = painter.paint(at)
            pixels = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.width(), 4)[:, :, :3]
            pictures.append((at / FPS, *_seen(camera, pixels, matrix(at), bent, chance)))
    return PaintedPlay(f"game {seed}, scene {number}", (spots[0], spots[1]), (exact[0], exact[1]), along[1] - along[0],
                       pictures)


def _seen(camera: Camera, pixels: np.ndarray, matrix: np.ndarray, bent: tuple[np.ndarray, np.ndarray],
          chance: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    if not camera.is_painted:
        back = np.linalg.inv(matrix)
        weight = back[2, 0] * bent[0] + back[2, 1] * bent[1] + back[2, 2]
        right = (back[0, 0] * bent[0] + back[0, 1] * bent[1] + back[0, 2]) / weight
        down = (back[1, 0] * bent[0] + back[1, 1] * bent[1] + back[1, 2]) / weight
        pixels = cv2.remap(pixels, right.astype(np.float32) - 0.5, down.astype(np.float32) - 0.5, cv2.INTER_LINEAR)
    if camera.blur:
        pixels = cv2.GaussianBlur(pixels, (0, 0), camera.blur)
    if camera.noise:
        pixels = np.clip(pixels + chance.normal(0, camera.noise, pixels.shape), 0, 255).astype(np.uint8)
    if camera.quality < 95:
        pixels = cv2.imdecode(cv2.imencode(".jpg", pixels, [cv2.IMWRITE_JPEG_QUALITY, camera.quality])[1],
                              cv2.IMREAD_COLOR)
    frame = av.VideoFrame.from_ndarray(np.ascontiguousarray(pixels), format="bgr24").reformat(format="yuv420p")
    luma = luma_grid(frame, ACROSS)
    return luma, field_mask(frame, luma.shape)

"""A painted field filmed from up high, of known cuts: a film whose shots are as alike as a game's are.

Most shots are wide: the same field from the same tripod, so that two shots that follow each other may differ in the
places of 22 small players and a little in framing only. The camera holds, pans after the play and pulls out; now and
then it shows a marker or a board close up. Noise of a sensor lies over all of it, in some films lamps flicker or it
rains. Everything is drawn from the seed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from pathlib import Path

import av
import cv2
import numpy as np
from av.video.frame import PictureType

SIZE = (640, 360)
RATE = Fraction(30000, 1001)
_FIELD = (1320, 800)                    # of the painted ground, in its own units
#: name -> codec, options, file name. An adaptive encoder begins a group at what it takes for a cut; one of them a
#: picture too soon.
ENCODERS = {
    "adaptive": ("libx264", {"preset": "veryfast", "g": "250"}, "adaptive.mp4"),
    "fixed": ("libx264", {"preset": "veryfast", "g": "60", "bf": "2", "x264-params": "scenecut=0"}, "fixed.mp4"),
    "adaptive at a steady rate": ("libx264", {"preset": "veryfast", "g": "120", "b": "1500000"}, "steady.mp4"),
    "fixed at a steady rate": ("libx264", {"preset": "veryfast", "g": "30", "bf": "2", "b": "1500000",
                               "x264-params": "scenecut=0"}, "fixed_steady.mp4"),
    "keys a picture early": ("libx264", {"preset": "veryfast", "g": "250", "forced-idr": "1",
                             "x264-params": "scenecut=0"}, "early.mp4"),
    "adaptive HEVC": ("libx265", {"preset": "ultrafast", "g": "250", "x265-params": "log-level=none"}, "hevc.mp4"),
    "adaptive MPEG-4": ("mpeg4", {"g": "120", "b": "3000000", "bf": "2"}, "mpeg4.mp4"),
}


@dataclass(frozen=True)
class PaintedShot:
    """``kind`` is wide, marker or board; ``path`` has rows (picture, right, down, width) of what the camera looks at,
    in units of the ground; ``players`` seeds where they stand and run."""

    kind: str
    length: int
    path: tuple[tuple[float, float, float, float], ...]
    players: int
    snap: int


@dataclass(frozen=True)
class PaintedFilm:
    seed: int
    noise: float
    flicker: float
    rain: bool
    shots: tuple[PaintedShot, ...]

    @property
    def cuts(self) -> list[int]:
        """Numbers of the pictures that begin a shot, the first one left out."""
        return list(accumulate(shot.length for shot in self.shots))[:-1]


def painted_film(seed: int, count: int = 30) -> PaintedFilm:
    """Make up a film of ``count`` shots, 2 to 9 seconds each, one in eight a second or less."""
    chance = np.random.default_rng([seed, 18])
    shots: list[PaintedShot] = []
    ball = chance.uniform(400, 900)
    stood: tuple[float, float, float] | None = None
    for _ in range(count):
        kind = chance.choice(["wide", "marker", "board"], p=[0.76, 0.18, 0.06])
        length = int(chance.uniform(16, 30) if chance.random() < 0.125 else chance.uniform(60, 270))
        snap = int(chance.uniform(0.15, 0.5) * length)
        if kind != "wide":
            at = (chance.uniform(200, 1100), chance.uniform(120, 200), chance.uniform(90, 160))
            path = ((0, *at), (length, at[0] + chance.uniform(-8, 8), *at[1:]))
        else:
            ball = float(np.clip(ball + chance.normal(0, 60), 250, 1070))
            wide = chance.uniform(420, 640)
            first = stood if stood is not None and chance.random() < 0.4 else (
                ball + chance.normal(0, 15), 400 + chance.normal(0, 15), wide)
            # Nobody puts a camera back to the hair's breadth after touching its button.
            first = (first[0] + chance.normal(0, 0.6), first[1] + chance.normal(0, 0.6), first[2])
            rows, calm = [(0.0, *first)], 0
            if length > 90 and chance.random() < 0.3:       # opens tight and pulls out
                calm = int(chance.uniform(30, 60))
                rows = [(0.0, first[0], first[1], first[2] * chance.uniform(0.45, 0.7)), (float(calm), *first)]
            snap = max(snap, calm)
            if length - snap > 60:                          # follows the play
                rows.append((snap + 8.0, *first))
                first = (first[0] + chance.normal(0, 90), first[1] + chance.normal(0, 20),
                         first[2] * chance.uniform(0.8, 1.2))
                rows.append((length - chance.uniform(0, 25), *first))
            path, stood = tuple(rows), first
        shots.append(PaintedShot(str(kind), length, path, int(chance.integers(1 << 30)), snap))
    return PaintedFilm(seed, float(chance.uniform(0.5, 3.0)), float(chance.choice([0, 0, 2.5])),
                       bool(chance.random() < 0.2), tuple(shots))


def _ground(chance: np.random.Generator) -> np.ndarray:
    """The field from above with its stands, luma, in units of a quarter of a foot or so."""
    wide, tall = _FIELD
    ground = np.full((tall, wide), float(chance.uniform(70, 125)), np.float32)
    ground += cv2.resize(chance.normal(0, 5, (tall // 6, wide // 6)).astype(np.float32), (wide, tall))
    ground += chance.normal(0, 3, (tall, wide)).astype(np.float32)
    mown = float(chance.uniform(0, 7))
    ground[:, (np.arange(wide) // 50) % 2 == 0] += mown
    left, top, bottom = 110, 170, 640
    for yard in range(21):
        x = left + yard * 55
        ground[top:bottom, x:x + 2] = 205
    for x in range(left, left + 1100, 11):
        for y in (top + 4, top + 180, bottom - 190, bottom - 12):
            ground[y:y + 7, x:x + 1] = 200
    ground[top - 4:top, left:left + 1100] = ground[bottom:bottom + 4, left:left + 1100] = 210
    crowd = chance.normal(110, 35, (top // 5 - 6, wide // 5)).clip(20, 220).astype(np.float32)
    ground[:crowd.shape[0] * 5] = cv2.resize(crowd, (wide, crowd.shape[0] * 5), interpolation=cv2.INTER_NEAREST)
    return ground.clip(0, 255).astype(np.uint8)


def _pictures(film: PaintedFilm) -> Iterator[np.ndarray]:
    chance = np.random.default_rng([film.seed, 4])
    ground, at = _ground(chance), 0
    wide, tall = SIZE
    grain = [chance.normal(0, film.noise, (tall, wide)).astype(np.float32) for _ in range(16)]
    for shot in film.shots:
        own = np.random.default_rng(shot.players)
        lined = np.array([(own.normal(0, 6 if one < 14 else 55), own.normal(0, 75)) for one in range(22)])
        lined[:, 0] += np.where(np.arange(22) % 2, 8, -8)
        where = shot.path[-1][1] if shot.kind != "wide" else shot.path[min(1, len(shot.path) - 1)][1]
        lined += (where, 400)
        goes = own.normal(0, 1, (22, 2)) * 0.9 + (own.choice([-1, 1]) * 0.7, 0)
        jitter = own.uniform(0, 9, 22)
        rows, light = np.array(shot.path), float(own.normal(0, 2))
        shake = own.normal(0, 0.15, (shot.length + 1, 2)).cumsum(0) * 0.3
        for number in range(shot.length):
            right, down, width = (np.interp(number, rows[:, 0], column) for column in rows[:, 1:].T)
            right, down = right + shake[number, 0], down + shake[number, 1]
            scale = wide / width
            warp = np.array([[scale, 0, wide / 2 - scale * right], [0, scale * 0.9, tall / 2 - scale * 0.9 * down]])
            picture = cv2.warpAffine(ground, warp, SIZE, flags=cv2.INTER_AREA, borderMode=cv2.BORDER_REFLECT)
            ran = max(number - shot.snap, 0)
            for one in range(22):
                x, y = lined[one] + goes[one] * ran + (np.sin(number / 7 + jitter[one]) * 0.6, 0)
                x, y = warp @ (x, y, 1)
                tall_, wide_ = 9 * scale, 4 * scale
                colour = (225 if one % 2 else 30) + (one % 5) * 5
                cv2.ellipse(picture, (int(x * 8), int(y * 8)), (int(wide_ * 4), int(tall_ * 4)),
                            np.sin(number / 4 + one) * 12 if ran else 0, 0, 360, colour, -1, cv2.LINE_AA, 3)
            if shot.kind == "marker":
                cv2.rectangle(picture, (250, 60), (390, 330), 235 - 40 * (shot.players % 3), -1)
                cv2.putText(picture, str(shot.players % 4 + 1), (285, 230), cv2.FONT_HERSHEY_DUPLEX, 3.6, 15, 12)
            elif shot.kind == "board":
                cv2.rectangle(picture, (40, 40), (600, 320), 18, -1)
                cv2.putText(picture, f"{shot.players % 50:02} {shot.players % 12}:{number // 30 % 60:02}", (70, 210),
                            cv2.FONT_HERSHEY_DUPLEX, 3, 240, 8)
            if film.rain:
                for x, y in chance.integers(0, (wide, tall), (40, 2)):
                    cv2.line(picture, (int(x), int(y)), (int(x) - 2, int(y) + 9), 190, 1)
            picture = picture.astype(np.float32) + grain[chance.integers(16)] + light
            if film.flicker:
                picture += film.flicker * np.sin(at * 1.9)
            at += 1
            yield picture.clip(0, 255).astype(np.uint8)


def paint(film: PaintedFilm, encoder: str, folder: Path) -> Path:
    """Write the film as that encoder does and return its file."""
    return paint_all(film, [encoder], folder)[0]


def paint_all(film: PaintedFilm, encoders: list[str], folder: Path) -> list[Path]:
    """Write the film by several encoders from one painting; the files in order."""
    opened = []
    for encoder in encoders:
        codec, options, name = ENCODERS[encoder]
        out = av.open(str(folder / name), "w")
        stream = out.add_stream(codec, rate=RATE)
        (stream.width, stream.height), stream.pix_fmt, stream.options = SIZE, "yuv420p", options
        opened.append((out, stream))
    tint = np.full((SIZE[1] // 2, SIZE[0]), 120, np.uint8)
    for number, luma in enumerate(_pictures(film)):
        for encoder, (out, stream) in zip(encoders, opened, strict=True):
            frame = av.VideoFrame.from_ndarray(np.vstack([luma, tint]), format="yuv420p")
            frame.pts, frame.time_base = number, 1 / RATE
            if encoder == "keys a picture early" and number + 1 in film.cuts:
                frame.pict_type = PictureType.I
            out.mux(stream.encode(frame))
    for out, stream in opened:
        out.mux(stream.encode(None))
        out.close()
    return [folder / ENCODERS[encoder][2] for encoder in encoders]

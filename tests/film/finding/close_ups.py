"""Painted close-ups by seed: each of the kinds that the demo's painter films from near, with the camera, the light, the
teams' colours and where it happens by chance. A true kind is that of its scene; nothing else is expected of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import av
import numpy as np
from workstation.demo.figures import HOME_LOOK, VISITORS_LOOK
from workstation.demo.painter import Painter
from workstation.demo.script import Scene, scoreboard
from workstation.demo.view import HEIGHT, WIDTH, Aim

from workstation.film.film import Source
from workstation.film.probe import probe
from workstation.football.field import Team
from workstation.football.situation import Next, Situation
from workstation.tagging.model import Framing, MomentKind, ShotKind, Shows

RATE = 10                       # pictures a second: as many as are looked at
_COLOURS = ("#1d3f8f", "#8c1f2d", "#f1f0ea", "#22252b", "#d9b44a", "#5b2a86", "#0f6b5c", "#e8742a", "#9aa1ab")
KINDS = (ShotKind.DOWN_MARKER, ShotKind.SCOREBOARD, ShotKind.PENALTY_SIGNAL, ShotKind.MEASUREMENT, ShotKind.COIN_TOSS,
         ShotKind.HANDSHAKE)


def scene(kind: ShotKind, chance: np.random.Generator) -> Scene:
    """A scene of a kind, somewhere on the field, in some period, at some score."""
    down = int(chance.integers(1, 5))
    truth = Situation(next=Next.SCRIMMAGE, offense=Team.HOME if chance.random() < 0.5 else Team.VISITORS, down=down,
                      yards_to_gain=float(chance.integers(1, 11)), ball_on=float(chance.integers(15, 80)),
                      period=int(chance.integers(1, 5)), clock=int(chance.integers(0, 720)),
                      score_home=int(chance.integers(0, 45)), score_visitors=int(chance.integers(0, 45)))
    across = float(chance.uniform(18, 35))
    match kind:
        case ShotKind.SCOREBOARD:
            return scoreboard("board", truth)
        case ShotKind.DOWN_MARKER:
            return Scene("marker", kind, 3.5, truth, framing=Framing.CLOSE, shows=frozenset({Shows.DOWN}))
        case ShotKind.PENALTY_SIGNAL:
            return Scene("signal", kind, 5.0, truth, moments=((MomentKind.SIGNAL, 0.8),), framing=Framing.CLOSE,
                         ball_y=across)
        case ShotKind.MEASUREMENT:
            return Scene("measurement", kind, 12.0, replace(truth, yards_to_gain=0.3), framing=Framing.CLOSE,
                         ball_y=across)
        case ShotKind.COIN_TOSS:
            return Scene("toss", kind, 9.0, truth, moments=((MomentKind.SIGNAL, 5.5),), framing=Framing.CLOSE_TO_WIDE)
        case _:
            return Scene("handshake", kind, 6.0, truth, framing=Framing.CLOSE)


def film(kind: ShotKind, seed: int, to: Path, width: int = 640) -> Source:
    """Film a close-up of a kind into a file."""
    chance = np.random.default_rng((seed, list(ShotKind).index(kind)))
    with av.open(str(to), "w") as out:
        stream = out.add_stream("libx264", rate=Fraction(RATE))
        stream.width, stream.height, stream.pix_fmt = width, width * HEIGHT // WIDTH, "yuv420p"
        stream.options = {"preset": "veryfast", "crf": str(int(chance.integers(18, 30))), "g": "20"}
        for picture in _pictures(kind, chance, width):
            for packet in stream.encode(av.VideoFrame.from_ndarray(picture, format="rgb24").reformat(format="yuv420p")):
                out.mux(packet)
        for packet in stream.encode(None):
            out.mux(packet)
    return probe(to, "clip")


def _pictures(kind: ShotKind, chance: np.random.Generator, width: int) -> Iterator[np.ndarray]:
    painter = Painter(scene(kind, chance), int(chance.integers(1000)), width)
    home, visitors = chance.choice(len(_COLOURS), 2, replace=False)
    looks = {look: replace(look, jersey=_COLOURS[colour], sleeve=_COLOURS[colour], socks=_COLOURS[colour],
                               pants=_COLOURS[int(chance.integers(len(_COLOURS)))],
                               helmet=_COLOURS[int(chance.integers(len(_COLOURS)))])
             for look, colour in ((HOME_LOOK, home), (VISITORS_LOOK, visitors))}
    painter._figures = [replace(one, moves=replace(one.moves, look=looks.get(one.moves.look, one.moves.look)))
                        for one in painter._figures]
    nearer, right, down = chance.uniform(0.85, 1.15), chance.uniform(-40, 40), chance.uniform(-25, 25)
    painter.aims = [Aim(aim.right + right / aim.zoom, aim.down + down / aim.zoom, aim.zoom * nearer)
                    for aim in painter.aims]
    painter._backdrops = painter._plan()
    gamma, gain, noise = chance.uniform(0.75, 1.3), chance.uniform(0.8, 1.1), chance.uniform(0, 5)
    for number in range(0, len(painter), 3):
        image = painter.paint(number)
        seen = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine() // 4, 4)
        colours = seen[:, :image.width(), 2::-1].astype(np.float32)
        lit = 255 * gain * (colours / 255) ** gamma + chance.normal(0, noise, colours.shape)
        yield np.ascontiguousarray(lit.clip(0, 255).astype(np.uint8))

"""Yards from the picture: how often the stated error holds the truth, on the demo's plays as filmed and on plays
of other invented games as other cameras would have filmed them (:mod:`tests.film.painted_yards`), the ball pointed at
with an error of 0.7 pixels of 640 each way, and once more exactly. No threshold was set on these games. Takes some
three minutes of a processor: every play of the demo and as many others as PLAYS says, in pictures 640 wide.
Run: python -m tests.bench yards"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from workstation.demo.invented import script_of

from tests.film.painted_yards import Camera, chance_camera, filmed, plays_of
from workstation.film.yard_lines import APART, YardLines, find_yard_lines
from workstation.film.yards_between import Look, follow
from workstation.tagging.measured_gain import takes_gain

GAMES = (17, 23, 31, 44)
PLAYS = 20
SEED = 21
MIXED_UP = 2.5          # yards, half of what lies between two lines


@dataclass(frozen=True)
class Measured:
    """One play: how far off it was told, with which error (None: refused, and why), and the camera; ``exactly``: how
    far off with exact clicks. ``beyond``: a spot lies beyond the last line that was seen. ``has_gain``: its gain is
    one number, which the page of yards offers."""

    off: float | None
    exactly: float | None
    error: float
    why: str
    camera: Camera
    beyond: bool
    has_gain: bool


def measured(seed: int, number: int, camera: Camera, chance: np.random.Generator) -> Measured | None:
    play = filmed(seed, number, camera, chance)
    if play is None:
        return None
    begin = play.pictures[0][0]
    looks = [Look(seconds - begin, luma, find_yard_lines(luma, field)) for seconds, luma, field in play.pictures]
    told, exactly = follow(looks, *play.spots), follow(looks, *play.exact)
    beyond = any(_is_beyond(look.lines, spot) for look, spot in zip((looks[0], looks[-1]), play.exact, strict=True)
                 if look.lines is not None)
    scene = script_of(seed).scenes[number]
    return Measured(None if told.yards is None else told.yards - play.yards,
                    None if exactly.yards is None else exactly.yards - play.yards, told.error, told.why, camera, beyond,
                    scene.play is not None and takes_gain(scene.play))


def _is_beyond(lines: YardLines, spot: tuple[float, float]) -> bool:
    numbers = [line.number * APART for line in lines.lines]
    return not min(numbers) <= lines.yards(*spot) <= max(numbers)


def demo(chance: np.random.Generator) -> Iterator[Measured]:
    for number, _ in plays_of(0):
        one = measured(0, number, Camera(), chance)
        if one is not None:
            yield one


def other_games(chance: np.random.Generator) -> Iterator[Measured]:
    plays = [(seed, number) for seed in GAMES for number, _ in plays_of(seed)]
    done = 0
    for place in chance.permutation(len(plays)):
        one = measured(*plays[place], chance_camera(chance), chance)
        if one is not None:
            yield one
            done += 1
            if done == PLAYS:
                return


def line(name: str, plays: list[Measured]) -> str:
    told = [play for play in plays if play.off is not None]
    if not told:
        return f"{name:36}{len(plays):3} plays, all refused"
    off, error = np.array([abs(play.off or 0.0) for play in told]), np.array([play.error for play in told])
    exactly = np.array([abs(play.exactly or 0.0) for play in told])
    refused, mixed_up = len(plays) - len(told), int((off > MIXED_UP).sum())
    return (f"{name:36}{len(plays):3} plays,{refused:2} refused; within half a yard {shares(off <= 0.5)}, "
            f"clicked exactly {shares(exactly <= 0.5)}; stated error held {shares(off <= error)}, lines mixed up "
            f"{mixed_up}; median stated {np.median(error):.2f}, made {np.median(off):.2f}, clicked exactly "
            f"{np.median(exactly):.2f}, at most {off.max():.2f} and {exactly.max():.2f}")


def shares(held: np.ndarray) -> str:
    return f"{held.sum():2} of {len(held):2} ({held.mean():4.0%})"


def main() -> None:
    filmed_once = list(demo(np.random.default_rng(SEED)))
    print(line("the demo, as it is filmed", filmed_once))
    print(line("  whose gain is one number", [play for play in filmed_once if play.has_gain]))
    print(line("  a spot beyond the last line", [play for play in filmed_once if play.beyond]), flush=True)
    others = list(other_games(np.random.default_rng(SEED)))
    print(line("other games, other cameras", others), flush=True)
    parts: dict[str, Callable[[Camera], bool]] = {
        "  lens below 14 yards": lambda camera: (camera.up or 0) < 14,
        "  lens above 20 yards": lambda camera: (camera.up or 0) > 20,
        "  blurred by a pixel or more": lambda camera: camera.blur >= 1,
        "  noise of 4 levels or more": lambda camera: camera.noise >= 4,
        "  compressed hard": lambda camera: camera.quality <= 40,
        "  lens bends by 3 per cent or more": lambda camera: abs(camera.bends) >= 0.03,
        "  turned by 15 degrees or more": lambda camera: camera.turns >= 15,
        "  zooms by a tenth or more": lambda camera: abs(camera.zooms - 1) >= 0.1}
    for name, belongs in parts.items():
        print(line(name, [play for play in others if belongs(play.camera)]))
    print(line("  a spot beyond the last line", [play for play in others if play.beyond]))
    for why in sorted({play.why for play in others if play.why}):
        print(f"refused: {why} {sum(play.why == why for play in others)}")
    print(f"{time.process_time():.0f} s of a processor")


if __name__ == "__main__":
    main()

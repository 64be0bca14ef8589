"""Yards from the picture: how often the stated error holds the truth, on the demo's plays as filmed and on plays
of other invented games as other cameras would have filmed them (:mod:`tests.film.painted_yards`), the ball pointed at
with an error of 0.7 pixels of 640 each way. No threshold was set on these games. Takes some twenty minutes.
Run: python -m tests.bench yards"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from tests.film.painted_yards import Camera, chance_camera, filmed, plays_of
from workstation.film.yard_lines import find_yard_lines
from workstation.film.yards_between import Look, follow

GAMES = (17, 23, 31, 44)
PLAYS = 50
SEED = 21
MIXED_UP = 2.5          # yards, half of what lies between two lines


@dataclass(frozen=True)
class Measured:
    """One play: how far off it was told, with which error (None: refused, and why), and the camera."""

    off: float | None
    error: float
    why: str
    camera: Camera


def measured(seed: int, number: int, camera: Camera, chance: np.random.Generator) -> Measured | None:
    play = filmed(seed, number, camera, chance)
    if play is None:
        return None
    begin = play.pictures[0][0]
    told = follow((Look(seconds - begin, luma, find_yard_lines(luma, field)) for seconds, luma, field in play.pictures),
                  *play.spots)
    return Measured(None if told.yards is None else told.yards - play.yards, told.error, told.why, camera)


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
        return f"{name:34}{len(plays):4} plays, all refused"
    off, error = np.array([abs(play.off or 0.0) for play in told]), np.array([play.error for play in told])
    return (f"{name:34}{len(plays):4} plays,{len(plays) - len(told):3} refused; held {(off <= error).sum():3} of "
            f"{len(told):3} ({(off <= error).mean():.0%}), within half a yard {(off <= 0.5).mean():4.0%}, lines mixed "
            f"up {(off > MIXED_UP).sum()}; median error stated {np.median(error):.2f}, made {np.median(off):.2f}")


def main() -> None:
    print(line("the demo, as it is filmed", list(demo(np.random.default_rng(SEED)))), flush=True)
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
    for why in sorted({play.why for play in others if play.why}):
        print(f"refused: {why} {sum(play.why == why for play in others)}")


if __name__ == "__main__":
    main()

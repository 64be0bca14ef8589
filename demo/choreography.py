"""Who goes where: turns a scene of the script into people, a ball and chains that move.

Formations and timings are plausible, not prescribed by anything; only where and when a play
starts, ends and is whistled dead comes from the script.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field

import numpy as np

from ..football.field import Team
from ..football.plays import Outcome, Play, PlayKind
from ..tagging.model import MomentKind, ShotKind
from .figures import COACH_LOOK, CREW_LOOK, HOME_LOOK, OFFICIAL_LOOK, REFEREE_LOOK, VISITORS_LOOK, FigureLook
from .script import Scene
from .tracks import FPS, Moves, Track, moves, smooth
from .view import FIELD_WIDTH

AWAY, TOWARDS, RIGHT, LEFT = math.pi / 2, -math.pi / 2, 0.0, math.pi
_LOOKS = {Team.HOME: HOME_LOOK, Team.VISITORS: VISITORS_LOOK}
_CHAIN_Y = FIELD_WIDTH + 1.6    # where the chain crew stands, across the field from the press box


@dataclass
class Ball:
    """The ball's way: either in somebody's hands, lying, or in the air."""

    spans: list[tuple] = field(default_factory=list)

    def held(self, start: float, track: Track, up: float = 1.1) -> None:
        """From `start` (seconds) on the ball is with the player, `up` metres above the ground."""
        self.spans.append((start, "held", track, up))

    def lies(self, start: float, x: float, y: float) -> None:
        """From `start` (seconds) on the ball lies at this place on the field."""
        self.spans.append((start, "lies", x, y))

    def flies(self, start: float, end: float, a: tuple[float, float, float], b: tuple[float, float, float],
              rise: float) -> None:
        """From ``a`` to ``b``; ``rise`` is how far above the straight line between them, in yards."""
        self.spans.append((start, "flies", end, a, b, rise))


@dataclass(frozen=True)
class Chains:
    """Where the line-to-gain rods stand and what the down box says; all None between series."""

    start: float | None = None
    line_to_gain: float | None = None
    box: float | None = None
    down: int | None = None


@dataclass
class Thrown:
    """A flag on its way to the ground: leaves ``start`` at ``time``, lies at ``end``."""

    time: float
    start: tuple[float, float]
    end: tuple[float, float]


@dataclass
class Stage:
    """Everything that moves in one scene, one value for each picture."""

    people: list[Moves]
    ball: np.ndarray                # pictures x (x, y, z); nan where nobody sees it
    spin: np.ndarray                # heading of the ball's long axis in the picture
    chains: Chains
    flags: list[Thrown]
    rods: list[tuple[Moves, str]]   # people who hold a pole, and what is on it: "rod" or "box"
    coin: np.ndarray | None = None
    follow: np.ndarray | None = None  # pictures x (x, y): what the camera follows


class _Set:
    """The people of one scene while it is being worked out."""

    def __init__(self, scene: Scene, seed: int):
        self.scene = scene
        self.random = random.Random(seed)
        self.pictures = round(scene.seconds * FPS)
        self.tracks: dict[str, Track] = {}
        self.ball = Ball()
        self.flags: list[Thrown] = []
        self.poles: list[tuple[str, str]] = []
        truth = scene.truth
        self.ahead = 1 if scene.offense_faces_right else -1
        self.offense = truth.offense or Team.HOME
        self.x = self.goal(truth.ball_on) if truth.ball_on is not None else 50.0
        self.y = scene.ball_y
        self.snap = scene.at(MomentKind.SNAP) or 0.0
        self.dead = scene.at(MomentKind.DEAD_BALL) or scene.seconds
        self.face = RIGHT if self.ahead > 0 else LEFT
        self.back = LEFT if self.ahead > 0 else RIGHT

    def goal(self, spot: float) -> float:
        """World x of a spot told for the offense."""
        return spot if self.ahead > 0 else 100 - spot

    def put(self, key: str, look: FigureLook, number: str, x: float, y: float, faces: float,
            from_time: float = 0.0) -> Track:
        self.tracks[key] = track = Track(look, number, faces, [(from_time, x, y)])
        return track

    def jitter(self, much: float) -> float:
        return self.random.uniform(-much, much)

    def nearest(self, keys: list[str], x: float, y: float) -> list[str]:
        return sorted(keys, key=lambda key: math.hypot(self.tracks[key].place[0] - x, self.tracks[key].place[1] - y))


def _inside(y: float) -> float:
    return min(max(y, 1.5), FIELD_WIDTH - 1.5)


def stage(scene: Scene, seed: int) -> Stage:
    """Work out who goes where in a scene. The same seed gives the same film."""
    work = _Set(scene, seed)
    play = scene.play
    coin = None
    match scene.kind:
        case ShotKind.COIN_TOSS:
            coin = _coin_toss(work)
        case ShotKind.HANDSHAKE:
            _handshake(work)
        case ShotKind.MEASUREMENT:
            _measurement(work)
        case ShotKind.PENALTY_SIGNAL:
            _signal(work)
        case ShotKind.INJURY:
            _helped_off(work)
        case ShotKind.DOWN_MARKER:
            _between_plays(work)
        case ShotKind.SCOREBOARD:
            pass
        case _:
            _PLAYS[play.kind](work, play)
            _officials(work)
    chains = _chain_crew(work)
    return _finish(work, chains, coin)


# -- formations ------------------------------------------------------------------------------------------------------

_OFFENSE = {  # yards ahead of the ball, yards to the left (away), number, pose when set
    "center": (-0.45, 0.0, "55", "center"), "left guard": (-0.9, 1.4, "66", "stance"),
    "right guard": (-0.9, -1.4, "63", "stance"), "left tackle": (-1.1, 2.8, "74", "stance"),
    "right tackle": (-1.1, -2.8, "71", "stance"), "tight end": (-1.0, -4.3, "85", "stance"),
    "quarterback": (-5.0, 0.0, "12", "ready"), "runner": (-5.2, 1.9, "24", "ready"),
    "wide left": (-0.8, 17.0, "80", "ready"), "wide right": (-0.8, -16.0, "11", "ready"),
    "slot": (-1.8, 9.0, "3", "ready"),
}
_DEFENSE = {
    "end left": (1.0, 3.9, "91", "stance"), "tackle left": (0.9, 1.1, "72", "stance"),
    "tackle right": (0.9, -1.5, "77", "stance"), "end right": (1.0, -4.6, "90", "stance"),
    "backer left": (4.6, 4.4, "44", "ready"), "backer middle": (4.9, 0.2, "52", "ready"),
    "backer right": (4.5, -4.2, "47", "ready"), "corner left": (6.5, 16.6, "5", "ready"),
    "corner right": (6.5, -15.6, "21", "ready"), "safety left": (11.5, 7.5, "33", "ready"),
    "safety right": (12.5, -6.5, "20", "ready"),
}
_PUNT = {
    "center": (-0.45, 0.0, "55", "center"), "left guard": (-0.9, 1.5, "66", "ready"),
    "right guard": (-0.9, -1.5, "63", "ready"), "left tackle": (-1.1, 3.0, "74", "ready"),
    "right tackle": (-1.1, -3.0, "71", "ready"), "wing left": (-1.9, 4.6, "85", "ready"),
    "wing right": (-1.9, -4.6, "44", "ready"), "shield": (-6.5, 1.2, "33", "ready"),
    "punter": (-13.5, 0.0, "8", "stand"), "wide left": (-0.8, 17.0, "80", "ready"),
    "wide right": (-0.8, -16.0, "11", "ready"),
}
_PUNT_RETURN = {
    "end left": (1.0, 4.0, "91", "stance"), "tackle left": (0.9, 1.1, "72", "stance"),
    "tackle right": (0.9, -1.5, "77", "stance"), "end right": (1.0, -4.0, "90", "stance"),
    "backer left": (4.6, 4.4, "45", "ready"), "backer middle": (5.4, 0.2, "52", "ready"),
    "backer right": (4.5, -4.2, "47", "ready"), "corner left": (2.0, 16.6, "5", "ready"),
    "corner right": (2.0, -15.6, "21", "ready"), "safety left": (15.0, 5.0, "33", "ready"),
    "returner": (38.0, 0.0, "20", "ready"),
}
_KICK = {
    "center": (-0.45, 0.0, "55", "center"), "left guard": (-0.7, 1.1, "66", "stance"),
    "right guard": (-0.7, -1.1, "63", "stance"), "left tackle": (-0.7, 2.2, "74", "stance"),
    "right tackle": (-0.7, -2.2, "71", "stance"), "tight end": (-0.8, -3.3, "85", "stance"),
    "end": (-0.8, 3.3, "82", "stance"), "wing left": (-1.7, 4.3, "40", "ready"),
    "wing right": (-1.7, -4.3, "44", "ready"), "holder": (-7.0, 0.0, "12", "knee"),
    "kicker": (-9.6, 2.0, "8", "stand"),
}
_KICK_BLOCK = {
    "end left": (0.9, 3.6, "91", "stance"), "tackle left": (0.8, 1.0, "72", "stance"),
    "tackle right": (0.8, -1.0, "77", "stance"), "end right": (0.9, -3.6, "90", "stance"),
    "guard left": (0.8, 2.2, "60", "stance"), "guard right": (0.8, -2.2, "64", "stance"),
    "corner left": (1.0, 5.6, "5", "ready"), "corner right": (1.0, -5.6, "21", "ready"),
    "backer left": (3.6, 2.5, "45", "ready"), "backer right": (3.6, -2.5, "47", "ready"),
    "safety left": (7.0, 0.0, "33", "ready"),
}


def _line_up(work: _Set, offense: dict, defense: dict, set_by: float | None = None) -> None:
    """Bring both teams from about their places to their places, and set them still until the snap."""
    moment = work.scene.at(MomentKind.FULL_WIDE) or 0.6
    set_by = set_by or max(min(moment + 1.3, work.snap - 1.1), 0.3)
    opened = work.scene.opens_on is not None
    for side, formation, ahead in ((work.offense, offense, 1), (work.offense.opponents, defense, -1)):
        look = _LOOKS[side]
        faces = work.face if ahead > 0 else work.back
        for key, (forward, left, number, pose) in formation.items():
            x = work.x + work.ahead * forward
            y = work.y + left
            if abs(left) > 12:      # the wide ones keep inside the field
                y = min(max(y, 4.0), FIELD_WIDTH - 4.0)
            elif not 1.5 < y < FIELD_WIDTH - 1.5:
                y = _inside(y)
            settled = 0.45 if opened or abs(left) > 12 else 1.0
            start_x = x - work.ahead * ahead * (1.6 + abs(work.jitter(2.2))) * settled
            start_y = work.y + (y - work.y) * (0.86 if abs(left) < 12 else 0.97) + work.jitter(1.2) * settled
            track = work.put(key, look, number, start_x, start_y, faces)
            arrive = set_by + work.jitter(0.35)
            track.to(arrive, x, y)
            track.do(arrive + 0.15, pose)
            track.wait(work.snap + abs(work.jitter(0.08))).do(work.snap + 0.05 + abs(work.jitter(0.06)), None)
            if pose == "ready":
                track.still = "ready"
    work.ball.lies(0.0, work.x, work.y)


def _keys(work: _Set, formation: dict) -> list[str]:
    return [key for key in formation if key in work.tracks]


def _release(work: _Set, keys: list[str]) -> None:
    """After the play people straighten up and stroll."""
    for key in keys:
        track = work.tracks[key]
        start = max(track.way[-1][0], work.dead) + 0.5 + abs(work.jitter(0.7))
        x, y = track.place
        track.wait(start).do(start, None)
        track.still = work.random.choice(("stand", "stand", "hips"))
        own = -work.ahead if key in _OFFENSE_KEYS else work.ahead
        track.to(start + 3.2, x + own * work.random.uniform(0.6, 3.4), _inside(y + work.jitter(2.0)))


_OFFENSE_KEYS = set(_OFFENSE) | set(_PUNT) | set(_KICK) | {"kicker"} | {f"cover {n}" for n in range(12)}


def _tackle(work: _Set, carrier: str, hunters: list[str], x: float, y: float, first: int = 3) -> None:
    """The carrier goes down at a spot at the dead ball; the nearest hunters go with him, the rest pull up."""
    contact = work.dead - 0.55
    bearer = work.tracks[carrier]
    bearer.do(work.dead - 0.3, "tackle").do(work.dead - 0.08, "down")
    bearer.to(work.dead, x, y)
    bearer.locked.append((work.dead - 0.3, math.inf, work.face if x >= bearer.way[-2][1] else work.back))
    bearer.wait(work.dead + 1.5).do(work.dead + 1.5, "knee").do(work.dead + 2.2, None)
    for place, key in enumerate(work.nearest(hunters, x, y)):
        track = work.tracks[key]
        if place < first:
            angle = 2.1 * place + work.jitter(0.5)
            reach = 0.75 + 0.15 * place
            end_x, end_y = x + math.cos(angle) * reach, y + math.sin(angle) * reach
            track.towards(contact + 0.12 * place, end_x, end_y, 8.2)
            track.do(contact + 0.05 + 0.1 * place, "tackle")
            track.towards(work.dead, x + math.cos(angle) * reach * 0.6, y + math.sin(angle) * reach * 0.6, 3)
            if place == 0:
                track.do(work.dead - 0.05, "down").do(work.dead + 1.1, "knee")
            track.wait(work.dead + 1.0 + 0.3 * place).do(work.dead + 1.4 + 0.3 * place, None)
        else:
            track.towards(work.dead + 0.3, x, y, work.random.uniform(4.6, 6.4), short=work.random.uniform(1.6, 4.5))


# -- plays -----------------------------------------------------------------------------------------------------------

def _trenches(work: _Set, passing: bool) -> None:
    """Both lines meet."""
    pairs = (("left tackle", "end left"), ("left guard", "tackle left"), ("right guard", "tackle right"),
             ("right tackle", "end right"))
    push = -2.2 if passing else 1.3
    last = work.dead - 0.4
    for blocker, rusher in pairs:
        offensive, defensive = work.tracks[blocker], work.tracks[rusher]
        _x, y = offensive.place
        meet = work.x + work.ahead * (push * 0.25 - 0.1)
        end = work.x + work.ahead * (push + work.jitter(0.6))
        drift = work.jitter(0.9)
        offensive.to(work.snap + 0.45, meet - work.ahead * 0.35, y).to(last, end - work.ahead * 0.4, y + drift)
        defensive.to(work.snap + 0.45, meet + work.ahead * 0.45, y).to(last, end + work.ahead * 0.45, y + drift)
        for track, face in ((offensive, work.face), (defensive, work.back)):
            track.do(work.snap + 0.2, "block", 0.7).do(last, None)
            track.locked.append((work.snap, last, face))
    center = work.tracks["center"]
    center.to(work.snap + 0.5, work.x + work.ahead * push * 0.2, work.y)
    center.to(last, work.x + work.ahead * push * 0.8, work.y + work.jitter(0.5))
    center.do(work.snap + 0.2, "block", 0.7).do(last, None)
    center.locked.append((work.snap, last, work.face))


def _snap_to(work: _Set, key: str, takes: float) -> None:
    x, y = work.tracks[key].place
    work.ball.flies(work.snap, work.snap + takes, (work.x, work.y, 0.3), (x, y, 1.1), 0.15)
    work.ball.held(work.snap + takes, work.tracks[key])


def _run(work: _Set, play: Play) -> None:
    _line_up(work, _OFFENSE, _DEFENSE)
    _trenches(work, passing=False)
    x, y = work.goal(work.scene.truth.ball_on + play.gain), work.scene.to_y
    _snap_to(work, "quarterback", 0.4)
    passer, runner = work.tracks["quarterback"], work.tracks["runner"]
    mesh = work.snap + 0.85
    passer.to(mesh, work.x - work.ahead * 4.4, work.y + 0.6)
    runner.to(mesh, work.x - work.ahead * 4.5, work.y + 1.1)
    work.ball.held(mesh, runner)
    runner.carries.append((mesh, work.dead))
    side = 1 if y > work.y else -1
    runner.to(mesh + 0.7, work.x - work.ahead * 1.9, work.y + (y - work.y) * 0.45 + side * 0.3)
    if play.gain > 0:
        runner.to(mesh + 1.2, work.x + work.ahead * 0.6, work.y + (y - work.y) * 0.75)
    runner.to(work.dead - 0.5, x - work.ahead * 0.7, y)
    passer.to(work.dead, work.x - work.ahead * 6.5, work.y - side * 2.0)
    for key, forward in (("wide left", 6), ("wide right", 6), ("slot", 5), ("tight end", 2.5)):
        track = work.tracks[key]
        track.towards(work.dead - 0.2, work.x + work.ahead * forward, track.place[1] + work.jitter(2), 4.5)
    defense = _keys(work, _DEFENSE)
    for key in ("corner left", "corner right", "safety left", "safety right"):
        track = work.tracks[key]
        track.towards(work.snap + 1.4, track.place[0] - work.ahead * 1.0, track.place[1], 2)
    backers = ["backer left", "backer middle", "backer right"]
    _tackle(work, "runner", backers + [key for key in defense if "safety" in key or "corner" in key], x, y)
    _gang_foul(work, play)
    _release(work, list(work.tracks))


def _gang_foul(work: _Set, play: Play) -> None:
    """A flag for each foul, thrown to where it happened."""
    for foul in play.fouls:
        when = work.dead - 1.3
        if foul.name == "roughing the passer":
            where, when = work.tracks["quarterback"].place, work.dead - 0.2
        else:
            where = work.goal(foul.spot if foul.spot is not None else work.scene.truth.ball_on), work.y + 1.5
        self_x, self_y = work.x - work.ahead * 9, work.y + 6
        work.flags.append(Thrown(when, (self_x, self_y), (where[0] - work.ahead * 1.2, where[1] + 0.8)))


def _pass(work: _Set, play: Play) -> None:
    _line_up(work, _OFFENSE, _DEFENSE)
    _trenches(work, passing=True)
    scene = work.scene
    complete = play.outcome is Outcome.COMPLETE
    catch_x = work.goal(scene.truth.ball_on + scene.catch)
    end_x = work.goal(scene.truth.ball_on + play.gain) if complete else catch_x
    score = complete and scene.truth.ball_on + play.gain >= 100
    if score:
        end_x = work.goal(104)
    after = abs(end_x - catch_x) / 6.2 + 0.75 if complete else 0.55
    caught = work.dead - after
    passer_x = work.x - work.ahead * 7.0
    distance = math.hypot(catch_x - passer_x, scene.to_y - work.y)
    thrown = max(caught - (0.25 + distance / 22), work.snap + 0.9)

    _snap_to(work, "quarterback", 0.4)
    passer = work.tracks["quarterback"]
    passer.do(work.snap + 0.4, "hold ball")
    passer.to(min(work.snap + 1.2, thrown - 0.2), passer_x, work.y)
    passer.locked.append((work.snap, work.dead, work.face))
    passer.wait(thrown).do(thrown - 0.32, "throw", 0.5).do(thrown + 0.35, None)

    keys = {"left": "wide left", "right": "wide right"}
    wide = keys["left" if scene.to_y > work.y else "right"]
    target = "runner" if scene.catch < 3 else "slot" if wide == "wide left" and scene.catch > 30 else wide
    if abs(work.tracks[target].place[1] - scene.to_y) > 14 and scene.catch < 15:
        target = "tight end" if scene.to_y < work.y else "slot"
    receiver = work.tracks[target]
    start_x, start_y = receiver.place
    receiver.to(work.snap + 0.55 * (caught - work.snap), start_x + (catch_x - start_x) * 0.58,
                start_y + (scene.to_y - start_y) * 0.25)
    receiver.to(caught, catch_x, scene.to_y)
    receiver.do(caught - 0.3, "reach").do(caught + 0.12, None)
    up = 2.1 if complete else 2.6
    work.ball.flies(thrown, caught, (passer_x, work.y, 2.0), (catch_x, scene.to_y, up), distance * 0.11)
    defense = _keys(work, _DEFENSE)
    hunters = [key for key in defense if "end" not in key and "tackle" not in key]
    cover = work.nearest(hunters, (start_x + catch_x) / 2, (start_y + scene.to_y) / 2)[0]
    cover_track = work.tracks[cover]
    cover_track.towards(caught + 0.1, catch_x - work.ahead * 1.6, scene.to_y + 0.9, 8.6, short=0.4)

    for key in ("wide left", "wide right", "slot", "tight end"):
        if key != target:
            track = work.tracks[key]
            track.towards(work.dead, work.x + work.ahead * work.random.uniform(7, 16), _inside(
                track.place[1] + work.jitter(5)), 5.6)
    if target != "runner":
        guard = work.tracks["runner"]
        guard.to(work.snap + 0.9, work.x - work.ahead * 4.2, work.y + 1.6).do(work.snap + 0.9, "ready")
        guard.do(work.dead, None)
    for key in hunters:
        if key != cover:
            track = work.tracks[key]
            track.towards(thrown, track.place[0] + work.ahead * 3.5, track.place[1], 3.2)

    if complete:
        work.ball.held(caught, receiver)
        receiver.carries.append((caught, work.dead + 3))
        if score:
            receiver.to(work.dead, end_x, scene.to_y - 1).to(work.dead + 1.2, end_x + work.ahead * 3, scene.to_y)
            receiver.do(work.dead + 1.3, "score")
            for key in hunters:
                track = work.tracks[key]
                track.towards(work.dead, end_x - work.ahead * work.random.uniform(2.5, 9),
                              scene.to_y + work.jitter(7), 5.5)
            for place, key in enumerate(("slot", "tight end", "wide left", "wide right", "runner", "left guard")):
                if key != target:
                    angle = place * 1.05
                    track = work.tracks[key]
                    track.towards(work.dead + 3.4, end_x + work.ahead * 3 + 1.3 * math.cos(angle),
                                  scene.to_y + 1.3 * math.sin(angle), 6.6).do(work.dead + 3.3, "score")
        else:
            _tackle(work, target, hunters, end_x, scene.to_y + (1.2 if scene.catch > 3 else 0), first=2)
    else:
        fall = (catch_x + work.ahead * 2.2, _inside(scene.to_y + 1.0))
        work.ball.flies(caught, work.dead, (catch_x, scene.to_y, up), (*fall, 0.1), 0.3)
        work.ball.lies(work.dead, *fall)
        receiver.to(work.dead + 0.2, catch_x + work.ahead * 2.5, scene.to_y)
        cover_track.towards(work.dead + 0.3, catch_x + work.ahead, scene.to_y + 1, 5)
    if any(foul.name == "roughing the passer" for foul in play.fouls):
        rusher = work.tracks["end right"]
        rusher.locked.clear()
        rusher.way = [one for one in rusher.way if one[0] < work.dead - 0.9]
        rusher.poses = [event for event in rusher.poses if event[0] < work.dead - 0.9]
        rusher.do(work.dead - 0.9, None).to(work.dead - 0.25, passer_x + work.ahead * 0.5, work.y - 0.2)
        rusher.do(work.dead - 0.4, "tackle").do(work.dead + 0.1, "down").do(work.dead + 1.3, None)
        passer.do(work.dead - 0.1, "tackle").do(work.dead + 0.08, "down").do(work.dead + 2.4, "knee")
    _gang_foul(work, play)
    celebrating = {"slot", "tight end", "wide left", "wide right", "runner", "left guard", target} if score else set()
    _release(work, [key for key in work.tracks if key not in celebrating])


def _kneel(work: _Set, play: Play) -> None:
    _line_up(work, _OFFENSE, _DEFENSE)
    passer = work.tracks["quarterback"]
    _snap_to(work, "quarterback", 0.4)
    passer.to(work.dead, work.x - work.ahead * 5.5, work.y).do(work.dead - 0.5, "knee").do(work.dead + 1.2, None)
    for key in [*_keys(work, _OFFENSE), *_keys(work, _DEFENSE)]:
        if key != "quarterback":
            work.tracks[key].do(work.snap + 0.6, None).wait(work.dead)
    _release(work, list(work.tracks))


def _punt(work: _Set, play: Play) -> None:
    _line_up(work, _PUNT, _PUNT_RETURN)
    punter, returner = work.tracks["punter"], work.tracks["returner"]
    spot = work.goal(play.kick_to), work.scene.to_y
    fair = play.outcome is Outcome.FAIR_CATCH
    returner.way = [(0.0, spot[0] + work.ahead * 3, spot[1] - 2)]
    returner.poses.clear()
    kicked = work.snap + 2.0
    caught = work.dead - (0.05 if fair else 0.6 + abs(work.goal(play.spot or play.kick_to) - spot[0]) / 5.4)
    work.ball.flies(work.snap, work.snap + 0.75, (work.x, work.y, 0.3), (*punter.place, 1.1), 0.5)
    work.ball.held(work.snap + 0.75, punter)
    foot = punter.place[0] + work.ahead * 2.6, punter.place[1]
    punter.to(work.snap + 0.9, *punter.place).to(kicked, *foot).do(kicked - 0.35, "kick", 0.9).do(kicked + 0.6, None)
    work.ball.flies(kicked, caught, (foot[0] + work.ahead * 0.8, foot[1], 0.8), (*spot, 1.3), 12.5)
    punter.to(work.dead + 1, foot[0] + work.ahead * 4, foot[1])
    returner.wait(kicked).to(caught - 0.6, *spot).wait(caught).do(caught - 0.8, "cradle").do(caught + 0.1, None)
    if fair:
        returner.do(caught - 2.2, "wave", 0.5)
    for blocker, rusher in (("left guard", "tackle left"), ("right guard", "tackle right"),
                            ("left tackle", "end left"), ("right tackle", "end right")):
        a, b = work.tracks[blocker], work.tracks[rusher]
        b.to(work.snap + 1.5, work.x - work.ahead * 1.5, a.place[1] + 0.3)
        a.to(work.snap + 1.5, work.x - work.ahead * 2.2,
             a.place[1]).locked.append((work.snap, work.snap + 2, work.face))
        a.do(work.snap + 0.3, "block", 0.7).do(work.snap + 2, None)
        b.do(work.snap + 0.7, "block", 0.7).do(work.snap + 2, None)
        b.wait(kicked + 0.6)
    hunters = []
    for key in _keys(work, _PUNT):
        if key not in ("punter", "shield"):
            hunters.append(key)
            early = 0.4 if key.startswith("wide") else 2.1
            track = work.tracks[key]
            track.wait(work.snap + early)
            track.towards(caught, spot[0], spot[1], 8.0 if early < 1 else 7.4, short=2.5 if fair else 7)
    for key in _keys(work, _PUNT_RETURN):
        if key != "returner":
            track = work.tracks[key]
            track.wait(kicked + 0.8)
            track.towards(work.dead, spot[0] - work.ahead * 4, (track.place[1] + spot[1]) / 2, 6.4, short=3)
    if fair:
        work.ball.held(caught, returner)
    else:
        end = work.goal(play.spot), work.scene.to_y + 5
        work.ball.held(caught, returner)
        returner.carries.append((caught, work.dead))
        returner.to(work.dead - 0.5, end[0] + work.ahead * 0.6, end[1])
        _tackle(work, "returner", hunters, *end)
    _release(work, list(work.tracks))


def _place_kick(work: _Set, play: Play) -> None:
    _line_up(work, _KICK, _KICK_BLOCK)
    kicker = work.tracks["kicker"]
    hold = work.x - work.ahead * 7.0, work.y
    kicked = work.snap + 1.35
    work.ball.flies(work.snap, work.snap + 0.6, (work.x, work.y, 0.3), (hold[0] + work.ahead * 0.4, hold[1], 0.5), 0.3)
    work.ball.lies(work.snap + 0.7, hold[0] + work.ahead * 0.4, hold[1])
    kicker.wait(work.snap + 0.6).to(kicked, hold[0] - work.ahead * 0.2, hold[1] + 0.3)
    kicker.to(kicked + 0.7, hold[0] + work.ahead * 1.3, hold[1])
    kicker.do(kicked - 0.3, "kick", 0.8).do(kicked + 0.9, None)
    work.tracks["holder"].do(work.snap, "knee").do(work.dead, None)
    posts = 110.5 if work.ahead > 0 else -10.5
    arrive = max(kicked + 1.4, work.dead - 0.55)
    work.ball.flies(kicked, arrive, (hold[0] + work.ahead * 0.4, hold[1], 0.2), (posts, 26.4, 5.4), 3.2)
    work.ball.flies(arrive, arrive + 0.9, (posts, 26.4, 5.4), (posts + work.ahead * 6, 26.2, 0.1), 1.5)
    work.ball.lies(arrive + 0.9, posts + work.ahead * 6, 26.2)
    for key in [*_keys(work, _KICK), *_keys(work, _KICK_BLOCK)]:
        if key in ("kicker", "holder", "safety left"):
            continue
        track, offensive = work.tracks[key], key in _KICK
        face = work.face if offensive else work.back
        shove = -0.7 if offensive else -1.0
        track.to(work.snap + 0.6, track.place[0] + work.ahead * shove, track.place[1])
        track.do(work.snap + 0.15, "block", 0.8).do(kicked + 0.8, None)
        track.locked.append((work.snap, kicked + 0.9, face))
        track.wait(kicked + 1.0)
    _release(work, list(work.tracks))
    if work.scene.truth.offense is not None:
        for key in ("kicker", "holder", "left guard", "end"):
            work.tracks[key].do(work.dead + 0.5, "score").do(work.dead + 2.3, None)


def _kickoff(work: _Set, play: Play) -> None:
    kicking, receiving = _LOOKS[work.offense], _LOOKS[work.offense.opponents]
    spot, end = (work.goal(play.kick_to), work.scene.to_y), (work.goal(play.spot), work.scene.to_y + 8)
    kicker = work.put("kicker", kicking, "8", work.x - work.ahead * 8, work.y + 2.5, work.face)
    work.ball.lies(0.0, work.x, work.y)
    kicked = work.snap
    kicker.wait(kicked - 1.35).to(kicked, work.x - work.ahead * 0.3, work.y + 0.2).do(kicked - 0.3, "kick", 0.8)
    kicker.do(kicked + 0.6, None)
    run_back = abs(end[0] - spot[0]) / 5.6 + 0.6
    caught = work.dead - run_back
    work.ball.flies(kicked, caught, (work.x, work.y, 0.2), (*spot, 1.4), 11.0)
    covers = []
    for index in range(10):
        lateral = 3.5 + index * 5.15
        if abs(lateral - work.y) < 2:
            lateral += 2
        track = work.put(f"cover {index}", kicking, str(30 + index), work.x - work.ahead * (5 + abs(work.jitter(0.5))),
                         lateral, work.face)
        track.still = "ready"
        track.wait(kicked - 0.75).to(kicked, work.x - work.ahead * 0.6, lateral)
        track.towards(caught, end[0] - work.ahead * work.random.uniform(1, 9), lateral * 0.6 + end[1] * 0.4,
                      work.random.uniform(6.8, 8.0))
        covers.append(track)
        work.tracks[f"cover {index}"] = track
    returner = work.put("returner", receiving, "20", spot[0] + work.ahead * 2, spot[1] + 3, work.back)
    returner.still = "ready"
    returner.wait(kicked + 0.8).to(caught - 0.5, *spot).wait(caught).do(caught - 0.8, "cradle").do(caught + 0.1, None)
    work.ball.held(caught, returner)
    returner.carries.append((caught, work.dead))
    returner.to(caught + run_back * 0.4, spot[0] + (end[0] - spot[0]) * 0.4, spot[1] + 1.5)
    returner.to(work.dead - 0.5, end[0] + work.ahead * 0.6, end[1] - 0.5)
    for index in range(10):
        deep = 11 if index < 5 else 24 if index < 8 else 38
        row = (index if index < 5 else index - 5 if index < 8 else index - 8)
        lateral = (6 + row * 10.3) if index < 5 else (11 + row * 15.5) if index < 8 else (17 + row * 19)
        track = work.put(f"front {index}", receiving, str(50 + index), work.x + work.ahead * deep, lateral, work.back)
        track.still = "ready"
        track.wait(kicked + 0.4)
        track.towards(caught, end[0] - work.ahead * work.random.uniform(-2, 9), (lateral + end[1]) / 2, 6.2)
        track.towards(work.dead, end[0] - work.ahead * work.random.uniform(-1, 5), (lateral + 2 * end[1]) / 3, 3.5)
    hunters = [f"cover {index}" for index in range(10)]
    _tackle(work, "returner", hunters, *end)
    _release(work, [key for key in work.tracks if key != "returner" or "second-half" not in work.scene.name])
    if "second-half" in work.scene.name:        # the returner is hurt and stays down
        returner.poses = [event for event in returner.poses if event[0] < work.dead]
    if abs(work.x - 50) > 60:
        raise ValueError(f"scene {work.scene.name!r}: a free kick from {work.x} is not on the field")


def _attempt(work: _Set, play: Play) -> None:
    """A run, and afterwards the scuffle if the scene has one."""
    _run(work, play)
    start, over = work.scene.at(MomentKind.CONFRONTATION), work.scene.at(MomentKind.CONFRONTATION_OVER)
    if start is None:
        return
    x, y = work.goal(work.scene.truth.ball_on + play.gain) + work.ahead * 2.0, work.scene.to_y - 1.0
    ring = (("left tackle", -0.55, 0.0), ("backer middle", 0.55, 0.0), ("left guard", -1.2, 1.0),
            ("tackle left", 1.2, 0.9), ("slot", -1.4, -1.1), ("safety left", 1.5, -1.0), ("right guard", -2.0, 0.2),
            ("end left", 2.1, -0.1))
    for place, (key, dx, dy) in enumerate(ring):
        track = work.tracks[key]
        track.way = [one for one in track.way if one[0] <= work.dead + 0.4]
        track.poses = [event for event in track.poses if event[0] <= work.dead + 0.3]
        join = start + (0.1 if place < 2 else 0.9 + 0.35 * place)
        heading = RIGHT if dx < 0 else LEFT
        track.do(work.dead + 0.45, None).wait(join - 1.6 if place < 2 else join - 1.2)
        track.to(join, x + dx, y + dy).do(join, "shove", 0.8 + 0.1 * place)
        track.locked.append((join, over, heading))
        for beat in range(int((over - join) / 0.8)):
            sway = 0.35 * math.sin(beat * 1.7 + place) * (1 if place < 4 else 0.5)
            track.to(join + 0.8 * (beat + 1), x + dx + sway, y + dy + 0.2 * math.cos(beat * 2.1 + place))
        track.do(over - 0.1 * place, None).to(over + 2.2, x + dx * 5, y + dy * 2 + work.jitter(1)).turn(over, heading)
    for key in ("corner left", "corner right", "wide right", "runner", "quarterback", "backer right", "safety right"):
        track = work.tracks[key]
        track.wait(start + 1.0).towards(over, x, y, 1.4, short=4.0 + abs(work.jitter(1.5)))


_PLAYS = {
    PlayKind.RUN: _attempt, PlayKind.PASS: _pass, PlayKind.KNEEL: _kneel, PlayKind.PUNT: _punt,
    PlayKind.FIELD_GOAL: _place_kick, PlayKind.TRY_KICK: _place_kick, PlayKind.KICKOFF: _kickoff,
}


def _officials(work: _Set) -> None:
    """Five officials: referee, umpire, two on the sidelines, one deep."""
    scene, play = work.scene, work.scene.play
    kick = play.kind is PlayKind.KICKOFF
    posts = play.kind in (PlayKind.FIELD_GOAL, PlayKind.TRY_KICK)
    ahead, x, y = work.ahead, work.x, work.y
    deep = min(x * ahead + 21, 106 if ahead > 0 else 6) * ahead
    places = {
        "referee": (x - ahead * (12 if not kick else -55), y + 5, REFEREE_LOOK),
        "umpire": (x + ahead * (7.5 if not kick else -4), y - 2.6, OFFICIAL_LOOK),
        "near wing": (x + ahead * (0 if not kick else 10), -0.6, OFFICIAL_LOOK),
        "far wing": (x + ahead * (1.7 if not kick else 10), FIELD_WIDTH + 0.5, OFFICIAL_LOOK),
        "deep": (deep, y + 3, OFFICIAL_LOOK),
    }
    if posts:
        line = 111.5 if ahead > 0 else -11.5
        places["umpire"] = (line, 22.3, OFFICIAL_LOOK)
        places["deep"] = (line, 30.9, OFFICIAL_LOOK)
    ends = _ball_at(work, work.dead)
    for key, (at_x, at_y, look) in places.items():
        faces = math.atan2(y - at_y, x - at_x) if not posts or key not in ("umpire", "deep") else work.back
        track = work.put(key, look, "", at_x, at_y, faces)
        track.wait(work.snap + 0.6)
        if posts and key in ("umpire", "deep"):
            track.turn(work.dead - 0.1, TOWARDS).do(work.dead - 0.1, "score")
            continue
        target_x = ends[0] if key != "referee" else ends[0] - ahead * (6 if not kick else -7)
        target_y = at_y if "wing" in key else _inside(ends[1] + (3 if key == "deep" else 4 if key == "referee" else -4))
        if "wing" in key:
            track.towards(work.dead, target_x, at_y, 6.2)
            track.towards(work.dead + 2.2, target_x, at_y + (5 if key == "near wing" else -5), 4)
        else:
            track.towards(work.dead + 0.6, target_x, target_y, 6.0, short=2.5 if key != "referee" else 0)
        track.turn(work.dead, math.atan2(ends[1] - at_y, ends[0] - at_x) if "wing" in key else TOWARDS)
    if play.kind is PlayKind.PASS and scene.truth.ball_on + (play.gain or 0) >= 100:
        for key in ("near wing", "deep", "referee"):
            work.tracks[key].do(work.dead + 0.25, "score").do(work.dead + 3.2, None)
    if play.outcome is Outcome.INCOMPLETE:
        work.tracks["deep"].do(work.dead + 0.4, "part").do(work.dead + 1.6, None)
    start, over = scene.at(MomentKind.CONFRONTATION), scene.at(MomentKind.CONFRONTATION_OVER)
    if start is not None:
        middle = ends[0] + ahead * 2.0, scene.to_y - 1.0
        for key, dx, dy, late in (("umpire", 0.1, -0.9, 1.2), ("far wing", 0.3, 1.6, 2.0),
                                  ("referee", -0.8, -1.8, 2.6)):
            track = work.tracks[key]
            track.way = [one for one in track.way if one[0] <= start - 0.5]
            track.wait(start).to(start + late + 1.0, middle[0] + dx, middle[1] + dy)
            track.do(start + late + 0.9, "part").do(over + 0.6, None).wait(over + 1)
            track.locked.append((start + late + 0.9, over + 0.6, TOWARDS if dy < 0 else AWAY))


# -- what is not a play ----------------------------------------------------------------------------------------------

def _coin_toss(work: _Set) -> np.ndarray:
    for index in range(4):
        across, aside = 24.2 + index * 0.9, 1.5 + index * 0.62
        home = work.put(f"home {index}", HOME_LOOK, ("12", "55", "24", "44")[index], 48.4 - aside, across, RIGHT - 0.5)
        home.to(1.0, 50.0 - aside, across)
        visitors = work.put(f"visitors {index}", VISITORS_LOOK, ("7", "52", "20", "71")[index], 51.6 + aside, across,
                            LEFT + 0.5)
        visitors.to(1.0, 50.0 + aside, across)
        for track in (home, visitors):
            track.still = "hips" if index == 2 else "stand"
    referee = work.put("referee", REFEREE_LOOK, "", 50, 26.6, TOWARDS)
    referee.do(1.6, "flip", 1.4).do(3.2, None).do(5.5, "announce").do(6.6, "point").do(8.2, None)
    referee.locked.append((5.4, 20, TOWARDS + 0.4))
    work.put("umpire", OFFICIAL_LOOK, "", 50.9, 29.6, TOWARDS)
    work.put("linesman", OFFICIAL_LOOK, "", 49.0, 29.9, TOWARDS)
    times = np.arange(work.pictures) / FPS
    up = times - 1.95
    height = 1.5 + 6.2 * up - 4.9 * up * up * 1.09
    coin = np.column_stack([np.full_like(times, 50.25), np.full_like(times, 26.1), height])
    coin[(up < 0) | (height < 0.02)] = np.nan
    return coin


def _handshake(work: _Set) -> None:
    for index in range(16):
        ahead = index * 1.55
        home = work.put(f"home {index}", HOME_LOOK, str(10 + index * 3), 47 - ahead, 26.2, RIGHT)
        home.to(work.scene.seconds + 1, 47 - ahead + 1.25 * (work.scene.seconds + 1), 26.2).do(0, "shake")
        visitors = work.put(f"visitors {index}", VISITORS_LOOK, str(11 + index * 3), 45 + ahead, 27.15, LEFT)
        visitors.to(work.scene.seconds + 1, 45 + ahead - 1.25 * (work.scene.seconds + 1), 27.15).do(0, "shake")
    work.put("coach", COACH_LOOK, "", 48, 24.2, TOWARDS).to(work.scene.seconds, 52, 24.6)


def _measurement(work: _Set) -> None:
    truth = work.scene.truth
    line = work.goal(truth.ball_on + truth.yards_to_gain)
    start = line - work.ahead * 10
    work.ball.lies(0.0, work.x, work.y)
    side = work.y + 0.55
    rear = work.put("rear rod", CREW_LOOK, "", start - work.ahead * 1.2, side + 1.6, TOWARDS)
    rear.to(0.95, start, side + 0.3).do(0.9, "hold pole")
    front = work.put("front rod", CREW_LOOK, "", line - work.ahead * 6.0, side + 2.4, TOWARDS)
    front.wait(0.9).to(2.6, line - work.ahead * 1.0, side + 0.5).to(3.4, line, side + 0.3).do(3.3, "hold pole")
    work.poles += [("rear rod", "rod"), ("front rod", "rod")]
    referee = work.put("referee", REFEREE_LOOK, "", work.x - work.ahead * 2.6, work.y + 1.3, work.face)
    referee.wait(5.0).to(6.8, work.x - work.ahead * 1.9, work.y - 0.3).do(7.0, None).turn(6.8, TOWARDS)
    referee.do(8.0, "inches").do(9.6, "fourth").do(11.4, None)
    umpire = work.put("umpire", OFFICIAL_LOOK, "", work.x + work.ahead * 1.9, work.y + 2.2, TOWARDS - work.ahead * 0.5)
    umpire.still = "hips"
    for index, (dx, dy) in enumerate(((-4.5, 3.8), (-5.6, 1.5), (-6.8, 4.5), (-4.2, 6.0))):
        work.put(f"home {index}", HOME_LOOK, str(60 + index), work.x + work.ahead * dx, work.y + dy,
                 work.face).still = "hips"
    for index, (dx, dy) in enumerate(((4.6, 4.2), (5.6, 1.6), (7.0, 3.6), (4.9, 6.4))):
        work.put(f"visitors {index}", VISITORS_LOOK, str(70 + index), work.x + work.ahead * dx, work.y + dy,
                 work.back).still = "stand" if index % 2 else "hips"


def _signal(work: _Set) -> None:
    referee = work.put("referee", REFEREE_LOOK, "", work.x - work.ahead * 3.0, 20.0, TOWARDS)
    referee.to(0.5, work.x - work.ahead * 2.4, 19.4).do(0.8, "holding", 0.8).do(2.7, "point").do(4.3, None)
    for index in range(5):
        work.put(f"home {index}", HOME_LOOK, str(60 + index), work.x - work.ahead * (6 + index), 27 + index % 3,
                 work.face).still = "hips"
        work.put(f"visitors {index}", VISITORS_LOOK, str(50 + index), work.x + work.ahead * (4 + index), 28 - index % 2,
                 work.back)


def _helped_off(work: _Set) -> None:
    x, end = work.x, work.scene.seconds + 1
    player = work.put("player", VISITORS_LOOK, "20", x - 2, 37.5, AWAY).to(end, x, 48.0).do(0, "lean")
    for key, side in (("trainer left", -0.62), ("trainer right", 0.62)):
        helper = work.put(key, COACH_LOOK, "", x - 2 + side, 37.5, AWAY)
        helper.to(end, x + side, 48.0).do(0, "support")
    player.still = "stand"
    for index in range(9):
        place = x + 9 + (index % 4) * 1.7, 20 + (index // 4) * 2.4
        work.put(f"home {index}", HOME_LOOK, str(40 + index), *place, TOWARDS).do(0, "knee")
        place = x - 9 - (index % 4) * 1.6, 21 + (index // 4) * 2.2
        work.put(f"visitors {index}", VISITORS_LOOK, str(50 + index), *place, TOWARDS).do(0, "knee")
    work.put("referee", REFEREE_LOOK, "", x - 2, 20, TOWARDS)
    work.put("umpire", OFFICIAL_LOOK, "", x + 4, 24, TOWARDS)


def _between_plays(work: _Set) -> None:
    """People who stand about while the down marker is filmed; hardly any is in the picture."""
    work.put("far wing", OFFICIAL_LOOK, "", work.x + work.ahead * 1.8, FIELD_WIDTH - 0.4, TOWARDS)
    for index in range(4):
        work.put(f"home {index}", HOME_LOOK, str(60 + index), work.x - work.ahead * (6 + 1.4 * index), 40 + index % 3,
                 work.face)


def _chain_crew(work: _Set) -> Chains:
    truth = work.scene.truth
    if truth.down is None or work.scene.kind in (ShotKind.SCOREBOARD, ShotKind.HANDSHAKE):
        return Chains()
    line = truth.ball_on + truth.yards_to_gain
    goal_to_go = line >= 100
    box = work.goal(truth.ball_on)
    chains = Chains(work.goal(line - 10), None if goal_to_go else work.goal(line), box, truth.down)
    if work.scene.kind is not ShotKind.MEASUREMENT and not goal_to_go:
        for key, x in (("rod one", chains.start), ("rod two", chains.line_to_gain)):
            work.put(key, CREW_LOOK, "", x, _CHAIN_Y + 0.4, TOWARDS).still = "hold pole"
            work.poles.append((key, "rod"))
    if work.scene.kind is not ShotKind.SCOREBOARD:
        work.put("box", CREW_LOOK, "", box, _CHAIN_Y + 0.3, TOWARDS).still = "hold pole"
        work.poles.append(("box", "box"))
    return chains


# -- every picture ---------------------------------------------------------------------------------------------------

def _ball_at(work: _Set, time: float) -> tuple[float, float]:
    """Where the ball is at a time, roughly (people's corners are rounded later)."""
    current = None
    for span in work.ball.spans:
        if span[0] <= time:
            current = span
    if current is None:
        return work.x, work.y
    match current[1]:
        case "held":
            track = current[2]
            times, xs, ys = zip(*track.way, strict=False)
            return float(np.interp(time, times, xs)), float(np.interp(time, times, ys))
        case "lies":
            return current[2], current[3]
    _, _, end, a, b, _ = current
    part = min(max((time - current[0]) / (end - current[0]), 0), 1)
    return a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part


def _finish(work: _Set, chains: Chains, coin: np.ndarray | None) -> Stage:
    done = {key: moves(track, work.pictures) for key, track in work.tracks.items()}
    by_track = {id(track): done[key] for key, track in work.tracks.items()}
    times = np.arange(work.pictures) / FPS
    ball = np.full((work.pictures, 3), np.nan)
    spin = np.zeros(work.pictures)
    spans = sorted(work.ball.spans, key=lambda span: span[0])
    for span, until in zip(spans, [*[one[0] for one in spans[1:]], math.inf], strict=False):
        chosen = (times >= span[0]) & (times < until)
        match span[1]:
            case "held":
                holder = by_track[id(span[2])]
                ball[chosen, 0] = holder.x[chosen] + 0.28 * np.cos(holder.heading[chosen])
                ball[chosen, 1] = holder.y[chosen] + 0.28 * np.sin(holder.heading[chosen])
                low = np.array([pose in ("down", "tackle") for pose in holder.pose])[chosen]
                ball[chosen, 2] = np.where(low, 0.25, span[3])
            case "lies":
                ball[chosen] = (span[2], span[3], 0.1)
            case "flies":
                _, _, end, a, b, rise = span
                part = np.clip((times[chosen] - span[0]) / max(end - span[0], 0.01), 0, 1)[:, None]
                line = np.array(a) + (np.array(b) - np.array(a)) * part
                line[:, 2] += 4 * rise * (part * (1 - part))[:, 0]
                ball[chosen] = line
                spin[chosen] = math.atan2(4 * rise * (0.5 - part.mean()), b[0] - a[0]) if len(line) else 0
    follow = np.where(np.isnan(ball[:, :2]), (work.x, work.y), ball[:, :2])
    follow = np.column_stack([smooth(follow[:, 0], 15), smooth(follow[:, 1], 15)])
    poles = [(done[key], what) for key, what in work.poles]
    return Stage(list(done.values()), ball, spin, chains, work.flags, poles, coin, follow)

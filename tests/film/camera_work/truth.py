"""Measured against applied: the curves of each measure, and the spans that are found at the profile's thresholds."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from tests.film.camera_work import faulty, smeared
from workstation.coverage.profile import load_profile
from workstation.film.camera_work.lens import spots
from workstation.film.camera_work.passage import Passage
from workstation.film.camera_work.series import Series

SECONDS = 9.0
SPANS = ((2.0, 4.2), (5.8, 8.0))        # of a fault that comes and goes


@dataclass(frozen=True)
class Point:
    """One amount of a fault on one clip. ``matters``: within a reader's interest, and so within 15 per cent."""

    clip: str
    fault: str
    applied: str
    expected: float
    measured: float
    matters: bool

    @property
    def error(self) -> float:
        return self.measured / self.expected - 1 if self.expected else self.measured


@dataclass(frozen=True)
class Spans:
    """What of a known span was found: shares of time."""

    clip: str
    fault: str
    precision: float
    recall: float


def rule(name: str):
    return load_profile(folders=()).rule(name)


def _passage(clip: str, fault: faulty.Fault | None, seconds: float = SECONDS) -> Passage:
    with tempfile.TemporaryDirectory() as folder:
        passage, record = faulty.measured(faulty.write(clip, Path(folder) / "clip.mp4", seconds, fault))
        passage.spots = spots(record.pictures, record.moved, record.details)     # type: ignore[attr-defined]
        return passage


def _trembling(clip: str, amount: float, hertz: float) -> tuple[Passage, float]:
    """A clip that flickers, and how much of it is in the file, as a share: the coding leaves small changes out."""
    with tempfile.TemporaryDirectory() as folder:
        path = faulty.write(clip, Path(folder) / "clip.mp4", SECONDS, faulty.flickering(amount, hertz))
        light = np.array(faulty.brightness(path)) / [faulty.still(seen).mean() for seen in faulty.shown(clip, SECONDS)]
        return faulty.measured(path)[0], float(np.std(light / light.mean()))


def middle(series: Series, spans=((1.0, SECONDS - 1.0),), inset: float = 0.0) -> float:
    """The median within spans."""
    parts = [series.between(start + inset, end - inset).known for start, end in spans]
    return float(np.median(np.concatenate(parts))) if any(len(part) for part in parts) else np.nan


Pairs = tuple[tuple[float, float], ...]


def overlap(found: list[tuple[float, float]], true: Pairs, slack: float, seconds: float = SECONDS
            ) -> tuple[float, float]:
    """Precision and recall in time. What lies within ``slack`` of a true edge counts neither way: a measure over a
    window cannot tell its edges more finely than the window."""
    at = np.arange(0, seconds, 0.02)

    def inside(spans, by: float = 0.0) -> np.ndarray:
        return np.any([(at >= start - by) & (at < end + by) for start, end in spans], axis=0) if spans else at < 0

    hit, sure, near = inside(found), inside(true, -slack), inside(true, slack)
    precision = 1.0 if not hit.any() else 1 - (hit & ~near).sum() / hit.sum()
    recall = (hit & sure).sum() / max(sure.sum(), 1)
    return float(precision), float(recall)


def curves(clips: tuple[str, ...], brief: bool = False) -> Iterator[Point]:
    """All curves on some clips; *brief*: fewer amounts."""
    for clip in clips:
        own = _passage(clip, None)
        before = middle(own.shake)
        for hertz in ((3.0,) if brief else (1.0, 1.5, 2.0, 3.0, 5.0, 8.0)):
            for amount in ((4.0, 8.0) if brief else (2.0, 4.0, 8.0, 16.0) if hertz == 3.0 else (6.0,)):
                shaken = _passage(clip, faulty.shaking(amount, hertz))
                expected = float(np.hypot(amount / np.sqrt(2), before))
                yield Point(clip, f"shake at {hertz:g} Hz", f"{amount:g} thousandths", expected, middle(shaken.shake),
                            hertz >= 1.5 and amount >= 4)
        for amount in ((4.0,) if brief else (1.5, 3.0, 4.0, 6.0)):
            roll = _passage(clip, faulty.turned(amount, SPANS[:1])).roll
            level = middle(roll, ((0.2, 1.8), (5.0, 8.5)))
            yield Point(clip, "roll", f"{amount:g} degrees", amount, middle(roll, SPANS[:1], 0.6) - level, amount >= 3)
        for amount in ((3.0,) if brief else (1.0, 1.5, 2.0, 3.0, 4.0, 6.0)):
            soft = _passage(clip, faulty.blurred(amount, SPANS)).softness
            yield Point(clip, "blur", f"{amount:g} thousandths", amount, middle(soft, SPANS, 0.2), amount >= 1.5)
        for gain in ((1.3,) if brief else (0.6, 0.75, 0.87, 1.15, 1.3)):
            jumps = _passage(clip, faulty.lit(gain, SPANS)).jumps
            at = np.array([float(jumps.between(edge - 0.4, edge + 0.4).known.max()) for edge in sum(SPANS, ())])
            yield Point(clip, "light, gain", f"{gain:g}", max(gain, 1 / gain) - 1, float(np.median(at)),
                        abs(gain - 1) >= 0.15)
        for gamma in (() if brief else (0.7, 1.4)):
            jumps = _passage(clip, faulty.lit(1.0, SPANS, gamma)).jumps
            luma = next(faulty.shown(clip, 1.0)).luma
            usable = luma[(luma > 12) & (luma < 243)]
            factor = float(np.median((255 * (usable / 255) ** gamma) / usable))
            at = np.array([float(jumps.between(edge - 0.4, edge + 0.4).known.max()) for edge in sum(SPANS, ())])
            yield Point(clip, "light, gamma", f"{gamma:g}", max(factor, 1 / factor) - 1, float(np.median(at)), True)
        for hertz, amount in (((5.0, 0.04),) if brief else ((3.0, 0.04), (5.0, 0.02), (5.0, 0.04), (8.0, 0.04))):
            passage, left = _trembling(clip, amount, hertz)
            yield Point(clip, f"flicker at {hertz:g} Hz", f"{amount:.0%}, coded {left * np.sqrt(2):.1%}", left,
                        middle(passage.flicker), left >= 0.01)
        for gain in (() if brief else (1.4, 1.8, 2.5)):
            expected = float(np.median([(faulty.still(seen) * gain >= 0.985 * 255).mean()
                                        for seen in list(faulty.shown(clip, 4.0))[::10]]))
            yield Point(clip, "burnt out", f"gain {gain:g}", expected, middle(_passage(clip, faulty.burnt(gain)).burnt),
                        expected >= 0.05)
        for wider, takes in (((3.0, 4.0),) if brief else ((1.6, 2.0), (2.0, 4.0), (3.0, 4.0), (3.0, 2.0))):
            zoom = _passage(clip, faulty.zooming(lambda at, wider=wider, takes=takes: float(
                np.log(wider) * (1 - np.clip((at - 2.0) / takes, 0, 1))))).movement
            out = max(zoom.zooms, key=lambda move: 1 / move.magnification, default=None)
            yield Point(clip, "pull-out, how far", f"{wider:g} times in {takes:g} s", wider,
                        1 / out.magnification if out else 0.0, True)
            yield Point(clip, "pull-out, how fast", f"{wider:g} times in {takes:g} s", np.log(wider) / takes,
                        out.speed if out else 0.0, True)


def pans(clips: tuple[str, ...]) -> Iterator[Point]:
    """Pans whose way is known: their greatest speed and jerk, passed through the filter that a pan is judged through
    (faster is shake); how often one overshoots; how often a zoom turns round."""
    for clip in clips:
        for way, takes in ((0.4, 1.5), (0.8, 1.5), (0.8, 3.0), (1.2, 3.0)):
            path = faulty.eased(way, takes)
            moved = _passage(clip, faulty.panned(path)).movement
            speed, jerk = faulty.greatest(path, SECONDS)
            applied = f"{way:g} widths in {takes:g} s"
            yield Point(clip, "pan, how fast", applied, speed, float(moved.pan.known.max()), True)
            yield Point(clip, "pan, jerk", applied, jerk, float(moved.jerk.known.max()), jerk >= 1.5)
        for back, times in ((0.0, 0), (0.08, 1), (0.2, 1)):
            moved = _passage(clip, faulty.panned(faulty.eased(0.8, 1.5, back))).movement
            yield Point(clip, "pan, overshoots", f"by {back:.0%} of its way", float(times),
                        float(len(moved.overshoots)), True)
        for swing, takes, turns in HUNTS:
            path = faulty.hunting(swing, takes, turns)
            moved = _passage(clip, faulty.panned(path)).movement
            applied = f"{turns} ways of {swing:g} in {takes:g} s"
            yield Point(clip, "pan, to and fro", applied, faulty.gone_back(path, SECONDS),
                        float(moved.back.known.max()), swing >= 0.1)
            yield Point(clip, "pan, turns", applied, float(turns), float(len(moved.turns)), swing >= 0.1)
        for turns in (0, 1, 3):
            moved = _passage(clip, faulty.zooming(lambda at, turns=turns: float(0.3 * np.interp(
                at, 1.5 + 1.5 * np.arange(turns + 2), np.arange(turns + 2) % 2)))).movement
            yield Point(clip, "zoom, turns", f"{turns}", float(turns), float(len(moved.reversals)), True)


# Written down before either was measured: swing (widths), seconds of each way, turns. The pan turns round so often and
# goes back by what ``faulty.gone_back`` says; from a tenth of a width on it matters.
HUNTS = ((0.05, 0.8, 2), (0.1, 0.8, 3), (0.1, 1.2, 4), (0.2, 1.0, 3), (0.3, 1.2, 4))
# Degrees by which a whole shot is tilted: measured within 15 per cent, rising all along, on clips with upright things;
# the others say nothing. Untilted, no finding.
LEANS = (-6.0, -4.0, -3.0, -2.0, -1.0, 1.0, 2.0, 3.0, 4.0, 6.0)
UPRIGHT = ("bikes, a street", "bikes, a corner")


def leans(clips: tuple[str, ...], amounts: tuple[float, ...] = LEANS) -> Iterator[Point]:
    """How far a whole shot is tilted, against the same untilted."""
    for clip in clips:
        own = _passage(clip, faulty.leaning(0.0), 4.0).lean.typical()
        for amount in amounts:
            lean = _passage(clip, faulty.leaning(amount), 4.0).lean.typical()
            measured = np.nan if own is None or lean is None else lean - own
            yield Point(clip, "lean of the shot", f"{amount:+g} degrees", amount, measured, True)


LONG = ((2.5, 6.5),)                    # shake is judged over a second and a half; a shorter burst measures less
FOUND: dict[str, tuple[str, Callable[[], faulty.Fault], Callable[[Passage], Series], float]] = {
    "shake of 8 thousandths at 3 Hz": ("steady", lambda: faulty.shaking(8, 3, LONG), lambda each: each.shake, 0.8),
    "roll of 5 degrees": ("level", lambda: faulty.turned(5, SPANS[:1]),
                          lambda each: Series(each.roll.times, abs(each.roll.values)), 0.5),
    "blur of 3 thousandths": ("in focus", lambda: faulty.blurred(3, SPANS), lambda each: each.softness, 0.2),
    "light a third brighter": ("well exposed", lambda: faulty.lit(1.33, SPANS), lambda each: each.jumps, 0.5),
    "flicker of 4 per cent at 5 Hz": ("well exposed", lambda: faulty.flickering(0.04, 5, SPANS),
                                      lambda each: each.flicker, 0.6),
}
LIMITS = {"steady": ("shake", "least"), "level": ("degrees", "least"), "in focus": ("softness", "least")}


def spans(clips: tuple[str, ...]) -> Iterator[Spans]:
    """Spans found at the thresholds of the default profile."""
    for clip in clips:
        for name, (about, fault, series, slack) in FOUND.items():
            one = rule(about)
            if name.startswith("light"):
                limit, least, true = one.jump, 0.0, tuple((edge - 0.2, edge + 0.2) for edge in sum(SPANS, ()))
            elif name.startswith("flicker"):
                limit, least, true = one.flicker, one.least, SPANS
            else:
                limit, least = (getattr(one, setting) for setting in LIMITS[about])
                true = {"level": SPANS[:1], "steady": LONG}.get(about, SPANS)
            found = [(each.start, each.end) for each in series(_passage(clip, fault())).above(limit, least, gap=0.5)]
            yield Spans(clip, name, *overlap(found, true, min(slack, 0.19) if name.startswith("light") else slack))


# Where a pan hunts by what was applied: from half a second before its first turn to as long after its last, if it turns
# more than twice; where one overshoots, a second from where it turns; else nowhere. It arrives after 4 s.
HUNTED: dict[str, tuple[Callable[[float], float], Pairs]] = {
    **{f"{turns} ways of {swing:g} in {takes:g} s": (faulty.hunting(swing, takes, turns),
                                                     ((3.5, 4.5 + (turns - 1) * takes),) if turns > 2 else ())
       for swing, takes, turns in HUNTS},
    "a pan that rests": (faulty.eased(0.8, 1.5), ()),
    "goes back by 8 % of its way": (faulty.eased(0.8, 1.5, 0.08), ()),
    "goes back by 20 % of its way": (faulty.eased(0.8, 1.5, 0.2), ((4.0, 5.0),)),
}


def hunted(clips: tuple[str, ...]) -> Iterator[Spans]:
    """Spans in which a pan hunts or overshoots."""
    for clip in clips:
        for name, (path, true) in HUNTED.items():
            moved = _passage(clip, faulty.panned(path)).movement
            found = [(each.start, each.end) for each in rule("pan hunting").between(moved, 0.0, SECONDS)]
            precision, recall = overlap(found, true, 0.4)
            yield Spans(clip, f"pan: {name}", precision, recall if true else float(not found))


WAYS: dict[str, tuple[Callable[[float], float], Callable[[float], float]]] = {     # the window's edge, the middle
    "action runs out on the right": (lambda at: 0.2, lambda at: float(np.interp(
        at, [2.5, 3.5, 6.0, 7.0], [0.5, 0.8, 0.8, 0.5]))),
    "action runs out on the left, wholly": (lambda at: 0.3, lambda at: float(np.interp(
        at, [2.5, 4.0, 6.0, 7.5], [0.6, 0.05, 0.05, 0.6]))),
    "camera pans off the action": (lambda at: float(np.interp(at, [3.0, 3.6, 6.4, 7.0], [0.05, 0.4, 0.4, 0.05])),
                                   lambda at: 0.3),
    "action near the edge, not at it": (lambda at: 0.2, lambda at: float(np.interp(
        at, [2.5, 4.0, 6.0, 7.5], [0.5, 0.6, 0.6, 0.5]))),
}


def rooms(clips: tuple[str, ...]) -> Iterator[Point]:
    """The room around figures whose places are known; it matters from half to four times the threshold."""
    limit = rule("action in the frame").room
    for clip in clips:
        for middle in (0.35, 0.42, 0.5, 0.62, 0.7):
            room = _passage(clip, faulty.played(clip, lambda at: 0.2, lambda at, middle=middle: middle)).room
            true = float(np.median([faulty.room_of(at, 0.2, middle) for at in room.times]))
            yield Point(clip, "room around the action", f"its middle at {(middle - 0.2) / 0.6:.0%}", true,
                        float(np.nanmedian(room.values)), 0.5 * limit <= true <= 4 * limit)


def lost(clips: tuple[str, ...]) -> Iterator[Spans]:
    """Spans in which the action is at the edge of the picture or beyond it, by where it is known to be."""
    one = rule("action in the frame")
    at = np.arange(0, SECONDS, 0.02)
    for clip in clips:
        for name, (right, middle) in WAYS.items():
            near = Series(at, np.array([-faulty.room_of(time, right(time), middle(time)) for time in at]))
            true = tuple((each.start, each.end) for each in near.above(-one.room, one.least, 0.3))
            room = _passage(clip, faulty.played(clip, right, middle)).room
            found = [(each.start, each.end) for each in Series(room.times, -room.values).above(-one.room, one.least,
                                                                                             0.3)]
            precision, recall = overlap(found, true, 0.4)
            yield Spans(clip, name, precision, recall if true else float(not found))


PLACES = ((0.3, 0.35), (0.7, 0.6), (0.5, 0.8))


def drops(clips: tuple[str, ...], sizes: tuple[float, ...] = (0.02, 0.04, 0.08),
          levels: tuple[float, ...] = (15.0, 30.0, 60.0)) -> Iterator[tuple[str, float, float, int, int, int]]:
    """Clip, size, darkness, and of the drops: how many there are, how many were found, and how many found are none."""
    for clip in clips:
        for size in sizes:
            for dark in levels:
                found = _passage(clip, faulty.specks(PLACES, size, dark), 16.0).spots       # type: ignore[attr-defined]
                right = {place for place in PLACES for spot in found
                         if abs(spot.right - place[0]) < 0.05 and abs(spot.down - place[1]) < 0.08}
                false = sum(not any(abs(spot.right - x) < 0.05 and abs(spot.down - y) < 0.08 for x, y in PLACES)
                            for spot in found)
                yield clip, size, dark, len(PLACES), len(right), false


@dataclass(frozen=True)
class Smeared:
    """What was found of a smear in a film: ``right`` found places that are its own, ``false`` others; and how much of
    its span in time, and what it takes of the detail."""

    name: str
    right: int
    false: int
    precision: float
    recall: float
    lost: float
    measured: float


def smears(clips: tuple[str, ...], names: tuple[str, ...] = (smeared.NONE, *smeared.SMEARS)) -> Iterator[Smeared]:
    """Each smear in a film of its own, and a film without any."""
    for name in names:
        smear = smeared.SMEARS.get(name)
        with tempfile.TemporaryDirectory() as folder:
            passage, record = faulty.measured(smeared.write(clips, smear, Path(folder) / "film.mp4"))
        times = [passage.seconds_of(pts) for pts in record.lens_pts]
        found = spots(record.pictures, record.moved, record.details)
        own = [spot for spot in found if smear and abs(spot.right - smear.right) < 0.05
               and abs(spot.down - smear.down) < 0.08 and spot.softens > rule("clean lens").softens]
        precision, recall = overlap([(times[spot.start], times[spot.end]) for spot in own], (smeared.SPAN,),
                                    smeared.SLACK, smeared.SHOT * smeared.SHOTS) if own else (1.0, float(not smear))
        yield Smeared(name, len(own), len(found) - len(own), precision, recall,
                      smeared.lost(clips, smear) if smear else 0.0, max((spot.softens for spot in own), default=0.0))


def untouched(clip: str) -> dict[str, float]:
    """What an untouched clip measures, by the names that the profile's thresholds have."""
    own = _passage(clip, None)
    return {"steady": own.shake.worst() or 0.0,
            "level": float(np.abs(own.roll.known).max()) if len(own.roll.known) else 0.0,
            "in focus": own.softness.worst() or 0.0, "jump": float(own.jumps.known.max()),
            "flicker": own.flicker.worst() or 0.0, "burnt": own.burnt.worst() or 0.0, "black": own.black.worst() or 0.0,
            "to and fro": float(own.movement.back.known.max()),
            "lean": abs(lean) if (lean := own.lean.typical()) is not None else np.nan}

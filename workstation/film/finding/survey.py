"""Survey a source for everything that can be suggested: shots, moments, sound. Cached by fingerprint.

All of it is suggestion: a person confirms shots and accepts moments.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

import av
import numpy as np

from ...cancelling import Cancelled
from .. import cache
from ..faults import NoPicture, reason_for
from ..film import Film, Source
from ..index import FrameIndex, index_of
from ..time import Instant
from .luma_grid import FINE, luma_grid
from .moments import ShotMotion, find_full_wide
from .selective_decoder import selective_decoder
from .settings import KINDS, MOMENTS
from .shot_kind import is_wide, kind_of
from .sound_analysis import EVERY, SoundAnalysis, analyse_sound

if TYPE_CHECKING:
    from .shot_evidence import FrameEvidence

VERSION = 13                    # raise when the same file would now be judged otherwise


class Suggested(StrEnum):
    """Moments that can be suggested, in the words in which they are tagged."""

    FULL_WIDE = "full wide"
    SNAP = "snap"
    DEAD_BALL = "dead ball"


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A moment that somebody may accept. ``confidence`` is 0 to 1, ``why`` a short line for a person."""

    kind: Suggested
    at: Instant
    confidence: float
    why: str


@dataclass(frozen=True, slots=True)
class ShotSpan:
    """What lies between two cuts of a source: timestamps of its first picture and of the first after it, and a shot
    kind's word where the frames give evidence of it, else None, with the reason."""

    start: int
    end: int
    kind: str | None
    why: str


@dataclass(frozen=True, slots=True, eq=False)
class Survey:
    """What was found in one source. ``cuts`` are timestamps of pictures that begin a new shot (never the first);
    ``levels`` are decibels relative to full scale, one for every ``every`` seconds from the first picture,
    ``whistles`` seconds from the first picture."""

    source: str
    parts: tuple[ShotSpan, ...]
    suggestions: tuple[Suggestion, ...]
    every: float
    levels: np.ndarray
    whistles: np.ndarray

    @property
    def cuts(self) -> tuple[int, ...]:
        """The frames at which a new part begins, without the first."""
        return tuple(part.start for part in self.parts[1:])


@dataclass(frozen=True, slots=True)
class FoundShot:
    """A shot as found: from ``start`` up to ``end``. ``kind`` is a shot kind's word where it is plain, else None."""

    start: Instant
    end: Instant
    kind: str | None
    why: str


def survey(source: Source, *, progress: Callable[[float], None] = lambda share: None,
           cancelled: Callable[[], bool] = lambda: False) -> Survey:
    """Return what is found in a source, from the cache or found now (about a fifteenth of the film's running time).

    Call it off the UI thread. ``progress(share)`` is called from several threads.
    Raises NoPicture if the source cannot be read, Cancelled if ``cancelled`` says so; then nothing is cached.
    """
    known = cached_survey(source)
    if known is not None:
        return known
    index = index_of(source, progress=lambda share: progress(share * 0.02), cancelled=cancelled)
    from .cuts import find_cuts  # only here: SciPy is not needed to read what was found before
    try:
        cuts = [cut for cut in find_cuts(source, index, progress=lambda share: progress(0.02 + share * 0.33),
                                         cancelled=cancelled) if cut > index.whole_from]
        sound = analyse_sound(source, progress=lambda share: progress(0.35 + share * 0.05), cancelled=cancelled)
        looked = _look_at_shots(source, index, cuts, lambda share: progress(0.4 + share * 0.6), cancelled)
    except (av.FFmpegError, OSError) as error:      # the card is pulled
        raise NoPicture(source.id, reason_for(error, source.path)) from error
    found = _assemble(source, index, cuts, looked, sound)
    if source.fingerprint:
        cache.save_arrays(_key(source), _arrays(found))
    return found


def cached_survey(source: Source) -> Survey | None:
    """Return the survey if it is cached, else None at once."""
    arrays = cache.load_arrays(_key(source)) if source.fingerprint else None
    if arrays is None:
        return None
    try:
        parts = tuple(ShotSpan(int(start), int(end), str(kind) or None, str(why)) for (start, end), kind, why in zip(
            arrays["parts"], arrays["part_kind"], arrays["part_why"], strict=True))
        suggestions = tuple(
            Suggestion(Suggested(str(kind)), Instant(source.id, int(pts)), float(confidence), str(why))
            for kind, pts, confidence, why in zip(arrays["kind"], arrays["pts"], arrays["confidence"], arrays["why"],
                                                  strict=True))
        return Survey(source.id, parts, suggestions, EVERY, arrays["levels"], arrays["whistles"])
    except (KeyError, ValueError):
        return None


def _key(source: Source) -> str:
    return f"{source.fingerprint}-survey{VERSION}"


def _arrays(found: Survey) -> dict[str, np.ndarray]:
    suggestions = found.suggestions
    return {"parts": np.array([(part.start, part.end) for part in found.parts], np.int64).reshape(-1, 2),
            "part_kind": np.array([part.kind or "" for part in found.parts], dtype=str),
            "part_why": np.array([part.why for part in found.parts], dtype=str),
            "kind": np.array([str(one.kind) for one in suggestions], dtype=str),
            "pts": np.array([one.at.pts for one in suggestions], np.int64),
            "confidence": np.array([one.confidence for one in suggestions], float),
            "why": np.array([one.why for one in suggestions], dtype=str),
            "levels": found.levels, "whistles": found.whistles}


class _Looked(NamedTuple):
    """What was seen in one shot."""

    motion: ShotMotion
    evidence: list[FrameEvidence]


def _look_at_shots(source: Source, index: FrameIndex, cuts: list[int],
             progress: Callable[[float], None], cancelled: Callable[[], bool]) -> list[_Looked]:
    """Decode some ten frames a second of a source and return what is seen in each shot."""
    from ..camera_motion import UNKNOWN, Prepared, follow  # only here: they need SciPy
    from .frame_difference import half_size
    from .group_motion import GroupMotion, group_motion
    from .shot_evidence import frame_evidence
    bounds = [*cuts, len(index)]
    rows: list[tuple[list[float], list[float], list[GroupMotion]]] = [([], [], []) for _ in bounds]
    evidence: list[list[FrameEvidence]] = [[] for _ in bounds]
    part, begins, before, camera = 0, 0, None, UNKNOWN
    judge_from = 0
    ticks = float(source.time_base)
    with selective_decoder(source, index) as decoder:
        for number, frame in decoder.sample(int(MOMENTS.look_every / source.time_base)):
            if cancelled():
                raise Cancelled("Looking for moments was stopped.")
            if number < index.whole_from:
                continue
            grid = luma_grid(frame, FINE)
            prepared = Prepared(half_size(grid))
            while number >= bounds[part]:
                begins, part, before, camera, judge_from = bounds[part], part + 1, None, UNKNOWN, 0
            if before is not None and before[1].shape == grid.shape:    # damaged footage changes its size
                pts = index.pts
                at, lasted, movements = rows[part]
                at.append(float(pts[number] - pts[begins]) * ticks)
                lasted.append(float(pts[number] - pts[before[0]]) * ticks)
                camera = follow(before[2], prepared, camera)
                movements.append(group_motion(before[1], grid, camera))
            before = number, grid, prepared
            if index.pts[number] >= judge_from:
                evidence[part].append(frame_evidence(frame))
                judge_from = int(index.pts[number]) + int(KINDS.evidence_every / ticks)
            progress(number / len(index))
    return [_Looked(ShotMotion.of(*row), seen) for row, seen in zip(rows, evidence, strict=True)]


def _assemble(source: Source, index: FrameIndex, cuts: list[int], looked: list[_Looked],
              sound: SoundAnalysis) -> Survey:
    from .snap import find_snap  # only here: it needs SciPy
    starts = [int(index.pts[number]) for number in [0, *cuts]]
    ends = [*starts[1:], index.end]
    ticks = float(source.time_base)
    parts, suggestions = [], []

    def suggest(kind: Suggested, pts: float, confidence: float, why: str) -> None:
        number = index.at(round(pts))
        suggestions.append(Suggestion(kind, Instant(source.id, int(index.pts[number])), round(confidence, 2), why))

    for start, end, (motion, evidence) in zip(starts, ends, looked, strict=True):
        begins, lasts = (start - source.start_pts) * ticks, (end - start) * ticks
        whistles = [one for one in sound.whistles if begins <= one.at < begins + lasts]
        ending = next((one.at - begins for one in whistles if one.at - begins > MOMENTS.first_whistle), None)
        wide_field = is_wide(evidence)
        snap = find_snap(motion.at, motion.per_second, motion.groups,
                         None if ending is None else ending - MOMENTS.dead_ball_after) if wide_field else None
        if snap:
            suggest(Suggested.SNAP, start + snap.at / ticks, snap.confidence, "a line that was set begins to move")
        wide = find_full_wide(motion, snap.at if snap else None) if wide_field else None
        if wide:
            suggest(Suggested.FULL_WIDE, start + wide[0] / ticks, wide[1],
                    "the zoom ends" if wide[2] else "the camera comes to rest")
        for whistle in whistles:
            after_snap = snap is not None and whistle.at - begins > snap.at + MOMENTS.dead_ball_after
            suggest(Suggested.DEAD_BALL, source.start_pts + whistle.at / ticks,
                    whistle.confidence if after_snap else whistle.confidence * 0.6, "a whistle is heard")
        ended = snap is not None and any(whistle.at - begins > snap.at + MOMENTS.dead_ball_after
                                         for whistle in whistles)
        parts.append(ShotSpan(start, end, *kind_of(evidence, motion, snap=snap is not None, dead_ball=ended)))
    suggestions.sort(key=lambda one: one.at.pts)
    return Survey(source.id, tuple(parts), tuple(suggestions), EVERY, sound.levels,
                  np.array([whistle.at for whistle in sound.whistles], float))


def found_shots(film: Film, surveys: Mapping[str, Survey]) -> list[FoundShot]:
    """Return the film's shots in order: every source is at least one, more where cuts were found in it.

    ``surveys`` go by source id and may be missing. Kinds are suggested only where the frames give evidence (see
    :mod:`.shot_kind`).
    """
    shots = []
    for source in film.sources:
        found = surveys.get(source.id)
        if found is None:
            shots.append(FoundShot(source.first, source.end, None, ""))
        else:
            shots += [FoundShot(Instant(source.id, part.start), Instant(source.id, part.end), part.kind, part.why)
                      for part in found.parts]
    return shots

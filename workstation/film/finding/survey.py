"""Survey a source for everything that can be suggested: shots, moments, sound. Cached by fingerprint.

All of it is suggestion: a person confirms shots and accepts moments.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

import av
import numpy as np

from ...cancelling import Cancelled
from .. import cache
from ..faults import NoPicture, reason_for
from ..film import Film, Source
from ..index import FrameIndex, index_of
from ..time import Instant
from .moments import ShotMotion, find_full_wide, find_snap
from .selective_decoder import selective_decoder
from .settings import MOMENTS
from .sound_analysis import EVERY, FLOOR, SoundAnalysis, analyse_sound

VERSION = 5                     # raise when the same file would now be judged otherwise


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
    """What lies between two cuts of a source: timestamps of its first picture and of the first after it, and
    whether the camera rested."""

    start: int
    end: int
    still: bool


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


@dataclass(frozen=True, slots=True, eq=False)
class FilmSound:
    """Loudness of a whole film (decibels, evenly spaced in film time) and whistles (film time in seconds)."""

    every: float
    levels: np.ndarray
    whistles: np.ndarray


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
        cuts = find_cuts(source, index, progress=lambda share: progress(0.02 + share * 0.33), cancelled=cancelled)
        sound = analyse_sound(source, progress=lambda share: progress(0.35 + share * 0.05), cancelled=cancelled)
        motions = _motions(source, index, cuts, lambda share: progress(0.4 + share * 0.6), cancelled)
    except (av.FFmpegError, OSError) as error:      # the card is pulled
        raise NoPicture(source.id, reason_for(error, source.path)) from error
    found = _assemble(source, index, cuts, motions, sound)
    if source.fingerprint:
        cache.save_arrays(_key(source), _arrays(found))
    return found


def cached_survey(source: Source) -> Survey | None:
    """Return the survey if it is cached, else None at once."""
    arrays = cache.load_arrays(_key(source)) if source.fingerprint else None
    if arrays is None:
        return None
    try:
        parts = tuple(ShotSpan(int(start), int(end), bool(still)) for start, end, still in arrays["parts"])
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
    return {"parts": np.array([(part.start, part.end, part.still) for part in found.parts], np.int64).reshape(-1, 3),
            "kind": np.array([str(one.kind) for one in suggestions], dtype=str),
            "pts": np.array([one.at.pts for one in suggestions], np.int64),
            "confidence": np.array([one.confidence for one in suggestions], float),
            "why": np.array([one.why for one in suggestions], dtype=str),
            "levels": found.levels, "whistles": found.whistles}


def _motions(source: Source, index: FrameIndex, cuts: list[int],
             progress: Callable[[float], None], cancelled: Callable[[], bool]) -> list[ShotMotion]:
    """Decode some ten frames a second of a source and return the motion in each shot."""
    from .camera_motion import FrameMotion, estimate_motion  # only here: it needs SciPy
    bounds = [*cuts, len(index)]
    rows: list[tuple[list[float], list[float], list[FrameMotion]]] = [([], [], []) for _ in bounds]
    part, begins, before = 0, 0, None
    ticks = float(source.time_base)
    with selective_decoder(source, index) as decoder:
        for number, grid in decoder.sample(int(MOMENTS.look_every / source.time_base)):
            if cancelled():
                raise Cancelled("Looking for moments was stopped.")
            while number >= bounds[part]:
                begins, part, before = bounds[part], part + 1, None
            if before is not None and before[1].shape == grid.shape:    # damaged footage changes its size
                pts = index.pts
                at, lasted, movements = rows[part]
                at.append(float(pts[number] - pts[begins]) * ticks)
                lasted.append(float(pts[number] - pts[before[0]]) * ticks)
                movements.append(estimate_motion(before[1], grid))
            before = number, grid
            progress(number / len(index))
    return [ShotMotion.of(*row) for row in rows]


def _assemble(source: Source, index: FrameIndex, cuts: list[int], motions: list[ShotMotion],
              sound: SoundAnalysis) -> Survey:
    starts = [int(index.pts[number]) for number in [0, *cuts]]
    ends = [*starts[1:], index.end]
    ticks = float(source.time_base)
    parts, suggestions = [], []

    def suggest(kind: Suggested, pts: float, confidence: float, why: str) -> None:
        number = index.at(round(pts))
        suggestions.append(Suggestion(kind, Instant(source.id, int(index.pts[number])), round(confidence, 2), why))

    for start, end, motion in zip(starts, ends, motions, strict=True):
        still = motion.is_static and (end - start) * ticks < MOMENTS.shortest_play
        parts.append(ShotSpan(start, end, still))
        begins, lasts = (start - source.start_pts) * ticks, (end - start) * ticks
        whistles = [one for one in sound.whistles if begins <= one.at < begins + lasts]
        ending = next((one.at - begins for one in whistles if one.at - begins > MOMENTS.first_whistle), None)
        snap = find_snap(motion, None if ending is None else ending - MOMENTS.dead_ball_after)
        if snap:
            suggest(Suggested.SNAP, start + snap[0] / ticks, snap[1], "everything begins to move after stillness")
        wide = None if still else find_full_wide(motion, snap and snap[0])
        if wide:
            suggest(Suggested.FULL_WIDE, start + wide[0] / ticks, wide[1],
                    "the zoom ends" if wide[2] else "the camera comes to rest")
        for whistle in whistles:
            after_snap = snap is not None and whistle.at - begins > snap[0] + MOMENTS.dead_ball_after
            suggest(Suggested.DEAD_BALL, source.start_pts + whistle.at / ticks,
                    whistle.confidence if after_snap else whistle.confidence * 0.6, "a whistle is heard")
    suggestions.sort(key=lambda one: one.at.pts)
    return Survey(source.id, tuple(parts), tuple(suggestions), EVERY, sound.levels,
                  np.array([whistle.at for whistle in sound.whistles], float))


def found_shots(film: Film, surveys: Mapping[str, Survey]) -> list[FoundShot]:
    """Return the film's shots in order: every source is at least one, more where cuts were found in it.

    ``surveys`` go by source id and may be missing. Kinds are suggested only where they are plain: "play" where a
    snap and then a whistle were noticed; "down marker" for a very short shot at rest, "scoreboard" if it is the
    film's last or last but one; "handshake" never, for nothing in the picture says so.
    """
    spans: list[tuple[Instant, Instant, ShotSpan | None, Sequence[Suggestion]]] = []
    for source in film.sources:
        found = surveys.get(source.id)
        if found is None:
            spans.append((source.first, source.end, None, ()))
            continue
        spans += [(Instant(source.id, part.start), Instant(source.id, part.end), part, found.suggestions)
                  for part in found.parts]
    shots = []
    for position, (start, end, part, suggestions) in enumerate(spans):
        kind, why = None, ""
        if part is not None:
            within = [one for one in suggestions if part.start <= one.at.pts < part.end]
            snaps = [one for one in within if one.kind is Suggested.SNAP]
            whistles = [one for one in within if one.kind is Suggested.DEAD_BALL]
            if snaps and any(whistle.at.pts > snaps[0].at.pts for whistle in whistles):
                kind, why = "play", "a snap, then a whistle"
            elif part.still and not whistles:
                ending = len(spans) > 4 and position >= len(spans) - 2
                kind = "scoreboard" if ending else "down marker"
                why = "short and at rest, at the film's end" if ending else "short and at rest"
        shots.append(FoundShot(start, end, kind, why))
    return shots


def film_sound(film: Film, surveys: Mapping[str, Survey]) -> FilmSound:
    """Return the loudness of a whole film; silence (-90 dB) where a source has no sound or no survey yet."""
    levels = np.full(int(np.ceil(float(film.duration) / EVERY)), FLOOR, np.float32)
    whistles = []
    for source in film.sources:
        found = surveys.get(source.id)
        if found is None:
            continue
        begins = float(film.starts_at(source.id))
        first = round(begins / EVERY)
        part = found.levels[:max(len(levels) - first, 0)]
        levels[first:first + len(part)] = part
        whistles.append(found.whistles + begins)
    return FilmSound(EVERY, levels, np.concatenate(whistles) if whistles else np.zeros(0))

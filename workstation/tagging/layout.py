"""Where on the film things are: which shot films a play, its snap, its dead ball and its span.

Only this module decides which play a marked snap belongs to. Film time is exact in :mod:`workstation.film`; here it is
float seconds, which place thousands of instants in a few milliseconds. Positions that are handed on stay instants.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from ..film.film import Film, Source
from ..film.index import cached_index
from ..film.time import Instant
from ..football.plays import IN_PLAY
from .model import Game, Moment, MomentKind, PlayTag, Shot


class TimedMoment(NamedTuple):
    """A moment and its film time in seconds."""

    time: float
    moment: Moment

    @property
    def kind(self) -> MomentKind:
        """What the moment marks."""
        return self.moment.kind

    @property
    def at(self) -> Instant:
        """Where the moment is: source and timestamp."""
        return self.moment.at


@dataclass(frozen=True, slots=True)
class FilmedShot:
    """A shot, its ends in film seconds, and the moments in it in film order."""

    shot: Shot
    start: float
    end: float
    moments: Sequence[TimedMoment]

    def first(self, kind: MomentKind, after: float = -1.0, until: float = float("inf")) -> TimedMoment | None:
        """The first moment of a kind from ``after`` up to and including ``until``."""
        return next((seen for seen in self.moments if seen.kind is kind and after <= seen.time <= until), None)


@dataclass(frozen=True, slots=True)
class FilmedPlay:
    """A play on the film. ``start`` and ``end`` are its span in film seconds; ``span`` holds the same as instants.

    A play alone in its shot has the whole shot for its span. Of several, each runs from where the one
    before it was over (its dead ball, or its snap if that is not marked) to the snap of the one after it.
    """

    shot: Shot
    span: tuple[Instant, Instant]
    start: float
    end: float
    snap: TimedMoment | None = None
    full_wide: TimedMoment | None = None
    dead_ball: TimedMoment | None = None

    @property
    def begins(self) -> Instant:
        """The snap, or where the span begins if no snap is marked."""
        return self.snap.at if self.snap else self.span[0]

    @property
    def action(self) -> tuple[float, float]:
        """Film seconds from snap to dead ball as far as they are marked, else the ends of the span."""
        first = self.snap.time if self.snap else self.start
        last = self.dead_ball.time if self.dead_ball else self.end
        return first, max(first, last)


class FilmTimes:
    """Film seconds of instants as floats, without the cost of fractions."""

    def __init__(self, film: Film):
        self._sources = {source.id: (float(film.starts_at(source.id)), source.start_pts, float(source.time_base))
                         for source in film.sources}
        self.duration = float(film.duration)

    def knows(self, instant: Instant) -> bool:
        """False if the instant's source is not part of the film."""
        return instant.source in self._sources

    def time(self, instant: Instant) -> float:
        """Film time in seconds. Raises ValueError if the source is not part of the film."""
        try:
            start, first, tick = self._sources[instant.source]
        except KeyError:
            raise ValueError(f"the film has no source {instant.source!r}; add its file to the film again, "
                             "or remove the shots and moments that lie in it") from None
        return start + (instant.pts - first) * tick


class FilmLayout(FilmTimes):
    """Film times of everything in one game snapshot, without what lies in a source that is not in the film."""

    def __init__(self, game: Game):
        super().__init__(game.film)
        self.game = game
        self._moments = sorted((TimedMoment(self.time(moment.at), moment) for moment in game.moments
                                if self.knows(moment.at)), key=lambda seen: (seen.time, seen.moment.id))
        self._moment_times = [seen.time for seen in self._moments]
        self.shots: dict[int, FilmedShot] = {each.shot.id: each for each in self._filmed_shots()}
        self.plays: dict[int, FilmedPlay] = self._filmed_plays()

    def moments_between(self, start: float, end: float) -> list[TimedMoment]:
        """The moments from ``start`` up to, not including, ``end``, in film order."""
        first, last = bisect_left(self._moment_times, start), bisect_left(self._moment_times, end)
        return self._moments[first:last]

    def play_at(self, time: float) -> int | None:
        """The id of the play whose span runs at ``time``, or ran last; None before the first."""
        begun = [(filmed.start, place, play) for place, (play, filmed) in enumerate(self.plays.items())
                 if filmed.start <= time]
        return max(begun)[2] if begun else None

    def snap_of_shot(self, shot_id: int, time: float = -1.0) -> Instant | None:
        """The snap in a shot that is asked for at film time ``time``: of the play there, else the first marked."""
        play = self.plays.get(self.play_at(time) or 0)
        snap = (play.snap if play and play.shot.id == shot_id and play.snap
                else self.shots[shot_id].first(MomentKind.SNAP))
        return snap.at if snap else None

    def _filmed_shots(self) -> Iterator[FilmedShot]:
        """Every shot with its moments, in film order. A moment at the very end of a shot is still in it, unless the
        next shot begins there: a dead ball may be marked behind a file's last picture."""
        shots = sorted(((self.time(shot.start), self.time(shot.end), shot) for shot in self.game.shots
                        if self.knows(shot.start) and self.knows(shot.end)), key=lambda row: row[0])
        place = 0
        for number, (start, end, shot) in enumerate(shots):
            adjoined = number + 1 < len(shots) and shots[number + 1][0] == end
            moments = []
            while place < len(self._moments) and (
                    self._moments[place].time < end or (self._moments[place].time == end and not adjoined)):
                if self._moments[place].time >= start:
                    moments.append(self._moments[place])
                place += 1
            yield FilmedShot(shot, start, end, moments)

    def _filmed_plays(self) -> dict[int, FilmedPlay]:
        """Every filmed play by id, in game order."""
        by_shot: dict[int, list[PlayTag]] = {}
        for tag in self.game.plays:
            if tag.shot in self.shots:
                by_shot.setdefault(tag.shot, []).append(tag)
        filmed = {tag.id: play for shot_id, tags in by_shot.items()
                  for tag, play in zip(tags, _share_out(self.shots[shot_id], tags), strict=True)}
        return {tag.id: filmed[tag.id] for tag in self.game.plays if tag.id in filmed}


def _share_out(filmed: FilmedShot, tags: Sequence[PlayTag]) -> list[FilmedPlay]:
    """Give each play of a shot its span and its moments.

    A play alone in its shot has the first snap marked there. Several that are snapped or kicked have one each, in
    order, if as many are marked as there are plays; otherwise it is unknown whose they are, and no play gets one. The
    dead ball is the first one marked from the snap on and before the next play's: once dead, the ball stays dead until
    it is snapped or kicked again (NFHS 4-2, NCAA 4-1), so a later mark adds nothing to the play. The picture is wide
    from the last such mark before the snap, else the first after.
    """
    shot, start, end, moments = filmed.shot, filmed.start, filmed.end, filmed.moments
    played = [number for number, tag in enumerate(tags) if tag.play.kind in IN_PLAY] if len(tags) > 1 else [0]
    snaps: list[TimedMoment | None] = [seen for seen in moments if seen.kind is MomentKind.SNAP]
    if len(played) == 1:
        snaps = snaps[:1] or [None]
    plays = [FilmedPlay(shot, (shot.start, shot.end), start, end)] * len(tags)
    if len(snaps) != len(played):
        return plays
    over: TimedMoment | None = None         # where the play before ends
    for number, (snap, following) in zip(played, pairwise([*snaps, None]), strict=True):
        opens, closes = over.time if over else start, following.time if following else end
        dead_ball = filmed.first(MomentKind.DEAD_BALL, snap.time if snap else start, closes)
        ends = dead_ball or snap
        wides = [seen for seen in moments if seen.kind is MomentKind.FULL_WIDE
                 and opens <= seen.time <= (ends.time if following and ends else end)]
        early = [seen for seen in wides if snap is None or seen.time <= snap.time]
        plays[number] = FilmedPlay(
            shot, (over.at if over else shot.start, following.at if following else shot.end), opens, closes,
            snap, early[-1] if early else wides[0] if wides else None, dead_ball)
        over = ends
    return plays


_recent: tuple[tuple[Game, FilmLayout], ...] = ()


def layout_of(game: Game) -> FilmLayout:
    """The layout of a snapshot. The last few are cached."""
    global _recent
    for known, layout in _recent:
        if known is game:
            return layout
    layout = FilmLayout(game)
    _recent = ((game, layout), *_recent[:3])
    return layout


def play_shown(layout: FilmLayout, at: Instant) -> int | None:
    """The id of the play whose span, within its own shot, holds a picture; None for any other picture."""
    if not layout.knows(at):
        return None
    time = layout.time(at)
    play = layout.play_at(time)
    return play if play is not None and time < layout.plays[play].end else None


def shot_of(game: Game, shot_id: int) -> Shot | None:
    """Return the game's shot with this id, None if there is none."""
    return next((shot for shot in game.shots if shot.id == shot_id), None)


def frame_start(film: Film, time: float) -> Instant:
    """The instant of the picture on screen at a film time."""
    instant = film.instant_at(Fraction(time).limit_denominator(1_000_000) if time > 0 else Fraction(0))
    return snapped(film, instant)


def snapped(film: Film, instant: Instant, nearest: bool = False) -> Instant:
    """Move an instant to the first tick of its picture, or to the *nearest* edge of a picture.

    The pictures are those of the source's frame index once that is made; until then they are taken
    to come at the nominal rate.
    """
    source = film.source(instant.source)
    edges = _edges(source)
    if edges is not None:
        after = int(np.searchsorted(edges, instant.pts, side="right"))
        before = max(after - 1, 0)
        if nearest and after < len(edges) and edges[after] - instant.pts <= instant.pts - edges[before]:
            before = after
        return Instant(source.id, int(edges[before]))
    ticks = source.frame_ticks
    frames = Fraction(instant.pts - source.start_pts) / ticks
    number = int(frames + Fraction(1, 2)) if nearest else int(frames)
    last = int(Fraction(source.duration_pts) / ticks)
    return Instant(source.id, source.start_pts + int(min(max(number, 0), last) * ticks + Fraction(1, 2)))


def has_pictures(film: Film, instant: Instant) -> bool:
    """Whether the pictures of an instant's source are known, so that :func:`snapped` is exact."""
    return _edges(film.source(instant.source)) is not None


_kept_edges: dict[str, np.ndarray] = {}


def _edges(source: Source) -> np.ndarray | None:
    """First ticks of a source's pictures and the tick after the last one; None while there is no index."""
    edges = _kept_edges.get(source.fingerprint)
    if edges is None and (index := cached_index(source)) is not None:
        edges = _kept_edges[source.fingerprint] = np.append(index.pts, index.end)
    return edges

"""The film laid beside the game: which shots hold which plays, and what lies between them.

Everything here is in film seconds (floats are exact enough to compare with a profile's
seconds; positions handed on stay instants).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from ..film.film import Film
from ..film.time import Instant
from ..football.plays import PlayKind
from ..football.step import Step
from ..tagging.model import Framing, Game, Moment, MomentKind, PlayTag, Shot, ShotKind, Shows

IN_PLAY = frozenset({PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, PlayKind.KNEEL, PlayKind.SPIKE, PlayKind.PUNT,
                     PlayKind.FIELD_GOAL, PlayKind.KICKOFF, PlayKind.SAFETY_FREE_KICK, PlayKind.TRY_KICK,
                     PlayKind.TRY_RUN, PlayKind.TRY_PASS})
"""Plays in which the ball is snapped or kicked; the rest are events between them."""

UNSHOT = 2.0
"""Seconds of film without a shot marked that are taken to be slack between two shots rather
than footage nobody has looked at yet."""


@dataclass(slots=True)
class Seen:
    """A moment in film seconds."""

    kind: MomentKind
    time: float
    at: Instant


@dataclass(slots=True)
class Take:
    """A shot with everything in it. ``tags`` are positions in ``game.plays`` that it films."""

    index: int
    shot: Shot
    start: float
    end: float
    moments: list[Seen] = field(default_factory=list)
    tags: list[int] = field(default_factory=list)
    snaps: list[int] = field(default_factory=list)

    @property
    def seconds(self) -> float:
        return self.end - self.start

    @property
    def tagged(self) -> bool:
        """Somebody has said what this shot is; a play's shot without its play is not told yet, and what
        the shot finder takes a shot to be is nobody's word."""
        kind = self.shot.kind
        return bool(self.tags) or (self.shot.confirmed and kind is not None and kind is not ShotKind.PLAY)

    def first(self, kind: MomentKind, after: float = -1.0) -> Seen | None:
        for seen in self.moments:
            if seen.kind is kind and seen.time >= after:
                return seen
        return None

    def holds(self, kind: ShotKind) -> bool:
        return self.shot.kind is kind or self.shot.opens_on is kind

    @property
    def shows_down(self) -> bool:
        return Shows.DOWN in self.shot.shows or self.holds(ShotKind.DOWN_MARKER)

    @property
    def shows_score(self) -> bool:
        return Shows.SCORE in self.shot.shows or self.holds(ShotKind.SCOREBOARD)

    @property
    def shows_clock(self) -> bool:
        return Shows.CLOCK in self.shot.shows or self.holds(ShotKind.SCOREBOARD)


@dataclass(slots=True)
class Between:
    """What lies between two filmed plays: tagged shots in film order, tags in game order.

    ``known`` is False while a shot in it has not been tagged (``untagged`` counts them) or film
    in it has no shot marked.
    """

    takes: list[Take] = field(default_factory=list)
    tags: list[int] = field(default_factory=list)
    known: bool = True
    untagged: int = 0

    def fill(self, takes: list[Take], start: float, end: float | None = None) -> None:
        """Put in the shots that lie here; ``start`` and ``end`` are film seconds, None the last shot's end."""
        at = start
        for take in takes:
            self.known &= take.tagged and take.start - at <= UNSHOT
            at = max(at, take.end)
        if end is not None:
            self.known &= end - at <= UNSHOT
        self.takes = [take for take in takes if take.tagged]
        self.untagged = len(takes) - len(self.takes)

    def of(self, kind: ShotKind) -> list[Take]:
        return [take for take in self.takes if take.holds(kind)]


@dataclass(slots=True)
class Snap:
    """A play in which the ball is snapped or kicked, and its filming.

    ``take`` is None where it was not filmed; then the moments are None too. ``between`` is what
    lies between it and the filmed play before it. ``follows`` and ``followed`` tell that the
    same shot also holds the play before, the play after.
    """

    position: int
    tag: PlayTag
    step: Step
    take: Take | None = None
    full_wide: Seen | None = None
    snap: Seen | None = None
    dead_ball: Seen | None = None
    between: Between = field(default_factory=Between)
    follows: bool = False
    followed: bool = False

    @property
    def at(self) -> Instant:
        """The snap, or where its shot begins."""
        return self.snap.at if self.snap else self.take.shot.start

    @property
    def time(self) -> float:
        return self.snap.time if self.snap else self.take.start

    @property
    def wide_from(self) -> float | None:
        """Film seconds from which every player is in the picture; None if nobody said."""
        if self.full_wide:
            return self.full_wide.time
        if self.take.shot.framing is Framing.WIDE and not self.take.shot.opens_on and not self.follows:
            return self.take.start
        return None


class Clock:
    """Film seconds of instants, without the fractions."""

    def __init__(self, film: Film):
        self._sources: dict[str, tuple[float, int, float]] = {}
        for source in film.sources:
            self._sources[source.id] = (float(film.starts_at(source.id)), source.start_pts, float(source.time_base))
        self.end = float(film.duration)

    def __call__(self, at: Instant) -> float:
        try:
            start, first, tick = self._sources[at.source]
        except KeyError:
            raise ValueError(f"the film has no source {at.source!r}; add its file to the film again, "
                             "or remove the shots and moments that lie in it") from None
        return start + (at.pts - first) * tick


class Footage:
    """A game's film laid beside its plays.

    ``snaps`` are all plays with a snap or kick in game order, ``filmed`` those of them that a
    shot films; ``after`` is what follows the last of them. ``complete`` says that nothing more
    is to come: the film is tagged to its last picture. (That the tracker says the game is over is
    not enough: the closing shots may lie in film that nobody has looked at yet.)
    """

    def __init__(self, game: Game, steps: Sequence[Step]):
        self.game = game
        self.steps = steps
        self.clock = Clock(game.film)
        self.takes = self._lay_out(game.shots, game.moments)
        self.snaps = self._lay_in_plays(game.plays, steps)
        self.filmed = [snap for snap in self.snaps if snap.take]
        self.after = self._between()
        last = self.takes[-1] if self.takes else None
        to_the_end = last is not None and last.tagged and self.clock.end - last.end <= UNSHOT
        self.complete = bool(self.filmed) and self.after.known and to_the_end

    def _lay_out(self, shots: Sequence[Shot], moments: Sequence[Moment]) -> list[Take]:
        clock = self.clock
        takes = sorted((Take(0, shot, clock(shot.start), clock(shot.end)) for shot in shots),
                       key=lambda take: take.start)
        for index, take in enumerate(takes):
            take.index = index
        seen = sorted((Seen(moment.kind, clock(moment.at), moment.at) for moment in moments),
                      key=lambda each: each.time)
        index = 0
        for each in seen:
            while index < len(takes) and (takes[index].end < each.time or (
                    takes[index].end == each.time and index + 1 < len(takes)
                    and takes[index + 1].start == each.time)):
                index += 1
            if index == len(takes):
                break
            if takes[index].start <= each.time:
                takes[index].moments.append(each)
        return takes

    def _lay_in_plays(self, tags: Sequence[PlayTag], steps: Sequence[Step]) -> list[Snap]:
        if len(tags) != len(steps):
            raise ValueError(f"{len(tags)} plays but {len(steps)} steps; track the same plays that are checked")
        by_shot = {take.shot.id: take for take in self.takes}
        snaps = []
        for position, (tag, step) in enumerate(zip(tags, steps, strict=True)):
            take = None
            if tag.shot is not None:
                take = by_shot.get(tag.shot)
                if take is None:
                    raise ValueError(f"play {tag.id} is said to be filmed by shot {tag.shot}, which the game does "
                                     "not have; give the play another shot or say that it was not filmed")
                take.tags.append(position)
            if tag.play.kind in IN_PLAY:
                snap = Snap(position, tag, step, take)
                snaps.append(snap)
                if take:
                    take.snaps.append(len(snaps) - 1)
        for take in self.takes:
            if take.snaps and take.moments:
                _share_out(take, [snaps[each] for each in take.snaps])
        return snaps

    def _between(self) -> Between:
        """Fill in what lies before every filmed snap; return what lies after the last."""
        takes, before, done, previous = self.takes, Between(), 0, None
        snap_at = {snap.position: snap for snap in self.snaps}
        for position in range(len(self.steps)):
            snap = snap_at.get(position)
            if snap is None or snap.take is None:
                before.tags.append(position)
                continue
            if previous and previous.take is snap.take:
                snap.follows = previous.followed = True
            else:
                end = previous.take.end if previous else 0.0
                before.fill([take for take in takes[done:snap.take.index] if not take.snaps], end, snap.take.start)
                done = max(done, snap.take.index + 1)
            snap.between, before, previous = before, Between(), snap
        before.fill([take for take in takes[done:] if not take.snaps], previous.take.end if previous else 0.0)
        return before


def _share_out(take: Take, snaps: list[Snap]) -> None:
    """Give each play in a shot its moments; a shot whose snaps are not all tagged gives none away."""
    marks = [seen for seen in take.moments if seen.kind is MomentKind.SNAP]
    if len(snaps) == 1:
        windows = [(take.start, take.end)]
        marks = marks[:1] or [None]
    elif len(marks) == len(snaps):
        edges = [take.start]
        for mark, following in pairwise(marks):
            over = next((seen.time for seen in take.moments if seen.kind is MomentKind.DEAD_BALL
                         and mark.time <= seen.time <= following.time), mark.time)
            edges.append(over)
        windows = list(zip(edges, [*edges[1:], take.end], strict=True))
    else:
        return
    for snap, mark, (start, end) in zip(snaps, marks, windows, strict=True):
        snap.snap = mark
        wides = [seen for seen in take.moments if seen.kind is MomentKind.FULL_WIDE and start <= seen.time <= end]
        before = [seen for seen in wides if mark is None or seen.time <= mark.time]
        snap.full_wide = before[-1] if before else wides[0] if wides else None
        snap.dead_ball = next((seen for seen in take.moments if seen.kind is MomentKind.DEAD_BALL
                               and (mark.time if mark else start) <= seen.time <= end), None)

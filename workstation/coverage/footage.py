"""The film laid beside the game: which shots hold which plays, and what lies between them.

Everything here is in film seconds (floats are exact enough to compare with a profile's seconds; positions handed on
stay instants).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NotRequired, TypedDict

from ..film.time import Instant
from ..football.plays import IN_PLAY
from ..football.step import Step
from ..tagging.layout import FilmedPlay, FilmedShot, TimedMoment, layout_of
from ..tagging.model import Framing, Game, PlayTag, ShotKind, Shows

UNSHOT = 2.0
"""Most seconds of film without a marked shot that are slack between two shots; longer film is not looked at yet."""


@dataclass(frozen=True, slots=True)
class Take(FilmedShot):
    """A shot as a rule looks at it. ``tags`` are positions in ``game.plays`` that it films."""

    index: int
    tags: list[int] = field(default_factory=list)

    @property
    def seconds(self) -> float:
        """The length of the shot in seconds."""
        return self.end - self.start

    @property
    def tagged(self) -> bool:
        """Whether a person said what this shot is: a play's shot once its play is tagged, no suggested kind."""
        kind = self.shot.kind
        return bool(self.tags) or (self.shot.confirmed and kind is not None and kind is not ShotKind.PLAY)

    def holds(self, kind: ShotKind) -> bool:
        """Whether the shot is of this kind, or opens on it."""
        return self.shot.kind is kind or self.shot.opens_on is kind

    @property
    def shows_down(self) -> bool:
        """Whether the down can be read from the shot."""
        return Shows.DOWN in self.shot.shows or self.holds(ShotKind.DOWN_MARKER)

    @property
    def shows_score(self) -> bool:
        """Whether the score can be read from the shot."""
        return Shows.SCORE in self.shot.shows or self.holds(ShotKind.SCOREBOARD)

    @property
    def shows_clock(self) -> bool:
        """Whether the game clock can be read from the shot."""
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
        """Return the takes that are of this kind or open on it."""
        return [take for take in self.takes if take.holds(kind)]


class Where(TypedDict):
    """What a judgement is about, as the rules hand it on: a period, and a play or a shot by id."""

    period: int
    play: NotRequired[int]
    shot: NotRequired[int]


@dataclass(slots=True)
class Snap:
    """A filmed play in which the ball is snapped or kicked.

    ``between`` is what lies between it and the filmed play before it. ``follows`` and ``followed`` tell that
    the same shot also holds the play before, the play after.
    """

    position: int
    tag: PlayTag
    step: Step
    take: Take
    filmed: FilmedPlay
    between: Between = field(default_factory=Between)
    follows: bool = False
    followed: bool = False

    @property
    def full_wide(self) -> TimedMoment | None:
        """The moment from which all players are in frame, None if not marked."""
        return self.filmed.full_wide

    @property
    def snap(self) -> TimedMoment | None:
        """The moment of the snap, None if not marked."""
        return self.filmed.snap

    @property
    def dead_ball(self) -> TimedMoment | None:
        """The moment the ball is dead, None if not marked."""
        return self.filmed.dead_ball

    @property
    def where(self) -> Where:
        """The play and its shot, for a judgement about them."""
        return {"period": self.step.before.period, "play": self.tag.id, "shot": self.take.shot.id}

    @property
    def at(self) -> Instant:
        """The snap, or where its shot begins."""
        return self.snap.at if self.snap else self.take.shot.start

    @property
    def starts(self) -> Instant:
        """Where the play comes into view: its shot's start, the snap where the shot holds the play before, too."""
        return self.at if self.follows else self.take.shot.start

    @property
    def time(self) -> float:
        """The snap in seconds of film; the start of the shot if no snap is marked."""
        return self.snap.time if self.snap else self.take.start

    @property
    def wide_from(self) -> float | None:
        """Film seconds from which every player is in the picture; None if unknown."""
        if self.full_wide:
            return self.full_wide.time
        if self.take.shot.framing is Framing.WIDE and not self.take.shot.opens_on and not self.follows:
            return self.take.start
        return None


def period_of(before: Snap | None) -> int:
    """The period of what follows a filmed play: that of the play, the first before any."""
    return before.step.before.period if before else 1


def place_of(before: Snap | None, between: Between, after: Snap | None) -> Instant:
    """The place of a finding about what lies between two filmed plays: the start of the first shot there, else where
    the play after begins, else where the last shot ends."""
    if between.takes:
        return between.takes[0].shot.start
    if after:
        return after.starts
    assert before is not None       # there is a filmed play at one end at least
    return before.take.shot.end


class Footage:
    """A game's film laid beside its plays.

    ``filmed`` are the plays with a snap or kick that a shot films, in game order; ``after`` is what follows the
    last of them. ``complete`` says that nothing more is to come: the film is tagged to its last picture. (That the
    tracker says the game is over is not enough: the closing shots may lie in film that nobody has looked at yet.)
    """

    def __init__(self, game: Game, steps: Sequence[Step]):
        self.game = game
        self.steps = steps
        self.layout = layout_of(game)
        for at in (*(edge for shot in game.shots for edge in (shot.start, shot.end)),
                   *(moment.at for moment in game.moments)):
            self.layout.time(at)        # raises ValueError for a moment that is in no source
        self.takes = [Take(filmed.shot, filmed.start, filmed.end, filmed.moments, index)
                      for index, filmed in enumerate(self.layout.shots.values())]
        self.filmed = self._lay_in_plays(game.plays, steps)
        self.after = self._between()
        last = self.takes[-1] if self.takes else None
        to_the_end = last is not None and last.tagged and self.layout.duration - last.end <= UNSHOT
        self.complete = bool(self.filmed) and self.after.known and to_the_end

    def _lay_in_plays(self, tags: Sequence[PlayTag], steps: Sequence[Step]) -> list[Snap]:
        if len(tags) != len(steps):
            raise ValueError(f"{len(tags)} plays but {len(steps)} steps; track the same plays that are checked")
        by_shot = {take.shot.id: take for take in self.takes}
        snaps = []
        for position, (tag, step) in enumerate(zip(tags, steps, strict=True)):
            if tag.shot is None:
                continue
            take = by_shot.get(tag.shot)
            if take is None:
                raise ValueError(f"play {tag.id} is said to be filmed by shot {tag.shot}, which the game does "
                                 "not have; give the play another shot or say that it was not filmed")
            take.tags.append(position)
            if tag.play.kind in IN_PLAY:
                snaps.append(Snap(position, tag, step, take, self.layout.plays[tag.id]))
        return snaps

    def _between(self) -> Between:
        """Fill in what lies before every filmed snap; return what lies after the last."""
        takes, before, done = self.takes, Between(), 0
        holds_play = {snap.take.index for snap in self.filmed}
        previous: Snap | None = None
        snap_at = {snap.position: snap for snap in self.filmed}
        for position in range(len(self.steps)):
            snap = snap_at.get(position)
            if snap is None:
                before.tags.append(position)
                continue
            if previous and previous.take is snap.take:
                snap.follows = previous.followed = True
            else:
                end = previous.take.end if previous else 0.0
                before.fill([take for take in takes[done:snap.take.index] if take.index not in holds_play], end,
                            snap.take.start)
                done = max(done, snap.take.index + 1)
            snap.between, before, previous = before, Between(), snap
        before.fill([take for take in takes[done:] if take.index not in holds_play],
                    previous.take.end if previous else 0.0)
        return before

"""What people say about a film. Nothing in here is derived; everything is a plain frozen value.

Ids are positive integers, unique within their kind in a game and never reused.
Spans run from ``start`` (the first picture in them) to ``end`` (the first picture after them).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property

from ..film.film import Film, Source
from ..film.time import Instant
from ..football.field import Team
from ..football.plays import Play
from .own_words.definition import Vocabulary, WordSaid


class ShotKind(StrEnum):
    """What a shot films."""

    PLAY = "play"
    DOWN_MARKER = "down marker"
    SCOREBOARD = "scoreboard"
    MEASUREMENT = "measurement"
    PENALTY_SIGNAL = "penalty signal"
    COIN_TOSS = "coin toss"
    HANDSHAKE = "handshake"
    ALTERCATION = "altercation"
    INJURY = "injury"
    EXTRA = "extra"


class MomentKind(StrEnum):
    """What happens at a marked moment within a shot."""

    FULL_WIDE = "full wide"                    # all players in frame, camera steady
    SNAP = "snap"                              # or the kick of a free kick
    DEAD_BALL = "dead ball"
    SIGNAL = "signal"                          # the referee signals or announces
    CHAINS_SET = "chains set"                  # the first stick is planted
    RESULT_SHOWN = "result shown"              # the measurement's result can be seen
    CONFRONTATION = "confrontation"            # players begin to confront each other
    CONFRONTATION_OVER = "confrontation over"
    CARE = "care"                              # care is being given to a player on the field
    ANNOUNCEMENT = "announcement"              # down, score or ruling is heard on the film
    SNAP_NOT_ON_FILM = "snap not on film"      # the shot begins when the play is under way
    CUT_WHILE_LIVE = "cut while live"          # the shot ends while the ball is live
    BALL_LOST = "ball lost"                    # the ball leaves the picture
    NOT_ALL_IN_FRAME = "not all in frame"      # players are outside the picture before the snap
    ZOOM_NOT_SETTLED = "zoom not settled"      # the picture still moves in or out at the snap


class Framing(StrEnum):
    """How much of the field a shot shows, and whether it pulls out."""

    CLOSE = "close"
    WIDE = "wide"
    CLOSE_TO_WIDE = "close to wide"


class Shows(StrEnum):
    """What a viewer can read in a shot beyond what its kind implies."""

    DOWN = "down"
    SCORE = "score"
    CLOCK = "clock"


@dataclass(frozen=True, slots=True)
class Shot:
    """One uninterrupted recording. ``opens_on`` names the second job of a shot that does two:
    it opens on the down marker, say, and pulls out to the play. ``confirmed`` is False while
    only the shot finder has said so."""

    id: int
    start: Instant
    end: Instant
    kind: ShotKind | None = None
    opens_on: ShotKind | None = None
    framing: Framing | None = None
    shows: frozenset[Shows] = frozenset()
    confirmed: bool = True


@dataclass(frozen=True, slots=True)
class Moment:
    """``uncertainty``: seconds either way that a suggestion may be off; 0 once a person has marked the
    moment or looked at it."""

    id: int
    kind: MomentKind
    at: Instant
    uncertainty: float = 0.0


@dataclass(frozen=True, slots=True)
class PlayTag:
    """A play in its place in the game. ``shot`` is the id of the shot that films it, or None
    if it was not filmed. Plays are in game order by ``order`` (any float; insert between two).
    ``words``: what was said in the staff's own words, by their names; nothing that follows from it."""

    id: int
    order: float
    play: Play
    shot: int | None = None
    words: tuple[WordSaid, ...] = ()


@dataclass(frozen=True, slots=True)
class Note:
    """A reviewer's text at a moment or over a span of film."""

    id: int
    at: Instant
    text: str
    until: Instant | None = None


@dataclass(frozen=True, slots=True)
class Remark:
    """What a mentor says of the filming, in a word of the crew's own list; ``praise`` is for what was done well.
    ``until`` is None where it is about one place."""

    id: int
    word: str
    at: Instant
    until: Instant | None = None
    praise: bool = False
    comment: str = ""


class DrawingKind(StrEnum):
    """The shape of a drawing on a picture."""

    ARROW = "arrow"
    CIRCLE = "circle"
    FREEHAND = "freehand"
    TEXT = "text"


@dataclass(frozen=True, slots=True)
class Drawing:
    """A mark on the picture. ``points`` are fractions of picture width and height (0 to 1)."""

    id: int
    kind: DrawingKind
    at: Instant
    points: tuple[tuple[float, float], ...]
    until: Instant | None = None
    text: str = ""


class CameraPlace(StrEnum):
    """Where a camera stands and how it frames."""

    HIGH_WIDE = "high and wide"
    HIGH_TIGHT = "high and tight"
    END_ZONE = "end zone"
    SIDELINE = "sideline"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Angle:
    """A further camera of the game. The game's own film is its first angle, which the heading describes."""

    id: int
    name: str
    place: CameraPlace = CameraPlace.OTHER
    crew: str = ""              # who filmed it
    profile: str = "default"    # the crew profile that it is judged by


class Evidence(StrEnum):
    """What a match of a play with a shot of a further angle rests on."""

    PERSON = "person"
    SOUND = "sound"             # both microphones heard the same
    CLOCK = "clock"             # the cameras' own clocks, with a constant offset and drift
    ORDER = "order"             # the order and the lengths of shots


@dataclass(frozen=True, slots=True)
class Match:
    """Which ``shot`` of a further angle films a play. ``same`` holds two instants that show the same moment, the
    first angle's and the further one's; None if unknown. ``uncertainty``: seconds either way that they may differ."""

    angle: int
    play: int
    shot: int
    same: tuple[Instant, Instant] | None = None
    evidence: Evidence = Evidence.PERSON
    uncertainty: float = 0.0


class Verdict(StrEnum):
    """What a person decided about a finding."""

    AGREED = "agreed"
    WAIVED = "waived"


@dataclass(frozen=True, slots=True)
class Decision:
    """What a person decided about a finding; ``finding`` is its key (what it is about).
    A waiver has a reason; ``comment`` may stand without a verdict."""

    finding: str
    verdict: Verdict | None = None
    reason: str = ""
    comment: str = ""


@dataclass(frozen=True, slots=True)
class SequenceItem:
    """A play in a sequence with its handles (extra seconds before and after its shot's tagged action). ``angles`` are
    those that show it, one after another, by their numbers; none: the first one. 0 is the first angle. ``beside`` shows
    them in one picture instead, in step: equally large, or with ``inset`` the first one large and the others small in
    its corner. ``sound`` is the angle whose sound is heard, None for each one's own (in one picture: the first
    one's)."""

    play: int
    lead_in: float = 0.0
    lead_out: float = 0.0
    angles: tuple[int, ...] = ()
    beside: bool = False
    sound: int | None = None
    inset: bool = False


@dataclass(frozen=True, slots=True)
class Sequence:
    """A named, ordered list of plays to show or export."""

    id: int
    name: str
    items: tuple[SequenceItem, ...] = ()


@dataclass(frozen=True, slots=True)
class Heading:
    """What is known about the game as a whole. ``rulebook`` and ``profile`` name resources."""

    title: str = ""
    home: str = "Home"
    visitors: str = "Visitors"
    date: str = ""              # ISO 8601
    venue: str = ""
    level: str = ""
    rulebook: str = "nfhs"
    season: int | None = None   # the rulebook's edition; None for the newest
    profile: str = "default"
    crew: str = ""              # who filmed it; groups games for the trend
    policies: tuple[str, ...] = ()  # film exchange policies that the film is held to; each names a resource
    angle: str = "High"         # what the first angle is called
    place: CameraPlace = CameraPlace.HIGH_WIDE  # where its camera stood

    @property
    def spoken(self) -> str:
        """The game's title, or else who plays at whom."""
        return self.title or f"{self.visitors} at {self.home}"

    @property
    def names(self) -> dict[Team, str]:
        """What each team is called."""
        return {Team.HOME: self.home, Team.VISITORS: self.visitors}

    def name_of(self, team: Team | None) -> str:
        """What a team is called; empty for none."""
        return "" if team is None else self.names[team]


@dataclass(frozen=True)
class AngleFilm:
    """What a further angle filmed, and what was said about that film."""

    angle: Angle
    film: Film = field(default_factory=Film)
    shots: tuple[Shot, ...] = ()        # in film order, as moments and remarks
    moments: tuple[Moment, ...] = ()
    notes: tuple[Note, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    remarks: tuple[Remark, ...] = ()


@dataclass(frozen=True)
class Game:
    """A whole game as tagged: one immutable snapshot. Film, shots, moments, notes, drawings and remarks are those of
    the first angle; :func:`.angles.seen_from` makes a game of another one's."""

    heading: Heading = field(default_factory=Heading)
    film: Film = field(default_factory=Film)
    shots: tuple[Shot, ...] = ()        # in film order
    moments: tuple[Moment, ...] = ()    # in film order
    plays: tuple[PlayTag, ...] = ()     # in game order
    notes: tuple[Note, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    decisions: tuple[Decision, ...] = ()
    sequences: tuple[Sequence, ...] = ()
    remarks: tuple[Remark, ...] = ()    # in film order
    vocabulary: Vocabulary = field(default_factory=Vocabulary)     # the staff's own words, as this game uses them
    coming: tuple[WordSaid, ...] = ()   # said of a play before it is known; the next new play takes them
    angles: tuple[AngleFilm, ...] = ()  # the further angles, by id
    matches: tuple[Match, ...] = ()     # by angle and play

    @property
    def recordings(self) -> tuple[Game | AngleFilm, ...]:
        """What each angle filmed, the first one's first."""
        return (self, *self.angles)

    @property
    def sources(self) -> tuple[Source, ...]:
        """The camera files of all angles, the first one's first."""
        return tuple(source for recording in self.recordings for source in recording.film.sources)

    @property
    def about(self) -> str:
        """Date, venue, level and crew, as far as they are known; of several angles which one this is the film of."""
        said = self.heading
        return ", ".join(filter(None, (said.date, said.venue, said.level, f"filmed by {said.crew}" if said.crew else "",
                                       f"the film of {said.angle}" if self.angles else "")))

    def with_films(self, change: Callable[[Film], Film]) -> Game:
        """The game with what *change* makes of the film of each angle."""
        return replace(self, film=change(self.film),
                       angles=tuple(replace(each, film=change(each.film)) for each in self.angles))

    @cached_property
    def decision_by_finding(self) -> Mapping[str, Decision]:
        """What was decided, by the key of the finding that it is about."""
        return {decision.finding: decision for decision in self.decisions}

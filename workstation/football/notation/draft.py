"""A play in the making: what the words said so far, and what a number would mean next."""

from __future__ import annotations

import copy
from dataclasses import dataclass, replace
from typing import Any

from ..field import Team, spoken_spot, spoken_yards
from ..plays import BallEvent, EventKind, Outcome, Play, PlayKind, Score, Side
from ..rulebook import Rulebook
from ..situation import Next, Situation
from .downs import Again, BallPut, Call, PutInPlay, ToGo

FREE_KICKS = (PlayKind.KICKOFF, PlayKind.SAFETY_FREE_KICK)
KICKS = (PlayKind.PUNT, *FREE_KICKS)
GAINING = (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, PlayKind.KNEEL, PlayKind.TRY_RUN, PlayKind.TRY_PASS,
    PlayKind.REPLAY_REVERSAL)
TRIES = (PlayKind.TRY_KICK, PlayKind.TRY_RUN, PlayKind.TRY_PASS)
BETWEEN = (PlayKind.COIN_TOSS, PlayKind.TIMEOUT, PlayKind.END_OF_PERIOD, PlayKind.MEASUREMENT)
RUNNERS = ("runner", "ball carrier", "carrier", "tailback", "fullback", "halfback", "running back", "rb", "tb",
    "fb", "hb")
"""Players whose fumble is one on a run."""
PUNTERS = ("punter", "returner")
"""Players whose kick from scrimmage is a punt."""
SNAP_TO_KICK = 7.0
"""Yards between the line of scrimmage and the holder, by rule of thumb (common practice, no source)."""

PENALTY_YARDS = (5, 10, 15)
"""What fouls cost: other yards before a foul's name, with no kind of play, are those of the play."""

# What must come next, as a kind, if the situation leaves only one.
DUE_KIND = {Next.COIN_TOSS: PlayKind.COIN_TOSS, Next.KICKOFF: PlayKind.KICKOFF,
    Next.SAFETY_FREE_KICK: PlayKind.SAFETY_FREE_KICK, Next.TRY: PlayKind.TRY_KICK}


class Refused(Exception):
    """A word, number or place that cannot stand where it does; the text says why."""


@dataclass(frozen=True, slots=True)
class Chip:
    """What one piece of the line was understood as. ``start`` and ``end`` are its place in the text."""

    text: str
    start: int
    end: int
    state: str = "plain"  # kind, plain, passed over


@dataclass(frozen=True, slots=True)
class Finished:
    """A reading of the whole line. ``filled`` says what was filled in or could mean something else, ``doubts`` what the
    line contradicts; ``penalty`` is 0 where each word was used in its plain meaning."""

    play: Play
    penalty: int
    filled: tuple[str, ...]
    doubts: tuple[str, ...]
    draft: Draft


class Draft:
    """One way to understand the line so far. Copied before every step, so that ways part without a trace."""

    def __init__(self, before: Situation, rulebook: Rulebook) -> None:
        self.before, self.rulebook = before, rulebook
        self.due = DUE_KIND.get(before.next)
        self.kind: PlayKind | None = None
        self.fields: dict[str, Any] = {}
        self.exact = False  # field by field: nothing is worked out
        self.events: list[BallEvent] = []
        self.fouls: list[dict[str, Any]] = []
        self.said: dict[str, Any] | None = None
        self.chips: list[Chip] = []
        self.passed: tuple[int, ...] = ()  # tokens passed over
        self.useless = 0  # how many phrases found no use
        self.penalty = 0
        self.filled: list[str] = []
        self.doubts: list[str] = []
        self.slot = "kick_to" if self.due in FREE_KICKS else ""
        self.in_foul = False
        self.fouled_by: Side | None = None  # the side of who fouled, as far as a player's number tells
        self.side_guessed = 0  # the penalty for the side of a yard line that was not said
        self.prep = ""  # the preposition before the word at hand
        self.the = False  # "the" before the number at hand
        self.loss = False  # "loss" was said, its yards are still to come
        self.pending: float | None = None  # yards said before what they are yards of
        self.side: Side | None = None  # a side named before what it did
        self.side_where: tuple[str, int, int] | None = None
        self.flagged = False  # "penalty" was said
        self.nullified = False
        self.two_point = False
        self.points_said = False  # "two points" was said behind a try
        self.returned = False
        self.zone: str = ""  # "in" or "through" the end zone, not used yet
        self.zone_side: Side | None = None
        self.pending_by: Side | None = None
        self.caught: float | None = None  # where an interception was caught
        self.caught_at = False  # and it was said so
        self.came_from: float | None = None  # where the return at hand began
        self.claims: list[str] = []
        self.calls: list[Again | Call | PutInPlay | BallPut | ToGo] = []  # what follows the play, said along with it
        self.runner = False  # who runs with the ball was named
        self.punter = False  # who punts, or returns a punt, was named
        self.both: Any = None
        self.both_by = False  # "both" was said of the last two fouls, whose side follows
        self.gain_said = False
        self.spot_said: float | None = None  # where a run or catch ended, as a yard line
        self.kick_yards: float | None = None
        self.return_yards: float | None = None
        self.length: float | None = None  # of a field goal
        self.end_said = False  # where the play ended was said after the last thing that happened
        self.back = False
        self.kind_from_manner = False  # the kind was only told by the manner
        self.complete = False  # "caught" was said besides "pass"
        self.touchback = False
        self.bare: Any = None  # how a bare number was taken: as a yard line or a distance
        self.exactly = False
        self.out = False  # out of bounds was said of a run or catch
        self.inferred = ""  # why the kind is what it is, if it was not said
        self.looking = ""  # the phrase that is looked up
        self.phrase = ""  # the words at hand as they were typed
        self.last: Any = None  # what the last word that tells something does
        self.early: dict[str, Any] = {}  # said about a foul before its name
        self.plus = False  # "plus" was said after the yards of the play: those of a foul follow
        self.actor: Side | None = None  # who was named as the subject last
        self.dangling = ""  # a word that announces a number or place, still to come
        self.either = 0  # the penalty for a number that may be a yard line or a distance
        self.fielded = False  # who received the kick had it in his hands
        self.bound = ""  # why a kick's place is only a bound so far: "inside the 10"
        self.crossed = False  # the runner crossed midfield
        self.crossed_goal = False  # and the goal line
        self.unreturned = False  # nobody brought the kick back
        self.dropped_back = False  # the quarterback was back to pass
        self.off_upright = False  # a kick hit the upright, and what became of it was not said yet
        self.holder_on_try: Side | None = None
        self.snap_lost = False  # and no kind of play was said
        self.measured = False  # the play was measured, which is said along with it
        self.letter_alone = False  # a pass was told by its letter alone, on the last down
        self.punt_told = False  # a punt was said in the whole word
        self.for_two = False  # "for two" was said behind the try
        self.thrown_from: float | None = None  # where an incomplete pass was thrown
        self.uncharged = False  # the timeout is the officials'

    def copy(self) -> Draft:
        """A draft that changes apart from this one."""
        other = copy.copy(self)
        other.fields, other.events, other.chips = dict(self.fields), list(self.events), list(self.chips)
        other.fouls = [dict(foul) for foul in self.fouls]
        other.calls = list(self.calls)
        other.said = None if self.said is None else dict(self.said)
        other.filled, other.doubts, other.claims = list(self.filled), list(self.doubts), list(self.claims)
        return other

    def anything_said(self) -> bool:
        """Something of the play itself was said."""
        return bool(self.kind is not None or self.fields.keys() - {"clock", "comment"} or self.events or self.fouls
            or self.pending is not None or self.gain_said or self.spot_said is not None)

    # -- questions ----------------------------------------------------------------------------
    @property
    def play_kind(self) -> PlayKind | None:
        """The kind of play, said or left by the situation."""
        return self.kind or self.due

    @property
    def outcome(self) -> Outcome | None:
        """What became of the play, as far as it was said."""
        found: Outcome | None = self.fields.get("outcome")
        return found

    @property
    def gain(self) -> float | None:
        """Yards gained, if they were said; the next ones are the play's too."""
        found: float | None = self.fields.get("gain")
        return found

    @property
    def kick_to(self) -> float | None:
        """Where a kick came down."""
        found: float | None = self.fields.get("kick_to")
        return found

    @property
    def kick_from(self) -> float | None:
        """Where a kick was kicked."""
        found: float | None = self.fields.get("kick_from")
        return found

    @property
    def spot(self) -> float | None:
        """Where the ball became dead."""
        found: float | None = self.fields.get("spot")
        return found

    @property
    def score(self) -> Score | None:
        """What was scored."""
        found: Score | None = self.fields.get("score")
        return found

    @property
    def possession(self) -> Side | None:
        """Who had the ball when it became dead."""
        found: Side | None = self.fields.get("possession")
        return found

    @property
    def in_field(self) -> float:
        """The length of the field, in yards."""
        return self.rulebook.field_length

    @property
    def start(self) -> float | None:
        """Where the ball was before the play."""
        return self.before.ball_on

    @property
    def posts(self) -> float:
        """Where the posts stand: on the end line, in Canadian rules on the goal line."""
        return self.in_field + (0 if self.rulebook.single_point else self.rulebook.end_zone_depth)

    def spoken(self, spot: float) -> str:
        """A spot as it is spoken."""
        return spoken_spot(spot, self.in_field)

    def is_kick(self) -> bool:
        """Whether something was kicked."""
        return self.play_kind in (*KICKS, PlayKind.FIELD_GOAL, PlayKind.TRY_KICK)

    def holder(self) -> Side:
        """Who has the ball, as far as it was said."""
        holder = Side.DEFENSE if self.outcome is Outcome.INTERCEPTED else Side.OFFENSE
        if self.play_kind in KICKS and self.outcome is not Outcome.BLOCKED:
            holder = Side.DEFENSE
        if self.play_kind is PlayKind.FIELD_GOAL and self.returned and self.outcome is not Outcome.BLOCKED:
            holder = Side.DEFENSE
        for event in self.events:
            if event.kind is EventKind.INTERCEPTION:
                holder = event.by or Side.DEFENSE
            elif event.kind in (EventKind.RECOVERY, EventKind.CATCH, EventKind.OWN_RECOVERY) and event.by is not None:
                holder = event.by
        return holder

    def where(self) -> float | None:
        """Where the ball was last said to be."""
        for event in reversed(self.events):
            if event.spot is not None:
                return event.spot
        if self.spot is not None:
            return float(self.fields["spot"])
        if self.kick_to is not None:
            return float(self.fields["kick_to"])
        if self.caught is not None:
            return self.caught
        if self.spot_said is not None:
            return self.spot_said
        if self.gain is not None and self.start is not None:
            return float(self.start + self.fields["gain"])
        return self.start

    def side_of(self, team: Team) -> Side:
        """The side that a team is on. Raises Refused where that is not known."""
        if self.before.offense is None:
            raise Refused("who has the ball is not known")
        return Side.OFFENSE if team is self.before.offense else Side.DEFENSE

    # -- small steps --------------------------------------------------------------------------
    def fill(self, why: str, penalty: int = 1) -> None:
        """Note what was filled in or could mean something else."""
        self.penalty += penalty
        if why:
            self.filled.append(why)

    def doubt(self, why: str) -> None:
        """Note what the line contradicts."""
        self.penalty += 1
        if why not in self.doubts:
            self.doubts.append(why)

    def settle_kind(self) -> None:
        """A detail came first: the kind is what the situation leaves."""
        if self.kind is None and self.due is not None:
            self.kind = self.due

    def settle_if_kick(self) -> None:
        """The same where only a free kick is left."""
        if self.kind is None and self.due in FREE_KICKS:
            self.kind = self.due

    def put(self, name: str, value: Any) -> None:
        """Set a field of the play. Raises Refused where something else was said."""
        if self.fields.get(name) is not None and self.fields[name] != value:
            raise Refused(f"{_shown(self.fields[name], self)} was said already")
        self.fields[name] = value

    def change_event(self, **changes: Any) -> None:
        """Change what happened to the ball last."""
        self.events[-1] = replace(self.events[-1], **changes)


def _shown(value: Any, draft: Draft) -> str:
    return spoken_yards(value) if isinstance(value, float) else str(value)

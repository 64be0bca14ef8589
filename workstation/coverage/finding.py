"""What the checker says about a film."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from ..film.time import Instant
from ..tagging.model import Decision, Verdict


class Severity(StrEnum):
    """How much a viewer loses, gravest first."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


class Direction(StrEnum):
    """In which way the film differs from what was expected."""

    MISSED = "missed"      # something belonged in the film and is not there, or not as it should be
    OVERDONE = "overdone"  # something is in the film that a viewer does not need


class Cause(StrEnum):
    """What made a viewer unsure of the down."""

    PENALTY = "penalty"
    NEAR_LINE_TO_GAIN = "near the line to gain"
    MEASUREMENT = "measurement"
    BREAK = "break"                      # timeout, end of a period
    STOPPAGE = "long stoppage"           # injury, altercation, review, or simply long
    MISSING_PLAY = "missing play"
    FOURTH_DOWN = "fourth-down attempt"  # lined up to run or pass where a kick was to be expected
    FADING = "fading memory"


@dataclass(frozen=True, slots=True)
class Finding:
    """A place where the film differs from what its viewers needed.

    ``key`` says what the finding is about and stays the same while tags around it change; decisions are kept under it.
    ``at`` is where the marker goes: the place where the shot belonged, or where the trouble begins. ``expected`` is a
    label of two or three words for the timeline, ``habit`` the advice that would prevent it, ``evidence`` the facts it
    rests on, a line each. ``strength`` (0 to 1) tells how clear an example it is; ``seconds`` is film that could be
    cut. ``article`` names the article of a published policy that asks for it, if one does. ``spans`` are all places
    where a measure was out of bounds, ``beside`` is the shot that shows it best done by the same crew, if one does.
    """

    key: str
    rule: str
    severity: Severity
    direction: Direction
    at: Instant
    time: float
    title: str
    why: str
    expected: str
    habit: str
    until: Instant | None = None
    evidence: tuple[str, ...] = ()
    play: int | None = None
    shot: int | None = None
    period: int = 1
    seconds: float = 0.0
    strength: float = 0.5
    cause: Cause | None = None
    decision: Decision | None = None
    article: str = ""
    spans: tuple[tuple[Instant, Instant], ...] = ()
    beside: int | None = None

    @property
    def waived(self) -> bool:
        """Whether a person decided that the finding does not count."""
        return self.decision is not None and self.decision.verdict is Verdict.WAIVED

    @property
    def turns_on_spot(self) -> bool:
        """Whether it would help to know where exactly the ball became dead."""
        return self.cause in (Cause.NEAR_LINE_TO_GAIN, Cause.MEASUREMENT) or self.rule == "measurement"


@dataclass(frozen=True, slots=True)
class Delivered:
    """Something that was expected and is there."""

    rule: str
    period: int = 1
    play: int | None = None
    shot: int | None = None


@dataclass(frozen=True, slots=True)
class NotJudged:
    """Something that was expected and that cannot be judged until ``missing`` is tagged."""

    rule: str
    missing: str
    period: int = 1
    play: int | None = None
    shot: int | None = None


@dataclass(frozen=True, slots=True)
class LookAgain:
    """A finding held back: within the uncertainty of a suggested moment that nobody confirmed it may vanish."""

    finding: Finding


@dataclass(frozen=True, slots=True)
class Belief:
    """What a viewer believes as a filmed play is about to begin.

    ``probabilities`` are the viewer's for first to fourth down, empty before free kicks and tries, which need no down.
    ``sure`` is the probability of the down that is true (1 where there is none), ``unaided`` the same had no marker,
    board or announcement helped since the play before (``helped`` tells that one did), ``walking_up`` that before the
    teams had lined up, when a marker is filmed and nobody knows yet whether they will kick. ``served`` is how sure a
    viewer would be who had been shown every marker that belonged up to here: it keeps one missing marker from being
    counted again at each snap after it. ``yards_to_gain`` is what the viewer takes the distance to be on the true down.
    ``known`` is False while shots since the play before are not tagged: then the viewer is taken to have been helped.
    ``cause`` is what shook the viewer most since last being sure. ``time`` is film time in seconds.
    """

    play: int
    at: Instant
    time: float
    period: int
    down: int | None
    probabilities: tuple[float, ...]
    sure: float
    unaided: float
    walking_up: float
    served: float
    helped: bool
    yards_to_gain: float | None
    knows_score: float
    knows_clock: float
    known: bool
    cause: Cause | None = None

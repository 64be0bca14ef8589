"""The checker's whole answer about one game."""

from __future__ import annotations

from dataclasses import dataclass

from .camera_work import CameraWork
from .finding import Belief, Delivered, Finding, NotJudged
from .profile import Profile
from .remarks import PlacedRemark


@dataclass(frozen=True, slots=True)
class Coverage:
    """Everything the checker says about a game, in film order.

    ``waiting`` says, a line each, what could not be judged yet and what would settle it; ``not_judged`` holds the
    single cases. ``look_again`` are findings held back until the suggested moments that they depend on are confirmed.
    ``remarks`` are the mentor's own, ``yielded`` says, a line each, where the crew's practice yields to a policy that
    the film is held to. ``camera_work`` holds the measures of the ``shots`` (their number), None where nothing was
    measured.
    """

    profile: Profile
    findings: tuple[Finding, ...] = ()
    beliefs: tuple[Belief, ...] = ()
    delivered: tuple[Delivered, ...] = ()
    waiting: tuple[str, ...] = ()
    not_judged: tuple[NotJudged, ...] = ()
    look_again: tuple[Finding, ...] = ()
    film_seconds: float = 0.0
    complete: bool = False
    remarks: tuple[PlacedRemark, ...] = ()
    yielded: tuple[str, ...] = ()
    camera_work: CameraWork | None = None
    shots: int = 0

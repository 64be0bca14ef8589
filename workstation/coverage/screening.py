"""A film as one viewer has watched it: what the rules look at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from ..football.rulebook import Rulebook
from ..football.situation import Situation
from ..football.speaking import spoken_situation
from ..football.step import Step
from ..tagging.model import Decision
from .camera_work import CameraWork
from .decisive import Decisive
from .finding import Belief
from .footage import Between, Footage, Snap, Where
from .viewer import Assumptions


@dataclass(frozen=True)
class Screening:
    """The film laid beside the game, and the viewer's belief before each filmed snap.

    ``beliefs`` run alongside ``footage.filmed``. ``camera_work`` is None where nothing of the film was measured.
    """

    footage: Footage
    beliefs: list[Belief]
    assume: Assumptions
    decisive: Decisive
    decisions: Mapping[str, Decision]
    rulebook: Rulebook
    camera_work: CameraWork | None = None

    @cached_property
    def gaps(self) -> list[tuple[Snap | None, Between, Snap | None]]:
        """Every stretch between two filmed plays: the play before, what lies between, the play after. The last one,
        after the last filmed play, is only there once the film is tagged to its end: what it lacks is unknown."""
        filmed = self.footage.filmed
        found: list[tuple[Snap | None, Between, Snap | None]] = [
            (before, after.between, after) for before, after in zip([None, *filmed], filmed, strict=False)]
        if self.footage.complete:
            found.append((filmed[-1] if filmed else None, self.footage.after, None))
        return found

    def is_decisive(self, snap: Snap) -> bool:
        """Whether the game may turn on this snap."""
        return self.decisive.holds(snap.step, self.rulebook.downs, self.rulebook.periods)

    def may_be_decisive(self, snap: Snap) -> bool:
        """Whether the down may be decisive, depending on a clock that is not tagged."""
        before = snap.step.before
        if before.clock is not None or before.period != self.rulebook.periods:
            return False
        return self.decisive.holds(replace(snap.step, before=before.at(0)), self.rulebook.downs, self.rulebook.periods)

    def may_be_late(self, snap: Snap) -> bool:
        """Whether it is the last period of a close game and no clock is tagged."""
        before = snap.step.before
        close = abs(before.score_home - before.score_visitors) <= self.decisive.close
        return before.clock is None and before.period == self.rulebook.periods and close

    def spoken(self, situation: Situation) -> str:
        """*situation* as people say it on this game's field."""
        return spoken_situation(situation, self.rulebook.field_length)

    def step(self, position: int) -> Step:
        """Return the step of the play at this position of the game, counted from 0."""
        return self.footage.steps[position]

    def play_id(self, position: int) -> int:
        """Return the id of the play at this position of the game, counted from 0."""
        return self.footage.game.plays[position].id

    def where(self, position: int) -> Where:
        """The play at this position of the game, for a judgement about it."""
        return {"period": self.step(position).before.period, "play": self.play_id(position)}

    def next_situation(self, position: int) -> Situation:
        """The situation that follows the play at *position*: as the next play has it, else as the tracker says."""
        steps = self.footage.steps
        return steps[position + 1].before if position + 1 < len(steps) else steps[position].after

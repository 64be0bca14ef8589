"""Decisions about findings."""

from __future__ import annotations

from dataclasses import dataclass

from ..model import Decision, Game
from ..records import GameDraft, InvalidOperation, Kind


@dataclass(frozen=True, slots=True)
class Decide:
    """Record what a person decided about a finding, in place of what was decided before."""

    decision: Decision

    def describe(self, game: Game) -> str:
        verdict = self.decision.verdict
        return f"mark a finding as {verdict}" if verdict else "comment on a finding"

    def apply(self, draft: GameDraft) -> None:
        if not self.decision.finding:
            raise InvalidOperation("a decision needs the key of the finding it is about")
        draft.put(Kind.DECISION, self.decision.finding, self.decision)


@dataclass(frozen=True, slots=True)
class ClearDecision:
    """Forget what was decided about a finding, named by its key."""

    finding: str

    def describe(self, game: Game) -> str:
        return "clear a decision"

    def apply(self, draft: GameDraft) -> None:
        draft.remove(Kind.DECISION, self.finding)

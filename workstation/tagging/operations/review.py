"""Notes, decisions about findings, and sequences."""

from __future__ import annotations

from dataclasses import dataclass

from ...film.time import Instant
from ..model import Decision, Game, Note, Sequence, SequenceItem
from ..records import GameDraft, InvalidOperation, Kind


@dataclass(frozen=True, slots=True)
class AddNote:
    """Write a note at a moment, or over a span if `until` is given."""

    at: Instant
    text: str
    until: Instant | None = None
    id: int = 0

    def describe(self, game: Game) -> str:
        return "write a note"

    def apply(self, draft: GameDraft) -> None:
        draft.add(Note(self.id, self.at, self.text, self.until))


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


@dataclass(frozen=True, slots=True)
class AddSequence:
    """Add a sequence of plays."""

    name: str
    items: tuple[SequenceItem, ...] = ()
    id: int = 0

    def describe(self, game: Game) -> str:
        return f"make sequence {self.name}"

    def apply(self, draft: GameDraft) -> None:
        draft.add(Sequence(self.id, self.name, self.items))

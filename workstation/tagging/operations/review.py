"""Notes, drawings, decisions about findings, and sequences."""

from __future__ import annotations

from dataclasses import dataclass

from ...film.time import Instant
from ..model import Decision, Drawing, Game, Note, Remark, Sequence, SequenceItem
from ..records import GameDraft, InvalidOperation, Kind
from .operation import AddRecord, ChangeRecord, RemoveRecord, named


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


class ChangeNote(ChangeRecord[Note]):
    """Replace a note."""


class RemoveNote(RemoveRecord):
    """Remove a note."""

    kind = Kind.NOTE


class AddRemark(AddRecord[Remark]):
    """Add a remark."""

    def describe(self, game: Game) -> str:
        return f"remark {self.value.word!r}"


class ChangeRemark(ChangeRecord[Remark]):
    """Replace a remark."""


class RemoveRemark(RemoveRecord):
    """Remove a remark."""

    kind = Kind.REMARK


class AddDrawing(AddRecord[Drawing]):
    """Add a drawing to the picture."""

    def describe(self, game: Game) -> str:
        return f"draw {named(self.value)}"


class ChangeDrawing(ChangeRecord[Drawing]):
    """Replace a drawing."""


class RemoveDrawing(RemoveRecord):
    """Remove a drawing."""

    kind = Kind.DRAWING


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


class ChangeSequence(ChangeRecord[Sequence]):
    """Replace a sequence by id: its name, its plays, their order and handles."""


class RemoveSequence(RemoveRecord):
    """Remove a sequence; its plays stay."""

    kind = Kind.SEQUENCE

    def describe(self, game: Game) -> str:
        name = next((each.name for each in game.sequences if each.id == self.id), self.id)
        return f"remove sequence {name}"

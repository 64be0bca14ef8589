"""Notes, drawings, decisions about findings, and sequences."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ...film.time import Instant
from ..model import Decision, Drawing, Game, Note, Remark, Sequence, SequenceItem
from ..records import GameDraft, InvalidOperation, Kind


@dataclass(frozen=True, slots=True)
class AddNote:
    """Write a note at a moment, or over a span if `until` is given."""

    at: Instant
    text: str
    until: Instant | None = None
    id: int = 0

    def describe(self, game: Game) -> str:
        """Name the writing of a note."""
        return "write a note"

    def apply(self, draft: GameDraft) -> None:
        """Store the note under its own id, or a new one if it has none."""
        id = draft.claim(Kind.NOTE, self.id)
        draft.put(Kind.NOTE, id, Note(id, self.at, self.text, self.until))


@dataclass(frozen=True, slots=True)
class ChangeNote:
    """Replace a note."""

    note: Note

    def describe(self, game: Game) -> str:
        """Name the change of a note."""
        return "change a note"

    def apply(self, draft: GameDraft) -> None:
        """Store the note in place of the one with its id, which must exist."""
        draft.find(Kind.NOTE, self.note.id)
        draft.put(Kind.NOTE, self.note.id, self.note)


@dataclass(frozen=True, slots=True)
class RemoveNote:
    """Remove a note."""

    id: int

    def describe(self, game: Game) -> str:
        """Name the removal of a note."""
        return "remove a note"

    def apply(self, draft: GameDraft) -> None:
        """Remove the note, which must exist."""
        draft.remove(Kind.NOTE, self.id)


@dataclass(frozen=True, slots=True)
class AddRemark:
    """Add a remark."""

    remark: Remark

    def describe(self, game: Game) -> str:
        """Quote the word of the remark."""
        return f"remark {self.remark.word!r}"

    def apply(self, draft: GameDraft) -> None:
        """Store the remark under its own id, or a new one if it has none."""
        id = draft.claim(Kind.REMARK, self.remark.id)
        draft.put(Kind.REMARK, id, replace(self.remark, id=id))


@dataclass(frozen=True, slots=True)
class ChangeRemark:
    """Replace a remark."""

    remark: Remark

    def describe(self, game: Game) -> str:
        """Name the change of a remark."""
        return "change a remark"

    def apply(self, draft: GameDraft) -> None:
        """Store the remark in place of the one with its id, which must exist."""
        draft.find(Kind.REMARK, self.remark.id)
        draft.put(Kind.REMARK, self.remark.id, self.remark)


@dataclass(frozen=True, slots=True)
class RemoveRemark:
    """Remove a remark."""

    id: int

    def describe(self, game: Game) -> str:
        """Name the removal of a remark."""
        return "remove a remark"

    def apply(self, draft: GameDraft) -> None:
        """Remove the remark, which must exist."""
        draft.remove(Kind.REMARK, self.id)


@dataclass(frozen=True, slots=True)
class AddDrawing:
    """Add a drawing to the picture."""

    drawing: Drawing

    def describe(self, game: Game) -> str:
        """Name the shape that is drawn."""
        return f"draw {_drawn(self.drawing)}"

    def apply(self, draft: GameDraft) -> None:
        """Store the drawing under its own id, or a new one if it has none."""
        id = draft.claim(Kind.DRAWING, self.drawing.id)
        draft.put(Kind.DRAWING, id, replace(self.drawing, id=id))


@dataclass(frozen=True, slots=True)
class ChangeDrawing:
    """Replace a drawing."""

    drawing: Drawing

    def describe(self, game: Game) -> str:
        """Name the shape that changes."""
        return f"change {_drawn(self.drawing)}"

    def apply(self, draft: GameDraft) -> None:
        """Store the drawing in place of the one with its id, which must exist."""
        draft.find(Kind.DRAWING, self.drawing.id)
        draft.put(Kind.DRAWING, self.drawing.id, self.drawing)


@dataclass(frozen=True, slots=True)
class RemoveDrawing:
    """Remove a drawing."""

    id: int

    def describe(self, game: Game) -> str:
        """Name the removal of a drawing."""
        return "remove a drawing"

    def apply(self, draft: GameDraft) -> None:
        """Remove the drawing, which must exist."""
        draft.remove(Kind.DRAWING, self.id)


@dataclass(frozen=True, slots=True)
class Decide:
    """Record what a person decided about a finding, in place of what was decided before."""

    decision: Decision

    def describe(self, game: Game) -> str:
        """Say what is decided about a finding, or that it is commented on."""
        verdict = self.decision.verdict
        return f"mark a finding as {verdict}" if verdict else "comment on a finding"

    def apply(self, draft: GameDraft) -> None:
        """Store the decision by its finding's key; raise InvalidOperation if the key is empty."""
        if not self.decision.finding:
            raise InvalidOperation("a decision needs the key of the finding it is about")
        draft.put(Kind.DECISION, self.decision.finding, self.decision)


@dataclass(frozen=True, slots=True)
class ClearDecision:
    """Forget what was decided about a finding, named by its key."""

    finding: str

    def describe(self, game: Game) -> str:
        """Name the clearing of a decision."""
        return "clear a decision"

    def apply(self, draft: GameDraft) -> None:
        """Remove the decision, which must exist."""
        draft.remove(Kind.DECISION, self.finding)


@dataclass(frozen=True, slots=True)
class AddSequence:
    """Add a sequence of plays."""

    name: str
    items: tuple[SequenceItem, ...] = ()
    id: int = 0

    def describe(self, game: Game) -> str:
        """Name the sequence that is made."""
        return f"make sequence {self.name}"

    def apply(self, draft: GameDraft) -> None:
        """Store the sequence under its own id, or a new one if it has none."""
        id = draft.claim(Kind.SEQUENCE, self.id)
        draft.put(Kind.SEQUENCE, id, Sequence(id, self.name, self.items))


@dataclass(frozen=True, slots=True)
class ChangeSequence:
    """Replace a sequence by id: its name, its plays, their order and handles."""

    sequence: Sequence

    def describe(self, game: Game) -> str:
        """Name the sequence that changes."""
        return f"change sequence {self.sequence.name}"

    def apply(self, draft: GameDraft) -> None:
        """Store the sequence in place of the one with its id, which must exist."""
        draft.find(Kind.SEQUENCE, self.sequence.id)
        draft.put(Kind.SEQUENCE, self.sequence.id, self.sequence)


@dataclass(frozen=True, slots=True)
class RemoveSequence:
    """Remove a sequence; its plays stay."""

    id: int

    def describe(self, game: Game) -> str:
        """Name the sequence that is removed."""
        name = next((each.name for each in game.sequences if each.id == self.id), self.id)
        return f"remove sequence {name}"

    def apply(self, draft: GameDraft) -> None:
        """Remove the sequence, which must exist."""
        draft.remove(Kind.SEQUENCE, self.id)


def _drawn(drawing: Drawing) -> str:
    return {"arrow": "an arrow", "circle": "a circle", "freehand": "a line", "text": "a text"}[drawing.kind]

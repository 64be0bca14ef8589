"""Notes, drawings, decisions about findings, and sequences."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ...film.time import Instant
from ..model import Decision, Drawing, Game, Note, Remark, Sequence, SequenceItem
from ..records import Draft, InvalidOperation, Kind


@dataclass(frozen=True, slots=True)
class AddNote:
    at: Instant
    text: str
    until: Instant | None = None
    id: int = 0

    def describe(self, game: Game) -> str:
        return "write a note"

    def apply(self, draft: Draft) -> None:
        id = draft.claim(Kind.NOTE, self.id)
        draft.put(Kind.NOTE, id, Note(id, self.at, self.text, self.until))


@dataclass(frozen=True, slots=True)
class ChangeNote:
    note: Note

    def describe(self, game: Game) -> str:
        return "change a note"

    def apply(self, draft: Draft) -> None:
        draft.find(Kind.NOTE, self.note.id)
        draft.put(Kind.NOTE, self.note.id, self.note)


@dataclass(frozen=True, slots=True)
class RemoveNote:
    id: int

    def describe(self, game: Game) -> str:
        return "remove a note"

    def apply(self, draft: Draft) -> None:
        draft.remove(Kind.NOTE, self.id)


@dataclass(frozen=True, slots=True)
class AddRemark:
    remark: Remark

    def describe(self, game: Game) -> str:
        return f"remark {self.remark.word!r}"

    def apply(self, draft: Draft) -> None:
        id = draft.claim(Kind.REMARK, self.remark.id)
        draft.put(Kind.REMARK, id, replace(self.remark, id=id))


@dataclass(frozen=True, slots=True)
class ChangeRemark:
    remark: Remark

    def describe(self, game: Game) -> str:
        return "change a remark"

    def apply(self, draft: Draft) -> None:
        draft.find(Kind.REMARK, self.remark.id)
        draft.put(Kind.REMARK, self.remark.id, self.remark)


@dataclass(frozen=True, slots=True)
class RemoveRemark:
    id: int

    def describe(self, game: Game) -> str:
        return "remove a remark"

    def apply(self, draft: Draft) -> None:
        draft.remove(Kind.REMARK, self.id)


@dataclass(frozen=True, slots=True)
class AddDrawing:
    drawing: Drawing

    def describe(self, game: Game) -> str:
        return f"draw {_drawn(self.drawing)}"

    def apply(self, draft: Draft) -> None:
        id = draft.claim(Kind.DRAWING, self.drawing.id)
        draft.put(Kind.DRAWING, id, replace(self.drawing, id=id))


@dataclass(frozen=True, slots=True)
class ChangeDrawing:
    drawing: Drawing

    def describe(self, game: Game) -> str:
        return f"change {_drawn(self.drawing)}"

    def apply(self, draft: Draft) -> None:
        draft.find(Kind.DRAWING, self.drawing.id)
        draft.put(Kind.DRAWING, self.drawing.id, self.drawing)


@dataclass(frozen=True, slots=True)
class RemoveDrawing:
    id: int

    def describe(self, game: Game) -> str:
        return "remove a drawing"

    def apply(self, draft: Draft) -> None:
        draft.remove(Kind.DRAWING, self.id)


@dataclass(frozen=True, slots=True)
class Decide:
    """Record what a person decided about a finding, in place of what was decided before."""

    decision: Decision

    def describe(self, game: Game) -> str:
        verdict = self.decision.verdict
        return f"mark a finding as {verdict}" if verdict else "comment on a finding"

    def apply(self, draft: Draft) -> None:
        if not self.decision.finding:
            raise InvalidOperation("a decision needs the key of the finding it is about")
        draft.put(Kind.DECISION, self.decision.finding, self.decision)


@dataclass(frozen=True, slots=True)
class ClearDecision:
    finding: str

    def describe(self, game: Game) -> str:
        return "clear a decision"

    def apply(self, draft: Draft) -> None:
        draft.remove(Kind.DECISION, self.finding)


@dataclass(frozen=True, slots=True)
class AddSequence:
    name: str
    items: tuple[SequenceItem, ...] = ()
    id: int = 0

    def describe(self, game: Game) -> str:
        return f"make sequence {self.name}"

    def apply(self, draft: Draft) -> None:
        id = draft.claim(Kind.SEQUENCE, self.id)
        draft.put(Kind.SEQUENCE, id, Sequence(id, self.name, self.items))


@dataclass(frozen=True, slots=True)
class ChangeSequence:
    """Replace a sequence by id: its name, its plays, their order and handles."""

    sequence: Sequence

    def describe(self, game: Game) -> str:
        return f"change sequence {self.sequence.name}"

    def apply(self, draft: Draft) -> None:
        draft.find(Kind.SEQUENCE, self.sequence.id)
        draft.put(Kind.SEQUENCE, self.sequence.id, self.sequence)


@dataclass(frozen=True, slots=True)
class RemoveSequence:
    id: int

    def describe(self, game: Game) -> str:
        name = next((each.name for each in game.sequences if each.id == self.id), self.id)
        return f"remove sequence {name}"

    def apply(self, draft: Draft) -> None:
        draft.remove(Kind.SEQUENCE, self.id)


def _drawn(drawing: Drawing) -> str:
    return {"arrow": "an arrow", "circle": "a circle", "freehand": "a line", "text": "a text"}[drawing.kind]

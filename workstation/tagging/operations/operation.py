"""What an operation is, several as one, and the operations that records of all kinds have."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from ..model import Angle, Drawing, DrawingKind, Game, Moment, Note, Remark, Sequence
from ..records import KIND, GameDraft, Kind

Value = Angle | Drawing | Moment | Note | Remark | Sequence
_DRAWN = {DrawingKind.ARROW: "an arrow", DrawingKind.CIRCLE: "a circle", DrawingKind.FREEHAND: "a line",
          DrawingKind.TEXT: "a text"}


class Operation(Protocol):
    """One undoable action."""

    def describe(self, game: Game) -> str:
        """What it does, as the undo menu says it; *game* is the game before it."""

    def apply(self, draft: GameDraft) -> None:
        """Edit *draft*; raises :class:`InvalidOperation` if it cannot be done."""


@dataclass(frozen=True, slots=True)
class Several:
    """Operations as one action; later ones see what earlier ones did."""

    description: str
    operations: tuple[Operation, ...]

    def describe(self, game: Game) -> str:
        return self.description

    def apply(self, draft: GameDraft) -> None:
        for operation in self.operations:
            operation.apply(draft)


def as_one(description: str, operations: Iterable[Operation]) -> Operation:
    """Return operations as one action: a single one as it is, with its own description."""
    made = tuple(operations)
    return made[0] if len(made) == 1 else several(description, made)


def several(description: str, operations: Iterable[Operation]) -> Several:
    """Join *operations* into one undoable action.

    >>> new = file.next_id(Kind.SHOT)                                          # doctest: +SKIP
    >>> several("tag play 12", [AddShots((Shot(new, start, end),)), AddPlay(play, shot=new)])  # doctest: +SKIP
    """
    return Several(description, tuple(operations))


@dataclass(frozen=True, slots=True)
class AddRecord:
    """Add a value under its own id, or under a new one if that is 0. A further angle is as yet without film."""

    value: Value

    def describe(self, game: Game) -> str:
        match self.value:
            case Drawing():
                return f"draw {named(self.value)}"
            case Remark():
                return f"remark {self.value.word!r}"
            case Moment():
                return f"mark {named(self.value)}"
            case Note():
                return "write a note"
            case Sequence():
                return f"make {named(self.value)}"
        return f"add {named(self.value)}"

    def apply(self, draft: GameDraft) -> None:
        draft.add(self.value)


@dataclass(frozen=True, slots=True)
class ChangeRecord:
    """Replace the value with the same id, which must exist."""

    value: Value

    def describe(self, game: Game) -> str:
        return f"change {named(self.value)}"

    def apply(self, draft: GameDraft) -> None:
        draft.change(self.value)


@dataclass(frozen=True, slots=True)
class RemoveRecord:
    """Remove the record of that kind with this id, which must exist. The plays of a sequence stay."""

    kind: Kind
    id: int

    def describe(self, game: Game) -> str:
        known = game.moments if self.kind is Kind.MOMENT else game.sequences if self.kind is Kind.SEQUENCE else ()
        return f"remove {next((named(each) for each in known if each.id == self.id), f'a {self.kind}')}"

    def apply(self, draft: GameDraft) -> None:
        draft.remove(self.kind, self.id)


def count(number: int, what: str) -> str:
    """``1 shot``, ``3 shots``."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def named(value: Value) -> str:
    """What the undo menu calls a value."""
    match value:
        case Angle():
            return f"the angle {value.name}"
        case Drawing():
            return _DRAWN[value.kind]
        case Moment():
            return str(value.kind)
        case Sequence():
            return f"sequence {value.name}"
        case _:
            return f"a {KIND[type(value)]}"

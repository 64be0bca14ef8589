"""What an operation is, and several as one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from ..model import Game
from ..records import GameDraft


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
        """Return the description given for the whole group."""
        return self.description

    def apply(self, draft: GameDraft) -> None:
        """Apply the operations in their order."""
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

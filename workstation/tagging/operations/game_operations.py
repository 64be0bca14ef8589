"""The game as a whole: its heading, and taking one in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ..model import Game, Heading
from ..own_words.definition import Vocabulary
from ..records import THE, GameDraft, InvalidOperation, Kind


@dataclass(frozen=True, slots=True)
class SetHeading:
    """Replace the game's heading."""

    heading: Heading

    def describe(self, game: Game) -> str:
        """Name the change of the heading."""
        return "change the game's heading"

    def apply(self, draft: GameDraft) -> None:
        """Store the new heading."""
        draft.put(Kind.HEADING, THE, self.heading)


@dataclass(frozen=True, slots=True)
class TakeGame:
    """Put a whole game, ids and all, into a game file in which nothing was tagged yet."""

    game: Game

    def describe(self, game: Game) -> str:
        """Name the taking in of a whole game."""
        return "take in a whole game"

    def apply(self, draft: GameDraft) -> None:
        """Store everything of the game; raise InvalidOperation unless the game file is empty."""
        if any(draft.values(kind) for kind in Kind if kind is not Kind.HEADING):
            raise InvalidOperation("this game file is not empty; a whole game goes into a new one")
        game = self.game
        draft.put(Kind.HEADING, THE, game.heading)
        if game.film.sources:
            draft.put(Kind.FILM, THE, tuple(source.id for source in game.film.sources))
        if game.vocabulary != Vocabulary():
            draft.put(Kind.VOCABULARY, THE, game.vocabulary)
        if game.coming:
            draft.put(Kind.COMING, THE, game.coming)
        for kind, values in {
            Kind.SOURCE: game.film.sources,
            Kind.SHOT: game.shots,
            Kind.MOMENT: game.moments,
            Kind.PLAY: game.plays,
            Kind.NOTE: game.notes,
            Kind.DRAWING: game.drawings,
            Kind.DECISION: game.decisions,
            Kind.SEQUENCE: game.sequences,
            Kind.REMARK: game.remarks,
        }.items():
            value: Any
            for value in values:
                if kind in (Kind.SOURCE, Kind.DECISION):
                    key = value.id if kind is Kind.SOURCE else value.finding
                    if key in draft.values(kind):
                        raise InvalidOperation(f"{kind} {key!r} comes twice")
                elif value.id == 0:
                    raise InvalidOperation(f"a {kind} has no id")
                else:
                    key = draft.claim(kind, value.id)
                draft.put(kind, key, value)

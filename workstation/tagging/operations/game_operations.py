"""Operations on the game as a whole: its heading, and storing a whole game."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from ..model import AngleFilm, Game, Heading
from ..own_words.definition import Vocabulary
from ..records import ON_FILM, THE, GameDraft, InvalidOperation, Kind, own_id


@dataclass(frozen=True, slots=True)
class SetHeading:
    """Replace the game's heading."""

    heading: Heading

    def describe(self, game: Game) -> str:
        return "change the game's heading"

    def apply(self, draft: GameDraft) -> None:
        draft.put(Kind.HEADING, THE, self.heading)


@dataclass(frozen=True, slots=True)
class TakeGame:
    """Put a whole game, ids and all, into a game file in which nothing was tagged yet."""

    game: Game

    def describe(self, game: Game) -> str:
        return "take in a whole game"

    def apply(self, draft: GameDraft) -> None:
        if any(draft.values(kind) for kind in Kind if kind is not Kind.HEADING):
            raise InvalidOperation("this game file is not empty; a whole game goes into a new one")
        game = self.game
        draft.put(Kind.HEADING, THE, game.heading)
        if game.vocabulary != Vocabulary():
            draft.put(Kind.VOCABULARY, THE, game.vocabulary)
        if game.coming:
            draft.put(Kind.COMING, THE, game.coming)
        for filmed in game.angles:
            if filmed.angle.id == 0:
                raise InvalidOperation("an angle has no id")
            draft.put(Kind.ANGLE, draft.claim(Kind.ANGLE, filmed.angle.id), filmed.angle)
        for recording in game.recordings:
            if recording.film.sources:
                order = tuple(source.id for source in recording.film.sources)
                draft.put(Kind.FILM, recording.angle.id if isinstance(recording, AngleFilm) else THE, order)
        everything: dict[Kind, Iterable[Any]] = {
            Kind.SOURCE: game.sources,
            **{kind: [each for recording in game.recordings for each in getattr(recording, f"{kind}s")]
               for kind in ON_FILM},
            Kind.PLAY: game.plays, Kind.DECISION: game.decisions, Kind.SEQUENCE: game.sequences,
            Kind.MATCH: game.matches}
        for kind, values in everything.items():
            for value in values:
                key = own_id(kind, value)
                if isinstance(key, int):
                    if key == 0:
                        raise InvalidOperation(f"a {kind} has no id")
                    draft.claim(kind, key)
                elif key is None or key in draft.values(kind):
                    raise InvalidOperation(f"{kind} {key!r} comes twice")
                draft.put(kind, key, value)

"""Further angles, and which of their shots film which plays."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..angles import decision_key
from ..model import Angle, Game, Match
from ..records import GameDraft, InvalidOperation, Kind, match_id
from .footage import RemoveSources
from .words import count


@dataclass(frozen=True, slots=True)
class AddAngle:
    """Add a further angle, as yet without film."""

    angle: Angle

    def describe(self, game: Game) -> str:
        """Name the angle that is added."""
        return f"add the angle {self.angle.name}"

    def apply(self, draft: GameDraft) -> None:
        """Store the angle under its own id, or a new one if it has none."""
        id = draft.claim(Kind.ANGLE, self.angle.id)
        draft.put(Kind.ANGLE, id, replace(self.angle, id=id))


@dataclass(frozen=True, slots=True)
class ChangeAngle:
    """Replace what is known about a further angle: its name, place, crew or profile."""

    angle: Angle

    def describe(self, game: Game) -> str:
        """Name the angle that changes."""
        return f"change the angle {self.angle.name}"

    def apply(self, draft: GameDraft) -> None:
        """Store the angle in place of the one with its id, which must exist."""
        draft.find(Kind.ANGLE, self.angle.id)
        draft.put(Kind.ANGLE, self.angle.id, self.angle)


@dataclass(frozen=True, slots=True)
class RemoveAngle:
    """Remove a further angle with its film. Refused if anything is tagged on that, unless *with_tags*."""

    id: int
    with_tags: bool = False

    def describe(self, game: Game) -> str:
        """Name the angle that is removed."""
        name = next((each.angle.name for each in game.angles if each.angle.id == self.id), str(self.id))
        return f"remove the angle {name}"

    def apply(self, draft: GameDraft) -> None:
        """Remove the angle, its sources, and what was said about them; raise InvalidOperation while something is."""
        draft.find(Kind.ANGLE, self.id)
        sources = draft.values(Kind.FILM).get(self.id, ())
        decided = [key for key in draft.values(Kind.DECISION) if str(key).startswith(decision_key(self.id, ""))]
        if decided and not self.with_tags:
            raise InvalidOperation(f"{count(len(decided), 'decision')} about this angle's film; remove them with it")
        for key in decided:
            draft.remove(Kind.DECISION, key)
        if sources:
            RemoveSources(sources, self.with_tags).apply(draft)
        if self.id in draft.values(Kind.FILM):
            draft.remove(Kind.FILM, self.id)
        draft.remove(Kind.ANGLE, self.id)


@dataclass(frozen=True, slots=True)
class MatchPlays:
    """Say which shots of further angles film which plays, and by which moment they are tied, in place of what was said
    about the same angle and play before."""

    matches: tuple[Match, ...]

    def describe(self, game: Game) -> str:
        """Say how many plays are matched."""
        return f"match {count(len(self.matches), 'play')}"

    def apply(self, draft: GameDraft) -> None:
        """Store the matches."""
        for match in self.matches:
            draft.put(Kind.MATCH, match_id(match.angle, match.play), match)


@dataclass(frozen=True, slots=True)
class UnmatchPlays:
    """Say that an angle does not film these plays; None for all that it is said to film."""

    angle: int
    plays: tuple[int, ...] | None = None

    def describe(self, game: Game) -> str:
        """Say how many plays are no longer matched."""
        return "unmatch all plays" if self.plays is None else f"unmatch {count(len(self.plays), 'play')}"

    def apply(self, draft: GameDraft) -> None:
        """Remove the matches; raise InvalidOperation if one of the plays has none."""
        plays = self.plays
        if plays is None:
            plays = tuple(match.play for match in draft.values(Kind.MATCH).values() if match.angle == self.angle)
        for play in plays:
            draft.remove(Kind.MATCH, match_id(self.angle, play))

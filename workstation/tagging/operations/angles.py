"""Further angles, and which of their shots film which plays."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from ..angles import FIRST, angle_that_holds, decision_key, film_of, recording_of, seen_from
from ..game_order import own_shot_kind
from ..layout import snapped
from ..model import Angle, Evidence, Game, Match
from ..records import GameDraft, InvalidOperation, Kind, match_id
from .footage import AddSources, ConfirmShots, OrderSources, RemoveSources
from .game_operations import SetHeading
from .operation import ChangeRecord, Operation, Several, count
from .plays import FilmPlay, MoveMoment
from .review import ClearDecision, Decide


@dataclass(frozen=True, slots=True)
class RemoveAngle:
    """Remove a further angle with its film; sequences then show their plays without it. Refused if anything is tagged
    on the film, unless *with_tags*."""

    id: int
    with_tags: bool = False

    def describe(self, game: Game) -> str:
        name = next((each.angle.name for each in game.angles if each.angle.id == self.id), str(self.id))
        return f"remove the angle {name}"

    def apply(self, draft: GameDraft) -> None:
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
        for sequence in tuple(draft.values(Kind.SEQUENCE).values()):
            items = tuple(replace(item, angles=tuple(each for each in item.angles if each != self.id),
                                  sound=None if item.sound == self.id else item.sound) for item in sequence.items)
            if items != sequence.items:
                draft.put(Kind.SEQUENCE, sequence.id, replace(sequence, items=items))


@dataclass(frozen=True, slots=True)
class MatchPlays:
    """Say which shots of further angles film which plays, and by which moment they are tied, in place of what was said
    before. A shot without a confirmed kind gets the play's, confirmed if a person matched it."""

    matches: tuple[Match, ...]

    def describe(self, game: Game) -> str:
        return f"match {count(len(self.matches), 'play')}"

    def apply(self, draft: GameDraft) -> None:
        for match in self.matches:
            draft.put(Kind.MATCH, match_id(match.angle, match.play), match)
            shot, tag = draft.values(Kind.SHOT).get(match.shot), draft.values(Kind.PLAY).get(match.play)
            kind = own_shot_kind(tag.play) if tag is not None else None
            if shot is not None and shot.kind is None and kind is not None:
                draft.put(Kind.SHOT, shot.id, replace(shot, kind=kind, confirmed=match.evidence is Evidence.PERSON))


@dataclass(frozen=True, slots=True)
class UnmatchPlays:
    """Say that an angle does not film these plays, which are matched; None for all that it is said to film."""

    angle: int
    plays: tuple[int, ...] | None = None

    def describe(self, game: Game) -> str:
        return "unmatch all plays" if self.plays is None else f"unmatch {count(len(self.plays), 'play')}"

    def apply(self, draft: GameDraft) -> None:
        plays = self.plays
        if plays is None:
            plays = tuple(match.play for match in draft.values(Kind.MATCH).values() if match.angle == self.angle)
        for play in plays:
            draft.remove(Kind.MATCH, match_id(self.angle, play))


def in_angle(operation: Operation, number: int, game: Game) -> Operation:
    """Convert *operation*, made for *game* as seen from an angle (:func:`..angles.seen_from`), to one on the game
    itself.

    Operations with instants or shots find their angle by these. The others are given it: adding or ordering sources,
    decisions, a play that was not filmed, and the heading's fields about the camera. A moment that comes from another
    angle is moved there by the same time; confirming all shots confirms those of the angle.
    """
    match operation:
        case Several():
            return replace(operation, operations=tuple(in_angle(each, number, game) for each in operation.operations))
        case MoveMoment() if game.angles:
            return _moved_where_it_is(operation, number, game)
        case ConfirmShots(None) if game.angles:
            shots = game.shots if number == FIRST else recording_of(game, number).shots
            return ConfirmShots(tuple(shot.id for shot in shots))
    if number == FIRST:
        return operation
    match operation:
        case AddSources() | OrderSources() | FilmPlay():
            return replace(operation, angle=number)
        case Decide():
            return Decide(replace(operation.decision, finding=decision_key(number, operation.decision.finding)))
        case ClearDecision():
            return ClearDecision(decision_key(number, operation.finding))
        case SetHeading():
            said, kept = operation.heading, game.heading
            angle = Angle(number, said.angle, said.place, said.crew, said.profile)
            own = replace(said, angle=kept.angle, place=kept.place, crew=kept.crew, profile=kept.profile)
            return Several(operation.describe(game), (SetHeading(own), ChangeRecord(angle)))
        case _:
            return operation


def _moved_where_it_is(operation: MoveMoment, number: int, game: Game) -> MoveMoment:
    """Convert a move of a moment as seen from an angle to a move in the angle where it was marked."""
    seen = next((each for each in seen_from(game, number).moments if each.id == operation.id), None)
    kept = next((each for recording in game.recordings for each in recording.moments if each.id == operation.id), None)
    if seen is None or kept is None or seen.at == kept.at:
        return operation
    here, there = film_of(game, number), film_of(game, angle_that_holds(game, kept.at.source))
    to = there.time_of(kept.at) + here.time_of(operation.at) - here.time_of(seen.at)
    return replace(operation, at=snapped(there, there.instant_at(max(to, Fraction(0))), nearest=True))

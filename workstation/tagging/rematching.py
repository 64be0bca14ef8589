"""Correcting which shots of a further angle film which plays, and by which moment they are tied.

Each function gives one operation, which one undo takes back. A match that a person moved is the person's
(:attr:`~.model.Evidence.PERSON`): matching again leaves it where it is, and only ties it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from ..film.film import Film
from ..film.time import Instant
from .angles import FIRST, angle_that_holds, film_of, matches_of, recording_of, ties_of
from .game_order import EXTRAS, own_shot_kind
from .layout import snapped
from .model import Evidence, Game, Match, Shot
from .operations import MatchPlays, Operation, UnmatchPlays, several
from .operations.operation import count
from .operations.plays import play_name


class CannotRematch(ValueError):
    """A match cannot be moved so; the message says why."""


@dataclass(frozen=True, slots=True)
class MatchColumn:
    """One column of the two rows: a play, a shot of the further angle, or both. In a shot that films several plays
    the shot stands below each of them."""

    play: int | None
    shot: int | None


def match_columns(game: Game, number: int) -> list[MatchColumn]:
    """The two rows: the plays in game order, and below them the further angle's shots in film order, with gaps where
    the other row has none. Raises KeyError without such an angle."""
    shots, matches = _row(game, number), matches_of(game, number)
    places = {shot.id: place for place, shot in enumerate(shots)}
    columns, shown = [], 0
    for tag in game.plays:
        match = matches.get(tag.id)
        place = places.get(match.shot) if match is not None else None
        if match is not None and place is not None:
            columns += [MatchColumn(None, shot.id) for shot in shots[shown:place]]
            shown = max(shown, place + 1)
        columns.append(MatchColumn(tag.id, match.shot if match is not None else None))
    return columns + [MatchColumn(None, shot.id) for shot in shots[shown:]]


def moved_match(game: Game, number: int, play: int, by: int) -> Operation:
    """Let the shot one later (``by`` 1) or earlier (-1) film a play; every later match moves along. A play whose shot
    would lie beyond the row loses its match.

    Raises CannotRematch where the play is not matched, or would come before one that is played before it.
    """
    shots, matches = _row(game, number), matches_of(game, number)
    places = {shot.id: place for place, shot in enumerate(shots)}
    if play not in matches:
        raise CannotRematch("This play is not matched: match it with a shot first.")
    plays = [tag.id for tag in game.plays if tag.id in matches and matches[tag.id].shot in places]
    before = [places[matches[each].shot] for each in plays[:plays.index(play)]] if play in plays else []
    to = places.get(matches[play].shot, 0) + by
    if not 0 <= to < len(shots):
        raise CannotRematch("There is no further shot on that side.")
    if before and to < before[-1]:
        raise CannotRematch("The play before it is filmed by a later shot: move that one first.")
    after = plays[plays.index(play):]
    return _changed(game, number, f"move the match of {play_name(game, play)} and of what follows",
                    {each: _at(shots, places[matches[each].shot] + by) for each in after})


def with_hole(game: Game, number: int, play: int) -> Operation:
    """Say that an angle missed a play: its shot films the next matched one, and so on to the end. Raises CannotRematch
    where the play is not matched."""
    matches = matches_of(game, number)
    if play not in matches:
        raise CannotRematch("This play is not matched already.")
    plays = [tag.id for tag in game.plays if tag.id in matches]
    plays = plays[plays.index(play):]
    shots = [matches[each].shot for each in plays]
    return _changed(game, number, f"{play_name(game, play)} is missing from the angle; what follows moves up",
                    {play: None, **dict(zip(plays[1:], shots, strict=False))})


def without_hole(game: Game, number: int, play: int) -> Operation:
    """Say that an angle filmed a play after all: it takes the shot of the next matched one, that one the shot of the
    one after it, and so on; the last takes the shot behind its own, or none. Without a later match the play takes the
    first shot behind the last that is matched. Raises CannotRematch where the play is matched, or there is no shot."""
    shots, matches = _row(game, number), matches_of(game, number)
    places = {shot.id: place for place, shot in enumerate(shots)}
    if play in matches:
        raise CannotRematch("This play is matched already.")
    order = [tag.id for tag in game.plays]
    here = order.index(play)
    later = [each for each in order[here + 1:] if each in matches]
    earlier = [each for each in order[:here] if each in matches]
    last = (later or earlier)[-1:]
    behind = _at(shots, places[matches[last[0]].shot] + 1) if last and matches[last[0]].shot in places \
        else _at(shots, 0) if not last else None
    taken = [*(matches[each].shot for each in later), behind]
    if taken[0] is None:
        raise CannotRematch("There is no shot left that could film it.")
    return _changed(game, number, f"{play_name(game, play)} is filmed after all; what follows moves down",
                    dict(zip([play, *later], taken, strict=True)))


def matched_by_hand(game: Game, number: int, play: int, shot: int | None) -> Operation:
    """Match one play with one shot, or with none, and leave all others."""
    name = recording_of(game, number).angle.name
    said = f"match {play_name(game, play)} with another shot" if shot else f"{play_name(game, play)} is not on {name}"
    return _changed(game, number, said, {play: shot})


def unsaid_matches(game: Game, number: int) -> tuple[Match, ...]:
    """The matches of an angle whose shots have no kind yet, as older game files left them."""
    unsaid = {shot.id for shot in recording_of(game, number).shots if shot.kind is None}
    says = {tag.id for tag in game.plays if own_shot_kind(tag.play) is not None}
    return tuple(match for match in matches_of(game, number).values() if match.shot in unsaid and match.play in says)


def said_by_matches(game: Game, number: int) -> Operation:
    """Give the shots of :func:`unsaid_matches` the kinds that matching gives. Raises CannotRematch for none."""
    matches = unsaid_matches(game, number)
    if not matches:
        raise CannotRematch("What every matched shot films has been said.")
    shots = len({match.shot for match in matches})
    return several(f"let {count(shots, 'shot')} be of the {'play' if shots == 1 else 'plays'} matched with "
                   f"{'it' if shots == 1 else 'them'}", [MatchPlays(matches)])


def tied(game: Game, play: int, one: Instant, other: Instant) -> Operation:
    """Say that two pictures of different angles show the same moment of a play. One of them is the first angle's; of
    two further ones the second is tied by way of the first.

    Raises CannotRematch where both are of one angle, or the play is not matched there.
    """
    angles = angle_that_holds(game, one.source), angle_that_holds(game, other.source)
    if angles[0] == angles[1]:
        raise CannotRematch("Both pictures are of the same angle: switch to another one for the second.")
    if FIRST not in angles:
        ties = ties_of(game, angles[0]).get(play)
        if ties is None:
            raise CannotRematch("Tie one of the two angles to the first one before.")
        time = film_of(game, angles[0]).time_of(one) - ties.away
        one, angles = _instant(game.film, time), (FIRST, angles[1])
    here, there = (one, other) if angles[0] == FIRST else (other, one)
    number = angles[1] if angles[0] == FIRST else angles[0]
    match = matches_of(game, number).get(play)
    if match is None:
        raise CannotRematch(f"{play_name(game, play).capitalize()} is not matched in this angle: match it first.")
    return several(f"tie the angles at {play_name(game, play)}",
                   [MatchPlays((Match(number, play, match.shot, (here, there)),))])


def nudged_tie(game: Game, number: int, play: int, pictures: int) -> Operation:
    """Correct the tie of a play by whole pictures of the further angle, later ones for a positive number. Raises
    CannotRematch where the play is not tied, or there is no such picture."""
    match, tie = matches_of(game, number).get(play), None
    if match is not None:
        tie = ties_of(game, number).get(play)
    if match is None or tie is None:
        raise CannotRematch("Nothing ties the angles here yet: mark the same moment in both first.")
    film = film_of(game, number)
    here, there = match.same or (_instant(game.film, tie.first), _instant(film, tie.further))
    source = film.source(there.source)
    pts = there.pts + round(pictures * source.frame_ticks)
    if not source.start_pts <= pts < source.end.pts:
        raise CannotRematch("There is no such picture in this file.")
    moved = snapped(film, Instant(source.id, pts), nearest=True)
    return several(f"correct the offset of {play_name(game, play)}",
                   [MatchPlays((Match(number, play, match.shot, (here, moved)),))])


def _instant(film: Film, time: Fraction) -> Instant:
    return snapped(film, film.instant_at(max(time, Fraction(0))))


def _row(game: Game, number: int) -> list[Shot]:
    """The shots that may film plays."""
    return [shot for shot in recording_of(game, number).shots if shot.kind not in EXTRAS]


def _at(shots: list[Shot], place: int) -> int | None:
    return shots[place].id if 0 <= place < len(shots) else None


def _changed(game: Game, number: int, said: str, films: Mapping[int, int | None]) -> Operation:
    """One operation by which these plays are filmed by these shots, or by none."""
    matches = matches_of(game, number)
    gone = tuple(play for play, shot in films.items() if shot is None and play in matches)
    new = tuple(Match(number, play, shot, evidence=Evidence.PERSON) for play, shot in films.items()
                if shot is not None and not (play in matches and matches[play].shot == shot))
    return several(said, [*([UnmatchPlays(number, gone)] if gone else []), *([MatchPlays(new)] if new else [])])

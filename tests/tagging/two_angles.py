"""A game with an end zone camera beside the first one, for the tests and benchmarks of every package."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from workstation.film.film import Film
from workstation.film.time import Instant
from workstation.tagging.model import Angle, AngleFilm, CameraPlace, Game, Match, Shot

END_ZONE = 1


def filmed_from_end_zone(game: Game, film: Film, shots: Iterable[Shot],
                         matches: Iterable[tuple[int, int, Instant, Instant]], crew: str = "") -> Game:
    """*game* with the end zone's *film* and *shots*. *matches*: each play that it filmed, its shot, and the instants of
    one moment in the first film and in this one."""
    angle = Angle(END_ZONE, "End zone", CameraPlace.END_ZONE, crew)
    return replace(game, angles=(AngleFilm(angle, film, tuple(shots)),),
                   matches=tuple(Match(END_ZONE, play, shot, (here, there)) for play, shot, here, there in matches))

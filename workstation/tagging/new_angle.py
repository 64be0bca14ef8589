"""Adding a further camera's footage to a game, and matching it play by play."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path

import numpy as np

from ..film.film import Film, Source
from ..film.sound_alignment import sound_trace
from .angle_matching import Proposal, propose
from .angles import film_of
from .gamefile import GameFile
from .model import Angle, Game, Shot
from .new_game import read_footage
from .operations import AddAngle, AddShots, AddSources, MatchPlays, Operation, several
from .records import Kind

Share = Callable[[float], None]


class FootageInUse(ValueError):
    """Camera files that are part of the game already."""


def read_angle(game: Game, paths: Sequence[Path], progress: Callable[[int, int], None] | None = None,
               cancelled: Callable[[], bool] = lambda: False) -> Film:
    """Look at the further camera's files. Raises :class:`FootageInUse` if the game has one of them already, and what
    :func:`.new_game.read_footage` raises. Not for the UI thread."""
    film = read_footage(paths, [source.id for source in game.sources], progress, cancelled)
    known = {source.fingerprint: source.path.name for source in game.sources if source.fingerprint}
    twice = [source.path.name for source in film.sources if source.fingerprint in known]
    if twice:
        raise FootageInUse(f"{', '.join(twice[:3])}{' and others' if len(twice) > 3 else ''}: this footage is part of "
                           "the game already; name the files of another camera")
    return film


def begin_angle(file: GameFile, angle: Angle, film: Film) -> Operation:
    """The operation that adds *film* to the game as a further angle. Of a camera that cut between plays, each file is a
    shot; one long file has its shots found later."""
    number = file.next_id(Kind.ANGLE)
    added = Angle(number, angle.name, angle.place, angle.crew, angle.profile)
    usable = [source for source in film.sources if source.problem is None and source.duration_pts > 0]
    shots = tuple(Shot(0, source.first, source.end) for source in usable) if len(film.sources) > 1 else ()
    return several(f"add the angle {angle.name}",
                   [AddAngle(added), AddSources(film.sources, angle=number), *([AddShots(shots)] if shots else [])])


def hear(films: Sequence[Film], progress: Share = lambda share: None,
         cancelled: Callable[[], bool] = lambda: False) -> dict[str, np.ndarray]:
    """The sound traces of all sources that can be read, by their ids. Not for the UI thread. Raises Cancelled."""
    sources: list[Source] = [source for film in films for source in film.sources if source.problem is None]
    total = float(sum(source.duration for source in sources)) or 1.0
    traces, done = {}, 0.0
    for source in sources:
        length = float(source.duration)

        def tell(share: float, before: float = done, length: float = length) -> None:
            progress((before + share * length) / total)

        with suppress(OSError, ValueError):         # PyAV's errors are among them; what cannot be heard is silent
            traces[source.id] = sound_trace(source, progress=tell, cancelled=cancelled)
        done += length
        progress(done / total)
    return traces


def match_angle(game: Game, number: int, progress: Share = lambda share: None,
                cancelled: Callable[[], bool] = lambda: False) -> Proposal:
    """Listen to both cameras and propose matches. Not for the UI thread. Raises KeyError without such an angle,
    Cancelled."""
    traces = hear([game.film, film_of(game, number)], lambda share: progress(share * 0.5), cancelled)
    return propose(game, number, traces, progress=lambda share: progress(0.5 + share * 0.5), cancelled=cancelled)


def take(proposal: Proposal) -> MatchPlays | None:
    """The operation that takes a proposal's matches; None if it has none."""
    return MatchPlays(proposal.matches) if proposal.matches else None

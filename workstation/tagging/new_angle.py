"""Adding a further camera's footage to a game, and matching it play by play."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import replace
from itertools import count
from pathlib import Path

import numpy as np

from ..film.film import Film, Source
from ..film.sound_alignment import sound_trace
from .angle_matching import Proposal, propose
from .angles import film_of, recording_of, seen_from
from .gamefile import GameFile
from .model import Angle, Evidence, Game, Shot
from .new_game import read_footage
from .operations import AddRecord, AddShots, AddSources, MatchPlays, Operation, several
from .records import Kind
from .suggestions import FilmSuggestions

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
    film = _with_free_ids(film, {str(id) for id in file.used_ids(Kind.SOURCE)})
    usable = [source for source in film.sources if source.problem is None and source.duration_pts > 0]
    shots = tuple(Shot(0, source.first, source.end) for source in usable) if len(film.sources) > 1 else ()
    return several(f"add the angle {angle.name}",
                   [AddRecord(added), AddSources(film.sources, angle=number), *([AddShots(shots)] if shots else [])])


def _with_free_ids(film: Film, used: set[str]) -> Film:
    """The film with new ids for sources whose own was used before, by an angle since removed for example."""
    free = (f"s{number}" for number in count(1))
    taken = used | {source.id for source in film.sources}
    return Film(tuple(replace(source, id=next(id for id in free if id not in taken)) if source.id in used else source
                      for source in film.sources))


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

        with suppress(OSError, ValueError):         # PyAV's errors too; such a source counts as silent
            traces[source.id] = sound_trace(source, progress=tell, cancelled=cancelled)
        done += length
        progress(done / total)
    return traces


def match_angle(game: Game, number: int, progress: Share = lambda share: None,
                cancelled: Callable[[], bool] = lambda: False) -> Proposal:
    """Listen to both cameras and propose matches, not in the UI thread. Raises KeyError for no angle, Cancelled."""
    traces = hear([game.film, film_of(game, number)], lambda share: progress(share * 0.5), cancelled)
    return propose(game, number, traces, progress=lambda share: progress(0.5 + share * 0.5), cancelled=cancelled)


def take(proposal: Proposal, game: Game | None = None) -> MatchPlays | None:
    """The operation that takes a proposal's matches; None if it has none. *game*: its current state. What a person
    matched meanwhile is kept; plays and shots that no longer exist are left out."""
    matches = proposal.matches
    if game is not None:
        plays = {tag.id for tag in game.plays}
        shots = {shot.id for recording in game.angles for shot in recording.shots}
        now = {(match.angle, match.play): match for match in game.matches}
        proposed = {(match.angle, match.play): match for match in matches}
        matches = tuple(match for key, match in proposed.items() if match.play in plays and match.shot in shots
                        and not (key in now and now[key].evidence is Evidence.PERSON
                                 and (now[key].shot != match.shot or now[key].same is not None)))
    return MatchPlays(matches) if matches else None


def found_shots(game: Game, number: int, progress: Share = lambda share: None,
                cancelled: Callable[[], bool] = lambda: False) -> AddShots | None:
    """The shots found in the film of an angle whose camera ran on between plays; None where it has shots already or
    none are found. Not for the UI thread. Raises Cancelled."""
    from ..film.film_sound import measure_sound
    recording = recording_of(game, number)
    if recording.shots:
        return None
    usable = Film(tuple(source for source in recording.film.sources if not source.problem and source.duration_pts > 0))
    measure_sound(usable, lambda done, of: progress(done / of), cancelled)
    return FilmSuggestions.cached(usable).shots(seen_from(game, number))


def told(game: Game, number: int, proposal: Proposal) -> str:
    """The outcome of matching, in sentences: how many plays are matched, which are open, and why."""
    name = recording_of(game, number).angle.name
    if not game.plays:
        return f"{name}: no play is tagged yet. Match the angle when some are."
    places = {tag.id: place for place, tag in enumerate(game.plays, 1)}
    filmed = sum(match.play in places for match in proposal.matches)
    said = [f"{name}: {filmed} of {len(game.plays)} plays matched."]
    whys: dict[str, list[int]] = {}
    for play, why in proposal.open.items():
        if play in places:
            whys.setdefault(why, []).append(places[play])
    for why, plays in whys.items():
        named = ", ".join(map(str, plays[:12])) + (f" and {len(plays) - 12} more" if len(plays) > 12 else "")
        said.append(f"Open: {'play' if len(plays) == 1 else 'plays'} {named} ({why}).")
    unfilmed = len(game.plays) - filmed - sum(map(len, whys.values()))
    if unfilmed:
        said.append(f"{unfilmed} {'was' if unfilmed == 1 else 'were'} not filmed by {game.heading.angle} either.")
    if not filmed:
        said.append("If this is the film of another game, take the angle out again with Undo.")
    return " ".join(said)

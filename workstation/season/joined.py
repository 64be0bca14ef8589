"""Plays of several games as one: their films one after the other, so that everything that hands on plays of one game
hands these on in the same way. Nothing here is tagged or stored; ids are given anew."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from ..film.film import Film, Source
from ..film.sources import relink
from ..film.time import Instant
from ..football.rulebook import load_rulebook
from ..football.step import Step
from ..football.tracker import track
from ..tagging.inspection import game_in
from ..tagging.model import Drawing, Game, Heading, Moment, Note, PlayTag, Shot
from ..tagging.own_words.definition import united
from .origin import Origin


@dataclass(frozen=True)
class JoinedGames:
    """Several games as one. ``origins`` by the id that a play has here."""

    game: Game
    steps: tuple[Step, ...]
    origins: Mapping[int, Origin]
    ids: Mapping[tuple[Path, int], int] = field(default_factory=dict)       # by game file and the play's id there

    def play(self, path: Path, play: int) -> int | None:
        """The id here of a game's play; None if the game does not have it (any more)."""
        return self.ids.get((path, play))


def join(paths: Sequence[Path], elsewhere: Mapping[Path, Game] | None = None) -> JoinedGames:
    """Read these games and put them one after the other; film that moved along with a game is found again. *elsewhere*
    are games that are open, by path, and not read. Not for the UI thread. Raises OSError and GameFileError."""
    return joined([(path, (elsewhere or {}).get(path) or _read(path)) for path in dict.fromkeys(paths)])


def _read(path: Path) -> Game:
    game = game_in(path)
    return replace(game, film=relink(game.film, [path.parent]))


def joined(games: Sequence[tuple[Path, Game]]) -> JoinedGames:
    """These games as one, in their order. Raises RulebookError."""
    whole = _Whole()
    for path, game in games:
        whole.add(path, game)
    headings = [game.heading for _, game in games]
    names = [heading.spoken for heading in headings]
    heading = Heading(title="; ".join(names), home="", visitors="", date="",
                      crew="; ".join(dict.fromkeys(each.crew for each in headings if each.crew)))
    return JoinedGames(Game(heading, Film(tuple(whole.sources)), tuple(whole.shots), tuple(whole.moments),
                            tuple(whole.plays), tuple(whole.notes), tuple(whole.drawings),
                            vocabulary=united(game.vocabulary for _, game in games)),
                       tuple(whole.steps), whole.origins, whole.ids)


class _Whole:
    """What has been put together so far."""

    def __init__(self) -> None:
        self.sources: list[Source] = []
        self.shots: list[Shot] = []
        self.moments: list[Moment] = []
        self.plays: list[PlayTag] = []
        self.notes: list[Note] = []
        self.drawings: list[Drawing] = []
        self.steps: list[Step] = []
        self.origins: dict[int, Origin] = {}
        self.ids: dict[tuple[Path, int], int] = {}
        self._games = 0

    def add(self, path: Path, game: Game) -> None:
        self._games += 1
        before = f"{self._games} "
        rulebook = load_rulebook(game.heading.rulebook, game.heading.season)

        def at(instant: Instant) -> Instant:
            return Instant(before + instant.source, instant.pts)

        def until(instant: Instant | None) -> Instant | None:
            return None if instant is None else at(instant)

        self.sources += [replace(source, id=before + source.id) for source in game.film.sources]
        shots = {shot.id: len(self.shots) + place for place, shot in enumerate(game.shots, 1)}
        self.shots += [replace(shot, id=shots[shot.id], start=at(shot.start), end=at(shot.end)) for shot in game.shots]
        self.moments += [replace(moment, id=len(self.moments) + place, at=at(moment.at))
                         for place, moment in enumerate(game.moments, 1)]
        self.notes += [replace(note, id=len(self.notes) + place, at=at(note.at), until=until(note.until))
                       for place, note in enumerate(game.notes, 1)]
        self.drawings += [replace(drawing, id=len(self.drawings) + place, at=at(drawing.at),
                                  until=until(drawing.until)) for place, drawing in enumerate(game.drawings, 1)]
        self.steps += track(rulebook, [tag.play for tag in game.plays])
        for number, tag in enumerate(game.plays, 1):
            here = len(self.plays) + 1
            self.plays.append(replace(tag, id=here, order=float(here),
                                      shot=None if tag.shot is None else shots.get(tag.shot)))
            self.origins[here] = Origin(path, game.heading, tag.id, number, rulebook)
            self.ids[path, tag.id] = here

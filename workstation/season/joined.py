"""Several games joined into one, their films one after the other, so that whatever exports plays of one game can
export these. A joined game is neither tagged nor stored; its records have new ids."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import count
from pathlib import Path

from ..film.film import Film, Source
from ..film.sources import relink
from ..film.time import Instant
from ..football.rulebook import load_rulebook
from ..football.step import Step
from ..football.tracker import track
from ..tagging.angles import FIRST
from ..tagging.inspection import game_in
from ..tagging.model import (
    Angle,
    AngleFilm,
    Drawing,
    Game,
    Heading,
    Match,
    Moment,
    Note,
    PlayTag,
    SequenceItem,
    Shot,
)
from ..tagging.own_words.definition import united
from .origin import Origin


@dataclass(frozen=True)
class JoinedGames:
    """Several games as one. ``origins`` by the id that a play has here; ``angles``: what each angle of a game is called
    there, by its number here. Further angles of one name are one angle here."""

    game: Game
    steps: tuple[Step, ...]
    origins: Mapping[int, Origin]
    ids: Mapping[tuple[Path, int], int] = field(default_factory=dict)       # by game file and the play's id there
    angles: Mapping[Path, Mapping[int, str]] = field(default_factory=dict)

    def play(self, path: Path, play: int) -> int | None:
        """The id here of a game's play; None if the game does not have it (any more)."""
        return self.ids.get((path, play))

    @property
    def angle_names(self) -> list[str]:
        """What the angles are called, the first ones before the further ones, each name once."""
        said = sorted(((number, name) for named in self.angles.values() for number, name in named.items()),
                      key=lambda each: each[0])
        return list({name.casefold(): name for _, name in reversed(said)}.values())[::-1]

    def item(self, path: Path, play: int, names: Sequence[str] = (), beside: bool = False, sound: str = "",
             handles: tuple[float, float] = (0.0, 0.0), inset: bool = False) -> SequenceItem | None:
        """A game's play as part of a sequence, shown from the angles of these *names*, or parts of them, that its game
        has and that show it, from the game's first one where there is none; *sound* names the angle that is heard.
        None if the game does not have the play."""
        here = self.play(path, play)
        if here is None:
            return None
        shown = {FIRST} | {match.angle for match in self.game.matches if match.play == here}
        angles = tuple(dict.fromkeys(number for name in names for number in self._meant(path, name) if number in shown))
        heard = next((number for number in self._meant(path, sound) if number in shown), None) if sound else None
        several = len(angles) > 1
        return SequenceItem(here, *handles, () if angles == (FIRST,) else angles, beside and several, heard,
                            inset and several)

    def unknown(self, names: Iterable[str]) -> list[str]:
        """Those of the *names* that no angle of any game has."""
        return [name for name in names if not any(self._meant(path, name) for path in self.angles)]

    def lacking(self, items: Iterable[SequenceItem], names: Sequence[str]) -> str:
        """In a line, how many *items* are not shown from every angle that was asked for; empty if all are."""
        lacking = sum(any(not {*self._meant(self.origins[item.play].path, name)} & {*(item.angles or (FIRST,))}
                          for name in names) for item in items)
        return f"{lacking} of the plays: {' or '.join(names)} did not film them" if lacking else ""

    def _meant(self, path: Path, name: str) -> list[int]:
        wanted, named = name.casefold(), self.angles.get(path, {})
        found = [number for number, each in named.items() if wanted in each.casefold()]
        return [number for number in found if named[number].casefold() == wanted] or found[:1]


def join(paths: Sequence[Path], elsewhere: Mapping[Path, Game] | None = None) -> JoinedGames:
    """Read these games and put them one after the other; film that moved along with a game is found again. *elsewhere*
    are games that are open, by path, and not read. Not for the UI thread. Raises OSError and GameFileError."""
    return joined([(path, (elsewhere or {}).get(path) or _read(path)) for path in dict.fromkeys(paths)])


def _read(path: Path) -> Game:
    return game_in(path).with_films(lambda film: relink(film, [path.parent]))


def joined(games: Sequence[tuple[Path, Game]]) -> JoinedGames:
    """These games as one, in their order. Raises RulebookError."""
    whole = _Whole()
    for path, game in games:
        whole.add(path, game)
    headings, first = [game.heading for _, game in games], whole.first
    names = [heading.spoken for heading in headings]
    heading = Heading(title="; ".join(names), home="", visitors="", date="",
                      crew="; ".join(dict.fromkeys(each.crew for each in headings if each.crew)))
    angles = tuple(AngleFilm(angle, Film(tuple(made.sources)), tuple(made.shots), tuple(made.moments),
                             tuple(made.notes), tuple(made.drawings)) for angle, made in whole.further.values())
    return JoinedGames(Game(heading, Film(tuple(first.sources)), tuple(first.shots), tuple(first.moments),
                            tuple(whole.plays), tuple(first.notes), tuple(first.drawings),
                            vocabulary=united(game.vocabulary for _, game in games), angles=angles,
                            matches=tuple(sorted(whole.matches, key=lambda match: (match.angle, match.play)))),
                       tuple(whole.steps), whole.origins, whole.ids, whole.angles)


class _Recorded:
    """What one angle filmed of all games, put together so far."""

    def __init__(self) -> None:
        self.sources: list[Source] = []
        self.shots: list[Shot] = []
        self.moments: list[Moment] = []
        self.notes: list[Note] = []
        self.drawings: list[Drawing] = []


class _Whole:
    """What has been put together so far. ``further``: the further angles, by name and which of that name it is."""

    def __init__(self) -> None:
        self.first = _Recorded()
        self.further: dict[tuple[str, int], tuple[Angle, _Recorded]] = {}
        self.plays: list[PlayTag] = []
        self.matches: list[Match] = []
        self.steps: list[Step] = []
        self.origins: dict[int, Origin] = {}
        self.ids: dict[tuple[Path, int], int] = {}
        self.angles: dict[Path, dict[int, str]] = {}
        self._games = 0
        self._ids = count(1)        # ids are unique over all kinds

    def add(self, path: Path, game: Game) -> None:
        self._games += 1
        before = f"{self._games} "
        rulebook = load_rulebook(game.heading.rulebook, game.heading.season)
        shots = self._take(self.first, game, before)
        names = {FIRST: game.heading.angle}
        numbers: dict[int, int] = {}
        for each in game.angles:
            angle, recorded = self._further(each.angle, names)
            names[angle.id], numbers[each.angle.id] = each.angle.name, angle.id
            shots |= self._take(recorded, each, before)
        self.angles[path] = names
        self.steps += track(rulebook, [tag.play for tag in game.plays])
        for number, tag in enumerate(game.plays, 1):
            here = len(self.plays) + 1
            self.plays.append(replace(tag, id=here, order=float(here),
                                      shot=None if tag.shot is None else shots.get(tag.shot)))
            self.origins[here] = Origin(path, game.heading, tag.id, number, rulebook)
            self.ids[path, tag.id] = here
        self.matches += [
            replace(match, angle=numbers[match.angle], play=self.ids[path, match.play], shot=shots[match.shot],
                    same=None if match.same is None else (_at(before, match.same[0]), _at(before, match.same[1])))
            for match in game.matches if (path, match.play) in self.ids and match.shot in shots]

    def _further(self, angle: Angle, taken: Mapping[int, str]) -> tuple[Angle, _Recorded]:
        """The further angle of this name; another one of it where the game has *taken* it already."""
        name, which = angle.name.casefold(), 0
        while (key := (name, which)) in self.further and self.further[key][0].id in taken:
            which += 1
        return self.further.setdefault(key, (replace(angle, id=len(self.further) + 1), _Recorded()))

    def _take(self, into: _Recorded, given: Game | AngleFilm, before: str) -> dict[int, int]:
        """Append a game's recording; returns the new ids of its shots by their old ones."""
        def until(instant: Instant | None) -> Instant | None:
            return None if instant is None else _at(before, instant)

        into.sources += [replace(source, id=before + source.id) for source in given.film.sources]
        shots = {shot.id: next(self._ids) for shot in given.shots}
        into.shots += [replace(shot, id=shots[shot.id], start=_at(before, shot.start), end=_at(before, shot.end))
                       for shot in given.shots]
        into.moments += [replace(moment, id=next(self._ids), at=_at(before, moment.at)) for moment in given.moments]
        into.notes += [replace(note, id=next(self._ids), at=_at(before, note.at), until=until(note.until))
                       for note in given.notes]
        into.drawings += [replace(drawing, id=next(self._ids), at=_at(before, drawing.at), until=until(drawing.until))
                          for drawing in given.drawings]
        return shots


def _at(before: str, instant: Instant) -> Instant:
    return Instant(before + instant.source, instant.pts)

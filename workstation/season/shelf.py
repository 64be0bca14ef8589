"""The shelf: the games of one season, from one folder or several, and the facts of their plays."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc

from ..film.cache import folder as cache_folder
from .facts import COLUMNS, OWN_WORD, Sort
from .index import GAME, IndexedGame, SeasonIndex, Updated


@dataclass(frozen=True)
class ShelvedGame:
    """A game on the shelf: its file, and what the index knows of it."""

    path: Path
    known: IndexedGame

    @property
    def name(self) -> str:
        """What a person calls it: its title, else who played, else its file."""
        known = self.known
        return known.title or (f"{known.visitors} at {known.home}" if known.home or known.visitors else self.path.stem)

    @property
    def spoken(self) -> str:
        """Name and date."""
        return " · ".join(filter(None, (self.name, self.known.date)))

    def opponent(self, us: str) -> str:
        """The team that *us* met, empty where it did not play."""
        known = self.known
        return known.visitors if us == known.home else known.home if us == known.visitors else ""

    def where(self, us: str) -> str:
        """``home`` or ``away`` for *us*, empty where it did not play."""
        return "home" if us == self.known.home else "away" if us == self.known.visitors else ""

    @property
    def film(self) -> str:
        """Whether the film is there: ``film``, ``no film``, ``12 of 40 files``."""
        known = self.known
        if not known.film_files:
            return "no film"
        return "film" if known.film_found == known.film_files else f"{known.film_found} of {known.film_files} files"


class Shelf:
    """The games below some folders. Not thread-safe."""

    def __init__(self, folders: Sequence[Path]):
        self.folders = tuple(dict.fromkeys(folder.absolute() for folder in folders))
        self._indexes = [SeasonIndex(folder, cache_folder().parent / "season") for folder in self.folders]
        self._parts: dict[tuple[int, int], tuple[object, pa.Table]] = {}
        self._said: dict[tuple[int, int], tuple[object, pa.Table]] = {}
        self._made: dict[bool, tuple[object, pd.DataFrame]] = {}
        self.games: tuple[ShelvedGame, ...] = ()
        self._look()

    def update(self, progress: Callable[[float, float], None] | None = None, anew: bool = False) -> tuple[Updated, ...]:
        """Bring all indexes up to date. Raises as :meth:`.index.SeasonIndex.update`; ``progress`` may raise to stop."""
        done = []
        for number, index in enumerate(self._indexes):
            def tell(part: float, of: float, number: int = number) -> None:
                if progress:
                    progress(number + part / of, len(self._indexes))
            done.append(index.update(tell, anew))
        self._look()
        return tuple(done)

    def _look(self) -> None:
        games = [ShelvedGame(index.folder / game.file, game) for index in self._indexes for game in index.games()]
        one_each = {game.path: game for game in reversed(games)}        # folders may lie in each other
        self.games = tuple(sorted(one_each.values(), key=lambda game: (game.known.date or "9999", game.path)))

    @property
    def usable(self) -> tuple[ShelvedGame, ...]:
        """The games whose plays are known."""
        return tuple(game for game in self.games if not game.known.left_out)

    @property
    def left_out(self) -> tuple[ShelvedGame, ...]:
        """The files that cannot be used; why is in ``known.left_out``."""
        return tuple(game for game in self.games if game.known.left_out)

    def frame(self, games: Collection[Path] | None = None, said: bool = False) -> pd.DataFrame:
        """The facts of the plays of *games* (None: of all), by date and in game order; ``game`` is the path of the
        file. Words are categories. With *said* also all that was said, for a search."""
        whole = self._whole(said)
        if games is None:
            return whole
        wanted = {str(path) for path in games}
        return whole[whole[GAME].isin(wanted)]

    def _whole(self, said: bool) -> pd.DataFrame:
        order = {str(game.path): place for place, game in enumerate(self.usable)}
        tables: list[tuple[Path, set[str], pa.Table]] = []
        state: list[object] = [tuple(order)]
        for number, index in enumerate(self._indexes):
            here = {game.file for game in index.games() if not game.left_out}
            for part in sorted({IndexedGame(name).part for name in here}):
                stamp, table = self._part(number, index, part, said)
                state.append(stamp)
                if table is not None:
                    tables.append((index.folder, here, table))
        known = self._made.get(said)
        if known is None or known[0] != state:
            self._made.clear()          # only one is cached, because a season is large
            self._made[said] = state, _frame([_placed(*each) for each in tables], order)
        return self._made[said][1]

    def _part(self, number: int, index: SeasonIndex, part: int, said: bool) -> tuple[object, pa.Table | None]:
        """A part as last read, read again if it was written since."""
        try:
            found = index.part_path(part).stat()
        except OSError:
            return None, None
        stamp, kept = (found.st_size, found.st_mtime_ns), self._said if said else self._parts
        known = kept.get((number, part))
        if known is None or known[0] != stamp:
            names = None if said else [*_FACTS_BUT_SAID, *_own_words(index)]
            table = index.read_part(part, names)
            if table is None:
                return None, None
            known = kept[number, part] = stamp, table
        return stamp, known[1]

    def paths(self, names: Iterable[str]) -> tuple[list[Path], list[str]]:
        """The files of the games that a person names, by title, file, date or a part that fits one; the other names."""
        found, unknown = [], []
        for name in names:
            wanted = name.casefold()
            fits = [game.path for game in self.usable if wanted in
                    (game.name.casefold(), game.path.name.casefold(), game.path.stem.casefold(), game.known.date)]
            fits = fits or [game.path for game in self.usable if wanted in game.spoken.casefold()]
            if len(fits) == 1:
                found.append(fits[0])
            else:
                unknown.append(name)
        return found, unknown

    def likely_us(self) -> str:
        """The team that plays in more games than any other, if it plays in most of several; empty if there is none."""
        counts = Counter(team for game in self.usable for team in (game.known.home, game.known.visitors) if team)
        if not counts or len(self.usable) < 2:
            return ""
        (team, count), *others = counts.most_common(2)
        return team if count * 2 > len(self.usable) and (not others or others[0][1] < count) else ""

    def teams(self) -> list[str]:
        """Every team that plays, by name."""
        return sorted({team for game in self.usable for team in (game.known.home, game.known.visitors) if team})


_FACTS_BUT_SAID = [GAME, *(column.name for column in COLUMNS if column.sort is not Sort.TEXT)]


def _own_words(index: SeasonIndex) -> list[str]:
    return list(dict.fromkeys(OWN_WORD + word for game in index.games() for word in json.loads(game.own_words or "[]")))


def _placed(folder: Path, games: Collection[str], table: pa.Table) -> pa.Table:
    """The rows of the games that the index knows, each with the whole path of its file."""
    codes = table[GAME].combine_chunks()
    if isinstance(codes, pa.ChunkedArray):
        codes = codes.chunk(0) if codes.num_chunks else pa.array([], pa.dictionary(pa.int32(), pa.string()))
    names = codes.dictionary.to_pylist()
    column = pa.DictionaryArray.from_arrays(codes.indices, [str(folder / name) for name in names])
    table = table.set_column(table.schema.get_field_index(GAME), GAME, column)
    if all(name in games for name in names):
        return table
    kept = pa.array([str(folder / name) for name in names if name in games], pa.string())
    return table.filter(pc.is_in(column, kept))


def _frame(tables: Sequence[pa.Table], order: dict[str, int]) -> pd.DataFrame:
    if not tables:
        from .facts import frame_of
        return frame_of([]).assign(game=pd.Categorical([], list(order)))
    joined = pa.concat_tables(tables, promote_options="permissive").unify_dictionaries()
    frame = joined.to_pandas(types_mapper={pa.int32(): pd.Int32Dtype(), pa.string(): pd.StringDtype("pyarrow",
                                                                                                   na_value=float("nan"))
                                           }.get, self_destruct=False)
    for name in frame.columns:
        if name.startswith(OWN_WORD) and frame[name].hasnans:      # a game without the word
            frame[name] = frame[name].cat.add_categories([""] if "" not in frame[name].cat.categories else [])\
                .fillna("")
        if name != GAME and isinstance(frame[name].dtype, pd.CategoricalDtype):
            frame[name] = frame[name].cat.set_categories(sorted(frame[name].cat.categories))
    frame[GAME] = frame[GAME].cat.set_categories(list(order))
    place = frame[GAME].cat.codes.to_numpy()
    return frame.iloc[(pd.Series(place).sort_values(kind="stable")).index].reset_index(drop=True)


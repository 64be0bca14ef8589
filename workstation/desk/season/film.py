"""The film of several games, for a page that has no open game: a player, and which play is where on it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from ...delivery.cutting import span_of
from ...film.film import Film
from ...film.time import Instant
from ...season.joined import JoinedGames, join
from ...season.reel import PlayKey
from ...tagging.angles import FIRST, seen_from
from ...tagging.layout import FilmLayout, layout_of
from ...tagging.model import Game
from ..jobs import Job
from ..player import Player

MOST_GAMES = 40         # whose film is looked for at once; a cell of a whole league has plays of hundreds


class SeasonFilm(QObject):
    """Shows plays of any games. What it offers is what a picture and a play-through need of a session."""

    loaded = Signal()
    playing_changed = Signal(bool)
    failed = Signal(str)

    def __init__(self, parent: QObject):
        super().__init__(parent)
        self.player = Player(self)
        self.player.playing_changed.connect(self.playing_changed)
        self.player.failed.connect(lambda what, todo: self.failed.emit(f"{what} {todo}"))
        self.joined: JoinedGames | None = None
        self._layouts: dict[int, FilmLayout] = {}       # by the number of the angle
        self.film = Film()      # of all games and angles, one after the other
        self._angles: tuple[str, ...] = ()
        self._games: tuple[Path, ...] = ()
        self._job: Job | None = None
        self._closed = False
        self._wanted: tuple[tuple[Path, ...], dict[Path, Game]] | None = None

    def show_from(self, angles: Sequence[str]) -> None:
        """Show each play from the angles of these names from now on; without any from its game's first one."""
        self._angles = tuple(angles)

    def want(self, games: Sequence[Path], open_games: dict[Path, Game]) -> bool:
        """Load the films of these games, unless they are here; whether they are. :attr:`loaded` is sent otherwise."""
        games = tuple(dict.fromkeys(games))[:MOST_GAMES]
        if not open_games and set(games) <= set(self._games):
            return True
        if games == self._games and self.joined is not None and not any(path in games for path in open_games):
            return True
        self._wanted = games, dict(open_games)
        self._load()
        return False

    def _load(self) -> None:
        if self._job is not None or self._wanted is None or self._closed:
            return
        (games, open_games), self._wanted = self._wanted, None
        self._job = Job("Looking for the films", lambda progress: join(games, open_games),
                        lambda joined: self._take(games, joined), self._fail, parent=self)
        self._job.ended.connect(self._ended)
        self._job.start()

    def _take(self, games: tuple[Path, ...], joined: JoinedGames) -> None:
        if self._closed:
            return
        self._games, self.joined, self.film = games, joined, Film(joined.game.sources)
        self._layouts = {number: layout_of(seen_from(joined.game, number))
                         for number in (FIRST, *(each.angle.id for each in joined.game.angles))}
        self.player.show_film(self.film)
        self.loaded.emit()

    def _fail(self, why: str) -> None:
        self.failed.emit(f"The film cannot be shown: {why}")

    def _ended(self) -> None:
        self._job = None
        self._load()

    def spans(self, key: PlayKey) -> list[tuple[Instant, Instant]]:
        """Where a play is on this film, once for each angle that it is shown from; nothing if it is not filmed, or its
        game is not loaded."""
        item = self.joined.item(*key, self._angles) if self.joined is not None else None
        found = [span_of(self._layouts[number], item) for number in item.angles or (FIRST,)] if item is not None else []
        return [span for span in found if span is not None]

    def snap(self, key: PlayKey) -> Instant | None:
        """The picture that shows a play best while it stands still, of the angle that it is shown from first."""
        item = self.joined.item(*key, self._angles) if self.joined is not None else None
        if item is None:
            return None
        place = self._layouts[(item.angles or (FIRST,))[0]].plays.get(item.play)
        return place.begins if place is not None else None

    def play_span(self, start: Instant, end: Instant) -> None:
        """Play from ``start`` to ``end``."""
        self.player.play_span(start, end)

    def seek(self, instant: Instant) -> None:
        """Show a picture."""
        self.player.seek(instant)

    def pause(self) -> None:
        """Stop playing."""
        self.player.pause()

    def close(self) -> None:
        """Wait for the films that are looked for, and let the player go."""
        self._closed, self._wanted = True, None
        if self._job is not None:
            self._job.cancel()
            self._job.wait(10)
        self.player.close()

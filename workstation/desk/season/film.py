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
from ...tagging.layout import FilmLayout, layout_of
from ...tagging.model import Game, SequenceItem
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
        self._layout: FilmLayout | None = None
        self._games: tuple[Path, ...] = ()
        self._job: Job | None = None
        self._closed = False
        self._wanted: tuple[tuple[Path, ...], dict[Path, Game]] | None = None

    @property
    def film(self) -> Film:
        """The games' films, one after the other."""
        return self.joined.game.film if self.joined is not None else Film()

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
        self._games, self.joined, self._layout = games, joined, layout_of(joined.game)
        self.player.show_film(joined.game.film)
        self.loaded.emit()

    def _fail(self, why: str) -> None:
        self.failed.emit(f"The film cannot be shown: {why}")

    def _ended(self) -> None:
        self._job = None
        self._load()

    def span(self, key: PlayKey) -> tuple[Instant, Instant] | None:
        """Where a play is on this film; None if it is not filmed, or its game is not loaded."""
        play = self.joined.play(*key) if self.joined is not None else None
        if play is None or self._layout is None:
            return None
        return span_of(self._layout, SequenceItem(play))

    def snap(self, key: PlayKey) -> Instant | None:
        """The picture that shows a play best while it stands still."""
        play = self.joined.play(*key) if self.joined is not None else None
        place = self._layout.plays.get(play) if self._layout is not None and play is not None else None
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

"""Opening games and footage: choosing, the jobs that read them, and what to do where something is missing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QStandardPaths, Signal
from PySide6.QtWidgets import QWidget

from .asking import ask_for_file, ask_for_files, ask_for_folder
from .first_look import FirstLook
from .jobs import Progress
from .room import Desk
from .saving import game_from_document
from .speech import first_few
from .widgets import MessageBar, Toast

if TYPE_CHECKING:
    from ..film.cards import Card
    from ..tagging.gamefile import GameFile
    from ..tagging.opening import Loaded, Troubles
    from .session import Session

SUFFIX = ".game"
RECENT = 8      # games remembered


class GameOpener(QObject):
    """Reads games and footage in jobs and sends them as ``loaded``, with whether the game is new."""

    loaded = Signal(object, bool)
    filming = Signal(bool)      # whether the demo game is being filmed now

    def __init__(self, desk: Desk, message: MessageBar, toast: Toast, session: Callable[[], Session | None],
                 first_look: Callable[[], FirstLook | None], window: QWidget):
        super().__init__(window)
        self._jobs, self._settings, self._message, self._toast = desk.jobs, desk.settings, message, toast
        self._session, self._first_look, self._window = session, first_look, window
        self._is_filming = False

    def _pause(self) -> None:
        session = self._session()
        if session is not None:
            session.pause()

    def choose_game(self) -> None:
        """Ask for a game file and open it."""
        self._pause()
        ask_for_file(self._window, "Open a game", self.last_folder(),
                     f"Games (*{SUFFIX});;Games from other tools (*.json)", self.open_game)

    def choose_footage(self) -> None:
        """Ask for a folder with footage and open it."""
        self._pause()
        ask_for_folder(self._window, "Open the folder with the footage", self.films_folder(),
                       lambda folder: self.open_footage([folder]))

    def choose_copy(self, card: Card) -> None:
        """Ask where a card's footage goes, copy it there and open the copy."""
        ask_for_folder(self._window, f"Copy the footage of {card.name} into", self.films_folder(),
                       partial(self.copy_card, card))

    def copy_card(self, card: Card, folder: Path) -> None:
        """Copy a card's footage into *folder* in the background, then open the copy."""
        def work(progress: Progress) -> Path:
            from ..film.cards import copy_card
            return copy_card(card, folder, progress.report, progress.cancelled)

        self._message.hide()
        self._jobs.start(f"Copying {card.name}", work, lambda path: self.open_footage([path]),
                        lambda why: self._message.fail(f"The card was not copied: {why}", "The card is as it was."),
                        lambda: self._toast.tell(f"Stopped. What was copied whole is in {folder}."))

    def choose_more_footage(self) -> None:
        """Ask for files and add them to the film."""
        self._pause()
        ask_for_files(self._window, "Add footage to this game", self.last_folder(), self.add_footage)

    def last_folder(self) -> str:
        """Where the game opened last lies, the demo left out; without one, where films are kept."""
        return next((str(path.parent) for path in self._own_games()), self.films_folder())

    def films_folder(self) -> str:
        """Where a person keeps the folders with their films: beside that of the game opened last, else the system's
        folder for films."""
        films = Path(QStandardPaths.writableLocation(QStandardPaths.StandardLocation.MoviesLocation))
        beside = next((path.parent.parent for path in self._own_games() if path.parent.is_dir()), films)
        return str(beside if beside.is_dir() else Path.home())

    def _own_games(self) -> list[Path]:
        """The games opened last without the demo, which lies in a folder of the program."""
        from workstation.demo.kept_game import demo_folder
        return [path for path in self.recent() if path.parent != demo_folder()]

    def open_game(self, path: Path) -> None:
        """Open a game file in the background; if that fails the bar says why, and what is open stays open.
        A game from another tool (JSON) gets a game file of its own beside it."""
        path = Path(path)
        self._message.hide()

        def work(progress: Callable[[float, float], None]) -> Loaded:
            from ..tagging.opening import load
            return load(game_from_document(path) if path.suffix.lower() == ".json" else path)

        def failed(why: str) -> None:
            named = why if str(path) in why else f"{path}: {why}"
            backups = self._backups_of(path)
            if backups:
                self._message.fail(f"Not opened: {named}", "", "Put the backup in its place",
                                  lambda: self._restore(path))
            else:
                self._message.fail(f"Not opened: {named}", "Choose another file.")

        session = self._session()
        if session is not None and session.file.path == path.absolute():
            return      # it is open already; a file is locked by one session
        self._jobs.start(f"Opening {path.name}", work, lambda loaded: self.loaded.emit(loaded, False), failed)

    @staticmethod
    def _backups_of(path: Path) -> tuple:
        from ..tagging.backups import listed
        return listed(path) if path.exists() and path.suffix.lower() == SUFFIX else ()

    def _restore(self, path: Path) -> None:
        """Put the newest backup in the place of a damaged game file, which moves aside, and open it."""
        from ..tagging.backups import restore
        try:
            restore(self._backups_of(path)[0], path)
        except (OSError, IndexError) as error:
            self._message.fail(f"{path}: the backup could not be put in its place: {error}", "Copy it there by hand.")
            return
        self.open_game(path)

    def tell_troubles(self, session: Session, troubles: Troubles) -> None:
        """Say what of the film cannot be shown, and offer to look for it."""
        if not troubles:
            return
        first, *more = troubles.values()
        if more:
            sources = session.whole.sources
            named = [source.path.name for source in sources if source.id in troubles]
            first = f"{len(named)} of the film's {len(sources)} files cannot be shown: {first_few(named, 3)}."
        self._message.fail(first,
                          "The tags are safe, and tagging goes on. The picture says where one is missing, and why.",
                          "Look for it in a folder", self.find_footage)

    def tell_copies(self, file: GameFile) -> None:
        """Say that the game was changed in several copies, if it was."""
        if file.copies_apart:
            first, *more = file.copies_apart
            rest = f" And {len(more)} more." if more else ""
            self._message.fail(f"{first}{rest}",
                               "Go on in the one that you want to keep, and move the other elsewhere; "
                               "the program never mixes them.")

    def find_footage(self) -> None:
        """Ask for a folder and look for the game's missing footage in it."""
        self._pause()
        ask_for_folder(self._window, "Look for the footage in", self.last_folder(), self.look_for_footage)

    def look_for_footage(self, folder: Path) -> None:
        """Look for the game's missing footage in *folder*, in the background, and take it up where it is."""
        session = self._session()
        if session is None:
            return

        def look(progress: Callable[[float, float], None]) -> Troubles:
            from ..tagging.opening import find_footage
            return find_footage(session.file, [folder])

        def looked(troubles: Troubles) -> None:
            if session is self._session():
                self._message.hide()
                session.reread(troubles)
                self.tell_troubles(session, troubles) if troubles else self._toast.tell("All footage is there.")

        self._jobs.start("Looking for footage", look, looked,
                        lambda why: self._message.fail(f"The folder could not be searched: {why}", "Choose another."))

    def open_footage(self, paths: Sequence[Path]) -> None:
        """Look at footage in the background, then open the game that was begun on it, or begin one beside it."""
        from ..tagging.new_game import game_begun_on, game_path, read_footage, start_game
        from ..tagging.opening import Loaded, troubles_of
        paths = list(paths)
        self._message.hide()
        look = self._first_look()

        def work(progress: Progress) -> Loaded | Path:
            film = read_footage(paths, (), progress.report, progress.cancelled,
                                None if look is None else look.show_picture)
            begun = game_begun_on(film, paths)
            return begun or Loaded(start_game(film, game_path(paths)), troubles_of(film))

        def ready(loaded: Loaded | Path) -> None:
            if isinstance(loaded, Path):
                self._toast.tell(f"This footage has its game already: {loaded.name}. "
                                "To begin another, move that file first.")
                leave()
                self.open_game(loaded)
                return
            self.loaded.emit(loaded, True)

        def failed(why: str) -> None:
            leave()
            self._message.fail(f"The footage was not opened: {why}",
                              "If its folder cannot be written, copy the footage to one that can and open it there.")

        def leave() -> None:
            if look is not None:
                look.leave()

        self._jobs.start("Looking at the footage", work, ready, failed, leave)

    def add_footage(self, paths: Sequence[Path]) -> None:
        """Look at more footage in the background, then put it behind the film of the open game."""
        session = self._session()
        if session is None:
            self.open_footage(paths)
            return
        from ..tagging.new_game import read_footage
        from ..tagging.operations import AddSources
        taken = [source.id for source in session.film.sources]
        self._jobs.start("Looking at the footage",
                        lambda progress: read_footage(list(paths), taken, progress.report, progress.cancelled),
                        lambda film: session.do(AddSources(film.sources)),
                        lambda why: self._message.fail(f"The footage was not added: {why}", ""))

    def open_demo(self) -> None:
        """Film the demo game (once; it is kept) and open it; only one is filmed at a time."""
        def work(progress: Progress) -> Path:
            from workstation.demo.kept_game import prepare_demo  # imported here: it loads the painter
            return prepare_demo(progress.report, progress.cancelled)

        if self._is_filming:
            return
        self._tell_filming(True)
        job = self._jobs.start("Filming the demo game", work, self.open_game,
                               lambda why: self._message.fail(f"See the demo game: {why}",
                                                              "Open footage of your own instead."))
        job.ended.connect(lambda: self._tell_filming(False))

    def _tell_filming(self, is_filming: bool) -> None:
        self._is_filming = is_filming
        self.filming.emit(is_filming)

    def take_paths(self, paths: Sequence[Path]) -> None:
        """Open what was dropped or named on the command line: a game file, or footage."""
        games = [path for path in paths if path.suffix.lower() in (SUFFIX, ".json")]
        if games:
            self.open_game(games[0])
        elif paths:
            self.add_footage(paths)

    def recent(self) -> list[Path]:
        """The games opened last, newest first."""
        stored = self._settings.value("recent") or []
        return [Path(path) for path in ([stored] if isinstance(stored, str) else stored)]

    def remember(self, path: Path) -> None:
        """Put a game first in the list of games opened last."""
        path = path.absolute()
        self._settings.setValue("recent", [str(p) for p in [path, *(p for p in self.recent() if p != path)][:RECENT]])

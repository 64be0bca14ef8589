"""The main window: the rooms, opening and closing games, messages and running jobs."""

from __future__ import annotations

import logging
from collections.abc import Callable, Sequence
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QByteArray, QSettings, Qt, QTimer, Signal
from PySide6.QtGui import QAction, QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication, QKeyEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QFileDialog,
    QFrame,
    QHBoxLayout,
    QMainWindow,
    QMenu,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)
from shiboken6 import isValid

from .actions import FOR_ANGLES, MENU
from .angles import AngleAdder
from .first_look import FirstLook
from .jobs import Job, Jobs, Progress, spoken_left
from .keypage import KeyPage
from .keys import KeyMap
from .lightening import Lightening
from .privacy import keep_private
from .room import Desk, Room
from .rooms import ROOMS, RoomBuilder
from .saving import FileSaver, game_from_document
from .team_colours import TeamColours
from .theme import Theme
from .timers import in_another_turn
from .verifying import PackChecker
from .welcome import Welcome
from .widgets import MessageBar, Pages, Toast, label

if TYPE_CHECKING:
    from ..film.cards import Card
    from ..tagging.gamefile import GameFile
    from ..tagging.model import Angle
    from ..tagging.opening import Loaded, Troubles
    from .angle_page import AnglePage
    from .crews_page import CrewsPage
    from .fault_page import FaultPage
    from .footage_page import FootagePage
    from .guide_page import GuidePage
    from .matching_page import MatchingPage
    from .practice_page import PracticePage
    from .season.page import SeasonPage
    from .second_pass.page import SecondPassPage
    from .session import Session
    from .words_page import WordsPage

log = logging.getLogger(__name__)
SUFFIX = ".game"
RECENT = 8      # games remembered
_FRAME = 40     # pixels that a window's own frame may take


class MainWindow(QMainWindow):
    """Opens games and footage, shows rooms, messages and jobs.

    *settings* remembers the look, the keys and the games; a test gives its own.
    """

    game_opened = Signal(object)        # the session

    def __init__(self, settings: QSettings, theme: Theme | None = None):
        super().__init__()
        self.settings = settings
        application = QApplication.instance()
        assert isinstance(application, QApplication)        # a window cannot be made without one
        self._application = application
        keep_private(settings)
        self.theme = theme or Theme(application, self)
        if theme is None:
            self.theme.restore(settings)
        self.keys = KeyMap(settings, self)
        self.jobs = Jobs(self)
        self.desk = Desk(self.keys, self.theme, self.jobs, settings)
        self.saving = FileSaver(self.desk, self)
        self.session: Session | None = None
        self.room: Room | None = None
        self._under: list[tuple[QWidget, QWidget | None]] = []      # the page on show covers these, with their focus
        self._progress: dict[Job, _JobStrip] = {}
        self.setWindowTitle("Film workstation")
        self.setAcceptDrops(True)
        self.resize(1280, 800)
        self.setMinimumSize(560, 360)
        self._acts: dict[str, Callable[[], object]] = {
            **{f"desk.{plan.name.lower()}": partial(self.ask_for, plan.name) for plan in ROOMS},
            "desk.open": self.choose_game, "desk.footage": self.choose_footage, "desk.add": self.choose_more_footage,
            "desk.find": self.find_footage, "desk.files": self.toggle_files, "desk.practice": self.toggle_practice,
            "desk.compare_crews": self.toggle_crews, "desk.add_angle": self.toggle_adding,
            "desk.matching": self.toggle_matching,
            "desk.angle": lambda: self.game.see_next(), "desk.beside": lambda: self.game.show_beside(),
            "desk.same_moment": lambda: self.game.mark_same(),
            "desk.tie_earlier": lambda: self.game.nudge_tie(-1), "desk.tie_later": lambda: self.game.nudge_tie(1),
            "desk.plays": self.toggle_plays,
            "desk.words": self.toggle_words, "desk.season": self.toggle_season,
            "desk.picture": lambda: self.saving.choose_picture(self.game),
            "desk.sheet": lambda: self.saving.choose_sheet(self.game),
            "desk.verify": lambda: self.checking.choose(self._last_folder()),
            "desk.document": lambda: self.saving.choose_document(self.game),
            "desk.undo": self.undo, "desk.redo": self.redo, "desk.keys": self.toggle_keys,
            "desk.guide": self.toggle_guide, "desk.fault": self.toggle_fault,
            "desk.home_colour": lambda: self.team_colours.choose(self.game.game.heading, "home"),
            "desk.visitors_colour": lambda: self.team_colours.choose(self.game.game.heading, "visitors"),
            "desk.team_colours": lambda: self.team_colours.forget(self.game.game.heading),
            "desk.look": self.toggle_look, "desk.larger": lambda: self._scale(1.1),
            "desk.smaller": lambda: self._scale(1 / 1.1), "desk.full": self._full_screen,
            "desk.mute": self.toggle_sound, "desk.forget": self.forget_games, "desk.close": self.close_game,
            "desk.quit": self.close,
        }
        self._game_actions: list[QAction] = []      # of the menu
        self._angle_actions: list[QAction] = []     # of the menu, for games with several angles
        self._build()
        for id in self._acts:
            self.keys.bind(id, self, partial(self.act, id))
        self.jobs.started.connect(self._show_job)
        self.jobs.finished.connect(self._hide_job)
        QTimer.singleShot(150, self._builder.warm_up)
        self._refresh()

    @property
    def game(self) -> Session:
        """The session, for what is possible with an open game only."""
        if self.session is None:
            raise RuntimeError("no game is open")
        return self.session

    def _idle(self) -> bool:
        """A game is open, and nothing else is going on."""
        return self.session is not None and not self.session.playing and not self.jobs.running

    # -- building -----------------------------------------------------------------------------
    def _build(self) -> None:
        centre = QWidget()
        centre.setObjectName("ground")
        self.setCentralWidget(centre)
        column = QVBoxLayout(centre)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._build_head())
        self.message = MessageBar()
        column.addWidget(self.message)
        self.stack = Pages()
        self.team_colours = TeamColours(self.desk, self)
        self.checking = PackChecker(self.desk, self.message, self)
        self.adding = AngleAdder(self.desk, self.message, self.show_matching, self)
        self._builder = RoomBuilder(self.desk, self.stack, self._idle, self)
        self.rooms = self._builder.rooms
        around = self._around = QScrollArea()      # on a small screen a page may need more room than there is
        around.setFrameShape(QFrame.Shape.NoFrame)
        around.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        around.setWidgetResizable(True)
        around.setWidget(self.stack)
        self._application.focusChanged.connect(self._bring_into_sight)
        self.toast = Toast(around)
        self._lightening = Lightening(self.jobs, self.message, self.toast, self)
        for bar in (around.horizontalScrollBar(), around.verticalScrollBar()):
            self.theme.dress(bar)
        column.addWidget(around, 1)
        self._strips = QVBoxLayout()
        self._strips.setContentsMargins(0, 0, 0, 0)
        column.addLayout(self._strips)
        self.welcome = Welcome(self.desk)
        self.welcome.demo_wanted.connect(self.open_demo)
        self.welcome.footage_wanted.connect(self.choose_footage)
        self.welcome.game_wanted.connect(self.choose_game)
        self.welcome.guide_wanted.connect(self.toggle_guide)
        self.welcome.card_wanted.connect(lambda card: self.open_footage([card.folder]))
        self.welcome.copy_wanted.connect(self.choose_copy)
        self.welcome.recent_wanted.connect(self.open_game)
        self.key_page = KeyPage(self.keys)
        self.key_page.closed.connect(self.toggle_keys)
        self.footage_page: FootagePage | None = None    # made when first wanted, as the next
        self.guide_page: GuidePage | None = None
        self.fault_page: FaultPage | None = None
        self.angle_page: AnglePage | None = None
        self.matching_page: MatchingPage | None = None
        self.crews_page: CrewsPage | None = None
        self.practice_page: PracticePage | None = None
        self.second_pass: SecondPassPage | None = None
        self.words_page: WordsPage | None = None
        self.season_page: SeasonPage | None = None
        self.stack.addWidget(self.welcome)
        self.stack.addWidget(self.key_page)
        self.welcome.demo.setFocus()
        for page in (self.message, self.toast, self.welcome, self.key_page):
            self.theme.dress(page)

    def _bring_into_sight(self, _: QWidget | None, now: QWidget | None) -> None:
        """Scroll a page that is larger than the screen to what has the focus."""
        if now is not None and self.stack.isAncestorOf(now):
            self._around.ensureWidgetVisible(now, 8, 8)

    def _build_head(self) -> QWidget:
        head = QFrame()
        head.setObjectName("panel")
        head.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        row = QHBoxLayout(head)
        row.setContentsMargins(10, 0, 10, 0)
        row.setSpacing(2)
        self._room_buttons: dict[str, QPushButton] = {}
        for plan in ROOMS:
            button = QPushButton(plan.name)
            button.setProperty("role", "room")
            button.setCheckable(True)
            button.setAccessibleName(f"{plan.name} room: {plan.purpose}")
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            button.clicked.connect(lambda _=False, name=plan.name: self.ask_for(name))
            row.addWidget(button)
            self._room_buttons[plan.name] = button
        self.title = label("", "lead", elide=True)
        self.title.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.title.setAlignment(Qt.AlignmentFlag.AlignCenter)
        row.addWidget(self.title, 1)
        self.saved = label("", "small", "quiet")
        row.addWidget(self.saved)
        self.undo_button = self._tool("↶ Undo", "desk.undo")
        self.redo_button = self._tool("↷ Again", "desk.redo")
        self.menu_button = self._tool("Menu ▾")
        self.menu_button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.menu_button.setMenu(self._build_menu())
        for tool in (self.undo_button, self.redo_button, self.menu_button):
            # Without a place in it they would keep the row as low as they are, whatever the text of the rooms needs.
            row.addWidget(tool, 0, Qt.AlignmentFlag.AlignVCenter)
        self.keys.changed.connect(self._name_rooms)
        self._name_rooms()
        self.theme.dress(head)
        return head

    def _tool(self, text: str, id: str = "") -> QToolButton:
        button = QToolButton()
        button.setText(text)
        button.setAccessibleName(text.strip("↶↷▾ "))
        button.setProperty("role", "flat")
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        if id:
            button.clicked.connect(lambda: self.act(id))
        return button

    def _build_menu(self) -> QMenu:
        menu = QMenu(self.menu_button)
        for part in MENU:
            for id in part:
                known, key = self.keys.action(id), self.keys.shown(id)
                action = QAction(f"{known.menu}\t{key}" if key else known.menu, menu)
                action.triggered.connect(lambda _=False, id=id: self.act(id))
                menu.addAction(action)
                if known.needs_game:
                    self._game_actions.append(action)
                if id in FOR_ANGLES:
                    self._angle_actions.append(action)
            if part is not MENU[-1]:
                menu.addSeparator()
        return menu

    def act(self, id: str) -> None:
        """Carry out an action of the table, if it is possible now."""
        if self.session is not None or not self.keys.action(id).needs_game:
            self._acts[id]()

    def _name_rooms(self) -> None:
        for plan in ROOMS:
            key = self.keys.shown(f"desk.{plan.name.lower()}")
            self._room_buttons[plan.name].setToolTip(f"{plan.purpose} ({key})")

    # -- opening ------------------------------------------------------------------------------
    def choose_game(self) -> None:
        """Ask for a game file and open it."""
        self._pause()
        path, _ = QFileDialog.getOpenFileName(self, "Open a game", self._last_folder(),
                                              f"Games (*{SUFFIX});;Games from other tools (*.json)")
        if path:
            self.open_game(Path(path))

    def choose_footage(self) -> None:
        """Ask for a folder with footage and open it."""
        self._pause()
        folder = QFileDialog.getExistingDirectory(self, "Open the folder with the footage", self._last_folder())
        if folder:
            self.open_footage([Path(folder)])

    def choose_copy(self, card: Card) -> None:
        """Ask where a card's footage goes, copy it there and open the copy."""
        folder = QFileDialog.getExistingDirectory(self, f"Copy the footage of {card.name} into", self._last_folder())
        if folder:
            self.copy_card(card, Path(folder))

    def copy_card(self, card: Card, folder: Path) -> None:
        """Copy a card's footage into *folder* in the background, then open the copy."""
        def work(progress: Progress) -> Path:
            from ..film.cards import copy_card
            return copy_card(card, folder, progress.report, progress.cancelled)

        self.message.hide()
        self.jobs.start(f"Copying {card.name}", work, lambda path: self.open_footage([path]),
                        lambda why: self.message.fail(f"The card was not copied: {why}", "The card is as it was."),
                        lambda: self.toast.tell(f"Stopped. What was copied whole is in {folder}."))

    def choose_more_footage(self) -> None:
        """Ask for files and add them to the film."""
        self._pause()
        paths, _ = QFileDialog.getOpenFileNames(self, "Add footage to this game", self._last_folder())
        if paths:
            self.add_footage([Path(path) for path in paths])

    def _last_folder(self) -> str:
        recent = self.recent()
        return str(recent[0].parent) if recent else str(Path.home())

    def open_game(self, path: Path) -> None:
        """Open a game file in the background; if that fails the bar says why, and what is open stays open.
        A game from another tool (JSON) gets a game file of its own beside it."""
        path = Path(path)
        self.message.hide()

        def work(progress: Callable[[float, float], None]) -> Loaded:
            from ..tagging.opening import load
            return load(game_from_document(path) if path.suffix.lower() == ".json" else path)

        def failed(why: str) -> None:
            named = why if str(path) in why else f"{path}: {why}"
            backups = self._backups_of(path)
            if backups:
                self.message.fail(f"Not opened: {named}", "", "Put the backup in its place",
                                  lambda: self._restore(path))
            else:
                self.message.fail(f"Not opened: {named}", "Choose another file.")

        if self.session is not None and self.session.file.path == path.absolute():
            return      # it is open already; a file is locked by one session
        self.jobs.start(f"Opening {path.name}", work, self._take_file, failed)

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
            self.message.fail(f"{path}: the backup could not be put in its place: {error}", "Copy it there by hand.")
            return
        self.open_game(path)

    def _take_file(self, loaded: Loaded, is_new: bool = False) -> None:
        from .session import Session
        session = Session(*loaded)
        session.notice.connect(self.toast.tell)     # its player may have something to say before the room is whole
        name = ROOMS[0].name if is_new else self._room_entered_last()

        def take() -> None:
            self._take(session, name)
            self._tell_troubles(loaded.troubles)
            self._tell_copies(loaded.file)
            if is_new and self.room is not None:
                self.room.begin()
        self._builder.prepare(name, take)       # in turns of the event loop of its own

    def _room_entered_last(self) -> str:
        return str(self.settings.value("room", ROOMS[0].name))

    def _fail(self, what: str, todo: str) -> None:
        self.message.fail(what, todo)

    def _tell_troubles(self, troubles: Troubles) -> None:
        if not troubles:
            return
        first, *more = troubles.values()
        if more:
            sources = self.game.whole.sources
            named = [source.path.name for source in sources if source.id in troubles]
            rest = f" and {len(named) - 3} more" if len(named) > 3 else ""
            first = f"{len(named)} of the film's {len(sources)} files cannot be shown: {', '.join(named[:3])}{rest}."
        self.message.fail(first,
                          "The tags are safe, and tagging goes on. The picture says where one is missing, and why.",
                          "Look for it in a folder", self.find_footage)

    def _tell_copies(self, file: GameFile) -> None:
        if file.copies_apart:
            first, *more = file.copies_apart
            rest = f" And {len(more)} more." if more else ""
            self.message.fail(f"{first}{rest}", "Go on in the one that you want to keep, and move the other elsewhere; "
                                                "the program never mixes them.")

    def find_footage(self) -> None:
        """Ask for a folder and look for the game's missing footage in it."""
        self._pause()
        folder = QFileDialog.getExistingDirectory(self, "Look for the footage in", self._last_folder())
        if folder:
            self.look_for_footage(Path(folder))

    def look_for_footage(self, folder: Path) -> None:
        """Look for the game's missing footage in *folder*, in the background, and take it up where it is."""
        session = self.game

        def look(progress: Callable[[float, float], None]) -> Troubles:
            from ..tagging.opening import find_footage
            return find_footage(session.file, [folder])

        def looked(troubles: Troubles) -> None:
            if session is self.session:
                self.message.hide()
                session.reread(troubles)
                self._tell_troubles(troubles) if troubles else self.toast.tell("All footage is there.")

        self.jobs.start("Looking for footage", look, looked,
                        lambda why: self.message.fail(f"The folder could not be searched: {why}", "Choose another."))

    def open_footage(self, paths: Sequence[Path]) -> None:
        """Look at footage in the background, then open the game that was begun on it, or begin one beside it."""
        from ..tagging.new_game import game_begun_on, game_path, read_footage, start_game
        from ..tagging.opening import Loaded, troubles_of
        paths = list(paths)
        self.message.hide()
        look = FirstLook(self.stack) if self.stack.currentWidget() is self.welcome else None

        def work(progress: Progress) -> Loaded | Path:
            film = read_footage(paths, (), progress.report, progress.cancelled,
                                None if look is None else look.show_picture)
            begun = game_begun_on(film, paths)
            return begun or Loaded(start_game(film, game_path(paths)), troubles_of(film))

        def ready(loaded: Loaded | Path) -> None:
            if isinstance(loaded, Path):
                self.toast.tell(f"This footage has its game already: {loaded.name}. "
                                "To begin another, move that file first.")
                leave()
                self.open_game(loaded)
                return
            self._take_file(loaded, is_new=True)

        def failed(why: str) -> None:
            leave()
            self.message.fail(f"The footage was not opened: {why}",
                              "If its folder cannot be written, copy the footage to one that can and open it there.")

        def leave() -> None:
            if look is not None:
                look.leave()

        self.jobs.start("Looking at the footage", work, ready, failed, leave)

    def add_footage(self, paths: Sequence[Path]) -> None:
        """Look at more footage in the background, then put it behind the film of the open game."""
        if self.session is None:
            self.open_footage(paths)
            return
        from ..tagging.new_game import read_footage
        from ..tagging.operations import AddSources
        session = self.session
        taken = [source.id for source in session.film.sources]
        self.jobs.start("Looking at the footage",
                        lambda progress: read_footage(list(paths), taken, progress.report, progress.cancelled),
                        lambda film: session.do(AddSources(film.sources)),
                        lambda why: self.message.fail(f"The footage was not added: {why}", ""))

    def open_demo(self) -> None:
        """Film the demo game (once; it is kept) and open it."""
        def work(progress: Progress) -> Path:
            from workstation.demo.kept_game import prepare_demo  # imported here: it loads the painter
            return prepare_demo(progress.report, progress.cancelled)
        self.jobs.start("Filming the demo game", work, lambda path: self.open_game(path),
                        lambda why: self.message.fail(f"The demo game could not be filmed: {why}",
                                                      "Open footage of your own instead."))

    def _take(self, session: Session, room: str) -> None:
        self.close_game()
        session.setParent(self)
        self.session = session
        session.failed.connect(self._fail)
        self._lightening.follow(session)
        session.game_changed.connect(self._refresh)
        session.game_changed.connect(self._builder.rest)
        self._remember(session.file.path)
        self.message.hide()
        why = session.file.why_read_only
        if why:
            self.message.fail(f"This game is open for reading only: {why}", "Nothing can be changed in this window.")
        self.go_to(room)
        self.game_opened.emit(session)

    def close_game(self) -> None:
        """Close the open game; everything in it was saved when it was said."""
        if self.session is None:
            return
        if self.room is not None:
            self.room.leave()
        for room in self.rooms.values():
            if room.has_session:
                room.forget()
        for page in (self.footage_page, self.angle_page, self.matching_page, self.crews_page, self.practice_page,
                     self.second_pass, self.words_page, self.season_page):
            if page is not None:
                page.show_session(None)
        session, self.session, self.room = self.session, None, None
        told = session.file.moved
        session.close()
        if session.file.moved and session.file.moved != told:
            self._remember(session.file.path)
            self.message.fail(session.file.moved, "Open that file to go on.")
        session.deleteLater()
        self._under.clear()
        self.stack.setCurrentWidget(self.welcome)
        self._refresh()
        self.welcome.demo.setFocus()

    # -- rooms --------------------------------------------------------------------------------
    def ask_for(self, name: str) -> None:
        """Enter a room as soon as it is whole: soon after a game was opened it may still have to be made."""
        if self.session is None or name in self.rooms:
            self.go_to(name)
        else:
            self._refresh()
            self._builder.prepare(name, lambda: self.go_to(name))

    def go_to(self, name: str) -> None:
        """Enter a room with the open game; without one the welcome stays."""
        if self.session is None:
            self._refresh()
            return
        room = self._builder.room(name)
        if room is self.room and self.stack.currentWidget() is room:
            self._refresh()
            return
        if self.room is not None and self.room is not room:
            self.room.leave()
        self.room = room
        # Painted in a turn of the event loop of its own, behind the one in which it is entered and laid out.
        self.stack.setUpdatesEnabled(False)
        in_another_turn(self.stack, lambda: self.stack.setUpdatesEnabled(True))
        self._under.clear()
        self.stack.setCurrentWidget(room)
        room.enter(self.session)
        self.settings.setValue("room", name)
        self._refresh()

    def toggle_keys(self) -> None:
        """Show the key map, that of the room at hand first, or go back to where one was."""
        if self.stack.currentWidget() is not self.key_page:
            self.key_page.begin_with(self.room.name if self.room is not None else "")
        self._toggle(self.key_page)

    def toggle_guide(self) -> None:
        """Show the guide, or go back to where one was."""
        if self.guide_page is None:
            from .guide_page import GuidePage
            self.guide_page = GuidePage(self.keys, self.theme)
            self.guide_page.closed.connect(self.toggle_guide)
            self.guide_page.keys_wanted.connect(self.toggle_keys)
            self.stack.addWidget(self.guide_page)
            self.theme.dress(self.guide_page)
        self._toggle(self.guide_page)

    def toggle_fault(self) -> None:
        """Show what helps to find a fault, to be copied, or go back to where one was."""
        if self.fault_page is None:
            from .fault_page import FaultPage
            self.fault_page = FaultPage()
            self.fault_page.closed.connect(self.toggle_fault)
            self.stack.addWidget(self.fault_page)
            self.theme.dress(self.fault_page)
        if self.stack.currentWidget() is not self.fault_page:
            self.fault_page.show_facts(self._about_desk())
        self._toggle(self.fault_page)

    def _about_desk(self) -> tuple[str, ...]:
        """The screen and what is open, without any name."""
        screen = self.screen()
        size, window = screen.size(), self.size()
        lines = [f"window {window.width()} x {window.height()} on a screen of {size.width()} x {size.height()}, "
                 f"scaled by {screen.devicePixelRatio():g}, drawn by {QGuiApplication.platformName()}",
                 f"{'dark' if self.theme.dark else 'light'}, text at {self.theme.scale:.0%}"]
        if self.session is not None:
            game = self.session.game
            lines += [f"plays through {self.session.player.engine_name or 'no player'}",
                      f"a game of {len(game.film.sources)} files, {len(game.shots)} shots and {len(game.plays)} plays"]
        return tuple(lines)

    def toggle_files(self) -> None:
        """Show the files of the film, or go back to where one was."""
        if self.footage_page is None:
            from .footage_page import FootagePage
            self.footage_page = FootagePage(self.keys)
            self.footage_page.closed.connect(self.toggle_files)
            self.footage_page.more_wanted.connect(self.choose_more_footage)
            self.footage_page.search_wanted.connect(self.find_footage)
            self.stack.addWidget(self.footage_page)
            self.theme.dress(self.footage_page)
        self.footage_page.show_session(self.game)
        self._toggle(self.footage_page)

    def toggle_adding(self) -> None:
        """Show the page on which another camera's film is added, or go back to where one was."""
        if self.angle_page is None:
            from .angle_page import AnglePage
            self.angle_page = AnglePage()
            self.angle_page.closed.connect(self.toggle_adding)
            self.angle_page.added.connect(self._add_angle)
            self.stack.addWidget(self.angle_page)
            self.theme.dress(self.angle_page)
        if self.game.file.read_only:
            self.message.fail("This game is open for reading only.", "Another camera's film cannot be added to it.")
            return
        if self.stack.currentWidget() is not self.angle_page:
            self.angle_page.show_session(self.game)
        self._toggle(self.angle_page)

    def _add_angle(self, paths: list[Path], angle: Angle) -> None:
        self.toggle_adding()
        self.adding.add(self.game, paths, angle)

    def toggle_matching(self) -> None:
        """Show which shots of the angles film which plays, or go back to where one was."""
        if self.matching_page is None:
            from .matching_page import MatchingPage
            self.matching_page = MatchingPage(self.desk)
            self.matching_page.closed.connect(self.toggle_matching)
            self.matching_page.again.connect(lambda number: self.adding.match(self.game, number))
            self.matching_page.see.connect(self._see_matched)
            self.stack.addWidget(self.matching_page)
            self.theme.dress(self.matching_page)
        if not self.game.has_angles():
            return
        self.matching_page.show_session(self.game)
        self._toggle(self.matching_page)

    def show_matching(self) -> None:
        """Show which shots of the angles film which plays, if that is not on show."""
        if self.session is not None and (
                self.matching_page is None or self.stack.currentWidget() is not self.matching_page):
            self.toggle_matching()

    def _see_matched(self, play: int) -> None:
        """Go to a play, with both angles side by side."""
        self._uncover(0)
        self.game.see_play(play)

    def toggle_crews(self) -> None:
        """Show what two crews showed, play by play, or go back to where one was."""
        if self.crews_page is None:
            from .crews_page import CrewsPage
            self.crews_page = CrewsPage(self.desk)
            self.crews_page.closed.connect(self.toggle_crews)
            self.crews_page.see.connect(self._see_both)
            self.stack.addWidget(self.crews_page)
            self.theme.dress(self.crews_page)
        if not self.game.has_angles():
            return
        self.crews_page.show_session(self.game)
        self._toggle(self.crews_page)

    def _see_both(self, play: int, one: int, other: int) -> None:
        self._uncover(0)
        self.game.see_play(play, one, other)

    def toggle_practice(self) -> None:
        """Show the page to practise on, or go back to where one was."""
        if self.practice_page is None:
            from .practice_page import PracticePage
            self.practice_page = PracticePage(self.desk)
            self.practice_page.closed.connect(self.toggle_practice)
            self.stack.addWidget(self.practice_page)
            self.theme.dress(self.practice_page)
        self.practice_page.show_session(self.game)
        self._toggle(self.practice_page)

    def toggle_plays(self) -> None:
        """Show the sheet of all plays, or go back to where one was."""
        if self.second_pass is None:
            from .second_pass.page import SecondPassPage
            self.second_pass = SecondPassPage(self.desk)
            self.second_pass.closed.connect(self.toggle_plays)
            self.second_pass.words_wanted.connect(self.toggle_words)
            self.stack.addWidget(self.second_pass)
            self.theme.dress(self.second_pass)
        self.second_pass.show_session(self.game)
        self._toggle(self.second_pass)

    def toggle_words(self) -> None:
        """Show the staff's own words to edit, or go back to where one was."""
        if self.words_page is None:
            from .words_page import WordsPage
            self.words_page = WordsPage(self.desk)
            self.words_page.closed.connect(self.toggle_words)
            self.stack.addWidget(self.words_page)
            self.theme.dress(self.words_page)
        self.words_page.show_session(self.game)
        self._toggle(self.words_page)

    def toggle_season(self) -> None:
        """Show the season page, with or without an open game, or go back to where one was. What it counts with takes
        long to read, so a job reads it first."""
        if self.season_page is not None:
            self._show_season()
            return
        self.jobs.start("Preparing the season page", lambda progress: import_module("workstation.season.shelf"),
                        lambda _: self._show_season())

    def _show_season(self) -> None:
        if self.season_page is None:
            from .season.page import SeasonPage
            self.season_page = SeasonPage(self.desk)
            self.season_page.closed.connect(self.toggle_season)
            self.season_page.plays_wanted.connect(self._show_plays)
            self.stack.addWidget(self.season_page)
            self.theme.dress(self.season_page)
        self.season_page.show_session(self.session)
        self._toggle(self.season_page)

    def _show_plays(self, plays: list[int], words: str) -> None:
        """See these plays of the open game in the Sequence room."""
        def show() -> None:
            from .sequence.room import SequenceRoom

            self.go_to("Sequence")
            room = self.rooms["Sequence"]
            assert isinstance(room, SequenceRoom)
            room.show_only(plays, words)

        self._builder.prepare("Sequence", show)

    def _toggle(self, page: QWidget) -> None:
        """Show a page over what is on show, or go back to what it covers and to what had the focus there."""
        shown = self.stack.currentWidget()
        covered = [under for under, _ in self._under]
        if shown is page:
            self._uncover(len(self._under) - 1)
        elif page in covered:
            self._uncover(covered.index(page))
        else:
            self._pause()
            self._under.append((shown, self.focusWidget()))
            self.stack.setCurrentWidget(page)

    def _uncover(self, place: int) -> None:
        under, focus = self._under[place]
        del self._under[place:]
        self.stack.setCurrentWidget(under)
        if focus is not None and isValid(focus) and focus.isVisible() and focus.isEnabled():
            focus.setFocus()
        else:
            (self.welcome.demo if under is self.welcome else under).setFocus()

    # -- small things -------------------------------------------------------------------------
    def undo(self) -> None:
        """Undo the last change and say which."""
        what = self.game.file.can_undo
        if self.game.undo() is not None:
            self.toast.tell(f"Undone: {what}")

    def redo(self) -> None:
        """Redo the change undone last and say which."""
        what = self.game.file.can_redo
        if self.game.redo() is not None:
            self.toast.tell(f"Done again: {what}")

    def toggle_look(self) -> None:
        """Change between dark and light, and remember it."""
        self.theme.apply(dark=not self.theme.dark)
        self.theme.remember(self.settings)

    def toggle_sound(self) -> None:
        """Turn the sound off or on."""
        if self.session is not None:
            silent = self.session.player.volume == 0
            self.session.player.set_volume(1.0 if silent else 0.0)
            self.toast.tell("Sound on" if silent else "Sound off")

    def _scale(self, factor: float) -> None:
        self.theme.apply(scale=self.theme.scale * factor)
        self.theme.remember(self.settings)

    def _full_screen(self) -> None:
        self.showNormal() if self.isFullScreen() else self.showFullScreen()

    def _pause(self) -> None:
        if self.session is not None:
            self.session.pause()

    def _refresh(self, *_) -> None:
        session = self.session
        for name, button in self._room_buttons.items():
            button.setEnabled(session is not None)
            button.setChecked(self.room is not None and self.rooms.get(name) is self.room)
        for action in self._game_actions:
            action.setEnabled(session is not None)
        for action in self._angle_actions:
            action.setVisible(session is not None and bool(session.file.game.angles))
        undo, redo = (session.file.can_undo, session.file.can_redo) if session else (None, None)
        for tool, what, id in ((self.undo_button, undo, "desk.undo"), (self.redo_button, redo, "desk.redo")):
            tool.setEnabled(bool(what))
            tool.setToolTip(f"{what} ({self.keys.shown(id)})" if what else "Nothing to take back")
            tool.setVisible(session is not None)
        self.saved.setVisible(session is not None)
        if session is None:
            self.title.setText("")
            self.setWindowTitle("Film workstation")
            self.welcome.show_recent(self.recent())
            return
        heading = session.game.heading
        self.team_colours.wear(heading)
        title = heading.title or session.file.path.stem
        teams = f"{heading.visitors} at {heading.home}"
        angle = f"   ·   {heading.angle}" if session.file.game.angles else ""
        self.title.setText(f"{title if heading.visitors in title else f'{title}   {teams}'}{angle}")
        self.title.setToolTip(str(session.file.path))
        if session.file.moved and session.file.path not in self.recent():
            self._remember(session.file.path)
        self.saved.setText("read only" if session.file.read_only else "all saved ✓")
        self.setWindowTitle(f"{title} – Film workstation")

    def recent(self) -> list[Path]:
        """The games opened last, newest first."""
        stored = self.settings.value("recent") or []
        return [Path(path) for path in ([stored] if isinstance(stored, str) else stored)]

    def forget_games(self) -> None:
        """Clear the list of games and what was kept about their films; nothing of theirs is touched."""
        from .privacy import forget
        try:
            number = forget(self.settings)
        except OSError as error:
            self.message.fail(f"What was kept about films could not all be thrown away: {error}",
                              "Close other desks first.")
            return
        finally:
            self._refresh()
        self.toast.tell(f"Forgotten: the list of games and {number} files kept about films. "
                        "Games, footage and keys are untouched.")

    def _remember(self, path: Path) -> None:
        path = path.absolute()
        self.settings.setValue("recent", [str(p) for p in [path, *(p for p in self.recent() if p != path)][:RECENT]])

    # -- jobs ---------------------------------------------------------------------------------
    def _show_job(self, job: Job) -> None:
        strip = _JobStrip(job)
        self.theme.dress(strip)
        self._progress[job] = strip
        self._strips.addWidget(strip)
        strip.hide()
        QTimer.singleShot(300, strip, strip.show)       # a job that ends sooner is not shown

    def _hide_job(self, job: Job) -> None:
        strip = self._progress.pop(job, None)
        if strip is not None:
            strip.hide()
            strip.deleteLater()

    # -- events -------------------------------------------------------------------------------
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button that has the focus, as the space bar does; Qt does so in dialogs only."""
        focused = QApplication.focusWidget()
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and isinstance(focused, QAbstractButton):
            focused.click()
        else:
            super().keyPressEvent(event)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Accept files."""
        if any(url.isLocalFile() for url in event.mimeData().urls()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open the files that are dropped."""
        paths = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        event.acceptProposedAction()
        QTimer.singleShot(0, lambda: self.take_paths(paths))

    def take_paths(self, paths: Sequence[Path]) -> None:
        """Open what was dropped or named on the command line: a game file, or footage."""
        games = [path for path in paths if path.suffix.lower() in (SUFFIX, ".json")]
        if games:
            self.open_game(games[0])
        elif paths:
            self.add_footage(paths) if self.session is not None else self.open_footage(paths)

    def _geometry_left(self) -> QByteArray:
        left = self.settings.value("window")
        return left if isinstance(left, QByteArray) else QByteArray()

    def show_as_left(self) -> None:
        """Show the window as it was left; the first time over the whole screen, if that has no room for it."""
        if not self.restoreGeometry(self._geometry_left()):
            room = self.screen().availableGeometry().size() - self.size()
            if min(room.width(), room.height()) < _FRAME:
                self.setWindowState(Qt.WindowState.WindowMaximized)
        self.show()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Keep the window's size, end all jobs and close the game."""
        self.settings.setValue("window", self.saveGeometry())
        self.jobs.close()
        self.close_game()
        if self.season_page is not None:
            self.season_page.end()
        self.settings.sync()
        super().closeEvent(event)


class _JobStrip(QFrame):
    """One running job: what it is, how far, how long still, and a way to stop it."""

    def __init__(self, job: Job):
        super().__init__()
        self.setObjectName("panel")
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 4, 12, 4)
        row.addWidget(label(job.title))
        self._bar = QProgressBar()
        self._bar.setRange(0, 0)
        self._bar.setAccessibleName(job.title)
        row.addWidget(self._bar, 1)
        self._left = label("", "small", "quiet")
        row.addWidget(self._left)
        stop = QPushButton("Stop")
        stop.setAccessibleName(f"Stop: {job.title}")
        stop.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        stop.clicked.connect(job.cancel)
        stop.clicked.connect(lambda: stop.setEnabled(False))
        row.addWidget(stop)
        job.progressed.connect(self._tell)

    def _tell(self, fraction: float, left: float) -> None:
        self._bar.setRange(0, 1000)
        self._bar.setValue(round(fraction * 1000))
        self._left.setText(spoken_left(left))

"""The main window: the rooms, opening and closing games, messages and running jobs."""

from __future__ import annotations

import logging
from collections.abc import Callable
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QByteArray, QSettings, Qt, QTimer, Signal
from PySide6.QtGui import QAction, QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication, QKeyEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QFrame,
    QMainWindow,
    QMenu,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from .actions import FOR_ANGLES, MENU
from .angles import AngleAdder
from .first_look import FirstLook
from .job_strip import JobStrip
from .jobs import Job, Jobs
from .keys import KeyMap
from .lightening import Lightening
from .opening import GameOpener
from .overlays import Overlays
from .privacy import keep_private
from .room import Desk, Room
from .rooms import ROOMS, RoomBuilder
from .saving import FileSaver
from .team_colours import TeamColours
from .theme import Theme
from .timers import in_another_turn
from .verifying import PackChecker
from .welcome import Welcome
from .widgets import MessageBar, Pages, Toast, in_column, in_row, label
from .window_pages import PageRequests, page_makers

if TYPE_CHECKING:
    from ..tagging.model import Angle
    from ..tagging.opening import Loaded
    from .fault_page import FaultPage
    from .keypage import KeyPage
    from .season.page import SeasonPage
    from .session import Session

log = logging.getLogger(__name__)
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
        self._progress: dict[Job, JobStrip] = {}
        self.setWindowTitle("Film workstation")
        self.setAcceptDrops(True)
        self.resize(1280, 800)
        self.setMinimumSize(560, 360)
        self._game_actions: list[QAction] = []      # of the menu
        self._angle_actions: list[QAction] = []     # of the menu, for games with several angles
        self._build()
        self._acts: dict[str, Callable[[], object]] = {
            **{f"desk.{plan.name.lower()}": partial(self.ask_for, plan.name) for plan in ROOMS},
            "desk.open": self.opening.choose_game, "desk.footage": self.opening.choose_footage,
            "desk.add": self.opening.choose_more_footage, "desk.find": self.opening.find_footage,
            **{f"desk.{id}": partial(self._toggle_game_page, id)
               for id in ("files", "practice", "plays", "words", "yards")},
            "desk.compare_crews": partial(self._toggle_angles_page, "compare_crews"),
            "desk.matching": partial(self._toggle_angles_page, "matching"), "desk.add_angle": self._toggle_adding,
            "desk.angle": lambda: self.game.see_next(), "desk.beside": lambda: self.game.show_beside(),
            "desk.same_moment": lambda: self.game.mark_same(),
            "desk.tie_earlier": lambda: self.game.nudge_tie(-1), "desk.tie_later": lambda: self.game.nudge_tie(1),
            "desk.season": self._toggle_season,
            "desk.picture": lambda: self.saving.choose_picture(self.game),
            "desk.sheet": lambda: self.saving.choose_sheet(self.game),
            "desk.verify": lambda: self.checking.choose(self.opening.last_folder()),
            "desk.document": lambda: self.saving.choose_document(self.game),
            "desk.undo": self.undo, "desk.redo": self.redo, "desk.keys": self._toggle_keys,
            "desk.guide": lambda: self.overlays.toggle("guide"), "desk.fault": self._toggle_fault,
            "desk.home_colour": lambda: self.team_colours.choose(self.game.game.heading, "home"),
            "desk.visitors_colour": lambda: self.team_colours.choose(self.game.game.heading, "visitors"),
            "desk.team_colours": lambda: self.team_colours.forget(self.game.game.heading),
            "desk.look": self.toggle_look, "desk.larger": lambda: self._scale(1.1),
            "desk.smaller": lambda: self._scale(1 / 1.1),
            "desk.full": lambda: self.showNormal() if self.isFullScreen() else self.showFullScreen(),
            "desk.mute": self.toggle_sound, "desk.forget": self.forget_games, "desk.close": self.close_game,
            "desk.quit": self.close,
        }
        for id in self._acts:
            self.keys.bind(id, self, partial(self.act, id))
        self.jobs.started.connect(self._show_job)
        self.jobs.finished.connect(self._hide_job)
        self.jobs.failed.connect(lambda title, why: self.message.fail(f"{title} failed: {why}", ""))
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
        self.message = MessageBar()
        column = in_column(self._build_head(), self.message, on=centre, margins=0, spacing=0)
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
        self.opening = GameOpener(self.desk, self.message, self.toast, lambda: self.session, self._first_look, self)
        self.opening.loaded.connect(self._take_file)
        self._lightening = Lightening(self.jobs, self.message, self.toast, self)
        for bar in (around.horizontalScrollBar(), around.verticalScrollBar()):
            self.theme.dress(bar)
        column.addWidget(around, 1)
        self._strips = in_column(margins=0)
        column.addLayout(self._strips)
        self.welcome = Welcome(self.desk)
        self.welcome.demo_wanted.connect(self.opening.open_demo)
        self.opening.filming.connect(self.welcome.show_filming)
        self.welcome.footage_wanted.connect(self.opening.choose_footage)
        self.welcome.game_wanted.connect(self.opening.choose_game)
        self.welcome.guide_wanted.connect(partial(self.act, "desk.guide"))
        self.welcome.card_wanted.connect(lambda card: self.opening.open_footage([card.folder]))
        self.welcome.copy_wanted.connect(self.opening.choose_copy)
        self.welcome.recent_wanted.connect(self.opening.open_game)
        asks = PageRequests(self.act, self.opening.choose_more_footage, self.opening.find_footage, self._add_angle,
                            lambda number: self.adding.match(self.game, number), self._see_play, self._lightening.make,
                            self._lightening.delete, self._show_plays)
        self.overlays = Overlays(self.stack, self.theme, page_makers(self.desk, asks), self._pause,
                                 lambda page: (self.welcome.demo if page is self.welcome else page).setFocus())
        self.stack.addWidget(self.welcome)
        self.welcome.demo.setFocus()
        for page in (self.message, self.toast, self.welcome):
            self.theme.dress(page)
        self.stack.currentChanged.connect(lambda _: self.theme.dress_now(self.stack.currentWidget()))

    def _first_look(self) -> FirstLook | None:
        """A first picture of the footage over the start page, if that is on show."""
        return FirstLook(self.stack) if self.stack.currentWidget() is self.welcome else None

    def _bring_into_sight(self, _: QWidget | None, now: QWidget | None) -> None:
        """Scroll a page that is larger than the screen to what has the focus."""
        if now is not None and self.stack.isAncestorOf(now):
            self._around.ensureWidgetVisible(now, 8, 8)

    def _build_head(self) -> QWidget:
        head = QFrame()
        head.setObjectName("panel")
        head.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        row = in_row(on=head, margins=(10, 0, 10, 0), spacing=2)
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

    # -- games --------------------------------------------------------------------------------
    def _take_file(self, loaded: Loaded, is_new: bool) -> None:
        from .session import Session
        session = Session(*loaded)
        session.notice.connect(self.toast.tell)     # its player may have something to say before the room is whole
        name = ROOMS[0].name if is_new else str(self.settings.value("room", ROOMS[0].name))

        def take() -> None:
            self._take(session, name)
            self.opening.tell_troubles(session, loaded.troubles)
            self.opening.tell_copies(loaded.file)
            if is_new and self.room is not None:
                self.room.begin()
        self._builder.prepare(name, take)       # in turns of the event loop of its own

    def _take(self, session: Session, room: str) -> None:
        self.close_game()
        session.setParent(self)
        self.session = session
        session.failed.connect(self.message.fail)
        self._lightening.follow(session)
        session.game_changed.connect(self._refresh)
        session.game_changed.connect(self._builder.rest)
        self.opening.remember(session.file.path)
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
        self.overlays.show_session(None)
        session, self.session, self.room = self.session, None, None
        told = session.file.moved
        session.close()
        if session.file.moved and session.file.moved != told:
            self.opening.remember(session.file.path)
            self.message.fail(session.file.moved, "Open that file to go on.")
        session.deleteLater()
        self.overlays.forget()
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
        self.overlays.forget()
        self.stack.setCurrentWidget(room)
        room.enter(self.session)
        self.settings.setValue("room", name)
        self._refresh()

    # -- pages over the rooms -----------------------------------------------------------------
    def _toggle_game_page(self, id: str) -> None:
        page = self.overlays.page(id)
        page.show_session(self.game)        # type: ignore[attr-defined]  # pages with a game have it
        self.overlays.toggle(id)

    def _toggle_angles_page(self, id: str) -> None:
        if self.game.has_angles():
            self._toggle_game_page(id)

    def _toggle_adding(self) -> None:
        if self.game.file.read_only:
            self.message.fail("This game is open for reading only.", "Another camera's film cannot be added to it.")
        elif self.overlays.is_shown("add_angle"):
            self.overlays.toggle("add_angle")
        else:
            self._toggle_game_page("add_angle")

    def _add_angle(self, paths: list[Path], angle: Angle) -> None:
        """Leave the page that chose them, and add a further camera's files to the open game."""
        self.overlays.toggle("add_angle")
        self.adding.add(self.game, paths, angle)

    def show_matching(self) -> None:
        """Show which shots of the angles film which plays, if that is not on show."""
        if self.session is not None and not self.overlays.is_shown("matching"):
            self._toggle_angles_page("matching")

    def _see_play(self, play: int, *angles: int) -> None:
        """Close the pages and go to a play, with two angles side by side: those of *angles*, if two are given."""
        self.overlays.uncover()
        self.game.see_play(play, *angles)
        if self.room is not None:
            self.room.taken_to(play)

    def _toggle_keys(self) -> None:
        if not self.overlays.is_shown("keys"):
            cast("KeyPage", self.overlays.page("keys")).begin_with(self.room.name if self.room is not None else "")
        self.overlays.toggle("keys")

    def _toggle_fault(self) -> None:
        if not self.overlays.is_shown("fault"):
            cast("FaultPage", self.overlays.page("fault")).show_facts(self._about_desk())
        self.overlays.toggle("fault")

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

    def _toggle_season(self) -> None:
        """With or without an open game. What the page counts with takes long to import, so a job does that first."""
        def show(_: object = None) -> None:
            self.season_page().show_session(self.session)
            self.overlays.toggle("season")

        if "season" in self.overlays.made:
            show()
        else:
            self.jobs.start("Preparing the season page",
                            lambda progress: import_module("workstation.season.shelf"), show)

    def season_page(self) -> SeasonPage:
        """The page of several games, made now if it was not wanted before."""
        return cast("SeasonPage", self.overlays.page("season"))

    def _show_plays(self, plays: list[int], words: str) -> None:
        """See these plays of the open game in the Sequence room."""
        def show() -> None:
            from .sequence.room import SequenceRoom

            self.go_to("Sequence")
            room = self.rooms["Sequence"]
            assert isinstance(room, SequenceRoom)
            room.show_only(plays, words)

        self._builder.prepare("Sequence", show)

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

    def _pause(self) -> None:
        if self.session is not None:
            self.session.pause()

    def _refresh(self, *_) -> None:
        session = self.session
        for name, button in self._room_buttons.items():
            button.setVisible(session is not None)
            button.setEnabled(session is not None)
            button.setChecked(self.room is not None and self.rooms.get(name) is self.room)
        for action in self._game_actions:
            action.setEnabled(session is not None)
        for action in self._angle_actions:
            action.setVisible(session is not None and bool(session.file.game.angles))
        undo, redo = (session.file.can_undo, session.file.can_redo) if session else (None, None)
        for tool, what, id, nothing in ((self.undo_button, undo, "desk.undo", "Nothing to undo"),
                                        (self.redo_button, redo, "desk.redo", "Nothing was undone last")):
            tool.setEnabled(bool(what))
            tool.setToolTip(f"{what} ({self.keys.shown(id)})" if what else nothing)
            tool.setVisible(session is not None)
        self.saved.setVisible(session is not None)
        if session is None:
            self.title.setText("")
            self.setWindowTitle("Film workstation")
            self.welcome.show_recent(self.opening.recent())
            return
        heading = session.game.heading
        self.team_colours.wear(heading)
        title = heading.title or session.file.path.stem
        teams = f"{heading.visitors} at {heading.home}"
        angle = f"   ·   {heading.angle}" if session.file.game.angles else ""
        self.title.setText(f"{title if heading.visitors in title else f'{title}   {teams}'}{angle}")
        self.title.setToolTip(str(session.file.path))
        if session.file.moved and session.file.path not in self.opening.recent():
            self.opening.remember(session.file.path)
        self.saved.setText("read only" if session.file.read_only else "all saved ✓")
        self.setWindowTitle(f"{title} – Film workstation")

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

    # -- jobs ---------------------------------------------------------------------------------
    def _show_job(self, job: Job) -> None:
        strip = JobStrip(job)
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
        QTimer.singleShot(0, lambda: self.opening.take_paths(paths))

    def show_as_left(self) -> None:
        """Show the window as it was left; the first time over the whole screen, if that has no room for it."""
        left = self.settings.value("window")
        if not isinstance(left, QByteArray) or not self.restoreGeometry(left):
            room = self.screen().availableGeometry().size() - self.size()
            if min(room.width(), room.height()) < _FRAME:
                self.setWindowState(Qt.WindowState.WindowMaximized)
        self.show()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Keep the window's size, end all jobs and close the game."""
        self.settings.setValue("window", self.saveGeometry())
        self.jobs.close()
        self.close_game()
        if "season" in self.overlays.made:
            self.season_page().end()
        self.settings.sync()
        super().closeEvent(event)

"""Builds the rooms: when one is entered, or before that while the desk is idle."""

from __future__ import annotations

import gc
import importlib
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from PySide6 import QtCore, QtGui, QtWidgets
from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QStackedWidget

from .jobs import Job, Progress
from .room import Desk, Room
from .timers import in_another_turn, timer

_BETWEEN = 20       # milliseconds from one part of a room to the next, for what else there is to do
_LATER = 1500       # milliseconds until it is looked again whether a room can be made now


@dataclass(frozen=True)
class RoomPlan:
    """What a room is made from: its name and purpose, and its class.

    ``needs`` are modules without Qt, which any thread may import. ``modules`` define Qt classes and are imported on the
    UI thread (see :mod:`..tagging.opening`), one in a turn of the event loop; the last has the class.
    """

    name: str
    purpose: str
    class_name: str
    needs: tuple[str, ...]
    modules: tuple[str, ...]


ROOMS = (
    RoomPlan("Tag", "Say what happened, play by play", "TagRoom",
         ("workstation.tagging.opening", "workstation.football.tracker", "workstation.coverage.finding"),
         ("player", "session", "picture", "suggesting", "remark_entry", "timeline.canvas", "timeline.lanes",
          "timeline.painter", "timeline.thumbnails", "timeline.view", "tag.filming", "tag.moving", "tag.pages",
          "tag.panel", "tag.play_edits", "tag.plays", "tag.changes", "tag.reading", "tag.situation", "tag.strip",
          "tag.taking", "tag.layout", "tag.room")),
    RoomPlan("Review", "See what was missed, and decide", "ReviewRoom",
         ("workstation.film.finding", "workstation.coverage.checker", "workstation.delivery.report",
          "workstation.delivery.overlay"),
         ("review.compare", "review.drawing", "review.explanation", "review.findings", "remark_entry", "review.notes",
          "review.remarks", "review.trend", "review.summary", "review.finding_walk", "review.layout", "review.room")),
    RoomPlan("Sequence", "Find plays and pass them on", "SequenceRoom", ("workstation.delivery.segment",),
         ("sequence.reel", "sequence.trim", "sequence.editor", "sequence.export_panel", "sequence.filters",
          "sequence.results", "sequence.play_through", "sequence.room")),
)


def plan_of(name: str) -> RoomPlan:
    """The plan of that name, or else of the first room."""
    return next((plan for plan in ROOMS if plan.name == name), ROOMS[0])


def _unread(plan: RoomPlan) -> Iterator[str]:
    return (name for name in (f"{__package__}.{module}" for module in plan.modules) if name not in sys.modules)


def make_qt_classes() -> None:
    """Make PySide create all Qt classes that the desk may use, in this thread, before any other starts.

    PySide creates a class on first use: by its name, or by a call that returns a widget or takes a brush. In another
    thread that may end the process (see :mod:`..tagging.opening`).
    """
    for module in (QtCore, QtGui, QtWidgets):
        for name in dir(module):
            getattr(module, name)


class RoomBuilder(QObject):
    """Builds rooms on *stack*: :meth:`room` at once, :meth:`prepare` in parts. Rooms that nobody asked for are built
    while *idle* returns true."""

    def __init__(self, desk: Desk, stack: QStackedWidget, idle: Callable[[], bool], parent: QObject):
        super().__init__(parent)
        make_qt_classes()
        self._desk, self._stack, self._idle = desk, stack, idle
        self.rooms: dict[str, Room] = {}        # those that are whole
        self._begun: dict[str, Iterator[None]] = {}
        self._wanted: dict[str, list[Callable[[], object]]] = {}        # what to do once a room is whole
        self._next = timer(self, _BETWEEN, self._build_on)

    def room(self, name: str) -> Room:
        """The room of that name; the parts that are left are built now."""
        plan = plan_of(name)
        while plan.name not in self.rooms:
            self._build(plan)
        return self.rooms[plan.name]

    def prepare(self, name: str, then: Callable[[], object]) -> None:
        """Build a room in parts, each in its own turn of the event loop; then call *then*, in another turn."""
        plan = plan_of(name)
        if plan.name in self.rooms:
            in_another_turn(self, then)
            return
        self._wanted.setdefault(plan.name, []).append(then)
        self._begun.setdefault(plan.name, self._parts(plan))
        self._next.start(_BETWEEN)

    def rest(self) -> None:
        """The game has changed: postpone building rooms that nobody waits for."""
        if self._next.isActive() and not self._wanted:
            self._next.start(_LATER)

    def warm_up(self) -> None:
        """Import in the background what the rooms will need, so that the first game opens at once."""
        def read_first(progress: Progress) -> None:
            # What is imported stays for good. Collecting garbage among it would take the interpreter from all other
            # threads for some hundredths of a second each time.
            gc.disable()
            try:
                for module in ROOMS[0].needs:
                    importlib.import_module(module)
                # imported late: the window opens without it
                from ..tagging.opening import load_film_parts
                load_film_parts()
                gc.freeze()
            finally:
                gc.enable()

        # One after the other: building the first room and importing for the others would compete for the interpreter.
        Job("warming up", read_first, lambda _: self.prepare(ROOMS[0].name, self._warm_others), parent=self,
            abandoned=True).start()

    def _warm_others(self) -> None:
        def read(progress: Progress) -> None:
            for plan in ROOMS[1:]:
                for module in plan.needs:
                    importlib.import_module(module)

        Job("warming up", read, lambda _: self._read_others(), parent=self, abandoned=True).start()

    def _read_others(self) -> None:
        """Import the modules of the other rooms, one in a turn, also while no game is open; then build the rooms."""
        module = next((module for plan in ROOMS for module in _unread(plan)), None)
        if module is None:
            self._build_others()
            return
        importlib.import_module(module)
        QTimer.singleShot(_BETWEEN, self, self._read_others)

    def _parts(self, plan: RoomPlan) -> Iterator[None]:
        for module in _unread(plan):
            importlib.import_module(module)
            yield
        maker = getattr(sys.modules[f"{__package__}.{plan.modules[-1]}"], plan.class_name)
        room = maker(self._desk, self._stack, whole=False)
        self._stack.addWidget(room)     # in its place from the start, so that it is polished once
        yield
        while room.build_on():
            yield
        self.rooms[plan.name] = room

    def _build(self, plan: RoomPlan) -> None:
        """Build the next part of a room."""
        parts = self._begun.setdefault(plan.name, self._parts(plan))
        try:
            if next(parts, self) is not self:
                return
        except Exception:
            del self._begun[plan.name]          # the next request starts anew and reports the error again
            self._wanted.pop(plan.name, None)
            raise
        del self._begun[plan.name]
        for then in self._wanted.pop(plan.name, ()):
            in_another_turn(self, then)

    def _build_on(self) -> None:
        """Build one part of one room, of one that somebody waits for first."""
        name = next((name for name in self._begun if name in self._wanted), next(iter(self._begun), None))
        if name is None:
            return
        if name not in self._wanted and not self._idle():
            self._next.start(_LATER)
            return
        self._next.start(_BETWEEN)
        self._build(plan_of(name))

    def _build_others(self) -> None:
        """Build the other rooms one at a time, while the desk is idle."""
        plan = next((plan for plan in ROOMS if plan.name not in self.rooms), None)
        if plan is None:
            return
        if self._idle() and not self._begun:
            self._begun[plan.name] = self._parts(plan)
            self._next.start(_BETWEEN)
        QTimer.singleShot(_LATER, self, self._build_others)

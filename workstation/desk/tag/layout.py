"""Where the parts of the Tag room stand: the picture and what is said about it, plays beside, timeline below."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QSplitter, QWidget

from ..actions import TAG
from ..picture import PictureView
from ..remark_entry import RemarkEntry
from ..room import Desk
from ..timeline.view import LEAST_HEIGHT, TimelineView
from ..widgets import Pages, in_column
from .changes import ChangesView
from .panel import EntryPanel
from .plays import PlaysView
from .situation import SituationView
from .strip import Strip

_SIDE, _LEAST_SIDE = 380, 250       # pixels; the first as far as there is room
_TIMELINE = 150                     # pixels, until a person drags its edge


class TagLayout:
    """Made part by part in *room*: go through :meth:`building` to its end before anything else is asked of it."""

    def __init__(self, room: QWidget, desk: Desk):
        self._room, self._desk = room, desk
        self._side_wanted, self._timeline_wanted = _SIDE, _TIMELINE

    def building(self) -> Iterator[None]:
        """Lay out the room, yielding where the room has to make its own parts."""
        room, desk = self._room, self._desk
        down = self._down = QSplitter(Qt.Orientation.Vertical, room)
        in_column(down, on=room, margins=0)
        across = self._across = QSplitter(Qt.Orientation.Horizontal, down)
        self.main = Pages(across)
        left = QWidget(self.main)
        self.main.addWidget(left)
        self._side = QFrame(across)
        self._side.setObjectName("panel")
        self.timeline = TimelineView(desk, down)
        across.setStretchFactor(0, 1)
        across.splitterMoved.connect(lambda *_: setattr(self, "_side_wanted", across.sizes()[1]))
        across.setChildrenCollapsible(False)
        down.setStretchFactor(0, 1)
        down.splitterMoved.connect(lambda *_: setattr(self, "_timeline_wanted", down.sizes()[1]))
        down.setSizes([620, _TIMELINE])
        down.setChildrenCollapsible(False)
        yield
        self.picture = PictureView(parent=left)
        self.picture.message = f"No film yet. Open footage ({desk.keys.shown('desk.footage')}) or drop it here."
        self.strip = Strip(desk.keys, left)
        self.panel = EntryPanel(desk, left)
        self.remark_entry = RemarkEntry(desk, "tag.remark", TAG, left)
        in_column((self.picture, 1), self.remark_entry, self.strip, self.panel, on=left, margins=0, spacing=0)
        yield
        self._build_side()

    def _build_side(self) -> None:
        side = self._side
        side.setMinimumWidth(_LEAST_SIDE)
        self.situation = SituationView(self._desk.theme, side)
        self.changes = ChangesView(side)
        self.beside = Pages(side)
        self.plays = PlaysView(self._desk.theme, self.beside)
        self.plays.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.changes.mark_in(self.plays)
        self.beside.addWidget(self.plays)
        in_column(self.situation, self.changes, (self.beside, 1), on=side, margins=0, spacing=0)

    def fit(self) -> None:
        """The picture keeps the larger part, and where it is narrow the buttons under it take a line more."""
        room = self._room
        side = max(min(self._side_wanted, round(room.width() * 0.42)), self._side.minimumWidth())
        self._across.setSizes([room.width() - side, side])
        self.strip.narrow(room.width() - side < 60 * room.fontMetrics().averageCharWidth())
        # On a screen that is too low for everything the timeline gives lanes up, not the picture its place.
        least = self.timeline.height_of_all
        is_low = room.height() <= 4 * least
        self.timeline.setMinimumHeight(LEAST_HEIGHT if is_low else least)
        tall = max(self._timeline_wanted, self.timeline.minimumHeight())
        self._down.setSizes([room.height() - tall, tall])
        self.strip.fold(is_low)

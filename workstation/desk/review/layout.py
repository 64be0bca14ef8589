"""How the Review room is laid out: findings and their explanation beside the film, its controls and the timeline."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QButtonGroup, QPushButton, QSizePolicy, QSplitter, QWidget

from ...tagging.drawn import MOMENT_SHOWN
from ...tagging.model import DrawingKind
from ..actions import REVIEW
from ..keys import KeyButton
from ..picture import PictureView
from ..remark_entry import RemarkEntry
from ..room import Room
from ..timeline.view import TimelineView
from ..timers import timer
from ..widgets import Pages, Wrapping, choice, flow, in_column, label, portion
from .compare import CompareView
from .drawing import DrawingLayer
from .explanation import Explanation
from .findings import FindingList
from .notes import NoteEntry, NoteList
from .remarks import RemarkList
from .summary import SummaryPage

RUN_UPS = (0, 2, 4, 8)      # seconds
_AROUND = 130       # pixels of what stands over the list of findings
_FILTERED = 460     # pixels of height from which on the list has room for the search of words
_EXPLAINED = 330    # pixels that an explanation with its buttons wants
_UNEXPLAINED = 170  # pixels that its buttons want while no finding is chosen
_TIMELINE = 0.3     # of the room's height is the most that the timeline takes
LARGE = 1.6         # text of the wall screen, as a factor
_HOLDS = ((f"{MOMENT_SHOWN} seconds", None), ("3 seconds", 3.0), ("10 seconds", 10.0))      # None: this moment
TOOLS = {"review.arrow": ("Arrow", DrawingKind.ARROW), "review.circle": ("Circle", DrawingKind.CIRCLE),
          "review.freehand": ("Line", DrawingKind.FREEHAND), "review.text": ("Words", DrawingKind.TEXT)}


class ReviewLayout(Room):
    """The widgets of the room. What its actions do is in ``_acts``, by their ids, once the room is made."""

    def _building(self) -> Iterator[None]:
        self._acts: dict[str, Callable[[], object]] = {}
        self._scale_before: float | None = None
        self._is_shared_out = False
        self._is_split_by_hand = False      # a person has said how high the list is
        self._split = QSplitter(Qt.Orientation.Horizontal, self)
        in_column(self._split, on=self, margins=8)
        yield from self._building_left()
        yield
        yield from self._building_right()
        portion(self._split, (1, 4))
        yield

    def _building_left(self) -> Iterator[None]:
        column = QWidget(self._split)
        self.keep_wide(column, 300)
        split = QSplitter(Qt.Orientation.Vertical, column)
        self._upper, lower = Wrapping(split), Wrapping(split)
        self._lists = Pages(self._upper)
        self.findings, self.notes = FindingList(self.desk, self._lists), NoteList(self.desk, self._lists)
        self.remarks = RemarkList(self.desk, self._lists)
        yield
        for page in (self.findings, self.notes, self.remarks):
            self._lists.addWidget(page)
        self.explanation = Explanation(self.desk, lower)
        yield
        self._tabs = QButtonGroup(self)
        tabs, top = flow(2, self._upper)
        for position, text in enumerate(("Findings", "Notes", "Remarks")):
            button = QPushButton(text, tabs)
            button.setCheckable(True)
            button.setChecked(position == 0)
            button.setProperty("role", "tab")
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            self._tabs.addButton(button, position)
            top.addWidget(button)
        self._tabs.idClicked.connect(self._show_list)
        top.addWidget(self._button("review.summary", "Summary", tabs))
        around, moves = flow(parent=lower)
        self.next_button = self._button("review.next", "Next", around, role="main")
        for button in (self.next_button, self._button("review.previous", "Previous", around),
                       self._button("review.again", "Again", around)):
            moves.addWidget(button)
        self._loop = self._button("review.loop", "Loop", around, checkable=True)
        moves.addWidget(self._loop)
        self.run_up = choice("How long before a finding its passage begins", [
            (f"from {seconds} s before" if seconds else "from the finding on", seconds) for seconds in RUN_UPS],
            parent=around)
        moves.addWidget(self.run_up)
        yield
        in_column(tabs, (self._lists, 1), on=self._upper, margins=(0, 0, 4, 0), spacing=6)
        in_column((self.explanation, 1), around, on=lower, margins=(0, 0, 4, 0), spacing=6)
        self._left = split
        again = timer(self, 1, self.share_heights)       # once laid out, the height around the list is known
        self.findings.list.resized.connect(again.start)
        split.splitterMoved.connect(lambda *_: setattr(self, "_is_split_by_hand", True))
        split.setChildrenCollapsible(False)
        in_column(split, on=column, margins=0)

    def _building_right(self) -> Iterator[None]:
        column = Wrapping(self._split)
        self._stage = Pages(column)
        self.picture = PictureView(parent=self._stage)
        self.picture.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.drawing = DrawingLayer(self.picture)
        yield
        self.comparison = CompareView(self.desk, self._stage)
        yield
        self.summary = SummaryPage(self.desk, self._stage)
        for page in (self.picture, self.comparison, self.summary):
            self._stage.addWidget(page)
        yield
        self.note_entry = NoteEntry(column)
        self.remark_entry = RemarkEntry(self.desk, "review.remark", REVIEW, column)
        self.timeline = TimelineView(self.desk, column)
        yield
        controls, row = flow(3, column)
        self._play = self._button("review.toggle", "Play", controls)
        row.addWidget(self._play)
        for id, text in (("review.frame_back", "Frame"), ("review.frame_ahead", "Frame"), ("review.slower", "Slower")):
            row.addWidget(self._button(id, text, controls))
        self._rate = label("1×", "lead", parent=controls)
        self._rate.setMinimumWidth(38)
        self._rate.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._rate.setAccessibleName("Speed")
        self.desk.theme.changed.connect(self._level)
        self._level()
        row.addWidget(self._rate)
        row.addWidget(self._button("review.faster", "Faster", controls))
        self._draw = self._button("review.draw", "Draw", controls, checkable=True)
        row.addWidget(self._draw)
        for id, text in (("review.compare", "Compare"), ("review.note", "Note"), ("review.remark", "Remark")):
            row.addWidget(self._button(id, text, controls))
        self._large = self._button("review.large", "Large", controls, checkable=True)
        row.addWidget(self._large)
        yield
        self._tools, tools = flow(parent=column)
        self._tool_buttons = {}
        for id, (text, kind) in TOOLS.items():
            button = self._button(id, text, self._tools, checkable=True)
            self._tool_buttons[kind] = button
            tools.addWidget(button)
        self._hold = choice("How long the drawing stays", [
            (f"stays {text}" if seconds else f"this moment ({text})", seconds) for text, seconds in _HOLDS],
            parent=self._tools)
        self._hold.setToolTip("How long the drawing stays on the running film. It never outlasts its shot.")
        self._hold.currentIndexChanged.connect(lambda: setattr(self.drawing, "hold", self._hold.currentData()))
        tools.addWidget(self._hold)
        for id, text in (("review.hold", "Longer"), ("review.change", "Change"), ("review.rub_out", "Remove"),
                         ("review.leave", "Done")):
            tools.addWidget(self._button(id, text, self._tools))
        self._tools.hide()
        yield
        self.timeline.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        in_column((self._stage, 1), self._tools, self.note_entry, self.remark_entry, controls, self.timeline,
                  on=column, margins=(4, 0, 0, 0), spacing=6)

    def _level(self) -> None:
        """Keep the speed on a line with the buttons around it, at every text size."""
        self._rate.setFixedHeight(self._play.sizeHint().height())

    def _button(self, id: str, text: str, parent: QWidget, checkable: bool = False, role: str = "") -> KeyButton:
        button = KeyButton(self.desk.keys, id, text, parent, lambda: self._acts[id](), role=role)
        button.setCheckable(checkable)
        return button

    def showEvent(self, event: QShowEvent) -> None:
        """Share out the width when the room is first shown."""
        super().showEvent(event)
        if not self._is_shared_out:        # how wide the room is was not known while it was made
            self._is_shared_out = True
            self._share_out()

    def large(self) -> None:
        """Text for a wall screen, and only what is needed from across the room."""
        if self._scale_before is None:
            self._scale_before = self.desk.theme.scale
            self.desk.theme.apply(scale=self._scale_before * LARGE)
        else:
            self.desk.theme.apply(scale=self._scale_before)
            self._scale_before = None
        big = self._scale_before is not None
        self.timeline.setVisible(not big)
        self._upper.setVisible(not big)
        self._large.setChecked(big)
        self._share_out()
        page = self._stage.currentWidget()
        (page if page is self.summary else self.picture).setFocus()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Limit the timeline to its share of the height."""
        super().resizeEvent(event)
        if not self.is_built:
            return
        self.timeline.setMaximumHeight(max(round(self.height() * _TIMELINE), self.timeline.minimumSizeHint().height()))
        self.share_heights()

    def share_heights(self) -> None:
        """Give the list as much of its column as its findings need, and what explains one the rest; where there is too
        little for both, half each. What a person chose stays."""
        if self._is_split_by_hand:
            return
        whole = self._left.height() - self._left.handleWidth()
        self.findings.show_words(whole > _FILTERED * self.desk.theme.scale)
        is_laid_out = self.findings.list.isVisible() and self._upper.height() > self.findings.list.height() > 0
        around = self._upper.height() - self.findings.list.height() if is_laid_out else _AROUND
        needed = self.findings.height_of_all + around
        least = round((_EXPLAINED if self.findings.current is not None else _UNEXPLAINED) * self.desk.theme.scale)
        upper = max(min(needed, whole - least), whole // 3)
        self._left.setSizes([upper, whole - upper])

    def _share_out(self) -> None:
        side = round(self.width() * (0.36 if self._scale_before is not None else 0.3))
        self._split.setSizes([side, self.width() - side])

    def _on_tool(self, tool: DrawingKind | None) -> None:
        self._tools.setVisible(tool is not None)
        self._draw.setChecked(tool is not None)
        for kind, button in self._tool_buttons.items():
            button.setChecked(kind is tool)

    def _show_list(self, position: int) -> None:
        self._lists.setCurrentIndex(position)
        self._tabs.button(position).setChecked(True)

"""The Review room: a mentor and a trainee go through the findings together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QButtonGroup,
    QComboBox,
    QHBoxLayout,
    QPushButton,
    QSizePolicy,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from ...coverage.finding import Finding
from ...film.time import Instant
from ...tagging.layout import Places
from ...tagging.model import DrawingKind, Note
from ...tagging.operations import AddNote, ChangeNote, ClearDecision, Decide, RemoveNote
from ..keys import KeyButton
from ..parts import Pages, Wrapping, flow, label, restyle
from ..picture import PictureView
from ..room import Room
from ..timeline.lanes import FindingsLane, NotesLane
from ..timeline.view import TimelineView
from .compare import CompareView
from .drawing import DrawingLayer
from .explanation import Explanation
from .findings import FindingList
from .notes import NoteEntry, NoteList
from .summary import SummaryPage

RUN_UP = 4          # seconds shown before a finding, so that one sees how it came about
RUN_OUT = 5         # seconds shown after one that has no end of its own
LARGE = 1.6         # text of the wall screen, as a factor
_HOLDS = (("this moment", None), ("3 seconds", 3.0), ("10 seconds", 10.0))
_TOOLS = {"review.arrow": ("Arrow", DrawingKind.ARROW), "review.circle": ("Circle", DrawingKind.CIRCLE),
          "review.freehand": ("Line", DrawingKind.FREEHAND), "review.text": ("Words", DrawingKind.TEXT)}


class ReviewRoom(Room):
    name = "Review"
    purpose = "Go through the findings together: see each one, decide about it, draw and note what helps."

    def _building(self) -> Iterator[None]:
        self._looping = False
        self._scale_before: float | None = None
        self._shared_out = False
        self._shown_key: str | None = None
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 8, 8, 8)
        self._split = QSplitter(Qt.Orientation.Horizontal, self)
        layout.addWidget(self._split)
        yield from self._building_left()
        yield
        yield from self._building_right()
        self._split.setStretchFactor(0, 1)
        self._split.setStretchFactor(1, 4)
        self._split.setChildrenCollapsible(False)
        yield
        self.findings.chosen.connect(self._on_chosen)
        self.notes.chosen.connect(self._on_note)
        self.notes.changing.connect(lambda note: self.note_entry.begin(note, float(self.session.film.time_of(note.at))))
        self.notes.removed.connect(lambda id: self.session.do(RemoveNote(id)))
        self.explanation.decided.connect(lambda decision: self.session.do(Decide(decision)))
        self.explanation.cleared.connect(lambda key: self.session.do(ClearDecision(key)))
        self.note_entry.written.connect(self._write_note)
        self.note_entry.ended.connect(self.picture.setFocus)
        self.comparison.closed.connect(self.compare)
        self.timeline.item_chosen.connect(self._on_timeline)
        self.summary.asked.connect(self._on_summary_asked)
        self.drawing.tool_changed.connect(self._on_tool)
        self._bind()

    # -- how it is laid out --------------------------------------------------------------------------

    def _building_left(self) -> Iterator[None]:
        column = QWidget(self._split)
        self.keep_wide(column, 300)
        split = QSplitter(Qt.Orientation.Vertical, column)
        self._upper, lower = QWidget(split), QWidget(split)
        self._lists = Pages(self._upper)
        self.findings, self.notes = FindingList(self.desk, self._lists), NoteList(self.desk, self._lists)
        yield
        self._lists.addWidget(self.findings)
        self._lists.addWidget(self.notes)
        self.explanation = Explanation(self.desk, lower)
        yield
        self._tabs = QButtonGroup(self)
        top = QHBoxLayout()
        top.setSpacing(2)
        for position, text in enumerate(("Findings", "Notes")):
            button = QPushButton(text, self._upper)
            button.setCheckable(True)
            button.setChecked(position == 0)
            button.setProperty("role", "room")
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            self._tabs.addButton(button, position)
            top.addWidget(button)
        self._tabs.idClicked.connect(self._show_list)
        top.addStretch(1)
        top.addWidget(self._button("review.summary", "Summary", self._upper))
        around, moves = flow(parent=lower)
        self.next_button = self._button("review.next", "Next", around)
        restyle(self.next_button, role="main")
        moves.addWidget(self.next_button)
        moves.addWidget(self._button("review.previous", "Previous", around))
        moves.addWidget(self._button("review.again", "Again", around))
        self._loop = self._button("review.loop", "Loop", around, checkable=True)
        moves.addWidget(self._loop)
        yield
        for part, widgets in ((self._upper, (top, self._lists)), (lower, (self.explanation, around))):
            box = QVBoxLayout(part)
            box.setContentsMargins(0, 0, 4, 0)
            box.setSpacing(6)
            for widget in widgets:
                box.addLayout(widget) if isinstance(widget, QHBoxLayout) else box.addWidget(widget, widget is not around)
        split.setSizes([350, 390])
        split.setChildrenCollapsible(False)
        outer = QVBoxLayout(column)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(split)

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
        self.timeline = TimelineView(self.desk, column)
        yield
        controls, row = flow(parent=column)
        self._play = self._button("review.toggle", "Play", controls)
        row.addWidget(self._play)
        row.addWidget(self._button("review.frame_back", "Frame", controls))
        row.addWidget(self._button("review.frame_ahead", "Frame", controls))
        row.addWidget(self._button("review.slower", "Slower", controls))
        self._rate = label("1×", "lead", parent=controls)
        self._rate.setMinimumWidth(44)
        self._rate.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._rate.setAccessibleName("Speed")
        self.desk.theme.changed.connect(self._level)
        self._level()
        row.addWidget(self._rate)
        row.addWidget(self._button("review.faster", "Faster", controls))
        self._draw = self._button("review.draw", "Draw", controls, checkable=True)
        row.addWidget(self._draw)
        row.addWidget(self._button("review.compare", "Compare", controls))
        row.addWidget(self._button("review.note", "Note", controls))
        self._large = self._button("review.large", "Large", controls, checkable=True)
        row.addWidget(self._large)
        yield
        self._tools, tools = flow(parent=column)
        self._tool_buttons = {}
        for id, (text, kind) in _TOOLS.items():
            button = self._button(id, text, self._tools, checkable=True)
            self._tool_buttons[kind] = button
            tools.addWidget(button)
        self._hold = QComboBox(self._tools)
        self._hold.setAccessibleName("How long the drawing stays")
        for text, seconds in _HOLDS:
            self._hold.addItem(f"stays {text}" if seconds else "only this moment", seconds)
        self._hold.currentIndexChanged.connect(lambda: setattr(self.drawing, "hold", self._hold.currentData()))
        tools.addWidget(self._hold)
        tools.addWidget(self._button("review.hold", "Longer", self._tools))
        tools.addWidget(self._button("review.change", "Change", self._tools))
        tools.addWidget(self._button("review.rub_out", "Remove", self._tools))
        tools.addWidget(self._button("review.leave", "Done", self._tools))
        self._tools.hide()
        yield
        self.timeline.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        layout = QVBoxLayout(column)
        layout.setContentsMargins(4, 0, 0, 0)
        layout.setSpacing(6)
        layout.addWidget(self._stage, 1)
        layout.addWidget(self._tools)
        layout.addWidget(self.note_entry)
        layout.addWidget(controls)
        layout.addWidget(self.timeline)

    def _level(self) -> None:
        """Keep the speed on a line with the buttons around it, at every text size."""
        self._rate.setFixedHeight(self._play.sizeHint().height())

    def _button(self, id: str, text: str, parent: QWidget, checkable: bool = False) -> KeyButton:
        button = KeyButton(self.desk.keys, id, text, parent)
        button.setCheckable(checkable)
        button.clicked.connect(lambda: self._acts[id]())
        return button

    def _bind(self) -> None:
        self._acts = {
            "review.next": lambda: self.move(1), "review.previous": lambda: self.move(-1),
            "review.again": self.play_passage, "review.agree": self.explanation.agree_now,
            "review.waive": lambda: self.explanation.ask("waive"),
            "review.comment": lambda: self.explanation.ask("comment"),
            "review.undecide": self.explanation.clear_now, "review.toggle": self.toggle,
            "review.frame_back": lambda: self._arrow(Qt.Key.Key_Left, -1),
            "review.frame_ahead": lambda: self._arrow(Qt.Key.Key_Right, 1),
            "review.second_back": lambda: self._arrow(Qt.Key.Key_Left, -1, second=True),
            "review.second_ahead": lambda: self._arrow(Qt.Key.Key_Right, 1, second=True),
            "review.slower": lambda: self._change_rate(-1), "review.faster": lambda: self._change_rate(1),
            "review.loop": self.loop, "review.draw": self.draw,
            **{id: lambda kind=kind: self.drawing.take(kind) for id, (_, kind) in _TOOLS.items()},
            "review.hold": lambda: self._hold.setCurrentIndex((self._hold.currentIndex() + 1) % self._hold.count()),
            "review.change": self.change_drawing, "review.rub_out": self.drawing.remove_last, "review.compare": self.compare,
            "review.to_snap": self.comparison.to_snap,
            "review.earlier_play": lambda: self._comparing() and self.comparison.change_right(-1),
            "review.later_play": lambda: self._comparing() and self.comparison.change_right(1),
            "review.note": self.note, "review.find_note": self.find_note, "review.summary": self.show_summary,
            "review.large": self.large, "review.leave": self.back,
        }
        for id, act in self._acts.items():
            self.desk.keys.bind(id, self, act)

    # -- coming and going ---------------------------------------------------------------------------------

    def enter(self, session) -> None:
        if session is not self._session:
            self._release()
            super().enter(session)
            session.game_changed.connect(self._on_change)
            session.derived_changed.connect(self._on_change)
            session.position_changed.connect(self._on_position)
            session.playing_changed.connect(self._on_playing)
            session.rate_changed.connect(self._on_rate)
            self.picture.message = "No picture yet. Open footage in the Tag room."
            self.picture.show_session(session)
            self.drawing.show_session(session)
            self.timeline.show_session(session)
            self.summary.show_session(session)
            self._on_rate(session.rate)
            self._on_playing(session.playing)
        self._on_game()
        (self.findings.list if self.findings.list.isVisibleTo(self) else self.picture).setFocus()

    def leave(self) -> None:
        self.session.pause()
        self.comparison.pause()
        self.drawing.take(None)
        if self._scale_before is not None:
            self.large()

    def forget(self) -> None:
        self._release()
        super().forget()

    def _release(self) -> None:
        if not self.has_session:
            return
        for signal, slot in ((self.session.game_changed, self._on_change),
                             (self.session.derived_changed, self._on_change),
                             (self.session.position_changed, self._on_position),
                             (self.session.playing_changed, self._on_playing),
                             (self.session.rate_changed, self._on_rate)):
            signal.disconnect(slot)
        self._shown_key = None
        self.comparison.close_session()
        self._stage.setCurrentWidget(self.picture)
        self.picture.show_session(None)
        self.drawing.show_session(None)
        self.timeline.show_session(None)
        self.summary.show_session(None)
        self.findings.show_findings((), {}, "")

    # -- what changes ----------------------------------------------------------------------------------

    def _on_change(self, *_: object) -> None:
        if self.isVisible():        # out of sight it costs nothing; entering brings it up to date
            self._on_game()

    def _on_game(self) -> None:
        game, coverage = self.session.game, self.session.coverage
        decisions = {decision.finding: decision for decision in game.decisions}
        nothing, why = self._nothing()
        self.findings.show_findings(coverage.findings if coverage else (), decisions, nothing)
        self.notes.show_game(game)
        self._tabs.button(1).setText(f"Notes ({len(game.notes)})" if game.notes else "Notes")
        finding = self.findings.current
        self.explanation.show_finding(finding, decisions.get(finding.key) if finding else None, why)
        self.summary.refresh()
        self.picture.update()

    def _nothing(self) -> tuple[str, str]:
        """What is said where there are no findings, and what in the place of the explanation of one."""
        game, coverage = self.session.game, self.session.coverage
        if not game.plays:
            return "Nothing is tagged yet.", "Findings appear as plays and shots are tagged."
        if coverage is None:
            return "The film is being compared with what its viewers needed…", "Findings appear once that is done."
        if coverage.findings:
            return "", ""
        if coverage.waiting:
            return "No findings so far.", "\n\n".join(("Not judged yet:", *coverage.waiting))
        return "No findings.", "Everything a viewer needed is in the film."

    def _on_position(self, _: Instant) -> None:
        if self.session.game.drawings and self._stage.currentWidget() is self.picture:
            self.picture.update()

    def _on_playing(self, playing: bool) -> None:
        self._play.setText("Pause" if playing else "Play")
        if playing:
            self.drawing.take(None)

    def _on_rate(self, rate: float) -> None:
        self._rate.setText(f"{rate:g}×")

    def _on_tool(self, tool: DrawingKind | None) -> None:
        self._tools.setVisible(tool is not None)
        self._draw.setChecked(tool is not None)
        for kind, button in self._tool_buttons.items():
            button.setChecked(kind is tool)
        if tool is not None:
            self._show_stage(self.picture)
            self.picture.setFocus()

    # -- findings ----------------------------------------------------------------------------------------

    def move(self, by: int) -> None:
        """To the next (or an earlier) finding, and play it from a few seconds before."""
        self._show_list(0)
        before = self._shown_key
        finding = self.findings.move(by)
        if finding is None:
            return
        if finding.key == before:
            self.session.told.emit("That was the last finding" if by > 0 else "That was the first finding")

    def _on_chosen(self, finding: Finding | None) -> None:
        if not self.has_session:     # the list is emptied
            return
        decisions = {decision.finding: decision for decision in self.session.game.decisions}
        self.explanation.show_finding(finding, decisions.get(finding.key) if finding else None, self._nothing()[1])
        key = finding.key if finding else None
        if key != self._shown_key:
            self._shown_key = key
            self.timeline.choose(FindingsLane.key, key)
            if finding is not None:
                self.play_passage()

    def _on_timeline(self, lane: str, id: object) -> None:
        if lane == NotesLane.key:
            self._show_list(1)
        elif lane == FindingsLane.key:
            self._show_list(0)
            if self.findings.choose(str(id)) and self._shown_key == id:
                self.play_passage()

    def passage(self) -> tuple[Instant, Instant] | None:
        """What is played again and looped: the finding with its run-up, else the shot at the current picture."""
        film, finding = self.session.film, self.findings.current
        if finding is not None:
            start = max(film.time_of(finding.at) - RUN_UP, Fraction(0))
            end = film.time_of(finding.until) + 1 if finding.until else film.time_of(finding.at) + RUN_OUT
        elif (shot := self.session.shot_at(self.session.position)) is not None:
            start, end = film.time_of(shot.start), film.time_of(shot.end)
        else:
            return None
        last = film.sources[-1]
        return film.instant_at(start), film.instant_at(end) if end < film.duration else Instant(last.id, last.end.pts)

    def play_passage(self) -> None:
        if not self.session.film.sources:
            return
        self._show_stage(self.picture)
        span = self.passage()
        if span is not None:
            self.session.play_span(*span, loop=self._looping)

    def loop(self) -> None:
        self._looping = not self._looping
        self._loop.setChecked(self._looping)
        if self._looping:
            self.play_passage()
        elif self.session.playing:
            self.session.pause()

    # -- the film ------------------------------------------------------------------------------------------

    def toggle(self) -> None:
        focused = QApplication.focusWidget()
        if isinstance(focused, QAbstractButton) and self.isAncestorOf(focused):
            focused.click()         # the space bar presses the button that has the focus, as everywhere
        elif self._comparing():
            self.comparison.toggle()
        else:
            self.session.toggle()

    def _arrow(self, key: Qt.Key, way: int, second: bool = False) -> None:
        if self.drawing.tool is not None:
            self.drawing.key(key, fine=second)
        elif self._comparing():
            self.comparison.step(way * (self._pictures_in_a_second() if second else 1))
        elif second:
            self.session.pause()
            self.session.seek_time(self.session.time + way)
        else:
            self.session.step(way)

    def _pictures_in_a_second(self) -> int:
        position = self.session.position
        return round(self.session.film.source(position.source).frame_rate) if position else 30

    def _change_rate(self, by: int) -> None:
        self.session.player.change_rate(by)
        if self.comparison.playing:
            self.comparison.play()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        fine = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if self.drawing.tool is None or not self.drawing.key(event.key(), fine):
            super().keyPressEvent(event)

    # -- other ways to look ------------------------------------------------------------------------------

    def draw(self) -> None:
        self.drawing.take(None if self.drawing.tool is not None else DrawingKind.ARROW)
        self._draw.setChecked(self.drawing.tool is not None)

    def change_drawing(self) -> None:
        """Take the newest drawing on the picture in hand; again for the one before it."""
        if self._stage.currentWidget() is self.picture and not self.drawing.change():
            self.session.told.emit("No drawing on this picture")

    def compare(self) -> None:
        """The play at hand beside the one before it; again for the single picture."""
        if self._comparing():
            self.comparison.pause()
            self._show_stage(self.picture)
            return
        filmed = [tag.id for tag in self.session.game.plays if tag.shot is not None]
        if len(filmed) < 2:
            self.session.told.emit("It takes two filmed plays to compare")
            return
        here = self._play_here()
        position = filmed.index(here) if here in filmed else self._filmed_before(filmed)
        other = filmed[position - 1] if position else filmed[1]
        self.session.pause()
        self.drawing.take(None)
        if self.comparison.compare(self.session, filmed[position], other):
            self._show_stage(self.comparison)

    def _filmed_before(self, filmed: list[int]) -> int:
        """The place among *filmed* of the last play that begins before the picture on show."""
        places, now = Places(self.session.game).plays, float(self.session.time)
        return max(sum(places[play].start <= now for play in filmed) - 1, 0)

    def _play_here(self) -> int | None:
        finding = self.findings.current
        if finding is not None and finding.play is not None:
            return finding.play
        return Places(self.session.game).play_at(float(self.session.time))

    def _comparing(self) -> bool:
        return self._stage.currentWidget() is self.comparison

    def show_summary(self) -> None:
        if self._stage.currentWidget() is self.summary:
            self._show_stage(self.picture)
        else:
            self.session.pause()
            self.drawing.take(None)
            self._show_stage(self.summary)
            self.summary.refresh()

    def _on_summary_asked(self, key: str) -> None:
        self._show_stage(self.picture)
        if key and self.findings.choose(key) and self._shown_key == key:
            self.play_passage()

    def _show_stage(self, page: QWidget) -> None:
        if self._comparing() and page is not self.comparison:
            self.comparison.pause()
        self._stage.setCurrentWidget(page)

    def _show_list(self, position: int) -> None:
        self._lists.setCurrentIndex(position)
        self._tabs.button(position).setChecked(True)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if not self._shared_out:        # how wide the room is was not known while it was made
            self._shared_out = True
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
        self.picture.setFocus()

    def _share_out(self) -> None:
        side = round(self.width() * (0.36 if self._scale_before is not None else 0.3))
        self._split.setSizes([side, self.width() - side])

    def back(self) -> None:
        """One step back to the plain film: out of drawing, comparing, summary, large type."""
        if self.drawing.tool is not None:
            self.drawing.take(None)
        elif self._stage.currentWidget() is not self.picture:
            self._show_stage(self.picture)
        elif self._scale_before is not None:
            self.large()

    # -- notes ----------------------------------------------------------------------------------------------

    def note(self) -> None:
        if self.session.position is not None:
            self._show_stage(self.picture)
            self.note_entry.begin(self.session.position, float(self.session.time))

    def find_note(self) -> None:
        self._show_list(1)
        self.notes.words.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.notes.words.selectAll()

    def _write_note(self, about: Instant | Note, words: str) -> None:
        is_note = isinstance(about, Note)
        operation = ChangeNote(replace(about, text=words)) if isinstance(about, Note) else AddNote(about, words)
        if self.session.do(operation):
            self.session.told.emit("Note changed" if is_note else "Note kept")

    def _on_note(self, note: Note) -> None:
        self._show_stage(self.picture)
        self.session.pause()
        self.session.seek(note.at)


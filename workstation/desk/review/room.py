"""The Review room: a mentor and a trainee go through the findings together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from ...film.time import Instant
from ...tagging.layout import layout_of
from ...tagging.model import DrawingKind, Note, Remark
from ...tagging.operations import AddRecord, ChangeRecord, RemoveRecord
from ...tagging.records import Kind
from ..session import Session
from ..timeline.lanes import CameraWorkLane, FindingsLane, NotesLane, RemarksLane
from .finding_walk import RUN_UP, FindingWalk
from .layout import RUN_UPS, TOOLS, ReviewLayout


class ReviewRoom(ReviewLayout):
    """The room in which findings are gone through and decided."""

    name = "Review"
    purpose = "Go through the findings together: see each one, decide about it, draw and note what helps."

    def _building(self) -> Iterator[None]:
        yield from super()._building()
        self._unplaced = ""         # a note that was written before the film's place was known
        self.walk = FindingWalk(self.findings, self.explanation, self.timeline, self)
        self.findings.chosen.connect(lambda _: self.share_heights())
        self.walk.film_wanted.connect(lambda: self._show_stage(self.picture))
        self.walk.looping_changed.connect(self._loop.setChecked)
        self.notes.chosen.connect(self._on_note)
        self.notes.changing.connect(lambda note: self.note_entry.begin(note, float(self.session.film.time_of(note.at))))
        self.notes.removed.connect(lambda id: self.session.do(RemoveRecord(Kind.NOTE, id)))
        self.note_entry.written.connect(self._write_note)
        self.note_entry.ended.connect(self.picture.setFocus)
        self.remarks.chosen.connect(self._on_note)
        self.remarks.changing.connect(self._change_remark)
        self.remarks.removed.connect(lambda id: self.session.do(RemoveRecord(Kind.REMARK, id)))
        self.remark_entry.ended.connect(self.picture.setFocus)
        self.explanation.ended.connect(self._to_list)
        self.explanation.best.clicked.connect(self.beside_the_best)
        self.comparison.closed.connect(self.compare)
        self.timeline.item_chosen.connect(self._on_timeline)
        self.summary.asked.connect(self._on_summary_asked)
        self.drawing.tool_changed.connect(self._on_tool)
        self.run_up.activated.connect(lambda: self._set_run_up(self.run_up.currentData()))
        stored = str(self.desk.settings.value("review/run_up", RUN_UP))
        self._set_run_up(int(stored) if stored.isdigit() and int(stored) in RUN_UPS else RUN_UP)
        self._bind()
        self._holders = (self.picture, self.drawing, self.timeline, self.summary, self.walk, self.remark_entry)

    def _set_run_up(self, seconds: int) -> None:
        self.walk.run_up = seconds
        self.run_up.setCurrentIndex(RUN_UPS.index(seconds))
        self.desk.settings.setValue("review/run_up", seconds)

    def change_run_up(self) -> None:
        """Begin passages at the next of the offered times before their finding, and play this one so."""
        self._set_run_up(RUN_UPS[(RUN_UPS.index(self.walk.run_up) + 1) % len(RUN_UPS)])
        self.walk.play()

    def _bind(self) -> None:
        self._acts = {
            "review.next": lambda: self._step(1), "review.previous": lambda: self._step(-1),
            "review.again": self.walk.play, "review.agree": self.explanation.agree_now,
            "review.waive": lambda: self.explanation.ask("waive"),
            "review.comment": lambda: self.explanation.ask("comment"),
            "review.undecide": self.explanation.clear_now, "review.toggle": self.toggle,
            "review.frame_back": lambda: self._arrow(Qt.Key.Key_Left, -1),
            "review.frame_ahead": lambda: self._arrow(Qt.Key.Key_Right, 1),
            "review.second_back": lambda: self._arrow(Qt.Key.Key_Left, -1, second=True),
            "review.second_ahead": lambda: self._arrow(Qt.Key.Key_Right, 1, second=True),
            "review.slower": lambda: self._change_rate(-1), "review.faster": lambda: self._change_rate(1),
            "review.run_up": self.change_run_up, "review.loop": self.walk.loop, "review.draw": self.draw,
            **{id: partial(self.drawing.take, kind) for id, (_, kind) in TOOLS.items()},
            "review.hold": lambda: self._hold.setCurrentIndex((self._hold.currentIndex() + 1) % self._hold.count()),
            "review.change": self.change_drawing, "review.rub_out": self.drawing.remove_last,
            "review.best": self.beside_the_best, "review.compare": self.compare,
            "review.to_snap": self.comparison.to_snap,
            "review.earlier_play": lambda: self._change_right(-1), "review.later_play": lambda: self._change_right(1),
            "review.note": self.note, "review.find_note": self.find_note, "review.summary": self.show_summary,
            "review.remark": self.remark, "review.remarks": self.find_remark,
            "review.large": self.large, "review.leave": self.back,
        }
        self.desk.keys.bind_all(self, self._acts)

    # -- coming and going ---------------------------------------------------------------------------------

    def enter(self, session: Session) -> None:
        """Show this session; what another one left is put away."""
        if session is not self._session:
            self._release()
            super().enter(session)
            self.picture.message = "No picture yet. Open footage in the Tag room."
            for holder in self._holders:
                holder.show_session(session)
            self._on_rate(session.rate)
            self._on_playing(session.playing)
        self._on_game()
        self._to_list()

    def _follows(self, session: Session) -> list:
        return [(session.game_changed, self._on_change), (session.derived_changed, self._on_change),
                (session.position_changed, self._on_position), (session.playing_changed, self._on_playing),
                (session.rate_changed, self._on_rate)]

    def _to_list(self) -> None:
        """Let the keys go to the findings, or to the film where none are shown."""
        (self.findings.list if self.findings.list.isVisibleTo(self) else self.picture).setFocus()

    def leave(self) -> None:
        """Pause everything that plays."""
        self.session.pause()
        self._keep_unplaced(self.session.position)
        self.comparison.pause()
        self.drawing.take(None)
        if self._scale_before is not None:
            self.large()

    def forget(self) -> None:
        """Let the session go."""
        self._release()
        super().forget()

    def _release(self) -> None:
        if self.has_session:
            self.comparison.close_session()
            self._stage.setCurrentWidget(self.picture)
            for holder in self._holders:
                holder.show_session(None)

    # -- what changes ----------------------------------------------------------------------------------

    def _on_change(self, *_: object) -> None:
        if self.isVisible():        # out of sight it costs nothing; entering brings it up to date
            self._on_game()

    def _on_game(self) -> None:
        notes = self.session.game.notes
        self.walk.refresh()
        self.share_heights()
        self.notes.show_game(self.session.game)
        self.remarks.show_game(self.session.game)
        for place, name, number in ((1, "Notes", len(notes)), (2, "Remarks", len(self.session.game.remarks))):
            self._tabs.button(place).setText(f"{name} ({number})" if number else name)
        self.summary.refresh()
        self.picture.update()

    def _on_position(self, _: Instant) -> None:
        at = self.session.known_position
        self.note_entry.place(at, float(self.session.time))
        if at is not None:
            self._keep_unplaced(at)
        if self.session.game.drawings and self._stage.currentWidget() is self.picture:
            self.picture.update()

    def _on_playing(self, playing: bool) -> None:
        self._play.setText("Pause" if playing else "Play")
        if playing:
            self.drawing.take(None)

    def _on_tool(self, tool: DrawingKind | None) -> None:
        super()._on_tool(tool)
        if tool is not None:
            self._show_stage(self.picture)
            self.picture.setFocus()

    def _on_rate(self, rate: float) -> None:
        self._rate.setText(f"{rate:g}×")

    # -- findings ----------------------------------------------------------------------------------------

    def _on_timeline(self, lane: str, id: object) -> None:
        if lane == NotesLane.key:
            self._show_list(1)
        elif lane == RemarksLane.key:
            self._show_list(2)
            self.remarks.choose(id)
        elif lane in (FindingsLane.key, CameraWorkLane.key):
            self._show_list(0)
            self.walk.go_to(str(id))

    def _step(self, by: int) -> None:
        self._show_list(0)
        self.walk.step(by)

    # -- the film ------------------------------------------------------------------------------------------

    def toggle(self) -> None:
        """Pause or play what is shown."""
        if self._comparing():
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
        """Offer the key to the drawing tool first, if one is taken."""
        fine = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if self.drawing.tool is None or not self.drawing.key(event.key(), fine):
            super().keyPressEvent(event)

    # -- other ways to look ------------------------------------------------------------------------------

    def draw(self) -> None:
        """Take the arrow, or put the tool away."""
        self.drawing.take(None if self.drawing.tool is not None else DrawingKind.ARROW)
        self._draw.setChecked(self.drawing.tool is not None)

    def change_drawing(self) -> None:
        """Take the newest drawing on the picture in hand; again for the one before it."""
        if self._stage.currentWidget() is self.picture and not self.drawing.change():
            self.session.notice.emit("No drawing on this picture")

    def compare(self) -> None:
        """The play at hand beside the one before it; again for the single picture."""
        if self._comparing():
            self.comparison.pause()
            self._show_stage(self.picture)
            return
        filmed = [tag.id for tag in self.session.game.plays if tag.shot is not None]
        if len(filmed) < 2:
            self.session.notice.emit("It takes two filmed plays to compare")
            return
        here = self._play_here()
        position = filmed.index(here) if here in filmed else self._filmed_before(filmed)
        other = filmed[position - 1] if position else filmed[1]
        self.session.pause()
        self.drawing.take(None)
        if self.comparison.compare(self.session, filmed[position], other):
            self._show_stage(self.comparison)

    def beside_the_best(self) -> None:
        """The place of the finding at hand beside the crew's own best shot of the same kind; again for the single
        picture."""
        finding = self.findings.current
        if self._comparing():
            self.compare()
        elif finding is None or finding.beside is None:
            self.session.notice.emit("No shot of the crew's own to lay beside this")
        else:
            self.session.pause()
            self.drawing.take(None)
            if self.comparison.compare_with_best(self.session, finding):
                self._show_stage(self.comparison)

    def _filmed_before(self, filmed: list[int]) -> int:
        """The place among *filmed* of the last play that begins before the picture on show."""
        places, now = layout_of(self.session.game).plays, float(self.session.time)
        return max(sum(places[play].start <= now for play in filmed) - 1, 0)

    def _play_here(self) -> int | None:
        finding = self.findings.current
        if finding is not None and finding.play is not None:
            return finding.play
        return self.session.play_at_hand()

    def _change_right(self, by: int) -> None:
        if self._comparing():
            self.comparison.change_right(by)

    def _comparing(self) -> bool:
        return self._stage.currentWidget() is self.comparison

    def show_summary(self) -> None:
        """Change between picture and summary."""
        if self._stage.currentWidget() is self.summary:
            self._show_stage(self.picture)
            self._to_list()
        else:
            self.session.pause()
            self.drawing.take(None)
            self._show_stage(self.summary)
            self.summary.refresh()
            self.summary.setFocus()         # the arrow keys look through it, Tab goes to its buttons

    def _on_summary_asked(self, key: str) -> None:
        self._show_stage(self.picture)
        if key:
            self.walk.go_to(key)

    def _show_stage(self, page: QWidget) -> None:
        if self._comparing() and page is not self.comparison:
            self.comparison.pause()
        self._stage.setCurrentWidget(page)

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
        """Open the entry for a note at the playhead."""
        if self.session.position is not None:
            self._show_stage(self.picture)
            self.note_entry.begin(self.session.known_position, float(self.session.time))

    def find_note(self) -> None:
        """Show the notes and go to their search."""
        self._show_list(1)
        self.notes.words.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.notes.words.selectAll()

    def _write_note(self, about: Instant | Note | None, words: str) -> None:
        is_note = isinstance(about, Note)
        about = about or self.session.known_position
        if about is None:
            self._unplaced = words
            self.session.notice.emit("The note is kept as soon as the picture is there.")
            return
        said = replace(about, text=words) if isinstance(about, Note) else Note(0, about, words)
        if self.session.do(ChangeRecord(said) if is_note else AddRecord(said)):
            self.session.notice.emit("Note changed" if is_note else "Note kept")

    def _keep_unplaced(self, at: Instant | None) -> None:
        """Keep the note that was written before the film's place was known."""
        words, self._unplaced = self._unplaced, ""
        if words and at is not None:
            self._write_note(at, words)

    # -- remarks --------------------------------------------------------------------------------------------

    def remark(self) -> None:
        """A word of the crew's at the place on show; once the list is open, up to the place on show."""
        if self._stage.currentWidget() is not self.picture:
            self._show_stage(self.picture)
        self.drawing.take(None)
        self.remark_entry.press()

    def find_remark(self) -> None:
        """Show the remarks and go to their list."""
        self._show_list(2)
        self.remarks.list.setCurrentRow(max(self.remarks.list.currentRow(), 0))       # the focus alone chooses none
        self.remarks.list.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _change_remark(self, remark: Remark) -> None:
        self._show_stage(self.picture)
        self.remark_entry.begin(remark)

    def _on_note(self, note: Note | Remark) -> None:
        self._show_stage(self.picture)
        self.session.pause()
        self.session.seek(note.at)


"""Where an export is asked for; how far it is, and a way to stop it, is in the window's strip of jobs."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QWidget

from ...delivery.sequence import Form, SequenceRequest, Written, write_sequence
from ...tagging.model import Sequence
from ..asking import ask_for_folder
from ..jobs import Job, Progress
from ..keys import KeyButton
from ..room import Desk
from ..session import Session
from ..widgets import Field, Wrapping, choice, in_column, in_row, label, push_button, say

_DIGEST = re.compile(r"\b[0-9a-f]{64}\b")


class ExportPanel(Wrapping):
    """Says what to write and where; runs it as a job. ``asked`` wants :meth:`run` to be called."""

    asked = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self.setObjectName("card")
        self._desk = desk
        self._ready = False
        self.job: Job | None = None
        self.form = choice("What to export", [(str(form), form) for form in Form], letters=10, parent=self)
        self.form.currentIndexChanged.connect(self._on_form)
        self.folder = Field(name="Folder to export to", act=self.asked.emit)
        browse = push_button("Folder…", lambda: ask_for_folder(
            self, "Folder to export to", self.folder.text(), lambda path: self.folder.setText(str(path))),
            focus=Qt.FocusPolicy.TabFocus)
        self.captions = QCheckBox("Situation below the picture")
        self.captions.setChecked(True)
        self.picture_size = self._choice("Size of the film", (
            ("Usual size", None), ("1920×1080", (1920, 1080)), ("1280×720", (1280, 720)),
            ("640×360", (640, 360))))
        self.rate = self._choice("Pictures a second", (
            ("Usual rate", None), ("25 a second", Fraction(25)),
            ("29.97 a second", Fraction(30000, 1001)), ("50 a second", Fraction(50)),
            ("59.94 a second", Fraction(60000, 1001))))
        self.quality = self._choice("Quality", (("Fine", 18), ("Smaller", 24), ("Smallest", 30), ("Near lossless", 10)))
        self.sound_track = self._choice("Sound track", (
            ("1st sound", 0), ("2nd sound", 1), ("3rd sound", 2), ("4th sound", 3)))
        self.picture_size.setToolTip("The usual size is that of most of the film.")
        self.rate.setToolTip("The usual rate is that of most of the film.")
        self.quality.setToolTip("How much of the picture is kept, and how large the file gets.")
        self.sound_track.setToolTip("Of footage with several; the first is the one that players play. Copies keep all.")
        self.freeze = QCheckBox("Stand still at drawings, 2 s")
        self.freeze.setToolTip("Else drawings show on the running film, which is as long as what was filmed.")
        self.every_player = QCheckBox("Exact in every player")
        self.every_player.setToolTip("The first and last pictures are encoded again, all others are the camera's own. "
                                     "Else nothing is encoded, and a player that does not honour edit lists shows a "
                                     "few pictures more.")
        self._has_drawings = False
        self.statement = Field(name="Why the pack is handed on", hint="Why it is handed on, for the cover page")
        self.start_button = KeyButton(desk.keys, "sequence.export", "Export", act=self.asked.emit)
        self._caution = label("", "small", "warn", wrap=True)
        self._caution.hide()
        self.message = label("", "body", wrap=True)
        # one long word, which no label can wrap
        self.digest = Field(name="SHA-256 of the pack's manifest, to be kept apart from the pack")
        self.digest.setReadOnly(True)
        self.message.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.folder.textChanged.connect(self.folder.setToolTip)
        in_column(self.form, self.folder, in_row((self.picture_size, 1), (self.rate, 1)),
                  in_row((self.quality, 1), (self.sound_track, 1)), self.captions, self.freeze, self.every_player,
                  self.statement, self._caution, in_row(self.start_button, browse, 1), self.message, self.digest,
                  on=self, margins=8, spacing=6)
        self.message.hide()
        self.digest.hide()
        self._on_form()

    def _choice(self, name: str, rows: tuple[tuple[str, object], ...]) -> QComboBox:
        return choice(name, rows, letters=8, parent=self)

    def begin_in(self, folder: Path) -> None:
        """Another game: offer *folder*, and forget what was said about the last export."""
        self.folder.setText(str(folder))
        self.message.hide()

    def offer(self, ready: bool) -> None:
        """There is something to export, or not."""
        self._ready = ready
        self.start_button.setEnabled(ready and self.job is None)

    def caution(self, words: str) -> None:
        """Say what about the sequence asks for discretion; empty for nothing."""
        self._caution.setText(f"! {words}" if words else "")
        self._caution.setVisible(bool(words))

    def offer_freeze(self, has_drawings: bool) -> None:
        """Whether anything is drawn on the sequence's pictures at one moment, so that the film could stand."""
        self._has_drawings = has_drawings
        self._on_form()

    def run(self, session: Session, sequence: Sequence) -> None:
        """Write the sequence. One export at a time."""
        to = self.folder.text().strip()
        if self.job is not None:
            return
        if not to:
            self.tell("Say which folder to export to.", "bad")
            self.folder.setFocus()
            return
        request = SequenceRequest(session.whole, session.steps, sequence.name, sequence.items,
                                  Form(self.form.currentData()), self.captions.isChecked(),
                                  statement=self.statement.text().strip(),
                                  freeze=self._has_drawings and self.freeze.isChecked(),
                                  size=self.picture_size.currentData(), rate=self.rate.currentData(),
                                  quality=self.quality.currentData(), sound_track=self.sound_track.currentData(),
                                  every_player=self.every_player.isChecked())

        def work(progress: Progress) -> Written:
            return write_sequence(request, request.target(Path(to).expanduser()), progress.report, progress.cancelled)
        self.job = self._desk.jobs.start(f"Export {sequence.name}", work, succeeded=self._on_written,
                                         failed=lambda why: self._end(f"Not written: {why}", "bad"),
                                         cancelled=lambda: self._end("Stopped. Nothing half-written was left behind.",
                                                                     "warn"))
        self.message.hide()
        self.start_button.setEnabled(False)

    def tell(self, words: str, ink: str) -> None:
        """Show a message in this ink."""
        self.digest.hide()
        say(self.message, words, ink)
        self.message.show()

    def _on_form(self, *_: object) -> None:
        form = Form(self.form.currentData())
        for box in (self.picture_size, self.rate, self.quality, self.sound_track):
            box.setVisible(form in (Form.FILM, Form.PACK))
        self.captions.setVisible(form in (Form.FILM, Form.PACK))        # what is copied stays as it is
        self.freeze.setVisible(self._has_drawings and form in (Form.FILM, Form.PACK))
        self.every_player.setVisible(form is Form.FILES)
        self.statement.setVisible(form is Form.PACK)

    def _on_written(self, written: Written) -> None:
        missing = f" {written.not_filmed} of its plays were not filmed." if written.not_filmed else ""
        text = "\n".join((*written.missing, *written.notes))
        digest = _DIGEST.search(text)
        if written.missing:
            self._end("\n".join((f"Written to {written.path}, but not all of it.{missing}",
                                 _DIGEST.sub("below", text))), "bad")
        else:
            self._end("\n".join(filter(None, (f"✓ Written to {written.path}.{missing}", _DIGEST.sub("below", text)))),
                      "good")
        if digest:
            self.digest.setText(digest[0])
            self.digest.setCursorPosition(0)
            self.digest.show()

    def _end(self, words: str, ink: str) -> None:
        self.job = None
        self.offer(self._ready)
        self.tell(words, ink)

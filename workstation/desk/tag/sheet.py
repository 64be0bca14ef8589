"""Takes in a play sheet: its rows beside the shots that film them, adjustable before anything is kept."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from importlib import import_module
from pathlib import Path
from types import ModuleType

from PySide6.QtWidgets import QApplication, QHeaderView, QWidget

from ...film.time import spoken_time
from ...football.notation import write
from ...football.sheet import BadCell, SheetError, SheetRow
from ...football.speaking import spoken_situation
from ...football.tracker import track
from ...tagging.game_order import untagged
from ...tagging.own_words.importing import SheetWords, words_of_rows
from ...tagging.records import Kind
from ...tagging.row_matching import Pairing, match, pins_named, take_in
from ...tagging.sheet_columns import ColumnMatching, SheetCells
from ..asking import ask_for_file
from ..jobs import Jobs
from ..session import Session
from ..session_holder import SessionHolder
from ..widgets import FormPage, Pages, choice, fill_row, in_column, in_row, label, push_button, say, table
from .sheet_columns import ColumnsView

_NOT_FILMED = "not filmed"


_Read = tuple[ColumnMatching, list[SheetRow], Sequence[BadCell], SheetWords | None]


class SheetPage(SessionHolder, FormPage):
    """Choose or paste a sheet, see which row lies on which shot, move what is wrong, take it all in as one action."""

    def __init__(self, jobs: Jobs):
        super().__init__()
        self.setObjectName("panel")
        self._jobs = jobs
        self._rows: list[SheetRow] = []
        self._words: SheetWords | None = None       # what the rows say in own words
        self._pinned: dict[int, int | None] = {}
        self._pairing: Pairing | None = None
        self.choose = push_button("Choose a sheet…", self._choose, "Choose a sheet")
        self.paste = push_button("Paste rows", self.paste_rows)
        self.mend = push_button("Cells as proposed", self._mend)
        self.mend.setToolTip("Read every cell that is not understood as what it is near to")
        self.go_on = push_button("Match with the shots", self._go_on)
        self.columns = ColumnsView()
        self.columns.changed.connect(self._read)
        self.back_to_columns = push_button("Columns…", lambda: self._show_stage(self.columns))
        self._matching: ColumnMatching | None = None
        self._bad: Sequence[BadCell] = ()
        self.take = push_button("Take it in", self._take, role="main")
        self.take.setEnabled(False)
        self.said = label("CSV or XLSX, or rows copied from a spreadsheet, with their headings. One row is one play.",
                          "body", "quiet", wrap=True)
        self.table = table(["Situation", "Play", "Filmed by shot", ""], "Rows of the sheet and their shots")
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        for column, width in ((0, 190), (2, 190), (3, 110)):
            self.table.setColumnWidth(column, width)
        top = in_row(label("Play sheet", "title"), 1, self.choose, self.paste, self.back_to_columns, self.mend,
                     self.go_on, self.take, push_button("Back", self.closed.emit))
        self._stages = Pages()
        self._stages.addWidget(self.table)
        self._stages.addWidget(self.columns)
        in_column(top, self.said, (self._stages, 1), on=self, margins=(14, 10, 14, 10))

    def show_session(self, session: Session | None) -> None:
        """Take in another session, without rows."""
        super().show_session(session)
        self._matching, self._bad = None, ()
        self._show_rows([])
        self.choose.setFocus()

    # -- reading ------------------------------------------------------------------------------
    def _choose(self) -> None:
        self.session.pause()
        ask_for_file(self, "Choose a play sheet", str(self.session.file.path.parent),
                     "Sheets (*.csv *.tsv *.txt *.xlsx)", self.read)

    def read(self, path: Path) -> None:
        """Read a sheet in the background; where it is clear show how its rows lie on the shots, else its columns."""
        self._begin(f"Reading {path.name}", lambda sheets: sheets.sheet_cells(path))

    def paste_rows(self) -> None:
        """Read what was copied from a spreadsheet."""
        text = QApplication.clipboard().text()
        if not text.strip():
            self._fail("There is nothing to paste. Copy the rows with their headings in the spreadsheet first.")
            return
        self._begin("Reading what was pasted", lambda sheets: sheets.pasted_cells(text))

    def _begin(self, title: str, cells: Callable[[ModuleType], SheetCells]) -> None:
        """Read a new sheet; *cells* is given the module that reads sheets, which a job imports."""
        own = [word.name for word in self.session.vocabulary.words]
        self._start(title, lambda: ColumnMatching.proposed(cells(import_module("workstation.tagging.sheets")), own))

    def _read(self, matching: ColumnMatching) -> None:
        """Read the same sheet once more, otherwise matched or mended."""
        self._matching = matching
        self._start(f"Reading {matching.cells.name}", lambda: matching, is_new=False)

    def _start(self, title: str, matched: Callable[[], ColumnMatching], is_new: bool = True) -> None:
        """Read in the background. A new sheet whose headings are all known, and whose cells are, needs no questions."""
        rulebook, vocabulary = self.session.rulebook, self.session.vocabulary

        def work(progress: object) -> _Read:
            try:
                matching = matched()
                if matching.problem:
                    return matching, [], (), None
                rows = matching.read(rulebook)
                return matching, rows, (), words_of_rows(rows, vocabulary, rulebook, matching.cells.first_row)
            except SheetError as error:
                return matching, [], error.cells, None

        def done(read: _Read) -> None:
            matching, rows, bad, words = read
            if not is_new and matching is not self._matching:
                return                      # something was chosen or typed meanwhile
            self._matching, self._bad = matching, bad
            self._show_rows(rows, words)
            self.columns.show_matching(matching)
            self.columns.show_bad(bad)
            if not (is_new and rows and matching.is_clear):
                self._show_stage(self.columns)
        self._jobs.start(title, work, done, self._fail)

    def _mend(self) -> None:
        if self._matching is not None:
            self._read(self._matching.with_proposals(self._bad))

    def _go_on(self) -> None:
        self._show_stage(self.table)
        self._tell_pairs()

    def _show_stage(self, stage: QWidget) -> None:
        """Show the columns and bad cells of the sheet, or its rows beside the shots."""
        self._stages.setCurrentWidget(stage)
        matching, asks = self._matching, stage is self.columns
        self.back_to_columns.setVisible(not asks and matching is not None)
        self.mend.setVisible(asks and any(cell.proposal for cell in self._bad))
        self.go_on.setVisible(asks)
        self.go_on.setEnabled(bool(self._rows))
        self.take.setVisible(not asks)
        if asks and matching is not None:
            wrong = matching.problem or (f"{len(self._bad)} cells are not understood." if self._bad else
                                         "" if self._rows else "No row says anything.")
            say(self.said, wrong or f"{len(self._rows)} plays are read with these columns. Nothing is taken in yet.",
                "bad" if wrong else "quiet")

    def _fail(self, why: str) -> None:
        say(self.said, why, "bad")

    # -- matching -----------------------------------------------------------------------------
    def _show_rows(self, rows: Sequence[SheetRow], words: SheetWords | None = None) -> None:
        self._rows, self._words = list(rows), words
        self._show_stage(self.table)
        self._pinned = dict(pins_named(self._rows, self.session.game)) if self._rows else {}
        self.take.setEnabled(bool(self._rows))
        self._match()

    def _match(self) -> None:
        session = self.session
        if not self._rows:
            self._pairing = None
            self.table.setRowCount(0)
            return
        shots, rows, pinned = untagged(session.game), list(self._rows), dict(self._pinned)
        self._jobs.start("Matching rows and shots", lambda progress: match(rows, shots, pinned), self._show_pairs,
                         self._fail)

    def _show_pairs(self, pairing: Pairing) -> None:
        session = self.session
        self._pairing = pairing
        steps = track(session.rulebook, [row.play for row in self._rows])
        numbers = {shot.id: number for number, shot in enumerate(session.game.shots, 1)}
        names = {shot.id: f"shot {numbers[shot.id]}, {spoken_time(float(session.film.time_of(shot.start)))}"
                          f" {shot.kind.value if shot.kind else ''}".rstrip() for shot in session.game.shots}
        free = [shot.id for shot in untagged(session.game)]
        self.table.setRowCount(len(pairing.pairs))
        for place, pair in enumerate(pairing.pairs):
            self.table.removeCellWidget(place, 2)
            if pair.row is None:
                cells = ["", "no row for this shot", names.get(pair.shot or 0, ""), "extra shot"]
            else:
                step = steps[pair.row]
                try:
                    line = write(step.play, step.before, session.rulebook)
                except ValueError:
                    line = step.play.kind.value
                mark = "chosen" if pair.row in self._pinned else "" if pair.sure else "not sure"
                cells = [spoken_situation(step.before, session.rulebook.field_length), line or step.play.kind.value, "",
                         mark or ("! " + step.problems[0] if step.problems else "")]
                box = choice(f"Shot that films row {pair.row + 1}",
                             ((_NOT_FILMED, None), *((names[shot], shot) for shot in free)), parent=self.table)
                box.setCurrentIndex(box.findData(pair.shot) if pair.shot is not None else 0)
                box.activated.connect(lambda _, row=pair.row, box=box: self.pin(row, box.currentData()))
                self.table.setCellWidget(place, 2, box)
            fill_row(self.table, place, cells)
        if self._stages.currentWidget() is self.table:
            self._tell_pairs()

    def _tell_pairs(self) -> None:
        pairing = self._pairing
        if pairing is None:
            return
        gaps = len(pairing.rows_without_shot)
        extra = len(pairing.shots_without_row)
        unsure = sum(not pair.sure and pair.row not in self._pinned for pair in pairing.pairs if pair.row is not None)
        say(self.said, f"{len(self._rows)} rows, {gaps} of them on no shot, {extra} shots without a row, "
                       f"{unsure} pairs that could also lie otherwise. Choose another shot where one is wrong; "
                       f"the rows around it follow. {self._words.told if self._words is not None else ''}".rstrip())

    def pin(self, row: int, shot: int | None) -> None:
        """Say by hand which shot films a row; the rest is matched around it."""
        before = dict(self._pinned)
        self._pinned[row] = shot
        try:
            match(self._rows, untagged(self.session.game), self._pinned)
        except ValueError as error:
            self._pinned = before
            self._fail(f"{error} Choose that one first.")
            self._match()
            return
        self._match()

    def _take(self) -> None:
        session = self.session
        if self._pairing is None:
            return
        operation = take_in(session.game, self._rows, self._pairing.shot_of, session.file.next_id(Kind.PLAY),
                            self._words)
        if session.do(operation) is not None:
            session.notice.emit(f"{len(self._rows)} plays taken in. Undo takes them all out again.")
            self.closed.emit()

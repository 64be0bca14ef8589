"""What two crews of one game showed, play by play: a trainee beside a mentor."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QSizePolicy,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from ..coverage.crews import SUBJECTS, CrewTable, Showing, compare_crews
from ..football.speaking import spoken_situation
from ..tagging.angles import angle_of
from .jobs import Job
from .keys import KeyButton
from .room import Desk
from .session import Session
from .session_holder import SessionHolder
from .widgets import Wrapping, label, named, restyle, table

_MARKS = {True: "✓ ", False: "✗ ", None: ""}


class CrewsPage(SessionHolder, Wrapping):
    """A page of its own; ``closed`` is sent when the person is through with it, ``see`` carries a play and the two
    angles that it is to be seen from."""

    closed = Signal()
    see = Signal(int, int, int)

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self._desk = desk
        self._made: CrewTable | None = None
        self._serial = 0
        self.setObjectName("ground")
        self.setAccessibleName("Two crews")
        self.sides = [named(QComboBox(self), "The first of the two angles"),
                      named(QComboBox(self), "The angle beside it")]
        for box in self.sides:
            box.activated.connect(lambda _: self._compare())
        self.table = table((), "What each crew showed, play by play")
        self.table.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QTableWidget.SelectionMode.SingleSelection)
        self.table.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)      # what is left over
        self.table.setMinimumHeight(160)
        self.table.cellDoubleClicked.connect(lambda *_: self._see())
        self._said = label(wrap=True)
        self._told = label("", "body", wrap=True)
        head = QHBoxLayout()
        head.addWidget(label("Two crews", "title"))
        for box in self.sides:
            head.addWidget(box)
        head.addStretch(1)
        for id, text, act in (("crews.next", "Next difference", self._next), ("crews.see", "See both", self._see),
                              ("crews.leave", "Back", self.closed.emit)):
            head.addWidget(self._button(id, text, act))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(18, 12, 18, 12)
        layout.addLayout(head)
        layout.addWidget(self._told)
        layout.addWidget(self.table, 1)
        layout.addWidget(self._said)

    def _button(self, id: str, text: str, act: Callable[[], object]) -> KeyButton:
        return KeyButton(self._desk.keys, id, text, act=act, bound_in=self)

    def show_session(self, session: Session | None) -> None:
        """Compare the crews of *session* whenever the page is seen from now on; None compares none."""
        self._session, self._made = session, None
        self._serial += 1

    def showEvent(self, event) -> None:
        """Offer the angles: two of one place, if there are such."""
        super().showEvent(event)
        session = self.session
        places = {number: angle_of(session.whole, number).place for number in session.numbers}
        pair = next(((one, other) for one in places for other in places
                     if one < other and places[one] is places[other]), tuple(session.numbers[:2]))
        for box, chosen in zip(self.sides, pair, strict=True):
            box.clear()
            for number in session.numbers:
                angle = angle_of(session.whole, number)
                box.addItem(f"{angle.name}, {angle.crew}" if angle.crew else angle.name, number)
            box.setCurrentIndex(box.findData(chosen))
        self._compare()
        self.table.setFocus()

    @property
    def angles(self) -> tuple[int, int]:
        """The two angles that are compared."""
        return int(self.sides[0].currentData()), int(self.sides[1].currentData())

    def _compare(self) -> None:
        game, (one, other) = self.session.whole, self.angles
        self._serial += 1
        serial = self._serial
        if one == other:
            self._tell("Choose two different angles.", "bad")
            return
        self._tell("Comparing…", "quiet")
        Job("comparing crews", lambda progress: compare_crews(game, one, other),
            lambda made: self._show(serial, made), lambda why: self._tell(f"Not compared: {why}", "bad"),
            parent=self).start()

    def _show(self, serial: int, made: CrewTable) -> None:
        if serial != self._serial or not self.has_session or self._session is None:
            return
        session, self._made = self.session, made
        names = [session.name_of(number) for number in made.angles]
        heads = ["Play", "Situation", *(f"{subject.capitalize()}\n{name}" for subject in SUBJECTS for name in names),
                 *(f"Held\n{name}" for name in names), *(f"Further findings\n{name}" for name in names)]
        self.table.setColumnCount(len(heads))
        self.table.setHorizontalHeaderLabels(heads)
        self.table.setRowCount(len(made.rows))
        for at, row in enumerate(made.rows):
            situation = spoken_situation(session.step_of(row.play).before, session.rulebook.field_length)
            cells = [("≠ " if row.differs else "") + str(session.position_of(row.play) + 1), situation,
                     *(_spoken(side) for pair in row.showings.values() for side in pair),
                     *("" if held is None else f"{held:.1f} s" for held in row.holds),
                     *(str(count or "") for count in row.others)]
            for column, text in enumerate(cells):
                item = QTableWidgetItem(text)
                item.setToolTip(text)
                self.table.setItem(at, column, item)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        if made.rows:
            self.table.setCurrentCell(0, 0)
        told = [f"{subject}: " + ", ".join(f"{name} {well} of {expected}"
                                           for name, (well, expected) in zip(names, pair, strict=True))
                for subject, pair in made.tallies.items() if any(expected for _, expected in pair)]
        self._told.setText("Done well of what was expected. " + "; ".join(told) + "." if told else
                           "Nothing can be compared yet: tag what each of them filmed between the plays.")
        self._tell("Enter shows a play from both angles, side by side.", "quiet")

    def _tell(self, text: str, ink: str) -> None:
        restyle(self._said, ink=ink)
        self._said.setText(text)

    def _see(self) -> None:
        at = self.table.currentRow()
        if self._made is not None and 0 <= at < len(self._made.rows):
            self.see.emit(self._made.rows[at].play, *self._made.angles)

    def _next(self) -> None:
        if self._made is None:
            return
        rows, here = self._made.rows, self.table.currentRow()
        at = next((at for at in (*range(here + 1, len(rows)), *range(here + 1)) if rows[at].differs), None)
        if at is None:
            self._tell("They do not differ at any play.", "good")
        else:
            self.table.setCurrentCell(at, 0)


def _spoken(showing: Showing) -> str:
    return _MARKS[showing.well] + showing.said

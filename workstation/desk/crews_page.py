"""What two crews of one game showed, play by play: a trainee beside a mentor."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHeaderView, QSizePolicy

from ..coverage.crews import SUBJECTS, CrewTable, Showing, compare_crews
from ..football.speaking import spoken_situation
from ..tagging.angles import angle_of
from .jobs import Job
from .keys import KeyButton
from .room import Desk
from .session import Session
from .session_holder import SessionHolder
from .widgets import Wrapping, choice, fill_row, in_column, in_row, label, offer, say, table

_MARKS = {True: "✓ ", False: "✗ ", None: ""}


class CrewsPage(SessionHolder, Wrapping):
    """A page of its own; ``closed`` is sent when the person is through with it, ``see`` carries a play and the two
    angles that it is to be seen from."""

    closed = Signal()
    see = Signal(int, int, int)

    def __init__(self, desk: Desk):
        super().__init__()
        self._desk = desk
        self._made: CrewTable | None = None
        self._serial = 0
        self.setObjectName("ground")
        self.setAccessibleName("Two crews")
        self.sides = [choice(name, act=self._compare, parent=self)
                      for name in ("The first of the two angles", "The angle beside it")]
        self.table = table((), "What each crew showed, play by play", by_row=True)
        self.table.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)      # what is left over
        self.table.setMinimumHeight(160)
        self.table.cellDoubleClicked.connect(lambda *_: self._see())
        self._said = label(wrap=True)
        self._told = label("", "body", wrap=True)
        head = in_row(label("Two crews", "title"), *self.sides, 1, *(
            KeyButton(desk.keys, id, text, act=act, bound_in=self) for id, text, act in (
                ("crews.next", "Next difference", self._next), ("crews.see", "See both", self._see),
                ("crews.leave", "Back", self.closed.emit))))
        in_column(head, self._told, (self.table, 1), self._said, on=self, margins=(18, 12, 18, 12))

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
        angles = [angle_of(session.whole, number) for number in session.numbers]
        for box, chosen in zip(self.sides, pair, strict=True):
            offer(box, [(f"{angle.name}, {angle.crew}" if angle.crew else angle.name, number)
                        for angle, number in zip(angles, session.numbers, strict=True)], chosen)
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
            fill_row(self.table, at, (("≠ " if row.differs else "") + str(session.position_of(row.play) + 1), situation,
                                      *(_spoken(side) for pair in row.showings.values() for side in pair),
                                      *("" if held is None else f"{held:.1f} s" for held in row.holds),
                                      *(str(count or "") for count in row.others)))
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
        say(self._said, text, ink)

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

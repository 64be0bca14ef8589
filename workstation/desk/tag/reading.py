"""What the line at hand says: its readings, which of them is taken, and what follows from that."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from ...football.field import Team
from ...football.notation import Custom, Entry, Habit, Reading, read, write
from ...football.situation import Situation
from ...football.step import Certainty, Step
from ...football.tracker import fold
from ...tagging.model import PlayTag
from ..room import Desk
from ..session import Session
from ..session_holder import SessionHolder
from .entry_state import EntryState

_HABITS = {Habit.YARD_LINES: "yard lines", Habit.DISTANCES: "yards"}


class LineReading(SessionHolder, QObject):
    """Reads the text of the line for the play at hand, which *state* knows. ``followed`` is sent when another reading
    is taken, with the situation that the play meets and the step as it is shown."""

    followed = Signal(object, object)

    def __init__(self, desk: Desk, state: EntryState, parent: QObject | None = None):
        super().__init__(parent)
        self._desk, self._state = desk, state
        self.entry = Entry()
        self.number = 0             # which of the readings is taken
        self.step: Step | None = None

    def show_session(self, session: Session | None) -> None:
        """Take in another session, or None when it is closed."""
        self._session = session

    @property
    def taken(self) -> Reading | None:
        """The reading that is chosen, None if there is none."""
        return self.entry.reading(self.number)

    def before(self) -> Situation:
        """The situation that the play at hand meets."""
        return self.session.situation_before(self._state.row)

    def _last(self) -> Step | None:
        row = self._state.row
        return self.session.steps[row - 1] if 0 < row <= len(self.session.steps) else None

    def take_in(self, text: str) -> None:
        """Work out what the line says, and take the first reading."""
        self.entry = read(text, self.before(), self.session.rulebook, self._custom())
        self.number = 0
        self._follow()

    def take_next(self) -> bool:
        """Take the next of the ways in which the line can be read; false if there is one at most."""
        if len(self.entry.readings) < 2:
            return False
        self.number += 1
        self._follow()
        return True

    def _follow(self) -> None:
        """Fold the reading that is taken. A tick is only for a line that is certain itself."""
        before, reading = self.before(), self.taken
        self.step = None if reading is None else fold(self.session.rulebook, before, reading.play, self._last())
        shown = self.step
        if shown is not None and not self.entry.is_certain and shown.certainty is Certainty.CERTAIN:
            shown = replace(shown, certainty=Certainty.ASSUMED)
        self.followed.emit(before, shown)

    def doubts(self) -> list[str]:
        """What the line itself and the rules have against the reading that is taken."""
        reading = self.taken
        return list(dict.fromkeys([*(reading.doubts if reading is not None else ()),
                                   *(self.step.problems if self.step else ())]))

    def warning(self) -> str:
        """The doubts in one line, and, once they were pointed out, how to keep the line all the same."""
        warning = "; ".join(self.doubts())
        if warning and self._state.is_warned:
            warning += f" – {self._desk.keys.shown('tag.commit')} again keeps it as it is"
        return warning

    def written(self, tag: PlayTag) -> str:
        """A play of the game as its line; empty if no line says it."""
        try:
            return write(tag.play, self.session.step_of(tag.id).before, self.session.rulebook)
        except ValueError:
            return ""

    # -- what the staff is used to say -----------------------------------------------------------
    def _custom(self) -> Custom:
        heading = self.session.game.heading
        us = str(self._desk.settings.value("sequence/us", ""))
        ours = {heading.home: Team.HOME, heading.visitors: Team.VISITORS}.get(us)
        return Custom(self._habit(), heading.home, heading.visitors, ours)

    def _habit(self) -> Habit:
        kept = self._desk.settings.value("tag/bare_numbers", "")
        return Habit(str(kept)) if kept in list(Habit) else Habit.YARD_LINES

    def change_habit(self) -> str:
        """A bare number after a kick or a return is read the other way from now on; returns how, in words."""
        other = Habit.DISTANCES if self._habit() is Habit.YARD_LINES else Habit.YARD_LINES
        self._desk.settings.setValue("tag/bare_numbers", other.value)
        return f"A bare number after a kick or a return is read as {_HABITS[other]} first."

    def about_habit(self) -> str:
        """Words about the setting that a bare number in the line followed; empty if none did."""
        reading = self.taken
        if reading is None or not any("a yard line or a distance" in said for said in reading.filled):
            return ""
        return f"Bare numbers: {_HABITS[self._habit()]} first ({self._desk.keys.shown('tag.habit')} changes it)"

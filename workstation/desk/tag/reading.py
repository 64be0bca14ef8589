"""What the line at hand says: its readings, which of them is taken, and what follows from that."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from ...football.notation import Custom, Entry, Habit, Option, Reading, read, write
from ...football.notation.draft import DUE_KIND
from ...football.plays import PlayKind
from ...football.rulebook import Rulebook
from ...football.situation import Situation
from ...football.step import Certainty, Step
from ...football.tracker import fold
from ...tagging.model import PlayTag
from ...tagging.own_words.definition import OwnWord
from ...tagging.own_words.following import How, Known, applies, spoken_word
from ...tagging.own_words.line import WholeEntry, WholeReading, completed, completions, known_to, read_line
from ...tagging.own_words.spoken import Spoken
from ..room import Desk
from ..session_holder import SessionHolder
from ..speech import custom_of, habit_of, set_habit
from .entry_state import EntryState

_PARTS_KEPT = 200
_HABITS = {Habit.YARD_LINES: "yard lines", Habit.DISTANCES: "yards"}


class LineReading(SessionHolder, QObject):
    """Reads the text of the line for the play at hand, which *state* knows. ``followed`` is sent when another reading
    is taken, with the situation that the play meets and the step as it is shown."""

    followed = Signal(object, object)

    def __init__(self, desk: Desk, state: EntryState, parent: QObject | None = None):
        super().__init__(parent)
        self._desk, self._state = desk, state
        self.line = WholeEntry(Entry())
        self.text = ""
        self.number = 0             # which of the readings is taken
        self.step: Step | None = None
        self._spoken: Spoken | None = None
        self._may_be_play: tuple[Rulebook, Callable[[str], bool]] | None = None
        self._read_before: tuple[object, dict[str, Entry]] = None, {}        # parts that were read in this situation

    @property
    def entry(self) -> Entry:
        """What the notation makes of the play part of the line."""
        return self.line.entry

    @property
    def whole(self) -> WholeReading | None:
        """The reading of the whole line that is chosen, None if there is none."""
        return self.line.reading(self.number)

    @property
    def taken(self) -> Reading | None:
        """The play of the reading that is chosen, None if there is none."""
        return self.whole.play if self.whole is not None else None

    def before(self) -> Situation:
        """The situation that the play at hand meets."""
        return self.session.situation_before(self._state.row)

    def _last(self) -> Step | None:
        row = self._state.row
        return self.session.steps[row - 1] if 0 < row <= len(self.session.steps) else None

    def take_in(self, text: str) -> None:
        """Work out what the line says, and take the first reading."""
        session, before, custom = self.session, self.before(), self._custom()
        if self._read_before[0] != (key := (before, session.rulebook, custom)):
            self._read_before = key, {}
        known = self._read_before[1]

        def read_play(part: str) -> Entry:
            if part not in known:
                if len(known) > _PARTS_KEPT:
                    known.clear()
                known[part] = read(part, before, session.rulebook, custom)
            return known[part]

        def fits(word: OwnWord, reading: Reading) -> bool:
            return applies(word, reading.play.kind, before, custom.us)

        self.text = text
        self.line = read_line(text, self.spoken, read_play, fits, self._known_to_notation())
        self.number = 0
        self._follow()

    @property
    def spoken(self) -> Spoken:
        """The own words in use, made ready for reading."""
        if self._spoken is None or self._spoken.vocabulary is not self.session.vocabulary:
            self._spoken = Spoken(self.session.vocabulary)
        return self._spoken

    def _known_to_notation(self) -> Callable[[str], bool]:
        if self._may_be_play is None or self._may_be_play[0] is not self.session.rulebook:
            self._may_be_play = self.session.rulebook, known_to(self.session.rulebook)
        return self._may_be_play[1]

    def options(self) -> tuple[Option, ...]:
        """The words that can come next: own words where one is being typed, else the play's."""
        before, us = self.before(), self._custom().us
        play = self.taken
        kind = play.play.kind if play is not None else DUE_KIND.get(before.next, PlayKind.RUN)
        return completions(self.text, self.spoken, lambda word: applies(word, kind, before, us)) or self.entry.options

    def completion(self) -> str | None:
        """The text with the own word that is typed at its end made whole; None if none is begun."""
        found = completions(self.text, self.spoken)
        begun = self.text[max(self.text.rfind(" "), self.text.rfind(",")) + 1:]
        return completed(self.text, found[0]) if found and begun else None

    def also_known(self) -> list[str]:
        """What is known of the play at hand in the own words, beside what the line says, and how."""
        session, row = self.session, self._state.row
        said = {each.word for each in self.whole.said} if self.whole else set()
        if not self._state.is_new:
            words = session.words[row]
            return [_told(name, known) for name, known in words.items() if name not in said]
        game = session.game
        words = {each.word: Known(each.values, How.SAID) for each in game.coming}
        return [f"{_told(name, known)} (said before)" for name, known in words.items() if name not in said]

    def take_next(self) -> bool:
        """Take the next of the ways in which the line can be read; false if there is one at most."""
        if len(self.line.readings) < 2:
            return False
        self.number += 1
        self._follow()
        return True

    def _follow(self) -> None:
        """Fold the reading that is taken. A tick is only for a line that is certain itself."""
        before, reading = self.before(), self.taken
        self.step = None if reading is None else fold(self.session.rulebook, before, reading.play, self._last())
        shown = self.step
        if shown is not None and not self.line.is_certain and shown.certainty is Certainty.CERTAIN:
            shown = replace(shown, certainty=Certainty.ASSUMED)
        self.followed.emit(before, shown)

    def doubts(self) -> list[str]:
        """What the line itself and the rules have against the reading that is taken."""
        reading = self.taken
        return list(dict.fromkeys([*self._unfit(), *(reading.doubts if reading is not None else ()),
                                   *(self.step.problems if self.step else ())]))

    def _unfit(self) -> list[str]:
        """Words alone that are said of a kept play that they are not about."""
        whole = self.whole
        if whole is None or whole.play is not None or self._state.is_new:
            return []
        kind, before, us = self.session.game.plays[self._state.row].play.kind, self.before(), self._custom().us
        return [f"{piece.word.name} is said about {piece.word.about}, and this is: {kind}" for piece in whole.pieces
                if not applies(piece.word, kind, before, us)]

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
        return custom_of(self._desk.settings, self.session.game.heading)

    def _habit(self) -> Habit:
        return habit_of(self._desk.settings)

    def change_habit(self) -> str:
        """A bare number after a kick or a return is read the other way from now on; returns how, in words."""
        other = Habit.DISTANCES if self._habit() is Habit.YARD_LINES else Habit.YARD_LINES
        set_habit(self._desk.settings, other)
        return f"A bare number after a kick or a return is read as {_HABITS[other]} first."

    def about_habit(self) -> str:
        """Words about the setting that a bare number in the line followed; empty if none did."""
        reading = self.taken
        if reading is None or not any("a yard line or a distance" in said for said in reading.filled):
            return ""
        return f"Bare numbers: {_HABITS[self._habit()]} first ({self._desk.keys.shown('tag.habit')} changes it)"


def _told(name: str, known: Known) -> str:
    said = spoken_word(name, known.text) if known.values else f"no {name}"
    return said if known.how is How.SAID else f"{said} ({known.how})"

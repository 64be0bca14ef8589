"""A word on the filming while the film is on show: the crew's own words under the picture, Enter keeps one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QPushButton, QWidget

from ..film.time import spoken_time
from ..tagging.model import Remark
from ..tagging.operations import AddRecord, ChangeRecord
from .keys import KeyMap
from .room import Desk
from .session_holder import SessionHolder
from .widgets import Field, Wrapping, flow, in_column, in_row, label, push_button

if TYPE_CHECKING:
    from ..coverage.profile import Profile

_DIGITS = "1234567890"
_STEPS = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
_MOVES = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
_SHIFTS = Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier


@dataclass(frozen=True, slots=True)
class OfferedWord:
    """A word of the crew's list."""

    text: str
    praise: bool = False

    @property
    def shown(self) -> str:
        """Praise has a star, so that it's told apart without colour."""
        return f"★ {self.text}" if self.praise else self.text


def words_of(profile: Profile) -> tuple[OfferedWord, ...]:
    """The words of a crew, praise last."""
    return (*(OfferedWord(word) for word in profile.remarks), *(OfferedWord(word, True) for word in profile.praise))


def meant(words: Sequence[OfferedWord], typed: str) -> tuple[OfferedWord, ...]:
    """The words that begin with the letters *typed*, or whose parts do: ``tl`` and ``tool`` are both ``too loose``."""
    letters = "".join(typed.casefold().split())

    def fits(word: OfferedWord) -> bool:
        parts = word.text.casefold().split()
        return "".join(parts).startswith(letters) or "".join(part[0] for part in parts).startswith(letters)
    return tuple(word for word in words if fits(word))


class RemarkEntry(SessionHolder, Wrapping):
    """The list of words. Letters and digits choose, Enter keeps, Esc gives up; the film stops and steps as ever.

    It opens at the place that is on show; the key that opened it, pressed again, makes it a span up to the place on
    show then. *action* is that key's action, *group* the room in which it counts. ``ended`` is sent when it has closed.
    """

    ended = Signal()

    def __init__(self, desk: Desk, action: str, group: str, parent: QWidget | None = None):
        super().__init__(parent)
        self._keys: KeyMap = desk.keys
        self._action, self._group = action, group
        self._about: Remark | None = None
        self._words: tuple[OfferedWord, ...] = ()
        self._typed = ""
        self._is_placed = True      # else the remark is at the place that is known when it is kept
        self.chosen: OfferedWord | None = None      # what Enter keeps
        self.setObjectName("panel")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.where = label("", "lead")
        self._help = label("", "small", "quiet")
        self.buttons: dict[OfferedWord, QPushButton] = {}
        self._around, self._row = flow(4, self)
        self.comment = Field(name="The remark in more words", hint="And in more words, if need be (Tab)", act=self.keep)
        in_column(in_row(self.where, (self._help, 1)), self._around, self.comment, on=self, margins=(8, 5, 8, 5),
                  spacing=5)
        self.hide()

    def show_session(self, session) -> None:
        """Take in another session and hide."""
        self._session = session
        self.hide()

    # -- opening ------------------------------------------------------------------------------------------
    def press(self) -> None:
        """Open at the place on show; once it is open, let the remark reach from its place to the one on show."""
        if not self.isVisible() or self._about is None:
            if self.session.position is not None:       # the letters that follow are the list's, wherever the film is
                self.begin(Remark(0, "", self.session.position))
                self._is_placed = self.session.known_position is not None
            return
        at = self.session.position_to_mark()
        if at is None:
            return
        about, time_of = self._about, self.session.film.time_of
        one, other = sorted((about.at, at), key=time_of)
        self._about = replace(about, at=one, until=None if one == other else other)
        self._tell()

    def begin(self, about: Remark) -> None:
        """Choose the word of a remark: a new one, whose id is 0, or one to be changed."""
        self._about, self._typed, self._is_placed = about, "", True
        self._words = self._listed(about)
        self.chosen = next((word for word in self._words if (word.text, word.praise) == (about.word, about.praise)),
                            None)
        self.comment.setText(about.comment)
        self._fill()
        self.show()
        self.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _listed(self, about: Remark) -> tuple[OfferedWord, ...]:
        """The crew's words, and the remark's own if the crew no longer has it."""
        from ..coverage.profile import ProfileError, load_profile  # imported here: it loads the rules of coverage
        coverage = self.session.coverage
        profile = coverage.profile if coverage is not None else None
        wanted = self.session.game.heading.profile
        try:
            profile = load_profile(wanted)
        except ProfileError as error:
            self.session.notice.emit(f"The crew's words are those of the last check, or the usual ones: {error}")
        words = words_of(profile or load_profile())
        own = OfferedWord(about.word, about.praise)
        return words if not about.word or own in words else (*words, own)

    def _fill(self) -> None:
        with self._row.at_once():
            self._row.clear()
            self.buttons = {}
            for word in self._words:
                button = push_button("", partial(self._click, word), f"{'Praise' if word.praise else 'Remark'}: "
                                     f"{word.text}", "word", Qt.FocusPolicy.NoFocus, self._around)
                button.setCheckable(True)
                self._row.addWidget(button)
                button.show()
                self.buttons[word] = button
        self._tell()

    def _tell(self) -> None:
        """Show which words are meant by what was typed, which one is chosen, and where the remark stands."""
        if self._about is None:
            return
        numbers = dict(zip(meant(self._words, self._typed), [*_DIGITS, *[""] * len(self._words)], strict=False))
        for word, button in self.buttons.items():
            digit = numbers.get(word)
            button.setText(f"{digit}  {word.shown}" if digit else word.shown)
            button.setEnabled(digit is not None)
            button.setChecked(word == self.chosen)
        time = {end: spoken_time(float(self.session.film.time_of(end)), True)
                for end in (self._about.at, self._about.until)
                if end is not None}
        self.where.setText("Remark " + (f"at {time[self._about.at]}" if self._about.until is None else
                                        f"from {time[self._about.at]} to {time[self._about.until]}"))
        key = self._keys.shown(self._action)
        said = f"“{self._typed}”: " if self._typed else ""
        if not self._words:
            self._help.setText("The crew has no words yet; the crew profile lists them. Esc gives up")
        elif self.chosen is not None:
            kind = "Praise" if self.chosen.praise else "Remark"
            self._help.setText(f"{said}Enter keeps “{self.chosen.text}” ({kind.lower()}) · {key} again: up to here · "
                               "Esc gives up")
            self.setAccessibleName(f"{kind}: {self.chosen.text}")
        else:
            self._help.setText(f"{said}a letter or a digit chooses · {key} again: up to here · Esc gives up")
            self.setAccessibleName("Remark: no word chosen yet")

    # -- choosing ------------------------------------------------------------------------------------------
    def _click(self, word: OfferedWord) -> None:
        self.chosen = word
        self.keep()

    def type(self, letter: str) -> None:
        """Take a letter or a digit: a digit chooses among the words that the letters mean. Letters that mean no word
        are not taken; where the last of several begins anew it is the first of a new word."""
        shown = meant(self._words, self._typed)
        if letter in _DIGITS:
            place = _DIGITS.index(letter)
            if place < len(shown):
                self.chosen = shown[place]
        else:
            typed = next((each for each in (self._typed + letter, letter) if meant(self._words, each)), self._typed)
            if typed != self._typed or letter == self._typed:
                self._typed, self.chosen = typed, meant(self._words, typed)[0]
        self._tell()

    def _move(self, by: int) -> None:
        shown = meant(self._words, self._typed)
        if shown:
            place = shown.index(self.chosen) + by if self.chosen in shown else (0 if by > 0 else -1)
            self.chosen = shown[place % len(shown)]
            self._tell()

    def keep(self) -> None:
        """Keep the remark with the word that is chosen."""
        if self._about is None:
            return
        if self.chosen is None:
            self.session.notice.emit("Which word? A letter or a digit chooses one")
            self.setFocus()
            return
        if not self._is_placed:
            at = self.session.position_to_mark()
            if at is None:
                return
            self._about, self._is_placed = replace(self._about, at=at), True
        remark = replace(self._about, word=self.chosen.text, praise=self.chosen.praise,
                         comment=self.comment.text().strip())
        if self.session.do(ChangeRecord(remark) if remark.id else AddRecord(remark)) is not None:
            kind = "Praise" if remark.praise else "Remark"
            self.session.notice.emit(f"{kind} {'changed' if remark.id else 'kept'}: {remark.word}")
            self.give_up()

    def give_up(self) -> None:
        """Close, and keep nothing."""
        self._about = None
        self.hide()
        self.ended.emit()

    # -- the keys ------------------------------------------------------------------------------------------
    def event(self, event: QEvent) -> bool:
        """Claim the entry's own keys before they act as shortcuts."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.ShortcutOverride and self._is_mine(event):
            event.accept()
            return True
        return super().event(event)

    def _is_mine(self, event: QKeyEvent) -> bool:
        """Whether a key is the list's own, whatever it does in the room."""
        if self.comment.hasFocus():
            return event.key() == Qt.Key.Key_Escape
        if event.modifiers() & ~_SHIFTS:
            return False
        return bool(event.text() and event.text().isprintable()) or event.key() in (
            Qt.Key.Key_Escape, Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Backspace, *_STEPS, *_MOVES)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Act on the entry's own keys; Esc closes it."""
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape:
            self.give_up()
        elif self.comment.hasFocus():
            super().keyPressEvent(event)
        elif self._keys.matches(event, self._group) == self._action:
            self.press()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.keep()
        elif key == Qt.Key.Key_Space:
            self.session.toggle()
        elif key in _STEPS:
            self.session.step(_STEPS[key])
        elif key in _MOVES:
            self._move(_MOVES[key])
        elif key == Qt.Key.Key_Backspace:
            self._typed = self._typed[:-1]
            self._tell()
        elif event.text() and event.text().isprintable() and not event.modifiers() & ~_SHIFTS:
            self.type(event.text())
        else:
            super().keyPressEvent(event)

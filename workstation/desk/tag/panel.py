"""The entry panel: the line, how it is understood, and every word that may follow, also by mouse."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtWidgets import QLabel, QPushButton, QStyle, QStyleOptionButton, QStylePainter, QWidget

from ...football.notation import Answer, Option
from ...tagging.own_words.line import WholeEntry, WholeReading
from ..keys import KeyButton
from ..room import Desk
from ..widgets import Wrapping, flow, in_column, in_row, label, push_button, restyle
from .line import EntryLine

_USUALLY = 13       # words that are offered at the start of a line
_MARGIN = 12        # pixels left and right
_FEW = 5            # chips of a usual line
_ALSO = "Anywhere in it: 4:05 the game clock (last: 405), 6.5 parts of a yard, \"a comment\""
_LINE = ("The play as you would call it: what it was, how far, what else happened.\n"
         "4:05  the game clock before the play; behind the rest 405 is enough\n"
         "6.5  parts of a yard; \"inches\" is said too\n"
         "\"good block\"  a comment, in quotes\nF1 shows examples.")
_SIDES = ("own", "opp", "home", "visitors", "end zone")


class _WordButton(QPushButton):
    """A word; the beginning that one types is underlined."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setProperty("role", "word")
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.word = ""
        self._cut = 0

    def show_option(self, option: Option) -> None:
        self.word = option.word
        joined, left = option.word.replace(" ", "").replace("-", ""), len(option.typed)
        self._cut = 0
        if option.typed == option.word:
            self.setText(option.word)       # it has no short form here
        elif joined.startswith(option.typed):
            while left:
                left -= option.word[self._cut] not in " -"
                self._cut += 1
            self.setText(option.word)
        else:
            self.setText(f"{option.word} · {option.typed}")
        self.setAccessibleName(option.word)
        self.setToolTip(f"{option.word}: type {option.typed}")
        self.show()

    def paintEvent(self, event) -> None:
        painter = QStylePainter(self)
        option = QStyleOptionButton()
        self.initStyleOption(option)
        text, option.text = option.text, ""
        painter.drawControl(QStyle.ControlElement.CE_PushButton, option)
        painter.setPen(option.palette.buttonText().color())
        metrics = self.fontMetrics()
        top = (self.height() + metrics.ascent() - metrics.descent()) // 2
        left = (self.width() - metrics.horizontalAdvance(text)) // 2
        painter.drawText(left, top, text)
        if self._cut:
            painter.fillRect(left, top + 2, metrics.horizontalAdvance(text[:self._cut]), 2, painter.pen().color())


class _AnswerLabel(QLabel):
    """In one line behind the chips if it fits there, else in as many as it takes."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setWordWrap(True)

    def sizeHint(self) -> QSize:
        return QSize(self.fontMetrics().horizontalAdvance(self.text()) + 2, self.fontMetrics().height())

    def minimumSizeHint(self) -> QSize:
        return QSize(0, self.fontMetrics().height())


class EntryPanel(Wrapping):
    """Shows a :class:`~workstation.tagging.own_words.line.WholeEntry`; buttons write the same words that keys would."""

    committed = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self.setObjectName("panel")
        self._keys = desk.keys
        self.line = EntryLine(desk.keys, self)
        self.line.setToolTip(_LINE)
        self.about = label("", "body", "quiet", parent=self)
        self.commit = KeyButton(desk.keys, "tag.commit", "Keep", self, self.committed.emit, role="main")
        self._chips_holder, self._chips = flow(4, self)
        self.answer = _AnswerLabel(self._chips_holder)
        self._chip_labels: list[QLabel] = []
        self.also = _AnswerLabel(self._chips_holder)
        self.also.setAccessibleName("Also known of this play")
        self.also.hide()
        restyle(self.also, ink="quiet")
        self._words_holder, self._words = flow(3, self)
        self._word_buttons: list[_WordButton] = []
        self._options: tuple[Option, ...] = ()
        self._room_for = (0, 0)         # the width and size of type that the words keep their room for
        for text in ("1", "2", "3", "4", "5", "6", "7", "8", "9", "0", "-", *_SIDES, "Erase"):
            self._words.addWidget(self._digit(text))
        self._fixed_words = self._words.count()
        while len(self._word_buttons) < _USUALLY:
            self._add_word_button()

        while len(self._chip_labels) < _FEW:
            self._add_chip()
        self._chips.addWidget(self.answer)
        self._chips.addWidget(self.also)
        in_column(in_row(self.about, (self.line, 1), self.commit, spacing=8), self._chips_holder, self._words_holder,
                  on=self, margins=(_MARGIN, 8, _MARGIN, 8), spacing=6)

    def _digit(self, text: str) -> QPushButton:
        act = self._rub_out if text == "Erase" else partial(self.insert, text, number=text not in _SIDES)
        button = push_button(text, act, {"-": "minus", "Erase": "rub out"}.get(text, text), "word",
                             Qt.FocusPolicy.NoFocus, self._words_holder)
        if len(text) == 1:
            button.setFixedWidth(button.fontMetrics().horizontalAdvance("0") + 18)
        return button

    def _add_word_button(self) -> None:
        button = _WordButton(self._words_holder)
        button.hide()
        button.clicked.connect(lambda: self.insert(button.word))
        self._word_buttons.append(button)
        self._words.addWidget(button)

    def _add_chip(self) -> None:
        chip = QLabel(self._chips_holder)
        chip.setObjectName("chip")
        chip.hide()
        self._chip_labels.append(chip)
        self._chips.addWidget(chip)

    def insert(self, word: str, number: bool = False) -> None:
        """Write a word (set apart by a space) or a digit where the cursor is."""
        before = self.line.text()[:self.line.cursorPosition()]
        goes_on = number and (before[-1:].isdigit() or before[-1:] == "-")
        space = " " if before and not before.endswith(" ") and not goes_on else ""
        self.line.insert(space + word)
        self.line.setFocus()

    def _rub_out(self) -> None:
        text = self.line.text().rstrip()
        keep = len(text) - 1 if text[-1:].isdigit() else len(text.rstrip("abcdefghijklmnopqrstuvwxyz"))
        self.line.setText(text[:max(keep, 0)].rstrip())
        self.line.setFocus()

    def show_line(self, line: WholeEntry, reading: WholeReading | None = None, number: int = 0, warning: str = "",
                  habit: str = "", is_new: bool = True) -> None:
        """Show how the line is understood: a tick for what is certain, a question with the whole *reading* for what had
        two meanings or was filled in, or the word that is not understood. *warning* is what the line or the rules have
        against it, *habit* the words about the setting that a bare number followed; *is_new*, that a new play is at
        hand."""
        entry, play = line.entry, reading.play if reading is not None else None
        chips = play.chips if play is not None else entry.chips if reading is None else ()
        texts = ([(entry.known, "known")] if entry.known and not chips else []) + [
            (chip.text, chip.state) for chip in chips]
        if entry.known and chips and chips[0].state != "kind":
            texts.insert(0, (entry.known, "known"))
        for place, (text, state) in enumerate(texts):
            if place == len(self._chip_labels):
                self._add_chip()
                self._chips.put_last(self.answer)
                self._chips.put_last(self.also)
            chip = self._chip_labels[place]
            chip.setText(text)
            restyle(chip, state=state)
            chip.show()
        for chip in self._chip_labels[len(texts):]:
            chip.hide()
        problem = line.problem
        self.line.underline(*((problem.start, problem.end) if problem is not None else (0, 0)))
        if problem is not None:
            self._say("✗", problem.text, "bad")
        elif warning:
            self._say("✗", f"{reading.text}: {warning}" if reading is not None else warning, "bad")
        elif reading is not None and line.answer is Answer.READ_AS:
            self._say("?", self._asked(line, reading, number, habit), "warn")
        elif reading is not None:
            of = " – of the play to come" if is_new else " – the play stays as it is"
            self._say("✓", reading.text + (of if reading.play is None else ""), "good")
        else:
            wants = f"next: {entry.wants}" if entry.wants else ""
            self._say("", wants if self.line.text() else f"{wants}. {_ALSO}" if wants else _ALSO, "quiet")
        restyle(self.line, state="bad" if problem is not None or warning else "")

    def show_examples(self, lines: tuple[str, ...]) -> None:
        """Show in the empty line how plays are said that may come now."""
        text = " · ".join(lines)
        if self.line.placeholderText() != text:
            self.line.setPlaceholderText(text)

    def show_also_known(self, told: list[str]) -> None:
        """Say what is known of the play in the staff's own words beside what stands in the line."""
        text = " · ".join(told)
        self.also.setText(text)
        self.also.setToolTip(text)
        self.also.setVisible(bool(told))

    def _asked(self, line: WholeEntry, reading: WholeReading, number: int, habit: str) -> str:
        """A reading in full words, what was filled in, and the key that takes the next one."""
        text = reading.text
        if reading.filled:
            text += f" ({'; '.join(reading.filled)})"
        if len(line.readings) > 1:
            text += (f" – reading {number % len(line.readings) + 1} of {len(line.readings)}, "
                     f"{self._keys.shown('tag.next_reading')} takes the next")
        elif line.entry.wants:
            text += f" – next: {line.entry.wants}"
        return f"{text}. {habit}" if habit else text

    def _say(self, mark: str, text: str, ink: str) -> None:
        restyle(self.answer, ink=ink)
        self.answer.setText(f"{mark} {text}".strip())
        self.answer.setToolTip(text)
        self.line.setAccessibleDescription(text)

    def resizeEvent(self, event) -> None:
        """Fit the words that are offered to the new width."""
        super().resizeEvent(event)
        self.show_options(self._options)

    def changeEvent(self, event: QEvent) -> None:
        """Fit the words that are offered to the new font or style."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.StyleChange, QEvent.Type.FontChange):
            self.show_options(self._options)

    def show_options(self, options: tuple[Option, ...]) -> None:
        """Offer the words that can come next."""
        self._options = options = options[:20]
        with self._words.at_once():
            for place, option in enumerate(options):
                if place == len(self._word_buttons):
                    self._add_word_button()
                if self._word_buttons[place].word != option.word or not self._word_buttons[place].isVisibleTo(self):
                    self._word_buttons[place].show_option(option)
            for button in self._word_buttons[len(options):]:
                button.hide()
        self._keep_room(len(options))

    def _keep_room(self, options: int) -> None:
        """The words have as much room as digits and sides need, and a line more; those that go beyond it are left out.
        The chips have a line and the answer two, and more only where those are too few. Else the picture would move
        with every word."""
        width = self.contentsRect().width() - 2 * _MARGIN
        least = self._words.height_of(width, self._fixed_words)
        room = least + self._words.spacing() + self._word_buttons[0].sizeHint().height()
        with self._words.at_once():
            while options and self._words.height_of(width, self._fixed_words + options) > room:
                options -= 1
            for button in self._word_buttons[options:]:
                button.hide()
        self._words_holder.setFixedHeight(room)
        # its own font: the labels are restyled later than the panel
        line = self.answer.fontMetrics().lineSpacing() + 1
        if self._room_for != (width, line):
            self._room_for = width, line
            chip = self._chip_labels[0].sizeHint().height() + 1
            self._chips_holder.setMinimumHeight(chip + self._chips.spacing() + 2 * line)
        self._chips_holder.setMinimumHeight(max(self._chips_holder.minimumHeight(), self._chips.heightForWidth(width)))

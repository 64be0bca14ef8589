"""The page on which a staff edits its own words."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFormLayout,
    QHeaderView,
    QLineEdit,
    QListWidget,
    QPlainTextEdit,
    QSplitter,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from ..tagging.operations import SetVocabulary
from ..tagging.own_words.definition import About, Vocabulary, WordKind
from ..tagging.own_words.editing import EditedValue, VocabularyDraft, follows_text, read_follows, read_spoken
from ..tagging.own_words.files import VocabularyError, load_vocabulary, save_vocabulary, user_words_folder
from .keys import KeyButton
from .room import Desk
from .session import Session
from .session_holder import SessionHolder
from .widgets import Wrapping, choice, flow, in_column, label, portion, push_button, say, scrolled, table

_LEAST_LIST = 150       # pixels


class WordsPage(SessionHolder, Wrapping):
    """A page of its own; ``closed`` is sent when the person is through with it. Words are kept for the game with one
    undoable action, and as the staff's own in a file on top of that if asked for."""

    closed = Signal()

    def __init__(self, desk: Desk):
        super().__init__()
        self._desk = desk
        self.setObjectName("ground")
        self.setAccessibleName("The staff's own words")
        self.draft = VocabularyDraft(Vocabulary())
        self._filling = False
        self._wrong: str = ""           # what is typed and cannot be read
        self._build()

    # -- building -----------------------------------------------------------------------------
    def _build(self) -> None:
        head, row = flow(parent=self)
        row.addWidget(label("The staff's own words", "title", parent=head))
        self.keep_button = KeyButton(self._desk.keys, "words.keep", "Keep for this game", None, self.keep, self, "main")
        self.own_button = push_button("Keep, also for new games", self.keep_as_own)
        self.own_button.setToolTip(f"Writes {user_words_folder() / 'default.toml'}, which games without own words use")
        self.delivered_button = push_button("As delivered", self.take_delivered)
        for button in (self.keep_button, self.own_button, self.delivered_button,
                       self._key("words.leave", "Back", self.leave)):
            row.addWidget(button)
        self.wrong = label("", wrap=True)
        self.split = QSplitter(Qt.Orientation.Horizontal)
        self.split.addWidget(self._build_list())
        self.split.addWidget(scrolled(self._build_form()))
        portion(self.split, (0, 1), (260, 800))
        in_column(head, label("What is tagged of a play beside what the rules need. It is said in the play's line "
                              "behind a comma, and has a column in the sheet of all plays.", ink="quiet", wrap=True),
                  self.wrong, (self.split, 1), on=self, margins=(18, 14, 18, 14))

    def _key(self, id: str, text: str, act) -> KeyButton:
        return KeyButton(self._desk.keys, id, text, None, act, self)

    def _build_list(self) -> QWidget:
        side = QWidget()
        self.words = QListWidget()
        self.words.setAccessibleName("Words, in the order in which they are shown")
        self.words.setMinimumWidth(_LEAST_LIST)
        self.words.currentRowChanged.connect(self._choose)
        below, row = flow(parent=side)
        for id, text, act in (("words.add", "Add", self.add), ("words.remove", "Remove", self.remove),
                              ("words.earlier", "Earlier", lambda: self.shift(-1)),
                              ("words.later", "Later", lambda: self.shift(1))):
            row.addWidget(self._key(id, text, act))
        in_column((self.words, 1), below, on=side, margins=0)
        return side

    def _build_form(self) -> QWidget:
        self.form = QWidget()
        self.name = self._line("The word's name", self._set_name)
        self.kind = self._choice("What may be said", WordKind, "kind")
        self.about = self._choice("What it is said about", About, "about")
        self.spoken = self._line("Short forms of its name, with commas between",
                                 lambda text: self._set("spoken", read_spoken(text)))
        self.carried = QCheckBox("to the next plays of the drive")
        self.carried.setAccessibleName("Carried on")
        self.carried.toggled.connect(partial(self._set, "carried"))
        self.follows = QPlainTextEdit()
        self.follows.setAccessibleName("What it follows from")
        self.follows.setPlaceholderText("hash of this play: left hash = field right; right hash = field left\n"
                                        "hash of the last play, where the ball came back")
        self.follows.setTabChangesFocus(True)
        self.follows.setFixedHeight(self.follows.fontMetrics().lineSpacing() * 3 + 16)
        self.follows.textChanged.connect(self._set_follows)
        self.values = table(("Value", "Short forms"), "Values of its list")
        self.values.setEditTriggers(QTableWidget.EditTrigger.AllEditTriggers)
        self.values.setSelectionMode(QTableWidget.SelectionMode.SingleSelection)
        self.values.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        self.values.setMinimumHeight(150)
        self.values.cellChanged.connect(self._set_value)
        self.value_buttons, row = flow()
        for text, act in (("Add a value", self.add_value), ("Remove the value", self.remove_value),
                          ("Value earlier", lambda: self.move_value(-1)), ("Value later", lambda: self.move_value(1))):
            row.addWidget(push_button(text, act, parent=self.value_buttons))
        form = QFormLayout()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
        for words, widget in (("Name", self.name), ("Kind", self.kind), ("About", self.about),
                              ("Short forms", self.spoken), ("Carried on", self.carried),
                              ("Follows from", self.follows)):
            form.addRow(words, widget)
        in_column(form, label("Values of its list, and how each is spoken shortly"), (self.values, 1),
                  self.value_buttons, on=self.form, margins=(12, 0, 0, 0))
        return self.form

    @staticmethod
    def _line(name: str, changed) -> QLineEdit:
        line = QLineEdit()
        line.setAccessibleName(name)
        line.textEdited.connect(changed)
        return line

    def _choice(self, name: str, kind, told: str) -> QComboBox:
        return choice(name, [(each.value, each) for each in kind],
                      lambda: self._set(told, kind(getattr(self, told).currentData())))

    def hasHeightForWidth(self) -> bool:
        """No: the lists take what room there is."""
        return False

    # -- the session --------------------------------------------------------------------------
    def show_session(self, session: Session | None) -> None:
        """Edit the words of *session* from now on; None edits none."""
        super().show_session(session)
        if session is not None:
            self._take(session.vocabulary)

    def _follows(self, session: Session) -> list:
        return [(session.game_changed, self._changed)]

    def _changed(self, *_) -> None:
        """Another vocabulary came in, by undo say; what is being edited gives way only if nothing was changed."""
        if self.isVisible() and not self.draft.is_changed:
            self._take(self.session.vocabulary)

    def showEvent(self, event) -> None:
        """Begin at the list."""
        super().showEvent(event)
        self.words.setFocus()

    def _take(self, vocabulary: Vocabulary) -> None:
        place = max(self.words.currentRow(), 0)
        self.draft = VocabularyDraft(vocabulary)
        self._tell("")
        self._fill_list(min(place, len(self.draft.words) - 1))

    # -- showing ------------------------------------------------------------------------------
    @property
    def place(self) -> int:
        """Which word is at hand; -1 if there is none."""
        return self.words.currentRow()

    def _fill_list(self, place: int) -> None:
        self._filling = True
        self.words.clear()
        self.words.addItems([word.name for word in self.draft.words])
        self._filling = False
        self.words.setCurrentRow(place)
        if not self.draft.words:
            self._choose(-1)

    def _choose(self, place: int) -> None:
        if self._filling:
            return
        self._filling, self._wrong = True, ""
        self.form.setEnabled(place >= 0)
        if place >= 0:
            word = self.draft.words[place]
            self.name.setText(word.name)
            self.kind.setCurrentIndex(list(WordKind).index(word.kind))
            self.about.setCurrentIndex(list(About).index(word.about))
            self.spoken.setText(", ".join(word.spoken))
            self.carried.setChecked(word.carried)
            self.follows.setPlainText(follows_text(word.follows))
            self._fill_values()
        self._filling = False
        self._look()

    def _fill_values(self, row: int = -1) -> None:
        was, self._filling = self._filling, True
        word = self.draft.words[self.place]
        self.values.setRowCount(len(word.values))
        for at, value in enumerate(word.values):
            self.values.setItem(at, 0, QTableWidgetItem(value.name))
            self.values.setItem(at, 1, QTableWidgetItem(", ".join(value.spoken)))
        if row >= 0:
            self.values.setCurrentCell(row, 0)
        for widget in (self.values, self.value_buttons):
            widget.setEnabled(word.kind.has_list)
        self._filling = was

    def _look(self) -> None:
        """Say what stands in the way of keeping the words."""
        found = [self._wrong] if self._wrong else self.draft.problems
        self._tell("; ".join(found[:3]) + (f"; and {len(found) - 3} more" if len(found) > 3 else ""), "bad")
        self.keep_button.setEnabled(not found)
        self.own_button.setEnabled(not found)

    def _tell(self, text: str, ink: str = "quiet") -> None:
        say(self.wrong, text, ink)

    # -- one word -----------------------------------------------------------------------------
    def _set_name(self, text: str) -> None:
        self.draft.rename(self.place, " ".join(text.split()))
        self.words.currentItem().setText(self.draft.words[self.place].name or "(no name)")
        self._look()

    def _set(self, told: str, value: object) -> None:
        """Say something else of the word: its ``kind``, its short forms (``spoken``), ..."""
        if not self._filling:
            setattr(self.draft.words[self.place], told, value)
            if told == "kind":
                self._fill_values()
            self._look()

    def _set_follows(self) -> None:
        if self._filling:
            return
        try:
            self.draft.words[self.place].follows = read_follows(self.follows.toPlainText())
            self._wrong = ""
        except ValueError as error:
            self._wrong = str(error)
        self._look()

    def _set_value(self, row: int, column: int) -> None:
        if self._filling:
            return
        item = self.values.item(row, column)
        text = item.text() if item is not None else ""
        if column == 0:
            self.draft.rename_value(self.place, row, " ".join(text.split()))
        else:
            self.draft.words[self.place].values[row].spoken = read_spoken(text)
        self._look()

    def add_value(self) -> None:
        """Add a value behind the chosen one, and begin to type it."""
        values, row = self.draft.words[self.place].values, self.values.currentRow() + 1
        row = row if 0 < row <= len(values) else len(values)
        values.insert(row, EditedValue(""))
        self._fill_values(row)
        self._look()
        self.values.setFocus()
        if (item := self.values.item(row, 0)) is not None:
            self.values.editItem(item)

    def remove_value(self) -> None:
        """Remove the chosen value."""
        row = self.values.currentRow()
        if 0 <= row < len(self.draft.words[self.place].values):
            del self.draft.words[self.place].values[row]
            self._fill_values(min(row, len(self.draft.words[self.place].values) - 1))
            self._look()

    def move_value(self, by: int) -> None:
        """Let the chosen value come one earlier (-1) or later (1)."""
        values, row = self.draft.words[self.place].values, self.values.currentRow()
        if 0 <= row < len(values) and 0 <= row + by < len(values):
            values[row], values[row + by] = values[row + by], values[row]
            self._fill_values(row + by)
            self._look()

    # -- all words ----------------------------------------------------------------------------
    def add(self) -> None:
        """Add a word behind the chosen one, and begin with its name."""
        self._fill_list(self.draft.add(self.place))
        self.name.setFocus()
        self.name.selectAll()

    def remove(self) -> None:
        """Remove the chosen word; what was said in it stays with the plays."""
        if self.place >= 0:
            place = self.place
            self.draft.remove(place)
            self._fill_list(min(place, len(self.draft.words) - 1))

    def shift(self, by: int) -> None:
        """Let the chosen word come one earlier (-1) or later (1)."""
        if self.place >= 0:
            self._fill_list(self.draft.move(self.place, by))

    def take_delivered(self) -> None:
        """Show the words as they are delivered; nothing is kept by that."""
        try:
            delivered = load_vocabulary("default", user_words_folder() / "none")
        except VocabularyError as error:
            self._tell(f"The delivered words cannot be read: {error}", "bad")
            return
        self.draft = VocabularyDraft(delivered, self.draft.before)
        self._fill_list(0)

    def keep(self) -> bool:
        """Keep the words for this game; renamed ones are renamed wherever they were said."""
        found = [self._wrong] if self._wrong else self.draft.problems
        if found:
            self._look()
            return False
        if self.session.file.read_only:
            self._tell("Not kept: this game is open for reading only.", "bad")
            return False
        draft = self.draft
        if draft.vocabulary == self.session.game.vocabulary:
            self._tell("The game has these words already.", "good")
            return True
        if self.session.do(SetVocabulary(draft.vocabulary, draft.renamed)) is None:
            return False
        self._take(self.session.vocabulary)
        self._tell(f"Kept for this game. {self._desk.keys.shown('desk.undo')} takes it back.", "good")
        return True

    def keep_as_own(self) -> None:
        """Keep the words for this game, and in a file for games to come."""
        vocabulary = self.draft.vocabulary
        if not self.keep():
            return
        try:
            path = save_vocabulary(vocabulary)
        except (OSError, VocabularyError) as error:
            self._tell(f"Kept for this game, but not for new ones: {error}", "bad")
            return
        self._tell(f"Kept for this game, and for new ones in {path}.", "good")

    def leave(self) -> None:
        """Back to where one was; what was changed and not kept is said first, once."""
        if self.draft.is_changed and self.wrong.text() != _UNKEPT:
            self._tell(_UNKEPT, "warn")
            return
        self.closed.emit()


_UNKEPT = "What was changed is not kept. Keep it, or leave once more without it."

"""The search as a sentence, and the filters that make it up."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QPushButton, QScrollArea, QVBoxLayout, QWidget

from ...season.finder import GROUP_NAMES, Filter, Group, sentence
from ..widgets import Field, flow, in_column, label, push_button

_WIDE_SPACE = "\u2007"      # as wide as a digit
_USUAL = 4          # filters of a group that there are buttons for before any game is open


class _Section:
    """The filters of one group, under its name. Buttons are used again for others: to make and style one takes as
    long as to show ten."""

    def __init__(self, group: Group, list_: FilterList, page: QWidget, layout: QVBoxLayout) -> None:
        self._list = list_
        self._filters: list[Filter] = []
        self._name = label(GROUP_NAMES[group], "small", "quiet", parent=page)
        self._holder, self._row = flow(4, page)
        self._buttons: list[QPushButton] = []
        for _ in range(_USUAL):
            self._add()
        for widget in (self._name, self._holder):
            widget.hide()
            layout.addWidget(widget)

    def _add(self) -> None:
        button, place = QPushButton(self._holder), len(self._buttons)
        button.setAccessibleName(self._name.text())     # until it has a filter
        button.setProperty("role", "word")
        button.setCheckable(True)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        button.hide()
        button.clicked.connect(lambda on: self._list.take(self._filters[place], on))
        self._buttons.append(button)
        self._row.addWidget(button)

    def show(self, counts: dict[Filter, int], digits: int) -> dict[Filter, QPushButton]:
        """Show these filters and no others, their counts always as wide as ``digits``; returns their buttons."""
        self._filters = list(counts)
        with self._row.at_once():
            while len(self._buttons) < len(counts):
                self._add()
            for button, (each, count) in zip(self._buttons, counts.items(), strict=False):
                button.setText(f"{each.words}  {str(count).rjust(digits, _WIDE_SPACE)}")
                button.setAccessibleName(f"{each.words}, {count} plays")
                button.setChecked(each in self._list.chosen)
                button.show()
            for button in self._buttons[len(counts):]:
                button.hide()
        for widget in (self._name, self._holder):
            widget.setVisible(bool(counts))
        return dict(zip(counts, self._buttons, strict=False))


class FilterList(QScrollArea):
    """All filters that fit some play of this game, by what they speak of, with how many plays each fits.
    ``changed`` is sent when a filter is set or taken away. Built part by part: call :meth:`building` to its end."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None):
        super().__init__(parent)
        self.chosen: set[Filter] = set()
        self._shown: dict[Filter, int] = {}
        self.buttons: dict[Filter, QPushButton] = {}
        self._sections: dict[Group, _Section] = {}
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)     # filters must not wrap anew with it
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName("Filters to find plays by")

    def building(self) -> Iterator[None]:
        """Make the sections one by one, yielding after each, and then show them."""
        page = QWidget()
        layout = in_column(on=page, margins=(0, 0, 6, 0), spacing=3)
        for group in Group:
            self._sections[group] = _Section(group, self, page, layout)
            yield
        layout.addStretch(1)
        self.setWidget(page)

    def show_filters(self, counts: dict[Filter, int], plays: int) -> None:
        """Show these filters with how many of the game's *plays* each fits now; what was chosen stays chosen, also
        where it fits no play just now. None moves when counts change."""
        counts = dict(counts) | {each: 0 for each in self.chosen if each not in counts}
        if counts == self._shown:
            return
        self._shown = counts
        focused = next((each for each, button in self.buttons.items() if button.hasFocus()), None)
        self.buttons = {}
        for group, section in self._sections.items():
            self.buttons |= section.show({each: counts[each] for each in sorted(counts) if each.group is group},
                                         len(str(plays)))
        if focused in self.buttons:
            self.buttons[focused].setFocus()

    def take(self, each: Filter, on: bool) -> None:
        """Set a filter, or take it away."""
        (self.chosen.add if on else self.chosen.discard)(each)
        if each in self.buttons:
            self.buttons[each].setChecked(on)
        self.changed.emit()

    def clear(self) -> None:
        """Undo every choice."""
        self.chosen.clear()
        for button in self.buttons.values():
            button.setChecked(False)
        self.changed.emit()

    def focus_first(self) -> None:
        """Give the keyboard to the first button that can take it."""
        for button in self.buttons.values():
            button.setFocus(Qt.FocusReason.ShortcutFocusReason)
            self.ensureWidgetVisible(button)
            break


class SentenceBar(QWidget):
    """The search in words: a click takes a filter away, and words can be typed after them."""

    put_back = Signal(object)
    typed = Signal(str)

    def __init__(self, parent: QWidget | None = None):
        super().__init__(parent)
        self.words = Field(name="Words said about the plays", hint="and words said about it", is_search=True)
        self.words.textChanged.connect(self.typed)
        self.taken, self._row = flow(5)         # the filters that were chosen; whoever lays the room out places it
        self._count = label("", "title")
        in_column(self._count, self.words, on=self, margins=0, spacing=4)

    def show_search(self, chosen: set[Filter], found: int, of: int) -> None:
        """Show what is chosen, and how many plays of how many were found."""
        self._row.clear()
        for each in sorted(chosen):
            self._row.addWidget(push_button(f"{each.words}  ×", partial(self.put_back.emit, each),
                                            f"Take away: {each.words}", "word", Qt.FocusPolicy.TabFocus))
        self.taken.setVisible(bool(chosen))
        asked = bool(chosen) or bool(self.words.text().strip())
        self._count.setText(f"{found} of {of} plays" if asked else f"All {of} plays" if of else "No plays yet")
        self.setAccessibleDescription(sentence(chosen, self.words.text()))

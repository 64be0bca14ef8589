"""What is counted: rows, columns, which plays, and the staff's definitions."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QFrame, QPushButton, QWidget

from ...season.breakdown import Plays, Recipe, spoken_column
from ...season.definitions import Definitions
from ...season.faults import DefinitionError
from ...season.saved import load, names, save
from ..keys import KeyButton
from ..room import Desk
from ..widgets import Field, choice, flow, in_column, label, labelled, offer, push_button

_ROWS = 2       # columns of facts that may be nested in the rows


class RecipePanel(QWidget):
    """``changed`` is sent with every change of :attr:`recipe`; ``values_wanted`` asks for the values of a column, to be
    given to :meth:`show_values`; ``told`` carries a line for the person, with its ink."""

    changed = Signal()
    values_wanted = Signal(str)
    told = Signal(str, str)

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self._desk = desk
        self.recipe = Recipe()
        self._filling = False
        top, row = flow(parent=self)
        self.rows = [self._box(f"Rows{' within them' if number else ''}", self._on_boxes) for number in range(_ROWS)]
        self.columns = self._box("Columns", self._on_boxes)
        self.plays = self._box("Which plays", self._on_boxes)
        for plays in Plays:
            self.plays.addItem(str(plays), plays)
        self.plays.setMinimumContentsLength(max(len(plays) for plays in Plays) - 6)     # most letters are narrow
        for words, box in (("Rows", self.rows[0]), ("then", self.rows[1]), ("Columns", self.columns),
                           ("of", self.plays)):
            row.addWidget(labelled(words, box))
        only, row = flow(parent=self)
        self._chips = row
        self.where = self._box("Only plays where", self._on_where)
        self.value = self._box("is", self._on_value)
        self.words = Field(name="Only plays of which these words were said", hint="words")
        self.words.setMaximumWidth(150)
        self.words.editingFinished.connect(self._on_words)
        row.addWidget(labelled("Only where", self.where, self.value))
        row.addWidget(labelled("saying", self.words))
        self._taken: list[QPushButton] = []
        kept, row = flow(parent=self)
        self.saved = self._box("Saved breakdowns", self._on_saved)
        self.name = Field(name="Name to save the breakdown under", hint="name", act=self.save)
        self.name.setMaximumWidth(150)
        row.addWidget(self.saved)
        row.addWidget(self.name)
        row.addWidget(KeyButton(desk.keys, "season.save", "Save", kept, self.save))
        row.addWidget(KeyButton(desk.keys, "season.define", "Definitions", kept, self.toggle))
        self._definitions = _DefinitionForm(self)
        self._definitions.changed.connect(self._on_definitions)
        self._definitions.hide()
        in_column(top, only, kept, self._definitions, on=self, margins=0, spacing=4)
        self.show_saved()

    def _box(self, name: str, act: Callable[[], object]) -> QComboBox:
        return choice(name, act=act, letters=9, parent=self)

    # -- showing -------------------------------------------------------------------------------------------
    def show_columns(self, meanings: Mapping[str, str]) -> None:
        """Offer these columns, each with what it means."""
        self._filling = True
        for box, nothing in ((self.rows[0], "nothing"), (self.rows[1], "nothing"), (self.columns, "nothing"),
                             (self.where, "…")):
            box.clear()
            box.addItem(nothing, "")
            for name, meaning in meanings.items():
                box.addItem(spoken_column(name), name)
                box.setItemData(box.count() - 1, meaning, Qt.ItemDataRole.ToolTipRole)
        self._filling = False
        self.show_recipe(self.recipe)

    def show_recipe(self, recipe: Recipe) -> None:
        """Show what is counted."""
        self.recipe = recipe
        names = (*recipe.rows, *[""] * _ROWS)[:_ROWS]
        for box, name in (*zip(self.rows, names, strict=True), (self.columns, next(iter(recipe.columns), ""))):
            box.setCurrentIndex(max(box.findData(name), 0))
        self.plays.setCurrentIndex(self.plays.findData(recipe.plays))
        self.words.setText(recipe.words)
        self._definitions.show_definitions(recipe.definitions)
        for chip in self._taken:
            self._chips.removeWidget(chip)
            chip.hide()
            chip.deleteLater()
        self._taken = []
        for column, values in recipe.where.items():
            chip = push_button(f"{spoken_column(column)}: {' or '.join(values)}  ×", partial(self.take_away, column),
                               f"Only {spoken_column(column)} {' or '.join(values)}; press to take away",
                               focus=Qt.FocusPolicy.TabFocus)
            self._desk.theme.dress(chip)
            self._chips.addWidget(chip)
            self._taken.append(chip)

    def show_values(self, column: str, values: list[str]) -> None:
        """Offer the values of the column that was asked for."""
        if self.where.currentData() == column:
            offer(self.value, (("…", ""), *((value, value) for value in values)))

    def show_saved(self) -> None:
        """Offer the breakdowns that were saved."""
        offer(self.saved, (("Saved…", ""), *((name, name) for name in names())))

    # -- what a person does ----------------------------------------------------------------------------------
    def _change(self, recipe: Recipe) -> None:
        self.show_recipe(recipe)
        self.changed.emit()

    def _on_boxes(self) -> None:
        if self._filling:
            return
        rows = tuple(dict.fromkeys(str(box.currentData()) for box in self.rows if box.currentData()))
        column = str(self.columns.currentData() or "")
        columns = (column,) if column and column not in rows else ()
        self._change(replace(self.recipe, rows=rows, columns=columns, plays=Plays(self.plays.currentData())))

    def _on_where(self) -> None:
        self.value.clear()
        if self.where.currentData():
            self.values_wanted.emit(str(self.where.currentData()))

    def _on_value(self) -> None:
        column, value = str(self.where.currentData() or ""), str(self.value.currentData() or "")
        if column and value:
            self.value.setCurrentIndex(0)       # free for one more
            self.only(column, value)

    def only(self, column: str, value: str) -> None:
        """Count only plays with that value too."""
        values = (*self.recipe.where.get(column, ()), value)
        self._change(replace(self.recipe, where={**self.recipe.where, column: tuple(dict.fromkeys(values))}))

    def take_away(self, column: str) -> None:
        """Take away what was asked of a column, and ask for none."""
        self.where.setCurrentIndex(0)
        self.value.clear()
        self._change(replace(self.recipe, where={name: values for name, values in self.recipe.where.items()
                                                 if name != column}))

    def _on_words(self) -> None:
        if self.words.text() != self.recipe.words:
            self._change(replace(self.recipe, words=self.words.text()))

    def _on_definitions(self, given: Definitions) -> None:
        self._change(replace(self.recipe, definitions=replace(given, us=self.recipe.definitions.us)))

    def set_us(self, team: str) -> None:
        """Our own team is this one."""
        self.recipe = replace(self.recipe, definitions=replace(self.recipe.definitions, us=team))

    def toggle(self) -> None:
        """Show or hide the definitions."""
        self._definitions.setVisible(self._definitions.isHidden())
        if self._definitions.isVisible():
            self._definitions.begin()

    def save(self) -> None:
        """Save what is counted under the name that was typed."""
        name = self.name.text().strip() or self.recipe.name
        if not name:
            self.name.setFocus()
            self.told.emit("Type a name for this breakdown first.", "bad")
            return
        try:
            save(replace(self.recipe, name=name))
        except (DefinitionError, OSError) as error:
            self.told.emit(str(error), "bad")
            return
        self.recipe = replace(self.recipe, name=name)
        self.show_saved()
        self.told.emit(f"Saved: {name}", "good")

    def _on_saved(self) -> None:
        name = str(self.saved.currentData() or "")
        if not name:
            return
        try:
            recipe = load(name)
        except DefinitionError as error:
            self.told.emit(str(error), "bad")
            return
        self.name.setText(name)
        us = self.recipe.definitions.us
        self._change(replace(recipe, definitions=replace(recipe.definitions, us=us or recipe.definitions.us)))


class _DefinitionForm(QFrame):
    """The definitions as lines to type: numbers with commas between them."""

    changed = Signal(object)

    def __init__(self, parent: QWidget):
        super().__init__(parent)
        self.setObjectName("card")
        form = QFormLayout(self)
        self._fields: dict[str, Field] = {}
        for name, words in (("distances", "Distance groups up to (yards)"), ("zones", "Zones end at (own goal is 0)"),
                            ("success", "Success: % of the distance by down"), ("leads", "Leads up to (points)"),
                            ("explosive_run", "Explosive run from (yards)"),
                            ("explosive_pass", "Explosive pass from (yards)"), ("few", "Too few below (plays)")):
            field = self._fields[name] = Field()
            field.setAccessibleName(words)
            field.editingFinished.connect(self._read)
            form.addRow(label(words, "small", "quiet"), field)
        self._wrong = label("", "small", "bad", wrap=True)
        form.addRow(self._wrong)
        self._given = Definitions()

    def begin(self) -> None:
        """Let the first line be typed in."""
        self._fields["distances"].setFocus()

    def show_definitions(self, given: Definitions) -> None:
        """Show these."""
        self._given = given
        for name, field in self._fields.items():
            value = getattr(given, name)
            values = [each * 100 for each in value] if name == "success" else value
            field.setText(", ".join(f"{each:g}" for each in values) if isinstance(values, list | tuple)
                          else f"{values:g}")
        self._wrong.setText("")

    def _read(self) -> None:
        try:
            told = {name: [float(each) for each in field.text().replace(";", ",").split(",") if each.strip()]
                    for name, field in self._fields.items()}
            given = Definitions(
                tuple(told["distances"]), tuple(told["zones"]), tuple(each / 100 for each in told["success"]),
                told["explosive_run"][0], told["explosive_pass"][0], tuple(int(each) for each in told["leads"]),
                int(told["few"][0]), self._given.us)
        except (ValueError, IndexError) as error:
            self._wrong.setText(str(error) if isinstance(error, DefinitionError)
                                else "Type numbers with commas between them.")
            return
        self._wrong.setText("")
        if given != self._given:
            self._given = given
            self.changed.emit(given)

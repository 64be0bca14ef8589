"""The shelf: which games there are, which of them are looked at, and whose side we are on."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QColor, QIcon, QPixmap
from PySide6.QtWidgets import QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from ...season.shelf import Shelf, ShelvedGame
from ...tagging.operations.operation import count
from ..asking import ask_for_folder
from ..keys import KeyButton
from ..room import Desk
from ..speech import first_few
from ..team_colours import colour_of
from ..widgets import choice, flow, in_column, label, offer, table

_LINE = 17       # pixels of a line at the normal text size


class ShelfPanel(QWidget):
    """``chosen_changed`` is sent when other games, or another team of ours, are chosen; ``folders_changed`` carries
    the folders that were named."""

    chosen_changed = Signal()
    folders_changed = Signal(list)

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self._desk = desk
        self._games: tuple[ShelvedGame, ...] = ()
        self._filling = False
        self.heading = label("Season", "lead", elide=True)
        self.us = choice("Our own team", act=self._on_us, parent=self)
        self.games = table(("Game",), "Games of the season")
        self.games.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
        self.games.setIconSize(QSize(12, 12))
        self.games.horizontalHeader().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.games.horizontalHeader().hide()
        self.games.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.games.itemChanged.connect(self._on_item)
        desk.theme.changed.connect(self._fit)
        self._wrong = label("", "small", "bad", wrap=True)
        self._wrong.hide()
        buttons, row = flow(parent=self)
        for id, text, act in (("season.folder", "Folder…", self.choose_folder),
                              ("season.also", "One more…", lambda: self.choose_folder(also=True)),
                              ("season.every_game", "All or none", self.every_game)):
            row.addWidget(KeyButton(desk.keys, id, text, buttons, act))
        in_column(self.heading, self.us, (self.games, 1), self._wrong, buttons, on=self, margins=(0, 0, 4, 0),
                  spacing=6)

    # -- what is chosen ------------------------------------------------------------------------------------
    @property
    def folders(self) -> list[Path]:
        """The folders of the season, as remembered."""
        stored = self._desk.settings.value("season/folders") or []
        return [Path(path) for path in ([stored] if isinstance(stored, str) else stored)]

    @property
    def chosen(self) -> list[Path]:
        """The files of the games that are ticked, by date."""
        return [game.path for row, game in enumerate(self._games)
                if self._item(row).checkState() is Qt.CheckState.Checked]

    @property
    def names(self) -> dict[Path, str]:
        """What every game is called."""
        return {game.path: game.spoken for game in self._games}

    @property
    def short_names(self) -> dict[Path, str]:
        """What every game is called where there is little room: whom we met, with the date where we met them twice."""
        met = {game.path: game.opponent(self.team) or game.name for game in self._games}
        twice = {name for name, times in Counter(met.values()).items() if times > 1}
        return {game.path: " ".join(filter(None, (game.known.date if met[game.path] in twice else "", met[game.path])))
                for game in self._games}

    @property
    def team(self) -> str:
        """Our own team's name, empty if nobody said."""
        return str(self.us.currentData() or "")

    def choose_folder(self, also: bool = False) -> None:
        """Ask for the folder of the season, or for one more."""
        first = str(self.folders[0].parent) if self.folders else str(Path.home())
        ask_for_folder(self, "Folder of the season's games", first,
                       lambda path: self.take_folders([*(self.folders if also else []), path]))

    def take_folders(self, folders: list[Path]) -> None:
        """These are the season's folders from now on."""
        self._desk.settings.setValue("season/folders", [str(path) for path in dict.fromkeys(folders)])
        self.folders_changed.emit(folders)

    def every_game(self) -> None:
        """Tick every game, or none if all are ticked."""
        everything = len(self.chosen) < len(self._games)
        self._filling = True
        for row in range(len(self._games)):
            self._item(row).setCheckState(Qt.CheckState.Checked if everything else Qt.CheckState.Unchecked)
        self._filling = False
        self.chosen_changed.emit()

    # -- showing -------------------------------------------------------------------------------------------
    def show_shelf(self, shelf: Shelf) -> None:
        """Show the games of *shelf*; those that were not ticked stay so."""
        unticked = {game.path for game in self._games} - set(self.chosen)
        self._games = shelf.usable
        self._fill_us(shelf)
        self._filling = True
        self.games.setRowCount(len(self._games))
        for row, game in enumerate(self._games):
            known = game.known
            item = QTableWidgetItem(self._told(game))
            item.setCheckState(Qt.CheckState.Unchecked if game.path in unticked else Qt.CheckState.Checked)
            item.setToolTip(f"{game.path}\n{known.plays} plays, {known.shots} shots")
            self._wear(item, game)
            self.games.setItem(row, 0, item)
        self._filling = False
        self._fit()
        self.heading.setText(f"{count(len(self._games), 'game')}, "
                             + count(sum(game.known.plays for game in self._games), "play"))
        wrong = shelf.left_out
        self._wrong.setVisible(bool(wrong))
        self._wrong.setText("Left out: " + first_few([f"{game.path.name}: {game.known.left_out}" for game in wrong], 5,
                                                     "; "))

    def _fit(self) -> None:
        """Two lines for each game."""
        for row in range(self.games.rowCount()):
            self.games.setRowHeight(row, round(2.4 * _LINE * self._desk.theme.scale))

    def _told(self, game: ShelvedGame) -> str:
        """Two lines: who met, and home or away; when, whether there is film, who filmed it."""
        where, opponent = game.where(self.team), game.opponent(self.team)
        first = f"{opponent} ({where})" if opponent else game.name
        return f"{first}\n{'  ·  '.join(filter(None, (game.known.date, game.film, game.known.crew)))}"

    def _wear(self, item: QTableWidgetItem, game: ShelvedGame) -> None:
        """Put the colour of the other team's jerseys beside the game, if somebody gave it one."""
        colour = colour_of(self._desk.settings, game.opponent(self.team) or game.known.visitors)
        if colour:
            square = QPixmap(12, 12)
            square.fill(QColor(colour))
            item.setIcon(QIcon(square))

    def _item(self, row: int) -> QTableWidgetItem:
        item = self.games.item(row, 0)
        assert item is not None     # every row has its game
        return item

    def _fill_us(self, shelf: Shelf) -> None:
        ours = str(self._desk.settings.value("sequence/us", "")) or shelf.likely_us()
        offer(self.us, (("No team is ours", ""), *((f"We are {team}", team) for team in shelf.teams())), ours)

    def _on_us(self) -> None:
        self._desk.settings.setValue("sequence/us", self.team)
        for row, game in enumerate(self._games):
            self._filling = True
            self._item(row).setText(self._told(game))
            self._filling = False
        self.chosen_changed.emit()

    def _on_item(self, item: QTableWidgetItem) -> None:
        if not self._filling and item.column() == 0:
            self.chosen_changed.emit()

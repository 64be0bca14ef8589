"""The plays of a cell as film, and the sequence that is put together of them, over any games."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pandas as pd
from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from ...film.time import spoken_time
from ...football.speaking import ordinal
from ...season.reel import PlayKey, Reel
from ...tagging.operations.operation import count
from ..keys import KeyButton
from ..picture import PictureView
from ..room import Desk
from ..sequence.play_through import PlayThrough
from ..widgets import Wrapping, flow, in_column, label
from .film import SeasonFilm
from .shown_from import ShownFrom

_MOST = 1000            # plays listed at once
_KEY = Qt.ItemDataRole.UserRole


class FilmPanel(Wrapping):
    """``wanted`` asks for the films of some games; ``export_wanted`` for the sequence to be written."""

    wanted = Signal(list)
    reel_changed = Signal()

    def __init__(self, desk: Desk, film: SeasonFilm, parent: QWidget | None = None):
        super().__init__(parent)
        self._desk, self.film = desk, film
        self.reel = Reel.of_text(str(desk.settings.value("season/sequence", "") or ""))
        self._titles: dict[PlayKey, str] = {}
        self._run_when_loaded: list[PlayKey] | None = None
        self._filling = False
        self.picture = PictureView(parent=self)
        self.picture.setMinimumSize(240, 135)
        self.picture.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.picture.message = "Choose a cell; its plays are shown here."
        self.picture.show_session(film)
        self.shown_from = ShownFrom(self)
        self.shown_from.changed.connect(self._show_from)
        self.caption = label("", "body", elide=True)
        self.through = PlayThrough(self)
        self.through.reached.connect(self._on_reached)
        self._count = label("Plays", "body", "quiet", elide=True)
        self.plays = self._list("Plays of the cell")
        self.plays.setSelectionMode(QListWidget.SelectionMode.ExtendedSelection)
        self.sequence = self._list("Sequence over games")
        self._length = label("", "body", "quiet", elide=True)
        above, row = flow(parent=self)
        below, moves = flow(parent=self)
        for holder, line, buttons in (
                (above, row, (("season.through", "Play", self.play_through), ("season.add", "Add", self.add),
                              ("season.add_all", "Add all", self.add_all))),
                (below, moves, (("season.play_sequence", "Play through", self.play_sequence),
                                ("season.remove", "Take out", self.remove),
                                ("season.earlier", "Up", lambda: self.shift(-1)),
                                ("season.later", "Down", lambda: self.shift(1)),
                                ("season.empty", "Empty", self.empty)))):
            for id, text, act in buttons:
                line.addWidget(self._button(id, text, act, holder))
        self._column = in_column((self.picture, 3), self.shown_from, self.caption, self._count, (self.plays, 2), above,
                                 self._length, (self.sequence, 2), below, on=self, margins=(4, 0, 0, 0), spacing=4)
        self.plays.currentItemChanged.connect(self._on_play)
        self.sequence.currentRowChanged.connect(self._on_place)
        for each in (self.plays, self.sequence):
            each.itemDoubleClicked.connect(lambda item: self._run([item.data(_KEY)]))
        film.loaded.connect(self.refresh_film)
        film.failed.connect(self.caption.setText)

    def put_below(self, widget: QWidget) -> None:
        """Put a widget below the sequence."""
        self._column.addWidget(widget)

    def _list(self, name: str) -> QListWidget:
        made = QListWidget(self)
        made.setAccessibleName(name)
        made.setUniformItemSizes(True)
        made.setTextElideMode(Qt.TextElideMode.ElideRight)
        made.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        made.setMinimumHeight(70)
        return made

    def _button(self, id: str, text: str, act: Callable[[], object], parent: QWidget) -> KeyButton:
        return KeyButton(self._desk.keys, id, text, parent, act)

    # -- showing -------------------------------------------------------------------------------------------
    def show_plays(self, plays: pd.DataFrame, names: Mapping[Path, str], cell: str) -> None:
        """List the plays of a cell, given as facts; *names* are what the games are called."""
        self.through.stop()
        self._run_when_loaded = None
        filmed = int(plays["filmed"].sum())
        more = f", the first {_MOST} listed" if len(plays) > _MOST else ""
        self._count.setText(f"{cell}: {count(len(plays), 'play')}, {filmed} on film{more}")
        self._filling = True
        self.plays.clear()
        for row in plays.head(_MOST).itertuples():
            key = Path(row.game), int(row.play)
            self._titles[key] = told(row, names)
            self._put(self.plays, key, self._titles[key] + ("" if row.filmed else "  (not filmed)"))
        self._filling = False
        if self.plays.count():
            self.plays.setCurrentRow(0)
        self.wanted.emit([Path(game) for game in dict.fromkeys(plays.head(_MOST)["game"])])

    def show_reel(self, titles: Mapping[PlayKey, str]) -> None:
        """Show the sequence; *titles* name plays that are not listed above."""
        self._titles.update({key: title for key, title in titles.items() if key not in self._titles})
        self._show_sequence()

    def _put(self, into: QListWidget, key: PlayKey, text: str) -> None:
        item = QListWidgetItem(text)
        item.setData(_KEY, key)
        item.setToolTip(text)
        into.addItem(item)

    def _show_sequence(self) -> None:
        self._filling = True
        self.sequence.clear()
        for key in self.reel.plays:
            self._put(self.sequence, key, self._titles.get(key, f"{key[0].stem}  ·  a play"))
        self.sequence.setCurrentRow(self.reel.place)
        self._filling = False
        spans = [found for key in self.reel.plays if (found := self.film.spans(key))]
        long = sum((self.film.film.time_of(end) - self.film.film.time_of(start) for each in spans
                    for start, end in (each[:1] if self.shown_from.chosen.beside else each)), 0)
        games = len({path for path, _ in self.reel.plays})
        self._length.setText("Sequence: nothing yet" if not self.reel.plays else
                             f"Sequence: {count(len(self.reel.plays), 'play')} of {count(games, 'game')}"
                             + (f", {spoken_time(float(long))}" if len(spans) == len(self.reel.plays) else ""))
        self._desk.settings.setValue("season/sequence", self.reel.as_text())
        self.reel_changed.emit()

    def refresh_film(self) -> None:
        """The films that were wanted are here: show the play that is chosen, or play those that were to run."""
        self.shown_from.offer(self.film.joined.angle_names if self.film.joined is not None else [])
        self._show_sequence()
        if self._run_when_loaded is not None:
            keys, self._run_when_loaded = self._run_when_loaded, None
            self._run(keys)
        elif self.plays.currentItem() is not None:
            self._look_at(self.plays.currentItem().data(_KEY))

    def _show_from(self) -> None:
        """Show the plays from the angles that were chosen."""
        self.through.stop()
        self.film.show_from(self.shown_from.chosen.angles)
        self.refresh_film()

    # -- film ----------------------------------------------------------------------------------------------
    def _look_at(self, key: PlayKey) -> None:
        self.caption.setText(self._titles.get(key, ""))
        at = self.film.snap(key)
        if at is not None and self.isVisible():
            self.film.pause()
            self.film.seek(at)

    def _on_play(self, item: QListWidgetItem | None) -> None:
        if item is not None and not self._filling:
            self.through.stop()
            self._look_at(item.data(_KEY))

    def _on_place(self, place: int) -> None:
        if self._filling:
            return
        self.reel.choose(place)
        if 0 <= place < len(self.reel.plays) and not self.through.running:
            self._look_at(self.reel.plays[place])

    def _run(self, keys: list[PlayKey]) -> None:
        """Play these plays one after the other, as soon as their films are here."""
        spans = [(place, *span) for place, key in enumerate(keys)
                 for span in self.film.spans(key)[:1 if self.shown_from.chosen.beside else None]]
        if not spans:
            self._run_when_loaded = keys
            self.wanted.emit(list(dict.fromkeys(path for path, _ in keys)))
            return
        self._running = keys
        self.through.start(self.film, spans)

    def _on_reached(self, place: int) -> None:
        if place >= 0:
            self.caption.setText(self._titles.get(self._running[place], ""))

    def play_through(self) -> None:
        """Play the cell's plays from the chosen one on; again to stop."""
        row = max(self.plays.currentRow(), 0)
        self._run_or_stop([self.plays.item(each).data(_KEY) for each in range(row, self.plays.count())])

    def play_sequence(self) -> None:
        """Play the sequence through; again to stop."""
        self._run_or_stop(list(self.reel.plays))

    def _run_or_stop(self, keys: list[PlayKey]) -> None:
        if self.through.running:
            self.through.stop()
            self.film.pause()
        elif keys:
            self._run(keys)

    # -- the sequence --------------------------------------------------------------------------------------
    def add(self) -> None:
        """Put the chosen plays into the sequence."""
        chosen = sorted(self.plays.selectedIndexes(), key=lambda index: index.row())
        self._add([self.plays.item(index.row()).data(_KEY) for index in chosen])

    def add_all(self) -> None:
        """Put all plays of the cell into the sequence."""
        self._add([self.plays.item(row).data(_KEY) for row in range(self.plays.count())])

    def _add(self, keys: list[PlayKey]) -> None:
        self.reel.add(keys)
        self._show_sequence()

    def remove(self) -> None:
        """Take the chosen play out of the sequence."""
        self.reel.remove()
        self._show_sequence()

    def shift(self, by: int) -> None:
        """Move the chosen play within the sequence."""
        self.reel.move(by)
        self._show_sequence()

    def empty(self) -> None:
        """Take all plays out."""
        self.reel.clear()
        self._show_sequence()


def told(row, names: Mapping[Path, str]) -> str:
    """A play of facts in a line: its game and its number there, its situation and what it came to, and when."""
    game = names.get(Path(row.game), Path(row.game).stem)
    return "  ·  ".join(filter(None, (f"{game} {row.number}", _situation(row), row.quarter,
                                      row.date if row.date not in game else "")))


def _situation(row) -> str:
    if row.next != "scrimmage":
        return f"{row.kind}, {row.result}"
    distance = "goal" if row.goal_to_go else "inches" if row.yards_to_gain < 1 else f"{row.yards_to_gain:.0f}"
    return f"{ordinal(int(row.down))} & {distance}: {row.kind}, {row.result}"

"""The page without a game: the demo, opening footage, and the games opened last."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtWidgets import QFrame, QWidget

from .card_watch import CardWatch
from .keys import KeyButton
from .room import Desk
from .widgets import in_column, in_row, label, push_button, restyle, scrolled

_DEMO = ("An invented game, filmed the way a good trainee films: a few minutes the first time, with a way to stop. "
         "Nothing of yours is touched.")
_FOOTAGE = "A card, a folder or files of any camera. They are only read; the game file is made beside them."
_GAME = "A game file (.game) that was begun here or on another machine."


class Welcome(QWidget):
    """First start and every start without a game."""

    demo_wanted = Signal()
    footage_wanted = Signal()
    game_wanted = Signal()
    guide_wanted = Signal()
    copy_wanted = Signal(object)        # the card
    card_wanted = Signal(object)
    recent_wanted = Signal(Path)

    def __init__(self, desk: Desk):
        super().__init__()
        self.setObjectName("ground")
        self.setAccessibleName("Welcome")
        self._cards = in_column(spacing=8)
        self.card_frames: list[_CardFrame] = []
        self._watch = CardWatch(self)
        self._watch.found.connect(self.show_cards)
        row = in_row(spacing=14)
        self.demo = push_button("See the demo game", self.demo_wanted.emit, role="main")
        self.footage = KeyButton(desk.keys, "desk.footage", "Open footage…", act=self.footage_wanted.emit)
        self.game = KeyButton(desk.keys, "desk.open", "Open a game…", act=self.game_wanted.emit)
        for button, line in ((self.demo, _DEMO), (self.footage, _FOOTAGE), (self.game, _GAME)):
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            card = QFrame()
            card.setObjectName("card")
            in_column(button, label(line, ink="quiet", wrap=True), 1, on=card, margins=14)
            row.addWidget(card, 1)
        self.guide = KeyButton(desk.keys, "desk.guide", "The first ten minutes", act=self.guide_wanted.emit)
        below = in_row((label("Or drop a folder, camera files or a game file anywhere in this window. A card with "
                              "footage that is put in shows up here.", ink="quiet", wrap=True), 1), self.guide)
        self._recent_title = label("Games you had open", "lead")
        holder = QWidget()
        self._recent = in_column(on=holder, margins=0, spacing=4)
        self._recent_area = scrolled(holder)
        column = in_column(2, label("Every viewer should always know what is going on.", "title"), label(
            "Open a game's footage, tag its plays as you would call them, see at once what was not filmed, "
            "and hand on exact passages.", "lead", "quiet", wrap=True),
            self._cards, row, below, self._recent_title, (self._recent_area, 4), 2, spacing=14)
        column.insertSpacing(column.indexOf(self._recent_title), 10)
        in_row(1, (column, 3), 1, on=self)
        QWidget.setTabOrder(self.demo, self.footage)
        QWidget.setTabOrder(self.footage, self.game)
        QWidget.setTabOrder(self.game, self.guide)

    def showEvent(self, event) -> None:
        """Look for cards from now on."""
        super().showEvent(event)
        self._watch.start()

    def hideEvent(self, event) -> None:
        """Look for cards no more."""
        super().hideEvent(event)
        self._watch.stop()

    def show_cards(self, cards: list) -> None:
        """Offer these cards, in the place of those that were offered."""
        for frame in self.card_frames:
            frame.setParent(None)
            frame.deleteLater()
        self.card_frames = [_CardFrame(card, self.copy_wanted, self.card_wanted) for card in cards]
        for frame in self.card_frames:
            self._cards.addWidget(frame)
        restyle(self.demo, role="" if cards else "main")        # whoever put a card in came for that

    def show_filming(self, is_filming: bool) -> None:
        """Say on its button that the demo game is being filmed, or offer it again."""
        self.demo.setEnabled(not is_filming)
        self.demo.setText("The demo is being filmed…" if is_filming else "See the demo game")

    def show_recent(self, paths: list[Path]) -> None:
        """List the games opened last, newest first; those that are gone are named but cannot be pressed."""
        while self._recent.count():
            item = self._recent.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.deleteLater()
        self._recent_title.setVisible(bool(paths))
        self._recent_area.setVisible(bool(paths))
        for path in paths:
            there = path.exists()
            button = push_button(f"{path.stem}    {path.parent}" + ("" if there else "    (not there now)"),
                                 partial(self.recent_wanted.emit, path), f"Open {path.stem}", "row")
            button.setEnabled(there)
            self._recent.addWidget(button)
        self._recent.addStretch(1)


class _CardFrame(QFrame):
    """One card with footage, and what can be done with it."""

    def __init__(self, card, copy: SignalInstance, open_: SignalInstance):
        """*copy* and *open_* are sent with the card."""
        super().__init__()
        self.setObjectName("card")
        self.setAccessibleName(f"Card {card.name}")
        said = in_column(label(f"A card is in: {card.name}, {card.spoken}", "lead", wrap=True),
                         label("Copy it to this computer first: a card is soon wiped, and the game is kept beside the "
                               "film. The card is only read.", ink="quiet", wrap=True))
        self.copy = push_button("Copy and open…", partial(copy.emit, card),
                                f"Copy the footage of {card.name} and open it", "main", Qt.FocusPolicy.StrongFocus)
        self.open = push_button("Open it there", partial(open_.emit, card),
                                f"Open the footage on {card.name} where it is", focus=Qt.FocusPolicy.StrongFocus)
        in_row((said, 1), self.copy, self.open, on=self, margins=(14, 10, 14, 10))

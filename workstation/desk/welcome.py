"""The page without a game: the demo, opening footage, and the games opened last."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from .card_watch import CardWatch
from .keys import KeyButton
from .room import Desk
from .widgets import label, restyle

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

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self.setObjectName("ground")
        self.setAccessibleName("Welcome")
        column = QVBoxLayout()
        column.setSpacing(14)
        outer = QHBoxLayout(self)
        outer.addStretch(1)
        outer.addLayout(column, 3)
        outer.addStretch(1)
        column.addStretch(2)
        column.addWidget(label("Every viewer should always know what is going on.", "title"))
        column.addWidget(label(
            "Open a game's footage, tag its plays as you would call them, see at once what was not filmed, "
            "and hand on exact passages.", "lead", "quiet", wrap=True))
        self._cards = QVBoxLayout()
        self._cards.setSpacing(8)
        column.addLayout(self._cards)
        self.card_frames: list[_CardFrame] = []
        self._watch = CardWatch(self)
        self._watch.found.connect(self.show_cards)
        row = QHBoxLayout()
        row.setSpacing(14)
        self.demo = QPushButton("See the demo game")
        self.demo.setProperty("role", "main")
        self.demo.clicked.connect(self.demo_wanted)
        self.footage = KeyButton(desk.keys, "desk.footage", "Open footage…")
        self.footage.clicked.connect(self.footage_wanted)
        self.game = KeyButton(desk.keys, "desk.open", "Open a game…")
        self.game.clicked.connect(self.game_wanted)
        for button, line in ((self.demo, _DEMO), (self.footage, _FOOTAGE), (self.game, _GAME)):
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            card = QFrame()
            card.setObjectName("card")
            inside = QVBoxLayout(card)
            inside.setContentsMargins(14, 14, 14, 14)
            inside.addWidget(button)
            inside.addWidget(label(line, ink="quiet", wrap=True))
            inside.addStretch(1)
            row.addWidget(card, 1)
        column.addLayout(row)
        below = QHBoxLayout()
        below.addWidget(label("Or drop a folder, camera files or a game file anywhere in this window. A card with "
                              "footage that is put in shows up here.", ink="quiet", wrap=True), 1)
        self.guide = KeyButton(desk.keys, "desk.guide", "The first ten minutes")
        self.guide.clicked.connect(self.guide_wanted)
        below.addWidget(self.guide)
        column.addLayout(below)
        self._recent_title = label("Games you had open", "lead")
        column.addSpacing(10)
        column.addWidget(self._recent_title)
        holder = QWidget()
        self._recent = QVBoxLayout(holder)
        self._recent.setContentsMargins(0, 0, 0, 0)
        self._recent.setSpacing(4)
        area = QScrollArea()
        area.setWidget(holder)
        area.setWidgetResizable(True)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._recent_area = area
        column.addWidget(area, 4)
        column.addStretch(2)
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
        self.card_frames = [_CardFrame(card) for card in cards]
        for frame, card in zip(self.card_frames, cards, strict=True):
            frame.copy.clicked.connect(lambda _=False, card=card: self.copy_wanted.emit(card))
            frame.open.clicked.connect(lambda _=False, card=card: self.card_wanted.emit(card))
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
            button = QPushButton(f"{path.stem}    {path.parent}" + ("" if there else "    (not there now)"))
            button.setProperty("role", "row")
            button.setEnabled(there)
            button.setAccessibleName(f"Open {path.stem}")
            button.clicked.connect(lambda _=False, path=path: self.recent_wanted.emit(path))
            self._recent.addWidget(button)
        self._recent.addStretch(1)


class _CardFrame(QFrame):
    """One card with footage, and what can be done with it."""

    def __init__(self, card):
        super().__init__()
        self.setObjectName("card")
        self.setAccessibleName(f"Card {card.name}")
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 10, 14, 10)
        said = QVBoxLayout()
        said.addWidget(label(f"A card is in: {card.name}, {card.spoken}", "lead", wrap=True))
        said.addWidget(label("Copy it to this computer first: a card is soon wiped, and the game is kept beside the "
                             "film. The card is only read.", ink="quiet", wrap=True))
        row.addLayout(said, 1)
        self.copy = QPushButton("Copy and open…")
        self.copy.setAccessibleName(f"Copy the footage of {card.name} and open it")
        self.copy.setProperty("role", "main")
        self.open = QPushButton("Open it there")
        self.open.setAccessibleName(f"Open the footage on {card.name} where it is")
        for button in (self.copy, self.open):
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            row.addWidget(button)

"""From which angles the plays of a season are shown."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QWidget

from ...delivery.ways_to_show import WayToShow, ways_to_show

_FIRST: WayToShow[str] = WayToShow(())


class ShownFrom(QComboBox):
    """``changed`` is sent when the plays are to be shown from other angles. Hidden while no game has a further one."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None):
        super().__init__(parent)
        self.setAccessibleName("From which angles the plays are shown")
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(10)
        self.addItem("Each game's first angle", _FIRST)
        self.activated.connect(self._on_chosen)
        self.hide()

    @property
    def chosen(self) -> WayToShow[str]:
        """How the plays are shown, the angles by their names; none: each game's first one."""
        angles, beside, inset = self.currentData() or _FIRST
        return WayToShow(tuple(angles), beside, inset)

    def offer(self, names: Sequence[str]) -> None:
        """Offer the angles of these names, and two of them together; what was chosen stays if it is still there."""
        chosen = self.chosen
        ways: list[tuple[str, WayToShow[str]]] = [("Each game's first angle", _FIRST)]
        if len(names) > 1:
            ways += ways_to_show({name: name for name in names})
        self.clear()
        for words, way in ways:
            self.addItem(words, way)
        self.setCurrentIndex(max((at for at, (_, way) in enumerate(ways) if way == chosen), default=0))
        self.setVisible(len(names) > 1)
        if self.chosen != chosen:
            self._on_chosen()

    def choose_next(self) -> None:
        """Show from the next angles of the list."""
        if self.count() > 1:
            self.setCurrentIndex((self.currentIndex() + 1) % self.count())
            self._on_chosen()

    def _on_chosen(self, *_: object) -> None:
        self.setToolTip(self.currentText())
        self.changed.emit()

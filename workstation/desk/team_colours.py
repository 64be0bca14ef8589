"""The colours that a person gives teams, as their jerseys are on film; kept by the team's name, for all its games.

A colour never tells sides apart alone: the home team's plays lie above the visitors' on the timeline, lists name whose
ball it is, and the team with the ball has a ball beside its name.
"""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QColorDialog, QWidget

from ..tagging.model import Heading
from .room import Desk

SIDES = ("home", "visitors")


class TeamColours(QObject):
    """Asks for the colour of a team, keeps it in the settings, and lets the theme wear it."""

    def __init__(self, desk: Desk, window: QWidget):
        super().__init__(window)
        self._desk, self._window = desk, window

    def wear(self, heading: Heading) -> None:
        """Show the teams of a game in their colours, as far as they have any."""
        self._desk.theme.wear_teams(*(self._of(getattr(heading, side)) for side in SIDES))

    def _of(self, team: str) -> str:
        stored = str(self._desk.settings.value(self._key(team), ""))
        return stored if QColor(stored).isValid() else ""

    @staticmethod
    def _key(team: str) -> str:
        return "teams/" + team.casefold().replace("/", " ").replace("\\", " ")

    def choose(self, heading: Heading, side: str) -> None:
        """Ask for the colour of the ``home`` team or the ``visitors``."""
        team = getattr(heading, side)
        dialog = QColorDialog(self._desk.theme.colour(side), self._window)
        dialog.setWindowTitle(f"Colour of {team}")
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.colorSelected.connect(lambda colour: self.give(heading, side, colour.name()))
        dialog.open()

    def give(self, heading: Heading, side: str, colour: str) -> None:
        """Keep a colour (``#rrggbb``) for the team on that side, and wear it."""
        self._desk.settings.setValue(self._key(getattr(heading, side)), colour)
        self.wear(heading)

    def forget(self, heading: Heading) -> None:
        """Show the teams of this game in the look's own colours again."""
        for side in SIDES:
            self._desk.settings.remove(self._key(getattr(heading, side)))
        self.wear(heading)

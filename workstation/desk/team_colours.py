"""The colours that a person gives teams, as their jerseys are on film; kept by the team's name, for all its games.

A colour never tells sides apart alone: the home team's plays lie above the visitors' on the timeline, lists name whose
ball it is, and the team with the ball has a ball beside its name.
"""

from __future__ import annotations

from PySide6.QtCore import QObject, QSettings, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QColorDialog, QWidget

from ..tagging.model import Heading
from .room import Desk

SIDES = ("home", "visitors")


def colour_of(settings: QSettings, team: str) -> str:
    """The colour (``#rrggbb``) that a team was given, empty if none."""
    stored = str(settings.value(_key(team), ""))
    return stored if QColor(stored).isValid() else ""


def _key(team: str) -> str:
    return "teams/" + team.casefold().replace("/", " ").replace("\\", " ")


class TeamColours(QObject):
    """Asks for the colour of a team, keeps it in the settings, and lets the theme wear it."""

    def __init__(self, desk: Desk, window: QWidget):
        super().__init__(window)
        self._desk, self._window = desk, window

    def wear(self, heading: Heading) -> None:
        """Show the teams of a game in their colours, as far as they have any."""
        self._desk.theme.wear_teams(*(self._of(getattr(heading, side)) for side in SIDES))

    def _of(self, team: str) -> str:
        return colour_of(self._desk.settings, team)

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
        self._desk.settings.setValue(_key(getattr(heading, side)), colour)
        self.wear(heading)

    def forget(self, heading: Heading) -> None:
        """Show the teams of this game in the look's own colours again."""
        for side in SIDES:
            self._desk.settings.remove(_key(getattr(heading, side)))
        self.wear(heading)

"""Reads what was found in a film, and has a film looked through: suggestions that a person may take, never more."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from ..film.film import Film
from ..tagging.suggestions import FilmSuggestions
from .jobs import Job, Progress


class Suggestions(QObject):
    """Holds the suggestions for one film. ``changed`` is sent when there are others than before."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None):
        super().__init__(parent)
        self.found = FilmSuggestions()
        self._film = Film()

    def show_film(self, film: Film, profile: str) -> None:
        """Read in the background what was found in *film* before, as far as the crew profile wants it offered."""
        self._film, self.found = film, FilmSuggestions()
        if not film.sources:
            return

        def read(progress: Progress) -> FilmSuggestions:
            from ..coverage.profile import load_profile  # imported here: it loads the rules of coverage
            return FilmSuggestions.cached(film, load_profile(profile).suggestions.least_confidence)

        # A damaged cache costs the suggestions, not the game.
        Job("reading suggestions", read, lambda found: self.take(film, found), parent=self).start()

    def take(self, film: Film, found: FilmSuggestions) -> None:
        """*found* was found in *film*; nothing happens if another is on show by now."""
        if film == self._film:
            self.found = found
            self.changed.emit()

    def look_through(self, progress: Progress) -> None:
        """Look through the film; work for a :class:`~.jobs.Job`. What was found until a stop is kept."""
        from ..film.film_sound import measure_sound
        measure_sound(self._film, progress.report, progress.cancelled)

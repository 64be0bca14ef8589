"""What a look through the film suggests: shots and moments that a person may take, never more than that."""

from __future__ import annotations

from bisect import bisect_right
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from ..film.film import Film
from ..film.time import Instant
from ..tagging.layout import FilmLayout
from ..tagging.model import Game, MomentKind, Shot, ShotKind
from ..tagging.operations import AddMoment, AddShots
from .jobs import Job, Progress

if TYPE_CHECKING:
    from ..film.finding.survey import FoundShot, Suggestion

UNCERTAINTY = 0.7
"""Seconds either way that a suggested snap or whistle may be off (common practice, no source)."""


class Suggestions(QObject):
    """Holds the suggestions for one film. ``changed`` is sent when there are others than before."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None):
        super().__init__(parent)
        self._film = Film()
        self._moments: tuple[Suggestion, ...] = ()
        self._shots: tuple[FoundShot, ...] = ()

    def show_film(self, film: Film) -> None:
        """Read in the background what was found in *film* before."""
        self._film, self._moments, self._shots = film, (), ()
        if not film.sources:
            return

        def read(progress: Progress) -> tuple[tuple[FoundShot, ...], tuple[Suggestion, ...]]:
            from ..film import finding
            surveys = {source.id: found for source in film.sources
                       if not source.problem and (found := finding.cached_survey(source)) is not None}
            return (tuple(finding.found_shots(film, surveys)) if surveys else (),
                    tuple(suggestion for survey in surveys.values() for suggestion in survey.suggestions))

        # A damaged cache costs the suggestions, not the game.
        Job("reading suggestions", read, lambda found: self._take(film, *found), parent=self).start()

    def _take(self, film: Film, shots: tuple[FoundShot, ...], moments: tuple[Suggestion, ...]) -> None:
        if film == self._film:
            self._shots, self._moments = shots, moments
            self.changed.emit()

    def look_through(self, progress: Progress) -> None:
        """Look through the film; work for a :class:`~.jobs.Job`. What was found until a stop is kept."""
        from ..film.film_sound import measure_sound
        measure_sound(self._film, progress.report, progress.cancelled)

    def shots(self, game: Game) -> AddShots | None:
        """The found shots as an operation, if the game has none yet."""
        if game.shots or not self._shots:
            return None
        return AddShots(tuple(Shot(0, found.start, found.end, ShotKind(found.kind) if found.kind else None,
                                   confirmed=False) for found in self._shots))

    def unmarked(self, places: FilmLayout) -> list[tuple[float, MomentKind, Instant]]:
        """The suggested moments, in film order and with their film times, of kinds that nobody has marked in the same
        shot yet."""
        shots = list(places.shots.values())
        begins = [shot.start for shot in shots]

        def is_marked(kind: MomentKind, time: float) -> bool:
            within = bisect_right(begins, time) - 1
            return within >= 0 and time < shots[within].end and any(
                seen.kind is kind for seen in shots[within].moments)

        rows = [(places.time(suggestion.at), MomentKind(suggestion.kind.value), suggestion.at)
                for suggestion in self._moments if places.knows(suggestion.at)]
        return sorted((row for row in rows if not is_marked(row[1], row[0])), key=lambda row: row[0])

    def moment(self, game: Game, shot: Shot) -> AddMoment | None:
        """The first suggested moment in *shot* of a kind that nobody has marked there yet."""
        places = FilmLayout(game)
        filmed = places.shots.get(shot.id)
        return next((AddMoment(kind, at, uncertainty=UNCERTAINTY) for time, kind, at in self.unmarked(places)
                     if filmed and filmed.start <= time < filmed.end), None)

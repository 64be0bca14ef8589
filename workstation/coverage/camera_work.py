"""The measured work of the camera, laid beside the shots of a game."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from ..film.camera_work.measures import MEASURES, Measure
from ..film.camera_work.series import Series
from ..film.film import Film, Source
from ..film.time import Instant
from ..tagging.model import Game, Shot, ShotKind

if TYPE_CHECKING:       # SciPy is slow to import
    from ..film.camera_work.lens import Spot
    from ..film.camera_work.passage import Passage
    from ..film.camera_work.record import Record

_LINE = 0.5         # seconds to a value of a line
_FEW = 4            # fewest shots of a kind that are compared with each other


@dataclass(frozen=True, slots=True)
class SeenSpot:
    """A drop or smear, and between which instants it was seen."""

    spot: Spot
    start: Instant
    end: Instant


class MeasuredFilm:
    """What was measured of a film's sources. The measures of a shot are computed at first use and cached, because
    every check uses them again. Not thread-safe."""

    def __init__(self, film: Film, records: Mapping[str, Record]) -> None:
        self._film, self._records = film, records
        self._passages: dict[tuple[str, int, int], Passage] = {}
        self._thinned: dict[tuple[str, int, int], list[tuple[np.ndarray, np.ndarray]]] = {}

    @classmethod
    def of(cls, film: Film) -> MeasuredFilm | None:
        """What is cached of a film; None if none of it was measured. Reads files: not for the UI thread."""
        from ..film.camera_work.record import cached_record

        records = {source.id: record for source in film.sources
                   if not source.problem and (record := cached_record(source)) is not None}
        return cls(film, records) if records else None

    def passage(self, shot: Shot) -> Passage | None:
        """The measures of a shot, None where its source was not measured."""
        from ..film.camera_work.passage import Passage

        record = self._records.get(shot.start.source)
        if record is None or shot.end.source != shot.start.source or shot.end.pts <= shot.start.pts:
            return None
        key = (shot.start.source, shot.start.pts, shot.end.pts)
        if key not in self._passages:
            passage = Passage(self._film.source(shot.start.source), record, shot.start.pts, shot.end.pts,
                              usual_voice=self._usual_voice)
            if not passage.is_measured:
                return None
            self._passages[key] = passage
        return self._passages[key]

    def thinned(self, shot: Shot) -> list[tuple[np.ndarray, np.ndarray]]:
        """Each measure of a measured shot with a value for each half second, and a gap behind it."""
        key = (shot.start.source, shot.start.pts, shot.end.pts)
        if key not in self._thinned:
            passage = self._passages[key]
            self._thinned[key] = [_thinned(measure.series(passage), passage.end, measure.low_is_bad)
                                  for measure in MEASURES]
        return self._thinned[key]

    @cached_property
    def _usual_voice(self) -> float:
        from ..film.camera_work.sound import VOICE

        levels = [record.sound[:, VOICE] for record in self._records.values() if len(record.sound)]
        return float(np.median(np.concatenate(levels))) if levels else 0.0

    @cached_property
    def spots(self) -> Sequence[SeenSpot]:
        """Drops and smears over the whole film; a drop stays from one file to the next."""
        found: list[SeenSpot] = []
        group: list[tuple[Source, Record]] = []
        for source in self._film.sources:
            record = self._records.get(source.id)
            if record is None or not len(record.lens_pts):
                continue
            if group and group[-1][1].pictures.shape[1:] != record.pictures.shape[1:]:
                found += _spots(group)
                group = []
            group.append((source, record))
        return [*found, *_spots(group)]


def _spots(group: list[tuple[Source, Record]]) -> list[SeenSpot]:
    if not group:
        return []
    from ..film.camera_work.lens import spots

    places = [Instant(source.id, int(pts)) for source, record in group for pts in record.lens_pts]
    seen = spots(*(np.concatenate([getattr(record, name) for _, record in group])
                   for name in ("pictures", "moved", "details")))
    return [SeenSpot(spot, places[spot.start], places[spot.end]) for spot in seen]


@dataclass(frozen=True, slots=True, eq=False)
class MeasuredLine:
    """A measure over the film: the worst value of each half second, at film times in seconds; gaps between shots."""

    measure: Measure
    times: np.ndarray
    values: np.ndarray


def _thinned(series: Series, end: float, low_is_bad: bool) -> tuple[np.ndarray, np.ndarray]:
    known = np.isfinite(series.values)
    times, values = series.times[known], series.values[known]
    if not len(times):
        return np.array([end]), np.array([np.nan])
    bins = np.floor(times / _LINE).astype(int)
    first = np.flatnonzero(np.diff(bins, prepend=bins[0] - 1))
    worst = (np.minimum if low_is_bad else np.maximum).reduceat(values, first)
    return np.append(np.clip((bins[first] + 0.5) * _LINE, times[0], end), end), np.append(worst, np.nan)


@dataclass(frozen=True, slots=True)
class MeasuredRow:
    """A measure over a game's shots: the median of the shots' typical values, the worst shot's worst, and which shot
    that is. Values are as :class:`Measure` has them."""

    measure: Measure
    typical: float | None
    worst: float | None
    worst_shot: int | None


class CameraWork:
    """The measures of a game's shots. ``passages`` go by shot id; shots that were not measured are missing."""

    def __init__(self, game: Game, measured: MeasuredFilm) -> None:
        self._game, self.measured = game, measured
        self.passages: dict[int, Passage] = {shot.id: passage for shot in game.shots
                                             if (passage := measured.passage(shot)) is not None}

    @cached_property
    def lines(self) -> tuple[MeasuredLine, ...]:
        """Every measure over the film."""
        film = self._game.film
        parts = [(float(film.starts_at(shot.start.source)), self.measured.thinned(shot))
                 for shot in self._game.shots if shot.id in self.passages]
        return tuple(MeasuredLine(measure, np.concatenate([begins + each[row][0] for begins, each in parts]),
                                  np.concatenate([each[row][1] for _, each in parts]))
                     for row, measure in enumerate(MEASURES) if parts)

    @cached_property
    def worst(self) -> dict[str, dict[int, float]]:
        """By the name of each measure, the worst of every shot of which it says anything."""
        return {measure.name: {shot: value for shot, passage in self.passages.items()
                               if (value := measure.worst(passage)) is not None} for measure in MEASURES}

    @cached_property
    def rows(self) -> tuple[MeasuredRow, ...]:
        """Every measure over the game, without measures that have no value."""
        rows = []
        for measure in MEASURES:
            if worst := self.worst[measure.name]:
                typical = [value for passage in self.passages.values()
                           if (value := measure.typical(passage)) is not None]
                shot = (min if measure.low_is_bad else max)(worst, key=lambda each: worst[each])
                rows.append(MeasuredRow(measure, float(np.median(typical)) if typical else None, worst[shot], shot))
        return tuple(rows)

    def prepare(self) -> None:
        """Make the lines and rows now, off the UI thread."""
        assert self.lines is not None and self.rows is not None

    @property
    def missing(self) -> int:
        """The number of shots that were not measured."""
        return len(self._game.shots) - len(self.passages)

    @cached_property
    def _sharpest_of_kind(self) -> dict[ShotKind | None, np.ndarray]:
        """By kind of shot, the spectrum that the sharper half of its shots agree on."""
        from ..film.camera_work.focus import blur_between

        found = {}
        for kind in {shot.kind for shot in self._game.shots}:
            known = [sharp for shot in self._game.shots if shot.kind is kind and shot.id in self.passages
                     and (sharp := self.passages[shot.id].sharpest) is not None]
            if len(known) < _FEW:
                continue
            usual = np.median(known, axis=0)
            blurs = np.array([blur_between(usual, one) for one in known])
            found[kind] = np.mean(np.array(known)[blurs <= np.median(blurs)], axis=0)
        return found

    def soft_all_along(self, shot: Shot) -> float | None:
        """How much softer a shot is at its best than the sharper half of the game's shots of its kind, in
        thousandths of the picture's width; None where there are too few shots of that kind."""
        from ..film.camera_work.focus import blur_between

        passage, sharp = self.passages.get(shot.id), self._sharpest_of_kind.get(shot.kind)
        if passage is None or sharp is None or passage.sharpest is None:
            return None
        square = blur_between(sharp, passage.sharpest)
        return float(np.sqrt(max(square, 0.0))) / passage.thousandth

    @cached_property
    def usual_lean(self) -> float:
        """How far upright things are tilted in a usual shot, in degrees: the median of the shots that tell; 0 where too
        few do."""
        known = [lean for passage in self.passages.values() if (lean := passage.lean.typical()) is not None]
        return float(np.median(known)) if len(known) >= _FEW else 0.0

    def spots_in(self, shot: Shot) -> list[SeenSpot]:
        """Drops and smears that were seen while a shot was filmed."""
        order = {source.id: place for place, source in enumerate(self._game.film.sources)}
        first, last = (order[shot.start.source], shot.start.pts), (order[shot.end.source], shot.end.pts)
        return [seen for seen in self.measured.spots
                if (order[seen.start.source], seen.start.pts) <= last
                and (order[seen.end.source], seen.end.pts) >= first]


def unmeasured_line(work: CameraWork | None, shots: int) -> str:
    """A line about shots whose camera work was not measured; empty if all were."""
    if not shots:
        return ""
    if work is None:
        return "The camera work was not measured, and nothing is said about it."
    if work.missing:
        return (f"The camera work of {work.missing} of {shots} shots was not measured, and nothing is said about "
                f"{'it' if work.missing == 1 else 'them'}.")
    return ""


def camera_work_of(game: Game) -> CameraWork | None:
    """The cached measures of a game, None if nothing was measured. Reads files: not for the UI thread."""
    measured = MeasuredFilm.of(game.film)
    return CameraWork(game, measured) if measured is not None else None

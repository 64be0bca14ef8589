"""The work of the camera over a game in plain words: one row for each thing a crew can work on, with a value a shot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..film.time import spoken_time
from ..tagging.layout import layout_of
from ..tagging.model import Game
from .coverage import Coverage


@dataclass(frozen=True, slots=True)
class ShotMeasure:
    """The worst of a shot in one measure, as it is shown (negated where low is bad, so that more is always worse),
    and whether the rule about it found fault with the shot. Times are film seconds."""

    shot: int
    start: float
    end: float
    worst: float
    is_faulty: bool


@dataclass(frozen=True, slots=True)
class CameraRow:
    """``title`` is what a crew works on, ``meaning`` what the number is, ``rule`` the name of the practice that judges
    it. ``usual`` and ``worst`` are said with their unit, ``at`` is the film time of the worst shot."""

    title: str
    meaning: str
    rule: str
    usual: str
    worst: str
    at: str
    shots: tuple[ShotMeasure, ...]

    @property
    def faulty(self) -> int:
        """In how many shots the rule found fault."""
        return sum(shot.is_faulty for shot in self.shots)


# title, meaning, measure, rule
_ROWS = (
    ("Steady", "how far the picture shakes, beyond what a pan or zoom explains", "shake", "steady"),
    ("Level", "how far the picture leans from the way this camera usually stands", "roll", "level"),
    ("Upright", "how far upright things lean, all through a shot", "lean of the shot", "level"),
    ("In focus", "how wide an edge is smeared, beyond this game's sharpest shots", "softness", "in focus"),
    ("Not too bright", "the share of the picture that is nothing but white", "burnt out", "well exposed"),
    ("Not too dark", "the share of the picture that is nothing but black", "black", "well exposed"),
    ("Action in the frame", "the room left between what moves and the edge, where it is least",
     "room around the action", "action in the frame"),
    ("Even zoom", "how fast the picture grows or shrinks", "zoom", "even pull-out"),
    ("Calm pan", "how far the pan goes back on its way within three seconds", "pan to and fro", "pan hunting"),
    ("Sound", "the share of the sound that is cut off, because it was too loud", "sound cut off", "clean sound"),
    ("Wind", "how loud the wind is beside the rest", "wind", "clean sound"),
)
_LENS = "clean lens"


def camera_rows(game: Game, coverage: Coverage) -> tuple[CameraRow, ...]:
    """The rows of a game that was measured, those that say nothing left out; none if it was not."""
    work = coverage.camera_work
    if work is None or not work.passages:
        return ()
    filmed = layout_of(game).shots
    faulty = {(finding.rule, finding.shot) for finding in coverage.findings if not finding.waived}

    def measured(rule: str, worst: Mapping[int, float], scale: float = 1.0) -> tuple[ShotMeasure, ...]:
        return tuple(ShotMeasure(shot, filmed[shot].start, filmed[shot].end, value * scale, (rule, shot) in faulty)
                     for shot, value in worst.items() if shot in filmed)

    def begins(shot: int | None) -> str:
        return spoken_time(filmed[shot].start) if shot in filmed else ""

    known = {row.measure.name: row for row in work.rows}
    rows = []
    for title, meaning, name, rule in _ROWS:
        if (row := known.get(name)) is not None:
            measure = row.measure
            rows.append(CameraRow(
                title, meaning, rule, measure.said(row.typical), measure.said(row.worst),
                begins(row.worst_shot) if row.worst else "",
                measured(rule, work.worst[name], -measure.scale if measure.low_is_bad else measure.scale)))
    spots = {shot.id: float(len(work.spots_in(shot))) for shot in game.shots if shot.id in work.passages}
    shots = measured(_LENS, spots)
    worst = max(shots, key=lambda each: each.worst, default=None)
    spotted = worst if worst is not None and worst.worst > 0 else None
    return (*rows, CameraRow("Clean lens", "drops and smears that stay while the camera moves", _LENS, "",
                             f"{spotted.worst:.0f}" if spotted else "none", begins(spotted.shot) if spotted else "",
                             shots))


COLUMNS = ("", "what the number is", "usual", "worst", "worst at", "shots with a finding")


def camera_cells(rows: Sequence[CameraRow]) -> list[tuple[str, ...]]:
    """The rows as cells below :data:`COLUMNS`."""
    return [(row.title, row.meaning, row.usual, row.worst, row.at, str(row.faulty or "")) for row in rows]

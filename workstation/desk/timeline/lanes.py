"""What the timeline shows, prepared once per change as arrays in film order.

Drawing then only slices: what is visible is found by bisection, never by looping over the game.
"""

from __future__ import annotations

from collections.abc import Sequence as Seq
from dataclasses import dataclass, field

import numpy as np

from ...coverage.finding import Coverage
from ...film.time import Instant
from ...delivery.segment import field_length
from ...football.field import Team, spoken_spot
from ...football.step import Certainty, Step
from ...football.speaking import spoken_down, spoken_period
from ...tagging.layout import Places
from ...tagging.model import Game, MomentKind, Shot, ShotKind, Verdict
from .scale import spoken_time

MOMENTS = tuple(MomentKind)
SHOT_KINDS = (None, *ShotKind)


@dataclass(frozen=True, eq=False)
class Blocks:
    """Spans on one lane, ordered by start. ``look`` selects how each is drawn, ``flag`` marks a second state."""

    start: np.ndarray
    end: np.ndarray
    ids: tuple = ()
    look: np.ndarray = field(default_factory=lambda: np.zeros(0, np.int16))
    flag: np.ndarray = field(default_factory=lambda: np.zeros(0, bool))
    short: tuple[str, ...] = ()     # what is written where there is little room
    long: tuple[str, ...] = ()      # what is written where there is room
    told: tuple[str, ...] = ()      # what hovering tells
    reach: np.ndarray = field(init=False)   # running maximum of ``end``, so that overlaps are found by bisection

    def __post_init__(self):
        object.__setattr__(self, "reach", np.maximum.accumulate(self.end) if len(self.end) else self.end)

    def __len__(self) -> int:
        return len(self.start)

    def visible(self, start: float, end: float) -> slice:
        """The slice of blocks that may touch the stretch from ``start`` to ``end``."""
        return slice(int(np.searchsorted(self.reach, start, "left")), int(np.searchsorted(self.start, end, "right")))

    def index(self, item: object) -> int | None:
        return self.ids.index(item) if item in self.ids else None

    def at(self, time: float, slack: float = 0.0) -> int | None:
        """Index of the block at ``time``: the shortest that holds it, else the nearest within ``slack`` seconds."""
        seen = self.visible(time - slack, time + slack)
        best, best_cost = None, (1, 0.0)
        for i in range(seen.start, seen.stop):
            if self.start[i] <= time < self.end[i]:
                cost = (0, float(self.end[i] - self.start[i]))
            else:
                cost = (1, float(min(abs(self.start[i] - time), abs(self.end[i] - time))))
                if cost[1] > slack:
                    continue
            if best is None or cost < best_cost:
                best, best_cost = i, cost
        return best


def blocks(rows: list[tuple]) -> Blocks:
    """Rows of (start, end, id, look, flag, short, long, told), in any order."""
    rows = sorted(rows, key=lambda row: (row[0], row[1]))
    columns = list(zip(*rows, strict=True)) if rows else [()] * 8
    return Blocks(np.array(columns[0], float), np.array(columns[1], float), tuple(columns[2]),
                  np.array(columns[3], np.int16), np.array(columns[4], bool),
                  tuple(columns[5]), tuple(columns[6]), tuple(columns[7]))


SILENCE = -80.0     # decibels; quieter is no sound at all


@dataclass(frozen=True, eq=False)
class Sound:
    """Loudness over film time (decibels relative to full scale, evenly spaced) and suggested whistles."""

    every: float                    # seconds between two levels
    levels: np.ndarray
    whistles: np.ndarray            # film times in seconds
    silent: bool = field(init=False)

    def __post_init__(self):
        object.__setattr__(self, "silent", not bool((self.levels > SILENCE).any()))


SEVERITIES = ("error", "warning", "note")
OPEN, AGREED, WAIVED = range(3)


@dataclass(frozen=True, eq=False)
class Lanes:
    duration: float
    shots: Blocks
    plays: Blocks
    findings: Blocks                # look: 3 * severity + decision
    notes: Blocks
    moments: Blocks                 # flag: only suggested
    sources: np.ndarray             # film time of every source's first picture
    sure_at: np.ndarray             # film times of snaps ...
    sure: np.ndarray                # ... and the viewer's belief in the actual down there, 0 to 1
    periods: tuple[tuple[float, str], ...] = ()
    dark: tuple[tuple[float, float], ...] = ()      # stretches of film whose files cannot be shown
    found: Blocks = field(default_factory=lambda: blocks([]))       # shots that nobody has taken yet

    @classmethod
    def empty(cls) -> Lanes:
        nothing = blocks([])
        return cls(0.0, nothing, nothing, nothing, nothing, nothing, np.zeros(0), np.zeros(0), np.zeros(0))

    @classmethod
    def of(cls, game: Game, steps: Seq[Step], coverage: Coverage | None, places: Places | None = None, *,
           found: Seq[Shot] = (), suggested: Seq[tuple[float, MomentKind, Instant]] = ()) -> Lanes:
        """``found`` and ``suggested`` (with film times) are what nobody has taken or marked yet."""
        places = places or Places(game)
        sure_at, sure = _certainty(coverage, places)
        return cls(
            duration=places.duration,
            shots=_shots(game, places),
            plays=_plays(game, steps, places),
            findings=_findings(game, coverage, places),
            notes=_notes(game, places),
            moments=_moments(suggested, places),
            sources=np.array([float(game.film.starts_at(source.id)) for source in game.film.sources]),
            sure_at=sure_at, sure=sure,
            periods=_periods(game, steps, places),
            dark=tuple((float(game.film.starts_at(source.id)), float(game.film.starts_at(source.id) + source.duration))
                       for source in game.film.sources if source.problem),
            found=_found(found, places))


def _moments(suggested: Seq[tuple[float, MomentKind, Instant]], places: Places) -> Blocks:
    rows = [(time, time, moment.id, MOMENTS.index(moment.kind), False, moment.kind.value, moment.kind.value,
             f"{moment.kind.value.capitalize()} at {spoken_time(time, True)}")
            for time, moment in places.moments_between(-1.0, places.duration + 1)]
    rows += [(time, time, None, MOMENTS.index(kind), True, f"{kind.value}?", f"{kind.value}?",
              f"Suggested: {kind.value} at {spoken_time(time, True)}") for time, kind, _ in suggested]
    return blocks(rows)


def _found(shots: Seq[Shot], places: Places) -> Blocks:
    rows = []
    for shot in shots:
        if places.knows(shot.start):
            start, end, kind = places.time(shot.start), places.time(shot.end), shot.kind.value if shot.kind else "shot"
            rows.append((start, end, None, SHOT_KINDS.index(shot.kind), False, "?", f"{kind}?",
                         f"Found, not taken: {kind}, {end - start:.1f} s"))
    return blocks(rows)


def _shots(game: Game, places: Places) -> Blocks:
    rows = []
    for shot in game.shots:
        if shot.id not in places.shots:
            continue
        start, end = places.shots[shot.id]
        kind = shot.kind.value if shot.kind else "not named"
        full = f"{shot.opens_on.value}, then {kind}" if shot.opens_on else kind
        told = f"Shot {shot.id}: {full}\n{spoken_time(start, True)} to {spoken_time(end, True)}, {end - start:.1f} s"
        if not shot.confirmed:
            told += "\nfound by the shot finder, not confirmed yet"
        problem = game.film.source(shot.start.source).problem
        told += f"\n{problem}" if problem else ""
        rows.append((start, end, shot.id, SHOT_KINDS.index(shot.kind), not shot.confirmed, kind, full, told))
    return blocks(rows)


HOME, VISITORS, NEITHER = range(3)


def _plays(game: Game, steps: Seq[Step], places: Places) -> Blocks:
    rows = []
    last_end = 0.0
    names = {Team.HOME: game.heading.home, Team.VISITORS: game.heading.visitors}
    length = field_length(game)
    for tag, step in zip(game.plays, steps, strict=False):
        place = places.plays.get(tag.id)
        start, end = place.action if place else (last_end, last_end)
        last_end = place.end if place else last_end
        before = step.before
        look = {Team.HOME: HOME, Team.VISITORS: VISITORS}.get(before.offense, NEITHER)
        down = spoken_down(before) if before.down is not None else ""
        kind = tag.play.kind.value
        parts = [down or kind]
        if before.ball_on is not None and down:
            parts.append(spoken_spot(before.ball_on, length))
        if down:
            parts.append(kind)
        if step.result:
            parts.append(step.result)
        told = " · ".join(([names[before.offense]] if before.offense is not None else []) + parts)
        told += f"\n{step.explanation}" if step.explanation else ""
        told += "" if place else "\nnot filmed"
        told += "".join(f"\n{problem}" for problem in step.problems)
        troubled = bool(step.problems) or step.certainty is Certainty.CONTRADICTED
        rows.append((start, end, tag.id, look + (0 if place else 3), troubled, down or kind, " · ".join(parts), told))
    return blocks(rows)


def _findings(game: Game, coverage: Coverage | None, places: Places) -> Blocks:
    decisions = {decision.finding: decision for decision in game.decisions}
    rows = []
    for finding in coverage.findings if coverage else ():
        if not places.knows(finding.at):
            continue
        start = places.time(finding.at)
        end = places.time(finding.until) if finding.until and places.knows(finding.until) else start
        decision = decisions.get(finding.key)
        verdict = decision.verdict if decision else None
        state = {Verdict.AGREED: AGREED, Verdict.WAIVED: WAIVED}.get(verdict, OPEN)
        severity = SEVERITIES.index(finding.severity)
        words = ("open", "agreed", "waived")[state]
        told = f"{finding.title} ({finding.severity}, {words})\n{finding.why}"
        rows.append((start, max(start, end), finding.key, 3 * severity + state, state == WAIVED,
                     finding.expected, finding.title, told))
    return blocks(rows)


def _notes(game: Game, places: Places) -> Blocks:
    rows = []
    for note in game.notes:
        if not places.knows(note.at):
            continue
        start = places.time(note.at)
        end = places.time(note.until) if note.until and places.knows(note.until) else start
        rows.append((start, end, ("note", note.id), 0, False, note.text, note.text,
                     f"Note at {spoken_time(start)}\n{note.text}"))
    for drawing in game.drawings:
        if not places.knows(drawing.at):
            continue
        start = places.time(drawing.at)
        end = places.time(drawing.until) if drawing.until and places.knows(drawing.until) else start
        text = drawing.text or drawing.kind.value
        rows.append((start, end, ("drawing", drawing.id), 1, False, text, text,
                     f"Drawing at {spoken_time(start)}\n{text}"))
    return blocks(rows)


def _certainty(coverage: Coverage | None, places: Places) -> tuple[np.ndarray, np.ndarray]:
    pairs = sorted((places.time(belief.at), belief.sure) for belief in (coverage.beliefs if coverage else ())
                   if belief.at is not None and places.knows(belief.at))
    return np.array([time for time, _ in pairs]), np.array([sure for _, sure in pairs])


def _periods(game: Game, steps: Seq[Step], places: Places) -> tuple[tuple[float, str], ...]:
    found, current = [], None
    for tag, step in zip(game.plays, steps, strict=False):
        place = places.plays.get(tag.id)
        if place and step.before.period != current:
            current = step.before.period
            found.append((place.start, spoken_period(current)))
    return tuple(found)

"""Two crews that filmed the same game, play by play: what each of them showed.

Made for a trainee beside a mentor: two angles of one place, each judged by its own profile.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ..tagging.angles import seen_from
from ..tagging.layout import FilmLayout, layout_of
from ..tagging.model import Game
from .checker import check_game
from .coverage import Coverage
from .finding import Direction

SUBJECTS: Mapping[str, frozenset[str]] = {
    "marker": frozenset({"marker shot expected", "marker before every play", "marker shot not needed",
                         "pull-out opportunity"}),
    "board": frozenset({"scoreboard expected", "final scoreboard expected", "board too often"}),
    "signal": frozenset({"penalty signal expected", "measurement"}),
    "ready": frozenset({"ready before the snap", "not all in frame", "framed too close", "snap not on film",
                        "zoom not settled"}),
    "hold": frozenset({"longer hold expected", "cut while live"}),
}
"""What is compared, and the rules that speak of it."""


@dataclass(frozen=True, slots=True)
class Showing:
    """What one crew did about one subject at one play, in a word or two, and whether that was as expected; None
    where nothing was expected of it or it cannot be judged yet."""

    said: str = ""
    well: bool | None = None


@dataclass(frozen=True, slots=True)
class CrewRow:
    """One play: what each of the two crews showed, by subject; ``others`` counts each one's further findings there,
    ``holds`` are seconds from the dead ball to the end of its shot."""

    play: int
    showings: Mapping[str, tuple[Showing, Showing]]
    others: tuple[int, int]
    holds: tuple[float | None, float | None]

    @property
    def differs(self) -> bool:
        """Whether one crew did something well that the other did not."""
        return any({one.well, other.well} == {True, False} for one, other in self.showings.values())


@dataclass(frozen=True, slots=True)
class CrewTable:
    """``tallies`` count, by subject, how often each crew did well of what was expected of it."""

    angles: tuple[int, int]
    rows: tuple[CrewRow, ...]
    tallies: Mapping[str, tuple[tuple[int, int], tuple[int, int]]]


def compare_crews(game: Game, one: int, other: int) -> CrewTable:
    """Compare what two angles of *game* showed. Raises KeyError without such an angle, and what checking raises."""
    seen = [seen_from(game, number) for number in (one, other)]
    covered = [check_game(each).coverage for each in seen]
    layouts = [layout_of(each) for each in seen]
    rows = tuple(_row(tag.id, covered, layouts) for tag in game.plays
                 if any(tag.id in layout.plays for layout in layouts))
    tallies = {subject: tuple((sum(row.showings[subject][side].well is True for row in rows),
                               sum(row.showings[subject][side].well is not None for row in rows)) for side in (0, 1))
               for subject in SUBJECTS}
    return CrewTable((one, other), rows, tallies)       # type: ignore[arg-type]  # two sides each


def _row(play: int, covered: Sequence[Coverage], layouts: Sequence[FilmLayout]) -> CrewRow:
    filmed = [layout.plays.get(play) for layout in layouts]
    known = frozenset().union(*SUBJECTS.values())
    return CrewRow(
        play,
        {subject: (_showing(play, rules, covered[0], filmed[0] is not None),
                   _showing(play, rules, covered[1], filmed[1] is not None)) for subject, rules in SUBJECTS.items()},
        (_others(play, known, covered[0]), _others(play, known, covered[1])),
        tuple(None if each is None or each.dead_ball is None else each.end - each.dead_ball.time
              for each in filmed))      # type: ignore[arg-type]  # two sides


def _others(play: int, known: frozenset[str], coverage: Coverage) -> int:
    return sum(finding.play == play and finding.rule not in known and not finding.waived
               for finding in coverage.findings)


def _showing(play: int, rules: frozenset[str], coverage: Coverage, is_filmed: bool) -> Showing:
    found = [finding for finding in coverage.findings
             if finding.play == play and finding.rule in rules and not finding.waived]
    if any(finding.direction is Direction.MISSED for finding in found):
        return Showing("missing", False)
    if found:
        return Showing("too much", False)
    if any(each.play == play and each.rule in rules for each in coverage.delivered):
        return Showing("shown", True)
    if not is_filmed:
        return Showing("not filmed", None)
    if any(each.play == play and each.rule in rules for each in coverage.not_judged):
        return Showing("not judged", None)
    return Showing()

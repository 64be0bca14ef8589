"""The mentor's summary of one game: what was expected and delivered, and what would help most."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from .coverage import Coverage
from .finding import Direction, Finding

HABITS = 3
"""How many habits a trainee can work on at a time (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Tally:
    """How often something was expected, and what came of it. Waived findings count neither way."""

    delivered: int = 0
    missed: int = 0
    overdone: int = 0
    waived: int = 0

    @property
    def expected(self) -> int:
        return self.delivered + self.missed

    @property
    def share(self) -> float | None:
        """Delivered of expected; None where nothing was expected."""
        return self.delivered / self.expected if self.expected else None

    def __add__(self, other: Tally) -> Tally:
        return Tally(self.delivered + other.delivered, self.missed + other.missed,
                     self.overdone + other.overdone, self.waived + other.waived)


@dataclass(frozen=True, slots=True)
class Habit:
    """A habit that would have prevented findings; ``example`` is the one that shows it most clearly."""

    advice: str
    findings: int
    weight: float
    example: Finding


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the summary's table; ``period`` None is the whole game."""

    rule: str
    period: int | None
    tally: Tally


@dataclass(frozen=True)
class Summary:
    """``by_rule`` holds a tally per rule and period, rules in the profile's order, only those with
    something to say. ``snaps`` are filmed scrimmage downs whose surroundings are tagged,
    ``snaps_known`` those at which a viewer knew the down. ``surplus`` is seconds of film that
    could go, by rule. ``waiting`` says what could not be judged yet."""

    by_rule: Mapping[str, Mapping[int, Tally]]
    snaps: int
    snaps_known: int
    surplus: Mapping[str, float]
    film_seconds: float
    habits: tuple[Habit, ...]
    waiting: tuple[str, ...]

    @property
    def share_known(self) -> float | None:
        """Share of snaps at which a viewer knew the down; None before the first."""
        return self.snaps_known / self.snaps if self.snaps else None

    @property
    def surplus_seconds(self) -> float:
        return sum(self.surplus.values())

    def tally(self, rule: str | None = None, period: int | None = None) -> Tally:
        """The tally of a rule (None: of all) in a period (None: in the whole game)."""
        return sum((tally for name, periods in self.by_rule.items() if rule in (None, name)
                    for number, tally in periods.items() if period in (None, number)), Tally())

    def rows(self) -> list[Row]:
        """The table: for each rule the whole game, then its periods; last, all rules together."""
        numbers = sorted({period for periods in self.by_rule.values() for period in periods})
        rows = []
        for rule, periods in self.by_rule.items():
            rows.append(Row(rule, None, self.tally(rule)))
            rows += [Row(rule, period, periods[period]) for period in numbers if period in periods]
        rows.append(Row("all", None, self.tally()))
        rows += [Row("all", period, self.tally(period=period)) for period in numbers]
        return rows


def summarise(coverage: Coverage) -> Summary:
    """Sum up what the checker said; findings that a person waived are left out of everything but ``waived``."""
    counts: dict[str, dict[int, Tally]] = {rule.name: defaultdict(Tally) for rule in coverage.profile.rules}
    surplus: dict[str, float] = defaultdict(float)
    for met in coverage.delivered:
        counts[met.rule][met.period] += Tally(delivered=1)
    for finding in coverage.findings:
        if finding.waived:
            tally = Tally(waived=1)
        else:
            tally = Tally(missed=1) if finding.direction is Direction.MISSED else Tally(overdone=1)
            if finding.seconds:
                surplus[finding.rule] += finding.seconds
        counts[finding.rule][finding.period] += tally
    judged = [belief for belief in coverage.beliefs if belief.down is not None and belief.known]
    known = sum(belief.sure >= coverage.profile.viewer.unsure_below for belief in judged)
    return Summary({rule: dict(sorted(periods.items())) for rule, periods in counts.items() if periods},
                   len(judged), known, dict(surplus), coverage.film_seconds, _habits(coverage), coverage.waiting)


def _habits(coverage: Coverage) -> tuple[Habit, ...]:
    """The habits that would have prevented most, weighed by what a viewer loses."""
    weights = coverage.profile.weights
    by_advice: dict[str, list[Finding]] = defaultdict(list)
    for finding in coverage.findings:
        if not finding.waived:
            by_advice[finding.habit].append(finding)
    habits = [Habit(advice, len(found), sum(weights[each.severity] for each in found),
                    max(found, key=lambda each: (weights[each.severity], each.strength)))
              for advice, found in by_advice.items()]
    return tuple(sorted(habits, key=lambda habit: (-habit.weight, habit.example.time))[:HABITS])

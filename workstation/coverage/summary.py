"""The mentor's summary of one game: what was expected and delivered, and what would help most."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from .camera_work import MeasuredRow, unmeasured_line
from .coverage import Coverage
from .finding import Direction, Finding, Severity
from .remarks import PlacedRemark, RemarkCount, counted

HABITS = 3
"""How many habits a trainee can work on at a time (common practice, no source)."""


COLUMNS = ("delivered", "missed", "too much", "waived", "not judged")
"""What a tally counts, as every table calls it."""


@dataclass(frozen=True, slots=True)
class Tally:
    """How often something was expected, and what came of it; what was waived or not judged counts neither way."""

    delivered: int = 0
    missed: int = 0
    overdone: int = 0
    waived: int = 0
    not_judged: int = 0

    @property
    def expected(self) -> int:
        """How often the film had to deliver, met or not."""
        return self.delivered + self.missed

    @property
    def share(self) -> float | None:
        """Delivered of expected; None where nothing was expected."""
        return self.delivered / self.expected if self.expected else None

    def figures(self) -> tuple[str, ...]:
        """The cells below :data:`COLUMNS`; empty where nothing was counted."""
        return (f"{self.delivered} of {self.expected}" if self.expected else "",
                *(str(number or "") for number in (self.missed, self.overdone, self.waived, self.not_judged)))

    def __add__(self, other: Tally) -> Tally:
        return Tally(self.delivered + other.delivered, self.missed + other.missed,
                     self.overdone + other.overdone, self.waived + other.waived,
                     self.not_judged + other.not_judged)


@dataclass(frozen=True, slots=True)
class HabitAdvice:
    """A habit that would have prevented findings or remarks; ``example`` is the one that shows it most clearly."""

    advice: str
    findings: int
    weight: float
    example: Finding

    @property
    def times(self) -> str:
        """How often it would have helped, in words."""
        return "once" if self.findings == 1 else f"{self.findings} times"


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the summary's table; ``period`` None is the whole game."""

    rule: str
    period: int | None
    tally: Tally


@dataclass(frozen=True)
class Summary:
    """``by_rule`` holds a tally per rule and period, rules in the profile's order, only those with something to say.
    ``snaps`` are filmed scrimmage downs whose surroundings are tagged, ``snaps_known`` those at which a viewer knew the
    down. ``surplus`` is seconds of film that could be cut, by rule. ``waiting`` says what could not be judged yet.
    ``remarks`` are the mentor's own words, counted, ``yielded`` says where practice yields to a policy. ``measured``
    are the measures of camera work over the game, ``unmeasured`` says where there are none.

    There is no one number over all rules: what is done by routine would hide what is not done at all."""

    by_rule: Mapping[str, Mapping[int, Tally]]
    snaps: int
    snaps_known: int
    surplus: Mapping[str, float]
    film_seconds: float
    habits: tuple[HabitAdvice, ...]
    waiting: tuple[str, ...]
    remarks: tuple[RemarkCount, ...] = ()
    yielded: tuple[str, ...] = ()
    measured: tuple[MeasuredRow, ...] = ()
    unmeasured: str = ""

    @property
    def share_known(self) -> float | None:
        """Share of snaps at which a viewer knew the down; None before the first."""
        return self.snaps_known / self.snaps if self.snaps else None

    @property
    def surplus_seconds(self) -> float:
        """The seconds of film that no viewer needs."""
        return sum(self.surplus.values())

    def tally(self, rule: str | None = None, period: int | None = None) -> Tally:
        """The tally of a rule (None: of all, for counts, never for a share) in a period (None: in the whole game)."""
        return sum((tally for name, periods in self.by_rule.items() if rule in (None, name)
                    for number, tally in periods.items() if period in (None, number)), Tally())

    def practices(self) -> list[tuple[str, Tally]]:
        """Each practice with its tally over the whole game, in the profile's order."""
        return [(rule, self.tally(rule)) for rule in self.by_rule]

    def weakest(self, most: int = 3) -> list[tuple[str, Tally]]:
        """The practices that lack most, each by itself: by the share that is missing or too much, then by how often."""
        def lacks(tally: Tally) -> tuple[float, int]:
            faults = tally.missed + tally.overdone
            return faults / (tally.delivered + faults), faults

        faulty = [(rule, tally) for rule, tally in self.practices() if tally.missed or tally.overdone]
        return sorted(faulty, key=lambda each: lacks(each[1]), reverse=True)[:most]

    def rows(self) -> list[Row]:
        """The table: for each rule the whole game, then its periods."""
        numbers = sorted({period for periods in self.by_rule.values() for period in periods})
        rows = []
        for rule, periods in self.by_rule.items():
            rows.append(Row(rule, None, self.tally(rule)))
            rows += [Row(rule, period, periods[period]) for period in numbers if period in periods]
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
    for open_case in coverage.not_judged:
        counts[open_case.rule][open_case.period] += Tally(not_judged=1)
    judged = [belief for belief in coverage.beliefs if belief.down is not None and belief.known]
    known = sum(belief.sure >= coverage.profile.viewer.unsure_below for belief in judged)
    return Summary({rule: dict(sorted(periods.items())) for rule, periods in counts.items() if periods},
                   len(judged), known, dict(surplus), coverage.film_seconds, _habits(coverage), coverage.waiting,
                   counted(coverage.remarks, _advice(coverage)), coverage.yielded,
                   coverage.camera_work.rows if coverage.camera_work else (),
                   unmeasured_line(coverage.camera_work, coverage.shots))


def _habits(coverage: Coverage) -> tuple[HabitAdvice, ...]:
    """The habits that would have prevented most, weighed by what a viewer loses."""
    weights = coverage.profile.weights
    by_advice: dict[str, list[Finding]] = defaultdict(list)
    for finding in coverage.findings:
        if not finding.waived:
            by_advice[finding.habit].append(finding)
    for placed in coverage.remarks:
        if not placed.remark.praise:
            finding = _as_finding(placed, _advice(coverage))
            by_advice[finding.habit].append(finding)
    habits = [HabitAdvice(advice, len(found), sum(weights[each.severity] for each in found),
                    max(found, key=lambda each: (weights[each.severity], each.strength)))
              for advice, found in by_advice.items()]
    return tuple(sorted(habits, key=lambda habit: (-habit.weight, habit.example.time))[:HABITS])


def _advice(coverage: Coverage) -> dict[str, str]:
    return {word.strip().casefold(): advice for word, advice in coverage.profile.remarks.items()}


def _as_finding(placed: PlacedRemark, advice: Mapping[str, str]) -> Finding:
    """A remark weighs as much as a warning: a mentor stops the film only for something that matters."""
    remark = placed.remark
    word = remark.word.strip()
    return Finding(key=f"remark/{remark.id}", rule="remark", severity=Severity.WARNING, direction=Direction.MISSED,
                   at=remark.at,
                   time=placed.time, title=word.capitalize(), why=remark.comment or f"The mentor's remark: {word}.",
                   expected=word, habit=advice.get(word.casefold()) or f"Mend what the mentor remarked: {word}.",
                   until=remark.until, play=placed.play, shot=placed.shot, period=placed.period)

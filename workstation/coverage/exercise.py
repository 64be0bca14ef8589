"""One run of practice: which gap is asked about, what was answered so far, and what is watched before the next."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ..film.time import Instant
from ..tagging.layout import layout_of
from ..tagging.model import Game
from .answer import PracticeAnswer
from .practice import Gap, PracticeSession, Result, judge


@dataclass(frozen=True)
class Exercise:
    """The state of a run; every act returns the next state.

    ``passages`` hold, for each gap, the ends of the shot that is watched before it; None before the first play.
    ``place`` is the gap at hand, ``len(gaps)`` once all are through. ``asking`` is False while its passage is watched.
    ``given`` are answers to the gap at hand that are collected and not kept yet.
    """

    gaps: tuple[Gap, ...]
    passages: tuple[tuple[Instant, Instant] | None, ...]
    place: int = 0
    begun: int = 0
    asking: bool = False
    given: frozenset[PracticeAnswer] = frozenset()
    answers: Mapping[int, frozenset[PracticeAnswer]] = field(default_factory=dict)

    @property
    def is_over(self) -> bool:
        """Whether every gap has been answered."""
        return self.place >= len(self.gaps)

    @property
    def gap(self) -> Gap | None:
        """The gap at hand; None once all are through."""
        return None if self.is_over else self.gaps[self.place]

    @property
    def passage(self) -> tuple[Instant, Instant] | None:
        """What is watched before the gap at hand; None if there is nothing to watch."""
        return None if self.is_over else self.passages[self.place]

    @property
    def can_go_back(self) -> bool:
        """Whether there is a gap before this one since the exercise began."""
        return self.place > self.begun

    def arrive(self) -> Exercise:
        """The passage was watched: ask."""
        return self if self.is_over else replace(self, asking=True)

    def watch(self) -> Exercise:
        """Watch the passage again; what was collected stays."""
        return self if self.passage is None else replace(self, asking=False)

    def collect(self, answer: PracticeAnswer) -> Exercise:
        """Take an answer beside others, or take it back; ``nothing`` takes all of them back. Only while asked."""
        if not self.asking:
            return self
        return replace(self, given=frozenset() if answer is PracticeAnswer.NOTHING else self.given ^ {answer})

    def answer(self, answer: PracticeAnswer | None = None) -> Exercise:
        """Keep what was collected and *answer*, if there is any, and go on to the next gap. Only while asked."""
        given = self.given | ({answer} if answer is not None else frozenset())
        if not self.asking or not given:
            return self
        if len(given) > 1:
            given -= {PracticeAnswer.NOTHING}
        gap = self.gaps[self.place]
        return self._to(self.place + 1, {**self.answers, gap.after or 0: given})

    def back(self) -> Exercise:
        """Take the last answer back and ask that gap again."""
        if not self.can_go_back:
            return self
        gap = self.gaps[self.place - 1]
        return replace(self._to(self.place - 1,
                                {key: value for key, value in self.answers.items() if key != (gap.after or 0)}),
                       asking=True)

    def _to(self, place: int, answers: Mapping[int, frozenset[PracticeAnswer]]) -> Exercise:
        following = replace(self, place=place, given=frozenset(), answers=answers, asking=False)
        return following if following.is_over or following.passage is not None else following.arrive()

    def session(self, trainee: str, date: str) -> PracticeSession:
        """What is to be kept of the run."""
        return PracticeSession(trainee, date, self.answers)

    def result(self) -> Result:
        """The answers beside what a viewer needed."""
        return judge(self.gaps, PracticeSession("", "", self.answers))


def begin(game: Game, found: tuple[Gap, ...], time: float = 0.0) -> Exercise:
    """A run over *found* from the first gap that lies at a film time or after it; from the last if there is none."""
    layout = layout_of(game)
    watched = [layout.plays.get(gap.before or 0) for gap in found]
    passages = tuple((filmed.shot.start, filmed.shot.end) if filmed else None for filmed in watched)
    first = min(bisect_left([layout.time(gap.at) for gap in found], time), max(len(found) - 1, 0))
    exercise = Exercise(found, passages, first, first)
    return exercise if exercise.is_over or exercise.passage is not None else exercise.arrive()

"""What a coverage rule is. Each rule is a class of its own, in a file of :mod:`.rules` named after it.

To add one: write ``rules/my_rule.py`` with one subclass of :class:`Rule` named ``MyRule``, and give it an entry
``[rules.my_rule]`` in ``resources/profiles/default.toml`` that fills its fields.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import ClassVar, dataclass_transform

from ..film.time import Instant
from ..tagging.layout import TimedMoment
from .finding import Cause, Delivered, Direction, Finding, LookAgain, NotJudged, Severity
from .screening import Screening

Judged = Finding | Delivered | NotJudged | LookAgain

EPSILON = 0.02
"""Seconds, less than a picture, by which a span may be short of what is asked."""


@dataclass_transform(frozen_default=True, kw_only_default=True)
@dataclass(frozen=True, kw_only=True)
class Rule:
    """One thing a viewer needs. Fields are its settings, filled by the crew profile; every subclass is a frozen
    dataclass of its own.

    ``title`` names it for people, ``reason`` tells a trainee why it matters, ``label`` is what the timeline writes
    where the shot belonged, ``habit`` the advice that would prevent its findings, unless a finding has its own.
    """

    title: ClassVar[str]
    reason: ClassVar[str]
    label: ClassVar[str]
    habit: ClassVar[str] = ""

    severity: Severity
    enabled: bool = True

    def __init_subclass__(cls) -> None:
        dataclass(frozen=True, kw_only=True)(cls)

    @property
    def name(self) -> str:
        """The rule's name as findings carry it: its title in small letters."""
        return self.title.lower()

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Report for each expected thing whether it is in the film, or what must be tagged to judge it."""
        raise NotImplementedError

    def delivered(self, *, period: int = 1, play: int | None = None, shot: int | None = None) -> Delivered:
        """The film has what this rule asks for, in this period, play or shot."""
        return Delivered(self.name, period, play, shot)

    def not_judged(self, missing: str, *, period: int, play: int | None = None, shot: int | None = None) -> NotJudged:
        """Something cannot be judged until ``missing``, in the words of the desk, is tagged."""
        return NotJudged(self.name, missing, period, play, shot)

    def sure(self, finding: Finding, margin: float, *moments: TimedMoment | None) -> Finding | LookAgain:
        """Hold *finding* back if it depends on fewer seconds than the suggested *moments* may be off."""
        off = sum(seen.moment.uncertainty for seen in moments if seen)
        return finding if abs(margin) >= off else LookAgain(finding)

    def finding(self, screening: Screening, about: str, at: Instant, *, title: str, why: str, habit: str = "",
                period: int = 1, direction: Direction = Direction.MISSED, severity: Severity | None = None,
                expected: str = "", until: Instant | None = None, evidence: tuple[str, ...] = (),
                play: int | None = None, shot: int | None = None, seconds: float = 0.0, strength: float = 0.5,
                cause: Cause | None = None) -> Finding:
        """A finding of this rule about *about*: a play, shot or the film, by id, never by position."""
        key = f"{self.name}/{about}"
        return Finding(key=key, rule=self.name, severity=severity or self.severity, direction=direction, at=at,
                       time=screening.footage.layout.time(at), title=title, why=why, expected=expected or self.label,
                       habit=habit or self.habit, until=until, evidence=tuple(filter(None, evidence)), play=play,
                       shot=shot, period=period, seconds=seconds, strength=min(max(strength, 0.0), 1.0), cause=cause,
                       decision=screening.decisions.get(key))

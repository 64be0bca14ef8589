"""Which findings are wanted, without a screen."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from ..tagging.model import Decision, Verdict
from .finding import Finding


class State(StrEnum):
    """What became of a finding."""

    OPEN = "open"
    AGREED = "agreed"
    WAIVED = "waived"


def state_of(finding: Finding, decisions: Mapping[str, Decision]) -> State:
    """Return whether a finding is open, agreed or waived, from the decisions by finding key."""
    decision = decisions.get(finding.key)
    verdict = decision.verdict if decision else None
    return State.AGREED if verdict is Verdict.AGREED else State.WAIVED if verdict is Verdict.WAIVED else State.OPEN


@dataclass(frozen=True, slots=True)
class FindingFilter:
    """None (or no words) asks for everything. ``words`` must all occur in what the finding says or was answered."""

    rule: str | None = None
    period: int | None = None
    state: State | None = None
    words: str = ""

    def of(self, findings: Iterable[Finding], decisions: Mapping[str, Decision]) -> list[Finding]:
        """The wanted ones, in the order given."""
        return [finding for finding in findings if self._keeps(finding, decisions)]

    def _keeps(self, finding: Finding, decisions: Mapping[str, Decision]) -> bool:
        if self.rule is not None and finding.rule != self.rule:
            return False
        if self.period is not None and finding.period != self.period:
            return False
        if self.state is not None and state_of(finding, decisions) is not self.state:
            return False
        if not self.words.strip():
            return True
        decision = decisions.get(finding.key, Decision(finding.key))
        said = f"{finding.title} {finding.rule} {finding.why} {decision.reason} {decision.comment}".casefold()
        return all(word in said for word in self.words.casefold().split())

"""Going through the findings: which one is at hand, its explanation, and the passage of film that shows it."""

from __future__ import annotations

from fractions import Fraction

from PySide6.QtCore import QObject, Signal

from ...coverage.finding import Finding
from ...film.time import Instant
from ...tagging.angles import FIRST
from ...tagging.operations import ClearDecision, Decide
from ..session import Session
from ..session_holder import SessionHolder
from ..timeline.lanes import FindingsLane
from ..timeline.view import TimelineView
from .explanation import Explanation
from .findings import FindingList

RUN_UP = 4          # seconds shown before a finding, so that one sees how it came about, until a person chooses others
RUN_OUT = 5         # seconds shown after one that has no end of its own


class FindingWalk(SessionHolder, QObject):
    """Ties the list, the explanation and the timeline to the finding at hand. ``film_wanted`` asks for the picture, as
    a passage is about to play; ``looping_changed`` says whether passages go round and round."""

    film_wanted = Signal()
    looping_changed = Signal(bool)

    def __init__(self, findings: FindingList, explanation: Explanation, timeline: TimelineView, parent: QObject):
        super().__init__(parent)
        self._findings, self._explanation, self._timeline = findings, explanation, timeline
        self._key: str | None = None        # of the finding whose passage was played last
        self._angle = FIRST                 # the one that the findings are of
        self._left: dict[int, str] = {}     # the finding that was at hand when an angle was left
        self._is_looping = False
        self.run_up = RUN_UP                # seconds
        findings.chosen.connect(self._on_chosen)
        explanation.decided.connect(lambda decision: self.session.do(Decide(decision)))
        explanation.cleared.connect(lambda key: self.session.do(ClearDecision(key)))

    def show_session(self, session: Session | None) -> None:
        """Take in another session, or None when it is closed."""
        self._session, self._key, self._left = session, None, {}
        self._angle = session.angle if session is not None else FIRST
        if session is None:
            self._findings.show_findings((), {}, "")

    def refresh(self) -> None:
        """Show the findings as they are now, and what was decided about them."""
        coverage = self.session.coverage
        decisions = self.session.game.decision_by_finding
        self._change_angle()
        self._findings.show_findings(coverage.findings if coverage else (), decisions, self._nothing()[0],
                                     not self.session.game.plays)
        if coverage is not None and (key := self._left.pop(self._angle, None)) is not None:
            self._key = key                 # taken up again without playing it
            if self._findings.choose(key):
                self._timeline.choose(FindingsLane.key, key)
            else:
                self._key = None
        self._explain(self._findings.current)

    def _change_angle(self) -> None:
        """Note the finding at hand when the film of another angle takes its place."""
        if self.session.angle != self._angle:
            if (finding := self._findings.current) is not None:
                self._left[self._angle] = finding.key
            self._angle = self.session.angle

    def _explain(self, finding: Finding | None) -> None:
        decisions = self.session.game.decision_by_finding
        self._explanation.show_finding(finding, decisions.get(finding.key) if finding else None, self._nothing()[1])

    def _nothing(self) -> tuple[str, str]:
        """What is said where there are no findings, and what in the place of the explanation of one."""
        game, coverage = self.session.game, self.session.coverage
        if not game.plays:
            return ("Nothing is tagged yet. Here the film is compared with what its viewers needed, play by play.",
                    "Findings appear as plays and shots are tagged.")
        if all(tag.shot is None for tag in game.plays):
            return ("No play has its shot yet, so that the film cannot be compared with anything.",
                    "In the Tag room choose a play, go to its shot, and say that this shot films it.")
        if coverage is None:
            return "The film is being compared with what its viewers needed…", "Findings appear once that is done."
        if coverage.findings:
            return "", ""
        if coverage.waiting:
            return "No findings so far.", "\n\n".join(("Not judged yet:", *coverage.waiting))
        return "No findings.", "Everything a viewer needed is in the film."

    # -- from one to another ----------------------------------------------------------------------
    def step(self, by: int) -> None:
        """To the next (or an earlier) finding, and play it from a few seconds before."""
        before = self._key
        finding = self._findings.step(by)
        if finding is not None and finding.key == before:
            self.session.notice.emit("That was the last finding" if by > 0 else "That was the first finding")

    def go_to(self, key: str) -> None:
        """To the finding of that key; the one at hand plays again."""
        if self._findings.choose(key) and self._key == key:
            self.play()

    def _on_chosen(self, finding: Finding | None) -> None:
        if not self.has_session:        # the list is emptied
            return
        self._explain(finding)
        key = finding.key if finding else None
        if key != self._key:
            self._key = key
            self._timeline.choose(FindingsLane.key, key)
            if finding is not None:
                self.play()

    # -- the passage ------------------------------------------------------------------------------
    def passage(self) -> tuple[Instant, Instant] | None:
        """What is played again and looped: the finding with its run-up, else the shot at the current picture."""
        film, finding = self.session.film, self._findings.current
        if finding is not None:
            start = max(film.time_of(finding.at) - self.run_up, Fraction(0))
            end = film.time_of(finding.until) + 1 if finding.until else film.time_of(finding.at) + RUN_OUT
        elif (shot := self.session.shot_at(self.session.position)) is not None:
            start, end = film.time_of(shot.start), film.time_of(shot.end)
        else:
            return None
        last = film.sources[-1]
        return film.instant_at(start), film.instant_at(end) if end < film.duration else Instant(last.id, last.end.pts)

    def play(self) -> None:
        """Play the film of the current finding."""
        if not self.session.film.sources:
            return
        self.film_wanted.emit()
        span = self.passage()
        if span is not None:
            self.session.play_span(*span, loop=self._is_looping)

    def loop(self) -> None:
        """Let passages go round and round, or not any more."""
        self._is_looping = not self._is_looping
        self.looping_changed.emit(self._is_looping)
        if self._is_looping:
            self.play()
        elif self.session.playing:
            self.session.pause()

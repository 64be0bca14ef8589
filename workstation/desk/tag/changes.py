"""What the last change to the game has changed in later plays, in words, and which rows of the list those are."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QWidget

from ...football.step import Step
from ...tagging.changes import changed_rows, rows_with_other_findings, spoken_changes
from ..session import Session
from ..session_holder import SessionHolder
from .plays import PlaysView


class ChangesView(SessionHolder, QLabel):
    """Words above the list of *plays*, which marks the rows."""

    def __init__(self, parent: QWidget):
        super().__init__("", parent)
        self.setProperty("type", "body")
        self.setProperty("ink", "warn")
        self.setWordWrap(True)
        self.setContentsMargins(12, 4, 12, 8)
        self.hide()
        self._plays: PlaysView | None = None
        self._steps: dict[int, Step] = {}       # what followed from each play when it was last shown
        self._findings: dict[int, frozenset[str]] | None = None     # by play, when they were last known

    def mark_in(self, plays: PlaysView) -> None:
        """Mark what changed in this table of plays."""
        self._plays = plays

    def show_session(self, session: Session | None) -> None:
        """Take in another session and follow its findings."""
        super().show_session(session)
        if session is not None:
            self._steps, self._findings = self._situations(), self._findings_by_play()

    def _follows(self, session: Session) -> list:
        return [(session.derived_changed, self._show_other_findings)]

    def refresh(self) -> None:
        """The game has changed."""
        session, before = self.session, self._steps
        self._steps = self._situations()
        self._mark(frozenset(changed_rows(before, self._steps)))
        text = spoken_changes(before, self._steps, session.game.heading, session.rulebook.field_length)
        self.setText(text)
        self.setVisible(bool(text))

    def _mark(self, rows: frozenset[int]) -> None:
        if self._plays is not None:
            self._plays.plays.changed_rows = rows

    def _situations(self) -> dict[int, Step]:
        session = self.session
        return {tag.id: step for tag, step in zip(session.game.plays, session.steps, strict=True)}

    def _findings_by_play(self) -> dict[int, frozenset[str]] | None:
        coverage = self.session.coverage
        if coverage is None:
            return None
        plays: dict[int, set[str]] = {}
        for finding in coverage.findings:
            if finding.play is not None:
                plays.setdefault(finding.play, set()).add(f"{finding.key}: {finding.title}")
        return {play: frozenset(found) for play, found in plays.items()}

    def _show_other_findings(self) -> None:
        """The coverage was checked again after a correction: plays about which something else is found now have changed
        as well. A play that is new changes what is found about the one before it, and nobody corrected that."""
        before, self._findings = self._findings, self._findings_by_play()
        if before is not None and self._findings is not None and self.text() and self._plays is not None:
            rows = rows_with_other_findings(before, self._findings, [tag.id for tag in self.session.game.plays])
            self._mark(self._plays.plays.changed_rows | set(rows))
            self._plays.viewport().update()

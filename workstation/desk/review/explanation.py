"""One finding, explained for the person who filmed it, and what the reviewers decide about it."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QWidget

from ...coverage.finding import Finding
from ...coverage.severities import MARKS, WORDS
from ...film.time import spoken_time
from ...football.speaking import spoken_period
from ...tagging.model import Decision, Verdict
from ..keys import KeyButton
from ..room import Desk
from ..severities import INKS
from ..widgets import Field, Wrapping, flow, in_column, label, restyle, say, scrolled


class Explanation(Wrapping):
    """Shows a finding. ``decided`` carries a :class:`Decision`, ``cleared`` the key whose decision is taken back;
    ``ended`` is sent when the line for a reason or comment closes and the focus may go back."""

    decided = Signal(object)
    cleared = Signal(str)
    ended = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self.finding: Finding | None = None
        self._decision: Decision | None = None
        self._asking = ""
        self._severity = label("", "small", wrap=True)
        self._title = label("", "title", wrap=True)
        self._where = label("", "small", "quiet", wrap=True)
        self._why = label("", "lead", wrap=True)
        self._evidence = label("", "body", "quiet", wrap=True)
        self._habit = label("", "lead", "accent", wrap=True)
        self._verdict = label("", "lead", wrap=True)
        for text in (self._title, self._why, self._evidence, self._habit, self._verdict):
            text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        page = QWidget()
        in_column(self._severity, self._title, self._where, self._why, self._evidence, self._habit, self._verdict, 1,
                  on=page, margins=(2, 2, 8, 2), spacing=7)
        scroll = scrolled(page, is_wide=False)
        scroll.setMinimumHeight(110)         # some lines, or one cannot read it; then the page is scrolled
        self.agree = KeyButton(desk.keys, "review.agree", "Agree", act=self.agree_now)
        self.waive = KeyButton(desk.keys, "review.waive", "Waive…", act=lambda: self.ask("waive"))
        self.comment = KeyButton(desk.keys, "review.comment", "Comment…", act=lambda: self.ask("comment"))
        self.clear = KeyButton(desk.keys, "review.undecide", "Reopen", act=self.clear_now)
        self.best = KeyButton(desk.keys, "review.best", "Beside the best")
        self.yards = KeyButton(desk.keys, "desk.yards", "Yards from the picture",
                               act=lambda: desk.keys.act("desk.yards"))
        self.answer = Field(name="Answer", act=self._take_answer, give_up=self._stop_asking)
        self._fault = label("", "small", "bad", wrap=True)
        holder, buttons = flow()
        for button in (self.agree, self.waive, self.comment, self.clear, self.best, self.yards):
            buttons.addWidget(button)
        in_column((scroll, 1), self.answer, self._fault, holder, on=self, margins=0)
        self.show_finding(None, None)

    def show_finding(self, finding: Finding | None, decision: Decision | None, nothing: str = "") -> None:
        """Explain a finding with what was decided about it, or show `nothing` if there is none."""
        if finding is None or self.finding is None or finding.key != self.finding.key:
            self._stop_asking()
        self.finding, self._decision = finding, decision
        for button in (self.agree, self.waive, self.comment):
            button.setEnabled(finding is not None)
        self.clear.setVisible(decision is not None)
        self.best.setVisible(finding is not None and finding.beside is not None)
        self.yards.setVisible(finding is not None and finding.turns_on_spot)
        for part in (self._severity, self._where, self._evidence, self._habit, self._verdict):
            part.setVisible(finding is not None)
        if finding is None:
            self._title.setText("")
            self._why.setText(nothing or "Choose a finding to see why it matters and what would have helped.")
            return
        severity = finding.severity
        say(self._severity, f"{MARKS[severity]} {WORDS[severity]} · {finding.rule}", INKS[severity])
        self._title.setText(finding.title)
        self._where.setText(f"{spoken_period(finding.period)}, {spoken_time(finding.time)} into the film")
        self._why.setText(finding.why)
        self._evidence.setText("\n".join(f"–  {line}" for line in finding.evidence))
        self._evidence.setVisible(bool(finding.evidence))
        self._habit.setText(f"Next time: {finding.habit}" if finding.habit else "")
        self._habit.setVisible(bool(finding.habit))
        said = []
        if decision is not None and decision.verdict is Verdict.AGREED:
            said.append("✓ Agreed")
        elif decision is not None and decision.verdict is Verdict.WAIVED:
            said.append(f"✕ Waived: {decision.reason}")
        if decision is not None and decision.comment:
            said.append(f"“{decision.comment}”")
        self._verdict.setText("\n".join(said))
        self._verdict.setVisible(bool(said))

    # -- deciding --------------------------------------------------------------------------------------

    def agree_now(self) -> None:
        """Agree to the finding that is shown."""
        if self.finding is not None:
            self._stop_asking()
            self.decided.emit(replace(self._so_far(), verdict=Verdict.AGREED, reason=""))

    def clear_now(self) -> None:
        """Forget the decision about the finding that is shown."""
        if self.finding is not None and self._decision is not None:
            self._stop_asking()
            self.cleared.emit(self.finding.key)

    def ask(self, what: str) -> None:
        """Open the line for the reason of a waiver (``waive``) or for a comment (``comment``)."""
        if self.finding is None:
            return
        self._asking = what
        so_far = self._so_far()
        self.answer.setText(so_far.reason if what == "waive" else so_far.comment)
        self.answer.setPlaceholderText("Why does it not count here? Enter saves, Esc gives up" if what == "waive"
                                       else "What should be said about it? Enter saves, Esc gives up")
        self.answer.setAccessibleName("Reason for waiving" if what == "waive" else "Comment")
        self._fault.hide()
        self.answer.show()
        self.answer.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.answer.selectAll()

    def _so_far(self) -> Decision:
        if self.finding is None:
            raise RuntimeError("there is no finding to decide about")
        return self._decision or Decision(self.finding.key)

    def _take_answer(self) -> None:
        text = self.answer.text().strip()
        if self._asking == "waive":
            if not text:
                restyle(self.answer, state="bad")
                self._fault.setText("A waiver needs a reason, so that the next reader understands it.")
                self._fault.show()
                return
            decision = replace(self._so_far(), verdict=Verdict.WAIVED, reason=text)
        else:
            decision = replace(self._so_far(), comment=text)
        self._stop_asking()
        if decision == Decision(decision.finding):
            if self._decision is not None:
                self.cleared.emit(decision.finding)
        else:
            self.decided.emit(decision)

    def _stop_asking(self) -> None:
        had_focus = self.answer.hasFocus()
        self._asking = ""
        restyle(self.answer, state="")
        self.answer.clear()
        self.answer.hide()
        self._fault.hide()
        if had_focus:
            self.ended.emit()

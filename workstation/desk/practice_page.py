"""Practice on screen: the film stops at each gap between plays, and the trainee says what to film there.

What a run consists of is in :mod:`..coverage.exercise`; this shows it, plays the film and forwards the keys.
"""

from __future__ import annotations

from datetime import date
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHeaderView, QWidget

from ..coverage.answer import PracticeAnswer
from ..coverage.exercise import Exercise, begin
from ..coverage.practice import Gap, gaps, keep_session, sessions_path
from ..coverage.practice import PracticeSession as Kept
from ..coverage.profile import load_profile
from ..football.speaking import spoken_situation
from .actions import ANSWERS, answer_action
from .jobs import Progress
from .keys import KeyButton
from .picture import PictureView
from .room import Desk
from .session import Session
from .session_holder import SessionHolder
from .widgets import Field, Pages, Wrapping, fill_row, flow, in_column, in_row, label, table

_NEAR = 0.3         # seconds before its end at which a passage counts as watched
_COLUMNS = ("Before play", "Your answer", "A viewer needed", "Why")


class PracticePage(SessionHolder, QWidget):
    """A page of its own; ``closed`` is sent when the person is through with it. Each answer is on disk when it is
    given."""

    closed = Signal()

    def __init__(self, desk: Desk):
        super().__init__()
        self._desk = desk
        self.exercise: Exercise | None = None
        self._kept: Kept | None = None      # this run as it lies on disk
        self._unkept = self._warned = False     # some answers are not on disk; the person knows that they would go
        self._serial = 0                    # of the gaps that are asked for
        self.setObjectName("ground")
        self.setAccessibleName("Practice")
        self._build()
        desk.keys.bind_all(self, {answer_action(answer, beside=True): partial(self.collect, answer)
                                  for answer in ANSWERS if answer is not PracticeAnswer.NOTHING})

    # -- building ------------------------------------------------------------------------------------------
    def _build(self) -> None:
        self.title = label("Practice", "title")
        self.place = label("", "lead", "quiet")
        self.leave_button = self._button("practice.leave", "Leave", self.leave)
        head = in_row(self.title, (self.place, 1), self.leave_button)
        self.pages = Pages(self)
        self.intro, self.run, self.outcome = Wrapping(self.pages), Wrapping(self.pages), Wrapping(self.pages)
        for page in (self.intro, self.run, self.outcome):
            self.pages.addWidget(page)
        self._build_intro()
        self._build_run()
        self._build_outcome()
        self.wrong = label("", "body", "bad", wrap=True)
        self.wrong.hide()
        in_column(head, (self.pages, 1), self.wrong, on=self, margins=(18, 12, 18, 12))

    def _build_intro(self) -> None:
        self.told = label("", "lead", wrap=True)
        self.trainee = Field(name="Who practises", hint="Your name", act=self.go_on)
        self.trainee.setMaximumWidth(360)
        self.begin_button = KeyButton(self._desk.keys, "practice.go_on", "Begin", act=self.go_on, role="main")
        in_column(self.told, label("Who practises? The trend tells the runs apart by name."), self.trainee,
                  (self.begin_button, 0, Qt.AlignmentFlag.AlignLeft), 1, on=self.intro)

    def _build_run(self) -> None:
        self.picture = PictureView(parent=self.run)
        self.picture.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.picture.message = "No picture of this film. The gaps are asked about all the same."
        self.asked = label("", "title", wrap=True)
        self.happened = label("", "lead", wrap=True)
        around, row = flow(parent=self.run)
        self.answers: dict[PracticeAnswer, KeyButton] = {}
        for answer in ANSWERS:
            button = self._button(answer_action(answer), answer.value.capitalize(), partial(self.answer, answer),
                                  around)
            button.setCheckable(True)
            row.addWidget(button)
            self.answers[answer] = button
        below, hints = flow(parent=self.run)
        self._go_on = self._button("practice.go_on", "To the gap", self.go_on, below)
        self._again = self._button("practice.again", "Again", self.again, below)
        self._toggle = self._button("practice.toggle", "Play", self.toggle, below)
        self._back = self._button("practice.back", "Take back", self.back, below)
        for button in (self._go_on, self._again, self._toggle, self._back):
            hints.addWidget(button)
        self._hint = label("", "small", "quiet", wrap=True)
        in_column((self.picture, 1), self.asked, self.happened, around, below, self._hint, on=self.run, margins=0)

    def _build_outcome(self) -> None:
        self.summary = label("", "lead", wrap=True)
        self._shares = QGridLayout()
        self._shares.setHorizontalSpacing(24)
        self.table = table(_COLUMNS, "Answers beside what a viewer needed", by_row=True)
        self.table.setWordWrap(True)
        heads = self.table.horizontalHeader()
        for place in range(3):
            heads.setSectionResizeMode(place, QHeaderView.ResizeMode.ResizeToContents)
        heads.setSectionResizeMode(3, QHeaderView.ResizeMode.Stretch)
        self.table.cellDoubleClicked.connect(lambda *_: self._go_there())
        in_column(self.summary, self._shares, (self.table, 1), on=self.outcome, margins=0)

    def _button(self, id: str, text: str, act, parent: QWidget | None = None) -> KeyButton:
        return KeyButton(self._desk.keys, id, text, parent, act, self)

    def hasHeightForWidth(self) -> bool:
        """False: the picture takes the height that there is, and makes the page no higher."""
        return False

    # -- coming and going ----------------------------------------------------------------------------------
    def show_session(self, session: Session | None) -> None:
        """Practise on *session*'s game from now on; None: on none. A run that is under way goes on where it was."""
        if self._session is not session:
            super().show_session(session)
            self.exercise, self._kept = None, None
            self._serial += 1
            self.picture.show_session(session)

    def _follows(self, session: Session) -> list:
        return [(session.playing_changed, self._on_playing)]

    def showEvent(self, event) -> None:
        """Prepare an exercise, or go on with the one under way."""
        super().showEvent(event)
        if self.exercise is None:
            self._prepare()
        self._show()
        if self.pages.currentWidget() is self.run and self.exercise is not None:
            self._arrive(seek=True) if self.exercise.asking else self._play()

    def hideEvent(self, event) -> None:
        """Stop what the page plays."""
        super().hideEvent(event)
        if self.has_session:
            self.session.pause()

    def _prepare(self) -> None:
        """Find the gaps of the game, in the background."""
        session, self._serial = self.session, self._serial + 1
        serial, game, steps, rulebook = self._serial, session.game, session.steps, session.rulebook
        time = float(session.time)
        self.trainee.setText(self.trainee.text() or str(self._desk.settings.value("trainee") or ""))
        self._say("")

        def work(progress: Progress) -> Exercise:
            return begin(game, gaps(game, steps, load_profile(game.heading.profile), rulebook), time)

        def ready(exercise: Exercise) -> None:
            if serial == self._serial and self.has_session:
                self.exercise = exercise
                self._show()

        def failed(why: str) -> None:
            if serial == self._serial:
                self._say(f"The gaps of this game could not be found: {why}")

        self._desk.jobs.start("Finding the gaps", work, ready, failed)

    def leave(self) -> None:
        """To the result of what was answered; from there, and where nothing was answered, back to the room."""
        exercise = self.exercise
        if self.pages.currentWidget() is self.run and exercise is not None and exercise.answers:
            self._finish()
            return
        if self._unkept and exercise is not None and not self._keep() and not self._warned:
            self._warned = True
            self._say(f"{self.wrong.text()} Leaving once more gives the answers up.")
            return
        self.exercise = self._kept = None
        self._unkept = self._warned = False
        self.session.pause()
        self.closed.emit()

    # -- a run ---------------------------------------------------------------------------------------------
    def go_on(self) -> None:
        """Begin; while the film runs, go to the gap; there, keep the answers that were collected."""
        exercise = self.exercise
        if exercise is None or exercise.is_over or self.pages.currentWidget() is self.outcome:
            if self.pages.currentWidget() is self.outcome:
                self._go_there()
        elif self.pages.currentWidget() is self.intro:
            self._desk.settings.setValue("trainee", self.trainee.text().strip())
            self.pages.setCurrentWidget(self.run)
            self._play()
            self._show()
        elif not exercise.asking:
            self._arrive(seek=True)
        elif exercise.given:
            self._take(exercise.answer())
        else:
            self.session.notice.emit("Say what to film first; 0 is nothing")

    def answer(self, answer: PracticeAnswer) -> None:
        """Keep an answer, with those collected, and go on."""
        if (exercise := self._asking()) is not None:
            self._take(exercise.answer(answer))
        elif self.pages.currentWidget() is self.run:
            self._show()        # a button that was clicked is not pressed

    def collect(self, answer: PracticeAnswer) -> None:
        """Collect an answer beside others."""
        if (exercise := self._asking()) is not None:
            self.exercise = exercise.collect(answer)
            self._show()

    def _asking(self) -> Exercise | None:
        """The run, while it asks."""
        shown = self.pages.currentWidget() is self.run and self.exercise is not None and self.exercise.asking
        return self.exercise if shown else None

    def back(self) -> None:
        """Take the last answer back, also from the result."""
        if self.exercise is not None and self.exercise.can_go_back and self.pages.currentWidget() is not self.intro:
            self.session.pause()
            self.exercise = self.exercise.back()
            self.pages.setCurrentWidget(self.run)
            self._keep()
            self._arrive(seek=True)

    def again(self) -> None:
        """Watch the passage before the gap again."""
        if self.exercise is not None and self.pages.currentWidget() is self.run:
            self.exercise = self.exercise.watch()
            self._play()
            self._show()

    def toggle(self) -> None:
        """Pause or play, except while a question is open."""
        if self.pages.currentWidget() is self.run and self.exercise is not None and not self.exercise.asking:
            self.session.toggle()

    def _take(self, exercise: Exercise) -> None:
        self.exercise = exercise
        self._keep()
        if exercise.is_over:
            self._finish()
        else:
            self._play()
            self._show()

    def _play(self) -> None:
        """Play what is watched before the gap at hand; where it cannot be shown, ask at once."""
        exercise = self.exercise
        if exercise is None or exercise.asking or exercise.passage is None:
            if exercise is not None and exercise.gap is not None:
                self.session.seek(exercise.gap.at)
            return
        start, end = exercise.passage
        film = self.session.film
        if any(film.source(instant.source).problem for instant in (start, end)):
            self._arrive(seek=True)
        else:
            self.session.play_span(start, end)

    def _on_playing(self, playing: bool) -> None:
        self._toggle.setText("Pause" if playing else "Play")
        exercise = self.exercise
        if playing or not self.isVisible() or self.pages.currentWidget() is not self.run:
            return
        if exercise is not None and not exercise.asking and exercise.passage is not None:
            end = self.session.film.time_of(exercise.passage[1])
            if end - self.session.time <= _NEAR:
                self._arrive()

    def _arrive(self, seek: bool = False) -> None:
        """Stop at the gap at hand and ask."""
        exercise = self.exercise
        if exercise is None:
            return
        self.exercise = exercise.arrive()
        self.session.pause()
        if seek and exercise.passage is not None:
            film, end = self.session.film, exercise.passage[1]
            self.session.seek_time(film.time_of(end) - 1 / film.source(end.source).frame_rate)
        self._show()

    def _keep(self) -> bool:
        """Put the answers so far on disk; False, and why, if that cannot be done."""
        if self.exercise is None:
            return False
        kept = self.exercise.session(self.trainee.text().strip() or "unnamed", date.today().isoformat())
        try:
            keep_session(sessions_path(self.session.file.path), kept, self._kept)
        except (OSError, ValueError) as error:
            self._unkept = True
            self._say(f"The answers are not on disk yet: {error}. The next answer tries again.")
            return False
        self._kept, self._unkept, self._warned = kept, False, False
        self._say("")
        return True

    def _say(self, wrong: str) -> None:
        self.wrong.setText(wrong)
        self.wrong.setVisible(bool(wrong))

    # -- showing -------------------------------------------------------------------------------------------
    def _show(self) -> None:
        """Draw the state of the run."""
        exercise = self.exercise
        page = self.pages.currentWidget()
        if exercise is None or (page is self.outcome and not exercise.answers):
            self.pages.setCurrentWidget(self.intro)
            page = self.intro
        if page is self.intro:
            self._show_intro()
        elif page is self.run and exercise is not None:
            self._show_gap(exercise)

    def _show_intro(self) -> None:
        exercise = self.exercise
        number = len(exercise.gaps) - exercise.place if exercise is not None else 0
        self.place.setText("")
        if exercise is None:
            self.told.setText("The gaps between the plays are being found …")
        elif not number:
            self.told.setText("No play of this game has its shot yet. Tag some first: practice works on any tagged "
                              "game.")
        else:
            self.told.setText(
                "The plays run one after the other, without anything that was filmed between them, and without "
                f"findings. In each of the {number} gaps from here on the film stops, and you say with one key what "
                "you would film now. Afterwards your answers stand beside what a viewer needed, with the reason for "
                "each difference. Each answer is kept at once; leave whenever you like.")
        self.begin_button.setEnabled(bool(number))
        self.trainee.setEnabled(bool(number))
        (self.trainee if number else self).setFocus()

    def _show_gap(self, exercise: Exercise) -> None:
        gap = exercise.gap
        if gap is None:
            return
        self.place.setText(f"Gap {exercise.place - exercise.begun + 1} of {len(exercise.gaps) - exercise.begun}")
        self.asked.setText("What do you film now?" if exercise.asking else "Watch …")
        self.happened.setText(self._happened(gap) if exercise.asking else " ")
        for answer, button in self.answers.items():
            button.setEnabled(exercise.asking)
            button.setChecked(answer in exercise.given)
        self._go_on.setText("Keep and go on" if exercise.asking else "To the gap")
        self._go_on.setEnabled(not exercise.asking or bool(exercise.given))
        self._again.setEnabled(exercise.passage is not None)
        self._toggle.setEnabled(not exercise.asking)
        self._back.setEnabled(exercise.can_go_back)
        self._hint.setText("One key answers and goes on. For several answers hold Alt with each digit, then Enter."
                           if exercise.asking else "The film stops by itself where the play's shot ends.")
        self.picture.setFocus()

    def _happened(self, gap: Gap) -> str:
        """What everybody in the press box has seen: the play that ended, and the situation."""
        session = self.session
        places = {tag.id: place for place, tag in enumerate(session.game.plays)}
        if gap.before not in places:
            return "The game has not begun."
        step = session.steps[places[gap.before]]
        situation = spoken_situation(step.after, session.rulebook.field_length)
        told = step.explanation.rstrip(".")
        return told if situation in told else f"{told}. {situation}"

    def _finish(self) -> None:
        """Lay the answers beside what was needed."""
        exercise = self.exercise
        if exercise is None:
            return
        self.session.pause()
        self.pages.setCurrentWidget(self.outcome)
        result = exercise.result()
        numbers = {tag.id: place for place, tag in enumerate(self.session.game.plays, 1)}
        wrong = {difference.gap for difference in result.differences}
        right = result.gaps - len(wrong)
        self.place.setText("The result")
        again = f"; {self._desk.keys.shown('practice.back')} goes on" if not exercise.is_over else ""
        self.summary.setText(f"{right} of {result.gaps} gaps as a viewer needed them. Kept for the trend. "
                             f"Enter goes to the chosen gap on the film{again}.")
        while (part := self._shares.takeAt(0)) is not None:
            if (shown := part.widget()) is not None:
                shown.hide()
                shown.deleteLater()
        for place, (answer, tally) in enumerate(sorted(result.tallies.items())):
            share = "not needed" if tally.share is None else \
                f"{tally.share:.0%}  {tally.delivered} of {tally.expected}"
            many = f", {tally.overdone} too many" if tally.overdone else ""
            self._shares.addWidget(label(answer.value.capitalize(), "body", "quiet"), place // 3, place % 3 * 2)
            self._shares.addWidget(label(share + many), place // 3, place % 3 * 2 + 1)
        answered = [gap for gap in exercise.gaps if (gap.after or 0) in exercise.answers]
        self.table.setRowCount(len(answered))
        for row, gap in enumerate(answered):
            reasons = [f"{each.answer.value.capitalize()} was {'needed' if each.missed else 'not needed'}: {each.why}"
                       for each in result.differences if each.gap == gap]
            needs = ", ".join(sorted(need.answer for need in gap.needs)) or "nothing"
            fill_row(self.table, row, (f"{'≠' if reasons else '✓'}  {numbers.get(gap.after or 0, 'the end')}",
                                       ", ".join(sorted(exercise.answers[gap.after or 0])), needs,
                                       "\n".join(reasons) or " ".join(need.why for need in gap.needs)), gap)
        self.table.resizeRowsToContents()
        first = next((row for row, gap in enumerate(answered) if gap in wrong), 0)
        self.table.setCurrentCell(first, 0)
        self.table.setFocus()

    def _go_there(self) -> None:
        """To the chosen gap on the film, and back to the room."""
        item = self.table.item(self.table.currentRow(), 0)
        if item is not None and self.exercise is not None and not self._unkept:
            self.session.seek(item.data(Qt.ItemDataRole.UserRole).at)
            self.exercise = self._kept = None
            self.closed.emit()

"""The mentor's summary: the game on one page, with pictures, and the trend across games."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from html import escape
from pathlib import Path

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from ...coverage.camera_table import COLUMNS as CAMERA_COLUMNS
from ...coverage.camera_table import camera_cells, camera_rows
from ...coverage.coverage import Coverage
from ...coverage.policy import policies_of, verdicts
from ...coverage.summary import COLUMNS, HabitAdvice, Summary, Tally, summarise
from ...delivery.naming import safe_name
from ...delivery.policy_record import record_lines
from ...delivery.report import last_picture, withheld
from ...delivery.shapes import CAMERA_LEGEND
from ...film.time import Instant, spoken_time
from ...football.speaking import spoken_period
from ...season.games_trend import Trend, read_trend
from ...tagging.gamefile import SUFFIX
from ...tagging.model import Game
from ..asking import ask_for_files, ask_to_save
from ..jobs import Progress
from ..keys import KeyButton
from ..picture import fitted
from ..room import Desk
from ..session_holder import SessionHolder
from ..timeline.thumbnails import Thumbnails
from ..widgets import flow, in_column, in_row, label, push_button
from .trend import CameraChart, TrendChart

_CARD = 190         # pixels wide, for a figure and what it counts


class StillView(QWidget):
    """One picture of the film; comes when it is decoded."""

    def __init__(self, thumbnails: Thumbnails, at: Instant | None, words: str = ""):
        super().__init__()
        self._thumbnails, self._at, self._words = thumbnails, at, words
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        if at is not None:
            thumbnails.ready.connect(self.update)

    def sizeHint(self) -> QSize:
        """213 by 120 pixels."""
        return QSize(213, 120)

    def paintEvent(self, event) -> None:
        """Draw the still on black."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), Qt.GlobalColor.black)
        image: QImage | None = self._thumbnails.get(self._at) if self._at is not None else None
        if image is not None and not image.isNull():
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(fitted(QRectF(self.rect()), image), image)
        elif self._at is None or image is not None:
            painter.setPen(Qt.GlobalColor.white)
            painter.drawText(self.rect().adjusted(8, 8, -8, -8), Qt.AlignmentFlag.AlignCenter
                             | Qt.TextFlag.TextWordWrap, self._words or "no picture")


class SummaryPage(SessionHolder, QScrollArea):
    """Shows the summary of the session's game. ``asked`` carries the key of a finding to be seen."""

    asked = Signal(str)

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self._desk = desk
        self._thumbnails: Thumbnails | None = None
        self._shown: tuple[object, object] | None = None
        self._trend = Trend()
        self._games: list[Path] = []
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Summary of the game")
        desk.theme.changed.connect(self._rebuild)

    def show_session(self, session) -> None:
        """Take in another session and its thumbnails."""
        if self._thumbnails is not None:
            self._thumbnails.leave()
        self._thumbnails = Thumbnails.of(session) if session is not None else None
        self._session, self._shown, self._trend = session, None, Trend()
        self._games = []
        if session is None:
            self.setWidget(QWidget())

    def refresh(self) -> None:
        """Bring the page up to date if it is looked at and something has changed."""
        if not self.has_session or not self.isVisible():
            return
        basis = (self.session.coverage, self.session.game.decisions)
        if self._shown is None or basis[0] is not self._shown[0] or basis[1] != self._shown[1]:
            self._rebuild()

    def showEvent(self, event) -> None:
        """Bring the page up to date."""
        super().showEvent(event)
        self.refresh()

    def _rebuild(self) -> None:
        if not self.has_session or not self.isVisible():
            self._shown = None
            return
        game, coverage = self.session.game, self.session.coverage
        self._shown = (coverage, game.decisions)
        at = self.verticalScrollBar().value()
        page = QWidget()
        layout = in_column(self._head(game), on=page, margins=(16, 10, 16, 16), spacing=12)
        if coverage is None or not game.plays:
            layout.addWidget(label("Nothing is tagged yet, so there is nothing to sum up." if not game.plays else
                                   "The film is being compared with what its viewers needed…", "lead", "quiet"))
        else:
            summary = summarise(coverage)
            layout.addWidget(self._figures(summary))
            self._habits(layout, game, summary)
            self._table(layout, summary)
            self._camera_work(layout, summary)
            for line in summary.waiting:
                layout.addWidget(label(f"Not judged yet: {line}", "body", "quiet", wrap=True))
            self._policies(layout, game, coverage)
            self._trend_part(layout)
        layout.addStretch(1)
        self.setWidget(page)
        self.verticalScrollBar().setValue(at)

    def _policies(self, layout: QVBoxLayout, game: Game, coverage: Coverage) -> None:
        """Article by article, whether the film meets the policies that it is held to."""
        policies, _ = policies_of(game)
        if not policies:
            return
        layout.addWidget(label("Exchange policies", "lead"))
        for line in record_lines(verdicts(game, coverage, policies)):
            layout.addWidget(label(line.strip(), "body", "quiet" if line.startswith("    ") else "", wrap=True))

    def _head(self, game: Game) -> QVBoxLayout:
        around, buttons = flow()
        review = partial(self._ask, "Save the review", "Review of", self.save_report)
        for text, act in (("Save as PDF…", partial(review, ".pdf")), ("Save as page…", partial(review, ".html")),
                          ("One page to take home…", partial(self._ask, "Save the page to take home", "To take home,",
                                                             self.save_take_home, ".pdf"))):
            button = push_button(text, act, focus=Qt.FocusPolicy.StrongFocus)
            button.setEnabled(self.session.coverage is not None)
            buttons.addWidget(button)
        buttons.addWidget(KeyButton(self._desk.keys, "review.leave", "Back", act=lambda: self.asked.emit("")))
        return in_column(in_column(label(game.heading.spoken, "title", wrap=True),
                                   label(game.about, "body", "quiet", wrap=True)), around)

    def _figures(self, summary: Summary) -> QWidget:
        weakest = summary.weakest(1)
        astray = weakest[0][1].missed + weakest[0][1].overdone if weakest else 0
        lacks = (f"{astray}", f"{'time' if astray == 1 else 'times'} astray: {weakest[0][0]}, which lacks most") \
            if weakest else ("0", "findings that count")
        spare = sum(tally.overdone for _, tally in summary.practices())
        known = "–" if summary.share_known is None else f"{summary.share_known:.0%}"
        around, row = flow(12)
        for figure, words in ((known, f"of {summary.snaps} snaps: a viewer knew the down"),
                              lacks,
                              (str(spare), f"{'shot' if spare == 1 else 'shots'} more than a viewer needed"),
                              (spoken_time(summary.surplus_seconds),
                               f"of film could go, of {spoken_time(summary.film_seconds)}")):
            card = QFrame()
            card.setObjectName("card")
            number = label(figure, "title")
            number.setFont(self._desk.theme.font("call", bold=True))
            number.setStyleSheet(f"font-size: {self._desk.theme.pixels('call')}px; font-weight: 600;")
            in_column(number, label(words, "body", "quiet", wrap=True), on=card)
            card.setFixedWidth(round(_CARD * self._desk.theme.scale))
            row.addWidget(card)
        return around

    def _habits(self, layout: QVBoxLayout, game: Game, summary: Summary) -> None:
        if not summary.habits:
            layout.addWidget(label("No findings so far.", "lead", "quiet") if summary.waiting else
                             label("No findings: everything a viewer needed is in the film.", "lead", "good"))
            return
        layout.addWidget(label("What would help most", "title"))
        for number, habit in enumerate(summary.habits, 1):
            layout.addWidget(self._habit(game, number, habit))

    def _habit(self, game: Game, number: int, habit: HabitAdvice) -> QWidget:
        card = QFrame()
        card.setObjectName("card")
        example = habit.example
        hidden = withheld(game)(example)
        assert self._thumbnails is not None     # there is a session
        still = StillView(self._thumbnails, None if hidden else last_picture(game, example.at),
                          "Footage of an injured player is handled with discretion." if hidden else "")
        see = push_button("See it", lambda: self.asked.emit(example.key), f"See {example.title}",
                          focus=Qt.FocusPolicy.StrongFocus)
        words = in_column(label(f"{number}  {habit.advice}", "title", wrap=True),
                          label(f"It would have helped {habit.times}. Clearest at {spoken_time(example.time)}: "
                                f"{example.title}.", "body", wrap=True),
                          label(example.why, "body", "quiet", wrap=True), in_row(see, 1), 1)
        in_row(still, (words, 1), on=card)
        return card

    def _table(self, layout: QVBoxLayout, summary: Summary) -> None:
        if not summary.by_rule:
            return
        layout.addWidget(label("Rule by rule", "title"))
        periods = sorted({period for by_period in summary.by_rule.values() for period in by_period})
        heads = ("", *COLUMNS, *(spoken_period(period) for period in periods))
        lines = [heads]
        for rule, by_period in summary.by_rule.items():
            lines.append((rule, *summary.tally(rule).figures(),
                          *(by_period.get(period, Tally()).figures()[0] for period in periods)))
        table = self._written(lines, "Rule by rule")
        aside = QScrollArea()       # wider than the page, it is scrolled by itself, and everything else wraps
        aside.setWidget(table)
        aside.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        aside.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        table.adjustSize()
        aside.setFixedHeight(table.sizeHint().height() + aside.horizontalScrollBar().sizeHint().height() + 4)
        layout.addWidget(aside)
        for each in summary.remarks:
            words = f"{'Praise' if each.praise else 'Remark'}: {each.word}, {each.count}×"
            layout.addWidget(label(f"{words}. {each.advice}" if each.advice else f"{words}.", "body", wrap=True))

    def _camera_work(self, layout: QVBoxLayout, summary: Summary) -> None:
        """The measures of camera work over the game, or that there are none."""
        layout.addWidget(label("Camera work", "title"))
        if summary.unmeasured:
            key = self._desk.keys.shown("timeline.camera_work")
            layout.addWidget(label(f"{summary.unmeasured} {key} has the film measured.", "body", "quiet", wrap=True))
        coverage = self.session.coverage
        found = camera_rows(self.session.game, coverage) if coverage is not None else ()
        if coverage is None or not found:
            return
        chart = CameraChart(self._desk)
        chart.show_rows(found, coverage.film_seconds)
        layout.addWidget(chart)
        layout.addWidget(label(CAMERA_LEGEND, "small", "quiet", wrap=True))
        table = self._written((CAMERA_COLUMNS, *camera_cells(found)), "Camera work, measure by measure")
        table.setWordWrap(True)
        layout.addWidget(table)

    def _written(self, lines: Iterable[Iterable[str]], name: str) -> QLabel:
        """A table of words, the first line of which is its heads."""
        quiet = self._desk.theme.colours.quiet
        rows = ["".join(f"<td style='padding: 2px 12px 2px 0; {'' if number else f'color: {quiet}'}'>{escape(words)}"
                        "</td>" for words in line) for number, line in enumerate(lines)]
        table = QLabel(f"<table>{''.join(f'<tr>{row}</tr>' for row in rows)}</table>")
        table.setTextFormat(Qt.TextFormat.RichText)
        table.setAccessibleName(name)
        return table

    # -- across games --------------------------------------------------------------------------------------

    def _trend_part(self, layout: QVBoxLayout) -> None:
        layout.addLayout(in_row((label("Across games", "title"), 1),
                                push_button("Add games…", self._choose_games, focus=Qt.FocusPolicy.StrongFocus)))
        if self._trend.games:
            chart = TrendChart(self._desk)
            chart.show_trend(self._trend)
            layout.addWidget(chart)
        else:
            layout.addWidget(label("Add earlier games of this crew to see what gets better.", "body", "quiet"))
        for line in self._trend.left_out:
            layout.addWidget(label(f"Left out: {line}", "body", "bad", wrap=True))

    def _choose_games(self) -> None:
        ask_for_files(self, "Games to compare with", str(Path(self.session.file.path).parent), self.add_games,
                      f"Games (*{SUFFIX})")

    def add_games(self, paths: list[Path]) -> None:
        """Compare this game with others; they are read away from the UI thread."""
        here = Path(self.session.file.path)
        self._games = list(dict.fromkeys((*self._games, *(path.absolute() for path in paths))))
        everything = list(dict.fromkeys((*self._games, here)))
        session = self.session
        self._desk.jobs.start("Compare games", lambda progress: read_trend(everything, progress),
                              succeeded=lambda found: self._on_trend(session, found))

    def _on_trend(self, session, found: Trend) -> None:
        if session is self._session:
            self._trend = found
            self._rebuild()

    # -- on paper ------------------------------------------------------------------------------------------

    def _ask(self, title: str, what: str, save: Callable[[Path], None], suffix: str) -> None:
        name = safe_name(f"{what} {self.session.game.heading.spoken}")
        ask_to_save(self, title, Path(self.session.file.path).parent / f"{name}{suffix}", save)

    def save_take_home(self, to: Path) -> None:
        """Write the game on one page, with the trend of the games that were added."""
        session, trend = self.session, self._trend
        game, coverage = session.game, session.coverage
        if coverage is None:
            return

        def work(progress: Progress) -> Path:
            from ...delivery.take_home import write_take_home  # imported here: slow to import
            return write_take_home(game, coverage, trend, to, progress.cancelled)

        self._run(work, to)

    def save_report(self, to: Path) -> None:
        """Write the review as a paper or a web page, by the name's suffix, away from the UI thread."""
        session = self.session
        game, steps, coverage = session.game, session.steps, session.coverage
        if coverage is None:
            return

        def work(progress: Progress) -> Path:
            from ...delivery.report_writing import write_report  # imported here: slow to import
            return write_report(game, steps, coverage, to, progress.report, progress.cancelled)

        self._run(work, to)

    def _run(self, work: Callable[[Progress], Path], to: Path) -> None:
        session = self.session
        self._desk.jobs.start(f"Save {to.name}", work, succeeded=lambda path: session.notice.emit(f"Saved {path}"),
                              failed=lambda why: session.failed.emit(f"{to.name} was not saved: {why}",
                                                                     "Choose another folder and try again."))

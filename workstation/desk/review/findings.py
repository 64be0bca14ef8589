"""The list of findings with its filters."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QComboBox, QListView, QStyle, QStyledItemDelegate, QWidget

from ...coverage.finding import Finding
from ...coverage.finding_filter import FindingFilter, State, state_of
from ...coverage.severities import WORDS
from ...film.time import spoken_time
from ...football.speaking import spoken_period
from ...tagging.model import Decision
from ..keys import KeyButton
from ..room import Desk
from ..severities import INKS
from ..timeline.glyphs import glyph
from ..widgets import Field, Wrapping, flow, in_column, label, named, offer

_FINDING = Qt.ItemDataRole.UserRole
_STATE = Qt.ItemDataRole.UserRole + 1
_BORDERS = 12       # pixels around the rows
STATE_MARKS = {State.OPEN: "", State.AGREED: "✓ agreed", State.WAIVED: "✕ waived"}


class FindingModel(QAbstractListModel):
    """The findings as rows for a list."""

    def __init__(self, parent: QWidget | None = None):
        super().__init__(parent)
        self.findings: list[Finding] = []
        self._decisions: Mapping[str, Decision] = {}

    def show(self, findings: list[Finding], decisions: Mapping[str, Decision]) -> None:
        """Show these findings with what was decided about each."""
        self.beginResetModel()
        self.findings, self._decisions = findings, decisions
        self.endResetModel()

    def rowCount(self, parent: QModelIndex | QPersistentModelIndex | None = None) -> int:
        """The number of findings."""
        return 0 if parent is not None and parent.isValid() else len(self.findings)

    def data(self, index: QModelIndex | QPersistentModelIndex, role: int = Qt.ItemDataRole.DisplayRole):
        """Return what a row shows or says for this role."""
        finding = self.findings[index.row()]
        state = state_of(finding, self._decisions)
        if role == Qt.ItemDataRole.DisplayRole:
            return finding.title
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{finding.title}, {WORDS[finding.severity].lower()}, {state}, {_where(finding)}"
        if role == Qt.ItemDataRole.ToolTipRole:
            return finding.why
        return {_FINDING: finding, _STATE: state}.get(role)


def _where(finding: Finding) -> str:
    return f"{spoken_period(finding.period)} · {spoken_time(finding.time)}"


class _FindingDelegate(QStyledItemDelegate):
    """Two lines: what, then when and what became of it; the severity as a shape."""

    def __init__(self, desk: Desk, parent: QWidget):
        super().__init__(parent)
        self._theme = desk.theme

    def sizeHint(self, option, index) -> QSize:
        return QSize(200, self._theme.pixels("body") + self._theme.pixels("small") + 22)

    def paint(self, painter: QPainter, option, index) -> None:
        theme, finding, state = self._theme, index.data(_FINDING), State(index.data(_STATE))
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect: QRect = option.rect
        if chosen:
            painter.fillRect(rect, theme.colour("selected"))
            painter.fillRect(QRect(rect.left(), rect.top(), 3, rect.height()), theme.colour("accent"))
        ink = theme.colour("quiet" if state is not State.OPEN else INKS[finding.severity])
        size = theme.pixels("body")
        painter.translate(rect.left() + 12, rect.top() + (rect.height() - size) / 2)
        painter.setPen(QPen(ink, 1.5))
        painter.setBrush(Qt.BrushStyle.NoBrush if state is State.WAIVED else ink)
        painter.drawPath(glyph(str(finding.severity), size))
        painter.translate(-rect.left() - 12, -rect.top() - (rect.height() - size) / 2)
        area = QRectF(rect.adjusted(12 + size + 10, 6, -10, -6))
        painter.setFont(theme.font("body", bold=state is State.OPEN, condensed=True))
        painter.setPen(theme.colour("on_selected" if chosen else "text"))
        words = painter.fontMetrics().elidedText(finding.title, Qt.TextElideMode.ElideRight, int(area.width()))
        painter.drawText(area, Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft, words)
        painter.setFont(theme.font("small"))
        painter.setPen(theme.colour("on_selected" if chosen else "quiet"))
        painter.drawText(area, Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignLeft, _where(finding))
        painter.drawText(area, Qt.AlignmentFlag.AlignBottom | Qt.AlignmentFlag.AlignRight, STATE_MARKS[state])
        painter.setPen(theme.colour("line"))
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        painter.restore()


class _List(QListView):
    resized = Signal()

    def resizeEvent(self, event) -> None:
        super().resizeEvent(event)
        self.resized.emit()

    def focusInEvent(self, event) -> None:
        self.viewport().update()    # coming here must not choose a finding, for choosing plays it


class FindingList(Wrapping):
    """Findings by film time, filtered by rule, quarter, decision and words. ``chosen`` carries a finding or None."""

    chosen = Signal(object)

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self._findings: Sequence[Finding] = ()
        self._decisions: Mapping[str, Decision] = {}
        self.rule, self.period, self.state = QComboBox(self), QComboBox(self), QComboBox(self)
        for box, name in ((self.rule, "Rule"), (self.period, "Quarter"), (self.state, "Decision")):
            named(box, f"Filter by {name.lower()}")
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.rule.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.rule.setMinimumContentsLength(5)       # the names of rules are long
        self.state.addItem("any decision", None)
        for state in State:
            self.state.addItem(str(state), state)
        self.words = Field(name="Find words in findings", hint="Find words in findings", is_search=True)
        self.model = FindingModel(self)
        self.list = _List()
        self.list.setModel(self.model)
        self.list.setItemDelegate(_FindingDelegate(desk, self.list))
        self.list.setUniformItemSizes(True)
        self.list.setAccessibleName("Findings")
        self.list.selectionModel().currentChanged.connect(self._on_current)
        self.list.clicked.connect(self._on_current)
        self._count = label("", "small", "quiet")
        self._empty = label("", "lead", "quiet", wrap=True)
        self._empty.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._empty.setContentsMargins(12, 12, 12, 12)
        self.begin = KeyButton(desk.keys, "desk.tag", "Tag the first play", act=lambda: desk.keys.act("desk.tag"),
                               role="main")
        around, filters = flow(4, self)
        for box in (self.rule, self.period, self.state):
            filters.addWidget(box)
            box.currentIndexChanged.connect(self._refilter)
        in_column(around, self.words, self._count, (self.list, 1), self._empty,
                  (self.begin, 0, Qt.AlignmentFlag.AlignLeft), 0, on=self, margins=0, spacing=5)
        self.words.textChanged.connect(self._refilter)
        self.show_findings((), {}, "")

    def show_words(self, are_shown: bool) -> None:
        """Show the search of words and the count, or leave their room to the list; a search that is on stays."""
        self.words.setVisible(are_shown or bool(self.words.text()))
        self._count.setVisible(are_shown)

    @property
    def height_of_all(self) -> int:
        """Pixels in which the list shows every finding."""
        return self.list.sizeHintForRow(0) * len(self.model.findings) + _BORDERS

    @property
    def current(self) -> Finding | None:
        """The finding that is chosen, None if there is none."""
        index = self.list.currentIndex()
        return self.model.findings[index.row()] if index.isValid() else None

    def show_findings(self, findings: Sequence[Finding], decisions: Mapping[str, Decision], nothing: str,
                      begin: bool = False) -> None:
        """Show other findings; the filters and the chosen finding stay if they still apply.
        *nothing* is said where there are none at all, and *begin* offers to tag the first play."""
        self.begin.setVisible(begin)
        self._findings, self._decisions, self._nothing = findings, decisions, nothing
        offer(self.rule, [("any rule", None), *((rule, rule) for rule in dict.fromkeys(f.rule for f in findings))],
              self.rule.currentData())
        offer(self.period, [("any quarter", None), *((spoken_period(period), period) for period in
                                                     sorted({f.period for f in findings}))], self.period.currentData())
        self._refilter()

    def asked(self) -> FindingFilter:
        """Return the filter that the controls are set to."""
        state = self.state.currentData()      # Qt hands words back as plain text
        return FindingFilter(self.rule.currentData(), self.period.currentData(), State(state) if state else None,
                             self.words.text())

    def _refilter(self, *_: object) -> None:
        kept = self.current
        shown = self.asked().of(self._findings, self._decisions)
        self.list.selectionModel().blockSignals(True)
        self.model.show(shown, self._decisions)
        row = next((i for i, finding in enumerate(shown) if kept and finding.key == kept.key), -1)
        if row >= 0:
            self.list.setCurrentIndex(self.model.index(row))
        self.list.selectionModel().blockSignals(False)
        self.list.setVisible(bool(shown))
        self._empty.setVisible(not shown)
        self._empty.setText(self._nothing if not self._findings else
                            "No finding fits these filters. Choose “any” again to see the others.")
        still_open = sum(state_of(finding, self._decisions) is State.OPEN for finding in self._findings)
        self._count.setText(f"{len(shown)} of {len(self._findings)} shown, {still_open} open" if self._findings else "")
        if kept is not None:
            self.chosen.emit(self.current)

    def step(self, by: int) -> Finding | None:
        """Choose the finding *by* rows further; stays at the ends. Returns it, None if there are none."""
        if not self.model.findings:
            return None
        current = self.list.currentIndex()
        row = min(max(current.row() + by, 0), len(self.model.findings) - 1) if current.isValid() else 0
        self.list.setCurrentIndex(self.model.index(row))
        return self.current

    def choose(self, key: str) -> bool:
        """Choose a finding by key; filters that hide it are cleared."""
        for attempt in range(2):
            row = next((i for i, finding in enumerate(self.model.findings) if finding.key == key), -1)
            if row >= 0:
                self.list.setCurrentIndex(self.model.index(row))
                return True
            if attempt == 0:
                for box in (self.rule, self.period, self.state):
                    box.setCurrentIndex(0)
                self.words.clear()
        return False

    def _on_current(self, *_: object) -> None:
        self.chosen.emit(self.current)

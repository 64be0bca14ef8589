"""A strip at the foot of the window for one running job."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QProgressBar

from .jobs import Job, spoken_left
from .widgets import in_row, label, push_button


class JobStrip(QFrame):
    """One running job: what it is, how far, how long still, and a way to stop it."""

    def __init__(self, job: Job):
        super().__init__()
        self.setObjectName("panel")
        self._bar = QProgressBar()
        self._bar.setRange(0, 0)
        self._bar.setAccessibleName(job.title)
        self._left = label("", "small", "quiet")
        stop = push_button("Stop", job.cancel, f"Stop: {job.title}", focus=Qt.FocusPolicy.TabFocus)
        stop.clicked.connect(lambda: stop.setEnabled(False))
        in_row(label(job.title), (self._bar, 1), self._left, stop, on=self, margins=(12, 4, 12, 4))
        job.progressed.connect(self._tell)

    def _tell(self, fraction: float, left: float) -> None:
        self._bar.setRange(0, 1000)
        self._bar.setValue(round(fraction * 1000))
        self._left.setText(spoken_left(left))

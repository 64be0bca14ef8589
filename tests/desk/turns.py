"""What the UI thread does in each turn of the event loop, by what it calls, not by any clock.

A clock would judge the machine and whoever else uses it. What is called is the same on every machine: a turn that
decodes, checks, writes a film or brings in a big library is too long wherever it runs, and so is one that makes more
than :data:`MOST` calls. How many milliseconds a turn takes is for ``tests/bench/bench_desk.py``.
"""

from __future__ import annotations

import sys
from collections import Counter
from types import FrameType
from typing import Self

from PySide6.QtCore import QTimer

MOST = 30_000       # half as many again as the busiest turn of the end-to-end run makes
ELSEWHERE = ("/coverage/checker.py", "/film/decoder.py", "/film/probe.py", "/film/finding/survey.py",
             "/film/copying.py",
             "/delivery/rendering.py", "/delivery/copying.py", "/delivery/pack.py", "/delivery/papers.py",
             "/delivery/sheets.py", "/delivery/still.py", "/tagging/sheets.py", "/demo/")
HEAVY = {"av", "jinja2", "numpy", "openpyxl", "opentimelineio", "pandas", "PIL", "pyarrow", "reportlab", "scipy"}


class Turns:
    """While open, watches the thread that opened it; :meth:`complaints` says what should have been done elsewhere."""

    def __init__(self) -> None:
        self.most = 0                   # calls in the busiest turn
        self._calls = 0
        self._busiest: Counter[str] = Counter()
        self._where: Counter[str] = Counter()
        self._elsewhere: Counter[str] = Counter()
        self._timer = QTimer(interval=0, timeout=self._turn)

    def _turn(self) -> None:
        if self._calls > self.most:
            self.most, self._busiest = self._calls, self._where
        self._calls, self._where = 0, Counter()

    def _see(self, frame: FrameType, event: str, _: object) -> None:
        if event not in ("call", "c_call"):
            return
        self._calls += 1
        if event == "c_call":
            return
        code = frame.f_code
        self._where[f"{code.co_filename}:{code.co_name}"] += 1
        if code.co_name == "<module>":
            package = frame.f_globals.get("__name__", "").partition(".")[0]
            if package in HEAVY:
                self._elsewhere[f"import {package}"] += 1
        elif "/workstation/" in code.co_filename and any(part in code.co_filename for part in ELSEWHERE):
            self._elsewhere[f"{code.co_filename.partition('/workstation/')[2]}: {code.co_qualname}"] += 1

    def __enter__(self) -> Self:
        self._timer.start()
        sys.setprofile(self._see)
        return self

    def __exit__(self, *_: object) -> None:
        sys.setprofile(None)
        self._timer.stop()
        self._turn()

    def complaints(self) -> list[str]:
        said = [f"on the UI thread: {what}, {times} times" for what, times in self._elsewhere.items()]
        if self.most > MOST:
            said.append(f"one turn made {self.most} calls, most of them of {self._busiest.most_common(8)}")
        return said

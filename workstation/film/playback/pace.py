"""Whether a player keeps up: the share of a film's pictures that it shows."""

from __future__ import annotations

BEGUN = 0.7             # seconds of playing that do not count: every player takes a while to find its rhythm
WATCHED = 3.0           # seconds over which pictures are counted
ENOUGH = 0.8            # of the pictures; a picture here and there is not missed


class Pace:
    """Counts the pictures shown from each start of playing on. Times are seconds of a clock that never goes back."""

    def __init__(self) -> None:
        self._began: float | None = None
        self._shown = 0
        self._told = False

    def begin(self) -> None:
        """Playing begins, or goes on elsewhere."""
        self._began, self._shown, self._told = None, 0, False

    def shown(self, when: float, rate: float) -> float | None:
        """Take in a picture of film with ``rate`` pictures a second, shown at ``when``; see :meth:`judged`."""
        if self._began is None:
            self._began = when
        self._shown += when - self._began >= BEGUN
        return self.judged(when, rate)

    def judged(self, when: float, rate: float) -> float | None:
        """The share of the pictures that is shown, once, when enough time has passed and it is too small; else None."""
        if self._began is None or self._told or when - self._began < BEGUN + WATCHED:
            return None
        self._told = True
        share = self._shown / ((when - self._began - BEGUN) * rate)
        return share if share < ENOUGH else None

"""Going about the film: by pictures, seconds and shots, at another speed, round and round."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject

from ...tagging.layout import layout_of
from ..session_holder import SessionHolder


class Moving(SessionHolder, QObject):
    """The actions of the Tag room that move through the film."""

    def actions(self) -> dict[str, Callable[[], object]]:
        """What is done here at keys, by the ids of :mod:`~workstation.desk.actions`."""
        return {"tag.toggle": lambda: self.session.toggle(), "tag.to_snap": self.to_snap, "tag.loop": self.loop,
                "tag.film_start": lambda: self.session.seek_time(0),
                "tag.frame_back": lambda: self.session.step(-1), "tag.frame_ahead": lambda: self.session.step(1),
                "tag.second_back": lambda: self.skip(-1), "tag.second_ahead": lambda: self.skip(1),
                "tag.back": lambda: self.skip(-5), "tag.ahead": lambda: self.skip(5),
                "tag.slower": lambda: self.session.player.change_rate(-1),
                "tag.faster": lambda: self.session.player.change_rate(1)}

    def skip(self, seconds: float) -> None:
        """Go this number of seconds on, or back if negative."""
        self.session.seek_time(self.session.time + seconds)

    def turn(self, notches: int, shift: bool) -> None:
        """The wheel over the picture: a picture a notch, with Shift a second."""
        self.skip(notches) if shift else self.session.step(notches)

    def to_shot(self, steps: int) -> None:
        """Go to the beginning of the shot so many further on (back, if negative)."""
        session = self.session
        if not session.game.shots:
            return
        shots, time = session.game.shots, session.time
        starts = [session.film.time_of(shot.start) for shot in shots]
        if steps > 0:
            place = next((i for i, start in enumerate(starts) if start > time), len(shots) - 1)
        else:
            place = next((i for i in reversed(range(len(starts))) if starts[i] < time), 0)
        session.seek(shots[place].start)

    def to_snap(self) -> None:
        """To the snap of the play here, else the first in the shot."""
        session = self.session
        shot = session.shot_at(session.position)
        if shot is not None:
            snap = layout_of(session.game).snap_of_shot(shot.id, float(session.time))
            session.seek(snap or shot.start)

    def loop(self) -> None:
        """Play the shot round and round."""
        shot = self.session.shot_at(self.session.position)
        if shot is not None:
            self.session.play_span(shot.start, shot.end, loop=True)

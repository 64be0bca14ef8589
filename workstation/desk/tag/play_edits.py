"""What is done to the play at hand as a whole: another place in the game, another shot, out of the game."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from ...tagging.model import PlayTag
from ...tagging.new_play import filming, filming_from
from ...tagging.operations import FilmPlay, MovePlay, RemovePlay
from ..session_holder import SessionHolder
from .entry_state import EntryState


class PlayEdits(SessionHolder, QObject):
    """Acts on the play that *state* has at hand; nothing happens while that is a new one."""

    placed = Signal(int)        # the row of the play at hand from now on
    removed = Signal()
    refilmed = Signal(int)      # the row of the play at hand, which another shot films now

    def __init__(self, state: EntryState, parent: QObject | None = None):
        super().__init__(parent)
        self._state = state

    def actions(self) -> dict[str, Callable[[], object]]:
        """What is done here at keys, by the ids of :mod:`~workstation.desk.actions`."""
        return {"tag.play_earlier": lambda: self.move(-1), "tag.play_later": lambda: self.move(1),
                "tag.film_play": self.film, "tag.unfilm_play": self.unfilm, "tag.remove_play": self.remove,
                "tag.film_earlier": lambda: self.film_from(-1), "tag.film_later": lambda: self.film_from(1)}

    @property
    def _tag(self) -> PlayTag | None:
        return None if self._state.is_new else self.session.game.plays[self._state.row]

    def move(self, by: int) -> None:
        """Let the play come one earlier (-1) or later (1) in the game."""
        tag, row, plays = self._tag, self._state.row, self.session.game.plays
        if tag is None or not 0 <= row + by < len(plays):
            return
        behind = row - 2 if by < 0 else row + 1
        self._state.give_up()
        if self.session.do(MovePlay(tag.id, plays[behind].id if behind >= 0 else 0)) is not None:
            self.placed.emit(row + by)

    def film(self) -> None:
        """The shot under the film position films the play."""
        tag, shot = self._tag, self.session.shot_at(self.session.position)
        if tag is not None and shot is not None:
            self.session.do(filming(self.session.game, tag, shot))

    def film_from(self, by: int) -> None:
        """The previous (-1) or next (1) shot films this play, and so on for all later ones."""
        tag, session = self._tag, self.session
        if tag is None:
            return
        try:
            slipped = filming_from(session.game, self._state.row, by)
        except ValueError as error:
            session.notice.emit(f"Nothing was changed: {error}.")
            return
        if session.do(slipped) is not None:
            session.notice.emit("This play and all later ones are filmed one shot "
                                f"{'later' if by > 0 else 'earlier'}. Undo takes it back.")
            self.refilmed.emit(self._state.row)

    def unfilm(self) -> None:
        """Say that nobody filmed the play."""
        tag, row = self._tag, self._state.row
        if tag is not None and tag.shot is not None:
            self.session.do(FilmPlay(tag.id, None))
            self.placed.emit(row)

    def remove(self) -> None:
        """Remove the play in hand."""
        tag, row, session = self._tag, self._state.row, self.session
        if tag is None:
            return
        self._state.give_up()
        later = len(session.steps) - row - 1
        if session.do(RemovePlay(tag.id)) is not None:
            session.notice.emit(f"Play {row + 1} removed; {later} later ones were worked out again.")
            self.removed.emit()

"""Saves the sheet of plays, the game for other tools, or a picture as one file, and makes a game of such a file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from ..film.writing import unused
from ..tagging.drawn import shown_at, spans_of
from ..tagging.layout import layout_of, play_shown
from .asking import ask_to_save
from .room import Desk

if TYPE_CHECKING:
    from .session import Session

_SHEETS = "Excel (*.xlsx);;Text (*.csv);;Parquet (*.parquet)"


def game_from_document(document: Path) -> Path:
    """Make a game file of a game in JSON, beside it and over nothing; returns its path. Not for the UI thread.
    Raises ExchangeError or OSError."""
    from ..tagging.exchange import import_game
    from ..tagging.gamefile import SUFFIX
    path = unused(document.parent, document.stem, SUFFIX)
    import_game(document, path).close()
    return path


class FileSaver(QObject):
    """Asks where to write, then writes in a job; the session tells how it went."""

    def __init__(self, desk: Desk, window: QWidget):
        super().__init__(window)
        self._desk, self._window = desk, window

    def choose_sheet(self, session: Session) -> None:
        """Ask where the sheet of plays goes and write it."""
        self._ask(session, "Write the sheet of plays", "plays.xlsx", _SHEETS, self.write_sheet)

    def choose_document(self, session: Session) -> None:
        """Ask where the game goes as JSON and write it."""
        self._ask(session, "Write the game for other tools", f"{session.file.path.stem}.json", "JSON (*.json)",
                  self.write_document)

    def choose_picture(self, session: Session) -> None:
        """Ask where the picture at the playhead goes and write it."""
        if session.position is not None:
            name = session.film.source(session.position.source).path.stem
            at = f"{float(session.time):.2f}".replace(".", " ")
            self._ask(session, "Keep this picture", f"{name} {at}.png", "PNG (*.png)", self.write_picture)

    def _ask(self, session: Session, title: str, name: str, forms: str, write: Callable[[Session, Path], None]) -> None:
        session.pause()
        ask_to_save(self._window, title, session.file.path.parent / name, lambda path: write(session, path), forms)

    # -- writing ------------------------------------------------------------------------------
    def write_sheet(self, session: Session, to: Path) -> None:
        """Every play with its situation, result, times and findings; beside it the tendencies."""
        game, steps, coverage = session.game, session.steps, session.coverage
        # A name that no file has, because nobody was asked to overwrite one.
        beside = unused(to.parent, f"{to.stem} tendencies", to.suffix)

        def write(progress: Callable[[float, float], None]) -> Path:
            from ..delivery.sheets import findings_by_play, plays_sheet, tendencies, write_sheet
            write_sheet(plays_sheet(game, steps, findings_by_play(coverage.findings if coverage else ())), to)
            progress(0.5, 1.0)
            write_sheet(tendencies(game, steps), beside)
            return to
        self._run(session, write, to, f" and {beside.name}")

    def write_document(self, session: Session, to: Path) -> None:
        """All that was said about the game, as documented JSON."""
        game = session.file.game        # as stored, without what is wrong with its footage on this machine

        def write(progress: Callable[[float, float], None]) -> Path:
            from ..tagging.exchange import write_json
            write_json(game, to)
            return to
        self._run(session, write, to)

    def write_picture(self, session: Session, to: Path) -> None:
        """The exact picture on show, with its source, time, frame and situation in the file; what is drawn on it is in
        a second one beside it."""
        from ..football.speaking import spoken_situation
        film, at = session.film, session.position
        if at is None:
            return
        play = play_shown(layout_of(session.game), at)
        situation = spoken_situation(session.step_of(play).before, session.rulebook.field_length) if play else ""
        game = session.game
        is_drawn_on = bool(shown_at(spans_of(game), game.drawings, session.time))
        beside = unused(to.parent, f"{to.stem} with drawings", to.suffix)

        def write(progress: Callable[[float, float], None]) -> Path:
            from ..delivery.overlay import Marks, drawn_on
            from ..delivery.still import still, write_png
            taken = still(film, at)
            painted = drawn_on(taken, Marks(film, game.drawings, shots=game.shots)) if is_drawn_on else None
            if painted is not None:
                write_png(painted, situation, beside)
            return write_png(taken, situation, to)
        self._run(session, write, to, f" and {beside.name}" if is_drawn_on else "")

    def _run(self, session: Session, write: Callable[[Callable[[float, float], None]], Path], to: Path,
             also: str = "") -> None:
        self._desk.jobs.start(f"Write {to.name}", write,
                              succeeded=lambda path: session.notice.emit(f"Written: {path}{also}"),
                              failed=lambda why: session.failed.emit(f"{to.name} was not written: {why}",
                                                                     "Choose another folder and try again."))

"""One file out of the desk, and back in, through the window's own dialogs."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog

from tests.desk.small_game import PLAYS
from workstation.film.frames import FrameReader
from workstation.film.picture import converted
from workstation.football.speaking import spoken_situation
from workstation.tagging.gamefile import GameFile

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def hand(qtbot, opened):
    def write(choose, to):
        """Choose a file in the dialog, and wait until it is written or was not."""
        choose()
        dialog = next(widget for widget in opened.findChildren(QFileDialog) if widget.isVisible())
        with qtbot.waitSignal(opened.desk.jobs.finished, timeout=30000):
            dialog.fileSelected.emit(str(to))
        dialog.close()
    return write


def test_the_sheet_of_plays_and_the_tendencies(opened, hand, tmp_path):
    hand(lambda: opened.saving.choose_sheet(opened.session), tmp_path / "game.xlsx")
    sheet = pd.read_excel(tmp_path / "game.xlsx")
    assert len(sheet) == len(PLAYS) and list(sheet["kind"]) == [str(play.kind) for play in PLAYS]
    assert pd.read_excel(tmp_path / "game tendencies.xlsx")["plays"].sum() > 0


def test_the_game_goes_out_and_comes_back_whole(qtbot, opened, hand, tmp_path):
    hand(lambda: opened.saving.choose_document(opened.session), tmp_path / "game.json")
    kept = opened.session.file.game
    (tmp_path / "game.game").write_bytes(b"something else, not to be written over")
    opened.opening.open_game(tmp_path / "game.json")
    qtbot.waitUntil(lambda: opened.session is not None and opened.session.file.path.name == "game 2.game",
                    timeout=30000)
    assert opened.session.game == kept
    assert (tmp_path / "game.game").read_bytes().startswith(b"something else")


def test_the_picture_on_show_is_kept_exactly(qtbot, opened, hand, tmp_path):
    session = opened.session
    session.seek_time(25)
    qtbot.waitUntil(lambda: not session.player.waiting, timeout=20000)
    hand(lambda: qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_S, CTRL | SHIFT), tmp_path / "kept.png")
    with Image.open(tmp_path / "kept.png") as kept:
        reader = FrameReader(session.film)
        try:
            theirs = converted(reader.frame_at(session.position).frame, "rgb24", 3, exact=True)
        finally:
            reader.close()
        assert np.array_equal(np.asarray(kept), theirs)
        assert kept.text["Source"] == "high.mp4" and kept.text["Frame"] == str(25 * 25 + 1)
        assert kept.text["Title"] == spoken_situation(session.steps[2].before,
                                                      session.rulebook.field_length) == "2nd & 7 at own 28"


def test_what_cannot_be_written_is_told(opened, hand, tmp_path):
    hand(lambda: opened.saving.choose_document(opened.session), tmp_path / "nowhere" / "game.json")
    assert "game.json was not written" in opened.message.text


def test_a_document_that_is_no_game_is_told(qtbot, opened, tmp_path):
    (tmp_path / "other.json").write_text("{}", encoding="utf-8")
    with GameFile.open(opened.session.file.path, read_only=True) as file:
        before = file.game
    opened.opening.open_game(tmp_path / "other.json")
    qtbot.waitUntil(lambda: "other.json" in opened.message.text, timeout=20000)
    assert opened.session.game == before and not (tmp_path / "other.game").exists()

"""The desk says that a game file was taken away from under it, goes on in the rescue file, and remembers that one."""

from __future__ import annotations

import stat
from pathlib import Path

from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Note
from workstation.tagging.operations import AddRecord


def test_the_desk_goes_on_in_a_rescue_file_and_says_so(opened):
    session = opened.session
    path = session.file.path
    path.unlink()
    session.do(AddRecord(Note(0, session.film.sources[0].first, "said while there is no file")))
    assert opened.message.isVisible() and "deleted" in opened.message.text and "rescued" in opened.message.text
    rescue = session.file.path
    assert rescue != path and opened.opening.recent()[0] == rescue
    session.do(AddRecord(Note(0, session.film.sources[0].first, "and after")))
    opened.close_game()
    with GameFile.open(rescue, read_only=True) as file:
        assert {"said while there is no file", "and after"} <= {note.text for note in file.game.notes}


def test_what_is_lost_before_closing_is_told_on_the_welcome(opened):
    path = opened.session.file.path
    path.unlink()
    opened.close_game()
    assert "rescued" in opened.message.text and opened.opening.recent()[0].exists()


def test_settings_are_for_their_user_only(opened):
    opened.settings.sync()
    assert stat.S_IMODE(Path(opened.settings.fileName()).stat().st_mode) == 0o600


def test_a_copy_that_was_changed_apart_is_told_on_opening(qtbot, window, small_game):
    other = small_game.with_name("laptop.game")
    other.write_bytes(small_game.read_bytes())
    for path in (small_game, other):
        with GameFile.open(path) as file:
            file.do(AddRecord(Note(0, file.game.film.sources[0].first, f"said in {path.name}")))
    window.opening.open_game(small_game)
    qtbot.waitUntil(lambda: window.session is not None and window.message.isVisible(), timeout=30000)
    assert "laptop.game is the same game, changed apart" in window.message.text

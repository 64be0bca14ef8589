"""The page of the film's files, with real keys and clicks on a film of 43."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from tests.desk.small_game import PLAYS
from workstation.film.playing_copy import folder, lightened

ALT = Qt.KeyboardModifier.AltModifier


@pytest.fixture
def page(qtbot, window, demo_game_file):
    (demo_game_file.parent / "film" / "CLIP0005.MP4").write_bytes(b"")
    window.opening.open_game(demo_game_file)
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_F7)
    assert window.stack.currentWidget() is window.overlays.page("files")
    return window.overlays.page("files")


def names(page):
    return [page.table.item(row, 0).text() for row in range(page.table.rowCount())]


def state(page, row):
    return page.table.item(row, page.table.columnCount() - 1).text()


def test_it_tells_what_each_file_is_and_what_is_wrong_with_it(page):
    assert page.title.text().startswith("43 files, ") and page.title.text().endswith("1 cannot be shown")
    assert names(page)[:3] == ["CLIP0001.MP4", "CLIP0002.MP4", "CLIP0003.MP4"]
    assert page.table.item(0, 3).text() == "320×180p 29.97, h264" and page.table.item(0, 4).text() == "aac"
    assert state(page, 0) == "1 shot" and "bytes are missing" in state(page, 4)


def test_the_order_is_corrected_by_key_and_put_back_as_numbered(qtbot, page, window):
    table, session = page.table, window.session
    tagged = session.game.shots
    table.setCurrentCell(1, 0)
    qtbot.keyClick(table, Qt.Key.Key_Down, ALT)
    qtbot.keyClick(table, Qt.Key.Key_Down, ALT)
    assert names(page)[:4] == ["CLIP0001.MP4", "CLIP0003.MP4", "CLIP0004.MP4", "CLIP0002.MP4"]
    assert table.currentRow() == 3
    assert {shot.id: shot.start for shot in session.game.shots} == {shot.id: shot.start for shot in tagged}
    qtbot.keyClick(table, Qt.Key.Key_Up, ALT)
    assert names(page)[2] == "CLIP0002.MP4"
    qtbot.mouseClick(page.sort, Qt.MouseButton.LeftButton)
    assert names(page) == sorted(names(page)) and len(names(page)) == 43
    for _ in range(4):
        window.undo()
    assert names(page) == sorted(names(page))


def test_a_file_with_tags_is_left_out_only_when_asked_for_twice(qtbot, page, window):
    session = window.session
    page.table.setCurrentCell(2, 0)
    before = session.game
    qtbot.keyClick(page.table, Qt.Key.Key_Delete)
    assert len(session.film.sources) == 43 and "1 shot is tagged on CLIP0003.MP4" in page._said.text()
    page.table.setCurrentCell(3, 0)             # another row: nothing was agreed about it
    qtbot.keyClick(page.table, Qt.Key.Key_Delete)
    assert len(session.film.sources) == 43
    qtbot.keyClick(page.table, Qt.Key.Key_Delete)
    assert "CLIP0004.MP4" not in names(page) and len(session.film.sources) == 42
    assert len(session.game.plays) == len(before.plays)
    assert session.film.sources[3].path.parent.joinpath("CLIP0004.MP4").exists()
    window.undo()
    assert session.game == before and len(names(page)) == 43


def test_lighter_copies_are_made_seen_and_deleted_here(qtbot, page, window, monkeypatch):
    film = window.session.film
    assert not page.lighten.isVisible() and not page.unlighten.isVisible()      # no file is large, and none has a copy
    monkeypatch.setattr("workstation.film.playing_copy.LARGE", 100)
    monkeypatch.setattr("workstation.film.playing_copy.LINES", 100)
    monkeypatch.setattr("workstation.film.playing_copy.has_lighter", lambda source: source in film.sources[:2])
    page._fill()
    assert page.lighten.text().endswith("of 2 files")
    qtbot.mouseClick(page.lighten, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: page.unlighten.isVisible(), timeout=60000)
    assert not page.lighten.isVisible() and "lighter copies, 1 MB" in page.unlighten.text()
    assert state(page, 0) == "1 shot · plays from a lighter copy of 1 MB" and state(page, 2) == "1 shot"
    assert len(lightened(film)) == 2
    qtbot.mouseClick(page.unlighten, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not page.unlighten.isVisible(), timeout=30000)
    assert lightened(film) == () and state(page, 0) == "1 shot" and "free again" in window.toast.text()
    assert all(source.path.exists() for source in film.sources)


def test_lighter_copies_of_other_films_can_be_deleted_too(qtbot, page):
    other = folder() / "0123456789.mp4"
    other.parent.mkdir(parents=True, exist_ok=True)
    other.write_bytes(bytes(7_000_000))
    page._fill()
    assert page.unlighten.text() == "Delete the lighter copies of other films, 7 MB"
    qtbot.mouseClick(page.unlighten, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: not other.exists(), timeout=30000)
    qtbot.waitUntil(lambda: not page.unlighten.isVisible(), timeout=30000)


def test_enter_goes_to_the_file_and_escape_back(qtbot, page, window):
    page.table.setCurrentCell(9, 0)
    qtbot.keyClick(page.table, Qt.Key.Key_Return)
    assert window.stack.currentWidget() is window.room
    assert window.session.position == window.session.film.sources[9].first
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_F7)
    assert page.table.currentRow() == 9         # where the film stands
    qtbot.keyClick(page.table, Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is window.room


def test_a_game_that_may_only_be_read_keeps_its_order(qtbot, window, small_game):
    from workstation.tagging.gamefile import GameFile
    with GameFile.open(small_game):             # another desk has it
        window.opening.open_game(small_game)
        qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
        assert len(window.session.game.plays) == len(PLAYS)
        window.act("desk.files")
        qtbot.keyClick(window.overlays.page("files").table, Qt.Key.Key_Delete)
        assert len(window.session.film.sources) == 1 and not window.overlays.page("files").leave_out.isEnabled()

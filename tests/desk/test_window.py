from __future__ import annotations

import os
import shutil
import threading
from functools import partial

from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QLineEdit, QPlainTextEdit, QPushButton

from tests.desk.small_game import PLAYS
from workstation.desk.first_look import FirstLook
from workstation.desk.timeline.lanes import Basis, ShotsLane
from workstation.desk.window import MainWindow
from workstation.film.playing_copy import delete_lighter, lightened
from workstation.film.probe import probe
from workstation.film.sources import open_film
from workstation.tagging.gamefile import GameFile
from workstation.tagging.layout import FilmLayout
from workstation.tagging.model import Game, Heading
from workstation.tagging.new_game import game_path
from workstation.tagging.operations import SetHeading


def wait_for_game(qtbot, window):
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)


def test_first_start_greets_with_demo_and_footage(window):
    assert window.stack.currentWidget() is window.welcome
    assert window.welcome.demo.isVisible() and window.welcome.footage.isVisible() and window.welcome.game.isVisible()
    assert window.welcome.demo.hasFocus()
    assert not window._room_buttons["Tag"].isEnabled()
    assert "Ctrl+Shift+O" in window.welcome.footage.toolTip()


def test_opens_a_game_and_goes_through_the_rooms_by_key(qtbot, opened):
    window = opened
    assert window.room.name == "Tag" and "Harbor" in window.title.text()
    at = window.session.film.instant_at(30)
    window.session.seek(at)
    for key, name in ((Qt.Key.Key_2, "Review"), (Qt.Key.Key_3, "Sequence"), (Qt.Key.Key_1, "Tag")):
        qtbot.keyClick(QApplication.focusWidget(), key, Qt.KeyboardModifier.ControlModifier)
        qtbot.waitUntil(lambda name=name: window.room.name == name, timeout=30000)      # made when first asked for
        assert window._room_buttons[name].isChecked()
        assert window.session.film.time_of(window.session.position) >= 29     # one film position for all rooms


def test_a_closed_game_is_listed_and_opens_again_where_it_was(qtbot, opened):
    window, path = opened, opened.session.file.path
    window.close_game()
    assert window.stack.currentWidget() is window.welcome
    assert window.opening.recent() == [path]

    def rows():
        return [button for button in window.welcome.findChildren(QPushButton) if str(path.parent) in button.text()]
    qtbot.waitUntil(lambda: [row.isVisible() for row in rows()] == [True])      # what was listed before goes
    (row,) = rows()
    assert window.welcome.demo.hasFocus()
    row.setFocus()
    assert row.hasFocus()
    qtbot.keyClick(row, Qt.Key.Key_Return)
    wait_for_game(qtbot, window)
    assert len(window.session.game.plays) == len(PLAYS)


def test_a_file_that_is_no_game_is_told_with_its_name_and_what_to_do(qtbot, opened, tmp_path):
    wrong = tmp_path / "holiday.game"
    wrong.write_text("not a game")
    before = opened.session
    opened.opening.open_game(wrong)
    qtbot.waitUntil(lambda: bool(opened.message.text), timeout=10000)
    assert "holiday.game" in opened.message.text and "Choose another file" in opened.message.text
    assert opened.session is before
    qtbot.mouseClick(opened.message._dismiss, Qt.MouseButton.LeftButton)
    assert not opened.message.isVisible()


def test_footage_becomes_a_game_file_beside_it(qtbot, window, small_film, tmp_path):
    folder = tmp_path / "card"
    folder.mkdir()
    shutil.copy(small_film.sources[0].path, folder / "C0001.MP4")
    window.opening.open_footage([folder])
    wait_for_game(qtbot, window)
    assert window.session.file.path == folder / "card.game"
    assert len(window.session.film.sources) == 1
    assert (folder / "card.game").exists()


def test_the_first_picture_shows_while_more_footage_is_read(qtbot, window, small_film, tmp_path, monkeypatch):
    for number in (1, 2, 3):
        (tmp_path / f"C000{number}.MP4").write_bytes(
            small_film.sources[0].path.read_bytes() + (16).to_bytes(4) + b"free" + number.to_bytes(8))
    read, go_on = [], threading.Event()

    def slow(path, id):
        if read:
            go_on.wait(20)
        read.append(path.name)
        return probe(path, id)

    monkeypatch.setattr("workstation.film.sources.probe", slow)
    window.opening.open_footage([tmp_path])
    qtbot.waitUntil(lambda: isinstance(window.stack.currentWidget(), FirstLook), timeout=10000)
    shown = window.stack.currentWidget().image
    assert (shown.width(), shown.height()) == small_film.sources[0].display_size and read == ["C0001.MP4"]
    go_on.set()
    wait_for_game(qtbot, window)
    assert len(window.session.film.sources) == 3
    qtbot.waitUntil(lambda: window.findChild(FirstLook) is None, timeout=10000)


def test_footage_that_cannot_become_a_game_gives_the_welcome_back(qtbot, window, small_film, tmp_path, monkeypatch):
    shutil.copy(small_film.sources[0].path, tmp_path / "C0001.MP4")
    go_on = threading.Event()

    def fail(*_):
        go_on.wait(20)
        raise OSError("no room")

    monkeypatch.setattr("workstation.tagging.new_game.start_game", fail)
    window.opening.open_footage([tmp_path])
    qtbot.waitUntil(lambda: isinstance(window.stack.currentWidget(), FirstLook), timeout=10000)
    go_on.set()
    qtbot.waitUntil(lambda: "no room" in window.message.text, timeout=10000)
    assert window.stack.currentWidget() is window.welcome


def test_footage_opened_again_is_the_game_that_was_begun_on_it(qtbot, window, small_film, tmp_path):
    shutil.copy(small_film.sources[0].path, tmp_path / "C0001.MP4")
    begun = tmp_path / "Friday.game"
    GameFile.create(begun, game=Game(Heading(title="Friday"), open_film([tmp_path]))).close()
    (tmp_path / "damaged.game").write_bytes(b"nothing good")
    (tmp_path / "C0001.MP4").rename(tmp_path / "C0009.MP4")
    window.opening.open_footage([tmp_path])
    wait_for_game(qtbot, window)
    assert window.session.file.path == begun and window.session.game.heading.title == "Friday"
    assert {path.name for path in tmp_path.glob("*.game")} == {"Friday.game", "damaged.game"}


def test_an_empty_folder_says_so(qtbot, window, tmp_path):
    (tmp_path / "empty").mkdir()
    window.opening.open_footage([tmp_path / "empty"])
    qtbot.waitUntil(lambda: bool(window.message.text), timeout=10000)
    assert "empty" in window.message.text and window.session is None
    assert list((tmp_path / "empty").iterdir()) == []


def test_what_is_dropped_is_opened(qtbot, window, small_game):
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(small_game))])
    event = QDropEvent(QPointF(100, 100), Qt.DropAction.CopyAction, mime, Qt.MouseButton.LeftButton,
                       Qt.KeyboardModifier.NoModifier)
    window.dropEvent(event)
    wait_for_game(qtbot, window)
    assert window.session.file.path == small_game


def test_a_new_game_never_takes_the_name_of_another(tmp_path):
    (tmp_path / "Week 3").mkdir()
    (tmp_path / "Week 3" / "Week 3.game").touch()
    assert game_path([tmp_path / "Week 3"]).name == "Week 3 2.game"
    assert game_path([tmp_path / "clip.mp4"]).name.endswith(".game")


def test_a_game_that_someone_else_holds_opens_for_reading_and_says_so(qtbot, window, tmp_path):
    held = GameFile.create(tmp_path / "held.game", Heading("Held"))
    try:
        window.opening.open_game(tmp_path / "held.game")
        wait_for_game(qtbot, window)
        assert "reading only" in window.message.text and f"process {os.getpid()}" in window.message.text
        assert window.saved.text() == "read only"
    finally:
        window.close_game()
        held.close()


def test_undo_and_redo_by_key_survive_closing(qtbot, opened):
    window = opened
    room = window.room
    room.go_to_row(1)
    qtbot.keyClicks(room.line, "r9")
    qtbot.keyClick(room.line, Qt.Key.Key_Return)
    assert window.session.game.plays[1].play.gain == 9
    path = window.session.file.path
    window.close_game()
    window.opening.open_game(path)
    wait_for_game(qtbot, window)
    assert "change play 2" in window.undo_button.toolTip()
    window.room.line.setFocus()
    window.room.line.clear()
    qtbot.keyClick(window.room.line, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.session.game.plays[1].play == PLAYS[1]
    assert window.toast.isVisible() and "change play 2" in window.toast.text()
    qtbot.mouseClick(window.redo_button, Qt.MouseButton.LeftButton)
    assert window.session.game.plays[1].play.gain == 9


def test_the_key_page_comes_and_goes_with_one_key(qtbot, opened):
    qtbot.keyClick(opened.room.line, Qt.Key.Key_F1, Qt.KeyboardModifier.ShiftModifier)
    assert opened.stack.currentWidget() is opened.overlays.page("keys")
    qtbot.keyClick(opened.overlays.page("keys").search, Qt.Key.Key_Escape)
    assert opened.stack.currentWidget() is opened.room


def test_light_and_dark_and_text_size_are_remembered(qtbot, window):
    dark = window.theme.dark
    qtbot.keyClick(window, Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    assert window.theme.dark is not dark
    qtbot.keyClick(window, Qt.Key.Key_Equal, Qt.KeyboardModifier.AltModifier)
    assert window.theme.scale > 1
    assert window.settings.value("look/dark") in (not dark, str(not dark).lower())


def test_everything_that_can_be_used_has_a_name_for_screen_readers(qtbot, opened):
    for name in ("Tag", "Review", "Sequence"):
        opened.go_to(name)
        nameless = [widget for kind in (QAbstractButton, QLineEdit, QComboBox, QPlainTextEdit)
                    for widget in opened.findChildren(kind)
                    if widget.isVisible() and not (widget.accessibleName() or getattr(widget, "text", str)())
                    and widget.objectName() != "qt_spinbox_lineedit"]
        assert not nameless, name


def test_the_tag_room_can_be_walked_by_tab(qtbot, opened):
    opened.room.line.setFocus()
    seen = set()
    for _ in range(80):
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        seen.add(QApplication.focusWidget().accessibleName())
    room = opened.room
    wanted = [room.plays, room.strip.play_button, room.line, room.panel.commit, opened.menu_button,
              *room.marks.values()]
    assert not [widget.accessibleName() for widget in wanted if widget.accessibleName() not in seen]


def test_fits_1280_by_800_and_twice_the_text(qtbot, opened):
    for scale in (1.0, 2.0):
        with qtbot.waitSignal(opened.theme.changed):
            opened.theme.apply(scale=scale)
        QApplication.processEvents()        # layouts follow
        assert opened.minimumSizeHint().width() <= 1280, scale
        picture = opened.room.picture
        assert picture.height() >= 135
    with qtbot.waitSignal(opened.theme.changed):
        opened.theme.apply(scale=1.0)
    QApplication.processEvents()
    picture, others = opened.room.picture, (opened.room.panel, opened.room.situation, opened.room.plays,
                                            opened.room.timeline)
    assert all(picture.width() * picture.height() > other.width() * other.height() for other in others)


def test_a_damaged_game_offers_its_backup_with_one_button(qtbot, window, small_game):
    with GameFile.open(small_game) as file:
        file.do(SetHeading(Heading("Harbor at Summit", "Summit", "Harbor", venue="Upper field")))
    damaged = bytearray(small_game.read_bytes())
    damaged[200:20000] = b"\0" * 19800
    small_game.write_bytes(damaged)
    window.opening.open_game(small_game)
    qtbot.waitUntil(lambda: bool(window.message.text), timeout=10000)
    assert window.session is None and "small.game" in window.message.text
    qtbot.mouseClick(window.message._way_out, Qt.MouseButton.LeftButton)
    wait_for_game(qtbot, window)
    assert len(window.session.game.plays) == len(PLAYS)


def test_footage_that_is_gone_is_told_and_found_again_in_another_folder(qtbot, window, small_film, tmp_path):
    from dataclasses import replace

    from workstation.film.film import Film
    from workstation.tagging.model import Game
    (source,) = small_film.sources
    gone = Film((replace(source, path=tmp_path / "card" / "high.mp4"),))
    (tmp_path / "games").mkdir()
    GameFile.create(tmp_path / "games" / "away.game", game=Game(Heading("Away", "Summit", "Harbor"), gone)).close()
    window.opening.open_game(tmp_path / "games" / "away.game")
    wait_for_game(qtbot, window)
    qtbot.waitUntil(lambda: "high.mp4" in window.message.text, timeout=10000)
    # The player has a reason too, and must not take the way out away.
    qtbot.waitUntil(lambda: bool(window.session.player.trouble), timeout=20000)
    assert "The tags are safe" in window.message.text and window.message._way_out.isVisible()
    qtbot.keyClicks(window.room.line, "hr")
    qtbot.keyClick(window.room.line, Qt.Key.Key_Return)       # tagging goes on
    assert len(window.session.game.plays) == 1
    shutil.copy(source.path, tmp_path / "renamed.mp4")
    window.opening.look_for_footage(tmp_path)
    qtbot.waitUntil(lambda: window.session.film.sources[0].path == tmp_path / "renamed.mp4", timeout=20000)
    qtbot.waitUntil(lambda: not window.session.player.frame.isNull(), timeout=20000)


def test_other_footage_is_never_shown_for_what_was_tagged(qtbot, window, demo_game_file):
    film = demo_game_file.parent / "film"
    (film / "CLIP0004.MP4").write_bytes((film / "CLIP0009.MP4").read_bytes())      # another recording under its name
    (film / "CLIP0005.MP4").write_bytes(b"")
    window.opening.open_game(demo_game_file)
    wait_for_game(qtbot, window)
    player = window.session.player
    qtbot.waitUntil(lambda: not player.frame.isNull(), timeout=20000)
    assert "2 of the film's 43 files cannot be shown: CLIP0004.MP4, CLIP0005.MP4." in window.message.text
    for name in ("CLIP0004.MP4", "CLIP0005.MP4"):
        source = next(source for source in window.session.film.sources if source.path.name == name)
        window.session.seek(source.first)
        qtbot.waitUntil(lambda name=name: name in player.trouble, timeout=20000)
        assert player.frame.isNull() and window.session.position == source.first
    lane = ShotsLane(None)
    lane.prepare(Basis(window.session.game, window.session.steps, None, FilmLayout(window.session.game)))
    assert len(lane._dark) == 2
    assert "is not " in lane.items.tooltip[3] and "bytes are missing" in lane.items.tooltip[4]
    window.session.seek(window.session.film.sources[5].first)
    qtbot.waitUntil(lambda: not player.frame.isNull() and not player.trouble, timeout=20000)
    assert window.session.file.game.film.sources[3].problem is None     # what is wrong today is not kept


def test_footage_moved_along_with_its_game_is_taken_up_by_itself(qtbot, window, small_film, tmp_path):
    from dataclasses import replace

    from workstation.film.film import Film
    from workstation.tagging.model import Game
    (source,) = small_film.sources
    gone = Film((replace(source, path=tmp_path / "card" / "high.mp4"),))
    GameFile.create(tmp_path / "away.game", game=Game(Heading("Away", "Summit", "Harbor"), gone)).close()
    shutil.copy(source.path, tmp_path / "high.mp4")
    window.opening.open_game(tmp_path / "away.game")
    wait_for_game(qtbot, window)
    qtbot.waitUntil(lambda: not window.session.player.frame.isNull(), timeout=20000)
    assert window.session.film.sources[0].path == tmp_path / "high.mp4"
    assert not window.message.text


def test_long_work_shows_how_far_it_is_and_stops_when_told(qtbot, window):
    import threading

    from PySide6.QtWidgets import QProgressBar
    turns = threading.Semaphore(0)

    def work(progress):
        for done in range(1000):
            turns.acquire(timeout=1)
            progress(done, 1000)

    stopped = []
    job = window.jobs.start("Counting sheep", work, cancelled=lambda: stopped.append(True))
    strip = window._progress[job]
    turns.release(200)
    qtbot.waitUntil(strip.isVisible, timeout=5000)
    turns.release(200)
    qtbot.waitUntil(lambda: strip.findChild(QProgressBar).value() > 0, timeout=5000)
    with qtbot.waitSignal(job.ended, timeout=5000):
        qtbot.mouseClick(strip.findChild(QPushButton), Qt.MouseButton.LeftButton)
        turns.release(1000)
    assert stopped
    qtbot.waitUntil(lambda: not window.jobs.running, timeout=5000)
    assert not window._progress


def test_backups_that_fail_are_told_once(qtbot, opened, monkeypatch):
    session, told = opened.session, []
    session.failed.connect(lambda what, todo: told.append(what))
    monkeypatch.setattr(session.file._backups, "problem", "the backup of small.game could not be written: disk full")
    for venue in ("Upper field", "Lower field"):
        session.do(SetHeading(Heading("Harbor at Summit", "Summit", "Harbor", venue=venue)))
    assert told == ["The backup of small.game could not be written: disk full"]
    assert "disk full" in opened.message.text and "saved" in opened.message.text


def test_a_game_closed_while_its_film_plays_ends_its_player_quietly(qtbot, opened, small_game, monkeypatch):
    failed = []
    monkeypatch.setattr(threading, "excepthook", failed.append)
    def plays(begun, seconds):
        return opened.session.playing and opened.session.time >= begun + seconds

    for seconds in (None, 0, 0.2):          # before it plays, as it begins to, and while it does
        opened.session.play()
        if seconds is not None:
            qtbot.waitUntil(partial(plays, opened.session.time, seconds), timeout=20000)
        opened.close_game()
        qtbot.waitUntil(lambda: not any(thread.name == "releasing the film" for thread in threading.enumerate()),
                        timeout=10000)
        opened.opening.open_game(small_game)
        wait_for_game(qtbot, opened)
    assert not failed


def test_the_window_comes_back_where_it_was_left(window, qtbot):
    window.showNormal()
    window.setGeometry(30, 40, 600, 400)
    window.close()
    again = MainWindow(window.settings, window.theme)
    qtbot.addWidget(again)
    again.show_as_left()
    assert again.geometry().getRect() == (30, 40, 600, 400)


def test_a_first_window_larger_than_the_screen_takes_the_whole_screen(window):
    window.resize(window.screen().availableGeometry().size())       # no room for the frame
    window.show_as_left()
    assert window.isMaximized()


def test_film_that_plays_too_slowly_is_told_with_a_lighter_copy_made_on_request(qtbot, opened, monkeypatch):
    monkeypatch.setattr("workstation.film.playing_copy.LARGE", 100)
    monkeypatch.setattr("workstation.film.playing_copy.LINES", 100)
    source = opened.session.film.sources[0]
    opened.session.player.slow.emit(source.id, 0.43)
    assert "43%" in opened.message.text and source.path.name in opened.message.text
    assert "exported" in opened.message.text and opened.message._way_out.isVisible()
    qtbot.mouseClick(opened.message._way_out, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: lightened(opened.session.film) != (), timeout=60000)
    qtbot.waitUntil(lambda: not opened.jobs.running, timeout=30000)
    assert "original" in opened.toast.text()
    opened.session.player.slow.emit(source.id, 0.43)
    assert opened.message.text == ""            # once
    assert delete_lighter(opened.session.film.sources) > 0


def test_small_film_that_plays_too_slowly_is_told_without_an_offer(qtbot, opened):
    source = opened.session.film.sources[0]
    opened.session.player.slow.emit(source.id, 0.5)
    assert "50%" in opened.message.text and not opened.message._way_out.isVisible()


def test_a_job_that_fails_and_tells_nobody_is_told_in_the_bar(qtbot, window):
    def work(progress):
        raise OSError("the disk is gone")

    window.jobs.start("Counting sheep", work)
    qtbot.waitUntil(lambda: not window.jobs.running)
    assert window.message.isVisible() and "Counting sheep failed: the disk is gone" in window.message.text

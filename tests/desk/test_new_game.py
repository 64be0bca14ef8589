"""A game that is begun from its folder of raw files, in the whole window, by keys and the mouse."""

from __future__ import annotations

import shutil
import threading

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from tests.desk.driver import press
from workstation.desk.suggesting import Suggestions
from workstation.tagging.operations import RemovePlay, several


@pytest.fixture
def two_files(small_film, tmp_path):
    """A folder with two camera files."""
    folder = tmp_path / "card"
    folder.mkdir()
    for name in ("one.mp4", "two.mp4"):
        shutil.copy(small_film.sources[0].path, folder / name)
    return folder


def begin(qtbot, window, folder):
    window.opening.take_paths([folder])
    qtbot.waitUntil(lambda: window.session is not None and not window.session.player.frame.isNull(), timeout=30000)
    return window.room


def fill(qtbot, form, **texts):
    for name, text in texts.items():
        form.fields[name].setFocus()
        form.fields[name].selectAll()
        qtbot.keyClicks(form.fields[name], text)


def test_a_new_game_asks_for_teams_and_rules_and_tells_of_which_files_it_is(qtbot, window, two_files):
    window.settings.setValue("room", "Review")
    room = begin(qtbot, window, two_files)
    form = room.pages.heading
    assert room.name == "Tag" and form.isVisible() and form.isAncestorOf(QApplication.focusWidget())
    assert "Who plays" in form.asks.text() and "2 files are one film now: one.mp4, then two.mp4" in form.told.text()
    assert str(window.session.file.path) in form.told.text()
    fill(qtbot, form, visitors="Harbor", home="Summit")
    form.rulebook.setCurrentIndex(form.rulebook.findData("ncaa"))
    assert form.search.isVisible() and form.search.isChecked()
    qtbot.keyClick(form.fields["home"], Qt.Key.Key_Return)
    heading = window.session.game.heading
    assert (heading.home, heading.visitors, heading.rulebook) == ("Summit", "Harbor", "ncaa")
    assert room.line.hasFocus() and not form.isVisible()
    assert any("Looking through" in job.title for job in window.jobs.running)


def test_nothing_is_taken_while_the_film_is_looked_through(qtbot, window, two_files, monkeypatch):
    """Not the files as they are either: their kinds are being looked for."""
    done = threading.Event()
    monkeypatch.setattr(Suggestions, "show_film", lambda self, film, profile: setattr(self, "_film", film))
    monkeypatch.setattr(Suggestions, "look_through", lambda self, progress: done.wait(30))
    begin(qtbot, window, two_files)
    press(window, "tag.clear")
    press(window, "tag.find")
    press(window, "tag.take")
    told, shots = window.toast.text(), window.session.game.shots
    done.set()
    assert "still being looked through" in told and not shots
    qtbot.waitUntil(lambda: not window.jobs.running)
    press(window, "tag.take")
    assert len(window.session.game.shots) == 2


def test_a_game_that_is_there_already_is_not_asked_again(qtbot, window, two_files):
    begin(qtbot, window, two_files)
    path = window.session.file.path
    press(window, "desk.close")
    window.opening.open_game(path)
    qtbot.waitUntil(lambda: window.session is not None and not window.session.player.frame.isNull(), timeout=30000)
    form = window.room.pages.heading
    assert not window.room.pages.is_open and (form is None or not form.isVisible())
    window.room.set_heading()
    assert not window.room.pages.heading.asks.isVisible() and not window.room.pages.heading.search.isVisible()


def test_shots_of_two_files_that_film_two_plays_are_not_joined_without_a_word(qtbot, window, two_files):
    room = begin(qtbot, window, two_files)
    session = window.session
    press(window, "tag.clear")
    press(window, "tag.files_as_shots")
    for text in ("hr", "5 25"):
        qtbot.keyClicks(room.line, text)
        qtbot.keyClick(room.line, Qt.Key.Key_Return)
    assert [tag.shot for tag in session.game.plays] == [shot.id for shot in session.game.shots]
    press(window, "tag.film_start")
    press(window, "tag.merge_shots")
    assert len(session.game.shots) == 1
    assert "across the files one.mp4 and two.mp4" in window.toast.text() and "plays 1 and 2" in window.toast.text()
    press(window, "desk.undo")
    press(window, "tag.next_shot")
    press(window, "tag.merge_shots")
    assert len(session.game.shots) == 2 and "last shot" in window.toast.text()


def test_enter_after_the_end_of_a_period_stays_only_where_a_shot_waits_and_says_so(qtbot, opened):
    room, session = opened.room, opened.session
    session.do(several("untag", [RemovePlay(tag.id) for tag in reversed(session.game.plays[4:])]))

    def end_period():
        before = len(session.game.plays)
        qtbot.keyClicks(room.line, "end of period")
        while len(session.game.plays) == before:
            qtbot.keyClick(room.line, Qt.Key.Key_Return)

    press(opened, "tag.first_untagged")
    waiting = session.shot_at(session.position)
    assert waiting.id == 5
    end_period()
    assert session.shot_at(session.position) is waiting and room.is_new
    assert "still waits for its own play" in opened.toast.text()
    qtbot.keyClick(room.line, Qt.Key.Key_Return)
    assert session.shot_at(session.position).id == 6
    press(opened, "tag.shot.scoreboard")        # a shot that shows no play
    end_period()
    assert session.shot_at(session.position).id == 7 and room.is_new

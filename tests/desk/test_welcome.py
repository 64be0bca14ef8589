"""The start page in the whole window: cards show up by themselves; rooms without plays lead to the first one."""

from __future__ import annotations

import shutil
import threading

import pytest
from PySide6.QtCore import Qt

from tests.desk.driver import press
from workstation.cancelling import Cancelled
from workstation.desk import card_watch
from workstation.film import cards


@pytest.fixture
def media(monkeypatch):
    """What is mounted; changes show at the next look."""
    mounted: list = []
    threads = []

    def look():
        threads.append(threading.current_thread())
        return list(mounted)

    monkeypatch.setattr(cards, "media", look)
    monkeypatch.setattr(card_watch, "_BETWEEN", 50)
    monkeypatch.setattr(card_watch, "_FIRST", 1)
    return mounted, threads


@pytest.fixture
def card(small_film, tmp_path):
    folder = tmp_path / "media" / "FRIDAY" / "DCIM" / "100ABCDE"
    folder.mkdir(parents=True)
    for name in ("CLIP0001.MP4", "CLIP0002.MP4"):
        shutil.copy(small_film.sources[0].path, folder / name)
    return tmp_path / "media" / "FRIDAY"


def test_a_card_shows_up_when_it_is_put_in_and_leaves_when_it_is_taken_out(qtbot, media, card, window):
    mounted, threads = media
    qtbot.waitUntil(lambda: len(threads) > 1)
    assert window.welcome.card_frames == []
    mounted.append(card)
    qtbot.waitUntil(lambda: len(window.welcome.card_frames) == 1)
    (frame,) = window.welcome.card_frames
    qtbot.waitUntil(frame.isVisible)
    assert frame.accessibleName() == "Card FRIDAY"
    mounted.clear()
    qtbot.waitUntil(lambda: window.welcome.card_frames == [])
    assert threading.main_thread() not in threads


def test_nothing_is_looked_for_while_a_page_lies_over_the_start_page(qtbot, media, window):
    _, threads = media
    qtbot.waitUntil(lambda: bool(threads))
    press(window, "desk.keys")
    qtbot.wait(150)
    before = len(threads)
    qtbot.wait(300)
    assert len(threads) == before
    press(window, "desk.keys")
    qtbot.waitUntil(lambda: len(threads) > before)


def test_a_card_is_copied_and_its_copy_opened(qtbot, media, card, window, tmp_path):
    media[0].append(card)
    qtbot.waitUntil(lambda: len(window.welcome.card_frames) == 1)
    (tmp_path / "films").mkdir()
    window.opening.copy_card(cards.looked_through(card), tmp_path / "films")
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
    assert window.session.file.path.parent == tmp_path / "films" / "FRIDAY"
    assert [source.path.parent.name for source in window.session.film.sources] == ["100ABCDE", "100ABCDE"]
    assert not list(card.rglob("*.game"))


def test_a_card_can_be_opened_where_it_is(qtbot, media, card, window):
    media[0].append(card)
    qtbot.waitUntil(lambda: len(window.welcome.card_frames) == 1)
    qtbot.mouseClick(window.welcome.card_frames[0].open, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
    assert window.session.file.path.parent == card


@pytest.mark.parametrize("room", ["Review", "Sequence"])
def test_a_room_without_plays_offers_the_first(qtbot, window, card, room):
    window.opening.open_footage([card])
    qtbot.waitUntil(lambda: window.session is not None and window.room is not None, timeout=30000)
    window.ask_for(room)
    qtbot.waitUntil(lambda: window.room.name == room, timeout=30000)
    button = window.room.findings.begin if room == "Review" else window.room._begin
    qtbot.waitUntil(button.isVisible)
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: window.room.name == "Tag", timeout=30000)


def test_plays_without_shots_are_not_called_well_filmed(qtbot, window, card):
    window.opening.open_footage([card])
    qtbot.waitUntil(lambda: window.room is not None and window.room.pages.heading.isVisible(), timeout=30000)
    press(window, "tag.clear")
    qtbot.keyClicks(window.room.line, "visitors defer")
    press(window, "tag.commit_stay")
    window.ask_for("Review")
    qtbot.waitUntil(lambda: window.room.name == "Review", timeout=30000)
    qtbot.waitUntil(lambda: "No play has its shot yet" in window.room.findings._empty.text(), timeout=30000)
    assert not window.room.findings.begin.isVisible()


def test_the_offer_is_gone_once_something_is_tagged(qtbot, opened):
    for room in ("Review", "Sequence"):
        opened.ask_for(room)
        qtbot.waitUntil(lambda room=room: opened.room.name == room, timeout=30000)
        qtbot.wait(100)
        button = opened.room.findings.begin if room == "Review" else opened.room._begin
        assert not button.isVisible()


def test_a_new_game_asks_first_for_teams_rules_and_who_filmed(qtbot, window, card):
    window.opening.open_footage([card])
    qtbot.waitUntil(lambda: window.room is not None and window.room.pages.heading.isVisible(), timeout=30000)
    form = window.room.pages.heading
    shown = {name for name, field in form.fields.items() if not field.isHidden()}
    assert shown == {"visitors", "home", "crew", "date"} and not form.rulebook.isHidden()
    form.more.click()
    assert all(not field.isHidden() for field in form.fields.values()) and form.more.isHidden()


def test_the_empty_line_shows_examples_of_what_comes_next(qtbot, window, card):
    window.opening.open_footage([card])
    qtbot.waitUntil(lambda: window.room is not None and window.room.pages.heading.isVisible(), timeout=30000)
    press(window, "tag.clear")
    assert "visitors defer" in window.room.line.placeholderText()
    qtbot.keyClicks(window.room.line, "visitors defer")
    press(window, "tag.commit_stay")
    qtbot.waitUntil(lambda: len(window.session.game.plays) == 1)
    press(window, "tag.next_play")
    qtbot.waitUntil(lambda: "touchback" in window.room.line.placeholderText())


def test_the_demo_is_filmed_once_at_a_time_can_be_stopped_and_is_offered_again(qtbot, window, monkeypatch):
    from workstation.demo import kept_game

    begun = []

    def prepare(progress, cancelled):
        begun.append(None)
        while not cancelled():
            progress(0.25)
        raise Cancelled

    monkeypatch.setattr(kept_game, "prepare_demo", prepare)
    demo = window.welcome.demo
    qtbot.mouseClick(demo, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(demo, Qt.MouseButton.LeftButton)
    window.opening.open_demo()
    qtbot.waitUntil(lambda: len(begun) == 1)
    assert len(window.jobs.running) == 1 and not demo.isEnabled() and "being filmed" in demo.text()
    window.jobs.running[0].cancel()
    qtbot.waitUntil(demo.isEnabled)
    assert begun == [None] and demo.text() == "See the demo game" and not window.message.isVisible()


def test_footage_is_looked_for_beside_the_last_game_and_never_in_the_demos_own_folder(window, tmp_path, monkeypatch):
    from workstation.demo import kept_game

    opening = window.opening
    demo, evening = tmp_path / "share" / "demo", tmp_path / "films" / "friday"
    for folder in (demo, evening):
        folder.mkdir(parents=True)
    monkeypatch.setattr(kept_game, "demo_folder", lambda: demo)
    opening.remember(demo / "demo.game")
    assert "demo" not in opening.films_folder() and "demo" not in opening.last_folder()
    opening.remember(evening / "friday.game")
    opening.remember(demo / "demo.game")
    assert opening.films_folder() == str(tmp_path / "films") and opening.last_folder() == str(evening)


def test_without_a_game_no_room_can_be_pressed(window):
    assert not any(button.isVisible() for button in window._room_buttons.values())

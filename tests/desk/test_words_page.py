"""The page of the staff's own words through the whole window. Expectations came before the first run."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from workstation.tagging.operations import SayWords
from workstation.tagging.own_words.definition import About, Of, Vocabulary, WordKind, WordSaid
from workstation.tagging.own_words.files import load_vocabulary

CTRL, ALT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """The user's own definitions lie here."""
    folder = tmp_path / "words"
    for module in ("workstation.desk.words_page", "workstation.tagging.own_words.files"):
        monkeypatch.setattr(f"{module}.user_words_folder", lambda: folder)
    return folder


@pytest.fixture
def page(qtbot, folder, opened):
    qtbot.keyClick(opened.room.line, Qt.Key.Key_F10)
    page = opened.overlays.page("words")
    qtbot.waitUntil(lambda: page.isVisible() and page.words.hasFocus())
    return page


def names(page):
    return [page.words.item(row).text() for row in range(page.words.count())]


def choose(page, name):
    page.words.setCurrentRow(names(page).index(name))


def retype(qtbot, line, text):
    line.setFocus()
    line.selectAll()
    qtbot.keyClicks(line, text)


def test_the_delivered_words_are_there_and_nothing_is_kept_by_looking(qtbot, opened, page):
    assert names(page)[:3] == ["formation", "personnel", "strength"] and len(names(page)) == 16
    choose(page, "pressure")
    assert page.kind.currentText() == "several of a list" and page.values.item(0, 0).text() == "edge"
    assert page.values.item(0, 1).text() == "eg"
    qtbot.keyClick(page.words, Qt.Key.Key_Escape)
    assert not page.isVisible() and opened.session.game.vocabulary == Vocabulary()


def test_a_word_is_added_renamed_moved_and_kept(qtbot, opened, page):
    choose(page, "formation")
    qtbot.keyClick(page.words, Qt.Key.Key_N, CTRL)
    assert page.name.hasFocus() and page.name.selectedText() == "new word"
    qtbot.keyClicks(page.name, "wind")
    page.kind.setCurrentText("one of a list")
    page.kind.activated.emit(0)
    assert "its list is empty" in page.wrong.text() and not page.keep_button.isEnabled()
    page.add_value()
    editor = page.values.focusWidget() if page.values.focusWidget() is not page.values else None
    editor = editor or page.values.viewport().focusWidget()
    page.values.item(0, 0).setText("with us")
    page.values.item(0, 1).setText("wu, w")
    assert page.wrong.text() == "" and page.keep_button.isEnabled()
    retype(qtbot, page.spoken, "wi")
    page.about.setCurrentText("kicks")
    page.about.activated.emit(list(About).index(About.KICKS))
    page.carried.click()
    page.words.setFocus()
    qtbot.keyClick(page.words, Qt.Key.Key_Up, ALT)
    assert names(page)[:2] == ["wind", "formation"]
    qtbot.keyClick(page.words, Qt.Key.Key_S, CTRL)
    kept = opened.session.game.vocabulary.word("wind")
    assert (kept.kind, kept.about, kept.carried, kept.spoken) == (WordKind.ONE, About.KICKS, True, ("wi",))
    assert [(value.name, value.spoken) for value in kept.values] == [("with us", ("wu", "w"))]
    qtbot.keyClick(page.words, Qt.Key.Key_Z, CTRL)
    assert opened.session.game.vocabulary == Vocabulary() and names(page)[0] == "formation"


def test_renaming_renames_what_was_said(qtbot, opened, page):
    session = opened.session
    session.do(SayWords(1, (WordSaid("hash", ("left hash",)),)))
    choose(page, "hash")
    retype(qtbot, page.name, "ball on the")
    page.values.item(0, 0).setText("left side")
    choose(page, "field side")
    assert page.follows.toPlainText() == \
        "ball on the of this play: left side = field right; right hash = field left"
    qtbot.keyClick(page.words, Qt.Key.Key_S, CTRL)
    assert session.game.plays[0].words == (WordSaid("ball on the", ("left side",)),)
    session.undo()
    assert session.game.plays[0].words == (WordSaid("hash", ("left hash",)),)


def test_removing_leaves_what_was_said(qtbot, opened, page):
    session = opened.session
    session.do(SayWords(1, (WordSaid("hash", ("left hash",)),)))
    choose(page, "hash")
    qtbot.keyClick(page.words, Qt.Key.Key_Delete, CTRL)
    assert page.wrong.text() == ""          # what followed from it goes with it
    qtbot.keyClick(page.words, Qt.Key.Key_S, CTRL)
    assert session.game.vocabulary.word("hash") is None
    assert session.game.plays[0].words == (WordSaid("hash", ("left hash",)),)


def test_what_follows_is_typed_as_it_is_said(qtbot, opened, page):
    choose(page, "tempo")
    page.follows.setPlainText("tempo of the last play")
    assert page.draft.words[page.place].follows[0].of is Of.LAST_PLAY and page.wrong.text() == ""
    page.follows.setPlainText("as before")
    assert "line 1 of what it follows from: write it like" in page.wrong.text()
    qtbot.keyClick(page.words, Qt.Key.Key_S, CTRL)
    assert opened.session.game.vocabulary == Vocabulary()
    page.follows.setPlainText("ended of the last play")
    assert "there is no such word" in page.wrong.text()


def test_the_words_are_kept_for_new_games_too(qtbot, opened, page, folder):
    choose(page, "tempo")
    qtbot.keyClick(page.words, Qt.Key.Key_Delete, CTRL)
    qtbot.mouseClick(page.own_button, Qt.MouseButton.LeftButton)
    assert load_vocabulary().word("tempo") is None and (folder / "default.toml").is_file()
    assert "for new ones in" in page.wrong.text()
    qtbot.mouseClick(page.delivered_button, Qt.MouseButton.LeftButton)
    assert "tempo" in names(page)


def test_leaving_with_something_unkept_is_pointed_out_once(qtbot, opened, page):
    qtbot.keyClick(page.words, Qt.Key.Key_Delete, CTRL)
    qtbot.keyClick(page.words, Qt.Key.Key_Escape)
    assert page.isVisible() and "is not kept" in page.wrong.text()
    qtbot.keyClick(page.words, Qt.Key.Key_Escape)
    assert not page.isVisible()


def test_a_list_drops_down_below_its_box_with_all_its_rows(qtbot, opened, page):
    page.kind.showPopup()
    view = page.kind.view()
    qtbot.waitUntil(view.isVisible)
    last = view.visualRect(view.model().index(page.kind.count() - 1, 0))
    assert last.bottom() <= view.viewport().rect().bottom()
    assert view.window().y() >= page.kind.mapToGlobal(page.kind.rect().bottomLeft()).y()
    page.kind.hidePopup()

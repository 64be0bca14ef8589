from __future__ import annotations

import unicodedata

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtPdf import QPdfDocument
from PySide6.QtWidgets import QLineEdit, QWidget

from tests.desk.driver import press
from workstation.desk.actions import ACTIONS, EVERYWHERE, MENU, REVIEW, TAG, Action
from workstation.desk.keypage import KeyPage
from workstation.desk.keys import KeyButton, KeyMap

SOME = (Action("desk.open", "Open a game", EVERYWHERE, ("Ctrl+O",)), Action("tag.snap", "Mark: snap", TAG, ("[",)),
        Action("tag.play", "Play or pause", TAG, ("Space", "Ctrl+Space")),
        Action("review.next", "Next finding", REVIEW, ("[",)))


@pytest.fixture
def settings(tmp_path):
    return QSettings(str(tmp_path / "keys.ini"), QSettings.Format.IniFormat)


@pytest.fixture
def keys(qapp, settings):
    return KeyMap(settings, actions=SOME)


def test_the_same_key_may_mean_two_things_only_in_two_rooms(qapp, settings):
    with pytest.raises(ValueError, match=r"Something: the key \[ already belongs to 'Mark: snap'"):
        KeyMap(settings, actions=(*SOME, Action("tag.something", "Something", TAG, ("[",))))
    with pytest.raises(ValueError, match="already belongs"):
        KeyMap(settings, actions=(*SOME, Action("desk.something", "Something", EVERYWHERE, ("[",))))


def test_a_bound_key_acts_and_follows_when_it_is_changed(qtbot, keys):
    widget, pressed = QWidget(), []
    qtbot.addWidget(widget)
    line = QLineEdit(widget)
    keys.bind("tag.play", widget, lambda: pressed.append(1))
    widget.show()
    widget.activateWindow()
    qtbot.waitUntil(widget.isActiveWindow)
    line.setFocus()
    qtbot.keyClick(line, Qt.Key.Key_Space, Qt.KeyboardModifier.ControlModifier)
    assert pressed == [1]
    assert keys.give("tag.play", ["F9"]) is None
    qtbot.keyClick(line, Qt.Key.Key_Space, Qt.KeyboardModifier.ControlModifier)
    qtbot.keyClick(line, Qt.Key.Key_F9)
    assert pressed == [1, 1]


def test_changed_keys_survive_and_can_be_reset(keys, settings):
    assert keys.give("tag.snap", ["F5"]) is None
    again = KeyMap(settings, actions=SOME)
    assert again.keys("tag.snap") == ("F5",)
    again.reset()
    assert again.keys("tag.snap") == ("[",)


def test_a_taken_key_is_refused_by_name(keys):
    assert keys.give("tag.snap", ["Ctrl+O"]).text == "Open a game"
    assert keys.keys("tag.snap") == ("[",)


def test_search_finds_by_words_room_and_key(keys):
    assert [a.id for a in keys.search("snap")] == ["tag.snap"]
    assert [a.id for a in keys.search("review")] == ["review.next"]
    assert [a.id for a in keys.search("ctrl+o")] == ["desk.open"]
    assert keys.search("nothing of the kind") == []


def test_buttons_show_the_key_and_what_it_does(qtbot, keys):
    button = KeyButton(keys, "tag.snap", "Snap")
    qtbot.addWidget(button)
    assert button.accessibleName() == "Mark: snap" and "[" in button.toolTip()
    keys.give("tag.snap", ["F5"])
    assert "F5" in button.toolTip()


def test_the_page_changes_a_key_with_real_presses(qtbot, keys):
    page = KeyPage(keys)
    qtbot.addWidget(page)
    page.show()
    qtbot.keyClicks(page.search, "snap")
    assert page.table.rowCount() == 1
    page.edit.setFocus()
    qtbot.keyClick(page.edit, Qt.Key.Key_F8)
    qtbot.mouseClick(page.give, Qt.MouseButton.LeftButton)
    assert keys.keys("tag.snap") == ("F8",)
    page.edit.setKeySequence(QKeySequence("Ctrl+O"))
    qtbot.mouseClick(page.give, Qt.MouseButton.LeftButton)
    assert "Open a game" in page._said.text() and keys.keys("tag.snap") == ("F8",)


def test_the_page_lists_the_words_of_the_entry_line_and_finds_them(qtbot, keys):
    page = KeyPage(keys)
    qtbot.addWidget(page)
    page.show()
    assert page.words.rowCount() > 150
    qtbot.keyClicks(page.search, "batted")
    found = {page.words.item(row, 0).text() for row in range(page.words.rowCount())}
    assert "incomplete" in found and page.words.item(0, 1).text() == "i"


def test_the_map_of_the_whole_desk_prints_on_one_page(qtbot, window, tmp_path):
    window.overlays.page("keys").print_to(tmp_path / "keys.pdf")
    document = QPdfDocument()
    assert document.load(str(tmp_path / "keys.pdf")) == QPdfDocument.Error.None_
    assert document.pageCount() == 1
    printed = unicodedata.normalize("NFKC", document.getAllText(0).text())     # letters set as one, such as ﬁ
    printed = "".join(printed.split())      # the extractor sees gaps between letters
    missing = [action.text for action in ACTIONS if action.text.replace(" ", "") not in printed]
    assert not missing
    window.overlays.page("keys").print_to(tmp_path / "keys.html")
    assert all(action.text in (tmp_path / "keys.html").read_text().replace("&#x27;", "'").replace("&amp;", "&")
               for action in ACTIONS)


def test_a_place_that_cannot_be_written_is_told(qtbot, keys, tmp_path):
    page = KeyPage(keys)
    qtbot.addWidget(page)
    (tmp_path / "file").write_text("")
    page.print_to(tmp_path / "file" / "keys.pdf")
    assert "cannot be written" in page._said.text()


def test_every_action_of_the_table_is_carried_out_by_somebody(qtbot, window, opened):
    for name in ("Tag", "Review", "Sequence"):
        window._builder.room(name)
    window.act("desk.practice")        # a page that is made when it is first wanted, as are the next seven
    window.act("desk.files")
    window.act("desk.plays")
    window.act("desk.words")
    window.overlays.page("matching")
    window.overlays.page("compare_crews")
    window.overlays.page("yards")
    window.act("desk.season")
    qtbot.waitUntil(lambda: "season" in window.overlays.made, timeout=20000)
    unbound = {action.id for action in ACTIONS} - set(window.keys._bound)
    assert unbound == set()


def test_what_needs_a_game_does_nothing_and_cannot_be_chosen_without_one(window):
    in_menu = {id for part in MENU for id in part}
    assert {action.id for action in ACTIONS if action.menu} == in_menu
    for action in (action for action in ACTIONS if action.needs_game):
        window.act(action.id)
    needing = {action.menu for action in ACTIONS if action.menu and action.needs_game}
    shown = {entry.text().partition("\t")[0]: entry.isEnabled() for entry in window.menu_button.menu().actions()
             if entry.text()}
    assert {text for text, enabled in shown.items() if not enabled} == needing


def test_a_letter_or_a_digit_is_not_given_to_a_mark_and_goes_on_typing(qtbot, opened):
    keys, room = opened.keys, opened.room
    press(opened, "desk.keys")
    page = opened.overlays.page("keys")
    for pressed in (Qt.Key.Key_R, Qt.Key.Key_4, Qt.Key.Key_Space, Qt.Key.Key_Period):
        page.search.clear()
        qtbot.keyClicks(page.search, "mark: snap")
        row = next(row for row in range(page.table.rowCount()) if page.table.item(row, 0).text() == "Mark: snap")
        page.table.setCurrentCell(row, 0)
        page.edit.setFocus()
        qtbot.keyClick(page.edit, pressed)
        qtbot.mouseClick(page.add, Qt.MouseButton.LeftButton)
        assert "typing plays" in page._said.text() and keys.keys("tag.mark.snap") == ("[",)
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    moments = len(opened.session.game.moments)
    room.go_to_row(len(opened.session.game.plays))
    qtbot.keyClicks(room.line, "r4")
    assert room.line.text() == "r4" and len(opened.session.game.moments) == moments


def test_a_letter_that_an_earlier_version_gave_to_a_mark_types_all_the_same(qtbot, opened):
    keys, room = opened.keys, opened.room
    opened.settings.setValue("keys/tag.mark.snap", ["R"])
    keys._forget_read()
    for action in keys._bound["tag.mark.snap"]:
        action.setShortcuts([QKeySequence("R")])
    moments = len(opened.session.game.moments)
    room.go_to_row(len(opened.session.game.plays))
    qtbot.keyClicks(room.line, "r4")
    assert room.line.text() == "r4" and len(opened.session.game.moments) == moments


def test_signs_and_letters_with_ctrl_or_alt_may_be_given(keys, opened):
    for key in ("Ctrl+R", "Alt+4", "F5", ";", "Shift+F5", "Up"):
        assert not opened.keys.types("tag.mark.snap", key), key
    for key in ("R", "Shift+R", "4", "-", "Space"):
        assert opened.keys.types("tag.mark.snap", key), key
        assert opened.keys.types("desk.mute", key), key
        assert not opened.keys.types("review.next", key), key
    assert not opened.keys.types("tag.toggle", "Space")

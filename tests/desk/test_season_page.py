"""The season page in the whole window: two copies of the small game as a season, by keys, on film that plays."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QWidget

from tests.desk.small_game import PLAYS, with_end_zone
from workstation.season.breakdown import ALL
from workstation.season.reel import Reel
from workstation.tagging.gamefile import GameFile
from workstation.tagging.operations import SetHeading, TakeGame

ALT, SHIFT = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ShiftModifier
COUNTED = 9         # runs and passes in the small game; holding beyond the line shortens its run, which still counts


def press(qtbot, key, modifiers=Qt.KeyboardModifier.NoModifier):
    qtbot.keyClick(QApplication.focusWidget(), key, modifiers)


@pytest.fixture
def season(tmp_path, small_game_made) -> Path:
    folder = tmp_path       # beside the small game's own, where its film is found from
    for number in (1, 2):
        path = Path(shutil.copy(small_game_made, folder / f"week {number}.game"))
        with GameFile.open(path) as file:
            heading = file.game.heading
            file.do(SetHeading(replace(heading, title=f"Week {number}", date=f"2026-09-0{number}")))
    return folder


@pytest.fixture
def page(qtbot, window, season):
    window.settings.setValue("season/folders", [str(season)])
    press(qtbot, Qt.Key.Key_4, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: "season" in window.overlays.made and window.stack.currentWidget() is window.season_page(),
                    timeout=20000)
    page = window.season_page()
    qtbot.waitUntil(lambda: page._made is not None and page._job is None, timeout=20000)
    return page


def cell(page, row, column=0):
    page.table.setCurrentIndex(page.table.model_.index(row, column))


def test_it_opens_without_a_game_and_counts_all_games(page):
    assert page.shelf.games.rowCount() == 2 and [path.stem for path in page.shelf.chosen] == ["week 1", "week 2"]
    assert page._made.cell().count == 2 * COUNTED
    assert page.table.model_.rowCount() == len(page._made.row_keys) + 1


def test_a_game_that_is_not_ticked_does_not_count(qtbot, page):
    page.shelf.games.item(0, 0).setCheckState(Qt.CheckState.Unchecked)
    qtbot.waitUntil(lambda: page._made.cell().count == COUNTED, timeout=20000)
    press(qtbot, Qt.Key.Key_G, ALT)
    qtbot.waitUntil(lambda: page._made.cell().count == 2 * COUNTED, timeout=20000)


def test_rows_columns_and_filters(qtbot, page):
    page.recipe.rows[0].setCurrentIndex(page.recipe.rows[0].findData("run_pass_kick"))
    page.recipe._on_boxes()
    page.recipe.rows[1].setCurrentIndex(0)
    page.recipe._on_boxes()
    qtbot.waitUntil(lambda: page._made.row_keys == [("pass",), ("run",)], timeout=20000)
    page.recipe.columns.setCurrentIndex(page.recipe.columns.findData("down"))
    page.recipe._on_boxes()
    qtbot.waitUntil(lambda: page._made.column_keys[:1] == [("1",)], timeout=20000)
    page.recipe.only("down", "2")
    qtbot.waitUntil(lambda: page._made.column_keys == [("2",)], timeout=20000)
    page.recipe.where.setCurrentIndex(page.recipe.where.findData("down"))
    page.recipe.take_away("down")
    assert page.recipe.where.currentIndex() == 0
    qtbot.waitUntil(lambda: len(page._made.column_keys) > 1, timeout=20000)


def test_enter_takes_the_words_that_were_typed_and_plays_nothing(qtbot, page):
    cell(page, page.table.model_.rowCount() - 1)
    qtbot.waitUntil(lambda: page.film.joined is not None, timeout=30000)
    press(qtbot, Qt.Key.Key_Slash)
    assert page.recipe.words.hasFocus()
    qtbot.keyClicks(page.recipe.words, "pass")
    press(qtbot, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: 0 < page._made.cell().count < 2 * COUNTED, timeout=20000)
    assert page.table.hasFocus() and not page.film_panel.through.running


def test_larger_text_has_its_room(qtbot, window, page):
    games, picture = page.shelf.games, page.picture
    high, tall = games.rowHeight(0), picture.minimumHeight()
    window.theme.apply(dark=True, scale=2)
    qtbot.waitUntil(lambda: games.rowHeight(0) > 1.9 * high and picture.minimumHeight() > 1.5 * tall, timeout=20000)


def test_one_game_is_said_as_one(qtbot, page, season):
    assert page.shelf.heading.text().startswith("2 games, ")
    (season / "week 2.game").unlink()
    press(qtbot, Qt.Key.Key_F5)
    qtbot.waitUntil(lambda: page.shelf.heading.text().startswith("1 game, "), timeout=20000)


def test_a_cell_plays_its_plays_as_film(qtbot, page):
    cell(page, page.table.model_.rowCount() - 1)
    assert page.film_panel.plays.count() == 2 * COUNTED
    qtbot.waitUntil(lambda: page.film.joined is not None and not page.film.player.frame.isNull(), timeout=30000)
    page.table.setFocus()
    press(qtbot, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: page.film.player.playing, timeout=20000)
    assert page.film_panel.through.running and "2026-09-01" in page.film_panel.caption.text()
    press(qtbot, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: not page.film.player.playing, timeout=20000)
    assert not page.film_panel.through.running


def test_a_sequence_over_two_games_is_exported(qtbot, page, tmp_path):
    cell(page, page.table.model_.rowCount() - 1)
    qtbot.waitUntil(lambda: page.film.joined is not None, timeout=30000)
    page.table.setFocus()
    press(qtbot, Qt.Key.Key_A, ALT | SHIFT)
    reel = page.film_panel.reel
    assert len({path for path, _ in reel.plays}) == 2
    page.form.setCurrentIndex(3)        # edit lists
    page.export_to(tmp_path / "third downs")
    qtbot.waitUntil(lambda: (tmp_path / "third downs").exists(), timeout=60000)
    (captions,) = (tmp_path / "third downs").glob("*.vtt")
    text = captions.read_text(encoding="utf-8")
    assert "2026-09-01" in text and "2026-09-02" in text
    assert text.count("-->") == sum(len(page.film.spans(key)) for key in reel.plays)


def test_the_plays_are_shown_from_the_angle_that_is_chosen(qtbot, window, page, season):
    assert page.film_panel.shown_from.isHidden()        # nothing to choose yet
    with GameFile.open(season / "week 1.game") as file:     # a further camera that filmed the same pictures
        game = with_end_zone(file.game)
    with GameFile.create(season / "week 3.game") as file:
        file.do(TakeGame(game))
    press(qtbot, Qt.Key.Key_F5)
    qtbot.waitUntil(lambda: page.shelf.games.rowCount() == 3 and page._made.cell().count == 3 * COUNTED, timeout=20000)
    cell(page, page.table.model_.rowCount() - 1)
    shown = page.film_panel.shown_from
    qtbot.waitUntil(lambda: not shown.isHidden(), timeout=30000)
    key = next(key for key in page.film.joined.ids if key[0].stem == "week 3" and page.film.spans(key))
    before = page.film.spans(key)
    page.table.setFocus()
    while shown.chosen.angles != ("End zone",):
        press(qtbot, Qt.Key.Key_V, ALT)
    (after,) = page.film.spans(key)
    assert "end-" in after[0].source and after[0].source != before[0][0].source
    shown.setCurrentIndex(shown.findText(f"{game.heading.angle}, then End zone"))
    shown.choose_next()     # and one on: its own change is heard too
    assert len(shown.chosen.angles) == 2


def test_the_sequence_is_kept(page):
    page.film_panel.reel.add([(Path("a.game"), 3)])
    page.film_panel._show_sequence()
    assert Reel.of_text(str(page._desk.settings.value("season/sequence"))).plays == [(Path("a.game"), 3)]


def test_definitions_are_typed_and_wrong_ones_said(qtbot, page):
    page.recipe.toggle()
    form = page.recipe._definitions
    form._fields["distances"].setText("2, 5")
    form._read()
    qtbot.waitUntil(lambda: page._made.recipe.definitions.distances == (2, 5), timeout=20000)
    form._fields["distances"].setText("5, 2")
    form._read()
    assert "rise" in form._wrong.text() and page.recipe.recipe.definitions.distances == (2, 5)


@pytest.mark.parametrize("look", range(3))
def test_every_picture_is_painted_and_has_words(page, look):
    page.look.setCurrentIndex(look)
    page._show_picture()
    assert page.picture.accessibleDescription() and not page.picture.grab().isNull()


def test_the_trend_of_the_chosen_games(qtbot, page):
    page.look.setCurrentIndex(3)
    page._show_picture()
    qtbot.waitUntil(lambda: "Week 2" in page.trend.accessibleDescription(), timeout=60000)


def test_a_breakdown_is_saved_and_comes_back(qtbot, page, tmp_path, monkeypatch):
    monkeypatch.setattr("workstation.season.saved.folder", lambda: tmp_path / "saved")
    page.recipe.only("down", "3")
    page.recipe.name.setText("third downs")
    page.recipe.save()
    page.recipe.take_away("down")
    page.recipe.saved.setCurrentIndex(page.recipe.saved.findData("third downs"))
    page.recipe._on_saved()
    assert page.recipe.recipe.where == {"down": ("3",)} and page.recipe.recipe.name == "third downs"


@pytest.mark.parametrize("suffix", [".pdf", ".csv", ".xlsx"])
def test_the_breakdown_is_written(qtbot, page, tmp_path, suffix):
    to = tmp_path / f"breakdown{suffix}"
    page.write_to(to)
    qtbot.waitUntil(to.exists, timeout=60000)


def test_back_and_damaged_files(qtbot, page, window, season):
    (season / "noise.game").write_bytes(b"noise")
    press(qtbot, Qt.Key.Key_F5)
    qtbot.waitUntil(lambda: page.shelf._wrong.isVisible() and "noise.game" in page.shelf._wrong.text(), timeout=20000)
    press(qtbot, Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is window.welcome


def test_what_is_in_the_open_game_is_seen_in_the_sequence_room(qtbot, window, season):
    window.opening.open_game(season / "week 1.game")
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
    window.act("desk.season")
    qtbot.waitUntil(lambda: "season" in window.overlays.made and window.season_page()._made is not None
                    and window.season_page()._job is None, timeout=30000)
    page = window.season_page()
    cell(page, page.table.model_.rowCount() - 1)
    page.to_sequence_room()
    qtbot.waitUntil(lambda: window.room is not None and window.room.name == "Sequence", timeout=30000)
    assert len(window.room.results.model_.cards) == COUNTED
    window.room.clear_search()
    assert len(window.room.results.model_.cards) == len(PLAYS)


def test_everything_that_takes_a_key_has_a_name(page):
    from PySide6.QtWidgets import QComboBox, QLineEdit, QListWidget, QPushButton, QTableView
    for widget in page.findChildren(QWidget):
        if isinstance(widget, QComboBox | QListWidget | QPushButton | QTableView) or (
                isinstance(widget, QLineEdit) and not isinstance(widget.parent(), QComboBox)):
            assert widget.accessibleName() or getattr(widget, "text", lambda: "")(), widget
    assert page._made.cell(ALL).spoken() in page.table.model_.data(
        page.table.model_.index(page.table.model_.rowCount() - 1, 0), Qt.ItemDataRole.AccessibleTextRole)


def test_the_window_may_close_while_games_are_read_and_films_are_looked_for(qtbot, page, window, season):
    cell(page, page.table.model_.rowCount() - 1)
    page.film._games = ()
    page.film.want([season / "week 1.game"], {})
    page._shelf = None
    page.refresh()
    window.close()
    assert page.film._closed
    assert page.film._job is None or not page.film._job._thread.is_alive()
    assert page._job is None or not page._job._thread.is_alive()

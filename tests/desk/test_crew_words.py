"""The crew's words are edited where the crew profile is chosen, and the list of remarks has them."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from workstation.desk.remark_entry import OfferedWord


@pytest.fixture
def form(opened, tmp_path, monkeypatch):
    for module in ("profile", "profile_words"):
        monkeypatch.setattr(f"workstation.coverage.{module}.user_profile_folder", lambda: tmp_path / "profiles")
    opened.room.set_heading()
    return opened.room.pages.heading


def test_words_are_edited_kept_and_used_and_then_edited_again(qtbot, form, opened):
    session = opened.session
    form.fields["crew"].setText("Kim")
    qtbot.mouseClick(form.words_button, Qt.MouseButton.LeftButton)
    words = form.words
    assert words.isVisibleTo(form) and words.remarks.toPlainText().startswith("too tight: Ease out")
    words.remarks.setPlainText("crooked: Level it.\nlate")
    words.praise.setPlainText("splendid")
    words.keep()
    assert not words.isVisibleTo(form) and form.profile.currentText() == "Default, words of Kim"
    assert session.game.heading.profile == "default"        # kept with the rest of the form
    form.keep()
    assert session.game.heading.profile == "words_of_kim"
    qtbot.waitUntil(lambda: session.coverage is not None and session.coverage.profile.name == "words_of_kim",
                    timeout=20000)
    assert len(session.coverage.profile.rules) > 10
    opened.go_to("Review")
    opened.room.remark()
    assert list(opened.room.remark_entry.buttons) == [OfferedWord("crooked"), OfferedWord("late"),
                                                      OfferedWord("splendid", True)]
    opened.room.remark_entry.give_up()
    opened.go_to("Tag")
    opened.room.set_heading()
    form._edit_words()
    form.words.remarks.setPlainText("late: Watch.")
    form.words.keep()
    qtbot.waitUntil(lambda: dict(session.coverage.profile.remarks) == {"late": "Watch."}, timeout=20000)


def test_a_list_that_cannot_be_kept_says_why_and_stays(qtbot, form, tmp_path):
    form._edit_words()
    form.words.remarks.setPlainText("late\nLate")
    form.words.keep()
    assert "line 2" in form.words.wrong.text() and form.words.isVisibleTo(form) and not (tmp_path / "profiles").exists()
    (tmp_path / "profiles").write_text("a file where the folder should be")
    form.words.remarks.setPlainText("late")
    form.words.keep()
    assert form.words.wrong.text().startswith("Not kept: ") and form.words.remarks.toPlainText() == "late"


def test_escape_leaves_the_words_and_not_the_form(qtbot, form):
    form._edit_words()
    qtbot.keyClick(form.words.remarks, Qt.Key.Key_Escape)
    assert not form.words.isVisibleTo(form) and form.isVisible()

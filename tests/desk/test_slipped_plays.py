"""A play that was left out while tagging: all behind it are filmed one shot later by one key, in the whole window."""

from __future__ import annotations

from tests.desk.driver import press
from tests.desk.small_game import PLAYS


def shots_of(session):
    return [tag.shot for tag in session.game.plays]


def test_a_play_and_all_later_ones_are_filmed_one_shot_later_and_back(qtbot, opened):
    room, session = opened.room, opened.session
    room.go_to_row(len(PLAYS) - 1)
    press(opened, "tag.remove_play")
    room.go_to_row(4)
    press(opened, "tag.film_later")
    assert shots_of(session) == [1, 2, 3, 4, 6, 7, 8, 9, 10, 11]
    assert session.shot_at(session.position).id == 6 and room.row == 4 and room.line.text()
    press(opened, "desk.undo")
    assert shots_of(session) == list(range(1, 11))
    press(opened, "desk.redo")
    room.go_to_row(4)
    press(opened, "tag.film_earlier")
    assert shots_of(session) == list(range(1, 11))


def test_what_has_no_shot_left_or_one_of_an_earlier_play_is_refused_with_its_reason(qtbot, opened):
    room, session = opened.room, opened.session
    room.go_to_row(4)
    game = session.game
    press(opened, "tag.film_later")
    assert session.game == game and "no shot behind the one of play 11" in opened.toast.text()
    press(opened, "tag.film_earlier")
    assert session.game == game and "films play 4" in opened.toast.text()

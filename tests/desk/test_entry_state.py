"""What each key does in each state of the entry line, without a screen."""

from __future__ import annotations

import pytest

from workstation.desk.actions import ACTIONS as TABLE
from workstation.desk.tag.entry_state import (
    ACTIONS,
    KEYS,
    LINE,
    ROOM,
    Enter,
    EntryState,
    Escape,
    Standing,
    Then,
    with_colon,
)


def standing(state: Standing) -> EntryState:
    """A state with four plays in the game, the second at hand, or the one to come where nothing stands."""
    made = EntryState(plays=4)
    made.take(4 if state is Standing.NOTHING else 1)
    made.show("" if state is Standing.NOTHING else "run 3")
    if state is Standing.TYPED:
        made.type("run 4")
    made.is_selected = state is Standing.KEPT
    assert made.standing is state
    return made


# Written down from what the buttons promise: Play [Space], Undo [Ctrl+Z]; only a cursor in a text takes their keys.
EXPECTED = {
    ("tag.toggle", "Space"): "room room line line", ("tag.toggle", "Ctrl+Space"): "room room room room",
    ("tag.frame_back", "Left"): "room line line line", ("tag.frame_back", "Alt+Left"): "room room room room",
    ("tag.previous_play", "Up"): "room room room room", ("tag.next_play", "Down"): "room room room room",
    ("tag.commit", "Return"): "room room room room", ("tag.clear", "Esc"): "room room room room",
    ("desk.undo", "Ctrl+Z"): "room room room line", ("desk.redo", "Ctrl+Y"): "room room room line",
    ("tag.remove_play", "Ctrl+Delete"): "room line line line", ("tag.back", "Ctrl+Left"): "room line line line",
    ("tag.second_back", "Shift+Left"): "room room line line", ("tag.film_start", "Ctrl+Home"): "room room room room",
    ("tag.to_snap", "Home"): "room line line line", ("tag.mark.snap", "["): "room room room room",
}


@pytest.mark.parametrize(("pressed", "takers"), EXPECTED.items())
def test_who_takes_a_key_in_each_state(pressed, takers):
    told = [standing(state).taker(*pressed) for state in Standing]
    assert told == [{"room": ROOM, "line": LINE}[word] for word in takers.split()]


def test_the_table_names_only_actions_and_keys_that_there_are():
    keys = {(action.id, key) for action in TABLE for key in action.keys}
    assert keys >= set(KEYS)
    assert {action.id for action in TABLE} >= set(ACTIONS)


@pytest.mark.parametrize(("state", "is_play", "is_doubtful", "stay", "does"), [
    (Standing.NOTHING, False, False, False, Enter.NEXT_SHOT), (Standing.NOTHING, False, False, True, Enter.NOTHING),
    (Standing.KEPT, True, False, False, Enter.KEEP), (Standing.TYPED, True, False, False, Enter.KEEP),
    (Standing.TYPED, False, False, False, Enter.POINT_OUT), (Standing.TYPED, False, True, True, Enter.POINT_OUT),
    (Standing.TYPED, True, True, False, Enter.WARN), (Standing.TYPED, True, True, True, Enter.WARN)])
def test_what_enter_does(state, is_play, is_doubtful, stay, does):
    assert standing(state).enter(is_play=is_play, is_doubtful=is_doubtful, stay=stay) is does


def test_enter_keeps_what_it_warned_about_and_warns_again_of_another_text():
    state = standing(Standing.TYPED)
    assert state.enter(is_play=True, is_doubtful=True) is Enter.WARN and state.is_warned
    state.type("run 44")
    assert not state.is_warned
    assert state.enter(is_play=True, is_doubtful=True) is Enter.WARN
    assert state.enter(is_play=True, is_doubtful=True) is Enter.KEEP


@pytest.mark.parametrize(("row", "is_between", "is_inserted", "stay", "then"), [
    (4, False, False, False, Then.NEXT_SHOT), (2, True, False, False, Then.NEXT_SHOT),
    (2, True, True, False, Then.NEXT_PLAY), (2, False, False, False, Then.NEXT_PLAY),
    (4, False, False, True, Then.STAY)])
def test_where_it_goes_on_once_a_play_is_kept(row, is_between, is_inserted, stay, then):
    state = EntryState(plays=4)
    state.take(row, is_between=is_between, is_inserted=is_inserted)
    state.type("run 4")
    assert state.kept(stay) is then
    assert not state.is_dirty


def test_what_escape_does():
    new = standing(Standing.NOTHING)
    assert new.escape(is_page_open=False) is Escape.TO_FILM
    new.type("run")
    assert new.escape(is_page_open=True) is Escape.LEAVE_PAGE
    assert new.escape(is_page_open=False) is Escape.CLEAR
    assert standing(Standing.TYPED).escape(is_page_open=False) is Escape.TO_FILM     # a change of a kept play


def test_arrows_stay_in_the_game():
    state = EntryState(plays=4)
    assert [state.neighbour(by) for by in (-1, 1, 9)] == [0, 1, 4]


def test_only_what_is_typed_as_the_play_to_come_is_a_draft():
    state = standing(Standing.NOTHING)
    assert state.draft == ""
    state.type("pass 1")
    assert state.draft == "pass 1"
    assert standing(Standing.TYPED).draft == ""


def test_a_game_that_becomes_shorter_leaves_no_play_in_hand_that_is_gone():
    state = standing(Standing.KEPT)
    state.take(3)
    state.show("run 3")
    state.game_changed(3)
    assert (state.row, state.is_new, state.is_dirty) == (3, True, False)


@pytest.mark.parametrize(("typed", "stands"), [
    ("r4 251", "r4 2:51"), ("i 042", "i 0:42"), ("r4 1:151", "r4 11:51"), ("r4 1:205", "r4 12:05"),
    ("k 5 25 1054", "k 5 25 10:54"), ("r4 000", "r4 0:00"), ("p21 116", "p21 1:16"), ("p21 105", "p21 1:05"),
    ("i 116", "i 1:16")])
def test_a_clock_behind_the_rest_gets_its_colon(typed, stands):
    assert with_colon(typed) == stands


@pytest.mark.parametrize("typed", ["251", "r4 25", "pu22 28", "r4 275", "k returned 105", 'r4 "no 251',
                                   "r4 2:513", "r4 2:51", "p5.7", "r4251"])
def test_what_may_be_yards_or_text_stays_as_it_is(typed):
    assert with_colon(typed) == typed

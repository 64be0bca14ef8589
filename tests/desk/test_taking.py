"""Taking what is suggested: one key for all of a shot, each part shown, in the whole window."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from tests.desk.driver import press
from workstation.desk.suggesting import Suggestions
from workstation.desk.tag import taking
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, Heading, MomentKind, Shot, ShotKind
from workstation.tagging.operations import RemoveShots
from workstation.tagging.suggestions import UNCERTAINTY, FilmSuggestions


@pytest.fixture
def found(qtbot, window, small_film, tmp_path, monkeypatch):
    """Six shots as they were found: a play, a board and a marker told by their kinds, a play, another marker, a play.
    The window shows each part for a moment only."""
    monkeypatch.setattr(taking, "MOMENT", 60)
    monkeypatch.setattr(taking, "SHOT", 60)
    # What was found is given below; nothing that is read in the background may come after it.
    monkeypatch.setattr(Suggestions, "show_film", lambda self, film, profile: setattr(self, "_film", film))
    (source,) = small_film.sources
    ticks = round(1 / source.time_base)

    def at(seconds):
        return source.first._replace(pts=source.start_pts + round(seconds * ticks))

    kinds = ("play", "scoreboard", "down marker", "play", "down marker", "play")
    shots = tuple(Shot(n + 1, at(10 * n), at(10 * n + 9), None, confirmed=False) for n in range(6))
    GameFile.create(tmp_path / "raw.game", game=Game(Heading("Raw", "Summit", "Harbor"), small_film, shots)).close()
    window.opening.open_game(tmp_path / "raw.game")
    qtbot.waitUntil(lambda: window.session is not None and not window.session.player.frame.isNull(), timeout=30000)
    parts = [SimpleNamespace(start=shot.start, end=shot.end, kind=kind, why="")
             for shot, kind in zip(shots, kinds, strict=True)]
    moments = [SimpleNamespace(kind=SimpleNamespace(value=kind), at=at(seconds)) for kind, seconds in (
        ("dead ball", 1), ("full wide", 0.6), ("snap", 3), ("dead ball", 7), ("dead ball", 8), ("full wide", 30.6),
        ("snap", 33))]
    window.room.suggestions.take(small_film, FilmSuggestions(parts, moments))
    return window


def test_one_key_takes_kind_and_moments_and_the_extra_shots_and_shows_each(qtbot, found):
    room, session = found.room, found.session
    stood, seen, words = session.position, [], []
    session.position_changed.connect(lambda at: seen.append(round(float(session.film.time_of(at)), 2)))
    room.taking.shown.connect(lambda said, _: words.append(said))
    press(found, "tag.take")
    qtbot.waitUntil(lambda: not room.taking.is_showing, timeout=5000)
    game = session.game
    assert [(shot.kind, shot.confirmed) for shot in game.shots] == [
        (ShotKind.PLAY, True), (ShotKind.SCOREBOARD, True), (ShotKind.DOWN_MARKER, True),
        (None, False), (None, False), (None, False)]
    assert [(moment.kind, float(session.film.time_of(moment.at)), moment.uncertainty) for moment in game.moments] == [
        (MomentKind.FULL_WIDE, 0.6, UNCERTAINTY), (MomentKind.SNAP, 3, UNCERTAINTY),
        (MomentKind.DEAD_BALL, 7, UNCERTAINTY)]
    assert seen == [0.6, 3, 7, 10, 20, 0] and session.position == stood
    assert words[:-1] == ["full wide 0:00.6", "snap 0:03.0", "dead ball 0:07.0", "this shot: scoreboard",
                          "this shot: down marker"] and words[-1] == ""
    press(found, "desk.undo")           # all of it was one action
    assert not session.game.moments and session.game.shots[0].kind is None


def test_enter_passes_over_the_extra_shots_that_were_taken(qtbot, found):
    room, session = found.room, found.session
    press(found, "tag.take")
    qtbot.keyClicks(room.line, "hr")
    press(found, "tag.commit")
    assert session.shot_at(session.position).id == 4 and not room.taking.is_showing
    press(found, "tag.take")
    qtbot.waitUntil(lambda: not room.taking.is_showing, timeout=5000)
    assert session.game.shots[4].kind is ShotKind.DOWN_MARKER
    assert [moment.kind for moment in session.game.moments][-2:] == [MomentKind.FULL_WIDE, MomentKind.SNAP]


def test_a_kind_that_was_told_wrong_is_said_while_it_is_shown(qtbot, found, monkeypatch):
    room, session = found.room, found.session
    monkeypatch.setattr(taking, "SHOT", 3000)
    press(found, "tag.take")
    qtbot.waitUntil(lambda: session.shot_at(session.position).id == 2, timeout=5000)
    press(found, "tag.shot.penalty_signal")
    assert session.game.shots[1].kind is ShotKind.PENALTY_SIGNAL and session.game.shots[0].kind is ShotKind.PLAY
    press(found, "tag.previous_shot")           # whoever goes elsewhere has seen enough
    assert not room.taking.is_showing and room.picture._words == ""


def test_what_was_taken_is_told_while_the_film_plays_and_the_film_goes_on(qtbot, found):
    room, session = found.room, found.session
    press(found, "tag.toggle")
    qtbot.waitUntil(lambda: session.playing and not session.player.waiting and session.time > 0.2, timeout=20000)
    press(found, "tag.take")
    assert "snap 0:03.0" in room.picture._words and session.playing
    assert {moment.kind for moment in session.game.moments} == {MomentKind.FULL_WIDE, MomentKind.SNAP,
                                                                MomentKind.DEAD_BALL}
    before = session.time
    qtbot.waitUntil(lambda: session.time > before, timeout=10000)


def test_files_that_were_taken_as_shots_get_the_kinds_that_were_found_later(qtbot, found):
    session = found.session
    press(found, "tag.confirm_shots")           # as files that somebody took as they are: right, and of no kind
    assert all(shot.confirmed and shot.kind is None for shot in session.game.shots)
    press(found, "tag.take")
    assert [shot.kind for shot in session.game.shots[:4]] == [
        ShotKind.PLAY, ShotKind.SCOREBOARD, ShotKind.DOWN_MARKER, None]


def test_a_second_press_takes_nothing_more_and_says_so(qtbot, found):
    press(found, "tag.take")
    qtbot.waitUntil(lambda: not found.room.taking.is_showing, timeout=5000)
    game = found.session.game
    press(found, "tag.take")
    assert found.session.game == game and "Nothing more is suggested" in found.toast.text()


def test_what_is_typed_while_extra_shots_are_shown_is_of_the_shot_at_hand(qtbot, found, monkeypatch):
    room, session = found.room, found.session
    monkeypatch.setattr(taking, "SHOT", 5000)
    press(found, "tag.take")
    qtbot.waitUntil(lambda: session.shot_at(session.position).id == 2, timeout=5000)
    qtbot.keyClicks(room.line, "hr")
    press(found, "tag.commit")
    assert [tag.shot for tag in session.game.plays] == [1]
    assert session.shot_at(session.position).id == 4 and not room.taking.is_showing


def test_what_is_typed_while_the_film_runs_on_is_of_the_shot_it_was_begun_in(qtbot, found):
    room, session = found.room, found.session
    session.seek_time(8)
    qtbot.waitUntil(lambda: not session.player.waiting, timeout=10000)
    press(found, "tag.toggle")
    qtbot.waitUntil(lambda: session.playing and session.player.is_placed, timeout=20000)
    qtbot.keyClicks(room.line, "hr")
    assert session.shot_at(session.position).id == 1
    qtbot.waitUntil(lambda: session.time > 10.2, timeout=20000)
    press(found, "tag.commit")
    assert [tag.shot for tag in session.game.plays] == [1]


def test_a_shot_that_is_gone_to_by_key_is_the_one_that_films_what_was_typed(qtbot, found):
    room, session = found.room, found.session
    qtbot.keyClicks(room.line, "hr")
    for _ in range(3):
        press(found, "tag.next_shot")
    press(found, "tag.commit")
    assert [tag.shot for tag in session.game.plays] == [4]


def test_with_a_play_typed_the_same_key_keeps_it_and_goes_on_once_all_was_shown(qtbot, found):
    room, session = found.room, found.session
    qtbot.keyClicks(room.line, "hr")
    assert room.strip.take_button.isVisible() and room.strip.take_button.text() == "Keep and take"
    words = []
    room.taking.shown.connect(lambda said, _: words.append(said))
    press(found, "tag.take")
    assert [tag.shot for tag in session.game.plays] == [1] and room.line.text() == "" and room.row == 1
    qtbot.keyClicks(room.line, "5")             # of the next play, while the last shot is still shown
    qtbot.waitUntil(lambda: not room.taking.is_showing, timeout=5000)
    assert words[:3] == ["full wide 0:00.6", "snap 0:03.0", "dead ball 0:07.0"] and words[-1] == ""
    assert [shot.kind for shot in session.game.shots[:3]] == [ShotKind.PLAY, ShotKind.SCOREBOARD, ShotKind.DOWN_MARKER]
    assert session.shot_at(session.position).id == 4 and room.line.text() == "5"
    qtbot.keyClicks(room.line, " 25")
    press(found, "tag.take")
    qtbot.waitUntil(lambda: not room.taking.is_showing, timeout=5000)
    assert [tag.shot for tag in session.game.plays] == [1, 4] and session.shot_at(session.position).id == 6


def test_a_line_that_is_not_understood_takes_nothing(qtbot, found):
    room, session = found.room, found.session
    game = session.game
    qtbot.keyClicks(room.line, "jump 4")
    press(found, "tag.take")
    assert session.game == game and room.line.text() == "jump 4"


def test_the_name_of_a_suggested_moment_ends_where_the_next_shot_begins(qtbot, found):
    timeline = found.room.timeline
    lane = next(lane for lane in timeline.lanes if lane.key == "shots")
    qtbot.waitUntil(lambda: len(lane.items) == 6 and len(lane._moments) > 0, timeout=5000)
    for _ in range(4):
        press(found, "timeline.closer")
    scale = timeline.scale
    times = lane._moments.start.tolist()
    ends = [scale.time(end) for end in lane.ends_of_names(scale, [scale.x(time) for time in times])]
    assert len(ends) == len(times) > 3
    for time, end in zip(times, ends, strict=True):
        assert end > time and not any(time < start < end - 0.01 for start in lane.items.start.tolist())


def test_plays_that_were_typed_before_there_were_shots_are_put_to_them_in_order(qtbot, found):
    """Found: nothing named, a play, a marker, a play, a play. The toss is the first; the kickoff is no marker."""
    room, session = found.room, found.session
    session.do(RemoveShots(tuple(shot.id for shot in session.game.shots)))
    for line in ("visitors defer", "to opp 5 returned to opp 28", "run 4"):
        qtbot.keyClicks(room.line, line)
        press(found, "tag.commit")
    assert [tag.shot for tag in session.game.plays] == [None] * 3
    first = room.suggestions.found.found
    kinds = (None, "play", "down marker", "play", "play", "scoreboard")
    for part, kind in zip(first, kinds, strict=True):
        part.kind = kind
    room.suggestions.take(session.film, FilmSuggestions(first, ()))
    assert "were found" in room.strip.shot_label.text() and room.strip.take_button.text() == "Take the 6 shots"
    qtbot.mouseClick(room.strip.take_button, Qt.MouseButton.LeftButton)
    shots = session.game.shots
    assert [tag.shot for tag in session.game.plays] == [shots[0].id, shots[1].id, shots[3].id]
    assert "typed before" in found.toast.text() and shots[0].kind is ShotKind.COIN_TOSS
    press(found, "desk.undo")
    assert [tag.shot for tag in session.game.plays] == [None] * 3 and len(session.game.shots) == 6


def test_what_is_typed_after_a_click_on_the_timeline_comes_into_the_line(qtbot, found):
    room = found.room
    room.timeline.setFocus()
    qtbot.keyClicks(room.timeline, "r")
    qtbot.keyClicks(QApplication.focusWidget(), "un 4")
    assert room.line.text() == "run 4" and room.line.hasFocus()

"""Tagging with real keys and clicks."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QApplication, QPushButton

from tests.desk.small_game import PLAYS, RATE
from workstation.coverage.profile import load_profile
from workstation.football.plays import Foul, Outcome, Play, PlayKind, Score, Side
from workstation.football.situation import Next
from workstation.football.speaking import spoken_situation
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, Heading, MomentKind, Shot, ShotKind
from workstation.tagging.operations import ChangePlay
from workstation.tagging.suggestions import FilmSuggestions

ALT, CTRL, SHIFT = (Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ControlModifier,
                    Qt.KeyboardModifier.ShiftModifier)


@pytest.fixture
def room(opened):
    return opened.room


@pytest.fixture
def fresh(qtbot, window, small_film, tmp_path):
    """The Tag room on a film of four shots with nothing tagged."""
    (source,) = small_film.sources
    ticks = round(1 / source.time_base)

    def at(seconds):
        return source.first._replace(pts=source.start_pts + seconds * ticks)

    shots = tuple(Shot(n + 1, at(2 + 10 * n), at(11 + 10 * n), confirmed=n != 1) for n in range(4))
    GameFile.create(tmp_path / "fresh.game", game=Game(Heading("Fresh", "Summit", "Harbor"), small_film, shots)).close()
    window.opening.open_game(tmp_path / "fresh.game")
    qtbot.waitUntil(lambda: window.session is not None and not window.session.player.frame.isNull(), timeout=30000)
    return window.room


def type_play(qtbot, room, text):
    qtbot.keyClicks(room.line, text)
    qtbot.keyClick(room.line, Qt.Key.Key_Return)


def test_a_game_begins_with_what_must_come_first(fresh):
    assert fresh.line.hasFocus()
    assert fresh.reading.entry.known == "coin toss"
    assert "coin toss" in fresh.situation.text.casefold()


def test_plays_are_typed_one_after_another_and_the_film_goes_along(qtbot, fresh):
    session = fresh.session
    qtbot.keyClick(fresh.line, Qt.Key.Key_PageDown)
    assert session.shot_at(session.position).id == 1
    for text, shot in (("hr", 1), ("5 25", 2), ("r6", 3), ("p12", 4)):
        assert session.shot_at(session.position).id == shot
        type_play(qtbot, fresh, text)
    assert [tag.play.kind for tag in session.game.plays] == [PlayKind.COIN_TOSS, PlayKind.KICKOFF, PlayKind.RUN,
                                                             PlayKind.PASS]
    assert [tag.shot for tag in session.game.plays] == [1, 2, 3, 4]
    assert session.situation.ball_on == 43 and session.situation.down == 1
    assert [shot.kind for shot in session.game.shots] == [ShotKind.COIN_TOSS, *[ShotKind.PLAY] * 3]
    assert all(shot.confirmed for shot in session.game.shots)


def test_what_follows_appears_while_typing(qtbot, room):
    room.go_to_row(len(PLAYS))
    before = room.before()
    assert f"{before.down}" in room.situation.text
    qtbot.keyClicks(room.line, "p30")
    assert room.reading.step.after.ball_on == before.ball_on + 30
    assert "first down" in room.situation.text and room.panel.answer.text().startswith("✓ pass complete for 30 yards")
    assert len(room.session.game.plays) == len(PLAYS)      # nothing is kept before Enter


def test_a_timeout_takes_no_shot_and_does_not_move_the_film(qtbot, fresh):
    session = fresh.session
    qtbot.keyClick(fresh.line, Qt.Key.Key_PageDown)
    type_play(qtbot, fresh, "hr")
    at = session.position
    type_play(qtbot, fresh, "ti v")
    assert session.position == at and session.game.plays[1].shot is None
    type_play(qtbot, fresh, "t")
    assert session.game.plays[2].play == Play(PlayKind.KICKOFF, Outcome.TOUCHBACK) and session.game.plays[2].shot == 2


def test_wrong_words_are_told_at_the_field_and_nothing_is_kept(qtbot, room):
    room.go_to_row(len(PLAYS))
    qtbot.keyClicks(room.line, "pu to 60")
    assert "60-yard line" in room.panel.answer.text() and room.line.property("state") == "bad"
    qtbot.keyClick(room.line, Qt.Key.Key_Return)
    assert len(room.session.game.plays) == len(PLAYS)
    assert room.line.selectedText() == "60"        # the wrong part is ready to be typed over
    assert QApplication.activeModalWidget() is None


def test_what_had_two_meanings_is_asked_and_a_key_takes_the_next_reading(qtbot, room):
    room.go_to_row(len(PLAYS))
    qtbot.keyClicks(room.line, "pu 20")
    assert room.panel.answer.text().startswith("? punt of") and "to opp 20" in room.panel.answer.text()
    assert "reading 1 of 2" in room.panel.answer.text() and "Ctrl+" in room.panel.answer.text()
    first = room.reading.step.play
    room.next_reading()
    assert room.reading.step.play != first and "reading 2 of 2" in room.panel.answer.text()
    qtbot.keyClick(room.line, Qt.Key.Key_Return)
    assert room.session.game.plays[len(PLAYS)].play.kick_to != first.kick_to


def test_the_habit_for_bare_numbers_is_shown_where_it_acts_and_kept(qtbot, room):
    room.go_to_row(len(PLAYS))
    qtbot.keyClicks(room.line, "pu 20")
    assert "Bare numbers: yard lines first" in room.panel.answer.text()
    first = room.reading.step.play
    room.change_habit()
    assert room.reading.step.play != first and "Bare numbers: yards first" in room.panel.answer.text()
    room.change_habit()
    assert room.reading.step.play == first


def test_a_tick_is_only_for_a_line_that_is_certain(qtbot, room):
    room.go_to_row(len(PLAYS))
    qtbot.keyClicks(room.line, "run 4 holding")
    assert room.panel.answer.text().startswith("?") and "holding by the offense" in room.panel.answer.text()
    qtbot.keyClicks(room.line, " on the offense")
    assert room.panel.answer.text().startswith("✓")


def test_what_the_rules_do_not_allow_is_told_and_kept_only_when_insisted(qtbot, room):
    room.go_to_row(len(PLAYS))
    qtbot.keyClicks(room.line, "kickoff 5 25")
    problem = room.reading.step.problems[0]
    assert problem in room.panel.answer.text()
    qtbot.keyClick(room.line, Qt.Key.Key_Return)
    assert len(room.session.game.plays) == len(PLAYS) and "again keeps it" in room.panel.answer.text()
    qtbot.keyClick(room.line, Qt.Key.Key_Return)
    assert room.session.game.plays[-1].play.kind is PlayKind.KICKOFF


def test_changing_an_early_play_changes_what_follows_and_says_so(qtbot, room):
    session, before = room.session, room.session.steps
    room.go_to_row(1)
    assert room.line.text() == "run 3 11:40" and room.line.selectedText() == room.line.text()
    type_play(qtbot, room, "r12 11:40")
    assert session.game.plays[1].play == Play(PlayKind.RUN, gain=12, clock=700)
    def shown(step):
        length = session.rulebook.field_length
        return (spoken_situation(step.before, length), step.before.offense, step.before.period, step.before.score_home,
                step.before.score_visitors)

    changed = [row for row in range(len(before)) if shown(session.steps[row]) != shown(before[row])
               or (row != 1 and session.steps[row].result != before[row].result)]
    assert 0 < len(changed) < len(before) - 2
    assert changed and room.plays.plays.changed_rows == frozenset(changed)
    assert room.changes.isVisible() and "Play 2 changed" in room.changes.text()
    assert f"before {len(changed)} later plays" in room.changes.text()
    assert room.row == 2        # on to the next


def test_another_clock_alone_changes_no_situation(qtbot, room):
    room.go_to_row(1)
    type_play(qtbot, room, "run 3 11:38")
    assert room.session.step_of(room.session.game.plays[1].id).before.clock == 11 * 60 + 38
    assert room.changes.text() == "Play 2 changed; nothing after it did."
    assert not room.plays.plays.changed_rows


def test_a_change_too_small_for_words_is_not_told_as_one(qtbot, room):
    room.go_to_row(1)
    type_play(qtbot, room, "run 3.2 11:40")
    assert "is another now" in room.changes.text() and "→" not in room.changes.text()


def test_undo_says_what_it_changed_back(qtbot, opened):
    room = opened.room
    room.go_to_row(1)
    type_play(qtbot, room, "r12")
    room.line.clear()
    qtbot.keyClick(room.line, Qt.Key.Key_Z, CTRL)
    assert room.session.game.plays[1].play == PLAYS[1]
    assert "Play 2 changed" in room.changes.text()


def test_every_entry_can_be_made_with_the_mouse(qtbot, room):
    room.go_to_row(len(PLAYS))

    def click(word):
        button = next(b for b in room.panel.findChildren(QPushButton)
                      if b.isVisibleTo(room.panel) and word in (b.text(), b.accessibleName()))
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)

    for word in ("pass", "1", "2", "touchdown", "holding", "declined"):
        click(word)
    assert room.line.text() == "pass 12 touchdown holding declined"
    qtbot.mouseClick(room.panel.commit, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(room.panel.commit, Qt.MouseButton.LeftButton)      # insisted, if the rules object
    play = room.session.game.plays[-1].play
    assert (play.kind, play.gain, play.score) == (PlayKind.PASS, 12, Score.TOUCHDOWN)
    assert play.fouls == (Foul("holding", Side.OFFENSE, decision=play.fouls[0].decision),)


def test_moments_are_marked_with_one_key_while_the_film_plays(qtbot, room):
    session = room.session
    session.seek(session.game.shots[11].start)      # the altercation: nothing marked there
    room.line.clear()
    qtbot.keyClick(room.line, Qt.Key.Key_Up, CTRL)
    assert session.rate == 1.5
    qtbot.keyClick(room.line, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: session.playing and session.time > 102.5, timeout=30000)
    count = len(session.game.moments)
    qtbot.keyClick(room.line, "{")
    at = session.position
    assert room.line.text() == "" and session.playing
    new = [m for m in session.game.moments if m.kind is MomentKind.CONFRONTATION]
    assert len(session.game.moments) == count + 1
    assert abs(session.film.time_of(new[0].at) - session.film.time_of(at)) < 1
    qtbot.keyClick(room.line, Qt.Key.Key_Space)
    assert not session.playing


def test_marking_again_at_once_moves_the_mark_and_another_key_removes_it(qtbot, room):
    session = room.session
    room.go_to_row(3)
    session.seek_time(38)
    room.line.clear()
    count = len(session.game.moments)
    qtbot.keyClick(room.line, "'")
    session.seek_time(38.4)
    qtbot.keyClick(room.line, "'")
    signals = [m for m in session.game.moments if m.kind is MomentKind.SIGNAL]
    assert len(signals) == 1 and session.film.time_of(signals[0].at) == session.time
    qtbot.keyClick(room.line, Qt.Key.Key_Backspace, CTRL)
    assert len(session.game.moments) == count


def test_keys_that_act_do_not_type_but_a_comment_takes_everything(qtbot, room):
    room.go_to_row(len(PLAYS))
    count = len(room.session.game.moments)
    qtbot.keyClicks(room.line, 'r4 "wet; [muddy]"')
    assert room.reading.entry.play == Play(PlayKind.RUN, gain=4, comment="wet; [muddy]")
    assert len(room.session.game.moments) == count


def test_the_film_is_stepped_picture_by_picture(qtbot, room):
    session = room.session
    session.seek_time(30)
    qtbot.waitUntil(lambda: session.time == 30, timeout=10000)
    room.line.clear()
    qtbot.keyClick(room.line, Qt.Key.Key_Right)
    qtbot.waitUntil(lambda: round((session.time - 30) * RATE) == 1, timeout=10000)
    for _ in range(3):
        qtbot.keyClick(room.line, Qt.Key.Key_Left, ALT)
    qtbot.waitUntil(lambda: round((session.time - 30) * RATE) == -2, timeout=10000)


def test_shots_are_cut_joined_called_and_removed(qtbot, fresh):
    session = fresh.session
    session.seek_time(6)
    qtbot.keyClick(fresh.line, Qt.Key.Key_D, CTRL)
    assert len(session.game.shots) == 5 and session.film.time_of(session.game.shots[1].start) == 6
    session.seek_time(3)
    qtbot.keyClick(fresh.line, Qt.Key.Key_2, ALT)
    assert session.game.shots[0].kind is ShotKind.DOWN_MARKER
    assert "down marker" in fresh.strip.shot_label.text()
    qtbot.keyClick(fresh.line, Qt.Key.Key_J, CTRL)
    assert len(session.game.shots) == 4 and session.film.time_of(session.game.shots[0].end) == 11
    qtbot.keyClick(fresh.line, Qt.Key.Key_Delete, CTRL | SHIFT)
    assert len(session.game.shots) == 3
    session.seek_time(3)
    qtbot.keyClick(fresh.line, Qt.Key.Key_N, CTRL)
    assert session.film.time_of(session.game.shots[0].start) == 3
    assert session.game.shots[0].end == session.game.shots[1].start


def test_a_found_shot_is_taken_with_one_key(qtbot, fresh):
    session = fresh.session
    session.seek_time(13)
    assert "found" in fresh.strip.shot_label.text()
    qtbot.keyClick(fresh.line, Qt.Key.Key_Equal)
    assert session.game.shots[1].confirmed and "found" not in fresh.strip.shot_label.text()


def test_a_half_typed_play_survives_closing(qtbot, opened):
    room, path = opened.room, opened.session.file.path
    room.go_to_row(len(PLAYS))
    qtbot.keyClicks(room.line, "pass 1")
    opened.close_game()
    opened.opening.open_game(path)
    qtbot.waitUntil(lambda: opened.session is not None, timeout=30000)
    assert opened.room.line.text() == "pass 1"
    qtbot.keyClick(opened.room.line, Qt.Key.Key_Escape)
    assert opened.room.line.text() == ""


def test_up_and_down_walk_the_plays_and_the_film_follows(qtbot, room):
    session = room.session
    room.go_to_row(4)
    assert session.shot_at(session.position).id == 5
    qtbot.keyClick(room.line, Qt.Key.Key_Up)
    assert room.row == 3 and session.shot_at(session.position).id == 4
    assert room.panel.about.text() == "Play 4"
    qtbot.mouseClick(room.plays.viewport(), Qt.MouseButton.LeftButton,
                     pos=room.plays.visualRect(room.plays.plays.index(4)).center())
    assert room.row == 4


def test_a_change_made_elsewhere_is_seen_here(room):
    session = room.session
    room.go_to_row(2)
    session.do(ChangePlay(session.game.plays[2].id, Play(PlayKind.PASS, Outcome.COMPLETE, gain=40)))
    assert room.line.text().startswith("pass 40")
    assert room.reading.step.after == session.steps[2].after


def test_a_play_is_removed_and_its_shot_waits_for_another(qtbot, room):
    session = room.session
    room.go_to_row(3)
    room.line.clear()
    qtbot.keyClick(room.line, Qt.Key.Key_Delete, CTRL)
    assert len(session.game.plays) == len(PLAYS) - 1
    assert room.is_new and room.row == 3 and room.panel.about.text() == "Before 4"
    type_play(qtbot, room, "s4")
    assert session.game.plays[3].play == Play(PlayKind.SACK, gain=-4) and session.game.plays[3].shot == 4


def test_a_forgotten_play_is_put_in_before_the_one_at_hand(qtbot, room):
    session = room.session
    room.go_to_row(5)
    later = session.situation_before(5)
    qtbot.keyClick(room.line, Qt.Key.Key_Insert)
    assert room.line.text() == "" and "Before 6" in room.panel.about.text() and room.before() == later
    session.play()                      # the film goes on and does not take the hand back
    qtbot.waitUntil(lambda: session.time > session.film.time_of(session.game.shots[5].start) + 1, timeout=20000)
    session.pause()
    type_play(qtbot, room, "r3")
    tag = session.game.plays[5]
    assert (tag.play.kind, tag.play.gain, tag.shot) == (PlayKind.RUN, 3, None)
    assert len(session.game.plays) == len(PLAYS) + 1
    assert session.game.plays[6].play == PLAYS[5] and room.row == 6 and not room.is_new
    qtbot.keyClick(room.line, Qt.Key.Key_Insert)
    qtbot.keyClick(room.line, Qt.Key.Key_Escape)
    assert not room.is_new and len(session.game.plays) == len(PLAYS) + 1


def test_a_play_changes_its_place_and_its_shot(qtbot, room):
    session = room.session
    room.go_to_row(3)
    ids = [tag.id for tag in session.game.plays]
    qtbot.keyClick(room.line, Qt.Key.Key_Down, ALT)
    assert [tag.id for tag in session.game.plays] == [*ids[:3], ids[4], ids[3], *ids[5:]] and room.row == 4
    qtbot.keyClick(room.line, Qt.Key.Key_Up, ALT)
    qtbot.keyClick(room.line, Qt.Key.Key_Up, ALT)
    assert [tag.id for tag in session.game.plays] == [*ids[:2], ids[3], ids[2], *ids[4:]] and room.row == 2
    for _ in range(4):                  # no further than the first place
        qtbot.keyClick(room.line, Qt.Key.Key_Up, ALT)
    assert session.game.plays[0].id == ids[3] and room.row == 0
    shot = session.game.plays[0].shot
    qtbot.keyClick(room.line, Qt.Key.Key_F, CTRL | SHIFT)
    assert shot is not None and session.game.plays[0].shot is None and room.row == 0
    session.seek(session.shot(shot).start)


def test_the_right_mouse_button_offers_what_can_be_done_with_a_play(qtbot, room):
    room.go_to_row(0)
    box = room.plays.visualRect(room.plays.model().index(2)).center()
    room.plays.scrollTo(room.plays.model().index(2))
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, box, room.plays.viewport().mapToGlobal(box))
    QApplication.sendEvent(room.plays.viewport(), event)
    assert room.row == 2 and room.plays._menu.isVisible()
    texts = [action.text() for action in room.plays._menu.actions()]
    assert any(text.startswith("A play is missing before this one\tIns") for text in texts)
    next(action for action in room.plays._menu.actions() if action.text().startswith("Remove this play")).trigger()
    room.plays._menu.hide()
    assert len(room.session.game.plays) == len(PLAYS) - 1


def test_without_a_film_plays_can_still_be_typed(qtbot, window, tmp_path):
    GameFile.create(tmp_path / "paper.game", Heading("Paper")).close()
    window.opening.open_game(tmp_path / "paper.game")
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
    for text in ("vk", "t", "r3", "i"):
        type_play(qtbot, window.room, text)
    assert len(window.session.game.plays) == 4
    assert window.session.situation.next is Next.SCRIMMAGE and window.session.situation.down == 3
    assert "No film yet" in window.room.picture.message


def test_found_shots_are_offered_and_taken_as_found(qtbot, window, small_film, tmp_path):
    GameFile.create(tmp_path / "bare.game", game=Game(Heading("Bare", "Summit", "Harbor"), small_film)).close()
    window.opening.open_game(tmp_path / "bare.game")
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
    room, session = window.room, window.session
    qtbot.keyClick(room.line, Qt.Key.Key_F6)
    assert any("Looking through" in job.title for job in window.jobs.running)
    qtbot.waitUntil(lambda: room.suggestions.found.shots(session.game) is not None, timeout=240000)
    assert "found" in room.strip.shot_label.text()
    qtbot.keyClick(room.line, Qt.Key.Key_Equal)
    assert session.game.shots and not any(shot.confirmed for shot in session.game.shots)
    qtbot.keyClick(room.line, Qt.Key.Key_A, CTRL | SHIFT)
    assert all(shot.confirmed for shot in session.game.shots)


def test_a_sheet_is_taken_in_beside_its_shots(qtbot, fresh):
    session = fresh.session
    sheet = session.file.path.parent / "sheet.csv"
    sheet.write_text("kind,outcome,gain,kick to,spot,team,choice\ncoin toss,,,,,home,receive\n"
                     "kickoff,returned,,opp 5,opp 25,,\nrun,,6,,,,\npass,complete,12,,,,\n")
    qtbot.keyClick(fresh.line, Qt.Key.Key_F4)
    page = fresh.pages.sheet
    page.read(sheet)
    qtbot.waitUntil(lambda: page._pairing is not None or "!" in page.said.text(), timeout=30000)
    assert page.table.rowCount() == 4 and "4 rows, 0 of them on no shot" in page.said.text()
    page.pin(3, None)
    qtbot.waitUntil(lambda: page._pairing.shot_of[3] is None, timeout=30000)
    qtbot.mouseClick(page.take, Qt.MouseButton.LeftButton)
    assert [tag.shot for tag in session.game.plays] == [1, 2, 3, None]
    assert session.situation.ball_on == 43
    session.undo()
    assert session.game.plays == ()


def test_headings_and_cells_that_are_near_are_read_as_proposed(qtbot, fresh):
    sheet = fresh.session.file.path.parent / "near.csv"
    sheet.write_text('Type,Yards\nrush,"5,7"\n')
    fresh.take_sheet()
    page = fresh.pages.sheet
    page.read(sheet)
    qtbot.waitUntil(lambda: [box.currentData() for box in page.columns.boxes] == ["kind", "gain"], timeout=10000)
    assert not page.mend.isHidden()
    page.mend.click()
    qtbot.waitUntil(lambda: page.table.rowCount() > 0, timeout=10000)
    assert page._rows[0].play.gain == 5.7 and page.mend.isHidden()


def test_a_sheet_that_cannot_be_read_says_which_cell(qtbot, fresh):
    sheet = fresh.session.file.path.parent / "bad.csv"
    sheet.write_text("kind,gain\nrun,six\n")
    fresh.take_sheet()
    page = fresh.pages.sheet
    page.read(sheet)
    qtbot.waitUntil(lambda: page.columns.cells.rowCount() == 1, timeout=30000)
    assert page.columns.cells.item(0, 2).text() == "six" and "six" in page.columns.cells.item(0, 3).text()
    assert not page.take.isEnabled() and not page.go_on.isEnabled()


def test_the_heading_is_changed_beside_the_film(qtbot, room):
    qtbot.keyClick(room.line, Qt.Key.Key_F3)
    form = room.pages.heading
    assert form.fields["visitors"].text() == "Harbor"
    form.fields["visitors"].clear()
    qtbot.keyClick(form.fields["visitors"], Qt.Key.Key_Return)
    assert "need a name" in form.wrong.text()
    qtbot.keyClicks(form.fields["visitors"], "Anchor Bay")
    form.fields["date"].setText("next Friday")
    qtbot.keyClick(form.fields["visitors"], Qt.Key.Key_Return)
    assert "2026-09-04" in form.wrong.text()
    form.fields["date"].setText("2026-09-11")
    qtbot.keyClick(form.fields["visitors"], Qt.Key.Key_Return)
    assert room.session.game.heading.visitors == "Anchor Bay"
    assert "Anchor Bay" in room.situation.text and room.line.hasFocus()


def test_escape_leaves_the_heading_as_it_was_and_what_is_typed_in_the_line(qtbot, room):
    room.go_to_row(len(PLAYS))
    qtbot.keyClicks(room.line, "r4")
    qtbot.keyClick(room.line, Qt.Key.Key_F3)
    field = room.pages.heading.fields["visitors"]
    field.setText("Anchor Bay")
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert not room.pages.heading.isVisible() and room.line.hasFocus()
    assert room.session.game.heading.visitors == "Harbor" and room.line.text() == "r4"
    qtbot.keyClick(room.line, Qt.Key.Key_Escape)
    assert room.line.text() == ""


def test_the_time_on_the_clock_is_typed_with_its_colon(qtbot, room):
    room.go_to_row(len(PLAYS))
    room.line.clear()
    count = len(room.session.game.moments)
    qtbot.keyClicks(room.line, "r4 7:32")
    assert room.line.text() == "r4 7:32" and len(room.session.game.moments) == count
    room.line.clear()
    qtbot.keyClick(room.line, ":")      # with no digit before it, the key marks as ever
    assert room.line.text() == "" and len(room.session.game.moments) == count + 1


def test_the_situation_is_set_by_hand_in_the_same_line(qtbot, room):
    room.go_to_row(len(PLAYS))
    qtbot.keyClicks(room.line, "r4")
    qtbot.keyClick(room.line, Qt.Key.Key_F2)
    qtbot.keyClicks(room.line, "down 3 to go 2 on opp 20")
    assert room.reading.entry.play.override.ball_on == 80 and room.reading.step.after.ball_on == 84
    qtbot.keyClick(room.line, Qt.Key.Key_Return)
    assert room.session.game.plays[-1].play.override.down == 3


def test_a_suggested_moment_is_taken_with_one_key_and_only_once(qtbot, room):
    from types import SimpleNamespace
    session = room.session
    shot = session.game.shots[2]
    at = session.film.instant_at(session.film.time_of(shot.start) + 7)
    dead = SimpleNamespace(kind=SimpleNamespace(value="dead ball"), at=at)      # marked there already
    signal = SimpleNamespace(kind=SimpleNamespace(value="signal"), at=at)
    room.suggestions.take(session.film, FilmSuggestions((), (dead, signal)))
    room.go_to_row(2)
    assert "suggested: signal" in room.strip.shot_label.text()
    room.line.clear()
    qtbot.keyClick(room.line, Qt.Key.Key_Equal)
    assert [m.at for m in session.game.moments if m.kind is MomentKind.SIGNAL] == [at]
    assert "suggested" not in room.strip.shot_label.text()
    count = len(session.game.moments)
    qtbot.keyClick(room.line, Qt.Key.Key_Equal)
    assert len(session.game.moments) == count


def test_the_crew_profile_is_chosen_with_the_heading_and_the_findings_follow(qtbot, room, tmp_path):
    quiet = tmp_path / "quiet.toml"
    rules = load_profile("default").rules
    quiet.write_text('title = "Says nothing"\nbased_on = "default"\n' + "".join(
        f"[rules.{rule.name.replace(' ', '_').replace('-', '_')}]\nenabled = false\n" for rule in rules),
                     encoding="utf-8")
    qtbot.waitUntil(lambda: bool(room.session.coverage and room.session.coverage.findings), timeout=10000)
    room.set_heading()
    form = room.pages.heading
    assert form.profile.currentText() == "Default"
    form.take_profile(str(tmp_path / "gone.toml"))
    form.keep()
    assert "gone.toml" in form.wrong.text() and room.session.game.heading.profile == "default"
    form.take_profile(str(quiet))
    assert form.profile.currentText() == "Says nothing"
    form.keep()
    assert room.session.game.heading.profile == str(quiet)
    qtbot.waitUntil(lambda: not room.session.coverage.findings, timeout=10000)
    room.set_heading()
    assert form.profile.currentText() == "Says nothing"


def test_the_timeline_marks_the_play_and_the_shot_at_hand(room):
    room.go_to_row(4)
    tag = room.session.game.plays[4]
    assert room.timeline.chosen == {"plays": tag.id, "shots": tag.shot}
    room.go_to_row(len(PLAYS))
    assert room.timeline.chosen["plays"] is None


def test_the_other_ruling_is_offered_where_the_rules_give_a_choice(qtbot, room):
    room.go_to_row(len(PLAYS))
    qtbot.keyClicks(room.line, "r2 hol")
    assert "or: holding declined" in room.situation.text
    qtbot.keyClicks(room.line, " dec")
    assert "or: " not in room.situation.text or "accepted" in room.situation.text


def test_undo_by_key_takes_the_game_back_while_a_kept_play_stands_in_the_line(qtbot, opened):
    room, session = opened.room, opened.session
    room.go_to_row(1)
    type_play(qtbot, room, "r12 11:40")
    room.go_to_row(1)
    assert room.line.selectedText() == "run 12 11:40"
    qtbot.keyClick(room.line, Qt.Key.Key_Z, CTRL)
    assert session.game.plays[1].play == PLAYS[1] and room.line.text() == "run 3 11:40"
    qtbot.keyClick(room.line, Qt.Key.Key_Y, CTRL)
    assert session.game.plays[1].play.gain == 12 and room.line.text() == "run 12 11:40"


def test_undo_takes_back_what_is_typed_before_it_takes_back_the_game(qtbot, opened):
    room, session = opened.room, opened.session
    room.go_to_row(len(PLAYS))
    type_play(qtbot, room, "r5")
    qtbot.keyClicks(room.line, "p1")
    for _ in range(5):
        if not room.line.text():
            break
        qtbot.keyClick(room.line, Qt.Key.Key_Z, CTRL)
        assert len(session.game.plays) == len(PLAYS) + 1
    assert room.line.text() == ""
    qtbot.keyClick(room.line, Qt.Key.Key_Z, CTRL)
    assert len(session.game.plays) == len(PLAYS)


def test_undo_leaves_no_line_that_enter_would_keep(qtbot, fresh):
    session = fresh.session
    qtbot.keyClick(fresh.line, Qt.Key.Key_PageDown)
    for text in ("hr", "5 25", "r6"):
        type_play(qtbot, fresh, text)
    fresh.go_to_row(2)
    for left in (2, 1, 0):
        while len(session.game.plays) > left:
            qtbot.keyClick(fresh.line, Qt.Key.Key_Z, CTRL)
    assert fresh.line.text() == "" and session.game.plays == ()
    qtbot.keyClick(fresh.line, Qt.Key.Key_Return)
    assert session.game.plays == ()


def test_space_plays_the_film_and_leaves_the_kept_play_in_the_line(qtbot, opened):
    room, session = opened.room, opened.session
    room.go_to_row(1)
    text = room.line.text()
    assert room.line.selectedText() == text
    qtbot.keyClick(room.line, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: session.playing, timeout=20000)
    assert room.line.text() == text
    qtbot.keyClick(room.line, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: not session.playing, timeout=20000)
    qtbot.keyClick(room.line, Qt.Key.Key_End)           # with the cursor in it, a space is typed
    qtbot.keyClick(room.line, Qt.Key.Key_Space)
    assert room.line.text() == text + " " and not session.playing


def test_space_plays_the_film_also_on_coming_back_from_another_room(qtbot, opened):
    room, session = opened.room, opened.session
    room.go_to_row(1)
    text = room.line.text()
    opened.go_to("Sequence")
    opened.go_to("Tag")
    qtbot.waitUntil(room.line.hasFocus)
    assert room.line.selectedText() == text
    qtbot.keyClick(room.line, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: session.playing, timeout=20000)
    assert room.line.text() == text

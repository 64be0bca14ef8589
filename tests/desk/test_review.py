from __future__ import annotations

import re
import shutil
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QSettings, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication, QPushButton

from workstation.coverage.finding import Direction, Finding, Severity
from workstation.coverage.finding_filter import FindingFilter, State
from workstation.coverage.summary import summarise
from workstation.desk.jobs import Jobs
from workstation.desk.keys import KeyMap
from workstation.desk.review.compare import side_of
from workstation.desk.review.finding_walk import RUN_UP
from workstation.desk.review.notes import found
from workstation.desk.review.room import ReviewRoom
from workstation.desk.review.summary import StillView
from workstation.desk.review.trend import TrendChart
from workstation.desk.room import Desk
from workstation.desk.session import Session
from workstation.desk.theme import Theme
from workstation.film.time import Instant
from workstation.tagging.drawn import shown_at, spans_of
from workstation.tagging.model import Decision, Drawing, DrawingKind, Game, Verdict
from workstation.tagging.opening import load
from workstation.tagging.operations import AddRecord, Decide


@pytest.fixture
def desk(qapp, tmp_path):
    theme = Theme(QApplication.instance())
    theme.apply(dark=True, scale=1)
    settings = QSettings(str(tmp_path / "desk.ini"), QSettings.Format.IniFormat)
    return Desk(KeyMap(settings), theme, Jobs(), settings)


@pytest.fixture
def room(qtbot, desk, small_game):
    session = Session(*load(small_game))
    qtbot.waitUntil(lambda: session.coverage is not None and bool(session.player.engine_name), timeout=20000)
    room = ReviewRoom(desk)
    qtbot.addWidget(room)
    room.resize(1280, 740)
    room.show()
    room.enter(session)
    yield room
    room.leave()
    room.forget()
    session.close()


def press(qtbot, room, key, modifiers=Qt.KeyboardModifier.NoModifier):
    qtbot.keyClick(QApplication.focusWidget() or room, key, modifiers)


def finding(key, rule="marker shot expected", period=1, title="A title", why="Because."):
    return Finding(key, rule, Severity.WARNING, Direction.MISSED, Instant("a", 0), 0.0, title, why, "marker", "",
                   period=period)


# -- without findings ------------------------------------------------------------------------------------

@pytest.mark.parametrize(("waiting", "said", "why"), [
    ((), "No findings.", "Everything a viewer needed is in the film."),
    (("3 shots are not tagged.",), "No findings so far.", "Not judged yet:\n\n3 shots are not tagged.")])
def test_no_findings_are_praise_only_where_all_could_be_judged(room, waiting, said, why):
    room.session.coverage = replace(room.session.coverage, findings=(), waiting=waiting)
    room._on_game()
    assert room.findings._empty.text() == said and room.explanation._why.text() == why


# -- filters --------------------------------------------------------------------------------------------


def test_filters_work_alone_and_together():
    findings = [finding("a"), finding("b", period=2), finding("c", rule="longer hold expected"),
                finding("d", period=2, why="The wind moved the camera.")]
    decisions = {"a": Decision("a", Verdict.AGREED), "b": Decision("b", Verdict.WAIVED, "lightning")}
    def keys(asked):
        return "".join(f.key for f in asked.of(findings, decisions))

    assert keys(FindingFilter()) == "abcd"
    assert keys(FindingFilter(rule="longer hold expected")) == "c"
    assert keys(FindingFilter(period=2)) == "bd"
    assert keys(FindingFilter(state=State.OPEN)) == "cd"
    assert keys(FindingFilter(state=State.WAIVED)) == "b"
    assert keys(FindingFilter(words="WIND camera")) == "d"
    assert keys(FindingFilter(words="lightning")) == "b"
    assert keys(FindingFilter(period=2, state=State.AGREED)) == ""


def test_the_boxes_filter_the_list(qtbot, room):
    rows = room.findings.model.rowCount()
    rule = room.findings.rule
    qtbot.keyClick(rule, Qt.Key.Key_Down)
    assert 0 < room.findings.model.rowCount() < rows
    rule.setCurrentIndex(0)
    room.findings.state.setCurrentIndex(room.findings.state.findText("agreed"))
    assert room.findings.model.rowCount() == 0
    room.findings.state.setCurrentIndex(0)
    qtbot.keyClicks(room.findings.words, "holding")
    assert [f.rule for f in room.findings.model.findings] == ["penalty signal expected"]


# -- going through the findings -------------------------------------------------------------------------


def test_the_next_finding_is_one_key_away_and_plays_from_before_it(qtbot, room):
    room.findings.list.setFocus()
    press(qtbot, room, Qt.Key.Key_N)
    press(qtbot, room, Qt.Key.Key_N)
    chosen = room.findings.current
    assert chosen is room.findings.model.findings[1]
    assert room.session.playing
    begun = float(room.session.time)
    assert chosen.time - RUN_UP - 0.1 <= begun <= chosen.time - RUN_UP + 2
    press(qtbot, room, Qt.Key.Key_P)
    assert room.findings.current is room.findings.model.findings[0]


def test_a_finding_is_explained_in_words(room):
    room._step(1)
    room._step(1)
    chosen = room.findings.current
    text = " ".join(label.text() for label in room.explanation.findChildren(type(room._rate)))
    for part in (chosen.title, chosen.why, chosen.habit, chosen.evidence[0]):
        assert part in text


def test_agreeing_is_kept_in_the_game_and_undone(qtbot, room):
    room._step(1)
    key = room.findings.current.key
    press(qtbot, room, Qt.Key.Key_A)
    assert room.session.game.decisions == (Decision(key, Verdict.AGREED),)
    assert "Agreed" in room.explanation._verdict.text()
    room.session.undo()
    assert room.session.game.decisions == ()


def test_a_waiver_needs_a_reason(qtbot, room):
    room._step(1)
    key = room.findings.current.key
    press(qtbot, room, Qt.Key.Key_W)
    assert room.explanation.answer.hasFocus()
    qtbot.keyClick(room.explanation.answer, Qt.Key.Key_Return)
    assert room.session.game.decisions == () and room.explanation._fault.isVisible()
    qtbot.keyClicks(room.explanation.answer, "no toss was filmed on request")    # letters are words here, not keys
    qtbot.keyClick(room.explanation.answer, Qt.Key.Key_Return)
    assert room.session.game.decisions == (Decision(key, Verdict.WAIVED, "no toss was filmed on request"),)


def test_a_comment_stands_beside_a_verdict_and_all_can_be_taken_back(qtbot, room):
    room._step(1)
    press(qtbot, room, Qt.Key.Key_A)
    press(qtbot, room, Qt.Key.Key_C)
    qtbot.keyClicks(room.explanation.answer, "as we said")
    qtbot.keyClick(room.explanation.answer, Qt.Key.Key_Return)
    (decision,) = room.session.game.decisions
    assert decision.verdict is Verdict.AGREED and decision.comment == "as we said"
    press(qtbot, room, Qt.Key.Key_U)
    assert room.session.game.decisions == ()


def test_escape_gives_up_an_answer(qtbot, room):
    room._step(1)
    press(qtbot, room, Qt.Key.Key_W)
    qtbot.keyClicks(room.explanation.answer, "hm")
    qtbot.keyClick(room.explanation.answer, Qt.Key.Key_Escape)
    assert not room.explanation.answer.isVisible() and room.session.game.decisions == ()


def test_buttons_do_what_keys_do(qtbot, room):
    qtbot.mouseClick(room.next_button, Qt.MouseButton.LeftButton)
    assert room.findings.current is not None
    qtbot.mouseClick(room.explanation.agree, Qt.MouseButton.LeftButton)
    assert room.session.game.decisions[0].verdict is Verdict.AGREED


# -- the film --------------------------------------------------------------------------------------------


def test_frames_step_both_ways(qtbot, room):
    room.picture.setFocus()
    start = Instant(room.session.film.sources[0].id, room.session.film.instant_at(20).pts)
    with qtbot.waitSignal(room.session.player.frame_changed, timeout=5000):
        room.session.seek(start)
    zero = room.session.time
    press(qtbot, room, Qt.Key.Key_Right)
    qtbot.waitUntil(lambda: room.session.time == zero + Fraction(1, 25), timeout=5000)
    press(qtbot, room, Qt.Key.Key_Left)
    press(qtbot, room, Qt.Key.Key_Left)
    qtbot.waitUntil(lambda: room.session.time == zero - Fraction(1, 25), timeout=5000)


def test_speed_goes_down_for_slow_motion_and_is_shown(qtbot, room):
    room.picture.setFocus()
    press(qtbot, room, Qt.Key.Key_Comma)
    press(qtbot, room, Qt.Key.Key_Comma)
    assert room.session.rate == 0.5 and room._rate.text() == "0.5×"
    press(qtbot, room, Qt.Key.Key_Period)
    assert room.session.rate == 0.75


def test_the_passage_loops(qtbot, room, monkeypatch):
    asked = []
    monkeypatch.setattr(room.session.player, "play_span", lambda *span, **how: asked.append((*span, how)))
    room._step(1)
    press(qtbot, room, Qt.Key.Key_L)
    press(qtbot, room, Qt.Key.Key_R)
    assert [bool(span[-1].get("loop") or (len(span) > 3 and span[2])) for span in asked] == [False, True, True]


# -- side by side ------------------------------------------------------------------------------------------


def test_two_plays_run_in_step_from_both_snaps(qtbot, room):
    room.session.seek(room.session.game.shots[5].start)
    room.picture.setFocus()
    with qtbot.waitSignal(room.comparison.shown, timeout=8000):
        press(qtbot, room, Qt.Key.Key_B)
    film, game = room.session.film, room.session.game
    snaps = [film.time_of(side_of(game, play).snap) for play in (6, 5)]
    pair = room.comparison.pair
    assert [film.time_of(pair.left), film.time_of(pair.right)] == snaps
    for way in (1, 1, -1, -1, -1):
        with qtbot.waitSignal(room.comparison.shown, timeout=8000):
            press(qtbot, room, Qt.Key.Key_Right if way > 0 else Qt.Key.Key_Left)
        pair = room.comparison.pair
        assert film.time_of(pair.left) - snaps[0] == film.time_of(pair.right) - snaps[1] == pair.seconds
    assert pair.seconds == Fraction(-1, 25)
    with qtbot.waitSignal(room.comparison.shown, timeout=8000):
        press(qtbot, room, Qt.Key.Key_PageDown, Qt.KeyboardModifier.ShiftModifier)
    assert room.comparison._sides[1].play == 6
    press(qtbot, room, Qt.Key.Key_B)
    assert not room.comparison.isVisible()


def test_comparing_plays_both_and_stops_at_the_end(qtbot, room):
    room.session.seek(room.session.game.shots[5].start)
    room.session.player.set_rate(4.0)
    with qtbot.waitSignal(room.comparison.shown, timeout=8000):
        room.compare()
    room.comparison.toggle()
    qtbot.waitUntil(lambda: not room.comparison.playing, timeout=10000)
    qtbot.waitUntil(lambda: room.comparison._reading is None, timeout=5000)
    film = room.session.film
    assert film.time_of(room.comparison.pair.left) > film.time_of(side_of(room.session.game, 6).end) - Fraction(1, 5)


# -- drawing ---------------------------------------------------------------------------------------------


def spot(room, x, y):
    rect = room.picture.picture_rect()
    return QPoint(round(rect.x() + x * rect.width()), round(rect.y() + y * rect.height()))


def wait_for_picture(qtbot, room):
    qtbot.waitUntil(lambda: not room.picture.image.isNull(), timeout=5000)


def test_an_arrow_is_drawn_with_the_mouse_and_lies_on_the_picture(qtbot, room):
    wait_for_picture(qtbot, room)
    room.picture.setFocus()
    clean = room.picture.grab().toImage()
    press(qtbot, room, Qt.Key.Key_D)
    qtbot.mousePress(room.picture, Qt.MouseButton.LeftButton, pos=spot(room, 0.2, 0.3))
    qtbot.mouseMove(room.picture, spot(room, 0.6, 0.5))
    qtbot.mouseRelease(room.picture, Qt.MouseButton.LeftButton, pos=spot(room, 0.6, 0.5))
    (drawing,) = room.session.game.drawings
    assert drawing.kind is DrawingKind.ARROW and drawing.until is None
    assert drawing.at == room.session.position
    assert drawing.points[0] == pytest.approx((0.2, 0.3), abs=0.01)
    assert drawing.points[-1] == pytest.approx((0.6, 0.5), abs=0.01)
    assert room.picture.grab().toImage() != clean
    press(qtbot, room, Qt.Key.Key_Backspace)
    assert room.session.game.drawings == ()


def test_a_circle_can_be_drawn_without_a_mouse(qtbot, room):
    wait_for_picture(qtbot, room)
    room.picture.setFocus()
    press(qtbot, room, Qt.Key.Key_D)
    press(qtbot, room, Qt.Key.Key_2)
    press(qtbot, room, Qt.Key.Key_Up)
    press(qtbot, room, Qt.Key.Key_Return)
    for _ in range(5):
        press(qtbot, room, Qt.Key.Key_Right)
    press(qtbot, room, Qt.Key.Key_Return)
    (drawing,) = room.session.game.drawings
    assert drawing.kind is DrawingKind.CIRCLE
    assert drawing.points[0] == pytest.approx((0.5, 0.48)) and drawing.points[1] == pytest.approx((0.6, 0.48))


def test_words_and_a_line_by_hand_stay_for_a_span(qtbot, room):
    wait_for_picture(qtbot, room)
    room.picture.setFocus()
    press(qtbot, room, Qt.Key.Key_4)
    press(qtbot, room, Qt.Key.Key_H)
    qtbot.mouseClick(room.picture, Qt.MouseButton.LeftButton, pos=spot(room, 0.4, 0.4))
    qtbot.keyClicks(room.drawing._writing, "watch the end")
    qtbot.keyClick(room.drawing._writing, Qt.Key.Key_Return)
    press(qtbot, room, Qt.Key.Key_3)
    qtbot.mousePress(room.picture, Qt.MouseButton.LeftButton, pos=spot(room, 0.2, 0.2))
    for step in range(1, 6):
        qtbot.mouseMove(room.picture, spot(room, 0.2 + step * 0.05, 0.2 + step * step * 0.01))
    qtbot.mouseRelease(room.picture, Qt.MouseButton.LeftButton, pos=spot(room, 0.45, 0.45))
    words, line = sorted(room.session.game.drawings, key=lambda drawing: drawing.id)
    assert words.text == "watch the end" and words.kind is DrawingKind.TEXT
    assert room.session.film.time_of(words.until) - room.session.film.time_of(words.at) == 3
    assert line.kind is DrawingKind.FREEHAND and len(line.points) > 4


def test_drawings_show_in_their_span_only(small_film):
    at, until = small_film.instant_at(10), small_film.instant_at(13)
    pinned = Drawing(1, DrawingKind.CIRCLE, at, ((0.5, 0.5), (0.6, 0.5)), until)
    spans = spans_of(Game(film=small_film, drawings=(pinned,)))
    shown = [time for time in (9, 10, 12, 13) if shown_at(spans, (pinned,), Fraction(time))]
    assert shown == [10, 12]


@pytest.mark.parametrize("kind", list(DrawingKind))
def test_every_kind_of_drawing_is_seen(qtbot, room, kind):
    wait_for_picture(qtbot, room)
    clean: QImage = room.picture.grab().toImage()
    room.session.do(AddRecord(Drawing(0, kind, room.session.position, ((0.3, 0.3), (0.5, 0.6)), None, "here")))
    assert room.picture.grab().toImage() != clean


def drawn(room, kind, *points, text=""):
    room.session.do(AddRecord(Drawing(0, kind, room.session.position, points, None, text)))
    room.picture.setFocus()
    return room.session.game.drawings[-1]


def drag(qtbot, room, start, end):
    qtbot.mousePress(room.picture, Qt.MouseButton.LeftButton, pos=spot(room, *start))
    qtbot.mouseMove(room.picture, spot(room, *end))
    qtbot.mouseRelease(room.picture, Qt.MouseButton.LeftButton, pos=spot(room, *end))


def test_the_tip_of_an_arrow_is_moved_with_the_mouse(qtbot, room):
    wait_for_picture(qtbot, room)
    arrow = drawn(room, DrawingKind.ARROW, (0.2, 0.3), (0.6, 0.5))
    plain = room.picture.grab().toImage()
    press(qtbot, room, Qt.Key.Key_E)
    assert room.picture.grab().toImage() != plain       # it shows where it can be taken
    drag(qtbot, room, (0.6, 0.5), (0.7, 0.8))
    (changed,) = room.session.game.drawings
    assert (changed.id, changed.kind, changed.at) == (arrow.id, arrow.kind, arrow.at)
    assert changed.points[0] == arrow.points[0]
    assert changed.points[-1] == pytest.approx((0.7, 0.8), abs=0.01)
    room.session.undo()
    assert room.session.game.drawings == (arrow,)


def test_a_drawing_is_moved_as_a_whole_and_not_out_of_the_picture(qtbot, room):
    wait_for_picture(qtbot, room)
    drawn(room, DrawingKind.FREEHAND, (0.2, 0.3), (0.3, 0.5), (0.4, 0.4))
    press(qtbot, room, Qt.Key.Key_E)
    drag(qtbot, room, (0.5, 0.5), (0.1, 0.6))
    (changed,) = room.session.game.drawings
    assert changed.points == (pytest.approx((0.0, 0.4), abs=0.01), pytest.approx((0.1, 0.6), abs=0.01),
                              pytest.approx((0.2, 0.5), abs=0.01))


def test_the_rim_of_a_circle_is_moved_without_a_mouse(qtbot, room):
    wait_for_picture(qtbot, room)
    drawn(room, DrawingKind.CIRCLE, (0.5, 0.5), (0.6, 0.5))
    press(qtbot, room, Qt.Key.Key_E)
    for _ in range(3):
        press(qtbot, room, Qt.Key.Key_Right)
    assert room.session.game.drawings[0].points[1] == (0.6, 0.5)        # not kept yet
    press(qtbot, room, Qt.Key.Key_Return)
    (changed,) = room.session.game.drawings
    assert changed.points == ((0.5, 0.5), pytest.approx((0.66, 0.5)))


def test_words_on_the_picture_are_written_anew(qtbot, room):
    wait_for_picture(qtbot, room)
    words = drawn(room, DrawingKind.TEXT, (0.3, 0.3), text="late of the ball")
    press(qtbot, room, Qt.Key.Key_E)
    assert room.drawing._writing.text() == "late of the ball"
    qtbot.keyClicks(room.drawing._writing, "late off the ball")
    qtbot.keyClick(room.drawing._writing, Qt.Key.Key_Return)
    (changed,) = room.session.game.drawings
    assert changed == replace(words, text="late off the ball")


def test_words_that_are_left_as_they_were_change_nothing(qtbot, room):
    wait_for_picture(qtbot, room)
    drawn(room, DrawingKind.TEXT, (0.3, 0.3), text="late off the ball")
    done = room.session.file.can_undo
    for key in (Qt.Key.Key_Return, Qt.Key.Key_Escape):
        press(qtbot, room, Qt.Key.Key_E)
        qtbot.keyClick(room.drawing._writing, key)
    assert room.session.file.can_undo == done and room.session.game.drawings[0].text == "late off the ball"


def test_the_one_before_the_newest_drawing_is_taken_next(qtbot, room):
    wait_for_picture(qtbot, room)
    told = []
    room.session.notice.connect(told.append)
    press(qtbot, room, Qt.Key.Key_E)
    assert told == ["No drawing on this picture"]
    first = drawn(room, DrawingKind.ARROW, (0.2, 0.3), (0.6, 0.5))
    second = drawn(room, DrawingKind.CIRCLE, (0.5, 0.5), (0.6, 0.5))
    press(qtbot, room, Qt.Key.Key_E)
    press(qtbot, room, Qt.Key.Key_E)
    press(qtbot, room, Qt.Key.Key_Down)
    press(qtbot, room, Qt.Key.Key_Return)
    assert room.session.game.drawings == (replace(first, points=((0.2, 0.3), pytest.approx((0.6, 0.52)))), second)


# -- notes -----------------------------------------------------------------------------------------------


def test_a_note_stays_with_the_moment_at_which_it_was_begun(qtbot, room):
    room.session.seek(room.session.film.instant_at(42))
    room.picture.setFocus()
    press(qtbot, room, Qt.Key.Key_T)
    qtbot.keyClicks(room.note_entry, "guard pulls late")
    room.session.seek(room.session.film.instant_at(50))      # the film goes on while one types
    qtbot.keyClick(room.note_entry, Qt.Key.Key_Return)
    note = max(room.session.game.notes, key=lambda note: note.id)
    assert note.text == "guard pulls late" and room.session.film.time_of(note.at) == 42


def test_notes_are_found_by_their_words_and_taken_to(qtbot, room):
    room.picture.setFocus()
    press(qtbot, room, Qt.Key.Key_Slash)
    qtbot.keyClicks(room.notes.words, "FORMATION")
    assert room.notes.list.count() == 1
    qtbot.keyClick(room.notes.words, Qt.Key.Key_Return)
    assert room.session.time == 60


def test_a_note_is_changed_and_removed(qtbot, room):
    room.find_note()
    room.notes.list.setFocus()
    room.notes.list.setCurrentRow(0)
    press(qtbot, room, Qt.Key.Key_T, Qt.KeyboardModifier.ShiftModifier)
    assert room.note_entry.text() == "left tackle late off the ball"
    qtbot.keyClicks(room.note_entry, "left guard late")
    qtbot.keyClick(room.note_entry, Qt.Key.Key_Return)
    first = min(room.session.game.notes, key=lambda note: note.id)
    assert first.text == "left guard late" and room.session.film.time_of(first.at) == 30
    room.notes.list.setFocus()
    room.notes.list.setCurrentRow(0)
    press(qtbot, room, Qt.Key.Key_Delete)
    assert [note.id for note in room.session.game.notes] == [2]


def test_finding_notes_takes_all_words(room):
    assert [note.id for note in found(room.session.game, "ball off")] == [1]
    assert found(room.session.game, "ball formation") == []


# -- the wall, and states ----------------------------------------------------------------------------------


def test_large_type_is_larger_and_leaves_no_trace(qtbot, room, desk):
    room.picture.setFocus()
    before = desk.theme.pixels("body")
    press(qtbot, room, Qt.Key.Key_G)
    assert desk.theme.pixels("body") >= 1.5 * before and not room.timeline.isVisible()
    press(qtbot, room, Qt.Key.Key_Escape)
    assert desk.theme.pixels("body") == before and room.timeline.isVisible()
    room.large()
    room.leave()
    assert desk.theme.pixels("body") == before


def test_everything_fits_at_1280_by_800(room):
    hint = room.minimumSizeHint()
    assert hint.width() <= 1280 and hint.height() <= 740


def test_everything_that_can_be_used_has_a_name(room):
    from PySide6.QtWidgets import QAbstractButton, QComboBox, QLineEdit, QListView
    for kind in (QAbstractButton, QComboBox, QLineEdit, QListView):
        for widget in room.findChildren(kind):
            if widget.window() is not room.window() or isinstance(widget.parent(), QLineEdit):
                continue        # the list of a combo box and the cross of an entry line are Qt's own
            named = widget.accessibleName() or getattr(widget, "text", lambda: "")()
            assert named or widget.objectName().startswith("qt_"), widget


def test_a_room_without_findings_says_why(qtbot, desk, small_film, tmp_path):
    from workstation.tagging.gamefile import GameFile
    from workstation.tagging.operations import AddSources
    with GameFile.create(tmp_path / "empty.game") as file:
        file.do(AddSources(small_film.sources))
    session = Session(*load(tmp_path / "empty.game"))
    room = ReviewRoom(desk)
    qtbot.addWidget(room)
    room.show()
    room.enter(session)
    assert "tagged" in room.findings._empty.text()
    for key in (Qt.Key.Key_N, Qt.Key.Key_A, Qt.Key.Key_W, Qt.Key.Key_B, Qt.Key.Key_R, Qt.Key.Key_L, Qt.Key.Key_S):
        press(qtbot, room, key)
    assert session.game.decisions == ()
    room.forget()
    session.close()


# -- the summary -------------------------------------------------------------------------------------------


def words_on(widget) -> str:
    from PySide6.QtWidgets import QLabel
    return "\n".join(label.text() for label in widget.findChildren(QLabel))


def test_the_summary_says_what_the_checker_summed_up(qtbot, room):
    room.picture.setFocus()
    press(qtbot, room, Qt.Key.Key_S)
    summary = summarise(room.session.coverage)
    page = words_on(room.summary)
    for _, tally in summary.practices():
        if tally.expected:
            assert f"{tally.delivered} of {tally.expected}" in page
    assert f"{summary.share_known:.0%}" in page
    for habit in summary.habits:
        assert habit.advice in page and habit.example.why in page
    for rule in summary.by_rule:
        assert rule in page
    press(qtbot, room, Qt.Key.Key_Escape)
    assert not room.summary.isVisible()


def test_the_summary_has_pictures_and_takes_one_to_the_example(qtbot, room):
    room.show_summary()
    habit = summarise(room.session.coverage).habits[0]
    still = room.summary.findChildren(StillView)[0]
    black = still.grab().toImage()
    qtbot.waitUntil(lambda: still.grab().toImage() != black, timeout=10000)
    see = next(button for button in room.summary.findChildren(QPushButton) if button.text() == "See it")
    qtbot.mouseClick(see, Qt.MouseButton.LeftButton)
    assert room.findings.current.key == habit.example.key and room.picture.isVisible()


def test_a_waived_finding_leaves_the_summary(qtbot, room):
    room.show_summary()
    before = summarise(room.session.coverage).tally().missed
    key = next(finding.key for finding in room.session.coverage.findings)
    with qtbot.waitSignal(room.session.derived_changed, timeout=10000):
        room.session.do(Decide(Decision(key, Verdict.WAIVED, "agreed beforehand")))
    assert summarise(room.session.coverage).tally().missed == before - 1
    summary = summarise(room.session.coverage)
    rule = key.split("/")[0]
    row = next(row for row in words_on(room.summary).split("<tr>") if f">{rule}<" in row)
    cells = re.findall("<td[^>]*>(.*?)</td>", row)
    assert (cells[4], summary.tally(rule).waived) == ("1", 1)


def test_games_are_laid_side_by_side_and_a_bad_one_is_named(qtbot, room, small_game_made, tmp_path):
    other = Path(shutil.copy(small_game_made, tmp_path / "earlier.game"))
    bad = tmp_path / "bad.game"
    bad.write_text("nothing")
    room.show_summary()
    room.summary.add_games([other, bad])
    qtbot.waitUntil(lambda: bool(room.summary._trend.games), timeout=20000)
    assert len(room.summary._trend.games) == 2
    assert any("bad.game" in line for line in room.summary._trend.left_out)
    assert "bad.game" in words_on(room.summary)
    rows = dict(room.summary._trend.rows)
    assert "all of them" not in rows, "one share over all practices flatters"
    rule, tally = next((rule, summarise(room.session.coverage).tally(rule)) for rule in rows
                       if summarise(room.session.coverage).tally(rule).share is not None)
    assert [cell.share for cell in rows[rule]] == [pytest.approx(tally.share)] * 2
    assert room.summary.findChild(TrendChart).accessibleDescription()


def test_the_review_is_saved_as_a_page(qtbot, room, tmp_path):
    room.show_summary()
    with qtbot.waitSignal(room.desk.jobs.finished, timeout=30000):
        room.summary.save_report(tmp_path / "review.html")
    assert room.session.coverage.findings[0].title in (tmp_path / "review.html").read_text(encoding="utf-8")


def test_past_the_last_play_the_last_two_are_compared(qtbot, room):
    session = room.session
    session.seek(session.film.instant_at(session.film.duration))
    room.findings.list.clearSelection()
    room.compare()
    filmed = [tag.id for tag in session.game.plays if tag.shot is not None]
    assert [box.currentData() for box in room.comparison.boxes] == [filmed[-1], filmed[-2]]

"""Which plays are marked as changed after a correction, in the whole window."""

from __future__ import annotations

from PySide6.QtCore import Qt

from tests.desk.test_review_in_the_window import press, write
from workstation.football.speaking import spoken_situation


def correct(qtbot, window, row, line):
    window.room.go_to_row(row)
    window.room.line.selectAll()
    write(qtbot, line)
    press(qtbot, Qt.Key.Key_Return)


def marked(window) -> set[int]:
    return set(window.room.plays.plays.changed_rows)


def test_a_play_is_changed_where_something_to_be_seen_is(qtbot, opened):
    session = opened.session
    qtbot.waitUntil(lambda: session.coverage is not None, timeout=20000)
    before = session.steps

    def shown(step):
        return (spoken_situation(step.before, 100), step.before.offense, step.before.period, step.before.score_home,
                step.before.score_visitors, step.result)
    correct(qtbot, opened, 1, "r12 11:40")
    differing = {row for row in range(2, len(before)) if shown(session.steps[row]) != shown(before[row])}
    with qtbot.waitSignal(session.derived_changed, timeout=20000):
        pass
    unseen = {row for row in range(2, len(before)) if session.steps[row].before != before[row].before} - differing
    assert differing and unseen, "the game has plays that only what nobody sees sets apart"
    about = {finding.play for finding in session.coverage.findings}
    assert differing <= marked(opened)
    assert all(session.game.plays[row].id in about for row in marked(opened) - differing - {1})


def test_a_play_is_changed_where_something_else_is_found_about_it(qtbot, opened):
    session = opened.session
    qtbot.waitUntil(lambda: session.coverage is not None, timeout=20000)
    assert any(finding.rule == "penalty signal expected" and finding.play == 7 for finding in session.coverage.findings)
    with qtbot.waitSignal(session.derived_changed, timeout=20000):
        correct(qtbot, opened, 6, "run -6 9:20")        # no flag any more, and the ball is where the penalty had put it
    assert not any(finding.rule == "penalty signal expected" for finding in session.coverage.findings)
    assert 6 in marked(opened)


def test_a_new_play_marks_none_before_it(qtbot, opened):
    session = opened.session
    qtbot.waitUntil(lambda: session.coverage is not None, timeout=20000)
    with qtbot.waitSignal(session.derived_changed, timeout=20000):
        correct(qtbot, opened, len(session.game.plays), "r3")
    assert marked(opened) == set()

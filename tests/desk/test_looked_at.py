"""Moments that were taken from a suggestion, and the keys that say that a person has looked at them."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from workstation.tagging.model import Moment, MomentKind
from workstation.tagging.operations import AddRecord, RemoveRecord
from workstation.tagging.records import Kind

BOTH = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def session(opened):
    """Two shots whose snaps nobody has looked at, the film on the second snap."""
    session = opened.session
    for id in (2, 5):
        moment = next(each for each in session.game.moments if each.id == id)
        session.do(RemoveRecord(Kind.MOMENT, id))
        session.do(AddRecord(Moment(0, moment.kind, moment.at, uncertainty=0.5)))
    session.seek(second(session).at)
    return session


def second(session):
    return [moment for moment in session.game.moments if moment.kind is MomentKind.SNAP][1]


def unseen(session):
    """Which snaps nobody has looked at, counted from one."""
    snaps = [moment for moment in session.game.moments if moment.kind is MomentKind.SNAP]
    return [number for number, moment in enumerate(snaps, 1) if moment.uncertainty]


def test_one_key_confirms_the_moments_of_the_shot_at_hand_and_undo_takes_it_back(qtbot, opened, session):
    assert unseen(session) == [1, 2]
    places = [moment.at for moment in session.game.moments]
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_M, BOTH)
    assert unseen(session) == [1]
    assert [moment.at for moment in session.game.moments] == places
    opened.undo()
    assert unseen(session) == [1, 2]


def test_the_moments_own_key_confirms_it_where_it_is(qtbot, opened, session):
    qtbot.waitUntil(lambda: session.player.is_placed, timeout=20000)
    number = len(session.game.moments)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_BracketLeft)
    assert unseen(session) == [1] and len(session.game.moments) == number


def test_moving_it_has_looked_at_it(qtbot, opened, session):
    snap = second(session)
    session.seek(snap.at._replace(pts=snap.at.pts
                                  + 4 * round(1 / (25 * session.film.source(snap.at.source).time_base))))
    qtbot.waitUntil(lambda: session.player.is_placed and not session.player.waiting, timeout=20000)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_BracketLeft)
    assert second(session).at != snap.at and unseen(session) == [1]


def test_a_shot_without_such_moments_is_left_alone(qtbot, opened, session):
    session.seek(session.game.shots[3].start)
    before = session.game
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_M, BOTH)
    assert session.game == before


def test_the_timeline_says_which_were_not_looked_at(qtbot, opened, session):
    lane = opened.room.timeline.lane("shots")
    qtbot.waitUntil(lambda: second(session).id in lane._moments.ids)
    told = dict(zip(lane._moments.ids, lane._moments.tooltip, strict=True))
    assert "not looked at yet: up to 0.5 s off" in told[second(session).id]
    sure = [id for id, words in told.items() if "looked at" not in words]
    assert len(sure) == len(session.game.moments) - 2

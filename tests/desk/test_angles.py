"""A game with two angles in the whole window: one key looks from the next angle, at the same moment.

The further camera's film is made of other pictures. Play 2 is snapped at 14 s on the first film and at 24 s on the
further one; play 3 is not filmed by it.
"""

from __future__ import annotations

import subprocess
from dataclasses import replace

import pytest

from tests.desk.driver import press
from tests.desk.small_game import RATE
from workstation.film.sources import probe
from workstation.film.time import Instant
from workstation.tagging.angles import FIRST
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Angle, CameraPlace, Match, Moment, MomentKind, Shot, ShotKind
from workstation.tagging.operations import AddRecord, AddShots, AddSources, MatchPlays, RemoveRecord
from workstation.tagging.records import Kind

END_ZONE = 1
SNAP_2, SNAP_2_THERE = 14.0, 24.0


def at(source, seconds: float) -> Instant:
    return Instant(source.id, source.start_pts + round(round(seconds * RATE) / (RATE * source.time_base)))


@pytest.fixture(scope="session")
def further_film(tmp_path_factory):
    path = tmp_path_factory.mktemp("further") / "tower.mp4"
    subprocess.run(["ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i",
                    f"mandelbrot=size=320x180:rate={RATE}", "-t", "60", "-c:v", "libx264", "-preset", "ultrafast",
                    "-g", "25", "-pix_fmt", "yuv420p", str(path)], check=True)
    return probe(path, "")


@pytest.fixture
def two_angles(small_game, further_film):
    with GameFile.open(small_game) as file:
        file.do(AddRecord(Angle(0, "End zone", CameraPlace.END_ZONE, crew="R. Roe")))
        file.do(AddSources((further_film,), angle=END_ZONE))
        (there,) = file.game.angles[0].film.sources
        here = file.game.film.sources[0]
        file.do(AddShots((Shot(50, at(there, 20), at(there, 40), ShotKind.PLAY),)))
        file.do(MatchPlays((Match(END_ZONE, 2, 50, (at(here, SNAP_2), at(there, SNAP_2_THERE))),)))
    return small_game


@pytest.fixture
def opened_two(qtbot, window, two_angles):
    window.opening.open_game(two_angles)
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
    qtbot.waitUntil(lambda: not window.session.player.frame.isNull(), timeout=30000)
    return window


def shown(window) -> tuple[str, float]:
    """The source on show and how many seconds into it."""
    position = window.session.position
    source = window.session.film.source(position.source)
    return position.source, float((position.pts - source.start_pts) * source.time_base)


def settled(window) -> bool:
    return not window.session.player.waiting and not window.session.player.frame.isNull()


def test_one_key_shows_the_same_moment_from_the_next_angle_and_back(qtbot, opened_two):
    session = opened_two.session
    here = session.whole.film.sources[0]
    (there,) = session.whole.angles[0].film.sources
    session.seek(at(here, SNAP_2 + 1.2))
    qtbot.waitUntil(lambda: settled(opened_two))
    before = session.player.frame.copy()
    press(opened_two, "desk.angle")
    qtbot.waitUntil(lambda: settled(opened_two) and session.player.frame != before)
    assert session.angle == END_ZONE
    assert shown(opened_two) == (there.id, pytest.approx(SNAP_2_THERE + 1.2, abs=1 / RATE))
    press(opened_two, "desk.angle")
    qtbot.waitUntil(lambda: settled(opened_two) and session.player.frame == before)
    assert session.angle == FIRST
    assert shown(opened_two) == (here.id, pytest.approx(SNAP_2 + 1.2, abs=1 / RATE))


def test_the_playhead_follows_into_the_next_angle_and_back(qtbot, opened_two):
    window, timeline = opened_two, opened_two.room.timeline
    window.session.seek(window.session.film.instant_at(SNAP_2))
    qtbot.waitUntil(lambda: settled(window) and timeline.time == pytest.approx(SNAP_2, abs=0.1), timeout=10000)
    press(window, "desk.angle")
    qtbot.waitUntil(lambda: settled(window) and timeline.time == pytest.approx(SNAP_2_THERE, abs=0.1), timeout=10000)
    press(window, "desk.angle")
    qtbot.waitUntil(lambda: settled(window) and timeline.time == pytest.approx(SNAP_2, abs=0.1), timeout=10000)


def test_a_snap_moved_in_the_further_angle_moves_in_the_first(qtbot, opened_two):
    session = opened_two.session
    press(opened_two, "desk.angle")
    (there,) = session.film.sources
    snap = next(each for each in session.game.moments if each.kind is MomentKind.SNAP)
    assert snap.at.source == there.id
    session.do(AddRecord(Moment(0, MomentKind.DEAD_BALL, at(there, SNAP_2_THERE + 5))))
    press(opened_two, "desk.angle")
    assert session.angle == FIRST
    assert all(each.at.source == session.film.sources[0].id for each in session.game.moments)


def test_a_snap_of_the_first_angle_moved_in_the_further_one_stays_the_firsts(qtbot, opened_two):
    from workstation.tagging.operations import MoveMoment
    session = opened_two.session
    here = session.whole.film.sources[0]
    press(opened_two, "desk.angle")
    (there,) = session.film.sources
    snap = next(each for each in session.game.moments if each.kind is MomentKind.SNAP)
    assert snap.at == at(there, SNAP_2_THERE)
    session.do(MoveMoment(snap.id, at(there, SNAP_2_THERE + 3 / RATE)))
    assert next(each for each in session.whole.moments if each.id == snap.id).at == at(here, SNAP_2 + 3 / RATE)
    assert next(each for each in session.game.moments if each.id == snap.id).at == at(there, SNAP_2_THERE + 3 / RATE)
    press(opened_two, "tag.confirm_shots")
    assert all(shot.confirmed for shot in session.game.shots)


def test_the_heading_changed_in_the_further_angle_keeps_each_cameras_crew(qtbot, opened_two):
    from workstation.tagging.operations import SetHeading
    session = opened_two.session
    press(opened_two, "desk.angle")
    assert session.game.heading.crew == "R. Roe"
    session.do(SetHeading(replace(session.game.heading, crew="A. Noe", venue="Summit Field")))
    assert session.whole.angles[0].angle.crew == "A. Noe"
    assert (session.whole.heading.crew, session.whole.heading.venue) == ("", "Summit Field")


def test_with_one_angle_the_key_says_so_and_changes_nothing(qtbot, opened):
    before = opened.session.position
    with qtbot.waitSignal(opened.session.notice) as said:
        press(opened, "desk.angle")
    assert said.args == ["This game has one angle. Add the film of another camera from the menu."]
    assert opened.session.position == before


def test_undoing_the_angle_that_is_looked_at_goes_back_to_the_first(qtbot, window, small_game):
    window.opening.open_game(small_game)
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
    session = window.session
    session.do(AddRecord(Angle(0, "End zone", CameraPlace.END_ZONE)))
    session.see(END_ZONE)
    assert not session.film.sources
    press(window, "desk.undo")
    assert session.angle == FIRST and session.film.sources


def test_switching_again_and_again_while_it_plays_never_mixes_the_films(qtbot, opened_two):
    session = opened_two.session
    here = session.whole.film.sources[0]
    session.seek(at(here, SNAP_2))
    qtbot.waitUntil(lambda: settled(opened_two))
    press(opened_two, "desk.angle")
    press(opened_two, "desk.angle")
    session.play()
    qtbot.waitUntil(lambda: session.playing, timeout=20000)
    for pause in (300, 20, 150, 400, 10, 250):
        press(opened_two, "desk.angle")
        qtbot.wait(pause)
        assert any(source.id == session.position.source for source in session.film.sources)
    session.pause()
    qtbot.waitUntil(lambda: settled(opened_two))
    assert any(source.id == session.position.source for source in session.film.sources)


def test_the_finding_at_hand_is_at_hand_again_after_a_look_from_the_other_angle(qtbot, opened_two):
    window, session = opened_two, opened_two.session
    window.go_to("Review")
    room = window.room
    qtbot.waitUntil(lambda: session.coverage is not None and room.findings.list.isVisible(), timeout=20000)
    room.walk.step(1)
    room.walk.step(1)
    chosen = room.findings.current.key
    session.pause()
    press(window, "desk.angle")
    qtbot.waitUntil(lambda: session.coverage is not None, timeout=20000)
    press(window, "desk.angle")
    qtbot.waitUntil(lambda: session.coverage is not None, timeout=20000)
    assert room.findings.current is not None and room.findings.current.key == chosen
    assert not session.playing


def test_what_is_said_of_slow_film_goes_with_the_film_and_comes_again_with_it(qtbot, opened_two):
    window, session = opened_two, opened_two.session
    (source,) = session.film.sources
    session.player.slow.emit(source.id, 0.4)
    assert "40%" in window.message.text
    press(window, "desk.angle")
    assert not window.message.text
    session.player.slow.emit(source.id, 0.4)        # a late word about the film that was left
    assert not window.message.text
    press(window, "desk.angle")
    session.player.slow.emit(source.id, 0.4)
    assert "40%" in window.message.text


@pytest.fixture
def two_in_one(qtbot, opened_two):
    """The further camera ran through plays 2 and 3; nothing but the ties says where each is in its shot."""
    session = opened_two.session
    (there,), (here,) = session.whole.angles[0].film.sources, session.whole.film.sources
    for moment in session.whole.moments:
        session.do(RemoveRecord(Kind.MOMENT, moment.id))
    session.do_on_whole(MatchPlays((Match(END_ZONE, 3, 50, (at(here, SNAP_2 + 9), at(there, SNAP_2_THERE + 9))),)))
    return opened_two


def test_of_two_plays_in_one_shot_the_chosen_one_is_shown_by_the_other_angle(qtbot, two_in_one):
    window, session = two_in_one, two_in_one.session
    room = window.room
    press(window, "desk.angle")
    for row, begins in ((1, 11.0), (2, 20.0), (1, 11.0)):       # where the first angle's shots of them begin
        room.go_to_row(row)
        qtbot.waitUntil(lambda: settled(window))
        assert shown(window)[1] == pytest.approx(begins - SNAP_2 + SNAP_2_THERE, abs=1.01 / RATE)
        assert room.row == row
        press(window, "desk.angle")
        qtbot.waitUntil(lambda: settled(window))
        assert session.angle == FIRST and shown(window)[1] == pytest.approx(begins, abs=1.01 / RATE)
        assert room.row == row
        press(window, "desk.angle")

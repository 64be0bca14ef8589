"""Yards from the picture in the real window, on a painted play whose yards are known, by mouse and keys."""

from __future__ import annotations

import shutil
from dataclasses import replace

import av
import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication
from workstation.demo.camera import aims
from workstation.demo.choreography import stage
from workstation.demo.film_it import film_demo, picture_at
from workstation.demo.script import HEADING, SCENES

from tests.delivery.film_kinds_table import with_matrix
from workstation.coverage.finding import Cause, Direction, Finding, Severity
from workstation.desk.review.explanation import Explanation
from workstation.film.index import index_of
from workstation.film.sources import open_film
from workstation.film.time import Instant
from workstation.football.field import Team
from workstation.football.plays import Play, PlayKind, SituationOverride
from workstation.football.situation import Next
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, Moment, MomentKind, PlayTag, Shot, ShotKind
from workstation.tagging.operations import TakeGame

SCENE = 2           # a run of four yards to the right from the own 27
WIDTH = 640


def upside_down(path):
    """The film as a camera that hangs head down stores it, with its note to turn it back."""
    upright = path.rename(path.with_name("upright" + path.suffix))
    standing, stored = path.with_name("standing.mp4"), path.with_name("stored.mp4")
    with av.open(str(upright)) as film, av.open(str(standing), "w") as made:
        stream = made.add_stream("libx264", rate=30, options={"crf": "14"})
        stream.width, stream.height, stream.pix_fmt = WIDTH, WIDTH * 9 // 16, "yuv420p"
        for frame in film.decode(video=0):
            pixels = np.ascontiguousarray(frame.to_ndarray(format="rgb24")[::-1, ::-1])
            made.mux(stream.encode(av.VideoFrame.from_ndarray(pixels, format="rgb24")))
        made.mux(stream.encode())
    with_matrix(-1, 0, 0, -1)(standing, stored)
    return [stored]


class Painted:
    """The game file, and where the ball is in the pictures of the snap and the dead ball, as fractions."""

    def __init__(self, folder, stored=lambda path: [path]):
        film = open_film(stored(*film_demo(folder, layout="one file", width=WIDTH, scenes=(SCENE,))))
        (source,) = film.sources
        pts = index_of(source).pts
        scene, moves = SCENES[SCENE], stage(SCENES[SCENE], SCENE)
        looks = aims(scene, moves, SCENE)
        self.spots, moments, places = [], [], []
        for number, kind in enumerate((MomentKind.SNAP, MomentKind.DEAD_BALL), 1):
            at = picture_at(scene.at(kind))
            x, y, _ = next(moves.ball[one] for one in range(at, 0, -1) if not np.isnan(moves.ball[one]).any())
            right, down = looks[at].pixel(x, y, 0, WIDTH / 1280)
            self.spots.append((right / WIDTH, down / (WIDTH * 9 / 16)))
            moments.append(Moment(number, kind, Instant(source.id, int(pts[at]))))
            places.append(x)
        self.yards = places[1] - places[0]
        begins = SituationOverride(offense=Team.HOME, down=1, yards_to_gain=10, ball_on=27, next=Next.SCRIMMAGE,
                                   home_faces_right=True)
        play = PlayTag(1, 1.0, Play(PlayKind.RUN, gain=9, override=begins), 1)
        shot = Shot(1, source.first, source.end, ShotKind.PLAY)
        self.path = folder / "painted.game"
        with GameFile.create(self.path, HEADING) as file:
            file.do(TakeGame(Game(file.game.heading, film, (shot,), tuple(moments), (play,))))


@pytest.fixture(scope="session")
def painted(tmp_path_factory):
    return Painted(tmp_path_factory.mktemp("painted"))


@pytest.fixture
def page(qtbot, window, painted):
    return opened(qtbot, window, painted)


def opened(qtbot, window, painted):
    window.opening.open_game(shutil.copy(painted.path, painted.path.with_name("copy.game")))
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
    qtbot.waitUntil(lambda: not window.session.player.frame.isNull(), timeout=30000)
    window.session.seek_time(5)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_G, Qt.KeyboardModifier.ControlModifier)
    page = window.overlays.made["yards"]
    assert window.stack.currentWidget() is page
    qtbot.waitUntil(lambda: all(not side.view.image.isNull() for side in page.sides), timeout=30000)
    return page


def point(qtbot, page, number, spot):
    view = page.sides[number].view
    rect = view.picture_rect()
    qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=QPoint(round(rect.x() + spot[0] * rect.width()),
                                                                 round(rect.y() + spot[1] * rect.height())))


def measured(qtbot, page, painted):
    for number, spot in enumerate(painted.spots):
        point(qtbot, page, number, spot)
    qtbot.waitUntil(lambda: page.found is not None, timeout=60000)
    return page.found


def gain_of(page):
    return page.session.game.plays[0].play.gain


def test_it_begins_at_the_snap_and_the_dead_ball_and_shows_the_lines_of_both(qtbot, page):
    moments = {moment.kind: moment.at for moment in page.session.game.moments}
    assert [side.at for side in page.sides] == [moments[MomentKind.SNAP], moments[MomentKind.DEAD_BALL]]
    assert "Play 1" in page.about.text() and "own 27" in page.about.text()
    qtbot.waitUntil(lambda: all(len(side.lines) >= 4 for side in page.sides), timeout=30000)


def test_the_gain_is_offered_with_its_error_and_taken_with_one_key(qtbot, page, window, painted):
    found = measured(qtbot, page, painted)
    assert abs(found.yards - painted.yards) <= min(found.error, 0.5)
    assert f"{found.yards:.1f} yards, give or take " in page.told.text() and "; tagged: 9" in page.told.text()
    assert "The tag does not fit" in page.more.text() and "hort of the line to gain by" in page.more.text()
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    assert gain_of(page) == round(found.yards, 1) and window.stack.currentWidget() is window.room
    session = window.session
    window.undo()
    assert session.game.plays[0].play.gain == 9


def test_the_same_line_has_the_same_letter_in_both_pictures(qtbot, page, painted):
    found = measured(qtbot, page, painted)
    in_both = {line.number: line for line in found.first}.keys() & {line.number for line in found.second}
    assert len(in_both) >= 3
    assert list(page.sides[0].lines) == list(found.first) and list(page.sides[1].lines) == list(found.second)


def test_a_film_that_is_stored_head_down_is_measured_as_it_is_shown(qtbot, window, tmp_path):
    painted = Painted(tmp_path, upside_down)
    page = opened(qtbot, window, painted)
    assert page.session.film.sources[0].rotation == 180
    found = measured(qtbot, page, painted)
    assert abs(found.yards - painted.yards) <= min(found.error, 0.5)
    assert all(line.top[1] < line.bottom[1] for line in (*found.first, *found.second))


def test_escape_leaves_without_change(qtbot, page, window, painted):
    measured(qtbot, page, painted)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    assert window.stack.currentWidget() is window.room and window.session.game.plays[0].play.gain == 9
    assert window.session.file.can_undo != "change play 1"


def test_another_picture_asks_for_another_click(qtbot, page, painted):
    measured(qtbot, page, painted)
    before = page.sides[0].at
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Right)
    active = page.sides[page._active]
    assert active.spot is None and page.found is None and not page.take_button.isEnabled()
    qtbot.waitUntil(lambda: page._reading is None, timeout=30000)
    assert [side.at for side in page.sides] != [before, page.sides[1].at] or active is page.sides[1]


def test_the_spot_moves_by_keys_and_is_measured_again(qtbot, page, painted):
    measured(qtbot, page, painted)
    spot, yards = page.sides[page._active].spot, page.found.yards
    for _ in range(20):
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Right, Qt.KeyboardModifier.AltModifier)
    qtbot.waitUntil(lambda: page.found is not None, timeout=60000)
    assert page.sides[page._active].spot[0] == pytest.approx(spot[0] + 20 / WIDTH)
    way = 1 if page._active == 1 else -1
    assert 0.3 < way * (page.found.yards - yards) < 4


def test_a_spot_is_held_against_a_line(qtbot, page, painted):
    measured(qtbot, page, painted)
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_M)
    assert page.told.text().startswith(f"Short of the line by {painted.yards:.0f}"[:22])
    assert not page.take_button.isVisible()
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_O)
    assert page.told.text().startswith("Beyond the line by ")


def test_the_later_spot_may_be_on_the_left(qtbot, page, painted):
    forward = measured(qtbot, page, painted).yards
    first, second = page.sides[0].at, page.sides[1].at
    page.sides[0].wanted, page.sides[1].wanted = second, first
    page._read_next()
    qtbot.waitUntil(lambda: page.sides[0].at == second and page.sides[1].at == first, timeout=30000)
    page.again()
    for number, spot in enumerate(reversed(painted.spots)):
        point(qtbot, page, number, spot)
    qtbot.waitUntil(lambda: page.found is not None, timeout=60000)
    assert page.found.yards == pytest.approx(-forward, abs=0.2)


def test_a_picture_without_lines_says_why(qtbot, page, painted, monkeypatch):
    monkeypatch.setattr("workstation.film.yards_between.find_yard_lines", lambda luma, field: None)
    found = measured(qtbot, page, painted)
    assert found.yards is None and page.told.text() == "Not measured."
    assert page.more.text() == "The yard lines cannot be seen in the first picture."
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    assert gain_of(page) == 9


def test_stopping_the_job_leaves_the_spots(qtbot, page, window, painted, monkeypatch):
    import threading
    gate = threading.Event()

    def slow(source, first, second, report):
        gate.wait(30)
        report(0, 1)
        raise AssertionError("it was cancelled")

    monkeypatch.setattr("workstation.desk.yards_page.yards_between", slow)
    for number, spot in enumerate(painted.spots):
        point(qtbot, page, number, spot)
    (job,) = window.jobs.running
    assert job.title == "Following the yard lines"
    job.cancel()
    gate.set()
    qtbot.waitUntil(lambda: not window.jobs.running, timeout=30000)
    assert page.found is None and all(side.spot is not None for side in page.sides)


def test_a_page_over_it_and_back_goes_on(qtbot, page, window, painted):
    measured(qtbot, page, painted)
    told = page.told.text()
    window.act("desk.keys")
    assert window.stack.currentWidget() is not page
    window.act("desk.keys")
    assert window.stack.currentWidget() is page and page.told.text() == told


def test_the_tag_room_offers_it_where_what_was_said_contradicts_itself(qtbot, page, window):
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    room = window.room
    assert window.session.steps[0].is_disputed          # a situation was set by hand that does not follow
    room.go_to_row(1)
    qtbot.waitUntil(lambda: not room.strip.yards.isVisible(), timeout=10000)
    room.go_to_row(0)
    qtbot.waitUntil(room.strip.yards.isVisible, timeout=10000)
    qtbot.mouseClick(room.strip.yards, Qt.MouseButton.LeftButton)
    assert window.stack.currentWidget() is page


def test_a_finding_that_turns_on_a_spot_offers_it(qtbot, page, window):
    qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Escape)
    at = window.session.game.moments[0].at
    finding = Finding(key="one", rule="marker shot expected", severity=Severity.WARNING, direction=Direction.MISSED,
                      at=at, time=1.0, title="Marker shot expected", why="", expected="", habit="", play=1,
                      cause=Cause.NEAR_LINE_TO_GAIN)
    shown = Explanation(window.desk)
    qtbot.addWidget(shown)
    shown.show_finding(finding, None)
    assert shown.yards.isVisibleTo(shown)
    shown.show_finding(replace(finding, key="two", cause=Cause.PENALTY), None)
    assert not shown.yards.isVisibleTo(shown)

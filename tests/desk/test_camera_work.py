"""Camera work on the timeline and in review: trouble by default, lines on demand, the worst place beside the best."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from tests.coverage.camera_filming import FAULTS, Camera, checked
from tests.coverage.filming import PROFILE, Filming
from workstation.desk.review.compare import sides_for
from workstation.desk.timeline.lanes import Basis, CameraWorkLane
from workstation.desk.timeline.scale import Scale
from workstation.tagging.layout import FilmLayout


class Timeline:
    """What the lane asks of a timeline."""

    def __init__(self):
        self.arranged, self.measured, self.started = 0, 0, []
        self.desk = SimpleNamespace(keys=SimpleNamespace(shown=lambda id: "Ctrl+Alt+W"),
                                    jobs=SimpleNamespace(start=self._start))
        self.session = SimpleNamespace(measured_again=self._again, notice=None)
        self.has_session, self.chosen = True, {}

    def _start(self, title, work, succeeded=None):
        self.started.append(title)
        self._ended = []
        return SimpleNamespace(ended=SimpleNamespace(connect=self._ended.append))

    def _again(self):
        self.measured += 1

    def end(self):
        for act in self._ended:
            act()

    def redraw(self):
        pass

    def room_for(self, lane):
        return 100

    def arrange_again(self):
        self.arranged += 1


def basis(fault: str | None = "shakes", measured: bool = True) -> Basis:
    film = Filming()
    film.at(1, 10, 30)
    film.run(3)
    film.run(2)
    film.marker()
    film.run(4)
    camera = Camera(film.now + 60)
    if fault:
        FAULTS[fault].spoil(camera, 18, 23)
    coverage = checked(film, camera if measured else None, PROFILE)
    return Basis(film.game, film.steps(), coverage, FilmLayout(film.game))


SCALE = Scale(100.0, 1000, 0.0, 0.1)


def lane_of(shown: Basis) -> CameraWorkLane:
    lane = CameraWorkLane(Timeline())
    lane.take_film(shown.game.film)
    lane.prepare(shown)
    return lane


def test_only_trouble_is_shown_by_default():
    lane = lane_of(basis())
    assert len(lane.items) == 1 and lane.items.short == ("steady picture",)
    assert lane.items.span(0) == pytest.approx((18.5, 22.5), abs=0.8)
    assert not lane.shows_lines
    assert "thousandths" in lane.tooltip(20.0, SCALE)
    assert len(lane_of(basis(None)).items) == 0


def test_the_key_shows_a_line_for_each_measure_and_hides_them_again():
    lane = lane_of(basis())
    before = lane.least
    lane.measure_or_show()
    assert lane.shows_lines and lane.least > before and lane.timeline.arranged == 1
    said = lane.tooltip(20.0, SCALE)
    assert all(word in said for word in ("shake: 5", "softness: 0.0", "room around the action"))
    lane.measure_or_show()
    assert not lane.shows_lines and lane.least == before


def test_what_was_not_measured_is_measured_on_a_click_and_judged_then():
    lane = lane_of(basis(measured=False))
    assert "measure" in lane.tooltip(20.0, SCALE)
    assert lane.press()
    assert lane.timeline.started == ["Measuring the camera work"]
    assert lane.press() and len(lane.timeline.started) == 1          # not twice at once
    lane.timeline.end()
    assert lane.timeline.measured == 1


def test_a_waived_finding_is_marked_as_such():
    shown = basis()
    finding = next(each for each in shown.coverage.findings if each.rule == "steady")
    from workstation.tagging.model import Decision, Verdict
    decision = Decision(finding.key, Verdict.WAIVED, "a storm")
    waived = replace(shown.coverage, findings=tuple(replace(each, decision=decision) if each is finding else each
                                                    for each in shown.coverage.findings))
    lane = lane_of(replace(shown, game=replace(shown.game, decisions=(decision,)), coverage=waived))
    assert lane.items.flag.tolist() == [True]


def test_the_worst_place_lies_beside_the_crews_own_best_shot_of_the_same_kind():
    shown = basis()
    finding = next(each for each in shown.coverage.findings if each.rule == "steady")
    assert finding.beside in (2, 5)                 # the other plays; the marker is of another kind
    left, right = sides_for(shown.game, finding)
    film = shown.game.film
    assert 18.0 <= float(film.time_of(left.snap)) <= 23.0
    best = shown.places.shots[finding.beside]
    assert best.start <= float(film.time_of(right.snap)) < best.end
    after = float(film.time_of(left.snap)) - 19.0, float(film.time_of(right.snap)) - (best.start + 4.0)
    assert after[0] == pytest.approx(after[1], abs=0.05)        # as long after their snaps
    assert sides_for(shown.game, replace(finding, beside=None)) is None


def test_lines_keep_gaps_between_shots():
    work = basis().coverage.camera_work
    shake = next(line for line in work.lines if line.measure.name == "shake")
    assert np.isnan(shake.values).sum() >= 4
    assert (np.diff(shake.times) >= 0).all()


@pytest.mark.parametrize("per_pixel", [0.02, 0.1, 4.0])
def test_lines_and_trouble_are_painted_at_every_scale(qapp, tmp_path, per_pixel):
    from PySide6.QtCore import QSettings
    from PySide6.QtGui import QImage, QPainter

    from workstation.desk.theme import Theme
    from workstation.desk.timeline.canvas import Canvas, Inks
    lane = lane_of(basis())
    look = Inks(Theme(qapp, QSettings(str(tmp_path / "look.ini"), QSettings.Format.IniFormat)))
    scale = Scale(100.0, 800, 15.0 if per_pixel < 1 else 0.0, per_pixel)
    for _ in range(2):
        image = QImage(800, 120, QImage.Format.Format_ARGB32_Premultiplied)
        image.fill(0)
        painter = QPainter(image)
        lane.paint(Canvas(painter, look, scale, {}, {}, lambda time: None), 0, 120)
        painter.end()
        pixels = np.frombuffer(image.constBits(), np.uint32).reshape(120, 800)
        assert (pixels != 0).any()
        lane.measure_or_show()

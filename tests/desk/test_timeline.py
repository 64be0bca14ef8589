from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from types import SimpleNamespace

import numpy as np
import pytest
from PySide6.QtCore import QObject, QPoint, QPointF, QSettings, Qt, Signal
from PySide6.QtGui import QColor, QImage, QWheelEvent
from PySide6.QtWidgets import QApplication

from tests.desk.big_game import FRAME, big_game
from tests.footage import make
from workstation.cancelling import Cancelled
from workstation.coverage.severities import SEVERITIES
from workstation.desk.jobs import Job, Jobs, Progress
from workstation.desk.keys import KeyMap
from workstation.desk.room import Desk
from workstation.desk.suggesting import Suggestions
from workstation.desk.theme import Theme, contrast
from workstation.desk.timeline.blocks import Block, blocks
from workstation.desk.timeline.canvas import GUTTER
from workstation.desk.timeline.glyphs import glyph
from workstation.desk.timeline.lanes import LANES, Basis, FindingsLane, Lane, PlaysLane
from workstation.desk.timeline.painter import arrange
from workstation.desk.timeline.scale import Scale
from workstation.desk.timeline.view import TimelineView
from workstation.film.film_sound import Sound, measure_sound
from workstation.film.finding import FoundShot
from workstation.film.index import index_of
from workstation.film.sources import open_film
from workstation.film.time import Instant, spoken_time
from workstation.tagging.layout import FilmLayout, frame_start, snapped
from workstation.tagging.model import Decision, MomentKind, ShotKind, Verdict
from workstation.tagging.operations import ChangeShots
from workstation.tagging.suggestions import FilmSuggestions


class Said(QObject):
    """A session over values; it keeps what the timeline asks of it."""

    game_changed = Signal(object)
    derived_changed = Signal()
    position_changed = Signal(object)
    told = Signal(str)

    def __init__(self, game, steps, coverage):
        super().__init__()
        self.game, self.steps, self.coverage = game, steps, coverage
        self.film = game.film
        self.position = Instant("a", 0)
        self.done = []
        self.player = self      # which is told what is in view
        self.viewed = []

    def in_view(self, sources):
        self.viewed = sources

    @property
    def time(self):
        return self.film.time_of(self.position)

    def position_to_mark(self):
        return self.position

    def seek(self, instant):
        self.position = instant
        self.position_changed.emit(instant)

    def do(self, operation):
        self.done.append(operation)
        shots = {shot.id: shot for shot in self.game.shots} | {shot.id: shot for shot in operation.shots}
        self.game = replace(self.game, shots=tuple(shots.values()))
        self.game_changed.emit(None)


@pytest.fixture
def desk(qapp, tmp_path):
    theme = Theme(QApplication.instance())
    theme.apply(dark=True, scale=1)
    settings = QSettings(str(tmp_path / "desk.ini"), QSettings.Format.IniFormat)
    return Desk(KeyMap(settings), theme, Jobs(), settings)


@pytest.fixture
def view(qtbot, desk):
    view = TimelineView(desk)
    qtbot.addWidget(view)
    view.resize(1400, 240)
    view.show_session(Said(*big_game(60, 30, 20, 1200)))
    view._thumbnail = lambda at: None
    view.show()
    return view


def spot(view, time, lane):
    top, tall = view._boxes[lane]
    return QPoint(GUTTER + round(view.scale.x(time)), top + tall // 2)


def items_of(make, game, steps, coverage):
    """What a lane shows of a game."""
    lane = make(None)
    lane.prepare(Basis(game, steps, coverage, FilmLayout(game)))
    return lane.items


def wheel(view, point, turn, modifiers=Qt.KeyboardModifier.NoModifier):
    event = QWheelEvent(QPointF(point), view.mapToGlobal(QPointF(point)), QPoint(), QPoint(0, turn),
                        Qt.MouseButton.NoButton, modifiers, Qt.ScrollPhase.NoScrollPhase, False)
    QApplication.sendEvent(view, event)


# -- the scale ---------------------------------------------------------------------------------------


def test_zooming_keeps_what_lies_under_the_pointer():
    scale = Scale(width=1000, duration=7200).resized(1000, 7200)
    time = scale.time(300)
    for factor in (1.3, 4.0, 20.0, 0.5):
        scale = scale.zoomed(factor, 300)
        assert scale.time(300) == pytest.approx(time)


def test_zoom_ends_at_the_whole_film_and_at_single_pictures():
    scale = Scale().resized(1000, 7200)
    assert scale.is_whole()
    assert scale.zoomed(0.1, 10) == scale
    closest = scale.zoomed(1e9, 500)
    assert 1 / 60 / closest.per_pixel >= 24      # a picture at 60 a second is wide enough to hit


def test_panning_stops_at_the_ends_of_the_film():
    scale = Scale().resized(1000, 7200).zoomed(10, 0)
    assert scale.panned(-1e9).x(0) == pytest.approx(24)
    assert scale.panned(1e9).x(7200) == pytest.approx(1000 - 24)


def test_showing_moves_no_more_than_needed():
    scale = Scale().resized(1000, 7200).zoomed(20, 500)
    middle = (scale.start + scale.end) / 2
    assert scale.showing(middle, middle + 1) == scale
    away = scale.showing(100, 101)
    assert away.start < 100 < away.end and away.per_pixel == scale.per_pixel
    wide = scale.showing(1000, 4000)
    assert wide.start < 1000 and wide.end > 4000


@pytest.mark.parametrize(("seconds", "tenths", "words"), [
    (0, False, "0:00"), (59.96, True, "1:00.0"), (3723.44, True, "1:02:03.4"), (3599.6, False, "1:00:00")])
def test_times_are_spoken_without_ever_showing_sixty_seconds(seconds, tenths, words):
    assert spoken_time(seconds, tenths) == words


# -- what it is drawn from --------------------------------------------------------------------------


def test_places_agree_with_the_exact_film_time():
    game, _, _ = big_game(60, 30, 20, 1200)
    places = FilmLayout(game)
    for shot in game.shots:
        assert places.shots[shot.id].start == pytest.approx(float(game.film.time_of(shot.start)), abs=1e-9)
    tag = game.plays[3]
    snaps = [moment for moment in game.moments if moment.kind is MomentKind.SNAP]
    assert places.plays[tag.id].snap.time == pytest.approx(float(game.film.time_of(snaps[3].at)))
    assert places.plays[tag.id].action[1] > places.plays[tag.id].action[0]


def test_what_is_filmed_after_a_play_belongs_to_it():
    places = FilmLayout(big_game(60, 30, 20, 1200)[0])
    (first, second), play = list(places.plays.values())[:2], next(iter(places.plays))
    assert first.end <= second.start
    for time in (first.start, (first.end + second.start) / 2, second.start - 0.01):
        assert places.play_at(time) == play
    assert places.play_at(second.start) != play and places.play_at(first.start - 0.01) is None


def test_visible_blocks_are_those_that_a_plain_search_finds():
    findings = items_of(FindingsLane, *big_game(200, 100, 80, 3600))
    rng = np.random.default_rng(3)
    for start in rng.uniform(0, 3600, 50):
        seen = findings.visible(start, start + 90)
        plain = {i for i in range(len(findings))
                 if findings.end[i] >= start and findings.start[i] <= start + 90}
        assert plain <= set(range(seen.start, seen.stop))


def test_a_play_that_was_not_filmed_keeps_its_place():
    game, steps, told = big_game(60, 30, 20, 1200)
    plays = list(game.plays)
    plays[5] = replace(plays[5], shot=None)
    items = items_of(PlaysLane, replace(game, plays=tuple(plays)), steps, told)
    index = items.index(plays[5].id)
    assert items.look[index] >= 3 and "not filmed" in items.tooltip[index]
    assert items.ids[index - 1] == plays[4].id


def test_decisions_are_seen_on_findings():
    game, steps, told = big_game(60, 30, 20, 1200)
    keys = [finding.key for finding in told.findings[:2]]
    game = replace(game, decisions=(Decision(keys[0], Verdict.AGREED), Decision(keys[1], Verdict.WAIVED, "wind")))
    items = items_of(FindingsLane, game, steps, told)
    assert "agreed" in items.tooltip[items.index(keys[0])]
    assert "waived" in items.tooltip[items.index(keys[1])]


def test_frames_are_snapped_on_the_sources_own_grid():
    film = big_game(60, 30, 20, 1200)[0].film
    assert snapped(film, Instant("a", 5 * FRAME + 700)) == Instant("a", 5 * FRAME)
    assert snapped(film, Instant("a", 5 * FRAME + 700), nearest=True) == Instant("a", 6 * FRAME)
    assert frame_start(film, float(Fraction(7 * FRAME, 30000)) + 1e-4) == Instant("a", 7 * FRAME)


def test_frames_of_a_variable_rate_are_snapped_where_they_really_are(tmp_path, monkeypatch):
    monkeypatch.setenv("FILM_WORKSTATION_CACHE", str(tmp_path / "kept"))
    film = open_film([make("variable-rate", tmp_path)])
    pts = index_of(film.sources[0]).pts
    gaps = np.diff(pts)
    assert len(set(gaps.tolist())) > 1      # else this would try nothing
    wide = int(np.argmax(gaps))
    source = film.sources[0].id
    assert snapped(film, Instant(source, int(pts[wide + 1]) - 1)) == Instant(source, int(pts[wide]))
    assert snapped(film, Instant(source, int(pts[wide + 1]) - 1), nearest=True) == Instant(source, int(pts[wide + 1]))


def test_lanes_go_in_order_of_need_where_there_is_little_room():
    assert list(arrange(300, LANES)) == [lane.key for lane in LANES]
    small = arrange(110, LANES)
    assert {"shots", "plays", "findings"} <= set(small)
    assert max(top + tall for top, tall in small.values()) <= 110


@pytest.mark.parametrize("scale", [1.3, 1.6, 2.0, 2.5])
def test_no_lane_is_lower_than_its_words_while_another_could_go(qtbot, desk, scale):
    view = TimelineView(desk)
    qtbot.addWidget(view)
    with qtbot.waitSignal(desk.theme.changed):
        desk.theme.apply(scale=scale)
    for tall in range(view.height_of_all - 120, view.height_of_all + 120, 7):
        view.resize(1400, tall)
        view._arrange()
        assert max(top + tall for top, tall in view._boxes.values()) <= tall
        if set(view._boxes) - {"shots", "plays", "findings"}:
            assert min(tall for _, tall in view._boxes.values()) >= view._painter.look.tall, (tall, view._boxes)
    view.resize(1400, view.height_of_all)
    view._arrange()
    assert {lane.key for lane in view.lanes if lane.need > 0} <= set(view._boxes)


# -- told apart without colour -----------------------------------------------------------------------


def test_every_mark_has_a_shape_of_its_own():
    def picture(name):
        path = glyph(name, 20)
        return tuple(path.contains(QPointF(x + 0.5, y + 0.5)) for x in range(20) for y in range(20))
    for names in ([*ShotKind], [*SEVERITIES]):
        shapes = {picture(name) for name in names}
        assert len(shapes) == len(names)


@pytest.mark.parametrize("dark", [True, False])
def test_marks_stand_out_from_the_ground(desk, dark):
    """WCAG 2.2, success criterion 1.4.11: graphics at least 3:1."""
    desk.theme.apply(dark=dark)
    colours = desk.theme.colours
    for ink in ("bad", "warn", "quiet", "home", "visitors", "good", "edge", "text", "accent"):
        assert contrast(getattr(colours, ink), colours.panel) >= 3


# -- hands on ----------------------------------------------------------------------------------------


def test_a_click_seeks_to_the_start_of_the_picture_under_it(qtbot, view):
    qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=spot(view, 400, "certainty"))
    position = view._session.position
    assert position.pts % FRAME == 0
    assert abs(float(view._session.time) - 400) < view.scale.per_pixel + 0.04


def test_a_click_on_a_play_chooses_it(qtbot, view):
    with qtbot.waitSignal(view.item_chosen) as chosen:
        place = view._places.plays[7]
        qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=spot(view, sum(place.action) / 2, "plays"))
    assert chosen.args == ["plays", 7]


def test_a_click_on_a_finding_chooses_it_and_goes_there(qtbot, view):
    key = view.lane("findings").items.ids[4]
    with qtbot.waitSignal(view.item_chosen) as chosen:
        qtbot.mouseClick(view, Qt.MouseButton.LeftButton,
                         pos=spot(view, float(view.lane("findings").items.start[4]), "findings"))
    assert chosen.args == ["findings", key]
    assert float(view._session.time) == pytest.approx(float(view.lane("findings").items.start[4]), abs=0.04)


def test_the_wheel_zooms_around_the_pointer_and_shift_pans(view):
    point = spot(view, 400, "shots")
    before = view.scale.time(point.x() - GUTTER)
    wheel(view, point, 360)
    assert view.scale.per_pixel < view.scale.widest
    assert view.scale.time(point.x() - GUTTER) == pytest.approx(before)
    start = view.scale.start
    wheel(view, point, -120, Qt.KeyboardModifier.ShiftModifier)
    assert view.scale.start > start


def test_keys_zoom_pan_and_show_the_whole(qtbot, view):
    view.setFocus()
    qtbot.waitUntil(view.isVisible)
    qtbot.keyClick(view, Qt.Key.Key_Equal, Qt.KeyboardModifier.ControlModifier)
    assert not view.scale.is_whole()
    start = view.scale.start
    qtbot.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier)
    assert view.scale.start > start
    qtbot.keyClick(view, Qt.Key.Key_0, Qt.KeyboardModifier.ControlModifier)
    assert view.scale.is_whole()


def drag(qtbot, view, start, end):
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(view, (start + end) / 2)
    qtbot.mouseMove(view, end)
    qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=end)


def test_dragging_an_edge_trims_the_shot_on_a_frame_boundary(qtbot, view):
    shot = view._session.game.shots[10]
    start, end = view._places.shots[shot.id].start, view._places.shots[shot.id].end
    view.show_span(start - 5, end + 5)
    edge = spot(view, end, "shots") - QPoint(2, 0)
    drag(qtbot, view, edge, spot(view, end - 3, "shots"))
    (operation,) = view._session.done
    assert isinstance(operation, ChangeShots)
    trimmed = operation.shots[0]
    assert trimmed.id == shot.id and trimmed.start == shot.start
    assert trimmed.end.pts % FRAME == 0
    assert float(view._session.film.time_of(trimmed.end)) == pytest.approx(end - 3, abs=0.1)


def test_an_edge_stops_at_its_neighbour_and_a_picture_before_its_other_end(qtbot, view):
    before, shot = view._session.game.shots[9:11]
    start, end = view._places.shots[shot.id].start, view._places.shots[shot.id].end
    view.show_span(start - 30, end + 30)
    drag(qtbot, view, spot(view, start, "shots") + QPoint(2, 0), spot(view, start - 25, "shots"))
    assert view._session.done[-1].shots[0].start == before.end
    qtbot.waitUntil(lambda: not view._rebuild.isActive())
    start, end = view._places.shots[shot.id].start, view._places.shots[shot.id].end
    drag(qtbot, view, spot(view, end, "shots") - QPoint(2, 0), spot(view, start - 20, "shots"))
    trimmed = view._session.done[-1].shots[0]
    assert trimmed.end.pts - trimmed.start.pts == FRAME


def test_escape_gives_up_a_drag(qtbot, view):
    start, end = view._places.shots[11].start, view._places.shots[11].end
    view.show_span(start - 5, end + 5)
    edge = spot(view, end, "shots") - QPoint(2, 0)
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=edge)
    qtbot.mouseMove(view, edge - QPoint(60, 0))
    qtbot.keyClick(view, Qt.Key.Key_Escape)
    qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=edge - QPoint(60, 0))
    assert view._session.done == []


def test_the_keyboard_trims_at_the_current_picture(qtbot, view):
    view.setFocus()
    shot = view._session.game.shots[4]
    here = Instant("a", shot.start.pts + 30 * FRAME)
    view._session.seek(here)
    qtbot.keyClick(view, Qt.Key.Key_BracketLeft, Qt.KeyboardModifier.ControlModifier)
    assert view._session.done[-1].shots[0].start == here
    qtbot.waitUntil(lambda: not view._rebuild.isActive())
    view._session.seek(Instant("a", here.pts + 20 * FRAME))
    qtbot.keyClick(view, Qt.Key.Key_BracketRight, Qt.KeyboardModifier.ControlModifier)
    assert view._session.done[-1].shots[0].end == Instant("a", here.pts + 21 * FRAME)     # this picture stays in


def test_hovering_tells_what_lies_there(view):
    place = view._places.plays[7]
    assert "&" in view.tooltip_at(QPointF(spot(view, sum(place.action) / 2, "plays")))
    assert "marker shot" in view.tooltip_at(
        QPointF(spot(view, float(view.lane("findings").items.start[3]), "findings")))
    assert "sure of the down" in view.tooltip_at(QPointF(spot(view, 600, "certainty")))
    show_sound(view, Sound(0.1, np.full(12000, -30.0), np.array([700.0])))
    assert "whistle" in view.tooltip_at(QPointF(spot(view, 700, "sound")))


def show_sound(view, sound):
    view.lane("sound").show(view._session.film, sound)


def suggested(view, shots=(), moments=()):
    suggestions = Suggestions(view)
    suggestions._film = view._session.film
    view.show_suggestions(suggestions)
    suggestions.take(view._session.film,
                     FilmSuggestions(shots, tuple(SimpleNamespace(kind=kind, at=at) for kind, at in moments)))
    view._take_game()


def at(view, time):
    return view._session.game.film.instant_at(Fraction(time).limit_denominator(1000))


def test_a_suggested_moment_is_seen_and_told_until_one_of_its_kind_is_marked_in_the_shot(view):
    game = view._session.game
    marked = {moment.kind for moment in game.moments}
    other = next(kind for kind in MomentKind if kind not in marked)
    time = view._places.plays[7].start + 1
    view.show_span(time - 4, time + 4)
    before = view.render_layer().toImage()
    suggested(view, moments=((other, at(view, time)), (MomentKind.SNAP, at(view, time + 1))))
    assert view.render_layer().toImage() != before
    assert other.value in view.tooltip_at(QPointF(spot(view, time, "shots")))
    assert "Suggested" not in view.tooltip_at(QPointF(spot(view, time + 1, "shots")))
    view.show_whole()
    assert "Suggested" not in view.tooltip_at(QPointF(spot(view, time, "shots")))


def test_found_shots_are_outlines_until_they_are_taken(view):
    game = replace(view._session.game, shots=(), moments=())
    view._session.game = game
    view._take_game()
    bare = view.render_layer().toImage()
    suggested(view, shots=(FoundShot(at(view, 10), at(view, 400), "play", ""),
                           FoundShot(at(view, 400), at(view, 700), None, "")))
    assert view.render_layer().toImage() != bare
    assert "not taken: play" in view.tooltip_at(QPointF(spot(view, 200, "shots")))
    assert "not taken: shot" in view.tooltip_at(QPointF(spot(view, 500, "shots")))
    assert view.tooltip_at(QPointF(spot(view, 900, "shots"))) == ""
    suggested(view)
    assert view.render_layer().toImage() == bare


def test_the_names_of_the_lanes_tell_the_keys_and_a_click_there_shows_the_whole(qtbot, view):
    view.show_span(100, 200)
    assert "Ctrl+0" in view.tooltip_at(QPointF(20, 60))
    qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=QPoint(20, 60))
    assert view.scale.is_whole()


def test_a_selected_finding_changes_what_is_seen_in_the_lane_of_shots(view):
    before = view.grab().toImage()
    view.choose("findings", view.lane("findings").items.ids[6])
    top, tall = view._boxes["shots"]
    assert view.grab().toImage().copy(0, top, 1400, tall) != before.copy(0, top, 1400, tall)


def test_following_the_film_keeps_the_playhead_in_view_unless_one_looks_elsewhere(view):
    view.show_span(0, 60)
    view._session.seek(view._session.film.instant_at(30))
    view._session.seek(view._session.film.instant_at(300))
    assert view.scale.start < 300 < view.scale.end
    view.show_span(900, 960)
    view._session.seek(view._session.film.instant_at(310))
    assert view.scale.start > 800


def test_where_scrolling_ends_the_sources_in_view_are_told(qtbot, view):
    film = view._session.film
    end = float(film.starts_at(film.sources[0].id) + film.sources[0].duration)
    view.show_span(1, min(end - 1, 20))
    qtbot.waitUntil(lambda: view._session.viewed == [film.sources[0].id])


def test_an_empty_timeline_says_so_and_is_harmless(qtbot, desk):
    view = TimelineView(desk)
    qtbot.addWidget(view)
    view.resize(800, 200)
    view.show()
    image = view.grab().toImage()
    assert len({image.pixel(x, 100) for x in range(800)}) > 1
    qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=QPoint(400, 60))
    wheel(view, QPoint(400, 60), 120)
    assert view.tooltip_at(QPointF(400, 60)) == ""


def test_thumbnails_come_later_and_a_broken_one_is_not_asked_for_twice(qtbot, monkeypatch):
    from workstation.desk.timeline.thumbnails import Thumbnails
    asked = []

    class Reader:
        def __init__(self, film, memory_limit):
            pass

        def rest(self, resting):
            pass

        def close(self):
            pass

        def frame_at(self, instant):
            asked.append(instant)
            if instant.pts == 0:
                raise OSError("unreadable")

            class Picture:
                def bgra(self):
                    return np.full((90, 160, 4), 120, np.uint8)
            return Picture()

    monkeypatch.setattr("workstation.desk.timeline.thumbnails.FrameReader", Reader)
    thumbnails = Thumbnails(big_game(60, 30, 20, 1200)[0].film, height=40)
    for pts in (0, 5 * FRAME):
        with qtbot.waitSignal(thumbnails.ready):
            assert thumbnails.get(Instant("a", pts)) is None
    assert isinstance(thumbnails.get(Instant("a", 5 * FRAME)), QImage)
    assert thumbnails.get(Instant("a", 5 * FRAME)).height() == 40
    assert thumbnails.get(Instant("a", 0)).isNull()
    assert len(asked) == 2
    thumbnails.close()


def test_out_of_sight_it_waits_and_catches_up(qtbot, view):
    view.hide()
    session = view._session
    session.game = replace(session.game, plays=session.game.plays[:10])
    session.steps = session.steps[:10]
    session.game_changed.emit(None)
    QApplication.processEvents()
    assert len(view.lane("plays").items) == 30
    view.show()
    assert len(view.lane("plays").items) == 10


# -- sound -------------------------------------------------------------------------------------------------


class Surveyed:
    """Stands in for what the film package keeps of a surveyed source."""

    def __init__(self):
        self.kept = False

    def cached_survey(self, source):
        return "survey" if self.kept else None

    def survey(self, source, progress, cancelled):
        progress(0.5)
        if cancelled():
            raise Cancelled("stopped")
        self.kept = True

    def joined_sound(self, film, surveys):
        assert surveys == {"a": "survey"}
        return Sound(0.1, np.full(12000, -20.0), np.array([300.0]))


def test_kept_sound_is_taken_up_and_missing_sound_is_measured_on_a_click(qtbot, desk, monkeypatch):
    surveyed = Surveyed()
    for name in ("finding.cached_survey", "finding.survey", "film_sound.joined_sound"):
        monkeypatch.setattr(f"workstation.film.{name}", getattr(surveyed, name.split(".")[1]))
    view = TimelineView(desk)
    qtbot.addWidget(view)
    view.resize(1400, 240)
    view.show()
    view.show_session(Said(*big_game(60, 30, 20, 1200)))
    qtbot.waitUntil(lambda: not view.findChildren(Job))         # it was looked for
    assert view.lane("sound").sound is None and "measure" in view.tooltip_at(QPointF(spot(view, 300, "sound")))
    before = view._session.position
    with qtbot.waitSignal(desk.jobs.finished, timeout=5000):
        qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=spot(view, 300, "sound"))
    qtbot.waitUntil(lambda: view.lane("sound").sound is not None)
    assert view._session.position == before
    assert "whistle" in view.tooltip_at(QPointF(spot(view, 300, "sound")))
    again = TimelineView(desk)
    qtbot.addWidget(again)
    again.show_session(view._session)
    qtbot.waitUntil(lambda: again.lane("sound").sound is not None)


def test_measuring_stops_when_told_to(monkeypatch):
    surveyed = Surveyed()
    for name in ("finding.cached_survey", "finding.survey", "film_sound.joined_sound"):
        monkeypatch.setattr(f"workstation.film.{name}", getattr(surveyed, name.split(".")[1]))

    progress = Progress()
    monkeypatch.setattr(progress, "report", lambda done, of: progress.cancel())
    with pytest.raises(Cancelled):
        measure_sound(big_game(60, 30, 20, 1200)[0].film, progress.report, progress.cancelled)
    assert not surveyed.kept


@pytest.mark.parametrize("height", [150, 187, 211, 240])
def test_every_pixel_is_painted_at_any_height(qtbot, view, height):
    view.resize(900, height)
    view.render_layer()
    view._layer.fill(Qt.GlobalColor.magenta)
    image = view.render_layer().toImage()
    magenta = QColor(Qt.GlobalColor.magenta).rgb()
    assert all(image.pixel(5, y) != magenta for y in range(image.height()))


def test_a_film_without_sound_says_so(view):
    show_sound(view, Sound(0.1, np.full(100, -90.0), np.zeros(0)))
    assert view.lane("sound").sound.silent and not Sound(0.1, np.array([-90.0, -30.0]), np.zeros(0)).silent
    top, tall = view._boxes["sound"]
    image = view.grab().toImage()
    inks = {image.pixel(x, top + tall // 2) for x in range(GUTTER, GUTTER + 160)}
    assert len(inks) > 1        # there are words


def test_the_play_at_hand_is_brought_into_view_once(view):
    plays = view.lane("plays").items
    view.show_span(0, 40)
    view.choose("plays", plays.ids[-1])
    assert view.scale.start < plays.start[-1] < view.scale.end
    view.show_span(0, 40)
    looked_at = view.scale
    view.choose("plays", plays.ids[-1])       # as with every change of the game
    assert view.scale == looked_at
    view.choose("plays", plays.ids[-2])
    assert view.scale.start < plays.start[-2] < view.scale.end


def test_a_play_that_lies_elsewhere_now_is_brought_into_view_again(view):
    play, before = view.lane("plays").items.ids[-1], view.lane("plays").items.start[-1]
    view.choose("plays", play)
    view.show_span(0, 40)
    view._session.game = replace(view._session.game, moments=())      # its snap is not marked any more
    view._take_game()
    view.choose("plays", play)
    assert view.lane("plays").items.start[-1] < before
    assert view.scale.start < view.lane("plays").items.start[-1] < view.scale.end


def test_a_new_lane_needs_no_more_than_its_entry(qtbot, desk, monkeypatch):
    painted = []

    class Quarters(Lane):
        key = name = "quarters"
        item = "quarters"

        def blocks_of(self, basis):
            return blocks([Block(0, 600, 1, tooltip="the first half"), Block(600, 1200, 2, tooltip="the second half")])

        def paint(self, canvas, top, tall):
            painted.append((top, tall))

    monkeypatch.setattr("workstation.desk.timeline.view.LANES", (*LANES, Quarters))
    view = TimelineView(desk)
    qtbot.addWidget(view)
    view.resize(1400, 300)
    view.show_session(Said(*big_game(60, 30, 20, 1200)))
    view._thumbnail = lambda at: None
    view.show()
    view.grab()
    assert painted and "2 quarters" in view.accessibleDescription()
    assert view.tooltip_at(QPointF(spot(view, 900, "quarters"))) == "the second half"
    with qtbot.waitSignal(view.item_chosen) as chosen:
        qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=spot(view, 900, "quarters"))
    assert chosen.args == ["quarters", 2]

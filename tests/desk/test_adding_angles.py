"""Another camera's film added, matched, corrected and looked at in the whole window, with real keys.

What is right follows from how the evening was filmed (:mod:`.two_films`): the end zone shows plays 1, 2 and 4, in its
first, second and third file; the same moment is at the same second of the evening.
"""

from __future__ import annotations

import shutil
import subprocess
from dataclasses import replace
from itertools import dropwhile, groupby

import av
import pytest
from PySide6.QtTest import QTest

from tests.desk.driver import press
from tests.desk.two_films import END_ZONE, HIGH, RATE, SNAPS, film_evening, game_of, seconds_of_evening
from workstation.desk.beside import BesideMode
from workstation.tagging.angles import FIRST
from workstation.tagging.model import CameraPlace, Sequence, SequenceItem, ShotKind
from workstation.tagging.operations import AddRecord, ChangeShots

FURTHER = 1


@pytest.fixture(scope="session")
def films(tmp_path_factory):
    return film_evening(tmp_path_factory.mktemp("evening"))


@pytest.fixture
def tagged(qtbot, window, films, tmp_path):
    window.opening.open_game(game_of(films, tmp_path / "evening.game"))
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
    qtbot.waitUntil(lambda: not window.session.player.frame.isNull(), timeout=30000)
    return window


def add(qtbot, window, folder, name: str = "End zone") -> None:
    """Fill in the page as a person does, the folder's dialog apart."""
    window.act("desk.add_angle")
    window.overlays.page("add_angle").take_paths([folder])
    window.overlays.page("add_angle").name.setFocus()
    window.overlays.page("add_angle").name.selectAll()
    QTest.keyClicks(window.overlays.page("add_angle").name, name)
    window.overlays.page("add_angle").crew.setFocus()
    QTest.keyClicks(window.overlays.page("add_angle").crew, "R. Roe\r")
    qtbot.waitUntil(lambda: bool(window.message.text) and not window.jobs.running, timeout=90000)


@pytest.fixture
def matched(qtbot, tagged, films):
    add(qtbot, tagged, films.end_zone)
    return tagged


def settled(window) -> bool:
    return not window.session.player.waiting and not window.session.player.frame.isNull()


def evening_of(session) -> float:
    spans = HIGH if session.angle == FIRST else END_ZONE.values()
    return seconds_of_evening(session.film, session.position, spans)


def to_snap(qtbot, window, play: int) -> None:
    session = window.session
    snap = next(moment for moment in session.game.moments if moment.at.source == session.film.sources[play - 1].id)
    session.seek(snap.at)
    qtbot.waitUntil(lambda: settled(window))


def matches(window) -> dict[int, int]:
    shots = {shot.id: place for place, shot in enumerate(window.session.whole.angles[0].shots, 1)}
    return {match.play: shots[match.shot] for match in window.session.whole.matches}


def test_an_angle_is_added_and_matched_and_what_is_open_is_said(matched):
    (further,) = matched.session.whole.angles
    assert (further.angle.name, further.angle.place, further.angle.crew) == ("End zone", CameraPlace.END_ZONE, "R. Roe")
    assert matches(matched) == {1: 1, 2: 2, 4: 3}
    assert "End zone: 3 of 4 plays matched." in matched.message.text
    assert "play 3" in matched.message.text
    assert [(shot.kind, shot.confirmed) for shot in further.shots] == [(ShotKind.PLAY, False)] * 3


def test_shots_that_were_matched_before_a_match_said_what_they_film_are_said_in_one_click(qtbot, matched):
    session = matched.session
    shots = session.whole.angles[0].shots
    session.do_on_whole(ChangeShots(tuple(replace(shot, kind=None, confirmed=True) for shot in shots)))
    press(matched, "desk.matching")
    page = matched.overlays.page("matching")
    qtbot.waitUntil(page.isVisible)
    assert page.kinds.isVisible() and page.kinds.text() == "3 matched shots: say what they film"
    page.kinds.click()
    assert [(shot.kind, shot.confirmed) for shot in session.whole.angles[0].shots] == [(ShotKind.PLAY, False)] * 3
    assert not page.kinds.isVisible()
    press(matched, "desk.undo")
    assert [shot.kind for shot in session.whole.angles[0].shots] == [None] * 3


def test_one_undo_takes_the_match_and_another_the_angle(matched):
    press(matched, "desk.undo")
    assert not matched.session.whole.matches and matched.session.whole.angles
    press(matched, "desk.undo")
    assert not matched.session.whole.angles


def test_an_angle_that_was_taken_back_is_added_again(qtbot, matched, films):
    press(matched, "desk.undo")
    press(matched, "desk.undo")
    matched.message.hide()
    add(qtbot, matched, films.end_zone)
    assert "End zone: 3 of 4 plays matched." in matched.message.text


def test_files_of_another_game_match_nothing_and_it_is_said(qtbot, tagged, films):
    add(qtbot, tagged, films.another_game, "Wrong card")
    assert "Wrong card: 0 of 4 plays matched." in tagged.message.text
    assert "another game" in tagged.message.text
    assert not tagged.session.whole.matches


def test_the_same_files_again_are_refused_and_nothing_changes(qtbot, tagged, films):
    before = tagged.session.whole
    add(qtbot, tagged, films.high, "Again")
    assert "part of the game already" in tagged.message.text
    assert tagged.session.whole is before


def test_the_same_moment_of_each_play_shows_from_the_end_zone(qtbot, matched):
    for play in (1, 2, 4):
        if matched.session.angle != FIRST:
            press(matched, "desk.angle")
        to_snap(qtbot, matched, play)
        assert evening_of(matched.session) == pytest.approx(SNAPS[play - 1], abs=0.01)
        press(matched, "desk.angle")
        qtbot.waitUntil(lambda: settled(matched))
        assert evening_of(matched.session) == pytest.approx(SNAPS[play - 1], abs=1.01 / RATE)


def test_beside_it_the_other_angle_shows_the_same_moment(qtbot, matched):
    session = matched.session
    to_snap(qtbot, matched, 2)
    press(matched, "desk.beside")
    beside = session.beside
    assert beside.mode is BesideMode.EQUAL
    qtbot.waitUntil(lambda: not beside.image.isNull())
    film = session.whole.angles[0].film
    assert seconds_of_evening(film, beside.at, END_ZONE.values()) == pytest.approx(SNAPS[1], abs=1.01 / RATE)
    before = beside.at
    session.step(5)
    qtbot.waitUntil(lambda: settled(matched) and beside.at not in (None, before))
    qtbot.waitUntil(lambda: abs(seconds_of_evening(film, beside.at, END_ZONE.values()) - SNAPS[1] - 5 / RATE) < 0.041)
    to_snap(qtbot, matched, 3)
    qtbot.waitUntil(lambda: beside.image.isNull() and "does not show this moment" in beside.words)
    press(matched, "desk.beside")
    assert beside.mode is BesideMode.INSET
    press(matched, "desk.beside")
    assert beside.mode is BesideMode.OFF


def test_an_offset_is_corrected_by_a_key_and_the_picture_follows(qtbot, matched):
    session = matched.session
    to_snap(qtbot, matched, 2)
    press(matched, "desk.angle")
    qtbot.waitUntil(lambda: settled(matched))
    before = evening_of(session)
    press(matched, "desk.tie_later")
    qtbot.waitUntil(lambda: settled(matched) and evening_of(session) > before)
    assert evening_of(session) == pytest.approx(before + 1 / RATE, abs=0.001)
    press(matched, "desk.undo")
    press(matched, "desk.angle")
    to_snap(qtbot, matched, 2)
    press(matched, "desk.angle")
    qtbot.waitUntil(lambda: settled(matched) and evening_of(session) == pytest.approx(before, abs=0.001))


def test_two_pictures_marked_as_the_same_moment_tie_the_play(qtbot, matched):
    session = matched.session
    to_snap(qtbot, matched, 2)
    here = session.position
    press(matched, "desk.same_moment")
    press(matched, "desk.angle")
    qtbot.waitUntil(lambda: settled(matched))
    session.step(3)
    qtbot.waitUntil(lambda: session.player.is_placed and settled(matched))
    there = session.position
    press(matched, "desk.same_moment")
    assert next(match.same for match in session.whole.matches if match.play == 2) == (here, there)


def test_rows_move_by_keys_and_one_undo_brings_them_back(qtbot, matched):
    press(matched, "desk.matching")
    page = matched.overlays.page("matching")
    qtbot.waitUntil(page.isVisible)
    assert page.table.columnCount() == 4
    page.table.setCurrentCell(1, 1)
    press(matched, "matching.missing")
    assert matches(matched) == {1: 1, 4: 2}
    press(matched, "desk.undo")
    assert matches(matched) == {1: 1, 2: 2, 4: 3}
    press(matched, "matching.next_open")
    assert page.play == 3
    press(matched, "matching.only_later")
    assert matches(matched) == {1: 1, 2: 2, 3: 3, 4: 3}
    press(matched, "desk.undo")
    press(matched, "matching.leave")
    qtbot.waitUntil(lambda: not page.isVisible())


def test_a_play_that_the_rows_lead_to_is_the_one_that_is_named(qtbot, matched):
    matched.go_to("Sequence")
    room = matched.room
    qtbot.waitUntil(lambda: room.results.model().rowCount() == 4)
    press(matched, "desk.matching")
    page = matched.overlays.page("matching")
    qtbot.waitUntil(page.isVisible)
    page.table.setCurrentCell(1, 3)
    press(matched, "matching.see")
    qtbot.waitUntil(lambda: settled(matched) and not page.isVisible())
    assert evening_of(matched.session) == pytest.approx(SNAPS[3], abs=1.01 / RATE)
    assert room._line.text().startswith("4 ") and room.results.current.play == 4


def test_the_files_page_shows_and_orders_the_files_of_each_angle(qtbot, matched):
    session = matched.session
    press(matched, "desk.files")
    page = matched.overlays.page("files")
    qtbot.waitUntil(page.isVisible)
    assert page.table.rowCount() == 4
    page.angle.setCurrentIndex(1)
    page.angle.activated.emit(1)
    qtbot.waitUntil(lambda: page.table.rowCount() == 3)
    first = session.film.sources[0].id
    page.table.setCurrentCell(0, 0)
    press(matched, "files.later")
    assert session.whole.angles[0].film.sources[1].id == first
    assert len(session.whole.film.sources) == 4


def test_with_one_angle_the_menu_has_only_the_way_to_add_one(tagged):
    shown = [action.text() for action in tagged.menu_button.menu().actions() if action.isVisible()]
    assert any("Add another camera's film" in text for text in shown)
    assert not any("angle" in text.casefold() for text in shown)


def pictures_in(path) -> int:
    with av.open(str(path)) as container:
        return sum(1 for _ in container.decode(video=0))


@pytest.mark.parametrize(("choice", "right"), [
    ("High, then End zone", round((HIGH[0][1] - HIGH[0][0] + END_ZONE[1][1] - END_ZONE[1][0]) * RATE)),
    ("High | End zone in one picture", round((HIGH[0][1] - HIGH[0][0]) * RATE)),
    ("High, End zone small in the corner", round((HIGH[0][1] - HIGH[0][0]) * RATE))])
def test_a_sequence_is_exported_from_the_angles_that_are_chosen_whichever_is_looked_at(qtbot, matched, tmp_path, choice,
                                                                                      right):
    press(matched, "desk.angle")
    window = matched
    window.go_to("Sequence")
    room = window.room
    qtbot.waitUntil(lambda: room.results.model().rowCount() > 0)
    room.results.setFocus()
    room.results.choose(1)
    press(window, "sequence.add")
    editor = room.editor
    editor.reel.setCurrentRow(0)
    at = next(at for at in range(editor.angles.count()) if editor.angles.itemText(at) == choice)
    editor.angles.setCurrentIndex(at)
    editor.angles.activated.emit(at)
    room.exporting.folder.setText(str(tmp_path / "exports"))
    press(window, "sequence.export")
    qtbot.waitUntil(lambda: "Written" in room.exporting.message.text() and room.exporting.job is None, timeout=90000)
    (made,) = (tmp_path / "exports").glob("*.mp4")
    assert abs(pictures_in(made) - right) <= 1


def sequence_of(qtbot, window, item: SequenceItem):
    """The Sequence room with one play of a sequence chosen."""
    window.session.do_on_whole(AddRecord(Sequence(0, "Disputed", (item,))))
    window.go_to("Sequence")
    room = window.room
    qtbot.waitUntil(lambda: room.editor.reel.count() == 1)
    room.editor.reel.setCurrentRow(0)
    return room


def played_through(qtbot, window, room) -> list[tuple[int, float, float | None]]:
    """Of each picture on show while the sequence plays through: the angle, the second of the evening, and that of the
    picture beside it."""
    session, further, seen = window.session, window.session.whole.angles[0].film, []

    def look(*_) -> None:
        beside = session.beside
        if room.through.running and session.playing:
            there = beside.at if beside.mode is not BesideMode.OFF else None
            seen.append((session.angle, evening_of(session),
                         seconds_of_evening(further, there, END_ZONE.values()) if there else None))

    session.position_changed.connect(look)
    session.beside.changed.connect(look)
    play_span = session.play_span

    def begin(start, end) -> None:
        play_span(start, end)
        look()              # a busy machine may show nothing else of a short span

    session.play_span = begin
    with qtbot.waitSignal(room.through.finished, timeout=60000):
        press(window, "sequence.through")
    return seen


def test_the_sequence_plays_through_from_each_angle_in_turn(qtbot, matched):
    room = sequence_of(qtbot, matched, SequenceItem(2, -4.0, -6.5, (FIRST, FURTHER)))
    seen = played_through(qtbot, matched, room)
    assert [angle for angle, _ in groupby(seen, key=lambda each: each[0])] == [FIRST, FURTHER]
    spans = {FIRST: (40.0, 41.5), FURTHER: (39.0, 39.5)}
    assert [each for each in seen if not spans[each[0]][0] <= each[1] < spans[each[0]][1] or each[2]] == []
    qtbot.waitUntil(lambda: matched.session.angle == FIRST)


def test_the_sequence_plays_through_with_both_angles_in_one_picture(qtbot, matched):
    room = sequence_of(qtbot, matched, SequenceItem(2, -4.0, -5.5, (FIRST, FURTHER), beside=True))
    seen = played_through(qtbot, matched, room)
    assert {angle for angle, _, _ in seen} == {FIRST}
    both = [(here, there) for _, here, there in seen if there is not None]
    both = [*dropwhile(lambda pair: pair[1] < 39, both)]        # until it comes, the picture of before stands beside
    assert both and all(40 <= here < 42.5 and 39.9 <= there < 42.6 for here, there in both)
    qtbot.waitUntil(lambda: matched.session.beside.mode is BesideMode.OFF)


def test_the_sequence_plays_through_with_the_other_angle_small_in_the_corner_and_says_whose_sound_it_plays(
        qtbot, matched):
    room = sequence_of(qtbot, matched, SequenceItem(2, -4.0, -5.5, (FIRST, FURTHER), True, FURTHER, inset=True))
    modes, said = set(), []
    matched.session.beside.changed.connect(lambda: modes.add(matched.session.beside.mode))
    matched.session.notice.connect(said.append)
    seen = played_through(qtbot, matched, room)
    assert {angle for angle, _, _ in seen} == {FIRST} and any(there is not None for _, _, there in seen)
    assert modes - {BesideMode.OFF} == {BesideMode.INSET}
    assert any("the sound of the picture" in each and "the sound of End zone" in each for each in said)


def test_the_ends_of_a_play_are_those_of_the_angle_that_shows_it(qtbot, matched):
    room = sequence_of(qtbot, matched, SequenceItem(2, angles=(FURTHER,)))
    editor, session = room.editor, matched.session
    shot, span = editor.trim._shot, editor.trim._span
    assert float(shot[1] - shot[0]) == float(span[1] - span[0]) == END_ZONE[2][1] - END_ZONE[2][0]
    assert editor.reel.entries[0].seconds == END_ZONE[2][1] - END_ZONE[2][0]
    press(matched, "sequence.in_later")
    qtbot.waitUntil(lambda: session.angle == FURTHER and settled(matched))
    assert evening_of(session) == pytest.approx(END_ZONE[2][0] + 1 / RATE, abs=0.001)
    matched.go_to("Tag")
    assert session.angle == FIRST


def test_missing_files_of_an_angle_are_said_and_nothing_is_lost(qtbot, window, films, tmp_path):
    end_zone = shutil.copytree(films.end_zone, tmp_path / "end zone")
    game = game_of(films, tmp_path / "evening.game")
    window.opening.open_game(game)
    qtbot.waitUntil(lambda: window.session is not None, timeout=30000)
    add(qtbot, window, end_zone)
    kept = window.session.file.game.matches
    window.act("desk.close")
    for path in end_zone.glob("end[12].mp4"):
        path.unlink()
    window.opening.open_game(game)
    qtbot.waitUntil(lambda: window.session is not None and bool(window.message.text), timeout=30000)
    assert "2 of the film's 7 files cannot be shown: end1.mp4, end2.mp4" in window.message.text
    assert window.session.file.game.matches == kept
    to_snap(qtbot, window, 1)
    press(window, "desk.angle")
    qtbot.waitUntil(lambda: "end1.mp4" in window.session.player.trouble, timeout=30000)
    to_snap(qtbot, window, 3)
    assert not window.session.player.frame.isNull()


def test_an_angle_without_sound_and_with_another_clock_is_left_open_and_it_is_said(qtbot, tagged, films, tmp_path):
    silent = tmp_path / "silent"
    silent.mkdir()
    for path in films.end_zone.glob("*.mp4"):
        subprocess.run(["ffmpeg", "-loglevel", "error", "-i", str(path), "-an", "-c:v", "copy", "-map_metadata", "-1",
                        str(silent / path.name)], check=True)
    add(qtbot, tagged, silent, "Silent")
    assert "Silent: 0 of 4 plays matched." in tagged.message.text
    assert not tagged.session.whole.matches
    assert tagged.session.whole.angles[0].shots


def test_the_heading_shows_the_angle_that_is_looked_at_and_keeps_what_is_said_of_it(qtbot, matched):
    press(matched, "desk.angle")
    press(matched, "tag.heading")
    form = matched.room.pages.heading
    qtbot.waitUntil(form.isVisible)
    assert (form.angle.text(), form.fields["crew"].text(), form.place.currentData()) == (
        "End zone", "R. Roe", CameraPlace.END_ZONE)
    form.angle.setFocus()
    form.angle.selectAll()
    QTest.keyClicks(form.angle, "Behind the posts\r")
    assert matched.session.whole.angles[0].angle.name == "Behind the posts"
    assert matched.session.whole.heading.angle == "High"
    assert "Behind the posts" in matched.title.text()

from __future__ import annotations

import subprocess
import time
from dataclasses import dataclass, replace
from fractions import Fraction

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, QSettings, Qt
from PySide6.QtGui import QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.desk.small_game import RATE
from workstation.cancelling import Cancelled
from workstation.coverage.checker import check
from workstation.coverage.profile import load_profile
from workstation.delivery.cutting import length_of, nudged, span_of, with_before
from workstation.delivery.segment import play_segments
from workstation.delivery.sequence import Form, SequenceRequest, Written, write_sequence
from workstation.desk.jobs import Jobs
from workstation.desk.keys import KeyMap
from workstation.desk.room import Desk
from workstation.desk.sequence.room import SequenceRoom
from workstation.desk.session import Session
from workstation.desk.theme import Theme
from workstation.film.film import Film
from workstation.football.field import Team
from workstation.football.plays import Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.season.finder import FactBook, Filter, counted, find, sentence
from workstation.tagging.gamefile import GameFile
from workstation.tagging.layout import FilmLayout
from workstation.tagging.model import Decision, Game, PlayTag, Sequence, SequenceItem, Verdict
from workstation.tagging.opening import load
from workstation.tagging.operations import AddRecord


@pytest.fixture
def desk(qapp, tmp_path):
    theme = Theme(QApplication.instance())
    theme.apply(dark=True, scale=1)
    settings = QSettings(str(tmp_path / "desk.ini"), QSettings.Format.IniFormat)
    desk = Desk(KeyMap(settings), theme, Jobs(), settings)
    yield desk
    desk.jobs.close()


@pytest.fixture(scope="module")
def tagged(small_game_made):
    """The game and what follows from it, for what needs no screen."""
    @dataclass
    class Tagged:
        game: Game
        steps: list
        coverage: object
        film: Film

    with GameFile.open(small_game_made, read_only=True) as file:
        game = file.game
    rulebook = load_rulebook("nfhs")
    steps = track(rulebook, [tag.play for tag in game.plays])
    return Tagged(game, steps, check(game, steps, load_profile("default"), rulebook), game.film)


@pytest.fixture
def session(qtbot, small_game):
    session = Session(*load(small_game))
    qtbot.waitUntil(lambda: session.coverage is not None and bool(session.player.engine_name), timeout=20000)
    yield session
    session.close()


@pytest.fixture
def room(qtbot, desk, session):
    room = SequenceRoom(desk)
    qtbot.addWidget(room)
    room.resize(1280, 740)
    room.show()
    room.enter(session)
    qtbot.waitUntil(lambda: room.results.hasFocus() and bool(room.filters.buttons))
    yield room
    room.leave()
    room.forget()


def press(qtbot, room, key, modifiers=Qt.KeyboardModifier.NoModifier):
    qtbot.keyClick(QApplication.focusWidget() or room, key, modifiers)


def filter_of(facts, words) -> Filter:
    return next(each for each in counted(facts) if each.words == words)


def plays_in(room):
    return [item.play for item in room.editor.sequence.items]


# -- finding, without a screen ---------------------------------------------------------------------------


@pytest.mark.parametrize(("asked", "plays"), [
    (["on 4th down"], [5, 11]),
    (["on 3rd down", "on 4th down"], [4, 5, 10, 11]),
    (["on 3rd down", "on 4th down", "runs"], [4, 10, 11]),
    (["with a penalty on us"], [7]),
    (["with an altercation"], [11]),
    (["with the ball for them"], [2, 3, 4, 5]),
    (["left incomplete"], [3]),
    (["with notes"], [4, 7]),
    ([], list(range(1, 12))),
])
def test_plays_are_found_by_what_was_tagged(tagged, asked, plays):
    facts = FactBook().of(tagged.game, tagged.steps, tagged.coverage, us=Team.HOME)
    assert find(facts, [filter_of(facts, words) for words in asked]) == plays


def test_the_last_two_minutes_are_those_of_a_half():
    """Two minutes or less on the clock of the period that ends a half."""
    rulebook = load_rulebook("nfhs")
    plays = [Play(PlayKind.COIN_TOSS, team=Team.HOME, choice="defer"), Play(PlayKind.KICKOFF, kick_to=95, spot=75)]
    plays += [Play(PlayKind.RUN, gain=1, clock=100), Play(PlayKind.END_OF_PERIOD),
              Play(PlayKind.RUN, gain=1, clock=500),
              Play(PlayKind.RUN, gain=1, clock=120), Play(PlayKind.RUN, gain=9, clock=30)]
    game = Game(plays=tuple(PlayTag(n, float(n), play) for n, play in enumerate(plays, 1)))
    facts = FactBook().of(game, track(rulebook, plays))
    assert find(facts, [filter_of(facts, "in a half's last two minutes")]) == [6, 7]


def test_findings_and_decisions_find_plays(tagged):
    facts = FactBook().of(tagged.game, tagged.steps, tagged.coverage)
    by_finding = {finding.play for finding in tagged.coverage.findings if finding.play}
    assert set(find(facts, [filter_of(facts, "with findings")])) == by_finding


def test_words_are_found_in_notes_fouls_and_situations(tagged):
    facts = FactBook().of(tagged.game, tagged.steps, tagged.coverage)
    assert find(facts, words="tackle LATE") == [4]
    assert find(facts, words="holding") == [7]
    assert 9 in find(facts, words="play 9")
    assert find(facts, words="unheard of") == []


def test_a_search_reads_as_a_sentence(tagged):
    facts = FactBook().of(tagged.game, tagged.steps, tagged.coverage, us=Team.HOME)
    chosen = [filter_of(facts, words) for words in ("with a penalty on us", "runs", "on 1st down", "passes")]
    assert sentence(chosen, "wet") == "runs or passes on 1st down with a penalty on us saying “wet”"
    assert sentence([]) == "plays"


def test_nothing_is_kept_from_plays_that_were_not_filmed(tagged):
    plays = tuple(replace(tag, shot=None) if tag.id == 5 else tag for tag in tagged.game.plays)
    facts = FactBook().of(replace(tagged.game, plays=plays), tagged.steps)
    assert find(facts, [filter_of(facts, "not filmed")]) == [5]


def test_what_is_known_of_plays_follows_every_change(tagged):
    """Facts kept from before are those worked out anew, and stay where nothing changed."""
    book, game, steps = FactBook(), tagged.game, tagged.steps
    first = book.of(game, steps, tagged.coverage)
    key = next(finding.key for finding in tagged.coverage.findings if finding.play)
    plays = [*game.plays]
    plays[5] = replace(plays[5], play=replace(plays[5].play, comment="a shoe was lost"))
    changes = [
        (replace(game, plays=tuple(plays)), steps, tagged.coverage, None),
        (replace(game, plays=game.plays[:3] + game.plays[4:]), steps[:3] + steps[4:], tagged.coverage, None),
        (replace(game, decisions=(*game.decisions, Decision(key, Verdict.AGREED))), steps, tagged.coverage, None),
        (replace(game, notes=()), steps, tagged.coverage, None),
        (replace(game, shots=game.shots[:-1]), steps, tagged.coverage, None),
        (replace(game, heading=replace(game.heading, home="Millbrook")), steps, tagged.coverage, None),
        (game, steps, None, None), (game, steps, tagged.coverage, Team.VISITORS),
    ]
    for change in changes:
        book.of(game, steps, tagged.coverage)
        assert FactBook().of(*change) != first
        assert book.of(*change) == FactBook().of(*change)
    again = book.of(game, steps, tagged.coverage)
    only_one = book.of(*changes[0])
    assert [a is b for a, b in zip(again, only_one, strict=True)].count(False) == 1


# -- where a sequence is cut --------------------------------------------------------------------------------


def test_handles_widen_and_trim_by_whole_pictures(tagged):
    game, film = tagged.game, tagged.film
    item = SequenceItem(3)
    start, end = span_of(FilmLayout(game), item)
    for step_start, step_end in ((-3, 0), (2, 0), (0, 4), (0, -5), (1, -1)):
        moved = nudged(film, item, (start, end), step_start, step_end)
        span = span_of(FilmLayout(game), moved)
        assert film.time_of(span[0]) == film.time_of(start) + Fraction(step_start, RATE)
        assert film.time_of(span[1]) == film.time_of(end) + Fraction(step_end, RATE)
        assert play_segments(game, tagged.steps, [moved])[0].duration == film.time_of(span[1]) - film.time_of(span[0])


def test_a_play_keeps_at_least_one_picture(tagged):
    item = SequenceItem(3)
    span = span_of(FilmLayout(tagged.game), item)
    assert nudged(tagged.film, item, span, start=8 * RATE) == item


def test_a_dispute_takes_the_two_before_as_far_as_there_are_any():
    assert with_before([4, 8, 15, 16], 16) == [8, 15, 16]
    assert with_before([4, 8, 15, 16], 4) == [4]


# -- the room --------------------------------------------------------------------------------------------


def test_filters_narrow_the_cards_and_stand_in_the_sentence(qtbot, room):
    button = next(button for each, button in room.filters.buttons.items() if each.words == "on 4th down")
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert [card.play for card in room.results.model_.cards] == [5, 11]
    assert room.sentence._count.text() == "2 of 11 plays"
    qtbot.mouseClick(room.sentence._row.itemAt(0).widget(), Qt.MouseButton.LeftButton)
    assert len(room.results.model_.cards) == 11


def test_filters_are_reached_and_taken_with_the_keyboard(qtbot, room):
    press(qtbot, room, Qt.Key.Key_F, Qt.KeyboardModifier.ShiftModifier)
    first = next(iter(room.filters.buttons.values()))
    assert first.hasFocus()
    press(qtbot, room, Qt.Key.Key_Space)
    assert first.isChecked() and len(room.results.model_.cards) < 11
    press(qtbot, room, Qt.Key.Key_Escape)
    assert len(room.results.model_.cards) == 11 and room.results.hasFocus()


def test_words_are_typed_and_enter_goes_to_the_plays(qtbot, room):
    press(qtbot, room, Qt.Key.Key_Slash)
    qtbot.keyClicks(room.sentence.words, "tackle late")
    press(qtbot, room, Qt.Key.Key_Return)
    assert [card.play for card in room.results.model_.cards] == [4]
    assert room.results.hasFocus() and room.editor.sequence is None


def test_a_search_without_a_match_says_what_to_do(qtbot, room):
    room.sentence.words.setText("never happened")
    assert room._empty.isVisible() and "all plays" in room._empty.text()


def test_us_and_them_are_spoken_of_once_a_side_is_ours(qtbot, room, desk):
    room._us_box.setCurrentIndex(1)
    room._us_box.activated.emit(1)
    qtbot.waitUntil(lambda: any(each.words == "with a penalty on us" for each in room.filters.buttons))
    assert desk.settings.value("sequence/us") == "Summit"


def test_thumbnails_come_and_the_card_under_the_pointer_plays(qtbot, room):
    room.results.viewport().update()
    card = room.results.model_.cards[0]
    qtbot.waitUntil(lambda: room.results.picture_of(card, 0) is not None, timeout=10000)
    still = room.results.picture_of(card, 0)
    assert not still.isNull()
    index = room.results.model_.index(0)
    qtbot.mouseMove(room.results.viewport(), room.results.visualRect(index).center())
    room.results._enter(index)
    begun = room.results._moment
    qtbot.waitUntil(lambda: room.results._moment > begun + Fraction(2, 5), timeout=10000)
    assert room.results.picture_of(card, 0) != still
    room.results._rest()
    assert room.results.picture_of(card, 0) == still


def test_plays_are_added_by_hand_with_the_two_before_and_all_at_once(qtbot, room):
    room.results.choose(6)
    press(qtbot, room, Qt.Key.Key_Return)
    assert plays_in(room) == [6]
    room.results.choose(9)
    press(qtbot, room, Qt.Key.Key_Return, Qt.KeyboardModifier.ShiftModifier)
    assert plays_in(room) == [6, 7, 8, 9]
    press(qtbot, room, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert plays_in(room) == [6, 7, 8, 9, 1, 2, 3, 4, 5, 10, 11]
    room.session.undo()
    qtbot.waitUntil(lambda: room.editor.reel.count() == 4)


def test_plays_are_reordered_and_taken_out(qtbot, room):
    room.session.do(AddRecord(Sequence(0, "Third downs", tuple(SequenceItem(n) for n in (4, 7, 10)))))
    qtbot.waitUntil(lambda: room.editor.reel.count() == 3)
    room.editor.reel.setFocus()
    room.editor.reel.setCurrentRow(0)
    press(qtbot, room, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert plays_in(room) == [7, 4, 10] and room.editor.reel.currentRow() == 1
    room.editor.reel.setCurrentRow(2)
    upper_half = room.editor.reel.visualItemRect(room.editor.reel.item(0)).center() - QPoint(0, 8)
    room.editor.reel.dropEvent(QDropEvent(QPointF(upper_half), Qt.DropAction.MoveAction, QMimeData(),
                                   Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier))
    assert plays_in(room) == [10, 7, 4]
    assert room.editor.reel.currentRow() == 0
    press(qtbot, room, Qt.Key.Key_Delete)
    assert plays_in(room) == [7, 4]


def test_sequences_are_named_switched_and_deleted(qtbot, room):
    press(qtbot, room, Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    press(qtbot, room, Qt.Key.Key_N, Qt.KeyboardModifier.ControlModifier)
    assert [each.name for each in room.session.game.sequences] == ["Sequence 1", "Sequence 2"]
    assert room.editor.sequence.name == "Sequence 2"
    edit = room.editor.names.lineEdit()
    edit.setFocus()
    edit.selectAll()
    qtbot.keyClicks(edit, "For the crew")
    qtbot.keyClick(edit, Qt.Key.Key_Return)
    assert room.editor.sequence.name == "For the crew"
    room.editor.names.setCurrentIndex(0)
    room.editor.choose(0)
    assert room.editor.sequence.name == "Sequence 1"
    room.editor.delete()
    assert [each.name for each in room.session.game.sequences] == ["For the crew"]


def test_handles_are_trimmed_with_keys_and_with_the_mouse(qtbot, room):
    room.session.do(AddRecord(Sequence(0, "One", (SequenceItem(3),))))
    qtbot.waitUntil(lambda: room.editor.reel.count() == 1)
    room.editor.reel.setFocus()
    press(qtbot, room, Qt.Key.Key_7)
    press(qtbot, room, Qt.Key.Key_7)
    press(qtbot, room, Qt.Key.Key_9)
    (item,) = room.editor.sequence.items
    assert item.lead_in == pytest.approx(2 / RATE) and item.lead_out == pytest.approx(-1 / RATE)
    qtbot.waitUntil(lambda: room.session.position is not None)
    handle = QPoint(round(room.editor.trim._x(room.editor.trim._span[1])), 20)
    qtbot.mousePress(room.editor.trim, Qt.MouseButton.LeftButton, pos=handle)
    qtbot.mouseMove(room.editor.trim, handle + QPoint(30, 0))
    qtbot.mouseRelease(room.editor.trim, Qt.MouseButton.LeftButton, pos=handle + QPoint(30, 0))
    (item,) = room.editor.sequence.items
    assert item.lead_out > 0.3
    assert (Fraction(item.lead_out).limit_denominator(1000) * RATE).denominator == 1      # whole pictures


def test_the_sequence_plays_through_as_one_film(qtbot, room):
    items = tuple(SequenceItem(play, -3.0, -4.4) for play in (2, 9, 5))     # 0.6 seconds of each
    room.session.do(AddRecord(Sequence(0, "Short", items)))
    qtbot.waitUntil(lambda: room.editor.reel.count() == 3)
    places, times = [], []
    room.through.reached.connect(places.append)
    room.session.position_changed.connect(lambda at: times.append(float(room.session.film.time_of(at))))
    press(qtbot, room, Qt.Key.Key_Space, Qt.KeyboardModifier.ShiftModifier)
    qtbot.waitUntil(lambda: places[-1:] == [-1], timeout=20000)
    assert places == [0, 1, 2, -1]
    for item in items:
        start, end = (float(room.session.film.time_of(edge)) for edge in span_of(FilmLayout(room.session.game), item))
        assert any(start <= at < end for at in times)


def test_pausing_ends_playing_through(qtbot, room):
    room.session.do(AddRecord(Sequence(0, "Two", (SequenceItem(2), SequenceItem(3)))))
    qtbot.waitUntil(lambda: room.editor.reel.count() == 2)
    press(qtbot, room, Qt.Key.Key_Space, Qt.KeyboardModifier.ShiftModifier)
    qtbot.waitUntil(lambda: room.session.playing, timeout=5000)
    press(qtbot, room, Qt.Key.Key_Space)
    assert not room.through.running and not room.session.playing


def test_entering_leaves_the_film_where_it_is_and_takes_up_its_play(qtbot, desk, session):
    session.seek(session.game.shots[6].start)
    at = session.position
    room = SequenceRoom(desk)
    qtbot.addWidget(room)
    room.show()
    room.enter(session)
    qtbot.waitUntil(lambda: not room._counting.isActive())
    assert session.position == at and room.results.current.play == 7
    press(qtbot, room, Qt.Key.Key_Right)
    place = room._places.plays[8]
    assert float(session.time) == pytest.approx(place.snap.time, abs=0.05)
    room.leave()
    room.forget()


def test_entering_with_ctrl_held_selects_one_play(qtbot, room):
    """The key that goes to the room is Ctrl and a digit; Ctrl with a click would add to what is selected."""
    room.leave()
    room.session.seek(room.session.game.shots[6].start)
    QTest.keyPress(room.windowHandle(), Qt.Key.Key_3, Qt.KeyboardModifier.ControlModifier)
    assert QApplication.keyboardModifiers() == Qt.KeyboardModifier.ControlModifier
    room.enter(room.session)
    QTest.keyRelease(room.windowHandle(), Qt.Key.Key_3)
    assert [card.play for card in room.results.chosen] == [7]


# -- taking it along -----------------------------------------------------------------------------------------


def pictures_in(path) -> int:
    told = subprocess.run(["ffprobe", "-v", "error", "-count_frames", "-select_streams", "v:0", "-show_entries",
                           "stream=nb_read_frames", "-of", "csv=p=0", str(path)], capture_output=True, text=True,
                          check=True)
    return int(told.stdout.strip().strip(","))


def test_one_disputed_play_and_the_two_before_it_reach_the_disk_in_few_actions(qtbot, room, tmp_path):
    """From the opened game: under 15 actions, every one a real key press. The time is only printed."""
    actions = 0
    begun = time.monotonic()

    def act(key, modifiers=Qt.KeyboardModifier.NoModifier):
        nonlocal actions
        actions += 1
        press(qtbot, room, key, modifiers)

    act(Qt.Key.Key_Slash)
    for letter in "turnover":
        actions += 1
        qtbot.keyClicks(QApplication.focusWidget(), letter)
    act(Qt.Key.Key_Return)
    act(Qt.Key.Key_Return, Qt.KeyboardModifier.ShiftModifier)
    with qtbot.waitSignal(room.desk.jobs.finished, timeout=50000):
        act(Qt.Key.Key_X)
    qtbot.waitUntil(lambda: room.exporting.job is None)
    print(f"{actions} actions, {time.monotonic() - begun:.1f} s")
    assert actions < 15
    (written,) = (tmp_path / "exports").iterdir()
    assert written.name == "Sequence 1.mp4" and str(written) in room.exporting.message.text()
    assert plays_in(room) == [9, 10, 11]
    assert pictures_in(written) == pytest.approx(3 * 8 * RATE, abs=1)


@pytest.mark.parametrize("form", [Form.FILES, Form.PACK])
def test_other_forms_are_written_whole(tagged, tmp_path, form):
    items = [SequenceItem(play, -2.0, -4.0) for play in (2, 3)]
    request = SequenceRequest(tagged.game, tagged.steps, "Two plays", items, form)
    written = write_sequence(request, request.target(tmp_path / "to"))
    assert written.path == tmp_path / "to" / "Two plays"
    films = list(written.path.rglob("*.mp4"))
    assert len(films) >= 2 and all(path.stat().st_size for path in films)
    if form is Form.PACK:
        from workstation.delivery.verifying import verify_pack
        assert verify_pack(written.path).whole
    assert request.target(tmp_path / "to") == tmp_path / "to" / "Two plays 2"      # nothing is ever written over


def test_edit_lists_and_captions_are_written_together(tagged, tmp_path):
    import opentimelineio
    request = SequenceRequest(tagged.game, tagged.steps, "Two plays", [SequenceItem(2), SequenceItem(3)], Form.LISTS)
    folder = write_sequence(request, request.target(tmp_path / "to")).path
    assert sorted(path.name for path in folder.iterdir()) == [f"Two plays{suffix}"
                                                              for suffix in (".edl", ".otio", ".srt", ".vtt")]
    read = opentimelineio.adapters.read_from_file(str(folder / "Two plays.otio"))
    assert [clip.name for clip in read.find_clips()] == ["play 2", "play 3"]
    assert (folder / "Two plays.srt").read_text(encoding="utf-8").count(" --> ") == 2


def test_the_forms_ask_only_for_what_they_use(room):
    shown = {}
    for position in range(room.exporting.form.count()):
        room.exporting.form.setCurrentIndex(position)
        shown[Form(room.exporting.form.currentData())] = (room.exporting.captions.isVisible(),
                                                          room.exporting.statement.isVisible())
    assert shown == {Form.FILM: (True, False), Form.FILES: (False, False), Form.PACK: (True, True),
                     Form.LISTS: (False, False)}


def test_stopping_an_export_leaves_nothing_half_written(tagged, tmp_path):
    request = SequenceRequest(tagged.game, tagged.steps, "Stopped", [SequenceItem(2)])

    def progress(share):
        if share > 0.2:
            raise Cancelled

    with pytest.raises(Cancelled):
        write_sequence(request, request.target(tmp_path / "to"), progress)
    assert list((tmp_path / "to").iterdir()) == []


def test_a_failed_export_says_why_and_the_room_goes_on(qtbot, room, tmp_path):
    blocked = tmp_path / "a file"
    blocked.write_text("not a folder")
    room.session.do(AddRecord(Sequence(0, "One", (SequenceItem(3),))))
    qtbot.waitUntil(lambda: room.editor.reel.count() == 1)
    room.exporting.folder.setText(str(blocked))
    with qtbot.waitSignal(room.desk.jobs.finished, timeout=20000):
        room.export()
    qtbot.waitUntil(lambda: room.exporting.job is None)
    assert "Not written" in room.exporting.message.text() and "a file" in room.exporting.message.text()
    assert room.exporting.start_button.isEnabled()


def test_a_sequence_of_nothing_filmed_is_refused_with_a_reason(tagged, tmp_path):
    with pytest.raises(ValueError, match="filmed"):
        write_sequence(SequenceRequest(tagged.game, tagged.steps, "Empty", ()), tmp_path / "empty.mp4")


def test_length_is_the_sum_of_what_is_taken(tagged):
    items = [SequenceItem(2), SequenceItem(3, 1.0, -0.5)]
    assert length_of(FilmLayout(tagged.game), items) == 16 + Fraction(1, 2)


# -- manners ------------------------------------------------------------------------------------------------


def test_everything_fits_at_1280_by_800(room):
    hint = room.minimumSizeHint()
    assert hint.width() <= 1280 and hint.height() <= 740


def test_everything_that_can_be_used_has_a_name(room):
    from PySide6.QtWidgets import QAbstractButton, QAbstractItemView, QComboBox, QLineEdit
    for kind in (QAbstractButton, QComboBox, QLineEdit, QAbstractItemView):
        for widget in room.findChildren(kind):
            if widget.window() is not room.window() or isinstance(widget.parent(), QLineEdit):
                continue        # the list of a combo box and the cross of an entry line are Qt's own
            assert widget.accessibleName() or getattr(widget, "text", lambda: "")(), widget


def test_an_empty_game_says_what_to_do(qtbot, desk, small_film, tmp_path):
    from workstation.tagging.operations import AddSources
    with GameFile.create(tmp_path / "empty.game") as file:
        file.do(AddSources(small_film.sources))
    session = Session(*load(tmp_path / "empty.game"))
    room = SequenceRoom(desk)
    qtbot.addWidget(room)
    room.show()
    room.enter(session)
    assert "Tag" in room._empty.text()
    for key in (Qt.Key.Key_V, Qt.Key.Key_X, Qt.Key.Key_Q, Qt.Key.Key_Delete, Qt.Key.Key_Space, Qt.Key.Key_Return):
        press(qtbot, room, key)
    assert session.game.sequences == ()
    room.leave()
    room.forget()
    session.close()


def test_size_rate_quality_and_sound_of_a_film_are_chosen_in_the_panel(qtbot, room, tmp_path, monkeypatch):
    asked, panel = [], room.exporting
    monkeypatch.setattr("workstation.desk.sequence.export_panel.write_sequence",
                        lambda request, *_: asked.append(request) or Written(tmp_path / "film.mp4"))
    sequence = Sequence(1, "Plays", (SequenceItem(1),))
    panel.folder.setText(str(tmp_path))
    for form in (Form.FILM, Form.PACK, Form.FILES, Form.LISTS):
        panel.form.setCurrentIndex(panel.form.findData(form))
        choices = (panel.picture_size, panel.rate, panel.quality, panel.sound_track)
        assert {choice.isVisible() for choice in choices} == {form in (Form.FILM, Form.PACK)}
    panel.form.setCurrentIndex(panel.form.findData(Form.FILM))
    panel.run(room.session, sequence)
    qtbot.waitUntil(lambda: panel.job is None)
    for choice, words in ((panel.rate, "29.97 a second"), (panel.quality, "Smaller"),
                          (panel.picture_size, "1280×720"), (panel.sound_track, "2nd sound")):
        choice.setCurrentIndex(choice.findText(words))
    panel.run(room.session, sequence)
    qtbot.waitUntil(lambda: panel.job is None)
    assert [(one.size, one.rate, one.quality, one.sound_track) for one in asked] == [
        (None, None, 18, 0), ((1280, 720), Fraction(30000, 1001), 24, 1)]

"""The Tag room: film, situation, entry line, plays."""

from __future__ import annotations

import sqlite3
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from PySide6.QtCore import QSignalBlocker, Qt, QTimer
from PySide6.QtWidgets import QFrame, QSplitter, QVBoxLayout, QWidget

from ...film.film import Film
from ...film.time import Instant, spoken_time
from ...football.notation import write
from ...football.plays import Play, PlayKind
from ...football.situation import Situation
from ...football.step import Step
from ...tagging.changes import changed_rows, rows_with_other_findings, spoken_changes
from ...tagging.game_order import (
    EXTRAS,
    films_a_play,
    first_untagged_shot,
    next_play_shot,
    next_untagged_shot,
    place_of_new_play,
)
from ...tagging.gamefile import CannotSave
from ...tagging.model import MomentKind, PlayTag, Shot, ShotKind
from ...tagging.operations import AddPlay, ChangePlay, ChangeShots, several
from ..actions import MARKS, SHOT_KINDS, moment_action, shot_action
from ..picture import PictureView
from ..room import Room
from ..session import Session
from ..suggesting import Suggestions
from ..timeline.lanes import PlaysLane, ShotsLane
from ..timeline.view import LEAST_HEIGHT, TimelineView
from ..timers import timer
from ..widgets import Pages, label
from .entry_state import Enter, EntryState, Escape, Then
from .filming import Filming
from .pages import TagPages
from .panel import EntryPanel
from .play_edits import PlayEdits
from .plays import OFF_CAMERA, PlaysView
from .reading import LineReading
from .situation import SituationView
from .strip import Strip
from .taking import Taking

_AFTER = 100        # milliseconds


class TagRoom(Room):
    name = "Tag"
    purpose = "Type each play as you would call it; Enter keeps it and goes to the next shot."

    def _building(self) -> Iterator[None]:
        desk = self.desk
        self.state = EntryState()
        self._shot: int | None = None       # the shot at hand, None outside any
        self._side_wanted = 380             # pixels, as far as there is room
        self._keeping = False               # a play is on its way into the game
        self._film = Film()                 # the film that the suggestions are about
        self._findings: dict[int, frozenset[str]] | None = None     # by play, when they were last known
        self._known: dict[int, Step] = {}   # what followed from each play when it was last shown
        self._draft = timer(self, 400, self._keep_draft)
        # Keeping a play and showing the next one's words are each enough for one turn of the event loop.
        self._showing = timer(self, 1, self._show_entry)
        self.filming = Filming(self)
        self.suggestions = Suggestions(self)
        self.reading = LineReading(desk, self.state, self)
        self.edits = PlayEdits(self.state, self)
        self.taking = Taking(self.filming, self.suggestions, self)
        self._holders = (self.taking, self.filming, self.reading, self.edits)     # what shows others is over first

        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        down = QSplitter(Qt.Orientation.Vertical, self)
        outer.addWidget(down)
        across = self._across = QSplitter(Qt.Orientation.Horizontal, down)
        self.main = Pages(across)
        left = QWidget(self.main)
        self.main.addWidget(left)
        self._side = QFrame(across)
        self._side.setObjectName("panel")
        self.timeline = TimelineView(desk, down)
        across.setStretchFactor(0, 1)
        across.splitterMoved.connect(lambda *_: setattr(self, "_side_wanted", across.sizes()[1]))
        across.setChildrenCollapsible(False)
        down.setStretchFactor(0, 1)
        down.setSizes([620, 150])
        down.setChildrenCollapsible(False)
        yield
        stack = QVBoxLayout(left)
        stack.setContentsMargins(0, 0, 0, 0)
        stack.setSpacing(0)
        self.picture = PictureView(parent=left)
        self.picture.message = f"No film yet. Open footage ({desk.keys.shown('desk.footage')}) or drop it here."
        self.strip = Strip(desk.keys, left)
        self.marks, self.panel = self.strip.marks, EntryPanel(desk, left)
        self.line = self.panel.line
        self.line.state = self.state
        stack.addWidget(self.picture, 1)
        stack.addWidget(self.strip)
        stack.addWidget(self.panel)
        yield
        yield from self.strip.building(self._toggle, self.filming.mark, {
            "tag.find": self.look_through, "tag.situation": self.set_situation,
            "tag.heading": self.set_heading, "tag.sheet": self.take_sheet})
        yield
        self._build_side()
        yield
        self.pages = TagPages(self.beside, self.main, desk.jobs)
        self.pages.closed.connect(self.line.setFocus)
        self.pages.search_wanted.connect(self.look_through)
        self.reading.followed.connect(self._show_situation)
        self.edits.placed.connect(self._choose_tagged)
        self.edits.removed.connect(self._take_shot_anew)
        self.taking.taken_shots.connect(self._take_shot_anew)
        self.taking.shown.connect(self._show_taken)
        self.filming.cut.connect(self._take_shot_anew)
        self.filming.called.connect(self._show_shot)
        self.filming.marked.connect(self.strip.flash)
        self.suggestions.changed.connect(self._suggested)
        self.timeline.show_suggestions(self.suggestions)
        yield from self._binding()

    def _build_side(self) -> None:
        side = self._side
        side.setMinimumWidth(250)
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.situation = SituationView(self.desk.theme, side)
        self.changes = label("", "body", "warn", wrap=True, parent=side)
        self.changes.hide()
        self.beside = Pages(side)
        self.plays = PlaysView(self.desk.theme, self.beside)
        self.plays.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.beside.addWidget(self.plays)
        column.addWidget(self.situation)
        column.addWidget(self.changes)
        column.addWidget(self.beside, 1)

    def focusInEvent(self, event) -> None:
        self.line.setFocus()

    def resizeEvent(self, event) -> None:
        """The picture keeps the larger part, and where it is narrow the buttons under it take a line more."""
        side = max(min(self._side_wanted, round(self.width() * 0.42)), self._side.minimumWidth())
        self._across.setSizes([self.width() - side, side])
        narrow = self.width() - side < 60 * self.fontMetrics().averageCharWidth()
        self.strip.narrow(narrow)
        # On a screen that is too low for everything the timeline gives lanes up, not the picture its place.
        least = self.timeline.height_of_all
        self.timeline.setMinimumHeight(least if self.height() > 4 * least else LEAST_HEIGHT)

    def _binding(self) -> Iterator[None]:
        keys, line = self.desk.keys, self.line
        for id, act in {
            "tag.next_reading": self.next_reading, "tag.commit": self.commit, "tag.commit_stay": lambda: self.commit(stay=True),
        }.items():
            keys.bind(id, line, act)
        for id, act in {
            "tag.clear": self.clear, "tag.take": self.taking.take, "tag.find": self.look_through,
            "tag.toggle": self._toggle,
            "tag.previous_play": lambda: self.go_to_row(self.state.neighbour(-1)),
            "tag.next_play": lambda: self.go_to_row(self.state.neighbour(1)),
            "tag.to_snap": self.filming.to_snap, "tag.loop": self.filming.loop,
            "tag.remove_moment": self.filming.remove_moment, "tag.confirm_moments": self.filming.confirm_moments,
            "tag.new_shot": self.filming.begin,
            "tag.split_shot": self.filming.split,
            "tag.merge_shots": self.filming.merge, "tag.remove_shot": self.filming.remove,
            "tag.files_as_shots": self.filming.take_files, "tag.confirm_shots": self.filming.confirm,
            "tag.situation": self.set_situation, "tag.heading": self.set_heading, "tag.sheet": self.take_sheet,
            "tag.habit": self.change_habit,
        }.items():
            keys.bind(id, self, act)
        yield
        for id, act in {
            "tag.frame_back": lambda: self._step(-1), "tag.frame_ahead": lambda: self._step(1),
            "tag.second_back": lambda: self._skip(-1), "tag.second_ahead": lambda: self._skip(1),
            "tag.back": lambda: self._skip(-5), "tag.ahead": lambda: self._skip(5),
            "tag.film_start": lambda: self.session.seek_time(0), "tag.first_untagged": self.go_to_first_untagged,
            "tag.slower": lambda: self._rate(-1), "tag.faster": lambda: self._rate(1),
            "tag.previous_shot": lambda: self.go_to_shot(-1), "tag.next_shot": lambda: self.go_to_shot(1),
        }.items():
            keys.bind(id, self, act)
        for moment in MARKS:
            keys.bind(moment_action(moment), self, partial(self.filming.mark, moment))
        for kind in SHOT_KINDS:
            keys.bind(shot_action(kind), self, partial(self.filming.call, kind))
        yield
        line.textChanged.connect(self._typed)
        self.panel.committed.connect(self.commit)
        self.plays.row_chosen.connect(self.go_to_row)
        for id, act in {
            "tag.insert_play": self.insert_play, "tag.play_earlier": lambda: self.edits.move(-1),
            "tag.play_later": lambda: self.edits.move(1), "tag.film_play": self.edits.film,
            "tag.unfilm_play": self.edits.unfilm, "tag.remove_play": self.edits.remove,
        }.items():
            keys.bind(id, self, act)
            self.plays.offer(keys, id, act)
        self.picture.turned.connect(self._turn)
        self.timeline.seeked.connect(lambda *_: self._follow())
        self.timeline.item_chosen.connect(self._on_timeline)

    # -- the session --------------------------------------------------------------------------
    def enter(self, session: Session) -> None:
        if session is not self._session:
            self.forget()
            super().enter(session)
            for holder in self._holders:
                holder.show_session(session)
            session.game_changed.connect(self._game_changed)
            session.derived_changed.connect(self._show_other_findings)
            session.position_changed.connect(self._moved)
            session.playing_changed.connect(self.strip.show_playing)
            session.rate_changed.connect(self.strip.show_rate)
            self.picture.show_session(session)
            # Behind the first painting of all the rest, so that both have a turn of the event loop of their own.
            QTimer.singleShot(_AFTER, self, lambda: self._show_timeline(session))
            self.plays.plays.show_session(session)
            self._film = session.film
            self.suggestions.show_film(session.film)
            self.state.game_changed(len(session.game.plays))
            self.state.take(len(session.game.plays))
            self._shot = None
            self._known = self._situations()
            self._findings = self._findings_by_play()
            self._follow(first=True)
            self._resume(session.file.draft)
            self._show_entry()          # before the first painting of it all, which is enough for a turn
        self.strip.show_playing(session.playing)
        self.strip.show_rate(session.rate)
        self._moved(session.position)
        self.line.setFocus()

    def _on_timeline(self, lane: str, id: object) -> None:
        if lane == PlaysLane.key and isinstance(id, int):
            self.go_to_row(self.session.position_of(id))

    def _show_timeline(self, session: Session) -> None:
        if self._session is session:
            self.timeline.show_session(session)

    def _resume(self, draft: str) -> None:
        """Take up a game where it was left: at the first shot behind the tagged ones, with what was being typed."""
        plays = self.session.game.plays
        if draft or (plays and next_untagged_shot(self.session.game) is not None):
            self.go_to_row(len(plays))
        if draft:
            self.line.insert(draft)         # not set, so that it can be taken back as if it had been typed

    def begin(self) -> None:
        self.pages.show_heading(self.session, is_new=True)

    def leave(self) -> None:
        self._keep_draft()

    def forget(self) -> None:
        if not self.has_session:
            return
        session = self.session
        self.pages.leave()
        session.game_changed.disconnect(self._game_changed)
        session.derived_changed.disconnect(self._show_other_findings)
        session.position_changed.disconnect(self._moved)
        session.playing_changed.disconnect(self.strip.show_playing)
        session.rate_changed.disconnect(self.strip.show_rate)
        self._draft.stop()
        self._showing.stop()
        self.picture.show_session(None)
        self.timeline.show_session(None)
        self.plays.plays.show_session(None)
        self._fill("")
        self._draft.stop()
        for holder in self._holders:
            holder.show_session(None)
        super().forget()

    def _game_changed(self, change) -> None:
        self._show_changes()
        self.plays.plays.refresh()
        if self.session.film != self._film:
            self._film = self.session.film
            self.suggestions.show_film(self._film)
        if self._keeping:
            return
        self.state.game_changed(len(self.session.game.plays))
        if not self.state.is_dirty:
            self._follow()
            if self.line.text() != (text := self._text_at_hand()):
                self._fill(text)
        self._show_row()

    def _keep_draft(self) -> None:
        session = self.session
        if session.file.read_only:
            return
        try:
            session.file.keep_draft(self.state.draft)
        except (CannotSave, OSError, sqlite3.Error) as error:
            session.failed.emit(f"What is being typed could not be kept: {error}",
                                "Finish the play, then look at the disk.")

    # -- where we are -------------------------------------------------------------------------
    def _moved(self, instant: Instant | None) -> None:
        session = self.session
        if instant is None:
            self.strip.clock.setText("")
            return
        self.strip.clock.setText(spoken_time(float(session.time), tenths=True))
        shot = session.shot_at(instant)
        if (shot.id if shot else None) != self._shot:
            self._follow()

    def _follow(self, first: bool = False) -> None:
        """Take the shot under the film position in hand, and the play it films, unless something is being typed."""
        session = self.session
        shot = session.shot_at(session.position)
        moved = (shot.id if shot else None) != self._shot or first
        self._shot = shot.id if shot else None
        self._show_shot(shot)
        if self.state.is_dirty or self.state.is_inserted:
            return
        plays = session.game.plays
        filmed = [row for row, tag in enumerate(plays) if shot is not None and tag.shot == shot.id]
        if filmed:
            if self.row not in filmed or moved:
                self._choose(self.row if self.row in filmed else filmed[0])
            return
        if moved or self.row > len(plays):
            self._choose(place_of_new_play(session.game, self._shot))

    def _choose(self, row: int) -> None:
        """Take a row in hand: a tagged play, or a new one at that place."""
        session = self.session
        plays = session.game.plays
        shot = session.shot(self._shot)
        new_here = shot is not None and row < len(plays) and not films_a_play(session.game, shot.id) \
            and row == place_of_new_play(session.game, shot.id)
        self.state.take(row, is_between=new_here)
        self._fill(self._text_at_hand())
        self._show_row()

    @property
    def row(self) -> int:
        """The play at hand; the number of plays means the one to come."""
        return self.state.row

    @property
    def is_new(self) -> bool:
        return self.state.is_new

    def _text_at_hand(self) -> str:
        """What stands in the line as long as nobody types."""
        return "" if self.is_new else self._written(self.session.game.plays[self.row])

    def _written(self, tag: PlayTag) -> str:
        try:
            return write(tag.play, self.session.step_of(tag.id).before, self.session.rulebook)
        except ValueError:
            return ""

    def go_to_row(self, row: int) -> None:
        """Take a play in hand and go to where it is filmed."""
        session = self.session
        self.state.give_up()
        if row < len(session.game.plays):
            shot = session.shot(session.game.plays[row].shot)
            self._shot = shot.id if shot else self._shot
            self._choose_tagged(row)
            if shot is not None and session.shot_at(session.position) is not shot:
                session.seek(shot.start)
        else:
            following = next_untagged_shot(session.game)
            if following is not None and session.shot_at(session.position) is not following:
                self._shot = following.id
                session.seek(following.start)
                self._show_shot(following)
            self._choose(row)

    def _choose_tagged(self, row: int) -> None:
        self.state.take(row)
        self._fill(self._text_at_hand())
        self._show_shot(self.session.shot(self._shot))
        self._show_row()

    def _show_row(self) -> None:
        self.plays.show_row(self.row)
        self.timeline.choose(PlaysLane.key, None if self.is_new else self.session.game.plays[self.row].id)
        number = self.row + 1
        if self.state.is_between:
            self.panel.about.setText(f"Before {number}")
        else:
            self.panel.about.setText(f"Play {number}" if not self.is_new else f"Play {number}, new")
        self.reading.take_in(self.line.text())
        self._showing.start()

    def _show_shot(self, shot: Shot | None) -> None:
        self.timeline.choose(ShotsLane.key, shot.id if shot else None)
        self.strip.show_shot(self.session, shot, self.suggestions)

    # -- the line -----------------------------------------------------------------------------
    def _fill(self, text: str) -> None:
        """Write into the line what nobody typed; it is read when the row is shown, once."""
        self.state.show(text)
        with QSignalBlocker(self.line):
            self.line.setText(text)
        if text:
            self.line.selectAll()
        else:
            self._draft.start()

    def _typed(self, text: str) -> None:
        self.state.type(text)
        if self.state.is_dirty or not text:
            self._draft.start()
        self._read(text)

    def before(self) -> Situation:
        """The situation that the play at hand meets."""
        return self.reading.before()

    def _read(self, text: str) -> None:
        """Work out what the line says, and show what follows from it."""
        self.reading.take_in(text)
        self._show_entry()

    def _show_situation(self, before: Situation, step: Step | None) -> None:
        self.situation.show_game(self.session.game.heading, self.session.rulebook)
        self.situation.show_situation(before, step)

    def change_habit(self) -> None:
        """A bare number after a kick or a return is read the other way from now on."""
        self.session.notice.emit(self.reading.change_habit())
        self._read(self.line.text())

    def next_reading(self) -> None:
        """Take the next of the ways in which the line can be read."""
        if self.reading.take_next():
            self._show_entry()

    def _show_entry(self) -> None:
        self._showing.stop()
        reading = self.reading
        self.panel.show_entry(reading.entry, reading.taken, reading.number, reading.warning(), reading.about_habit())

    def clear(self) -> None:
        """Leave the page beside or in place of the film; without one, empty the line; with nothing in that, go back to
        the play that the film shows."""
        escape = self.state.escape(self.pages.is_open)
        if escape is Escape.LEAVE_PAGE:
            self.pages.back()
            return
        self.state.give_up()
        if escape is Escape.CLEAR:
            self.line.clear()
            self._keep_draft()
        else:
            self._take_shot_anew()
        self.line.setFocus()

    def commit(self, stay: bool = False) -> None:
        """Keep what is typed as the play at hand, then go on to the next shot."""
        entry, reading = self.reading.entry, self.reading.taken
        enter = self.state.enter(is_play=reading is not None, is_doubtful=bool(self.reading.doubts()), stay=stay)
        if enter is Enter.NEXT_SHOT:
            self._go_on()
        elif enter is Enter.POINT_OUT:
            self.line.setFocus()
            if entry.problem is not None:
                self.line.setSelection(entry.problem.start, entry.problem.end - entry.problem.start)
        elif enter is Enter.WARN:
            self._read(self.line.text())
        elif enter is Enter.KEEP and reading is not None:
            self._keep(reading.play, stay)

    def _keep(self, play: Play, stay: bool) -> None:
        session, row = self.session, self.row
        tag = None if self.is_new else session.game.plays[row]
        if tag is None or tag.play != play:
            self._keeping = True            # what is at hand is chosen below, once
            done = session.do(self._adding(play) if tag is None else ChangePlay(tag.id, play))
            self._keeping = False
            if done is None:
                return
        then = self.state.kept(stay)
        self.state.game_changed(len(session.game.plays))
        self._draft.stop()
        self._keep_draft()
        if then is Then.STAY:
            self._choose_tagged(row)
        elif then is Then.NEXT_PLAY or self._shot is None:
            self.go_to_row(row + 1)
        else:
            self.state.row = row + 1
            self._go_on(play if play.kind in OFF_CAMERA else None)

    def _adding(self, play: Play):
        """The operation that adds *play* at the place at hand, on the shot at hand."""
        session = self.session
        shot = session.shot(self._shot)
        if play.kind in OFF_CAMERA or self.state.is_inserted:
            shot = None
        plays = session.game.plays
        after = plays[self.row - 1].id if self.row else 0
        add = AddPlay(play, shot.id if shot else None, after=after)
        if shot is None or (shot.kind is not None and shot.confirmed):
            return add
        kind = {PlayKind.COIN_TOSS: ShotKind.COIN_TOSS, PlayKind.MEASUREMENT: ShotKind.MEASUREMENT}.get(
            play.kind, ShotKind.PLAY)
        return several(f"tag play {self.row + 1}",
                       [add, ChangeShots((replace(shot, kind=shot.kind or kind, confirmed=True),))])

    def _go_on(self, unfilmed: Play | None = None) -> None:
        """To the next shot that may show a play; without shots, to the next new play. After a play that nobody films
        the shot at hand may still wait for its own."""
        session = self.session
        game, shot = session.game, session.shot(self._shot)
        if unfilmed is not None and shot is not None and shot.kind not in EXTRAS and not films_a_play(game, shot.id):
            session.notice.emit(f"Kept: {unfilmed.kind.value}. This shot still waits for its own play; "
                                f"{self.desk.keys.shown('tag.commit')} passes over it.")
            self.state.take(self.row, is_between=self.row < self.state.plays)
            self._fill("")
            self._show_row()
            return
        if shot is not None:
            start = game.shots.index(shot) + 1
        else:
            start = bisect_left(game.shots, session.time, key=lambda each: session.film.time_of(each.start))
        following = next_play_shot(game, start)
        if following is None or (unfilmed is not None and shot is None):
            self._choose(len(game.plays))
            return
        self._shot = following.id
        session.seek(following.start)
        self._show_shot(following)
        filmed = next((row for row, tag in enumerate(game.plays) if tag.shot == following.id), None)
        self._choose(filmed if filmed is not None else place_of_new_play(game, following.id))

    def _situations(self) -> dict[int, Step]:
        session = self.session
        return {tag.id: step for tag, step in zip(session.game.plays, session.steps, strict=True)}

    def _findings_by_play(self) -> dict[int, frozenset[str]] | None:
        coverage = self.session.coverage
        if coverage is None:
            return None
        plays: dict[int, set[str]] = {}
        for finding in coverage.findings:
            if finding.play is not None:
                plays.setdefault(finding.play, set()).add(f"{finding.key}: {finding.title}")
        return {play: frozenset(found) for play, found in plays.items()}

    def _show_other_findings(self) -> None:
        """The coverage was checked again after a correction: plays about which something else is found now have changed as
        well. A play that is new changes what is found about the one before it, and nobody corrected that."""
        before, self._findings = self._findings, self._findings_by_play()
        if before is not None and self._findings is not None and self.changes.text():
            rows = rows_with_other_findings(before, self._findings, [tag.id for tag in self.session.game.plays])
            self.plays.plays.changed_rows |= set(rows)
            self.plays.viewport().update()

    def _show_changes(self) -> None:
        session, known = self.session, self._known
        self._known = self._situations()
        self.plays.plays.changed_rows = frozenset(changed_rows(known, self._known))
        text = spoken_changes(known, self._known, session.game.heading, session.rulebook.field_length)
        self.changes.setText(text)
        self.changes.setContentsMargins(12, 4, 12, 8)
        self.changes.setVisible(bool(text))

    def insert_play(self) -> None:
        """Take a new play in hand, before the one that is; no shot films it until one is named."""
        if self.is_new:
            return
        self._shot = None
        self.state.take(self.row, is_between=True, is_inserted=True)
        self._fill("")
        self._show_row()
        self.strip.shot_label.setText("a play that no shot films")
        self.line.setFocus()

    # -- what the film suggests ---------------------------------------------------------------
    def _take_shot_anew(self) -> None:
        self._shot, self.state.is_inserted = None, False
        self._follow(first=True)

    def look_through(self) -> None:
        """Look through the film in the background for shots, snaps, whistles."""
        session = self.session
        if not session.film.sources:
            return
        self.desk.jobs.start(
            "Looking through the film", self.suggestions.look_through,
            lambda _: self._looked_through(session),
            lambda why: session.failed.emit(f"The film was not looked through: {why}",
                                            "Mark shots and moments yourself."))

    def _looked_through(self, session: Session) -> None:
        if self._session is session:
            self.suggestions.show_film(session.film)
            self.timeline.film_surveyed()

    def _suggested(self) -> None:
        if self.has_session:
            self._show_shot(self.filming.shot)

    def _show_taken(self, words: str, moment: MomentKind | None) -> None:
        self.picture.show_words(words)
        if moment is not None:
            self.strip.flash(moment)
        if not words and self.has_session:
            self._show_shot(self.filming.shot)

    # -- moving -------------------------------------------------------------------------------
    def go_to_shot(self, steps: int) -> None:
        if not self.is_new:
            self.state.give_up()        # a change that was begun; a new play stays in hand
        self.filming.go_to(steps)

    def go_to_first_untagged(self) -> None:
        """Go to the film's first shot that waits for its play, and take that play in hand."""
        shot = first_untagged_shot(self.session.game)
        if shot is None:
            self.session.notice.emit("Every shot that may show a play has one.")
            return
        self.state.give_up()
        self.session.seek(shot.start)
        self._take_shot_anew()

    def _toggle(self) -> None:
        self.session.toggle()

    def _step(self, frames: int) -> None:
        self.session.step(frames)

    def _skip(self, seconds: int) -> None:
        self.session.seek_time(self.session.time + seconds)

    def _turn(self, notches: int, shift: bool) -> None:
        """The wheel over the picture: a picture a notch, with Shift a second."""
        self._skip(notches) if shift else self._step(notches)

    def _rate(self, steps: int) -> None:
        self.session.player.change_rate(steps)

    # -- pages beside -------------------------------------------------------------------------
    def set_situation(self) -> None:
        """Begin the words that set the situation by hand."""
        text = self.line.text().rstrip()
        if " set" not in f" {text}":
            self.line.end(False)
            self.line.insert(f"{'' if self.line.text().endswith(' ') or not text else ' '}set ")
        self.line.setFocus()

    def set_heading(self) -> None:
        """Show the form for teams, rules and date beside the film."""
        self.pages.show_heading(self.session)

    def take_sheet(self) -> None:
        """Show the page that takes in a play sheet, in place of the film."""
        self.session.pause()
        self.pages.show_sheet(self.session)

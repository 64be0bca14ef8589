"""The Tag room: film, situation, entry line, plays."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator
from functools import partial

from PySide6.QtCore import QCoreApplication, QSignalBlocker, Qt, QTimer

from ...film.film import Film
from ...film.time import Instant
from ...football.notation.examples import examples
from ...football.plays import Play
from ...football.situation import Situation
from ...football.step import Step
from ...tagging.game_order import (
    EXTRAS,
    UNFILMED,
    films_a_play,
    first_untagged_shot,
    next_play_shot,
    next_untagged_shot,
    place_of_new_play,
)
from ...tagging.model import MomentKind, Shot
from ...tagging.own_words.definition import WordSaid
from ...tagging.own_words.saying import added, kept, said_of_coming
from ..room import Room
from ..session import Session
from ..suggesting import Suggestions
from ..timeline.lanes import PlaysLane, ShotsLane
from ..timers import timer
from .entry_state import Enter, EntryState, Escape, Then
from .filming import Filming
from .layout import TagLayout
from .moving import Moving
from .pages import TagPages
from .play_edits import PlayEdits
from .reading import LineReading
from .taking import Taking

_AFTER = 100        # milliseconds


class TagRoom(Room):
    """The room in which plays are typed in."""

    name = "Tag"
    purpose = "Type each play as you would call it; Enter keeps it and goes to the next shot."

    def _building(self) -> Iterator[None]:
        desk = self.desk
        self.state = EntryState()
        self._shot: int | None = None       # the shot at hand, None outside any
        self._keeping = False               # a play is on its way into the game
        self._film = Film()                 # the film that the suggestions are about
        self._draft = timer(self, 400, self._keep_draft)
        # Keeping a play and showing the next one's words are each enough for one turn of the event loop.
        self._showing = timer(self, 1, self._show_entry)
        self.filming = Filming(self)
        self.suggestions = Suggestions(self)
        self.reading = LineReading(desk, self.state, self)
        self.edits = PlayEdits(self.state, self)
        self.taking = Taking(self.filming, self.suggestions, desk.jobs, self)
        self.moving = Moving(self)
        parts = self._parts = TagLayout(self, desk)
        yield from parts.building()
        self.picture, self.strip, self.panel, self.timeline = parts.picture, parts.strip, parts.panel, parts.timeline
        self.situation, self.changes, self.plays = parts.situation, parts.changes, parts.plays
        self.beside, self.main, self.marks, self.line = parts.beside, parts.main, self.strip.marks, self.panel.line
        self.line.state = self.state
        self.remark_entry = parts.remark_entry
        self.remark_entry.ended.connect(self.line.setFocus)
        # each of them ends what it shows of the former session
        self._holders = (self.taking, self.filming, self.moving, self.reading, self.edits, self.changes,
                         self.remark_entry)
        yield
        yield from self.strip.building(lambda: self.session.toggle(), self.take, self.filming.mark, {
            "tag.find": self.look_through, "tag.situation": partial(self.line.begin_clause, "set"),
            "tag.heading": self.set_heading, "tag.sheet": self.take_sheet})
        yield
        self.pages = TagPages(self.beside, self.main, desk.jobs)
        self.pages.closed.connect(self.line.setFocus)
        self.pages.search_wanted.connect(self.look_through)
        self.reading.followed.connect(self._show_situation)
        self.edits.placed.connect(self._choose_tagged)
        self.edits.refilmed.connect(self.go_to_row)
        self.edits.removed.connect(self._take_shot_anew)
        self.taking.taken_shots.connect(self._take_shot_anew)
        self.taking.shown.connect(self._show_taken)
        self.filming.cut.connect(self._take_shot_anew)
        self.filming.called.connect(self._show_shot)
        self.filming.marked.connect(self.strip.flash)
        self.suggestions.changed.connect(lambda: self._show_taken("", None))
        self.timeline.show_suggestions(self.suggestions)
        yield from self._binding()

    def focusInEvent(self, event) -> None:
        """Give the keyboard to the line."""
        self.line.setFocus()

    def keyPressEvent(self, event) -> None:
        """Type into the line what nothing else has a use for: after a click on the timeline, say."""
        text, plain = event.text(), Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier
        held = event.modifiers() & ~plain
        if self.is_built and text.isprintable() and text.strip() and not held and not self.pages.is_open:
            self.line.setFocus()
            QCoreApplication.sendEvent(self.line, event)
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event) -> None:
        """Fit the parts of the room to its new size, once they are there."""
        if self.is_built:
            self._parts.fit()

    def _binding(self) -> Iterator[None]:
        # behind what the lanes make of another look
        self.desk.theme.changed.connect(timer(self, 0, self._parts.fit).start)
        keys, line = self.desk.keys, self.line
        keys.bind("tag.next_reading", line, self.next_reading)
        keys.bind("tag.complete", line, self.complete)
        keys.bind("tag.commit", line, self.commit)
        keys.bind("tag.commit_stay", line, lambda: self.commit(stay=True))
        acts: dict[str, Callable[[], object]] = {
            "tag.clear": self.clear, "tag.take": self.take, "tag.find": self.look_through,
            "tag.previous_play": lambda: self.go_to_row(self.state.neighbour(-1)),
            "tag.next_play": lambda: self.go_to_row(self.state.neighbour(1)),
            "tag.previous_shot": lambda: self.go_to_shot(-1), "tag.next_shot": lambda: self.go_to_shot(1),
            "tag.first_untagged": self.go_to_first_untagged, "tag.remark": self.remark_entry.press,
            "tag.situation": partial(self.line.begin_clause, "set"), "tag.heading": self.set_heading,
            "tag.sheet": self.take_sheet, "tag.habit": self.change_habit, **self.moving.actions(),
        }
        keys.bind_all(self, acts)
        yield
        keys.bind_all(self, self.filming.actions())
        yield
        line.textChanged.connect(self._typed)
        self.panel.committed.connect(self.commit)
        self.plays.row_chosen.connect(self.go_to_row)
        for id, act in {"tag.insert_play": self.insert_play, **self.edits.actions()}.items():
            keys.bind(id, self, act)
            self.plays.offer(keys, id, act)
        self.picture.turned.connect(self.moving.turn)
        self.timeline.seeked.connect(lambda *_: self._follow())
        self.timeline.item_chosen.connect(self._on_timeline)

    # -- the session --------------------------------------------------------------------------
    def enter(self, session: Session) -> None:
        """Show this session; what another one left is put away."""
        if session is not self._session:
            self.forget()
            for holder in self._holders:
                holder.show_session(session)
            super().enter(session)
            self.picture.show_session(session)
            # Behind the first painting of all the rest, so that both have a turn of the event loop of their own.
            QTimer.singleShot(_AFTER, self, lambda: self._show_timeline(session))
            self.plays.plays.show_session(session)
            self._film = session.film
            self.suggestions.show_film(session.film, session.game.heading.profile)
            self.state.game_changed(len(session.game.plays))
            self.state.take(len(session.game.plays))
            self._shot = None
            self._follow(first=True)
            self._resume(session.file.draft)
            self._show_entry()          # before the first paint, which takes a turn of the event loop by itself
        self.strip.show_playing(session.playing)
        self.strip.show_rate(session.rate)
        self._moved(session.position)
        self.line.setFocus()

    def _follows(self, session: Session) -> list:
        return [(session.game_changed, self._game_changed), (session.position_changed, self._moved),
                (session.playing_changed, self.strip.show_playing), (session.rate_changed, self.strip.show_rate)]

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
        """Ask for the heading of a new game."""
        self.pages.show_heading(self.session, is_new=True)

    def leave(self) -> None:
        """Keep what is typed but not entered."""
        self._keep_draft()

    def forget(self) -> None:
        """Let the session go."""
        if not self.has_session:
            return
        self.pages.leave()
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
        self.changes.refresh()
        self.plays.plays.refresh()
        if self.session.film != self._film:
            self._film = self.session.film
            self.suggestions.show_film(self._film, self.session.game.heading.profile)
        if self._keeping:
            return
        self.state.game_changed(len(self.session.game.plays))
        if not self.state.is_dirty:
            self._follow()
            if self.line.text() != (text := self._text_at_hand()):
                self._fill(text)
        self._show_row()

    def _keep_draft(self) -> None:
        self.session.keep_draft(self.state.draft)

    # -- where we are -------------------------------------------------------------------------
    def _moved(self, instant: Instant | None) -> None:
        self.strip.show_time(None if instant is None else float(self.session.time))
        shot = self.session.shot_at(instant)
        if instant is not None and (shot.id if shot else None) != self._shot:
            self._follow()

    def _follow(self, first: bool = False) -> None:
        """Take the shot under the film position in hand, and its play, unless something is being typed. What was
        suggested is shown elsewhere, and a film that plays runs on: neither changes the shot that a play is typed
        for."""
        session = self.session
        if self.taking.is_showing or (self.state.is_dirty and session.playing and not first):
            return
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
                here = session.play_at_hand() if len(filmed) > 1 else None
                self._choose(self.row if self.row in filmed else
                             next((row for row in filmed if plays[row].id == here), filmed[0]))
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
        """Whether a new play is in hand, not a change."""
        return self.state.is_new

    def _text_at_hand(self) -> str:
        """What stands in the line as long as nobody types."""
        return "" if self.is_new else self.reading.written(self.session.game.plays[self.row])

    def go_to_row(self, row: int) -> None:
        """Take a play in hand and go to where it is filmed."""
        session = self.session
        self.state.give_up()
        if row < len(session.game.plays):
            tag = session.game.plays[row]
            shot = session.shot(tag.shot)
            self._shot = shot.id if shot else self._shot
            self._choose_tagged(row)
            if shot is None:
                return
            if sum(each.shot == shot.id for each in session.game.plays) > 1:     # the shot alone does not say which
                begins = session.beginning_of(tag.id)
                if begins is not None and session.play_at_hand() != tag.id:
                    session.seek(begins)
            elif session.shot_at(session.position) is not shot:
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
        self.strip.show_dispute(not self.is_new and self.session.steps[self.row].is_disputed)
        number = self.row + 1
        if self.state.is_between:
            self.panel.about.setText(f"Before {number}")
        else:
            self.panel.about.setText(f"Play {number}" if not self.is_new else f"Play {number}, new")
        self.reading.take_in(self.line.text())
        self._showing.start()

    def _show_shot(self, shot: Shot | None) -> None:
        self.timeline.choose(ShotsLane.key, shot.id if shot else None)
        self.strip.show_shot(self.session, shot, self.suggestions.found, self.taking.is_looking,
                             self.state.is_dirty and self.is_new)

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
        was_dirty = self.state.is_dirty
        self.state.type(text)
        if self.state.is_dirty is not was_dirty and self.is_new:
            self._show_shot(self.session.shot(self._shot))      # another key takes what is suggested
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
        self.panel.show_line(reading.line, reading.whole, reading.number, reading.warning(), reading.about_habit(),
                             self.state.is_new)
        self.panel.show_options(reading.options())
        self.panel.show_examples(examples(reading.before(), self.session.rulebook.downs))
        self.panel.show_also_known(reading.also_known())

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

    def take(self) -> None:
        """Take what is suggested here. With a new play typed, keep it too and go on: one key ends a shot that is as it
        was suggested."""
        if self.state.is_dirty and self.is_new and not self.state.is_inserted:
            self.commit(with_suggested=True)
        else:
            self.taking.take()

    def commit(self, stay: bool = False, with_suggested: bool = False) -> None:
        """Keep what is typed as the play at hand, then go on to the next shot."""
        reading = self.reading.whole
        enter = self.state.enter(is_play=reading is not None, is_doubtful=bool(self.reading.doubts()), stay=stay)
        if enter is Enter.NEXT_SHOT:
            self._go_on()
        elif enter is Enter.POINT_OUT:
            self.line.setFocus()
            if (problem := self.reading.line.problem) is not None:
                self.line.setSelection(problem.start, problem.end - problem.start)
        elif enter is Enter.WARN:
            self._read(self.line.text())
        elif enter is Enter.KEEP and reading is not None:
            play = reading.play.play if reading.play is not None else None
            if play is None and self.state.is_new:
                self._keep_coming(reading.said)
            elif with_suggested and self.state.is_new:
                self.taking.take_with(self.session.shot(self._shot), partial(self._keep, play, reading.said, stay))
            else:
                self._keep(play, reading.said, stay)

    def _keep_coming(self, said: tuple[WordSaid, ...]) -> None:
        """Keep words of a play that is not known yet; it stays at hand, and the line is free for it."""
        session = self.session
        self._keeping = True
        done = session.do(said_of_coming(session.game, session.vocabulary, said))
        self._keeping = False
        if done is not None:
            self.state.give_up()
            self._fill("")
            self._show_row()

    def complete(self) -> None:
        """Make the own word that is being typed whole; where none is, go on to what has the focus next."""
        text = self.reading.completion() if self.line.cursorPosition() == len(self.line.text()) else None
        if text is None:
            self.line.focusNextPrevChild(True)
        else:
            self.line.setText(text)

    def _keep(self, play: Play | None, said: tuple[WordSaid, ...], stay: bool) -> None:
        """Keep the play at hand; *play* None leaves it as it is, and only the words are kept."""
        session, row = self.session, self.row
        tag = None if self.is_new else session.game.plays[row]
        if tag is not None:
            operation = kept(session.game, session.vocabulary, tag, play, said)
        else:
            assert play is not None
            shot = None if self.state.is_inserted else session.shot(self._shot)
            operation = added(session.game, session.vocabulary, play, row, shot, said)
        if operation is not None:
            self._keeping = True            # what is at hand is chosen below, once
            done = session.do(operation)
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
            self._go_on(play if play is not None and play.kind in UNFILMED else None)

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

    def insert_play(self) -> None:
        """Take a new play in hand, before the one that is; no shot films it until one is named."""
        if self.is_new:
            return
        self._shot = None
        self.state.take(self.row, is_between=True, is_inserted=True)
        self._fill("")
        self._show_row()
        self.strip.show_no_shot()
        self.line.setFocus()

    # -- what the film suggests ---------------------------------------------------------------
    def _take_shot_anew(self) -> None:
        self._shot, self.state.is_inserted = None, False
        self._follow(first=True)

    def look_through(self) -> None:
        """Look through the film in the background for shots, snaps, whistles."""
        self.taking.look_through(self.timeline.film_surveyed)

    def _show_taken(self, words: str, moment: MomentKind | None) -> None:
        self.picture.show_words(words)
        if moment is not None:
            self.strip.flash(moment)
        if not words and self.has_session:
            self._show_shot(self.filming.shot)

    # -- moving -------------------------------------------------------------------------------
    def go_to_shot(self, steps: int) -> None:
        """Go this number of shots on, or back if negative."""
        if not self.is_new:
            self.state.give_up()        # a change that was begun; a new play stays in hand
        self.moving.to_shot(steps)
        self._follow(first=True)

    def go_to_first_untagged(self) -> None:
        """Go to the film's first shot that waits for its play, and take that play in hand."""
        shot = first_untagged_shot(self.session.game)
        if shot is None:
            self.session.notice.emit("Every shot that may show a play has one.")
            return
        self.state.give_up()
        self.session.seek(shot.start)
        self._take_shot_anew()

    # -- pages beside -------------------------------------------------------------------------
    def set_heading(self) -> None:
        """Show the form for teams, rules and date beside the film."""
        self.pages.show_heading(self.session)

    def take_sheet(self) -> None:
        """Show the page that takes in a play sheet."""
        self.session.pause()
        self.pages.show_sheet(self.session)

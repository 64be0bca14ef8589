"""The open game: the game file, what is derived from it, and the film position.

All rooms share one session. Rooms know no rules of football; they ask the session.
"""

from __future__ import annotations

import logging
import sqlite3
from bisect import bisect_right
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import takewhile

from PySide6.QtCore import QObject, Signal

from ..coverage.camera_work import MeasuredFilm
from ..coverage.coverage import Coverage
from ..film.film import Film
from ..film.time import Instant
from ..football.plays import Play
from ..football.rulebook import load_rulebook
from ..football.situation import Situation
from ..football.step import Step
from ..football.tracker import track
from ..tagging.angles import FIRST, InStep, angle_of, beginning_in, film_of, play_at, same_moment, seen_from
from ..tagging.gamefile import CannotSave, GameFile
from ..tagging.model import Game, PlayTag, Shot
from ..tagging.opening import Troubles
from ..tagging.operations import Operation, in_angle
from ..tagging.own_words.definition import Vocabulary
from ..tagging.own_words.files import VocabularyError, load_vocabulary
from ..tagging.own_words.following import Words, known_words
from ..tagging.rematching import CannotRematch, nudged_tie, tied
from .beside import Beside, BesideMode
from .jobs import Job, Progress
from .player import Player
from .timers import timer

log = logging.getLogger(__name__)
_REST = 150         # milliseconds after the last change before the check starts, which would slow the repaint


class Session(QObject):
    """Holds an open game file, all that derives from it, and the film position.

    ``game_changed`` carries the Change (None after the game was first read, or is seen from another angle), and is
    sent after ``steps`` are up to date; ``derived_changed`` follows again when the coverage is.
    """

    game_changed = Signal(object)
    derived_changed = Signal()
    position_changed = Signal(object)
    playing_changed = Signal(bool)
    rate_changed = Signal(float)
    failed = Signal(str, str)       # what went wrong, what to do
    notice = Signal(str)              # one line, shown for a few seconds
    slow = Signal(str, float)         # a source (id) of whose pictures only this share is shown while it plays

    def __init__(self, file: GameFile, troubles: Troubles | None = None, parent: QObject | None = None):
        super().__init__(parent)
        self.file = file
        self.angle = FIRST
        self._left: dict[int, Instant | None] = {}              # where each angle was left
        self._film_now: list[tuple[Film, Film]] = []            # films as kept, and with what is wrong now
        self._whole_now: tuple[Game, Game] | None = None        # as it is kept, and with what is wrong now
        self._game_now: tuple[Game, int, Game] | None = None    # the whole, the angle, and the whole seen from it
        self._take_troubles(troubles or {})
        self._told_of: dict[str, str | None] = {}               # problems of the file, by what to do about them
        self.rulebook = load_rulebook(file.game.heading.rulebook, file.game.heading.season)
        self.steps: tuple[Step, ...] = ()
        self._tracked: tuple[Play, ...] = ()        # the plays that the steps are of
        self._placed: tuple[tuple[Shot, ...], Film] | None = None       # the shots that the starts are of
        self.coverage: Coverage | None = None
        self._measured: tuple[Film, MeasuredFilm | None] | None = None      # what is known of the camera work
        self.player = Player(self)
        for name in ("position_changed", "playing_changed", "rate_changed", "failed", "notice", "slow"):
            getattr(self.player, name).connect(getattr(self, name))
        self._in_step: dict[tuple[int, int], InStep] = {}       # of the game that it is of
        self._in_step_of: Game | None = None
        self._same: tuple[int, int, Instant] | None = None      # a play, an angle, and the moment marked in it
        self.beside = Beside(self, self)
        self._vocabulary: Vocabulary | None = None      # the staff's own, once they were wanted
        self._words_of: tuple[object, object, object, tuple[Words, ...]] | None = None
        self._serial = 0
        self._checking: Job | None = None
        self._check_soon = timer(self, _REST, self._start_check)
        self.closed = False     # then nothing may be done any more
        self._derive()
        self._show_film()

    def close(self) -> None:
        """Close the game file and the player; every change is on disk already."""
        self.closed = True
        self._check_soon.stop()
        self.beside.close()
        self.player.close()
        if self._checking is not None:
            self._checking.wait(10)
        self.file.close()

    # -- the game ----------------------------------------------------------------------------
    @property
    def game(self) -> Game:
        """The game as the angle that is looked at filmed it; see :func:`workstation.tagging.angles.seen_from`."""
        whole = self.whole
        if self._game_now is None or self._game_now[0] is not whole or self._game_now[1] != self.angle:
            self._game_now = whole, self.angle, seen_from(whole, self.angle)
        return self._game_now[2]

    @property
    def whole(self) -> Game:
        """The game as it is kept, all its angles; the films' sources also say what is wrong with their files now."""
        kept = self.file.game
        if not self._troubles:
            return kept
        if self._whole_now is None or self._whole_now[0] is not kept:
            self._whole_now = kept, kept.with_films(self._told)
        return self._whole_now[1]

    def _told(self, film: Film) -> Film:
        """The film with what is wrong with its files now; the same one as long as it is the same film."""
        known = next((now for kept, now in self._film_now if kept is film), None)
        if known is None:
            known = Film(tuple(replace(source, problem=self._troubles.get(source.id)) for source in film.sources))
            self._film_now = [*self._film_now[-8:], (film, known)]
        return known

    def _take_troubles(self, troubles: Troubles) -> None:
        self._troubles = troubles
        self._film_now, self._whole_now, self._game_now = [], None, None

    def see(self, angle: int, then: Instant | None = None) -> None:
        """Look at the game from another angle: at *then*, an instant of its film; without it at the same moment where
        the play at hand is tied to it, else at the play's snap or its shot's beginning there, else where that angle was
        left. Playing goes on."""
        if angle == self.angle:
            return
        at, play, playing, same = self.position, self.play_at_hand(), self.playing, then
        if same is None and at is not None and play is not None:
            same = same_moment(self.whole, at, play, angle)
        self._left[self.angle] = at
        self.angle = angle
        if same is None and play is not None:
            same = self.beginning_of(play)
        if same is None:
            same = self._left.get(angle)
        self.coverage = None        # what the other angle's film is told says nothing of this one's
        if same is not None:
            self.player.show_open(self.game.film, same)     # it is what whoever switches waits for
        self._derive()
        self._show_film(same)
        self.game_changed.emit(None)
        self.derived_changed.emit()
        if playing:
            self.player.play()

    def see_next(self) -> None:
        """Look from the next angle, the first one after the last."""
        if not self.has_angles():
            return
        self.see(self.next_angle)
        self.notice.emit(f"Angle: {self.game.heading.angle}")

    @property
    def numbers(self) -> list[int]:
        """The numbers of all angles, the first one's first."""
        return [FIRST, *(each.angle.id for each in self.whole.angles)]

    @property
    def next_angle(self) -> int:
        """The angle that comes after the one that is looked at, which it is itself where there is no other."""
        numbers = self.numbers
        return numbers[(numbers.index(self.angle) + 1) % len(numbers)]

    def has_angles(self) -> bool:
        """Whether the game has several angles; says so if it has not."""
        if not self.whole.angles:
            self.notice.emit("This game has one angle. Add the film of another camera from the menu.")
        return bool(self.whole.angles)

    def name_of(self, angle: int) -> str:
        """What an angle is called."""
        return angle_of(self.whole, angle).name

    def moment_in(self, angle: int) -> Instant | None:
        """The picture of another angle that shows what is on show; None where it shows nothing of it."""
        at, whole = self.position, self.whole
        if at is None or not any(source.id == at.source for source in self.film.sources):
            return None
        if self._in_step_of is not whole:
            self._in_step, self._in_step_of = {}, whole
        key = self.angle, angle
        if key not in self._in_step:
            self._in_step[key] = InStep(whole, *key)
        return self._in_step[key].at(at)

    def _show_film(self, at: Instant | None = None) -> None:
        """Let the player show the film of the angle that is looked at; those of the others stay open."""
        whole = self.whole
        self.player.keep_open([film_of(whole, number) for number in self.numbers])
        self.player.show_film(self.game.film, at)

    # -- how the angles stand together ---------------------------------------------------------
    def show_beside(self) -> None:
        """Show the next angle beside this one; again: small in a corner; again: no more."""
        if self.has_angles():
            self.beside.next_mode()
            self.notice.emit(self.beside.told)

    def see_play(self, play: int, *angles: int) -> None:
        """Go to a play's snap or beginning, from the first of *angles* that films it, with the next one beside it; as
        the film stands if no angle films it."""
        order = angles or (self.angle, *(each for each in self.numbers if each != self.angle))
        for number in order:
            begins = beginning_in(self.whole, play, number)
            if begins is not None:
                self.see(number)
                self.seek(begins)
                if len(order) > 1:
                    self.beside.show(BesideMode.EQUAL, next(each for each in order if each != number))
                return
        self.notice.emit("No angle films this play.")

    def mark_same(self) -> None:
        """Mark one of the two pictures that show the same moment of a play; the second one, in another angle, ties
        them."""
        if not self.has_angles():
            return
        at, play = self.position_to_mark(), self.play_at_hand()
        if at is None or play is None:
            self.notice.emit("No play is on show here. Go to a play that both angles show.")
            return
        marked = self._same
        if marked is None or marked[1] == self.angle or marked[0] not in self._positions:
            self._same = play, self.angle, at
            self.notice.emit(f"Marked in {self.name_of(self.angle)}. Switch to another angle, go to the same moment of "
                             f"play {self._positions[play] + 1}, and press the key again.")
            return
        self._same = None
        self._rematch(lambda: tied(self.file.game, marked[0], marked[2], at),
                      f"Tied: {self.name_of(marked[1])} and {self.name_of(self.angle)} show the same moment here.")

    def nudge_tie(self, pictures: int) -> None:
        """Let the further angle show what the first one shows so many pictures later, in the play at hand."""
        if not self.has_angles():
            return
        number = self.angle if self.angle != FIRST else self.beside.angle
        play, at, whole = self.play_at_hand(), self.position, self.whole
        if play is None or at is None:
            self.notice.emit("No play is on show here.")
            return
        here = same_moment(whole, at, play, FIRST) if self.angle != FIRST else None
        step = "one picture later" if pictures > 0 else "one picture earlier"
        if self._rematch(lambda: nudged_tie(self.file.game, number, play, pictures),
                         f"{self.name_of(number)} shows play {self._positions[play] + 1} {step} now.") and here:
            there = same_moment(self.whole, here, play, number)
            if there is not None:
                self.seek(there)

    def _rematch(self, made: Callable[[], Operation], done: str) -> bool:
        """Carry out what corrects a match, or say why it cannot be."""
        try:
            operation = made()
        except CannotRematch as error:
            self.notice.emit(str(error))
            return False
        if self.do_on_whole(operation) is None:
            return False
        self.notice.emit(done)
        return True

    def play_at_hand(self) -> int | None:
        """The play that runs, or ran last, where the film stands."""
        at = self.position
        if at is None or not any(source.id == at.source for source in self.film.sources):
            return None
        return play_at(self.whole, self.angle, at)

    def beginning_of(self, play: int) -> Instant | None:
        """Where the angle that is looked at shows the beginning of a play; None where it does not film it."""
        return beginning_in(self.whole, play, self.angle)

    @property
    def film(self) -> Film:
        """The film of the game."""
        return self.game.film

    def do(self, operation):
        """Carry out an operation; None, and a message, if it cannot be done."""
        return self._changed(lambda: self.file.do(in_angle(operation, self.angle, self.file.game)))

    def do_on_whole(self, operation):
        """Carry out an operation on the game as it is kept, whichever angle is looked at; as :meth:`do`."""
        return self._changed(lambda: self.file.do(operation))

    def keep_draft(self, text: str) -> None:
        """Keep what is being typed as the play to come, to be there again after a crash."""
        if self.file.read_only:
            return
        try:
            self.file.keep_draft(text)
        except (CannotSave, OSError, sqlite3.Error) as error:
            self.failed.emit(f"What is being typed could not be kept: {error}",
                             "Finish the play, then look at the disk.")

    def undo(self):
        """Undo the last change and return it, None if there is none."""
        return self._changed(self.file.undo)

    def redo(self):
        """Redo the change undone last and return it, None if there is none."""
        return self._changed(self.file.redo)

    def reread(self, troubles: Troubles) -> None:
        """Take up changes of the game file by a job, and the state of its footage."""
        self._take_troubles(troubles)
        self._derive()
        self._show_film()
        self.game_changed.emit(None)

    def _changed(self, action):
        try:
            change = action()
            if self.angle != FIRST and all(each.angle.id != self.angle for each in self.file.game.angles):
                self.angle = FIRST          # the one that was looked at is gone
        except Exception as error:
            log.exception("an operation failed")
            self.failed.emit(f"Not done: {error}", "Nothing was changed. Mend what is named and try again.")
            return None
        if change is not None:
            self._derive()
            self._show_film()
            self.game_changed.emit(change)
            self._tell_once(self.file.backup_problem,
                            "The game itself is saved. Make room on its disk, or copy the game file elsewhere.")
        # The game may go on in a rescue file, because another program took its own away.
        self._tell_once(self.file.moved,
                        "Find out which program did that (one that synchronises the folder?) before you go on.")
        return change

    def _tell_once(self, problem: str | None, todo: str) -> None:
        """Report a problem of the game file, and again if its reason changes; *todo* tells it from others."""
        told, self._told_of[todo] = self._told_of.get(todo), problem
        if problem and problem != told:
            self.failed.emit(problem[0].upper() + problem[1:], todo)

    # -- derived ------------------------------------------------------------------------------
    def _derive(self) -> None:
        """Derive again what a change may have affected, from the first play that differs on."""
        game = self.game
        heading, film = game.heading, game.film
        rulebook = load_rulebook(heading.rulebook, heading.season)
        if rulebook is not self.rulebook:
            self.rulebook, self._tracked = rulebook, ()
        plays = tuple(tag.play for tag in game.plays)
        same = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(plays, self._tracked, strict=False)))
        self.steps = (*self.steps[:same], *track(self.rulebook, plays[same:], self.steps[same - 1] if same else None))
        self._tracked = plays
        self._positions = {tag.id: position for position, tag in enumerate(game.plays)}
        if self._placed is None or self._placed[0] is not game.shots or self._placed[1] is not film:
            self._placed = game.shots, film
            self._shots = {shot.id: shot for shot in game.shots}
            self._shot_starts = [film.time_of(shot.start) for shot in game.shots] if film.sources else []
        self.check_again()

    def check_again(self) -> None:
        """Compare once more what was filmed with what was needed: the crew profile was written anew, say."""
        self._serial += 1
        if self._checking is None:
            self._check_soon.start()

    def measured_again(self) -> None:
        """The camera work of the film was measured: judge it."""
        self._measured = None
        self.check_again()

    def _start_check(self) -> None:
        """Compare what was filmed with what was needed, in the background."""
        serial, game, steps, rulebook = self._serial, self.game, self.steps, self.rulebook

        known = self._measured

        def work(progress: Progress) -> tuple[Coverage, tuple[Film, MeasuredFilm | None]]:
            from ..coverage.camera_work import CameraWork
            from ..coverage.checker import check
            from ..coverage.profile import load_profile
            measured = known[1] if known is not None and known[0] == game.film else MeasuredFilm.of(game.film)
            camera_work = CameraWork(game, measured) if measured is not None else None
            coverage = check(game, steps, load_profile(game.heading.profile), rulebook, camera_work)
            if camera_work is not None:     # what screens show of it is made here, not on the UI thread
                camera_work.prepare()
            return coverage, (game.film, measured)

        self._checking = Job("coverage check", work, lambda checked: self._take_coverage(serial, *checked),
                             lambda why: self._check_failed(serial, why), parent=self).start()

    def _is_outdated(self, serial: int) -> bool:
        """Whether a check that has ended is of no use; if the game has changed meanwhile, the next is due."""
        self._checking = None
        if not self.closed and serial != self._serial:
            self._check_soon.start()
        return self.closed or serial != self._serial

    def _take_coverage(self, serial: int, coverage: Coverage, measured: tuple[Film, MeasuredFilm | None]) -> None:
        if serial == self._serial:
            self._measured = measured
        if not self._is_outdated(serial):
            self.coverage = coverage
            self.derived_changed.emit()

    def _check_failed(self, serial: int, why: str) -> None:
        if not self._is_outdated(serial):
            self.failed.emit(f"The coverage could not be checked: {why}", "Tagging goes on; the findings are old.")

    # -- the staff's own words -----------------------------------------------------------------
    @property
    def vocabulary(self) -> Vocabulary:
        """The words of the game, or the staff's own while it has none; what is wrong with those is said once."""
        kept = self.game.vocabulary
        if kept != Vocabulary():
            return kept
        if self._vocabulary is None:
            try:
                self._vocabulary = load_vocabulary()
            except VocabularyError as error:
                self._vocabulary = Vocabulary("none could be read")
                self.failed.emit(f"The own words cannot be used: {error}",
                                 "Mend the file; tagging goes on without them.")
        return self._vocabulary

    @property
    def words(self) -> tuple[Words, ...]:
        """What is known of each play in the staff's own words, in game order."""
        game = self.game
        if self._words_of is None or self._words_of[0] is not self.steps or self._words_of[1] is not game.plays \
                or self._words_of[2] is not game.vocabulary:
            self._words_of = self.steps, game.plays, game.vocabulary, known_words(game, self.steps)
        return self._words_of[3]

    @property
    def situation(self) -> Situation:
        """The situation after the last play."""
        return self.steps[-1].after if self.steps else Situation()

    def position_of(self, play_id: int) -> int:
        """Index of a play in game order; KeyError if there is none."""
        return self._positions[play_id]

    def step_of(self, play_id: int) -> Step:
        """Return the step of the play with this id; raise KeyError if there is none."""
        return self.steps[self._positions[play_id]]

    def play_tag(self, play_id: int) -> PlayTag:
        """Return the play with this id as tagged; raise KeyError if there is none."""
        return self.game.plays[self._positions[play_id]]

    def situation_before(self, position: int) -> Situation:
        """The situation before the play at *position*; at the end, the one that a new play would meet."""
        return self.steps[position].before if position < len(self.steps) else self.situation

    def shot(self, shot_id: int | None) -> Shot | None:
        """Return the shot with this id, None if there is none."""
        return None if shot_id is None else self._shots.get(shot_id)

    def shot_at(self, instant: Instant | None) -> Shot | None:
        """The shot that a moment lies in, or None."""
        if instant is None or not self._shot_starts:
            return None
        time = self.film.time_of(instant)
        position = bisect_right(self._shot_starts, time) - 1
        if position < 0:
            return None
        shot = self.game.shots[position]
        return shot if time < self.film.time_of(shot.end) else None

    # -- where we are -------------------------------------------------------------------------
    @property
    def position(self) -> Instant | None:
        """The instant of the frame that is shown, None before the first."""
        return self.player.position

    @property
    def known_position(self) -> Instant | None:
        """The position, None while the picture on show is not the one that is meant, and without a film."""
        return self.position if self.player.is_placed else None

    def position_to_mark(self) -> Instant | None:
        """The position for what is to be kept there; None, and a notice, while it is not known, and without a film."""
        if self.position is not None and self.known_position is None:
            self.notice.emit("Nothing was kept: the picture is still coming. Press the key again when it is there.")
            return None
        return self.position

    @property
    def time(self) -> Fraction:
        """The playhead in seconds of film."""
        return self.player.time

    @property
    def playing(self) -> bool:
        """Whether the film plays."""
        return self.player.playing

    @property
    def rate(self) -> float:
        """The speed, as a multiple of real time."""
        return self.player.rate

    def seek(self, instant: Instant) -> None:
        """Go to this instant."""
        self.player.seek(instant)

    def seek_time(self, seconds: Fraction | float) -> None:
        """Go to this time, in seconds of film; below 0 is the beginning."""
        if self.film.sources:
            self.player.seek(self.film.instant_at(max(Fraction(seconds), Fraction(0))))

    def step(self, frames: int) -> None:
        """Go this number of frames on, or back if negative."""
        self.player.step(frames)

    def play(self) -> None:
        """Start playing."""
        self.player.play()

    def pause(self) -> None:
        """Stop playing and keep the place."""
        self.player.pause()

    def toggle(self) -> None:
        """Pause if the film plays, else play."""
        self.player.toggle()

    def play_span(self, start: Instant, end: Instant, loop: bool = False) -> None:
        """Play from start to end, again and again if `loop` is set."""
        self.player.play_span(start, end, loop)

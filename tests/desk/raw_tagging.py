"""Tags the demo's raw film in the whole window, key by key, as a coordinator would who knows what happens, and counts.

What counts: every key from the new game's form on, but the names of the teams: marks, moves, the line, Enter, and what
mends a suggestion that is wrong. Moments are marked while the film plays, so that watching is in it wherever something
has to be marked by hand. Clocks are left out, as in :mod:`tests.desk.typing_effort`: they are read off the scoreboard.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import replace

from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest

from workstation.football.notation import shortest
from workstation.football.plays import FoulTime, Play
from workstation.football.tracker import track
from workstation.tagging.layout import FilmLayout
from workstation.tagging.model import Game, MomentKind, Shot, ShotKind

NEAR = 0.7          # seconds that a mark may be off


class RawTagger:
    """``wait(condition)`` lets the window run until the condition holds. *truth* is the game as it should come out, on
    the same film."""

    def __init__(self, window, truth: Game, wait: Callable[[Callable[[], bool]], None]):
        self.window, self.truth, self.wait = window, truth, wait
        self.keys: Counter[str] = Counter()
        self._places = FilmLayout(truth)
        self._shots = list(self._places.shots.values())
        self._filming: dict[int, list[Play]] = {}
        at = truth.shots[0].id
        for tag in truth.plays:         # what nobody films comes behind what was filmed before it
            at = tag.shot or at
            self._filming.setdefault(at, []).append(spoken(tag.play))

    # -- keys ---------------------------------------------------------------------------------
    def press(self, id: str) -> None:
        key = QKeySequence(self.window.keys.keys(id)[0])[0]
        QTest.keyClick(self.window.focusWidget() or self.window, key.key(), key.keyboardModifiers())
        self.keys[id] += 1

    def type(self, text: str) -> None:
        QTest.keyClicks(self.window.room.line, text)
        self.keys["line"] += len(text)

    # -- where we are -------------------------------------------------------------------------
    @property
    def session(self):
        return self.window.session

    def number(self) -> int:
        """The index of the shot that the film stands in."""
        return self.session.game.shots.index(self.session.shot_at(self.session.position))

    def settle(self) -> None:
        self.wait(lambda: not self.session.player.waiting and self.session.player.is_placed)

    # -- tagging ------------------------------------------------------------------------------
    def tag_all(self) -> None:
        """From the shots as they were found to the end of the film."""
        self.press("tag.take")
        self.wait(lambda: bool(self.session.game.shots))
        looked: set[int] = set()        # extra shots whose moments were marked
        while True:
            self.settle()
            number = self.number()
            for extra in range(len(looked), number):
                self._visit(extra, looked)
            self._tag_shot(number)
            looked.update(range(number + 1))
            if number + 1 == len(self.session.game.shots) or self.number() == number:
                for extra in range(number + 1, len(self.session.game.shots)):
                    self._visit(extra, looked)
                return

    def _tag_shot(self, number: int) -> None:
        plays = self._filming.get(self._shots[number].shot.id, ())
        if plays and self._is_as_suggested(number):
            self._say(plays[0], "tag.take")
            self._watch_showing()
            for play in plays[1:]:
                self._say(play, "tag.commit")
            return
        self.press("tag.take")
        self._watch_showing()
        here, wanted = self.session.game.shots[number], self._shots[number].shot
        if wanted.kind is ShotKind.PLAY and wanted.opens_on and here.opens_on is not wanted.opens_on:
            self.press(f"tag.shot.{wanted.opens_on.value.replace(' ', '_')}")
        plays = self._filming.get(wanted.id, ())
        if not plays and self.session.game.shots[number].kind is not wanted.kind:
            self.press(f"tag.shot.{wanted.kind.value.replace(' ', '_')}")
        self._mark_missing(number)
        if not plays:
            self.press("tag.commit")
        for play in plays:
            self._say(play, "tag.commit")

    def _say(self, play: Play, by: str) -> None:
        """Type a play and keep it *by* a key, twice where the rules have something against it."""
        count = len(self.session.game.plays)
        self.type(shortest(play, self.window.room.before(), self.session.rulebook))
        while len(self.session.game.plays) == count:
            self.press(by)

    def _is_as_suggested(self, number: int) -> bool:
        """With what is suggested for it the shot and its moments are as they should be."""
        game, wanted = self.session.game, self._shots[number]
        offer = self.window.room.suggestions.found.offer(game, game.shots[number])
        if offer is None or wanted.shot.opens_on is not None:
            return False
        film = self.session.film
        offered = [(part.kind, float(film.time_of(part.at))) for part in offer.parts]
        return all(any(kind is each and abs(at - time) <= NEAR for each, at in offered)
                   for time, kind in self._missing(number))

    def _watch_showing(self) -> None:
        """While what was taken is shown: an extra shot that was told to be something else is called by its name."""
        taking = self.window.room.taking
        while taking.is_showing:
            self.settle()
            number = self.number()
            wanted, here = self._shots[number].shot, self.session.game.shots[number]
            if here.kind is not None and here.kind is not wanted.kind and here.kind is not ShotKind.PLAY:
                self.press(f"tag.shot.{wanted.kind.value.replace(' ', '_')}")
            at = self.session.position
            self.wait(lambda at=at: not taking.is_showing or self.session.position != at)
        self.settle()

    def _visit(self, number: int, looked: set[int]) -> None:
        """Go back to an extra shot for moments in it, and on again."""
        looked.add(number)
        steps = self.number() - number
        if not self._missing(number) and self.session.game.shots[number].kind is self._shots[number].shot.kind:
            return
        for _ in range(abs(steps)):
            self.press("tag.previous_shot" if steps > 0 else "tag.next_shot")
            self.settle()
        self._mark_missing(number)
        wanted = self._shots[number].shot
        if self.session.game.shots[number].kind is not wanted.kind:
            self.press(f"tag.shot.{wanted.kind.value.replace(' ', '_')}")
        for _ in range(steps):
            self.press("tag.next_shot")
            self.settle()

    def _missing(self, number: int) -> list[tuple[float, MomentKind]]:
        """The moments of a shot that are not marked, or too far off, in film order."""
        now = list(FilmLayout(self.session.game).shots.values())[number]
        wanted = self._shots[number]
        return [(seen.time, seen.kind) for seen in wanted.moments if not any(
            each.kind is seen.kind and abs(each.time - seen.time) <= NEAR for each in now.moments)]

    def _mark_missing(self, number: int) -> None:
        """Play the shot and mark what passes by, if something is missing."""
        missing = self._missing(number)
        if not missing:
            return
        session = self.session
        if number != self.number() or session.time > missing[0][0]:
            self.press("tag.previous_shot")
            self.settle()
        self.press("tag.toggle")
        for time, kind in missing:
            self.wait(lambda time=time: session.player.is_placed and float(session.time) >= time)
            self.press(f"tag.mark.{kind.value.replace(' ', '_')}")
        self.press("tag.toggle")
        self.wait(lambda: not session.playing)
        self.settle()
        if self.number() != number:
            self.press("tag.previous_shot")
            self.settle()

    # -- what came of it ----------------------------------------------------------------------
    def differences(self) -> list[str]:
        """Where the game is not as it should be."""
        game, found = self.session.game, []
        if len(game.shots) != len(self._shots):
            return [f"{len(game.shots)} shots, not {len(self._shots)}"]
        shot_numbers: dict[int | None, int | None] = {shot.id: number for number, shot in enumerate(game.shots)}
        wanted_numbers: dict[int | None, int | None] = {each.shot.id: number for number, each in enumerate(self._shots)}
        for number, (shot, wanted) in enumerate(zip(game.shots, self._shots, strict=True), 1):
            if said(shot) != said(wanted.shot):
                found.append(f"shot {number}: {said(shot)}, not {said(wanted.shot)}")
            found += [f"shot {number}: no {kind.value} at {time - wanted.start:.1f} s"
                      for time, kind in self._missing(number - 1)]
        tagged = [(tag.play, shot_numbers.get(tag.shot)) for tag in game.plays]
        wanted_plays = [(spoken(tag.play), wanted_numbers.get(tag.shot)) for tag in self.truth.plays]
        found += [f"play {number}: {one}, not {other}"
                  for number, (one, other) in enumerate(zip(tagged, wanted_plays, strict=False), 1) if one != other]
        if len(tagged) != len(wanted_plays):
            found.append(f"{len(tagged)} plays, not {len(wanted_plays)}")
        told = track(self.session.rulebook, [tag.play for tag in self.truth.plays])
        for number, (step, wanted_step) in enumerate(zip(self.session.steps, told, strict=False), 1):
            before, wanted_before = (replace(each.before, clock=None) for each in (step, wanted_step))
            if before != wanted_before:
                found.append(f"before play {number}: {before}, not {wanted_before}")
        return found


def spoken(play: Play) -> Play:
    """A play as a coordinator says it: without the clock, and without what goes for a foul of which nothing is said,
    that it was during the down."""
    return replace(play, clock=None, fouls=tuple(
        replace(foul, when=None if foul.when is FoulTime.DURING_DOWN else foul.when) for foul in play.fouls))


def said(shot: Shot) -> tuple[ShotKind | None, ShotKind | None, bool]:
    return shot.kind, shot.opens_on, shot.confirmed

"""Further invented games: the same school against other invented ones, played out by a seed.

Seed 0 is the demo game itself (:mod:`.script`). Any other seed plays a game by chance, one scene for each play and a
scoreboard after each period; the situations are the tracker's. What is said in the staff's own words is drawn with it,
and written out for the demo game.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from functools import lru_cache

from ..football.field import Team
from ..football.plays import Outcome, Play, PlayKind
from ..football.rulebook import Rulebook, load_rulebook
from ..football.situation import Next, Situation
from ..football.step import Step
from ..football.tracker import fold
from ..tagging.model import Framing, Heading, MomentKind, ShotKind
from ..tagging.own_words.definition import Vocabulary, WordSaid
from ..tagging.own_words.files import load_vocabulary
from .script import HEADING, SCENES, Scene, filmed_play, scoreboard, words_of

OPPONENTS = ("Quillhaven", "Tarnhollow", "Brackenmere", "Saltmarsh Quay", "Hollin Edge", "Wendlebury", "Eastfallow")
_PERIOD_SECONDS = 180       # as in the demo game, the fourth period is a minute shorter
_BETWEEN_PLAYS = (14, 27)   # seconds of the clock from snap to snap
_FORMATIONS = {"run": ("I", "pro", "wing", "doubles"), "pass": ("trips", "doubles", "empty", "bunch")}
_CALLS = {"run": ("inside zone", "power", "sweep", "counter"), "pass": ("quick game", "drop back", "screen", "boot")}


@dataclass(frozen=True)
class Script:
    """A game to film: its heading, its scenes in order, and what is said in own words of the plays, by their order."""

    heading: Heading
    scenes: tuple[Scene, ...]
    words: tuple[tuple[WordSaid, ...], ...] = ()
    vocabulary: Vocabulary = field(default_factory=Vocabulary)


@lru_cache(8)
def script_of(seed: int) -> Script:
    """The game of a seed, 0 to 9999. Raises ValueError for another."""
    if not 0 <= seed <= 9999:
        raise ValueError(f"there is no demo game {seed}; choose a seed from 0 to 9999")
    if seed:
        return _Playing(seed).play()
    words = tuple(said for scene in SCENES if scene.play for said in (words_of(scene), *(() for _ in scene.then)))
    return Script(HEADING, SCENES, words, load_vocabulary("default"))


class _Playing:
    """Plays a game out."""

    def __init__(self, seed: int) -> None:
        self._chance = random.Random(seed)
        other = OPPONENTS[seed % len(OPPONENTS)]
        home, visitors = (HEADING.home, other) if seed % 2 else (other, HEADING.home)
        day = date.fromisoformat(HEADING.date) + timedelta(weeks=seed)
        self._heading = replace(HEADING, title=f"{visitors} at {home}", home=home, visitors=visitors,
                                date=day.isoformat(), venue=f"Playing field, {home}")
        self._book: Rulebook = load_rulebook(HEADING.rulebook)
        self._scenes: list[Scene] = []
        self._words: list[tuple[WordSaid, ...]] = []
        self._across = 26.7     # where the ball lies, in yards from the near sideline

    def play(self) -> Script:
        """The whole game."""
        kicks = self._chance.choice(list(Team))
        now = self._folded(Situation(clock=_PERIOD_SECONDS), Play(PlayKind.COIN_TOSS, team=kicks, choice="defer"))
        self._scenes.append(Scene("coin toss", ShotKind.COIN_TOSS, 6.0, Situation(clock=_PERIOD_SECONDS), now.play,
                                  ((MomentKind.SIGNAL, 4.0),), framing=Framing.CLOSE_TO_WIDE))
        self._words.append(())
        after = now.after
        for period in range(1, self._book.periods + 1):
            after = self._period(after.at(_PERIOD_SECONDS - 60 * (period == self._book.periods)))
        over = replace(after, next=Next.OVER, period=self._book.periods, clock=0)      # a draw stands
        self._scenes.append(Scene("handshake", ShotKind.HANDSHAKE, 4.0, over, framing=Framing.CLOSE))
        return Script(self._heading, tuple(self._scenes), tuple(self._words), load_vocabulary("default"))

    def _folded(self, before: Situation, play: Play) -> Step:
        return fold(self._book, before, play)

    def _period(self, now: Situation) -> Situation:
        clock = now.clock or 0
        while True:
            now = now.at(clock)
            chosen, words = self._choose(now, clock)
            step = self._folded(now, chosen)
            clock -= 6 if now.next is Next.TRY else self._chance.randint(*_BETWEEN_PLAYS)
            is_last = clock <= 0 and step.after.next is not Next.TRY
            ends = (Play(PlayKind.END_OF_PERIOD),) if is_last else ()
            self._film(now, chosen, ends)
            self._words += [words, *(() for _ in ends)]
            now = step.after
            if is_last:
                after = self._folded(now, ends[0]).after
                self._scenes.append(scoreboard(f"scoreboard after period {now.period}", now.at(0)))
                return after
            clock = max(clock, 1)

    def _choose(self, now: Situation, clock: int) -> tuple[Play, tuple[WordSaid, ...]]:
        chance, ball_on = self._chance, now.ball_on or 0
        if now.next is Next.KICKOFF:
            caught = chance.randint(85, 96)
            return Play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=caught, spot=caught - chance.randint(8, 24),
                        clock=clock), ()
        if now.next is Next.TRY:
            return Play(PlayKind.TRY_KICK, Outcome.GOOD if chance.random() < 0.85 else Outcome.NO_GOOD, clock=clock), ()
        if now.down == 4:
            if ball_on >= 72:
                good = chance.random() < 0.7
                return Play(PlayKind.FIELD_GOAL, Outcome.GOOD if good else Outcome.NO_GOOD, clock=clock), ()
            if (now.yards_to_gain or 0) > 2 or ball_on < 50:
                return Play(PlayKind.PUNT, Outcome.FAIR_CATCH, kick_to=min(ball_on + chance.randint(30, 42), 92),
                            clock=clock), ()
        return self._run_or_pass(now, clock)

    def _run_or_pass(self, now: Situation, clock: int) -> tuple[Play, tuple[WordSaid, ...]]:
        chance, to_goal = self._chance, 100 - (now.ball_on or 0)
        passes = chance.random() < (0.7 if now.down == 3 and (now.yards_to_gain or 0) > 4 else 0.42)
        sort = "pass" if passes else "run"
        if passes and chance.random() < 0.42:
            play = Play(PlayKind.PASS, Outcome.INCOMPLETE, clock=clock)
        elif passes:
            gain = min(chance.choice((3, 5, 6, 8, 9, 12, 15, 19, 26)), to_goal)
            play = Play(PlayKind.PASS, Outcome.COMPLETE, gain=gain, clock=clock)
        else:
            gain = min(chance.choice((-1, 0, 1, 2, 3, 3, 4, 5, 6, 8, 13)), to_goal)
            play = Play(PlayKind.RUN, gain=gain, clock=clock)
        said = (WordSaid("formation", (chance.choice(_FORMATIONS[sort]),)),
                WordSaid("play call", (chance.choice(_CALLS[sort]),)),
                WordSaid("hash", (chance.choice(("left hash", "middle", "right hash")),)),
                WordSaid("front", (chance.choice(("4-3", "4-4", "3-4")),)))
        return play, said

    def _film(self, now: Situation, play: Play, then: tuple[Play, ...]) -> None:
        to = min(max(self._across + self._chance.uniform(-9, 9), 17.8), 35.5)
        lasts = {PlayKind.KICKOFF: 7.5, PlayKind.PUNT: 5.6, PlayKind.FIELD_GOAL: 4.0, PlayKind.TRY_KICK: 3.4}.get(
            play.kind, 3.8 + max(play.gain or 0, 0) / 9)
        caught = None if play.kind is not PlayKind.PASS else 9.0 if play.gain is None else max(play.gain * 0.6, 1.0)
        name = f"play {len(self._scenes)}"
        self._scenes.append(filmed_play(name, now, play, wide=0.4, snap=1.6, lasts=lasts, hold=1.6, ball_y=self._across,
                                        to_y=to, catch=caught, then=then))
        if now.next is Next.SCRIMMAGE:
            self._across = to

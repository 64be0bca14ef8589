"""Real games as a disciplined crew would film them, and the same films damaged.

Source of the plays: see :mod:`.seasons`. What the crew films is written down here as a mentor says it to a trainee,
without asking the checker: a signal after every flag; the marker after a flag that leaves the series going, when the
ball ends within a yard of the line to gain, and when a period ends in the middle of a series; a pull-out on decisive
downs; the board after every score and at the end of every period; toss, final board and handshake; nothing of timeouts.
Common practice, no source.

``python -m tests.outside.overuse.discipline [games]`` prints what is found on the films and what of each damage.
"""

from __future__ import annotations

import random
import sys
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path

from tests.outside.overuse.seasons import official_steps, real_games
from tests.outside.real_games.games import Game as RealGame
from workstation.coverage.checker import check
from workstation.coverage.finding import Finding
from workstation.coverage.profile import Profile, load_profile
from workstation.film.film import Film, Source
from workstation.film.time import Instant
from workstation.football.plays import IN_PLAY, Outcome, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next
from workstation.football.step import Step
from workstation.tagging.model import Framing, Game, Moment, MomentKind, PlayTag, Shot, ShotKind

_TICKS = 1000
_FILMED = IN_PLAY | {PlayKind.NO_PLAY}


@dataclass
class Piece:
    """A shot to be: ``play`` is the index of the step that it films."""

    kind: ShotKind
    seconds: float
    moments: dict[MomentKind, float] = field(default_factory=dict)
    play: int | None = None
    framing: Framing | None = None
    opens_on: ShotKind | None = None


def wide_play(index: int) -> Piece:
    return Piece(ShotKind.PLAY, 12.0, {MomentKind.FULL_WIDE: 0.5, MomentKind.SNAP: 4.0, MomentKind.DEAD_BALL: 9.0},
                 index, Framing.WIDE)


def pulled_out(index: int) -> Piece:
    return Piece(ShotKind.PLAY, 15.5, {MomentKind.FULL_WIDE: 3.0, MomentKind.SNAP: 7.5, MomentKind.DEAD_BALL: 12.5},
                 index, Framing.CLOSE_TO_WIDE, ShotKind.DOWN_MARKER)


def marker() -> Piece:
    return Piece(ShotKind.DOWN_MARKER, 3.0, framing=Framing.CLOSE)


def board() -> Piece:
    return Piece(ShotKind.SCOREBOARD, 4.0, framing=Framing.CLOSE)


def signal() -> Piece:
    return Piece(ShotKind.PENALTY_SIGNAL, 4.0, {MomentKind.SIGNAL: 1.0})


def disciplined(steps: list[Step], profile: Profile, periods: int = 4) -> list[Piece]:
    """The film of a crew that does everything a mentor asks and nothing else."""
    pieces = [Piece(ShotKind.COIN_TOSS, 25.0)]
    scored = period_over = flagged = near = False
    previous: Step | None = None
    for index, step in enumerate(steps):
        if step.play.kind is PlayKind.END_OF_PERIOD:
            period_over = True
            continue
        if step.play.kind not in _FILMED:
            continue
        before = step.before
        if period_over:
            pieces.append(board())
            scored = False
        if scored and before.next is not Next.TRY:
            pieces.append(board())
            scored = False
        decisive = profile.decisive.holds(step, 4, periods)
        in_series = before.next is Next.SCRIMMAGE and previous is not None and previous.before.next is Next.SCRIMMAGE
        same = in_series and previous is not None and previous.before.offense is before.offense
        wanted = same and (flagged or near or (period_over and before.down != 1))
        if wanted and not decisive:
            pieces.append(marker())
        pieces.append(pulled_out(index) if decisive else wide_play(index))
        flagged, near, period_over = bool(step.play.fouls), _near(step), False
        if step.play.fouls:
            pieces.append(signal())
        scored |= bool(step.points_home or step.points_visitors)
        if step.play.kind in IN_PLAY:
            previous = step
    pieces += [board(), Piece(ShotKind.HANDSHAKE, 30.0, {MomentKind.FULL_WIDE: 15.0}, framing=Framing.CLOSE_TO_WIDE)]
    return pieces


def _near(step: Step) -> bool:
    """The ball ended within a yard of the line to gain, as far as whole yards tell."""
    before = step.before
    if before.next is not Next.SCRIMMAGE or before.yards_to_gain is None or before.goal_to_go:
        return False
    end = step.dead_ball_on if step.dead_ball_on is not None else step.after.ball_on
    if end is None or before.ball_on is None or end == before.ball_on or step.play.outcome is Outcome.INCOMPLETE:
        return False                    # nothing was gained, and everybody saw it
    return abs(before.yards_to_gain - (end - before.ball_on)) <= 1.0


def shot_game(pieces: Iterable[Piece], steps: list[Step]) -> Game:
    shots: list[Shot] = []
    moments: list[Moment] = []
    filmed: dict[int, int] = {}
    now = 0.0

    def at(seconds: float) -> Instant:
        return Instant("film", round(seconds * _TICKS))

    for piece in pieces:
        shots.append(Shot(len(shots) + 1, at(now), at(now + piece.seconds), piece.kind, piece.opens_on, piece.framing))
        moments += [Moment(0, kind, at(now + seconds)) for kind, seconds in piece.moments.items()]
        if piece.play is not None:
            filmed[piece.play] = len(shots)
        now += piece.seconds
    moments = [replace(moment, id=number) for number, moment in
               enumerate(sorted(moments, key=lambda each: each.at.pts), 1)]
    tags = tuple(PlayTag(number, float(number), step.play, filmed.get(number - 1))
                 for number, step in enumerate(steps, 1))
    source = Source("film", Path("film.mp4"), 1, "", Fraction(1, _TICKS), 0, round(now * _TICKS), Fraction(30), 1280,
                    720)
    return Game(film=Film((source,)), shots=tuple(shots), moments=tuple(moments), plays=tags)


# -- damage ----------------------------------------------------------------------------------------

Damage = Callable[[list[Piece], list[Step], random.Random], tuple[list[Piece], list[int]]]
"""Returns the damaged film and the plays (indexes of steps) at which a finding is due."""
OFTEN = 12


def _after(pieces: list[Piece], place: int) -> int | None:
    return next((piece.play for piece in pieces[place + 1:] if piece.play is not None), None)


def _before(pieces: list[Piece], place: int) -> int | None:
    return next((piece.play for piece in reversed(pieces[:place]) if piece.play is not None), None)


def drop(kind: ShotKind) -> Damage:
    def damage(pieces: list[Piece], steps: list[Step], chance: random.Random) -> tuple[list[Piece], list[int]]:
        places = [place for place, piece in enumerate(pieces) if piece.kind is kind
                  and _after(pieces, place) is not None
                  and (kind is not ShotKind.DOWN_MARKER or _insisted(pieces, place, steps))]
        gone = set(chance.sample(places, min(OFTEN, len(places))))
        if kind is ShotKind.SCOREBOARD:     # a board a play later tells two scores
            gone = {place for place in gone if not any(abs(place - other) < 8 for other in places if other != place)}
        about = [_told_at(kind, pieces, place, steps) for place in gone]
        return [piece for place, piece in enumerate(pieces)
                if place not in gone], [play for play in about if play is not None]
    return damage


def _told_at(kind: ShotKind, pieces: list[Piece], place: int, steps: list[Step]) -> int | None:
    """The play that the finding is about: for a marker, and the board of a period, the one after."""
    last, after = _before(pieces, place), _after(pieces, place)
    if kind is ShotKind.DOWN_MARKER:
        return after
    if kind is ShotKind.SCOREBOARD and last is not None and after is not None and (
            steps[last].before.period != steps[after].before.period):
        return after
    return last


def _insisted(pieces: list[Piece], place: int, steps: list[Step]) -> bool:
    """A marker that a mentor insists on, not one that is merely welcome: the ball ended on the line to gain or a yard
    short of it, a flag during an early down left the down to be played again, or a period ended in the middle of a
    series; and no kicking team lines up, which would tell the down."""
    last, after = _before(pieces, place), _after(pieces, place)
    if last is None or after is None:
        return False
    step, following = steps[last], steps[after]
    if following.play.kind in (PlayKind.PUNT, PlayKind.FIELD_GOAL, PlayKind.NO_PLAY) or step.before.down is None:
        return False
    if step.play.fouls:
        repeated = following.before.down == step.before.down in (1, 2) and not step.first_down
        return repeated and step.play.kind is not PlayKind.NO_PLAY
    if following.before.period != step.before.period:
        return (following.before.down or 1) > 1
    end = step.dead_ball_on if step.dead_ball_on is not None else step.after.ball_on
    if end is None or step.before.ball_on is None or step.before.yards_to_gain is None:
        return False
    if step.play.outcome is Outcome.INCOMPLETE or end == step.before.ball_on:
        return False                    # nothing was gained, and everybody saw it
    return 0 <= step.before.yards_to_gain - (end - step.before.ball_on) <= 1.0


def _obvious(pieces: list[Piece], steps: list[Step]) -> list[int]:
    """Places of plays whose down everybody knows: an early down after a plain play, or a first down after a kick."""
    found = []
    for place, piece in enumerate(pieces):
        if piece.play is None or piece.opens_on or place == 0 or pieces[place - 1].kind is not ShotKind.PLAY:
            continue
        last, now = pieces[place - 1].play, steps[piece.play].before
        if (last is None or now.next is not Next.SCRIMMAGE
                or steps[piece.play].play.kind not in (PlayKind.RUN, PlayKind.PASS)):
            continue
        before = steps[last]
        if before.play.fouls or piece.play - last > 1:
            continue
        after_kick = before.before.next is Next.KICKOFF or before.play.kind is PlayKind.PUNT
        plain = before.before.next is Next.SCRIMMAGE and before.before.down == 1 and now.down == 2 and (
            now.yards_to_gain or 0) >= 4
        if after_kick or plain:
            found.append(place)
    return found


def overuse(pieces: list[Piece], steps: list[Step], chance: random.Random) -> tuple[list[Piece], list[int]]:
    places = _obvious(pieces, steps)
    chosen = set(chance.sample(places, min(OFTEN, len(places))))
    damaged = []
    for place, piece in enumerate(pieces):
        damaged += [marker(), piece] if place in chosen else [piece]
    return damaged, [pieces[place].play or 0 for place in chosen]


def overuse_in_the_shot(pieces: list[Piece], steps: list[Step], chance: random.Random) -> tuple[list[Piece], list[int]]:
    places = _obvious(pieces, steps)
    chosen = set(chance.sample(places, min(OFTEN, len(places))))
    return [pulled_out(piece.play) if place in chosen and piece.play is not None else piece
            for place, piece in enumerate(pieces)], [pieces[place].play or 0 for place in chosen]


def change(how: Callable[[Piece], Piece]) -> Damage:
    def damage(pieces: list[Piece], steps: list[Step], chance: random.Random) -> tuple[list[Piece], list[int]]:
        places = [place for place, piece in enumerate(pieces) if piece.play is not None and piece.opens_on is None
                  and steps[piece.play].play.kind in IN_PLAY]
        chosen = set(chance.sample(places, min(OFTEN, len(places))))
        return [how(piece) if place in chosen else piece for place, piece in enumerate(pieces)], [
            pieces[place].play or 0 for place in chosen]
    return damage


def _cut_early(piece: Piece) -> Piece:
    return replace(piece, seconds=piece.moments[MomentKind.DEAD_BALL] + 0.6)


def _snap_missed(piece: Piece) -> Piece:
    return replace(piece, seconds=6.0, moments={MomentKind.SNAP_NOT_ON_FILM: 0.0, MomentKind.DEAD_BALL: 3.0})


def _cut_live(piece: Piece) -> Piece:
    return replace(piece, seconds=7.0, moments={MomentKind.FULL_WIDE: 0.5, MomentKind.SNAP: 4.0,
                                                MomentKind.CUT_WHILE_LIVE: 6.9})


def _late(piece: Piece) -> Piece:
    return replace(piece, moments=piece.moments | {MomentKind.FULL_WIDE: 3.2}, framing=None)


def _waits(piece: Piece) -> Piece:
    return replace(piece, seconds=piece.seconds + 30,
                   moments={kind: at + (30 if kind is not MomentKind.FULL_WIDE else 0)
                                                               for kind, at in piece.moments.items()})


def _lingers(piece: Piece) -> Piece:
    return replace(piece, seconds=piece.seconds + 25)


DAMAGES: dict[str, tuple[str, Damage]] = {
    "marker dropped": ("marker shot expected", drop(ShotKind.DOWN_MARKER)),
    "signal dropped": ("penalty signal expected", drop(ShotKind.PENALTY_SIGNAL)),
    "board dropped": ("scoreboard expected", drop(ShotKind.SCOREBOARD)),
    "marker too many": ("marker shot not needed", overuse),
    "opening on the marker too many": ("marker shot not needed", overuse_in_the_shot),
    "cut early": ("longer hold expected", change(_cut_early)),
    "cut while live": ("cut while live", change(_cut_live)),
    "snap missed": ("snap not on film", change(_snap_missed)),
    "wide too late": ("ready before the snap", change(_late)),
    "waiting before the snap": ("dead footage", change(_waits)),
    "lingering after the play": ("dead footage", change(_lingers)),
}


@dataclass
class Examined:
    """What came of some games: false findings per disciplined film, and per damage how many were due and came, and
    how many other findings came with it."""

    false: list[list[Finding]] = field(default_factory=list)
    due: Counter[str] = field(default_factory=Counter)
    came: Counter[str] = field(default_factory=Counter)
    extra: dict[str, list[int]] = field(default_factory=lambda: defaultdict(list))
    extras: list[str] = field(default_factory=list)


def examine(games: Iterable[RealGame], seed: int = 16) -> Examined:
    profile, outcome = load_profile(folders=()), Examined()
    for game in games:
        chance = random.Random(seed)
        steps, rulebook = official_steps(game), load_rulebook("professional", game.season)

        def findings(pieces: list[Piece], steps: list[Step] = steps, rulebook=rulebook) -> list[Finding]:
            return list(check(shot_game(pieces, steps), steps, profile, rulebook).findings)

        pieces = disciplined(steps, profile)
        plain = findings(pieces)
        outcome.false.append(plain)
        known = {finding.key.split("/")[0] + str(finding.play) for finding in plain}
        for name, (rule, damage) in DAMAGES.items():
            damaged, about = damage(pieces, steps, chance)
            found = findings(damaged)
            ids = {index + 1 for index in about}
            hit = {finding.play for finding in found if finding.rule == rule}
            outcome.due[name] += len(ids)
            outcome.came[name] += len(ids & hit)
            others = [finding for finding in found if not (finding.rule == rule and finding.play in ids)
                      and finding.key.split("/")[0] + str(finding.play) not in known]
            outcome.extra[name].append(len(others))
            outcome.extras += [f"{name}: {finding.title}" for finding in others]
    return outcome


def report(outcome: Examined) -> str:
    lines = [f"{len(outcome.false)} disciplined films: false findings {[len(found) for found in outcome.false]}"]
    lines += [f"  {finding.rule}: {finding.title}" for found in outcome.false for finding in found]
    for name in DAMAGES:
        share = outcome.came[name] / outcome.due[name] if outcome.due[name] else float("nan")
        lines.append(f"{name:32} {outcome.came[name]:4} of {outcome.due[name]:4} ({share:.1%}), others per film "
                     f"{outcome.extra[name]}")
    return "\n".join(lines)


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 6
    games = (list(real_games(2009, 2019, every=480))[:count] if count <= 6
             else list(real_games(2009, 2019, every=2800 // count)))
    found = examine(games)
    print(report(found))
    print("\n".join(f"  {line}" for line in found.extras[:60]))

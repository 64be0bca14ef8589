"""Small invented games for the tests of a season."""

from __future__ import annotations

from pathlib import Path

from workstation.football.field import Team
from workstation.football.plays import BallEvent, EventKind, Foul, FoulDecision, FoulTime, Outcome, Play, PlayKind, Side
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, Heading, PlayTag

RUN, PASS = PlayKind.RUN, PlayKind.PASS
HOLDING = Foul("holding", Side.OFFENSE, spot=30, when=FoulTime.DURING_DOWN, decision=FoulDecision.ACCEPTED)


def opening(kicks: Team = Team.HOME) -> list[Play]:
    """A toss and a kickoff that the other team returns to its own 30."""
    return [Play(PlayKind.COIN_TOSS, team=kicks, choice="defer"),
            Play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70, clock=720)]


DRIVE = [
    Play(RUN, gain=4, clock=700),                                   # 1st & 10, own 30: success (40 % is 4)
    Play(PASS, Outcome.INCOMPLETE, clock=660),                      # 2nd & 6
    Play(PASS, Outcome.COMPLETE, gain=7, clock=650),                # 3rd & 6: made
    Play(RUN, gain=3, clock=610),                                   # 1st & 10, own 41: no success
    Play(PlayKind.SACK, gain=-5, clock=580),                        # 2nd & 7
    Play(PASS, Outcome.COMPLETE, gain=9, clock=540),                # 3rd & 12: not made
    Play(PlayKind.PUNT, Outcome.FAIR_CATCH, kick_to=85, clock=500),
]


def game(plays=None, home: str = "Harbor", visitors: str = "Summit", date: str = "2026-09-04", **heading) -> Game:
    """A tagged game without film."""
    plays = [*opening(), *(DRIVE if plays is None else plays)]
    return Game(Heading(f"{visitors} at {home}", home, visitors, date, **heading),
                plays=tuple(PlayTag(number, float(number), play) for number, play in enumerate(plays, 1)))


def write(folder: Path, name: str, made: Game | None = None) -> Path:
    """A game file."""
    path = folder / f"{name}.game"
    path.parent.mkdir(parents=True, exist_ok=True)
    GameFile.create(path, game=made or game()).close()
    return path


FUMBLE_LOST = Play(RUN, gain=6, events=(BallEvent(EventKind.FUMBLE, 36, Side.OFFENSE),
                                        BallEvent(EventKind.RECOVERY, 34, Side.DEFENSE)), clock=690)

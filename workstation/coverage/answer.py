"""The answers that practice offers to the question: what do you film now?"""

from enum import StrEnum


class PracticeAnswer(StrEnum):
    """What a trainee would film in a gap."""

    NOTHING = "nothing"
    MARKER = "down marker"
    BOARD = "scoreboard"
    SIGNAL = "penalty signal"
    MEASUREMENT = "measurement"
    LONGER_HOLD = "longer hold"
    PULL_OUT = "pull-out"
    ALTERCATION = "altercation"
    COIN_TOSS = "coin toss"
    CLOSING = "board and handshake"

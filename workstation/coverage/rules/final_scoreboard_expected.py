"""The film closes on the board: final score, clock at zero."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ...tagging.model import ShotKind
from ..finding import Delivered, Finding, Severity
from ..rule import Rule
from ..screening import Screening


@dataclass(frozen=True, kw_only=True)
class FinalScoreboardExpected(Rule):
    title = "Final scoreboard expected"
    label = "final scoreboard"
    reason = ("The board with the final score and the clock at zero tells every viewer that the game is over and how "
              "it ended. A film that simply stops after a play leaves them waiting for the next one.")

    def judge(self, screening: Screening) -> Iterator[Finding | Delivered]:
        footage = screening.footage
        if not footage.complete:
            return
        last, closing = footage.filmed[-1], footage.after.takes
        period = last.step.before.period
        board = next((take for take in closing if take.shows_score), None)
        if board is None and last.take.shows_score and last.take.shows_clock:
            board = last.take               # the last play's shot went on to the board
        handshake = next((take for take in closing if take.holds(ShotKind.HANDSHAKE)), None)
        if board and handshake and handshake.index < board.index and not handshake.shows_score:
            yield self.finding(
                screening, "film", handshake.shot.start, severity=Severity.NOTE,
                title="Final scoreboard expected before the handshake",
                why="Board first, then the handshake: the score answers the question everybody has at that moment, and "
                    "the operator of the board may clear it while the teams shake hands.",
                habit="At the end film the board first, then the handshake.",
                evidence=("The board is filmed after the handshake.",), shot=board.shot.id, period=period, strength=0.3)
        elif board:
            yield self.delivered(period=period, shot=board.shot.id)
        elif closing:
            yield self.finding(
                screening, "film", handshake.shot.start if handshake else closing[0].shot.start,
                title="Final scoreboard expected",
                why="The film closes without the board, so a viewer does not learn the final score. Film it with the "
                    "clock at zero, before the handshake.",
                habit="Close on the scoreboard with the final score and the clock at zero.",
                evidence=("No shot after the last play shows the score.",), period=period, strength=0.8)
        else:
            yield self.finding(
                screening, "film", last.take.shot.end, severity=Severity.ERROR,
                title="The film ends on an ordinary play",
                why="After the last play the film simply stops. A viewer does not know that the game is over, let alone "
                    "how it ended. Keep your place: the board with the final score and the clock at zero, then the "
                    "handshake.",
                habit="Close on the scoreboard with the final score and the clock at zero.",
                evidence=("The last shot of the film is a play.",), play=last.tag.id, shot=last.tag.shot, period=period,
                strength=1.0)

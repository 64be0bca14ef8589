"""The film closes on the board: final score, clock at zero. The handshake closes it too; both are better."""

from __future__ import annotations

from collections.abc import Iterator

from ...tagging.model import ShotKind
from ..finding import Severity
from ..rule import Judged, Rule
from ..screening import Screening


class FinalScoreboardExpected(Rule):
    """The film ends without the final score."""

    title = "Final scoreboard expected"
    label = "final scoreboard"
    reason = ("The board with the final score and the clock at zero tells every viewer that the game is over and how "
              "it ended. A film that simply stops after a play leaves them waiting for the next one.")
    habit = "Close on the scoreboard with the final score and the clock at zero."

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding or a delivery for the last scoreboard of a film tagged to its end."""
        footage = screening.footage
        if not footage.complete:
            return
        last, closing = footage.filmed[-1], footage.after.takes
        period = last.step.before.period
        board = next((take for take in closing if take.shows_score), None)
        if board is None and last.take.shows_score and last.take.shows_clock:
            board = last.take               # the last play's shot went on to the board
        handshake = next((take for take in closing if take.holds(ShotKind.HANDSHAKE)), None)
        if board:
            yield self.delivered(period=period, shot=board.shot.id)
        elif handshake:
            yield self.finding(
                screening, "film", handshake.shot.start, severity=Severity.NOTE, title="Final scoreboard expected",
                why="The handshake says that the game is over, and nothing says how it ended. Film the board with the "
                    "clock at zero, too.",
                evidence=("No shot after the last play shows the score.",), period=period, strength=0.4)
        else:
            ends = closing[0].shot.start if closing else last.take.shot.end
            yield self.finding(
                screening, "film", ends, title="The film just stops",
                why="Neither the board nor the handshake closes the film. A viewer does not know that the game is "
                    "over, let alone how it ended. Keep your place: the board with the final score and the clock at "
                    "zero, then the handshake.",
                evidence=("No shot after the last play shows the score or the handshake.",),
                play=last.tag.id, shot=None if closing else last.tag.shot, period=period, strength=1.0)

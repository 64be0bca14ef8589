"""The film ends with the handshake, eased out from close to wide, and a few seconds of hold."""

from __future__ import annotations

from collections.abc import Iterator

from ...tagging.model import Framing, MomentKind, ShotKind
from ..finding import Severity
from ..footage import Where
from ..rule import EPSILON, Judged, Rule
from ..screening import Screening
from ..speaking import spoken_seconds


class HandshakeExpected(Rule):
    """``hold``: seconds that the shot is wide before it ends; ``required``: the board alone does not close the film."""

    title = "Handshake expected"
    label = "handshake"
    reason = ("The handshake is the last shot of a game. Begin close, ease out to wide, and hold for a few seconds: it "
              "closes the film the way an evening at the field closes, and says that the game is over.")
    habit = "Ease the handshake out from close to wide, and hold."

    hold: float
    required: bool

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding or a delivery for the handshake of a film tagged to its end."""
        footage = screening.footage
        if not footage.complete:
            return
        period, closing = footage.filmed[-1].step.before.period, footage.after.takes
        shaken = [take for take in closing if take.holds(ShotKind.HANDSHAKE)]
        if not shaken:
            last = footage.takes[-1]
            if not self.required and not any(take.shows_score for take in (footage.filmed[-1].take, *closing)):
                return                  # neither of the two: reported once, by the final scoreboard's rule
            yield self.finding(
                screening, "film", last.shot.end, severity=None if self.required else Severity.NOTE,
                title="Handshake expected as the last shot",
                why="The film ends without the handshake. After the board, find the teams as they meet, begin close "
                    "and ease out.",
                habit="Stay until the handshake; it is the last shot.",
                evidence=("No handshake after the last play.",), strength=0.7, period=period)
            return
        take = shaken[-1]
        where: Where = {"period": period, "shot": take.shot.id}
        right, wide = True, take.first(MomentKind.FULL_WIDE)
        if take.shot.framing in (Framing.CLOSE, Framing.WIDE):
            right = False
            stays = "stays close and is never eased out to wide" if take.shot.framing is Framing.CLOSE else (
                "is wide from its first picture")
            yield self.finding(
                screening, f"shot {take.shot.id}/framing", take.shot.start, severity=Severity.NOTE,
                title="Handshake expected to ease out from close to wide",
                why=f"The handshake {stays}. Begin on a few hands and faces, then ease out until both lines are in the "
                    "picture: that is the film's closing picture.",
                evidence=(f"Tagged framing: {take.shot.framing}.",), strength=0.5, **where)
        elif wide and take.end - wide.time < self.hold - EPSILON:
            right = False
            yield self.finding(
                screening, f"shot {take.shot.id}/hold", take.shot.end, severity=Severity.NOTE,
                title="Handshake expected to hold at the end",
                why=f"The shot ends {spoken_seconds(take.end - wide.time)} after it is wide; give the closing picture "
                    f"{spoken_seconds(self.hold)}.",
                evidence=(f"Wide for {spoken_seconds(take.end - wide.time)}.",), strength=0.4, **where)
        if take is not closing[-1] and not all(
                later.shows_score or later.holds(ShotKind.ALTERCATION) for later in closing[closing.index(take) + 1:]):
            right = False
            yield self.finding(
                screening, f"shot {take.shot.id}/last", take.shot.end, severity=Severity.NOTE,
                title="Handshake expected as the last shot",
                why="Other shots follow the handshake. It says that the game is over; nothing should come after it.",
                habit="Let the handshake be the last shot.",
                evidence=(f"{len(closing) - 1 - closing.index(take)} more after it.",), strength=0.3, **where)
        if right:
            yield self.delivered(**where)

"""The coin toss is the very first shot."""

from __future__ import annotations

from collections.abc import Iterator

from ...tagging.model import ShotKind
from ..footage import UNSHOT
from ..rule import Judged, Rule
from ..screening import Screening


class CoinTossExpected(Rule):
    """The coin toss is not at the start of the film."""

    title = "Coin toss expected"
    label = "coin toss"
    reason = ("The coin toss opens the film: it says who is playing, who receives and who chose what for the second "
              "half. It is over before anybody thinks of filming, and easy to drop. Turn this off for a coach who does "
              "not want it.")

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding or a delivery for the coin toss, nothing if the opening is not tagged."""
        takes = screening.footage.takes
        if not screening.footage.filmed or not takes[0].tagged or takes[0].start > UNSHOT:
            return
        while len(takes) > 1 and takes[0].holds(ShotKind.ALTERCATION):
            takes = takes[1:]           # an altercation is filmed whenever it happens
        if takes[0].holds(ShotKind.COIN_TOSS):
            yield self.delivered(shot=takes[0].shot.id)
            return
        late = next((take for take in takes if take.holds(ShotKind.COIN_TOSS)), None)
        yield self.finding(
            screening, "film", takes[0].shot.start, title="Coin toss expected as the first shot",
            why="The coin toss is on film, but other shots come before it; it is what a game opens on." if late else
                "The film begins without the coin toss, so a viewer does not learn who chose what. Be rolling "
                "before the captains meet.",
            habit="Be ready early: the coin toss is the first shot of the game.",
            evidence=("A coin toss shot comes later in the film." if late
                      else "No shot of the coin toss on the film.",),
            shot=late.shot.id if late else None, strength=0.4 if late else 0.7)

"""The rule of one foul: what it costs, from where, and what it does to the down."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from .plays import FoulTime, Side


class Enforcement(StrEnum):
    """The spot a penalty is measured from, before the general exceptions of the code."""

    PREVIOUS_SPOT = "previous spot"
    SPOT_OF_FOUL = "spot of foul"
    BASIC_SPOT = "basic spot"            # previous spot or end of run; spot of foul for the offense behind it
    SUCCEEDING_SPOT = "succeeding spot"  # where the ball would next be put in play
    END_OF_LAST_RUN = "end of last run"  # if beyond the line and the ball was kept, else the previous spot


class PersonalFoul(StrEnum):
    """How a foul counts where personal and conduct fouls are treated apart."""

    NO = "no"
    PERSONAL = "personal"
    CONDUCT = "conduct"


class Act(StrEnum):
    """What sort of act a foul is, where that tells in which run it was committed."""

    OTHER = "other"
    TACKLE = "tackle"    # on the runner: a face mask, a horse collar
    BLOCK = "block"      # by the team whose runner it helps: a clip, a block in the back
    PASS = "pass"        # an illegal forward pass
    LOOSE_BALL = "loose ball"    # bats, kicks or touches a ball that nobody holds
    WEDGE = "wedge"      # of the receivers of a free kick; none where it is not returned


@dataclass(frozen=True, slots=True)
class FoulRule:
    """One foul of one rulebook.

    ``by`` is None where either team can commit it. ``when`` is the usual moment; before the snap
    the ball stays dead. ``automatic_first_down`` only counts against the defense.
    ``most_yards`` caps a penalty at the spot of the foul, measured from the previous spot;
    ``or_spot_of_foul`` takes the spot of the foul where that is worse for the offender.
    ``while_live`` is the enforcement if a player commits it while the ball is alive and its spot was said;
    None: as always. ``on_pass`` is the enforcement during a pass, where it also gives a first down; None: as always.
    ``on_free_kick`` is the enforcement during a free kick; None: as always.
    ``rule`` is the article that forbids it, ``penalty_rule`` the one that states what it costs,
    ``spot_rule`` the one that gives the enforcement spot.
    """

    name: str
    by: Side | None
    yards: float
    enforcement: Enforcement
    rule: str
    penalty_rule: str
    spot_rule: str
    when: FoulTime = FoulTime.DURING_DOWN
    loss_of_down: bool = False
    automatic_first_down: bool = False
    most_yards: float | None = None
    or_spot_of_foul: bool = False
    personal: PersonalFoul = PersonalFoul.NO
    act: Act = Act.OTHER
    on_pass: Enforcement | None = None
    on_free_kick: Enforcement | None = None
    while_live: Enforcement | None = None
    disqualifies: bool = False
    also: tuple[str, ...] = ()           # other names in use, lower case

    @property
    def kills_the_play(self) -> bool:
        """The ball stays or becomes dead at once."""
        return self.when is FoulTime.BEFORE_SNAP

"""Everything a person can do to a game, one small value each.

An operation edits a :class:`~..records.GameDraft`; whoever runs it (:meth:`GameFile.do
<workstation.tagging.gamefile.GameFile.do>`) checks the whole against :mod:`..rules` and takes the
draft or leaves the game as it was. ``describe`` is what the undo menu says.

New records carry id 0 and get the next free id; an id that was never used may be given instead,
so that records which refer to each other can be made in one action (see :func:`several`).
"""

from __future__ import annotations

from .angles import MatchPlays, RemoveAngle, UnmatchPlays, in_angle
from .footage import (
    AddShots,
    AddSources,
    ChangeShots,
    ConfirmShots,
    MergeShots,
    OrderSources,
    RelinkSources,
    RemoveShots,
    RemoveSources,
    SplitShot,
)
from .game_operations import SetHeading, TakeGame
from .operation import AddRecord, ChangeRecord, Operation, RemoveRecord, Several, as_one, several
from .own_words import SayComing, SayWords, SetVocabulary
from .plays import AddPlay, ChangePlay, ConfirmMoments, FilmPlay, MoveMoment, MovePlay, RemovePlay
from .review import ClearDecision, Decide

__all__ = [
    "AddPlay", "AddRecord", "AddShots", "AddSources", "ChangePlay", "ChangeRecord", "ChangeShots", "ClearDecision",
    "ConfirmMoments", "ConfirmShots", "Decide", "FilmPlay", "MatchPlays", "MergeShots", "MoveMoment", "MovePlay",
    "Operation", "OrderSources", "RelinkSources", "RemoveAngle", "RemovePlay", "RemoveRecord", "RemoveShots",
    "RemoveSources", "SayComing", "SayWords", "SetHeading", "SetVocabulary", "Several", "SplitShot", "TakeGame",
    "UnmatchPlays", "as_one", "in_angle", "several",
]

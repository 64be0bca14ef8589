"""Which row of a play sheet is filmed by which shot.

Both follow the game, so the pairing keeps order: it is the best alignment of two lists (Needleman and
Wunsch, 1970, J. Mol. Biol. 48:443), in which a row may have no shot and a shot no row. Where several pairings
are equally good, the row says so instead of looking certain.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import Any

import numpy as np
import numpy.typing as npt

from ..football.plays import Play, PlayKind
from ..football.sheet import SheetRow
from .game_order import own_shot_kind
from .model import Game, Shot, ShotKind
from .operations import AddPlay, ChangeShots, SetVocabulary, Several
from .own_words.importing import SheetWords

# Only the order of these weights matters: a shot of the right kind is better than one of no known kind, both are
# better than leaving row and shot apart, and nothing is better than a pair that cannot be. No source; chosen here.
_RIGHT_KIND, _UNKNOWN_KIND = 4, 3
_MISSED_PLAY, _SPARE_SHOT, _FREE = -1, -1, 0
_NEVER = -100_000           # outweighs any sheet's rows rightly paired, or any film's shots passed over
_SKIP_SHOT, _SKIP_ROW, _PAIR = 1, 2, 3

Numbers = npt.NDArray[np.signedinteger[Any]]


@dataclass(frozen=True, slots=True)
class RowMatch:
    """A row (its index in the sheet) and a shot (its id); None on one side is a gap or an extra.

    ``sure`` is False where another pairing of the row, or of the shot if it has no row, would be as good.
    """

    row: int | None
    shot: int | None
    sure: bool = True


@dataclass(frozen=True, slots=True)
class Pairing:
    """All rows and all shots in game order."""

    pairs: tuple[RowMatch, ...]

    @property
    def shot_of(self) -> dict[int, int | None]:
        """The shot's id for each row."""
        return {pair.row: pair.shot for pair in self.pairs if pair.row is not None}

    @property
    def rows_without_shot(self) -> tuple[int, ...]:
        """The rows, by their numbers, that no shot was found for."""
        return tuple(pair.row for pair in self.pairs if pair.shot is None and pair.row is not None)

    @property
    def shots_without_row(self) -> tuple[int, ...]:
        """The ids of the shots that no row was found for."""
        return tuple(pair.shot for pair in self.pairs if pair.row is None and pair.shot is not None)


def match(rows: Sequence[SheetRow], shots: Sequence[Shot], pinned: Mapping[int, int | None] | None = None) -> Pairing:
    """Pair *rows* with *shots*, both in game order.

    ``pinned`` says for row indices which shot (its id) films them, or None for a row that was not filmed; the rest
    is aligned around them (:func:`pins_named` reads them off a sheet that names its shots).
    Raises ValueError if a pin names an unknown row or shot, or if pins cross each other.
    """
    pins = _checked(pinned or {}, len(rows), {shot.id: place for place, shot in enumerate(shots)})
    worth = _worths(rows, shots, pins)
    row_gap = [_NEVER if pins.get(index) is not None else _row_gap(row.play) for index, row in enumerate(rows)]
    shot_gap = np.array([_shot_gap(shot) for shot in shots], np.int32)
    done = _best_before(worth, row_gap, shot_gap)
    moves, row_options, shot_options = _best_moves(worth, row_gap, shot_gap, done)
    pairs, index, place = [], 0, 0
    while move := moves[index, place]:
        by_row, by_shot = int(move != _SKIP_SHOT), int(move != _SKIP_ROW)
        options = row_options[index] if by_row else shot_options[place]
        pairs.append(RowMatch(index if by_row else None, shots[place].id if by_shot else None, bool(options == 1)))
        index, place = index + by_row, place + by_shot
    return Pairing(tuple(pairs))


def take_in(game: Game, rows: Sequence[SheetRow], shot_of: Mapping[int, int | None], first_id: int,
            words: SheetWords | None = None) -> Several:
    """One action that tags all *rows*: each on its shot (by row index), in its place among the plays there are.

    ``first_id`` is the next free play id. A shot of unknown kind gets the kind that its row tells. ``words`` is what
    the rows say in own words.
    """
    shots = {shot.id: shot for shot in game.shots}
    position = {shot.id: place for place, shot in enumerate(game.shots)}
    never = len(position)
    # For each existing play: the earliest shot from it on, so that the last play before a shot is found by bisection.
    earliest = list(accumulate(reversed([never if tag.shot is None else position[tag.shot] for tag in game.plays]),
                               min))[::-1]
    operations: list[AddPlay | ChangeShots | SetVocabulary] = []
    if words is not None and any(words.said) and words.vocabulary != game.vocabulary:
        operations.append(SetVocabulary(words.vocabulary))
    passed, before = 0, 0           # existing plays before the next row; the play that it follows
    for id, (index, row) in enumerate(enumerate(rows), first_id):
        shot = shot_of.get(index)
        if shot is not None:
            place = bisect_left(earliest, position[shot])
            if place > passed:
                passed, before = place, game.plays[place - 1].id
            if shots[shot].kind is None:
                operations.append(ChangeShots((replace(shots[shot], kind=own_shot_kind(row.play)),)))
        operations.append(AddPlay(row.play, shot, after=before, id=id,
                                  words=words.said[index] if words is not None else ()))
        before = id
    return Several(f"take in a sheet of {len(rows)} plays", tuple(operations))


def pins_named(rows: Sequence[SheetRow], game: Game) -> dict[int, int]:
    """Pins for the rows whose column ``shot`` names their shot, by its number in film order from 1."""
    pins = {}
    for index, row in enumerate(rows):
        for heading, cell in row.others.items():
            if heading.strip().lower() == "shot" and cell.strip().isdecimal() and 1 <= int(cell) <= len(game.shots):
                pins[index] = game.shots[int(cell) - 1].id
    return pins


def _checked(pinned: Mapping[int, int | None], rows: int, places: Mapping[int, int]) -> dict[int, int | None]:
    """Pins with each shot's place instead of its id, None for a row without a shot."""
    last, pins = -1, {}
    for row in sorted(pinned):
        if not 0 <= row < rows:
            raise ValueError(f"the sheet has no row {row}")
        shot = pinned[row]
        if shot is not None and shot not in places:
            raise ValueError(f"there is no shot {shot} to pair with")
        pins[row] = None if shot is None else places[shot]
        if shot is not None:
            if places[shot] <= last:
                raise ValueError(f"row {row} cannot be filmed by shot {shot}: an earlier row has it or a later one")
            last = places[shot]
    return pins


def _worth(play: Play, shot: Shot) -> int:
    wanted = own_shot_kind(play)
    if wanted is None:
        return _NEVER
    if wanted in (shot.kind, shot.opens_on):
        return _RIGHT_KIND
    if play.kind is PlayKind.NO_PLAY and shot.kind is ShotKind.PENALTY_SIGNAL:
        return _RIGHT_KIND
    return _UNKNOWN_KIND if shot.kind is None else _NEVER


def _row_gap(play: Play) -> int:
    return _MISSED_PLAY if own_shot_kind(play) is ShotKind.PLAY and play.kind is not PlayKind.NO_PLAY else _FREE


def _shot_gap(shot: Shot) -> int:
    return _SPARE_SHOT if shot.kind in (ShotKind.PLAY, None) else _FREE


def _worths(rows: Sequence[SheetRow], shots: Sequence[Shot], pins: Mapping[int, int | None]) -> list[Numbers]:
    """What each row is worth with each shot, pins kept; rows of one kind share their line."""
    lines: dict[PlayKind, Numbers] = {}
    taken = [pin for pin in pins.values() if pin is not None]
    worth = []
    for index, row in enumerate(rows):
        if index in pins:
            line = np.full(len(shots), _NEVER, np.int32)
            if (pin := pins[index]) is not None:
                line[pin] = _RIGHT_KIND
        elif (found := lines.get(row.play.kind)) is not None:
            line = found
        else:
            line = np.array([_worth(row.play, shot) for shot in shots], np.int32)
            line[taken] = _NEVER
            lines[row.play.kind] = line
        worth.append(line)
    return worth


def _best_before(worth: list[Numbers], row_gap: list[int], shot_gap: Numbers) -> Numbers:
    """Best score of the first i rows with the first j shots: a line for each i, worked out whole lines at a time."""
    spare = np.concatenate(([0], np.cumsum(shot_gap, dtype=np.int32))).astype(np.int32)
    best = np.empty((len(row_gap) + 1, len(shot_gap) + 1), np.int32)
    best[0] = spare
    for index, gap in enumerate(row_gap):
        above, here = best[index], best[index + 1]
        here[0] = above[0] + gap
        np.maximum(above[:-1] + worth[index], above[1:] + gap, out=here[1:])
        here -= spare       # passing over a shot costs the same wherever it is decided
        np.maximum.accumulate(here, out=here)
        here += spare
    return best


def _best_moves(worth: list[Numbers], row_gap: list[int], shot_gap: Numbers,
                done: Numbers) -> tuple[Numbers, Numbers, Numbers]:
    """How the best alignments go on from each i and j (0: not at all), and how many ways each row and each shot has in
    all of them: with each shot that it may be paired with, and alone."""
    rows, shots = len(row_gap), len(shot_gap)
    best = done[-1, -1]
    moves = np.zeros((rows + 1, shots + 1), np.int8)
    row_options = np.zeros(rows, np.int32)
    shot_options, alone = np.zeros(shots, np.int32), np.zeros(shots, bool)
    spare = np.concatenate((np.cumsum(shot_gap[::-1], dtype=np.int32)[::-1], [0])).astype(np.int32)
    below = np.empty(0, np.int32)
    for index in range(rows, -1, -1):
        if index == rows:
            left = spare.copy()
        else:
            gap = row_gap[index]
            left = np.empty(shots + 1, np.int32)
            left[-1] = below[-1] + gap
            np.maximum(below[1:] + worth[index], below[:-1] + gap, out=left[:-1])
            left -= spare
            np.maximum.accumulate(left[::-1], out=left[::-1])
            left += spare
        skipped = done[index, :-1] + shot_gap + left[1:] == best
        moves[index, :-1][skipped] = _SKIP_SHOT
        alone |= skipped
        if index < rows:
            unfilmed = done[index] + gap + below == best
            moves[index][unfilmed] = _SKIP_ROW
            paired = done[index, :-1] + worth[index] + below[1:] == best
            moves[index, :-1][paired] = _PAIR
            shot_options += paired
            row_options[index] = np.count_nonzero(paired) + bool(unfilmed.any())
        below = left
    return moves, row_options, shot_options + alone

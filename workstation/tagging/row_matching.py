"""Which row of a play sheet is filmed by which shot.

Both follow the game, so the pairing keeps order: it is the best alignment of two lists (Needleman and
Wunsch, 1970, J. Mol. Biol. 48:443), in which a row may have no shot and a shot no row. Where several pairings
are equally good, the row says so instead of looking certain.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ..football.plays import Play, PlayKind
from ..football.sheet import SheetRow
from .model import Game, Shot, ShotKind
from .operations import AddPlay, ChangeShots, Several

_OFF_CAMERA = {PlayKind.TIMEOUT, PlayKind.END_OF_PERIOD, PlayKind.REPLAY_REVERSAL}
_OWN_SHOT = {PlayKind.COIN_TOSS: ShotKind.COIN_TOSS, PlayKind.MEASUREMENT: ShotKind.MEASUREMENT}

# Only the order of these weights matters: a shot of the right kind is better than one of no known kind, both are
# better than leaving row and shot apart, and nothing is better than a pair that cannot be. No source; chosen here.
_RIGHT_KIND, _UNKNOWN_KIND = 4, 3
_MISSED_PLAY, _SPARE_SHOT, _FREE = -1, -1, 0
_NEVER = -1_000_000


@dataclass(frozen=True, slots=True)
class Pair:
    """A row (its index in the sheet) and a shot (its id); None on one side is a gap or an extra.

    ``sure`` is False where another pairing of the row, or of the shot if it has no row, would be as good.
    """

    row: int | None
    shot: int | None
    sure: bool = True


@dataclass(frozen=True, slots=True)
class Pairing:
    """All rows and all shots in game order."""

    pairs: tuple[Pair, ...]

    @property
    def shot_of(self) -> dict[int, int | None]:
        """The shot's id for each row."""
        return {pair.row: pair.shot for pair in self.pairs if pair.row is not None}

    @property
    def rows_without_shot(self) -> tuple[int, ...]:
        return tuple(pair.row for pair in self.pairs if pair.shot is None and pair.row is not None)

    @property
    def shots_without_row(self) -> tuple[int, ...]:
        return tuple(pair.shot for pair in self.pairs if pair.row is None and pair.shot is not None)


def match(rows: Sequence[SheetRow], shots: Sequence[Shot], pinned: Mapping[int, int | None] | None = None) -> Pairing:
    """Pair *rows* with *shots*, both in game order.

    ``pinned`` says for row indices which shot (its id) films them, or None for a row that was not filmed; the rest
    is aligned around them (:func:`pins_named` reads them off a sheet that names its shots).
    Raises ValueError if a pin names an unknown row or shot, or if pins cross each other.
    """
    pins = _checked(pinned or {}, len(rows), {shot.id: place for place, shot in enumerate(shots)})
    worth = [[_worth(row.play, shot) for shot in shots] for row in rows]
    row_gap = [_row_gap(row.play) for row in rows]
    shot_gap = [_shot_gap(shot) for shot in shots]
    for row, pin in pins.items():
        worth[row] = [_NEVER] * len(shots)
        if pin is not None:
            for line in worth:
                line[pin] = _NEVER
            worth[row][pin], row_gap[row] = _RIGHT_KIND, _NEVER
    done = _best_before(worth, row_gap, shot_gap)
    left = _best_after(worth, row_gap, shot_gap)
    best = done[-1][-1]
    row_options: list[set[int | None]] = [set() for _ in rows]    # everything a row can be paired with in a best alignment
    shot_options: list[set[int | None]] = [set() for _ in shots]
    moves = {}
    for index in range(len(rows) + 1):
        for place in range(len(shots) + 1):
            so_far = done[index][place]
            if place < len(shots) and so_far + shot_gap[place] + left[index][place + 1] == best:
                shot_options[place].add(None)
                moves[index, place] = (0, 1)
            if index < len(rows) and so_far + row_gap[index] + left[index + 1][place] == best:
                row_options[index].add(None)
                moves[index, place] = (1, 0)
            if (
                index < len(rows)
                and place < len(shots)
                and so_far + worth[index][place] + left[index + 1][place + 1] == best
            ):
                row_options[index].add(place)
                shot_options[place].add(index)
                moves[index, place] = (1, 1)
    pairs, index, place = [], 0, 0
    while (index, place) in moves:
        by_row, by_shot = moves[index, place]
        options = row_options[index] if by_row else shot_options[place]
        pairs.append(Pair(index if by_row else None, shots[place].id if by_shot else None, len(options) == 1))
        index, place = index + by_row, place + by_shot
    return Pairing(tuple(pairs))


def take_in(game: Game, rows: Sequence[SheetRow], shot_of: Mapping[int, int | None], first_id: int) -> Several:
    """One action that tags all *rows*: each on its shot (by row index), in its place among the plays there are.

    ``first_id`` is the next free play id. A shot of unknown kind gets the kind that its row tells.
    """
    shots = {shot.id: shot for shot in game.shots}
    position = {shot.id: place for place, shot in enumerate(game.shots)}
    line: list[tuple[int, int | None]] = [(tag.id, tag.shot) for tag in game.plays]
    operations: list[AddPlay | ChangeShots] = []
    place = 0
    for id, (index, row) in enumerate(enumerate(rows), first_id):
        shot = shot_of.get(index)
        if shot is not None:
            before = [spot for spot, (_, other) in enumerate(line)
                      if other is not None and position[other] < position[shot]]
            place = max(place, before[-1] + 1 if before else 0)
            if shots[shot].kind is None:
                operations.append(ChangeShots((replace(shots[shot], kind=_shot_kind(row.play)),)))
        operations.append(AddPlay(row.play, shot, after=line[place - 1][0] if place else 0, id=id))
        line.insert(place, (id, shot))
        place += 1
    return Several(f"take in a sheet of {len(rows)} plays", tuple(operations))


def untagged(game: Game) -> tuple[Shot, ...]:
    """Shots that film no play yet: what a sheet's rows are matched with."""
    taken = {tag.shot for tag in game.plays}
    return tuple(shot for shot in game.shots if shot.id not in taken)


def pins_named(rows: Sequence[SheetRow], game: Game) -> dict[int, int]:
    """Pins for the rows whose column ``shot`` names their shot, by its number in film order from 1."""
    pins = {}
    for index, row in enumerate(rows):
        for heading, cell in row.others.items():
            if heading.strip().lower() == "shot" and cell.strip().isdecimal() and 1 <= int(cell) <= len(game.shots):
                pins[index] = game.shots[int(cell) - 1].id
    return pins


def _shot_kind(play: Play) -> ShotKind | None:
    """The kind of shot that films a row; None for what happens off camera."""
    return None if play.kind in _OFF_CAMERA else _OWN_SHOT.get(play.kind, ShotKind.PLAY)


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
    wanted = _shot_kind(play)
    if wanted is None:
        return _NEVER
    if wanted in (shot.kind, shot.opens_on):
        return _RIGHT_KIND
    if play.kind is PlayKind.NO_PLAY and shot.kind is ShotKind.PENALTY_SIGNAL:
        return _RIGHT_KIND
    return _UNKNOWN_KIND if shot.kind is None else _NEVER


def _row_gap(play: Play) -> int:
    return _MISSED_PLAY if _shot_kind(play) is ShotKind.PLAY and play.kind is not PlayKind.NO_PLAY else _FREE


def _shot_gap(shot: Shot) -> int:
    return _SPARE_SHOT if shot.kind in (ShotKind.PLAY, None) else _FREE


def _best_before(worth: list[list[int]], row_gap: list[int], shot_gap: list[int]) -> list[list[int]]:
    """Best score of the first i rows with the first j shots."""
    best = [[0] * (len(shot_gap) + 1) for _ in range(len(row_gap) + 1)]
    for place, gap in enumerate(shot_gap):
        best[0][place + 1] = best[0][place] + gap
    for index, gap in enumerate(row_gap):
        above, here = best[index], best[index + 1]
        here[0] = above[0] + gap
        for place, spare in enumerate(shot_gap):
            here[place + 1] = max(above[place] + worth[index][place], above[place + 1] + gap, here[place] + spare)
    return best


def _best_after(worth: list[list[int]], row_gap: list[int], shot_gap: list[int]) -> list[list[int]]:
    """Best score of the rows from i on with the shots from j on."""
    turned = _best_before([line[::-1] for line in worth[::-1]], row_gap[::-1], shot_gap[::-1])
    return [line[::-1] for line in turned[::-1]]

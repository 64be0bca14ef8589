"""All plays of a game as a grid of text cells, for a second pass: what each cell says, and what changing it does.

A column knows how to say a play and, unless what it says is derived, how to take in what is typed. Rows are plays in
game order, counted from 0.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace

from ..football.field import spoken_spot
from ..football.notation import Custom, read, write
from ..football.rulebook import Rulebook
from ..football.speaking import spoken_clock, spoken_down, spoken_period
from ..football.step import Step
from .model import Game
from .operations import ChangePlay, Operation, SayWords
from .own_words.cells import CellError, is_said, read_cell, write_cell
from .own_words.definition import OwnWord, Vocabulary, merged
from .own_words.following import Words, applies
from .own_words.saying import with_vocabulary

MOST_PROBLEMS = 8
"""Problems of a change that are named; the others are counted."""


class GridError(ValueError):
    """A change of cells that cannot be made; each problem with its play and column. Nothing was changed."""

    def __init__(self, problems: Sequence[str]):
        self.problems = tuple(problems)
        more = f"; and {len(problems) - MOST_PROBLEMS} more" if len(problems) > MOST_PROBLEMS else ""
        super().__init__("; ".join(problems[:MOST_PROBLEMS]) + more)


@dataclass(frozen=True)
class PlayGrid:
    """The plays as they stand. ``words``: what is known of each in own words; ``custom``: how the staff speaks."""

    game: Game
    steps: Sequence[Step]
    words: Sequence[Words]
    vocabulary: Vocabulary
    rulebook: Rulebook
    custom: Custom = field(default_factory=Custom)

    def changed(self, cells: Iterable[tuple[int, GridColumn, str]]) -> Operation | None:
        """The one operation that writes these cells (row, column, text); None if all say that already. Raises
        :class:`GridError` with all that is wrong with them."""
        operations: list[Operation] = []
        problems: list[str] = []
        words = False
        for row, column, text in cells:
            if column.change is None:
                problems.append(f"play {row + 1}, {column.title}: it follows from the rules and cannot be typed")
                continue
            try:
                operation = column.change(self, row, text)
            except (CellError, ValueError) as error:
                problems.append(f"play {row + 1}, {error}")
                continue
            if operation is not None:
                operations.append(operation)
                words = words or isinstance(operation, SayWords)
        if problems:
            raise GridError(problems)
        if not operations:
            return None
        what = operations[0].describe(self.game) if len(operations) == 1 else f"change {len(operations)} cells"
        return with_vocabulary(self.game, self.vocabulary if words else Vocabulary(), operations, what)


Say = Callable[[PlayGrid, int], str]
Change = Callable[[PlayGrid, int, str], Operation | None]


@dataclass(frozen=True)
class GridColumn:
    """``name`` is the column's in sheets; ``change`` is None where what it says is derived."""

    name: str
    title: str
    say: Say
    change: Change | None = None
    word: OwnWord | None = None

    @property
    def is_derived(self) -> bool:
        """Whether its cells cannot be edited."""
        return self.change is None

    def is_said(self, grid: PlayGrid, row: int) -> bool:
        """Whether the cell says what a person said of this play, and not what is carried on or follows."""
        return self.word is None or is_said(grid.words[row].get(self.word.name))

    def applies(self, grid: PlayGrid, row: int) -> bool:
        """Whether something is said about such a play in this column."""
        step = grid.steps[row]
        return self.word is None or applies(self.word, step.play.kind, step.before, grid.custom.us)


def grid_columns(vocabulary: Vocabulary) -> tuple[GridColumn, ...]:
    """The columns of a game's plays: the situation, the play, the own words in their order, what came of it."""
    return (*_SITUATION, *(_of_word(word) for word in vocabulary.words), *_CAME_OF_IT)


def _of_word(word: OwnWord) -> GridColumn:
    def say(grid: PlayGrid, row: int) -> str:
        return write_cell(grid.words[row].get(word.name))

    def change(grid: PlayGrid, row: int, text: str) -> Operation | None:
        tag = grid.game.plays[row]
        said = read_cell(word, text)
        if said is None:
            return SayWords(tag.id, unsaid=(word.name,)) if any(each.word == word.name for each in tag.words) else None
        return SayWords(tag.id, (said,)) if merged(tag.words, (said,)) != tag.words else None

    return GridColumn(word.name, word.name, say, change, word)


def _line(grid: PlayGrid, row: int) -> str:
    """The play as a line, without what has a column of its own."""
    play = replace(grid.game.plays[row].play, comment="", clock=None)
    try:
        line = write(play, grid.steps[row].before, grid.rulebook)
    except ValueError:
        return str(play.kind)
    return line or str(play.kind)


def _change_line(grid: PlayGrid, row: int, text: str) -> Operation | None:
    if text.strip() == _line(grid, row):
        return None
    if not text.strip():
        raise CellError("play: a play cannot be empty; remove it in the Tag room")
    entry = read(text, grid.steps[row].before, grid.rulebook, grid.custom)
    if entry.play is None:
        raise CellError(f"play: {entry.problem.text if entry.problem is not None else 'it says nothing'}")
    tag = grid.game.plays[row]
    play = replace(entry.play, comment=entry.play.comment or tag.play.comment,
                   clock=tag.play.clock if entry.play.clock is None else entry.play.clock)
    return ChangePlay(tag.id, play) if play != tag.play else None


def _change_comment(grid: PlayGrid, row: int, text: str) -> Operation | None:
    tag = grid.game.plays[row]
    text = text.strip()
    return ChangePlay(tag.id, replace(tag.play, comment=text)) if text != tag.play.comment else None


def _ball_on(grid: PlayGrid, row: int) -> str:
    ball_on = grid.steps[row].before.ball_on
    return "" if ball_on is None else spoken_spot(ball_on, grid.rulebook.field_length)


_SITUATION = (
    GridColumn("number", "No.", lambda grid, row: str(row + 1)),
    GridColumn("period", "period", lambda grid, row: spoken_period(
        grid.steps[row].before.period, grid.rulebook.periods).removesuffix(" quarter")),
    GridColumn("clock", "clock", lambda grid, row: spoken_clock(grid.steps[row].before.clock)),
    GridColumn("offense", "offense", lambda grid, row: grid.game.heading.name_of(grid.steps[row].before.offense)),
    GridColumn("down", "down", lambda grid, row: spoken_down(grid.steps[row].before)),
    GridColumn("ball_on", "ball on", _ball_on),
    GridColumn("line", "play", _line, _change_line),
)
_CAME_OF_IT = (
    GridColumn("result", "result", lambda grid, row: grid.steps[row].result),
    GridColumn("score", "score before", lambda grid, row: "{0.score_home}:{0.score_visitors}".format(
        grid.steps[row].before)),
    GridColumn("comment", "comment", lambda grid, row: grid.game.plays[row].play.comment, _change_comment),
)

"""What a cell of own words says, and what changing cells of the grid does. Expectations came before the first run."""

from __future__ import annotations

import pytest

from workstation.football.plays import Outcome, Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.tagging.model import Game, Heading, PlayTag
from workstation.tagging.operations import Several
from workstation.tagging.own_words.cells import CellError, read_cell
from workstation.tagging.own_words.definition import Vocabulary, WordSaid
from workstation.tagging.own_words.files import load_vocabulary
from workstation.tagging.own_words.following import known_words
from workstation.tagging.play_grid import GridError, PlayGrid, grid_columns
from workstation.tagging.records import GameDraft, Records

BOOK = load_rulebook("nfhs")
RUN = Play(PlayKind.RUN, gain=4, clock=500, comment="left guard pulls")


@pytest.fixture(scope="module")
def delivered(tmp_path_factory):
    return load_vocabulary(folder=tmp_path_factory.mktemp("none"))


GOOD = (
    ("formation", "trips", ("trips",)), ("formation", "T", ("trips",)), ("formation", " Power  i ", ("power I",)),
    ("formation", "wish", ("wishbone",)), ("personnel", "11", ("11",)), ("personnel", "11.0", ("11",)),
    ("pressure", "edge, twist", ("edge", "twist")), ("pressure", "eg;tw;eg", ("edge", "twist")),
    ("ball carrier", "#22", ("22",)), ("tackler", "54, 7", ("54", "7")), ("box count", "7", ("7",)),
    ("box count", "7.0", ("7",)), ("motion", "none", ()),
)
BAD = (
    ("formation", "spread", "formation: 'spread' is not in its list (doubles, trips"),
    ("formation", "w", None),                                   # a short form beats a beginning
    ("coverage", "cover", "coverage: 'cover' may be cover 0 or cover 1"),
    ("box count", "many", "box count: 'many' is not a number; write one, like 7"),
    ("ball carrier", "Smith", "ball carrier: 'Smith' is not a jersey number"),
    ("pressure", "edge, nobody", "pressure: 'nobody' is not in its list"),
)


@pytest.mark.parametrize(("word", "text", "values"), GOOD)
def test_cells_that_say_something(delivered, word, text, values):
    assert read_cell(delivered.word(word), text) == WordSaid(word, values)


@pytest.mark.parametrize(("word", "text", "problem"), BAD)
def test_cells_that_do_not(delivered, word, text, problem):
    if problem is None:
        assert read_cell(delivered.word(word), text).values == ("wing",)
        return
    with pytest.raises(CellError) as caught:
        read_cell(delivered.word(word), text)
    assert str(caught.value).startswith(problem)


def test_an_empty_cell_says_nothing(delivered):
    assert read_cell(delivered.word("formation"), "  ") is None


def grid_of(delivered, *words, stored=True):
    plays = (Play(PlayKind.KICKOFF, Outcome.TOUCHBACK), *(RUN for _ in words))
    tags = tuple(PlayTag(n, n, play, words=tuple(WordSaid(*each) for each in said))
                 for n, (play, said) in enumerate(zip(plays, ((), *words), strict=True), 1))
    game = Game(Heading("", "Summit", "Harbor"), plays=tags, vocabulary=delivered if stored else Vocabulary())
    steps = track(BOOK, plays)
    return PlayGrid(game, steps, known_words(game, steps), delivered, BOOK)


def columns(delivered):
    return {column.name: column for column in grid_columns(delivered)}


def done(grid, operation):
    draft = GameDraft(Records(), Game())
    from workstation.tagging.operations import TakeGame
    TakeGame(grid.game).apply(draft)
    operation.apply(draft)
    return draft.game


def test_what_the_cells_say(delivered):
    grid, at = grid_of(delivered, [("personnel", ("11",)), ("tempo", ())], []), columns(delivered)
    row = {name: column.say(grid, 1) for name, column in at.items()}
    # corrected: without a toss the home team kicks off, so that the visitors have the ball
    assert (row["number"], row["period"], row["clock"], row["offense"]) == ("2", "1st", "8:20", "Harbor")
    assert (row["down"], row["ball_on"], row["score"], row["line"]) == ("1st & 10", "own 20", "0:0", "run 4")
    assert (row["comment"], row["personnel"], row["tempo"], row["formation"]) == ("left guard pulls", "11", "none", "")
    assert at["personnel"].say(grid, 2) == "11" and not at["personnel"].is_said(grid, 2)        # carried on
    assert at["personnel"].is_said(grid, 1) and not at["formation"].applies(grid, 0) and at["hash"].applies(grid, 0)
    assert {name for name, column in at.items() if column.is_derived} == {
        "number", "period", "clock", "offense", "down", "ball_on", "score", "result"}


def test_cells_of_several_plays_change_in_one_action(delivered):
    grid, at = grid_of(delivered, [], [], stored=False), columns(delivered)
    operation = grid.changed([(1, at["formation"], "t"), (2, at["formation"], "d"), (2, at["box count"], "7"),
                              (1, at["comment"], "right guard"), (2, at["line"], "p12")])
    assert isinstance(operation, Several) and operation.describe(grid.game) == "change 5 cells"
    game = done(grid, operation)
    assert game.vocabulary == delivered         # said by it, kept with it
    assert game.plays[1].words == (WordSaid("formation", ("trips",)),)
    assert game.plays[2].words == (WordSaid("box count", ("7",)), WordSaid("formation", ("doubles",)))
    assert game.plays[1].play.comment == "right guard"
    assert game.plays[2].play == Play(PlayKind.PASS, Outcome.COMPLETE, gain=12, clock=500, comment="left guard pulls")


def test_emptying_a_cell_takes_back_what_was_said(delivered):
    grid, at = grid_of(delivered, [("personnel", ("11",))], [("personnel", ("12",))]), columns(delivered)
    game = done(grid, grid.changed([(2, at["personnel"], "")]))
    assert game.plays[2].words == ()
    steps = grid.steps
    assert known_words(game, steps)[2]["personnel"].text == "11"        # carried on again


def test_what_says_the_same_changes_nothing(delivered):
    grid, at = grid_of(delivered, [("personnel", ("11",))], []), columns(delivered)
    assert grid.changed([(1, at["personnel"], "11"), (2, at["formation"], ""), (1, at["line"], "run 4"),
                         (1, at["comment"], "left guard pulls")]) is None


def test_all_that_is_wrong_is_said_and_nothing_changes(delivered):
    grid, at = grid_of(delivered, [], []), columns(delivered)
    with pytest.raises(GridError) as caught:
        grid.changed([(1, at["formation"], "spread"), (2, at["down"], "3"), (2, at["line"], "xyzzy"),
                      (1, at["formation"], "trips"), (1, at["line"], "")])
    assert [problem.partition(":")[0] for problem in caught.value.problems] == [
        "play 2, formation", "play 3, down", "play 3, play", "play 2, play"]


def test_a_column_for_each_word_in_their_order(delivered):
    names = list(columns(delivered))
    first = names.index("formation")
    assert names[first:first + len(delivered.words)] == [word.name for word in delivered.words]
    assert names[first - 1] == "line"           # beside the play

"""Own words in sheets that are written and taken in. Expectations came before the first run."""

from __future__ import annotations

from dataclasses import replace

import pytest

from workstation.football.plays import Outcome, Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.sheet import SheetError, SheetRow
from workstation.football.tracker import track
from workstation.tagging.model import Game, PlayTag
from workstation.tagging.own_words.definition import Vocabulary, WordKind, WordSaid
from workstation.tagging.own_words.files import load_vocabulary
from workstation.tagging.own_words.following import known_words
from workstation.tagging.own_words.importing import words_of_rows
from workstation.tagging.records import GameDraft, Records
from workstation.tagging.row_matching import take_in
from workstation.tagging.sheets import read_sheet

BOOK = load_rulebook("nfhs")
RUN, INCOMPLETE = Play(PlayKind.RUN, gain=4), Play(PlayKind.PASS, Outcome.INCOMPLETE)


@pytest.fixture(scope="module")
def delivered(tmp_path_factory):
    return load_vocabulary(folder=tmp_path_factory.mktemp("none"))


def test_known_columns_are_read_by_their_words(delivered):
    rows = [SheetRow(RUN, {"Formation": "trips", "Play_Call": "iz", "pressure": "edge; twist", "box count": "7.0"}),
            SheetRow(RUN, {"Formation": "", "Play_Call": "", "pressure": "none", "box count": ""})]
    read = words_of_rows(rows, delivered, BOOK)
    assert {each.word: each.values for each in read.said[0]} == {
        "formation": ("trips",), "play call": ("inside zone",), "pressure": ("edge", "twist"), "box count": ("7",)}
    assert read.said[1] == (WordSaid("pressure"),)
    assert read.vocabulary == delivered and read.told == ""


def test_columns_that_are_not_known_are_kept_and_told(delivered):
    rows = [SheetRow(RUN, {"wind": "with us", "Series; no.": "3", "empty": " ", "down": "1", "result": "first down"}),
            SheetRow(RUN, {"wind": "", "Series; no.": "3", "empty": "", "down": "2", "result": ""})]
    read = words_of_rows(rows, delivered, BOOK)
    assert read.columns == ("wind", "Series no.")
    assert read.vocabulary.word("wind").kind is WordKind.TEXT
    assert {each.word: each.values for each in read.said[0]} == {"wind": ("with us",), "Series no.": ("3",)}
    assert read.told == "Columns that are not known are kept as own words: wind, Series no.."


def test_values_that_a_list_does_not_have_are_added_and_told(delivered):
    rows = [SheetRow(RUN, {"formation": "spread"}), SheetRow(RUN, {"formation": "Spread"}),
            SheetRow(RUN, {"pressure": "edge, overload"})]
    read = words_of_rows(rows, delivered, BOOK)
    assert [each.values for row in read.said for each in row] == [("spread",), ("spread",), ("edge", "overload")]
    assert read.values == (("formation", "spread"), ("pressure", "overload"))
    assert read.told == "Added to the lists of own words: formation spread, pressure overload."
    assert read.vocabulary.word("formation").value("spread") is not None


def test_cells_that_cannot_be_are_all_reported(delivered):
    rows = [SheetRow(RUN, {"box count": "many"}), SheetRow(RUN, {"target": "Smith", "formation": "trips"})]
    with pytest.raises(SheetError) as caught:
        words_of_rows(rows, delivered, BOOK)
    assert [(cell.row, cell.column) for cell in caught.value.cells] == [(2, "box count"), (3, "target")]
    assert "row 3, column target: target: 'Smith' is not a jersey number; write numbers, like 22" in str(caught.value)


def test_a_sheet_goes_out_and_comes_back_as_it_was(delivered, tmp_path):
    """Also what is carried on and follows: it stands in the sheet, and is not taken as said on the way back."""
    from workstation.delivery.sheets import plays_sheet, write_sheet
    said = ([], [WordSaid("personnel", ("11",)), WordSaid("hash", ("left hash",))], [], [WordSaid("personnel")],
            [WordSaid("pressure", ("edge", "twist")), WordSaid("tackler", ("54", "7"))])
    plays = (Play(PlayKind.KICKOFF, Outcome.TOUCHBACK), INCOMPLETE, RUN, RUN, RUN)
    tags = tuple(PlayTag(number, number, play, words=tuple(words))
                 for number, (play, words) in enumerate(zip(plays, said, strict=True), 1))
    game = Game(plays=tags, vocabulary=delivered)
    steps = track(BOOK, plays)
    sheet = plays_sheet(game, steps)
    assert list(sheet["personnel"]) == ["", "11", "11", "none", ""]
    assert list(sheet["hash"]) == ["", "left hash", "left hash", "", ""]
    assert list(sheet["pressure"]) == ["", "", "", "", "edge, twist"] and "field side" in sheet.columns
    for name in ("plays.csv", "plays.xlsx"):
        write_sheet(sheet, tmp_path / name)
        rows = read_sheet(tmp_path / name, BOOK)
        read = words_of_rows(rows, delivered, BOOK)
        assert read.told == "" and [row.play for row in rows] == list(plays)
        back = Game(plays=tuple(replace(tag, words=words) for tag, words in zip(tags, read.said, strict=True)),
                    vocabulary=delivered)
        assert [tag.words for tag in back.plays] == [tag.words for tag in tags], name
        assert known_words(back, steps) == known_words(game, steps)


def test_taking_a_sheet_in_takes_its_words_in_the_same_action(delivered):
    rows = [SheetRow(RUN, {"formation": "trips", "wind": "with us"}), SheetRow(RUN, {})]
    words = words_of_rows(rows, delivered, BOOK)
    game = Game()
    operation = take_in(game, rows, {}, 1, words)
    draft = GameDraft(Records(), game)
    operation.apply(draft)
    assert draft.game.vocabulary == words.vocabulary
    assert draft.game.plays[0].words == (WordSaid("formation", ("trips",)), WordSaid("wind", ("with us",)))
    plain = take_in(game, [SheetRow(RUN, {})], {}, 1, words_of_rows([SheetRow(RUN, {})], delivered, BOOK))
    draft = GameDraft(Records(), game)
    plain.apply(draft)
    assert draft.game.vocabulary == Vocabulary()        # a sheet without own words brings none

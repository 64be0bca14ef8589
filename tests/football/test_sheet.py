"""The play sheet: every event expressible, every bad cell named at once, foreign columns kept."""

from __future__ import annotations

import csv
import doctest
import io
import re
from dataclasses import fields
from importlib import resources

import pytest

from workstation.football import sheet as module
from workstation.football.field import Team
from workstation.football.plays import (
    BallEvent,
    EnforcedAt,
    EventKind,
    Foul,
    FoulDecision,
    FoulTime,
    Outcome,
    Play,
    PlayKind,
    Score,
    Side,
    SituationOverride,
)
from workstation.football.rulebook import load_rulebook
from workstation.football.sheet import (
    COLUMNS,
    SAID,
    SheetError,
    SheetRow,
    near_heading,
    read_rows,
    write_rows,
)

NFHS = load_rulebook("nfhs")
EVERYTHING = Play(
    kind=PlayKind.PUNT, outcome=Outcome.RETURNED, gain=-2.5, kick_to=61.25, spot=37.0, possession=Side.DEFENSE,
    events=(BallEvent(EventKind.CATCH, 61.25, Side.DEFENSE), BallEvent(EventKind.FUMBLE, 50),
            BallEvent(EventKind.LATERAL)),
    score=Score.NONE, clock=581, team=Team.VISITORS, choice="receive", comment='he said "go", twice', kick_from=22,
    stands_as=PlayKind.RUN, manner="jet sweep",
    fouls=(
        Foul("holding", Side.OFFENSE, 31.0, FoulTime.DURING_KICK, FoulDecision.ACCEPTED, 10, 28.5,
             EnforcedAt.SUCCEEDING_SPOT, True, False),
        Foul("illegal block in the back", Side.DEFENSE, -3.0, None, FoulDecision.DECLINED),
    ),
    override=SituationOverride(offense=Team.HOME, down=4, yards_to_gain=0.25, ball_on=22, period=2, score_home=7,
                           score_visitors=13,
              timeouts_home=2, timeouts_visitors=0, second_half_kicker=Team.HOME, home_faces_right=False),
)


def row(**cells):
    return {"kind": "run"} | cells


def bad(*rows, **given):
    with pytest.raises(SheetError) as caught:
        read_rows(rows, NFHS, **given)
    return caught.value


def test_the_example_in_the_docstring():
    assert doctest.testmod(module).failed == 0


def test_everything_a_play_can_say_is_written_and_read_back():
    filled = {entry.name for entry in fields(Play) if getattr(EVERYTHING, entry.name) not in (None, "", ())}
    assert filled == {entry.name for entry in fields(Play)}, "the example leaves a field of Play out"
    rows = write_rows([EVERYTHING], NFHS)
    assert list(rows[0]) == list(COLUMNS)
    assert [entry.play for entry in read_rows(rows, NFHS)] == [EVERYTHING]


def test_spots_are_written_the_way_people_say_them():
    cells, = write_rows([EVERYTHING], NFHS)
    assert cells["kick_to"] == "opp 38.75" and cells["spot"] == "own 37" and cells["clock"] == "9:41"
    assert cells["events"] == "catch at opp 38.75 by defense; fumble at 50; lateral"
    assert cells["fouls"] == (
        "holding by offense at own 31, during the kick, accepted, 10 yards, from own 28.5, "
        "enforced at succeeding spot, automatic first down, no loss of down; "
        "illegal block in the back by defense at own end zone 3, declined")
    assert cells["set_ball_on"] == "own 22" and cells["set_home_faces_right"] == "no"


def test_a_field_of_another_length_has_its_own_middle():
    six, canada = load_rulebook("nfhs_six_man"), load_rulebook("canadian_amateur")
    for book, middle in ((six, 40), (canada, 55)):
        play = Play(PlayKind.RUN, spot=middle)
        assert write_rows([play], book)[0]["spot"] == str(middle)
        assert read_rows([row(spot=str(middle))], book)[0].play == play
        with pytest.raises(SheetError, match=f"'own 36', 'opp 12' or '{middle}'"):
            read_rows([row(spot="own 60")], book)
    assert read_rows([row(spot="own end zone 15")], canada)[0].play.spot == -15
    with pytest.raises(SheetError, match="the end zone is 10 yards deep"):
        read_rows([row(spot="own end zone 15")], six)


def test_columns_of_others_are_kept_as_they_are():
    entry, = read_rows([row(shot="12", light=" dim ", gain="3", down="2")], NFHS)
    assert entry == SheetRow(Play(PlayKind.RUN, gain=3), {"shot": "12", "light": " dim ", "down": "2"})
    assert write_rows([entry], NFHS)[0] | {} == dict.fromkeys(COLUMNS, "") | {
        "kind": "run", "gain": "3", "shot": "12", "light": " dim ", "down": "2"}


def test_headings_and_words_may_be_written_with_capitals_and_spaces():
    entry, = read_rows([{" Kind": "Field Goal", "OUTCOME": "No good", "Kick from": "Opp 27", "Set Down": "4"}], NFHS)
    assert entry.play == Play(PlayKind.FIELD_GOAL, outcome=Outcome.NO_GOOD, kick_from=73,
                              override=SituationOverride(down=4))


def test_empty_rows_are_passed_over_and_missing_columns_are_empty():
    assert read_rows([{"kind": "", "gain": " "}, {"kind": "kneel"}, {}, {"kind": None}],
                     NFHS) == [SheetRow(Play(PlayKind.KNEEL))]


def test_all_bad_cells_are_told_at_once_by_row_and_column():
    error = bad(
        row(gain="far", spot="own 77", clock="99"),
        {"gain": "3"},
        {"kind": "pas", "outcome": "caught"},
        row(fouls="holding by offense at own 31; sneezing by defense", events="fumble at own 3 by them"),
        row(set_down="5", set_yards_to_gain="0", set_period="0", set_score_home="-1", set_home_faces_right="maybe"),
    )
    assert sorted((cell.row, cell.column) for cell in error.cells) == [
        (2, "clock"), (2, "gain"), (2, "spot"), (3, "kind"), (4, "kind"), (4, "outcome"), (5, "events"), (5, "fouls"),
        (6, "set_down"), (6, "set_home_faces_right"), (6, "set_period"), (6, "set_score_home"),
        (6, "set_yards_to_gain")]
    assert len(str(error).splitlines()) == len(error.cells)


@pytest.mark.parametrize(("cells", "told"), [
    ({"kind": "rum"}, "row 2, column kind: 'rum' is not known here; expected one of run, pass"),
    ({"kind": "", "gain": "3"}, "row 2, column kind: is empty; expected one of run, pass"),
    (row(gain="nan"), "'nan' is not a number of yards, such as 7, -3 or 0.5"),
    (row(gain="500"), "longer than the field (120 yards"),
    (row(spot="36"), "'36' is not a spot; say it like 'own 36', 'opp 12' or '50'"),
    (row(clock="9:75"), "expected minutes and seconds, such as 9:41"),
    (row(possession="home"), "'home' is not known here; expected one of offense, defense"),
    (row(fouls="holding"), "say it like 'holding by offense at own 31, declined'"),
    (row(fouls="false start by defense"), "no foul called 'false start' by the defense"),
    (row(fouls="holding by offense, really"), "'really' says nothing about a foul; expected when it happened (before "
                                              "the snap"),
    (row(fouls="holding by offense, enforced at home"), "'home' is not known here; expected one of previous spot"),
    (row(events="bounce at own 3"), "'bounce' is not known here; expected one of lateral, fumble"),
    (row(set_down="5"), "'5' is not a down; expected 1 to 4"),
    (row(team="us"), "'us' is not known here; expected one of home, visitors"),
])
def test_what_a_bad_cell_is_told(cells, told):
    assert told in str(bad(cells))


def test_after_a_change_of_possession_the_defense_commits_the_fouls_of_an_offense():
    fouls = "offensive holding by defense at own 40, after change of possession"
    entry, = read_rows([row(fouls=fouls)], NFHS)
    assert entry.play.fouls[0].name == "offensive holding"
    assert write_rows([entry], NFHS)[0]["fouls"] == fouls


def test_rows_are_numbered_as_a_spreadsheet_does():
    assert bad(row(gain="x")).cells[0].row == 2
    assert bad(row(gain="x"), first_row=10).cells[0].row == 10


def test_a_cell_beyond_the_last_heading_is_reported_and_not_lost():
    error = bad(*csv.DictReader(io.StringIO("kind,gain\nrun,3,left hash\n")))
    assert "'left hash' is in no column; give it a heading" in str(error)


def test_two_columns_of_one_name_are_reported_where_they_disagree():
    assert read_rows([{"kind": "run", "Gain": "3", "gain ": ""}], NFHS)[0].play.gain == 3
    assert "row 2, column gain: '4' stands in a second column" in str(bad({"kind": "run", "Gain": "3", "gain ": "4"}))


def test_down_and_distance_of_a_three_down_game():
    canada = load_rulebook("canadian_amateur")
    with pytest.raises(SheetError, match="expected 1 to 3"):
        read_rows([row(set_down="4")], canada)


# The page for the people who write sheets

PAGE = (resources.files("workstation.resources") / "play_sheet.md").read_text(encoding="utf-8")


def test_the_page_describes_every_column_and_every_word():
    told = set(re.findall(r"`([^`\n]+)`", PAGE))
    assert set(COLUMNS) <= told
    for words in (PlayKind, Outcome, EventKind, Score, FoulTime, FoulDecision, EnforcedAt):
        assert {word.value for word in words} <= told, set(words) - told
    assert set(SAID) <= told


def test_the_examples_on_the_page_read():
    tables = re.findall(r"```csv\n(.*?)```", PAGE, re.DOTALL)
    assert len(tables) >= 2
    for table in tables:
        assert read_rows(csv.DictReader(io.StringIO(table)), NFHS)


def test_a_row_may_say_its_play_as_it_is_spoken():
    rows = [{"line": "home wins the toss and defers"}, {"line": "kickoff touchback", "clock": "12:00"},
            {"line": "run 6 holding on the offense declined", "comment": "left side", "shot": "3"},
            {"line": "pass 20", "set_down": "2", "set_ball_on": "own 40"}, {"kind": "run", "gain": "3"}]
    entries = read_rows(rows, NFHS)
    assert [entry.play.kind.value for entry in entries] == ["coin toss", "kickoff", "run", "pass", "run"]
    assert entries[1].play.clock == 720 and entries[1].play.outcome is Outcome.TOUCHBACK
    assert entries[2].play.gain == 6 and entries[2].play.comment == "left side" and entries[2].others == {"shot": "3"}
    assert entries[3].play.override == SituationOverride(down=2, ball_on=40)
    assert not entries[2].notes


def test_what_a_spoken_line_left_open_is_noted_and_what_is_not_understood_is_a_bad_cell():
    entry, = read_rows([{"line": "kickoff 5 25", "set_next": "kickoff", "set_offense": "home"}], NFHS)
    assert entry.notes[0].startswith("read as kickoff of 55 yards to opp 5")
    cell, = bad({"line": "kickof touchback zebra"}).cells
    assert (cell.column == "line" and "zebra" in cell.problem) or "kickof" in cell.problem
    assert "leave gain empty" in str(bad({"line": "run 6", "gain": "6"}))


@pytest.mark.parametrize(("cells", "proposal"), [
    ({"kind": "rush"}, "run"), ({"kind": "run", "gain": "5,7"}, "5.7"), ({"kind": "run", "gain": "7 yards"}, "7"),
    ({"kind": "fg"}, "field goal"), ({"kind": "run", "gain": "far"}, ""),
])
def test_what_a_bad_cell_probably_means_is_proposed(cells, proposal):
    assert bad(cells).cells[0].proposal == proposal


def test_what_a_heading_probably_means_is_proposed():
    assert [near_heading(heading) for heading in ("Type", "Penalty", "kick-to", "Yards Gained", "wind")] == [
        "kind", "fouls", "kick_to", "gain", None]

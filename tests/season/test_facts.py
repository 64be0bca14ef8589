"""Facts of plays. Expectations written by hand from the plays told in season_games.py, before anything was run; the
statistical conventions (what a penalty takes away, what a fumble costs) from memory of the statisticians' manuals."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd
import pytest

from tests.season.season_games import DRIVE, FUMBLE_LOST, HOLDING, PASS, RUN, game
from workstation.football.plays import Foul, FoulDecision, FoulTime, Outcome, Play, PlayKind, Side
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.season.definitions import Definitions, derive, distance_names, lead_names, zone_names
from workstation.season.facts import COLUMNS, OWN_WORD, frame_of, rows_of
from workstation.season.faults import DefinitionError
from workstation.tagging.own_words.definition import OwnWord, Vocabulary, WordKind, WordSaid


def frame(plays=None, **heading):
    return frame_for(game(plays, **heading))


def frame_for(made):
    book = load_rulebook(made.heading.rulebook, made.heading.season)
    return derive(frame_of(rows_of(made, track(book, [tag.play for tag in made.plays]), book)))


def test_every_column_is_declared_once_and_says_what_it_is():
    names = [column.name for column in COLUMNS]
    assert len(set(names)) == len(names)
    assert all(column.meaning and column.follows for column in COLUMNS)


def test_a_drive_by_hand():
    plays = frame()[lambda each: each["next"] == "scrimmage"]
    told = plays[["down", "distance", "zone", "run_pass_kick", "gain", "success", "converted", "offense"]]
    assert told.astype(object).values.tolist() == [
        [1, "over 6 to 10", "own 20 to 50", "run", 4.0, True, False, "Summit"],
        [2, "over 3 to 6", "own 20 to 50", "pass", 0.0, False, False, "Summit"],
        [3, "over 3 to 6", "own 20 to 50", "pass", 7.0, True, True, "Summit"],
        [1, "over 6 to 10", "own 20 to 50", "run", 3.0, False, False, "Summit"],
        [2, "over 6 to 10", "own 20 to 50", "pass", -5.0, False, False, "Summit"],
        [3, "over 10", "own 20 to 50", "pass", 9.0, False, False, "Summit"],
        [4, "up to 3", "own 20 to 50", "kick", pytest.approx(float("nan"), nan_ok=True), False, False, "Summit"],
    ]


def test_what_a_penalty_takes_away_is_no_run():
    from_previous_spot = Foul("defensive holding", Side.DEFENSE, when=FoulTime.DURING_DOWN,
                              decision=FoulDecision.ACCEPTED, at=None)
    plays = frame([Play(PASS, Outcome.INCOMPLETE, fouls=(from_previous_spot,), clock=700)])
    last = plays.iloc[-1]
    assert (last["run_pass_kick"], bool(last["stands"]), pd.isna(last["gain"])) == ("", False, True)
    assert last["penalty_on"] == "defense"


def test_holding_beyond_the_line_shortens_the_run():
    held = Play(RUN, gain=12, fouls=(replace(HOLDING, spot=36),), clock=700)
    last = frame([held]).iloc[-1]
    assert (last["run_pass_kick"], last["gain"]) == ("run", 6.0)


def test_a_declined_penalty_changes_nothing():
    last = frame([Play(RUN, gain=12, fouls=(replace(HOLDING, decision=FoulDecision.DECLINED),), clock=700)]).iloc[-1]
    assert (last["run_pass_kick"], last["gain"], last["penalty"], last["penalty_on"]) == ("run", 12.0, "", "")


def test_a_fumble_that_loses_ground_costs_the_run():
    last = frame([FUMBLE_LOST]).iloc[-1]
    assert (last["gain"], bool(last["turnover"]), bool(last["success"])) == (4.0, True, False)


def test_a_measurement_and_a_reversal_change_the_play_before():
    measured = frame([Play(RUN, gain=10, clock=700), Play(PlayKind.MEASUREMENT, Outcome.SHORT, spot=39.5)])
    assert measured[measured["kind"] == "run"]["gain"].tolist() == [9.5]
    reversed_ = frame([Play(PASS, Outcome.COMPLETE, gain=12, clock=700),
                       Play(PlayKind.REPLAY_REVERSAL, Outcome.INCOMPLETE)])
    row = reversed_[reversed_["kind"] == "pass"].iloc[0]
    assert (row["gain"], row["outcome"]) == (0.0, "incomplete")


def test_last_two_minutes_and_lead():
    plays = [Play(PlayKind.END_OF_PERIOD), Play(RUN, gain=1, clock=121), Play(RUN, gain=1, clock=120)]
    runs = frame(plays)[lambda each: each["kind"] == "run"]
    assert runs["last_two_minutes"].tolist() == [False, True]
    assert runs["lead"].tolist() == ["tied", "tied"] and runs["half"].tolist() == ["1st half"] * 2


def test_groups_are_the_staffs():
    given = Definitions(distances=(2, 7), zones=(50,), leads=(-8, -1, 0, 8))
    assert distance_names(given) == ["up to 2", "over 2 to 7", "over 7", "goal"]
    assert zone_names(given) == ["own goal to 50", "50 to opp goal"]
    assert lead_names(given) == ["behind by 8 or more", "behind by 1 to 7", "tied", "ahead by 1 to 8",
                                 "ahead by 9 or more"]
    plays = derive(frame(), given)
    assert plays[plays["down"] == 3]["distance"].tolist() == ["over 2 to 7", "over 7"]


@pytest.mark.parametrize("wrong", [{"distances": (3, 3)}, {"distances": ()}, {"success": (0.4, 0)}, {"few": 0},
                                   {"zones": (50, 20)}])
def test_definitions_that_cannot_be_are_refused(wrong):
    with pytest.raises(DefinitionError):
        Definitions(**wrong)


def test_us_and_them():
    plays = derive(frame(), Definitions(us="Harbor"))
    assert set(plays[plays["next"] == "scrimmage"]["ball"]) == {"theirs"}
    assert set(plays["opponent"]) == {"Summit"}
    assert set(derive(frame(), Definitions(us="Nobody"))["opponent"]) == {""}


def test_own_words_are_columns_carried_on_ones_too():
    made = game(DRIVE[:3])
    tags = list(made.plays)
    tags[2] = replace(tags[2], words=(WordSaid("formation", ("trips",)), WordSaid("front", ("even", "bear"))))
    words = Vocabulary("", (OwnWord("formation", WordKind.TEXT, carried=True),))
    made = replace(made, plays=tuple(tags), vocabulary=words)
    plays = frame_for(made)
    assert plays[plays["next"] == "scrimmage"][OWN_WORD + "formation"].tolist() == ["trips"] * 3
    assert plays[plays["next"] == "scrimmage"][OWN_WORD + "front"].tolist() == ["even, bear", "", ""]
    assert len(DRIVE) == 7

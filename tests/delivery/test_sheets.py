from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pandas as pd
import pytest
from workstation.demo.script import FINAL_SCORE

from workstation.delivery.segment import play_segments, shot_segments
from workstation.delivery.sheets import findings_by_play, plays_sheet, tendencies, write_sheet
from workstation.football.field import Team
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Heading, MomentKind, SequenceItem
from workstation.tagging.sheets import read_sheet


@pytest.fixture
def game(demo_game_file):
    with GameFile.open(demo_game_file, read_only=True) as file:
        return file.game


@pytest.fixture
def steps(game):
    return track(load_rulebook("nfhs"), [tag.play for tag in game.plays])


def test_one_row_per_play_with_times_and_findings(game, steps):
    findings = {game.plays[3].id: ["Longer hold expected"]}
    sheet = plays_sheet(game, steps, findings)
    assert len(sheet) == len(game.plays) and list(sheet["number"]) == list(range(1, len(sheet) + 1))
    assert sheet.loc[3, "findings"] == "Longer hold expected"
    filmed = sheet[sheet["snap"].notna()]
    assert len(filmed) > 20
    assert ((filmed["shot_start"] <= filmed["snap"]) & (filmed["snap"] < filmed["dead_ball"])
            & (filmed["dead_ball"] <= filmed["shot_end"])).all()
    assert (sheet["score_home"].iloc[-1], sheet["score_visitors"].iloc[-1]) == (
        FINAL_SCORE[Team.HOME], FINAL_SCORE[Team.VISITORS])


@pytest.mark.parametrize("suffix, read", [("csv", pd.read_csv), ("xlsx", pd.read_excel), ("parquet", pd.read_parquet)])
def test_every_form_reads_back(game, steps, tmp_path, suffix, read):
    sheet = plays_sheet(game, steps)
    back = read(write_sheet(sheet, tmp_path / f"plays.{suffix}"))
    assert list(back.columns) == list(sheet.columns)
    for column in ("down", "yards_to_gain", "score_home", "snap"):
        pd.testing.assert_series_equal(back[column].astype(float), sheet[column].astype(float), rtol=1e-12)
    assert list(back["situation"]) == list(sheet["situation"])
    assert not list(tmp_path.glob("*part*"))


@pytest.mark.parametrize("suffix", ["csv", "xlsx"])
def test_it_is_read_back_as_a_play_sheet(game, steps, tmp_path, suffix):
    plays = [replace(tag.play, comment="-> left, 'twins'") for tag in game.plays]
    game = replace(game, plays=tuple(replace(tag, play=play) for tag, play in zip(game.plays, plays, strict=True)))
    path = write_sheet(plays_sheet(game, steps), tmp_path / f"plays.{suffix}")
    rulebook = load_rulebook("nfhs")
    rows = read_sheet(path, rulebook)
    assert [row.play for row in rows] == plays
    assert track(rulebook, [row.play for row in rows])[-1].after == steps[-1].after


@pytest.mark.parametrize("suffix, read", [("csv", pd.read_csv), ("xlsx", pd.read_excel)])
def test_cells_that_would_start_a_formula_are_tamed(tmp_path, suffix, read):
    evil = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "plain"]
    back = read(write_sheet(pd.DataFrame({"comment": evil, "gain": [-3.0] * 6}), tmp_path / f"x.{suffix}"))
    assert list(back["comment"])[:4] == ["'=1+1", "'+1", "'-1", "'@SUM(A1)"]
    assert list(back["comment"])[-1] == "plain" and list(back["gain"]) == [-3.0] * 6     # numbers stay numbers


def test_other_suffixes_are_refused(tmp_path):
    with pytest.raises(ValueError, match=r"\.csv"):
        write_sheet(pd.DataFrame({"x": [1]}), tmp_path / "x.doc")
    assert not list(tmp_path.iterdir())


def test_tendencies_show_the_count_behind_every_share(game, steps):
    table = tendencies(game, steps)
    assert ((table["plays"] / table["of"] - table["share"]).abs() < 1e-12).all()
    scrimmage = [step for tag, step in zip(game.plays, steps, strict=True)
                 if step.before.down is not None and (tag.play.gain is not None or tag.play.outcome is not None)]
    assert table["plays"].sum() == len(scrimmage)
    assert (table.groupby(["offense", "down", "distance", "zone"])["share"].sum().round(9) == 1).all()


def test_an_empty_game_has_empty_sheets(tmp_path):
    from workstation.tagging.model import Game

    game = Game(Heading())
    assert len(plays_sheet(game, [])) == 0 and len(tendencies(game, [])) == 0


def test_segments_follow_the_plays_asked_for(game, steps):
    filmed = [tag for tag in game.plays if tag.shot is not None]
    every = play_segments(game, steps)
    assert [segment.play for segment in every] == [tag.id for tag in filmed]
    two = play_segments(game, steps, [SequenceItem(play) for play in (filmed[4].id, filmed[2].id, 99_999)])
    assert [segment.play for segment in two] == [filmed[4].id, filmed[2].id]
    assert "and" not in two[0].fields["situation"] and two[0].caption
    assert len(shot_segments(game)) == len(game.shots)


def test_sensitive_shots_carry_their_notice(game):
    noticed = [segment for segment in shot_segments(game) if segment.notice]
    kinds = {shot.id: {str(shot.kind), str(shot.opens_on)} for shot in game.shots}
    marked = {shot.id for shot in game.shots for moment in game.moments
              if moment.kind in (MomentKind.CONFRONTATION, MomentKind.CARE)
              and shot.start.source == moment.at.source and shot.start.pts <= moment.at.pts < shot.end.pts}
    assert noticed and all(kinds[segment.shot] & {"injury", "altercation"} or segment.shot in marked
                           for segment in noticed)


def test_spots_are_told_on_the_rulebook_s_own_field(game, steps):
    canadian = replace(game, heading=replace(game.heading, rulebook="canadian_amateur", season=None))
    assert plays_sheet(canadian, steps)["ball_on"].tolist() != plays_sheet(game, steps)["ball_on"].tolist()


def test_what_was_waived_is_not_held_against_a_play():
    def found(title: str, play: int | None, waived: bool = False):
        return SimpleNamespace(title=title, play=play, waived=waived)
    assert findings_by_play([found("late", 3), found("cut off", 3), found("no scoreboard", None),
                             found("early", 4, waived=True), found("late", 5)]) == {3: ["late", "cut off"], 5: ["late"]}

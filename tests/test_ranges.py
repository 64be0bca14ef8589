"""A number that cannot be is refused at every way in: line, sheet, JSON, game file; nothing runs as long as it says."""

from __future__ import annotations

import json
from contextlib import closing
from dataclasses import replace
from fractions import Fraction

import pytest

from tests.tagging.builders import full_game
from tests.tagging.test_damage import sql
from workstation import commands
from workstation.football.field import Team
from workstation.football.plays import Foul, Play, PlayKind, Side, SituationOverride
from workstation.football.rulebook import load_rulebook
from workstation.football.sheet import SheetError, read_rows
from workstation.football.tracker import track
from workstation.tagging.exchange import ExchangeError, read_json, to_document, write_json
from workstation.tagging.gamefile import DamagedGameFile, GameFile, InvalidOperation
from workstation.tagging.operations import AddPlay

BOOK = load_rulebook("nfhs")


@pytest.mark.parametrize(("column", "cell"), [
    ("set_period", "999999999"), ("set_period", "9" * 5000), ("set_period", "0"), ("set_score_home", "99999"),
    ("set_timeouts_home", "500"), ("gain", "1e308"), ("gain", "nan"), ("clock", "999:99"),
    ("fouls", "holding by offense at own 31, 1e99 yards"), ("set_yards_to_gain", "1e9"), ("set_down", "9" * 30),
    ("fouls", "; ".join(["holding by offense"] * 60)),
])
def test_sheets(column, cell, tmp_path, capsys):
    with pytest.raises(SheetError) as error:
        read_rows([{"kind": "run", column: cell}], BOOK)
    assert error.value.cells[0].column == column and error.value.cells[0].row == 2
    sheet = tmp_path / "plays.csv"
    sheet.write_text(f"kind,{column}\nrun,\"{cell}\"\n")
    assert commands.run(["track", str(sheet)]) == 2
    assert f"column {column}" in capsys.readouterr().err


@pytest.mark.parametrize("line", ["run 999999999", "run -1000", "pass 201", "run 5 clock 999:99"])
def test_spoken_lines_in_a_sheet(line):
    with pytest.raises(SheetError) as error:
        read_rows([{"line": line}], BOOK)
    assert error.value.cells[0].column == "line"


IMPOSSIBLE = [
    Play(PlayKind.RUN, override=SituationOverride(period=999999999)),
    Play(PlayKind.RUN, override=SituationOverride(score_home=-1)),
    Play(PlayKind.RUN, override=SituationOverride(ball_on=1e9)), Play(PlayKind.RUN, gain=1e18),
    Play(PlayKind.RUN, clock=10**9),
    Play(PlayKind.RUN, fouls=(Foul("holding", Side.OFFENSE, yards=-1e9),)), Play(PlayKind.PUNT, kick_to=-1e5),
    Play(PlayKind.TIMEOUT, team=Team.HOME, override=SituationOverride(timeouts_home=10**6)),
]


@pytest.mark.parametrize("play", IMPOSSIBLE)
def test_plays_by_line_json_and_game_file(play, tmp_path):
    path = tmp_path / "a.game"
    with GameFile.create(path, game=full_game(tmp_path)) as file:
        with pytest.raises(InvalidOperation, match="expected"):
            file.do(AddPlay(play))
        game = file.game
    broken = replace(game, plays=(replace(game.plays[0], play=play), *game.plays[1:]))
    (tmp_path / "a.json").write_text(json.dumps(to_document(broken, tmp_path)))
    with pytest.raises(ExchangeError, match="expected"):
        read_json(tmp_path / "a.json")
    body = json.dumps(to_document(broken, tmp_path)["plays"][0])
    sql(path, f"UPDATE record SET body = '{body}' WHERE kind = 'play' AND id = {game.plays[0].id}",
        "UPDATE record SET sum = checksum(kind, id, body)")
    with pytest.raises(DamagedGameFile, match="expected"):
        GameFile.open(path)


def test_the_tracker_ends_whatever_is_said():
    steps = track(BOOK, [Play(PlayKind.COIN_TOSS), *IMPOSSIBLE, Play(PlayKind.END_OF_PERIOD)])
    assert len(steps) == len(IMPOSSIBLE) + 2
    assert steps[1].before.period == 999999999      # said by hand, shown as a contradiction, and not counted up to


@pytest.mark.parametrize("change", [
    {"width": 2**40, "height": 2**40}, {"width": -1}, {"frame_rate": Fraction(0)}, {"frame_rate": Fraction(10**12)},
    {"frame_rate": Fraction(-25)}, {"time_base": Fraction(-1, 90000)}, {"time_base": Fraction(1, 10**30)},
    {"duration_pts": 2**62}, {"start_pts": -2**62}, {"pixel_aspect": Fraction(0)}, {"pixel_aspect": Fraction(10**9)},
    {"rotation": 10**9}, {"size": -1},
])
def test_sources(change, tmp_path):
    game = full_game(tmp_path)
    bad = replace(game.film.sources[0], **change)
    broken = replace(game, film=replace(game.film, sources=(bad, *game.film.sources[1:])))
    (tmp_path / "a.json").write_text(json.dumps(to_document(broken, tmp_path)))
    with pytest.raises(ExchangeError, match="film"):
        read_json(tmp_path / "a.json")
    path = tmp_path / "a.game"
    GameFile.create(path, game=game).close()
    body = json.dumps(to_document(broken, tmp_path)["film"]["sources"][0])
    sql(path, f"UPDATE record SET body = '{body}' WHERE kind = 'source' AND id = '{bad.id}'",
        "UPDATE record SET sum = checksum(kind, id, body)")
    with pytest.raises(DamagedGameFile, match="source"):
        GameFile.open(path)


def test_what_was_written_before_is_within_the_ranges(demo_game_file, tmp_path):
    with GameFile.open(demo_game_file, read_only=True) as file, closing(open(tmp_path / "x", "w")):
        write_json(file.game, tmp_path / "a.json")
        assert read_json(tmp_path / "a.json") == file.game


@pytest.mark.parametrize("arguments", [
    ["--plays", "1-999999999999"], ["--plays", "9" * 5000], ["--plays", "1,1-3,5-" + "9" * 400], ["--plays", "-1"],
    ["--plays", "1", "--handles", "nan", "inf"], ["--plays", "1", "--handles", "1e300", "0"],
    ["--plays", "1", "--handles", "0", "-inf"],
])
def test_arguments(arguments, demo_game_file, tmp_path, capsys):
    for to in ("a.vtt", "a.mp4"):
        assert commands.run(["sequence", str(demo_game_file), "--to", str(tmp_path / to), *arguments]) == 2
        said = capsys.readouterr().err
        assert len(said) < 600 and "Traceback" not in said
    assert not list(tmp_path.glob("a.*"))

"""A sequence of plays of two games leaves as one game's does: the same pictures, each captioned with its game."""

from __future__ import annotations

import json
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from tests.desk.small_game import RATE, make_film, make_game
from workstation.commands import run
from workstation.delivery.segment import play_segments
from workstation.delivery.sequence import Form, SequenceRequest, write_sequence
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.season.joined import join
from workstation.tagging.gamefile import GameFile
from workstation.tagging.inspection import game_in
from workstation.tagging.model import SequenceItem
from workstation.tagging.operations import SetHeading


@pytest.fixture(scope="module")
def season(tmp_path_factory) -> Path:
    """Two games of one film, beside it."""
    folder = tmp_path_factory.mktemp("season")
    made = make_game(folder, make_film(folder))
    for number in (1, 2):
        path = Path(shutil.copy(made, folder / f"week {number}.game"))
        with GameFile.open(path) as file:
            file.do(SetHeading(replace(file.game.heading, title=f"Week {number}", date=f"2026-09-0{number}",
                                       visitors=f"Summit {number}")))
    made.unlink()
    return folder


def third_downs(path: Path):
    game = game_in(path)
    steps = track(load_rulebook(game.heading.rulebook, game.heading.season), [tag.play for tag in game.plays])
    return game, steps, [tag.id for tag, step in zip(game.plays, steps, strict=True) if step.before.down == 3]


def pictures(path: Path) -> int:
    done = subprocess.run(["ffprobe", "-v", "error", "-count_frames", "-select_streams", "v:0", "-show_entries",
                           "stream=nb_read_frames", "-of", "json", str(path)],
                          capture_output=True, text=True, check=True)
    return int(json.loads(done.stdout)["streams"][0]["nb_read_frames"])


def test_the_segments_are_those_of_each_game(season):
    paths = [season / "week 1.game", season / "week 2.game"]
    made = join(paths)
    apart, together = [], []
    for path in paths:
        game, steps, plays = third_downs(path)
        apart += play_segments(game, steps, [SequenceItem(play, 0.2, 0.4) for play in plays])
        together += [SequenceItem(made.play(path, play), 0.2, 0.4) for play in plays]
    joined = play_segments(made.game, made.steps, together, made.origins)
    assert joined and len(joined) == len(apart)
    for here, there in zip(joined, apart, strict=True):
        assert [(part.source.path, part.start, part.end) for part in here.parts] == [
            (part.source.path, part.start, part.end) for part in there.parts]
        for told in ("play", "situation", "result", "home", "visitors", "clock", "score"):
            assert here.fields[told] == there.fields[told]
        assert here.caption == f"{here.fields['date']}  ·  {there.caption}"


def test_a_film_of_two_games_has_all_their_pictures(season, tmp_path):
    paths = [season / "week 2.game", season / "week 1.game"]
    made = join(paths)
    items = [SequenceItem(made.play(path, play)) for path in paths for play in third_downs(path)[2]]
    to = tmp_path / "third downs.mp4"
    write_sequence(SequenceRequest(made.game, made.steps, "third downs", items, origins=made.origins), to)
    seconds = sum(segment.duration for segment in play_segments(made.game, made.steps, items))
    assert pictures(to) == seconds * RATE


def test_captions_and_lists_name_each_game(season, tmp_path):
    paths = [season / "week 1.game", season / "week 2.game"]
    made = join(paths)
    items = [SequenceItem(made.play(path, play)) for path in paths for play in third_downs(path)[2]]
    request = SequenceRequest(made.game, made.steps, "thirds", items, Form.LISTS, origins=made.origins)
    written = write_sequence(request, tmp_path / "thirds")
    text = (written.path / "thirds.vtt").read_text(encoding="utf-8")
    assert text.count("Summit 1") == text.count("Summit 2") == len(items) // 2
    assert {"2026-09-01", "2026-09-02"} <= set(text.replace("\n", " ").split())


def test_a_pack_of_two_games_verifies(season, tmp_path):
    from workstation.delivery.verifying import verify_pack

    paths = [season / "week 1.game", season / "week 2.game"]
    made = join(paths)
    items = [SequenceItem(made.play(path, third_downs(path)[2][0])) for path in paths]
    write_sequence(SequenceRequest(made.game, made.steps, "disputed", items, Form.PACK, origins=made.origins),
                   tmp_path / "pack.zip")
    assert verify_pack(tmp_path / "pack.zip").whole


def test_a_play_that_is_gone_is_no_play(season):
    made = join([season / "week 1.game"])
    assert made.play(season / "week 1.game", 999) is None and made.play(season / "other.game", 1) is None


# -- without a screen ------------------------------------------------------------------------------------------------


def test_games_find_and_breakdown(season, capsys):
    assert run(["season", str(season), "games"]) == 0
    assert "Week 2" in capsys.readouterr().out
    assert run(["season", str(season), "find", "--where", "down=3", "--games", "Week 1"]) == 0
    told = capsys.readouterr().out
    assert "Week 1" in told and "Week 2" not in told and "plays in 1 games" in told
    assert run(["season", str(season), "find", "--where", "down=3", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert {play["down"] for play in found} == {3}
    assert run(["season", str(season), "breakdown", "--rows", "down", "--columns", "kind"]) == 0
    assert "run, range" in capsys.readouterr().out


def test_a_sequence_of_third_downs_over_two_games(season, tmp_path, capsys):
    to = tmp_path / "thirds.vtt"
    assert run(["season", str(season), "sequence", "--where", "down=3", "--to", str(to)]) == 0
    expected = sum(len(third_downs(season / f"week {number}.game")[2]) for number in (1, 2))
    assert to.read_text(encoding="utf-8").count("-->") == expected > 2


def test_breakdowns_are_written_and_saved(season, tmp_path, capsys, monkeypatch):
    monkeypatch.setattr("workstation.season.saved.folder", lambda: tmp_path / "saved")
    to = tmp_path / "breakdown.pdf"
    assert run(["season", str(season), "breakdown", "--rows", "down", "--save", "by down", "--to", str(to)]) == 0
    assert to.exists()
    assert run(["season", str(season), "breakdown", "--saved", "by down", "--to", str(to)]) == 2     # it is there
    assert run(["season", str(season), "breakdown", "--saved", "by down", "--to", str(to), "--overwrite"]) == 0
    assert run(["season", str(season), "breakdown", "--saved", "by hour"]) == 2
    assert "by down" in capsys.readouterr().err


def test_trend_and_reports(season, tmp_path, capsys):
    assert run(["season", str(season), "trend"]) == 0
    assert "Week 2" in capsys.readouterr().out
    assert run(["season", str(season), "report", "--to", str(tmp_path / "reports"), "--games", "Week 1"]) == 0
    assert [path.suffix for path in (tmp_path / "reports").iterdir()] == [".html"]


@pytest.mark.parametrize(("arguments", "said"), [
    (["find", "--where", "weather=rain"], "there is no column weather"),
    (["find", "--where", "down"], "say it like down=3"),
    (["find", "--games", "week"], "names no game, or several"),
    (["breakdown", "--to", "x.docx"], "written as .xlsx"),
    (["sequence", "--to", "x.mkv"], "written as .mp4"),
    (["sequence", "--where", "down=3", "--where", "kind=punt", "--to", "x.vtt"], "no play that fits is on film"),
])
def test_what_is_wrong_is_one_line(season, capsys, arguments, said):
    assert run(["season", str(season), *arguments]) == 2
    error = capsys.readouterr().err.strip()
    assert said in error and "\n" not in error


def test_a_folder_without_games(tmp_path, capsys):
    assert run(["season", str(tmp_path), "games"]) == 2 and "no games" in capsys.readouterr().err
    assert run(["season", str(tmp_path / "nowhere"), "games"]) == 2 and "not a folder" in capsys.readouterr().err

"""The work without a screen, as a person types it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import av
import pandas as pd
import pytest

from tests.footage import run
from workstation.commands import NAMES
from workstation.tagging.gamefile import GameFile
from workstation.tagging.operations import RemovePlay


def workstation(*arguments: str | Path, status: int = 0) -> tuple[str, str]:
    done = subprocess.run([sys.executable, "-m", "workstation", *map(str, arguments)], capture_output=True, text=True,
                          check=False, cwd=Path(__file__).parent.parent)
    assert done.returncode == status, done.stderr
    return done.stdout, done.stderr


@pytest.mark.parametrize("arguments", [
    ["bogus"], ["check"], ["check", "nowhere.game"], ["export", "nowhere.game", "--to", "x"], ["export", "--plays"],
    ["track", "nowhere.csv"], ["track", "pyproject.toml", "--rulebook", "none"], ["verify", "nowhere"],
    ["nowhere.game"],
    ["check", "pyproject.toml"], ["demo"], ["from-json", "pyproject.toml", "--to", "x.game"], ["--bogus"],
    ["sequence", "x.game", "--plays", "three", "--to", "x.mp4"],
    ["sequence", "x.game", "--plays", "9-7", "--to", "x.mp4"], ["from-json", "nowhere.json", "--to", "x.game"]])
def test_wrong_calls_give_one_clear_line_and_status_2(arguments):
    out, error = workstation(*arguments, status=2)
    assert out == ""
    assert len(error.strip().splitlines()) <= 2 and "Traceback" not in error     # bad JSON names its places on a second


@pytest.mark.parametrize("name", NAMES)
def test_every_command_explains_itself(name):
    out, _ = workstation(name, "--help")
    assert out.startswith("usage: ") and "-h, --help" in out


def test_check_prints_a_table_and_json(demo_game_file):
    from workstation.demo.script import MISTAKES

    table, _ = workstation("check", demo_game_file)
    findings = json.loads(workstation("check", demo_game_file, "--json")[0])["findings"]
    assert sorted(finding["rule"] for finding in findings) == sorted(mistake.rule for mistake in MISTAKES)
    for finding in findings:
        assert finding["title"] in table and finding["why"]
    assert table.splitlines()[-1] == f"{len(MISTAKES)} findings"


def test_check_over_several_games_prints_the_trend(demo_game_file):
    out, _ = workstation("check", demo_game_file, demo_game_file)
    assert out.count("findings\n") == 2 and "longer hold expected" in out.split("findings\n")[-1]


def test_export_writes_playable_segments_and_the_sheet(demo_game_file, tmp_path):
    workstation("export", demo_game_file, "--to", tmp_path / "out", "--plays", "3-5")
    with GameFile.open(demo_game_file, read_only=True) as file:
        game = file.game
    shots = {shot.id: shot for shot in game.shots}
    made = sorted((tmp_path / "out").glob("*.mp4"))
    wanted = [tag for tag in game.plays if tag.id in (3, 4, 5) and tag.shot is not None]
    assert len(made) == len(wanted) > 0
    for path, tag in zip(made, wanted, strict=True):
        shot = shots[tag.shot]
        length = float(game.film.time_of(shot.end) - game.film.time_of(shot.start))
        told = json.loads(run("ffprobe", "-v", "error", "-show_format", "-of", "json", str(path)))
        assert abs(float(told["format"]["duration"]) - length) <= 1001 / 30000
        run("ffmpeg", "-v", "error", "-xerror", "-i", str(path), "-f", "null", "-")
    sheet = pd.read_csv(tmp_path / "out" / "plays.csv")
    assert len(sheet) == len(game.plays)
    assert (tmp_path / "out" / "tendencies.csv").exists()


def test_track_prints_the_situation_before_every_play(tmp_path):
    sheet = tmp_path / "plays.csv"
    sheet.write_text("kind,team,choice,kick_to,gain,outcome,spot\n"
                     "coin toss,home,receive,,,,\nkickoff,,,opp 20,,returned,opp 31\nrun,,,,4,,\npass,,,,,incomplete,\n"
                     "run,,,,6,,\n", encoding="utf-8")
    out, _ = workstation("track", sheet)
    lines = out.splitlines()
    assert "kickoff from own 40" in lines[2]
    assert "1st & 10 at own 31" in lines[3] and "2nd & 6 at own 35" in lines[4] and "3rd & 6 at own 35" in lines[5]
    assert lines[-1].startswith("after play 5: 1st & 10 at own 41")


def test_track_tells_the_other_rulings_that_the_rules_allow(tmp_path):
    sheet = tmp_path / "plays.csv"
    sheet.write_text("kind,team,choice,kick_to,gain,outcome,spot,fouls\n"
                     "coin toss,home,receive,,,,,\nkickoff,,,opp 20,,returned,opp 31,\n"
                     "pass,,,,12,complete,,holding by defense\n", encoding="utf-8")
    out, _ = workstation("track", sheet)
    assert "play 3, or: accepted: defensive holding, 10 from the previous spot at own 31" in out


def test_bad_cells_are_reported_all_at_once(tmp_path):
    sheet = tmp_path / "plays.csv"
    sheet.write_text("kind,gain\nrunn,4\nrun,four\n", encoding="utf-8")
    _, error = workstation("track", sheet, status=2)
    assert "runn" in error and "four" in error


def test_sequence_pack_and_verify(demo_game_file, tmp_path):
    for suffix in ("mp4", "otio", "edl", "vtt", "srt"):
        workstation("sequence", demo_game_file, "--plays", "4,5", "--to", tmp_path / f"sequence.{suffix}")
        assert (tmp_path / f"sequence.{suffix}").stat().st_size > 50
    small = tmp_path / "small.mp4"
    workstation("sequence", demo_game_file, "--plays", "4", "--to", small, "--size", "160x90", "--rate", "25",
                "--quality", "30")
    with av.open(str(small)) as container:
        video = container.streams.video[0]
        assert (video.width, video.height, video.average_rate) == (160, 90, 25)
    for wrong in (("--size", "161x90"), ("--size", "wide"), ("--rate", "0"), ("--rate", "1/0"), ("--rate", "1e9999999"),
                  ("--quality", "52")):
        workstation("sequence", demo_game_file, "--plays", "4", "--to", tmp_path / "no.mp4", *wrong, status=2)
    pack = tmp_path / "pack.zip"
    workstation("pack", demo_game_file, "--plays", "4,5", "--to", pack, "--title", "Spot of the ball")
    assert "as they were" in workstation("verify", pack)[0]
    data = bytearray(pack.read_bytes())
    data[len(data) // 2] ^= 1
    pack.write_bytes(data)
    out, _ = workstation("verify", pack, status=1)
    assert "altered: " in out


def test_no_other_footage_is_taken_for_what_was_tagged(demo_game_file, tmp_path):
    film = demo_game_file.parent / "film"
    (film / "CLIP0004.MP4").rename(demo_game_file.parent / "renamed.MP4")           # found again by what is in it
    (film / "CLIP0005.MP4").write_bytes((film / "CLIP0005.MP4").read_bytes()[:5000])
    size = (film / "CLIP0008.MP4").stat().st_size
    (film / "CLIP0008.MP4").write_bytes((film / "CLIP0009.MP4").read_bytes().ljust(size, b"\0"))
    (film / "CLIP0007.MP4").unlink()
    _, error = workstation("export", demo_game_file, "--to", tmp_path / "out", "--shots", status=1)
    told = error.splitlines()
    assert len(told) == 3
    assert "CLIP0005.MP4" in told[0] and "bytes are missing" in told[0]
    assert "CLIP0007.MP4 is not there any more" in told[1]
    assert "CLIP0008.MP4 is not the file that was tagged" in told[2]
    with GameFile.open(demo_game_file, read_only=True) as file:
        game = file.game
    of_8 = next(tag.id for tag in game.plays for shot in game.shots
                if shot.id == tag.shot and game.film.source(shot.start.source).path.name == "CLIP0008.MP4")
    for command, to in (("sequence", "one.mp4"), ("pack", "one.zip")):
        _, error = workstation(command, demo_game_file, "--plays", str(of_8), "--to", tmp_path / to, status=2)
        assert error.count("\n") == 1 and "CLIP0008.MP4 is not the file that was tagged" in error
        assert not (tmp_path / to).exists()


@pytest.mark.parametrize("arguments, told", [
    (["export", "--plays", "3,36,99", "--to", "out"], "there is no play 36, 99; the game has 35 plays"),
    (["report", "--to", "review.txt"], "a report is written as .html or .pdf"),
    (["json", "--to", "nowhere/game.json"], "nowhere is not there; make it first"),
    (["sequence", "--plays", "3", "--to", "sequence.avi"], "is written as .mp4"),
    (["check", "--profile", "nobody's"], "no profile"),
    (["export", "--to", "out", "--pattern", "{colour}"], "there is no {colour}")])
def test_what_cannot_be_is_told_in_one_line(demo_game_file, tmp_path, arguments, told):
    made = [str(tmp_path / word) if before == "--to" else word
            for before, word in zip(["", *arguments], arguments, strict=False)]
    _, error = workstation(made[0], demo_game_file, *made[1:], status=2)
    assert told in error and error.count("\n") == 1


def test_plays_are_named_by_their_number_in_the_list(demo_game_file, tmp_path):
    with GameFile.open(demo_game_file) as file:
        game = file.game
        file.do(RemovePlay(game.plays[0].id))
    workstation("export", demo_game_file, "--to", tmp_path / "out", "--plays", "2")
    (made,) = (tmp_path / "out").glob("*.mp4")
    assert made.name.startswith("002") and str(game.plays[2].play.kind) in made.name


def test_json_there_and_back(demo_game_file, tmp_path):
    workstation("json", demo_game_file, "--to", tmp_path / "game.json")
    workstation("from-json", tmp_path / "game.json", "--to", tmp_path / "again.game")
    with GameFile.open(demo_game_file,
                       read_only=True) as one, GameFile.open(tmp_path / "again.game", read_only=True) as two:
        assert one.game == two.game


def test_a_game_is_only_read(demo_game_file, tmp_path):
    before = demo_game_file.read_bytes()
    workstation("check", demo_game_file)
    workstation("report", demo_game_file, "--to", tmp_path / "review.html")
    assert demo_game_file.read_bytes() == before


def test_a_wheel_finds_its_resources(tmp_path):
    root = Path(__file__).parent.parent
    pip = [sys.executable, "-m", "pip", "--disable-pip-version-check", "--quiet"]
    subprocess.run([*pip, "wheel", "--no-deps", "--no-build-isolation", "-w", str(tmp_path), str(root)], check=True)
    (wheel,) = tmp_path.glob("*.whl")
    site = tmp_path / "site"
    subprocess.run([*pip, "install", "--no-deps", "--target", str(site), str(wheel)], check=True)
    code = ("import workstation; from workstation.football.rulebook import load_rulebook, rulebook_names; "
            "from workstation.coverage.profile import load_profile; "
            "from workstation.delivery.report_html import html; from importlib.resources import files; "
            "[load_rulebook(name) for name in rulebook_names()]; load_profile(); import workstation.demo.script; "
            "assert (files('workstation.resources') / 'papers' / 'review.html').is_file(); print(workstation.__file__)")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=tmp_path,
                          env={**os.environ, "PYTHONPATH": str(site)})
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip().startswith(str(site))


def test_track_reads_spoken_lines_and_prints_why_it_is_not_sure(tmp_path):
    (tmp_path / "game.txt").write_text("home wins the toss and defers\nkickoff touchback\nrun 6\npass\n",
                                       encoding="utf-8")
    out, _ = workstation("track", tmp_path / "game.txt")
    assert "play 4: how far was not said" in out and "play 4, assumed: no gain was said" in out


def test_track_as_json_tells_each_play_before_and_after(tmp_path):
    (tmp_path / "game.txt").write_text("home wins the toss and defers\nkickoff touchback\nrun 6\n", encoding="utf-8")
    told = json.loads(workstation("track", "--json", tmp_path / "game.txt")[0])
    assert [play["number"] for play in told] == [1, 2, 3]
    last = told[-1]
    assert set(last) == {"number", "play", "before", "after", "explanation", "certainty", "reasons", "line",
                         "other_rulings"}
    assert set(last["after"]) == {"offense", "next", "down", "yards_to_gain", "ball_on", "ball_on_spoken", "period",
                                  "clock", "score_home", "score_visitors", "timeouts_home", "timeouts_visitors"}
    assert last["after"]["down"] == 2 and last["after"]["ball_on_spoken"] == "own 26" and last["certainty"] == "certain"


def test_policy_tells_article_by_article(demo_game_file):
    out, _ = workstation("policy", demo_game_file, "--policy", "iowa", status=1)
    assert "read 2026" in out and "  5: not met." in out and "  4: cannot be judged." in out
    out, _ = workstation("policy", demo_game_file, "--policy", "uil", "--json", status=1)
    assert {"met", "not met", "cannot be judged"} >= {each["verdict"] for each in json.loads(out)}
    _, wrong = workstation("policy", demo_game_file, status=2)
    assert "names no policy" in wrong and "iowa" in wrong
    _, wrong = workstation("policy", demo_game_file, "--policy", "no_such_league", status=2)
    assert "there is no policy 'no_such_league'" in wrong


def test_practice_says_what_belongs_between_the_plays(demo_game_file):
    out, _ = workstation("practice", demo_game_file)
    assert "down marker" in out and "scoreboard" in out and "before play" in out

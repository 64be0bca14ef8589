"""Small things that gave way once: names that a terminal cannot show, millions of nothing, pipes, negative
exponents."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from workstation import commands
from workstation.tagging import exchange
from workstation.tagging.exchange import ExchangeError, read_json
from workstation.tagging.gamefile import GameFile, NotAGameFile

ROOT = Path(__file__).parents[1]


@pytest.mark.parametrize("name", ["Freitag – Ölberg.game", "\udcff\udcfe.game"])
@pytest.mark.parametrize("environment",
                         [{"LC_ALL": "C"}, {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
                                         {"LC_ALL": "C.UTF-8"}, {"PYTHONIOENCODING": "ascii"}])
def test_names_that_the_terminal_cannot_show(tmp_path, environment, name):
    path = tmp_path / "a.game"
    GameFile.create(path).close()
    os.rename(path, os.fsencode(tmp_path) + b"/" + os.fsencode(name))
    done = subprocess.run([sys.executable, "-m", "workstation", "check", "--json",
                           os.fsencode(tmp_path) + b"/" + os.fsencode(name)],
                          capture_output=True, cwd=ROOT, check=False, env={**os.environ, **environment})
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)["game"].encode("utf-8", "surrogateescape")
    assert told.endswith(os.fsencode(name))         # the name's bytes, whatever the locale makes of them
    done = subprocess.run([sys.executable, "-m", "workstation", "check", b"/" + os.fsencode(name)],
                          capture_output=True, cwd=ROOT, check=False, env={**os.environ, **environment})
    assert done.returncode == 2 and b"Traceback" not in done.stderr


def test_millions_of_nothing_are_refused_before_they_are_read(tmp_path, monkeypatch):
    monkeypatch.setattr(exchange, "MOST_PARTS", 50_000)
    path = tmp_path / "a.json"
    for notes in ("{}," * 60_000 + "{}", "[]," * 60_000 + "[]", "1," * 60_000 + "1"):
        path.write_text(f'{{"format": "{exchange.FORMAT}", "version": {exchange.VERSION}, "notes": [{notes}]}}')
        with pytest.raises(ExchangeError, match="more than 50,000 parts"):
            read_json(path)
    path.write_text(
        f'{{"format": "{exchange.FORMAT}", "version": {exchange.VERSION}, "notes": [{"{}," * 20_000}{{}}]}}')
    with pytest.raises(ExchangeError) as error:
        read_json(path)
    assert len(error.value.problems) < 2000


def test_a_pipe_is_called_a_pipe(tmp_path):
    os.mkfifo(tmp_path / "a.game")
    with pytest.raises(NotAGameFile, match="a pipe or a device"):
        GameFile.open(tmp_path / "a.game")
    (tmp_path / "b.game").mkdir()
    with pytest.raises(NotAGameFile, match="a folder"):
        GameFile.open(tmp_path / "b.game")


def test_handles_may_be_negative_in_any_form(demo_game_file, tmp_path):
    for number, (before, after) in enumerate((("-1e-1", "-2.5E-1"), ("-.5", "-0"), ("1e-1", "-1"))):
        to = tmp_path / f"{number}.vtt"
        assert commands.run(["sequence", str(demo_game_file), "--plays", "2", "--handles", before, after, "--to",
                             str(to)]) == 0
        assert to.exists()


def test_what_a_game_says_cannot_move_the_terminal(tmp_path, capsys):
    evil = "\x1b[2J\x1b[H\u202e0 findings\r\x9b2J"
    path = tmp_path / "a.game"
    from workstation.tagging.model import Game, Heading
    game = Game(Heading(title=evil, home=evil, visitors=evil, crew=evil, date="2026-10-02"))
    GameFile.create(path, game=game).close()
    for arguments in (["check", str(path), str(path)], ["check", str(path)], ["check", str(path), "--profile", evil],
                      ["sequence", str(path), "--plays", evil, "--to", "a.vtt"],
                      ["json", str(path), "--to", evil + "/a.json"]):
        commands.run(arguments)
        told = capsys.readouterr()
        assert not any(letter in told.out + told.err for letter in "\x1b\r\u202e\x9b"), arguments

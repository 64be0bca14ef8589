"""Nothing here needs, or tries to reach, another machine: commands run with every socket forbidden."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
FORBIDDEN = """
import socket, sys
def refuse(*arguments, **named):
    raise AssertionError("a socket was opened")
class Refused(socket.socket):
    connect = connect_ex = bind = sendto = refuse
socket.socket = Refused
socket.getaddrinfo = socket.create_connection = socket.gethostbyname = refuse
from workstation.__main__ import main
sys.exit(main(sys.argv[1:]))
"""


def run(*arguments) -> str:
    done = subprocess.run([sys.executable, "-c", FORBIDDEN, *map(str, arguments)], capture_output=True, text=True,
                          cwd=ROOT, check=False)
    assert done.returncode == 0 and "a socket was opened" not in done.stderr, done.stderr
    return done.stdout


def test_the_commands_open_no_socket(demo_game_file, tmp_path):
    assert "findings" in run("check", demo_game_file)
    run("export", demo_game_file, "--to", tmp_path / "out", "--plays", "3-4")
    run("sequence", demo_game_file, "--plays", "3-4", "--to", tmp_path / "two.mp4")
    run("report", demo_game_file, "--to", tmp_path / "report.html")
    assert list((tmp_path / "out").glob("*.mp4")) and (tmp_path / "two.mp4").stat().st_size


def test_the_check_works_where_there_is_no_network_at_all(demo_game_file):
    """In a network namespace of its own, native libraries cannot reach out either."""
    unshare = shutil.which("unshare")
    if (not unshare or os.name != "posix"
            or subprocess.run([unshare, "-n", "true"], check=False, capture_output=True).returncode):
        pytest.skip("no right to make a network namespace here")
    done = subprocess.run([unshare, "-n", sys.executable, "-m", "workstation", "check", demo_game_file],
                          capture_output=True, text=True, cwd=ROOT, check=False)
    assert done.returncode == 0, done.stderr
    assert "findings" in done.stdout

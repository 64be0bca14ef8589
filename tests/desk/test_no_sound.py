"""The desk on a machine without a sound card: a quiet terminal, and one line about it in the window."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from workstation.film.playback import sound_output

RUN = """
import sys
from pathlib import Path
from PySide6.QtCore import QSettings
from PySide6.QtTest import QTest
from workstation.desk.app import make_application
from workstation.desk.window import MainWindow
make_application()
window = MainWindow(QSettings(sys.argv[2], QSettings.Format.IniFormat))
told = []
tell = window.toast.tell
window.toast.tell = lambda words: (told.append(words), tell(words))
window.show()
for _ in range(2):
    window.opening.open_game(Path(sys.argv[1]))
    for _ in range(4000):
        QTest.qWait(5)
        if (window.session is not None and not window.session.player.frame.isNull()
                and window.session.player.engine_name):
            break
    begun = window.session.time
    window.session.play()
    for _ in range(4000):
        QTest.qWait(5)
        if window.session.time > begun + 1:
            break
    print("played", float(window.session.time - begun), window.session.player.engine_name)
    window.close_game()
print("told", sum("No sound here" in words for words in told))
window.close()
"""


@pytest.fixture
def with_sound_track(small_film, small_game):
    """The small game on a film that has sound, which is what a player looks for an output for."""
    film = small_film.sources[0].path
    made = small_game.parent / "heard.mp4"
    subprocess.run(["ffmpeg", "-y", "-loglevel", "error", "-i", str(film), "-f", "lavfi", "-i", "sine=duration=20",
                    "-map", "0:v", "-map", "1:a", "-c:v", "copy", "-c:a", "aac", "-t", "20", str(made)], check=True)
    from workstation.film.sources import open_film
    from workstation.tagging.gamefile import GameFile
    from workstation.tagging.model import Game, Heading
    path = small_game.parent / "heard.game"
    GameFile.create(path, game=Game(Heading("Heard", "Summit", "Harbor"), open_film([made]))).close()
    return path


def test_without_a_sound_card_the_terminal_stays_quiet_and_the_window_says_so_once(with_sound_track, tmp_path):
    bare = {name: value for name, value in os.environ.items()
            if name not in ("FILM_WORKSTATION_VLC", "PULSE_SERVER", "PIPEWIRE_REMOTE")}
    ran = subprocess.run([sys.executable, "-c", RUN, str(with_sound_track), str(tmp_path / "desk.ini")],
                         capture_output=True, text=True, env=bare | {"XDG_RUNTIME_DIR": str(tmp_path)}, timeout=180)
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout.count("played 1.") == 2, ran.stdout
    noise = [line for line in ran.stderr.splitlines() if "ALSA" in line or "audio" in line or "vlcpulse" in line]
    assert noise == []
    if "VLC" in ran.stdout and not sound_output._CARDS.exists():
        assert "told 1" in ran.stdout


def test_a_card_or_a_sound_server_is_sound(tmp_path, monkeypatch):
    monkeypatch.setattr(sys, "platform", "linux")
    for name in ("PULSE_SERVER", "PIPEWIRE_REMOTE"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    cards = tmp_path / "cards"
    monkeypatch.setattr(sound_output, "_CARDS", cards)
    assert not sound_output.has_sound_output()
    cards.write_text("--- no soundcards ---\n")
    assert not sound_output.has_sound_output()
    cards.write_text(" 0 [PCH            ]: HDA-Intel - HDA Intel PCH\n                      HDA Intel PCH at "
                     "0xf7130000 irq 32\n")
    assert sound_output.has_sound_output()
    cards.unlink()
    (tmp_path / "pulse").mkdir()
    (tmp_path / "pulse" / "native").touch()
    assert sound_output.has_sound_output()

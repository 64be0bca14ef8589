"""A film of very many camera files, from the folder to the desk: ``python -m tests.many_files 1500``.

Every file is a real one with a digest of its own. The folder is read, a game is begun on it, shots and plays are tagged
over the whole film, the game is checked, exported and opened in the desk, which shows its footage page; a hundred files
then move to another folder and are found again, and one is written over by another and told. Prints the processor's
seconds.
"""

from __future__ import annotations

import os
import struct
import sys
import tempfile
import time
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from tests.footage import run


def make_files(folder: Path, count: int) -> list[Path]:
    folder.mkdir()
    one = folder.parent / "one.mp4"
    run("ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i", "testsrc2=size=96x64:rate=25:duration=1", "-f",
        "lavfi", "-i", "sine=duration=1", "-c:v", "libx264", "-g", "5", "-c:a", "aac", str(one))
    data, files = one.read_bytes(), []
    for number in range(count):
        path = folder / f"CLIP{number:05}.MP4"
        path.write_bytes(data + struct.pack(">I4sQ", 16, b"free", number))
        files.append(path)
    return files


def main(count: int) -> list[str]:
    from PySide6.QtCore import QSettings

    from workstation import commands
    from workstation.desk.app import make_application
    from workstation.desk.window import MainWindow
    from workstation.film.sources import open_film
    from workstation.film.time import Instant
    from workstation.football.plays import Play, PlayKind
    from workstation.tagging.gamefile import GameFile
    from workstation.tagging.model import Game, PlayTag, Shot, ShotKind
    wrong: list[str] = []
    began = time.process_time()

    def tell(what: str, right: bool) -> None:
        nonlocal began
        print(f"{what:50}{time.process_time() - began:8.1f} s  {'right' if right else 'WRONG'}", flush=True)
        if not right:
            wrong.append(what)
        began = time.process_time()

    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        os.environ["FILM_WORKSTATION_CACHE"] = str(folder / "cache")
        files = make_files(folder / "film", count)
        tell("make the files", True)
        film = open_film(files)
        tell("read the folder", len(film.sources) == count and not any(source.problem for source in film.sources))
        shots = tuple(Shot(number + 1, source.first, Instant(source.id, source.end.pts), ShotKind.PLAY)
                      for number, source in enumerate(film.sources))
        plays = tuple(PlayTag(number + 1, float(number), Play(PlayKind.RUN, gain=2.0), number + 1)
                      for number in range(0, count, 5))
        path = folder / "Friday.game"
        GameFile.create(path, game=Game(film=film, shots=shots, plays=plays)).close()
        tell("make the game", path.exists())
        tell("check", commands.run(["check", str(path)]) == 0)
        tell("write JSON and captions",
             commands.run(["json", str(path), "--to", str(folder / "a.json")]) == 0 and commands.run(
            ["sequence", str(path), "--plays", f"1-{len(plays)}", "--to", str(folder / "a.vtt")]) == 0)
        tell("export 20 plays",
             commands.run(["export", str(path), "--plays", "1-20", "--to", str(folder / "out")]) == 0)
        app = make_application()
        window = MainWindow(QSettings(str(folder / "desk.ini"), QSettings.Format.IniFormat))
        window.show()

        def opened() -> bool:
            window.message.hide()
            window.opening.open_game(path)
            until = time.monotonic() + 300
            while (window.session is None or window.jobs.running) and time.monotonic() < until:
                app.processEvents()
            for _ in range(100):
                app.processEvents()
            return window.session is not None

        tell("open it in the desk", opened() and not window.message.isVisible())
        window.act("desk.files")
        app.processEvents()
        tell("show its files", True)
        window.close_game()
        (folder / "moved").mkdir()
        for file in files[:100]:
            file.rename(folder / "moved" / file.name)
        (files[200]).write_bytes(files[201].read_bytes())
        right = opened()
        bad = [source.path.name for source in window.session.film.sources if source.problem] if right else []
        moved = [source.path.parent.name for source in window.session.film.sources[:100]] if right else []
        tell("find a hundred again, tell one that was replaced", bad == [files[200].name] and set(moved) == {"moved"})
        window.close()
    return wrong


if __name__ == "__main__":
    wrong = main(int(sys.argv[1]) if len(sys.argv) > 1 else 150)
    print(f"{len(wrong)} wrong")
    os._exit(bool(wrong))

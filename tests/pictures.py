"""The pictures of the guide and the README, made from the demo game in the real window.

    python -m tests.pictures [--demo DIR] [--to DIR]

``DIR`` of ``--demo`` is a demo game that ``python -m workstation demo`` filmed; without it one is filmed. The game is
copied first and stays as it is. Needs no display.
"""

from __future__ import annotations

import argparse
import os
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from math import isnan
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("FILM_WORKSTATION_VLC", "--aout=dummy")
os.environ.setdefault("FILM_WORKSTATION_STATE", tempfile.mkdtemp(prefix="state-"))

from PIL import Image
from PySide6.QtCore import QSettings
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

TO = Path(__file__).parent.parent / "resources" / "guide" / "pictures"
LARGEST = 120_000       # bytes of a picture
ALL = 1_500_000         # of all of them
SIZE = (1280, 800)
START = (1100, 480)     # the start page leaves much room around it
_RUN = 2                # the place of a run among the demo's plays, and of its scene in the script
NAMES = ("start", "tag", "reading", "review", "finding", "yards", "sequence", "report")


def keep(image: Image.Image, name: str, to: Path) -> None:
    """Write a picture as WebP, as good and then as large as its bytes allow."""
    image = image.convert("RGB")
    path = to / f"{name}.webp"
    for quality in (86, 80, 74, 68, 62, 56, 50):
        image.save(path, quality=quality, method=6)
        if path.stat().st_size <= LARGEST:
            break
    print(f"{path.name}: {image.width} x {image.height}, {path.stat().st_size // 1000} kB at {quality}", flush=True)


def grabbed(widget: QWidget) -> Image.Image:
    """What a widget shows now."""
    shown = widget.grab().toImage().convertToFormat(widget.grab().toImage().Format.Format_RGBA8888)
    return Image.frombytes("RGBA", (shown.width(), shown.height()), bytes(shown.constBits()), "raw", "RGBA",
                           shown.bytesPerLine())


def wait(until: Callable[[], object], seconds: float = 120) -> None:
    """Let the window work until something holds; raises TimeoutError."""
    end = time.monotonic() + seconds
    while not until():
        if time.monotonic() > end:
            raise TimeoutError("the window did not come as far as the picture needs")
        QApplication.processEvents()
        time.sleep(0.01)


def rest(seconds: float) -> None:
    """Let the window paint what is still coming."""
    end = time.monotonic() + seconds
    wait(lambda: time.monotonic() > end, seconds + 60)


def make(game: Path, to: Path, only: tuple[str, ...] = NAMES) -> None:
    """Make the pictures named in *only*."""
    from tests.desk.driver import press
    from workstation.commands import run
    from workstation.desk.app import make_application
    from workstation.desk.theme import Theme
    from workstation.desk.window import MainWindow

    app = make_application()
    theme = Theme(app)
    theme.apply(dark=True, scale=1)
    folder = Path(tempfile.mkdtemp(prefix="pictures-"))
    window = MainWindow(QSettings(str(folder / "desk.ini"), QSettings.Format.IniFormat), theme)
    window.resize(*START)
    window.show()
    rest(1)
    if "start" in only:
        keep(grabbed(window), "start", to)
    window.resize(*SIZE)
    window.opening.open_game(game)
    wait(lambda: window.session is not None and not window.session.player.frame.isNull())
    window.go_to("Tag")
    _see(window, 6)
    rest(6)
    window.toast.hide()
    if "tag" in only:
        keep(grabbed(window), "tag", to)
    if "reading" in only:
        room = window.room
        room.line.setFocus()
        room.line.setText("run 6 holding")
        rest(2)
        panel = room.panel if isinstance(getattr(room, "panel", None), QWidget) else window
        keep(grabbed(panel), "reading", to)
        press(window, "tag.clear")
        rest(0.5)
    window.ask_for("Review")
    wait(lambda: window.room is not None and window.room.name == "Review")
    rest(3)
    for _ in range(3):
        press(window, "review.next")
        rest(1)
    press(window, "review.toggle")
    rest(5)
    window.session.pause()
    rest(2)
    window.toast.hide()
    if "review" in only:
        keep(grabbed(window), "review", to)
    if "finding" in only:
        keep(grabbed(window.room.explanation), "finding", to)
    if "yards" in only:
        _see(window, _RUN)
        rest(3)
        window.act("desk.yards")
        page = window.overlays.made["yards"]
        wait(lambda: all(not side.view.image.isNull() for side in page.sides))
        for side, spot in zip(page.sides, _ball_seen(), strict=True):
            side.spot = spot
        page.showEvent(QShowEvent())
        wait(lambda: page.found is not None)
        rest(2)
        keep(grabbed(window), "yards", to)
        press(window, "yards.leave")
    window.ask_for("Sequence")
    wait(lambda: window.room is not None and window.room.name == "Sequence")
    rest(4)
    press(window, "sequence.add_with_before")
    for field in window.room.findChildren(QLineEdit):
        if field.text().endswith("exports"):
            field.setText("For Monday")     # not a folder of whoever makes the pictures
    rest(5)
    window.toast.hide()
    if "sequence" in only:
        keep(grabbed(window), "sequence", to)
    window.close()
    if "report" in only:
        report = folder / "report.pdf"
        run(["report", str(game), "--to", str(report)])
        keep(_page(report, 2), "report", to)
    shutil.rmtree(folder)


def _see(window, number: int) -> None:
    window.session.see_play(window.session.game.plays[number].id, window.session.angle)


def _ball_seen() -> list[tuple[float, float]]:
    """Where the ball is in the pictures of that run's snap and dead ball, as fractions."""
    from workstation.demo.camera import aims
    from workstation.demo.choreography import stage
    from workstation.demo.film_it import picture_at
    from workstation.demo.script import SCENES
    from workstation.demo.view import HEIGHT, WIDTH

    from workstation.tagging.model import MomentKind

    scene, moves = SCENES[_RUN], stage(SCENES[_RUN], _RUN)
    looks, spots = aims(scene, moves, _RUN), []
    for kind in (MomentKind.SNAP, MomentKind.DEAD_BALL):
        at = picture_at(scene.at(kind))
        x, y, _ = next(place for place in moves.ball[at:0:-1] if not isnan(place[0]))
        right, down = looks[at].pixel(x, y, 0, 1)
        spots.append((right / WIDTH, down / HEIGHT))
    return spots


def _page(path: Path, number: int) -> Image.Image:
    """A page of a PDF, from 1."""
    from PySide6.QtCore import QSize
    from PySide6.QtPdf import QPdfDocument

    document = QPdfDocument()
    document.load(str(path))
    points = document.pagePointSize(number - 1)
    shown = document.render(number - 1, QSize(900, round(900 * points.height() / points.width())))
    shown = shown.convertToFormat(shown.Format.Format_RGBA8888)
    page = Image.frombytes("RGBA", (shown.width(), shown.height()), bytes(shown.constBits()), "raw", "RGBA",
                           shown.bytesPerLine())
    ground = Image.new("RGBA", page.size, "white")
    ground.alpha_composite(page)
    return ground


def main() -> int:
    """Make them all, and say how large they are."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--demo", type=Path)
    parser.add_argument("--to", type=Path, default=TO)
    parser.add_argument("--only", nargs="*", choices=NAMES, default=list(NAMES))
    arguments = parser.parse_args()
    own = Path(tempfile.mkdtemp(prefix="demo-")) / "demo"
    if arguments.demo is None:
        from workstation.demo.game_file import write_demo_game
        game = write_demo_game(own, end_zone=True)
    else:
        shutil.copytree(arguments.demo, own)
        game = next(path for path in own.glob("*.game") if "(earlier" not in path.name)
    arguments.to.mkdir(parents=True, exist_ok=True)
    make(game, arguments.to, tuple(arguments.only))
    shutil.rmtree(own.parent)
    whole = sum(path.stat().st_size for path in arguments.to.iterdir())
    print(f"{whole // 1000} kB in all")
    return 0 if whole <= ALL else 1


if __name__ == "__main__":
    sys.exit(main())

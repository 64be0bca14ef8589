"""What the commands share: what they print, what they take from a person, how they say that something is wrong."""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Callable, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any, NoReturn, TextIO

from .delivery.sequence import Written
from .ranges import Range
from .tagging.ranges import HANDLE
from .visible import visible, visible_lines

_DIGITS = 9
_NEGATIVE = re.compile(r"-(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$|-inf$|-nan$", re.IGNORECASE)
_SIDES = range(16, 8193)      # pixels
_QUALITIES = range(52)
MOST_SOUND_TRACKS = 16
_PLAY_NUMBERS = Range(1, 100_000)


def program() -> str:
    """How the program is called here: by its own name where it is installed, else as a module of Python."""
    name = "film-workstation"
    return name if getattr(sys, "frozen", False) or Path(sys.argv[0]).stem == name else "python -m workstation"


def say(text: object = "", file: TextIO | None = None) -> None:
    """Print a text of several lines; what would move or hide others on a terminal is written out."""
    print(visible_lines(str(text)), file=file)


class Wrong(Exception):
    """What is wrong with a call, for a person, in one line."""


class CommandParser(argparse.ArgumentParser):
    """Parses a call; what is wrong with it is one line."""

    def __init__(self, *arguments: Any, **named: Any):
        super().__init__(*arguments, **named)
        self._negative_number_matcher = _NEGATIVE       # argparse's own takes -1e-1 for an option

    def error(self, message: str) -> NoReturn:
        """Say what is wrong, and end."""
        message = message if len(message) <= 400 else f"{message[:400]}..."
        say(f"{self.prog}: {message} (see {self.prog} --help)", file=sys.stderr)
        sys.exit(2)


def shows_all() -> bool:
    """Whether standard output takes every character."""
    return (sys.stdout.encoding or "").lower().replace("-", "") in ("utf8", "utf16")


def bar_for(doing: str) -> Callable[[float], None]:
    """Progress on standard error, only where a person can see it."""
    if not sys.stderr.isatty():
        return lambda share: None

    def tell(share: float) -> None:
        print(f"\r{doing}: {share:4.0%}", end="\n" if share >= 1 else "", file=sys.stderr, flush=True)

    return tell


def print_table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """Print rows under their heads, each column as wide as it needs."""
    rows = [[visible(cell) for cell in row] for row in rows]
    widths = [max(len(row[column]) for row in [head, *rows]) for column in range(len(head))]
    for row in [head, *rows]:
        say("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())


def _plays(text: str) -> list[int]:
    """``3,5,7-9`` as a list of numbers of plays. Raises ValueError for anything else."""
    numbers: list[int] = []
    for piece in text.split(","):
        first, _, last = piece.partition("-")
        span = range(_number(first), _number(last or first) + 1)
        if not span:
            raise ValueError(f"{piece} runs backwards")
        numbers += span
    return numbers


def _number(text: str) -> int:
    """The number of a play. Raises ValueError for what no game has."""
    number = int(text[:_DIGITS + 1])
    if number not in _PLAY_NUMBERS or len(text) > _DIGITS:
        raise ValueError(f"a game has no play {text[:40]}")
    return number


def _seconds(text: str) -> float:
    """Extra seconds either side of a shot. Raises ValueError for what is no length of film."""
    seconds = float(text)
    if seconds not in HANDLE:
        raise ValueError(f"expected {HANDLE} seconds")
    return seconds


def _size(text: str) -> tuple[int, int]:
    """Width and height of a film. Raises ValueError for what no film has, and for odd numbers, which 4:2:0 has no place
    for."""
    width, height = (int(number) for number in text.lower().split("x"))
    if not all(side in _SIDES and side % 2 == 0 for side in (width, height)):
        raise ValueError(f"expected two even numbers from {_SIDES.start} to {_SIDES.stop - 1}")
    return width, height


def _rate(text: str) -> Fraction:
    """Pictures a second. Raises ValueError for what no film has."""
    rate = Fraction(text)
    if not 1 <= rate <= 240:
        raise ValueError("expected 1 to 240 pictures a second")
    return rate


def _quality(text: str) -> int:
    """x264's rate factor. Raises ValueError for what it has not."""
    quality = int(text)
    if quality not in _QUALITIES:
        raise ValueError(f"expected {_QUALITIES.start} to {_QUALITIES.stop - 1}")
    return quality


_size.__name__ = "size (like 1280x720)"
_rate.__name__ = "rate (like 30 or 30000/1001)"
def _sound_track(text: str) -> int:
    track = int(text)
    if not 1 <= track <= MOST_SOUND_TRACKS:
        raise ValueError(f"expected 1 to {MOST_SOUND_TRACKS}")
    return track


_sound_track.__name__ = f"sound track (1 to {MOST_SOUND_TRACKS})"
_quality.__name__ = "quality (0 to 51)"
_seconds.__name__ = "number of seconds"
_plays.__name__ = "list of plays (like 3,5,7-9)"


def tell_written(written: Written) -> int:
    """Print where a sequence lies and what a person should know of it; 1 if some of it could not be made."""
    for line in (str(written.path), *written.notes):
        say(line)
    if written.not_filmed:
        say(f"{written.not_filmed} of these plays were not filmed", file=sys.stderr)
    for line in written.missing:
        say(line, file=sys.stderr)
    return 1 if written.missing else 0


def handles(made: CommandParser) -> None:
    """Let the handles of plays be named."""
    made.add_argument("--handles", type=_seconds, nargs=2, default=(0, 0), metavar=("BEFORE", "AFTER"),
                      help="extra seconds either side of each shot")


def chosen_plays(made: CommandParser, required: bool) -> None:
    """Let plays and their handles be named."""
    made.add_argument("--plays", type=_plays, required=required, help="numbers of plays, in order: 3,5,7-9")
    handles(made)


def chosen_angles(made: CommandParser, in_one: bool = True) -> None:
    """Let the angles that show each play be named; *in_one* also whether they stand in one picture, and the sound."""
    made.add_argument("--angles", type=_names, default=(), metavar="NAMES",
                      help="angles that show each play, by name: high,\"end zone\"; default: the first one")
    if in_one:
        made.add_argument("--beside", action="store_true",
                          help="show the angles beside each other in one picture, in step; default: one after another")
        made.add_argument("--sound-of", metavar="NAME", help="the angle whose sound is heard; default: of the picture")


def _names(text: str) -> tuple[str, ...]:
    """Names parted by commas; quotes that a shell left are taken off."""
    names = tuple(name.strip().strip("\"'").strip() for name in text.split(","))
    if not all(names):
        raise ValueError("expected names parted by commas")
    return names


_names.__name__ = "list of angles (like high,\"end zone\")"


def rendered_form(made: CommandParser) -> None:
    """Let size, rate and quality of a rendered film be named."""
    made.add_argument("--size", type=_size, metavar="WIDTHxHEIGHT",
                      help="of a rendered film; default: of most of the footage")
    made.add_argument("--rate", type=_rate,
                      help="pictures a second of a rendered film; default: of most of the footage")
    made.add_argument("--quality", type=_quality, default=18,
                      help="of a rendered film, 0 lossless to 51, lower is better; "
                      "default: %(default)s")
    made.add_argument("--sound-track", type=_sound_track, default=1,
                      help="of the footage, counted from 1, for a rendered film; default: the first, which "
                      "players play (copies keep all)")


def drawings(made: CommandParser) -> None:
    """Let what was drawn be left out, or the film stand still for it."""
    made.add_argument("--no-drawings", action="store_true", help="leave out what was drawn on the picture")
    made.add_argument("--freeze", action="store_true",
                      help="let the film stand still at each drawing of one moment")


def overwriting(made: CommandParser) -> None:
    """Let a file be replaced."""
    made.add_argument("--overwrite", action="store_true",
                      help="replace a file that is there already (never footage, a game file or a pack)")

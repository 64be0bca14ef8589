"""What the commands share: what they print, what they take from a person, how they say that something is wrong."""

from __future__ import annotations

import argparse
import json
import re
import sys
from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Any, NoReturn, TextIO, TypeVar

from .delivery.sequence import Form, Written
from .ranges import Range
from .tagging.ranges import HANDLE
from .visible import visible, visible_lines

_LONGEST = 40           # characters of a number
_NEGATIVE = re.compile(r"-(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$|-inf$|-nan$", re.IGNORECASE)
_SIDES = Range(16, 8192)      # pixels
MOST_SOUND_TRACKS = 16
Number = TypeVar("Number", int, float, Fraction)


def program() -> str:
    """How the program is called here: by its own name where it is installed, else as a module of Python."""
    name = "film-workstation"
    return name if getattr(sys, "frozen", False) or Path(sys.argv[0]).stem == name else "python -m workstation"


def say(text: object = "", file: TextIO | None = None) -> None:
    """Print a text of several lines; what would move or hide others on a terminal is written out."""
    print(visible_lines(str(text)), file=file)


class Wrong(ValueError):
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


def bar_for(doing: str) -> Callable[[float], None]:
    """Progress on standard error, only where a person can see it."""
    if not sys.stderr.isatty():
        return lambda share: None

    def tell(share: float) -> None:
        print(f"\r{doing}: {share:4.0%}", end="\n" if share >= 1 else "", file=sys.stderr, flush=True)

    return tell


def counting_bar(doing: str) -> Callable[[float, float], None]:
    """Progress as :func:`bar_for` shows it, told as what is done of all."""
    bar = bar_for(doing)
    return lambda done, of: bar(done / of)


def print_table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """Print rows under their heads, each column as wide as it needs."""
    rows = [[visible(cell) for cell in row] for row in rows]
    widths = [max(len(row[column]) for row in [head, *rows]) for column in range(len(head))]
    for row in [head, *rows]:
        say("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())


def say_json(value: object) -> None:
    """Print a value as JSON, with the characters that standard output takes."""
    takes_all = (sys.stdout.encoding or "").lower().replace("-", "") in ("utf8", "utf16")
    print(json.dumps(value, indent=1, ensure_ascii=not takes_all))


def existing(path: Path, wanted: str = "a game file") -> Path:
    """The path of what is there. Raises Wrong with what is *wanted* if nothing is."""
    if not path.exists():
        raise Wrong(f"{path} is not there; name {wanted}")
    return path


Command = Callable[[str, Callable[[argparse.Namespace], int], str], CommandParser]


def commands_of(parser: CommandParser, title: str, metavar: str) -> tuple[Command, Iterable[str]]:
    """Let a parser take commands: a function that adds one by name, work and help, and the names of all."""
    commands = parser.add_subparsers(title=title, metavar=metavar, required=True, parser_class=CommandParser)

    def command(name: str, work: Callable[[argparse.Namespace], int], about: str) -> CommandParser:
        made = commands.add_parser(name, help=about, description=about)
        made.set_defaults(work=work)
        return made

    return command, commands.choices


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


def _size(text: str) -> tuple[int, int]:
    """Width and height of a film. Raises ValueError for what no film has, and for odd numbers (4:2:0)."""
    width, height = (int(number) for number in text.lower().split("x"))
    if not all(side in _SIDES and side % 2 == 0 for side in (width, height)):
        raise ValueError(f"expected two even numbers from {_SIDES}")
    return width, height


def names_in(text: str) -> tuple[str, ...]:
    """Names parted by commas, none in an empty text; quotes that a shell left are taken off. Raises Wrong."""
    found = tuple(name.strip().strip("\"'").strip() for name in text.split(",")) if text.strip() else ()
    if not all(found):
        raise Wrong(f"{text!r}: expected names parted by commas")
    return found


def _fraction(text: str) -> Fraction:
    """A fraction of digits; an exponent could make one that takes hours to compute. Raises ValueError."""
    if not re.fullmatch(r"[0-9]+(\.[0-9]+|/0*[1-9][0-9]*)?", text):
        raise ValueError("expected a number or a fraction")
    return Fraction(text)


def _within(kind: Callable[[str], Number], allowed: Range, name: str) -> Callable[[str], Number]:
    """A reader of numbers in a range for argparse, which says its name where it raises ValueError."""
    def read(text: str) -> Number:
        number = kind(text[:_LONGEST])
        if number not in allowed or len(text) > _LONGEST:
            raise ValueError(f"expected {allowed}")
        return number

    read.__name__ = name
    return read


_size.__name__ = "size (like 1280x720)"
_plays.__name__ = "list of plays (like 3,5,7-9)"
names_in.__name__ = "list of names (like high,\"end zone\")"
_number = _within(int, Range(1, 100_000), "number of a play")
_seconds = _within(float, HANDLE, "number of seconds")
_rate = _within(_fraction, Range(1, 240), "rate (like 30 or 30000/1001)")
_quality = _within(int, Range(0, 51), "quality (0 to 51)")
_sound_track = _within(int, Range(1, MOST_SOUND_TRACKS), f"sound track (1 to {MOST_SOUND_TRACKS})")


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
    made.add_argument("--angles", type=names_in, default=(), metavar="NAMES",
                      help="angles that show each play, by name: high,\"end zone\"; default: the first one")
    made.set_defaults(beside=False, inset=False, sound_of=None)
    if in_one:
        made.add_argument("--beside", action="store_true",
                          help="show the angles beside each other in one picture, in step; default: one after another")
        made.add_argument("--inset", action="store_true",
                          help="as --beside, with all but the first angle small in the corner of its picture")
        made.add_argument("--sound-of", metavar="NAME", help="the angle whose sound is heard; default: of the picture")


def in_one_picture(arguments: argparse.Namespace) -> bool:
    """Whether the angles that are named stand in one picture. Raises Wrong if fewer than two are named."""
    asked = bool(arguments.beside or arguments.inset)
    if asked and len(arguments.angles) < 2:
        raise Wrong(f"{'--inset' if arguments.inset else '--beside'} needs two angles at least: "
                    "--angles high,\"end zone\"")
    return asked


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


def rendering_of(arguments: argparse.Namespace) -> dict[str, Any]:
    """What a call says of drawings and of the rendered form, by the fields of a ``SequenceRequest``."""
    return {"drawings": not arguments.no_drawings, "freeze": arguments.freeze, "size": arguments.size,
            "rate": arguments.rate, "quality": arguments.quality, "sound_track": arguments.sound_track - 1}


def sequence_form(to: Path) -> Form:
    """The form in which a sequence is written to *to*. Raises Wrong if its suffix says none."""
    from .delivery.text_formats import FORMS

    suffix = to.suffix.lower()
    if suffix != ".mp4" and suffix not in FORMS:
        raise Wrong(f"{to.name}: a sequence is written as .mp4, {', '.join(FORMS)}")
    return Form.FILM if suffix == ".mp4" else Form.LISTS


def drawings(made: CommandParser) -> None:
    """Let what was drawn be left out, or the film stand still for it."""
    made.add_argument("--no-drawings", action="store_true", help="leave out what was drawn on the picture")
    made.add_argument("--freeze", action="store_true", help="let the film stand still at each drawing of one moment")


def overwriting(made: CommandParser) -> None:
    """Let a file be replaced."""
    made.add_argument("--overwrite", action="store_true",
                      help="replace a file that is there already (never footage, a game file or a pack)")

"""The log of the desk: one file with older ones beside it in the user's state folder, readable by the user alone.

Python's records, warnings and tracebacks go there, and so does all that libraries write to the standard error stream
themselves (players, decoders, the sound system). The terminal keeps what the program itself prints.

What a record was told (the arguments of its message, an error's words) may name people and films. It stands between
``‹`` and ``›``, so that :func:`discreet` can leave it out.
"""

from __future__ import annotations

import faulthandler
import logging
import logging.handlers
import os
import re
import sys
import threading
from contextlib import suppress
from copy import copy
from io import TextIOWrapper
from pathlib import Path
from types import TracebackType

import platformdirs

SIZE = 1_000_000        # bytes of a file before the next begins
OLDER = 3               # files kept besides
_FORM = "%(asctime)s %(levelname)s %(name)s: %(message)s"
_LINE = re.compile(r"\d{4}-\d\d-\d\d \d\d:\d\d:\d\d,\d{3} [A-Z]+ [\w.]+: ")
_TOLD = re.compile(r"‹[^›]*›?")
_FRAME = re.compile(r'  File "(?P<path>[^"]*)", line (?P<line>\d+), in (?P<function>[\w<>.]+)')
_CAUGHT = re.compile(r"[A-Za-z_][\w.]*(: ‹…›)?")
_BETWEEN = ("The above exception was the direct cause of the following exception:",
            "During handling of the above exception, another exception occurred:")

log = logging.getLogger(__name__)


def folder() -> Path:
    """The folder of the log; ``FILM_WORKSTATION_STATE`` overrides the user's state directory."""
    chosen = os.environ.get("FILM_WORKSTATION_STATE")
    return Path(chosen) if chosen else Path(platformdirs.user_state_dir("film-workstation", appauthor=False))


def path() -> Path:
    """The file that is written now; older ones have a number behind its name."""
    return folder() / "desk.log"


def start() -> bool:
    """Send everything to the log from here on. Returns False where it cannot be written: nothing changes then, but that
    the program's records are kept from the terminal."""
    root = logging.getLogger()
    try:
        folder().mkdir(mode=0o700, parents=True, exist_ok=True)
        handler = _LogFile(path(), maxBytes=SIZE, backupCount=OLDER, encoding="utf-8")
    except OSError:
        root.addHandler(logging.NullHandler())
        return False
    handler.setFormatter(_Formatter(_FORM))
    root.addHandler(handler)
    root.setLevel(logging.INFO)
    logging.captureWarnings(True)
    sys.excepthook = _caught
    threading.excepthook = lambda args: _caught(args.exc_type, args.exc_value or args.exc_type(), args.exc_traceback)
    handler.take_standard_error()
    return True


def tend() -> None:
    """Begin the next file if this one has grown too large; to be called now and then, for what libraries write."""
    for handler in _handlers():
        handler.acquire()
        try:
            if handler.is_full():
                handler.doRollover()
        finally:
            handler.release()


def recent(lines: int = 200) -> list[str]:
    """The last lines of the log, from the file before this one too if that is short."""
    found: list[str] = []
    for each in (path(), path().with_name(f"{path().name}.1")):
        with suppress(OSError):
            found = each.read_text("utf-8", "replace").splitlines()[-lines:] + found
        if len(found) >= lines:
            break
    return found[-lines:]


def discreet(lines: list[str]) -> list[str]:
    """The lines without what may name a person or a film: what records were told, what libraries wrote, and the place
    of files. A traceback keeps its functions and lines."""
    kept: list[str] = []
    left_out = 0
    for line in [*_joined(lines), ""]:
        frame = _FRAME.fullmatch(line)
        if frame:
            line = f'  File "{Path(frame["path"].replace(chr(92), "/")).name}", line {frame["line"]}, ' \
                   f'in {frame["function"]}'
        elif line.startswith("    "):       # the program's own source, or more of an error's words
            continue
        else:
            line = _TOLD.sub("‹…›", line)
            if line and not (_LINE.match(line) or line.startswith("Traceback (") or _CAUGHT.fullmatch(line)
                             or line in _BETWEEN):
                left_out += 1
                continue
        if left_out:
            kept.append(f"({left_out} {'line' if left_out == 1 else 'lines'} left out)")
            left_out = 0
        kept.append(line)
    return kept[:-1]


def forget() -> int:
    """Throw away what the log says so far; returns the number of files."""
    number = 0
    for each in folder().glob(f"{path().name}*"):
        if each == path():
            os.truncate(each, 0)    # it is being written
        else:
            each.unlink()
        number += 1
    return number


def _joined(lines: list[str]) -> list[str]:
    """Lines of which each holds all that one record was told."""
    joined: list[str] = []
    for line in lines:
        if joined and joined[-1].count("‹") > joined[-1].count("›") and not _LINE.match(line):
            joined[-1] += f" {line}"
        else:
            joined.append(line)
    return joined


class _Formatter(logging.Formatter):
    """Puts what a message was told between marks."""

    def format(self, record: logging.LogRecord) -> str:
        record = copy(record)
        if isinstance(record.args, tuple):
            record.args = tuple(_told(each) if isinstance(each, (str, BaseException, os.PathLike)) else each
                                for each in record.args)
        elif isinstance(record.args, dict):
            record.args = {name: _told(each) if isinstance(each, (str, BaseException, os.PathLike)) else each
                           for name, each in record.args.items()}
        elif record.name == "py.warnings":
            record.msg = _told(record.msg)
        if record.exc_info:
            record.exc_text = None      # of another formatter
        return super().format(record)

    def formatException(self, ei) -> str:       # type: ignore[no-untyped-def]
        lines = []
        for line in super().formatException(ei).splitlines():
            if not line or line.startswith((" ", "Traceback (")) or line in _BETWEEN:
                lines.append(line)
            else:       # the error's words, its first line after its class
                name, colon, told = line.partition(": ")
                lines.append(line if " " not in line else f"{name}: {_told(told)}" if colon and " " not in name
                             else _told(line))
        return "\n".join(lines)


def _told(value: object) -> str:
    return "‹" + str(value).replace("‹", "<").replace("›", ">") + "›"


class _LogFile(logging.handlers.RotatingFileHandler):
    """A rotating file, for the user alone, that can be the standard error stream of libraries as well."""

    _has_standard_error = False

    def _open(self) -> TextIOWrapper:
        os.close(os.open(self.baseFilename, os.O_CREAT | os.O_RDWR, 0o600))
        with suppress(OSError):
            os.chmod(self.baseFilename, 0o600)
        stream = super()._open()
        if self._has_standard_error:
            os.dup2(stream.fileno(), 2)
        return stream

    def is_full(self) -> bool:
        """Whether the next file should begin."""
        return Path(self.baseFilename).stat().st_size > self.maxBytes

    def take_standard_error(self) -> None:
        """Let descriptor 2 be this file; ``sys.stderr`` goes on to the terminal."""
        try:
            terminal = os.dup(2)
        except OSError:     # there is none, in a desk that was begun by a double click
            terminal = None
        self._has_standard_error = True
        os.dup2((self.stream or self._open()).fileno(), 2)
        if terminal is not None and sys.stderr is not None:
            sys.stderr = os.fdopen(terminal, "w", buffering=1, encoding=getattr(sys.stderr, "encoding", "utf-8"),
                                   errors="backslashreplace")
        faulthandler.enable(file=2)


def _handlers() -> list[_LogFile]:
    return [handler for handler in logging.getLogger().handlers if isinstance(handler, _LogFile)]


def _caught(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
    """Log an error that nothing handles, and say on the terminal where it is."""
    if issubclass(kind, KeyboardInterrupt):
        sys.__excepthook__(kind, error, trace)
        return
    log.critical("an error that nothing handles", exc_info=(kind, error, trace))
    if sys.stderr is not None:
        print(f"Something went wrong. What happened is in {path()}.", file=sys.stderr)

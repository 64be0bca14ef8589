"""Errors of footage, worded for the person who holds the card.

A bad file never closes the film. What is known when a file is probed stands in
:attr:`Source.problem`; what goes wrong later (a card pulled, a file overwritten) is
raised as :class:`NoPicture` for that picture only, and every other source goes on.

Hostile files are decoded in this process too. Footage is from the crew's own cameras, so damage is the everyday case;
libavformat and libavcodec (fuzzed continuously, OSS-Fuzz project "ffmpeg") report it as errors. A decoder in a process
of its own would cost a copy of every picture, 3 MB at 1080p. A file that ends the whole program loses nothing, since
every action is on disk before the next begins; and :mod:`workstation.film.probe` marks an unknown file while it reads
it, so that one that ended the program twice is not read a third time and its game still opens.
"""

from __future__ import annotations

import errno
import os
from pathlib import Path

import av


class FilmError(Exception):
    """Something about footage that a person has to know; the message says what to do."""


class MissingFile(FilmError, FileNotFoundError):
    """The named file or folder is not there."""

    def __init__(self, path: Path) -> None:
        super().__init__(f"{path} is not there. Check the name, or put the card or disk back in.")
        self.path = path


class NoPicture(FilmError):
    """A picture cannot be had; ``source`` is the id of the bad source, ``reason`` is for a person."""

    def __init__(self, source: str, reason: str) -> None:
        super().__init__(reason)
        self.source = source
        self.reason = reason


def reason_for(error: BaseException, path: Path) -> str:
    """Return what an error from reading ``path`` means and what to do about it."""
    name = path.name
    if not path.exists():
        return f"{name} is not there any more. Put the card or disk back in, or relink the film to its new folder."
    # libavformat's bare -1, "no such place in its list", looks like EPERM; it is not the system's word.
    if isinstance(error, PermissionError) and (error.errno == errno.EACCES or not isinstance(error, av.FFmpegError)):
        return f"{name} may not be read. Give yourself permission to read it."
    if isinstance(error, av.error.DecoderNotFoundError):
        return f"{name}: no decoder for its kind of picture. Convert it to H.264 and replace it."
    if isinstance(error, OSError) and error.errno in (errno.EIO, errno.ENODEV, errno.ENXIO, errno.ESTALE):
        return f"{name} cannot be read from its disk. Check the card reader and the cable, then copy the card again."
    if _unfinished(path):
        return (f"{name} was never finished: the camera stopped before it wrote the list of pictures. "
                "Put the card back into the camera, which may offer to repair it, or copy the file again.")
    if isinstance(error, av.error.InvalidDataError):
        return f"{name} is damaged or is not a film file. Copy it from the card again."
    return f"{name} cannot be read ({error}). Copy it from the card again."


def _unfinished(path: Path) -> bool:
    """An ISO base media file (ISO/IEC 14496-12) begins with boxes but holds no complete ``moov`` box."""
    try:
        with path.open("rb") as file:
            size = os.fstat(file.fileno()).st_size
            at = 0
            while at + 8 <= size:
                file.seek(at)
                header = file.read(16)
                length, kind = int.from_bytes(header[:4]), header[4:8]
                if at == 0 and kind not in (b"ftyp", b"moov", b"mdat", b"wide", b"free", b"skip"):
                    return False
                if length == 1:
                    length = int.from_bytes(header[8:16])
                if kind == b"moov":
                    return length != 0 and at + length > size
                if length < 8:
                    break
                at += length
            return size >= 8 and at > 0
    except OSError:
        return False

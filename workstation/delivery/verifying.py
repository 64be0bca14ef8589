"""Whether a pack is as it was made: every file in it is in its manifest, and every file of the manifest is in it.

Whoever wants to hide something may have written the pack that is read here, so nothing is taken that a pack never has:
links, names that lead out of it, one file twice, bytes before, between or behind the members of an archive.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
import struct
import unicodedata
import zipfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from ..tagging.serialise import strict_json
from ..targets import PACK_FORM, PACK_MANIFEST
from ..visible import visible

LARGEST_MANIFEST = 16 << 20     # bytes; a pack of thousands of files stays far below
LARGEST_FILE = 1 << 50          # bytes
_CHUNK = 1 << 20
_LONGEST_NAME = 1000            # characters of a path in a pack

_LOCAL = struct.Struct("<4s22xHH")              # of a member's own header: signature, lengths of name and extra field
_END = struct.Struct("<4s8x4x4xH")              # of the archive's end: signature, length of the comment
_END_64 = 56 + 20                               # bytes of the larger end and its locator, where an archive has them


class PackError(Exception):
    """The pack could not be made, or is not a pack; the message says what to do."""


@dataclass(frozen=True, slots=True)
class Verified:
    """What a check of a pack found; each tuple holds names. ``whole`` if nothing was altered. Names and texts are as
    the pack has them: see :mod:`..visible` for how to show them."""

    title: str
    made: str
    intact: tuple[str, ...]
    altered: tuple[str, ...]
    missing: tuple[str, ...]
    added: tuple[str, ...]

    @property
    def whole(self) -> bool:
        """Whether every file is there unaltered and none was added."""
        return not (self.altered or self.missing or self.added)


def verify_pack(pack: Path, manifest_sha256: str | None = None) -> Verified:
    """Compare a pack (folder or ZIP) with its manifest, and the manifest with a digest kept elsewhere, if given.

    The manifest tells of every other file, and by a digest of its own of an edit by hand; but nothing inside the pack
    can vouch for a manifest that was made anew: whoever needs that keeps its SHA-256 apart. Raises PackError if it is
    not a pack.
    """
    with _opened(pack) as files:
        return _compare(*files, manifest_sha256, pack)


def manifest_digest(pack: Path) -> str:
    """The SHA-256 of a pack's manifest, to be kept apart from it. Raises PackError."""
    with _opened(pack) as files:
        return hashlib.sha256(_manifest_of(*files, pack)).hexdigest()


@contextmanager
def _opened(pack: Path) -> Iterator[tuple[Mapping[str, object], Callable[[str], IO[bytes]]]]:
    """The files of a pack by name, and a way to open each. Raises PackError."""
    try:
        mode = pack.stat().st_mode
    except OSError:
        raise PackError(f"{pack} is not there.") from None
    if stat.S_ISDIR(mode):
        files = _files_of(pack, pack.name)
        yield files, lambda name: files[name].open("rb")
        return
    if not stat.S_ISREG(mode):
        raise PackError(f"{pack} is neither a folder nor a file.")
    try:
        with zipfile.ZipFile(pack) as archive:
            yield _check_archive(pack, archive), archive.open
    except (zipfile.BadZipFile, NotImplementedError, RuntimeError, EOFError, UnicodeError, ValueError, OSError,
            struct.error) as error:
        raise PackError(f"{pack.name} is not a pack that can be read: {visible(str(error))}") from error


def _files_of(folder: Path, name: str) -> dict[str, Path]:
    """The files of a pack that is a folder, by their paths in it. Raises PackError for what a pack never has."""
    present = {}
    for where, folders, files in os.walk(folder, onerror=_cannot_list):
        for entry in (*folders, *files):
            path = Path(where, entry)
            mode = path.lstat().st_mode
            told = path.relative_to(folder).as_posix()
            if stat.S_ISLNK(mode):
                raise PackError(f"{name} holds a link, {visible(told)}; a pack never does.")
            if stat.S_ISREG(mode):
                present[told] = path
            elif not stat.S_ISDIR(mode):
                raise PackError(f"{name} holds a pipe or a device, {visible(told)}; a pack never does.")
    return present


def _cannot_list(error: OSError) -> None:
    raise PackError(f"A folder of the pack cannot be read: {error}") from error


def _check_archive(pack: Path, archive: zipfile.ZipFile) -> dict[str, zipfile.ZipInfo]:
    """The members of a pack that is an archive. Raises PackError for what a pack never has."""
    members = {info.filename: info for info in archive.infolist() if not info.is_dir()}
    if len(members) != sum(not info.is_dir() for info in archive.infolist()):
        raise PackError(f"{pack.name} holds two files of one name; a pack never does.")
    for info in archive.infolist():
        if stat.S_ISLNK(info.external_attr >> 16):
            raise PackError(f"{pack.name} holds a link, {visible(info.filename)}; a pack never does.")
    stray = PackError(f"{pack.name} holds bytes that belong to none of its files; a pack never does.")
    with pack.open("rb") as raw:
        at = 0
        for info in sorted(archive.infolist(), key=lambda member: member.header_offset):
            raw.seek(info.header_offset)
            header = raw.read(_LOCAL.size)
            if info.header_offset != at or len(header) < _LOCAL.size:
                raise stray
            signature, name, extra = _LOCAL.unpack(header)
            if signature != b"PK\3\4":
                raise stray
            at += _LOCAL.size + name + extra + info.compress_size
            if info.flag_bits & 8:          # its size follows it
                raw.seek(at)
                at += _descriptor(raw.read(24), info)
        if at != archive.start_dir:
            raise stray
        raw.seek(0, os.SEEK_END)
        length = raw.tell()
        listing = sum(46 + len(_raw_name(info)) + len(info.extra) + len(info.comment) for info in archive.infolist())
        raw.seek(max(length - _END.size, 0))
        end = raw.read(_END.size)
        if len(end) < _END.size or _END.unpack(end) != (b"PK\5\6", 0) or \
                length - archive.start_dir - listing - _END.size not in (0, _END_64):
            raise stray
    return members


def _raw_name(info: zipfile.ZipInfo) -> bytes:
    """A member's name as the archive's listing has it."""
    return info.orig_filename.encode("utf-8" if info.flag_bits & 0x800 else "cp437", "replace")


def _descriptor(found: bytes, info: zipfile.ZipInfo) -> int:
    """Bytes that repeat a member's digest and sizes behind it."""
    for signature in (b"PK\7\x08", b""):
        for form in ("<III", "<IQQ"):
            said = signature + struct.pack(form, info.CRC, info.compress_size & 0xFFFFFFFF if form == "<III" else
                                           info.compress_size,
                                           info.file_size & 0xFFFFFFFF if form == "<III" else info.file_size)
            if found.startswith(said):
                return len(said)
    return 0


def _manifest_of(present: Mapping[str, object], opened: Callable[[str], IO[bytes]], pack: Path) -> bytes:
    if PACK_MANIFEST not in present:
        raise PackError(f"{pack.name} has no {PACK_MANIFEST}; it is not a pack, or the manifest was taken out.")
    with opened(PACK_MANIFEST) as file:
        return file.read(LARGEST_MANIFEST + 1)


def _compare(present: Mapping[str, object], opened: Callable[[str], IO[bytes]], manifest_sha256: str | None,
             pack: Path) -> Verified:
    raw = _manifest_of(present, opened, pack)
    try:
        title, made, listed = _read_manifest(raw)
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise PackError(f"The {PACK_MANIFEST} of {pack.name} cannot be read ({visible(str(error))[:300]}); "
                        "it was altered.") from error
    intact: list[str] = []
    altered: list[str] = []
    missing: list[str] = []
    same = manifest_sha256 is None or hashlib.sha256(raw).hexdigest() == manifest_sha256.strip().lower()
    if not same or not _says_what_it_said(raw):
        altered.append(PACK_MANIFEST)
    elif manifest_sha256 is not None:
        intact.append(PACK_MANIFEST)
    for name, (size, digest) in listed.items():
        if name not in present:
            missing.append(name)
            continue
        found: str | None
        try:
            with opened(name) as file:
                found = _bounded_digest(file, size)
        except (zipfile.BadZipFile, EOFError, OSError):
            found = None
        (intact if found == digest else altered).append(name)
    added = sorted(present.keys() - listed.keys() - {PACK_MANIFEST})
    return Verified(title, made, tuple(intact), tuple(altered), tuple(missing), tuple(added))


def said_digest(manifest: Mapping[str, Any]) -> str:
    """SHA-256 of what a manifest says, however it is laid out, without its own ``digest``: an edit by hand shows.
    Who makes a manifest anew is found out by the digest of the file alone that is kept apart."""
    said = {key: value for key, value in manifest.items() if key != "digest"}
    return hashlib.sha256(json.dumps(said, sort_keys=True, ensure_ascii=True).encode()).hexdigest()


def _says_what_it_said(raw: bytes) -> bool:
    """Whether a manifest that can be read has the digest it carries; those of earlier versions carry none."""
    manifest = json.loads(raw)
    return "digest" not in manifest or manifest["digest"] == said_digest(manifest)


def _read_manifest(raw: bytes) -> tuple[str, str, dict[str, tuple[int, str]]]:
    """Title, time and files (path to size and digest) of a manifest. Raises ValueError and what odd values raise."""
    if len(raw) > LARGEST_MANIFEST:
        raise ValueError("it is larger than any manifest")
    manifest = strict_json(raw)
    if manifest["form"] != PACK_FORM:
        raise ValueError("it is of another form")
    listed: dict[str, tuple[int, str]] = {}
    lower = set()
    for entry in manifest["files"]:
        path, size, digest = entry["path"], entry["bytes"], entry["sha256"]
        if not _may_be_path(path):
            raise ValueError(f"{str(path)[:100]!r} is no path in a pack")
        if path.casefold() in lower:
            raise ValueError(f"{path!r} is in it twice")
        if type(size) is not int or not 0 <= size <= LARGEST_FILE:
            raise ValueError(f"the size of {path!r} is no size")
        if not isinstance(digest, str) or len(digest) != 64 or not set(digest) <= set("0123456789abcdef"):
            raise ValueError(f"the digest of {path!r} is no SHA-256")
        lower.add(path.casefold())
        listed[path] = size, digest
    if not listed:
        raise ValueError("it names no files")
    title, made = manifest["title"], manifest["made"]
    if not isinstance(title, str) or not isinstance(made, str):
        raise ValueError("its title or time is no text")
    return title, made, listed


def _may_be_path(path: Any) -> bool:
    """Whether a path stays in the pack and is what this program writes."""
    return (isinstance(path, str) and 0 < len(path) <= _LONGEST_NAME and path != PACK_MANIFEST and "\\" not in path
            and ":" not in path and not any(part in ("", ".", "..") for part in path.split("/"))
            and not any(unicodedata.category(letter) in ("Cc", "Cs") for letter in path))


def _bounded_digest(file: IO[bytes], size: int) -> str | None:
    """The digest, or None as soon as there is more than ``size`` bytes: a swollen file is not read to its end."""
    digest, read = hashlib.sha256(), 0
    while chunk := file.read(_CHUNK):
        read += len(chunk)
        if read > size:
            return None
        digest.update(chunk)
    return digest.hexdigest() if read == size else None

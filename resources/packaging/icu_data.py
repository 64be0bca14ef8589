"""Takes out of Qt's ICU library what only programs in other languages need: 32 MB become 2.

``libicudata`` is one archive of named items (ICU User Guide, "ICU Data", common data format) in an otherwise nearly
empty library. Sorting by the Unicode default, time zones and the conversions that need no tables stay; a language that
is asked for falls back to the default, as ICU does for every language that it does not know.
"""

from __future__ import annotations

import re
import struct
from pathlib import Path

_KEPT = re.compile(r"[^/]+/(coll/)?(root|pool|res_index|en|en_.*|supplementalData|likelySubtags|keyTypeData|icuver|"
                   r"numberingSystems|zoneinfo64|timezoneTypes|metaZones|windowsZones|ucadata|cnvalias|icustd)\.(res|icu)"
                   r"|[^/]+/[^/]+\.nrm")
_FORMAT, _PAGE = b"CmnD", 0x1000
_LOAD, _DYNAMIC, _RELRO = 1, 2, 0x6474E552


def trim(library: Path) -> None:
    """Make a ``libicudata.so`` (64-bit ELF, least byte first) smaller. Raises ValueError for one built otherwise."""
    old = library.read_bytes()
    begin = old.find(_FORMAT) - 12
    if old[:6] != b"\x7fELF\x02\x01" or begin < 0:
        raise ValueError(f"{library} is no library of ICU data as this knows it")
    archive = _trimmed(old, begin)
    headers = [list(struct.unpack_from("<IIQQQQQQ", old, at)) for at in _header_places(old)]
    first, last = (each for each in headers if each[0] == _LOAD)
    kept = old[:begin] + archive
    moved = (len(kept) + _PAGE - 1) // _PAGE * _PAGE + last[2] % _PAGE - last[2]      # in the file, not in memory
    first[5] = first[6] = len(kept)
    tail = old[last[2]:last[2] + last[5]]
    for header in headers:
        if header is last or header[0] in (_DYNAMIC, _RELRO):
            header[2] += moved
    new = bytearray(kept.ljust(last[2], b"\0") + tail)
    for at, header in zip(_header_places(old), headers, strict=True):
        struct.pack_into("<IIQQQQQQ", new, at, *header)
    struct.pack_into("<Q", new, 0x28, 0)        # no table of sections: only linkers and debuggers read it
    struct.pack_into("<HH", new, 0x3C, 0, 0)
    library.write_bytes(new)


def _header_places(library: bytes) -> range:
    """Where in the file the program headers lie."""
    start, = struct.unpack_from("<Q", library, 0x20)
    size, count = struct.unpack_from("<HH", library, 0x36)
    return range(start, start + size * count, size)


def _trimmed(data: bytes, begin: int) -> bytes:
    """The archive at *begin* with the kept items alone."""
    head, = struct.unpack_from("<H", data, begin)
    table = begin + head
    count, = struct.unpack_from("<I", data, table)
    places = [struct.unpack_from("<II", data, table + 4 + 8 * each) for each in range(count)]
    ends = [place for _, place in places[1:]] + [len(data) - table]
    items = []
    for (name_at, item_at), end in zip(places, ends, strict=True):
        name = data[table + name_at:data.index(b"\0", table + name_at) + 1]
        if _KEPT.fullmatch(name[:-1].decode()):
            items.append((name, data[table + item_at:table + end]))
    if not items:
        raise ValueError("the ICU data has none of the items that are kept")
    names, bodies, entries = b"", b"", b""
    at_names = 4 + 8 * len(items)
    at_bodies = -(-(at_names + sum(len(name) for name, _ in items) + head) // 16) * 16 - head
    for name, body in items:
        entries += struct.pack("<II", at_names + len(names), at_bodies + len(bodies))
        names += name
        bodies += body.ljust(-(-len(body) // 16) * 16, b"\0")
    toc = struct.pack("<I", len(items)) + entries + names
    return data[begin:table] + toc.ljust(at_bodies, b"\0") + bodies

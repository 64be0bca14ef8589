"""Read an AVCHD recording's time and timecode from its coded frames.

The camera's clock and timecode stand in an SEI message of unregistered user data (ITU-T H.264, D.2.7)
under a UUID of its own, as pairs of a tag and four bytes. The layout is as documented by ExifTool
("H264 Tags", MDPM; exiftool.org/TagNames/H264.html).
"""

from __future__ import annotations

UUID = bytes.fromhex("17ee8c60f84d11d98cd60800200c9a66") + b"MDPM"
TIMECODE, DATE, TIME = 0x13, 0x18, 0x19


def recorded(packet: bytes) -> tuple[str | None, str | None]:
    """Return (creation time as ISO 8601, timecode) from a coded picture, each None if it does not say."""
    packs = _packs(packet)
    return _created(packs.get(DATE), packs.get(TIME)), _timecode(packs.get(TIMECODE))


def _packs(packet: bytes) -> dict[int, bytes]:
    at = packet.find(UUID[:8])
    if at < 0:
        return {}
    # H.264 7.4.1: inside a NAL unit 00 00 03 stands for 00 00.
    data = packet[at:at + 1500].replace(b"\0\0\3", b"\0\0")
    if not data.startswith(UUID) or len(data) <= len(UUID):
        return {}
    packs: dict[int, bytes] = {}
    for number in range(data[len(UUID)]):
        begin = len(UUID) + 1 + 5 * number
        pack = data[begin:begin + 5]
        if len(pack) < 5 or (packs and pack[0] <= max(packs)):    # tags ascend; else it is not what it seems
            break
        packs[pack[0]] = pack[1:]
    return packs


def _created(date: bytes | None, time: bytes | None) -> str | None:
    if date is None or time is None:
        return None
    try:
        century, year, month = (int(f"{value:02x}") for value in date[1:])
        day, hour, minute, second = (int(f"{value:02x}") for value in time)
    except ValueError:
        return None
    if not (1 <= month <= 12 and 1 <= day <= 31 and hour < 24 and minute < 60 and second < 60):
        return None
    zone = ""
    if date[0] not in (0xFF, 0x7F):     # not known
        sign = "-" if date[0] & 0x20 else "+"
        zone = f"{sign}{date[0] >> 1 & 0x0F:02}:{'30' if date[0] & 1 else '00'}"
    return f"{century:02}{year:02}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}{zone}"


def _timecode(pack: bytes | None) -> str | None:
    if pack is None:
        return None
    try:
        frame, second, minute, hour = (int(f"{value:02x}") for value in pack)
    except ValueError:
        return None
    if hour > 23 or minute > 59 or second > 59:
        return None
    return f"{hour:02}:{minute:02}:{second:02}:{frame:02}"

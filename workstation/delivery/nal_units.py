"""Streams of NAL units that two codings stand in side by side: H.264 (ITU-T H.264) and HEVC (ITU-T H.265).

Each picture names a parameter set, and each set has a number. What is encoded anew gets numbers that the stream does
not use yet, so that the stream's header can hold both (ISO/IEC 14496-15, 5.3.3 and 8.3.3).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator


class CannotJoin(Exception):
    """This footage cannot be joined with newly encoded pictures; the message says why."""


class AvcStream:
    """How pictures of H.264 are taken apart and joined. ``forms`` are of pixels; ``wide`` is the number of bytes that
    tell a unit's length, 0 where start codes part them."""

    encoder = "libx264"
    forms = frozenset({"yuv420p", "yuvj420p", "yuv422p", "yuv444p", "yuv420p10le", "yuv422p10le"})
    _IDR, _SPS, _PPS = 5, 7, 8

    def __init__(self, header: bytes) -> None:
        self._header = header
        self._counted = header[:1] == b"\1"
        self.wide = (header[4] & 3) + 1 if self._counted else 0
        own = ([unit for each in self._lists(header)[:2] for unit in each] if self._counted
               else [unit for unit in units(header, 0) if unit[0] & 31 in (self._SPS, self._PPS)])
        taken = {golomb(unescaped(unit), 32)[0] for unit in own if unit[0] & 31 == self._SPS}
        self._number = free_in(range(31, -1, -1), taken)

    def begins_group(self, packet: bytes) -> bool:
        """Can the pictures from this keyframe's own on be decoded without any before it: is it an IDR picture?"""
        return any(unit[0] & 31 == self._IDR for unit in units(packet, self.wide))

    def options(self, quality: str, scan: str) -> dict[str, str]:
        """The encoder's, for pictures that lean on earlier ones only; ``scan`` is tff, bff or empty."""
        return {"preset": "fast", "crf": quality, "x264-params":
                f"sps-id={self._number}:bframes=0:keyint=infinite:force-cfr=1" + (f":{scan}=1" if scan else "")}

    def numbered(self, unit: bytes) -> bytes | None:
        """A unit as the encoder wrote it, with numbers that are free here; None for one that is not needed."""
        return unit

    def ending(self) -> bytes:
        """What stands between new pictures and the stream's own: nothing, as these begin with an IDR picture."""
        return b""

    def with_sets(self, made: bytes, keep: bool) -> bytes:
        """The stream's header with the parameter sets of the encoder's header; without its own unless they are kept."""
        more = [unit for unit in units(made, 0) if unit[0] & 31 in (self._SPS, self._PPS)]
        if not self._counted:
            return (self._header if keep else b"") + behind_start_codes(more)
        sequences, pictures, rest = self._lists(self._header)
        if not keep:
            sequences, pictures = [], []
        sequences = sequences + [unit for unit in more if unit[0] & 31 == self._SPS]
        pictures = pictures + [unit for unit in more if unit[0] & 31 == self._PPS]
        return (self._header[:5] + bytes([0xE0 | len(sequences)]) + behind_lengths(sequences, 2)
                + bytes([len(pictures)]) + behind_lengths(pictures, 2) + rest)

    @staticmethod
    def _lists(header: bytes) -> tuple[list[bytes], list[bytes], bytes]:
        """SPS, PPS and what follows them in an AVCDecoderConfigurationRecord."""
        at, lists = 5, []
        for mask in (31, 255):
            count = header[at] & mask
            found, at = lengthened(header, at + 1, count)
            lists.append(found)
        return lists[0], lists[1], header[at:]


class HevcStream:
    """HEVC, as :class:`AvcStream`. The encoder numbers its sets 0; each is given a number whose code is 8 bits longer,
    so that all that follows it in a unit stays where it is in its byte."""

    encoder = "libx265"
    forms = frozenset({"yuv420p", "yuvj420p", "yuv422p", "yuv444p", "yuv420p10le", "yuv422p10le", "yuv444p10le",
                       "yuv420p12le", "yuv422p12le"})
    _VPS, _SPS, _PPS, _END = 32, 33, 34, 36
    _RANDOM_ACCESS = range(16, 24)
    _SEQUENCE = 15                          # the one number of a sequence's set whose code has nine bits

    def __init__(self, header: bytes) -> None:
        self._header = header
        self._counted = header[:1] == b"\1"
        self.wide = (header[21] & 3) + 1 if self._counted else 0
        own = ([unit for _, each in self._arrays() for unit in each] if self._counted else list(units(header, 0)))
        taken: dict[int, set[int]] = {self._VPS: set(), self._SPS: set(), self._PPS: set()}
        for unit in own:
            kind, raw = self._kind(unit), unescaped(unit)
            if kind == self._VPS:
                taken[kind].add(raw[2] >> 4)
            elif kind == self._SPS:
                taken[kind].add(golomb(raw, self._sequence_number_at(raw))[0])
            elif kind == self._PPS:
                taken[kind].add(golomb(raw, 16)[0])
        if self._SEQUENCE in taken[self._SPS]:
            raise CannotJoin("its parameter sets take the number that is needed")
        self._video = free_in(range(15, -1, -1), taken[self._VPS])
        self._picture = free_in(range(30, 14, -1), taken[self._PPS])

    def begins_group(self, packet: bytes) -> bool:
        """Is it a random access point of any kind? Pictures that are shown before it may lean on earlier ones."""
        return any(self._kind(unit) in self._RANDOM_ACCESS for unit in units(packet, self.wide))

    def options(self, quality: str, scan: str) -> dict[str, str]:
        """x265's: one slice a picture, no rows in step, sets in the header only."""
        if scan:
            raise CannotJoin("interlaced HEVC pictures cannot be encoded again here")
        return {"preset": "fast", "crf": quality, "x265-params":
                "log-level=error:bframes=0:keyint=-1:open-gop=0:wpp=0:slices=1:info=0:hrd=0:temporal-layers=0"}

    def numbered(self, unit: bytes) -> bytes | None:
        """As for H.264; what is neither a picture nor a set is left out."""
        kind, raw = self._kind(unit), bytearray(unescaped(unit))
        if kind == self._VPS:
            raw[2] = raw[2] & 15 | self._video << 4
        elif kind == self._SPS:
            raw[2] = raw[2] & 15 | self._video << 4
            raw = with_number(raw, self._sequence_number_at(raw), self._SEQUENCE)
        elif kind == self._PPS:
            raw = with_number(with_number(raw, 17, self._SEQUENCE), 16, self._picture)
        elif kind < self._VPS:
            raw = with_number(raw, 18 if kind in self._RANDOM_ACCESS else 17, self._picture)
        else:
            return None
        return escaped(bytes(raw))

    def ending(self) -> bytes:
        """The end of a sequence, so that an open group after it is not taken to go on from it."""
        return bytes([self._END << 1, 1])

    def with_sets(self, made: bytes, keep: bool) -> bytes:
        """As for H.264."""
        more = [numbered for unit in units(made, 0) if self._VPS <= self._kind(unit) <= self._PPS
                and (numbered := self.numbered(unit)) is not None]
        if not self._counted:
            return (self._header if keep else b"") + behind_start_codes(more)
        arrays = [(kind, list(each) if keep or not self._VPS <= kind & 63 <= self._PPS else [])
                  for kind, each in self._arrays()]
        for unit in more:
            own = next((each for kind, each in arrays if kind & 63 == self._kind(unit)), None)
            if own is None:
                arrays.append((0x80 | self._kind(unit), own := []))
            own.append(unit)
        return self._header[:22] + bytes([len(arrays)]) + b"".join(
            bytes([kind]) + len(each).to_bytes(2, "big") + behind_lengths(each, 2) for kind, each in arrays)

    def _arrays(self) -> list[tuple[int, list[bytes]]]:
        """The lists of an HEVCDecoderConfigurationRecord, each with the byte that tells its kind."""
        at, arrays = 23, []
        for _ in range(self._header[22]):
            kind, count = self._header[at], int.from_bytes(self._header[at + 1:at + 3], "big")
            found, at = lengthened(self._header, at + 3, count)
            arrays.append((kind, found))
        return arrays

    @staticmethod
    def _kind(unit: bytes) -> int:
        return unit[0] >> 1 & 63

    @staticmethod
    def _sequence_number_at(raw: bytes | bytearray) -> int:
        """The bit at which a sequence's set tells its number: behind profile, tier and level of each sub-layer."""
        layers = raw[2] >> 1 & 7
        at = 16 + 8 + 96
        if layers:
            flags = int.from_bytes(raw[15:17], "big")
            at += 16 + sum(88 * (flags >> 15 - 2 * one & 1) + 8 * (flags >> 14 - 2 * one & 1) for one in range(layers))
        return at


def units(data: bytes, wide: int) -> Iterator[bytes]:
    """The NAL units of a packet: behind their lengths in so many bytes, or behind start codes if 0 (annex B)."""
    if wide:
        at = 0
        while at + wide < len(data):
            size = int.from_bytes(data[at:at + wide], "big")
            if size:
                yield data[at + wide:at + wide + size]
            at += wide + size
        return
    for piece in data.split(b"\0\0\1"):
        unit = piece.rstrip(b"\0")
        if unit:
            yield unit


def packed(each: Iterable[bytes], wide: int) -> bytes:
    """A packet of units, as :func:`units` takes it apart."""
    return behind_lengths(each, wide) if wide else behind_start_codes(each)


def behind_start_codes(each: Iterable[bytes]) -> bytes:
    """Units as annex B parts them."""
    return b"".join(b"\0\0\0\1" + unit for unit in each)


def behind_lengths(each: Iterable[bytes], wide: int) -> bytes:
    """Units, each behind its length in so many bytes."""
    return b"".join(len(unit).to_bytes(wide, "big") + unit for unit in each)


def lengthened(data: bytes, at: int, count: int) -> tuple[list[bytes], int]:
    """So many units behind lengths of two bytes from a place on, and where they end."""
    found = []
    for _ in range(count):
        size = int.from_bytes(data[at:at + 2], "big")
        found.append(data[at + 2:at + 2 + size])
        at += 2 + size
    return found, at


def free_in(numbers: Iterable[int], taken: set[int]) -> int:
    """The first that is not taken; CannotJoin if all are."""
    for number in numbers:
        if number not in taken:
            return number
    raise CannotJoin("its parameter sets take every number")


def unescaped(unit: bytes) -> bytes:
    """A unit without the bytes that keep start codes out of it."""
    return unit.replace(b"\0\0\3", b"\0\0")


def escaped(raw: bytes) -> bytes:
    """A unit with a byte of 3 wherever two of 0 come before one of 0 to 3."""
    out, zeros = bytearray(), 0
    for byte in raw:
        if zeros >= 2 and byte <= 3:
            out.append(3)
            zeros = 0
        out.append(byte)
        zeros = zeros + 1 if byte == 0 else 0
    return bytes(out)


def golomb(raw: bytes | bytearray, at: int) -> tuple[int, int]:
    """The Exp-Golomb number at a bit, and the bit after it."""
    zeros = 0
    while not _bit(raw, at + zeros):
        zeros += 1
        if zeros > 31:
            raise CannotJoin("its parameter sets cannot be read")
    value = 0
    for place in range(at + zeros, at + 2 * zeros + 1):
        value = value << 1 | _bit(raw, place)
    return value - 1, at + 2 * zeros + 1


def with_number(raw: bytes | bytearray, at: int, number: int) -> bytearray:
    """A unit whose Exp-Golomb number 0 at a bit becomes one from 15 to 30, a byte longer."""
    if not _bit(raw, at):
        raise CannotJoin("the encoder numbers its parameter sets in a way that is not expected")
    first, shift = divmod(at, 8)
    left = 7 - shift                                # bits of that byte behind the number
    code = number + 1                               # its nine bits begin with four of 0
    value = (raw[first] >> left + 1 << 9 | code) << left | raw[first] & (1 << left) - 1
    return bytearray(raw[:first]) + value.to_bytes(2, "big") + bytearray(raw[first + 1:])


def _bit(raw: bytes | bytearray, at: int) -> int:
    if at // 8 >= len(raw):
        raise CannotJoin("its parameter sets cannot be read")
    return raw[at // 8] >> 7 - at % 8 & 1

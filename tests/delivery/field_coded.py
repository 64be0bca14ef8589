"""A field-coded H.264 stream, written bit by bit: no encoder at hand writes one, but cameras of the AVCHD kind do.

Each picture is two coded fields of opposite parity (ITU-T H.264, 7.4.3: ``field_pic_flag``): the first of a group an
IDR field, the second a predicted one, all of them raw samples (``I_PCM``); later ones skip what stands still
and send the rest as raw samples. So what a decoder must give is known to the sample.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np


class _Bits:
    def __init__(self) -> None:
        self.bits: list[str] = []

    def u(self, value: int, length: int) -> None:
        self.bits.append(f"{value:0{length}b}")

    def ue(self, value: int) -> None:
        """Exp-Golomb, 9.1."""
        code = f"{value + 1:b}"
        self.bits.append("0" * (len(code) - 1) + code)

    def align(self) -> None:
        self.bits.append("0" * (-sum(map(len, self.bits)) % 8))

    def raw(self, data: bytes) -> None:
        self.bits.append("".join(f"{byte:08b}" for byte in data))

    def unit(self, kind: int, importance: int) -> bytes:
        """A NAL unit with its start code, emulation prevented (7.4.1)."""
        text = "".join(self.bits) + "1"
        text += "0" * (-len(text) % 8)
        out, zeros = bytearray(), 0
        for byte in int(text, 2).to_bytes(len(text) // 8, "big"):
            if zeros >= 2 and byte <= 3:
                out.append(3)
                zeros = 0
            out.append(byte)
            zeros = zeros + 1 if byte == 0 else 0
        return b"\0\0\0\1" + bytes([importance << 5 | kind]) + bytes(out)


def _sequence_set(across: int, down: int, rate: int) -> bytes:
    """``down`` counts macroblock rows of a frame."""
    bits = _Bits()
    bits.u(77, 8)                       # Main profile
    bits.u(0, 8)
    bits.u(30, 8)                       # level 3
    bits.ue(0)
    bits.ue(4)                          # log2_max_frame_num 8
    bits.ue(2)                          # pictures are shown in the order in which they are coded
    # max_num_ref_frames: with one, the first field would take the place of both before
    bits.ue(2)
    bits.u(0, 1)
    bits.ue(across - 1)
    bits.ue(down // 2 - 1)              # in map units, two rows each
    bits.u(0, 1)                        # frame_mbs_only_flag
    bits.u(0, 1)
    bits.u(1, 1)
    bits.u(0, 1)
    bits.u(1, 1)                        # VUI
    bits.u(0, 4)
    bits.u(1, 1)                        # timing: a tick is a field
    bits.u(1, 32)
    bits.u(2 * rate, 32)
    bits.u(1, 1)
    bits.u(0, 3)
    bits.u(1, 1)                        # bitstream restriction: no reordering
    bits.u(1, 1)
    for value in (0, 0, 10, 10, 0, 1):
        bits.ue(value)
    return bits.unit(7, 3)


def _picture_set() -> bytes:
    bits = _Bits()
    bits.ue(0)
    bits.ue(0)
    bits.u(0, 2)                        # CAVLC
    bits.ue(0)
    bits.ue(0)
    bits.ue(0)
    bits.u(0, 3)
    bits.ue(0)
    bits.ue(0)
    bits.ue(0)
    bits.u(1, 1)                        # deblocking is controlled in the slices: off
    bits.u(0, 2)
    return bits.unit(8, 3)


def _field(planes: tuple[np.ndarray, ...], before: tuple[np.ndarray, ...] | None, number: int, idr: int | None,
           bottom: bool) -> bytes:
    """One coded field; ``before`` is the field that skipped macroblocks repeat, empty if none may be, None for an
    intra field."""
    bits = _Bits()
    bits.ue(0)
    bits.ue(7 if before is None else 5)         # slice_type: all I, all P
    bits.ue(0)
    bits.u(number % 256, 8)
    bits.u(1, 1)                                # field_pic_flag
    bits.u(int(bottom), 1)
    if idr is not None:
        bits.ue(idr % 2)
    if before is not None:
        bits.u(0, 1)                            # one reference
        bits.u(0, 1)
        bits.u(0, 1)                            # no adaptive marking
    elif idr is not None:
        bits.u(0, 2)
    bits.ue(0)                                  # slice_qp_delta
    bits.ue(1)                                  # no deblocking
    skipped = 0
    luma = planes[0]
    for y in range(0, luma.shape[0], 16):
        for x in range(0, luma.shape[1], 16):
            boxes = [np.s_[y:y + 16, x:x + 16], *[np.s_[y // 2:y // 2 + 8, x // 2:x // 2 + 8]] * 2]
            if before is not None:
                if (before and all(np.array_equal(plane[box], old[box])
                                   for plane, old, box in zip(planes, before, boxes, strict=True))):
                    skipped += 1
                    continue
                bits.ue(skipped)
                skipped = 0
            bits.ue(25 + (5 if before is not None else 0))      # I_PCM
            bits.align()
            bits.raw(b"".join(plane[box].tobytes() for plane, box in zip(planes, boxes, strict=True)))
    if before is not None and skipped:
        bits.ue(skipped)
    return bits.unit(5 if idr is not None else 1, 2)


def write(path: Path, pictures: list[tuple[np.ndarray, np.ndarray, np.ndarray]], rate: int = 25,
          group: int = 12) -> None:
    """Write pictures (planes of 4:2:0, sizes multiples of 32) as an elementary stream, top field first."""
    down, across = pictures[0][0].shape
    out = bytearray()
    shown: list[tuple[np.ndarray, ...] | None] = [None, None]
    number = 0
    for at, planes in enumerate(pictures):
        begins = at % group == 0
        number = 0 if begins else number + 1
        if begins:
            out += b"\0\0\0\1\x09\x10" + _sequence_set(across // 16, down // 16, rate) + _picture_set()
        for parity in (0, 1):
            field = tuple(np.ascontiguousarray(plane[parity::2]) for plane in planes)
            if not begins or parity:
                out += b"\0\0\0\1\x09\x30"
            # Skipping repeats the field of the same parity before. The second of a group has none: it sends all of
            # itself.
            before = None if begins and parity == 0 else () if begins else shown[parity]
            out += _field(field, before, number, at // group if begins and parity == 0 else None, bool(parity))
            shown[parity] = field
    path.write_bytes(bytes(out))

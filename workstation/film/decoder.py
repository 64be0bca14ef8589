"""Decoding one source from any of its keyframes, exactly as a decode from its beginning would.

Pictures that follow a keyframe in the file but are shown before it (the leading pictures of an open GOP) are never
taken from a decode that began at that keyframe. A decoder that needs a while to recover (periodic intra refresh) holds
its pictures back; then an earlier keyframe is taken until the wanted picture comes out.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

import av

from .film import Source
from .index import FrameIndex
from .probe import BYTE_SEEKING, Packet, open_container, picture_stream

_BOTTOM_SHOWN_FIRST = (3, 4)     # of libavcodec's AVFieldOrder, whichever field is coded first


def timestamp(frame: av.VideoFrame) -> int:
    """The timestamp of a frame; those without one are never handed out."""
    if frame.pts is None:
        raise ValueError("a frame without a timestamp")
    return frame.pts


def is_bottom_first(stream: av.VideoStream) -> bool:
    """Whether the field of the lower lines is shown first, as far as the stream says; DV's always is (IEC 61834)."""
    context = stream.codec_context
    return int(context.field_order) in _BOTTOM_SHOWN_FIRST or context.name == "dvvideo"


class Decoder:
    """Reads a source's pictures in display order. Not for use by two threads at once.

    ``next`` is the number of the frame that :meth:`read` returns next, or None after an end
    or before the first :meth:`seek`.
    """

    def __init__(self, source: Source, index: FrameIndex) -> None:
        self.source, self.index = source, index
        self._open("AUTO")
        self._one_by_one = False        # else several frames at once, of which damage at the end would cost all
        self._by_bytes = self._container.format.name in BYTE_SEEKING
        self._frames: Iterator[av.VideoFrame] = iter(())
        self._held: av.VideoFrame | None = None
        self._key = 0                   # where the frames at hand were begun
        self.next: int | None = None

    def _open(self, threads: Literal["AUTO", "SLICE"]) -> None:
        self._container = open_container(self.source.path)
        self._stream = picture_stream(self._container)
        self._stream.thread_type = threads

    @property
    def bottom_first(self) -> bool:
        """Whether the bottom field of an interlaced frame comes first."""
        return is_bottom_first(self._stream)

    def close(self) -> None:
        """Close the file; no frame follows."""
        self._frames = iter(())
        self._container.close()

    def keyframe(self, number: int) -> int:
        """Number of the last keyframe shown at or before a frame."""
        return self.index.at(int(self.index.key_pts[self.index.key_for(int(self.index.pts[number]))]))

    def cost(self, number: int) -> int:
        """How many frames have to be decoded to get at one."""
        afresh = number - self.keyframe(number) + 1
        if self.next is not None and self.next <= number:
            return min(number - self.next + 1, afresh)
        return afresh

    def seek(self, number: int) -> None:
        """Make :meth:`read` give pictures from a keyframe at or before picture ``number``.

        A frame that no decode gives (damage) is skipped: then :attr:`next` stands after it.
        """
        if self.next is not None and self.next <= number and number - self.next + 1 <= self.cost(number):
            return
        wanted = int(self.index.pts[number])
        key, back = self.index.key_for(wanted), 1
        while True:
            self._begin(key)
            self._hold()
            if (self._held is not None and timestamp(self._held) <= wanted) or key == 0:
                return
            key, back = max(key - back, 0), back * 2

    def read(self) -> tuple[int, av.VideoFrame] | None:
        """Return the next picture and its number, or None at the end of the source."""
        if self._held is None:
            return None
        read = self.index.at(timestamp(self._held)), self._held
        self._hold()
        return read

    def _hold(self) -> None:
        """Hold the next frame. Where frames of the index lack in the end, look once more, decoding one by one."""
        following, before = self.next, self._held
        self._hold_next()
        if self._held is None and not self._one_by_one:
            missing = self.index.at(timestamp(before)) + 1 if before is not None else following
            if missing is None or missing < len(self.index):
                self._one_by_one = True
                self._frames = iter(())
                self._container.close()
                self._open("SLICE")
                self._begin(self._key if missing is None else self.index.key_for(int(self.index.pts[missing])))
                self.next = missing
                self._hold_next()

    def _hold_next(self) -> None:
        pts = self.index.pts
        for frame in self._frames:
            number = self.index.at(timestamp(frame))
            if pts[number] == frame.pts and (self.next is None or number >= self.next):
                self._held, self.next = frame, number
                return
        self._held = self.next = None

    def _begin(self, key: int) -> None:
        self._held = self.next = None
        self._key = key
        self._frames = self._from(key)

    def _from(self, key: int) -> Iterator[av.VideoFrame]:
        """Decode from a keyframe, or from an earlier place if the container will not go there."""
        index, retimed = self.index, self.index.retimed
        for landing in range(key, -1, -1):
            packets = self._land(landing)
            packet = self._first(packets, key)
            if packet is not None:
                break
        else:                           # the container loses it: decode from the very beginning
            packets = self._land(0)
            packet, key = next(packets, None), 0
        floor = int(index.key_pts[key]) if key else int(index.pts[0])
        while packet is not None:
            if retimed is not None and packet.size and packet.dts is not None:
                packet.pts = retimed.get(packet.dts, packet.dts)
            try:
                frames = packet.decode()
            except av.FFmpegError:      # whatever the decoder makes of it, up to "not implemented"
                frames = []             # a damaged packet costs its own picture only
            for frame in frames:
                if frame.pts is not None and frame.pts >= floor:
                    yield frame
            try:
                packet = next(packets, None)
            except (av.error.InvalidDataError, av.error.MemoryError):
                # The file breaks off here, or gives a size that no memory holds; what is decoded still counts.
                yield from (frame for frame in self._stream.codec_context.decode(None) if frame.pts is not None)
                return

    def _first(self, packets: Iterator[Packet], key: int) -> Packet | None:
        """Skip to a keyframe's packet, whole and under its own timestamp; None if it does not come."""
        index = self.index
        dts, pts, size = int(index.key_dts[key]), int(index.key_pts[key]), int(index.key_size[key])
        for packet in packets:
            same = packet.dts == dts if index.retimed is not None or packet.pts is None else packet.pts == pts
            if same and packet.size == size:
                return packet
            if packet.dts is None or (packet.is_keyframe and packet.dts > dts):
                return None
        return None

    def _land(self, key: int) -> Iterator[Packet]:
        """The packets from a keyframe or before it (the first: from the file's beginning); none where damage is."""
        try:
            if self._by_bytes:
                at = int(self.index.key_pos[key]) if key else 0
                self._container.seek(max(at, 0), unsupported_byte_offset=True)
            else:
                self._container.seek(int(self.index.key_dts[key]), stream=self._stream, backward=True)
        except av.error.PermissionError:    # -1, libavformat's word for "no such place in its list"
            return iter(())
        return self._container.demux(self._stream)

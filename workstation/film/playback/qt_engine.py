"""The player built into Qt (QMediaPlayer), for machines without libVLC.

It lives in the application's own thread, where this module is to be read, and needs that thread's event loop.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import cast

import av
from av.video.reformatter import ColorRange
from PySide6.QtCore import QObject, Qt, QUrl, Signal
from PySide6.QtMultimedia import QAudioOutput, QMediaDevices, QMediaPlayer, QVideoFrame, QVideoFrameFormat, QVideoSink

from ..colour import BT601_625, BT709, BT2020, UNSPECIFIED
from ..film import Source
from .engine import STREAMS, Deck, Engine, PlayerEvent, PlayerEventKind, SeekSupport, StartPoint

_PLANAR = {
    QVideoFrameFormat.PixelFormat.Format_YUV420P: "yuv420p",
    QVideoFrameFormat.PixelFormat.Format_YUV422P: "yuv422p",
    QVideoFrameFormat.PixelFormat.Format_YUV420P10: "yuv420p10le",
    QVideoFrameFormat.PixelFormat.Format_NV12: "nv12",
    QVideoFrameFormat.PixelFormat.Format_P010: "p010le",
}
_MATRICES = {QVideoFrameFormat.ColorSpace.ColorSpace_BT601: BT601_625,
             QVideoFrameFormat.ColorSpace.ColorSpace_BT709: BT709,
             QVideoFrameFormat.ColorSpace.ColorSpace_BT2020: BT2020}


class QtEngine(Engine):
    """To be made in the application's thread."""

    name = "the player built into Qt"

    def __init__(self) -> None:
        self.report: Callable[[PlayerEvent], None] = lambda report: None
        self.stage = _Stage()

    def seek_support(self, source: Source) -> SeekSupport:
        """In streams QMediaPlayer loses its way after a seek (6.12, its FFmpeg backend)."""
        return SeekSupport.BEGINNING if source.path.suffix.lower() in STREAMS else SeekSupport.ANYWHERE

    def open(self, source: Source, place: StartPoint, speed: float) -> QtDeck:
        """Open a deck at this place that plays at `speed` times real time."""
        return QtDeck(self, source, place, speed)


class _Stage(QObject):
    """Does things in the application's thread."""

    do = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.do.connect(self._on_do, Qt.ConnectionType.QueuedConnection)

    def _on_do(self, work: Callable[[], None]) -> None:
        work()


class QtDeck(Deck):
    """A deck that plays through QtMultimedia on the thread of the stage."""

    _engine: QtEngine

    def __init__(self, engine: QtEngine, source: Source, place: StartPoint, speed: float) -> None:
        super().__init__(engine, source)
        self._milliseconds = int(place.at * 1000 + 1e-6)
        self._speed = speed
        self._running = self._placed = False
        self._player: QMediaPlayer | None = None
        self._do(self._open)

    def run(self) -> None:
        """Start playing, or go on."""
        self._do(lambda: self._set_running(True))

    def hold(self) -> None:
        """Stop playing and keep the place."""
        self._do(lambda: self._set_running(False))

    def set_volume(self, volume: float) -> None:
        """Set the volume, 0 to 1."""
        def set_it() -> None:
            if self._sound is not None:
                self._sound.setVolume(volume)

        self._do(set_it)

    def close(self) -> None:
        """Stop for good; the player is released on its thread."""
        self._closed = True
        self._engine.stage.do.emit(self._close)

    def _do(self, work: Callable[[], None]) -> None:
        self._engine.stage.do.emit(lambda: None if self._closed else work())

    # In the application's thread

    def _open(self) -> None:
        self._player, self._sink = QMediaPlayer(), QVideoSink()
        self._sound = None
        if not QMediaDevices.defaultAudioOutput().isNull():     # without a device the player would wait for it
            self._sound = QAudioOutput()
            self._sound.setVolume(0.0)
            self._player.setAudioOutput(self._sound)
        self._player.setVideoSink(self._sink)
        if hasattr(self._player, "setPitchCompensation"):
            self._player.setPitchCompensation(True)
        self._sink.videoFrameChanged.connect(self._on_frame)
        self._player.mediaStatusChanged.connect(self._on_status)
        self._player.errorOccurred.connect(lambda _error, words: self._report(
            PlayerEventKind.FAILED, reason=f"{self.source.path.name} cannot be played: {words}"))
        self._player.setSource(QUrl.fromLocalFile(str(self.source.path.absolute())))
        self._player.setPlaybackRate(self._speed)

    def _set_running(self, running: bool) -> None:
        self._running = running
        if self._player is not None and self._placed:
            self._player.play() if running else self._player.pause()

    def _on_status(self, status: QMediaPlayer.MediaStatus) -> None:
        if status == QMediaPlayer.MediaStatus.EndOfMedia:
            self._report(PlayerEventKind.ENDED)
        elif self._player is not None and not self._placed and status in (
                QMediaPlayer.MediaStatus.LoadedMedia, QMediaPlayer.MediaStatus.BufferedMedia):
            self._placed = True
            if self._milliseconds:
                self._player.setPosition(self._milliseconds)
            self._player.play() if self._running else self._player.pause()

    def _on_frame(self, frame: QVideoFrame) -> None:
        when = time.monotonic()
        if self._closed or not frame.isValid():
            return
        copied = _copied(frame)
        if copied is not None:
            seconds = frame.startTime() / 1e6 if frame.startTime() >= 0 else None
            self._report(PlayerEventKind.FRAME, when, frame=copied, seconds=seconds)

    def _close(self) -> None:
        if self._player is not None:
            self._player.stop()
            self._player.setVideoSink(cast(QVideoSink, None))      # the stubs forget that it may have none
            self._player.deleteLater()
            self._sink.deleteLater()
            if self._sound is not None:
                self._sound.deleteLater()
            self._player = None


def _copied(frame: QVideoFrame) -> av.VideoFrame | None:
    """The frame's planes in memory of our own."""
    form = _PLANAR.get(frame.pixelFormat())
    if form is None or not frame.map(QVideoFrame.MapMode.ReadOnly):
        image = frame.toImage()
        if image.isNull():
            return None
        image = image.convertToFormat(image.Format.Format_RGBA8888)
        copied = av.VideoFrame(image.width(), image.height(), "rgba")
        _fill(copied.planes[0], bytes(image.constBits()), image.bytesPerLine())
        return copied
    try:
        copied = av.VideoFrame(frame.width(), frame.height(), form)
        said = frame.surfaceFormat()
        copied.colorspace = _MATRICES.get(said.colorSpace(), UNSPECIFIED)
        copied.color_range = (ColorRange.JPEG if said.colorRange() is QVideoFrameFormat.ColorRange.ColorRange_Full
                              else ColorRange.MPEG)
        for number, plane in enumerate(copied.planes):
            _fill(plane, bytes(frame.bits(number)), frame.bytesPerLine(number))
        return copied
    finally:
        frame.unmap()


def _fill(plane: av.video.plane.VideoPlane, data: bytes, line: int) -> None:
    if line == plane.line_size and len(data) >= plane.buffer_size:
        plane.update(data[:plane.buffer_size])
        return
    width = min(line, plane.line_size)
    lines = bytearray(plane.buffer_size)
    for row in range(min(plane.buffer_size // plane.line_size, len(data) // line)):
        lines[row * plane.line_size:row * plane.line_size + width] = data[row * line:row * line + width]
    plane.update(bytes(lines))

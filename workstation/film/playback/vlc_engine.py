"""libVLC as a player: pictures into memory, sound to the machine's own output.

Pictures are asked for as decoded (I420), so that a playing and a paused picture go through the same conversion and have
the same colours. libVLC gives them in the studio range, whatever the film's is, and leaves their matrix without naming
it: they are tagged by the film's headers. Decoding stays on the processor: what a graphics card gives back differs
between drivers.
"""

from __future__ import annotations

import contextlib
import ctypes
import os
import shlex
import threading
import time
from collections.abc import Callable
from ctypes import CFUNCTYPE, POINTER, c_int, c_size_t, c_ssize_t, c_uint, c_uint64, c_void_p
from typing import Any

import av
import vlc
from av.video.reformatter import ColorRange

from ..colour import UNSPECIFIED, colours_in
from ..film import Source
from .engine import STREAMS, Deck, Engine, PlayerEvent, PlayerEventKind, SeekSupport, StartPoint
from .sound_output import has_sound_output, quieten
from .time_stretch import StretchedSound

_Format = CFUNCTYPE(c_uint, POINTER(c_void_p), c_void_p, *[POINTER(c_uint)] * 4)
_Cleanup = CFUNCTYPE(None, c_void_p)
_Lock = CFUNCTYPE(c_void_p, c_void_p, POINTER(c_void_p))
_Unlock = CFUNCTYPE(None, c_void_p, c_void_p, c_void_p)
_Display = CFUNCTYPE(None, c_void_p, c_void_p)
_Open = CFUNCTYPE(c_int, c_void_p, POINTER(c_void_p), POINTER(c_uint64))
_Read = CFUNCTYPE(c_ssize_t, c_void_p, c_void_p, c_size_t)
_Close = CFUNCTYPE(None, c_void_p)

OPTIONS = ("--quiet", "--no-video-title-show", "--no-sub-autodetect-file", "--no-osd", "--no-spu", "--no-stats",
           "--no-lua", "--no-snapshot-preview", "--avcodec-hw=none", "--audio-time-stretch")


class VlcEngine(Engine):
    """Raises RuntimeError if libVLC cannot start. ``FILM_WORKSTATION_VLC`` adds libVLC options."""

    def __init__(self) -> None:
        extra = shlex.split(os.environ.get("FILM_WORKSTATION_VLC", ""))
        quieten()
        self.has_sound = has_sound_output()
        silent = () if self.has_sound else ("--aout=dummy",)    # else each source is tried on every kind of output
        self._instance = vlc.Instance([*OPTIONS, *silent, *extra])
        if self._instance is None:
            raise RuntimeError("libVLC does not start; its plugins may be missing (package vlc-plugin-base)")
        self.name = "VLC " + vlc.libvlc_get_version().decode().split()[0]
        self.report: Callable[[PlayerEvent], None] = lambda report: None
        self._set_format = _function("libvlc_video_set_format_callbacks", 3)
        self._set_callbacks = _function("libvlc_video_set_callbacks", 5)
        self._closing: list[threading.Thread] = []

    def seek_support(self, source: Source) -> SeekSupport:
        """In streams libVLC goes to the next keyframe from wherever it is sent."""
        return SeekSupport.KEYFRAMES if source.path.suffix.lower() in STREAMS else SeekSupport.ANYWHERE

    def open(self, source: Source, place: StartPoint, speed: float) -> VlcDeck:
        """Open a deck at this place that plays at `speed` times real time."""
        return VlcDeck(self, source, place, speed)

    def sound(self, source: Source, seconds: float, speed: float) -> VlcSound | None:
        """The sound alone, for pictures that somebody else shows; None if there is none."""
        if source.audio_codec is None:
            return None
        try:
            return VlcSound(self, StretchedSound(source, seconds, speed))
        except (ValueError, OSError):
            return None

    def close(self) -> None:
        """Wait for decks that are closing, 5 s each at most, and release libVLC."""
        for thread in self._closing:
            thread.join(5)
        self._instance.release()

    def later(self, work: Callable[[], None]) -> None:
        """Stopping a libVLC player can take a while; nobody should wait for it."""
        self._closing = [thread for thread in self._closing if thread.is_alive()]
        thread = threading.Thread(target=work, name="closing a player", daemon=True)
        self._closing.append(thread)
        thread.start()


class _VlcPlayer:
    """A libVLC player that is silent until it gets a volume."""

    _engine: VlcEngine
    _player: vlc.MediaPlayer
    _closed = False

    def set_volume(self, volume: float) -> None:
        """Set the volume, 0 to 1; 0 mutes."""
        self._player.audio_set_mute(volume == 0)
        if volume:
            self._player.audio_set_volume(round(volume * 100))

    def close(self) -> None:
        """Stop for good; the player is released in the background. A second call does nothing."""
        if not self._closed:
            self._closed = True
            self._player.audio_set_mute(True)
            self._engine.later(self._release)

    def _release(self) -> None:
        self._player.stop()
        self._player.release()


class VlcDeck(_VlcPlayer, Deck):
    """A deck that plays through libVLC into memory."""

    _engine: VlcEngine
    turns = True
    deinterlaces = True

    def __init__(self, engine: VlcEngine, source: Source, place: StartPoint, speed: float) -> None:
        super().__init__(engine, source)
        width, height = source.width, source.height
        self._size = (height, width) if source.rotation % 180 else (width, height)
        self._player = engine._instance.media_player_new()
        self._frames: dict[int, av.VideoFrame] = {}
        self._count = 0
        self._matrix = UNSPECIFIED
        self._exact = engine.seek_support(source) is SeekSupport.ANYWHERE
        # Rounded down: libVLC shows the first picture at or after the time it is sent to.
        self._milliseconds = int((place.at if self._exact else place.key_approach) * 1000 + 1e-6)
        self._opened = False        # its first picture has come
        self._running = False
        # libVLC keeps bare pointers: these must live as long as the player.
        self._callbacks = (_Format(self._on_format), _Cleanup(lambda _: None), _Lock(self._on_lock),
                           _Unlock(lambda *_: None), _Display(self._on_display))
        form, clean, lock, unlock, display = (ctypes.cast(callback, c_void_p) for callback in self._callbacks)
        engine._set_format(self._player, form, clean)
        engine._set_callbacks(self._player, lock, unlock, display, None)
        self._events = events = _events(self._player)
        events.event_attach(vlc.EventType.MediaPlayerTimeChanged, self._on_time)
        events.event_attach(vlc.EventType.MediaPlayerEndReached, lambda _: self._report(PlayerEventKind.ENDED))
        events.event_attach(vlc.EventType.MediaPlayerEncounteredError, lambda _: self._report(
            PlayerEventKind.FAILED, reason=f"{source.path.name} cannot be played. Stepping through it may still work."))
        if source.interlaced:
            self._player.video_set_deinterlace("yadif")
        media = engine._instance.media_new_path(str(source.path))
        if self._milliseconds:
            media.add_option(f":start-time={self._milliseconds / 1000:.3f}")
        self._player.set_media(media)
        media.release()
        self._player.audio_set_mute(True)
        self._player.set_rate(speed)
        self._player.play()

    def run(self) -> None:
        """Start playing, or go on, as soon as the file is open."""
        self._running = True
        if self._opened:
            self._player.set_pause(0)

    def hold(self) -> None:
        """Stop playing and keep the place."""
        self._running = False
        if self._opened:
            self._player.set_pause(1)

    def on_event(self, event: PlayerEvent) -> None:
        """libVLC can be held only once it shows something, and has then to be sent back."""
        if event.kind is PlayerEventKind.FRAME and not self._opened:
            self._opened = True
            if self._running:
                return
            self._player.set_pause(1)
            if self._milliseconds and self._exact:
                self._player.set_time(self._milliseconds)
            elif not self._milliseconds:
                self._player.set_position(0.0)      # the beginning, wherever libVLC puts time 0

    def _release(self) -> None:
        super()._release()
        self._frames.clear()

    def _on_time(self, event: vlc.Event) -> None:
        self._report(PlayerEventKind.TIME, seconds=event.u.new_time / 1000)

    def _on_format(self, _opaque: Any, chroma: Any, width: Any, height: Any, pitches: Any, lines: Any) -> int:
        ctypes.memmove(chroma, b"I420", 4)
        width[0], height[0] = self._size
        with contextlib.suppress(av.FFmpegError, OSError):      # here nobody waits: it is the player's own thread
            self._matrix = colours_in(self.source).matrix
        for number, plane in enumerate(av.VideoFrame(*self._size, "yuv420p").planes):
            pitches[number], lines[number] = plane.line_size, plane.height
        return 1

    def _on_lock(self, _opaque: Any, planes: Any) -> int:
        frame = av.VideoFrame(*self._size, "yuv420p")
        frame.colorspace, frame.color_range = self._matrix, ColorRange.MPEG
        for number, plane in enumerate(frame.planes):
            planes[number] = plane.buffer_ptr
        self._count += 1
        self._frames[self._count] = frame
        return self._count

    def _on_display(self, _opaque: Any, number: int) -> None:
        when = time.monotonic()
        frame = self._frames.get(number)
        for older in [n for n in self._frames if n <= number]:
            self._frames.pop(older, None)
        if frame is not None:
            self._report(PlayerEventKind.FRAME, when, frame=frame)


class VlcSound(_VlcPlayer):
    """Plays a stretched sound; ``on_time`` as in :class:`~.engine.SoundPlayer`."""

    def __init__(self, engine: VlcEngine, sound: StretchedSound) -> None:
        self._engine, self._sound = engine, sound
        self.on_time: Callable[[float, float], None] = lambda when, seconds: None
        self._player = engine._instance.media_player_new()
        self._callbacks = (_Open(self._on_open), _Read(self._on_read), _Close(lambda _: None))
        make = vlc.dll["libvlc_media_new_callbacks"]
        make.argtypes, make.restype = [c_void_p] * 6, c_void_p
        begin, read, end = (ctypes.cast(callback, c_void_p) for callback in self._callbacks)
        media = vlc.Media(make(engine._instance._as_parameter_, begin, read, None, end, None))
        for option in (":no-video", ":network-caching=100", ":file-caching=100", ":live-caching=100"):
            media.add_option(option)
        self._player.set_media(media)
        media.release()
        self._events = _events(self._player)
        self._events.event_attach(vlc.EventType.MediaPlayerTimeChanged, self._on_time)
        self._player.audio_set_mute(True)

    def play(self) -> None:
        """Start the sound."""
        self._player.play()

    def _release(self) -> None:
        super()._release()
        self._sound.close()

    def _on_time(self, event: vlc.Event) -> None:
        if not self._closed:
            self.on_time(time.monotonic(), event.u.new_time / 1000)

    def _on_open(self, _opaque: Any, _data: Any, size: Any) -> int:
        size[0] = 2**64 - 1     # not known
        return 0

    def _on_read(self, _opaque: Any, buffer: Any, size: int) -> int:
        data = b"" if self._closed else self._sound.read(size)
        ctypes.memmove(buffer, data, len(data))
        return len(data)


def _events(player: vlc.MediaPlayer) -> vlc.EventManager:
    """The events of a player, to be kept with it: its own ``event_manager`` keeps every player that ever was."""
    return vlc.libvlc_media_player_event_manager(player)


def _function(name: str, arguments: int) -> Callable[..., None]:
    """A libVLC function that takes pointers; python-vlc's own declaration of these refuses Python callbacks."""
    function = vlc.dll[name]
    function.argtypes, function.restype = [c_void_p] * arguments, None

    def call(player: vlc.MediaPlayer, *pointers: object) -> None:
        function(player._as_parameter_, *pointers)

    return call

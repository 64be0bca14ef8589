"""Where copied plays begin and end in two players: the ffmpeg program, and libVLC with its own demuxer for MP4.

Each picture of the footage carries its number as bars of black and white, so that what a player shows can be read.
Copied as the camera recorded it with its run-up hidden by an edit list (the default), and with the ends encoded again
(``every_player``). Counted are copies of which a player shows exactly the wanted pictures, first to last. On a busy
machine libVLC leaves a picture out now and then, another one each time: a copy is played up to three times.
"""

from __future__ import annotations

import ctypes
import os
import random
import subprocess
import tempfile
import threading
from pathlib import Path

import av
import numpy as np
import vlc

from workstation.delivery.copying import copy_part
from workstation.delivery.segment import Part
from workstation.film.index import index_of
from workstation.film.playback.vlc_engine import _Cleanup, _Display, _Format, _function, _Lock, _Unlock
from workstation.film.probe import probe

BITS, SIZE, PICTURES, RATE = 8, (256, 128), 200, 25
SPANS = 6
ENCODERS = {
    "H.264, closed groups": ("libx264", {"preset": "veryfast", "g": "24", "bf": "2"}, "closed.mp4"),
    "H.264, open groups": ("libx264", {"preset": "veryfast", "bf": "3",
                                       "x264-params": "open-gop=1:keyint=24:b-adapt=0:scenecut=0"}, "open.mp4"),
    "HEVC, closed groups": ("libx265", {"preset": "ultrafast", "x265-params":
                                        "log-level=none:keyint=24:open-gop=0:bframes=3:scenecut=0"}, "hevc.mp4"),
    "HEVC, open groups": ("libx265", {"preset": "ultrafast", "x265-params":
                                      "log-level=none:keyint=24:open-gop=1:bframes=4:b-adapt=0:scenecut=0"},
                          "hevc_open.mp4"),
    "HEVC in 10 bit, open groups": ("libx265", {"preset": "ultrafast", "x265-params":
                                                "log-level=none:keyint=24:open-gop=1:bframes=4:scenecut=0"},
                                    "hevc_10.mov"),
}


def film(encoder: str, folder: Path) -> Path:
    """A film of numbered pictures with some noise."""
    codec, options, name = ENCODERS[encoder]
    path, chance = folder / name, np.random.default_rng(5)
    wide, tall = SIZE
    with av.open(str(path), "w") as out:
        stream = out.add_stream(codec, rate=RATE, options=options)
        stream.width, stream.height = SIZE
        stream.pix_fmt = "yuv420p10le" if "10 bit" in encoder else "yuv420p"
        if codec == "libx265":
            stream.codec_context.codec_tag = "hvc1"
        for number in range(PICTURES):
            luma = chance.normal(120, 20, (tall * 3 // 2, wide)).clip(16, 235)
            luma[tall:] = 128
            for bit in range(BITS):
                luma[8:40, bit * 32:bit * 32 + 32] = 225 if number >> bit & 1 else 20
            frame = av.VideoFrame.from_ndarray(luma.astype(np.uint8), format="yuv420p").reformat(format=stream.pix_fmt)
            frame.pts = number
            out.mux(stream.encode(frame))
        out.mux(stream.encode(None))
    return path


def number_in(luma: np.ndarray) -> int:
    """The number that a picture carries."""
    return sum(1 << bit for bit in range(BITS) if luma[16:32, bit * 32 + 8:bit * 32 + 24].mean() > 120)


def by_ffmpeg(path: Path) -> list[int]:
    """What the ffmpeg program shows, edit list honoured."""
    raw = subprocess.run(["ffmpeg", "-loglevel", "error", "-i", str(path), "-map", "0:v", "-fps_mode", "passthrough",
                          "-pix_fmt", "gray", "-f", "rawvideo", "-"], check=True, capture_output=True).stdout
    return [number_in(picture) for picture in np.frombuffer(raw, np.uint8).reshape(-1, SIZE[1], SIZE[0])]


class Shown:
    """What libVLC shows, played to its end without leaving a late picture out."""

    def __init__(self) -> None:
        self._vlc = vlc.Instance(["--quiet", "--aout=dummy", "--no-drop-late-frames", "--no-skip-frames",
                                  "--avcodec-hw=none", "--no-spu", "--no-lua", "--demux=mp4"])

    def __call__(self, path: Path) -> list[int]:
        wide, tall = SIZE
        planes = np.zeros(wide * tall * 3 // 2, np.uint8)
        numbers: list[int] = []
        ended = threading.Event()

        def form(_opaque, chroma, width, height, pitches, lines) -> int:
            ctypes.memmove(chroma, b"I420", 4)
            width[0], height[0] = wide, tall
            for plane, smaller in enumerate((1, 2, 2)):
                pitches[plane], lines[plane] = wide // smaller, tall // smaller
            return 1

        def lock(_opaque, into) -> int:
            for plane, at in enumerate((0, wide * tall, wide * tall * 5 // 4)):
                into[plane] = planes.ctypes.data + at
            return 1

        callbacks = (_Format(form), _Cleanup(lambda _: None), _Lock(lock), _Unlock(lambda *_: None),
                     _Display(lambda *_: numbers.append(number_in(planes[:wide * tall].reshape(tall, wide)))))
        own, clean, begin, end, display = (ctypes.cast(each, ctypes.c_void_p) for each in callbacks)
        player = self._vlc.media_player_new()
        _function("libvlc_video_set_format_callbacks", 3)(player, own, clean)
        _function("libvlc_video_set_callbacks", 5)(player, begin, end, display, None)
        player.event_manager().event_attach(vlc.EventType.MediaPlayerEndReached, lambda _: ended.set())
        player.set_media(self._vlc.media_new_path(str(path)))
        player.play()
        ended.wait(60)
        player.stop()
        player.release()
        return [number for at, number in enumerate(numbers) if not at or number != numbers[at - 1]]


def main() -> None:
    by_libvlc = Shown()
    print(f"{vlc.libvlc_get_version().decode()}; {SPANS} copies of each kind, of 12 to 60 pictures, seed 18")
    print(f"{'':30}{'as recorded':>26}{'for every player':>30}")
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        os.environ["FILM_WORKSTATION_CACHE"] = str(folder / "cache")
        for encoder in ENCODERS:
            source = probe(film(encoder, folder), "s")
            pts, chance, cells = index_of(source).pts, random.Random(18), []
            spans = [(first, first + chance.randint(12, 60))
                     for first in (chance.randint(1, 130) for _ in range(SPANS))]
            for every_player in (False, True):
                right = {"ffmpeg": 0, "libVLC": 0}
                for first, last in spans:
                    path = copy_part(Part(source, int(pts[first]), int(pts[last])), folder / "copy.mp4",
                                     every_player).path
                    wanted = list(range(first, last))
                    right["ffmpeg"] += by_ffmpeg(path) == wanted
                    right["libVLC"] += any(by_libvlc(path) == wanted for _ in range(3))
                    path.unlink()
                cells.append(", ".join(f"{player} {count}/{SPANS}" for player, count in right.items()))
            print(f"{encoder:30}{cells[0]:>26}{cells[1]:>30}", flush=True)


if __name__ == "__main__":
    main()

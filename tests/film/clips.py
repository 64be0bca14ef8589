"""Files as game cameras leave them, made once per run with ffmpeg (and libx264, libx265 in it)."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
from fractions import Fraction
from pathlib import Path

import av
import numpy as np

from workstation.film.film import Source
from workstation.film.time import Instant

RATE = Fraction(30000, 1001)
SIZE = (320, 180)
FRAMES = 75
MOVING = ["-f", "lavfi", "-i", f"testsrc2=size=320x180:rate=30000/1001:duration={FRAMES * 1001 / 30000:.4f}"]
TONE = ["-f", "lavfi", "-i", f"sine=frequency=440:duration={FRAMES * 1001 / 30000:.4f}"]
H264 = ["-c:v", "libx264", "-preset", "veryfast", "-bf", "3"]

# name -> what ffmpeg is asked for. Every kind is decoded in full and compared with random access.
KINDS: dict[str, list[str]] = {
    "closed_gop.mp4": [*MOVING, *TONE, *H264, "-g", "24", "-c:a", "aac"],
    "open_gop.mp4": [*MOVING, *H264, "-g", "24", "-x264-params", "open-gop=1:b-adapt=0:scenecut=0:b-pyramid=normal"],
    "open_gop.ts": [*MOVING, *TONE, *H264, "-g", "24", "-x264-params", "open-gop=1:b-adapt=0:scenecut=0", "-c:a",
                    "aac"],
    "00001.MTS": ["-f", "lavfi", "-i", "testsrc2=size=320x180:rate=60000/1001:duration=2.5", *TONE,
                  "-vf", "interlace,setfield=tff", "-c:v", "libx264", "-preset", "veryfast", "-flags", "+ildct+ilme",
                  "-x264-params", "tff=1:open-gop=1:bframes=2", "-g", "15", "-c:a", "ac3", "-f", "mpegts"],
    "hevc_8bit.mp4": [*MOVING, "-c:v", "libx265", "-preset", "ultrafast", "-tag:v", "hvc1",
                      "-x265-params", "log-level=none:keyint=24:min-keyint=24:open-gop=1:bframes=3:scenecut=0"],
    "hevc_10bit.mov": [*MOVING, "-c:v", "libx265", "-preset", "ultrafast", "-tag:v", "hvc1", "-pix_fmt", "yuv420p10le",
                       "-x265-params", "log-level=none:keyint=24:bframes=3"],
    "variable_rate.mp4": [*MOVING, "-vf", "select='not(mod(n,3))+gt(random(1),0.5)',setpts='PTS+0.01*random(2)/TB'",
                          "-fps_mode", "vfr", *H264, "-g", "20"],
    "mpeg2.avi": [*MOVING, *TONE, "-c:v", "mpeg2video", "-bf", "2", "-g", "15", "-b:v", "2M", "-c:a", "mp2"],
    "mpeg2.mpg": [*MOVING, *TONE, "-c:v", "mpeg2video", "-bf", "2", "-g", "15", "-b:v", "2M", "-c:a", "mp2"],
    "h264.avi": [*MOVING, *H264, "-g", "24"],
    "late_start.ts": [*MOVING, *TONE, *H264, "-g", "24", "-c:a", "aac", "-output_ts_offset", "1234.5"],
    "wrapping_clock.ts": [*MOVING, *H264, "-g", "24", "-output_ts_offset", "95442.3"],   # 2^33 ticks are 95443.7 s
    "intra_refresh.ts": [*MOVING, "-c:v", "libx264", "-preset", "veryfast", "-bf", "0",
                         "-x264-params", "intra-refresh=1:keyint=24"],
    "anamorphic.mp4": [*MOVING, "-vf", "setsar=4/3", *H264, "-g", "24"],
    "timecode.mov": [*MOVING, *TONE, *H264, "-g", "24", "-c:a", "aac", "-timecode", "01:00:00;00",
                     "-metadata", "creation_time=2025-10-03T19:01:02Z"],
}
COPIES: dict[str, list[str]] = {     # made of another kind without encoding again
    "rotated.mov": ["-i", "closed_gop.mp4", "-c", "copy", "-metadata:s:v", "rotate=90"],
    "edit_list.mp4": ["-ss", "1.1", "-i", "open_gop.mp4", "-c", "copy"],
}
ALL_KINDS = [*KINDS, *COPIES]


def made(kind: str, folder: Path) -> Path:
    """The file of a kind in a folder; made once there, beside and then renamed."""
    path = folder / kind
    if not path.exists():
        folder.mkdir(parents=True, exist_ok=True)
        arguments = KINDS.get(kind) or COPIES[kind]
        for argument in arguments:
            if argument in KINDS:
                made(argument, folder)
        partial = folder / f"making_{os.getpid()}_{kind}"
        ffmpeg([*arguments, partial.name], folder)
        partial.rename(path)
    return path


def ffmpeg(arguments: list[str], folder: Path) -> None:
    if "rotate=90" in arguments and ffmpeg_version() >= 6:      # the old spelling is gone there
        arguments = ["-display_rotation", "270", *arguments[:-3], arguments[-1]]
    subprocess.run(["ffmpeg", "-v", "error", "-nostdin", "-y", *arguments], cwd=folder, check=True)


def ffmpeg_version() -> int:
    said = subprocess.run(["ffmpeg", "-version"], check=True, capture_output=True, text=True).stdout
    return int(re.search(r"version \D*(\d+)", said)[1])



def picture_hash(frame: av.VideoFrame) -> str:
    """Of the visible samples as they were decoded."""
    digest = hashlib.md5()
    wide = 2 if frame.format.components[0].bits > 8 else 1
    for plane in frame.planes:
        lines = np.frombuffer(plane, np.uint8).reshape(plane.height, plane.line_size)
        digest.update(np.ascontiguousarray(lines[:, :plane.width * wide]))
    return digest.hexdigest()


def full_decode(path: Path) -> list[str]:
    """Hashes of all pictures as the ffmpeg program decodes and shows them, in order: another build of another
    version of the libraries than the one under test."""
    lines = subprocess.run(
        ["ffmpeg", "-v", "error", "-noautorotate", "-i", path, "-map", "0:V:0", "-fps_mode", "passthrough",
         "-f", "framemd5", "-"], check=True, capture_output=True, text=True).stdout.splitlines()
    return [line.split(",")[-1].strip() for line in lines if not line.startswith("#")]


def numbered_film(path: Path, first: int = 0, frames: int = 150, *, sound: bool = True, codec: str = "libx264",
                  options: dict[str, str] | None = None) -> Path:
    """A film whose pictures carry their number (see ``number_of``), with a steady tone."""
    width, height = SIZE
    with av.open(str(path), "w") as container:
        stream = container.add_stream(codec, rate=RATE)
        stream.width, stream.height, stream.pix_fmt, stream.gop_size = width, height, "yuv420p", 30
        stream.options = options or {"preset": "veryfast", "crf": "18"}
        tone = container.add_stream("aac", rate=48000) if sound else None
        for number in range(frames):
            planes = np.full((height * 3 // 2, width), 128, np.uint8)
            planes[:height] = 40
            for bit in range(12):
                planes[20:60, 10 + bit * 24:30 + bit * 24] = 220 if (first + number) >> bit & 1 else 16
            frame = av.VideoFrame.from_ndarray(planes, "yuv420p")
            frame.pts, frame.time_base = number, 1 / RATE
            container.mux(stream.encode(frame))
        container.mux(stream.encode())
        if tone:
            samples = (0.2 * np.sin(2 * np.pi * 440 * np.arange(int(48000 * frames / RATE)) / 48000)).astype(np.float32)
            for at in range(0, len(samples) - 1023, 1024):
                chunk = av.AudioFrame.from_ndarray(samples[None, at:at + 1024], "fltp", "mono")
                chunk.sample_rate, chunk.pts = 48000, at
                container.mux(tone.encode(chunk))
            container.mux(tone.encode())
    return path


def numbered(source: Source, number: int) -> Instant:
    """The instant of the picture at this place, counted from 0, of a film at :data:`RATE`."""
    return Instant(source.id, source.start_pts + round(number / (RATE * source.time_base)))


def number_of(frame: av.VideoFrame) -> int:
    """The number that a picture of ``numbered_film`` carries."""
    luma = np.frombuffer(frame.planes[0], np.uint8).reshape(frame.height, -1)
    return sum(1 << bit for bit in range(12) if luma[40, 20 + bit * 24] > 118)

"""Short files of every kind that cameras write, made with ffmpeg."""

from __future__ import annotations

import subprocess
from pathlib import Path

_PICTURE = ["-f", "lavfi", "-i", "testsrc2=size={size}:rate={rate}:duration={seconds}"]
_SOUND = ["-f", "lavfi", "-i", "sine=frequency=440:sample_rate=48000:duration={seconds}"]

#: kind -> (suffix, picture rate, with sound, ffmpeg arguments)
KINDS: dict[str, tuple[str, str, bool, list[str]]] = {
    "h264": (".mp4", "30000/1001", True,
             ["-c:v", "libx264", "-g", "30", "-bf", "2", "-pix_fmt", "yuv420p", "-c:a", "aac"]),
    "open-gop": (".mp4", "30000/1001", True,
                 ["-c:v", "libx264", "-bf", "3", "-x264-params", "open-gop=1:keyint=30", "-pix_fmt", "yuv420p", "-c:a",
                  "aac"]),
    "interlaced-ts": (".mts", "30000/1001", True,
                      ["-c:v", "libx264", "-flags", "+ildct+ilme", "-g", "15", "-pix_fmt", "yuv420p", "-c:a", "ac3",
                       "-f", "mpegts"]),
    "hevc": (".mp4", "25", True, ["-c:v", "libx265", "-x265-params", "log-level=error:keyint=25", "-pix_fmt", "yuv420p",
                                  "-tag:v", "hvc1", "-c:a", "aac"]),
    "hevc-10bit": (".mov", "60000/1001", False, ["-c:v", "libx265", "-x265-params", "log-level=error:keyint=30",
                                                 "-pix_fmt", "yuv420p10le", "-tag:v", "hvc1"]),
    "mpeg2-avi": (".avi", "25", True, ["-c:v", "mpeg2video", "-g", "15", "-bf", "2", "-q:v", "4", "-c:a", "mp2"]),
    "matroska": (".mkv", "30000/1001", True,
                 ["-c:v", "libx264", "-g", "30", "-bf", "2", "-pix_fmt", "yuv420p", "-c:a", "aac"]),
    "variable-rate": (".mp4", "30", True,
                      ["-vf", "select=not(eq(mod(n\\,5)\\,2))", "-fps_mode", "vfr", "-c:v", "libx264",
                                           "-g", "30", "-pix_fmt", "yuv420p", "-c:a", "aac"]),
    "no-sound": (".mp4", "50", False, ["-c:v", "libx264", "-g", "50", "-pix_fmt", "yuv420p"]),
    "timecode": (".mov", "30000/1001", True,
                 ["-timecode", "01:00:00;00", "-c:v", "libx264", "-g", "30", "-pix_fmt", "yuv420p", "-c:a", "aac"]),
    "anamorphic": (".mp4", "25", True,
                   ["-vf", "setsar=4/3", "-c:v", "libx264", "-g", "25", "-pix_fmt", "yuv420p", "-c:a", "aac"]),
}


def make(kind: str, folder: Path, seconds: float = 4, size: str = "192x108") -> Path:
    """Make a file of one kind in ``folder`` and return its path; made once per folder."""
    suffix, rate, sounding, arguments = KINDS[kind]
    to = folder / f"{kind}{suffix}"
    if not to.exists():
        values = {"size": size, "rate": rate, "seconds": str(seconds)}
        sources = [piece.format(**values) for piece in (_PICTURE + _SOUND if sounding else _PICTURE)]
        run("ffmpeg", "-y", "-loglevel", "error", *sources, *arguments, str(to))
    return to


def run(*command: str) -> str:
    """Run a command and return what it printed; a failure shows its error output."""
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, f"{command[0]}: {done.stderr}"
    return done.stdout

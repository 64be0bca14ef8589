"""Kinds of film, and what has to hold for each: a table with one row per kind, gone through by `check`.

Every kind is made by an encoder that is present here or by hand, with a moving picture above eight bars of even colour,
and a click every half second. What is right is told by the ffmpeg program (another build and version of the libraries
than the one under test) and, for colours, by its `zscale` filter, another library (zimg):

* seeks: the picture at any number has the hash that a full decode gives it;
* copy: exactly the wanted pictures, by hash; clicks within 10 ms of where the source has them; turned as the source is;
* rendering: the bars within 2 of 255 of the reference, read back by two decoders; every click there, within 10 ms;
* still: the bars within 2 of the reference; the picture's own number;
* pack: whole by its digests, and its originals there.
"""

from __future__ import annotations

import random
import subprocess
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

import av
import numpy as np
from PIL import Image

from tests.delivery import field_coded
from tests.film.clips import full_decode, picture_hash
from workstation.delivery.pack import Contents, make_pack
from workstation.delivery.rendering import Settings
from workstation.delivery.segment import Part, Segment
from workstation.delivery.verifying import verify_pack
from workstation.film.decoder import Decoder
from workstation.film.film import Film
from workstation.film.index import index_of
from workstation.film.probe import probe
from workstation.film.time import Instant
from workstation.tagging.model import Game, Heading

STAGES = ("seeks", "copy", "render", "still", "pack")
EXACT = Settings(quality=0, preset="ultrafast")
IN_STEP = 0.010         # seconds
NEAR = 2.0              # of 255


class Unmakable(Exception):
    """The kind cannot be made here."""


@dataclass(frozen=True)
class Kind:
    """``arguments`` are ffmpeg's for the output; ``colours`` the truth about matrix and range in zscale's words.
    ``after`` makes the file from the one that ffmpeg wrote. ``refused`` names stages that may be refused."""

    name: str
    suffix: str
    arguments: str
    size: str = "160x128"
    rate: str = "25"
    seconds: float = 2.0
    colours: str = "170m limited"
    sound: bool = True
    damaged: bool = False
    after: Callable[[Path, Path], None] | None = None
    refused: tuple[str, ...] = ()
    filters: str = ""
    hand_made: bool = False
    mirrored: bool = False


def run(*command: str | Path) -> bytes:
    done = subprocess.run([str(word) for word in command], capture_output=True, check=False)
    if done.returncode:
        raise Unmakable(done.stderr.decode(errors="replace")[-300:])
    return done.stdout


def inputs(kind: Kind) -> list[str]:
    width, height = map(int, kind.size.split("x"))
    bars = height // 4 // 2 * 2
    picture = (f"testsrc2=size={kind.size}:rate={kind.rate}:duration={kind.seconds}[a];"
               f"pal75bars=size={width}x{bars}:rate={kind.rate}:duration={kind.seconds}[b];[a][b]overlay=0:{height - bars}:format=yuv444")
    click = f"aevalsrc=0.8*sin(2*PI*1000*t)*lt(mod(t\\,0.5)\\,0.03)*gt(t\\,0.1):s=48000:d={kind.seconds}"
    return ["-f", "lavfi", "-i", picture, *(["-f", "lavfi", "-i", click] if kind.sound else [])]


def make(kind: Kind, folder: Path) -> Path:
    """Make the file; Unmakable if an encoder is missing here."""
    to = folder / f"{kind.name.replace(' ', '_').replace('/', '-')}{kind.suffix}"
    matrix, reach = kind.colours.split()
    space = {"170m": "bt601", "709": "bt709", "2020_ncl": "bt2020"}[matrix]
    form = ("yuv420p" if "-pix_fmt" not in kind.arguments else kind.arguments.split("-pix_fmt ")[1].split()[0])
    # The numbers are made for the kind's matrix and range, whatever its tags say.
    chain = f"{kind.filters + ',' if kind.filters else ''}scale=out_color_matrix={space}:out_range={reach},format={form}"
    first = to if kind.after is None else folder / f"first_{to.name}"
    if kind.hand_made:
        raw = run("ffmpeg", "-v", "error", *inputs(replace(kind, sound=False)), "-vf", chain, "-f", "rawvideo", "-")
        width, height = map(int, kind.size.split("x"))
        size = width * height
        frames = np.frombuffer(raw, np.uint8).reshape(-1, size * 3 // 2)
        stream = folder / f"{to.stem}.h264"
        field_coded.write(stream, [(frame[:size].reshape(height, width), frame[size:size * 5 // 4].reshape(height // 2, width // 2),
                                    frame[size * 5 // 4:].reshape(height // 2, width // 2)) for frame in frames])
        run("ffmpeg", "-v", "error", "-y", "-fflags", "+genpts", "-r", str(2 * int(kind.rate)), "-i", stream,
            *inputs(kind)[-4:], "-map", "0:v", "-map", "1:a", "-c:v", "copy", *kind.arguments.split(), first)
    else:
        run("ffmpeg", "-v", "error", "-y", *inputs(kind), "-vf", chain, *kind.arguments.split(), first)
    if kind.after is not None:
        kind.after(first, to)
        first.unlink()
    return to


def decoded_in_order(path: Path, by_this_build: bool, threads: str = "SLICE") -> list[str]:
    """Hashes of all pictures by the ffmpeg program, from the largest stream. Of damaged film by this process's own build, since
    each makes up for what is missing in its own way, and empty where none comes."""
    with av.open(str(path)) as container:
        stream = max(container.streams.video, key=lambda each: each.codec_context.width)
        if not by_this_build:
            lines = run("ffmpeg", "-v", "error", "-noautorotate", "-i", path, "-map", f"0:{stream.index}", "-fps_mode", "passthrough", "-f",
                        "framemd5", "-").decode().splitlines()
            return [line.split(",")[-1].strip() for line in lines if not line.startswith("#")]
        hashes = {}
        stream.thread_type = threads
        for packet in container.demux(stream):
            try:
                frames = packet.decode()
            except av.FFmpegError:
                continue
            hashes |= {frame.pts: picture_hash(frame) for frame in frames}
        listed = index_of(probe(path, "s")).pts.tolist()
        return [hashes.get(pts, "") for pts in listed]


def clicks(path: Path, until: float = 1e9) -> list[float]:
    """When clicks begin, in seconds by the file's own clock; the first sound track, mixed to one channel."""
    with av.open(str(path)) as container:
        if not container.streams.audio:
            return []
        resampler, pieces = av.AudioResampler("flt", "mono", 48_000), []
        for packet in container.demux(audio=0):
            try:
                frames = packet.decode()
            except av.FFmpegError:
                continue
            for frame in frames:
                for piece in resampler.resample(frame):
                    if piece.pts is not None:
                        pieces.append((float(piece.pts * piece.time_base), piece.to_ndarray().ravel()))
    found: list[float] = []
    last = -1.0
    for at, samples in pieces:
        for index in np.flatnonzero(np.abs(samples) > 0.35):
            when = at + index / 48_000
            if when - last > 0.2:
                found.append(when)
            last = when
    return [when for when in found if when < until]


def reference(path: Path, number: int, colours: str, interlaced: bool) -> np.ndarray:
    """A picture by its number as RGB, converted by zimg from what it truly is."""
    matrix, reach = colours.split()
    chain = (f"select=eq(n\\,{number}),setparams=field_mode=prog,zscale=min={matrix}:rin={reach}:pin=709:tin=709:m=gbr:r=full:p=709:t=709,"
             "format=gbrp,format=rgb24")
    return raw_rgb(path, chain)


def raw_rgb(path: Path, chain: str) -> np.ndarray:
    with av.open(str(path)) as container:
        stream = max(container.streams.video, key=lambda each: each.codec_context.width * each.codec_context.height)
        width, height = stream.codec_context.width, stream.codec_context.height
        which = stream.index
    raw = run("ffmpeg", "-v", "error", "-noautorotate", "-i", path, "-map", f"0:{which}", "-vf", chain, "-frames:v", "1", "-fps_mode",
              "passthrough", "-f", "rawvideo", "-")
    return np.frombuffer(raw, np.uint8).reshape(-1, width, 3)[:height].astype(float)


WORDS = {1: "709", 5: "170m", 6: "170m", 9: "2020_ncl"}


def read_back(path: Path) -> tuple[np.ndarray, np.ndarray]:
    """The first picture of a file by what its tags say: by the ffmpeg program and zimg, and by this process's decoder and
    H.273's equations."""
    with av.open(str(path)) as container:
        frame = next(container.decode(video=0))
        context = container.streams.video[0].codec_context
        matrix, reach = int(context.colorspace), int(context.color_range)
    assert matrix in WORDS and reach == 1, f"tagged matrix {matrix}, range {reach}"
    one = raw_rgb(path, f"zscale=min={WORDS[matrix]}:rin=limited:pin=709:tin=709:m=gbr:r=full:p=709:t=709,format=gbrp,format=rgb24")
    red, blue = {1: (0.2126, 0.0722), 5: (0.299, 0.114), 6: (0.299, 0.114), 9: (0.2627, 0.0593)}[matrix]
    wide = frame.format.components[0].bits > 8
    unit = 4 if wide else 1
    luma, cb, cr = (np.frombuffer(memoryview(plane), np.uint16 if wide else np.uint8).reshape(plane.height, -1)[:, :plane.width] / unit
                    for plane in frame.planes)
    cb, cr = (np.repeat(np.repeat(plane, 2, 0), 2, 1)[:luma.shape[0], :luma.shape[1]] for plane in (cb, cr))
    y, pb, pr = (luma - 16) / 219, (cb - 128) / 224, (cr - 128) / 224
    r, b = y + 2 * (1 - red) * pr, y + 2 * (1 - blue) * pb
    g = (y - red * r - blue * b) / (1 - red - blue)
    return one, np.clip(np.stack([r, g, b], -1) * 255, 0, 255)


def bars(image: np.ndarray) -> np.ndarray:
    """The mean of the middle of each bar."""
    height, width = image.shape[:2]
    at = int(height * 0.89)
    reach = max(width // 64, 1)
    return np.array([image[at - 3:at + 3, int((bar + 0.5) * width / 8) - reach:int((bar + 0.5) * width / 8) + reach].mean((0, 1))
                     for bar in range(8)])


def farthest(one: np.ndarray, other: np.ndarray) -> float:
    return float(np.abs(bars(one) - bars(other)).max())


def check(kind: Kind, folder: Path) -> dict[str, str]:
    """``right``, ``refused: why`` or ``wrong: what`` for each stage."""
    path = make(kind, folder)
    source = probe(path, "s")
    if source.problem:
        return dict.fromkeys(STAGES, f"refused: {source.problem}")
    told = {}
    index, everything = index_of(source), decoded_in_order(path, by_this_build=kind.damaged)
    told["seeks"] = _seeks(kind, source, index, everything)
    count = len(index)
    first, last = (count * 3 // 10 + 1, count * 3 // 4) if not kind.damaged else (2, count // 4)
    part = Part(source, int(index.pts[first]), int(index.pts[last]))
    film = Film((source,))
    at = Instant("s", int(index.pts[first + 3]))
    packed = make_pack(Game(Heading(home="Harrow Bend", visitors="Quill Lake"), film), Contents(
        "film", [Segment((part,), {"label": "play"})], [(at, "here")], settings=EXACT), folder / f"pack {path.stem}")
    verified = verify_pack(packed.path)
    told["pack"] = ("right" if verified.whole and not packed.missing else
                    f"refused: {packed.missing[0]}" if verified.whole else "wrong: its digests differ")
    begin = float(part.start * source.time_base)
    wanted = [when - begin for when in clicks(path) if begin + 0.02 < when < begin + float(part.duration) - 0.06]
    originals = list((packed.path / "originals").iterdir())
    told["copy"] = (_copy(kind, source, originals[0], everything[first:last], wanted) if originals else
                    f"refused: {packed.missing[0]}")
    turn = source.rotation // 90
    def stands(number: int) -> np.ndarray:
        flat = reference(path, number, kind.colours, source.interlaced)
        return np.rot90(flat[:, ::-1] if kind.mirrored else flat, -turn)

    standing = stands(first)
    told["render"] = _render(kind, packed.path / "film.mp4", standing, wanted, part)
    (picture,) = (packed.path / "stills").iterdir()
    with Image.open(picture) as image:
        away = farthest_standing(np.asarray(image).astype(float), stands(first + 3), turn, kind.mirrored)
        numbered = image.text["Frame"] == str(first + 4)
    told["still"] = ("wrong: another picture's number" if not numbered else
                     "right" if away <= NEAR else f"wrong: colours {away:.1f} away")
    return told


def farthest_standing(one: np.ndarray, other: np.ndarray, turn: int, mirrored: bool) -> float:
    """The bars lie below in the picture as it is stored."""
    return farthest(*(np.rot90(each, turn)[:, ::-1] if mirrored else np.rot90(each, turn) for each in (one, other)))


def _seeks(kind: Kind, source, index, everything: list[str]) -> str:
    if len(index) != len(everything):
        return f"wrong: {len(index)} pictures listed, {len(everything)} decoded"
    decoder = Decoder(source, index)
    numbers = [*random.Random(7).sample(range(len(index)), min(10, len(index))), 0, len(index) - 1, len(index) - 2]
    wrong = []
    # What stands for missing samples depends on the decoding threads from one decode to the next, until the next keyframe.
    again = decoded_in_order(source.path, True, "AUTO") if kind.damaged else everything
    doubtful = next((number for number, two in enumerate(zip(everything, again, strict=True)) if two[0] != two[1]), len(everything))
    for number in numbers:
        decoder.next = None             # as after a jump
        decoder.seek(number)
        while (got := decoder.read()) is not None and got[0] < number:
            pass
        if not everything[number]:              # listed, but no decoder gives it
            right = got is None or got[0] > number
        else:
            right = got is not None and got[0] == number and (
                picture_hash(got[1]) == everything[number] or (kind.damaged and number >= doubtful))
        if not right:
            wrong.append(number)
    decoder.close()
    return f"wrong: pictures {sorted(set(wrong))} of {len(index)}" if wrong else "right"


def _off(found: list[float], wanted: list[float]) -> str | None:
    if len(found) != len(wanted):
        return f"{len(found)} clicks for {len(wanted)}"
    worst = max((abs(one - other) for one, other in zip(found, wanted, strict=True)), default=0.0)
    return None if worst <= IN_STEP else f"sound {worst * 1000:.0f} ms out of step"


def _within(found: list[float], part_length: float) -> list[float]:
    return [when for when in found if 0.02 < when < part_length - 0.06]


def _copy(kind: Kind, source, path: Path, wanted: list[str], sounds: list[float]) -> str:
    got = full_decode(path)
    if source.video_codec == "av1" and len(got) > len(wanted):     # libavcodec 59 shows what the edit list hides of AV1; 62 does not
        got = decoded_in_order(path, by_this_build=True)
    if got != wanted:
        return f"wrong: {len(got)} pictures for {len(wanted)}, first {got[:1] == wanted[:1]}, last {got[-1:] == wanted[-1:]}"
    copied = probe(path, "c")
    if copied.pixel_aspect != source.pixel_aspect or matrix_of(path) != matrix_of(source.path):
        return f"wrong: pixels {copied.pixel_aspect}, matrix {matrix_of(path)}"
    off = _off(_within(clicks(path), float(copied.duration)), sounds)
    if off:
        return f"wrong: {off}"
    streams = run("ffprobe", "-v", "error", "-show_entries", "stream=codec_tag_string", "-of", "csv=p=0", path).decode()
    if source.video_codec == "hevc" and "hvc1" not in streams:
        return "wrong: not hvc1"
    return "wrong: no time code track" if source.timecode and "tmcd" not in streams else "right"


def matrix_of(path: Path) -> list[str]:
    """What turns or mirrors a file's pictures, as ffprobe reads it."""
    said = run("ffprobe", "-v", "error", "-select_streams", "v", "-show_entries", "stream_side_data=displaymatrix", "-of",
               "csv=p=0", path).decode()
    return said.split() if "matrix" in said or "0000" in said else []


def _render(kind: Kind, path: Path, standing: np.ndarray, sounds: list[float], part: Part) -> str:
    turn = part.source.rotation // 90
    away = max(farthest_standing(each, standing, turn, kind.mirrored) for each in read_back(path))
    if away > NEAR:
        return f"wrong: colours {away:.1f} away"
    off = _off(_within(clicks(path), float(part.duration)), sounds)
    return f"wrong: {off}" if off else "right"

"""Films the demo game: real H.264 and AAC files, as many short camera files or as one long one.

Scenes are rendered once, in several processes, into the user's cache, under a name that changes
with the script and the painter. Files are written beside their place and then renamed.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from importlib import metadata
from itertools import accumulate
from pathlib import Path
from queue import Empty, SimpleQueue
from typing import TYPE_CHECKING

import av
import numpy as np
import platformdirs

from ..cancelling import Cancelled
from .invented import Script, script_of
from .script import Scene
from .sound import RATE, sound
from .tracks import FPS
from .view import HEIGHT, WIDTH

if TYPE_CHECKING:
    from PySide6.QtGui import QImage

FRAME_RATE = Fraction(30000, 1001)
LAYOUTS = ("files", "one file")
ONE_FILE = "GAME0001.MP4"
# A third less time than the preset alone, hardly more bytes; B-pictures stay, as in many cameras' files.
_QUICKER = ("rc-lookahead=10:subme=1:ref=1:trellis=0:weightp=0:me=dia:b-adapt=0:bframes=2:partitions=none:8x8dct=0"
            ":scenecut=0")
_RENDERED_BY = ("av", "PySide6-Essentials", "numpy")


def pictures_in(scene: Scene) -> int:
    """How many pictures a scene has."""
    return round(scene.seconds * FPS)


def picture_at(seconds: float) -> int:
    """The picture of a scene that shows a moment of the script."""
    return round(seconds * FPS)


def clip_name(index: int) -> str:
    """The camera's name for the file of scene ``index``."""
    return f"CLIP{index + 1:04d}.MP4"


def film_demo(to: Path, layout: str = "files", progress: Callable[[float], None] | None = None,
              cancelled: Callable[[], bool] | None = None, *, width: int = WIDTH,
              scenes: tuple[int, ...] | None = None, cache: Path | None = None, seed: int = 0) -> list[Path]:
    """Film the demo game into the folder ``to`` and return its files in order.

    ``layout`` is ``"files"`` (one file a scene, as a camera that cuts leaves them) or ``"one file"``.
    ``progress`` is called with the finished share, 0 to 1; ``cancelled`` is asked now and then.
    ``width`` (16:9, a multiple of 32) and ``scenes`` (indexes) make a smaller film; ``seed`` is
    that of the game (:mod:`.invented`); ``cache`` is where rendered scenes are kept, by default
    the user's cache folder.

    Raises Cancelled, ValueError for a layout or width that does not exist, OSError where
    nothing can be written.
    """
    if layout not in LAYOUTS:
        raise ValueError(f"{layout!r} is not a layout of the demo film; choose 'files' or 'one file'")
    if width % 32 or not 160 <= width <= 3840:
        raise ValueError(f"the demo film cannot be {width} pixels wide; choose a multiple of 32 from 160 to 3840")
    every = script_of(seed).scenes
    chosen = tuple(range(len(every))) if scenes is None else scenes
    report = progress or (lambda share: None)
    stop = cancelled or (lambda: False)
    to = Path(to)
    to.mkdir(parents=True, exist_ok=True)
    jobs = {f"scene {index}": pictures_in(every[index]) for index in chosen}
    rendered = _render_all(jobs, seed, width, cache or _cache_folder(), lambda share: report(share * 0.95), stop)
    if layout == "files":
        made = [_copied(source, to / clip_name(index)) for index, source in zip(chosen, rendered, strict=False)]
    else:
        made = [_joined(script_of(seed), chosen, rendered, to / ONE_FILE,
                        lambda share: report(0.95 + share * 0.05), stop)]
    report(1.0)
    return made


def film_end_zone(to: Path, progress: Callable[[float], None] | None = None,
                  cancelled: Callable[[], bool] | None = None, *, scenes: tuple[int, ...] | None = None,
                  cache: Path | None = None, seed: int = 0) -> list[Path]:
    """Film the plays of the game from the end zone (:mod:`.end_zone`) into the folder ``to``; return the files in
    order. The rest as for :func:`film_demo`."""
    from .end_zone import WIDTH as END_WIDTH
    from .end_zone import shots

    report, stop = progress or (lambda share: None), cancelled or (lambda: False)
    to = Path(to)
    to.mkdir(parents=True, exist_ok=True)
    filmed = shots(script_of(seed).scenes, scenes)
    jobs = {f"end {shot.scenes[0]} {shot.scenes[-1]}": shot.pictures for shot in filmed}
    rendered = _render_all(jobs, seed, END_WIDTH, cache or _cache_folder(), lambda share: report(share * 0.98), stop)
    made = [_copied(source, to / end_zone_name(number)) for number, source in enumerate(rendered)]
    report(1.0)
    return made


def end_zone_name(number: int) -> str:
    """The end zone camera's name for its file ``number``, from 0."""
    return f"END{number + 1:04d}.MP4"


# -- cache -----------------------------------------------------------------------------------------------------------

def _cache_folder() -> Path:
    return platformdirs.user_cache_path("film-workstation") / "demo"


def film_version(width: int) -> str:
    """A name for the film as script, painter and libraries now make it."""
    digest = hashlib.sha256(f"{width}".encode())
    for module in sorted(Path(__file__).parent.glob("*.py")):
        digest.update(module.read_bytes())
    for package in _RENDERED_BY:
        digest.update(f"{package} {_version(package)}".encode())
    return digest.hexdigest()[:16]


def _version(package: str) -> str:
    try:
        return metadata.version(package)
    except metadata.PackageNotFoundError:
        return "unknown"


def _sweep(cache: Path, keep: Path) -> None:
    """Throw away films of earlier versions of the script, all but the newest few, and scraps."""
    old = sorted((one for one in cache.glob("film-*") if one.is_dir() and one != keep),
                 key=lambda one: one.stat().st_mtime)
    for one in old[:-2]:
        shutil.rmtree(one, ignore_errors=True)
    for scrap in keep.glob("*.part"):       # left by a process that was killed
        if time.time() - scrap.stat().st_mtime > 3600:
            scrap.unlink(missing_ok=True)


# -- rendering, in other processes -----------------------------------------------------------------------------------

def _file_of(job: str) -> str:
    """The name of the cached file that a job makes."""
    kind, *numbers = job.split()
    return f"{kind}-{'-'.join(f'{int(number):03d}' for number in numbers)}"


def _render_all(jobs: Mapping[str, int], seed: int, width: int, cache: Path, report: Callable[[float], None],
                stop: Callable[[], bool]) -> list[Path]:
    """The files of these jobs, each with how many pictures it makes; those that are cached are not made again."""
    folder = cache / f"film-{film_version(width)}{f'-{seed}' if seed else ''}"
    folder.mkdir(parents=True, exist_ok=True)
    _sweep(cache, folder)
    files = {job: folder / f"{_file_of(job)}.mp4" for job in jobs}
    missing = [job for job in sorted(jobs, key=lambda job: -jobs[job]) if not files[job].exists()]
    total = sum(jobs[job] for job in missing)
    waiting: SimpleQueue[str] = SimpleQueue()
    for job in missing:
        waiting.put(job)
    news: SimpleQueue[int | Exception] = SimpleQueue()
    crews = [_Crew(folder, width, seed, waiting, news) for _ in range(min(os.cpu_count() or 1, 8, len(missing)))]
    painted = 0
    try:
        while any(crew.is_alive() for crew in crews) or not news.empty():
            if stop():
                raise Cancelled("filming the demo game was cancelled")
            try:
                heard = news.get(timeout=0.1)
            except Empty:
                continue
            if isinstance(heard, Exception):
                raise heard
            painted += heard
            report(painted / total)
    finally:
        for crew in crews:
            crew.end()
        for scrap in folder.glob(f"*.{os.getpid()}.part"):
            scrap.unlink(missing_ok=True)
    return list(files.values())


class _Crew(threading.Thread):
    """One process that does job after job until none is waiting."""

    def __init__(self, folder: Path, width: int, seed: int, waiting: SimpleQueue, news: SimpleQueue):
        super().__init__(daemon=True)
        self._waiting, self._news = waiting, news
        root = Path(sys.modules[__package__.split(".")[0]].__file__).parent.parent
        paths = [str(root), *filter(None, [os.environ.get("PYTHONPATH")])]
        self._ended = False
        self._process = subprocess.Popen(
            [sys.executable, "-m", __name__, str(folder), str(width), str(os.getpid()), str(seed)],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, bufsize=1,
            env=os.environ | {"PYTHONPATH": os.pathsep.join(paths), "QT_QPA_PLATFORM": "offscreen"})
        self.start()

    def run(self) -> None:
        process = self._process
        try:
            while True:
                try:
                    job = self._waiting.get_nowait()
                except Empty:
                    break
                process.stdin.write(f"{job}\n")
                process.stdin.flush()
                for line in process.stdout:
                    if line.startswith("done"):
                        break
                    self._news.put(int(line))
                else:
                    raise BrokenPipeError
            process.stdin.close()
            process.wait()
        except (OSError, ValueError):
            if not self._ended:
                said = process.stderr.read().strip().splitlines() or ["it said nothing"]
                self._news.put(OSError(f"the demo game could not be filmed: {said[-1]}"))

    def end(self) -> None:
        self._ended = True
        if self._process.poll() is None and self.is_alive():
            self._process.terminate()
        self._process.wait()
        self.join(5)
        for pipe in (self._process.stdin, self._process.stdout, self._process.stderr):
            pipe.close()


def _work(folder: Path, width: int, owner: str, seed: int) -> None:
    """Do the jobs named on standard input, one a line; tell pictures done and the end of each."""
    def told(pictures: int) -> None:
        print(pictures, flush=True)

    for line in sys.stdin:
        job = line.strip()
        part = folder / f"{_file_of(job)}.{owner}.part"
        kind, *numbers = job.split()
        if kind == "end":
            render_end_zone(tuple(range(int(numbers[0]), int(numbers[1]) + 1)), part, told, seed)
        else:
            render_scene(int(numbers[0]), part, width, told, seed)
        part.replace(folder / f"{_file_of(job)}.mp4")
        print("done", flush=True)


def render_scene(index: int, to: Path, width: int = WIDTH, told: Callable[[int], None] | None = None,
                 seed: int = 0) -> None:
    """Film one scene into an MP4 file in this process. ``told`` hears how many pictures were added."""
    from .painter import Painter

    script = script_of(seed)
    scene = script.scenes[index]
    painter = Painter(scene, index, width, script.heading)
    _encode(to, width, HEIGHT * width // WIDTH, _recorded_at(index, script.heading.date), sound(scene, index),
            painter.pictures(), told)
    if told:
        told(len(painter) % 30)


def render_end_zone(scenes: tuple[int, ...], to: Path, told: Callable[[int], None] | None = None,
                    seed: int = 0) -> None:
    """Film one shot of the end zone's camera, from the first to the last of some scenes, as :func:`render_scene`."""
    from .end_zone import HEIGHT as END_HEIGHT
    from .end_zone import WIDTH as END_WIDTH
    from .end_zone import EndZonePainter, heard, recorded_at, shots

    script = script_of(seed)
    shot = next(each for each in shots(script.scenes, scenes) if each.scenes[0] == scenes[0])
    painter = EndZonePainter(shot, script.scenes)
    _encode(to, END_WIDTH, END_HEIGHT, recorded_at(shot, script.heading.date), heard(shot, script.scenes),
            painter.pictures(), told)
    if told:
        told(shot.pictures % 30)


def _encode(to: Path, width: int, height: int, recorded: str, heard: np.ndarray, pictures: Iterable[QImage],
            told: Callable[[int], None] | None) -> None:
    """Write pictures and their sound as a camera does. ``told`` hears of each thirty pictures."""
    with av.open(str(to), "w", format="mp4") as out:
        out.metadata["creation_time"] = recorded
        video = out.add_stream("libx264", rate=FRAME_RATE)
        video.width, video.height, video.pix_fmt = width, height, "yuv420p"
        video.time_base = video.codec_context.time_base = 1 / FRAME_RATE / 1001
        video.options = {"preset": "veryfast", "crf": "25", "g": "30", "threads": "1", "x264-params": _QUICKER}
        context = video.codec_context
        context.color_range, context.colorspace, context.color_primaries, context.color_trc = 1, 1, 1, 1
        audio = _aac(out)
        for packet in _encoded_sound(audio, [heard]):
            out.mux(packet)
        for number, image in enumerate(pictures):
            pixels = np.frombuffer(image.constBits(), np.uint8).reshape(height, width, 4)
            frame = av.VideoFrame.from_numpy_buffer(pixels, format="bgra")
            frame = frame.reformat(format="yuv420p", dst_colorspace="ITU709", interpolation="FAST_BILINEAR")
            frame.pts, frame.time_base = number * 1001, video.time_base
            for packet in video.encode(frame):
                out.mux(packet)
            if told and number % 30 == 29:
                told(30)
        for packet in video.encode(None):
            out.mux(packet)


def _recorded_at(index: int, day: str) -> str:
    """When the camera says it began to record a scene."""
    start = datetime.fromisoformat(f"{day}T19:00:00").replace(tzinfo=UTC)
    return (start + timedelta(seconds=95 * index)).strftime("%Y-%m-%dT%H:%M:%SZ")


def _aac(out: av.container.OutputContainer) -> av.AudioStream:
    audio = out.add_stream("aac", rate=RATE, layout="stereo")
    audio.bit_rate, audio.options = 128000, {"aac_coder": "fast"}
    return audio


def _encoded_sound(audio: av.AudioStream, pieces) -> Iterator[av.Packet]:
    position = 0
    for piece in pieces:
        frame = av.AudioFrame.from_ndarray(np.ascontiguousarray(piece.T), format="fltp", layout="stereo")
        frame.sample_rate, frame.pts, frame.time_base = RATE, position, Fraction(1, RATE)
        position += len(piece)
        yield from audio.encode(frame)
    yield from audio.encode(None)


# -- layouts ---------------------------------------------------------------------------------------------------------

def _copied(source: Path, to: Path) -> Path:
    part = to.with_suffix(f".{os.getpid()}.part")
    try:
        shutil.copyfile(source, part)
        part.replace(to)
    finally:
        part.unlink(missing_ok=True)
    return to


def _joined(script: Script, chosen: tuple[int, ...], rendered: list[Path], to: Path, report: Callable[[float], None],
            stop: Callable[[], bool]) -> Path:
    """Put the pictures of all scenes behind one another without encoding them again, under one sound track."""
    starts = list(accumulate((pictures_in(script.scenes[index]) for index in chosen), initial=0))
    part = to.with_suffix(f".{os.getpid()}.part")
    try:
        with av.open(str(part), "w", format="mp4") as out:
            out.metadata["creation_time"] = _recorded_at(0, script.heading.date)
            with av.open(str(rendered[0])) as first:
                video = out.add_stream_from_template(first.streams.video[0])
            video.time_base = 1 / FRAME_RATE / 1001
            audio = _aac(out)
            heard = _encoded_sound(audio, _sound_track(script.scenes, chosen, starts))
            for number, path in enumerate(rendered):
                if stop():
                    raise Cancelled("filming the demo game was cancelled")
                with av.open(str(path)) as scene:
                    source = scene.streams.video[0]
                    ticks = starts[number] * FRAME_RATE.denominator / (source.time_base * FRAME_RATE.numerator)
                    for packet in scene.demux(source):
                        if packet.size == 0:
                            continue
                        packet.pts += int(ticks)
                        packet.dts += int(ticks)
                        packet.stream = video
                        out.mux(packet)
                for packet in heard:
                    out.mux(packet)
                    if packet.pts * packet.time_base > starts[number + 1] / FRAME_RATE:
                        break
                report((number + 1) / len(rendered))
            for packet in heard:
                out.mux(packet)
        part.replace(to)
    finally:
        part.unlink(missing_ok=True)
    return to


def _sound_track(scenes: tuple[Scene, ...], chosen: tuple[int, ...], starts: list[int]) -> Iterator[np.ndarray]:
    """The sound of each scene, its length corrected so that it never drifts from the pictures."""
    written = 0
    for number, index in enumerate(chosen):
        piece = sound(scenes[index], index)
        length = round(starts[number + 1] * RATE / FRAME_RATE) - written
        if length > len(piece):
            piece = np.pad(piece, ((0, length - len(piece)), (0, 0)))
        written += length
        yield piece[:length]


if __name__ == "__main__":
    _work(Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3], int(sys.argv[4]))

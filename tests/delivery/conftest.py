from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path

import av
import numpy as np
import pytest

from tests.footage import KINDS, make
from workstation.delivery.segment import Part, Segment
from workstation.film.film import Film
from workstation.film.index import index_of
from workstation.film.probe import probe


@pytest.fixture(scope="session", autouse=True)
def _own_cache(tmp_path_factory):
    patch = pytest.MonkeyPatch()
    patch.setenv("FILM_WORKSTATION_CACHE", str(tmp_path_factory.mktemp("cache")))
    yield
    patch.undo()


@pytest.fixture(scope="session")
def footage(tmp_path_factory) -> Path:
    return tmp_path_factory.mktemp("footage")


@pytest.fixture(params=list(KINDS))
def source(request, footage):
    return probe(make(request.param, footage), request.param)


@pytest.fixture
def film(footage) -> Film:
    return Film(tuple(probe(make(kind, footage), kind) for kind in ("h264", "hevc", "variable-rate")))


def segment_of(source, first: int, last: int, **fields: str) -> Segment:
    """The pictures ``first`` to ``last`` (not included) of a source, by number."""
    pts = index_of(source).pts
    fields = {"number": "001", "label": "play 1", "kind": "run", "situation": "2nd & 7 at own 36", **fields}
    end = int(pts[last]) if last < len(pts) else source.end.pts
    return Segment((Part(source, int(pts[first]), end),), fields, "2nd & 7 at own 36", play=1)


def written(path: Path, sounds: list[tuple[int, int]], pictures: Iterable[int]) -> Path:
    """A film of grey pictures at the given milliseconds, with a ramp of sound (1, 2, 3 ...) in each span of them."""
    with av.open(str(path), "w") as out:
        video = out.add_stream("mpeg4", rate=25)
        video.width, video.height, video.pix_fmt = 64, 36, "yuv420p"
        video.codec_context.time_base = Fraction(1, 1000)
        track = out.add_stream("pcm_s16le", rate=48_000, layout="stereo")
        for at in pictures:
            frame = av.VideoFrame.from_ndarray(np.full((54, 64), 128, np.uint8), "yuv420p")
            frame.pts, frame.time_base = at, Fraction(1, 1000)
            out.mux(video.encode(frame))
        out.mux(video.encode(None))
        for begin, end in sounds:
            for at in range(begin, end, 20):
                frame = av.AudioFrame.from_ndarray(ramp(at - begin, 20).reshape(1, -1), "s16", "stereo")
                frame.sample_rate, frame.pts, frame.time_base = 48_000, at * 48, Fraction(1, 48_000)
                out.mux(track.encode(frame))
        out.mux(track.encode(None))
    return path


def ramp(since: int, length: int) -> np.ndarray:
    """The sound of :func:`written`, so many milliseconds after one began."""
    counted = np.arange(since * 48, (since + length) * 48) % 30000 + 1
    return np.repeat(counted[:, None], 2, axis=1).astype(np.int16)

from __future__ import annotations

from pathlib import Path

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

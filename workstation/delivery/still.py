"""Stills: one exact picture as PNG that says where it comes from."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import av
import numpy as np
from PIL import Image
from PIL.PngImagePlugin import PngInfo

from ..film.film import Film, Source
from ..film.index import index_of
from ..film.picture import converted, upright
from ..film.time import Instant
from ..film.writing import written_whole
from .decoding import CannotDecode, pictures
from .segment import Part


@dataclass(frozen=True, slots=True)
class Still:
    """The picture shown at an instant. ``frame`` counts from 1 in its source; ``at`` is when it begins."""

    image: np.ndarray       # height x width x 3, RGB, turned and in square pixels
    source: Source
    at: Instant
    frame: int

    @property
    def seconds(self) -> float:
        """Seconds from the source's first picture."""
        return float((self.at.pts - self.source.start_pts) * self.source.time_base)


def still(film: Film, at: Instant) -> Still:
    """Decode the picture shown at an instant. Raises CannotDecode (or film.faults.NoPicture)."""
    source = film.source(at.source)
    index = index_of(source)
    number = index.at(at.pts)
    pts = int(index.pts[number])
    with pictures(Part(source, pts, pts + 1)) as decoded:
        frame = next(decoded, None)
        if frame is None:
            raise CannotDecode(f"{source.path.name} has no picture at {float(at.pts * source.time_base):.3f} s.")
        image = upright(converted(frame, "rgb24", 3, exact=True), source.rotation, source.mirrored)
    if source.pixel_aspect != 1:
        image = np.asarray(Image.fromarray(image).resize(source.display_size, Image.Resampling.LANCZOS))
    return Still(image, source, Instant(source.id, pts), number + 1)


def write_png(taken: Still, situation: str, to: Path) -> Path:
    """Write a still; source, timestamp, frame number and situation stand in its text fields."""
    said = PngInfo()
    for key, text in {"Title": situation, "Source": taken.source.path.name, "Timestamp": f"{taken.seconds:.6f} s",
                      "Frame": str(taken.frame), "Description":
                      f"{taken.source.path.name}, frame {taken.frame}, {taken.seconds:.3f} s: {situation}"}.items():
        said.add_itxt(key, text)
    with written_whole(to) as temporary:
        Image.fromarray(taken.image).save(temporary, "PNG", pnginfo=said)
    return to


def jpeg(taken: Still, width: int) -> bytes:
    """A still scaled down to ``width`` for reports, as JPEG bytes."""
    from io import BytesIO

    image = Image.fromarray(taken.image)
    image.thumbnail((width, width))
    out = BytesIO()
    image.save(out, "JPEG", quality=80)
    return out.getvalue()


def tools() -> str:
    """The versions of what decodes and encodes here, for manifests."""
    libraries = ", ".join(f"{name} {'.'.join(map(str, version))}"
                          for name, version in sorted(av.library_versions.items())
                          if name in ("libavcodec", "libavformat"))
    return f"PyAV {av.__version__} ({libraries})"

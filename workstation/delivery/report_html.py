"""The review report as one HTML file that needs nothing beside it. What people typed is escaped."""

from __future__ import annotations

from base64 import b64encode
from importlib.resources import files

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup, escape

from ..coverage.camera_table import COLUMNS, camera_cells
from ..coverage.severities import MARKS, WORDS
from ..film.time import spoken_time
from .report import Report
from .shapes import CAMERA_LEGEND, Bar, Curve, Dot, Mark, Plot, StraightLine, Words, camera_plot, certainty_plot
from .still import Still, jpeg

_WIDTH, _HEIGHT, _LETTER = 1000, 240, 13
_STRIP = 52         # of camera work


def html(report: Report) -> str:
    """Return the page."""
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    template = environment.from_string(
        (files("workstation.resources") / "papers" / "review.html").read_text(encoding="utf-8"))
    coverage = report.coverage
    plot = certainty_plot(coverage.beliefs, coverage.findings, coverage.film_seconds,
                          coverage.profile.viewer.unsure_below, _WIDTH, _HEIGHT, _LETTER)
    camera = camera_plot(report.camera, coverage.film_seconds, _WIDTH, _STRIP, _LETTER, lambda words, *_: words)
    return template.render(report=report, picture=_picture, plot=svg(plot), camera=svg(camera),
                           camera_legend=CAMERA_LEGEND, camera_columns=COLUMNS,
                           camera_cells=camera_cells(report.camera), severity=WORDS, mark=MARKS, film_time=spoken_time)


def _picture(taken: Still) -> str:
    return "data:image/jpeg;base64," + b64encode(jpeg(taken, 640)).decode()


def svg(plot: Plot) -> Markup:
    """The plot as SVG; everything in it is numbers and words of our own, or escaped."""
    pieces = [f'<svg class="plot" viewBox="0 0 {plot.width:.0f} {plot.height:.0f}" role="img" '
              f'aria-label="{escape(plot.alt)}">']
    for shape in plot.shapes:
        if isinstance(shape, StraightLine):
            broken = " broken" if shape.is_broken else ""
            pieces.append(f'<line class="{shape.ink}{broken}" x1="{shape.x:.1f}" y1="{shape.y:.1f}" '
                          f'x2="{shape.to_x:.1f}" y2="{shape.to_y:.1f}"/>')
        elif isinstance(shape, Curve):
            pieces.append('<polyline class="curve" points="' + " ".join(f"{x:.1f},{y:.1f}" for x, y in shape.points)
                          + '"/>')
        elif isinstance(shape, Mark):
            pieces.append(f'<path class="mark {shape.severity}" d="M{shape.x:.1f} {shape.y:.1f} l5 10 l-10 0 z">'
                          f'<title>{WORDS[shape.severity]}</title></path>')
        elif isinstance(shape, Words):
            anchor = ' text-anchor="end"' if shape.ends_here else ""
            pieces.append(f'<text class="{shape.ink}" x="{shape.x:.1f}" '
                          f'y="{shape.y:.1f}"{anchor}>{escape(shape.text)}</text>')
        elif isinstance(shape, Bar):
            pieces.append(f'<rect class="frame" x="{shape.x:.1f}" y="{shape.y:.1f}" width="{shape.width:.1f}" '
                          f'height="{shape.height:.1f}"/><rect class="filled" x="{shape.x:.1f}" y="{shape.y:.1f}" '
                          f'width="{shape.width * shape.share:.1f}" height="{shape.height:.1f}"/>')
        elif isinstance(shape, Dot):
            pieces.append(f'<circle class="{shape.ink}{"" if shape.is_filled else " hollow"}" cx="{shape.x:.1f}" '
                          f'cy="{shape.y:.1f}" r="{shape.radius:.1f}"/>')
    return Markup("".join(pieces) + "</svg>")

"""The review report as one HTML file that needs nothing beside it. What people typed is escaped."""

from __future__ import annotations

from base64 import b64encode
from importlib.resources import files

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from ..film.time import spoken_time
from ..football.speaking import spoken_period
from .certainty_plot import CertaintyPlot, certainty_plot
from .report import Report, counted
from .still import Still, jpeg

_WIDTH, _HEIGHT = 1000, 180


def html(report: Report) -> str:
    """Return the page."""
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    template = environment.from_string(
        (files("workstation.resources") / "papers" / "review.html").read_text(encoding="utf-8"))
    coverage = report.coverage
    plot = certainty_plot(coverage.beliefs, coverage.findings, coverage.film_seconds, coverage.profile.viewer.unsure_below,
                          _WIDTH, _HEIGHT)
    return template.render(report=report, picture=_picture, plot=_svg(plot), counted=counted,
                           film_time=spoken_time)


def _picture(taken: Still) -> str:
    return "data:image/jpeg;base64," + b64encode(jpeg(taken, 640)).decode()


def _svg(plot: CertaintyPlot) -> Markup:
    """The plot as SVG; everything in it is numbers of our own."""
    top = plot.height
    curve = " ".join(f"{x:.1f},{top - y:.1f}" for x, y in plot.steps)
    pieces = [(f'<svg class="plot" viewBox="-64 -14 {plot.width + 84:.0f} {top + 60:.0f}" role="img" '
               'aria-label="How sure a viewer was of the down, over the film">')]
    for share in (0, 0.5, 1):
        y = top * (1 - share)
        pieces.append(f'<line class="grid" x1="0" x2="{plot.width}" y1="{y}" y2="{y}"/>'
                      f'<text x="-8" y="{y + 4}" text-anchor="end">{share:.0%}</text>')
    unsure = top - plot.unsure
    pieces.append(f'<line class="unsure" x1="0" x2="{plot.width}" y1="{unsure:.1f}" y2="{unsure:.1f}"/>')
    for x, period in plot.periods:
        pieces.append(f'<line class="grid" x1="{x:.1f}" x2="{x:.1f}" y1="0" y2="{top}"/>'
                      f'<text x="{x + 3:.1f}" y="{top + 40}">{spoken_period(period)}</text>')
    pieces.append(f'<polyline class="curve" points="{curve}"/>')
    for x, severity in plot.marks:
        pieces.append(f'<path class="mark {severity}" d="M{x:.1f} {top + 6} l5 10 l-10 0 z"><title>{severity}</title></path>')
    return Markup("".join(pieces) + "</svg>")

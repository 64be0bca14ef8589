"""Plots on paper: the shapes of :mod:`.shapes` as a figure with words for who cannot see it."""

from __future__ import annotations

from reportlab.graphics.shapes import STATE_DEFAULTS, Circle, Drawing, Polygon, PolyLine, Rect, String
from reportlab.graphics.shapes import Line as Stroke
from reportlab.lib import colors
from reportlab.pdfbase.pdfmetrics import stringWidth

from ..coverage.finding import Severity
from .paper_type import BOLD, PLAIN, settable
from .papers import INK, LINE, QUIET
from .shapes import Bar, Curve, Dot, Mark, Plot, StraightLine, Words
from .tagged_pdf import Figure

STATE_DEFAULTS["fontName"] = PLAIN       # or every drawing asks for a typeface that nothing is set in
LETTER = 6.5        # points
_BAD = colors.HexColor("#a32014")
_CURVE = colors.HexColor("#14567d")
_INKS = {"line": LINE, "quiet": QUIET, "text": INK, "bad": _BAD}


def fit(words: str, room: float, is_bold: bool) -> str:
    """As much of *words* as fits into *room*, in points."""
    words = settable(words)
    if stringWidth(words, BOLD if is_bold else PLAIN, LETTER) <= room:
        return words
    while words and stringWidth(words + "…", BOLD if is_bold else PLAIN, LETTER) > room:
        words = words[:-1]
    return words + "…"


def drawn(plot: Plot) -> Figure:
    """The plot, its coordinates taken as points."""
    made, top = Drawing(plot.width, plot.height), plot.height
    for shape in plot.shapes:
        if isinstance(shape, StraightLine):
            made.add(Stroke(shape.x, top - shape.y, shape.to_x, top - shape.to_y, strokeColor=_INKS[shape.ink],
                            strokeWidth=0.6 if shape.is_broken else 0.4,
                            strokeDashArray=(4, 3) if shape.is_broken else None))
        elif isinstance(shape, Curve):
            made.add(PolyLine([value for x, y in shape.points for value in (x, top - y)], strokeColor=_CURVE,
                              strokeWidth=1.2))
        elif isinstance(shape, Mark):
            fill = {Severity.ERROR: _BAD, Severity.WARNING: INK}.get(shape.severity, colors.white)
            y = top - shape.y
            made.add(Polygon([shape.x, y, shape.x - 3, y - 6, shape.x + 3, y - 6], fillColor=fill, strokeColor=INK,
                             strokeWidth=0.4))
        elif isinstance(shape, Words):
            made.add(String(shape.x, top - shape.y, settable(shape.text), fontName=BOLD if shape.is_bold else PLAIN,
                            fontSize=LETTER, fillColor=_INKS[shape.ink],
                            textAnchor="end" if shape.ends_here else "start"))
        elif isinstance(shape, Bar):
            y = top - shape.y - shape.height
            made.add(Rect(shape.x, y, shape.width, shape.height, fillColor=None, strokeColor=QUIET, strokeWidth=0.4))
            made.add(Rect(shape.x, y, shape.width * shape.share, shape.height, fillColor=INK, strokeColor=None))
        elif isinstance(shape, Dot):
            ink = _INKS[shape.ink]
            made.add(Circle(shape.x, top - shape.y, shape.radius, fillColor=ink if shape.is_filled else None,
                            strokeColor=ink, strokeWidth=0.5))
    return Figure(made, plot.alt)

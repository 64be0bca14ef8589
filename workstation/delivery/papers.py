"""The look that every printed paper shares."""

from __future__ import annotations

from io import BytesIO
from xml.sax.saxutils import escape

from reportlab.lib import colors
from reportlab.lib.pagesizes import letter
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Image, Paragraph, SimpleDocTemplate, Table, TableStyle

from .still import Still, jpeg

INK = colors.HexColor("#1c2430")
QUIET = colors.HexColor("#556070")
LINE = colors.HexColor("#c9d0d8")
SHADE = colors.HexColor("#eef1f4")

_DINGBATS = "✓✔✕✖✗✘★☆"           # some of ISO 32000-1, annex D.6

HIGHEST = 200       # millimetres of a picture; leaves room for the line under it

TITLE = ParagraphStyle("title", fontName="Helvetica-Bold", fontSize=20, leading=24, textColor=INK, spaceAfter=4)
HEADING = ParagraphStyle("heading", fontName="Helvetica-Bold", fontSize=12.5, leading=16, textColor=INK, spaceBefore=12,
                         spaceAfter=4, keepWithNext=True)
TEXT = ParagraphStyle("text", fontName="Helvetica", fontSize=9.5, leading=13, textColor=INK, spaceAfter=4)
SMALL = ParagraphStyle("small", parent=TEXT, fontSize=8, leading=10.5, textColor=QUIET)
NOTICE = ParagraphStyle("notice", parent=TEXT, borderColor=INK, borderWidth=1, borderPadding=6, backColor=SHADE,
                        spaceBefore=8, spaceAfter=12)


def paragraph(text: str, style: ParagraphStyle = TEXT) -> Paragraph:
    """Text that a person typed, never markup. Characters that the standard fonts of PDF lack become '?'."""
    return Paragraph("".join(map(_marked_up, text)).replace("\n", "<br/>"), style)


def _marked_up(character: str) -> str:
    return f'<font name="ZapfDingbats">{character}</font>' if character in _DINGBATS else escape(plain(character))


def plain(text: str) -> str:
    """Text in the characters of the standard fonts."""
    return text.encode("cp1252", "replace").decode("cp1252")


def table(rows: list[list[str]], widths: list[float]) -> Table:
    """A table with a header row; widths in millimetres."""
    cells = [[paragraph(cell, SMALL if row else ParagraphStyle("head", parent=SMALL, fontName="Helvetica-Bold"))
              for cell in line] for row, line in enumerate(rows)]
    return Table(cells, [width * mm for width in widths], repeatRows=1, style=TableStyle([
        ("LINEBELOW", (0, 0), (-1, -1), 0.4, LINE), ("BACKGROUND", (0, 0), (-1, 0), SHADE),
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("TOPPADDING", (0, 0), (-1, -1), 2), ("BOTTOMPADDING", (0, 0), (-1, -1), 2)]))


def picture(taken: Still, width_mm: float) -> Image:
    """A still, so wide; narrower where it would be higher than a page."""
    height, width = taken.image.shape[:2]
    width_mm = min(width_mm, HIGHEST * width / height)
    return Image(BytesIO(jpeg(taken, 900)), width_mm * mm, width_mm * mm * height / width)


def document(to: str, title: str) -> SimpleDocTemplate:
    return SimpleDocTemplate(to, pagesize=letter, title=title, author="film-workstation", leftMargin=18 * mm,
                             rightMargin=18 * mm, topMargin=16 * mm, bottomMargin=18 * mm)


def number_pages(canvas: Canvas, laid_out: SimpleDocTemplate) -> None:
    canvas.setFont("Helvetica", 8)
    canvas.setFillColor(QUIET)
    canvas.drawString(18 * mm, 10 * mm, plain(laid_out.title))
    canvas.drawRightString(letter[0] - 18 * mm, 10 * mm, f"page {laid_out.page}")

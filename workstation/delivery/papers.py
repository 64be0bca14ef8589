"""The look that every printed paper shares."""

from __future__ import annotations

from io import BytesIO
from xml.sax.saxutils import escape

from reportlab.lib import colors
from reportlab.lib.pagesizes import letter
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, Image, SimpleDocTemplate, TableStyle

from .paper_type import BOLD, PLAIN, settable
from .still import Still, jpeg
from .tagged_pdf import Element, Figure, TaggedCanvas, TaggedParagraph, TaggedTable, marked

INK = colors.HexColor("#1c2430")
QUIET = colors.HexColor("#556070")
LINE = colors.HexColor("#c9d0d8")
SHADE = colors.HexColor("#eef1f4")

HIGHEST = 200       # millimetres of a picture; leaves room for the line under it

TITLE = ParagraphStyle("title", fontName=BOLD, fontSize=19, leading=24, textColor=INK, spaceAfter=4)
HEADING = ParagraphStyle("heading", fontName=BOLD, fontSize=12, leading=16, textColor=INK, spaceBefore=12,
                         spaceAfter=4, keepWithNext=True)
SUBHEADING = ParagraphStyle("subheading", parent=HEADING, fontSize=9.5, leading=12.5, spaceBefore=4, spaceAfter=2)
TEXT = ParagraphStyle("text", fontName=PLAIN, fontSize=9, leading=13, textColor=INK, spaceAfter=4)
SMALL = ParagraphStyle("small", parent=TEXT, fontSize=7.5, leading=10.5, textColor=QUIET)
NOTICE = ParagraphStyle("notice", parent=TEXT, borderColor=INK, borderWidth=1, borderPadding=6, backColor=SHADE,
                        spaceBefore=8, spaceAfter=12)


# of a style, by its name; everything else is a paragraph
_ROLES = {"title": "H1", "heading": "H2", "subheading": "H3"}
_HEAD = ParagraphStyle("head", parent=SMALL, fontName=BOLD)


def paragraph(text: str, style: ParagraphStyle = TEXT, role: str = "",
              inside: Element | None = None) -> TaggedParagraph:
    """Text that a person typed, never markup. Characters that the typeface lacks become '?'. *role* says what it is for
    readers of the structure, else its style does."""
    made = TaggedParagraph(escape(settable(text)).replace("\n", "<br/>"), style)
    made.role, made.inside = role or _ROLES.get(style.name, "P"), inside
    return made


def table(rows: list[list[str]], widths: list[float]) -> TaggedTable:
    """A table with a header row; widths in millimetres."""
    whole = Element("Table")
    cells = []
    for number, line in enumerate(rows):
        row = Element("TR", whole)
        cells.append([paragraph(cell, SMALL if number else _HEAD, "TD" if number else "TH", row) for cell in line])
    return TaggedTable(cells, [width * mm for width in widths], repeatRows=1, style=TableStyle([
        ("LINEBELOW", (0, 0), (-1, -1), 0.4, LINE), ("BACKGROUND", (0, 0), (-1, 0), SHADE),
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("TOPPADDING", (0, 0), (-1, -1), 2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
        ("LEFTPADDING", (0, 0), (-1, -1), 2), ("RIGHTPADDING", (0, 0), (-1, -1), 2)]))


def picture(taken: Still, width_mm: float, alt: str = "") -> Figure:
    """A still so wide, narrower where it would be higher than a page; *alt* are the words for who cannot see it."""
    height, width = taken.image.shape[:2]
    width_mm = min(width_mm, HIGHEST * width / height)
    return Figure(Image(BytesIO(jpeg(taken, 900)), width_mm * mm, width_mm * mm * height / width),
                  alt or f"Picture of {taken.source.path.name}, frame {taken.frame}")


def beside(shown: Still | None, width_mm: float, alt: str, words: list[TaggedParagraph], instead: str = "") -> Flowable:
    """A picture so wide, or what is said instead of one, with words beside it."""
    seen = picture(shown, width_mm, alt) if shown else paragraph(instead, SMALL) if instead else ""
    return TaggedTable([[seen, words]], [(width_mm + 4) * mm, (168 - width_mm) * mm], splitByRow=0, style=[
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("LINEABOVE", (0, 0), (-1, 0), 0.4, LINE),
        ("LEFTPADDING", (0, 0), (0, 0), 0)])


def write_document(to: str, title: str, story: list[Flowable]) -> None:
    """Write the pages, tagged and with their type embedded, numbered at the foot."""
    laid_out = SimpleDocTemplate(to, pagesize=letter, title=title, author="film-workstation", leftMargin=18 * mm,
                                 rightMargin=18 * mm, topMargin=16 * mm, bottomMargin=18 * mm)
    laid_out.build(story, onFirstPage=_number_pages, onLaterPages=_number_pages, canvasmaker=TaggedCanvas)


def _number_pages(canvas: Canvas, laid_out: SimpleDocTemplate) -> None:
    with marked(canvas, None):
        canvas.setFont(PLAIN, 7.5)
        canvas.setFillColor(QUIET)
        canvas.drawString(18 * mm, 10 * mm, settable(laid_out.title))
        canvas.drawRightString(letter[0] - 18 * mm, 10 * mm, f"page {laid_out.page}")

"""PDF that says what its parts are: headings, paragraphs, tables and pictures with words for them, in reading order, so
that a screen reader reads it and a phone can reflow it (ISO 32000-1, 14.6 to 14.8).

What is drawn between ``begin`` and ``end`` is one marked content; what belongs to no part, rules and page numbers, is
an artifact. Only what the platypus flowables here draw is marked.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFDictionary,
    PDFName,
    PDFPage,
    PDFString,
)
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable, Paragraph, Table

from .paper_type import PLAIN


@dataclass(eq=False)
class Element:
    """A part of the document. ``role`` is a standard structure type (``P``, ``H1``, ``Table``, ``TR``, ``Figure``...),
    ``alt`` the words for a picture. ``kids`` are elements, or (page from 1, marked content's number)."""

    role: str
    parent: Element | None = field(default=None, repr=False)
    alt: str = ""
    kids: list[Element | tuple[int, int]] = field(default_factory=list)

    is_attached: bool = False

    def attach(self, root: Element) -> None:
        """Put the element, and those around it, into their places, in the order in which they are drawn."""
        if self.is_attached or self is root:
            return
        self.is_attached, self.parent = True, self.parent or root
        self.parent.attach(root)
        self.parent.kids.append(self)


class TaggedCanvas(Canvas):      # type: ignore[misc]  # reportlab says no types
    """A canvas that keeps the structure of what is drawn on it and writes it into the file."""

    def __init__(self, filename: str, **settings: Any) -> None:
        super().__init__(filename, **settings | {"initialFontName": PLAIN, "lang": "en"})
        self.root = Element("Document")
        self._marked: list[list[Element]] = [[]]        # by page: the elements of its marked contents

    def begin(self, element: Element) -> None:
        """What is drawn from here to :meth:`end` belongs to *element*."""
        element.attach(self.root)
        page = self._marked[-1]
        element.kids.append((len(self._marked), len(page)))
        self._code.append(f"/{element.role} <</MCID {len(page)}>> BDC")
        page.append(element)

    def begin_artifact(self) -> None:
        """Begin content that assistive software leaves out; `end` closes it."""
        self._code.append("/Artifact BMC")

    def end(self) -> None:
        """Close the marked content begun last."""
        self._code.append("EMC")

    def showPage(self) -> None:
        """Finish the page and enter it in the structure."""
        super().showPage()
        page = self._doc.Pages.pages[-1]
        page.__NoDefault__ = [*PDFPage.__NoDefault__, "StructParents", "Tabs"]
        page.StructParents, page.Tabs = len(self._marked) - 1, PDFName("S")
        self._marked.append([])

    def save(self) -> None:
        """Finish the last page, write the structure and save the file."""
        if len(self._code):
            self.showPage()
        self._write_structure()
        super().save()

    def _write_structure(self) -> None:
        document = self._doc
        pages = document.Pages.pages
        made: dict[Element, Any] = {}

        def reference(element: Element, parent: Any) -> Any:
            entries = {"Type": PDFName("StructElem"), "S": PDFName(element.role), "P": parent}
            if element.alt:
                entries["Alt"] = PDFString(element.alt)
            if element.role == "TH":
                entries["A"] = PDFDictionary({"O": PDFName("Table"), "Scope": PDFName("Column")})
            dictionary = PDFDictionary(entries)
            made[element] = document.Reference(dictionary)
            kids = []
            for kid in element.kids:
                if isinstance(kid, Element):
                    kids.append(reference(kid, made[element]))
                else:
                    number, content = kid
                    kids.append(PDFDictionary({"Type": PDFName("MCR"), "Pg": document.Reference(pages[number - 1]),
                                               "MCID": content}))
            dictionary["K"] = PDFArray(kids)
            return made[element]

        tree = PDFDictionary({"Type": PDFName("StructTreeRoot")})
        root = document.Reference(tree)
        tree["K"] = PDFArray([reference(self.root, root)])
        numbers: list[Any] = []
        for page, elements in enumerate(self._marked):
            if page < len(pages):
                numbers += [page, PDFArray([made[element] for element in elements])]
        tree["ParentTree"] = document.Reference(PDFDictionary({"Nums": PDFArray(numbers)}))
        tree["ParentTreeNextKey"] = len(pages)
        document.Catalog.StructTreeRoot = root
        document.Catalog.MarkInfo = PDFDictionary({"Marked": "true"})


@contextmanager
def marked(canvas: Any, element: Element | None) -> Iterator[None]:
    """What is drawn within is *element*; an artifact for None. Another canvas draws as ever."""
    if not isinstance(canvas, TaggedCanvas):
        yield
        return
    if element is None:
        canvas.begin_artifact()
    else:
        canvas.begin(element)
    yield
    canvas.end()


class TaggedParagraph(Paragraph):      # type: ignore[misc]  # reportlab says no types
    """A paragraph that says what it is. Drawn again, as the head of a table on its next page, it is an artifact."""

    role = "P"
    inside: Element | None = None
    _is_drawn = False

    def drawOn(self, canvas: Any, x: float, y: float, _sW: float = 0) -> None:
        """Draw the paragraph within its structure element."""
        element = None if self._is_drawn else Element(self.role, self.inside)
        self._is_drawn = True
        with marked(canvas, element):
            super().drawOn(canvas, x, y, _sW)

    def split(self, availWidth: float, availHeight: float) -> list[Flowable]:
        """Split the paragraph at a page's end; the parts stay one structure element."""
        parts: list[Flowable] = super().split(availWidth, availHeight)
        for part in parts:
            if isinstance(part, TaggedParagraph):
                part.role, part.inside = self.role, self.inside
        return parts


class TaggedTable(Table):      # type: ignore[misc]  # reportlab says no types
    """A table whose rules and grounds are artifacts; its cells say themselves what they are."""

    def __init__(self, *cells: Any, **settings: Any) -> None:
        super().__init__(*cells, **settings)
        # or a table asks for a typeface that nothing is set in
        self.setStyle([("FONTNAME", (0, 0), (-1, -1), PLAIN)])

    def _drawLines(self) -> None:
        with marked(self.canv, None):
            super()._drawLines()

    def _drawBkgrnd(self) -> None:
        with marked(self.canv, None):
            super()._drawBkgrnd()


class Figure(Flowable):      # type: ignore[misc]  # reportlab says no types
    """A picture or a plot with the words that stand for it."""

    def __init__(self, shown: Flowable, alt: str) -> None:
        super().__init__()
        self._shown, self._alt = shown, alt

    def wrap(self, availWidth: float, availHeight: float) -> tuple[float, float]:
        """Return the width and height that the figure takes, in points."""
        self.width, self.height = self._shown.wrap(availWidth, availHeight)
        return self.width, self.height

    def drawOn(self, canvas: Any, x: float, y: float, _sW: float = 0) -> None:
        """Draw the figure within a structure element that carries its description."""
        with marked(canvas, Element("Figure", alt=self._alt)):
            self._shown.drawOn(canvas, x, y, _sW)

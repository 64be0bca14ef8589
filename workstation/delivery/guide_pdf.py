"""The guide as a tagged PDF, in the look of every other paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

import mistune
from PIL import Image as Photo
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Image, PageBreak

from ..film.writing import written_whole
from .guide import PICTURES, Chapter
from .guide_html import TITLE
from .paper_type import settable
from .papers import HEADING, SUBHEADING, TEXT, paragraph, table, write_document
from .papers import TITLE as TITLE_STYLE
from .tagged_pdf import Figure, TaggedParagraph

_WIDTH = 172        # millimetres
_HIGHEST = 110
_STYLES = {1: TITLE_STYLE, 2: HEADING, 3: SUBHEADING}

_parse = mistune.create_markdown(renderer=None, plugins=["table"])


def write_guide_pdf(chapters: Sequence[Chapter], to: Path) -> None:
    """Write all chapters, each from a new page."""
    story: list[Flowable] = []
    for chapter in chapters:
        if story:
            story.append(PageBreak())
        tokens = _parse(chapter.text)
        assert isinstance(tokens, list)
        for token in tokens:
            story += _flowables(token)
    with written_whole(to) as temporary:
        write_document(str(temporary), TITLE, story)


def _flowables(token: dict[str, Any], before: str = "") -> Iterator[Flowable]:
    kind = token["type"]
    if kind == "heading":
        yield paragraph(_plain(token), _STYLES[token["attrs"]["level"]])
    elif kind in ("paragraph", "block_text"):
        for child in token["children"]:
            if child["type"] == "image":
                yield _figure(PICTURES / child["attrs"]["url"], _plain(child))
        text = _marked(token["children"])
        if text:
            yield _text(before + text)
    elif kind == "list":
        for number, item in enumerate(token["children"], 1):
            mark = f"{number}. " if token["attrs"]["ordered"] else "• "
            for child in item["children"]:
                yield from _flowables(child, mark)
                mark = ""
    elif kind == "table":
        yield _table(token)
    elif kind != "blank_line":
        raise ValueError(f"the guide cannot set a {kind}")


def _text(marked: str) -> TaggedParagraph:
    made = TaggedParagraph(marked, TEXT)
    made.role = "P"
    return made


def _figure(path: Path, alt: str) -> Figure:
    data = BytesIO()
    with Photo.open(path) as opened:
        width, height = opened.size
        opened.convert("RGB").save(data, "JPEG", quality=88)      # PDF takes JPEG as it is, WebP only unpacked
    wide = min(_WIDTH, _HIGHEST * width / height)
    return Figure(Image(data, wide * mm, wide * mm * height / width), alt)


def _table(token: dict[str, Any]) -> Flowable:
    head, body = token["children"]
    rows = [[_plain(cell) for cell in head["children"]],
            *([_plain(cell) for cell in row["children"]] for row in body["children"])]
    longest = [max(8, min(60, max(len(row[column]) for row in rows))) for column in range(len(rows[0]))]
    return table(rows, [_WIDTH * each / sum(longest) for each in longest])


def _plain(token: dict[str, Any]) -> str:
    return "".join(_plain(child) for child in token["children"]) if "children" in token else str(token.get("raw", " "))


def _marked(tokens: Sequence[dict[str, Any]]) -> str:
    """Text with reportlab's marks for bold; emphasis and keys are set in bold too, which every reader shows."""
    parts = []
    for token in tokens:
        kind = token["type"]
        if kind == "image":
            continue
        inner = _marked(token["children"]) if "children" in token else escape(settable(str(token.get("raw", " "))))
        parts.append(f"<b>{inner}</b>" if kind in ("strong", "codespan") else inner)
    return "".join(parts).strip(" ") if len(parts) == 1 else "".join(parts)

"""The guide as HTML: one page by itself for any browser, and chapters for the desk."""

from __future__ import annotations

import base64
import html
import re
from collections.abc import Sequence
from pathlib import Path

import mistune

from .guide import PICTURES, Chapter

TITLE = "Film workstation: the guide"
_SHEET = """
body { font: 16px/1.5 sans-serif; color: #1c2430; background: #fff; max-width: 46rem; margin: 0 auto; padding: 1rem; }
h1 { margin: 3rem 0 .5rem; line-height: 1.2 } h2 { margin: 2rem 0 .3rem } h3 { margin: 1.2rem 0 .2rem }
img { max-width: 100%; height: auto; border: 1px solid #c9d0d8 }
table { border-collapse: collapse; font-size: .9em } th, td { text-align: left; vertical-align: top;
padding: .2rem .6rem; border-bottom: 1px solid #c9d0d8 }
code { background: #eef1f4; padding: 0 .25em; border-radius: 3px }
nav { background: #eef1f4; padding: .5rem 1rem } a { color: #1f5c93 }
@media print { nav { display: none } h1 { break-before: page } img, tr { break-inside: avoid } }
"""
_PICTURE = re.compile(r'<img src="([^"/\\]+)"')
_TYPES = {".png": "image/png", ".webp": "image/webp", ".jpg": "image/jpeg"}

_markdown = mistune.create_markdown(escape=True, plugins=["table"])


def chapter_html(chapter: Chapter) -> str:
    """The chapter's body; its pictures are named by their files in :data:`~.guide.PICTURES`."""
    return str(_markdown(chapter.text))


def whole_html(chapters: Sequence[Chapter]) -> str:
    """All chapters as one page that needs nothing besides itself."""
    listed = "".join(f'<li><a href="#{chapter.name}">{html.escape(chapter.title)}</a></li>' for chapter in chapters)
    body = "".join(f'<section id="{chapter.name}">{_embedded(chapter_html(chapter))}</section>' for chapter in chapters)
    return (f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{TITLE}</title>'
            f'<meta name="viewport" content="width=device-width, initial-scale=1"><style>{_SHEET}</style></head>'
            f"<body><nav><ol>{listed}</ol></nav>{body}</body></html>\n")


def _embedded(text: str) -> str:
    def put(match: re.Match[str]) -> str:
        path = PICTURES / match[1]
        data = base64.b64encode(Path(path).read_bytes()).decode()
        return f'<img src="data:{_TYPES[path.suffix]};base64,{data}"'

    return _PICTURE.sub(put, text)

"""The type that papers are set in, embedded in every file: what a reader lacks must not change what it says."""

from __future__ import annotations

from pathlib import Path

import reportlab
from reportlab.pdfbase.pdfmetrics import registerFont, registerFontFamily
from reportlab.pdfbase.ttfonts import TTFError, TTFont

PLAIN, BOLD = "Paper", "Paper-Bold"
_BUNDLED = Path(reportlab.__file__).parent / "fonts"        # has Latin letters only
_SETS = (("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf", "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf"),
         ("/usr/share/fonts/dejavu-sans-fonts/DejaVuSans.ttf",
          "/usr/share/fonts/dejavu-sans-fonts/DejaVuSans-Bold.ttf"),
         ("/System/Library/Fonts/Supplemental/Arial.ttf", "/System/Library/Fonts/Supplemental/Arial Bold.ttf"),
         ("C:/Windows/Fonts/arial.ttf", "C:/Windows/Fonts/arialbd.ttf"),
         (str(_BUNDLED / "Vera.ttf"), str(_BUNDLED / "VeraBd.ttf")))


def _register() -> TTFont:
    for plain, bold in _SETS:
        if Path(plain).exists() and Path(bold).exists():
            try:
                made = TTFont(PLAIN, plain)
                registerFont(made)
                registerFont(TTFont(BOLD, bold))
            except (TTFError, OSError):
                continue
            registerFontFamily(PLAIN, PLAIN, BOLD, PLAIN, BOLD)
            return made
    raise RuntimeError("no typeface to set papers in; install reportlab again")


_FACE = _register().face


def settable(text: str) -> str:
    """The text with a question mark for every character that the typeface lacks."""
    return "".join(letter if ord(letter) in _FACE.charToGlyph or letter in "\n\t" else "?" for letter in text)

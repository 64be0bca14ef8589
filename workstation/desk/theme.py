"""The look of the desk: two palettes, one type scale, one style sheet, worn page by page.

The one strong colour is the orange of the pylon and the down marker; it means "this acts" or
"this is the down". Everything else keeps quiet so that the picture stays the brightest thing.
Contrast follows WCAG 2.2 (success criteria 1.4.3 and 1.4.11): text at least 4.5:1, graphics that
carry meaning at least 3:1, on every ground they are used on (:data:`TEXT_PAIRS`, :data:`GRAPHIC_PAIRS`).
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from importlib.resources import files
from pathlib import Path
from string import Template

from PySide6.QtCore import QObject, QSettings, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontDatabase, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from .timers import timer


@dataclass(frozen=True, slots=True)
class Colours:
    """Named colours as ``#rrggbb``. Grounds: ``ground`` < ``panel`` < ``raised`` < ``well`` (entry fields)."""

    ground: str
    panel: str
    raised: str
    well: str
    line: str          # decoration only; never the one carrier of a meaning
    edge: str          # the border of something that can be used
    text: str
    quiet: str
    accent: str
    on_accent: str
    home: str
    visitors: str
    good: str
    warn: str
    bad: str
    focus: str
    selected: str
    on_selected: str


DARK = Colours(
    ground="#101416", panel="#171c1f", raised="#20272b", well="#0b0e10", line="#2c353a", edge="#71818a",
    text="#eef1ee", quiet="#a9b5b8", accent="#ff9b45", on_accent="#1a0d00",
    home="#f0d264", visitors="#8fc7ff", good="#7fd6a0", warn="#ffc857", bad="#ff8f86",
    focus="#ffd9ad", selected="#3a2c1c", on_selected="#fff4e6",
)
LIGHT = Colours(
    ground="#e9e6de", panel="#f5f3ed", raised="#ffffff", well="#ffffff", line="#d2cdc0", edge="#7a7566",
    text="#1c1f1e", quiet="#56594f", accent="#a84300", on_accent="#ffffff",
    home="#755500", visitors="#1f5c93", good="#1d6b3c", warn="#7d5200", bad="#ab2a1f",
    focus="#7a3000", selected="#f7dfc6", on_selected="#2b1700",
)

GROUNDS = ("ground", "panel", "raised", "well")
TEXT_PAIRS = [(ink, ground) for ground in GROUNDS
              for ink in ("text", "quiet", "accent", "home", "visitors", "good", "warn", "bad")]
TEXT_PAIRS += [("on_accent", "accent"), ("on_selected", "selected"), ("text", "selected"), ("quiet", "selected"),
               ("accent", "selected")]
GRAPHIC_PAIRS = [(ink, ground) for ground in GROUNDS for ink in ("edge", "focus", "accent")]


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two ``#rrggbb`` colours, 1 to 21 (WCAG 2.2, "contrast ratio" and "relative luminance")."""
    def luminance(colour: str) -> float:
        channels = [int(colour[i:i + 2], 16) / 255 for i in (1, 3, 5)]
        red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def readable(colour: str, colours: Colours, least: float = 4.5) -> str:
    """The colour, made lighter or darker, as the look asks for, until it can be read on every ground of the look."""
    grounds = [getattr(colours, ground) for ground in GROUNDS]
    way = 255 if contrast("#ffffff", colours.panel) > contrast("#000000", colours.panel) else 0
    channels = [int(colour[i:i + 2], 16) for i in (1, 3, 5)]
    for step in range(21):
        made = "#" + "".join(f"{round(channel + (way - channel) * step / 20):02x}" for channel in channels)
        if min(contrast(made, ground) for ground in grounds) >= least:
            return made
    return made


SIZES = {"small": 11, "body": 13, "lead": 15, "title": 20, "call": 34, "down": 52}   # pixels at 100 %

_DOWN = Path(str(files("workstation.resources") / "look" / "down.svg"))
_SHEET = Template("""
* { font-size: ${body}px; }
QWidget { color: $text; }
QWidget#ground { background: $ground; }
QWidget#panel, QFrame#panel { background: $panel; }
QLabel { background: transparent; }
QLabel[type="small"] { font-size: ${small}px; }
QLabel[type="lead"] { font-size: ${lead}px; }
QLabel[type="title"] { font-size: ${title}px; font-weight: 600; }
QLabel[ink="quiet"] { color: $quiet; }
QLabel[ink="accent"] { color: $accent; }
QLabel[ink="good"] { color: $good; }
QLabel[ink="warn"] { color: $warn; }
QLabel[ink="bad"] { color: $bad; }
QLabel#key { color: $quiet; border: 1px solid $edge; border-radius: 3px; padding: 0 4px; font-size: ${small}px; }
QFrame#rule { background: $line; border: none; max-height: 1px; min-height: 1px; }
QPushButton, QToolButton {
  background: $raised; border: 1px solid $edge; border-radius: 4px; padding: 4px 9px; min-height: 18px; }
QPushButton:hover, QToolButton:hover { background: $selected; color: $on_selected; border-color: $accent; }
QPushButton:pressed, QToolButton:pressed { background: $accent; color: $on_accent; }
QPushButton:focus, QToolButton:focus { border: 2px solid $focus; padding: 3px 8px; }
QPushButton:disabled, QToolButton:disabled { color: $quiet; border: 1px dashed $line; background: $panel; }
QPushButton:checked, QToolButton:checked { background: $selected; color: $on_selected; border-color: $accent; }
QPushButton[role="main"] { background: $accent; color: $on_accent; border: 1px solid $accent; font-weight: 600; }
QPushButton[role="main"]:hover { background: $focus; color: $on_accent; }
QPushButton[role="main"]:focus { border: 2px solid $text; }
QPushButton[role="main"]:disabled { background: $panel; color: $quiet; border: 1px dashed $line; }
QPushButton[role="flat"], QToolButton[role="flat"] { background: transparent; border: 1px solid transparent; }
QPushButton[role="flat"]:hover, QToolButton[role="flat"]:hover { background: $selected; color: $on_selected; }
QPushButton[role="flat"]:focus, QToolButton[role="flat"]:focus { border: 2px solid $focus; }
QToolButton::menu-indicator { image: none; }
QPushButton[role="room"] { background: transparent; border: none; border-bottom: 3px solid transparent;
  border-radius: 0; padding: 6px 14px; font-size: ${lead}px; }
QPushButton[role="room"]:hover { color: $accent; }
QPushButton[role="room"]:checked { border-bottom: 3px solid $accent; color: $text;
  background: transparent; }
QPushButton[role="room"]:focus { border: 2px solid $focus; padding: 4px 12px 6px 12px; }
QPushButton[role="tab"] { background: transparent; border: none; border-bottom: 3px solid transparent;
  border-radius: 0; padding: 5px 9px; }
QPushButton[role="tab"]:hover { color: $accent; }
QPushButton[role="tab"]:checked { border-bottom: 3px solid $accent; color: $text; background: transparent; }
QPushButton[role="tab"]:focus { border: 2px solid $focus; padding: 3px 7px 4px 7px; }
QPushButton[role="word"] { padding: 2px 7px; min-height: 16px; }
QPushButton[role="mark"] { padding: 2px 6px; min-height: 16px; font-size: ${small}px; }
QPushButton[role="row"] { background: transparent; border: 1px solid transparent; text-align: left; }
QPushButton[role="row"]:hover { background: $selected; color: $on_selected; }
QPushButton[role="row"]:focus { border: 2px solid $focus; }
QLabel#toast { background: $raised; color: $text; border: 1px solid $edge; border-left: 4px solid $good;
  border-radius: 4px; padding: 7px 14px; }
QLineEdit, QPlainTextEdit, QTextEdit, QSpinBox, QDoubleSpinBox, QComboBox, QDateEdit {
  background: $well; border: 1px solid $edge; border-radius: 4px; padding: 4px 7px; min-height: ${lead}px;
  selection-background-color: $accent; selection-color: $on_accent; }
QLineEdit, QPlainTextEdit, QTextEdit { placeholder-text-color: $quiet; }
QLineEdit:focus, QPlainTextEdit:focus, QTextEdit:focus, QSpinBox:focus, QDoubleSpinBox:focus, QComboBox:focus {
  border: 2px solid $focus; padding: 3px 6px; }
QLineEdit[state="bad"] { border: 2px solid $bad; padding: 3px 6px; }
QLineEdit#entry { font-size: ${title}px; padding: 5px 9px; min-height: ${entry}px; }
QLineEdit#entry[state="bad"] { padding: 4px 8px; }
QComboBox { combobox-popup: 0; }
QComboBox::drop-down { border: none; width: 22px; }
QComboBox::down-arrow { image: url("$down"); width: 10px; height: 6px; }
QComboBox QAbstractItemView { background: $raised; selection-background-color: $selected;
  selection-color: $on_selected; }
QAbstractItemView { background: $panel; alternate-background-color: $raised; border: 2px solid $line;
  selection-background-color: $selected; selection-color: $on_selected; outline: none; }
QAbstractItemView:focus { border-color: $focus; }
QHeaderView { border: none; }
QHeaderView::section { background: $panel; color: $quiet; border: none; border-bottom: 1px solid $line;
  padding: 3px 6px; font-size: ${small}px; }
QTableView::item { padding: 0 6px; }
QTableView#plays { gridline-color: $line; }
QTableCornerButton::section { background: $panel; border: none; }
QScrollArea { background: transparent; border: none; }
QScrollArea > QWidget > QWidget { background: transparent; }
QScrollBar:vertical { background: transparent; width: 12px; margin: 0; }
QScrollBar:horizontal { background: transparent; height: 12px; margin: 0; }
QScrollBar::handle { background: $edge; border-radius: 4px; min-height: 28px; min-width: 28px; margin: 2px; }
QScrollBar::add-line, QScrollBar::sub-line { width: 0; height: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: transparent; }
QSplitter::handle { background: $ground; }
QSplitter::handle:hover { background: $accent; }
QToolTip { background: $raised; color: $text; border: 1px solid $edge; padding: 4px 6px; }
QMenu { background: $raised; border: 1px solid $edge; padding: 4px; }
QMenu::item { padding: 5px 22px 5px 12px; }
QMenu::item:selected { background: $selected; color: $on_selected; }
QMenu::item:disabled { color: $quiet; }
QMenu::separator { height: 1px; background: $line; margin: 4px 8px; }
QProgressBar { background: $well; border: 1px solid $edge; border-radius: 4px; text-align: center; min-height: 14px; }
QProgressBar::chunk { background: $selected; border-right: 2px solid $accent; }
QCheckBox, QRadioButton { spacing: 6px; }
QCheckBox:focus, QRadioButton:focus { border: 2px solid $focus; border-radius: 4px; }
QCheckBox::indicator, QTableView::indicator {
    width: 14px; height: 14px; border: 1px solid $edge; border-radius: 3px; background: $well; }
QCheckBox::indicator:checked, QTableView::indicator:checked {
    background: $accent; border: 3px solid $well; outline: 1px solid $edge; }
QFrame#bar { background: $raised; border-left: 4px solid $warn; }
QFrame#bar[state="bad"] { border-left: 4px solid $bad; }
QFrame#bar[state="good"] { border-left: 4px solid $good; }
QFrame#card { background: $panel; border: 1px solid $line; border-radius: 6px; }
QLabel#chip { background: $raised; border: 1px solid $edge; border-radius: 9px; padding: 1px 8px; }
QLabel#chip[state="kind"] { background: $accent; color: $on_accent; border-color: $accent; font-weight: 600; }
QLabel#chip[state="bad"] { color: $bad; border: 2px solid $bad; }
QLabel#chip[state="passed over"] { color: $quiet; text-decoration: line-through; }
QLabel#chip[state="known"] { color: $quiet; border-style: dashed; }
""")


class Theme(QObject):
    """The palette in use. ``changing`` is sent before anything does, ``changed`` after all pages wear the new sheet,
    and before that for a page that comes into view while others are still to wear it.

    The sheet is worn by the pages that asked for it (:meth:`dress`), not by the application: a sheet of the
    application polishes every widget of every room in one turn, five to ten times the time of page by page.
    """

    changing = Signal()
    changed = Signal()

    def __init__(self, app: QApplication, parent: QObject | None = None):
        super().__init__(parent)
        self._app = app
        self._sheet = ""
        self._dressed: list[QWidget] = []
        self._behind: list[QWidget] = []        # pages that still wear the last look
        self._at_hand: QWidget | None = None    # the page dressed last, not painted yet
        self._is_changing = False               # until all pages wear the new look
        self._next = timer(self, 0, self._dress_next)
        self._teams = {"home": "", "visitors": ""}
        self.dark = True
        self.scale = 1.0
        self.colours = DARK
        families = set(QFontDatabase.families())
        wanted = ("Inter", "Source Sans 3", "Noto Sans", "Segoe UI", "SF Pro Text", "DejaVu Sans")
        self.family = next((name for name in wanted if name in families), app.font().family())
        condensed = ("Barlow Condensed", "Roboto Condensed", "Archivo Narrow", "Arial Narrow", "DejaVu Sans Condensed")
        self.condensed = next((name for name in condensed if name in families), self.family)

    def restore(self, settings: QSettings) -> None:
        """Take what was chosen last; at first what the system prefers."""
        system = QGuiApplication.styleHints().colorScheme() != Qt.ColorScheme.Light
        chosen = settings.value("look/dark", system)
        self.apply(dark=chosen in (True, "true"), scale=float(str(settings.value("look/scale", 1.0))))

    def apply(self, dark: bool | None = None, scale: float | None = None) -> None:
        """Switch palette and/or text size (*scale* 1 is normal, 1.6 suits a wall screen)."""
        self.changing.emit()
        self.dark = self.dark if dark is None else dark
        self.scale = self.scale if scale is None else min(max(scale, 0.8), 2.5)
        self.colours = DARK if self.dark else LIGHT
        self.colours = replace(self.colours, **{side: readable(colour, self.colours)
                                                for side, colour in self._teams.items() if colour})
        values = {f.name: getattr(self.colours, f.name) for f in fields(Colours)}
        sizes = {name: round(pixels * self.scale) for name, pixels in SIZES.items()}
        sizes["entry"] = round(SIZES["title"] * self.scale * 1.35)
        palette = QPalette()
        for role, name in ((QPalette.ColorRole.Window, "ground"), (QPalette.ColorRole.Base, "well"),
                           (QPalette.ColorRole.Text, "text"), (QPalette.ColorRole.WindowText, "text"),
                           (QPalette.ColorRole.ButtonText, "text"), (QPalette.ColorRole.Button, "raised"),
                           (QPalette.ColorRole.Highlight, "selected"), (QPalette.ColorRole.AlternateBase, "raised"),
                           (QPalette.ColorRole.HighlightedText, "on_selected"), (QPalette.ColorRole.Link, "accent"),
                           (QPalette.ColorRole.PlaceholderText, "quiet"), (QPalette.ColorRole.ToolTipBase, "raised"),
                           (QPalette.ColorRole.ToolTipText, "text")):
            palette.setColor(role, QColor(values[name]))
        self._app.setPalette(palette)
        self._app.setFont(self.font("body"))
        self._sheet = _SHEET.substitute(values | sizes, down=_DOWN.as_posix())
        self._let_paint()
        self._behind = sorted(self._dressed, key=QWidget.isVisible)
        self._is_changing = True
        self._dress_next()

    def wear_teams(self, home: str, visitors: str) -> None:
        """Show the teams in colours of their own (``#rrggbb``), as near to them as can be read; empty for the
        look's."""
        teams = {"home": home, "visitors": visitors}
        if teams != self._teams:
            self._teams = teams
            self.apply()

    def dress(self, page: QWidget) -> None:
        """Let *page* and all that is in it wear the look, now and whenever it changes."""
        self._dressed.append(page)
        page.destroyed.connect(lambda: self._undress(page))
        page.setStyleSheet(self._sheet)

    def dress_now(self, page: QWidget) -> None:
        """Let *page*, which came into view while the look changes, wear the new one before its turn."""
        if self._is_changing:
            if page in self._behind:
                self._behind.remove(page)
                page.setStyleSheet(self._sheet)
            self.changed.emit()

    def _undress(self, page: QWidget) -> None:
        self._dressed.remove(page)
        if page in self._behind:
            self._behind.remove(page)
        if page is self._at_hand:
            self._at_hand = None

    def _dress_next(self) -> None:
        """One page a turn of the event loop, the visible ones first, and its painting in another, so that no turn is
        long: without that Qt would paint it in the very turn in which it is dressed and laid out."""
        if self._at_hand is not None:
            self._let_paint()
        elif self._behind:
            page = self._behind.pop()
            if page.isVisible():
                self._at_hand = page
                page.setUpdatesEnabled(False)
            page.setStyleSheet(self._sheet)
        else:
            self._is_changing = False
            self.changed.emit()
            return
        self._next.start()

    def _let_paint(self) -> None:
        page, self._at_hand = self._at_hand, None
        if page is not None:
            page.setUpdatesEnabled(True)

    def remember(self, settings: QSettings) -> None:
        """Store the look in the settings."""
        settings.setValue("look/dark", self.dark)
        settings.setValue("look/scale", self.scale)

    def colour(self, name: str) -> QColor:
        """Return the colour of this name."""
        return QColor(getattr(self.colours, name))

    def pixels(self, size: str) -> int:
        """Return a named size in pixels, scaled."""
        return round(SIZES[size] * self.scale)

    def font(self, size: str = "body", bold: bool = False, condensed: bool = False) -> QFont:
        """Return the font in a named size."""
        font = QFont(self.condensed if condensed else self.family)
        font.setPixelSize(self.pixels(size))
        font.setBold(bold)
        return font

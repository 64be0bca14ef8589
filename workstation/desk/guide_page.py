"""The guide on screen: its chapters, and a search over all of them."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QSize, Qt, QUrl, Signal
from PySide6.QtGui import QImage, QTextCursor, QTextDocument
from PySide6.QtWidgets import QLineEdit, QListWidget, QListWidgetItem, QTextBrowser, QWidget

from .asking import ask_for_folder
from .jobs import Job
from .keys import KeyButton, KeyMap
from .theme import Theme
from .timers import timer
from .widgets import EscCloses, in_column, in_row, label, push_button, say

_MARGIN = 40        # pixels beside a picture
_SETTLED = 80       # milliseconds after the page changed its width


class GuidePage(EscCloses, QWidget):
    """A page of its own, not a dialog; ``closed`` is sent when the person is through with it."""

    closed = Signal()
    keys_wanted = Signal()

    def __init__(self, keys: KeyMap, theme: Theme):
        super().__init__()
        self.setObjectName("ground")
        self.setAccessibleName("Guide")
        self._keys, self._theme = keys, theme
        self._chapters: list = []       # each with its text without markup
        self._passages: list = []
        self._answers: list = []        # passages, where no chapter says the search word by word
        self.search = QLineEdit(placeholderText="Find in the guide, or ask; Enter goes to the next place")
        self.search.setAccessibleName("Find in the guide")
        self.search.textChanged.connect(self._list)
        self.search.returnPressed.connect(self.find_next)
        self.contents = QListWidget()
        self.contents.setAccessibleName("Chapters")
        self.contents.setWordWrap(True)
        self.contents.setSpacing(3)
        self.contents.currentRowChanged.connect(lambda _: self._read())
        self.text = _Reader()
        self.text.setAccessibleName("The chapter")
        self._fitting = timer(self, _SETTLED, self._fit)
        self.text.resized.connect(self._fitting.start)
        self.keys_button = KeyButton(keys, "desk.keys", "Keys", act=self.keys_wanted.emit)
        self.keys_button.setAccessibleName("Keys: show and change them")
        self.keep = push_button("Keep as a file…", lambda: ask_for_folder(self, "Keep the guide as HTML and PDF in", "",
                                                                         self.keep_in))
        self.back = push_button("Back", self.closed.emit, role="main")
        self._said = label(wrap=True)
        in_column(in_row(label("Guide", "title"), (self.search, 1), self.keys_button, self.keep, self.back),
                  (in_row((self.contents, 1), (self.text, 4)), 1), self._said, on=self, margins=(18, 14, 18, 14))
        keys.changed.connect(self._forget)
        theme.changed.connect(self._read)

    def showEvent(self, event) -> None:
        """Read the chapters, with the keys as they are now."""
        super().showEvent(event)
        if not self._chapters:
            Job("reading the guide", lambda progress: self._gather(), self._take, self._fail, parent=self).start()
        self.search.setFocus()
        self.search.selectAll()

    def find_next(self) -> None:
        """Go to the next place that says what is looked for, in this chapter and then in the following ones; with a
        question in other words, to the next best passage."""
        if self._answers:
            self._answers.append(self._answers.pop(0))
            self._show_answer()
            return
        wanted = self.search.text().strip()
        if not wanted or not self.contents.count() or self.text.find(wanted):
            return
        self.contents.setCurrentRow((self.contents.currentRow() + 1) % self.contents.count())
        self.text.moveCursor(QTextCursor.MoveOperation.Start)
        self.text.find(wanted)

    def _gather(self) -> list:
        from ..delivery.guide import chapters  # imported here: it reads the whole notation
        from ..delivery.guide_search import passages

        made = chapters(lambda id: next(iter(self._keys.spelled(id)), ""))
        return [[(each, self._without_markup(each.text)) for each in made], passages(made)]

    @staticmethod
    def _without_markup(text: str) -> str:
        return text.replace("*", "").replace("`", "").replace("\n", " ").casefold()

    def _take(self, read: list) -> None:
        self._chapters, self._passages = read
        self._list()

    def _fail(self, why: str) -> None:
        say(self._said, f"The guide cannot be shown: {why}. Install the program again.", "bad")

    def _forget(self) -> None:
        self._chapters = []
        if self.isVisible():
            self._take(self._gather())

    def _list(self) -> None:
        """List the chapters that say what is looked for; where none says it word by word, those with the nearest
        passages, the best first."""
        from ..delivery.guide_search import ranked

        shown = self._chapter()
        wanted = self.search.text().strip()
        numbers = [number for number, (_, text) in enumerate(self._chapters) if wanted.casefold() in text]
        self._answers = [] if numbers else ranked(self._passages, wanted)
        numbers = numbers or list(dict.fromkeys(each.chapter for each in self._answers))
        self.contents.blockSignals(True)
        self.contents.clear()
        for number in numbers:
            chapter = self._chapters[number][0]
            item = QListWidgetItem(chapter.title)
            item.setData(Qt.ItemDataRole.UserRole, number)
            self.contents.addItem(item)
            if chapter is shown:
                self.contents.setCurrentItem(item)
        if self.contents.currentRow() < 0 and self.contents.count():
            self.contents.setCurrentRow(0)
        self.contents.blockSignals(False)
        self._read()
        if self._answers:
            self._show_answer()
        elif wanted and numbers:
            self.text.find(wanted)
        say(self._said, f"No chapter says “{wanted}” word by word; these passages come nearest." if self._answers else
            f"No chapter says “{wanted}”. Every key and every word of the line is on the page “Keys”."
            if self._chapters and not numbers else "")

    def _show_answer(self) -> None:
        """Show the first of the passages that answer the question, marked."""
        answer = self._answers[0]
        for row in range(self.contents.count()):
            if self.contents.item(row).data(Qt.ItemDataRole.UserRole) == answer.chapter:
                self.contents.setCurrentRow(row)
        self.text.moveCursor(QTextCursor.MoveOperation.Start)
        if self.text.find(answer.text[:50]):
            cursor = self.text.textCursor()
            cursor.setPosition(cursor.block().position())
            cursor.movePosition(QTextCursor.MoveOperation.EndOfBlock, QTextCursor.MoveMode.KeepAnchor)
            self.text.setTextCursor(cursor)

    def _chapter(self):
        item = self.contents.currentItem()
        return self._chapters[item.data(Qt.ItemDataRole.UserRole)][0] if item is not None and self._chapters else None

    def _read(self) -> None:
        chapter = self._chapter()
        if chapter is None:
            self.text.clear()
            return
        from ..delivery.guide_html import chapter_html

        colours, scale = self._theme.colours, self._theme.scale
        self.text.document().setDefaultStyleSheet(
            f"body {{ color: {colours.text}; font-size: {round(14 * scale)}px; }} code {{ color: {colours.accent}; }}"
            f"h1 {{ font-size: {round(22 * scale)}px; }} h2 {{ font-size: {round(17 * scale)}px; }}"
            f"p, li {{ margin-top: {round(5 * scale)}px; margin-bottom: {round(5 * scale)}px; }}"
            f"td, th {{ padding: {round(3 * scale)}px {round(8 * scale)}px; text-align: left; }}")
        self.text.setHtml(f"<body>{chapter_html(chapter)}</body>")
        self.text.moveCursor(QTextCursor.MoveOperation.Start)

    def _fit(self) -> None:
        """Show the chapter for the width there is, at the place that was read, with what was found in it."""
        bar = self.text.verticalScrollBar()
        anchor, found = self.text.textCursor().anchor(), self.text.textCursor().position()
        place = bar.value() / max(bar.maximum(), 1)
        self._read()
        bar.setValue(round(place * bar.maximum()))
        if found != anchor:
            cursor = self.text.textCursor()
            cursor.setPosition(anchor)
            cursor.setPosition(found, QTextCursor.MoveMode.KeepAnchor)
            self.text.setTextCursor(cursor)

    def keep_in(self, folder: Path) -> None:
        """Write the guide into *folder*, and say where it is or why it could not be written."""
        def write(progress) -> list[Path]:
            from ..delivery.guide_writing import write_guide
            return write_guide([chapter for chapter, _ in self._chapters], folder)

        Job("writing the guide", write,
            lambda paths: say(self._said, f"Written: {' and '.join(str(path) for path in paths)}", "good"),
            lambda why: say(self._said, f"The guide cannot be written: {why}. Choose another folder.", "bad"),
            parent=self).start()


class _Reader(QTextBrowser):
    """Shows a chapter, its pictures as wide as the page and no wider than they are."""

    resized = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setOpenLinks(False)
        self.setTabChangesFocus(True)
        # always there: pictures are as wide as the page, so one that comes and goes would never come to rest
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)

    def resizeEvent(self, event) -> None:
        """Have the pictures made for the new width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.resized.emit()

    def loadResource(self, kind: int, name: QUrl | str):
        """Read a picture of the guide."""
        if kind != QTextDocument.ResourceType.ImageResource:
            return None
        from PIL import Image

        from ..delivery.guide import PICTURES

        with Image.open(PICTURES / Path(QUrl(name).path()).name) as opened:   # Qt may be without its reader of WebP
            plain = opened.convert("RGBA")
        image = QImage(plain.tobytes(), *plain.size, QImage.Format.Format_RGBA8888).copy()
        room = max(self.viewport().width() - _MARGIN, 200)
        if image.width() > room:
            image = image.scaled(QSize(room, image.height() * room // max(image.width(), 1)),
                                 Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation)
        return image

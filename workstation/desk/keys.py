"""The key map: which keys each action has, how they are shown, changed and printed."""

from __future__ import annotations

import html
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from pathlib import Path

from PySide6.QtCore import QKeyCombination, QMarginsF, QObject, QRectF, QSettings, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QAction,
    QFont,
    QFontMetrics,
    QKeyEvent,
    QKeySequence,
    QPageLayout,
    QPageSize,
    QPainter,
    QPdfWriter,
    QTextDocument,
)
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QPushButton,
    QStyle,
    QStyleOptionButton,
    QStylePainter,
    QWidget,
)

from ..film.writing import written_whole
from .actions import ACTIONS, EVERYWHERE, TAG, TYPED, Action

_sequence = lru_cache(maxsize=1024)(QKeySequence)


@lru_cache(maxsize=1024)
def _spelling(key: str) -> str:
    """A key in Qt's normal form."""
    return QKeySequence(key).toString()


class KeyMap(QObject):
    """The keys of *actions*: binds them to widgets and remembers what the person changed.

    Two actions of one group, or one of a group and one that counts everywhere, cannot share a key.
    """

    changed = Signal()

    def __init__(self, settings: QSettings, parent: QObject | None = None, actions: Iterable[Action] = ACTIONS):
        """Raises ValueError if a key as delivered is already taken where it would count."""
        super().__init__(parent)
        self._settings = settings
        self._actions = {action.id: action for action in actions}
        self._bound: dict[str, list[QAction]] = {}
        self._now: dict[str, tuple[str, ...]] = {}      # cache of the keys that actions have
        self._read: dict[str, str] = {}                 # the first of them as it is shown
        self._holders: dict[str, list[Action]] = {}       # by spelling
        for action in self._actions.values():
            for key in action.keys:
                holder = self.holder(key, action.group)
                if holder is not None:
                    raise ValueError(f"{action.text}: the key {key} already belongs to {holder.text!r}")
                self._holders.setdefault(_spelling(key), []).append(action)
        self._forget_read()

    def action(self, id: str) -> Action:
        """Return the action with this id; raise KeyError if there is none."""
        return self._actions[id]

    def search(self, words: str) -> list[Action]:
        """Actions whose text, group or key contain every one of *words*."""
        wanted = words.casefold().split()
        return [action for action in self._actions.values()
                if all(word in f"{action.text} {action.group} {self.shown(action.id)}".casefold() for word in wanted)]

    def keys(self, id: str) -> tuple[str, ...]:
        """The keys that an action has now."""
        if id not in self._now:
            stored = self._settings.value(f"keys/{id}")
            self._now[id] = self._actions[id].keys if stored is None else tuple(
                key for key in ([stored] if isinstance(stored, str) else stored) if key)
        return self._now[id]

    def shown(self, id: str) -> str:
        """The first key as it is shown, or an empty text."""
        if id not in self._read:
            text = next(iter(self.spelled(id)), "")
            self._read[id] = text.replace("Return", "Enter").replace("Left", "←").replace("Right", "→").replace(
                "PgUp", "Page Up").replace("PgDown", "Page Down")
        return self._read[id]

    def spelled(self, id: str) -> list[str]:
        """All keys of an action in the system's own words."""
        return [QKeySequence(key).toString(QKeySequence.SequenceFormat.NativeText) for key in self.keys(id)]

    def holder(self, key: str, group: str, besides: str = "") -> Action | None:
        """The action other than *besides* that has *key* where an action of *group* would use it."""
        return next((action for action in self._holders.get(_spelling(key), ())
                     if action.id != besides and (EVERYWHERE in (group, action.group) or group == action.group)), None)

    def types(self, id: str, key: str) -> bool:
        """Whether *key* writes into the Tag room's entry line, where the action's keys count: it cannot have that key.
        A key that the action has as delivered it may have again."""
        action, last = self._actions[id], QKeySequence(key)
        if action.group not in (TAG, EVERYWHERE) or not last.count() or \
                _spelling(key) in {_spelling(own) for own in action.keys}:
            return False
        pressed = last[last.count() - 1]       # type: ignore[index]  # PySide's stubs leave out __getitem__
        held = pressed.keyboardModifiers() & ~Qt.KeyboardModifier.ShiftModifier
        code = pressed.key().value
        written = chr(code) if code < 0x1000000 else ""
        return held in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier) and bool(written) and (
            written.isalnum() or written in TYPED)

    def give(self, id: str, keys: Iterable[str]) -> Action | None:
        """Give an action other keys; returns who holds one of them already, and then nothing changes. Raises ValueError
        for a key that :meth:`types`."""
        keys = [key for key in keys if key]
        for key in keys:
            if self.types(id, key):
                raise ValueError(f"{key} is for typing plays in the Tag room. Take another sign or a function key, "
                                 "or hold Ctrl or Alt with it.")
        for key in keys:
            holder = self.holder(key, self._actions[id].group, besides=id)
            if holder is not None:
                return holder
        if tuple(keys) == self._actions[id].keys:
            self._settings.remove(f"keys/{id}")
        else:
            self._settings.setValue(f"keys/{id}", keys or "")
        self._change((id,))
        return None

    def reset(self) -> None:
        """Back to the keys as delivered."""
        self._settings.remove("keys")
        self._change(self._bound)

    def _change(self, ids: Iterable[str]) -> None:
        """Bind the actions of these ids to their keys as they are in the settings now."""
        self._forget_read()
        for id in ids:
            for action in self._bound.get(id, ()):
                action.setShortcuts([QKeySequence(key) for key in self.keys(id)])
        self.changed.emit()

    def _forget_read(self) -> None:
        """Drop what was cached from the settings."""
        self._now.clear()
        self._read.clear()
        self._holders.clear()
        for action in self._actions.values():
            for key in self.keys(action.id):
                self._holders.setdefault(_spelling(key), []).append(action)

    def bind(self, id: str, widget: QWidget, callback: Callable[[], object]) -> QAction:
        """Let the action's keys call *callback* while *widget* or something in it has the focus; those of an action
        that counts everywhere, while *widget* is to be seen."""
        known = self._actions[id]
        action = QAction(known.text, widget)
        action.setShortcuts([QKeySequence(key) for key in self.keys(id)])
        action.setShortcutContext(Qt.ShortcutContext.WindowShortcut if known.group == EVERYWHERE
                                  else Qt.ShortcutContext.WidgetWithChildrenShortcut)
        action.setAutoRepeat(known.repeats)
        action.triggered.connect(lambda: self._act(id, callback))
        widget.addAction(action)
        bound = self._bound.setdefault(id, [])
        bound.append(action)
        action.destroyed.connect(lambda: bound.remove(action) if action in bound else None)
        return action

    def bind_all(self, widget: QWidget, acts: Mapping[str, Callable[[], object]]) -> None:
        """Bind each action (id) of *acts* to what it does in *widget*."""
        for id, act in acts.items():
            self.bind(id, widget, act)

    def act(self, id: str) -> None:
        """Carry out an action as its key would, where it is bound and can be seen."""
        for action in self._bound.get(id, ()):
            widget = action.parent()
            if isinstance(widget, QWidget) and widget.isVisible() and action.isEnabled():
                action.trigger()
                return

    def _act(self, id: str, callback: Callable[[], object]) -> None:
        """Space presses the button that has the focus, whatever else it does in the room."""
        focus = QApplication.focusWidget()
        if isinstance(focus, QAbstractButton) and "Space" in self.keys(id):
            focus.click()
        else:
            callback()

    def matches(self, event: QKeyEvent, group: str) -> str | None:
        """The action of *group* (or of everywhere) that a key press means."""
        modifiers = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        pressed = [QKeySequence(QKeyCombination(modifiers, Qt.Key(event.key())))]
        if modifiers == Qt.KeyboardModifier.ShiftModifier and event.text().isprintable() and event.text().strip():
            pressed.append(QKeySequence(QKeyCombination(Qt.KeyboardModifier.NoModifier, Qt.Key(event.key()))))
        for action in self._actions.values():
            if action.group in (group, EVERYWHERE) and any(_sequence(key) in pressed for key in self.keys(action.id)):
                return action.id
        return None

    # -- on paper -----------------------------------------------------------------------------
    def as_html(self) -> str:
        """The whole map as one page of HTML."""
        groups: dict[str, list[Action]] = {}
        for action in self._actions.values():
            groups.setdefault(action.group, []).append(action)
        columns: list[list[str]] = [[], [], []]
        heights = [0, 0, 0]
        for group, actions in sorted(groups.items(), key=lambda item: -len(item[1])):
            lines = [f"<p><b>{html.escape(group)}</b></p><table width='100%' cellspacing='0' cellpadding='1'>"]
            lines += [f"<tr><td width='38%'><code>{html.escape('  '.join(self.spelled(a.id)) or '–')}</code></td>"
                      f"<td>{html.escape(a.text)}</td></tr>" for a in actions]
            lines.append("</table>")
            shortest = heights.index(min(heights))
            heights[shortest] += len(actions) + 2
            columns[shortest] += lines
        cells = "".join(f"<td width='33%' valign='top'>{''.join(lines)}</td>" for lines in columns)
        return (f"<html><head><title>Keys</title></head><body><h2>Keys</h2>"
                f"<table width='100%' cellspacing='6'><tr>{cells}</tr></table></body></html>")

    def print_to(self, path: Path) -> None:
        """Write the map to one page of A4 landscape (PDF). Raises OSError if the file cannot be written."""
        path.parent.mkdir(parents=True, exist_ok=True)
        with written_whole(path) as temporary:
            with temporary.open("wb"):
                pass
            self._print_pdf(temporary)

    def _print_pdf(self, path: Path) -> None:
        writer = QPdfWriter(str(path))
        writer.setPageLayout(QPageLayout(QPageSize(QPageSize.PageSizeId.A4), QPageLayout.Orientation.Landscape,
                                         QMarginsF(10, 10, 10, 10), QPageLayout.Unit.Millimeter))
        writer.setResolution(300)
        document = QTextDocument()
        document.setDefaultStyleSheet("p, td, h2, code, b { color: #111111; }")     # on paper, whatever the screen
        document.documentLayout().setPaintDevice(writer)
        area = QRectF(0, 0, writer.width(), writer.height())
        for half_points in range(20, 4, -1):
            font = document.defaultFont()
            font.setPointSizeF(half_points / 2)
            document.setDefaultFont(font)
            document.setHtml(self.as_html())
            document.setPageSize(QSizeF(area.width(), area.height() * 0.97))     # the last row of a table may stick out
            if document.pageCount() == 1:
                break
        painter = QPainter(writer)
        document.drawContents(painter, area)
        painter.end()


class KeyButton(QPushButton):
    """A button that carries its key. *act* is what a click does, and where *bound_in* has the focus the key too; *role*
    is the style's."""

    def __init__(self, keys: KeyMap, id: str, text: str = "", parent: QWidget | None = None,
                 act: Callable[[], object] | None = None, bound_in: QWidget | None = None, role: str = ""):
        action = keys.action(id)
        self._kept: tuple[str, QFont, QFontMetrics, int] | None = None      # for the type that the button had then
        self._kept_for = QFont()
        super().__init__(text or action.text, parent)
        self._keys, self._id, self._what, self._meaning = keys, id, action.text, action.meaning
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        if role:
            self.setProperty("role", role)
        keys.changed.connect(self._name)
        self._name()
        if act is not None:
            self.clicked.connect(lambda: act())
            if bound_in is not None:
                keys.bind(id, bound_in, act)

    def _name(self) -> None:
        shown = self._keys.shown(self._id)
        self._kept = None
        self.setAccessibleName(self._what)
        told = f"{self._what} ({shown})" if shown else self._what
        self.setToolTip(f"{told}\n{self._meaning}" if self._meaning else told)
        self.setAccessibleDescription(self._meaning)
        self.updateGeometry()
        self.update()

    def _cap(self) -> tuple[str, QFont, QFontMetrics, int]:
        """The key as it is shown, its type and measures, and its width; cached, for layouts ask many times over."""
        if self._kept is None or self._kept_for != self.font():
            shown, self._kept_for, font = self._keys.shown(self._id), self.font(), self.font()
            font.setPixelSize(max(9, font.pixelSize() - 2) if font.pixelSize() > 0 else 11)
            metrics = QFontMetrics(font)
            self._kept = shown, font, metrics, metrics.horizontalAdvance(shown) + 10 if shown else 0
        return self._kept

    def sizeHint(self) -> QSize:
        """The button's size with room for its key."""
        hint = super().sizeHint()
        return QSize(hint.width() + self._cap()[3], hint.height())

    def minimumSizeHint(self) -> QSize:
        """The same as the preferred size."""
        return self.sizeHint()

    def paintEvent(self, event) -> None:
        """Draw the button with its key."""
        painter = QStylePainter(self)
        option = QStyleOptionButton()
        self.initStyleOption(option)
        text, option.text = option.text, ""
        painter.drawControl(QStyle.ControlElement.CE_PushButton, option)
        shown, font, metrics, width = self._cap()
        area = self.rect().adjusted(7, 0, -5, 0)
        colour = option.palette.buttonText().color()
        painter.setPen(colour)
        room = area.adjusted(0, 0, -width, 0)
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft,
                         self.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, room.width()))
        if shown:
            painter.setFont(font)
            cap = area.adjusted(area.width() - width + 2, (area.height() - metrics.height()) // 2 - 1, 0,
                                -((area.height() - metrics.height()) // 2) + 1)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setOpacity(0.75)
            painter.drawRoundedRect(QRectF(cap).adjusted(0.5, 0.5, -0.5, -0.5), 3, 3)
            painter.setOpacity(1)
            painter.drawText(cap, Qt.AlignmentFlag.AlignCenter, shown)

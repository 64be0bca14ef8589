"""Qt's own messages, which go to the log instead of the terminal."""

from __future__ import annotations

import logging

from PySide6.QtCore import QMessageLogContext, QtMsgType, qInstallMessageHandler

_LEVELS = {QtMsgType.QtDebugMsg: logging.DEBUG, QtMsgType.QtInfoMsg: logging.INFO,
           QtMsgType.QtWarningMsg: logging.WARNING, QtMsgType.QtCriticalMsg: logging.ERROR,
           QtMsgType.QtFatalMsg: logging.CRITICAL}
_names: dict[str, logging.Logger] = {}


def log_qt_messages() -> None:
    """Send what Qt says to the logger of its category, under ``qt``."""
    qInstallMessageHandler(_log)


def _log(kind: QtMsgType, context: QMessageLogContext, message: str) -> None:
    category = (context.category or "default").replace(" ", "_")
    name = category if category.startswith("qt.") else f"qt.{category}"
    _names.setdefault(name, logging.getLogger(name)).log(_LEVELS.get(kind, logging.WARNING), "%s", message)

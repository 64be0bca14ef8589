"""Asks for files and folders in windows that stay out of the way: the film plays on beside them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QWidget


def ask_to_save(parent: QWidget, title: str, path: Path, take: Callable[[Path], object], forms: str = "") -> None:
    """Ask where a file goes; *path* is proposed, its suffix added to a name that has none. *take* gets the answer."""
    dialog = QFileDialog(parent, title, str(path), forms)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setDefaultSuffix(path.suffix[1:])
    _open(dialog, take)


def ask_for_file(parent: QWidget, title: str, folder: str, forms: str, take: Callable[[Path], object]) -> None:
    """Ask for a file that is there; *take* gets it."""
    dialog = QFileDialog(parent, title, folder, forms)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    _open(dialog, take)


def ask_for_files(parent: QWidget, title: str, folder: str, take: Callable[[list[Path]], object],
                  forms: str = "") -> None:
    """Ask for files that are there; *take* gets them."""
    dialog = QFileDialog(parent, title, folder, forms)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFiles)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.filesSelected.connect(lambda paths: take([Path(path) for path in paths]))
    dialog.open()


def ask_for_folder(parent: QWidget, title: str, folder: str, take: Callable[[Path], object]) -> None:
    """Ask for a folder; *take* gets it."""
    dialog = QFileDialog(parent, title, folder)
    dialog.setFileMode(QFileDialog.FileMode.Directory)
    dialog.setOption(QFileDialog.Option.ShowDirsOnly)
    _open(dialog, take)


def _open(dialog: QFileDialog, take: Callable[[Path], object]) -> None:
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.fileSelected.connect(lambda path: take(Path(path)))
    dialog.open()

"""Checks a pack that was handed on: nothing in it may have been altered since."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

from .asking import ask_for_file
from .jobs import Progress
from .room import Desk
from .speech import first_few
from .widgets import MessageBar

if TYPE_CHECKING:
    from ..delivery.verifying import Verified

_NAMED = 4      # files named where many were changed


class PackChecker(QObject):
    """Asks which pack, checks it in a job, and says in the message bar what came of it."""

    def __init__(self, desk: Desk, message: MessageBar, window: QWidget):
        super().__init__(window)
        self._desk, self._message, self._window = desk, message, window

    def choose(self, folder: str) -> None:
        """Ask for a pack, a ZIP file or the manifest in its folder, and check it."""
        ask_for_file(self._window, "Check a pack: choose its manifest.json, or its ZIP file", folder,
                     "Packs (manifest.json *.zip)", self.check)

    def check(self, path: Path) -> None:
        """Check the pack that is, or holds, *path*."""
        pack = path if path.is_dir() or path.suffix.lower() == ".zip" else path.parent

        def work(progress: Progress) -> tuple[Verified, str]:
            from ..delivery.verifying import manifest_digest, verify_pack
            return verify_pack(pack), manifest_digest(pack)

        self._desk.jobs.start(f"Checking {pack.name}", work, succeeded=lambda found: self._tell(pack, *found),
                              failed=lambda why: self._message.fail(f"Not checked: {why}", "Choose another pack."))

    def _tell(self, pack: Path, verified: Verified, digest: str) -> None:
        from ..visible import visible
        about = f"{visible(verified.title)}, made {visible(verified.made)}"
        if verified.whole:
            self._message.tell(f"{about}: all {len(verified.intact)} files of {pack.name} are as they were.\n"
                               f"Compare the digest of its manifest with the one its maker tells you: {digest}")
            return
        said = [f"{word}: {first_few([visible(name) for name in names], _NAMED)}"
                for word, names in (("altered", verified.altered), ("missing", verified.missing),
                                    ("added", verified.added)) if names]
        self._message.fail(f"{about}: {pack.name} was changed since.", "; ".join(said))

"""The crew's own words for remarks on the filming, and for praise: two lists to edit, one word on a line."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPlainTextEdit

from ...coverage.profile import ProfileError, load_profile
from ...coverage.profile_words import listed_words, read_words, save_words
from ..widgets import FormPage, in_column, in_row, label, push_button


class CrewWords(FormPage):
    """Edits the words of a crew profile. ``kept`` carries the profile that has them now; ``closed`` follows, and is
    also sent when they are left as they were."""

    kept = Signal(str)

    def __init__(self):
        super().__init__()
        self._profile, self._crew = "", ""
        self.remarks, self.praise = self._list("Words for remarks"), self._list("Words of praise")
        self.wrong = label("", "body", "bad", wrap=True)
        in_column(label("Words for what is to mend, one on a line; what to do about it behind a colon", wrap=True),
                  (self.remarks, 2), label("Words of praise, one on a line"), (self.praise, 1), self.wrong,
                  in_row(push_button("Keep the words", self.keep),
                         push_button("Leave the words as they were", self.closed.emit), 1), on=self, margins=0)

    @staticmethod
    def _list(name: str) -> QPlainTextEdit:
        edit = QPlainTextEdit()
        edit.setAccessibleName(name)
        edit.setTabChangesFocus(True)
        edit.setMinimumHeight(90)
        return edit

    def show_words(self, profile: str, crew: str) -> None:
        """Edit the words of *profile*, a name or a path, for the crew of that name."""
        self._profile, self._crew = profile, crew
        self.wrong.setText("")
        try:
            found = load_profile(profile)
        except ProfileError as error:
            self.wrong.setText(str(error))
            return
        self.remarks.setPlainText(listed_words(found.remarks))
        self.praise.setPlainText("\n".join(found.praise))
        self.remarks.setFocus()

    def keep(self) -> None:
        """Store the words in the crew's profile, or show what is wrong with them."""
        try:
            praise = read_words(self.praise.toPlainText())
            if any(praise.values()):
                raise ProfileError("a word of praise has no advice; take out the colon and what follows")
            name = save_words(self._profile, read_words(self.remarks.toPlainText()), tuple(praise), self._crew)
        except (OSError, ValueError) as error:
            self.wrong.setText(f"Not kept: {error}")
            return
        self.kept.emit(name)
        self.closed.emit()

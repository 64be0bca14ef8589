"""The page on which the film of a further camera is added to the open game."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QFormLayout

from ..coverage.profile import ProfileError, load_profile, profile_names
from ..tagging.angles import named_place
from ..tagging.model import Angle, CameraPlace
from .asking import ask_for_files, ask_for_folder
from .session import Session
from .session_holder import SessionHolder
from .speech import first_few
from .widgets import Field, FormPage, choice, in_column, in_row, label, named, push_button, say


class AnglePage(SessionHolder, FormPage):
    """Asks which files, where the camera stood, what the angle is called and who filmed it. ``added`` carries the paths
    and the angle; ``closed`` is sent when the person is through with it."""

    added = Signal(object, object)

    def __init__(self):
        super().__init__()
        self.setObjectName("ground")
        self.setAccessibleName("Add another camera's film")
        self._paths: list[Path] = []
        self._own_name = False
        self.files = label("", "body", wrap=True)
        self.folder_button = push_button("A folder…", lambda: ask_for_folder(
            self, "The other camera's folder", self._begin_in(), lambda path: self.take_paths([path])))
        self.files_button = push_button("Files…", lambda: ask_for_files(
            self, "The other camera's files", self._begin_in(), self.take_paths))
        self.place = choice("Where the camera stood", [(place.value.capitalize(), place) for place in CameraPlace],
                            parent=self)
        self.place.currentIndexChanged.connect(self._name_it)
        self.name = Field(name="What the angle is called", act=self.add)
        self.crew = Field(name="Who filmed it", hint="Name of the crew or the person", act=self.add)
        self.name.textEdited.connect(self._named)
        self.profile = named(QComboBox(self), "Crew profile: what the crew expects of its film")
        for name in profile_names():
            try:
                self.profile.addItem(load_profile(name).title, name)
            except ProfileError:
                continue
        self.wrong = label("", "body", "bad", wrap=True)
        self.add_button = push_button("Add and match", self.add, role="main")
        form = QFormLayout()
        form.setVerticalSpacing(8)
        form.addRow("Its film", in_row(self.folder_button, self.files_button, 1))
        for words, widget in (("", self.files), ("Camera", self.place), ("Called", self.name),
                              ("Filmed by", self.crew), ("Crew profile", self.profile)):
            form.addRow(words, widget)
        column = in_column(
            label("Add another camera's film", "title"),
            label("The plays stay as they are tagged. The further film is matched with them play by play, by what both "
                  "cameras heard and by their clocks; what is not sure is left open.", "body", wrap=True),
            form, self.wrong, in_row(self.add_button, push_button("Leave", self.closed.emit), 1), 1)
        in_row((column, 3), 1, on=self, margins=(18, 14, 18, 14))

    def show_session(self, session: Session | None) -> None:
        """Ask anew, for the game of *session*; None forgets it."""
        self._session = session
        if session is None:
            return
        self._own_name = False
        self.take_paths([])
        self.place.setCurrentIndex(self.place.findData(CameraPlace.END_ZONE))
        self._name_it()
        self.crew.clear()
        self.profile.setCurrentIndex(max(self.profile.findData(session.game.heading.profile), 0))
        self.wrong.setText("")

    def showEvent(self, event) -> None:
        """Ask for the files first."""
        super().showEvent(event)
        (self.name if self._paths else self.folder_button).setFocus()

    def take_paths(self, paths: list[Path]) -> None:
        """Take the film of these files or folders."""
        self._paths = paths
        say(self.files, first_few([str(path) for path in paths], 3) or "Nothing chosen yet.", "" if paths else "quiet")
        if paths:
            self.wrong.setText("")

    def _begin_in(self) -> str:
        return str(self.session.file.path.parent)

    def _named(self, text: str) -> None:
        self._own_name = bool(text.strip())

    def _name_it(self, *_: object) -> None:
        if not self._own_name:
            self.name.setText(named_place(CameraPlace(self.place.currentData())))

    def add(self) -> None:
        """Send what was filled in, or say what is missing."""
        name = self.name.text().strip()
        taken = [self.session.name_of(number).casefold() for number in self.session.numbers]
        if not self._paths:
            self.wrong.setText("Choose the folder or the files of the other camera first.")
        elif not name:
            self.wrong.setText("Give the angle a name.")
        elif name.casefold() in taken:
            self.wrong.setText(f"An angle of this game is called {name} already. Give this one another name.")
        else:
            self.added.emit(self._paths, Angle(0, name, CameraPlace(self.place.currentData()),
                                               self.crew.text().strip(), str(self.profile.currentData() or "default")))

"""What is known about the game as a whole: teams, date, rules, crew."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLineEdit, QVBoxLayout

from ...coverage.policy import load_policy, policy_names
from ...coverage.profile import ProfileError, load_profile, profile_names
from ...football.rulebook import load_rulebook, rulebook_names
from ...tagging.model import CameraPlace, Heading
from ...tagging.operations import SetHeading
from ..asking import ask_for_file
from ..session import Session
from ..session_holder import SessionHolder
from ..widgets import FormPage, choice, in_column, in_row, label, named, push_button
from .crew_words import CrewWords

_TEAMS = (("visitors", "Visitors"), ("home", "Home"))
_FIRST = (("date", "Date, year-month-day"), ("crew", "Filmed by"))      # what a new game is asked for too
_LATER = (("title", "Title"), ("venue", "Place"), ("level", "Level"))


def _told(session: Session) -> str:
    """Of what a new film was made, in which order, and where the game is kept."""
    names = [source.path.name for source in session.film.sources]
    listed = ", then ".join(names) if len(names) < 4 else f"{names[0]}, then {names[1]}, up to {names[-1]}"
    files = f"{len(names)} files are one film now: {listed}. F7 shows them all and changes their order." \
        if len(names) > 1 else f"The film is {listed}." if names else ""
    return f"{files} All is kept in {session.file.path}, at once.".strip()


class HeadingForm(SessionHolder, FormPage):
    """Edits the heading of the open game; ``closed`` is sent when it is kept or left."""

    search_wanted = Signal()        # the film of a new game is to be looked through

    def __init__(self):
        super().__init__()
        self.setObjectName("panel")
        form = self._form = QFormLayout()
        self.fields: dict[str, QLineEdit] = {}
        self._add_fields(_TEAMS)
        self.rulebook = QComboBox()
        self.rulebook.setAccessibleName("Rules")
        for name in rulebook_names():
            self.rulebook.addItem(load_rulebook(name).title, name)
        form.addRow("Rules", self.rulebook)
        self.season = self._line("Season of the rules")
        self.season.setPlaceholderText("the newest")
        form.addRow("Season", self.season)
        self._add_fields((*_FIRST, *_LATER))
        self.profile = named(QComboBox(self), "Crew profile: what the crew expects of its film")
        self.profile.setToolTip("What the crew expects of its film; the findings follow from it")
        self.profile_file = push_button("From a file…", self._choose_profile, "Take a crew profile from a file")
        self.words_button = push_button("Words…", self._edit_words, "Edit the crew's words for remarks and praise")
        beside = in_row((self.profile, 1), self.profile_file, self.words_button)
        form.addRow("Crew profile", beside)
        self.words = CrewWords()
        self.words.kept.connect(self._take_words)
        self.words.closed.connect(self._close_words)
        self.words.hide()
        form.addRow(self.words)
        self.angle = self._line("What this angle is called")
        self.place = choice("Where this angle's camera stood",
                            [(place.value.capitalize(), place) for place in CameraPlace], parent=self)
        form.addRow("This angle", self.angle)
        form.addRow("Its camera", self.place)
        self.policies: dict[str, QCheckBox] = {}
        held_to = QVBoxLayout()
        for name in policy_names():
            tick = QCheckBox()
            try:
                policy = load_policy(name)
                tick.setText(policy.short)
                tick.setToolTip(f"{policy.title}. {policy.source}")
            except ProfileError as error:
                tick.setText(f"{name} (cannot be used)")
                tick.setToolTip(str(error))
            self.policies[name] = tick
            held_to.addWidget(tick)
        form.addRow("Held to", held_to)
        for box in (self.rulebook, self.profile):       # a long title is shortened, the form keeps its columns
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            box.setMinimumContentsLength(6)
        self.more = push_button("More…", lambda: self._show_rest(True),
                                "Show everything else that can be said of the game")
        self._rest: tuple[Any, ...] = (self.season, *(self.fields[name] for name, _ in _LATER), beside, held_to)
        self.wrong = label("", "body", "bad", wrap=True)
        self.title = label("The game", "title")
        self.asks = label("Who plays, and by which rules? The situation before every play follows from it.", "body",
                          wrap=True)
        # the button above, where it is in sight on a low screen too
        top = in_row((self.title, 1), push_button("Keep", self.keep, role="main"))
        self.search = QCheckBox("Look through the film for shots and moments now")
        self.search.setToolTip("Found shots come with their kinds, snaps and whistles: find them before you take or "
                               "begin any yourself. It takes about a fifteenth of the film's length, beside your work.")
        self.told = label("", "body", "quiet", wrap=True)
        in_column(top, self.asks, self.search, form, self.wrong,
                  in_row(push_button("Leave as it was", self.closed.emit), self.more, 1), self.told, 1, on=self)

    def _line(self, name: str) -> QLineEdit:
        line = QLineEdit()
        line.setAccessibleName(name)
        line.returnPressed.connect(self.keep)
        return line

    def _add_fields(self, rows: tuple[tuple[str, str], ...]) -> None:
        for name, text in rows:
            self.fields[name] = self._line(text)
            self._form.addRow(text, self.fields[name])

    def resizeEvent(self, event) -> None:
        """Put labels above the fields where the form is narrow."""
        narrow = self.width() < 45 * self.fontMetrics().averageCharWidth()
        self._form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapAllRows if narrow
                                    else QFormLayout.RowWrapPolicy.WrapLongRows)

    def show_session(self, session: Session | None, is_new: bool = False) -> None:
        """Fill the form; of a game that *is_new* it asks what has to be known first."""
        super().show_session(session)
        session = self.session
        self.title.setText("A new game" if is_new else "The game")
        self.asks.setVisible(is_new)
        self.told.setText(_told(session))
        self.told.setVisible(is_new)
        self.search.setVisible(is_new)
        self.search.setChecked(is_new)
        self._show_rest(not is_new)
        heading = session.game.heading
        for name, edit in self.fields.items():
            edit.setText(getattr(heading, name))
        self.rulebook.setCurrentIndex(max(self.rulebook.findData(heading.rulebook), 0))
        self.season.setText("" if heading.season is None else str(heading.season))
        self.profile.clear()
        for name in profile_names():
            self.take_profile(name)
        self.take_profile(heading.profile)
        self.angle.setText(heading.angle)
        self.place.setCurrentIndex(self.place.findData(heading.place))
        for of_angle in (self.angle, self.place):
            self._form.setRowVisible(of_angle, bool(session.whole.angles))
        self.words.hide()
        for name, tick in self.policies.items():
            tick.setChecked(name in heading.policies)
        self.wrong.setText("")
        self.fields["visitors"].setFocus()
        self.fields["visitors"].selectAll()

    def _show_rest(self, is_shown: bool) -> None:
        """Show what of a new game can wait, or leave it out."""
        for row in self._rest:
            self._form.setRowVisible(row, is_shown)
        self.more.setVisible(not is_shown)

    def take_profile(self, profile: str) -> None:
        """Offer a profile, a name or the path of a file, and choose it. One that cannot be used is offered by its
        name, and refused with the reason when it is to be kept."""
        if self.profile.findData(profile) < 0:
            try:
                title = load_profile(profile).title
            except ProfileError:
                title = f"{Path(profile).name} (cannot be used)"
            self.profile.addItem(title, profile)
            self.profile.setItemData(self.profile.count() - 1, profile, Qt.ItemDataRole.ToolTipRole)
        self.profile.setCurrentIndex(self.profile.findData(profile))

    def _edit_words(self) -> None:
        self.words.show()
        self.words.show_words(self.profile.currentData(), self.fields["crew"].text().strip())

    def _close_words(self) -> None:
        self.words.hide()
        self.words_button.setFocus()

    def _take_words(self, profile: str) -> None:
        """Choose the profile that has the words; one that the game has already is read anew."""
        self.take_profile(profile)
        if profile == self.session.game.heading.profile:
            self.session.check_again()

    def _choose_profile(self) -> None:
        ask_for_file(self, "Take a crew profile", str(self.session.file.path.parent), "Crew profiles (*.toml)",
                     lambda path: self.take_profile(str(path)))

    def heading(self) -> Heading:
        """The heading as filled in. Raises ValueError that says which field is wrong and how to mend it."""
        said = {name: field.text().strip() for name, field in self.fields.items()}
        if not said["home"] or not said["visitors"]:
            raise ValueError("Both teams need a name.")
        if said["home"] == said["visitors"]:
            raise ValueError("The two teams need different names.")
        if said["date"]:
            try:
                date.fromisoformat(said["date"])
            except ValueError:
                raise ValueError(f"{said['date']} is no date; write it like 2026-09-04.") from None
        season = self.season.text().strip()
        if season and not season.isdecimal():
            raise ValueError(f"{season} is no season; write a year like 2026, or leave it empty for the newest.")
        texts: dict[str, Any] = dict(said)
        lost = tuple(name for name in self.session.game.heading.policies if name not in self.policies)
        policies = (*lost, *(name for name, tick in self.policies.items() if tick.isChecked()))
        heading = replace(self.session.game.heading, **texts, rulebook=self.rulebook.currentData(),
                          profile=self.profile.currentData(), season=int(season) if season else None,
                          policies=policies, angle=self.angle.text().strip() or self.session.game.heading.angle,
                          place=CameraPlace(self.place.currentData()))
        load_rulebook(heading.rulebook, heading.season)
        if heading.profile != self.session.game.heading.profile:       # one that was lost need not stop the rest
            load_profile(heading.profile)
        return heading

    def keep(self) -> None:
        """Store the heading, or show what is wrong with it."""
        try:
            heading = self.heading()
        except ValueError as error:
            self.wrong.setText(str(error))
            return
        if heading == self.session.game.heading or self.session.do(SetHeading(heading)) is not None:
            self.closed.emit()
            if self.search.isChecked():
                self.search.setChecked(False)
                self.search_wanted.emit()

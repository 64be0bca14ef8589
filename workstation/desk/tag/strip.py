"""The strip under the picture: where we are, the speed, the shot at hand, a button for every moment and its key."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QBoxLayout, QMenu, QPushButton, QSizePolicy, QWidget

from ...film.time import spoken_time
from ...tagging.model import MomentKind, Shot
from ...tagging.suggestions import FilmSuggestions, Offer
from ..actions import MARKS, moment_action
from ..keys import KeyButton, KeyMap
from ..session import Session
from ..widgets import Wrapping, flow, in_column, in_row, label

_SHORT = {MomentKind.CONFRONTATION_OVER: "Over", MomentKind.RESULT_SHOWN: "Result",
          MomentKind.CARE: "Care given"}      # on their buttons
_FOLDED = (MomentKind.SNAP_NOT_ON_FILM, MomentKind.CUT_WHILE_LIVE, MomentKind.BALL_LOST, MomentKind.NOT_ALL_IN_FRAME,
           MomentKind.ZOOM_NOT_SETTLED)
_PAGES = {"tag.find": "Find", "tag.situation": "Set", "tag.heading": "Game", "tag.sheet": "Sheet"}


def _listed(offer: Offer) -> str:
    """The parts of an offer in words, each kind once."""
    return ", ".join(dict.fromkeys(part.kind.value for part in offer.parts)) or "this shot as it was found"


class Strip(Wrapping):
    """Built part by part: call :meth:`building` to its end before it is shown."""

    def __init__(self, keys: KeyMap, parent: QWidget):
        super().__init__(parent)
        self.setObjectName("panel")
        self._keys = keys
        self.marks: dict[MomentKind, KeyButton] = {}

    def building(self, toggle: Callable[[], object], take: Callable[[], object], mark: Callable[[MomentKind], object],
                 pages: Mapping[str, Callable[[], object]]) -> Iterator[None]:
        """Make what is on it. *pages* are what Find, Set, Game and Sheet do, by the ids of their actions."""
        keys = self._keys
        row = in_row(spacing=8)
        beside, at_end = flow(8, self)
        self._lines = in_row((row, 1), beside, spacing=4)
        holder, moments = flow(3, self)
        in_column(self._lines, holder, on=self, margins=(12, 5, 12, 3), spacing=4)

        self.play_button = KeyButton(keys, "tag.toggle", "Play", self, toggle)
        self.clock = label("", "body", parent=self)
        self.clock.setAccessibleName("Place in the film")
        self.rate = label("", "body", "quiet", parent=self)
        self.shot_label = label("", "body", "quiet", elide=True, parent=self)
        self.shot_label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.take_button = self._button("tag.take", "Take", self, take)
        self.take_button.hide()
        for widget, stretch in ((self.play_button, 0), (self.clock, 0), (self.rate, 0), (self.take_button, 0),
                                (self.shot_label, 1)):
            row.addWidget(widget, stretch)
        for id, text in _PAGES.items():
            at_end.addWidget(self._button(id, text, beside, pages[id]))
        self.yards = self._button("desk.yards", "Yards", beside, lambda: keys.act("desk.yards"))
        self.yards.hide()
        at_end.addWidget(self.yards)
        yield
        for kind in MARKS:
            button = self._button(moment_action(kind), _SHORT.get(kind, kind.value.capitalize()), holder,
                                  partial(mark, kind))
            moments.addWidget(button)
            self.marks[kind] = button
        self._more = QPushButton("More marks ▾", holder)
        self._more.setProperty("role", "mark")
        self._more.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        menu = QMenu(self._more)
        for kind in _FOLDED:
            entry = menu.addAction(f"{kind.value.capitalize()}\t{keys.shown(moment_action(kind))}")
            entry.triggered.connect(lambda _=False, kind=kind: mark(kind))
        self._more.setMenu(menu)
        self._more.hide()
        moments.addWidget(self._more)

    def fold(self, is_low: bool) -> None:
        """On a low screen the marks about the filming itself are in a menu; their keys act as ever."""
        if self._more.isVisibleTo(self) != is_low:
            self._more.setVisible(is_low)
            for kind in _FOLDED:
                self.marks[kind].setVisible(not is_low)

    def flash(self, kind: MomentKind) -> None:
        """Let the button of a moment that was just marked look pressed for a blink."""
        button = self.marks[kind]
        button.setDown(True)
        QTimer.singleShot(180, button, lambda: button.setDown(False))

    def show_dispute(self, is_disputed: bool) -> None:
        """Offer to measure yards in the picture where what is said of a play contradicts itself."""
        if self.yards.isVisibleTo(self) != is_disputed:
            self.yards.setVisible(is_disputed)

    def show_playing(self, playing: bool) -> None:
        """Show what the button does next."""
        self.play_button.setText("Pause" if playing else "Play")

    def show_time(self, seconds: float | None) -> None:
        """Show the place in the film; nothing for None."""
        self.clock.setText("" if seconds is None else spoken_time(seconds, tenths=True))

    def show_rate(self, rate: float) -> None:
        """Show the speed, nothing at real time."""
        self.rate.setText("" if rate == 1 else f"×{rate:g}")

    def show_shot(self, session: Session, shot: Shot | None, suggestions: FilmSuggestions, is_looking: bool,
                  is_typed: bool) -> None:
        """Say which shot is at hand, and what one key would take of what was found there: *is_typed* says that it would
        keep a play with it, *is_looking* that the film is being looked through."""
        game, key = session.game, self._keys.shown
        if shot is None:
            files, found, takes = len(session.film.sources), suggestions.shots(game), ""
            if found is not None:
                text, takes = "no shots yet; these were found", f"Take the {len(found.shots)} shots"
            elif is_looking and not game.shots:
                text = "no shots yet – plays that you type now are put to them in order"
            elif files > 1 and not game.shots:
                text, takes = f"no shots yet – {key('tag.find')} finds them", f"Take the {files} files as shots"
            elif files and not game.shots:
                text = f"no shots yet – {key('tag.find')} looks for them, {key('tag.new_shot')} begins one"
            else:
                text = "no shot here" if files else ""
            self.shot_label.setText(text)
            self._offer(takes)
            return
        number = next(place for place, each in enumerate(game.shots, 1) if each.id == shot.id)
        kind = shot.kind.value if shot.kind else "kind not said"
        suggested = suggestions.offer(game, shot)
        is_all = suggested is not None and [part.kind for part in suggested.parts] == [shot.kind]
        offer = "" if suggested is None else " (suggested)" if is_all else f" – suggested: {_listed(suggested)}"
        self._offer("" if suggested is None else "Keep and take" if is_typed else "Take")
        opens = f"{shot.opens_on.value} → " if shot.opens_on else ""
        self.shot_label.setText(f"shot {number} of {len(game.shots)}: {opens}{kind}{offer}")

    def show_no_shot(self) -> None:
        """Say that the play at hand is one that no shot films."""
        self.shot_label.setText("a play that no shot films")
        self._offer("")

    def _offer(self, text: str) -> None:
        """Let the button take what is suggested, in these words; without any there is nothing to take."""
        if text:
            self.take_button.setText(text)
        self.take_button.setVisible(bool(text))

    def _button(self, id: str, text: str, parent: QWidget, act: Callable[[], object]) -> KeyButton:
        return KeyButton(self._keys, id, text, parent, act, role="mark")

    def narrow(self, narrow: bool) -> None:
        """Where there is little room the buttons take a line more."""
        self._lines.setDirection(QBoxLayout.Direction.TopToBottom if narrow else QBoxLayout.Direction.LeftToRight)

"""What stands in the entry line, and what each key does about it. No Qt: the room draws this and forwards keys.

One of four things stands in the line (:class:`Standing`). Enter, Esc, the arrows, Space and undo mean something else in
each; :data:`KEYS` says who takes a key that both the line and the room could use.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum, auto

_CLOCK = re.compile(r"(?<= )([0-9]|1[0-9](?=[0-5]))([0-5][0-9])$")
_LONGER = re.compile(r"(?<= )([0-9]):([0-9])([0-9])([0-9])$")
_YARDS = range(100, 110)        # three digits that may still be yards, where no number stands before them


def with_colon(text: str) -> str:
    """*text* with the colon of a game clock that was typed without it at its end, behind other words: ``r4 251`` is
    ``r4 2:51``, and ``r4 1:15`` with one more digit ``r4 11:52``. Digits that may be yards stay as they are."""
    if longer := _LONGER.search(text):
        one, two, three, four = longer.groups()
        return f"{text[:longer.start()]}{one}{two}:{three}{four}" if one == "1" and three < "6" else text
    clock = _CLOCK.search(text)
    if clock is None or text.count('"') % 2:
        return text
    if clock.group()[0] != "0" and int(clock.group()) in _YARDS and not text[:clock.start()].rstrip()[-1:].isdigit():
        return text
    return f"{text[:clock.start(2)]}:{clock.group(2)}"


class Standing(Enum):
    """What stands in the line."""

    NOTHING = auto()    # it is empty
    KEPT = auto()       # a play of the game as it is kept, all of it selected: the next letter begins another
    OPENED = auto()     # a play as it is kept, with the cursor in it: the next letter changes it
    TYPED = auto()      # something that the game does not have yet


class Taker(Enum):
    """Who takes a key."""

    ROOM = auto()
    LINE = auto()


ROOM, LINE = Taker

# By action and key: who takes it while NOTHING, KEPT, OPENED, TYPED stands in the line. A key that is not here is
# the room's, whatever stands there; so is any other key that a person gives to one of these actions.
KEYS: dict[tuple[str, str], tuple[Taker, Taker, Taker, Taker]] = {
    ("tag.toggle", "Space"): (ROOM, ROOM, LINE, LINE),
    ("tag.frame_back", "Left"): (ROOM, LINE, LINE, LINE),
    ("tag.frame_ahead", "Right"): (ROOM, LINE, LINE, LINE),
    ("tag.second_back", "Shift+Left"): (ROOM, ROOM, LINE, LINE),
    ("tag.second_ahead", "Shift+Right"): (ROOM, ROOM, LINE, LINE),
    ("tag.back", "Ctrl+Left"): (ROOM, LINE, LINE, LINE),
    ("tag.ahead", "Ctrl+Right"): (ROOM, LINE, LINE, LINE),
    ("tag.to_snap", "Home"): (ROOM, LINE, LINE, LINE),
    ("tag.remove_moment", "Ctrl+Backspace"): (ROOM, LINE, LINE, LINE),
    ("tag.remove_play", "Ctrl+Delete"): (ROOM, LINE, LINE, LINE),
}
# These are asked whatever keys they have: what was typed is taken back letter by letter before the game is.
ACTIONS: dict[str, tuple[Taker, Taker, Taker, Taker]] = {
    "desk.undo": (ROOM, ROOM, ROOM, LINE),
    "desk.redo": (ROOM, ROOM, ROOM, LINE),
}


class Enter(Enum):
    """What Enter does."""

    NOTHING = auto()
    NEXT_SHOT = auto()      # there is nothing to keep: on to the next shot that may show a play
    POINT_OUT = auto()      # select the part that is not understood
    WARN = auto()           # say what the rules have against it; Enter again keeps it
    KEEP = auto()


class Escape(Enum):
    """What Esc does."""

    LEAVE_PAGE = auto()     # the page beside or in place of the film
    CLEAR = auto()          # a new play that is being typed
    TO_FILM = auto()        # back to the play that the film shows, as it is kept


class Then(Enum):
    """Where it goes on once a play was kept."""

    STAY = auto()
    NEXT_PLAY = auto()
    NEXT_SHOT = auto()


@dataclass
class EntryState:
    """The play at hand and the line.

    ``row`` is the play's place in the game; ``plays``, how many there are, means the one to come. ``is_between`` says
    that a new play comes in before ``row``; ``is_inserted``, that it was asked for there: no shot films it, and the
    film does not choose another.
    """

    plays: int = 0
    row: int = 0
    is_between: bool = False
    is_inserted: bool = False
    text: str = ""
    is_selected: bool = False       # all of the text
    _shown: str = ""                # what was put into the line, not typed
    _warned: str = ""               # the text that was warned about

    @property
    def is_new(self) -> bool:
        """What is typed becomes a new play."""
        return self.is_between or self.row >= self.plays

    @property
    def is_dirty(self) -> bool:
        """The person has typed something that is not kept."""
        return bool(self.text.strip()) and self.text != self._shown

    @property
    def is_warned(self) -> bool:
        """The text was warned about as it is: Enter keeps it."""
        return bool(self._warned) and self.text == self._warned

    @property
    def standing(self) -> Standing:
        """What stands in the line: nothing, a new play or a change."""
        if not self.text:
            return Standing.NOTHING
        if self.text != self._shown:
            return Standing.TYPED
        return Standing.KEPT if self.is_selected else Standing.OPENED

    @property
    def draft(self) -> str:
        """What is being typed as the play to come, to be there again after a crash."""
        return self.text if self.is_dirty and self.row == self.plays else ""

    # -- what happens ---------------------------------------------------------------------------
    def take(self, row: int, *, is_between: bool = False, is_inserted: bool = False) -> None:
        """Take the play at *row* in hand; what was typed about another is given up."""
        self.row, self.is_between, self.is_inserted = row, is_between, is_inserted
        self.give_up()

    def show(self, text: str) -> None:
        """*text* is put into the line, all of it selected."""
        self.text = self._shown = text
        self.is_selected = bool(text)

    def type(self, text: str) -> None:
        """The person has changed the line to *text*."""
        self.text, self.is_selected = text, False

    def give_up(self) -> None:
        """What was typed counts no more; the line is about to show something else."""
        self._shown, self._warned = self.text, ""

    def game_changed(self, plays: int) -> None:
        """Take in the game's new number of plays and stay within it."""
        self.plays = plays
        self.row = min(self.row, plays)

    # -- what keys do -----------------------------------------------------------------------------
    def taker(self, action: str, key: str) -> Taker:
        """Who takes *key*, which *action* of the room has."""
        row = ACTIONS.get(action) or KEYS.get((action, key))
        return ROOM if row is None else row[list(Standing).index(self.standing)]

    def neighbour(self, by: int) -> int:
        """The row that an arrow goes to: *by* further on, never out of the game."""
        return min(max(self.row + by, 0), self.plays)

    def enter(self, *, is_play: bool, is_doubtful: bool, stay: bool = False) -> Enter:
        """What Enter does with the text, which *is_play* if all of it was understood, and *is_doubtful* if the rules
        have something against it. With *stay*, as Shift+Enter does it."""
        if not self.text.strip():
            return Enter.NOTHING if stay else Enter.NEXT_SHOT
        if not is_play:
            return Enter.POINT_OUT
        if is_doubtful and not self.is_warned:
            self._warned = self.text
            return Enter.WARN
        self._warned = ""
        return Enter.KEEP

    def kept(self, stay: bool = False) -> Then:
        """The text was kept as the play at hand; where it goes on."""
        was_new, was_inserted = self.is_new, self.is_inserted
        self.is_between = False
        self.give_up()
        if stay:
            return Then.STAY
        return Then.NEXT_SHOT if was_new and not was_inserted else Then.NEXT_PLAY

    def escape(self, is_page_open: bool) -> Escape:
        """Return what Esc does now."""
        if is_page_open:
            return Escape.LEAVE_PAGE
        return Escape.CLEAR if self.text and self.is_new else Escape.TO_FILM

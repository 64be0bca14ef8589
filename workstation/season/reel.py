"""The sequence that is put together over several games: plays in order, without a screen."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

PlayKey = tuple[Path, int]
"""A game's file and the id of a play in it."""


@dataclass
class Reel:
    """Plays in the order in which they are shown; each is in it once. ``place`` is the chosen one, -1 for none."""

    plays: list[PlayKey] = field(default_factory=list)
    place: int = -1

    def add(self, plays: Iterable[PlayKey]) -> int:
        """Append plays that are not in it yet; returns how many were appended."""
        new = [play for play in dict.fromkeys(plays) if play not in self.plays]
        self.plays += new
        if new and self.place < 0:
            self.place = 0
        return len(new)

    def remove(self) -> None:
        """Remove the chosen play and choose the one after it."""
        if 0 <= self.place < len(self.plays):
            del self.plays[self.place]
            self.place = min(self.place, len(self.plays) - 1)

    def move(self, by: int) -> None:
        """Move the chosen play by so many places, as far as there are any."""
        to = self.place + by
        if 0 <= self.place < len(self.plays) and 0 <= to < len(self.plays):
            self.plays.insert(to, self.plays.pop(self.place))
            self.place = to

    def choose(self, place: int) -> None:
        """Choose the play at *place*."""
        self.place = place if 0 <= place < len(self.plays) else -1

    def clear(self) -> None:
        """Remove all plays."""
        self.plays.clear()
        self.place = -1

    def as_text(self) -> str:
        """The plays as text that :meth:`of_text` reads."""
        return json.dumps([[str(path), play] for path, play in self.plays])

    @classmethod
    def of_text(cls, text: str) -> Reel:
        """The reel that :meth:`as_text` wrote; an empty one for any other text."""
        try:
            plays = [(Path(str(path)), int(play)) for path, play in json.loads(text)]
        except (ValueError, TypeError):
            return cls()
        return cls(plays, 0 if plays else -1)

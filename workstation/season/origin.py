"""Where a play of several joined games comes from."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from ..football.rulebook import Rulebook
from ..tagging.model import Heading


@dataclass(frozen=True)
class Origin:
    """Which play of which game one of a joined game is. ``number`` is its place in its game, from 1."""

    path: Path
    heading: Heading
    play: int
    number: int
    rulebook: Rulebook

    @property
    def spoken_game(self) -> str:
        """What the game is called where its teams stand beside it: its date, else its title, else its file."""
        return self.heading.date or self.heading.title or self.path.stem

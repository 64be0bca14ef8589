"""What a lane of the timeline is."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from PySide6.QtGui import QPainter

from ....coverage.coverage import Coverage
from ....film.film import Film
from ....film.time import Instant
from ....football.step import Step
from ....tagging.layout import FilmLayout
from ....tagging.model import Game, MomentKind, Shot
from ...room import Desk
from ...session import Session
from ..blocks import Blocks, blocks
from ..canvas import Canvas
from ..scale import Scale

ALWAYS = 100        # the need of a lane that is there however little room there is


@dataclass(frozen=True)
class Basis:
    """What lanes are prepared from. ``found`` are shots that nobody has taken, ``suggested`` moments, with their film
    times, that nobody has marked."""

    game: Game
    steps: Sequence[Step]
    coverage: Coverage | None
    places: FilmLayout
    found: Sequence[Shot] = ()
    suggested: Sequence[tuple[float, MomentKind, Instant]] = ()


class Timeline(Protocol):
    """What a lane may ask of the timeline it lies in."""

    @property
    def desk(self) -> Desk:
        """What the lanes need of the desk."""

    @property
    def session(self) -> Session:
        """The session that is shown."""

    @property
    def has_session(self) -> bool:
        """Whether a session is shown."""

    @property
    def time(self) -> float:
        """The playhead in seconds of film."""

    @property
    def chosen(self) -> Mapping[str, object]:
        """What is chosen in each lane, by the lane's key."""

    def redraw(self) -> None:
        """Draw all lanes again."""

    def room_for(self, lane: Lane) -> int:
        """Pixels that a lane could have if only those stayed that always do."""

    def arrange_again(self) -> None:
        """Share the height out anew: a lane needs more or less."""


class Grip(Protocol):
    """Something in a lane that is being dragged."""

    def drag(self, time: float) -> str:
        """Move it to a film time; what to say beside the pointer."""

    def release(self) -> None:
        """Keep it where it is."""

    def cancel(self) -> None:
        """Put it back."""


class Lane:
    """One lane: what it shows, how it is painted, what it says on hovering. A new lane is a subclass in a module of its
    own, and its place in :data:`.LANES`; the timeline, its painter and its mouse know only what is here.

    ``prepare`` turns a game into arrays, once per change; painting slices them. Its items are in ``items``.
    """

    key = ""            # by which others choose and name it
    name = ""           # beside the lane
    item = ""           # what its items are called when they are counted, empty to leave them out
    weight = 20         # its share of the room, in pixels of a usual timeline
    least = 16          # pixels
    need = ALWAYS       # where there is too little room, lanes with the least need go first
    slack = 2           # pixels beside an item that still mean it
    is_marks = False    # its items are marks to go to, not spans to scrub in
    shows_choice = True     # a chosen item is brought into view

    def __init__(self, timeline: Timeline):
        self.timeline = timeline
        self.items: Blocks = blocks(())

    def prepare(self, basis: Basis | None) -> None:
        """Take up a game as it is now; None for no game."""
        self.items = blocks(()) if basis is None else self.blocks_of(basis)

    def blocks_of(self, basis: Basis) -> Blocks:
        """Return what the lane shows; by default nothing."""
        return blocks(())

    def take_film(self, film: Film | None) -> None:
        """Another film is shown, or more is known of this one. None for no film."""

    def actions(self) -> dict[str, Callable[[], object]]:
        """What the lane does at keys, by the ids of :mod:`~workstation.desk.actions`."""
        return {}

    # -- painting ------------------------------------------------------------------------------
    def paint_under(self, canvas: Canvas, bottom: float) -> None:
        """Paint behind all lanes, down to *bottom*."""

    def paint(self, canvas: Canvas, top: float, tall: float) -> None:
        """Paint the lane itself."""

    def paint_over(self, canvas: Canvas) -> None:
        """Paint over all lanes."""

    def paint_overview(self, painter: QPainter, canvas: Canvas, factor: float, width: int) -> None:
        """Paint on the strip with the whole film: *factor* pixels a second, *width* in all."""

    # -- the mouse -----------------------------------------------------------------------------
    def at(self, time: float, scale: Scale) -> int | None:
        """The index of the item at a film time."""
        return self.items.at(time, self.slack * scale.per_pixel) if len(self.items) else None

    def pick(self, index: int, scale: Scale) -> int:
        """The item that a click on *index* chooses."""
        return index

    def tooltip(self, time: float, scale: Scale) -> str:
        """What hovering at a film time says; empty for nothing."""
        index = self.at(time, scale)
        return self.items.tooltip[index] if index is not None else ""

    def press(self) -> bool:
        """A click on the lane; True if it meant something other than a place in the film."""
        return False

    def grip_at(self, time: float, scale: Scale) -> Grip | None:
        """What a drag from a film time would move; None for nothing."""
        return None

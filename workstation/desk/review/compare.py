"""Two plays side by side, in step: the same time from both snaps, picture by picture or playing. A place in a shot lies
beside another shot the same way."""

from __future__ import annotations

import time as clock
from dataclasses import dataclass
from fractions import Fraction

from PySide6.QtCore import Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QComboBox, QWidget

from ...coverage.finding import Finding
from ...film.film import Film
from ...film.frames import FrameReader
from ...film.time import Instant
from ...football.speaking import spoken_situation
from ...tagging.layout import layout_of
from ...tagging.model import Game
from ..jobs import Job
from ..keys import KeyButton
from ..picture import PictureView
from ..player import image_of
from ..room import Desk
from ..session import Session
from ..session_holder import SessionHolder
from ..timers import timer
from ..widgets import in_column, in_row, label, named

_MEMORY = 150 << 20     # bytes for each side


@dataclass(frozen=True, slots=True)
class ComparedPlay:
    """One play to compare. ``snap`` is what both sides are aligned on; ``marked`` is False where
    no snap is marked and the start of its span stands in for it."""

    play: int
    snap: Instant
    start: Instant
    end: Instant
    marked: bool


def side_of(game: Game, play_id: int) -> ComparedPlay | None:
    """The play as one side of a comparison, or None if it was not filmed."""
    filmed = layout_of(game).plays.get(play_id)
    return ComparedPlay(play_id, filmed.begins, *filmed.span, filmed.snap is not None) if filmed else None


@dataclass(frozen=True, slots=True)
class _PairRequest:
    film: Film
    left: ComparedPlay
    right: ComparedPlay
    steps: int      # pictures of the left side after its snap


@dataclass(frozen=True, slots=True)
class Pair:
    """What both sides show: the instants and pictures, and seconds after the snap."""

    steps: int
    seconds: Fraction
    left: Instant
    right: Instant
    left_image: QImage
    right_image: QImage


def right_instant(film: Film, side: ComparedPlay, seconds: Fraction) -> Instant:
    """The instant of a side that lies *seconds* after its snap, kept inside its shot."""
    first, last = film.time_of(side.start), film.time_of(side.end)
    source = film.source(side.snap.source)
    wanted = min(max(film.time_of(side.snap) + seconds, first), last - source.frame_ticks * source.time_base)
    return film.instant_at(max(wanted, first))


def sides_for(game: Game, finding: Finding) -> tuple[ComparedPlay, ComparedPlay] | None:
    """The place of a finding beside the crew's own best shot of the same kind, as long after its snap (its beginning,
    if one of them has none); None if the finding names no such shot."""
    layout = layout_of(game)
    here, best = layout.shots.get(finding.shot or 0), layout.shots.get(finding.beside or 0)
    if here is None or best is None:
        return None
    starts = [layout.snap_of_shot(each.shot.id) for each in (here, best)]
    first, second = (layout.time(start) if start else 0.0 for start in starts)
    if starts[0] is None or starts[1] is None:
        first, second = here.start, best.start
    begins = layout.time(finding.at)
    shown = (begins + layout.time(finding.until)) / 2 if finding.until else begins      # in the middle it is plain
    wanted = second + shown - first
    at = game.film.instant_at(min(max(wanted, best.start), max(best.end - 0.5, best.start)))
    plays = {tag.shot: tag.id for tag in reversed(game.plays) if tag.shot is not None}
    return (ComparedPlay(plays.get(here.shot.id, 0), game.film.instant_at(shown), here.shot.start, here.shot.end, True),
            ComparedPlay(plays.get(best.shot.id, 0), at, best.shot.start, best.shot.end, True))


class _ReaderPair:
    """One frame reader for each side, so that both stay warm. For jobs, one after the other."""

    def __init__(self) -> None:
        self._film: Film | None = None
        self._readers: tuple[FrameReader, FrameReader] | None = None

    def pair(self, request: _PairRequest) -> Pair:
        film = request.film
        if self._readers is None or film is not self._film:
            self.close()
            self._film, self._readers = film, (FrameReader(film, _MEMORY), FrameReader(film, _MEMORY))
        left, right = self._readers
        zero = left.frame_at(request.left.snap).instant
        at = left.step(zero, request.steps) if request.steps else zero
        first = left.frame_at(at)
        seconds = film.time_of(first.instant) - film.time_of(zero)
        second = right.frame_at(right_instant(film, request.right, seconds))
        return Pair(request.steps, seconds, first.instant, second.instant,
                    image_of(first.bgra()), image_of(second.bgra()))

    @property
    def are_open(self) -> bool:
        return self._readers is not None

    def close(self) -> None:
        for reader in self._readers or ():
            reader.close()
        self._readers = self._film = None


class CompareView(SessionHolder, QWidget):
    """Two pictures and what they show. ``closed`` asks for the single picture again."""

    closed = Signal()
    shown = Signal(object)      # Pair

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(parent)
        self._sides: tuple[ComparedPlay, ComparedPlay] | None = None
        self._about: tuple[str, str] | None = None      # what the two sides are, where they are not two plays
        self.pair: Pair | None = None
        self.playing = False
        self._readers = _ReaderPair()
        self._reading: Job | None = None
        self._next: _PairRequest | None = None
        self._steps = 0
        self._began = (0.0, 0)
        self._timer = timer(self, 0, self._tick, repeats=True)
        self.boxes = [named(QComboBox(self), f"Play on the {name}") for name in ("left", "right")]
        self.pictures = [PictureView(), PictureView()]
        self._lines = [label("", "body", "quiet"), label("", "body", "quiet")]
        for position, name in enumerate(("left", "right")):
            self.boxes[position].setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            self.boxes[position].activated.connect(lambda _, p=position: self._pick(p))
            self.pictures[position].setAccessibleName(f"Picture on the {name}")
        columns = in_row(*((in_column(box, (picture, 1), line), 1) for box, picture, line in
                           zip(self.boxes, self.pictures, self._lines, strict=True)), spacing=6)
        self._where = label("", "title")
        row = in_row((self._where, 1), *(KeyButton(desk.keys, id, text, act=act) for id, text, act in (
            ("review.to_snap", "Snap", self.to_snap),
            ("review.earlier_play", "Earlier play", lambda: self.change_right(-1)),
            ("review.later_play", "Later play", lambda: self.change_right(1)),
            ("review.compare", "One picture", self.closed.emit))))
        in_column((columns, 1), row, on=self, margins=0)

    # -- what is compared --------------------------------------------------------------------------------

    def compare(self, session: Session, left: int, right: int) -> bool:
        """Put two plays side by side at their snaps; False if one of them was not filmed."""
        first, second = side_of(session.game, left), side_of(session.game, right)
        if first is None or second is None:
            return False
        self._about = None
        self._show(session, (first, second))
        return True

    def compare_with_best(self, session: Session, finding: Finding) -> bool:
        """Put the place of a finding beside the crew's own best shot of its kind; False if there is none."""
        sides = sides_for(session.game, finding)
        if sides is None:
            return False
        self._about = (finding.title, "The crew's own best of the same kind")
        self._show(session, sides)
        return True

    def _show(self, session: Session, sides: tuple[ComparedPlay, ComparedPlay]) -> None:
        self._session, self._sides, self._steps = session, sides, 0
        self.pause()
        filmed = [tag for tag in session.game.plays if tag.shot is not None]
        for position, box in enumerate(self.boxes):
            box.clear()
            for tag in filmed:
                box.addItem(self._name(tag.id), tag.id)
            box.setPlaceholderText("not a play")
            box.setCurrentIndex(box.findData(sides[position].play))
        self._ask()

    def close_session(self) -> None:
        """Let go of the film."""
        self.pause()
        self._session, self._sides, self.pair = None, None, None
        self._next = None
        if self._reading is None and self._readers.are_open:
            self._start(None)

    def _name(self, play: int) -> str:
        number = self.session.position_of(play) + 1
        tag, step = self.session.play_tag(play), self.session.step_of(play)
        return f"Play {number} · {spoken_situation(step.before, self.session.rulebook.field_length)} · {tag.play.kind}"

    def _pick(self, position: int) -> None:
        side = side_of(self.session.game, self.boxes[position].currentData())
        if side is not None and self._sides is not None:
            if self._about is not None:         # two plays again, both at their snaps
                other = side_of(self.session.game, self._sides[1 - position].play)
                self._sides = self._sides if other is None else (other, other)
                self._about, self._steps = None, 0
            self._sides = (side, self._sides[1]) if position == 0 else (self._sides[0], side)
            self._ask()

    def change_right(self, by: int) -> None:
        """Compare with the play *by* places later instead."""
        box = self.boxes[1]
        box.setCurrentIndex(min(max(box.currentIndex() + by, 0), box.count() - 1))
        self._pick(1)

    # -- moving in step ------------------------------------------------------------------------------------

    def step(self, pictures: int) -> None:
        """Pause and move both sides by this number of frames."""
        self.pause()
        self._steps += pictures
        self._ask()

    def to_snap(self) -> None:
        """Pause and show both sides at their snaps."""
        self.pause()
        self._steps = 0
        self._ask()

    def toggle(self) -> None:
        """Pause if the sides play, else play."""
        self.pause() if self.playing else self.play()

    def play(self) -> None:
        """Play both sides, if there are two plays to compare."""
        if self._sides is None:
            return
        self.playing = True
        self._began = (clock.monotonic(), self._steps)
        rate = self.session.film.source(self._sides[0].snap.source).frame_rate
        self._timer.start(max(round(1000 / float(rate) / self.session.rate), 5))

    def pause(self) -> None:
        """Stop both sides."""
        self.playing = False
        self._timer.stop()

    def _tick(self) -> None:
        if self._reading is not None or self._sides is None:
            return      # a slow disk drops pictures, never the step between the sides
        film, left = self.session.film, self._sides[0]
        rate = film.source(left.snap.source).frame_rate
        began, first = self._began
        steps = first + int((clock.monotonic() - began) * self.session.rate * float(rate))
        last = int((film.time_of(left.end) - film.time_of(left.snap)) * rate) - 1
        if steps >= last:
            self.pause()
        self._steps = min(steps, last)
        self._ask()

    def _ask(self) -> None:
        if self._sides is None:
            return
        request = _PairRequest(self.session.film, self._sides[0], self._sides[1], self._steps)
        if self._reading is not None:
            self._next = request
        else:
            self._start(request)

    def _start(self, request: _PairRequest | None) -> None:
        """Read a pair; without a request, close the readers."""
        if request is None:
            self._reading = Job("compare", lambda progress: self._readers.close(), lambda _: self._read_next(),
                                parent=self).start()
        else:
            self._reading = Job("compare", lambda progress: self._readers.pair(request),
                                lambda pair: self._on_paired(request.film, pair), self._on_failed, parent=self).start()

    def _read_next(self) -> None:
        self._reading = None
        request, self._next = self._next, None
        if request is not None:
            self._start(request)
        elif not self.has_session and self._readers.are_open:
            self._start(None)

    def _on_paired(self, film: Film, pair: Pair) -> None:
        self._read_next()
        if self._sides is None or self.session.film is not film:
            return
        self.pair = pair
        for view, image in zip(self.pictures, (pair.left_image, pair.right_image), strict=True):
            view.show_image(image)
        way = "after" if pair.seconds >= 0 else "before"
        both = "snaps" if self._about is None else "places"
        self._where.setText(("Both at the snap" if self._about is None else "Worst and best")
                            if pair.seconds == 0 else f"{abs(float(pair.seconds)):.2f} s {way} both {both}")
        unmarked = "No snap is marked here; aligned on the start of the shot."
        told = self._about or tuple("" if side.marked else unmarked for side in self._sides)
        for line, words in zip(self._lines, told, strict=True):
            line.setText(words)
        self.shown.emit(pair)

    def _on_failed(self, why: str) -> None:
        self._read_next()
        if not self.has_session:
            return
        self.pause()
        self._where.setText("No picture")
        for view in self.pictures:
            view.message = why
            view.show_image(QImage())

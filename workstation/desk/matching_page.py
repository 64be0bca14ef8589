"""Which shots of the angles film which plays: both rows above each other, and the two pictures of the pair at hand."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QSizePolicy, QTableWidget, QTableWidgetItem

from ..film.film import Film
from ..film.time import Instant, spoken_time
from ..football.speaking import spoken_situation
from ..tagging.angles import FIRST, film_of, matches_of, recording_of, same_moment
from ..tagging.layout import layout_of
from ..tagging.model import Evidence, Game, Match
from ..tagging.operations import Operation
from ..tagging.rematching import (
    CannotRematch,
    MatchColumn,
    match_columns,
    matched_by_hand,
    moved_match,
    said_by_matches,
    unsaid_matches,
    with_hole,
    without_hole,
)
from .keys import KeyButton
from .picture import PictureView
from .room import Desk
from .session import Session
from .session_holder import SessionHolder
from .timeline.thumbnails import Thumbnails
from .widgets import Wrapping, choice, flow, in_column, in_row, label, offer, say, table

_HEIGHT = 360       # pixels of the two pictures
_WIDE = 160         # pixels of a column
_BY = {Evidence.PERSON: "✓ by you", Evidence.SOUND: "♪ by sound", Evidence.CLOCK: "◷ by the clocks",
       Evidence.ORDER: "≡ by the order"}


class MatchingPage(SessionHolder, Wrapping):
    """A page of its own; ``closed`` is sent when the person is through with it, ``again`` carries the angle that is to
    be matched once more, ``see`` a play that is to be seen in both angles."""

    closed = Signal()
    again = Signal(int)
    see = Signal(int)

    def __init__(self, desk: Desk):
        super().__init__()
        self._desk = desk
        self.setObjectName("ground")
        self.setAccessibleName("Match the angles")
        self._columns: list[MatchColumn] = []
        self._pictures: list[Thumbnails | None] = [None, None]
        self._wanted: list[Instant | None] = [None, None]
        self.title = label("Match the angles", "title")
        self.angle = choice("Which angle is matched with the first one", act=self._fill, parent=self)
        self.views = [PictureView(), PictureView()]
        self.captions = [label("", "body", elide=True), label("", "body", elide=True)]
        self.table = table((), "Above, the plays; below, the shots of the other angle")
        self.table.setRowCount(2)
        self.table.setWordWrap(False)
        self.table.horizontalHeader().hide()
        self.table.verticalHeader().show()
        self.table.setSelectionMode(QTableWidget.SelectionMode.SingleSelection)
        self.table.currentCellChanged.connect(lambda *_: self._choose())
        self.table.cellDoubleClicked.connect(lambda *_: self._see())
        self._said = label(wrap=True)
        self.kinds = self._button("matching.kinds", "", lambda: self._move(
            lambda: said_by_matches(self.session.whole, self.number)))
        head = in_row(self.title, self.angle, 1, self.kinds,
                      self._button("matching.again", "Listen again", self._again),
                      self._button("matching.leave", "Back", self.closed.emit))
        for view in self.views:
            view.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)     # what is left over
        pictures = in_row(*((in_column((view, 1), caption), 1)
                            for view, caption in zip(self.views, self.captions, strict=True)))
        follows, row = flow()
        for id, text, act in (
                ("matching.earlier", "Shot before", lambda: self._move(lambda: moved_match(*self._at(), by=-1))),
                ("matching.later", "Next shot", lambda: self._move(lambda: moved_match(*self._at(), by=1))),
                ("matching.missing", "Missed", lambda: self._move(lambda: with_hole(*self._at()))),
                ("matching.filmed", "Filmed after all", lambda: self._move(lambda: without_hole(*self._at())))):
            row.addWidget(self._button(id, text, act))
        only, row = flow()
        for id, text, act in (
                ("matching.only_earlier", "Shot before", lambda: self._only(-1)),
                ("matching.only_later", "Next shot", lambda: self._only(1)),
                ("matching.only_missing", "Missed", lambda: self._only(0)),
                ("matching.next_open", "Next open", self._next_open),
                ("matching.see", "See it", self._see)):
            row.addWidget(self._button(id, text, act))
        in_column(head, (pictures, 1), self.table, self._said,
                  label("This play, and the rest follows:", "small", "quiet"), follows,
                  label("This play only:", "small", "quiet"), only, on=self, margins=(18, 12, 18, 12))

    def _button(self, id: str, text: str, act: Callable[[], object]) -> KeyButton:
        return KeyButton(self._desk.keys, id, text, act=act, bound_in=self)

    # -- showing ------------------------------------------------------------------------------------------
    def show_session(self, session: Session | None) -> None:
        """Show the rows of *session* whenever the page is seen from now on; None shows none."""
        super().show_session(session)
        self._close_pictures()

    def _follows(self, session: Session) -> list:
        return [(session.game_changed, self._changed)]

    def _close_pictures(self) -> None:
        for pictures in self._pictures:
            if pictures is not None:
                pictures.close()
        self._pictures = [None, None]

    def _changed(self, *_: object) -> None:
        if self.isVisible():
            if not self.session.whole.angles:
                self.closed.emit()
            else:
                self._fill()

    def showEvent(self, event) -> None:
        """Show the angle that is looked at, and the play at hand."""
        super().showEvent(event)
        session = self.session
        offer(self.angle, [(session.name_of(number), number) for number in session.numbers[1:]], session.angle)
        self.angle.setVisible(self.angle.count() > 1)
        self._fill(session.play_at_hand())
        self.table.setFocus()

    def hideEvent(self, event) -> None:
        """Nothing is decoded for a page out of sight."""
        super().hideEvent(event)
        self._close_pictures()

    @property
    def number(self) -> int:
        """The angle that is matched with the first one."""
        return int(self.angle.currentData() or 0)

    @property
    def play(self) -> int | None:
        """The play of the column at hand."""
        column = self.table.currentColumn()
        return self._columns[column].play if 0 <= column < len(self._columns) else None

    def _fill(self, play: int | None = None) -> None:
        session, game, number = self.session, self.session.whole, self.number
        if number == FIRST:
            return
        play = play or self.play
        here = self.table.currentColumn()
        self._columns, matches = match_columns(game, number), matches_of(game, number)
        shots = recording_of(game, number).shots
        places = {shot.id: place for place, shot in enumerate(shots, 1)}
        self.table.blockSignals(True)
        self.table.setColumnCount(len(self._columns))
        self.table.setVerticalHeaderLabels([session.name_of(FIRST), session.name_of(number)])
        for at, column in enumerate(self._columns):
            match = matches.get(column.play or 0)
            self.table.setItem(0, at, _item(self._play_words(column.play), column.play is None))
            self.table.setItem(1, at, _item(self._shot_words(column, places, match), column.shot is None))
            self.table.setColumnWidth(at, _WIDE)
        tall = 3 * self.fontMetrics().lineSpacing() + 12
        for row in range(2):
            self.table.setRowHeight(row, tall)
        self.table.setFixedHeight(2 * tall + self.table.horizontalScrollBar().sizeHint().height() + 6)
        at = next((at for at, column in enumerate(self._columns) if column.play == play and play is not None), here)
        self.table.setCurrentCell(1, min(max(at, 0), len(self._columns) - 1))
        self.table.blockSignals(False)
        matched = sum(column.play in matches for column in self._columns if column.play is not None)
        self.title.setText(f"{session.name_of(number)}: {matched} of {len(game.plays)} plays matched")
        self._offer_kinds()
        self._choose()

    def _offer_kinds(self) -> None:
        """Offer to say of shots that were matched before a match said so what they film."""
        shots = len({match.shot for match in unsaid_matches(self.session.whole, self.number)})
        self.kinds.setText(f"{shots} matched shot{'s' if shots > 1 else ''}: say what {'they' if shots > 1 else 'it'} "
                           f"film{'' if shots > 1 else 's'}")
        self.kinds.setVisible(bool(shots))

    def _play_words(self, play: int | None) -> str:
        if play is None:
            return "–"
        session = self.session
        step = session.step_of(play)
        situation = spoken_situation(step.before, session.rulebook.field_length)
        return f"play {session.position_of(play) + 1}\n{situation}\n{step.result or step.play.kind.value}"

    def _shot_words(self, column: MatchColumn, places: dict[int, int], match: Match | None) -> str:
        if column.shot is None:
            return "open"
        shot = next(each for each in recording_of(self.session.whole, self.number).shots if each.id == column.shot)
        film = film_of(self.session.whole, self.number)
        long = spoken_time(float(film.time_of(shot.end) - film.time_of(shot.start)), tenths=True)
        how = _BY[match.evidence] if match is not None else "films no play"
        return f"shot {places[column.shot]}, {long}\n{film.source(shot.start.source).path.name}\n{how}"

    def _choose(self) -> None:
        """Show the two pictures of the column at hand."""
        session, number = self.session, self.number
        column = self.table.currentColumn()
        if not 0 <= column < len(self._columns) or number == FIRST:
            return
        at, game = self._columns[column], session.whole
        filmed = layout_of(game).plays.get(at.play) if at.play is not None else None
        here = filmed.begins if filmed is not None else None
        there = same_moment(game, here, at.play, number) if here is not None and at.play is not None else None
        tied = there is not None
        if there is None and at.shot is not None:
            there = next(shot.start for shot in recording_of(game, number).shots if shot.id == at.shot)
        self._show(0, game.film, here, session.name_of(FIRST) + (": the snap" if filmed and filmed.snap else ""))
        words = "the same moment" if tied else "its beginning; nothing ties it yet" if at.shot else "no shot"
        self._show(1, film_of(game, number), there, f"{session.name_of(number)}: {words}")
        self._tell("" if at.play is None or at.shot is not None else
                   "This play is open. Insert says that it was filmed after all, and the rest moves down.", "quiet")

    def _show(self, place: int, film: Film, at: Instant | None, words: str) -> None:
        self.captions[place].setText(words)
        self._wanted[place] = at
        if at is None:
            self.views[place].show_image(QImage())
            self.views[place].update()
            return
        pictures = self._pictures[place]
        if pictures is None:
            pictures = self._pictures[place] = Thumbnails(film, _HEIGHT, self)
            pictures.ready.connect(lambda instant: self._take(place, instant))
        pictures.show_film(film)
        image = pictures.get(at)
        if image is not None:
            self.views[place].show_image(image)

    def _take(self, place: int, instant: Instant) -> None:
        pictures = self._pictures[place]
        if pictures is not None and instant == self._wanted[place] and (image := pictures.have(instant)) is not None:
            self.views[place].show_image(image)

    def _tell(self, text: str, ink: str) -> None:
        say(self._said, text, ink)

    # -- doing --------------------------------------------------------------------------------------------
    def _at(self) -> tuple[Game, int, int]:
        """The game, the angle and the play at hand. Raises CannotRematch where the column has no play."""
        if self.play is None:
            raise CannotRematch("No play stands above this shot. Choose the play that it films.")
        return self.session.whole, self.number, self.play

    def _move(self, made: Callable[[], Operation]) -> None:
        """Correct the match at hand, or say why that cannot be."""
        if self.session.file.read_only:
            self._tell("This game is open for reading only.", "bad")
            return
        try:
            operation = made()
        except CannotRematch as error:
            self._tell(str(error), "bad")
            return
        if self.session.do_on_whole(operation) is not None:
            self._tell(f"Done: {operation.describe(self.session.whole)}. Undo takes it back.", "good")

    def _only(self, by: int) -> None:
        """The play at hand is filmed by the shot before or after its own (or, open, after the last matched one), or by
        none; all others stay."""
        def made() -> Operation:
            game, number, play = self._at()
            match = matches_of(game, number).get(play)
            if by == 0:
                if match is None:
                    raise CannotRematch("This play is open already.")
                return matched_by_hand(game, number, play, None)
            shots = [column.shot for column in self._columns if column.shot is not None]
            row = list(dict.fromkeys(shots))
            if match is not None:
                to = row.index(match.shot) + by
            else:
                before = [column.shot for column in self._columns[:self.table.currentColumn()] if column.shot]
                to = (row.index(before[-1]) if before else -1) + (1 if by > 0 else 0)
            if not 0 <= to < len(row):
                raise CannotRematch("There is no further shot on that side.")
            return matched_by_hand(game, number, play, row[to])

        self._move(made)

    def _next_open(self) -> None:
        here, columns = self.table.currentColumn(), self._columns
        around = [*range(here + 1, len(columns)), *range(here + 1)]
        at = next((at for at in around if columns[at].play is not None and columns[at].shot is None), None)
        if at is None:
            self._tell("No play is open.", "good")
        else:
            self.table.setCurrentCell(1, at)

    def _again(self) -> None:
        if self.number != FIRST:
            self.again.emit(self.number)

    def _see(self) -> None:
        if self.play is not None:
            self.see.emit(self.play)


def _item(words: str, is_empty: bool) -> QTableWidgetItem:
    item = QTableWidgetItem(words)
    item.setToolTip(words)
    item.setTextAlignment(Qt.AlignmentFlag.AlignCenter if is_empty else
                          Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    return item

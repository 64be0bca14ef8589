"""The sequence at hand: its name, its plays in order, their ends. Every change is an operation on the game."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QComboBox, QWidget

from ...delivery.cutting import angles_shown, length_of, nudged, span_of
from ...delivery.ways_to_show import WayToShow, ways_to_show
from ...film.time import Instant, spoken_time
from ...tagging.angles import FIRST, layout_from
from ...tagging.layout import FilmLayout, layout_of
from ...tagging.model import MomentKind, Sequence, SequenceItem
from ...tagging.operations import AddRecord, ChangeRecord, RemoveRecord
from ...tagging.operations.operation import count
from ...tagging.records import Kind
from ..keys import KeyButton
from ..room import Desk
from ..session import Session
from ..session_holder import SessionHolder
from ..widgets import Field, Wrapping, choice, flow, in_column, in_row, label, named, offer
from .reel import ReelItem, ReelList
from .trim import TrimStrip


@dataclass(frozen=True, slots=True)
class ShownSpan:
    """What a place of the sequence shows of one angle, from its first picture to the end; ``beside`` is the angle that
    stands in the same picture, if one does, small in its corner if ``inset``; ``heard`` that whose sound is heard."""

    place: int
    angle: int
    start: Instant
    end: Instant
    beside: int | None = None
    inset: bool = False
    heard: int | None = None


class SequenceEditor(SessionHolder, Wrapping):
    """``changed`` is sent when another sequence, or another state of it, is shown; ``looked_at`` carries an
    instant to be seen; ``through_wanted`` asks for the whole to be played."""

    changed = Signal()
    looked_at = Signal(object)
    through_wanted = Signal()

    def __init__(self, desk: Desk, words: Callable[[int], tuple[str, str]], parent: QWidget | None = None):
        """*words* gives a play's title and line by its id."""
        super().__init__(parent)
        self._desk, self._words = desk, words
        self._chosen: int | None = None
        self._places: FilmLayout        # of the game on show, from the first refresh on
        self.layouts: dict[int, FilmLayout] = {}    # of the game as each of its angles filmed it
        self._following = False     # the chosen place changes because something else did
        self.reel = ReelList(desk)
        self.trim = TrimStrip(desk)
        self.names = named(QComboBox(self), "Sequence")
        self.names.setEditable(True)
        self.names.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.names.setCompleter(None)       # type: ignore[arg-type]  # Qt takes none, its stubs do not say so
        field = self._field = Field(name="Name of the sequence")
        self.names.setLineEdit(field)
        self.names.activated.connect(self.choose)
        field.editingFinished.connect(self._rename)
        head = in_row((self.names, 1), self._button("sequence.new", "New", self.new), spacing=5)
        self._length = label("", "body", "quiet")
        self._hint = label("Choose plays in the middle and add them: one by one, with the two before, or all at once.",
                           "lead", "quiet", wrap=True)
        self._hint.setAlignment(Qt.AlignmentFlag.AlignTop)
        moves, row = flow()
        for id, text, act in (("sequence.through", "Play through", self.through_wanted.emit),
                              ("sequence.remove", "Take out", self.remove),
                              ("sequence.earlier", "Up", lambda: self.shift(-1)),
                              ("sequence.later", "Down", lambda: self.shift(1))):
            row.addWidget(self._button(id, text, act))
        self.angles = choice("From which angles the play is shown", act=lambda: self._show_from(
            self.angles.currentData()), letters=8, parent=self)
        self.sound = choice("Whose sound is heard", act=lambda: self._sound_of(self.sound.currentData()), letters=8,
                            parent=self)
        self.sound.setToolTip("In what is handed on. Played through here, each picture has its own sound.")
        self._views = QWidget(self)
        in_column(self.angles, in_row((self.sound, 1), self._button("sequence.angles_alike", "All so",
                                                                    self.show_all_alike), margins=0, spacing=4),
                  on=self._views, margins=0, spacing=4)
        ends = in_row(label("Begin", "body", "quiet"),
                      self._button("sequence.in_earlier", "‹", lambda: self.nudge(start=-1)),
                      self._button("sequence.in_later", "›", lambda: self.nudge(start=1)), 1,
                      label("End", "body", "quiet"),
                      self._button("sequence.out_earlier", "‹", lambda: self.nudge(end=-1)),
                      self._button("sequence.out_later", "›", lambda: self.nudge(end=1)), 1, spacing=4)
        in_column(head, self._length, (self.reel, 1), (self._hint, 1), moves, self._views, self.trim, ends, on=self,
                  margins=0, spacing=6)
        self.reel.currentRowChanged.connect(self._on_row)
        self.reel.moved.connect(self.move_item)
        self.trim.trimmed.connect(self._on_trimmed)
        self.trim.looked_at.connect(self.looked_at)

    def _button(self, id: str, text: str, act: Callable[[], object]) -> KeyButton:
        return KeyButton(self._desk.keys, id, text, act=act)

    # -- what is shown ------------------------------------------------------------------------------------

    def show_session(self, session: Session | None) -> None:
        """Take in another session, or None when it is closed."""
        self._session, self._chosen = session, None
        self.reel.show_session(session)

    @property
    def sequence(self) -> Sequence | None:
        """The sequence at hand: the one chosen, else the game's first."""
        sequences = self.session.game.sequences
        return next((each for each in sequences if each.id == self._chosen), sequences[0] if sequences else None)

    @property
    def items(self) -> tuple[SequenceItem, ...]:
        """The items of the sequence that is chosen, empty if there is none."""
        return self.sequence.items if self.sequence is not None else ()

    @property
    def shown_spans(self) -> list[ShownSpan]:
        """Everything in the sequence that was filmed, angle by angle, as it will be handed on."""
        return [shown for place, item in enumerate(self.items) for shown in self._shown_spans(place, item)]

    def _shown_spans(self, place: int, item: SequenceItem) -> list[ShownSpan]:
        made = []
        for angle in angles_shown(item, self.layouts):
            span = span_of(self.layouts[angle], item)
            others = [each for each in item.angles if each != angle and item.play in self.layouts[each].plays]
            if span is not None:
                made.append(ShownSpan(place, angle, *span, others[0] if item.beside and others else None, item.inset,
                                      angle if item.sound is None else item.sound))
        return made

    def _leading(self, item: SequenceItem) -> FilmLayout:
        """The layout of the angle that an item shows first; of the first one where none films the play."""
        return self.layouts[(*angles_shown(item, self.layouts), FIRST)[0]]

    def refresh(self, places: FilmLayout | None = None) -> None:
        """Show the game as it is now; *places* are its own, if they are known."""
        game, sequence, items = self.session.game, self.sequence, self.items
        self._places = places or layout_of(game)
        self.layouts = {number: layout_from(self.session.whole, number) for number in self.session.numbers}
        with QSignalBlocker(self.names):
            self.names.clear()
            for each in game.sequences:
                self.names.addItem(each.name, each.id)
            self.names.setCurrentIndex(self.names.findData(sequence.id) if sequence else -1)
            if sequence is None:
                self.names.clearEditText()
        self._field.setReadOnly(not game.sequences)
        self.reel.show_entries([self._entry(item) for item in items])
        self.reel.setVisible(bool(items))
        self._hint.setVisible(not items)
        self._length.setText(f"{count(len(items), 'play')}, {spoken_time(float(self._seconds(items)))} long" if items
                             else "" if sequence is not None else "No sequence yet")
        self._following = True
        self._on_row(self.reel.currentRow())
        self._following = False
        self.changed.emit()

    def _seconds(self, items: tuple[SequenceItem, ...]) -> Fraction:
        """How long the items are as one film, from the angles that their plays are shown from."""
        return sum((length_of(self.layouts[angle], (item,))
                    for item in items for angle in angles_shown(item, self.layouts)), Fraction(0))

    def focus_reel(self) -> None:
        """Let the keys go to the plays in the sequence, if there are any."""
        if self.reel.isVisibleTo(self):
            self.reel.setFocus()
            self._on_row(self.reel.currentRow())        # and see the one that is chosen there

    def show_playing(self, place: int) -> None:
        """The play at *place* is the one that plays now; -1 if none does."""
        self._following = True
        self.reel.show_playing(place)
        self._following = False

    def _entry(self, item: SequenceItem) -> ReelItem:
        title, line = self._words(item.play)
        seconds = self._seconds((item,))
        if not seconds:
            return ReelItem(title, line, None)
        film, place = self.session.film, self._places.plays.get(item.play)
        still = film.instant_at(Fraction(place.action[0]).limit_denominator(1000)) if place else None
        return ReelItem(title, line, float(seconds), still)

    def _on_row(self, row: int) -> None:
        self._offer_views()
        item = self.current[1] if self.current else None
        if item is None:
            self.trim.show_item(self.session.film, None)
            return
        layout = self._leading(item)
        filmed, span = layout.plays.get(item.play), span_of(layout, item)
        if filmed is None or span is None:
            self.trim.show_item(layout.game.film, item)
            return
        marks = [(time, moment.kind) for time, moment in layout.moments_between(filmed.start, filmed.end)
                 if moment.kind in (MomentKind.SNAP, MomentKind.DEAD_BALL)]
        self.trim.show_item(layout.game.film, item, filmed.span, span, marks)
        if self.reel.hasFocus() and not self._following:
            self.looked_at.emit(span[0])

    # -- angles --------------------------------------------------------------------------------------------

    def _offer_views(self) -> None:
        """Show how the chosen play is shown; with one angle there is nothing to choose."""
        session, found = self.session, self.current
        self._views.setVisible(len(session.numbers) > 1 and found is not None)
        if found is None or len(session.numbers) < 2:
            return
        item = found[1]
        now = WayToShow(item.angles or (FIRST,), item.beside, item.inset)
        self.angles.clear()
        ways = ways_to_show({number: session.name_of(number) for number in session.numbers})
        for words, way in ways:
            self.angles.addItem(words, way)
        at = next((at for at, (_, way) in enumerate(ways) if way == now), -1)
        if at < 0:
            self.angles.addItem(", then ".join(session.name_of(each) for each in now.angles), now)
            at = self.angles.count() - 1
        self.angles.setCurrentIndex(at)
        self.angles.setToolTip(self.angles.currentText())
        offer(self.sound, (("Own sound", None), *((f"Sound of {session.name_of(each)}", each)
                                                  for each in session.numbers)), item.sound)

    def _show_from(self, way: tuple[tuple[int, ...], bool, bool]) -> None:
        if self.current is not None:
            angles, beside, inset = way
            shown = () if tuple(angles) == (FIRST,) else tuple(angles)
            self._on_trimmed(replace(self.current[1], angles=shown, beside=beside, inset=inset))

    def _sound_of(self, number: int | None) -> None:
        if self.current is not None:
            self._on_trimmed(replace(self.current[1], sound=number))

    def show_all_alike(self) -> None:
        """Show all plays of the sequence from the angles that show the chosen one."""
        if self.current is None:
            return
        like = self.current[1]
        items = tuple(replace(item, angles=like.angles, beside=like.beside, inset=like.inset, sound=like.sound)
                      for item in self.items)
        if items != self.items:
            self._change(items)
            self.session.notice.emit(f"All plays: {self.angles.currentText()}")

    # -- sequences -----------------------------------------------------------------------------------------

    def choose(self, index: int) -> None:
        """Choose the sequence at this place of the list."""
        self._chosen = self.names.itemData(index)
        self.refresh()

    def new(self) -> None:
        """Make an empty sequence under a free name."""
        before = {sequence.id for sequence in self.session.game.sequences}
        self.session.do(AddRecord(Sequence(0, self._free_name())))
        made = [sequence.id for sequence in self.session.game.sequences if sequence.id not in before]
        self._chosen = made[0] if made else self._chosen
        self.refresh()

    def delete(self) -> None:
        """Delete the sequence that is chosen."""
        if self.sequence is not None:
            self.session.do(RemoveRecord(Kind.SEQUENCE, self.sequence.id))
            self._chosen = None
            self.refresh()

    def _rename(self) -> None:
        sequence, name = self.sequence, self.names.currentText().strip()
        if sequence is not None and name and name != sequence.name:
            self.session.do(ChangeRecord(replace(sequence, name=name)))

    def _free_name(self) -> str:
        taken = {sequence.name for sequence in self.session.game.sequences}
        number = 1
        while (name := f"Sequence {number}") in taken:
            number += 1
        return name

    # -- plays in it -----------------------------------------------------------------------------------------

    @property
    def current(self) -> tuple[int, SequenceItem] | None:
        """The chosen place in the sequence and what is there."""
        row, items = self.reel.currentRow(), self.items
        return (row, items[row]) if 0 <= row < len(items) else None

    def put(self, plays: list[int]) -> None:
        """Add plays at the end, those not in it yet; makes a sequence if there is none."""
        if not plays:
            return
        sequence = self.sequence
        have = {item.play for item in self.items}
        new = tuple(SequenceItem(play) for play in plays if play not in have)
        if not new:
            self.session.notice.emit("Already in the sequence")
        elif sequence is None:
            self.session.do(AddRecord(Sequence(0, self._free_name(), new)))
        else:
            self.session.do(ChangeRecord(replace(sequence, items=(*sequence.items, *new))))
        self.refresh()

    def move_item(self, source: int, target: int) -> None:
        """Move the play at one place of the sequence to another."""
        items = list(self.items)
        if source != target and 0 <= target < len(items):
            items.insert(target, items.pop(source))
            self._change(tuple(items))
            self.reel.setCurrentRow(target)

    def shift(self, by: int) -> None:
        """Move the current item by this number of places."""
        if self.current is not None:
            self.move_item(self.reel.currentRow(), self.reel.currentRow() + by)

    def remove(self) -> None:
        """Take the current item out of the sequence."""
        if self.current is not None:
            row, items = self.current[0], self.items
            self._change(items[:row] + items[row + 1:])

    def nudge(self, start: int = 0, end: int = 0) -> None:
        """Move the chosen play's ends by whole pictures, and look at the one that moved."""
        layout = self._leading(self.current[1]) if self.current else None
        span = span_of(layout, self.current[1]) if layout is not None and self.current else None
        if layout is None or span is None or self.current is None:
            return
        film = layout.game.film
        item = nudged(film, self.current[1], span, start, end)
        self._on_trimmed(item)
        span = span_of(layout, item) or span
        last = film.time_of(span[1]) - 1 / film.source(span[1].source).frame_rate
        self.looked_at.emit(span[0] if start else film.instant_at(last))

    def _on_trimmed(self, item: SequenceItem) -> None:
        if self.current is not None and self.current[1] != item:
            row, items = self.current[0], self.items
            self._change((*items[:row], item, *items[row + 1:]))

    def _change(self, items: tuple[SequenceItem, ...]) -> None:
        if self.sequence is not None:
            self.session.do(ChangeRecord(replace(self.sequence, items=items)))
        self.refresh()

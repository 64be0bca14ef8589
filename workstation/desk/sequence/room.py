"""The Sequence room: a coach finds plays, puts them in an order and takes them along."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QCheckBox,
    QComboBox,
    QFileDialog,
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QProgressBar,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from ...film.time import Instant
from ...football.field import Team
from ...football.speaking import spoken_situation
from ...tagging.model import MomentKind, Sequence, SequenceItem
from ...tagging.operations import AddSequence, ChangeSequence, RemoveSequence
from ..jobs import Job
from ..keys import KeyButton
from ..parts import flow, label, restyle
from ..picture import PictureView
from ..review.drawing import DrawingLayer
from ..room import Desk, Room
from ..timeline.places import Places, shot_of
from ..timeline.scale import spoken_time
from .cut import length_of, nudged, segments_of, span_of, with_before
from .export import Form, Wish, Written, export
from .finder import Facts, counted, facts_of, find
from .keys import name_actions
from .palette import Palette, SentenceBar
from .reel import Entry, Reel
from .results import Card, ResultList
from .through import PlayThrough
from .trim import TrimStrip


class SequenceRoom(Room):
    name = "Sequence"
    purpose = "Find plays, put them in an order, and take them along as one film."

    def __init__(self, desk: Desk, parent: QWidget | None = None):
        super().__init__(desk, parent)
        name_actions(desk.keys)
        self._facts: list[Facts] = []
        self._places: Places | None = None
        self._sequence: int | None = None
        self._job: Job | None = None
        self._us: Team | None = None
        self._heard = False
        self._arranging = False     # cards are being laid out; nobody has chosen one
        self._refresh = QTimer(self, singleShot=True, interval=0, timeout=self._on_game)

        self.palette_ = Palette()
        self.sentence = SentenceBar()
        self.results = ResultList(desk)
        self.picture = PictureView()
        self.picture.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.drawing = DrawingLayer(self.picture)
        self.reel = Reel(desk)
        self.trim = TrimStrip(desk)
        self.through = PlayThrough(self)

        self._split = QSplitter(Qt.Orientation.Horizontal)
        for column in (self._find_column(), self._film_column(), self._reel_column()):
            self._split.addWidget(column)
        self._split.setStretchFactor(1, 1)
        self._split.setSizes([290, 690, 290])
        self._split.setChildrenCollapsible(False)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(8, 8, 8, 8)
        layout.addWidget(self._split)

        self.palette_.changed.connect(self._search)
        self.sentence.typed.connect(self._search)
        self.sentence.put_back.connect(lambda chip: self.palette_.take(chip, False))
        self.sentence.words.returnPressed.connect(self.results.setFocus)
        self.results.selectionModel().currentChanged.connect(lambda *_: self._on_current())
        self.results.clicked.connect(lambda _: self.results.current and self._look_at_card(self.results.current))
        self.results.doubleClicked.connect(lambda _: self.play_current())
        self.reel.currentRowChanged.connect(self._on_row)
        self.reel.itemDoubleClicked.connect(lambda _: self.play_item())
        self.reel.moved.connect(self.move_item)
        self.trim.trimmed.connect(self._on_trimmed)
        self.trim.looked_at.connect(self._look_at)
        self.through.reached.connect(self._on_reached)
        self._bind()

    # -- how it is laid out ------------------------------------------------------------------------------

    def _find_column(self) -> QWidget:
        column = QWidget()
        column.setMinimumWidth(280)
        self._us_box = QComboBox()
        self._us_box.setAccessibleName("Whose side we are on")
        self._us_box.activated.connect(self._on_us)
        layout = QVBoxLayout(column)
        layout.setContentsMargins(0, 0, 4, 0)
        layout.setSpacing(6)
        layout.addWidget(self.sentence)
        layout.addWidget(self._us_box)
        layout.addWidget(self.palette_, 1)
        row = QHBoxLayout()
        row.addWidget(self._button("sequence.find", "Words"))
        row.addWidget(self._button("sequence.clear", "All plays"))
        row.addStretch(1)
        layout.addLayout(row)
        return column

    def _film_column(self) -> QWidget:
        controls, row = flow()
        self._play = self._button("sequence.toggle", "Play")
        row.addWidget(self._play)
        row.addWidget(self._button("sequence.frame_back", "‹"))
        row.addWidget(self._button("sequence.frame_ahead", "›"))
        add = self._button("sequence.add", "Add")
        restyle(add, role="main")
        row.addWidget(add)
        row.addWidget(self._button("sequence.add_with_before", "+ 2 before"))
        row.addWidget(self._button("sequence.add_all", "Add all"))
        upper = QWidget()
        box = QVBoxLayout(upper)
        box.setContentsMargins(4, 0, 4, 0)
        box.setSpacing(6)
        self._line = label("", "lead")
        box.addWidget(self.picture, 1)
        box.addWidget(self._line)
        box.addWidget(controls)
        self._empty = label("", "lead", "quiet", wrap=True)
        self._empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        lower = QWidget()
        below = QVBoxLayout(lower)
        below.setContentsMargins(4, 0, 4, 0)
        below.addWidget(self.results, 1)
        below.addWidget(self._empty, 1)
        split = QSplitter(Qt.Orientation.Vertical)
        split.addWidget(upper)
        split.addWidget(lower)
        split.setStretchFactor(0, 3)
        split.setStretchFactor(1, 2)
        split.setSizes([440, 290])
        split.setChildrenCollapsible(False)
        return split

    def _reel_column(self) -> QWidget:
        column = QWidget()
        column.setMinimumWidth(270)
        self._names = QComboBox()
        self._names.setEditable(True)
        self._names.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self._names.setCompleter(None)
        self._names.setAccessibleName("Sequence")
        self._names.lineEdit().setPlaceholderText("No sequence yet")
        self._names.lineEdit().setAccessibleName("Name of the sequence")
        self._names.activated.connect(self._on_name_chosen)
        self._names.lineEdit().editingFinished.connect(self._rename)
        head = QHBoxLayout()
        head.setSpacing(5)
        head.addWidget(self._names, 1)
        head.addWidget(self._button("sequence.new", "New"))
        self._length = label("", "body", "quiet")
        self._hint = label("", "lead", "quiet", wrap=True)
        self._hint.setAlignment(Qt.AlignmentFlag.AlignTop)
        moves, row = flow()
        row.addWidget(self._button("sequence.through", "Play through"))
        row.addWidget(self._button("sequence.remove", "Take out"))
        row.addWidget(self._button("sequence.earlier", "Up"))
        row.addWidget(self._button("sequence.later", "Down"))
        ends = QHBoxLayout()
        ends.setSpacing(4)
        for words, earlier, later in (("Begin", "sequence.in_earlier", "sequence.in_later"),
                                      ("End", "sequence.out_earlier", "sequence.out_later")):
            ends.addWidget(label(words, "body", "quiet"))
            ends.addWidget(self._button(earlier, "‹"))
            ends.addWidget(self._button(later, "›"))
            ends.addStretch(1)
        layout = QVBoxLayout(column)
        layout.setContentsMargins(4, 0, 0, 0)
        layout.setSpacing(6)
        layout.addLayout(head)
        layout.addWidget(self._length)
        layout.addWidget(self.reel, 1)
        layout.addWidget(self._hint, 1)
        layout.addWidget(moves)
        layout.addWidget(self.trim)
        layout.addLayout(ends)
        layout.addWidget(self._export_panel())
        return column

    def _export_panel(self) -> QWidget:
        panel = QFrame()
        panel.setObjectName("card")
        self.form = QComboBox()
        self.form.setAccessibleName("What to export")
        self.form.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.form.setMinimumContentsLength(10)
        for form in Form:
            self.form.addItem(str(form), form)
        self.folder = QLineEdit()
        self.folder.setAccessibleName("Folder to export to")
        self.folder.returnPressed.connect(self.export)
        browse = QPushButton("Folder…")
        browse.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        browse.clicked.connect(self._browse)
        self.captions = QCheckBox("Situation below the picture")
        self.captions.setChecked(True)
        self.statement = QLineEdit(placeholderText="Why it is handed on, for the cover page")
        self.statement.setAccessibleName("Why the pack is handed on")
        self.form.currentIndexChanged.connect(self._on_form)
        self._export = self._button("sequence.export", "Export")
        self._cancel = QPushButton("Stop")
        self._cancel.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self._cancel.clicked.connect(self.stop_export)
        self._bar = QProgressBar()
        self._bar.setAccessibleName("Progress of the export")
        self._told = label("", "body", wrap=True)
        self._told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        where, run = QHBoxLayout(), QHBoxLayout()
        where.addWidget(self.folder, 1)
        where.addWidget(browse)
        run.addWidget(self._export)
        run.addWidget(self._bar, 1)
        run.addWidget(self._cancel)
        run.addStretch(0)
        layout = QVBoxLayout(panel)
        layout.setContentsMargins(8, 8, 8, 8)
        layout.setSpacing(6)
        layout.addWidget(self.form)
        layout.addLayout(where)
        layout.addWidget(self.captions)
        layout.addWidget(self.statement)
        layout.addLayout(run)
        layout.addWidget(self._told)
        self._bar.hide()
        self._cancel.hide()
        self._told.hide()
        self._on_form()
        return panel

    def _on_form(self, *_: object) -> None:
        form = Form(self.form.currentData())
        self.captions.setVisible(form is not Form.FILES)        # what is copied stays as it is
        self.statement.setVisible(form is Form.PACK)

    def _button(self, id: str, text: str) -> KeyButton:
        button = KeyButton(self.desk.keys, id, text)
        button.clicked.connect(lambda: self._acts[id]())
        return button

    def _bind(self) -> None:
        self._acts = {
            "sequence.find": self._find_words, "sequence.clear": self.clear_search,
            "sequence.results": self.results.setFocus, "sequence.chips": self.palette_.focus_first,
            "sequence.add": self.add, "sequence.add_with_before": self.add_with_before,
            "sequence.add_all": self.add_all, "sequence.items": self.reel.setFocus,
            "sequence.earlier": lambda: self._shift(-1), "sequence.later": lambda: self._shift(1),
            "sequence.remove": self.remove_item,
            "sequence.in_earlier": lambda: self._nudge(start=-1), "sequence.in_later": lambda: self._nudge(start=1),
            "sequence.out_earlier": lambda: self._nudge(end=-1), "sequence.out_later": lambda: self._nudge(end=1),
            "sequence.toggle": self.toggle, "sequence.frame_back": lambda: self._step(-1), "sequence.frame_ahead": lambda: self._step(1),
            "sequence.through": self.play_through, "sequence.new": self.new, "sequence.delete": self.delete,
            "sequence.export": self.export,
        }
        repeating = {"sequence.in_earlier", "sequence.in_later", "sequence.out_earlier", "sequence.out_later",
                     "sequence.frame_back", "sequence.frame_ahead"}
        only_there = {"sequence.add": self.results, "sequence.add_with_before": self.results}
        for id, act in self._acts.items():
            self.desk.keys.bind(id, only_there.get(id, self), act, repeat=id in repeating)

    # -- coming and going -----------------------------------------------------------------------------------

    def enter(self, session) -> None:
        if session is not self.session:
            self._let_go()
            super().enter(session)
            session.game_changed.connect(self._later)
            session.derived_changed.connect(self._later)
            session.playing_changed.connect(self._on_playing)
            session.position_changed.connect(self._on_position)
            self._heard = True
            self.picture.message = ("This part of the film cannot be shown." if session.film.sources else
                                    "No picture yet. Open footage in the Tag room.")
            self.picture.show_session(session)
            self.drawing.show_session(session)
            self.results.show_session(session)
            self.reel.show_session(session)
            self._take_us()
            self.folder.setText(str(Path(session.file.path).parent / "exports"))
            self._told.hide()
        self._on_game()
        here = self._places.play_at(float(session.time))
        if here is not None:
            self._arranging = True
            self.results.choose(here)
            self._arranging = False
        self.results.setFocus()

    def leave(self) -> None:
        self.through.stop()
        if self.session is not None:
            self.session.pause()

    def forget(self) -> None:
        self._let_go()
        super().forget()

    def _let_go(self) -> None:
        self._refresh.stop()
        if self.session is None or not self._heard:
            return
        self.through.stop()
        self.session.game_changed.disconnect(self._later)
        self.session.derived_changed.disconnect(self._later)
        self.session.playing_changed.disconnect(self._on_playing)
        self.session.position_changed.disconnect(self._on_position)
        self._heard = False
        self.picture.show_session(None)
        self.drawing.show_session(None)
        self.results.show_session(None)
        self.reel.show_session(None)
        self._sequence = None

    # -- what changes --------------------------------------------------------------------------------------

    def _later(self, *_: object) -> None:
        if self.isVisible():        # out of sight it costs nothing; entering brings it up to date
            self._refresh.start()

    def _on_game(self) -> None:
        if self.session is None:
            return
        game = self.session.game
        self._places = Places(game)
        rulebook = self.session.rulebook
        self._facts = facts_of(game, self.session.steps, self.session.coverage, self._us,
                               rulebook.periods, rulebook.field_length)
        self.palette_.show_chips(counted(self._facts))
        self._show_sequence()
        self._search()

    def _take_us(self) -> None:
        heading = self.session.game.heading
        self._us_box.clear()
        for words, team in (("No side is ours", None), (f"We are {heading.home}", Team.HOME),
                            (f"We are {heading.visitors}", Team.VISITORS)):
            self._us_box.addItem(words, str(team or ""))
        ours = self.desk.settings.value("sequence/us", "")
        self._us = {heading.home: Team.HOME, heading.visitors: Team.VISITORS}.get(ours)
        self._us_box.setCurrentIndex(self._us_box.findData(str(self._us or "")))

    def _on_us(self) -> None:
        chosen, heading = self._us_box.currentData(), self.session.game.heading
        self._us = Team(chosen) if chosen else None
        name = "" if self._us is None else heading.home if self._us is Team.HOME else heading.visitors
        self.desk.settings.setValue("sequence/us", name)
        self.palette_.chosen.clear()
        self._on_game()

    def _on_playing(self, playing: bool) -> None:
        self._play.setText("Pause" if playing else "Play")

    def _on_position(self, _: Instant) -> None:
        if self.session.game.drawings:
            self.picture.update()

    # -- finding ----------------------------------------------------------------------------------------------

    def _search(self, *_: object) -> None:
        if self.session is None:
            return
        words = self.sentence.words.text()
        plays = find(self._facts, self.palette_.chosen, words)
        self._arranging = True
        self.results.show_cards([self._card(play) for play in plays], self.session.film)
        self._arranging = False
        self.sentence.show_search(self.palette_.chosen, len(plays), len(self._facts))
        self.results.setVisible(bool(plays))
        self._empty.setVisible(not plays)
        self._empty.setText("No play fits all of this. Put a chip back, or ask for all plays again."
                            if self._facts else "No plays are tagged yet. Tag some, or paste a play sheet, in the Tag room.")
        if not plays:
            self._line.setText("")

    def _card(self, play: int) -> Card:
        title, line = self._words(play)
        place = self._places.plays.get(play)
        if place is None:
            return Card(play, title, line)
        first, last = place.action
        film = self.session.film
        return Card(play, title, line, film.instant_at(Fraction(first).limit_denominator(1000)),
                    Fraction(max(first - 0.5, place.start)).limit_denominator(1000),
                    Fraction(min(last + 1.0, place.end)).limit_denominator(1000))

    def _words(self, play: int) -> tuple[str, str]:
        step, tag = self.session.step_of(play), self.session.play_tag(play)
        number = self.session.position_of(play) + 1
        line = f"{tag.play.kind}, {step.result}" if step.result else str(tag.play.kind)
        return f"{number} · {spoken_situation(step.before)}", line

    def _find_words(self) -> None:
        self.sentence.words.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.sentence.words.selectAll()

    def clear_search(self) -> None:
        self.sentence.words.clear()
        self.palette_.clear()
        self.results.setFocus()

    def _on_current(self) -> None:
        card = self.results.current
        if card is None or self.session is None:
            return
        self._line.setText(f"{card.title}   {card.line}")
        if not self._arranging:     # the film moves only when a person chooses
            self._look_at_card(card)

    def _look_at_card(self, card: Card) -> None:
        if card.still is not None and self.isVisible() and not self.through.running:
            self.session.pause()
            self.session.seek(card.still)

    def play_current(self) -> None:
        """Play the current play's whole shot in the large picture."""
        card = self.results.current
        span = span_of(self.session.game, SequenceItem(card.play)) if card is not None else None
        if span is not None:
            self.through.stop()
            self.session.play_span(*span)

    def toggle(self) -> None:
        focused = QApplication.focusWidget()
        if isinstance(focused, QAbstractButton) and self.isAncestorOf(focused):
            focused.click()         # the space bar presses the button that has the focus, as everywhere
        elif self.session is None:
            return
        elif self.session.playing:
            self.through.stop()
            self.session.pause()
        elif self.reel.hasFocus():
            self.play_item()
        elif self.results.hasFocus():
            self.play_current()
        else:
            self.session.play()

    def _step(self, pictures: int) -> None:
        if self.session is not None:
            self.through.stop()
            self.session.step(pictures)

    def _look_at(self, instant: Instant) -> None:
        self.through.stop()
        self.session.pause()
        self.session.seek(instant)

    # -- the sequence -----------------------------------------------------------------------------------------

    @property
    def sequence(self) -> Sequence | None:
        """The sequence at hand: the one chosen, else the game's first."""
        sequences = self.session.game.sequences if self.session is not None else ()
        return next((each for each in sequences if each.id == self._sequence), sequences[0] if sequences else None)

    def add(self) -> None:
        self._put([card.play for card in self.results.chosen])

    def add_all(self) -> None:
        self._put([card.play for card in self.results.model_.cards])

    def add_with_before(self) -> None:
        """The chosen play and the two filmed before it: what a dispute is about, and how it came to it."""
        card = self.results.current
        if card is not None:
            filmed = [tag.id for tag in self.session.game.plays if tag.shot is not None or tag.id == card.play]
            self._put(with_before(filmed, card.play))

    def _put(self, plays: list[int]) -> None:
        if self.session is None or not plays:
            return
        sequence = self.sequence
        have = {item.play for item in sequence.items} if sequence else set()
        new = tuple(SequenceItem(play) for play in plays if play not in have)
        if not new:
            self.session.told.emit("Already in the sequence")
        elif sequence is None:
            self.session.do(AddSequence(self._free_name(), new))
        else:
            self.session.do(ChangeSequence(replace(sequence, items=(*sequence.items, *new))))
        self._settle()

    def _free_name(self) -> str:
        taken = {sequence.name for sequence in self.session.game.sequences}
        number = 1
        while (name := f"Sequence {number}") in taken:
            number += 1
        return name

    def new(self) -> None:
        if self.session is None:
            return
        before = {sequence.id for sequence in self.session.game.sequences}
        self.session.do(AddSequence(self._free_name()))
        made = [sequence.id for sequence in self.session.game.sequences if sequence.id not in before]
        self._sequence = made[0] if made else self._sequence
        self._settle()

    def delete(self) -> None:
        if self.sequence is not None:
            self.session.do(RemoveSequence(self.sequence.id))
            self._sequence = None
            self._settle()

    def _settle(self) -> None:
        """Show the sequence at once, without waiting for everything else that follows from a change."""
        self._places = Places(self.session.game)
        self._show_sequence()

    def _show_sequence(self) -> None:
        sequence, game = self.sequence, self.session.game
        self._names.blockSignals(True)
        self._names.clear()
        for each in game.sequences:
            self._names.addItem(each.name, each.id)
        self._names.setCurrentIndex(self._names.findData(sequence.id) if sequence else -1)
        if sequence is None:
            self._names.clearEditText()
        self._names.blockSignals(False)
        self._names.setEnabled(bool(game.sequences))
        items = sequence.items if sequence else ()
        self.reel.show_entries([self._entry(item) for item in items])
        self.reel.setVisible(bool(items))
        self._hint.setVisible(not items)
        self._hint.setText("Choose plays in the middle and add them: one by one, with the two before, or all at once.")
        plays = "1 play" if len(items) == 1 else f"{len(items)} plays"
        self._length.setText(f"{plays}, {spoken_time(float(length_of(game, items)))} long" if items else "")
        self.results.taken = frozenset(item.play for item in items)
        self.results.viewport().update()
        self._export.setEnabled(bool(items) and self._job is None)
        self._on_row(self.reel.currentRow())

    def _entry(self, item: SequenceItem) -> Entry:
        title, line = self._words(item.play)
        span = span_of(self.session.game, item)
        if span is None:
            return Entry(title, line, None)
        film, place = self.session.film, self._places.plays.get(item.play)
        still = film.instant_at(Fraction(place.action[0]).limit_denominator(1000)) if place else span[0]
        return Entry(title, line, float(film.time_of(span[1]) - film.time_of(span[0])), still)

    def _on_name_chosen(self, index: int) -> None:
        self._sequence = self._names.itemData(index)
        self._show_sequence()

    def _rename(self) -> None:
        sequence, name = self.sequence, self._names.currentText().strip()
        if sequence is None or not name or name == sequence.name:
            return
        self.session.do(ChangeSequence(replace(sequence, name=name)))

    def _item(self) -> tuple[int, SequenceItem] | None:
        row, sequence = self.reel.currentRow(), self.sequence
        return (row, sequence.items[row]) if sequence is not None and 0 <= row < len(sequence.items) else None

    def _on_row(self, row: int) -> None:
        found = self._item()
        if found is None or self._places is None:
            self.trim.show_item(self.session.film if self.session else self.trim._film, None)
            return
        item, game = found[1], self.session.game
        span = span_of(game, item)
        if span is None:
            self.trim.show_item(game.film, item)
            return
        shot = shot_of(game, self.session.play_tag(item.play).shot)
        place = self._places.plays[item.play]
        marks = [(time, moment.kind) for time, moment in self._places.moments_between(place.start, place.end)
                 if moment.kind in (MomentKind.SNAP, MomentKind.DEAD_BALL)]
        self.trim.show_item(game.film, item, (shot.start, shot.end), span, marks)
        if self.reel.hasFocus() and not self.through.running:
            self.session.pause()
            self.session.seek(span[0])

    def _change_items(self, items: tuple[SequenceItem, ...]) -> None:
        self.session.do(ChangeSequence(replace(self.sequence, items=items)))
        self._settle()

    def move_item(self, source: int, target: int) -> None:
        """Move the play at one place of the sequence to another."""
        items = list(self.sequence.items)
        if source == target or not 0 <= target < len(items):
            return
        items.insert(target, items.pop(source))
        self._change_items(tuple(items))
        self.reel.setCurrentRow(target)

    def _shift(self, by: int) -> None:
        if self._item() is not None:
            self.move_item(self.reel.currentRow(), self.reel.currentRow() + by)

    def remove_item(self) -> None:
        found = self._item()
        if found is not None:
            items = self.sequence.items
            self._change_items(items[:found[0]] + items[found[0] + 1:])

    def _nudge(self, start: int = 0, end: int = 0) -> None:
        found = self._item()
        span = span_of(self.session.game, found[1]) if found else None
        if span is None:
            return
        self._on_trimmed(nudged(self.session.film, found[1], span, start, end))
        span = span_of(self.session.game, self._item()[1])
        film = self.session.film
        last = film.time_of(span[1]) - 1 / film.source(span[1].source).frame_rate
        self._look_at(span[0] if start else film.instant_at(last))

    def _on_trimmed(self, item: SequenceItem) -> None:
        found = self._item()
        if found is not None and found[1] != item:
            items = self.sequence.items
            self._change_items((*items[:found[0]], item, *items[found[0] + 1:]))

    # -- playing --------------------------------------------------------------------------------------------

    def play_item(self) -> None:
        found = self._item()
        span = span_of(self.session.game, found[1]) if found else None
        if span is not None:
            self.through.stop()
            self.session.play_span(*span)

    def play_through(self) -> None:
        if self.session is None or self.sequence is None:
            return
        if self.through.running:
            self.through.stop()
            self.session.pause()
            return
        spans = [(place, *span) for place, item in enumerate(self.sequence.items)
                 if (span := span_of(self.session.game, item)) is not None]
        self.through.start(self.session, spans)

    def _on_reached(self, place: int) -> None:
        self.reel.show_playing(place)
        if place >= 0 and self.sequence is not None:
            self._line.setText("   ".join(self._words(self.sequence.items[place].play)))

    # -- taking it along ---------------------------------------------------------------------------------------

    def _browse(self) -> None:
        dialog = QFileDialog(self, "Folder to export to", self.folder.text())
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.fileSelected.connect(self.folder.setText)
        dialog.open()

    def export(self) -> None:
        """Write the sequence to disk in the chosen form."""
        if self.session is None or self._job is not None:
            return
        sequence = self.sequence
        if sequence is None or not sequence.items:
            self._tell("Put at least one play into the sequence first.", "bad")
            return
        to = self.folder.text().strip()
        if not to:
            self._tell("Say which folder to export to.", "bad")
            self.folder.setFocus()
            return
        game = self.session.game
        wish = Wish(game, sequence.name, tuple(segments_of(game, self.session.steps, sequence.items)),
                    Path(to).expanduser(), Form(self.form.currentData()), self.captions.isChecked(),
                    statement=self.statement.text().strip())
        left_out = len(sequence.items) - len(wish.segments)
        self._left_out = f" {left_out} of its plays were not filmed." if left_out else ""
        self._job = self.desk.jobs.start(f"Export {sequence.name}", lambda progress: export(wish, progress),
                                         succeeded=self._on_written, failed=self._on_failed)
        self._job.progressed.connect(self._on_progress)
        self._job.cancelled.connect(lambda: self._end("Stopped. Nothing half-written was left behind.", "warn"))
        self._bar.setRange(0, 0)
        self._bar.setFormat("%p %")
        for widget, shown in ((self._bar, True), (self._cancel, True), (self._told, False)):
            widget.setVisible(shown)
        self._export.setEnabled(False)

    def stop_export(self) -> None:
        if self._job is not None:
            self._job.cancel()

    def _on_progress(self, share: float, left: float) -> None:
        self._bar.setRange(0, 100)
        self._bar.setValue(round(share * 100))
        self._bar.setFormat("%p %" if left < 0 else f"%p %, {left:.0f} s left")

    def _on_written(self, written: Written) -> None:
        self._end("\n".join((f"✓ Written to {written.path}.{self._left_out}", *written.notes)), "good")

    def _on_failed(self, why: str) -> None:
        self._end(f"Not written: {why}", "bad")

    def _end(self, words: str, ink: str) -> None:
        self._job = None
        self._bar.hide()
        self._cancel.hide()
        self._export.setEnabled(bool(self.sequence and self.sequence.items))
        self._tell(words, ink)

    def _tell(self, words: str, ink: str) -> None:
        restyle(self._told, ink=ink)
        self._told.setText(words)
        self._told.show()

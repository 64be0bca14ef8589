"""The Sequence room: a coach finds plays, puts them in an order and takes them along."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QSplitter, QWidget

from ...delivery.cutting import span_of, with_before
from ...film.time import Instant
from ...football.field import Team
from ...season.finder import FactBook, Facts, counted, find, spoken_play
from ...tagging.angles import angle_that_holds, layout_from
from ...tagging.discretion import meant_by, sensitive_spans, shown_between
from ...tagging.layout import FilmLayout
from ...tagging.model import SequenceItem, ShotKind
from ..beside import BesideMode
from ..keys import KeyButton
from ..picture import PictureView
from ..review.drawing import DrawingLayer
from ..room import Room
from ..session import Session
from ..speech import custom_of
from ..timers import timer
from ..widgets import Wrapping, choice, flow, in_column, in_row, label, offer, portion
from .editor import SequenceEditor, ShownSpan
from .export_panel import ExportPanel
from .filters import FilterList, SentenceBar
from .play_through import PlayThrough
from .results import PlayCard, ResultList

_AFTER = 40         # milliseconds


class SequenceRoom(Room):
    """The room in which plays are found, ordered and exported."""

    name = "Sequence"
    purpose = "Find plays, put them in an order, and take them along as one film."

    def _building(self) -> Iterator[None]:
        self._facts: list[Facts] = []
        self._book = FactBook()
        # In a turn of the event loop of their own, behind the one that paints the room.
        self._counting = timer(self, _AFTER, self._show_filters)
        self._places: FilmLayout        # of the game on show, from the first time it is shown on
        self._us: Team | None = None
        self._only: frozenset[int] | None = None        # the plays that somebody came to see; None for all
        self._captioned: int | None = None      # the play on the picture
        self._arranging = False     # cards are being laid out; nobody has chosen one
        self._refresh = timer(self, 0, self._on_game)
        self._before: tuple[int, BesideMode] | None = None      # how one looked before the sequence showed other angles
        self._split = QSplitter(Qt.Orientation.Horizontal, self)
        in_column(self._split, on=self, margins=8)
        self._build_finding()
        yield from self.filters.building()
        yield from self._building_film()
        yield
        yield from self._building_reel()
        yield
        portion(self._split, (0, 1), (290, 690, 290))
        self.through = PlayThrough(self)
        self.filters.changed.connect(self._search)
        self.sentence.typed.connect(self._search)
        self.sentence.put_back.connect(lambda each: self.filters.take(each, False))
        self.sentence.words.returnPressed.connect(self._to_results)
        self.results.selectionModel().currentChanged.connect(lambda *_: self._on_current())
        self.results.clicked.connect(self._look_at_current)
        self.results.doubleClicked.connect(lambda _: self.play_current())
        self.editor.changed.connect(self._on_sequence)
        self.editor.looked_at.connect(self._look_at)
        self.editor.through_wanted.connect(self.play_through)
        self.editor.reel.itemDoubleClicked.connect(lambda _: self.play_item())
        self.exporting.asked.connect(self.export)
        self.through.reached.connect(self._on_reached)
        self.through.finished.connect(self._look_as_before)
        self._holders = (self.picture, self.drawing, self.results, self.editor)
        self._bind()

    # -- how it is laid out ------------------------------------------------------------------------------

    def _build_finding(self) -> None:
        column = QWidget(self._split)
        self.keep_wide(column, 280)
        self.sentence = SentenceBar(column)
        self._us_box = choice("Whose side we are on", act=self._on_us, parent=column)
        self.filters = FilterList(column)
        # What was chosen stands below, so that nothing moves under the mouse when one is.
        layout = in_column(self.sentence, self._us_box, (self.filters, 1), self.sentence.taken, on=column,
                           margins=(0, 0, 4, 0), spacing=6)
        layout.addLayout(in_row(self._button("sequence.find", "Words", column),
                                self._button("sequence.clear", "All plays", column), 1))

    def _building_film(self) -> Iterator[None]:
        split = QSplitter(Qt.Orientation.Vertical, self._split)
        upper, lower = Wrapping(split), QWidget(split)
        self.picture = PictureView(parent=upper)
        self.picture.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.drawing = DrawingLayer(self.picture)
        self._line = label("", "lead", elide=True, parent=upper)
        controls, row = flow(parent=upper)
        in_column((self.picture, 1), self._line, controls, on=upper, margins=(4, 0, 4, 0), spacing=6)
        yield
        self._play = self._button("sequence.toggle", "Play", controls)
        for button in (self._play, self._button("sequence.frame_back", "‹", controls),
                       self._button("sequence.frame_ahead", "›", controls),
                       self._button("sequence.add", "Add", controls, "main"),
                       self._button("sequence.add_with_before", "+ 2 before", controls),
                       self._button("sequence.add_all", "Add all", controls)):
            row.addWidget(button)
        yield
        self.results = ResultList(self.desk, lower)
        self._nothing = QWidget(lower)
        self._empty = label("", "lead", "quiet", wrap=True, parent=self._nothing)
        self._empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        in_column((self.results, 1), (self._nothing, 1), on=lower, margins=(4, 0, 4, 0))
        self._begin = KeyButton(self.desk.keys, "desk.tag", "Tag the first play", self._nothing,
                                lambda: self.desk.keys.act("desk.tag"), role="main")
        in_column(0, self._empty, (self._begin, 0, Qt.AlignmentFlag.AlignHCenter), 0, on=self._nothing)
        portion(split, (3, 2), (440, 290))

    def _building_reel(self) -> Iterator[None]:
        column = Wrapping(self._split)
        self.keep_wide(column, 250)
        self.editor = SequenceEditor(self.desk, self._words, column)
        yield
        self.exporting = ExportPanel(self.desk, column)
        in_column((self.editor, 1), self.exporting, on=column, margins=(4, 0, 0, 0), spacing=6)

    def _button(self, id: str, text: str, parent: QWidget, role: str = "") -> KeyButton:
        return KeyButton(self.desk.keys, id, text, parent, lambda: self._acts[id](), role=role)

    def _bind(self) -> None:
        self._acts = {
            "sequence.find": self._find_words, "sequence.clear": self.clear_search,
            "sequence.results": self._to_results, "sequence.filters": self.filters.focus_first,
            "sequence.add": self.add, "sequence.add_with_before": self.add_with_before,
            "sequence.add_all": self.add_all, "sequence.items": self.editor.focus_reel,
            "sequence.earlier": lambda: self.editor.shift(-1), "sequence.later": lambda: self.editor.shift(1),
            "sequence.remove": self.editor.remove,
            "sequence.in_earlier": lambda: self.editor.nudge(start=-1),
            "sequence.in_later": lambda: self.editor.nudge(start=1),
            "sequence.out_earlier": lambda: self.editor.nudge(end=-1),
            "sequence.out_later": lambda: self.editor.nudge(end=1),
            "sequence.toggle": self.toggle, "sequence.frame_back": lambda: self._step(-1),
            "sequence.frame_ahead": lambda: self._step(1),
            "sequence.through": self.play_through, "sequence.new": self.editor.new,
            "sequence.delete": self.editor.delete,
            "sequence.export": self.export, "sequence.angles_alike": self.editor.show_all_alike,
        }
        only_there = {"sequence.add": self.results, "sequence.add_with_before": self.results}
        for id, act in self._acts.items():
            self.desk.keys.bind(id, only_there.get(id, self), act)

    # -- coming and going -----------------------------------------------------------------------------------

    def enter(self, session: Session) -> None:
        """Show this session; what another one left is put away."""
        if session is not self._session:
            self._release()
            self._only = None
            super().enter(session)
            self.picture.message = "No picture yet. Open footage in the Tag room."
            for holder in self._holders:
                holder.show_session(session)
            self._take_us()
            self.exporting.begin_in(Path(session.file.path).parent / "exports")
        self._captioned = None
        self._on_game()
        here = self._places.play_at(float(session.time))
        self._show_caption(here)
        if here is not None:
            self._arranging = True
            self.results.choose(here)
            self._arranging = False
        self._to_results()

    def taken_to(self, play: int) -> None:
        """Name the play that a page took the film to, and choose it among those found."""
        self.through.stop()
        self._show_caption(play)
        self._arranging = True
        self.results.choose(play)
        self._arranging = False

    def leave(self) -> None:
        """Pause everything that plays."""
        self.through.stop()
        self.session.pause()
        self._look_as_before()

    def forget(self) -> None:
        """Let the session go."""
        self._release()
        super().forget()

    def _release(self) -> None:
        self._refresh.stop()
        if not self.has_session:
            return
        self.through.stop()
        self._before = None
        for holder in self._holders:
            holder.show_session(None)

    def _follows(self, session: Session) -> list:
        return [(session.game_changed, self._later), (session.derived_changed, self._later),
                (session.playing_changed, self._on_playing), (session.position_changed, self._on_position)]

    # -- what changes --------------------------------------------------------------------------------------

    def _later(self, *_: object) -> None:
        # Out of sight it costs nothing, and entering brings it up to date; while the sequence changes angles as it
        # plays through, the plays that were found stay as they are.
        if self.isVisible() and not self.through.running:
            self._refresh.start()

    def _on_game(self) -> None:
        game = self.session.game
        self._places = layout_from(self.session.whole, self.session.angle)
        self._facts = self._book.of(game, self.session.steps, self.session.coverage, self._us)
        self.editor.refresh(self._places)
        self._search()

    def _show_filters(self) -> None:
        self.filters.show_filters(counted(self._facts, self.filters.chosen, self.sentence.words.text()),
                                  len(self._facts))

    def _take_us(self) -> None:
        heading = self.session.game.heading
        self._us = custom_of(self.desk.settings, heading).us
        offer(self._us_box, (("No side is ours", ""), (f"We are {heading.home}", str(Team.HOME)),
                             (f"We are {heading.visitors}", str(Team.VISITORS))), str(self._us or ""))

    def _on_us(self) -> None:
        chosen, heading = self._us_box.currentData(), self.session.game.heading
        self._us = Team(chosen) if chosen else None
        self.desk.settings.setValue("sequence/us", heading.name_of(self._us))
        self.filters.chosen.clear()
        self._on_game()

    def _on_playing(self, playing: bool) -> None:
        self._play.setText("Pause" if playing else "Play")

    def _on_position(self, _: Instant) -> None:
        if self.session.game.drawings:
            self.picture.update()

    # -- finding ----------------------------------------------------------------------------------------------

    def show_only(self, plays: Sequence[int], words: str) -> None:
        """Show these plays only, until all plays are asked for again; *words* say which they are."""
        self.sentence.words.clear()
        self.filters.clear()
        self._only = frozenset(plays)
        self._search()
        self.session.notice.emit(f"{len(plays)} plays of the breakdown: {words}. Esc shows all plays again.")
        self._to_results()

    def _search(self, *_: object) -> None:
        words = self.sentence.words.text()
        plays = find(self._facts, self.filters.chosen, words)
        if self._only is not None:
            plays = [play for play in plays if play in self._only]
        told = {facts.play: facts for facts in self._facts}
        self._arranging = True
        self.results.show_cards([self._card(told[play]) for play in plays], self.session.film)
        self._arranging = False
        self.sentence.show_search(self.filters.chosen, len(plays), len(self._facts))
        self._counting.start()
        self.results.setVisible(bool(plays))
        self._nothing.setVisible(not plays)
        self._begin.setVisible(not self._facts)
        self._empty.setText("No play fits all of this. Take a filter away, or ask for all plays again."
                            if self._facts else
                            "No plays are tagged yet. Tag some, or paste a play sheet, in the Tag room.")
        self._show_caption()

    def _card(self, facts: Facts) -> PlayCard:
        place = self._places.plays.get(facts.play)
        if place is None:
            return PlayCard(facts.play, facts.title, facts.line)
        first, last = place.action
        return PlayCard(facts.play, facts.title, facts.line, place.begins, max(first - 0.5, place.start),
                        min(last + 1.0, place.end))

    def _show_caption(self, play: int | None = None) -> None:
        """Name the play on the picture: *play*, or as before, however the lists around it change."""
        self._captioned = play if play is not None else self._captioned
        is_known = any(tag.id == self._captioned for tag in self.session.game.plays)
        self._line.setText("   ".join(self._words(self._captioned)) if self._captioned is not None and is_known else "")

    def _words(self, play: int) -> tuple[str, str]:
        session = self.session
        names = session.game.heading.names
        return spoken_play(session.position_of(play) + 1, session.step_of(play), session.rulebook.field_length,
                           names if self._us is None else {self._us: "us", self._us.opponents: "them"})

    def _find_words(self) -> None:
        self.sentence.words.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.sentence.words.selectAll()

    def clear_search(self) -> None:
        """Clear the words and every filter, and the choice that came from elsewhere."""
        self._only = None
        self.sentence.words.clear()
        self.filters.clear()
        self._to_results()

    def _to_results(self) -> None:
        """Let the keys go to the plays found. Where none are, they stay where they are: a hidden list that was given
        the focus would take it as soon as it shows, out of the word that is being typed."""
        if self.results.isVisibleTo(self):
            self.results.setFocus()

    def _on_current(self) -> None:
        card = self.results.current
        if card is None:
            return
        if not self._arranging:     # the film moves only when a person chooses
            self._look_at_card(card)

    def _look_at_current(self, *_: object) -> None:
        if self.results.current is not None:
            self._look_at_card(self.results.current)

    def _look_at_card(self, card: PlayCard) -> None:
        if card.still is not None and self.isVisible() and not self.through.running:
            self._show_caption(card.play)
            self.session.pause()
            self.session.seek(card.still)

    def play_current(self) -> None:
        """Play the current play's whole shot in the large picture."""
        card = self.results.current
        span = span_of(self._places, SequenceItem(card.play)) if card is not None else None
        if card is not None and span is not None:
            self.through.stop()
            self._show_caption(card.play)
            self.session.play_span(*span)

    def toggle(self) -> None:
        """Pause or play what is shown."""
        if self.session.playing:
            self.through.stop()
            self.session.pause()
        elif self.editor.reel.hasFocus():
            self.play_item()
        elif self.results.hasFocus():
            self.play_current()
        else:
            self.session.play()

    def _step(self, pictures: int) -> None:
        self.through.stop()
        self.session.step(pictures)

    def _look_at(self, instant: Instant) -> None:
        """Look at an end of the play that is chosen in the sequence, from the angle that shows it there."""
        self.through.stop()
        self._show_caption(self.editor.current[1].play if self.editor.current else None)
        self.session.pause()
        self._note_look()
        self.session.see(angle_that_holds(self.session.whole, instant.source), instant)
        self.session.seek(instant)

    # -- the sequence -----------------------------------------------------------------------------------------

    def add(self) -> None:
        """Put the chosen plays into the sequence."""
        self.editor.put([card.play for card in self.results.chosen])

    def add_all(self) -> None:
        """Put all plays that were found into the sequence."""
        self.editor.put([card.play for card in self.results.model_.cards])

    def add_with_before(self) -> None:
        """The chosen play and the two filmed before it: what a dispute is about, and how it came to it."""
        card = self.results.current
        if card is not None:
            filmed = [tag.id for tag in self.session.game.plays if tag.shot is not None or tag.id == card.play]
            self.editor.put(with_before(filmed, card.play))

    def _on_sequence(self) -> None:
        items = self.editor.items
        self.results.taken = frozenset(item.play for item in items)
        self.results.viewport().update()
        self.exporting.offer(bool(items))
        self.exporting.offer_freeze(self._is_drawn_on())
        shown = self._sensitive()
        self.exporting.caution(f"Shows {' and '.join(shown)}. A notice that asks for discretion goes with it."
                               if shown else "")

    def _is_drawn_on(self) -> bool:
        """Whether a drawing of one moment lies on a picture of the sequence."""
        return any(drawing.until is None and layout.knows(drawing.at)
                   and layout.time(each.start) <= layout.time(drawing.at) < layout.time(each.end)
                   for each in self.editor.shown_spans for layout in (self.editor.layouts[each.angle],)
                   for drawing in layout.game.drawings)

    def _sensitive(self) -> list[str]:
        """What in the sequence asks for discretion, and in which plays."""
        spans = {number: sensitive_spans(layout) for number, layout in self.editor.layouts.items()}
        plays: dict[ShotKind, list[str]] = {}
        for place, item in enumerate(self.editor.items):
            shown = [(self.editor.layouts[each.angle], each) for each in self.editor.shown_spans if each.place == place]
            seen = (kind for layout, each in shown for kind in shown_between(
                spans[each.angle], layout.time(each.start), layout.time(each.end)))
            for kind in dict.fromkeys((*meant_by(self.session.play_tag(item.play).play), *seen)):
                plays.setdefault(kind, []).append(str(self.session.position_of(item.play) + 1))
        return [f"an {kind} (play {', '.join(numbers)})" for kind, numbers in plays.items()]

    # -- playing --------------------------------------------------------------------------------------------

    def play_item(self) -> None:
        """Play the chosen place of the sequence, handles and all, from each of its angles."""
        found = self.editor.current
        if found is not None:
            self._play_spans([each for each in self.editor.shown_spans if each.place == found[0]])

    def play_through(self) -> None:
        """Play the whole sequence as one film; again to stop."""
        if self.through.running:
            self.through.stop()
            self.session.pause()
        else:
            self._play_spans(self.editor.shown_spans)

    def _play_spans(self, spans: list[ShownSpan]) -> None:
        session = self.session
        self.through.stop()
        self._note_look()
        others = dict.fromkeys(session.name_of(each.heard) for each in spans if each.heard not in (None, each.angle))
        if others:
            session.notice.emit("Heard here: the sound of the picture. What is handed on has the sound of "
                                f"{' and '.join(others)} instead.")

        def show(at: int) -> None:
            """Look from the angles of a span, one or two in one picture."""
            each = spans[at]
            session.see(each.angle, each.start)
            mode = BesideMode.OFF if each.beside is None else BesideMode.INSET if each.inset else BesideMode.EQUAL
            if (mode, each.beside) != (session.beside.mode, session.beside.angle if each.beside is not None else None):
                session.beside.show(mode, each.beside)

        self.through.start(session, [(each.place, each.start, each.end) for each in spans], show)

    def _note_look(self) -> None:
        if self._before is None and len(self.session.numbers) > 1:
            self._before = self.session.angle, self.session.beside.mode

    def _look_as_before(self) -> None:
        """Look again from the angle that was looked at before the sequence showed others, and beside it what was."""
        if self._before is not None:
            (angle, mode), self._before = self._before, None
            if self.session.beside.mode is not mode:
                self.session.beside.show(mode)
            if angle in self.session.numbers:
                self.session.see(angle)

    def _on_reached(self, place: int) -> None:
        self.editor.show_playing(place)
        if place < 0:
            self._later()
        if 0 <= place < len(self.editor.items):
            self._show_caption(self.editor.items[place].play)

    # -- taking it along ---------------------------------------------------------------------------------------

    def export(self) -> None:
        """Write the sequence to disk in the chosen form."""
        sequence = self.editor.sequence
        if sequence is None or not sequence.items:
            self.exporting.tell("Put at least one play into the sequence first.", "bad")
            return
        self.exporting.run(self.session, sequence)

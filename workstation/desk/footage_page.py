"""The files of the film on screen: what each one is, whether it can be shown, and in which order they run."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHeaderView, QWidget

from ..film.cards import spoken_size
from ..film.film import Source
from ..film.time import spoken_time
from ..tagging.operations import OrderSources, RemoveSources
from ..tagging.operations.operation import count
from .keys import KeyButton, KeyMap
from .session import Session
from .session_holder import SessionHolder
from .widgets import choice, fill_row, in_column, in_row, label, offer, say, table

_COLUMNS = ("File", "In the film at", "Length", "Picture", "Sound", "Begun", "State")


class FootagePage(SessionHolder, QWidget):
    """A page of its own; ``closed`` is sent when the person is through with it."""

    closed = Signal()
    more_wanted = Signal()
    search_wanted = Signal()
    lighter_wanted = Signal(object, object)         # sources, and what to call when it is done
    lighter_unwanted = Signal(object, object)       # the same; None for every film's

    def __init__(self, keys: KeyMap):
        super().__init__()
        self._keys = keys
        self.setObjectName("ground")
        self.setAccessibleName("The film's files")
        self._heavy: list[Source] = []          # large files without a lighter copy
        self._light: tuple[Source, ...] | None = None       # those with one; None means every film's
        self._confirmed: str | None = None      # a source with tags that may go if it is asked for again
        self.title = label("", "title")
        self.table = table(_COLUMNS, "Files of the film, in their order", by_row=True)
        heads = self.table.horizontalHeader()
        heads.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        heads.setStretchLastSection(True)
        self.table.currentCellChanged.connect(lambda *_: self._choose())
        self.table.cellDoubleClicked.connect(lambda *_: self._go_there())
        self._said = label(wrap=True)
        self.earlier = self._button("files.earlier", "Earlier", lambda: self.shift(-1))
        self.later = self._button("files.later", "Later", lambda: self.shift(1))
        self.sort = self._button("files.sort", "As the camera numbered them", self.sort_as_numbered)
        self.leave_out = self._button("files.remove", "Leave out", self.remove)
        self.more = self._button("desk.add", "Add footage…", self.more_wanted.emit, is_bound=False)
        self.search = self._button("desk.find", "Look for missing footage…", self.search_wanted.emit, is_bound=False)
        self.lighten = self._button("files.lighten", "", lambda: self.lighter_wanted.emit(self._heavy, self._changed))
        self.unlighten = self._button("files.unlighten", "",
                                      lambda: self.lighter_unwanted.emit(self._light, self._changed))
        self.back = KeyButton(keys, "files.leave", "Back", None, self.closed.emit, self, "main")
        keys.bind("files.go", self, self._go_there)

        self.angle = choice("Which angle's files", act=lambda: self.session.see(int(self.angle.currentData())),
                            parent=self)
        in_column(in_row(self.angle, (self.title, 1), self.more, self.search, self.back), (self.table, 1), self._said,
                  in_row(self.earlier, self.later, self.sort, self.lighten, self.unlighten, 1, self.leave_out),
                  on=self, margins=(18, 14, 18, 14))

    def _button(self, id: str, text: str, act: Callable[[], object], is_bound: bool = True) -> KeyButton:
        """A button for an action, whose keys are bound here unless the window has bound them."""
        return KeyButton(self._keys, id, text, act=act, bound_in=self if is_bound else None)

    def _follows(self, session: Session) -> list:
        return [(session.game_changed, self._changed)]

    def _changed(self, *_) -> None:
        if self.isVisible():
            self._fill()

    def showEvent(self, event) -> None:
        """Show the source that the playhead is in."""
        super().showEvent(event)
        at = self.session.position
        self._fill(at.source if at is not None else None)
        self.table.setFocus()

    # -- showing ------------------------------------------------------------------------------
    def _fill(self, chosen: str | None = None) -> None:
        from ..film.playing_copy import lightened, space_taken  # imports film reading, which is slow
        film = self.session.film
        self._offer_angles()
        chosen = chosen or self.chosen
        bad = sum(source.problem is not None for source in film.sources)
        self.title.setText(f"{len(film.sources)} files, {spoken_time(float(film.duration))}"
                           + (f"; {bad} cannot be shown" if bad else ""))
        tagged, light = self._shots(), set(lightened(film))
        self.table.blockSignals(True)
        self.table.setRowCount(len(film.sources))
        for row, source in enumerate(film.sources):
            played = f" · plays from a lighter copy of {spoken_size(space_taken([source]))}" if source in light else ""
            cells = fill_row(self.table, row, (
                source.path.name, spoken_time(float(film.starts_at(source.id))),
                spoken_time(float(source.duration), tenths=True), _picture(source), source.audio_codec or "none",
                _begun(source), _state(source, tagged.get(source.id, 0)) + played))
            cells[0].setToolTip(str(source.path))
        row = next((row for row, source in enumerate(film.sources) if source.id == chosen), 0)
        self.table.setCurrentCell(row, 0)
        self.table.blockSignals(False)
        self._offer_lighter()
        self._choose()

    def _offer_lighter(self) -> None:
        """Say what lighter copies take, where there are any, and offer them where they would help."""
        from ..film.playing_copy import has_lighter, lightened, space_taken
        film = self.session.film
        light = lightened(film)
        self._heavy = [source for source in film.sources if has_lighter(source) and source not in light]
        self.lighten.setVisible(bool(self._heavy))
        self.lighten.setText("Make a lighter copy to play" if len(self._heavy) == 1 else
                             f"Make lighter copies to play of {len(self._heavy)} files")
        own, every = space_taken(light), space_taken()
        self._light = light if own else None            # None: those of every film
        self.unlighten.setVisible(every > 0)
        self.unlighten.setText(f"Delete the lighter copies, {spoken_size(own)}" if own else
                               f"Delete the lighter copies of other films, {spoken_size(every)}")
        self.unlighten.setToolTip(f"Lighter copies of all films take {spoken_size(every)}. Without them film plays "
                                  "from its original." if every else "")

    def _offer_angles(self) -> None:
        session = self.session
        offer(self.angle, [(session.name_of(number), number) for number in session.numbers], session.angle)
        self.angle.setVisible(self.angle.count() > 1)

    def _shots(self) -> dict[str, int]:
        """How many shots each source holds."""
        return Counter(shot.start.source for shot in self.session.game.shots)

    @property
    def chosen(self) -> str | None:
        """The id of the source on the current row."""
        sources = self.session.film.sources
        row = self.table.currentRow()
        return sources[row].id if 0 <= row < len(sources) else None

    def _choose(self) -> None:
        self._confirmed = None
        row, last = self.table.currentRow(), self.table.rowCount() - 1
        may = not self.session.file.read_only
        self.earlier.setEnabled(may and row > 0)
        self.later.setEnabled(may and 0 <= row < last)
        self.sort.setEnabled(may and last > 0)
        self.leave_out.setEnabled(may and row >= 0)
        self.leave_out.setText("Leave out")
        problem = self.session.film.sources[row].problem if self.chosen else None
        self._tell(problem or ("Enter goes to the file in the film." if self.chosen else "No footage yet."),
                   "bad" if problem else "quiet")

    def _tell(self, text: str, ink: str = "quiet") -> None:
        say(self._said, text, ink)

    # -- doing --------------------------------------------------------------------------------
    def _go_there(self) -> None:
        if self.chosen is not None:
            self.session.seek(self.session.film.source(self.chosen).first)
            self.closed.emit()

    def shift(self, by: int) -> None:
        """Let the chosen file come one earlier (-1) or later (1)."""
        ids = [source.id for source in self.session.film.sources]
        row = self.table.currentRow()
        if 0 <= row < len(ids) and 0 <= row + by < len(ids) and not self.session.file.read_only:
            ids[row], ids[row + by] = ids[row + by], ids[row]
            self._order(ids, ids[row + by])

    def sort_as_numbered(self) -> None:
        """Put the files in the order in which the camera numbered them."""
        from ..film.sources import in_camera_order
        sources = self.session.film.sources
        places = {path: place for place, path in enumerate(in_camera_order([source.path for source in sources]))}
        self._order([source.id for source in sorted(sources, key=lambda source: places[source.path])], self.chosen)

    def _order(self, ids: list[str], chosen: str | None) -> None:
        if tuple(ids) == tuple(source.id for source in self.session.film.sources):
            self._tell("They are in this order already.")
        elif self.session.do(OrderSources(tuple(ids))) is not None:
            self._fill(chosen)

    def remove(self) -> None:
        """Leave the chosen file out of the film; if anything is tagged on it, only when asked for twice."""
        id = self.chosen
        if id is None or self.session.file.read_only:
            return
        tags = self._shots().get(id, 0)
        name = self.session.film.source(id).path.name
        if tags and self._confirmed != id:
            self._confirmed = id
            self.leave_out.setText("Leave out with its tags")
            self._tell(f"{tags} {'shot is' if tags == 1 else 'shots are'} tagged on {name} and would go with it; "
                       "their plays stay as not filmed. Once more leaves it out; Undo brings all of it back. "
                       "The file itself stays where it is.", "warn")
            return
        row = self.table.currentRow()
        if self.session.do(RemoveSources((id,), with_tags=True)) is not None:
            sources = self.session.film.sources
            self._fill(sources[min(row, len(sources) - 1)].id if sources else None)
            self._tell(f"{name} is left out of the film. The file itself stays where it is.", "good")


def _picture(source: Source) -> str:
    if not source.width:
        return "none"
    width, height = source.display_size
    kind = "i" if source.interlaced else "p"
    return f"{width}×{height}{kind} {float(source.frame_rate):.5g}, {source.video_codec}"


def _begun(source: Source) -> str:
    """When the camera says that it began, to the second, and its timecode."""
    created = (source.created or "").split(".")[0].rstrip("Z").replace("T", " ")
    return " · ".join(part for part in (created, source.timecode) if part)


def _state(source: Source, shots: int) -> str:
    if source.problem:
        return f"! {source.problem}"
    tagged = count(shots, "shot") if shots else "nothing tagged"
    return f"{tagged} · ! {source.warning}" if source.warning else tagged

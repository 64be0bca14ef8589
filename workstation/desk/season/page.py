"""The season page: the shelf on the left, the breakdown in the middle, film and sequence on the right."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QSplitter, QWidget

from ...season.breakdown import Breakdown, Key, coded
from ...season.definitions import derive, meanings
from ...season.facts import OWN_WORD
from ...season.reel import PlayKey
from ...season.shelf import Shelf
from ...tagging.model import Game
from ...tagging.operations.operation import count
from ..asking import ask_for_folder, ask_to_save
from ..jobs import Job, Progress
from ..keys import KeyButton
from ..review.trend import TrendChart
from ..room import Desk
from ..session import Session
from ..widgets import Pages, Wrapping, choice, flow, in_column, in_row, label, labelled, portion, say, scrolled
from .film import SeasonFilm
from .film_panel import FilmPanel
from .pictures import BreakdownPicture, PictureKind
from .recipe_panel import RecipePanel
from .shelf_panel import ShelfPanel
from .table import BreakdownTable, Shown

if TYPE_CHECKING:
    import pandas as pd

    from ...delivery.sequence import Written
    from ...season.games_trend import Trend

_WIDTHS = (240, 600, 400)


class SeasonPage(QWidget):
    """A page of its own; ``closed`` is sent when the person is through with it, ``plays_wanted`` to see plays of the
    open game in the Sequence room."""

    closed = Signal()
    plays_wanted = Signal(list, str)

    def __init__(self, desk: Desk):
        super().__init__()
        self.setObjectName("ground")
        self.setAccessibleName("Season")
        self._desk = desk
        self._session: Session | None = None
        self._shelf: Shelf | None = None
        self._made: Breakdown | None = None
        self._job: Job | None = None
        self._next: Callable[[], object] | None = None      # what to do once the shelf is free again
        self._ended_for_good = False
        self.film = SeasonFilm(self)
        self._build()
        desk.keys.bind_all(self, {
            "season.leave": self.closed.emit, "season.refresh": self.refresh, "season.open_cell": self.open_cell,
            "season.write": self.write, "season.export": self.export, "season.reports": self.write_reports,
            "season.sequence_room": self.to_sequence_room, "season.folder": self.shelf.choose_folder,
            "season.also": lambda: self.shelf.choose_folder(also=True),
            "season.every_game": self.shelf.every_game, "season.save": self.recipe.save,
            "season.define": self.recipe.toggle, "season.find": self.recipe.words.setFocus,
            "season.through": self.film_panel.play_through, "season.add": self.film_panel.add,
            "season.add_all": self.film_panel.add_all, "season.play_sequence": self.film_panel.play_sequence,
            "season.remove": self.film_panel.remove, "season.earlier": lambda: self.film_panel.shift(-1),
            "season.later": lambda: self.film_panel.shift(1), "season.empty": self.film_panel.empty,
            "season.angle": self.film_panel.shown_from.choose_next,
            "season.table": self.table.setFocus})

    # -- building ------------------------------------------------------------------------------------------
    def _build(self) -> None:
        split = QSplitter(Qt.Orientation.Horizontal, self)
        self.shelf = ShelfPanel(self._desk, split)
        split.addWidget(self.shelf)
        split.addWidget(self._build_middle())
        self.film_panel = FilmPanel(self._desk, self.film, split)
        self.film_panel.wanted.connect(self._want_film)
        self.film_panel.reel_changed.connect(self._offer)
        self.film_panel.put_below(self._build_out(self.film_panel))
        split.addWidget(self.film_panel)
        portion(split, (1, 3, 2), _WIDTHS)
        self._said = label("", "body", "quiet", elide=True)
        head = in_row(label("Season", "title"), (self._said, 1),
                      self._button("season.reports", "Reports…", self.write_reports),
                      self._button("season.refresh", "Look again", self.refresh),
                      self._button("season.leave", "Back", self.closed.emit))
        in_column(head, (split, 1), on=self, margins=(12, 8, 12, 8), spacing=6)
        self.shelf.folders_changed.connect(self._on_folders)
        self.shelf.chosen_changed.connect(self._on_chosen)

    def _build_middle(self) -> QWidget:
        middle = Wrapping(self)
        self.recipe = RecipePanel(self._desk, middle)
        self.recipe.changed.connect(self.count)
        self.recipe.values_wanted.connect(self._give_values)
        self.recipe.told.connect(self.tell)
        self.table = BreakdownTable(self._desk, middle)
        self.table.cell_chosen.connect(self._on_cell)
        self.recipe.words.returnPressed.connect(self.table.setFocus)
        self.table.cell_opened.connect(lambda *_: self.open_cell())
        self.shown = choice("What a cell tells", [(str(each), each) for each in Shown], self._show, parent=middle)
        self.look = choice("Picture", [(str(each), each) for each in PictureKind], self._show_picture, parent=middle)
        row_holder, row = flow(parent=middle)
        row.addWidget(labelled("In a cell", self.shown))
        row.addWidget(labelled("Picture", self.look))
        for id, text, act in (("season.open_cell", "Play these", self.open_cell),
                              ("season.sequence_room", "In the Sequence room", self.to_sequence_room),
                              ("season.write", "Write…", self.write)):
            row.addWidget(self._button(id, text, act, row_holder))
        self.picture = BreakdownPicture(self._desk)
        self.trend = TrendChart(self._desk)
        self._pictures = Pages(middle)
        self._pictures.addWidget(scrolled(self.picture, "Picture of the breakdown", is_wide=False))
        self._pictures.addWidget(scrolled(self.trend, "Trend of the filming", is_wide=False))
        halves = QSplitter(Qt.Orientation.Vertical, middle)
        halves.addWidget(self.table)
        halves.addWidget(self._pictures)
        portion(halves, (3, 2), (330, 190), may_collapse=True)
        in_column(self.recipe, (halves, 1), row_holder, on=middle, margins=(4, 0, 4, 0), spacing=6)
        return middle

    def _build_out(self, parent: QWidget) -> QWidget:
        from ...delivery.sequence import Form

        out, row = flow(parent=parent)
        self.form = choice("What to write the sequence as", [(str(form), form) for form in Form], letters=10,
                           parent=out)
        row.addWidget(self.form)
        self._export = KeyButton(self._desk.keys, "season.export", "Export…", out, self.export, role="main")
        row.addWidget(self._export)
        return out

    def _button(self, id: str, text: str, act: Callable[[], object], parent: QWidget | None = None) -> KeyButton:
        return KeyButton(self._desk.keys, id, text, parent or self, act)

    # -- coming and going ----------------------------------------------------------------------------------
    def show_session(self, session: Session | None) -> None:
        """The game that is open beside; None if none is."""
        self._session = session

    def showEvent(self, event) -> None:
        """Look at the season's folders; without any, at that of the open game."""
        super().showEvent(event)
        if not self.shelf.folders and self._session is not None:
            self._desk.settings.setValue("season/folders", [str(Path(self._session.file.path).parent)])
        self.refresh()
        self.table.setFocus()

    def hideEvent(self, event) -> None:
        """Stop what plays."""
        self.film_panel.through.stop()
        self.film.pause()
        super().hideEvent(event)

    def end(self) -> None:
        """The window closes: wait for what is under way, and let the film go."""
        self._ended_for_good, self._next = True, None
        if self._job is not None:
            self._job.cancel()
            self._job.wait(10)
        self.film_panel.through.stop()
        self.film.close()

    def tell(self, words: str, ink: str = "quiet") -> None:
        """Say a line at the head of the page."""
        say(self._said, words, ink)

    # -- the shelf, one job at a time ------------------------------------------------------------------------
    def _start(self, title: str, work: Callable[[Progress], Any], done: Callable[[Any], object],
               again: Callable[[], object], shown: bool = False) -> None:
        """Do *work* on the shelf; while other work is under way, call *again* when it has ended instead."""
        if self._ended_for_good:
            return
        if self._job is not None:
            self._next = again
            return
        if shown:
            self._job = self._desk.jobs.start(title, work, done, self._fail, lambda: self.tell("Stopped.", "bad"))
        else:
            self._job = Job(title, work, done, self._fail, parent=self)
        self._job.ended.connect(self._ended)
        if not shown:
            self._job.start()

    def _fail(self, why: str) -> None:
        self.tell(why, "bad")

    def _ended(self) -> None:
        self._job = None
        following, self._next = self._next, None
        if following is not None:
            following()

    def _on_folders(self, folders: list[Path]) -> None:
        self._shelf = None
        self.refresh()

    def refresh(self) -> None:
        """Bring the index up to date with the games, and show what there is."""
        folders = self.shelf.folders
        if not folders:
            self.tell("Name the folder of the season's games.", "quiet")
            return
        shelf = self._shelf

        def work(progress: Progress) -> Shelf:
            made = shelf or Shelf(folders)
            made.update(progress)
            made.frame()
            return made

        self.tell("Looking at the games …")
        self._start("Reading the season's games", work, self._take_shelf, self.refresh, shown=True)

    def _take_shelf(self, shelf: Shelf) -> None:
        self._shelf = shelf
        self.shelf.show_shelf(shelf)
        self.recipe.set_us(self.shelf.team)
        words = {name.removeprefix(OWN_WORD): "one of the staff's own words" for name in shelf.frame().columns
                 if name.startswith(OWN_WORD)}
        self.recipe.show_columns(meanings(words))
        self.tell(count(len(shelf.usable), "game")
                  + (f", {count(len(shelf.left_out), 'file')} left out" if shelf.left_out else "")
                  + (". Nothing to count yet: tag plays in the Tag room first" if shelf.frame().empty else ""))
        self.film_panel.show_reel(self._titles_of(self.film_panel.reel.plays))
        self.count()

    def _titles_of(self, plays: list[PlayKey]) -> dict[PlayKey, str]:
        from .film_panel import told

        assert self._shelf is not None
        names, wanted = self.shelf.short_names, set(plays)
        frame = self._shelf.frame([path for path, _ in plays])
        found = {(Path(row.game), int(row.play)): told(row, names) for row in frame.itertuples()}
        return {key: title for key, title in found.items() if key in wanted}

    def _on_chosen(self) -> None:
        self.recipe.set_us(self.shelf.team)
        self.count()

    def count(self) -> None:
        """Count what the recipe says, of the games that are ticked."""
        shelf, recipe, games = self._shelf, self.recipe.recipe, self.shelf.chosen
        if shelf is None:
            return

        def work(progress: Progress) -> Breakdown:
            made = Breakdown(shelf.frame(games, said=bool(recipe.words.strip())), recipe)
            _ = made.cells
            return made

        self._start("Counting plays", work, self._take_breakdown, self.count)

    def _take_breakdown(self, made: Breakdown) -> None:
        self._made = made
        self._show()
        self._show_picture()

    def _show(self) -> None:
        if self._made is not None:
            self.table.show_breakdown(self._made, Shown(self.shown.currentData()))

    def _show_picture(self) -> None:
        look = PictureKind(self.look.currentData())
        self._pictures.setCurrentIndex(int(look is PictureKind.TREND))
        if look is PictureKind.TREND:
            self._show_trend()
        elif self._made is not None:
            self.picture.show_breakdown(self._made, look, self.table.current)

    def _show_trend(self) -> None:
        from ...season.games_trend import read_trend

        games = self.shelf.chosen

        def take(found: Trend) -> None:
            self.trend.show_trend(found)

        self._start("Checking the games", lambda progress: read_trend(games, progress), take, self._show_trend,
                    shown=True)

    def _give_values(self, column: str) -> None:
        if self._shelf is None:
            return
        frame = self._shelf.frame()
        given = frame if column in frame.columns else derive(frame, self.recipe.recipe.definitions, frozenset({column}))
        codes, labels = coded(given[column])
        self.recipe.show_values(column, [labels[code] for code in sorted(set(codes))])

    # -- a cell --------------------------------------------------------------------------------------------
    def _on_cell(self, row: Key, column: Key) -> None:
        made = self._made
        if made is None:
            return
        where = " · ".join(", ".join(key) for key in (row, column) if key) or "all"
        self.film_panel.show_plays(made.plays(row, column), self.shelf.short_names, where)
        if self.look.currentData() == PictureKind.FIELD:
            self.picture.show_breakdown(made, PictureKind.FIELD, (row, column))

    def open_cell(self) -> None:
        """Play the plays of the cell as film, from the first on."""
        if self.film_panel.plays.count():
            self.film_panel.plays.setCurrentRow(0)
            self.film_panel.play_through()

    def _want_film(self, games: list[Path]) -> None:
        reel = [path for path, _ in self.film_panel.reel.plays]
        if self.film.want([*games, *reel], {}):
            self.film_panel.refresh_film()

    def to_sequence_room(self) -> None:
        """See the cell's plays of the open game in the Sequence room."""
        if self._session is None or self._made is None:
            self.tell("Open the game first; its plays are then seen in the Sequence room.", "bad")
            return
        here = Path(self._session.file.path)
        plays = self._plays_of(here)
        if not plays:
            self.tell(f"None of these plays is in the open game, {here.stem}.", "bad")
            return
        row, column = self.table.current
        self.plays_wanted.emit(plays, ", ".join((*row, *column)) or "the breakdown")

    def _plays_of(self, path: Path) -> list[int]:
        if self._made is None:
            return []
        plays: pd.DataFrame = self._made.plays(*self.table.current)
        return [int(play) for play in plays.loc[plays["game"].astype(str) == str(path), "play"]]

    # -- what leaves ---------------------------------------------------------------------------------------
    def _offer(self) -> None:
        self._export.setEnabled(bool(self.film_panel.reel.plays))

    def _ask_file(self, title: str, name: str, forms: str, take: Callable[[Path], object]) -> None:
        folder = str(self._desk.settings.value("season/exports", "") or (self.shelf.folders or [Path.home()])[0])
        ask_to_save(self, title, Path(folder) / name, take, forms)

    def write(self) -> None:
        """Write the breakdown as a sheet or as one page."""
        if self._made is not None:
            self._ask_file("Write the breakdown", f"{self.recipe.recipe.name or 'breakdown'}.pdf",
                           "One page (*.pdf);;Spreadsheet (*.xlsx);;CSV (*.csv)", self.write_to)

    def write_to(self, to: Path) -> None:
        """Write the breakdown to a file, by its suffix."""
        made, names = self._made, self.shelf.names
        if made is None:
            return
        games = [names[path] for path in self.shelf.chosen]
        self._desk.settings.setValue("season/exports", str(to.parent))

        def work(progress: Progress) -> Path:
            if to.suffix.lower() == ".pdf":
                from ...delivery.breakdown_paper import write_breakdown
                return write_breakdown(made, games, to)
            from ...delivery.breakdown_sheet import write_breakdown_sheet
            return write_breakdown_sheet(made, to)

        self._desk.jobs.start("Writing the breakdown", work, lambda path: self.tell(f"Written: {path}", "good"),
                              self._fail)

    def write_reports(self) -> None:
        """Ask for a folder, and write the review report of each game that is ticked into it."""
        ask_for_folder(self, "Folder for the reports", str((self.shelf.folders or [Path.home()])[0]), self.reports_to)

    def reports_to(self, folder: Path) -> None:
        """Write the report of each ticked game into a folder."""
        games, names = self.shelf.chosen, self.shelf.names

        def work(progress: Progress) -> int:
            from ...delivery.season_reports import write_reports
            return len(write_reports([(path, names[path]) for path in games], folder, progress, progress.cancelled))

        self._desk.jobs.start("Writing the reports", work,
                              lambda count: self.tell(f"{count} reports are in {folder}", "good"), self._fail)

    def export(self) -> None:
        """Ask where to, and write the sequence."""
        from ...delivery.sequence import Form

        if not self.film_panel.reel.plays:
            self.tell("Put plays into the sequence first.", "bad")
            return
        form = Form(self.form.currentData())
        if form is Form.FILM:
            self._ask_file("Export the sequence", "sequence.mp4", "Film (*.mp4)", self.export_to)
        elif form is Form.PACK:
            self._ask_file("Export the sequence", "sequence.zip", "Pack (*.zip)", self.export_to)
        else:
            self._ask_file("Export the sequence into a new folder", "sequence", "", self.export_to)

    def export_to(self, to: Path) -> None:
        """Write the sequence, every play captioned with its game."""
        from ...delivery.sequence import Form, SequenceRequest, write_sequence
        from ...season.joined import join

        plays, form, games = list(self.film_panel.reel.plays), Form(self.form.currentData()), self._open_games()
        angles, beside, inset = self.film_panel.shown_from.chosen
        self._desk.settings.setValue("season/exports", str(to.parent))

        def work(progress: Progress) -> Written:
            made = join([path for path, _ in plays], games)
            items = [item for key in plays if (item := made.item(*key, angles, beside, inset=inset)) is not None]
            request = SequenceRequest(made.game, made.steps, to.stem, items, form, origins=made.origins)
            written = write_sequence(request, to, progress, progress.cancelled)
            return replace(written, notes=(*filter(None, [made.lacking(items, angles)]), *written.notes))

        def done(written: Written) -> None:
            lines = [str(written.path), *written.notes, *written.missing]
            if written.not_filmed:
                lines.append(f"{written.not_filmed} of the plays were not filmed.")
            self.tell("  ·  ".join(lines), "bad" if written.missing else "good")

        self._desk.jobs.start("Exporting the sequence", work, done, self._fail,
                              lambda: self.tell("Stopped; nothing was written.", "bad"))

    def _open_games(self) -> dict[Path, Game]:
        """The game that is open, as it is now."""
        if self._session is None:
            return {}
        return {Path(self._session.file.path): replace(self._session.game)}

"""The review report: what the film's viewers needed, what they got, what the mentor says. One HTML file, or a PDF."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass

from ..cancelling import Cancelled
from ..coverage.camera_table import CameraRow, camera_rows
from ..coverage.coverage import Coverage
from ..coverage.finding import Finding
from ..coverage.summary import COLUMNS, HabitAdvice, Summary, Tally, summarise
from ..film.faults import FilmError
from ..film.time import Instant, spoken_time
from ..football.speaking import spoken_period, spoken_situation
from ..football.step import Step
from ..tagging.discretion import sensitive_spans
from ..tagging.layout import layout_of
from ..tagging.model import Game, ShotKind
from ..tagging.own_words.following import known_words, spoken_words
from .overlay import Marks, drawn_on
from .segment import field_length
from .still import Still, still


def _shows_injury(game: Game) -> Callable[[float], bool]:
    """Whether the picture at a film time shows an injured player."""
    spans = [span for span in sensitive_spans(layout_of(game)) if span[2] is ShotKind.INJURY]
    return lambda time: any(start <= time <= end for start, end, _ in spans)


def withheld(game: Game) -> Callable[[Finding], bool]:
    """Whether a finding's picture stays out of papers that are handed around, as it shows an injured player."""
    shows_injury = _shows_injury(game)
    shots = {shot.id for shot in game.shots if ShotKind.INJURY in (shot.kind, shot.opens_on)}

    def is_withheld(finding: Finding) -> bool:
        return finding.shot in shots or shows_injury(finding.time)
    return is_withheld


@dataclass(frozen=True)
class ReportedFinding:
    """A finding with its picture, or the reason why there is none."""

    finding: Finding
    film_time: str
    situation: str
    picture: Still | None
    no_picture: str = ""

    @property
    def decision(self) -> str:
        """What the mentor decided and said, as one text."""
        made = self.finding.decision
        if made is None:
            return ""
        verdict = "" if made.verdict is None else str(made.verdict)
        return ": ".join(filter(None, (verdict, " - ".join(filter(None, (made.reason, made.comment))))))


@dataclass(frozen=True)
class ReportedNote:
    """What the mentor wrote at a moment, or drew on the picture: then ``picture`` has the drawing."""

    time: float
    situation: str
    text: str
    picture: Still | None = None

    @property
    def film_time(self) -> str:
        """The time of film in words."""
        return spoken_time(self.time)


@dataclass(frozen=True)
class Report:
    """Everything that stands in the report, whatever its form."""

    game: Game
    coverage: Coverage
    summary: Summary
    entries: Sequence[ReportedFinding]
    periods: Sequence[int]
    notes: Sequence[ReportedNote] = ()
    camera: Sequence[CameraRow] = ()

    @property
    def title(self) -> str:
        """The game's title, or else who plays at whom."""
        return self.game.heading.spoken

    @property
    def headline(self) -> str:
        """One sentence: at how many snaps a viewer knew the down."""
        summary = self.summary
        known = ("No snap could be judged yet." if summary.share_known is None else
                 f"At {summary.snaps_known} of {summary.snaps} snaps ({summary.share_known:.0%}) a viewer knew the "
                 "down.")
        surplus = f" {summary.surplus_seconds:.0f} seconds of film could go." if summary.surplus_seconds >= 1 else ""
        weakest = "; ".join(f"{rule} {_said(tally)}" for rule, tally in summary.weakest())
        return f"{known} {f'What is weakest: {weakest}.' if weakest else 'Nothing was missing.'}{surplus}"

    def columns(self) -> list[str]:
        """The heads of the table of rules."""
        return ["rule", *COLUMNS, *(spoken_period(period) for period in self.periods)]

    def rows(self) -> list[list[str]]:
        """The table of rules: each with its tally over the game, and delivered of expected in each period."""
        return [[rule, *self.summary.tally(rule).figures(), *(_of(by_period.get(period)) for period in self.periods)]
                for rule, by_period in self.summary.by_rule.items()]

    def habit_entry(self, habit: HabitAdvice) -> ReportedFinding | None:
        """Return the entry of the finding that is the habit's example, None if it is not reported."""
        return next((entry for entry in self.entries if entry.finding.key == habit.example.key), None)


def _said(tally: Tally) -> str:
    """``2 of 14``, ``12 too many``."""
    parts = [_of(tally), f"{tally.overdone} too many" if tally.overdone else ""]
    return ", ".join(filter(None, parts))


def _of(tally: Tally | None) -> str:
    return "" if tally is None or not tally.expected else f"{tally.delivered} of {tally.expected}"


def gather(game: Game, steps: Sequence[Step], coverage: Coverage, progress: Callable[[float], None] | None = None,
           cancelled: Callable[[], bool] = lambda: False) -> Report:
    """Take the pictures and sum up. A picture that cannot be had is said to be missing; raises only Cancelled."""
    is_withheld = withheld(game)
    marks = Marks(game.film, game.drawings, shots=game.shots)
    length = field_length(game)
    situations = {tag.id: " – ".join(filter(None, (spoken_situation(step.before, length), spoken_words(words))))
                  for tag, step, words in zip(game.plays, steps, known_words(game, steps), strict=True)}
    entries = []
    for number, finding in enumerate(coverage.findings, 1):
        if cancelled():
            raise Cancelled("The report was stopped; nothing was written.")
        picture, why = None, ""
        if is_withheld(finding):
            why = "No picture: footage of an injured player is handled with discretion."
        else:
            try:
                picture = still_at(game, finding.at, marks)
            except (FilmError, OSError) as error:
                why = f"No picture: {error}"
        situation = "" if finding.play is None else situations.get(finding.play, "")
        entries.append(ReportedFinding(finding, spoken_time(finding.time), situation, picture, why))
        if progress:
            progress(0.9 * number / len(coverage.findings))
    summary = summarise(coverage)
    periods = sorted({period for by_period in summary.by_rule.values() for period in by_period})
    return Report(game, coverage, summary, entries, periods, _notes(game, situations, marks),
                  camera_rows(game, coverage))


def _notes(game: Game, situations: Mapping[int, str], marks: Marks) -> list[ReportedNote]:
    """Notes and drawings in film order; drawings that begin on one picture are one picture."""
    layout, is_hidden = layout_of(game), _shows_injury(game)

    def situation(time: float) -> str:
        play = layout.play_at(time)
        return situations.get(play, "") if play is not None else ""

    notes = [ReportedNote(time, situation(time), note.text) for note in game.notes if layout.knows(note.at)
             for time in (layout.time(note.at),)]
    by_picture: dict[Instant, list[str]] = {}
    for drawing in game.drawings:
        if layout.knows(drawing.at):
            by_picture.setdefault(drawing.at, []).append(drawing.text)
    for at, texts in by_picture.items():
        time = layout.time(at)
        picture = None
        if not is_hidden(time):
            with suppress(FilmError, OSError):
                picture = still_at(game, at, marks)
        notes.append(ReportedNote(time, situation(time), ". ".join(filter(None, texts)) or "Drawn on the picture",
                                  picture))
    return sorted(notes, key=lambda note: note.time)


def last_picture(game: Game, at: Instant) -> Instant:
    """A picture that is there: markers may stand just behind the last one of a source."""
    return Instant(at.source, min(at.pts, game.film.source(at.source).end.pts - 1))


def still_at(game: Game, at: Instant, marks: Marks) -> Still:
    """The :func:`last_picture` at an instant, with what was drawn on it. Raises FilmError and OSError."""
    taken = still(game.film, last_picture(game, at))
    return drawn_on(taken, marks) or taken

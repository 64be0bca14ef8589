"""The game on one page, to take home: habits with a picture each, how they went lately, what was done well."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from ..cancelling import Cancelled
from ..coverage.coverage import Coverage
from ..coverage.summary import HabitAdvice, Summary, summarise
from ..film.faults import FilmError
from ..film.time import spoken_time
from ..film.writing import written_whole
from ..season.games_trend import Trend
from ..tagging.model import Game
from .overlay import Marks
from .papers import HEADING, SMALL, SUBHEADING, TEXT, TITLE, beside, paragraph, write_document
from .plot_paper import LETTER, drawn, fit
from .report import still_at, withheld
from .shapes import trend_plot
from .still import Still

_WELL = 4           # things named that were done well
_NEARLY_ALWAYS = 0.9
_GAMES = 6          # of the trend, the newest; more columns could not be read
_WIDTH, _ROW = 172 * mm, 22.0
_PICTURE = 52       # millimetres


@dataclass(frozen=True)
class TakeHome:
    """What stands on the page. ``pictures`` belong to the habits, None where there is none to show."""

    title: str
    about: str
    habits: Sequence[HabitAdvice]
    pictures: Sequence[Still | None]
    trend: Trend
    well: Sequence[str]


def done_well(summary: Summary) -> list[str]:
    """What the mentor praised, by how often, then the practices that went well nearly always, by their cases."""
    praise = [f"{each.word}{'' if each.count == 1 else f', {each.count} times'}" for each in summary.remarks
              if each.praise]
    tallies = [(summary.tally(rule), rule) for rule in summary.by_rule]
    whole = [f"{rule}: {tally.delivered} of {tally.expected}"
             for tally, rule in sorted(tallies, key=lambda each: -each[0].delivered)
             if (tally.share or 0) >= _NEARLY_ALWAYS and not tally.overdone]
    return (praise + whole)[:_WELL]


def gather_take_home(game: Game, coverage: Coverage, trend: Trend,
                     cancelled: Callable[[], bool] = lambda: False) -> TakeHome:
    """Sum up and take the pictures; ``trend`` is that of the crew's games, if there is one. Raises Cancelled."""
    summary = summarise(coverage)
    is_withheld, marks = withheld(game), Marks(game.film, game.drawings, shots=game.shots)
    pictures: list[Still | None] = []
    for habit in summary.habits:
        if cancelled():
            raise Cancelled("The page was stopped; nothing was written.")
        try:
            pictures.append(None if is_withheld(habit.example) else still_at(game, habit.example.at, marks))
        except (FilmError, OSError):
            pictures.append(None)
    return TakeHome(game.heading.spoken, game.about, summary.habits, pictures,
                    trend.of([habit.example.rule for habit in summary.habits]).newest(_GAMES), done_well(summary))


def write_take_home(game: Game, coverage: Coverage, trend: Trend, to: Path,
                    cancelled: Callable[[], bool] = lambda: False) -> Path:
    """Write the page as PDF. Raises Cancelled and OSError."""
    page = gather_take_home(game, coverage, trend, cancelled)
    with written_whole(to) as temporary:
        write_document(str(temporary), f"{page.title}: to take home", _story(page))
    return to


def _story(page: TakeHome) -> list[Flowable]:
    story: list[Flowable] = [paragraph(page.title, TITLE), paragraph(page.about, SMALL),
                             paragraph("What was done well", HEADING)]
    story += [paragraph(f"✓ {words}") for words in page.well] or [paragraph("Nothing could be judged yet.")]
    story.append(paragraph("Three things for the next game" if len(page.habits) == 3 else "For the next game", HEADING))
    for number, (habit, taken) in enumerate(zip(page.habits, page.pictures, strict=True), 1):
        words = [paragraph(f"{number}. {habit.advice}", SUBHEADING),
                 paragraph(f"It would have helped {habit.times}. Clearest at {spoken_time(habit.example.time)}: "
                           f"{habit.example.title}.", TEXT)]
        story.append(beside(taken, _PICTURE, f"The film at {spoken_time(habit.example.time)}: {habit.example.title}",
                            words))
    if not page.habits:
        story.append(paragraph("Nothing was missing: keep it so."))
    if len(page.trend.games) > 1 and page.trend.rows:
        story += [paragraph("How these went, game by game", HEADING),
                  drawn(trend_plot(page.trend, _WIDTH, _ROW, LETTER, fit, 45 * mm))]
    return story

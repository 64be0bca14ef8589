"""The span of film over which a drawing is shown, on screen and in rendered film."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from ..film.film import Film
from .model import Drawing, Game, Shot

MOMENT_SHOWN = Fraction(2)      # seconds that a drawing of one moment stays


def drawn_span(film: Film, shots: Iterable[Shot], drawing: Drawing) -> tuple[Fraction, Fraction] | None:
    """Film time from which and up to which a drawing shows, in seconds; None if its source is not in the film.

    It begins with the picture that it was drawn on. It ends with its shot at the latest. Drawn outside every shot, it
    ends where the next shot begins or its source ends.
    """
    try:
        start = film.time_of(drawing.at)
        end = film.time_of(drawing.until) if drawing.until else start + MOMENT_SHOWN
        source = film.source(drawing.at.source)
    except KeyError:
        return None
    at = drawing.at
    ends = []
    for shot in shots:
        if shot.start.source == at.source and shot.start.pts > at.pts:
            ends.append(film.time_of(shot.start))
        elif shot.end.source == at.source and shot.end.pts > at.pts:
            ends.append(film.time_of(shot.end))
    runs_on = any(shot.start.source == at.source and shot.start.pts <= at.pts and shot.end.source != at.source
                  for shot in shots)
    if not runs_on:
        ends.append(film.starts_at(source.id) + source.duration_pts * source.time_base)
    return start - 1 / source.frame_rate, min([end, *ends])


def spans_of(game: Game) -> dict[int, tuple[Fraction, Fraction]]:
    """The span of every drawing that can be shown, by its id."""
    return {drawing.id: span for drawing in game.drawings if (span := drawn_span(game.film, game.shots, drawing))}


def shown_at(spans: dict[int, tuple[Fraction, Fraction]], drawings: Iterable[Drawing], time: Fraction) -> list[Drawing]:
    """The drawings on the picture at a film time; ``spans`` are those of :func:`spans_of`."""
    return [drawing for drawing in drawings if drawing.id in spans
            and spans[drawing.id][0] < time < spans[drawing.id][1]]

"""Where each play of a sequence begins and ends on the film."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from ..film.film import Film
from ..film.time import Instant
from ..tagging.angles import FIRST
from ..tagging.layout import FilmLayout
from ..tagging.model import SequenceItem


def handles(item: SequenceItem) -> tuple[Fraction, Fraction]:
    """The handles in exact seconds: a float of so many pictures is meant to be exactly so many pictures."""
    return Fraction(item.lead_in).limit_denominator(100_000), Fraction(item.lead_out).limit_denominator(100_000)


def widened(film: Film, start: Instant, end: Instant, lead_in: float | Fraction,
            lead_out: float | Fraction) -> tuple[Instant, Instant]:
    """Move the ends outwards (or inwards, if negative) by seconds of handle, clamped to the film."""
    begin = film.instant_at(max(Fraction(0), film.time_of(start) - Fraction(lead_in))) if lead_in else start
    if not lead_out:
        return begin, end
    finish = film.time_of(end) + Fraction(lead_out)
    return begin, film.sources[-1].end if finish >= film.duration else film.instant_at(finish)


def span_of(layout: FilmLayout, item: SequenceItem) -> tuple[Instant, Instant] | None:
    """First picture and the picture after the last of an item, its handles included; None if it was not filmed."""
    filmed = layout.plays.get(item.play)
    return widened(layout.game.film, *filmed.span, *handles(item)) if filmed else None


def angles_shown(item: SequenceItem, layouts: Mapping[int, FilmLayout]) -> tuple[int, ...]:
    """The angles that an item shows one after another, of those whose film has the play; where they stand beside each
    other the first of them, whose picture leads. *layouts* are those of the angles, by their numbers."""
    angles = tuple(number for number in item.angles or (FIRST,) if item.play in layouts[number].plays)
    return angles[:1] if item.beside else angles


def nudged(film: Film, item: SequenceItem, span: tuple[Instant, Instant], start: int = 0, end: int = 0) -> SequenceItem:
    """Move an item's ends by whole pictures (positive is later); it keeps at least one picture."""
    source = film.source(span[0].source)
    picture = 1 / source.frame_rate
    length = film.time_of(span[1]) - film.time_of(span[0])
    earlier, later = -start * picture, end * picture
    if length + earlier + later < picture:
        return item
    lead_in, lead_out = handles(item)
    return replace(item, lead_in=float(lead_in + earlier), lead_out=float(lead_out + later))


def length_of(layout: FilmLayout, items: Iterable[SequenceItem]) -> Fraction:
    """Length in seconds of the sequence as one film."""
    film = layout.game.film
    spans = [span for item in items if (span := span_of(layout, item))]
    return sum((film.time_of(end) - film.time_of(start) for start, end in spans), Fraction(0))


def with_before(order: Sequence[int], play: int) -> list[int]:
    """The two plays before this one in the game's order, and the play itself."""
    position = order.index(play)
    return list(order[max(position - 2, 0):position + 1])

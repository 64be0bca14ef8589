"""Where each play of a sequence begins and ends on the film; pure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from ..film.film import Film
from ..film.time import Instant
from ..football.step import Step
from ..tagging.model import Game, SequenceItem
from .segment import Segment, play_segments, widened


def span_of(game: Game, item: SequenceItem) -> tuple[Instant, Instant] | None:
    """First picture and the picture after the last of an item, its handles included; None if it was not filmed."""
    shots = {shot.id: shot for shot in game.shots}
    tag = next((tag for tag in game.plays if tag.id == item.play), None)
    shot = shots.get(tag.shot) if tag is not None and tag.shot is not None else None
    return widened(game.film, shot.start, shot.end, *handles(item)) if shot is not None else None


def handles(item: SequenceItem) -> tuple[Fraction, Fraction]:
    """The handles in exact seconds: a float of so many pictures is meant to be exactly so many pictures."""
    return Fraction(item.lead_in).limit_denominator(100_000), Fraction(item.lead_out).limit_denominator(100_000)


def segments_of(game: Game, steps: Sequence[Step], items: Iterable[SequenceItem]) -> list[Segment]:
    """The segments of a sequence, in its order; plays that were not filmed are left out."""
    return [segment for item in items
            for segment in play_segments(game, steps, [item.play], *handles(item))]


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


def length_of(game: Game, items: Iterable[SequenceItem]) -> Fraction:
    """Length in seconds of the sequence as one film."""
    spans = [span for item in items if (span := span_of(game, item))]
    return sum((game.film.time_of(end) - game.film.time_of(start) for start, end in spans), Fraction(0))


def with_before(order: Sequence[int], play: int, how_many: int = 2) -> list[int]:
    """The play and the ones before it in the game's order, earliest first."""
    position = order.index(play)
    return list(order[max(position - how_many, 0):position + 1])

"""A mentor's own remarks: where they stand in the game, how often each word fell, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from ..football.step import Step
from ..tagging.layout import FilmLayout
from ..tagging.model import Game, Remark


@dataclass(frozen=True, slots=True)
class PlacedRemark:
    """A remark in its place. ``play`` is the id of the play that runs there or ran last, None before the first;
    ``time`` and ``until`` are film seconds (``until`` None where it is about one place), ``shot`` the shot's id."""

    remark: Remark
    play: int | None
    period: int
    time: float
    until: float | None = None
    shot: int | None = None


@dataclass(frozen=True, slots=True)
class RemarkCount:
    """How often a word fell, and where first; ``advice`` is the crew profile's, empty if it has none."""

    word: str
    praise: bool
    count: int
    first: PlacedRemark
    advice: str = ""


def placed_remarks(game: Game, steps: Sequence[Step], layout: FilmLayout) -> tuple[PlacedRemark, ...]:
    """Every remark of the game in film order; one in a source that is no longer part of the film is left out."""
    periods = {tag.id: step.before.period for tag, step in zip(game.plays, steps, strict=True)}
    placed = []
    for remark in game.remarks:
        if not layout.knows(remark.at):
            continue
        time = layout.time(remark.at)
        play = layout.play_at(time)
        until = layout.time(remark.until) if remark.until is not None and layout.knows(remark.until) else None
        shot = next((filmed.shot.id for filmed in layout.shots.values() if filmed.start <= time < filmed.end), None)
        placed.append(PlacedRemark(remark, play, periods.get(play or 0, 1), time, until, shot))
    return tuple(sorted(placed, key=lambda each: (each.time, each.remark.id)))


def counted(remarks: Iterable[PlacedRemark], advice: Mapping[str, str]) -> tuple[RemarkCount, ...]:
    """The words by how often they fell, faults first, then the praise. *advice* is by word in small letters."""
    groups: dict[tuple[bool, str], list[PlacedRemark]] = {}
    for placed in remarks:
        groups.setdefault((placed.remark.praise, placed.remark.word.strip().casefold()), []).append(placed)
    counts = [RemarkCount(found[0].remark.word.strip(), praise, len(found), found[0], advice.get(word, ""))
              for (praise, word), found in groups.items()]
    return tuple(sorted(counts, key=lambda each: (each.praise, -each.count, each.first.time)))

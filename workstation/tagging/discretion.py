"""Footage that is shared with discretion: an altercation, an injured player. All marks of it are looked up here."""

from __future__ import annotations

from collections.abc import Iterator

from ..football.plays import Play
from .layout import FilmedShot, FilmLayout
from .model import MomentKind, ShotKind

#: The kinds of footage that ask for discretion, in the order in which they are said.
SENSITIVE = (ShotKind.INJURY, ShotKind.ALTERCATION)
_BEGINS = {MomentKind.CONFRONTATION: ShotKind.ALTERCATION, MomentKind.CONFRONTATION_OVER: ShotKind.ALTERCATION,
           MomentKind.CARE: ShotKind.INJURY}
_FOULS = ("fight",)     # words in the names of fouls that are altercations


def sensitive_spans(layout: FilmLayout) -> list[tuple[float, float, ShotKind]]:
    """Where on the film, in seconds, something is shown that asks for discretion, and what. A shot of that kind counts
    whole. A confrontation runs from its mark to the one that says it is over, care to the end of its shot; where the
    other end is not marked, the shot's is taken."""
    spans = []
    for filmed in layout.shots.values():
        spans += [(filmed.start, filmed.end, kind) for kind in SENSITIVE
                  if kind in (filmed.shot.kind, filmed.shot.opens_on)]
        spans += _marked(filmed)
    inside = {seen.moment.id for filmed in layout.shots.values() for seen in filmed.moments}
    spans += [(seen.time, seen.time, _BEGINS[seen.kind]) for seen in layout.moments_between(0.0, float("inf"))
              if seen.kind in _BEGINS and seen.moment.id not in inside]
    return spans


def _marked(filmed: FilmedShot) -> Iterator[tuple[float, float, ShotKind]]:
    begun: float | None = None
    is_over = False
    for seen in filmed.moments:
        if seen.kind is MomentKind.CARE:
            yield seen.time, filmed.end, ShotKind.INJURY
        elif seen.kind is MomentKind.CONFRONTATION:
            begun, is_over = seen.time if begun is None else begun, False
        elif seen.kind is MomentKind.CONFRONTATION_OVER and not is_over:
            yield filmed.start if begun is None else begun, seen.time, ShotKind.ALTERCATION
            begun, is_over = None, True
    if begun is not None:
        yield begun, filmed.end, ShotKind.ALTERCATION


def shown_between(spans: list[tuple[float, float, ShotKind]], start: float, end: float) -> list[ShotKind]:
    """The kinds that footage from ``start`` up to ``end`` shows, of spans of :func:`sensitive_spans`."""
    shown = {kind for begins, ends, kind in spans if (begins < end and start < ends) or start <= begins < end}
    return [kind for kind in SENSITIVE if kind in shown]


def meant_by(play: Play) -> list[ShotKind]:
    """The kinds that a play is marked with by what was said about it."""
    return [ShotKind.ALTERCATION] if any(word in foul.name for foul in play.fouls for word in _FOULS) else []

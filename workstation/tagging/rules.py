"""The rules that every game keeps, checked at every operation.

Each single value (a number, a text, one of the words) was checked before: see :func:`.serialise.unreadable`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from itertools import pairwise
from typing import Any

from ..film.film import Film
from ..film.time import Instant
from .model import AngleFilm, Drawing, DrawingKind, Game, Moment, MomentKind, Shot, Verdict
from .own_words import definition
from .own_words.definition import LONGEST, LONGEST_TEXT, WordSaid
from .records import Edit, Id, Kind, film_order

Order = Callable[[Instant], tuple[int, int, int]]

MAX_TEXT = 1_000_000
"""Longest text of a note, comment or drawing, in characters."""


def problems(game: Game, edits: Iterable[Edit]) -> list[str]:
    """The rules that *game* breaks after *edits*, one line each; empty if it breaks none."""
    changed: dict[Kind, set[Id]] = {}
    for edit in edits:
        changed.setdefault(edit.kind, set()).add(edit.id)
    film_changed = bool(changed.keys() & {Kind.FILM, Kind.SOURCE, Kind.ANGLE})
    found = [problem for recording in game.recordings
             for problem in _recording_problems(recording, changed, film_changed)]
    if changed.keys() & {Kind.PLAY, Kind.SHOT}:
        found += _play_problems(game)
    if changed.keys() & {Kind.SEQUENCE, Kind.PLAY, Kind.ANGLE}:
        found += _sequence_problems(game)
    if Kind.DECISION in changed:
        found += _decision_problems(game, changed[Kind.DECISION])
    if Kind.HEADING in changed:
        found += _heading_problems(game)
    for tag in (each for each in game.plays if each.id in changed.get(Kind.PLAY, ())):
        found += _said_problems(f"play {tag.id}", tag.words)
    if Kind.COMING in changed:
        found += _said_problems("the play to come", game.coming)
    if Kind.VOCABULARY in changed:
        found += [f"own words: {problem}" for problem in definition.problems(game.vocabulary)]
    if changed.keys() & {Kind.ANGLE, Kind.HEADING}:
        found += _angle_problems(game)
    if film_changed or changed.keys() & {Kind.MATCH, Kind.PLAY, Kind.SHOT}:
        found += _match_problems(game)
    return found


def _recording_problems(filmed: Game | AngleFilm, changed: dict[Kind, set[Id]], film_changed: bool) -> list[str]:
    """The rules that the tags on one angle's film break."""

    def touched(kind: Kind, values: Iterable[Any]) -> Iterator[Any]:
        ids = changed.get(kind, set())
        return (each for each in values if film_changed or each.id in ids)

    film = filmed.film
    found = list(_film_problems(film)) if film_changed else []
    order = film_order(film)
    for shot in touched(Kind.SHOT, filmed.shots):
        found += _span_problems(film, order, f"shot {shot.id}", shot.start, shot.end)
    for moment in touched(Kind.MOMENT, filmed.moments):
        found += _instant_problems(film, f"moment {moment.id} ({moment.kind})", moment.at)
        if moment.uncertainty < 0:
            found.append(f"moment {moment.id} ({moment.kind}): its uncertainty must not be negative")
    for note in touched(Kind.NOTE, filmed.notes):
        found += _span_problems(film, order, f"note {note.id}", note.at, note.until)
        found += _text_problems(f"note {note.id}", note.text, needed=True)
    for remark in touched(Kind.REMARK, filmed.remarks):
        found += _span_problems(film, order, f"remark {remark.id}", remark.at, remark.until)
        found += _text_problems(f"remark {remark.id}", remark.word, needed=True)
        found += _text_problems(f"remark {remark.id}", remark.comment)
    for drawing in touched(Kind.DRAWING, filmed.drawings):
        found += _span_problems(film, order, f"drawing {drawing.id}", drawing.at, drawing.until)
        found += _drawing_problems(drawing)
    if not found and (film_changed or Kind.SHOT in changed):
        found += _overlaps(filmed.shots, order)
    if Kind.MOMENT in changed:
        found += _doubled_moments(filmed.moments)
    return found


def _film_problems(film: Film) -> Iterator[str]:
    for source in film.sources:
        if source.time_base <= 0:
            yield f"source {source.id}: the time base must be more than 0, not {source.time_base}"
        if source.duration_pts < 0:
            yield f"source {source.id}: the duration must not be negative"


def _instant_problems(film: Film, what: str, at: Instant, end: bool = False) -> Iterator[str]:
    """*end* allows the instant after the last picture; a source of unknown length allows any."""
    try:
        source = film.source(at.source)
    except KeyError:
        yield f"{what}: there is no source {at.source!r} in the film"
        return
    last = source.start_pts + source.duration_pts
    if source.duration_pts > 0 and not (source.start_pts <= at.pts < last + end):
        yield f"{what}: tick {at.pts} lies outside source {at.source} ({source.start_pts} to {last})"


def _span_problems(film: Film, order: Order, what: str, start: Instant, end: Instant | None) -> Iterator[str]:
    yield from _instant_problems(film, what, start)
    if end is not None:
        yield from _instant_problems(film, what, end, end=True)
        if order(end) <= order(start):
            yield f"{what}: it would end before it starts"


def _overlaps(shots: Iterable[Shot], order: Order) -> Iterator[str]:
    for earlier, later in pairwise(shots):
        if order(later.start) < order(earlier.end):
            yield f"shot {later.id} would overlap shot {earlier.id}"


def _doubled_moments(moments: Iterable[Moment]) -> Iterator[str]:
    seen: dict[tuple[MomentKind, Instant], Moment] = {}
    for moment in moments:
        other = seen.setdefault((moment.kind, moment.at), moment)
        if other is not moment:
            yield f"moment {moment.id}: {moment.kind} is already marked at this picture (moment {other.id})"


def _play_problems(game: Game) -> Iterator[str]:
    shots = {shot.id for shot in game.shots}
    for tag in game.plays:
        if tag.shot is not None and tag.shot not in shots:
            yield f"play {tag.id}: there is no shot {tag.shot}"
        yield from _text_problems(f"play {tag.id}", tag.play.comment)


def _sequence_problems(game: Game) -> Iterator[str]:
    plays = {tag.id for tag in game.plays}
    angles = {0, *(each.angle.id for each in game.angles)}
    for sequence in game.sequences:
        for item in sequence.items:
            if item.play not in plays:
                yield f"sequence {sequence.name!r}: there is no play {item.play}"
            for angle in (*item.angles, *(() if item.sound is None else (item.sound,))):
                if angle not in angles:
                    yield f"sequence {sequence.name!r}: there is no angle {angle}"


def _drawing_problems(drawing: Drawing) -> Iterator[str]:
    what = f"drawing {drawing.id}"
    if not drawing.points:
        yield f"{what}: it has no points"
    if not all(0 <= x <= 1 and 0 <= y <= 1 for x, y in drawing.points):
        yield f"{what}: points must lie in the picture (0 to 1)"
    yield from _text_problems(what, drawing.text, needed=drawing.kind is DrawingKind.TEXT)


def _decision_problems(game: Game, keys: set[Id]) -> Iterator[str]:
    for decision in game.decisions:
        if decision.finding in keys:
            what = f"decision about {decision.finding!r}"
            if decision.verdict is Verdict.WAIVED and not decision.reason.strip():
                yield f"{what}: a waiver needs a reason"
            if decision.verdict is None and not decision.comment.strip():
                yield f"{what}: say agreed, waived or a comment"
            yield from _text_problems(what, decision.reason)
            yield from _text_problems(what, decision.comment)


def _heading_problems(game: Game) -> Iterator[str]:
    if game.heading.date:
        try:
            date.fromisoformat(game.heading.date)
        except ValueError:
            yield f"heading: {game.heading.date!r} is not a date; write it like 2026-09-04"
    if not game.heading.rulebook.strip():
        yield "heading: a rulebook is needed"


def _said_problems(what: str, said: tuple[WordSaid, ...]) -> Iterator[str]:
    """A value may be missing from its word's list: lists change, and what was said stays."""
    names = [each.word for each in said]
    if len(set(names)) < len(names):
        yield f"{what}: one of its own words comes twice"
    for each in said:
        if not each.word.strip() or len(each.word) > LONGEST:
            yield f"{what}: an own word's name must have 1 to {LONGEST} characters"
        for value in each.values:
            if not value.strip() or len(value) > LONGEST_TEXT:
                yield f"{what}: {each.word[:LONGEST]} must have 1 to {LONGEST_TEXT} characters"


def _angle_problems(game: Game) -> Iterator[str]:
    names = {game.heading.angle.strip().casefold()}
    for each in game.angles:
        name = each.angle.name.strip()
        yield from _text_problems(f"angle {each.angle.id}", name, needed=True)
        if name.casefold() in names:
            yield f"angle {each.angle.id}: another angle is called {name!r} already; give each a name of its own"
        names.add(name.casefold())


def _match_problems(game: Game) -> Iterator[str]:
    plays = {tag.id for tag in game.plays}
    filmed = {each.angle.id: each for each in game.angles}
    for match in game.matches:
        what = f"match of play {match.play} in angle {match.angle}"
        if match.play not in plays:
            yield f"{what}: there is no play {match.play}"
        if match.angle not in filmed:
            yield f"{what}: there is no angle {match.angle}"
            continue
        if all(shot.id != match.shot for shot in filmed[match.angle].shots):
            yield f"{what}: that angle has no shot {match.shot}"
        if match.same is not None:
            yield from _instant_problems(game.film, what, match.same[0])
            yield from _instant_problems(filmed[match.angle].film, what, match.same[1])


def _text_problems(what: str, text: str, needed: bool = False) -> Iterator[str]:
    if needed and not text.strip():
        yield f"{what}: it has no text"
    if len(text) > MAX_TEXT:
        yield f"{what}: the text is too long ({len(text):,} characters; at most {MAX_TEXT:,})"

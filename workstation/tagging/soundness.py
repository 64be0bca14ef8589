"""Checks on opening that the records of a file make a valid game, by the same rules as every change.

Each single record was checked while it was read (:func:`.serialise.from_plain`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from . import rules
from .records import LARGEST_ID, THE, Edit, Id, Kind, Records, own_id

MOST_SAID = 5
"""Problems that are named; the others are counted."""

_ONE = (Kind.HEADING, Kind.VOCABULARY, Kind.COMING)
_BY_TEXT = (Kind.SOURCE, Kind.DECISION, Kind.MATCH)


def problems(records: Records) -> list[str]:
    """What is wrong with *records* as a game, one line each; empty if nothing is."""
    edits = records.as_edits()
    return list(edit_problems(edits)) or list(film_problems(records)) or rules.problems(records.game(), edits)


def film_problems(records: Records) -> Iterator[str]:
    """Where the order of the sources does not fit the sources; such records cannot be made into a game."""
    sources, orders, angles = (records.values[kind] for kind in (Kind.SOURCE, Kind.FILM, Kind.ANGLE))
    listed: set[str] = set()
    for id, order in orders.items():
        film = "the film" if id == THE else f"the film of angle {id}"
        if id != THE and id not in angles:
            yield f"{film} belongs to an angle that there is none of"
        if len(order) > len(set(order)) or not listed.isdisjoint(order):
            yield f"{film} lists a source twice"
        listed |= set(order)
        for source in order:
            if source not in sources:
                yield f"{film} lists a source {source!r} that there is none of"
    if sources and not orders:
        yield "the film's order is missing"
        return
    for source in sources:
        if source not in listed:
            yield f"source {source!r} has no place in the film"


def told(found: Iterable[str]) -> str:
    """The first of the problems as one text."""
    found = list(found)
    more = f" (and {len(found) - MOST_SAID} more)" if len(found) > MOST_SAID else ""
    return "; ".join(found[:MOST_SAID]) + more


def edit_problems(edits: Iterable[Edit]) -> Iterator[str]:
    """What is wrong with the ids of edits, whatever the game."""
    for edit in edits:
        if not _may_be(edit.kind, edit.id):
            yield f"{edit.kind} has an id {edit.id!r} that cannot be"
        for value in (edit.before, edit.after):
            if value is not None and own_id(edit.kind, value) not in (None, edit.id):
                yield f"{edit.kind} {edit.id!r} calls itself otherwise"


def _may_be(kind: Kind, id: Id) -> bool:
    if kind in _ONE:
        return id == THE
    if kind in _BY_TEXT:
        return isinstance(id, str)
    if kind is Kind.FILM and id == THE:
        return True
    return isinstance(id, int) and 0 < id <= LARGEST_ID

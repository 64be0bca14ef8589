"""How an action is called in the undo menu."""

from __future__ import annotations

from collections.abc import Iterable


def count(number: int, what: str) -> str:
    """``1 shot``, ``3 shots``."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def one_or_count(what: str, ids: Iterable[int]) -> str:
    """``shot 3`` for a single id, ``2 shots`` for several."""
    ids = tuple(ids)
    return f"{what} {ids[0]}" if len(ids) == 1 else count(len(ids), what)

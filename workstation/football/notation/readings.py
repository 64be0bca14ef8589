"""Every play that a line may say, the likeliest first."""

from __future__ import annotations

from dataclasses import replace
from math import inf

from ..plays import Play
from ..rulebook import Rulebook
from ..situation import Situation
from ..tracker import fold
from .custom import USUAL, Custom
from .draft import Finished, Refused
from .finish import finish
from .parser import Parsed, Parser


def _checked(way: Finished) -> Finished:
    """A reading with the doubts of the downs that were said along with it."""
    draft = way.draft
    if not draft.calls:
        return way
    after = fold(draft.rulebook, draft.before, way.play).after
    doubts = [said for call in draft.calls if (said := call.doubt(draft.before, after))]
    return replace(way, penalty=way.penalty + 2 * len(doubts), doubts=(*way.doubts, *doubts)) if doubts else way


_CHOICES = ("who fouled was not said", "the side of the", "run or sack was not said")
"""What a line leaves to choose, and the downs said along with it may settle."""


def _settled(ways: list[Finished], way: Finished) -> Finished:
    """A reading without its choices where it alone leads to the down and the distance that were said."""
    if (not (way.draft.calls or way.draft.claims) or way.doubts or not way.filled
            or not all(each.startswith(_CHOICES) for each in way.filled)):
        return way
    return way if any(not other.doubts for other in ways if other is not way) else replace(way, penalty=0, filled=())


def ways_of(parsed: Parsed) -> tuple[list[Finished], str | None]:
    """The readings of all drafts, the likeliest first, each play once; and what was missing where there is none."""
    ways: dict[Play, Finished] = {}
    refused: str | None = None
    nothing = False
    for draft in parsed.drafts:
        try:
            found = finish(draft)
        except Refused as error:
            refused = refused or str(error)
            continue
        nothing = nothing or not found
        for way in found:
            way = _checked(way)
            known = ways.get(way.play)
            if known is None or way.penalty < known.penalty:
                ways[way.play] = way
    if not ways and nothing:
        return [], None
    named = {replace(play, manner=""): way.penalty for play, way in ways.items() if play.manner}
    told = [way for play, way in ways.items() if play.manner or named.get(play, inf) > way.penalty]
    return sorted((_settled(told, way) for way in told), key=lambda way: way.penalty + 2 * len(way.doubts)), refused


def understood(text: str, before: Situation, rulebook: Rulebook, custom: Custom = USUAL) -> Play | None:
    """The play that *text* says first, or None; all that the writer wants to know."""
    parser = Parser(text, before, rulebook, custom)
    parsed = parser.parse(lambda tried: bool(ways_of(tried)[0]))
    if parsed.failure is not None:
        return None
    ways, _ = ways_of(parsed)
    return ways[0].play if ways else None

"""The second reading of a line that the first did not understand: everyday words are passed over, and named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from ..rulebook import Rulebook
from ..situation import Situation
from .custom import Custom
from .everyday import MOST_PASSED, SIDES, spans
from .parser import Failure, Parsed, Parser
from .tokens import Token, TokenKind
from .words import Role

_DEEDS = {role.value for role in (Role.RECOVERED, Role.FOUL, Role.EVENT, Role.RETURN, Role.SCORE)} | {"timeout"}
"""What a side that stands before it did: such a side is not passed over."""


@dataclass(frozen=True, slots=True)
class Second:
    """What the second reading came to: the parser and what it read, and the words passed over; or how far it got."""

    parser: Parser
    parsed: Parsed
    passed: tuple[Token, ...]

    @property
    def failure(self) -> Failure | None:
        return self.parsed.failure

    def parts(self) -> list[tuple[str, int, int]]:
        """The words passed over, as typed, each with its place; those that stand side by side together."""
        parts: list[list[Token]] = []
        for token in self.passed:
            between = self.parser.text[parts[-1][-1].end : token.start] if parts else "."
            if between.strip():
                parts.append([token])
            else:
                parts[-1].append(token)
        return [(self.parser.text[part[0].start : part[-1].end], part[0].start, part[-1].end) for part in parts]


def second(
    first: Parser,
    parsed: Parsed,
    before: Situation,
    rulebook: Rulebook,
    custom: Custom,
    ends: Callable[[Parsed], bool],
) -> Second | None:
    """Read the line again without the everyday words that stand in the way. None if that does not help; ``ends`` tells
    whether what was read makes a play."""
    whole = first.tokens
    passed: set[int] = set()
    parser = first
    for _ in range(MOST_PASSED):
        failure = parsed.failure
        if failure is None:
            if passed and ends(parsed):
                return Second(parser, parsed, tuple(whole[place] for place in sorted(passed)))
            more = _anywhere(parser, whole, passed)
        else:
            at = next((place for place, token in enumerate(whole) if token.start == failure.start), None)
            if at is None:
                return None
            more = _cover(parser, whole, passed, at)
            if not more and failure.known:
                more = _before(parser, whole, passed, at)
        if not more:
            return Second(parser, parsed, tuple(whole[place] for place in sorted(passed))) if passed and failure else None
        passed |= more
        parser = Parser(
            first.text, before, rulebook, custom, [_passed(token) if place in passed else token for place, token in enumerate(whole)]
        )
        parsed = parser.parse()
    return None


def _passed(token: Token) -> Token:
    return Token(TokenKind.PASSED, "", token.start, token.end)


def _cover(parser: Parser, whole: list[Token], passed: set[int], at: int) -> set[int]:
    """The longest everyday phrase at a place of the line that may be passed over."""
    for start, end in spans(whole, at):
        found = set(range(start, end)) - passed
        if found and not (end - start == 1 and whole[start].text in SIDES and _does(parser, whole[start])):
            return found
    return set()


def _before(parser: Parser, whole: list[Token], passed: set[int], at: int) -> set[int]:
    """The everyday phrase that stands just before a place: it may have been taken for something else."""
    for place in range(at - 1, max(-1, at - 4), -1):
        if place not in passed and (found := _cover(parser, whole, passed, place)):
            return found
    return set()


def _anywhere(parser: Parser, whole: list[Token], passed: set[int]) -> set[int]:
    """The first everyday phrase of the line, where the words were understood but make no play."""
    for place in range(len(whole)):
        if place not in passed and (found := _cover(parser, whole, passed, place)):
            return found
    return set()


def _does(parser: Parser, token: Token) -> bool:
    """The side at a place is followed by what it did."""
    return parser.role_after(token) in _DEEDS

"""What is known of every play in the staff's own words: what was said, what is carried on, what follows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from ...football.field import Team
from ...football.plays import IN_PLAY, Outcome, PlayKind
from ...football.situation import Situation
from ...football.step import Step
from ..model import Game
from .definition import About, Of, OwnWord, Vocabulary, WordSaid

KICKS = frozenset({PlayKind.PUNT, PlayKind.FIELD_GOAL, PlayKind.KICKOFF, PlayKind.SAFETY_FREE_KICK, PlayKind.TRY_KICK})
_SNAPS = IN_PLAY | {PlayKind.NO_PLAY}


class How(StrEnum):
    """How a value came to be known."""

    SAID = "said"
    CARRIED = "carried on"
    FOLLOWS = "follows"


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of a play in one word; no values where it was said that there are none."""

    values: tuple[str, ...]
    how: How = How.SAID

    @property
    def text(self) -> str:
        """The values in one line."""
        return ", ".join(self.values)


Words = Mapping[str, Known]
"""What is known of one play, by the word's name."""


def applies(word: OwnWord, kind: PlayKind, before: Situation, us: Team | None = None) -> bool:
    """Whether *word* is said about such a play met so; while *us* is unknown every defense may be ours."""
    if kind not in _SNAPS:
        return False
    match word.about:
        case About.KICKS:
            return kind in KICKS
        case About.OFFENSE:
            return kind not in KICKS
        case About.OUR_DEFENSE:
            return kind not in KICKS and (us is None or before.offense is not us)
    return True


def known_words(game: Game, steps: Sequence[Step], us: Team | None = None) -> tuple[Words, ...]:
    """What is known of each play of *game*, in game order; *steps* are its plays as tracked.

    What was said comes before what follows, and that before what is carried on. Words that the vocabulary no longer has
    are known where they were said. Words are carried on from play to play of one drive.
    """
    found: list[dict[str, Known]] = []
    walk = _KnownSoFar(game.vocabulary, us)
    for tag, step in zip(game.plays, steps, strict=False):
        found.append(walk.known(tag.words, step))
    return tuple(found)


class _KnownSoFar:
    """Goes through the plays in order and remembers what the next ones need."""

    def __init__(self, vocabulary: Vocabulary, us: Team | None) -> None:
        self._words = [word for word in _from_within(vocabulary) if word.carried or word.follows]
        self._order = {word.name: place for place, word in enumerate(vocabulary.words)}
        self._us = us
        self._carried: dict[str, Known] = {}
        self._drive: tuple[int, Team | None] | None = None
        self._last: Mapping[str, Known] = {}
        self._ball_came_back = False

    def known(self, said: Sequence[WordSaid], step: Step) -> dict[str, Known]:
        known = self.known_at(said, step.play.kind, step.before)
        if step.play.kind in _SNAPS:
            self._last, self._ball_came_back = known, _came_back(step)
        return known

    def known_at(self, said: Sequence[WordSaid], kind: PlayKind, before: Situation) -> dict[str, Known]:
        drive = before.drive, before.offense
        if drive != self._drive:
            self._drive, self._carried = drive, {}
        found = {each.word: Known(each.values) for each in said}
        for word in self._words:
            here = found.get(word.name)
            if here is None and applies(word, kind, before, self._us):
                here = self._follows(word, found) or (self._carried.get(word.name) if word.carried else None)
                if here is not None:
                    found[word.name] = here
            if word.carried and here is not None:
                if here.values:
                    self._carried[word.name] = Known(here.values, How.CARRIED)
                else:
                    self._carried.pop(word.name, None)
        return dict(sorted(found.items(), key=lambda each: (self._order.get(each[0], len(self._order)), each[0])))

    def _follows(self, word: OwnWord, found: Mapping[str, Known]) -> Known | None:
        for follows in word.follows:
            if follows.of is Of.LAST_IF_BALL_CAME_BACK and not self._ball_came_back:
                continue
            known = (found if follows.of is Of.THIS_PLAY else self._last).get(follows.word)
            values = tuple(then for said in (known.values if known else ())
                           if (then := follows.value(said)) is not None)
            if values:
                return Known(values, How.FOLLOWS)
        return None


def _from_within(vocabulary: Vocabulary) -> list[OwnWord]:
    """The words, ordered so that a word comes before those that follow from it within the same play."""
    by_name = {word.name: word for word in vocabulary.words}
    ordered: dict[str, OwnWord] = {}

    def visit(word: OwnWord, above: tuple[str, ...]) -> None:
        for follows in word.follows:
            if follows.of is Of.THIS_PLAY and follows.word in by_name and follows.word not in above:
                visit(by_name[follows.word], (*above, follows.word))
        ordered.setdefault(word.name, word)

    for word in vocabulary.words:
        visit(word, (word.name,))
    return list(ordered.values())


def _came_back(step: Step) -> bool:
    """Whether the next snap is where this one was across the field: after an incomplete pass, a foul before the snap,
    or a penalty from the previous spot with the down repeated. From memory, all rulebooks alike."""
    play, after = step.play, step.after
    if after.offense is not step.before.offense:
        return False
    back = (play.kind in (PlayKind.NO_PLAY, PlayKind.SPIKE) or step.down_repeated
            or (play.kind is PlayKind.PASS and play.outcome is Outcome.INCOMPLETE))
    return back and after.drive == step.before.drive


def spoken_word(name: str, text: str) -> str:
    """A word and what is said in it, but ``left hash`` alone, where the value says the word itself."""
    return text if name.split()[0] in text.split() else f"{name} {text}"


def names_known(game: Game, known: Sequence[Words]) -> tuple[str, ...]:
    """The game's words in their order, then removed words that were said of a play."""
    said = (name for each in known for name in each)
    return tuple(dict.fromkeys((*(word.name for word in game.vocabulary.words), *said)))


def spoken_words(words: Words) -> str:
    """What is known of a play in one line: ``formation trips, personnel 11``; what was said to be none is left out."""
    return ", ".join(spoken_word(name, known.text) for name, known in words.items() if known.values)


def plain_words(words: Words) -> dict[str, dict[str, object]]:
    """What is known of a play as JSON: for each word its values, and how they are known."""
    return {name: {"values": list(known.values), "known": str(known.how)} for name, known in words.items()}

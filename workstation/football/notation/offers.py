"""What may follow in a line, each with its short form."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from ..plays import EventKind, PlayKind
from ..rulebook import Rulebook
from ..situation import Next, Situation
from .draft import KICKS, Draft
from .foul_names import foul_words
from .lexicon import lexicon
from .word import Word
from .word_choice import ordered, stands
from .words import SET_WORDS
from .words_of_fouls import CLAIMS, FOUL_WORDS
from .words_of_places import PLACES, SIDES, TEAMS
from .words_of_plays import KINDS, TRIES
from .words_of_results import CHOICES, LOOSE_BALL, OUTCOMES, SCORES


@dataclass(frozen=True, slots=True)
class Option:
    """A word that can come next; ``typed`` is its short form, or the word itself."""

    word: str
    typed: str
    group: str


def _by_text(*groups: Sequence[Word]) -> dict[str, Word]:
    found: dict[str, Word] = {}
    for words in groups:
        for word in words:
            found.setdefault(word.text, word)
    return found

_ROWS = _by_text(KINDS, TRIES, SCORES, OUTCOMES, LOOSE_BALL, PLACES, CHOICES, TEAMS)
_START = {
    Next.SCRIMMAGE:
          "run pass incomplete sack punt field_goal kneel intercepted spike timeout end_of_period measurement no_play",
    Next.FAIR_CATCH_KICK: "field_goal run pass incomplete sack punt kneel timeout end_of_period",
    Next.OVER: "timeout end_of_period replay_reversal",
    Next.TRY: "good no_good blocked run pass incomplete timeout end_of_period two-point_try",
    Next.KICKOFF: "touchback fair_catch out_of_bounds touchdown downed muffed kickoff timeout end_of_period",
    Next.SAFETY_FREE_KICK: "touchback fair_catch out_of_bounds touchdown downed muffed timeout end_of_period",
    Next.COIN_TOSS: "home visitors receive kick defer defend",
}
_THEN = {PlayKind.RUN: "touchdown fumble to out_of_bounds safety first_down",
    PlayKind.PASS: "touchdown incomplete intercepted fumble to out_of_bounds", PlayKind.SACK: "fumble safety to",
    PlayKind.KNEEL: "fumble", PlayKind.SPIKE: "",
    PlayKind.PUNT: "touchback fair_catch out_of_bounds downed blocked returned touchdown muffed",
    PlayKind.KICKOFF: "touchback fair_catch out_of_bounds returned touchdown downed muffed",
    PlayKind.SAFETY_FREE_KICK: "touchback fair_catch out_of_bounds returned touchdown downed muffed",
    PlayKind.FIELD_GOAL: "good no_good blocked returned", PlayKind.TRY_KICK: "good no_good blocked",
    PlayKind.TRY_RUN: "good no_good fumble", PlayKind.TRY_PASS: "good no_good intercepted", PlayKind.NO_PLAY: "",
    PlayKind.COIN_TOSS: "home visitors receive kick defer defend", PlayKind.TIMEOUT: "home visitors",
    PlayKind.END_OF_PERIOD: "", PlayKind.MEASUREMENT: "short made",
    PlayKind.REPLAY_REVERSAL: "incomplete pass touchdown to", PlayKind.INADVERTENT_WHISTLE: "replay take_the_spot"}

_LOOSE = "lost kept recovery own_recovery out_of_bounds"
_FOULED = "offense defense declined accepted offset at from after_the_down"
_SHOWN_FOULS = 7
_NO_FOULS = (PlayKind.COIN_TOSS, PlayKind.TIMEOUT, PlayKind.END_OF_PERIOD, PlayKind.MEASUREMENT,
    PlayKind.REPLAY_REVERSAL, PlayKind.INADVERTENT_WHISTLE)


def offered(draft: Draft) -> tuple[Option, ...]:
    """The words worth showing after *draft*, each with its short form where that is understood there."""
    loose = bool(draft.events) and draft.events[-1].kind in (EventKind.FUMBLE, EventKind.MUFF)
    kick_to = draft.kick_to
    return _offered(draft.before, draft.rulebook, draft.kind, draft.said is not None, draft.in_foul
        and bool(draft.fouls), loose, kick_to is not None and kick_to < draft.rulebook.field_length)


@lru_cache(maxsize=512)
def _offered(before: Situation, rulebook: Rulebook, kind: PlayKind | None, in_set: bool, in_foul: bool, loose: bool,
        caught: bool) -> tuple[Option, ...]:
    rows = {**_ROWS, **_by_text(SIDES, FOUL_WORDS, CLAIMS)}
    if in_set:
        return tuple(Option(word.text, word.text, "set") for word in SET_WORDS[1:])
    if kind is None:
        names = _START.get(before.next, "").split()
    else:
        names = _THEN[kind].split()
        if caught and "touchback" in names:
            names = ["touchdown", *(name for name in names if name not in ("touchback", "touchdown"))]
        elif kind in KICKS and "touchdown" in names:
            names.remove("touchdown")
        if loose:
            names = [*_LOOSE.split(), *(name for name in names if name not in _LOOSE.split())]
        if in_foul:
            names = [*_FOULED.split(), *names]
    if kind is None and before.next in (Next.KICKOFF, Next.SAFETY_FREE_KICK) and "touchdown" in names:
        names.remove("touchdown")
    options = []
    for name in names:
        word = rows.get(name.replace("_", " "))
        if word is not None:
            options.append(Option(word.text, _short(word, before, rulebook, kind, in_foul, loose, caught),
                word.role.value))
    if kind not in _NO_FOULS and before.next not in (Next.COIN_TOSS, Next.OVER) and not in_set:
        options += [Option(word.text, word.codes[0] if word.codes else word.text, "foul name")
            for word in foul_words(rulebook)[:_SHOWN_FOULS]]
    return tuple(options)


def _short(word: Word, before: Situation, rulebook: Rulebook, kind: PlayKind | None, in_foul: bool, loose: bool,
        caught: bool) -> str:
    """The word's short form, if it means this word here."""
    probe = Draft(before, rulebook)
    probe.kind = kind
    if in_foul:
        probe.fouls, probe.in_foul = [{"name": "holding", "by": None}], True
    if caught:
        probe.fields["kick_to"] = 1.0
    words = lexicon(rulebook)
    for code in word.codes:
        first = next((each for each in ordered(list(words.codes[code]), probe) if stands(each, probe)), None)
        if first is word:
            return code
    return word.text

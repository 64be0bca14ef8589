"""The words of the entry line, and how a beginning of one is understood."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

from ..field import Team
from ..plays import (
    BallEvent,
    EnforcedAt,
    EventKind,
    FoulDecision,
    FoulTime,
    Outcome,
    PlayKind,
    Score,
    Side,
)
from ..situation import Next

if TYPE_CHECKING:
    from ..rulebook import Rulebook
    from .reader import Draft


@dataclass(frozen=True)
class Word:
    """A word (or words) of the line. ``take`` writes what it says into the draft; ``group`` sorts
    the words on screen; ``silent`` words only say what the number after them means."""

    text: str
    take: Callable[[Draft], None] = field(repr=False, compare=False)
    group: str = ""
    silent: bool = False

    @cached_property
    def parts(self) -> tuple[str, ...]:
        return tuple(self.text.replace("-", " ").split())

    @cached_property
    def joined(self) -> str:
        return "".join(self.parts)

    @cached_property
    def initials(self) -> str:
        return "".join(part[0] for part in self.parts)

    @property
    def foul(self) -> bool:
        return self.group == "foul name"


class Vocabulary:
    """The words that can come next, most usual first, and what a beginning means among them."""

    def __init__(self, words: Sequence[Word], shown: int, fouls: bool = False, begins: bool = False):
        self.words = tuple(words)
        self._shown, self._fouls_shown = shown, _FOULS_SHOWN if fouls else 0
        self._begins = begins       # these words begin a line: a foul needs as many letters as if run together
        self._meanings: dict[str, Word | None] = {}
        self.of_several_parts: dict[str, list[Word]] = {}       # by their first letter
        for word in self.words:
            if len(word.parts) > 1:
                self.of_several_parts.setdefault(word.text[0], []).append(word)

    def resolve(self, letters: str) -> Word | None:
        """The word that *letters* mean: that very word, else the first that begins so, else the foul with
        these initials, else the foul one of whose later words begins so (three letters at least)."""
        if letters not in self._meanings:
            self._meanings[letters] = self._resolve(letters)
        return self._meanings[letters]

    def _resolve(self, letters: str) -> Word | None:
        tests: list[Callable[[Word], bool]] = [
            lambda word: word.joined == letters,
            lambda word: word.joined.startswith(letters) and not (word.foul and len(letters) < 2),
            lambda word: word.foul and len(letters) > 1 and word.initials == letters,
            lambda word: word.foul and len(letters) > 2 and any(part.startswith(letters) for part in word.parts),
        ]
        return next((word for test in tests for word in self.words
                     if test(word) and not (self._begins and self._too_short(word, letters))), None)

    def glued(self, letters: str) -> Word | None:
        """The word that *letters* mean as one of several run together: rare words need more letters there."""
        word = self.resolve(letters)
        return None if word is None or self._too_short(word, letters) else word

    @staticmethod
    def _too_short(word: Word, letters: str) -> bool:
        if letters in (word.joined, word.initials if word.foul else word.joined):
            return False
        return len(letters) < {"foul name": 3, "place": 2, "more": 3}.get(word.group, 1)

    def shortest(self, word: Word) -> str:
        """The fewest letters that mean *word*."""
        beginnings = [word.joined[:length] for length in range(1, len(word.joined) + 1)]
        return next((letters for letters in sorted((*beginnings, word.initials), key=len)
                     if letters and self.resolve(letters) is word), word.joined)

    @cached_property
    def usual(self) -> tuple[tuple[str, str, str], ...]:
        """The words worth showing: text, shortest beginning, group."""
        first: dict[str, Word] = {}
        for word in self.words:
            first.setdefault(word.text, word)
        shown = list(first.values())[:self._shown] + [word for word in first.values() if word.foul][:self._fouls_shown]
        return tuple((word.text, self.shortest(word), word.group) for word in dict.fromkeys(shown))


_FOULS_SHOWN = 7


# -- what words do --------------------------------------------------------------------------------
def _kind(kind: PlayKind, outcome: Outcome | None = None):
    def take(draft: Draft) -> None:
        draft.set_kind(kind, outcome)
    return take


def _set(name: str, value, focus: str | None = None):
    def take(draft: Draft) -> None:
        draft.set(name, value)
        if focus is not None:
            draft.focus = focus
    return take


def _focus(focus: str):
    def take(draft: Draft) -> None:
        draft.focus = focus
    return take


def _event(kind: EventKind, by: Side | None = None):
    def take(draft: Draft) -> None:
        draft.add_event(BallEvent(kind, None, by))
    return take


def _foul(name: str, by: Side | None):
    def take(draft: Draft) -> None:
        draft.add_foul(name, by)
    return take


def _foul_set(name: str, value):
    def take(draft: Draft) -> None:
        draft.set_foul(name, value)
    return take


def _said(name: str, value):
    def take(draft: Draft) -> None:
        draft.set_said(name, value)
    return take


# -- the lists, most usual first -------------------------------------------------------------------
SCORES = (
    Word("touchdown", _set("score", Score.TOUCHDOWN), "score"),
    Word("safety", _set("score", Score.SAFETY), "score"),
    Word("no score", _set("score", Score.NONE), "score"),
    Word("single point", _set("score", Score.SINGLE), "score"),
    Word("goal scored", _set("score", Score.FIELD_GOAL), "score"),
)
LOOSE_BALL = (
    Word("fumble", _event(EventKind.FUMBLE), "ball"),
    Word("lost", _event(EventKind.RECOVERY, Side.DEFENSE), "ball"),
    Word("kept", _event(EventKind.RECOVERY, Side.OFFENSE), "ball"),
    Word("recovery", _event(EventKind.RECOVERY), "ball"),
    Word("own recovery", _event(EventKind.OWN_RECOVERY), "ball"),
    Word("lateral", _event(EventKind.LATERAL), "ball"),
    Word("interception", _event(EventKind.INTERCEPTION), "ball"),
    Word("catch", _event(EventKind.CATCH), "ball"),
    Word("muff", _event(EventKind.MUFF), "ball"),
    Word("block", _event(EventKind.BLOCK), "ball"),
    Word("ball out of bounds", _event(EventKind.OUT_OF_BOUNDS), "ball"),
    Word("landing", _event(EventKind.LANDING), "ball"),
    Word("forced touching", _event(EventKind.FORCED_TOUCHING), "ball"),
    Word("bat", _event(EventKind.BAT), "ball"),
    Word("momentum", _event(EventKind.MOMENTUM), "ball"),
)
BY = (
    Word("by defense", lambda draft: draft.set_event_by(Side.DEFENSE), "ball"),
    Word("by offense", lambda draft: draft.set_event_by(Side.OFFENSE), "ball"),
    Word("by nobody", lambda draft: draft.set_event_by(None), "ball"),
)
PLACES = (
    Word("to", _focus("spot"), "place", silent=True),
    Word("at", _focus("spot"), "place", silent=True),
    Word("gain", _focus("gain"), "place", silent=True),
    Word("loss", _focus("loss"), "place", silent=True),
    Word("kicked to", _focus("kick_to"), "place", silent=True),
    Word("kicked from", _focus("kick_from"), "place", silent=True),
    Word("offense ball", _set("possession", Side.OFFENSE), "place"),
    Word("defense ball", _set("possession", Side.DEFENSE), "place"),
)
OUTCOMES = tuple(Word(outcome.value, _set("outcome", outcome), "outcome") for outcome in Outcome) + (
    Word("outcome unknown", _set("outcome", None), "outcome"),)
_BY_OUTCOME = {word.text: word for word in OUTCOMES}


def _outcomes(*first: str) -> tuple[Word, ...]:
    return tuple(_BY_OUTCOME[name] for name in first)


def _team(name: str, team: Team) -> Word:
    return Word(name, _set("team", team), "team")


TEAMS = (_team("home", Team.HOME), _team("visitors", Team.VISITORS))
CHOICES = tuple(Word(choice, _set("choice", choice), "choice") for choice in ("receive", "kick", "defer", "defend"))
AFTER_WHISTLE = tuple(Word(choice, _set("choice", choice), "choice") for choice in ("replay", "take the spot"))
STANDS_AS = tuple(Word(f"as {kind.value}", _set("stands_as", kind), "ruling")
                  for kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK, PlayKind.PUNT, PlayKind.FIELD_GOAL,
                               PlayKind.KICKOFF, PlayKind.TRY_RUN, PlayKind.TRY_PASS, PlayKind.TRY_KICK,
                               PlayKind.KNEEL, PlayKind.SPIKE, PlayKind.SAFETY_FREE_KICK, PlayKind.NO_PLAY))
SET = (Word("set", lambda draft: draft.begin_said(), "set"),)

_RUN = (SCORES[0], *LOOSE_BALL[:1], PLACES[0], *_outcomes("out of bounds"), *SCORES[1:2], LOOSE_BALL[5],
        *SCORES[2:], *LOOSE_BALL[1:], *PLACES)
_FREE_KICK = (*_outcomes("touchback", "fair catch", "out of bounds"), SCORES[0], *_outcomes("downed", "muffed", "returned"),
              *LOOSE_BALL, *SCORES[1:], *PLACES, *TEAMS)
_TRY = (*_outcomes("good", "no good", "blocked", "intercepted", "returned"), *LOOSE_BALL, *SCORES, *PLACES)
DETAILS: dict[PlayKind, tuple[Word, ...]] = {
    PlayKind.RUN: _RUN,
    PlayKind.PASS: (*_RUN[:1], *_outcomes("incomplete", "intercepted"), *_RUN[1:]),
    PlayKind.SACK: _RUN,
    PlayKind.KNEEL: _RUN,
    PlayKind.SPIKE: _RUN,
    PlayKind.PUNT: (*_outcomes("touchback", "fair catch", "out of bounds", "downed", "blocked"), SCORES[0],
                    *_outcomes("muffed", "returned"), *LOOSE_BALL, *SCORES[1:], *PLACES),
    PlayKind.FIELD_GOAL: (*_outcomes("good", "no good", "blocked", "returned"), *LOOSE_BALL, *SCORES, *PLACES),
    PlayKind.KICKOFF: _FREE_KICK,
    PlayKind.SAFETY_FREE_KICK: _FREE_KICK,
    PlayKind.TRY_KICK: _TRY,
    PlayKind.TRY_RUN: _TRY,
    PlayKind.TRY_PASS: _TRY,
    PlayKind.NO_PLAY: PLACES,
    PlayKind.COIN_TOSS: (*TEAMS, *CHOICES),
    PlayKind.TIMEOUT: TEAMS,
    PlayKind.END_OF_PERIOD: (),
    PlayKind.MEASUREMENT: (*_outcomes("short", "made"), *PLACES),
    PlayKind.REPLAY_REVERSAL: (*_outcomes("incomplete", "complete"), SCORES[0], *STANDS_AS, *_RUN[1:]),
    PlayKind.INADVERTENT_WHISTLE: (*AFTER_WHISTLE, *PLACES),
}

_BETWEEN = (
    Word("timeout", _kind(PlayKind.TIMEOUT), "between"),
    Word("end of period", _kind(PlayKind.END_OF_PERIOD), "between"),
    Word("measurement", _kind(PlayKind.MEASUREMENT), "between"),
    Word("no play", _kind(PlayKind.NO_PLAY), "between"),
    Word("replay reversal", _kind(PlayKind.REPLAY_REVERSAL), "between"),
    Word("inadvertent whistle", _kind(PlayKind.INADVERTENT_WHISTLE), "between"),
)
_SCRIMMAGE = (
    Word("run", _kind(PlayKind.RUN), "kind"),
    Word("pass", _kind(PlayKind.PASS, Outcome.COMPLETE), "kind"),
    Word("incomplete", _kind(PlayKind.PASS, Outcome.INCOMPLETE), "kind"),
    Word("sack", _kind(PlayKind.SACK), "kind"),
    Word("punt", _kind(PlayKind.PUNT), "kind"),
    Word("field goal", _kind(PlayKind.FIELD_GOAL), "kind"),
    Word("kneel", _kind(PlayKind.KNEEL), "kind"),
    Word("intercepted", _kind(PlayKind.PASS, Outcome.INTERCEPTED), "kind"),
    Word("spike", _kind(PlayKind.SPIKE), "kind"),
)
_TRIES = (
    Word("good", _kind(PlayKind.TRY_KICK, Outcome.GOOD), "kind"),
    Word("no good", _kind(PlayKind.TRY_KICK, Outcome.NO_GOOD), "kind"),
    Word("blocked", _kind(PlayKind.TRY_KICK, Outcome.BLOCKED), "kind"),
    Word("run", _kind(PlayKind.TRY_RUN), "kind"),
    Word("pass", _kind(PlayKind.TRY_PASS), "kind"),
    Word("kick", _kind(PlayKind.TRY_KICK), "kind"),
    Word("incomplete", _kind(PlayKind.TRY_PASS, Outcome.NO_GOOD), "kind"),
)
_NAMED_TRIES = (
    Word("try kick", _kind(PlayKind.TRY_KICK), "more"),
    Word("try run", _kind(PlayKind.TRY_RUN), "more"),
    Word("try pass", _kind(PlayKind.TRY_PASS), "more"),
)
_KICKOFF = Word("kickoff", _kind(PlayKind.KICKOFF), "kind")
_NAMED_KICKS = (
    Word("kickoff", _kind(PlayKind.KICKOFF), "more"),
    Word("safety free kick", _kind(PlayKind.SAFETY_FREE_KICK), "more"),
)
_TOSS = (Word("coin toss", _kind(PlayKind.COIN_TOSS), "more"),)
_PLAIN = (      # on a try, "run" and "pass" are the try's
    Word("scrimmage run", _kind(PlayKind.RUN), "more"),
    Word("scrimmage pass", _kind(PlayKind.PASS, Outcome.COMPLETE), "more"),
)
_EVERY_KIND = (*_SCRIMMAGE, *_BETWEEN, *_NAMED_KICKS, *_NAMED_TRIES, *_TOSS, *_PLAIN)

# What must come next, told as a kind, if the situation leaves only one.
KNOWN_KIND = {
    Next.COIN_TOSS: PlayKind.COIN_TOSS,
    Next.KICKOFF: PlayKind.KICKOFF,
    Next.SAFETY_FREE_KICK: PlayKind.SAFETY_FREE_KICK,
    Next.TRY: PlayKind.TRY_KICK,
}

FIRST: dict[Next, tuple[Word, ...]] = {
    Next.SCRIMMAGE: _EVERY_KIND,
    Next.FAIR_CATCH_KICK: (_SCRIMMAGE[5], *_EVERY_KIND),
    Next.OVER: (*_BETWEEN, *_EVERY_KIND),
    Next.TRY: (*_TRIES, *_BETWEEN, *_EVERY_KIND),
    Next.KICKOFF: (*_BETWEEN, *_EVERY_KIND),
    Next.SAFETY_FREE_KICK: (*_NAMED_KICKS[1:], *_BETWEEN, *_EVERY_KIND),
    Next.COIN_TOSS: (*_TOSS, *_EVERY_KIND),
}

IN_FOUL = (
    Word("offense", _foul_set("by", Side.OFFENSE), "foul"),
    Word("defense", _foul_set("by", Side.DEFENSE), "foul"),
    Word("declined", _foul_set("decision", FoulDecision.DECLINED), "foul"),
    Word("accepted", _foul_set("decision", FoulDecision.ACCEPTED), "foul"),
    Word("offset", _foul_set("decision", FoulDecision.OFFSET), "foul"),
    Word("at", _focus("foul spot"), "foul", silent=True),
    Word("from", _focus("enforced from"), "foul", silent=True),
    Word("yards", _focus("foul yards"), "foul", silent=True),
    Word("first down", _foul_set("automatic_first_down", True), "foul"),
    Word("no first down", _foul_set("automatic_first_down", False), "foul"),
    Word("loss of down", _foul_set("loss_of_down", True), "foul"),
    Word("no loss of down", _foul_set("loss_of_down", False), "foul"),
    Word("runoff", _foul_set("runoff", True), "foul"),
    *(Word(when.value, _foul_set("when", when), "foul") for when in sorted(FoulTime, reverse=True)),
    *(Word(at.value, _foul_set("at", at), "foul") for at in EnforcedAt),
)

IN_SET = (
    Word("down", _focus("said down"), "set", silent=True),
    Word("to go", _focus("said yards_to_gain"), "set", silent=True),
    Word("on", _focus("said ball_on"), "set", silent=True),
    Word("period", _focus("said period"), "set", silent=True),
    Word("home score", _focus("said score_home"), "set", silent=True),
    Word("visitors score", _focus("said score_visitors"), "set", silent=True),
    Word("home timeouts", _focus("said timeouts_home"), "set", silent=True),
    Word("visitors timeouts", _focus("said timeouts_visitors"), "set", silent=True),
    Word("home ball", _said("offense", Team.HOME), "set"),
    Word("visitors ball", _said("offense", Team.VISITORS), "set"),
    Word("home kicks second half", _said("second_half_kicker", Team.HOME), "set"),
    Word("visitors kick second half", _said("second_half_kicker", Team.VISITORS), "set"),
    Word("home faces right", _said("home_faces_right", True), "set"),
    Word("home faces left", _said("home_faces_right", False), "set"),
    *(Word(f"next {following.value}", _said("next", following), "set") for following in Next),
)

# Fouls called most often first, so that short beginnings go to them (common practice, no source).
_USUAL = ("holding", "false start", "offside", "defensive pass interference", "delay of game", "face mask",
          "illegal block in the back", "unnecessary roughness", "encroachment", "defensive holding",
          "roughing the passer", "intentional grounding", "illegal formation", "illegal motion", "illegal shift",
          "personal foul", "unsportsmanlike conduct", "illegal use of hands")


@lru_cache(maxsize=16)
def _foul_words(rulebook: Rulebook) -> tuple[Word, ...]:
    """The rulebook's fouls by every name it knows for them."""
    ordered = sorted(rulebook.fouls.values(),
                     key=lambda rule: _USUAL.index(rule.name) if rule.name in _USUAL else len(_USUAL))
    named = [Word(rule.name, _foul(rule.name, rule.by), "foul name") for rule in ordered]
    others = [Word(other, _foul(rule.name, rule.by), "foul name")
              for rule in ordered for other in rule.also
              if other not in rulebook.fouls and other.replace(" ", "").replace("-", "").isalpha()]
    return (*named, *others)


@lru_cache(maxsize=64)
def first_words(following: Next, rulebook: Rulebook) -> Vocabulary:
    """Every word that can begin a line in a situation."""
    known = KNOWN_KIND.get(following)
    details = DETAILS[known] if known in (PlayKind.KICKOFF, PlayKind.SAFETY_FREE_KICK, PlayKind.COIN_TOSS) else ()
    if known is PlayKind.KICKOFF:       # whoever says what is known anyhow does not mean a ball kept by the kickers
        details = (_KICKOFF, *details)
    shown = {Next.SCRIMMAGE: 13, Next.TRY: 9, Next.COIN_TOSS: 6, Next.OVER: 5, Next.KICKOFF: 10}.get(following, 9)
    return Vocabulary((*details, *FIRST[following], *_foul_words(rulebook), *SET), shown,
                      fouls=following not in (Next.COIN_TOSS, Next.OVER), begins=True)


# How many of a kind's words are shown; all are understood.
_SHOWN = {PlayKind.PUNT: 8, PlayKind.KICKOFF: 7, PlayKind.SAFETY_FREE_KICK: 7, PlayKind.FIELD_GOAL: 4,
          PlayKind.TRY_KICK: 3, PlayKind.TRY_RUN: 5, PlayKind.TRY_PASS: 5, PlayKind.PASS: 8, PlayKind.NO_PLAY: 1,
          PlayKind.COIN_TOSS: 6, PlayKind.TIMEOUT: 2, PlayKind.END_OF_PERIOD: 0, PlayKind.MEASUREMENT: 3,
          PlayKind.REPLAY_REVERSAL: 10, PlayKind.INADVERTENT_WHISTLE: 3}


_NO_FOULS = {PlayKind.COIN_TOSS, PlayKind.TIMEOUT, PlayKind.END_OF_PERIOD, PlayKind.MEASUREMENT,
             PlayKind.REPLAY_REVERSAL, PlayKind.INADVERTENT_WHISTLE}


@lru_cache(maxsize=256)
def detail_words(kind: PlayKind, caught: bool, loose: bool, in_foul: bool, rulebook: Rulebook) -> Vocabulary:
    """Every word that can follow once the kind is known; *caught*: a kick came down in the field of play,
    *loose*: something happened to the ball, *in_foul*: the word before was about a foul."""
    details, shown = DETAILS[kind], _SHOWN.get(kind, 6)
    if loose:           # after a fumble the ball, not the play, goes out of bounds
        details = (*LOOSE_BALL[1:3], LOOSE_BALL[4], Word("out of bounds", _event(EventKind.OUT_OF_BOUNDS), "ball"), *details)
        shown += 4
    if caught:          # a kick that was caught is more likely run back for a touchdown than a touchback
        details = (SCORES[0], *details)
    if in_foul:
        details, shown = (*IN_FOUL, *details), 7
    return Vocabulary((*details, *_foul_words(rulebook), *OUTCOMES, *SCORES, *LOOSE_BALL, *BY, *PLACES, *TEAMS, *CHOICES,
                       *AFTER_WHISTLE, *STANDS_AS, *SET), shown, fouls=kind not in _NO_FOULS)


set_words = Vocabulary(IN_SET, 14)


def learn(rulebook: Rulebook) -> None:
    """Make the words of every situation under a rulebook, and the usual ones of every kind of play, which else
    happens when each is first asked for. In any thread; they are kept."""
    for following in Next:
        _ = first_words(following, rulebook).usual
    for kind in DETAILS:
        _ = detail_words(kind, False, False, False, rulebook).usual

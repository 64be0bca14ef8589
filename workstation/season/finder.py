"""Finding plays by anything tagged, without a screen.

What is true of a play is worked out once per change of the game, as a set of filters and a text.
A search is then a handful of set operations: filters of one group widen it ("on 3rd down or on
4th down"), groups narrow it, and every word must occur somewhere in what was said about the play.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum

from ..coverage.coverage import Coverage
from ..coverage.finding import Finding
from ..football.field import Team, spoken_spot
from ..football.plays import FoulDecision, Outcome, Play, PlayKind, Side
from ..football.rulebook import load_rulebook
from ..football.situation import Next, Situation
from ..football.speaking import ordinal, spoken_clock, spoken_period, spoken_situation
from ..football.step import Step
from ..tagging.discretion import SENSITIVE, meant_by, sensitive_spans, shown_between
from ..tagging.layout import layout_of
from ..tagging.model import Decision, Game, PlayTag, ShotKind, Verdict
from ..tagging.own_words.definition import Vocabulary, WordKind
from ..tagging.own_words.following import Words, known_words, spoken_word, spoken_words

_PLURALS = {PlayKind.PASS: "passes", PlayKind.NO_PLAY: "no plays", PlayKind.TRY_PASS: "try passes",
            PlayKind.COIN_TOSS: "coin toss", PlayKind.END_OF_PERIOD: "ends of periods",
            PlayKind.INADVERTENT_WHISTLE: "inadvertent whistles"}
_BETWEEN = {PlayKind.COIN_TOSS, PlayKind.TIMEOUT, PlayKind.END_OF_PERIOD, PlayKind.MEASUREMENT}
_KICKS = {PlayKind.PUNT, PlayKind.KICKOFF, PlayKind.SAFETY_FREE_KICK, PlayKind.FIELD_GOAL, PlayKind.TRY_KICK}
_AROUND = (ShotKind.ALTERCATION, ShotKind.INJURY, ShotKind.MEASUREMENT, ShotKind.PENALTY_SIGNAL)
TWO_MINUTES = 120


class Group(IntEnum):
    """What a filter speaks of, in the order in which a sentence says it."""

    KIND = 0
    TEAM = 1
    DOWN = 2
    DISTANCE = 3
    FIELD = 4
    RESULT = 5
    PENALTY = 6
    TIME = 7
    SEEN = 8
    SAID = 9
    OWN_WORDS = 10


GROUP_NAMES = {Group.KIND: "kind", Group.TEAM: "whose ball", Group.DOWN: "down", Group.DISTANCE: "to gain",
               Group.FIELD: "field", Group.RESULT: "result", Group.PENALTY: "penalties", Group.TIME: "time",
               Group.SEEN: "also on film", Group.SAID: "said about it", Group.OWN_WORDS: "own words"}


@dataclass(frozen=True, slots=True, order=True)
class Filter:
    """One thing a play can be found by. ``words`` is how a sentence says it; ``word``: the own word that it is
    about, empty if none; each own word is a group of its own."""

    group: Group
    order: int
    words: str
    word: str = ""

    @property
    def widens(self) -> tuple[Group, str]:
        """The filter's group: filters of one group widen the search, those of different groups narrow it."""
        return self.group, self.word


@dataclass(frozen=True, slots=True)
class Facts:
    """What a search may ask about one play. ``text`` is everything said about it, case folded; ``title`` and
    ``line`` name it and tell what it came to."""

    play: int
    filters: frozenset[Filter]
    text: str
    title: str
    line: str


class FactBook:
    """Facts about the plays of one game, cached for plays whose tags are unchanged."""

    def __init__(self) -> None:
        # by play: what the facts follow from, and the facts
        self._known: dict[int, tuple[tuple[object, ...], Facts]] = {}

    def of(self, game: Game, steps: Sequence[Step], coverage: Coverage | None = None, us: Team | None = None
           ) -> list[Facts]:
        """Facts about every play, in game order; events such as timeouts count only if they are on film. ``us`` is
        the coach's own team, if there is one: the filters then speak of us and them. Raises RulebookError."""
        rulebook = load_rulebook(game.heading.rulebook, game.heading.season)
        names = game.heading.names
        if us is not None:
            names = {us: "us", us.opponents: "them"}
        around = _shots_around(game)
        notes = _notes_by_play(game)
        findings = defaultdict(list)
        for finding in coverage.findings if coverage else ():
            if finding.play is not None:
                findings[finding.play].append((finding, game.decision_by_finding.get(finding.key, _NONE)))
        words, places = known_words(game, steps), _places(game.vocabulary)
        before, self._known = self._known, {}
        for number, (tag, step) in enumerate(zip(game.plays, steps, strict=False), 1):
            if tag.play.kind in _BETWEEN and tag.shot is None:
                continue
            follows = (tag, step, number, names, around.get(tag.id, set()), notes.get(tag.id, []),
                       findings.get(tag.id, []), rulebook.periods, rulebook.field_length, words[number - 1], places)
            known = before.get(tag.id)
            self._known[tag.id] = known if known is not None and known[0] == follows else (follows, _facts(*follows))
        return [facts for _, facts in self._known.values()]


def _facts(tag: PlayTag, step: Step, number: int, names: dict[Team, str], around: set[ShotKind], notes: list[str],
           said: list[tuple[Finding, Decision]], periods: int, field_length: float, words: Words,
           places: Mapping[tuple[str, str], int]) -> Facts:
    before, play = step.before, tag.play
    filters = {_kind_filter(play.kind)}
    if play.manner:
        filters.add(Filter(Group.RESULT, 90, f"made as {_an(play.manner)}"))
    if before.offense is not None:
        filters.add(Filter(Group.TEAM, before.offense is not Team.HOME, f"with the ball for {names[before.offense]}"))
    if before.next is Next.SCRIMMAGE:
        filters |= _situation_filters(before, field_length)
    filters |= _result_filters(step, play)
    filters |= _penalty_filters(step, names)
    filters |= _time_filters(before, periods)
    filters |= {Filter(Group.SEEN, order, f"with {_an(str(kind))}") for order, kind in enumerate(_AROUND)
              if kind in around}
    if tag.shot is None:
        filters.add(Filter(Group.SEEN, 9, "not filmed"))
    if said:
        filters.add(Filter(Group.SAID, 0, "with findings"))
    if any(decision.verdict is None for _, decision in said):
        filters.add(Filter(Group.SAID, 1, "with open findings"))
    if any(decision.verdict is Verdict.AGREED for _, decision in said):
        filters.add(Filter(Group.SAID, 2, "with agreed findings"))
    if notes or play.comment:
        filters.add(Filter(Group.SAID, 3, "with notes"))
    if step.problems:
        filters.add(Filter(Group.SAID, 4, "with a contradiction"))
    filters |= {Filter(Group.OWN_WORDS, places.get((name, value), places.get((name, ""), len(places))),
                       f"with {spoken_word(name, value)}", name)
                for name, known in words.items() for value in known.values if (name, _TEXT) not in places}
    situation = spoken_situation(before, field_length)
    marked = [str(kind) for kind in _AROUND if kind in around and kind in SENSITIVE]
    text = " ".join((f"play {number}", *marked, "penalty flag" if play.fouls else "", situation, str(play.kind),
                     play.manner, str(play.outcome or ""), step.result,
                     step.explanation, play.comment, " ".join(foul.name for foul in play.fouls),
                     spoken_clock(before.clock), spoken_period(before.period, periods), " ".join(notes),
                     spoken_words(words),
                     " ".join(f"{finding.title} {finding.rule} {decision.comment}" for finding, decision in said)))
    return Facts(tag.id, frozenset(filters), text.casefold(), *spoken_play(number, step, field_length, names))


_TEXT = "\0text"


def _places(vocabulary: Vocabulary) -> dict[tuple[str, str], int]:
    """The place of each word and each value of a list in the vocabulary. A word of free text, where no two plays say
    the same, has a place under ``_TEXT`` too."""
    places: dict[tuple[str, str], int] = {}
    for word in vocabulary.words:
        places[word.name, ""] = len(places)
        if word.kind is WordKind.TEXT:
            places[word.name, _TEXT] = len(places)
        for value in word.values:
            places[word.name, value.name] = len(places)
    return places


def spoken_play(number: int, step: Step, field_length: float, names: Mapping[Team, str]) -> tuple[str, str]:
    """A play's number in the game and the situation it met; whose ball it was, what it was and came to."""
    kind, offense = str(step.play.kind), step.before.offense
    told = f"{kind}, {step.result}" if step.result else kind
    return (f"{number} · {spoken_situation(step.before, field_length)}",
            f"{names[offense]}: {told}" if offense is not None else told)


_NONE = Decision("")


def find(facts: Iterable[Facts], chosen: Collection[Filter] = (), words: str = "") -> list[int]:
    """The ids of the plays that fit, in game order."""
    groups = defaultdict(set)
    for each in chosen:
        groups[each.widens].add(each)
    asked = list(groups.values())
    wanted = words.casefold().split()
    return [fact.play for fact in facts
            if all(not group.isdisjoint(fact.filters) for group in asked) and all(word in fact.text for word in wanted)]


def counted(facts: Iterable[Facts], chosen: Collection[Filter] = (), words: str = "") -> dict[Filter, int]:
    """Every filter that fits some play, in the order of a sentence, with the number of plays that choosing it adds
    or keeps: those that fit it, the words and the filters chosen in the other groups."""
    groups = defaultdict(set)
    for each in chosen:
        groups[each.widens].add(each)
    wanted = words.casefold().split()
    counts: dict[Filter, int] = defaultdict(int)
    for fact in facts:
        fails = {group for group, filters in groups.items() if filters.isdisjoint(fact.filters)}
        is_said = len(fails) < 2 and all(word in fact.text for word in wanted)
        for each in fact.filters:
            counts[each] += is_said and fails <= {each.widens}
    return dict(sorted(counts.items()))


def sentence(chosen: Collection[Filter], words: str = "") -> str:
    """The search as people say it: ``runs or passes on 4th down with a penalty on us``."""
    groups = defaultdict(list)
    for each in sorted(chosen):
        groups[each.widens].append(each.words)
    said = [" or ".join(groups.pop((Group.KIND, ""), ["plays"])), *(" or ".join(words) for words in groups.values())]
    if words.strip():
        said.append(f"saying “{words.strip()}”")
    return " ".join(said)


# -- filters -------------------------------------------------------------------------------------------


def _kind_filter(kind: PlayKind) -> Filter:
    words = _PLURALS.get(kind, f"{kind}s")
    return Filter(Group.KIND, list(PlayKind).index(kind), "tries by run" if kind is PlayKind.TRY_RUN else words)


def _situation_filters(before: Situation, field_length: float) -> set[Filter]:
    filters = set()
    if before.down is not None:
        filters.add(Filter(Group.DOWN, before.down, f"on {ordinal(before.down)} down"))
    if before.goal_to_go:
        filters.add(Filter(Group.DISTANCE, 3, "with goal to go"))
    if before.yards_to_gain is not None:
        for order, (words, fits) in enumerate((("with 3 or less to gain", before.yards_to_gain <= 3),
                                               ("with 4 to 6 to gain", 3 < before.yards_to_gain <= 6),
                                               ("with 7 or more to gain", before.yards_to_gain > 6))):
            if fits:
                filters.add(Filter(Group.DISTANCE, order, words))
    if before.ball_on is not None:
        if before.ball_on >= field_length - 20:
            filters.add(Filter(Group.FIELD, 0, f"from inside {spoken_spot(field_length - 20, field_length)}"))
        elif before.ball_on <= 10:
            filters.add(Filter(Group.FIELD, 2, "from inside own 10"))
        else:
            filters.add(Filter(Group.FIELD, 1, "from the open field"))
    return filters


def _result_filters(step: Step, play: Play) -> set[Filter]:
    said = ((step.points_home or step.points_visitors, "that scored"), ("touchdown" in step.result, "for a touchdown"),
            (step.first_down, "for a first down"),
            (step.possession_changed and play.kind not in _KICKS, "with a turnover"),
            (play.outcome is Outcome.INCOMPLETE, "left incomplete"),
            (play.outcome in (Outcome.BLOCKED, Outcome.MUFFED), "blocked or muffed"))
    return {Filter(Group.RESULT, order, words) for order, (holds, words) in enumerate(said) if holds}


def _penalty_filters(step: Step, names: dict[Team, str]) -> set[Filter]:
    filters, offense = set(), step.before.offense
    if step.play.fouls:
        filters.add(Filter(Group.PENALTY, 0, "with a penalty"))
    for foul in step.play.fouls:
        if offense is not None and foul.decision is not FoulDecision.DECLINED:
            team = offense if foul.by is Side.OFFENSE else offense.opponents
            filters.add(Filter(Group.PENALTY, 1 + (team is not Team.HOME), f"with a penalty on {names[team]}"))
        if foul.decision is FoulDecision.DECLINED:
            filters.add(Filter(Group.PENALTY, 3, "with a declined penalty"))
    return filters


def _time_filters(before: Situation, periods: int) -> set[Filter]:
    filters = {Filter(Group.TIME, before.period, f"in the {spoken_period(before.period, periods)}")}
    if before.clock is not None and before.clock <= TWO_MINUTES and before.period in (periods // 2, periods):
        filters.add(Filter(Group.TIME, 90, "in a half's last two minutes"))
        if before.period == periods:
            filters.add(Filter(Group.TIME, 91, "in the game's last two minutes"))
    return filters


def _an(words: str) -> str:
    return f"{'an' if words[0] in 'aeiou' else 'a'} {words}"


def _shots_around(game: Game) -> dict[int, set[ShotKind]]:
    """The kinds of shots that belong to each play: its own, and those up to the shot of the next play; an event
    there that is marked by a moment or said in the play, such as a fight, counts like a shot of its kind."""
    films: dict[int, list[int]] = {}
    for tag in game.plays:
        if tag.shot is not None:
            films.setdefault(tag.shot, []).append(tag.id)
    found: dict[int, set[ShotKind]] = defaultdict(set)
    current: list[int] = []
    layout = layout_of(game)
    sensitive = sensitive_spans(layout)
    for filmed in layout.shots.values():
        shot = filmed.shot
        current = films.get(shot.id, current)
        for play in current:
            found[play] |= {kind for kind in (shot.kind, shot.opens_on) if kind is not None}
            if len(current) == 1:
                found[play].update(shown_between(sensitive, filmed.start, filmed.end))
            else:
                found[play].update(shown_between(sensitive, layout.plays[play].start, layout.plays[play].end))
    for start, end, kind in sensitive:
        if start == end and (there := layout.play_at(start)) is not None:       # marked outside every shot
            found[there].add(kind)
    for tag in game.plays:
        found[tag.id].update(meant_by(tag.play))
    return found


def _notes_by_play(game: Game) -> dict[int, list[str]]:
    """The words of notes and drawings by the play during whose span they were made."""
    said: dict[int, list[str]] = defaultdict(list)
    marks = [*((note.at, note.text) for note in game.notes), *((drawing.at, drawing.text) for drawing in game.drawings)]
    if not marks:
        return said
    layout = layout_of(game)
    for at, text in marks:
        if text and layout.knows(at):
            time = layout.time(at)
            for play, filmed in layout.plays.items():
                if filmed.start <= time < filmed.end:
                    said[play].append(text)
    return said

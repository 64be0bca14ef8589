"""Practice: at each gap between two plays, what would you film now? The answers beside what a viewer needed.

A tagged game is stripped of everything but its plays, as a camera that films nothing else would leave it, and checked:
what is then missing is what belonged there. Works on any tagged game, one's own or somebody else's, whatever was
filmed.
"""

from __future__ import annotations

import json
from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path

from ..film.film import Film, Source
from ..film.time import Instant
from ..film.writing import written_whole
from ..football.rulebook import Rulebook
from ..football.step import Step
from ..tagging.layout import FilmLayout, layout_of
from ..tagging.model import Game, Moment, MomentKind, Shot, ShotKind
from .answer import PracticeAnswer
from .checker import check
from .finding import Finding
from .profile import Profile
from .summary import Tally

_ANSWERED_BY = {
    "marker shot expected": PracticeAnswer.MARKER, "scoreboard expected": PracticeAnswer.BOARD,
    "penalty signal expected": PracticeAnswer.SIGNAL,
    "measurement": PracticeAnswer.MEASUREMENT, "pull-out opportunity": PracticeAnswer.PULL_OUT,
    "altercation": PracticeAnswer.ALTERCATION,
    "final scoreboard expected": PracticeAnswer.CLOSING, "handshake expected": PracticeAnswer.CLOSING,
    "coin toss expected": PracticeAnswer.COIN_TOSS, "longer hold expected": PracticeAnswer.LONGER_HOLD,
}
_WELCOME = frozenset({PracticeAnswer.PULL_OUT})
"""Answers that are welcome but never required."""
_NEEDLESS = {
    PracticeAnswer.MARKER: "The down followed from what the viewer had just seen; the marker tells nothing new.",
    PracticeAnswer.BOARD: "Nothing on the board had changed but the clock.",
    PracticeAnswer.SIGNAL: "There was no foul to signal.",
    PracticeAnswer.MEASUREMENT: "Nobody measured.",
    PracticeAnswer.LONGER_HOLD: "The play was over; two seconds after the dead ball are enough.",
    PracticeAnswer.PULL_OUT: "The down was not decisive; a plain wide picture serves it better.",
    PracticeAnswer.ALTERCATION: "Nobody confronted anybody.",
    PracticeAnswer.COIN_TOSS: "The toss is the very first shot.",
    PracticeAnswer.CLOSING: "The game goes on.",
}
_KEPT = frozenset({MomentKind.FULL_WIDE, MomentKind.SNAP, MomentKind.DEAD_BALL, MomentKind.CONFRONTATION,
                   MomentKind.CONFRONTATION_OVER})
_TICKS = 1000


@dataclass(frozen=True, slots=True)
class Need:
    """Something that belonged in a gap, and the reason as the checker gives it."""

    answer: PracticeAnswer
    rule: str
    why: str


@dataclass(frozen=True, slots=True)
class Gap:
    """A place to stop at: ``at`` is where the play before ends on the film as it is (the film's first shot before the
    first play), ``before`` and ``after`` are plays by id. ``fair`` are answers that are neither needed nor wrong."""

    at: Instant
    before: int | None
    after: int | None
    needs: tuple[Need, ...] = ()
    fair: frozenset[PracticeAnswer] = frozenset()


@dataclass(frozen=True, slots=True)
class Difference:
    """Where an answer differs from a viewer's need: ``missed`` says that it was needed and not given."""

    gap: Gap
    answer: PracticeAnswer
    missed: bool
    why: str


@dataclass(frozen=True)
class Result:
    """What came of a session: a tally per answer, and every difference in film order."""

    tallies: Mapping[PracticeAnswer, Tally]
    differences: tuple[Difference, ...]
    gaps: int


@dataclass(frozen=True)
class PracticeSession:
    """One person's answers to one game. ``answers`` are by gap: the id of the play after it, 0 for the film's end;
    a gap without an entry was not answered and counts nowhere."""

    trainee: str
    date: str
    answers: Mapping[int, frozenset[PracticeAnswer]] = field(default_factory=dict)


def gaps(game: Game, steps: Sequence[Step], profile: Profile, rulebook: Rulebook) -> tuple[Gap, ...]:
    """The gaps of *game*, each with what a viewer would need there if only the plays were filmed."""
    layout = layout_of(game)
    bare, starts = _stripped(game, layout)
    filmed = [tag for tag in game.plays if tag.id in layout.plays and layout.plays[tag.id].shot.id in starts]
    if not filmed:
        return ()
    coverage = check(bare, steps,
                     replace(profile, rules=tuple(rule for rule in profile.rules if rule.name in _ANSWERED_BY)),
                     rulebook)
    plays: dict[int, list[int]] = {}        # by shot
    for tag in filmed:
        plays.setdefault(layout.plays[tag.id].shot.id, []).append(tag.id)
    shots = list(plays)
    needs: dict[int, list[Need]] = {}
    edges = [starts[shot] for shot in shots]
    for finding in coverage.findings:
        if _belongs(finding):
            index = min(bisect_left(edges, finding.time - 0.01), len(shots))
            answer = _ANSWERED_BY[finding.rule]
            if all(need.answer is not answer for need in needs.get(index, ())):
                needs.setdefault(index, []).append(Need(answer, finding.rule, finding.why))
    sure = {belief.play: belief.served for belief in coverage.beliefs if belief.down is not None}
    found = []
    for index in range(len(shots) + 1):
        at = layout.shots[shots[index - 1]].shot.end if index else layout.shots[shots[0]].shot.start
        before = plays[shots[index - 1]][-1] if index else None
        after = plays[shots[index]][0] if index < len(shots) else None
        here = tuple(needs.get(index, ()))
        found.append(Gap(at, before, after, here, _fair(here, sure.get(after or 0), profile, index)))
    return tuple(_board_may_wait(found))


def judge(found: Sequence[Gap], session: PracticeSession) -> Result:
    """Lay the answers beside what was needed."""
    tallies: dict[PracticeAnswer, Tally] = {}
    differences: list[Difference] = []

    def count(answer: PracticeAnswer, tally: Tally) -> None:
        tallies[answer] = tallies.get(answer, Tally()) + tally

    answered = [gap for gap in found if (gap.after or 0) in session.answers]
    for gap in answered:
        given = session.answers[gap.after or 0] - {PracticeAnswer.NOTHING}
        for need in gap.needs:
            if (need.answer in given or (need.answer is PracticeAnswer.MARKER and PracticeAnswer.PULL_OUT in given)
                    or (need.answer is PracticeAnswer.BOARD and _given_a_little_later(found, gap, session))):
                count(need.answer, Tally(delivered=1))
            elif need.answer not in _WELCOME:
                count(need.answer, Tally(missed=1))
                differences.append(Difference(gap, need.answer, True, need.why))
        needed = {need.answer for need in gap.needs}
        for answer in sorted(given - needed - gap.fair):
            count(answer, Tally(overdone=1))
            differences.append(Difference(gap, answer, False, _NEEDLESS[answer]))
        if not given and not needed - _WELCOME:
            count(PracticeAnswer.NOTHING, Tally(delivered=1))
    return Result(tallies, tuple(differences), len(answered))


def _belongs(finding: Finding) -> bool:
    """Whether a finding is about what to film in the gap, and not about how a play was filmed."""
    if finding.rule == "longer hold expected":
        return "confront" in finding.title
    if finding.rule == "pull-out opportunity":
        return finding.title.startswith("Pull-out opportunity")
    return True


def _fair(needs: Sequence[Need], sure: float | None, profile: Profile, index: int) -> frozenset[PracticeAnswer]:
    """The answers that are right but not required: a marker for a viewer who is not quite sure, beside a pull-out,
    or after a signal or a measurement; a pull-out where a marker is needed; the board beside the handshake at the
    end; the coin toss in the first gap."""
    kinds = {need.answer for need in needs}
    is_unsure = sure is not None and sure < profile.viewer.sure_from
    after_ruling = kinds & {PracticeAnswer.PULL_OUT, PracticeAnswer.SIGNAL, PracticeAnswer.MEASUREMENT}
    fair = {PracticeAnswer.MARKER: is_unsure or after_ruling, PracticeAnswer.PULL_OUT: PracticeAnswer.MARKER in kinds,
            PracticeAnswer.BOARD: PracticeAnswer.CLOSING in kinds, PracticeAnswer.COIN_TOSS: index == 0}
    return frozenset(answer for answer, is_fair in fair.items() if is_fair)


def _board_may_wait(found: Sequence[Gap]) -> Iterable[Gap]:
    """A board that is due may come in the next gap, too."""
    due = False
    for gap in found:
        yield replace(gap, fair=gap.fair | {PracticeAnswer.BOARD}) if due else gap
        due = any(need.answer is PracticeAnswer.BOARD for need in gap.needs)


def _given_a_little_later(found: Sequence[Gap], gap: Gap, session: PracticeSession) -> bool:
    place = found.index(gap)
    later = found[place + 1] if place + 1 < len(found) else None
    return later is not None and PracticeAnswer.BOARD in session.answers.get(later.after or 0, frozenset())


def _stripped(game: Game, layout: FilmLayout) -> tuple[Game, dict[int, float]]:
    """The game with its plays' shots alone, one after the other on a film of their own, and where each begins on it.

    A shot keeps its end only if a camera that films nothing but plays would end it there; marks made by a person are
    kept."""
    now, shots, moments = 0.0, [], []
    starts: dict[int, float] = {}
    plays = {tag.shot for tag in game.plays if tag.shot is not None}
    for filmed in sorted(layout.shots.values(), key=lambda each: each.start):
        shot = filmed.shot
        if shot.id not in plays or shot.kind not in (ShotKind.PLAY, None):
            continue
        length = filmed.end - filmed.start
        starts[shot.id] = now
        shots.append(Shot(shot.id, _at(now), _at(now + length), ShotKind.PLAY, framing=shot.framing))
        for seen in filmed.moments:
            if seen.kind in _KEPT:
                moments.append(Moment(seen.moment.id, seen.kind, _at(min(now + seen.time - filmed.start,
                                                                         now + length - 1 / _TICKS))))
        now += length
    source = Source("plays", Path("plays"), 1, "", Fraction(1, _TICKS), 0, round(now * _TICKS), Fraction(30), 1, 1)
    kept = {shot.id for shot in shots}
    tags = tuple(tag if tag.shot in kept else replace(tag, shot=None) for tag in game.plays)
    bare = Game(game.heading, Film((source,)), tuple(shots), tuple(moments), tags)
    return replace(bare, heading=replace(game.heading, policies=())), starts


def _at(seconds: float) -> Instant:
    return Instant("plays", round(seconds * _TICKS))


# -- beside the game ---------------------------------------------------------------------------------------------------


def sessions_path(game_file: Path) -> Path:
    """Where the sessions on a game are kept: beside its file, so that practice changes no game."""
    return game_file.with_suffix(".practice.json")


def read_sessions(path: Path) -> list[PracticeSession]:
    """The sessions kept at *path*, oldest first; none without it. Raises OSError, and ValueError for another file."""
    if not path.exists():
        return []
    try:
        listed = json.loads(path.read_text(encoding="utf-8"))
        return [PracticeSession(str(each["trainee"]), str(each["date"]),
                        {int(gap): frozenset(map(PracticeAnswer, answers)) for gap, answers in each["answers"].items()})
                for each in listed]
    except (json.JSONDecodeError, UnicodeDecodeError, RecursionError, KeyError, TypeError, AttributeError,
            ValueError) as error:
        raise ValueError(f"{path} holds no practice sessions: {error}; move it away to begin anew") from None


def keep_session(path: Path, session: PracticeSession, instead_of: PracticeSession | None = None) -> None:
    """Add *session* to those at *path*, in the place of the last that equals *instead_of*, if there is one. Written
    to a temporary file first, then moved to *path*. Raises OSError and ValueError."""
    listed = read_sessions(path)
    place = max((place for place, each in enumerate(listed) if each == instead_of), default=None)
    listed = [*listed, session] if place is None else [*listed[:place], session, *listed[place + 1:]]
    plain = [{"trainee": each.trainee, "date": each.date,
              "answers": {str(gap): sorted(answers) for gap, answers in each.answers.items()}} for each in listed]
    with written_whole(path) as temporary:
        temporary.write_text(json.dumps(plain, indent=1) + "\n", encoding="utf-8")

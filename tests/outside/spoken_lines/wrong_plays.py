"""Plays that a line does not tell: the play that was read with one thing changed. What guards the tick should let none
pass.

python -m tests.outside.spoken_lines.wrong_plays [-v]    # how many of each change would still get a tick
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from tests.outside.rulebook_cases.test_rulebook_cases import situation
from tests.outside.spoken_lines.test_spoken_lines import CASES
from workstation.football.field import Team
from workstation.football.notation import Answer, Custom, Habit, read, spell
from workstation.football.notation.accounting import unaccounted
from workstation.football.notation.parser import Parser
from workstation.football.plays import BallEvent, EventKind, Foul, FoulDecision, Outcome, Play, PlayKind, Score, Side
from workstation.football.rulebook import Rulebook, load_rulebook
from workstation.football.tracker import fold

_PASS = (Outcome.COMPLETE, Outcome.INCOMPLETE, Outcome.INTERCEPTED)
_KICK = (None, Outcome.RETURNED, Outcome.FAIR_CATCH, Outcome.DOWNED, Outcome.OUT_OF_BOUNDS, Outcome.TOUCHBACK)
_GOAL = (Outcome.GOOD, Outcome.NO_GOOD, Outcome.BLOCKED)
_OUTCOMES: dict[PlayKind, tuple[Outcome | None, ...]] = {
    PlayKind.RUN: (None, Outcome.OUT_OF_BOUNDS),
    PlayKind.PASS: _PASS,
    PlayKind.PUNT: (*_KICK, Outcome.BLOCKED),
    PlayKind.KICKOFF: _KICK,
    PlayKind.SAFETY_FREE_KICK: _KICK,
    PlayKind.FIELD_GOAL: _GOAL,
    PlayKind.TRY_KICK: _GOAL,
    PlayKind.TRY_RUN: (Outcome.GOOD, Outcome.NO_GOOD),
    PlayKind.TRY_PASS: (Outcome.GOOD, Outcome.NO_GOOD),
    PlayKind.MEASUREMENT: (Outcome.MADE, Outcome.SHORT),
}
_KINDS: dict[PlayKind, tuple[PlayKind, Outcome | None]] = {
    PlayKind.RUN: (PlayKind.PASS, Outcome.COMPLETE),
    PlayKind.PASS: (PlayKind.RUN, None),
    PlayKind.SACK: (PlayKind.RUN, None),
    PlayKind.KNEEL: (PlayKind.RUN, None),
    PlayKind.SPIKE: (PlayKind.PASS, Outcome.INCOMPLETE),
    PlayKind.PUNT: (PlayKind.FIELD_GOAL, Outcome.NO_GOOD),
    PlayKind.FIELD_GOAL: (PlayKind.PUNT, None),
    PlayKind.TRY_KICK: (PlayKind.TRY_RUN, Outcome.GOOD),
    PlayKind.TRY_RUN: (PlayKind.TRY_PASS, None),
    PlayKind.TRY_PASS: (PlayKind.TRY_RUN, None),
}

_BY_THE_RULES = ("possession changed", "foul decided otherwise", "yards of a foul")
"""Changes that only say what follows anyhow where the situation after the play stays the same."""


def changed(play: Play, start: float | None, rulebook: Rulebook) -> Iterator[tuple[str, Play]]:
    """The play with one thing changed, and what that is."""
    length = rulebook.field_length
    for place, event in enumerate(play.events):
        rest = (play.events[:place], play.events[place + 1 :])
        yield "event dropped", replace(play, events=rest[0] + rest[1])
        if event.by is not None:
            yield "event by the other side", replace(play, events=(*rest[0], replace(event, by=event.by.other),
                *rest[1]))
        if event.spot is not None:
            for other in (event.spot + 4, event.spot - 7, length - event.spot):
                yield "event elsewhere", replace(play, events=(*rest[0], replace(event, spot=other), *rest[1]))
    if len(play.events) > 1:
        yield "events in another order", replace(play, events=play.events[::-1])
    if play.kind in _OUTCOMES and play.outcome is not Outcome.INCOMPLETE:
        for by in Side:
            loose = (BallEvent(EventKind.FUMBLE, None, Side.OFFENSE), BallEvent(EventKind.RECOVERY, None, by))
            yield "fumble added", replace(play, events=(*play.events, *loose))
        out = (BallEvent(EventKind.FUMBLE, None, Side.OFFENSE), BallEvent(EventKind.OUT_OF_BOUNDS))
        yield "fumble out of bounds added", replace(play, events=(*play.events, *out))
        yield "lateral added", replace(play, events=(*play.events, BallEvent(EventKind.LATERAL, None, Side.OFFENSE)))
        yield "muff added", replace(play, events=(*play.events, BallEvent(EventKind.MUFF, play.kick_to, Side.DEFENSE)))
    for name in ("gain", "kick_to", "spot", "kick_from"):
        value = getattr(play, name)
        if value is None:
            continue
        yield f"{name} left out", replace(play, **{name: None})
        others = [value + 1, value - 1, value + 10, value - value % 10 + (value + 3) % 10]
        others += [-value] if name == "gain" else [length - value]
        if start is not None:
            others += [start + value] if name == "gain" else [value - start]
        for other in others:
            yield f"{name} changed", replace(play, **{name: other})
    if play.gain is None and play.kind in (PlayKind.RUN, PlayKind.PASS):
        yield "gain added", replace(play, gain=6.0)
    if play.kick_to is not None and play.spot is not None:
        yield "places exchanged", replace(play, kick_to=play.spot, spot=play.kick_to)
    for outcome in _OUTCOMES.get(play.kind, ()):
        yield f"outcome {outcome}", replace(play, outcome=outcome)
    if play.kind in _KINDS:
        kind, outcome = _KINDS[play.kind]
        yield "kind changed", replace(play, kind=kind, outcome=outcome if play.kind is not PlayKind.TRY_PASS
            and play.kind is not PlayKind.TRY_RUN else play.outcome)
    for score in (None, Score.TOUCHDOWN, Score.SAFETY):
        if play.kind in _OUTCOMES and play.kind is not PlayKind.MEASUREMENT:
            yield f"score {score}", replace(play, score=score)
    for possession in (None, *Side):
        if play.kind in _OUTCOMES:
            yield "possession changed", replace(play, possession=possession)
    for place, foul in enumerate(play.fouls):
        rest_of = (play.fouls[:place], play.fouls[place + 1 :])

        def other_foul(now: Foul, before: tuple = rest_of[0], after: tuple = rest_of[1]) -> Play:
            return replace(play, fouls=(*before, now, *after))

        yield "foul dropped", replace(play, fouls=rest_of[0] + rest_of[1])
        yield "foul by the other side", other_foul(replace(foul, by=foul.by.other))
        for decision in (None, *FoulDecision):
            yield "foul decided otherwise", other_foul(replace(foul, decision=decision))
        for yards in (None, 5.0, 10.0, 15.0):
            yield "yards of a foul", other_foul(replace(foul, yards=yards))
        if foul.spot is not None:
            yield "foul elsewhere", other_foul(replace(foul, spot=length - foul.spot))
            yield "foul elsewhere", other_foul(replace(foul, spot=foul.spot + 5))
        for name in ("holding", "personal foul", "illegal block in the back"):
            if name in rulebook.fouls and name != foul.name:
                yield "another foul", other_foul(replace(foul, name=name))
    if play.kind in _OUTCOMES and "holding" in rulebook.fouls:
        yield "foul added", replace(play, fouls=(*play.fouls, Foul("holding", Side.OFFENSE)))
    for team in Team:
        if play.team is not None:
            yield "team changed", replace(play, team=team)
    if play.choice is not None:
        for choice in ("receive", "kick", "defer"):
            yield "choice changed", replace(play, choice=choice)


def measure() -> tuple[Counter, Counter, list[tuple[str, str, str]], int]:
    """How many wrong plays of each sort there are, how many would be ticked, those themselves, and how many lines."""
    made: Counter = Counter()
    ticked: Counter = Counter()
    passed = []
    lines = 0
    for _, case in CASES:
        book = load_rulebook(case["rulebook"], case.get("season"))
        before = situation(case["before"], book, case)
        custom = Custom(Habit(case.get("habit", "yard lines")), us=Team.HOME)
        entry = read(case["line"], before, book, custom)
        if entry.answer is not Answer.CERTAIN or entry.play is None or entry.draft is None:
            continue
        lines += 1
        line = Parser(case["line"], before, book, custom)
        right = fold(book, before, entry.play).after, spell(entry.play, before, book)
        seen = {entry.play}
        for what, play in changed(entry.play, before.ball_on, book):
            if play in seen:
                continue
            seen.add(play)
            step = fold(book, before, play)
            if step.problems or (step.after == right[0] and (what in _BY_THE_RULES
                    or spell(play, before, book) == right[1])):
                continue  # a doubt takes the tick, or it is the same play said otherwise
            made[what] += 1
            if not unaccounted(line, entry.draft, play):
                ticked[what] += 1
                passed.append((what, case["line"], spell(play, before, book)))
    return made, ticked, passed, lines


def main(words: list[str]) -> None:
    """Print the counts; with ``-v`` every wrong play that would be ticked too."""
    made, ticked, passed, lines = measure()
    if "-v" in words:
        for what, line, told in passed:
            print(f"{what}: {line!r}: {told}")
    for what in sorted(made):
        print(f"{what:28} {ticked[what]:5} of {made[what]:5}")
    whole = sum(made.values())
    print(f"{lines} lines, {whole} wrong plays, {sum(ticked.values())} ticked ({sum(ticked.values()) / whole:.1%})")


if __name__ == "__main__":
    main(sys.argv[1:])

"""Every spoken line beside this file, read and compared with the play that it must give. README.md says how.

python -m tests.outside.spoken_lines.test_spoken_lines [NAME or FILE.toml ...]
prints what is not right, and the counts.
"""

from __future__ import annotations

import re
import sys
import tomllib
from collections import Counter
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from tests.outside.rulebook_cases.test_rulebook_cases import ruling, situation, spoken
from workstation.football.field import Team
from workstation.football.notation import Answer, Custom, Habit, read
from workstation.football.plays import BallEvent, EventKind, Foul, Outcome, Play, Side
from workstation.football.rulebook import Rulebook, load_rulebook
from workstation.football.sheet import SheetError, read_rows
from workstation.football.situation import Situation
from workstation.football.step import Step
from workstation.football.tracker import fold

HERE = Path(__file__).parent
TABLES = {path.stem: tomllib.loads(path.read_text(encoding="utf-8"))["case"] for path in sorted(HERE.glob("*.toml"))}
CASES = [(name, case) for name, cases in TABLES.items() for case in cases]
LEAST_RIGHT = 0.95


@dataclass
class Verdict:
    """``what`` is right, refused, wrong but uncertain, or certain and wrong; ``why`` says what differs."""

    what: str
    why: str = ""


def judge(case: dict) -> Verdict:
    book = load_rulebook(case["rulebook"], case.get("season"))
    before = situation(case["before"], book, case)
    entry = read(case["line"], before, book, Custom(Habit(case.get("habit", "yard lines")), us=Team.HOME))
    wanted = case["answer"]
    if entry.answer is Answer.NOT_UNDERSTOOD:
        problem = entry.problem
        if wanted == "not understood":
            word = case.get("word", "")
            named = (
                problem.word.lower() == word.lower()
                or case["line"][problem.start : problem.end].lower() == word.lower()
            )
            return (
                Verdict("right") if named or not word else Verdict("refused", f"named {problem.word!r}: {problem.text}")
            )
        if wanted == "doubt" or (wanted == "read as" and not case.get("readings")):
            return Verdict("right")  # it is said, or asked
        return Verdict("refused", problem.text)
    certain = entry.answer is Answer.CERTAIN
    step = fold(book, before, entry.play) if entry.play is not None else None
    doubts = entry.doubts
    if wanted == "not understood":
        return Verdict("certain and wrong" if certain else "wrong but uncertain", f"read as {entry.readings[0].text}")
    if wanted == "doubt":
        if doubts:
            return Verdict("right")
        return Verdict(
            "certain and wrong" if certain else "wrong but uncertain", f"no doubt; read as {entry.readings[0].text}"
        )
    allowed = case.get("readings") or [case["expect"]]
    differs = ""
    for cells in allowed:
        differs = differs or " | ".join(_differences(entry.play, cells, before, book))
        if not _differences(entry.play, cells, before, book):
            differs = ""
            break
    first = not _differences(entry.play, case["expect"], before, book)
    # a jet sweep is a sweep
    if not differs and "manner" in case and not f" {entry.play.manner}".endswith(f" {case['manner']}"):
        differs = f"manner {entry.play.manner!r}, not {case['manner']!r}"
    if not differs and first and step is not None:
        differs = _after(case, step, before, book)
    if differs:
        return Verdict(
            "certain and wrong" if certain else "wrong but uncertain", f"{differs}; read as {entry.readings[0].text}"
        )
    if wanted == "certain" and not certain:
        return Verdict("wrong but uncertain", f"right, but not certain: {entry.readings[0].filled} {list(doubts)}")
    if wanted == "read as" and certain:
        return Verdict("certain and wrong", "certain, where people could differ")
    if doubts and wanted == "certain":
        return Verdict("wrong but uncertain", f"a doubt: {list(doubts)}")
    return Verdict("right")


def _after(case: dict, step, before: Situation, book: Rulebook) -> str:
    if "after" in case:
        found, told = spoken(step.after, book), _ruling(case["after"], book)
        wrong = {key: (found[key], told[key]) for key in told if found[key] != told[key]}
        if wrong:
            return f"after: {wrong}: {step.explanation}"
    if "points" in case:
        points = {"offense": step.points_home, "defense": step.points_visitors}
        for who, number in re.findall(r"(offense|defense) (\d+)", case["points"]):
            if points[who] != int(number):
                return f"points: {points}, not {case['points']}"
    return ""


def _ruling(text: str, book: Rulebook) -> dict:
    """What ``after`` says. Its own and opp are those of the team that had the ball before."""
    if match := re.fullmatch(r"(kickoff|try|safety free kick)( by (?:offense|defense))?", text):
        return {"next": match[1]} | (
            {"team": Team.HOME if match[2].endswith("offense") else Team.VISITORS} if match[2] else {}
        )
    told = ruling(text, book)
    if told.get("team") is Team.VISITORS and told.get("spot") is not None:
        told["spot"] = round(book.field_length - told["spot"], 2)
        if told.get("goal"):
            told["yards"] = round(book.field_length - told["spot"], 2)
    return told


def _differences(play: Play, cells: dict, before: Situation, book: Rulebook) -> list[str]:
    """What of *cells* does not hold in *play*. A cell that is empty is compared by what follows from the others."""
    row = {
        name: str(value) if not isinstance(value, float) else f"{value:g}"
        for name, value in cells.items()
        if name != "manner"
    }
    row.setdefault("kind", play.kind.value)  # left out where the line does not decide it
    try:
        wanted = read_rows([row], book)[0].play
    except SheetError as error:
        return [f"the expectation cannot be read: {error}"]
    found = []
    if play.kind is not wanted.kind:
        return [f"{play.kind.value}, not {wanted.kind.value}"]
    if wanted.outcome is not None and play.outcome is not wanted.outcome:
        found.append(f"outcome {play.outcome}, not {wanted.outcome}")
    step = fold(book, before, play)
    end = play.spot
    if end is None and play.gain is not None and before.ball_on is not None:
        end = before.ball_on + play.gain
    if end is None and not play.fouls:
        end = step.dead_ball_on
    if wanted.gain is not None:
        gain = play.gain
        if gain is None and end is not None and before.ball_on is not None:
            gain = end - before.ball_on
        if gain is None or abs(gain - wanted.gain) > 0.01:
            found.append(f"gain {gain}, not {wanted.gain}")
    if wanted.spot is not None and (end is None or abs(end - wanted.spot) > 0.01):
        found.append(f"spot {end}, not {wanted.spot}")
    if wanted.kick_to is not None:
        came = [spot for spot in (play.kick_to, *(event.spot for event in play.events), play.spot) if spot is not None]
        if not came or abs((play.kick_to if play.kick_to is not None else came[0]) - wanted.kick_to) > 0.01:
            found.append(f"kick_to {play.kick_to}, not {wanted.kick_to}")
    if wanted.kick_from is not None and play.kick_from != wanted.kick_from:
        found.append(f"kick_from {play.kick_from}, not {wanted.kick_from}")
    if wanted.possession is not None:
        holder = play.possession or _holder(step, before, book)
        if holder is not wanted.possession:
            found.append(f"possession {holder}, not {wanted.possession}")
    if wanted.score not in (None, play.score) and (play.fouls or wanted.score.value not in step.result):
        found.append(f"score {play.score}, not {wanted.score}")
    for name in ("clock", "team", "choice", "stands_as"):
        if getattr(wanted, name) is not None and getattr(play, name) != getattr(wanted, name):
            found.append(f"{name} {getattr(play, name)}, not {getattr(wanted, name)}")
    found += _event_differences(play, wanted, before)
    found += _foul_differences(play.fouls, wanted.fouls, book)
    if wanted.override is not None and play.override != wanted.override:
        found.append(f"set {play.override}, not {wanted.override}")
    return found


def _holder(step: Step, before: Situation, book: Rulebook) -> Side | None:
    """Who had the ball when it became dead, as the tracker has it."""
    taken = [
        event.by
        for event in step.play.events
        if event.by is not None
        and event.kind in (EventKind.RECOVERY, EventKind.OWN_RECOVERY, EventKind.INTERCEPTION, EventKind.CATCH)
    ]
    if taken and not step.points_home + step.points_visitors:
        return taken[-1]
    plain = fold(book, before, replace(step.play, fouls=())) if step.play.fouls else step
    if plain.points_home or plain.points_visitors:
        return Side.OFFENSE if plain.points_home > plain.points_visitors else Side.DEFENSE
    return Side.DEFENSE if plain.possession_changed else Side.OFFENSE


def _event_differences(play: Play, wanted: Play, before: Situation) -> list[str]:
    """Each event wanted must be in the play, in order; a place or side that either leaves out follows from what is
    said."""
    events = _told(play, before)
    found, place = [], 0
    for event in _told(wanted, before):
        if event.kind in (EventKind.CATCH, EventKind.INTERCEPTION) and event.spot is None:
            continue
        if event.kind is EventKind.CATCH and play.kick_to == event.spot:
            continue
        if event.kind is EventKind.BLOCK and event.spot is None and play.outcome is Outcome.BLOCKED:
            continue
        if (
            event.kind is EventKind.INTERCEPTION
            and play.outcome is Outcome.INTERCEPTED
            and play.spot == event.spot
            and not play.events
        ):
            continue
        at = next((index for index in range(place, len(events)) if _same(events[index], event)), None)
        if at is None:
            found.append(
                f"no event {event.kind.value} at {event.spot} by {event.by} in "
                f"{[(e.kind.value, e.spot, e.by) for e in events]}"
            )
        else:
            place = at + 1
    return found


def _told(play: Play, before: Situation) -> list[BallEvent]:
    """The events with the places that follow."""
    where = play.kick_to
    if where is None and play.gain is not None and before.ball_on is not None:
        where = before.ball_on + play.gain
    told = []
    for event in play.events:
        spot = event.spot
        if spot is None and event.kind is not EventKind.INTERCEPTION:
            spot = where
        elif spot is not None:
            where = spot
        told.append(BallEvent(event.kind, spot, event.by))
    return told


def _same(one: BallEvent, wanted: BallEvent) -> bool:
    return (
        one.kind is wanted.kind
        and (wanted.spot is None or (one.spot is not None and abs(one.spot - wanted.spot) < 0.01))
        and (wanted.by is None or one.by is wanted.by or one.by is None)
    )


def _foul_differences(fouls: tuple[Foul, ...], wanted: tuple[Foul, ...], book: Rulebook) -> list[str]:
    left = list(fouls)
    found = []
    for foul in wanted:
        match = next((one for one in left if _same_foul(one, foul, book)), None)
        if match is None:
            found.append(f"no foul {_named(foul)} in {[_named(one) for one in fouls]}")
        else:
            left.remove(match)
    if left:
        found.append(f"a foul too many: {[_named(one) for one in left]}")
    return found


def _named(foul: Foul) -> str:
    return " ".join(
        str(part)
        for part in (
            foul.name,
            foul.by,
            foul.spot,
            foul.when,
            foul.decision,
            foul.yards,
            foul.at,
            foul.automatic_first_down,
            foul.loss_of_down,
        )
        if part is not None
    )


def _same_foul(one: Foul, wanted: Foul, book: Rulebook) -> bool:
    def plain(foul: Foul) -> str:
        try:
            name = book.foul(foul.name, foul.by).name
        except KeyError:
            name = foul.name
        return (
            name.removeprefix("defensive ").removeprefix("offensive ")
            if name.endswith(" holding") or name == "holding"
            else name
        )

    if plain(one) != plain(wanted) or one.by is not wanted.by:
        return False
    return all(
        getattr(wanted, name) is None or getattr(one, name) == getattr(wanted, name)
        for name in ("spot", "when", "decision", "yards", "enforced_from", "at", "automatic_first_down", "loss_of_down")
    )


def count(cases) -> tuple[Counter, list[tuple[str, dict, Verdict]]]:
    counts, wrong = Counter(), []
    for name, case in cases:
        verdict = judge(case)
        counts[verdict.what] += 1
        if verdict.what != "right":
            wrong.append((name, case, verdict))
    return counts, wrong


@pytest.fixture(scope="module")
def counted():
    return count(CASES)


def test_no_line_is_certain_and_wrong(counted):
    assert not [(case["line"], verdict.why) for _, case, verdict in counted[1] if verdict.what == "certain and wrong"]


def test_nearly_all_lines_are_right(counted):
    counts, wrong = counted
    print(dict(counts))
    assert counts["right"] >= LEAST_RIGHT * sum(counts.values()), [
        (case["line"], verdict.why) for _, case, verdict in wrong
    ]


def test_there_are_enough_lines_and_each_says_where_it_is_from():
    assert len(CASES) >= 400
    assert all(case["source"] for _, case in CASES)


def main(names: list[str]) -> None:
    """Print what of the tables with these names, or of these files, or of all tables is not right."""
    files = [Path(name) for name in names if name.endswith(".toml")]
    cases = [(name, case) for name, case in CASES if not names or name in names]
    cases += [(path.stem, case) for path in files for case in tomllib.loads(path.read_text(encoding="utf-8"))["case"]]
    counts, wrong = count(cases)
    for name, case, verdict in wrong:
        print(
            f"{verdict.what.upper()}: {case['line']!r} at {case['before']} ({name}, {case['rulebook']}): {verdict.why}"
        )
    print(dict(counts), f"{counts['right'] / max(1, len(cases)):.1%} of {len(cases)}")


if __name__ == "__main__":
    main(sys.argv[1:])

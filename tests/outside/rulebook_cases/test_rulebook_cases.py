"""Every situation of the case tables, ruled by the tracker and compared with the book's ruling.

The tables are TOML beside this file, one per rulebook. A case says what was true before (``before``,
the offense is home; before a coin toss home counts as the offense), what happened (``play``, cells of
the play sheet; or ``plays``), and the ruling: ``after`` ("defense 1st & 10 at own 25", "kickoff by
offense at own 40", "coin toss", "over"), ``points`` ("offense 6"), and ``choice`` where the step must
offer another ruling (true, or some of its words). ``certain = false``: the ruling rests on something that was not
said. ``result`` is what a coach calls the last play, ``says`` a part of its explanation, ``dead`` where the ball became
dead, where that matters. ``rule`` is the rule and article, approved ruling (A.R.) or case-book number;
``source`` names an entry of the table's ``sources``, or says ``from memory``; where the source tells a rule by its
section only, ``rule`` names the section. At most a fifth of all rulings may be from memory.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from workstation.football.field import Team, parse_spot
from workstation.football.plays import PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.sheet import read_rows
from workstation.football.situation import Next, Situation
from workstation.football.speaking import spoken_situation
from workstation.football.step import Certainty
from workstation.football.tracker import fold, track

HERE = Path(__file__).parent
TABLES = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted(HERE.glob("*.toml"))}
APPROVED = {f"ncaa_approved/{path.stem}": tomllib.loads(path.read_text(encoding="utf-8"))
            for path in sorted((HERE / "ncaa_approved").glob("*.toml"))}
NOT_YET = {(each["rule"], each["title"]): each["why"] for each in TABLES.pop("not_yet", {}).get("wrong", ())}
TABLES |= {name: table for name, table in APPROVED.items() if "case" in table}


def book_of(table: str) -> str:
    """The rulebook that a table is about: its own name, or its folder's up to the first underscore."""
    return "ncaa" if table.startswith("ncaa_approved/") else table


EVERY = [(book_of(name), case) for name, table in TABLES.items() for case in table["case"]]
CASES = [(name, case) for name, case in EVERY if (case["rule"], case["title"]) not in NOT_YET]

LIVE = set(PlayKind) - {PlayKind.COIN_TOSS, PlayKind.TIMEOUT, PlayKind.END_OF_PERIOD, PlayKind.MEASUREMENT,
                        PlayKind.REPLAY_REVERSAL}
SCRIMMAGE = re.compile(r"(?:(offense|defense) )?([1-4])(?:st|nd|rd|th) & (goal|[\d.]+) at (.+)")
ELSE = re.compile(r"(kickoff|try|safety free kick|fair catch kick)(?: by (offense|defense))?(?: at (.+))?")


def situation(text: str, book, case: dict) -> Situation:
    """Read ``before``: what holds, with the home team as offense."""
    base = Situation(
        offense=Team.HOME, period=case.get("period", 1), clock=case.get("clock"), series=1, drive=1,
        score_home=case.get("score", [0, 0])[0], score_visitors=case.get("score", [0, 0])[1],
        second_half_kicker=Team.HOME, extra_turn=case.get("extra_turn", 0),
        extra_first={"offense": Team.HOME, "defense": Team.VISITORS, None: None}[case.get("extra_first")],
    )
    if match := SCRIMMAGE.fullmatch(text):
        _, down, distance, where = match.groups()
        spot = parse_spot(where, book.field_length)
        goal = distance == "goal"
        return replace(base, next=Next.SCRIMMAGE, down=int(down), ball_on=spot, goal_to_go=goal,
                       yards_to_gain=book.field_length - spot if goal else float(distance))
    if text == "coin toss":
        return replace(base, next=Next.COIN_TOSS, offense=None, second_half_kicker=None)
    match = ELSE.fullmatch(text)
    assert match, f"cannot read {text!r}"
    spots = {"kickoff": book.kickoff_spot, "safety free kick": book.safety_free_kick_spot,
             "try": book.field_length - book.try_spot_kick}
    spot = parse_spot(match[3], book.field_length) if match[3] else spots[match[1]]
    return replace(base, next=Next(match[1]), ball_on=spot)


def spoken(after: Situation, book) -> dict:
    """What a ruling is about."""
    return {"next": after.next.value, "team": after.offense, "down": after.down,
            "yards": after.yards_to_gain and round(after.yards_to_gain, 2),
            "spot": after.ball_on is not None and round(after.ball_on, 2), "goal": after.goal_to_go}


def ruling(text: str, book) -> dict:
    """Read ``after`` into what :func:`spoken` says; spots the case does not name are left out."""
    teams = {"offense": Team.HOME, "defense": Team.VISITORS}
    if text in ("over", "coin toss"):
        return {"next": text}
    if match := SCRIMMAGE.fullmatch(text):
        team, down, distance, where = match.groups()
        spot = parse_spot(where, book.field_length)
        goal = distance == "goal"
        return {"next": "scrimmage", "team": teams[team], "down": int(down), "spot": round(spot, 2), "goal": goal,
                "yards": round(book.field_length - spot if goal else float(distance), 2)}
    match = ELSE.fullmatch(text)
    assert match, f"cannot read {text!r}"
    wanted = {"next": match[1], "team": teams[match[2]]}
    return wanted | ({"spot": round(parse_spot(match[3], book.field_length), 2)} if match[3] else {})


def rule_case(name: str, case: dict):
    """The steps of the case's plays, and the rulebook they were ruled by."""
    book = load_rulebook(name, case.get("season"))
    before = situation(case["before"], book, case)
    rows = case.get("plays") or [case["play"]]
    plays = [entry.play for entry in read_rows(rows, book)]
    steps = [fold(book, before, plays[0])]
    return [*steps, *track(book, plays[1:], steps[0])], book


IDS = [f"{name}: {case['title']}" for name, case in CASES]


@pytest.mark.parametrize(("name", "case"), CASES, ids=IDS)
def test_the_tracker_rules_as_the_book_does(name: str, case: dict):
    steps, book = rule_case(name, case)
    last = steps[-1]
    wanted = ruling(case["after"], book)
    found = spoken(last.after, book)
    told = f"{case['rule']}: {' / '.join(step.explanation for step in steps)}"
    assert {key: found[key] for key in wanted} == wanted, told
    points = {Team.HOME: 0, Team.VISITORS: 0}
    for who, number in re.findall(r"(offense|defense) (\d+)", case.get("points", "")):
        points[Team.HOME if who == "offense" else Team.VISITORS] += int(number)
    assert sum(step.points_home for step in steps) == points[Team.HOME], told
    assert sum(step.points_visitors for step in steps) == points[Team.VISITORS], told
    if choice := case.get("choice"):
        offered = [words for step in steps for words in step.choices]
        assert any(choice is True or choice in words for words in offered), f"no choice in {told}: {offered}"
    certain = all(step.certainty is Certainty.CERTAIN for step in steps)
    assert certain == case.get("certain", True), told
    assert case.get("result", last.result) == last.result, told
    assert case.get("says", "") in last.explanation, told
    assert "dead" not in case or last.dead_ball_on == parse_spot(case["dead"], book.field_length), told
    assert not [problem for step in steps for problem in step.problems], told


@pytest.mark.parametrize(("name", "case"), CASES, ids=IDS)
def test_what_a_step_says_of_itself_agrees(name: str, case: dict):
    for step in rule_case(name, case)[0]:
        before, after, told = step.before, step.after, step.explanation
        if after.next not in (Next.OVER, Next.COIN_TOSS):
            assert spoken_situation(after, load_rulebook(name, case.get("season")).field_length) in told
        if step.play.kind not in LIVE or before.period != after.period:
            continue
        assert (step.points_home, step.points_visitors) == (
            after.score_home - before.score_home, after.score_visitors - before.score_visitors), told
        if before.period > 4:
            continue    # a series of an extra period begins without a play's giving it
        assert step.possession_changed == (after.offense is not before.offense), told
        again = (after.next, after.offense, after.down, after.series) == (
            before.next, before.offense, before.down, before.series)
        assert step.down_repeated == again, told
        fresh = after.next is Next.SCRIMMAGE and after.down == 1 and not again
        assert (after.series, after.drive) == (
            before.series + fresh, before.drive + (fresh and not step.first_down)), told
        assert not step.first_down or (fresh and after.offense is before.offense), told
        assert (step.dead_ball_on is None) == (step.play.kind is PlayKind.NO_PLAY), told


@pytest.mark.parametrize("name", TABLES)
def test_every_case_says_where_its_ruling_comes_from(name: str):
    table = TABLES[name]
    for case in table["case"]:
        assert case["rule"], case["title"]
        assert case["source"] == "from memory" or case["source"] in table["sources"], case["title"]
    assert len({case["title"] for case in table["case"]}) == len(table["case"])


def test_at_most_a_fifth_of_the_rulings_are_from_memory():
    from_memory = [case["title"] for _, case in EVERY if case["source"] == "from memory"]
    assert len(from_memory) <= len(EVERY) / 5


def test_there_are_enough_cases():
    assert len(TABLES["nfhs"]["case"]) + len(TABLES["ncaa"]["case"]) >= 150
    assert len(NOT_YET) <= len(EVERY) / 4
    kinds = {play["kind"] for _, case in CASES for play in case.get("plays") or [case["play"]]}
    assert kinds == {kind.value for kind in PlayKind}


def test_what_is_listed_as_wrong_is_a_case_and_still_wrong():
    """``not_yet.toml`` lists the rulings that come out otherwise than in the book, and why."""
    found = {}
    for name, case in EVERY:
        if (case["rule"], case["title"]) in NOT_YET:
            try:
                test_the_tracker_rules_as_the_book_does(name, case)
                test_what_a_step_says_of_itself_agrees(name, case)
            except (AssertionError, ValueError):
                found[case["rule"], case["title"]] = case
    assert found.keys() == NOT_YET.keys()

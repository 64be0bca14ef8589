"""A stratified thousand of real descriptions, cut to what a coordinator would say, give the play that the data gives.

python -m tests.outside.spoken_lines.test_descriptions      # prints what is not right
"""

from __future__ import annotations

import random
from collections import Counter, defaultdict

import pytest

pytest.importorskip("nflgame")

from tests.desk.typing_effort import _as_tagged
from tests.outside.real_games.convert import Converter
from tests.outside.real_games.games import game_ids, read_game
from tests.outside.spoken_lines.descriptions import cut
from workstation.football.notation import Answer, Custom, read
from workstation.football.periods import opening
from workstation.football.plays import Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.situation import Next
from workstation.football.tracker import fold

GAMES, SEED, THOUSAND = 60, 14, 1000
LEAST_RIGHT = 0.99


def drawn() -> list[tuple]:
    """A thousand rows of sixty games, as evenly over the sorts of play as there are: line, play of the data, situation
    before it, the two teams' names, rulebook."""
    chance = random.Random(SEED)
    strata = defaultdict(list)
    for eid, season in chance.sample(game_ids(2009, 2013), GAMES):
        game, book = read_game(eid, season), load_rulebook("professional", season)
        converter, now, last, quarter = Converter(game), opening(book), None, 1
        for row in game.rows:
            converted = converter.convert(row)
            if converted is None:
                continue
            while quarter < row.quarter and now.next is not Next.OVER:
                last = fold(book, now, Play(PlayKind.END_OF_PERIOD), last)
                now, quarter = last.after, quarter + 1
                if now.next is Next.COIN_TOSS:
                    break
            if now.next is Next.COIN_TOSS and converted.play.kind is not PlayKind.TIMEOUT:
                last = fold(
                    book, now, Play(PlayKind.COIN_TOSS, team=converter.team(row.team).opponents, choice="receive"), last
                )
                now, quarter = last.after, row.quarter
            play = _as_tagged(converted.play, book)
            line = cut(row, converter)
            if line is not None:
                strata[converted.sort].append((line, play, now, last, (game.home, game.visitors), book))
            last = fold(book, now, play, last)
            now = last.after
    picked: list[tuple] = []
    pools = {sort: chance.sample(rows, len(rows)) for sort, rows in sorted(strata.items())}
    while len(picked) < THOUSAND and any(pools.values()):
        for pool in pools.values():
            if pool and len(picked) < THOUSAND:
                picked.append(pool.pop())
    return picked


def judged(case: tuple) -> tuple[str, str]:
    line, play, before, last, (home, visitors), book = case
    entry = read(line, before, book, Custom(home=home, visitors=visitors))
    if entry.answer is Answer.NOT_UNDERSTOOD:
        return "refused", entry.problem.text
    wanted, found = fold(book, before, play, last), fold(book, before, entry.play, last)
    same = (
        entry.play.kind is play.kind
        and found.after == wanted.after
        and found.points_home == wanted.points_home
        and found.points_visitors == wanted.points_visitors
    )
    if same:
        return "right", ""
    what = f"{entry.readings[0].text}: {found.explanation}; the data: {wanted.explanation}"
    return ("certain and wrong" if entry.is_certain else "wrong but uncertain"), what


@pytest.fixture(scope="module")
def cases():
    return drawn()


def test_nearly_all_real_descriptions_give_the_play_of_the_data(cases):
    counts = Counter(judged(case)[0] for case in cases)
    assert sum(counts.values()) == THOUSAND
    assert counts["right"] >= LEAST_RIGHT * THOUSAND, counts
    assert not counts["certain and wrong"], [case[0] for case in cases if judged(case)[0] == "certain and wrong"]


if __name__ == "__main__":
    counts = Counter()
    for case in drawn():
        verdict, why = judged(case)
        counts[verdict] += 1
        if verdict != "right":
            print(
                f"{verdict.upper()}: {case[0]!r} at {case[2].down}&{case[2].yards_to_gain} on {case[2].ball_on} "
                f"({case[2].next}, {case[2].offense}, {case[4]}): {why}"
            )
    print(dict(counts))

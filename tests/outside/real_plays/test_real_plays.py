"""Plays of real games as people typed them give the play that the data gives.

python -m tests.outside.real_plays.test_real_plays      # prints what is not right, and the counts
"""

from __future__ import annotations

from collections import Counter

import pytest

pytest.importorskip("nflgame")

from tests.outside.real_plays.plays import judged, real_plays

LEAST_RIGHT = 0.95


@pytest.fixture(scope="module")
def verdicts():
    return [(case.line, *judged(case)) for case in real_plays()]


def test_nearly_all_give_the_play_of_the_data(verdicts):
    counts = Counter(verdict for _, verdict, _ in verdicts)
    assert counts["right"] + counts["right, asked"] >= LEAST_RIGHT * len(verdicts), counts


def test_none_is_certain_and_wrong(verdicts):
    assert not [(line, why) for line, verdict, why in verdicts if verdict == "certain and wrong"]


if __name__ == "__main__":
    found = [(case, *judged(case)) for case in real_plays()]
    for case, verdict, why in found:
        if not verdict.startswith("right"):
            print(f"{verdict.upper()} ({case.part}): {case.line!r}: {why}")
    for part in sorted({case.part for case, _, _ in found}):
        print(part, dict(Counter(verdict for case, verdict, _ in found if case.part == part)))

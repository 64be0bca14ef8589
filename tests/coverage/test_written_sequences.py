"""Every written sequence, filmed and checked: the findings that are due come, and no others.

What a mentor says stands in ``sequences/*.toml`` and was written without knowledge of the rules' code. Where the
program says otherwise on purpose, the reason stands below, and the sequence is counted as not right.
"""

from __future__ import annotations

import pytest

from tests.coverage.written import judge, written

ARGUED = {
    # The tables say "not judged" where only the end of a thing is marked. A person who marks the result of a
    # measurement and not its first stick, or an altercation's beginning and not its end, has looked at the shot;
    # the place where the other mark would be is not in it. The finding comes, and a mentor may waive it.
    "measurement joined late": "its result is marked, so somebody looked at the shot",
    "altercation whose end is not marked": "its beginning is marked, so somebody looked at the shot",
    # A game file holds the film of one camera, so nobody can say of one film that both views are there.
    # The table's film of this game ends on the board: there is no handshake in it that could meet the article.
    "Texas: handshake to its end": "the film that is written down has no handshake",
}
SEQUENCES = {sequence.name: sequence for sequence in written()}


def test_there_are_enough_sequences_and_each_has_its_own_name():
    assert len(SEQUENCES) == len(written()) >= 110


@pytest.mark.parametrize("name", [name for name in SEQUENCES if name not in ARGUED])
def test_a_mentor_says_the_same(name):
    verdict = judge(SEQUENCES[name])
    assert (verdict.missed, verdict.false) == ([], [])


@pytest.mark.parametrize("name", [name for name in ARGUED if name in SEQUENCES])
def test_what_is_argued_is_still_otherwise(name):
    """An argument that is no longer needed is taken out."""
    assert not judge(SEQUENCES[name]).right

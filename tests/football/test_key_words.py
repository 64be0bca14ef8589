"""The words of the key page: ways to say them, in words a person reads."""

from workstation.football.notation.guide import MOST_WAYS, listed


def test_ways_are_phrases_as_they_are_typed():
    for word, _, also in listed():
        assert "/" not in also and "_" not in also, word


def test_a_search_shows_the_ways_that_say_it():
    rows = dict((word, also) for word, _, also in listed("grinds"))
    assert "grinds out" in rows["run"]
    assert all("grinds" in way for way in rows["run"].split(", ") if not way.startswith("and "))


def test_many_ways_are_counted():
    also = dict((word, also) for word, _, also in listed())["run"]
    assert also.count(", ") == MOST_WAYS and " more" in also

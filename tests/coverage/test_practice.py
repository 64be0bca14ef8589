"""Practice: what belonged in each gap, and what comes of the answers. What belongs is common practice, no source."""

from __future__ import annotations

import pytest

from tests.coverage.filming import PROFILE, RULEBOOK, Filming
from workstation.coverage.answer import PracticeAnswer
from workstation.coverage.practice import PracticeSession, gaps, judge, keep_session, read_sessions, sessions_path
from workstation.coverage.trend import practice_trend
from workstation.football.plays import Foul, FoulDecision, Outcome, PlayKind, Side
from workstation.tagging.model import ShotKind

HOLDING = (Foul("holding", Side.OFFENSE, decision=FoulDecision.ACCEPTED),)


@pytest.fixture
def film() -> Filming:
    """Six plays: an obvious second down, a flag, a run that ends a yard short, a touchdown with its try, a kickoff."""
    film = Filming()
    film.at(1, 10, 40)
    film.run(3)                                             # 1
    film.run(2, fouls=HOLDING)                              # 2
    film.shot(ShotKind.EXTRA, 40)                           # what was filmed there plays no part
    film.at(2, 6, 50)
    film.run(5)                                             # 3
    film.marker()
    film.at(1, 10, 90)
    film.run(10)                                            # 4
    film.play(PlayKind.TRY_KICK, Outcome.GOOD)              # 5
    film.play(PlayKind.KICKOFF, Outcome.RETURNED, kick_to=90, spot=70)      # 6
    film.run(3)                                             # 7
    return film


def found(film: Filming):
    return gaps(film.game, film.steps(), PROFILE, RULEBOOK)


def test_what_belongs_in_each_gap(film):
    needs = {gap.after: {need.answer for need in gap.needs} for gap in found(film)}
    assert needs[2] == set()
    assert PracticeAnswer.SIGNAL in needs[3]
    assert needs[5] == set(), "the board belongs after the try"
    assert needs[6] == {PracticeAnswer.BOARD}
    assert needs[7] == set()
    assert needs[None] == {PracticeAnswer.CLOSING}


def test_a_place_to_stop_is_the_end_of_the_play_before(film):
    game = film.game
    ends = {tag.id: next(shot.end for shot in game.shots if shot.id == tag.shot) for tag in game.plays}
    for gap in found(film):
        if gap.before is not None:
            assert gap.at == ends[gap.before]


def test_everything_right(film):
    places = found(film)
    answers = {gap.after or 0: frozenset({need.answer for need in gap.needs} or {PracticeAnswer.NOTHING})
               for gap in places}
    result = judge(places, PracticeSession("Kim", "2026-09-04", answers))
    assert result.differences == () and result.gaps == len(places)
    assert all(tally.missed == tally.overdone == 0 for tally in result.tallies.values())


def test_nothing_but_markers(film):
    places = found(film)
    result = judge(places, PracticeSession("Kim", "2026-09-04",
                                           {gap.after or 0: frozenset({PracticeAnswer.MARKER}) for gap in places}))
    overdone = [each.gap.after for each in result.differences if not each.missed]
    assert 2 in overdone and 7 in overdone and 3 not in overdone, "after a flag a marker is fair"
    missed = {each.answer for each in result.differences if each.missed}
    assert missed == {PracticeAnswer.COIN_TOSS, PracticeAnswer.SIGNAL, PracticeAnswer.BOARD, PracticeAnswer.CLOSING}
    assert all(each.why for each in result.differences)


def test_a_board_a_play_late_is_soon_enough(film):
    places = found(film)
    nothing = frozenset({PracticeAnswer.NOTHING})
    late = judge(places, PracticeSession("", "", {6: nothing, 7: frozenset({PracticeAnswer.BOARD})}))
    assert late.tallies[PracticeAnswer.BOARD].delivered == 1 and late.differences == ()
    never = judge(places, PracticeSession("", "", {6: nothing, 7: nothing}))
    assert [each.answer for each in never.differences] == [PracticeAnswer.BOARD]


def test_gaps_that_were_not_answered_count_nowhere(film):
    result = judge(found(film), PracticeSession("", "", {}))
    assert (result.gaps, dict(result.tallies), result.differences) == (0, {}, ())


def test_the_share_right_goes_into_the_trend(film):
    places = found(film)
    sessions = [PracticeSession("Kim", date, {6: frozenset({answer})}) for date, answer in
                (("2026-09-11", PracticeAnswer.BOARD), ("", PracticeAnswer.NOTHING),
                 ("2026-09-04", PracticeAnswer.NOTHING))]
    table = practice_trend([(film.game.heading, session, judge(places, session)) for session in sessions])
    assert table["date"].tolist() == ["2026-09-04", "2026-09-11", ""]
    assert table["share_right"].tolist() == [0.0, 1.0, 0.0]
    assert set(table["answer"]) == {"scoreboard"}
    assert practice_trend([]).empty


def test_sessions_are_kept_beside_the_game(tmp_path):
    path = sessions_path(tmp_path / "game.film")
    assert read_sessions(path) == []
    first = PracticeSession("Kim", "2026-09-04",
                            {2: frozenset({PracticeAnswer.NOTHING}), 0: frozenset({PracticeAnswer.CLOSING})})
    second = PracticeSession("Kim", "2026-09-11", {3: frozenset({PracticeAnswer.SIGNAL, PracticeAnswer.MARKER})})
    keep_session(path, first)
    keep_session(path, second)
    assert read_sessions(path) == [first, second]
    assert [each.name for each in tmp_path.iterdir()] == [path.name]


@pytest.mark.parametrize("text", ["", "{\"a\": 1}", "[1]", '[{"trainee": "Kim"}]',
                                  '[{"trainee": "", "date": "", "answers": {"x": []}}]'])
def test_a_file_of_something_else_is_refused_and_left_alone(tmp_path, text):
    path = tmp_path / "game.practice.json"
    path.write_text(text)
    with pytest.raises(ValueError, match="no practice sessions"):
        keep_session(path, PracticeSession("Kim", "2026-09-04"))
    assert path.read_text() == text


def test_a_game_without_film_has_no_gaps():
    film = Filming()
    film.event(PlayKind.RUN, gain=3)
    assert found(film) == ()

"""Practice in the trend across games."""

from __future__ import annotations

from dataclasses import replace

from tests.coverage.filming import Filming
from workstation.coverage.answer import PracticeAnswer
from workstation.coverage.practice import PracticeSession, gaps, judge, keep_session, sessions_path
from workstation.season.games_trend import checked, read_trend
from workstation.tagging.gamefile import GameFile


def _game(folder, date):
    film = Filming()
    film.at(1, 10, 40)
    for gain in (3, 2, 5, 4):
        film.run(gain)
    game = film.game
    path = folder / f"{date}.game"
    GameFile.create(path, game=replace(game, heading=replace(game.heading, date=date, title=f"Game of {date}"))).close()
    return path


def test_the_newest_run_of_each_trainee_stands_beside_the_games(tmp_path):
    early, late = _game(tmp_path, "2026-09-04"), _game(tmp_path, "2026-09-11")
    one = checked(early)
    places = gaps(one.game, one.steps, one.coverage.profile, one.rulebook)
    worse = PracticeSession("Kim", "2026-09-05",
                            {gap.after or 0: frozenset({PracticeAnswer.CLOSING}) for gap in places})
    better = PracticeSession("Kim", "2026-09-06",
                             {gap.after or 0: frozenset({need.answer for need in gap.needs} or {PracticeAnswer.NOTHING})
                                           for gap in places})
    for session in (worse, better):
        keep_session(sessions_path(early), session)
    trend = read_trend([late, early], lambda *_: None)
    rows = {name: cells for name, cells in trend.rows if name.startswith("practice")}
    assert trend.games[0].startswith("2026-09-04") and rows
    right = judge(places, better)
    assert {f"practice, Kim: {answer}" for answer in right.tallies} == set(rows)
    for answer, tally in right.tallies.items():
        first, second = rows[f"practice, Kim: {answer}"]
        assert (first.share, first.words) == (1.0, f"{tally.delivered} of {tally.expected}")
        assert (second.share, second.words) == (None, "not practised")


def test_a_file_that_holds_no_practice_is_named_and_hides_no_game(tmp_path):
    path = _game(tmp_path, "2026-09-04")
    sessions_path(path).write_text("[", encoding="utf-8")
    trend = read_trend([path], lambda *_: None)
    assert len(trend.games) == 1 and len(trend.left_out) == 1 and "move it away" in trend.left_out[0]

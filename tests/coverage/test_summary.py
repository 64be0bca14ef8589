"""The mentor's summary of a game, and several games side by side."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.coverage.filming import Filming
from tests.coverage.test_checker import trainee
from tests.coverage.test_sequences import whole_game
from workstation.coverage.summary import summarise
from workstation.coverage.trend import trend, viewing_trend
from workstation.football.plays import PlayKind
from workstation.tagging.model import Decision, Heading, Verdict


def test_expected_is_delivered_and_missed():
    summary = summarise(trainee().check())
    holds = summary.tally("longer hold expected")
    assert (holds.expected, holds.delivered, holds.missed, holds.overdone) == (5, 4, 1, 0)
    assert holds.share == pytest.approx(0.8)
    ready = summary.tally("ready before the snap")
    assert (ready.expected, ready.missed) == (5, 1)
    assert summary.tally("penalty signal expected").missed == 1
    assert summary.tally("coin toss expected").share is None


def test_overdone_is_counted_apart_and_its_seconds_added_up():
    film = Filming()
    film.at()
    film.run(3)
    film.marker(seconds=3.0)
    film.run(2, hold=20.0)
    film.run(2)
    summary = summarise(film.check())
    assert summary.tally("marker shot not needed").overdone == 1
    assert summary.surplus == {"marker shot not needed": pytest.approx(3.0), "dead footage": pytest.approx(12.0)}
    assert summary.surplus_seconds == pytest.approx(15.0)


def test_by_quarter():
    film = Filming()
    film.at()
    film.run(3, hold=0.5)
    film.event(PlayKind.END_OF_PERIOD)
    film.scoreboard()
    film.marker()
    film.run(2, hold=0.5)
    film.run(2)
    summary = summarise(film.check())
    assert {period: tally.missed for period, tally in summary.by_rule["longer hold expected"].items()} == {1: 1, 2: 1}
    rows = {(row.rule, row.period): row.tally for row in summary.rows()}
    assert rows["longer hold expected", None].missed == 2
    assert summary.tally(period=1).missed + summary.tally(period=2).missed == summary.tally().missed == 2
    assert summary.tally().delivered == sum(met.delivered for (rule, period), met in rows.items() if period is None)


def test_share_of_snaps_at_which_a_viewer_knew_the_down():
    film = Filming()
    film.at(1, 6, 40)
    film.run(5)          # a yard short: what down is it?
    film.incomplete()
    film.run(-2)
    summary = summarise(film.check())
    assert (summary.snaps, summary.snaps_known) == (2, 0)     # the first lies beside a shot nobody has tagged
    assert summary.share_known == 0
    assert summarise(Filming().check()).share_known is None


def test_waived_findings_count_neither_way():
    film = trainee()
    before = summarise(film.check())
    key = next(finding.key for finding in film.check().findings if finding.rule == "longer hold expected")
    film.decisions = (Decision(key, Verdict.WAIVED, "the clock was running out"),)
    summary = summarise(film.check())
    assert summary.tally("longer hold expected").waived == 1
    assert summary.tally().expected == before.tally().expected - 1
    assert all(habit.example.key != key for habit in summary.habits)


def test_three_habits_each_with_its_clearest_example():
    film = Filming()
    film.at(1, 10, 20)
    film.run(3, hold=1.5)
    film.run(1, hold=0.2)
    film.incomplete()
    film.punt(hold=1.0)
    film.run(2, wide=3.5)
    film.run(2, wide=4.5)        # after the snap: the gravest
    film.run(2, hold=20)
    film.punt()
    habits = summarise(film.check()).habits
    assert len(habits) == 3
    assert [habit.findings for habit in habits] == [2, 3, 1]
    assert habits[0].advice.startswith("Be wide and steady")
    assert habits[0].example.title.startswith("Not wide at the snap")
    assert habits[1].example.play == 2, "the shortest hold is the clearest example"
    assert habits[2].example.rule == "dead footage"
    assert [habit.weight for habit in habits] == sorted((habit.weight for habit in habits), reverse=True)


def test_a_perfect_film_has_no_habits_to_work_on():
    summary = summarise(whole_game().check())
    assert summary.habits == ()
    assert (summary.tally().missed, summary.tally().overdone, summary.share_known) == (0, 0, 1.0)
    assert summary.waiting == ()


def test_the_trend_of_a_trainee():
    heading = Heading(title="at Northfield", date="2026-09-04", crew="Kim")
    early = summarise(trainee().check())
    late = summarise(whole_game().check())
    table = trend([(replace(heading, title="home to Eastbrook", date="2026-10-02"), late), (heading, early)])
    assert list(table["game"].unique()) == ["at Northfield", "home to Eastbrook"]
    holds = table[table["rule"] == "longer hold expected"]
    assert holds["missed"].tolist() == [1, 0]
    assert holds["share_delivered"].tolist() == pytest.approx([0.8, 1.0])
    assert set(table[table["game"] == "at Northfield"]["rule"]) == set(
        table[table["game"] == "home to Eastbrook"]["rule"])
    assert "all" not in set(table["rule"]), "one share over all practices flatters"
    assert (table["expected"] == table["delivered"] + table["missed"]).all()
    viewing = viewing_trend([(heading, early)])
    assert viewing["share_down_known"].tolist() == pytest.approx([early.share_known])
    assert viewing["film_minutes"].tolist() == pytest.approx([early.film_seconds / 60])


def test_the_trend_of_no_games_is_an_empty_table():
    assert trend([]).empty and "share_delivered" in trend([]).columns
    assert viewing_trend([]).empty

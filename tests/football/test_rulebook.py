"""The rulebooks as data: complete, typed, cited; seasons and differences; errors that say what to mend."""

from __future__ import annotations

import re
from dataclasses import fields

import pytest

from workstation.football import rulebook as module
from workstation.football.fouls import Enforcement, FoulRule
from workstation.football.plays import FoulTime, Side
from workstation.football.rulebook import (
    LineSpot,
    MissedFieldGoal,
    Overtime,
    Rulebook,
    RulebookError,
    load_rulebook,
    read_rulebook,
    rulebook_names,
)

NAMES = ("canadian_amateur", "ifaf", "ncaa", "nfhs", "nfhs_six_man", "professional", "professional_playoffs")


def test_the_rulebooks_there_are():
    assert rulebook_names() == NAMES


@pytest.mark.parametrize("name", NAMES)
def test_a_rulebook_has_at_least_35_fouls_each_with_its_articles(name):
    book = load_rulebook(name)
    assert len(book.fouls) >= 35
    for rule in book.fouls.values():
        assert re.search(r"\d", rule.rule) and re.search(r"\d", rule.penalty_rule) and re.search(r"\d", rule.spot_rule)
        assert 0 <= rule.yards <= 25
        assert rule.automatic_first_down is False or rule.by is not Side.OFFENSE, rule.name
        assert rule.loss_of_down is False or rule.by is not Side.DEFENSE, rule.name


@pytest.mark.parametrize("name", NAMES)
def test_every_value_has_its_article(name):
    book = load_rulebook(name)
    heads = {"name", "title", "season", "newest_season", "source", "fouls", "rules"}
    for entry in fields(Rulebook):
        if entry.name not in heads:
            assert book.rules[entry.name]


@pytest.mark.parametrize("name", NAMES)
def test_no_two_fouls_of_a_side_share_a_name(name):
    book = load_rulebook(name)
    for side in Side:
        names = [spoken for rule in book.fouls.values() if rule.by in (None, side)
                 for spoken in (rule.name, *rule.also)]
        assert len(names) == len(set(names)), sorted({spoken for spoken in names if names.count(spoken) > 1})


@pytest.mark.parametrize("name", NAMES)
def test_every_season_loads_and_is_kept(name):
    book = load_rulebook(name)
    for season in range(2019 if name == "ifaf" else 2014, book.newest_season + 1):
        assert load_rulebook(name, season).season == season
        assert load_rulebook(name, season) is load_rulebook(name, season)


def test_the_professional_seasons():
    """Kickoff, touchback, try and overtime over the years, as the league announced them."""
    seasons = {season: load_rulebook("professional", season) for season in range(2009, 2027)}
    assert [s for s, book in seasons.items() if book.kickoff_spot == 30] == [2009, 2010]
    assert {s: book.kickoff_touchback_spot for s, book in seasons.items() if s in (2015, 2016, 2023, 2024, 2025)} == {
        2015: 20, 2016: 25, 2023: 25, 2024: 30, 2025: 35}
    assert (
        seasons[2024].kickoff_touchback_after_landing_spot == seasons[2025].kickoff_touchback_after_landing_spot == 20)
    assert [s for s, book in seasons.items() if book.kickoff_fair_catch_spot] == [2023]
    assert not seasons[2024].kickoff_fair_catch and seasons[2023].kickoff_fair_catch
    assert (seasons[2014].try_spot_kick, seasons[2015].try_spot_kick) == (2, 15)
    assert (seasons[2014].try_return_points, seasons[2015].try_return_points) == (0, 2)
    assert seasons[2015].try_spot_run == 2
    assert (seasons[2011].overtime, seasons[2012].overtime) == (Overtime.SUDDEN_DEATH, Overtime.BOTH_POSSESS)
    assert (seasons[2016].overtime_minutes, seasons[2017].overtime_minutes) == (15, 10)
    assert seasons[2024].overtime_first_touchdown_wins and not seasons[2025].overtime_first_touchdown_wins
    for book in seasons.values():  # the receivers get a kickoff out of bounds at their 40 in every season
        assert 100 - (book.kickoff_spot + book.kickoff_out_of_bounds_beyond) == 40


def test_the_playoffs_have_their_own_overtime():
    assert load_rulebook("professional_playoffs", 2009).overtime is Overtime.SUDDEN_DEATH
    book = load_rulebook("professional_playoffs", 2010)
    assert (book.overtime is Overtime.BOTH_POSSESS
            and load_rulebook("professional", 2010).overtime is Overtime.SUDDEN_DEATH)
    for season in (2010, 2017, 2025):
        book = load_rulebook("professional_playoffs", season)
        assert book.overtime_minutes == 15 and book.overtime_periods is None
    assert load_rulebook("professional_playoffs", 2021).overtime_first_touchdown_wins
    assert not load_rulebook("professional_playoffs", 2022).overtime_first_touchdown_wins
    assert book.fouls == load_rulebook("professional", 2025).fouls


def test_the_college_seasons():
    assert (load_rulebook("ncaa", 2011).kickoff_spot, load_rulebook("ncaa", 2012).kickoff_spot) == (30, 35)
    assert (load_rulebook("ncaa", 2011).kickoff_touchback_spot,
            load_rulebook("ncaa", 2012).kickoff_touchback_spot) == (20, 25)
    assert (load_rulebook("ncaa", 2017).kickoff_fair_catch_spot,
            load_rulebook("ncaa", 2018).kickoff_fair_catch_spot) == (None, 25)
    assert [(load_rulebook("ncaa", s).overtime_two_point_from, load_rulebook("ncaa", s).overtime_only_tries_from)
            for s in (2018, 2019, 2021)] == [(3, None), (3, 5), (2, 3)]


def test_the_high_school_seasons():
    assert load_rulebook("nfhs", 2022).offense_foul_behind_line is LineSpot.SPOT_OF_FOUL
    assert load_rulebook("nfhs", 2023).offense_foul_behind_line is LineSpot.PREVIOUS_SPOT
    assert load_rulebook("nfhs",
                         2024).forward_fumble_out_of_bounds != load_rulebook("nfhs", 2025).forward_fumble_out_of_bounds
    assert (load_rulebook("nfhs", 2018).foul("illegal batting").yards,
            load_rulebook("nfhs", 2019).foul("illegal batting").yards) == (15, 10)


def test_what_the_codes_are_known_to_differ_in():
    nfhs, ncaa, pro = (load_rulebook(name) for name in ("nfhs", "ncaa", "professional"))
    assert [book.foul("defensive pass interference").automatic_first_down
            for book in (nfhs, ncaa, pro)] == [False, True, True]
    assert [book.foul("defensive pass interference").enforcement for book in (nfhs, ncaa, pro)] == [
        Enforcement.PREVIOUS_SPOT, Enforcement.SPOT_OF_FOUL, Enforcement.SPOT_OF_FOUL]
    assert ncaa.foul("defensive pass interference").most_yards == 15
    assert [book.missed_field_goal for book in (nfhs, ncaa, pro)] == [
        MissedFieldGoal.AS_A_PUNT, MissedFieldGoal.PREVIOUS_SPOT, MissedFieldGoal.SPOT_OF_KICK]
    automatic = {rule.name for rule in nfhs.fouls.values() if rule.automatic_first_down}
    assert automatic == {"roughing the passer", "roughing the kicker", "roughing the snapper"}
    assert (nfhs.try_return_points, ncaa.try_return_points) == (0, 2)


def test_six_man_is_high_school_with_its_differences():
    nfhs, six = load_rulebook("nfhs"), load_rulebook("nfhs_six_man")
    assert (six.field_length, six.yards_to_gain, six.field_goal_points, six.try_kick_points,
            six.try_run_points) == (80, 15, 4, 2, 1)
    assert six.foul("holding") == nfhs.foul("holding")
    assert six.foul("no clean exchange").loss_of_down


def test_a_foul_is_found_by_any_of_its_names_and_by_who_can_commit_it():
    book = load_rulebook("professional", 2012)
    assert book.foul("Illegal Use of Hands", Side.OFFENSE).yards == 10
    defensive = book.foul("Illegal Use of Hands", Side.DEFENSE)
    assert defensive.yards == 5 and defensive.automatic_first_down
    assert book.foul("face mask (15 yards)") is book.foul("face mask")
    assert book.foul("false start").kills_the_play and not book.foul("offside").kills_the_play
    with pytest.raises(KeyError, match="no foul called 'sneezing'"):
        book.foul("sneezing")
    with pytest.raises(KeyError, match="false start' by the defense"):
        book.foul("false start", Side.DEFENSE)


# Errors

# Each line of a table below damages one thing in the high school rulebook.

GOOD = (module.FOLDER / "nfhs.toml").read_text(encoding="utf-8")


def damaged(tmp_path, text):
    path = tmp_path / "mine.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(RulebookError, match=r"^\w+\.toml: ") as caught:
        read_rulebook(path)
    return str(caught.value)


def test_the_undamaged_text_reads(tmp_path):
    path = tmp_path / "mine.toml"
    path.write_text(GOOD, encoding="utf-8")
    assert read_rulebook(path).fouls == load_rulebook("nfhs").fouls


@pytest.mark.parametrize(("old", "new", "told"), [
    ('downs = { value = 4,', 'downs = { value = "four",', ["values.downs.value", "'four'", "a whole number"]),
    ('downs = { value = 4,', 'downs = { value = 4.5,', ["values.downs.value", "a whole number"]),
    ('downs = { value = 4,', 'downs = { value = true,', ["values.downs.value", "a whole number"]),
    ('downs = { value = 4, rule = "5-1-1 (from memory)" }', 'downs = 4', ["values.downs", "{ value = ..., rule"]),
    ('downs = { value = 4, rule = "5-1-1 (from memory)" }\n', '', ["values.downs is missing"]),
    ('downs = { value', 'dawns = { value', ["values.dawns", "no such value"]),
    ('toss_may_defer = { value = true', 'toss_may_defer = { value = 1',
     ["values.toss_may_defer.value", "true or false"]),
    ('overtime = { value = "series"', 'overtime = { value = "golden goal"', ["values.overtime.value", "sudden death"]),
    ('yards = 15, enforcement = "end of last run"', 'yards = "15", enforcement = "end of last run"',
     ["fouls.roughing the passer.yards", "a number"]),
    ('"false start" = { by = "offense"', '"false start" = { by = "someone"',
     ["fouls.false start.by", 'offense, defense or "none"']),
    ('"false start" = { by = "offense", yards = 5,', '"false start" = { by = "offense",',
     ["fouls.false start.yards is missing"]),
    ('"false start" = { by', '"false start" = { colour = "red", by', ["fouls.false start.colour", "no such key"]),
    ('also = ["illegal snap"]', 'also = ["Illegal Snap"]', ["fouls.snap infraction.also", "lower case"]),
    ('from = 2019', 'from = "2019"', ["edition 2.from", "a season"]),
    ('[edition.values]', '[edition.vaules]', ["edition 3.vaules: no such key"]),
    ('[[edition]]\nfrom = 2017', '[edition]\nfrom = 2017', ["not a readable TOML file"]),
    ('first_season = 2013', 'first_season = 2013\nno_fouls = "hurdling"',
     ["no_fouls is 'hurdling'", "a list of fouls"]),
    ('[spot_rules]', '[spot_rulez]', ["spot_rulez: no such key"]),
    ('"basic spot" = "10-4-4', '"basic spot" = 7 # "10-4-4', ["spot_rule is 7", "text"]),
    ('first_season = 2013', 'extends = 5\nfirst_season = 2013', ["extends is 5", "the name of a rulebook"]),
    ('first_season = 2013', 'extends = "mine"\nfirst_season = 2013', ["another rulebook than itself"]),
    ('title = "High school (NFHS)"', 'title = 7', ["title is 7", "text"]),
    ('first_season = 2013', 'first_season = 2013\ncolour = "red"', ["colour", "no such key"]),
    ('[values]', '[values', ["not a readable TOML file"]),
    ('first_season = 2013', 'extends = "nfxx"\nfirst_season = 2013', ["nfxx.toml", "no such rulebook file"]),
])
def test_damage_is_named_by_file_key_and_what_is_expected(tmp_path, old, new, told):
    assert old in GOOD
    message = damaged(tmp_path, GOOD.replace(old, new, 1))
    for part in told:
        assert part in message, message


def test_a_season_before_the_data_and_an_unknown_book_are_refused():
    with pytest.raises(RulebookError, match="professional.toml: the data begins with season 2009; 1999"):
        load_rulebook("professional", 1999)
    with pytest.raises(RulebookError, match="there is no rulebook 'rugby'; there are canadian_amateur, ifaf, ncaa"):
        load_rulebook("rugby")


def test_a_state_may_extend_a_rulebook_with_its_own_values(tmp_path):
    path = tmp_path / "ohio.toml"
    path.write_text('''
extends = "nfhs"
title = "Ohio"
source = "state adoption"
first_season = 2020
newest_season = 2025
no_fouls = ["hurdling"]
[values]
overtime_spot = { value = 20, rule = "state adoption" }
[fouls]
"holding" = { yards = 5 }
''', encoding="utf-8")
    book = read_rulebook(path)
    assert (book.name, book.overtime_spot, book.downs) == ("ohio", 20, 4)
    assert book.foul("holding").yards == 5 and book.foul("holding").rule == load_rulebook("nfhs").foul("holding").rule
    with pytest.raises(KeyError):
        book.foul("hurdling")


def test_the_moment_of_a_foul_defaults_to_the_down():
    rule = load_rulebook("nfhs").foul("holding")
    assert isinstance(rule, FoulRule) and rule.when is FoulTime.DURING_DOWN


@pytest.mark.parametrize("key", ["values", "fouls", "spot_rules", "no_fouls", "edition", "title", "extends"])
@pytest.mark.parametrize("value", [3, "text", [], [1], {"x": 1}, True])
def test_no_shape_of_data_ends_in_anything_but_a_clear_error(tmp_path, monkeypatch, key, value):
    data = module.tomllib.loads(GOOD) | {key: value}
    monkeypatch.setattr(module.tomllib, "loads", lambda text: data)
    path = tmp_path / "mine.toml"
    path.write_text("", encoding="utf-8")
    if (key, value) in (("no_fouls", []), ("no_fouls", [1]), ("edition", []), ("title", "text")):
        assert read_rulebook(path).downs == 4  # nothing wrong with these
    else:
        with pytest.raises(RulebookError, match=r"^(mine|text)\.toml: "):
            read_rulebook(path)

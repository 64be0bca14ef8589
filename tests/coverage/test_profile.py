"""Crew profiles: layers, and clear errors for what cannot be used."""

from __future__ import annotations

import tomllib
from dataclasses import fields
from importlib.resources import files

import pytest

from workstation.coverage.finding import Severity
from workstation.coverage.profile import ProfileError, load_profile, profile_names
from workstation.coverage.rules import rule_class, rule_names
from workstation.coverage.viewer import Assumptions


@pytest.fixture
def write(tmp_path):
    def _write(name: str, text: str):
        path = tmp_path / f"{name}.toml"
        path.write_text(text, encoding="utf-8")
        return path
    return _write


def test_every_rule_has_a_file_a_class_and_an_entry_of_the_same_name():
    default = load_profile(folders=())
    table = tomllib.loads((files("workstation.resources") / "profiles" / "default.toml").read_text())
    assert sorted(table["rules"]) == list(rule_names())
    for name in rule_names():
        rule = rule_class(name)
        assert rule.title.lower().replace("-", " ") == name.replace("_", " ")
        assert len(rule.reason) > 80 and rule.label
        assert default.rule(rule.title.lower()).name == rule.title.lower()


def test_a_coach_lies_on_the_crew_and_the_crew_on_the_default(write, tmp_path):
    write("riverside", 'title = "Riverside"\nbased_on = "default"\n[rules.longer_hold_expected]\nhold = 4\n'
                       '[rules.ready_before_the_snap]\nlead = 3.5\n[viewer]\nunsure_below = 0.9\n')
    write("coach", 'based_on = "riverside"\n[rules.longer_hold_expected]\nhold = 1.5\nseverity = "error"\n')
    coach = load_profile("coach", folders=[tmp_path])
    default = load_profile(folders=())
    assert coach.rule("longer hold expected").hold == 1.5
    assert coach.rule("longer hold expected").severity is Severity.ERROR
    assert coach.rule("ready before the snap").lead == 3.5
    assert coach.viewer.unsure_below == 0.9
    assert coach.viewer.line_error == default.viewer.line_error
    assert (coach.name, coach.title) == ("coach", "Riverside")
    assert [rule.name for rule in coach.rules] == [rule.name for rule in default.rules]
    assert coach.cautions == default.cautions


def test_a_file_beside_is_found_by_its_name(write):
    write("crew", 'based_on = "default"\n[rules.dead_footage]\nbefore_snap = 20\n')
    path = write("coach", 'based_on = "crew"\n')
    assert load_profile(path, folders=()).rule("dead footage").before_snap == 20.0


def test_known_profiles_are_listed(write, tmp_path):
    write("riverside", 'based_on = "default"\n')
    assert profile_names([tmp_path]) == ["default", "end_zone", "rain_and_wind", "riverside", "sideline"]
    assert "default" in profile_names([tmp_path / "not there"])


@pytest.mark.parametrize(("text", "told"), [
    ('based_on = "default"\n[remarks]\n"too tight" = 3\n', "a word and its advice, as texts"),
    ('praise = [1]\nbased_on = "default"\n', "'praise' must be a list of texts"),
    ('based_on = "default"\n[rules.no_such_rule]\n',
     "no rule 'no_such_rule'; known: 'action_in_the_frame', 'altercation'"),
    ('based_on = "default"\n[rules.longer_hold_expected]\nhodl = 3\n',
     "unknown setting 'hodl'; there is 'enabled', 'hold'"),
    ('based_on = "default"\n[rules.longer_hold_expected]\nhold = "long"\n', "hold must be a number from 0, not 'long'"),
    ('based_on = "default"\n[rules.longer_hold_expected]\nhold = -1\n', "hold must be a number from 0, not -1"),
    ('based_on = "default"\n[rules.longer_hold_expected]\nhold = nan\n', "hold must be a number from 0, not nan"),
    ('based_on = "default"\n[rules.longer_hold_expected]\nseverity = "bad"\n',
     "severity must be one of 'error', 'note', 'warning', not 'bad'"),
    ('based_on = "default"\n[rules.scoreboard_expected]\nwithin_snaps = 1.5\n', "must be a whole number from 0"),
    ('based_on = "default"\n[rules.coin_toss_expected]\nenabled = 0\n', "enabled must be true or false, not 0"),
    ('based_on = "default"\n[rules.altercation]\nfouls = 3\n', "fouls must be a list of texts"),
    ('based_on = "default"\n[viewer]\nunseen_play = [0.5, 0.5]\n', "unseen_play must be a list of 3 numbers from 0"),
    ('based_on = "default"\n[viewer]\nsees = 1\n', "[viewer]: unknown setting 'sees'"),
    ('based_on = "default"\n[decisive]\nlate = "soon"\n', "[decisive] late must be a number"),
    ('based_on = "default"\n[weights]\nhuge = 1\n', "[weights]: unknown setting 'huge'"),
    ('based_on = "default"\nviewer = 3\n', "'viewer' must be a table"),
    ('based_on = "default"\ncautions = "mind the step"\n', "'cautions' must be a list of texts"),
    ('based_on = "default"\ncolour = "blue"\n', "unknown entry 'colour'"),
    ('based_on = "crew"\n', "there is no profile 'crew'; known: 'coach', 'default'"),
    ('based_on = 3\n', "'based_on' must name a profile, not 3"),
    ('based_on = "coach"\n', "leads in a circle"),
    ('title = "from nothing"\n', "lacks"),
    ('title = \n', "not valid TOML"),
])
def test_what_cannot_be_used_is_named(write, text, told):
    path = write("coach", text)
    with pytest.raises(ProfileError) as caught:
        load_profile(path, folders=())
    assert told in str(caught.value)
    assert "coach" in str(caught.value)
    assert "\n" not in str(caught.value) or "TOML" in told


def test_a_profile_that_is_not_there_is_named(tmp_path):
    with pytest.raises(ProfileError, match=r"nowhere\.toml: the profile cannot be read: No such file"):
        load_profile(tmp_path / "nowhere.toml")
    with pytest.raises(ProfileError, match="there is no profile 'nobody'"):
        load_profile("nobody", folders=[tmp_path])


def test_every_assumption_stands_in_the_default_with_its_reason():
    """Values and reasons live in one place: each block of values in the file has a comment above it."""
    text = (files("workstation.resources") / "profiles" / "default.toml").read_text()
    assert "common practice, no source" in text
    viewer = text[text.index("[viewer]"):text.index("[decisive]")]
    commented = False
    for line in viewer.splitlines()[1:]:
        if line.startswith("#"):
            commented = True
        elif not line.strip():
            commented = False
        else:
            assert commented, f"no reason above {line!r}"
    assert all(f"\n{each.name} = " in viewer for each in fields(Assumptions))


def test_a_profile_that_was_changed_is_read_anew(write):
    path = write("coach", 'based_on = "default"\n[rules.longer_hold_expected]\nhold = 4\n')
    assert load_profile(path, folders=()).rule("longer hold expected").hold == 4
    write("coach", 'based_on = "default"\n[rules.longer_hold_expected]\nhold = 5\n')
    assert load_profile(path, folders=()).rule("longer hold expected").hold == 5
    assert load_profile(folders=()).rule("longer hold expected").hold == 2


@pytest.mark.parametrize(("text", "said"), [
    ('[viewer]\nline_error = 0\n', "line_error must be a number from 0.01 to 100, not 0"),
    ('[viewer]\nmiscount = 7\n', "miscount must be from 0 to 1, not 7"),
    (f'[weights]\nerror = {"9" * 400}\n', "[weights] error must be from 0 to 1000000, not a number of more than 20 "
                                          "digits"),
    (f'[weights]\nerror = {"9" * 9000}\n', "this is not a profile"),
    ('[rules.longer_hold_expected]\nhold = 1e300\n', "hold must be from 0 to 1000000"),
    ('# ' + 'x' * (1 << 20), "larger than 1 MiB"),
])
def test_numbers_have_a_range(write, text, said):
    with pytest.raises(ProfileError) as error:
        load_profile(write("mine", f'based_on = "default"\n{text}'), folders=())
    assert said in str(error.value) and len(str(error.value)) < 500


def test_a_long_row_of_profiles_is_refused(write, tmp_path):
    for number in range(1500):
        write(f"p{number}", f'based_on = "p{number + 1}"\n')
    with pytest.raises(ProfileError, match="more than 20 profiles"):
        load_profile("p0", folders=[tmp_path])


def test_errors_of_nothing_and_breaks_of_one_length_are_checked_all_the_same(write, demo_game_file):
    from workstation.commands import open_game
    path = write("exact", 'based_on = "default"\n[viewer]\ngain_error = 0\ngain_error_per_yard = 0\ngain_error_most = '
                          '0\ngain_error_close = 0\nline_error = 0.01\nshort_break = 30\nlong_break = 30\n')
    assert open_game(demo_game_file, str(path)).coverage.findings


def test_the_least_confidence_of_suggestions_is_a_share(tmp_path):
    path = tmp_path / "careful.toml"
    path.write_text('based_on = "default"\n[suggestions]\nleast_confidence = 0.8\n')
    assert load_profile(path).suggestions.least_confidence == 0.8
    path.write_text('based_on = "default"\n[suggestions]\nleast_confidence = 1.5\n')
    with pytest.raises(ProfileError, match="least_confidence must be"):
        load_profile(path)

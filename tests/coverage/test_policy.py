"""Published policies: read, laid on a profile, cited, and told article by article. What the policies say is checked by
the written sequences."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.coverage.filming import PROFILE, RULEBOOK, Filming
from tests.coverage.test_sequences import whole_game
from workstation.coverage.checker import check
from workstation.coverage.policy import Compliance, hold_to, load_policy, policy_names, verdicts
from workstation.coverage.profile import ProfileError
from workstation.coverage.summary import summarise
from workstation.delivery.policy_record import record_lines, record_plain, write_record
from workstation.tagging.model import Decision
from workstation.tagging.model import Verdict as Said


def held(film: Filming, *names: str):
    game = replace(film.game, heading=replace(film.game.heading, policies=names))
    coverage = check(game, film.steps(), PROFILE, RULEBOOK)
    return game, coverage, verdicts(game, coverage, [load_policy(name) for name in names if name in policy_names()])


def test_every_policy_names_its_source_and_when_it_was_read():
    for name in policy_names():
        policy = load_policy(name)
        assert "read 20" in policy.source and policy.articles
        assert len({article.name for article in policy.articles}) == len(policy.articles)


def test_findings_cite_their_article():
    film = Filming()
    film.at()
    film.run(3, hold=0.5)
    film.run(3)
    _, coverage, _ = held(film, "uil", "iowa")
    (finding,) = coverage.findings
    assert finding.article == ("UIL Football Game Film Exchange Policy: Continuity; "
                               "Video guidelines for regular season exchange: 5")
    _, free, _ = held(film)
    assert free.findings[0].article == ""


def test_the_stricter_need_of_the_receiver_wins_and_is_told():
    film = whole_game(handshake=False)
    assert [finding.severity for finding in film.check().findings] == ["note"]
    _, coverage, told = held(film, "uil")
    assert [(finding.rule, str(finding.severity))
            for finding in coverage.findings] == [("handshake expected", "warning")]
    assert {each.article.name: each.verdict for each in told}["Non-negotiable 3"] is Compliance.NOT_MET
    assert any("until both teams have separated" in line for line in summarise(coverage).yielded)


def test_a_receiver_who_wants_every_marker_hears_nothing_of_overuse():
    film = Filming()
    film.at(1, 10, 30)
    film.marker()
    film.run(3)
    film.marker()
    film.run(3)
    assert [finding.rule for finding in film.check().findings] == ["marker shot not needed"]
    _, coverage, _ = held(film, "marker_before_every_play")
    assert coverage.findings == ()


def test_a_film_that_nobody_marked_cannot_be_judged():
    film = Filming()
    film.at()
    film.run(3, wide=None, snap=None, lasts=None, hold=10.0)
    _, _, told = held(film, "uil")
    by_name = {each.article.name: each for each in told}
    assert by_name["Continuity"].verdict is Compliance.CANNOT
    assert by_name["Continuity"].missing == ("dead ball is not marked at play 1",)
    assert by_name["Framing: wide"].verdict is Compliance.CANNOT


def test_a_waived_finding_breaks_no_article():
    film = Filming()
    film.at()
    film.run(3, hold=0.5)
    film.run(3)
    game, coverage, _ = held(film, "iowa")
    waived = tuple(replace(finding, decision=None) for finding in coverage.findings)
    assert verdicts(game, replace(coverage, findings=waived), [load_policy("iowa")])[4].verdict is Compliance.NOT_MET
    waived = tuple(replace(finding, decision=Decision(finding.key, Said.WAIVED, "the band")) for finding in waived)
    assert verdicts(game, replace(coverage, findings=waived), [load_policy("iowa")])[4].verdict is Compliance.MET


def test_a_policy_that_is_not_there_is_told_and_the_film_judged_all_the_same():
    film = Filming()
    film.at()
    film.run(3, hold=0.5)
    film.run(3)
    _, coverage, _ = held(film, "no_such_league")
    assert "there is no policy 'no_such_league'; known: iowa" in coverage.waiting[0]
    assert len(coverage.findings) == 1


def test_what_is_told_is_written_beside_the_film(tmp_path):
    film = Filming()
    film.at()
    film.run(3, hold=0.5)
    film.run(3)
    game, _, told = held(film, "uil")
    lines = record_lines(told)
    assert lines[0].startswith("UIL") and "read 2026" in lines[1]
    assert any(line.startswith("  Continuity: not met.") for line in lines)
    (continuity,) = [each for each in record_plain(game, told) if each["article"] == "Continuity"]
    assert (continuity["verdict"], continuity["where"][0]["play"]) == ("not met", 1)
    assert {path.name for path in write_record(game, told, tmp_path)} == {path.name for path in tmp_path.iterdir()}
    assert write_record(game, [], tmp_path / "not there") == []


@pytest.mark.parametrize(("text", "told"), [
    ("title = 3\n", "'title' and 'source' are needed"),
    ('title = "A"\nsource = "B"\n', "at least one"),
    ('title = "A"\nsource = "B"\nmore = 1\n', "unknown entry more"),
    ('title = "A"\nsource = "B"\n[[article]]\nname = "1"\nsays = "x"\n', "needs either 'rules', 'views' or 'cannot'"),
    ('title = "A"\nsource = "B"\n[[article]]\nname = "1"\nsays = "x"\nrules = ["no_rule"]\n', "no rule 'no_rule'"),
    ('title = "A"\nsource = "B"\n[[article]]\nname = "1"\nsays = "x"\nrules = ["injury"]\nkinds = ["jump"]\n',
     "no play 'jump'"),
    ('title = "A"\nsource = "B"\n[[article]]\nname = "1"\nsays = "x"\ncannot = "y"\n[rules.injury]\nhodl = 1\n',
     "unknown setting"),
    ('title = "A"\nsource = "B"\n[[article]]\nname = "1"\nsays = "x"\ncannot = "y"\n[rules.injury]\nhold = "long"\n',
     "must be a number"),
    ("title = \n", "not valid TOML"),
])
def test_what_is_no_policy_is_refused(tmp_path, text, told):
    (tmp_path / "league.toml").write_text(text)
    with pytest.raises(ProfileError, match=told):
        load_policy("league", tmp_path)


def test_a_policy_of_ones_own(tmp_path):
    (tmp_path / "league.toml").write_text('title = "League"\nsource = "Handbook, 2026, read 2026-08-01"\n[[article]]\n'
                                          'name = "4"\nsays = "Hold"\nrules = ["longer_hold_expected"]\n'
                                          "[rules.longer_hold_expected]\nhold = 5.0\n")
    policy = load_policy("league", tmp_path)
    assert "league" in policy_names(tmp_path)
    assert hold_to(PROFILE, [policy]).rule("longer hold expected").hold == 5.0
    assert PROFILE.rule("longer hold expected").hold == 2.0


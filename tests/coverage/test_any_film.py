"""Any film of any game, however odd, is judged without an error, and what is said of it hangs together."""

from __future__ import annotations

from random import Random

import pytest

from tests.coverage.filming import Filming
from workstation.coverage.checker import check
from workstation.coverage.policy import load_policy, policy_names, verdicts
from workstation.coverage.practice import PracticeAnswer, PracticeSession, gaps, judge
from workstation.coverage.profile import load_profile, profile_names
from workstation.coverage.summary import summarise
from workstation.football.plays import Foul, FoulDecision, Outcome, PlayKind, Side
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.tagging.model import Framing, MomentKind, ShotKind, Shows

KINDS = [PlayKind.RUN, PlayKind.RUN, PlayKind.RUN, PlayKind.PASS, PlayKind.PUNT, PlayKind.FIELD_GOAL, PlayKind.KICKOFF,
         PlayKind.TRY_KICK, PlayKind.KNEEL, PlayKind.NO_PLAY, PlayKind.TIMEOUT, PlayKind.END_OF_PERIOD,
         PlayKind.COIN_TOSS, PlayKind.MEASUREMENT, PlayKind.INADVERTENT_WHISTLE, PlayKind.REPLAY_REVERSAL]
OUTCOMES = {PlayKind.PASS: [Outcome.COMPLETE, Outcome.INCOMPLETE], PlayKind.MEASUREMENT: [Outcome.MADE, Outcome.SHORT],
            PlayKind.FIELD_GOAL: [Outcome.GOOD, Outcome.NO_GOOD], PlayKind.TRY_KICK: [Outcome.GOOD, Outcome.NO_GOOD],
            PlayKind.PUNT: [Outcome.FAIR_CATCH], PlayKind.KICKOFF: [Outcome.RETURNED]}


def any_film(chance: Random) -> Filming:
    film = Filming(whole=chance.random() < 0.5)
    if chance.random() < 0.7:
        film.at(chance.randrange(1, 5), chance.choice([1, 3, 10]), chance.randrange(5, 95),
                period=chance.randrange(1, 6))
    for _ in range(chance.randrange(0, 14)):
        kind = chance.choice(KINDS)
        fields = {"outcome": chance.choice(OUTCOMES[kind])} if kind in OUTCOMES else {}
        if kind in (PlayKind.RUN, PlayKind.PASS, PlayKind.KNEEL) and chance.random() < 0.9:
            fields["gain"] = chance.choice([-3, 0, 2.5, 4, 9.8, 10, 30])
        if kind in (PlayKind.PUNT, PlayKind.KICKOFF):
            fields |= {"kick_to": 70}
        if chance.random() < 0.2 or kind is PlayKind.NO_PLAY:
            fields["fouls"] = (Foul(chance.choice(["holding", "false start", "fighting"]), chance.choice(list(Side)),
                                    decision=chance.choice(list(FoulDecision))),)
        shot = None
        if chance.random() < 0.75:
            length = chance.choice([0.4, 3, 12, 70])
            moments = {(each, round(chance.uniform(0, length), 2)) for each in MomentKind if chance.random() < 0.25}
            shot = film.shot(chance.choice([ShotKind.PLAY, ShotKind.PLAY, ShotKind.PLAY, ShotKind.MEASUREMENT, None]),
                             length, sorted(moments), chance.choice([None, *Framing]),
                             opens_on=chance.choice([None, None, ShotKind.DOWN_MARKER, ShotKind.SCOREBOARD]))
        elif film.shots and chance.random() < 0.3:
            shot = film.shots[-1].id
        film.event(kind, fields.pop("outcome", None), shot=shot, **fields)
        for _ in range(chance.randrange(0, 3)):
            length = chance.choice([0.5, 3, 20, 200])
            film.shot(chance.choice([*ShotKind, None]), length,
                      [(each, length / 2) for each in MomentKind if chance.random() < 0.1],
                      chance.choice([None, *Framing]), shows=frozenset(each for each in Shows if chance.random() < 0.2))
        if chance.random() < 0.1:
            film.unshot(chance.choice([1, 50]))
    return film


@pytest.mark.parametrize("book", ["nfhs", "ncaa", "canadian_amateur", "professional"])
def test_any_film_is_judged(book):
    rulebook, profiles = load_rulebook(book), [load_profile(name, folders=()) for name in profile_names([])]
    policies = [load_policy(name) for name in policy_names()]
    for seed in range(60):
        chance = Random(f"{book} {seed}")
        film = any_film(chance)
        game, profile = film.game, chance.choice(profiles)
        steps = track(rulebook, [tag.play for tag in game.plays])
        coverage = check(game, steps, profile, rulebook)
        keys = [finding.key for finding in coverage.findings]
        assert len(keys) == len(set(keys)), f"seed {seed}: two findings about one thing"
        assert all(0 <= belief.sure <= 1.000001 for belief in coverage.beliefs)
        assert all(finding.why and finding.habit and finding.title for finding in coverage.findings)
        summarise(coverage)
        assert len(verdicts(game, coverage, policies)) == sum(len(policy.articles) for policy in policies)
        found = gaps(game, steps, profile, rulebook)
        judge(found, PracticeSession("", "", {gap.after or 0: frozenset({chance.choice(list(PracticeAnswer))})
                                              for gap in found}))


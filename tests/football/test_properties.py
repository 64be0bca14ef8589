"""What holds of every game, whatever is tagged: sense, nonsense and contradictions alike."""

from __future__ import annotations

import csv
import io
import os
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, Phase, example, given, settings
from hypothesis import strategies as st

from workstation.football.field import Team
from workstation.football.plays import (
    BallEvent,
    EnforcedAt,
    EventKind,
    Foul,
    FoulDecision,
    FoulTime,
    Outcome,
    Play,
    PlayKind,
    Score,
    Side,
    SituationOverride,
)
from workstation.football.rulebook import load_rulebook, rulebook_names
from workstation.football.sheet import COLUMNS, SheetRow, read_rows, write_rows
from workstation.football.situation import Next, Situation
from workstation.football.tracker import fold, track

BOOKS = [load_rulebook(name) for name in rulebook_names()] + [
    load_rulebook("professional", 2009), load_rulebook("ncaa", 2011), load_rulebook("nfhs", 2022)]
books = st.sampled_from(BOOKS)
# Without shrinking: a failure names the one step that is wrong, and shrinking whole games takes minutes.
# EXAMPLES=3000 in the environment tries so many of each, others every time.
EXAMPLES = int(os.environ.get("EXAMPLES", 0))
steady = settings(max_examples=EXAMPLES or 80, deadline=None, derandomize=not EXAMPLES,
                  phases=[Phase.explicit, Phase.generate],
                  suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much])


def hundredths(least: float, most: float) -> st.SearchStrategy[float]:
    return st.integers(round(least * 100), round(most * 100)).map(lambda number: round(number / 100, 2))


def maybe(strategy: st.SearchStrategy) -> st.SearchStrategy:
    return st.none() | strategy


def spots(book) -> st.SearchStrategy[float]:
    return hundredths(-book.end_zone_depth, book.field_length + book.end_zone_depth)


def fouls(book) -> st.SearchStrategy[Foul]:
    def of(rule):
        return st.builds(
            Foul, name=st.sampled_from([rule.name, *rule.also]),
            by=st.just(rule.by) if rule.kills_the_play and rule.by else st.sampled_from(Side),
            spot=maybe(spots(book)), when=maybe(st.sampled_from(FoulTime)),
            decision=maybe(st.sampled_from(FoulDecision)), yards=maybe(hundredths(0, 15)),
            enforced_from=maybe(spots(book)), at=maybe(st.sampled_from(EnforcedAt)),
            automatic_first_down=maybe(st.booleans()), loss_of_down=maybe(st.booleans()))

    return st.sampled_from(sorted(book.fouls.values(), key=lambda rule: rule.name)).flatmap(of)


def events(book) -> st.SearchStrategy[BallEvent]:
    return st.builds(BallEvent, st.sampled_from(EventKind), maybe(spots(book)), maybe(st.sampled_from(Side)))


def said(book) -> st.SearchStrategy[SituationOverride]:
    return st.builds(
        SituationOverride, offense=maybe(st.sampled_from(Team)), down=maybe(st.integers(1, book.downs)),
        yards_to_gain=maybe(hundredths(0.01, book.field_length)),
        ball_on=maybe(hundredths(0.01, book.field_length - 0.01)),
        period=maybe(st.integers(1, 7)), score_home=maybe(st.integers(0, 99)), score_visitors=maybe(st.integers(0, 99)),
        next=maybe(st.sampled_from(Next)), timeouts_home=maybe(st.integers(0, 3)),
        timeouts_visitors=maybe(st.integers(0, 3)), second_half_kicker=maybe(st.sampled_from(Team)),
        home_faces_right=maybe(st.booleans()))


def plays(book, by_hand: bool = False) -> st.SearchStrategy[Play]:
    """Any play that the types allow, likely or not."""
    return st.builds(
        Play, kind=st.sampled_from(PlayKind), outcome=maybe(st.sampled_from(Outcome)),
        gain=maybe(hundredths(-40, book.field_length)), kick_to=maybe(spots(book)), spot=maybe(spots(book)),
        possession=maybe(st.sampled_from(Side)), events=st.lists(events(book), max_size=3).map(tuple),
        score=maybe(st.sampled_from(Score)), fouls=st.lists(fouls(book), max_size=2).map(tuple),
        clock=maybe(st.integers(0, 900)),
        override=maybe(said(book)).filter(lambda words: words != SituationOverride()) if by_hand else st.none(),
        team=maybe(st.sampled_from(Team)), choice=maybe(st.sampled_from(["receive", "kick", "defer", "replay"])),
        kick_from=maybe(spots(book)), stands_as=maybe(st.sampled_from(PlayKind)))


def likely_plays(book) -> st.SearchStrategy[Play]:
    """Plays as they are mostly tagged, so that games get far."""
    gains = hundredths(-8, 25)
    return st.one_of(
        st.builds(Play, kind=st.just(PlayKind.RUN), gain=gains),
        st.builds(Play, kind=st.just(PlayKind.PASS), outcome=st.just(Outcome.COMPLETE), gain=gains),
        st.just(Play(PlayKind.PASS, outcome=Outcome.INCOMPLETE)),
        st.builds(Play, kind=st.just(PlayKind.SACK), gain=hundredths(-12, 0)),
        st.builds(Play, kind=st.sampled_from([PlayKind.PUNT, PlayKind.KICKOFF]), outcome=st.just(Outcome.RETURNED),
                  kick_to=hundredths(60, book.field_length - 1), spot=hundredths(40, 79)),
        st.builds(Play, kind=st.just(PlayKind.RUN), gain=gains, fouls=fouls(book).map(lambda foul: (foul,))),
        st.builds(Play, kind=st.just(PlayKind.FIELD_GOAL), outcome=st.sampled_from([Outcome.GOOD, Outcome.NO_GOOD])),
        st.builds(Play, kind=st.sampled_from([PlayKind.TRY_KICK, PlayKind.TRY_RUN]),
                  outcome=st.sampled_from([Outcome.GOOD, Outcome.NO_GOOD])),
        st.just(Play(PlayKind.END_OF_PERIOD)),
        st.builds(Play, kind=st.just(PlayKind.RUN), score=st.just(Score.TOUCHDOWN)),
    )


@st.composite
def games(draw, by_hand: bool = False, longest: int = 12):
    book = draw(books)
    toss = Play(PlayKind.COIN_TOSS, team=draw(st.sampled_from(Team)), choice="receive")
    return book, [toss, *draw(st.lists(likely_plays(book) | plays(book, by_hand), max_size=longest))]


@steady
@given(games(by_hand=True))
def test_every_situation_is_one_that_football_has(game):
    book, tagged = game
    for step in track(book, tagged):
        now, told = step.after, f"{step.play} -> {step.after}"
        assert now.period >= 1, told
        if now.next is Next.SCRIMMAGE:
            assert now.offense in Team, told
            assert 1 <= now.down <= book.downs, told
            assert 0 < now.ball_on < book.field_length, told
            assert 0 < now.yards_to_gain <= book.field_length - now.ball_on + 1e-6, told
            if now.goal_to_go:
                assert now.yards_to_gain == pytest.approx(book.field_length - now.ball_on), told
        else:
            assert now.down is None or now.next is Next.OVER, told
        if now.next in (Next.KICKOFF, Next.SAFETY_FREE_KICK, Next.TRY):
            assert now.offense in Team, told
            assert 0 < now.ball_on < book.field_length, told
        assert step.explanation.strip() and "\n" not in step.explanation, told


@steady
@given(games())
def test_the_score_never_falls_and_only_by_what_the_rulebook_gives(game):
    book, tagged = game
    allowed = {0, 1, 2, 3, 4, book.single_point, book.touchdown_points, book.field_goal_points, book.safety_points,
               book.try_kick_points, book.try_run_points, book.try_return_points, book.try_safety_points}
    for step in track(book, tagged):
        if step.play.kind in (PlayKind.REPLAY_REVERSAL, PlayKind.MEASUREMENT):
            continue  # they correct the play before them
        gained = (step.after.score_home - step.before.score_home,
                  step.after.score_visitors - step.before.score_visitors)
        assert min(gained) == 0, step
        assert max(gained) in allowed, step
        assert gained == (step.points_home, step.points_visitors), step


QUIET = (PlayKind.RUN, PlayKind.SACK, PlayKind.KNEEL, PlayKind.SPIKE)


@steady
@given(books, st.data())
def test_the_ball_changes_hands_only_by_what_changes_it(book, data):
    """Before the last down a run, sack or pass without fumble, interception, score or foul keeps the ball."""
    spot = data.draw(hundredths(1, book.field_length - 1))
    down = data.draw(st.integers(1, book.downs - 1))
    to_goal = book.field_length - spot
    before = Situation(next=Next.SCRIMMAGE, offense=data.draw(st.sampled_from(Team)), down=down, ball_on=spot,
                       yards_to_gain=min(book.yards_to_gain, to_goal), goal_to_go=to_goal <= book.yards_to_gain,
                       series=1, drive=1)
    gain = data.draw(hundredths(-spot + 0.01, to_goal - 0.01))
    play = data.draw(st.sampled_from([
        *(Play(kind, gain=None if kind is PlayKind.SPIKE else gain) for kind in QUIET),
        Play(PlayKind.PASS, outcome=Outcome.COMPLETE, gain=gain), Play(PlayKind.PASS, outcome=Outcome.INCOMPLETE)]))
    step = fold(book, before, play)
    assert step.after.offense is before.offense and not step.possession_changed
    assert step.after.drive == before.drive
    moved = 0 if play.gain is None else play.gain
    least = book.snap_least_from_goal or 1 / 36
    assert step.after.ball_on == pytest.approx(max(min(spot + moved, book.field_length - least), least))
    if step.after.down == 1:
        assert step.first_down and moved >= before.yards_to_gain - 1e-6
    else:
        assert step.after.down == down + 1


@steady
@given(books, st.data())
def test_a_penalty_moves_the_ball_against_the_offender_by_no_more_than_half_the_way(book, data):
    """A foul on an incomplete pass, accepted, its spot not said: from the previous spot or the next one."""
    side = data.draw(st.sampled_from(Side))
    rule = data.draw(st.sampled_from([rule for rule in book.fouls.values() if rule.by in (None, side)]))
    least = book.snap_least_from_goal or 1 / 36
    spot = data.draw(hundredths(least + 0.1, book.field_length - least - 0.1))
    to_goal = book.field_length - spot
    before = Situation(next=Next.SCRIMMAGE, offense=Team.HOME, down=data.draw(st.integers(1, book.downs - 1)),
                       ball_on=spot, yards_to_gain=min(book.yards_to_gain, to_goal),
                       goal_to_go=to_goal <= book.yards_to_gain, series=1, drive=1)
    foul = Foul(rule.name, side, decision=FoulDecision.ACCEPTED)
    step = fold(book, before, Play(PlayKind.PASS, outcome=Outcome.INCOMPLETE, fouls=(foul,)))
    assert step.after.offense is Team.HOME and step.after.next is Next.SCRIMMAGE, step.explanation
    moved = step.after.ball_on - spot if side is Side.DEFENSE else spot - step.after.ball_on
    ends = to_goal if side is Side.DEFENSE else spot
    assert -1e-6 <= moved <= max(min(rule.yards, ends / 2), 0) + 1e-6, step.explanation
    if moved < rule.yards - 1e-6:
        assert moved == pytest.approx(min(ends / 2, ends - least)), step.explanation
    if rule.automatic_first_down and side is Side.DEFENSE:
        assert step.after.down == 1, step.explanation


@steady
@given(games())
def test_possession_never_changes_unsaid(game):
    """Where the snapping team changes between two scrimmage downs, the step says so."""
    book, tagged = game
    for step in track(book, tagged):
        before, after = step.before, step.after
        if before.next is after.next is Next.SCRIMMAGE and before.period == after.period <= book.periods \
                and step.play.kind not in (PlayKind.REPLAY_REVERSAL, PlayKind.MEASUREMENT):
            assert (before.offense is not after.offense) <= step.possession_changed, step


@steady
@given(games(by_hand=True), st.data())
def test_folding_a_game_in_two_parts_is_folding_it_whole(game, data):
    book, tagged = game
    cut = data.draw(st.integers(0, len(tagged)))
    first = track(book, tagged[:cut])
    rest = track(book, tagged[cut:], first[-1] if first else None)
    assert first + rest == track(book, tagged)


@steady
@given(games(by_hand=True), st.data())
def test_correcting_a_play_leaves_everything_before_it_alone(game, data):
    book, tagged = game
    at = data.draw(st.integers(0, len(tagged) - 1))
    corrected = [*tagged[:at], data.draw(plays(book)), *tagged[at + 1:]]
    assert track(book, corrected)[:at] == track(book, tagged)[:at]


@steady
@given(games(by_hand=True))
def test_a_sheet_reads_back_as_it_was_written(game):
    book, tagged = game
    entries = [SheetRow(play, {"shot": str(number), "light": " kept as is "}) for number, play in enumerate(tagged)]
    file = io.StringIO(newline="")
    writer = csv.DictWriter(file, [*COLUMNS, "shot", "light"])
    writer.writeheader()
    writer.writerows(write_rows(entries, book))
    file.seek(0)
    assert read_rows(csv.DictReader(file), book) == entries


@steady
@given(st.text(max_size=40), st.text(max_size=40))
@example("a, b; c", 'say "no"\nand more')
def test_a_sheet_keeps_what_a_person_wrote(choice, comment):
    book = BOOKS[0]
    play = Play(PlayKind.COIN_TOSS, team=Team.HOME, choice=choice.strip() or None, comment=comment.strip())
    entry, = read_rows(write_rows([play], book), book)
    assert entry.play == replace(play)

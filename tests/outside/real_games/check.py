"""Fold real games and compare every predicted situation with the official one."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import lru_cache

from workstation.football.periods import opening
from workstation.football.plays import Play, PlayKind, SituationOverride
from workstation.football.reading import try_spot
from workstation.football.rulebook import Rulebook, load_rulebook
from workstation.football.situation import Next, Situation
from workstation.football.step import Step
from workstation.football.tracker import fold

from .convert import Converted, Converter
from .games import Game, Row

_KICKOFFS = (PlayKind.KICKOFF, PlayKind.SAFETY_FREE_KICK)
_NO_BALL = (PlayKind.NO_PLAY,)
_TRIES = (PlayKind.TRY_KICK, PlayKind.TRY_RUN, PlayKind.TRY_PASS)


@dataclass(slots=True)
class Mismatch:
    """Where the prediction and the account differ: the snap's row, the row before it, and the two situations."""

    game: Game
    sort: str
    plain: bool
    what: str
    before: Row | None
    row: Row
    step: Step | None
    told: Converted | None
    predicted: str
    official: str


@dataclass(slots=True)
class Report:
    games: int = 0
    snaps: Counter = field(default_factory=Counter)
    wrong: Counter = field(default_factory=Counter)
    plain: Counter = field(default_factory=Counter)
    finals_wrong: list[tuple[Game, tuple[int, int]]] = field(default_factory=list)
    mismatches: list[Mismatch] = field(default_factory=list)
    problems: list[tuple[Game, Row, str]] = field(default_factory=list)
    set_aside: list[tuple[Game, Row, str]] = field(default_factory=list)
    plays: int = 0


@lru_cache
def rulebook_of(season: int) -> Rulebook:
    return load_rulebook("professional", season)


def check_games(games: Iterable[Game]) -> Report:
    report = Report()
    for game in games:
        check_game(game, report)
    return report


def check_game(game: Game, report: Report) -> list[tuple[Row | None, Step]]:
    """Fold a game into *report*; returns the steps, each with its row (None between the plays). Where a situation was
    wrong, the play of the step says the official one by hand."""
    folded: list[tuple[Row | None, Step]] = []
    report.games += 1
    report.set_aside.extend((game, row, reason) for row, reason in game.left_out)
    rulebook = rulebook_of(game.season)
    converter = Converter(game)
    situation = opening(rulebook)
    last: Step | None = None
    last_row: Row | None = None
    sort, plain = "start of the game", True
    told: Converted | None = None
    quarter = 1
    right_so_far = True
    for row in game.rows:
        converted = converter.convert(row)
        if converted is None:
            continue
        play = converted.play
        while quarter < row.quarter and situation.next is not Next.OVER:
            last = fold(rulebook, situation, Play(PlayKind.END_OF_PERIOD))
            folded.append((None, last))
            situation = last.after
            quarter += 1
            sort, plain = f"end of period {quarter - 1}", True
            last_row = None
            if situation.next is Next.COIN_TOSS:
                break
        if play.kind is not PlayKind.TIMEOUT:
            if situation.next is Next.COIN_TOSS:
                toss = Play(PlayKind.COIN_TOSS, team=converter.team(row.team).opponents, choice="receive")
                folded.append((None, fold(rulebook, situation, toss)))
                situation = folded[-1][1].after
                quarter = row.quarter
            report.plays += 1
            key = sort
            report.snaps[key] += 1
            report.plain[plain] += 1
            said, what, predicted, official = _compare(converter, situation, row, play)
            reason = what and _contradiction(converter, last_row, told, last, row, play, what)
            if reason:
                report.set_aside.append((game, row, reason))
                report.snaps[key] -= 1
                report.plain[plain] -= 1
                play = replace(play, override=said)
            elif what:
                right_so_far = right_so_far and "score" not in what
                if "end of period" in key or key == "start of the game":
                    told = None
                report.wrong[key] += 1
                report.mismatches.append(
                    Mismatch(game, sort, plain, what, last_row, row, last, told, predicted, official))
                play = replace(play, override=said)
        last = fold(rulebook, situation, play, last)
        folded.append((row, last))
        if last.problems:
            report.problems.extend((game, row, text) for text in last.problems)
        situation = last.after
        if play.kind is not PlayKind.TIMEOUT:
            sort, plain, last_row, told = converted.sort, converted.plain, row, converted
    if (situation.score_home, situation.score_visitors) != game.final or not right_so_far:
        report.finals_wrong.append((game, (situation.score_home, situation.score_visitors)))
    return folded


def _contradiction(converter: Converter, last_row: Row | None, told: Converted | None, last: Step | None, row: Row,
                   play: Play, what: str) -> str:
    """Why this snap is to be set aside: the two rows contradict each other, whatever the rules say.
    Empty if they do not."""
    if last_row is None or told is None or last is None or not row.ball_on:
        return ""
    scrimmage = row.down > 0
    scored = re.search(r"TOUCHDOWN|SAFETY|is GOOD", last_row.text)
    if told.plain and last_row.down and not scrimmage and not scored and play.kind not in _NO_BALL:
        return f"a row is missing: {_end(last_row)!r} is no score, and {play.kind.value} follows"
    if told.plain and scrimmage and (told.play.kind in _TRIES or (told.play.kind is PlayKind.FIELD_GOAL and scored)):
        return f"a row is missing: no kickoff between {_end(last_row)!r} and the next snap"
    if not scrimmage:
        return ""
    starts_on = converter.spot(row.ball_on, last_row.team)
    if told.ends_on is not None and abs(told.ends_on - starts_on) >= 1:
        by = abs(told.ends_on - starts_on)
        ours = last.after.ball_on if last.after.offense is last.before.offense else 100 - (last.after.ball_on or 0)
        if last.after.ball_on is not None and abs(ours - told.ends_on) < 1:
            return (f"the printed yard line moves by {by:g} between the rows: {_end(last_row)!r}, then "
                    f"{row.team} at {row.ball_on}")
    return ""


def _end(row: Row) -> str:
    return row.text if len(row.text) <= 120 else "... " + row.text[-116:]


def _compare(converter: Converter, now: Situation, row: Row,
             play: Play) -> tuple[SituationOverride | None, str, str, str]:
    """What is wrong before this snap: a hand-set situation that rights it, the names of what differs, both told."""
    offense = converter.team(row.team)
    ball_on = converter.spot(row.ball_on, row.team) if row.ball_on else None
    due = Next.SCRIMMAGE
    if play.kind in _KICKOFFS:
        due = Next.SAFETY_FREE_KICK if play.kind is PlayKind.SAFETY_FREE_KICK else Next.KICKOFF
    elif play.kind in _TRIES:
        due = Next.TRY
    elif row.down == 0:
        due = Next.TRY if ball_on is not None and ball_on >= 85 else Next.KICKOFF
        if now.next is Next.SAFETY_FREE_KICK:
            due = now.next
    expected = now.ball_on
    if due is Next.TRY and now.next is Next.TRY:
        rulebook = rulebook_of(converter.game.season)  # a run or pass may start elsewhere than the usual kick
        kind = PlayKind.TRY_RUN if play.kind is PlayKind.NO_PLAY and ball_on and ball_on >= 90 else play.kind
        expected = try_spot(rulebook, now, PlayKind.TRY_KICK if kind is PlayKind.NO_PLAY else kind)
    wrong = []
    if now.next is not due:
        wrong.append("next")
    if now.offense is not offense:
        wrong.append("offense")
    if ball_on is not None and (expected is None or abs(expected - ball_on) >= 1):
        wrong.append("ball on")
    if due is Next.SCRIMMAGE:
        if now.down != row.down:
            wrong.append("down")
        if now.yards_to_gain is None or abs(now.yards_to_gain - row.to_gain) >= 1:
            wrong.append("yards to gain")
    if row.score is not None and (now.score_home, now.score_visitors) != row.score:
        wrong.append("score")
    if not wrong:
        return None, "", "", ""
    said = SituationOverride(
        next=due, offense=offense, ball_on=ball_on,
        down=row.down or None, yards_to_gain=float(row.to_gain) if row.down else None,
        score_home=row.score[0] if row.score else None, score_visitors=row.score[1] if row.score else None,
    )
    predicted = (f"{now.next} {now.offense} {now.down}&{now.yards_to_gain} on {now.ball_on} "
                 f"{now.score_home}-{now.score_visitors}")
    official = f"{due} {offense} {row.down}&{row.to_gain} on {ball_on} {row.score}"
    return said, ", ".join(wrong), predicted, official

"""What is counted about plays: one row a play, each column declared once in :data:`COLUMNS`.

Facts follow from the tracker's steps and the tags; this module has no rules of football. What each staff may define for
itself (distance groups, field zones, success) is derived from them in :mod:`.definitions`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import pandas as pd

from ..football.counting import thrown_beyond_line
from ..football.field import Team
from ..football.plays import IN_PLAY, EventKind, FoulDecision, Play, PlayKind, Side
from ..football.rulebook import Rulebook
from ..football.situation import Next, Situation
from ..football.speaking import spoken_period
from ..football.step import Step
from ..tagging.layout import FilmedPlay, layout_of
from ..tagging.model import Game, PlayTag
from ..tagging.own_words.following import known_words
from .finder import TWO_MINUTES, FactBook


class Sort(StrEnum):
    """What a column holds, and so how it is stored, grouped and shown."""

    WORDS = "words"             # one of few words; empty where there is none
    TEXT = "text"               # free text, to be searched
    WHOLE = "whole number"      # may be missing
    NUMBER = "number"           # may be missing
    YES_NO = "yes or no"


@dataclass(frozen=True)
class Counted:
    """A play with all that its facts follow from. ``step`` is as a measurement or a replay reversal left it."""

    game: Game
    rulebook: Rulebook
    tag: PlayTag
    number: int
    step: Step
    filmed: FilmedPlay | None
    text: str

    @property
    def play(self) -> Play:
        """The play as it stands."""
        return self.step.play

    @property
    def before(self) -> Situation:
        """The situation that the play met."""
        return self.step.before

    @property
    def is_scrimmage(self) -> bool:
        """Whether the play is a down from scrimmage."""
        return self.before.next is Next.SCRIMMAGE and self.play.kind in (*IN_PLAY, PlayKind.NO_PLAY)

    def points(self, team: Team | None) -> int:
        """The points that the play gave a team."""
        return 0 if team is None else self.step.points_home if team is Team.HOME else self.step.points_visitors


@dataclass(frozen=True)
class Column:
    """A fact. ``meaning`` is for a person who chooses it; ``unit`` is empty for words; ``follows`` says from what it is
    derived; ``source`` what defines it, if anything is published. ``groups``: worth choosing as rows or columns."""

    name: str
    sort: Sort
    meaning: str
    follows: str
    value: Callable[[Counted], Any]
    unit: str = ""
    source: str = ""
    groups: bool = True


RUN, PASS, KICK = "run", "pass", "kick"
_RUNS = (PlayKind.RUN, PlayKind.KNEEL)
_PASSES = (PlayKind.PASS, PlayKind.SACK, PlayKind.SPIKE)
_KICKS = (PlayKind.PUNT, PlayKind.FIELD_GOAL, PlayKind.KICKOFF, PlayKind.SAFETY_FREE_KICK, PlayKind.TRY_KICK)


def _run_pass_kick(one: Counted) -> str:
    kind = one.play.kind
    if not one.step.stands or one.before.next is Next.TRY:
        return ""
    if thrown_beyond_line(one.before, one.play, one.step.dead_ball_on):
        return RUN
    return RUN if kind in _RUNS else PASS if kind in _PASSES else KICK if kind in _KICKS else ""


def _foul_sides(one: Counted) -> set[Side]:
    return {foul.by for foul in one.play.fouls if foul.decision is not FoulDecision.DECLINED}


def _penalty_on(one: Counted) -> str:
    sides = _foul_sides(one)
    return "both" if len(sides) == 2 else str(next(iter(sides), ""))


def _half(one: Counted) -> str:
    period, periods = one.before.period, one.rulebook.periods
    if period > periods:
        return "extra period"
    return "1st half" if period * 2 <= periods else "2nd half"


def _last_two_minutes(one: Counted) -> bool:
    before, periods = one.before, one.rulebook.periods
    return before.clock is not None and before.clock <= TWO_MINUTES and before.period in (periods // 2, periods)


def _score_difference(one: Counted) -> int | None:
    before = one.before
    if before.offense is None:
        return None
    return before.score(before.offense) - before.score(before.offense.opponents)


def _is_touchdown(one: Counted) -> bool:
    """Whether the team that snapped scored a touchdown."""
    return one.step.stands and one.points(one.before.offense) == one.rulebook.touchdown_points \
        and one.step.after.next is Next.TRY


def _is_turnover(one: Counted) -> bool:
    return one.step.possession_changed and one.is_scrimmage and one.play.kind not in _KICKS


COLUMNS: tuple[Column, ...] = (
    # -- which play
    Column("play", Sort.WHOLE, "the play's id in its game file", "the tag", lambda one: one.tag.id, groups=False),
    Column("number", Sort.WHOLE, "the play's place in its game, from 1", "the order of the tags",
           lambda one: one.number, groups=False),
    Column("date", Sort.WORDS, "when the game was played, ISO 8601", "the heading", lambda one: one.game.heading.date),
    Column("home", Sort.WORDS, "the home team", "the heading", lambda one: one.game.heading.home),
    Column("visitors", Sort.WORDS, "the visiting team", "the heading", lambda one: one.game.heading.visitors),
    Column("venue", Sort.WORDS, "where the game was played", "the heading", lambda one: one.game.heading.venue),
    Column("crew", Sort.WORDS, "who filmed the game", "the heading", lambda one: one.game.heading.crew),
    Column("rulebook", Sort.WORDS, "the rules that the game was played by", "the heading",
           lambda one: one.game.heading.rulebook),
    # -- the situation
    Column("offense", Sort.WORDS, "the team that snaps or kicks", "the situation before",
           lambda one: one.game.heading.name_of(one.before.offense)),
    Column("defense", Sort.WORDS, "the other team", "the situation before",
           lambda one: one.game.heading.name_of(one.before.offense and one.before.offense.opponents)),
    Column("next", Sort.WORDS, "what had to come: scrimmage, kickoff, try, ...", "the situation before",
           lambda one: str(one.before.next)),
    Column("down", Sort.WHOLE, "the down", "the situation before", lambda one: one.before.down),
    Column("yards_to_gain", Sort.NUMBER, "how far it is to the line to gain, or to the goal line",
           "the situation before", lambda one: one.before.yards_to_gain, "yards", groups=False),
    Column("goal_to_go", Sort.YES_NO, "the line to gain is the goal line", "the situation before",
           lambda one: one.before.goal_to_go),
    Column("ball_on", Sort.NUMBER, "where the ball is snapped or kicked, from the own goal line of the offense",
           "the situation before", lambda one: one.before.ball_on, "yards", groups=False),
    Column("field_length", Sort.NUMBER, "the field from goal line to goal line", "the rulebook",
           lambda one: one.rulebook.field_length, "yards", groups=False),
    Column("period", Sort.WHOLE, "the period, from 1", "the situation before", lambda one: one.before.period,
           groups=False),
    Column("quarter", Sort.WORDS, "the period as it is spoken", "the situation before",
           lambda one: spoken_period(one.before.period, one.rulebook.periods)),
    Column("half", Sort.WORDS, "the half", "the situation before and the rulebook", _half),
    Column("clock", Sort.WHOLE, "time left in the period", "what was said", lambda one: one.before.clock, "seconds",
           groups=False),
    Column("last_two_minutes", Sort.YES_NO, "in the last two minutes of a half", "clock and period", _last_two_minutes),
    Column("score_difference", Sort.WHOLE, "points by which the offense leads", "the situation before",
           _score_difference, "points", groups=False),
    Column("series", Sort.WHOLE, "the series, from 1 over the game", "the situation before",
           lambda one: one.before.series, groups=False),
    Column("drive", Sort.WHOLE, "the drive, from 1 over the game", "the situation before",
           lambda one: one.before.drive, groups=False),
    # -- what was done
    Column("kind", Sort.WORDS, "the kind of play", "the tag", lambda one: str(one.play.kind)),
    Column("run_pass_kick", Sort.WORDS, "run, pass or kick; empty for what does not count, tries and events",
           "kind and whether the play stands: a kneel is a run, a sack and a spike are passes", _run_pass_kick),
    Column("clock_play", Sort.YES_NO, "a kneel or a spike: it tells nothing of what is called", "kind",
           lambda one: one.play.kind in (PlayKind.KNEEL, PlayKind.SPIKE)),
    Column("bad_snap", Sort.YES_NO, "the snap was not held", "the tag: a muff before anything else",
           lambda one: one.is_scrimmage and bool(one.play.events) and one.play.events[0].kind is EventKind.MUFF
           and one.play.kind in _RUNS + _PASSES),
    Column("manner", Sort.WORDS, "how it was made: draw, screen, onside, ...", "the tag", lambda one: one.play.manner),
    Column("outcome", Sort.WORDS, "what the pass, kick or try came to", "the tag",
           lambda one: str(one.play.outcome or "")),
    # -- what it came to
    Column("stands", Sort.YES_NO, "it was played and no penalty took it away", "enforcement",
           lambda one: one.step.stands and one.play.kind in IN_PLAY,
           source="statisticians' manuals, from memory"),
    Column("gain", Sort.NUMBER, "what a run or pass from scrimmage gained", "the step: up to where the ball was lost "
           "or the own foul beyond the line; 0 for a pass not completed", lambda one: one.step.gain, "yards",
           "statisticians' manuals, from memory", groups=False),
    Column("result", Sort.WORDS, "what a coach says it came to", "the step", lambda one: one.step.result),
    Column("down_repeated", Sort.YES_NO, "the same down is played again", "the step",
           lambda one: one.step.down_repeated),
    Column("first_down", Sort.YES_NO, "it made a first down", "the step", lambda one: one.step.first_down),
    Column("touchdown", Sort.YES_NO, "the offense scored a touchdown", "the step and the rulebook", _is_touchdown),
    Column("points", Sort.WHOLE, "points for the team that snapped or kicked", "the step",
           lambda one: one.points(one.before.offense), "points", groups=False),
    Column("points_against", Sort.WHOLE, "points for the other team", "the step",
           lambda one: one.points(one.before.offense and one.before.offense.opponents), "points",
           groups=False),
    Column("turnover", Sort.YES_NO, "the offense lost the ball, on downs too", "the step", _is_turnover),
    Column("penalty", Sort.WORDS, "the fouls that were not declined", "the tag",
           lambda one: ", ".join(foul.name for foul in one.play.fouls
                                 if foul.decision is not FoulDecision.DECLINED)),
    Column("penalty_on", Sort.WORDS, "whose fouls: offense, defense or both", "the tag", _penalty_on),
    Column("certainty", Sort.WORDS, "how sure the tracker is of the step", "the step",
           lambda one: str(one.step.certainty)),
    # -- the film
    Column("filmed", Sort.YES_NO, "the play is on film", "the tag", lambda one: one.filmed is not None),
    Column("seconds", Sort.NUMBER, "from the snap to the dead ball, as far as they are marked", "the layout",
           lambda one: None if one.filmed is None else round(one.filmed.action[1] - one.filmed.action[0], 3),
           "seconds", groups=False),
    Column("said", Sort.TEXT, "all that was said about the play, case folded, for searching", "the finder's text",
           lambda one: one.text, groups=False),
)

OWN_WORD = "word "
"""The prefix of columns of own words, so that their names clash with no other."""


def as_it_stands(steps: Sequence[Step], place: int) -> Step:
    """The step at *place* as a measurement or a replay reversal right after it left it."""
    standing = steps[place]
    if standing.play.kind not in IN_PLAY:
        return standing
    for step in steps[place + 1:]:
        if step.play.kind in IN_PLAY or step.play.kind is PlayKind.NO_PLAY:
            break
        if step.play.kind in (PlayKind.MEASUREMENT, PlayKind.REPLAY_REVERSAL) and step.about is not None:
            standing = step.about
    return standing


def rows_of(game: Game, steps: Sequence[Step], rulebook: Rulebook) -> list[dict[str, Any]]:
    """A row of facts for every play that the finder knows, in game order; the staff's own words, said, carried on and
    following, are further columns."""
    known = {facts.play: facts.text for facts in FactBook().of(game, steps)}
    filmed = layout_of(game).plays
    rows = []
    for place, (tag, words) in enumerate(zip(game.plays, known_words(game, steps), strict=True)):
        if tag.id in known:
            one = Counted(game, rulebook, tag, place + 1, as_it_stands(steps, place), filmed.get(tag.id), known[tag.id])
            row = {column.name: column.value(one) for column in COLUMNS}
            row.update({OWN_WORD + name: said.text for name, said in words.items()})
            rows.append(row)
    return rows


_DTYPES = {Sort.WORDS: "str", Sort.TEXT: "str", Sort.WHOLE: "Int64", Sort.NUMBER: "float64", Sort.YES_NO: "bool"}


def frame_of(rows: Sequence[Mapping[str, Any]]) -> pd.DataFrame:
    """The rows as a table, each column in its own type; own words are words."""
    names = [column.name for column in COLUMNS]
    others = dict.fromkeys(name for row in rows for name in row if name.startswith(OWN_WORD))
    frame = pd.DataFrame(list(rows), columns=[*names, *others])
    for column in COLUMNS:
        frame[column.name] = frame[column.name].astype(_DTYPES[column.sort])
    for name in others:
        frame[name] = frame[name].fillna("").astype("str")
    return frame

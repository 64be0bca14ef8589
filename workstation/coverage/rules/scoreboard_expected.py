"""The board after scores and at the end of each quarter."""

from __future__ import annotations

from collections.abc import Iterator

from ...football.plays import IN_PLAY, PlayKind
from ...football.situation import Next
from ...football.speaking import spoken_period
from ...tagging.model import Shows
from ..footage import Between, Snap
from ..rule import Judged, Rule
from ..screening import Screening
from ..speaking import spoken_score
from ..watching import readable_board

_LATE = 3       # last plays of the game, of which one needs a tagged clock


class ScoreboardExpected(Rule):
    """``within_snaps``: after a score the board is shown before so many more plays have been
    filmed (the try belongs to its touchdown; boards are often a little late)."""

    title = "Scoreboard expected"
    label = "scoreboard"
    reason = ("Score and time are what a viewer asks for first and a wide picture does not tell. Show the board after "
              "a score, once it has been put up, and at the end of each quarter.")

    within_snaps: int
    after_quarters: bool

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding or a delivery for each time the scoreboard is due."""
        ends = set()
        if self.after_quarters:
            for before, between, after in screening.gaps:
                if before and after and after.step.before.period > before.step.before.period:
                    ends.add(before.position)
                    if between.known:
                        yield self._quarter(screening, before, between, after)
        yield from self._scores(screening, ends)
        yield from self._late(screening)

    def _late(self, screening: Screening) -> Iterator[Judged]:
        """Late in a close game a viewer wants the clock, which cannot be judged if no last play has a tagged one."""
        periods = screening.rulebook.periods
        last = [snap for snap in screening.footage.filmed if snap.step.before.period == periods][-_LATE:]
        if last and all(screening.may_be_late(snap) for snap in last):
            yield self.not_judged("clock", period=periods)

    def _quarter(self, screening: Screening, before: Snap, between: Between, after: Snap) -> Judged:
        period, takes = before.step.before.period, between.takes
        board = next((take for take in (before.take, *takes, after.take) if (take.shows_score or take.shows_clock)
                      and readable_board(take, screening.assume)), None)
        if board:
            return self.delivered(period=period, shot=board.shot.id)
        ended = next((position for position in between.tags
                      if screening.step(position).play.kind is PlayKind.END_OF_PERIOD), None)
        return self.finding(
            screening, f"before play {after.tag.id}" if ended is None else f"play {screening.play_id(ended)}",
            takes[0].shot.start if takes else after.take.shot.start,
            title=f"Scoreboard expected at the end of the {spoken_period(period, screening.rulebook.periods)}",
            why="A quarter has ended, and nothing on film says so, nor what the score is. The board, still showing "
                "0:00, tells both in three seconds.",
            habit="Show the scoreboard at the end of each quarter.",
            evidence=("No shot of the board between the last play of the quarter and the first of the next.",),
            play=after.tag.id, period=period, strength=0.6)

    def _scores(self, screening: Screening, quarter_ends: set[int]) -> Iterator[Judged]:
        scored: int | None = None
        for position, step in enumerate(screening.footage.steps):
            if step.play.kind not in IN_PLAY:
                continue
            if (step.points_home or step.points_visitors) and step.before.next is not Next.TRY:
                scored = position
            if scored is None or screening.next_situation(position).next is Next.TRY:
                continue
            yield from self._score(screening, scored, position, quarter_ends)
            scored = None

    def _score(self, screening: Screening, scored: int, last: int, quarter_ends: set[int]) -> Iterator[Judged]:
        """Look for the board from the score (its try, at *last*, included) until enough more plays have been filmed."""
        footage = screening.footage
        filmed = footage.filmed
        start = next((index for index, snap in enumerate(filmed) if snap.position > last), None)
        if start is None:
            return                          # the end of the film is judged by the final scoreboard's rule
        until = start + self.within_snaps - 1
        if until >= len(filmed) and not footage.complete:
            return
        window = filmed[start:until + 1]
        previous = [filmed[start - 1], *window[:-1]] if start else [None, *window[:-1]]
        if any(before and before.position in quarter_ends for before in previous) or (
                until >= len(filmed) and not _periods_left(screening, window)):
            return                          # the quarter's board tells this score too
        takes = [take for snap in window for take in snap.between.takes] + [snap.take for snap in window]
        scoring = [snap for snap in filmed if scored <= snap.position <= last]
        takes += [take for snap in scoring[1:] for take in snap.between.takes]
        shown = any(take.shows_score and readable_board(take, screening.assume) for take in takes) or any(
            Shows.SCORE in snap.take.shot.shows for snap in scoring)    # the camera pans to it as the shot ends
        score = screening.next_situation(last)
        scorer = screening.step(scored)
        period = scorer.before.period
        if shown:
            yield self.delivered(period=period, play=screening.play_id(last))
        elif all(snap.between.known for snap in window):
            first = window[0].between.takes[0] if window[0].between.takes else window[0].take
            how = "touchdown" if scorer.after.next is Next.TRY else (
                "field goal" if scorer.play.kind is PlayKind.FIELD_GOAL else "score")
            yield self.finding(
                screening, f"play {screening.play_id(scored)}", first.shot.start,
                title=f"Scoreboard expected after the {how}",
                why=f"The {how}{'' if last == scored else ' and its try'} made it "
                    f"{spoken_score(score, footage.game.heading)}, and no shot of the board shows that score. A "
                    "viewer who missed one score will have all later ones wrong.",
                habit="After a score show the board as soon as it has been put up.",
                evidence=(f"No shot of the board before the next {self.within_snaps} plays.",
                          (f"By then about {screening.beliefs[start + len(window) - 1].knows_score:.0%} of the viewers "
                          "still have the score right.")),
                play=screening.play_id(last), period=period, strength=0.6)


def _periods_left(screening: Screening, window: list[Snap]) -> bool:
    return bool(window) and screening.footage.filmed[-1] is not window[-1]

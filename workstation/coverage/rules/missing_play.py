"""Something happened between two filmed plays, and the film does not show it."""

from __future__ import annotations

from collections.abc import Iterator

from ...football.plays import IN_PLAY
from ..continuity import Break, jump
from ..finding import Finding, Severity
from ..footage import Between, Snap, place_of
from ..rule import Rule
from ..screening import Screening
from ..speaking import spoken_play, spoken_play_and_situation


class MissingPlay(Rule):
    """A play of the game is not on film."""

    title = "Missing play"
    label = "missing play"
    reason = ("A play that is not on film cannot be graded, and a viewer who does not know that it is missing counts "
              "on wrongly from there. The whole game belongs on film, every snap of it.")
    habit = "Film every snap; be back on the ball before the teams line up."

    def judge(self, screening: Screening) -> Iterator[Finding]:
        """Yield a finding for each tagged play without film, and for each gap that must hide one."""
        for before, between, after in screening.gaps:
            if not between.known:
                continue
            positions = [*([before.position] if before else []), *between.tags]
            named = False
            for position in between.tags:
                if screening.step(position).play.kind in IN_PLAY:
                    named = True
                    yield self._not_filmed(screening, position, before, between, after)
            if named:
                continue
            following = positions[1:] + ([after.position] if after else [])
            for position, next_position in zip(positions, following, strict=False):
                leap = jump(screening.step(position), screening.step(next_position), screening.assume.spot_tolerance)
                if leap:
                    yield self._leap(screening, position, next_position, leap, before, between, after)
                    break

    def _not_filmed(self, screening: Screening, position: int, before: Snap | None, between: Between,
                    after: Snap | None) -> Finding:
        step = screening.step(position)
        return self.finding(
            screening, f"play {screening.play_id(position)}", place_of(before, between, after), severity=Severity.ERROR,
            title=f"Missing play: {spoken_play_and_situation(step, screening.rulebook)}",
            why=f"The {spoken_play(step.play)} is not on film. Look at the field before you look at the camera's "
                "screen, and be wide before they line up; when one got away, show the marker before the next.",
            evidence=(f"Tagged as not filmed. It came to: {step.result}.",), strength=0.9, **screening.where(position))

    def _leap(self, screening: Screening, position: int, following: int, leap: Break, before: Snap | None,
              between: Between, after: Snap | None) -> Finding:
        was, now = screening.step(position), screening.step(following)
        if leap.score:
            guess = "A score is missing from the film"
        elif leap.possession and was.after.down == screening.rulebook.downs:
            guess = "The last down is missing from the film, most likely a kick"
        elif leap.possession:
            guess = "At least one play is missing from the film, one that turned the ball over"
        else:
            guess = "At least one play is missing from the film"
        return self.finding(
            screening, f"before play {screening.play_id(following)}", place_of(before, between, after),
            severity=Severity.ERROR, title=f"Missing play before {screening.spoken(now.before)}",
            why=f"{guess}: {leap.what}. If everything is on film, the tag of the play before or the situation set by "
                "hand is off; one of the two is worth a second look.",
            evidence=(f"After the {spoken_play(was.play)} the tracker expects {screening.spoken(was.after)}.",
                      f"The next play is tagged at {screening.spoken(now.before)}."),
            strength=0.8, **screening.where(following))

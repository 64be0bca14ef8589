"""A look at the down marker where a viewer would be unsure of the down."""

from __future__ import annotations

from collections.abc import Iterator

from ...football.plays import Outcome, PlayKind
from ...football.speaking import ordinal
from ...tagging.model import ShotKind
from ..finding import Belief, Cause, Finding
from ..footage import Snap
from ..rule import Judged, Rule
from ..screening import Screening
from ..speaking import spoken_play, spoken_seconds
from ..watching import readable_down

_CAUSES = {
    Cause.PENALTY: (
        "After the flag, was the down played again, did it count, or did it bring a first down? From the film it could "
        "be any of these, and it is now {now}.",
        "After a penalty, film the down marker once the ball is spotted."),
    Cause.NEAR_LINE_TO_GAIN: (
        "The ball ended up so close to the line to gain that nobody watching {play} could tell for certain whether it "
        "was enough.",
        "When the ball ends close to the line to gain, film the down marker before the next snap."),
    Cause.MEASUREMENT: (
        "The chains came out. Right after the ruling is the moment when everybody wants to see the marker.",
        "After a measurement that comes up short, go straight to the down marker."),
    Cause.BREAK: (
        "A period ended in the middle of the series. The teams have changed ends, and with them every mark that a "
        "viewer had.",
        "When a period ends in the middle of a series, film the down marker before the next snap."),
    Cause.STOPPAGE: (
        "So much film without football lies between the two plays that a viewer comes back without the down in mind.",
        "Cut long breaks out of the film; where one stays, film the down marker after it."),
    Cause.MISSING_PLAY: (
        "The film does not show everything since the play before, so a viewer cannot count on from what was seen.",
        "When a play got away from you, film the down marker before the next one."),
    Cause.FOURTH_DOWN: (
        "It is the last down, a kick was to be expected, and they line up to run or pass: many will doubt their count.",
        "When they go for it on the last down, show the marker."),
    Cause.FADING: (
        "One small doubt after another has added up since the down was last clear.",
        "When in doubt whether everybody knows the down, show the marker."),
}
"""Why a viewer is unsure, by what shook the viewer, and the habit that helps."""


class MarkerShotExpected(Rule):
    """``after_short_measurement``: the marker follows the ruling, however well its result was seen."""

    title = "Marker shot expected"
    label = "down marker"
    reason = ("A viewer who does not know the down cannot judge the play that follows. One look at the down marker, "
              "two or three seconds long, settles it. It belongs where the down does not follow from what was seen: "
              "after a penalty, close to the line to gain, after a measurement that came up short, after a break, "
              "after a play that is not on film.")

    after_short_measurement: bool

    def judge(self, screening: Screening) -> Iterator[Judged]:
        """Yield a finding or a delivery for each play whose down a viewer cannot be sure of."""
        filmed, unsure_below = screening.footage.filmed, screening.assume.unsure_below
        for index, (snap, belief) in enumerate(zip(filmed, screening.beliefs, strict=True)):
            if belief.down is None or not belief.known:
                continue
            short = self.after_short_measurement and any(
                came_up_short(screening, position) for position in snap.between.tags)
            if belief.helped:
                if short or belief.unaided < unsure_below:
                    yield self.delivered(period=belief.period, play=belief.play)
            elif short or belief.served < unsure_below:
                yield self._finding(screening, snap, belief,
                                    Cause.MEASUREMENT if short else belief.cause or Cause.FADING,
                                    filmed[index - 1] if index else None, index)

    def _finding(self, screening: Screening, snap: Snap, belief: Belief, cause: Cause, previous: Snap | None,
                 index: int) -> Finding:
        before = snap.step.before
        guess = max(range(4), key=lambda down: belief.probabilities[down]) + 1
        many = "Most" if belief.probabilities[guess - 1] > 0.5 else "Many"
        lost = 0
        for later in screening.beliefs[index:]:
            if later.sure >= screening.assume.unsure_below or later.helped or not later.known:
                break
            lost += later.down is not None
        evidence = (
            "A viewer's idea of the down: " + ", ".join(
                f"{ordinal(down + 1)} {share:.0%}" for down, share in enumerate(belief.probabilities) if share >= 0.03),
            f"In truth it is {screening.spoken(before)}.",
            "No marker, scoreboard with the down or announcement on film since the play before.",
            *(f"The marker is on film for {spoken_seconds(take.seconds)}, too short to be read."
              for take in snap.between.takes if take.shot.kind is ShotKind.DOWN_MARKER
              and not readable_down(take, screening.assume)),
            f"Without it the viewer stays unsure for {lost} snaps." if lost > 1 else "",
        )
        why, habit = _CAUSES[cause]
        if cause is Cause.MEASUREMENT and before.down != 1:
            why += " The ball was short, so the series goes on."
        if cause is Cause.MISSING_PLAY and previous is None:
            why = "The film begins in the middle of a series, so a viewer has nothing to count from."
        play = f"the {spoken_play(previous.tag.play)}" if previous else "the first shot"
        return self.finding(
            screening, f"play {snap.tag.id}", snap.starts,
            title=f"Marker shot expected before {screening.spoken(before)}",
            why=f"{why.format(play=play, now=screening.spoken(before))} "
                + (f"{many} viewers would take it for {ordinal(guess)} down. " if guess != before.down else "")
                + "A short look at the down marker before this snap would have settled it.",
            habit=habit, evidence=evidence, strength=max(1 - belief.served, 0.3), cause=cause, **snap.where)


def came_up_short(screening: Screening, position: int) -> bool:
    """Whether the play at this position is a measurement that came up short."""
    play = screening.step(position).play
    return play.kind is PlayKind.MEASUREMENT and play.outcome is Outcome.SHORT

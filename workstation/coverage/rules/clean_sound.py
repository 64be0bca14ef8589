"""The sound is clean: not cut off, no wind, no talk at the microphone, not silent."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from ..camera_rule import CameraRule, Trouble
from ..camera_work import CameraWork
from ..footage import Snap, Take
from ..screening import Screening

if TYPE_CHECKING:
    from ...film.camera_work.passage import Passage


class CleanSound(CameraRule):
    """``clipped``: share of samples at full scale. ``wind``: decibels of the lowest sounds over all others.
    ``silence``: decibels below full scale. ``voice``: decibels of speech over its usual level. Each for ``least``
    seconds, wind and silence for ``longer``."""

    title = "Clean sound"
    label = "clean sound"
    reason = ("Whistles and cadence are heard, and tell when a play begins and ends. Wind and clipping hide them, "
              "and talk at the camera is heard by everybody who is sent the film.")

    fault = "The sound is spoilt"
    why = ("What should be heard, the whistle above all, is covered or missing; and talk beside the camera goes to "
           "every coach and player who gets the film.")
    habit = ("Set the level by hand with room for the band and the crowd, put a windscreen on the microphone, keep "
             "it away from people who talk, and agree on quiet beside the camera.")

    clipped: float
    wind: float
    silence: float
    voice: float
    least: float
    longer: float

    def fault_of(self, passage: Passage) -> float | None:
        """What is cut off, then wind and talk."""
        return (passage.clipping.worst() or 0.0) * 100 + max(passage.wind.worst() or 0.0, 0.0) + (
            passage.near_voices.worst() or 0.0) if passage.has_sound else None

    def troubles(self, screening: Screening, work: CameraWork, take: Take, passage: Passage,
                 snap: Snap | None) -> Iterable[Trouble] | None:
        """Each stretch of bad sound; None where the film has none."""
        return self._troubles(passage) if passage.has_sound else None

    def _troubles(self, passage: Passage) -> Iterator[Trouble]:
        for stretch in passage.clipping.above(self.clipped, self.least, gap=0.5):
            yield Trouble.of(stretch, self.clipped, f"Up to {stretch.worst:.1%} of the sound is cut off (up to "
                                                    f"{self.clipped:.1%} pass)", "The sound is cut off")
        for stretch in passage.wind.above(self.wind, self.longer, gap=1.0):
            yield Trouble.of(stretch, self.wind, f"The lowest sounds stand {stretch.worst:.0f} dB above all others "
                                                 f"(up to {self.wind:g} dB pass)", "Wind in the microphone")
        for stretch in passage.quiet.above(self.silence, self.longer, gap=0.5):
            yield Trouble.of(stretch, self.silence, f"Silence: {stretch.worst:.0f} dB below full scale",
                             "No sound")
        for stretch in passage.near_voices.above(self.voice, self.least, gap=1.0):
            yield Trouble.of(stretch, self.voice, f"Speech stands {stretch.worst:.0f} dB above its usual level (up to "
                                                  f"{self.voice:g} dB pass)", "Talk at the microphone")

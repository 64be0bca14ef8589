"""The sound is clean: not cut off, no wind, no talk at the microphone, not silent."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain

from ..camera_rule import CameraRule, MeasuredShot, Trouble, exceeding


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

    def fault_of(self, shot: MeasuredShot) -> float | None:
        """What is cut off, then wind and talk."""
        heard = shot.passage
        return (heard.clipping.worst() or 0.0) * 100 + max(heard.wind.worst() or 0.0, 0.0) + (
            heard.near_voices.worst() or 0.0) if heard.has_sound else None

    def troubles(self, shot: MeasuredShot) -> Iterable[Trouble] | None:
        """Each stretch of bad sound; None where the film has none."""
        heard = shot.passage
        return chain(
            exceeding(heard.clipping, self.clipped, self.least, 0.5,
                      "Up to {:.1%} of the sound is cut off (up to {:.1%} pass)", "The sound is cut off"),
            exceeding(heard.wind, self.wind, self.longer, 1.0, "The lowest sounds stand {:.0f} dB above all others (up "
                      "to {:g} dB pass)", "Wind in the microphone"),
            exceeding(heard.quiet, self.silence, self.longer, 0.5, "Silence: {:.0f} dB below full scale", "No sound"),
            exceeding(heard.near_voices, self.voice, self.least, 1.0,
                      "Speech stands {:.0f} dB above its usual level (up to {:g} dB pass)", "Talk at the microphone"),
        ) if heard.has_sound else None

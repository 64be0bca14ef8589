"""Playing a film on whatever player the machine has."""

from .facade import Playback, best_engine

__all__ = ["Playback", "best_engine"]

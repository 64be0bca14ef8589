"""Playing a film on whatever player the machine has."""

from .engines import best_engine
from .facade import Playback

__all__ = ["Playback", "best_engine"]

"""The work of the camera, measured: steadiness, movement, level, focus, exposure, action, lens, sound.

Knows nothing of football: where a shot begins and ends and what it shows is said from outside.
"""

from .passage import Passage
from .record import Record, cached_record, measure
from .series import Series, Stretch

__all__ = ["Passage", "Record", "Series", "Stretch", "cached_record", "measure"]

"""The lanes of the timeline, from top to bottom. A new lane is one module beside these, and its line here."""

from .camera_work import CameraWorkLane
from .certainty import CertaintyLane
from .findings import FindingsLane
from .lane import Basis, Lane
from .notes import NotesLane
from .plays import PlaysLane
from .remarks import RemarksLane
from .shots import ShotsLane
from .sound import SoundLane

LANES: tuple[type[Lane], ...] = (ShotsLane, PlaysLane, FindingsLane, CameraWorkLane, CertaintyLane, SoundLane,
                                 RemarksLane, NotesLane)

__all__ = ["LANES", "Basis", "CameraWorkLane", "FindingsLane", "Lane", "NotesLane", "PlaysLane", "RemarksLane",
           "ShotsLane", "SoundLane"]

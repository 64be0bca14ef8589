"""A play as it is spoken, typed on one line: reading it, and writing it back.

The line is plain English: ``run 6``, ``pass 12 touchdown``, ``punt 22 28``, ``incomplete``. Every word
may be cut short to any beginning that is still understood (``r6``, ``p12t``, ``pu22 28``, ``i``), and
what the situation already says need not be said (a kickoff is ``5 25``, a good try is ``g``).
No Qt in here.
"""

from .reader import Chip, Entry, Option, Problem, read
from .words import learn
from .writer import shortest, write

__all__ = ["Chip", "Entry", "Option", "Problem", "learn", "read", "shortest", "write"]

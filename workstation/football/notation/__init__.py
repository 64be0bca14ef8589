"""A play as it is spoken, typed on one line: reading it, and writing it back.

The line is plain English: ``run 6``, ``pass 12 touchdown``, ``punt 45 yards returned 12``, ``holding on the offense``.
``resources/notation.md`` has the grammar and every word; short forms (``r6``, ``p12t``, ``pu22 28``) make it fast.
What the situation already says need not be said (a kickoff is ``5 25``, a good try is ``g``).

:func:`read` has three answers and no fourth: certain, read as (with every reading in full words), not understood.
No Qt in here.
"""

from ..field import Team
from ..rulebook import Rulebook
from ..situation import Next, Situation
from .custom import Custom, Habit
from .draft import Chip
from .lexicon import lexicon
from .offers import Option
from .reader import Answer, Entry, Problem, Reading, read
from .writer import CannotWrite, shortest, spell, write

__all__ = ["Answer", "CannotWrite", "Chip", "Custom", "Entry", "Habit", "Option", "Problem", "Reading", "learn",
    "read", "shortest", "spell", "write"]


def learn(rulebook: Rulebook) -> None:
    """Make the words and patterns ready under a rulebook, which else happens when the first lines are read. In any
    thread; kept."""
    lexicon(rulebook)
    before = Situation(Next.SCRIMMAGE, Team.HOME, down=4, yards_to_gain=8, ball_on=40)
    for line in ("run for 12 yards", "incomplete", "pass 12, holding on the offense", "punt of 40 yards, fair catch"):
        read(line, before, rulebook)

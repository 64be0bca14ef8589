"""How the staff speaks, as it is set in the desk: what the notation is told of it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSettings

from ..football.field import Team
from ..football.notation import Custom, Habit
from ..tagging.model import Heading

_HABIT = "tag/bare_numbers"


def habit_of(settings: QSettings) -> Habit:
    """What a bare number after a kick or a return is read as first."""
    kept = settings.value(_HABIT, "")
    return Habit(str(kept)) if kept in list(Habit) else Habit.YARD_LINES


def set_habit(settings: QSettings, habit: Habit) -> None:
    """Read bare numbers as *habit* from now on."""
    settings.setValue(_HABIT, habit.value)


def custom_of(settings: QSettings, heading: Heading) -> Custom:
    """What a staff is used to say of this game."""
    us = str(settings.value("sequence/us", ""))
    return Custom(habit_of(settings), heading.home, heading.visitors,
                  {heading.home: Team.HOME, heading.visitors: Team.VISITORS}.get(us))


def first_few(names: Sequence[str], most: int, between: str = ", ") -> str:
    """The first of *names*, *most* of them at the most, and how many more there are."""
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return f"{between.join(names[:most])}{more}"

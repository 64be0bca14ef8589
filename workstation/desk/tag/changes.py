"""What a change to one play, an undo too, did to the plays that follow it, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ...football.situation import Step
from ...football.speaking import spoken_situation
from ...tagging.model import Heading


def changed_rows(before: Mapping[int, Step], now: Mapping[int, Step]) -> list[int]:
    """The rows of plays whose situation is another than it was; both are steps by play id, in game order."""
    return [row for row, (id, step) in enumerate(now.items()) if id in before and before[id].before != step.before]


def spoken_changes(before: Mapping[int, Step], now: Mapping[int, Step], heading: Heading, length: float) -> str:
    """One line on what became of the plays, or nothing if nothing did. ``length`` is the field's, in yards."""
    rows = changed_rows(before, now)
    said = [row for row, (id, step) in enumerate(now.items()) if id in before and before[id].play != step.play]
    if not rows and not said:
        return ""
    ids: Sequence[int] = list(now)
    text = f"play {said[0] + 1} changed; " if said else ""
    if rows:
        was, is_now = before[ids[rows[0]]].before, now[ids[rows[0]]].before
        text += (f"the situation before {len(rows)} later {'play' if len(rows) == 1 else 'plays'} is another now. "
                 f"Play {rows[0] + 1}: {spoken_situation(was, length)} → {spoken_situation(is_now, length)}.")
        old, new = list(before.values())[-1].after, list(now.values())[-1].after
        if (old.score_home, old.score_visitors) != (new.score_home, new.score_visitors):
            text += f" Score at the end: {heading.visitors} {new.score_visitors}, {heading.home} {new.score_home}."
    else:
        text += "nothing after it did."
    worse = next((row for row in rows if now[ids[row]].problems and not before[ids[row]].problems), None)
    if worse is not None:
        text += f" ! Play {worse + 1} cannot be right now: {now[ids[worse]].problems[0]}."
    return text[0].upper() + text[1:]

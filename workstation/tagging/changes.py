"""What a change to one play, an undo too, did to the plays that follow it, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from ..football.situation import Situation
from ..football.speaking import spoken_situation
from ..football.step import Step
from .model import Heading


def changed_rows(before: Mapping[int, Step], now: Mapping[int, Step]) -> list[int]:
    """The rows of plays whose situation or result changed. *before* and *now*: steps by play id, in game order."""
    return [row for row, was, step in _worked_out_anew(before, now) if _shown(was.before) != _shown(step.before)
            or (was.play == step.play and was.result != step.result)]


def rows_with_other_findings(before: Mapping[int, frozenset[str]], now: Mapping[int, frozenset[str]],
                             plays: Sequence[int]) -> list[int]:
    """The rows of ``plays`` whose findings changed. *before* and *now*: keys of findings by play id."""
    return [row for row, id in enumerate(plays) if before.get(id, frozenset()) != now.get(id, frozenset())]


def _worked_out_anew(before: Mapping[int, Step], now: Mapping[int, Step]) -> Iterator[tuple[int, Step, Step]]:
    for row, (id, step) in enumerate(now.items()):
        was = before.get(id)
        if was is not None and was is not step:
            yield row, was, step


def _shown(situation: Situation) -> tuple[object, ...]:
    """What is shown of a situation; the clock, which belongs to each play, does not count."""
    return (situation.next, situation.offense, situation.down, situation.yards_to_gain, situation.ball_on,
            situation.period, situation.score_home, situation.score_visitors)


def spoken_changes(before: Mapping[int, Step], now: Mapping[int, Step], heading: Heading, length: float) -> str:
    """One line that says which plays changed and how; empty if none did. ``length`` is the field's, in yards."""
    rows = changed_rows(before, now)
    said = [row for row, was, step in _worked_out_anew(before, now) if was.play != step.play]
    if not rows and not said:
        return ""
    ids: Sequence[int] = list(now)
    text = f"play {said[0] + 1} changed; " if said else ""
    if rows:
        text += f"the situation before {len(rows)} later {'play' if len(rows) == 1 else 'plays'} is another now."
        for row in rows:
            was, is_now = (spoken_situation(steps[ids[row]].before, length) for steps in (before, now))
            if was != is_now:
                text += f" Play {row + 1}: {was} → {is_now}."
                break
        old, new = list(before.values())[-1].after, list(now.values())[-1].after
        if (old.score_home, old.score_visitors) != (new.score_home, new.score_visitors):
            text += f" Score at the end: {heading.visitors} {new.score_visitors}, {heading.home} {new.score_home}."
    else:
        text += "nothing after it did."
    worse = next((row for row in rows if now[ids[row]].problems and not before[ids[row]].problems), None)
    if worse is not None:
        text += f" ! Play {worse + 1} cannot be right now: {now[ids[worse]].problems[0]}."
    return text[0].upper() + text[1:]

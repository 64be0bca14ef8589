"""Who fouled, where only a player's number tells: that of who had the ball, or of who made the tackle."""

from __future__ import annotations

import re

from ..plays import Side

OF_ANYBODY = ("unsportsmanlike conduct", "taunting", "personal foul")
"""Fouls whose "on 20" names who did it; "late hit on 20" may name whom it was against."""

_NUMBER = r"(?:#|no\. ?|number )?(\d{1,2})\b"
_HAD_IT = re.compile(
    rf"(?:^|[,;.] ?|\bthen )\s*{_NUMBER} (?:runs?|ran|carr\w+|rush\w*|catch\w*|caught|scrambl\w+|keeps|kept)\b"
    rf"|\b(?:pass|complete|completed|throws?|hand ?off|handed|hands off|gives?|pitch) (?:it )?to {_NUMBER}"
    rf"|\b(?:run|carry|rush|caught|catch|reception) by {_NUMBER}")
_TACKLED = re.compile(rf"\b(?:tackled?|stopped|sacked|brought down|hit) by {_NUMBER}")
_FOULED = re.compile(
    rf"\b(?:on|against|by) {_NUMBER}|(?:#|no\. ?|number )(\d{{1,2}})\b(?= (?:unsp|taunt|person|after|$))|"
    r"\b(?:conduct|taunting|foul),? #(\d{1,2})\b")
_LINEMAN_JUMPED = re.compile(
    r"^\s*(?:the )?(?:(?:left |right )?(?:tackle|guard|center|lineman|line)|#[5-7]\d) jump(?:s|ed)?\b")


def side_of_number(text: str) -> Side | None:
    """The side of who fouled by number, if the same number had the ball or made a tackle before; in lower letters.

    Who jumps with a number from 50 to 79 is of the offense's line (numbering of ineligible players).
    """
    if _LINEMAN_JUMPED.match(text):
        return Side.OFFENSE
    flag = re.search(r"unsp|taunt|personal", text)
    if flag is None or "intercept" in text or "return" in text or "fumbl" in text:
        return None
    play = text[: flag.start()]
    carriers = {int(number) for found in _HAD_IT.finditer(play) for number in found.groups() if number}
    tacklers = {int(found[1]) for found in _TACKLED.finditer(play)}
    last = play.rfind(",") + 1
    foulers = {int(number) for found in _FOULED.finditer(text[last:]) for number in found.groups() if number}
    if len(foulers) != 1 or (foulers & carriers and foulers & tacklers):
        return None
    return Side.OFFENSE if foulers & carriers else Side.DEFENSE if foulers & tacklers else None

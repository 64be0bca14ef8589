"""The second look at what is passed over: clauses and small words that may hide what changes the play.

Praise, credit and talk are taken out before a line is read. Here the whole text is asked again, with all that was taken
out: who got the ball, a foul without its name, a number that may correct another, a sentence that stops.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache

from ..plays import EventKind, FoulTime, Outcome, Play, PlayKind, Score, Side
from ..tracker import fold
from .draft import KICKS
from .line import Line

_PLAYED = (PlayKind.RUN, PlayKind.PASS, PlayKind.SACK)
_THEIRS = ("corner|cornerback|safety|linebacker|backer|mike|will|sam|(?<!tight )(?<!split )end|nose|"
    "nose tackle|edge|defender|rusher|db|de|lb|dt|tackle")
_OURS = (r"guard|center|left tackle|right tackle|left guard|right guard|lg|rg|lt|rt|wing|wingback|slot|receiver|"
    r"tight end|te|fullback|wideout|lineman|linemen")
_DRAGGED = r"(?:pull|tackl|drag|haul|grabb|held|holds?|took|takes?|br(?:ings?|ought)|hit|hits|threw|throws)\w*"
_PASSED_ENDS = r"(?:sticks|markers?|chains|line to gain|first down(?: markers?| line)?|first)"
_CALLED = (r"illegal|illegally|ill\w*|penalty|flag|flagged|foul|declined?|accepted|offsets?|offense|on|by|home|"
    r"visitors|yards|yard|five|5|procedure|called")
_STOPS = frozenset(("he", "she", "we", "they", "who", "i", "it's", "there's", "he's", "they're", "we're", "that's",
    "then", "and", "but", "when", "before", "after", "until", "because", "with", "while", "as", "so", "if"))
_LEADS_TO_IT = frozenset(("then", "and", "but", "when", "before", "after", "until", "because", "as", "yards", "yard"))


@cache
def _between_blanks(pattern: str) -> re.Pattern[str]:
    return re.compile(rf"(?:^| )(?:{pattern})(?= |$)")


def _holds(pattern: str, text: str) -> re.Match[str] | None:
    return _between_blanks(pattern).search(text)


def _plain(text: str) -> str:
    """The words of a line alone, with single blanks between; "no." keeps its dot, a comment is left out."""
    return " ".join(re.findall(r"no\.|-?\d+(?:\.\d+)?|[a-z#][\w'’-]*", re.sub(r'"[^"]*"', " ", text.lower())))


def hidden(line: Line, play: Play) -> str:
    """What may stand behind the words that were passed over; empty if nothing does."""
    text = _plain(line.text)
    return next((found for check in _CHECKS for found in check(line, play, text)), "")


def _stops(line: Line, play: Play, text: str) -> Iterator[str]:
    words = text.split()
    if len(words) > 1 and (words[-1] in _STOPS or (words[-1] == "it"
            and (words[-2] in _LEADS_TO_IT or words[-2].isdigit()))):
        yield f"what comes behind {words[-1]!r} was not said"


def _ball_goes_over(line: Line, play: Play, text: str) -> Iterator[str]:
    told = _holds(r"(?:they|we|other team|defense) (?:gets? the (?:foot)?ball|takes? over)(?: on downs)?|"
        r"(?:their|visitors'?|visiting team's|other team's) (?:foot)?ball(?! at| on)", text)
    if told and play.kind in _PLAYED and not play.fouls:
        step = fold(line.rulebook, line.before, play)
        if not step.possession_changed and not step.points_home + step.points_visitors:
            yield f"{told.group().strip()!r} leaves no trace in the play"


def _fouls(line: Line, play: Play, text: str) -> Iterator[str]:
    """A foul told by what was done and not by its name."""
    if play.fouls:
        if _holds("pick play", text) and not _holds("flag|penalty|called|interference|opi", text):
            yield "'pick play' may tell of no foul"
        if any(foul.by is Side.OFFENSE for foul in play.fouls) and _holds(
                r"(?:defender|tackler|their \w+) \w+ (?:our|the) (?:\w+ )?(?:runner|back|quarterback|receiver|tailback|"
                r"carrier|punter|kicker|holder|returner)", text):
            yield "who fouled may be who tackled"
        moved = any(foul.name in ("illegal motion", "illegal shift") for foul in play.fouls)
        if moved and _holds("motion|shift|shifts|shifted", text) and not _holds(_CALLED, text):
            yield "a motion or a shift may be no foul"
        if any(foul.name == "illegal participation" and foul.when is FoulTime.BEFORE_SNAP for foul in play.fouls):
            yield "nobody participates before the snap; it may be a foul of substitution"
        return
    patterns = [rf"(?:{_THEIRS}) \w+ (?:him|the \w+) (?:late|low|high|early|after|with (?:his|the) helmet)(?! in )",
        rf"(?:{_THEIRS}) hits? (?:him|the \w+) out of bounds",
        rf"(?:{_THEIRS}) trip(?:s|ped) (?:him|the \w+)",
        r"(?:block|push|hit)\b.* in the back",
        r"(?:guard|center|lineman|tackle) caught it",
        rf"(?:{_THEIRS}|{_OURS}) \w+ (?:him|\w+) in the (?:back|head|face|helmet)",
        rf"(?:{_OURS}|tackle) (?:was |were |is |went |got )?(?:illegally )?downfield"]
    if play.kind not in (PlayKind.TRY_KICK, PlayKind.FIELD_GOAL):
        patterns.append(r"(?:good|great|nice|bad|poor|perfect|terrible|big) hold")
    if play.kind in _PLAYED:
        patterns.append(r"before the (?:snap|ball)")
    if play.kind in _PLAYED and play.outcome is not Outcome.INTERCEPTED and not play.events:
        patterns.append(rf"(?:{_OURS}) {_DRAGGED} (?:him|his man|the \w+)(?: down)?")
    if play.outcome is Outcome.INCOMPLETE:
        patterns.append(rf"(?:{_THEIRS}) {_DRAGGED} (?:him|the receiver)(?: down)?")
    if play.kind in (PlayKind.FIELD_GOAL, PlayKind.TRY_KICK) or play.outcome in (Outcome.FAIR_CATCH, Outcome.DOWNED):
        patterns.append(rf"(?:{_THEIRS}) {_DRAGGED} (?:him|the kicker|the holder)(?: down)?")
    for pattern in patterns:
        if told := _holds(pattern, text):
            yield f"{told.group().strip()!r} may tell of a foul"


def _defender_has_it(line: Line, play: Play, text: str) -> Iterator[str]:
    """A pass that was caught, and what a defender did to the ball."""
    if play.kind in _PLAYED and play.outcome in (None, Outcome.COMPLETE) and not play.events:
        told = _holds(rf"(?:{_THEIRS}) (?:(?!our |and (?:our|the|his) |but |the r|his )\w+ ){{0,6}}?(?:"
            r"(?:with|for|on) (?:it|the (?:foot)?ball(?! carrier)|one)|"
            r"(?:covers?|covered|saves?|saved|caught|catches|got|gets|had|has|took|takes|holds?|held) "
            r"(?:it|the (?:foot)?ball)|(?:all )?over the ball|all over it)", text)
        if told:
            yield f"{told.group().strip()!r} may tell who had the ball"
    if play.outcome is Outcome.INCOMPLETE and (
            told := _holds(r"(?:quarterback|qb|passer|he|knee) (?:was |is |were )(?:already )?down", text)):
        yield f"{told.group().strip()!r} may tell of a sack"
    if play.kind is not PlayKind.PASS or play.outcome is not Outcome.COMPLETE:
        return
    if told := _holds(r"(?:(?:one|a|his) foot|feet|landed|lands|stepped|steps|came down|comes down) out"
            r"(?! of the)(?! at)|dropped(?! back)(?: it| at the end)?", text):
        yield f"{told.group().strip()!r} may tell that the pass was not caught"
    if play.events:
        return
    told = _holds(rf"(?:{_THEIRS}) (?:(?:jump|undercut|cut)\w* (?:under )?(?:the|his) (?:route|throw|pass)|"
        rf"(?:made|makes?) (?:the |a )?(?:\w+ )?play(?: on the ball)?|(?:came|comes?) up with .*)", text)
    if told:
        yield f"{told.group().strip()!r} may tell that the pass was not caught"
    if _holds("caught|catch|catches|complete|completed|completion|reception|gain|gains|for|grabs?|hauls?", text):
        return
    if told := _holds(r"(?:thrown|throws it|threw it|attempt|attempted) (?:about )?\d+.*|"
            r"\d+ (?:yards? )?(?:downfield|down the field)", text):
        yield f"{told.group().strip()!r} does not tell that it was caught"


def _kick_touched(line: Line, play: Play, text: str) -> Iterator[str]:
    """A kick that was touched or recovered, and what became of it."""
    if play.kind not in KICKS or play.fouls or play.score is not None or play.outcome is Outcome.BLOCKED:
        return
    last = play.events[-1] if play.events else None
    if last is not None and last.kind is EventKind.MUFF and play.spot is None and play.possession is None:
        yield "who had the ball after it was touched was not said"
    if (play.kind is PlayKind.PUNT and len(play.events) == 1 and last is not None and last.kind is EventKind.RECOVERY
            and last.by is Side.OFFENSE):
        yield "whether the receivers touched it was not said"


def _other_place(line: Line, play: Play, text: str) -> Iterator[str]:
    """Words of where it ended that disagree with the yards."""
    gain, to_gain = play.gain, line.before.yards_to_gain
    if gain is None or play.kind not in _PLAYED:
        return
    if not play.fouls and (told := _holds(
            r"(?:still|remains?|stays?) (?:first|second|third|fourth|[1-4](?:st|nd|rd|th))", text)):
        yield f"{told.group().strip()!r} is not what the play comes to"
    past = _holds(rf"(?:(?P<by>\d+) (?P<unit>yards? )?)?(?:past|beyond) the {_PASSED_ENDS}", text)
    if past and (past["unit"] or (to_gain is not None and gain < to_gain)):
        yield f"{past.group().strip()!r} is not what {gain:g} yards come to"
    if gain > 0 and (told := _holds(r"(?:got|gets|tackle[sd]|drop(?:s|ped)|stop(?:s|ped)|wrap(?:s|ped)|brought|took|"
            r"takes) (?:him|them|the \w+) (?:down |up )?in (?:the|his|their) backfield", text)):
        yield f"{told.group().strip()!r} and a gain of {gain:g}"
    if abs(gain) > 1 and (told := _holds(r"(?:got|gets|tackle[sd]|drop(?:s|ped)|stop(?:s|ped)|stuff(?:s|ed)) "
            r"(?:him |them |it )?at the line(?: of scrimmage)?", text)):
        yield f"{told.group().strip()!r} and a gain of {gain:g}"
    if play.score is None and text.endswith((" in", " goes in", " went in")) and text.split()[-2] not in (
            "out", "checks", "check", "sub", "subs"):
        yield "that he went in is not in the play"


_UNIT = r"(?: yards?| yds?)?"
_BARE_RUN = (r"dive|sweep|power|counter|trap|iso|blast|sneak|keeper|draw|option|toss|belly|plunge|lead|stretch|zone|"
    r"veer|buck|wham|reverse")
_ENDED = r"(?:tackled|stopped|down|brought down|taken down|tackle|out|out of bounds)"


def _other_number(line: Line, play: Play, text: str) -> Iterator[str]:
    """A number that may be another thing: a correction, a player, a yard line."""
    if told := _holds(rf"\d+{_UNIT} no \d+", text):
        yield f"{told.group().strip()!r} may correct a number"
    if play.outcome is Outcome.INCOMPLETE and (told := _holds(
            r"(?:pass|complete|completed|caught) (?:for |of )?(\d+) .*(?:ruled|overturned|but)", text)):
        yield f"{told[1]} may be the yards of a catch"
    if play.outcome is Outcome.INCOMPLETE and (told := _holds(rf"pass (\d+)(?: the)? (?:{_THEIRS})", text)):
        yield f"{told[1]} may be the yards"
    if play.kind not in _PLAYED or play.gain is None:
        return
    first = _holds(r"(?:run|ran|rush|pass|sack|carry|complete) (\d+)(?! \w*yards?)", text)
    if first and int(first[1]) < 10 and int(first[1]) != abs(play.gain):
        yield f"{first[1]} may be the yards"
    if first and int(first[1]) < 10 and sum(word in (first[1], "six") for word in re.findall(r"-?\w+", text)) > 1:
        yield f"{first.group().strip()!r} was said twice"
    value = abs(play.gain)
    gained = " ".join("GAIN" if word == f"{value:g}" else word for word in text.split())
    if _holds("(?:for|gains?|of|loss|lost|minus) GAIN|GAIN (?:yards?|yds?|yd)", gained):
        return
    named = ((value >= 20 and _holds(rf"(?:{_BARE_RUN}) GAIN", gained))
        or (value >= 10 and _holds(rf"GAIN (?:{_BARE_RUN})", gained)))
    if named and play.score is None:
        yield f"{value:g} may be a player or the name of the play"
    if value >= 10 and _holds(rf"{_ENDED} GAIN", gained):
        yield f"whether {value:g} is where it ended was not said"


_ABOUT = re.compile(r"[~≈<>≤≥]\s*\d|(?<![+\d])\d+\s*\+(?!\s*\d)|\b\d+(?:ish|-ish)\b")


def _about(line: Line, play: Play, text: str) -> Iterator[str]:
    """A sign that leaves a number open: ``~6``, ``6+``, ``6ish``."""
    if told := _ABOUT.search(line.text.lower()):
        yield f"{told.group()!r} leaves the number open"


def _other_sense(line: Line, play: Play, text: str) -> Iterator[str]:
    """A word that has its usual sense in the play and another beside the words it stands with."""
    if play.kind in KICKS and _holds("net|nets|netted|netting", text):
        yield "what the return took off a kick's net was not said"
    if play.score is Score.SAFETY and (told := _holds(r"(?:to|over|by|past|at|off|behind|from) (?:the|a|their) safety",
            text)):
        yield f"{told.group().strip()!r} may be a player"
    if play.kind is PlayKind.PASS and _holds(r"(?:\d+|pass|ball|it|throw|thrown|incomplete)(?: was| is| went| goes)? "
            r"backwards?", text):
        yield "whether it was a backward pass was not said"
    if not play.fouls and _holds("half the distance", text):
        yield "half the distance is told of no foul"


def _denied(line: Line, play: Play, text: str) -> Iterator[str]:
    """Something is said not to have happened: it may have been ruled first. That there was no foul changes nothing
    where none is told."""
    if told := sorted(what for what in line.denied if what != "flag" or play.fouls):
        yield f"that there was no {told[0]} is said too"


_CHECKS: tuple[Callable[[Line, Play, str], Iterator[str]], ...] = (_stops, _ball_goes_over, _fouls, _defender_has_it,
    _denied, _kick_touched, _other_place, _other_number, _about, _other_sense)

"""Classes of words beside players' numbers: what may stand before and behind one (:mod:`.players`)."""

from __future__ import annotations

import re

from .verbs import FORMS


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


COUNTED = _words(
    "yards yard yd yds yrds yrd yarder line yardline points point pts pt seconds sec minutes minute plays "
    "players men man downs quarter quarters half feet foot inches inch steps timeouts tacklers guys tds "
    "touchdowns penalties flags fouls times more deep out tackles defenders blockers")
"""Behind a number that is no player's: what it counts."""
NOT_COUNTED = (("out", "of"), ("tackles", "him"), ("tackles", "it"), ("tackles", "her"), ("tackles", "the"),
    ("downs", "it"), ("downs", "the"))
MARKS = frozenset(("number", "no", "num", "nr", "jersey"))
AND = frozenset(("and", "but", "then", "when", "as", "before", "while", "until", "till", "after", "that", "so", "with",
    "where", "here", "now"))
"""Words that begin a clause, whose first number may be its subject."""
NOT_BY = frozenset(("lead", "leads", "leading", "up", "down", "ahead", "behind", "win", "wins", "won", "lose", "loses",
    "lost", "short", "missed", "wide", "trail", "trails", "trailing", "moved", "moves"))
"""Before "by" and a number that is no player's."""
KICKED = re.compile(r"(?<!fake )punt(?!er)|pnt|kick|\bko\b|\bk\b|boot(?:s|ed|ing|er)\b|boot (?:it|one|the)|field|\bfg|"
    r"\bpat\b|\bxp|squib|onside|pooch")
THROWN = re.compile(
    r"scrn?$|pass|(?:over|under)?thr[oe]w|complet|incomp|\binc\b|screen|swing|dump|hitch|slant|lob|bullet|strike|checkdown|"
    r"check|fir(?:e|es|ed|ing)$|loft|float|zip|rifl|laser|heav|fling|flung|sling|slung|unload|intended|meant|aimed|"
    r"lateral|bomb|streak|mesh|verts|smash|flood|dagger|snag|levels|comeback|glance|boot(?:leg)?$|pa$|"
    r"corner$|flare|\bfade|bubble|cross|\bout$|curl|post|seam|wheel|drag|stick$|hook|dig$|catch|caught|"
    r"target"
)
HANDED = re.compile(r"rev$|swp$|ctr$|pwr$|[io]z$|hand|giv|gave|pitch|toss|flip|ball|feed|fed$|shovel|"
    r"snap|reverse|sweep|dive|draw|counter|toss|"
    r"trap|power|option|jet|keeper|carr|around|duo|zone|iso|blast|belly|veer|buck|wham|stretch|plunge")
RAN = re.compile(r"(run|ran|runs|rush|rushes|rushed|carry|carries|carried|r)$")
UNCAUGHT = re.compile(r"\b(inc|incomp\w*|incmp\w*|drop\w*|broken up|breaks? it up|batted|bats|knock\w*|overthr\w+|"
    r"underthr\w+|off his|too (?:high|low|far|long|wide)|intended|pbu|swat\w*|deflect\w*|uncaught|no catch)\b")
OBJECTS = _words(
    "finds found hits hit targets targeted targeting overthrows overthrew underthrows underthrew misses "
    "sacks covers covering beats hurdles springs sprung")
"""Verbs whose object is a player."""
STOPPED = _words(
    "drops drop dropped stopped stuffed tackled stops stop tackles tackle stuffs stuff dumps dump nails wraps")
"""Verbs of a tackler whose object is a player where it is told how far he came."""
BROUGHT_DOWN = STOPPED | {"sacked", "sacks"}
"""The same before a player of the other team: "sacked their 15 at our 43"."""
NO_YARDS = re.compile(r"\b(inc|incomp\w*|overthr\w+|underthr\w+|no catch|not caught|pbu|uncaught|throwaway|"
    r"thr\w+ (?:it )?away|broken up|breaks it up)\b|\bdrop(?:s|ped)?$")
"""A pass of which no yards are told."""
ENDED_OTHERWISE = re.compile(r"fumbl|muff|intercept|picked|\bpick|recover|later|sack|return")
ENDED_AT = ("down", "tackled", "stopped", "out", "dead", "spotted", "dropped")
PICKED = re.compile(r"\b(picked|intercept\w*|int)\b")
CAUGHT_BY = re.compile(r"(int|ints|pick|picked|intercept\w*)$")
RECOVERIES = re.compile(r"(rec|recs|recov\w*|fr|man|blk|blocked)$")
TACKLED_BY = ("tkl", "tkls", "tckl", "tackle", "tackled")
SEEKS = _words("looking looks look intended meant aimed aiming aims targeting searching")
TACKLES = _words("tackle tackles tkl tkls tckl tackled tackler tacklers assist assists assisted stop stops")
OF_TACKLES = _words(
    "tackle tackles stop stops hit hits coverage pursuit cover sack assist carry catch return keeper "
    "sweep jet play option reverse dive draw counter punt kick kickoff block pick interception recovery "
    "breakup pressure")
DIRECTIONS = _words(
    "up lt rt left right off around straight over through inside outside across ahead behind between into "
    "cutting going running trying on in wide middle")
POSITIONS = _words(
    "qb quarterback rb tb hb fb wr te tailback fullback halfback back receiver wideout flanker slot guard "
    "lineman linebacker lb mlb olb ilb corner cornerback cb ss db de dt nt safety defender kicker punter "
    "holder snapper returner center guard nose runner carrier passer")
PENALTIES = ("5", "10", "15")
UNNUMBERED = _words("corner cb lb de dt nt fs ss safety")
"""Positions that the table of words has for something else, or not at all."""
TRY_YARDS = 5  # no try is run or thrown so far that a higher number is its yards
OWNERS = frozenset(("our", "their", "offensive", "defensive"))
PLACED = frozenset(("own", "opp", "the", "opponent", "opponents", "opps", "its", "home", "visitors", "minus", "plus"))
SET = frozenset(("down", "to", "on", "period", "home", "visitors", "next"))
ORDINALS = frozenset(("1st", "2nd", "3rd", "4th", "first", "second", "third", "fourth"))
PLURALS = _words("beat is was has does goes puts had couldn't can't didn't could")
TAKE_YARDS = frozenset(base for verb in ("add", "gain", "lose", "return", "mark", "net", "assess", "enforce", "tack",
    "step", "walk", "need", "punt", "kick", "move") for base in FORMS.get(verb, (verb,)))
"""Verbs whose past form may stand behind its yards: "15 added on", "12 returned"."""
HIGH = 19  # a higher number beside "no gain" or a loss is no gain that contradicts it
LOSS = ("a", "loss", "of")

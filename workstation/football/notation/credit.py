"""Credit: who made the stop, the block or the coverage, said along with a play; such a clause tells nothing of it.

``Will fills``, ``the free safety saved a touchdown``, ``Mike and nose on the stop``, ``nice block by the fullback``,
``when nothing was open``. A clause is made of classes of words: a position, what its player did, how and where. It is
taken out of a line before the line is read, and out of the text that the second look goes by. Whoever may have taken
the ball, fouled or scored makes no such clause.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from .tokens import Token, TokenKind

_LONGEST = 16  # tokens of a clause
_BACKERS = "mike|will|sam|backer|linebacker|lb|mlb|ilb|olb|middle linebacker|outside linebacker|inside linebacker"
_FRONT = "nose|nose tackle|nose guard|nt|dt|de|edge|edge rusher|rusher|end|tackle|defensive end|defensive tackle"
_BACKS = "spy|corner|cornerback|cb|ss|fs|db|defensive back|nickel|dime|rover|tackler|defender|d line|defensive line"
_DEFENDER = f"(?:#|(?:{_BACKERS}|{_FRONT}|{_BACKS})(?: #|s)?)"
_BLOCKER = ("(?:guard|tackle|fullback|fb|tight end|te|lineman|linemen|offensive line|o "
"line|rg|lg|rt|lt|slot|wingback|"
    "wing|lead block|blocker|guard and tackle|right side|left side)s?")
_ADJECTIVE = "left|right|weak ?side|strong ?side|weak|strong|back ?side|front ?side|play ?side|field|boundary"
_WHICH = rf"(?:(?:the|a|an|their|our|his|one|another|that|big|other|unblocked|blitzing|same|{_ADJECTIVE}) )*"
_SAFETY = rf"(?:(?:the|a|their|our|strong|free|{_ADJECTIVE}) )+safety"
_WHO = rf"(?:{_WHICH}{_DEFENDER}|{_SAFETY})(?: and (?:{_WHICH}{_DEFENDER}|{_SAFETY}))*"
_ANY_WHO = rf"(?:{_WHO}|safety|{_WHICH}(?:front|secondary|line|front seven|pursuit))"
_HOW = (r"(?: (?:up|down|out|over|in|there|right there|right "
"away|immediately|quickly|late|hard|well|clean|free|loose|"
    r"unblocked|untouched|through|on (?:the|a) (?:blitz|stunt|twist|move)|for the stop|off (?:the|his) "
    r"(?:edge|corner|blocks?)|(?:from|on) the (?:edge|outside|inside|back ?side|play ?side)|from behind|in the "
    r"(?:hole|gap|alley|backfield|open field|flat)|at the (?:point of attack|end|last second)|over the top|"
    r"with a big hit|one on one))*")
_DOWN = (r"(?:tackle|wrap|drag|haul|bring|pull|wrestle|cut|chop|chase|stop|hit|trip|corral|ride|pin|meet|drop|level|"
    r"nail|stuff|clean|track|smother|swallow|stick|string)(?:s|es|ed|ped|ged|ned|led)?|brought|took|takes|ran|runs|"
    r"caught|catches|rode|met|stood|stands|buries|buried|got|gets|knocks|knocked|throws|threw|stuck|strung|blew|blows")
_SEEN = r"blew|blows|sniffs?|sniffed|snuffs?|snuffed|reads?|stuffs?|stuffed|cleans|cleaned|strings|strung|chases|chased"
_DEED = "|".join((
    rf"(?:{_DOWN}) (?:him|them|the (?:runner|back|ball carrier|quarterback|qb))"
    r"(?! out)",
    rf"(?:{_SEEN}) (?:it|the (?:play|run|screen))",
    r"(?:makes?|made|with|in on|on|credited with|combine on|combined on|shares?|gets?|got) (?:the |a |another |his )?"
    r"(?:big |nice |great |solo |open field |sure )?(?:stop|tackles?|hit|coverage|assist)(?! action| for a loss)",
    r"in on it",
    r"(?:makes?|made) (?:the |a )(?:big |nice |great )?play",
    r"(?:is |was |were |are )?(?:right there|all over (?:it|him|the play))",
    r"(?:fills?|filled|fits?|scrapes?|scraped|flows?|flowed|pursues?|pursued)",
    r"(?:comes?|came|coming|shot|shoots) (?:in |through |right "
    ")*(?:free|clean|loose|unblocked|untouched|up|over|down|"
    r"off the edge|off (?:the|his) block)",
    r"(?:was |is |gets |got |ran |runs |broke |breaks )(?:free|loose|unblocked|off (?:the|his) block)",
    r"(?:gets|got|was|is) there",
    r"(?:beats?|sheds?|splits?|shed|split|beating|defeats?|defeated|spins? off) (?:the|his|a) "
    r"(?:blocks?|blocker|tackle|guard|center|double team)",
    r"(?:had|has|covers?|covered|with) (?:him|the receiver|good|tight|great|blanket|everybody)"
    r"(?: covered| blanketed| coverage)",
    r"(?:covers?|covered) (?:him|the receiver|it well|it)",
    r"(?:saves?|saved|saving) (?:a touchdown|a td|the touchdown|a score|the td)",
    r"(?:in|with|on) (?:tight |good |great )coverage",
    r"(?:jumps?|jumped) (?:the|his) (?:route|throw|pass)",
    r"(?:misses|missed|lost|loses|whiffs on|whiffed on) (?:the|his|a) (?:block|tackle|man)",
))
_PRAISE = "(?:nice|good|great|big|huge|strong|tough|terrific|excellent|fine|bad|poor|awful|terrible|sloppy)"
_QUALITY = ("(?:second effort|effort|lane|lanes|hole|seam|crease|read|reads|vision|patience|pursuit|leverage|surge|"
    "push|footwork|pocket|angle|field position|throw|ball placement|protection|timing|concentration|balance)")
_CLAUSES = re.compile("(?:" + "|".join((
    rf"(?:(?:before|until|till|as|when|but|and|where|because) )?{_ANY_WHO} (?:{_DEED}){_HOW}",
    r"safety (?:(?:is|was|comes|came) )?(?:(?:up|down) )?(?:in the (?:alley|hole|box|flat|fit|deep middle)|over "
    "the top|"
    r"in run support|rolled down)",
    rf"(?:(?:and|but) )?(?:{_ANY_WHO}) (?:saves?|saved|saving) it",
    rf"by {_WHO} (?:coming|running|rushing|blitzing|who (?:came|comes|was|beat|shot)){_HOW}",
    r"(?:(?:a|some) )?(?:nice|good|great|big|huge|key|crushing|perfect|strong) "
    r"(?:lead |down |seal |kick out |kickout )?"
    rf"blocks? (?:by|from) (?:the |our |his )?{_BLOCKER}",
    rf"(?:(?:a|some|with) )*{_PRAISE} {_QUALITY}{_HOW}(?: (?:on|to|up) (?:the )?(?:left|right|front)(?: side)?)?",
    r"(?:a )?(?:crack|kick ?out|down|seal|pancake|lead) blocks?(?: (?:gets|got|gave|springs|sprung) "
    r"(?:it|him)(?: (?:started|going|loose|free|a lane|room))?)?",
    rf"(?:(?:right|in|and) )?(?:behind|following) (?:the |a |his |our |their |some |good |great )*"
    rf"(?:(?:pulling|kick out|kickout|lead|leading|big|right|left|double team) )*{_BLOCKER}",
    r"(?:(?:when|because|as|since|with|after|but) )?(?:nothing|nobody|no one|noone|no man|none) "
    r"(?:(?:was|is|were|came|gets?|got) )?open(?: (?:downfield|deep|down the field))?",
    r"(?:(?:when|because|as|since|with) )?(?:everybody|everyone|the receivers|receivers|his receivers|his man|all "
    "his "
    r"receivers) (?:(?:was|is|were|are|all) )*(?:covered|blanketed)",
)) + r")(?= |$)(?! (?:with|for|on) (?:it|the ball|the football|one))"
    r"(?! in the back| by the (?:collar|mask|face))")
_BEGIN = {name.split()[0] + ending for name in f"#|{_BACKERS}|{_FRONT}|{_BACKS}".split("|") for ending in ("", "s")} | {
    *re.findall(r"\w+", "before until till as when but and where because by the a an their our his one another that "
    "big left right other weak weakside strong strongside free back backside front frontside play playside middle "
    "outside inside field boundary unblocked blitzing same some nice good great huge key crushing perfect behind "
    "following in "
    "nice good great big huge strong tough terrific excellent fine bad poor awful terrible sloppy some with crack "
    "kick kickout down seal pancake lead "
    "nothing nobody no noone none everybody everyone receivers since with after all safety secondary line pursuit")}
_NOT_BEHIND = ("no", "not", "illegal", "by", "on", "against", "of", "to", "from", "off", "at", "around", "over")
"""Words behind which a position is no subject."""
_LOOSE = ("fumbl", "muff", "loose", "strip", "block", "snap", "ground")
"""Beginnings of words of a loose ball: who "saved it" then has it."""


def credit_at(tokens: Sequence[Token], text: str) -> list[tuple[int, int]]:
    """The places of the tokens that such clauses take, each as its first one and the one after its last."""
    found, at = [], 0
    loose = any(token.text.startswith(_LOOSE) for token in tokens)
    while at < len(tokens):
        used = _clause_at(tokens, at, text, loose)
        if used:
            found.append((at, at + used))
        at += used or 1
    return found


def _clause_at(tokens: Sequence[Token], at: int, text: str, loose: bool) -> int:
    """How many tokens the clause takes that begins at a place; 0 if none does."""
    first = tokens[at]
    if first.text not in _BEGIN or first.kind is not TokenKind.LETTERS:
        return 0
    if at and tokens[at - 1].text in _NOT_BEHIND and not text[tokens[at - 1].end : first.start].strip():
        return 0
    run = [first.text]
    for before, token in zip(tokens[at : at + _LONGEST], tokens[at + 1 : at + _LONGEST], strict=False):
        if token.kind is not TokenKind.LETTERS or text[before.end : token.start].strip(" -'’"):
            break
        run.append(token.text)
    match = _CLAUSES.match(" ".join(run))
    if match is None or (loose and match.group().endswith(" it")):
        return 0
    return len(match.group().split())

"""The names of fouls: by the rulebook's own, and by every usual one beside it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

import workstation.football.notation.words_of_onlookers as told

from ..plays import Side
from ..rulebook import Rulebook
from .word import ANYWHERE, Role, Word, spelled, split_phrases
from .words import TABLE
from .words_of_plays import KINDS

# Other names of fouls, by the rulebooks' names in the order they are looked for: officials' signals and abbreviations,
# common practice. "#" stands where the side that fouled is part of the name.
_HIT_LATE = (
    "hits our/the/their guy/quarterback/qb/runner/back/receiver/punter/kicker/returner/player/ball_carrier late, "
    "hits a player late, "
)
FOULS: dict[str, tuple[str, str]] = {
    "holding": (told.HELD_A_DEFENDER + "offensive holding, hold, held, off holding, holding call", "ho, oh"),
    "defensive holding": (
        told.GRABBED + told.HELD_A_RECEIVER + "hold, held, holding call, def hold, "
        " "
        "hold def, def holding, illegal defensive holding", "dh"),
    "false start": (
        "jumps early, they move/jump before the snap, moves before the snap, flinches, early movement, move too "
        "early, moved early, false starts, lineman moved, moved, flinched, fst, early start, illegal "
        "procedure false start, false st", "fs"),
    "offside": (
        told.EARLY +
        "offsides, off sides, in the nz, in the neutral zone, lined up offside, jumped offside, off side, jumped, "
        "defensive offside", "off, offs"),
    "neutral zone infraction": ("nzi, neutral zone", "nz"),
    "encroachment": (
        told.EARLY +
        "in the nz, jumped offside, lined up offside, in the neutral zone, encroaching, encroached, offside, "
        "offsides", "enc"),
    "defensive pass interference": (
        told.MET_A_RECEIVER + "dpi, pass interference, pi, interference, def pass interference, pass int", "dpi"),
    "offensive pass interference": (
        told.MET_A_DEFENDER + "opi, interference, "
        " "
        "pass interference, pi, off pass interference, pick play, pushing off", "opi"),
    "delay of game": (told.DELAY + "dog, delay, play clock expired, delay of the game, play clock", "del"),
    "defensive delay of game": ("delay of game", "ddog"),
    "face mask": (
        "grabs/pulls/yanks/twists/holds/gets/catches his/the/our/their /runner/quarterback /by_the "
        "face_mask/facemask, by the face mask/facemask, facemask, facemasking, fm, face mask foul, grabbing the "
        "face mask, face guard, grasping the face mask, face "
        "masking, facemasks/facemasked, facemasks/facemasked him, face masks/masked him", "fm"),
    "incidental face mask": ("5 yard face mask, five yard face mask, minor face mask, 5-yard facemask", "ifm"),
    "illegal block in the back": (
        "a block in the back, block in the back, ibb, block in back, bib, illegal block, illegal block above the "
        "waist", "ibb"),
    "illegal block below the waist": ("block below the waist, block below waist, bbw, low block, ibbw, "
    "cut block", "bbw"),
    "unnecessary roughness": (
        _HIT_LATE + "ur, hit late out of bounds, hits him late, late hit on the quarterback, late hit out of bounds, "
            "late hit, a "
        "late hit, roughness, unnecessary rough, rough, hit late, unnec roughness", "ur"),
    "personal foul": ("pf, personal, personals", "pf"),
    "unsportsmanlike conduct": (
        "for yelling/mouthing_off/jawing/chirping/talking_back, uc, unsportsmanlike, uns, uns cond, unsp cond, "
        "unsp, unsport, unsportsmanlike foul, taunting, "
        "unsportsmanlike act, usc, unsportsmanship", "uc"),
    "taunting": ("taunts, taunted", "ta"),
    "roughing the passer": (
        "rough/roughs/roughed him, "
        "roughing our quarterback, roughing their quarterback, roughing our passer, rtp, roughing passer, roughing "
        "the "
        "qb, roughing the quarterback", "rtp"),
    "roughing the kicker": (
        "rough/roughs/roughed him, "
        "/they run/runs/ran /right over/into our/the/their kicker/punter roughing the/our /kicker/punter, "
        "roughing our "
        "kicker, roughing our punter, roughing their kicker, roughing their punter, rtk, roughing "
        "kicker, "
        "roughing the punter, roughing the holder", "rtk"),
    "running into the kicker": (
        "runs/ran into our/the/their kicker/punter/holder, runs/ran into #, rik, running into kicker, "
        "running into the punter, running "
        "into the holder", "rik"),
    "roughing the snapper": ("roughing the center, roughing snapper", "rts"),
    "intentional grounding": ("grounding, ig, int grounding, grounds it, grounds the ball", "ig"),
    "illegal formation": (
        "too many/four/five in the backfield, formation penalty, bad formation, formation foul, covered tackle, not "
        "enough on the line, illegal procedure, procedure", "ifo"),
    "illegal motion": ("motion, illegal procedure, procedure", "imo"),
    "illegal shift": ("shift, illegal procedure, procedure", "ish"),
    "illegal substitution": (
        "breaks/broke the huddle with twelve/12 /men/players/people, illegal sub, substitution, isub, substitution "
        "infraction, /too_many/twelve/12 in the huddle", "sub"),
    "substitution infraction": (
        "breaks/broke the huddle with twelve/12 /men/players/people, illegal substitution, illegal sub, "
        "substitution, isub", "sub"),
    "too many players on the field": (
        "too many players/men out there, too many men, too many players, too many men on the field, 12 men, 12 "
        "men on the field, twelve men on the "
        "field, 12 players, 12 on the field, twelve men, 12 players on the field, too many on the field", "tmm, "
        "toom"),
    "illegal participation": (
        "12 men, 12 men on the field, too many men, too many players, twelve men, participation, too many players on "
        "the field, too many men on the field", "ipt"),
    "illegal use of hands": (
        "iuh, illegal hands to the face, /illegal hands to face, hands to the face, illegal hands, illegal use of "
        "the hands, hands to face, use of hands", "iuh"),
    "defensive illegal use of hands": (
        "diuh, iuh, illegal hands to the face, hands to the face, hands to face, illegal hands, use of hands", "diuh"),
    "illegal contact": ("contact", "ic"),
    "illegal forward pass": (
        "ifp, forward pass beyond the line, pass beyond the line, illegal pass, passed beyond the line of scrimmage, "
        "forward pass from beyond the line", "ifp"),
    "illegal second forward pass": ("second forward pass, two forward passes", "ifp2"),
    "ineligible receiver downfield": (
        "ineligible downfield, ineligible man downfield, ineligible player downfield, ineligible receiver, lineman "
        "downfield, ineligible, ird, illegal man downfield, linemen downfield, ineligible downfield pass, man "
        "downfield", "ird"),
    "illegal touching of a forward pass": ("illegal touching, touching, illegal touching pass", "itp"),
    "illegal touching of a kick": ("illegal touch kick, illegal touching of the kick, illegal touching", "itk"),
    "illegal wedge": ("wedge", "iwe"),
    "illegal batting": ("bat", "ib"),
    "illegal kicking": ("illegal kick of a loose ball, kicking the ball", "ikk"),
    "illegal snap": ("snap infraction", "isn"),
    "snap infraction": ("illegal snap", "isn"),
    "illegal numbering": ("numbering", "inu"),
    "illegal procedure": ("procedure", "ipr"),
    "horse collar tackle": (
        "/grab/grabs/grabbed/pull/pulls/pulled/drag/drags/dragged/take/takes/took/yank/yanks/yanked/tackle/tackles/"
        "tackled/bring/brings/brought him/our_back/our_runner/our_tailback/our_quarterback/our_receiver/the_runner/"
        "the_ball_carrier/the_quarterback/the_back /down by the "
        "horse collar, horse collar, horsecollar, hct, collar tackle", "hc"),
    "targeting": ("tgt", "tg"),
    "spearing": ("spear", ""),
    "illegal helmet contact": ("helmet contact, helmet to helmet, spearing", "ihc"),
    "chop block": ("chop, chop blocking", "cb"),
    "clipping": ("", "clip"),
    "tripping": ("leg whip, leg whipping", "trip"),
    "hurdling": ("", ""),
    "helping the runner": ("assisting the runner, helping runner, aiding the runner", ""),
    "assisting the runner": ("helping the runner, helping runner, aiding the runner", ""),
    "illegal blindside block": ("blindside block, blind side block, bsb, illegal blind side block, blindside", "bsb"),
    "kick catching interference": (
        "interferes/interfered with the/their/our returner/return_man/receiver/catch, kick catch interference, "
        "kci, fair catch interference, catch interference, interference with the catch, "
        "kick "
        "interference, interfered with the catch, interference on the catch, "
        "interference with opportunity to catch", "kci"),
    "kickoff out of bounds": ("free kick out of bounds", "koob"),
    "invalid fair catch signal": ("invalid signal, illegal fair catch signal, invalid fair catch", ""),
    "sideline interference": ("sideline warning, sideline foul, sideline violation", "si"),
    "leaping": ("leaped", "lea"),
    "leverage": ("leveraging", "lev"),
    "fighting": ("", ""),
    "disqualification": ("ejection, ejected, disqualified", "dq"),
    "kicking team player out of bounds": (
        "gunner out of bounds, player out of bounds, gunner stepped out, out of bounds player, illegally out of "
        "bounds", "kpo"),
    "free kick infraction": ("free kick violation", ""),
    "offside on free kick": ("offside, offsides, free kick offside, encroachment, offside on the kickoff", "offk"),
    "encroachment on a free kick": ("encroachment, offside, offsides, offside on free kick", "offk"),
    "short free kick": ("illegal onside kick, kick did not go ten yards", ""),
    "time count": ("time count violation, delay, delay of game", "tc"),
    "no yards": ("no yards penalty, halo violation, five yards no yards", "ny"),
    "illegal crackback block": ("crackback, crackback block, illegal crackback", "crk"),
    "illegal block": ("block, block in the back", "ibl"),
    "objectionable conduct": ("objectionable", ""),
    "rough play": ("roughing", ""),
    "illegal handoff": ("illegal forward handoff, illegal forward handing", "iho"),
    "illegal forward handing": ("illegal handoff, illegal forward handoff, forward handing", "iho"),
    "disconcerting signals": ("disconcerting, simulating signals, disconcerting acts", ""),
    "disconcerting acts": ("disconcerting, simulating signals, disconcerting signals", ""),
}

# Fouls called most often first, so that beginnings go to them (common practice, no source).
USUAL = ("holding", "false start", "offside", "defensive pass interference", "delay of game", "face mask",
         "illegal block in the back", "unnecessary roughness", "encroachment", "defensive holding",
         "roughing the passer", "intentional grounding", "illegal formation", "illegal motion", "illegal shift",
         "personal foul", "unsportsmanlike conduct", "illegal use of hands")


def _usual_place(name: str) -> int:
    return USUAL.index(name) if name in USUAL else len(USUAL)


@lru_cache(maxsize=16)
def foul_words(rulebook: Rulebook) -> tuple[Word, ...]:
    """The rulebook's fouls by every name it knows for them and every usual one."""
    return tuple(Word(name, Role.FOUL, (name, rulebook.fouls[name].by),
        tuple(dict.fromkeys((*rulebook.fouls[name].also, *_jumped(name, rulebook),
        *spelled(split_phrases(FOULS.get(name, ("", ""))[0])), *_sided(name, rulebook)))),
        split_phrases(FOULS.get(name, ("", ""))[1]), ANYWHERE) for name in sorted(rulebook.fouls, key=_usual_place))


def _jumped(name: str, rulebook: Rulebook) -> Iterable[str]:
    """"jumped" is offside, or encroachment under rules that know no other."""
    return ("jumped", "jumped early") if name == "encroachment" and "offside" not in rulebook.fouls else ()


def _sided(name: str, rulebook: Rulebook) -> Iterable[str]:
    """``offensive offside``, ``defensive holding``: the side in front of the name, where the name leaves it open."""
    if name.startswith(("offensive", "defensive")):
        return ()
    by = rulebook.fouls[name].by
    return (f"offensive {name}",) if by is Side.OFFENSE else (f"defensive {name}",) if by is Side.DEFENSE else ()


@lru_cache(maxsize=16)
def all_words(rulebook: Rulebook) -> tuple[Word, ...]:
    """Every row that counts under a rulebook, most usual first."""
    rows: Sequence[Word] = [word for _, words in TABLE for word in words]
    return (*rows[:len(KINDS)], *foul_words(rulebook), *rows[len(KINDS):])

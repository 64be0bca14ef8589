"""The table of words: what each word or phrase means, where it may stand, how it is shortened.

Everything that knows a word knows it from here: the reader, what is offered while typing, and the page
``resources/notation.md`` (:mod:`.guide`). To add a word, add a row.

A row is a :class:`Word`. ``text`` is the word as it is written back, ``also`` are the other ways to say it, ``codes``
its short forms, ``where`` says where a short form counts, ``role`` and ``value`` what it means to the grammar
(:mod:`.grammar`). Words of several parts are matched longest first.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from ..field import Team
from ..plays import EnforcedAt, EventKind, FoulDecision, FoulTime, Outcome, PlayKind, Score, Side
from ..situation import Next


class Role(StrEnum):
    """What a word does in the grammar."""

    KIND = "kind of play"                   # (kind, outcome)
    MANNER = "manner"                       # (kind or None, the manner)
    KICK = "kick"
    TWO_POINT = "two-point try"
    OUTCOME = "outcome"
    MISSED = "missed kick"
    RETURN = "return"
    CAUGHT = "catch"
    EVENT = "ball"                          # (event, by)
    RECOVERED = "recovery"                  # Side by whom, "same" or "other" than had it, or None
    SCORE = "score"
    PICK_SIX = "interception returned for a touchdown"
    END_ZONE = "end zone"                   # Side whose, or None; with "through": out of it
    SIDE = "side"                           # Side
    TEAM = "team"
    PREPOSITION = "preposition"
    LOSS = "loss"
    GAIN = "gain"
    NO_GAIN = "no gain"
    YARDS = "yards"
    SLOT = "place"                          # what the next number or yard line means
    EXACT = "exactly"                       # (field, value): sets the field and nothing else
    POSSESSION = "possession"
    CLAIM = "check"                         # said of the play; checked, not kept
    FOUL = "foul"                           # (name, by)
    FLAG = "flag"
    FOUL_DETAIL = "about a foul"            # (field, value)
    BOTH = "both fouls"
    NULLIFIED = "called back"
    CHOICE = "choice"
    STANDS_AS = "stands as"
    SET = "set"
    SAID = "set to"                         # (field, value)
    SAID_SLOT = "set number"                # field
    FILLER = "filler"
    BOTH_TEAMS = "both teams"


START, PLAY, KICKED, TRY, MEASURED, IN_FOUL, IN_SET, TOSS, TIMEOUT, AFTER_FOUL, ANYWHERE = ("at the start",
    "in a play", "on a kick", "on a try", "at a measurement", "after a foul", "after set", "at a toss", "at a timeout",
    "after a foul or in a play", "anywhere")


@dataclass(frozen=True)
class Word:
    """One row of the table."""

    text: str
    role: Role
    value: Any = None
    also: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    where: str = PLAY
    about: str = ""

    @property
    def silent(self) -> bool:
        """It only says what the words beside it mean, and is not shown by itself."""
        return self.role in _SILENT


_SILENT = {Role.PREPOSITION, Role.FILLER, Role.SLOT, Role.YARDS, Role.LOSS, Role.GAIN, Role.SAID_SLOT, Role.FLAG,
           Role.SIDE, Role.TEAM}

PLUS = ("plus", "add", "added", "tack on", "tacked on")
"""Words after which the yards of a foul follow those of the play."""
_K, _O, _E = PlayKind, Outcome, EventKind
_OFFENSE, _DEFENSE = Side.OFFENSE, Side.DEFENSE


def split_phrases(*texts: str) -> tuple[str, ...]:
    """The phrases of texts in which commas part them."""
    return tuple(part for text in texts for part in text.split(", ") if part)


def _kind(text: str, kind: PlayKind, outcome: Outcome | None = None, also: str = "", codes: str = "",
        where: str = START, about: str = "") -> Word:
    return Word(text, Role.KIND, (kind, outcome), split_phrases(also), split_phrases(codes), where, about)


def _outcome(text: str, outcome: Outcome, also: str = "", codes: str = "", where: str = PLAY, about: str = "") -> Word:
    return Word(text, Role.OUTCOME, outcome, split_phrases(also), split_phrases(codes), where, about)


def _row(text: str, role: Role, value: Any = None, also: str = "", codes: str = "", where: str = PLAY, about: str = ""
         ) -> Word:
    return Word(text, role, value, split_phrases(also), split_phrases(codes), where, about)


def _manner(text: str, kind: PlayKind | None, also: str = "") -> Word:
    return Word(text, Role.MANNER, (kind, text), split_phrases(also), (), START,
                "kept on the play" if kind is None else f"a {kind.value}; kept on the play")


_WHICH = ("1st", "2nd", "3rd", "4th", "first", "second", "third", "fourth", "the", "")
_ENDS = ", ".join((*(" ".join(part for part in (end, which, what) if part)
    for end in ("end of", "end of the", "end", "end the") for which in _WHICH
    for what in ("quarter", "period", "half", "") if which not in ("the", "") or what),
    *(f"{which} {what} {ended}".strip() for which in _WHICH for what in ("quarter", "period", "half")
    for ended in ("over", "is over", "ends", "has ended", "is done", "comes to an end", "expires")),
    *(f"{end}{quarter}" for end in ("end ", "end of ") for number in "1234"
    for quarter in (f"{number} q", f"q{number}")), "eoq", "eoh", "eog", "eop"))

_NOT_HELD = "".join(f"{could} {hold}, " for could in ("could not", "cannot", "can't", "couldn't")
    for hold in ("hang on", "hang on to it", "hold on", "hold on to it", "hold it", "catch it", "handle it",
    "bring it in", "make the catch", "come up with it"))

_UNCAUGHT = "".join(f"{that}{who} {catches}, " for that in ("", "that ") for who in ("nobody", "no one", "no receiver",
    "none of them") for catches in ("catches", "catches it", "caught", "caught it", "could catch", "can catch",
    "can catch it",
    "could catch it", "could get to", "could reach", "got a hand on"))
_ASTRAY = "".join(f"{lead}too {far}, " for lead in ("", "it was ", "was ") for far in ("high", "low", "far", "long",
    "wide", "deep", "hot", "hard")) + "".join(f"{where}, " for where in ("off target", "off the mark", "into the dirt",
    "in the dirt", "at his feet", "at the receiver feet", "short of the receiver", "behind the receiver",
    "ahead of the receiver", "wide of the receiver", "well over his head",
    "out of everyone reach", "out of his reach", "out of the receiver reach",
    "beyond his reach", "wide of him", "well wide", "way wide", "way high", "way short"))

_FOUND = "".join(f"{verb} the {who}, " for verb in ("hit", "found") for who in ("receiver", "tight end", "wideout",
    "flanker", "wide receiver", "slot receiver", "split end", "slot", "back", "tailback", "fullback", "wr", "te", "rb"))

_TRIED = tuple(f"{tried} to " for tried in ("tries", "tried", "trying", "try", "attempts", "attempted"))
_TRIED_RUN = "".join(f"{tried}{run}, " for tried in _TRIED for run in ("run it in", "run it", "run", "punch it in",
    "take it in", "carry it in", "sneak it in", "walk it in"))
_TRIED_PASS = "".join(f", {tried}{throw}" for tried in _TRIED for throw in ("throw it in", "pass it in",
    "throw it", "throw for two"))

_IN_THE_POCKET = "".join(f"{down} in the pocket, " for down in ("taken down", "brought down", "dragged down",
    "hauled down",
    "pulled down", "dropped", "caught", "wrapped up", "swallowed up", "buried", "hit", "nailed"))
KINDS: tuple[Word, ...] = (
    _kind("run", _K.RUN, also=(
          _TRIED_RUN + "goes off, goes around, goes up, goes over, cuts up, bounces it outside, cuts back, "
              "takes it off tackle, "
          "takes it up the middle, goes up the middle, goes off tackle, takes it around end, goes around end, takes it "
          "off left tackle, takes it off right tackle, takes it around left end, takes it around right end, hands it "
          "off, handed it off, handed off, hand it off, handed it to, hands it to, gives it to, bulls, plows, bursts, "
          "rumbles, rumbled, races, sprints, scampers, scampered, darts, churns, churned, powers, barrels, squirts, "
          "pounds it, slams, slammed, bowls, takes the handoff, takes it himself, carries it, runs it, rns, rush, "
          "hands off, hands off to, hand off to, handoff to, on the ground, carry, ball carried, handoff, hand off, "
          "ground gain"), codes="r", about="then yards gained, or the yard line it went to"),
    _kind("pass", _K.PASS, _O.COMPLETE, (
          _FOUND + "through the air, strike, throws a strike, throws one, lofts one, fires one, heaves one, "
          "lobs one, hits one, "
          "slings one, "
          "fires, fired, lofts, lofted, lobs, slings, heaves, zips, flips it to, dumps it off, finds, hooks up with, "
          "throws it, legal forward pass, cmp, cmpl, comp, cmplt, rec, pss, pas, completion, complete pass, pass "
          "complete, complete, throw, pass caught, reception, hits, connects, hurls, airs it out, connects with, pass "
          "is caught, pass is complete, complete to, pass completed, pass completion, forward pass"),
         codes="p", about="then yards gained, or the yard line it went to"),
    _kind("incomplete", _K.PASS, _O.INCOMPLETE, (
          _NOT_HELD + _UNCAUGHT + _ASTRAY
          + "lands out of bounds, "
              "landed out of "
          "bounds, came down out of bounds, comes down out of bounds, feet out of bounds, one foot out of bounds, "
          "over his head, over the receiver head, over the receivers head, sails over his head, "
          "knocks the pass down, bats the pass down, knocks the ball down, "
          "breaks up the pass, throws the ball away, swats the pass away, knocks it down, bats it down, "
          "nobody caught it, no "
          "one caught it, fell to the ground, hits the turf, one hopped, one hops it, into the stands, throws it into "
          "the stands, throws it out of bounds, out of the end zone incomplete, dr, incmp, incpl, drp, uncatchable, "
          "out of reach, off his hands, off the hands, off his fingertips, bounced, bounces in, hits the ground, "
          "incomplete pass, pass incomplete, incompletion, inc, incompl, falls incomplete, dropped, dropped pass, pass "
          "dropped, batted down, batted, pass batted down, pass batted, knocked down, knocked away, slapped down, "
          "swatted, swatted down, knocked loose, thrown away, throws it away, throwaway, ball thrown away, broken up, "
          "pass broken up, pass breakup, pbu, overthrown, overthrew, underthrown, no catch, not caught, uncaught, "
          "missed pass, over throw, pass defended, pass defensed, pass no good"), codes="i"),
    _kind("sack", _K.SACK, also=(
          _IN_THE_POCKET + "tackled behind the line while trying to throw, tackled while trying to throw, "
              "tackled trying to throw, "
          "tackled while trying to pass, tackled trying to pass, caught behind the line trying to throw, gets dumped, "
          "is dumped, was dumped, dumped in the backfield, tackled in the pocket, passer tackled, quarterback down in "
          "the pocket, down in the pocket, quarterback goes down, passer goes down, brought down in the pocket, skd, "
          "qb sack, quarterback sacked, qb is sacked, coverage sack"), codes="s, sk", about="then yards lost"),
    _kind("punt", _K.PUNT, also=(
          "pnt, kicks it away, kicked away, punts it away, scrimmage kick, punt kick"),
         codes="pu", about="then where it came down"),
    _kind("field goal", _K.FIELD_GOAL, also=(
          "fg, field goal attempt, fg attempt, field goal try, placekick, place kick, field goal kick, fga"),
         codes="f", about="then its length"),
    _kind("kneel", _K.KNEEL, also=(
          "kneel down, kneeldown, takes a knee, knee, victory, victory formation, qb kneel, genuflect, quarterback "
          "kneel, qb knee, kneeled"), codes="k", about="then yards lost"),
    _kind("intercepted", _K.PASS, _O.INTERCEPTED, (
          "pass int, pass int'd, passes int, interception, int, pick, picked off, pass intercepted, "
          "intercepted pass, ints, pass picked off, pass "
          "interception"), codes="in", about="at, then returned to"),
    _kind("spike", _K.SPIKE, also="spk, spkd, clocked it, spiked ball, spikes the ball, clocked", codes="sp"),
    _kind("timeout", _K.TIMEOUT, also=(
          "timeout taken by, timeout taken, calls a timeout, takes a timeout, uses a timeout, burns a timeout, calls "
          "timeout, calls a time out, takes a time out, 30 second timeout, 60 second timeout, thirty second timeout, "
          "full timeout, short timeout, first timeout, second timeout, third timeout, 1st timeout, 2nd timeout, 3rd "
          "timeout, last timeout, final timeout, injury timeout, time out, to taken, charged timeout, timeout called"),
         codes="t, ti"),
    _kind("end of period", _K.END_OF_PERIOD, also=
          "clock runs out, time runs out, time has run out, clock has run out, clock expires, halftime, half time, "
          "half, end of game, end of the game, end of regulation, quarter ends, half ends, game ends, period ends, "
          "end of overtime, final, time expires, end of quarter one, game over, " + _ENDS, codes="e"),
    _kind("measurement", _K.MEASUREMENT, also=(
          "measured, chains, chain measurement, they measure, bring out the chains, chains out, chains are out, chains "
          "come out, bring the chains out, bring out the sticks, sticks, chains brought out, chains on the field, "
          "chains measure"), codes="m", about="then short or made"),
    _kind("no play", _K.NO_PLAY, also=(
          "play blown dead, blown dead"), codes="np", about="a foul before the snap, or the whole down put back"),
    _kind("replay reversal", _K.REPLAY_REVERSAL, also=(
          "reversed, reversed to, overturned, overturned to, reviewed and reversed, reviewed and reversed to, call "
          "reversed, play reversed, ruling reversed, reversal, ruling overturned, call overturned, reversed on replay, "
          "replay reversed, play overturned, upon review reversed, ruling on the field reversed, ruling on the field "
          "overturned, after review, changed on replay"),
         codes="rep", about="the play before stands as this one tells it"),
    _kind("inadvertent whistle", _K.INADVERTENT_WHISTLE, also=(
          "early whistle, whistle blew by mistake, whistle by mistake, erroneous whistle, whistle blown by mistake, "
          "accidental whistle"), codes="iw"),
    _kind("kickoff", _K.KICKOFF, also=(
          "kickoff by, kkf, kick-off by, kick off, ko, free kick, kickoffs, opening kickoff"),
         codes="k", about="then where it came down, and returned to"),
    _kind("safety free kick", _K.SAFETY_FREE_KICK, also=(
          "free kick after a safety, free kick after safety, safety kick, free kick, punted free kick, free kick after "
          "the safety, free kick following the safety, free kick following a safety, free kick from the safety, kick "
          "after the safety, kick after safety"), codes="sk"),
    _kind("try kick", _K.TRY_KICK, also=(
          "xpt, pat try, pat, extra point, xp, point after, pat kick, extra point kick, try by kick, one-point try, "
          "try for one, attempt for one, try for one point, going for one, convert, convert kick, one point convert, "
          "conversion kick, kick try, extra pt, point after touchdown, pat attempt, extra point attempt, xp attempt, "
          "kicked extra point, conversion, ep, single point try"), codes="k", where=TRY),
    _kind("try run", _K.TRY_RUN, also="two-point run, 2 point run, 2-pt run, conversion run, run try"),
    _kind("try pass", _K.TRY_PASS, also="two-point pass, 2 point pass, 2-pt pass, conversion pass, pass try"
          + _TRIED_PASS),
    _row("kick", Role.KICK, None, (
          "gets it away, gets the kick away, gets the punt away, kicks, boots it, boots one, booms it, booms one, "
          "boots it away, gets off a kick"), where=START, about="the kick that the situation calls for"),
    _kind("coin toss", _K.COIN_TOSS, also="toss, coin flip, toss won by, coin toss won by", where=TOSS),
    _kind("scrimmage run", _K.RUN, about="on a try, where run means the try's"),
    _kind("scrimmage pass", _K.PASS, _O.COMPLETE, about="on a try, where pass means the try's"),
)
TRIES: tuple[Word, ...] = (
    _row("two-point try", Role.TWO_POINT, None, (
          "two pt conv, 2 pt conv, two-point conversion, two point attempt, 2-point conversion, 2 point attempt, 2 pt "
          "try, 2 pt conversion, two point, 2 point, two points, 2pt, going for two, for two, for 2, goes for 2, "
          "tries for two, tried for two, trying for two, tries for 2, tried for 2, "
          "two-point convert, 2-point try, two pointer, two pt conversion, two-point play, 2 point convert, 2 pts, two "
          "pt try, for two points"), about="then run or pass, good or no good"),
)
MANNERS: tuple[Word, ...] = tuple(_manner(*row) for row in (
    ("draw", _K.RUN, "dr, drw, draw play, qb draw, quarterback draw"), ("sweep", _K.RUN, "swp, toss sweep"),
    ("jet sweep", _K.RUN, "fly sweep, jet"), ("option", _K.RUN, "speed option, triple option, veer"),
    ("read option", _K.RUN, "zone read"), ("toss", _K.RUN, "pitch, toss play, pitch play"),
    ("reverse", _K.RUN, "reverses, rev, reverse to, reverse to the, double reverse"), ("end around", _K.RUN),
    ("counter", _K.RUN, "ctr, cntr, counter play, counter trey"), ("trap", _K.RUN),
    ("belly", _K.RUN, "buck, belly option"), ("midline", _K.RUN, "midline option"),
    ("rocket", _K.RUN, "rocket toss, rocket sweep"), ("power", _K.RUN, "pwr, power o, power play"), ("duo", _K.RUN),
    ("pin and pull", _K.RUN, "pin pull"), ("mesh", _K.PASS, "mesh concept"),
    ("verticals", _K.PASS, "four verts, verts, four verticals, all go"), ("smash", _K.PASS),
    ("flood", _K.PASS, "sail route, levels, y cross, shallow cross, shallow"),
    ("zone", _K.RUN, "iz, split zone, oz, inside zone, outside zone, stretch"),
    ("dive", _K.RUN, "dv, fullback dive, fb dive, plunge, iso, blast"),
    ("sneak", _K.RUN, "snk, qb snk, qb sneak, quarterback sneak"),
    ("keeper", _K.RUN,
     "qb keeper, quarterback keeper, qb keep, keeps it, keeps, qb run, quarterback run, qb keeps it"),
    ("scramble", _K.RUN,
     "scr, scrm, tucks and runs, tucks it and runs, tuck and run, tucks it, qb scramble, quarterback scramble"),
    ("wildcat", _K.RUN),
    ("bootleg", None, "waggle, sprint out, sprint right, sprint left, boot, naked bootleg, rollout, roll out"),
    ("off tackle", _K.RUN, "off tkl, off lt tkl, off rt tkl, off lt tackle, off rt tackle, off lt, off rt"),
    ("screen", _K.PASS,
     "scr, scrn, bubble, tunnel, jailbreak, jailbreak screen, screen pass, bubble screen, tunnel screen, screens"),
    ("slant", _K.PASS, "slant pass, slant route, slants"), ("fade", _K.PASS, "fade route, fade pass"),
    ("play action", _K.PASS, "play fake, pump fake, pa, play action pass, fake handoff, fakes the handoff, pap"),
    ("rpo", None, "run pass option"), ("checkdown", _K.PASS, "check down, dump off, dumpoff, dump pass, dump"),
    ("hail mary", _K.PASS), ("statue of liberty", _K.RUN), ("flea flicker", _K.PASS),
    ("shovel pass", _K.PASS, "shovel"), ("swing pass", _K.PASS, "swing, flat, flat route, flat pass"),
    ("hitch", _K.PASS, "stick, curl, curl route, hitch route"),
    ("deep pass", _K.PASS, "bomb, deep ball, go route, streak, post, post route, corner route, seam, deep post"),
    ("quick out", _K.PASS,
     "dig, dig route, comeback, comeback route, out route, crossing route, drag, wheel, wheel route, cross"),
    ("fake", None,
     "fake the punt, fake the field goal, fake the kick, fake the fg, on a fake punt, on a fake field goal, fake punt, "
     "fake field goal, fake fg, fake kick, punt fake, field goal fake, fg fake, fake extra point, fake pat"),
    ("onside", _K.KICKOFF,
     "onside kick, on-side kick, onsides kick, onside kickoff, onsides, kickoff onside, kicks onside"),
    ("squib", _K.KICKOFF, "squib kick, squibbed, squib kickoff"), ("quick kick", _K.PUNT),
    ("pooch", None, "pooch kick, sky kick"), ("pooch punt", _K.PUNT),
    ("rugby", _K.PUNT, "rugby punt, rugby kick, rugby style punt"), ("pooch kickoff", _K.KICKOFF),
    ("coffin corner", _K.PUNT, "coffin corner punt, coffin corner kick, coffin"), ("drop kick", None, "dropkick"),
))
_RUNS_IN = "".join(f"{who} {runs} it in, " for who in ("quarterback", "qb", "tailback", "fullback", "back", "runner")
    for runs in ("runs", "takes", "carries", "punches"))
SCORES: tuple[Word, ...] = (
    _row("touchdown", Role.SCORE, Score.TOUCHDOWN, (
          _RUNS_IN + "takes it to the house, takes it all the way, the rest of the way, taken in for the score, "
          "takes it in for the score, he is in, he gets in, gets in, is "
          "in for the score, dives in, plunges in, powers in, bulls in, rumbles in, dances in, touchdown us, punches "
          "it in, punched it in, walks it in, strolls in, td, tds, a score, score, touchdowns, touch down, in for two, "
          "it in for two, in for the score, it in for the score, the house, runs it in, takes it in, carries it in, "
          "goes in for the score, the length of the field, house call, to the house, paydirt, to pay dirt, for the "
          "score, for a score, all the way"), codes="t"),
    _row("safety", Role.SCORE, Score.SAFETY, (
          "two points for them, two points for us, two points for the defense, two points for the other team, for two "
          "points to the defense"), codes="sa"),
    _row("no score", Role.SCORE, Score.NONE),
    _row("single point", Role.SCORE, Score.SINGLE, "single, rouge, one point, for a point, for one point, a rouge"),
    _row("pick six", Role.PICK_SIX, None, "pick 6"),
    _row("scoop and score", Role.PICK_SIX, "scoop", "scooped and scored, scoops and scores, fumble six"),
)
_CALLED_FOR = "".join(f"fair catch {was}{called}{made}, " for was in ("", "was ", "is ") for called in ("called for",
    "called", "signaled", "signaled for", "signalled", "waved for", "signaled for and called") for made in ("",
    " and made",
    " and caught", " and taken")) + ("".join(f"{calls} a fair catch and makes it, " for calls in ("calls for",
    "waves for",
    "signals for", "signals", "called for", "waved for", "signaled for")))
_OUT = ("out of bounds", "over the sideline", "across the sideline", "past the sideline", "into touch")
_WENT_OUT = "".join(f"{went} {out}, " for out in _OUT for went in ("goes", "rolls", "bounces", "flies", "hops", "skips",
    "dribbles", "trickles", "lands", "tumbles", "caroms", "spins", "sails", "drifts", "kicked", "angled", "steps",
    "runs",
    "driven", "shoved", "shoved him", "bumped", "pushed", "forced", "knocked", "escorted", "ridden", "carried",
    "dragged", "falls", *(f"{moves}{way}" for moves in ("goes", "rolls", "bounces") for way in (" forward",
    " backward", " backwards", " harmlessly")),
    "slips", "hit", "is", "ran", "comes to rest", *(f"{moves} him" for moves in ("pushes", "knocks", "forces", "runs",
    "drives", "shoves", "bumps", "rides", "carries", "drags", "escorts", "hits")))) + "".join(f"{went} out, "
    "" for went in ("shoved", "driven",
    "ridden", "bumped", "angled", "escorted", "chased", "hit")) + (
    "crosses the sideline, crossed the sideline, hits the sideline, touches the sideline, steps on the sideline, "
    "over the side line, ")
OUTCOMES: tuple[Word, ...] = (
    _outcome("touchback", Outcome.TOUCHBACK, (
          "tbk, tb, touch back, for a touchback, touchbacks, ends in a touchback"), codes="t", where=KICKED),
    _outcome("fair catch", Outcome.FAIR_CATCH, (
          _CALLED_FOR + "fair caught, fair catch made, makes his fair catch, fc, faircatch, fair catch called, "
              "fair catch "
          "signal, signals fair catch, makes a fair catch, makes the fair catch, takes a fair catch, "
          "waves for a fair catch, waves for the fair catch, signals for a fair catch, called for a fair catch, "
          "fair catch by"),
         codes="f", where=KICKED),
    _outcome("out of bounds", Outcome.OUT_OF_BOUNDS, (
          _WENT_OUT + "pushes him out, obs, ob, oob, out at, pushed out, knocked out, forced out, "
          "stepped out, out, out the sideline, runner out of bounds, runner "
          "is out of bounds, runner goes out of bounds, ball carrier out of bounds"), codes="o", where=KICKED),
    _outcome("downed", Outcome.DOWNED, (
          "dwnd, is downed, downed at, ball downed, kick downed, killed, down it, they down it, rolls dead, dead ball "
          "at, down at, is dead, dies, downs it, downs the "
          "punt, down the punt, downs the kick, downs the ball, kick is downed"), codes="d, dn", where=KICKED),
    _outcome("muffed", Outcome.MUFFED, (
          "drops our punt, drops their punt, drops our kick, muffs our punt, drops the punt, drops the kick, drops the "
          "kickoff, fair catch muffed, muffs the fair catch, muffed fair catch, muffs the punt, muffs the kick, muffs "
          "the ball, muffs it, muffs the kickoff, muffed by the receivers, muffed punt, muffed kick, mishandled, "
          "muffed catch, muffs the catch, muffed kickoff, touched by the receivers, hits a receiver, hits one of their "
          "guys, hits one of them, touches one of them, hits one of the receivers, touches one of the receivers, off a "
          "receiver, touches a receiver, touched by a receiver, muffed by the returner, muffed by the receiving team, "
          "bobbled"), codes="mm", where=KICKED),
    _outcome("blocked", Outcome.BLOCKED, (
          "blk, blkd, bkd, block, gets blocked, is blocked, partially blocked"), codes="b", where=KICKED),
    _outcome("good", Outcome.GOOD, (
          "it through, off the upright and in, hits the upright and goes in, off the upright and good, off the "
          "crossbar and in, off the crossbar and good, banks in, goes in, gd, kick gd, right down the pipe, right down "
          "the middle, down the pipe, it is up and it is good, up and good, is good, kick is good, kick good, made it, "
          "successful, succeeds, converts, made, makes, is up and good, through the uprights, sails through, "
          "goes through, is "
          "through, split the uprights, it is good, conversion good, attempt good, successful attempt, good kick"),
         codes="g"),
    _outcome("no good", Outcome.NO_GOOD, (
          "no gd, missed it, not good, is no good, nogood, unsuccessful, fails, missed, kick fails, kick failed, "
          "failed attempt, attempt fails, no, conversion fails, stopped, stuffed, ng, kick no good, is not good, "
          "turned away"), codes="n"),
    _row("short", Role.MISSED, "short", (
          "not enough, didn't make it, didn't get it, did not make it, did not get it, doesn't make it, doesn't get "
          "it, short of the first down, short of a first down, short of the sticks, short of the marker, short of the "
          "chains, comes up short, falls short, stopped short, stopped short of the goal line, just short, is short, "
          "short of the goal line, short of the line to gain, dead short of the line to gain, ball dead short of the "
          "line to gain, ball is dead short of the line to gain"), codes="s", where=MEASURED),
    _row("wide", Role.MISSED, "wide", (
          "wide l, wide r, wide left, wide right, wide to the left, wide to the right, off the upright, hit the left "
          "upright, hit the right upright, off the left upright, off the right upright, hit the upright, off the "
          "crossbar, hit the crossbar, doinked, left of the upright, right of the upright, hooked, pulled, pushed, "
          "pulled left, pushed right, hooked left, shanked")),
    _row("tipped", Role.FILLER, "tipped", "deflected, tip, is tipped, bobbled then caught, juggled"),
    _row("made", Role.OUTCOME, Outcome.MADE, "got it, he got it, line to gain made", codes="m", where=MEASURED),
    _row("returned", Role.RETURN, None, (
          "runs the kickoff back, runs the kick back, runs the punt back, bring it back, rtn, rtrn, retd, "
          "runs back, brings it "
          "out, "
          "bring it out, brought it out, brings it out to, brought out, ret, brought back, runs it back, return by, "
          "brings it back, took it back, run back by, advanced, runback, picked up and returned, returns it, takes it, "
          "carried back"), codes="rt", where=KICKED, about="then where to, or how far"),
    _row("caught", Role.CAUGHT, None, (
          "hauls in, hauls it in, snags, grabs, pulls in, snatched, brings in, fielded, received, gathered, taken, "
          "taken at, received by, fielded by, caught by, catch is made, "
          "catch was made, makes the catch, picked up at")),
    _row("unreturned", Role.FILLER, None, (
          "they let it roll, they let it bounce, no ret, no rtn, not returned, no return, untouched, without a return, "
          "let it bounce, lets it bounce, let it roll, lets it roll"),
         about="said of a kick that nobody brought back"),
)
_SNAPS = "".join(f"snap {went} over {whose} head, snaps it over {whose} head, " for went in ("sails", "goes", "flies")
    for whose in ("his", "the", "the punter", "the quarterback", "the kicker", "the holder"))
LOOSE_BALL: tuple[Word, ...] = (
    _row("fumble", Role.EVENT, (_E.FUMBLE, None), (
          "missed pitch, pitch missed, pitch is missed, misses the pitch, bad pitch, wild pitch, errant pitch, "
          "pitch goes wild, pitch is wild, pitch dropped, pitch is dropped, dropped pitch, drops the pitch, "
          "bad handoff, "
          "bobbled handoff, fumbled handoff, mishandled handoff, botched handoff, fumbled exchange, ball pops out, "
          "ball pops loose, ball popped out, ball popped loose, fum, fmb, fumb, coughed it up, ball is out, ball is "
          "loose, put it on the ground, puts it on the ground, ball is on the ground, loose ball, it is loose, lets it "
          "go, stripped, loses the ball, coughed up, ball comes loose, ball comes out, ball out, lost control, "
          "mishandles, drops the ball, ball loose, is loose, ball on the ground, on the turf, forced fumble, fumbled "
          "ball, fumble forced"), codes="f, fu"),
    _row("lost", Role.RECOVERED, "other", "ball lost, turned over, loses it", codes="l"),
    _row("kept", Role.RECOVERED, "same", "retained, keeps the ball", codes="k"),
    _row("recovery", Role.RECOVERED, None, (
          "jumps right back on it, jumps back on it, jumps right on it, rec, rcvd, recd, rcv, rec by, got it, got it "
          "at, falls on the ball at, got it back, has it, have it, have got it, comes up with it, comes up with the "
          "ball, fell back on it, pounce on it, fall on it, picked it up, scooped it up, have the ball, has the ball, "
          "have the football, has the football, recovered, covered, jumped on, picked up, scooped up, scooped, "
          "recovered by, recovery by, pounced on, falls on the ball, scooped and, recov, recov by, gets the ball, ends "
          "up with it, ends up with the ball, gets on it, jumps on it, falls on top of it, dives on it")),
    _row("recovers the fumble", Role.RECOVERED, "fumble", (
          "recovers a fumble, recovers the ball, recovery of the fumble, recovery of a fumble")),
    _row("own recovery", Role.EVENT, (_E.OWN_RECOVERY, None), (
          "recovered his own fumble, recovers own fumble, recovers it himself, recovered by the fumbler, recovered by "
          "himself, own fumble recovered, recovers his own, picks up his own fumble, regains control"), codes="o"),
    _row("bad snap", Role.EVENT, (_E.MUFF, None),
          "snap is bobbled, snap bobbled, snap is dropped, snap is high, snap is low, snap is bad, drops the snap, "
          "dropped snap, fumbled the snap, mishandles the snap, "
          "aborted, aborted snap, " + _SNAPS + "snap over his head, high snap, "
                                                  "botched snap, snap muffed, snap over the punter head, "
                                                  "snap over the quarterback head, snap over the kicker head, "
                                                  "snap over the holder head, snap over the head, "
                                                  "snap sails over his head, bad exchange, muffed snap, low snap, "
                                                  "errant snap, bobbled snap", "ab"),
    _row("lateral", Role.EVENT, (_E.LATERAL, None), (
          "tosses it backwards, throws it backwards, tosses it back, pitches it back, flips it back, throws it back, "
          "hook and lateral,  backward pass, hook and ladder, pitched back")),
    _row("muff", Role.EVENT, (_E.MUFF, None), (
          "first touching, first touching by, off a blocker, hits a blocker, touched by, touched first, touched"),
         codes="mu"),
    _row("landing", Role.EVENT, (_E.LANDING, None), "lands beyond the line and comes back"),
    _row("forced touching", Role.EVENT, (_E.FORCED_TOUCHING, None), (
          "blocked into the ball, blocked into it, pushed into the ball, forced into the ball, batted into")),
    _row("bat", Role.EVENT, (_E.BAT, None), "batted the ball, batted back"),
    _row("momentum", Role.EVENT, (_E.MOMENTUM, None), "momentum takes him, momentum carries him, momentum into"),
    _row("ball out of bounds", Role.EVENT, (_E.OUT_OF_BOUNDS, None), (
          "fumble out of bounds, loose ball out of bounds, ball rolls out of bounds, ball goes out of bounds, fumble "
          "rolls out of bounds"), codes="o"),
)
_PLAYERS = (
    "quarterback, qb, tailback, fullback, halfback, rb, tb, hb, wr, te, fb, wideout, receiver, runner, punter, "
    "snapper, carrier, holder, passer, end, tackle, guard, center, slot, flanker, wing, wingback, slotback, gunner, "
    "running back, wide receiver, tight end, ball carrier, defensive end, defensive tackle, split end, slot receiver, "
    "nose tackle, nose guard, long snapper, middle linebacker, outside linebacker, inside linebacker, strong safety, "
    "free safety, left end, right end, left tackle, right tackle, left guard, right guard, returner, ball, trailer, "
    "kid, boy, guy, fella"
)
_PARTS = (
    "safety, safeties, linebacker, cornerback, corner, defensive back, player, players, guys, punt team, kick team, "
    "bench, sideline, side, line, lineman, "
    "linemen, captain, coach, kicker, back, team, ball, defender"
)


def _of_one(whose: str) -> str:
    """``our tailback``, ``our own tailback``: the players and things of one side."""
    parts = [part for part in (_PARTS + ", " + _PLAYERS).split(", ") if part != "end"]
    own = ("quarterback", "tailback", "fullback", "receiver", "runner", "kicker", "punter", "returner", "guy", "team")
    return ", ".join((*(f"{whose} {part}" for part in parts), *(f"{whose} own {part}" for part in own)))


SIDES: tuple[Word, ...] = (
    _row("offense", Role.SIDE, _OFFENSE, (
          "offensive line, o line, offensive lineman, offence, offensive team, team a, kickers, kicking team, kicker, "
          "punting team, passing team, kicking side, team k, punt team, offensive, kick team, snapping team"),
         codes="o", where=AFTER_FOUL),
    _row("defense", Role.SIDE, _DEFENSE, (
          "defensive line, d line, defensive lineman, def, hands team, front line, up back, upback, defence, defensive "
          "team, team b, receivers, receiving team, return team, team r, defender, defenders, receiving side, "
          "returner, returners, defensive, returning team, punt returner, kick returner, defensive back, db, "
          "linebacker, cornerback"), codes="d", where=AFTER_FOUL),
    _row("us", Role.SIDE, "us",
          "we've, we're, we'll, us ball, we, " + _of_one("our"),
         about="the team that has the ball, unless it says otherwise: shown as a question"),
    _row("them", Role.SIDE, "them",
          "they've, they're, they'll, them ball, they, other team, opposing "
          "team, other side, opposing side, " + _of_one("their")),
)
TEAMS: tuple[Word, ...] = (
    _row("home", Role.TEAM, Team.HOME, (
          "home team, home side, home bench, home sideline, home ball"), codes="h", where=ANYWHERE),
    _row("visitors", Role.TEAM, Team.VISITORS, (
          "visitors ball, visitor ball, visitors bench, visitors sideline, visiting bench, vis, vstrs, visitor, "
          "visiting team, away, away team, road team, guests, visiting"), codes="v", where=ANYWHERE),
)
_FLOWN = ("goes", "sails", "flies", "bounces", "rolls", "soars", "carries", "lands", "kicked", "drifts")
_INTO = "".join(f", {went} {into} the end zone" for went in _FLOWN for into in ("into", "in"))
_THROUGH = "".join(f", {went} {out} the end zone" for went in _FLOWN
    for out in ("through", "out of", "out the back of"))
_AT_THE_LINE = "".join(f"{met} at the {line}, " for met in ("piled up", "stacked up", "stuffed", "stopped", "met",
    "dropped", "tackled", "hit", "brought down", "stood up", "swallowed up", "buried") for line in ("line",
    "line of scrimmage",
    "los"))
PLACES: tuple[Word, ...] = (
    _row("to", Role.PREPOSITION, "to", (
          "all the way out to, all the way back to, all the way up to, all the way down to, back at, forward progress "
          "stopped at, forward progress stopped, hauled down at, pulled down at, taken down at, brought down to, is "
          "at, forward progress, forward progress to, forward progress at, progress to, down to, up to, out to, back "
          "to, tackled at, stopped at, brought down at, gets to, all the way to, dragged down at, hits the ground at, "
          "lands at, spotted at, marked at, ends at, finishes at, over to, across to, went to, went down to, lands on, "
          "carries to, marked down at, down around, drops at"), where=ANYWHERE),
    _row("at", Role.PREPOSITION, "at", "on", where=ANYWHERE),
    _row("near", Role.PREPOSITION, "near", (
          "inside, around, near the, inside the, around the, just inside, just inside the, just outside, just outside "
          "the"), where=ANYWHERE),
    _row("the", Role.PREPOSITION, "the", where=ANYWHERE),
    _row("from", Role.PREPOSITION, "from", "out of, from out of", where=ANYWHERE),
    _row("for", Role.PREPOSITION, "for", (
          "after, gets, got, get, getting, able to get, manages to get, managed to get, good for another, "
          "thrown for a, dropped for a, tackled for a, stopped for a, of, went "
          "for, good for, picks up, up, gaining, goes, moves, picked up yardage of, for about, covering, went, "
          "nets, for a net of, travels"),
         where=ANYWHERE),
    _row("in", Role.PREPOSITION, "in", "into", where=ANYWHERE),
    _row("by", Role.PREPOSITION, "by", "against, called on, charged to, on team", where=ANYWHERE),
    _row("loss", Role.LOSS, None, (
          "lost, loss of, a loss, for a loss, for loss, for a loss of, for loss of, minus, lost yards, loss for, "
          "negative, tfl, tackle for loss, tackled for a loss, tackled for a loss of, tackled behind the line, "
          "dropped behind the line, stopped behind the line, dropped behind the line for a loss of, dropped "
          "for a loss, dropped for a loss of, thrown for a loss, thrown for a loss of, loses yardage"),
         where=ANYWHERE),
    _row("gain", Role.GAIN, None, (
          "after a gain of, after gaining, after a gain, picked up, gain of, a gain, for a gain, for a gain of, yards "
          "gained, pickup of, pickup, gain for, plus, add")),
    _row("no gain", Role.NO_GAIN, None, (
          "got nothing, gets nothing, picks up nothing, picked up nothing, " + _AT_THE_LINE + "no loss, for no loss, "
          "with no loss, without loss, without gain, without a gain, "
          "ng, nothing doing, nothing there, at the los, to the los, back to the los, no gn, for no gain, no yards "
          "gained, stopped for no gain, no yardage, for nothing, nothing, zero yards, to the line of scrimmage, back "
          "to the line of scrimmage, no yards, for no yards, stacked up at the line, stuffed at the line of scrimmage, "
          "stopped at the line, stopped at the line of scrimmage, at the line of scrimmage, stuffed at the line")),
    _row("yards", Role.YARDS, None, "yard, yd, yds, yrds, yrd, yarder", where=ANYWHERE),
    _row("in the end zone", Role.END_ZONE, ("in", None), (
          "finds the end zone, to the back of the end zone, in the back of the end zone, "
          "to the corner of the end zone, in the corner of the end zone, finds paydirt, crosses the plane, "
          "breaks the plane, crosses the goal line, to the "
          "pylon, at the pylon, hits the pylon, over the plane, into the end zone, end zone, endzone, in end zone, in "
          "the endzone, into the endzone, in ez, to the end zone, at the end zone, from the end zone, out of the "
          "endzone, in goal, over the goal line, across the goal line, behind the goal line, the end zone, ez, in the "
          "ez, beyond the goal line, in goal area, into goal, into end zone, reaches the end zone, dead in the end "
          "zone, ball dead in the end zone, is dead in the end zone, ball is dead in the end zone" + _INTO)),
    _row("in the own end zone", Role.END_ZONE, ("in", _OFFENSE), (
          "own end zone, in own end zone, into own end zone, in their own end zone, in his own end zone, in its own "
          "end zone, own goal line, behind own goal line, behind its own goal line, behind his own goal line, into the "
          "own end zone, own endzone")),
    _row("in our end zone", Role.END_ZONE, ("in", "us"), (
          "our end zone, our own end zone, in our own end zone, into our end zone")),
    _row("out of our end zone", Role.END_ZONE, ("through", "us"), "through our end zone"),
    _row("out of their end zone", Role.END_ZONE, ("through", "them"), "through their end zone"),
    _row("in their end zone", Role.END_ZONE, ("in", "them"), "their end zone, into their end zone"),
    _row("in the opp end zone", Role.END_ZONE, ("in", _DEFENSE), (
          "opp end zone, in opp end zone, other end zone, to the other end zone, the other end zone, to the other goal "
          "line, opponents end zone, in the opponents end zone, opponent end zone, opp goal line, in the opponent end "
          "zone, opposite end zone")),
    _row("out of the end zone", Role.END_ZONE, ("through", None), (
          "through the end zone, through the back of the end zone, out the back of the end zone, out of end zone, "
          "over the end line, steps on the end line, thru the end zone, through end zone, out of the back of the end "
          "zone, past the end line, out the end zone, through the endzone, out of bounds in the end zone, out the "
          "back, through the back, out of bounds through the end zone, across the end line, over the deadline, out of "
          "the ez" + _THROUGH)),
    _row("kicked to", Role.SLOT, "kick_to", (
          "start at, they start at, will start at, they will start at, kicked into, receives at, receives it at, "
          "receives the kick at, takes it at, fielded at, caught at, fielded on, caught on")),
    _row("kicked from", Role.SLOT, "kick_from"),
    _row("returned to", Role.RETURN, "to", (
          "gets it to, brings it to, carries it to, takes it to, gets it back up to, returned it to, brought back to, "
          "run back to, gets it out to, gets out to, gets it back to, gets it up to, brought out to, runs it back to, "
          "advanced to")),
    _row("dead at", Role.SLOT, "spot", (
          "play dead at, play is dead at, ball is dead at, whistled down at, ball dead at, whistled dead at")),
    _row("offense ball", Role.POSSESSION, _OFFENSE, "off ball, o ball, kicking team ball, ball to the offense"),
    _row("defense ball", Role.POSSESSION, _DEFENSE, "def ball, d ball, receiving team ball, ball to the defense"),
)
_AGAIN = ", ".join(f"{again} {which}{down}" for down in (" down", "") for again in ("repeat", "replay", "still",
    "remains", "it remains",
    "repeats", "now", "and now", "it is still") for which in ("first", "second", "third", "fourth", "1st", "2nd",
    "3rd", "4th", "same"))
_REPEATED = "".join(f", {which} down{will} {again}" for which in ("first", "second", "third", "fourth", "same", "the")
    for will in ("", " is", " will be", " to be") for again in ("repeated", "replayed", "played over"))
CLAIMS: tuple[Word, ...] = (
    _row("first down", Role.CLAIM, "first down", (
          "fd, 1st dn, first dn, line to gain is reached, line to gain was reached, reaches the line to gain, first "
          "down awarded, first down is awarded, awarded a first down, moved the chains, moves the sticks, line to gain "
          "made, line to gain is made, line to gain reached, 1st down, a first down, for a first down, first, 1st, and "
          "a first down, for the first down, first and ten, 1st and 10, first down made, new set of downs, first "
          "downs, converts the first down, picks up the first, picks up the first down")),
    _row("turnover on downs", Role.CLAIM, "turnover on downs", (
          "ball over on downs, goes over on downs, tod, turn over on downs, over on downs, loss of downs, downs")),
    _row("turnover", Role.CLAIM, "turnover"),
    _row("three points", Role.CLAIM, "points 3", "3 points, for three points, for 3 points, 3 pts, three pts"),
    _row("four points", Role.CLAIM, "points 4", "4 points, for four points, for 4 points, 4 pts, four pts"),
    _row("on that down", Role.CLAIM, "down", _AGAIN + _REPEATED +
          ", second down, third down, fourth down, 2nd down, 3rd down, 4th down, on first and ten, on first and 10, "
          "on second down, on third down, on fourth down, on first down, on 1st down, on 2nd down, on 3rd down, on "
          "4th down"),
)
_SEVERAL = "".join(f"{many} {what}, " for many in ("two", "2", "three", "3", "both", "several", "a couple of")
    for what in ("fouls", "flags", "penalties"))
_TAKES_YARDS = "".join(f", takes the {yards}{what}" for yards in ("five", "5", "ten", "10", "fifteen", "15")
    for what in (" yards", "")) + "".join(f", {who} takes the {what}" for who in ("they", "we") for what in ("yards",
    "yardage")) + ", takes the yards, takes the yardage"
FOUL_WORDS: tuple[Word, ...] = (
    _row("penalty", Role.FLAG, None, (
          _SEVERAL + "flags fly, flag flies, flag is thrown, flag thrown, flag down, pen, pnlty, commits, committed, "
              "is flagged "
          "for, flagged for, is called for, is guilty of, charged with, marker, laundry, penalty marker, flag, foul, "
          "penalties, penalized, fouls, called for, infraction"), where=ANYWHERE),
    _row("declined", Role.FOUL_DETAIL, ("decision", FoulDecision.DECLINED), (
          "takes the play, takes the result of the play, takes the down, decl, they declined it, we declined it, "
          "they declined, we declined, declined it, refused, penalty declined, "
          "dec, is declined, was declined, not accepted"), codes="de, dec", where=IN_FOUL),
    _row("accepted", Role.FOUL_DETAIL, ("decision", FoulDecision.ACCEPTED), (
          "we take it, they take it, we take the penalty, they take the penalty, takes the penalty, acc, acpt, penalty "
          "accepted, enforced, is accepted, was accepted, is enforced" + _TAKES_YARDS), codes="a", where=IN_FOUL),
    _row("offset", Role.BOTH, FoulDecision.OFFSET, (
          "off-setting, offsetting penalties, offsetting fouls, fouls offset, penalties offset, double foul, both "
          "offset, they offset"), codes="of", where=IN_FOUL),
    _row("itself offset", Role.FOUL_DETAIL, ("decision", FoulDecision.OFFSET), where=IN_FOUL, about="this foul alone"),
    _row("both declined", Role.BOTH, FoulDecision.DECLINED, "all declined", where=IN_FOUL),
    _row("both teams", Role.BOTH_TEAMS, None, (
          "both sides, both, each team, by both teams, on both teams, on both, on each team, on both sides"),
         where=IN_FOUL),
    _row("both accepted", Role.BOTH, FoulDecision.ACCEPTED, "all accepted, both enforced", where=IN_FOUL),
    _row("automatic first down", Role.FOUL_DETAIL, ("automatic_first_down", True), (
          "automatic first, auto first, an automatic first, with an automatic first, "
          "auto first down, automatic 1st down, with an automatic first down"), codes="fd", where=IN_FOUL),
    _row("no automatic first down", Role.FOUL_DETAIL, ("automatic_first_down", False), "no first down", where=IN_FOUL),
    _row("loss of down", Role.FOUL_DETAIL, ("loss_of_down", True), (
          "lod, with loss of down, and loss of down"), where=IN_FOUL),
    _row("no loss of down", Role.FOUL_DETAIL, ("loss_of_down", False), where=IN_FOUL),
    _row("runoff", Role.FOUL_DETAIL, ("runoff", True), (
          "run-off, ten second runoff, 10 second runoff, run off the clock"), where=IN_FOUL),
    _row("after the down", Role.FOUL_DETAIL, ("when", FoulTime.AFTER_DOWN), (
          "after the play, dead ball, after the whistle, after play, after the dead ball, after the ball was dead, "
          "post play, dead ball foul, after the score, after the touchdown, after the play was over"),
         codes="af", where=IN_FOUL),
    _row("before the snap", Role.FOUL_DETAIL, ("when", FoulTime.BEFORE_SNAP), (
          "before we snapped it, before they snapped it, before the ball was snapped, before it was snapped, before "
          "the ball is snapped, pre-snap, presnap, before snap, prior to the snap"), codes="bs", where=IN_FOUL),
    _row("during the down", Role.FOUL_DETAIL, ("when", FoulTime.DURING_DOWN), (
          "during the play, live ball"), where=IN_FOUL),
    _row("during the kick", Role.FOUL_DETAIL, ("when", FoulTime.DURING_KICK), (
          "while the kick was in the air, on the kick, during kick, during the punt"), where=IN_FOUL),
    _row("after change of possession", Role.FOUL_DETAIL, ("when", FoulTime.AFTER_POSSESSION_CHANGE), (
          "on the return, during the return, after the change of possession, on the runback, during the runback, "
          "during the kickoff return, during the punt return, during the interception return, during a return, on a "
          "return, on return, on the kickoff return, on kickoff return, on punt return, on kick return, after "
          "possession changed, after the interception, on the interception return, on the punt return, on the kick "
          "return"), codes="afterc, aftc", where=IN_FOUL),
    *(_row(f"enforced at {at.value}", Role.FOUL_DETAIL, ("at", at), also, codes, IN_FOUL) for at, also, codes in (
        (EnforcedAt.PREVIOUS_SPOT, ("at the previous spot, previous spot, from the previous spot, "
                                   "enforced at the previous spot, enforced from the previous spot, "
                                   "from the line of scrimmage, prev spot"), "ps"),
        (EnforcedAt.SPOT_OF_FOUL, ("spot foul, spot of foul, at the spot of the foul, from the spot of the foul, "
                                  "spot of the foul, enforced at the spot of the foul, from the spot, at the spot, "
                                  "enforced from the spot"), "sf"),
        (EnforcedAt.END_OF_RUN, ("end of run, end of the run, from the end of the run, tacked on, added to the run, "
                                "added on, tack on, at the end of the run, enforced from the end of the run, "
                                "added to the end of the run"), "er"),
        (EnforcedAt.ALL_BUT_ONE, "all but one", ""),
        (EnforcedAt.END_OF_KICK, ("end of kick, end of the kick, post scrimmage kick, post-scrimmage kick, psk, "
                                 "at the end of the kick, from the end of the kick"),
                "ek"),
        (EnforcedAt.DEAD_BALL_SPOT, "dead-ball spot, dead ball spot, from the dead-ball spot, at the dead ball spot",
                ""),
        (EnforcedAt.SUCCEEDING_SPOT, ("succeeding spot, at the succeeding spot, from the succeeding spot, "
                                     "enforced from the succeeding spot"),
                "ss"),
        (EnforcedAt.TRY, "on the try, at the try, enforced on the try, enforced at the try", "tr"),
        (EnforcedAt.FIXED_SPOT, "", ""),
        (EnforcedAt.KICKOFF, ("on the kickoff, at the kickoff, on the ensuing kickoff, enforced on the kickoff, "
                             "enforced at the kickoff, enforced on the ensuing kickoff, assessed on the kickoff, "
                             "on kickoff"), "ka"),
    )),
    _row("called back", Role.NULLIFIED, None, (
          "it is coming back, it comes back, bring it back, nullified, negated, wiped out, comes back, brought back by "
          "penalty, does not count, nullified by, wiped out by, called back by, negated by, play called back, called "
          "back for, called back on, nullified by penalty, no play due to")),
)
CHOICES: tuple[Word, ...] = (
    _row("receive", Role.CHOICE, "receive", (
          "to receive, elect to receive, will receive, chose to receive, wants the football, want the ball, want the "
          "football, wants it, takes the football, take the ball, wants the ball"), codes="r", where=TOSS),
    _row("kick", Role.CHOICE, "kick", (
          "kicks, to kick, elect to kick, chose to kick, will kick"), codes="k, ki", where=TOSS),
    _row("defer", Role.CHOICE, "defer", (
          "deferred, to defer, elects to defer, and defers, chose to defer, deferred to the second half, defers to the "
          "second half"), codes="d", where=TOSS),
    _row("defend", Role.CHOICE, "defend", (
          "to defend, defend a goal, to defend a goal, elects to defend"), codes="de", where=TOSS),
    _row("fair catch kick", Role.CHOICE, "fair catch kick", "free kick for goal", where=PLAY),
    _row("replay", Role.CHOICE, "replay", (
          "play it over, play over again, play over, do it over, retry, rekick, re-kick, replay the try, try again, "
          "replay the down, down replayed, repeat the down, down over")),
    _row("take the spot", Role.CHOICE, "take the spot", "take the ball there, take it at the spot"),
    *(_row(f"as {kind.value}", Role.STANDS_AS, kind) for kind in PlayKind),
)
EXACT: tuple[Word, ...] = (*(_row(f"outcome {outcome.value}", Role.EXACT, ("outcome", outcome),
    about="exactly this, whatever else is said") for outcome in Outcome),
    _row("outcome unknown", Role.EXACT, ("outcome", None), "not known whether"),
    *(_row(f"score {score.value}", Role.EXACT, ("score", score)) for score in Score),
    *(_row(f"kind {kind.value}", Role.EXACT, ("kind", kind)) for kind in PlayKind),
    *(_row(f"event {event.value}{by and ' by '}{by}", Role.EXACT, ("event", (event, Side(by) if by else None)))
    for event in EventKind for by in ("", *Side)), *(_row(f"possession {side.value}", Role.EXACT, ("possession", side))
    for side in Side), *(_row(f"team {team.value}", Role.EXACT, ("team", team)) for team in Team),
    *(_row(f"choice {choice}", Role.EXACT, ("choice", choice)) for choice in ("receive", "kick", "defer", "defend",
    "replay", "take the spot", "fair catch kick")), _row("exact gain", Role.SLOT, "exact gain"),
    _row("exact spot", Role.SLOT, "exact spot"), _row("exact kick to", Role.SLOT, "exact kick_to"),
    _row("exact kick from", Role.SLOT, "exact kick_from"), _row("event at", Role.SLOT, "exact event"),
    _row("exactly", Role.EXACT, ("foul", None), codes="x", where=ANYWHERE,
    about= "the foul that follows is by the side named, whatever its name"))
_NEXT = "".join(f"{lead}{kick}{comes}, " for kick in ("extra point", "kickoff", "punt", "try", "conversion", "pat",
    "point after", "try for point", "two point try", "kick") for lead, comes in (("", " next"), ("", " to come"),
    ("", " coming up"),
    ("", " coming"), ("", " follows"), ("", " to follow"), ("", " is next"), ("and now the ", ""), ("now the ", ""),
    ("bring on the ", " team"))) + "".join(f"{who}{will} punt, " for who in ("we ", "they ", "") for will in ("will",
    "are going to", "have to", "must")) + "here comes the punt team, punt team comes on, punt team coming on, "
_NEUTRAL = "".join(f"{where} the {zone}neutral zone, " for where in ("behind", "beyond", "past", "across", "in",
    "over", "down in", "dead in",
    "crosses", "in and behind", "in or behind", "through", "crossing", "crossed", "from behind") for zone in ("",
    "expanded "))
_HARMLESS = (
    "over the top, up and over, over the pile, over the pile of bodies, up and over the pile, through the pile, "
    "through the line, through the middle, through the hole, through a hole, behind his blockers, behind the block, "
    "out of the pocket, from the pocket, in the pocket, up in the pocket, steps up in the pocket, outside the pocket, "
    "from the backfield, out of the backfield, flushed out, flushed, up front, up field, upfield, downfield, "
    "turns the corner, turns upfield, turns the edge, gets the edge, gets the corner, got the edge, got the corner, "
    "in traffic, in stride, in full stride, in coverage, in double coverage, double coverage, "
    "in the open field, in space, in the open, wide open, "
    "on a rope, on target, on the money, off to the races, with ease, with authority, standing, nice hole there, "
    "nice hole, big hole, and that's it, that's it, that's all, folks, under duress, end over end, "
    "for the corner, to the outside, around the outside, off the right side, off the left side, "
    "on the right side, on the left side, to our sideline, to their sideline, near sideline, far sideline, "
    "off the left tackle, off the right tackle, ")
_BROUGHT_DOWN = ("tripped up", "tripped", "chopped down", "cut down", "hauled down", "dragged down", "pulled down",
    "wrestled down",
    "wrestled to the ground", "taken down", "brought down", "knocked down", "thrown down", "slammed down",
    "ridden down",
    "run down", "chased down", "tracked down", "hunted down", "wrapped up", "swallowed up", "gobbled up",
    "blown up", "piled up",
    "stood up", "stacked up", "corralled", "smothered", "swarmed", "buried", "leveled", "flattened", "met",
    "caught", "cornered",
    "collared", "nailed", "crushed", "drilled", "decked", "clobbered", "tackled", "dropped", "stopped", "upended",
    "hit",
    "shoved", "tripped up right away", "taken down right away", "brought down right away")
_DOWN_HOW = ("by the ankles", "at the ankles", "by the ankle", "by the shoelaces", "by the shoestrings",
    "by his shoelaces",
    "by his shoestrings", "by the jersey", "by his jersey", "by the shirt", "by the legs", "by the waist",
    "by the feet",
    "from behind", "from the side", "by two men", "by two of them", "by three men", "by his own man",
    "by a host of tacklers",
    "by the whole line", "by a pack", "by the first man", "by a crowd", "by somebody", "by a corner", "by the corner",
    "by a tackler", "by the pursuit", "by a gang of tacklers", "in a crowd", "in a pile", "in his tracks",
    "right there",
    "right away", "immediately", "at once", "quickly")
_BEHIND_IT = ("behind the line", "behind the line of scrimmage", "in the backfield", "deep in the backfield",
    "back of the line")
_TACKLES = ("tackle", "wrap", "drag", "haul", "bring", "pull", "take", "wrestle", "cut", "chop", "knock", "run",
    "chase", "stop",
    "hit", "trip", "catch", "corral", "ride", "throw", "pin", "meet", "drop", "stand", "level", "nail", "bury", "stuff")
_TACKLED = ("tackles", "wraps", "drags", "hauls", "brings", "pulls", "takes", "wrestles", "cuts", "chops", "knocks",
    "runs",
    "chases", "stops", "hits", "trips", "catches", "corrals", "rides", "throws", "pins", "meets", "drops", "stands",
    "levels", "nails",
    "dragged", "hauled", "brought", "pulled", "took", "wrestled", "knocked", "chased", "stopped", "tripped",
    "caught", "tackled",
    "wrapped", "met", "hit", "got")
_GETS_ALONG = (
    "breaks free, broke free, breaks loose, broke loose, got loose, gets loose, got free, gets free, gets away, "
    "got away, "
    "breaks away, broke away, pulls away, pulled away, runs away, ran away, right away, away from the corner, "
    "away from the "
    "defense, away from them, away from everybody, leans forward, leaned forward, falls forward, fell forward, "
    "lunges forward, "
    "lunged forward, dives forward, dove forward, lunges ahead, surges ahead, surged ahead, pushes ahead, "
    "stretches forward, "
    "keeps his legs churning, no further, no farther, no more, and no more, nothing more, "
    "finally, just, again, quickly, eventually, simply, immediately, suddenly, somehow, easily, "
    "reached for the marker, "
    "reaches for the marker, reaching for the marker, reached for the sticks, reaching for the sticks, "
    "reaches for the sticks, "
    "dived for the marker, dove for the marker, dives for the marker, diving for the marker, stretches for the marker, "
    "reached for the first down, reaching for the first down, dives for the first down, dived for the sticks, "
    "stretching for the marker, stretched for the marker, lunges for the marker, lunging for the sticks, "
    "hit as he threw, hit as he throws, hit as he threw it, hit while throwing, hit while he threw, "
    "hit as he let it go, "
    "hit as he released it, pressure in his face, came down, comes down, with one foot out, one foot out, "
    "tripped over his own guard, tripped over his own feet, trips over his own feet, tripped over his own man, "
    "tripped over his blocker, tripped over a lineman, stumbles over his own feet, slipped and fell, slips and falls, "
    "kicked around, bounced around, bounces around, rolled around, rolls around, batted around, knocked around, "
    "on the bounce, on a bounce, on one bounce, on one hop, on the hop, on the second bounce, on the roll, on the fly, "
    "off the bounce, after a bounce, after one bounce, ")
_DOWNING = "".join(f"{down}, " for down in _BROUGHT_DOWN if " " in down) + "".join(f"{down} {how}, "
    "" for down in _BROUGHT_DOWN
    for how in _DOWN_HOW) + "".join(f"{down} {where}, " for down in _BROUGHT_DOWN for where in _BEHIND_IT) + "".join(
    f"{where}, " for where in _BEHIND_IT) + "".join(f"{before}{tackles} him{how}, " for before in ("", "before they ",
    "before someone ", "they ", "two men ", "until they ", "till they ", "a linebacker ", "the linebacker ",
    "a corner ",
    "the corner ", "a tackler ") for tackles in (*_TACKLED, *_TACKLES) for how in ("", " down", " up", " there")
    if before or how)
_THE_SAFETY = "".join(f"{whose} safety {does}, " for whose in ("the", "a", "their", "our", "strong",
    "free") for does in (
    "comes up", "came up", "comes up and", "came up and", "makes the stop", "made the stop", "makes the tackle",
    "made the tackle", "comes over", "came over", "comes in", "came in", "comes down", "steps up", "stepped up",
    "is there",
    "was there", "fills", "filled", "cleans it up", "cleaned it up", "saves a touchdown", "in on the tackle",
    "and", "and the corner", *(f"{tackles} him{how}" for tackles in (*_TACKLED, *_TACKLES) for how in ("", " down",
    " up"))))
_BEFORE = ", ".join(f"before {who} {what}" for who in ("being", "he", "he is") for what in ("tackled", "brought down",
    "dragged down", "hauled down", "taken down", "wrapped up", "stopped"))
_IN_PERIODS = "".join(f"in the {which} quarter, " for which in _WHICH[:8]) + "".join(
    f"in the {which} half, " for which in ("first", "second", "1st", "2nd"))
_WAYS = "".join(f"{past} {side} {whom}, " for past in ("around", "off", "over", "through", "behind")
    for side in ("the left", "the right", "left", "right") for whom in ("end", "tackle", "guard", "side"))
FILLERS: tuple[Word, ...] = (
    _row("and", Role.FILLER, None, (
          _NEXT + _NEUTRAL + _HARMLESS + _GETS_ALONG + _DOWNING + _THE_SAFETY +
          "goes for it on fourth down, going for it on fourth down, goes for it on fourth, on purpose, half the dist, "
          "pushes the pile forward, pushes the pile, they get the ball, they take over, they take over on downs, "
          "after the safety, that'll do it for the half, that'll do it, do it for the half, to end the half, to end "
          "the game, coming up, coming, "
          "little, big, nice, great, long, high, low, booming, beautiful, perfect, huge, before the snap of "
          "the ball, set up, moves them back, moves us back, back them up, back us up, "
          " in the half, in the quarter, in the game, of the "
          "quarter, drops back, drop back, dropped back, result of the play, brings him down, they bring him down, "
          "tackles him, they tackle him, stops him, "
          "they stop him, " + _BEFORE + ", half the distance, half the distance to the goal, no foul on the play, "
          "no foul, no flag, "
          "no flags, no "
          "penalty, no penalty on the play, there is no foul, call stands, ruling stands, play stands, stands as "
          "called, upheld, confirmed, call upheld, call confirmed, ruling confirmed, on the conversion, on the two "
          "point conversion, on the extra point, on the pat, bench, injury, injured player, chip shot, quick, during, "
          "another player, a teammate, teammate, player, across midfield, past midfield, over midfield, beyond "
          "midfield, he, him, she, himself, them all, jump ball, toss up, back to pass, drops back to pass, dropped "
          "back to pass, drop back to pass, fades back to pass, steps back to pass, back to throw, drops back to "
          "throw, dropped back to throw, takes the snap, took the snap, takes a direct snap, good blocking, good "
          "coverage, good protection, good tackle, good hit, good snap, snap is good, good defense, good field "
          "position, takes a bounce, takes a big bounce, takes a hop, takes a big hop, takes a roll, broke a tackle, "
          "broke two tackles, breaks two tackles, broke three tackles, breaks three tackles, broke several tackles, "
          "delayed, score tied, with the score tied, with the score, of the half, free play, finds a seam, finds a "
          "hole, finds the hole, finds room, finds running room, finds daylight, finds a crease, oh what a, oh my, oh "
          "boy, lt, tkl, grd, kick is on the way, kick is away, on the way, down by contact, by contact, snap hold, "
          "snap and hold, the hold, good hold, hold is down, knee down, knee is down, knee was down, knee touched, "
          "knee touches, clock running, clock is running, los, a, an, then, with, is, was, it, ball, his, "
          "her, who, that, which, play, plays, as, so, clock, time, remaining, left on the clock, game clock, on the "
          "clock, to stop the clock, stops the clock, yardline, yard line, line, attempt, attempted, attempts, try, "
          "tries, left, right, middle, up the middle, over the middle, down the middle, left side, right side, "
          "outside, sideline, left sideline, right sideline, down the sideline, along the sideline, deep, deep left, "
          "deep right, deep middle, short left, short right, short middle, up the gut, outside left, outside right, "
          "before being tackled, tackled, brought down, down, snap, shotgun, no huddle, from the shotgun, under "
          "center, from shotgun, ensuing, opening, call, calls, called by, takes, uses, use, used, burns, burn, "
          "won, wins, win, won by, winner, wins "
          "the flip, won the flip, wins the coin flip, won the coin toss, wins the coin toss, the flip, wins the toss, "
          "won the toss, win the toss, elects, elected, choose, choose to, chose, chooses, charged, second half, "
          "results in, resulting in, ends in, on the play, the play, to the left, to the right, off left tackle, off "
          "right tackle, off left end, off right end, off left guard, off right guard, inches, intended, intended for, "
          "reviewed, following, standing up, in bounds, his own, on that play, over left tackle, over right tackle, "
          "over left guard, over right guard, around left end, around right end, straight ahead, penalty is, the "
          "penalty is, point, pts, its, at all, there, where, now, been, being, are, were, be, has, have, had, will, "
          "this, right there, tackled by, stopped by, brought down by, hit by, met by, wrapped up by, pressured by, "
          "hurried by, but, number one, kicking unit, official, on a, yardage, diving, one handed, leaping, toe tap, "
          "over the shoulder, back shoulder, hurried, pressured, under pressure, slides, slide, slides down, wrapped "
          "up, gang tackled, solo tackle, assisted tackle, foot, feet, inch, a foot, total, total of, for a total of, "
          + _IN_PERIODS + _WAYS + "around the end, around end, around the edge, around the corner, off the edge, "
          "to the back, the back, to the corner, in the corner, to the flat, in the flat, direct snap, a direct snap, "
          "on a direct snap, to the right side, to the left side, the right side, the left side, sails, soars, "
          "boundary, wide side, short side, near side, far side"), where=ANYWHERE, about="passed over"),
    _row("player", Role.FILLER, "player", _PLAYERS, where=ANYWHERE, about="passed over"),
    _row("whose", Role.FILLER, "whose", "our, their", where=ANYWHERE, about="passed over before a kind of play"),
)
SET_WORDS: tuple[Word, ...] = (
    _row("set", Role.SET, None, where=ANYWHERE, about="what is set by hand follows: down 2, to go 7, on own 36, "
                                                      "home ball"),
    _row("down", Role.SAID_SLOT, "down", where=IN_SET),
    _row("to go", Role.SAID_SLOT, "yards_to_gain", where=IN_SET),
    _row("on", Role.SAID_SLOT, "ball_on", where=IN_SET),
    _row("period", Role.SAID_SLOT, "period", "quarter", where=IN_SET),
    _row("home score", Role.SAID_SLOT, "score_home", where=IN_SET),
    _row("visitors score", Role.SAID_SLOT, "score_visitors", where=IN_SET),
    _row("home timeouts", Role.SAID_SLOT, "timeouts_home", where=IN_SET),
    _row("visitors timeouts", Role.SAID_SLOT, "timeouts_visitors", where=IN_SET),
    _row("home ball", Role.SAID, ("offense", Team.HOME), where=IN_SET),
    _row("visitors ball", Role.SAID, ("offense", Team.VISITORS), where=IN_SET),
    _row("home kicks second half", Role.SAID, ("second_half_kicker", Team.HOME), where=IN_SET),
    _row("visitors kick second half", Role.SAID, ("second_half_kicker", Team.VISITORS), where=IN_SET),
    _row("home faces right", Role.SAID, ("home_faces_right", True), where=IN_SET),
    _row("home faces left", Role.SAID, ("home_faces_right", False), where=IN_SET),
    *(_row(f"next {following.value}", Role.SAID, ("next", following), where=IN_SET) for following in Next),
)
TABLE: tuple[tuple[str, tuple[Word, ...]], ...] = (("Kinds of play", KINDS), ("Tries", TRIES),
    ("How it was run, thrown or kicked", MANNERS), ("Scores", SCORES), ("What became of it", OUTCOMES),
    ("A loose ball", LOOSE_BALL), ("Who", SIDES), ("Teams", TEAMS), ("Places and distances", PLACES),
    ("Said along with it", CLAIMS), ("About a foul", FOUL_WORDS), ("Choices", CHOICES), ("Passed over", FILLERS),
    ("After set", SET_WORDS), ("Field by field", EXACT))
"""The whole table, in the order of the help page."""

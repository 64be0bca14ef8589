"""The table of words: sides, teams, players, places and distances."""

from __future__ import annotations

import workstation.football.notation.words_of_onlookers as told

from ..field import Team
from ..plays import Side
from .word import AFTER_FOUL, ANYWHERE, Role, Word, row

OFFENSE_PLAYERS = (
    "quarterback, qb, tailback, fullback, halfback, rb, tb, hb, wr, te, fb, wideout, runner, punter, snapper, "
    "carrier, "
    "holder, passer, h back, slot back, a back, b back, deep back, guard, center, slot, flanker, wing, wingback, "
    "slotback, "
    "running back, wide receiver, "
    "tight end, "
    "ball carrier, split end, slot receiver, long snapper, left tackle, right tackle, left guard, right guard"
)
DEFENSE_PLAYERS = (
    "defensive end, defensive tackle, nose tackle, nose guard, middle linebacker, outside linebacker, inside "
    "linebacker, strong safety, free safety, nose, mike, sam, backer, mlb, olb, ilb, nickel, tackler, edge "
    "rusher, mike linebacker, will linebacker, sam linebacker"
)
PLAYERS = (
    OFFENSE_PLAYERS + ", " + DEFENSE_PLAYERS + ", #, receiver, end, tackle, gunner, left end, right end, returner, "
    "ball, trailer, kid, boy, guy, fella, front man, up man"
)
_PARTS = (
    "safety, safeties, linebacker, cornerback, corner, defensive back, player, players, guys, punt team, kick team, "
    "bench, sideline, side, line, lineman, "
    "linemen, captain, coach, kicker, back, team, ball, defender"
)


def _of_one(whose: str) -> str:
    """``our tailback``, ``our own tailback``: the players and things of one side."""
    parts = [part for part in (_PARTS + ", " + PLAYERS).split(", ") if part != "end"]
    own = ("quarterback", "tailback", "fullback", "receiver", "runner", "kicker", "punter", "returner", "guy", "team")
    return ", ".join((*(f"{whose} {part}" for part in parts), *(f"{whose} own {part}" for part in own)))
SIDES: tuple[Word, ...] = (
    row("offense", Role.SIDE, Side.OFFENSE, (
          told.WITH_THE_BALL +
          "offensive line, o line, offensive lineman, offence, offensive team, team a, kickers, kicking team, "
          "kicker, cover team, coverage team, coverage unit, "
          "punting team, passing team, kicking side, team k, punt team, offensive, kick team, snapping team"),
         codes="o", where=AFTER_FOUL),
    row("defense", Role.SIDE, Side.DEFENSE, (
          "defensive line, d line, defensive lineman, def, hands team, front line, up back, upback, defence, "
          "defensive "
          "team, team b, receivers, receiving team, return team, team r, defender, defenders, receiving side, "
          "returner, returners, defensive, returning team, on the return/receiving team, by the return/receiving "
          "team, punt returner, kick returner, defensive back, db, "
          "linebacker, cornerback"), codes="d", where=AFTER_FOUL),
    row("us", Role.SIDE, "us",
          "we've, we're, we'll, us ball, ours, /a/one player/guy/kid/man in our color/colors/jersey/shirt, we, "
          "one of us, one of ours, "
          "one of our guys/men/players/boys, " + _of_one("our"),
         about="the team that has the ball, unless it says otherwise: shown as a question"),
    row("them", Role.SIDE, "them",
          told.OTHER_TEAM +
          "they've, they're, they'll, them ball, they, other team, opposing "
          "team, other side, opposing side, one of theirs, theirs, one of them, "
          "one of their guys/men/players/boys, " + _of_one("their")),
)
TEAMS: tuple[Word, ...] = (
    row("home", Role.TEAM, Team.HOME, (
          "home team, home side, home bench, home sideline, home ball"), codes="h", where=ANYWHERE),
    row("visitors", Role.TEAM, Team.VISITORS, (
          "visitors ball, visitor ball, visitors bench, visitors sideline, visiting bench, vis, vstrs, visitor, "
          "visiting team, away, away team, road team, guests, visiting"), codes="v", where=ANYWHERE),
)
_INTO = (
    ", goes/sails/flies/bounces/rolls/soars/carries/lands/kicked/drifts into/in the end zone"
)
_THROUGH = (
    ", goes/sails/flies/bounces/rolls/soars/carries/lands/kicked/drifts through/out_of/out_the_back_of the end "
    "zone"
)
_AT_THE_LINE = (
    "piled_up/stacked_up/stuffed/stopped/met/dropped/tackled/hit/brought_down/stood_up/swallowed_up/buried at the "
    "line/line_of_scrimmage/los, "
)
PLACES: tuple[Word, ...] = (
    row("to", Role.PREPOSITION, "to", (
          told.STOPS_AT +
          "takes/took/runs/ran/brings/brought/carries/carried it all the way /down/out/up to, reaches, reached, "
          "made it /out/back to, dragged/driven/ridden /out/back/down to, all the way out to, "
          "all the way back to, all the way up to, "
          "all the way down to, back at, forward "
          "progress "
          "stopped at, forward progress stopped, hauled down at, pulled down at, taken down at, brought down to, is "
          "at, forward progress, forward progress to, forward progress at, progress to, down to, up to, out to, back "
          "to, tackled at, stopped at, brought down at, gets to, all the way to, dragged down at, hits the "
          "ground at, "
          "lands at, down at, downed at, dropped at, spotted at, marked at, ends at, ends/winds up at/on, "
          "stays/stayed/still/remains/stuck at/on, finishes "
          "at, over to, across to, went to, "
          "went down to, "
          "lands on, "
          "carries to, marked down at, down around, drops at"), where=ANYWHERE),
    row("at", Role.PREPOSITION, "at", "on", where=ANYWHERE),
    row("near", Role.PREPOSITION, "near", (
          "inside, around, near the, inside the, around the, just inside, just inside the, just outside, just "
          "outside "
          "the"), where=ANYWHERE),
    row("the", Role.PREPOSITION, "the", where=ANYWHERE),
    row("from", Role.PREPOSITION, "from", "out of, from out of, all the way from", where=ANYWHERE),
    row("for", Role.PREPOSITION, "for", (
          "turns/turned it/that into /a/another, broke/breaks it for, breaks/broke one/free/loose for, "
          "had, after, makes, made, gets, got, get, getting, able to get, manages to get, managed to get, good for "
          "another, "
          "thrown for a, dropped for a, tackled for a, stopped for a, of, went "
          "for, good for, picks up, up, gaining, goes, moves, picked up yardage of, for about, covering, went, "
          "nets, for a net of, travels, travelled"),
         where=ANYWHERE),
    row("in", Role.PREPOSITION, "in", "into", where=ANYWHERE),
    row("by", Role.PREPOSITION, "by", "against, called on, charged to, on team", where=ANYWHERE),
    row("loss", Role.LOSS, None, (
          "blown up for, costs them/us/him, gave up, gives up, knocked back, buried in the backfield for, thrown "
          "back, in the hole for, "
          "lost, loss of, a loss, for a loss, for loss, for a loss of, for loss of, minus, lost yards, loss for, "
          "negative, tfl, tackle for loss, tackled for a loss, tackled for a loss of, tackled behind the line, "
          "dropped behind the line, stopped behind the line, dropped behind the line for a loss of, dropped "
          "for a loss, dropped for a loss of, thrown for a loss, thrown for a loss of, loses yardage"),
         where=ANYWHERE),
    row("gain", Role.GAIN, None, (
          "/an advance of, /an advance for, "
          "hold/holds/held/keep/keeps/kept/limit/limits/limited him/them/us/it to /only/just, "
          "held/limited to /only/just, "
          "moved it /forward/ahead, moves it /forward/ahead, gn of, gn for, gn, after a gain of, after gaining, "
          "after a gain, picked up, gain of, a gain, for a "
          "gain, for a gain of, "
          "yards "
          "gained, pickup of, pickup, gain for, plus, add")),
    row("no gain", Role.NO_GAIN, None, (
          told.BACK_AT_THE_START +
          "strung/stretched/snuffed/stoned/blown_up/swallowed_up/stuffed /out/up for no_gain/nothing, no pickup, no "
          "push, nothing gained, gains nothing, gained nothing, doesn't/didn't/does_not/did_not gain a thing, "
          "got/gets zilch/nada/zip, zilch, zip, stopped cold, runs/ran into a wall, they stone him "
          "/at_the_line/at_the_line_of_scrimmage, back to the original line of scrimmage, met right at the line, "
          "gets back to the line /only, returns to the line of scrimmage, "
          "/but does_not/did_not/could_not/doesn't/didn't/couldn't/can't get/go/gain/make/pick_up "
          "anywhere/anything/a_yard/an_inch/a_thing, "
          "goes/gets/going/getting nowhere, nowhere to go/run, not an inch, no room /to_run, no where to go, no "
          "advance, no gain on the play, back where he started, "
          "got nothing, gets nothing, picks up nothing, picked up nothing, " + _AT_THE_LINE + "no loss, for no loss, "
          "with no loss, without loss, without gain, without a gain, "
          "forward progress at/to the line /of_scrimmage, ng, nothing doing, nothing there, at the los, to the los, "
          "back to the los, no gn, for no gain, no yards "
          "gained, stopped for no gain, no yardage, for nothing, nothing, zero yards, to the line of scrimmage, back "
          "to the line of scrimmage, no yards, for no yards, stacked up at the line, stuffed at the line of "
          "scrimmage, "
          "stopped at the line, stopped at the line of scrimmage, at the line of scrimmage, stuffed at the line")),
    row("yards", Role.YARDS, None, "yard, yd, yds, yrds, yrd, yarder, yards/yard for us/them", where=ANYWHERE),
    row("in the end zone", Role.END_ZONE, ("in", None), (
          told.INTO_THE_END_ZONE +
          "all the way into/in/to the end zone, crosses/breaks/over the plane of the goal /line, "
          "the plane of the goal line, "
          "finds the end zone, to the back of the end zone, in the back of the end zone, "
          "to the corner of the end zone, in the corner of the end zone, finds paydirt, crosses the plane, "
          "breaks the plane, crosses the goal line, to the "
          "pylon, at the pylon, hits the pylon, over the plane, into the end zone, end zone, endzone, in end "
          "zone, in "
          "the endzone, into the endzone, in ez, to the end zone, at the end zone, from the end zone, out of the "
          "endzone, in goal, over the goal line, across the goal line, behind the goal line, the end zone, ez, "
          "in the "
          "ez, beyond the goal line, in goal area, into goal, into end zone, reaches the end zone, dead in the end "
          "zone, ball dead in the end zone, is dead in the end zone, ball is dead in the end zone" + _INTO)),
    row("in the own end zone", Role.END_ZONE, ("in", Side.OFFENSE), (
          "own end zone, in own end zone, into own end zone, in their own end zone, in his own end zone, in its own "
          "end zone, own goal line, behind own goal line, behind its own goal line, behind his own goal line, "
          "into the "
          "own end zone, own endzone")),
    row("in our end zone", Role.END_ZONE, ("in", "us"), (
          "our end zone, our own end zone, in our own end zone, into our end zone")),
    row("out of our end zone", Role.END_ZONE, ("through", "us"), "through our end zone"),
    row("out of their end zone", Role.END_ZONE, ("through", "them"), "through their end zone"),
    row("in their end zone", Role.END_ZONE, ("in", "them"), "their end zone, into their end zone"),
    row("in the opp end zone", Role.END_ZONE, ("in", Side.DEFENSE), (
          "opp end zone, in opp end zone, other end zone, to the other end zone, the other end zone, to the "
          "other goal "
          "line, opponents end zone, in the opponents end zone, opponent end zone, opp goal line, in the "
          "opponent end "
          "zone, opposite end zone")),
    row("out of the end zone", Role.END_ZONE, ("through", None), (
          "through the end zone, through the back of the end zone, out the back of the end zone, out of end zone, "
          "over the end line, steps on the end line, thru the end zone, through end zone, out of the back of the end "
          "zone, past the end line, out the end zone, through the endzone, out of bounds in the end zone, out the "
          "back, through the back, out of bounds through the end zone, across the end line, over the deadline, "
          "out of "
          "the ez" + _THROUGH)),
    row("kicked to", Role.SLOT, "kick_to", (
          "/will have/has/puts/put them/us starting /out at/on/from, take/takes/took over at/on, "
          "/they/they_will/will/they'll start/starts/started /it at/on/from, will snap /it from/at, "
          "/will/they_will snap/snaps it from/at, comes to, kicked into, receives at, "
          "receives it at, /they/receivers take/takes it at/on, "
          "receives the kick at, takes it at, fielded at, caught at, fielded on, caught on")),
    row("kicked from", Role.SLOT, "kick_from"),
    row("returned to", Role.RETURN, "to", (
          "bring/brings/brought/run/runs/ran/take/takes/took/carry/carries/get/gets the/our/their "
          "kick/kickoff/punt/ball /all_the_way/all_the_way_back /back/out/up to, "
          "runs/takes/brings/carries it all the way back to, "
          "move/moves/moved it /up/out/back to, gets it to, brings it to, carries it to, takes it to, "
          "gets it back up to, returned it to, brought "
          "back to, "
          "run back to, gets it out to, gets out to, gets it back to, gets it up to, brought out to, runs it "
          "back to, "
          "advanced to")),
    row("dead at", Role.SLOT, "spot", (
          "ball placed at, placed at, spot is, spotted, spot, spot at, ball spotted at, "
          "play dead at, play is dead at, ball is dead at, whistled down at, ball dead at, whistled dead at")),
    row("offense ball", Role.POSSESSION, Side.OFFENSE, "off ball, o ball, kicking team ball, ball to the offense"),
    row("defense ball", Role.POSSESSION, Side.DEFENSE, "def ball, d ball, receiving team ball, ball to the defense"),
)

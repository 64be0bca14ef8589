"""The table of words: scores, what became of the play, loose balls, choices."""

from __future__ import annotations

import workstation.football.notation.words_of_onlookers as told

from ..plays import EventKind, Outcome, PlayKind, Score
from .word import KICKED, MEASURED, PLAY, TOSS, Role, Word, outcome_row, row

_RUNS_IN = (
    "quarterback/qb/tailback/fullback/back/runner runs/takes/carries/punches it in, "
)
SCORES: tuple[Word, ...] = (
    row("touchdown", Role.SCORE, Score.TOUCHDOWN, (
          _RUNS_IN + "punches/pounds/bulls/rams/plows/hammers/carries /it/the_ball in /untouched/standing_up, "
          "in/goes_in/runs_in/takes_it_in/dives_in/walks_in/it_in for six, six points, 6 points, for six "
            "points, "
          "runs/takes/brings/carries /it all the way back, "
          "takes it to the house, takes it all the way, the rest of the way, taken in for the score, "
          "takes it in for the score, he is in, he gets in, gets in, is "
          "in for the score, walks/trots/jogs/waltzes/cruises in /untouched/standing, dives in, plunges in, powers "
          "in, bulls in, rumbles in, dances in, touchdown us, punches "
          "it in, punched it in, walks it in, strolls in, td, tds, a score, score, touchdowns, touch down, in "
          "for two, "
          "it in for two, in for the score, it in for the score, the house, runs it in, takes it in, carries it in, "
          "goes in for the score, the length of the field, house call, to the house, paydirt, to pay dirt, for the "
          "score, for a score, all the way"), codes="t"),
    row("safety", Role.SCORE, Score.SAFETY, (
          "two points for them, two points for us, two points for the defense, two points for the other team, "
          "for two "
          "points to the defense"), codes="sa"),
    row("no score", Role.SCORE, Score.NONE),
    row("single point", Role.SCORE, Score.SINGLE,
          "concedes/conceded /the/a single/point/rouge/one_point/single_point, conceded, 1 point, 1 pt, one pt, "
          "single, rouge, one point, for a point, for one point, a rouge"),
    row("pick six", Role.PICK_SIX, None, "pick 6"),
    row("scoop and score", Role.PICK_SIX, "scoop", "scooped and scored, scoops and scores, scoop n score, scoop "
        "score, scoops it and scores, fumble six"),
)
_CALLED_FOR = (
    "fair catch /was/is called_for/called/signaled/signaled_for/signalled/waved_for/signaled_for_and_called "
    "/and_made/and_caught/and_taken, calls_for/waves_for/signals_for/signals/called_for/waved_for/signaled_for a "
    "fair catch and makes it, "
)
_WAVED = (
    "waves/raises/raised/lifts/lifted/puts_up/put_up/holds_up/held_up/throws_up/signals_with his/an/one/a/the "
    "arm/hand "
    "/up/over_his_head/in_the_air and catches/caught/takes/grabs/makes_the_catch, "
    "waves/raises/raised/puts_up/put_up his/an/one/a/the arm/hand /up/over_his_head/in_the_air, "
)
_WENT_OUT = (
    "goes/rolls/bounces/flies/hops/skips/dribbles/trickles/lands/tumbles/caroms/spins/sails/drifts/kicked/"
    "angled/steps/runs/driven/shoved/bumped/pushed/forced/knocked/escorted/ridden/carried/dragged/falls/slips/"
    "hit/is/ran/comes_to_rest "
    "out_of_bounds/over_the_sideline/across_the_sideline/past_the_sideline/into_touch, goes/rolls/bounces "
    "forward/backward/backwards/harmlessly out of bounds, "
    "pushes/knocks/forces/runs/drives/shoves/bumps/rides/carries/drags/escorts/hits/shoved him out of bounds, "
    "shoved/driven/ridden/bumped/angled/escorted/chased/hit out, crosses/hits/touches the sideline, steps on the "
    "sideline, over the side line, "
)
OUTCOMES: tuple[Word, ...] = (
    outcome_row("touchback", Outcome.TOUCHBACK, (
          "tbk, tb, touch back, for a touchback, touchbacks, ends in a touchback"), codes="t", where=KICKED),
    outcome_row("fair catch", Outcome.FAIR_CATCH, (
          "waves for it and catches/grabs/takes it, signaled and caught, signals and catches it, calls for the fair "
          "catch, hand goes up and he catches it, " +
          _CALLED_FOR + _WAVED + "fair caught, fair catch made, makes his fair catch, fc, faircatch, "
          "fair catch called, "
              "fair catch "
          "signal, signals fair catch, makes a fair catch, makes the fair catch, takes a fair catch, "
          "waves for a fair catch, waves for the fair catch, signals for a fair catch, called for a fair catch, "
          "fair catch by"),
         codes="f", where=KICKED),
    outcome_row("out of bounds", Outcome.OUT_OF_BOUNDS, (
          "pushed/knocked/forced/run/ran/rode/driven/stepped/steps/shoved/bumped ob/oob, "
          "bumped/nudged/slid/chased/escorted/kicked/hooked/angled/bounded out, bumps/nudges him out, "
          "nudged over the sideline, over the boundary, trickles out, rolls out, drifts out, sails out, bounces "
          "out, slides out, goes out, out on the fly, went out, sliced out of bounds, slices out of bounds, out of "
          "bounds on the fly, " +
          _WENT_OUT + "before we/they/he/somebody/someone push/pushed/forced/knocked/shoved him out /of_bounds, "
          "pushes/forces/forced/rides/knocks/shoves/drives/runs/chases/bumps/escorts/hauls/drags/"
          "takes/shoved/pushed/drove/knocked/chased/ran him out, obs, ob, oob, out at, pushed out, knocked out, "
          "forced out, "
          "stepped out, out, out the sideline, runner out of bounds, runner "
          "is out of bounds, runner goes out of bounds, ball carrier out of bounds"), codes="o", where=KICKED),
    outcome_row("downed", Outcome.DOWNED, (
          "dead, dead there, dead right there, goes dead, dies/died /there/right_there, it dies/died there, "
          "dwnd, is downed, downed at, ball downed, kick downed, killed, down it, they down it, rolls dead, "
          "dead ball "
          "at, down at, is dead, dies, downs it, downs the "
          "punt, down the punt, downs the kick, downs the ball, kick is downed"), codes="d, dn", where=KICKED),
    outcome_row("muffed", Outcome.MUFFED, (
          "hits/bounces/glances/caroms off their/a/one_of_their/one_of_the "
          "front_man/up_man/lineman/linemen/front_line/"
          "blocker/player/players/guys/return_man/returner, drops our punt, drops their punt, drops our kick, muffs "
          "our punt, drops the punt, drops the kick, "
          "drops the "
          "kickoff, fair catch muffed, muffs the fair catch, muffed fair catch, muffs the punt, muffs the kick, "
          "muffs "
          "the ball, muffs it, muffs the kickoff, muffed by the receivers, muffed punt, muffed kick, mishandled, "
          "muffed catch, muffs the catch, muffed kickoff, touched by the receivers, hits a receiver, hits one "
          "of their "
          "guys, hits one of them, touches one of them, hits one of the receivers, touches one of the "
          "receivers, off a "
          "receiver, touches a receiver, touched by a receiver, muffed by the returner, muffed by the receiving "
          "team, "
          "bobbled"), codes="mm", where=KICKED),
    outcome_row("blocked", Outcome.BLOCKED, (
          "swatted down at the line, gets a hand on the kick/punt, got a piece of it, smothers the punt/kick, "
          "swats/smacks the punt/kick, punt/kick is/gets swatted/smacked /down/away, "
          "blk, blkd, bkd, block, gets blocked, is blocked, partially blocked"), codes="b", where=KICKED),
    outcome_row("good", Outcome.GOOD, (
          told.GOOD +
          "splits the uprights, it's through, nails it, drills it, off the post and in, splits them, both arms up, "
          "arms up, "
          "/it /right/straight/clean through/between/inside the posts/goal_posts/goalposts/uprights/pipes, over the "
          "bar/crossbar, splits the posts/uprights/goal_posts, "
          "it through, off the upright and in, hits the upright and goes in, off the upright and good, off the "
          "crossbar and in, off the crossbar and good, banks in, goes in, gd, kick gd, right down the pipe, "
          "right down "
          "the middle, down the pipe, it is up and it is good, up and good, is good, kick is good, kick good, "
          "made it, "
          "successful, succeeds, converts, made, makes, is up and good, through the uprights, sails through, "
          "goes through, is "
          "through, split the uprights, it is good, conversion good, attempt good, successful attempt, good kick"),
         codes="g"),
    outcome_row("no good", Outcome.NO_GOOD, (
          "/the/it/kick/the_kick never gets/got off/away, not converted, "
          "can't/cannot/couldn't/could_not/didn't/did_not/doesn't/unable_to convert, "
          " do not get it, don't get it, doesn't "
          "work, does not work, didn't work, did not work, "
          "no gd, missed it, not good, is no good, nogood, unsuccessful, fails, missed, kick fails, kick failed, "
          "fails/failed/failing to convert, failed attempt, attempt fails, no, conversion fails, stopped, "
          "stuffed, ng, kick no good, is not good, "
          "turned away"), codes="n"),
    row("short", Role.MISSED, "short", (
          told.NOT_ENOUGH +
          "/well/just/far short, well/way/just/far short of the/a "
          "first_down/first/marker/sticks/chains/line_to_gain, /just shy of the "
          "first_down/marker/sticks/line_to_gain, not enough for a/the first /down, does not make the first down, "
          "doesn't make the first down, did not make the first down, didn't make the first down, "
          "not enough, didn't make it, didn't get it, did not make it, did not get it, doesn't make it, doesn't get "
          "it, short of the first down, short of a first down, short of the sticks, short of the marker, short "
          "of the "
          "chains, comes up short, falls short, stopped short, "
          "stopped short on fourth/third/4th/3rd /down/and_1/and_one/and_two/and_2/and_inches/and_goal, "
          "stopped short of the goal line, just short, is short, "
          "short of the goal line, short of the line to gain, dead short of the line to gain, ball dead short of the "
          "line to gain, ball is dead short of the line to gain"), codes="s", where=MEASURED),
    row("wide", Role.MISSED, "wide", (
          told.MISSED +
          "wide l, wide r, wide lt, wide rt, wide left, wide right, wide to the left, wide to the right, "
          "off the upright, hit the left "
          "upright, hit the right upright, off the left upright, off the right upright, hit the upright, off the "
          "crossbar, hit the crossbar, doinked, left of the upright, right of the upright, hooked, pulled, pushed, "
          "pulled left, pushed right, hooked left, shanked")),
    row("tipped", Role.FILLER, "tipped", "deflected, tip, is tipped, bobbled then caught, juggled"),
    row("made", Role.OUTCOME, Outcome.MADE, "got it, he got it, line to gain made", codes="m", where=MEASURED),
    row("returned", Role.RETURN, None, (
          "runs/takes/brings/carries the/our/their/that "
          "kickoff/kick/punt/ball all the way back, runs/takes/brings/carries our/their kickoff/kick/punt back, "
          "kor, kr, pr, runs the kickoff back, runs the kick back, runs the punt back, bring it back, rtn, rtrn, retd, "
          "runs back, brings it "
          "out, "
          "bring it out, brought it out, brings it out to, brought out, ret, brought back, runs it back, return by, "
          "brings it back, brought it back, brought back, took it back, run back by, advanced, runback, picked up "
          "and returned, returns it, "
          "takes it, "
          "carried back"), codes="rt", where=KICKED, about="then where to, or how far"),
    row("caught", Role.CAUGHT, None, (
          told.CAUGHT +
          "hauls in, hauls it in, snags, grabs, pulls in, snatched, brings in, fielded, received, gathered, taken, "
          "taken at, received by, fielded by, caught by, catch is made, "
          "catch was made, makes the catch, picked up at")),
    row("unreturned", Role.FILLER, None, (
          told.UNRETURNED +
          "/and nobody/no_one/nobody_else returned/returns/brought/ran/fielded/picked_up it /back, no runback, "
          "without a runback, /it was/is not returned/brought_back/run_back, nobody brings it back, nobody runs it "
          "back, "
          "they let it roll, they let it bounce, no ret, no rtn, not returned, no return, untouched, without a "
          "return, "
          "/and /he is/was/gets/got/he's tackled/brought_down/hit/stopped/dropped/smothered right there/away, "
          "/and /he is/was/gets/got/he's tackled/brought_down/hit/stopped/dropped/smothered "
          "immediately/at_once/on_the_spot, no one/man back/deep, nobody back/deep, let it bounce, lets it "
          "bounce, let it roll, lets it roll, let it go, lets it go"),
         about="said of a kick that nobody brought back"),
)
_SNAPS = (
    "snap sails/goes/flies over his/the/the_punter/the_quarterback/the_kicker/the_holder head, snaps it over "
    "his/the/the_punter/the_quarterback/the_kicker/the_holder head, "
)
LOOSE_BALL: tuple[Word, ...] = (
    row("fumble", Role.EVENT, (EventKind.FUMBLE, None), (
          told.FUMBLE +
          "loses the handle, lost the handle, loses the football, lost the football, ball is punched "
          "out, puts it down, ball squirts out/free/loose, ball pops free/out/loose, ball knocked loose, let go of "
          "it, ball is knocked loose, bobbles it loose, "
          "missed pitch, pitch missed, pitch is missed, misses the pitch, bad pitch, wild pitch, errant pitch, "
          "pitch goes wild, pitch is wild, pitch dropped, pitch is dropped, dropped pitch, drops the pitch, "
          "bad handoff, "
          "bobbled handoff, fumbled handoff, mishandled handoff, botched handoff, fumbled exchange, ball pops out, "
          "ball pops loose, ball popped out, ball popped loose, fum, fmb, fumb, coughed it up, ball is out, ball is "
          "loose, put it on the ground, puts it on the ground, ball is on the ground, loose ball, it is loose, "
          "stripped, loses the ball, coughed up, ball comes loose, ball comes out, ball out, lost control, "
          "mishandles, drops the ball, ball loose, is loose, ball on the ground, on the turf, forced fumble, fumbled "
          "ball, fumble forced"), codes="f, fu"),
    row("lost", Role.RECOVERED, "other", "ball lost, turned over, loses it", codes="l"),
    row("kept", Role.RECOVERED, "same", (
          "/recovered_by/covered_by own man/player/receiver/guard/tackle/center/lineman/back/quarterback "
          "/recovers/recovers_it/recovered_it/got_it/gets_it/covers_it/falls_on_it/fell_on_it, retained, "
          "keeps the ball"), codes="k"),
    row("recovery", Role.RECOVERED, None, (
          "is/are/was/were /right on it /at, on it /at, covers it, "
          "jumps right back on it, gets it back, picks it back up, dives on it, secures it, scoops it, "
          "scoops it up, saved it, saves it, got on it, is all over it, "
          "jumps right back on it, jumps back on it, jumps right on it, rec, rcvd, recd, rcv, rec by, got it, got it "
          "at, falls on the ball at, got it back, has it, have it, have got it, comes up with it, comes up with the "
          "ball, fell back on it, pounce on it, fall on it, picked it up, scooped it up, have the ball, has the "
          "ball, "
          "have the football, has the football, recovered, covered, jumped on, picked up, scooped up, scooped, "
          "/right/back/right_back on top of it /at, recovered by, recovery by, pounced on, falls on the ball, "
          "scooped and, recov, recov by, gets the "
          "ball, ends "
          "up with it, ends up with the ball, gets on it, jumps on it, falls on top of it, dives on it")),
    row("recovers the fumble", Role.RECOVERED, "fumble", (
          "recovers a fumble, recovers the ball, recovery of the fumble, recovery of a fumble")),
    row("own recovery", Role.EVENT, (EventKind.OWN_RECOVERY, None), (
          "recovered his own fumble, recovers own fumble, recovers it himself, recovered by the fumbler, "
          "recovered by "
          "himself, own fumble recovered, recovers his own, picks up his own fumble, regains control"), codes="o"),
    row("bad snap", Role.EVENT, (EventKind.MUFF, None),

          told.BAD_SNAP +
          "bad exchange, snap hits the ground/turf, snap goes/rolls through/between his legs, snap "
          "rolls/rolled/bounces/bounced back, wild snap, center sails it, snap sails, snap goes/skips/rolls/flies "
          "past/by/over/through him, snap goes wild, "
          "snap is bobbled, snap bobbled, snap is dropped, snap is high, snap is low, snap is bad, drops the snap, "
          "dropped snap, fumbled the snap, mishandles the snap, "
          "aborted, aborted snap, " + _SNAPS + "snap over his head, high snap, "
                                                  "botched snap, snap muffed, snap over the punter head, "
                                                  "snap over the quarterback head, snap over the kicker head, "
                                                  "snap over the holder head, snap over the head, "
                                                  "snap sails over his head, bad exchange, muffed snap, low snap, "
                                                  "errant snap, bobbled snap", "ab"),
    row("lateral", Role.EVENT, (EventKind.LATERAL, None), (
          "backwards pass, tosses it backwards, throws it backwards, tosses it back, pitches it back, flips it "
          "back, throws it back, "
          "hook and lateral,  backward pass, hook and ladder, pitched back")),
    row("muff", Role.EVENT, (EventKind.MUFF, None), (
          "first touching, first touching by, off a blocker, hits a blocker, touched by, touched first, touched"),
         codes="mu"),
    row("landing", Role.EVENT, (EventKind.LANDING, None), "lands beyond the line and comes back"),
    row("forced touching", Role.EVENT, (EventKind.FORCED_TOUCHING, None), (
          "blocked into the ball, blocked into it, pushed into the ball, forced into the ball, batted into")),
    row("bat", Role.EVENT, (EventKind.BAT, None), "batted the ball, batted back"),
    row("momentum", Role.EVENT, (EventKind.MOMENTUM, None), "momentum takes him, momentum carries him, momentum "
    "into"),
    row("ball out of bounds", Role.EVENT, (EventKind.OUT_OF_BOUNDS, None), (
          "fumble out of bounds, loose ball out of bounds, ball rolls out of bounds, ball goes out of bounds, fumble "
          "rolls out of bounds"), codes="o"),
)
CHOICES: tuple[Word, ...] = (
    row("receive", Role.CHOICE, "receive", (
          "take/takes/took/want/wants/will_take the ball/football first, take/want/takes/wants it first, will "
          "receive "
          "first, elects/elected/chooses to receive, to receive, elect to receive, will receive, chose to "
          "receive, wants the football, want the ball, want the "
          "football, wants it, takes the football, take the ball, wants the ball"), codes="r", where=TOSS),
    row("kick", Role.CHOICE, "kick", (
          "elects/elected/choose/chooses/chose to kick /off, elect to kick off, will kick off, kicks, to kick, "
          "elect to kick, chose to kick, will kick"), codes="k, ki", where=TOSS),
    row("defer", Role.CHOICE, "defer", (
          "deferred, to defer, elects to defer, and defers, chose to defer, deferred to the second half, defers "
          "to the "
          "second half"), codes="d", where=TOSS),
    row("defend", Role.CHOICE, "defend", (
          "to defend, defend a goal, to defend a goal, elects to defend"), codes="de", where=TOSS),
    row("fair catch kick", Role.CHOICE, "fair catch kick", "free kick for goal", where=PLAY),
    row("replay", Role.CHOICE, "replay", (
          "play it over, play over again, play over, do it over, retry, rekick, re-kick, /we/they /have_to/must "
          "kick/kicks/punt/punts /it again, repunt, "
          " replay the try, try again, "
          "do/run/play the down over/again, replay the down, down replayed, repeat the down, down over")),
    row("take the spot", Role.CHOICE, "take the spot", "take the ball there, take it at the spot"),
    *(row(f"as {kind.value}", Role.STANDS_AS, kind) for kind in PlayKind),
)

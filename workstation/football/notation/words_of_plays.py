"""The table of words: kinds of play, tries, and how it was run, thrown or kicked."""

from __future__ import annotations

import workstation.football.notation.words_of_onlookers as told

from ..plays import Outcome, PlayKind
from .word import START, TOSS, TRY, Role, Word, kind_row, manner_row, row, spelled, split_phrases

_ENDS = (
    "end/end_of/end_of_the/end_the 1st/2nd/3rd/4th/first/second/third/fourth /quarter/period/half, "
    "end/end_of/end_of_the/end_the /the quarter/period/half, /1st/2nd/3rd/4th/first/second/third/fourth/the "
    "quarter/period/half over/is_over/ends/has_ended/is_done/comes_to_an_end/expires, end/end_of 1/2/3/4 q, "
    "end/end_of q1/q2/q3/q4, eoq, eoh, eog, eop, "
)
_NOT_HELD = (
    "could_not/cannot/can't/couldn't "
    "hang_on/hang_on_to_it/hold_on/hold_on_to_it/hold_it/catch_it/handle_it/bring_it_in/make_the_catch/"
    "come_up_with_it, "
)
_UNCAUGHT = (
    "/that nobody/no_one/no_receiver/none_of_them "
    "catches/catches_it/caught/caught_it/could_catch/can_catch/can_catch_it/could_catch_it/could_get_to/"
    "could_reach/got_a_hand_on, "
)
_ASTRAY = (
    "/was/it_was too high/low/far/long/wide/deep/hot/hard, off target/the_mark, into/in the dirt, at "
    "his/the_receiver feet, short_of/behind/ahead_of/wide_of the receiver, well over his head, out_of/beyond "
    "everyone/his/the_receiver reach, wide of him, well/way wide, way high/short, "
)
_FOUND = (
    "hit/found the/our/a "
    "receiver/tight_end/wideout/flanker/wide_receiver/slot_receiver/split_end/slot/back/tailback/fullback/wr/te/rb, "
)
_THROUGH = (
    "goes/went/cuts/cut through/off/around/over the /left/right/near/far side/end/tackle/guard/hole/gap, "
    "runner/back/tailback/fullback/halfback/ball_carrier gets/takes the ball, "
)
_LOOKING_TO_THROW = (
    "still holding /on_to/onto the ball/football /and looking/waiting/trying to throw/pass, "
)
_PUNTER_KICKS = (
    "pins/pinned them/him/the_returner /back/down /deep, punter/punter_# gets/got off, "
    "punter/punter_# gets/got /it/one/the_kick/the_punt/the_ball/a_kick/a_punt "
    "off/away /anyway, "
)
_TRIED_RUN = (
    "tries/tried/trying/try/attempts/attempted to "
    "run_it_in/run_it/run/punch_it_in/take_it_in/carry_it_in/sneak_it_in/walk_it_in, "
)
_TRIED_PASS = (
    ", tries/tried/trying/try/attempts/attempted to throw_it_in/pass_it_in/throw_it/throw_for_two"
)
_IN_THE_POCKET = (
    "taken_down/brought_down/dragged_down/hauled_down/pulled_down/dropped/caught/wrapped_up/swallowed_up/buried/"
    "hit/nailed "
    "in the pocket, "
)
_FROM_WHOM_TO_WHOM = (
    "# short/deep/long/over/low/high/underneath to /the #, throwback/throw_back /pass /to, "
    "#/qb/quarterback to /the #/te/tight_end/wr/wide_receiver/receiver/wideout/flanker/slot/rb/tailback/fullback, "
    "# from /the #/qb/quarterback, # hit/hits/found/finds #, "
)
FROM_WHOM_TO_WHOM = frozenset(spelled(split_phrases(_FROM_WHOM_TO_WHOM)))
"""Who threw and who caught: a pass, where nothing else was said."""
KINDS: tuple[Word, ...] = (
    kind_row("run", PlayKind.RUN, also=(
          "fights/fought/battles/battled/claws/clawed/scraps/scrapped/strains for, jumps/jumped/hurdles/hurdled over "
          "the pile/line/top, breaks one, busts one, handed to, leaps over, on the carry/rush/handoff, "
          "grinds/grinds_out, squeezes/squeezes_through, rips/rips_off, bolts, weaves, lumbers, dances, pushes "
          "behind the center, jaunt, runs instead, gashes us/them for, tush push, quarterback/qb wedge "
          "/play, takes off, runs/ran inside/outside/between_the_tackles, pounds it, runs it himself, bulls ahead, "
          "rumbles ahead, " +
          told.RUN + _TRIED_RUN + _THROUGH + "goes off, goes around, goes up, goes over, cuts up, "
          "cut/cuts/cutting/bounced/bounces/bouncing it /back "
          "/inside/outside/upfield/to_the_middle/to_the_outside, cutback, cuts back "
          "/inside/upfield/to_the_middle/against_the_grain, "
              "takes it off tackle, "
          "takes it up the middle, goes up the middle, goes off tackle, takes it around end, goes around end, "
          "takes it "
          "off left tackle, takes it off right tackle, takes it around left end, takes it around right end, hands it "
          "off, handed it off, handed off, hand it off, handed it to, hands it to, gives it to, bulls, plows, "
          "bursts, "
          "slashes, slashed, knifes, knifed, bolts, bolted, slices up/through/ahead, angles left/right/off, "
          "rumbles, rumbled, races, sprints, scampers, scampered, darts, churns, churned, powers, barrels, squirts, "
          "pounds it, slams, slammed, bowls, takes the handoff, takes it himself, carries it, runs it, rns, rush, "
          "hands off, hands off to, hand off to, handoff to, on the ground, carry, ball carried, handoff, hand off, "
          "ground gain"), codes="r", about="then yards gained, or the yard line it went to"),
    kind_row("pass", PlayKind.PASS, Outcome.COMPLETE, (
          told.PASS + "halfback/half_back/hb/tailback/rb /option pass, option pass, "
          "flips/flipped/throws/threw/dumps/lobs/floats the/a screen /out /to, cpl, cplt, compl, "
          "complt, " + _FROM_WHOM_TO_WHOM + _FOUND + "short toss to, "
          "throws/completes/complete/hits/connects_on a short/long/deep/quick one, through the air, strike, throws "
          "a strike, throws one, completes/complete/connects_on/connect_on/catches "
          "one, "
          " lofts one, fires one, "
          "heaves one, lobs one, hits one, "
          "slings one, "
          "throws/threw/throw /it short/deep/long /to_the left/right/middle /for, throws/threw over the middle "
          "/for, fires, fired, lofts, lofted, lobs, slings, heaves, zips, flips it to, flips/tosses/shovels it "
          "underhand/underneath/forward /to, dumps it off, finds, hooks up with, "
          "throws it, legal forward pass, cmp, cmpl, comp, cmplt, rec, pss, pas, completion, complete pass, pass "
          "complete, complete, throw, pass caught, reception, hits, connects, hurls, airs it out, connects "
          "with, pass "
          "is caught, pass is complete, complete to, pass completed, pass completion, forward pass"),
         codes="p", about="then yards gained, or the yard line it went to"),
    kind_row("incomplete", PlayKind.PASS, Outcome.INCOMPLETE, (
          "thrown/threw out_of_bounds/out_of_play, "
          "/receiver/he /was/is out_of_bounds when/as/before he caught/catches/grabbed/grabs it/the_ball, "
          "overthrows, underthrows, short hopped, short hops it, thrown behind/short/wide/high/low, slaps/slapped "
          "it/the_pass down/away, swats/swatted/bats/batted/knocks/knocked it away, skips off the "
          "grass/turf/ground, "
          "chucks/flings/throws/heaves/tosses/fires/dumps it oob, "
          "chucks/flings/throws/heaves/tosses/fires/sails/dumps/ditches/unloads it/the_ball into the "
          "stands/bench/crowd, flings/heaves/tosses/fires/sails/dumps/ditches/unloads/chucks it/the_ball "
          "out_of_bounds/over_the_sideline/away, throws it/the_ball over_the_sideline, loses it before securing it, "
          "loses it before he had it, bounces it in front of, sails it over, gets rid of it, nobody could catch it, "
          "pass too long/short/high/low, "
          "in_and_out/out of his/the_receiver hands, off/through/slips_through/bounces_off/goes_through/goes_off "
          "his/the /outstretched fingertips/fingers/hands, right through his hands, through the receiver hands, " +
          told.INCOMPLETE + _NOT_HELD + _UNCAUGHT + _ASTRAY
          + "came down out of bounds, comes down out of bounds, feet out of bounds, one foot out of bounds, "
          "over his head, over the receiver head, over the receivers head, sails over his head, /ball "
          "over the receiver/receivers/tight_end/wideout head, "
          "knocks the pass down, bats the pass down, knocks the ball down, "
          "breaks up the pass, breaks/broke it up, "
          "throws the ball away, swats the pass away, knocks it down, bats it down, "
          "nobody caught it, no "
          "one caught it, fell to the ground, hits the turf, one hopped, one hops it, into the stands, throws "
          "it into "
          "the stands, throws it out of bounds, out of the end zone incomplete, dr, incmp, incpl, drp, uncatchable, "
          "qb/inc/quarterback ta, "
          "/ball strikes/struck the ground/turf/grass, out of reach, off his hands, off the hands, "
          "off his fingertips, bounced, bounces in, hits the ground, "
          "incomplete pass, pass incomplete, incompletion, inc, incompl, falls incomplete, dropped, dropped "
          "pass, pass "
          "dropped, batted down, batted, pass batted down, pass batted, knocked down, knocked away, slapped down, "
          "swatted, swatted down, knocked loose, thrown away, throws it away, throwaway, ball thrown away, "
          "broken up, "
          "pass broken up, pass breakup, pbu, overthrown, overthrew, underthrown, no catch, not caught, uncaught, "
          "missed pass, over throw, pass defended, pass defensed, /the pass /is/was no good, "
          "pass/throw sails/sailed/goes/went/flies/flew/lands/landed/falls/fell/is/was out_of_bounds/out, airmails/"
          "airmailed the/our receiver, airmails/airmailed him/it/one, "
          "had him /open/wide_open and/but /just missed/overthrew/underthrew /him, "
          "just/barely misses/missed him, misses/missed # /on"), codes="i"),
    kind_row("sack", PlayKind.SACK, also=(
          _LOOKING_TO_THROW +
          told.SACK +
          "qb/quarterback goes/is down, our/their/the quarterback/qb/passer goes/is down, gets to our/their/the "
          "quarterback/qb/passer, blindsided and dropped, drops/drop him for, they bring the blitz and drop "
          "him /for, "
          "eats it, eats the ball, crushed in the pocket, dropping back and crushed, gets to the quarterback, tries "
          "to throw and is tackled, swallowed up in the pocket, "
          "before he could/can throw/pass/release/unload /it/the_ball, before he could/can get "
          "it/the_ball/a_pass/the_pass off/away, before he could/can get rid of it/the_ball, never had a chance to "
          "throw, does not get the pass away, doesn't get the pass away, tackled in the pocket, couldn't get the "
          "pass/ball/throw off/away, " +
          _IN_THE_POCKET + "tackled behind the line while trying to throw, tackled while trying to throw, "
              "tackled trying to throw, "
          "tackled while trying to pass, tackled trying to pass, caught behind the line trying to throw, gets "
          "dumped, "
          "is dumped, was dumped, dumped in the backfield, tackled in the pocket, passer tackled, quarterback "
          "down in "
          "the pocket, down in the pocket, quarterback goes down, passer goes down, brought down in the pocket, skd, "
          "qb sack, quarterback sacked, qb is sacked, coverage sack"), codes="s, sk", about="then yards lost"),
    kind_row("punt", PlayKind.PUNT, also=(
          _PUNTER_KICKS +
          "good/nice/great/bad/poor/high/low/short/long/big/ugly/booming/wobbly/line_drive punt, pnt, kicks it "
          "away, kicked away, punts it away, scrimmage kick, punt kick"),
         codes="pu", about="then where it came down"),
    kind_row("field goal", PlayKind.FIELD_GOAL, also=(
          "decides/tries/wants/lines_up to kick a/the field goal, kicks/tries/attempts a/the field goal, "
          "hits/nails/drills/converts/connects_on/booms/boots the/a field goal/fg, "
          "chip shot, fg, field goal attempt, fg attempt, field goal try, placekick, place kick, field goal kick, fga"),
         codes="f", about="then its length"),
    kind_row("kneel", PlayKind.KNEEL, also=(
          told.KNEEL +
          "takes a knee, drops to a knee, kneels it out, kneels on it, downs it on a knee, another kneel,  "
          "one more knee, kneels to run out the clock, knee to run out the clock, "
          "kneel down, kneeldown, takes a knee, knee, victory, victory formation, qb kneel, genuflect, quarterback "
          "kneel, qb knee, kneeled"), codes="k", about="then yards lost"),
    kind_row("intercepted", PlayKind.PASS, Outcome.INTERCEPTED, (
          "stolen by, pass stolen, pass is stolen, jumps the route and picks it, steps in front and picks it, "
          "undercuts it and picks it, thrown to the wrong team, throws/tosses/puts it /right to the wrong "
          "jersey/color/colors/guy/man/player/shirt/side, throws it to "
          "the wrong team, throws it to the other team, picked by, "
          "gets/got/get/is/was picked /off, gets/got/get/is/was intercepted, "
          "catches/takes/grabs/snatches/steals/gets/picks our/their pass/throw, pass is picked, picks it off, "
          "pass int, pass int'd, passes int, interception, int, pick, picked off, pass intercepted, "
          "intercepted pass, ints, pass picked off, pass "
          "interception"), codes="in", about="at, then returned to"),
    kind_row("spike", PlayKind.SPIKE, also=
          "spikes it/the_ball/the_football, kills/stops the clock with a spike, throws/slams it straight/down "
          "into/to the ground to stop the clock, grounds it /right_away to stop the clock, clock it, quick/legal "
          "spike, spikes it to stop the clock, slams it down to stop the clock, throws it into the ground to stop "
          "the clock, downs it with a spike, "
          "spk, spkd, clocked it, spiked ball, spikes the ball, clocked", codes="sp"),
    kind_row("timeout", PlayKind.TIMEOUT, also=(
          "calls/called/takes/took/uses/used/burns/burned/needs/needed/have/had a/their/our/another "
          "/first/1st/second/2nd/third/3rd/last timeout/time_out, " +
          told.TIMEOUT + "requests/requested/request time/timeout/a_timeout, calls/called time /out, t o, " +
          "burns/burned/uses/takes/calls/spends/wants a/one/another/our/their/his/its /first/second/third/last/final "
          "to, /is/was/has_been charged with /a/an/its/their/the/his "
          "/first/second/third/final/last/third_and_final/second_and_final timeout/time_out, icing the kicker, "
          "third and final timeout, second and "
          "final timeout, uses/burns/spends one/another, "
          "timeout taken by, timeout taken, calls a timeout, takes a timeout, uses a timeout, burns a timeout, calls "
          "timeout, calls a time out, takes a time out, 30 second timeout, 60 second timeout, thirty second timeout, "
          "team timeout, full timeout, short timeout, first timeout, second timeout, third timeout, 1st timeout, 2nd "
          "timeout, 3rd "
          "timeout, last timeout, final timeout, time out, to taken, charged timeout, timeout "
          "called"),
         codes="t, ti"),
    kind_row("officials' timeout", PlayKind.TIMEOUT, also=(
          "media/official/officials/official's/referee/referee's/referees/ref/ref's/tv/television/injury/"
          "injured_player/"
          "equipment/heat/weather/lightning timeout/time_out, timeout/time_out /for/on/with /an/a "
          "injury/injured_player/heat/lightning/equipment/measurement, timeout/time_out on the field, timeout "
          "/called /by /the officials/official/referee/refs"),
         about="charged to nobody"),
    kind_row("end of period", PlayKind.END_OF_PERIOD, also=told.CLOCK_RAN_OUT + "change of quarter/quarters, end of "
    "/1st/2nd/3rd/4th/first/second/third/fourth/the qtr, "
          "end /1st/2nd/3rd/4th qtr, /1st/2nd/3rd/4th/first/second/third/fourth /quarter/qtr is/was "
          "finished/done/over, "
          "/1st/2nd/3rd/4th/first/second/third/fourth quarter/qtr over/ends/done/finished, "

          "first/second/third/fourth/1st/2nd/3rd/4th quarter/half is /in_the books/over/done/complete, "
          "first/second/third/fourth quarter is in the books, horn sounds, gun sounds, that'll do it for the "
          "first/second/third/fourth quarter/half, through one/two/three/1/2/3 quarters, end of one/two/three/four "
          "quarter/quarters /of_play, end of one/two/three/four, we go to the second/third/fourth /quarter, "
          "zeros/zeroes on the clock, triple zeros, clock runs out on the first/second/third/fourth quarter/half, "
          "that the 1st/2nd/3rd/4th/first/second/third/fourth quarter/qtr, that's halftime, that's the half, "
          "that's the ball game, ball game, final whistle, final horn, overtime "
          "is over, end of ot, "
          "clock runs out, time runs out, time has run out, clock has run out, clock expires, halftime, half time, "
          "half, end of game, end of the game, end of regulation, quarter ends, half ends, game ends, period ends, "
          "end of overtime, final, time expires, end of quarter one, game over, " + _ENDS, codes="e"),
    kind_row("measurement", PlayKind.MEASUREMENT, also=(
          told.MEASURED +
          "meas, they're measuring, they are measuring, measuring, going to measure, want to measure, want to "
          "measure "
          "this one, stretch the chain/chains, chain crew on the field, chain gang on the field, calls for the "
          "chains, after the measurement, measuring for the first, official measurement, bring the sticks in, bring "
          "in the sticks, measure, "
          "measured, chains, chain measurement, they measure, bring out the chains, chains out, chains are out, "
          "chains "
          "come out, bring the chains out, bring out the sticks, sticks, chains brought out, chains on the field, "
          "chains measure"), codes="m", about="then short or made"),
    kind_row("no play", PlayKind.NO_PLAY, also=(
          "play blown dead, blown dead"), codes="np", about="a foul before the snap, or the whole down put back"),
    kind_row("replay reversal", PlayKind.REPLAY_REVERSAL, also=(
          "reversed, reversed to, overturned, overturned to, reviewed and reversed, reviewed and reversed to, call "
          "reversed, play reversed, ruling reversed, reversal, ruling overturned, call overturned, reversed on "
          "replay, "
          "replay reversed, play overturned, upon review reversed, ruling on the field reversed, ruling on the field "
          "overturned, after review, changed on replay"),
         codes="rep", about="the play before stands as this one tells it"),
    kind_row("inadvertent whistle", PlayKind.INADVERTENT_WHISTLE, also=(
          "early whistle, whistle blew by mistake, whistle by mistake, erroneous whistle, whistle blown by mistake, "
          "accidental whistle"), codes="iw"),
    kind_row("kickoff", PlayKind.KICKOFF, also=(
          "kickoff by, kkf, kick-off by, kick off, ko, free kick, kickoffs, opening kickoff"),
         codes="k", about="then where it came down, and returned to"),
    kind_row("safety free kick", PlayKind.SAFETY_FREE_KICK, also=(
          "free kick after a safety, free kick after safety, safety kick, free kick, punted free kick, free "
          "kick after "
          "the safety, free kick following the safety, free kick following a safety, free kick from the safety, kick "
          "after the safety, kick after safety"), codes="sk"),
    kind_row("try kick", PlayKind.TRY_KICK, also=(
          "xpt, pat try, pat, extra point, xp, point after, pat kick, extra point kick, try by kick, one-point try, "
          "try for one, attempt for one, try for one point, going for one, convert, convert kick, one point convert, "
          "conversion kick, kick try, extra pt, point after touchdown, pat attempt, extra point attempt, xp attempt, "
          "kicked extra point, conversion, ep, single point try"), codes="k", where=TRY),
    kind_row("try run", PlayKind.TRY_RUN, also="two-point run, two pt run, 2 point run, 2-pt run, conversion run, "
    "run try"),
    kind_row("try pass", PlayKind.TRY_PASS, also="two-point pass, two pt pass, 2 point pass, 2-pt pass, "
    "conversion pass, pass try"
          + _TRIED_PASS),
    row("kick", Role.KICK, None, (
          told.KICK +
          "/a /little short/low/high/long/deep kick, gets it away, gets the kick away, gets the punt away, kicks, "
          "boots it, boots one, booms it, booms one, "
          "boots it away, gets off a kick"), where=START, about="the kick that the situation calls for"),
    kind_row("coin toss", PlayKind.COIN_TOSS, also=
          "overtime toss, ot toss, ot coin toss, overtime coin toss, "
          "toss, coin flip, toss won by, coin toss won by", where=TOSS),
    kind_row("scrimmage run", PlayKind.RUN, about="on a try, where run means the try's"),
    kind_row("scrimmage pass", PlayKind.PASS, Outcome.COMPLETE, about="on a try, where pass means the try's"),
)
TRIES: tuple[Word, ...] = (
    row("two-point try", Role.TWO_POINT, None, (
          "two pt conv, 2 pt conv, two-point conversion, two point attempt, 2-point conversion, 2 point "
          "attempt, 2 pt "
          "try, 2 pt conversion, two point, 2 point, two points, 2pt, going for two, for two, for 2, goes for 2, "
          "tries for two points, goes for two points, tries for two, tried for two, "
          "trying for two, tries for 2, tried for 2, "
          "two-point convert, runs/ran/walks/walked/carries/carried/throws/threw/takes/took in the two_point/"
          "2_point/two_pt/2_pt "
          "try/conversion/play, 2-point try, two pointer, two pt conversion, two-point play, 2 point convert, 2 "
          "pts, two "
          "pt try, for two points"), about="then run or pass, good or no good"),
)
MANNERS: tuple[Word, ...] = tuple(manner_row(*row) for row in (
    ("draw", PlayKind.RUN, "dr, drw, draw play, qb draw, quarterback draw, lead draw"),
    ("sweep", PlayKind.RUN, "swp, speed sweep, toss sweep, buck sweep, power sweep, qb sweep"),
    ("jet sweep", PlayKind.RUN, "fly sweep, jet"), ("option", PlayKind.RUN, "speed option, triple option, veer, load "
      "option, trap option"),
    ("read option", PlayKind.RUN, "zone read, zr, power read, inverted veer, q "
      "read"), ("toss", PlayKind.RUN, "pitch, toss play, pitch play, crack toss, toss crack, quick toss, quick "
      "pitch, crack sweep"),
    ("reverse", PlayKind.RUN, "reverses, rev, reverse to, reverse to the, double reverse"), ("end around",
        PlayKind.RUN),
    ("counter", PlayKind.RUN, "ctr, cntr, counter play, counter trey, gt/gh/gy/g_t/g_h/g_y ctr/cntr/counter, "
    "gt counter, gh counter, gy counter, bash "
      "counter"), ("trap", PlayKind.RUN, "trap play, quick trap, wham, long trap"),
    ("belly", PlayKind.RUN, "buck, belly option"), ("midline", PlayKind.RUN, "midline option"),
    ("rocket", PlayKind.RUN, "rocket toss, rocket sweep"), ("power", PlayKind.RUN, "pwr, power o, power play, gt "
      "power, one back power"),
        ("duo", PlayKind.RUN, "duo play"),
    ("pin and pull", PlayKind.RUN, "pin pull, pin n pull, pin/pull"), ("mesh", PlayKind.PASS, "mesh concept, "
    "drive concept, shallow "
    "concept"),
    ("verticals", PlayKind.PASS, "four verts, verts, four verticals, all go"), ("smash", PlayKind.PASS, "smash "
      "concept, curl flat, slant flat, snag concept, spot concept, stick concept"),
    ("flood", PlayKind.PASS, "sail route, sail, sail concept, flood concept, levels, y cross, shallow cross, "
      "shallow, dagger"),
    ("zone", PlayKind.RUN, "iz, split/inside/outside/in/out/mid/tight/wide zn, zn, split zone, split flow, oz, "
    "inside zone, "
    "outside zone, stretch, stretch zone, mid zone, tight "
      "zone, wide zone"),
    ("dive", PlayKind.RUN, "dv, fullback dive, fb dive, dives over/ahead "
      "/the_top/the_pile, plunge, lead play, iso, blast, double dive, lead iso"),
    ("sneak", PlayKind.RUN, "push sneak, snk, qb snk, qb sneak, quarterback sneak, /qb/quarterback snuck /it"),
    ("keeper", PlayKind.RUN, told.KEEPER +
     "pulls/pulled it and keeps/kept/kept_it/keeps_it, qb/quarterback pull/pulls/pulled /it /left/right/lt/rt, "
     "pulls/pulled it /down and runs/keeps/keeps_it/goes, "
     "qb keeper, quarterback keeper, qb keep, keeps it, keeps, qb run, quarterback run, qb keeps it"),
    ("scramble", PlayKind.RUN,
     "/qb/quarterback pulls/pulled it /down and scrambles/takes_off/tucks_it, scr, scrm, scram, tucks and runs, "
     "tucks it and runs, tuck and run, tucks it, qb scramble, quarterback scramble"),
    ("wildcat", PlayKind.RUN),
    ("bootleg", None, "qb/quarterback boots/booted /left/right/out, waggle, sprint out, sprint right, sprint "
    "left, boot, naked bootleg, naked, naked boot, "
      "rollout, roll out"),
    ("off tackle", PlayKind.RUN, "off tkl, off lt tkl, off rt tkl, off lt tackle, off rt tackle, off lt, off rt"),
    ("screen", PlayKind.PASS,
     "smoke, smoke/now route, scr, scrn, bubble, tunnel, jailbreak, screen pass, screens, "
     "now/flash/bubble/tunnel/jailbreak/slip/swing/smoke/quick/middle/rb/wr/te/tailback/fullback screen /pass"),
    ("slant", PlayKind.PASS, "runs/ran a slant, slant pass, slant route, slants, glance, sluggo, slant and "
      "go"), ("fade", PlayKind.PASS, "fade route, fade pass"),
    ("play action", PlayKind.PASS, "play fake, pump fake, pa, play action pass, fake handoff, fakes the handoff, "
    "pap"),
    ("rpo", None, "run pass option"), ("checkdown", PlayKind.PASS, "check down, dump off, dumpoff, dump pass, dump"),
    ("hail mary", PlayKind.PASS), ("statue of liberty", PlayKind.RUN, "statue"),
    ("hook and ladder", PlayKind.PASS, "hook and lateral, hook n ladder"), ("flea flicker", PlayKind.PASS),
    ("pop pass", PlayKind.PASS, "pop to, te pop"),
    ("shovel pass", PlayKind.PASS, "shovel"), ("swing pass", PlayKind.PASS, "flare, flares /it, flare pass/route, "
        "swing, flat, flat route, flat pass"),
    ("hitch", PlayKind.PASS, "hook, hook route, runs/ran a hitch/curl/stick /route, buttonhook, button hook, stick, "
        "all "
    "curls/hitches, curl, curl route, "
    "hitch route"),
    ("deep pass", PlayKind.PASS, "corner/post/seam/streak to, go to #, takes/took/take a/the deep shot, "
    "takes/took/take a "
        "shot "
        "/deep/downfield/down_the_field, runs/ran a post/corner/go/seam/fly /route, hole/turkey_hole/honey_hole shot, "
    "bomb, deep ball, go route, go ball, "
    "go rte, streak, post, post route, corner "
      "route, seam, seam route, deep post, post corner, double "
     "move, hitch and go, out and up, stick nod, nod, out and go, flag route/pattern"),
    ("quick out", PlayKind.PASS,
     "down and out/in, square in/out, runs/ran a out/dig/comeback/drag/wheel/crossing /route, runs/ran an out "
     "/route, dig, dig route, comeback, "
     "comeback route, out route, out rt, out lt, out rte, crossing route, drag, wheel, "
     "wheel route, "
     "out to /the x/y/z/h/f/tight_end/wideout/flanker/slot/receiver/back/wr/te, cross, crosser, deep out, "
     "intermediate out, "
     "speed out, deep cross, over route, corner out"),
    ("fake", None,
     "run/runs/ran a /punt/fg/field_goal fake, fake the punt, fake the field goal, fake the kick, fake the fg, on a "
     "fake punt, on a fake field goal, "
     "fake punt, "
     "fake field goal, fake fg, fake kick, punt fake, field goal fake, fg fake, fake extra point, fake pat"),
    ("onside", PlayKind.KICKOFF,
     "onside kick, on-side kick, onsides kick, onside kickoff, onsides, kickoff onside, kicks onside"),
    ("squib", PlayKind.KICKOFF, "squib kick, squibbed, squib kickoff"), ("quick kick", PlayKind.PUNT),
    ("pooch", None, "pooch kick, sky kick"), ("pooch punt", PlayKind.PUNT),
    ("rugby", PlayKind.PUNT, "rugby punt, rugby kick, rugby style punt"), ("pooch kickoff", PlayKind.KICKOFF),
    ("coffin corner", PlayKind.PUNT, "coffin corner punt, coffin corner kick, coffin"), ("drop kick", None, "dropkick"),
))

"""The table of words: what tells nothing that is kept."""

from __future__ import annotations

import workstation.football.notation.words_of_onlookers as told

from .word import ANYWHERE, Role, Word, row
from .words_of_looks import LOOKS
from .words_of_places import PLAYERS

_BEFORE = (
    "before being/he/he_is tackled/brought_down/dragged_down/hauled_down/taken_down/wrapped_up/stopped"
)
_IN_PERIODS = (
    "in the 1st/2nd/3rd/4th/first/second/third/fourth quarter, in the first/second/1st/2nd half, "
)
_WAYS = (
    "around/off/over/through/behind /the left/right end/tackle/guard/side, "
)
_NEXT = (
    "extra_point/kickoff/punt/try/conversion/pat/point_after/try_for_point/two_point_try/kick "
    "next/to_come/coming_up/coming/follows/to_follow/is_next, /and now the "
    "extra_point/kickoff/punt/try/conversion/pat/point_after/try_for_point/two_point_try/kick, bring on the "
    "extra_point/kickoff/punt/try/conversion/pat/point_after/try_for_point/two_point_try/kick team, /we/they "
    "will/are_going_to/have_to/must punt, here comes the punt team, punt team comes/coming on, "
)
_NEUTRAL = (
    "behind/beyond/past/across/in/over/down_in/dead_in/crosses/in_and_behind/in_or_behind/through/crossing/"
    "crossed/from_behind "
    "the /expanded neutral zone, "
)
_HARMLESS = (
    "over the top/pile/pile_of_bodies, up and over /the_pile, through the pile/line/middle/hole, through a hole, "
    "behind his blockers, behind the block, out_of/from/in/up_in/steps_up_in/outside the pocket, /out_of/from the "
    "backfield, flushed /out, up front/field, upfield, downfield, turns the corner/edge, turns upfield, "
    "in traffic/stride/full_stride/coverage/double_coverage/space, double coverage, in the /open "
    "field, in the open, wide open, on a rope, on target, on the money, off to the races, with ease/authority, "
    "hit/hits the seam/hole/crease/gap, "
    "out_of/in/within/into field goal/scoring range /now, pulls/pulled it and throws/threw, "
    "/a/the/their/our first/second/third/last of the half/game, catch/touchdown/gain/pass/completion/score stands, "
    "/a short/small/modest/nice/good/solid/healthy/big/huge/tiny gain/pickup /there, "
    "/he steps/stepped up /in_the_pocket /and, /he_has/he's_got/got/has blockers /in_front/ahead /of_him, a/the "
    "high/deep/long/low/good/big one, along the ground, here's the, here comes the, they'll/that'll bring up, "
    "/on/from/at/near the left/right/lt/rt/middle/near/far hash /mark, left/right/lt/rt/middle/near/far hash, "
    "middle of the field, mof, "
    "/up/thru/through/over /the mid, /to /the lt/rt side/end/tkl/grd/guard, thru the line/middle, "
    "/the center snaps/snapped it/the_ball /to_the_quarterback/to_him, "
    "/the pulling guard/guards/tackle/linemen leads/lead/led /the_way, leads/led the way, "
    "defender/tackler/corner/linebacker misses/missed /him/the_tackle, strung out, to avoid the/a sack, "
    "/a/the deep shot /down, our left_tackle/right_tackle/left_guard/right_guard/center/tackle/guard/line "
    "gets/got/is/was beat/beaten, "
    "stays/stayed in bounds, clock moving, near midfield, ran/runs out of room, /the pile moves/moved "
    "/a_little/forward, would have been a/the first /down, "
    "no call, they wanted a/the flag/call, /he/referee/ref says, "
    "by a gang /tackle, gang tackle/tackled, no_one/nobody covers/covered/picks_up the tight_end/receiver/back, "
    "forced throw, "
    "/punt/kick/kickoff/ko coverage /is/was /good/great/down_there/there, /the hold is/was "
    "good/fine/clean/low/high, /the snap is/was good/fine/clean, "
    "to talk /it_over/things_over, "
    "/and he slips/slipped, receiver/runner slips/slipped, this one, "
    "standing, nice hole /there, big hole, and that's it, that's it/all, folks, under duress, end over end, for "
    "the corner, to/around the outside, off/on the right/left side, to our/their sideline, near/far sideline, "
)
_GETS_ALONG = (
    "breaks/broke free/loose/away, got/gets loose/free/away, "
    "pulls/pulled/runs/ran/spins/spun/darts/races/turns/dances away, right away, /pulled away "
    "from /the_corner/the_defense/them/everybody, leans/leaned/falls/fell/lunges/lunged/dives/dove/stretches "
    "forward, lunges/surges/surged/pushes ahead, keeps his legs churning, no further/farther/more, and no more, "
    "nothing more, finally, just, again, quickly, eventually, simply, immediately, suddenly, somehow, easily, "
    "reached/reaches/reaching/dived/dove/dives/diving/stretches/stretching/stretched/lunges/lunging for the "
    "marker/sticks/first_down, hit as he threw/throws/threw_it/let_it_go/released_it, hit while "
    "throwing/he_threw, pressure in his face, came/comes down, /with one foot out, tripped/trips over "
    "his_own_guard/his_own_feet/his_own_man/his_blocker/a_lineman, stumbles over his own feet, slipped/slips and "
    "fell/falls, kicked/bounced/bounces/rolled/rolls/batted/knocked around, on the "
    "bounce/hop/second_bounce/roll/fly, on a bounce, on one bounce/hop, off the bounce, after a/one bounce, "
)
_DOWNING = (
    "tripped_up/chopped_down/cut_down/hauled_down/dragged_down/pulled_down/wrestled_down/wrestled_to_the_ground/"
    "taken_down/brought_down/thrown_down/slammed_down/ridden_down/run_down/chased_down/"
    "tracked_down/hunted_down/wrapped_up/swallowed_up/gobbled_up/blown_up/piled_up/stood_up/stacked_up, "
    "tripped_up/taken_down/brought_down right away, "
    "tripped_up/chopped_down/cut_down/hauled_down/dragged_down/pulled_down/wrestled_down/wrestled_to_the_ground/"
    "taken_down/brought_down/knocked_down/thrown_down/slammed_down/ridden_down/run_down/chased_down/"
    "tracked_down/hunted_down/wrapped_up/swallowed_up/gobbled_up/blown_up/piled_up/stood_up/stacked_up/tripped/"
    "corralled/smothered/swarmed/buried/leveled/flattened/met/caught/cornered/collared/nailed/crushed/drilled/"
    "decked/clobbered/tackled/dropped/stopped/upended/hit/shoved "
    "by_the_ankles/at_the_ankles/by_the_ankle/by_the_shoelaces/by_the_shoestrings/by_his_shoelaces/"
    "by_his_shoestrings/by_the_jersey/by_his_jersey/by_the_shirt/by_the_legs/by_the_waist/by_the_feet/"
    "from_behind/from_the_side/by_two_men/by_two_of_them/by_three_men/by_his_own_man/by_a_host_of_tacklers/"
    "by_the_whole_line/by_a_pack/by_the_first_man/by_a_crowd/by_somebody/by_a_corner/by_the_corner/by_a_tackler/"
    "by_the_pursuit/by_a_gang_of_tacklers/in_a_crowd/in_a_pile/in_his_tracks/right_there/right_away/immediately/"
    "at_once/quickly, "
    "tripped_up/chopped_down/cut_down/hauled_down/dragged_down/pulled_down/wrestled_down/wrestled_to_the_ground/"
    "taken_down/brought_down/knocked_down/thrown_down/slammed_down/ridden_down/run_down/chased_down/"
    "tracked_down/hunted_down/wrapped_up/swallowed_up/gobbled_up/blown_up/piled_up/stood_up/stacked_up/tripped/"
    "corralled/smothered/swarmed/buried/leveled/flattened/met/caught/cornered/collared/nailed/crushed/drilled/"
    "decked/clobbered/tackled/dropped/stopped/upended/hit/shoved "
    "behind_the_line/behind_the_line_of_scrimmage/in_the_backfield/deep_in_the_backfield/back_of_the_line, "
    "behind_the_line/behind_the_line_of_scrimmage/in_the_backfield/deep_in_the_backfield/back_of_the_line, "
    "before_they/before_someone/they/two_men/until_they/till_they/a_linebacker/the_linebacker/a_corner/"
    "the_corner/a_tackler "
    "tackles/wraps/drags/hauls/brings/pulls/takes/wrestles/cuts/chops/knocks/runs/chases/stops/hits/trips/"
    "catches/corrals/rides/throws/pins/meets/drops/stands/levels/nails/dragged/hauled/brought/pulled/took/"
    "wrestled/knocked/chased/stopped/tripped/caught/tackled/wrapped/met/hit/got/tackle/wrap/drag/haul/bring/"
    "pull/take/wrestle/cut/chop/knock/run/chase/stop/trip/catch/corral/ride/throw/pin/meet/drop/stand/level/"
    "nail/bury/stuff "
    "him /down/up/there, "
)
_TACKLED = (
    "tackles/wraps/drags/hauls/brings/pulls/takes/wrestles/cuts/chops/knocks/runs/chases/stops/hits/trips/"
    "catches/corrals/rides/throws/pins/meets/drops/stands/levels/nails/dragged/hauled/brought/pulled/took/"
    "wrestled/knocked/chased/stopped/tripped/caught/tackled/wrapped/met/hit/got/tackle/wrap/drag/haul/bring/"
    "pull/take/wrestle/cut/chop/knock/run/chase/stop/trip/catch/corral/ride/throw/pin/meet/drop/stand/level/"
    "nail/bury/stuff "
    "him down/up/there, "
)
_CARRIES = (
    "#/rb/tb/hb/fb/tailback/fullback/halfback/running_back/qb/quarterback "
    "up_the_middle/up_the_gut/through_the_middle/through_the_line/left_side/right_side/to_the_left/to_the_right/"
    "left_end/right_end/around_end/around_the_end/left_tackle/right_tackle/left_guard/right_guard/straight_ahead/"
    "up_front/inside/in_from/in_from_the, "
    "#/rb/tailback/fullback/halfback/running_back/qb/quarterback off/over/around /the /left/right/lt/rt "
    "end/tackle/guard"
)
"""Who carries the ball and where."""
_MAKES_THE_STOP = (
    "makes/made/gets/got/with/on/in_on the/a /big/solo stop/tackle/hit/tackles, "
)
_BY_PLAYERS = (
    "saved by #/the_safety/the_corner, # tackles/tackled/assists, dropped/stopped/stuffed/stood_up/blown_up by #, "
    "tackle/tackles/tkl/tkls/stop/"
    "stops/assist/assists/tackler #, stop/stops/tackle/tackles/tkl/assist/assists/tackled/chased/run_down/"
    "caught_from_behind by, gets/got him /down, in/on/with/in_the/on_the/with_the coverage, defending, before #, "
    "combine/combined/combines /on/for /the /stop/tackle, looking/looks/look/meant/aimed/going for/to/at #, "
    "goes/went down /under, goes down under pressure, /right on the spot, /in/into /a/the pile, ahead, "
    "blows/blew it/him up, "
)
"""What defenders did, and for whom a pass was meant."""
_THE_SAFETY = (
    "/the/a/their/our/strong/free safety "
    "comes_up/came_up/comes_up_and/came_up_and/makes_the_stop/made_the_stop/makes_the_tackle/made_the_tackle/"
    "comes_over/came_over/comes_in/came_in/comes_down/steps_up/stepped_up/is_there/was_there/fills/filled/"
    "cleans_it_up/cleaned_it_up/saves_a_touchdown/in_on_the_tackle/and/and_the_corner, "
    "/the/a/their/our/strong/free safety "
    "tackles/wraps/drags/hauls/brings/pulls/takes/wrestles/cuts/chops/knocks/runs/chases/stops/hits/trips/"
    "catches/corrals/rides/throws/pins/meets/drops/stands/levels/nails/dragged/hauled/brought/pulled/took/"
    "wrestled/knocked/chased/stopped/tripped/caught/tackled/wrapped/met/hit/got/tackle/wrap/drag/haul/bring/"
    "pull/take/wrestle/cut/chop/knock/run/chase/stop/trip/catch/corral/ride/throw/pin/meet/drop/stand/level/"
    "nail/bury/stuff "
    "him /down/up, "
)
_ROUTES = (
    "route/routes/rte/rtes/pattern/concept/combo/combination, wk, weak, weak/strong/wide/short/field/boundary side, "
    "to the field/boundary /side, quick game, dropback, drop back pass, three step, five step, backside, frontside, "
    "playside, weakside, strongside, intermediate, jumps/jumped the route, "
)
_CLOCK = (
    "/to kill/kills/killing/stop/stops/stopping /the clock, to stop it, "
)
_AT_THE_STICKS = (
    "/right/just at/past/to/beyond/by/over the sticks/chains/marker/first_down_marker/line_to_gain, right/just "
    "at/past/beyond the first_down, "
)
_ROLLS = (
    "with the/a /good/big/long/nice roll/bounce/hop/wind, into/against the wind, gross, "
)
_BY_SO_MUCH = (
    "by a/one/half_a link/chain_link/inch/nose/football/ball_length/foot/hair/links, slid /down, "
)
_AIMS = (
    "/dives/dove/reaches/stretches/lunges/runs/heads for the pylon, strung/stretched /out by, "
    "nobody/no_one /is_going_to catch/catches/catches_up_to/will_catch/going_to_catch him, "
    "/steps/stepped/jumps/jumped/cuts/cut in front of # /and, backward, backwards, before the ball "
    "/is/was/moves/moved/is_snapped/was_snapped, /on/by/with a/an/one shoestring/ankle/arm/diving/open_field "
    "tackle, shoestring tackle, /still/was holding /on_to/onto the ball/football, "
    "to/toward/towards/at/near/by the /left/right/near/far/our/their sideline, "
)
_RULED = (
    "/the ruling /on_the_field /is/was, ruled, is/was ruled, "
    "/receiver/he/receiver_is/he_is/he_was ruled in_bounds/inbounds, "
)
_SO_MANY = (
    "/his/the/a first/second/third/fourth/fifth sack/catch/carry/tackle/stop/reception/interception/pick/target "
    "tonight/today/of_the_game/of_the_night/of_the_day/of_the_half/of_the_drive/of_the_season, "
    "/the first/second/next/last/opening play/snap /of_the_game/of_the_half/of_the_drive/of_the_series/"
    "of_the_quarter/was/is, almost/nearly had/caught/got it, almost/nearly intercepted/picked/picked_off, "
    "almost/nearly a_pick/an_interception, "
)
_SENT_OFF = (
    "/the player/players/he is/are disqualified, player/players disqualified, player/players ejected, "
)
FILLERS: tuple[Word, ...] = (
    row("and", Role.FILLER, None, (
          told.NOTHING + told.HARMLESS +
          LOOKS + _AIMS + _RULED + _SO_MANY + _ROUTES + _CLOCK + _AT_THE_STICKS + _ROLLS + _BY_SO_MUCH +
          _SENT_OFF + "had/has him/somebody/someone/a_man/a_receiver open, tackled/caught/dropped/stopped/hit/met "
              "behind, nobody laid a hand on him, back on us/them, to run it out, to run the clock out, /they "
              "looked at the replay and it stood/stands, on/off the read/option, and a cloud of dust, /a "
              "big/huge/nice one, /no/little/some yac, by a "
              "yard/step/foot/mile/lot/hair, by inches, "
              "free, gift, "
          "gets caught, got caught, "
          "held it too long, holds it too long, held onto it too long, held the ball too long, lined up fast, "
          "jumped it, jumps it, jumped into the neutral zone, jumps into the neutral zone, good hop, bad bounce, "
          "takes a bad bounce, takes a good hop, takes one bounce, off the side of his foot, line drive, nobody "
          "home, add three, adds the point, adds one, adds the extra point, "
          "oh no, oh wow, oh man, oh well, wow, nice, ugh, yes, yay, great job, good job, nice job, great play, "
          "good play, nice play, big play, great kick, come on, dang, darn, "
          "shoot, whew, phew, woo, woohoo, hooray, unlucky, bummer, too bad, hey, ok, okay, so close, "
          "what a kick, what a play, what a hit, let's go, rolls left, rolls right, "
          "rolls out, rolls to his right, rolls to his left, he dives, well, that time, this time, my goodness, "
          "terrific, terrible, really, should have caught that, should have caught it, should have caught that "
          "pass, should have had that, " +
          _NEXT + _NEUTRAL + _HARMLESS + _GETS_ALONG + _DOWNING + _BY_PLAYERS +
          "goes for it on fourth down, going for it on fourth down, goes for it on fourth, on purpose, half the "
          "dist, "
          "pushes the pile forward, pushes the pile, they get the ball, they/we take/took over, "
          "/they/we take/took over on downs, /a/another three/3 and out, "
          "after the safety, that'll do it for the half, that'll do it, do it for the half, to end the half, to end "
          "the game, coming up, coming, "
          "little, big, nice, great, long, high, low, booming, beautiful, perfect, huge, before the snap of "
          "the ball, set up, moves them back, moves us back, back them up, back us up, "
          " in the half, in the quarter, in the game, of the "
          "quarter, drops back, drop back, dropped back, result of the play, "
          + _BEFORE + ", half the distance, half the distance to the goal, no foul on the play, "
          "no foul, no flag, "
          "no flags, /there_was/there_is/there's a flag /on_the_play but they/it /was/is/gets/got "
          "picked_up/waved_off, "
          "/there_was/there_is/there's a flag /on_the_play but they wave/waved/pick/picked it off/up, "
          "they/ref/refs pick/picked/picks up the flag, "
          "waves/waved/wave off the flag, no "
          "penalty, no penalty on the play, there is no foul, call stands, ruling stands, play stands, stands as "
          "called, upheld, confirmed, call upheld, call confirmed, ruling confirmed, on the conversion, on the two "
          "point conversion, on the extra point, on the pat, bench, injury, injured player, quick, "
          "during, "
          "outta the bf/backfield/pocket, no snap, on/at the mesh point/pt, mesh point, another player, "
          "a teammate, teammate, player, "
          "crosses/crossed midfield, bottled up, bottle him up, "
          "across midfield, past midfield, over midfield, beyond midfield, he, him, she, himself, them all, "
          "jump ball, toss up, back to pass, drops back to pass, dropped "
          "back to pass, drop back to pass, fades back to pass, steps back to pass, back to throw, drops back to "
          "throw, dropped back to throw, takes the snap, took the snap, good blocking, good "
          "coverage, good/bad/poor/perfect hold, good protection, "
          "good tackle, good hit, good snap, snap is good, good defense, good field "
          "position, takes a bounce, takes a big bounce, takes a hop, takes a big hop, takes a roll, broke a tackle, "
          "broke two tackles, breaks two tackles, broke three tackles, breaks three tackles, broke several tackles, "
          "delayed, score tied, with the score tied, with the score, of the half, free play, finds a seam, finds a "
          "hole, finds the hole, finds room, finds running room, finds daylight, finds a crease, oh what a, oh "
          "my, oh "
          "boy, lt, tkl, grd, kick is on the way, kick is away, on the way, down by contact, by contact, snap hold, "
          "snap and hold, the hold, good hold, hold is down, knee down, knee is down, knee was down, knee touched, "
          "knee touches, clock running, clock is running, los, a, an, then, with, is, was, it, ball, his, "
          "her, who, that, which, play, plays, as, so, clock, time, remaining, left on the clock, game clock, on the "
          "clock, to stop the clock, stops the clock, yardline, yard line, line, attempt, attempted, attempts, try, "
          "tries, left, right, middle, over the middle, down the middle, left side, right side, "
          "outside, sideline, left sideline, right sideline, down the sideline, along the sideline, deep, deep left, "
          "deep right, deep middle, short left, short right, short middle, short/deep lt/rt/l/r/mid, outside left, "
          "outside right, "
          "before being tackled, tackled, brought down, down, snap, shotgun, no huddle, from the shotgun, under "
          "center, from shotgun, ensuing, opening, call, calls, called by, takes, uses, use, used, burns, burn, "
          "won, wins, win, won by, winner, wins "
          "the flip, won the flip, wins the coin flip, won the coin toss, wins the coin toss, the flip, wins "
          "the toss, "
          "won the toss, win the toss, elects, elected, choose, choose to, chose, chooses, charged, "
          "first/second/1st/2nd half, to open/start the /1st/2nd/first/second half, "
          "results in, resulting in, ends in, on the play, the play, to the left, to the right, "
          "inches, intended, "
          "intended for, /was/is /the /intended target, "
          "reviewed, following, standing up, in bounds, his own, on that play, "
          "penalty is, the "
          "penalty is, point, pts, its, at all, there, where, now, been, being, are, were, be, has, have, had, will, "
          "this, right there, tackled by, stopped by, brought down by, hit by, met by, wrapped up by, pressured by, "
          "hurried by, but, number one, kicking unit, official, on a, yardage, diving, one handed, leaping, toe tap, "
          "over the shoulder, back shoulder, hurried, pressured, under pressure, slides, slide, slides down, wrapped "
          "up, gang tackled, solo tackle, assisted tackle, foot, feet, inch, a foot, total, total of, for a "
          "total of, "
          + _IN_PERIODS + _WAYS + "around the edge, around the corner, off the edge, "
          "to the back, the back, to the corner, in the corner, to the flat, in the flat, a direct "
          "snap, "
          "on a direct snap, to the right side, to the left side, the right side, the left side, sails, soars, "
          "boundary, wide side, short side, near side, far side"), where=ANYWHERE, about="passed over"),
    row("tackles him", Role.FILLER, "tackle", told.TACKLES + _TACKLED + _MAKES_THE_STOP + _THE_SAFETY, where=ANYWHERE,
        about="passed over, and so is who did it"),
    row("what a run", Role.FILLER, "a run", "great run", where=ANYWHERE,
        about="passed over; a run, where nothing else was said"),
    row("what a catch", Role.FILLER, "a pass", "what a throw, what a pass, great throw, great catch", where=ANYWHERE,
        about="passed over; a pass, where nothing else was said"),
    row("player", Role.FILLER, "player", PLAYERS, where=ANYWHERE, about="passed over"),
    row("# up the middle", Role.FILLER, "carrier", _CARRIES + ", up/through the middle/gut/line, straight ahead, "
        "off/over/around/behind the left/right tackle/guard/end, off/over/around/behind left/right tackle/guard/end, "
        "around the end/corner/edge, around end, left/right tackle/guard/end", where=ANYWHERE,
        about="a run, where nothing else was said"),
    row("whose", Role.FILLER, "whose", "our, their", where=ANYWHERE, about="passed over before a kind of play"),
    row("before a play", Role.FILLER, "before a play", (
          "hit/hits/hitting /on the/a/our, try/tries/tried/trying the/a/our, take/takes/took the/a/our, goal line, "
          "gap/zone/man scheme, fg/field_goal/punt team/unit /is /on /the_field, goal-line, short yardage, gadget "
          "/play, trick /play, red zone, empty set, trips, two minute"),
         where=ANYWHERE, about="passed over before a kind of play"),
    row("of a timeout", Role.FILLER, "of a timeout", "their/our/his/its first/second/third/last /one, "
        "second/third/2nd/3rd /one, first/1st one/timeout",
         where=ANYWHERE, about="passed over behind a timeout"),
    row("moved back", Role.FILLER, "foul yards", (
          told.BALL_MOVED +
          "back, back up, go back, "
          "/we/they/and_we/and_they go/move/back_up/walk back, moves/walks/pushes/marches/brings us/them/it/the_ball "
          "back, moved back, yards back, moves/moved it up, "
          "ball moves up, move it /up"), where=ANYWHERE, about="passed over after a foul"),
)

"""The table of words: how somebody who is not of the trade tells a play in whole sentences.

Each text here belongs to the row of that meaning; it is written as :func:`~.word.spelled` reads it, its first verb in
one form. Texts end with a comma, to stand before others.
"""

_GROUND = "ground/turf/grass/dirt"
_POST = "post/posts/upright/uprights/goalpost/goalposts"
_COUNT = "one/two/three/four/several/some/a_couple_of/a_few/2/3/4"
_OUR_PLAYER = "our/the/their guy/player/kid/receiver/runner/quarterback/lineman/center"

# -- what tells nothing ------------------------------------------------------------------------------------------------
NOTHING = (
    "both officials/refs/referees/arms/feet, "
    "ref, refs, referee, official, officials, umpire, line judge, blows the/his whistle, whistle blows, blows it "
    "dead, "
    "spots/marks/puts the ball, i counted, i count, i saw, i see, you could see, had to, has to, have to, was "
    "able to, "
    "further, farther, further on, farther on, further down, on purpose, straight, in his hands, in the hands, in "
    "the chest, jumps up, jumped up, jumps high, jumped high, turns around, turned around, looks left, looked left, "
    "looks right, looked right, looks deep, looked deep, away from, "
    f"{_COUNT} tackler/tacklers/defenders/players/guys/men/people/blocker/linemen/kid/boys, "
    "along/down/up the /left/right/far/near sideline, across/through/down the middle, "
    "across the field, before the line /of_scrimmage, before the goal line, lineman, "
    "linemen, nice/good/great/big block /by/from, behind the/a pulling guard/tackle/lineman, behind his "
    "line/linemen/blockers, comes free, came free, coming free, "
    f"grabs/grabbed/tackles/tackled {_OUR_PLAYER}, "
    f"pushes/shoves/punches/touches/pushed/shoved/punched/touched {_OUR_PLAYER}, with/carrying the ball, "
    "it in his hands, "
)
HARMLESS = (
    "actually, anyway, basically, clearly, completely, easily, hard, luckily, nicely, perfectly, quickly, rather, "
    "really, slowly, soon, still, too, unfortunately, very, quite, later, straightaway, carefully, cleanly, barely, "
    "gently, strongly, afterwards, meanwhile, of course, for sure, in the end, at last, at first, this time, same "
    "/play /again, once more, one more time, "
    "arm, arms, fingers, fingertips, hands, shoulder, shoulders, legs, toes, helmet, jersey, with one hand/arm, "
    "one-handed, with two/both hands, with his hands/legs/feet, into his hands/arms, in his arms, over his shoulder, "
    "amazing, awesome, beautiful, brilliant, crazy, fantastic, incredible, lucky, ouch, spectacular, unbelievable, "
    "yeah, great/good/nice/big/amazing/beautiful/terrific/tough/fantastic "
    "tackle/hit/stop/effort/move/hands/hole/play, what a great/nice/good catch/throw/run/hit/stop, "
    "crowd, fans, everybody, everyone, folks, nothing special/else/fancy/much/big, pocket, backfield, grass, "
    "edge, hole, gap, lane, pile, traffic, open field, pressure, heavy pressure, "
    "spins, spun, jukes, shakes, hops, stumbles, dodges, dodged, ducks, ducked, "
    "breaks/broke/shakes_off/sheds/slips/escapes "
    "a/one/two/three/several/some tackle/tackles/tackler/tacklers, stiff arms him, keeps his feet, stays on his "
    "feet, "
    "gets/got hurt, is hurt, is injured, hanging on /him/to_him, "
    "brought/taken/pulled/thrown/dragged/knocked to the ground/turf, is/was brought/taken/pulled to the ground/turf, "
    "hit while/as he was throwing/hit, is/was hit while/as he was throwing, hits while/as he was throwing, "
    "keeps his balance/feet/legs, bad, poor, somebody, someone, comes/gets through/in /untouched/clean, "
    "fooled everybody, "
    "fools everybody/everyone/them/the_defense, at the last second/moment, backwards, backward, sideways, "
    "goes up for it/the_ball, all alone, all by himself, only, a long way /around, "
    "holds/hangs/held/hung on to it/the_ball, "
    "to finish/end the game/half, to run out the clock, "
    "jumps/hurdles over/in_front_of the/a receiver/defender/tackler, jumps/hurdles over/in_front_of him, "
    "in front of him/the_receiver/our_receiver/their_receiver, steps in front of him/the_receiver, "
    "trips over /his/own/a /own /lineman/feet/blocker/guard, trips and falls/fell, "
    "fights his way, fights for every_inch/the_yard, fights through, fights forward, "
    "moves around/up/through/out, pushes/fights/forces his/the way /through/forward, "
    "pushes through/forward/ahead/on, pushes through everybody/everyone/the_line, "
)
TACKLES = (
    "tackles/stops/hits/catches/gets/drags_down/brings_down/takes_down/pulls_down/wraps_up/gets_to "
    "him/the_runner/the_receiver/the_returner/our_guy/their_guy/our_runner /down/there/right_there, "
    "they bring/tackle/stop him /down, "
    "tackles/stops/drops/dumps/stuffs/drags_down/brings_down/takes_down/pulls_down/wraps_up #, "
    "stops/drops/stuffs our/their/the #, "
)
"""What a tackler does to whom: the side named before it is who tackled."""

# -- runs, passes, sacks, kneels ---------------------------------------------------------------------------------------
PASS = (
    "tries/tried/went_for/goes_for a /deep/long one /down_the_field/downfield/to, "
    "finds a receiver/tight_end/man/back/kid/guy/player /open, finds somebody/someone /open, "
)
SACK = (
    "knocks/takes/brings/pulls/drags/throws our/their/the quarterback/qb down, "
    "is/was about to throw/pass, while/when/as he is/was/tries/tried trying/to to_throw/throw/pass, as/when he "
    "tries/tried to throw/pass, before/just_before he threw/throws/could_throw /it/the_ball, "
)
FUMBLE = (
    "knocks/punches/strips/rips/pokes it out/loose, "
    "is/was/gets/got/ball stripped/knocked/jarred/ripped/punched loose, "
    "ball/it slips/slipped/squirts/squirted/pops/popped out/loose /of_his/of_his_hand/of_his_hands/of_his_arms, "
    "ball/it is/was/gets/got knocked/punched/ripped/stripped/poked out /of_his hands/arms/grasp, "
    "knocked/punched/ripped/poked out of his hands/arms/grasp, knocks/punches/rips/pokes it out of his hands/arms, "
)
RUN = (
    "takes the ball and goes/went, took the ball and goes/went, takes/took/gets/got the ball/handoff from the/his "
    "quarterback/qb /and /runs/goes, quarterback/qb goes down the /left/right/near/far sideline/middle/field, "
    "direct snap /to, takes/took a/the direct snap, hands/gives the ball /off /to, /a/the/inside/quick/outside "
    "give /to, gives it to, hands off the ball /to, "
    "gets/takes "
    "the ball and runs, is handed to, runs with the "
    "ball, runs/carries the ball, after a run/carry, after running/carrying /it/with_it/the_ball, "
)
KEEPER = "keeps the ball /himself, keeps it himself, "
BACK_AT_THE_START = (
    "/comes_back/came_back/back/right to where he/it started/began, /right/back where he started/began, "
    "tackled/stopped/hit/met/brought_down right at the line /of_scrimmage, "
)
INCOMPLETE = (
    "sails/sailed over his/everyone/everybody/the_receiver/their head/heads, "
    "pass/throw goes/went/flies/flew/sails/sailed over "
    "his/everyone/everybody/the_receiver/their head/heads, pass/throw sails/sailed/goes/went over "
    "everybody/everyone/him/the_receiver, "
    "receiver/tight_end/wideout/end drops/dropped/drop the ball/pass, "
    "can't/cannot/couldn't/could_not/didn't/did_not hold/hang on /to_it/to_the_ball, "
    "can't/cannot/couldn't/could_not/didn't handle/bring_in/come_up_with/pull_in/haul_in it, /but/and "
    "nobody/no_one was/is there/around/near/home, nobody/no_one near/around it/him, "
    f"lands/falls/drops on/to/into/in the {_GROUND}, hits the {_GROUND}, gets rid of the ball, "
    "way over his head, way over everybody/everyone, "
    "goes through/off the/our/a receiver hands, goes over everybody/everyone/him/the_receiver, "
    "throw/pass/ball was/is behind/over/above/short_of "
    "him/the_receiver/everybody, /was too far/high/low/long /for_him, "
    "nobody/no_one caught/reached/could_reach/could_get it, "
)
CAUGHT = (
    "comes/came down with it/the_ball/a_catch, "
    "bobbles/bobbled/juggles/juggled it but/and holds/held/hangs/hung on /to_it, "
    "makes/made a/the/an "
    "/diving/great/one_handed/leaping/sliding/tough/nice/fingertip/juggling/shoestring/acrobatic/amazing/big/"
    "tremendous catch/grab, one_handed/diving/leaping/sliding/fingertip/shoestring catch/grab, one handed catch/"
    "grab, after catching /it/the_ball/the_pass, pulls/pulled/reels/reeled it in, takes/picks/plucks/grabs/snatches "
    "it/the_ball/our_pass/the_pass out of the air, is caught by, gets caught by, "
)
KNEEL = (
    "bends/puts/takes/places/drops his/a/one knee /down, bends/puts/takes/drops his/a/one knee on/to the ground, "
    "goes down on/to a/one/his knee, goes to/on a/one/his knee, "
)
BAD_SNAP = (
    "ball is/was/gets/got snapped past/over/by/through "
    "him/the_punter/the_quarterback/the_kicker/the_holder/his_head, "
    "snaps it/the_ball past/over/by/through him/the_punter/the_quarterback/the_kicker/the_holder, "
)

# -- kicks -------------------------------------------------------------------------------------------------------------
KICK = (
    "kicks/kicked/kick the ball /away/deep/off, kicks/kicked it deep, after he kicked/kicks/punted /it/the_ball, "
    "after his kick/punt, "
)
UNRETURNED = (
    "they/he did/does not return it, they/he didn't/doesn't return it, "
    "/but/and nobody/no_one touches/touched/fielded/picked_up/picks_up it, lets/let the punt/kick/ball "
    "bounce/roll/go, never touched, not touched, without being touched, nobody/no_one touches/touched him, "
)
GOOD = (
    "hits/off the /left/right post/upright/crossbar/bar and /goes/went/bounces/bounced/drops/dropped/fell/in in/over/"
    "through, doinks/doinked /it in, banks/banked it/one in /off_the_post/off_the_upright, "
    "goes/flies/sails/is/was over the bar/crossbar, goes/is over the bar/crossbar /and between/through the "
    "posts/uprights, over the crossbar between/through the posts/uprights, goes/flies/sails/is/was "
    "through/between/inside the posts/goalposts/uprights, kicks it/the_ball through/between the "
    "posts/uprights/goalposts, "
)
MISSED = (
    f"hits/strikes/bounces_off the /left/right {_POST}, hits the /left/right {_POST} and bounces/bounced/came "
    f"back/off/away/out, hits the /left/right {_POST} and did not go through/in, hits the {_POST} and didn't go "
    "through/in, does/did not go through/in/over, doesn't/didn't go through/in/over, under/below/underneath the "
    "bar/crossbar, goes under/below the bar/crossbar, outside/left_of/right_of the posts/uprights/goalposts, "
)
INTO_THE_END_ZONE = "falls/dives/walks/steps/jumps/leaps/stretches/trots into the end zone, "
STOPS_AT = (
    "stops rolling at, rolls/bounces to a stop at, comes to a stop/rest at, makes it "
    "/out/back/up/down/all_the_way to, "
)

# -- fouls and what is between the plays -------------------------------------------------------------------------------
FLAG = (
    "/the ref/refs/referee/official/officials/umpire said/says/signalled/signaled/ruled/called, they said, called, "
    "signalled, signaled, "
    "throws a/the/his flag /on_the_play, flag comes/came out, flag was thrown, there was a flag /on_the_play, "
    "yellow flag, "
)
EARLY = (
    "jumps/crosses/comes_over/comes_across/runs_over/runs_across/moves_over/moves_across the line /of_scrimmage "
    "early/too_early/too_soon/before_the_snap, is/was over/across the line early/too_early/too_soon/before_the_snap, "
)
"""Over the line before the snap: offside, or encroachment where it is named so."""
_RECEIVER = "receiver/tight_end/wideout/flanker/split_end"
_DEFENDER = "defender/corner/cornerback/linebacker/safety/defensive_end/nose_guard/rusher/pass_rusher"
HELD_A_DEFENDER = (
    f"holds/held a/the/their/his {_DEFENDER}, holds/held their guy/player/kid/lineman/end/tackle, ")
GRABBED = f"their/the {_DEFENDER} grabs/grabbed him, "
HELD_A_RECEIVER = f"holds/held/hold our/the/a/his {_RECEIVER}, holds/held/hold our guy/player/kid, "
MET_A_RECEIVER = (
    f"interferes_with/interfered_with/interfere_with our/the/a {_RECEIVER}, "
    "interferes_with/interfered_with/interfere_with our guy/player/kid, ")
MET_A_DEFENDER = (
    f"interferes_with/interfered_with/interfere_with a/the/their {_DEFENDER}, "
    "interferes_with/interfered_with/interfere_with their guy/player/kid, ")
"""Who was held or interfered with tells whose foul it is."""
DELAY = (
    "play clock expires/expired, play clock ran/runs/goes/went/is/was out/down, play clock ran/runs out before "
    "the snap, "
    "does/did not snap it/the_ball in time, didn't/doesn't snap it/the_ball in time, "
    "takes too long /to_snap_it/to_snap_the_ball, "
)
TIMEOUT = (
    "asks for a/their/our/another timeout/time_out, asks for time /out, wants a timeout/time_out, signals for a "
    "timeout/time_out, "
)
MEASURED = "brings /out/in the chain/chains /out/in, chain comes out, "
NOT_ENOUGH = (
    "stopped/comes_up/came_up/falls/fell short of the/a first /down, "
    "does/did not get/make/reach the/a first /down, doesn't/didn't get/make/reach the/a first /down, "
)
CLOCK_RAN_OUT = "clock/time ran/has_run/went out, "
BALL_MOVED = "everybody/everyone /moves/moved back, ball/it moves/moved/is_moved/was_moved /up/back/forward, "
OTHER_TEAM = (
    "other/opposing coach/bench/staff, other team "
    "safety/linebacker/cornerback/corner/player/guy/kid/coach/quarterback/returner/defender/punter/kicker, "
)
WITH_THE_BALL = "team/side with/that_had/that_has the ball, "

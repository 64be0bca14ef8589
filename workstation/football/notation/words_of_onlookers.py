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
    "ref, refs, referee, official, officials, umpire, line judge, blows the/his whistle, whistle blows, blows it dead, "
    "spots/marks/puts the ball, i counted, i count, i saw, i see, you could see, had to, has to, have to, was able to, "
    "further, farther, further on, farther on, further down, on purpose, straight, in his hands, in the hands, in "
    "the chest, jumps up, jumped up, jumps high, jumped high, turns around, turned around, looks left, looked left, "
    "looks right, looked right, looks deep, looked deep, away from, "
    f"{_COUNT} tackler/tacklers/defenders/players/guys/men/people/blocker/linemen/kid/boys/of_them, "
    "along/down/up the /left/right/far/near sideline, across/through/down the middle, "
    "across the field, before the line /of_scrimmage, before the goal line, lineman, "
    "linemen, nice/good/great/big block /by/from, behind the/a pulling guard/tackle/lineman, behind his "
    "line/linemen/blockers, comes free, came free, coming free, "
    f"pushes/shoves/punches/touches/pushed/shoved/punched/touched {_OUR_PLAYER}, with/has/had/carrying the ball, "
    "it in his hands, "
)
TACKLES = (
    "tackles/stops/hits/catches/gets/drags_down/brings_down/takes_down/pulls_down/wraps_up/gets_to "
    "him/the_runner/the_receiver/the_returner/our_guy/their_guy/our_runner /down/there/right_there, "
    "they bring/tackle/stop him /down, "
)
"""What a tackler does to whom: the side named before it is who tackled."""

# -- runs, passes, sacks, kneels ---------------------------------------------------------------------------------------
RUN = (
    "hands/gives the ball /off /to, hands off the ball /to, gets/takes the ball and runs, is handed to, runs with the "
    "ball, runs/carries the ball, after a run/carry, "
)
KEEPER = "keeps the ball /himself, keeps it himself, "
BACK_AT_THE_START = (
    "/comes_back/came_back/back/right to where he/it started/began, /right/back where he started/began, "
)
INCOMPLETE = (
    "/but/and nobody/no_one was/is there/around/near/home, nobody/no_one near/around it/him, "
    f"lands/falls/drops on/to/into/in the {_GROUND}, hits the {_GROUND}, gets rid of the ball, "
    "/was too far/high/low/long /for_him, nobody/no_one caught/reached/could_reach/could_get it, "
)
CAUGHT = (
    "takes/picks/plucks/grabs/snatches it/the_ball/our_pass/the_pass out of the air, is caught by, gets caught by, "
)
KNEEL = (
    "bends/puts/takes/places/drops his/a/one knee /down, bends/puts/takes/drops his/a/one knee on/to the ground, "
    "goes down on/to a/one/his knee, goes to/on a/one/his knee, "
)
BAD_SNAP = (
    "ball is/was/gets/got snapped past/over/by/through him/the_punter/the_quarterback/the_kicker/the_holder/his_head, "
    "snaps it/the_ball past/over/by/through him/the_punter/the_quarterback/the_kicker/the_holder, "
)

# -- kicks -------------------------------------------------------------------------------------------------------------
KICK = (
    "kicks/kicked/kick the ball /away/deep/off, kicks/kicked it /away/deep, after he kicked/kicks/punted /it/the_ball, "
    "after his kick/punt, "
)
UNRETURNED = (
    "/but/and nobody/no_one touches/touched/fielded/picked_up/picks_up it, lets/let the punt/kick/ball "
    "bounce/roll/go, never touched, not touched, nobody/no_one touches/touched him, "
)
GOOD = (
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
STOPS_AT = "stops rolling at, rolls/bounces to a stop at, comes to a stop/rest at, makes it /out/back/up/down to, "

# -- fouls and what is between the plays -------------------------------------------------------------------------------
FLAG = (
    "/the ref/referee/official/umpire said/says/signalled/signaled/ruled/called, they said, signalled, signaled, "
    "throws a/the/his flag /on_the_play, flag comes/came out, flag was thrown, there was a flag /on_the_play, "
)
EARLY = (
    "jumps/crosses/comes_over/comes_across/runs_over/runs_across/moves_over/moves_across the line /of_scrimmage "
    "early/too_early/too_soon/before_the_snap, is/was over/across the line early/too_early/too_soon/before_the_snap, "
)
"""Over the line before the snap: offside, or encroachment where it is named so."""
DELAY = (
    "play clock ran/runs/goes/went/is/was out/down, play clock ran/runs out before the snap, "
    "does/did not snap it/the_ball in time, didn't/doesn't snap it/the_ball in time, "
    "takes too long /to_snap_it/to_snap_the_ball, "
)
TIMEOUT = (
    "asks for a/their/our/another timeout/time_out, asks for time /out, wants a timeout/time_out, signals for a "
    "timeout/time_out, "
)
MEASURED = "brings /out/in the chain/chains /out/in, chain comes out, "
NOT_ENOUGH = (
    "does/did not get/make/reach the/a first /down, doesn't/didn't get/make/reach the/a first /down, "
)
BALL_MOVED = "ball/it moves/moved/is_moved/was_moved /up/back/forward, "
WITH_THE_BALL = "team/side with/that_had/that_has the ball, "

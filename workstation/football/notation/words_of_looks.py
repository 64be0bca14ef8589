"""The table of words: how both sides line up, protect and press before and behind the snap.

Neither a front, a pressure nor a protection tells what became of the play. Each text is written as
:func:`~.word.spelled` reads it and ends with a comma, to stand before others.
"""

_PRESSURES = (
    "/the/a/an "
    "/corner/safety/nickel/linebacker/double/zone/fire_zone/all_out/delayed/overload/edge/a_gap/b_gap/inside/"
    "outside/heavy blitz /is /picked_up/coming/off_the_edge, "
    "/the/a/an /corner/safety/nickel/linebacker/double/zone/all_out/delayed/overload/edge blitz "
    "gets_home/gets_there/got_home/got_there/comes/came/gets_him/got_him, "
    "/they/defense bring/brings/brought/send/sends/sent /the/a /corner/safety/nickel/linebacker/zone/all_out blitz, "
    "/they/we bring/brings/brought/send/sends/sent the house, /they/we bring/brings/brought /the pressure/heat, /a "
    "green dog, /a/the stunt, /a twist, fire zone, "
    "simulated "
    "pressure, /a/the spy on /the quarterback/qb, "
)
_FRONTS = (
    "/a/the/in/out_of /double/a_gap/both_backer/both_linebacker/safety/safeties mugged /up /look/front/gaps, "
    "/a mug/mugged/bear/odd/even/okie/under/over/goal_line/nickel/dime/quarter/prowl/amoeba look/front/package, "
    "loaded/stacked/light/heavy/seven_man/eight_man/six_man box, press/off/soft/bracket/man/zone coverage, "
    "bracketed, /in man free/under/to_man, two high, single high, "
)
_PROTECTIONS = (
    "max pro/protect/protection, /in seven/six/five/7/6/5 man pro/protect/protection, half/full slide "
    "/pro/protection, "
    "slide protection, big on big, chip block, chips /and_releases, empty set/backfield/look, "
    "shot play, /a shot downfield, "
)
_MOTIONS = (
    "/in/with/off/after /a/the "
    "jet/orbit/fly/short/return/ghost/rocket/exit/glide/tight_end/te/receiver/slot/wing/back/"
    "tailback/fullback/x/y/z/h/f motion /left/right/across/in/out, motion left/right/across/in/out/man, /a man in "
    "motion /left/right/across, shift/shifts/shifted/shifting to/into /an/the "
    "trips/twins/empty/unbalanced/strong/weak/i/left/right/bunch/ace, trade and motion, "
)
_CALLS = (
    "/an/a exotic/creeper/simulated/sim/run blitz/pressure, edge/interior/inside/outside pressure, "
    "hot /route/read/throw /to, well/nicely/perfectly/beautifully blocked /up, blocked up /well/nicely/perfectly, "
    "jet/sweep/toss/orbit/reverse fake, jet sweep fake, fake jet/sweep/toss/orbit /sweep, scramble drill, "
    "hurry up /offense, no huddle, tempo, up tempo, check with me, "
)
FORMATIONS = (
    "/in/with/out_of 00/01/02/10/11/12/13/20/21/22/23/30/31/32 personnel/pers/grouping/package, "
    "/in/with/out_of heavy/jumbo/big/goal_line/short_yardage personnel/package/formation/set, "
    "/lined_up/lines_up /in/out_of/from /a/the "
    "trips/trey/doubles/quads/ace/pistol/gun/shotgun/empty/bunch/stack/twins/twin/spread/singleback/single_back/"
    "i_form/"
    "i_formation/power_i/wing_t/slot_t/pro_i/split_backs/unbalanced/double_wing/flexbone/wishbone/full_house/"
    "t_formation/"
    "maryland_i/under_center/2_x_2/3_x_1/2_by_2/3_by_1 "
    "/formation/set/look /left/right/lt/rt/open/closed/tight/wide/strong/weak, "
    "/in/against/vs/versus /a cover 0/1/2/3/4/6 /man/zone/beater/shell/look, zero "
    "coverage, "
    "man free, tampa 2/two, quarters coverage, tackle over"
)
"""Who is on the field, how they line up and cover: passed over, so that a staff's own lists of words may have "
"them."""
LOOKS = _PRESSURES + _FRONTS + _PROTECTIONS + _MOTIONS + _CALLS

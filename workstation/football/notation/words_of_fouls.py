"""The table of words: fouls but for their names, and what is said along with a play and checked."""

from __future__ import annotations

import workstation.football.notation.words_of_onlookers as told

from ..plays import EnforcedAt, FoulDecision, FoulTime
from .word import ANYWHERE, IN_FOUL, Role, Word, row

_AGAIN = (
    "repeat/replay/still/remains/it_remains/repeats/now/and_now/it_is_still "
    "first/second/third/fourth/1st/2nd/3rd/4th/same /down"
)
_REPEATED = (
    ", rep /the /same down, "
    "first/second/third/fourth/same/the down /is/will_be/to_be repeated/replayed/played_over"
)
CLAIMS: tuple[Word, ...] = (
    row("first down", Role.CLAIM, "first down", (
          "made/makes/got/gets/get/make it on third/fourth/3rd/4th /down, "
          "/a/that's_a/it's_a/gives_us_a/gives_them_a new first/1st down, /a fresh/new set of downs, enough/good "
          "for the/a first /down, gets/got the/a first /down, sticks/chains move/moved, moves the chains, "
          "mvd/mvs/mv /the chains/chns, "
          "we get a first /down, they get a "
          "first /down, "
          "fd, 1st dn, first dn, line to gain is reached, line to gain was reached, reaches the line to gain, first "
          "down awarded, first down is awarded, awarded a first down, moved the chains, moves the sticks, line "
          "to gain "
          "made, line to gain is made, line to gain reached, 1st down, a first down, for a first down, first, "
          "1st, and "
          "a first down, for the first down, first and ten, 1st and 10, first down made, new set of downs, first "
          "downs, converts the first down, picks up the first, picks up the first down, conversion, "
          "third/fourth/3rd/4th /down conversion, converts/converted /on third/fourth/3rd/4th /down")),
    row("turnover on downs", Role.CLAIM, "turnover on downs", (
          "turned over on downs, turned it over on downs, give/gave it up on downs, lose/lost it on downs, change "
          "of possession, possession changes, ball over, goes over, gave it up on downs, ball goes over, "
          "ball over on downs, goes over on downs, tod, turn over on downs, over on downs, loss of downs, downs")),
    row("turnover", Role.CLAIM, "turnover"),
    row("three points", Role.CLAIM, "points 3", "3 points, for three points, for 3 points, 3 pts, three pts"),
    row("four points", Role.CLAIM, "points 4", "4 points, for four points, for 4 points, 4 pts, four pts"),
    row("on that down", Role.CLAIM,
          "on fourth, on third, on second, on first, on fourth/third/second/4th/3rd/2nd and "
          "one/two/three/four/five/six/seven/eight/nine/ten/inches/goal/short/long/1/2/3/4/5/6/7/8/9/10, fourth and "
          "inches, still first/second/third/fourth down, first/second/third/fourth down now, now fourth down, "
          "down", _AGAIN + _REPEATED +
          ", second down, third down, fourth down, 2nd down, 3rd down, 4th down, on first and ten, on first and 10, "
          "on second down, on third down, on fourth down, on first down, on 1st down, on 2nd down, on 3rd down, on "
          "4th down"),
)
_SEVERAL = (
    "two/2/three/3/both/several/a_couple_of fouls/flags/penalties, "
)
_TAKES_YARDS = (
    ", /they/we takes the five/5/ten/10/fifteen/15 /yards, /they/we takes the yards/yardage"
)
FOUL_WORDS: tuple[Word, ...] = (
    row("penalty", Role.FLAG, None, (
          told.FLAG +
          "there's a flag, there is a flag, laundry on the field, flag comes out, flag downfield, " +
          _SEVERAL + "flags fly, flag flies, flag is thrown, flag thrown, flag down, pen, pnlty, commits, committed, "
              "is flagged "
          "for, flagged for, is called for, is guilty of, charged with, marker, laundry, penalty marker, flag, foul, "
          "penalties, penalized, fouls, called for, infraction"), where=ANYWHERE),
    row("declined", Role.FOUL_DETAIL, ("decision", FoulDecision.DECLINED), (
          "turns/turned/turning down, turns it down, they turn it down, turns down the penalty/hold/foul, "
          "waved off by the defense, they would "
          "rather have the down/play, they/we do_not/don't/did_not/didn't want it, /they/we say/says/said no /thanks, "
          "takes the play, takes the result of the play, takes the down, decl, they declined it, we declined it, "
          "they declined, we declined, declined it, refused, penalty declined, "
          "dec, is declined, was declined, not accepted"), codes="de, dec", where=IN_FOUL),
    row("withdrawn", Role.FOUL_DETAIL, ("withdrawn", True), (
          "they picked/waved it up/off, /is/was/gets/got/was_then picked_up/waved_off, "
          "flag /is/was/gets/got picked_up/waved_off"), where=IN_FOUL),
    row("accepted", Role.FOUL_DETAIL, ("decision", FoulDecision.ACCEPTED), (
          "they take the ten/five/fifteen, take/takes/took the "
          "pass_interference/interference/holding/hold/face_mask/offside/roughing/personal_foul/block_in_the_back, "
          "we take it, they take it, we take the penalty, they take the penalty, takes the penalty, acc, acpt, "
          "penalty "
          "accepted, enforced, is accepted, was accepted, is enforced" + _TAKES_YARDS), codes="a", where=IN_FOUL),
    row("offset", Role.BOTH, FoulDecision.OFFSET, (
          "both teams have/had/got/get a flag/penalty/foul, penalties cancel /out, they cancel /out, "
          "cancel each other out, they wash, penalties wash, they wash "
          "each other out, one on each team, one each, flags both ways, "
          "off-setting, offsetting penalties, offsetting fouls, fouls offset, penalties offset, double foul, both "
          "offset, they offset"), codes="of", where=IN_FOUL),
    row("itself offset", Role.FOUL_DETAIL, ("decision", FoulDecision.OFFSET), where=IN_FOUL, about="this foul alone"),
    row("both declined", Role.BOTH, FoulDecision.DECLINED, "all declined", where=IN_FOUL),
    row("both teams", Role.BOTH_TEAMS, None, (
          "both ways, going both ways, "
          "both sides, both, each team, by both teams, on both teams, on both, on each team, on both sides"),
         where=IN_FOUL),
    row("both accepted", Role.BOTH, FoulDecision.ACCEPTED, "all accepted, both enforced", where=IN_FOUL),
    row("automatic first down", Role.FOUL_DETAIL, ("automatic_first_down", True), (
          "automatic first, auto first, an automatic first, with an automatic first, "
          "auto first down, automatic 1st down, with an automatic first down"), codes="fd", where=IN_FOUL),
    row("no automatic first down", Role.FOUL_DETAIL, ("automatic_first_down", False), "no first down", where=IN_FOUL),
    row("loss of down", Role.FOUL_DETAIL, ("loss_of_down", True), (
          "lod, with loss of down, and loss of down"), where=IN_FOUL),
    row("no loss of down", Role.FOUL_DETAIL, ("loss_of_down", False), where=IN_FOUL),
    row("runoff", Role.FOUL_DETAIL, ("runoff", True), (
          "run-off, ten second runoff, 10 second runoff, run off the clock"), where=IN_FOUL),
    row("after the down", Role.FOUL_DETAIL, ("when", FoulTime.AFTER_DOWN), (
          "after the play, dead ball, after the whistle, after play, after the dead ball, after the ball was dead, "
          "post play, dead ball foul, after the score, after the touchdown, after the play was over"),
         codes="af", where=IN_FOUL),
    row("before the snap", Role.FOUL_DETAIL, ("when", FoulTime.BEFORE_SNAP), (
          "before we snapped it, before they snapped it, before the ball was snapped, before it was snapped, before "
          "the ball is snapped, pre-snap, presnap, before snap, prior to the snap"), codes="bs", where=IN_FOUL),
    row("during the down", Role.FOUL_DETAIL, ("when", FoulTime.DURING_DOWN), (
          "during the play, live ball"), where=IN_FOUL),
    row("during the kick", Role.FOUL_DETAIL, ("when", FoulTime.DURING_KICK), (
          "while the kick was in the air, on the kick, during kick, during the punt"), where=IN_FOUL),
    row("after change of possession", Role.FOUL_DETAIL, ("when", FoulTime.AFTER_POSSESSION_CHANGE), (
          "on the return, during the return, after the change of possession, on the runback, during the runback, "
          "during the kickoff return, during the punt return, during the interception return, during a return, on a "
          "return, on return, on the kickoff return, on kickoff return, on punt return, on kick return, after "
          "possession changed, after the interception, on the interception return, on the punt return, on the kick "
          "return"), codes="afterc, aftc", where=IN_FOUL),
    *(row(f"enforced at {at.value}", Role.FOUL_DETAIL, ("at", at), also, codes, IN_FOUL) for at, also, codes in (
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
                                 "post-scrimmage kick enforcement, post scrimmage kick enforcement, "
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
    row("called back", Role.NULLIFIED, None, (
          "wipes/wiped it/that out, coming back, coming all the way back, is erased, erased, is wiped off, "
          "off the board, "
          "/they/ref/refs/officials/the_ref/the_officials call/called/calls/bring/brings/brought/take/took the "
          "run/pass/play/touchdown/td/score/catch/return/kick back, /they call/called/bring/brought/take/took that "
          "one back, /they call/called/calls it back, wipes out the run/pass/play/touchdown/gain/catch, is wiped "
          "out, is coming back, doesn't count, did/does not count, didn't count, /it won't count, will not count, "
          "that's coming back, "
          "it is coming back, it comes back, bring it back, brings it back, brought it back, brought back, "
          "nullified, negated, wiped out, comes back, brought "
          "back by "
          "penalty, does not count, nullified by, wiped out by, called back by, negated by, play called back, called "
          "back for, called back on, nullified by penalty, no play due to")),
)

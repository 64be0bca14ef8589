"""What each kind of shot and each mark means, for the people who set them."""

from __future__ import annotations

from .model import MomentKind, ShotKind

SHOTS = {
    ShotKind.PLAY: "A play, from before the snap until after the ball is dead. It may open close on the down marker "
                   "and pull out.",
    ShotKind.DOWN_MARKER: "The pole with the number of the down, large enough to be read.",
    ShotKind.SCOREBOARD: "The board, with both scores and the clock.",
    ShotKind.MEASUREMENT: "The officials measure with the chain, from the first stick to the result.",
    ShotKind.PENALTY_SIGNAL: "The referee signals or announces a foul or a ruling.",
    ShotKind.COIN_TOSS: "The captains and the coin: the opening of the film.",
    ShotKind.HANDSHAKE: "The teams meet after the game: the close of the film.",
    ShotKind.ALTERCATION: "Players confront each other. It leaves the desk with a notice only.",
    ShotKind.INJURY: "A player is hurt. It leaves the desk with a notice only.",
    ShotKind.EXTRA: "Anything else: the crowd, the bench, the band.",
}

MOMENTS = {
    MomentKind.SNAP: "The ball is snapped, or kicked in a free kick. The situation is looked for before it.",
    MomentKind.DEAD_BALL: "The play is over: the whistle, or the runner down. The hold of the shot counts from here.",
    MomentKind.FULL_WIDE: "From here on all players are in the picture and the camera is steady.",
    MomentKind.SIGNAL: "The referee signals or announces a foul or a ruling.",
    MomentKind.CHAINS_SET: "In a measurement: the first stick is planted.",
    MomentKind.RESULT_SHOWN: "In a measurement: the ball and the stick can be compared.",
    MomentKind.CONFRONTATION: "Players begin to confront each other. Film from here leaves the desk with a notice.",
    MomentKind.CONFRONTATION_OVER: "The players part again: the confrontation is over.",
    MomentKind.CARE: "Somebody gives care to a player on the field. Film of it leaves the desk with a notice.",
    MomentKind.ANNOUNCEMENT: "The down, the score or a ruling is heard on the film.",
    MomentKind.SNAP_NOT_ON_FILM: "The shot begins when the play is under way already.",
    MomentKind.CUT_WHILE_LIVE: "The shot ends while the ball is still live.",
    MomentKind.BALL_LOST: "The ball leaves the picture.",
    MomentKind.NOT_ALL_IN_FRAME: "Players are outside the picture before the snap.",
    MomentKind.ZOOM_NOT_SETTLED: "The picture still moves in or out at the snap.",
}

"""The thresholds of finding shots, moments and whistles: each with its unit and how it was set.

``tests/bench/sweep_finding.py`` sweeps any of them over footage of known cuts and moments. "Films" are those of
``tests/outside/finding`` and the painted demo film, unless said otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any


def _set(value: float | tuple[float, float], unit: str, reason: str) -> Any:
    return field(default=value, metadata={"unit": unit, "reason": reason})


@dataclass(slots=True)
class CutSettings:
    """Thresholds of :mod:`.cuts` and what it uses."""

    block: int = _set(8, "cells across and down", "how it was set is not recorded")
    block_reach: int = _set(2, "cells a block may have moved beside the whole", "how it was set is not recorded")
    worst_share: int = _set(20, 'one block in so many is "worst"', "how it was set is not recorded")
    step_mean: float = _set(1.0, "luma levels", "least mean step of a cut")
    step_worst: float = _set(10.0, "luma levels", "least step of the worst blocks of a cut")
    step_spread: float = _set(1.0, "luma levels", "a quarter of the frame changes so much: a sudden gesture does not")
    coarse_most: float = _set(
        14.4, "luma levels over a cell's pixels across",
        "seen with a quarter of the cells: texture that the coder sharpens all at once does not reach it")
    worst_stands_out: float = _set(1.45, "times the steps around", "how it was set is not recorded")
    spread_stands_out: float = _set(
        1.45, "times the steps around", "what passes before the lens changes a part of the frame only")
    leads: float = _set(1.1, "times the steps around", "where something else says that a shot begins")
    all_over_worst: float = _set(
        15.0, "luma levels",
        "so much new all over the frame is a cut although something near the lens changes a part as much")
    all_over_mean: float = _set(1.8, "times the steps around", "see all_over_worst")
    all_over_spread: float = _set(1.8, "times the steps around", "see all_over_worst")
    far_mean: float = _set(12.0, "luma levels", "a mean step to quite another frame")
    far_stands_out: float = _set(1.6, "times the steps around", "how a far step need stand out at least")
    in_motion: float = _set(1.7, "times the steps around, zoom compensated",
                            "a shot that begins in a zoom; painted fields 1 to 4 and 101 to 103")
    in_motion_worst: float = _set(1.3, "times the steps around, zoom compensated", "see in_motion")
    lone: float = _set(2.2, "times the steps around", "a camera stopped and started that nobody moved; same fields")
    lone_worst: float = _set(7.0, "luma levels", "the worst blocks of a lone step; a keyframe that sharpens has 5")
    lone_worst_times: float = _set(2.0, "times the steps around", "see lone_worst")
    window: int = _set(4, "frames either side", "how it was set is not recorded")
    flash: float = _set(0.6, "of the step", "after a flash the old frame is back and differs less")
    neighbours: int = _set(
        6, "packets either side", "as all packet thresholds: measured in six encodings of real footage")
    nearly_intra: float = _set(0.12, "of the smaller keyframe beside", "all but one cut in some hundred reach it")
    outstanding: float = _set(
        1.5, "product of both sides' ratios to the upper quartile", "larger than what came before and after")
    either_side: float = _set(1.15, "ratio to the upper quartile", "with both_sides enough by itself")
    both_sides: float = _set(1.9, "product of both sides' ratios", "with either_side enough by itself")
    surely_intra: float = _set(
        0.35, "of the keyframe", "if it is a peak; between two busy shots nothing else stands out")
    beyond_intra: float = _set(1.0, "of the keyframe", "as large as a keyframe")
    key_differs: float = _set(1.0, "luma levels", "least difference of two keyframes with a cut between")
    key_stands_out: float = _set(
        1.3, "times the differences around, times what packets leave unexplained", "cuts were not measured below 1.5")
    key_another: float = _set(
        6.0, "luma levels", "scanned in any case: noise and a constant bit rate drown the packets")
    few_keyframes: int = _set(12, "keyframes", "so few are soon scanned, all of them")
    hidden_least: float = _set(
        1.15, "times the steps around",
        "in twelve films of long takes 45 of 52 hidden cuts are kept so, and 135 of 975 other larger steps")
    hidden_most: float = _set(1.6, "times the steps around", "see hidden_least")
    hidden_far: float = _set(24.0, "luma levels", "over the step: how far a hidden cut has to stand out")
    suggested_mean: float = _set(0.85, "times the largest step around",
                                 "cuts in fifteen films reached 0.89; half of what were none did not, nor many flashes")
    suggested_spread: float = _set(0.65, "times the largest step around", "cuts in fifteen films reached 0.70")
    beside: int = _set(2, "steps either side", "how it was set is not recorded")
    settled: float = _set(0.25, "of the step to a keyframe", "how large the steps after a trusted keyframe may be")
    flash_ends: float = _set(0.8, "of the step to a keyframe", "a step so large soon after it ends a flash")
    dense: float = _set(0.2, "of a group to scan whole, in candidate windows",
                        "from there on decoding at once is cheaper than a coarse pass")
    dense_candidates: float = _set(0.15, "of another group", "see dense")
    one_cut: int = _set(16, "frames", "a shorter candidate has one cut at most, where the step is largest")
    shifted: int = _set(4, "frames", "an encoder shifts a keyframe due by so much to suit those between")
    exact_lengths: float = _set(0.9, "of the longest groups", "so many of just one length: keyframes are not shifted")
    often: int = _set(4, "early keyframes", "before anything is concluded from them")
    calm_frames: int = _set(8, "frames before a keyframe", "how it was set is not recorded")
    sample_one_in: int = _set(6, "obvious keyframes", "one of so many is checked all the same")
    seldom: float = _set(60.0, "seconds", "a game's camera is started more often")
    unlike: float = _set(
        0.7, "of the difference beside", "10 such cuts in two films reached 0.84, 60 of 119 others did not")
    unexplained: float = _set(
        1.3, "times the median of the film", "the same cuts reached 1.6, two thirds of the others did not")
    trusted_share: float = _set(
        0.8, "of the early keyframes checked", "where nothing changed while the camera stood, nothing is seen")
    calm: float = _set(
        0.1, "of the keyframe's packet, mean before it",
        "in ten films 74 of 106 cuts at early keyframes are so plain, none of 241 others; the nearest had 0.108")
    obvious_difference: float = _set(
        15.0, "luma levels", "see calm; by another encoder 7 flashes reached it: hence the sample")
    rounded: float = _set(1.5, "ticks", "by which an even clock may be off")
    gaps_at_keyframes: float = _set(0.9, "of the timestamp gaps", "else it is the camera's own clock that is uneven")
    gaps_at_early: float = _set(
        2 / 3, "of the keyframes at gaps", "a recorder that stumbles at its keyframes has no early ones")


@dataclass(slots=True)
class SnapSettings:
    """Thresholds of :mod:`.group_motion` and :mod:`.snap`. "Seven plays" are real ones filmed from high up, by day and
    by night; the others of the same cameras were kept for judging."""

    moves: float = _set(9.0, "luma levels, mean over a block", "7 of seven plays from 8 to 10, 5 or 6 at 5 to 7")
    surely_moves: float = _set(18.0, "luma levels, mean over a block", "see moves; 14 to 20 alike")
    group_across: float = _set(0.17, "frame widths", "a line of scrimmage in a wide frame; 0.14 to 0.21 alike")
    group_down: float = _set(0.113, "frame widths", "see group_across")
    formation_across: float = _set(0.3, "frame widths", "groups beside each other start together; runners do not")
    formation_down: float = _set(0.27, "frame heights", "see formation_across")
    set_for: float = _set(0.9, "seconds", "before a snap the line is set (a second by every book)")
    burst: float = _set(0.5, "seconds", "in which all of the line starts; 0.4 finds 5 of seven plays, 0.6 six")
    goes_on: float = _set(1.5, "seconds after a look", "until when a play goes on at least")
    keeps_moving: float = _set(0.5, "of the burst's movement", "a shift before the snap ends; 0.3 to 0.8 alike")
    restless: float = _set(0.25, "standard deviations", "a group that already moves by fits has to grow more")
    still: float = _set(0.2, "of a group", "at most so much moves before")
    panning: float = _set(0.06, "frame widths per second", "the camera waits for the snap")
    panning_after: float = _set(0.15, "frame widths per second", "the camera follows later than the burst")
    settled_for: float = _set(5.0, "seconds", "before a snap the camera was there; it stops for less while it follows")
    swept: float = _set(0.5, "seconds of those", "in which the camera may have panned on")
    zooming: float = _set(0.08, "change of the magnification's logarithm per second", "see panning")
    zooming_after: float = _set(0.1, "change of the magnification's logarithm per second", "see panning_after")
    middle_across: float = _set(0.3, "frame widths, standard deviation", "where camera people keep the line")
    middle_down: float = _set(0.42, "frame heights from the top", "see middle_across")
    middle_tall: float = _set(0.22, "frame heights, standard deviation", "see middle_across; stands lie above")
    earliest_share: float = _set(0.8, "of the strongest burst", "the earliest of such; 0.6 to 0.8 alike")
    same_burst: float = _set(1.0, "seconds", "what comes nearer belongs to the same burst")
    onset: float = _set(0.45, "of the growth", "at which the burst has begun")
    earliest: float = _set(0.9, "seconds into a shot", "something must have been still before")
    even: float = _set(0.035, "strength of a burst", "as often right, within 0.7 s, as not in the painted film")
    sharpness: float = _set(3.0, "logit per natural logarithm of strength", "from 0.065 on 27 of 28 were right")
    usual_margin: float = _set(0.4, "of the strength, over the next burst", "see even")
    surest: float = _set(0.97, "probability", "nothing seen so far is surer")
    least: float = _set(0.2, "probability", "not worth keeping; what is offered is for the crew profile to say")


@dataclass(slots=True)
class MomentSettings:
    """Thresholds of :mod:`.moments` and :mod:`.survey`."""

    zooming: float = _set(
        0.06, "change of the magnification's logarithm per second", "0.03 to 0.12 alike in the painted film")
    panning: float = _set(
        0.03, "frame widths per second", "0.015 finds as many full wides in the painted film, 0.06 7 of 29 fewer")
    zoomed: float = _set(0.22, "natural logarithm", "a zoom worth the name: 1.25 times")
    settles: float = _set(3.0, "seconds into a shot", "within which a small last movement ends")
    look_every: float = _set(0.09, "seconds between frames", "some ten a second")
    dead_ball_after: float = _set(1.0, "seconds after a snap", "before which no whistle ends the play")
    first_whistle: float = _set(
        2.5, "seconds into a shot", "an earlier whistle makes the ball ready or ends the last play")


@dataclass(slots=True)
class KindSettings:
    """Thresholds of :mod:`.shot_evidence` and :mod:`.shot_kind`."""

    grass_blue: int = _set(127, "level of Cb", "real fields by day and night have 118 to 124")
    grass_red: int = _set(128, "level of Cr", "real fields by day and night have 122 to 127")
    grass_dark: int = _set(35, "luma levels", "how dark a field may be")
    grass_bright: int = _set(190, "luma levels", "lines and what shines is no grass")
    grass_spread: float = _set(5.0, "levels of colour", "nine tenths of real fields lie within 4")
    line_half_width: int = _set(3, "cells of a fine grid", "a yard line is four inches wide, near and zoomed in more")
    line_stands_out: float = _set(7.0, "luma levels", "faint lines on grass by night")
    line_cells: int = _set(40, "cells of a fine grid", "an eighth of the frame's width")
    most_lines: int = _set(12, "lines", "more say no more")
    figure_bright: float = _set(105.0, "luma levels", "a red lamp's digit reaches 130")
    figure_ground: float = _set(75.0, "luma levels", "what is around a figure")
    figure_least: float = _set(0.06, "frame heights", "smaller is not to be read")
    figure_most: float = _set(0.35, "frame heights", "how it was set is not recorded")
    figure_wide: float = _set(1.6, "times as wide as high", "a zero; two digits that touch")
    play_field: float = _set(0.3, "of the frame", "plays of the painted film have at least 0.36, real ones 0.57")
    play_lines: int = _set(6, "lines", "plays have at least 9, painted close-ups 4, a row of players across them 6")
    play_largest: float = _set(0.32, "frame heights", "a lettered stand reaches 0.23 in plays, people near by 0.4")
    close_lines: int = _set(2, "lines", "close-ups of the painted film have 1 at most")
    close_field: float = _set(0.5, "of the frame", "see close_lines; 0.32 at most")
    board_figures: int = _set(3, "figures", "two scores and a period")
    board_field: float = _set(0.35, "of the frame", "a board stands before the sky")
    marker_largest: float = _set(0.12, "frame heights", "whoever holds the marker is large")
    stripes: float = _set(35.0, "luma levels, of the wave across", "painted shirts have 50 and more at any light")
    stripes_share: float = _set(0.55, "of what the window shows", "see stripes; 0.61 and more")
    shirt_grey: float = _set(14.0, "levels of colour", "black and white, in any light")
    orange_red: int = _set(30, "levels of Cr over grey", "more than skin")
    orange_blue: int = _set(28, "levels of Cb under grey", "see orange_red")
    rod_wide: float = _set(0.022, "of the frame's width", "a rod is an inch or two wide, a shirt more")
    rod_least: float = _set(0.2, "frame heights", "a stripe on a leg reaches 0.18")
    rod_field: float = _set(0.3, "of what is beside and behind it", "else it stands before the sideline")
    evidence_every: float = _set(0.9, "seconds", "from one frame judged to the next")
    agreeing: float = _set(0.6, "of the frames judged", "that have to show the same")
    close: float = _set(0.4, "of the frames judged", "that have to be close: a shot may end wide")
    rod_seen: float = _set(0.35, "of the close frames", "the chain is brought first; 0.45 and more")
    official_seen: float = _set(0.15, "of the close frames", "beside a rod; officials turn away")
    signal_seen: float = _set(0.5, "of the close frames", "arms across the shirt hide it; 0.66 and more")
    signal_tall: float = _set(0.4, "frame heights", "whoever signals is what the shot is of; 0.55 and more")
    signal_middle: float = _set(0.25, "frame widths from the middle", "see signal_tall")
    signal_field: float = _set(0.18, "of the frame", "signals are given on the field; 0.2 and more, on a painted badge")
    others_seen: float = _set(0.2, "of the close frames", "so seldom is chance")
    toss_apart: float = _set(0.4, "frame widths", "officials at the toss stand together; 0.17")
    row_moves: float = _set(0.15, "of a group, mean", "a row of people who pass has 0.3, plays at most 0.22")
    row_across: float = _set(0.7, "of the frame's width", "in each third of the time; in plays one is at rest")
    row_away: float = _set(0.015, "of a group, mean", "above and below a row 0.004, in plays from 0.017 on")


@dataclass(slots=True)
class WhistleSettings:
    """Thresholds of :mod:`.sound_analysis`."""

    band: tuple[float, float] = _set(
        (2700.0, 4800.0), "Hz", "common practice, no source; with the tremble's swing on both sides")
    lines: int = _set(8, "lines of 31 Hz", "two or three chambers, or a tremble, take as many")
    stands_out: float = _set(13.0, "decibels of the lines over the band's middle", "tuned on mixes of one seed")
    above_low: float = _set(-12.0, "decibels over everything from 300 Hz to the band", "as stands_out")
    gap: float = _set(0.05, "seconds", "a whistle may be drowned")
    piece: float = _set(0.1, "seconds", "a shorter run of tones is chance")
    piece_above_low: float = _set(-7.5, "decibels over everything from 300 Hz to the band, median", "as stands_out")
    louder: float = _set(5.0, "decibels", "by which a whistle sets in or ends while another tone sounds")
    higher: float = _set(0.05, "of the frequency", "see louder")
    sweeps: float = _set(0.035, "of the tone's frequency, standard deviation without its tremble", "as stands_out")
    glides: float = _set(0.1, "of the tone's frequency, from the highest to the lowest of its course",
                         "a real whistle fell by 0.08; on mixes of four seeds 0.05 loses two of 140 whistles more")
    merged: float = _set(0.5, "seconds", "from one piece of a whistle to the next, its echo included")
    same: float = _set(0.015, "of the frequency", "a whistle that is blown harder; real ones stay within 0.01")
    alike: float = _set(0.06, "of the frequency", "pieces of one whistle")
    shortest: float = _set(0.2, "seconds of one piece", "as stands_out")
    longest: float = _set(4.0, "seconds", "how it was set is not recorded")
    lowest: float = _set(2900.0, "Hz", "see band")
    highest: float = _set(4600.0, "Hz", "see band")
    steadiest: float = _set(0.0005, "of the tone's frequency, standard deviation", "electronic tones do not tremble")
    beside: float = _set(0.2, "seconds", "before a tone begins")
    over_below: float = _set(0.3, "of what begins below the band with the tone, in power", "as stands_out")


CUTS = CutSettings()
SNAPS = SnapSettings()
MOMENTS = MomentSettings()
KINDS = KindSettings()
WHISTLES = WhistleSettings()

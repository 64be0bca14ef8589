"""Against the worked values of SMPTE ST 12-1 and against the `timecode` package."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from timecode import Timecode

from workstation.delivery.timecode import frame_count, timecode

NTSC = Fraction(30000, 1001)
NTSC_60 = Fraction(60000, 1001)
RATES = {"23.976": Fraction(24000, 1001), "24": Fraction(24), "25": Fraction(25), "29.97": NTSC, "30": Fraction(30),
         "50": Fraction(50), "59.94": NTSC_60, "60": Fraction(60)}


@pytest.mark.parametrize("frames, label", [     # ST 12-1, drop-frame: numbers 00 and 01 skipped but each tenth minute
    (0, "00:00:00;00"), (1799, "00:00:59;29"), (1800, "00:01:00;02"), (3597, "00:01:59;29"), (3598, "00:02:00;02"),
    (17981, "00:09:59;29"), (17982, "00:10:00;00"), (107892, "01:00:00;00"), (2589407, "23:59:59;29")])
def test_drop_frame_worked_values(frames, label):
    assert timecode(frames, NTSC) == label
    assert frame_count(label, NTSC) == frames


def test_drop_frame_keeps_to_the_clock_over_a_day():
    """2 numbers dropped in 9 of 10 minutes: 107,892 an hour, 2.6 frames short of 24 hours of real time."""
    frames_in_a_day = 24 * 3600 * NTSC
    assert abs(frame_count("23:59:59;29", NTSC) + 1 - frames_in_a_day) < 3


@pytest.mark.parametrize("name", RATES)
@given(frames=st.integers(0, 24 * 3600 * 24 - 1))
def test_agrees_with_the_timecode_package(name, frames):
    rate = RATES[name]
    theirs = Timecode(name, frames=frames + 1, force_non_drop_frame=False)
    assert timecode(frames, rate).replace(";", ":") == str(theirs).replace(";", ":")


@given(frames=st.integers(0, 2589407))
def test_there_and_back(frames):
    assert frame_count(timecode(frames, NTSC), NTSC) == frames


@pytest.mark.parametrize(("label", "rate", "frames"), [     # counted by hand; ST 12-1 itself ends at 60 a second
    ("00:00:00:119", 120, 119), ("00:00:01:000", 120, 120), ("00:01:00:100", 120, 7300), ("10:00:00:115", 120, 4320115),
    ("00:00:00:239", 240, 239), ("00:00:02:007", 240, 487), ("23:59:59:239", 240, 20735999)])
def test_numbers_above_99_have_three_digits(label, rate, frames):
    assert timecode(frames, Fraction(rate)) == label and frame_count(label, Fraction(rate)) == frames


def test_a_hundred_frames_a_second_need_two_digits():
    assert timecode(99, Fraction(100)) == "00:00:00:99" and timecode(100, Fraction(100)) == "00:00:01:00"


def test_non_drop_is_its_own_count():
    assert timecode(1800, NTSC, drop=False) == "00:01:00:00"
    assert frame_count("00:01:00:00", NTSC) == 1800


@pytest.mark.parametrize("label, rate, why", [
    ("00:01:00;00", NTSC, "skips it"), ("00:00:00:30", NTSC, "only 30"), ("1:00:00:00", NTSC, "not time code"),
    ("00:00:00;00", Fraction(25), "does not have")])
def test_impossible_labels_say_why(label, rate, why):
    with pytest.raises(ValueError, match=why):
        frame_count(label, rate)


def test_drop_frame_is_refused_where_it_is_not_defined():
    with pytest.raises(ValueError, match=r"29\.97 and 59\.94"):
        timecode(0, Fraction(25), drop=True)

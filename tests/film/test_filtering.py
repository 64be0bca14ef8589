"""The filters without delay and the correlation, against those of scipy.signal."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal

from workstation.film.filtering import bandpass, correlation, highpass, lowpass

RATE = 30.0
CASES = {
    "slow, constant ends": (lambda x: lowpass(x, 1.0, RATE, 4, "edge"), (4, 1.0, "low"), "constant"),
    "slow": (lambda x: lowpass(x, 2.0, RATE, 2), (2, 2.0, "low"), "even"),
    "fast": (lambda x: highpass(x, 3.0, RATE, 3), (3, 3.0, "high"), "even"),
    "between": (lambda x: bandpass(x, 4.0, 12.0, RATE, 2), (2, (4.0, 12.0), "bandpass"), "odd"),
}


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("length", [61, 300, 2001])
def test_a_filter_is_the_one_of_scipy_run_there_and_back(name, length):
    mine, (order, hertz, kind), ends = CASES[name]
    values = np.cumsum(np.random.default_rng(length).standard_normal(length))
    asked = signal.sosfiltfilt(signal.butter(order, hertz, kind, fs=RATE, output="sos"), values, padtype=ends)
    apart = np.abs(mine(values) - asked) / asked.std()
    assert len(apart) == length and apart.max() < 0.08
    # scipy begins the way back without what the way there still held; that shows in the last samples
    assert length < 300 or apart[90:-90].max() < 1e-3


@pytest.mark.parametrize("lengths", [(500, 301), (301, 500), (7, 7)])
def test_the_correlation_at_every_lag_is_the_one_of_scipy(lengths):
    first, second = (np.random.default_rng(each).standard_normal(each) for each in lengths)
    assert np.allclose(correlation(first, second), signal.correlate(first, second))

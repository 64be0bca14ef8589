"""The confidence interval of a share."""

from __future__ import annotations

from math import sqrt

_95 = 1.959964      # standard normal quantile of 97.5 %


def wilson(successes: int, count: int) -> tuple[float, float]:
    """The Wilson score interval of a share at 95 % (E. B. Wilson, Journal of the American Statistical Association 22,
    1927). (0, 1) where nothing was counted.

    >>> [round(end, 3) for end in wilson(5, 10)], wilson(0, 0)
    ([0.237, 0.763], (0.0, 1.0))
    """
    if count == 0:
        return 0.0, 1.0
    share, square = successes / count, _95 * _95
    middle = share + square / (2 * count)
    half = _95 * sqrt(share * (1 - share) / count + square / (4 * count * count))
    whole = 1 + square / count
    return max(0.0, (middle - half) / whole), min(1.0, (middle + half) / whole)

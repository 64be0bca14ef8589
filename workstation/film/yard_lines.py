"""Read the yard lines of a wide picture: where they meet, and how many yards from line to line.

Lines across the field lie five yards apart and are parallel, so that in a picture they run towards one point, and where
they cross any straight line their places are a projection of equal steps. How far a spot on the ground is from the
lines beside it follows from that, in yards, but not which lines they are.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from scipy import ndimage, optimize

APART = 5.0             # yards from line to line, in every book
_HALF_WIDTH = 3         # pixels either side of a line that are darker
_STANDS_OUT = 6.0       # luma levels by which they are
_LEAST_POINTS = 45      # pixels of a line, in a picture 640 wide
_MOST_LINES = 16
_TURNS = 240            # directions tried in half a turn
_OFF = 2.5              # pixels by which points of a line may lie beside it
_TOGETHER = 0.012       # radians by which a line may miss the common point
_FITS = 0.12            # of the step from line to line, root mean square
_LEAST_MISS = 0.3       # pixels by which a line's ends are taken to miss at least
_LEAST_TO_DOUBT = 6     # lines, for one of them to be left out
_STANDS_APART = 10.0    # times what the others miss by, as variances: one picture of 8 lines in 25 has it by chance


@dataclass(frozen=True)
class YardLine:
    """One line as it was seen: its number, rising to the right by one for five yards, and its two ends in pixels."""

    number: int
    top: tuple[float, float]
    bottom: tuple[float, float]


@dataclass(frozen=True)
class YardLines:
    """``meet`` is the common point in pixels; ``fit`` gives yards as (a u + b) / (c u + 1) of the slope u, pixels right
    per pixel down, of the line from there to a spot; ``spread`` is the covariance of the five; ``error`` is how far the
    lines found miss multiples of five, in yards, root mean square. Yards count from line number 0."""

    meet: tuple[float, float]
    fit: tuple[float, float, float]
    error: float
    lines: tuple[YardLine, ...]
    spread: np.ndarray

    @property
    def count(self) -> int:
        """How many lines were found."""
        return len(self.lines)

    def yards(self, right: float, down: float) -> float:
        """Yards, from left to right, of a spot on the ground in pixels."""
        return float(_yards((*self.meet, *self.fit), right, down))

    def error_at(self, right: float, down: float, missed: float) -> float:
        """The standard error of the yards of a spot that was pointed at with an error of ``missed`` pixels in each
        direction: of the lines' places and of the pointing."""
        at = np.array((*self.meet, *self.fit))
        steps = np.maximum(np.abs(at) * 1e-5, 1e-7)
        turn = np.array([(_yards(at + step, right, down) - _yards(at - step, right, down)) / 2
                         for step in np.diag(steps)]) / steps
        across = _yards(at, right + 0.5, down) - _yards(at, right - 0.5, down)
        along = _yards(at, right, down + 0.5) - _yards(at, right, down - 0.5)
        return float(np.sqrt(turn @ self.spread @ turn + (across * across + along * along) * missed * missed))


def _yards(at: tuple[float, ...] | np.ndarray, right: float, down: float) -> float:
    meet_right, meet_down, a, b, c = at
    slope = (right - meet_right) / (down - meet_down)
    return float((a * slope + b) / (c * slope + 1))


def find_yard_lines(luma: np.ndarray, field: np.ndarray) -> YardLines | None:
    """Return the yard lines of a picture (mean luma, 0 to 255, some 640 across), or None where too few are seen or they
    do not lie as yard lines do. ``field`` says where the field is."""
    near = ndimage.binary_dilation(field, iterations=3)
    upright = _ridges(luma)
    found = _lines_of(luma.shape, upright & near)
    # Lines that lie flat are wider across than along; sought only if need be, for sidelines and figures come with them.
    return found or _lines_of(luma.shape, (upright | _ridges(luma.T).T) & near)


def _lines_of(shape: tuple[int, ...], ridges: np.ndarray) -> YardLines | None:
    down, right = (places + 0.5 for places in np.nonzero(ridges))      # the middles of pixels
    if len(down) < 4 * _LEAST_POINTS:
        return None
    lines = [line for line in _straight(right, down, shape) if line is not None]
    meet = _common_point(lines, shape)
    if meet is None:
        return None
    together = sorted((line for line in lines if _misses(meet, line) <= _TOGETHER),
                      key=lambda line: _slope_to(meet, line))
    numbered = _equal_steps(np.array([_slope_to(meet, line) for line in together]))
    if numbered is None:
        return None
    places, numbers, fit = numbered
    return _refined(meet, fit, [together[place] for place in places], numbers)


def _ridges(luma: np.ndarray) -> np.ndarray:
    smooth: np.ndarray = ndimage.gaussian_filter(luma, 0.8)
    apart = _HALF_WIDTH
    inner = smooth[:, apart:-apart]
    ridge = np.zeros(luma.shape, bool)
    ridge[:, apart:-apart] = (inner - smooth[:, :-2 * apart] > _STANDS_OUT) & (
        inner - smooth[:, 2 * apart:] > _STANDS_OUT) & (inner >= smooth[:, apart - 1:-apart - 1]) & (
        inner >= smooth[:, apart + 1:luma.shape[1] - apart + 1])
    return ridge


_Line = tuple[float, float, float, float, float]    # its middle right and down, its direction, half its length


def _straight(right: np.ndarray, down: np.ndarray, shape: tuple[int, ...]) -> list[_Line | None]:
    """Straight lines through points, strongest first (Hough 1962), each fitted to its points."""
    turns = np.linspace(0, np.pi, _TURNS, endpoint=False)
    cosines, sines = np.cos(turns), np.sin(turns)
    reach = int(np.hypot(shape[0], shape[1])) + 2
    size = 2 * reach + 1
    away = np.round(right[:, None] * cosines + down[:, None] * sines).astype(np.int64) + reach
    votes = np.bincount((np.arange(_TURNS) * size + away).ravel(), minlength=_TURNS * size)
    left = np.ones(len(right), bool)
    found: list[_Line | None] = []
    while len(found) < _MOST_LINES:
        table = votes.reshape(_TURNS, size)
        near = table[:, :-2] + table[:, 1:-1] + table[:, 2:]
        turn, distance = divmod(int(near.argmax()), size - 2)
        if near[turn, distance] < _LEAST_POINTS:
            break
        own = left & (np.abs(right * cosines[turn] + down * sines[turn] + reach - distance - 1) <= _OFF)
        if own.sum() < 3:
            break
        found.append(_fitted(right[own], down[own]))
        votes = votes - np.bincount((np.arange(_TURNS) * size + away[own]).ravel(), minlength=_TURNS * size)
        left &= ~own
    return found


def _fitted(right: np.ndarray, down: np.ndarray) -> _Line | None:
    """The line of least squares through points; None where it lies too flat to be a yard line."""
    points = np.stack([right, down], 1).astype(float)
    for _ in range(2):
        middle = points.mean(0)
        direction = np.linalg.svd(points - middle, full_matrices=False)[2][0]
        off = np.abs((points - middle) @ np.array([-direction[1], direction[0]]))
        if (off <= 1.5).sum() >= 10:
            points = points[off <= 1.5]
    if abs(direction[1]) < 0.15:
        return None
    half = np.sqrt(3) * float(((points - middle) @ direction).std())       # of points that lie evenly along it
    return float(middle[0]), float(middle[1]), float(direction[0]), float(direction[1]), half


def _common_point(lines: list[_Line], shape: tuple[int, ...]) -> tuple[float, float] | None:
    """The point above the picture's lower half towards which most lines run."""
    best: tuple[int, tuple[float, float]] | None = None
    for one, other in combinations(lines, 2):
        cross = one[2] * other[3] - one[3] * other[2]
        if abs(cross) < 0.02:
            continue
        along = ((other[0] - one[0]) * other[3] - (other[1] - one[1]) * other[2]) / cross
        meet = one[0] + along * one[2], one[1] + along * one[3]
        if meet[1] > min(line[1] for line in (one, other)) or meet[1] < -20 * shape[0]:
            continue
        count = sum(_misses(meet, line) <= _TOGETHER for line in lines)
        if best is None or count > best[0]:
            best = count, meet
    if best is None or best[0] < 4:
        return None
    through = [line for line in lines if _misses(best[1], line) <= _TOGETHER]
    normals = np.array([(-line[3], line[2]) for line in through])
    offsets = np.array([-line[3] * line[0] + line[2] * line[1] for line in through])
    weights = 1 / np.array([np.hypot(line[0] - best[1][0], line[1] - best[1][1]) for line in through])
    meet_, *_ = np.linalg.lstsq(normals * weights[:, None], offsets * weights, rcond=None)
    return float(meet_[0]), float(meet_[1])


def _misses(meet: tuple[float, float], line: _Line) -> float:
    """The angle between a line and the direction from its middle to a point, in radians."""
    to = np.array([meet[0] - line[0], meet[1] - line[1]])
    length = float(np.hypot(*to))
    return abs(float(to[0] * line[3] - to[1] * line[2])) / length if length else 0.0


def _slope_to(meet: tuple[float, float], line: _Line) -> float:
    return (line[0] - meet[0]) / (line[1] - meet[1])


def _equal_steps(slopes: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray] | None:
    """Number slopes, sorted, so that they lie equal steps apart, some perhaps unseen: which of them do, their numbers,
    and the projection that gives them."""
    apart = np.diff(slopes)
    own_places = np.flatnonzero(np.concatenate([[True], apart > 0.2 * np.median(apart)])) if len(slopes) > 2 else \
        np.arange(len(slopes))
    distinct = slopes[own_places]
    if len(distinct) < 4:
        return None
    best: tuple[int, float, np.ndarray, np.ndarray, np.ndarray] | None = None
    for first, second in combinations(range(len(distinct)), 2):
        for between in (1, 2):
            step = (distinct[second] - distinct[first]) / between
            places = (distinct - distinct[first]) / step
            numbers = np.round(places)
            for _ in range(3):
                fits = np.abs(places - numbers) < 0.25
                if fits.sum() < 4 or len(set(numbers[fits].tolist())) < fits.sum():
                    break
                fit = _projection(distinct[fits], numbers[fits])
                places = (fit[0] * distinct + fit[1]) / (fit[2] * distinct + 1)
                numbers = np.round(places)
            else:
                fits = np.abs(places - numbers) < 0.2
                own = numbers[fits]
                if fits.sum() < 4 or len(set(own.tolist())) < fits.sum() or np.abs(np.diff(own)).min() != 1:
                    continue
                error = float(np.sqrt(((places - numbers)[fits] ** 2).mean()))
                if error <= _FITS and (best is None or (fits.sum(), -error) > (best[0], -best[1])):
                    best = int(fits.sum()), error, fits, own, fit
    if best is None or best[0] < 0.6 * len(distinct):
        return None
    return own_places[best[2]], best[3].astype(int), best[4]


def _refined(meet: tuple[float, float], fit: np.ndarray, lines: list[_Line], numbers: np.ndarray) -> YardLines | None:
    """Fit the common point and the projection to both ends of all lines at once, by least squares."""
    middles, ways = np.array([line[:2] for line in lines]), np.array([line[2:4] for line in lines])
    ways = ways * np.sign(ways[:, 1:])                                     # downwards
    halves = np.array([line[4] for line in lines])[:, None]
    tops, bottoms = middles - ways * halves, middles + ways * halves
    ends, twice = np.concatenate([tops, bottoms]), np.tile(numbers, 2)
    scale = np.array([*np.maximum(np.abs(meet), 100.0), *np.maximum(np.abs(fit), [1.0, 1.0, 0.1])])
    upright = np.tile(np.abs(ways[:, 1]), 2)        # a pixel across the line is more than one to the right

    def misses(at: np.ndarray) -> np.ndarray:
        meet_right, meet_down, a, b, c = at * scale
        slopes = (twice - b) / (a - c * twice)
        held = c * np.ptp(slopes) * (5.0 if len(lines) < 5 else 0.5)
        missed: np.ndarray = (ends[:, 0] - meet_right - slopes * (ends[:, 1] - meet_down)) * upright
        return np.append(missed, held)

    found = optimize.least_squares(misses, np.array([*meet, *fit]) / scale, method="lm", max_nfev=200)
    at = found.x * scale
    if not np.isfinite(at).all() or at[1] > ends[:, 1].min():
        return None
    worst = _stands_apart(found.fun[:-1], found.jac[:-1])
    if worst is not None:
        kept = np.arange(len(lines)) != worst
        return _refined(meet, fit, [line for line, keep in zip(lines, kept, strict=True) if keep], numbers[kept])
    degrees = max(len(twice) - 5, 1)
    variance = max(float((found.fun[:-1] ** 2).sum()) / degrees, _LEAST_MISS ** 2)
    spread = np.linalg.pinv(found.jac.T @ found.jac) * variance * np.outer(scale, scale)
    yards_a_step = np.diag([1.0, 1.0, APART, APART, 1.0])
    a, b, c = at[2:]
    places = np.array([_yards(at, right, down) for right, down in middles])
    error = APART * float(np.sqrt(((places - numbers) ** 2).mean()))
    seen = tuple(YardLine(int(number), _pair(top), _pair(bottom))
                 for number, top, bottom in zip(numbers, tops, bottoms, strict=True))
    return YardLines(_pair(at[:2]), (APART * float(a), APART * float(b), float(c)), error, seen,
                     yards_a_step @ spread @ yards_a_step)


def _stands_apart(missed: np.ndarray, turns: np.ndarray) -> int | None:
    """The line that the others contradict: without it they fit far better than by chance. None where there is none, or
    where too few would be left. What a line adds to the sum of squares follows from the fit with all of them (deletion
    diagnostics: Cook and Weisberg, Residuals and Influence in Regression, 1982). An end line is such a one: as wide as
    a border may be, its middle lies beside the ten yards from the goal line."""
    count = len(missed) // 2
    if count < _LEAST_TO_DOUBT:
        return None
    leverage = turns @ np.linalg.pinv(turns)
    squares = float((missed ** 2).sum())
    adds = np.empty(count)
    for line in range(count):
        ends = np.array([line, line + count])
        apart = np.eye(2) - leverage[np.ix_(ends, ends)]
        adds[line] = missed[ends] @ np.linalg.pinv(apart, rcond=1e-6) @ missed[ends]
    worst = int(adds.argmax())
    left = max((squares - adds[worst]) / (2 * count - 7), _LEAST_MISS ** 2)
    return worst if adds[worst] / 2 / left > _STANDS_APART else None


def _pair(point: np.ndarray) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _projection(slopes: np.ndarray, numbers: np.ndarray) -> np.ndarray:
    """The a, b and c of numbers = (a u + b) / (c u + 1), c held near 0 where lines are few."""
    rows = np.stack([slopes, np.ones_like(slopes), -slopes * numbers], 1)
    hold = np.array([[0.0, 0.0, 0.5 * float(np.ptp(slopes)) if len(slopes) < 5 else 0.02 * float(np.ptp(slopes))]])
    fit: np.ndarray = np.linalg.lstsq(np.concatenate([rows, hold]), np.append(numbers, 0.0), rcond=None)[0]
    return fit

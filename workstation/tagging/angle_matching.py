"""Propose which shots of a further angle film which plays, and by which moment they are tied.

Three kinds of evidence are weighed: what both microphones heard, the cameras' own clocks (a constant offset and drift),
and the order of shots, which is the same for every camera. A camera may miss a play, or run through several; so plays
and shots are aligned in order, with gaps and with several plays to one shot. A play that neither sound nor clocks match
is left open, because a wrong match costs more time than one made by hand.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

import numpy as np

from ..cancelling import Cancelled
from ..film.film import Film
from ..film.mono_sound import RATE
from ..film.sound_alignment import HOP, lag_of
from ..film.time import Instant
from .angles import matches_of, recording_of
from .camera_clocks import WITHIN, ClockLine, RecordedTimes, line_by_pattern, line_through
from .game_order import EXTRAS
from .layout import FilmedPlay, FilmTimes, frame_start, layout_of, snapped
from .model import Evidence, Game, Match, MomentKind, Shot

Traces = Mapping[str, np.ndarray]
"""Sound traces by source id (:func:`workstation.film.sound_alignment.sound_trace`)."""

SURE_CLEAR, SURE_LIKENESS = 10.0, 0.15
"""Least clearness and likeness at which sound alone makes a match. Set on synthetic pairs: with wind on one
microphone right pairs reached at least 17 and 0.34, wrong ones at most 7.2 and 0.12."""
LIKELY_CLEAR = 6.0
"""Least clearness at which sound makes a match that the clocks confirm."""
LEAST_INSIDE = 0.6
"""Share of an action that must lie within a shot for the clocks alone to match them."""
SOUND_WITHIN = 2 * HOP / RATE
"""Seconds by which a tie by sound may be off, not counting the time that sound travels."""


@dataclass(frozen=True)
class Proposal:
    """Matches of one angle in game order, those made by a person included. ``open``: the plays left for a person,
    each with the reason. ``clock``: how the further camera's clock runs against the first one's; None if unknown."""

    matches: tuple[Match, ...] = ()
    open: Mapping[int, str] = field(default_factory=dict)
    clock: ClockLine | None = None


@dataclass(frozen=True, slots=True)
class _Candidate:
    """A play and a shot that may film it. ``tie``: seconds of one moment, on the first film and on the further one."""

    tie: tuple[float, float]
    clear: float
    evidence: Evidence
    uncertainty: float


Pairs = dict[tuple[int, int], _Candidate]
"""By the places of play and shot."""


def propose(game: Game, number: int, traces: Traces, *, progress: Callable[[float], None] = lambda share: None,
            cancelled: Callable[[], bool] = lambda: False) -> Proposal:
    """Match the plays of *game* with the shots of angle *number*. Sources without a trace count as silent.

    A person's matches are kept, and the others must fit between them. Raises KeyError if there is no such angle,
    Cancelled.
    """
    return _Matching(game, number, traces).proposal(progress, cancelled)


class _Matching:
    """One game and one further angle while they are matched."""

    def __init__(self, game: Game, number: int, traces: Traces):
        self._game, self._number, self._traces = game, number, traces
        self._further = recording_of(game, number)
        layout = layout_of(game)
        self._own_spans = [(each.start, each.end) for each in layout.shots.values() if each.shot.kind not in EXTRAS]
        self._plays: list[tuple[int, FilmedPlay]] = list(layout.plays.items())
        self._shots = [shot for shot in self._further.shots if shot.kind not in EXTRAS]
        times = FilmTimes(self._further.film)
        self._spans = [(times.time(shot.start), times.time(shot.end)) for shot in self._shots]
        self._snaps = sorted(times.time(each.at) for each in self._further.moments if each.kind is MomentKind.SNAP)
        self._clocks = RecordedTimes(game.film), RecordedTimes(self._further.film)

    def proposal(self, progress: Callable[[float], None], cancelled: Callable[[], bool]) -> Proposal:
        heard = self._heard(progress, cancelled)
        sure = {key: pair for key, pair in heard.items() if pair.evidence is Evidence.SOUND}
        line = self._line(sure)
        pairs = sure if line is None else self._with_clock(heard, line)
        said = {play: match for play, match in matches_of(self._game, self._number).items()
                if match.evidence is Evidence.PERSON}
        places = {shot.id: place for place, shot in enumerate(self._shots)}
        fixed = {place: places.get(said[play].shot) for place, (play, _) in enumerate(self._plays) if play in said}
        chosen = _aligned(len(self._plays), len(self._shots), {key: pair.clear for key, pair in pairs.items()}, fixed)
        matches, left = [match for play, match in said.items() if play not in dict(self._plays)], {}
        for place, (play, _) in enumerate(self._plays):
            if play in said:
                matches.append(self._tied(said[play], heard.get((place, places.get(said[play].shot, -1)))))
                continue
            if place in chosen:
                matches.append(self._match(play, self._shots[chosen[place]], pairs[place, chosen[place]]))
            else:
                left[play] = self._why_open(line)
        order = {tag.id: place for place, tag in enumerate(self._game.plays)}
        return Proposal(tuple(sorted(matches, key=lambda match: order[match.play])), left, line)

    def _heard(self, progress: Callable[[float], None], cancelled: Callable[[], bool]) -> Pairs:
        """Pairs whose sound is alike, marked SOUND where that is enough and ORDER where a clock must confirm it."""
        here = [_cut(self._game.film, filmed.span, self._traces) for _, filmed in self._plays]
        there = [_cut(self._further.film, (shot.start, shot.end), self._traces) for shot in self._shots]
        found: Pairs = {}
        for place, first in enumerate(here):
            if cancelled():
                raise Cancelled("Matching was stopped.")
            for other, second in enumerate(there):
                lag = lag_of(first, second)
                if lag is not None and lag.clear >= LIKELY_CLEAR and self._films(place, other, lag.seconds):
                    sure = lag.clear >= SURE_CLEAR and lag.likeness >= SURE_LIKENESS
                    found[place, other] = _Candidate(self._tie(place, other, lag.seconds), lag.clear,
                                                     Evidence.SOUND if sure else Evidence.ORDER, SOUND_WITHIN)
            progress((place + 1) / len(here))
        return found

    def _films(self, place: int, other: int, lag: float) -> bool:
        """Whether a shot that begins ``lag`` seconds into the play's span shows the action, or most of it."""
        filmed, (start, end) = self._plays[place][1], self._spans[other]
        begins, ends = filmed.action
        at = begins - filmed.start - lag + start
        return _inside((at, at + ends - begins), (start, end)) >= LEAST_INSIDE

    def _tie(self, place: int, other: int, lag: float) -> tuple[float, float]:
        """The moment in the middle of what both the play's span and the shot show. *lag*: seconds from the start of
        the span to the start of the shot."""
        start, end = self._plays[place][1].start, self._plays[place][1].end
        shown_from, shown_to = self._spans[other]
        begin, over = max(0.0, lag), min(end - start, lag + shown_to - shown_from)
        middle = (begin + over) / 2
        return start + middle, shown_from + middle - lag

    def _line(self, sure: Pairs) -> ClockLine | None:
        """How the clocks run against each other, by what was heard, or else by the pattern of starts and stops."""
        first, further = self._clocks
        if not (first.known and further.known):
            return None
        ties = [(first.at(pair.tie[0]), further.at(pair.tie[1])) for pair in sure.values()]
        known = [(one, other) for one, other in ties if one is not None and other is not None]
        if known:
            return line_through(known)
        return line_by_pattern(first.spans(self._own_spans), further.spans(self._spans))

    def _with_clock(self, heard: Pairs, line: ClockLine) -> Pairs:
        """Pairs that the clocks confirm; pairs by sound that they contradict are dropped."""
        first, further = self._clocks
        pairs: Pairs = {}
        for place, (_, filmed) in enumerate(self._plays):
            begins = first.at(filmed.action[0])
            for other, (start, end) in enumerate(self._spans):
                pair, began = heard.get((place, other)), further.at(start)
                if begins is None or began is None:
                    if pair is not None and pair.evidence is Evidence.SOUND:
                        pairs[place, other] = pair
                    continue
                at = start + line.further(begins) - began       # the action's beginning, on the further film
                if pair is not None and abs(at - filmed.action[0] - pair.tie[1] + pair.tie[0]) <= WITHIN:
                    pairs[place, other] = _Candidate(pair.tie, pair.clear, Evidence.SOUND, pair.uncertainty)
                    continue
                inside = _inside((at, at + filmed.action[1] - filmed.action[0]), (start, end))
                if inside >= LEAST_INSIDE:
                    pairs[place, other] = self._by_clock(filmed, at, inside, line)
        return pairs

    def _by_clock(self, filmed: FilmedPlay, at: float, inside: float, line: ClockLine) -> _Candidate:
        """A pair matched by the clocks alone, tied by the two cameras' snaps where those are marked near each other."""
        begins = filmed.action[0]
        if filmed.snap is not None:
            near = [snap for snap in self._snaps if abs(snap - at) <= WITHIN + line.spread]
            if len(near) == 1:
                return _Candidate((begins, near[0]), inside, Evidence.CLOCK, filmed.snap.moment.uncertainty)
        return _Candidate((begins, at), inside, Evidence.CLOCK, max(WITHIN, line.spread))

    def _match(self, play: int, shot: Shot, pair: _Candidate) -> Match:
        first, further = self._game.film, self._further.film
        here = frame_start(first, pair.tie[0])
        there = further.instant_at(first.time_of(here) + Fraction(pair.tie[1] - pair.tie[0]))
        same = here, snapped(further, there, nearest=True)
        return Match(self._number, play, shot.id, same, pair.evidence, round(pair.uncertainty, 3))

    def _tied(self, said: Match, heard: _Candidate | None) -> Match:
        """A person's match; where it has no tie, with the one that was heard."""
        if said.same is not None or heard is None:
            return said
        tied = self._match(said.play, next(shot for shot in self._shots if shot.id == said.shot), heard)
        return replace(said, same=tied.same, uncertainty=tied.uncertainty)

    def _why_open(self, line: ClockLine | None) -> str:
        if not self._shots:
            return "the angle has no shots that may film plays"
        if line is None and not any(len(trace) for trace in self._traces.values()):
            return "there is no sound, and no clock to go by"
        return "nothing heard, and nothing by the clock, says which shot films it; it may have been missed"


def _inside(action: tuple[float, float], span: tuple[float, float]) -> float:
    """The share of an action that lies within a span; below 0 where they lie apart."""
    length = max(action[1] - action[0], 0.5)
    return (min(action[0] + length, span[1]) - max(action[0], span[0])) / length


def _cut(film: Film, span: tuple[Instant, Instant], traces: Traces) -> np.ndarray:
    """The trace of a span of film; what has no trace is silent."""
    bands = next((trace.shape[1] for trace in traces.values()), 1)
    begin, end = (float(film.time_of(instant)) for instant in span)
    pieces = []
    for source in film.sources:
        starts = float(film.starts_at(source.id))
        from_, to = max(begin - starts, 0.0), min(end - starts, float(source.duration))
        if to <= from_:
            continue
        first, last = round(from_ * RATE / HOP), round(to * RATE / HOP)
        trace = traces.get(source.id, np.zeros((0, bands), np.float32))[first:last]
        pieces.append(np.pad(trace, ((0, last - first - len(trace)), (0, 0))))
    return np.concatenate(pieces) if pieces else np.zeros((0, bands), np.float32)


def _aligned(plays: int, shots: int, weights: Mapping[tuple[int, int], float],
             fixed: Mapping[int, int | None]) -> dict[int, int]:
    """The shot of each matched play, by their places: both orders kept, the total weight greatest, several plays to a
    shot allowed. ``fixed``: what a person matched, None for a shot that is not in the list."""
    best = np.zeros((plays + 1, shots + 1))
    for play in range(plays):
        for shot in range(shots):
            with_it = best[play, shot + 1] + _weight(play, shot, weights, fixed)
            best[play + 1, shot + 1] = max(best[play, shot + 1], best[play + 1, shot], with_it)
    chosen: dict[int, int] = {}
    play, shot = plays - 1, shots - 1
    while play >= 0 and shot >= 0:
        here = best[play + 1, shot + 1]
        if here == best[play + 1, shot]:
            shot -= 1
        elif here == best[play, shot + 1]:
            play -= 1
        else:
            chosen[play] = shot
            play -= 1
    return chosen


def _weight(play: int, shot: int, weights: Mapping[tuple[int, int], float], fixed: Mapping[int, int | None]) -> float:
    if play in fixed:
        return 1e6 if fixed[play] == shot else 0.0
    return weights.get((play, shot), 0.0)

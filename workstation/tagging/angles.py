"""A game as seen from one of its angles, and how instants of one angle's film become another's.

Plays, situations and words belong to the game; shots and what is said about film belong to an angle. A
:class:`~.model.Match` says which shot of a further angle films a play, and ties the two to a picture. From that,
:func:`seen_from` makes a game in which the angle's film is the film: everything that reads a game (layout, coverage,
timeline, exports) works on it as on any other.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from copy import copy
from dataclasses import replace
from fractions import Fraction
from typing import Generic, NamedTuple, TypeVar

from ..film.film import Film
from ..film.time import Instant
from .layout import FilmLayout, has_pictures, layout_of, snapped
from .model import Angle, AngleFilm, CameraPlace, Decision, Game, Match, Moment, MomentKind
from .records import film_order

T = TypeVar("T")

FIRST = 0
"""The number of the first angle; further ones have the ids of their records, from 1 on."""

SHARED = frozenset({MomentKind.SNAP, MomentKind.DEAD_BALL, MomentKind.CONFRONTATION, MomentKind.CONFRONTATION_OVER,
                    MomentKind.CARE})
"""Moments of the game itself, which happen for every camera at once. All others are about one camera's picture."""

SAME_MOMENT = 2.0
"""Seconds within which a moment of the same kind, marked in two angles, is one moment. Common practice, no source."""


class Tie(NamedTuple):
    """One moment in two films, in seconds of each."""

    first: Fraction
    further: Fraction

    @property
    def away(self) -> Fraction:
        """By how many seconds the further film shows a moment later than the first one."""
        return self.further - self.first


class _Recent(Generic[T]):
    """A cache of the last few results, by the values they were computed from. Those are compared, not hashed: values
    that a change left alone are the same objects, so that comparing is quick."""

    def __init__(self) -> None:
        self._known: tuple[tuple[tuple[object, ...], T], ...] = ()

    def get(self, made_from: tuple[object, ...]) -> T | None:
        return next((answer for each, answer in self._known if each == made_from), None)

    def add(self, made_from: tuple[object, ...], answer: T) -> None:
        self._known = ((made_from, answer), *self._known[:7])


_recent_ties: _Recent[dict[int, Tie]] = _Recent()
_recent_places: _Recent[dict[tuple[int, Instant], tuple[float, Instant]]] = _Recent()


def angle_of(game: Game, number: int) -> Angle:
    """What is known about an angle, the first one too. Raises KeyError if the game has none of that number."""
    if number == FIRST:
        heading = game.heading
        return Angle(FIRST, heading.angle, heading.place, heading.crew, heading.profile)
    return recording_of(game, number).angle


def recording_of(game: Game, number: int) -> AngleFilm:
    """What a further angle filmed. Raises KeyError if the game has none of that number."""
    for each in game.angles:
        if each.angle.id == number:
            return each
    raise KeyError(number)


def film_of(game: Game, number: int) -> Film:
    """An angle's film. Raises KeyError if the game has none of that number."""
    return game.film if number == FIRST else recording_of(game, number).film


def angle_that_holds(game: Game, source: str) -> int:
    """The number of the angle whose film a source is part of. Raises KeyError if no angle has it."""
    for recording in game.recordings:
        if any(each.id == source for each in recording.film.sources):
            return recording.angle.id if isinstance(recording, AngleFilm) else FIRST
    raise KeyError(source)


def angle_of_shot(game: Game, shot: int | None) -> int:
    """The number of the angle that a shot belongs to; the first angle's for None and for an unknown id."""
    return next((each.angle.id for each in game.angles if any(one.id == shot for one in each.shots)), FIRST)


def matches_of(game: Game, number: int) -> dict[int, Match]:
    """The matches of a further angle by play."""
    return {match.play: match for match in game.matches if match.angle == number}


def ties_of(game: Game, number: int) -> Mapping[int, Tie]:
    """By play, the moment that ties a further angle to the first: the one that its match names, else the snap where
    both have marked it. A play with neither is not tied. Cached: the same object as long as the values it is
    computed from are unchanged. Raises KeyError if the game has no such angle."""
    further = recording_of(game, number)
    matches = matches_of(game, number)
    loose = {play for play, match in matches.items() if match.same is None}
    made_from: tuple[object, ...] = (number, game.film, further.film, matches)
    if loose:
        placed = [(tag.id, tag.shot, tag.play.kind) for tag in game.plays]
        made_from += game.shots, game.moments, placed, further.shots, further.moments
    ties = _recent_ties.get(made_from)
    if ties is None:
        ties = {play: Tie(game.film.time_of(match.same[0]), further.film.time_of(match.same[1]))
                for play, match in matches.items() if match.same is not None}
        if loose:
            here, there = layout_of(game).plays, layout_of(_with_film_of(game, further, matches)).plays
            for play in loose & here.keys() & there.keys():
                first, second = here[play].snap, there[play].snap
                if first and second:
                    ties[play] = Tie(game.film.time_of(first.at), further.film.time_of(second.at))
        _recent_ties.add(made_from, ties)
    return ties


def same_moment(game: Game, at: Instant, play: int, number: int) -> Instant | None:
    """The picture of angle *number* that shows what *at*, an instant of any angle, shows of a play.

    None where the play is not filmed by that angle, not tied to it, or the moment lies outside the source in
    which it is tied: what lies before or after that on the film was filmed at another time.
    Raises KeyError if no angle has the instant's source, or the game has no such angle.
    """
    now = angle_that_holds(game, at.source)
    if now == number:
        return at
    here, there = (_away(game, each, play) for each in (now, number))
    if here is None or there is None:
        return None
    other = film_of(game, number)
    found = _instant(other, film_of(game, now).time_of(at) - here + there)
    tie = ties_of(game, now if number == FIRST else number)[play]
    tied = _instant(other, tie.first if number == FIRST else tie.further)
    return found if found is not None and tied is not None and found.source == tied.source else None


def _away(game: Game, number: int, play: int) -> Fraction | None:
    """By how many seconds an angle's film shows a play later than the first one's; None where the play is not tied."""
    tie = Tie(Fraction(0), Fraction(0)) if number == FIRST else ties_of(game, number).get(play)
    return None if tie is None else tie.away


def layout_from(game: Game, number: int) -> FilmLayout:
    """Where an angle's film shows things. Where a further camera's shot runs through several plays, the span of a
    tied play is cut to what the first angle shows of it. Raises KeyError if the game has no such angle."""
    layout = layout_of(seen_from(game, number))
    ties = _ties_to_first(game, number)
    plays_in = Counter(filmed.shot.id for filmed in layout.plays.values())
    if ties is None or max(plays_in.values(), default=0) < 2:
        return layout
    narrowed, first, film = copy(layout), layout_of(seen_from(game)), layout.game.film
    narrowed.plays = dict(layout.plays)
    for play, filmed in layout.plays.items():
        if plays_in[filmed.shot.id] < 2 or play not in ties or play not in first.plays:
            continue
        ends = []
        for own, seen in zip(filmed.span, first.plays[play].span, strict=True):
            time = first.game.film.time_of(seen) + ties[play].away
            inside = filmed.start < time < filmed.end
            ends.append(snapped(film, film.instant_at(time), nearest=True) if inside else own)
        narrowed.plays[play] = replace(filmed, span=(ends[0], ends[1]), start=layout.time(ends[0]),
                                       end=layout.time(ends[1]))
    return narrowed


def beginning_in(game: Game, play: int, number: int) -> Instant | None:
    """Where an angle's film shows a play's snap, or else its span begin; None where the angle does not film it."""
    filmed = layout_from(game, number).plays.get(play)
    return filmed.begins if filmed is not None else None


def play_at(game: Game, number: int, at: Instant) -> int | None:
    """The play that runs, or ran last, where an angle's film stands; None before the first. Of several in one shot the
    first one's span begins with the shot. Raises ValueError for an instant that is not in the film."""
    layout = layout_from(game, number)
    time = layout.time(at)
    begun, within = layout.play_at(time), layout_of(layout.game).play_at(time)
    if begun is None or within is None or layout.plays[begun].shot.id == layout.plays[within].shot.id:
        return begun
    shot = layout.plays[within].shot.id         # it runs, and none of its plays has begun
    return min((each for each, filmed in layout.plays.items() if filmed.shot.id == shot),
               key=lambda each: layout.plays[each].start)


class InStep:
    """Where the film of angle *number* shows what the film of angle *now* shows, within the shots of each play. Made
    for one game snapshot; quick enough to be called at every picture. Raises KeyError if the game has no such angle."""

    def __init__(self, game: Game, now: int, number: int) -> None:
        self._film, self._other = film_of(game, now), film_of(game, number)
        own, other = layout_from(game, now), layout_from(game, number)
        ties = [_ties_to_first(game, each) for each in (now, number)]
        self._spans: list[tuple[float, float, int, Fraction, float, float]] = []
        for play in own.plays.keys() & other.plays.keys():
            if any(tie is not None and play not in tie for tie in ties):
                continue
            here, there = (Fraction(0) if tie is None else tie[play].away for tie in ties)
            filmed, shot = own.plays[play], other.shots[other.plays[play].shot.id]
            self._spans.append((filmed.start, filmed.end, play, there - here, shot.start, shot.end))
        self._spans.sort()
        self._starts = [span[0] for span in self._spans]

    def at(self, instant: Instant) -> Instant | None:
        """The picture that shows the same moment; None where no play is on show, or the other angle does not show it
        or is not tied to it. Raises KeyError for an instant that is not in the film."""
        time = self._film.time_of(instant)
        place = bisect_right(self._starts, float(time)) - 1
        if place < 0 or float(time) >= self._spans[place][1]:
            return None
        _, _, _, away, begin, end = self._spans[place]
        return _instant(self._other, time + away) if begin <= float(time + away) < end else None


def seen_from(game: Game, number: int = FIRST) -> Game:
    """*game* as one angle filmed it: its film, its shots as the plays' shots, its crew and profile, its own decisions;
    with the moments of the game that were marked in other angles where it shows them. A moment marked in the angle
    itself takes precedence over one from another angle. Further angles and matches are unchanged.

    Raises KeyError if the game has no such angle.
    """
    if not game.angles:
        if number != FIRST:
            raise KeyError(number)
        return game
    seen = game if number == FIRST else _with_film_of(game, recording_of(game, number), matches_of(game, number))
    decisions = tuple(_own_decisions(game, number))
    brought = list(_brought_moments(game, number, seen))
    if not brought and decisions == seen.decisions:
        return seen
    order = film_order(seen.film)
    moments = sorted((*seen.moments, *brought), key=lambda moment: (order(moment.at), moment.id))
    return replace(seen, moments=tuple(moments), decisions=decisions)


def plays_shown(game: Game) -> list[tuple[CameraPlace, set[int]]]:
    """For each angle, the first one first: where its camera stood and the plays that it films. *game* may be as seen
    from any of its angles (:func:`seen_from`); that angle's plays are those with a shot."""
    here = game.heading.place, {tag.id for tag in game.plays if tag.shot is not None}
    return [here, *((each.angle.place, set(matches_of(game, each.angle.id))) for each in game.angles)]


def decision_key(number: int, finding: str) -> str:
    """The key under which a decision about an angle's finding is kept."""
    return finding if number == FIRST else f"{_prefix(number)}{finding}"


def named_place(place: CameraPlace) -> str:
    """What an angle is called until somebody gives it a name."""
    return {CameraPlace.HIGH_WIDE: "High", CameraPlace.HIGH_TIGHT: "Tight", CameraPlace.END_ZONE: "End zone",
            CameraPlace.SIDELINE: "Sideline", CameraPlace.OTHER: "Other"}[place]


def _prefix(number: int) -> str:
    return f"angle {number}: "


def _own_decisions(game: Game, number: int) -> Iterator[Decision]:
    further = tuple(_prefix(each.angle.id) for each in game.angles)
    for decision in game.decisions:
        if number == FIRST:
            if not decision.finding.startswith(further):
                yield decision
        elif decision.finding.startswith(_prefix(number)):
            yield replace(decision, finding=decision.finding.removeprefix(_prefix(number)))


def _with_film_of(game: Game, further: AngleFilm, matches: Mapping[int, Match]) -> Game:
    plays = tuple(replace(tag, shot=matches[tag.id].shot if tag.id in matches else None) for tag in game.plays)
    heading = replace(game.heading, crew=further.angle.crew, profile=further.angle.profile, angle=further.angle.name,
                      place=further.angle.place)
    return replace(game, heading=heading, film=further.film, shots=further.shots, moments=further.moments, plays=plays,
                   notes=further.notes, drawings=further.drawings, remarks=further.remarks)


def _brought_moments(game: Game, number: int, seen: Game) -> Iterator[Moment]:
    """The shared moments that other angles marked, where *seen*, the game of angle *number*, shows them."""
    layout = layout_of(seen)
    shot_of = {tag.id: tag.shot for tag in seen.plays}
    plays_in = Counter(shot_of.values())
    own = _ties_to_first(game, number)
    known = {(moment.kind, moment.at) for moment in seen.moments}
    for other in (FIRST, *(each.angle.id for each in game.angles)):
        if other == number:
            continue
        places = _places(game, other, number, own)
        for play, moment in _shared_moments(game, other):
            filmed = layout.shots.get(shot_of.get(play) or 0)
            if filmed is None or (own is not None and play not in own):
                continue
            time, at = places(play, moment.at)
            near = SAME_MOMENT if plays_in[filmed.shot.id] > 1 else float("inf")
            if not filmed.start <= time <= filmed.end or any(
                    each.kind is moment.kind and abs(each.time - time) <= near for each in filmed.moments):
                continue
            if at is not None and (moment.kind, at) not in known:
                known.add((moment.kind, at))
                yield replace(moment, at=at)


def _ties_to_first(game: Game, number: int) -> Mapping[int, Tie] | None:
    """The ties of an angle; None for the first one, which needs none."""
    return None if number == FIRST else ties_of(game, number)


def _places(game: Game, other: int, number: int,
            own: Mapping[int, Tie] | None) -> Callable[[int, Instant], tuple[float, Instant | None]]:
    """A function that says when, in seconds, and by which picture the film of angle *number* shows an instant of a play
    in angle *other*. Cached, as a change moves few moments and arithmetic with fractions is slow."""
    ties = _ties_to_first(game, other)
    here, there = film_of(game, other), film_of(game, number)
    made_from = here, there, ties, own
    found = _recent_places.get(made_from)
    if found is None:
        found = {}
        _recent_places.add(made_from, found)

    def place(play: int, at: Instant) -> tuple[float, Instant | None]:
        answer: tuple[float, Instant | None] | None = found.get((play, at))
        if answer is None:
            time = here.time_of(at)
            if ties is not None:
                time -= ties[play].away
            if own is not None:
                time += own[play].away
            shown = _instant(there, time)
            answer = float(time), shown
            if shown is not None and has_pictures(there, shown):     # else it may change once the pictures are known
                found[play, at] = float(time), shown
        return answer

    return place


def _shared_moments(game: Game, number: int) -> Iterator[tuple[int, Moment]]:
    """Each shared moment that an angle marked in a shot of a play that is tied, with the play. In a shot that films
    several plays it is about the one that runs then, or is tied nearest to it."""
    recording: Game | AngleFilm
    ties = _ties_to_first(game, number)
    if ties is None:
        recording = game
        shot_of = {tag.id: tag.shot for tag in game.plays if tag.shot is not None}
    else:
        recording = recording_of(game, number)
        shot_of = {play: match.shot for play, match in matches_of(game, number).items() if play in ties}
    plays_of: dict[int, list[int]] = {}
    for play, shot in shot_of.items():
        plays_of.setdefault(shot, []).append(play)
    shots, order = recording.shots, film_order(recording.film)
    starts = [order(shot.start) for shot in shots]
    layout = layout_of(game) if number == FIRST else None
    for moment in recording.moments:
        place = bisect_right(starts, order(moment.at)) - 1
        if moment.kind not in SHARED or place < 0 or order(shots[place].end) < order(moment.at):
            continue
        plays = plays_of.get(shots[place].id)
        if not plays:
            continue
        if len(plays) == 1:
            yield plays[0], moment
        elif layout is not None:
            time = layout.time(moment.at)
            yield next((each for each in plays if layout.plays[each].start <= time <= layout.plays[each].end),
                       plays[0]), moment
        elif ties is not None:
            exact = recording.film.time_of(moment.at)
            yield min(plays, key=lambda each: abs(ties[each].further - exact)), moment


def _instant(film: Film, time: Fraction) -> Instant | None:
    """The picture on show at a film time; None outside the film."""
    if not film.sources or not 0 <= time < film.duration:
        return None
    return snapped(film, film.instant_at(time))


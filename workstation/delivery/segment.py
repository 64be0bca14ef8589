"""What is handed on: a labelled span of film, cut at exact instants."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..film.film import Film, Source
from ..film.time import Instant
from ..football.field import spoken_spot
from ..football.plays import Side
from ..football.rulebook import load_rulebook
from ..football.speaking import spoken_clock, spoken_period, spoken_situation
from ..football.step import Step
from ..season.origin import Origin
from ..tagging.angles import FIRST, Tie, angle_of, layout_from, ties_of
from ..tagging.discretion import meant_by, sensitive_spans, shown_between
from ..tagging.layout import FilmLayout, layout_of, snapped
from ..tagging.model import Game, Heading, PlayTag, SequenceItem, ShotKind
from ..tagging.own_words.definition import column_name
from ..tagging.own_words.following import Words, known_words, names_known, spoken_words
from .cutting import angles_shown, span_of

#: What is said where footage is handed on that asks for discretion.
NOTICES = {
    ShotKind.INJURY: "This footage shows an injured player. Share it only with those who need it, and follow the rules "
                     "of the school, the league and the law on medical privacy and on pictures of minors.",
    ShotKind.ALTERCATION: "This footage shows an altercation. It is evidence for officials and coaches, not for "
                          "publication; follow the rules of the school and the league.",
}


@dataclass(frozen=True, slots=True)
class Part:
    """A span inside one source: pictures with ``start <= pts < end``, in ticks of its time base."""

    source: Source
    start: int
    end: int

    @property
    def duration(self) -> Fraction:
        """The length of the part in seconds, exact."""
        return (self.end - self.start) * self.source.time_base


@dataclass(frozen=True, slots=True)
class AngleSpan:
    """A span of another angle's film in step with a segment: ``lead`` seconds (negative ones too) after the segment's
    first picture its own first one is due."""

    angle: int
    name: str
    parts: tuple[Part, ...]
    lead: Fraction


@dataclass(frozen=True, slots=True)
class Segment:
    """One play or shot to hand on. ``fields`` fill the name pattern; ``caption`` is the line shown with it. ``beside``
    are other angles in the same picture, small in its corner if ``inset``; ``heard`` is the one whose sound stands in
    the place of its own."""

    parts: tuple[Part, ...]
    fields: dict[str, str]
    caption: str = ""
    play: int | None = None
    shot: int | None = None
    notice: str = ""
    angle: int = FIRST
    beside: tuple[AngleSpan, ...] = ()
    heard: AngleSpan | None = None
    inset: bool = False

    @property
    def used(self) -> tuple[Part, ...]:
        """Every span of film that it is made of, each once."""
        along = (*self.beside, *((self.heard,) if self.heard else ()))
        return tuple(dict.fromkeys((*self.parts, *(part for each in along for part in each.parts))))

    @property
    def duration(self) -> Fraction:
        """The length of all parts in seconds, exact."""
        return sum((part.duration for part in self.parts), Fraction(0))

    @property
    def label(self) -> str:
        """The segment's label, empty if it has none."""
        return self.fields.get("label", "")


@dataclass(frozen=True, slots=True)
class Cue:
    """Where a segment lies in a film joined of several; seconds from its first picture."""

    start: Fraction
    end: Fraction
    segment: Segment


def cues_of(segments: Iterable[Segment]) -> tuple[Cue, ...]:
    """Where the segments lie when they follow each other as they are, without freeze frames."""
    cues, at = [], Fraction(0)
    for segment in segments:
        cues.append(Cue(at, at + segment.duration, segment))
        at += segment.duration
    return tuple(cues)


def parts_between(film: Film, start: Instant, end: Instant) -> tuple[Part, ...]:
    """Cut the span ``start`` to ``end`` (first picture after it) at source boundaries.

    Raises ValueError when it is empty or runs backwards.
    """
    ids = [source.id for source in film.sources]
    first, last = ids.index(start.source), ids.index(end.source)
    parts = []
    for position in range(first, last + 1):
        source = film.sources[position]
        begin = start.pts if position == first else source.start_pts
        finish = end.pts if position == last else source.end.pts
        if finish > begin:
            parts.append(Part(source, begin, finish))
    if not parts:
        raise ValueError("The segment is empty: its end does not come after its start.")
    return tuple(parts)


def field_length(game: Game) -> float:
    """Yards between the goal lines by the game's rulebook."""
    return load_rulebook(game.heading.rulebook, game.heading.season).field_length


def _play_fields(heading: Heading, length: float, tag: PlayTag, number: int, step: Step, words: Words,
                 named: Iterable[str]) -> dict[str, str]:
    before = step.before
    own = {column_name(name): words[name].text if name in words else "" for name in named}
    return own | {"number": f"{number:03}", "play": str(number), "label": f"play {number}", "kind": str(tag.play.kind),
                  "result": step.result, "situation": spoken_situation(before, length),
                  "down": "" if before.down is None else str(before.down),
                  "yards_to_gain": "" if before.yards_to_gain is None else f"{before.yards_to_gain:g}",
                  "ball_on": "" if before.ball_on is None else spoken_spot(before.ball_on, length),
                  "offense": heading.name_of(before.offense), "period": str(before.period),
                  "quarter": spoken_period(before.period), "foul": spoken_fouls(heading, step),
                  "clock": spoken_clock(before.clock), "score": f"{before.score_visitors}-{before.score_home}",
                  "home": heading.home, "visitors": heading.visitors, "date": heading.date,
                  "words": spoken_words(words)}


def spoken_fouls(heading: Heading, step: Step) -> str:
    """The fouls of a play, each with the team and what became of it: ``holding by Harbor, declined``."""
    said, offense = [], step.before.offense
    for foul in step.play.fouls:
        by = ""
        if offense is not None:
            team = offense if foul.by is Side.OFFENSE else offense.opponents
            by = f" by {heading.name_of(team)}"
        said.append(f"{foul.name}{by}" + (f", {foul.decision}" if foul.decision is not None else ""))
    return "; ".join(said)


def _notice(kinds: Iterable[ShotKind]) -> str:
    return " ".join(NOTICES[kind] for kind in dict.fromkeys(kinds))


def play_segments(game: Game, steps: Sequence[Step], items: Iterable[SequenceItem] | None = None,
                  origins: Mapping[int, Origin] | None = None) -> list[Segment]:
    """The span of every filmed play, or of ``items`` in their order, each with its handles.

    ``number`` is the play's place in the game, as on the desk and in the sheet. Where the game is several joined,
    ``origins`` says which play of which each is; its caption and label then name the game.

    An item of several angles is one span of each that filmed it, in their order, or one span of the first of them with
    the others in step beside it; where the items are not all of the first angle, labels, captions and the numbers in
    file names say the angle. What another angle did not film, or is not tied to, is left out.

    Plays that were not filmed, and ids that the game does not have, yield nothing.
    """
    items = list(map(SequenceItem, (tag.id for tag in game.plays)) if items is None else items)
    numbers = dict.fromkeys(number for item in items for number in (*(item.angles or (FIRST,)), item.sound)
                            if number is not None)
    layouts = {number: layout_from(game, number) for number in numbers}
    sensitive = {number: sensitive_spans(layout) for number, layout in layouts.items()}
    several = any(item.angles not in ((), (FIRST,)) for item in items)
    names = {number: angle_of(game, number).name if several else "" for number in numbers}
    ties = {number: ties_of(game, number) for number in numbers if number != FIRST}
    known = known_words(game, steps)
    named = names_known(game, known)
    numbered = {tag.id: (number, tag, step, words)
                for number, (tag, step, words) in enumerate(zip(game.plays, steps, known, strict=True), 1)}
    segments = []
    for item, angle in [(each, angle) for each in items for angle in angles_shown(each, layouts)]:
        layout, name = layouts[angle], names[angle]
        span = span_of(layout, item)
        if span is None:
            continue
        along = {number: _in_step(layouts, ties, names, item.play, angle, number, span) for number in numbers}
        others = [each for number in item.angles if number != angle and (each := along[number])] if item.beside else []
        origin = origins.get(item.play) if origins else None
        if name and origin and angle == FIRST:      # joined games may call their first angles differently
            name = origin.heading.angle
        own_name = name
        name = " | ".join((name, *(each.name for each in others)))
        heard = along[item.sound] if item.sound not in (None, angle) else None
        number, tag, step, words = numbered[item.play]
        shot = layout.plays[item.play].shot
        heading = origin.heading if origin else game.heading
        length = origin.rulebook.field_length if origin else field_length(game)
        fields = _play_fields(heading, length, tag, origin.number if origin else number, step, words, named)
        if origin:
            fields["number"] = f"{origin.spoken_game} {fields['number']}"
            fields["label"] = f"{origin.spoken_game}, {fields['label']}"
        if name:
            fields |= {"angle": own_name, "number": f"{fields['number']} {name}", "label": f"{fields['label']}, {name}"}
        caption = "  ·  ".join(filter(None, (
            origin.spoken_game if origin else "", name,
            f"{heading.visitors} {step.before.score_visitors}  {heading.home} {step.before.score_home}",
            f"{fields['quarter']} {fields['clock']}".strip(), fields["situation"], step.result, fields["foul"],
            fields["words"])))
        shown = shown_between(sensitive[angle], *map(layout.time, span))
        segments.append(Segment(parts_between(layout.game.film, *span), fields, caption, tag.id, shot.id,
                                _notice((*meant_by(tag.play), *shown)), angle, tuple(others), heard,
                                item.inset and bool(others)))
    return segments


def _in_step(layouts: Mapping[int, FilmLayout], ties: Mapping[int, Mapping[int, Tie]], names: Mapping[int, str],
             play: int, angle: int, number: int, span: tuple[Instant, Instant]) -> AngleSpan | None:
    """What angle *number* shows of a play while *angle* shows *span* of it, within its own camera files; None where it
    did not film the play, shows nothing of the span, or is not tied to it."""
    filmed = layouts[number].plays.get(play)
    if number == angle or filmed is None or any(each != FIRST and play not in ties[each] for each in (angle, number)):
        return None
    here, there = layouts[angle].game.film, layouts[number].game.film
    away = [Fraction(0) if each == FIRST else ties[each][play].away for each in (angle, number)]
    begin, end = (here.time_of(at) - away[0] + away[1] for at in span)
    first, last = there.source(filmed.shot.start.source), there.source(filmed.shot.end.source)
    start, finish = max(begin, there.time_of(first.first)), min(end, there.time_of(last.end))
    if finish <= start:
        return None
    at = snapped(there, there.instant_at(start))
    until = last.end if finish == there.time_of(last.end) else there.instant_at(finish)
    return AngleSpan(number, names[number], parts_between(there, at, until), there.time_of(at) - begin)


def shot_segments(game: Game) -> list[Segment]:
    """Every shot by itself."""
    layout = layout_of(game)
    sensitive = sensitive_spans(layout)
    segments = []
    for number, shot in enumerate(game.shots, 1):
        kind = str(shot.kind or "unmarked shot")
        fields = {"number": f"{number:03}", "label": f"shot {number} {kind}", "kind": kind, "home": game.heading.home,
                  "visitors": game.heading.visitors, "date": game.heading.date}
        segments.append(Segment(parts_between(game.film, shot.start, shot.end), fields, kind, None, shot.id,
                                _notice(shown_between(sensitive, layout.time(shot.start), layout.time(shot.end)))))
    return segments

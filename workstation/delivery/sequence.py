"""From "these plays, so trimmed, so annotated" to files: the one path that the desk and the command line share."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from pathlib import Path

from ..cancelling import Cancelled
from ..film.time import Instant
from ..film.writing import part_beside, unused, written_whole
from ..football.speaking import spoken_plays
from ..football.step import Step
from ..season.origin import Origin
from ..tagging.angles import angle_of, seen_from
from ..tagging.layout import FilmLayout, frame_start, layout_of
from ..tagging.model import Game, MomentKind, SequenceItem, Shot, ShotKind
from ..targets import refuse_existing
from .naming import safe_name
from .notices import NOTICE_NAME, beside, notices_of, write_notices
from .segment import Segment, play_segments

FREEZE = Fraction(2)        # seconds for which the film stands still at a drawing that belongs to one moment


class Form(StrEnum):
    """What a sequence is written as."""

    FILM = "one film"
    FILES = "untouched copies, play by play"
    PACK = "a dispute pack with originals"
    LISTS = "edit lists and captions for other tools"


@dataclass(frozen=True)
class SequenceRequest:
    """Plays with their handles, and how to hand them on. ``statement`` says why, for the pack's cover page."""

    game: Game
    steps: Sequence[Step]
    title: str
    items: Sequence[SequenceItem]
    form: Form = Form.FILM
    captions: bool = True
    drawings: bool = True
    statement: str = ""
    freeze: bool = False        # let the film stand still at each drawing of one moment
    size: tuple[int, int] | None = None     # width and height in pixels; None: those of most of the film
    rate: Fraction | None = None            # pictures a second; None: that of most of the film
    quality: int = 18           # 0 lossless to 51, lower is better
    sound_track: int = 0        # of each source, counted from 0; the first is the one that players play
    origins: Mapping[int, Origin] | None = None     # by play, where the game is several joined
    every_player: bool = False  # copies that players without edit lists show exactly, their ends encoded again

    def target(self, folder: Path) -> Path:
        """A path in ``folder``, which is made if need be, at which nothing is yet. Raises OSError."""
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise OSError(f"the folder {folder} cannot be made ({error.strerror}). Choose another folder.") from error
        return unused(folder, safe_name(self.title) or "sequence", ".mp4" if self.form is Form.FILM else "")


@dataclass(frozen=True)
class Written:
    """Where a sequence lies, lines to read, how many of its plays were not filmed, and what could not be made."""

    path: Path
    notes: tuple[str, ...] = ()
    not_filmed: int = 0
    missing: tuple[str, ...] = ()


def write_sequence(request: SequenceRequest, to: Path, progress: Callable[[float], None] | None = None,
                   cancelled: Callable[[], bool] = lambda: False) -> Written:
    """Write the sequence at ``to``: a file for Form.FILM, one edit list or captions file for Form.LISTS if ``to``
    has the suffix of one, a folder or ``.zip`` for Form.PACK, else a folder.

    ``progress`` is told the share done and may raise Cancelled; nothing half-written stays then. Raises Cancelled,
    ValueError if no play was filmed or an edit list cannot hold the sequence, OSError, and what rendering and
    packing raise.
    """
    # Only here: what they bring in takes longer than a room may, and this runs in a worker.
    from .export import export_segments
    from .overlay import marks_of, spoken_freezes
    from .pack import Contents, make_pack
    from .rendering import Settings, render
    from .text_formats import FORMS

    game, form = request.game, request.form
    items = request.items
    if form is Form.FILES:      # a copy is of one angle
        items = [replace(item, beside=False, inset=False, sound=None) for item in items]
    segments = play_segments(game, request.steps, items, request.origins)
    left_out = len({item.play for item in request.items} - {segment.play for segment in segments})
    if not segments:
        raise ValueError("None of these plays was filmed, so there is nothing to write.")
    marks = marks_of(game, FREEZE if request.freeze else Fraction(0)) if request.drawings else None
    width, height = request.size or (None, None)
    settings = Settings(width, height, request.rate, request.quality, captions=request.captions,
                        sound_track=request.sound_track)
    notices, of_originals = notices_of(segments), (*_told_of_originals(segments), *not_shown(game, items, segments))
    if form is Form.FILM:
        notices = (*render(segments, to, settings, marks, progress, cancelled).notes, *notices)
        write_notices(notices_of(segments), beside(to))
        stands = spoken_freezes(marks, [part for segment in segments for part in segment.parts])
        notices = (*of_originals, *notices, *((stands,) if stands else ()))
    elif form is Form.FILES:
        done = export_segments(segments, to, progress=progress, cancelled=cancelled, every_player=request.every_player)
        if done.cancelled:
            raise Cancelled
        failures = tuple(f"{failure.label} was not written: {failure.why}" for failure in done.failures)
        if failures and not done.files:
            raise OSError(" ".join(failures))
        return Written(to, (*of_originals, *done.notes), left_out, failures)
    elif form is Form.PACK:
        contents = Contents(request.title, segments, stills_of(game, segments), request.statement, settings, marks)
        packed = make_pack(game, contents, to, progress and (lambda share, _: progress(share)), cancelled)
        return Written(to, (*_keep_digest_apart(to, request.title), *of_originals, *packed.notes, *notices), left_out,
                       packed.missing)
    elif to.suffix.lower() in FORMS:
        _write_text(to, FORMS[to.suffix.lower()](request.title, segments))
        write_notices(notices, beside(to))
        notices = (*_told_of_rates(to.suffix.lower(), segments), *not_shown(game, items, segments), *notices)
    else:
        left_out_forms = _write_lists(request.title, segments, to)
        write_notices(notices, to / NOTICE_NAME)
        notices = (*left_out_forms, *_told_of_rates(".edl", segments), *not_shown(game, items, segments), *notices)
    return Written(to, notices, left_out)


def not_shown(game: Game, items: Sequence[SequenceItem], segments: Sequence[Segment]) -> tuple[str, ...]:
    """Which angles that were asked for do not show which plays, a line each, without plays that nobody filmed."""
    places = {tag.id: place for place, tag in enumerate(game.plays, 1)}
    shown: dict[int, set[int]] = {}
    for segment in segments:
        shown.setdefault(segment.play or 0, set()).update((segment.angle, *(each.angle for each in segment.beside)))
    lacking: dict[int, list[int]] = {}
    for item in items:
        for number in item.angles:
            if item.play in shown and number not in shown[item.play] and item.play in places:
                lacking.setdefault(number, []).append(places[item.play])
    silent = [places[item.play] for item in items for segment in segments
              if item.sound is not None and segment.play == item.play and segment.heard is None
              and item.sound != segment.angle and item.play in places]
    told = [f"{angle_of(game, number).name} does not show {spoken_plays(plays)}: not filmed, or nothing ties it there."
            for number, plays in lacking.items()]
    if silent:
        keep = "keeps" if len(set(silent)) == 1 else "keep"
        told.append(f"{spoken_plays(silent).capitalize()} {keep} the sound of the picture: the angle asked for has "
                    "none in step.")
    return tuple(told)


def _told_of_originals(segments: Sequence[Segment]) -> tuple[str, ...]:
    """What to know where a film plays from lighter copies."""
    from ..film.film import Film
    from ..film.playing_copy import lightened

    sources = {part.source.id: part.source for segment in segments for part in segment.used}
    return (("Made from the original footage, not from the lighter copy that plays.",)
            if lightened(Film(tuple(sources.values()))) else ())


def _keep_digest_apart(pack: Path, title: str) -> tuple[str, str]:
    """Write a slip beside the pack with the digest that vouches for it; returns what to say of it."""
    from .verifying import manifest_digest

    digest = manifest_digest(pack)
    slip = unused(pack.parent, f"{pack.name} slip", ".txt")
    _write_text(slip, f"{title}\nPack: {pack.name}\nSHA-256 of its manifest: {digest}\n\n"
                      "Keep this slip apart from the pack, on paper or with somebody else. Who has both can see later "
                      "whether\nthe pack is the one that was handed on:\n\n"
                      f'    python -m workstation verify "{pack.name}" --manifest-sha256 {digest}\n')
    return (f"SHA-256 of the pack's manifest: {digest}",
            f"Keep it apart from the pack; it is also on {slip.name}, to print or to send another way.")


def _told_of_rates(suffix: str, segments: Sequence[Segment]) -> tuple[str, ...]:
    """What to know of an edit list over footage of several rates; captions count seconds."""
    from .edit_list import mixed_rates

    return mixed_rates(segments) if suffix in (".edl", ".otio") else ()


def _write_text(to: Path, text: str) -> None:
    with written_whole(to) as temporary:
        temporary.write_text(text, encoding="utf-8")


def _write_lists(title: str, segments: Sequence[Segment], folder: Path) -> list[str]:
    """Write every form into a new folder; returns what a form could not hold."""
    from .text_formats import FORMS
    refuse_existing(folder, overwrite=False)
    left_out = []
    work = part_beside(folder)
    work.mkdir()
    try:
        for suffix, made in FORMS.items():
            try:
                _write_text(work / f"{folder.name}{suffix}", made(title, segments))
            except ValueError as error:
                left_out.append(str(error))
        os.replace(work, folder)
    finally:
        shutil.rmtree(work, ignore_errors=True)
    return left_out


def stills_of(game: Game, segments: Sequence[Segment]) -> tuple[tuple[Instant, str], ...]:
    """The stills of a pack: the snap and the dead ball of every play in it, where they are marked and not trimmed away;
    the result of a measurement in or after the play; and the picture on which a drawing begins."""
    views = [(segment, angle, parts) for segment in segments for angle, parts in (
        (segment.angle, segment.parts), *((each.angle, each.parts) for each in segment.beside))]
    layouts = {number: layout_of(seen_from(game, number)) for number in {angle for _, angle, _ in views}}
    drawings = [drawing for recording in game.recordings for drawing in recording.drawings]
    stills: list[tuple[Instant, str]] = []
    for segment, angle, parts in views:
        layout = layouts[angle]
        play = layout.plays.get(segment.play) if segment.play is not None else None
        for mark in (play.snap, play.dead_ball) if play else ():
            if mark and any(part.source.id == mark.at.source and part.start <= mark.at.pts < part.end
                            for part in parts):
                stills.append((mark.at, f"{segment.label}: {mark.kind}. {segment.caption}"))
        if segment.play is not None:
            stills += [(at, f"{segment.label}: measurement. {segment.caption}")
                       for at in measurements_of(layout, segment.play)]
        stills += [(drawing.at, f"{segment.label}: drawn on. {segment.caption}") for drawing in drawings
                   if any(part.source.id == drawing.at.source and part.start <= drawing.at.pts < part.end
                          for part in parts)]
    return tuple({at: (at, line) for at, line in reversed(stills)}[at] for at in dict.fromkeys(at for at, _ in stills))


def measurements_of(layout: FilmLayout, play: int) -> list[Instant]:
    """One picture of every measurement filmed from a play's shot up to the next play's: its result where that is
    marked, else the first stick planted, else the middle of the shot."""
    filmed = layout.plays.get(play)
    if filmed is None:
        return []
    after = min((other.start for id, other in layout.plays.items() if other.start >= filmed.end and id != play
                 and not _measures(other.shot)), default=float("inf"))
    found = []
    for shot in layout.shots.values():
        if not (filmed.start <= shot.start < after):
            continue
        marks = [seen for kind in (MomentKind.RESULT_SHOWN, MomentKind.CHAINS_SET) if (seen := shot.first(kind))]
        if marks:
            found.append(marks[0].at)
        elif _measures(shot.shot):
            found.append(frame_start(layout.game.film, (shot.start + shot.end) / 2))
    return found


def _measures(shot: Shot) -> bool:
    return ShotKind.MEASUREMENT in (shot.kind, shot.opens_on)

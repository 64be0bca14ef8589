"""Writing a sequence to disk, away from the UI thread."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from pathlib import Path

from ...cancelling import Cancelled
from ...delivery.naming import safe_name, unused
from ...delivery.segment import Segment
from ...film.time import Instant
from ...tagging.model import Game, MomentKind


class Form(StrEnum):
    """What an export writes."""

    FILM = "one film"
    FILES = "untouched copies, play by play"
    PACK = "a dispute pack with originals"
    LISTS = "edit lists and captions for other tools"


@dataclass(frozen=True)
class Wish:
    """What is asked for. ``to`` is the folder in which the export is put; nothing in it is overwritten."""

    game: Game
    name: str
    segments: tuple[Segment, ...]
    to: Path
    form: Form = Form.FILM
    captions: bool = True
    drawings: bool = True
    statement: str = ""


@dataclass(frozen=True)
class Written:
    """What came of it: where it lies, and lines a person should read."""

    path: Path
    notes: tuple[str, ...] = ()


def target(wish: Wish) -> Path:
    """A path that does not exist yet for what the wish writes."""
    stem = safe_name(wish.name) or "sequence"
    return unused(wish.to, stem, ".mp4" if wish.form is Form.FILM else "")


def export(wish: Wish, progress: Callable[[float, float], None]) -> Written:
    """Write it. ``progress(done, of)`` may raise :class:`Cancelled`; then nothing half-written stays.
    Raises OSError and what delivery raises, in words for a person."""
    # only here, in the job: what they bring in takes longer than a room may
    from ...delivery.export import export_segments
    from ...delivery.overlay import Marks
    from ...delivery.pack import Contents, make_pack
    from ...delivery.rendering import Settings, render
    if not wish.segments:
        raise ValueError("None of the plays in this sequence was filmed, so there is nothing to write.")
    stopped: list[bool] = []

    def tell(share: float) -> None:
        try:
            progress(share, 1.0)
        except Cancelled:
            stopped.append(True)

    def is_stopped() -> bool:
        tell(last[0])
        return bool(stopped)

    last = [0.0]

    def share(value: float, *_: object) -> None:
        last[0] = value
        tell(value)

    try:
        wish.to.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OSError(f"the folder {wish.to} cannot be made ({error.strerror}). Choose another folder.") from error
    path = target(wish)
    marks = Marks(wish.game.film, wish.game.drawings, Fraction(2)) if wish.drawings and wish.game.drawings else None
    notices = tuple(dict.fromkeys(segment.notice for segment in wish.segments if segment.notice))
    if wish.form is Form.FILM:
        render(list(wish.segments), path, Settings(captions=wish.captions), marks, share, is_stopped)
        return Written(path, notices)
    if wish.form is Form.FILES:
        done = export_segments(wish.segments, path, progress=lambda told: share(told.share), cancelled=is_stopped)
        if done.cancelled:
            raise Cancelled
        failures = tuple(f"{failure.label} was not written: {failure.why}" for failure in done.failures)
        if failures and not done.files:
            raise OSError(" ".join(failures))
        return Written(path, (*failures, *done.notes))
    if wish.form is Form.LISTS:
        return Written(path, (*_write_lists(wish, path), *notices))
    contents = Contents(wish.name, wish.segments, stills_of(wish.game, wish.segments), wish.statement,
                        Settings(captions=wish.captions), marks)
    make_pack(wish.game, contents, path, share, is_stopped)
    return Written(path, notices)


def _write_lists(wish: Wish, folder: Path) -> list[str]:
    """Write every form into *folder*; returns what a form could not hold."""
    from ...delivery.text_formats import FORMS
    folder.mkdir()
    left_out = []
    for suffix, made in FORMS.items():
        try:
            text = made(wish.name, wish.segments)
        except ValueError as error:
            left_out.append(str(error))
            continue
        (folder / f"{folder.name}{suffix}").write_text(text, encoding="utf-8")
    return left_out


def stills_of(game: Game, segments: tuple[Segment, ...]) -> tuple[tuple[Instant, str], ...]:
    """The stills of a pack: the snap and the dead ball of every play in it, where they are marked."""
    stills = []
    for segment in segments:
        for moment in game.moments:
            inside = any(part.source.id == moment.at.source and part.start <= moment.at.pts < part.end
                         for part in segment.parts)
            if inside and moment.kind in (MomentKind.SNAP, MomentKind.DEAD_BALL):
                stills.append((moment.at, f"{segment.label}: {moment.kind}. {segment.caption}"))
    return tuple(stills)

"""Shots and moments where the film stands: what one key marks, cuts, joins, calls and goes to."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import partial

from PySide6.QtCore import QObject, Signal

from ...film.time import Instant, spoken_time
from ...tagging.layout import layout_of
from ...tagging.model import Moment, MomentKind, Shot, ShotKind
from ...tagging.new_play import filming_in_order
from ...tagging.operations import (
    AddRecord,
    AddShots,
    ChangeShots,
    ConfirmMoments,
    ConfirmShots,
    MergeShots,
    MoveMoment,
    RemoveRecord,
    RemoveShots,
    SplitShot,
)
from ...tagging.records import Kind
from ..actions import MARKS, SHOT_KINDS, moment_action, shot_action
from ..session_holder import SessionHolder

_SAME = Fraction(3, 2)      # marking the same kind again within so many seconds moves the mark


class Filming(SessionHolder, QObject):
    """Acts on the shot and the moments at the position of the open game."""

    cut = Signal()              # the film may stand in another shot now
    called = Signal(object)     # a shot, as it is called now
    marked = Signal(object)     # the kind of the moment that was marked

    def actions(self) -> dict[str, Callable[[], object]]:
        """What is done here at keys, by the ids of :mod:`~workstation.desk.actions`."""
        return {"tag.remove_moment": self.remove_moment, "tag.confirm_moments": self.confirm_moments,
                "tag.new_shot": self.begin, "tag.split_shot": self.split, "tag.merge_shots": self.merge,
                "tag.remove_shot": self.remove, "tag.files_as_shots": self.take_files,
                "tag.confirm_shots": self.confirm,
                **{moment_action(kind): partial(self.mark, kind) for kind in MARKS},
                **{shot_action(kind): partial(self.call, kind) for kind in SHOT_KINDS}}

    @property
    def shot(self) -> Shot | None:
        """The shot that the film stands in."""
        return self.session.shot_at(self.session.position)

    # -- moments ------------------------------------------------------------------------------
    def mark(self, kind: MomentKind) -> None:
        """Mark a moment at the picture on show; the same kind again at once moves the mark, and on the mark itself says
        that it is right."""
        session = self.session
        at = session.position_to_mark()
        if at is None:
            return
        near = self._nearest(at, kind)
        if near is not None and abs(session.film.time_of(near.at) - session.film.time_of(at)) <= _SAME:
            if near.at != at:
                done = session.do(MoveMoment(near.id, at))
            else:
                done = not near.uncertainty or session.do(ConfirmMoments((near.id,)))
        else:
            done = session.do(AddRecord(Moment(0, kind, at)))
        if done is not None:
            self.marked.emit(kind)

    def _nearest(self, at: Instant, kind: MomentKind | None = None) -> Moment | None:
        time_of = self.session.film.time_of
        moments = [moment for moment in self.session.game.moments if kind is None or moment.kind is kind]
        return min(moments, key=lambda moment: abs(time_of(moment.at) - time_of(at)), default=None)

    def remove_moment(self) -> None:
        """Remove the moment nearest to the playhead."""
        session = self.session
        if session.position is None:
            return
        near = self._nearest(session.position)
        if near is not None and session.do(RemoveRecord(Kind.MOMENT, near.id)) is not None:
            at = spoken_time(float(session.film.time_of(near.at)), True)
            session.notice.emit(f"Removed: {near.kind.value} at {at}")

    def confirm_moments(self) -> None:
        """The moments of this shot that were taken from suggestions are right where they are."""
        session, shot = self.session, self.shot
        if shot is None:
            session.notice.emit("The film stands in no shot here; go to the one whose moments are right")
            return
        filmed = layout_of(session.game).shots[shot.id]
        unseen = tuple(seen.moment.id for seen in filmed.moments if seen.moment.uncertainty)
        if not unseen:
            session.notice.emit("Every moment of this shot was marked or looked at by a person")
        elif session.do(ConfirmMoments(unseen)) is not None:
            names = ", ".join(seen.kind.value for seen in filmed.moments if seen.moment.id in unseen)
            session.notice.emit(f"Looked at and right: {names}")

    # -- shots --------------------------------------------------------------------------------
    def call(self, kind: ShotKind) -> None:
        """Say what the shot is; a play may also open on its down marker."""
        shot = self.shot
        if shot is None:
            return
        if shot.kind is ShotKind.PLAY and kind is ShotKind.DOWN_MARKER:
            changed = replace(shot, opens_on=None if shot.opens_on is kind else kind, confirmed=True)
        else:
            opens_on = None if shot.opens_on is kind else shot.opens_on
            changed = replace(shot, kind=kind, opens_on=opens_on, confirmed=True)
        if self.session.do(ChangeShots((changed,))) is not None:
            self.called.emit(changed)

    def begin(self) -> None:
        """A shot from this picture to the next shot, or to the end of its file; inside a shot, a cut."""
        session = self.session
        at, film = session.position_to_mark(), session.film
        if at is None:
            return
        if self.shot is not None:
            self.split()
            return
        end = film.source(at.source).end
        later = [shot.start for shot in session.game.shots
                 if shot.start.source == at.source and shot.start.pts > at.pts]
        if later:
            end = min(later, key=lambda instant: instant.pts)
        if session.do(AddShots((Shot(0, at, end),))) is not None:
            self.cut.emit()

    def split(self) -> None:
        """Split the shot at the playhead."""
        shot, at = self.shot, self.session.position_to_mark()
        if shot is not None and at is not None and self.session.do(SplitShot(shot.id, at)) is not None:
            self.cut.emit()

    def merge(self) -> None:
        """Join the shot with the next."""
        shot = self.shot
        if shot is None:
            return
        session, shots = self.session, self.session.game.shots
        place = shots.index(shot)
        if place + 1 == len(shots):
            session.notice.emit("This is the last shot; there is none to join it with.")
            return
        other = shots[place + 1]
        plays = [number for number, tag in enumerate(session.game.plays, 1) if tag.shot in (shot.id, other.id)]
        if session.do(MergeShots((shot.id, other.id))) is None:
            return
        files = {session.film.source(id).path.name for id in (shot.start.source, other.end.source)}
        across = f", across the files {' and '.join(sorted(files))}" if len(files) > 1 else ""
        films = f"; it films plays {' and '.join(map(str, plays))} now" if len(plays) > 1 else ""
        session.notice.emit(f"Shots {place + 1} and {place + 2} are one{across}{films}.")

    def remove(self) -> None:
        """Remove the shot at the playhead."""
        shot = self.shot
        if shot is not None:
            self.session.do(RemoveShots((shot.id,)))

    def take_files(self) -> None:
        """Cameras that cut between plays leave one file per shot: take every file without shots as one."""
        session = self.session
        taken = {shot.start.source for shot in session.game.shots} | {shot.end.source for shot in session.game.shots}
        new = tuple(Shot(0, source.first, source.end) for source in session.film.sources
                    if source.id not in taken and source.problem is None and source.duration_pts > 0)
        if new and session.do(AddShots(new)) is not None:
            session.notice.emit(f"{len(new)} files are shots now.{self.film_in_order()}")
            self.cut.emit()

    def film_in_order(self) -> str:
        """Let the new shots film the plays that were typed before there were any; says so."""
        operation = filming_in_order(self.session.game)
        if operation is None or self.session.do(operation) is None:
            return ""
        return " The plays typed before are filmed by them in order: look whether each stands at its own."

    def confirm(self) -> None:
        """All found shots are right."""
        if any(not shot.confirmed for shot in self.session.game.shots):
            self.session.do(ConfirmShots())

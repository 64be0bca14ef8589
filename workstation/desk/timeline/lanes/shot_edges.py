"""Trimming shots on the timeline: an edge is dragged, or set to the picture on show, and snaps to pictures."""

from __future__ import annotations

from dataclasses import replace

from ....film.time import Instant, spoken_time
from ....tagging.layout import FilmLayout, shot_of, snapped
from ....tagging.model import Shot
from ....tagging.operations import ChangeShots
from ..blocks import Blocks
from ..scale import Scale
from .lane import Timeline

_GRAB = 5           # pixels either side of an edge that take hold of it


class ShotEdges:
    """``trim`` is the shot that is being trimmed and its ends as they lie now (film time in seconds)."""

    def __init__(self, timeline: Timeline):
        self._timeline = timeline
        self._places: FilmLayout | None = None
        self.trim: tuple[int, float, float] | None = None

    def take(self, places: FilmLayout | None) -> None:
        """Take in the layout of the film, None without a game."""
        self._places = places

    def grip_at(self, shots: Blocks, time: float, scale: Scale) -> ShotEdge | None:
        """The edge at a film time; none while shots are too narrow to take hold of."""
        slack = _GRAB * scale.per_pixel
        seen = shots.visible(time - slack, time + slack)
        best: tuple[float, int, bool] | None = None
        for i in range(seen.start, seen.stop):
            if shots.end[i] - shots.start[i] < 4 * slack:
                continue
            for edge, is_start in ((float(shots.start[i]), True), (float(shots.end[i]), False)):
                # where one shot ends as the next begins, the pointer's side decides
                inside = time >= edge if is_start else time < edge
                cost = abs(edge - time) + (0 if inside else slack / 100)
                if abs(edge - time) <= slack and (best is None or cost < best[0]):
                    best = (cost, shots.ids[i], is_start)
        shot = shot_of(self._places.game, best[1]) if best is not None and self._places is not None else None
        return ShotEdge(self, self._places, shot, best[2]) if best is not None and self._places is not None and shot \
            is not None else None

    def set_here(self, is_start: bool) -> None:
        """The shot at the current picture starts at it, or ends behind it."""
        places = self._places
        here = self._timeline.session.position_to_mark() if self._timeline.has_session else None
        if places is None or here is None:
            return
        film = places.game.film
        inside = next((id for id, shot in places.shots.items() if shot.start <= self._timeline.time < shot.end),
                      self._timeline.chosen.get("shots"))
        found = shot_of(places.game, inside) if isinstance(inside, int) else None
        if found is None or found.start.source != here.source:
            self._timeline.session.notice.emit("No shot here to trim")
            return
        edge = snapped(film, here)
        if not is_start:
            frame = round(film.source(here.source).frame_ticks)
            edge = snapped(film, Instant(edge.source, edge.pts + frame), nearest=True)
        self.keep(found, *bounded(places, found, edge, is_start))

    def show(self, trim: tuple[int, float, float] | None) -> None:
        """Show a shot with other edges, or as it is for None."""
        self.trim = trim
        self._timeline.redraw()

    def keep(self, shot: Shot, start: Instant, end: Instant) -> None:
        """Store the edges of a shot if they have changed."""
        if (start, end) != (shot.start, shot.end):
            now = shot_of(self._timeline.session.game, shot.id)
            if now is not None:
                self._timeline.session.do(ChangeShots((replace(now, start=start, end=end),)))


class ShotEdge:
    """An edge that is being dragged."""

    def __init__(self, edges: ShotEdges, places: FilmLayout, shot: Shot, is_start: bool):
        self._edges, self._places, self._shot, self._is_start = edges, places, shot, is_start
        self._ends = shot.start, shot.end

    def drag(self, time: float) -> str:
        """Move the edge to this time, in seconds of film; return what to tell about it."""
        places, shot = self._places, self._shot
        source = places.game.film.source(shot.start.source)
        pts = source.start_pts + round((time - places.time(source.first)) / float(source.time_base))
        edge = snapped(places.game.film, Instant(source.id, pts), nearest=True)
        self._ends = bounded(places, shot, edge, self._is_start)
        start, end = (places.time(instant) for instant in self._ends)
        self._edges.show((shot.id, start, end))
        return (f"{'starts' if self._is_start else 'ends'} at {spoken_time(start if self._is_start else end, True)}, "
                f"{end - start:.2f} s long")

    def release(self) -> None:
        """Store the edge where it is."""
        self._edges.show(None)
        self._edges.keep(self._shot, *self._ends)

    def cancel(self) -> None:
        """Put the edge back."""
        self._edges.show(None)


def bounded(places: FilmLayout, shot: Shot, edge: Instant, is_start: bool) -> tuple[Instant, Instant]:
    """The shot with one edge moved, kept inside its source, off its neighbours and at least a picture long."""
    source = places.game.film.source(shot.start.source)
    frame = max(round(source.frame_ticks), 1)
    low, high = source.start_pts, source.start_pts + source.duration_pts
    for other in places.game.shots:
        if other.id == shot.id or other.start.source != source.id:
            continue
        if other.end.source == source.id and other.end.pts <= shot.start.pts:
            low = max(low, other.end.pts)
        elif other.start.pts >= shot.end.pts:
            high = min(high, other.start.pts)
    if is_start:
        return Instant(source.id, min(max(edge.pts, low), shot.end.pts - frame)), shot.end
    return shot.start, Instant(source.id, max(min(edge.pts, high), shot.start.pts + frame))

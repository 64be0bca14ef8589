"""Watch a film from its first shot to its last and note what a viewer believes before every snap."""

from __future__ import annotations

from ..football.plays import IN_PLAY, PlayKind
from ..football.situation import Next, Situation
from ..football.step import Step
from ..tagging.model import Framing, MomentKind, ShotKind, Shows
from .continuity import jump
from .finding import Belief, Cause
from .footage import Footage, Snap, Take
from .viewer import Assumptions, Viewer

_USUAL = 12.0
"""Seconds of waiting at an end of a play's shot that make nobody forget the down (common practice, no source)."""
_RULINGS = (ShotKind.PENALTY_SIGNAL, ShotKind.MEASUREMENT)


def watch(footage: Footage, assume: Assumptions, last_down: int = 4) -> list[Belief]:
    """Return a belief for every filmed snap, in game order."""
    return _Watching(footage, assume, last_down).watch()


class _Watching:
    def __init__(self, footage: Footage, assume: Assumptions, last_down: int):
        self.footage, self.assume = footage, assume
        self.actual = Viewer(assume, last_down - 1)
        self.served = self.actual          # the same viewer until a marker that belonged is missing
        self.score = self.clock = 1.0      # the score and the clock at the start are known

    def watch(self) -> list[Belief]:
        beliefs, previous = [], None
        for snap in self.footage.filmed:
            beliefs.append(self._before(snap, previous))
            previous = snap
        return beliefs

    def _before(self, snap: Snap, previous: Snap | None) -> Belief:
        assume, before = self.assume, snap.step.before
        self._events(snap, previous)
        reliability = self._help(snap, previous)
        unaided = self.actual
        walking_up = unaided.sure(before)
        if reliability:
            unaided = self.actual.copy()
            unaided.line_up(snap.step)
            self.actual.told(before, reliability)
            self.served = self.actual
        for viewer in self._viewers():
            viewer.line_up(snap.step)
        self._read_board(snap)
        scrimmage = before.next is Next.SCRIMMAGE and before.down is not None
        served = self.served.sure(before)
        shaken = max(self.served.shaken, default=(0, None, -1))
        belief = Belief(
            play=snap.tag.id, at=snap.at, time=snap.time, period=before.period,
            down=before.down if scrimmage else None,
            probabilities=tuple(self.actual.downs) if scrimmage else (),
            sure=self.actual.sure(before), unaided=unaided.sure(before), walking_up=walking_up, served=served,
            helped=reliability > 0,
            yards_to_gain=self.actual.distances[min(before.down or 1, 4) - 1] if scrimmage else None,
            knows_score=self.score, knows_clock=self.clock, known=snap.between.known,
            cause=shaken[1] if scrimmage and served < assume.sure_from else None)
        if scrimmage and served < assume.unsure_below:
            if self.served is self.actual:
                self.served = self.actual.copy()
            self.served.told(before, assume.marker_read)
        return belief

    def _viewers(self) -> tuple[Viewer, ...]:
        return (self.actual,) if self.served is self.actual else (self.actual, self.served)

    # -- what happened since the filmed play before ---------------------------------------------------------------

    def _events(self, snap: Snap, previous: Snap | None) -> None:
        positions = range(previous.position if previous else 0, snap.position)
        for position in positions:
            self._event(position, previous, snap)
        if positions:
            share, cause, at = self._break(positions, snap, previous)
            for viewer in self._viewers():
                viewer.forget(snap.step.before, share, cause, at)

    def _event(self, position: int, previous: Snap | None, snap: Snap) -> None:
        step, following = self.footage.steps[position], self.footage.steps[position + 1]
        gap = jump(step, following, self.assume.spot_tolerance)
        leads_to = step.after if gap else following.before
        seen = previous is not None and position == previous.position
        for viewer in self._viewers():
            self._take_in(viewer, step, leads_to, position, seen, previous, snap)
            if gap:
                viewer.gap(step.after, following.before, position)
            if leads_to.extra_turn and _turn(leads_to) != _turn(step.before):
                viewer.extra_series(leads_to)
        if step.play.kind in IN_PLAY:
            scored = bool(step.points_home or step.points_visitors) or step.before.next is Next.TRY
            if scored:
                self.score *= self.assume.score_seen if seen else self.assume.score_unseen
            self.score *= self.assume.score_fades
            self.clock *= self.assume.clock_fades
        if gap and gap.score:
            self.score *= self.assume.score_unseen

    def _take_in(self, viewer: Viewer, step: Step, following: Situation, position: int, seen: bool,
                 previous: Snap | None, snap: Snap) -> None:
        kind = step.play.kind
        if kind in IN_PLAY or (kind is PlayKind.NO_PLAY and step.play.fouls):
            filmed = seen or kind is PlayKind.NO_PLAY
            viewer.play(step, following, seen=filmed,
                        close=previous is not None and seen and _end_unseen(previous.take),
                        ruling_seen=bool(step.play.fouls) and _signal_seen(snap, previous), at=position)
        elif kind is PlayKind.MEASUREMENT:
            viewer.measurement(step.before, following, _result_seen(snap, previous), position)
        elif kind is PlayKind.INADVERTENT_WHISTLE and self._is_filmed_play(position):
            viewer.blown_dead(step, following, _signal_seen(snap, previous), position)
        elif kind in (PlayKind.REPLAY_REVERSAL, PlayKind.INADVERTENT_WHISTLE):
            viewer.ruling(step.before, following, _signal_seen(snap, previous), position)

    def _is_filmed_play(self, position: int) -> bool:
        """Whether the event's shot is a play's, where the ball was snapped and blown dead by mistake."""
        shot = self.footage.game.plays[position].shot
        return shot is not None and self.footage.layout.shots[shot].shot.kind is ShotKind.PLAY

    def _break(self, positions: range, snap: Snap, previous: Snap | None) -> tuple[float, Cause, int]:
        """The longest interruption since the play before: how much is forgotten, why, and with which play.

        Only seconds on film count: what is cut from the film interrupts nothing for a viewer."""
        assume, steps = self.assume, self.footage.steps
        found = [(0.0, Cause.FADING, -1)]
        for position in positions:
            if steps[position].play.kind is PlayKind.END_OF_PERIOD:
                found.append((assume.period_forgets, Cause.BREAK, position))
        if steps[positions[0]].before.period != snap.step.before.period:
            found.append((assume.period_forgets, Cause.BREAK, positions[0]))
        away = _away(snap, previous) - assume.short_break
        if away > 0:
            share = min(1.0, away / max(assume.long_break - assume.short_break, 1e-3)) * assume.stoppage_forgets
            found.append((share, Cause.STOPPAGE, positions[0]))
        return max(found, key=lambda each: each[0])

    # -- what clears it up -------------------------------------------------------------------------------------------

    def _help(self, snap: Snap, previous: Snap | None) -> float:
        """How reliably the film told the down since the play before; 0 if it did not."""
        assume, between = self.assume, snap.between
        if not between.known:
            return assume.marker_read
        told = assume.marker_read if readable_down(snap.take, assume) and not snap.follows else 0.0
        ruled = False
        for take in reversed(between.takes):
            if (any(take.holds(kind) for kind in _RULINGS) or self._blown_dead(take)) and not take.shows_down:
                told, ruled = max(told, _heard(take) * assume.announcement_heard), True
                break               # a marker filmed before the ruling shows what no longer holds
            if readable_down(take, assume):
                told = max(told, assume.board_read if take.holds(ShotKind.SCOREBOARD) else assume.marker_read)
            told = max(told, _heard(take) * assume.announcement_heard)
        if previous and not ruled and not previous.tag.play.fouls and Shows.DOWN in previous.take.shot.shows:
            told = max(told, assume.marker_read)    # in passing, as the play's shot ends
        if previous and not told:
            over = previous.dead_ball or previous.snap
            until = snap.snap.time if snap.follows and snap.snap else previous.take.end
            told = assume.announcement_heard * _heard(previous.take, over.time if over else previous.take.start, until)
        if not told and not snap.follows:
            told = assume.announcement_heard * _heard(snap.take, until=snap.time if snap.snap else -1.0)
        return told

    def _blown_dead(self, take: Take) -> bool:
        return any(self.footage.steps[position].play.kind is PlayKind.INADVERTENT_WHISTLE for position in take.tags)

    def _read_board(self, snap: Snap) -> None:
        for take in (*snap.between.takes, snap.take):
            if take.shows_score and readable_board(take, self.assume):
                self.score = self.assume.board_read
            if take.shows_clock and readable_board(take, self.assume):
                self.clock = self.assume.board_read
        if not snap.between.known:
            self.score = max(self.score, self.assume.board_read)
            self.clock = max(self.clock, self.assume.board_read)


def readable_down(take: Take, assume: Assumptions) -> bool:
    """Whether the shot shows the down for long enough to be read. In a play's shot the marker is there until the
    picture is wide. A shot that a person marked as showing the down always counts."""
    if Shows.DOWN in take.shot.shows:
        return True
    if take.shot.kind is ShotKind.DOWN_MARKER:
        return take.seconds >= assume.marker_least
    if take.shot.opens_on is ShotKind.DOWN_MARKER:
        wide = take.first(MomentKind.FULL_WIDE)
        return wide is None or wide.time - take.start >= assume.marker_least
    return take.shows_down


def readable_board(take: Take, assume: Assumptions) -> bool:
    """Whether a shot of the board is long enough to read it; True for other shots."""
    return take.shot.kind is not ShotKind.SCOREBOARD or take.seconds >= assume.board_least


def _end_unseen(take: Take) -> bool:
    """Whether the gain cannot be judged by the lines of the field, as the picture is close or stops too soon."""
    return take.shot.framing is Framing.CLOSE or take.first(MomentKind.CUT_WHILE_LIVE) is not None


def _turn(situation: Situation) -> tuple[int, int]:
    return situation.period, situation.extra_turn


def _away(snap: Snap, previous: Snap | None) -> float:
    """Seconds on film between two plays with nothing of either, a marker, a board and the usual waits left out."""
    seconds = sum(take.seconds for take in snap.between.takes if not take.shows_down and not take.shows_score)
    if previous is not None and previous.dead_ball:
        seconds += max(0.0, (snap.time if snap.follows else previous.take.end) - previous.dead_ball.time - _USUAL)
    if snap.snap and not snap.follows:
        seconds += max(0.0, snap.snap.time - snap.take.start - _USUAL)
    return seconds


def _heard(take: Take, after: float = -1.0, until: float = float("inf")) -> bool:
    return any(seen.kind is MomentKind.ANNOUNCEMENT and after <= seen.time <= until for seen in take.moments)


def _signal_seen(snap: Snap, previous: Snap | None) -> bool:
    if any(take.holds(ShotKind.PENALTY_SIGNAL) or take.first(MomentKind.SIGNAL) for take in snap.between.takes):
        return True
    if previous is None:
        return False
    over = previous.dead_ball or previous.snap
    signal = previous.take.first(MomentKind.SIGNAL, over.time if over else previous.take.start)
    return signal is not None and (not snap.follows or snap.snap is None or signal.time < snap.snap.time)


def _result_seen(snap: Snap, previous: Snap | None) -> bool:
    for take in snap.between.of(ShotKind.MEASUREMENT):
        if take.first(MomentKind.RESULT_SHOWN) or not take.moments:
            return True
    return previous is not None and previous.take.first(MomentKind.RESULT_SHOWN) is not None

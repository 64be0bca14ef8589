"""What a session works out again after a change is what it would work out afresh."""

from __future__ import annotations

from dataclasses import replace

import pytest

from workstation.desk import session as session_module
from workstation.desk.session import Session
from workstation.football.plays import Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.tagging.opening import load
from workstation.tagging.operations import AddPlay, ChangePlay, MovePlay, RemovePlay, SetHeading


@pytest.fixture
def session(small_game):
    session = Session(*load(small_game))
    yield session
    session.close()


def afresh(session: Session) -> tuple:
    heading = session.game.heading
    return tuple(track(load_rulebook(heading.rulebook, heading.season), [tag.play for tag in session.game.plays]))


def test_after_any_change_the_steps_are_those_of_the_whole_game(qapp, session):
    first, second, *_, last = (tag.id for tag in session.game.plays)
    for operation in (ChangePlay(second, Play(PlayKind.RUN, gain=40)),
                      AddPlay(Play(PlayKind.TIMEOUT), after=second),
                      MovePlay(last, first),
                      RemovePlay(first),
                      SetHeading(replace(session.game.heading, rulebook="ncaa", season=None)),
                      AddPlay(Play(PlayKind.RUN, gain=1), after=last)):
        assert session.do(operation) is not None
        assert session.steps == afresh(session), operation
    while session.undo() is not None:
        assert session.steps == afresh(session)
    while session.redo() is not None:
        assert session.steps == afresh(session)


def test_plays_before_the_changed_one_are_not_worked_out_again(qapp, session, monkeypatch):
    worked = []

    def watched(rulebook, plays, last=None):
        worked.append(len(plays))
        return track(rulebook, plays, last)

    monkeypatch.setattr(session_module, "track", watched)
    plays = session.game.plays
    session.do(ChangePlay(plays[-2].id, Play(PlayKind.RUN, gain=3)))
    session.do(ChangePlay(plays[0].id, replace(plays[0].play, clock=719)))
    assert worked == [2, len(plays)]

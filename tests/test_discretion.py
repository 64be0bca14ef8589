"""Whatever marks an altercation or an injured player is known as such, and found by those words.

Common practice, no source: what is shown between two marks is shown in every picture between them.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from workstation.delivery.export import NOTICE_NAME, export_segments
from workstation.delivery.naming import SHOT_PATTERN
from workstation.delivery.segment import NOTICES, play_segments, shot_segments
from workstation.delivery.sequence import Form, SequenceRequest, write_sequence
from workstation.football.plays import Foul, Side
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.season.finder import FactBook, find
from workstation.tagging.discretion import sensitive_spans, shown_between
from workstation.tagging.gamefile import GameFile
from workstation.tagging.layout import FilmLayout
from workstation.tagging.model import Moment, MomentKind, SequenceItem, ShotKind


@pytest.fixture(scope="module")
def plain(tmp_path_factory):
    """The small game without its altercation shot."""
    from tests.desk.small_game import make_film, make_game
    with GameFile.open(make_game(tmp_path_factory.mktemp("game"), make_film(tmp_path_factory.mktemp("film"))),
                       read_only=True) as file:
        game = file.game
    return replace(game, shots=tuple(shot for shot in game.shots if shot.kind is ShotKind.PLAY))


def at(game, seconds):
    return game.film.instant_at(seconds)


def with_moments(game, *moments):
    """The game with moments of kinds at film seconds."""
    made = tuple(Moment(900 + n, kind, at(game, seconds)) for n, (kind, seconds) in enumerate(moments))
    return replace(game, moments=tuple(sorted((*game.moments, *made), key=lambda each: game.film.time_of(each.at))))


def steps_of(game):
    return track(load_rulebook(game.heading.rulebook), [tag.play for tag in game.plays])


def test_nothing_marked_is_nothing_shown(plain):
    assert sensitive_spans(FilmLayout(plain)) == []


def test_a_confrontation_runs_from_its_mark_to_its_end(plain):
    game = with_moments(plain, (MomentKind.CONFRONTATION, 26), (MomentKind.CONFRONTATION_OVER, 27.5))
    (span,) = sensitive_spans(FilmLayout(game))
    assert span == (26, 27.5, ShotKind.ALTERCATION)
    for start, end, shown in ((20, 26, False), (20, 26.1, True), (27, 28, True), (27.5, 28, False)):
        assert bool(shown_between([span], start, end)) is shown


def test_a_confrontation_without_an_end_and_care_run_to_the_end_of_the_shot(plain):
    game = with_moments(plain, (MomentKind.CONFRONTATION, 26), (MomentKind.CARE, 35))
    assert sensitive_spans(FilmLayout(game)) == [(26, 28, ShotKind.ALTERCATION), (35, 37, ShotKind.INJURY)]


@pytest.mark.parametrize(("mark", "word", "kind"), [(MomentKind.CONFRONTATION, "altercation", ShotKind.ALTERCATION),
                                                    (MomentKind.CARE, "injury", ShotKind.INJURY)])
def test_a_mark_alone_is_found_and_gives_the_notice(plain, mark, word, kind):
    game = with_moments(plain, (mark, 26))          # in the shot of the third play, 20 to 28 s
    facts = FactBook().of(game, steps_of(game))
    assert find(facts, words=word) == [3]
    assert any(each.words == f"with an {word}" for fact in facts if fact.play == 3 for each in fact.filters)
    notices = {segment.play: segment.notice for segment in play_segments(game, steps_of(game))}
    assert notices[3] == NOTICES[kind] and not any(notice for play, notice in notices.items() if play != 3)
    assert [segment.notice for segment in shot_segments(game)].count(NOTICES[kind]) == 1


def test_a_handle_that_reaches_an_altercation_brings_its_notice(plain):
    game = with_moments(plain, (MomentKind.CONFRONTATION, 26))
    reaching, short = (play_segments(game, steps_of(game), [SequenceItem(4, lead)])[0] for lead in (2.0, 0.0))
    assert reaching.notice == NOTICES[ShotKind.ALTERCATION] and short.notice == ""


def test_a_foul_for_fighting_marks_an_altercation(plain):
    plays = list(plain.plays)
    plays[1] = replace(plays[1], play=replace(plays[1].play, fouls=(Foul("fighting", Side.OFFENSE),)))
    game = replace(plain, plays=tuple(plays))
    assert find(FactBook().of(game, steps_of(game)), words="altercation") == [2]
    assert [segment.play for segment in play_segments(game, steps_of(game)) if segment.notice] == [2]


def test_penalties_are_found_as_flags_and_as_penalties(plain):
    facts = FactBook().of(plain, steps_of(plain))
    fouled = [tag.id for tag in plain.plays if tag.play.fouls]
    assert fouled and find(facts, words="flag") == fouled and set(fouled) <= set(find(facts, words="penalty"))


@pytest.mark.parametrize("form", list(Form))
def test_the_notice_lies_beside_what_is_written(plain, form, tmp_path):
    game = with_moments(plain, (MomentKind.CARE, 26))
    request = SequenceRequest(game, steps_of(game), "One", (SequenceItem(3, -2.0, -1.0),), form, captions=False)
    written = write_sequence(request, request.target(tmp_path))
    (notice,) = tmp_path.rglob(f"*{NOTICE_NAME}")
    assert NOTICES[ShotKind.INJURY] in notice.read_text(encoding="utf-8")
    assert NOTICES[ShotKind.INJURY] in written.notes


def test_shots_written_one_by_one_have_their_notice_beside_them(plain, tmp_path):
    game = with_moments(plain, (MomentKind.CARE, 26))
    export_segments(shot_segments(game)[2:3], tmp_path, pattern=SHOT_PATTERN)
    assert NOTICES[ShotKind.INJURY] in (tmp_path / NOTICE_NAME).read_text(encoding="utf-8")

"""A sequence over games whose cameras differ: each play from the angle that was asked for where its game has it, from
the game's first one otherwise, and the caption says which.

Expectations follow from which game was filmed by what, told in :func:`games`, and from what one game alone gives.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.film.clips import numbered, numbered_film
from tests.tagging.two_angles import filmed_from_end_zone
from workstation.commands import run
from workstation.delivery.segment import play_segments
from workstation.film.sources import open_film
from workstation.football.plays import Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.season.joined import joined
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, Heading, PlayTag, SequenceItem, Shot, ShotKind
from workstation.tagging.operations import TakeGame

BOTH, HIGH_ONLY, END_FIRST = Path("both.game"), Path("high only.game"), Path("end first.game")
PLAY = Play(PlayKind.RUN, gain=3, clock=600)


@pytest.fixture(scope="module")
def games(tmp_path_factory) -> dict[Path, Game]:
    """One game by two cameras, tied at picture 60, whose end zone camera missed play 2; one from the press box alone;
    one whose only camera stood in the end zone."""
    folder = tmp_path_factory.mktemp("films")
    films = {name: numbered_film(folder / f"{name}.mp4", first, 150)
             for name, first in (("high", 0), ("end", 30), ("press", 0), ("only end", 0))}
    high, end = open_film([films["high"]]), open_film([films["end"]], ["s1"])
    (here,), (there,) = high.sources, end.sources
    half = numbered(here, 100)
    both = Game(Heading(home="Summit", visitors="Harbor", date="2026-09-01", angle="High"), high,
                (Shot(1, here.first, half, ShotKind.PLAY), Shot(3, half, here.end, ShotKind.PLAY)),
                plays=(PlayTag(1, 1.0, PLAY, 1), PlayTag(2, 2.0, PLAY, 3)))
    made = {BOTH: filmed_from_end_zone(both, end, [Shot(2, there.first, there.end, ShotKind.PLAY)],
                                       [(1, 2, numbered(here, 60), numbered(there, 30))])}
    for path, name, angle in ((HIGH_ONLY, "press", "Press box"), (END_FIRST, "only end", "End zone")):
        film = open_film([films[name]])
        (source,) = film.sources
        made[path] = Game(Heading(home="Summit", visitors=f"Valley {name}", date="2026-09-08", angle=angle), film,
                          (Shot(1, source.first, source.end, ShotKind.PLAY),), plays=(PlayTag(1, 1.0, PLAY, 1),))
    return made


def segments(made, items):
    return play_segments(made.game, made.steps, items, made.origins)


def alone(game: Game, item: SequenceItem):
    steps = track(load_rulebook(game.heading.rulebook, game.heading.season), [tag.play for tag in game.plays])
    return play_segments(game, steps, [item])


def parts(segment):
    return [(part.source.path, part.start, part.end) for part in segment.parts]


def test_each_play_is_shown_from_the_angle_that_its_game_has(games):
    made = joined(list(games.items()))
    keys = [(BOTH, 1), (BOTH, 2), (HIGH_ONLY, 1), (END_FIRST, 1)]
    items = [made.item(*key, ["end zone"]) for key in keys]
    found = segments(made, items)
    assert [segment.used[0].source.path.stem for segment in found] == ["end", "high", "press", "only end"]
    for segment, angle in zip(found, ("End zone", "High", "Press box", "End zone"), strict=True):
        assert f"  ·  {angle}  ·  " in segment.caption and segment.fields["angle"] == angle
    assert made.lacking(items, ["end zone"]) == "2 of the plays: end zone did not film them"
    assert parts(found[0]) == parts(alone(games[BOTH], SequenceItem(1, angles=(1,)))[0])


def test_without_an_angle_nothing_is_said_of_angles(games):
    made = joined(list(games.items()))
    items = [made.item(*key) for key in ((BOTH, 1), (HIGH_ONLY, 1))]
    assert items == [SequenceItem(1), SequenceItem(3)] and made.lacking(items, []) == ""
    assert not any("High" in segment.caption or "Press" in segment.caption for segment in segments(made, items))


def test_two_angles_in_one_picture_are_in_step_as_in_one_game(games):
    made = joined(list(games.items())[::-1])        # another game comes first, and moves every number
    (here,) = segments(made, [made.item(BOTH, 1, ["high", "end"], beside=True)])
    (there,) = alone(games[BOTH], SequenceItem(1, angles=(0, 1), beside=True))
    assert parts(here) == parts(there) and [parts(each) for each in here.beside] == [parts(e) for e in there.beside]
    assert here.beside[0].lead == there.beside[0].lead and "High | End zone" in here.caption


def test_names_that_no_game_has_are_named(games):
    made = joined(list(games.items()))
    assert made.unknown(["end", "high", "drone"]) == ["drone"]
    assert made.angle_names == ["High", "Press box", "End zone"]


def test_angles_of_one_name_in_two_games_are_one_angle(games):
    other = replace(games[BOTH], heading=replace(games[BOTH].heading, date="2026-09-15"))
    made = joined([(BOTH, games[BOTH]), (Path("again.game"), other)])
    assert len(made.game.angles) == 1 and len(made.game.matches) == 2
    ids = [shot.id for recording in made.game.recordings for shot in recording.shots]
    assert len(set(ids)) == len(ids) == 6
    found = segments(made, [made.item(path, 1, ["End zone"]) for path in (BOTH, Path("again.game"))])
    assert [segment.fields["angle"] for segment in found] == ["End zone"] * 2
    assert [("2026-09-01" in found[0].caption), ("2026-09-15" in found[1].caption)] == [True, True]


def test_the_command_takes_angles(games, tmp_path, capsys):
    for path, game in games.items():
        with GameFile.create(tmp_path / path) as file:
            file.do(TakeGame(game))
    to = tmp_path / "ends.vtt"
    assert run(["season", str(tmp_path), "sequence", "--angles", "end zone", "--to", str(to)]) == 0
    told = to.read_text(encoding="utf-8")
    assert told.count("-->") == 4 and told.count("End zone") == 2 and told.count("Press box") == 1
    assert "2 of the plays: end zone did not film them" in capsys.readouterr().err
    assert run(["season", str(tmp_path), "sequence", "--angles", "drone", "--to", str(tmp_path / "x.vtt")]) == 2
    assert "no angle of these games is called 'drone'; there is " in capsys.readouterr().err
    one = ["season", str(tmp_path), "sequence", "--angles", "high", "--beside", "--to", str(tmp_path / "x.vtt")]
    assert run(one) == 2

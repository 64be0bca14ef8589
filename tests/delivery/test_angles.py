"""Plays of two angles handed on: one after another, and in one picture in step.

Every picture carries the number of its moment of the evening (:func:`tests.film.clips.numbered_film`). The high camera
filmed pictures 0 to 149; the end zone's, without sound, 30 to 189. They are tied at picture 60; the play is the high
camera's whole file, the end zone's shot its whole file. What is right follows from that.
"""

from __future__ import annotations

import json
from dataclasses import replace

import av
import numpy as np
import opentimelineio as otio
import pytest

from tests.film.clips import RATE, SIZE, number_of, numbered, numbered_film, picture_hash
from tests.tagging.two_angles import END_ZONE, filmed_from_end_zone
from workstation.delivery.export import export_segments
from workstation.delivery.picture_places import corners
from workstation.delivery.rendering import Settings, render
from workstation.delivery.segment import play_segments
from workstation.delivery.sequence import Form, SequenceRequest, write_sequence
from workstation.film.sources import open_film
from workstation.football.plays import Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import track
from workstation.tagging.model import Game, Heading, PlayTag, SequenceItem, Shot, ShotKind

FIRST = 0
HIGH_FRAMES, END_FIRST, END_FRAMES, TIED = 150, 30, 160, 60
EXACT = Settings(quality=0, preset="ultrafast")


@pytest.fixture(scope="module")
def game(tmp_path_factory) -> Game:
    folder = tmp_path_factory.mktemp("angles")
    high = open_film([numbered_film(folder / "high.mp4", 0, HIGH_FRAMES)])
    end = open_film([numbered_film(folder / "end.mp4", END_FIRST, END_FRAMES, sound=False)], ["s1"])
    (here,), (there,) = high.sources, end.sources
    shots = Shot(1, here.first, here.end, ShotKind.PLAY), Shot(2, there.first, there.end, ShotKind.PLAY)
    play = Play(PlayKind.RUN, gain=3, clock=600)
    first = Game(Heading(home="Summit", visitors="Harbor"), high, shots[:1],
                 plays=(PlayTag(1, 1.0, play, 1), PlayTag(2, 2.0, play)))
    return filmed_from_end_zone(first, end, shots[1:],
                                [(1, 2, numbered(here, TIED), numbered(there, TIED - END_FIRST))])


def segments_of(game: Game, *items: SequenceItem):
    return play_segments(game, track(load_rulebook("nfhs"), [tag.play for tag in game.plays]), items)


def frames_in(path) -> list[av.VideoFrame]:
    with av.open(str(path)) as container:
        return list(container.decode(video=0))


def number_in(tile: np.ndarray) -> int | None:
    """The number that a picture of half the size carries; None for black."""
    if tile.max() < 15:
        return None
    return sum(1 << bit for bit in range(12) if tile[20, 10 + bit * 12] > 118)


def tiles_of(frame: av.VideoFrame) -> tuple[int | None, int | None]:
    luma = frame.to_ndarray(format="gray").astype(int)
    width, height = SIZE
    row = luma[height // 4:height * 3 // 4]
    return number_in(row[:, :width // 2]), number_in(row[:, width // 2:width])


def loudness(path) -> float:
    with av.open(str(path)) as container:
        return float(np.mean([np.abs(frame.to_ndarray()).mean() for frame in container.decode(audio=0)]))


@pytest.mark.parametrize(("angles", "right"), [
    ((FIRST, END_ZONE), [(number, number if number >= END_FIRST else None) for number in range(HIGH_FRAMES)]),
    ((END_ZONE, FIRST), [(number, number if number < HIGH_FRAMES else None)
                         for number in range(END_FIRST, END_FIRST + END_FRAMES)])])
def test_beside_each_other_both_show_the_same_moment_in_every_picture(game, tmp_path, angles, right):
    segments = segments_of(game, SequenceItem(1, angles=angles, beside=True))
    render(segments, tmp_path / "beside.mp4", EXACT)
    assert [tiles_of(frame) for frame in frames_in(tmp_path / "beside.mp4")] == right


def number_at(luma: np.ndarray, left: float, top: float, width: float) -> int | None:
    """The number that a picture carries which is so wide and lies there."""
    scale = width / SIZE[0]
    row = luma[round(top + 40 * scale)]
    if luma[round(top):round(top + SIZE[1] * scale), round(left):round(left + width)].max() < 15:
        return None
    return sum(1 << bit for bit in range(12) if row[round(left + (20 + bit * 24) * scale)] > 118)


@pytest.mark.parametrize(("angles", "right"), [
    ((FIRST, END_ZONE), [(number, number if number >= END_FIRST else None) for number in range(HIGH_FRAMES)]),
    ((END_ZONE, FIRST), [(number, number if number < HIGH_FRAMES else None)
                         for number in range(END_FIRST, END_FIRST + END_FRAMES)])])
def test_small_in_the_corner_of_the_large_one_it_shows_the_same_moment_in_every_picture(game, tmp_path, angles, right):
    (segment,) = segments_of(game, SequenceItem(1, angles=angles, beside=True, inset=True))
    assert segment.inset and ("High | End zone" in segment.caption) is (angles[0] == FIRST)
    size = 1280, 720        # so that the small one's number can be read
    render([segment], tmp_path / "corner.mp4", replace(EXACT, width=size[0], height=size[1]))
    _, small = corners(2, *size)
    read = []
    for frame in frames_in(tmp_path / "corner.mp4"):
        luma = frame.to_ndarray(format="gray").astype(int)
        alone = luma.copy()
        alone[small.top - 2:small.top + small.height + 2, small.left - 2:small.left + small.width + 2] = 0
        edge = luma[small.top - 1, small.left + small.width // 2] > 150
        there = number_at(luma, small.left, small.top, small.width) if edge else None
        read.append((number_at(alone, 0, 0, size[0]), there))
    mask = (1 << 8) - 1         # of the large one's number the corner may hide the upper places
    assert [(large & mask, there) for large, there in read] == [(large & mask, there) for large, there in right]


def test_with_handles_trimmed_and_among_others_they_stay_in_step(game, tmp_path):
    item = SequenceItem(1, angles=(FIRST, END_ZONE), beside=True, lead_in=-40 / float(RATE), lead_out=-50 / float(RATE))
    render(segments_of(game, item, replace(item, beside=False)), tmp_path / "both.mp4", EXACT)
    frames = frames_in(tmp_path / "both.mp4")
    assert [tiles_of(frame) for frame in frames[:60]] == [(number, number) for number in range(40, 100)]
    assert [number_of(frame) for frame in frames[60:]] == [*range(40, 100), *range(70, 140)]


def test_the_sound_is_of_the_angle_that_is_named(game, tmp_path):
    heard = {}
    for name, item in (("own", SequenceItem(1, angles=(END_ZONE,))),
                       ("high", SequenceItem(1, angles=(END_ZONE,), sound=FIRST)),
                       ("beside", SequenceItem(1, angles=(FIRST, END_ZONE), beside=True)),
                       ("beside, end zone", SequenceItem(1, angles=(FIRST, END_ZONE), beside=True, sound=END_ZONE))):
        render(segments_of(game, item), tmp_path / f"{name}.mp4", EXACT)
        heard[name] = loudness(tmp_path / f"{name}.mp4")
    assert heard["own"] < 0.001 and heard["beside, end zone"] < 0.001
    assert heard["high"] > 0.05 and heard["beside"] > 0.05


def test_copies_hold_the_first_and_last_picture_of_each_angle(game, tmp_path):
    segments = segments_of(game, SequenceItem(1, angles=(FIRST, END_ZONE)))
    done = export_segments(segments, tmp_path / "copies")
    assert not done.failures
    for (segment, path), source in zip(done.files, game.sources, strict=True):
        mine, theirs = frames_in(path), frames_in(source.path)
        assert (picture_hash(mine[0]), picture_hash(mine[-1])) == (picture_hash(theirs[0]), picture_hash(theirs[-1]))
        assert segment.fields["angle"] in path.name


def test_a_timeline_has_a_track_for_each_angle_in_step(game, tmp_path):
    for beside, starts in ((True, {"High": 0, "End zone": 30}), (False, {"High": 0, "End zone": 150})):
        request = SequenceRequest(game, track(load_rulebook("nfhs"), [tag.play for tag in game.plays]), "two",
                                  [SequenceItem(1, angles=(FIRST, END_ZONE), beside=beside)], Form.LISTS)
        to = tmp_path / f"{beside}.otio"
        write_sequence(request, to)
        read = otio.adapters.read_from_file(str(to))
        begun = {each.name: round(each.range_of_child(each.find_clips()[0]).start_time.value) for each in read.tracks}
        assert begun == starts


def test_what_an_angle_does_not_show_is_said(game, tmp_path):
    loose = replace(game, matches=(replace(game.matches[0], same=None),))
    request = SequenceRequest(loose, track(load_rulebook("nfhs"), [tag.play for tag in game.plays]), "two",
                              [SequenceItem(1, angles=(FIRST, END_ZONE), beside=True)], size=(160, 90))
    written = write_sequence(request, tmp_path / "one.mp4")
    assert any("End zone does not show play 1" in note for note in written.notes)


def test_a_pack_holds_the_originals_of_both_angles(game, tmp_path):
    request = SequenceRequest(game, track(load_rulebook("nfhs"), [tag.play for tag in game.plays]), "two",
                              [SequenceItem(1, angles=(FIRST, END_ZONE), beside=True)], Form.PACK, size=(160, 90))
    written = write_sequence(request, tmp_path / "pack")
    assert not written.missing
    assert len(list((tmp_path / "pack" / "originals").iterdir())) == 2
    (told,) = json.loads((tmp_path / "pack" / "manifest.json").read_text())["segments"]
    assert (told["angle"], told["beside"]) == ("High", ["End zone"])
    assert [part["source"] for part in told["parts"]] == ["high.mp4", "end.mp4"]

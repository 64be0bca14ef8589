"""Rendered files hold the right pictures for the right time, whatever they were made of."""

from __future__ import annotations

import json
import struct
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import av
import numpy as np
import pytest

from tests.delivery.conftest import segment_of, written
from tests.footage import make, run
from workstation.cancelling import Cancelled
from workstation.delivery.decoding import CannotDecode
from workstation.delivery.overlay import INK, Marks, draw
from workstation.delivery.rendering import Settings, render
from workstation.delivery.segment import Part, Segment
from workstation.film.film import Film
from workstation.film.frames import FrameReader
from workstation.film.index import index_of
from workstation.film.probe import probe
from workstation.film.time import Instant
from workstation.tagging.model import Drawing, DrawingKind

EXACT = Settings(quality=0, preset="ultrafast")     # lossless, so that pictures can be compared


def grey(path: Path) -> list[np.ndarray]:
    with av.open(str(path)) as container:
        return [frame.to_ndarray(format="gray").astype(int) for frame in container.decode(video=0)]


def probed(path: Path) -> dict:
    return json.loads(run("ffprobe", "-v", "error", "-count_frames", "-show_format", "-show_streams", "-of", "json",
                          str(path)))


def rendered(segments, to: Path, *how) -> Path:
    render(segments, to, *how)
    return to


def video_of(path: Path) -> dict:
    return next(stream for stream in probed(path)["streams"] if stream["codec_type"] == "video")


def test_every_kind_renders_its_own_pictures_in_their_own_times(source, tmp_path):
    segment = segment_of(source, 17, 47)
    made = rendered([segment], tmp_path / "out.mp4", EXACT)
    with av.open(str(made)) as container:
        times = [frame.pts * frame.time_base for frame in container.decode(video=0)]
    wanted = (index_of(source).pts[17:47] - segment.parts[0].start).tolist()
    assert [round(time / source.time_base) for time in times] == wanted
    if not source.interlaced and source.pixel_aspect == 1 and not source.rotation:
        theirs = grey(source.path)[17:47]
        for mine, original in zip(grey(made), theirs, strict=True):
            assert np.abs(mine - original).mean() < 2       # the way to 8-bit 4:2:0 costs at most rounding


def test_form_and_sound(film, tmp_path):
    made = rendered([segment_of(film.sources[0], 10, 40)], tmp_path / "out.mp4")
    streams = {stream["codec_type"]: stream for stream in probed(made)["streams"]}
    assert streams["video"]["codec_name"] == "h264" and streams["video"]["pix_fmt"] == "yuv420p"
    assert streams["audio"]["codec_name"] == "aac"
    length = 30 * 1001 / 30000
    assert abs(float(streams["video"]["duration"]) - length) < 1 / 30
    assert abs(float(streams["audio"]["duration"]) - length) < 1 / 30


def test_sources_of_every_kind_join_into_one(footage, tmp_path):
    kinds = ("h264", "interlaced-ts", "hevc", "hevc-10bit", "mpeg2-avi", "variable-rate", "no-sound", "anamorphic")
    segments = [segment_of(probe(make(kind, footage), kind), 5, 35) for kind in kinds]
    made = rendered(segments, tmp_path / "joined.mp4",
                    Settings(width=320, height=180, rate=Fraction(25), preset="ultrafast"))
    video = video_of(made)
    assert (video["width"], video["height"], video["r_frame_rate"]) == (320, 180, "25/1")
    total = float(sum(segment.duration for segment in segments))
    assert abs(int(video["nb_read_frames"]) - total * 25) <= len(segments) / 2
    streams = {stream["codec_type"]: float(stream["duration"]) for stream in probed(made)["streams"]}
    assert abs(streams["video"] - streams["audio"]) < 0.05


def test_each_part_of_a_joined_film_begins_with_its_own_first_picture(film, tmp_path):
    segments = [segment_of(film.sources[0], 12, 42), segment_of(film.sources[0], 60, 75)]
    made = rendered(segments, tmp_path / "joined.mp4", EXACT)
    originals, pictures = grey(film.sources[0].path), grey(made)
    assert len(pictures) == 45
    for at, number in ((0, 12), (29, 41), (30, 60), (44, 74)):
        assert np.abs(pictures[at] - originals[number]).mean() < 1


def test_rotated_footage_stands_upright(footage, tmp_path):
    turned = footage / "turned.mp4"
    upright = make("h264", footage)
    with av.open(str(upright)) as source, av.open(str(turned), "w") as out:
        stream = out.add_stream_from_template(source.streams.video[0])
        for packet in source.demux(video=0):
            if packet.dts is not None:
                packet.stream = stream
                out.mux(packet)
    quarter_turn(turned)
    source = probe(turned, "turned")
    assert source.rotation % 180 == 90
    assert video_of(rendered([segment_of(source, 0, 5)], tmp_path / "out.mp4"))["width"] == source.height


def quarter_turn(path: Path) -> None:
    """Write a 90 degree matrix into the track header (ISO/IEC 14496-12, 8.3.2) as phones do."""
    data = bytearray(path.read_bytes())
    at = data.index(b"tkhd") + 4 + 40       # version 0: flags, times, id, reserved, duration, reserved, layer, volume
    one = 1 << 16
    data[at:at + 36] = struct.pack(">9i", 0, one, 0, -one, 0, 0, 0, 0, 1 << 30)
    path.write_bytes(data)


@pytest.mark.parametrize(("scan", "order", "bottom"), [("tff", "tff", False), ("bff", "bff", True)])
def test_an_interlaced_picture_is_rendered_as_it_is_shown(tmp_path, scan, order, bottom):
    """Of two moments in one picture both show the first, whichever lines hold it."""
    path = tmp_path / f"{scan}.mts"
    run("ffmpeg", "-y", "-loglevel", "error", "-f", "lavfi", "-i",
        "color=gray:size=192x108:rate=50:duration=1,drawbox=x=40:y=20:w=40:h=60:color=white:t=fill,scroll=h=0.05",
        "-vf",
        f"interlace=scan={scan}:lowpass=off,setfield={order}", "-c:v", "libx264", "-flags", "+ildct+ilme",
        "-x264-params", f"{order}=1", "-qp", "1", "-pix_fmt", "yuv420p", "-f", "mpegts", str(path))
    source = probe(path, "s")
    index = index_of(source)
    with FrameReader(Film((source,))) as reader:
        picture = reader.frame_at(Instant("s", int(index.pts[10])))
        assert picture.interlaced and picture.bottom_first == bottom
        shown = picture.rgb().astype(int)[:, :, 1]
    with av.open(str(rendered([segment_of(source, 10, 12)], tmp_path / "out.mp4", EXACT))) as container:
        written_ = next(container.decode(video=0)).to_ndarray(format="rgb24").astype(int)[:, :, 1]
    picture.bottom_first = not bottom
    other = picture.rgb().astype(int)[:, :, 1]
    assert np.abs(written_ - shown).mean() < 0.3 * np.abs(written_ - other).mean()


def test_a_joined_film_takes_the_form_of_most_of_it(footage, tmp_path):
    """A short small clip first does not make a film of large ones small."""
    small, large = probe(make("h264", footage), "a"), probe(make("interlaced-ts", tmp_path, size="384x216"), "b")
    film = rendered([segment_of(small, 0, 20), segment_of(large, 0, 60)], tmp_path / "out.mp4")
    assert (video_of(film)["width"], video_of(film)["height"]) == (384, 216)
    chosen = rendered([segment_of(large, 0, 5)], tmp_path / "chosen.mp4",
                      Settings(width=128, height=72, preset="ultrafast"))
    assert (video_of(chosen)["width"], video_of(chosen)["height"]) == (128, 72)


def test_sound_that_cannot_be_decoded_costs_itself_only_and_is_said(footage, tmp_path):
    path = tmp_path / "spoilt.mp4"
    path.write_bytes(make("h264", footage).read_bytes())
    with av.open(str(path)) as container:
        packet = [each for each in container.demux(audio=0) if each.size][60]
        at, size = packet.pos, packet.size
        seconds = float(packet.pts * packet.time_base)
    data = bytearray(path.read_bytes())
    data[at:at + size] = bytes(byte ^ 0x5A for byte in data[at:at + size])
    path.write_bytes(data)
    done = render([segment_of(probe(path, "s"), 0, 110)], tmp_path / "out.mp4", Settings(preset="ultrafast"))
    (note,) = done.notes
    assert "spoilt.mp4: 0.02 s of its sound could not be decoded" in note
    with av.open(str(tmp_path / "out.mp4")) as container:
        heard = np.concatenate([frame.to_ndarray() for frame in container.decode(audio=0)], axis=1)[0]
    loud = np.abs(heard).reshape(-1)[:len(heard) // 480 * 480].reshape(-1, 480).max(1) > 0.03
    silent = np.flatnonzero(~loud[:355])
    assert len(silent) <= 8 and all(abs(window / 100 - seconds) < 0.08 for window in silent)


def test_caption_strip_lies_below_the_picture(film, tmp_path):
    segment = segment_of(film.sources[0], 0, 5)
    bare = grey(rendered([segment], tmp_path / "bare.mp4", EXACT))[0]
    titled = grey(rendered([segment], tmp_path / "titled.mp4",
                           Settings(quality=0, preset="ultrafast", captions=True)))[0]
    height = bare.shape[0]
    assert titled.shape[0] > height
    assert np.abs(titled[:height] - bare).mean() < 2
    strip = titled[height:]
    assert strip.max() - strip.min() > 100                   # there is light text on dark ground


def test_drawings_show_in_their_span_only(film, tmp_path):
    source = film.sources[0]
    pts = index_of(source).pts
    drawing = Drawing(1, DrawingKind.CIRCLE, Instant(source.id, int(pts[10])), ((0.5, 0.5), (0.7, 0.5)),
                      until=Instant(source.id, int(pts[20])))
    marks = Marks(Film(film.sources), (drawing,))
    segment = segment_of(source, 0, 30)
    bare = grey(rendered([segment], tmp_path / "bare.mp4", EXACT))
    drawn = grey(rendered([segment], tmp_path / "drawn.mp4", EXACT, marks))
    changed = [np.abs(one - other).max() > 60 for one, other in zip(bare, drawn, strict=True)]
    assert [number for number, it in enumerate(changed) if it] == list(range(10, 20))
    assert INK[3] == 255


def test_text_is_drawn_where_it_was_put_and_a_stroke_without_length_is_not():
    def drawn(kind, *points, text=""):
        return draw((Drawing(1, kind, Instant("s", 0), points, text=text),), 320, 180)[:, :, 3] > 0
    words = drawn(DrawingKind.TEXT, (0.5, 0.5), text="late")
    assert words.any() and not words[:85].any() and not words[:, :155].any()
    for nothing in (drawn(DrawingKind.TEXT, text="late"), drawn(DrawingKind.ARROW, (0.5, 0.5)),
                    drawn(DrawingKind.FREEHAND)):
        assert not nothing.any()
    line = drawn(DrawingKind.FREEHAND, (0.1, 0.5), (0.9, 0.5))
    arrow = drawn(DrawingKind.ARROW, (0.1, 0.5), (0.9, 0.5))
    assert line.any(0)[40:280].all() and not line.any(0)[:20].any()
    assert (arrow & ~line).any(0)[280:].any() and not (arrow & ~line).any(0)[:240].any()     # the head is at the end


def test_freeze_frame_holds_the_picture_and_keeps_the_sound_in_step(film, tmp_path):
    source = film.sources[0]
    pts = index_of(source).pts
    drawing = Drawing(1, DrawingKind.ARROW, Instant(source.id, int(pts[10])), ((0.2, 0.2), (0.6, 0.6)))
    marks = Marks(film, (drawing,), freezes=Fraction(1))
    made = rendered([segment_of(source, 0, 30)], tmp_path / "out.mp4", EXACT, marks)
    pictures = grey(made)
    assert len(pictures) == 30 + 30
    assert all(np.array_equal(pictures[10], pictures[number]) for number in range(11, 41))
    streams = {stream["codec_type"]: float(stream["duration"]) for stream in probed(made)["streams"]}
    assert abs(streams["video"] - streams["audio"]) < 0.05


def test_chapters_lie_where_the_segments_begin_freeze_frames_counted(film, tmp_path):
    source = film.sources[0]
    pts = index_of(source).pts
    drawing = Drawing(1, DrawingKind.ARROW, Instant(source.id, int(pts[10])), ((0.2, 0.2), (0.6, 0.6)))
    marks = Marks(film, (drawing,), freezes=Fraction(1))
    segments = [replace(segment_of(source, at, to), caption=caption)
                for at, to, caption in ((0, 30, "1st & 10"), (60, 75, "2nd & 6"))]
    cues = render(segments, tmp_path / "joined.mp4", EXACT, marks).cues
    frame = Fraction(1001, 30000)
    assert [(cue.start / frame, cue.end / frame) for cue in cues] == [(0, 60), (60, 75)]
    told = json.loads(run("ffprobe", "-v", "error", "-show_chapters", "-of", "json", str(tmp_path / "joined.mp4")))
    assert [chapter["tags"]["title"] for chapter in told["chapters"]] == ["1st & 10", "2nd & 6"]
    assert [float(chapter["start_time"])
            for chapter in told["chapters"]] == pytest.approx([0, 60 * float(frame)], abs=0.001)
    pictures, originals = grey(tmp_path / "joined.mp4"), grey(source.path)
    away = [np.abs(pictures[60] - original).mean() for original in originals]     # the drawing still shows on it
    assert int(np.argmin(away)) == 60


def test_progress_grows_to_the_end(film, tmp_path):
    told: list[float] = []
    render([segment_of(film.sources[0], 0, 20)], tmp_path / "out.mp4", progress=told.append)
    assert told == sorted(told) and told[-1] == 1.0


def test_cancel_leaves_nothing(film, tmp_path):
    with pytest.raises(Cancelled):
        render([segment_of(film.sources[0], 0, 90)], tmp_path / "out.mp4", cancelled=lambda: True)
    assert not list(tmp_path.iterdir())


def test_a_source_that_vanished_says_which_and_leaves_nothing(film, footage, tmp_path):
    gone = tmp_path / "gone.mp4"
    gone.write_bytes(make("h264", footage).read_bytes())
    source = probe(gone, "gone")
    segment = segment_of(source, 0, 10)
    gone.unlink()
    with pytest.raises((CannotDecode, OSError), match="gone"):
        render([segment], tmp_path / "out.mp4")
    assert not list(tmp_path.iterdir())


def test_nothing_to_render(tmp_path):
    with pytest.raises(ValueError, match="no segment"):
        render([], tmp_path / "out.mp4")


def test_span_without_pictures(film, tmp_path):
    source = film.sources[0]
    far = source.end.pts + 10_000_000
    with pytest.raises((CannotDecode, OSError)):
        render([segment_of(source, 0, 1), Segment((Part(source, far, far + 1000),), {})],
               tmp_path / "out.mp4")
    assert not list(tmp_path.iterdir())


def test_a_clock_that_claims_hours_is_told_and_leaves_nothing_while_a_pause_is_kept(tmp_path):
    def recording(name: str, leap: int) -> Part:
        times = [*range(0, 1000, 40), *range(leap, leap + 1000, 40)]
        source = probe(written(tmp_path / name, [(0, 1000), (leap, leap + 1000)], times), name)
        return Part(source, 0, leap + 1000)
    hours = recording("hours.mkv", 3 * 3_600_000)
    with pytest.raises(CannotDecode, match="hours.mkv: by its clock one picture stands for 3.0 hours"):
        render([Segment((hours,), {})], tmp_path / "out.mp4", Settings(preset="ultrafast"))
    assert {path.name for path in tmp_path.iterdir()} == {"hours.mkv"}
    paused = recording("paused.mkv", 20_000)
    made = rendered([Segment((paused,), {})], tmp_path / "out.mp4", Settings(preset="ultrafast"))
    with av.open(str(made)) as container:
        loud = np.concatenate([frame.to_ndarray() for frame in container.decode(audio=0)], axis=1)[0]
    assert abs(len(loud) / 48_000 - 21) < 0.05
    assert np.abs(loud[60_000:950_000]).max() < 0.01 < np.abs(loud[965_000:1_000_000]).max()


@pytest.mark.parametrize(("track", "loud"), [(0, False), (1, True), (5, True)])     # of two; else the last
def test_the_sound_track_that_is_asked_for_is_heard(tmp_path, track, loud):
    path, to = tmp_path / "two.mp4", tmp_path / "one.mp4"
    run("ffmpeg", "-v", "error", "-y", "-f", "lavfi", "-i", "testsrc=size=160x96:rate=25:duration=1",
        "-f", "lavfi", "-i", "anullsrc=r=48000:d=1", "-f", "lavfi", "-i", "sine=frequency=300:duration=1",
        "-map", "0", "-map", "1", "-map", "2", "-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p",
        "-c:a", "aac", path)
    source = probe(path, "s")
    part = Part(source, source.start_pts, source.start_pts + source.duration_pts)
    render([Segment((part,), {})], to, Settings(preset="ultrafast", sound_track=track))
    with av.open(str(to)) as container:
        assert len(container.streams.audio) == 1
        heard = np.concatenate([frame.to_ndarray()[0] for frame in container.decode(audio=0)])
    assert (np.abs(heard).max() > 0.05) == loud

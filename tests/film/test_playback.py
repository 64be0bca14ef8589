"""Playing, on every player that there is: the same tests for libVLC, the player built into Qt, and none.

Pictures carry their number, so that what was shown can be compared with what was claimed.
"""

from __future__ import annotations

import subprocess
import sys
import time
import wave
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from PySide6.QtCore import QCoreApplication

from tests.film.clips import number_of, numbered_film
from workstation.film.film import Film
from workstation.film.frames import FrameReader
from workstation.film.index import index_of
from workstation.film.picture import Picture
from workstation.film.playback import Playback, best_engine
from workstation.film.playback.frame_recognition import recognise, signature
from workstation.film.playback.frame_tracker import FrameTracker
from workstation.film.playback.paced_engine import PacedEngine
from workstation.film.playback.playhead_clock import PlayheadClock
from workstation.film.playback.time_stretch import StretchedSound
from workstation.film.probe import probe
from workstation.film.time import Instant

ENGINES = ["vlc", "qt", "none"]
PER_SOURCE = 150


class Stage:
    """A playback of the numbered film, and everything that it showed."""

    def __init__(self, engine, paths):
        self.film = Film(tuple(probe(path, f"s{n}") for n, path in enumerate(paths, 1)))
        self.indexes = {source.id: index_of(source) for source in self.film.sources if not source.problem}
        self.reader = FrameReader(self.film)
        self.shown: list[tuple[int, int, bool]] = []        # number claimed, number seen, exact
        self.playing, self.problems = [], []
        self.playback = Playback(engine, on_picture=self._on_picture, on_playing=self.playing.append,
                                 on_problem=lambda source, reason: self.problems.append((source, reason)))
        self.playback.load(self.film, self.reader)

    def _on_picture(self, picture, exact):
        self.shown.append((self.number(picture.instant), number_of(picture.frame), exact))

    def number(self, instant):
        position = [source.id for source in self.film.sources].index(instant.source)
        return position * PER_SOURCE + self.indexes[instant.source].at(instant.pts)

    def instant(self, number):
        source = self.film.sources[number // PER_SOURCE]
        return Instant(source.id, int(self.indexes[source.id].pts[number % PER_SOURCE]))

    def until(self, condition, seconds=30):
        end = time.monotonic() + seconds
        while not condition():
            assert time.monotonic() < end, f"in vain: {self.shown[-5:]} {self.problems}"
            pump()

    def played(self):
        return [(claimed, seen) for claimed, seen, exact in self.shown if not exact]

    def close(self):
        self.playback.close()
        self.reader.close()
        pump()


def pump(seconds=0.005):
    end = time.monotonic() + seconds
    while True:
        if QCoreApplication.instance() is not None:
            QCoreApplication.processEvents()
        if time.monotonic() >= end:
            return
        time.sleep(0.002)


def engine(name):
    if name == "none":
        return PacedEngine()
    try:
        return best_engine(name)
    except RuntimeError as error:
        pytest.skip(str(error))


@pytest.fixture(params=ENGINES)
def stage(request, numbered):
    if request.param == "qt":
        request.getfixturevalue("qapp")
    stage = Stage(engine(request.param), numbered)
    stage.until(lambda: stage.shown)
    yield stage
    stage.close()


def test_the_first_picture_stands_there_exactly(stage):
    assert stage.shown[0] == (0, 0, True)
    assert stage.playback.position == stage.instant(0)
    assert not stage.playback.playing


def test_pictures_are_shown_in_order_under_their_own_instants(stage):
    stage.playback.play()
    stage.until(lambda: len(stage.played()) > 60)
    stage.playback.pause()
    played = stage.played()
    assert [claimed for claimed, _ in played] == sorted(claimed for claimed, _ in played)
    wrong = [pair for pair in played if pair[0] != pair[1]]
    assert len(wrong) <= len(played) // 20, wrong


def test_pause_lands_on_the_exact_picture_under_the_playhead(stage):
    same = 0
    for start in (10, 40, 163, 220, 310):
        stage.playback.play(stage.instant(start))
        stage.until(lambda start=start: stage.played() and stage.played()[-1][1] >= start + 12
                    and stage.shown[-1][1] < start + PER_SOURCE)
        at = stage.playback.pause()
        last = stage.played()[-1][1]
        stage.until(lambda: stage.shown[-1][2])
        assert stage.playback.position == at
        assert stage.shown[-1] == (stage.number(at), stage.number(at), True)
        same += stage.shown[-1][1] == last
        count = len(stage.shown)
        stage.until(lambda: stage.playback._transport.cue.deck is not None)     # ready to go on: all is done
        assert len(stage.shown) == count            # and nothing comes after it
    assert same >= 4                                # a busy machine may lose the rhythm once


def test_a_clock_that_is_out_does_not_move_a_pause(numbered, monkeypatch):
    """Whatever the clock says, the picture shown last is the one that stands."""
    by_clock = FrameTracker._by_clock
    monkeypatch.setattr(FrameTracker, "_by_clock",
                        lambda self, *said: self._state.reader.step(by_clock(self, *said), 2))
    stage = Stage(engine("vlc"), numbered[:1])
    try:
        stage.until(lambda: stage.shown)
        stage.playback.play()
        stage.until(lambda: len(stage.played()) > 30)
        stage.playback.pause()
        claimed, seen = stage.played()[-1]
        assert claimed == seen + 2
        stage.until(lambda: stage.shown[-1] == (seen, seen, True))
        assert stage.playback.position == stage.instant(seen)
    finally:
        stage.close()


@pytest.mark.parametrize("target", [75, 372])
def test_nothing_before_the_target_of_a_seek_is_seen(stage, target):
    stage.playback.play(stage.instant(20))
    stage.until(lambda: len(stage.played()) > 3)
    stage.playback.seek(stage.instant(target))
    # the exact picture of the target, or if the player is there before it, the player's
    stage.until(lambda: any(claimed >= target for claimed, _, _ in stage.shown))
    since = next(n for n, (claimed, _, _) in enumerate(stage.shown) if claimed >= target)
    stage.until(lambda: stage.shown[-1][1] > target + 12)
    stage.playback.pause()
    assert min(seen for _, seen, _ in stage.shown[since:]) >= target


def test_seeking_at_rest_shows_the_exact_picture(stage):
    for number in (100, 7, 333, 151):
        stage.playback.seek(stage.instant(number))
        stage.until(lambda number=number: stage.shown[-1] == (number, number, True))
        assert stage.playback.position == stage.instant(number)
        assert stage.playback.time == pytest.approx(float(stage.film.time_of(stage.instant(number))))


def test_stepping_is_exact_across_sources(stage):
    stage.playback.seek(stage.instant(149))
    stage.until(lambda: stage.shown[-1][0] == 149)
    for n, expected in ((1, 150), (1, 151), (-2, 149), (-10, 139)):
        stage.playback.step(n)
        stage.until(lambda expected=expected: stage.shown[-1] == (expected, expected, True))


def test_playing_crosses_sources(stage):
    for start in (130, 280):
        stage.until(lambda: stage.shown[-1][2])     # the one before has come to rest
        before = len(stage.shown)
        stage.playback.play(stage.instant(start))
        stage.until(lambda start=start, before=before: len(stage.shown) > before and stage.shown[-1][1] > start + 35)
        stage.playback.pause()
        # first the exact picture of the start, or if the player is there before it, the player's
        seen = [seen for _, seen, _ in stage.shown[before:]]
        assert seen == sorted(seen)
        boundary = start + 20
        assert seen[0] == start and boundary in seen
        assert max(later - earlier for earlier, later in pairwise(seen)) <= 15     # nothing but a hiccup is lost


def test_a_loop_stays_between_its_ends(stage):
    stage.playback.play_span(stage.instant(100), stage.instant(118), loop=True)
    stage.until(lambda: sum(later < earlier for (_, earlier), (_, later) in pairwise(stage.played())) >= 3)
    since = next(n for n, (_, seen, _) in enumerate(stage.shown) if seen == 100)
    assert all(100 <= seen < 118 for _, seen, _ in stage.shown[since:])
    assert stage.playback.playing
    stage.playback.free()
    stage.until(lambda: stage.shown[-1][1] >= 125)


def test_a_loop_over_a_boundary(stage):
    stage.playback.play_span(stage.instant(143), stage.instant(157), loop=True)
    stage.until(lambda: sum(later < earlier for (_, earlier), (_, later) in pairwise(stage.played())) >= 2)
    since = next(n for n, (_, seen, _) in enumerate(stage.shown) if seen == 143)
    assert all(143 <= seen < 157 for _, seen, _ in stage.shown[since:])


def test_a_span_stops_on_its_last_picture(stage):
    stage.playback.play_span(stage.instant(140), stage.instant(165))
    stage.until(lambda: stage.playing and not stage.playback.playing)
    stage.until(lambda: stage.shown[-1] == (164, 164, True))
    assert stage.playback.position == stage.instant(164)
    assert max(seen for _, seen, _ in stage.shown) == 164
    stage.playback.play()                           # goes on from there
    stage.until(lambda: stage.shown[-1][1] > 170)


def test_a_span_of_a_film_that_was_just_taken_stops_on_its_last_picture(stage):
    source = replace(stage.film.sources[0], id="another")
    stage.film, stage.indexes[source.id] = Film((source,)), stage.indexes[stage.film.sources[0].id]
    stage.shown.clear()
    stage.playback.load(stage.film)
    stage.playback.play_span(stage.instant(20), stage.instant(35))     # before the playing thread has turned to it
    stage.until(lambda: stage.playing and not stage.playback.playing)
    stage.until(lambda: stage.shown[-1] == (34, 34, True))
    assert max(seen for _, seen, _ in stage.shown) == 34


def test_the_end_of_the_film_is_its_last_picture_and_playing_begins_again(stage):
    stage.playback.play(stage.instant(435))
    stage.until(lambda: stage.playing[-1:] == [False])
    stage.until(lambda: stage.shown[-1] == (449, 449, True))
    assert stage.playback.position == stage.instant(449)
    stage.playback.play()
    stage.until(lambda: 5 < stage.shown[-1][1] < 140)


def test_slow_motion_shows_every_picture_once(stage):
    stage.playback.speed = 0.5
    stage.playback.play(stage.instant(140))
    stage.until(lambda: stage.shown[-1][1] >= 160)
    stage.playback.pause()
    seen = [seen for seen, _ in stage.played()]
    assert seen == list(range(140, seen[-1] + 1))


def test_speed_can_change_while_playing(stage):
    stage.playback.play(stage.instant(10))
    stage.until(lambda: stage.shown[-1][1] >= 16)
    for speed in (0.25, 2.0, 1.0):
        stage.playback.speed = speed
        count, last = len(stage.shown), stage.shown[-1][1]
        stage.until(lambda count=count, last=last: len(stage.shown) > count + 4 and stage.shown[-1][1] > last)
    stage.playback.pause()
    seen = [seen for _, seen, _ in stage.shown[2:]]
    assert seen == sorted(seen)
    for asked, given in ((0.01, 0.125), (9, 4.0), (1.5, 1.5)):
        stage.playback.speed = asked
        assert stage.playback.speed == given


def test_double_speed_is_faster_than_life(stage):
    """Measured against the film's own time, with a wide margin: not a benchmark."""
    stage.playback.speed = 2.0
    stage.playback.play(stage.instant(0))
    stage.until(lambda: stage.shown[-1][1] >= 40)
    began, first = time.monotonic(), stage.shown[-1][1]
    stage.until(lambda: stage.shown[-1][1] >= first + 80)
    assert 80 / 29.97 / (time.monotonic() - began) > 1.2


def test_the_playhead_moves_smoothly_and_never_back(stage):
    stage.playback.play(stage.instant(0))
    stage.until(lambda: len(stage.played()) > 20)
    times = []
    while len(times) < 100:
        times.append(stage.playback.time)
        pump(0.01)
    stage.playback.pause()
    assert all(later >= earlier for earlier, later in pairwise(times))
    assert len(set(times)) > 60                     # it moves between pictures, too
    resting = {stage.playback.time for _ in range(20) if pump() is None}
    assert len(resting) == 1


def test_volume_is_kept_within_its_range(stage):
    for asked, given in ((0.5, 0.5), (-1, 0.0), (7, 1.0)):
        stage.playback.volume = asked
        assert stage.playback.volume == given
    stage.playback.play()
    stage.until(lambda: len(stage.played()) > 10)


def test_a_dragged_playhead_ends_where_it_is_dropped(stage):
    stage.playback.play(stage.instant(0))
    stage.until(lambda: len(stage.played()) > 3)
    for number in range(20, 131, 10):
        stage.playback.seek(stage.instant(number))
        pump(0.01)
    stage.until(lambda: stage.shown[-1][1] > 135)
    assert stage.shown[-1][1] < 300
    stage.playback.pause()


def test_an_error_nobody_thought_of_stops_playing_only(stage, monkeypatch):
    with monkeypatch.context() as patch:
        patch.setattr(stage.playback._transport, "_show", lambda event: 1 / 0)
        stage.playback.play()
        stage.until(lambda: stage.problems and not stage.playback.playing)
    stage.playback.play(stage.instant(20))
    stage.until(lambda: stage.shown[-1][1] > 25)


@pytest.mark.parametrize("name", ENGINES)
def test_bad_sources_are_told_and_passed_over(name, numbered, tmp_path, request):
    if name == "qt":
        request.getfixturevalue("qapp")
    bad, fleeting = tmp_path / "bad.mp4", tmp_path / "gone.mp4"
    bad.write_bytes(b"nothing to see")
    numbered_film(fleeting, PER_SOURCE * 2)
    stage = Stage(engine(name), [numbered[0], bad, fleeting, numbered[2]])
    try:
        stage.until(lambda: stage.shown)
        fleeting.unlink()
        stage.playback.play(stage.instant(140))
        stage.until(lambda: stage.playback.position.source == "s4" and stage.shown[-1][1] > 303)
        assert "not there" in dict(stage.problems)["s3"] or "cannot be played" in dict(stage.problems)["s3"]
        stage.playback.pause()
        stage.playback.seek(Instant("s2", 0))
        stage.until(lambda: any(source == "s2" for source, _ in stage.problems))
        stage.playback.seek(stage.instant(5))
        stage.until(lambda: stage.shown[-1] == (5, 5, True))
    finally:
        stage.close()


@pytest.mark.parametrize("name", ["vlc", "qt"])
@pytest.mark.parametrize("kind", ["rotated.mov", "hevc_10bit.mov", "00001.MTS", "anamorphic.mp4", "variable_rate.mp4",
                                  "mpeg2.avi", "edit_list.mp4"])
def test_a_playing_picture_looks_like_the_resting_one(name, kind, clips, request):
    if name == "qt":
        request.getfixturevalue("qapp")
    source = probe(clips(kind), "s1")
    film = Film((source,))
    played = []
    with FrameReader(film) as reader:
        playback = Playback(engine(name), on_picture=lambda picture, exact: exact or played.append(picture))
        playback.load(film, reader)
        playback.play()
        end = time.monotonic() + 30
        while len(played) < 20:
            assert time.monotonic() < end
            pump()
        playback.close()
        pump()
        bound = 6 if source.interlaced else 4 if "10bit" in kind else 2      # deinterlaced, and rounded otherwise
        for picture in played[5:20:5]:
            resting = reader.frame_at(picture.instant)
            assert picture.rgb().shape == resting.rgb().shape == (*reversed(source.display_size), 3)
            assert np.abs(picture.rgb().astype(int) - resting.rgb()).mean() < bound


@pytest.mark.parametrize(("name", "codec", "options"), [
    ("m.avi", "mpeg2video", {"b": "3000000", "bf": "2"}), ("h.avi", "libx264", {"preset": "veryfast"}),
    ("h.mkv", "libx264", {"preset": "veryfast"}), ("m.mpg", "mpeg2video", {"b": "3000000", "bf": "2"}),
    ("open.mp4", "libx264", {"preset": "veryfast", "x264-params": "open-gop=1"})])
def test_libvlc_begins_exactly_in_every_container(name, codec, options, tmp_path):
    path = numbered_film(tmp_path / name, codec=codec, options=options, sound=False)
    stage = Stage(engine("vlc"), [path])
    try:
        stage.until(lambda: stage.shown)
        stage.playback.play(stage.instant(75))
        stage.until(lambda: len(stage.played()) > 10)
    finally:
        stage.close()
    played = stage.played()
    assert played[0][1] >= 75
    assert sum(claimed != seen for claimed, seen in played) <= 1


def test_a_machine_without_sound_does_not_hang(numbered, monkeypatch):
    monkeypatch.setenv("FILM_WORKSTATION_VLC", "--aout=none")
    stage = Stage(engine("vlc"), numbered[:1])
    try:
        stage.playback.play()
        stage.until(lambda: len(stage.played()) > 20)
    finally:
        stage.close()


@pytest.mark.parametrize("speed", [0.5, 1.0, 2.0])
def test_sound_keeps_its_pitch(speed, numbered, monkeypatch, tmp_path):
    heard = tmp_path / "heard.wav"
    monkeypatch.setenv("FILM_WORKSTATION_VLC", f"--aout=afile --audiofile-file={heard} --audiofile-format=s16")
    stage = Stage(engine("vlc"), numbered[:1])
    try:
        stage.playback.speed = speed
        stage.playback.play()
        stage.until(lambda: stage.shown and stage.shown[-1][1] >= (100 if speed >= 1 else 45))
    finally:
        stage.close()
    data = heard.read_bytes()
    samples = np.frombuffer(data[44:len(data) // 2 * 2], np.int16)[4000:]
    samples = samples[np.flatnonzero(samples)[0]:]
    with wave.open(str(heard)) as file:
        rate, channels = file.getframerate(), file.getnchannels()
    mono = samples[:len(samples) // channels * channels].reshape(-1, channels)[:, 0].astype(float)
    spectrum = np.abs(np.fft.rfft(mono * np.hanning(len(mono))))
    assert np.argmax(spectrum) * rate / len(mono) == pytest.approx(440, rel=0.02)


@pytest.mark.parametrize("kind", ["closed_gop.mp4", "00001.MTS", "late_start.ts"])
@pytest.mark.parametrize("speed", [0.125, 0.5, 1.0, 3.0])
def test_stretched_sound_has_its_length_and_pitch(kind, speed, clips):
    source = probe(clips(kind), "s1")
    sound = StretchedSound(source, 0.5, speed)
    data = b"".join(iter(lambda: sound.read(50000), b""))
    sound.close()
    mono = np.frombuffer(data[44:], np.int16)[::2].astype(float)
    assert len(mono) / 48000 == pytest.approx((2.5 - 0.5) / speed, abs=0.15 / speed)
    spectrum = np.abs(np.fft.rfft(mono * np.hanning(len(mono))))
    assert np.argmax(spectrum) * 48000 / len(mono) == pytest.approx(440, rel=0.02)


def test_stretched_sound_begins_at_its_sample(tmp_path):
    """A click in the sound comes out where it belongs."""
    path = tmp_path / "click.mov"
    subprocess.run(["ffmpeg", "-v", "error", "-f", "lavfi", "-i", "color=size=64x64:rate=25:duration=3", "-f", "lavfi",
                    "-i",
                    "aevalsrc='if(eq(n,96000),0.9,0)':sample_rate=48000:duration=3", "-c:v", "libx264", "-c:a",
                    "pcm_s16le", path], check=True)
    sound = StretchedSound(probe(path, "s1"), 1.25, 1.0)
    data = b"".join(iter(lambda: sound.read(50000), b""))
    sound.close()
    mono = np.frombuffer(data[44:], np.int16)[::2]
    assert abs(int(np.argmax(np.abs(mono))) - 36000) <= 48          # 1 ms


def test_a_silent_source_has_no_sound(clips):
    with pytest.raises(ValueError, match="no sound"):
        StretchedSound(probe(clips("open_gop.mp4"), "s1"), 0, 0.5)


def test_pictures_wait_for_late_sound(numbered):
    """The sound says that it runs behind; the pictures let it catch up."""
    class Late:
        def __init__(self):
            self.on_time = None

        def play(self):
            pass

        def set_volume(self, volume):
            self.volume = volume

        def close(self):
            pass

    late, paced = Late(), PacedEngine()
    paced.sound = lambda source, seconds, speed: late       # as a player would
    stage = Stage(paced, numbered[:1])
    try:
        stage.playback.play()
        stage.until(lambda: len(stage.played()) > 5)
        deck = stage.playback._transport.deck
        began, before = deck._began, deck._lag
        late.on_time(began + 0.7, 0.3)
        stage.until(lambda: deck._lag > before)
        assert deck._lag == pytest.approx(before + 0.5 * (0.4 - before), abs=0.02)
        assert late.volume == 1.0
    finally:
        stage.close()


def test_the_vlc_engine_needs_no_qt():
    code = ("import sys, workstation.film.playback, workstation.film.playback.vlc_engine;"
            "print([name for name in sys.modules if name.startswith('PySide6')])")
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert said.strip() == "[]"


def test_without_a_player_pictures_still_run(monkeypatch):
    monkeypatch.setitem(sys.modules, "workstation.film.playback.vlc_engine", None)
    monkeypatch.setitem(sys.modules, "workstation.film.playback.qt_engine", None)
    assert isinstance(best_engine(), PacedEngine)
    with pytest.raises(RuntimeError, match="libVLC"):
        best_engine("vlc")


# While a thread reads a module with classes that stand on Qt's, the application's may find no class for an object and
# end.
FINDING_A_PLAYER = """
import sys, threading
read_in = {}

class Finder:
    def find_spec(self, name, path=None, target=None):
        read_in[name] = threading.current_thread().name

sys.meta_path.insert(0, Finder())
sys.modules["workstation.film.playback.vlc_engine"] = None
from PySide6.QtCore import QCoreApplication, QTimer
from workstation.film.playback import best_engine
application = QCoreApplication([])
found = []

def find():
    found.append(best_engine().name)
    ended.set()

ended = threading.Event()
threading.Thread(target=find, name="finding a player", daemon=True).start()
looking = QTimer()
looking.timeout.connect(lambda: ended.is_set() and application.quit())
looking.start(20)
application.exec()
print(found, {read_in[name] for name in ("workstation.film.playback.qt_engine", "PySide6.QtMultimedia")})
"""


def test_what_stands_on_qt_is_read_in_the_applications_thread():
    done = subprocess.run([sys.executable, "-c", FINDING_A_PLAYER], capture_output=True, text=True, check=False,
                          timeout=60)
    assert done.stdout == "['the player built into Qt'] {'MainThread'}\n", done.stderr


def test_without_a_desk_qt_is_no_player():
    code = ("import sys; sys.modules['workstation.film.playback.vlc_engine'] = None\n"
            "from workstation.film.playback import best_engine\n"
            "print(type(best_engine()).__name__)")
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout
    assert said == "PacedEngine\n"


def test_clock_runs_between_reports():
    clock = PlayheadClock()
    assert not clock.running
    clock.set(100.0, 5.0)
    assert clock.at(102.0) == 7.0
    clock.set_speed(102.0, 0.5)
    assert clock.at(104.0) == 8.0
    clock.nudge(104.0, 1.0, 0.5)
    assert clock.at(104.0) == 8.5
    clock.stop(3.0)
    assert not clock.running
    assert clock.at(500.0) == 3.0


def test_recognition_wants_one_answer(numbered):
    film = Film((probe(numbered[0], "s1"),))
    with FrameReader(film) as reader:
        index = index_of(film.sources[0])
        pictures = [reader.frame_at(Instant("s1", int(index.pts[n]))) for n in range(12)]
    known = [(picture, signature(picture.frame)) for picture in pictures]
    for picture, values in known:
        assert recognise(values, known) is picture
    twice = [*known, (Picture(Instant("s1", 999999), pictures[3].frame), known[3][1])]
    assert recognise(known[3][1], twice) is None
    assert recognise(known[3][1], []) is None
    assert recognise(known[11][1], known[:8]) is None

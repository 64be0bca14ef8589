"""Puts measured camera work beside a film of :mod:`tests.coverage.filming`: numbers as a good camera gives them, with
faults of known size in known spans. No picture is looked at; what a fault measures is said in :data:`FAULTS`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from tests.coverage.filming import RULEBOOK, TICKS, Filming
from workstation.coverage.camera_work import CameraWork, MeasuredFilm
from workstation.coverage.checker import check
from workstation.coverage.coverage import Coverage
from workstation.film.camera_work.action import FIGURES
from workstation.film.camera_work.focus import BANDS
from workstation.film.camera_work.lean import LINES
from workstation.film.camera_work.record import Record
from workstation.film.camera_work.smears import CELLS
from workstation.film.camera_work.sound import CLIPPED, LEVEL, LOW, VOICE, VOICED
from workstation.film.camera_work.sound import FIGURES as SOUNDS

RATE = 25
WIDTH = 1280


class Camera:
    """The record of one source while it is made up. Times are seconds of film."""

    def __init__(self, seconds: float) -> None:
        count = int(seconds * RATE)
        self.times = np.arange(count) / RATE
        self.motion = np.zeros((count, 5), np.float32)
        self.gain = np.zeros(count, np.float32)
        self.looks = np.arange(0, seconds, 0.2)
        self.spectra = np.full((len(self.looks), BANDS), 12.0, np.float32)
        self.clipped = np.zeros((len(self.looks), 2), np.float32)
        self.acts = np.arange(0.1, seconds, 0.1)
        self.figures = np.tile(np.array([0.3, 0.5, 0.7, 0.3, 0.5, 0.7, 0.05], np.float32), (len(self.acts), 1))
        assert self.figures.shape[1] == FIGURES
        self.sound = np.zeros((int(seconds * 10), SOUNDS), np.float32)
        self.sound[:, [LEVEL, LOW, VOICE]] = -30, -10, -40
        chance = np.random.default_rng(4)
        self.kept = np.arange(0.0, seconds, 0.5)
        self.pictures = chance.integers(60, 180, (len(self.kept), 45, 80)).astype(np.uint8)
        self.moved = np.tile(np.array([0.0, 0.0, 0.04, 0.0, 1.0], np.float32), (len(self.kept), 1))
        self.details = np.full((len(self.kept), 22, CELLS), 6.0, np.float16)
        self.plumbed = np.arange(0.0, seconds, 1.0)
        self.upright = np.full((len(self.plumbed), LINES, 3), np.nan, np.float32)
        self.upright[:, :4] = [(place, 6 * place, 0.15) for place in (-0.3, -0.1, 0.1, 0.3)]    # outwards at the top

    def within(self, start: float, end: float) -> slice:
        return slice(*np.searchsorted(self.times, (start, end)))

    def sounding(self, start: float, end: float) -> slice:
        return slice(round(start * 10), round(end * 10))

    def record(self, ticks: float = TICKS, start: int = 0) -> Record:
        """With *ticks* a second from *start* on, as the source counts them."""
        def pts(times: np.ndarray) -> np.ndarray:
            return np.rint(times * ticks).astype(np.int64) + start

        return Record(pts(self.times), self.motion, self.gain, pts(self.looks), self.spectra, self.clipped,
                      pts(self.acts), self.figures, pts(self.plumbed), self.upright, pts(self.kept), self.pictures,
                      self.moved, self.details, self.sound,
                      np.array([WIDTH, 720]))


@dataclass(frozen=True)
class Fault:
    """``spoil`` puts the fault between two film times; ``rule`` must be broken there, and no other."""

    rule: str
    spoil: Callable[[Camera, float, float], None]


FAULTS: dict[str, Fault] = {}


def fault(rule: str):
    def keep(spoil: Callable[[Camera, float, float], None]):
        FAULTS[spoil.__name__] = Fault(rule, spoil)
        return spoil
    return keep


@fault("steady")
def shakes(camera: Camera, start: float, end: float) -> None:
    """8 thousandths of the width to either side, three times a second."""
    span = camera.within(start, end)
    path = 0.008 * np.sin(2 * np.pi * 3 * camera.times[span])
    camera.motion[span, 2] = np.diff(path, prepend=path[0])


@fault("level")
def tips_over(camera: Camera, start: float, end: float) -> None:
    """Six degrees, and back."""
    for at, way in ((start, 1), (end - 0.4, -1)):
        camera.motion[camera.within(at, at + 0.4), 1] = way * np.radians(6) / 10


@fault("level")
def is_tilted(camera: Camera, start: float, end: float) -> None:
    """Five degrees, from the shot's first picture to its last."""
    camera.upright[slice(*np.searchsorted(camera.plumbed, (15, 26))), :, 1] += 5


@fault("in focus")
def goes_soft(camera: Camera, start: float, end: float) -> None:
    """A blur of four pixels of 1280."""
    from workstation.film.camera_work.focus import _SQUARES
    span = slice(*np.searchsorted(camera.looks, (start, end)))
    camera.spectra[span] -= 16 * _SQUARES.ravel().clip(0, 0.5)


@fault("well exposed")
def burns_out(camera: Camera, start: float, end: float) -> None:
    """Half of the picture."""
    camera.clipped[slice(*np.searchsorted(camera.looks, (start, end))), 1] = 0.5


@fault("well exposed")
def light_jumps(camera: Camera, start: float, end: float) -> None:
    """Half as bright again within two pictures."""
    camera.gain[camera.within(start, start + 0.08)] = np.log2(1.5) / 2


@fault("well exposed")
def light_flickers(camera: Camera, start: float, end: float) -> None:
    """A twentieth to either side, five times a second."""
    span = camera.within(start, end)
    path = np.log2(1 + 0.05 * np.sin(2 * np.pi * 5 * camera.times[span]))
    camera.gain[span] = np.diff(path, prepend=path[0])


@fault("action in the frame")
def loses_the_action(camera: Camera, start: float, end: float) -> None:
    """The middle of what moves lies a twenty-fifth of the width from the edge."""
    camera.figures[slice(*np.searchsorted(camera.acts, (start, end))), :3] = 0.9, 0.96, 0.98


@fault("zoom hunting")
def hunts(camera: Camera, start: float, end: float) -> None:
    """In and out by a tenth, four times."""
    span = camera.within(start, start + 3)
    path = 0.1 * np.sin(2 * np.pi * (camera.times[span] - start) / 1.5)
    camera.motion[span, 0] = np.diff(path, prepend=path[0])


@fault("pan hunting")
def pans_to_and_fro(camera: Camera, start: float, end: float) -> None:
    """By a fifth of the width, there and back again twice in three seconds."""
    span = camera.within(start, start + 3)
    path = 0.1 * (1 - np.cos(2 * np.pi * (camera.times[span] - start) / 1.5))
    camera.motion[span, 2] = np.diff(path, prepend=path[0])


@fault("pan hunting")
def pans_too_far(camera: Camera, start: float, end: float) -> None:
    """A pan by a picture's width in two seconds, which ends a fifth too far and comes back within one."""
    span = camera.within(start - 1.6, end)
    path = np.interp(camera.times[span] - start, [-1.6, 0.4, 1.4], [0, 1.0, 0.8])
    camera.motion[span, 2] = np.diff(path, prepend=path[0])


@fault("clean lens")
def a_smear_on_the_lens(camera: Camera, start: float, end: float) -> None:
    """Two thirds of the detail, over an eighth of the picture's width, until it is wiped half a minute later."""
    camera.details[slice(*np.searchsorted(camera.kept, (start - 12, end + 20))), 10:15, 14:19] = 2.0


@fault("clean lens")
def a_drop_on_the_lens(camera: Camera, start: float, end: float) -> None:
    """A dark spot of a sixteenth of the picture's width, which stays until it is wiped half a minute later."""
    camera.pictures[slice(*np.searchsorted(camera.kept, (start - 12, end + 20))), 20:25, 30:35] = 40


@fault("clean sound")
def sound_is_cut_off(camera: Camera, start: float, end: float) -> None:
    """A twentieth of the samples."""
    camera.sound[camera.sounding(start, end), CLIPPED] = 0.05


@fault("clean sound")
def wind_blows(camera: Camera, start: float, end: float) -> None:
    """25 dB over all else."""
    camera.sound[camera.sounding(start, end + 2), LOW] = 25


@fault("clean sound")
def somebody_talks(camera: Camera, start: float, end: float) -> None:
    """30 dB over the usual."""
    camera.sound[camera.sounding(start, end), VOICE] = -10
    camera.sound[camera.sounding(start, end), VOICED] = 0.9


@fault("clean sound")
def the_sound_fails(camera: Camera, start: float, end: float) -> None:
    """Nothing at all."""
    camera.sound[camera.sounding(start, end + 2), LEVEL] = -90


def checked(film: Filming, camera: Camera | None, profile) -> Coverage:
    """The film checked by a profile, with what the camera measured; None: nothing was measured."""
    game = film.game
    work = CameraWork(game, MeasuredFilm(game.film, {game.film.sources[0].id: camera.record()})) if camera else None
    return check(game, film.steps(), profile, RULEBOOK, work)

"""The demo game as a coordinator would have tagged it: every shot, moment and play of the script."""

from __future__ import annotations

from collections.abc import Callable
from itertools import accumulate
from pathlib import Path

from ..film.film import Film
from ..film.sources import open_film
from ..film.time import Instant
from ..tagging.gamefile import SUFFIX, GameFile
from ..tagging.model import Angle, CameraPlace, Game, Moment, PlayTag, Shot
from ..tagging.new_angle import begin_angle, match_angle, read_angle, take
from ..tagging.records import Kind
from .end_zone import CREW
from .film_it import (
    ONE_FILE,
    clip_name,
    film_demo,
    film_end_zone,
    film_version,
    picture_at,
    pictures_in,
)
from .invented import script_of
from .view import WIDTH

_VERSION = "demo film.txt"      # beside the film: which version of the script and painter made it


def write_demo_game(to: Path, progress: Callable[[float], None] | None = None,
                    cancelled: Callable[[], bool] | None = None, *, layout: str = "files", tagged: bool = True,
                    width: int = WIDTH, seed: int = 0, end_zone: bool = False) -> Path:
    """Film the demo game into the folder ``to`` and write its game file; return the game file.

    What is already there is used again, with whatever was changed in it. If it belongs to a film
    of an earlier version of the demo, it is kept under another name beside the new one.
    ``tagged`` False leaves the tagging to the user; ``seed`` other than 0 is another invented game
    (:mod:`.invented`), in files of its own. See :func:`.film_it.film_demo` for the rest.

    ``end_zone`` films it from a second camera too, and adds and matches its film as anybody's.
    """
    if end_zone and tagged:
        share = progress or (lambda done: None)
        made = write_demo_game(to, lambda done: share(done * 0.7), cancelled, layout=layout, width=width, seed=seed)
        add_end_zone(made, Path(to) / ("film from the end zone" + (f" {seed}" if seed else "")),
                     lambda done: share(0.7 + done * 0.3), cancelled, seed=seed)
        return made
    to, script = Path(to), script_of(seed)
    game_path = to / f"{script.heading.title}{'' if tagged else ', not tagged'}{SUFFIX}"
    film_folder = to / (("film" if layout == "files" else "film in one file") + (f" {seed}" if seed else ""))
    names = [clip_name(index) for index in range(len(script.scenes))] if layout == "files" else [ONE_FILE]
    files = [film_folder / name for name in names]
    version, made_by = film_folder / _VERSION, f"{film_version(width)}\n"
    current = version.is_file() and version.read_text() == made_by and all(file.is_file() for file in files)
    if current and game_path.is_file():
        if progress:
            progress(1.0)
        return game_path
    if not current:
        if not version.exists() and (taken := next((file for file in files if file.exists()), None)):
            raise FileExistsError(f"{taken} is there already and was not filmed by the demo; choose another folder.")
        film_folder.mkdir(parents=True, exist_ok=True)
        version.write_text("not complete\n")
        files = film_demo(film_folder, layout, progress, cancelled, width=width, seed=seed)
    if game_path.exists():
        _set_aside(game_path)
    film = open_film(files)
    heading_only = Game(heading=script.heading, film=film)
    GameFile.create(game_path, game=demo_game(film, seed) if tagged else heading_only).close()
    version.write_text(made_by)
    return game_path


def add_end_zone(game_path: Path, folder: Path, progress: Callable[[float], None] | None = None,
                 cancelled: Callable[[], bool] | None = None, *, scenes: tuple[int, ...] | None = None,
                 cache: Path | None = None, seed: int = 0) -> None:
    """Film the game from the end zone into a folder, add that as a further angle and match it, by what is heard and the
    clocks alone. Nothing is done where the game has a further angle, or had one that was taken out."""
    report, stop = progress or (lambda share: None), cancelled or (lambda: False)
    files = film_end_zone(folder, lambda share: report(share * 0.7), cancelled, scenes=scenes, cache=cache, seed=seed)
    with GameFile.open(game_path) as file:
        if file.next_id(Kind.ANGLE) == 1 and not file.read_only:
            film = read_angle(file.game, files)
            file.do(begin_angle(file, Angle(0, "End zone", CameraPlace.END_ZONE, CREW), film))
            proposal = match_angle(file.game, 1, lambda share: report(0.7 + share * 0.3), stop)
            operation = take(proposal)
            if operation is not None:
                file.do(operation)
    report(1.0)


def demo_game(film: Film, seed: int = 0) -> Game:
    """The tagged game on a film of the demo, or of another seed: one source a scene, or one source for all.

    Raises ValueError if the film is not of the demo game.
    """
    script = script_of(seed)
    scenes, words = script.scenes, iter(script.words)
    starts = list(accumulate((pictures_in(scene) for scene in scenes), initial=0))
    if len(film.sources) not in (1, len(scenes)):
        raise ValueError(f"a film of the demo game has one file or {len(scenes)}, not {len(film.sources)}")

    def instant(index: int, picture: int) -> Instant:
        source = film.sources[index if len(film.sources) > 1 else 0]
        before = 0 if len(film.sources) > 1 else starts[index]
        return Instant(source.id, source.start_pts + round((before + picture) * source.frame_ticks))

    shots, moments, plays = [], [], []
    for index, scene in enumerate(scenes):
        shots.append(Shot(index + 1, instant(index, 0), instant(index, pictures_in(scene)), scene.kind, scene.opens_on,
                          scene.framing, scene.shows))
        for kind, seconds in sorted(scene.moments, key=lambda moment: moment[1]):
            moments.append(Moment(len(moments) + 1, kind, instant(index, picture_at(seconds))))
        for play, shot in ((scene.play, index + 1), *((play, None) for play in scene.then)):
            if play:
                plays.append(PlayTag(len(plays) + 1, float(len(plays) + 1), play, shot, next(words, ())))
    return Game(script.heading, film, tuple(shots), tuple(moments), tuple(plays), vocabulary=script.vocabulary)


def _set_aside(game_path: Path) -> None:
    """Keep a game file of an earlier film under a free name."""
    number = 1
    while (kept := game_path.with_name(f"{game_path.stem} (earlier {number}){SUFFIX}")).exists():
        number += 1
    for end in ("-wal", "-shm"):
        beside = game_path.with_name(game_path.name + end)
        if beside.exists():
            beside.rename(kept.with_name(kept.name + end))
    game_path.rename(kept)

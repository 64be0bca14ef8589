"""The work on a game's angles without a screen: ``angle GAME list|add|match|remove``."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Mapping
from pathlib import Path

from .film.time import spoken_time
from .tagging.angles import FIRST, angle_of, film_of, named_place
from .tagging.gamefile import GameFile
from .tagging.model import Angle, CameraPlace, Game
from .tagging.operations import RemoveAngle
from .terminal import CommandParser, Wrong, bar_for, commands_of, existing, print_table, say


def add_angle(made: CommandParser) -> None:
    """Give the ``angle`` command its arguments; ``work`` of what is parsed does it."""
    made.add_argument("game", type=Path, metavar="GAME", help="a game file")
    command, _ = commands_of(made, "what to do", "WHAT")

    command("list", _list, "List the angles, and how many plays each shows.")

    one = command("add", _add, "Add the footage of a further camera, and match it.")
    one.add_argument("footage", type=Path, nargs="+", metavar="FILE", help="its camera files, or their folder")
    one.add_argument("--place", choices=[place.value for place in CameraPlace], default=CameraPlace.END_ZONE.value,
                     help="where the camera stood; default: %(default)s")
    one.add_argument("--name", help="what the angle is called; default: after its place")
    one.add_argument("--crew", default="", help="who filmed it")
    one.add_argument("--profile", default="default", help="the crew profile it is judged by; default: %(default)s")

    one = command("match", _match, "Propose again which of its shots film which plays; what a person matched stays.")
    one.add_argument("angle", metavar="ANGLE", help="its name, or a part of it")

    one = command("compare", _compare, "What two angles of one place showed, play by play: a trainee beside a mentor.")
    one.add_argument("one", metavar="ANGLE", help="its name, or a part of it")
    one.add_argument("other", metavar="OTHER", help="the angle beside it")

    one = command("remove", _remove, "Take a further angle out of the game; its files stay where they are.")
    one.add_argument("angle", metavar="ANGLE", help="its name, or a part of it")
    one.add_argument("--with-tags", action="store_true", help="also what was marked and said on its film")


def _open(path: Path) -> GameFile:
    file = GameFile.open(existing(path))
    if file.why_read_only:
        file.close()
        raise Wrong(f"{path} cannot be changed: {file.why_read_only}")
    return file


def angles_named(game: Game, names: Iterable[str]) -> tuple[int, ...]:
    """The angles, the first one too, that a person means by these names or parts. Raises Wrong for an unclear one."""
    return tuple(_meant({FIRST: game.heading.angle, **_further(game)}, name) for name in names)


def _further(game: Game) -> dict[int, str]:
    return {each.angle.id: each.angle.name for each in game.angles}


def _meant(known: Mapping[int, str], name: str) -> int:
    wanted, listed = name.casefold(), ", ".join(known.values()) or "none besides the first"
    found = [number for number, each in known.items() if wanted in each.casefold()]
    exact = [number for number in found if known[number].casefold() == wanted] or found
    if len(exact) == 1:
        return exact[0]
    raise Wrong(f"no angle is called {name!r}; there is {listed}" if not exact else
                f"{name!r} may be {' or '.join(known[number] for number in exact)}; name it in full")


def _list(arguments: argparse.Namespace) -> int:
    with GameFile.open(existing(arguments.game), read_only=True) as file:
        game = file.game
    rows = []
    for number in (FIRST, *(each.angle.id for each in game.angles)):
        angle, film = angle_of(game, number), film_of(game, number)
        plays = (sum(tag.shot is not None for tag in game.plays) if number == FIRST
                 else sum(match.angle == number for match in game.matches))
        rows.append([angle.name, angle.place.value, angle.crew or "-", str(len(film.sources)),
                     spoken_time(float(film.duration)), f"{plays} of {len(game.plays)}"])
    print_table(["angle", "place", "crew", "files", "length", "plays"], rows)
    return 0


def _add(arguments: argparse.Namespace) -> int:
    from .tagging.new_angle import FootageInUse, begin_angle, read_angle
    place = CameraPlace(arguments.place)
    with _open(arguments.game) as file:
        try:
            film = read_angle(file.game, arguments.footage)
        except FootageInUse as error:
            raise Wrong(str(error)) from error
        angle = Angle(0, arguments.name or named_place(place), place, arguments.crew, arguments.profile)
        file.do(begin_angle(file, angle, film))
        number = file.game.angles[-1].angle.id
        say(f"{angle.name}: {len(film.sources)} files, {spoken_time(float(film.duration))}")
        return _matched(file, number)


def _match(arguments: argparse.Namespace) -> int:
    with _open(arguments.game) as file:
        return _matched(file, _meant(_further(file.game), arguments.angle))


def _matched(file: GameFile, number: int) -> int:
    """Propose matches, take them, and say what is left open. The exit status is 1 if plays are left open."""
    from .tagging.new_angle import match_angle, take
    proposal = match_angle(file.game, number, bar_for("matching"))
    operation = take(proposal)
    if operation is not None:
        file.do(operation)
    if proposal.clock is not None:
        say(f"{proposal.clock}")
    say(f"{len(proposal.matches)} of {len(file.game.plays)} plays matched")
    places = {tag.id: place for place, tag in enumerate(file.game.plays, 1)}
    for play, why in proposal.open.items():
        say(f"play {places[play]} is open: {why}")
    return 1 if proposal.open else 0


def _compare(arguments: argparse.Namespace) -> int:
    from .coverage.crews import SUBJECTS, compare_crews
    with GameFile.open(existing(arguments.game), read_only=True) as file:
        game = file.game
    one, other = angles_named(game, (arguments.one, arguments.other))
    if one == other:
        raise Wrong("name two different angles")
    made = compare_crews(game, one, other)
    names = [angle_of(game, number).name for number in (one, other)]
    places = {tag.id: place for place, tag in enumerate(game.plays, 1)}
    print_table(["play", *(f"{subject}: {name}" for subject in SUBJECTS for name in names)],
                [[str(places[row.play]), *(side.said for pair in row.showings.values() for side in pair)]
                 for row in made.rows])
    for subject, tallies in made.tallies.items():
        if any(expected for _, expected in tallies):
            say(f"{subject}: " + ", ".join(f"{name} {well} of {expected}"
                                           for name, (well, expected) in zip(names, tallies, strict=True)))
    return 0


def _remove(arguments: argparse.Namespace) -> int:
    with _open(arguments.game) as file:
        file.do(RemoveAngle(_meant(_further(file.game), arguments.angle), arguments.with_tags))
    return 0

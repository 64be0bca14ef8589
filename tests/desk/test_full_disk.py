"""The disk fills up while the desk is at work: each action says so or is saved, and what was acknowledged is there
later."""

from __future__ import annotations

import errno
import subprocess
from contextlib import suppress
from pathlib import Path

import pytest

from workstation.football.plays import Play, PlayKind
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Heading, Moment, MomentKind, Note
from workstation.tagging.operations import AddPlay, AddRecord, RemovePlay, SetHeading


@pytest.fixture
def small_disk(tmp_path):
    place = tmp_path / "disk"
    place.mkdir()
    if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(place)], check=False,
                      capture_output=True).returncode:
        pytest.skip("mounting a small file system needs root")
    yield place
    subprocess.run(["umount", "-l", str(place)], check=True)


def fill(place: Path) -> Path:
    filler = place / "filler"
    try:
        with filler.open("wb", buffering=0) as stream:
            for size in (65536, 4096, 512, 1):
                with suppress(OSError):
                    while stream.write(b"x" * size):
                        pass
    except OSError as error:
        assert error.errno == errno.ENOSPC
    return filler


def test_every_action_on_a_full_disk(qtbot, window, small_game, small_disk):
    with GameFile.open(small_game, read_only=True) as made:
        game = made.game
    path = small_disk / "Friday.game"
    GameFile.create(path, game=game).close()
    window.opening.open_game(path)
    qtbot.waitUntil(lambda: window.session is not None and not window.jobs.running, timeout=30000)
    session = window.session
    first, plays = game.film.sources[0].first, game.plays
    actions = {
        "play": lambda: session.do(AddPlay(Play(PlayKind.RUN, gain=3.0, comment="x" * 3000), None)),
        "note": lambda: session.do(AddRecord(Note(0, first, "a long note " * 2000))),
        "moment": lambda: session.do(AddRecord(Moment(0, MomentKind.SIGNAL, first))),
        "heading": lambda: session.do(SetHeading(Heading(title="Another " * 500, home="A", visitors="B"))),
        "remove": lambda: session.do(RemovePlay(session.game.plays[-1].id)),
        "undo": session.undo,
        "redo": session.redo,
    }
    filler = fill(small_disk)
    refused, saved = 0, 0
    for _ in range(12):
        for act in actions.values():
            window.message.hide()
            before = session.game
            done = act()
            if done is None:
                assert session.game is before or session.game == before
                if window.message.isVisible():
                    assert "full" in window.message.text, window.message.text
                    refused += 1
            else:
                saved += 1
    assert refused >= 5 and session.file.moved is None
    kept = session.game
    with pytest.raises(Exception, match="full"):
        for number in range(200):
            session.file.keep_draft(f"half a line {number} " * 400)
    for write in (lambda: window.saving.write_document(session, small_disk / "a.json"),
                  lambda: window.saving.write_sheet(session, small_disk / "a.xlsx"),
                  lambda: window.saving.write_picture(session, small_disk / "a.png")):
        window.message.hide()
        write()
        qtbot.waitUntil(lambda: not window.jobs.running, timeout=30000)
        qtbot.waitUntil(window.message.isVisible, timeout=5000)
        assert "not written" in window.message.text
    assert not [each.name for each in small_disk.iterdir() if each.suffix in (".json", ".xlsx", ".png")
                or ".part" in each.name]
    filler.unlink()
    assert session.do(AddRecord(Note(0, first, "there is room again"))) is not None
    window.close_game()
    with GameFile.open(path, read_only=True) as again:
        assert [tag.play for tag in again.game.plays] == [tag.play for tag in kept.plays]
        assert again.game.heading == kept.heading and again.game.moments == kept.moments
        assert {note.text for note in again.game.notes} == {note.text for note in kept.notes} | {"there is room again"}
    assert plays

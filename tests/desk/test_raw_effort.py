"""The demo's raw film, tagged whole in the window by real keys: at most six keys a play, all in."""

from __future__ import annotations

import shutil

import pytest
from PySide6.QtCore import Qt
from workstation.demo.game_file import demo_game
from workstation.demo.script import HEADING

from tests.desk.raw_tagging import RawTagger
from workstation.tagging.model import MomentKind


@pytest.fixture
def raw(demo_game_file, tmp_path):
    """A folder with the demo's camera files and nothing else."""
    folder = tmp_path / "card"
    folder.mkdir()
    for path in (demo_game_file.parent / "film").glob("*.MP4"):
        shutil.copy(path, folder / path.name)
    return folder


def test_the_demo_game_is_tagged_from_raw_files_in_six_keys_a_play(qtbot, window, raw, monkeypatch):
    from workstation.desk.tag import taking
    monkeypatch.setattr(taking, "MOMENT", 40)       # milliseconds; nobody has to see it here
    monkeypatch.setattr(taking, "SHOT", 400)
    window.opening.take_paths([raw])
    qtbot.waitUntil(lambda: window.session is not None and window.room is not None and window.room.pages.is_open,
                    timeout=60000)
    room, session = window.room, window.session
    form = room.pages.heading
    form.fields["home"].setText(HEADING.home)
    form.fields["visitors"].setText(HEADING.visitors)
    truth = demo_game(session.film)
    tagger = RawTagger(window, truth, lambda done: qtbot.waitUntil(done, timeout=60000))
    qtbot.keyClick(form.fields["home"], Qt.Key.Key_Return)
    tagger.keys["form"] += 1
    qtbot.waitUntil(lambda: not window.jobs.running and bool(room.suggestions.found.found), timeout=600000)
    tagger.tag_all()
    assert tagger.differences() == []
    keys, plays = tagger.keys.total(), len(session.game.plays)
    print(f"{keys} keys for {plays} plays, {keys / plays:.2f} a play: {dict(tagger.keys.most_common())}")
    assert plays == len(truth.plays) and keys / plays <= 6
    taken = [moment for moment in session.game.moments if moment.uncertainty]
    assert len(taken) > plays and {moment.kind for moment in taken} == {
        MomentKind.SNAP, MomentKind.DEAD_BALL, MomentKind.FULL_WIDE}

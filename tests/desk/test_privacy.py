"""What the computer remembers about people's games lies where only they look, and can be forgotten."""

from __future__ import annotations

import stat
import tempfile
from pathlib import Path

import platformdirs
from PySide6.QtGui import QAction

from workstation.film import cache


def test_the_menu_forgets_the_games_and_what_was_kept_about_films(qtbot, opened, monkeypatch, tmp_path):
    monkeypatch.setenv("FILM_WORKSTATION_CACHE", str(tmp_path / "cache"))
    cache.save_facts("0123", {"a": 1})
    opened.settings.setValue("look/dark", False)
    opened.settings.setValue("season/folders", [str(tmp_path)])
    path, plays = opened.session.file.path, opened.session.game.plays
    (entry,) = [action for action in opened.menu_button.menu().findChildren(QAction) if "Forget" in action.text()]
    entry.trigger()
    assert opened.settings.value("season/folders") is None
    assert opened.opening.recent() == [] and cache.load_facts("0123") is None
    assert not (tmp_path / "cache" / "film").exists()
    assert opened.settings.value("look/dark") in (False, "false")
    assert opened.session.game.plays == plays and path.exists()     # the open game goes on
    opened.settings.sync()
    assert str(path) not in Path(opened.settings.fileName()).read_text()
    opened.close_game()
    assert opened.welcome.isVisible()


def test_what_is_kept_about_films_is_the_users_own(monkeypatch, tmp_path):
    monkeypatch.delenv("FILM_WORKSTATION_CACHE", raising=False)
    assert cache.folder().is_relative_to(platformdirs.user_cache_path("film-workstation"))
    assert not cache.folder().is_relative_to(tempfile.gettempdir())
    monkeypatch.setenv("FILM_WORKSTATION_CACHE", str(tmp_path / "cache"))
    cache.save_facts("0123", {"a": 1})
    cache.begin_attempt("0123")
    (file,) = cache.folder().glob("*.json")
    assert stat.S_IMODE(file.stat().st_mode) & 0o077 == 0      # for nobody else to read

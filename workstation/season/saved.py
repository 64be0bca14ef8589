"""Breakdowns that were saved: one JSON file each, in the user's configuration, or wherever somebody keeps theirs."""

from __future__ import annotations

import json
from pathlib import Path

from platformdirs import user_config_path

from ..film.writing import written_whole
from .breakdown import Recipe
from .faults import DefinitionError

SUFFIX = ".breakdown.json"
_LARGEST = 1 << 20      # bytes; a breakdown has some hundred


def folder() -> Path:
    """Where breakdowns are kept unless somebody names a file."""
    return user_config_path("film-workstation") / "breakdowns"


def names() -> list[str]:
    """The saved breakdowns, by name."""
    return sorted(path.name.removesuffix(SUFFIX) for path in folder().glob(f"*{SUFFIX}"))


def path_of(name: str) -> Path:
    """The file of the breakdown of that name. Raises DefinitionError for a name that no file can have."""
    if not name.strip() or any(each in name for each in '/\\:*?"<>|\0') or name.startswith(".") or len(name) > 80:
        raise DefinitionError(f"{name!r} cannot be the name of a breakdown; use letters, digits and spaces")
    return folder() / f"{name.strip()}{SUFFIX}"


def save(recipe: Recipe) -> Path:
    """Save a breakdown under its name, over one of the same name. Raises DefinitionError and OSError."""
    path = path_of(recipe.name)
    path.parent.mkdir(parents=True, exist_ok=True)
    with written_whole(path) as temporary:
        temporary.write_text(json.dumps(recipe.as_json(), indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    return path


def load(name: str) -> Recipe:
    """The saved breakdown of that name, or that in the file of that name. Raises DefinitionError."""
    named = Path(name)
    path = named if named.suffix == ".json" else path_of(name)
    try:
        if path.stat().st_size > _LARGEST:
            raise DefinitionError(f"{path}: this is no breakdown, it is too large")
        return Recipe.of_json(json.loads(path.read_text(encoding="utf-8")))
    except OSError as error:
        there = ", ".join(names()) or "none yet"
        raise DefinitionError(f"there is no breakdown {name!r} ({error.strerror}); saved are {there}") from None
    except (ValueError, RecursionError) as error:
        raise DefinitionError(f"{path}: {error}") from None


def forget(name: str) -> None:
    """Delete a saved breakdown. Raises DefinitionError and OSError."""
    path_of(name).unlink(missing_ok=True)

"""Definition files of a staff's own words: TOML, delivered ones and a person's own, read and written.

``resources/profiles/words/default.toml`` says in its head what an entry may hold.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any, TypeVar

from platformdirs import user_config_path

from ...definition_files import UnreadableDefinition, definition_names, definition_text, delivered, quoted
from ...film.writing import written_whole
from ..model import Game
from .definition import About, Follows, Of, OwnWord, Vocabulary, WordKind, WordValue, problems

_DELIVERED = "profiles", "words"
_TOP = ("title", "words")
_WORD = ("kind", "about", "spoken", "carried", "values", "follows")
_FOLLOWS = ("word", "of", "values")
_MARK = "# A staff's own words, written by the desk. What an entry may hold is said in the delivered default.toml.\n"

Choice = TypeVar("Choice", WordKind, About, Of)


class VocabularyError(ValueError):
    """A definition file that cannot be used. ``problems`` says each reason in one line: where, what, what to do."""

    def __init__(self, where: str, *found: str):
        self.problems = tuple(f"{where}: {problem}" for problem in found)
        more = f"\nand {len(found) - 10} more" if len(found) > 10 else ""
        super().__init__("\n".join(self.problems[:10]) + more)


def user_words_folder() -> Path:
    """Where a person's own definition files lie; it need not exist."""
    return user_config_path("film-workstation") / "profiles" / "words"


def vocabulary_names(folder: Path | None = None) -> list[str]:
    """Names of the definitions that can be loaded: those in *folder* (the user's own) and the delivered ones."""
    return definition_names([folder or user_words_folder()], delivered(*_DELIVERED))


def load_vocabulary(name: str | Path = "default", folder: Path | None = None) -> Vocabulary:
    """Load a definition by name (in *folder*, the user's own, before the delivered ones), or a TOML file by its path.

    Raises :class:`VocabularyError`.
    """
    path = Path(name)
    if not isinstance(name, Path) and path.suffix != ".toml":
        path = (folder or user_words_folder()) / f"{name}.toml"
        if not path.is_file():
            shipped = delivered(*_DELIVERED) / f"{name}.toml"
            if not shipped.is_file():
                raise VocabularyError(f"own words {str(name)!r}", "there is no such definition; known are "
                                      f"{', '.join(vocabulary_names(folder))}. Your own belong in {path.parent}")
            return read_vocabulary(shipped.read_text(encoding="utf-8"), f"{name}.toml")
    try:
        return read_vocabulary(definition_text(path), str(path))
    except UnreadableDefinition as error:
        raise VocabularyError(str(path), f"it cannot be read: {error}") from None


def vocabulary_of(game: Game) -> Vocabulary:
    """The words that *game* was tagged with, or the staff's own (``default``) while it has none. Raises
    :class:`VocabularyError` where those cannot be read."""
    return game.vocabulary if game.vocabulary != Vocabulary() else load_vocabulary()


def save_vocabulary(vocabulary: Vocabulary, name: str = "default", folder: Path | None = None) -> Path:
    """Write a definition as a person's own, over one of that name. Raises :class:`VocabularyError` and OSError."""
    if found := problems(vocabulary):
        raise VocabularyError("own words", *found)
    folder = folder or user_words_folder()
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{name}.toml"
    with written_whole(path) as temporary:
        temporary.write_text(vocabulary_text(vocabulary), encoding="utf-8")
    return path


# -- reading ---------------------------------------------------------------------------------------------------------


@lru_cache(maxsize=16)
def read_vocabulary(text: str, where: str = "own words") -> Vocabulary:
    """The definition in a TOML text, called *where* in errors. Raises :class:`VocabularyError` with all of them."""
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise VocabularyError(where, f"this is not valid TOML: {error}; mend that place") from None
    except (ValueError, RecursionError) as error:
        raise VocabularyError(where, f"this is not a definition: {error}; take that out") from None
    found: list[str] = []
    _known(table, _TOP, "the file", found)
    title = table.get("title", "")
    if not isinstance(title, str) or len(title) > 200:
        found.append("'title' must be a text of at most 200 characters")
        title = ""
    entries = table.get("words", {})
    if not isinstance(entries, dict):
        raise VocabularyError(where, "'words' must hold a table for each word, like [words.formation]")
    words = [_word(name, entry, found) for name, entry in entries.items()]
    vocabulary = Vocabulary(title, tuple(word for word in words if word is not None))
    if found := found or problems(vocabulary):
        raise VocabularyError(where, *found)
    return vocabulary


def _word(name: str, entry: Any, found: list[str]) -> OwnWord | None:
    where = f"word {name!r}"
    if not isinstance(entry, dict):
        found.append(f"{where}: it must be a table, like [words.{quoted(name)}]")
        return None
    before = len(found)
    _known(entry, _WORD, where, found)
    kind = _choice(WordKind, entry.get("kind", WordKind.ONE), f"{where}: 'kind'", found)
    about = _choice(About, entry.get("about", About.EVERY_SNAP), f"{where}: 'about'", found)
    spoken = _texts(entry.get("spoken", []), f"{where}: 'spoken'", found)
    carried = entry.get("carried", False)
    if not isinstance(carried, bool):
        found.append(f"{where}: 'carried' must be true or false, not {carried!r:.40}")
    values = entry.get("values", {})
    if not isinstance(values, dict):
        found.append(f"{where}: 'values' must be a table of values with their short forms, like {{ trips = [\"t\"] }}")
        values = {}
    listed = tuple(WordValue(value, _texts(forms, f"{where}: value {value!r}", found))
                   for value, forms in values.items())
    follows = entry.get("follows", [])
    if not isinstance(follows, list):
        found.append(f"{where}: 'follows' must be a list of rules, like [{{ word = \"hash\" }}]")
        follows = []
    rules = tuple(_follows(rule, f"{where}: 'follows', rule {number}", found) for number, rule in enumerate(follows, 1))
    if len(found) > before or kind is None or about is None:
        return None
    return OwnWord(name, kind, about, listed, spoken, carried, tuple(rule for rule in rules if rule is not None))


def _follows(rule: Any, where: str, found: list[str]) -> Follows | None:
    if not isinstance(rule, dict) or not isinstance(rule.get("word"), str):
        found.append(f"{where}: it must be a table that names a word, like {{ word = \"hash\" }}")
        return None
    _known(rule, _FOLLOWS, where, found)
    of = _choice(Of, rule.get("of", Of.THIS_PLAY), f"{where}: 'of'", found)
    values = rule.get("values", {})
    if not isinstance(values, dict) or not all(isinstance(then, str) for then in values.values()):
        found.append(f"{where}: 'values' must be a table of texts, like {{ \"left hash\" = \"field right\" }}")
        return None
    return None if of is None else Follows(rule["word"], of, tuple(values.items()))


def _known(table: dict[str, Any], names: Sequence[str], where: str, found: list[str]) -> None:
    if unknown := sorted(table.keys() - set(names)):
        found.append(f"{where}: unknown entry {', '.join(map(repr, unknown))}; there is {', '.join(names)}")


def _choice(kind: type[Choice], said: Any, where: str, found: list[str]) -> Choice | None:
    for each in kind:
        if said == each.value:
            return each
    found.append(f"{where} must be one of {', '.join(repr(each.value) for each in kind)}, not {said!r:.40}")
    return None


def _texts(said: Any, where: str, found: list[str]) -> tuple[str, ...]:
    if isinstance(said, list) and all(isinstance(each, str) for each in said):
        return tuple(said)
    found.append(f"{where} must be a list of texts, like [\"t\"], not {said!r:.40}")
    return ()


# -- writing ---------------------------------------------------------------------------------------------------------


def vocabulary_text(vocabulary: Vocabulary) -> str:
    """The definition file that :func:`read_vocabulary` reads."""
    lines = [_MARK, f"title = {quoted(vocabulary.title)}"]
    for word in vocabulary.words:
        lines += ["", f"[words.{quoted(word.name)}]", f"kind = {quoted(word.kind)}", f"about = {quoted(word.about)}"]
        if word.spoken:
            lines.append(f"spoken = {_list(word.spoken)}")
        if word.carried:
            lines.append("carried = true")
        if word.values:
            lines.append("values = " + _table((value.name, _list(value.spoken)) for value in word.values))
        if word.follows:
            lines.append(f"follows = [{', '.join(_rule(rule) for rule in word.follows)}]")
    return "\n".join(lines) + "\n"


def _rule(rule: Follows) -> str:
    parts = [("word", quoted(rule.word)), ("of", quoted(rule.of))]
    if rule.values:
        parts.append(("values", _table((said, quoted(then)) for said, then in rule.values)))
    return _table(parts)


def _table(entries: Iterable[tuple[str, str]]) -> str:
    return "{ " + ", ".join(f"{quoted(key)} = {value}" for key, value in entries) + " }"


def _list(texts: Iterable[str]) -> str:
    return f"[{', '.join(map(quoted, texts))}]"

"""A crew's own words for what no rule sees, kept in a profile of their own that lies on the one they used before."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path

from ..definition_files import quoted
from ..film.writing import written_whole
from .profile import Profile, ProfileError, load_profile, profile_names, user_profile_folder

_MARK = "# The crew's words, written by the desk. Put other settings into the profile that this one is based on."
_LONGEST = 60       # characters of a word, and of a file's name


def read_words(lines: str) -> dict[str, str]:
    """The words of a list with one to a line, each with its advice behind a colon if it has one. Raises ProfileError
    for a line without a word, or a word that comes twice."""
    words: dict[str, str] = {}
    for number, line in enumerate(lines.splitlines(), 1):
        word, _, advice = (" ".join(part.split()) for part in line.partition(":"))
        if not word and not advice:
            continue
        if not word:
            raise ProfileError(f"line {number}: an advice needs its word before the colon")
        if len(word) > _LONGEST:
            raise ProfileError(f"line {number}: a word has at most {_LONGEST} characters, and this {len(word)}; the "
                               "advice comes behind a colon")
        if word.casefold() in map(str.casefold, words):
            raise ProfileError(f"line {number}: {word!r} is in the list already")
        words[word] = advice
    return words


def listed_words(words: Mapping[str, str]) -> str:
    """The list that :func:`read_words` reads."""
    return "\n".join(f"{word}: {advice}" if advice else word for word, advice in words.items())


def save_words(profile: str, remarks: Mapping[str, str], praise: Sequence[str], crew: str = "",
               folder: Path | None = None) -> str:
    """Keep the words for a crew whose profile is *profile* (a name or a path); returns the profile that has them.

    A profile that was written here is overwritten; any other is left alone, and a new one in *folder* (the user's own)
    is based on it. Raises ProfileError and OSError.
    """
    folder = folder or user_profile_folder()
    both = {word.casefold() for word in remarks} & {word.casefold() for word in praise}
    if both:
        raise ProfileError(f"{sorted(both)[0]!r} cannot be praise and something to mend at once; take it out of one "
                           "list")
    before = load_profile(profile, [folder])
    path = _own(profile, folder)
    if path is None:
        based_on, name = profile, _new_name(crew, folder)
        path = folder / f"{name}.toml"
    else:
        based_on, name = tomllib.loads(path.read_text(encoding="utf-8"))["based_on"], profile
    below = load_profile(based_on, [folder])
    if Path(based_on).suffix == ".toml":
        based_on = str(Path(based_on).absolute())
    folder.mkdir(parents=True, exist_ok=True)
    with written_whole(path) as temporary:
        temporary.write_text(_text(before, below, based_on, remarks, praise, crew), encoding="utf-8")
    load_profile(name, [folder])        # reports now what cannot be read back
    return name


def _own(profile: str, folder: Path) -> Path | None:
    """The file of *profile* if it was written here."""
    path = Path(profile) if Path(profile).suffix == ".toml" else folder / f"{profile}.toml"
    try:
        return path if path.read_text(encoding="utf-8").startswith(_MARK) else None
    except (OSError, UnicodeDecodeError):
        return None


def _new_name(crew: str, folder: Path) -> str:
    plain = "_".join("".join(letter if letter.isalnum() else " " for letter in crew.casefold()).split())
    stem = f"words_of_{plain}"[:_LONGEST] if plain else "our_words"
    taken, number, name = set(profile_names([folder])), 1, stem
    while name in taken:
        number += 1
        name = f"{stem}_{number}"
    return name


def _text(before: Profile, below: Profile, based_on: str, remarks: Mapping[str, str], praise: Sequence[str],
          crew: str) -> str:
    title = before.title if before.name != below.name else f"{below.title}, words of {crew or 'the crew'}"
    # All are dropped, so that those that stay come in the order of the list too.
    dropped = [quoted(word) for word in below.remarks]
    lines = [_MARK, "", f"based_on = {quoted(based_on)}", f"title = {quoted(title)}",
             f"dropped = [{', '.join(dropped)}]", f"praise = [{', '.join(map(quoted, praise))}]", "", "[remarks]",
             *(f"{quoted(word)} = {quoted(advice)}" for word, advice in remarks.items())]
    return "\n".join(lines) + "\n"

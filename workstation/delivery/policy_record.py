"""What a film is told about each article of the policies it is held to, as text and as JSON, beside the film."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from ..coverage.policy import ArticleVerdict, Policy, yielded
from ..film.time import spoken_time
from ..film.writing import written_whole
from ..tagging.model import Game

NAMES = ("policies.txt", "policies.json")


def record_lines(told: Sequence[ArticleVerdict]) -> list[str]:
    """One line per article, then a line per place or per thing that is missing; a policy's title and source before its
    articles, and at the end what practice yields."""
    lines: list[str] = []
    policy: Policy | None = None
    for each in told:
        if each.policy is not policy:
            policy = each.policy
            lines += ["", policy.title, policy.source] if lines else [policy.title, policy.source]
        lines.append(f"  {each.article.name}: {each.verdict}. {each.article.says}")
        lines += [f"    {spoken_time(finding.time)}  {finding.title}" for finding in each.where]
        lines += [f"    {missing}" for missing in each.missing]
    policies = list(dict.fromkeys(each.policy.name for each in told))
    gives = yielded([next(each.policy for each in told if each.policy.name == name) for name in policies])
    if gives:
        lines += ["", "Where the crew's practice yields to whoever receives the film:",
                  *(f"  {line}" for line in gives)]
    return lines


def record_plain(game: Game, told: Sequence[ArticleVerdict]) -> list[dict[str, object]]:
    """The same as plain data; plays by their number in the game, from 1."""
    numbers = {tag.id: place for place, tag in enumerate(game.plays, 1)}
    return [{"policy": each.policy.title, "source": each.policy.source, "article": each.article.name,
             "says": each.article.says, "verdict": str(each.verdict),
             "where": [{"at_seconds": round(finding.time, 3), "play": numbers.get(finding.play or 0),
                        "what": finding.title}
                       for finding in each.where],
             "missing": list(each.missing)} for each in told]


def write_record(game: Game, told: Sequence[ArticleVerdict], folder: Path) -> list[Path]:
    """Write :data:`NAMES` into *folder*; nothing if the film is held to no policy. Raises OSError."""
    if not told:
        return []
    texts = ("\n".join(record_lines(told)), json.dumps(record_plain(game, told), indent=1, ensure_ascii=False))
    written = []
    for name, text in zip(NAMES, texts, strict=True):
        with written_whole(folder / name) as temporary:
            temporary.write_text(text + "\n", encoding="utf-8")
        written.append(folder / name)
    return written

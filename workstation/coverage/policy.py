"""Published film exchange policies: what they ask of a film, and whether a film meets them, article by article.

A policy is a TOML file in ``resources/profiles/policies`` or in ``policies`` beside a person's own profiles.
``short`` is a name of two or three words, ``source`` says where it can be read and when it was; each ``[[article]]``
has a ``name``, what it ``says`` in our own words, and either the ``rules`` whose findings break it, the ``views`` that
every play is to be seen in (each a list of camera places, any of which will do), or, in ``cannot``, why a film cannot
tell. Of the rules in ``severe`` only an error breaks it; ``kinds`` are the plays it is about, if not
all; ``at_end`` needs the film tagged to its end. ``[rules.NAME]`` changes settings of the crew's profile, ``[[wins]]``
says in words where practice yields.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cache
from pathlib import Path
from typing import Any

from ..definition_files import UnreadableDefinition, definition_names, definition_text, delivered
from ..football.plays import IN_PLAY, PlayKind
from ..football.speaking import spoken_plays
from ..tagging.angles import plays_shown
from ..tagging.layout import layout_of
from ..tagging.model import CameraPlace, Game
from .coverage import Coverage
from .finding import Direction, Finding, Severity
from .profile import Profile, ProfileError, fitted_rule, known_rule, parsed, user_profile_folder
from .rules import rule_class


class Compliance(StrEnum):
    """Whether a film meets an article of the policy, or why that is not judged."""

    MET = "met"
    NOT_MET = "not met"
    CANNOT = "cannot be judged"


@dataclass(frozen=True, slots=True)
class Article:
    """``rules`` and ``severe`` name rules as findings carry them."""

    name: str
    says: str
    rules: frozenset[str] = frozenset()
    severe: frozenset[str] = frozenset()
    kinds: frozenset[PlayKind] = frozenset()
    at_end: bool = False
    cannot: str = ""
    views: tuple[frozenset[CameraPlace], ...] = ()

    def is_broken_by(self, finding: Finding, kind: PlayKind | None) -> bool:
        """Whether *finding* breaks the article. *kind*: the kind of the finding's play."""
        if self.kinds and kind not in self.kinds:
            return False
        return finding.rule in self.rules or (finding.rule in self.severe and finding.severity is Severity.ERROR)


@dataclass(frozen=True)
class Policy:
    """``settings`` are changed settings by the rule's name in files, ``wins`` the titles of rules where practice
    yields, each with the reason, ``short`` a name of two or three words."""

    name: str
    title: str
    source: str
    articles: tuple[Article, ...]
    settings: Mapping[str, Mapping[str, object]] = field(default_factory=dict)
    wins: tuple[tuple[str, str], ...] = ()
    short: str = ""


@dataclass(frozen=True, slots=True)
class ArticleVerdict:
    """``where`` are the findings that break it, ``missing`` what would have to be tagged, with the plays by id."""

    policy: Policy
    article: Article
    verdict: Compliance
    where: tuple[Finding, ...] = ()
    missing: tuple[str, ...] = ()


def policy_names(folder: Path | None = None) -> list[str]:
    """Names of the policies that come with the program and those in *folder*, the user's own unless given."""
    own = folder or user_profile_folder() / "policies"
    return definition_names([own], delivered(*_DELIVERED))


def load_policy(name: str, folder: Path | None = None) -> Policy:
    """Load a policy by name. Raises ProfileError if it is unknown, unreadable, or names unknown rules."""
    own = (folder or user_profile_folder() / "policies") / f"{name}.toml"
    shipped = delivered(*_DELIVERED) / f"{name}.toml"
    try:
        if own.is_file():
            return _read(name, definition_text(own))
        if shipped.is_file():
            return _read(name, shipped.read_text(encoding="utf-8"))
    except (OSError, UnreadableDefinition) as error:
        raise ProfileError(f"policy {name!r} cannot be read: {error}") from None
    raise ProfileError(f"there is no policy {name!r}; known: {', '.join(policy_names(folder))}. "
                       f"Your own belong in {own.parent}")


def policies_of(game: Game) -> tuple[list[Policy], list[ProfileError]]:
    """The policies that the game's heading names, and why some of them cannot be loaded."""
    policies, errors = [], []
    for name in game.heading.policies:
        try:
            policies.append(load_policy(name))
        except ProfileError as error:
            errors.append(error)
    return policies, errors


def hold_to(profile: Profile, policies: Sequence[Policy]) -> Profile:
    """*profile* with what the policies change: the need of whoever receives the film wins."""
    for policy in policies:
        if not policy.settings:
            continue
        by_name = {rule_class(name).title.lower(): changed for name, changed in policy.settings.items()}
        rules = tuple(replace(rule, **dict[str, Any](by_name[rule.name])) if rule.name in by_name else rule
                      for rule in profile.rules)
        profile = replace(profile, rules=rules)
    return profile


def cited(findings: Iterable[Finding], policies: Sequence[Policy], game: Game) -> list[Finding]:
    """The findings, each with the articles that ask for it."""
    kinds = _kinds(game)
    named = []
    for finding in findings:
        articles = [f"{policy.title}: {article.name}" for policy in policies for article in policy.articles
                    if article.is_broken_by(finding, kinds.get(finding.play or 0))]
        named.append(replace(finding, article="; ".join(articles)) if articles else finding)
    return named


def yielded(policies: Sequence[Policy]) -> list[str]:
    """Where the crew's practice yields to a policy, a line each, for the summary."""
    return [f"{rule}: {why} ({policy.title})." for policy in policies for rule, why in policy.wins]


def verdicts(game: Game, coverage: Coverage, policies: Sequence[Policy]) -> list[ArticleVerdict]:
    """Go through every article. Waived findings do not break one."""
    return [_judged(game, coverage, policy, article) for policy in policies for article in policy.articles]


def _judged(game: Game, coverage: Coverage, policy: Policy, article: Article) -> ArticleVerdict:
    if article.cannot:
        return ArticleVerdict(policy, article, Compliance.CANNOT, missing=(article.cannot,))
    if article.views:
        return _views_judged(game, policy, article)
    kinds = _kinds(game)
    where = tuple(finding for finding in coverage.findings
                  if not finding.waived and article.is_broken_by(finding, kinds.get(finding.play or 0)))
    if where:
        return ArticleVerdict(policy, article, Compliance.NOT_MET, where)
    missing = []
    if article.at_end and not coverage.complete:
        missing.append("the film is not tagged to its end")
    elif not article.at_end and not any(belief.play and (not article.kinds or kinds.get(belief.play) in article.kinds)
                                        for belief in coverage.beliefs):
        missing.append(f"no {', '.join(sorted(article.kinds)) or 'play'} is tagged on the film")
    open_cases: dict[str, list[int]] = {}
    for each in coverage.not_judged:
        if (each.rule in article.rules | article.severe
                and (not article.kinds or kinds.get(each.play or 0) in article.kinds)):
            open_cases.setdefault(each.missing, []).append(each.play or 0)
    missing += [f"{what} is not marked at {_plays(game, plays)}" for what, plays in open_cases.items()]
    missing += [f"look again at {finding.title}" for finding in coverage.look_again
                if article.is_broken_by(finding, kinds.get(finding.play or 0))]
    return ArticleVerdict(policy, article, Compliance.CANNOT if missing else Compliance.MET, missing=tuple(missing))


def _views_judged(game: Game, policy: Policy, article: Article) -> ArticleVerdict:
    """Whether each play is seen in every view, over all angles of the game."""
    plays = [tag.id for tag in game.plays if tag.play.kind in IN_PLAY
             and (not article.kinds or tag.play.kind in article.kinds)]
    if not plays:
        return ArticleVerdict(policy, article, Compliance.CANNOT, missing=("no play is tagged on the film",))
    if not game.angles:
        return ArticleVerdict(policy, article, Compliance.CANNOT, missing=(
            "the game has one angle; add the film of the other view as a further one, or compare the two films play by "
            "play",))
    shown = plays_shown(game)
    numbers = {tag.id: place for place, tag in enumerate(game.plays, 1)}
    layout = layout_of(game)
    where: list[Finding] = []
    for view in article.views:
        name = " or ".join(sorted(view))
        seen = set().union(*(filmed for place, filmed in shown if place in view))
        for play in plays:
            if play in seen:
                continue
            filmed = layout.plays.get(play)
            at = filmed.begins if filmed is not None else game.film.instant_at(0)
            where.append(Finding(f"view:{name}:{play}", "every view", Severity.ERROR, Direction.MISSED, at,
                                 float(game.film.time_of(at)), f"Play {numbers[play]} is not seen {name}",
                                 f"{policy.title} asks for every play in this view.", name, "",
                                 play=play, article=f"{policy.title}: {article.name}"))
    where.sort(key=lambda finding: (numbers[finding.play or 0], finding.expected))
    return ArticleVerdict(policy, article, Compliance.NOT_MET if where else Compliance.MET, tuple(where))


def _plays(game: Game, ids: list[int]) -> str:
    numbers = {tag.id: place for place, tag in enumerate(game.plays, 1)}
    said = [numbers[play] for play in ids if play in numbers]
    return spoken_plays(said) if said else "some shots"


def _kinds(game: Game) -> dict[int, PlayKind]:
    return {tag.id: tag.play.kind for tag in game.plays if tag.play.kind in IN_PLAY}


_DELIVERED = "profiles", "policies"
_TOP = {"title", "short", "source", "article", "rules", "wins"}
_ARTICLE = {"name", "says", "rules", "severe", "kinds", "at_end", "cannot", "views"}


@cache
def _read(name: str, text: str) -> Policy:
    where = f"policy {name!r}"
    table = parsed(text, where, "policy")
    if unknown := table.keys() - _TOP:
        raise ProfileError(f"{where}: unknown entry {', '.join(sorted(unknown))}; a policy has "
                           f"{', '.join(sorted(_TOP))}")
    articles, changed, wins = table.get("article"), table.get("rules", {}), table.get("wins", [])
    if not isinstance(table.get("title"), str) or not isinstance(table.get("source"), str):
        raise ProfileError(f"{where}: 'title' and 'source' are needed, as texts")
    if not isinstance(articles, list) or not articles:
        raise ProfileError(f"{where}: at least one [[article]] is needed")
    if not isinstance(changed, dict):
        raise ProfileError(f"{where}: 'rules' must be tables, like [rules.dead_footage]")
    if not isinstance(wins, list) or not all(isinstance(each, dict) and isinstance(each.get("rule"), str)
                                             and isinstance(each.get("why"), str) for each in wins):
        raise ProfileError(f"{where}: each [[wins]] needs a 'rule' and a 'why'")
    return Policy(name, table["title"], table["source"], tuple(_article(where, each) for each in articles),
                  {rule: fitted_rule(rule, values, where) for rule, values in changed.items()},
                  tuple((known_rule(each["rule"], where).title, each["why"]) for each in wins),
                  str(table.get("short", table["title"])))


def _article(where: str, told: object) -> Article:
    if not isinstance(told, dict) or told.keys() - _ARTICLE or not all(
            isinstance(told.get(key), str) for key in ("name", "says")):
        raise ProfileError(f"{where}: each [[article]] needs 'name' and 'says', and may have "
                           f"{', '.join(sorted(_ARTICLE))}")
    article = f"{where}: article {told['name']!r}"
    texts = {key: told.get(key, []) for key in ("rules", "severe", "kinds")}
    for key, value in texts.items():
        if not isinstance(value, list) or not all(isinstance(each, str) for each in value):
            raise ProfileError(f"{article}: {key!r} must be a list of texts")
    if [bool(told.get("cannot")), bool(texts["rules"]), bool(told.get("views"))].count(True) != 1:
        raise ProfileError(f"{article} needs either 'rules', 'views' or 'cannot'")
    views = told.get("views", [])
    if not isinstance(views, list) or not all(isinstance(view, list) and view and all(
            place in list(CameraPlace) for place in view) for view in views):
        raise ProfileError(f"{article}: 'views' must be lists of {', '.join(CameraPlace)}")
    if wrong := [kind for kind in texts["kinds"] if kind not in list(PlayKind)]:
        raise ProfileError(f"{article}: there is no play {wrong[0]!r}")
    rules, severe = (frozenset(known_rule(rule, where).title.lower() for rule in texts[key])
                     for key in ("rules", "severe"))
    return Article(told["name"], told["says"], rules, severe, frozenset(map(PlayKind, texts["kinds"])),
                   bool(told.get("at_end", False)), str(told.get("cannot", "")),
                   tuple(frozenset(map(CameraPlace, view)) for view in views))

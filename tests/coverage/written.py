"""Reads the written sequences, films them, and lays what the checker says beside what a mentor says.

The form of the tables is described in ``sequences/README.md``. ``python -m tests.coverage.written [words]``
prints the counts and every disagreement; a folder names other tables, *words* pick sequences whose name or table holds
them.
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cache
from itertools import accumulate
from pathlib import Path

from workstation.coverage.checker import check
from workstation.coverage.coverage import Coverage
from workstation.coverage.finding import Finding
from workstation.coverage.policy import load_policy, verdicts
from workstation.coverage.profile import Profile, load_profile
from workstation.coverage.rules import rule_class, rule_names
from workstation.film.film import Film, Source
from workstation.film.time import Instant
from workstation.football.plays import IN_PLAY
from workstation.football.rulebook import Rulebook, load_rulebook
from workstation.football.sheet import read_rows
from workstation.football.tracker import track
from workstation.tagging.model import (
    Angle,
    AngleFilm,
    CameraPlace,
    Framing,
    Game,
    Heading,
    Match,
    Moment,
    MomentKind,
    PlayTag,
    Remark,
    Shot,
    ShotKind,
    Shows,
)

TABLES = Path(__file__).parent / "sequences"
TICKS = 1000
PLACES = {"tight": CameraPlace.HIGH_TIGHT}
WEIGHTS = {"must mend": "error", "should mend": "warning", "note": "note"}
SHOWS = {"scoreboard": {Shows.SCORE, Shows.CLOCK}, "down marker": {Shows.DOWN}, "clock": {Shows.CLOCK},
         "down": {Shows.DOWN}, "score": {Shows.SCORE}}
BEFORE, AFTER = 2.0, 60.0
"""Seconds of a longer film around a sequence that is cut out of it: a shot that tells what the viewer knows, and film
without a shot."""


@dataclass(frozen=True)
class Written:
    """One sequence of a table; ``entry`` is it as written."""

    table: str
    entry: Mapping

    @property
    def name(self) -> str:
        return self.entry["name"]

    @property
    def whole(self) -> bool:
        return self.entry.get("whole", False)


@dataclass
class Verdict:
    """What came of one sequence; each list holds a line per case. ``weights`` are findings that came with
    another weight than written."""

    due: int = 0
    came: int = 0
    missed: list[str] = field(default_factory=list)
    false: list[str] = field(default_factory=list)
    weights: list[str] = field(default_factory=list)

    @property
    def right(self) -> bool:
        return not self.missed and not self.false


def written(folder: Path = TABLES) -> list[Written]:
    found = []
    for path in sorted(folder.glob("*.toml")):
        with path.open("rb") as file:
            found += [Written(path.stem, entry) for entry in tomllib.load(file).get("sequence", [])]
    return found


@cache
def _rulebook(name: str) -> Rulebook:
    return load_rulebook(name)


def film(sequence: Written) -> tuple[Game, Rulebook]:
    """Build the game that the sequence tells of."""
    entry = sequence.entry
    rulebook = _rulebook(entry.get("rulebook", "nfhs"))
    plays = [row.play for row in read_rows(entry["plays"], rulebook)]
    now, shots, moments, remarks, filmed = 0.0, [], [], [], {}
    further: list[Mapping] = []

    def at(seconds: float) -> Instant:
        return Instant("camera", round(seconds * TICKS))

    def mark(kind: str, seconds: float, uncertainty: float = 0.0) -> None:
        moments.append(Moment(len(moments) + 1, MomentKind(kind), at(seconds), uncertainty))

    if not sequence.whole:          # whoever watches knows the situation in which the sequence begins
        shots.append(Shot(1, at(0), at(BEFORE), ShotKind.EXTRA, shows=frozenset(Shows)))
        now = BEFORE
    first = len(shots) + 1
    for number, told in enumerate(entry["film"], first):
        end = now + told["seconds"]
        kind = ShotKind(told["kind"]) if told["kind"] else None
        if told.get("angle"):           # another camera's film, beside this one
            further.append(told)
            continue
        shows = frozenset().union(*(SHOWS[each] for each in told.get("shows", [])))
        shots.append(Shot(number, at(now), at(end), kind,
                          ShotKind(told["opens_on"]) if told.get("opens_on") else None,
                          Framing(told["framing"]) if told.get("framing") else None, shows))
        uncertain = {} if isinstance(told.get("from_suggestion"), list) else dict(told.get("from_suggestion", {}))
        for looked in told.get("looked_at", []):
            uncertain.pop(looked, None)
        for kind_of, seconds in told.get("moments", {}).items():
            for each in seconds if isinstance(seconds, list) else [seconds]:
                mark(kind_of, min(now + each, end - 1 / TICKS), uncertain.get(kind_of, 0.0))
        for kind_of in told.get("marks", []):
            last = kind_of in (MomentKind.CUT_WHILE_LIVE, MomentKind.BALL_LOST)
            mark(kind_of, end - 0.2 if last else now)
        for remark in told.get("remarks", []):
            until = remark.get("until")
            remarks.append(Remark(len(remarks) + 1, remark["word"], at(now + remark.get("at", 0.0)),
                                  at(now + until) if until is not None else None, remark.get("praise", False)))
        about = told.get("play")
        for play in about if isinstance(about, list) else [about] if about is not None else []:
            filmed.setdefault(play, number)
            if kind is ShotKind.PLAY:
                filmed[play] = number if shots[filmed[play] - 1].kind is not ShotKind.PLAY else filmed[play]
        now = end
    tags = tuple(PlayTag(index + 1, float(index + 1), play, _filmed_by(entry, plays, index, filmed, shots))
                 for index, play in enumerate(plays))
    length = round((now + (0 if sequence.whole else AFTER)) * TICKS)
    source = Source("camera", Path("camera.mp4"), 1, "", Fraction(1, TICKS), 0, length, Fraction(30), 1280, 720)
    heading = Heading(rulebook=entry.get("rulebook", "nfhs"), policies=tuple(entry.get("held_to", ())))
    game = Game(heading=heading, film=Film((source,)), shots=tuple(shots),
                moments=tuple(sorted(moments, key=lambda each: each.at.pts)), plays=tags, remarks=tuple(remarks))
    return _with_angle(game, further) if further else game, rulebook


def _with_angle(game: Game, told: list[Mapping]) -> Game:
    """The game with the further camera that the marked shots were filmed by."""
    ends = [round(seconds * TICKS) for seconds in accumulate(each["seconds"] for each in told)]
    source = Source("further", Path("further.mp4"), 1, "", Fraction(1, TICKS), 0, ends[-1], Fraction(30), 1280, 720)
    number = max(shot.id for shot in game.shots) + 1
    shots = tuple(Shot(number + place, Instant("further", begin), Instant("further", end), ShotKind(each["kind"]))
                  for place, (each, begin, end) in enumerate(zip(told, [0, *ends], ends, strict=False)))
    (name,) = {each["angle"] for each in told}
    return replace(game, angles=(AngleFilm(Angle(1, name, PLACES[name]), Film((source,)), shots),),
                   matches=tuple(Match(1, each["play"] + 1, shot.id) for each, shot in zip(told, shots, strict=True)))


def _filmed_by(entry, plays, index: int, filmed: Mapping[int, int], shots) -> int | None:
    """The shot that a play's tag names: a signal's shot tells of the foul, but does not film the play it was in."""
    shot = filmed.get(index)
    if shot is None or shots[shot - 1].kind is ShotKind.PENALTY_SIGNAL:
        return None
    return shot


def profile_of(sequence: Written) -> Profile:
    told = sequence.entry.get("profile")
    if told and told.keys() == {"place"}:
        return load_profile(told["place"].replace(" ", "_"), folders=())
    return load_profile(folders=()) if not told else _changed(repr(told), told)


@cache
def _cached_profile(key: str, text: str) -> Profile:
    import tempfile
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "changed.toml"
        path.write_text(text)
        return load_profile(path, folders=())


def _changed(key: str, told: Mapping) -> Profile:
    lines = ['based_on = "default"']

    def write(table: Mapping, path: str) -> None:
        plain = {name: value for name, value in table.items() if not isinstance(value, dict)}
        if path:
            lines.append(f"[{path}]")
        for name, value in plain.items():
            lines.append(f"{name} = {str(value).lower() if isinstance(value, bool) else repr(value)}")
        for name, value in table.items():
            if isinstance(value, dict):
                write(value, f"{path}.{name}" if path else name)

    write(told, "")
    return _cached_profile(key, "\n".join(lines))


def watch(sequence: Written) -> tuple[Game, Coverage]:
    game, rulebook = film(sequence)
    steps = track(rulebook, [tag.play for tag in game.plays])
    profile = profile_of(sequence)
    if not sequence.whole:
        profile = replace(profile, rules=tuple(rule for rule in profile.rules if rule.name != "coin toss expected"))
    return game, check(game, steps, profile, rulebook)


@cache
def _titles() -> dict[str, str]:
    return {name: rule_class(name).title.lower() for name in rule_names()}


TABLE_NAMES = {"marker_before_every_play": "policy_marker_every_play"}
"""Names of rules as the tables have them, where the program's are others."""


def _names(finding: Finding) -> str:
    for name, title in _titles().items():
        if title == finding.rule:
            return TABLE_NAMES.get(name, name)
    return finding.rule.replace(" ", "_")


def _meets(told: Mapping, finding: Finding, game: Game, first: int) -> bool:
    if _names(finding) not in (told["rule"], *told.get("or", ())):
        return False
    if told.get("article") and told["article"] not in finding.article:
        return False
    if "shot" in told:
        shot = told["shot"] + first
        place = next(each for each in game.shots if each.id == shot)
        inside = place.start.pts <= finding.at.pts <= place.end.pts
        return finding.shot == shot or inside
    if "play" in told:
        tag = game.plays[told["play"]]
        if tag.play.kind not in IN_PLAY and finding.play is not None:
            around = [each.id for each in game.plays if each.play.kind in IN_PLAY]
            low = max((play for play in around if play < tag.id), default=0)
            high = min((play for play in around if play > tag.id), default=tag.id)
            return low <= finding.play <= high          # an event lies between two plays, and is told at one of them
        # a finding without a play of its own may stand in the shot that films it
        return finding.play == tag.id or (finding.play is None and _beside(finding, tag, game))
    return True


def _beside(finding: Finding, tag: PlayTag, game: Game) -> bool:
    """A finding about a shot stands between the plays around the one told of."""
    filmed = {each.shot for each in game.plays if each.id < tag.id - 1 or each.id > tag.id + 1}
    return (finding.shot is not None and finding.shot not in filmed) or finding.shot == tag.shot


def judge(sequence: Written) -> Verdict:
    game, coverage = watch(sequence)
    first = 1 if sequence.whole else 2
    entry, verdict, left = sequence.entry, Verdict(), list(coverage.findings)
    if any(told["rule"] == "look_again_here" for told in (*entry.get("expect", ()), *entry.get("may", ()))):
        left += [replace(finding, rule="look again here") for finding in coverage.look_again]
    remarks = list(coverage.remarks)
    for told in entry.get("expect", ()):
        verdict.due += 1
        if told["rule"] == "remark":
            said = next((each for each in remarks if each.remark.word == told["word"]
                         and each.play == game.plays[told["play"]].id
                         and each.remark.praise == (told["weight"] == "well done")), None)
            if said is None:
                verdict.missed.append(_line(told))
            else:
                verdict.came += 1
                remarks.remove(said)
            continue
        met = next((finding for finding in left if _names(finding) == told["rule"]
                    and _meets(told, finding, game, first)),
                   next((finding for finding in left if _meets(told, finding, game, first)), None))
        if met is None:
            verdict.missed.append(_line(told))
            continue
        verdict.came += 1
        left.remove(met)
        wanted = WEIGHTS.get(told.get("weight", ""))
        if wanted and met.severity != wanted:
            verdict.weights.append(f"{_names(met)}: {met.severity} for {told['weight']}")
    may = entry.get("may", ())
    never = entry.get("never", ())
    for finding in left:
        if any(_meets(told, finding, game, first) for told in may):
            continue
        if "*" in never or _names(finding) in never:
            verdict.false.append(f"{_names(finding)} ({finding.severity}): {finding.title}")
    for told in entry.get("not_judged", ()):
        verdict.due += 1
        if _named_as_not_judged(told, coverage, game):
            verdict.came += 1
        else:
            verdict.missed.append(f"not judged: {_line(told)}")
    for told in _articles(entry):
        verdict.due += 1
        came = _article(told, game, coverage)
        if came == told['says']:
            verdict.came += 1
        else:
            verdict.missed.append(f"article {told}: came {came}")
    return verdict


def _line(told: Mapping) -> str:
    place = "".join(f" {key} {told[key]}" for key in ("play", "shot", "article", "missing") if key in told)
    return f"{told['rule']}{place}: {told.get('because', '')}"


def _named_as_not_judged(told: Mapping, coverage: Coverage, game: Game) -> bool:
    rule = _titles().get(told["rule"], told["rule"].replace("_", " "))
    for each in coverage.not_judged:
        if each.rule == rule and told.get("missing", "") in each.missing and (
                "play" not in told or each.play in (None, game.plays[told["play"]].id)):
            return True
    return False


def _articles(entry: Mapping) -> Iterator[Mapping]:
    told = entry.get("articles", ())
    if isinstance(told, Mapping):
        for name, verdict in told.items():
            yield {"article": name, "says": verdict}
    else:
        yield from told


def _article(told: Mapping, game: Game, coverage: Coverage) -> str:
    policy = load_policy(told["policy"])
    for each in verdicts(game, coverage, [policy]):
        if each.article.name == told["article"]:
            places = {finding.play for finding in each.where}
            if each.verdict == told["says"] == "not met" and not all(
                    game.plays[play].id in places for play in told.get("plays", ())):
                return f"not met at {sorted(places, key=str)}"
            return str(each.verdict)
    return "nothing"


def main(words: list[str]) -> None:
    totals: dict[str, list[int]] = {}
    folder = Path(words.pop(0)) if words and Path(words[0]).is_dir() else TABLES
    for sequence in written(folder):
        if words and not any(word in f"{sequence.table} {sequence.name}" for word in words):
            continue
        verdict = judge(sequence)
        row = totals.setdefault(sequence.table, [0] * 7)
        for index, value in enumerate((1, verdict.right, verdict.due, verdict.came, len(verdict.missed),
                                       len(verdict.false), len(verdict.weights))):
            row[index] += value
        for kind, lines in (("missed", verdict.missed), ("false", verdict.false), ("weight", verdict.weights)):
            for line in lines:
                print(f"{sequence.table} | {sequence.name} | {kind} | {line}")
    heads = ("sequences", "right", "due", "came", "missed", "false", "weights")
    print(f"{'':24}" + "".join(f"{head:>11}" for head in heads))
    for table, row in [*totals.items(), ("all", [sum(column) for column in zip(*totals.values(), strict=True)])]:
        print(f"{table:24}" + "".join(f"{value:>11}" for value in row))


if __name__ == "__main__":
    main(sys.argv[1:])

"""The work without a screen: one function per command.

Wrong arguments and files that cannot be used give one clear line and exit status 2.
"""

from __future__ import annotations

import argparse
import io
import sys
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from . import __version__
from .angle_commands import add_angle, angles_named
from .camera_work_commands import add_measure, plain_measures, trend_rows
from .coverage.camera_work import unmeasured_line
from .coverage.checker import CheckedGame, check_game
from .coverage.finding import Finding
from .coverage.profile import ProfileError
from .coverage.summary import Summary, summarise
from .delivery.naming import PatternError
from .delivery.sequence import Form, SequenceRequest, write_sequence
from .delivery.verifying import PackError, verify_pack
from .film.faults import FilmError
from .film.sources import relink
from .film.time import spoken_time
from .football.field import spoken_spot
from .football.rulebook import Rulebook, RulebookError, load_rulebook
from .football.sheet import SheetError, SheetRow
from .football.situation import Situation
from .football.speaking import spoken_clock, spoken_period, spoken_situation
from .football.step import Certainty, Step
from .football.tracker import track
from .season.faults import DefinitionError
from .season_commands import add_season
from .tagging.angles import seen_from
from .tagging.exchange import ExchangeError
from .tagging.gamefile import CannotSave, GameFile, GameFileError, InvalidOperation
from .tagging.model import Game, Heading, PlayTag, SequenceItem
from .tagging.own_words.files import VocabularyError, load_vocabulary
from .tagging.own_words.following import Words, known_words, plain_words
from .tagging.own_words.importing import words_of_rows
from .tagging.sheets import SheetFileError
from .targets import refuse_existing
from .terminal import (
    CommandParser,
    Wrong,
    bar_for,
    chosen_angles,
    chosen_plays,
    commands_of,
    drawings,
    existing,
    in_one_picture,
    overwriting,
    print_table,
    program,
    rendered_form,
    rendering_of,
    say,
    say_json,
    sequence_form,
    tell_written,
)
from .visible import visible

_REPORTED = (Wrong, OSError, FilmError, RulebookError, ProfileError, SheetError, SheetFileError, GameFileError,
             CannotSave, InvalidOperation, ExchangeError, DefinitionError, VocabularyError, PackError, PatternError)


def open_game(path: Path, profile: str | None = None, footage: bool = False, angle: str | None = None) -> CheckedGame:
    """Read a game file (nothing is written to it) and derive situations and findings, of the film of an angle, the
    first one unless it is named.

    With ``footage``, film files that moved along with the game file are found again.
    """
    with GameFile.open(existing(path), read_only=True) as file:
        game = file.game
        for copy in file.look_for_copies():
            say(f"beware: {copy}", file=sys.stderr)
    if footage:
        game = game.with_films(lambda film: relink(film, [path.parent]))
    return check_game(seen_from(game, angles_named(game, (angle,))[0]) if angle else game, profile)


def _demo(arguments: argparse.Namespace) -> int:
    from .demo.game_file import write_demo_game

    say(write_demo_game(arguments.to, progress=bar_for("filming the demo game"),
                          layout="one file" if arguments.one_file else "files", width=arguments.width,
                        seed=arguments.seed, end_zone=not arguments.one_angle))
    return 0


def _check(arguments: argparse.Namespace) -> int:
    opened = [open_game(path, arguments.profile, angle=arguments.angle) for path in arguments.games]
    if arguments.json:
        listed = [{"game": str(path), "findings": [_plain(finding, one.game) for finding in one.coverage.findings],
                   "waiting": list(one.coverage.waiting),
                   "look_again": [_plain(finding, one.game) for finding in one.coverage.look_again],
                   "not_judged": [{"rule": each.rule, "missing": each.missing, "play": each.play, "shot": each.shot,
                                   "period": each.period} for each in one.coverage.not_judged],
                   "remarks": [{"word": each.remark.word, "praise": each.remark.praise,
                                "at_seconds": round(each.time, 3),
                                "play": each.play, "period": each.period, "comment": each.remark.comment}
                               for each in one.coverage.remarks],
                   "camera_work": plain_measures(one.game, one.coverage.camera_work),
                   "own_words": _plain_own_words(one)}
                  for path, one in zip(arguments.games, opened, strict=True)]
        say_json(listed[0] if len(listed) == 1 else listed)
        return 0
    for one in opened:
        if len(opened) > 1:
            say(visible(one.game.heading.spoken))
        print_table(["film", "rule", "severity", "what", "decision"],
               [[spoken_time(finding.time), finding.rule, str(finding.severity), finding.title,
                 str(finding.decision.verdict or "commented") if finding.decision else ""]
                for finding in one.coverage.findings])
        for line in one.coverage.waiting:
            say(f"not judged yet: {line}")
        for line in one.coverage.yielded:
            say(f"practice yields: {line}")
        unmeasured = unmeasured_line(one.coverage.camera_work, one.coverage.shots)
        if unmeasured:
            say(f"{unmeasured} Run: {program()} measure GAME")
        say(f"{len(one.coverage.findings)} findings")
    if len(opened) > 1:
        from .coverage.trend import by_crew

        crews = by_crew((one.game.heading, summarise(one.coverage)) for one in opened)
        for crew, games in crews.items():
            say()
            if len(crews) > 1:
                say(f"filmed by {crew or 'nobody named'}:")
            _trend(games)
    return 0


def _plain_own_words(one: CheckedGame) -> list[dict[str, object]]:
    """What is known in the staff's own words of the plays of which anything is."""
    known = known_words(one.game, one.steps)
    return [{"play": tag.id, "number": number, "words": plain_words(words)}
            for number, (tag, words) in enumerate(zip(one.game.plays, known, strict=True), 1) if words]


def _trend(games: list[tuple[Heading, Summary]]) -> None:
    """Print for each practice and game: delivered of expected, and how often it was overdone."""
    from .coverage.trend import remark_trend, trend

    table = trend(games)
    columns = [heading.date or "undated" for heading, _ in games]
    rows = []
    for rule, found in table.groupby("rule", sort=False):
        cells = [f"{row.delivered} of {row.expected}" if row.expected else "" for row in found.itertuples()]
        over = [f"{cell}{', ' if cell and row.overdone else ''}{f'{row.overdone} too many' if row.overdone else ''}"
                for cell, row in zip(cells, found.itertuples(), strict=True)]
        rows.append([str(rule), *over])
    for (praise, word), found in remark_trend(games).groupby(["praise", "word"], sort=False):
        rows.append([f"{'praise' if praise else 'remark'}: {word}",
                     *(str(count) if count else "" for count in found["count"])])
    rows += trend_rows(games)
    print_table(["practice", *columns], rows)


def _plain(finding: Finding, game: Game) -> dict[str, object]:
    return {name: getattr(finding, name) for name in ("key", "rule", "severity", "title", "why", "expected", "evidence",
                                                      "play", "shot", "period", "article")} | {
        "at_seconds": round(finding.time, 3), "source": game.film.source(finding.at.source).path.name,
        "pts": finding.at.pts, "verdict": finding.decision.verdict if finding.decision else None,
        "comment": finding.decision.comment if finding.decision else ""}


def _policy(arguments: argparse.Namespace) -> int:
    from .coverage.policy import Compliance, load_policy, policy_names, verdicts
    from .delivery.policy_record import record_lines, record_plain

    one = open_game(arguments.game)
    names = tuple(arguments.policy or one.game.heading.policies)
    if not names:
        raise Wrong(f"the game's heading names no policy; say --policy with one of {', '.join(policy_names())}")
    policies = [load_policy(name) for name in names]
    if names != one.game.heading.policies:
        game = replace(one.game, heading=replace(one.game.heading, policies=names))
        one = check_game(game)
    told = verdicts(one.game, one.coverage, policies)
    if arguments.json:
        say_json(record_plain(one.game, told))
    else:
        say("\n".join(record_lines(told)))
    return 1 if any(each.verdict is Compliance.NOT_MET for each in told) else 0


def _practice(arguments: argparse.Namespace) -> int:
    """Lay the answers at the gaps beside what a viewer needed; without a session, say what belongs in each gap."""
    from .coverage.practice import gaps, judge, read_sessions, sessions_path
    from .coverage.trend import practice_trend

    one = open_game(arguments.game)
    found = gaps(one.game, one.steps, one.coverage.profile, one.rulebook)
    numbers = {tag.id: place for place, tag in enumerate(one.game.plays, 1)}
    try:
        sessions = read_sessions(sessions_path(arguments.game))
    except ValueError as error:
        raise Wrong(str(error)) from None
    if not sessions:
        print_table(["before play", "what belongs there", "why"],
               [[str(numbers.get(gap.after or 0, "the end")), str(need.answer), need.why] for gap in found
                for need in gap.needs])
        return 0
    results = [(one.game.heading, session, judge(found, session)) for session in sessions]
    table = practice_trend(results)
    print_table(["date", "trainee", "answer", "right", "too many"],
           [[row.date or "undated", row.trainee, row.answer, f"{row.given} of {row.needed}" if row.needed else "",
             str(row.too_many or "")] for row in table.itertuples()])
    for each in results[-1][2].differences:
        say(f"before play {numbers.get(each.gap.after or 0, 'the end')}: {each.answer} "
              f"{'was needed' if each.missed else 'was not needed'}. {each.why}")
    return 0


def _export(arguments: argparse.Namespace) -> int:
    from .delivery.export import export_segments
    from .delivery.naming import PATTERN, SHOT_PATTERN
    from .delivery.policy_record import NAMES as RECORD_NAMES
    from .delivery.rendering import Settings
    from .delivery.segment import play_segments, shot_segments
    from .delivery.sheets import findings_by_play, plays_sheet, tendencies, write_sheet

    one = open_game(arguments.game, footage=True)
    plays, summed = (arguments.to / f"{name}.{arguments.sheet}" for name in ("plays", "tendencies"))
    told = [arguments.to / name for name in RECORD_NAMES] if one.game.heading.policies else []
    for to in (plays, summed, *told):
        refuse_existing(to, arguments.overwrite)
    segments = (shot_segments(one.game) if arguments.shots
                else play_segments(one.game, one.steps, _items(one.game, arguments)))
    width, height = arguments.size or (None, None)
    settings = (Settings(width, height, arguments.rate, arguments.quality, captions=arguments.captions,
                         sound_track=arguments.sound_track - 1)
                if arguments.rendered or arguments.captions else None)
    pattern = arguments.pattern or (SHOT_PATTERN if arguments.shots else PATTERN)
    done = export_segments(segments, arguments.to, settings, pattern, progress=bar_for("exporting"),
                           every_player=arguments.every_player)
    sheet = plays_sheet(one.game, one.steps, findings_by_play(one.coverage.findings))
    write_sheet(sheet, plays)
    write_sheet(tendencies(one.game, one.steps), summed)
    if one.game.heading.policies:
        from .coverage.policy import policies_of, verdicts
        from .delivery.policy_record import write_record

        for written in write_record(one.game, verdicts(one.game, one.coverage, policies_of(one.game)[0]), arguments.to):
            say(f"what the film is told about its policies is in {written}")
    say(f"{len(done.files)} segments and the sheet of {len(sheet)} plays are in {arguments.to}")
    for note in done.notes:
        say(note)
    for failure in done.failures:
        say(f"{failure.label}: {failure.why}", file=sys.stderr)
    return 1 if done.failures else 0


def _items(game: Game, arguments: argparse.Namespace) -> list[SequenceItem]:
    """The plays that are named by their place in the game, from 1, with their handles; all if none is named."""
    numbers = range(1, len(game.plays) + 1) if arguments.plays is None else arguments.plays
    unknown = [number for number in numbers if not 1 <= number <= len(game.plays)]
    if unknown:
        raise Wrong(f"there is no play {', '.join(map(str, unknown))}; the game has {len(game.plays)} plays")
    angles, beside = angles_named(game, arguments.angles), in_one_picture(arguments)
    (heard,) = angles_named(game, (arguments.sound_of,)) if arguments.sound_of else (None,)
    before, after = arguments.handles
    return [SequenceItem(game.plays[number - 1].id, before, after, angles, beside, heard, arguments.inset)
            for number in numbers]


def _yards(arguments: argparse.Namespace) -> int:
    from .film.faults import FilmError
    from .film.probe import probe
    from .film.yards_between import GroundSpot, yards_between

    source = probe(existing(arguments.film, "a film file"), "film")
    spots = []
    for option, said in (("--from", arguments.first), ("--to", arguments.second)):
        try:
            seconds, right, down = (float(part) for part in said.split(","))
        except ValueError:
            raise Wrong(f"{option} {said!r}: give seconds from the first picture and the spot's pixels from the left "
                        "and from the top, like 3.2,640,410") from None
        wide, tall = source.display_size
        if not (0 <= seconds <= float(source.duration) and 0 <= right < wide and 0 <= down < tall):
            raise Wrong(f"{option} {said!r} is not in the film: it lasts {float(source.duration):.2f} seconds and is "
                        f"{wide} x {tall} pixels as it is shown")
        spots.append(GroundSpot(source.start_pts + round(seconds / source.time_base), right, down))
    try:
        found = yards_between(source, spots[0], spots[1])
    except (FilmError, ValueError) as error:
        raise Wrong(str(error)) from None
    if found.yards is None:
        say(f"Not measured: {found.why}")
        return 1
    way = "to the right" if found.yards >= 0 else "to the left"
    say(f"{abs(found.yards):.1f} yards {way}, give or take {max(found.error, 0.1):.1f}")
    return 0


def _track(arguments: argparse.Namespace) -> int:
    from .tagging.sheets import read_sheet

    rulebook = load_rulebook(arguments.rulebook, arguments.season)
    sheet = read_sheet(existing(arguments.sheet, "a play sheet (CSV or XLSX), or a text of spoken lines"), rulebook)
    steps = track(rulebook, [row.play for row in sheet])
    if arguments.json:
        known = _words_of(sheet, steps, rulebook)
        say_json([_plain_step(number, step, row.notes, rulebook) | ({"words": plain_words(each)} if each else {})
                  for number, (step, row, each) in enumerate(zip(steps, sheet, known, strict=True), 1)])
        return 0
    rows = []
    for number, (step, row) in enumerate(zip(steps, sheet, strict=True), 1):
        before = step.before
        rows.append([str(number), spoken_period(before.period, rulebook.periods), spoken_clock(before.clock),
                     str(before.offense or ""), spoken_situation(before, rulebook.field_length),
                     f"{before.score_visitors}-{before.score_home}", str(step.play.kind), step.result,
                     str(_certainty(step, row.notes))])
    print_table(["", "period", "clock", "offense", "situation", "visitors-home", "play", "result", "certainty"], rows)
    for number, (step, row) in enumerate(zip(steps, sheet, strict=True), 1):
        for note in row.notes:
            say(f"play {number}: {note}")
        for reason in step.reasons:
            say(f"play {number}, {step.certainty}: {reason}")
        for choice in step.choices:
            say(f"play {number}, or: {choice}")
    if steps:
        after = steps[-1].after
        say(f"after play {len(steps)}: {spoken_situation(after, rulebook.field_length)}, "
              f"visitors {after.score_visitors}, home {after.score_home}")
    return 0


def _words_of(sheet: Sequence[SheetRow], steps: Sequence[Step], rulebook: Rulebook) -> Sequence[Words]:
    """What the rows say in the staff's own words; nothing, and a line about it, where a cell cannot be read as such."""
    try:
        words = words_of_rows(sheet, load_vocabulary(), rulebook)
    except SheetError as error:
        say(f"own words are left out: {error}", file=sys.stderr)
        return [{}] * len(sheet)
    tags = tuple(PlayTag(number, number, row.play, words=said) for number, (row, said)
                 in enumerate(zip(sheet, words.said, strict=True), 1))
    return known_words(Game(plays=tags, vocabulary=words.vocabulary), steps)


def _certainty(step: Step, notes: Sequence[str]) -> Certainty:
    """How sure a step is; one whose line could be read otherwise, as *notes* say, is assumed at the most."""
    return Certainty.ASSUMED if notes and step.certainty is Certainty.CERTAIN else step.certainty


def _plain_step(number: int, step: Step, notes: Sequence[str], rulebook: Rulebook) -> dict[str, Any]:
    """A step as JSON. ``ball_on`` is in yards from the offense's own goal line."""
    return {"number": number, "play": str(step.play.kind), "before": _plain_situation(step.before, rulebook),
            "after": _plain_situation(step.after, rulebook), "explanation": step.explanation,
            "certainty": str(_certainty(step, notes)),
            "reasons": list(step.reasons), "line": list(notes), "other_rulings": list(step.choices)}


def _plain_situation(situation: Situation, rulebook: Rulebook) -> dict[str, Any]:
    spot = situation.ball_on
    return {name: getattr(situation, name) for name in (
        "offense", "next", "down", "yards_to_gain", "ball_on", "period", "clock", "score_home", "score_visitors",
        "timeouts_home", "timeouts_visitors")} | {
        "ball_on_spoken": None if spot is None else spoken_spot(spot, rulebook.field_length)}


def _sequence(arguments: argparse.Namespace) -> int:
    to, form = arguments.to, sequence_form(arguments.to)
    one = open_game(arguments.game, footage=True)
    refuse_existing(to, arguments.overwrite)
    request = SequenceRequest(one.game, one.steps, to.stem, _items(one.game, arguments), form, arguments.captions,
                              **rendering_of(arguments))
    try:
        written = write_sequence(request, to, bar_for("rendering"))
    except ValueError as error:         # nothing filmed, or more events than the form holds
        raise Wrong(str(error)) from None
    return tell_written(written)


def _pack(arguments: argparse.Namespace) -> int:
    one = open_game(arguments.game, footage=True)
    request = SequenceRequest(one.game, one.steps, arguments.title, _items(one.game, arguments), Form.PACK,
                              statement=arguments.statement, **rendering_of(arguments))
    try:
        return tell_written(write_sequence(request, arguments.to, bar_for("packing")))
    except ValueError as error:         # nothing filmed
        raise Wrong(str(error)) from None


def _verify(arguments: argparse.Namespace) -> int:
    verified = verify_pack(arguments.pack, arguments.manifest_sha256)
    for word, names in (("altered", verified.altered), ("missing", verified.missing), ("added", verified.added)):
        for name in names:
            say(f"{word}: {visible(name)}")
    say(f"{visible(verified.title)}, made {visible(verified.made)}: "
          + (f"all {len(verified.intact)} files are as they were" if verified.whole else "this pack was changed"))
    return 0 if verified.whole else 1


def _report(arguments: argparse.Namespace) -> int:
    from .delivery.report_writing import form_of, write_report

    try:
        form_of(arguments.to)       # before anything takes its time
    except ValueError as error:
        raise Wrong(str(error)) from None
    one = open_game(arguments.game, arguments.profile, footage=True, angle=arguments.angle)
    refuse_existing(arguments.to, arguments.overwrite)
    say(write_report(one.game, one.steps, one.coverage, arguments.to, progress=bar_for("writing the report")))
    return 0


def _guide(arguments: argparse.Namespace) -> int:
    from .delivery.guide import chapters
    from .delivery.guide_writing import write_guide
    from .desk.actions import ACTIONS

    keys = {action.id: (action.keys or ("",))[0] for action in ACTIONS}
    for path in write_guide(chapters(keys.__getitem__), arguments.to, arguments.overwrite):
        say(path)
    return 0


def _to_json(arguments: argparse.Namespace) -> int:
    from .tagging.exchange import write_json

    game = open_game(arguments.game).game
    refuse_existing(arguments.to, arguments.overwrite)
    write_json(game, arguments.to)
    say(arguments.to)
    return 0


def _from_json(arguments: argparse.Namespace) -> int:
    from .tagging.exchange import import_game

    import_game(existing(arguments.json, "a game written by the json command"), arguments.to).close()
    say(arguments.to)
    return 0


def _parsers() -> tuple[CommandParser, Iterable[str]]:
    """The parser of all commands, and their names."""
    parser = CommandParser(prog=program(), description=(
        "Without a command the desk opens, on a game file if one is named."))
    parser.add_argument("--version", action="version", version=__version__)
    command, names = commands_of(parser, "commands", "COMMAND")

    def on_game(made: CommandParser) -> None:
        made.add_argument("game", type=Path, metavar="GAME", help="a game file")

    made = command("demo", _demo, "Film the demo game and write its tagged game file.")
    made.add_argument("--to", type=Path, required=True, metavar="DIR", help="the folder to film into")
    made.add_argument("--one-file", action="store_true", help="one long camera file in place of many short ones")
    made.add_argument("--one-angle", action="store_true", help="film from the press box alone, not from the end zone")
    made.add_argument("--seed", type=int, default=0, choices=range(10_000), metavar="NUMBER",
                      help="another invented game for each number; default: the demo game")
    made.add_argument("--width", type=int, default=1280, choices=range(160, 3841, 32), metavar="PIXELS",
                      help="of the film; default: %(default)s")

    made = command("check", _check, "Print what the film's viewers would have needed; over several games also the "
                                    "trend.")
    made.add_argument("games", type=Path, nargs="+", metavar="GAME", help="game files")
    made.add_argument("--json", action="store_true", help="print JSON")
    made.add_argument("--profile", help="a crew profile, by name or file, in place of the game's own")
    made.add_argument("--angle", metavar="NAME",
                      help="the angle whose film is judged, by its own profile; default: the first one")

    add_measure(command("measure", lambda arguments: 2, "Measure the camera work of a game's film; kept, so that check "
                                                        "speaks of it."))

    made = command("policy", _policy, "Print whether the film meets the exchange policies it is held to, article by "
                                      "article.")
    on_game(made)
    made.add_argument("--policy", action="append", metavar="NAME",
                      help="a policy, in place of those that the heading names; may be given several times")
    made.add_argument("--json", action="store_true", help="print JSON")

    made = command("practice", _practice,
                   "Print what belonged in each gap between plays, or how the practice sessions on the game came out.")
    on_game(made)

    made = command("export", _export, "Write each play as a file, and the sheet of all plays.")
    on_game(made)
    made.add_argument("--to", type=Path, required=True, metavar="DIR", help="the folder to write into")
    chosen_plays(made, required=False)
    chosen_angles(made, in_one=False)
    made.add_argument("--shots", action="store_true", help="every shot in place of every play")
    made.add_argument("--every-player", action="store_true",
                      help="encode the first and last pictures of copies again, so that "
                      "players that do not honour edit lists show exactly the play")
    made.add_argument("--rendered", action="store_true", help="encode again (H.264, AAC) in place of copying")
    made.add_argument("--captions", action="store_true", help="render, with situation and score below the picture")
    rendered_form(made)
    made.add_argument("--pattern", help="file names; default: {number} {situation} {kind}, for shots {number} {kind}")
    made.add_argument("--sheet", choices=("csv", "xlsx", "parquet"), default="csv", help="form of the sheets")
    overwriting(made)

    made = command("track", _track, "Print the situation before every play of a play sheet.")
    made.add_argument("sheet", type=Path, metavar="SHEET",
                      help="CSV, XLSX, or a text file with one spoken line per play; "
                      "see resources/play_sheet.md and resources/notation.md")
    made.add_argument("--json", action="store_true", help="print JSON: before and after each play, why, and how sure")
    made.add_argument("--rulebook", default="nfhs", help="default: %(default)s")
    made.add_argument("--season", type=int, help="the rulebook's edition; default: the newest")

    made = command("yards", _yards, "Measure the yards between two spots on the ground in two pictures of one shot, by "
                                    "the yard lines, or say why that cannot be told.")
    made.add_argument("film", type=Path, metavar="FILM", help="a film file")
    for option, name, which in (("--from", "first", "the earlier spot"), ("--to", "second", "the later spot")):
        made.add_argument(option, dest=name, required=True, metavar="SECONDS,RIGHT,DOWN",
                          help=f"{which}: seconds from the first picture, pixels from the left and from the top")

    made = command("sequence", _sequence, "Join plays into one film (.mp4) or describe them (.otio, .edl, .vtt, .srt).")
    on_game(made)
    chosen_plays(made, required=True)
    chosen_angles(made)
    made.add_argument("--to", type=Path, required=True, metavar="FILE")
    made.add_argument("--captions", action="store_true", help="situation and score below the picture")
    rendered_form(made)
    drawings(made)
    overwriting(made)

    made = command("pack", _pack,
                   "Make the pack of a disputed sequence: film, originals, stills, cover page, manifest.")
    on_game(made)
    chosen_plays(made, required=True)
    chosen_angles(made)
    made.add_argument("--to", type=Path, required=True, metavar="PACK", help="a folder, or a file ending in .zip")
    made.add_argument("--title", default="Disputed sequence")
    made.add_argument("--statement", default="", help="why it is handed on")
    rendered_form(made)
    drawings(made)

    made = command("verify", _verify, "Compare a pack with its manifest and name what was altered.")
    made.add_argument("pack", type=Path, metavar="PACK")
    made.add_argument("--manifest-sha256", help="the manifest's digest, if it was kept apart")

    made = command("report", _report, "Write the review report as one self-contained .html file or as .pdf.")
    on_game(made)
    made.add_argument("--to", type=Path, required=True, metavar="FILE")
    made.add_argument("--profile", help="a crew profile in place of the game's own")
    made.add_argument("--angle", metavar="NAME", help="the angle whose film it is about; default: the first one")
    overwriting(made)

    made = command("guide", _guide, "Write the guide as one HTML page and as PDF.")
    made.add_argument("--to", type=Path, required=True, metavar="DIR", help="the folder to write into")
    overwriting(made)

    add_angle(command("angle", lambda arguments: 2, "List, add, match and remove the further cameras of a game."))

    add_season(command("season", lambda arguments: 2,
                       "Find, count, compare and hand on plays of all games in a folder."))

    made = command("json", _to_json, "Write the whole game as documented JSON for other tools.")
    on_game(made)
    made.add_argument("--to", type=Path, required=True, metavar="FILE")
    overwriting(made)

    made = command("from-json", _from_json, "Make a game file from JSON.")
    made.add_argument("json", type=Path, metavar="JSON")
    made.add_argument("--to", type=Path, required=True, metavar="GAME")
    return parser, names


NAMES = tuple(_parsers()[1])
"""The names of the commands."""


def run(argv: Sequence[str]) -> int:
    """Run one command; returns its exit status."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")       # a name that the terminal cannot show is no failure
    try:
        arguments = _parsers()[0].parse_args(argv)
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else 2
    try:
        return int(arguments.work(arguments))
    except _REPORTED as error:
        say(f"{program()}: {_said(error)}", file=sys.stderr)
        return 2


def _said(error: Exception) -> str:
    if not isinstance(error, OSError) or error.filename is None:
        return str(error)
    path = Path(error.filename)
    if isinstance(error, FileNotFoundError) and not path.parent.exists():
        return f"the folder {path.parent} is not there; make it first"
    return f"{path}: {error.strerror}"

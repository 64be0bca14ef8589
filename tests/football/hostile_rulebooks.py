"""Rulebooks with values that cannot be: a clear error, or a rulebook by which every play can be folded.

``python -m tests.football.hostile_rulebooks 2000 [seed]``
"""

from __future__ import annotations

import re
import signal
import sys
import tempfile
import traceback
from collections import Counter
from pathlib import Path
from random import Random

from workstation.demo.script import SCENES

from workstation.football.plays import Play, PlayKind, SituationOverride
from workstation.football.rulebook import FOLDER, RulebookError, read_rulebook
from workstation.football.speaking import spoken_situation
from workstation.football.tracker import track

VALUES = ("0", "-1", "1", "2", "3", "0.0", "0.5", "-3.5", "1e308", "-1e308", "inf", "nan", "999999999", "9" * 400,
          "9" * 5000, '"none"',
          '"x"', '""', "true", "false", "[]", "{}", "[" * 1500 + "]" * 1500, "4", "40", "99.9", "100.0", "110.0",
          "2026-01-01",
          '"series"', '"both possess"', '"sudden death"', '"previous spot"', '"spot of foul"', "10", "20", "35.0",
          "5.0")
_VALUE = re.compile(r"(?<=value = )[^,}\n]+|(?<=yards = )[^\n,}]+|(?<=season = )[^\n]+|(?<=from = )[^\n]+")


def plays(choose: Random) -> list[Play]:
    """The demo's game, cut through by the ends of periods and by what sets the situation."""
    found = [play for scene in SCENES for play in (scene.play, *scene.then) if play]
    for _ in range(12):
        found.insert(choose.randrange(len(found) + 1), choose.choice((
            Play(PlayKind.END_OF_PERIOD), Play(PlayKind.COIN_TOSS), Play(PlayKind.FIELD_GOAL), Play(PlayKind.PUNT),
            Play(PlayKind.RUN, override=SituationOverride(period=choose.choice((2, 5, 9, 40)))),
            Play(PlayKind.KICKOFF))))
    return found


def attack(rounds: int, seed: int) -> tuple[Counter, list[tuple[int, str, str]]]:
    counted, losses = Counter(), []
    books = {file.name: file.read_text(encoding="utf-8") for file in FOLDER.iterdir() if file.name.endswith(".toml")}

    def hang(*_: object) -> None:
        raise TimeoutError("a hang of ten seconds")
    signal.signal(signal.SIGALRM, hang)
    with tempfile.TemporaryDirectory() as folder:
        for number in range(rounds):
            choose = Random(f"{seed} {number}")
            name = choose.choice(sorted(books))
            text, done = books[name], []
            for _ in range(choose.choice((1, 1, 2, 6))):
                spots = list(_VALUE.finditer(text))
                if spots:
                    spot, value = choose.choice(spots), choose.choice(VALUES)
                    done.append(f"{text[text.rfind(chr(10), 0, spot.start()) + 1:spot.start()]}{value:.40}")
                    text = text[:spot.start()] + value + text[spot.end():]
            path = Path(folder) / f"own {number % 5}.toml"
            path.write_text(text, encoding="utf-8")
            signal.alarm(10)
            try:
                book = read_rulebook(path, choose.choice((None, None, 2020, 1950)))
                for step in track(book, plays(choose)):
                    spoken_situation(step.before, book.field_length)
                counted["played"] += 1
            except RulebookError:
                counted["refused"] += 1
            except Exception:
                losses.append((number, f"{name}: {'; '.join(done)}", traceback.format_exc(limit=-4)))
            finally:
                signal.alarm(0)
    return counted, losses


if __name__ == "__main__":
    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else Random().randrange(10**6)
    counted, losses = attack(wanted, seed)
    for number, what, why in losses[:20]:
        print(f"--- {number}, {what}\n{why}")
    print(f"seed {seed}: {wanted} rulebooks, {dict(counted)}, {len(losses)} losses")
    sys.exit(bool(losses))

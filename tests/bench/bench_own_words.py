"""Own words: keys for a play with five of them, reading a line that has some, and scrolling the sheet of all plays.

    python -m tests.bench.bench_own_words [GAMES]

Plays are those of real games (as in :mod:`tests.desk.typing_effort`). Each play from scrimmage gets five words:
formation, strength, personnel, front, hash. They are drawn (common practice, no source):

* formation: doubles 30 %, trips 28, ace 12, bunch 8, empty 8, I 8, pro 6; strength: right 58 %, left 42
* personnel: as at the last play of the drive in 70 %, else 11 in 55 %, 12 in 20, 10 in 10, 21 in 10, 22 in 5
* front: as at the last play of the drive in 75 %, else 4-3 in 35 %, 4-2 in 25, 3-4 in 20, 4-4 in 10, bear in 10
* hash: where the ball lay where it came back, else middle 40 %, left 30, right 30

What is carried on or follows is right as it is, and is not typed; all else is, behind one comma, with short forms run
together.
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections import Counter
from dataclasses import replace
from pathlib import Path
from random import Random
from statistics import median
from time import perf_counter, thread_time

from PySide6.QtCore import QSettings, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from tests.desk.typing_effort import plays_of, sample
from workstation.desk.window import MainWindow
from workstation.football.notation import Entry, read, shortest
from workstation.football.plays import Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.tracker import fold, track
from workstation.tagging.gamefile import GameFile
from workstation.tagging.model import Game, Heading, PlayTag
from workstation.tagging.own_words.definition import OwnWord, Vocabulary, WordSaid, WordValue
from workstation.tagging.own_words.files import load_vocabulary
from workstation.tagging.own_words.following import How, applies, known_words
from workstation.tagging.own_words.line import known_to, read_line
from workstation.tagging.own_words.spoken import Spoken

SEED = 2026
FORMATIONS = {"doubles": 30, "trips": 28, "ace": 12, "bunch": 8, "empty": 8, "I": 8, "pro": 6}
STRENGTHS = {"right": 58, "left": 42}
PERSONNEL = {"11": 55, "12": 20, "10": 10, "21": 10, "22": 5}
FRONTS = {"4-3": 35, "4-2": 25, "3-4": 20, "4-4": 10, "bear": 10}
HASHES = {"middle": 40, "left hash": 30, "right hash": 30}
STAYS = {"personnel": 70, "front": 75}
SCRIMMAGE = {PlayKind.RUN, PlayKind.PASS, PlayKind.SACK}


def drawn(choose: Random, shares: dict[str, int]) -> str:
    return choose.choices(list(shares), list(shares.values()))[0]


def five_words(choose: Random, room) -> dict[str, str]:
    """The five words of the play to come, those that are known already among them."""
    session = room.session
    coming = PlayTag(0, 0.0, Play(PlayKind.RUN))
    steps = [*session.steps, fold(session.rulebook, room.before(), coming.play)]
    known = known_words(replace(session.game, plays=(*session.game.plays, coming), vocabulary=session.vocabulary),
                        steps)[-1]
    words = {"formation": drawn(choose, FORMATIONS), "strength": drawn(choose, STRENGTHS)}
    for word, shares in (("personnel", PERSONNEL), ("front", FRONTS)):
        stays = word in known and choose.randrange(100) < STAYS[word]
        words[word] = known[word].text if stays else drawn(choose, shares)
    follows = known.get("hash")
    words["hash"] = follows.text if follows is not None and follows.how is How.FOLLOWS else drawn(choose, HASHES)
    return {word: value for word, value in words.items() if word not in known or known[word].text != value}, words


def typed(play: str, said: dict[str, str], vocabulary: Vocabulary, reads) -> str:
    """The line with the fewest keys of which the first reading says all of it."""
    def short(word: str, value: str) -> str:
        found = vocabulary.word(word).value(value)
        return min((*found.spoken, found.name), key=len)

    codes = [short(word, value) for word, value in said.items()]
    for line in (f"{play},{''.join(codes)}", f"{play},{' '.join(codes)}", f"{play},{','.join(codes)}"):
        if reads(line) == said:
            return line
    raise AssertionError(f"no line says {said} of {play}")


def keys_of_real_plays(count: int) -> None:
    choose, keys, all_said, asked, plain = Random(SEED), [], [], 0, []
    with tempfile.TemporaryDirectory() as folder:
        window = MainWindow(QSettings(f"{folder}/desk.ini", QSettings.Format.IniFormat))
        window.show()
        window.activateWindow()
        for real, rulebook in sample(count):
            path = Path(folder, f"{real.id}.game")
            GameFile.create(path, Heading(real.id, real.home, real.visitors, rulebook=rulebook.name,
                                          season=rulebook.season)).close()
            window.opening.open_game(path)
            while window.session is None or window.session.file.path != path:
                QTest.qWait(5)
            room, spoken = window.room, None
            wanted = []
            for number, play in enumerate(plays_of(real, rulebook), 1):
                spoken = spoken or Spoken(window.session.vocabulary)
                before = room.before()
                text = shortest(play, before, rulebook)
                words = {}
                if play.kind in SCRIMMAGE:
                    said, words = five_words(choose, room)

                    def reads(line, before=before, rulebook=rulebook, spoken=spoken):
                        found = read_line(line, spoken, lambda part: read(part, before, rulebook),
                                          may_be_play=known_to(rulebook))
                        return {each.word: each.text for each in found.readings[0].said} if found.readings else None

                    whole = typed(text, words, spoken.vocabulary, reads)
                    all_said.append(len(whole) + 1)
                    plain.append(len(text) + 1)
                    text = typed(text, said, spoken.vocabulary, reads) if said else text
                QTest.keyClicks(room.line, text)
                asked += bool(words) and not room.reading.line.is_certain
                pressed = len(text)
                while len(window.session.game.plays) < number and pressed < len(text) + 2:
                    QTest.keyClick(room.line, Qt.Key.Key_Return)
                    pressed += 1
                if words:
                    keys.append(pressed)
                wanted.append(words)
                QApplication.processEvents()
            known = known_words(window.session.game, window.session.steps)
            wrong = sum(any(each.get(word) is None or each[word].text != value for word, value in words.items())
                        for words, each in zip(wanted, known, strict=True))
            print(f"{real.visitors} at {real.home}, {real.season}: {len(wanted)} plays, {wrong} with other words than "
                  "drawn", flush=True)
        window.close()
    total = len(keys)
    print(f"\n{count} games, {total} plays from scrimmage with five own words each")
    print(f"play and words: mean {sum(keys) / total:.2f} keys a play, Enter among them, median {median(keys):.0f}, "
          f"most {max(keys)} (the aim is 12)")
    print(f"the play alone: mean {sum(plain) / total:.2f}; with all five typed, nothing carried on or following: "
          f"{sum(all_said) / total:.2f}")
    print(f"lines that were a question: {asked} ({asked / total:.1%})")
    for pressed, plays in sorted(Counter(keys).items()):
        print(f"{pressed:4} keys {plays:5}  {'#' * max(1, round(plays / total * 100))}")


def reading(folder: Path) -> None:
    """One reading of a line as it stands after each key, in the middle."""
    book = load_rulebook("nfhs")
    before = track(book, [Play(PlayKind.KICKOFF, kick_to=90, spot=70)])[-1].after
    spoken, known = Spoken(load_vocabulary(folder=folder)), known_to(book)
    lines = ("r4,tr11lt", "p12, d11 c3", "i, trips right, 12, cover 3", "s7, x7eg, 11, d, lh", "r4, power, bc22, tr11",
             "trips right, 11, r4", "p15t, bunch left, 22, fr 4-3, rh")
    times: dict[str, list[float]] = {
        name: [] for name in ("with own words", "as the desk does", "as one play", "the play alone")}

    def timed(name: str, act) -> None:
        start = thread_time()
        act()
        times[name].append((thread_time() - start) * 1000)

    for _ in range(20):
        for line in lines:
            kept: dict[str, Entry] = {}

            def kept_read(part: str, kept=kept) -> Entry:
                if part not in kept:
                    kept[part] = read(part, before, book)
                return kept[part]
            for keys in range(1, len(line) + 1):
                part = line[:keys]
                timed("with own words", lambda part=part: read_line(
                    part, spoken, lambda play: read(play, before, book),
                    lambda word, found: applies(word, found.play.kind, before), known))
                timed("as the desk does", lambda part=part: read_line(
                    part, spoken, kept_read, lambda word, found: applies(word, found.play.kind, before), known))
                timed("as one play", lambda part=part: read(part, before, book))
            timed("the play alone", lambda line=line: read(line.partition(",")[0], before, book))
    print("\nreading a line after each key; processor time of the thread; the desk keeps the "
          "play parts that it read in this situation:")
    for name, taken in times.items():
        print(f"{name:16} median {median(taken):.3f} ms, 95 % under {sorted(taken)[int(len(taken) * 0.95)]:.3f} ms")


def scrolling(folder: Path) -> None:
    """The sheet of 250 plays by 40 columns, every cell filled, scrolled by a wheel's step, repainted each time."""
    values = tuple(WordValue(f"value {n}") for n in range(12))
    words = tuple(OwnWord(f"word {n}", values=values, carried=n % 3 == 0) for n in range(30))
    choose = Random(SEED)
    tags = tuple(PlayTag(n, n, Play(PlayKind.RUN, gain=choose.randrange(9), comment=f"comment {n}"), words=tuple(
        sorted((WordSaid(word.name, (choose.choice(values).name,)) for word in words if choose.random() < 0.9),
               key=lambda each: each.word))) for n in range(1, 251))
    path = folder / "large.game"
    GameFile.create(path, game=Game(Heading("Large", "Summit", "Harbor"), plays=tags,
                                    vocabulary=Vocabulary("ours", words))).close()
    window = MainWindow(QSettings(str(folder / "desk2.ini"), QSettings.Format.IniFormat))
    window.show()
    window.opening.open_game(path)
    while window.session is None or window.room is None:
        QTest.qWait(5)
    print()
    for width, height in ((1280, 800), (1600, 950), (2560, 1440)):
        window.resize(width, height)
        start = perf_counter()
        if window.overlays.page("plays") is None or not window.overlays.page("plays").isVisible():
            window.act("desk.plays")
        QApplication.processEvents()
        opened = (perf_counter() - start) * 1000
        sheet = window.overlays.page("plays").sheet
        columns = window.overlays.page("plays").model.columnCount()
        sheet.horizontalScrollBar().setValue(0)
        taken = {}
        for name, bar, step in (("down", sheet.verticalScrollBar(), 48), ("across", sheet.horizontalScrollBar(), 60)):
            bar.setValue(0)
            QApplication.processEvents()
            times, steps = [], []
            while bar.value() < bar.maximum():
                start = thread_time()
                bar.setValue(bar.value() + step)
                QApplication.processEvents()        # what a scroll step paints
                steps.append((thread_time() - start) * 1000)
                start = thread_time()
                sheet.viewport().repaint()
                times.append((thread_time() - start) * 1000)
            taken[f"{name}, a step"], taken[f"{name}, all painted anew"] = steps, times
        rows = window.overlays.page("plays").model.rowCount()
        print(f"{rows} plays by {columns} columns at {width}x{height}, shown in "
              f"{opened:.0f} ms; 60 Hz is 16.7 ms (processor time of the thread)")
        for name, times in taken.items():
            if times:
                print(f"    {name:28} median {median(times):6.2f} ms, 95 % under "
                      f"{sorted(times)[int(len(times) * 0.95)]:6.2f} ms")
    model = window.overlays.page("plays").model
    start = perf_counter()
    model.sort(20)
    print(f"sorted in {(perf_counter() - start) * 1000:.0f} ms", end="; ")
    start = perf_counter()
    model.arrange("value 3")
    print(f"filtered in {(perf_counter() - start) * 1000:.0f} ms")
    model.arrange("")
    window.close()


def main(count: int) -> None:
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    app = QApplication.instance() or QApplication([])
    app.setStyle("Fusion")
    keys_of_real_plays(count)
    with tempfile.TemporaryDirectory() as folder:
        reading(Path(folder))
        scrolling(Path(folder))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)

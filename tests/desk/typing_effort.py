"""Real games as the keys a coordinator would press, and what typing the same into a spreadsheet takes.

Operator times are those of Card, Moran and Newell (1983), The Psychology of Human-Computer Interaction,
chapter 8 (also Communications of the ACM 23:396, 1980): K = 0.28 s for an average typist (40 words a
minute), M = 1.35 s of mental preparation, H = 0.40 s for a hand to move between keyboard and mouse.
"""

from __future__ import annotations

import random
from dataclasses import replace

from tests.outside.real_games.convert import Converter
from tests.outside.real_games.games import Game, game_ids, read_game
from workstation.football.notation import shortest
from workstation.football.periods import opening
from workstation.football.plays import Foul, Outcome, Play, PlayKind
from workstation.football.rulebook import Rulebook, load_rulebook
from workstation.football.sheet import SheetRow, write_rows
from workstation.football.situation import Next
from workstation.football.tracker import fold

K, M = 0.28, 1.35
FIRST, LAST, SEED = 2009, 2013, 2026


def sample(count: int) -> list[tuple[Game, Rulebook]]:
    """*count* games of the seasons 2009 to 2013, the same ones every time."""
    chosen = random.Random(SEED).sample(game_ids(FIRST, LAST), count)
    return [(read_game(eid, season), load_rulebook("professional", season)) for eid, season in chosen]


def plays_of(game: Game, rulebook: Rulebook) -> list[Play]:
    """The game directly converted, toss and ends of periods included. Clocks are left out: they are
    read off the scoreboard, not part of describing a play."""
    converter = Converter(game)
    situation, last, quarter, plays = opening(rulebook), None, 1, []

    def add(play: Play) -> None:
        nonlocal situation, last
        plays.append(play)
        last = fold(rulebook, situation, play, last)
        situation = last.after

    for row in game.rows:
        converted = converter.convert(row)
        if converted is None:
            continue
        while quarter < row.quarter and situation.next is not Next.OVER:
            add(Play(PlayKind.END_OF_PERIOD))
            quarter += 1
            if situation.next is Next.COIN_TOSS:
                break
        if situation.next is Next.COIN_TOSS and converted.play.kind is not PlayKind.TIMEOUT:
            add(Play(PlayKind.COIN_TOSS, team=converter.team(row.team).opponents, choice="receive"))
            quarter = row.quarter
        add(_as_tagged(converted.play, rulebook))
    return plays


def _as_tagged(play: Play, rulebook: Rulebook) -> Play:
    """Fouls by the rulebook's own names, and a kick that somebody brought back told as returned."""
    def named(foul: Foul) -> Foul:
        try:
            return replace(foul, name=rulebook.foul(foul.name, foul.by).name)
        except KeyError:        # "offensive" holding by the receivers of a punt, say
            return replace(foul, name=rulebook.foul(foul.name).name)

    fouls = tuple(named(foul) for foul in play.fouls)
    outcome = play.outcome
    if play.kind in (PlayKind.KICKOFF, PlayKind.PUNT) and outcome is None and not play.events and \
            None not in (play.kick_to, play.spot):
        outcome = Outcome.RETURNED
    return replace(play, clock=None, fouls=fouls, outcome=outcome)


def line_seconds(keys: int) -> float:
    """One play on the entry line: prepare once, then press the keys, Enter among them."""
    return M + keys * K


def spreadsheet_seconds(play: Play, rulebook: Rulebook, situation_cells: int = 3) -> tuple[int, float]:
    """The same play as a spreadsheet row: keys and seconds.

    Each filled cell is prepared (M) and typed; Tab passes over each cell between kind and the last filled
    one; Enter ends the row. Kind and outcome complete after their first two letters, as spreadsheets
    do with earlier entries of a column. Down, distance and ball are three more cells of two keys,
    because a spreadsheet works nothing out.
    """
    row = write_rows([SheetRow(play, {})], rulebook)[0]
    cells = {column: text for column, text in row.items() if text}
    columns = list(row)
    keys = sum(min(len(text), 2) if column in ("kind", "outcome") else len(text) for column, text in cells.items())
    keys += max((columns.index(column) for column in cells), default=0) + 1
    keys += situation_cells * 3
    return keys, keys * K + (len(cells) + situation_cells) * M


def type_game(room, plays: list[Play], rulebook: Rulebook) -> list[int]:
    """Type a whole game into the Tag room with real key events; returns the key presses for each play,
    Enter (twice where the rules object and the play is kept all the same) among them."""
    from PySide6.QtCore import Qt
    from PySide6.QtTest import QTest
    from PySide6.QtWidgets import QApplication

    counts = []
    for number, play in enumerate(plays, 1):
        text = shortest(play, room.before(), rulebook)
        QTest.keyClicks(room.line, text)
        keys = len(text)
        while len(room.session.game.plays) < number and keys < len(text) + 2:
            QTest.keyClick(room.line, Qt.Key.Key_Return)
            keys += 1
        counts.append(keys)
        QApplication.processEvents()
    return counts

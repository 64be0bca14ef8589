"""Several games of one crew side by side, as a table of words and shares: what gets better, practice by practice."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import isnan
from pathlib import Path

from ..coverage.checker import CheckedGame, check_game
from ..coverage.practice import PracticeSession, Result, gaps, judge, read_sessions, sessions_path
from ..coverage.summary import Summary, summarise
from ..tagging.gamefile import GameFile
from ..tagging.model import Heading

VIEWER_KNEW = "viewer knew the down"        # the first row


@dataclass(frozen=True)
class RuleShare:
    """One rule in one game: the share delivered (0 to 1, None where nothing was expected) and its words."""

    share: float | None
    words: str


@dataclass(frozen=True)
class Trend:
    """``games`` are column heads, ``rows`` a name with a cell for each game."""

    games: tuple[str, ...] = ()
    rows: tuple[tuple[str, tuple[RuleShare, ...]], ...] = ()
    left_out: tuple[str, ...] = ()      # games that could not be read, and why

    def spoken(self) -> str:
        """All of it in a sentence for each row."""
        return "; ".join(f"{name}: " + ", ".join(f"{game} {spoken_share(cell)} {cell.words}"
                                                 for game, cell in zip(self.games, cells, strict=True))
                         for name, cells in self.rows)

    def newest(self, games: int) -> Trend:
        """Only the last *games* games."""
        return Trend(self.games[-games:], tuple((name, cells[-games:]) for name, cells in self.rows))

    def of(self, rules: Sequence[str]) -> Trend:
        """Only the rows of these practices, in their order."""
        rows = dict(self.rows)
        return Trend(self.games, tuple((rule, rows[rule]) for rule in dict.fromkeys(rules) if rule in rows))


def spoken_share(cell: RuleShare) -> str:
    """Return the share as a whole percentage, or a dash where there is none."""
    return "–" if cell.share is None else f"{cell.share:.0%}"


Run = tuple[Heading, PracticeSession, Result]


def checked(path: Path) -> CheckedGame:
    """Open a game for reading and check it. Raises what opening and checking raise."""
    with GameFile.open(path, read_only=True) as file:
        game = file.game
    return check_game(game)


def runs_of(path: Path, one: CheckedGame) -> list[Run]:
    """The practice on a game, oldest first, with what came of it. Raises OSError, and ValueError for another file."""
    sessions = read_sessions(sessions_path(path))
    found = gaps(one.game, one.steps, one.coverage.profile, one.rulebook) if sessions else ()
    return [(one.game.heading, session, judge(found, session)) for session in sessions]


def read_trend(paths: Sequence[Path], progress: Callable[[float, float], None]) -> Trend:
    """Sum up several games. One that cannot be read is left out and named; ``progress`` may raise to stop."""
    games: list[tuple[Heading, Summary]] = []
    runs: list[Run] = []
    left_out = []
    for number, path in enumerate(paths):
        progress(number, len(paths))
        try:
            one = checked(path)
            games.append((one.game.heading, summarise(one.coverage)))
            runs += runs_of(path, one)
        except Exception as error:      # a bad file must not hide the others
            left_out.append(f"{path.name}: {error}")
    return laid_out(games, tuple(left_out), runs)


def laid_out(games: Sequence[tuple[Heading, Summary]], left_out: tuple[str, ...] = (),
             runs: Sequence[Run] = ()) -> Trend:
    """The trend as a table of words and shares, games by date; of each trainee's practice on a game, the newest run."""
    if not games:
        return Trend(left_out=left_out)
    from ..coverage import trend as trends  # here, because pandas is slow to import
    crews = trends.by_crew(games)      # with several crews each game names its crew
    viewing, table = trends.viewing_trend(games), trends.trend(games)
    heads = tuple(" · ".join(part for part in (crew if len(crews) > 1 else "", date, game) if part) or "untitled"
                  for crew, date, game in zip(viewing["crew"], viewing["date"], viewing["game"], strict=True))
    rows = [(VIEWER_KNEW, tuple(_cell(share, f"{snaps} snaps") for share, snaps in
                                           zip(viewing["share_down_known"], viewing["snaps"], strict=True)))]
    for rule, part in table.groupby("rule", sort=False):
        cells = []
        for row in part.itertuples():
            words = f"{row.delivered} of {row.expected}" if row.expected else "none expected"
            cells.append(_cell(row.share_delivered, words + (f", {row.overdone} too many" if row.overdone else "")))
        rows.append((rule, tuple(cells)))
    for (praise, word), part in trends.remark_trend(games).groupby(["praise", "word"], sort=False):
        rows.append((f"{'praise' if praise else 'remark'}: {word}",
                     tuple(_cell(None, f"{count}" if count else "none") for count in part["count"])))
    for (measure, unit), part in trends.camera_work_trend(games).groupby(["measure", "unit"], sort=False):
        rows.append((f"camera: {measure}, worst", tuple(_cell(None, "not measured" if isnan(worst) else
                                                              f"{worst:.1f} {unit}") for worst in part["worst"])))
    rows += _practice_rows([heading for heading, _ in trends.by_date(games)], runs)
    return Trend(heads, tuple(rows), left_out)


def _practice_rows(headings: Sequence[Heading], runs: Sequence[Run]) -> list[tuple[str, tuple[RuleShare, ...]]]:
    """A row for each trainee and answer that any of the runs was about."""
    newest = {(session.trainee, id(heading)): result for heading, session, result in runs}
    rows = []
    for trainee in dict.fromkeys(session.trainee for _, session, _ in runs):
        results = [newest.get((trainee, id(heading))) for heading in headings]
        for answer in sorted({answer for result in results if result is not None for answer in result.tallies}):
            cells = []
            for result in results:
                tally = result.tallies.get(answer) if result is not None else None
                if tally is None:
                    cells.append(RuleShare(None, "not practised" if result is None else "none needed"))
                    continue
                words = f"{tally.delivered} of {tally.expected}" if tally.expected else "none needed"
                cells.append(RuleShare(tally.share, words + (f", {tally.overdone} too many" if tally.overdone else "")))
            rows.append((f"practice, {trainee}: {answer}", tuple(cells)))
    return rows


def _cell(share: float | None, words: str) -> RuleShare:
    return RuleShare(None if share is None or isnan(share) else float(share), words)

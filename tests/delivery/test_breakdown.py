"""Breakdowns as they leave: read back by independent readers."""

from __future__ import annotations

import subprocess

import pandas as pd
import pytest

from tests.season.season_games import DRIVE, game
from tests.season.test_facts import frame_for
from workstation.delivery.breakdown_paper import write_breakdown
from workstation.delivery.breakdown_plots import bars_plot, field_plot, multiples_plot
from workstation.delivery.breakdown_sheet import breakdown_sheet, write_breakdown_sheet
from workstation.delivery.plot_paper import fit
from workstation.delivery.report_html import svg
from workstation.delivery.shapes import Bar, Dot
from workstation.season.breakdown import Breakdown, Recipe


def made(times: int = 1, **asked) -> Breakdown:
    frame = pd.concat([frame_for(game(DRIVE))] * times, ignore_index=True).assign(game="a")
    return Breakdown(frame, Recipe(**asked))


def test_the_sheet_has_every_cell_and_total_with_its_range():
    sheet = breakdown_sheet(made(rows=("down",), columns=("run_pass_kick",)))
    rows = {(row.down, row.run_pass_kick): row for row in sheet.itertuples()}
    assert set(rows) == {("1", "run"), ("1", "all"), ("2", "pass"), ("2", "all"), ("3", "pass"), ("3", "all"),
                         ("all", "run"), ("all", "pass"), ("all", "all")}
    whole = rows["all", "all"]
    assert (whole.plays, whole.runs, whole.passes, whole.run_share, whole.tells) == (6, 2, 4, 0.3333, False)
    assert (whole.run_low, whole.run_high) == pytest.approx((0.0968, 0.7), abs=5e-4)      # Wilson, 2 of 6


@pytest.mark.parametrize(("suffix", "read"), [(".csv", pd.read_csv), (".xlsx", pd.read_excel)])
def test_sheets_are_read_back(tmp_path, suffix, read):
    breakdown = made(rows=("down", "distance"))
    to = write_breakdown_sheet(breakdown, tmp_path / f"breakdown{suffix}")
    told = read(to)
    assert told["plays"].tolist() == [2, 1, 1, 1, 1, 6] and told["distance"].iloc[-1] == "all"


def test_another_form_is_refused(tmp_path):
    with pytest.raises(ValueError, match="csv"):
        write_breakdown_sheet(made(), tmp_path / "breakdown.docx")


@pytest.mark.parametrize("asked", [
    {"rows": ("down",)}, {"rows": ("down", "distance"), "columns": ("quarter",)}, {"rows": ()},
    {"rows": ("number",), "name": "many rows"}, {"rows": ("down",), "columns": ("number",)}])
def test_the_paper_is_one_page(tmp_path, asked):
    to = write_breakdown(made(30, **asked), [f"game {number}" for number in range(40)], tmp_path / "breakdown.pdf")
    told = subprocess.run(["pdfinfo", str(to)], capture_output=True, text=True, check=True).stdout
    assert "Pages:           1" in told and "Tagged:          yes" in told
    text = subprocess.run(["pdftotext", "-layout", str(to), "-"], capture_output=True, text=True, check=True).stdout
    assert "and 36 more" in text and "Wilson" in text


def test_what_does_not_fit_is_named(tmp_path):
    games = pd.concat([frame_for(game(DRIVE)).assign(number=lambda plays, n=n: plays["number"] + 20 * n, game="a")
                       for n in range(30)], ignore_index=True)
    to = write_breakdown(Breakdown(games, Recipe(rows=("number",))), ["one game"], tmp_path / "breakdown.pdf")
    text = subprocess.run(["pdftotext", "-layout", str(to), "-"], capture_output=True, text=True, check=True).stdout
    assert "160 more rows" in " ".join(text.split())


def test_the_field_has_a_dot_for_each_snap_runs_filled():
    plot = field_plot(made().frame, 500, 80, 8)
    dots = [shape for shape in plot.shapes if isinstance(shape, Dot)]
    assert (len(dots), sum(dot.is_filled for dot in dots)) == (6, 2)
    assert all(0 <= dot.x <= 500 and 0 <= dot.y <= 80 for dot in dots) and "6 snaps: 2 runs" in plot.alt
    assert svg(plot).count("<circle") == 6


def test_stacks_stay_on_the_picture():
    plot = field_plot(made(400).frame, 500, 80, 8)
    dots = [shape for shape in plot.shapes if isinstance(shape, Dot)]
    assert 6 <= len(dots) <= 6 * 80 / 3 and all(0 <= dot.y <= 80 for dot in dots)
    runs, of = sum(dot.is_filled for dot in dots), len(dots)
    assert runs / of == pytest.approx(2 / 6, abs=0.05) and "a dot is up to" in plot.alt


def test_bars_are_left_out_where_there_are_too_few():
    few, many = (bars_plot(made(times, rows=("down",)), 500, 16, 8, fit) for times in (1, 20))
    assert not any(isinstance(shape, Bar) for shape in few.shapes) and "too few to tell" in few.alt
    assert [round(shape.share, 2) for shape in many.shapes if isinstance(shape, Bar)] == [1, 0.5, 0, 0, 0, 0.5]


def test_a_small_multiple_for_each_row_inside_the_picture():
    breakdown = made(20, rows=("down",))
    plot = multiples_plot(breakdown, breakdown.row_keys, 400, 8, fit, across=2)
    assert all(0 <= shape.x <= 400 and 0 <= shape.y <= plot.height for shape in plot.shapes if isinstance(shape, Dot))
    assert plot.alt.count("plays") == 3

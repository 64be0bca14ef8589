"""The work of the camera in plain words, and the plot of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.coverage.camera_filming import FAULTS, Camera, checked
from tests.coverage.filming import PROFILE, Filming
from workstation.coverage.camera_table import COLUMNS, camera_cells, camera_rows
from workstation.delivery.shapes import Mark, StraightLine, camera_plot


def rows_of(fault: str | None):
    film = Filming()
    film.at(1, 10, 30)
    for gain in (3, 2, 4):
        film.run(gain)
    camera = Camera(film.now + 60)
    if fault:
        FAULTS[fault].spoil(camera, 18, 23)
    coverage = checked(film, camera, PROFILE)
    return film.game, coverage


@pytest.mark.parametrize(("fault", "title"), [
    ("shakes", "Steady"), ("tips_over", "Level"), ("goes_soft", "In focus"), ("burns_out", "Not too bright"),
    ("loses_the_action", "Action in the frame")])
def test_a_fault_stands_in_its_own_row_with_its_shot(fault, title):
    game, coverage = rows_of(fault)
    found = {row.title: row for row in camera_rows(game, coverage)}
    assert found[title].faulty >= 1 and found[title].at
    faulty = [shot for shot in found[title].shots if shot.is_faulty]
    assert all(shot.worst == max(each.worst for each in found[title].shots) for shot in faulty[:1])
    assert not any(row.faulty for name, row in found.items() if row.rule != found[title].rule)


def test_a_game_filmed_well_has_rows_without_faults():
    game, coverage = rows_of(None)
    rows = camera_rows(game, coverage)
    assert {row.title for row in rows} >= {"Steady", "Level", "In focus", "Clean lens"}
    assert not any(row.faulty for row in rows)
    cells = camera_cells(rows)
    assert all(len(line) == len(COLUMNS) and line[1] for line in cells)


def test_without_measures_there_is_nothing():
    game, coverage = rows_of(None)
    assert camera_rows(game, replace(coverage, camera_work=None)) == ()


def test_the_plot_has_a_stroke_for_each_shot_and_a_mark_where_fault_was_found():
    game, coverage = rows_of("shakes")
    rows = camera_rows(game, coverage)
    plot = camera_plot(rows, coverage.film_seconds, 800, 40, 10, lambda words, room, bold: words)
    strokes = [shape for shape in plot.shapes if isinstance(shape, StraightLine) and shape.x == shape.to_x]
    marks = [shape for shape in plot.shapes if isinstance(shape, Mark)]
    assert len(strokes) == sum(len(row.shots) for row in rows)
    assert len(marks) == sum(row.faulty for row in rows) == sum(stroke.ink == "bad" for stroke in strokes) > 0
    assert all(0 <= shape.x <= 800 and 0 <= shape.to_y <= plot.height for shape in strokes)
    tall = {stroke.y - stroke.to_y for stroke in strokes}
    assert max(tall) == 40 - 2 * 10 and min(tall) >= 0
    assert "Steady: worst" in plot.alt and "1 shot with a finding" in plot.alt

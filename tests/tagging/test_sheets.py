from __future__ import annotations

import io
import zipfile
from contextlib import suppress
from datetime import time
from functools import cache

import openpyxl
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workstation.football.plays import Play, PlayKind
from workstation.football.rulebook import load_rulebook
from workstation.football.sheet import COLUMNS, SheetError, write_rows
from workstation.tagging import sheets
from workstation.tagging.sheets import SheetFileError, pasted_cells, read_sheet, rows_of

UNHURRIED = settings(deadline=None)  # a slow machine is no failure

BOOK = load_rulebook("nfhs")
PLAYS = [
    Play(PlayKind.RUN, gain=4.0, comment="über “quick”, left; no huddle"),
    Play(PlayKind.PASS, gain=-2.0, clock=581),
    Play(PlayKind.TIMEOUT),
]


def frame() -> pd.DataFrame:
    return pd.DataFrame(write_rows(PLAYS, BOOK))


@cache
def workbook() -> bytes:
    packed = io.BytesIO()
    frame().to_excel(packed, index=False)
    return packed.getvalue()


@pytest.mark.parametrize("separator", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_a_sheet_of_text_reads_back(tmp_path, separator, encoding):
    path = tmp_path / "sheet.csv"
    frame().to_csv(path, sep=separator, index=False, encoding=encoding)
    assert [row.play for row in read_sheet(path, BOOK)] == PLAYS


def test_a_workbook_reads_back(tmp_path):
    path = tmp_path / "sheet.xlsx"
    frame().to_excel(path, index=False)
    assert [row.play for row in read_sheet(path, BOOK)] == PLAYS


def test_a_workbook_filled_by_hand_is_read_as_typed(tmp_path):
    """Spreadsheets turn 4 into a number and 9:41 into a time of day."""
    book = openpyxl.Workbook()
    book.active.append(["Kind", "Gain", "Clock", "shot"])
    book.active.append(["run", 4, time(9, 41), 12.0])
    book.active.append(["run", 2.5, time(0, 9, 41), None])
    path = tmp_path / "sheet.xlsx"
    book.save(path)
    first, second = read_sheet(path, BOOK)
    assert (first.play.gain, first.play.clock, first.others["shot"]) == (4, 581, "12")
    assert (second.play.gain, second.play.clock) == (2.5, 581)


def test_a_text_with_one_line_per_play_is_read(tmp_path):
    path = tmp_path / "plays.txt"
    path.write_text("# first quarter\nhome defer\n\nkickoff touchback\nrun 6\n")
    assert [row.play.kind.value for row in read_sheet(path, BOOK)] == ["coin toss", "kickoff", "run"]
    path.write_text("home defer\n\nrun zebra")
    with pytest.raises(SheetError) as error:
        read_sheet(path, BOOK)
    assert error.value.cells[0].row == 3


def test_pasted_cells_are_read():
    rows = rows_of(pasted_cells("kind\tgain\nrun\t4\n\nrun\t\n"), BOOK)
    assert [row.play.gain for row in rows] == [4, None]


def test_the_apostrophe_against_formulas_is_taken_off():
    row, = rows_of(pasted_cells("kind,gain,comment\nrun,'-3,'=1+1\n"), BOOK)
    assert row.play == Play(PlayKind.RUN, gain=-3, comment="=1+1")
    assert rows_of(pasted_cells("kind,comment\nrun,'tis\n"), BOOK)[0].play.comment == "'tis"


def test_every_bad_cell_is_told_with_its_row():
    with pytest.raises(SheetError) as error:
        rows_of(pasted_cells("kind,gain\nrun,4\n\njump,4\nrun,far\n"), BOOK)
    assert [(cell.row, cell.column) for cell in error.value.cells] == [(4, "kind"), (5, "gain")]


def test_a_cell_beyond_the_headings_is_told():
    with pytest.raises(SheetError, match="no column"):
        rows_of(pasted_cells("kind,gain\nrun,4,5\n"), BOOK)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no headings"),
        ("down,distance\n1,10\n", "no column 'kind'"),
        ("kind,Gain,Gain\nrun,1,2\n", "comes twice"),
        ("kind\n" + "run\n" * (sheets.MOST_ROWS + 1), "more than 2000 rows"),
        ("kind" + "," * sheets.MOST_COLUMNS + "\n", "more than 200 columns"),
    ],
)
def test_what_is_no_play_sheet_is_refused_clearly(text, said):
    with pytest.raises(SheetFileError, match=said):
        rows_of(pasted_cells(text), BOOK)


def test_a_workbook_that_unpacks_to_gigabytes_is_not_opened(tmp_path):
    path = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for number in range(3):
            archive.writestr(f"xl/worksheets/sheet{number}.xml", b"0" * sheets.LARGEST_FILE * 2)
    assert path.stat().st_size < 1_000_000
    with pytest.raises(SheetFileError, match="unpacks to far more"):
        read_sheet(path, BOOK)


def test_entities_that_multiply_are_not_followed(tmp_path):
    """A billion laughs: nested XML entities that would grow to gigabytes. Expat has refused them since 2.4.1."""
    levels = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 10))
    laughs = (
        f'<?xml version="1.0"?><!DOCTYPE worksheet [<!ENTITY l0 "ha">{levels}]>'
        '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>'
        '<row r="1"><c r="A1" t="inlineStr"><is><t>&l9;</t></is></c></row></sheetData></worksheet>'
    )
    bomb = tmp_path / "laughs.xlsx"
    with zipfile.ZipFile(io.BytesIO(workbook())) as good, zipfile.ZipFile(bomb, "w") as bad:
        for name in good.namelist():
            bad.writestr(name, laughs if name.endswith("sheet1.xml") else good.read(name))
    with pytest.raises(SheetFileError, match="can't be read"):
        read_sheet(bomb, BOOK)


def test_a_workbook_far_too_wide_or_long_is_refused(tmp_path):
    book = openpyxl.Workbook()
    book.active.append(["kind"])
    book.active["XFD2"] = "run"
    path = tmp_path / "wide.xlsx"
    book.save(path)
    with pytest.raises(SheetFileError, match="more than 200 columns"):
        read_sheet(path, BOOK)


@pytest.mark.parametrize("raw", [b"\xd0\xcf\x11\xe0 old", b"PK\x03\x04 cut off", bytes(range(256)), b"\xff\xfe\x00"])
def test_files_of_another_kind_are_refused(tmp_path, raw):
    path = tmp_path / "sheet.xlsx"
    path.write_bytes(raw)
    with pytest.raises(SheetFileError, match="sheet.xlsx"):
        read_sheet(path, BOOK)


@UNHURRIED
@given(st.lists(st.tuples(st.floats(0, 1), st.integers(0, 255)), min_size=1, max_size=8))
def test_altered_workbooks_never_do_worse_than_an_error(tmp_path_factory, flips):
    raw = bytearray(workbook())
    for place, byte in flips:
        raw[4 + int(place * (len(raw) - 5))] = byte
    path = tmp_path_factory.mktemp("altered") / "sheet.xlsx"
    path.write_bytes(raw)
    with suppress(SheetFileError, SheetError):
        read_sheet(path, BOOK)


@UNHURRIED
@given(st.binary(max_size=300) | st.lists(st.sampled_from([*COLUMNS, ",", "\n", '"', "run", "\0"])).map(
    lambda words: "".join(words).encode()))
def test_whatever_lies_in_a_file_ends_in_rows_or_a_clear_error(tmp_path_factory, raw):
    path = tmp_path_factory.mktemp("any") / "sheet.csv"
    path.write_bytes(raw)
    with suppress(SheetFileError, SheetError):
        read_sheet(path, BOOK)


@pytest.mark.parametrize("columns", [201, 16384])
def test_a_workbook_with_a_cell_far_to_the_right_is_refused_at_once(tmp_path, columns, monkeypatch):
    read = []
    monkeypatch.setattr(sheets, "_spoken", lambda cell: read.append(cell) or str(cell or ""))
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(["kind", "gain"])
    for row in range(2, 2002):
        sheet.cell(row, 1, "run")
        sheet.cell(row, columns, "x")
    book.save(tmp_path / "wide.xlsx")
    with pytest.raises(SheetFileError, match="more than 200 columns"):
        read_sheet(tmp_path / "wide.xlsx", load_rulebook("nfhs"))
    assert len(read) < 1000         # of half a million cells or of 32 million


def test_rows_and_columns_that_are_only_formatted_are_passed_over(tmp_path):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(["kind", "gain"])
    sheet.append(["run", 7])
    for row in range(2, 2500):
        sheet.cell(row, 400).font = openpyxl.styles.Font(bold=True)
    book.save(tmp_path / "styled.xlsx")
    (row,) = read_sheet(tmp_path / "styled.xlsx", load_rulebook("nfhs"))
    assert row.play.gain == 7

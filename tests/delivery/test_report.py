"""The review report of the demo game, opened as its readers would open it."""

from __future__ import annotations

import re
import shutil
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from PIL import Image

from tests.coverage.camera_filming import Camera
from tests.footage import run
from workstation.cancelling import Cancelled
from workstation.commands import open_game
from workstation.coverage.camera_work import CameraWork, MeasuredFilm
from workstation.coverage.checker import check
from workstation.coverage.profile import load_profile
from workstation.coverage.severities import WORDS
from workstation.coverage.summary import COLUMNS
from workstation.delivery.report import gather
from workstation.delivery.report_writing import write_report
from workstation.delivery.still import still
from workstation.tagging.model import (
    Decision,
    Drawing,
    DrawingKind,
    Heading,
    Note,
    ShotKind,
    Verdict,
)


@pytest.fixture
def opened(demo_game_file):
    return open_game(demo_game_file)


class _Page(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict]] = []
        self.text = ""

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data):
        self.text += data


def page_of(path) -> _Page:
    page = _Page()
    page.feed(path.read_text(encoding="utf-8"))
    return page


def test_html_shows_every_finding_with_its_picture_and_needs_nothing_else(opened, tmp_path):
    page = page_of(write_report(opened.game, opened.steps, opened.coverage, tmp_path / "review.html"))
    for finding in opened.coverage.findings:
        assert finding.title in page.text and finding.why in page.text
    pictures = [attrs["src"] for tag, attrs in page.tags if tag == "img"]
    assert len(pictures) >= len(opened.coverage.findings)
    assert all(source.startswith("data:image/jpeg;base64,") for source in pictures)
    links = [attrs for _, attrs in page.tags if "href" in attrs or attrs.get("src", "data:")[:5] != "data:"]
    assert links == []


def test_what_people_typed_is_escaped(opened, tmp_path):
    evil = '<script>alert("x")</script><img src=x onerror=y>'
    finding = opened.coverage.findings[0]
    game = replace(opened.game, heading=replace(opened.game.heading, title=evil, crew=evil),
                   decisions=(Decision(finding.key, Verdict.WAIVED, reason=evil, comment=evil),))
    coverage = check(game, opened.steps, opened.coverage.profile, opened.rulebook)
    page = page_of(write_report(game, opened.steps, coverage, tmp_path / "review.html"))
    assert "script" not in {tag for tag, _ in page.tags}
    assert not any("onerror" in attrs for _, attrs in page.tags)
    assert page.text.count(evil) >= 3
    write_report(game, opened.steps, coverage, tmp_path / "review.pdf")


def test_decisions_and_comments_stand_in_the_report(opened, tmp_path):
    finding = opened.coverage.findings[0]
    game = replace(opened.game, decisions=(
        Decision(finding.key, Verdict.WAIVED, reason="the board was dark", comment="well spotted"),))
    coverage = check(game, opened.steps, opened.coverage.profile, opened.rulebook)
    page = page_of(write_report(game, opened.steps, coverage, tmp_path / "review.html"))
    assert "waived: the board was dark - well spotted" in page.text
    text = run("pdftotext", "-layout", str(write_report(game, opened.steps, coverage, tmp_path / "review.pdf")), "-")
    assert "the board was dark" in text


def test_pictures_of_injured_players_are_withheld(opened):
    finding = opened.coverage.findings[0]
    shots = tuple(replace(shot, kind=ShotKind.INJURY) if shot.id == finding.shot else shot
                  for shot in opened.game.shots)
    if finding.shot is None:
        finding = replace(finding, shot=opened.game.shots[0].id)
        shots = (replace(opened.game.shots[0], kind=ShotKind.INJURY), *opened.game.shots[1:])
    coverage = replace(opened.coverage, findings=(finding,))
    (entry,) = gather(replace(opened.game, shots=shots), opened.steps, coverage).entries
    assert entry.picture is None and "discretion" in entry.no_picture


def test_a_picture_that_cannot_be_had_is_said_to_be_missing(opened, tmp_path):
    finding = opened.coverage.findings[0]
    path = opened.game.film.source(finding.at.source).path
    path.unlink()
    entries = gather(opened.game, opened.steps, opened.coverage).entries
    gone = [entry for entry in entries if entry.finding.at.source == finding.at.source]
    assert gone and all(entry.picture is None and entry.no_picture for entry in gone)


def test_empty_game_has_a_report_too(opened, tmp_path):
    game = replace(opened.game, heading=Heading(), shots=(), moments=(), plays=(), decisions=())
    coverage = check(game, [], load_profile(), opened.rulebook)
    for name in ("review.html", "review.pdf"):
        assert write_report(game, [], coverage, tmp_path / name).stat().st_size > 500


def test_pdf_pages_render_with_ink_on_them(opened, tmp_path):
    write_report(opened.game, opened.steps, opened.coverage, tmp_path / "review.pdf")
    run("pdftoppm", "-r", "40", "-png", str(tmp_path / "review.pdf"), str(tmp_path / "page"))
    pages = sorted(tmp_path.glob("page*.png"))
    assert len(pages) >= 2
    for page in pages:
        with Image.open(page) as image:
            dark = sum(image.convert("L").histogram()[:128])
            assert dark > image.width * image.height * 0.002
    text = run("pdftotext", "-layout", str(tmp_path / "review.pdf"), "-")
    words = set(re.findall(r"\w+", text))
    for finding in opened.coverage.findings:
        assert set(re.findall(r"\w+", finding.title)) <= words


@pytest.mark.skipif(shutil.which("chromium") is None, reason="Chromium is not installed")
def test_chromium_draws_the_page_without_complaint(opened, tmp_path):
    write_report(opened.game, opened.steps, opened.coverage, tmp_path / "review.html")
    run("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
        "--disable-background-networking", "--disable-component-update", "--disable-sync",
        f"--user-data-dir={tmp_path / 'profile'}", "--window-size=1000,1600", f"--screenshot={tmp_path / 'page.png'}",
        (tmp_path / "review.html").as_uri())
    with Image.open(tmp_path / "page.png") as image:
        colours = image.convert("RGB").getcolors(1 << 24)
    assert len(colours) > 2000          # photographs are on it, not only text


def test_other_suffixes_are_refused_and_cancel_leaves_nothing(opened, tmp_path):
    with pytest.raises(ValueError, match=r"\.html or \.pdf"):
        write_report(opened.game, opened.steps, opened.coverage, tmp_path / "review.doc")
    with pytest.raises(Cancelled):
        write_report(opened.game, opened.steps, opened.coverage, tmp_path / "review.html", cancelled=lambda: True)
    assert not list(tmp_path.glob("review*"))


def annotated(opened, tmp_path):
    """The demo game with a note, a drawing, a waiver and a comment, and its report in both forms."""
    finding, other = opened.coverage.findings[:2]
    at = opened.game.film.instant_at(30)
    game = replace(opened.game, notes=(Note(1, at, "left tackle late"),),
                   drawings=(Drawing(1, DrawingKind.ARROW, opened.game.film.instant_at(31), ((0.2, 0.2), (0.8, 0.8))),
                             Drawing(2, DrawingKind.TEXT, opened.game.film.instant_at(31), ((0.5, 0.5),),
                                     text="watch him")),
                   decisions=(Decision(finding.key, Verdict.WAIVED, reason="dark"),
                              Decision(other.key, None, "", "see again")))
    coverage = check(game, opened.steps, opened.coverage.profile, opened.rulebook)
    page = page_of(write_report(game, opened.steps, coverage, tmp_path / "review.html"))
    pdf = write_report(game, opened.steps, coverage, tmp_path / "review.pdf")
    return game, coverage, page, pdf


def test_both_forms_say_the_same(opened, tmp_path):
    _, coverage, page, pdf = annotated(opened, tmp_path)
    paper = " ".join(run("pdftotext", "-layout", str(pdf), "-").split())
    screen = " ".join(page.text.split())
    compact = paper.replace(" ", "")        # a cell of the table may break its words
    for words in ("left tackle late", "watch him", "waived: dark", "see again", "Next time:"):
        assert words in screen and words.replace(" ", "") in compact, words
    for column in COLUMNS:
        assert column in screen and set(column.split()) <= set(paper.split())      # heads are wrapped on paper
    for severity in {finding.severity for finding in coverage.findings}:
        assert WORDS[severity] in screen and WORDS[severity].replace(" ", "") in compact
    for finding in coverage.findings:
        assert f"Next time: {finding.habit}" in screen
    assert not re.search(r"\b(error|warning)\b", paper)


def test_the_work_of_the_camera_stands_in_both_forms_or_that_it_was_not_measured(opened, tmp_path):
    film = opened.game.film
    work = CameraWork(opened.game, MeasuredFilm(film, {
        source.id: Camera(float(source.duration)).record(float(1 / source.time_base), source.start_pts)
        for source in film.sources}))
    coverage = check(opened.game, opened.steps, opened.coverage.profile, opened.rulebook, work)
    for made, has_rows in ((coverage, True), (replace(coverage, camera_work=None), False)):
        page = page_of(write_report(opened.game, opened.steps, made, tmp_path / "review.html"))
        paper = run("pdftotext", "-layout", str(write_report(opened.game, opened.steps, made, tmp_path / "review.pdf")),
                    "-")
        for text in (page.text, paper):
            assert "Camera work" in text
            assert ("Action in the frame" in text) is has_rows and ("Steady" in text) is has_rows
        assert len([1 for tag, _ in page.tags if tag == "svg"]) == 1 + has_rows


def test_what_was_drawn_is_on_the_picture_of_the_note(opened):
    game = replace(opened.game, drawings=(
        Drawing(1, DrawingKind.CIRCLE, opened.game.film.instant_at(31), ((0.5, 0.5), (0.7, 0.5))),))
    (drawn,) = gather(game, opened.steps, opened.coverage).notes
    plain = still(game.film, game.film.instant_at(31))
    assert drawn.picture is not None and (drawn.picture.image != plain.image).any()


def test_papers_are_tagged_and_their_type_is_embedded(opened, tmp_path):
    _, _, _, pdf = annotated(opened, tmp_path)
    assert re.search(r"Tagged:\s+yes", run("pdfinfo", str(pdf)))
    fonts = run("pdffonts", str(pdf)).splitlines()[2:]
    assert fonts and all(line.split()[-5] == "yes" for line in fonts), fonts
    structure = run("pdfinfo", "-struct-text", str(pdf))
    for role in ("H1", "H2", "H3", "P (block)", "Table", "TR", "TH", "TD", "Figure"):
        assert role in structure, role
    read = " ".join(re.findall(r'"((?:[^"\\]|\\.)*)"', structure))
    for finding in opened.coverage.findings:        # all that is said is in the structure, not only on the page
        assert set(re.findall(r"\w+", finding.title)) <= set(re.findall(r"\w+", read))

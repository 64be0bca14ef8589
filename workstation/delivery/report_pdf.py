"""The review report as PDF."""

from __future__ import annotations

from pathlib import Path

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether

from ..coverage.camera_table import COLUMNS, camera_cells
from ..coverage.severities import MARKS, WORDS
from ..film.time import spoken_time
from .papers import HEADING, SMALL, SUBHEADING, TEXT, TITLE, beside, paragraph, table, write_document
from .plot_paper import drawn, fit
from .report import Report, ReportedFinding, ReportedNote
from .shapes import CAMERA_LEGEND, camera_plot, certainty_plot

_WIDTH, _HEIGHT, _LETTER = 172 * mm, 47 * mm, 6.5
_STRIP = 8.5 * mm       # of camera work


def write_pdf(report: Report, to: Path) -> None:
    """Write the pages to ``to``."""
    coverage = report.coverage
    story: list[Flowable] = [paragraph(report.title, TITLE), paragraph(report.game.about, SMALL),
                             paragraph(report.headline),
                             paragraph("How sure a viewer was of the down", HEADING),
                             drawn(certainty_plot(coverage.beliefs, coverage.findings, coverage.film_seconds,
                                                  coverage.profile.viewer.unsure_below, _WIDTH, _HEIGHT, _LETTER)),
                             paragraph("The curve steps at each snap. Below the broken line a viewer counts as unsure. "
                                       "Triangles are findings.", SMALL)]
    if report.summary.habits:
        story.append(paragraph("What would help most", HEADING))
        for number, habit in enumerate(report.summary.habits, 1):
            story.append(paragraph(f"{number}. {habit.advice}  (would have helped "
                                   f"{habit.times}; clearest: "
                                   f"{habit.example.title})"))
    if report.summary.remarks:
        words = [["Remark", "How often", "First at"]]
        words += [[f"{each.word} (praise)" if each.praise else each.word, str(each.count), spoken_time(each.first.time)]
                  for each in report.summary.remarks]
        story += [paragraph("The mentor's remarks", HEADING), table(words, [80, 24, 24])]
    if report.summary.by_rule:
        each = min(16.0, 57 / max(len(report.periods), 1))
        story += [paragraph("Expected and delivered", HEADING),
                  table([report.columns(), *report.rows()], [42, 19, 14, 12, 14, 14, *([each] * len(report.periods))])]
    story += _camera(report)
    entries = [_entry(entry) for entry in report.entries] or [paragraph("Nothing was found: every viewer was served.")]
    story += [KeepTogether([paragraph("Findings", HEADING), entries[0]]), *entries[1:]]
    if report.notes:
        notes = [_note(note) for note in report.notes]
        story += [KeepTogether([paragraph("The mentor's notes and drawings", HEADING), notes[0]]), *notes[1:]]
    for title, lines in (("Not judged yet", coverage.waiting),
                         ("Where practice yields to whoever receives the film", coverage.yielded),
                         ("With care", coverage.profile.cautions)):
        if lines:
            story.append(KeepTogether([paragraph(title, HEADING), *(paragraph(line, SMALL) for line in lines)]))
    write_document(str(to), f"{report.title}: review", story)


def _camera(report: Report) -> list[Flowable]:
    """The work of the camera as a table and a plot, or that it was not measured."""
    unmeasured = [paragraph(report.summary.unmeasured, SMALL)] if report.summary.unmeasured else []
    if not report.camera:
        return [KeepTogether([paragraph("Camera work", HEADING), *unmeasured])] if unmeasured else []
    plot = camera_plot(report.camera, report.coverage.film_seconds, _WIDTH, _STRIP, _LETTER, fit)
    return [KeepTogether([paragraph("Camera work", HEADING), drawn(plot), paragraph(CAMERA_LEGEND, SMALL)]),
            table([list(COLUMNS), *map(list, camera_cells(report.camera))], [30, 70, 22, 22, 14, 14]), *unmeasured]


def _entry(entry: ReportedFinding) -> Flowable:
    finding = entry.finding
    where = "  ·  ".join(filter(None, (f"{MARKS[finding.severity]} {WORDS[finding.severity]}", finding.rule,
                                       f"film {entry.film_time}", entry.situation)))
    words = [paragraph(finding.title, SUBHEADING), paragraph(where, SMALL), paragraph(finding.why)]
    words += [paragraph(line, SMALL) for line in (*finding.evidence, finding.article) if line]
    if finding.habit:
        words.append(paragraph(f"Next time: {finding.habit}", TEXT))
    if entry.decision:
        words.append(paragraph(entry.decision, TEXT))
    return beside(entry.picture, 58, f"The film at {entry.film_time}: {finding.title}", words, entry.no_picture)


def _note(note: ReportedNote) -> Flowable:
    where = "  ·  ".join(filter(None, (f"film {note.film_time}", note.situation)))
    words = [paragraph(where, SMALL), paragraph(note.text)]
    return beside(note.picture, 58, f"Drawn on the film at {note.film_time}: {note.text}", words)


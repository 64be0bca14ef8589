"""The review report as PDF."""

from __future__ import annotations

from pathlib import Path

from reportlab.graphics.shapes import Drawing, Line, Polygon, PolyLine, String
from reportlab.lib import colors
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether, Table

from ..coverage.finding import Severity
from ..film.time import spoken_time
from ..football.speaking import spoken_period
from .certainty_plot import CertaintyPlot, certainty_plot
from .papers import HEADING, INK, LINE, QUIET, SMALL, TEXT, TITLE, document, number_pages, paragraph, picture, table
from .report import Report, ReportedFinding, counted

_WIDTH, _HEIGHT = 168 * mm, 34 * mm
_BAD = colors.HexColor("#a32014")
_CURVE = colors.HexColor("#14567d")


def write_pdf(report: Report, to: Path) -> None:
    """Write the pages to ``to``."""
    coverage = report.coverage
    story: list[Flowable] = [paragraph(report.title, TITLE), paragraph(report.about, SMALL), paragraph(report.headline),
                             paragraph("How sure a viewer was of the down", HEADING),
                             _drawing(certainty_plot(coverage.beliefs, coverage.findings, coverage.film_seconds,
                                                     coverage.profile.viewer.unsure_below, _WIDTH, _HEIGHT)),
                             paragraph("The curve steps at each snap. Below the broken line a viewer counts as unsure. "
                                       "Triangles are findings.", SMALL)]
    if report.summary.habits:
        story.append(paragraph("What would help most", HEADING))
        for number, habit in enumerate(report.summary.habits, 1):
            story.append(paragraph(f"{number}. {habit.advice}  ({counted(habit.findings, 'finding')}; clearest: {habit.example.title})"))
    if report.summary.remarks:
        words = [["Remark", "How often", "First at"]]
        words += [[f"{each.word} (praise)" if each.praise else each.word, str(each.count), spoken_time(each.first.time)]
                  for each in report.summary.remarks]
        story += [paragraph("The mentor's remarks", HEADING), table(words, [80, 24, 24])]
    if report.summary.by_rule:
        rows = [["Rule", "Delivered", "Missed", "Too much", *report.period_names()]]
        rows += [[rule, f"{tally.delivered} of {tally.expected}", str(tally.missed), str(tally.overdone), *periods]
                 for rule, tally, periods in report.rows()]
        each = 84 / max(len(report.periods) + 1, 5)
        story += [paragraph("Expected and delivered", HEADING),
                  table(rows, [50, 20, 16, 18, *([each] * len(report.periods))])]
    entries = [_entry(entry) for entry in report.entries] or [paragraph("Nothing was found: every viewer was served.")]
    story += [KeepTogether([paragraph("Findings", HEADING), entries[0]]), *entries[1:]]
    for title, lines in (("Not judged yet", coverage.waiting),
                         ("Where practice yields to whoever receives the film", coverage.yielded), ("With care", coverage.profile.cautions)):
        if lines:
            story += [paragraph(title, HEADING), *(paragraph(line, SMALL) for line in lines)]
    document(str(to), f"{report.title}: review").build(story, onFirstPage=number_pages, onLaterPages=number_pages)


def _entry(entry: ReportedFinding) -> Flowable:
    finding = entry.finding
    where = "  ·  ".join(filter(None, (str(finding.severity), finding.rule, f"film {entry.film_time}", entry.situation)))
    words = [paragraph(finding.title, HEADING), paragraph(where, SMALL), paragraph(finding.why)]
    words += [paragraph(line, SMALL) for line in (*finding.evidence, finding.article) if line]
    if entry.decision:
        words.append(paragraph(entry.decision, TEXT))
    seen = picture(entry.picture, 58) if entry.picture else paragraph(entry.no_picture, SMALL)
    return Table([[seen, words]], [62 * mm, 110 * mm], splitByRow=0, style=[
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("LINEABOVE", (0, 0), (-1, 0), 0.4, LINE), ("LEFTPADDING", (0, 0), (0, 0), 0)])


def _drawing(plot: CertaintyPlot) -> Drawing:
    drawing = Drawing(plot.width, plot.height + 13 * mm)
    base = 9 * mm
    for share in (0, 0.5, 1):
        y = base + plot.height * share
        drawing.add(Line(0, y, plot.width, y, strokeColor=LINE, strokeWidth=0.4))
        drawing.add(String(plot.width, y + 1.5, f"{share:.0%}", fontSize=6.5, fillColor=QUIET, textAnchor="end"))
    drawing.add(Line(0, base + plot.unsure, plot.width, base + plot.unsure, strokeColor=_BAD, strokeWidth=0.6,
                     strokeDashArray=(4, 3)))
    for x, period in plot.periods:
        drawing.add(Line(x, base, x, base + plot.height, strokeColor=LINE, strokeWidth=0.4))
        drawing.add(String(x + 2, 3, spoken_period(period), fontSize=6.5, fillColor=QUIET))
    if plot.steps:
        drawing.add(PolyLine([value for x, y in plot.steps for value in (x, base + y)], strokeColor=_CURVE, strokeWidth=1.2))
    for x, severity in plot.marks:
        fill = _BAD if severity is Severity.ERROR else INK if severity is Severity.WARNING else colors.white
        drawing.add(Polygon([x, base - 2, x - 3, base - 8, x + 3, base - 8], fillColor=fill, strokeColor=INK, strokeWidth=0.4))
    return drawing

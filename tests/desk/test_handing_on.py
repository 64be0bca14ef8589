"""What leaves the Sequence room: drawings, freeze frames, stills, packs, and checking one again in the desk."""

from __future__ import annotations

import hashlib
import json

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog

from tests.desk.test_review_in_the_window import press
from tests.desk.test_sequence_in_the_window import sequence  # noqa: F401 - a fixture
from tests.footage import run
from workstation.delivery.pack import MANIFEST
from workstation.delivery.sequence import Form
from workstation.tagging.model import Drawing, DrawingKind, Moment, MomentKind, Sequence, SequenceItem
from workstation.tagging.operations import AddRecord

SPAN = SequenceItem(2, -1.0, -3.0)      # the second play, 12 to 16 s of the film


@pytest.fixture
def drawn(qtbot, sequence):  # noqa: F811
    """A sequence of one play with two drawings of one moment each, the second half a second before the cut."""
    session = sequence.session
    for seconds in (13, 15.5):
        session.do(
            AddRecord(Drawing(0, DrawingKind.ARROW, session.film.instant_at(seconds), ((0.2, 0.2), (0.8, 0.8)))))
    session.do(AddRecord(Sequence(0, "Drawn", (SPAN,))))
    qtbot.waitUntil(lambda: sequence.room.editor.reel.count() == 1, timeout=5000)
    return sequence


def write(qtbot, window, form, tmp_path):
    panel = window.room.exporting
    panel.form.setCurrentIndex(panel.form.findData(form))
    panel.captions.setChecked(False)
    panel.folder.setText(str(tmp_path))
    window.room.results.setFocus()
    with qtbot.waitSignal(window.jobs.finished, timeout=60000):
        press(qtbot, Qt.Key.Key_X)
    return panel


def length_of(film) -> float:
    said = json.loads(run("ffprobe", "-v", "error", "-show_entries", "format=duration", "-of", "json", str(film)))
    return float(said["format"]["duration"])


def test_the_film_runs_as_filmed_unless_a_person_asks_it_to_stand_still(qtbot, drawn, tmp_path):
    panel = drawn.room.exporting
    panel.form.setCurrentIndex(panel.form.findData(Form.FILM))
    assert panel.freeze.isVisible() and not panel.freeze.isChecked()
    assert "stands still" not in write(qtbot, drawn, Form.FILM, tmp_path).message.text()
    assert length_of(tmp_path / "Drawn.mp4") == pytest.approx(4, abs=0.1)
    panel.freeze.setChecked(True)
    told = write(qtbot, drawn, Form.FILM, tmp_path).message.text()
    assert length_of(tmp_path / "Drawn 2.mp4") == pytest.approx(8, abs=0.1)
    assert "stands still 2 times" in told and "4 seconds longer" in told


def test_nothing_is_offered_to_stand_still_for_without_drawings(qtbot, sequence):  # noqa: F811
    sequence.session.do(AddRecord(Sequence(0, "Plain", (SPAN,))))
    qtbot.waitUntil(lambda: sequence.room.editor.reel.count() == 1, timeout=5000)
    assert not sequence.room.exporting.freeze.isVisible()


def packets_in(path) -> int:
    return int(run("ffprobe", "-v", "error", "-ignore_editlist", "1", "-select_streams", "v", "-count_packets",
                   "-show_entries", "stream=nb_read_packets", "-of", "csv=p=0", str(path)).strip().rstrip(","))


def test_copies_are_exact_in_every_player_where_a_person_asks_for_it(qtbot, sequence, tmp_path):  # noqa: F811
    between_keyframes = SequenceItem(2, -1.3, -3.0)
    sequence.session.do(AddRecord(Sequence(0, "Exact", (between_keyframes,))))
    qtbot.waitUntil(lambda: sequence.room.editor.reel.count() == 1, timeout=5000)
    panel = sequence.room.exporting
    assert not panel.every_player.isVisible() and not panel.every_player.isChecked()
    panel.form.setCurrentIndex(panel.form.findData(Form.FILES))
    assert panel.every_player.isVisible()
    counts = []
    for asked in (False, True):
        panel.every_player.setChecked(asked)
        told = write(qtbot, sequence, Form.FILES, tmp_path).message.text()
        assert ("encoded again" in told) is asked
        (copy,) = (tmp_path / ("Exact 2" if asked else "Exact")).glob("*.mp4")
        counts.append(packets_in(copy))
    assert counts[0] > counts[1] > 0


def text_of(pdf) -> str:
    return " ".join(run("pdftotext", "-layout", str(pdf), "-").split())


@pytest.mark.parametrize("stands", [False, True])
def test_a_pack_says_what_was_done_to_the_film(qtbot, drawn, tmp_path, stands):
    drawn.room.exporting.form.setCurrentIndex(drawn.room.exporting.form.findData(Form.PACK))
    drawn.room.exporting.freeze.setChecked(stands)
    write(qtbot, drawn, Form.PACK, tmp_path)
    cover, manifest = text_of(tmp_path / "Drawn" / "cover.pdf"), json.loads((tmp_path / "Drawn" / MANIFEST).read_text())
    film = next(file["made"] for file in manifest["files"] if file["path"] == "Drawn.mp4")
    assert "2 drawings painted in" in film and "2 drawings are painted" in cover
    assert ("stands still 2 times" in film) is ("stands still 2 times" in cover) is stands
    stills = {path.name for path in (tmp_path / "Drawn" / "stills").iterdir()}
    assert sum("with drawings" in name for name in stills) >= 2
    plain = next(name for name in stills if f"{name.removesuffix('.png')} with drawings.png" in stills)
    with Image.open(tmp_path / "Drawn" / "stills" / plain) as one, \
            Image.open(tmp_path / "Drawn" / "stills" / f"{plain.removesuffix('.png')} with drawings.png") as other:
        assert one.size == other.size and one.tobytes() != other.tobytes()


def test_a_pack_names_foul_quarter_clock_and_score(qtbot, sequence, tmp_path):  # noqa: F811
    session = sequence.session
    # in the shot of the seventh play
    session.do(AddRecord(Moment(0, MomentKind.RESULT_SHOWN, session.film.instant_at(63.5))))
    session.do(AddRecord(Sequence(0, "Dispute", (SequenceItem(7),))))
    qtbot.waitUntil(lambda: sequence.room.editor.reel.count() == 1, timeout=5000)
    write(qtbot, sequence, Form.PACK, tmp_path)
    cover, manifest = text_of(tmp_path / "Dispute" / "cover.pdf"), json.loads(
        (tmp_path / "Dispute" / MANIFEST).read_text())
    (told,) = manifest["segments"]
    assert (told["foul"].startswith("holding by") and told["clock"] == "9:20" and told["quarter"]
            and told["score"] == "0-0")
    for words in ("holding", told["quarter"], "9:20", "Harbor 0, Summit 0"):
        assert words in cover
    assert any("measurement" in Image.open(path).text["Title"] for path in (tmp_path / "Dispute" / "stills").iterdir())


def test_the_digest_is_told_and_a_pack_is_checked_in_the_desk(qtbot, drawn, tmp_path):
    told = write(qtbot, drawn, Form.PACK, tmp_path)
    manifest = tmp_path / "Drawn" / MANIFEST
    digest = hashlib.sha256(manifest.read_bytes()).hexdigest()
    assert told.digest.isVisible() and told.digest.text() == digest

    def check() -> str:
        drawn.act("desk.verify")
        dialog = next(widget for widget in drawn.findChildren(QFileDialog) if widget.isVisible())
        with qtbot.waitSignal(drawn.jobs.finished, timeout=30000):
            dialog.fileSelected.emit(str(manifest))
        dialog.close()
        return drawn.message.text
    assert "are as they were" in (said := check()) and digest in said
    manifest.write_text(manifest.read_text().replace("2nd & 7", "4th & 1") if "2nd & 7" in manifest.read_text()
                        else manifest.read_text().replace("1st & 10", "4th & 1"))
    (tmp_path / "Drawn" / "cover.pdf").write_bytes(b"another")
    said = check()
    assert "was changed" in said and MANIFEST in said and "cover.pdf" in said

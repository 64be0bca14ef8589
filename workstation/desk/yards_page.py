"""Yards from the picture: a spot is clicked in each of two pictures of a shot, and the yard lines between say how far
they are apart. What that says of a play is told by :mod:`..tagging.measured_gain`."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import partial

from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import QColor, QImage, QPainter, QPen
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from ..film.film import Film
from ..film.frames import FrameReader
from ..film.time import Instant, spoken_time
from ..film.yards_between import GroundSpot, SeenLine, Yards, yard_lines_at, yards_between
from ..football.situation import way_on_film
from ..football.speaking import spoken_situation
from ..tagging.layout import layout_of
from ..tagging.measured_gain import MeasuredGain, measured_gain, takes_gain, told_of_spot, with_gain
from ..tagging.operations import ChangePlay
from .jobs import Job, Progress
from .keys import KeyButton
from .picture import PictureView
from .player import image_of
from .room import Desk
from .session import Session
from .session_holder import SessionHolder
from .timers import timer
from .widgets import Wrapping, flow, in_column, in_row, label

_MEMORY = 200 << 20     # bytes
_REST = 200             # milliseconds that a picture is on show before its lines are looked for
_LOUPE = 5              # times, of the picture as it is shown
_EDGE = QColor(5, 6, 7, 200)


class Asked(Enum):
    """What the two spots are: the captions of the two pictures."""

    GAIN = ("The ball at the snap", "The ball where it was dead")
    SPOT = ("The spot", "A place on the line it is held against")


@dataclass
class _SpotPicture:
    """One of the two pictures: what it shows, and where its spot is, in fractions of width and height."""

    view: PictureView
    caption: QLabel
    at: Instant | None = None       # the picture on show
    wanted: Instant | None = None   # where to go, and so many pictures from there
    steps: int = 0
    spot: tuple[float, float] | None = None
    lines: tuple[SeenLine, ...] = ()


class YardsPage(SessionHolder, Wrapping):
    """A page of its own; ``closed`` is sent when the person is through with it."""

    closed = Signal()

    def __init__(self, desk: Desk):
        super().__init__()
        self._desk = desk
        self.setObjectName("ground")
        self.setAccessibleName("Yards from the picture")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.play: int | None = None
        self.asked = Asked.GAIN
        self.goes_right: bool | None = None     # which way the offense goes on the film, if somebody said
        self.found: Yards | None = None
        self.gain: MeasuredGain | None = None
        self._active = 0
        self._serial = 0                    # of what is measured
        self._measuring: Job | None = None
        self._reading: Job | None = None
        self._reader: FrameReader | None = None
        self._reads: Film | None = None
        self._look = timer(self, _REST, self._find_lines)
        self._build()
        desk.keys.bind_all(self, {
            "yards.back": partial(self.step, -1), "yards.ahead": partial(self.step, 1),
            "yards.second_back": partial(self.step_second, -1), "yards.second_ahead": partial(self.step_second, 1),
            "yards.left": partial(self.nudge, -1, 0), "yards.right": partial(self.nudge, 1, 0),
            "yards.up": partial(self.nudge, 0, -1), "yards.down": partial(self.nudge, 0, 1),
            "yards.other": self.change_side})

    def _build(self) -> None:
        self.title = label("Yards from the picture", "title")
        self.about = label("", "lead", "quiet", elide=True)
        self.about.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        head = in_row(self.title, (self.about, 1), self._button("yards.leave", "Leave", self.closed.emit))
        self.sides: list[_SpotPicture] = []
        for number in range(2):
            view = PictureView()
            view.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
            view.setCursor(Qt.CursorShape.CrossCursor)
            side = _SpotPicture(view, label("", "body", elide=True))
            view.overlay = partial(self._paint, side)
            view.pressed.connect(partial(self._press, number))
            view.turned.connect(lambda notches, far, number=number: self._turn(number, notches, far))
            self.sides.append(side)
        pictures = in_row(*((in_column(side.caption, (side.view, 1)), 1) for side in self.sides))
        self.told = label("", "title", wrap=True)
        self.more = label("", "lead", wrap=True)
        for words in (self.told, self.more):
            words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.hint = label("", "body", "quiet", wrap=True)
        around, row = flow()
        self.take_button = self._button("yards.take", "Take as the gain", self.take, around, "main")
        self.mode_button = self._button("yards.mode", "", self.change_mode, around)
        self.way_button = self._button("yards.way", "", self.turn_way, around)
        for button in (self.take_button, self.mode_button, self.way_button,
                       self._button("yards.again", "Point anew", self.again, around)):
            row.addWidget(button)
        below = QWidget()       # as high whatever is said, or the pictures would move under the pointer
        below.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Ignored)
        in_column(self.told, self.more, self.hint, around, 1, on=below, margins=0)
        in_column(head, (pictures, 11), (below, 4), on=self, margins=(18, 12, 18, 12), spacing=6)

    def _button(self, id: str, text: str, act, parent: QWidget | None = None, role: str = "") -> KeyButton:
        return KeyButton(self._desk.keys, id, text, parent, act, self, role)

    def hasHeightForWidth(self) -> bool:
        """False: the pictures take the height that there is."""
        return False

    def showEvent(self, event) -> None:
        """Take the keyboard, and take up what was going on when another page covered this one."""
        super().showEvent(event)
        self.setFocus()
        if self.has_session:
            self._read_next()
            self._measure_if_pointed()

    # -- coming and going ------------------------------------------------------------------------------
    def show_session(self, session: Session | None) -> None:
        """Begin with the play that the film stands at: its snap, and where the film stands behind it, else its dead
        ball. None: give everything up."""
        self._stop()
        self._session = session
        self._close_reader()
        if session is None:
            return
        at = session.position
        self.play = session.play_at_hand()
        filmed = layout_of(session.game).plays.get(self.play or 0)
        first = second = at
        if filmed is not None and at is not None:
            dead = filmed.dead_ball.at if filmed.dead_ball is not None else None
            inside = session.shot_at(at) is not None and session.film.time_of(at) > session.film.time_of(filmed.begins)
            first, second = filmed.begins, dead or (at if inside else filmed.span[1])
        else:
            self.play = None
        situation = session.step_of(self.play).before if self.play is not None else session.situation
        self.goes_right = way_on_film(situation)
        self.asked = Asked.GAIN if filmed is not None and filmed.snap is not None else Asked.SPOT
        for side, instant in zip(self.sides, (first, second), strict=True):
            side.at, side.wanted, side.steps, side.spot, side.lines = None, instant, 0, None, ()
            side.view.message = "" if instant is not None else "No picture: this game has no film yet."
            side.view.show_image(QImage())
        self._active = 0
        self._tell()
        self._read_next()

    def hideEvent(self, event) -> None:
        """Out of sight nothing goes on, and no file stays open."""
        super().hideEvent(event)
        self._look.stop()
        if self._measuring is not None:
            self._measuring.cancel()
        self._close_reader()

    def _stop(self) -> None:
        self._serial += 1
        self._look.stop()
        self.found = self.gain = None
        if self._measuring is not None:
            self._measuring.cancel()
            self._measuring = None

    def _close_reader(self) -> None:
        reader, self._reader, self._reads = self._reader, None, None
        if reader is not None:
            Job("closing the film", lambda progress: reader.close(), parent=self._desk.jobs).start()

    # -- the pictures ----------------------------------------------------------------------------------
    def step(self, pictures: int) -> None:
        """Show a later picture on the side at hand, or an earlier one; its spot has to be pointed at anew."""
        side = self.sides[self._active]
        if side.at is None and side.wanted is None:
            return
        if side.wanted is None:
            side.wanted, side.steps = side.at, 0
        side.steps += pictures
        self._point(side, None)
        self._read_next()

    def step_second(self, way: int) -> None:
        """The same by a second."""
        at = self.sides[self._active].at
        if at is not None:
            self.step(way * round(self.session.film.source(at.source).frame_rate))

    def change_side(self) -> None:
        """Let the keys act on the other picture."""
        self._active = 1 - self._active
        for side in self.sides:
            side.view.update()

    def _turn(self, number: int, notches: int, far: bool) -> None:
        self._active = number
        (self.step_second if far else self.step)(notches)

    def _read_next(self) -> None:
        if self._reading is not None or not self.has_session:
            return
        side = next((each for each in self.sides if each.wanted is not None), None)
        if side is None:
            return
        wanted, steps, film = side.wanted, side.steps, self.session.film
        side.wanted, side.steps = None, 0
        if self._reads is not film or self._reader is None:
            self._close_reader()
            self._reader, self._reads = FrameReader(film, _MEMORY), film
        reader = self._reader
        assert wanted is not None

        def work(progress: Progress) -> tuple[Instant, QImage]:
            at = reader.frame_at(wanted).instant
            picture = reader.frame_at(reader.step(at, steps) if steps else at)
            return picture.instant, image_of(picture.bgra())

        self._reading = Job("a picture", work, lambda read: self._take_picture(side, film, *read),
                            lambda why: self._no_picture(side, why), parent=self).start()

    def _take_picture(self, side: _SpotPicture, film: Film, at: Instant, image: QImage) -> None:
        self._reading = None
        if self.has_session and self.session.film is film and self.isVisible():
            side.at, side.lines = at, ()
            side.view.show_image(image)
            self._tell()
            self._look.start()
        self._read_next()

    def _no_picture(self, side: _SpotPicture, why: str) -> None:
        self._reading = None
        if self.isVisible():
            side.at, side.view.message = None, why
            side.view.show_image(QImage())
        self._read_next()

    def _find_lines(self) -> None:
        """Look for the lines of a picture that rests, so that one sees beforehand whether there are any."""
        side = next((each for each in self.sides if each.at is not None and not each.lines), None)
        if side is None or self._reading is not None or self.found is not None or not self.has_session:
            return
        at = side.at
        assert at is not None
        source = self.session.film.source(at.source)

        def done(lines: tuple[SeenLine, ...]) -> None:
            self._reading = None
            if side.at == at and self.found is None:
                side.lines = lines
                side.view.update()
                if any(each.at is not None and not each.lines and each is not side for each in self.sides) and lines:
                    self._look.start()
            self._read_next()

        self._reading = Job("yard lines", lambda progress: yard_lines_at(source, at.pts), done,
                            lambda why: done(()), parent=self).start()

    # -- pointing --------------------------------------------------------------------------------------
    def _press(self, number: int, right: float, down: float) -> None:
        side = self.sides[number]
        self._active = number
        if side.at is not None and 0 <= right <= 1 and 0 <= down <= 1:
            self._point(side, (right, down))
            if self.sides[1 - number].spot is None:
                self._active = 1 - number
        self.setFocus()
        for each in self.sides:
            each.view.update()

    def nudge(self, right: int, down: int) -> None:
        """Move the spot of the side at hand by a pixel of the film, from the middle if it has none yet."""
        side = self.sides[self._active]
        if side.at is None:
            return
        wide, tall = self.session.film.source(side.at.source).display_size
        x, y = side.spot or (0.5, 0.5)
        x, y = x + right * (1 if side.spot else 0) / wide, y + down * (1 if side.spot else 0) / tall
        self._point(side, (min(max(x, 0.0), 1.0), min(max(y, 0.0), 1.0)))

    def again(self) -> None:
        """Take both spots away."""
        for side in self.sides:
            self._point(side, None)
        self._active = 0

    def _point(self, side: _SpotPicture, spot: tuple[float, float] | None) -> None:
        self._stop()
        side.spot = spot
        side.view.update()
        self._tell()
        self._measure_if_pointed()

    def _measure_if_pointed(self) -> None:
        if self.found is None and self._measuring is None and all(
                each.spot is not None and each.at is not None for each in self.sides):
            self._measure()

    # -- measuring -------------------------------------------------------------------------------------
    def _measure(self) -> None:
        session, serial = self.session, self._serial
        spots, sources = [], []
        for side in self.sides:
            assert side.at is not None and side.spot is not None
            source = session.film.source(side.at.source)
            sources.append(source)
            wide, tall = source.display_size
            spots.append(GroundSpot(side.at.pts, side.spot[0] * wide, side.spot[1] * tall))
        first, second = self.sides
        assert first.at is not None and second.at is not None
        if sources[0].id != sources[1].id or session.shot_at(first.at) is not session.shot_at(second.at):
            self._take(serial, False, Yards(None, 0.0, "The two pictures are not of one shot."))
            return
        turned = spots[1].pts < spots[0].pts
        early, late = (spots[1], spots[0]) if turned else (spots[0], spots[1])
        self._measuring = self._desk.jobs.start(
            "Following the yard lines", lambda progress: yards_between(sources[0], early, late, progress),
            lambda found: self._take(serial, turned, found),
            lambda why: self._take(serial, False, Yards(None, 0.0, why)), lambda: self._cancelled(serial))
        self._tell()

    def _take(self, serial: int, turned: bool, found: Yards) -> None:
        if serial != self._serial or not self.has_session:
            return
        self._measuring = None
        yards = found.yards
        if turned:
            yards = None if yards is None else -yards
            found = Yards(yards, found.error, found.why, found.second, found.first)
        self.found = found
        for side, lines in zip(self.sides, (found.first, found.second), strict=True):
            side.lines = lines or side.lines
            side.view.update()
        self._tell()

    def _cancelled(self, serial: int) -> None:
        if serial == self._serial:
            self._measuring = None
            self._tell()

    # -- what comes of it ------------------------------------------------------------------------------
    def change_mode(self) -> None:
        """Measure a gain, or how far a spot is from a line; what was pointed at stays."""
        self.asked = Asked.SPOT if self.asked is Asked.GAIN else Asked.GAIN
        self._tell()

    def turn_way(self) -> None:
        """Say that the offense goes the other way on the film."""
        self.goes_right = not self.goes_right
        self._tell()

    def take(self) -> None:
        """Keep the measured gain as that of the play, and leave."""
        if not self._can_take() or self.gain is None or self.play is None:
            return
        session, play = self.session, self.play
        changed = with_gain(session.play_tag(play).play, self.gain.gain)
        if session.do(ChangePlay(play, changed)) is not None:
            session.notice.emit(f"Play {session.position_of(play) + 1}: a gain of {changed.gain:g} from the picture. "
                                "Undo takes it back.")
            self.closed.emit()

    def _can_take(self) -> bool:
        return (self.asked is Asked.GAIN and self.play is not None and self.found is not None
                and self.found.yards is not None and takes_gain(self.session.play_tag(self.play).play))

    def _tell(self) -> None:
        """Write everything that is said on the page."""
        session = self.session
        self.about.setText(self._play_in_words())
        for side, words in zip(self.sides, self.asked.value, strict=True):
            time = "" if side.at is None else f"   {spoken_time(float(session.film.time_of(side.at)), tenths=True)}"
            side.caption.setText(f"{words}{time}")
            side.view.setAccessibleName(words)
        found = self.found
        self.gain = None
        told: tuple[str, ...] = ()
        if found is not None and found.yards is not None:
            if self.asked is Asked.SPOT:
                told = (told_of_spot(-found.yards, found.error, self.goes_right),)
            elif self.play is not None:
                self.gain = measured_gain(session.step_of(self.play), found.yards, found.error, self.goes_right)
                told = self.gain.told
        if told:
            self.told.setText(told[0])
            self.more.setText("\n".join(told[1:]))
            self.hint.setText("The same letter marks the same line in both pictures. If a line is not where the field "
                              "has it, or a letter moved to another, do not believe the number.")
        elif found is not None:
            self.told.setText("Not measured.")
            self.more.setText(found.why or "No play is tagged here.")
            self.hint.setText("It takes four yard lines in upright pictures, from the first spot to the last. Try "
                              "pictures that lie closer together, or wider ones.")
        elif self._measuring is not None:
            self.told.setText("Following the yard lines …")
            self.more.setText("")
            self.hint.setText("")
        else:
            self.told.setText("")
            self.more.setText("Click the spot in each picture, on the ground.")
            self.hint.setText("The arrows step through the picture with the bright edge, with Shift by a second; Space "
                              "changes to the other. Alt and arrows move the spot by a pixel.")
        for line in (self.told, self.more, self.hint):
            line.setVisible(bool(line.text()))
        self.take_button.setVisible(self.asked is Asked.GAIN)
        self.take_button.setEnabled(self._can_take())
        self.mode_button.setText("A spot and a line" if self.asked is Asked.GAIN else "The gain of the play")
        self.way_button.setText({None: "Which way does the offense go?", True: "The offense goes right →",
                                 False: "← The offense goes left"}[self.goes_right])

    def _play_in_words(self) -> str:
        if self.play is None:
            return ""
        session = self.session
        step = session.step_of(self.play)
        said = spoken_situation(step.before, session.rulebook.field_length)
        return f"Play {session.position_of(self.play) + 1}   {said}   {step.play.kind}"

    # -- painting --------------------------------------------------------------------------------------
    def _paint(self, side: _SpotPicture, painter: QPainter, rect: QRectF) -> None:
        theme = self._desk.theme
        bright = QColor("#ffd84a")
        lettered = self.found is not None and bool(self.found.first)
        least = min((line.number for each in self.sides for line in each.lines), default=0) if lettered else 0

        def point(at: tuple[float, float]) -> QPointF:
            return QPointF(rect.x() + at[0] * rect.width(), rect.y() + at[1] * rect.height())

        painter.setFont(theme.font("body", bold=True))
        painter.setClipRect(rect)
        for line in side.lines:
            top, bottom = point(line.top), point(line.bottom)
            for colour, thick in ((_EDGE, 4), (bright, 2)):
                painter.setPen(QPen(colour, thick, Qt.PenStyle.SolidLine if lettered else Qt.PenStyle.DashLine))
                painter.drawLine(top, bottom)
            if lettered:
                self._paint_letter(painter, rect, bottom, _letter(line.number - least))
        if side.spot is not None:
            at = point(side.spot)
            for colour, thick in ((_EDGE, 5), (QColor("#ffffff"), 2)):
                painter.setPen(QPen(colour, thick))
                for way in (QPointF(1, 0), QPointF(0, 1), QPointF(-1, 0), QPointF(0, -1)):
                    painter.drawLine(at + way * 4, at + way * 14)
            self._paint_loupe(side, painter, rect)
        if side is self.sides[self._active]:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(theme.colour("accent"), 3))
            painter.drawRect(rect.adjusted(1.5, 1.5, -1.5, -1.5))
        painter.setClipping(False)

    def _paint_letter(self, painter: QPainter, rect: QRectF, at: QPointF, letter: str) -> None:
        metrics = painter.fontMetrics()
        box = QRectF(0, 0, metrics.horizontalAdvance(letter) + 8, metrics.height() + 2)
        box.moveCenter(QPointF(min(max(at.x(), rect.left() + box.width() / 2), rect.right() - box.width() / 2),
                               min(max(at.y(), rect.top() + box.height() / 2), rect.bottom() - box.height() / 2)))
        painter.fillRect(box, _EDGE)
        painter.setPen(QColor("#ffffff"))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, letter)

    def _paint_loupe(self, side: _SpotPicture, painter: QPainter, rect: QRectF) -> None:
        """The place around the spot, larger, in the upper corner away from it."""
        image = side.view.image
        if image.isNull() or side.spot is None:
            return
        wide = min(rect.width() * 0.26, rect.height() * 0.34)
        box = QRectF(rect.left() + 8 if side.spot[0] > 0.5 else rect.right() - wide - 8, rect.top() + 8, wide, wide)
        cut = QSizeF(wide / rect.width() * image.width(), wide / rect.height() * image.height()) / _LOUPE
        middle = QPointF(side.spot[0] * image.width(), side.spot[1] * image.height())
        painter.fillRect(box.adjusted(-2, -2, 2, 2), QColor("#ffffff"))
        painter.fillRect(box, QColor("#050607"))
        painter.drawImage(box, image, QRectF(middle - QPointF(cut.width(), cut.height()) / 2, cut))
        painter.setPen(QPen(QColor("#ffffff"), 1))
        painter.drawLine(box.center() - QPointF(9, 0), box.center() + QPointF(9, 0))
        painter.drawLine(box.center() - QPointF(0, 9), box.center() + QPointF(0, 9))


def _letter(place: int) -> str:
    """A, B, ... Z, AA, AB, ..."""
    return (_letter(place // 26 - 1) if place >= 26 else "") + chr(ord("A") + place % 26)

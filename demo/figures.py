"""People: a small skeleton that is posed, turned, and drawn as rounded limbs.

Sizes are in yards. A body has forward, left and up axes; it is turned by its heading and seen
from the press box, slightly from above. Small figures are drawn once for each pose, heading and
size, and stamped from then on.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QImage, QPainter, QPainterPath, QPen

HEADINGS = 16
STRIDES = 8
_STEP = 1.07                    # from one size of small figures to the next
_TILT = math.sin(math.radians(17)), math.cos(math.radians(17))   # how far from above the press box looks down
_SUN = (0.75, -0.42)            # shadow of a yard of height, in x and y: low evening sun behind the far stand

#: Poses that look different from phase to phase; all others stand still.
IN_MOTION = frozenset({"run", "carry", "walk", "block", "throw", "wave", "kick", "shove", "shake", "lean", "support",
                       "holding", "flip"})

Joint = tuple[float, float, float]


@dataclass(frozen=True, slots=True, eq=False)     # each is one of a kind, and looked up for every figure stamped
class FigureLook:
    """How somebody is dressed."""

    jersey: str
    sleeve: str
    pants: str
    socks: str
    helmet: str
    stripe: str = ""            # helmet stripe
    digits: str = ""            # colour of the number; empty for none
    skin: str = "#a8795a"
    stripes: bool = False       # an official's shirt
    cap: bool = False           # a cap instead of a helmet


HOME_LOOK = FigureLook("#1d3f8f", "#1d3f8f", "#d9b44a", "#1d3f8f", "#e2bd4c", "#1d3f8f", "#f4e6b0")
VISITORS_LOOK = FigureLook("#f1f0ea", "#f1f0ea", "#8c1f2d", "#f1f0ea", "#8c1f2d", "#f1f0ea", "#8c1f2d")
OFFICIAL_LOOK = FigureLook("#f2f2f2", "#f2f2f2", "#16181c", "#16181c", "#17181b", stripes=True, cap=True)
REFEREE_LOOK = FigureLook("#f2f2f2", "#f2f2f2", "#16181c", "#16181c", "#fafafa", stripes=True, cap=True)
CREW_LOOK = FigureLook("#e8742a", "#cfd3d8", "#2a2d33", "#2a2d33", "#2d3540", cap=True)
COACH_LOOK = FigureLook("#d8dce2", "#d8dce2", "#30343c", "#30343c", "#1d3f8f", cap=True)


def _leg(hip: Joint, swing: float, bend: float, spread: float) -> tuple[Joint, Joint]:
    """Knee and foot from a hip: thigh swung forward by ``swing``, knee bent back by ``bend`` radians."""
    forward, left, up = hip
    knee = (forward + 0.5 * math.sin(swing), left + spread / 2, up - 0.5 * math.cos(swing))
    shin = swing - bend
    return knee, (knee[0] + 0.5 * math.sin(shin), left + spread, max(knee[2] - 0.5 * math.cos(shin), 0.02))


def _arm(shoulder: Joint, swing: float, out: float, bend: float) -> tuple[Joint, Joint]:
    """Elbow and hand: upper arm swung forward by ``swing`` and out by ``out``, elbow bent forward by ``bend``."""
    forward, left, up = shoulder
    side = 1 if left >= 0 else -1
    flat = math.cos(out)
    elbow = (forward + 0.36 * math.sin(swing) * flat, left + side * 0.36 * math.sin(out),
             up - 0.36 * math.cos(swing) * flat)
    fore = swing + bend
    flat = math.cos(out * 0.7)
    return elbow, (elbow[0] + 0.36 * math.sin(fore) * flat, elbow[1] + side * 0.36 * math.sin(out * 0.7),
                   elbow[2] - 0.36 * math.cos(fore) * flat)


def _body(hips: float = 1.0, lean: float = 0.05, legs=((0.0, 0.0), (0.0, 0.0)), spread: float = 0.08,
          arms=((0.1, 0.15, 0.3), (0.1, 0.15, 0.3)), nod: float = 0.0) -> dict[str, Joint]:
    """Put a skeleton together; ``legs`` are (swing, bend), ``arms`` (swing, out, bend), left then right."""
    neck_forward, neck_up = 0.62 * math.sin(lean), hips + 0.62 * math.cos(lean)
    look = lean * 0.5 + nod
    joints = {
        "hip": (0.0, 0.0, hips), "waist": (neck_forward * 0.36, 0.0, hips + (neck_up - hips) * 0.36),
        "neck": (neck_forward, 0.0, neck_up),
        "head": (neck_forward + 0.24 * math.sin(look), 0.0, neck_up + 0.24 * math.cos(look)),
    }
    for index, (side, name) in enumerate(((1, "left"), (-1, "right"))):
        hip = (0.0, side * 0.13, hips)
        shoulder = (neck_forward, side * 0.29, neck_up - 0.06)
        knee, foot = _leg(hip, *legs[index], side * spread)
        elbow, hand = _arm(shoulder, *arms[index])
        joints |= {f"{name} hip": hip, f"{name} knee": knee, f"{name} foot": foot,
                   f"{name} shoulder": shoulder, f"{name} elbow": elbow, f"{name} hand": hand}
    return joints


def _lying() -> dict[str, Joint]:
    joints = _body(arms=((2.6, 0.5, 0.3), (0.4, 0.6, 0.2)), legs=((0.25, 0.5), (-0.1, 0.1)), spread=0.2)
    return {name: (up - 1.0, left, 0.16 + 0.12 * abs(left) + 0.1 * max(forward, 0))
            for name, (forward, left, up) in joints.items()}


def pose(name: str, phase: float = 0.0) -> dict[str, Joint]:
    """Joints of a pose; ``phase`` runs from 0 to 1 through a stride or an action.

    Raises KeyError for a pose that nobody has taught.
    """
    swing = math.sin(phase * 2 * math.pi)
    match name:
        case "run":
            lift = (0.9 + 0.7 * max(-swing, 0), 0.9 + 0.7 * max(swing, 0))
            return _body(0.95 + 0.04 * abs(swing), 0.28,
                         ((0.75 * swing + 0.15, lift[0]), (-0.75 * swing + 0.15, lift[1])),
                         arms=((-0.8 * swing, 0.15, 1.4), (0.8 * swing, 0.15, 1.4)))
        case "carry":       # running with the ball tucked under the right arm
            lift = (0.9 + 0.7 * max(-swing, 0), 0.9 + 0.7 * max(swing, 0))
            return _body(0.93 + 0.04 * abs(swing), 0.34,
                         ((0.75 * swing + 0.15, lift[0]), (-0.75 * swing + 0.15, lift[1])),
                         arms=((-0.9 * swing, 0.15, 1.3), (0.15, 0.12, 1.9)))
        case "walk":
            return _body(0.98, 0.08, ((0.42 * swing, 0.25), (-0.42 * swing, 0.25)),
                         arms=((-0.35 * swing, 0.12, 0.35), (0.35 * swing, 0.12, 0.35)))
        case "stand":
            return _body(legs=((0.03, 0.04), (-0.03, 0.04)), spread=0.12)
        case "hips":        # hands on hips
            return _body(arms=((-0.35, 0.75, 1.0), (-0.35, 0.75, 1.0)), spread=0.16)
        case "ready":       # two-point stance
            return _body(0.82, 0.62, ((0.75, 1.15), (0.75, 1.15)), 0.2, ((0.25, 0.1, 0.5), (0.25, 0.1, 0.5)), -0.2)
        case "stance":      # three-point stance
            return _body(0.78, 1.15, ((0.95, 1.6), (0.45, 1.25)), 0.22, ((0.0, 0.1, 0.9), (0.02, 0.0, 0.02)), -0.35)
        case "center":
            return _body(0.82, 1.25, ((0.85, 1.35), (0.85, 1.35)), 0.3, ((0.25, 0.0, 0.0), (0.25, 0.0, 0.0)), -0.5)
        case "block":
            return _body(0.88, 0.5, ((0.6 + 0.3 * swing, 1.0), (0.4 - 0.3 * swing, 0.9)), 0.22,
                         ((1.25, 0.2, 0.35), (1.25, 0.2, 0.35)), -0.1)
        case "under":       # quarterback, hands for the snap
            return _body(0.92, 0.45, ((0.5, 0.8), (0.5, 0.8)), 0.2, ((0.7, 0.0, 0.5), (0.7, 0.0, 0.5)), -0.2)
        case "hold ball":   # at the chest, ready to throw
            return _body(0.96, 0.1, ((0.25, 0.35), (-0.2, 0.2)), 0.14, ((0.5, 0.3, 1.9), (0.5, 0.3, 1.9)))
        case "throw":
            arm = (-2.4 + 4.4 * phase, 0.35, 0.9 - 0.7 * phase)
            return _body(0.94, 0.05 + 0.35 * phase, ((0.5, 0.4), (-0.35, 0.25)), 0.14, ((1.2 - phase, 0.3, 0.6), arm))
        case "reach":       # for a high ball
            return _body(1.0, 0.15, ((0.5, 0.7), (-0.3, 0.5)), 0.1, ((2.4, 0.15, 0.2), (2.4, 0.15, 0.2)), -0.2)
        case "cradle":      # under a kick
            return _body(0.92, 0.2, ((0.35, 0.6), (0.1, 0.4)), 0.2, ((0.7, 0.1, 1.3), (0.7, 0.1, 1.3)), -0.4)
        case "wave":        # fair catch: one arm high, waved
            return _body(0.95, 0.1, spread=0.2, arms=((0.1, 0.15, 0.3), (2.9, 0.4 + 0.5 * swing, 0.1)), nod=-0.3)
        case "kick":
            leg = (-1.1 + 2.7 * min(phase * 1.6, 1), 1.2 - 1.1 * min(phase * 1.6, 1))
            return _body(0.98, 0.05 - 0.15 * phase, ((-0.15, 0.15), leg), 0.1,
                         ((0.6, 0.7, 0.4), (-0.6, 0.6, 0.3)), 0.25)
        case "tackle":
            return _body(0.7, 1.05, ((0.9, 1.3), (0.1, 0.9)), 0.2, ((1.4, 0.4, 0.4), (1.4, 0.4, 0.4)), -0.3)
        case "down":
            return _lying()
        case "knee":        # one knee on the ground
            return _body(0.58, 0.1, ((1.45, 1.55), (0.05, 1.6)), 0.14, ((0.5, 0.1, 0.9), (0.3, 0.1, 0.7)))
        case "shove":
            return _body(0.92, 0.35, ((0.5, 0.6), (-0.4, 0.4)), 0.18,
                         ((1.2 + 0.3 * swing, 0.15, 0.3), (1.2 + 0.3 * swing, 0.15, 0.3)))
        case "shake":       # right hand forward, walking
            return _body(0.98, 0.1, ((0.4 * swing, 0.25), (-0.4 * swing, 0.25)),
                         arms=((-0.3 * swing, 0.12, 0.35), (1.0 + 0.15 * math.cos(phase * 4 * math.pi), 0.3, 0.5)))
        case "lean":        # an arm over a helper's shoulder, one foot spared
            return _body(0.94, 0.2, ((0.35 * swing, 0.3), (0.5, 1.1)), 0.1, ((1.2, 1.15, 0.5), (1.2, 1.15, 0.5)), 0.25)
        case "support":
            return _body(0.97, 0.1, ((0.38 * swing, 0.25), (-0.38 * swing, 0.25)),
                         arms=((0.4, 0.5, 0.9), (0.4, 0.5, 0.9)))
        case "score":       # both arms straight up: touchdown, field goal, successful try
            return _body(spread=0.12, arms=((3.05, 0.08, 0.0), (3.05, 0.08, 0.0)))
        case "announce":
            return _body(spread=0.12, arms=((0.05, 0.15, 0.3), (0.7, 0.1, 1.9)))
        case "holding":     # one wrist grasped by the other hand, in front of the chest
            return _body(spread=0.14, arms=((0.5, -0.4, 1.9 + 0.06 * swing), (0.62, -0.8, 0.75)))
        case "point":       # an arm level, towards a goal line
            return _body(spread=0.14, arms=((0.1, 0.15, 0.3), (1.57, 0.0, 0.0)))
        case "fourth":      # a fist high: fourth down
            return _body(spread=0.14, arms=((0.1, 0.15, 0.3), (3.0, 0.15, 0.0)))
        case "inches":      # hands a little apart: short by that much
            return _body(spread=0.14, arms=((1.0, 0.1, 0.9), (1.0, 0.1, 0.9)))
        case "flip":        # the coin goes up
            return _body(spread=0.14, arms=((0.1, 0.15, 0.3), (1.1 + 0.9 * math.sin(min(phase, 0.5) * 2 * math.pi),
                                                               0.0, 0.7)))
        case "hold pole":
            return _body(spread=0.14, arms=((0.75, -0.45, 0.75), (1.0, -0.45, 0.6)))
        case "part":        # arms wide, keeping two apart
            return _body(0.95, 0.1, spread=0.22, arms=((0.3, 1.4, 0.1), (0.3, 1.4, 0.1)))
        case "bench":       # sitting
            return _body(0.55, 0.15, ((1.45, 1.45), (1.45, 1.45)), 0.14, ((0.5, 0.1, 0.8), (0.5, 0.1, 0.8)))
    raise KeyError(name)


@lru_cache(maxsize=20000)
def _pen(color: str, thick: float, shade: int) -> QPen:
    """A round pen; ``shade`` in percent darker (100: as it is), or 0 for the light of the sun on that colour."""
    ink = QColor(color)
    if shade:
        ink = ink.darker(shade)
    else:
        ink = ink.lighter(118)
        ink.setAlpha(150)
    return QPen(ink, thick, Qt.SolidLine, Qt.RoundCap)


def draw_figure(painter: QPainter, at: QPointF, scale: float, look: FigureLook, name: str, phase: float, heading: float,
                number: str = "", shadow: float = 0.34) -> None:
    """Draw somebody standing at ``at``, ``scale`` pixels a yard, heading in radians (0 right, a quarter turn away)."""
    cos, sin = math.cos(heading), math.sin(heading)
    joints = {}
    for key, (forward, left, up) in pose(name, phase).items():
        joints[key] = forward * cos - left * sin, forward * sin + left * cos, up

    def spot(key: str) -> QPointF:
        right, away, up = joints[key]
        return QPointF(at.x() + right * scale, at.y() - (up * _TILT[1] + away * _TILT[0]) * scale)

    if shadow:
        _draw_shadow(painter, at, scale, joints, shadow)

    def limb(a: str, b: str, width: float, color: str) -> None:
        start, end = spot(a), spot(b)
        thick = round(width * scale, 1)
        painter.setPen(_pen(color, round(thick + 0.035 * scale, 1), 165))
        painter.drawLine(start, end)
        painter.setPen(_pen(color, thick, 100))
        painter.drawLine(start, end)
        if scale > 40:          # close enough for the low sun to model the limb
            shift = QPointF(-0.17 * thick, -0.08 * thick)
            painter.setPen(_pen(color, round(0.42 * thick, 1), 0))
            painter.drawLine(start + shift, end + shift)

    def leg(side: str) -> None:
        limb(f"{side} knee", f"{side} foot", 0.14, look.socks)
        foot = spot(f"{side} foot")
        painter.setPen(_pen("#15161a", round(0.13 * scale, 1), 100))
        painter.drawLine(foot, QPointF(foot.x() + cos * 0.13 * scale, foot.y() - sin * 0.13 * _TILT[0] * scale))
        limb(f"{side} hip", f"{side} knee", 0.2, look.pants)

    def arm(side: str) -> None:
        def hand() -> None:
            limb(f"{side} elbow", f"{side} hand", 0.1, look.skin)
            if scale > 40:
                painter.setPen(Qt.NoPen)
                painter.setBrush(QColor(look.skin))
                painter.drawEllipse(spot(f"{side} hand"), 0.075 * scale, 0.075 * scale)

        def upper() -> None:
            limb(f"{side} shoulder", f"{side} elbow", 0.15, look.sleeve)

        reaches_out = joints[f"{side} hand"][1] < joints[f"{side} elbow"][1] - 0.1
        for part in (upper, hand) if reaches_out else (hand, upper):
            part()

    def torso() -> None:
        limb("waist", "neck", 0.36, look.jersey)
        limb("left shoulder", "right shoulder", 0.22 if look.cap else 0.27, look.jersey)
        limb("left hip", "right hip", 0.2, look.pants)
        neck, hip = spot("neck"), spot("hip")
        if look.stripes:
            across = spot("left shoulder") - spot("right shoulder")
            painter.setPen(QPen(QColor("#17181b"), max(0.055 * scale, 0.8), Qt.SolidLine, Qt.FlatCap))
            for part in (-0.42, -0.14, 0.14, 0.42):
                shift = across * part
                painter.drawLine(neck + shift + QPointF(0, -0.06 * scale), hip + shift * 0.75)
        elif look.digits and scale > 9:
            _draw_number(painter, neck, hip, scale, look, number, abs(sin))

    def head() -> None:
        middle = spot("head")
        radius = (0.15 if look.cap else 0.19) * scale
        painter.setPen(QPen(QColor(look.helmet).darker(170), 0.03 * scale))
        if look.cap:
            painter.setBrush(QColor(look.skin))
            painter.drawEllipse(middle, radius, radius)
            painter.setBrush(QColor(look.helmet))
            painter.drawChord(QRectF(middle.x() - radius, middle.y() - radius, 2 * radius, 1.7 * radius), 0, 180 * 16)
            if scale > 60 and sin < -0.5:
                _draw_face(painter, middle, scale, cos)
            if sin < 0.6:       # the peak
                painter.setPen(Qt.NoPen)
                painter.setBrush(QColor(look.helmet).darker(118))
                painter.drawEllipse(QPointF(middle.x() + cos * 0.15 * scale, middle.y() - (0.01 - sin * 0.02) * scale),
                                    (0.08 + 0.04 * abs(sin)) * scale, 0.035 * scale)
        else:
            painter.setBrush(QColor(look.helmet))
            painter.drawEllipse(middle, radius, radius)
            if scale > 40:
                painter.setPen(Qt.NoPen)
                painter.setBrush(QColor(255, 255, 255, 60))
                painter.drawEllipse(middle + QPointF(-0.07, -0.08) * scale, 0.07 * scale, 0.05 * scale)
            painter.setPen(QPen(QColor(look.stripe), 0.06 * scale))
            painter.drawLine(middle + QPointF(-cos * 0.1 * scale, -0.17 * scale),
                             middle + QPointF(cos * 0.1 * scale, (-0.15 - 0.03 * abs(sin)) * scale))
            if sin < 0.4:
                _draw_mask(painter, middle, scale, look, cos, sin)
        painter.setBrush(Qt.NoBrush)

    parts = [(joints[f"{side} knee"][1], leg, (side,)) for side in ("left", "right")]
    parts += [(joints[f"{side} elbow"][1] - 0.02 * joints[f"{side} hand"][2], arm, (side,))
              for side in ("left", "right")]
    parts += [((joints["hip"][1] + joints["neck"][1]) / 2, torso, ()), (joints["head"][1] - 0.02, head, ())]
    for _, draw, arguments in sorted(parts, key=lambda part: -part[0]):
        draw(*arguments)


def _draw_mask(painter: QPainter, middle: QPointF, scale: float, look: FigureLook, cos: float, sin: float) -> None:
    """The opening of the helmet and the bars before it."""
    opening = QPointF(middle.x() + cos * 0.11 * scale, middle.y() + (0.05 - 0.03 * sin) * scale)
    wide = (0.05 + 0.09 * max(-sin, 0)) * scale
    painter.setPen(Qt.NoPen)
    painter.setBrush(QColor(look.skin).darker(135))
    painter.drawEllipse(opening, wide, 0.075 * scale)
    painter.setPen(QPen(QColor("#4a4e55"), 0.032 * scale, Qt.SolidLine, Qt.RoundCap))
    tip = QPointF(opening.x() + cos * 0.1 * scale, opening.y() + 0.03 * scale)
    for drop in (0.02, 0.09):
        down = QPointF(0, drop * scale)
        painter.drawLine(tip + down + QPointF(-wide, 0), tip + down + QPointF(wide, 0))
    painter.drawLine(tip, tip + QPointF(0, 0.09 * scale))


def _draw_face(painter: QPainter, middle: QPointF, scale: float, cos: float) -> None:
    """Eyes and mouth of nobody in particular."""
    painter.setPen(Qt.NoPen)
    painter.setBrush(QColor("#2b1c14"))
    for side in (-0.05, 0.05):
        painter.drawEllipse(middle + QPointF(side + cos * 0.06, 0.035) * scale, 0.013 * scale, 0.016 * scale)
    painter.setPen(QPen(QColor("#6d4433"), 0.014 * scale, Qt.SolidLine, Qt.RoundCap))
    painter.drawLine(middle + QPointF(-0.025 + cos * 0.06, 0.1) * scale,
                     middle + QPointF(0.025 + cos * 0.06, 0.1) * scale)


def _draw_shadow(painter: QPainter, at: QPointF, scale: float, joints: dict[str, Joint], strength: float) -> None:
    def ground(key: str) -> QPointF:
        right, away, up = joints[key]
        return QPointF(at.x() + (right + up * _SUN[0]) * scale, at.y() - (away + up * _SUN[1]) * _TILT[0] * scale)

    outline = QPainterPath()
    for chain in (("left foot", "left knee", "hip"), ("right foot", "right knee", "hip"), ("hip", "neck", "head"),
                  ("left hand", "left elbow", "left shoulder", "right shoulder", "right elbow", "right hand")):
        outline.moveTo(ground(chain[0]))
        for key in chain[1:]:
            outline.lineTo(ground(key))
    dark = QColor(6, 16, 10, int(255 * strength))
    painter.setPen(QPen(dark, 0.2 * scale, Qt.SolidLine, Qt.RoundCap, Qt.RoundJoin))
    painter.setBrush(Qt.NoBrush)
    painter.drawPath(outline)


def _draw_number(painter: QPainter, neck: QPointF, hip: QPointF, scale: float, look: FigureLook, number: str,
                 faced: float) -> None:
    middle = neck * 0.62 + hip * 0.38
    if scale < 45 or not number:
        painter.setPen(QPen(QColor(look.digits), 0.1 * scale, Qt.SolidLine, Qt.FlatCap))
        wide = 0.1 * max(faced, 0.35) * scale
        painter.drawLine(middle + QPointF(-wide, 0), middle + QPointF(wide, 0))
        return
    font = QFont("DejaVu Sans Condensed", 10, QFont.Bold)
    font.setPixelSize(max(int(0.3 * scale), 6))
    painter.setFont(font)
    painter.setPen(QColor(look.digits))
    box = QRectF(middle.x() - 0.3 * scale, middle.y() - 0.2 * scale, 0.6 * scale, 0.4 * scale)
    painter.drawText(box, Qt.AlignCenter, number)


def size_step(scale: float) -> int:
    """The step of the ladder of sizes nearest to ``scale`` pixels a yard."""
    return round(math.log(scale) / math.log(_STEP))


def size_of(step: int) -> float:
    """Pixels a yard at a step of the ladder of sizes."""
    return _STEP ** step


Stamp = tuple[QImage, int, int]     # a picture, and where the feet are in it


@lru_cache(maxsize=30000)
def stamp(look: FigureLook, name: str, step: int, turn: int, size: int) -> Stamp:
    """A small figure drawn once.

    ``step`` is the phase in :data:`STRIDES`, ``turn`` the heading in :data:`HEADINGS`,
    ``size`` a rung of :func:`size_step`.
    """
    return draw_stamp(look, name, step / STRIDES, turn * 2 * math.pi / HEADINGS, size_of(size))


def draw_stamp(look: FigureLook, name: str, phase: float, heading: float, scale: float, number: str = "") -> Stamp:
    """A figure as a picture of its own; see :func:`draw_figure`."""
    left, up, width, height = int(1.5 * scale) + 2, int(2.9 * scale) + 2, int(4.2 * scale) + 4, int(3.9 * scale) + 4
    image = QImage(width, height, QImage.Format_ARGB32_Premultiplied)
    image.fill(0)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.Antialiasing)
    draw_figure(painter, QPointF(left, up), scale, look, name, phase, heading, number)
    painter.end()
    return image, left, up

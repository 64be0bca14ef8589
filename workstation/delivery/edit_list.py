"""Edit lists in open forms: OpenTimelineIO, and CMX 3600 (SMPTE 258M's predecessor in daily use)."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

import opentimelineio as otio

from .segment import Part, Segment
from .timecode import drops, first_frame, frame_at, frame_count, source_drops, timecode


def _reels(parts: Sequence[Part]) -> dict[str, str]:
    """A reel name per source: the eight characters that CMX 3600 has room for, letters and digits."""
    reels: dict[str, str] = {}
    for part in parts:
        if part.source.id not in reels:
            stem = re.sub(r"[^A-Z0-9]", "", part.source.path.stem.upper())[:8] or "REEL"
            name, again = stem, 2
            while name in reels.values():
                name, again = f"{stem[:8 - len(str(again))]}{again}", again + 1
            reels[part.source.id] = name
    return reels


def cmx3600(title: str, segments: Sequence[Segment]) -> str:
    """The segments in order as a CMX 3600 list, cuts only, picture and sound.

    The record side runs at the first source's rate; source time code counts at the source's own. At most 999 events,
    as the form allows; ValueError beyond.
    """
    parts = [(segment, part) for segment in segments for part in segment.parts]
    if len(parts) > 999:
        raise ValueError(f"A CMX 3600 list holds 999 events; this one would have {len(parts)}.")
    rate = parts[0][1].source.frame_rate if parts else Fraction(30000, 1001)
    lines = [f"TITLE: {' '.join(title.split())[:70]}", f"FCM: {'DROP FRAME' if drops(rate) else 'NON-DROP FRAME'}", ""]
    reels = _reels([part for _, part in parts])
    record = frame_count("01:00:00;00" if drops(rate) else "01:00:00:00", rate)
    elapsed = Fraction(0)
    for number, (segment, part) in enumerate(parts, 1):
        source = part.source
        start_at = record + round(elapsed * rate)
        elapsed += part.duration
        lines.append(f"{number:03}  {reels[source.id]:<8} B     C        {_own_span(part)} "
                     f"{timecode(start_at, rate)} {timecode(record + round(elapsed * rate), rate)}")
        lines.append(f"* FROM CLIP NAME: {' '.join(source.path.name.split())}")
        if segment.caption:
            lines.append(f"* COMMENT: {' '.join(segment.caption.split())}")
        for along in segment.beside if part is segment.parts[0] else ():
            lines.append(f"* BESIDE IT, {' '.join(along.name.split())}: "     # the form has one picture track
                         f"{' '.join(along.parts[0].source.path.name.split())} {_own_span(along.parts[0])}")
    return "\n".join(lines) + "\n"


def _own_span(part: Part) -> str:
    """A span of a source in its own timecode."""
    source = part.source
    return " ".join(timecode(frame_at(source, pts), source.frame_rate, source_drops(source))
                    for pts in (part.start, part.end))


def mixed_rates(segments: Sequence[Segment]) -> tuple[str, ...]:
    """What to know of a list over footage of several rates, or nothing."""
    parts = [part for segment in segments for part in segment.parts]
    rates = list(dict.fromkeys(part.source.frame_rate for part in parts))
    if len(rates) < 2:
        return ()
    told = ", ".join(f"{float(rate):.5g}" for rate in rates)
    return (f"The footage has several rates ({told} pictures a second). Each clip counts at its own, the .edl's record "
            f"side at {float(rates[0]):.5g}; a tool that knows one rate only needs one list for each.",)


def timeline(title: str, segments: Sequence[Segment]) -> otio.schema.Timeline:
    """The segments in order as an OpenTimelineIO timeline: a picture track for each angle, a clip per part, a marker
    per caption. Gaps keep the angles in step."""
    angles = {each.angle: each.name for segment in segments for each in segment.beside}
    angles = {**{segment.angle: segment.fields.get("angle", "") for segment in segments}, **angles}
    made = otio.schema.Timeline(title)
    tracks = {angle: otio.schema.Track(name or "picture", kind=otio.schema.TrackKind.Video)
              for angle, name in sorted(angles.items())}
    ends = dict.fromkeys(tracks, Fraction(0))
    begun = Fraction(0)
    for segment in segments:
        rate = segment.parts[0].source.frame_rate
        for angle, lead, parts in ((segment.angle, Fraction(0), segment.parts),
                                   *((each.angle, each.lead, each.parts) for each in segment.beside)):
            at = begun + max(lead, Fraction(0))
            if len(tracks) > 1 and (gap := round((at - ends[angle]) * rate)) > 0:
                tracks[angle].append(otio.schema.Gap(source_range=_range(0, gap, float(rate))))
            for part in parts:
                tracks[angle].append(_clip(segment, part))
            ends[angle] = at + sum((part.duration for part in parts), Fraction(0))
        begun += segment.duration
    made.tracks.extend(tracks.values())
    return made


def _clip(segment: Segment, part: Part) -> otio.schema.Clip:
    source = part.source
    rate = float(source.frame_rate)
    total = round(source.duration * source.frame_rate)
    begin, finish = frame_at(source, part.start), frame_at(source, part.end)
    reference = otio.schema.ExternalReference(
        target_url=source.path.as_uri() if source.path.is_absolute() else source.path.as_posix(),
        available_range=_range(first_frame(source), total, rate))
    clip = otio.schema.Clip(segment.label or source.path.stem, reference, _range(begin, finish - begin, rate))
    clip.metadata["play"] = dict(segment.fields)
    if segment.caption:
        clip.markers.append(otio.schema.Marker(segment.caption, _range(begin, 1, rate)))
    return clip


def _range(start: int, length: int, rate: float) -> otio.opentime.TimeRange:
    return otio.opentime.TimeRange(otio.opentime.RationalTime(start, rate), otio.opentime.RationalTime(length, rate))

"""A sequence told as text for other tools: edit lists and captions, by the suffix of their file."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from .captions import subrip, webvtt
from .edit_list import cmx3600, timeline
from .segment import Segment, cues_of

FORMS: dict[str, Callable[[str, Sequence[Segment]], str]] = {
    ".otio": lambda title, segments: timeline(title, segments).to_json_string(),
    ".edl": cmx3600,
    ".vtt": lambda _, segments: webvtt(cues_of(segments)),
    ".srt": lambda _, segments: subrip(cues_of(segments)),
}
"""From a file's suffix to what makes its text of a title and segments; ValueError for what a form cannot hold."""

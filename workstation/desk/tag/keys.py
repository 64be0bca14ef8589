"""Which keys of the Tag room wait for the entry line."""

from __future__ import annotations

from ..actions import TAG as GROUP

__all__ = ["GROUP", "LINE_FIRST", "ONLY_WHEN_EMPTY"]

# These keys type or move in the line while it holds text, and act while it is empty.
ONLY_WHEN_EMPTY = {"tag.toggle": ("Space",), "tag.frame_back": ("Left",), "tag.frame_ahead": ("Right",),
                   "tag.to_snap": ("Home",), "tag.remove_moment": ("Ctrl+Backspace",), "tag.back": ("Ctrl+Left",),
                   "tag.ahead": ("Ctrl+Right",), "tag.remove_play": ("Ctrl+Delete",)}
# Elsewhere the window's undo waits until the line is empty.
LINE_FIRST = {"desk.undo", "desk.redo"}

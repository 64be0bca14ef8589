"""Return freed memory to the system and limit malloc arenas (glibc).

Many threads allocate and free large pictures. glibc keeps freed memory, fragmented, in an arena for each few threads:
after hours of seeking some hundred megabytes that nothing uses. Mapping every picture by itself would take longer than
decoding it; so threads share a few arenas, which are trimmed while nobody waits. Other systems do so by themselves.
"""

from __future__ import annotations

import ctypes
import sys
from collections.abc import Callable

_ARENA_MAX = -8     # mallopt(3)
_ARENAS = 2         # places to take memory from; with glibc's own eight for each core, peaks are a fifth higher


def release_freed_memory() -> None:
    """Release freed memory to the system. Takes up to some tenths of a second; other threads that allocate wait for a
    part of them. For idle moments, not for the UI thread."""
    if _trim is not None:
        _trim(0)


def limit_arenas() -> None:
    """Let all threads share a few malloc arenas. To be called before many have begun."""
    if _set is not None:
        _set(_ARENA_MAX, _ARENAS)


def _find(name: str) -> Callable[..., int] | None:
    if not sys.platform.startswith("linux"):
        return None
    return getattr(ctypes.CDLL(None), name, None)      # musl has neither


_trim = _find("malloc_trim")
_set = _find("mallopt")

"""Return freed memory to the system and limit malloc arenas (glibc).

Pictures are large, and many threads take and free them. glibc keeps what was freed, in pieces between what is
still in use, and for each few threads apart: after hours of seeking, some hundred megabytes of nothing. To have it map
every picture by itself would cost more time than decoding the picture; so threads share what was freed, and it is asked
to tidy up when nobody waits. Other systems do so by themselves.
"""

from __future__ import annotations

import ctypes
import sys
from collections.abc import Callable

_ARENA_MAX = -8     # mallopt(3)
_ARENAS = 2         # places to take memory from; with glibc's own eight for each core, peaks are a fifth higher


def release_freed_memory() -> None:
    """Release freed memory to the system. Takes up to some tenths of a second, of which others that need memory wait a
    part; for moments of rest, and not for the UI thread."""
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

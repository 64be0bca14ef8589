"""Giving memory that was freed back to the system.

Pictures are large, and many threads take and free them. glibc keeps what was freed, in pieces between what is
still in use: after hours of seeking, some hundred megabytes of nothing. To have it map every picture by itself would
cost more time than decoding the picture; so it is asked to tidy up when nobody waits. Other systems do so by themselves.
"""

from __future__ import annotations

import ctypes
import sys
from collections.abc import Callable


def give_back() -> None:
    """Give back what was freed. Takes up to some tenths of a second, of which others that need memory wait a part;
    for moments of rest, and not for the UI thread."""
    if _trim is not None:
        _trim(0)


def _find_trim() -> Callable[[int], int] | None:
    if not sys.platform.startswith("linux"):
        return None
    return getattr(ctypes.CDLL(None), "malloc_trim", None)      # musl has none


_trim = _find_trim()

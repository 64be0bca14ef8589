"""Whether this machine has anything that sound could be heard on, and a quiet sound library."""

from __future__ import annotations

import ctypes
import os
import sys
from ctypes import CFUNCTYPE, c_char_p, c_int
from pathlib import Path

_CARDS = Path("/proc/asound/cards")
_Handler = CFUNCTYPE(None, c_char_p, c_int, c_char_p, c_int, c_char_p)


def _ignored(file: bytes, line: int, function: bytes, error: int, text: bytes) -> None:
    """What the library would write to the terminal."""


_ignore = _Handler(_ignored)        # kept here: the library goes on calling it


def has_sound_output() -> bool:
    """Whether there is a sound card or a sound server to play to. On other systems than Linux there is taken to be."""
    if not sys.platform.startswith("linux"):
        return True
    if os.environ.get("PULSE_SERVER") or os.environ.get("PIPEWIRE_REMOTE"):
        return True
    run = Path(os.environ.get("XDG_RUNTIME_DIR") or f"/run/user/{os.getuid()}")
    if (run / "pulse" / "native").exists() or (run / "pipewire-0").exists():
        return True
    try:
        return any(line.strip()[:1].isdigit() for line in _CARDS.read_text().splitlines())
    except OSError:
        return False


def quieten() -> None:
    """Keep ALSA, which players load, from writing every attempt at a device that is not there to the terminal."""
    try:
        ctypes.CDLL("libasound.so.2").snd_lib_error_set_handler(_ignore)
    except (OSError, AttributeError):       # another system's sound
        return

"""The names of severities in every list, explanation and paper."""

from __future__ import annotations

from .finding import Severity

SEVERITIES = (Severity.ERROR, Severity.WARNING, Severity.NOTE)      # the worst first
WORDS = {Severity.ERROR: "The viewer is lost", Severity.WARNING: "The viewer has to guess",
         Severity.NOTE: "Worth knowing"}
MARKS = {Severity.ERROR: "◆", Severity.WARNING: "▲", Severity.NOTE: "●"}

"""How a finding's severity is said and shown to people, in every list, tooltip and explanation."""

from __future__ import annotations

from ..coverage.finding import Severity

SEVERITIES = (Severity.ERROR, Severity.WARNING, Severity.NOTE)      # the worst first
WORDS = {Severity.ERROR: "The viewer is lost", Severity.WARNING: "The viewer has to guess",
         Severity.NOTE: "Worth knowing"}
MARKS = {Severity.ERROR: "◆", Severity.WARNING: "▲", Severity.NOTE: "●"}
INKS = {Severity.ERROR: "bad", Severity.WARNING: "warn", Severity.NOTE: "quiet"}

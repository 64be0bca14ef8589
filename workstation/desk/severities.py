"""In which ink a finding's severity is shown on screens."""

from __future__ import annotations

from ..coverage.finding import Severity

INKS = {Severity.ERROR: "bad", Severity.WARNING: "warn", Severity.NOTE: "quiet"}

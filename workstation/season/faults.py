"""What can be wrong with what a person asks of a season."""

from __future__ import annotations


class DefinitionError(ValueError):
    """A definition or a breakdown cannot be used; the text says which and why."""

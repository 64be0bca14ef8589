"""The coverage rules, each in a file of its own named after it."""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from ..rule import Rule


@cache
def rule_names() -> tuple[str, ...]:
    """Names of all rules, as a profile writes them."""
    return tuple(sorted(module.name for module in iter_modules(__path__)))


@cache
def rule_class(name: str) -> type[Rule]:
    """Return the rule in the file of that name; KeyError if there is none."""
    if name not in rule_names():
        raise KeyError(name)
    rule: type[Rule] = getattr(import_module(f"{__name__}.{name}"), name.title().replace("_", ""))
    return rule

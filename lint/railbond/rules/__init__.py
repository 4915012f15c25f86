"""The rules, one file a rule or a tight family, found by being here, and those that plug-ins bring."""

from __future__ import annotations

from functools import cache
from importlib import import_module

from railbond.folder import names

from .plugins import plugged_in
from .rule import Rule


@cache
def all_rules() -> tuple[Rule, ...]:
    """Every rule, in the order in which they are asked."""
    rules: list[Rule] = []
    for name in names(__path__):
        module = import_module(f"{__name__}.{name}")
        rules += getattr(module, "RULES", ())
    rules += plugged_in({rule.name for rule in rules})
    return tuple(sorted(rules, key=lambda rule: (rule.turn, rule.name)))


def rule(name: str) -> Rule:
    """The rule of that name. Raises KeyError."""
    return {one.name: one for one in all_rules()}[name]

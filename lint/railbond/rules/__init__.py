"""The rules, one file a rule or a tight family, found by being here, and those that plug-ins bring."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from importlib import import_module

from railbond.folder import names
from trackplan.typed import TypeVar

from .heads import HEADS, WITHOUT_RULES
from .plugins import plugged_in
from .rule import Askable, Rule

AnyRule = TypeVar("AnyRule", Rule, Askable)


@cache
def all_rules() -> tuple[Rule, ...]:
    """Every rule, in the order in which they are asked."""
    return _in_turn(own_rules(names(__path__)))


@cache
def askable() -> tuple[Askable, ...]:
    """The same, those of `heads` without their files."""
    known = {*WITHOUT_RULES, *(head.module for head in HEADS)}
    return _in_turn([*HEADS, *own_rules(name for name in names(__path__) if name not in known)])


def own_rules(files: Iterable[str]) -> Iterator[Rule]:
    """The rules of some files of this folder, which are loaded for it."""
    for name in files:
        yield from getattr(import_module(f"{__name__}.{name}"), "RULES", ())


def _in_turn(own: Iterable[AnyRule]) -> tuple[AnyRule | Rule, ...]:
    rules: list[AnyRule | Rule] = list(own)
    rules += plugged_in({rule.name for rule in rules})
    return tuple(sorted(rules, key=lambda rule: (rule.turn, rule.name)))


def rule(name: str) -> Rule:
    """The rule of that name. Raises KeyError."""
    return {one.name: one for one in all_rules()}[name]

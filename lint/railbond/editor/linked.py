"""A name wherever it is used: across the files that include each other, and the meets that couple them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from trackplan.span import Span
from trackplan.statements import District
from trackplan.tables import KEYWORDS

from .names import LEGS, Name, Use
from .store import OpenPlan, PlanStore

_PLAIN_NAME = re.compile(r"[^\W\d_]\w*(?:-+\w+)*")


class Refused(Exception):
    """Why a name cannot be changed, in plain words."""


def at(store: PlanStore, path: str, offset: int) -> list[Use]:
    """The name at a place, once for each plan that holds the file."""
    found = (plan.scope.at(path, offset) for plan in store.readers(path))
    return list({use.name: use for use in found if use}.values())


def everywhere(store: PlanStore, names: Iterable[Name]) -> list[Use]:
    """Every use of a name, and of what is the same name in other plans, each place once."""
    queue = list(dict.fromkeys(names))
    known, found = set(queue), dict[Span, Use]()
    for name in queue:
        for plan in _plans(store, name):
            for use in plan.scope.uses.get(name, ()):
                found.setdefault(use.at, use)
                for other in at(store, use.at.path, use.at.start):
                    if other.name not in known and other.at == use.at:
                        known.add(other.name)
                        queue.append(other.name)
    return sorted(found.values(), key=lambda use: use.at)


def _plans(store: PlanStore, name: Name) -> Iterator[OpenPlan]:
    """The plan that a name belongs to, and those that read or couple it."""
    own = store.readable(name.root)
    if own:
        yield own
    for root in store.roots(name.root):
        if root != name.root and (plan := store.readable(root)):
            yield plan


def definitions(store: PlanStore, names: Iterable[Name]) -> list[Use]:
    """Where a name is given; a free joint, which nothing gives, is wherever it is used."""
    uses = everywhere(store, names)
    given = [use for use in uses if use.defines]
    return given or [use for use in uses if use.role == "end"]


def renamed(store: PlanStore, path: str, offset: int, new: str) -> list[Use]:
    """Every place that a new name must be put. Raises Refused."""
    names = [use.name for use in at(store, path, offset)]
    if not names:
        raise Refused("there is no name to change here")
    for name in names:
        if store.readable(name.root) is None:
            raise Refused(f"the plan in which `{name.text}` is named cannot be read: {name.root}")
    uses = everywhere(store, names)
    _check_word(new)
    if new != names[0].text:
        _check_free(store, uses, new)
    if names[0].space == LEGS:
        _check_legs(store, uses)
    return uses


def _check_word(new: str) -> None:
    if not _PLAIN_NAME.fullmatch(new):
        raise Refused(f"`{new}` is no name: expected letters, digits, _ and -, beginning with a letter")
    if new in KEYWORDS:
        raise Refused(f"`{new}` is a word of the language; take another name")


def _check_free(store: PlanStore, uses: list[Use], new: str) -> None:
    for name in {use.name for use in uses}:
        for plan in _plans(store, name):
            taken = plan.scope.uses.get(name._replace(text=new))
            if taken:
                source = plan.source(taken[0].at.path)
                line = source.line_column(taken[0].at.start)[0]
                raise Refused(f"`{new}` is a name already, in line {line} of {source.path}")


def _check_legs(store: PlanStore, uses: list[Use]) -> None:
    """A leg's name can be changed only where every district says its own."""
    for root in {use.name.root for use in uses}:
        plan = store.readable(root)
        for one in plan.gathered.statements if plan else ():
            if isinstance(one, District) and one.legs is None:
                raise Refused(f"{one.name} does not say what its legs are called: write `legs red black` there first")
    if not any(use.defines for use in uses):
        raise Refused("no district of this plan says what its legs are called, so there is nothing to change")

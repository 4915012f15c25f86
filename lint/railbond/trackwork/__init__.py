"""The kinds of trackwork: one file a kind, named after its statement and found by being here.

Each has `template(statement, work, cuts)`, or, where a statement stands for several pieces, `expand(statement)`. Its
docstring draws the rails and says which is which: it is what `railbond rules` teaches of the kind. `FORMS` names
statements of the kind, by what they are called when their template is printed as a `construction`. `MACHINES` names the
sets of points of a kind that has more than one, each with the positions of the piece in which it stands one way and
the other.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import import_module
from types import ModuleType

from railbond.folder import names
from railbond.layout.template import Expansion, Frog, Template
from trackplan.statements import ASSEMBLIES, Statement

SegmentCut = tuple[float, str]
"""Meters from the segment's start, and the rail, left or right along its arrow."""


ALIKE = {"Turnout": 2, "Segment": 4}
"""The usual kinds, and the field from which on their statements say what they are made of: all that say the same, and
are worked on in the same way, have one template, today and when it is asked for again."""
MOST_KEPT = 4096
_known: dict[object, Template] = {}


def template_for(statement: Statement, work: tuple[Statement, ...], cuts: tuple[SegmentCut, ...]) -> Template:
    """The template of a piece. Raises `Impossible` for work that its metal does not allow."""
    name = type(statement).__name__
    if name not in ALIKE:
        made: Template = kind(name).template(statement, work, cuts)
        return made
    done: tuple[object, ...] = tuple([(type(one), *one[2:]) for one in work]) if work else ()
    key = name, statement[ALIKE[name] :], done, cuts
    template = _known.get(key)
    if template is None:
        if len(_known) >= MOST_KEPT:
            _known.clear()
        template = _known[key] = kind(name).template(statement, work, cuts)
    return template


def expand(statement: Statement) -> Expansion | None:
    """What a statement stands for that lays several pieces; None for any other."""
    if not isinstance(statement, ASSEMBLIES):
        return None
    expansion: Expansion = kind(type(statement).__name__).expand(statement)
    return expansion


def machines(statement: Statement) -> Mapping[str, tuple[tuple[str, ...], ...]]:
    """The sets of points of a piece that has more than one, each with the positions in which it stands either way."""
    return _machines(type(statement).__name__)


@cache
def _machines(name: str) -> Mapping[str, tuple[tuple[str, ...], ...]]:
    found: Mapping[str, tuple[tuple[str, ...], ...]] = getattr(kind(name), "MACHINES", {})
    return found


def contact_legs(statement: Statement, template: Template, frog: Frog) -> Mapping[str, int]:
    """Which of its two wires a frog gets in each position through a changeover contact, which always has one throw
    closed: where no wheel touches the frog, as the machine that moves the contact stands."""
    for halves in machines(statement).values():
        legs = [{frog.legs[one] for one in half if one in frog.legs} for half in halves]
        if all(len(one) == 1 for one in legs) and legs[0] != legs[1]:
            both = zip(halves, legs, strict=True)
            return {one: leg for half, (leg,) in both for one in half if one in template.positions}
    return frog.legs


def forms() -> dict[str, str]:
    """Every built-in form of trackwork by its name, as a statement: `live-frog` is a live-frog turnout."""
    return {name: text for file in _files().values() for name, text in getattr(file, "FORMS", {}).items()}


def lessons() -> dict[str, str]:
    """What there is to know of each kind of trackwork, its rails drawn: `three-way`, `slip` and so on."""
    kinds = {name: file for name, file in _files().items() if hasattr(file, "template") or hasattr(file, "expand")}
    return {name.replace("_", "-"): file.__doc__ or "" for name, file in kinds.items()}


def _files() -> dict[str, ModuleType]:
    return {name: import_module(f"{__name__}.{name}") for name in names(__path__)}


@cache
def kind(name: str) -> ModuleType:
    """The file of a kind of trackwork, by its statement's name: `three_way` for ThreeWay."""
    words = "".join(f"_{letter.lower()}" if letter.isupper() else letter for letter in name)
    return import_module(f"{__name__}.{words.removeprefix('_')}")

"""The kinds of trackwork: one file a kind, found by being here.

Each file names in `KINDS` the statements it makes pieces of, and has `template(statement, work, cuts)`.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from railbond.layout.template import Template
from trackplan.statements import Statement

SegmentCut = tuple[float, str]
"""Metres from the segment's start, and the rail, left or right along its arrow."""


def template_for(statement: Statement, work: tuple[Statement, ...], cuts: tuple[SegmentCut, ...]) -> Template:
    """The template of a piece. Raises `Impossible` for work that its metal does not allow."""
    return _makers()[type(statement)](statement, work, cuts)


@cache
def _makers() -> dict[type, Callable[..., Template]]:
    makers: dict[type, Callable[..., Template]] = {}
    for file in iter_modules(__path__):
        module = import_module(f"{__name__}.{file.name}")
        makers |= {kind: module.template for kind in getattr(module, "KINDS", ())}
    return makers

"""A meet has no wires of its own: those of its modules are."""

from __future__ import annotations

from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Module


def modules_of(path: str, text: str) -> list[str]:
    """The plans that a meet couples, as it names them; none for any other plan."""
    return [str(one.file) for one in read(Source(path, text)).statements if isinstance(one, Module)]

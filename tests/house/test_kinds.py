"""Only `layout` and `trackwork` know what kinds of trackwork there are; everybody else asks a piece's template."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest

from house.files import modules
from trackplan import statements
from trackplan.special import ASSEMBLIES

KINDS = {kind.__name__ for kind in (*get_args(statements.Trackwork), *ASSEMBLIES)} | {"Trackwork", "SpecialWork"}
TOLD_BY_TEMPLATES = {"build", "hand", "number", "angle", "dead", "sprung", "slips", "shape"}
"""Parts of a statement of trackwork that its template tells."""
ROOMS = ("railbond.layout", "railbond.trackwork")


def asks(tree: ast.AST) -> Iterator[str]:
    """Every place where code speaks of a kind of trackwork or of a part of its statement."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("trackplan"):
            yield from (f"{node.lineno}: {one.name}" for one in node.names if one.name in KINDS)
        elif isinstance(node, ast.Attribute) and node.attr in TOLD_BY_TEMPLATES and _is_statement(node.value):
            yield f"{node.lineno}: statement.{node.attr}"
        elif isinstance(node, ast.Call) and ast.unparse(node.func) in ("getattr", "hasattr"):
            what, name = node.args[0], ast.unparse(node.args[1]).strip("'")
            if name in TOLD_BY_TEMPLATES and _is_statement(what):
                yield f"{node.lineno}: {name} of {ast.unparse(what)}"
        elif isinstance(node, ast.Attribute) and node.attr == "__name__" and ".statement" in ast.unparse(node.value):
            yield f"{node.lineno}: {ast.unparse(node)}"


def _is_statement(node: ast.expr) -> bool:
    return ast.unparse(node).rpartition(".")[2] in ("statement", "near", "turnout")


@pytest.mark.parametrize(
    ("name", "path"),
    [(name, path) for name, path in modules().items() if name.startswith("railbond") and not name.startswith(ROOMS)],
)
def test_no_other_room_asks_for_a_kind(name: str, path: Path) -> None:
    assert list(asks(ast.parse(path.read_text(encoding="utf-8")))) == []


@pytest.mark.parametrize(
    "code",
    [
        "from trackplan.statements import Segment",
        "from trackplan.special import Slip as Curved",
        "piece.statement.build == 'dead-frog'",
        "getattr(piece.statement, 'build', None)",
        "hasattr(near, 'hand')",
        "type(one.statement).__name__",
    ],
)
def test_asking_is_seen(code: str) -> None:
    assert list(asks(ast.parse(code)))

"""There is one way to whatever stands at a path: `railbond.doorway`. Nobody else decides whether a text is a plan or a
meet, and nobody else inspects one."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from house.files import modules

# fmt: off
# What leads from a path or a text to facts and findings, and who may speak of it: the doorway, what it opens on to, and
# what tries edits of one plan in memory. Those who only ask which files a plan names may ask for its modules.
WAYS_IN = {
    "gather": {"railbond.doorway", "railbond.meet", "railbond.mend.overlay", "railbond.mend.whole"},
    "inspect": {"railbond.doorway", "railbond.meet", "railbond.mend.overlay"},
    "examine": {"railbond.inspection"},
    "read_meet": {"railbond.doorway", "railbond.meet"},
    "examine_meet": {"railbond.doorway", "railbond.meet"},
    "Facts": {
        "railbond.doorway", "railbond.inspection", "railbond.circuit.facts", "railbond.recalling",
        "railbond.mend.whole",
    },
    "Whole": {"railbond.meet"},
    "Module": {
        "railbond.doorway", "railbond.meet", "railbond.layout",
        "railbond.dependents", "railbond.editor.names", "railbond.editor.navigation", "railbond.editor.links",
    },
    "AnyOrder": {"railbond.doorway", "railbond.meet", "railbond.layout"},
}
# fmt: on


def calls(tree: ast.AST) -> set[str]:
    """The names that are called, and those by which something is asked whether it is one of them."""
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            found |= {part.id for part in ast.walk(node.func) if isinstance(part, ast.Name)}
            if isinstance(node.func, ast.Name) and node.func.id == "isinstance":
                found |= {part.id for part in ast.walk(node.args[1]) if isinstance(part, ast.Name)}
    return found


def trespassers(name: str, text: str) -> set[str]:
    """The ways in that a module of railbond takes and is not known for."""
    if not name.startswith("railbond."):
        return set()
    taken = calls(ast.parse(text)) & WAYS_IN.keys()
    return {way for way in taken if not any(name == one or name.startswith(f"{one}.") for one in WAYS_IN[way])}


@pytest.mark.parametrize(("name", "path"), modules().items())
def test_nobody_takes_another_way_in(name: str, path: Path) -> None:
    assert not trespassers(name, path.read_text(encoding="utf-8")), f"{name} must enter by railbond.doorway"


@pytest.mark.parametrize(
    "text",
    [
        "book = gather(path, open_text)",
        "facts = Facts(book.statements, book.sources)",
        "is_meet = any(isinstance(one, Module) for one in book.statements)",
        "found = [inspect(one) for one in books]",
    ],
)
def test_another_way_in_is_noticed(text: str) -> None:
    assert trespassers("railbond.commands.new", text)
    assert not trespassers("railbond.doorway", text)

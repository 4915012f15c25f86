"""Who may import whom, and how large a file may grow."""

from __future__ import annotations

from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

from house.files import imports, modules

# Low to high. A room imports from rooms below it and from itself; rooms of one row leave each other alone.
ROWS = (
    ("trackplan",),
    ("railbond", "railbond.findings", "railbond.reach", "railbond.folder", "railbond.dependents", "railbond.saying"),
    (
        "railbond.files",
        "railbond.writing",
        "railbond.usage",
        "railbond.tracked",
        "railbond.loopback",
        "railbond.versions",
        "railbond.unsaved",
    ),
    ("railbond.care", "railbond.beginnings", "railbond.versions", "railbond.moves", "railbond.steady"),
    ("railbond.rewriting",),
    ("railbond.layout",),
    ("railbond.trackwork",),
    ("railbond.circuit",),
    ("railbond.fixes",),
    ("railbond.rules",),
    ("railbond.explaining",),
    ("railbond.settings",),
    ("railbond.inspection", "railbond.bench"),
    ("railbond.mend",),
    ("railbond.meet", "railbond.recalling"),
    ("railbond.doorway",),
    ("railbond.batch", "railbond.design"),
    ("railbond.faces",),
    ("railbond.editor",),
    ("railbond.commands",),
    ("railbond.command",),
    ("railbond.__main__",),
)
LARGEST = 250
EXEMPT = {"trackplan.made", "trackplan.statements"}
"""Made by a program, and the list of all that a plan can say."""


def room(module: str) -> str:
    """The room that a module belongs to: the longest name in ROWS that is its beginning."""
    rooms = [name for row in ROWS for name in row if module == name or module.startswith(f"{name}.")]
    return max((name for name in rooms if name != "railbond" or module == "railbond"), key=len, default="")


def row(module: str) -> int:
    """How high up a module stands."""
    return next(index for index, names in enumerate(ROWS) if room(module) in names)


def ours(name: str, path: Path) -> set[str]:
    known = frozenset(modules())
    return {one for one in imports(name, path, known) if one.split(".")[0] in ("trackplan", "railbond")}


@pytest.mark.parametrize("name", modules())
def test_every_module_has_a_room(name: str) -> None:
    assert room(name), f"{name} stands outside of the rooms that ROWS names"


@pytest.mark.parametrize(("name", "path"), modules().items())
def test_imports_go_down(name: str, path: Path) -> None:
    for other in ours(name, path):
        assert room(other) == room(name) or row(other) < row(name), f"{name} imports {other}"


def test_there_are_no_circles() -> None:
    graph = {name: ours(name, path) - {name} for name, path in modules().items()}
    try:
        list(TopologicalSorter(graph).static_order())
    except CycleError as error:
        pytest.fail(f"imports run in a circle: {' -> '.join(error.args[1])}")


@pytest.mark.parametrize(("name", "path"), modules().items())
def test_no_second_copy_of_a_module_can_be_imported(name: str, path: Path) -> None:
    """`import lint.railbond` from the top folder would load everything twice."""
    assert not {one for one in imports(name, path, frozenset()) if one.split(".")[0] in ("lint", "grammar")}


@pytest.mark.parametrize(("name", "path"), modules().items())
def test_a_file_can_be_read_at_one_sitting(name: str, path: Path) -> None:
    lines = len(path.read_text(encoding="utf-8").splitlines())
    assert lines <= LARGEST or name in EXEMPT, f"{name} has {lines} lines; split it by what it is about"


def test_only_one_file_imports_the_parser_library() -> None:
    found = {name: imports(name, path, frozenset()) for name, path in modules().items()}
    assert len([name for name, all_of_it in found.items() if any(one.startswith("lark") for one in all_of_it)]) <= 1

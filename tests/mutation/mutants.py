"""What can be changed: every place of a room's code at which an operator of cosmic-ray finds something to do."""

from __future__ import annotations

import ast
import random
from collections.abc import Iterator, Sequence
from difflib import unified_diff
from pathlib import Path
from typing import NamedTuple

from cosmic_ray.ast import get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names

BESIDE = ("core/RemoveDecorator", "core/VariableInserter", "core/VariableReplacer")
"""Operators that want arguments, or whose mutants only take a cache away."""


class Mutant(NamedTuple):
    """One change: the file below the copy, the operator and which of its places."""

    file: str
    operator: str
    occurrence: int
    line: int

    @property
    def words(self) -> str:
        return f"{self.file}:{self.line}: {self.operator.removeprefix('core/')}"

    def text(self, original: str) -> str:
        """The file's text with the change made."""
        changed = mutate_code(original, get_operator(self.operator)(), self.occurrence)
        assert changed is not None
        return str(changed)

    def difference(self, folder: Path) -> str:
        """The change as a diff, without its heading."""
        text = (folder / self.file).read_text(encoding="utf-8")
        lines = unified_diff(text.splitlines(), self.text(text).splitlines(), lineterm="", n=1)
        return "\n".join(list(lines)[2:])


def drawn(folder: Path, rooms: Sequence[str], count: int, seed: int) -> Iterator[Mutant]:
    """So many mutants of the rooms, drawn without putting back: first a file by its length, then a place in it."""
    rng = random.Random(seed)
    files = [path for room in rooms for path in sorted((folder / "lint/railbond" / room).rglob("*.py"))]
    lengths = [len(path.read_bytes()) for path in files]
    known: dict[Path, list[Mutant]] = {}
    for _ in range(count):
        (path,) = rng.choices(files, lengths)
        if path not in known:
            known[path] = list(_mutants(folder, path))
            rng.shuffle(known[path])
        if known[path]:
            yield known[path].pop()


def _mutants(folder: Path, path: Path) -> Iterator[Mutant]:
    text = path.read_text(encoding="utf-8")
    tree, passed_over = get_ast(text), _annotations(text)
    for name in sorted(set(operator_names()) - set(BESIDE)):
        operator, occurrence = get_operator(name)(), 0
        for node in _nodes(tree):
            for (line, column), _ in operator.mutation_positions(node):
                if not any(start <= (line, column) < end for start, end in passed_over):
                    yield Mutant(path.relative_to(folder).as_posix(), name, occurrence, line)
                occurrence += 1


def _nodes(tree: object) -> Iterator[object]:
    """A tree's nodes in the order in which the mutator counts them."""
    yield tree
    for child in getattr(tree, "children", ()):
        yield from _nodes(child)


Place = tuple[int, int]


def _annotations(text: str) -> list[tuple[Place, Place]]:
    """Where annotations and type aliases stand, from and to."""
    found: list[tuple[Place, Place]] = []
    for node in ast.walk(ast.parse(text)):
        parts = [getattr(node, name, None) for name in ("annotation", "returns")]
        if isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING":
            parts.append(node.test)
        if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name) and node.targets[0].id.istitle():
            parts.append(node.value)
        for part in parts:
            if isinstance(part, ast.expr):
                stop = part.end_lineno or part.lineno, part.end_col_offset or 0
                found.append(((part.lineno, part.col_offset), stop))
    return found

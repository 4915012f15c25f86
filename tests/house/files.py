"""What the house checks look at: the files that git keeps, and the sources' imports."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
ROOTS = {"trackplan": TOP / "grammar", "railbond": TOP / "lint"}


@cache
def kept() -> tuple[str, ...]:
    """Paths from the top folder of all files that are kept, or would be at the next commit."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=TOP, capture_output=True, text=True, check=True,
    ).stdout  # fmt: skip
    return tuple(sorted(path for path in listed.split("\0") if path and (TOP / path).is_file()))


def texts() -> Iterator[tuple[str, str]]:
    """Every kept file that is text, with its text."""
    for path in kept():
        try:
            yield path, (TOP / path).read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue


@cache
def modules() -> dict[str, Path]:
    """The sources, by module name."""
    found = {}
    for package, root in ROOTS.items():
        for path in sorted((root / package).rglob("*.py")):
            parts = path.relative_to(root).with_suffix("").parts
            found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imports(name: str, path: Path, known: frozenset[str]) -> set[str]:
    """Modules that a module imports anywhere in it; a name imported from a package may be one of `known`."""
    package = name if path.name == "__init__.py" else name.rpartition(".")[0]
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = _absolute(package, node)
            whole = {f"{base}.{alias.name}" for alias in node.names}
            found |= (whole & known) or {base}
    return found


def _absolute(package: str, node: ast.ImportFrom) -> str:
    if not node.level:
        return node.module or ""
    base = package.split(".")
    base = base[: len(base) - node.level + 1]
    return ".".join([*base, node.module] if node.module else base)

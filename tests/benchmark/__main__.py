"""How fast it all is: `python tests/benchmark [NAME…]`, NAME a file of this folder.

Each file holds `measures()`, which yields ratios, each beside its goal. Exit status 1 when a goal is missed.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

HERE = Path(__file__).resolve().parent
TOOLS = {"__main__", "timing", "railroads", "steps"}


def main(names: list[str]) -> int:
    """Runs the benchmarks of these names, or all, and prints them as they come."""
    sys.path[:0] = [str(HERE.parents[1] / folder) for folder in ("grammar", "lint", "tests")]
    missed = [line for line in lines(names or benchmarks()) if print(line, flush=True) or "MISSED" in line]
    return int(bool(missed))


def benchmarks() -> list[str]:
    """The names of all benchmarks."""
    return sorted(path.stem for path in HERE.glob("*.py") if path.stem not in TOOLS)


def lines(names: list[str]) -> Iterator[str]:
    """A head for each benchmark, and a line for each of its measures."""
    for name in names:
        module = import_module(f"benchmark.{name}")
        yield f"{name}: {module.__doc__.splitlines()[0]}"
        yield from (f"  {measure}" for measure in module.measures())


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

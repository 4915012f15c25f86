"""A club's gate before a commit of a hundred plans, beside one run over them."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from random import Random

from benchmark.timing import Measure, medians
from gate.club import git, run
from oracle.plans import random_sound

PLANS = 100
TURNOUTS = 5
ROUNDS = 3
CONFIG = """\
repos:
  - repo: local
    hooks:
      - id: railbond-inspect
        name: inspect wiring plans
        entry: {python} -m railbond inspect --dependents --fail-at error
        language: system
        files: \\.trackplan$
"""


def measures() -> Iterator[Measure]:
    """With a real pre-commit, whose own start and search for changed files count too."""
    paths = {"PYTHONPATH": os.pathsep.join(sys.path[:2])}
    with tempfile.TemporaryDirectory() as name:
        folder = repository(Path(name))
        plans = sorted(path.name for path in folder.glob("*.trackplan"))
        gate = [sys.executable, "-m", "pre_commit", "run"]
        plain = [sys.executable, "-m", "railbond", "inspect", "--fail-at", "error", *plans]

        def checked(command: list[str]) -> None:
            done = run(folder, *command, PRE_COMMIT_HOME=f"{name}/home", **paths)
            assert done.returncode == 0, done.stdout[-2000:]

        taken = medians({"gate": lambda: checked(gate), "plain": lambda: checked(plain)}, ROUNDS)
    yield Measure(f"the gate on {PLANS} changed plans / one run over them", taken["gate"] / taken["plain"], most=3)


def repository(top: Path) -> Path:
    """A repository in which every plan is about to be committed."""
    folder = top / "club"
    folder.mkdir()
    git(folder, "init", "-q")
    (folder / ".pre-commit-config.yaml").write_text(CONFIG.format(python=sys.executable))
    for number in range(PLANS):
        (folder / f"module{number}.trackplan").write_text(random_sound(Random(number), TURNOUTS))
    git(folder, "add", "-A")
    return folder

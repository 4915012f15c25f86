"""A copy of the tree in which mutants live, and the tests that are asked about them."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from mutation.mutants import Mutant

TOP = Path(__file__).parents[2]

NEAREST = {
    "circuit/power": ("power",),
    "circuit/running": ("running", "trackwork"),
    "circuit": ("circuit", "trackwork", "mend"),
    "rules": ("rules", "running", "power", "meet", "mend"),
    "mend": ("mend",),
    "layout": ("layout", "trackwork", "meet"),
}
"""The tests that know a room best, asked first."""

ELSEWHERE = ("editor", "gate", "page", "house", "drawing", "mutation")
"""Tests that cost much and say little about the proof."""

SECONDS = 900
"""A mutant that runs for longer than this has been noticed."""


class Copy:
    """Made on entering, thrown away on leaving."""

    def __enter__(self) -> Copy:
        self._folder = tempfile.TemporaryDirectory()
        self.path = Path(self._folder.name) / "tree"
        ignored = shutil.ignore_patterns(".venv", ".git", "__pycache__", ".*_cache", ".hypothesis")
        shutil.copytree(TOP, self.path, ignore=ignored)
        return self

    def __exit__(self, *_: object) -> None:
        self._folder.cleanup()

    def notices(self, mutant: Mutant) -> bool:
        """Whether a test fails, breaks off or hangs with the change made."""
        file = self.path / mutant.file
        original = file.read_text(encoding="utf-8")
        file.write_text(mutant.text(original), encoding="utf-8")
        try:
            return any(self._fails(rooms) for rooms in self._asked(mutant.file))
        finally:
            file.write_text(original, encoding="utf-8")

    def _asked(self, file: str) -> list[list[str]]:
        room = next((room for room in NEAREST if file.startswith(f"lint/railbond/{room}/")), "")
        near = [f"tests/{one}" for one in NEAREST.get(room, ())]
        every = sorted(one for one in (self.path / "tests").iterdir() if any(one.glob("test_*.py")))
        return [near, [f"tests/{one.name}" for one in every if one.name not in ELSEWHERE]]

    def _fails(self, folders: list[str]) -> bool:
        paths = os.pathsep.join(str(self.path / one) for one in ("grammar", "lint"))
        call = [sys.executable, "-m", "pytest", "-x", "-q", "-n", "2", "-p", "no:cacheprovider", *folders]
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
        try:
            done = subprocess.run(call, cwd=self.path, env=os.environ | {"PYTHONPATH": paths}, timeout=SECONDS, **quiet)
        except subprocess.TimeoutExpired:
            return True
        return done.returncode != 0

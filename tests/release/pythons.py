"""The Pythons of this machine that railbond says it runs on."""

from __future__ import annotations

import os
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

OLDEST = (3, 11)
"""As pyproject's requires-python says; a test holds the two together."""
ASK = "import sys, venv, ensurepip; print(*sys.version_info[:3])"
NAME = re.compile(r"python3\.(\d+)")


def pythons() -> dict[tuple[int, ...], Path]:
    """One interpreter for each version, the oldest first: of those on the path and those that pyenv keeps."""
    found: dict[tuple[int, ...], Path] = {}
    for path in candidates():
        version = version_of(path)
        if version and version[:2] >= OLDEST:
            found.setdefault(version[:2], path)
    return dict(sorted(found.items()))


def candidates() -> Iterator[Path]:
    folders = [Path(one) for one in os.environ["PATH"].split(os.pathsep)]
    for folder in (*folders, *kept_by_pyenv()):
        if folder.is_dir():
            yield from sorted(path for path in folder.iterdir() if NAME.fullmatch(path.name))


def kept_by_pyenv() -> list[Path]:
    """Versions that are installed but not chosen, which its commands on the path refuse to start."""
    try:
        root = subprocess.run(["pyenv", "root"], capture_output=True, text=True, check=True).stdout.strip()
    except (OSError, subprocess.CalledProcessError):
        return []
    return sorted(Path(root).glob("versions/*/bin"))


def version_of(path: Path) -> tuple[int, ...] | None:
    """None for what does not start, or cannot make a bare environment."""
    done = subprocess.run([path, "-c", ASK], capture_output=True, text=True)
    return tuple(map(int, done.stdout.split())) if done.returncode == 0 else None


def oldest_and_newest() -> list[Path]:
    found = list(pythons().values())
    return found[:1] + found[1:][-1:]

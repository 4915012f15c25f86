"""The main job, in an environment that has nothing but what was installed."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

EXAMPLES = Path(__file__).resolve().parents[2] / "example_plans"
SOUND = "passing_siding.trackplan"
FAULTY = "faulty/legs-joined.trackplan"
STEPS: tuple[tuple[int, str, tuple[str, ...]], ...] = (
    (0, "railbond ", ("railbond", "--version")),
    (0, "No errors and no warnings", ("railbond", "inspect", "sound.trackplan")),
    (1, "legs-joined", ("railbond", "inspect", "faulty.trackplan")),
    (1, '"version": "2.1.0"', ("railbond", "inspect", "faulty.trackplan", "--as", "sarif")),
    (1, "mended: ", ("railbond", "mend", "faulty.trackplan", "--show")),
    (0, "legs-joined", ("railbond", "rules", "legs-joined")),
    (0, "", ("railbond", "draw", "sound.trackplan", "-o", "sound.svg")),
    (0, "is written, and sound", ("railbond", "begin", "oval")),
    (0, "turnout T1 left", ("railbond", "rules", "turnout")),
    (1, "nothing is written", ("python", "-m", "trackplan.generate")),
    (1, "nothing is written", ("python", "-m", "trackplan.coloring")),
)
"""Exit status, what must be said, and the words typed."""


def tried(python: Path, artifact: Path, folder: Path) -> Iterator[str]:
    """What went otherwise than it must. `folder` is made, and holds the environment."""
    subprocess.run([python, "-m", "venv", folder], check=True)
    run([folder / "bin" / "pip", "install", "-q", "--disable-pip-version-check", artifact], folder)
    for name, example in (("sound", SOUND), ("faulty", FAULTY)):
        (folder / f"{name}.trackplan").write_bytes((EXAMPLES / example).read_bytes())
    installed = digest(folder)
    for status, said, words in STEPS:
        done = run([folder / "bin" / words[0], *words[1:]], folder)
        if done.returncode != status or said not in done.stdout + done.stderr:
            yield f"{python.name}, {artifact.name}: `{' '.join(words)}` ended with {done.returncode}\n{done.stderr}"
    if digest(folder) != installed:
        yield f"{python.name}, {artifact.name}: something was written beside the installed package"
    print(f"{python.name}, {artifact.name}: tried", file=sys.stderr)


def run(command: list[object], folder: Path) -> subprocess.CompletedProcess[str]:
    """In that folder, and with nothing of this process's Python."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "VIRTUAL_ENV"))}
    return subprocess.run([str(word) for word in command], cwd=folder, env=kept, capture_output=True, text=True)


def digest(folder: Path) -> str:
    """Of all that is installed but for bytecode."""
    found = sha256()
    for path in sorted(folder.glob("lib/*/site-packages/**/*")):
        if path.is_file() and path.suffix != ".pyc":
            found.update(str(path).encode() + path.read_bytes())
    return found.hexdigest()

"""A plan of 40 lines as a whole process, beside a Python that does nothing."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path

from benchmark.timing import Measure, Work, medians

ROUNDS = 25
KEPT = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
"""An installed program has its bytecode beside it."""
ENVIRONMENT = {**KEPT, "PYTHONPATH": os.pathsep.join(sys.path[:2])}
SCRIPT = "import sys; from railbond.command import main; sys.exit(main())"
"""What the installed command does."""
SOUND = Path(__file__).with_name("forty.trackplan")
FAULTS = (
    ("cut       T2  around frog\nbond      T2  closure rails to stock rails\n", ""),
    ("-> shed    at 40 cm   22 AWG  20 cm", "-> shed    at 40 cm   22 AWG  20 cm  crossed"),
)


def measures() -> Iterator[Measure]:
    """The sound plan, and the same with two faults."""
    with tempfile.TemporaryDirectory() as folder:
        faulty = Path(folder) / "faulty.trackplan"
        faulty.write_text(spoilt(SOUND.read_text()))
        works = {"nothing": python("-c", "pass"), "sound": inspect(SOUND, 0), "faulty": inspect(faulty, 1)}
        taken = medians(works, ROUNDS)
    yield Measure("a sound plan / python -c pass", taken["sound"] / taken["nothing"], most=5)
    yield Measure("a plan with findings / python -c pass", taken["faulty"] / taken["nothing"], most=8)


def spoilt(text: str) -> str:
    for right, wrong in FAULTS:
        assert right in text
        text = text.replace(right, wrong)
    return text


def inspect(plan: Path, status: int) -> Work:
    return python("-c", SCRIPT, "inspect", str(plan), status=status)


def python(*arguments: str, status: int = 0) -> Work:
    return partial(run, [sys.executable, *arguments], status)


def run(command: list[str], status: int) -> None:
    """Runs a command, which must end with that exit status."""
    done = subprocess.run(command, capture_output=True, text=True, env=ENVIRONMENT)
    assert done.returncode == status, done.stdout + done.stderr

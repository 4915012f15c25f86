"""Programs killed while they write: each file is then as it was or as it was to become, and may be written again."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tempfile
from functools import cache
from pathlib import Path
from random import Random
from time import perf_counter, sleep

from fuzz.running import Failure
from house.files import ROOTS

UNTIDY = 'plan "Mill"\nbooster B1 15 V 5 A\ndistrict main from B1 trips 4 A\nsegment west stop -> stop 90 cm\n'
FAULTY = (
    UNTIDY + "feeder main -> west\nsegment more stop -> stop 1 m\nfeeder main -> more\nfeeder main -> more crossed\n"
)
CALLS = (("tidy",), ("mend",), ("draw", "-o", "out.svg"), ("schedule", "-o", "out.txt"), ("meter", "-o", "out.txt"))
ENVIRONMENT = {**os.environ, "PYTHONPATH": os.pathsep.join(map(str, ROOTS.values()))}
FIRST = 0.05
"""Seconds before which a program has not begun to work."""


def calling(words: tuple[str, ...], folder: Path) -> subprocess.Popen[bytes]:
    call = [sys.executable, "-m", "railbond", words[0], "plan.trackplan", *words[1:]]
    return subprocess.Popen(call, cwd=folder, env=ENVIRONMENT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def filled(folder: Path) -> dict[str, bytes]:
    """Puts a plan and older answers into a folder; what they hold."""
    for name, text in (("plan.trackplan", FAULTY), ("out.svg", "<svg/>\n"), ("out.txt", "older\n")):
        (folder / name).write_text(text)
    return held(folder)


def held(folder: Path) -> dict[str, bytes]:
    """What the files hold that are anybody's business."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.suffix in (".trackplan", ".svg", ".txt")}


@cache
def whole_run(words: tuple[str, ...]) -> tuple[dict[str, bytes], float]:
    """What the files hold after a run that nobody disturbs, and how long it takes."""
    with tempfile.TemporaryDirectory() as name:
        filled(Path(name))
        start = perf_counter()
        calling(words, Path(name)).wait()
        return held(Path(name)), perf_counter() - start


def one_kill(seed: int) -> Failure | None:
    """Kills a program at a random moment; what was lost, if anything was."""
    words = CALLS[seed % len(CALLS)]
    what = kill(words, *whole_run(words), Random(seed))
    return Failure("kills", seed, FAULTY, f"{' '.join(words)}: {what}") if what else None


def kill(words: tuple[str, ...], after: dict[str, bytes], seconds: float, dice: Random) -> str:
    """What was lost by killing a program at a random moment; empty when nothing was."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        before = filled(folder)
        program = calling(words, folder)
        sleep(dice.uniform(FIRST, max(seconds * 1.1, FIRST)))
        program.send_signal(signal.SIGKILL)
        program.wait()
        now = held(folder)
        for file, content in before.items():
            if now.get(file) not in (content, after[file]):
                return f"{file} is neither as it was nor as it was to become"
        calling(words, folder).wait()
        return "" if held(folder) == after else "the next run does not do what it should"

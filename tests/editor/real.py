"""Real editors, started without a screen on a faulty plan, set up as README says."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

from house.files import ROOTS
from house.readme import README
from needs import program

HIGHLIGHT = ROOTS["trackplan"] / "trackplan" / "colors"
SECONDS = 60

FAULTY = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  line  stop -> J    1.5 m
segment  spur  J -> stop    1.5 m
gap      J     both rails
feeder   main -> line
feeder   main -> spur  crossed
"""
MENDED = FAULTY.replace("  crossed", "")
LINE = 7
"""The line of the fault."""


def setup(language: str) -> str:
    """What README tells to put into an editor's settings."""
    (text,) = re.findall(rf"```{language}\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
    return text.replace("FOLDER", str(HIGHLIGHT))


class EditorBench:
    """A folder with a faulty plan, and a command `railbond` that is this very program."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.plan = folder / "mill.trackplan"
        self.plan.write_text(FAULTY)
        command = folder / "bin" / "railbond"
        command.parent.mkdir()
        paths = os.pathsep.join(map(str, ROOTS.values()))
        command.write_text(f'#!/bin/sh\nPYTHONPATH="{paths}" exec "{sys.executable}" -m railbond "$@"\n')
        command.chmod(0o755)
        self.path = f"{command.parent}{os.pathsep}{os.environ['PATH']}"

    def run(self, name: str, *words: str) -> str:
        """What an editor says on standard output and error, on its way through a script."""
        with self.begin(name, *words) as running:
            try:
                return running.communicate(timeout=SECONDS)[0]
            finally:
                running.kill()

    def begin(self, name: str, *words: str) -> subprocess.Popen[str]:
        """The same, while it still runs."""
        home = {"HOME": str(self.folder), "XDG_CONFIG_HOME": str(self.folder), "TERM": "dumb", "PATH": self.path}
        return subprocess.Popen(
            [program(name), *words], cwd=self.folder, env={**os.environ, **home}, stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
        )  # fmt: skip

    def write(self, name: str, text: str) -> str:
        (self.folder / name).write_text(text)
        return name

"""The parts of README.md that the program itself tells. `python tests/house/readme.py` writes them anew."""

from __future__ import annotations

import fcntl
import os
import re
import struct
import subprocess
import sys
import tempfile
import termios
from collections.abc import Callable, Iterator
from pathlib import Path

TOP = Path(__file__).resolve().parents[2]
README = TOP / "README.md"
PART = re.compile(r"(?<=<!-- made: )(\w+)( -->\n).*?(<!-- end -->)", re.DOTALL)
BLOCK = re.compile(r"```(\w*)\n(.*?)```", re.DOTALL)


def rules() -> str:
    """The table of rules."""
    from railbond.rules import all_rules

    rows = [f"| `{rule.name}` | {rule.level} | {rule.happens} | {rule.summary} |" for rule in all_rules()]
    return "\n".join(["| rule | level | what happens | the defect |", "|---|---|---|---|", *rows])


def commands() -> str:
    """The table of commands, each with the first line of its help."""
    from railbond import command

    modules = {name: command._command(name) for name in command.names()}
    rows = [f"| `railbond {name}` | {(module.__doc__ or '').splitlines()[0]} |" for name, module in modules.items()]
    return "\n".join(["| command | does |", "|---|---|", *rows])


def cautions() -> str:
    """What is dangerous."""
    from railbond.faces.teaching import GENERAL_CAUTIONS

    return "\n".join(f"- {caution}" for caution in GENERAL_CAUTIONS)


def finding() -> str:
    """What `railbond inspect` says on a terminal of 80 columns about the plan that README shows."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "mill.trackplan").write_text(plan(README.read_text(encoding="utf-8")), encoding="utf-8")
        return f"```text\n{on_terminal(['inspect', 'mill.trackplan'], folder).rstrip()}\n```"


def proven() -> str:
    """How what is said about the first plan that `railbond begin spur` writes ends."""
    with tempfile.TemporaryDirectory() as folder:
        on_terminal(["begin", "spur", "-o", "new.trackplan"], folder)
        said = on_terminal(["inspect", "new.trackplan"], folder)
        return f"```text\n{said.rstrip().split(chr(10) * 2)[-1]}\n```"


def on_terminal(words: list[str], folder: str) -> str:
    """What a command prints there, without colors."""
    ours, theirs = os.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("4H", 24, 80, 0, 0))
    paths = os.pathsep.join(str(TOP / root) for root in ("grammar", "lint"))
    environment = {**os.environ, "PYTHONPATH": paths, "NO_COLOR": "1"}
    with subprocess.Popen([sys.executable, "-m", "railbond", *words], cwd=folder, stdout=theirs, env=environment):
        os.close(theirs)
        return b"".join(read_all(ours)).decode("utf-8").replace("\r\n", "\n")


def read_all(terminal: int) -> Iterator[bytes]:
    """Until the other side is closed, which a terminal tells by an error."""
    while True:
        try:
            data = os.read(terminal, 65536)
        except OSError:
            data = b""
        if not data:
            os.close(terminal)
            return
        yield data


def language() -> str:
    """The table of statements."""
    from trackplan.reference import forms

    rows = [f"| `{form.example}` | {form.says} |" for form in forms()]
    return "\n".join(["| statement | says |", "|---|---|", *rows])


PARTS: dict[str, Callable[[], str]] = {
    "language": language,
    "rules": rules,
    "commands": commands,
    "cautions": cautions,
    "finding": finding,
    "proven": proven,
}


def plan(text: str) -> str:
    """The plan that README shows."""
    return next(body for kind, body in BLOCK.findall(text) if kind == "trackplan")


def typed(text: str) -> list[str]:
    """The lines of README that are to be typed."""
    return [line for kind, body in BLOCK.findall(text) if kind == "sh" for line in body.splitlines()]


def renewed(text: str) -> str:
    """The text with every made part as the program tells it now."""
    return PART.sub(lambda found: f"{found[1]}{found[2]}{PARTS[found[1]]()}\n{found[3]}", text)


if __name__ == "__main__":
    sys.path[:0] = [str(TOP / "grammar"), str(TOP / "lint")]
    README.write_text(renewed(README.read_text(encoding="utf-8")), encoding="utf-8")

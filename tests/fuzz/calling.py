"""Every command that asks about one plan, called on its text as a file."""

from __future__ import annotations

import gc
import json
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from io import BytesIO, TextIOWrapper
from pathlib import Path
from random import Random
from xml.etree import ElementTree

from fuzz.running import Target
from railbond.command import main

PLAN = "plan.trackplan"


def command(text: str, *words: str) -> str:
    """What a command writes about a plan, its file being `PLAN` in the call. Its exit status must be 0, 1 or 2."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / PLAN
        path.write_bytes(text.encode("utf-8", "surrogatepass"))
        (Path(folder) / "seen.txt").write_text("dies at T1 through\nruns at west\ntrips main\n")
        arguments = [str(path) if word == PLAN else word.replace("FOLDER", folder) for word in words]
        with captured() as (out, errors):
            status = called(arguments)
        said = errors.getvalue().decode("utf-8", "replace")
        assert status in (0, 1, 2) and "broke off by a fault of its own" not in said, f"exit status {status}: {said}"
        return out.getvalue().decode("utf-8")


def called(arguments: list[str]) -> int:
    thresholds = gc.get_threshold()
    try:
        return main(arguments)
    except SystemExit as end:
        return int(end.code or 0)
    finally:
        gc.set_threshold(*thresholds)


@contextmanager
def captured() -> Iterator[tuple[BytesIO, BytesIO]]:
    """Standard output and standard error as bytes."""
    out, errors = BytesIO(), BytesIO()
    one, other = (TextIOWrapper(at, encoding="utf-8", write_through=True) for at in (out, errors))
    with redirect_stdout(one), redirect_stderr(other):
        yield out, errors
    one.detach()
    other.detach()


def told(text: str, dice: Random) -> None:
    command(text, "inspect", PLAN)


def in_lines(text: str, dice: Random) -> None:
    """One line a finding, and no other."""
    for line in command(text, "inspect", PLAN, "--as", "brief").splitlines():
        assert line.count(": ") >= 2, line
    for line in command(text, "inspect", PLAN, "--as", "annotations").splitlines():
        assert line.startswith(("::error ", "::warning ", "::notice ")), line


def sarif(text: str, dice: Random) -> None:
    json.loads(command(text, "inspect", PLAN, "--as", "sarif"))


def mended(text: str, dice: Random) -> None:
    command(text, "mend", PLAN, "--show")


def accepted(text: str, dice: Random) -> None:
    command(text, "accept", PLAN, "--show")


def wired(text: str, dice: Random) -> None:
    """Whatever is wished for."""
    wishes = [
        *("--frogs", dice.choice(("contacts", "units")), "--drops", dice.choice(("by-distance", "every-piece"))),
        *("--wire", dice.choice(("AWG", "mm2")), "--rebuild", dice.choice(("nothing", "bonds", "cuts"))),
    ]
    command(text, "wire", PLAN, "--show", "--why", *wishes)


def drawn(text: str, dice: Random) -> None:
    picture = command(text, "draw", PLAN)
    if picture:
        ElementTree.fromstring(picture)


def live(text: str, dice: Random) -> None:
    command(text, "draw", PLAN, "-o", "FOLDER/page.html")


def page(text: str, dice: Random) -> None:
    command(text, "meet", PLAN, "--no-cache", "-o", "FOLDER/page.html")


def paper(name: str) -> Target:
    def work(text: str, dice: Random) -> None:
        command(text, name, PLAN, "--as", dice.choice(("text", "csv", "page")))

    return work


def diagnosed(text: str, dice: Random) -> None:
    command(text, "diagnose", PLAN, "FOLDER/seen.txt")


def walked(text: str, dice: Random) -> None:
    """From one name of the plan to another."""
    words = [word for word in text.split() if word[:1].isalpha()] or ["west"]
    command(text, "walk", PLAN, *(dice.choice(words) for _ in range(2)))


def asked(name: str) -> Target:
    def work(text: str, dice: Random) -> None:
        command(text, name, PLAN)

    return work


COMMANDS: dict[str, Target] = {
    "inspect": told,
    "lines": in_lines,
    "sarif": sarif,
    "mend": mended,
    "accept": accepted,
    "wire": wired,
    "draw": drawn,
    "draw page": live,
    "schedule": paper("schedule"),
    "meter": paper("meter"),
    "diagnose": diagnosed,
    "walk": walked,
    "choose": asked("choose"),
    "power": asked("power"),
    "page": page,
}

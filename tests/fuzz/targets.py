"""What is tried: every answer of the program on one text. Each raises where something is wrong with the answer."""

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

from fuzz.editing import EDITOR
from fuzz.running import Target
from railbond.command import main
from railbond.findings import Finding
from railbond.inspection import inspect
from railbond.mend.proving import proven
from railbond.mend.sameness import same_rails
from trackplan.edit import in_text, splice
from trackplan.gather import gather
from trackplan.read import read
from trackplan.span import Source
from trackplan.tidy import TidyError, tidy

PLAN = "plan.trackplan"
BROKE_OFF = "broke off ("


def opened(text: str):  # type: ignore[no-untyped-def]
    """Gives the text of the one plan; there is no other file."""

    def open_text(path: str) -> str:
        if path != PLAN:
            raise FileNotFoundError(2, "No such file", path)
        return text

    return open_text


def reader(text: str, dice: Random) -> None:
    """Every line is answered for, once, at a place in the text."""
    reading = read(Source(PLAN, text))
    spans = sorted(one.at for one in [*reading.statements, *reading.broken])
    assert all(0 <= at.start < at.end <= len(text) for at in spans)
    assert all(one.end <= other.start for one, other in zip(spans, spans[1:], strict=False))


def inspection(text: str, dice: Random) -> None:
    """No rule breaks off, and every fix can be made that is one of the plan as it stands."""
    whole = inspect(gather(PLAN, opened(text)))
    assert not broken_off(whole.findings), broken_off(whole.findings)
    for finding in (one for one, mended in whole.after.items() if not mended):
        for fix in finding.fixes:
            source = whole.sources[PLAN]
            splice(PLAN, text, in_text(source, [one for one in fix.edits if one.at.path == PLAN]))


def mends(text: str, dice: Random) -> None:
    """What is offered as proven can be made, and no rule breaks off on the way."""
    open_text = opened(text)
    whole = proven(PLAN, inspect(gather(PLAN, open_text)), open_text)
    assert not broken_off(whole.findings), broken_off(whole.findings)


def broken_off(findings: list[Finding]) -> list[str]:
    """What is told of rules that broke off."""
    return [one.message for one in findings if BROKE_OFF in one.message]


def tidied(text: str, dice: Random) -> None:
    """The layout says the same, and laid out again it stays."""
    try:
        once = tidy(Source(PLAN, text))
    except TidyError:
        return
    assert tidy(Source(PLAN, once)) == once
    assert same_rails(PLAN, text, once)


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


def sarif(text: str, dice: Random) -> None:
    json.loads(command(text, "inspect", PLAN, "--as", "sarif"))


def mended(text: str, dice: Random) -> None:
    command(text, "mend", PLAN, "--show")


def drawn(text: str, dice: Random) -> None:
    picture = command(text, "draw", PLAN)
    if picture:
        ElementTree.fromstring(picture)


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


TARGETS: dict[str, Target] = {
    "reader": reader,
    "inspection": inspection,
    "mends": mends,
    "tidy": tidied,
    "inspect": told,
    "sarif": sarif,
    "mend": mended,
    "draw": drawn,
    "schedule": paper("schedule"),
    "meter": paper("meter"),
    "diagnose": diagnosed,
    "walk": walked,
    "choose": asked("choose"),
    "power": asked("power"),
    "page": page,
    **EDITOR,
}

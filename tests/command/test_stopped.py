"""Ctrl-C: what is known by then is told, with a word that it is not all, status 130, and no file half written."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from meet.samples import FILES, SOUND
from railbond.command import main
from railbond.mend.overlay import Overlay
from railbond.rules import rule

WORD = "railbond: stopped before the end: there is no whole answer\n"
FAULTY = rule("legs-joined").fails
CALLS = {
    "accept": ["accept", "faulty.trackplan"],
    "choose": ["choose", "a.trackplan"],
    "diagnose": ["diagnose", "a.trackplan", "seen.txt"],
    "draw": ["draw", "a.trackplan", "-o", "out"],
    "inspect": ["inspect", "a.trackplan"],
    "meet": ["meet", "a.trackplan", "--no-cache", "-o", "out"],
    "mend": ["mend", "faulty.trackplan"],
    "meter": ["meter", "a.trackplan", "-o", "out"],
    "power": ["power", "a.trackplan"],
    "schedule": ["schedule", "a.trackplan", "-o", "out"],
    "wire": ["wire", "a.trackplan"],
    "walk": ["walk", "a.trackplan", "lead", "line"],
}


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    Path("a.trackplan").write_text(rule("stalls").passes)
    Path("faulty.trackplan").write_text(FAULTY)
    Path("seen.txt").write_text("silent  main.red and main.black\n")
    return tmp_path


def stop(*anything: object, **more: object) -> None:
    raise KeyboardInterrupt


@pytest.mark.parametrize("name", CALLS)
@pytest.mark.parametrize("at", ["railbond.layout.build.SymbolTable", "railbond.circuit.facts.Facts.graph"])
def test_every_command_ends_with_a_word(
    name: str, at: str, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    monkeypatch.setattr(at, property(stop) if at.endswith("graph") else stop)
    assert main(CALLS[name]) == 130
    said = capsys.readouterr()
    assert said.err == WORD and "Traceback" not in said.out and "proven for" not in said.out
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def after(count: int, whole: Callable[..., object]) -> Callable[..., object]:
    """What is done so often, and then stopped."""
    left = [count]

    def counted(*anything: object, **more: object) -> object:
        left[0] -= 1
        if left[0] < 0:
            raise KeyboardInterrupt
        return whole(*anything, **more)

    return counted


def test_mend_tells_what_was_proven_by_then_and_changes_nothing(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(Overlay, "make", after(0, Overlay.make))
    assert main(["mend", "faulty.trackplan"]) == 130
    said = capsys.readouterr()
    assert "proven by now, and not made: " in said.out and "legs-joined" in said.out
    assert said.out.endswith("Nothing was changed.\n") and said.err == WORD
    assert Path("faulty.trackplan").read_text() == FAULTY


def test_meet_tells_the_plans_that_were_inspected(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name, text in (FILES | {"meet.trackplan": SOUND}).items():
        Path(name).write_text(text)
    monkeypatch.setattr("railbond.meet.examining.grant", stop)
    call = ["meet", "meet.trackplan", "faulty.trackplan", "--no-cache", "-o", "out.html"]
    assert main(call) == 130
    said = capsys.readouterr()
    assert "(rule legs-joined)" in said.out and "the meet" not in said.out
    assert said.err == "railbond: meet.trackplan: was not inspected to its end: it was stopped\n"
    assert not Path("out.html").exists(), "half a report is none"

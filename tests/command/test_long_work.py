"""Long work shows on a terminal that it goes on, in its own line, and leaves nothing behind; elsewhere it is silent."""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from railbond.command import main
from railbond.commands import _working

PLAN = Path(__file__).parents[2] / "example_plans" / "passing_siding.trackplan"
CALLS = {
    "inspect": ["inspect"],
    "draw": ["draw"],
    "walk": ["walk", "west", "east"],
    "meter": ["meter"],
    "mend": ["mend"],
}


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def call(name: str, monkeypatch: pytest.MonkeyPatch, stderr: io.StringIO, patience: float = 0.0) -> str:
    command, *rest = CALLS[name]
    monkeypatch.setattr(_working, "PATIENCE", patience)
    monkeypatch.setattr("sys.stderr", stderr)
    assert main([command, str(PLAN), *rest]) == 0
    return stderr.getvalue()


@pytest.mark.parametrize("name", CALLS)
def test_a_bar_comes_and_goes(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    said = call(name, monkeypatch, Terminal())
    assert "\r[" in said and said.endswith("\r") and not said[said.rindex("\r", 0, -1) :].strip()


@pytest.mark.parametrize("name", CALLS)
def test_short_work_shows_none(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert call(name, monkeypatch, Terminal(), patience=60.0) == ""


@pytest.mark.parametrize("name", CALLS)
def test_nothing_is_written_where_it_is_piped(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    assert call(name, monkeypatch, io.StringIO()) == ""


def test_a_word_in_between_has_its_line_for_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    stderr = Terminal()
    monkeypatch.setattr(_working, "PATIENCE", 0.0)
    monkeypatch.setattr("sys.stderr", stderr)
    with _working.Working("working") as work:
        while not work.shown:
            pass
        _working.clear()
        before = stderr.getvalue()
    assert before.endswith("\r") and not before[before.rindex("\r", 0, -1) :].strip()

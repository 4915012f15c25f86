"""The command line as a whole: which commands there are, help, version, and words that are none."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from railbond import __version__, command


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    try:
        status = command.main(arguments)
    except SystemExit as stop:
        status = int(stop.code or 0)
    return status, *capsys.readouterr()


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert said(capsys, "--version") == (0, f"railbond {__version__}\n", "")


def test_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    status, output, _ = said(capsys, "--help")
    assert status == 0
    assert {"inspect", "rules"} <= set(command.names())
    assert all(f"\n  {name} " in output for name in command.names())
    assert max(map(len, output.splitlines())) <= 80


def test_no_command_is_answered_with_help(capsys: pytest.CaptureFixture[str]) -> None:
    status, output, errors = said(capsys)
    assert (status, output) == (2, "")
    assert "inspect" in errors


def test_a_word_that_is_no_command_is_told_the_near_ones(capsys: pytest.CaptureFixture[str]) -> None:
    status, output, errors = said(capsys, "inspct")
    assert (status, output) == (2, "")
    assert "there is no command 'inspct'; did you mean inspect?" in errors


@pytest.mark.parametrize("word", ["_near", "os", "../x", "é", ""])
def test_only_commands_are_commands(capsys: pytest.CaptureFixture[str], word: str) -> None:
    assert said(capsys, word)[0] == 2


@pytest.mark.parametrize("name", command.names())
def test_every_command_has_help_and_a_summary(capsys: pytest.CaptureFixture[str], name: str) -> None:
    status, output, _ = said(capsys, name, "--help")
    assert status == 0
    assert f"usage: railbond {name} " in output
    assert max(map(len, output.splitlines())) <= 80
    module = command._command(name)
    assert module and module.__doc__


def test_it_runs_as_a_module() -> None:
    roots = {str(Path(sys.modules[name].__file__ or "").parents[1]) for name in ("railbond", "trackplan")}
    done = subprocess.run(
        [sys.executable, "-m", "railbond", "--version"], capture_output=True, text=True, check=False,
        env={"PYTHONPATH": ":".join(roots)},
    )  # fmt: skip
    assert (done.returncode, done.stdout) == (0, f"railbond {__version__}\n")

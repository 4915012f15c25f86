"""The edges of a process: streams that are closed or full, a folder that is gone, names that are none. Every command
answers with one line and status 2; status 1 means that something was found, and nothing else."""

from __future__ import annotations

import os
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from house.files import ROOTS
from railbond import command
from railbond.rules import rule

SOUND = rule("stalls").passes
FAULTY = rule("legs-joined").fails
CALLS = {
    "accept": ["accept", "faulty.trackplan", "--show"],
    "begin": ["begin"],
    "choose": ["choose", "a.trackplan"],
    "completion": ["completion", "bash"],
    "diagnose": ["diagnose", "a.trackplan", "seen.txt"],
    "draw": ["draw", "a.trackplan"],
    "inspect": ["inspect", "a.trackplan"],
    "meet": ["meet", "a.trackplan", "--no-cache"],
    "mend": ["mend", "faulty.trackplan", "--show"],
    "meter": ["meter", "a.trackplan"],
    "power": ["power", "a.trackplan"],
    "rules": ["rules"],
    "schedule": ["schedule", "a.trackplan"],
    "tidy": ["tidy", "a.trackplan", "--show"],
    "wire": ["wire", "a.trackplan"],
    "walk": ["walk", "a.trackplan", "lead", "line"],
}
PAGES = [
    ("schedule", ["--as", "page"]),
    ("meter", ["--as", "page"]),
    ("draw", ["-o", "page.html"]),
    ("meet", ["-o", "page.html"]),
]
"""The commands that make a page, and how it is asked for."""
STREAMS = {
    "closed stdout": ">&-",
    "full stdout": ">/dev/full",
    "closed stderr": "2>&-",
    "full stderr": "2>/dev/full",
    "closed stdin": "<&-",
}


@pytest.fixture(autouse=True)
def folder(tmp_path: Path) -> Path:
    (tmp_path / "a.trackplan").write_text(SOUND.replace("feeder    main", "feeder main"))
    (tmp_path / "faulty.trackplan").write_text(FAULTY)
    (tmp_path / "seen.txt").write_text("silent  main.red and main.black\n")
    return tmp_path


def shell(folder: Path, line: str, **more: str) -> subprocess.CompletedProcess[bytes]:
    paths = os.pathsep.join(map(str, ROOTS.values()))
    env = {**os.environ, "PYTHONPATH": paths, **more}
    return subprocess.run(["/bin/sh", "-c", line], cwd=folder, env=env, capture_output=True, timeout=100)


def railbond(*words: str) -> str:
    return shlex.join([sys.executable, "-m", "railbond", *words])


def is_one_line(done: subprocess.CompletedProcess[bytes]) -> bool:
    return done.returncode == 2 and done.stderr.count(b"\n") == 1 and done.stderr.startswith(b"railbond: ")


def test_every_command_is_called_here() -> None:
    assert CALLS.keys() | {"serve", "show"} == set(command.names())


@pytest.mark.parametrize("name", list(CALLS))
def test_no_stream_makes_a_command_break_off(folder: Path, name: str) -> None:
    """Closed or full: an answer that nobody gets is status 2, and what nobody needs hinders nobody."""
    if not os.path.exists("/dev/full"):
        pytest.skip("there is no device that is always full here")
    known = shell(folder, railbond(*CALLS[name])).returncode
    assert known in (0, 1)
    for what, redirected in STREAMS.items():
        done = shell(folder, f"{railbond(*CALLS[name])} {redirected}")
        assert b"Traceback" not in done.stderr + done.stdout and b"Exception" not in done.stderr, (what, done.stderr)
        assert is_one_line(done) if "stdout" in what else done.returncode in (known, 2), (what, done)


@pytest.mark.parametrize("redirected", [">&-", ">/dev/full"])
def test_a_page_whose_address_nobody_hears_is_not_served(folder: Path, redirected: str) -> None:
    assert is_one_line(shell(folder, f"{railbond('show', 'a.trackplan')} {redirected}"))


@pytest.mark.parametrize("words", [["inspect", "-"], ["serve"]])
def test_a_standard_input_that_is_closed_is_told(folder: Path, words: list[str]) -> None:
    done = shell(folder, f"{railbond(*words)} <&-")
    assert is_one_line(done) and b"standard input is closed" in done.stderr


@pytest.mark.parametrize("words", [["--help"], ["inspect", "--help"], ["--version"]])
def test_help_that_nobody_gets(folder: Path, words: list[str]) -> None:
    assert is_one_line(shell(folder, f"{railbond(*words)} >/dev/full"))


def test_a_finding_is_status_1_even_where_nobody_hears_of_errors(folder: Path) -> None:
    assert shell(folder, f"{railbond('inspect', 'faulty.trackplan')} 2>&-").returncode == 1


@pytest.mark.parametrize("name", [name for name in CALLS if name not in ("rules", "begin", "completion")])
def test_a_folder_that_is_gone(folder: Path, name: str) -> None:
    (folder / "gone").mkdir()
    done = shell(folder / "gone", f"rmdir ../gone; {railbond(*CALLS[name])}")
    assert done.returncode == 2 and b"Traceback" not in done.stderr
    assert done.stderr.count(b"railbond: ") == 1


OF_PLANS = [name for name, words in CALLS.items() if any(word.endswith(".trackplan") for word in words)]
"""The commands that are given a plan."""


@pytest.mark.parametrize("kind", ["module m", "include"])
@pytest.mark.parametrize("name", OF_PLANS)
def test_a_name_that_no_file_can_have(folder: Path, kind: str, name: str) -> None:
    for plan in ("a.trackplan", "faulty.trackplan"):
        (folder / plan).write_bytes(f'{kind} "b\0.trackplan"\n'.encode() + (folder / plan).read_bytes())
    done = shell(folder, railbond(*CALLS[name]))
    answered = done.returncode in (0, 1) and b"railbond: broke" not in done.stderr
    assert (answered or is_one_line(done)) and b"Traceback" not in done.stderr, done.stderr
    assert b"\0" not in done.stdout + done.stderr


@pytest.mark.parametrize(("name", "more"), [*((name, []) for name in OF_PLANS), *PAGES])
def test_a_file_name_that_is_not_utf_8(folder: Path, name: str, more: list[str]) -> None:
    plan = next(word for word in CALLS[name] if word.endswith(".trackplan"))
    os.rename(folder / plan, os.fsencode(folder) + b"/f\xe4ulty.trackplan")
    words = [*CALLS[name], *more]
    line = railbond(*words).replace(plan, "$(printf 'f\\344ulty.trackplan')")
    done = shell(folder, line)
    answered = done.returncode in (0, 1) and b"railbond: broke" not in done.stderr
    assert answered and b"Traceback" not in done.stderr, done.stderr


def test_a_fault_of_the_program_is_one_line_and_no_finding(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("railbond.doorway.inspect", lambda gathered, **more: 1 / 0)
    assert command.main(["inspect", str(folder / "a.trackplan")]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert "broke off by a fault of its own" in line and "ZeroDivisionError" in line
    monkeypatch.setenv(command.TRACE, "1")
    with pytest.raises(ZeroDivisionError):
        command.main(["inspect", str(folder / "a.trackplan")])

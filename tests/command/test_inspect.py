"""`railbond inspect`, from its arguments to its exit status."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from railbond import command, doorway
from railbond.doorway import Opened

SOUND = """\
booster   B1    15 V  5 A
district  main  from B1
segment   west  stop -> stop  1 m
feeder    main -> west
"""
FAULTY = SOUND + "feeder    main -> west  at 10 cm  crossed\n"
BROKEN = SOUND.replace("segment", "sgement")
DEAD = SOUND + "segment   shed  stop -> stop  1 m\n"

Run = tuple[int, str, str]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    """Runs `railbond inspect` in an empty folder: exit status, standard output, standard error."""
    monkeypatch.chdir(tmp_path)

    def inspect(*arguments: str, **files: str | bytes) -> Run:
        for name, content in files.items():
            content = content.encode() if isinstance(content, str) else content
            Path(f"{name}.trackplan").write_bytes(content)
        try:
            status = command.main(["inspect", *arguments])
        except SystemExit as stop:
            status = int(stop.code or 0)
        return status, *capsys.readouterr()

    return inspect


def first_lines(output: str) -> list[str]:
    """Where each finding is."""
    return [line.split(": ")[0] for line in output.splitlines() if "(rule " in line]


def test_a_sound_plan(run) -> None:
    assert run("a.trackplan", a=SOUND) == (
        0,
        "No faults found in 1 plan: proven for every setting of the turnouts.\n"
        "Note: no wire's size or length is told, so voltage drop and tripping were not\n    looked at.\n",
        "",
    )  # fmt: skip


@pytest.mark.parametrize("plan", [FAULTY, BROKEN, DEAD])
def test_a_faulty_plan(run, plan: str) -> None:
    status, output, errors = run("a.trackplan", a=plan)
    assert (status, errors) == (1, "")
    assert output.startswith("a.trackplan:")
    assert "\n1 error in 1 plan." in output


@pytest.mark.parametrize(
    ("worst", "least", "status"),
    [
        ("error", "error", 1), ("warning", "error", 0), ("warning", "warning", 1), ("note", "warning", 0),
        ("note", "note", 1),
    ],
)  # fmt: skip
def test_the_level_that_fails(run, monkeypatch: pytest.MonkeyPatch, worst: str, least: str, status: int) -> None:
    whole = doorway.inspect

    def graded(gathered: object, **how: object) -> object:
        inspection = whole(gathered, **how)
        return inspection._replace(findings=[one._replace(level=worst) for one in inspection.findings])

    monkeypatch.setattr(doorway, "inspect", graded)
    assert run("a.trackplan", "--fail-at", least, a=DEAD)[0] == status


@pytest.mark.parametrize(("worst", "status"), [("warning", 1), ("note", 0)])
def test_warnings_fail_unless_said(run, monkeypatch: pytest.MonkeyPatch, worst: str, status: int) -> None:
    whole = doorway.inspect

    def graded(gathered: object, **how: object) -> object:
        inspection = whole(gathered, **how)
        return inspection._replace(findings=[one._replace(level=worst) for one in inspection.findings])

    monkeypatch.setattr(doorway, "inspect", graded)
    assert run("a.trackplan", a=DEAD)[0] == status


@pytest.mark.parametrize("arguments", [[], ["--as", "pdf", "a"], ["--fail-at", "all", "a"], ["--odd", "a"]])
def test_a_call_that_cannot_be_understood(run, arguments: list[str]) -> None:
    status, output, errors = run(*arguments)
    assert (status, output) == (2, "")
    assert "railbond inspect" in errors


def test_a_file_that_is_not_there_does_not_stop_the_others(run) -> None:
    status, output, errors = run("gone.trackplan", "a.trackplan", a=FAULTY)
    assert status == 2
    assert first_lines(output) and set(first_lines(output)) <= {"a.trackplan:5:1", "a.trackplan:4:1"}
    assert errors == "railbond: gone.trackplan: cannot be read: No such file or directory\n"


def test_what_is_no_plain_file_is_not_read(run) -> None:
    """A device could go on for ever, and so could a pipe that nobody writes to."""
    nothing = os.devnull
    assert run(nothing) == (2, "", f"railbond: {nothing}: cannot be read: not a plain file\n")
    os.mkfifo("pipe.trackplan")
    assert "not a plain file" in run("a.trackplan", a='include "pipe.trackplan"\n')[1]


def test_a_folder_stands_for_the_plans_below_it_by_name(run, tmp_path: Path) -> None:
    for name in ("b/z", "b/a", "c", ".hidden/x", "b/.old/x", ".#a", "a"):
        plan = tmp_path / f"{name}.trackplan"
        plan.parent.mkdir(parents=True, exist_ok=True)
        plan.write_text(DEAD)
    (tmp_path / "notes.txt").write_text("not a plan")
    places = [f"{name}.trackplan:5:1" for name in ("a", "c", "b/a", "b/z")]
    assert first_lines(run(".")[1]) == places
    assert first_lines(run("b", "a.trackplan", "b/a.trackplan")[1]) == [places[2], places[3], places[0]]


def test_a_plan_named_twice_is_inspected_once(run) -> None:
    assert "in 1 plan:" in run("a.trackplan", ".", "./a.trackplan", a=SOUND)[1]


def test_a_folder_without_a_plan(run, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    status, output, errors = run("empty")
    assert (status, output) == (2, "")
    assert "empty: holds no plan" in errors


def test_standard_input_stands_for_a_plan(run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "club").mkdir()
    (tmp_path / "club" / "power.trackplan").write_text("".join(SOUND.splitlines(True)[:2]))
    plan = 'include "power.trackplan"\n' + "".join(DEAD.splitlines(True)[2:])
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(plan.encode())))
    status, output, errors = run("-", "--stands-for", "club/a.trackplan")
    assert (status, first_lines(output), errors) == (1, ["club/a.trackplan:4:1"], "")


def test_standard_input_by_itself(run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(DEAD.encode())))
    assert first_lines(run("-")[1]) == ["-:5:1"]


def test_stands_for_needs_standard_input(run) -> None:
    status, _, errors = run("a.trackplan", "--stands-for", "b.trackplan", a=SOUND)
    assert status == 2
    assert "--stands-for needs -" in errors


def test_text_that_is_not_utf_8_is_told_and_the_rest_is_read(run) -> None:
    status, output, errors = run("a.trackplan", a=DEAD.encode() + "# Größe\n".encode("latin-1"))
    assert (status, first_lines(output)) == (2, ["a.trackplan:5:1"])
    assert errors.startswith("railbond: a.trackplan:6: holds the byte 0xf6, which is not UTF-8")


@pytest.mark.parametrize(("mark", "encoding"), [(b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be")])
def test_two_bytes_a_character_are_told_once_and_the_text_is_read(run, mark: bytes, encoding: str) -> None:
    status, output, errors = run("a.trackplan", a=mark + DEAD.encode(encoding))
    assert (status, first_lines(output)) == (2, ["a.trackplan:5:1"])
    assert errors == "railbond: a.trackplan: is UTF-16, two bytes a character; save the file as UTF-8\n"


def test_a_byte_order_mark_moves_no_column(run) -> None:
    plan = "".join(reversed(DEAD.splitlines(True)))
    assert first_lines(run("a.trackplan", a=b"\xef\xbb\xbf" + plan.encode())[1]) == ["a.trackplan:1:1"]


def test_a_fault_of_a_shared_file_is_told_once(run) -> None:
    shared = 'include "club.trackplan"\n'
    status, output, _ = run("a.trackplan", "b.trackplan", "./club.trackplan", a=shared, b=shared, club=DEAD)
    assert (status, first_lines(output)) == (1, ["club.trackplan:5:1"])
    assert "in 3 plans" in output


def test_a_file_name_cannot_steer_the_terminal(run) -> None:
    assert "\x1b" not in run("\x1b[2J.trackplan")[2]


def test_sarif(run) -> None:
    status, output, errors = run("a.trackplan", "gone.trackplan", "--as", "sarif", a=DEAD)
    (log,) = json.loads(output)["runs"]
    assert status == 2 and "gone" in errors
    assert [one["locations"][0]["physicalLocation"]["region"]["startLine"] for one in log["results"]] == [5]
    assert log["invocations"][0]["executionSuccessful"] is False


def test_a_caution_is_told_once_where_a_finding_touches_it(run) -> None:
    output = run("a.trackplan", "b.trackplan", a=FAULTY, b=FAULTY)[1]
    told = output.split("Take care: ")[1:]
    assert len(told) > 1 and len({part[:40] for part in told}) == len(told)
    assert "Take care:" not in run("c.trackplan", c=BROKEN)[1]


def python(*arguments: str, **given: object) -> subprocess.CompletedProcess[bytes]:
    paths = os.pathsep.join(path for path in sys.path if path)
    environment = {**os.environ, "PYTHONPATH": paths, **given.pop("environment", {})}  # type: ignore[dict-item]
    return subprocess.run([sys.executable, *arguments], capture_output=True, env=environment, **given)  # type: ignore[call-overload]


def test_a_reader_that_goes_away_ends_it_quietly(tmp_path: Path) -> None:
    (tmp_path / "a.trackplan").write_text(SOUND + "".join(f"segment s{n} stop -> stop 1 m\n" for n in range(400)))
    started = subprocess.Popen(
        [sys.executable, "-m", "railbond", "inspect", "--each", "a.trackplan"],
        cwd=tmp_path, env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    assert started.stdout and started.stderr
    started.stdout.readline()
    started.stdout.close()
    assert started.stderr.read() == b""
    assert started.wait() == 141


def test_ctrl_c_ends_it_with_a_word(run, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(gathered: object, **more: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(doorway, "inspect", interrupted)
    assert run("a.trackplan", a=SOUND) == (130, "", "railbond: stopped before the end: there is no whole answer\n")


def test_ctrl_c_tells_what_is_known_by_then(run, monkeypatch: pytest.MonkeyPatch) -> None:
    """The plans that were inspected; of one whose mends were being tried, its findings; and that this is not all."""

    def stopped(*anything: object, **more: object) -> None:
        raise KeyboardInterrupt

    for trial in ("_in_head", "_again"):
        monkeypatch.setattr(Opened, trial, stopped)
    status, out, errors = run("b.trackplan", b=FAULTY)
    assert status == 130 and "b.trackplan:5:1: error: short" in out and "not tried" in out
    assert errors == "railbond: b.trackplan: was not inspected to its end: it was stopped\n"
    status, out, errors = run("a.trackplan", "b.trackplan", "c.trackplan", "--no-cache", a=SOUND, c=SOUND)
    assert status == 130 and out.startswith("Not proven")
    assert [line.split(": ")[1] for line in errors.splitlines()] == ["b.trackplan", "c.trackplan"]


def test_a_terminal_without_the_characters_of_a_plan(tmp_path: Path) -> None:
    (tmp_path / "a.trackplan").write_text(DEAD.replace("shed", "größe"), encoding="utf-8")
    done = python("-m", "railbond", "inspect", "a.trackplan", cwd=tmp_path, environment={"PYTHONIOENCODING": "ascii"})
    assert done.returncode == 1
    assert b"gr\\xf6\\xdfe" in done.stdout


@pytest.mark.parametrize("text", ["", "\n", "# to be written\n\n  # soon\n"])
def test_an_empty_plan_is_not_called_proven(text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = tmp_path / "lost.trackplan"
    plan.write_text(text)
    assert command.main(["inspect", str(plan)]) == 0
    assert capsys.readouterr().out == "Nothing is proven of 1 plan: no line in it says anything.\n"
    (tmp_path / "yard.trackplan").write_text(SOUND)
    assert command.main(["inspect", str(tmp_path), "--no-cache"]) == 0
    told = capsys.readouterr().out
    assert " in 1 plan: proven for every setting" in told and "Nothing is proven of 1 plan:" in told

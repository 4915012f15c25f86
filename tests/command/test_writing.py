"""What `-o` writes: whole or not at all, and never over a plan or what was read."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from railbond.command import main
from railbond.rules import rule

PLAN = rule("stalls").passes
WRITERS = (
    ("draw", "a.trackplan"),
    ("meter", "a.trackplan"),
    ("meter", "a.trackplan", "--as", "csv"),
    ("schedule", "a.trackplan"),
    ("schedule", "a.trackplan", "--as", "page"),
    ("meet", "a.trackplan", "--no-cache"),
)


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "a.trackplan").write_text('include "shared.trackplan"\n' + PLAN.split("\n", 1)[1])
    (tmp_path / "shared.trackplan").write_text(PLAN.split("\n", 1)[0] + "\n")
    return tmp_path


def held() -> dict[str, bytes]:
    return {name: Path(name).read_bytes() for name in sorted(os.listdir()) if os.path.exists(name)}


@pytest.mark.parametrize("words", WRITERS, ids=" ".join)
def test_an_answer_is_written_whole_and_leaves_nothing_beside(words: tuple[str, ...]) -> None:
    Path("answer").write_text("an older answer")
    assert main([*words, "-o", "answer"]) == 0
    assert Path("answer").stat().st_size > 200
    assert sorted(os.listdir()) == ["a.trackplan", "answer", "shared.trackplan"]


@pytest.mark.parametrize("words", WRITERS, ids=" ".join)
@pytest.mark.parametrize(
    "out",
    [
        "a.trackplan",
        "shared.trackplan",
        "new.trackplan",
        "OLD.TRACKPLAN",
        "./shared.trackplan",
        "link",
        "hard",
        "far",
        "no",
    ],
)
def test_a_plan_is_never_written_over(words: tuple[str, ...], out: str, capsys: pytest.CaptureFixture[str]) -> None:
    Path("unread.trackplan").write_text(PLAN)
    for name, there in {"link": "a.trackplan", "far": "unread.trackplan", "no": "nowhere.trackplan"}.items():
        os.symlink(there, name)
    os.link("shared.trackplan", "hard")
    before = held()
    assert main([*words, "-o", out]) == 2
    assert held() == before
    assert f"railbond: {out}: cannot be written: is a plan, or a file that was read" in capsys.readouterr().err


@pytest.mark.parametrize("words", WRITERS, ids=" ".join)
def test_a_full_disk_leaves_what_was_there(words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    Path("answer").write_text("an older answer")
    before = held()

    def full(number: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    assert main([*words, "-o", "answer"]) == 2
    assert held() == before


def test_wiring_that_could_not_be_written_is_not_told_as_written(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    Path("bare.trackplan").write_text("scale HO\nbooster B1 15 V 5 A\nsegment s stop -> stop 2 m\n")
    before = held()
    monkeypatch.setattr(os, "access", lambda path, mode: False)
    assert main(["wire", "bare.trackplan"]) == 2
    told = capsys.readouterr()
    assert "written" not in told.out and "Nothing was changed." in told.out
    assert "bare.trackplan: cannot be written: is write-protected" in told.err
    assert held() == before


@pytest.mark.parametrize("text", [b'plan "\xff"\n', b'include "part.trackplan"\n'])
def test_of_what_cannot_be_read_nothing_is_said_to_be_there(text: bytes, capsys: pytest.CaptureFixture[str]) -> None:
    Path("odd.trackplan").write_bytes(text)
    Path("part.trackplan").write_bytes(b"\xff\n")
    assert main(["wire", "odd.trackplan"]) == 2
    said = capsys.readouterr()
    assert "nothing is missing" not in said.out and "0xff" in said.err


def test_what_an_earlier_run_left_is_in_nobodys_way() -> None:
    left = Path(f".railbond-{os.getpid()}-0.new")
    left.write_text("half of it")
    assert main(["draw", "a.trackplan", "-o", "answer.svg"]) == 0
    assert left.read_text() == "half of it"


@pytest.mark.parametrize(
    ("out", "why"), [("shut", "is write-protected"), ("down", "is a folder"), ("no/x", "No such file")]
)
def test_why_it_cannot_be_written_is_one_line(out: str, why: str, capsys: pytest.CaptureFixture[str]) -> None:
    Path("down").mkdir()
    Path("shut").write_text("kept")
    Path("shut").chmod(0o444)
    if out == "shut" and os.access("shut", os.W_OK):
        pytest.skip("root may write everywhere")
    assert main(["draw", "a.trackplan", "-o", out]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith(f"railbond: {out}: cannot be written: {why}")


def test_a_symbolic_link_goes_on_pointing_to_what_is_written() -> None:
    Path("down").mkdir()
    os.symlink("down/answer.svg", "answer.svg")
    assert main(["draw", "a.trackplan", "-o", "answer.svg"]) == 0
    assert os.readlink("answer.svg") == "down/answer.svg" and Path("down/answer.svg").read_text().startswith("<svg")


def test_a_device_is_written_to_as_it_is(capfd: pytest.CaptureFixture[str]) -> None:
    if not os.path.exists("/dev/stdout"):
        pytest.skip("there is no such device here")
    assert main(["draw", "a.trackplan", "-o", "/dev/null"]) == 0
    assert os.path.exists("/dev/null") and not os.path.isfile("/dev/null")


def test_attributes_and_mode_are_kept_and_lost_names_told(capsys: pytest.CaptureFixture[str]) -> None:
    plan = Path("b.trackplan")
    plan.write_text(PLAN.replace("feeder    main", "feeder main"))
    plan.chmod(0o640)
    try:
        os.setxattr(plan, "user.club", b"Pell River")
    except (OSError, AttributeError):
        pytest.skip("this file system has no extended attributes")
    os.link(plan, "other")
    assert main(["tidy", "b.trackplan"]) == 0
    assert os.getxattr(plan, "user.club") == b"Pell River" and plan.stat().st_mode & 0o777 == 0o640
    assert "b.trackplan: 1 other name of this file (hard links) still lead to the old text" in capsys.readouterr().err

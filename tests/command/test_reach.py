"""Where strangers' plans are inspected: what a plan includes or couples stays below the folder of its repository, or
below its own, and nothing else is read out or written to."""

from __future__ import annotations

from pathlib import Path

import pytest

from railbond.command import main

SHARED = "booster  B1    15 V  5 A\ndistrict main  from B1  trips 4 A\n"
TRACK = "segment  line  stop -> stop  1 m\nfeeder   main -> line\n"
SECRET = "root:x:0:0:secret words\n"


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "strange").mkdir()
    (tmp_path / "shared.trackplan").write_text(SHARED)
    (tmp_path / "passwords").write_text(SECRET)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def told(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    status = main([*words])
    return status, "".join(capsys.readouterr())


@pytest.mark.parametrize(
    "words", [["inspect"], ["inspect", "--as", "sarif"], ["meet", "--no-cache"], ["mend"], ["draw"]]
)
@pytest.mark.parametrize("kind", ["include", "module m"])
@pytest.mark.parametrize("file", ["../passwords", "{}/passwords", "link.trackplan", "../other.trackplan"])
def test_no_word_of_what_lies_outside_is_told(
    folder: Path, capsys: pytest.CaptureFixture[str], words: list[str], kind: str, file: str
) -> None:
    Path("other.trackplan").write_text(SECRET)
    Path("strange/link.trackplan").symlink_to(folder / "passwords")
    Path("strange/plan.trackplan").write_text(f'{kind} "{file.format(folder)}"\n{SHARED}{TRACK}')
    status, text = told(capsys, *words, "strange/plan.trackplan")
    assert "secret" not in text and "root:" not in text
    if words == ["inspect"]:
        assert status == 1 and "strange/plan.trackplan:1:" in text and "cannot be read" in text


def test_why_and_what_allows_it_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    Path("strange/plan.trackplan").write_text(f'include "../shared.trackplan"\n{TRACK}')
    status, text = told(capsys, "inspect", "strange/plan.trackplan")
    assert status == 1 and "lies outside of" in text and "--reach FOLDER allows more" in text
    assert told(capsys, "inspect", "strange/plan.trackplan", "--reach", ".")[0] == 0


@pytest.mark.parametrize("words", [["meet", "--no-cache"], ["meet"], ["draw"], ["schedule"], ["walk", "line", "line"]])
def test_every_command_has_its_reach(capsys: pytest.CaptureFixture[str], words: list[str]) -> None:
    Path("strange/plan.trackplan").write_text(f'include "../shared.trackplan"\n{TRACK}')
    call = [words[0], "strange/plan.trackplan", *words[1:]]
    assert "faults of the plan" in told(capsys, *call)[1] or words[0] in ("meet", "draw")
    status, text = told(capsys, *call, "--reach", ".")
    assert "outside" not in text and "faults of the plan" not in text


def test_nothing_of_what_does_not_read_is_repeated_from_elsewhere(capsys: pytest.CaptureFixture[str]) -> None:
    """Even where it is within reach: only its line is told."""
    Path("shared.trackplan").write_text(SHARED + "segment secret words\n")
    Path("strange/plan.trackplan").write_text(f'include "../shared.trackplan"\n{TRACK}segment mine own\n')
    for face in ("text", "sarif"):
        status, text = told(capsys, "inspect", "strange/plan.trackplan", "--reach", ".", "--as", face)
        assert status == 1 and "secret" not in text and "from elsewhere cannot be read" in text
    assert '"startLine": 3' in text, "the line is told"


def test_a_repository_reaches_to_its_top(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / ".git").mkdir()
    Path("strange/plan.trackplan").write_text(f'include "../shared.trackplan"\n{TRACK}')
    assert told(capsys, "inspect", "strange/plan.trackplan")[0] == 0


def test_a_folder_that_was_named_is_within_reach(capsys: pytest.CaptureFixture[str]) -> None:
    Path("strange/plan.trackplan").write_text(f'include "../shared.trackplan"\n{TRACK}')
    assert told(capsys, "inspect", ".", "--fail-at", "error")[0] == 0


def test_a_link_in_a_folder_that_leads_out_is_not_followed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("strange/plan.trackplan").write_text(SHARED + TRACK)
    Path("strange/link.trackplan").symlink_to(folder / "passwords")
    status, text = told(capsys, "inspect", "strange")
    assert status == 2 and "secret" not in text and "strange/link.trackplan: cannot be read" in text


def test_a_mend_writes_nothing_outside(capsys: pytest.CaptureFixture[str]) -> None:
    faulty = "segment  dead  stop -> stop  1 m\n"
    Path("other.trackplan").write_text(faulty)
    Path("strange/plan.trackplan").write_text(f'include "../other.trackplan"\n{SHARED}{TRACK}')
    told(capsys, "mend", "strange/plan.trackplan", "--rule", "unfed-rail")
    assert Path("other.trackplan").read_text() == faulty

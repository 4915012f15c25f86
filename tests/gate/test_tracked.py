"""What is looked at in a repository: what git tracks, as it is staged."""

from __future__ import annotations

from pathlib import Path

import pytest

from gate.club import FAULTY, SHARED, SOUND, git
from needs import program
from railbond.command import main
from railbond.tracked import tracked_here


@pytest.fixture
def club(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    program("git")
    git(tmp_path, "init", "-q")
    (tmp_path / "plans").mkdir()
    write(tmp_path, club=SHARED, **{"plans/mill": SOUND.replace("club.", "../club."), "quarry": SOUND})
    commit(tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def write(folder: Path, **texts: str) -> None:
    for name, text in texts.items():
        (folder / f"{name}.trackplan").write_text(text)


def commit(folder: Path) -> None:
    git(folder, "add", "-A")
    git(folder, "commit", "-q", "-m", "plans")


def told(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    status = main(["inspect", *words])
    return status, "".join(capsys.readouterr())


def test_without_a_path_all_that_is_tracked_is_meant(club: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """From any folder; what others include within them, and no draft."""
    write(club, draft=FAULTY)
    status, text = told(capsys)
    assert status == 0 and "in 2 plans" in text
    write(club, **{"plans/mill": FAULTY.replace("club.", "../club.")})
    assert told(capsys)[0] == 1, "as it is on disk"


def test_from_below_the_top(club: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(club / "plans")
    write(club, quarry=FAULTY)
    status, text = told(capsys)
    assert status == 1 and "../quarry.trackplan:6:1: error" in text
    here = tracked_here()
    assert here and set(here.plans) == {"../club.trackplan", "../quarry.trackplan", "mill.trackplan"}


def test_without_a_path_and_a_repository_a_path_is_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path.parent))
    status, text = told(capsys)
    assert status == 2 and "expected a plan or a folder" in text


def test_dependents_are_read_as_staged(club: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Somebody else's change that is not in the commit neither refuses nor helps it."""
    write(club, quarry=FAULTY)
    assert told(capsys, "--dependents", "club.trackplan")[0] == 0
    git(club, "add", "quarry.trackplan")
    write(club, quarry=SOUND)
    status, text = told(capsys, "--dependents", "club.trackplan")
    assert status == 1 and "quarry.trackplan:6:1: error" in text


def test_a_plan_whose_file_is_gone_is_looked_at_whatever_was_changed(
    club: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    git(club, "mv", "club.trackplan", "power.trackplan")
    for paths in ([], ["power.trackplan"]):
        status, text = told(capsys, "--dependents", *paths)
        assert status == 1 and "quarry.trackplan:1:10: error" in text and "plans/mill.trackplan:1:10: error" in text


def test_where_nothing_is_changed_or_gone_nothing_is_inspected(club: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(club, quarry=FAULTY)
    commit(club)
    assert told(capsys, "--dependents") == (0, "")


def test_a_module_that_is_gone_is_a_finding_of_the_meet(club: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(club, meet='module a "quarry.trackplan"\nmodule b "mill.trackplan"\n')
    commit(club)
    status, text = told(capsys, "--dependents")
    assert status == 1 and "meet.trackplan:2:" in text and "there is no file `mill.trackplan`" in text


def test_mend_leaves_drafts_alone_and_names_what_it_changes(club: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(club, quarry=FAULTY)
    commit(club)
    write(club, draft=FAULTY)
    assert main(["mend", "--dependents", "club.trackplan"]) == 0
    out = capsys.readouterr().out
    assert "changed: quarry.trackplan\n1 file changed." in out
    assert (club / "draft.trackplan").read_text() == FAULTY and "crossed" not in (club / "quarry.trackplan").read_text()


def test_what_could_not_be_written_is_neither_mended_nor_proven(
    club: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    write(club, quarry=FAULTY)
    monkeypatch.setattr("os.access", lambda path, mode: False)
    assert main(["mend", "quarry.trackplan"]) == 2
    caught = capsys.readouterr()
    assert "mended" not in caught.out and "No faults found" not in caught.out and "Not proven: 1 file" in caught.out
    assert caught.err == "railbond: quarry.trackplan: cannot be written: is write-protected\n"


@pytest.mark.parametrize("words", [["inspect"], ["mend"], ["tidy"]])
def test_what_could_not_be_read_is_not_proven(club: Path, capsys: pytest.CaptureFixture[str], words: list[str]) -> None:
    (club / "odd.trackplan").write_bytes(SOUND.encode() + b"# gr\xf6\xdfe\n")
    (club / "power.trackplan").write_bytes(SHARED.encode() + b"# gr\xf6\xdfe\n")
    write(club, mill=SOUND.replace("club.", "power."))
    for name in ("odd", "mill") if words != ["tidy"] else ("odd",):
        assert main([*words, f"{name}.trackplan"]) == 2
        caught = capsys.readouterr()
        assert "No faults" not in caught.out and "proven for" not in caught.out and "tidy" not in caught.out
        assert "not UTF-8" in caught.err

"""Which plans are inspected where some files have changed."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

import pytest

from editor.documents import YARD
from gate.club import FAULTY, SHARED, SOUND
from railbond.command import main
from railbond.commands import _dependents
from railbond.dependents import NONE, Uses, roots, uses

MEET = 'module a "yard.trackplan"\nmodule b "plans/east.trackplan"\ncouple a.W -> b.W\n'


def touched(paths: list[str]) -> list[str]:
    return _dependents.touched(Namespace(reach=[]), paths).plans


@pytest.fixture
def club(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "plans").mkdir()
    texts = {
        "club": SHARED,
        "plans/mill": SOUND.replace("club.", "../club."),
        "yard": YARD,
        "plans/east": YARD,
        "meet": MEET,
    }
    for name, text in texts.items():
        (tmp_path / f"{name}.trackplan").write_text(text)
    return tmp_path


def test_an_included_file_is_inspected_within_those_that_include_it(club: Path) -> None:
    assert touched(["club.trackplan"]) == ["plans/mill.trackplan"]
    assert touched([str(club / "club.trackplan")]) == ["plans/mill.trackplan"]
    assert touched(["plans/mill.trackplan"]) == ["plans/mill.trackplan"]


def test_a_coupled_plan_is_inspected_by_itself_and_within_the_meet(club: Path) -> None:
    assert touched(["plans/east.trackplan"]) == ["plans/east.trackplan", "meet.trackplan"]
    assert touched(["meet.trackplan"]) == ["meet.trackplan"]


def test_the_command_tells_what_a_change_does_to_others(club: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["inspect", "--dependents", "club.trackplan"]) == 0
    (club / "club.trackplan").write_text(SHARED.replace("main", "mane"))
    assert main(["inspect", "--dependents", "club.trackplan"]) == 1
    assert "plans/mill.trackplan:5:10: error" in capsys.readouterr().out


def test_the_command_tells_what_a_change_does_to_a_meet(club: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["inspect", "yard.trackplan"]) == 0
    assert main(["inspect", "--dependents", "yard.trackplan"]) == 1
    assert "meet.trackplan:3:1: error: short: " in capsys.readouterr().out


def test_a_plan_that_cannot_be_read_is_no_hindrance_to_the_others(club: Path) -> None:
    (club / "odd.trackplan").symlink_to("nowhere")
    assert touched(["club.trackplan"]) == ["plans/mill.trackplan"]


def test_what_a_text_uses() -> None:
    text = 'include "club.trackplan"\n# include "no.trackplan"\nmodule a\n  "../a.trackplan"\nincluded "x"\n'
    assert uses("plans/mill.trackplan", text) == Uses(frozenset({"plans/club.trackplan"}), frozenset({"a.trackplan"}))
    assert uses("mill.trackplan", FAULTY.replace("include ", "# include ")) == NONE


def test_files_that_include_each_other_are_inspected_all_the_same() -> None:
    circle = {"a": Uses(frozenset({"b"}), frozenset()), "b": Uses(frozenset({"a"}), frozenset())}
    assert set(roots(["a"], circle)) == {"a", "b"}

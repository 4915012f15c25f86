"""`railbond meet` from its arguments to its exit status, and `railbond draw`."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from meet.samples import COUPLES, FILES, SOUND
from railbond.command import main

EXAMPLE = Path(__file__).parents[2] / "example_plans" / "meet"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    (tmp_path / "plans").mkdir()
    monkeypatch.chdir(tmp_path / "plans")
    for name, text in (FILES | {"meet.trackplan": SOUND}).items():
        Path(name).write_text(text)
    return tmp_path


def test_a_sound_meet_is_0_and_a_faulty_one_1(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["meet", "."]) == 0
    Path("meet.trackplan").write_text(SOUND.replace("loop.plug", "loop.plug crossed"))
    assert main(["meet", "."]) == 1
    out = capsys.readouterr().out
    assert "For the meet" in out and "(rule legs-joined)" in out
    assert [line.split()[:2] for line in out.partition("Note:")[0].splitlines()[-5:]] == [
        ["the", "meet"], ["town", "runs"], ["one", "runs"], ["two", "runs"], ["loop", "runs"],
    ]  # fmt: skip
    assert "Note: no wire's size or length is told" in out, "what was not looked at is told of a meet too"


def test_an_owner_of_both_modules_is_told_once(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where they do not fit; two owners are told each."""
    turned = SOUND.replace("one.E -> two.W", "one.E -> two.E").replace("two.E -> loop.W", "two.W -> loop.W")
    told = []
    for owner in ("Bo", "Ann"):
        owned = turned.replace('one "straight.trackplan"', 'one "straight.trackplan" owner "Bo"')
        owned = owned.replace('two "straight.trackplan"', f'two "straight.trackplan" owner "{owner}"')
        Path("meet.trackplan").write_text(owned)
        assert main(["meet", ".", "-o", "../report.html"]) == 1
        page = Path("../report.html").read_text()
        told.append((capsys.readouterr().out.count("do not fit as they are coupled"), page.count("one and two<")))
    assert told == [(1, 1), (2, 0)]


def test_one_broken_file_stops_none_of_the_others(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("odd.trackplan").write_bytes(b"\xff\xfe\x00")
    assert main(["meet", "."]) == 2
    caught = capsys.readouterr()
    assert "odd.trackplan" in caught.err and "town" in caught.out


def test_modules_can_be_left_out(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["meet", ".", "--without", "loop"]) == 0
    assert "loop" not in capsys.readouterr().out
    assert main(["meet", ".", "--without", "lop"]) == 2
    assert "did you mean loop?" in capsys.readouterr().err


def test_a_wish_that_cannot_be_granted_is_1(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = SOUND.replace(COUPLES, "") + "any order of one two between town and loop\n"
    Path("meet.trackplan").write_text(text)
    assert main(["meet", "."]) == 0
    assert "This order has no finding: couple town.E -> one.W" in capsys.readouterr().out
    Path("straight.trackplan").write_text(FILES["straight.trackplan"].replace("E left red", "E left black"))
    assert main(["meet", ".", "--fail-at", "error"]) == 1
    assert "No order fits: all 8 were looked at" in capsys.readouterr().out


def test_sarif_of_the_whole(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("meet.trackplan").write_text(SOUND.replace("loop.plug", "loop.plug crossed"))
    main(["meet", ".", "--as", "sarif"])
    (run,) = json.loads(capsys.readouterr().out)["runs"]
    assert ("legs-joined", "meet.trackplan") in {
        (one["ruleId"], one["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]) for one in run["results"]
    }


def test_the_example_has_its_three_faults(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(EXAMPLE)
    assert main(["meet", ".", "--no-cache"]) == 1
    out = capsys.readouterr().out
    assert out == (EXAMPLE / "spring_meet.report").read_text(encoding="utf-8")
    assert [out.count(f"(rule {rule})") for rule in ("meet-reverses", "legs-joined", "endplate-crossed")] == [1, 1, 1]
    assert out.count("(rule ") - out.count("(rule set-against)") == 3


def test_draw_writes_a_picture(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["draw", "loop.trackplan", "-o", "loop.svg", "--setting", "T1 diverging"]) == 0
    root = ET.parse("loop.svg").getroot()
    assert "T1 thrown" in "".join(root.itertext())
    assert main(["draw", "meet.trackplan"]) == 0
    assert "town" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("setting", "words"),
    [
        ("T2 diverging", "there is no turnout 'T2'"),
        ("T1 sideways", "T1 can be set through or diverging, not 'sideways'"),
        ("T1", "expected a turnout and its route"),
        ("", "expected a turnout and its route"),
    ],
)
def test_a_setting_that_cannot_be_is_2(
    folder: Path, capsys: pytest.CaptureFixture[str], setting: str, words: str
) -> None:
    assert main(["draw", "loop.trackplan", "--setting", setting]) == 2
    assert words in capsys.readouterr().err


def test_a_picture_that_cannot_be_written_is_2(folder: Path) -> None:
    assert main(["draw", "loop.trackplan", "-o", "no/such/folder.svg"]) == 2


def test_inspect_looks_at_a_meet_as_a_whole(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("meet.trackplan").write_text(SOUND.replace("loop.plug", "loop.plug crossed"))
    assert main(["inspect", "meet.trackplan"]) == 1
    assert "(rule legs-joined)" in capsys.readouterr().out


def test_a_terminal_sees_how_far_it_is(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    main(["meet", "."])
    err = capsys.readouterr().err
    assert "1 of 3 plans" in err and err.endswith(f"[{'#' * 30}] 3 of 3 plans\n")


def test_a_pipe_sees_no_progress(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["meet", "."])
    assert capsys.readouterr().err == ""


def test_what_a_module_leaves_out_is_told_with_every_answer(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A module that is coupled twice is missing its lines once."""
    lost = 'include "gone.trackplan"\nsegment\n'
    Path("straight.trackplan").write_text(lost + FILES["straight.trackplan"])
    for name in ("power", "meter", "schedule", "choose"):
        assert main([name, "meet.trackplan"]) == 0
        assert "meet.trackplan: 2 faults of the plan stand in the way" in capsys.readouterr().err


def test_what_was_mended_was_tried_by_that(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["mend", str(EXAMPLE / "spring_meet.trackplan"), "--show"]) == 1
    told = [line for line in capsys.readouterr().err.splitlines() if line.startswith("mended:")]
    assert told and not any("not tried" in line for line in told)


@pytest.mark.parametrize(
    "words", [["meet", "."], ["inspect", "."], ["draw", "meet.trackplan"], ["mend", "meet.trackplan"]]
)
def test_a_missing_include_of_a_module_stops_nothing(
    folder: Path, capsys: pytest.CaptureFixture[str], words: list[str]
) -> None:
    """What there is is inspected, with its mends, and the missing file told at its line."""
    Path("straight.trackplan").write_text('include "gone.trackplan"\n' + FILES["straight.trackplan"])
    status = main(words)
    out, errors = capsys.readouterr()
    assert status in (0, 1) and not errors
    if words[1] == ".":
        assert "straight.trackplan:1:9: error: there is no file `gone.trackplan`" in out

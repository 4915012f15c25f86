"""`railbond walk` and `railbond choose`."""

from __future__ import annotations

from pathlib import Path

import pytest

from railbond import command
from running.plans import POWER

BALLOON = (
    POWER
    + """\
reverser R1    in main
segment  yard  stop -> T1.points            90 cm
turnout  T1    left   number 6  isolated-frog  dead 28 mm
segment  loop  T1.through -> T1.diverging   3 m
segment  shed  stop -> stop                 50 cm
frog     T1    unpowered because "engines are long"
gap      T1.through    both rails
gap      T1.diverging  both rails
feeder   main -> yard
feeder   main -> shed
feeder   R1 -> loop
engine   short  left 0 18 mm  right 0 18 mm  0.3 A
engine   long   left 0 60 mm  right 0 60 mm  0.3 A
"""
)


@pytest.fixture
def plan(tmp_path: Path) -> str:
    path = tmp_path / "balloon.trackplan"
    path.write_text(BALLOON)
    return str(path)


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    try:
        status = command.main(list(arguments))
    except SystemExit as stop:
        status = int(stop.code or 0)
    return status, *capsys.readouterr()


def test_walk_tells_the_points_the_rails_and_the_stalls(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, output, errors = said(capsys, "walk", plan, "yard", "loop", "yard", "--turned")
    assert (status, errors) == (0, "")
    lines = [line.strip() for line in output.splitlines()]
    assert lines[0] == "yard to loop to yard: 5.33 m of track, no reversing; the train comes back facing the other way"
    assert lines[1].split() == ["set", "T1", "straight"]
    assert lines[2].split() == ["set", "T1", "thrown", "while", "the", "train", "is", "on", "loop"]
    assert "left rail dead for 28 mm" in output
    assert "R1 turns its polarity under the train" in output
    assert output.count("short stalls at") == 2 and "long runs it without a stall" in output


def test_walk_says_what_each_rail_carries(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    """From the yard the loop's rails are R1's; coming back the other way round, left and right have swapped."""
    _, output, _ = said(capsys, "walk", plan, "yard", "loop", "yard")
    assert "main.red" in output and "R1.red" in output
    first, last = output.splitlines()[5], next(line for line in reversed(output.splitlines()) if "yard" in line)
    assert first.index("main.red") < first.index("main.black")
    assert last.index("main.black") < last.index("main.red")


def test_walk_of_one_engine_only(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    _, output, _ = said(capsys, "walk", plan, "yard", "loop", "--engine", "long")
    assert "long runs it" in output and "short stalls" not in output


def test_walk_tells_every_run(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    _, output, _ = said(capsys, "walk", plan, "yard", "loop", "--all")
    assert output.count("yard to loop") == 2


def test_walk_finds_no_way(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, output, _ = said(capsys, "walk", plan, "yard", "shed")
    assert status == 1 and output == "No run without reversing leads from yard to shed.\n"


def test_walk_tells_whether_reversing_would_help(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "spur.trackplan"
    path.write_text(POWER + "segment a stop -> J 1 m\nsegment b J -> stop 1 m\nfeeder main -> a\nfeeder main -> b\n")
    status, output, _ = said(capsys, "walk", str(path), "a", "b", "a")
    assert status == 1 and "With --reversing there is one that reverses 1 time." in output
    status, output, _ = said(capsys, "walk", str(path), "a", "b", "a", "--reversing")
    assert status == 0 and "reversing on b" in output and "the train stops and goes back" in output


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("yard", "lop"), "did you mean loop?"),
        (("yard",), "at least two places"),
        (("yard", "loop", "--engine", "shrt"), "did you mean short?"),
    ],
)
def test_walk_refuses_what_it_does_not_know(
    plan: str, capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], words: str
) -> None:
    status, _, errors = said(capsys, "walk", plan, *arguments)
    assert status == 2 and words in errors


def test_ends_joints_and_endplates_are_places(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "module.trackplan"
    track = "endplate W\nendplate E\nsegment a W -> J 1 m\nsegment b J -> E 1 m\n"
    path.write_text(POWER + track + "feeder main -> a\nfeeder main -> b\n")
    for one, other in (("W", "E"), ("W", "J"), ("a.start", "b.finish")):
        assert said(capsys, "walk", str(path), one, other)[0] == 0


def test_a_file_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("walk", "choose"):
        status, _, errors = said(capsys, name, "nowhere.trackplan", *(("a", "b") if name == "walk" else ()))
        assert status == 2 and "nowhere.trackplan" in errors


def test_choose_tells_what_decides(plan: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, output, _ = said(capsys, "choose", plan)
    assert status == 1
    (row,) = [line for line in output.splitlines() if line.startswith("T1")]
    assert "28 mm" in row and "fed only" in row and "short would stall for 10 mm" in row
    assert "0.15 mm (0.006 in)" in output


def test_choose_without_engines_asks_for_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bare.trackplan"
    path.write_text(POWER + "segment a stop -> stop 1 m\nfeeder main -> a\n")
    status, output, _ = said(capsys, "choose", str(path))
    assert status == 0 and "engine  switcher" in output


def test_choices_hold_together(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Points to points, either frog may be dead, but not both: the first may, and the second must then be fed."""
    track = (
        "segment a stop -> T1.through 1 m", "segment b stop -> T1.diverging 1 m", "joint T1.points -> T2.points",
        "turnout T1 left number 6 isolated-frog dead 28 mm", "turnout T2 left number 6 isolated-frog dead 28 mm",
        "segment c T2.through -> stop 1 m", "segment d T2.diverging -> stop 1 m",
        "frog T1 switched from stock rails", "frog T2 switched from stock rails",
        *(f"feeder main -> {one}" for one in "abcd"), "engine e left 0 395 mm right 0 395 mm 0.3 A",
    )  # fmt: skip
    path = tmp_path / "two.trackplan"
    path.write_text(POWER + "\n".join(track) + "\n")
    _, output, _ = said(capsys, "choose", str(path))
    verdicts = {line.split()[0]: line for line in output.splitlines() if line.startswith("T")}
    assert "dead or fed" in verdicts["T1"] and "fed only" in verdicts["T2"] and "with T1 dead too" in verdicts["T2"]


def test_a_plan_with_faults_is_walked_with_a_word(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "torn.trackplan"
    broken = "segment c stop -> stop 1\n"
    path.write_text(POWER + "segment a stop -> J 1 m\nsegment b J -> stop 1 m\nfeeder main -> a\n" + broken)
    status, output, errors = said(capsys, "walk", str(path), "a", "b")
    assert status == 0 and "a to b" in output and "see `railbond inspect`" in errors

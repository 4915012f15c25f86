"""`railbond mend` and `railbond tidy` as their users meet them: files on disk, exit statuses, what is told."""

from __future__ import annotations

import os
import stat
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest

from needs import program
from railbond import rewriting
from railbond.command import main
from railbond.commands._rewrite import rewritten
from railbond.inspection import inspect
from railbond.rules import all_rules
from trackplan.gather import gather

CROSSED = """\
plan     "Caf\u00e9 \U0001f682 siding"   # the owner's own comment
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  west  stop -> J  1.5 m
segment  east  J -> stop  1.5 m
feeder   main -> west
feeder   main -> east  crossed  # by lamp light
"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "siding.trackplan"
    path.write_bytes(b"\xef\xbb\xbf" + CROSSED.replace("\n", "\r\n").encode())
    path.chmod(0o640)
    return path


def findings(path: Path) -> list[str]:
    gathered = gather(str(path), lambda name: Path(name).read_bytes().decode("utf-8-sig"))
    return [one.rule for one in inspect(gathered).findings]


def test_only_the_fault_changes(plan: Path) -> None:
    """The mark, the line ends, the comments, the mode and every other byte stay."""
    before = plan.read_bytes()
    assert main(["mend", str(plan)]) == 0
    assert plan.read_bytes() == before.replace(b"east  crossed  #", b"east  #")
    assert stat.S_IMODE(plan.stat().st_mode) == 0o640
    assert findings(plan) == []


def test_show_writes_nothing(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = plan.read_bytes()
    assert main(["mend", "--show", str(plan)]) == 1
    assert plan.read_bytes() == before
    shown = capsys.readouterr().out
    assert "-feeder   main -> east  crossed  # by lamp light" in shown
    assert "+feeder   main -> east  # by lamp light" in shown


def test_a_second_run_changes_nothing(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["mend", str(plan)])
    mended, at = plan.read_bytes(), plan.stat().st_mtime_ns
    assert main(["mend", str(plan)]) == 0
    assert (plan.read_bytes(), plan.stat().st_mtime_ns) == (mended, at)
    assert "Nothing was changed." in capsys.readouterr().out


def test_a_link_goes_on_pointing(plan: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.trackplan"
    link.symlink_to(plan)
    assert main(["mend", str(link)]) == 0
    assert link.is_symlink() and findings(plan) == []


def test_nothing_is_left_beside(plan: Path, tmp_path: Path) -> None:
    main(["mend", str(plan)])
    assert [path.name for path in tmp_path.iterdir()] == ["siding.trackplan"]


def test_a_file_changed_meanwhile_is_left(plan: Path) -> None:
    with pytest.raises(rewriting.Changed):
        rewriting.rewrite(str(plan), "what was read before", "what would be written")
    assert findings(plan) == ["legs-joined"]


def test_a_write_that_fails_leaves_the_file(plan: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    before = plan.read_bytes()

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    assert main(["mend", str(plan)]) == 2
    assert plan.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["siding.trackplan"]


def test_what_rebuilds_is_made_only_by_name(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rule = next(one for one in all_rules() if one.name == "set-against")
    plan = tmp_path / "team.trackplan"
    plan.write_text(rule.fails)
    assert main(["mend", str(plan)]) == 0  # what is left is a note
    assert "ask for it with --rule set-against" in capsys.readouterr().out
    assert plan.read_text() == rule.fails
    assert main(["mend", "--rule", "set-against", str(plan)]) == 0
    assert "set-against" not in findings(plan)


def test_an_unknown_rule_is_refused(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["mend", "--rule", "legs-jined", str(plan)]) == 2
    assert "did you mean legs-joined" in capsys.readouterr().err


def test_several_plans_that_share_a_file(tmp_path: Path) -> None:
    shared = CROSSED.split("\n", 1)[1]
    (tmp_path / "club.trackplan").write_text(shared)
    for name in ("one", "two"):
        (tmp_path / f"{name}.trackplan").write_text(f'plan "{name}"\ninclude "club.trackplan"\n')
    assert main(["mend", str(tmp_path)]) == 0
    assert (tmp_path / "club.trackplan").read_text() == shared.replace("east  crossed  #", "east  #")


@pytest.mark.parametrize("rule", [r for r in all_rules() if r.fails], ids=lambda rule: rule.name)
def test_mending_by_name_ends_and_does_not_come_back(rule, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    """A fixed point, and a second run that changes nothing, for every rule's failing plan."""
    plan = tmp_path / "plan.trackplan"
    plan.write_text(rule.fails)
    main(["mend", "--rule", rule.name, str(plan)])
    once = plan.read_text()
    main(["mend", "--rule", rule.name, str(plan)])
    assert plan.read_text() == once


def test_tidy_lays_out_and_keeps_what_is_said(plan: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan.write_text("booster  B1 15 V 5 A\ndistrict main from B1\nsegment w stop -> stop 90 cm\nfeeder main -> w\n")
    assert main(["tidy", "--show", str(plan)]) == 1
    assert main(["tidy", str(plan)]) == 0
    tidied = plan.read_text()
    assert tidied.startswith("booster   B1")
    assert main(["tidy", "--show", str(plan)]) == 0
    assert plan.read_text() == tidied


def test_tidy_leaves_what_would_mean_something_else(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = plan.read_bytes()
    monkeypatch.setattr("trackplan.tidy.lay_out", lambda reading: reading.source.text.replace("  crossed", ""))
    assert main(["tidy", str(plan)]) == 2
    assert plan.read_bytes() == before


def test_a_meet_is_mended_with_its_modules(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The fault of the meet itself in its own file, that of a module in the module's."""
    for plan in (Path(__file__).parents[2] / "example_plans" / "meet").glob("*.trackplan"):
        (tmp_path / plan.name).write_bytes(plan.read_bytes())
    before = {path.name: path.read_text() for path in tmp_path.iterdir()}
    assert main(["mend", str(tmp_path / "spring_meet.trackplan")]) == 1
    changed = {path.name for path in tmp_path.iterdir() if path.read_text() != before[path.name]}
    assert changed == {"spring_meet.trackplan", "bridge.trackplan"}
    told = capsys.readouterr().out
    assert "mended: swap the two wires of the bus run to plain-2.plug" in told
    assert "rule meet-reverses" in told


def test_all_files_of_a_plan_are_left_where_one_was_changed_meanwhile(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """What was proven of them together holds no more; another plan is mended all the same."""
    track, wires = CROSSED.split("feeder", 1)
    (tmp_path / "wires.trackplan").write_text(f"feeder{wires}")
    club = tmp_path / "club.trackplan"
    club.write_text(f'{track}include "wires.trackplan"\n')
    other = tmp_path / "other.trackplan"
    other.write_text(CROSSED)
    before = (tmp_path / "wires.trackplan").read_text()
    monkeypatch.setattr("railbond.commands.mend.rewritten", _after(club, rewritten))
    assert main(["mend", str(club), str(other)]) == 2
    assert (tmp_path / "wires.trackplan").read_text() == before
    assert club.read_text().endswith("# meanwhile\n")
    assert "crossed" not in other.read_text()
    told = capsys.readouterr().err
    assert "it was changed meanwhile" in told and "a file of its plan was changed meanwhile" in told


def _after(changed: Path, go_on: Callable[..., int]) -> Callable[..., int]:
    """Somebody saves a file just before mended ones are written."""

    def rewrite_then(*arguments: object) -> int:
        changed.write_text(changed.read_text() + "# meanwhile\n")
        return go_on(*arguments)

    return rewrite_then


def test_a_write_protected_file_is_left(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "access", lambda path, mode: False)
    assert main(["mend", str(plan)]) == 2
    assert findings(plan) == ["legs-joined"]


def test_a_file_that_is_not_utf_8_is_left(plan: Path) -> None:
    plan.write_bytes(plan.read_bytes().replace("é".encode(), b"\xe9"))
    before = plan.read_bytes()
    assert main(["mend", str(plan)]) == 2
    assert plan.read_bytes() == before


def test_a_file_of_somebody_else_beside_is_not_taken_away_and_in_nobodys_way(plan: Path) -> None:
    """One that an earlier run left, which was killed while it wrote."""
    beside = plan.with_name(f".railbond-{os.getpid()}-0.new")
    beside.write_text("mine")
    assert main(["mend", str(plan)]) == 0
    assert beside.read_text() == "mine" and findings(plan) == []
    assert sorted(path.name for path in plan.parent.iterdir()) == sorted([beside.name, plan.name])


def test_the_diff_applies(plan: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    """What --show prints, a program that applies patches turns into what mend writes."""
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(tmp_path)
        main(["mend", "--show", plan.name])
        shown = capfd.readouterr().out
        done = subprocess.run(
            [program("git"), "apply", "--unsafe-paths", "-"], input=shown.encode(), cwd=tmp_path, capture_output=True
        )
    assert done.returncode == 0, done.stderr
    assert findings(plan) == []

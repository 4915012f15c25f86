"""The gate of a club's repository: a faulty commit is refused, a mended one passes."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

from gate.club import FAULTY, SHARED, SOUND, TOP, Club, clone, git, hooks, run
from needs import program
from railbond import command

MANIFEST = TOP / ".pre-commit-hooks.yaml"
PLACE = re.compile(r"^\S+\.trackplan:\d+:\d+: .*$", re.MULTILINE)


def test_the_manifest_is_valid() -> None:
    done = run(TOP, sys.executable, "-m", "pre_commit", "validate-manifest", str(MANIFEST))
    assert done.returncode == 0, done.stdout


@pytest.mark.parametrize("hook", yaml.safe_load(MANIFEST.read_text()), ids=lambda hook: hook["id"])
def test_every_hook_is_a_command_that_can_be_understood(hook: dict[str, str]) -> None:
    words = shlex.split(hook["entry"])
    module = command._command(words[1])
    assert words[0] == "railbond" and module
    parser = command.ArgumentParser()
    module.arguments(parser)
    assert parser.parse_args([*words[2:], "a.trackplan", "b.trackplan"]).paths == ["a.trackplan", "b.trackplan"]
    assert re.search(hook["files"], "plans/quarry.trackplan") and not re.search(hook["files"], "plans/quarry.txt")


def test_a_club(tmp_path: Path) -> None:
    """One repository all through, for its hooks are installed once."""
    program("git")
    project = tmp_path / "project"
    club = Club(tmp_path / "club", hooks(project, clone(project), "railbond-inspect"))
    club.write(club=SHARED, quarry=SOUND, mill=SOUND)
    passes(club.commit())
    a_faulty_plan_is_refused_and_passes_when_mended(club)
    a_change_of_an_included_file_is_a_change_of_those_that_include_it(club)
    what_is_no_plan_is_left_alone(club)
    batches_agree_with_one_run(club)
    hooks_that_change_plans_leave_them_to_be_committed(club, project)


def a_faulty_plan_is_refused_and_passes_when_mended(club: Club) -> None:
    club.write(quarry=FAULTY)
    told = refused(club.commit())
    assert "quarry.trackplan:6:1: error: short" in told
    assert "swap" in told and "crossed" in told, "the mend is told, in words and as a line"
    assert "mill.trackplan" not in told
    club.write(quarry=SOUND + "# looked at\n")
    passes(club.commit())


def a_change_of_an_included_file_is_a_change_of_those_that_include_it(club: Club) -> None:
    club.write(club=SHARED.replace("main", "mane"))
    told = refused(club.commit())
    assert "quarry.trackplan:5:10: error" in told and "mill.trackplan:5:10: error" in told
    club.write(club=SHARED)


def what_is_no_plan_is_left_alone(club: Club) -> None:
    (club.folder / "notes.txt").write_text("segment segment\n")
    told = passes(club.commit())
    assert "Skipped" in told


def batches_agree_with_one_run(club: Club) -> None:
    """pre-commit hands the files to several processes at once; what they tell together is what one tells."""
    club.write(**{f"module{number}": FAULTY if number % 3 else SOUND for number in range(20)})
    told = refused(club.commit())
    plans = sorted(path.name for path in club.folder.glob("*.trackplan"))
    (python,) = Path(club.home).glob("repo*/py_env-*/bin/python")
    alone = run(club.folder, str(python), "-m", "railbond", "inspect", "--dependents", *plans)
    assert told.count(" in 1") + told.count("plans.") > 1, "there was more than one batch"
    assert sorted(PLACE.findall(told)) == sorted(PLACE.findall(alone.stdout))
    assert len(PLACE.findall(alone.stdout)) == 13
    club.write(**{f"module{number}": SOUND for number in range(20)})
    passes(club.commit())


def hooks_that_change_plans_leave_them_to_be_committed(club: Club, project: Path) -> None:
    revision = git(project, "rev-parse", "HEAD").strip()
    config = hooks(project, revision, "railbond-mend", "railbond-tidy", "railbond-inspect")
    (club.folder / ".pre-commit-config.yaml").write_text(config)
    club.write(quarry=FAULTY.replace("feeder   main -> line", "feeder main->line"))
    told = refused(club.commit())
    assert told.count("files were modified by this hook") == 2
    assert "mended: " in told and "1 of " in told
    mended = (club.folder / "quarry.trackplan").read_text()
    assert "crossed" not in mended and "main -> line" in mended
    passes(club.commit())


def passes(done: subprocess.CompletedProcess[str]) -> str:
    assert done.returncode == 0, done.stdout
    return done.stdout


def refused(done: subprocess.CompletedProcess[str]) -> str:
    assert done.returncode != 0, done.stdout
    return done.stdout

"""The gate of a club's repository: a faulty commit is refused, a mended one passes."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

from gate.club import FAULTY, SHARED, SOUND, TOP, Club, clone, git, hooks, run
from meet.samples import STRAIGHT, TOWN
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


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A clean clone of this project, as a club's hooks have it."""
    program("git")
    folder = tmp_path_factory.mktemp("gate") / "project"
    clone(folder)
    return folder


@pytest.fixture(scope="module")
def installed(project: Path) -> Club:
    """One repository for all, for its hooks are installed once."""
    revision = git(project, "rev-parse", "HEAD").strip()
    made = Club(project.parent / "club", hooks(project, revision, "railbond-inspect"))
    made.write(club=SHARED, quarry=SOUND, mill=SOUND)
    passes(made.commit())
    return made


@pytest.fixture
def club(installed: Club) -> Iterator[Club]:
    """The same, as the last sound commit left it."""
    yield installed
    git(installed.folder, "reset", "-q", "--hard")
    git(installed.folder, "clean", "-fdq")


def test_a_faulty_plan_is_refused_and_passes_when_mended(club: Club) -> None:
    club.write(quarry=FAULTY)
    told = refused(club.commit())
    assert "quarry.trackplan:6:1: error: short" in told
    assert "swap" in told and "crossed" in told, "the mend is told, in words and as a line"
    assert "mill.trackplan" not in told
    club.write(quarry=SOUND + "# looked at\n")
    passes(club.commit())


def test_a_change_of_an_included_file_is_a_change_of_those_that_include_it(club: Club) -> None:
    club.write(club=SHARED.replace("main", "mane"))
    told = refused(club.commit())
    assert "quarry.trackplan:5:10: error" in told and "mill.trackplan:5:10: error" in told
    club.write(club=SHARED)


def test_what_is_no_plan_is_left_alone(club: Club) -> None:
    (club.folder / "notes.txt").write_text("segment segment\n")
    assert "inspect wiring plans" in passes(club.commit())


def test_many_files_are_one_run(club: Club) -> None:
    """A fault is told once, however many files pre-commit has to hand over."""
    club.write(**{f"module{number}": FAULTY if number % 3 else SOUND for number in range(20)})
    told = refused(club.commit())
    plans = sorted(path.name for path in club.folder.glob("*.trackplan"))
    (python,) = Path(club.home).glob("repo*/py_env-*/bin/python")
    alone = run(club.folder, str(python), "-m", "railbond", "inspect", "--dependents", *plans)
    assert len(re.findall(r"errors? in \d+ plans?\.", told)) == 1, "there was one run"
    assert sorted(PLACE.findall(told)) == sorted(PLACE.findall(alone.stdout))
    assert len(PLACE.findall(alone.stdout)) == 13
    club.write(**{f"module{number}": SOUND for number in range(20)})
    passes(club.commit())


def test_a_plan_that_is_taken_away_or_renamed_breaks_those_that_read_it(club: Club) -> None:
    git(club.folder, "rm", "-q", "club.trackplan")
    assert "quarry.trackplan:1:10: error: there is no file `club.trackplan`" in refused(club.commit())
    git(club.folder, "reset", "-q", "--hard")
    git(club.folder, "mv", "club.trackplan", "power.trackplan")
    assert "mill.trackplan:1:10: error: there is no file `club.trackplan`" in refused(club.commit())
    git(club.folder, "reset", "-q", "--hard")


def test_a_module_that_is_renamed_is_missed_by_its_meet(club: Club) -> None:
    meet = 'module town "town.trackplan"\nmodule one "straight.trackplan"\n'
    meet += "couple town.E -> one.W\nbus town.P1 -> one.plug\n"
    club.write(town=TOWN, straight=STRAIGHT, spring_meet=meet)
    passes(club.commit())
    git(club.folder, "mv", "straight.trackplan", "level.trackplan")
    told = refused(club.commit())
    assert "spring_meet.trackplan:2:12: error: there is no file `straight.trackplan`" in told, told
    club.write(spring_meet=meet.replace("straight.", "level."))
    passes(club.commit())


def test_only_what_is_staged_counts(club: Club) -> None:
    """A fault that is not committed yet is nobody's business; one that is staged is refused, mended in the folder or
    not."""
    club.write(quarry=SOUND + "# begun\n")
    git(club.folder, "add", "quarry.trackplan")
    club.write(quarry=FAULTY)
    passes(club.commit(everything=False))
    assert (club.folder / "quarry.trackplan").read_text() == FAULTY
    git(club.folder, "add", "quarry.trackplan")
    club.write(quarry=SOUND)
    assert "quarry.trackplan:6:1: error: short" in refused(club.commit(everything=False))
    git(club.folder, "reset", "-q", "--hard")


def test_an_untracked_draft_is_nobodys_business(club: Club) -> None:
    """Neither does it stand in the way of others, nor is it changed; and no tracked plan may lead to it."""
    club.write(club=SHARED + "# by the lamp\n", draft=FAULTY)
    git(club.folder, "add", "club.trackplan")
    passes(club.commit(everything=False))
    club.write(quarry=SOUND.replace("club.", "draft."))
    git(club.folder, "add", "quarry.trackplan")
    assert "git does not track it" in refused(club.commit(everything=False))
    assert (club.folder / "draft.trackplan").read_text() == FAULTY
    (club.folder / "draft.trackplan").unlink()
    git(club.folder, "reset", "-q", "--hard")


def test_hooks_that_change_plans_leave_them_to_be_committed(club: Club, project: Path) -> None:
    revision = git(project, "rev-parse", "HEAD").strip()
    config = hooks(project, revision, "railbond-mend", "railbond-tidy", "railbond-inspect")
    (club.folder / ".pre-commit-config.yaml").write_text(config)
    club.write(quarry=FAULTY.replace("feeder   main -> line", "feeder main->line"))
    told = refused(club.commit())
    assert told.count("files were modified by this hook") == 2
    assert "mended: " in told and "1 of " in told and told.count("changed: quarry.trackplan") == 2
    mended = (club.folder / "quarry.trackplan").read_text()
    assert "crossed" not in mended and "main -> line" in mended
    passes(club.commit())


def passes(done: subprocess.CompletedProcess[str]) -> str:
    assert done.returncode == 0, done.stdout
    return done.stdout


def refused(done: subprocess.CompletedProcess[str]) -> str:
    assert done.returncode != 0, done.stdout
    return done.stdout

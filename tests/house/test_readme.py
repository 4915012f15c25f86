"""What README.md says is so."""

from __future__ import annotations

import re
import shlex

import pytest

from house.readme import README, TOP, finding, plan, renewed, typed
from railbond import command
from trackplan.read import read
from trackplan.span import Source

TEXT = README.read_text(encoding="utf-8")


def test_what_the_program_tells_is_told_as_it_tells_it() -> None:
    """`python tests/house/readme.py` puts it right."""
    assert renewed(TEXT) == TEXT


def test_a_part_that_has_changed_is_noticed() -> None:
    assert renewed(TEXT.replace("| `legs-joined` |", "| `legs-jointed` |")) == TEXT
    assert "legs-jointed" not in TEXT


def test_the_plan_it_shows_has_one_fault() -> None:
    assert finding().count("(rule ") == 1
    assert "\n1 error in 1 plan." in finding()


def calls() -> list[list[str]]:
    """Every call of railbond that README shows, without what sets it up."""
    lines = (line.rpartition("&& ")[2].partition(" <")[0] for line in typed(TEXT))
    return [shlex.split(line)[1:] for line in lines if shlex.split(line)[0].endswith("railbond")]


@pytest.mark.parametrize("words", calls(), ids=" ".join)
def test_its_commands_can_be_understood(words: list[str]) -> None:
    module = command._command(words[0])
    assert module
    parser = command.ArgumentParser()
    module.arguments(parser)
    parser.parse_args(words[1:])


@pytest.mark.parametrize("words", calls(), ids=" ".join)
def test_the_files_that_they_name_are_in_the_clone(words: list[str]) -> None:
    """Everything can be typed as it stands."""
    named = [word for word in words if "/" in word or word.endswith(".trackplan")]
    assert all((TOP / word).exists() for word in named if "new." not in word)


def test_what_it_tells_to_install_is_on_no_index() -> None:
    wanted = re.findall(r"pip install (?:-q )?(?:-e )?('?[^ `&]+)", TEXT)
    assert wanted and all(one.startswith((".", "'.[")) for one in wanted), wanted


def test_the_command_that_runs_the_tests_is_what_must_pass() -> None:
    """`.ci/run` sets up and tests as README says, only in three steps."""
    (line,) = (line for line in typed(TEXT) if "pytest" in line)
    script = (TOP / ".ci" / "run").read_text(encoding="utf-8")
    assert all(step in script for step in line.split(" && "))


def test_each_statement_of_its_page_can_be_read() -> None:
    page = TEXT.partition("## The language")[2].partition("\n## ")[0]
    rows = [line.split("|")[1] for line in page.splitlines() if line.startswith("| `")]
    assert len(rows) > 20
    for example in [*(row.strip(" `") for row in rows), *plan(TEXT).splitlines()]:
        reading = read(Source("p", example))
        assert len(reading.statements) == 1 and not reading.broken, example


def test_the_files_that_developers_are_sent_to_are_there() -> None:
    text = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = {part for part in re.findall(r"`([\w./]+)`", text) if "/" in part and part == part.lower()}
    assert len(named) > 10
    roots = (TOP, TOP / "lint" / "railbond")
    missing = {path for path in named if not any((root / path).exists() for root in roots)}
    assert missing == set()


def test_every_statement_in_the_language_table_reads() -> None:
    """What README tells people to type is typed."""
    rows = re.findall(r"^\| `((?!railbond)[a-z-]+ [^`]+)` \|", README.read_text(encoding="utf-8"), re.MULTILINE)
    assert len(rows) > 30
    for statement in rows:
        reading = read(Source("README.md", statement + "\n"))
        assert len(reading.statements) == 1, (statement, reading.broken)

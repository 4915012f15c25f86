"""Rules of a club's own: built, installed, asked like any other, and told by name where they are faulty."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from house.files import ROOTS
from railbond.circuit.facts import Facts
from railbond.findings import Finding, Found
from railbond.inspection import examine
from railbond.rules import all_rules
from railbond.rules.plugins import are_there_any
from railbond.rules.rule import Rule
from trackplan.read import read
from trackplan.span import Source, Span

HERE = Path(__file__).parent
SOUND = next(rule.passes for rule in all_rules() if rule.name == "unfed-rail")
DEAD = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points     90 cm
turnout  T1    left  number 6  dead-frog
segment  line  T1.through -> stop    90 cm
segment  dock  T1.diverging -> stop  90 cm
feeder   main -> lead
feeder   main -> line
"""


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder into which the example package has been built and installed."""
    folder = tmp_path_factory.mktemp("installed")
    install = [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--target", str(folder)]
    subprocess.run([*install, str(HERE / "club_rules")], check=True, capture_output=True, text=True)
    return folder


def railbond(folder: Path, *words: str, text: str = "") -> subprocess.CompletedProcess[str]:
    """Runs the command where a folder's distributions are installed."""
    paths = os.pathsep.join(map(str, (*ROOTS.values(), folder)))
    command = [sys.executable, "-m", "railbond", *words]
    return subprocess.run(command, input=text, capture_output=True, text=True, env={**os.environ, "PYTHONPATH": paths})


def faulty(folder: Path, name: str, module: str) -> Path:
    """Installs a plug-in by hand: its entry point, and its module's text."""
    info = folder / f"{name}-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {name}\nVersion: 1.0\n")
    (info / "entry_points.txt").write_text(f"[railbond.rules]\n{name} = {name}_module\n")
    (folder / f"{name}_module.py").write_text(module)
    return folder


def test_its_rule_is_asked_with_its_fix(installed: Path) -> None:
    done = railbond(installed, "inspect", "-", text=DEAD)
    assert "-:4:32: warning: stall: T1 has a dead frog" in done.stdout
    assert "(rule club-dead-frog)" in done.stdout and "isolated-frog" in done.stdout
    assert "fed-through-points" in done.stdout, "and the others are asked too"
    assert done.returncode == 1 and not done.stderr


def test_its_teaching_text_is_there(installed: Path) -> None:
    assert "which the club does not have" in railbond(installed, "rules", "club-dead-frog").stdout


def test_it_is_silent_where_it_should_be(installed: Path) -> None:
    done = railbond(installed, "inspect", "-", text=SOUND)
    assert done.returncode == 0, done.stdout


def test_a_finding_of_its_own_can_be_accepted(installed: Path) -> None:
    line = 'accept club-dead-frog at T1 because "long engines only"\n'
    done = railbond(installed, "inspect", "-", text=DEAD + line)
    assert "club-dead-frog" not in done.stdout


@pytest.mark.parametrize(
    ("module", "told"),
    [
        ("import there_is_no_such_module", "ModuleNotFoundError"),
        ("RULES = ()", "it holds no rule"),
        ("RULES = ('one',)", "which is no Rule"),
        ("raise SystemExit", "SystemExit"),
        ("from railbond.rules.unfed_rail import RULES", "there is a rule unfed-rail already"),
    ],
)
def test_one_that_cannot_be_loaded_is_told_by_name(tmp_path: Path, module: str, told: str) -> None:
    done = railbond(faulty(tmp_path, "broken", module), "inspect", "-", text=DEAD)
    assert "-:1:1: warning: the plug-in broken of broken 1.0 cannot be used" in done.stdout
    assert told in done.stdout
    assert "fed-through-points" in done.stdout, "and the others are asked all the same"


def test_where_no_plug_in_can_be_known_that_is_told(tmp_path: Path) -> None:
    (faulty(tmp_path, "odd", "") / "odd-1.0.dist-info/entry_points.txt").write_bytes(b"[railbond.rules]\n\xff")
    (tmp_path / "other.trackplan").write_text(SOUND)
    (tmp_path / "another.trackplan").write_text(SOUND)
    for words in (["-"], [str(tmp_path / "other.trackplan"), str(tmp_path / "another.trackplan")]):
        done = railbond(tmp_path, "inspect", *words, text=SOUND)
        assert "the plug-in plug-ins cannot be used (UnicodeDecodeError" in done.stdout and not done.stderr


def test_one_that_breaks_off_in_the_command_is_told_by_name(tmp_path: Path) -> None:
    module = (HERE / "club_rules" / "club_rules.py").read_text().replace("    for name, piece", "    for nme, piece")
    done = railbond(faulty(tmp_path, "broken", module), "inspect", "-", text=DEAD)
    assert "the rule club-dead-frog broke off (NameError" in done.stdout
    assert "fed-through-points" in done.stdout and done.returncode == 1 and not done.stderr


def asked(found: object) -> list[Finding]:
    """What is told where one more rule finds something odd."""

    def find(facts: Facts) -> list[Finding]:
        if isinstance(found, Exception):
            raise found
        return [found]  # type: ignore[list-item]

    rule = Rule("odd", "note", "on paper", 3, False, find, "", "", "", "", "", "")
    source = Source("plan", DEAD)
    reading = read(source)
    return examine(Facts(reading.statements, {"plan": source}, reading.broken), (*all_rules(), rule))


@pytest.mark.parametrize(
    ("found", "told"),
    [
        (RecursionError("too deep"), "RecursionError: too deep"),
        ("a text", "which is not of the type Found"),
        (Found(Span("plan", 0, 1), "?", level="bad"), "of the level 'bad'"),  # type: ignore[arg-type]
        (Found(Span("plan", 0, 10_000), "?"), "not in the plan"),
        (Found(Span("other", 0, 0), "?"), "not in the plan"),
    ],
)
def test_what_cannot_be_shown_is_told_by_the_rules_name(found: object, told: str) -> None:
    (odd,) = (one for one in asked(found) if one.rule == "odd")
    assert odd.message.startswith("the rule odd broke off") and told in odd.message
    assert odd.level == "note", "as bad as the rule can be"
    assert "fed-through-points" in {one.rule for one in asked(found)}


def test_where_there_is_none_nothing_is_loaded_for_it(tmp_path: Path) -> None:
    assert not are_there_any([str(tmp_path), str(tmp_path / "missing")])
    faulty(tmp_path, "some", "")
    assert are_there_any([str(tmp_path)])

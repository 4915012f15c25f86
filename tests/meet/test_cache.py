"""A cache costs time at the worst: whatever changes, an answer from it is the one that would be worked out anew."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from hashlib import sha256
from itertools import pairwise
from pathlib import Path

import pytest

from house.files import ROOTS
from railbond.batch import many
from railbond.batch import program as program_of
from railbond.batch.many import Result, results
from railbond.batch.program import program

SHARED = "booster B1 15 V 5 A\ndistrict main from B1\n"
PLAN = 'include "shared.trackplan"\ninclude "limits.trackplan"\nsegment a stop -> stop 1 m\nfeeder main -> a\n'
FAULT = "segment b stop -> stop 1 m\n"
WHOLE = 'plan "Saturday"\nmodule north "north.trackplan"\n'
NORTH = 'include "shared.trackplan"\nendplate W\nsegment n W -> stop 1 m\nfeeder main -> n\n'


def write(name: str, text: str) -> Callable[[], object]:
    return lambda: Path(name).write_text(text)


# One thing after the other; each is undone by the next only where it says so.
CHANGES: dict[str, Callable[[], object]] = {
    "nothing": lambda: None,
    "the plan": write("plan.trackplan", PLAN + FAULT),
    "the plan, back": write("plan.trackplan", PLAN),
    "what it includes": write("shared.trackplan", SHARED + FAULT),
    "a file that was missing is there": write("limits.trackplan", "limit feeder-spacing 10 cm\n"),
    "what was missing is another": write("limits.trackplan", FAULT.replace("b", "c")),
    "it is gone again": lambda: os.remove("limits.trackplan"),
    "it cannot be read": lambda: os.mkdir("limits.trackplan"),
    "what it includes is gone": lambda: os.remove("shared.trackplan"),
    "the time alone": lambda: os.utime("plan.trackplan", (1, 1)),
    "it is a whole of modules, one of them missing": write("plan.trackplan", WHOLE),
    "the module is there": write("north.trackplan", NORTH),
    "what the module includes is there": write("shared.trackplan", SHARED),
    "what the module includes": write("shared.trackplan", SHARED + FAULT),
    "the module": write("north.trackplan", NORTH + FAULT.replace("b", "d")),
    "the module cannot be read": write("north.trackplan", "segment\n"),
    "the settings": write("railbond.toml", '[levels]\nunfed-rail = "note"\n'),
    "the settings, back": lambda: os.remove("railbond.toml"),
}


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setattr(many, "program", lambda: "this version")
    monkeypatch.chdir(tmp_path)
    write("plan.trackplan", PLAN)()
    write("shared.trackplan", SHARED)()
    return tmp_path


def answer(keep: bool) -> Result:
    (one,) = results(["plan.trackplan"], keep)
    return one


def seen(one: Result) -> object:
    return one.trouble, one.inspection and (
        one.inspection.findings,
        one.inspection.remarks,
        sorted(one.inspection.sources),
    )


def test_one_thing_changes_at_a_time_and_the_answers_stay_those_of_no_cache() -> None:
    told = []
    for what, change in CHANGES.items():
        change()
        told.append(seen(answer(False)))
        for _ in range(2):
            assert seen(answer(True)) == told[-1], what
    assert sum(one != other for one, other in pairwise(told)) > len(told) / 2  # what changes is told


def test_the_same_plan_from_another_folder(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its findings name the path by which it was asked for."""
    before = answer(True)
    (folder / "below").mkdir()
    monkeypatch.chdir(folder / "below")
    (one,) = results(["../plan.trackplan"])
    assert one.inspection and set(one.inspection.sources) == {"../plan.trackplan", "../shared.trackplan"}
    assert before.inspection and len(before.inspection.findings) == len(one.inspection.findings)


@pytest.mark.parametrize("path", ["gone", "", "shared.trackplan"])
def test_a_kept_answer_with_a_wrong_path_is_worked_out_anew(folder: Path, path: str) -> None:
    write("plan.trackplan", PLAN + FAULT)()
    wanted = seen(answer(True))
    (entry,) = (folder / "cache").rglob("*.json")
    text = entry.read_text().partition("\n")[2]
    other = text.replace('["plan.trackplan", ', f'["{path}", ')
    assert other != text
    entry.write_text(f"{sha256(other.encode()).hexdigest()}\n{other}")
    assert seen(answer(True)) == wanted


@pytest.mark.parametrize("other", ['"unfed-frog"', "3", "null", '["unfed-rail"]'])
def test_a_kept_answer_that_is_not_what_was_written_is_worked_out_anew(folder: Path, other: str) -> None:
    """Whatever of it is another: a disk may lose more than its end."""
    write("plan.trackplan", PLAN + FAULT)()
    wanted = seen(answer(True))
    (entry,) = (folder / "cache").rglob("*.json")
    assert '"unfed-rail"' in entry.read_text()
    entry.write_text(entry.read_text().replace('"unfed-rail"', other))
    assert seen(answer(True)) == wanted


def test_a_plug_in_tells_one_program_from_another(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By its content: a package that is installed for editing changes without anything being installed anew."""
    module = folder / "club_rule.py"
    module.write_text("def find(facts):\n    return ()\n")
    monkeypatch.syspath_prepend(str(folder))
    import club_rule  # type: ignore[import-not-found]

    from railbond.rules import askable
    from railbond.rules.rule import Rule

    rule = Rule("club-rule", "note", "plan", 3, False, club_rule.find, "", "", "", "", "", "")
    alone = program()
    monkeypatch.setattr("railbond.batch.program.askable", lambda: (*askable(), rule))
    plugged = program()
    module.write_text("def find(facts):\n    return []\n")
    assert len({alone, plugged, program()}) == 3


PLUG_IN = """\
import os
from functools import partial
from railbond.findings import Found
from railbond.rules.rule import Rule
from trackplan.span import Span

def find(word, facts):
    with open(os.path.join(os.path.dirname(__file__), "club.txt")) as file:
        yield Found(Span(next(iter(facts.sources)), 0, 1), word + file.read())

RULES = (Rule("club", "warning", "on paper", 3, False, partial(find, "one"), "", "", "", "", "", ""),)
"""


def test_whatever_becomes_of_a_plug_in_is_told_at_once(folder: Path) -> None:
    """One that cannot be loaded, and why; its code however it is called, its data; and that it is gone. New code has
    another length: Python takes a file of the same second and length for the one that it has compiled."""
    info, module = folder / "site" / "club-1.0.dist-info", folder / "site" / "club.py"

    def enter() -> None:
        info.mkdir(parents=True)
        (info / "METADATA").write_text("Metadata-Version: 2.1\nName: club\nVersion: 1.0\n")
        (info / "entry_points.txt").write_text("[railbond.rules]\nclub = club\n")

    changes: dict[str, Callable[[], object]] = {
        "nothing": lambda: None,
        "it is not to be found": enter,
        "it cannot be loaded": lambda: module.write_text("import nothing_such"),
        "it cannot be loaded for another reason": lambda: (folder / "site/nothing_such.py").write_text("1 / 0"),
        "it can": lambda: (module.write_text(PLUG_IN), (module.parent / "club.txt").write_text(" a")),
        "its code": lambda: module.write_text(PLUG_IN.replace('"one"', '"other"')),
        "its data": lambda: (module.parent / "club.txt").write_text(" b"),
        "it is gone": lambda: shutil.rmtree(info),
    }
    shutil.copy("plan.trackplan", "other.trackplan")
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(map(str, (*ROOTS.values(), folder / "site")))}

    def told(*more: str) -> str:
        words = [sys.executable, "-m", "railbond", "inspect", "plan.trackplan", "other.trackplan", "--as", "brief"]
        return subprocess.run([*words, *more], env=env, capture_output=True, text=True, check=False).stdout

    seen = list[str]()
    for what, change in changes.items():
        change()
        seen.append(told("--no-cache"))
        assert told() == seen[-1], what
    assert all(one != other for one, other in pairwise(seen))


def test_the_grammar_tells_one_program_from_another(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Wherever it is installed."""
    import trackplan

    own = Path(next(iter(trackplan.__path__)))
    assert {str(path) for path in own.rglob("*.py")} <= set(program_of._files(str(own)))
    assert str(own / "plan.lark") in program_of._files(str(own))

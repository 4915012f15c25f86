"""A fast start is a feature: what a sound plan's inspection may load."""

from __future__ import annotations

import os
import subprocess
import sys
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import get_args

import pytest

from benchmark.start import spoilt
from house import heads
from house.files import ROOTS
from railbond.rules.heads import HEADS
from trackplan import typed
from trackplan.record import NamedTuple

PLAN = Path(__file__).parents[1] / "benchmark" / "forty.trackplan"
EXAMPLES = Path(__file__).parents[2] / "example_plans"
WATCH = """
import sys
started = set(sys.modules)
from railbond.command import main
assert main(["inspect", sys.argv[1]]) == int(sys.argv[2])
print(*(set(sys.modules) - started))
"""

# Beside our own modules. Every name here costs every user at every start: add one only if it earns its place.
MAY_BE_LOADED = {
    "__future__", "argparse", "atexit", "bisect", "collections", "collections.abc", "contextlib", "copyreg",
    "enum", "errno", "functools", "gc", "gettext", "heapq", "importlib", "itertools", "keyword",
    "math", "operator", "re", "reprlib", "types", "warnings",
}  # fmt: skip
RULES_ASK = {f"railbond.rules.{name}" for name in ("asking", "heads", "occasions", "plugins", "rule")}
WORDS = {"fix_edits", "power_words", "candidates", "swaps"}
"""Of the mends what finding itself needs: names, words, what a candidate is, and swapped wires."""
PARTS_OF_THOSE = ("_", "re.", "importlib._")


@cache
def loaded(plan: Path = PLAN, status: int = 0) -> set[str]:
    """Modules that a process loads to inspect a plan, a sound one unless said, beyond those of a Python that does
    nothing."""
    paths = os.pathsep.join(str(root) for root in ROOTS.values())
    done = subprocess.run(
        [sys.executable, "-c", WATCH, str(plan), str(status)],
        capture_output=True, text=True, check=True, env={**os.environ, "PYTHONPATH": paths},
    )  # fmt: skip
    return set(done.stdout.splitlines()[-1].split())


def test_a_sound_plan_loads_only_what_it_must() -> None:
    others = {name for name in loaded() if name.split(".")[0] not in ROOTS}
    assert {name for name in others - MAY_BE_LOADED if not name.startswith(PARTS_OF_THOSE)} == set()


def test_shorts_load_neither_names_nor_solved_networks(tmp_path: Path) -> None:
    """What only a wrong name, dead rails, turning track or resistance that no bound settles asks for; and what is told
    needs no `textwrap`."""
    faulty = tmp_path / "faulty.trackplan"
    faulty.write_text(spoilt(PLAN.read_text()))
    found = loaded(faulty, 1)
    assert {"railbond.explaining.search", "railbond.mend.proving"} <= found
    spared = {"textwrap"} | {f"railbond.explaining.{name}" for name in ("words", "ends", "nameless", "copied")}
    spared |= {f"railbond.fixes.{name}" for name in ("candidates", "feeding", "sections", "wires_around")}
    spared |= {f"railbond.circuit.power.{name}" for name in ("by_region", "field", "islands", "lay")}
    assert found.isdisjoint({*spared, "railbond.circuit.balance", "railbond.rules.feeders_too_far_apart"})


def test_a_sound_plan_loads_no_rule_and_no_mend() -> None:
    """So a new rule costs a sound plan nothing. `plan_fixes` and the like stand beside the rules and hold none."""
    ours = {name for name in loaded() if name.split(".")[0] in ROOTS}
    files = {f"railbond.rules.{head.module}" for head in HEADS}
    assert not ours & files
    assert {name for name in ours if name.startswith("railbond.rules.")} == RULES_ASK
    assert not {name for name in ours if name.startswith(("railbond.fixes.", "railbond.explaining", "railbond.mend"))}


@pytest.mark.parametrize("name", ("balloon_loop", "wye", "crossover", "car_shops", "hand_throttle_branch"))
def test_where_a_rule_must_look_closer_its_mends_are_left_alone(name: str) -> None:
    """A rule's file is loaded where what it tells of may arise; how that is mended, when it does."""
    fixes = {one.rpartition(".")[2] for one in loaded(EXAMPLES / f"{name}.trackplan") if ".fixes." in one}
    assert fixes <= WORDS


def test_named_tuples_are_made_fast() -> None:
    """Those of Python's own library compile every field; a hundred of them were a quarter of the start."""
    ours = [sys.modules.get(name) or import_module(name) for name in loaded() if name.split(".")[0] in ROOTS]
    slow = [one.__name__ for one in ours if getattr(one, "NamedTuple", NamedTuple) is not NamedTuple]
    assert slow == []


def test_words_of_types_say_what_those_of_typing_say() -> None:
    """So whoever loads `typing` after all, as the tests do, can ask them for their parts."""
    assert get_args(typed.Literal["left", "right"]) == typed.get_args(typed.Literal["left", "right"])
    assert typed.get_args(int | typed.Literal["left"]) == (int, typed.Literal["left"])
    assert typed.cast(int, "left") == "left"


def test_the_heads_are_those_of_the_rules() -> None:
    assert heads.HEADS.read_text(encoding="utf-8") == heads.text(), "run `python tests/house/heads.py`"


def test_only_the_kinds_of_trackwork_that_a_plan_has() -> None:
    kinds = {name.rpartition(".")[2] for name in loaded() if name.startswith("railbond.trackwork.")}
    assert kinds == {"segment", "turnout", "branching", "drawing", "springing"}


def test_what_only_other_commands_need_is_left_alone() -> None:
    ours = {name for name in loaded() if name.split(".")[0] in ROOTS}
    assert "railbond.commands.inspect" in ours
    assert not ours & {"railbond.commands.rules", "railbond.faces.sarif", "railbond.faces.teaching"}
    assert not {name for name in ours if name.startswith("railbond.editor")}


def test_what_changes_a_plan_is_left_alone() -> None:
    """Nothing is edited in a sound plan, on paper or in the head, and no feeder of it is to be swapped."""
    assert not loaded() & {"trackplan.edit", "trackplan.amend", "trackplan.again", "railbond.circuit.polarity"}

"""The probe beside each job, tried on what is built by then: right when the job is done, wrong when it is left out."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from bench.readings import facts, facts_at
from railbond.bench.checks import checks
from railbond.bench.job import STAGES
from railbond.bench.jobs import tasks
from railbond.circuit.facts import Facts
from railbond.faces.schedule_csv import rows

from . import samples
from .bench import Node
from .paper import Builder, Row, rows_of

EXAMPLES = sorted((Path(__file__).parents[2] / "example_plans").glob("*.trackplan"))
CHECK = re.compile(r"(.+) and (.+) must (beep|be SILENT)(?: with (.+))?")


def table(plan: Facts) -> list[Row]:
    todo = tasks(plan)
    return rows_of(rows([task.job for task in todo], [], plan.sources, checks(plan, todo)))


def node(builder: Builder, words: str) -> Node:
    """A metal by its name, which for a stretch of cut track tells from where to where."""
    stretch = re.fullmatch(r"(.+) \(([\d.]+) to ([\d.]+) m\)", words)
    found = builder.source(stretch[1] if stretch else words)
    place = (float(stretch[2]) + float(stretch[3])) / 2 if stretch else 0.0
    thing = builder.bench.things.get(str(found[0]))
    return builder.bench.resolved((*found, place)) if thing and thing.length and len(found) == 2 else found


def reads(done: list[Row], told: re.Match[str], jumpered: bool) -> bool:
    builder = Builder(jumpered)
    bench = builder.build(done)
    stands = {mover: positions[0] for mover, positions in bench.positions.items()}
    stands |= dict(part.rsplit(" ", 1) for part in (told[4] or "").split(", ") if part)  # type: ignore[misc]
    labels = bench.labels(stands)
    one, other = node(builder, told[1]), node(builder, told[2])
    beeps = labels.get(one, one) == labels.get(other, other)
    return beeps == (told[3] == "beep")


def tried(plan: Facts) -> int:
    every = table(plan)
    found = 0
    for row in every:
        told = CHECK.fullmatch(row["check"])
        if not told or row["kind"] in ("device", "drop") or (row["kind"] == "frog" and row["rail"]):
            continue
        by_then = [one for one in every if before(one, row)]
        jumpered = row["note"].startswith("cut the jumper")
        left_out = [one for one in by_then if one is not row]
        if row["note"] == "insulated joiner":
            left_out.append({**row, "note": "metal joiner"})
        assert reads(by_then, told, jumpered), row
        assert not reads(left_out, told, jumpered), row
        found += 1
    return found


def before(one: Row, row: Row) -> bool:
    """Whether a job is done by then: those of the stages before and of this one, but bus wires before drops. Track is
    there from the start."""
    stages = list(STAGES)
    drops = one["kind"] == "drop" and row["stage"] == "wires"
    return one["kind"] == "lay" or (stages.index(one["stage"]) <= stages.index(row["stage"]) and not drops)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_examples(path: Path) -> None:
    plan = facts_at(str(path))
    assert tried(plan) or not plan.layout.runs


@pytest.mark.parametrize("cut", samples.CUTS)
def test_every_way_to_cut_a_live_frog(cut: str) -> None:
    for line, ends in samples.kinds():
        if "live-frog" in line and not line.startswith("scissors"):
            worked = ["bond X closure rails to stock rails", *(f"cut X {one}" for one in cut.split("+") if one)]
            plan = facts(samples.plan(line, ends, worked, samples.FEEDS[1], ("both rails", "", "left rail")))
            assert tried(plan)

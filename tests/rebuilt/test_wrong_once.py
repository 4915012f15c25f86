"""Each job done wrong once: what then fails at the bench is what the sheet of `railbond meter` says would show."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest

from bench.readings import facts, facts_at
from oracle.plans import random_sound
from railbond.bench.jobs import jobs
from railbond.bench.ohms import Ohms
from railbond.bench.sheet import sheet_of
from railbond.circuit.facts import Facts
from railbond.faces.meter_csv import rows as meter_rows
from railbond.faces.schedule_csv import rows

from .against import Same, settings
from .paper import Builder, Row, rows_of

EXAMPLES = sorted((Path(__file__).parents[2] / "example_plans").glob("*.trackplan"))
JOINING = ("bond", "drop", "bus", "frog", "common")
OTHER_RAIL = {"left rail": "right rail", "right rail": "left rail"}


def wrongs(table: list[Row], legs: dict[str, tuple[str, str]]) -> Iterator[tuple[str, list[Row]]]:
    """Every row once left out, put on the other rail, or taken from the other leg: words, and the rows as done."""
    for number, row in enumerate(table):
        for words, done in _ways(row, legs):
            yield f"{words}: {row['kind']} {row['name']} {row['place']} {row['rail']}", [
                *table[:number], *done, *table[number + 1 :]
            ]  # fmt: skip


def _ways(row: Row, legs: dict[str, tuple[str, str]]) -> Iterator[tuple[str, list[Row]]]:
    kind = row["kind"]
    if kind in JOINING and not row["note"].startswith("leave") or kind in ("cut", "jumper"):
        yield "left out", []
    if kind == "joiner" and row["note"] == "insulated joiner":
        yield "a metal joiner in its place", [{**row, "note": "metal joiner"}]
    if kind == "drop" and row["rail"] in OTHER_RAIL:
        yield "on the wrong rail", [{**row, "rail": OTHER_RAIL[row["rail"]]}]
    name, _, leg = row["from"].rpartition(".")
    if kind in ("drop", "bus", "frog") and name in legs:
        other = legs[name][1 - legs[name].index(leg)]
        yield "from the wrong leg", [{**row, "from": f"{name}.{other}"}]


class Bench:
    """A sheet as CSV, and the layout built right, to hold what is built wrong against both."""

    def __init__(self, plan: Facts) -> None:
        self.plan, self.sheet = plan, sheet_of(plan)
        self.table = rows_of(rows(jobs(plan), [], plan.sources))
        self.shows = [
            set(row["shows"].split("; ")) for row in csv.DictReader(io.StringIO(meter_rows(self.sheet, Ohms(plan))))
        ]
        self.same = Same(plan, Builder(jumpered=True).build(self.table))
        layout = plan.layout
        self.legs = {name: one.legs for name, one in layout.supplies.items()} | dict(layout.terminals)

    def failing(self, built: Builder) -> frozenset[int]:
        """The probes of the sheet that read otherwise than they must."""
        found, number = set(), 0
        for stand in self.sheet.stands:
            labels = built.bench.labels(stand.setting)
            for probe in stand.probes:
                one, other = (self.node(built, end) for end in (probe.one, probe.other))
                if (labels.get(one, one) == labels.get(other, other)) != probe.beeps:
                    found.add(number)
                number += 1
        return frozenset(found)

    def node(self, built: Builder, conductor: int) -> object:
        """The metal at the place that the sheet names, on a layout that may be cut otherwise."""
        node = self.same.node[conductor]
        return built.bench.resolved(self.same.place[conductor]) if conductor in self.same.place else node

    def changes_anything(self, built: Builder) -> bool:
        """Whether any two places that can be touched read otherwise in some setting, wherever one looks."""
        ends = list(self.plan.graph.names)
        for setting in settings(self.plan.graph, Random(1), 64):
            right, wrong = self.same.bench.labels(setting), built.bench.labels(setting)
            pairs = {(right.get(self.same.node[c], c), wrong.get(self.node(built, c), c)) for c in range(len(ends))}
            if len(pairs) != len({one for one, _ in pairs}) or len(pairs) != len({other for _, other in pairs}):
                return True
        return False


def check(plan: Facts, jumpered: bool, rng: Random, most: int) -> int:
    """Tries wrong jobs, `most` of them; how many of these showed."""
    bench = Bench(plan)
    unproven = {one.words for one in bench.sheet.unproven}
    every = list(wrongs(bench.table, bench.legs))
    shown = 0
    for words, done in rng.sample(every, min(most, len(every))):
        built = Builder(jumpered)
        built.build(done)
        failing = bench.failing(built)
        shown += bool(failing)
        if not failing:
            assert unproven or not bench.changes_anything(built), f"nothing shows: {words}"
        else:
            named = set().union(*(bench.shows[number] for number in failing))
            signs = {one: frozenset(n for n, shows in enumerate(bench.shows) if one in shows) for one in named}
            assert failing in signs.values(), f"{words}: {sorted(failing)} is what no mistake on the sheet shows"
    return shown


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_each_job_of_an_example_done_wrong_shows_as_the_sheet_says(path: Path) -> None:
    plan = facts_at(str(path))
    assert check(plan, jumpered=True, rng=Random(1), most=120) or not plan.layout.drops


@pytest.mark.parametrize("seed", range(8))
def test_jobs_of_random_plans_done_wrong_show_as_the_sheet_says(seed: int) -> None:
    rng = Random(seed)
    check(facts(random_sound(rng, rng.randint(1, 5), quiet=seed % 2 == 0)), seed % 3 == 0, rng, most=80)

"""Two railroads in one plan that have nothing to do with one another are told as each is by itself."""

from __future__ import annotations

from random import Random

from oracle.plans import random_sound, random_wild
from railbond.circuit.facts import Facts
from railbond.explaining import railroads
from railbond.findings import Finding
from railbond.inspection import inspect
from trackplan.gather import gather
from trackplan.read import read
from trackplan.span import Source

SWAPPED = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  west  stop -> J  1 m
segment  east  J -> stop  1 m
feeder   main -> west
feeder   main -> east  crossed
"""
"""One slip explains it."""

HOPELESS = """\
booster  B2    15 V  5 A
district yard  from B2  trips 4 A
turnout  T1    left  live-frog
segment  lead  stop -> T1.points            1 m
segment  loop  T1.through -> T1.diverging   3 m
feeder   yard -> lead
feeder   yard -> loop  crossed
"""
"""Track that turns, and no slip that explains it."""


def found(text: str) -> list[Finding]:
    return inspect(gather("p", lambda path: text)).findings


def told(text: str) -> set[tuple[str, str, str]]:
    return {(one.rule, one.level, one.message) for one in found(text)}


def test_a_fault_that_nothing_explains_keeps_no_other_from_being_explained() -> None:
    assert len(told(SWAPPED)) == 1 and told(HOPELESS)
    assert told(SWAPPED + HOPELESS) == told(SWAPPED) | told(HOPELESS)


def test_each_of_many_railroads_is_explained() -> None:
    """A crossed pair of wires in a loop of two pieces, however often: each is told as it is alone."""
    one = "booster {0}B 15 V 5 A\ndistrict {0}d from {0}B\nsegment {0}a {0}b.finish -> {0}J 1 m\n"
    one += "segment {0}b {0}J -> {0}a.start 1 m\nfeeder {0}d.black -> {0}a.left\nfeeder {0}d.red -> {0}a.right\n"
    one += "feeder {0}d -> {0}b\n"
    plans = [one.format(name) for name in ("k", "l", "m", "n", "o")]
    alone = set[tuple[str, str, str]]().union(*(told(plan) for plan in plans))
    assert all("One slip" in words for _, _, words in alone) and told("".join(plans)) == alone


def test_a_new_name_is_no_name_of_the_other_railroad() -> None:
    other = SWAPPED.replace("crossed", "") + "reverser R1 in main\n"
    fixes = [fix for one in found(HOPELESS + other) for fix in one.fixes]
    added = {edit.text.split()[1] for fix in fixes for edit in fix.edits if edit.text.startswith("reverser")}
    assert added and "R1" not in added


def test_a_supply_that_feeds_nothing_may_be_of_either() -> None:
    """So the plan stays one."""
    plan = SWAPPED + HOPELESS + "booster B3 15 V 5 A\ndistrict spare from B3\n"
    assert {rule for rule, _, _ in told(plan)} >= {rule for rule, _, _ in told(HOPELESS)}


def test_track_that_all_meets_is_of_one_railroad_by_what_its_lines_name_too() -> None:
    met = 0
    for seed in range(40):
        reading = read(Source("p", (random_wild if seed % 2 else random_sound)(Random(seed), 4)))
        facts = Facts(reading.statements, {"p": reading.source})
        if not facts.layout.faults and facts.layout.pieces and railroads._is_one_track(facts):
            groups = railroads._joined(railroads._names_by_line(facts).values())
            met += 1
            assert any(group.issuperset(facts.layout.pieces) for group in groups)
    assert met > 10

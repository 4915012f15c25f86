"""Bus plugs, rings, and the legs of terminals."""

from __future__ import annotations

import pytest

from layout.plans import POWER, faults, sound
from railbond.layout.model import Wire

EDGE = "endplate W\nsegment a W -> stop 1 m\n"


def test_a_module_takes_its_power_through_its_bus_plug() -> None:
    plan = sound(f"{EDGE}bus plug -> P1\nbus P1 -> P2\nfeeder P2 -> a\n")
    assert [(one.name, one.kind, one.legs) for one in plan.supplies.values()] == [("plug", "plug", ("red", "black"))]
    assert list(plan.terminals) == ["P1", "P2"]


def test_without_a_bus_the_feeders_name_the_plug() -> None:
    plan = sound(f"{EDGE}feeder plug -> a\nfeeder plug.black -> a.right\n")
    assert list(plan.supplies) == ["plug"]
    assert [drop.wire for drop in plan.drops] == [Wire("plug", 0), Wire("plug", 1), Wire("plug", 1)]


def test_a_reverser_of_a_module_is_behind_its_plug() -> None:
    plan = sound(f"{EDGE}reverser turn in plug\nbus plug -> P1\nfeeder P1 -> a\n")
    assert {name: one.kind for name, one in plan.supplies.items()} == {"plug": "plug", "turn": "reverser"}
    assert plan.supplies["turn"].district == "plug"


def test_a_plugs_legs_are_the_two_words_in_use() -> None:
    edge = EDGE.replace("endplate W", "endplate W left white")
    plan = sound(f"{edge}bus plug -> P1\nfeeder P1.blue -> a.left\nfeeder P1.white -> a.right\n")
    assert plan.supplies["plug"].legs == plan.terminals["P1"] == ("blue", "white")
    assert plan.edges["W"].left == 1


def test_a_module_with_a_district_has_no_plug() -> None:
    assert [fault.rule for fault in faults(f"{POWER}{EDGE}feeder plug -> a\n")] == ["unknown-name"]


def test_a_plan_without_endplate_has_no_plug() -> None:
    (fault,) = faults("segment a stop -> stop 1 m\nbus plug -> P1\nfeeder P1 -> a\n")
    assert (fault.rule, fault.at) == ("unknown-name", "plug")


def test_a_misspelled_terminal_is_no_second_plug() -> None:
    (fault,) = faults(f"{EDGE}bus plug -> middle\nbus midle -> east\nfeeder east -> a\n")
    assert fault.message.endswith("did you mean `middle`?")


@pytest.mark.parametrize("back", ["bus P2 -> P1\n", "bus main -> P2\n", "bus P1 -> P2\n"])
def test_a_ring_is_no_fault(back: str) -> None:
    plan = sound(f"{POWER}bus P1 -> P2\n{back}")
    assert len(plan.runs) == 3 and list(plan.terminals) == ["P1", "P2"]


def test_runs_may_be_told_in_any_order() -> None:
    plan = sound(
        "bus P2 -> P3\nbus P1 -> P2\nbus main -> P1 crossed\ndistrict main from B1 legs a b\nbooster B1 15 V 5 A\n"
    )
    assert set(plan.terminals.values()) == {("a", "b")}
    assert [(run.source, run.terminal, run.crossed) for run in plan.runs] == [
        ("P2", "P3", False), ("P1", "P2", False), ("main", "P1", True)
    ]  # fmt: skip


def test_a_terminals_legs_are_those_of_what_feeds_it() -> None:
    text = "booster B1 15 V 5 A\ndistrict one from B1 legs a b\ndistrict two from B1 legs c d\nblock three in two\n"
    plan = sound(f"{text}bus one -> P1\nbus three -> P3\nsegment s stop -> stop 1 m\nfeeder P3.d -> s.left\n")
    assert plan.terminals == {"P1": ("a", "b"), "P3": ("c", "d")}
    assert plan.drops[0].wire == Wire("P3", 1)

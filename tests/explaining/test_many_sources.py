"""Of a run in a plan of hundreds of terminals no more other sources are told than could be tried, none of these is
missed, and what they hang on is counted once."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from railbond.circuit.facts import Facts
from railbond.explaining import runs
from railbond.explaining.search import MOST_TRIED
from railbond.explaining.slip import HandSlip
from railbond.layout.model import Drop
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Bus

TERMINALS = 400


def likeliest(facts: Facts, bus: Bus) -> list[HandSlip]:
    """In the order in which they are tried."""
    slips = runs.run_slips(facts, bus)
    return sorted(slips, key=lambda slip: (-round(slip.weight, 6), slip.kind, slip.names))[:MOST_TRIED]


def test_no_source_is_missed_that_would_be_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    lines = ["plan     P", "booster  B1    15 V  5 A", "district main  from B1  trips 4 A"]
    lines += [f"bus main -> {'E' if one % 7 else 'west'}{one}" for one in range(TERMINALS)]
    lines += ["segment  lead  stop -> stop  90 cm", "feeder   E390 -> lead", ""]
    source = Source("plan", "\n".join(lines))
    facts = Facts(read(source).statements, {"plan": source})
    buses = [one for one in facts.statements if isinstance(one, Bus)]
    assert len(buses) == TERMINALS and not facts.layout.faults
    for bus in (buses[0], buses[7], buses[-1]):
        few = len(list(runs.run_slips(facts, bus)))
        told = likeliest(facts, bus)
        with monkeypatch.context() as patch:
            patch.setattr(runs, "MOST_SOURCES", TERMINALS)
            assert likeliest(facts, bus) == told
            assert len(list(runs.run_slips(facts, bus))) > 2 * few


class Walked(list[Drop]):
    """Drops that count how often somebody goes through all of them."""

    times = 0

    def __iter__(self) -> Iterator[Drop]:
        self.times += 1
        return super().__iter__()


@pytest.mark.parametrize("terminals", [10, 100])
def test_all_drops_are_gone_through_once_a_plan_not_once_a_run_or_source(terminals: int) -> None:
    lines = ["booster  B1    15 V  5 A", "district main  from B1  trips 4 A"]
    for one in range(terminals):
        lines += [f"bus main -> yard{one}", f"segment lead{one} stop -> stop 1 m", f"feeder yard{one} -> lead{one}"]
    source = Source("plan", "\n".join([*lines, ""]))
    facts = Facts(read(source).statements, {"plan": source})
    drops = Walked(facts.layout.drops)
    vars(facts)["layout"] = facts.layout._replace(drops=drops)
    assert len(facts.supply_of_wire) > terminals
    drops.times = 0
    found = [slip for one in facts.statements if isinstance(one, Bus) for slip in runs.run_slips(facts, one)]
    assert len(found) > terminals and drops.times == 1

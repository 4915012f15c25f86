"""Of a run in a plan of hundreds of terminals no more other sources are told than could be tried, none of these is
missed, and what all lines say is gone through once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import pytest

from railbond.circuit.by_kind import of_kind
from railbond.circuit.facts import Facts
from railbond.explaining import catalog, runs, sizes
from railbond.explaining.catalog import slips
from railbond.explaining.conflicts import Conflict
from railbond.explaining.search import MOST_TRIED
from railbond.explaining.slip import HandSlip
from railbond.layout.model import Drop
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Bus

TERMINALS = 400


def read_facts(lines: Iterable[str]) -> Facts:
    """Those of a plan of one district and these lines."""
    text = "\n".join(["booster  B1    15 V  5 A", "district main  from B1  trips 4 A", *lines, ""])
    source = Source("plan", text)
    return Facts(read(source).statements, {"plan": source})


def likeliest(facts: Facts, bus: Bus) -> list[HandSlip]:
    """In the order in which they are tried."""
    slips = runs.run_slips(facts, bus)
    return sorted(slips, key=lambda slip: (-round(slip.weight, 6), slip.kind, slip.names))[:MOST_TRIED]


def test_no_source_is_missed_that_would_be_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    lines = [f"bus main -> {'E' if one % 7 else 'west'}{one}" for one in range(TERMINALS)]
    facts = read_facts([*lines, "segment  lead  stop -> stop  90 cm", "feeder   E390 -> lead"])
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
    each = "bus main -> yard{0}", "segment lead{0} stop -> stop 1 m", "feeder yard{0} -> lead{0}"
    facts = read_facts(line.format(one) for one in range(terminals) for line in each)
    drops = Walked(facts.layout.drops)
    vars(facts)["layout"] = facts.layout._replace(drops=drops)
    assert len(facts.supply_of_wire) > terminals
    drops.times = 0
    found = [slip for one in facts.statements if isinstance(one, Bus) for slip in runs.run_slips(facts, one)]
    assert len(found) > terminals and drops.times == 1


def test_the_numbers_of_all_lines_are_gone_through_once_a_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each run may have the length or the size of another."""
    asked: list[type] = []
    monkeypatch.setattr(sizes, "of_kind", lambda facts, *kinds: asked.extend(kinds) or of_kind(facts, *kinds))
    facts = read_facts(f"bus main -> P{one} {2 + one % 2} m 14 AWG" for one in range(TERMINALS))
    for bus in of_kind(facts, Bus):
        assert bus.length is not None and bus.size is not None
        assert sizes.sizes_of_others(facts, bus, bus.length) == [2.0, 3.0]
        assert sizes.texts_of_others(facts, bus, bus.size) == {"14 AWG": TERMINALS - 1}
    assert asked == [Bus, Bus]


def test_what_only_one_line_has_no_other_has() -> None:
    """A number of one's own is none of another line; the like of another is."""
    facts = read_facts(["bus main -> A 2 m 14 AWG", "bus main -> B 2 m 16 AWG", "bus main -> C 3 m 16 AWG"])
    found = [(sizes.sizes_of_others(facts, one, one.length), dict(sizes.texts_of_others(facts, one, one.size)))
             for one in of_kind(facts, Bus) if one.length and one.size]  # fmt: skip
    assert [(sorted(numbers), texts) for numbers, texts in found] == [
        ([2.0, 3.0], {"16 AWG": 2}),
        ([2.0, 3.0], {"14 AWG": 1, "16 AWG": 1}),
        ([2.0], {"14 AWG": 1, "16 AWG": 1}),
    ]


def test_slips_of_runs_are_made_only_where_some_may_be_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is left is what would be left of all."""
    facts = read_facts(
        [
            *(f"bus main -> P{one} 200 m 24 AWG" for one in range(20)),
            "bus main -> Q 20 m 24 AWG",
            "segment s stop -> stop 1 m",
        ]
    )
    conflict = Conflict(frozenset(one.at for one in facts.statements), (), ("s",))
    every = slips(facts, conflict, units=True)
    assert {"unit", "source", "run"} <= {one.kind for one in every}
    assert slips(facts, conflict, {"unit", "source"}, units=True) == [
        one for one in every if one.kind in ("unit", "source")
    ]
    monkeypatch.setattr(catalog, "run_slips", None)
    assert slips(facts, conflict, {"unit"}, units=True) == [one for one in every if one.kind == "unit"]

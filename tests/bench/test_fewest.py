"""How near the sheet is to the fewest probes: against an exact solver, over every probe there is."""

from __future__ import annotations

import pytest

from bench.readings import RIGHT, facts, labels
from railbond.bench.sheet import Sheet, sheet_of

POWER = "booster B1 15 V 5 A\ndistrict main from B1 trips 4 A\n"
PLANS = {
    "one track": f"{POWER}segment a stop -> stop 1 m\nfeeder main -> a\n",
    "two tracks, gapped": f"{POWER}segment a stop -> J 1 m\nsegment b J -> stop 1 m\ngap J both rails\n"
    "feeder main -> a\nfeeder main -> b\n",
    "a bus": f"{POWER}bus main -> P1\nsegment a stop -> J 1 m\nsegment b J -> stop 1 m\ngap J left rail\n"
    "feeder main -> a\nfeeder P1 -> b\n",
    "a block": f"{POWER}block K in main\nsegment a stop -> J 1 m\nsegment b J -> stop 1 m\ngap J both rails\n"
    "feeder main -> a\nfeeder K -> b\n",
    "a turnout": f"{POWER}turnout T1 left isolated-frog\nsegment a stop -> T1.points 1 m\nfeeder main -> a\n"
    "frog T1 switched from stock rails\n",
}


def fewest(sheet: Sheet) -> int:
    """The fewest probes in the sheet's settings that show what the sheet shows, by a solver."""
    from z3 import Bool, If, Optimize, Or, Sum, sat

    graph, solver, chosen = sheet.points.facts.graph, Optimize(), {}
    hidden = {(one.lost, one.made) for one, _ in sheet.unseen}
    rows: dict[int, list[object]] = {}
    for index, stand in enumerate(sheet.stands):
        right = labels(graph, RIGHT, stand.setting)
        wrong = [labels(graph, mistake, stand.setting) for mistake in sheet.mistakes]
        columns: dict[tuple[bool, ...], tuple[int, int]] = {}
        for one in range(len(right)):
            for other in range(one):
                signature = tuple((w[one] == w[other]) != (right[one] == right[other]) for w in wrong)
                columns.setdefault(signature, (one, other))
        for signature, pair in columns.items():
            chosen[index, pair] = Bool(f"{index} {pair}")
            for number, seen in enumerate(signature):
                if seen:
                    rows.setdefault(number, []).append(chosen[index, pair])
    for number, mistake in enumerate(sheet.mistakes):
        if (mistake.lost, mistake.made) not in hidden:
            solver.add(Or(*rows[number]))
    count = solver.minimize(Sum([If(one, 1, 0) for one in chosen.values()]))
    assert solver.check() == sat
    return int(solver.lower(count).as_long())


@pytest.mark.parametrize("plan", PLANS.values(), ids=PLANS)
def test_the_bound_holds_and_the_sheet_is_near(plan: str) -> None:
    sheet = sheet_of(facts(plan))
    exact = fewest(sheet)
    assert 0 < sheet.fewest <= exact <= len(sheet.probes) <= exact + 2

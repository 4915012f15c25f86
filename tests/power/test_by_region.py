"""What is told region by region is what the whole would tell: ohms to the last digit, losses, copper and effort."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from random import Random
from re import sub

import pytest

from benchmark.railroads import ladders, main_line, shorted, yards
from power.wired import facts_of, random_wired
from railbond.circuit.effort import spent
from railbond.circuit.facts import Facts
from railbond.circuit.power.by_region import within
from railbond.circuit.power.chain import chain
from railbond.circuit.power.least_copper import least_copper
from railbond.circuit.power.solved import SolvedNetwork
from trackplan.amend import set_statement
from trackplan.edit import Edit
from trackplan.statements import Bus, Feeder

MOST = 8
"""Random edits of each plan."""


def random_plan(rng: Random) -> str:
    """A railroad of several districts, or one of a district with reversers' sections."""
    if rng.random() < 0.5:
        return shorted(rng.choice((yards, ladders, main_line))(rng.randint(60, 80)))
    return random_wired(rng, 8)


def edits(facts: Facts, rng: Random) -> Iterator[tuple[Edit, ...]]:
    """A wire that is taken out, turned round, thicker, or goes elsewhere, where the line reads then."""
    lines = [one for one in facts.statements if isinstance(one, Feeder | Bus)]
    names = list(facts.layout.pieces)
    for _ in range(MOST):
        one = rng.choice(lines)
        text = facts.sources[one.at.path].text[one.at.start : one.at.end]
        elsewhere = text.replace(str(one.rail), rng.choice(names)) if isinstance(one, Feeder) else f"{text} crossed"
        made = (set_statement(one, rng.choice(("", elsewhere, sub(r"\d+ AWG", "12 AWG", text), f"{text} crossed"))),)
        with suppress(ValueError):
            facts.revised(made)
            yield made


def told(power: SolvedNetwork) -> list[object]:
    """Every spot, and where the volts of the worst are lost, whatever their nodes are called."""
    spots = [(*spot[:6], *(side.conductor for side in spot.sides)) for spot in power.spots]
    homes = [(power.home(spot), spot) for spot in power.worst.values()]
    return [spots, [chain(home.frame, home.islands, spot) for home, spot in homes]]


def taken(power: SolvedNetwork) -> float:
    """The effort that its spots take."""
    before = spent()
    assert power.spots is not None
    return spent() - before


def test_a_changed_plan_is_told_as_the_whole_would_be() -> None:
    taken_over = [0, 0]
    for seed in range(6):
        rng = Random(seed)
        facts = facts_of(random_plan(rng))
        assert facts.power.spots is not None
        limits = {name: rng.uniform(0.9, 1.3) * spot.ohms for name, spot in facts.power.worst.items()}
        facts.power.may_exceed(limits)
        for made in edits(facts, rng):
            changed = facts.revised(made)
            anew = SolvedNetwork(changed.wiring, changed.proof)
            for name, ohms in limits.items():
                assert changed.power.may_exceed({name: ohms}) == anew.may_exceed({name: ohms})
            assert taken(changed.power) == pytest.approx(taken(anew))
            assert told(changed.power) == told(anew)
            taken_over["engine a" in facts.sources["plan.trackplan"].text] += bool(changed.power.homes)
    assert all(taken_over)


def test_plans_changed_one_after_the_other_are_told_so_too() -> None:
    rng = Random(1)
    facts = facts_of(shorted(main_line(100)))
    assert facts.power.spots is not None
    for made, _ in zip(edits(facts, rng), range(6), strict=False):
        facts = facts.revised(made)
        anew = SolvedNetwork(facts.wiring, facts.proof)
        assert taken(facts.power) == pytest.approx(taken(anew))
        assert told(facts.power) == told(anew)
    assert len({id(home) for home in facts.power.homes.values()}) > 2


@pytest.mark.parametrize("kind", [yards, ladders, main_line])
def test_least_copper_is_that_of_the_whole(kind: object, monkeypatch: pytest.MonkeyPatch) -> None:
    power = facts_of(shorted(kind(80))).power  # type: ignore[operator]
    supplies = [name for name in power.worst if within(power, name) is not power]
    most = {name: power.worst[name].ohms * 0.7 for name in supplies}

    def found() -> list[object]:
        before = spent()
        return [
            (least_copper(power, name, most[name], more), round(spent() - before, 6))
            for name in supplies
            for more in (1, 0)
        ]

    by_region = found()
    monkeypatch.setattr("railbond.circuit.power.least_copper.within", lambda power, supply: power)
    assert len(by_region) > 4 and by_region == found()


def test_what_hangs_together_is_taken_over_where_no_bond_is_another() -> None:
    facts = facts_of(shorted(ladders(60)))
    assert facts.power.worst
    run = next(one for one in facts.statements if isinstance(one, Bus))
    for line, is_same in (("bus d0 -> P0 20 m 12 AWG", True), ("bus d0 -> P0 20 m 24 AWG crossed", False)):
        power = facts.revised((set_statement(run, line),)).power
        assert power.worst
        assert (power.regions.number is facts.power.regions.number) == is_same

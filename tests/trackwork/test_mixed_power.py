"""On random plans with tables, toggles, cabs and common rails, the proof says what walking all settings says."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from hypothesis import given
from hypothesis import settings as tried

from railbond.circuit.facts import Facts
from railbond.circuit.graph import SupplyLeg
from railbond.circuit.questions import Clash
from railbond.rules.analog_digital_gap import bridged
from railbond.rules.unfed_rail import unfed_rails

from .powered import powered_plans, random_powered
from .settings import Potentials, potentials, settings
from .walking import facts_of

FEW = 40
Asked = Callable[[SupplyLeg, SupplyLeg], bool]
Walked = list[tuple[frozenset[tuple[str, str]], Potentials]]


def says(one: frozenset[SupplyLeg], other: frozenset[SupplyLeg], asked: Asked) -> bool:
    return any(asked(mine, theirs) for mine in one for theirs in other)


@given(powered_plans())
@tried(max_examples=FEW)
def test_every_setting_walked(text: str) -> None:
    check(facts_of(text))


def check(facts: Facts) -> bool:
    """Whether the plan was one in which nothing clashes, so that every wheel was looked at too."""
    walked = [(setting, potentials(facts.graph, setting)) for setting in settings(facts.graph)]
    assert not facts.proof.unproven
    clashes: dict[Asked, list[Clash]] = {
        SupplyLeg.opposes: facts.shorts, SupplyLeg.mingles: facts.minglings, SupplyLeg.is_alien_to: facts.aliens,
    }  # fmt: skip
    ever = {asked: any(says(one, one, asked) for _, found in walked for one in found.values()) for asked in clashes}
    assert any(clashes.values()) == any(ever.values())
    assert all(ever[asked] for asked, told in clashes.items() if told)
    fed = {rail for rail in facts.graph.rails if any(found[rail] for _, found in walked)}
    assert set(unfed_rails(facts)) == set(facts.graph.rails) - fed
    if not any(ever.values()):
        check_wheels(facts, walked)
    return not any(ever.values())


def check_wheels(facts: Facts, walked: Walked) -> None:
    opposed = {(roll.one, roll.other) for roll, _ in facts.opposed}
    alien = {(roll.one, roll.other) for roll, _ in bridged(facts)}
    for roll in facts.graph.rolls:
        found = [
            (potential[roll.one], potential[roll.other])
            for setting, potential in walked
            if all(dict(setting)[switch] in good for switch, good in roll.needs)
        ]
        pair = roll.one, roll.other
        assert (pair in opposed) == any(says(*both, SupplyLeg.opposes) for both in found), facts.graph.names[roll.one]
        foreign = any(says(*both, SupplyLeg.is_alien_to) for both in found)
        alike = any(says(*both, lambda one, other: not one.is_alien_to(other)) for both in found)
        assert (pair in alien) == (foreign and not alike), facts.graph.names[roll.one]


def test_many_of_them_are_sound_enough_to_look_at_every_wheel() -> None:
    """Else the check above would say little."""
    looked = [check(facts_of(random_powered(Random(seed)))) for seed in range(40)]
    assert 10 <= sum(looked) < 40

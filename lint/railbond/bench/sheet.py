"""The bench sheet of a plan: how to set the points, where to probe, what must beep and what must not."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from railbond.circuit.facts import Facts

from .alike import Alike
from .bound import bound
from .continuity import Continuity
from .cover import cover
from .mistake import Mistake
from .mistakes import mistakes
from .probes import Bench, Probe
from .settings import Settings
from .test_points import TestPoints
from .unseen import why


class ProbeGroup(NamedTuple):
    """How the points stand for some probes. `thrown` are the switches to throw since the last stand, of the first
    stand all of them."""

    setting: Mapping[str, str]
    thrown: Mapping[str, str]
    probes: tuple[Probe, ...]


class Sheet(NamedTuple):
    """`fewest` is a bound: no sheet with these settings has fewer probes. `naive` is how many probes it takes to try
    every wire, bond, contact, gap and cut jumper by itself, and red against black in each position of the points."""

    stands: tuple[ProbeGroup, ...]
    mistakes: tuple[Mistake, ...]
    unseen: tuple[tuple[Mistake, str], ...]
    unproven: tuple[Mistake, ...]
    fewest: int
    naive: int
    points: TestPoints
    bench: Bench

    @property
    def probes(self) -> list[Probe]:
        """All probes, in order."""
        return [probe for stand in self.stands for probe in stand.probes]


def sheet_of(facts: Facts) -> Sheet:
    """The sheet that shows every single mistake which any probe could show."""
    every = mistakes(facts.wiring)
    metal, points = Continuity(facts.graph, every), TestPoints(facts)
    alike = Alike(metal, every)
    settings = Settings(metal, alike.firsts, is_sound(facts))
    bench = Bench(points, settings, alike)
    stands = _stands(bench, cover(bench))
    hidden = tuple((one, why(one, metal, points)) for one in alike.those(settings.unseen, every))
    unproven = tuple(alike.those(settings.unproven, every))
    return Sheet(stands, tuple(every), hidden, unproven, bound(bench), naive(facts, every), points, bench)


def _stands(bench: Bench, probes: list[Probe]) -> tuple[ProbeGroup, ...]:
    """The probes setting by setting, few points thrown from one to the next, in the order in which one comes by."""
    order, found, before = bench.points.order, [], dict[str, str]()
    for number in fewest_throws(bench.stands):
        setting = bench.stands[number]
        here = (probe for probe in probes if probe.stand == number)
        mine = sorted(here, key=lambda probe: (order[probe.one], order[probe.other]))
        if mine:
            thrown = {switch: at for switch, at in setting.items() if before.get(switch) != at}
            found.append(ProbeGroup(setting, thrown, tuple(mine)))
            before = setting
    return tuple(found)


def fewest_throws(stands: list[dict[str, str]]) -> list[int]:
    """The settings in an order that throws few points: from each on to the nearest that is left, a good way and not
    always the best. The first one stays the first."""
    left, order = list(range(1, len(stands))), [0][: len(stands)]
    while left:
        now = stands[order[-1]].items()
        nearest = min(left, key=lambda number: len(stands[number].items() - now))
        left.remove(nearest)
        order.append(nearest)
    return order


def naive(facts: Facts, every: list[Mistake]) -> int:
    """The probes of a sheet that tries everything by itself, in each position that concerns it."""
    wires = sum(bond.kind in ("wire", "bond", "contact") for bond in facts.graph.bonds)
    apart = sum(one.kind in ("cut not made", "jumper not cut") for one in every)
    return wires + apart + sum(map(len, facts.graph.positions.values()))


def is_sound(facts: Facts) -> bool:
    """Whether supplies are joined to one another in no setting: then a mistake is a matter of its surroundings."""
    return not facts.shorts and not facts.minglings

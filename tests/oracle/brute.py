"""Every question answered the slow and certain way: all settings walked, union-find in each.

Only for plans of at most eight turnouts. Answers are sets of conductors, or of pairs of conductors.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from functools import cached_property

from .rails import Bond, Conductor, Model, Pass, Setting, Source, conflict, drives, holds, mixed, opposed

Pair = tuple[Conductor, Conductor]
Potential = frozenset[Source]

MOST_TURNOUTS = 8


def groups(conductors: Iterable[Conductor], bonds: Iterable[Bond]) -> dict[Conductor, Conductor]:
    """Every conductor's representative, the same for conductors that the bonds join (union-find)."""
    parent = {one: one for one in conductors}

    def find(one: Conductor) -> Conductor:
        while parent[one] != one:
            parent[one] = one = parent[parent[one]]
        return one

    for bond in bonds:
        parent[find(bond.one)] = find(bond.other)
    return {one: find(one) for one in parent}


class Walk:
    """One setting: which conductors are one, and the sources that each of them reaches."""

    def __init__(self, model: Model, setting: Setting, touches: bool = True) -> None:
        self.setting = setting
        bonds = (one for one in model.bonds if holds(one.when, setting) and (touches or not one.touch))
        self.group = groups(model.conductors, bonds)
        reached: dict[Conductor, set[Source]] = defaultdict(set)
        for feed in model.feeds:
            if holds(feed.when, setting):
                reached[self.group[feed.conductor]].add(feed.source)
        self.reached = {one: frozenset(reached[one]) for one in set(self.group.values())}

    def potential(self, conductor: Conductor) -> Potential:
        return self.reached[self.group[conductor]]

    def opposed(self, one: Conductor, other: Conductor) -> bool:
        """Whether a wheel that touches both is a short of its own: not where metal joins the two already."""
        return self.group[one] != self.group[other] and opposed(self.potential(one), self.potential(other))

    def having(self, trouble: Callable[[Source, Source], bool]) -> frozenset[Conductor]:
        """The conductors whose potential holds two sources in this trouble with each other."""
        bad = {one for one, held in self.reached.items() if any(trouble(a, b) for a in held for b in held)}
        return frozenset(one for one, group in self.group.items() if group in bad)


class Brute:
    """The facts of a plan, over all its settings."""

    def __init__(self, model: Model) -> None:
        assert len(model.turnouts) <= MOST_TURNOUTS, "too many settings to walk"
        self.model = model

    @cached_property
    def walks(self) -> list[Walk]:
        return [Walk(self.model, setting) for setting in self.model.settings()]

    @cached_property
    def untouched(self) -> list[Walk]:
        """The same without the touch of any blade."""
        return [Walk(self.model, setting, touches=False) for setting in self.model.settings()]

    def legs_joined(self, setting: Setting) -> frozenset[Conductor]:
        """Conductors that hold both phases, or both legs of one reverser, with no train on the track."""
        return Walk(self.model, setting).having(conflict)

    def districts_joined(self, setting: Setting) -> frozenset[Conductor]:
        """Conductors that hold two supplies of one phase, or a reverser and any other supply."""
        return Walk(self.model, setting).having(mixed)

    @cached_property
    def ever_legs_joined(self) -> frozenset[Conductor]:
        return frozenset().union(*(walk.having(conflict) for walk in self.walks))

    @cached_property
    def ever_districts_joined(self) -> frozenset[Conductor]:
        return frozenset().union(*(walk.having(mixed) for walk in self.walks))

    def opposed_passes(self, kinds: tuple[str, ...] = ("joint", "cut", "frog")) -> frozenset[Pair]:
        """Passes at which a train set for them is the short, in some setting."""
        rolls = (one for one in self.model.passes if one.kind in kinds)
        return frozenset((one.one, one.other) for one in rolls if self._set(one))

    def _set(self, one: Pass) -> bool:
        return any(holds(one.when, walk.setting) and walk.opposed(one.one, one.other) for walk in self.walks)

    @cached_property
    def set_against(self) -> frozenset[Pair]:
        """Joints that are shorts only for a train that meets exactly one turnout standing against it."""
        joints = (one for one in self.model.passes if one.kind == "joint")
        return frozenset((one.one, one.other) for one in joints if self._against(one) and not self._set(one))

    def _against(self, one: Pass) -> bool:
        return any(missed(one, walk.setting) == 1 and walk.opposed(one.one, one.other) for walk in self.walks)

    @cached_property
    def open_points(self) -> frozenset[Pair]:
        """Closure rails and the stock rails that they lie beside, opposed while the blade stands open."""
        return frozenset(
            (blade.closure, blade.stock)
            for blade in self.model.blades
            if any(holds(blade.open, w.setting) and w.opposed(blade.closure, blade.stock) for w in self.walks)
        )

    @cached_property
    def _frog_units(self) -> dict[Conductor, frozenset[Conductor]]:
        """Each metal frog that stands alone, with the frog rails that are always one with it."""
        group = groups(self.model.conductors, (bond for bond in self.model.bonds if not bond.when))
        units = {}
        for frog in self.model.frogs:
            unit = frozenset(one for one in group if group[one] == group[frog])
            if all(one[0] == frog[0] and "frog" in str(one[1]) for one in unit):
                units[frog] = unit
        return units

    @cached_property
    def lone_frog_metal(self) -> frozenset[Conductor]:
        return frozenset().union(*self._frog_units.values())

    @cached_property
    def never_fed(self) -> frozenset[Conductor]:
        """Rails without power in every setting. A frog that stands alone is another question."""
        rails = set(self.model.rails) - self.lone_frog_metal
        return frozenset(rail for rail in rails if not any(walk.potential(rail) for walk in self.walks))

    @cached_property
    def fed_through_points(self) -> frozenset[Conductor]:
        """Rails with power in some setting that have it in none once no blade touches its stock rail."""
        rails = set(self.model.rails) - self.lone_frog_metal - self.never_fed
        return frozenset(rail for rail in rails if not any(walk.potential(rail) for walk in self.untouched))

    @cached_property
    def without_volts(self) -> frozenset[Pair]:
        """Left and right rails, beside each other where pieces meet, that each have power in some setting and carry
        opposite legs of one supply, by way of metal or of a unit that gives whatever is asked for, in none."""
        return frozenset(pair for pair in self.model.pairs if self._fed(pair) and not self._driven(pair))

    def _fed(self, pair: Pair) -> bool:
        return all(any(walk.potential(rail) for walk in self.walks) for rail in pair)

    def _driven(self, pair: Pair) -> bool:
        return any(drives(*(self._given(walk, rail) for rail in pair)) for walk in self.walks)

    def _given(self, walk: Walk, rail: Conductor) -> Potential:
        """What a rail carries. Metal that is always a supply's own is nothing that a unit elsewhere turns round."""
        own = self._own[rail]
        held = any(one.kind == "fixed" for one in own)
        return frozenset(one for one in walk.potential(rail) if not held or one.kind != "frog unit" or one in own)

    @cached_property
    def _own(self) -> dict[Conductor, Potential]:
        """What each conductor carries by bonds and wires alone that hold in every setting."""
        group = groups(self.model.conductors, (bond for bond in self.model.bonds if not bond.when))
        own: dict[Conductor, set[Source]] = defaultdict(set)
        for feed in self.model.feeds:
            if not feed.when:
                own[group[feed.conductor]].add(feed.source)
        return {one: frozenset(own[group[one]]) for one in group}

    @cached_property
    def unfed_frogs(self) -> frozenset[Conductor]:
        """Metal frogs that stand alone (but for their frog rails) and have no source in any setting."""
        return frozenset(frog for frog in self._frog_units if not any(walk.potential(frog) for walk in self.walks))

    def supplies(self, conductors: Iterable[Conductor]) -> frozenset[Source]:
        """All that reaches any of some conductors in any setting."""
        return frozenset().union(*(walk.potential(one) for one in conductors for walk in self.walks))


def missed(one: Pass, setting: Setting) -> int:
    """How many of the turnouts that a pass asks for stand otherwise."""
    return sum(setting[turnout] != route for turnout, route in one.when)

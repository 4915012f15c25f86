"""The next probe: the one whose answer tells the most of the explanations that are left apart, for what it costs.

A probe may ask to take something off first. What it shows then follows from the rail graph without those bonds, so
that a thing that is off is one more part of a setting. Tried are: probes as things stand; readings that were wrong,
with half of the suspected wires off; the bare ends of suspected wires; and where all that tells nothing, for two
explanations whatever joins their metal in another way, off one after the other until a probe tells them apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import log2, sqrt
from typing import NamedTuple

from .components import FullSetting
from .diagnosis import Cause, Diagnosis
from .effect import Effect
from .likelihood import COSTS
from .observation import Observation
from .prediction import NOTHING
from .probe_places import ProbePlaces
from .removable import OFF, off, what_is_off, without_parts
from .separation import Separation

MOST_CAUSES = 90
MOST_STANDS = 10
LEAST = 1e-9
"""Bits below which an answer tells nothing."""
SUSPECTS = 10
"""Wires that are tried by themselves."""

Pair = tuple[int, int]


class Next(NamedTuple):
    """Where to probe, in which setting, what is off there, how much the answer tells (bits), and what it costs."""

    one: int
    other: int
    stand: FullSetting
    information: float
    cost: float = 1.0

    @property
    def worth(self) -> float:
        """How much it tells for what it costs: a step that costs four times as much must tell twice as much."""
        return round(self.information / sqrt(self.cost), 6)


class Chooser:
    """Chooses probes for one diagnosis."""

    def __init__(self, diagnosis: Diagnosis, stands: Iterable[FullSetting]) -> None:
        self.diagnosis = diagnosis
        self.metal, self.points, self.prediction = diagnosis.metal, diagnosis.points, diagnosis.prediction
        self.stands = [dict(stand) for stand in stands]
        self.removable = diagnosis.screws.removable
        whole = {name: one for name, one in self.removable.items() if not one.part_of}
        self.carried = {number: name for name, one in whole.items() for number in one.numbers}
        """What goes off with each bond."""
        self.carried |= {n: self.carried[s] for n, s in diagnosis.screws.screw.items() if s in self.carried}
        supplies = diagnosis.facts.layout.supplies
        self.wires = {name: base for name, base in diagnosis.facts.wiring.wires.items() if name in supplies}
        self.places = ProbePlaces(self.metal, self.points, self.removable)
        self.separation = Separation(self.metal, self.carried)

    def best(self, causes: list[Cause], observed: Sequence[Observation] = ()) -> Next | None:
        """The probe that tells the most for its cost among what fits best; None where no probe, with whatever off,
        tells any two of that apart. While nothing is wrong, nothing is taken off."""
        fitting = [one for one in causes if one.misses == causes[0].misses]
        some = fitting[:MOST_CAUSES]
        now = dict(observed[-1].stand) if observed else dict(self.stands[0])
        sound = any(one.mistake is NOTHING for one in fitting)
        options = list(self._direct(some, now))
        if not sound and len(fitting) > 1:
            options += self._halves(some, observed, now)
            options += self._bare_ends(some, now)
        found = max(
            (one for one in options if one.information > LEAST),
            key=lambda one: (one.worth, one.information),
            default=None,
        )
        if found or len(fitting) < 2:
            return found
        return self._separated(fitting, now, sound)

    def _direct(self, causes: list[Cause], now: FullSetting) -> Iterator[Next]:
        """Probes with nothing more taken off, in the settings of the sheet."""
        taken = off(what_is_off(now))
        stands = [now, *({**stand, **taken} for stand in self.stands[:MOST_STANDS])]
        if taken:
            stands += [stand for stand in self.stands[:2]]
        for stand in stands:
            effects = [self.prediction.effect(cause.mistake, stand) for cause in causes]
            pairs = self.places.likely(effects, stand)
            yield from (self._next(pair, stand, causes, effects, now) for pair in pairs)

    def _next(
        self, pair: Pair, stand: FullSetting, causes: list[Cause], effects: list[Effect], now: FullSetting
    ) -> Next:
        beeps = sum(c.weight for c, effect in zip(causes, effects, strict=True) if effect.joined(*pair))
        share = beeps / sum(cause.weight for cause in causes)
        order = self.points.order
        ends = sorted((self.places.touch[pair[0]], self.places.touch[pair[1]]), key=lambda end: (order[end], end))
        return Next(ends[0], ends[1], stand, entropy(share), self.cost(now, stand))

    def cost(self, now: FullSetting, then: FullSetting) -> float:
        """What it takes to get from one setting to another, and the reading there."""
        before, after = set(what_is_off(now)), set(what_is_off(then))
        moved = [self.removable[name] for name in before ^ after]
        places = {one.place for one in moved if one.wires}
        joiners = sum(not one.wires for one in moved)
        throws = sum(now.get(switch) != at for switch, at in then.items() if not switch.startswith(OFF))
        steps = {"beep": 1, "place": len(places), "wire": sum(one.wires for one in moved), "throw": throws}
        return sum(COSTS[what][0] * many for what, many in (steps | {"joiner": joiners}).items())

    def _halves(self, causes: list[Cause], observed: Iterable[Observation], now: FullSetting) -> Iterator[Next]:
        """A wrong reading again, with some of the wires off that explanations are about, and the others of these on.
        What no explanation is about any more stays as it is."""
        suspects = self._suspects(causes)
        kept = [name for name in what_is_off(now) if (self.removable[name].part_of or name) not in suspects]
        parts = [*_splits(suspects), *self._single_wires(suspects)]
        for plain, pair in self._wrong(causes, observed):
            for names in parts:
                stand = {**plain, **off(without_parts((*kept, *names), self.removable))}
                if pair[0] != pair[1]:
                    effects = [self.prediction.effect(cause.mistake, stand) for cause in causes]
                    yield self._next(pair, stand, causes, effects, now)

    def _wrong(self, causes: list[Cause], observed: Iterable[Observation]) -> list[tuple[FullSetting, Pair]]:
        """Readings that were wrong, the last two of them; before there is one, both legs of a supply that tripped."""
        wrong = [one for one in observed if self._is_wrong(one)]
        beeps = [one for one in wrong if one.kind == "beeps"][-2:]
        if beeps:
            return [(_plain(one.stand), (self.metal.atom[one.ends[0]], self.metal.atom[one.ends[1]])) for one in beeps]
        found = []
        for one in (one for one in wrong if one.kind in ("trips", "wheel")):
            for base in self.wires.values():
                pair = self.metal.atom[base], self.metal.atom[base + 1]
                effects = (self.prediction.effect(cause.mistake, one.stand) for cause in causes)
                share = sum(c.weight for c, effect in zip(causes, effects, strict=True) if effect.joined(*pair))
                found.append((share, _plain(one.stand), pair))
        return [(stand, pair) for _, stand, pair in sorted(found, key=lambda one: -one[0])[:1]]

    def _single_wires(self, suspects: Mapping[str, float]) -> Iterator[list[str]]:
        """One wire of a pair alone, for the likeliest pairs."""
        likely = sorted(suspects, key=lambda name: -suspects[name])[:3]
        yield from ([one.name] for one in self.removable.values() if one.part_of in likely)

    def _is_wrong(self, one: Observation) -> bool:
        return self.prediction.answer(NOTHING, one) != one.answer

    def _suspects(self, causes: list[Cause]) -> dict[str, float]:
        """The wires that explanations are about, in the order in which one comes by, with their weights."""
        found: dict[str, float] = {}
        for cause in causes:
            for name in dict.fromkeys(self.carried[n] for n in cause.mistake.lost if n in self.carried):
                if self.removable[name].wires:
                    found[name] = found.get(name, 0.0) + cause.weight
        return dict(sorted(found.items(), key=lambda one: self._along(one[0])))

    def _along(self, name: str) -> tuple[str, float]:
        """Where one is: by terminals, and along the track at each."""
        one = self.removable[name]
        bonds = (self.metal.graph.bonds[number] for number in one.numbers)
        return one.place, min((self.points.order[end] for bond in bonds for end in bond[:2]), default=0.0)

    def _bare_ends(self, causes: list[Cause], now: FullSetting) -> Iterator[Next]:
        """The bare ends of the likeliest wires, each against the rails that it may be soldered to."""
        suspects = self._suspects(causes)
        likely = sorted(suspects, key=lambda name: -suspects[name])[:SUSPECTS]
        for name in likely:
            stand = {**_plain(now), **off(without_parts((*what_is_off(now), name), self.removable))}
            effects = [self.prediction.effect(cause.mistake, stand) for cause in causes]
            for pair in self._at_bare_ends(name):
                yield self._next(pair, stand, causes, effects, now)

    def _at_bare_ends(self, name: str) -> Iterator[Pair]:
        """Each bare end with each rail that a wire of the same feeder goes to."""
        bare = self.removable[name].bare
        solder = {bond.one: bond.other for bond in self.metal.graph.bonds if bond.one in bare and bond.when is None}
        for end in bare:
            for rail in solder.values():
                yield self.metal.atom[end], self.metal.atom[rail]

    def _separated(self, fitting: list[Cause], now: FullSetting, sound: bool) -> Next | None:
        """A probe that tells the first explanation from any other one, with as little off as that takes."""
        if sound:
            return None
        first = fitting[0].mistake
        for other in fitting[1:]:
            found = self.separation.of(first, other.mistake, now, self.stands)
            if found:
                stand, pair = found
                some = fitting[:MOST_CAUSES]
                some = some if other in some else [*some, other]
                effects = [self.prediction.effect(cause.mistake, stand) for cause in some]
                return self._next(pair, stand, some, effects, now)
        return None


def _splits(suspects: Mapping[str, float]) -> Iterator[list[str]]:
    """Parts of the suspects that hold about a half, a quarter and three quarters of the weight, and each by itself."""
    names, total = list(suspects), sum(suspects.values())
    for share in (0.5, 0.25, 0.75):
        sum_up, part = 0.0, []
        for name in names:
            if sum_up >= share * total:
                break
            sum_up += suspects[name]
            part.append(name)
        if len(part) > 1:
            yield part
    yield from ([name] for name in sorted(names, key=lambda one: -suspects[one])[:SUSPECTS])


def _plain(stand: FullSetting) -> FullSetting:
    """A setting with everything on."""
    return {switch: at for switch, at in stand.items() if not switch.startswith(OFF)}


def entropy(share: float) -> float:
    """Bits that a yes-or-no answer tells whose chance of yes is `share`."""
    if not LEAST < share < 1 - LEAST:
        return 0.0
    return -share * log2(share) - (1 - share) * log2(1 - share)

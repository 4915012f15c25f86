"""The tool's answers about a plan, put in the oracle's words so that the two can be compared."""

from __future__ import annotations

from collections.abc import Iterator

from oracle.brute import Brute, Pair
from oracle.plan_model import model_of
from oracle.rails import Conductor
from railbond.circuit.entering import TrackVolts
from railbond.circuit.facts import Facts
from railbond.circuit.questions import against, opposed
from railbond.layout.model import Meeting, Piece
from railbond.rules.fed_through_points import touch_fed_rails
from railbond.rules.unfed_rail import unfed_rails
from trackplan.read import read
from trackplan.span import Source


def facts_of(text: str) -> Facts:
    """The tool's facts of a plan that is well formed."""
    source = Source("plan.trackplan", text)
    reading = read(source)
    assert not reading.broken, reading.broken
    facts = Facts(reading.statements, {source.path: source})
    assert not facts.layout.faults, facts.layout.faults
    return facts


def brute_of(text: str) -> Brute:
    return Brute(model_of(text))


class Answers:
    """What the tool says, conductor by conductor."""

    def __init__(self, text: str) -> None:
        self.facts = facts_of(text)
        self.key: dict[int, Conductor] = {}
        for piece in self.facts.layout.pieces.values():
            self._name(piece)

    def _name(self, piece: Piece) -> None:
        first, counts = self.facts.wiring.first[piece.name], {"left rail": 0, "right rail": 0}
        for index, metal in enumerate(piece.template.metals):
            if piece.template.positions:
                self.key[first + index] = (piece.name, _through_and_diverging(metal.words))
            else:
                self.key[first + index] = (piece.name, metal.words.split()[0], counts[metal.words])
                counts[metal.words] += 1

    def keys(self, conductors: object) -> frozenset[Conductor]:
        return frozenset(self.key[one] for one in conductors)  # type: ignore[attr-defined]

    def pairs(self, pairs: object) -> frozenset[frozenset[Conductor]]:
        return frozenset(frozenset(self.key[one] for one in pair) for pair in pairs)  # type: ignore[attr-defined]

    @property
    def is_joined(self) -> bool:
        return bool(self.facts.shorts or self.facts.minglings)

    def opposed(self) -> frozenset[frozenset[Conductor]]:
        return self.pairs((roll.one, roll.other) for roll, _ in self.facts.opposed)

    def set_against(self) -> frozenset[frozenset[Conductor]]:
        proper = {(roll.one, roll.other) for roll, _ in self.facts.opposed}
        joints = (roll for roll in self.facts.graph.rolls if roll.meeting is not None)
        return self.pairs(
            (roll.one, roll.other)
            for roll in joints
            if (roll.one, roll.other) not in proper and against(self.facts.proof, roll) is not None
        )

    def open_points(self) -> frozenset[frozenset[Conductor]]:
        blades = self.facts.graph.blades
        return self.pairs(
            (blade.closure, blade.stock)
            for blade in blades
            if opposed(self.facts.proof, blade.closure, blade.stock, ((blade.when[0], (blade.when[1],)),)) is not None
        )

    def without_volts(self) -> frozenset[frozenset[Conductor]]:
        """The pairs at which the tool finds no volts in any setting, of all that are the same metal."""
        volts, one_metal = TrackVolts(self.facts.wiring, self.facts.proof), self.facts.proof.component
        never = {frozenset(one_metal[rail] for rail in place.pair) for place in volts.never}
        found = (pair for meeting in self.facts.layout.meetings for pair in self._beside(meeting))
        return self.pairs(pair for pair in found if frozenset(one_metal[rail] for rail in pair) in never)

    def at_a_joint(self, pair: frozenset[Conductor]) -> bool:
        """Whether two rails lie beside each other where pieces meet, and not only behind a cut within a segment."""
        return pair in self.pairs(pair for meeting in self.facts.layout.meetings for pair in self._beside(meeting))

    def _beside(self, meeting: Meeting) -> Iterator[tuple[int, int]]:
        for at in (meeting.one, meeting.other):
            yield self.facts.wiring.rail(at, "left"), self.facts.wiring.rail(at, "right")

    def never_fed(self) -> frozenset[Conductor]:
        return self.keys(unfed_rails(self.facts))

    def fed_through_points(self) -> frozenset[Conductor]:
        return self.keys(touch_fed_rails(self.facts))

    def unfed_frogs(self) -> frozenset[Conductor]:
        facts = self.facts
        return self.keys(f for f in facts.graph.frogs if f in facts.frog_units and not facts.proof.reachable(f))

    def reverses(self) -> bool:
        return bool(self.facts.turning.odd_cycles())


def unordered(pairs: frozenset[Pair]) -> frozenset[frozenset[Conductor]]:
    return frozenset(frozenset(pair) for pair in pairs)


def _through_and_diverging(words: str) -> str:
    """A wye's routes in the oracle's words."""
    for wye, plain in (("left ", "through "), ("right ", "diverging ")):
        if words.startswith(wye):
            return plain + words.removeprefix(wye)
    return words

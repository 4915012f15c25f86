"""All that a rule may ask of a plan: its layout, its rail graph and what has been proven of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cached_property
from typing import TYPE_CHECKING

from railbond.findings import Finding
from railbond.layout.build import build
from railbond.layout.limits import limit
from railbond.layout.model import Layout
from railbond.trackwork import expand, template_for
from trackplan.edit import Edit, revise
from trackplan.span import Source as Text
from trackplan.statements import Broken, Statement

from .graph import Bond, RailGraph, Roll, Setting, SupplyLeg
from .polarity import Swap, fewest_swaps
from .proof import Proof
from .questions import Clash, aliens, minglings, opposed, shorts
from .turning import Turning
from .wiring import Wiring, wire_up
from .witness import Witness

if TYPE_CHECKING:
    from .power.solved import SolvedNetwork


class Facts:
    """A plan's facts, each worked out when first asked for. `sources` are the texts that its places refer to."""

    def __init__(
        self, statements: Iterable[Statement], sources: Mapping[str, Text], broken: Iterable[Broken] = ()
    ) -> None:
        self.statements = self.as_read = list(statements)
        self.made: tuple[Edit, ...] = ()
        """The edits that made these statements of those `as_read`."""
        self.sources = sources
        self.broken = tuple(broken)
        self.told: list[Finding] = []
        """What earlier rules have told, for the rules that judge acceptances."""

    def revised(self, edits: Iterable[Edit]) -> Facts:
        """The facts of the plan as it would be after the edits, its places still those of the text as it is.

        Raises ValueError where the edited text does not read.
        """
        made = (*self.made, *edits)
        facts = Facts(revise(self.as_read, made, self.sources), self.sources, self.broken)
        facts.as_read, facts.made = self.as_read, made
        return facts

    @cached_property
    def layout(self) -> Layout:
        return build(self.statements, template_for, self.broken_words, expand=expand)

    @cached_property
    def broken_words(self) -> frozenset[str]:
        """Every word of the lines that could not be read: a name among them is not told again as unknown."""
        lines = (self.sources[one.at.path] for one in self.broken if one.at.path in self.sources)
        spans = zip(lines, (one.at for one in self.broken if one.at.path in self.sources), strict=True)
        texts = (source.line_text(source.line_of(at.start)) for source, at in spans)
        return frozenset(word for text in texts for word in text.split())

    @cached_property
    def wiring(self) -> Wiring:
        return wire_up(self.layout)

    @property
    def budget(self) -> int:
        """Steps that the proof may take in one island of turnouts."""
        return int(limit(self.layout, "proof-steps") or 0)

    @property
    def graph(self) -> RailGraph:
        return self.wiring.graph

    @cached_property
    def proof(self) -> Proof:
        return Proof(self.graph, budget=self.budget)

    @cached_property
    def untouched(self) -> Proof:
        """The proof with the touch of every blade taken away."""
        return Proof(self.graph, lambda bond: bond.kind != "touch", self.budget)

    @cached_property
    def always(self) -> Proof:
        """The proof with only the bonds that hold in every setting."""
        return Proof(self.graph, _always)

    @cached_property
    def shorts(self) -> list[Clash]:
        return shorts(self.proof)

    @cached_property
    def minglings(self) -> list[Clash]:
        return minglings(self.proof)

    @cached_property
    def aliens(self) -> list[Clash]:
        return aliens(self.proof)

    @cached_property
    def opposed(self) -> list[tuple[Roll, Setting]]:
        """Every pass along a route that is set which goes from one phase to the other, in its least setting."""
        asked = ((roll, opposed(self.proof, roll.one, roll.other, roll.needs)) for roll in self.graph.rolls)
        return [(roll, setting) for roll, setting in asked if setting is not None]

    @cached_property
    def swaps(self) -> list[Swap]:
        """The fewest feeders, bus runs and frogs' contacts to swap so that connected track is fed one way round."""
        return fewest_swaps(self.turning)

    @cached_property
    def supply_of_wire(self) -> dict[str, frozenset[str]]:
        """The supplies whose bus runs reach each terminal; a supply reaches itself."""
        reach = {name: {name} for name in self.layout.supplies}
        for _ in range(len(self.layout.runs) + 1):
            before = sum(map(len, reach.values()))
            for run in self.layout.runs:
                reach.setdefault(run.terminal, set()).update(reach.get(run.source, ()))
            if sum(map(len, reach.values())) == before:
                break
        return {name: frozenset(supplies) for name, supplies in reach.items()}

    @cached_property
    def turning(self) -> Turning:
        return Turning(self.wiring, self.proof)

    @cached_property
    def power(self) -> SolvedNetwork:
        from .power.solved import SolvedNetwork

        return SolvedNetwork(self.wiring, self.proof)

    @cached_property
    def witness(self) -> Witness:
        return Witness(self.graph)

    @cached_property
    def owners(self) -> list[str]:
        """The piece of each conductor; an empty name for a wire."""
        owners = [""] * len(self.graph.names)
        for name, piece in self.layout.pieces.items():
            first = self.wiring.first[name]
            owners[first : first + len(piece.template.metals)] = [name] * len(piece.template.metals)
        return owners

    def piece_of(self, conductor: int) -> str:
        """The name of the piece that a conductor is part of."""
        return self.owners[conductor]

    @cached_property
    def neighbours(self) -> dict[str, list[tuple[str, int, int]]]:
        """For each piece the pieces it meets, rail by rail: their name, its own rail, their rail."""
        found: dict[str, list[tuple[str, int, int]]] = {}
        for meeting in self.layout.meetings:
            for side in ("left", "right"):
                one, other = self.wiring.across(meeting, side)
                found.setdefault(meeting.one.piece, []).append((meeting.other.piece, one, other))
                found.setdefault(meeting.other.piece, []).append((meeting.one.piece, other, one))
        return found

    @cached_property
    def frog_units(self) -> dict[int, str]:
        """Conductors of frogs that stand alone: one metal with nothing but frog rails. Each with its turnout."""
        components: dict[int, list[int]] = {}
        for conductor, component in enumerate(self.always.component):
            components.setdefault(component, []).append(conductor)
        units: dict[int, str] = {}
        for frog, name in self.graph.frogs.items():
            unit = components[self.always.component[frog]]
            first = self.wiring.first[name]
            own = {first + f.metal for f in self.layout.pieces[name].template.frogs}
            own |= {first + rail for f in self.layout.pieces[name].template.frogs for rail in f.rails.values()}
            if own.issuperset(unit):
                units |= dict.fromkeys(unit, name)
        return units

    def leg(self, source: SupplyLeg) -> str:
        """A source as the plan writes it: `main.red`."""
        supply = self.layout.supplies.get(source.supply)
        return f"{source.supply}.{supply.legs[source.leg]}" if supply else source.supply


def _always(bond: Bond) -> bool:
    return bond.when is None

"""All that a rule may ask of a plan: its layout, its rail graph and what has been proven of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property
from types import MappingProxyType

from railbond.layout.build import build
from railbond.layout.limits import limit
from railbond.layout.model import Layout
from railbond.trackwork import expand, template_for
from trackplan.read import words_of
from trackplan.span import Source as Text
from trackplan.statements import Accept, Broken, Statement
from trackplan.typed import TYPE_CHECKING, Self, cast

from .effort import COPPER, Budget, spend
from .frogs_alone import frogs_alone
from .graph import RailGraph, Roll, Setting, SupplyLeg, one_metal
from .of_graph import befores, of_graph, of_proof, of_same_graph, of_track, owners_of
from .proof import Proof
from .questions import Clash, aliens, minglings, opposed_passes, shorts
from .turning import Turning
from .wire_up import wire_up
from .wiring import Wiring, supplies_by_wire
from .witness import Witness

if TYPE_CHECKING:
    from trackplan.edit import Edit

    from .bus_tree import Swap
    from .polarity import Polarity
    from .power.solved import SolvedNetwork


class Facts:
    """A plan's facts, each worked out when first asked for, and never changed. `sources` are the texts of its places.

    `made` are the edits that made the statements of those `as_read`. `live` names pieces whose dead metal somebody has
    told already, so that engines find power there. Where nobody asks for mends, as in a trial, `with_fixes` is false:
    rules then leave out what takes long, but for mends of causes. `before` are the facts that these were revised from;
    `kept` is what others found out (see `keeping`); `reserved` are names that nothing bears and no mend may give."""

    def __init__(
        self,
        statements: Iterable[Statement],
        sources: Mapping[str, Text],
        broken: Iterable[Broken] = (),
        as_read: tuple[Statement, ...] | None = None,
        made: tuple[Edit, ...] = (),
        with_fixes: bool = True,
        before: Facts | None = None,
        reserved: frozenset[str] = frozenset(),
    ) -> None:
        self.reserved, self.with_fixes, self.before = reserved, with_fixes, before
        self.statements = tuple(statements)
        self.as_read = self.statements if as_read is None else as_read
        self.made = made
        self.sources = MappingProxyType(dict(sources))
        self.broken = tuple(broken)
        self.live: frozenset[str] = frozenset()
        self.also_accepted: tuple[Accept, ...] = ()
        self.kept: dict[object, object] = {}

    def __setattr__(self, name: str, value: object) -> None:
        if name in self.__dict__:
            raise AttributeError(f"facts are not changed: {name} is known already")
        super().__setattr__(name, value)

    def revised(self, edits: Iterable[Edit]) -> Facts:
        """The facts of the plan as it would be after the edits, its places still those of the text as it is. Raises
        ValueError where they cannot be made together or the edited text does not read."""
        from trackplan.again import revised_again

        made = (*self.made, *edits)
        known = self.statements if self.made else None
        statements = revised_again(self.as_read, made, self.sources, known, self.begins)
        new = Facts(statements, self.sources, self.broken, self.as_read, made, self.with_fixes, self, self.reserved)
        return new._with(also_accepted=self.also_accepted) if self.also_accepted else new

    def tried(self, edits: Iterable[Edit]) -> Self | None:
        """The same, for whoever cannot know that the edits can be made; None where that raises ValueError."""
        try:
            return cast("Self", self.revised(edits))
        except ValueError:
            return None

    def with_more(self, statements: Iterable[Statement], broken: Iterable[Broken]) -> Facts:
        """The facts of the plan with more statements read, and only those lines left that could not be."""
        return Facts((*self.statements, *statements), self.sources, broken, with_fixes=self.with_fixes, before=self)

    def of_lines(self, own: Iterable[Statement], reserved: frozenset[str]) -> Facts:
        """The facts of some lines of the plan, none of which is broken."""
        return Facts(own, self.sources, with_fixes=self.with_fixes, reserved=reserved)

    def in_trial(self) -> Self:
        """The same facts, of which nobody asks for fixes."""
        return self._with(with_fixes=False)

    def taking_as_live(self, pieces: Iterable[str]) -> Self:
        """The same facts, but engines find power on the dead metal of these pieces."""
        return self if self.live.issuperset(named := frozenset(pieces)) else self._with(live=self.live | named)

    def accepting(self, more: tuple[Accept, ...], sources: Mapping[str, Text]) -> Self:
        """The same facts, of which this is accepted too, in lines that are behind all others of the `sources`."""
        own = [one for one in self.layout.acceptances if one not in self.also_accepted]
        return self._with(also_accepted=more, layout=self.layout._replace(acceptances=[*own, *more]), sources=sources)

    def _with(self, **changed: object) -> Self:
        """The same facts but for that. What is known already is shared."""
        facts = object.__new__(type(self))
        facts.__dict__.update(self.__dict__, **changed)
        return facts

    @cached_property
    def layout(self) -> Layout:
        if known := self.before:
            from .rewire import relaid

            if changed := relaid(known, self):
                return changed
        spend(len(self.statements))
        layout = build(self.statements, template_for, self.broken_words, expand=expand)
        return layout._replace(acceptances=[*layout.acceptances, *self.also_accepted])

    @cached_property
    def broken_words(self) -> frozenset[str]:
        """Every word of the lines that could not be read: a name among them is not told again as unknown."""
        return frozenset(words_of(self.broken, self.sources))

    @cached_property
    def wiring(self) -> Wiring:
        if self.before:
            from .rewire import rewire

            return rewire(self.before, self.layout, bool(self.made))
        return wire_up(self.layout)

    begins: cached_property[list[int]] = cached_property(lambda self: [one[0][1] for one in self.as_read])
    alike: cached_property[Facts | None] = cached_property(of_same_graph)
    owners: cached_property[tuple[str, ...]] = cached_property(owners_of)

    @property
    def budget(self) -> int:
        """Steps that the proof may take in one island of turnouts."""
        return int(limit(self.layout, "proof-steps") or 0)

    @property
    def graph(self) -> RailGraph:
        return self.wiring.graph

    @cached_property
    def proof(self) -> Proof:
        if self.before:
            from .rewire import reproven

            return reproven(self)
        return Proof(self.graph, budget=self.budget, metal=self.metal)

    @of_graph
    def untouched(self) -> Proof:
        """The proof with the touch of every blade taken away."""
        return Proof(self.graph, lambda bond: bond.kind != "touch", self.budget, self.proof)

    @of_proof
    def shorts(self) -> tuple[Clash, ...]:
        return tuple(shorts(self.proof))

    @of_proof
    def minglings(self) -> tuple[Clash, ...]:
        return tuple(minglings(self.proof))

    @of_proof
    def aliens(self) -> tuple[Clash, ...]:
        return tuple(aliens(self.proof))

    @of_proof
    def opposed(self) -> tuple[tuple[Roll, Setting], ...]:
        """Every pass along a route that is set which goes from one phase to the other, in its least setting."""
        return tuple(opposed_passes(self.proof, self.before.opposed if self.before else ()))

    @cached_property
    def polarity(self) -> Polarity:
        from .polarity import Polarity

        return Polarity(self.turning)

    @property
    def swaps(self) -> Sequence[Swap]:
        """The fewest feeders, runs and frogs' contacts to swap so that connected track is fed one way round."""
        return self.polarity.swaps

    @cached_property
    def supply_of_wire(self) -> Mapping[str, frozenset[str]]:
        """The supplies whose bus runs reach each terminal; a supply reaches itself."""
        return MappingProxyType(supplies_by_wire(self.layout))

    @cached_property
    def turning(self) -> Turning:
        known = next((one for one in befores(self) if one.proof is self.proof), self.before)
        is_alike = known and known.wiring.first is self.wiring.first
        return Turning(self.wiring, self.proof, known.turning if known and is_alike else None)

    @cached_property
    def power(self) -> SolvedNetwork:
        from .power.of_facts import network_of

        return network_of(self)

    @cached_property
    def copper_budget(self) -> Budget:
        """What may be spent on looking for the least copper, from the first question for it on."""
        return Budget(COPPER + len(self.statements))

    @of_graph
    def witness(self) -> Witness:
        return Witness(self.graph)

    def piece_of(self, conductor: int) -> str:
        """The name of the piece that a conductor is part of; empty for a wire."""
        return self.owners[conductor]

    @cached_property
    def neighbors(self) -> Mapping[str, tuple[tuple[str, int, int], ...]]:
        """For each piece the pieces it meets, rail by rail: their name, its own rail, their rail."""
        return MappingProxyType(self.wiring.neighbors)

    @cached_property
    def frog_units(self) -> Mapping[int, str]:
        """Conductors of frogs that stand alone: one metal with nothing but frog rails. Each with its turnout."""
        return MappingProxyType(frogs_alone(self.wiring, self.proof.component))

    @of_track
    def lone_frogs(self) -> Mapping[int, str]:
        """The same, whatever wire goes to them: of one metal with nothing but frog rails."""
        return MappingProxyType(frogs_alone(self.wiring, self.metal))

    @of_track
    def metal(self) -> Sequence[int]:
        """For each conductor a number that it shares with all that is one metal with it, wires apart."""
        return one_metal(self.graph)

    def leg(self, source: SupplyLeg) -> str:
        """A source as the plan writes it: `main.red`."""
        supply = self.layout.supplies.get(source.supply)
        return f"{source.supply}.{supply.legs[source.leg]}" if supply else source.supply

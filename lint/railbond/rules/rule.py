"""What a rule is. Each rule is a file of this folder that lists what it holds in `RULES`."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from railbond.findings import Found, Happens, Level
from trackplan.record import NamedTuple
from trackplan.typed import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from railbond.circuit.facts import Facts

OfGraph = Literal["", "whether", "all", "proof"]


class Rule(NamedTuple):
    """One rule: what it asks of a plan's facts, and what it teaches.

    Rules are asked in the order of `turn`. Turn 0 is about the plan as it is written. What a rule with `cause` finds
    is mended in the head before any other is asked again, so that one cause is told once.
    """

    name: str
    level: Level
    happens: Happens
    turn: int
    cause: bool
    find: Callable[[Facts], Iterable[Found]]
    summary: str
    """One line for the table of rules: the defect."""
    railroad: str
    """What happens on the railroad."""
    meter: str
    """How to find it with a meter or by eye."""
    mend: str
    """How to mend it at the bench."""
    fails: str
    """A plan in which the rule finds exactly one fault."""
    passes: str
    """The same plan, mended."""
    caution: str = ""
    """A danger of its own; those that its mends and its test have are told without it, see `cautions`."""

    @property
    def test(self) -> str:
        """How to find it, with the range that a voltmeter wants and what a beep is worth."""
        from railbond.care import test_in_full

        return test_in_full(self.meter)

    @property
    def cautions(self) -> tuple[str, ...]:
        """All that is dangerous about looking for it and mending it."""
        from railbond.care import of_test, of_words, told

        derived = told(of_test(self.meter) | of_words(self.mend)) if self.turn else ()
        return (*derived, *filter(None, [self.caution]))

    after: tuple[str, ...] = ()
    """Rules of an earlier turn. The metal that they tell as dead, and nobody accepts, is taken to be live when this
    rule is asked, so that nothing is told twice."""
    when: str = ""
    """Its occasion, a name of `occasions.OCCASIONS`: it finds nothing where that does not hold. Without one it is asked
    of every plan."""
    of_graph: OfGraph = ""
    """Whether it finds anything, or all that it finds, hangs on the rail graph, and on nothing that another length,
    place or size of wire changes; or whether it finds anything hangs on track, supplies and what is proven of them, and
    not on the feeders by which that is so."""
    of_acceptances: bool = False
    """Whether it matters to it what is accepted: what others find is the same whatever is."""


class RuleHead(NamedTuple):
    """What must be known of a rule to ask it in its turn, while its file is not loaded: see `Rule`."""

    module: str
    name: str
    turn: int
    cause: bool
    when: str
    after: tuple[str, ...] = ()
    of_graph: OfGraph = ""
    of_acceptances: bool = False
    notes: bool = False
    """Whether nothing that it finds is worse than a note."""

    @property
    def rule(self) -> Rule:
        """The rule itself, whose file is loaded for it."""
        from importlib import import_module

        rules: tuple[Rule, ...] = import_module(f"railbond.rules.{self.module}").RULES
        return next(one for one in rules if one.name == self.name)


Askable = Rule | RuleHead

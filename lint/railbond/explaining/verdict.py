"""What is said of a slip that was undone, and how one such answer is compared with another."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from trackplan.record import NamedTuple

from .idle import idle_cuts, unused_supplies
from .slip import HandSlip

IDLE = 0.5
"""What each cut that would part nothing takes from the weight of a slip."""

UNUSED = 1.5
"""What each supply that would feed nothing takes from it."""

EACH, THEN = 0.4, 1.5
"""What each finding that is left takes from it, each error twice; and what those take together that are new."""


class Verdict(NamedTuple):
    """A slip that was undone: the facts then, what is found then, what is left of what was to be explained, and what is
    only found then."""

    slip: HandSlip
    facts: Facts
    now: list[Finding]
    left: list[Finding]
    new: tuple[Finding, ...] = ()

    @property
    def order(self) -> tuple[object, ...]:
        """The better, the less: one that leaves nothing first; of others, that which is likely and leaves little."""
        errors = sum(one.level == "error" for one in self.left)
        rest = EACH * (errors + len(self.left)) + THEN * bool(self.new)
        idle = IDLE * idle_cuts(self.facts) + UNUSED * unused_supplies(self.facts)
        return bool(self.left), rest + idle - self.slip.weight

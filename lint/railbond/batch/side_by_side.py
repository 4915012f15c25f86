"""The rules of one large plan asked by two processes at once, so that what they find is known when their turn comes.

The other process is born with all facts of the plan (by `fork`, which not every system has) and sends what its rules
found, and the effort that it took, through a pipe.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from signal import SIG_DFL, SIGINT, signal
from typing import TYPE_CHECKING, cast

from railbond.circuit.effort import spent
from railbond.findings import Finding
from railbond.inspection import Ahead
from railbond.rules.asking import ask, take_as_known
from railbond.rules.rule import Askable, RuleHead

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

    from railbond.circuit.facts import Facts

Known = list[tuple[int, tuple[Finding, ...], float]]
"""What rules have found, each by its number, and the effort that it took."""

LARGE = 1_000_000
"""Characters of a plan that are worth it; another process takes about as long as to inspect 30,000."""


def for_plan(text: str) -> Ahead | None:
    """Who asks the rules of a plan ahead of their turns; None where nothing is won by it."""
    return ask_ahead if len(text) > LARGE and (os.cpu_count() or 1) > 1 and sys.platform == "linux" else None


def ask_ahead(facts: Facts, rules: Sequence[Askable]) -> None:
    """Asks all rules for which the order does not matter: here those that hang on the rail graph, in the other process
    those about lengths and resistance, which take as long and share nothing with them."""
    if facts.layout.unwired:
        return
    free = [rule for rule in rules if isinstance(rule, RuleHead) and rule.turn and not rule.after]
    own = [rule for rule in free if rule.of_graph]
    rest = [rule for rule in free if rule not in own]
    with suppress(Exception):  # what both need; where it breaks off, every rule tells so in its turn
        _ = facts.proof
    with suppress(OSError), _asked_elsewhere(facts, rest) as known:
        for rule in own:
            ask(rule, facts)
        for number, found, effort in known():
            take_as_known(rest[number], facts, found, effort)


@contextmanager
def _asked_elsewhere(facts: Facts, rules: Sequence[Askable]) -> Iterator[Callable[[], Known]]:
    """Another process that asks some rules meanwhile; whoever calls what is given waits for it. Raises OSError where
    there is no process to be had; of one that was ended from outside nothing is known."""
    from multiprocessing import get_context

    context = get_context("fork")
    here, there = context.Pipe(duplex=False)
    other = context.Process(target=_tell, args=(facts, rules, there), daemon=True)

    def known() -> Known:
        with suppress(EOFError, OSError):
            return cast("Known", here.recv())
        return []

    with here:
        with there:
            other.start()
        try:
            yield known
        finally:
            other.terminate()
            other.join()


def _tell(facts: Facts, rules: Sequence[Askable], there: Connection) -> None:
    """Asks the rules, in the other process, and sends what they find."""
    signal(SIGINT, SIG_DFL)
    gc.disable()  # to look through what it was born with would copy it
    known: Known = []
    for number, rule in enumerate(rules):
        before = spent()
        known.append((number, ask(rule, facts), spent() - before))
    there.send(known)

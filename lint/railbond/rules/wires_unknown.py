"""Wires of which the plan does not tell enough, where it tells it of others."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found, Step
from railbond.fixes.power_words import wire_words
from trackplan.statements import Bus, Feeder

from .rule import Rule

SHOWN = 5
WORDS = (
    "write size and length at the wire, or for all feeders `limit feeder-size 22 AWG` and `limit feeder-length 20 cm` "
    "with your own values"
)


def find(facts: Facts) -> Iterator[Found]:
    """One note a plan, where it tells the size or length of some wires and not of all."""
    sized = facts.power.sized
    if not sized.unknown or sized.nothing_said:
        return
    first, supplies = sized.unknown[0], sorted(facts.power.unknown)
    count = len(sized.unknown)
    yield Found(
        first.at,
        f"the plan does not tell the size and length of {wire_words(first)}"
        f"{f' and of {count - 1} more' if count > 1 else ''}: voltage drop and tripping are not worked out for "
        f"{' and '.join(supplies)}.",
        tuple(Step(wire.at, f"{wire_words(wire)} has {_lacks(facts, wire)}") for wire in sized.unknown[:SHOWN]), "",
        (Fix(WORDS, ()),), (*supplies, *dict.fromkeys(map(_end, sized.unknown))),
    )  # fmt: skip


def _end(wire: Bus | Feeder) -> str:
    return str(wire.terminal if isinstance(wire, Bus) else wire.rail)


def _lacks(facts: Facts, wire: Bus | Feeder) -> str:
    size, length = facts.power.wire_of(wire)
    missing = [word for word, told in (("size", size), ("length", length)) if not told]
    return f"no {' and no '.join(missing)}"


_PLAN = """\
plan      "Half measured"
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
bus       main -> P1  3 m  14 AWG
segment   line  stop -> J  1.5 m
segment   spur  J -> stop  1.5 m
feeder    P1 -> line  at 75 cm  22 AWG  20 cm
feeder    P1 -> spur{more}
"""

RULE = Rule(
    name="wires-unknown",
    level="note",
    happens="on paper",
    turn=0,
    cause=False,
    find=find,
    when="wires lack a size",
    summary="Some wires have a size and a length in the plan, and others have none.",
    railroad="Nothing goes wrong by it; but whether a short opens the breaker, and what trains get, is not known.",
    meter="Read the size on the wire and measure its length from the terminal to the rail.",
    mend="Write both at the wire; or one limit for all feeders, `feeder-size` and `feeder-length`.",
    fails=_PLAN.format(more=""),
    passes=_PLAN.format(more="  at 75 cm  22 AWG  30 cm"),
)
RULES = (RULE,)

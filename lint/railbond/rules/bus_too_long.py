"""Advice for long bus runs: the form of the signal at their end."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Found, Step
from railbond.fixes.power_fixes import accepted
from railbond.fixes.power_words import meters
from railbond.layout.limits import limit
from railbond.layout.model import Run

from .rule import Rule

NETWORK = (
    "a resistor of about 100 ohm, 3 W or more, and a capacitor of about 0.1 µF, 50 V or more, in series; the resistor "
    "runs hot, so mount it clear of wood, foam and wires"
)
"""Its ratings: on a signal that swings from -V to +V with period T the resistor takes 4 C V²/T, which is 0.45 to 0.77 W
at 15 V and up to 1.7 W at 22 V with the bits of NMRA S-9.1 (58 and 100 µs each half). Its size is common practice."""


def find(facts: Facts) -> Iterator[Found]:
    """One note for each supply with a terminal further away than the limit, at the furthest one."""
    most = limit(facts.layout, "long-bus") or 0.0
    for supply, ways in _ways(facts).items():
        far, run = min(ways, key=lambda way: (-way[0], way[1].terminal))
        if far > most:
            yield _finding(facts, supply, far, run, most)


def _ways(facts: Facts) -> dict[str, list[tuple[float, Run]]]:
    """Meters of bus from each supply to each of its terminals, by the shortest way, with the last run."""
    beyond: dict[str, list[tuple[float, int]]] = {}
    for number, run in enumerate(facts.layout.runs):
        if run.statement.length:
            beyond.setdefault(run.source, []).append((float(run.statement.length), number))
    nearest: dict[str, tuple[float, str, int]] = {name: (0.0, name, -1) for name in facts.layout.supplies}
    queue = list(nearest)
    for name in queue:  # grows; a terminal comes again where a shorter way to it is found
        far, supply, _ = nearest[name]
        for meters_, number in beyond.get(name, ()):
            terminal = facts.layout.runs[number].terminal
            if terminal not in nearest or far + meters_ < nearest[terminal][0]:
                nearest[terminal] = far + meters_, supply, number
                queue.append(terminal)
    ways: dict[str, list[tuple[float, Run]]] = {}
    for far, supply, number in nearest.values():
        if number >= 0:
            ways.setdefault(supply, []).append((far, facts.layout.runs[number]))
    return ways


def _finding(facts: Facts, supply: str, far: float, run: Run, most: float) -> Found:
    terminal = run.statement.terminal
    fix = accepted(
        facts, RULE.name, terminal, run.statement,
        f"twist the two wires of the bus, a turn every 5 to 10 cm, and put an end network across them at the far end: "
        f"{NETWORK}", "twisted, with an end network",
    )  # fmt: skip
    return Found(
        run.statement.at,
        f"the bus from {supply} to {terminal} is {meters(far)} long; beyond {meters(most)} it is common practice to "
        "twist its wires and to put an end network at its end.",
        (Step(facts.layout.supplies[supply].statement.at, f"{supply} begins here"),), "", (fix,),
        (str(terminal), supply),
    )  # fmt: skip


_PLAN = """\
plan      "Round the basement"
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
bus       main -> P1  8 m
bus       P1 -> P2    8 m
segment   line  stop -> stop  1.5 m
feeder    P2 -> line
{more}"""

RULE = Rule(
    name="bus-too-long",
    level="note",
    happens="on paper",
    turn=21,
    cause=False,
    find=find,
    when="long buses",
    summary="A bus so long that the form of the signal suffers.",
    railroad=(
        "The edges of the signal ring at the end of a long bus, the more so when a short opens: decoders miss orders "
        "or, now and then, are damaged. Common practice, not a standard."
    ),
    meter="Only an oscilloscope shows it: peaks well above the booster's volts at the far end.",
    mend="Twist the two wires, and put an end network at the far end; or bring the booster nearer to the middle.",
    fails=_PLAN.format(more=""),
    passes=_PLAN.format(more='accept    bus-too-long at P2 because "twisted, with an end network"\n'),
)
RULES = (RULE,)

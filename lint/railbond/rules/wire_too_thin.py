"""Wires that carry less than their breaker lets through."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.findings import Fix, Found, Step
from railbond.fixes.power_words import BURNS
from trackplan.amend import set_word
from trackplan.quantities import WireSize
from trackplan.record import NamedTuple
from trackplan.statements import Bus, Feeder, Limit, where
from trackplan.typed import TYPE_CHECKING

from .rule import Rule

if TYPE_CHECKING:
    from railbond.circuit.power.guards import Guard

Wire = Bus | Feeder


class Thin(NamedTuple):
    """What wires that are too thin have in common: one finding tells them all. `told` is the limit that gives them
    their size, where that is not their own."""

    size: str
    short: bool
    guard: Guard
    told: Limit | None


def find(facts: Facts) -> Iterator[Found]:
    """One finding for all wires of one size behind one breaker."""
    found: dict[tuple[str, bool, str, bool], tuple[Thin, list[Wire]]] = {}
    for wire, size, short, guard in facts.power.thin:
        told = None if wire.size else facts.layout.limits["bus-size" if isinstance(wire, Bus) else "feeder-size"]
        key = size.text, short, guard.supply.name, told is None
        found.setdefault(key, (Thin(size.text, short, guard, told), []))[1].append(wire)
    for thin, wires in found.values():
        yield _finding(facts, thin, wires)


def _finding(facts: Facts, thin: Thin, wires: list[Wire]) -> Found:
    from railbond.circuit.power import copper
    from railbond.fixes.power_words import amperes, wire_words

    size, guard = facts.power.wire_of(wires[0])[0], thin.guard
    assert size is not None, "only wires of known size are too thin"
    kind = "a short drop in free air" if thin.short else "a run"
    others = f" (and {len(wires) - 1} more like it)" if len(wires) > 1 else ""
    at = where(thin.told, thin.told.value) if thin.told else where(wires[0], size)
    return Found(
        at,
        f"{size.text} carries {amperes(copper.carries(size, thin.short))} as {kind}, and {guard.breaker} lets "
        f"{amperes(guard.passes)} through: {wire_words(wires[0])}{others} may burn before the breaker opens.",
        (Step(guard.at, f"{guard.breaker} trips at {guard.trips.text}"),), "",
        (_fix(facts, thin, wires, copper.enough(size, thin.short, guard.passes)),),
        (*dict.fromkeys(name for wire in wires for name in _ends(wire)), guard.supply.name),
    )  # fmt: skip


def _ends(wire: Wire) -> tuple[str, ...]:
    if isinstance(wire, Bus):
        return (str(wire.terminal),)
    return str(wire.rail).split(".")[0], str(wire.rail)


def _fix(facts: Facts, thin: Thin, wires: list[Wire], size: WireSize) -> Fix:
    from railbond.fixes.power_fixes import resized
    from railbond.fixes.power_words import wire_words

    if thin.told:
        return Fix(f"use {size.text} for all of these wires", (set_word(thin.told, thin.told.value, size.text),))
    size = _as_others(facts, wires, size) or size
    words = "; ".join(dict.fromkeys(wire_words(wire) for wire in wires))
    return Fix(f"lay in {size.text}: {words}", tuple(resized(facts, wire, size) for wire in wires))


def _as_others(facts: Facts, wires: list[Wire], least: WireSize) -> WireSize | None:
    """What most other runs or drops of the plan are laid in, if that is enough: one coil does for all."""
    kind = type(wires[0])
    laid, own = (
        _laid(facts).get(kind, {}),
        Counter(one.size.text for one in wires if isinstance(one, kind) and one.size),
    )
    often = {text: count - own[text] for text, (_, count) in laid.items() if count > own[text]}
    usual = [text for text, count in often.items() if (count > 1 or len(often) == 1) and laid[text][0] >= least]
    return laid[max(usual, key=lambda text: often[text])][0] if usual else None


@once
def _laid(facts: Facts) -> dict[type, dict[str, tuple[WireSize, int]]]:
    """The sizes of all runs and of all drops that say one, and how many are of each."""
    found: dict[type, dict[str, tuple[WireSize, int]]] = {}
    for one in facts.statements:
        if isinstance(one, Bus | Feeder) and one.size:
            sizes = found.setdefault(type(one), {})
            size, count = sizes.get(one.size.text, (one.size, 0))
            sizes[size.text] = size, count + 1
    return found


_PLAN = """\
plan      "Strong booster"
scale     O
booster   B1    15 V  10 A
district  main  from B1
bus       main -> P1  3 m  14 AWG
segment   line  stop -> stop  1.5 m
feeder    P1 -> line  at 75 cm  {drop}  20 cm
"""

RULE = Rule(
    name="wire-too-thin",
    level="error",
    happens="heat",
    turn=20,
    cause=False,
    find=find,
    when="a wire is too thin",
    summary="A wire that carries less than the breaker before it lets through.",
    railroad=(
        "A fault that draws a little less than the breaker's trip current heats the wire above what its insulation "
        "stands: it softens, smokes and bares the copper, out of sight under the bench."
    ),
    meter=(
        "No meter finds this: read the size on the wire or measure its copper, and compare it with the trip current "
        "that is printed on the breaker or booster."
    ),
    mend="A thicker wire, or a breaker of its own before the thin one, set to what it carries.",
    caution=BURNS,
    fails=_PLAN.format(drop="22 AWG"),
    passes=_PLAN.format(drop="20 AWG"),
)
RULES = (RULE,)

"""Places, losses and what was taken for granted in words, shared by the rules about power."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.findings import Step
from railbond.layout.model import Piece
from trackplan.span import Span
from trackplan.statements import Bus, Feeder
from trackplan.typed import TYPE_CHECKING

from .fix_edits import local

if TYPE_CHECKING:
    from railbond.circuit.power.chain import Loss
    from railbond.circuit.power.spots import Spot

BURNS = (
    "A short that nothing interrupts heats wire, rail and wheels until something burns. Try each district's breaker "
    "with a coin across the rails at its far end, only while somebody stands at the plug. Leave everything on the "
    "mains side to a licensed electrician and to your local code."
)


def meters(length: float) -> str:
    """`1.83 m`, `57 cm`."""
    return f"{round(length, 2):g} m" if length >= 1 else f"{length * 100:.0f} cm"


def amperes(current: float) -> str:
    """`3.62 A`, `12.4 A`, `110 A`."""
    return f"{round(current, 2 if current < 10 else 1 if current < 100 else 0):g} A"


def volts(voltage: float) -> str:
    """`1.25 V`, `40 mV`."""
    return f"{voltage:.2f} V" if voltage >= 0.1 else f"{voltage * 1000:.0f} mV"


def percent(share: float) -> str:
    """`8.7 %`, `25 %`."""
    return f"{round(share * 100, 1):g} %"


def place_words(facts: Facts, spot: Spot) -> str:
    """`57 cm from siding.finish`: the spot as one finds it from the nearer end."""
    piece = facts.layout.pieces[spot.piece]
    if spot.end in ("frog", "bridge"):
        return f"at the {spot.end} of {local(piece)}"
    if spot.end:
        return f"near {local(piece)}.{spot.end}"
    return along_words(piece, spot.meters)


def along_words(piece: Piece, place: float) -> str:
    """A place of a segment, `place` meters from its start."""
    left = max(metal.stop for metal in piece.template.metals) - place
    end, distance = ("start", place) if place <= left else ("finish", left)
    return f"{meters(distance)} from {local(piece)}.{end}" if distance >= 0.005 else f"at {local(piece)}.{end}"


def loss_steps(facts: Facts, spot: Spot, current: float) -> Iterator[Step]:
    """Where the volts are lost, from the supply to the spot and back, each line with its share."""
    from railbond.circuit.power.chain import chain

    names, home = _names(facts), facts.power.home(spot)
    for loss in chain(home.frame, home.islands, spot):
        share = loss.ohms / spot.ohms
        yield Step(loss.at, f"{_what(facts, loss, names)}: {volts(loss.ohms * current)}, {percent(share)}")


@once
def _names(facts: Facts) -> dict[Span, str]:
    """The piece of each line that lays one."""
    return {piece.statement.at: name for name, piece in facts.layout.pieces.items()}


def _what(facts: Facts, loss: Loss, names: dict[Span, str]) -> str:
    if loss.wire is not None:
        size, length = facts.power.wire_of(loss.wire)
        ends = f"bus to {loss.wire.terminal}" if isinstance(loss.wire, Bus) else f"feeder to {loss.wire.rail}"
        return f"{ends}, {length.text} of {size.text}" if size and length else ends
    words = {"rail": "rail of", "joiner": "joiners at", "contact": "contacts on the way to"}
    return f"{words[loss.kind]} {names.get(loss.at, 'this joint')}"


def taken_for(facts: Facts) -> Step:
    """What the plan does not say and was taken as usual, in one step."""
    from railbond.circuit.power.rail import rail_resistivity

    limits, metal = facts.layout.limits, facts.power.materials
    each = rail_resistivity(metal.code, metal.metal, metal.celsius) * 1000
    rail = "" if facts.layout.rails else f"{metal.metal} rail of code {metal.code:g}, "
    words = [f"{rail}{each:.0f} mΩ a meter of rail (an estimate)"]
    if "joiner-resistance" not in limits:
        words.append(f"{metal.joiner * 1000:g} mΩ a joiner")
    if "temperature" not in limits:
        words.append(f"copper at {metal.celsius:g} °C")
    if any(piece.template.positions for piece in facts.layout.pieces.values()):
        words.append("a turnout's length by its number")
    return Step(None, f"taken for what the plan does not say: {', '.join(words)}")


def wire_words(wire: Bus | Feeder) -> str:
    """`the bus to P2`, `the feeder to siding`."""
    return f"the bus to {wire.terminal}" if isinstance(wire, Bus) else f"the feeder to {wire.rail}"

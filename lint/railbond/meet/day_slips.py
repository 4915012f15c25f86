"""Slips in what is plugged and cut on the day: a bus from another bus or module, two plugs exchanged, a cut elsewhere.

They are looked for where two supplies meet through metal, and only as far as they put another supply there.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

from railbond.explaining.slip import HandSlip, one_letter_off
from railbond.fixes.fix_edits import beside
from railbond.layout.couplings import edge_of, tracks_of
from railbond.layout.order import by_name
from trackplan.amend import set_word
from trackplan.edit import add_line
from trackplan.statements import Bus, Couple, Gap

from .meet_facts import MeetFacts

NEXT_DOOR = 10.0
"""How much nearer, in steps, a terminal of a module beside is, where the plug hangs on one that is not beside."""

OTHER_NAME = 1.0
"""How much further off one is that is called otherwise than what is written."""

ANOTHER_JOINT = 2.0
"""How much further off a cut of another module's edge is."""


def day_slips(whole: MeetFacts) -> Iterator[HandSlip]:
    """The slips in the lines of the meet's own plan by which two supplies may meet, bus by bus and cut by cut."""
    own = [one for one in whole.scopes[0].statements if one.at.start < one.at.end]
    couples = [one for one in own if isinstance(one, Couple)]
    buses = [one for one in own if isinstance(one, Bus)]
    for bus in buses:
        yield from _sources(whole, bus, couples, {str(one.terminal) for one in buses})
    for one, other in combinations(buses, 2):
        if module_of(one.terminal) == module_of(other.terminal) and one.supply != other.supply:
            yield _exchanged(one, other)
    gaps = [one for one in own if isinstance(one, Gap)]
    cut = {str(gap.place) for gap in gaps}
    joints = [one for couple in couples for one in _joints(whole, couple)]
    uncut = [one for one in joints if cut.isdisjoint(one.ends)]
    for gap in gaps:
        yield from _moved(gap, uncut)
    for joint in uncut:
        yield _forgotten(whole, joint, cut)


class _Joint(NamedTuple):
    """Two tracks that a line couples, by the names of their endplates."""

    couple: Couple
    ends: tuple[str, str]


def _joints(whole: MeetFacts, couple: Couple) -> Iterator[_Joint]:
    """Track by track where the edges have several: each counts its own from the left."""
    one, other = (tracks_of(whole.layout.edges, str(word)) for word in (couple.one, couple.other))
    for near, far in zip(one, reversed(other), strict=False):
        yield _Joint(couple, (near, far))


def module_of(name: str) -> str:
    """The module of a whole name."""
    return name.partition(".")[0]


def _sources(whole: MeetFacts, bus: Bus, couples: list[Couple], plugs: set[str]) -> Iterator[HandSlip]:
    """The bus from a terminal of another supply, of the same module or of one beside the plug's."""
    source, plug = str(bus.supply), str(bus.terminal)
    beside_it = {there for one in couples for here, there in _ways(one) if here == module_of(plug)} - {module_of(plug)}
    modules = beside_it | {module_of(source)}
    pool = (name for name in sorted(whole.layout.terminals, key=by_name) if name not in plugs and name != source)
    local, now = source.partition(".")[2], whole.supply_of_wire.get(source)
    strange = module_of(source) not in beside_it
    for far, name in enumerate(name for name in pool if module_of(name) in modules):
        if whole.supply_of_wire.get(name) == now:
            continue
        new = name.partition(".")[2]
        is_misread = module_of(name) == module_of(source) and any(one_letter_off(local, [new]))
        kind = "letter" if is_misread else "source"
        steps = 0.0 if is_misread or new == local else OTHER_NAME + far / 4
        steps -= NEXT_DOOR * (strange and module_of(name) in beside_it)
        words, said = f"plug {plug} in at {name}", f"the bus to {plug} begins at {source} in place of {name}"
        yield HandSlip(kind, bus.at, (set_word(bus, bus.supply, name),), words, said, (plug, name), steps)


def _ways(couple: Couple) -> tuple[tuple[str, str], tuple[str, str]]:
    one, other = module_of(couple.one), module_of(couple.other)
    return (one, other), (other, one)


def _exchanged(one: Bus, other: Bus) -> HandSlip:
    edits = set_word(one, one.supply, str(other.supply)), set_word(other, other.supply, str(one.supply))
    words = f"exchange the plugs at {one.terminal} and {other.terminal}"
    said = f"{one.terminal} and {other.terminal} are each plugged in at the other's bus"
    return HandSlip("exchanged", one.at, edits, words, said, (str(one.terminal), str(other.terminal)), 0, 2)


def _moved(gap: Gap, uncut: list[_Joint]) -> Iterator[HandSlip]:
    """A cut in one rail only, or at another coupling than was meant."""
    place = str(gap.place)
    if gap.rail != "both rails":
        words, said = f"cut the other rail at {place} too", f"only one rail is cut at {place}"
        yield HandSlip("one rail", gap.at, (set_word(gap, gap.rail, "both rails"),), words, said, (place,))
    for joint in uncut:
        own = [word for word in joint.ends if module_of(word) == module_of(place)]
        there = (own or joint.ends[::-1])[0]
        words = f"close the cut at {place} and cut at {there} instead ({gap.rail})"
        said, edit = f"the cut at {place} belongs to {there}", set_word(gap, gap.place, there)
        far = 0.0 if own else ANOTHER_JOINT
        yield HandSlip("wrong end", gap.at, (edit,), words, said, (place, there), far)


def _forgotten(whole: MeetFacts, joint: _Joint, cut: set[str]) -> HandSlip:
    """A cut between two modules: in the edge whose other track is cut, else in that of the one with a booster."""
    powered = {module_of(supply.name) for supply in whole.layout.supplies.values() if supply.kind == "district"}
    beside_it = [word for word in joint.ends if any(edge_of(word) == edge_of(one) for one in cut)]
    there = next(iter([*beside_it, *(word for word in joint.ends if module_of(word) in powered), joint.ends[1]]))
    edit = add_line(beside(whole, Gap, joint.couple.at), f"gap {there} both rails")
    words, said = f"cut both rails, or put insulated joiners, at {there}", f"the cut at {there} was forgotten"
    return HandSlip("gap", joint.couple.at, (edit,), words, said, (there,))

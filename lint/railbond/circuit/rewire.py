"""The rail graph of a layout that differs from another one in wires, cuts and reversers: told from that of the other.

Every bond is in the place in which it would be made anew.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from operator import is_

from railbond.layout.difference import has_same_metal, rewired, silenced
from railbond.layout.model import FrogFeed, Layout, Meeting
from railbond.layout.order import by_name
from trackplan.span import Span
from trackplan.typed import Any, TypeVar, cast

from .aligning import aligned
from .effort import spend
from .graph import Bond, SupplyLeg
from .of_graph import befores
from .proof import Proof
from .ties import ties_of
from .wire_bonds import contact_bonds, drop_bonds, run_bonds
from .wire_up import METALS, supply_legs, wire_up
from .wiring import Wiring

Thing = TypeVar("Thing")

Places = dict[Span, list[int]]
PLACES = "places of bonds"

REWIRED = 0.2
"""Steps for each statement of a layout that is told from another one. One with lines added or more cuts counts as much
as one that is made anew, though it takes a tenth of that: what is compared by it is plenty, and the time is better
saved."""


def relaid(before: Any, facts: Any) -> Layout | None:
    """The layout of facts, told from that of those before; None where it cannot be told so. One of a plan that was
    not changed in the head but typed at counts as if it were made anew: whether somebody did, no answer hangs on."""
    new, in_head = facts.statements, bool(facts.made)
    changed = rewired(before.layout, before.statements, new)
    if changed and facts.broken != before.broken:
        changed = silenced(changed, facts.broken_words)
    if changed and not in_head or changed and not has_same_metal(before.layout, changed):
        spend(len(new))
    elif changed:
        is_more = len(new) > len(before.statements) or changed.meetings is not before.layout.meetings
        spend(len(new) + len(before.graph.names) / METALS if is_more else len(new) * REWIRED)
    return changed


def rewire(facts: Any, layout: Layout, in_head: bool) -> Wiring:
    """The rail graph of a layout, told from that of the `facts` before where it was told from their layout; see
    `relaid`. Where it is that of earlier ones it is the same object: what is taken back brings back what was."""
    found = _rewired(facts.wiring, layout, in_head, _places(facts) if in_head else None)
    graph = next((one.graph for one in (facts, *befores(facts)) if one.graph == found.graph), found.graph)
    return found if graph is found.graph else found._replace(graph=graph)


def reproven(facts: Any) -> Proof:
    """The proof of facts, told from that of those before. Of the plan as it stands no effort is counted: some may be
    known from before it was typed at."""
    known, alike = facts.before, facts.alike
    if alike:
        proof: Proof = alike.proof
    else:
        made = Proof(facts.graph, budget=facts.budget, before=known.proof, metal=facts.metal)
        earlier = (one.proof for one in befores(known) if "proof" in one.__dict__)
        proof = known.proof if made.is_before else next(filter(made.is_that_of, earlier), made)
    if facts.made and alike is not known:
        spend(proof.effort)
    return proof


def is_tied_as_before(facts: Any, feed: FrogFeed, other: FrogFeed) -> bool:
    """Whether a frog that is fed in another way is tied to what it was, in the same settings: then nothing else is
    proven, and it need not be tried. Never so where the plan
    may have to be laid out anew."""
    if facts.made or facts.layout.faults or any(one.kind == "plug" for one in facts.layout.supplies.values()):
        return False
    component, fed = facts.proof.component, (contact_bonds(facts.wiring, one) for one in (feed, other))
    now, then = (Counter(ties_of(component, bonds)) for bonds in fed)
    return now == then and not facts.layout.pieces[feed.piece].template.aligned


def count_as_tried(facts: Any) -> None:
    """Counts the effort of a trial that need not be made: that it is known what comes of it, no answer hangs on."""
    spend(len(facts.statements) * REWIRED)
    spend(facts.proof.effort)


def _places(facts: Any) -> Places:
    """Where in the list of bonds those of each line are, kept with the facts: much is tried on the same ones."""
    found = cast("Places | None", facts.kept.get(PLACES))
    if found is None:
        found = {}
        for place, bond in enumerate(facts.graph.bonds):
            if bond[3] in ("wire", "contact") and bond[4]:
                found.setdefault(bond[4], []).append(place)
        facts.kept[PLACES] = found
    return found


def _rewired(before: Wiring, layout: Layout, in_head: bool, places: Places | None = None) -> Wiring:
    if not has_same_metal(before.layout, layout) or not before.layout.supplies:
        return wire_up(layout)
    if _may_align(layout, before.layout) and aligned(layout) != before.aligned:
        return wire_up(layout)  # which points move the contacts of a crossing says with which it is aligned
    widened = _widened(before, layout) if len(layout.supplies) > len(before.layout.supplies) else before
    cut = _cut(widened, before.layout, layout)
    places = places if cut and cut.graph.bonds is before.graph.bonds else None
    wiring = with_wires(cut, before.layout, layout, places) if cut else None
    if wiring and not in_head:
        spend(len(wiring.graph.names) / METALS)
    return wiring or wire_up(layout)


def _may_align(layout: Layout, before: Layout) -> bool:
    """Whether contacts differ by which track without points of its own may be aligned with other points."""
    if layout.frogs is before.frogs:
        return False
    feeds = [*added([*before.frogs.values()], [*layout.frogs.values()])]
    feeds += added([*layout.frogs.values()], [*before.frogs.values()])
    return any(layout.pieces[one.piece].template.aligned for one in feeds)


def _widened(before: Wiring, layout: Layout) -> Wiring:
    """The same with conductors for the supplies that were added, among the others by name; what follows is moved up."""
    known, first = before.layout.supplies, min(before.wires[one] for one in before.layout.supplies)
    places = {name: first + 2 * nth for nth, name in enumerate(sorted(layout.supplies, key=by_name))}
    more = 2 * (len(places) - len(known))
    moved = [one if one < first else one + more for one in range(len(before.graph.names))]
    for name in known:
        for leg in (0, 1):
            moved[before.wires[name] + leg] = places[name] + leg
    words, sources = dict(zip(moved, before.graph.names, strict=True)), dict[int, SupplyLeg]()
    for name in (name for name in places if name not in known):
        words |= {places[name] + leg: f"{name}.{word}" for leg, word in enumerate(layout.supplies[name].legs)}
        sources |= dict(enumerate(supply_legs(layout, layout.supplies[name], {}), places[name]))
    sources |= {moved[one]: source for one, source in before.graph.sources.items()}
    graph = before.graph._replace(
        names=[words[one] for one in sorted(words)],
        bonds=[bond if bond.one < first > bond.other else _moved(bond, moved) for bond in before.graph.bonds],
        sources=dict(sorted(sources.items())),
    )
    return before._replace(graph=graph, wires={name: moved[base] for name, base in before.wires.items()} | places)


def _moved(bond: Bond, moved: Sequence[int]) -> Bond:
    return Bond(moved[bond.one], moved[bond.other], bond.when, bond.kind, bond.at)


def _cut(before: Wiring, known: Layout, layout: Layout) -> Wiring | None:
    """The same without the joints that are cut now; None where it cannot be told which bonds they are."""
    if layout.meetings is known.meetings:
        return before
    bonds = list(before.graph.bonds)
    for old, new in zip(known.meetings, layout.meetings, strict=True):
        if old is not new:
            for joint in _joints(before, old, new):
                if bonds.count(joint) != 1:
                    return None
                bonds.remove(joint)
    return before._replace(graph=before.graph._replace(bonds=bonds))


def _joints(wiring: Wiring, old: Meeting, new: Meeting) -> Iterator[Bond]:
    """The bonds of a meeting that were there before it was cut."""
    for side in new.gaps:
        if side not in old.gaps:
            yield Bond(*wiring.across(old, side), None, "joint", old.at)


def with_wires(before: Wiring, known: Layout, layout: Layout, places: Places | None = None) -> Wiring | None:
    """The same with the runs, drops and contacts of the layout; None where there is no place to put their bonds.
    `places` are those of the bonds there are, where somebody knows them."""
    wiring = before._replace(layout=layout)
    new: dict[Span, list[Bond]] = {drop.statement.at: [] for drop in added(layout.drops, known.drops)}
    for run in added(known.runs, layout.runs):
        new.setdefault(run.statement.at, []).extend(run_bonds(wiring, run))
    more: list[Bond] = []
    for drop in added(known.drops, layout.drops):
        is_added = drop.statement.at.start == drop.statement.at.end
        own = more if is_added else new.setdefault(drop.statement.at, [])
        own += drop_bonds(wiring, drop)
    for feed in added(list(known.frogs.values()), list(layout.frogs.values())):
        new.setdefault(feed.statement.at, []).extend(contact_bonds(wiring, feed))
    bonds = _with_lines(before.graph.bonds, new, layout, places) if new else before.graph.bonds
    if bonds is None:
        return None
    if more:
        last = known.drops[-1].statement.at if known.drops else None
        place = next((place for place in range(len(bonds), 0, -1) if bonds[place - 1].at == last), 0)
        if not place:
            return None
        bonds = [*bonds[:place], *more, *bonds[place:]]
    return wiring if bonds is before.graph.bonds else wiring._replace(graph=before.graph._replace(bonds=bonds))


def _with_lines(
    known: list[Bond], new: dict[Span, list[Bond]], layout: Layout, at_line: Places | None
) -> list[Bond] | None:
    """The bonds with other ones for some lines; the same list where these bond the same, as what is soldered elsewhere
    along a metal does; None where there is no place to put one."""
    old: dict[Span, list[Bond]] = {at: [] for at in new}
    if at_line is None:
        places = [at for at, bond in enumerate(known) if bond[3] in ("wire", "contact") and bond[4] in old]
    else:
        places = sorted(place for line in old for place in at_line.get(line, ()))
    for at in places:
        old[known[at][4]].append(known[at])  # type: ignore[index]
    if old == new:
        return known
    bonds, come = list(known), {line for line, own in new.items() if own and not old[line]}
    for at in reversed(places):
        line = bonds[at][4]
        bonds[at : at + 1] = new[line] if bonds[at] is old[line][0] else ()  # type: ignore[index]
    lines = list(dict.fromkeys(drop.statement.at for drop in layout.drops)) if come else []
    for above, line in pairwise(lines):
        if line in come:
            place = next((at for at in range(len(bonds), 0, -1) if bonds[at - 1].at == above), 0)
            bonds[place:place] = new[line]
            come -= {line} if place else set()
    return None if come else bonds


def added(old: Sequence[Thing], new: Sequence[Thing]) -> Iterator[Thing]:
    """The things of the new list that are not in the old one."""
    if old is new:
        return iter(())
    first = next((at for at, same in enumerate(map(is_, old, new)) if not same), min(len(old), len(new)))
    last = len(new)
    if len(old) == last:
        last -= next((at for at, same in enumerate(map(is_, reversed(old), reversed(new))) if not same), 0)
    known = set(map(id, old[first : len(old) - len(new) + last]))
    return (one for one in new[first:last] if id(one) not in known)

"""Where the track turns back on itself, so that its left rail becomes its right one.

Running rails are followed through every joint and turnout. Every part of a piece has a left and a right rail along
its looking direction; a joint carries each to a rail of the next part. Track turns where some part's left rail
is so led to its own right rail: the odd cycle of a signed graph whose - edges are the joints at which the looking
directions disagree (Harary 1953). The rails are not followed across a cut that parts a reverser's section from
fixed supply on both rails; the two cuts of one end need not lie exactly opposite each other.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from itertools import chain

from railbond.layout.model import Meeting
from trackplan.record import new

from .proof import Proof
from .signed_graph import Part, Seam, Sides, SpanningForest
from .wiring import Wiring

Alike = dict[tuple[int, int], Sides]
"""The metals that meet at seams of the same two ends of templates, by the identities of these."""

WHOLE = False, False
"""What is gapped of a seam that nobody cut."""


def seams(wiring: Wiring) -> list[Seam]:
    """Every seam of the layout, meetings first, by the names of what meets."""
    known = Alike()
    found = [_meeting_seam(wiring, meeting, known) for _, meeting in wiring.meetings]
    for piece in wiring.pieces:
        base = wiring.first[piece.name]
        for link in piece.template.links:
            metals = tuple(zip(link.rails_one, link.rails_other, strict=True))
            gapped = tuple(here != there for here, there in metals)
            ends = (piece.name, link.one), (piece.name, link.other)
            found.append(new(Seam, (*ends, False, metals, gapped, None, link.offset, base, base)))
    return found


def _seams_after(wiring: Wiring, before: Turning) -> list[Seam]:
    """The same, told from those of a plan with the same track: where nothing was cut they are the same objects."""
    was, now = before.wiring.layout.meetings, wiring.layout.meetings
    if now is was:
        return before.seams
    cut = {id(old): new for old, new in zip(was, now, strict=True) if old is not new}
    known, were = Alike(), before.seams
    return [_meeting_seam(wiring, cut[id(one.meeting)], known) if id(one.meeting) in cut else one for one in were]


def _meeting_seam(wiring: Wiring, meeting: Meeting, known: Alike) -> Seam:
    (here, near), (there, far), _, _, gaps = meeting
    pieces = wiring.layout.pieces
    one, other = pieces[here].template.ends[near], pieces[there].template.ends[far]
    key = id(one), id(other)
    metals = known.get(key)
    if metals is None:
        left, right = (one.left, other.right), (one.right, other.left)
        metals = known[key] = (left, right) if one.leaves else (right, left)
    gapped = ("left" in gaps, "right" in gaps) if gaps else WHOLE
    gapped = gapped if one.leaves else gapped[::-1]
    ends, bases = ((here, one.part), (there, other.part)), (wiring.first[here], wiring.first[there])
    return new(Seam, (*ends, one.leaves == other.leaves, metals, gapped, meeting, None, *bases))


class Turning:
    """The seams of a layout, which of them part a reverser from fixed supply, and what turns all the same."""

    def __init__(self, wiring: Wiring, proof: Proof, before: Turning | None = None) -> None:
        """`before` is that of a plan with the same track, wired or cut in another way."""
        self.wiring = wiring
        self.proof = proof
        self.before = before
        self.seams: list[Seam] = _seams_after(wiring, before) if before else seams(wiring)
        self.is_before = before is not None and before.proof is proof and before.seams is self.seams
        """Whether all that is said of seams is what was said of them before."""
        self._supplies: dict[int, frozenset[tuple[str, str]]] = before._supplies if before and self.is_before else {}
        self._kinds: dict[int, frozenset[str]] = before._kinds if before and self.is_before else {}

    def supplies(self, conductor: int) -> frozenset[tuple[str, str]]:
        """The supplies (name, kind) that a conductor carries in some setting, frog units left out."""
        component = self.proof.component[conductor]
        if component not in self._supplies:
            sources = (way.source for way in self.proof.reachable_of(component))
            self._supplies[component] = frozenset((one.supply, one.kind) for one in sources if one.kind != "unit")
        return self._supplies[component]

    def kinds(self, conductor: int) -> frozenset[str]:
        """`fixed`, `reverser`, both or neither."""
        component = self.proof.component[conductor]
        if component not in self._kinds:
            self._kinds[component] = frozenset(kind for _, kind in self.supplies(conductor))
        return self._kinds[component]

    def parts_supplies(self, seam: Seam) -> bool:
        """Whether the seam's cuts keep a reverser's section from fixed supply: on both rails, or on one while the other
        rail is cut at a seam nearby, the two cuts of one end not lying exactly opposite each other."""
        if True not in seam.gapped or not self._parted(seam):
            return False
        if all(seam.gapped):
            return True
        beside = {id(other): other for part in (seam.one, seam.other) for other in self.seams_at[part]}
        return any(self._staggered(seam, other) for other in beside.values() if other is not seam)

    def _parted(self, seam: Seam) -> bool:
        cut = [rails for rails, gapped in zip(seam.rails, seam.gapped, strict=True) if gapped]
        sides = [frozenset[str]().union(*(self.kinds(rails[side]) for rails in cut)) for side in (0, 1)]
        return {sides[0], sides[1]} == {frozenset({"fixed"}), frozenset({"reverser"})}

    def _staggered(self, seam: Seam, other: Seam) -> bool:
        """Whether two seams cut one rail each, so that the rail whole at one is the rail cut at the other: between the
        two cuts one rail is the section's already, and the other still fixed."""
        if sum(seam.gapped) != 1 or sum(other.gapped) != 1 or not self._parted(other):
            return False
        component = self.proof.component
        cut, whole = (seam.rails[seam.gapped.index(kind)] for kind in (True, False))
        other_cut, other_whole = (other.rails[other.gapped.index(kind)] for kind in (True, False))
        if {self.kinds(whole[0]), self.kinds(other_whole[0])} != {frozenset({"fixed"}), frozenset({"reverser"})}:
            return False
        return component[whole[0]] in {component[c] for c in other_cut} and component[other_whole[0]] in {
            component[c] for c in cut
        }

    @cached_property
    def seams_at(self) -> dict[Part, list[Seam]]:
        """The seams of each part, those that part supplies too."""
        found: dict[Part, list[Seam]] = {}
        for seam in self.seams:
            for part in (seam.one, seam.other):
                found.setdefault(part, []).append(seam)
        return found

    @cached_property
    def parting(self) -> list[Seam]:
        """The seams that part a reverser from fixed supply."""
        if self.before and self.is_before:
            return self.before.parting
        return [seam for seam in self.seams if True in seam.gapped and self.parts_supplies(seam)]

    @cached_property
    def forest(self) -> SpanningForest:
        """The track as it hangs together where no reverser parts it."""
        parting = {id(seam) for seam in self.parting}
        if self.before and self.before.seams is self.seams and parting == set(map(id, self.before.parting)):
            return self.before.forest
        parts = [(piece.name, part) for piece in self.wiring.pieces for part in range(piece.template.parts)]
        return SpanningForest(parts, [seam for seam in self.seams if id(seam) not in parting])

    def odd_cycles(self) -> list[list[Seam]]:
        """Odd cycles that share no part, the short ones first; empty when nothing turns unguarded."""
        return self.forest.disjoint_odd_cycles()

    def needed_reversers(self) -> set[str]:
        """The reversers without which some track would turn back on itself.

        Each is judged with the earlier ones that are not needed taken away, so that of two that do for one another one
        is needed. What a module promises of its edges counts as track: other modules hold them to it.
        """
        own: dict[str, list[Seam]] = {}
        for seam in self.parting:
            supplies = {supply for rails in seam.rails for one in rails for supply in self.supplies(one)}
            for name in sorted({name for name, kind in supplies if kind == "reverser"}):
                own.setdefault(name, []).append(self.forest.between(seam))
        idle = [self.forest.between(seam) for seam in self._promised()] if own else []
        trees = [tree for seam in chain(idle, *own.values()) for tree in (seam.one, seam.other)]
        joined, needed = SpanningForest(trees, idle), set()
        for name, parted in own.items():
            if joined.turns_with(parted):
                needed.add(name)
            else:
                idle += parted
                joined = SpanningForest(trees, idle)
        return needed | self._needed_on_bridges()

    def _promised(self) -> list[Seam]:
        """A seam from each edge with a promised leg to the first such edge; none where fixed track breaks a promise."""
        found: list[tuple[Part, bool]] = []
        for edge in self.wiring.layout.edges.values():
            if edge.end and edge.left is not None:
                end = self.wiring.end(edge.end)
                found.append(((edge.end.piece, end.part), end.leaves == (edge.left == 0)))
        made = [Seam(found[0][0], part, lies != found[0][1], ((0, 0), (0, 0)), (False, False)) for part, lies in found]
        return [] if self.forest.turns_with(made) else made

    def _needed_on_bridges(self) -> set[str]:
        """The reversers that feed a table's bridge and of which its tracks ask for both polarities."""
        asked: dict[str, set[bool]] = {}
        for bridge, track in self.bridge_passes():
            for here in self.proof.reachable(bridge):
                for there in self.proof.reachable(track):
                    if here.source.kind == "reverser" and there.source.kind == "fixed":
                        asked.setdefault(here.source.supply, set()).add(here.source.leg == there.source.leg)
        return {name for name, turned in asked.items() if len(turned) == 2}

    def bridge_passes(self) -> Iterator[tuple[int, int]]:
        """The rails that a wheel ties to one another where a table's bridge comes to a track."""
        for piece in self.wiring.pieces:
            base = self.wiring.first[piece.name]
            if piece.template.bridge:
                yield from ((base + step.one, base + step.other) for step in piece.template.passes)

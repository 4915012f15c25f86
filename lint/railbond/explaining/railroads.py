"""Railroads that have nothing to do with one another in one plan: what is wrong with each is explained by itself.

A shelf layout beside the club's, or two decks that share a file and no wire. Slips are looked for in each as if the
other were not there, so that a fault which nothing explains keeps none of the other's from being explained.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence

from railbond.circuit.facts import Facts
from railbond.circuit.graph import joined
from railbond.findings import Finding
from trackplan.span import Span
from trackplan.statements import Couple, Engine, Include, Limit, Plan, Rails, Scale, Train

from .explained import After, InTurn, explained
from .slip import Ask

OF_ALL = (Engine, Include, Limit, Plan, Rails, Scale, Train)
"""Lines that are about every railroad."""

OF_THE_PLAN = frozenset({"wires-unknown", "set-against"})
"""Rules that tell once of a whole plan what may be so at many places."""


def each_explained(facts: Facts, written: Sequence[Finding], ask: Ask, in_turn: InTurn) -> After:
    """What `explained` tells of each railroad of a plan; what is told of more than one stays as it is."""
    several = list(_railroads(facts))
    if len(several) < 2:
        return explained(facts, written, ask, in_turn)
    after: After = {}
    rest = dict.fromkeys(written)
    for one in several:
        places = [statement.at for statement in one.statements if not isinstance(statement, OF_ALL)]
        own = ask(one, True)
        told = (
            explained(one, own, ask, in_turn) if any(found.level != "note" for found in own) else dict.fromkeys(own, ())
        )
        after |= {found: made for found, made in told.items() if _is_at_one_of(found, places)}
        rest = {found: None for found in rest if not _is_at_one_of(found, places)}
    return after | dict.fromkeys(rest, ())


def _is_at_one_of(found: Finding, places: Sequence[Span]) -> bool:
    """Whether it is told at a line of one railroad, by a rule that tells of each place."""
    lies = any(at.path == found.at.path and at.start <= found.at.start <= at.end for at in places)
    return lies and found.rule not in OF_THE_PLAN


def _railroads(facts: Facts) -> Iterator[Facts]:
    """The facts of each: of its lines, and of those that are about all. None where some track has no supply, or a
    supply no track: nobody knows whose that is."""
    lines = {} if facts.broken or facts.layout.faults or _is_one_track(facts) else _names_by_line(facts)
    groups = _joined(lines.values())
    kinds = (facts.layout.pieces, facts.layout.supplies)
    if len(groups) < 2 or any(names.isdisjoint(own) for names in groups for own in kinds):
        return
    known = frozenset[str]().union(*groups)
    for names in groups:
        own = (one for one in facts.statements if one.at not in lines or lines[one.at] & names)
        yield facts.of_lines(own, known - names)


def _is_one_track(facts: Facts) -> bool:
    """Whether all track meets, cut or not, so that none of it is another railroad's."""
    signs, turning = facts.turning.forest.signs, facts.turning
    parted = ((signs[seam.one][0], signs[seam.other][0]) for seam in turning.parting)
    trees = {tree for tree, _ in signs.values()}
    number = joined(len(signs), parted)
    return len({number[tree] for tree in trees}) == 1


def _names_by_line(facts: Facts) -> dict[Span, frozenset[str]]:
    """The names of track, wires and supplies in each line that is about some; nothing of plans that couple others."""
    if any(isinstance(one, Couple) for one in facts.statements):
        return {}
    layout = facts.layout
    known = {*layout.supplies, *layout.terminals, *layout.pieces, *layout.edges, *layout.boosters}
    known |= {meeting.name for meeting in layout.meetings if meeting.name}
    asked = [one for one in facts.statements if not isinstance(one, OF_ALL)]
    known |= {str(getattr(one, "name", "")) for one in asked}
    texts = {path: source.text.translate(_BLANKS) for path, source in facts.sources.items()}
    found = {at: known.intersection(texts[at[0]][at[1] : at[2]].split()) for at in (one.at for one in asked)}
    begins = {(at.path, at.start): at for at in found}
    for piece in layout.pieces.values():  # several are laid by one line of a scissors crossing
        at = piece.statement.at
        found.setdefault(begins.get((at.path, at.start), at), set()).add(piece.name)
    return {at: frozenset(names) for at, names in found.items() if names}


class _Blanks(dict[int, int]):
    """A table with which `str.translate` puts blanks in the place of all that is no part of a name."""

    def __missing__(self, code: int) -> int:
        self[code] = code if chr(code).isalnum() or chr(code) in "_-" else ord(" ")
        return self[code]


_BLANKS = _Blanks()


def _joined(lines: Collection[frozenset[str]]) -> list[frozenset[str]]:
    """The names by what is named together in some line."""
    lines_of = defaultdict[str, list[frozenset[str]]](list)
    for words in lines:
        for word in words:
            lines_of[word].append(words)
    groups: list[frozenset[str]] = []
    while lines_of:
        group, queue = set[str](), [next(iter(lines_of))]
        while queue:
            for words in lines_of.pop(queue.pop(), ()):
                queue += words - group
                group |= words
        groups.append(frozenset(group))
    return groups

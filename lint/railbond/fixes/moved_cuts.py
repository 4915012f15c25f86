"""Cuts that a mend leaves without a purpose, made where it needs new ones: a cut is moved rather than added."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import count

from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Part, Seam, beyond
from trackplan.amend import set_statement, set_word
from trackplan.edit import Edit
from trackplan.record import NamedTuple
from trackplan.statements import Gap

from .reversers import Reversing

BOTH = "both rails"
KEYWORD = "gap "

MOST_PARTS = 30
"""Parts of track within which a cut is thought of as the one that was meant for another place."""


class MovedCut(NamedTuple):
    """The line that is changed, in words from where to where, and the edit."""

    gap: Gap
    there: str
    edit: Edit


def with_cuts_moved(facts: Facts, reversing: Reversing) -> tuple[tuple[Edit, ...], list[MovedCut]] | None:
    """The edits with each new cut of both rails made of the nearest one that parts nothing once they are made, its line
    changed where it stands, so that name and comment stay. None where they cannot be made."""
    edits = reversing.edits
    new = [edit for edit in edits if edit.line and edit.text.startswith(KEYWORD) and edit.text.endswith(BOTH)]
    tried = reversing.tried(facts) if new else facts
    if tried is None:
        return None
    idle = _idle(tried, edits) if new else {}
    moved: dict[int, MovedCut] = {}
    for edit in new:
        place = edit.text.removeprefix(KEYWORD).removesuffix(BOTH).strip()
        if nearest := _nearest(facts, place.partition(".")[0].partition(" ")[0], idle):
            moved[id(edit)] = MovedCut(nearest, place, _at(nearest, place)._replace(says=edit.says))
            idle = {at: gap for at, gap in idle.items() if gap is not nearest}
    made = tuple(moved[id(edit)].edit if id(edit) in moved else edit for edit in edits)
    return made, list(moved.values())


def _at(gap: Gap, place: str) -> Edit:
    if gap.offset is None and " at " not in place:
        return set_word(gap, gap.place, place)
    return set_statement(gap, f"gap {place}  {BOTH}")


def _idle(made: Facts, edits: Iterable[Edit]) -> dict[int, Gap]:
    """The cuts of both rails on whose two sides the rails carry the same in every setting, by their seams; but for
    those that the edits make or change."""
    found: dict[int, Gap] = {}
    touched = [edit.at for edit in edits if not edit.line]
    for number, seam in enumerate(made.turning.seams):
        gap = _gap(made, seam) if all(seam.gapped) else None
        if gap is None or gap.at.start == gap.at.end or any(gap.at.start <= at.start < gap.at.end for at in touched):
            continue
        sides = [[frozenset(made.proof.reachable(rail)) for rail in pair] for pair in seam.rails]
        if all(one == other != frozenset() for one, other in sides):
            found[number] = gap
    return found


def _gap(facts: Facts, seam: Seam) -> Gap | None:
    """The one line that cuts both rails at a seam."""
    if seam.meeting is not None:
        lines = set(seam.meeting.gaps.values())
        return lines.pop() if len(lines) == 1 else None
    piece = facts.layout.pieces[seam.one[0]]
    cuts = [one for one in piece.work if isinstance(one, Gap) and one.offset == seam.offset and one.rail == BOTH]
    return cuts[0] if len(cuts) == 1 else None


def _nearest(facts: Facts, name: str, idle: dict[int, Gap]) -> Gap | None:
    """The idle cut that the fewest parts of track lie between and a new one."""
    at = {id(gap): gap for gap in idle.values()}
    for seam in _outwards(facts, name) if idle else ():
        gap = _gap(facts, seam) if all(seam.gapped) else None
        if gap is not None and id(gap) in at:
            return gap
    return None


def _outwards(facts: Facts, name: str) -> Iterator[Seam]:
    """The seams around a piece, or around a joint of that name, the nearest first."""
    ends = [one for one in facts.layout.meetings if (one.name or "").rpartition(".")[2] == name]
    pieces = {end.piece for one in ends for end in (one.one, one.other)} or {name}
    local = {one for one, piece in facts.layout.pieces.items() if piece.statement.name == name or one in pieces}
    queue: list[Part] = [part for part in facts.turning.seams_at if part[0] in local]
    seen = set(queue)
    for here, _ in zip(queue, count(MOST_PARTS, -1), strict=False):
        for seam in facts.turning.seams_at.get(here, ()):
            yield seam
            there = beyond(seam, here)
            if there not in seen:
                seen.add(there)
                queue.append(there)

"""What the cuts at trackwork of one kind, and at the legs of one turnout, say of a joint."""

from __future__ import annotations

from collections import Counter

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.layout.model import Meeting


def is_beside_a_cut(facts: Facts, meeting: Meeting) -> bool:
    """Whether the other leg of the turnout here is cut, and its points are not: then this one is mostly cut as well."""
    for end in (meeting.one, meeting.other):
        if facts.layout.pieces[end.piece].template.has_points and end.end != "points":
            own = [one for one in facts.layout.meetings if end.piece in (one.one.piece, one.other.piece)]
            cut = {at.end for one in own for at in (one.one, one.other) if at.piece == end.piece and one.gaps}
            return bool(cut) and "points" not in cut
    return False


def lacks_its_like(facts: Facts, meeting: Meeting) -> bool:
    """Whether a joint without a cut is at trackwork without points of which all others of the kind, two at least, have
    as many joints cut as another, and this one has one fewer. What a turnout is cut for hangs on where it lies."""
    for end in (meeting.one, meeting.other):
        piece = facts.layout.pieces[end.piece]
        kind = type(piece.statement)
        if not (piece.template.is_plain or piece.template.has_points or meeting.gaps):
            cut = _cut_joints(facts)
            own = [name for name, piece in facts.layout.pieces.items() if type(piece.statement) is kind]
            others = {cut[name] for name in own if name != end.piece}
            if len(own) > 2 and others == {cut[end.piece] + 1}:
                return True
    return False


@once
def _cut_joints(facts: Facts) -> Counter[str]:
    """How many joints of each piece are cut."""
    ends = (end for meeting in facts.layout.meetings if meeting.gaps for end in (meeting.one, meeting.other))
    return Counter(end.piece for end in ends)

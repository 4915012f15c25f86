"""Slips with cuts: forgotten, in one rail only, in the other rail, at the wrong end, one piece too far."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from railbond.circuit.facts import Facts
from railbond.fixes.fix_edits import beside, gap_words, length_words, local
from railbond.layout.model import Drop, EndAt, Meeting, Piece
from trackplan.amend import drop_clause, set_word, take_out
from trackplan.edit import add_line
from trackplan.statements import Gap

from .idle import is_idle, parts_nothing, parts_nothing_within
from .like_cuts import is_beside_a_cut, lacks_its_like
from .slip import HandSlip, one_letter_off

OTHER = {"left rail": "right rail", "right rail": "left rail", "frog rail": "stock rail", "stock rail": "frog rail"}

POINTS, BESIDE = 1.0, 2.0
"""How much further off a cut at a turnout's points is than one at a leg, and how much nearer one beside a cut leg."""

NAMED = 3.0
"""How much further off a cut at a joint with a name is from an end without: the name was given for the cut."""

BETWEEN = 2.0
"""How much nearer a cut is in the midst of a crossover, where two lines part, than in one of the lines."""

LIKE_CUT = 5.0
"""How much nearer a cut is at trackwork all the like of which have one more."""

HABIT = 15.0
"""How much further off the other rail of a cut is where none is cut in both rails."""

NEAR = 0.5
"""Meters within which nobody solders two pairs of wires of one supply to plain track."""

ONE_LETTER = -0.5
"""How much further off another end of the same piece is whose name is one letter off."""

USEFUL = 20.0
"""How much further off, in steps, a cut is taken for one that belongs elsewhere while it parts something here."""


def gap_slips(facts: Facts, gap: Gap) -> Iterator[HandSlip]:
    """The other rail, both rails, the other end of the piece, the next joint, a name one letter off."""
    place, names = _place(gap), (str(gap.place).partition(".")[0],)
    if gap.rail != "both rails":
        edit, words = set_word(gap, gap.rail, "both rails"), f"cut the other rail {place} too"
        far = HABIT * _are_cut_in_one(facts, gap)
        yield HandSlip("one rail", gap.at, (edit,), words, f"only one rail is cut {place}", names, far)
        other = OTHER[gap.rail]
        edit, words = set_word(gap, gap.rail, other), f"close the cut {place} and cut the {other} there"
        said = f"the {gap.rail} is cut {place} in place of the {other}"
        kind = "idle cut" if parts_nothing(facts, gap) else "rail"
        yield HandSlip(kind, gap.at, (edit,), words, said, names)
    yield from _moved(facts, gap) if gap.offset is None else _to_an_end(facts, gap)
    words, said = f"close the cut {place}", f"the cut {place} is one too many"
    yield HandSlip("cut", gap.at, (take_out(facts.sources[gap.at.path], gap),), words, said, names)


def _place(gap: Gap) -> str:
    """Where a cut is: `at T1.through`, `of west at 40 cm`."""
    return f"at {gap.place}" if gap.offset is None else f"of {gap.place} at {gap.offset.text}"


def _are_cut_in_one(facts: Facts, gap: Gap) -> bool:
    """Whether the other cuts are in one rail only, as beside a common rail: then this one was meant to be so, too."""
    if gap.rail in ("frog rail", "stock rail"):
        return False
    others = {str(one.rail) for one in facts.statements if isinstance(one, Gap) and one.at != gap.at}
    return bool(others or facts.layout.commons) and others <= {"left rail", "right rail"}


def _moved(facts: Facts, gap: Gap) -> Iterator[HandSlip]:
    here = next((one for one in facts.layout.meetings if gap in one.gaps.values() or _is_at(facts, gap, one)), None)
    if here is None:
        return
    for there in facts.layout.meetings:
        shared = {here.one.piece, here.other.piece} & {there.one.piece, there.other.piece}
        if shared and there is not here and not there.gaps:
            yield from moved_to(facts, gap, here, there)
    joints = {one.name for one in facts.layout.meetings if one.name}
    for name in one_letter_off(str(gap.place), map(_local, joints)):
        yield _to(gap, name, "letter", 0)


def _is_at(facts: Facts, gap: Gap, meeting: Meeting) -> bool:
    """Whether a line cuts a joint that another line has cut already."""
    ends = (_word(facts, end) for end in (meeting.one, meeting.other) if end.piece in facts.layout.pieces)
    return bool(facts.layout.faults) and gap.place in (*ends, _local(meeting.name))


def _is_cut_twice(facts: Facts, gap: Gap, meeting: Meeting) -> bool:
    """Whether another line cuts the same joint."""
    gaps = (one for one in facts.statements if isinstance(one, Gap)) if facts.layout.faults else ()
    return any(one.at != gap.at and (one in meeting.gaps.values() or _is_at(facts, one, meeting)) for one in gaps)


def _to_an_end(facts: Facts, gap: Gap) -> Iterator[HandSlip]:
    """A cut within a segment that was meant for one of its ends, in the same rail."""
    name, far = str(gap.place), 0.0 if parts_nothing_within(facts, gap) else USEFUL
    ends = (f"{name}.start", f"{name}.finish")
    for place in ends:
        words = f"close the cut within {name} and cut at {place} instead ({gap.rail})"
        said = f"the cut within {name} belongs to {place}"
        edit = drop_clause(facts.sources[gap.at.path], gap, gap.offset, "at")
        yield HandSlip("wrong end", gap.at, (set_word(gap, gap.place, place), edit), words, said, (name,), far)


def moved_to(facts: Facts, gap: Gap, here: Meeting, there: Meeting) -> Iterator[HandSlip]:
    """The cut here at another joint; far from likely where it parts something as it is."""
    far = 0.0 if is_idle(facts, gap) or _is_cut_twice(facts, gap, here) else USEFUL
    for_a_cut = bool(there.name) and _is_between_plain(facts, there)
    if not for_a_cut and is_beside_a_cut(facts, here) and not is_beside_a_cut(facts, there):
        far += BESIDE
    owner = str(gap.place).partition(".")[0]
    ends = [end for end in (there.one, there.other) if local(facts.layout.pieces[end.piece]) == owner]
    if ends and "." in gap.place:
        yield _to(gap, _word(facts, ends[0]), "wrong end", far)
    elif there.name:
        is_nearer = for_a_cut and not (here.name and _is_between_plain(facts, here))
        yield _to(gap, _local(there.name), "one too far", far - NAMED * is_nearer)
    else:
        far += NAMED if here.name else 0.0
        named = sorted((there.one, there.other), key=lambda end: not facts.wiring.end(end).rails)
        yield from (_to(gap, _word(facts, end), "one too far", far + more) for more, end in enumerate(named))


def midst_slips(facts: Facts, piece: Piece) -> Iterator[HandSlip]:
    """A cut at an end of plain track that was meant for the midst of it, between wires of two supplies that lie nearer
    to one another than anybody solders two of one: where its like is cut, else halfway."""
    if not piece.template.is_plain or piece.template.links:
        return
    drops = sorted((drop.place or 0.0, facts.supply_of_wire.get(drop.wire.name)) for drop in _drops_of(facts, piece))
    turns = [(before, after) for (before, one), (after, other) in pairwise(drops) if one != other]
    if len(turns) != 1 or not 0 < turns[0][1] - turns[0][0] < NEAR:
        return
    at_ends = (one for one in facts.layout.meetings if piece.name in (one.one.piece, one.other.piece))
    for gap in dict.fromkeys(gap for one in at_ends for gap in one.gaps.values()):
        name, place = local(piece), _between(facts, gap, *turns[0])
        words = f"close the cut at {gap.place} and cut {name} at {place} instead ({gap.rail})"
        said = f"the cut at {gap.place} belongs to {name}, between its wires"
        edit = set_word(gap, gap.place, f"{name} at {place}")
        yield HandSlip("one too far", gap.at, (edit,), words, said, (name,))


def _drops_of(facts: Facts, piece: Piece) -> list[Drop]:
    return [drop for drop in facts.layout.drops if drop.piece == piece.name and drop.wire.leg == 0]


def _between(facts: Facts, gap: Gap, before: float, after: float) -> str:
    """Where other track is cut as far along, or halfway."""
    told = (one.offset for one in facts.statements if isinstance(one, Gap) and one.at != gap.at and one.offset)
    return next((one.text for one in told if before < one < after), length_words((before + after) / 2))


def _to(gap: Gap, place: str, kind: str, far: float) -> HandSlip:
    words = f"close the cut at {gap.place} and cut at {place} instead ({gap.rail})"
    said = f"the cut at {gap.place} belongs to {place}"
    names = (str(gap.place).partition(".")[0], place.partition(".")[0])
    near = ONE_LETTER * (names[0] == names[1] and any(one_letter_off(place, (str(gap.place),))))
    return HandSlip(kind, gap.at, (set_word(gap, gap.place, place),), words, said, names, far + near)


def _word(facts: Facts, end: EndAt) -> str:
    return f"{local(facts.layout.pieces[end.piece])}.{end.end}"


def _local(name: str) -> str:
    return name.rpartition(".")[2]


def meeting_slips(facts: Facts, meeting: Meeting) -> Iterator[HandSlip]:
    """A cut that was forgotten at a joint, in both rails or in one; where a line cuts one already, see `gap_slips`."""
    missing = [side for side in ("left", "right") if side not in meeting.gaps]
    pieces = [facts.layout.pieces[end.piece] for end in (meeting.one, meeting.other)]
    if len(missing) != 2 or any(piece.template.bridge for piece in pieces):
        return
    names = tuple(piece.name for piece in pieces)
    ends = list(zip((meeting.one, meeting.other), pieces, strict=True))
    place = next(iter(gap_words(facts, meeting, side) or () for side in missing), ())
    word = _local(meeting.name) if meeting.name else place[0] if place else _word(facts, meeting.one)
    at_frog = any(facts.wiring.end(end).rails and piece.template.frogs for end, piece in ends)
    nearer = POINTS * any(end.end == "points" for end, _ in ends) - BESIDE * is_beside_a_cut(facts, meeting)
    nearer -= LIKE_CUT * lacks_its_like(facts, meeting)
    nearer -= BETWEEN * all(end.end == "diverging" for end, _ in ends)
    far = nearer + (1 if at_frog or facts.layout.commons else 0)
    yield _forgotten(facts, meeting, word, "both rails", names, far)
    for side in missing:
        words = gap_words(facts, meeting, side)
        if words:
            place_, rail = words
            at_frog = rail in ("frog rail", "stock rail")
            word = _local(meeting.name) if meeting.name and not at_frog and _is_plain(facts, meeting) else place_
            far = nearer + (0 if rail == "frog rail" or facts.layout.commons else 2)
            yield _forgotten(facts, meeting, word, rail, names, far)


def _is_plain(facts: Facts, meeting: Meeting) -> bool:
    """Whether both arrows run on through a joint, so that its name alone tells left from right."""
    one, other = facts.wiring.end(meeting.one), facts.wiring.end(meeting.other)
    return one.leaves != other.leaves


def _is_between_plain(facts: Facts, meeting: Meeting) -> bool:
    """Whether plain track meets plain track, as where nothing but a cut was meant to be."""
    return all(facts.layout.pieces[end.piece].template.is_plain for end in (meeting.one, meeting.other))


def _is_for_a_cut(facts: Facts, meeting: Meeting) -> bool:
    """Whether plain track meets plain track of another supply here: as where a boundary was meant."""
    pieces = [end.piece for end in (meeting.one, meeting.other)]
    if not _is_between_plain(facts, meeting):
        return False
    one, other = ({drop.wire.name for drop in facts.layout.drops if drop.piece == name} for name in pieces)
    behind = (frozenset[str]().union(*(facts.supply_of_wire.get(wire, ()) for wire in own)) for own in (one, other))
    return next(behind) != next(behind)


def _forgotten(facts: Facts, meeting: Meeting, place: str, rail: str, names: tuple[str, ...], far: float) -> HandSlip:
    near = facts.layout.pieces[meeting.one.piece].statement.at
    edits = (add_line(beside(facts, Gap, near), f"gap {place}  {rail}"),)
    which = "both rails" if rail == "both rails" else f"the {rail}"
    words, said = f"cut {which}, or put insulated joiners, at {place}", f"{which} should be cut at {place}"
    kind = "boundary" if _is_for_a_cut(facts, meeting) else "gap"
    return HandSlip(kind, meeting.at, edits, words, said, names, far)

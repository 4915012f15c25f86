"""The usual mends of the trade as edits of a plan, shared by the rules."""

from __future__ import annotations

import re
from collections.abc import Iterable

from railbond.circuit.drops_by import drops_at, lines_to
from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.circuit.signed_graph import Seam
from railbond.findings import Fix
from railbond.layout.model import FrogFeed, Meeting, Piece
from railbond.layout.template import OTHER_SIDE
from trackplan.amend import add_clause, drop_clause, set_statement, set_word, take_out
from trackplan.edit import Edit, add_line
from trackplan.span import Span
from trackplan.statements import (
    Bus,
    ClosureBond,
    Cut,
    Feeder,
    FrogFromStockRails,
    FrogSwitched,
    Gap,
    Statement,
)


def beside(facts: Facts, kind: type, near: Span) -> Span:
    """After which line a new statement belongs: the last of its kind in the file of `near`, else `near` itself."""
    return _last_of_kinds(facts).get((kind, near.path), near)


@once
def _last_of_kinds(facts: Facts) -> dict[tuple[type, str], Span]:
    """Where the last statement of each kind stands in each file."""
    found: dict[tuple[type, str], Span] = {}
    for one in facts.statements:
        kind, at = (type(one), one[0][0]), one[0]
        if kind not in found or at[2] > found[kind][2]:
            found[kind] = at
    return found


def local(piece: Piece) -> str:
    """A piece's name as its own file calls it."""
    return str(piece.statement.name)


def gap_words(facts: Facts, meeting: Meeting, side: str) -> tuple[str, str] | None:
    """PLACE and RAIL of a gap statement for one rail of a meeting, by its side looking out of `meeting.one`.

    A frog end is named as such, a segment's rail along its arrow; None where the language has no words for it.
    """
    for at, seen in ((meeting.one, side), (meeting.other, OTHER_SIDE[side])):
        piece = facts.layout.pieces[at.piece]
        end = piece.template.ends[at.end]
        for words, on in end.rails.items():
            if on == seen:
                return f"{local(piece)}.{at.end}", words
    for at, seen in ((meeting.one, side), (meeting.other, OTHER_SIDE[side])):
        piece = facts.layout.pieces[at.piece]
        if piece.template.length:
            along = seen if at.end == "finish" else OTHER_SIDE[seen]
            return f"{local(piece)}.{at.end}", f"{along} rail"
    return None


def gap_edits(facts: Facts, meeting: Meeting, sides: Iterable[str]) -> tuple[Edit, ...]:
    """Gap statements for the named rails of a meeting that are not gapped yet."""
    missing = [side for side in sides if side not in meeting.gaps]
    near = facts.layout.pieces[meeting.one.piece].statement.at
    after = beside(facts, Gap, near)
    if len(missing) == 2:
        return (gap_line(after, _place(facts, meeting), "both rails"),)
    words = [gap_words(facts, meeting, side) for side in missing]
    return tuple(gap_line(after, *place) for place in words if place)


BOTH = "both rails"
_RAIL = rf"(?:{BOTH}|the \w+ rail) "
"""How what a new gap says of itself begins."""


def widened(meeting: Meeting) -> tuple[Edit, ...]:
    """The gap statement that cuts one rail of a meeting made one of both; nothing where no line of the text does."""
    held = list(meeting.gaps.values())
    if len(held) != 1 or held[0].rail == BOTH or held[0].at.start == held[0].at.end:
        return ()
    return (set_word(held[0], held[0].rail, BOTH)._replace(says=f"{BOTH} at {held[0].place}"),)


def gap_line(after: Span, place: str, rail: str) -> Edit:
    """A new gap statement."""
    name, within, offset = place.partition(" at ")
    where = f"of {name}{within}{offset}" if within else f"at {name}"
    return add_line(after, f"gap {place}  {rail}", f"{rail if rail == BOTH else f'the {rail}'} {where}")


def seam_edits(facts: Facts, seam: Seam, which: Iterable[int]) -> tuple[Edit, ...]:
    """Gaps at a seam for its left (0) and right (1) rail, seen along the looking direction of `seam.one`."""
    missing = [index for index in which if not seam.gapped[index]]
    if seam.meeting is not None:
        leaves = facts.wiring.end(seam.meeting.one).leaves
        sides = [("left", "right")[index if leaves else 1 - index] for index in missing]
        return gap_edits(facts, seam.meeting, sides)
    piece = facts.layout.pieces[seam.one[0]]
    words = "both rails" if len(missing) == 2 else "left rail" if missing == [0] else "right rail"
    after = beside(facts, Gap, piece.statement.at)
    place = f"{local(piece)} at {length_words(seam.offset or 0.0)}"
    return (gap_line(after, place, words),) if missing else ()


def length_words(meters: float) -> str:
    """A length for a new line: `1.2 m` or `35 cm`."""
    return f"{round(meters, 3):g} m" if meters >= 1 else f"{round(meters * 100, 1):g} cm"


def _place(facts: Facts, meeting: Meeting) -> str:
    frog_first = sorted((meeting.one, meeting.other), key=lambda at: not facts.wiring.end(at).rails)
    piece = facts.layout.pieces[frog_first[0].piece]
    return f"{local(piece)}.{frog_first[0].end}"


def places_of(cuts: Iterable[Edit]) -> str:
    """Which rails some new gaps cut, for the bench: `both rails at T1.through and at T1.diverging`."""
    places: dict[str, list[str]] = {}
    for words in dict.fromkeys(cut.says for cut in cuts if cut.says):
        found = re.match(_RAIL, words)
        places.setdefault(found[0] if found else "", []).append(words[found.end() if found else 0 :])
    return " and ".join(f"{rail}{' and '.join(where)}" for rail, where in places.items())


def uncrossed(facts: Facts, statement: Feeder | Bus) -> tuple[Edit, ...]:
    """Swaps the two legs of a feeder pair or a bus run, or the leg of a single drop."""
    if isinstance(statement, Feeder) and is_single(statement):
        return _other_leg(facts, statement)
    if statement.crossed is None:
        return (add_clause(statement, "crossed", "crossed"),)
    return (drop_clause(facts.sources[statement.at.path], statement, statement.crossed),)


def is_single(feeder: Feeder) -> bool:
    """Whether a feeder is one wire to one rail, and no pair to a segment or a table's bridge."""
    return "." in feeder.rail and not feeder.rail.endswith(".bridge")


def is_fed_besides(facts: Facts, feeder: Feeder) -> bool:
    """Whether all rails that a feeder goes to have wires of other lines too, at the same piece: only then may it be one
    too many."""
    own, lines = drops_at(facts).get(feeder.at, ()), lines_to(facts)
    return all(any(line != feeder.at for line in lines[drop.piece, drop.metal]) for drop in own)


def _other_leg(facts: Facts, statement: Feeder) -> tuple[Edit, ...]:
    drop = next(one for one in facts.layout.drops if one.statement is statement)
    legs = facts.layout.legs_of(drop.wire.name)
    name, _, leg = statement.supply.rpartition(".")
    name = name if leg in legs else statement.supply  # both legs cannot go to one rail: told as impossible
    return (set_word(statement, statement.supply, f"{name}.{legs[1 - drop.wire.leg]}"),)


def moved(facts: Facts, feeder: Feeder, wire: str) -> tuple[Edit, ...]:
    """A feeder soldered to another supply's or terminal's wire, the way round that the track asks for."""
    drops = [one for one in facts.layout.drops if one.statement is feeder]
    polarity, name = facts.polarity, wire.rpartition(".")[2]
    leg = polarity.leg(wire, drops[0].piece, drops[0].metal)
    if is_single(feeder):
        return (set_word(feeder, feeder.supply, f"{name}.{facts.layout.legs_of(wire)[leg]}"),)
    turn = uncrossed(facts, feeder) if leg != (feeder.crossed is not None) else ()
    return (set_word(feeder, feeder.supply, name), *turn)


def taken_out(facts: Facts, statement: Statement) -> Edit:
    """A statement taken out, with its line where it stands there alone."""
    return take_out(facts.sources[statement.at.path], statement)


def swapped_contacts(statement: FrogSwitched) -> tuple[Edit, ...]:
    """A switched frog with its two contacts exchanged."""
    through, diverging = statement.through, statement.diverging
    return set_word(statement, through, str(diverging)), set_word(statement, diverging, str(through))


def line_after(facts: Facts, kind: type, near: Statement, text: str) -> Edit:
    """A new statement's line, laid beside its own kind."""
    return add_line(beside(facts, kind, near.at), text)


JUMPERS = (
    "leave the two jumpers under the frog, from each closure rail to its own frog rail (if yours has none, solder them)"
)


def bond_words(piece: Piece, of: str = "") -> str:
    """What `bond … closure rails to stock rails` asks for at the bench; without blades, lead rails themselves move."""
    if not piece.template.blades:
        return f"tie each moving rail{of} to the outer lead of its side by a flexible jumper"
    return f"solder each closure rail{of} to the stock rail beside it"


def convert(facts: Facts, piece: Piece) -> tuple[Fix, ...]:
    """The classic cure of a live frog: cut around it, closure rails bonded to stock rails, the frog fed.

    There is none for any other frog.
    """
    if piece.template.shape.build != "live-frog":
        return ()
    name, near = local(piece), piece.statement
    lines = isolated(facts, piece)
    jumpers = JUMPERS if piece.template.blades else JUMPERS.replace("closure rail", "inner lead")
    if not facts.layout.feeds(piece.name):
        lines.append(line_after(facts, FrogFromStockRails, near, f"frog {name}  switched from stock rails"))
    rebuilt = Fix(
        f"convert {name}: cut the rails on both sides of its frog but {jumpers}; {bond_words(piece)}, and feed the "
        "frog through contacts that move with the points",
        tuple(lines),
        plain=False,
        changes=f"{name} is rebuilt: its frog becomes short and alone, fed by switch contacts",
    )
    return (rebuilt,)


def isolated(facts: Facts, piece: Piece) -> list[Edit]:
    """A live frog made short and alone: the rails cut around it, the closure rails bonded; not yet fed."""
    name, near = local(piece), piece.statement
    cuts = [one for one in piece.work if isinstance(one, Cut)]
    lines = [set_word(one, one.what, "around frog") for one in cuts if one.what != "around frog"]
    if not cuts:
        lines.append(line_after(facts, Cut, near, f"cut {name}  around frog"))
    if not any(isinstance(one, ClosureBond) for one in piece.work):
        lines.append(line_after(facts, ClosureBond, near, f"bond {name}  closure rails to stock rails"))
    return lines


def rewritten_frog(facts: Facts, feed: FrogFeed) -> tuple[Edit, ...]:
    """The frog's feed written anew as `switched from stock rails`, which is right by construction."""
    return (set_statement(feed.statement, f"frog {feed.statement.turnout}  switched from stock rails"),)

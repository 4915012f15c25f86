"""Track that is joined where other track is: where more ends meet than can, and some end, joint or edge has none."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from railbond.circuit.by_kind import of_kind
from railbond.circuit.facts import Facts
from railbond.fixes.wires_nearby import share_a_word
from railbond.layout.misread import OF_ENDS, ends_named, other_hand
from railbond.layout.model import Fault
from trackplan.amend import set_word
from trackplan.span import Word
from trackplan.statements import Joint, Statement

from .meant import are_kin
from .practice import EARLIER
from .slip import HandSlip, one_letter_off
from .wires import local_name

MOST_LOOSE = 6
"""Ends, joints and edges without track that are tried."""

ANOTHER_PIECE = 2.0
"""How much further off, in steps, the end of another piece is than another end of the same, and a joint whose name is
not nearly the same."""

ALIKE_ENDS = -1.0
"""How much further off an end is where it would join like ends of two pieces."""

SIDE_BY_SIDE = -2.0
"""The same where the hands of two turnouts with two tracks between them say so."""

IN_ORDER = -1.0
"""The same where the ends of a piece are then named in their order."""

KIN = -2.0
"""The same where track of nearly the same name already leads to the joint, as `u3` does beside `u2`."""

NEXT_LINE = -1.0
"""The same where the line before or after leads there, and again where its arrow then runs on."""

Named = tuple[Statement, Word]


def end_slips(facts: Facts) -> Iterator[HandSlip]:
    """Where three ends meet at one, or two tracks at an edge, and some end, joint or edge has none: that in the place
    of the one that is named too often, in each of its lines."""
    faults = [one for one in facts.layout.faults if one.rule == "impossible" and one.why]
    named = list(ends_named(of_kind(facts, *OF_ENDS))) if faults else []
    loose = _without_track(facts, named) if faults else []
    crowded = [(fault, word) for fault in faults for word in _crowded(facts, fault, named)] if loose else []
    for fault, word in crowded:
        lines = [(one, part) for one, part in named if part == word]
        for end in loose:
            for one, part in reversed(lines):
                earlier = EARLIER * (not one.at.holds(fault.at))
                far = _unlike(end, word) + earlier + _speaks_for(facts, named, lines, one, part, end)
                name = getattr(one, "name", "") if len(lines) > 1 else ""
                at = f" at {name}" if name else ""
                words, said = f"write `{end}` for `{word}`{at}", f"`{word}` is a slip for `{end}`"
                yield HandSlip("end", one.at, (set_word(one, part, end),), words, said, (end.partition(".")[0],), far)


def _crowded(facts: Facts, fault: Fault, named: list[Named]) -> Iterator[str]:
    """The end at which a third track meets two: where the line is a joint, it may be either of both that it names."""
    told = facts.sources[fault.at.path].part(fault.at.start, fault.at.end)
    line = next((one for one, _ in named if one.at.holds(fault.at)), None)
    often = Counter(str(word) for _, word in named)
    both = [str(word) for one, word in named if one is line and isinstance(one, Joint) and often[str(word)] > 1]
    yield from dict.fromkeys((told, *both))


def _unlike(end: str, word: str) -> float:
    """How much further off one end or joint is from another by their names."""
    near = end.partition(".")[0] == word.partition(".")[0] if "." in word else any(one_letter_off(end, (word,)))
    return 0.0 if near else ANOTHER_PIECE


def _speaks_for(facts: Facts, named: list[Named], lines: list[Named], one: Statement, part: Word, end: str) -> float:
    """How much nearer it is, in steps, that a line was to name another end, by what the other lines say."""
    if "." not in end:
        return _leads_there(named, one, part, end)
    ordered = IN_ORDER * _in_order(facts, str(part), end, [end if word is part else str(word) for _, word in named])
    if (beside := _side_by_side(facts, lines, one, end)) is not None:
        return ordered + SIDE_BY_SIDE * beside
    return ordered + ALIKE_ENDS * _joins_alike(one, end)


def _leads_there(named: list[Named], one: Statement, part: Word, end: str) -> float:
    """How much nearer a line is to lead to a joint by what else leads there: by its name, and by the order of lines."""
    lines = list(dict.fromkeys(line for line, _ in named))
    found, own = 0.0, str(getattr(one, "name", ""))
    for other, word in named:
        name = str(getattr(other, "name", ""))
        if word != end or other is one or not name:
            continue
        found += KIN * (are_kin(name, own) or share_a_word(name, own))
        if abs(lines.index(one) - lines.index(other)) == 1:
            runs_on = (word is getattr(other, "start", None)) != (part is getattr(one, "start", None))
            found += NEXT_LINE * (1 + runs_on)
    return found


def _in_order(facts: Facts, word: str, end: str, named: list[str]) -> bool:
    """Whether of two ends of one piece beyond its points that is named first which its kind has first."""
    own = _piece_of(end)
    piece = next((one for name, one in facts.layout.pieces.items() if local_name(name) == own), None)
    ends = [f"{own}.{one}" for one in piece.template.ends if one != "points"] if piece else []
    told = [ends.index(one) for one in named if one in (word, end) and one in ends]
    return len(told) > 1 and told == sorted(told)


def _side_by_side(facts: Facts, lines: list[Named], one: Statement, end: str) -> bool | None:
    """Of two tracks between the same two turnouts: whether one joins the right legs. Turnouts of unlike hands have like
    legs on one side, those of one hand unlike ones. None where it is not so."""
    others = [{_piece_of(word) for word in _both(line)} - {_piece_of(end)} for line, _ in lines]
    if len(lines) != 2 or len(others[0]) != 1 or others[0] != others[1]:
        return None
    names = {_piece_of(end), *others[0]}
    turned = [other_hand(piece.statement) for name, piece in facts.layout.pieces.items() if local_name(name) in names]
    hands = [hand for _, hand in filter(None, turned)]
    return _joins_alike(one, end) == (hands[0] != hands[1]) if len(hands) == 2 else None


def _both(statement: Statement) -> list[str]:
    return [str(getattr(statement, field)) for field in ("start", "finish") if hasattr(statement, field)]


def _piece_of(end: str) -> str:
    return end.partition(".")[0]


def _joins_alike(statement: Statement, end: str) -> bool:
    """Whether plain track would lead from a route of one turnout to the same of another, as tracks side by side do."""
    others = set(_both(statement))
    return any(end != one and "." in one and one.rpartition(".")[2] == end.rpartition(".")[2] for one in others)


def _without_track(facts: Facts, named: list[Named]) -> list[str]:
    """The ends of pieces at which something is told to meet nothing, as far as no track is said to meet them; joints
    that one end names, and edges that none does."""
    pieces = {name for one in facts.layout.faults if one.rule == "loose-end" for name in one.names}
    often = Counter(str(word) for _, word in named)
    known = ((name, facts.layout.pieces[name]) for name in sorted(pieces) if name in facts.layout.pieces)
    ends = (_as_told(facts, named, f"{local_name(name)}.{end}") for name, piece in known for end in piece.template.ends)
    edges = list(map(local_name, facts.layout.edges))
    joints = (word for word, times in often.items() if times == 1 and "." not in word and word not in ("stop", *edges))
    return [*(one for one in (*ends, *edges) if one not in often), *joints][:MOST_LOOSE]


def _as_told(facts: Facts, named: list[Named], end: str) -> str:
    """The end of a part as that of the whole, where lines name that: `S.a1` for `S-a1.points`."""
    part, _, points = end.partition(".")
    whole, _, own = part.rpartition("-")
    is_part = points == "points" and whole not in facts.layout.pieces
    return f"{whole}.{own}" if is_part and any(_piece_of(word) == whole for _, word in named) else end

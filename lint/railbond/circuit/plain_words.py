"""What rules say exactly, as a person says it: how points stand, and where metal lies, its exact name in brackets.

Rules name a setting `with T1 diverging, T2 through` and metal `T1's through closure rail`; whoever puts findings
together has them read here, so that no rule can forget it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from railbond.findings import Finding, Fix
from railbond.layout.model import EndAt, Piece
from trackplan.typed import TYPE_CHECKING

from .graph import Literal
from .keeping import once

if TYPE_CHECKING:
    from .facts import Facts

STANDS = {"through": "straight", "diverging": "thrown"}
"""Of points with a straight and a diverging route, whatever way they are built."""
SIDES = {"left": "to the left", "through": "straight", "right": "to the right"}
OTHER_ROUTE = {"through": "diverging", "diverging": "through", "left": "right", "right": "left"}
_NAME = r"[^\W\d][\w.-]*"
_STANDING = rf"{_NAME} [^\W\d][\w-]*"
_SETTING = re.compile(rf"\bwith {_STANDING}(?:(?:, | and | or ){_STANDING})*")
_LINK = re.compile(r"(, | and )")
_METAL = re.compile(rf"(?<![\w.-])({_NAME})'s ((?:[\w-]+ )+?rail|[\w-]+ (?:outer|inner) lead)\b")


def stands(facts: Facts, switch: str, position: str) -> str:
    """How one switch stands: `T1 thrown`, `Y1 set to the left`, `D1 set from a1 to b2`, `yard switched to main`."""
    piece = facts.layout.pieces.get(switch)
    if piece is None:
        return f"{switch} switched to {position}"
    positions, track = set(piece.template.positions), position.removesuffix("-turned")
    if piece.template.bridge:
        return f"{switch} at {track}" if track == position else f"{switch} turned end for end at {track}"
    if positions <= set(STANDS):
        return f"{switch} {STANDS[position]}"
    if positions <= set(SIDES):
        return f"{switch} set {SIDES[position]}" if position != "through" else f"{switch} straight"
    ends = [name for name, end in piece.template.ends.items() if position in end.routes]
    return f"{switch} set from {ends[0]} to {ends[1]}" if len(ends) == 2 else f"{switch} set to {position}"


def setting_said(facts: Facts, setting: Iterable[Literal]) -> str:
    """`T1 thrown and T2 straight`, in the order of the names."""
    *most, last = [stands(facts, *one) for one in sorted(setting)] or [""]
    return f"{', '.join(most)} and {last}" if most else last


def literals(facts: Facts, words: str) -> list[Literal]:
    """The switches and positions of an exact setting: `T1 diverging, T2 through`."""
    return [one for part in words.split(", ") if (one := _literal(facts, part))]


def _literal(facts: Facts, part: str) -> Literal | None:
    switch, _, position = part.strip().partition(" ")
    return (switch, position) if position in facts.graph.positions.get(switch, ()) else None


def spoken(facts: Facts, finding: Finding) -> Finding:
    """A finding in the words of a person. Where metal lies is said where it is first named. Of a trial only what was
    found is told."""
    said = set[str]()
    message = plainly(facts, finding.message, said)
    positions = tuple(literals(facts, finding.setting))
    setting = setting_said(facts, positions) or _standing(facts, finding.setting)
    if not facts.with_fixes:
        return finding._replace(message=message, setting=setting, positions=positions)
    why = tuple(step._replace(text=plainly(facts, step.text, said)) for step in finding.why)
    fixes = tuple(_spoken_fix(facts, fix, said) for fix in finding.fixes)
    return finding._replace(message=message, why=why, fixes=fixes, setting=setting, positions=positions)


def _spoken_fix(facts: Facts, fix: Fix, said: set[str]) -> Fix:
    return fix._replace(words=plainly(facts, fix.words, said), changes=plainly(facts, fix.changes, said))


def plainly(facts: Facts, text: str, said: set[str]) -> str:
    """A text in the words of a person, but for what is quoted as a line to write."""
    if "`" not in text:
        return _plain(facts, text, said)
    parts = re.split(r"(`[^`]*`)", text)
    return "".join(part if part.startswith("`") else _plain(facts, part, said) for part in parts)


def _plain(facts: Facts, text: str, said: set[str]) -> str:
    def metal(found: re.Match[str]) -> str:
        piece = facts.layout.pieces.get(found[1])
        where = lies(facts, piece, found[2]) if piece and found[0] not in said else ""
        said.add(found[0])
        return f"{where} ({found[0]})" if where else found[0]

    if "with " in text:
        text = _SETTING.sub(lambda found: _standing(facts, found[0]), text)
    return _METAL.sub(metal, text) if "'s " in text else text


def _standing(facts: Facts, text: str) -> str:
    """`with T1 diverging or T1 through, the frog`, as far as it tells how switches stand."""
    first, *others = text.split(" or ")
    return " or ".join((_one_standing(facts, first), *(_one_standing(facts, one) for one in others)))


def _one_standing(facts: Facts, text: str) -> str:
    lead = "with " if text.startswith("with ") else ""
    parts = _LINK.split(text.removeprefix(lead))
    known = [_literal(facts, part) for part in parts[::2]]
    until = next((number for number, one in enumerate(known) if one is None), len(known))
    asked = [one for one in known[:until] if one]
    return "".join([lead, setting_said(facts, asked), *parts[2 * until - 1 :]]) if asked else text


def lies(facts: Facts, piece: Piece, rail: str) -> str:
    """Where a rail of a turnout or the like lies; empty where its name says so already."""
    if rail not in {metal.words for metal in piece.template.metals}:
        return ""
    name, (route, _, kind) = piece.name, rail.partition(" ")
    if set(piece.template.positions) <= set(OTHER_ROUTE) and len(piece.template.positions) in (1, 2):
        return _of_a_turnout(facts, piece, route, kind)
    parts = (words for part, words in PARTS if part in rail)
    return next(parts, "").format(name)


PARTS = (
    ("closure", "a rail between {}'s blades and its frogs"), ("slip rail", "a rail between {}'s blades and its frogs"),
    ("frog rail", "an inner rail beyond {}'s frogs"), ("middle", "a rail between {}'s frogs"),
    ("near", "the rail of {} from its ends 1 up to the frogs"), ("far", "the rail of {} from its frogs to its ends 2"),
    ("stock", "an outer rail of {}"), ("moving", "a rail of {} that moves"),
)  # fmt: skip
"""Where the metals of trackwork with more than two routes lie, by what is in their names."""


def _of_a_turnout(facts: Facts, piece: Piece, route: str, kind: str) -> str:
    """Of two rails between blades and frog, one lies on the side of each route: the through closure rail beside the
    diverging stock rail, and so on the side of the diverging route."""
    name, other = piece.name, OTHER_ROUTE.get(route, "")
    if not other or route not in piece.template.ends:
        return f"the {route} rail of {name} that moves" if kind == "moving rail" else ""
    if kind in ("closure rail", "inner lead"):
        before = "blades" if kind == "closure rail" else "moving rails"
        return f"the rail between {name}'s {before} and its frog, on the side of {_beyond(facts, piece, other)}"
    if kind == "frog rail":
        return f"the inner rail from {name}'s frog to {_beyond(facts, piece, route)}"
    return f"{name}'s outer rail on the side of {_beyond(facts, piece, route)}"


def _beyond(facts: Facts, piece: Piece, end: str) -> str:
    """What lies beyond an end, by its name; where the same lies beyond the other, or nothing, the end by its own."""
    there = {name: _met(facts, EndAt(piece.name, name)) for name in piece.template.ends}
    beyond = there.get(end, "")
    alone = [one for one in there.values() if one == beyond]
    return beyond if beyond and len(alone) == 1 else f"its {end} route"


def _met(facts: Facts, end: EndAt) -> str:
    return _beyond_ends(facts).get(end, "")


@once
def _beyond_ends(facts: Facts) -> dict[EndAt, str]:
    """The piece that each end meets."""
    found = {meeting.one: meeting.other.piece for meeting in facts.layout.meetings}
    return found | {meeting.other: meeting.one.piece for meeting in facts.layout.meetings}

"""What can stand in each part of a statement: the names, ends, legs and words that a plan knows."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from railbond.circuit.running.standards import STANDARDS
from railbond.layout.limits import LIMITS
from railbond.layout.model import Layout
from railbond.rules import all_rules
from trackplan.metal import METALS

from .names import SHARED
from .store import OpenPlan


def candidates(plan: OpenPlan, role: str, in_modules: Iterable[OpenPlan] = ()) -> Iterator[str]:
    """The words that fit a part of plan.lark; a part that is called after a kind of statement takes its names."""
    maker = CANDIDATES.get(role)
    if maker:
        yield from maker(plan)
    elif role.endswith("_name"):
        yield from named(plan, role.removesuffix("_name"))
        yield from (f"{module}.{name}" for module, other in _modules(plan, in_modules) for name in _same(other, role))


def named(plan: OpenPlan, kind: str) -> Iterator[str]:
    """The names that statements of a kind give."""
    for name, statement in plan.scope.defined.items():
        if name.space == SHARED and type(statement).__name__.lower() == kind:
            yield name.text


def _same(plan: OpenPlan, role: str) -> Iterator[str]:
    return named(plan, role.removesuffix("_name"))


def _modules(plan: OpenPlan, read: Iterable[OpenPlan]) -> Iterator[tuple[str, OpenPlan]]:
    by_root = {other.root: other for other in read}
    return ((name, by_root[root]) for name, root in plan.scope.modules.items() if root in by_root)


def _ends(plan: OpenPlan) -> Iterator[str]:
    """Every end of every piece, those that nothing meets yet first."""
    layout = plan.facts.layout
    met = {str(end) for meeting in layout.meetings for end in (meeting.one, meeting.other)}
    ends = [f"{name}.{end}" for name, piece in layout.pieces.items() for end in piece.template.ends]
    yield from sorted(ends, key=lambda end: end in met)


def _where_track_goes(plan: OpenPlan) -> Iterator[str]:
    yield "stop"
    yield from _ends(plan)
    yield from plan.facts.layout.edges
    yield from _joints(plan)


def _joints(plan: OpenPlan) -> Iterator[str]:
    """Free names: those that ends use and nothing defines."""
    ends = (name for name, uses in plan.scope.uses.items() if any(use.role == "end" for use in uses))
    return (name.text for name in ends if name not in plan.scope.defined)


def _segments(plan: OpenPlan) -> Iterator[str]:
    return named(plan, "segment")


def _cut_places(plan: OpenPlan) -> Iterator[str]:
    yield from _ends(plan)
    yield from _segments(plan)
    yield from _joints(plan)


def _solder_places(plan: OpenPlan) -> Iterator[str]:
    yield from _ends(plan)
    yield from _joints(plan)


def _fed_rails(plan: OpenPlan) -> Iterator[str]:
    yield from _segments(plan)
    yield from (f"{name}.{side}" for name in _segments(plan) for side in ("left", "right"))
    for name, piece in plan.facts.layout.pieces.items():
        for end, what in piece.template.ends.items():
            yield from (f"{name}.{end}.{rail.removesuffix(' rail')}" for rail in what.rails)
        if piece.template.bridge:
            yield f"{name}.bridge"


def _movers(plan: OpenPlan) -> Iterator[str]:
    """What has positions that contacts can move with."""
    pieces = plan.facts.layout.pieces.items()
    return (name for name, piece in pieces if piece.template.positions and not piece.template.aligned)


def _positions(plan: OpenPlan) -> Iterator[str]:
    pieces = plan.facts.layout.pieces.values()
    yield from dict.fromkeys(position for piece in pieces for position in piece.template.positions)


def _stops(plan: OpenPlan) -> Iterator[str]:
    return (str(end) for end in plan.facts.layout.stops)


def _legs(plan: OpenPlan) -> dict[str, tuple[str, str]]:
    layout: Layout = plan.facts.layout
    return {name: one.legs for name, one in layout.supplies.items()} | layout.terminals


def _supplies(plan: OpenPlan) -> Iterator[str]:
    yield from _legs(plan)
    yield from _wires(plan)


def _wires(plan: OpenPlan) -> Iterator[str]:
    return (f"{name}.{leg}" for name, legs in _legs(plan).items() for leg in legs)


def _leg_names(plan: OpenPlan) -> Iterator[str]:
    yield from dict.fromkeys(leg for legs in _legs(plan).values() for leg in legs)


def _one_wire(plan: OpenPlan) -> Iterator[str]:
    yield from _wires(plan)
    yield from _leg_names(plan)


def _accepted(plan: OpenPlan) -> Iterator[str]:
    """What a finding can be accepted at: wherever one has been made, first of all."""
    found = [name for finding in plan.inspection.findings for name in finding.names]
    yield from dict.fromkeys([*found, *(name.text for name in plan.scope.defined)])


CANDIDATES: dict[str, Callable[[OpenPlan], Iterable[str]]] = {
    "name": lambda plan: (),
    "end": _where_track_goes,
    "cut_place": _cut_places,
    "solder_place": _solder_places,
    "fed_rail": _fed_rails,
    "supply": _supplies,
    "supplies": lambda plan: plan.facts.layout.supplies,
    "mover_name": _movers,
    "position": _positions,
    "lit_end": _stops,
    "leg": _one_wire,
    "legs": _leg_names,
    "terminal": lambda plan: plan.facts.layout.terminals,
    "accepted_name": _accepted,
    "limit_name": lambda plan: LIMITS,
    "rule_name": lambda plan: (rule.name for rule in all_rules()),
    "metal": lambda plan: METALS,
    "scale_name": lambda plan: STANDARDS,
}

"""What explains an observation, and where to probe next, as text."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from railbond.bench.diagnosis import NOTHING, Cause
from railbond.bench.information import Next
from railbond.bench.observation import Observation
from railbond.bench.test_points import TestPoints

from .cautions import METER
from .places import Sources, counted, line_at
from .schedule import WIDTH, cautions, printed

SHOWN = 10
FEW = 4
"""Switches up to which the position of each is told."""
MANY = 4
"""Explanations from which on it is worth the while to begin with half of them."""


def told(causes: Sequence[Cause], following: Next | None, points: TestPoints, sources: Sources, sure: bool) -> str:
    """The explanations, the likeliest first, then the next probe. `sure` says that something was observed."""
    lines = [*cautions(METER[:2]), ""]
    lines += _ranked(causes, sources) if sure else ["Nothing is told yet: every mistake is as likely as any other."]
    if following or causes:
        lines += ["", *(wrap(asked(following, points), WIDTH) if following else _end(causes, points))]
    return printed(lines)


def _ranked(causes: Sequence[Cause], sources: Sources) -> list[str]:
    fitting = [one for one in causes if one.misses == causes[0].misses]
    lines = [_head(fitting)]
    for rank, cause in enumerate(fitting[:SHOWN], 1):
        place = f"  ({line_at(cause.mistake.at, sources)})" if cause.mistake.at else ""
        text = f"{rank:>2}. {cause.weight:>4.0%}  {cause.mistake.words}{place}"
        lines += wrap(text, WIDTH, subsequent_indent=" " * 10, break_on_hyphens=False)
    if len(fitting) > SHOWN:
        lines.append(f"    and {len(fitting) - SHOWN} more that fit as well")
    return lines


def _head(fitting: Sequence[Cause]) -> str:
    if fitting[0].misses:
        return f"Nothing fits all that was seen; these leave out {counted(fitting[0].misses, 'observation')}:"
    if fitting[0].mistake is NOTHING and len(fitting) == 1:
        return "All that was seen is as the plan has it:"
    return f"{counted(len(fitting), 'explanation')} for all that was seen:"


def asked(following: Next, points: TestPoints) -> str:
    """The next probe, as an instruction."""
    setting = _setting(following, points)
    points_so = f" with {setting}" if setting else ""
    ends = f"{points.name[following.one]} and {points.name[following.other]}"
    return f"Next, probe between {ends}{points_so}: the answer is worth {following.information:.2f} bit."


def _setting(following: Next, points: TestPoints) -> str:
    """How the points must stand; where there are many, those that are not in their first position."""
    first = {switch: stands[0] for switch, stands in points.facts.graph.positions.items()}
    if len(first) <= FEW:
        return ", ".join(f"{switch} {position}" for switch, position in following.stand.items())
    thrown = [f"{switch} {position}" for switch, position in following.stand.items() if first[switch] != position]
    return ", ".join([*thrown, f"all {'other ' if thrown else ''}points in their first position"])


def _end(causes: Sequence[Cause], points: TestPoints) -> list[str]:
    """What to do where no probe tells any more."""
    fitting = [one for one in causes if one.misses == causes[0].misses]
    if len(fitting) < 2:
        return ["No other mistake fits: look there."]
    text = (
        "No reading tells these apart while all wires are on. Find a reading that is wrong, then take wires that they "
        "name off their screws, half of those that are left each time: where the reading becomes right, the mistake "
        "is among the wires that are off."
    )
    return wrap(f"{text}{_half(fitting, points)}", WIDTH)


def _half(fitting: Sequence[Cause], points: TestPoints) -> str:
    """The terminal at which nearest to half of the explanations have their wires."""
    bonds = points.facts.graph.bonds
    at: dict[str, int] = {}
    for cause in fitting:
        ends = {end for number in cause.mistake.lost for end in bonds[number][:2] if not points.facts.piece_of(end)}
        for name in {points.name[end].rpartition(".")[0] for end in ends}:
            at[name] = at.get(name, 0) + 1
    if not at or len(fitting) < MANY:
        return ""
    name = min(at, key=lambda one: abs(2 * at[one] - len(fitting)))
    return f" Begin with all that hang on {name}: {at[name]} of the {len(fitting)}."


def contradicted(found: Sequence[tuple[Observation, tuple[Observation, ...]]], sources: Sources) -> str:
    """Observations that cannot all be so."""
    lines = []
    for one, others in found:
        told_by = ", ".join(f"`{other.text}`" for other in others)
        place = f"{line_at(one.at, sources)}: " if one.at and one.at.path in sources else ""
        text = f"{place}`{one.text}` contradicts {told_by}: in one setting of the points both cannot be. Probe again."
        lines += wrap(text, WIDTH, break_on_hyphens=False)
    return printed(lines)

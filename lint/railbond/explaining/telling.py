"""An explanation told as one finding: what happens, where all it shows, and the one mend."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from railbond import care
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Bond
from railbond.circuit.proof import difference
from railbond.findings import LEVELS, Finding, Fix

from .search import Explained
from .slip import HandSlip

MOST_FIXES = 4

WORST = "legs-joined"
"""What is told rather than anything else as bad: the short that needs no train."""

SAYS_MORE = ("frog-rail-gap-missing",)
"""What says of such a short, at the slip's own line, where it comes from."""


def told(explained: Explained, facts: Facts, hidden: Collection[Finding] = ()) -> Finding:
    """One of the worst findings, that at the slip's own line if any is, told at that line; the others are its effects.
    Of what a short hides nothing is said."""
    slip = explained.slip
    findings = [one for one in explained.findings if one not in hidden] or list(explained.findings)
    worst = max((one.level for one in findings), key=LEVELS.index)
    main = min((one for one in findings if one.level == worst), key=lambda one: _order(one, slip))
    others = [one for one in findings if one is not main]
    names = dict.fromkeys((*slip.names, *main.names))
    on_paper = main.happens == "on paper"
    worth = (one for one in others if one.level != "note" and not on_paper)
    also = tuple(one._replace(message=_effect(one.message), fixes=(), why=()) for one in worth)
    fixes = _fixes(explained, main.fixes, facts)
    said = main.message if _is_at(main, slip) else _effect(main.message)
    says_so = _is_at(main, slip) and any(fix.edits == slip.edits for fix in main.fixes[:1])
    return main._replace(
        at=main.at if _is_at(main, slip) else slip.at,
        message=main.message if says_so else f"{said}{_stop(said) if slip.said else ''}{_said(slip, also)}",
        fixes=fixes,
        cautions=main.cautions if on_paper else _cautions(main, fixes, facts),
        names=tuple(names),
        also=also,
    )


def _stop(sentence: str) -> str:
    """What ends a sentence that another follows, where it has no end of its own."""
    return "" if sentence.endswith((".", "?", "!")) else "."


def _effect(message: str) -> str:
    """What happens at a place where a slip only shows: the wires there are not to blame."""
    what, wrong, happens = message.partition(" the wrong way round: ")
    if not wrong:
        what, wrong, happens = message.partition(" comes from the wrong leg: ")
    own = what.removesuffix(" is").removesuffix(" are")
    return happens.replace("it brings", f"{own} brings", 1) if wrong else message


def _order(finding: Finding, slip: HandSlip) -> tuple[object, ...]:
    """What is told first of all that a slip explains and that is as bad: a fault of the text at its own line, of which
    the rest are only the effects."""
    at = _is_at(finding, slip)
    told_first = 0 if at and finding.rule in SAYS_MORE else 1 if finding.rule == WORST else 2 if at else 3
    return not (at and finding.happens == "on paper"), told_first


def _is_at(finding: Finding, slip: HandSlip) -> bool:
    return slip.at.holds(finding.at)


def _said(slip: HandSlip, others: Sequence[Finding]) -> str:
    more = f" and {len(others)} more" if others else ""
    explained = "One slip explains" if slip.slips == 1 else "Two slips explain"
    return f" {explained} this{more}: {slip.said}." if slip.said else ""


def _cautions(main: Finding, fixes: tuple[Fix, ...], facts: Facts) -> tuple[str, ...]:
    """What is dangerous about looking for it, and about each of its mends."""
    jobs = [care.of_fix(fix, facts.sources) for fix in fixes]
    return tuple(dict.fromkeys((*main.cautions, *care.told(set().union(*jobs)))))


def _fixes(explained: Explained, own: tuple[Fix, ...], facts: Facts) -> tuple[Fix, ...]:
    """The slip undone, in the rule's words where it has some; others that explain as much; what the rule offers. Of
    several that make the same of the rails, the first."""
    known = {fix.edits: fix for fix in own}
    undone = [_undone(slip, known.get(slip.edits)) for slip in (explained.slip, *explained.others)]
    undone[0] = undone[0]._replace(then=tuple(f"{one.message} (rule {one.rule})" for one in explained.then))
    kept: dict[object, Fix] = {}
    for fix in (*undone, *own):
        kept.setdefault(_made(facts, fix), fix)
    return tuple(kept.values())[:MOST_FIXES]


def _undone(slip: HandSlip, known: Fix | None) -> Fix:
    """The mend that undoes a slip, in a rule's own words where it has some: what is only put right is plain."""
    if known is None:
        return Fix(slip.words, slip.edits)
    return known if slip.kind == "listed" else known._replace(plain=True, changes="")


def _made(facts: Facts, fix: Fix) -> object:
    """What a fix makes of the rails; its own words where it changes nothing there, or cannot be tried."""
    tried = facts.tried(fix.edits)
    if tried is None:
        return fix.words
    before, graph = facts.graph, tried.graph
    if graph.names != before.names:
        bonds = frozenset((bond.one, bond.other, bond.when) for bond in graph.bonds)
        return tuple(graph.names), bonds, tuple(graph.sources.items())
    less, more = _parted_and_joined(before.bonds, graph.bonds)
    made = less, more, tuple(graph.sources.items())
    return made if less or more else (made, fix.words)


def _parted_and_joined(old: list[Bond], new: list[Bond]) -> tuple[frozenset[object], ...]:
    """What is tied by some bonds and not by others, and the other way round, each with the switch that ties it."""
    gone, come = difference(old, new)
    ends = {(one[0], one[1]) for one in (*gone, *come)}
    first = {one for one, _ in ends}
    ties = [frozenset(one[:3] for one in bonds if one[0] in first and one[:2] in ends) for bonds in (old, new)]
    return ties[0] - ties[1], ties[1] - ties[0]

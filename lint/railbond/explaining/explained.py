"""What is told of a faulty plan: the slips that explain it; else, cause by cause, what is true of it as written."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from railbond.circuit.facts import Facts
from railbond.findings import BROKE_OFF, Finding, Fix
from trackplan.edit import Edit, fits

from .granted import with_what_is_granted
from .hidden import is_hidden
from .search import Explained, Explanation, key
from .slip import Ask

Edits = tuple[Edit, ...]
After = dict[Finding, Edits]
InTurn = Callable[[Facts, set[str]], After]
"""Asks rules cause by cause: of those that are no causes only those of some names."""
AsWritten = Mapping[tuple[object, ...], Finding]
"""What is found in a plan without what stands in for its lines, by the keys of the findings."""


def explained(facts: Facts, written: Sequence[Finding], ask: Ask, in_turn: InTurn) -> After:
    """All that is found in a plan as it is written, as it is to be told, each with the mends that are made in the head
    before it: slip by slip, else cause by cause. `ask` and `in_turn` ask the rules so. What only follows from lines
    that could not be read is not told."""
    if not facts.broken or not any(map(_is_of_metal, written)):
        return _told(facts, written, ask, in_turn)
    from .unread import as_meant, stand_ins, with_what_follows

    lines = stand_ins(facts)
    if not lines:
        return _told(facts, written, ask, in_turn)
    meant = as_meant(facts, lines)
    found, so = ask(meant, True), {key(one): one for one in written}
    if any(one.message.startswith(BROKE_OFF.format(one.rule)) for one in found):
        return _told(facts, written, ask, in_turn)  # it meant to edit what stands in for a line
    then = [one for one in found if _is_of_metal(one) and key(one) not in so]
    syntax = (with_what_follows(one, lines, then) for one in written if one.rule == "syntax" and one not in found)
    return dict.fromkeys(syntax, ()) | _told(meant, found, ask, in_turn, so)


def _is_of_metal(finding: Finding) -> bool:
    """Whether it says of the railroad that something is wrong, not of a line that it cannot be read."""
    return finding.level != "note" and finding.rule != "syntax"


def _told(facts: Facts, written: Sequence[Finding], ask: Ask, in_turn: InTurn, so: AsWritten | None = None) -> After:
    """What is told of the plan of some facts; of one in which statements stand in for others only what is `so` of the
    plan without them."""
    explanation = Explanation([], []) if facts.broken else with_what_is_granted(facts.in_trial(), written, ask)
    if not explanation.slips:
        after = _as_it_stands(facts, in_turn(facts, {one.rule for one in written}), written)
        return after if so is None else _without_stand_ins(facts, after, so)
    left = {key(one) for one in explanation.left}
    hidden = [one for one in written if is_hidden(facts, one)]
    rest: After = dict.fromkeys((one for one in written if key(one) in left and one not in hidden), ())
    rest = rest if so is None else _without_stand_ins(facts, rest, so)
    slips = [one for one in explanation.slips if so is None or any(key(found) in so for found in one.findings)]
    new = _slips_told(facts, slips, hidden) if slips else ()
    return dict.fromkeys((one._replace(fixes=_that_fit(facts, one)) for one in new), ()) | rest


def _slips_told(facts: Facts, slips: Sequence[Explained], hidden: list[Finding]) -> Iterator[Finding]:
    """The slips, each as a finding that is so as the plan stands; what a short still hides, and the first slip does not
    explain, is told with its mend."""
    from .telling import told

    first, *more = slips
    later = [one for one in hidden if one.level != "note" and one not in first.findings]
    yield told(first._replace(then=tuple(dict.fromkeys((*first.then, *later)))), facts, hidden)
    yield from (told(one, facts, hidden) for one in more if not set(one.findings) <= set(hidden))


def _without_stand_ins(facts: Facts, after: After, so: AsWritten) -> After:
    """What is so without the statements that stand in for others, which nothing is said of, and no mend can change."""
    result: After = {}
    for one, made in after.items():
        if twin := so.get(key(one)):
            fixes = one.fixes if made else _that_fit(facts, one)
            result[twin._replace(fixes=fixes or twin.fixes, cautions=one.cautions)] = made
    return result


def _that_fit(facts: Facts, finding: Finding) -> tuple[Fix, ...]:
    """The mends of a finding that are edits of the plan as it is written, not of what stands in for a line."""
    return tuple(fix for fix in finding.fixes if fits(fix.edits, facts.sources))


def _told_as(finding: Finding) -> tuple[object, ...]:
    """A finding as it is told: at both ends of one segment the same may be so, at its line and in the same words."""
    return finding.rule, finding.at, finding.message, finding.names


def _as_it_stands(facts: Facts, after: After, written: Sequence[Finding]) -> After:
    """What was told cause by cause, as far as it is so of the plan as written, and with the reasons that are."""
    said = {_told_as(one): one for one in written}
    result: After = {}
    for one, made in after.items():
        as_written = said.get(_told_as(one)) if made else one
        if as_written and not is_hidden(facts, as_written):
            result[as_written._replace(fixes=one.fixes, cautions=one.cautions)] = made
    return result

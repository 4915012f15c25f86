"""What is told of a faulty plan: the slips that explain it; else, cause by cause, what is true of it as written."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from trackplan.edit import Edit

from .granted import with_what_is_granted
from .hidden import is_hidden
from .search import Ask, Explanation, key
from .telling import told

Edits = tuple[Edit, ...]
After = dict[Finding, Edits]


def explained(facts: Facts, written: Sequence[Finding], ask: Ask, in_turn: Callable[[Facts], After]) -> After:
    """All that is found in a plan as it is written, as it is to be told, each with the mends that are made in the head
    before it: slip by slip, else cause by cause. `ask` and `in_turn` ask the rules so."""
    explanation = Explanation([], []) if facts.broken else with_what_is_granted(facts.in_trial(), written, ask)
    if not explanation.slips:
        return _as_it_stands(facts, in_turn(facts), written)
    left = {key(one) for one in explanation.left}
    hidden = [one for one in written if is_hidden(facts, one)]
    rest = [one for one in written if key(one) in left and one not in hidden]
    return dict.fromkeys((*_slips_told(facts, explanation, hidden), *rest), ())


def _slips_told(facts: Facts, explanation: Explanation, hidden: list[Finding]) -> Iterator[Finding]:
    """The slips, each as a finding that is so as the plan stands; what a short still hides, and the first slip does not
    explain, is told with its mend."""
    first, *more = explanation.slips
    later = [one for one in hidden if one.level != "note" and one not in first.findings]
    yield told(first._replace(then=tuple(dict.fromkeys((*first.then, *later)))), facts, hidden)
    yield from (told(one, facts, hidden) for one in more if not set(one.findings) <= set(hidden))


def _as_it_stands(facts: Facts, after: After, written: Sequence[Finding]) -> After:
    """What was told cause by cause, as far as it is so of the plan as written, and with the reasons that are."""
    said = {(one.rule, one.at, one.message): one for one in written}
    result: After = {}
    for one, made in after.items():
        as_written = said.get((one.rule, one.at, one.message)) if made else one
        if as_written and not is_hidden(facts, as_written):
            result[as_written._replace(fixes=one.fixes, cautions=one.cautions)] = made
    return result

"""What is told of a faulty plan: the slips that explain it; else, cause by cause, what is true of it as written."""

from __future__ import annotations

from collections.abc import Iterable

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from trackplan.edit import Edit

from .search import Ask, Explanation, explain, key
from .telling import told

Edits = tuple[Edit, ...]
After = dict[Finding, Edits]


def explained(facts: Facts, after: After, ask: Ask) -> tuple[After, tuple[Finding, ...]]:
    """The findings told cause by cause, `after` the mends made in the head before each, as they are to be told; and
    all that can be found in the plan."""
    written = ask(facts, True)
    explanation = Explanation([], written) if facts.broken else explain(facts.in_trial(), written, ask)
    if not explanation.slips:
        return _true(after, written), tuple(after)
    left = {key(one) for one in explanation.left}
    result: After = {told(one, facts): () for one in explanation.slips}
    result |= dict.fromkeys((one for one in written if key(one) in left), ())
    return result, tuple(other for one in result for other in one.also)


def _true(after: After, written: Iterable[Finding]) -> After:
    """The findings that hold of the plan as it is written; what only holds once a mend is made is told under that."""
    holds = {(one.rule, one.at, one.message) for one in written}
    result: After = {}
    for finding, made in after.items():
        if not made or (finding.rule, finding.at, finding.message) in holds:
            result[finding] = made
        else:
            _tell_under(result, finding, made)
    return result


def _tell_under(result: After, finding: Finding, made: Edits) -> None:
    """Puts a finding under the last mend that was made before it."""
    for before in reversed(list(result)):
        if before.fixes and before.fixes[0].edits and set(before.fixes[0].edits) <= set(made):
            first, *rest = before.fixes
            then = f"{finding.message} (rule {finding.rule})"
            changed = before._replace(fixes=(first._replace(then=(*first.then, then)), *rest))
            items = [(changed if one is before else one, mends) for one, mends in result.items()]
            result.clear()
            result.update(items)
            return

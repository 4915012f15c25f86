"""What is told of a faulty plan: the slips that explain it; else, cause by cause, what is true of it as written."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.findings import Finding
from trackplan.edit import Edit

from .search import Ask, Explanation, explain, key
from .telling import told

Edits = tuple[Edit, ...]
After = dict[Finding, Edits]


def explained(facts: Facts, after: After, ask: Ask) -> tuple[After, tuple[Finding, ...]]:
    """The findings told cause by cause, `after` the mends made in the head before each, as they are to be told; and
    all that can be found in the plan as it is written."""
    written = ask(facts, True)
    explanation = Explanation([], written) if facts.broken else explain(facts.in_trial(), written, ask)
    if not explanation.slips:
        holds = {(one.rule, one.at, one.message) for one in written}
        true = {one: made for one, made in after.items() if not made or (one.rule, one.at, one.message) in holds}
        return true, tuple(written)
    left = {key(one) for one in explanation.left}
    result: After = {told(one, facts): () for one in explanation.slips}
    result |= dict.fromkeys((one for one in written if key(one) in left), ())
    return result, tuple(written)

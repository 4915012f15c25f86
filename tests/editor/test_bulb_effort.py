"""What the lightbulb of a plan full of faults costs: a budget of steps, which are the same on every machine."""

from __future__ import annotations

from pathlib import Path

import pytest
from lsprotocol.types import CodeActionContext, CodeActionKind, CodeActionParams

from editor.documents import Documents
from fuzz.editing import whole
from railbond.circuit.effort import spent
from railbond.circuit.facts import Facts
from railbond.editor.actions import ALL, LEAST, WHOLE, actions
from railbond.inspection import inspect
from railbond.rules import all_rules
from railbond.rules.asking import A_FINDING, ask
from trackplan.gather import gather

SEEDS = Path(__file__).parents[1] / "fuzz" / "seeds"
FULL = ("seven-sidings-as-sold", "contacts-of-points-that-stand-one-way", "random-61")
A_TRIAL = 2_500.0
"""Steps that the last trial of a budget may take beyond it, and the last of many at once once more."""


@pytest.mark.parametrize("name", FULL)
def test_the_bulb_of_all_lines_at_once_keeps_to_its_steps(name: str) -> None:
    text = (SEEDS / f"{name}.trackplan").read_text(encoding="utf-8")
    documents = Documents(p=text)
    assert documents.view.plan.inspection.findings
    before = spent()
    offered = actions(documents.view, CodeActionParams(documents.document, whole(text), CodeActionContext([])))
    assert spent() - before <= max(WHOLE, 2 * LEAST) + 3 * A_TRIAL
    mends = [one.title for one in offered if one.kind == CodeActionKind.QuickFix]
    assert any("not tried" not in title for title in mends), "what fits is still tried, and offered as proven"
    assert all(one.edit and one.edit.changes for one in offered), "an action that does nothing is none"
    is_made = any(one.title == ALL for one in offered)
    assert is_made or name != "seven-sidings-as-sold", "what was made until the steps were taken is offered"


def test_what_is_told_counts_as_work() -> None:
    """A plan of a hundred faults takes longer to ask than one of the same lines without."""
    gathered = gather("p", {"p": (SEEDS / "seven-sidings-as-sold.trackplan").read_text(encoding="utf-8")}.__getitem__)
    facts = Facts(gathered.statements, gathered.sources, gathered.broken, with_fixes=False)
    before = spent()
    found = [one for rule in all_rules() for one in ask(rule, facts)]
    assert len(found) > 20 and spent() - before > A_FINDING * len(found)


def test_a_trial_says_what_is_found_in_the_same_words() -> None:
    """Why it is so, and the mends, nobody reads of a trial; what is found may be told under the mend."""
    gathered = gather("p", {"p": (SEEDS / "random-61.trackplan").read_text(encoding="utf-8")}.__getitem__)
    facts = Facts(gathered.statements, gathered.sources, gathered.broken)
    for rule in all_rules():
        full, tried = ask(rule, facts), ask(rule, facts.in_trial())
        said = [(one.message, one.setting, one.positions) for one in tried]
        assert said == [(one.message, one.setting, one.positions) for one in full]
    assert inspect(gathered, with_fixes=False).findings

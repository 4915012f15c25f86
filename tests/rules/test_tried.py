"""A mend that cannot be made on the plan in memory is none: no rule breaks off over it, and what it found stands."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

import pytest

from railbond.doorway import enter
from railbond.inspection import as_written
from railbond.meet import meet_facts
from railbond.rules import all_rules
from trackplan import again
from trackplan.edit import Edit, add_line
from trackplan.span import Span
from trackplan.statements import Statement

LINT = Path(meet_facts.__file__).parents[1]
EXAMPLES = LINT.parents[1] / "example_plans"
PLANS = [*sorted((EXAMPLES / "faulty").glob("*.trackplan")), *sorted((EXAMPLES / "meet").glob("*.trackplan"))]


def refusing(statements: Iterable[Statement], edits: Iterable[Edit], *_: object) -> list[Statement]:
    if list(edits):
        raise ValueError("cannot be made")
    return list(statements)


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_where_no_edit_can_be_made_all_that_is_found_stands(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def told() -> set[tuple[str, str]]:
        entered = enter(str(path), lambda name: Path(name).read_text(encoding="utf-8"))
        assert entered.facts
        found = as_written(entered.facts, rules=all_rules())
        assert not [one.message for one in found if "broke off" in one.message]
        return {(one.rule, one.level) for one in found}

    possible = told()
    monkeypatch.setattr(again, "revise", refusing)
    monkeypatch.setattr(meet_facts, "revise", refusing)
    assert told() >= possible


def test_edits_that_leave_a_line_that_does_not_read_make_no_facts() -> None:
    text = "booster B1 15 V 5 A\ndistrict main from B1 trips 4 A\nsegment s stop -> stop 1 m\n"
    entered = enter("p.trackplan", {"p.trackplan": text}.__getitem__)
    assert entered.facts
    end = Span("p.trackplan", len(text) - 1, len(text) - 1)
    assert entered.facts.tried([add_line(end, "feeder main ->")]) is None
    both = [Edit(Span("p.trackplan", 0, 9), "x"), Edit(Span("p.trackplan", 5, 12), "y")]
    assert entered.facts.tried(both) is None
    made = entered.facts.tried([add_line(end, "feeder main -> s")])
    assert made and len(made.statements) == 4


def test_nobody_changes_a_plan_in_memory_unguarded() -> None:
    own = {"circuit/facts.py", "meet/meet_facts.py"}
    calls = {
        str(path.relative_to(LINT))
        for path in LINT.rglob("*.py")
        if re.search(r"\.revised\(", path.read_text(encoding="utf-8"))
    }
    assert calls <= own

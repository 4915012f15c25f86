"""The example plans: the sound ones are sound, and each faulty one gets the report that lies beside it.

`RAILBOND_WRITE=1 pytest tests/examples` writes the reports anew: read them before you commit them.
"""

from __future__ import annotations

import io
import os
from contextlib import redirect_stdout
from pathlib import Path

import pytest

from railbond.command import main
from railbond.rules import all_rules

PLANS = Path(__file__).parents[2] / "example_plans"
SOUND = sorted(PLANS.glob("*.trackplan"))
FAULTY = sorted((PLANS / "faulty").glob("*.trackplan"))


def report(plan: Path, monkeypatch: pytest.MonkeyPatch, *more: str) -> tuple[int, str]:
    monkeypatch.chdir(plan.parent)
    out = io.StringIO()
    with redirect_stdout(out):
        status = main(["inspect", plan.name, *more])
    return status, out.getvalue()


@pytest.mark.parametrize("plan", SOUND, ids=lambda plan: plan.stem)
def test_sound_plans_are_sound(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    status, text = report(plan, monkeypatch, "--fail-at", "warning")
    assert status == 0, text


@pytest.mark.parametrize("plan", FAULTY, ids=lambda plan: plan.stem)
def test_faulty_plans_get_their_report(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    status, text = report(plan, monkeypatch, "--fail-at", "note")
    beside = plan.with_suffix(".report")
    if os.environ.get("RAILBOND_WRITE"):
        beside.write_text(text, encoding="utf-8")
    assert status == 1
    assert f"(rule {plan.stem})" in text
    assert text == beside.read_text(encoding="utf-8")


def test_every_rule_has_its_faulty_plan() -> None:
    assert {rule.name for rule in all_rules()} == {plan.stem for plan in FAULTY}

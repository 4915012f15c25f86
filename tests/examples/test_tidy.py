"""The plans that newcomers copy are laid out as `railbond tidy` lays them out."""

from __future__ import annotations

from pathlib import Path

import pytest

from trackplan.span import Source
from trackplan.tidy import tidy

PLANS = sorted((Path(__file__).parents[2] / "example_plans").rglob("*.trackplan"))


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.stem)
def test_it_is_tidy(plan: Path) -> None:
    text = plan.read_text(encoding="utf-8")
    assert tidy(Source(plan.name, text)) == text

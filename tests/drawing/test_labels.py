"""Nothing lies over anything: measured in the picture as a browser renders it."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest

from drawing.samples import facts
from drawing.test_folding import LONG
from oracle.plans import random_wild
from page.browser import browser
from railbond.faces.drawing.picture import draw
from railbond.inspection import examine
from railbond.rules import all_rules
from trackwork.mixed import random_mixed

EXAMPLES = sorted((Path(__file__).parents[2] / "example_plans").rglob("*.trackplan"))
RANDOM = 200 if os.environ.get("HYPOTHESIS_PROFILE") == "thorough" else 24
COVERED = Path(__file__).with_name("covered.js").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def page() -> Iterator[Any]:
    with browser() as running:
        yield running.new_page()


def covered(page: Any, text: str, setting: dict[str, str] | None = None) -> list[str]:
    plan = facts(text)
    page.set_content(f"<body style='margin:0'>{draw(plan, examine(facts(text), all_rules()), setting)}</body>")
    found: list[str] = page.evaluate(f"({COVERED})(document.querySelector('svg'))")
    return found


def test_what_covers_is_seen(page: Any) -> None:
    """The measure itself: text over text, and a rail over text, are told."""
    page.set_content(
        '<svg class="rb" width="200" height="90"><text x="10" y="40" font-size="13">west</text>'
        '<text x="20" y="45" font-size="13">T1</text><path class="rail" d="M0 36h150" stroke-width="4"/></svg>'
    )
    assert len(page.evaluate(f"({COVERED})(document.querySelector('svg'))")) == 3


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_label_covers_anything_in_an_example(page: Any, path: Path) -> None:
    assert covered(page, path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("rule", all_rules(), ids=lambda rule: rule.name)
def test_no_label_covers_anything_in_a_rules_plan(page: Any, rule: Any) -> None:
    assert covered(page, rule.fails) == []


@pytest.mark.parametrize("name", LONG)
def test_no_label_covers_anything_in_a_drawing_in_rows(page: Any, name: str) -> None:
    assert covered(page, LONG[name]) == []


@pytest.mark.parametrize("seed", range(RANDOM))
def test_no_label_covers_anything_in_a_random_plan(page: Any, seed: int) -> None:
    text = random_mixed(Random(seed)) if seed % 2 else random_wild(Random(seed), seed % 9)
    assert covered(page, text) == []

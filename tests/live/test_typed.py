"""What the page shows of a plan that is typed is what a fresh drawing of it would be, key by key."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import settings

from editor.test_recalling import opener, session
from railbond.doorway import enter
from railbond.faces.drawing import laid_part, staging
from railbond.faces.drawing.known_scenes import RecentScenes
from railbond.faces.drawing.lately import Lately
from railbond.faces.drawing.part_layout import laid_out
from railbond.faces.live.page import railroad

PLANS = ("station_throat", "engine_terminal", "yard_ladder", "crossover", "wye", "faulty/frog-wired-backwards")
EXAMPLES = Path(__file__).parents[2] / "example_plans"
KEYS = settings().max_examples // 3
"""Keys that are typed in each plan: twenty, and a thousand in the thorough profile."""


@contextmanager
def nothing_known() -> Iterator[None]:
    """Draws as for the first time."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(Lately, "get", lambda *_: None)
        patched.setattr(RecentScenes, "get", lambda *_: None)
        patched.setattr(laid_part, "laid_out", laid_out.__wrapped__)
        yield


def shown(text: str) -> dict[str, Any]:
    found = enter("plan", opener(text))
    return railroad(found.facts, found.told.findings)


@pytest.mark.parametrize("name", PLANS)
def test_it_is_what_a_fresh_drawing_would_be(name: str) -> None:
    text = (EXAMPLES / f"{name}.trackplan").read_text(encoding="utf-8")
    for now in session(text, Random(name), KEYS):
        known = shown(now)
        with nothing_known():
            assert json.dumps(shown(now)) == json.dumps(known), now


@pytest.mark.parametrize("name", ["station_throat", "yard_ladder", "crossover"])
def test_a_name_that_is_typed_lays_out_nothing_anew(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Wherever it is named, letter by letter: the picture is that of before but for the name, as a fresh one is."""
    text = (EXAMPLES / f"{name}.trackplan").read_text(encoding="utf-8")
    segment = next(line.split()[1] for line in text.splitlines() if line.startswith("segment"))
    texts = [re.sub(rf"(?<![\w-]){segment}(?![\w-])", f"q{'i' * more}", text) for more in range(5)]
    fresh = []
    for now in texts:
        with nothing_known():
            fresh.append(json.dumps(shown(now)))
    shown(texts[0])
    with monkeypatch.context() as patched:
        patched.setattr(staging, "_staged", refuse)
        assert [json.dumps(shown(now)) for now in texts] == fresh


def refuse(*_: object) -> None:
    raise AssertionError("laid out anew")

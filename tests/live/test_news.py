"""A page that is told only what is new shows what a fresh page of the same plan shows, key by key."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import settings

from editor.test_recalling import opener, session
from page.browser import Tab, browser
from railbond.doorway import enter
from railbond.faces.live.changes import LastShown, change
from railbond.faces.live.page import page, railroad

EXAMPLES = Path(__file__).parents[2] / "example_plans"
KEYS = settings().max_examples // 4
SHOWN = """() => {
  const parts = "title #verdict #drawing #legend #words #findings #points #names #train #from".split(" ");
  const svg = document.querySelector("#drawing svg");
  return [...parts.map((one) => document.querySelector(one).innerHTML), svg.outerHTML.split(">")[0]];
}"""
"""All that a page shows."""
TELL = "(news) => new Promise((done) => { window.postMessage({ railbond: 'shown', ...news }, '*'); setTimeout(done); })"


@pytest.fixture(scope="module")
def running() -> Iterator[Any]:
    with browser() as one:
        yield one


def railroad_of(text: str) -> dict[str, Any]:
    found = enter("plan", opener(text))
    return railroad(found.facts, found.told.findings)


@pytest.mark.parametrize("name", ["station_throat", "faulty/frog-wired-backwards", "engine_terminal"])
def test_it_shows_what_a_fresh_page_shows(running: Any, tmp_path: Path, name: str) -> None:
    text = (EXAMPLES / f"{name}.trackplan").read_text(encoding="utf-8")
    last, file = LastShown(), tmp_path / "page.html"
    number = last.news(railroad_of(text))["number"]
    file.write_text(page(last.shown), encoding="utf-8")
    told, fresh = Tab(running, file), Tab(running, file)
    for now in session(text, Random(name), KEYS):
        news = last.news(railroad_of(now), number)
        assert "shown" not in news
        number = news["number"]
        told.page.evaluate(TELL, news)
        file.write_text(page(last.shown), encoding="utf-8")
        fresh.page.reload()
        assert told.page.evaluate(SHOWN) == fresh.page.evaluate(SHOWN), now
    assert told.errors == fresh.errors == []
    told.close()
    fresh.close()


def test_news_of_something_else_are_not_taken(running: Any, tmp_path: Path) -> None:
    last, file = LastShown(), tmp_path / "page.html"
    last.news(railroad_of("segment a stop -> stop 1 m\n"))
    file.write_text(page(last.shown), encoding="utf-8")
    tab = Tab(running, file)
    before = tab.page.evaluate(SHOWN)
    number = last.news(railroad_of("segment b stop -> stop 1 m\n"))["number"]
    news = last.news(railroad_of("segment c stop -> stop 1 m\n"), number)
    tab.page.evaluate(TELL, news)
    assert tab.page.evaluate(SHOWN) == before
    assert "shown" in last.news(railroad_of("segment c stop -> stop 1 m\n"), "another")
    tab.close()


def test_what_has_not_changed_is_not_told() -> None:
    before = {"a": [{"n": 1}, {"n": 2}, "x"], "b": {"c": 1, "d": 2}, "e": "long"}
    after = {"a": ["x", {"n": 2}, {"n": 3}], "b": {"c": 1, "d": 3}, "e": "long"}
    assert change(before, after) == {
        "of": {
            "a": {"runs": [[2, 1], [1, 1], {"is": [{"n": 3}]}]},
            "b": {"of": {"d": {"is": 3}}, "gone": []},
        },
        "gone": [],
    }  # fmt: skip
    assert change({"a": 1, "b": 2}, {"b": 2}) == {"of": {}, "gone": ["a"]}
    assert change({"a": 1, "b": 2}, {"b": 2, "a": 1}) == {"is": {"b": 2, "a": 1}}, "in another order"

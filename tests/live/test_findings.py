"""The findings beside the drawing: found by their numbers, walked where they stand, and left again."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from live.test_page import made
from page.browser import SIZES, Tab, browser

MANY = (
    "booster B1 15 V 5 A\ndistrict main from B1 trips 4 A\nsegment a0 stop -> T1.points 1 m\n"
    + "".join(
        f"turnout T{n} left number 6 isolated-frog\nsegment spur{n} T{n}.diverging -> stop 1 m\n"
        f"segment a{n} T{n}.through -> {f'T{n + 1}.points' if n < 9 else 'B'} 1 m\n"
        for n in range(1, 10)
    )
    + "feeder main -> a0\n"
)
IN_VIEW = """(chosen) => {
  const frame = document.querySelector("#drawing").getBoundingClientRect();
  const box = document.querySelector(chosen).getBoundingClientRect();
  return box.left >= frame.left && box.right <= frame.right && box.top >= frame.top && box.bottom <= frame.bottom;
}"""


@pytest.fixture(scope="module")
def running() -> Iterator[Any]:
    with browser() as one:
        yield one


@pytest.fixture(scope="module")
def page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("findings")
    (folder / "many.trackplan").write_text(MANY)
    return made(folder / "many.trackplan", folder)


def test_a_mark_in_the_drawing_leads_to_the_finding_of_its_number(running: Any, page: Path) -> None:
    """The walk stands at that finding, in view, and who leaves it is back at the same."""
    tab = Tab(running, page)
    numbers = tab.page.locator(".finding .number").all_inner_texts()
    flags = set(tab.page.locator("#drawing .flag text").all_text_contents())
    assert len(numbers) > 8 and flags <= set(numbers) == {str(n) for n in range(1, len(numbers) + 1)}
    last = max(map(int, flags))
    tab.page.locator(f"#drawing .flag[data-f='{last}']").click()
    chosen = tab.page.locator(".finding[aria-expanded='true']")
    assert chosen.locator(".number").all_inner_texts() == [str(last)]
    box, (_, height) = tab.page.locator("#walk").bounding_box(), SIZES["laptop"]
    assert box and box["y"] >= 0 and box["y"] + box["height"] <= height + 1
    tab.page.locator("#leave").click()
    assert tab.page.evaluate("document.activeElement.querySelector('.number').textContent") == str(last)
    assert not chosen.count() and not tab.errors
    tab.close()


def test_a_walk_goes_on_with_the_next_key(running: Any, page: Path) -> None:
    """From a finding the tabulator leads into its walk, however many findings follow."""
    tab = Tab(running, page)
    tab.page.locator(".finding").first.focus()
    tab.page.keyboard.press("Enter")
    tab.page.keyboard.press("Tab")
    assert tab.page.evaluate("document.activeElement.closest('#walk') !== null")
    tab.close()


def test_a_large_drawing_opens_where_its_worst_finding_is(
    running: Any, page: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a phone it begins far from its corner, which may be bare, and the page itself begins at its top."""
    monkeypatch.setitem(SIZES, "narrow", (360, 740))
    tab = Tab(running, page, "narrow")
    worst = tab.page.locator(".finding.error .number").first.inner_text()
    assert tab.page.evaluate(IN_VIEW, f"#drawing .flag[data-f='{worst}']")
    assert tab.page.evaluate("document.querySelector('#drawing').scrollLeft") > 0
    assert tab.page.evaluate("window.scrollY") == 0
    tab.close()

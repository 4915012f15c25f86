"""The papers as a browser shows and prints them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from page.browser import SIZES, Tab, browser, violations
from railbond.command import main

SIDING = str(Path(__file__).parents[2] / "example_plans" / "passing_siding.trackplan")
PAPERS = ("meter", "schedule")


@pytest.fixture(scope="module")
def running() -> Iterator[Any]:
    with browser() as one:
        yield one


@pytest.fixture(scope="module")
def papers(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("papers")
    made = {command: folder / f"{command}.html" for command in PAPERS}
    for command, path in made.items():
        assert main([command, SIDING, "--as", "page", "-o", str(path)]) == 0
    return made


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("command", PAPERS)
def test_it_is_accessible(running: Any, papers: dict[str, Path], command: str, scheme: str) -> None:
    tab = Tab(running, papers[command], "laptop", scheme)
    assert violations(tab) == []
    assert tab.errors == []
    assert tab.asked == [papers[command].as_uri()]
    tab.close()


@pytest.mark.parametrize("command", PAPERS)
def test_it_fits_a_phone(running: Any, papers: dict[str, Path], command: str) -> None:
    tab = Tab(running, papers[command], "phone")
    assert tab.page.evaluate("document.documentElement.scrollWidth") <= SIZES["phone"][0]
    tab.close()


@pytest.mark.parametrize("command", PAPERS)
def test_a_box_can_be_ticked_by_keyboard(running: Any, papers: dict[str, Path], command: str) -> None:
    tab = Tab(running, papers[command])
    box = tab.page.locator("input[type=checkbox]").first
    box.focus()
    tab.page.keyboard.press("Space")
    assert box.is_checked()
    tab.close()


@pytest.mark.parametrize("command", PAPERS)
def test_on_paper_no_table_is_cut_off_at_the_side(running: Any, papers: dict[str, Path], command: str) -> None:
    """A4 upright has 186 mm between margins of 12 mm: 703 CSS pixels."""
    tab = Tab(running, papers[command])
    tab.page.emulate_media(media="print")
    tab.page.set_viewport_size({"width": 703, "height": 1000})
    wide = tab.page.evaluate("[...document.querySelectorAll('table')].filter(one => one.scrollWidth > 703).length")
    assert wide == 0
    assert tab.page.pdf(format="A4")[:5] == b"%PDF-"
    tab.close()

"""With the setting of a finding, the short is the loudest thing of the picture, in gray too."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from drawing.samples import facts
from needs import library
from page.browser import browser
from railbond.faces.drawing.picture import PictureChoice, draw
from railbond.inspection import examine
from railbond.rules import all_rules

FAULTY = Path(__file__).parents[2] / "example_plans" / "faulty"
SHORTS = {
    "frog-wired-backwards": {"T1": "through"},
    "frog-rail-gap-missing": {"T2": "diverging"},
    "opposed-at-gap": {},
    "legs-joined": {"T1": "through"},
}


def drawn(name: str, setting: dict[str, str], shown: bool = True) -> str:
    text = (FAULTY / f"{name}.trackplan").read_text(encoding="utf-8")
    findings = [one for one in examine(facts(text), all_rules()) if one.level == "error"]
    look = PictureChoice("", legend=False, listed=False)
    return draw(facts(text), findings if shown else [], setting, look)


@pytest.mark.parametrize("name", SHORTS)
def test_a_short_is_marked_by_its_metal_or_by_a_ring(name: str) -> None:
    svg = drawn(name, SHORTS[name])
    assert 'class="burst"' in svg or 'class="rail short"' in svg


def test_a_setting_in_which_nothing_happens_has_no_ring() -> None:
    assert 'class="burst"' not in drawn("frog-rail-gap-missing", {"T2": "through"})


@pytest.mark.parametrize("name", SHORTS)
def test_it_is_the_loudest_in_gray(name: str) -> None:
    """Of all squares of the picture the one in which gray changes the most lies at the short."""
    with browser() as running:
        page = running.new_page()
        page.set_content(f"<body style='margin:0'>{drawn(name, SHORTS[name])}</body>")
        place = page.evaluate(
            "[...document.querySelectorAll('.burst, .rail.short, .flag.error')]"
            ".map((one) => one.getBoundingClientRect()).map((box) => [box.left, box.top, box.right, box.bottom])"
        )
        image = library("PIL.Image").open(BytesIO(page.locator("svg").screenshot())).convert("L")
    y, x = loudest(np.asarray(image).astype(float))
    assert any(west - 12 <= x <= east + 12 and top - 12 <= y <= low + 12 for west, top, east, low in place)


def loudest(gray: Any, size: int = 24) -> tuple[int, int]:
    """The middle of the square with the most ink: how much darker it is than paper, all told."""
    ink = np.cumsum(np.cumsum(gray.max() - gray, axis=0), axis=1)
    told = ink[size:, size:] - ink[:-size, size:] - ink[size:, :-size] + ink[:-size, :-size]
    y, x = np.unravel_index(told.argmax(), told.shape)
    return int(y) + size // 2, int(x) + size // 2

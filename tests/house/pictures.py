"""The pictures of README, drawn of the plan that it shows. `python tests/house/pictures.py` draws them anew."""

from __future__ import annotations

import sys
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from house.readme import README, TOP, plan
from railbond.circuit.facts import Facts
from railbond.faces.drawing.picture import draw
from railbond.findings import Finding
from railbond.inspection import examine
from railbond.rules import all_rules
from trackplan.read import read
from trackplan.span import Source

FOLDER = TOP / "example_plans" / "pictures"
SETTINGS = {"mill_siding": None, "mill_siding_short": {"T1": "through"}}
"""Each picture's name, and the setting of the points in it; None is however they stand."""


def read_plan() -> tuple[Facts, list[Finding]]:
    """README's plan, and what is found in it."""
    source = Source("mill.trackplan", plan(README.read_text(encoding="utf-8")))
    reading = read(source)
    facts = Facts(reading.statements, {source.path: source}, reading.broken)
    return facts, examine(Facts(reading.statements, {source.path: source}, reading.broken), all_rules())


def pictures() -> dict[str, str]:
    """Every drawing by the name of its file."""
    facts, findings = read_plan()
    told = [one for one in findings if one.level == "error"]
    return {f"{name}.svg": draw(facts, told if setting else (), setting) for name, setting in SETTINGS.items()}


PAGES = {"mill_siding_page.png": "light", "mill_siding_page_dark.png": "dark"}
"""The pictures of the live page, and the scheme of each."""
SIZE = {"width": 960, "height": 480}
STEP = 1


def pages() -> dict[str, bytes]:
    """The live page of the same plan with its finding walked as far as `STEP`, as a browser shows it."""
    from page.browser import browser
    from railbond.faces.live.page import page, railroad

    facts, findings = read_plan()
    text = page(railroad(facts, [one for one in findings if one.level == "error"]))
    found = {}
    with browser() as running:
        for name, scheme in PAGES.items():
            tab = running.new_page(viewport=SIZE, color_scheme=scheme)
            tab.set_content(text)
            tab.locator(".finding").first.click()
            for _ in range(STEP):
                tab.locator("#next").click()
            tab.mouse.move(0, 0)
            tab.evaluate("document.activeElement.blur(); scrollTo(0, 0)")
            found[name] = tab.screenshot()
    return found


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, picture in pictures().items():
        (FOLDER / name).write_text(picture, encoding="utf-8")
    for name, image in pages().items():
        (FOLDER / name).write_bytes(image)

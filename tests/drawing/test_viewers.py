"""The picture looks the same wherever it is shown: in a browser, in librsvg, in CairoSVG and in Inkscape."""

from __future__ import annotations

import subprocess
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest

from drawing.samples import BALLOON, SIDING, facts
from needs import library, program
from page.browser import browser
from railbond.faces.drawing.picture import draw
from railbond.faces.drawing.style import LIGHT, style
from railbond.inspection import examine
from railbond.rules import all_rules

PLANS = {"siding": SIDING, "balloon": BALLOON}


def rendered(svg: str, folder: Path) -> dict[str, np.ndarray]:
    """The picture as each viewer renders it: rows of pixels of red, green and blue."""
    cairosvg, image = library("cairosvg"), library("PIL.Image")
    file = folder / "plan.svg"
    file.write_text(svg, encoding="utf-8")
    shown = {"librsvg": subprocess.run([program("rsvg-convert"), file], capture_output=True, check=True).stdout}
    shown["cairosvg"] = cairosvg.svg2png(bytestring=svg.encode())
    shown["inkscape"] = subprocess.run(
        [program("inkscape"), file, "--export-type=png", "--export-filename=-"], capture_output=True, check=True
    ).stdout
    with browser() as running:
        page = running.new_page()
        page.set_content(f"<body style='margin:0'>{svg}</body>")
        shown["chromium"] = page.locator("svg").screenshot()
    return {name: np.asarray(image.open(BytesIO(png)).convert("RGB")).astype(int) for name, png in shown.items()}


@pytest.mark.parametrize("name", PLANS)
def test_viewers_agree(name: str, tmp_path: Path) -> None:
    """Pixel by pixel, but for how each smooths edges."""
    plan = facts(PLANS[name])
    found = rendered(draw(plan, examine(facts(PLANS[name]), all_rules())), tmp_path)
    browsers = found.pop("chromium")
    for name, pixels in found.items():
        height, width = (min(a, b) for a, b in zip(pixels.shape[:2], browsers.shape[:2], strict=True))
        apart = np.abs(pixels[:height, :width] - browsers[:height, :width]).max(axis=2)
        assert (apart > 96).mean() < 0.04, name
        for ink in ("one", "two", "tint1"):
            assert abs(share(pixels, LIGHT[ink]) / share(browsers, LIGHT[ink]) - 1) < 0.35, (name, ink)


def share(pixels: np.ndarray, color: str) -> float:
    wanted = [int(color[place : place + 2], 16) for place in (1, 3, 5)]
    return float((np.abs(pixels - wanted).max(axis=2) < 12).mean())


def test_every_color_is_literal() -> None:
    """Variables, and colors by a function, are what viewers outside browsers do not know."""
    assert "var(" not in style() and "currentColor" not in style() and "rgb(" not in style()

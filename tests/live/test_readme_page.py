"""README's pictures of the live page are what the page looks like today."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import numpy as np
import pytest

from house.pictures import FOLDER, PAGES, pages
from house.readme import README
from needs import library


@pytest.fixture(scope="module")
def shown() -> dict[str, bytes]:
    return pages()


@pytest.mark.parametrize("name", PAGES)
def test_a_picture_of_the_page_is_fresh(shown: dict[str, bytes], name: str) -> None:
    """Nearly pixel by pixel, as browsers differ in how they smooth letters: `python tests/house/pictures.py`."""
    kept, now = pixels((FOLDER / name).read_bytes()), pixels(shown[name])
    assert kept.shape == now.shape
    assert (np.abs(kept - now).max(axis=2) > 64).mean() < 0.01
    assert f"example_plans/pictures/{name}" in README.read_text(encoding="utf-8")


def test_the_measure_sees_another_step(shown: dict[str, bytes]) -> None:
    light, dark = (pixels(shown[name]) for name in PAGES)
    assert (np.abs(light - dark).max(axis=2) > 64).mean() > 0.5


def pixels(png: bytes) -> Any:
    return np.asarray(library("PIL.Image").open(BytesIO(png)).convert("RGB")).astype(int)

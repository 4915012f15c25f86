"""README's pictures are what the program draws today of the plan that README shows."""

from __future__ import annotations

import pytest

from house.pictures import FOLDER, SETTINGS, pictures
from house.readme import README


@pytest.mark.parametrize("name", [f"{name}.svg" for name in SETTINGS])
def test_a_picture_is_fresh(name: str) -> None:
    assert (FOLDER / name).read_text(encoding="utf-8") == pictures()[name], "python tests/house/pictures.py"
    assert f"example_plans/pictures/{name}" in README.read_text(encoding="utf-8")


def test_the_second_picture_shows_the_short() -> None:
    """The finding that README tells of: its mark, and metal that carries both legs."""
    drawn = pictures()["mill_siding_short.svg"]
    assert 'data-f="1"' in drawn and drawn.count('class="frog ') >= 2

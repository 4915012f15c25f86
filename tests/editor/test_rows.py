"""Names that stand in a row with keywords between them are found, each by the part that it holds."""

from __future__ import annotations

import pytest

from railbond.editor.names import words
from trackplan.parse import parse


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("feeder P1 -> spur through contacts of T1 diverging",
         [("supply", "P1"), ("fed_rail", "spur"), ("mover_name", "T1")]),
        ("block b in one or two or main", [("name", "b"), *(("district_name", one) for one in ("one", "two", "main"))]),
        ("common black of main yard", [("leg", "black"), ("supplies", "main"), ("supplies", "yard")]),
        ("district d from B1 legs a b", [("name", "d"), ("booster_name", "B1"), ("legs", "a"), ("legs", "b")]),
        ("approach-track TT.lead at 0 degrees", [("table_end", "TT.lead")]),
        ("lamp spur.finish 20 mA", [("lit_end", "spur.finish")]),
    ],
)  # fmt: skip
def test_every_name_of_a_line(line: str, found: list[tuple[str, str]]) -> None:
    assert [(role, str(word)) for role, word in words(parse(line))] == found

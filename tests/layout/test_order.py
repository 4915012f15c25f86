"""The order of names, and names that nobody gives but who wishes ill."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from railbond.command import main
from railbond.layout.order import by_name


def test_names_as_people_order_them() -> None:
    wanted = ["2-a", "main", "R1", "T", "T2", "T2a", "T10", "T010-b", f"T{'1' * 100}", "Ta", "west-9", "west-10"]
    mixed = list(wanted)
    Random(1).shuffle(mixed)
    assert sorted(mixed, key=by_name) == wanted
    assert by_name("T1") != by_name("T01")


@pytest.mark.parametrize("words", ["inspect", "draw -o x.svg", "power", "schedule", "mend --show"])
def test_a_name_of_thousands_of_digits(
    words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Python makes no number of so many."""
    monkeypatch.chdir(tmp_path)
    name = f"T{'1' * 5000}"
    Path("x.trackplan").write_text(
        "booster B1 15 V 5 A\ndistrict main from B1 trips 4 A\n"
        f"segment {name} stop -> stop 1 m\nsegment b stop -> stop 1 m\nfeeder main -> {name}\nfeeder main -> b\n"
    )
    command, *more = words.split()
    assert main([command, "x.trackplan", *more]) in (0, 1)
    assert "broke off" not in capsys.readouterr().err

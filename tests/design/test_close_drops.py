"""Drops as close as a limit asks for: it ends, or says why nothing is written."""

from __future__ import annotations

from pathlib import Path

import pytest

from railbond.command import main


@pytest.mark.parametrize("spacing", ["2 cm"])
def test_a_spacing_no_longer_than_what_is_spared_ends_all_the_same(spacing: str, tmp_path: Path) -> None:
    """What is kept for rounding may be all of it; the drops still get on."""
    plan = tmp_path / "close.trackplan"
    plan.write_text(CLOSE.format(length="20 cm", spacing=spacing))
    assert main(["wire", str(plan)]) in (0, 1)
    assert plan.read_text().count("feeder") > 4


def test_more_drops_than_anybody_solders_are_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    plan = tmp_path / "close.trackplan"
    plan.write_text(CLOSE.format(length="90 m", spacing="1 mm"))
    assert main(["wire", str(plan)]) == 2
    assert "is not wired: the limit feeder-spacing of 0.001 m asks for" in capsys.readouterr().err
    assert plan.read_text() == CLOSE.format(length="90 m", spacing="1 mm")


CLOSE = """\
booster B1 15 V 5 A
district main from B1 trips 4 A
segment a stop -> stop {length}
limit feeder-spacing {spacing}
"""

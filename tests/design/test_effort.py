"""What wiring may take: of a plan full of faults no more than of any other."""

from __future__ import annotations

from pathlib import Path

import pytest

from railbond.circuit.effort import spent
from railbond.design import wire as wiring
from railbond.design.wire import WHOLE, wire
from railbond.findings import Finding

SEEDS = Path(__file__).resolve().parents[1] / "fuzz" / "seeds"
FULL = ["random-61", "faults-of-many-plans-in-one"]
SOUND = "booster B1 15 V 5 A\ndistrict main from B1\nsegment a stop -> b.start 1 m\nsegment b a.end -> stop 1 m\n"


@pytest.mark.parametrize("name", FULL)
def test_a_plan_full_of_faults_is_wired_within_the_steps_of_a_plan(name: str) -> None:
    text = (SEEDS / f"{name}.trackplan").read_text(encoding="utf-8")
    before = spent()
    made = wire("p", {"p": text}.__getitem__)
    assert made.left and spent() - before < 1.1 * WHOLE


def test_whether_wiring_is_missing_is_known_by_the_rails_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where some rail has no wire, nobody asks what else is wrong before lines are written."""
    looks: list[object] = []

    def told(draft: object) -> list[Finding]:
        looks.append(draft)
        return []

    monkeypatch.setattr(wiring, "told", told)
    assert "feeder" in wire("p", {"p": SOUND}.__getitem__).text and not looks
    assert wire("p", {"p": SOUND + "feeder main -> a\nfeeder main -> b\n"}.__getitem__).lines == [] and len(looks) == 1

"""What is told once for all turnouts names few of them, and the mend all."""

from __future__ import annotations

import pytest

from benchmark.railroads import ladders
from railbond.doorway import enter
from railbond.rules.set_against import NAMED


@pytest.mark.parametrize("turnouts", [NAMED, NAMED + 1, NAMED + 2, 40])
def test_of_many_turnouts_the_last_are_counted(turnouts: int) -> None:
    (found,) = enter("plan", {"plan": ladders(turnouts)}.__getitem__).proven.findings
    every = [f"T{number}" for number in range(turnouts)]
    first, last = every[:-1], every[-1]
    if turnouts > NAMED + 1:
        first, last = every[:NAMED], f"{turnouts - NAMED} more"
    said = f"{', '.join(first)} and {last}"
    assert f"runs into any of {said} from the frog end" in found.message
    assert f"at {said}, the frog changes polarity" in found.why[0].text
    assert f"the frogs of {said} from an automatic" in found.fixes[0].words
    assert len(found.fixes[0].edits) == len(found.names) == turnouts

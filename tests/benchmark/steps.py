"""Steps, one for each line of Python that runs: as many on a busy machine as on a quiet one."""

from __future__ import annotations

import sys
from typing import Any

from benchmark.timing import Work


def steps(work: Work) -> int:
    """How many steps a work takes. Each round of a loop is one, though it be written in one line; what the interpreter
    does by itself, as to sort or to look up, is none."""
    taken = 0

    def step(*_: object) -> Any:
        nonlocal taken
        taken += 1
        return step

    before = sys.gettrace()
    sys.settrace(step)
    try:
        work()
    finally:
        sys.settrace(before)
    return taken

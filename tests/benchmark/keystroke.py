"""A keystroke in an editor, until the findings of what then stands there have come back."""

from __future__ import annotations

import asyncio
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from time import perf_counter

from pytest_lsp import make_test_lsp_client

from benchmark.timing import Measure
from editor.session import SERVE, Session, environment
from oracle.plans import big_layout

TURNOUTS = {29: 0.015, 580: 0.05, 2_330: 0.2}
"""For plans of about 250, 5,000 and 20,000 lines the seconds of the processor that an answer may take."""
ROUNDS = 5


def measures() -> Iterator[Measure]:
    """The median over keystrokes of several kinds, through a server's own pipes, its wait for the next key included."""
    for turnouts, most in TURNOUTS.items():
        text = big_layout(turnouts)
        lines = text.count("\n")
        taken, busy = asyncio.run(typed(text))
        yield Measure(f"seconds of the server's processor for a keystroke in {lines} lines", busy, most)
        yield Measure("seconds until it is answered, its wait for the next key included", median(taken))


def keystrokes(text: str) -> list[tuple[str, str]]:
    """What is typed in the place of what: a comment, a length, a turned wire, half a line, and all that undone."""
    wires = [line for line in text.splitlines() if line.startswith("feeder")]
    wire = wires[len(wires) // 2]
    length = next(line for line in text.splitlines() if line.startswith("segment") and line.endswith(" cm"))
    typed = [
        ("\n", "  # a word\n"),
        (length, f"{length[:-2]}mm"),
        (wire, f"{wire} crossed"),
        (f"{wire}\n", f"{wire}\nfeed\n"),
    ]
    return [pair for old, new in typed for pair in ((old, new), (new, old))]


async def typed(text: str) -> tuple[list[float], float]:
    """Seconds for each keystroke, and the server's mean processor time for one."""
    taken = []
    with tempfile.TemporaryDirectory() as folder:
        session = Session(make_test_lsp_client(), Path(folder))
        await session.client.start_io(*SERVE, env=environment())
        await session.begin()
        await session.open("plan", text)
        before = processor(session)
        for old, new in keystrokes(text) * ROUNDS:
            start = perf_counter()
            await session.type("plan", old, new)
            taken.append(perf_counter() - start)
        busy = (processor(session) - before) / len(taken)
        await session.client.shutdown_session()
        await session.client.stop()
    return taken, busy


def processor(session: Session) -> float:
    """Seconds that the server has computed, as Linux counts them."""
    server = session.client._server
    assert server
    fields = Path(f"/proc/{server.pid}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

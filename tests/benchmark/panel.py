"""A key in a plan of 300 lines, until the railroad beside the text is told what is new: the server's part of it.

The processor's seconds in one process, without an editor: what its window takes besides hangs on the machine.
"""

from __future__ import annotations

import gc
from collections.abc import Iterator
from statistics import median
from time import process_time
from types import SimpleNamespace

from benchmark.railroads import ladders, main_line, yards
from benchmark.timing import Measure
from editor.documents import Documents
from railbond.editor.diagnostics import diagnostics
from railbond.editor.railroad import shown_railroad

LINES = 300
MOST = 0.15
"""Seconds of the processor: half of what the picture may take in all."""
KINDS = {"a main line": main_line, "a yard": yards, "ladders": ladders}
LETTERS = "abcde"


def measures() -> Iterator[Measure]:
    """For each kind of railroad the median of keys in a name, in a length, and in a wire that is turned round."""
    for kind, made in KINDS.items():
        text = next(text for count in range(2, 1000) if (text := made(count)).count("\n") >= LINES)
        for what, keys in typed(text).items():
            taken = median(seconds(text, keys))
            yield Measure(f"seconds of the processor for the picture of {kind}, a key in {what}", taken, MOST)


def typed(text: str) -> dict[str, list[str]]:
    """The texts that stand there key by key: a name that grows, a length, a wire turned and turned back."""
    lines = text.splitlines()
    segments = [line for line in lines if line.startswith("segment")]
    segment = segments[len(segments) // 2]
    name = segment.split()[1]
    wire = next(line for line in lines if line.startswith("feeder") and f"-> {name} " in line)
    names = [text.replace(segment, segment.replace(name, name + LETTERS[:more], 1)) for more in range(1, 6)]
    lengths = [text.replace(segment, f"{segment.rsplit(' ', 2)[0]} 1.{digit} m") for digit in range(3, 8)]
    return {"a name": names, "a length": lengths, "a wire": [text.replace(wire, f"{wire} crossed"), text] * 3}


def seconds(text: str, keys: list[str]) -> Iterator[float]:
    """What each key takes until the picture is told, without what explains the findings."""
    documents, asked = Documents(plan=text), SimpleNamespace(page=False, has=None)
    asked.has = shown_railroad(documents.view, asked)["number"]
    gc.disable()
    for now in keys:
        start = process_time()
        documents.put("plan", now)
        plan = documents.view.plan
        ends = list[float]()

        def told() -> None:
            asked.has = shown_railroad(documents.view, asked).get("number", asked.has)
            ends.append(process_time())  # noqa: B023 # it is called before the next key

        plan.opened.on_first = told
        diagnostics(plan, documents.places)
        told()
        yield ends[0] - start
    gc.enable()

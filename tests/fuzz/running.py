"""Tries a target on many texts. What breaks, is told wrongly or takes too long is kept with its text."""

from __future__ import annotations

import signal
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from random import Random
from time import process_time
from types import FrameType
from typing import NamedTuple

Target = Callable[[str, Random], None]
"""Tries one text. Raises whatever goes wrong."""

LONGEST = 5.0
"""Seconds of processor time that anything may take."""


class TooLong(BaseException):
    """Raised in the midst of what takes too long; no `except Exception` on the way keeps it."""


class Failure(NamedTuple):
    """What failed: the target, the seed that makes its text again, the text, and what happened."""

    target: str
    seed: int
    text: str
    what: str

    @property
    def kind(self) -> str:
        """Its last line, by which failures are told apart."""
        return self.what.strip().rpartition("\n")[2]


@contextmanager
def at_most(seconds: float) -> Iterator[None]:
    """Raises TooLong within what is done here once it has had so much of the processor."""

    def stop(number: int, frame: FrameType | None) -> None:
        raise TooLong(f"more than {seconds:g} s of processor time")

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def tried(name: str, target: Target, text: str, seed: int, longest: float = LONGEST) -> Failure | None:
    """What went wrong with one text, if anything did."""
    try:
        with at_most(longest):
            target(text, Random(seed))
    except KeyboardInterrupt:
        raise
    except BaseException:
        return Failure(name, seed, text, traceback.format_exc())
    return None


class Count(NamedTuple):
    """How many texts were tried, how many failed, the longest that one took, in seconds, and the seed of that one."""

    tried: int
    failed: int
    longest: float
    slowest: int = -1


def run(
    name: str, target: Target, make: Callable[[Random], str], seeds: range, keep: Callable[[Failure], None]
) -> Count:
    """Tries a target on a text for each seed."""
    failed, longest, slowest = 0, 0.0, -1
    for seed in seeds:
        text = make(Random(seed))
        start = process_time()
        failure = tried(name, target, text, seed)
        longest, slowest = max((longest, slowest), (process_time() - start, seed))
        if failure:
            failed += 1
            keep(failure)
    return Count(len(seeds), failed, longest, slowest)


class Kept:
    """Failures in a folder, one text and one word of what happened for each kind, and how often each came."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.kinds: dict[tuple[str, str], int] = {}

    def __call__(self, failure: Failure) -> None:
        key = failure.target, failure.kind
        self.kinds[key] = self.kinds.get(key, 0) + 1
        if self.kinds[key] > 1:
            return
        self.folder.mkdir(parents=True, exist_ok=True)
        plan = self.folder / f"{failure.target}-{failure.seed}.trackplan"
        plan.write_bytes(failure.text.encode("utf-8", "surrogatepass"))
        plan.with_suffix(".txt").write_text(failure.what, encoding="utf-8", errors="replace")
        print(f"  {failure.target}, seed {failure.seed}: {failure.kind}  ({plan})", flush=True)

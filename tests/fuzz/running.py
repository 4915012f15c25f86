"""Tries a target on many texts. What breaks, is told wrongly or takes too long is kept with its text."""

from __future__ import annotations

import gc
import json
import signal
import traceback
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from random import Random
from time import monotonic, process_time
from types import FrameType
from typing import NamedTuple

Target = Callable[[str, Random], None]
"""Tries one text. Raises whatever goes wrong."""

LONGEST = 5.0
"""Seconds of processor time that anything may take."""

EVERY = 5.0
"""Seconds between two tallies in the file."""


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


class Tally(NamedTuple):
    """What came of the texts of a target so far: how many were tried and failed, the longest that one took, in seconds
    of processor time, the seed of that one, the seconds in all, and how many took about so long, in milliseconds."""

    tried: int = 0
    failed: int = 0
    longest: float = 0.0
    slowest: int = -1
    seconds: float = 0.0
    times: Mapping[str, int] = {}

    def one_more(self, seed: int, seconds: float, failed: bool) -> Tally:
        longest, slowest = max((self.longest, self.slowest), (seconds, seed))
        about = f"{1000 * seconds:.1e}"
        times = self.times if isinstance(self.times, Counter) else Counter(self.times)
        times[about] += 1
        return Tally(self.tried + 1, self.failed + failed, longest, slowest, self.seconds + seconds, times)

    def percentile(self, part: float) -> float:
        """The milliseconds within which so large a part of the texts was done."""
        left = part * sum(self.times.values())
        for about, times in sorted(self.times.items(), key=lambda one: float(one[0])):
            left -= times
            if left <= 0:
                return float(about)
        return 0.0

    def __str__(self) -> str:
        parts = " ".join(f"{100 * part:g} % {self.percentile(part):.0f}" for part in (0.5, 0.9, 0.99, 0.999))
        told = f"{self.tried:>9,} tried {self.failed:>5,} failed, longest {self.longest:6.2f} s (seed {self.slowest})"
        return f"{told}, {self.seconds:.0f} s in all; ms: {parts}"


Trying = Callable[[int], Failure | None]
"""Tries one seed."""


def run(name: str, work: Trying, seeds: range, kept: Kept) -> Tally:
    """Tries each seed that was not tried yet, and tells what came of all."""
    tally = kept.tallies.get(name, Tally())
    gc.collect()
    gc.freeze()
    thresholds = gc.get_threshold()
    gc.set_threshold(50_000, 20, 50)
    try:
        for seed in seeds[tally.tried :]:
            start = process_time()
            failure = work(seed)
            tally = tally.one_more(seed, process_time() - start, failure is not None)
            if failure:
                kept(failure)
            kept.so_far(name, tally)
    finally:
        gc.set_threshold(*thresholds)
        gc.unfreeze()
    kept.so_far(name, tally, now=True)
    return tally


def on_texts(name: str, target: Target, make: Callable[[Random], str], longest: float = LONGEST) -> Trying:
    """Tries a target on the text that a seed makes."""
    return lambda seed: tried(name, target, make(Random(seed)), seed, longest)


class Kept:
    """Failures in a folder, one text and one word of what happened for each kind, and how often each came; and the
    tallies, so that a run that was broken off or killed goes on where it was."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.file = folder, folder / "tallies.json"
        self.kinds: dict[tuple[str, str], int] = {}
        self.tallies: dict[str, Tally] = {}
        self.told = monotonic()
        if self.file.exists():
            saved = json.loads(self.file.read_text(encoding="utf-8"))
            self.tallies = {name: Tally(*one) for name, one in saved["tallies"].items()}
            self.kinds = {(name, kind): times for name, kind, times in saved["kinds"]}

    def so_far(self, name: str, tally: Tally, now: bool = False) -> None:
        """Keeps a tally, every few seconds in the file too."""
        self.tallies[name] = tally
        if not now and monotonic() < self.told + EVERY:
            return
        self.told = monotonic()
        kinds = [(*kind, times) for kind, times in self.kinds.items()]
        self.folder.mkdir(parents=True, exist_ok=True)
        beside = self.file.with_suffix(".new")
        beside.write_text(json.dumps({"tallies": self.tallies, "kinds": kinds}), encoding="utf-8")
        beside.replace(self.file)

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

"""Shows on a terminal that long work is going on: a bar on standard error after one second, taken away at the end."""

from __future__ import annotations

import sys
import threading
from time import monotonic
from types import TracebackType

from railbond.saying import say

PATIENCE, PACE = 1.0, 0.2
"""Seconds until the bar comes, and between two looks of it."""
WIDE = 30


class Working:
    """`with Working("drawing") as work:`, and `work.done(3, 12)` where it is known how far the work is.

    Nothing is written where standard error is no terminal.
    """

    def __init__(self, words: str) -> None:
        self.words = words
        self.share: float | None = None
        self.shown = False
        self.over = threading.Event()
        self.thread: threading.Thread | None = None

    def done(self, count: int, of: int) -> None:
        """Tells how much of the work is done."""
        self.share = count / of if of else None

    def __enter__(self) -> Working:
        if sys.stderr.isatty():
            self.thread = threading.Thread(target=self._show, daemon=True)
            self.thread.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.over.set()
        if self.thread:
            self.thread.join()
        if self.shown:
            self._write("\r" + " " * (WIDE + len(self.words) + 12) + "\r")

    def _show(self) -> None:
        start = monotonic()
        wait = PATIENCE
        while not self.over.wait(wait):
            wait, self.shown = PACE, True
            self._write(f"\r[{_bar(self.share, monotonic() - start)}] {self.words}, {monotonic() - start:.0f} s")

    def _write(self, text: str) -> None:
        say(text, end="", to=sys.stderr, painted=True)
        sys.stderr.flush()


def _bar(share: float | None, seconds: float) -> str:
    """How far the work is; where that is not known, a short bar that runs to and fro."""
    if share is not None:
        return f"{'#' * round(WIDE * share):<{WIDE}}"
    free = WIDE - 3
    place = int(seconds / PACE) % (2 * free)
    return f"{' ' * min(place, 2 * free - place)}###".ljust(WIDE)

"""Shows on a terminal that long work is going on: a bar on standard error after one second, taken away at the end."""

from __future__ import annotations

import sys
from time import monotonic
from types import TracebackType

from railbond.saying import say
from trackplan.typed import TYPE_CHECKING

if TYPE_CHECKING:
    import threading

PATIENCE, PACE = 1.0, 0.2
"""Seconds until the bar comes, and between two looks of it."""
WIDE = 30

CURRENT: list[Working] = []
"""What is being worked at."""


def clear() -> None:
    """Takes all bars away before something is said."""
    for one in CURRENT:
        one.clear()


class Working:
    """`with Working("drawing") as work:`, and `work.done(3, 12)` where it is known how far the work is.

    Nothing is written where standard error is no terminal.
    """

    over: threading.Event
    busy: threading.Lock

    def __init__(self, words: str) -> None:
        self.words = words
        self.share: float | None = None
        self.shown = False
        self.thread: threading.Thread | None = None

    def done(self, count: int, of: int) -> None:
        """Tells how much of the work is done."""
        self.share = count / of if of else None

    def clear(self) -> None:
        """Takes the bar away, so that a word can stand in its line; it comes again."""
        if not self.thread:
            return
        with self.busy:
            if self.shown:
                self._write("\r" + " " * (WIDE + len(self.words) + 12) + "\r")
                self.shown = False

    def __enter__(self) -> Working:
        CURRENT.append(self)
        if sys.stderr and sys.stderr.isatty():
            import threading  # loaded only where there is somebody to watch

            self.over, self.busy = threading.Event(), threading.Lock()
            self.thread = threading.Thread(target=self._show, daemon=True)
            self.thread.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        CURRENT.remove(self)
        if self.thread:
            self.over.set()
            self.thread.join()
        self.clear()

    def _show(self) -> None:
        start = monotonic()
        wait = PATIENCE
        while not self.over.wait(wait):
            with self.busy:
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

"""Who goes first while a plan is typed: what is found in it as it is written, then its picture, then what explains it.

A picture that somebody waits for need not wait until it is known which slip explains a fault: that may take as long
again, and while both are worked out at once neither gets on.
"""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from time import monotonic, sleep

LONGEST = 1.0
"""Seconds that one waits for the other at most."""
LOOK = 0.004
"""Seconds between two looks, at each of which work that nobody wants any more can be given up."""


class DrawnFirst:
    """`found` is set while the first findings of the texts as they stand are there."""

    def __init__(self) -> None:
        self.found = asyncio.Event()
        self._waiting = 0

    @contextmanager
    def picture(self) -> Iterator[None]:
        """Somebody waits for a picture as long as this block lasts."""
        self._waiting += 1
        try:
            yield
        finally:
            self._waiting -= 1

    async def first_findings(self) -> None:
        """Waits for them, but not for ever."""
        with suppress(TimeoutError):
            await asyncio.wait_for(self.found.wait(), LONGEST)

    def give_way(self, loop: asyncio.AbstractEventLoop) -> None:
        """Tells, from the thread that inspects, that they are there, and lets pictures go first."""
        loop.call_soon_threadsafe(self.found.set)
        sleep(LOOK)
        end = monotonic() + LONGEST
        while self._waiting and monotonic() < end:
            sleep(LOOK)

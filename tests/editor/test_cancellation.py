"""What is overtaken by the next keystroke is given up, wherever it is."""

from __future__ import annotations

import asyncio
from threading import Event, enumerate
from time import monotonic

import pytest

from railbond.editor.cancellation import Cancelled, unless_cancelled

SECONDS = 20


class Endless:
    """Work that ends by itself only after a long time, and catches all that an `except Exception` would."""

    def __init__(self) -> None:
        self.begun, self.stopped = Event(), Event()

    def __call__(self) -> str:
        self.begun.set()
        end = monotonic() + SECONDS
        try:
            while monotonic() < end:
                try:
                    sum(range(100))
                except Exception:
                    continue
        except Cancelled:
            self.stopped.set()
            raise
        return "too late"


async def test_it_is_given_up_and_its_thread_ends() -> None:
    cancelled, endless = asyncio.Event(), Endless()
    work = asyncio.ensure_future(unless_cancelled(endless, cancelled))
    await asyncio.to_thread(endless.begun.wait, SECONDS)
    cancelled.set()
    with pytest.raises(Cancelled):
        await work
    assert await asyncio.to_thread(endless.stopped.wait, SECONDS / 2)


async def test_what_is_not_overtaken_is_answered() -> None:
    assert await unless_cancelled(lambda: 7, asyncio.Event()) == 7


async def test_its_own_failure_is_told() -> None:
    def fails() -> None:
        raise ValueError("oh")

    with pytest.raises(ValueError, match="oh"):
        await unless_cancelled(fails, asyncio.Event())


async def test_nothing_is_left_behind() -> None:
    before = len(enumerate())
    await unless_cancelled(lambda: None, asyncio.Event())
    await asyncio.sleep(0.1)
    assert len(enumerate()) <= before

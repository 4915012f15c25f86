"""Work that is given up as soon as it is cancelled: what a plan had to say before the last keystroke is for nobody."""

from __future__ import annotations

import asyncio
import ctypes
from collections.abc import Callable
from contextlib import suppress
from threading import Thread
from typing import Any, TypeVar

Answer = TypeVar("Answer")


class Cancelled(BaseException):
    """Raised within the work, and to whoever waits for it. No `except Exception` on the way keeps it."""


async def unless_cancelled(work: Callable[[], Answer], cancelled: asyncio.Event) -> Answer:
    """Works something out in a thread of its own. Raises Cancelled as soon as the event is set."""
    loop = asyncio.get_running_loop()
    answer: asyncio.Future[Answer] = loop.create_future()

    def run() -> None:
        try:
            found = work()
        except Cancelled:
            return
        except BaseException as error:
            _tell(answer, None, error)
        else:
            _tell(answer, found)

    thread = Thread(target=run, daemon=True)
    thread.start()
    waiting = asyncio.ensure_future(cancelled.wait())
    await asyncio.wait((answer, waiting), return_when=asyncio.FIRST_COMPLETED)
    waiting.cancel()
    if not answer.done():
        answer.cancel()
        _give_up(thread)
        raise Cancelled
    return answer.result()


def _tell(answer: asyncio.Future[Any], found: Any, error: BaseException | None = None) -> None:
    with suppress(RuntimeError):  # the server has stopped meanwhile
        answer.get_loop().call_soon_threadsafe(_settle, answer, found, error)


def _settle(answer: asyncio.Future[Any], found: Any, error: BaseException | None) -> None:
    if answer.cancelled():
        return
    if error is None:
        answer.set_result(found)
    else:
        answer.set_exception(error)


def _give_up(thread: Thread) -> None:
    """Raises Cancelled in a thread, at its next step."""
    if thread.ident is not None:
        ctypes.pythonapi.PyThreadState_SetAsyncExc(ctypes.c_ulong(thread.ident), ctypes.py_object(Cancelled))

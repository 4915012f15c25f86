"""The language server: what is open, and the findings of every plan that has changed.

Answers are worked out beside the connection, so that an editor can go on talking, cancel and shut down. A plan is
inspected a moment after the last keystroke, and what is told is always about the text as it stands.
"""

from __future__ import annotations

import asyncio
import gc
import logging
import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import Thread
from time import sleep
from typing import Any, NamedTuple, TypeVar

from lsprotocol.types import Diagnostic, DiagnosticSeverity, Position, PublishDiagnosticsParams, Range
from pygls.lsp.server import LanguageServer

from railbond import __version__
from railbond.saying import harmless
from railbond.unsaved import tell

from .cancellation import Cancelled, unless_cancelled
from .diagnostics import diagnostics
from .drawn_first import DrawnFirst
from .places import Places
from .protocol import PARSE_ERROR, PlanProtocol
from .store import OpenPlan, PlanStore
from .texts import Buffer
from .view import View

Answer = TypeVar("Answer")
DEBOUNCE = 0.01
"""Seconds without a keystroke after which a plan is inspected."""
IDLE = 2.0
"""Seconds without one after which there is time to look for waste; while somebody types there is none."""
WORKERS = 2
WATCHED = 2.0
"""Seconds between two looks whether the editor is still there."""
log = logging.getLogger(__name__)


class Inspected(NamedTuple):
    """What a plan had to say, by file, and the texts of which that is true."""

    files: dict[str, list[Diagnostic]]
    texts: dict[str, str]


class PlanServer(LanguageServer):
    """`told` holds for each plan what was found in it when it was last inspected."""

    def __init__(self) -> None:
        super().__init__("railbond", __version__, protocol_cls=PlanProtocol)
        self.store = PlanStore()
        self.told: dict[str, Inspected] = {}
        self.first = DrawnFirst()
        self.asked_to_stop = False
        self._shown: dict[str, tuple[int | None, list[Diagnostic]]] = {}
        self._again = asyncio.Event()
        self._watch: asyncio.Task[None] | None = None
        self._tell: asyncio.Task[None] | None = None
        self._workers = ThreadPoolExecutor(WORKERS)

    @property
    def places(self) -> Places:
        encoding = self.workspace.position_encoding
        return Places(self.store.texts, getattr(encoding, "value", None) or str(encoding))

    def view(self, path: str) -> View:
        return View(self.store, self.places, self.client_capabilities, path)

    async def work(self, work: Callable[[], Answer]) -> Answer:
        """Works something out beside the connection. Cancelled before it begins, it never does."""
        return await asyncio.get_running_loop().run_in_executor(self._workers, work)

    def put(self, path: str, buffer: Buffer | None) -> None:
        """Takes a document as it stands now, or None where it was closed."""
        if buffer is None:
            self.store.texts.buffers.pop(path, None)
        else:
            self.store.texts.buffers[path] = buffer
        self.inspect_soon()

    def inspect_soon(self) -> None:
        """Has every plan inspected that has changed, a moment from now."""
        self._again.set()
        self.first.found.clear()
        if self._watch is None or self._watch.done():
            self._watch = asyncio.create_task(self._watching())
            self._tell = self._tell or asyncio.create_task(tell(self._open))

    def _open(self) -> dict[str, str]:
        """What is open, for the commands of the same user."""
        return {path: buffer.text for path, buffer in self.store.texts.buffers.items()}

    async def _watching(self) -> None:
        while True:
            await self._next_change()
            while self._again.is_set():
                self._again.clear()
                await asyncio.sleep(DEBOUNCE)
            try:
                await self._inspect_all()
            except Exception:
                log.exception("the plans could not be inspected")

    async def _next_change(self) -> None:
        """Waits for one, and where it is long in coming has the memory cleared up."""
        gc.disable()
        try:
            await asyncio.wait_for(self._again.wait(), IDLE)
        except TimeoutError:
            gc.collect()
            await self._again.wait()

    async def _inspect_all(self) -> None:
        wanted = await self.work(self._wanted)
        for root in wanted:
            await self._inspect(root)
            if self._again.is_set():
                return
        for root in self.told.keys() - set(wanted):
            del self.told[root]
        self.store.keep(set(wanted))
        self.first.found.set()
        self._publish()

    def _wanted(self) -> list[str]:
        """The plans that the open documents are part of."""
        return list(dict.fromkeys(root for path in list(self.store.texts.buffers) for root in self.store.roots(path)))

    async def _inspect(self, root: str) -> None:
        try:
            loop = asyncio.get_running_loop()
            plan, found = await unless_cancelled(lambda: self._found(root, loop), self._again)
        except Cancelled:
            return
        except OSError:
            self.told.pop(root, None)
        except Exception as error:
            log.exception("%s could not be inspected", root)
            self.told[root] = Inspected({root: [_broken_off(error)]}, {})
        else:
            if plan.is_current():
                self.told[root] = found
                self._publish()

    def _found(self, root: str, loop: asyncio.AbstractEventLoop) -> tuple[OpenPlan, Inspected]:
        plan = self.store.plan(root)
        is_current = plan.is_current
        plan.opened.on_first = lambda: self.first.give_way(loop) if is_current() else None
        texts = {path: source.text for path, source in plan.inspection.sources.items()}
        return plan, Inspected(diagnostics(plan, self.places), texts)

    def _publish(self) -> None:
        """Tells the editor of every file in which something has changed, if what was found belongs to the text that the
        file has now in every plan that reads it. Any other waits for its inspection."""
        now: dict[str, dict[object, Diagnostic]] = {}
        for told in self.told.values():
            for path, found in told.files.items():
                now.setdefault(path, {}).update({(str(one.range), one.code, one.message): one for one in found})
        for path in dict.fromkeys([*now, *self._shown]):
            buffer = self.store.texts.buffers.get(path)
            if not buffer or all(told.texts.get(path, buffer.text) == buffer.text for told in self.told.values()):
                self._publish_file(path, list(now.get(path, {}).values()), buffer.version if buffer else None)
        self._shown = {path: shown for path, shown in self._shown.items() if path in now}

    def _publish_file(self, path: str, found: list[Diagnostic], version: int | None) -> None:
        if self._shown.get(path) != (version, found):
            self._shown[path] = (version, found)
            self.text_document_publish_diagnostics(PublishDiagnosticsParams(self.places.uri(path), found, version))

    def report_server_error(self, error: Exception, source: Any) -> None:
        """A message that is no JSON is answered; everything else has been, and goes to the log."""
        if isinstance(error, ValueError | RecursionError):
            self.protocol.refuse(None, PARSE_ERROR, f"this is no JSON: {error}")  # type: ignore[attr-defined]


def _broken_off(error: Exception) -> Diagnostic:
    """Told in the place of findings that could not be had: silence would look like a sound plan."""
    message = (
        f"railbond could not inspect this plan ({type(error).__name__}: {error}). What is wrong with it is not known."
    )
    start = Range(Position(0, 0), Position(0, 0))
    return Diagnostic(start, harmless(message), severity=DiagnosticSeverity.Warning, source="railbond")


def watch_client(number: int | None, every: float = WATCHED) -> None:
    """Ends the server once the editor's process is gone, which may leave its end of the connection open."""

    def watch() -> None:
        while number and is_there(number):
            sleep(every)
        os._exit(1)

    if number and os.name == "posix":
        Thread(target=watch, daemon=True).start()


def is_there(number: int) -> bool:
    """Whether there is a process of that number, ours or somebody else's."""
    try:
        os.kill(number, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True
